"""Where a finding points: at an action of the procedure, or at a field of a record."""

from __future__ import annotations

from collections.abc import Mapping

from torquewright.base.document import Path
from torquewright.bench import Event, Lot, Run
from torquewright.rules.finding import Certainty, Fact, Finding


def at(
    rule: str,
    certainty: Certainty,
    event: Event,
    joint: str,
    facts: Mapping[str, Fact],
    form: str = "",
    key: str = "",
    also: tuple[tuple[str, Path], ...] = (),
) -> Finding:
    """A finding of ``rule`` at the action of ``event``, or at its ``key``. What is taken as done before the first
    step belongs to no step."""
    path = (*event.path, key) if key else event.path
    step = event.step if event.step >= 0 else None
    return Finding(rule, certainty, step, joint, dict(facts), path, also=also, form=form)


def fastener_place(joint: str, key: str) -> tuple[str, Path]:
    """A field of a fastener's record, as a second place."""
    return "catalogue", ("fastener", joint, key)


def seal_place(seal: str, key: str) -> tuple[str, Path]:
    """A field of a seal's record, as a second place."""
    return "catalogue", ("seal", seal, key)


def step_place(event: Event) -> tuple[str, Path]:
    """The action of another event, as a second place."""
    return "procedure", event.path


def built(lot: Lot) -> bool:
    """Whether the lot was opened or put together in this job."""
    return lot.run.opened is not None or lot.run.fitted is not None


def refit_unsaid(run: Run) -> bool:
    """Whether the piece is in only because a later step pulls on it; that the refit is missing is the one slip."""
    return run.fitted is not None and run.fitted.verb in ("tighten", "tighten_angle", "retighten", "back_off")


def last_move(run: Run) -> Event | None:
    """The last event that brought the positions of a run where they are; what is done only under a condition counts
    where nothing else does."""
    moves = [run.opened, run.removed, run.discarded, run.fitted, run.started, run.seated, run.last]
    held = [move for move in moves if move is not None]
    return max(held, key=lambda move: (not move.conditional, move.order), default=None)
