"""From a record to a joint: what a catalogue says of a fastener, in the form the computation takes."""

from __future__ import annotations

from torquewright.joint.answer import Joint
from torquewright.joint.described import head_of, is_nut, nut_class
from torquewright.joint.preload import Span
from torquewright.joint.threads import of_thread
from torquewright.records.parts import Fastener
from torquewright.records.tightening import LOOSE, Tightening


def torque_span(tightening: Tightening | None) -> Span | None:
    """The torque a tightening text asks for, N·m, with its limits; None where it states none with a unit."""
    torque = tightening.torque if tightening else None
    if torque is None or torque.unit == "" or torque.target is None:
        return None
    low, high = torque.band
    target = torque.target
    return Span(target if low is None else low, target, target if high is None else high)


def angle_of(tightening: Tightening | None) -> float | None:
    """All the turning a tightening text asks for after its last torque, degrees; None where it asks for none."""
    if tightening is None or not tightening.angles:
        return None
    turned = 0.0
    for stage in tightening.stages:
        if stage.torque is not None:
            turned = 0.0
        if stage.angle is not None:
            turned = 0.0 if stage.angle.nominal == LOOSE else turned + stage.angle.nominal
    return turned or None


def of_fastener(record: Fastener, tightening: Tightening | None = None) -> Joint | None:
    """The joint a record describes, tightened as ``tightening`` says, else as the record does.

    None where its thread is no metric or unified thread with a known pitch: nothing can be computed then.
    """
    thread = of_thread(record.thread)
    if thread is None:
        return None
    asked = tightening or record.tightening
    nut = nut_class(record)
    return Joint(
        thread,
        property_class="" if nut else record.property_class,
        torque=torque_span(asked),
        condition=record.condition,
        head=head_of(record),
        washer=record.washer is not None and record.washer.kind == "flat",
        mating_material="" if is_nut(record) else record.mating_material,
        bearing_material=record.bearing_material,
        engagement=record.engagement.value if record.engagement else None,
        nut_class=nut,
        length=record.stack.value if record.stack else None,
        angle=angle_of(asked),
        drag=record.prevailing.value if record.prevailing else None,
    )
