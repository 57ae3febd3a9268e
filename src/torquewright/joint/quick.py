"""What a check asks of every joint: preload and the loads that limit it, in plain floats.

The same figures as the full sheet (:func:`torquewright.joint.compute`), which tests hold it to; the sheet costs more
than the rest of a check and is worked out only where one of these is out. The formulas, their sources and their
domain stand there.
"""

from __future__ import annotations

from math import cos, pi, radians, sqrt, tan

from torquewright.joint.described import FAMILIES, carried, head_of, is_nut, nut_class, plain_name
from torquewright.joint.digest import (
    CONDITIONS,
    FACES,
    HOLES,
    MATERIALS,
    NUTS,
    SHEAR_RATIO,
    STRENGTHS,
    WASHERS,
)
from torquewright.records.parts import Fastener

_COS30, _TAN30 = cos(radians(30)), tan(radians(30))
LOOSE = 0.03
"""Below this share of the proof load, even on the smoothest thread, a metal joint is not tight at all."""
BROKEN = 1.3
"""Above this share, even on the roughest thread, the screw is beyond proof load and breaking."""
STRONGEST = 970e6
"""Proof stress of class 12.9, Pa: what no ordinary screw of any class goes beyond (ISO 898-1:2013)."""


class Reckoned:
    """Loads in newtons, stresses in pascals, per unit of torque where a torque drives them.

    ``per_torque`` is the preload one N·m pulls at the nominal friction, ``rough`` and ``smooth`` at the highest and
    the lowest. ``limit`` is the proof load of the screw (0.2 % strength of stainless), or of the nut where the record
    is a nut's; None where no table has the class. ``strip`` is the load at which even the strongest of what bears the
    material's name lets the thread go, ``bearing`` that at which the face under the head gives way by every published
    limit; None where a fact is missing, the figures are from memory, or the material bears a bare family name.
    """

    __slots__ = ("bearing", "diameter", "limit", "per_torque", "rough", "smooth", "stress_area", "strip")

    def __init__(self, diameter: float, stress_area: float, per_torque: float, rough: float, smooth: float) -> None:
        self.diameter = diameter
        self.stress_area = stress_area
        self.per_torque = per_torque
        self.rough = rough
        self.smooth = smooth
        self.limit: float | None = None
        self.strip: float | None = None
        self.bearing: float | None = None


def reckon(record: Fastener) -> Reckoned | None:
    """The figures of a recorded joint; None where its thread is no metric or unified thread with a stated pitch.

    Where the record states no condition, friction is taken as dry: that pulls least, so nothing is called too much
    that is not.
    """
    thread = record.thread
    if thread is None or thread.family not in ("metric", "unified"):
        return None
    d, pitch = thread.diameter, thread.pitch
    if d is None or pitch is None or pitch <= 0 or pitch * 1.3 >= d:
        return None
    metric = thread.family == "metric"
    height = sqrt(3) / 2 * pitch
    flank = d - 0.75 * height
    root = d - (height * 17 / 12 if metric else height * 1.5)
    area = pi / 4 * ((flank + root) / 2) ** 2
    size = round(d * 1e6)
    outer = FACES.get((thread.family, head_of(record)), {}).get(size)
    hole = HOLES[thread.family].get(size)
    inner = 1.1 * d if hole is None else hole
    rubbing = ((1.45 * d if outer is None else outer) + inner) / 2
    least, nominal, most = _friction(record)

    def pull(friction: float) -> float:
        return 1 / (pitch / (2 * pi) + friction * flank / (2 * _COS30) + friction * rubbing / 2)

    held = Reckoned(d, area, pull(nominal), pull(most), pull(least))
    nut = nut_class(record)
    classed = strength_of(record.property_class, d) if record.property_class and not nut else None
    if classed is not None:
        held.limit = classed[0] * area
    elif nut and metric:
        stress = NUTS[nut].get(size)
        held.limit = None if stress is None else stress * area
    _strip(held, record, pitch, flank, classed[1] if classed else None)
    if outer is not None and hole is not None:
        _bear(held, record, metric, size, outer, hole)
    return held


