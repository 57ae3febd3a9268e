"""Small jobs put together from actions, and what every planter must keep to."""

from __future__ import annotations

from collections.abc import Iterable

from torquewright.bench import play
from torquewright.records import Action, Catalogue, Procedure, Stage, Step, Tightening, Torque
from torquewright.rules import PLANTERS, detect
from torquewright.rules.finding import Finding
from torquewright.rules.registry import Planted


def torque(*stages: float) -> Tightening:
    """A figure, or stages in order, in N·m."""
    return Tightening(
        ", then ".join(f"{stage:g} N·m" for stage in stages),
        "stage" if len(stages) > 1 else "single",
        tuple(Stage(Torque(stage, None, None, "N·m", 0.05)) for stage in stages),
    )


def job(*steps: Action | Iterable[Action], given: tuple[Action, ...] = ()) -> Procedure:
    """A procedure; an action alone is a step of its own."""
    held = [(step,) if isinstance(step, Action) else tuple(step) for step in steps]
    return Procedure("job", tuple(Step(str(at + 1), "", step) for at, step in enumerate(held)), given=given)


def found(rule: str, procedure: Procedure, catalogue: Catalogue) -> list[Finding]:
    """The findings of one rule."""
    return [finding for finding in detect(play(procedure, catalogue)) if finding.rule == rule]


def told(rule: str, procedure: Procedure, catalogue: Catalogue) -> list[tuple[str, str, str]]:
    """(label of the step, certainty, form) of each finding of one rule."""
    return [
        ("" if held.step is None else procedure.steps[held.step].label, held.certainty, held.form)
        for held in found(rule, procedure, catalogue)
    ]


def plant_all(rule: str, procedure: Procedure, catalogue: Catalogue) -> list[Planted]:
    """Every fault the planter of ``rule`` plants in a sound job, each found where it was planted and alone."""
    assert detect(play(procedure, catalogue)) == [], "the job to plant in is not sound"
    planted = list(PLANTERS[rule](procedure, catalogue))
    for fault in planted:
        findings = detect(play(fault.procedure, fault.catalogue))
        own = [(held.step, held.joint) for held in findings if held.rule == rule]
        assert own == [(fault.step, fault.joint)], (fault.changed, findings)
        others = {held.rule for held in findings} - {rule} - fault.companions
        assert not others, (fault.changed, findings)
    return planted
