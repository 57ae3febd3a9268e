"""Small edits of a procedure, for planters: change, drop, insert or move an action. Records are never mutated.

A step that was edited loses its written sentence (``say`` becomes ""), because the sentence no longer tells what
the step does; whoever shows it words it from its actions.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from attrs import evolve

from torquewright.records import Action, Catalogue, Fastener, Procedure, Step


def actions(procedure: Procedure, *verbs: str) -> Iterator[tuple[int, int, Action]]:
    """(step index, number in the step, action) of every action that is done and has one of ``verbs`` (all when
    none is named)."""
    for index, step in enumerate(procedure.steps):
        for number, action in enumerate(step.actions):
            if action.mode in ("do", "stated_passively") and (not verbs or action.verb in verbs):
                yield index, number, action


def joint_of(action: Action, catalogue: Catalogue) -> Fastener | None:
    """The fastener the action turns or handles; None for actions on a piece of it, a seal or anything else."""
    return None if action.of else catalogue.fastener(action.what)


def change(procedure: Procedure, step: int, number: int, **changes: Any) -> Procedure:
    """The same procedure with fields of one action changed."""
    return _edit(procedure, step, lambda held: [
        evolve(action, **changes) if at == number else action for at, action in enumerate(held)
    ])  # fmt: skip


def drop(procedure: Procedure, step: int, number: int) -> Procedure:
    """The same procedure without one action; a step left empty goes too, and the later ones move up a label."""
    edited = _edit(procedure, step, lambda held: [action for at, action in enumerate(held) if at != number])
    if edited.steps[step].actions:
        return edited
    return _relabelled(procedure, [*edited.steps[:step], *edited.steps[step + 1 :]])


def insert(procedure: Procedure, step: int, number: int, *new: Action) -> Procedure:
    """The same procedure with actions put in ahead of action ``number`` of a step."""
    return _edit(procedure, step, lambda held: [*held[:number], *new, *held[number:]])


def move_step(procedure: Procedure, step: int, to: int) -> Procedure:
    """The same procedure with one step moved so that it stands at index ``to``; labels stay with their places."""
    steps = list(procedure.steps)
    steps.insert(to, steps.pop(step))
    return _relabelled(procedure, steps)


def _relabelled(procedure: Procedure, steps: list[Step]) -> Procedure:
    """``steps`` under the labels the procedure has at their places, so that no gap tells where one is missing."""
    labels = [held.label for held in procedure.steps]
    return evolve(procedure, steps=tuple(evolve(held, label=label) for held, label in zip(steps, labels, strict=False)))


def edit_fastener(catalogue: Catalogue, key: str, **changes: Any) -> Catalogue:
    """The same catalogue with fields of one fastener's record changed."""
    return evolve(
        catalogue,
        fasteners=tuple(evolve(held, **changes) if held.id == key else held for held in catalogue.fasteners),
    )


def _edit(procedure: Procedure, step: int, work: Callable[[list[Action]], list[Action]]) -> Procedure:
    held: Step = procedure.steps[step]
    new = evolve(held, actions=tuple(work(list(held.actions))), say="")
    return evolve(procedure, steps=(*procedure.steps[:step], new, *procedure.steps[step + 1 :]))


def drop_all(procedure: Procedure, spots: Iterable[tuple[int, int]]) -> tuple[Procedure, dict[int, int]]:
    """The same procedure without the actions at ``spots`` (step index, number in the step), and the new index of
    every step that is left; a step left empty goes too, and the later ones move up a label."""
    gone = set(spots)
    steps: list[Step] = []
    moved: dict[int, int] = {}
    for index, step in enumerate(procedure.steps):
        held = tuple(action for number, action in enumerate(step.actions) if (index, number) not in gone)
        if held or not step.actions:
            moved[index] = len(steps)
            steps.append(step if len(held) == len(step.actions) else evolve(step, actions=held, say=""))
    return _relabelled(procedure, steps), moved
