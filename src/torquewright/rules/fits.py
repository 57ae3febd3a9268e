"""Whether a printed torque fits the figure of a record, and in which other unit its digits would.

A figure stands for half of its last printed digit either way. All torques in N·m.
"""

from __future__ import annotations

from math import log
from typing import Literal, NamedTuple

from torquewright.base.figures import decimals_for
from torquewright.base.units import UNITS
from torquewright.records import Torque

Fit = Literal["fits", "near", "above", "below"]

NEAR = 0.03
"""Beside a record without a tolerance, a difference up to this share is left to whoever keeps the record."""

UNIT_SLIP, TWELVE_SLIP = 0.04, 0.06
"""How far (in log scale) the ratio of two figures may be from the ratio of two units to be laid at its door. Both
shares are common practice, no source."""

_READ_AS: dict[str, tuple[str, ...]] = {
    "N·m": ("lbf·ft", "lbf·in", "kgf·m", "daN·m"),
    "lbf·ft": ("lbf·in", "N·m", "kgf·m"),
    "lbf·in": ("lbf·ft", "N·m"),
    "kgf·m": ("N·m", "lbf·ft"),
}
"""For a unit, those it is mixed up with. Others are tried only where they are the record's own: units that lie close
together (lbf·in and kgf·cm) would explain any figure."""

_CONVERTED = ("N·m", "lbf·ft", "lbf·in", "kgf·m")
_POUNDS = frozenset({"lbf·ft", "lbf·in"})


class Misread(NamedTuple):
    """A slip of units that would explain a figure. ``meant`` is the figure that would fit, as it would be written;
    ``converted`` is true when the record's own digits, taken for ``read_as`` and converted, give the figure that
    was written."""

    meant: str
    twelve: bool
    converted: bool = False
    read_as: str = ""


def ends(torque: Torque) -> tuple[float, float]:
    """The lowest and the highest torque a text asks for; a missing end is the one that is there."""
    low, high = torque.band
    low = high if low is None else low
    high = low if high is None else high
    if low is None or high is None:
        return 0.0, 0.0
    return low, high


def fit(torque: Torque, record: Torque) -> Fit:
    """How ``torque``, as a step writes it, stands to ``record``.

    In one unit the figures are compared as they are. Across units somebody has rounded: the step's figure may be out
    by half of its last digit, and a record with one figure and no limits by half of its own too. "near" is a
    difference of up to 3 % beside such a record.
    """
    low, high = record.band
    at_least, at_most = torque.band
    alone = record.low is None and record.high is None
    slack = 1e-9 * abs(torque.target or 0.0)
    if torque.unit != record.unit:
        slack += torque.half + (record.half if alone else 0.0)
    if alone and low is not None and at_least is not None and at_most is not None and at_least < at_most:
        # The step gives limits where the record has one figure: the figure must lie between them.
        if at_least - slack <= low <= at_most + slack:
            return "fits"
        return "below" if at_most < low else "above"
    found: Fit = "fits"
    if low is not None:
        held = at_least if at_least is not None else at_most
        if held is not None and held + slack < low:
            found = "below"
    if high is not None:
        held = at_most if at_most is not None else at_least
        if held is not None and held - slack > high:
            found = "above"
    if found != "fits" and alone and low and torque.target is not None:
        share = abs(torque.target - low) / low
        if share <= NEAR * (1 + 1e-9):
            return "near"
    return found


def scaled(torque: Torque, by: float, unit: str = "") -> Torque:
    """``torque`` times ``by``; the digits are the same, so their half is scaled along."""
    return Torque(
        None if torque.nominal is None else torque.nominal * by,
        None if torque.low is None else torque.low * by,
        None if torque.high is None else torque.high * by,
        unit or torque.unit,
        torque.half * by,
    )


def raised(torque: Torque, by: float) -> Torque:
    """``torque`` with ``by`` (N·m) on top: a running torque that has to be overcome first."""
    return Torque(
        None if torque.nominal is None else torque.nominal + by,
        None if torque.low is None else torque.low + by,
        None if torque.high is None else torque.high + by,
        torque.unit,
        torque.half,
    )


