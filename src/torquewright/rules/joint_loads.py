"""The tightened joints of a job and the load each is pulled to: what the record asks for, or else the steps.

Worked out once for a trace. Only the quick figures are taken here; the full sheet of a joint is fetched by whoever has
something to say of it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from torquewright.bench import JointTrack, Pull, Trace
from torquewright.joint.quick import Reckoned, reckon
from torquewright.records import Fastener, Tightening, Torque
from torquewright.rules.finding import Fact, Finding
from torquewright.rules.pulls import torque_of, value_path
from torquewright.rules.spot import fastener_place

if TYPE_CHECKING:
    from torquewright.joint.answer import Answer, Figure

NOT_SCREWS = ("set screw", "grub", "clamp", "filter")
"""Kinds of fastener whose thread does not clamp by its head."""


class Loaded:
    """A joint that is tightened in this job. ``pull`` is the pull that loads it most, ``wanted`` the torque it is
    pulled to (the highest stage of it), ``torque`` the figure to aim at and ``least`` and ``most`` its limits (N·m),
    ``recorded`` whether the record asks for it."""

    __slots__ = ("fastener", "figures", "least", "most", "pull", "recorded", "torque", "wanted")

    def __init__(
        self, fastener: Fastener, figures: Reckoned, pull: Pull, wanted: Torque, torque: float, recorded: bool
    ) -> None:
        self.fastener = fastener
        self.figures = figures
        self.pull = pull
        self.wanted = wanted
        self.torque = torque
        low, high = wanted.band
        self.least = torque if low is None else low
        self.most = torque if high is None else high
        self.recorded = recorded

    @property
    def preload(self) -> float:
        """The preload at the nominal friction, newtons."""
        return self.torque * self.figures.per_torque

    @property
    def unit(self) -> str:
        """The unit in which the torque is best told."""
        tool = self.pull.event.tool
        return tool.unit if tool is not None and tool.unit else self.wanted.unit

    def found(self, rule: str, facts: dict[str, Fact], form: str = "", *keys: str) -> Finding:
        """A finding of ``rule`` at the pull, with ``keys`` of the record as second places."""
        event = self.pull.event
        shown = ("tightening", *keys) if self.recorded else keys
        return Finding(
            rule, "likely", event.step if event.step >= 0 else None, self.fastener.id, facts,
            value_path(self.pull) if event.action.to is not None else event.path,
            also=tuple(fastener_place(self.fastener.id, key) for key in shown), form=form, unit=self.unit,
        )  # fmt: skip


def loaded(trace: Trace) -> list[Loaded]:
    """Every tightened joint whose thread and torque are known, in the order of the job."""
    held = trace.worked.get("loaded")
    if held is None:
        held = trace.worked["loaded"] = [found for track in trace.joints.values() if (found := _of_track(track))]
    return held  # type: ignore[return-value]  # kept under this name by nobody else


def _of_track(track: JointTrack) -> Loaded | None:
    fastener = track.fastener
    if fastener.thread is None or fastener.kind in NOT_SCREWS:
        return None
    pulls = [pull for lot in track.lots for run in (*lot.runs, lot.run) for pull in run.pulls]
    pulls = [pull for pull in pulls if pull.event.verb != "back_off" and not pull.event.conditional]
    if not pulls:
        return None
    pull = max(pulls, key=_weight)
    record = fastener.tightening
    wanted = highest(record) if record is not None and not record.doubt else None
    recorded = wanted is not None
    if record is None:
        to = pull.event.action.to
        wanted = torque_of(pull.stage) if to is not None and not to.doubt else None
    if wanted is None or wanted.target is None:
        return None
    figures = reckon(fastener)
    if figures is None:
        return None
    return Loaded(fastener, figures, pull, wanted, wanted.target, recorded)


def _weight(pull: Pull) -> tuple[float, int]:
    torque = torque_of(pull.stage)
    later = pull.event.verb == "retighten"
    return (torque.target or 0.0 if torque is not None else 0.0), -pull.event.order - (1_000_000 if later else 0)


def highest(tightening: Tightening) -> Torque | None:
    """The highest torque of all stages; None where none has a unit."""
    torques = [torque for stage in tightening.stages if (torque := torque_of(stage)) is not None]
    return max(torques, key=lambda torque: torque.target or 0.0, default=None)


# ---- the full sheet, for those that have something to say ---------------------------------------------------------


def sheet(held: Loaded) -> Answer:
    """Everything that follows from a joint, reckoned dry where its record states no condition."""
    # A sound job needs none of it, and it costs more than the rest of a check.
    from torquewright.joint import compute
    from torquewright.joint.preload import Span
    from torquewright.joint.recorded import of_fastener

    joint = of_fastener(held.fastener)
    assert joint is not None, "reckoned quickly, so it can be reckoned in full"
    torque = held.wanted
    low, high = torque.band
    span = Span(held.torque if low is None else low, held.torque, held.torque if high is None else high)
    return compute(joint._replace(torque=span, condition=joint.condition or "dry"))


def friction_words(held: Loaded) -> str:
    """The condition the friction was taken for, in words."""
    return held.fastener.condition or "condition not stated, taken as dry"


def cited(*figures: Figure | None) -> str:
    """What figures rest on, each source once."""
    found: dict[str, None] = {}
    for figure in figures:
        for source in (figure.source if figure is not None else "").split("; "):
            source = source.removeprefix("friction: ")
            for confidence in (" (two-sources)", " (one-source)", " (formula)"):
                source = source.removesuffix(confidence)
            if source:
                found[source] = None
    return "; ".join(found)
