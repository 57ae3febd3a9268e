"""Tolerances beside a figure: ``± 3``, ``+10/-5``, ``(+5; -3)``, ``± 5 %``, "tolerance 2 N·m", "plus or minus 3"."""

from __future__ import annotations

from typing import NamedTuple

from torquewright.notation.counting import number_at
from torquewright.notation.phrases import phrase_at, phrases, text_at
from torquewright.notation.spelling import Token
from torquewright.notation.unit_words import TorqueUnit, torque_unit_at


class Deviation(NamedTuple):
    """Lower and upper deviation (lower one is 0 or negative), each as a figure or as a fraction of the nominal;
    the unit they carry, if any; whether they were written with one sign for both; what is doubtful; the index after."""

    lower: float
    upper: float
    lower_share: bool
    upper_share: bool
    unit: TorqueUnit | None
    symmetric: bool
    doubt: str
    after: int


_BOTH = phrases(
    {
        "both": "± | +/- | +/ - | + / - | + - | +- | plus or minus | plus / minus | plus minus | plus and minus | "
        "give or take | within | with a tolerance of ± | with a tolerance of +/- | with a tolerance of | "
        "with tolerance | with tolerance ± | with tolerance +/- | with tolerance of | tolerance ± | "
        "tolerance +/- | tolerance | tolerance of | tolerance of ± | tolerance : | tolerance : ± | tolerance is | "
        "tol | tol ± | tol : | tol +/- | allowing | deviation | permitted deviation | variation | with ± | at ± | "
        "to within | to within ± | with a variation of"
    }
)
_PERCENT = phrases({"%": "% | percent | per cent | pct | % of value | % of nominal"})


def _one(toks: list[Token], i: int) -> tuple[float, bool, TorqueUnit | None, int] | None:
    """A figure of a tolerance with its unit or per cent sign: value, whether a share, unit, index after."""
    number = number_at(toks, i)
    if number is None:
        return None
    value, j = number[0].value, number[1]
    percent = phrase_at(toks, j, _PERCENT)
    if percent is not None:
        return value / 100, True, None, percent[1]
    unit = torque_unit_at(toks, j)
    if unit is not None and unit.name:
        return value, False, unit, unit.after
    return value, False, None, j


def _angle_follows(toks: list[Token], j: int) -> bool:
    return text_at(toks, j) in (
        "°", "deg", "degs", "degree", "degrees", "turn", "turns", "flat", "flats", "rad", "rev", "revs", "×", "x",
        "revolution", "revolutions", "radians", "radian", "rotation", "-", "of", "full", "complete",
    )  # fmt: skip


def deviation_at(toks: list[Token], i: int, nominal: float) -> Deviation | None:
    """The tolerance at token ``i`` of a figure whose value is ``nominal``, or None."""
    j = i
    if text_at(toks, j) == ",":
        j += 1
    bracket = text_at(toks, j) in ("(", "[")
    if bracket:
        j += 1
    found = _both(toks, j) or _signed(toks, j, nominal)
    if found is None or (
        _angle_follows(toks, found.after) and found.unit is None and not (found.lower_share or found.symmetric)
    ):
        return None
    if found.symmetric and text_at(toks, found.after) in ("°", "deg", "degrees"):
        return None
    if text_at(toks, i) == "," and found.doubt:
        return None  # one sign alone after a comma may be anything
    if bracket:
        if text_at(toks, found.after) not in (")", "]"):
            return None
        return found._replace(after=found.after + 1)
    return found


def _both(toks: list[Token], j: int) -> Deviation | None:
    both = phrase_at(toks, j, _BOTH)
    if both is None:
        return None
    one = _one(toks, both[1])
    if one is None:
        return None
    value, share, unit, after = one
    return Deviation(-value, value, share, share, unit, True, "", after)


_SIGN = {"+": 1, "plus": 1, "-": -1, "minus": -1}
_BREAK = frozenset({"/", ",", ";", "and"})


def _signed(toks: list[Token], j: int, nominal: float) -> Deviation | None:
    """``+10 -5`` in either order, ``+2/0``, ``0/-2``; one sign alone only where it cannot be anything else."""
    sign = _SIGN.get(text_at(toks, j))
    if sign is None:
        return _zero_first(toks, j)
    tok = toks[j + 1] if j + 1 < len(toks) else None
    if tok is not None and tok.kind == "pair" and tok.number is not None and tok.number.pair is not None:
        over, under = tok.number.pair
        if under == 0 or sign < 0 or under < over:  # "+2/0" never gets here as a pair: a zero is no denominator
            return None
    if tok is not None and tok.kind == "code" and tok.text.endswith("/0"):
        return None
    first = _one(toks, j + 1)
    if first is None:
        return None
    value, share, unit, k = first
    m = k + 1 if text_at(toks, k) in _BREAK else k
    other = _SIGN.get(text_at(toks, m))
    second = None
    if other is not None and other != sign:
        second = _one(toks, m + 1)
    elif other is None and m > k:
        second = _one(toks, m)
        if second is not None and second[0] != 0:
            second = None
    if second is not None and (second[2] is not None or not _angle_follows(toks, second[3])):
        lower, upper = (second, first) if sign > 0 else (first, second)
        unit = unit or second[2]
        lower_share, upper_share = lower[1], upper[1]
        if lower[0] == 0:
            lower_share = upper_share
        if upper[0] == 0:
            upper_share = lower_share
        if lower_share != upper_share:  # "+10/-5 %": the sign at the end counts for both
            lower_share = upper_share = True
            scale_low = lower[0] if lower[1] else lower[0] / 100
            scale_high = upper[0] if upper[1] else upper[0] / 100
            return Deviation(-scale_low, scale_high, True, True, unit, False, "", second[3])
        return Deviation(-lower[0], upper[0], lower_share, upper_share, unit, False, "", second[3])
    if (value >= nominal / 2 and not share) or (unit is None and _angle_follows(toks, k)):
        return None
    if (
        sign < 0
        and not share
        and (toks[j].start > toks[j - 1].end) == (j + 1 < len(toks) and toks[j + 1].start > toks[j].end)
    ):
        return None  # "20 - 6 N·m" and "20-6 N·m" are ranges written backwards
    if text_at(toks, k) == "-" and sign > 0:
        return None
    doubt = "only one limit is given; the other is read as 0"
    if sign > 0:
        return Deviation(0.0, value, share, share, unit, False, doubt, k)
    return Deviation(-value, 0.0, share, share, unit, False, doubt, k)


def _zero_first(toks: list[Token], j: int) -> Deviation | None:
    """``0/-2``."""
    number = number_at(toks, j)
    if number is None or number[0].value != 0 or text_at(toks, number[1]) not in _BREAK:
        return None
    if text_at(toks, number[1] + 1) not in _SIGN:
        return None
    second = _one(toks, number[1] + 2)
    if second is None:
        return None
    value, share, unit, after = second
    if _SIGN[text_at(toks, number[1] + 1)] < 0:
        return Deviation(-value, 0.0, share, share, unit, False, "", after)
    return Deviation(0.0, value, share, share, unit, False, "", after)