def printed(torque: Torque, unit: str = "") -> str:
    """A torque as its digits print it: ``7 N·m``, ``7 to 9 N·m``, ``max 9 N·m``; in ``unit``, else in its own."""
    unit = unit or torque.unit
    factor = UNITS[unit].factor
    places = decimals_for(torque.half / factor)

    def figure(value: float) -> str:
        return f"{value / factor:.{places}f}"

    low, high = torque.low, torque.high
    if low is not None and high is not None:
        return f"{figure(low)} to {figure(high)} {unit}"
    if torque.nominal is not None:
        return f"{figure(torque.nominal)} {unit}"
    if high is not None:
        return f"max {figure(high)} {unit}"
    return f"min {figure(low or 0.0)} {unit}"


def misread(torque: Torque, record: Torque, also: tuple[Torque, ...] = ()) -> Misread | None:
    """The slip of units that explains why ``torque`` does not fit ``record``, or None.

    First the digits are read in every other unit (the record's own first); then the record's digits are taken for
    another unit and converted. What a factor of 12 explains is a matter of inch pounds and foot pounds. A statement
    in two units (``also``) speaks for itself: only digits that fit in the record's own unit count there.
    """
    if not torque.target or not record.target or record.unit not in UNITS:
        return None
    if also:
        for each in (torque, *also):
            found = _digits_in(each, record, (record.unit,))
            if found is not None:
                return found
        return None
    units = dict.fromkeys((*_READ_AS.get(torque.unit, ()), record.unit))
    return _digits_in(torque, record, tuple(units)) or _converted(torque, record)


def _digits_in(torque: Torque, record: Torque, units: tuple[str, ...]) -> Misread | None:
    own = UNITS[torque.unit].factor
    meant: list[str] = []
    for unit in sorted(units, key=lambda unit: (not {unit, torque.unit} <= _POUNDS, unit != record.unit)):
        if unit == torque.unit:
            continue
        read = scaled(torque, UNITS[unit].factor / own, unit)
        twelve = {unit, torque.unit} <= _POUNDS
        if _explains(read, record, TWELVE_SLIP if twelve else UNIT_SLIP, unit == record.unit or _far(torque, read)):
            if twelve:
                return Misread(printed(read), True)
            meant.append(printed(read))
    # kgf·m and daN·m lie within 2 % of each other: both are named.
    return Misread(" or ".join(meant), False) if meant else None


def _converted(torque: Torque, record: Torque) -> Misread | None:
    for factor in (12.0, 1 / 12.0):
        if _explains(scaled(torque, 1 / factor), record, TWELVE_SLIP, True):
            return Misread(printed(record), True, True)
    for unit in _CONVERTED:
        if unit == record.unit:
            continue
        by = UNITS[record.unit].factor / UNITS[unit].factor
        read = scaled(torque, by)
        if _explains(read, record, UNIT_SLIP, _far(torque, read)):
            digits = scaled(record, 1 / by, unit)
            return Misread(printed(record), False, True, printed(digits))
    return None


def _far(torque: Torque, read: Torque) -> bool:
    """Whether the two units are far apart. One that is near (N·m and lbf·ft, 1.36) would bring many a wrong figure
    into a wide window by chance."""
    one, two = torque.target or 0.0, read.target or 0.0
    return max(one, two) > 2 * min(one, two)


def _explains(read: Torque, record: Torque, slip: float, window: bool) -> bool:
    """Whether a figure read in another unit is the record's: to within ``slip`` of its figure in log scale or, with
    ``window``, anywhere between its limits."""
    low, high = record.band
    if window and low is not None and high is not None and fit(read, record) == "fits":
        return True  # beside a limit on one side only, any small unit would fit
    target, wanted = read.target, record.target
    return bool(target and wanted and target > 0 and abs(log(target / wanted)) < slip)


def same_digits(torque: Torque, record: Torque) -> bool:
    """Whether a torque in another unit than the record's fits it by rounding alone, while its digits, read in the
    record's unit, fit as they stand: ``2 lbf·ft`` (2.7 N·m) beside ``2 N·m ± 0.25``."""
    if torque.unit == record.unit or torque.unit not in UNITS or record.unit not in UNITS:
        return False
    bare = Torque(torque.nominal, torque.low, torque.high, record.unit)
    by = UNITS[record.unit].factor / UNITS[torque.unit].factor
    return fit(bare, record) in ("above", "below") and fit(scaled(bare, by), record) == "fits"
