"""Figures as printed: a value together with the interval its digits stand for.

"24" stands for 23.5 to 24.5 and "24.0" for 23.95 to 24.05: half of the last printed digit either way. What is
shown again in another unit carries no more digits than that: the step of the last digit shown is the power of ten
nearest to the width of the interval. Two figures are kept all the same where one alone would move the value.
"""

from __future__ import annotations

import re
from functools import cache
from math import floor, isfinite, log10

from torquewright.base.units import UNITS, from_si


def decimals_for(half: float) -> int:
    """How many decimals a value may show when its uncertainty is ``half`` (same unit). 0 or more."""
    if not half > 0 or not isfinite(half):
        return 0
    # half of the last digit: 0.5 -> 0 decimals, 0.05 -> 1; a coarser half never gives negative decimals
    return max(0, -floor(log10(half * 2) + 1e-9))


def places_for(value: float, half: float) -> int:
    """The decimal place of the last digit ``value`` may show (2: hundredths, 0: ones, -1: tens).

    ``half`` is its uncertainty in the same unit. At least two figures are kept, unless one alone says the same to
    within a half of a per cent: 61.96 ± 4.4 is 62, not 60.
    """
    places = -round(log10(2 * half))
    if value:
        two = 1 - floor(log10(abs(value)))
        if places < two and abs(round(value, places) - value) > 0.005 * abs(value):
            places = two
    return places


def rounded(value: float, half: float) -> str:
    """``value`` with the digits ``half`` (same unit) lets it carry; as many as it takes when ``half`` is 0."""
    if not half > 0 or not isfinite(half) or not isfinite(value):
        return neat(value, 6)
    places = places_for(value, half)
    value *= 1 + 1e-12  # a half of the last place goes up, whatever binary fractions make of it
    return f"{round(value, places):.{max(places, 0)}f}"


def show(value_si: float, unit: str, half_si: float, *, sign: bool = False) -> str:
    """``value_si`` in ``unit`` with no more digits than ``half_si`` (SI, half of the last digit) carries.

    Returns figure, space, unit: ``"62 lbf·in"``; for ``"°"`` there is no space. ``half_si`` 0 stands for an exact
    figure, shown as it is.
    """
    held = UNITS[unit]
    text = rounded(from_si(value_si, unit), half_si / held.factor)
    if sign and not text.startswith("-"):
        text = f"+{text}"
    return f"{text}{'' if unit == '°' else ' '}{unit}"


def kept_together(text: str) -> str:
    """``text`` for a printed line: no figure is parted from its unit where the line breaks."""
    return _apart().sub("\N{NO-BREAK SPACE}", text)


@cache
def _apart() -> re.Pattern[str]:
    names = "|".join(re.escape(name) for name in sorted(UNITS, key=len, reverse=True))
    return re.compile(rf"(?<=\d) (?=(?:{names})(?!\w))")


def neat(value: float, figures: int = 3) -> str:
    """A computed figure with ``figures`` significant figures and no trailing zeros after the point."""
    if value == 0 or not isfinite(value):
        return "0" if value == 0 else str(value)
    places = max(0, figures - 1 - floor(log10(abs(value))))
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
