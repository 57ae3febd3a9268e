"""Stress while tightening: tension and torsion together, and the preload a share of yield allows."""

from __future__ import annotations

from math import pi, sqrt
from typing import NamedTuple

from torquewright.joint.preload import Arms
from torquewright.joint.threads import COS30, Shape


class Stress(NamedTuple):
    """Stresses in pascals while the torque is applied."""

    tension: float
    torsion: float

    @property
    def combined(self) -> float:
        """sigma_red = sqrt(sigma² + 3 tau²), von Mises; VDI 2230-1 R7."""
        return sqrt(self.tension**2 + 3 * self.torsion**2)


def _section(thread: Shape, waist: float | None) -> tuple[float, float]:
    """The diameter that carries the stress, and its area: the waist where the shank is thinner than the thread."""
    if waist is not None and waist < thread.core:
        return waist, pi / 4 * waist**2
    return thread.core, thread.stress_area


def while_tightening(preload: float, thread: Shape, arm: Arms, waist: float | None = None) -> Stress:
    """sigma = F/As and tau = F (P/(2 pi) + mu_G d2/(2 cos 30°)) / (pi dS³/12). VDI 2230-1 R7.

    The torsion section is the fully plastic one. ``waist`` is the shank diameter of a waisted bolt, metres.
    """
    diameter, area = _section(thread, waist)
    return Stress(preload / area, preload * arm.shank / (pi * diameter**3 / 12))


def preload_at_yield(
    yield_: float, share: float, thread: Shape, mu_thread: float, waist: float | None = None
) -> float:
    """F_M = share Rp As / sqrt(1 + 3 k²), k = 3/2 (d2/dS) (P/(pi d2) + mu_G/cos 30°); newtons.

    The assembly preload at which tension and torsion together use ``share`` of the yield strength (Pa); share 0.9
    is the usual limit of VDI 2230-1 Table A1.
    """
    diameter, area = _section(thread, waist)
    k = 1.5 * (thread.flank / diameter) * (thread.pitch / (pi * thread.flank) + mu_thread / COS30)
    return share * yield_ * area / sqrt(1 + 3 * k**2)
