"""Pressure under the head or nut, with and without a washer, and under a sealing ring."""

from __future__ import annotations

from math import pi


def ring_area(outer: float, inner: float) -> float:
    """pi/4 (da² - di²) in m², diameters in metres; 0 where the hole swallows the face."""
    return max(0.0, pi / 4 * (outer**2 - inner**2))


def pressure(preload: float, outer: float, inner: float) -> float | None:
    """p = F/A in pascals (VDI 2230-1 R10); None where nothing bears.

    ``outer`` is the smaller of head face and what lies under it, ``inner`` the larger of hole and head recess.
    """
    area = ring_area(outer, inner)
    return preload / area if area > 0 else None


def spread(face: float, washer_outer: float, washer_thickness: float) -> float:
    """The outer diameter to count on under a washer: dw + 1.6 h, never beyond the washer. From memory.

    A thick hard washer carries out to its rim; a thin one bends. Metres.
    """
    return min(washer_outer, face + 1.6 * washer_thickness)
