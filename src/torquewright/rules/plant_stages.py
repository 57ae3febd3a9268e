"""Plants stages out of order or left out, and turns that are missing or wrong."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from attrs import evolve

from torquewright.bench import Pull, Trace, play
from torquewright.records import LOOSE, Angle, Catalogue, Procedure, Tightening, Torque
from torquewright.rules.beside import record_parts
from torquewright.rules.demands import told, with_torque
from torquewright.rules.editing import change, drop
from torquewright.rules.fits import fit, printed
from torquewright.rules.pulls import Sequence, sequences, torque_of
from torquewright.rules.registry import Planted, planter
from torquewright.rules.slips import also_of
from torquewright.rules.softparts import overload

# ---- order -------------------------------------------------------------------------------------------------------


@planter("wrong-stage-order")
def wrong_stage_order(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Exchanges two pulls that follow one another, or leaves an early one out."""
    seen: set[tuple[int, int]] = set()
    for sequence in sequences(play(procedure, catalogue)):
        for part in range(len(sequence.parts)):
            pulls = sequence.torques(part)
            for first, second in pairwise(pulls):
                key = first.event.order, first.part
                if key in seen or min(first.event.step, second.event.step) < 0:
                    continue
                seen.add(key)
                yield from _exchanged(procedure, catalogue, sequence, first, second)
        yield from _one_left_out(procedure, catalogue, sequence, seen)


def _exchanged(
    procedure: Procedure, catalogue: Catalogue, sequence: Sequence, first: Pull, second: Pull
) -> Iterator[Planted]:
    low, high = torque_of(first.stage), torque_of(second.stage)
    if low is None or high is None or (low.target or 0.0) > 0.95 * (high.target or 0.0):
        return
    record = sequence.track.fastener.tightening
    if record is not None and (record.torque is None or fit(high, record.torque) != "fits"):
        return
    joint = sequence.track.fastener
    if overload(joint, high, first.event.tool) is not None:
        return
    one, two = first.event, second.event
    to = one.action.to
    if to is None or two.action.to is None:
        return
    if one is two:
        stages = list(to.stages)
        stages[first.part], stages[second.part] = stages[second.part], stages[first.part]
        spoiled = change(procedure, one.step, one.number, to=told(tuple(stages)))
    else:
        # Each figure keeps the wrench it was pulled with.
        spoiled = change(
            procedure, one.step, one.number, to=_taken(first, high, also_of(second)), tool=two.action.tool
        )
        spoiled = change(
            spoiled, two.step, two.number, to=_taken(second, low, also_of(first)), tool=one.action.tool
        )
    changed = f"{printed(high)} ahead of {printed(low)}"
    yield Planted(spoiled, catalogue, two.step, joint.id, changed)


def _taken(pull: Pull, torque: Torque, also: tuple[Torque, ...]) -> Tightening | None:
    """The demand of ``pull`` with another torque, and the further units of that torque where it stands alone."""
    held = pull.event.action.to
    if held is None:
        return None
    new = with_torque(held, pull.part, torque)
    if also and len(held.stages) == 1:
        words = f"{printed(torque)} ({', '.join(printed(other) for other in also)})"
        return evolve(new, text=words, kind="dual_unit", also=also)
    return new


def _one_left_out(
    procedure: Procedure, catalogue: Catalogue, sequence: Sequence, seen: set[tuple[int, int]]
) -> Iterator[Planted]:
    """Drops the first of as many pulls as the record has stages, where it is an action of its own."""
    record = sequence.track.fastener.tightening
    if record is None or record.added or not sequence.made or len(sequence.parts) != 1:
        return
    pulls, wanted = sequence.torques(0), record_parts(record)
    if len(wanted) != 1 or len(pulls) != len(wanted[0][0]) or len(pulls) < 2:
        return
    first, second = pulls[0].event, pulls[1].event
    key = first.order, -1
    if key in seen or first.step < 0 or first is second or len(first.action.to.stages if first.action.to else ()) != 1:
        return
    if fit(torque_of(pulls[0].stage) or wanted[0][0][0], wanted[0][0][1]) == "fits" or first.action.washer is not None:
        return
    if (second.action.passes or 1) >= len(pulls):
        return
    seen.add(key)
    spoiled = drop(procedure, first.step, first.number)
    shift = len(procedure.steps) - len(spoiled.steps)
    told_torque = torque_of(pulls[0].stage)
    changed = f"no pass of {printed(told_torque)}" if told_torque is not None else "no first pass"
    # Where only the first pass says in which order to go round, the order goes with it.
    order = frozenset() if second.action.order else frozenset({"tightening-order-missing"})
    yield Planted(spoiled, catalogue, second.step - shift, sequence.track.fastener.id, changed, order)


# ---- turns -------------------------------------------------------------------------------------------------------


@planter("angle-stage-missing")
def angle_stage_missing(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Leaves the turn out, or makes it another one."""
    trace = play(procedure, catalogue)
    seen: set[int] = set()
    for sequence in sequences(trace):
        record = sequence.track.fastener.tightening
        if record is None or not sequence.made or not sequence.parts[-1]:
            continue
        turned = sequence.angles(len(sequence.parts) - 1)
        if not turned or turned[-1].event.order in seen or turned[-1].event.step < 0:
            continue
        seen.add(turned[-1].event.order)
        yield from _other_turn(procedure, catalogue, sequence, turned[-1])
        if len({pull.event.order for pull in turned}) == 1:
            yield from _no_turn(procedure, catalogue, trace, sequence, turned)


def _other_turn(procedure: Procedure, catalogue: Catalogue, sequence: Sequence, pull: Pull) -> Iterator[Planted]:
    event, stage = pull.event, pull.stage
    if stage is None or stage.angle is None or event.action.to is None or stage.angle.nominal == LOOSE:
        return
    wrong = Angle(stage.angle.nominal * (2 if stage.angle.nominal <= 90 else 0.5))
    stages = tuple(
        evolve(held, angle=wrong) if at == pull.part else held for at, held in enumerate(event.action.to.stages)
    )
    spoiled = change(procedure, event.step, event.number, to=told(stages))
    changed = f"{wrong.nominal:g}° for {stage.angle.nominal:g}°"
    yield Planted(spoiled, catalogue, event.step, sequence.track.fastener.id, changed)


def _no_turn(
    procedure: Procedure, catalogue: Catalogue, trace: Trace, sequence: Sequence, turned: list[Pull]
) -> Iterator[Planted]:
    event, to = turned[0].event, turned[0].event.action.to
    left = [pull for pull in sequence.parts[-1] if pull not in turned]
    if to is None or not left or left[-1].event.step < 0 or left[-1].event.order > event.order:
        return
    stages = tuple(stage for stage in to.stages if stage.angle is None)
    if stages:
        spoiled = change(procedure, event.step, event.number, to=told(stages))
    else:
        spoiled = drop(procedure, event.step, event.number)
    changed = f"no turn of {sum(pull.stage.angle.nominal for pull in turned if pull.stage and pull.stage.angle):g}°"
    yield Planted(spoiled, catalogue, left[-1].event.step, sequence.track.fastener.id, changed)
