"""What the weakest clamped part takes, and whether a demanded torque can go beyond it."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from torquewright.records import Fastener, Tool, Torque
from torquewright.rules.fits import ends

_PLASTIC = (
    "plastic", "nylon", "polyamide", "polypropylene", "polycarbonate", "polyethylene", "polyester", "acetal", "acrylic",
    "glass-filled", "phenolic", "bakelite", "thermoplast", "resin",
)  # fmt: skip
_SHORT = frozenset({"pa", "pa6", "pa66", "pp", "pc", "pe", "pom", "abs", "pvc", "pmma", "ptfe", "pbt", "peek"})
_CARRIED = ("insert", "sleeve", "bush", "ferrule")  # metal that takes the load in the plastic's stead


class Overload(NamedTuple):
    """A torque beyond what a part takes. ``worst`` is the most the tool can give at that setting (N·m),
    ``deviation`` the share it was worked out with (0 when the figure itself is beyond ``limit``); ``assumed`` is
    true when that share comes from ISO 6789 and not from the tool's record."""

    limit: float
    worst: float
    deviation: float
    assumed: bool


def part_limit(joint: Fastener) -> Torque | None:
    """The most the weakest clamped part takes, as its record says; None where it says nothing."""
    torque = joint.part_limit.torque if joint.part_limit is not None else None
    return torque if torque is not None and torque.unit else None


def overload(joint: Fastener, torque: Torque, tool: Tool | None) -> Overload | None:
    """Whether ``torque``, pulled with ``tool`` (None where none is named), can exceed the joint's part limit."""
    stated = part_limit(joint)
    limit = ends(stated)[1] if stated is not None else 0.0
    if stated is None or not limit:
        return None
    top = ends(torque)[1]
    slack = 1e-9 * limit + (torque.half if torque.unit != stated.unit else 0.0)
    if top - slack > limit:
        return Overload(limit, top, 0.0, False)
    share, assumed = deviation(tool)
    worst = top * (1 + share)
    if share and worst - slack > limit:
        return Overload(limit, worst, share, assumed)
    return None


def deviation(tool: Tool | None) -> tuple[float, bool]:
    """The share by which a tool may be off its setting, and whether it is assumed.

    Assumed from ISO 6789-1:2017 (limits as in the 2003 edition; wrenches: one secondary source and memory,
    drivers: from memory): torque wrenches 4 %, 6 % where the scale ends at 10 N·m or below; torque drivers 6 %.
    """
    if tool is None:
        return 0.0, False
    if tool.deviation is not None:
        return tool.deviation, False
    if tool.high is None:
        return 0.0, False
    if tool.kind == "torque driver":
        return 0.06, True
    if tool.kind == "torque wrench":
        return (0.06 if tool.high <= 10.0 else 0.04), True
    return 0.0, False


def plastic(joint: Fastener) -> str:
    """The words that say the joint's thread or seat is plastic; "" where none do, or where metal carries the load."""
    for words in (joint.mating_material, joint.bearing_material, joint.property_class):
        if words and _plastic(words):
            return words
    return ""


@lru_cache(maxsize=512)  # a machine has few materials, and each is asked about again and again
def _plastic(words: str) -> bool:
    low = words.lower()
    named = any(word in low for word in _PLASTIC) or not _SHORT.isdisjoint(low.replace("-", " ").split())
    return named and not any(word in low for word in _CARRIED)
