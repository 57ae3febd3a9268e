"""Items of a quiz: a spoiled procedure, one right answer and three wrong ones, all real faults of the trade.

Same procedure, seed and count, same items: nothing here depends on the clock, on hashing or on the machine.
"""

from __future__ import annotations

from collections.abc import Collection
from random import Random
from typing import NamedTuple

from attrs import evolve

from torquewright.quiz.mutants import Mutant, mutants
from torquewright.reading.wording import word_step
from torquewright.records import Catalogue, Procedure
from torquewright.verdict import Remark

CHOICES = 4
LETTERS = "ABCD"


class Choice(NamedTuple):
    """One answer. ``claim`` is the (rule, step label, joint) it asserts; the engine finds only the right one."""

    text: str
    claim: tuple[str, str, str]
    right: bool


class Item(NamedTuple):
    """One question: the steps as they now read (label, sentence), the choices in order, and the proof.

    ``remark`` is what the engine says of the procedure; ``changed`` what was changed to get there.
    """

    number: int
    ask: str
    steps: tuple[tuple[str, str], ...]
    choices: tuple[Choice, ...]
    remark: Remark
    changed: str
    procedure: Procedure
    catalogue: Catalogue

    @property
    def key(self) -> str:
        """The letter of the right answer."""
        return next(LETTERS[at] for at, choice in enumerate(self.choices) if choice.right)


class NotEnough(Exception):
    """Fewer distinct faults can be planted than were asked for. ``have`` and ``wanted`` say how many."""

    def __init__(self, have: int, wanted: int, why: str) -> None:
        self.have = have
        self.wanted = wanted
        super().__init__(why)


def make_items(
    procedure: Procedure, catalogue: Catalogue, *, count: int, seed: int, rules: Collection[str] | None = None
) -> list[Item]:
    """``count`` items on a sound procedure. Raises :class:`~torquewright.quiz.mutants.NotSound` or NotEnough."""
    plain = worded(procedure, catalogue)
    # What cannot be seen on the paper (a remark beside a step) cannot be asked.
    every = [
        mutant
        for mutant in mutants(procedure, catalogue)
        if mutant.planted.catalogue != catalogue or worded(mutant.planted.procedure, catalogue) != plain
    ]
    pool = [mutant for mutant in every if rules is None or mutant.rule in rules]
    if len(pool) < count:
        kinds = len({mutant.rule for mutant in pool})
        raise NotEnough(
            len(pool),
            count,
            f"{count} questions were asked for, but only {len(pool)} distinct faults of {kinds} kinds can be planted "
            "in this procedure",
        )
    dice = Random(seed)
    chosen = _spread(_shuffled(pool, dice), count)
    items = []
    for number, mutant in enumerate(chosen, 1):
        wrong = _wrong(mutant, every, dice)
        if len(wrong) < CHOICES - 1:
            raise NotEnough(
                len(wrong), CHOICES - 1, "this procedure is too short for three wrong answers that could be true"
            )
        items.append(_item(number, mutant, wrong, dice))
    return items


def _shuffled(pool: list[Mutant], dice: Random) -> list[Mutant]:
    # Sorting by drawn numbers rather than Random.shuffle: the draw is documented to stay the same, the shuffle is not.
    return [mutant for _, _, mutant in sorted((dice.random(), at, mutant) for at, mutant in enumerate(pool))]


def _spread(pool: list[Mutant], count: int) -> list[Mutant]:
    """The first ``count``, taking each rule once before any rule comes twice."""
    times: dict[str, int] = {}
    rounds: list[tuple[int, int, Mutant]] = []
    for at, mutant in enumerate(pool):
        rounds.append((times.get(mutant.rule, 0), at, mutant))
        times[mutant.rule] = times.get(mutant.rule, 0) + 1
    return [mutant for _, _, mutant in sorted(rounds, key=lambda held: held[:2])[:count]]


def _wrong(mutant: Mutant, every: list[Mutant], dice: Random) -> list[Mutant]:
    """Three faults that this procedure does not have: each is real elsewhere, and the engine does not find it here.

    Faults of other rules come first, those of the same joint ahead of others, so that the wrong answers lie near.
    """
    others = [other for other in _shuffled(every, dice) if other.claim != mutant.claim]
    others.sort(key=lambda other: (other.rule == mutant.rule, other.remark.joint != mutant.remark.joint))
    taken: list[Mutant] = []
    texts = {claim_text(mutant.remark)}
    for other in others:
        text = claim_text(other.remark)
        if text not in texts and all(other.rule != held.rule for held in taken):
            texts.add(text)
            taken.append(other)
        if len(taken) == CHOICES - 1:
            break
    return taken


def claim_text(remark: Remark) -> str:
    """An answer: where, and what is wrong there."""
    message = remark.message[:1].upper() + remark.message[1:]
    return f"Step {remark.step}: {message}." if remark.step else f"{message}."


def _item(number: int, mutant: Mutant, wrong: list[Mutant], dice: Random) -> Item:
    choices = [Choice(claim_text(mutant.remark), mutant.claim, True)]
    choices += [Choice(claim_text(other.remark), other.claim, False) for other in wrong]
    order = sorted((dice.random(), at) for at in range(len(choices)))
    planted = mutant.planted
    return Item(
        number,
        "One thing is wrong in this job. Which?",
        worded(planted.procedure, planted.catalogue),
        tuple(choices[at] for _, at in order),
        mutant.remark,
        planted.changed,
        planted.procedure,
        planted.catalogue,
    )


def worded(procedure: Procedure, catalogue: Catalogue) -> tuple[tuple[str, str], ...]:
    """(label, sentence) of each step. Every step is worded from its actions, so that the changed one does not
    stand out by its style; a step without actions keeps its own sentence."""
    return tuple(
        (step.label, word_step(evolve(step, say="") if step.actions else step, catalogue)) for step in procedure.steps
    )
