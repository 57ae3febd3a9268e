"""Metals that do not bear each other, and hard screws that do not bear their plating."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Event, Trace
from torquewright.joint.described import plain_name
from torquewright.joint.quick import stainless, strength_of
from torquewright.records import Fastener
from torquewright.rules.finding import Certainty, Fact, Finding
from torquewright.rules.registry import detector
from torquewright.rules.spot import at, fastener_place

_BARRIERS = (
    "insulat", "seal", "paint", "lacquer", "organic", "ptfe", "rubber", "plastic", "nylon", "isolat", "barrier",
    "anti-seize", "antiseize", "grease", "wax", "paste", "varnish", "powder",
)  # fmt: skip
"""Words of a finish or a condition that keep two metals or the water between them apart."""
_PLATED = ("zinc", "cadmium", "plated", "galvan", "nickel", "chrome", "tin", "phosphat", "flake")


# ---- two metals --------------------------------------------------------------------------------------------------


@detector("galvanic-pair")
def galvanic_pair(trace: Trace) -> Iterator[Finding]:
    """Two metals too far apart touch in surroundings that are wet enough, with nothing between."""
    surroundings = trace.catalogue.surroundings
    if not surroundings:
        return
    for track in trace.joints.values():
        joint = track.fastener
        event = _put_together(track.events)
        own = metal_of(joint)
        if event is None or not own or _kept_apart(joint, track.events):
            continue
        for key, words in (("bearing-material", joint.bearing_material), ("mating-material", joint.mating_material)):
            name = plain_name(words)
            if not name or name == own or not _far_apart(own, name):
                continue
            found = _pair(joint, event, own, name, key, words, surroundings)
            if found is not None:
                yield found
                break


def metal_of(joint: Fastener) -> str:
    """The metal of a fastener itself, from its class; "" where it is plated, or nobody says."""
    finish = joint.finish.lower()
    if any(word in finish for word in _PLATED):
        return ""
    if stainless(joint):
        return "stainless steel"
    name = plain_name(joint.property_class)
    if name:
        return name
    diameter = joint.thread.diameter if joint.thread is not None else None
    return "steel" if strength_of(joint.property_class, diameter or 0.01) is not None else ""


# Groups of the anodic index whose members never differ by as much as the strictest limit (0.15 V): most joints are
# settled without a table. The index itself stands in specs/tables/galvanic-index.toml.
_ALIKE = {
    "steel": 1, "grey cast iron": 1, "ductile cast iron": 1, "aluminium": 1, "aluminium cast": 1,
    "aluminium die-cast": 1, "stainless steel": 2, "brass": 2, "copper": 3, "titanium": 3, "zinc": 4, "magnesium": 5,
    "cadmium": 1,
}  # fmt: skip


def _far_apart(one: str, other: str) -> bool:
    return one in _ALIKE and other in _ALIKE and _ALIKE[one] != _ALIKE[other]


def _kept_apart(joint: Fastener, events: list[Event]) -> bool:
    words = f"{joint.finish} {joint.condition}".lower()
    for event in events:
        if event.verb in ("lubricate", "seal", "install", "replace", "reuse") and not event.conditional:
            words += f" {event.action.with_what.lower()}"
            if event.verb == "seal":
                return True
    return any(word in words for word in _BARRIERS)


def _put_together(events: list[Event]) -> Event | None:
    return next((event for event in events if event.verb in ("install", "reuse", "replace", "tighten")), None)


def _pair(
    joint: Fastener, event: Event, own: str, other: str, key: str, words: str, surroundings: str
) -> Finding | None:
    from torquewright.joint.materials import galvanic_gap  # only two metals that are far apart

    gap = galvanic_gap(own, other)
    if gap is None:
        return None
    limit = {"climate-controlled": gap.dry, "indoors": gap.indoors}.get(surroundings, gap.damp)
    if gap.volts <= limit + 1e-9:
        return None
    facts: dict[str, Fact] = {
        "one": joint.property_class, "other": words, "gap": gap.volts, "limit": limit, "surroundings": surroundings,
        "eaten": joint.property_class if gap.eaten == own else words, "figures": gap.source.rsplit(" (", 1)[0],
    }  # fmt: skip
    # where it is dry most of the time, such a pair may stand for years: that is a question, not a verdict
    sure: Certainty = "unstated" if surroundings in ("climate-controlled", "indoors") else "likely"
    return at("galvanic-pair", sure, event, joint.id, facts, "", "", (
        fastener_place(joint.id, key), ("catalogue", ("machine", "surroundings")),
    ))  # fmt: skip


# ---- hard screws -------------------------------------------------------------------------------------------------

_ACID = ("acid", "vinegar", "rust remover", "pickl", "descaler")
_BAKED = ("baked", "de-embrittle", "bake")


@detector("plated-high-strength")
def plated_high_strength(trace: Trace) -> Iterator[Finding]:
    """A screw harder than 390 HV is electroplated without a word of baking, or a step puts it into acid."""
    for track in trace.joints.values():
        joint = track.fastener
        vickers = hardness(joint)
        if not vickers:
            continue
        facts: dict[str, Fact] = {"grade": joint.property_class, "hardness": vickers, "limit": 390.0}
        dipped = next((event for event in track.events if event.verb == "clean" and _acid(event)), None)
        if dipped is not None:
            told = dipped.action.with_what or dipped.action.tool
            yield at("plated-high-strength", "likely", dipped, joint.id, facts | {"product": told}, "acid", "with",
                     (fastener_place(joint.id, "property-class"),))  # fmt: skip
            continue
        event = _put_together(track.events)
        if event is None or any(word in joint.finish.lower() for word in _BAKED):
            continue
        from torquewright.joint.materials import electroplated  # only for the hardest screws

        if electroplated(joint.finish):
            yield at("plated-high-strength", "likely", event, joint.id, facts | {"finish": joint.finish}, "", "",
                     (fastener_place(joint.id, "finish"), fastener_place(joint.id, "property-class")))  # fmt: skip


def hardness(joint: Fastener) -> float:
    """The Vickers hardness a screw's class allows, where it is beyond 390 HV; else 0."""
    diameter = joint.thread.diameter if joint.thread is not None else None
    known = strength_of(joint.property_class, diameter or 0.01) if joint.property_class else None
    return known[2] if known is not None and known[2] > 390 else 0.0


def _acid(event: Event) -> bool:
    words = f"{event.action.with_what} {event.action.tool}".lower()
    return not event.conditional and any(word in words for word in _ACID)
