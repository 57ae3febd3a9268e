"""One pull of a tightening: a torque with its second units, a share of a torque, steps up to it, or its drag added."""

from __future__ import annotations

from torquewright.base.units import UNITS
from torquewright.notation.agreement import agree
from torquewright.notation.deviations import deviation_at
from torquewright.notation.counting import number_at, part_at
from torquewright.notation.measured import Measured
from torquewright.notation.phrases import phrase_at, phrases, skip, text_at
from torquewright.notation.spelling import Token
from torquewright.notation.torques import TORQUES, torque_at
from torquewright.notation.unit_words import torque_unit_at

_CLOSE = {"(": ")", "[": "]", "{": "}"}
_EQUALS = phrases(
    {"=": "= | or | i e | ie | that is | equals | equal to | equivalent to | which is | which equals | corresponding to | ~ | | | / | , | ; | "
          ", i e | , or | , that is | , ie | - | , which is | being | or about | , about | ; or | / approx | converted | resp | , equal to | aka | say"}
)  # fmt: skip
_ABOUT = frozenset({"about", "approx", "approximately", "~", "=", "i", "e", ".", "or", "circa", "ca", "ie", ":", "equals", "to", "equal"})
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


_DRAG_NAME = (
    "running torque", "prevailing torque", "friction drag", "frictional drag", "drag torque", "friction torque", "tare torque",
    "run down torque", "rundown torque", "free running torque", "locking torque", "self locking torque", "turning torque",
    "breakaway torque", "drag", "tare", "friction", "prevailing", "run on torque", "nut drag", "thread drag", "rolling torque",
    "rotational drag", "tare drag", "frictional torque", "running drag", "resistance", "running resistance", "turning resistance",
    "prevailing torque of the nut", "prevailing torque of the locknut", "running torque of the nut", "running torque of the locknut",
    "running torque of the lock nut", "drag of the nut", "drag of the locknut",
)  # fmt: skip
_DRAG = phrases({"drag": " | ".join(_DRAG_NAME)})
_ON_TOP = phrases(
    {
        "on": "plus | + | over | above | over and above | on top of | in addition to | added to | and | beyond | more than | in excess of | "
        "net of | excluding | not including | exclusive of | not counting | without | excl | less | after adding | to be added to | to | onto | "
        "higher than | , plus | , added to | , net of | , in addition to | , over | , excluding | , not including | clear of | with the"
    }
)
_DRAG_WORDS = frozenset("the any its their measured own nut locknut lock nuts fastener's actual found ' s existing observed nut's".split())


def drag_at(toks: list[Token], i: int) -> int | None:
    """Past "plus the running torque" after a figure; None if it does not stand there."""
    j = i
    apart = _drag_apart(toks, i)
    if apart is not None:
        return apart
    bracket = text_at(toks, j) == "("
    mark = phrase_at(toks, j + bracket, _ON_TOP)
    if mark is None:
        return None
    k = skip(toks, mark[1], _DRAG_WORDS)
    drag = phrase_at(toks, k, _DRAG)
    if drag is None:
        return None
    k = drag[1]
    if bracket:
        return k + 1 if text_at(toks, k) == ")" else None
    return k


_APART = phrases(
    {
        "apart": "not included | is not included | excluded | is excluded | to be added | is to be added | must be added | added | extra | "
        "is added | comes on top | on top | is extra | not counted | not incl | excl"
    }
)


def _drag_apart(toks: list[Token], i: int) -> int | None:
    """Past "(prevailing torque not included)"."""
    opening = text_at(toks, i)
    if opening not in ("(", "[", ",", ";", "-"):
        return None
    drag = phrase_at(toks, skip(toks, i + 1, _DRAG_WORDS), _DRAG)
    apart = phrase_at(toks, drag[1], _APART) if drag is not None else None
    if apart is None:
        return None
    if opening in _CLOSE:
        return apart[1] + 1 if text_at(toks, apart[1]) == _CLOSE[opening] else None
    return apart[1]


def drag_before(toks: list[Token], i: int) -> int | None:
    """Past "prevailing torque plus" ahead of a figure."""
    drag = phrase_at(toks, skip(toks, i, _DRAG_WORDS), _DRAG)
    if drag is None:
        return None
    if text_at(toks, drag[1]) in ("plus", "+", "and"):
        return drag[1] + 1
    return None


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


