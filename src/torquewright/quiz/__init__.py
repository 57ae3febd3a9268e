"""Quiz items for a trainer: faults planted in a sound procedure, with keys the engine has proved."""

from torquewright.quiz.items import KINDS, Choice, Figure, Item, NotEnough
from torquewright.quiz.making import make_forms, make_items
from torquewright.quiz.mutants import Mutant, NotSound, mutants

__all__ = [
    "KINDS", "Choice", "Figure", "Item", "Mutant", "NotEnough", "NotSound", "make_forms", "make_items", "mutants",
]  # fmt: skip
