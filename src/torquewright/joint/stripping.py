"""Stripping: shear areas of both threads, the loads that strip them, and how much engagement is needed."""

from __future__ import annotations

from math import pi
from typing import NamedTuple

from torquewright.joint.threads import TAN30, Limits, Shape

# What is left of a thread's shear strength once it bends and the nut widens: the smallest value of Alexander's
# factors C2 and C3 (SAE 770420, 1977; VDI 2230-1 R11). The polynomials behind it only ever give more.
THREAD_BENDING = 0.897
# Part of the engaged length that does not carry: chamfer and run-out, in pitches (VDI 2230-1 R11).
LOST_PITCHES = 0.8


class ShearAreas(NamedTuple):
    """Shear areas in m²: ``internal`` of the nut or tapped thread, ``external`` of the bolt thread."""

    internal: float
    external: float


def shear_areas(thread: Shape, length: float, sizes: Limits | None = None) -> ShearAreas:
    """Shear areas over an engaged ``length`` (metres).

    A_SGM = pi d (m/P) [P/2 + (d - D2) tan 30°], A_SGS = pi D1 (m/P) [P/2 + (d2 - D1) tan 30°]: VDI 2230-1 R11;
    the same as FED-STD-H28/2B AS_n = pi n Le Ds [1/(2n) + 0.57735 (Ds - En)] and its counterpart AS_s. ``sizes``
    puts the least-material limits in place of the basic sizes. Zero for a length of zero or less.
    """
    d, d2, flank, minor = sizes or Limits(thread.diameter, thread.flank, thread.flank, thread.minor)
    turns = max(0.0, length) / thread.pitch
    half = thread.pitch / 2
    return ShearAreas(pi * d * turns * (half + (d - flank) * TAN30), pi * minor * turns * (half + (d2 - minor) * TAN30))


def effective_length(thread: Shape, engagement: float) -> float:
    """m_eff = m - 0.8 P: the part of the engaged length that carries, metres; never below 0. VDI 2230-1 R11."""
    return max(0.0, engagement - LOST_PITCHES * thread.pitch)


def dilation(width: float, diameter: float) -> float:
    """C1 = 3.8 s/d - (s/d)² - 2.61 for 1.4 <= s/d < 1.9: a narrow nut widens and carries less; 1 for a block.

    Alexander (SAE 770420); from memory, continuous with 1.0 at s/d = 1.9. Below 1.4 the value at 1.4.
    """
    ratio = max(1.4, width / diameter)
    return min(1.0, 3.8 * ratio - ratio**2 - 2.61) if ratio < 1.9 else 1.0


class StripLoads(NamedTuple):
    """Loads that strip the threads, newtons; None where the strength of that side is not known."""

    internal: float | None
    external: float | None


def strip_loads(
    thread: Shape,
    engagement: float,
    shear_internal: float | None,
    shear_external: float | None,
    *,
    sizes: Limits | None = None,
    width: float | None = None,
    whole: bool = False,
) -> StripLoads:
    """F = C tau A for both threads, ``engagement`` in metres, shear strengths in pascals.

    Metric practice (VDI 2230-1 R11): the length less 0.8 P, and 0.897 of the shear strength, times :func:`dilation`
    for a nut of ``width`` across flats. ``whole`` takes the plain product over the whole length instead, which is the
    practice of FED-STD-H28/2B for unified threads at their least-material ``sizes``.
    """
    areas = shear_areas(thread, engagement if whole else effective_length(thread, engagement), sizes)
    factor = 1.0 if whole else THREAD_BENDING * (dilation(width, thread.diameter) if width else 1.0)
    return StripLoads(
        None if shear_internal is None else factor * shear_internal * areas.internal,
        None if shear_external is None else factor * shear_external * areas.external,
    )


def engagement_needed(
    load: float,
    thread: Shape,
    shear_internal: float,
    *,
    sizes: Limits | None = None,
    width: float | None = None,
    whole: bool = False,
) -> float:
    """The engaged length at which the internal thread carries ``load`` newtons, metres.

    m = F/(C tau A per metre) + 0.8 P (VDI 2230-1 R11); with ``whole`` no allowance is added (FED-STD-H28/2B).
    """
    area = shear_areas(thread, 1.0, sizes).internal
    factor = 1.0 if whole else THREAD_BENDING * (dilation(width, thread.diameter) if width else 1.0)
    return load / (factor * shear_internal * area) + (0.0 if whole else LOST_PITCHES * thread.pitch)


class Engagement(NamedTuple):
    """FED-STD-H28/2B: ``equal`` for equal materials (Le, metres), ``ratio`` J, and ``needed`` Q = J Le where the
    tapped part is the weaker one."""

    equal: float
    ratio: float
    needed: float


def engagement_h28(thread: Shape, sizes: Limits, tensile_external: float, tensile_internal: float) -> Engagement:
    """Le = 2 As / (pi n Kn [1/(2n) + 0.57735 (Es - Kn)]), J = AS_s Rm,ext / (AS_n Rm,int), Q = J Le for J > 1.

    The 2 stands for a shear strength of half the tensile strength. Tensile strengths in the same unit.
    """
    per_metre = shear_areas(thread, 1.0, sizes)
    equal = 2 * thread.stress_area / per_metre.external
    ratio = per_metre.external * tensile_external / (per_metre.internal * tensile_internal)
    return Engagement(equal, ratio, equal * max(1.0, ratio))


def torque_cap(strip_load: float, nut_factor: float, diameter: float, safety: float) -> float:
    """T = K d F_strip / S in N·m: the most a soft thread should see; S of 2 or more for plastics."""
    return nut_factor * diameter * strip_load / safety
