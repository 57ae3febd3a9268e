"""Tightening by angle: how far a turn stretches the bolt, what it adds to the preload, and what takes preload away."""

from __future__ import annotations

from math import pi
from typing import NamedTuple

from torquewright.joint.threads import Shape

STEEL = 205e9
"""Modulus of elasticity of bolt steel, Pa (VDI 2230-1)."""


def thread_in_grip(thread: Shape, grip: float) -> float:
    """How much of the clamped length is threaded, metres: the ordinary thread length 2 d + 6 mm (ISO 4014 up to
    125 mm), or all of a short grip."""
    return min(grip, 2 * thread.diameter + 0.006)


def bolt_resilience(
    thread: Shape, grip: float, threaded: float, *, nut: bool = True, cap: bool = False, modulus: float = STEEL
) -> float:
    """delta_S in metres per newton. VDI 2230-1 R3.

    Head 0.5 d (cap screw 0.4 d) and nut 0.4 d (tapped block 0.33 d) on the nominal section, the shank, the free
    thread on the root section, and 0.5 d of engaged thread on the root section. ``grip`` is the clamped length,
    ``threaded`` its threaded part, metres.
    """
    d = thread.diameter
    full, root = pi / 4 * d**2, pi / 4 * thread.root**2
    ends = (0.4 if cap else 0.5) * d + (0.4 if nut else 0.33) * d
    return ((grip - threaded + ends) / full + (threaded + 0.5 * d) / root) / modulus


class Turn(NamedTuple):
    """What an angle does: ``stretch`` in metres, shared by bolt and clamped parts; ``gain`` in newtons if nothing
    yields."""

    stretch: float
    gain: float


def turn(thread: Shape, angle: float, resilience: float) -> Turn:
    """A turn by ``angle`` degrees beyond snug: P theta/360, and that over delta_S + delta_P (m/N). VDI 2230-1."""
    stretch = thread.pitch * angle / 360
    return Turn(stretch, stretch / resilience)


def angle_for(preload: float, thread: Shape, resilience: float) -> float:
    """theta = 360 F (delta_S + delta_P)/P in degrees beyond snug, elastic range."""
    return 360 * preload * resilience / thread.pitch


def embedding_loss(flattening: float, resilience: float) -> float:
    """F_Z = f_Z/(delta_S + delta_P): newtons lost when rough faces flatten by ``flattening`` metres. VDI 2230-1 R4."""
    return flattening / resilience


def temperature_change(
    grip: float, resilience: float, warming: float, expansion_parts: float, expansion_bolt: float
) -> float:
    """dF = (alpha_P - alpha_S) dT l_K/(delta_S + delta_P): newtons gained when bolt and parts warm by ``warming``
    kelvin alike."""
    return (expansion_parts - expansion_bolt) * warming * grip / resilience


def necking(reference: float, thinnest: float) -> tuple[float, float]:
    """How much thinner a stretched bolt is (metres) and the mean plastic strain there, 2 (d_ref - d_min)/d_ref."""
    return reference - thinnest, 2 * (reference - thinnest) / reference
