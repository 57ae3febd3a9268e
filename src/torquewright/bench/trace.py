"""What playing a procedure through leaves behind, and the questions rules ask of it."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from torquewright.bench.state import CLOSED, Event, JointTrack, Lot, Run, SealTrack
from torquewright.records import Catalogue, Fastener, Procedure

if TYPE_CHECKING:  # the reader of sentences is not loaded for a procedure in TOML
    from torquewright.reading.kept import ReadDraft


class Running(NamedTuple):
    """The machine was started or run by ``event`` while ``open_joints`` (id, state) were not closed."""

    event: Event
    open_joints: tuple[tuple[str, str], ...]


class Trace:
    """The whole job as played. ``joints`` and ``seals`` hold only what the procedure touched, by id.

    ``events`` are all actions that were played, in order; ``forbidden`` those the text says not to do and
    ``mentioned`` those it only speaks of. ``running`` are the starts of the machine. ``worked`` keeps what several
    rules ask for, under a name, so that it is worked out once. ``draft`` holds the sentences the procedure was read
    from, for the rules on writing; None for TOML.
    """

    __slots__ = (
        "catalogue", "draft", "events", "forbidden", "joints", "mentioned", "procedure", "running", "seals", "worked",
    )  # fmt: skip

    def __init__(self, procedure: Procedure, catalogue: Catalogue, draft: ReadDraft | None = None) -> None:
        self.procedure = procedure
        self.catalogue = catalogue
        self.draft = draft
        self.events: list[Event] = []
        self.forbidden: list[Event] = []
        self.mentioned: list[Event] = []
        self.joints: dict[str, JointTrack] = {}
        self.seals: dict[str, SealTrack] = {}
        self.running: list[Running] = []
        self.worked: dict[str, object] = {}

    def of(self, *verbs: str) -> list[Event]:
        """The events with one of ``verbs``, in order."""
        return [event for event in self.events if event.verb in verbs]

    def open_joints(self) -> tuple[tuple[str, str], ...]:
        """(id, state) of each touched joint that has a position not closed right now."""
        return tuple(
            (key, lot.state)
            for key, track in self.joints.items()
            for lot in track.lots
            if lot.state not in CLOSED and not by_hand_is_final(track.fastener, lot)
        )

    def label(self, step: int | None) -> str:
        """What the document calls the step with this index; "" for none."""
        if step is None or not 0 <= step < len(self.procedure.steps):
            return ""
        return self.procedure.steps[step].label


SHUT_BY_HAND = ("cap", "knob", "wing nut", "wingnut", "wing screw", "thumbscrew", "clip", "dipstick")
"""Endings of names that are closed by hand where nobody recorded them."""
_FILLED_THROUGH = ("filler cap", "radiator cap", "tank cap", "dust cap", "wing nut", "thumbscrew", "dipstick")
"""Endings of names that are closed by hand although a record says no torque: no bearing cap is among them."""


def by_hand_is_final(fastener: Fastener, lot: Lot) -> bool:
    """Whether the record, or the kind of thing, calls hand-tight the final state, and the lot has come that far."""
    tightening = fastener.tightening
    unsaid = tightening is None and fastener.name.lower().endswith(_FILLED_THROUGH)
    if not unsaid and (tightening is None or tightening.kind != "hand_tight"):
        return False
    return lot.run.started is not None or lot.run.seated is not None or lot.state in CLOSED


def last_torque(run: Run) -> tuple[Event, float] | None:
    """The event and target (N·m) of the last pull of a run that states a torque with a unit."""
    for pull in reversed(run.pulls):
        if pull.stage is not None and pull.stage.torque is not None and pull.stage.torque.unit:
            target = pull.stage.torque.target
            if target is not None:
                return pull.event, target
    return None
