"""One torque: a figure, two limits, a figure with a tolerance, a maximum or a minimum, in one or several units."""

from __future__ import annotations

from torquewright.notation.counting import number_at
from torquewright.notation.deviations import deviation_at
from torquewright.notation.limits import AFTER, BESIDE, LEADS
from torquewright.notation.measured import BARE, FORCES, TORQUES, Measured
from torquewright.notation.numbers import Number
from torquewright.notation.phrases import phrase_at, text_at
from torquewright.notation.ranges import SLASH_DOUBT, either_at, is_pair, pair_at, range_at, same_unit
from torquewright.notation.spelling import Token
from torquewright.notation.unit_words import TorqueUnit, torque_unit_at

_UPTO_DOUBT = "a ceiling, or tighten until that figure is reached"
_ABOUT_DOUBT = "the limits are not given"


def torque_at(toks: list[Token], i: int, loose: int = TORQUES) -> tuple[Measured, int] | None:
    """The torque at token ``i`` and the index after it: one unit only, or None. ``loose`` says what else is taken."""
    if i >= len(toks):
        return None
    tok = toks[i]
    if tok.kind == "word" and tok.text not in LEADS and number_at(toks, i) is None:
        return None  # by far the commonest case in a sentence
    if tok.text in ("(", "["):
        return _bracketed(toks, i, loose)
    lead = phrase_at(toks, i, LEADS)
    if lead is not None:
        start = lead[1]
        if text_at(toks, start) in (":", "=", "of"):
            start += 1
        if lead[0] in ("max", "upto", "min") and text_at(toks, start) in ("about", "~"):
            start += 1
        found = _body(toks, start, lead[0], loose)
    else:
        found = _body(toks, i, "", loose)
    if found is None:
        return None
    held, j = found
    j = _after(toks, j, held)
    if loose == TORQUES and (held.unit is None or held.unit.name == ""):
        return None
    return held, j


def _unit_in_brackets(toks: list[Token], i: int) -> TorqueUnit | None:
    """``15 (N·m)``: the unit alone in brackets."""
    if text_at(toks, i) not in ("(", "["):
        return None
    unit = torque_unit_at(toks, i + 1)
    if unit is None or text_at(toks, unit.after) not in (")", "]"):
        return None
    return unit._replace(after=unit.after + 1)


def _bracketed(toks: list[Token], i: int, loose: int) -> tuple[Measured, int] | None:
    """``(20 to 26) N·m``: figures in brackets, their unit behind."""
    if number_at(toks, i + 1) is None:
        return None
    close = next((j for j in range(i + 2, min(i + 12, len(toks))) if toks[j].text in (")", "]")), None)
    if close is None or torque_unit_at(toks, close + 1) is None:
        return None
    found = torque_at([*toks[i + 1 : close], *toks[close + 1 :]], 0, loose)
    if found is None or found[1] <= close - i - 1:
        return None
    return found[0], i + found[1] + 2


def _body(toks: list[Token], i: int, lead: str, loose: int) -> tuple[Measured, int] | None:
    """A figure, or two, with its unit; ``lead`` is what the words before it make of it."""
    scanned = scanned_at(toks, i)
    first = scanned or number_at(toks, i)
    if first is None:
        return None
    number, j = first
    plain_end, plain_lead = j, lead
    beside = phrase_at(toks, j, BESIDE) if number_at(toks, j) is None else None
    if beside is not None and _beside(toks, beside[1]):
        j = beside[1]
        lead = lead or beside[0]
    unit = torque_unit_at(toks, j) or _unit_in_brackets(toks, j)
    held = Measured(number, unit)
    if scanned is not None:
        held.doubt("a letter stands where a digit belongs (scanning damage)")
    after = unit.after if unit is not None else j
    found = (
        _tolerance(toks, after, held)
        or range_at(toks, after, held, lead, loose)
        or pair_at(toks, after, held)
        or either_at(toks, after, held)
    )
    if found is None:
        if unit is None and (loose != BARE or toks[i].kind == "word"):
            return None
        if unit is None:
            lead = plain_lead
        if number.pair is not None and is_pair(number):
            held.span(Number(number.pair[0], 0.5), Number(number.pair[1], 0.5))
            held.doubt(SLASH_DOUBT, "range", "stages", "either")
        found = after if unit is not None else plain_end
    if held.unit is None and loose != BARE:
        return None
    if held.low is None and held.high is None:
        _limit(held, lead)
    elif lead == "about":
        held.doubt("the limits are only approximate")
    return held, found


def scanned_at(toks: list[Token], i: int) -> tuple[Number, int] | None:
    """A figure with letters for digits, as scanners leave it before a unit: ``l2 N·m``, ``3O N·m``."""
    if i >= len(toks):
        return None
    text, j = toks[i].text, i + 1
    if toks[i].kind == "code" and text[0] in "lio" and text[1:].isdigit():
        pass
    elif (
        toks[i].kind == "number"
        and text.isdigit()
        and text_at(toks, j) in ("o", "oo", "l")
        and toks[j].start == toks[i].end
    ):
        text += toks[j].text
        j += 1
    else:
        return None
    unit = torque_unit_at(toks, j)
    if unit is None or not unit.name or len(text) > 6:
        return None
    return Number(float(text.replace("l", "1").replace("i", "1").replace("o", "0")), 0.5), j


