"""One pull of a tightening: a torque with its further units, a tolerance for all of them, its drag added."""

from __future__ import annotations

from torquewright.notation.agreement import agree
from torquewright.notation.counting import number_at
from torquewright.notation.deviations import deviation_at
from torquewright.notation.drag import drag_at, drag_before
from torquewright.notation.measured import TORQUES, Measured
from torquewright.notation.phrases import phrase_at, phrases, skip, text_at
from torquewright.notation.spelling import Token
from torquewright.notation.torques import torque_at
from torquewright.notation.unit_words import torque_unit_at

_CLOSE = {"(": ")", "[": "]", "{": "}"}
_EQUALS = phrases(
    {"=": "= | or | i e | ie | that is | equals | equal to | equivalent to | which is | which equals | "
        "corresponding to | ~ | | | / | , | ; | , i e | , or | , that is | , ie | - | , which is | being | or about | "
        ", about | ; or | / approx | converted | resp | , equal to | aka | say"}
)  # fmt: skip
_ABOUT = frozenset(
    {
        "about",
        "approx",
        "approximately",
        "~",
        "=",
        "i",
        "e",
        ".",
        "or",
        "circa",
        "ca",
        "ie",
        ":",
        "equals",
        "to",
        "equal",
    }
)
_DISAGREE = "the two units disagree"


def second_units(toks: list[Token], i: int, held: Measured) -> int:
    """Take further units of the same figure into ``held.also``; the index after them (``i`` when there are none)."""
    j = i
    while True:
        sign = text_at(toks, j)
        if sign in _CLOSE:
            k = skip(toks, j + 1, _ABOUT)
            found = torque_at(toks, k)
            inside: list[Measured] = []
            while found is not None and _another(held, inside, found[0]):
                inside.append(found[0])
                k = found[1]
                mark = phrase_at(toks, k, _EQUALS)
                if mark is None and text_at(toks, k) != "and":
                    break
                found = torque_at(toks, skip(toks, mark[1] if mark is not None else k + 1, _ABOUT))
            if not inside or text_at(toks, k) != _CLOSE[sign]:
                return j
            held.also.extend(inside)
            j = k + 1
            continue
        mark = phrase_at(toks, j, _EQUALS)
        if mark is None:
            return j
        found = torque_at(toks, skip(toks, mark[1], _ABOUT))
        if found is None or not _another(held, [], found[0]):
            return j
        if sign == "," and not _near(held, found[0]):
            return j  # a list of different joints rather than one figure in two units
        held.also.append(found[0])
        j = found[1]


def _another(held: Measured, inside: list[Measured], found: Measured) -> bool:
    """Whether ``found`` is in a unit not met yet."""
    names = {other.unit.name for other in (held, *held.also, *inside) if other.unit is not None}
    return found.unit is not None and found.unit.name != "" and found.unit.name not in names


def _near(held: Measured, found: Measured) -> bool:
    first, second = held.torque().target, found.torque().target
    return not first or not second or 0.5 < second / first < 2.0


def settle(held: Measured) -> None:
    """Settle separators, then judge the further units by their printed digits."""
    held.settle()
    for other in held.also:
        other.settle()
    twin = held.other_marks()
    if twin is not None and held.also:
        first = held.also[0].torque()
        if agree(held.torque(), first):
            held.doubts = twin.doubts
            held.readings = twin.readings
        elif agree(twin.torque(), first):
            for name in Measured.__slots__:
                setattr(held, name, getattr(twin, name))
    own = held.torque()
    for other in held.also:
        alternative = other.other_marks()
        if alternative is not None and not agree(own, other.torque()) and agree(own, alternative.torque()):
            for name in Measured.__slots__:
                setattr(other, name, getattr(alternative, name))
        if own.unit and not agree(own, other.torque()):
            held.doubt(_DISAGREE, "each")
            break
    if held.low is not None and held.high is not None and held.low > held.high:
        held.doubt("the limits are written in reverse order", "reversed")


def split_headings(toks: list[Token], i: int) -> tuple[Measured, int] | None:
    """``24 (18) N·m (lbf·ft)``: figures first, then their units."""
    first = number_at(toks, i)
    if first is None or text_at(toks, first[1]) not in ("(", "["):
        return None
    close = _CLOSE[text_at(toks, first[1])]
    second = number_at(toks, first[1] + 1)
    if second is None or text_at(toks, second[1]) != close:
        return None
    unit = torque_unit_at(toks, second[1] + 1)
    if unit is None or text_at(toks, unit.after) not in _CLOSE:
        return None
    other = torque_unit_at(toks, unit.after + 1)
    if other is None or text_at(toks, other.after) != _CLOSE[text_at(toks, unit.after)] or other.name == unit.name:
        return None
    held = Measured(first[0], unit)
    held.also.append(Measured(second[0], other))
    return held, other.after + 1


def torque_pull(toks: list[Token], i: int, loose: int = TORQUES) -> tuple[Measured, int, bool] | None:
    """A torque with everything that belongs to it; whether drag is to be added is the third answer."""
    ahead = drag_before(toks, i)
    heads = split_headings(toks, i)
    found = heads or torque_at(toks, i if ahead is None else ahead, loose)
    if found is None:
        return None
    held, j = found
    if heads is None:
        j = second_units(toks, j, held)
    if held.also:
        j = _after_second(toks, j, held)
    past = drag_at(toks, j)
    settle(held)
    return held, past if past is not None else j, past is not None or ahead is not None


_LIMIT_AFTER = phrases(
    {
        "max": "max | maximum | or less | , max | , maximum | ( max )",
        "min": "min | minimum | or more | , min | , minimum | ( min ) | , or past that | or past that",
    }
)


def _after_second(toks: list[Token], j: int, held: Measured) -> int:
    """What may follow the second unit: a tolerance for both, a limit word, or the other end of a range."""
    limit = phrase_at(toks, j, _LIMIT_AFTER)
    single = held.nominal is not None and held.low is None and held.high is None
    if limit is not None and single:
        held.limit = limit[0]
        if limit[0] == "max":
            held.high, held.high_at = held.nominal, held.nominal_at
        else:
            held.low, held.low_at = held.nominal, held.nominal_at
        held.nominal = None
        return limit[1]
    if single:
        assert held.nominal is not None
        deviation = deviation_at(toks, j, held.nominal)
        if deviation is not None and (
            deviation.upper_share
            or (deviation.unit is not None and held.unit is not None and deviation.unit.name == held.unit.name)
        ):
            held.deviate(deviation)
            if deviation.upper_share:
                for each in held.also:
                    if each.nominal is not None and each.low is None and each.high is None:
                        each.deviate(deviation)
            return deviation.after
        if text_at(toks, j) in ("to", "-", "and"):
            other = torque_at(toks, j + 1)
            if (
                other is not None
                and other[0].unit is not None
                and held.unit is not None
                and other[0].unit.name == held.unit.name
                and other[0].low is None
                and other[0].high is None
            ):
                if text_at(toks, j) == "and":
                    return j
                end = second_units(toks, other[1], other[0])
                if len(other[0].also) == len(held.also):
                    held.span(held.number, other[0].number)
                    for mine, theirs in zip(held.also, other[0].also, strict=True):
                        if mine.nominal is not None and theirs.nominal is not None:
                            mine.span(mine.number, theirs.number)
                    return end
    return j
