"""Findings the writer lets stand: each needs a written reason, and each must still be there."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from torquewright.base.document import Path
from torquewright.bench import Trace
from torquewright.records import Accepted, Catalogue, Procedure
from torquewright.rules.finding import Finding
from torquewright.rules.registry import Planted, detector, planter


def _accepted(procedure: Procedure) -> Iterator[tuple[int | None, Accepted, Path]]:
    """(step index or None, what is let stand, its place)."""
    for held in procedure.accepted:
        yield None, held, ("accept", held.rule)
    for index, step in enumerate(procedure.steps):
        for held in step.accepted:
            yield index, held, ("step", index, "accept", held.rule)


@detector("accepted-without-reason")
def accepted_without_reason(trace: Trace) -> Iterator[Finding]:
    """A finding is let stand and no reason is written beside it."""
    for step, held, path in _accepted(trace.procedure):
        if not held.because.strip():
            yield Finding("accepted-without-reason", "certain", step, "", {"rule": held.rule}, path)


@planter("accepted-without-reason")
def plant_accepted_without_reason(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Let something stand and give no reason."""
    for index, step in enumerate(procedure.steps):
        if not step.accepted:
            changed = f"step {step.label} lets kit-short stand and does not say why"
            yield Planted(_with(procedure, index, (Accepted("kit-short"),)), catalogue, index, "", changed)


@detector("acceptance-stale")
def acceptance_stale(trace: Trace) -> Iterator[Finding]:
    """A finding is let stand that is not there, or that no rule of that name can make."""
    for step, held, path in _accepted(trace.procedure):
        if not held.because.strip():
            continue  # it has no effect, and accepted-without-reason says so
        from torquewright.rules import DETECTORS  # whole, with the rules on writing: fetched only where it is asked

        work = DETECTORS.get(held.rule)
        # Only the rules that are let stand are asked again, and only where something is.
        if work is None or work is acceptance_stale:
            yield Finding("acceptance-stale", "certain", step, "", {"rule": held.rule}, path, form="unknown")
        elif not any(finding.step == step for finding in work(trace)):
            yield Finding("acceptance-stale", "certain", step, "", {"rule": held.rule}, path)


@planter("acceptance-stale")
def plant_acceptance_stale(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Let something stand that is not there."""
    for index, step in enumerate(procedure.steps):
        taken = {held.rule for held in step.accepted}
        rule = next((rule for rule in ("wrench-out-of-range", "kit-short") if rule not in taken), None)
        if rule is None:
            continue
        accepted = (*step.accepted, Accepted(rule, "agreed with the workshop"))
        changed = f"step {step.label} lets {rule} stand, which it does not break"
        yield Planted(_with(procedure, index, accepted), catalogue, index, "", changed)


def _with(procedure: Procedure, index: int, accepted: tuple[Accepted, ...]) -> Procedure:
    steps = list(procedure.steps)
    steps[index] = evolve(steps[index], accepted=accepted)
    return evolve(procedure, steps=tuple(steps))