_LIMIT_AFTER = phrases({"max": "max | maximum | or less | , max | , maximum | ( max )", "min": "min | minimum | or more | , min | , minimum | ( min ) | , or past that | or past that"})


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
        if deviation is not None and (deviation.upper_share or (deviation.unit is not None and held.unit is not None and deviation.unit.name == held.unit.name)):
            held.deviate(deviation)
            if deviation.upper_share:
                for each in held.also:
                    if each.nominal is not None and each.low is None and each.high is None:
                        each.deviate(deviation)
            return deviation.after
        if text_at(toks, j) in ("to", "-", "and"):
            other = torque_at(toks, j + 1)
            if other is not None and other[0].unit is not None and held.unit is not None and other[0].unit.name == held.unit.name and other[0].low is None and other[0].high is None:
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


def shared(held: Measured, share: float) -> Measured:
    """``share`` of a torque, as a torque."""
    part = Measured(held.number, held.unit)
    part.nominal = None if held.nominal is None else held.nominal * share
    part.low = None if held.low is None else held.low * share
    part.high = None if held.high is None else held.high * share
    part.nominal_at, part.low_at, part.high_at = held.nominal_at, held.low_at, held.high_at
    return part


_FULL = frozenset({"full", "final", "total", "specified", "all", "whole"})
_SHARE_TAIL = frozenset(
    "the its of final full specified total rated stated recommended required given finished end torque value figure "
    "setting tightening torque's".split()
)


def share_at(toks: list[Token], i: int) -> tuple[float, int] | None:
    """A share of a torque not named yet: "50 %", "half of the final torque", "2/3 torque"; the index after it."""
    number = number_at(toks, i)
    part = part_at(toks, i)
    if number is None:
        return None
    value, j = number[0].value, number[1]
    if text_at(toks, j) in ("%", "percent", "pct"):
        value, j = value / 100, j + 1
    elif text_at(toks, j) == "per" and text_at(toks, j + 1) == "cent":
        value, j = value / 100, j + 2
    elif not (part is not None or number[0].pair is not None or "½" in toks[i].text) or value > 1:
        return None
    elif text_at(toks, j) not in ("of", "torque", "the", ",", "then", "and", "value", "final", "("):
        return None
    if not 0 < value <= 1:
        return None
    k = j
    while text_at(toks, k) in _SHARE_TAIL and number_at(toks, k) is None:
        if text_at(toks, k) == "of" and torque_at(toks, k + 1) is not None:
            break
        k += 1
    return value, k


def full_at(toks: list[Token], i: int) -> tuple[int, bool] | None:
    """"full torque of", "100 % =", "final torque (": the index of the torque itself, and whether it is in a bracket."""
    j = i
    share = share_at(toks, i)
    if share is not None and share[0] == 1.0:
        j = share[1]
    else:
        j = skip(toks, i, frozenset({"the", "to", "its", "at"}))
        if text_at(toks, j) not in _FULL:
            return None
        j = skip(toks, j, _SHARE_TAIL)
    if text_at(toks, j) in ("of", "=", ":", ",", "at", "to", "is"):
        return j + 1, False
    if text_at(toks, j) in ("(", "["):
        return j + 1, True
    return j, False


def steps_to(held: Measured, size: float, start: float | None = None) -> list[Measured] | None:
    """Equal steps of ``size`` (written unit of ``held``) up to ``held``; None when that would be no sensible list."""
    final = held.nominal if held.nominal is not None else held.high
    if final is None or size <= 0 or final / size > 60:
        return None
    rungs: list[Measured] = []
    value = start if start is not None else size
    while value < final * (1 - 1e-9):
        rungs.append(shared(held, value / final) if held.nominal is not None else _rung(held, value))
        value += size
    return [*rungs, held]


def _rung(held: Measured, value: float) -> Measured:
    rung = Measured(held.number._replace(value=value), held.unit)
    return rung


def in_unit_of(step: Measured, held: Measured) -> float | None:
    """The figure of ``step`` in the written unit of ``held``."""
    if step.nominal is None or step.unit is None or held.unit is None or not step.unit.name or not held.unit.name:
        return None
    si = step.nominal * UNITS[step.unit.name].factor * step.unit.scale
    return si / (UNITS[held.unit.name].factor * held.unit.scale)