def _limit(held: Measured, lead: str) -> None:
    """Make a single figure what the words before or after it say."""
    if lead in ("max", "upto"):
        held.limit = "max"
        held.high, held.high_at = held.nominal, held.nominal_at
        held.nominal = None
        if lead == "upto":
            held.doubt(_UPTO_DOUBT)
    elif lead == "min":
        held.limit = "min"
        held.low, held.low_at = held.nominal, held.nominal_at
        held.nominal = None
    elif lead == "about":
        held.limit = "about"
        held.doubt(_ABOUT_DOUBT)


def _beside(toks: list[Token], j: int) -> bool:
    """Whether a figure or a unit follows "9 min."; otherwise min are minutes."""
    k = j + 1 if text_at(toks, j) in ("-", "/", ",", "to", "and", ";") else j
    return (
        number_at(toks, k) is not None or phrase_at(toks, k, BESIDE) is not None or torque_unit_at(toks, j) is not None
    )


def _tolerance(toks: list[Token], j: int, held: Measured) -> int | None:
    """A tolerance after the figure or after its unit; sets limits and, where it stood before the unit, the unit."""
    deviation = deviation_at(toks, j, held.number.value)
    if deviation is None:
        return None
    after = deviation.after
    if held.unit is None:
        malformed = text_at(toks, after) == "-" and deviation.symmetric
        if malformed:  # "45±0–50 N·m"
            other = number_at(toks, after + 1)
            unit = torque_unit_at(toks, other[1]) if other is not None else None
            if other is None or unit is None:
                return None
            held.unit = unit
            held.span(held.number, other[0])
            held.doubt("malformed: a tolerance or a range", "range")
            return unit.after
        if deviation.unit is not None:
            held.unit = deviation.unit
        else:
            unit = torque_unit_at(toks, after)
            if unit is None:
                return None
            held.unit = unit
            after = unit.after
    elif deviation.unit is not None and not same_unit(held.unit, deviation.unit):
        return None
    held.deviate(deviation)
    return after


def _after(toks: list[Token], j: int, held: Measured) -> int:
    """Words after a figure: a limit, "or so", a second limit (``9 N·m min, 11 N·m max``)."""
    k = j
    if text_at(toks, k) == "." and k + 1 < len(toks) and toks[k].start == toks[k - 1].end:
        k += 1  # the stop of a unit before "max."
    found = phrase_at(toks, k, AFTER)
    if found is not None and number_at(toks, found[1]) is not None and torque_at(toks, found[1]) is not None:
        found = None  # "20 N·m, max. 24 N·m": the word belongs to the figure after it
    if found is not None and not held.limit and held.low is None and held.high is None:
        # "55 N·m min" is a limit; "10 min" beside another unit would be a time, but a torque unit stands before it
        _limit(held, found[0])
        j = found[1]
    elif found is not None and found[0] == "about" and not held.limit:
        held.doubt(_ABOUT_DOUBT)
        j = found[1]
    if held.limit in ("min", "max"):
        joined = _other_limit(toks, j, held)
        if joined is not None:
            return joined
    elif held.nominal is not None and held.low is None and held.high is None:
        k = j + 1 if text_at(toks, j) in (",", "(", ";") else j
        lead = phrase_at(toks, k, LEADS)
        if lead is not None and lead[0] in ("max", "min") and k > j:
            other = _body(toks, lead[1], lead[0], FORCES)
            closed = text_at(toks, j) == "("
            if other is not None and same_unit(held.unit, other[0].unit) and other[0].limit == lead[0]:
                if closed and text_at(toks, other[1]) != ")":
                    return j
                held.high, held.low = other[0].high, other[0].low
                held.high_at, held.low_at = other[0].high_at, other[0].low_at
                return other[1] + closed
    return j


def _other_limit(toks: list[Token], j: int, held: Measured) -> int | None:
    """The second of two limits, each with its words: ``9 N·m min, 11 N·m max``."""
    k = j
    while text_at(toks, k) in (",", "and", "but", "to", "-", "/", ";", "nor"):
        k += 1
    if k > j + 2:
        return None
    lead = phrase_at(toks, k, LEADS)
    wanted = "max" if held.limit == "min" else "min"
    other = _body(toks, lead[1], lead[0], FORCES) if lead is not None else _body(toks, k, "", FORCES)
    if other is None or not same_unit(held.unit, other[0].unit) or other[0].unit is None:
        return None
    second, end = other
    if second.limit == "" and second.low is None and second.high is None:
        after = phrase_at(toks, end, AFTER)
        if after is None or after[0] != wanted:
            return None
        _limit(second, after[0])
        end = after[1]
    if second.limit != wanted:
        return None
    if wanted == "max":
        held.high, held.high_at = second.high, second.high_at
    else:
        held.low, held.low_at = second.low, second.low_at
    held.limit = ""
    return end
