"""Joins a rule's id to the two small functions behind it: its detector and its planter."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple, TypeVar

from torquewright.bench import Trace
from torquewright.records import Catalogue, Procedure
from torquewright.rules.finding import Finding


class Planted(NamedTuple):
    """A sound procedure with one fault planted in it.

    ``step`` is the index of the step the finding must name (None: the procedure as a whole), ``joint`` the joint.
    ``companions`` are other rules that this very fault breaks too and may be found with it. ``changed`` says what
    was changed, in words, for the key of a quiz.
    """

    procedure: Procedure
    catalogue: Catalogue
    step: int | None
    joint: str
    changed: str
    companions: frozenset[str] = frozenset()


Detector = Callable[[Trace], Iterator[Finding]]
Planter = Callable[[Procedure, Catalogue], Iterator[Planted]]

DETECTORS: dict[str, Detector] = {}
PLANTERS: dict[str, Planter] = {}

_D = TypeVar("_D", bound=Detector)
_P = TypeVar("_P", bound=Planter)


def detector(rule: str) -> Callable[[_D], _D]:
    """Register the detector of ``rule``: it reads a trace and yields its findings, in any order."""

    def keep(function: _D) -> _D:
        DETECTORS[rule] = function
        return function

    return keep


def planter(rule: str) -> Callable[[_P], _P]:
    """Register the planter of ``rule``: from a sound procedure it yields every way it can plant that very fault,
    in the order of the steps; nothing where the rule does not apply."""

    def keep(function: _P) -> _P:
        PLANTERS[rule] = function
        return function

    return keep
