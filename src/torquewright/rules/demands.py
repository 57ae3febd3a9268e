"""Builds demanded tightenings for planted faults, worded as a step would print them."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from torquewright.base.units import UNITS
from torquewright.bench import Pull, Trace
from torquewright.notation.writing import notation
from torquewright.records import Catalogue, Procedure, Stage, Tightening, Torque
from torquewright.records.tightening import Kind
from torquewright.rules.beside import record_parts
from torquewright.rules.editing import change
from torquewright.rules.pulls import Sequence, sequences, torque_of
from torquewright.rules.softparts import overload, plastic
from torquewright.rules.tools import reach


def figure(value: float, unit: str, places: int | None = None) -> Torque:
    """A torque (N·m) as it would be printed in ``unit``: three figures, or ``places`` after the point."""
    factor = UNITS[unit].factor
    number = value / factor
    if places is None:
        places = 0 if number >= 20 else 1 if number >= 2 else 2
    return Torque(round(number, places) * factor, None, None, unit, 0.5 * 10.0**-places * factor)


def told(stages: tuple[Stage, ...]) -> Tightening:
    """Stages in a row: ``12 N·m, then 24 N·m``, ``30 N·m + 45°``."""
    angles = sum(stage.angle is not None for stage in stages)
    kind: Kind = "stage_angle"
    if not angles:
        kind = "stage" if len(stages) > 1 else "single"
    elif angles == len(stages):
        kind = "angle_only"
    held = Tightening("", kind, stages)
    return evolve(held, text=notation(held))


def with_torque(to: Tightening, part: int, torque: Torque) -> Tightening:
    """``to`` with another torque in one of its stages; a second unit beside it is left out."""
    stages = tuple(evolve(stage, torque=torque) if at == part else stage for at, stage in enumerate(to.stages))
    return told(stages)


class Target:
    """A pull of a sound procedure whose figure can be exchanged. ``wanted`` is the record's torque it stands for,
    ``others`` all torques of the record between the same back-offs, ``before`` and ``after`` the torques pulled
    ahead of it and behind it there; ``last`` is true for the last torque of the joint."""

    __slots__ = ("after", "before", "last", "others", "pull", "sequence", "torque", "wanted")

    def __init__(self, sequence: Sequence, pull: Pull, torque: Torque, wanted: Torque, others: list[Torque]) -> None:
        self.sequence = sequence
        self.pull = pull
        self.torque = torque
        self.wanted = wanted
        self.others = others
        self.before: Torque | None = None
        self.after: Torque | None = None
        self.last = False

    @property
    def joint(self) -> str:
        return self.sequence.track.fastener.id

    def planted(self, procedure: Procedure, torque: Torque) -> Procedure:
        """The procedure with this pull made to ``torque``."""
        event = self.pull.event
        assert event.action.to is not None
        return change(procedure, event.step, event.number, to=with_torque(event.action.to, self.pull.part, torque))

    def reached(self, catalogue: Catalogue, torque: Torque) -> bool:
        """Whether the tool named for the pull, or one that is listed, can be set to ``torque``."""
        tool = self.pull.event.tool
        if tool is not None and tool.high is not None:
            return reach(torque, tool) == ""
        listed = [tool for tool in catalogue.tools or () if tool.high is not None]
        return not listed or any(reach(torque, tool) == "" for tool in listed)

    def softened(self, torque: Torque) -> bool:
        """Whether ``torque`` is too much for the weakest part, which is a fault of its own."""
        joint = self.sequence.track.fastener
        if overload(joint, torque, self.pull.event.tool) is not None:
            return True
        high = self.wanted.band[1]
        return bool(plastic(joint)) and high is not None and (torque.nominal or 0.0) > high

    def in_order(self, torque: Torque) -> bool:
        """Whether the pulls still rise with ``torque`` in this place."""
        value = torque.nominal or 0.0
        before = self.before.target if self.before is not None else None
        after = self.after.target if self.after is not None else None
        return (before is None or value > before * 1.02) and (after is None or value < after * 0.98)


def targets(trace: Trace) -> Iterator[Target]:
    """The pulls whose figures can be spoiled: each stands for one torque of its record, one for one in order."""
    seen: set[tuple[int, int]] = set()
    for sequence in sequences(trace):
        record = sequence.track.fastener.tightening
        if record is None or record.added or record.kind == "hand_tight":
            continue
        wanted = record_parts(record)
        if len(wanted) != len(sequence.parts):
            continue
        for part, (records, _) in enumerate(wanted):
            pulls = sequence.torques(part)
            if len(pulls) != len(records):
                continue
            for at, pull in enumerate(pulls):
                torque = torque_of(pull.stage)
                key = pull.event.order, pull.part
                if torque is None or pull.event.step < 0 or pull.event.action.setting is not None or key in seen:
                    continue
                seen.add(key)
                target = Target(sequence, pull, torque, records[at], records)
                target.before = torque_of(pulls[at - 1].stage) if at else None
                target.after = torque_of(pulls[at + 1].stage) if at + 1 < len(pulls) else None
                target.last = at == len(pulls) - 1 and part == len(wanted) - 1
                yield target
