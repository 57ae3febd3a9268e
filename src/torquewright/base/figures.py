"""Figures as printed: a value together with the interval its digits stand for.

"24" stands for 23.5 to 24.5 and "24.0" for 23.95 to 24.05: half of the last printed digit either way. What is
shown again never carries more digits than that.
"""

from __future__ import annotations

from math import floor, isfinite, log10

from torquewright.base.units import UNITS, from_si


def decimals_for(half: float) -> int:
    """How many decimals a value may show when its uncertainty is ``half`` (same unit). 0 or more."""
    if not half > 0 or not isfinite(half):
        return 0
    # half of the last digit: 0.5 -> 0 decimals, 0.05 -> 1; a coarser half never gives negative decimals
    return max(0, -floor(log10(half * 2) + 1e-9))


def show(value_si: float, unit: str, half_si: float, *, sign: bool = False) -> str:
    """``value_si`` in ``unit`` with no more digits than ``half_si`` (SI, half of the last digit) carries.

    Returns figure, space, unit: ``"62 lbf·in"``; for ``"°"`` there is no space. At least two figures are kept
    for values under 10, because a rounding to one figure can be 5 % off by itself.
    """
    held = UNITS[unit]
    value = from_si(value_si, unit)
    places = decimals_for(half_si / held.factor)
    if value and places == 0 and abs(value) < 9.5 and half_si / held.factor < 0.9 * abs(value):
        places = 1
    text = f"{value:+.{places}f}" if sign else f"{value:.{places}f}"
    if "." in text and half_si == 0:
        text = text.rstrip("0").rstrip(".")
    return f"{text}{'' if unit == '°' else ' '}{unit}"


def neat(value: float, figures: int = 3) -> str:
    """A computed figure with ``figures`` significant figures and no trailing zeros after the point."""
    if value == 0 or not isfinite(value):
        return "0" if value == 0 else str(value)
    places = max(0, figures - 1 - floor(log10(abs(value))))
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
