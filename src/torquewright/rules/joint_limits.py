"""Is a torque possible and safe for the joint? The value in the record, the screw, its thread, the face below it."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Trace
from torquewright.joint.quick import BROKEN, LOOSE, STRONGEST
from torquewright.records import Fastener
from torquewright.rules.finding import Fact, Finding
from torquewright.rules.joint_loads import Loaded, cited, friction_words, loaded, sheet
from torquewright.rules.registry import detector
from torquewright.rules.softparts import plastic
from torquewright.rules.spot import fastener_place

# ---- the value in the record -------------------------------------------------------------------------------------

_FEEBLE = 0.12
"""Below this share of the proof load at ordinary friction, a figure in a small unit was probably meant in a large one;
common practice, no source."""
_ORDINARY = (0.3, 0.9)
_SMALL_FOR = {"lbf·in": ("lbf·ft", "N·m"), "kgf·cm": ("N·m", "kgf·m"), "cN·m": ("N·m",)}
"""Small units, and those their figure may have been meant in."""
_CLAMPING = frozenset({"", "screw", "bolt", "nut", "stud"})


@detector("record-value-implausible")
def record_value_implausible(trace: Trace) -> Iterator[Finding]:
    """The torque in a record cannot be meant for that thread and class, whatever the friction."""
    for held in loaded(trace):
        if not held.recorded:
            continue
        if impossible(held):
            yield _too_high(held)
        elif (form := too_low(held)) and held.figures.limit is not None:
            yield _too_low(held, held.figures.limit, form)


def impossible(held: Loaded) -> bool:
    """Whether even the roughest thread is pulled far beyond the proof load, that of class 12.9 where the record names
    no class."""
    figures = held.figures
    return held.least * figures.rough > BROKEN * (figures.limit or STRONGEST * figures.stress_area)


def too_low(held: Loaded) -> str:
    """The form that tells why a metal screw of a known class is not tight at all; "" where it may be."""
    figures, joint = held.figures, held.fastener
    if figures.limit is None or held.most * figures.per_torque > _FEEBLE * figures.limit:
        return ""
    if joint.kind not in _CLAMPING or not _plain(joint):
        return ""
    if held.most * figures.smooth < LOOSE * figures.limit:
        return "too-low"
    return "too-low-unit" if meant_instead(held, _SMALL_FOR.get(held.wanted.unit, ())) else ""


def _plain(joint: Fastener) -> bool:
    """Whether nothing soft is clamped that would ask for a low torque, and nothing turns on the joint."""
    return (
        not joint.seals and not joint.role and joint.lock is None and not plastic(joint) and joint.part_limit is None
        and (joint.washer is None or joint.washer.kind != "sealing")
    )  # fmt: skip


def meant_instead(held: Loaded, units: tuple[str, ...], least: float = _ORDINARY[0]) -> str:
    """The figure of the record in the first of ``units`` that would load the screw in the ordinary way; "" where none
    does."""
    from torquewright.base.units import UNITS  # only for a value that is out of all reason

    limit, unit = held.figures.limit, held.wanted.unit
    if limit is None or unit not in UNITS:
        return ""
    figure = held.torque / UNITS[unit].factor
    for other in units:
        if least <= figure * UNITS[other].factor * held.figures.per_torque / limit <= _ORDINARY[1]:
            return f"{figure:.4g} {other}"
    return ""


_LARGE_FOR = {"N·m": ("lbf·in", "kgf·cm", "cN·m"), "lbf·ft": ("lbf·in", "N·m"), "kgf·m": ("N·m", "lbf·ft", "kgf·cm"),
              "daN·m": ("N·m",), "lbf·in": ("kgf·cm",)}  # fmt: skip


def _too_high(held: Loaded) -> Finding:
    figures = held.figures
    limit = figures.limit or STRONGEST * figures.stress_area
    facts: dict[str, Fact] = {
        "torque": held.torque, "size": _size(held), "grade": held.fastener.property_class or "12.9", "limit": limit,
        "preload": held.torque * figures.rough, "share": held.torque * figures.rough / limit,
        "figures": cited(sheet(held).figures.get("proof_load_n")) or "ISO 898-1, 2013, Table 3",
    }  # fmt: skip
    meant = meant_instead(held, _LARGE_FOR.get(held.wanted.unit, ()), least=0.05)
    if meant:
        facts["meant"] = meant
    if figures.limit is None:
        facts["grade"] = "12.9"
        return _in_record(held, "likely", facts, "any-class")
    return _in_record(held, "likely", facts, "meant" if meant else "")


def _too_low(held: Loaded, limit: float, form: str) -> Finding:
    facts: dict[str, Fact] = {
        "torque": held.torque, "size": _size(held), "grade": held.fastener.property_class, "limit": limit,
        "preload": held.preload, "share": held.preload / limit,
        "figures": cited(sheet(held).figures.get("proof_load_n"), sheet(held).figures.get("nut_proof_load_n")),
    }  # fmt: skip
    if form == "too-low-unit":
        facts["meant"] = meant_instead(held, _SMALL_FOR[held.wanted.unit])
    else:
        facts["preload"] = held.torque * held.figures.smooth
        facts["share"] = held.torque * held.figures.smooth / limit
    return _in_record(held, "unstated", facts, form)


def _in_record(held: Loaded, certainty: str, facts: dict[str, Fact], form: str) -> Finding:
    key = held.fastener.id
    return Finding(
        "record-value-implausible", "likely" if certainty == "likely" else "unstated", None, key, facts,
        ("fastener", key, "tightening"), "catalogue",
        also=(fastener_place(key, "size"), ("procedure", held.pull.event.path)), form=form, unit=held.wanted.unit,
    )  # fmt: skip


def _size(held: Loaded) -> str:
    assert held.fastener.thread is not None
    return held.fastener.thread.text


# ---- what gives way first ----------------------------------------------------------------------------------------


PROOF_SLACK = 1.1
"""A screw is called stretched only this far beyond its proof load: the friction of real parts differs by more; common
practice, no source."""


def gives(held: Loaded) -> tuple[str, float] | None:
    """The weakest link that even the lowest torque of the band is too much for, at ordinary friction: its rule and the
    load it bears (N). None where all hold, or where the record's value is out of all reason and that is the one thing
    to say."""
    figures = held.figures
    preload = held.least * figures.per_torque * (1 - 1e-9)
    beyond = []
    if figures.limit is not None and preload > PROOF_SLACK * figures.limit:
        beyond.append(("proof-load-exceeded", figures.limit))
    if figures.strip is not None and preload > figures.strip:
        beyond.append(("thread-strips-first", figures.strip))
    if not beyond and figures.bearing is not None and preload > figures.bearing:
        beyond = [("bearing-face-crushed", figures.bearing)]
    if not beyond or (held.recorded and impossible(held)) or plastic(held.fastener):
        return None
    return min(beyond, key=lambda link: link[1])


def _weakest(trace: Trace, rule: str) -> Iterator[tuple[Loaded, float, dict[str, Fact]]]:
    links = trace.worked.get("weakest links")
    if links is None:
        judged = [(held, gives(held)) for held in loaded(trace)]
        links = trace.worked["weakest links"] = [(held, link) for held, link in judged if link is not None]
    for held, link in links:  # type: ignore[attr-defined]  # kept under this name by nobody else
        if link[0] == rule:
            facts: dict[str, Fact] = {
                "torque": held.torque, "preload": held.preload, "size": _size(held), "limit": link[1],
                "share": held.preload / link[1], "friction": friction_words(held),
                "reached": link[1] / held.figures.per_torque,
            }  # fmt: skip
            yield held, link[1], facts


@detector("proof-load-exceeded")
def proof_load_exceeded(trace: Trace) -> Iterator[Finding]:
    """A torque pulls a screw beyond its proof load, or takes it past yield by an angle though it goes back."""
    for held, _, facts in _weakest(trace, "proof-load-exceeded"):
        full = sheet(held)
        proof = full.figures.get("proof_load_n") or full.figures.get("nut_proof_load_n")
        facts |= {"grade": held.fastener.property_class, "figures": cited(proof)}
        form = "nut" if "nut_proof_load_n" in full.figures else ""
        yield held.found("proof-load-exceeded", facts, form, "property-class")
    yield from _turned(trace)


def _turned(trace: Trace) -> Iterator[Finding]:
    for held in loaded(trace):
        joint = held.fastener
        angles = joint.tightening.angles if joint.tightening is not None else ()
        if not angles or joint.stack is None or joint.single_use is not False or held.figures.limit is None:
            continue
        full = sheet(held)
        turned = full.figures.get("preload_by_angle_n")
        limit = next((held.load for held in full.limits if held.name == "yield while tightening"), None)
        if turned is None or turned.low is None or limit is None or turned.low <= limit or gives(held) is not None:
            continue
        facts: dict[str, Fact] = {
            "torque": held.torque, "angle": sum(angle.nominal for angle in angles), "preload": turned.low,
            "limit": limit, "size": _size(held), "grade": joint.property_class, "length": joint.stack.value,
            "figures": cited(turned, full.figures.get("proof_load_n")),
        }  # fmt: skip
        yield held.found("proof-load-exceeded", facts, "turned", "reuse", "stack")


@detector("thread-strips-first")
def thread_strips_first(trace: Trace) -> Iterator[Finding]:
    """The thread lets go before the torque is reached."""
    for held, load, facts in _weakest(trace, "thread-strips-first"):
        joint = held.fastener
        full = sheet(held)
        inside = full.figures.get("strip_load_internal_n")
        tapped = inside is not None and inside.high is not None and abs(inside.high - load) < 1e-4 * load
        facts |= {
            "length": joint.engagement.value if joint.engagement is not None else 0.0,
            "material": joint.mating_material if tapped else joint.property_class,
            "figures": cited(inside if tapped else full.figures["strip_load_external_n"]),
        }  # fmt: skip
        needed = full.figures.get("engagement_needed_mm")
        if tapped and needed is not None:
            facts["needed"] = needed.value / 1e3
        form = "screw" if not tapped else "" if needed is not None else "no-length"
        yield held.found("thread-strips-first", facts, form, "engagement", "mating-material")


@detector("bearing-face-crushed")
def bearing_face_crushed(trace: Trace) -> Iterator[Finding]:
    """The face under the head gives way under the preload, by every published limit for its material."""
    for held, _, facts in _weakest(trace, "bearing-face-crushed"):
        joint = held.fastener
        full = sheet(held)
        area = full["bearing_area_mm2"] / 1e6
        facts |= {
            "pressure": held.preload / area, "allowed": (held.figures.bearing or 0.0) / area,
            "material": joint.bearing_material, "area": full["bearing_area_mm2"],
            "figures": cited(full.figures["bearing_limit_mpa"]),
        }  # fmt: skip
        form = "washer" if joint.washer is not None else ""
        yield held.found("bearing-face-crushed", facts, form, "bearing-material")
