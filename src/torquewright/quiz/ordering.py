"""Items on order: the steps of one joint, where exactly one order of them is sound.

Every other order is run through the engine. Where a second one is sound too the item is refused: whoever gave it
would be marked wrong for being right.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import permutations
from random import Random

from attrs import evolve

from torquewright.quiz.items import Choice, Item, shuffled
from torquewright.reading.wording import word_action
from torquewright.records import Action, Catalogue, Procedure, Step
from torquewright.verdict import Remark, check_records

_FEWEST, _MOST = 4, 5
_HANDLED = frozenset(
    "remove discard clean inspect install reuse replace hand_start seat tighten tighten_angle lock measure".split()
)


def orders(procedure: Procedure, catalogue: Catalogue, dice: Random, name: str) -> Iterator[Item]:
    """An item for each joint whose own steps have exactly one sound order, in the order of the records."""
    for fastener in catalogue.fasteners:
        actions = [
            action
            for step in procedure.steps
            for action in step.actions
            if fastener.id in (action.what, action.of) and action.verb in _HANDLED and action.mode == "do"
        ]
        for size in range(min(_MOST, len(actions)), _FEWEST - 1, -1):
            made = _windows(actions, size, catalogue, fastener.id, fastener.name, dice, name)
            if made is not None:
                yield made
                break


def _windows(
    actions: list[Action], size: int, catalogue: Catalogue, key: str, told: str, dice: Random, name: str
) -> Item | None:
    for start in range(len(actions) - size + 1):
        some = actions[start : start + size]
        if len({word_action(action, catalogue) for action in some}) < size:
            continue  # two sentences alike cannot be put in order
        # Only the joint in question: nothing else the catalogue holds may speak for or against an order.
        alone = evolve(catalogue, kit=None, fluids=())
        slips = _only_order(some, alone)
        if slips is None:
            continue
        return _item(some, slips, alone, key, told, dice, name)
    return None


def slips_of(some: Sequence[Action], catalogue: Catalogue, left_out: frozenset[tuple[str, str]]) -> list[Remark]:
    """The findings on these actions in this order, but for those (rule, joint) that come from the rest of the job
    being left out: a leak nobody looks for, a value nobody writes down."""
    return [
        remark
        for remark in check_records(_job(some), catalogue).remarks
        if (remark.rule, remark.joint) not in left_out
    ]


def missing_rest(some: Sequence[Action], catalogue: Catalogue) -> frozenset[tuple[str, str]]:
    """(rule, joint) of what is found on the sound order, only because the rest of the job is not there."""
    return frozenset((remark.rule, remark.joint) for remark in check_records(_job(some), catalogue).remarks)


def _job(some: Sequence[Action]) -> Procedure:
    return Procedure("", tuple(Step(str(at + 1), "", (action,)) for at, action in enumerate(some)))


def _only_order(some: list[Action], catalogue: Catalogue) -> Remark | None:
    """A finding on one of the other orders, when all of them have one; None when another order is sound."""
    remark: Remark | None = None
    left_out = missing_rest(some, catalogue)
    for other in permutations(some):
        if other == tuple(some):
            continue
        found = slips_of(other, catalogue, left_out)
        if not found:
            return None
        if remark is None:
            remark = found[0]
    return remark


def _item(
    some: list[Action], slip: Remark, catalogue: Catalogue, key: str, told: str, dice: Random, name: str
) -> Item:
    at = shuffled(list(range(len(some))), dice)
    if at == sorted(at):
        at = at[1:] + at[:1]
    choices = tuple(
        Choice(word_action(some[index], catalogue), True, f"It comes {_place(index)}.") for index in at
    )
    return Item(
        id=f"{name}-order-{key}",
        kind="order",
        ask=f"Put these steps on the {told} in the order that is sound.",
        lead=(),
        steps=(),
        choices=choices,
        rule=slip.rule,
        consequence=slip.consequence,
        because="Every other order breaks a rule: the engine was run on each of them. "
        f"In one of them, for instance: {slip.message}. {slip.harm}",
        instead="",
        sources=slip.sources,
        changed="the steps were shuffled",
        difficulty=4,
        procedure=_job(some),
        catalogue=catalogue,
        order=tuple(at.index(index) for index in range(len(some))),
        remarks=(slip,),
    )


def _place(index: int) -> str:
    return ("first", "second", "third", "fourth", "fifth")[index]
