"""The geometry of a thread: basic diameters, stress area, and the limits of ordinary tolerances."""

from __future__ import annotations

from functools import lru_cache
from math import cos, pi, radians, sqrt, tan
from typing import NamedTuple

from torquewright.records.parts import Thread

COS30 = cos(radians(30))
TAN30 = tan(radians(30))
_INCH = 0.0254


class Shape(NamedTuple):
    """A 60° thread, single start. Lengths in metres, area in m².

    ``flank`` is the pitch diameter d2, ``minor`` the basic minor diameter d1 = D1, ``root`` the root diameter of the
    bolt thread (d3; for unified threads the root that belongs to the 0.9743/n stress area), ``core`` the mean of
    flank and root, which carries the stress.
    """

    family: str
    diameter: float
    pitch: float
    flank: float
    minor: float
    root: float

    @property
    def core(self) -> float:
        """dS = (d2 + d3)/2, metres."""
        return (self.flank + self.root) / 2

    @property
    def stress_area(self) -> float:
        """As = pi/4 dS², m² (ISO 898-1:2013 clause 9.1.6.1; ASME B1.1: 0.7854 (D - 0.9743/n)²)."""
        return pi / 4 * self.core**2

    @property
    def name(self) -> str:
        """``M8x1.25`` or ``1/2-13``-like; the diameter in decimal inches where no fraction fits."""
        if self.family == "metric":
            return f"M{self.diameter * 1e3:g}x{round(self.pitch * 1e3, 4):g}"
        return f"{self.diameter / _INCH:.4g} in-{_INCH / self.pitch:.4g}"


@lru_cache(maxsize=256)
def shape(diameter: float, pitch: float, family: str = "metric") -> Shape:
    """The basic profile of a thread of ``diameter`` and ``pitch`` (metres).

    d2 = d - 0.649519 P, d1 = d - 1.082532 P, d3 = d - 1.226869 P (ISO 68-1, ISO 724); for ``family="unified"``
    the root is d - 1.299038 P, so that the stress area is that of ASME B1.1. ValueError for impossible sizes.
    """
    if not diameter > 0 or not pitch > 0 or pitch * 1.3 >= diameter:
        raise ValueError(f"no thread has diameter {diameter!r} m and pitch {pitch!r} m")
    # multiples of the height H = sqrt(3)/2 P of the sharp profile: 6/8, 10/8, 17/12 and 12/8
    height = sqrt(3) / 2 * pitch
    root = diameter - (height * 17 / 12 if family == "metric" else height * 1.5)
    return Shape(family, diameter, pitch, diameter - 0.75 * height, diameter - 1.25 * height, root)


def of_thread(thread: Thread | None) -> Shape | None:
    """The shape of a recorded thread; None where it is no metric or unified thread or its pitch is unknown."""
    if thread is None or thread.diameter is None or thread.family not in ("metric", "unified"):
        return None
    pitch = thread.pitch if thread.pitch is not None else coarse_pitch(thread.diameter)
    if pitch is None or pitch * 1.3 >= thread.diameter:
        return None
    return shape(thread.diameter, pitch, thread.family)


def coarse_pitch(diameter: float) -> float | None:
    """The coarse metric pitch of a nominal diameter, metres (ISO 261); None for a size outside the table."""
    from torquewright.book.tables import table  # only sizes without a pitch need the table

    size = round(diameter * 1e3, 3)
    row = table("metric-pitches").first(diameter=size, series="coarse")
    return row.number("pitch") / 1e3 if row else None


class Limits(NamedTuple):
    """Least-material sizes of an ordinary fit (6g/6H; 2A/2B), metres: what a strip calculation that guarantees
    something uses. ``bolt_major`` d min, ``bolt_flank`` d2 min, ``nut_flank`` D2 max, ``nut_minor`` D1 max."""

    bolt_major: float
    bolt_flank: float
    nut_flank: float
    nut_minor: float


_STEPS = (0.99, 1.4, 2.8, 5.6, 11.2, 22.4, 45, 90, 180, 355)  # diameter steps of ISO 965-1, mm


@lru_cache(maxsize=256)
def limits(thread: Shape) -> Limits:
    """Least-material limits: ISO 965-1 6g and 6H for metric threads, ASME B1.1 class 2A and 2B for unified ones.

    ISO 965-1 (mm, µm): es = 15 + 11 P, Td = 180 P^(2/3) - 3.15/sqrt P, Td2 = 90 P^0.4 d^0.1, TD2 = 1.32 Td2,
    TD1 = 433 P - 190 P^1.22 below P = 1, 230 P^0.7 from there; d is the geometric mean of its diameter step. The
    standard then rounds to preferred numbers, so single limits sit up to 0.015 mm off.
    ASME B1.1 (inch): Td2 = 0.0015 D^(1/3) + 0.0015 D^(1/2) + 0.015 P^(2/3), allowance 0.3 Td2, Td = 0.06 P^(2/3),
    TD2 = 1.3 Td2, TD1 = 0.25 P - 0.4 P² (numbered sizes: 0.05 P^(2/3) + 0.03 P/D - 0.002, at most 0.394 P); the
    minor diameter is rounded to 0.001 in from size 6 up.
    """
    if thread.family == "metric":
        d, p = thread.diameter * 1e3, thread.pitch * 1e3
        low = max((step for step in _STEPS if step < d), default=_STEPS[0])
        high = min((step for step in _STEPS if step >= d), default=_STEPS[-1])
        allowance = (15 + 11 * p) / 1e6
        flank_bolt = 90 * p**0.4 * sqrt(low * high) ** 0.1 / 1e6
        flank_nut = 1.32 * flank_bolt
        major = (180 * p ** (2 / 3) - 3.15 / sqrt(p)) / 1e6
        minor = (433 * p - 190 * p**1.22 if p < 1 else 230 * p**0.7) / 1e6
    else:
        d, p = thread.diameter / _INCH, thread.pitch / _INCH
        flank = 0.0015 * d ** (1 / 3) + 0.0015 * sqrt(d) + 0.015 * p ** (2 / 3)
        plain = 0.25 * p - 0.4 * p**2
        tight = plain if d >= 0.25 else min(max(0.05 * p ** (2 / 3) + 0.03 * p / d - 0.002, plain), 0.394 * p)
        allowance, flank_bolt, flank_nut = 0.3 * flank * _INCH, flank * _INCH, 1.3 * flank * _INCH
        widest = thread.minor / _INCH + tight
        minor = (round(widest, 3) if d >= 0.138 else widest) * _INCH - thread.minor
        major = 0.06 * p ** (2 / 3) * _INCH
    return Limits(
        thread.diameter - allowance - major,
        thread.flank - allowance - flank_bolt,
        thread.flank + flank_nut,
        thread.minor + minor,
    )
