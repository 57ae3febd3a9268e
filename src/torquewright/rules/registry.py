"""Joins a rule's id to the two small functions behind it: its detector and its planter."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, NamedTuple, TypeVar

from torquewright.bench import Trace
from torquewright.records import Catalogue, Procedure
from torquewright.rules.finding import Finding

if TYPE_CHECKING:  # the reader of sentences is not loaded for a procedure in TOML
    from torquewright.reading.kept import ReadDraft


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


class PlantedInWords(NamedTuple):
    """A sound draft with one fault planted in its words: ``text`` is the whole draft; ``step`` the label the finding
    must name ("" for the draft as a whole); the rest as in :class:`Planted`."""

    text: str
    step: str
    joint: str
    changed: str
    companions: frozenset[str] = frozenset()


Detector = Callable[[Trace], Iterator[Finding]]
Planter = Callable[[Procedure, Catalogue], Iterator[Planted]]
WordPlanter = Callable[["ReadDraft", Procedure, Catalogue], Iterator[PlantedInWords]]

DETECTORS: dict[str, Detector] = {}
PLANTERS: dict[str, Planter] = {}
WORD_PLANTERS: dict[str, WordPlanter] = {}
"""Planters of the rules on writing: what they judge is in no record, only in the sentences of a draft."""

_D = TypeVar("_D", bound=Detector)
_P = TypeVar("_P", bound=Planter)
_W = TypeVar("_W", bound=WordPlanter)


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


def word_planter(rule: str) -> Callable[[_W], _W]:
    """Register the planter of ``rule``, a rule on writing: from a sound draft as read it yields every way it can
    plant that very fault in its words, in the order of the text."""

    def keep(function: _W) -> _W:
        WORD_PLANTERS[rule] = function
        return function

    return keep
