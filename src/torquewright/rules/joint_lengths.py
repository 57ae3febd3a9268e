"""Is the screw long enough to hold, and short enough for its hole?"""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Event, JointTrack, Trace
from torquewright.joint.described import carried, is_nut, plain_name
from torquewright.records import Amount, Fastener
from torquewright.rules.finding import Fact, Finding
from torquewright.rules.registry import detector
from torquewright.rules.spot import at, fastener_place

_LEAST = {
    "steel": 1.0, "stainless steel": 1.0, "titanium": 1.0, "ductile cast iron": 1.0, "grey cast iron": 1.25,
    "brass": 1.3, "copper": 1.3, "aluminium": 1.5, "aluminium cast": 1.5, "aluminium die-cast": 1.5, "magnesium": 1.5,
    "zinc": 1.5,
}  # fmt: skip
"""Engaged length in screw diameters below which the tapped material is held too weak: the lowest of the published
rules (US Army TB 43-0218 paragraph 7a: one, and one and a half in softer metal; the trade's rule for steel and cast
iron 1.25; textbook figure for copper alloys 1.3). The same figures stand in specs/tables/engagement-rules.toml."""
_LOW_NUTS = frozenset({"04", "05"})
_TALLEST = 0.97  # height of a full nut over its diameter, at most (ISO 4032)


def fitted_length(track: JointTrack) -> tuple[Amount | None, Event | None]:
    """The length of the pieces: as recorded, else as the step that fits them says."""
    if track.fastener.length is not None:
        return track.fastener.length, None
    for event in track.events:
        if event.action.length is not None and not event.action.of and not event.conditional:
            return event.action.length, event
    return None, None


def engaged(track: JointTrack) -> tuple[float, bool] | None:
    """The engaged length in metres: what the screw reaches beyond what it clamps (True), else as the record states it
    (False)."""
    joint = track.fastener
    length, _ = fitted_length(track)
    if length is not None and joint.stack is not None:
        return length.value - joint.stack.value, True
    if joint.engagement is not None:
        return joint.engagement.value, False
    return None


def _ends(amount: Amount) -> tuple[float, float]:
    low = amount.value if amount.low is None else amount.low
    return low, amount.value if amount.high is None else amount.high


def _closed(track: JointTrack) -> Event | None:
    """The last pull of a joint that is tightened in this job."""
    pulls = [run.last for _, run in track.runs() if run.last is not None]
    return max(pulls, key=lambda event: event.order, default=None)


def _told(
    rule: str, certainty: str, track: JointTrack, event: Event, facts: dict[str, Fact], form: str, *keys: str
) -> Finding:
    joint = track.fastener
    _, said = fitted_length(track)
    at_key = "length" if said is not None else ""
    return at(
        rule, "likely" if certainty == "likely" else "unstated", said or event, joint.id, facts, form, at_key,
        tuple(fastener_place(joint.id, key) for key in keys),
    )  # fmt: skip


@detector("too-few-threads-engaged")
def too_few_threads_engaged(trace: Trace) -> Iterator[Finding]:
    """A screw reaches less far into its thread than the record or the material asks for, or ends inside its nut."""
    for track in trace.joints.values():
        joint = track.fastener
        if joint.stack is None or joint.thread is None or joint.thread.diameter is None:
            continue
        event = _closed(track)
        if event is None:
            continue
        if is_nut(joint):
            yield from _short_of_nut(track, event)
            continue
        held = engaged(track)
        if held is None or not held[1]:
            continue
        length = held[0]
        facts = _facts(track, length)
        if joint.engagement is not None:
            wanted = _ends(joint.engagement)[0]
            if length < wanted - joint.engagement.half - 1e-9:
                facts["wanted"] = wanted
                yield _told("too-few-threads-engaged", "likely", track, event, facts, "", "engagement", "stack")
            continue
        least = least_engaged(joint)
        if least is not None and length < least - 1e-9:
            facts |= {"wanted": least, "ratio": least / joint.thread.diameter, "material": joint.mating_material}
            yield _told("too-few-threads-engaged", "likely", track, event, facts, "rule", "mating-material", "stack")


def _facts(track: JointTrack, engaged_length: float) -> dict[str, Fact]:
    length, _ = fitted_length(track)
    stack = track.fastener.stack
    assert length is not None
    assert stack is not None
    thread = track.fastener.thread
    return {
        "length": length.value, "stack": stack.value, "engaged": max(engaged_length, 0.0),
        "size": thread.text if thread is not None else "",
    }  # fmt: skip


def least_engaged(joint: Fastener) -> float | None:
    """The least engaged length for the material the screw goes into, metres; None where no rule decides."""
    name = plain_name(joint.mating_material)
    if name not in _LEAST or carried(joint.mating_material) or joint.thread is None or joint.thread.diameter is None:
        return None
    return _LEAST[name] * joint.thread.diameter


def _short_of_nut(track: JointTrack, event: Event) -> Iterator[Finding]:
    """The bolt or stud of a nut must reach through all of it: FAA AC 43.13-1B 7-37."""
    joint = track.fastener
    thread = joint.thread
    length, _ = fitted_length(track)
    if thread is None or thread.diameter is None or thread.pitch is None or length is None or joint.stack is None:
        return
    if joint.property_class.strip() in _LOW_NUTS or thread.family != "metric" or joint.kind not in ("nut", "locknut"):
        return
    reach = length.value - joint.stack.value
    if reach >= _TALLEST * thread.diameter:
        return  # longer than any full nut is tall: nothing to look up
    height = _nut_height(thread.diameter)
    if height is None or reach >= height - 1e-9:
        return
    facts: dict[str, Fact] = {
        "length": length.value, "stack": joint.stack.value, "wanted": height, "size": thread.text,
        "engaged": max(reach, 0.0),
    }  # fmt: skip
    yield _told("too-few-threads-engaged", "likely", track, event, facts, "nut", "length", "stack")


def _nut_height(diameter: float) -> float | None:
    """The height of a full nut, metres (ISO 4032)."""
    from torquewright.book.tables import table  # only for a nut whose bolt seems short

    row = table("hex-nuts").first(thread=f"M{diameter * 1e3:g}")
    return row.number("height") / 1e3 if row is not None else None


@detector("bolt-bottoms-in-blind-hole")
def bolt_bottoms_in_blind_hole(trace: Trace) -> Iterator[Finding]:
    """A screw reaches the end of the full thread in a blind hole before, or just as, it clamps."""
    for track in trace.joints.values():
        joint = track.fastener
        if joint.hole_depth is None or is_nut(joint):
            continue
        event, held = _closed(track), engaged(track)
        if event is None or held is None:
            continue
        depth = joint.hole_depth
        length, derived = held
        spare = _ends(depth)[0] - length
        pitch = joint.thread.pitch if joint.thread is not None and joint.thread.pitch is not None else 0.0
        facts: dict[str, Fact] = {"engaged": length, "depth": depth.value, "spare": round(abs(spare), 9)}
        if derived:
            facts |= _facts(track, length)
        keys: tuple[str, ...] = ("length", "stack", "hole-depth") if derived else ("engagement", "hole-depth")
        if fitted_length(track)[1] is not None:
            keys = keys[1:]
        form = "" if derived else "stated"
        if spare < -depth.half - 1e-9:
            yield _told("bolt-bottoms-in-blind-hole", "likely", track, event, facts, form, *keys)
        elif derived and spare < pitch - 1e-9:
            facts["pitch"] = pitch
            yield _told("bolt-bottoms-in-blind-hole", "unstated", track, event, facts, "close", *keys)
