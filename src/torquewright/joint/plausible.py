"""Whether a recorded torque can be meant for a thread at all, and which slip of the unit would explain it.

The bounds are wide on purpose: a torque is called impossible only where no ordinary friction makes sense of it. They
are common practice, no source.
"""

from __future__ import annotations

from typing import NamedTuple

from torquewright.base.units import UNITS
from torquewright.joint.preload import Arms, preload
from torquewright.joint.quick import BROKEN, LOOSE

__all__ = ["BROKEN", "LOOSE", "Reading", "Use", "likely_readings", "use_of_proof"]

_ORDINARY = (0.15, 1.0)  # where a reading counts as the likely meaning
_SLIPS = ("N·m", "lbf·ft", "lbf·in", "kgf·m", "kgf·cm", "cN·m", "daN·m")


class Use(NamedTuple):
    """Shares of the proof load: the least and the most the torque can leave, 0..1 and beyond."""

    low: float
    high: float

    @property
    def impossible(self) -> bool:
        return self.high < LOOSE or self.low > BROKEN


def use_of_proof(torque: float, least: Arms, most: Arms, proof_load: float) -> Use:
    """Shares of ``proof_load`` (N) a ``torque`` (N·m) leaves at most and at least friction."""
    return Use(preload(torque, most) / proof_load, preload(torque, least) / proof_load)


class Reading(NamedTuple):
    """The same figure in another unit: the unit and the torque in N·m."""

    unit: str
    torque: float


def likely_readings(torque: float, unit: str, nominal: Arms, proof_load: float) -> tuple[Reading, ...]:
    """Other units in which the figure of ``torque`` (N·m, written in ``unit``) would use an ordinary share of the proof
    load, 15 to 100 %; the most ordinary first, counted from 60 %."""
    figure = torque / UNITS[unit].factor
    found = []
    for other in _SLIPS:
        meant = figure * UNITS[other].factor
        share = preload(meant, nominal) / proof_load
        if other != unit and _ORDINARY[0] <= share <= _ORDINARY[1]:
            found.append((abs(share - 0.6), Reading(other, meant)))
    return tuple(reading for _, reading in sorted(found))
