"""The tool in the hand: adapters, what a setting really gives, and whether any setting lands inside a band."""

from __future__ import annotations

from math import ceil, cos, floor, radians
from typing import NamedTuple


def gain(arm: float, adapter: float, angle: float = 0.0) -> float:
    """(L + E cos phi)/L: by how much an adapter multiplies the setting of a torque wrench.

    ``arm`` L from the drive to the hand, ``adapter`` E from the drive to the fastener, metres; ``angle`` phi between
    them in degrees, 0 when the adapter points straight away from the hand, 90 square (no change), 180 turned back
    over the handle. Lever rule; US Army TM 1-1500-204-23-9 figure 8-16. Holds for a hand at the mark of the grip. A
    socket extension in the axis of the fastener has E = 0. ValueError for an arm that is not longer than nothing or
    an adapter that reaches back past the hand.
    """
    if not arm > 0:
        raise ValueError("the arm of the wrench must be longer than nothing")
    factor = (arm + adapter * cos(radians(angle))) / arm
    if not factor > 0:
        raise ValueError("the adapter reaches back past the hand")
    return factor


def setting_for(target: float, factor: float) -> float:
    """The wrench setting for a torque at the fastener, N·m: T_set = T L/(L + E cos phi)."""
    return target / factor


def arriving(setting: float, factor: float, deviation: float = 0.0) -> tuple[float, float]:
    """The lowest and highest torque at the fastener for a setting, with the tool's permitted deviation (fraction).

    ISO 6789-1: the deviation refers to the set value.
    """
    return setting * factor * (1 - deviation), setting * factor * (1 + deviation)


class Window(NamedTuple):
    """What a tool can be set to, N·m: ``low`` to ``high`` usable, in steps of ``step`` (0: any value) counted from
    ``first``; ``deviation`` a fraction of the setting."""

    low: float
    high: float
    deviation: float
    step: float = 0.0
    first: float = 0.0


def permitted_deviation(largest: float, stated: float | None = None, *, type_: str = "II", class_: str = "A") -> float:
    """The permitted deviation of a tool as a fraction: as stated, else ISO 6789-1 by type, class and largest torque
    (N·m). Without a type the setting wrench II A is taken: 6 % up to 10 N·m, 4 % above."""
    if stated is not None:
        return stated
    from torquewright.book.tables import table

    row = table("wrench-deviations").first(type=type_, **{"class": class_})
    if row is None:
        raise ValueError(f"ISO 6789-1 knows no tool of type {type_} class {class_}")
    return row.number("up_to_10" if largest <= 10 else "above_10") / 100


def least_usable(low: float, high: float, stated: float | None = None) -> float:
    """The smallest setting to use, N·m: as stated by the certificate, else the larger of the scale's lower end and
    20 % of its upper end (ISO 6789:2003 calibrates at 20, 60 and 100 %)."""
    return stated if stated is not None else max(low, 0.2 * high)


class Setting(NamedTuple):
    """A setting and the torque that then arrives at the fastener, N·m. ``inside`` tells whether all of it lies inside
    the band that was asked for."""

    setting: float
    low: float
    high: float
    inside: bool


_HAIR = 1e-9  # what two torques may differ by and still count as equal: binary rounding, nothing physical


def best_setting(window: Window, low: float, high: float, factor: float = 1.0) -> Setting | None:
    """The setting of this tool that suits a band from ``low`` to ``high`` (N·m at the fastener) best.

    Best is the one whose arriving torque is centred in the band; where no setting keeps the whole arriving range
    inside, the nearest is returned with ``inside`` False. None where the usable range of the tool lies wholly
    outside the band. ``factor`` is the :func:`gain` of an adapter.
    """
    centre = (low + high) / 2 / factor
    if window.step > 0:
        steps = (centre - window.first) / window.step
        settings = [window.first + n * window.step for n in (floor(steps + _HAIR), ceil(steps - _HAIR))]
        lowest = window.first + ceil((window.low - window.first) / window.step - _HAIR) * window.step
        highest = window.first + floor((window.high - window.first) / window.step + _HAIR) * window.step
    else:
        settings, lowest, highest = [centre], window.low, window.high
    if lowest > highest + _HAIR:
        return None
    # the marked scale and the usable part of it bound what can be set
    choices = sorted({min(max(setting, lowest), highest) for setting in settings})
    judged = [_judged(setting, window.deviation, low, high, factor) for setting in choices]
    best = min(judged, key=lambda found: (not found.inside, abs(found.setting - centre)))
    slack = _HAIR * max(1.0, high)
    if best.high < low - slack or best.low > high + slack:
        return None
    return best


def _judged(setting: float, deviation: float, low: float, high: float, factor: float) -> Setting:
    least, most = arriving(setting, factor, deviation)
    slack = _HAIR * max(1.0, high)
    return Setting(setting, least, most, least >= low - slack and most <= high + slack)


def wider_than_band(deviation: float, low: float, high: float) -> bool:
    """Whether the tool's deviation alone is wider than the band, whatever it is set to: no setting s has
    s (1 - e) >= low and s (1 + e) <= high."""
    return low / (1 - deviation) > high / (1 + deviation) * (1 + _HAIR)
