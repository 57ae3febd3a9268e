"""Quiz items for a trainer: faults planted in a sound procedure, with keys the engine has proved."""

from torquewright.quiz.items import Item, NotEnough, make_items
from torquewright.quiz.mutants import Mutant, NotSound, mutants

__all__ = ["Item", "Mutant", "NotEnough", "NotSound", "make_items", "mutants"]
