"""What a quiz item is: a job, a question, and an answer the engine has proved.

Nothing here depends on the clock, on hashing or on the machine: the same procedure, seed and wishes give the same
items.
"""

from __future__ import annotations

from random import Random
from re import escape, findall
from typing import Literal, NamedTuple, TypeVar

from attrs import evolve

from torquewright.reading.wording import kit_words, word_step
from torquewright.records import Catalogue, Procedure
from torquewright.verdict import Remark

LETTERS = "ABCDEFGH"

Kind = Literal["spot", "all", "order", "number", "tool"]

KINDS: dict[Kind, str] = {
    "spot": "spot the fault, one answer is right",
    "all": "mark every fault, several answers are right",
    "order": "put the steps in the order that is sound",
    "number": "work out a setting or a conversion",
    "tool": "choose the wrench",
}


class Choice(NamedTuple):
    """One answer: its text, whether it is right, why, and the (rule, step label, joint) it asserts, where it asserts
    a fault."""

    text: str
    right: bool
    reason: str
    claim: tuple[str, str, str] = ("", "", "")


class Figure(NamedTuple):
    """A number that is asked for. An answer within ``tolerance`` is right; ``shown`` is the value with the digits
    it is worth."""

    value: float
    tolerance: float
    unit: str
    shown: str


class Item(NamedTuple):
    """One question.

    ``lead`` are lines to read first, ``steps`` the job as it now reads (label, sentence). ``choices`` are in the
    order shown; for an "order" item they are to be sorted into ``order`` (indexes into ``choices``). ``figure`` is
    the answer of a "number" item. ``rule``, ``consequence``, ``because``, ``instead`` and ``sources`` are the
    feedback; ``difficulty`` is declared, 1 to 5. ``procedure`` and ``catalogue`` are the proof: what the engine
    was run on.
    """

    id: str
    kind: Kind
    ask: str
    lead: tuple[str, ...]
    steps: tuple[tuple[str, str], ...]
    choices: tuple[Choice, ...]
    rule: str
    consequence: str
    because: str
    instead: str
    sources: tuple[str, ...]
    changed: str
    difficulty: int
    procedure: Procedure
    catalogue: Catalogue
    order: tuple[int, ...] = ()
    figure: Figure | None = None
    remarks: tuple[Remark, ...] = ()

    @property
    def key(self) -> str:
        """The answer in short: a letter, letters, the letters in order, or the figure with its unit."""
        if self.figure is not None:
            return self.figure.shown
        if self.order:
            return " ".join(LETTERS[at] for at in self.order)
        return " ".join(LETTERS[at] for at, choice in enumerate(self.choices) if choice.right)


class NotEnough(Exception):
    """Fewer distinct items can be made than were asked for. ``have`` and ``wanted`` say how many."""

    def __init__(self, have: int, wanted: int, why: str) -> None:
        self.have = have
        self.wanted = wanted
        super().__init__(why)


_T = TypeVar("_T")


def shuffled(held: list[_T], dice: Random) -> list[_T]:
    """In an order drawn from ``dice``. Sorted by drawn numbers, not by Random.shuffle: the draw is documented to
    stay the same over Python versions, the shuffle is not."""
    return [one for _, _, one in sorted(((dice.random(), at, one) for at, one in enumerate(held)), key=_drawn)]


def _drawn(held: tuple[float, int, object]) -> tuple[float, int]:
    return held[0], held[1]


def worded(procedure: Procedure, catalogue: Catalogue) -> tuple[tuple[str, str], ...]:
    """(label, sentence) of each step. Every step is worded from its actions, so that a changed one does not stand
    out by its style; a step without actions keeps its own sentence."""
    return tuple(
        (step.label, word_step(evolve(step, say="") if step.actions else step, catalogue)) for step in procedure.steps
    )


def claim_text(remark: Remark) -> str:
    """An answer: where, and what is wrong there."""
    message = remark.message[:1].upper() + remark.message[1:]
    return f"Step {remark.step}: {message}." if remark.step else f"{message}."


def cues(one: Item, other: Item) -> bool:
    """Whether two items cannot stand on one paper: one prints the figure the other asks for, or both ask for it."""
    if one.figure and other.figure and one.figure[2:] == other.figure[2:]:
        return True
    return _prints(one, other.figure) or _prints(other, one.figure)


def _prints(item: Item, figure: Figure | None) -> bool:
    if figure is None:
        return False
    lines = (item.ask, *item.lead, *(text for _, text in item.steps), *(choice.text for choice in item.choices))
    printed = findall(rf"(\d+(?:\.\d+)?) {escape(figure.unit)}(?!\w)", "\n".join(lines))
    return any(abs(float(number) - figure.value) <= figure.tolerance for number in printed)


def kit_line(catalogue: Catalogue) -> tuple[str, ...]:
    """What new parts are laid out, as one line; nothing where no kit was given."""
    if not catalogue.kit:
        return ()
    return ("New parts laid out: " + ", ".join(kit_words(item, catalogue) for item in catalogue.kit) + ".",)
