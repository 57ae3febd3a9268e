"""One torque while it is being read: figures in the unit as written, their doubts, and the record they become."""

from __future__ import annotations

from typing import TYPE_CHECKING

from torquewright.base.units import UNITS
from torquewright.notation.numbers import Number
from torquewright.notation.unit_words import TorqueUnit
from torquewright.records.tightening import Torque

if TYPE_CHECKING:
    from torquewright.notation.deviations import Deviation

_CUSTOMARY = frozenset({"lbf·ft", "lbf·in", "ozf·in"})


TORQUES = 0  # only figures with a torque unit
FORCES = 1  # also a force or a mass where a torque should be
BARE = 2  # also a figure with no unit at all


class Measured:
    """A torque as written. Figures are in the written unit; ``*_at`` remember the printed number of each, so that a
    thousands mark can be settled once the unit, or a second unit beside it, is known."""

    __slots__ = (
        "also", "doubts", "high", "high_at", "limit", "low", "low_at", "nominal", "nominal_at", "number",
        "readings", "unit",
    )  # fmt: skip

    def __init__(self, number: Number, unit: TorqueUnit | None) -> None:
        self.number = number
        self.unit = unit
        self.nominal: float | None = number.value
        self.nominal_at: Number | None = number
        self.low: float | None = None
        self.low_at: Number | None = None
        self.high: float | None = None
        self.high_at: Number | None = None
        self.limit = ""
        self.doubts: list[str] = []
        self.readings: list[str] = []
        self.also: list[Measured] = []

    def doubt(self, why: str, *ways: str) -> None:
        """Note a doubt and the ways it could be read ("range", "stages", "either")."""
        self.doubts.append(why)
        self.readings.extend(ways)

    def span(self, first: Number, second: Number) -> None:
        """Make it a range; limits written backwards are put in order and doubted."""
        self.nominal, self.nominal_at = None, None
        self.low, self.low_at = first.value, first
        self.high, self.high_at = second.value, second

    def deviate(self, deviation: Deviation) -> None:
        """Give the nominal figure limits."""
        assert self.nominal is not None
        self.low = self.nominal + deviation.lower * (self.nominal if deviation.lower_share else 1.0)
        self.high = self.nominal + deviation.upper * (self.nominal if deviation.upper_share else 1.0)
        self.low_at = self.high_at = None
        if deviation.doubt:
            self.doubt(deviation.doubt)

    def settle(self) -> None:
        """Decide what a lone comma or stop before three digits means, as far as the unit decides it."""
        held = [at for at in (self.nominal_at, self.low_at, self.high_at) if at is not None and at.other is not None]
        if not held:
            return
        mark = held[0].mark
        thousands = {at: max(at.value, at.other or 0.0) for at in held}
        if self.unit is not None and self.unit.name in _CUSTOMARY:
            for at in held:
                self._change(at, thousands[at] if mark == "," else min(at.value, at.other or at.value))
            return
        if self.low_at is not None and self.high_at is not None and len(held) == 1:
            # "950 to 1,050 N·m": only one reading puts the limits in order
            at = held[0]
            other = self.low_at if at is self.high_at else self.high_at
            fits = [
                value
                for value in (at.value, at.other or 0.0)
                if (
                    other.value < value < 20 * other.value
                    if at is self.high_at
                    else other.value / 20 < value < other.value
                )
            ]
            if len(fits) == 1:
                self._change(at, fits[0])
                return
        at = held[0]
        self.doubts.append(
            f"{at.value:g} or {at.other:g}: a {'comma' if mark == ',' else 'full stop'} before exactly three digits"
        )
        self.readings.append("marks")

    def _change(self, at: Number, value: float) -> None:
        if value == at.value:
            return
        shift = value / at.value
        half = 0.5 if value > at.value else 0.0005
        new = Number(value, half)
        if self.nominal_at is at:
            if self.nominal is not None and self.low is not None and self.low_at is None:
                self.low = value - (self.nominal - self.low)
            if self.nominal is not None and self.high is not None and self.high_at is None:
                self.high = value + (self.high - self.nominal)
            self.nominal, self.nominal_at = value, new
        if self.low_at is at:
            self.low, self.low_at = (self.low or 0.0) * shift, new
        if self.high_at is at:
            self.high, self.high_at = (self.high or 0.0) * shift, new
        if self.number is at:
            self.number = new

    def other_marks(self) -> Measured | None:
        """The same with every doubtful mark read the other way; None where there is none."""
        if "marks" not in self.readings:
            return None
        twin = Measured(self.number, self.unit)
        for name in ("nominal", "nominal_at", "low", "low_at", "high", "high_at", "limit", "also"):
            setattr(twin, name, getattr(self, name))
        twin.doubts = [doubt for doubt in self.doubts if "before exactly three digits" not in doubt]
        twin.readings = [reading for reading in self.readings if reading != "marks"]
        for at in (self.nominal_at, self.low_at, self.high_at):
            if at is not None and at.other is not None:
                twin._change(at, at.other)
        return twin

    @property
    def half(self) -> float:
        """Half of the last printed digit, in the written unit: the coarsest of its figures."""
        return max((at.half for at in (self.nominal_at, self.low_at, self.high_at) if at is not None), default=0.0)

    def torque(self) -> Torque:
        """The record: N·m, or the bare figures where there is no torque unit."""
        unit = self.unit
        factor = UNITS[unit.name].factor * unit.scale if unit is not None and unit.name else 1.0
        low = None if self.low is None else self.low * factor
        high = None if self.high is None else self.high * factor
        if low is not None and high is not None and low > high:
            low, high = high, low
        nominal = None if self.nominal is None else self.nominal * factor
        return Torque(nominal, low, high, unit.name if unit is not None else "", self.half * factor)