_STEELS, _STAINLESS = frozenset("123458"), frozenset({"50", "70", "80", "100"})


def stainless(record: Fastener) -> bool:
    """Whether the class a record names is one of stainless steel."""
    named = record.property_class.lower()
    if "stainless" in named:
        return True
    word = named.replace(" ", "").replace("-", "")
    return word[:1] == "a" and word[1:2] in _STEELS and word[2:] in _STAINLESS


def _friction(record: Fastener) -> tuple[float, float, float]:
    word = " ".join(record.condition.lower().replace("_", " ").split()) or "dry"
    known = CONDITIONS[stainless(record)]
    return known.get(word) or known[""]


def strength_of(name: str, diameter: float) -> tuple[float, float, float] | None:
    """(limit in tension, tensile strength, largest Vickers hardness or 0) of a class in one size; None if unknown."""
    word = name.lower().strip().removeprefix("class ").removeprefix("property class ")
    word = word.removeprefix("sae ").removeprefix("astm ")
    ranges = STRENGTHS.get(word)
    if ranges is None:
        if not any(character.isdigit() for character in word):
            return None
        # an unusual spelling is worth the reader of spellings; brass or nylon names no class at all
        from torquewright.joint.classes import strength

        found = strength(name, diameter)
        return (found.limit, found.tensile, float(found.hardness or 0)) if found is not None and found.firm else None
    for over, up_to, limit, tensile, vickers in ranges:
        if diameter <= up_to + 2.5e-11 and (over == 0.0 or diameter > over + 2.5e-11):
            return limit, tensile, vickers
    return None


def _strip(held: Reckoned, record: Fastener, pitch: float, flank: float, tensile: float | None) -> None:
    """VDI 2230-1 R11 for metric threads, FED-STD-H28/2B for unified ones, at the strongest of the published figures."""
    if record.engagement is None or is_nut(record):
        return
    d = held.diameter
    whole = record.thread is not None and record.thread.family == "unified"
    length = record.engagement.value
    minor = d - 1.25 * sqrt(3) / 2 * pitch
    loads = []
    name = plain_name(record.mating_material)
    shear = MATERIALS[name].get("shear") if name and name not in FAMILIES else None
    if shear is not None and shear[2] and not carried(record.mating_material):
        loads.append(strip_inside(d, pitch, length, shear[1], whole=whole))
    if tensile is not None:
        bolt = SHEAR_RATIO[stainless(record)] * tensile
        loads.append(_carrying(pitch, length, whole) * bolt * pi * minor * (pitch / 2 + (flank - minor) * _TAN30))
    held.strip = min(loads, default=None)


def strip_inside(d: float, pitch: float, length: float, shear: float, *, whole: bool = False) -> float:
    """The load that shears the tapped thread out, newtons: engaged ``length`` in metres, ``shear`` in pascals."""
    flank = d - 0.75 * sqrt(3) / 2 * pitch
    return _carrying(pitch, length, whole) * shear * pi * d * (pitch / 2 + (d - flank) * _TAN30)


def _carrying(pitch: float, length: float, whole: bool) -> float:
    """Turns that carry, with what is left of their strength once they bend; ``whole`` counts all of them."""
    return length / pitch if whole else 0.897 * max(0.0, length - 0.8 * pitch) / pitch


_TURNED_BY_A_FACE = frozenset({"hex", "hex socket", "hexalobular", "12-point"})


def _bear(held: Reckoned, record: Fastener, metric: bool, size: int, outer: float, hole: float) -> None:
    """VDI 2230-1 R10 and Table A9, at the highest of the published limits."""
    if record.drive is None or record.drive.kind not in _TURNED_BY_A_FACE:
        return  # the face of another head is not known
    name = plain_name(record.bearing_material)
    limit = MATERIALS[name].get("bearing") if name and name not in FAMILIES else None
    if limit is None or not limit[2] or carried(record.bearing_material):
        return
    if record.washer is not None:
        under = WASHERS.get(size) if metric and record.washer.kind == "flat" else None
        if under is None:
            return
        outer = max(outer, under)
    held.bearing = limit[1] * pi / 4 * (outer**2 - hole**2)
