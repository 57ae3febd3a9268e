"""Whether two ways of writing one torque agree, judged by the digits they print and not by a fixed percentage."""

from __future__ import annotations

from torquewright.base.units import UNITS
from torquewright.records.tightening import Torque

# A figure such as 640 or 1020 may be rounded to its last digit that is not a zero, as long as that rounding is
# smaller than this share of it; a 20 is never taken for anything between 15 and 25.
_COARSEST = 0.025


def _slack(value: float, torque: Torque) -> float:
    """Half of the last digit a converter can have rounded to, N·m: the printed half, or that of trailing zeros."""
    half = torque.half
    if not torque.unit or half <= 0:
        return half
    factor = UNITS[torque.unit].factor
    # Back from N·m a whole figure comes with binary dust on it, which must not hide its trailing zeros.
    digits = float(round(value / factor))
    if abs(2 * half / factor - 1) > 1e-9 or abs(value / factor - digits) > 1e-9 * max(1.0, digits):
        return half
    wider = 10.0
    while digits % wider == 0 and wider / 2 <= _COARSEST * digits:
        half = wider / 2 * factor
        wider *= 10
    return half


def _meet(first: float, first_torque: Torque, second: float, second_torque: Torque) -> bool:
    reach = _slack(first, first_torque) + _slack(second, second_torque)
    return abs(first - second) <= reach * (1 + 1e-9)


def agree(first: Torque, second: Torque) -> bool:
    """Whether every figure of ``first`` can be the corresponding one of ``second``, each rounded as it is printed.

    A single figure beside two limits agrees when it lies between them. Torques without a unit agree with anything.
    """
    if not first.unit or not second.unit:
        return True
    a_low, a_high = first.band
    b_low, b_high = second.band
    if (
        first.nominal is not None
        and second.nominal is not None
        and not _meet(first.nominal, first, second.nominal, second)
    ):
        return False
    if (first.low is None) != (second.low is None) or (first.high is None) != (second.high is None):
        return _overlap(a_low, a_high, first, b_low, b_high, second)
    for mine, theirs in ((a_low, b_low), (a_high, b_high)):
        if mine is not None and theirs is not None and not _tolerant(mine, first, theirs, second):
            return False
    return True


def _tolerant(mine: float, first: Torque, theirs: float, second: Torque) -> bool:
    """Limits made of a nominal figure and a tolerance carry the rounding of both."""
    if first.nominal is not None and first.low is not None and second.nominal is not None and second.low is not None:
        reach = 2 * (_slack(first.nominal, first) + _slack(second.nominal, second))
        return abs(mine - theirs) <= reach
    return _meet(mine, first, theirs, second)


def _overlap(
    a_low: float | None, a_high: float | None, first: Torque, b_low: float | None, b_high: float | None, second: Torque
) -> bool:
    for low, low_of, high, high_of in ((a_low, first, b_high, second), (b_low, second, a_high, first)):
        if low is not None and high is not None and low - high > _slack(low, low_of) + _slack(high, high_of):
            return False
    return True
