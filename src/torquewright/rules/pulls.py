"""The pulls on a joint, set in order: what was pulled from the first turn to the last, between its back-offs.

Worked out once for a trace, because several rules ask for it.
"""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Event, JointTrack, Pull, Run, Trace
from torquewright.records import Stage, Torque


class Sequence:
    """One making of a joint. ``parts`` hold its pulls to a torque or through an angle, a new part after each
    back-off; ``checks`` are later checks of torque, ``asides`` pulls made only under a condition. ``made`` is true
    when the joint was opened or put together in this job, ``backed_off`` lists the events that loosened it between
    pulls and ``turned_back`` those that did so under a condition."""

    __slots__ = ("asides", "backed_off", "checks", "made", "parts", "track", "turned_back")

    def __init__(self, track: JointTrack, made: bool) -> None:
        self.track = track
        self.made = made
        self.parts: list[list[Pull]] = [[]]
        self.checks: list[Pull] = []
        self.asides: list[Pull] = []
        self.backed_off: list[Event] = []
        self.turned_back: list[Event] = []

    def add(self, run: Run) -> None:
        """Take in the pulls of a run."""
        for pull in run.pulls:
            event, stage = pull.event, pull.stage
            if event.verb == "back_off" or (stage is not None and stage.angle is not None and stage.angle.nominal < 0):
                if event.conditional:
                    self.turned_back.append(event)
                elif not self.backed_off or self.backed_off[-1] is not event or self.parts[-1]:
                    self.break_off(event)
                continue
            if stage is None or (torque_of(stage) is None and stage.angle is None):
                continue
            if event.conditional:
                self.asides.append(pull)
            elif event.verb == "retighten":
                self.checks.append(pull)
            else:
                self.parts[-1].append(pull)

    def break_off(self, event: Event) -> None:
        """The joint was loosened on purpose, to be pulled again."""
        self.backed_off.append(event)
        self.parts.append([])

    @property
    def key(self) -> tuple[tuple[int, int], ...]:
        """The same for two sequences with the same pulls."""
        return tuple(place(pull) for part in self.parts for pull in part) + tuple(place(pull) for pull in self.checks)

    def shares(self, other: Sequence) -> bool:
        """Whether both have a pull in common: the same making of the joint, seen on other positions."""
        mine = {place(pull) for part in self.parts for pull in part}
        return any(place(pull) in mine for part in other.parts for pull in part)

    def torques(self, part: int) -> list[Pull]:
        """The pulls to a torque of one part."""
        return [pull for pull in self.parts[part] if pull.stage is not None and pull.stage.torque is not None]

    def angles(self, part: int) -> list[Pull]:
        """The pulls through an angle of one part."""
        return [pull for pull in self.parts[part] if pull.stage is not None and pull.stage.angle is not None]


def place(pull: Pull) -> tuple[int, int]:
    """Where a pull stands in the job; the same for every position it was made on."""
    return pull.event.order, pull.part


def torque_of(stage: Stage | None) -> Torque | None:
    """The torque of a stage when it has one with a unit."""
    return stage.torque if stage is not None and stage.torque is not None and stage.torque.unit else None


def sequences(trace: Trace) -> list[Sequence]:
    """Every making of every joint that was pulled on; positions with the same pulls are given once."""
    held = trace.worked.get("sequences")
    if held is None:
        held = trace.worked["sequences"] = [found for track in trace.joints.values() for found in _of_track(track)]
    return held  # type: ignore[return-value]  # kept under this name by nobody else


def _of_track(track: JointTrack) -> Iterator[Sequence]:
    seen: set[tuple[tuple[int, int], ...]] = set()
    for lot in track.lots:
        for sequence in _of_runs([*lot.runs, lot.run], track):
            key = sequence.key
            if key not in seen:
                seen.add(key)
                yield sequence


def _of_runs(runs: list[Run], track: JointTrack) -> list[Sequence]:
    found: list[Sequence] = []
    for run in runs:
        if not run.pulls:
            continue
        opened = run.opened
        if found and opened is not None and opened.verb == "loosen" and run.removed is None:
            # Loosened and pulled again without coming out: a back-off by another name.
            found[-1].break_off(opened)
        else:
            made = opened is not None or run.fitted is not None or run.started is not None
            found.append(Sequence(track, made))
        found[-1].add(run)
    return found


def value_path(pull: Pull) -> tuple[str | int, ...]:
    """Where the figure of a pull stands in its procedure."""
    return (*pull.event.path, "by" if pull.event.verb == "tighten_angle" else "to")
