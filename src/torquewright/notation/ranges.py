"""Two figures of one unit: ranges, limits in words, the pairs of a slash, one figure "or" another."""

from __future__ import annotations

from torquewright.notation.counting import number_at
from torquewright.notation.limits import BESIDE, LEADS
from torquewright.notation.measured import BARE, Measured
from torquewright.notation.numbers import Number
from torquewright.notation.phrases import phrase_at, text_at
from torquewright.notation.spelling import Token
from torquewright.notation.unit_words import TorqueUnit, torque_unit_at

_TO = frozenset({"-", "to", "thru", "through", "till", "until", "~", "..", "...", "…", "up"})
SLASH_DOUBT = "the slash may mean a range, two stages or two variants"


def is_pair(number: Number) -> bool:
    """Whether ``18/22`` is two figures rather than a fraction of one."""
    assert number.pair is not None
    over, under = number.pair
    return not (under in (2, 3, 4, 6, 8, 12, 16, 32, 64) and over < under and over < 5)


def same_unit(first: TorqueUnit | None, second: TorqueUnit | None) -> bool:
    """Whether two units are one; a unit not given yet is whatever the other one is."""
    return first is None or second is None or (first.name == second.name and first.scale == second.scale)


def range_at(toks: list[Token], j: int, held: Measured, lead: str, loose: int) -> int | None:
    """``- 26 N·m``, ``to 26 N·m``, ``and 11 N·m`` after "between", ``, max. 11 N·m`` after a minimum."""
    sign = text_at(toks, j)
    k = j
    limit = None
    if sign == "≤" and text_at(toks, j + 2) == "≤":
        pass
    elif sign in _TO or (sign in ("and", "&") and lead in ("between", "from")):
        if sign == "-" and text_at(toks, j + 1) == "-":
            return None
        k = j + 1
        if sign == "up":
            if text_at(toks, k) != "to":
                return None
            k += 1
        if sign in ("until", "till") and held.unit is not None:
            return None
        limit = phrase_at(toks, k, LEADS)
        if limit is not None and limit[0] == "max":
            k = limit[1]
    elif lead == "min" or held.unit is None:
        # "at least 9 but not more than 11 N·m", "9 min. 11 max. N·m"
        if phrase_at(toks, j, LEADS) is None and sign in ("but", "and", ",", "nor", "/", ";") and lead == "min":
            k = j + 1
            if text_at(toks, k) in ("but", "and", "nor"):
                k += 1
        limit = phrase_at(toks, k, LEADS)
        if limit is not None and limit[0] in ("max", "upto"):
            k = limit[1]
        elif lead != "min" or number_at(toks, k) is None or (sign in (",", "and") and not _max_beside(toks, k)):
            return None
    else:
        return None
    if sign == "≤" and text_at(toks, j + 2) == "≤":  # "20 ≤ T ≤ 26 N·m"
        k = j + 3
    second = number_at(toks, k)
    if second is None or (second[0].pair is not None and is_pair(second[0])):
        return None
    after = second[1]
    beside = phrase_at(toks, after, BESIDE)
    if beside is not None and torque_unit_at(toks, beside[1]) is not None:
        after = beside[1]
    unit = torque_unit_at(toks, after)
    if unit is None and held.unit is not None and after == len(toks) and second[0].value > held.number.value:
        unit = held.unit._replace(after=after)  # "20 N·m to 26", and nothing more
    if (
        unit is None
        and held.unit is None
        and loose == BARE
        and sign in ("-", "to", "thru", "through")
        and toks[k].kind != "word"
    ):
        held.span(held.number, second[0])
        return second[1]
    if unit is None or not same_unit(held.unit, unit) or unit.name != (held.unit or unit).name:
        return None
    held.unit = unit if held.unit is None else held.unit
    held.span(held.number, second[0])
    return unit.after


def _max_beside(toks: list[Token], k: int) -> bool:
    """Whether a figure marked "max." stands at ``k``."""
    number = number_at(toks, k)
    beside = phrase_at(toks, number[1], BESIDE) if number is not None else None
    return beside is not None and beside[0] == "max"


def pair_at(toks: list[Token], j: int, held: Measured) -> int | None:
    """``18 / 22 N·m``: a slash between two figures of one unit."""
    if text_at(toks, j) != "/":
        return None
    second = number_at(toks, j + 1)
    if second is None:
        return None
    unit = torque_unit_at(toks, second[1])
    if unit is None or not same_unit(held.unit, unit):
        return None
    held.unit = held.unit or unit
    held.span(held.number, second[0])
    held.doubt(SLASH_DOUBT, "range", "stages", "either")
    return unit.after


def either_at(toks: list[Token], j: int, held: Measured) -> int | None:
    """``10 or 12 N·m``: two variants."""
    if text_at(toks, j) != "or":
        return None
    second = number_at(toks, j + 1)
    if second is None:
        return None
    unit = torque_unit_at(toks, second[1])
    if unit is None or not same_unit(held.unit, unit):
        return None
    held.unit = held.unit or unit
    held.span(held.number, second[0])
    held.doubt("two variants, not a range: which fastener gets which?", "either")
    return unit.after
