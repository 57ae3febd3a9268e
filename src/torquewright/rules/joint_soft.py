"""A plastic part whose record states no limit of its own: whether its thread bears the torque, by computation."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Trace
from torquewright.joint.described import carried, plain_name
from torquewright.joint.digest import MATERIALS
from torquewright.joint.quick import strip_inside
from torquewright.rules.finding import Fact, Finding
from torquewright.rules.joint_loads import Loaded, loaded
from torquewright.rules.softparts import plastic
from torquewright.rules.spot import fastener_place

_PLASTICS = frozenset({"plastic", "nylon", "glass-filled nylon"})
_DEEP = 2.5
"""Engaged length in screw diameters that no thread in plastic goes far beyond (textbook table of engaged lengths)."""


def soft_parts(trace: Trace) -> Iterator[Finding]:
    """Joints whose plastic thread strips at the torque, even at high friction and by the highest published figure.

    Reckoned at the highest friction, which pulls least. Figures from memory only bring the question up.
    """
    for held in loaded(trace):
        joint = held.fastener
        name = plain_name(joint.mating_material)
        if name not in _PLASTICS or joint.part_limit is not None or joint.thread is None or joint.thread.pitch is None:
            continue
        if not plastic(joint) or carried(joint.mating_material):
            continue
        strength = MATERIALS[name]["shear"]
        diameter = held.figures.diameter
        length = joint.engagement.value if joint.engagement is not None else _DEEP * diameter
        whole = joint.thread.family == "unified"
        load = strip_inside(diameter, joint.thread.pitch, length, strength[1], whole=whole)
        preload = held.torque * held.figures.rough
        if preload > load:
            yield _found(held, preload, load, strength, length)


def _found(held: Loaded, preload: float, load: float, strength: tuple[float, float, bool], length: float) -> Finding:
    joint = held.fastener
    facts: dict[str, Fact] = {
        "torque": held.torque, "preload": preload, "load": load, "shear": strength[1], "length": length,
        "limit": load / held.figures.rough, "material": joint.mating_material,
    }  # fmt: skip
    form = "computed" if joint.engagement is not None else "computed-deep"
    if not strength[2]:
        form = "from-memory"
    found = held.found("soft-part-overload", facts, form)
    return found._replace(
        certainty="likely" if strength[2] else "unstated",
        also=(*found.also, fastener_place(joint.id, "mating-material")),
    )
