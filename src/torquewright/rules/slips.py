"""What can be wrong with a pull: its figure, or its place among the stages."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple

from torquewright.bench import JointTrack, Pull
from torquewright.records import Torque
from torquewright.rules.fits import Fit, Misread, misread
from torquewright.rules.pulls import Sequence, place, torque_of
from torquewright.rules.softparts import Overload

Kind = Literal["off", "near", "unit", "twelve", "soft", "by hand", "drag"]
Disorder = Literal["falls", "left out", "last left out", "back-off missing", "ends loose", "extra turn"]


class Slip(NamedTuple):
    """A pull whose figure is wrong. ``wanted`` is the record's figure, ``stage`` its place among the record's
    torques (-1: the last), ``side`` where the figure lies; ``misread`` and ``overload`` are the cause, if known."""

    kind: Kind
    track: JointTrack
    pull: Pull
    torque: Torque
    wanted: Torque | None
    stage: int = -1
    side: Fit = "fits"
    misread: Misread | None = None
    overload: Overload | None = None


class Muddle(NamedTuple):
    """Stages that do not follow the record's order. ``pull`` is where it shows, ``before`` the torque that was
    pulled ahead of it and ``wanted`` the record's stage that is concerned, as far as there are such."""

    form: Disorder
    sequence: Sequence
    pull: Pull
    before: Torque | None = None
    wanted: Torque | None = None


class Found:
    """What is found on one sequence. ``verdicts`` has an entry for every torque that was looked at."""

    __slots__ = ("muddles", "sequence", "verdicts")

    def __init__(self, sequence: Sequence) -> None:
        self.sequence = sequence
        self.verdicts: dict[tuple[int, int], Slip | None] = {}
        self.muddles: list[Muddle] = []

    def clear(self, pull: Pull) -> None:
        self.verdicts[place(pull)] = None

    def slip(self, pull: Pull, record: Torque, stage: int, side: Fit) -> None:
        torque = torque_of(pull.stage)
        if torque is None:
            return
        if side == "fits":  # by rounding alone
            side = "above" if (torque.target or 0.0) > (record.target or 0.0) else "below"
        kind: Kind = "near" if side == "near" else "off"
        cause = misread(torque, record, also_of(pull)) if kind == "off" else None
        if cause is not None:
            kind = "twelve" if cause.twelve else "unit"
        self.verdicts[place(pull)] = Slip(kind, self.sequence.track, pull, torque, record, stage, side, cause)

    def mark(self, kind: Kind, pull: Pull, torque: Torque, record: Torque | None) -> None:
        self.verdicts[place(pull)] = Slip(kind, self.sequence.track, pull, torque, record)


def also_of(pull: Pull) -> tuple[Torque, ...]:
    """The same torque in the further units of its statement."""
    to = pull.event.action.to
    return to.also if to is not None and pull.stage is not None and to.torque == pull.stage.torque else ()


def all_torques(sequence: Sequence) -> Iterator[Pull]:
    for part in range(len(sequence.parts)):
        yield from sequence.torques(part)
    for pull in (*sequence.checks, *sequence.asides):
        if torque_of(pull.stage) is not None:
            yield pull
