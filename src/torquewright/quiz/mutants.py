"""Every way a sound procedure can be spoiled by exactly one known fault, proved by running the engine on it."""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple

from torquewright.records import Catalogue, Procedure
from torquewright.rules import PLANTERS
from torquewright.rules.registry import Planted
from torquewright.verdict import Remark, check_records


class Mutant(NamedTuple):
    """A procedure with one planted fault. ``remark`` is the one finding the engine has on it; ``planted`` holds
    the changed procedure and catalogue and says what was changed."""

    rule: str
    planted: Planted
    remark: Remark

    @property
    def claim(self) -> tuple[str, str, str]:
        """What makes two faults the same fault: rule, step label, joint."""
        return self.rule, self.remark.step, self.remark.joint


class NotSound(Exception):
    """The procedure to plant in has findings of its own; ``remarks`` holds them."""

    def __init__(self, remarks: tuple[Remark, ...]) -> None:
        self.remarks = remarks
        super().__init__(f"the procedure is not sound: {len(remarks)} findings")


def mutants(procedure: Procedure, catalogue: Catalogue, rules: Collection[str] | None = None) -> list[Mutant]:
    """All proved mutants of a sound procedure, by rule and step. ``rules`` limits them to these rules.

    A planted procedure is kept only when the engine finds the planted rule, at the planted joint, and nothing
    else: a question has one answer. Raises :class:`NotSound` when the procedure has findings to begin with.
    """
    own = check_records(procedure, catalogue).remarks
    if own:
        raise NotSound(own)
    found: list[Mutant] = []
    seen: set[tuple[str, str, str]] = set()
    for rule in sorted(PLANTERS):
        if rules is not None and rule not in rules:
            continue
        for planted in PLANTERS[rule](procedure, catalogue):
            remarks = check_records(planted.procedure, planted.catalogue).remarks
            if len(remarks) != 1 or remarks[0].rule != rule or remarks[0].joint != planted.joint:
                continue
            mutant = Mutant(rule, planted, remarks[0])
            if mutant.claim not in seen:
                seen.add(mutant.claim)
                found.append(mutant)
    return found
