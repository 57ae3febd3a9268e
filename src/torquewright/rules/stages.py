"""Stages of a tightening: out of order or left out, and turns by angle that are missing, wrong or cannot be read."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Event, Pull, Trace
from torquewright.records import Angle, Tightening
from torquewright.rules.beside import record_parts
from torquewright.rules.castle import gives_play, slackened
from torquewright.rules.finding import Certainty, Fact, Finding
from torquewright.rules.judging import judge
from torquewright.rules.pulls import Sequence, sequences, value_path
from torquewright.rules.registry import detector
from torquewright.rules.spot import fastener_place

_FORMS = {
    "falls": "", "left out": "left-out", "last left out": "last-left-out", "back-off missing": "back-off-missing",
    "ends loose": "ends-loose", "extra turn": "extra-turn",
}  # fmt: skip


@detector("wrong-stage-order")
def wrong_stage_order(trace: Trace) -> Iterator[Finding]:
    """The stages of a tightening do not follow the record's, or fall with no back-off between them."""
    for muddle in judge(trace).muddles:
        pull, joint = muddle.pull, muddle.sequence.track.fastener
        if muddle.form == "ends loose" and (gives_play(joint) or slackened(muddle.sequence.track)):
            continue  # its play is given on purpose; turned back for the pin, it is another rule's
        facts: dict[str, Fact] = {}
        if muddle.before is not None:
            facts["before"] = muddle.before.target or 0.0
        if muddle.wanted is not None:
            facts["torque"] = muddle.wanted.target or 0.0
        if muddle.form == "extra turn" and pull.stage is not None and pull.stage.angle is not None:
            facts["angle"] = pull.stage.angle.nominal
        also = (fastener_place(joint.id, "tightening"),) if joint.tightening is not None else ()
        event = pull.event
        yield Finding(
            "wrong-stage-order", "certain", event.step if event.step >= 0 else None, joint.id, facts,
            value_path(pull) if pull.stage is not None else event.path, also=also, form=_FORMS[muddle.form],
            unit=event.tool.unit if event.tool is not None else "",
        )  # fmt: skip


@detector("angle-stage-missing")
def angle_stage_missing(trace: Trace) -> Iterator[Finding]:
    """The turn by angle that the record asks for is not done, is another one, or nothing can measure it."""
    told: set[tuple[int, str]] = set()
    held = sequences(trace)
    for sequence in held:
        record = sequence.track.fastener.tightening
        if record is None or not sequence.made:
            continue
        wanted = record_parts(record)
        for found in _turns(trace, sequence, record, bool(any(angles for _, angles in wanted))):
            event, form, certainty, pull, facts = found
            key = (event.order, form)
            if key in told or (form == "" and _others_turn(sequence, held)):
                continue
            told.add(key)
            yield Finding(
                "angle-stage-missing", certainty, event.step if event.step >= 0 else None,
                sequence.track.fastener.id, facts, value_path(pull) if pull is not None else event.path,
                also=(fastener_place(sequence.track.fastener.id, "tightening"),), form=form,
            )  # fmt: skip


_Found = tuple[Event, str, Certainty, Pull | None, dict[str, Fact]]


def _turns(trace: Trace, sequence: Sequence, record: Tightening, by_angle: bool) -> Iterator[_Found]:
    last = next((part for part in reversed(sequence.parts) if part), None)
    turned = [pull for part in range(len(sequence.parts)) for pull in sequence.angles(part)]
    if by_angle and last is not None:
        wanted = _last_angles(record)
        done = [pull for pull in turned if pull in last]
        if not done:
            yield last[-1].event, "", "certain", last[-1], {"angle": sum(angle.nominal for angle in wanted)}
        else:
            total = _total(done)
            if not _within(total, _sum(wanted)):
                pull = done[-1]
                facts: dict[str, Fact] = {"angle": _sum(wanted).nominal, "turned": total.nominal}
                yield pull.event, "other-angle", "certain", pull, facts
            elif record.kind == "stage_angle" and not _measurable(trace, sequence, done):
                pull = done[0]
                yield pull.event, "not-measured", "unstated", pull, {"angle": total.nominal}
    loosens = any(stage.angle is not None and stage.angle.nominal < 0 for stage in record.stages)
    if turned and not loosens:
        first = turned[0].event.order
        backs = [*sequence.turned_back, *(sequence.backed_off if not sequence.parts[-1] else ())]
        for event in backs:
            if event.order > first:
                yield event, "backed-to-angle", "certain", None, {"angle": _total(turned).nominal}


def _others_turn(sequence: Sequence, held: list[Sequence]) -> bool:
    """Whether other positions of the same making are turned: then it is a matter of numbers."""
    return any(
        other is not sequence and other.track is sequence.track and sequence.shares(other)
        and any(other.angles(part) for part in range(len(other.parts)))
        for other in held
    )  # fmt: skip


def _last_angles(record: Tightening) -> list[Angle]:
    """The turns of the last part of a record: those after its last loosening."""
    angles: list[Angle] = []
    for stage in record.stages:
        if stage.angle is None:
            continue
        if stage.angle.nominal < 0:
            angles = []
        else:
            angles.append(stage.angle)
    return angles


def _sum(angles: list[Angle]) -> Angle:
    """Several turns as one: 90° and 90° are 180°, their limits likewise."""
    low = sum(angle.nominal if angle.low is None else angle.low for angle in angles)
    high = sum(angle.nominal if angle.high is None else angle.high for angle in angles)
    return Angle(sum(angle.nominal for angle in angles), low, high)


def _total(pulls: list[Pull]) -> Angle:
    return _sum([pull.stage.angle for pull in pulls if pull.stage is not None and pull.stage.angle is not None])


def _within(done: Angle, wanted: Angle) -> bool:
    """Whether a turn, with its own limits, lies within the record's; half a degree is rounding."""
    low, high = wanted.low or 0.0, wanted.high or 0.0
    return (done.low or 0.0) >= low - 0.5 and (done.high or 0.0) <= high + 0.5


def _measurable(trace: Trace, sequence: Sequence, turned: list[Pull]) -> bool:
    """Whether a gauge is named or at hand, or a mark is made to read the turn by."""
    for pull in turned:
        if "angle" in pull.event.action.tool.lower() or "mark" in pull.event.action.note.lower():
            return True
        tool = pull.event.tool
        if tool is not None and _reads_angle(tool.kind, tool.name):
            return True
    if any(_reads_angle(tool.kind, tool.name) for tool in trace.catalogue.tools or ()):
        return True
    if any(_reads_angle(name) for name in trace.procedure.tools_named or ()):
        return True
    last = turned[-1].event.order
    return any(event.verb == "mark" and event.order < last for event in sequence.track.events)


def _reads_angle(*words: str) -> bool:
    return any("angle" in word.lower() or "protractor" in word.lower() or "degree" in word.lower() for word in words)
