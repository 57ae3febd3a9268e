"""Items on planted faults: spot the one that is there, or mark every one of several."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

from attrs import evolve

from torquewright.book.texts import rule_text
from torquewright.quiz.items import Choice, Item, claim_text, kit_line, shuffled, worded
from torquewright.quiz.mutants import Mutant
from torquewright.records import Catalogue, Procedure
from torquewright.rules import PLANTERS
from torquewright.verdict import Remark, check_records

_WRONG = 3
_NOT_HERE = "The job was checked for it, and nothing of the kind happens. Where it does, it leads to: {}."


def visible(every: list[Mutant], procedure: Procedure, catalogue: Catalogue) -> list[Mutant]:
    """The mutants whose fault can be seen on the paper: in the steps or in the parts laid out. The records and the
    tools stand on it once for all questions, so none of them may be what was changed."""
    plain = worded(procedure, catalogue)
    return [
        mutant
        for mutant in every
        if _same_records(mutant.planted.catalogue, catalogue)
        and (
            kit_line(mutant.planted.catalogue) != kit_line(catalogue)
            or worded(mutant.planted.procedure, catalogue) != plain
        )
    ]


def _same_records(one: Catalogue, other: Catalogue) -> bool:
    return one is other or evolve(one, kit=other.kit) == other


def spot(mutant: Mutant, every: list[Mutant], dice: Random, name: str) -> Item | None:
    """One fault, one right answer and three wrong ones; None where there are no three wrong answers to be had."""
    wrong = _wrong({mutant.claim}, {claim_text(mutant.remark)}, mutant, every, dice)
    if len(wrong) < _WRONG:
        return None
    choices = [_right(mutant.remark, mutant.claim), *wrong]
    return _item("spot", name, [mutant.remark], mutant, shuffled(choices, dice), mutant.planted.changed)


def several(mutant: Mutant, every: list[Mutant], dice: Random, name: str) -> Item | None:
    """Two faults in one job, proved together: two right answers and three wrong ones."""
    for other in shuffled([held for held in every if held.rule != mutant.rule], dice)[:40]:
        made = _both(mutant, other)
        if made is None:
            continue
        both, second = made
        claims = {mutant.claim, second.claim}
        texts = {claim_text(mutant.remark), claim_text(second.remark)}
        wrong = _wrong(claims, texts, mutant, every, dice)
        if len(wrong) < _WRONG:
            return None
        choices = [_right(mutant.remark, mutant.claim), _right(second.remark, second.claim), *wrong]
        changed = f"{mutant.planted.changed}; {second.planted.changed}"
        return _item("all", name, [mutant.remark, second.remark], both, shuffled(choices, dice), changed)
    return None


def _both(first: Mutant, other: Mutant) -> tuple[Mutant, Mutant] | None:
    """The second fault planted on top of the first, kept only where the engine finds just these two."""
    planted_on = first.planted
    for planted in PLANTERS[other.rule](planted_on.procedure, planted_on.catalogue):
        if planted.joint != other.planted.joint:
            continue
        remarks = check_records(planted.procedure, planted.catalogue).remarks
        claims = {(remark.rule, remark.step, remark.joint): remark for remark in remarks}
        if len(remarks) != 2 or first.claim not in claims:
            continue
        second = next(remark for claim, remark in claims.items() if claim != first.claim)
        if second.rule != other.rule:
            continue
        return first._replace(planted=planted), Mutant(other.rule, planted, second)
    return None


def _right(remark: Remark, claim: tuple[str, str, str]) -> Choice:
    reason = " ".join(part for part in (remark.because, remark.harm) if part)
    return Choice(claim_text(remark), True, reason, claim)


def _wrong(
    claims: set[tuple[str, str, str]], texts: set[str], near: Mutant, every: list[Mutant], dice: Random
) -> list[Choice]:
    """Three faults that this job does not have: each is a real slip elsewhere, and the engine does not find it here.

    Faults of other rules come first, those of the same joint ahead of others, so that the wrong answers lie near;
    of equally near ones those that are about as long as the right one.
    """
    others = [other for other in shuffled(every, dice) if other.claim not in claims]
    length = len(claim_text(near.remark))
    others.sort(
        key=lambda other: (
            other.rule == near.rule,
            other.remark.joint != near.remark.joint,
            abs(len(claim_text(other.remark)) - length) > length // 4,
        )
    )
    taken: list[Choice] = []
    rules: set[str] = set()
    seen = set(texts)
    for other in others:
        text = claim_text(other.remark)
        if text not in seen and other.rule not in rules:
            seen.add(text)
            rules.add(other.rule)
            taken.append(Choice(text, False, _NOT_HERE.format(other.remark.consequence), other.claim))
        if len(taken) == _WRONG:
            break
    return taken


def _item(
    kind: str, name: str, remarks: list[Remark], mutant: Mutant, choices: list[Choice], changed: str
) -> Item:
    first = remarks[0]
    one = kind == "spot"
    planted = mutant.planted
    rule = rule_text(mutant.rule)
    return Item(
        id=f"{name}-{kind}-{'-'.join(remark.rule for remark in remarks)}-{first.step or 'job'}",
        kind="spot" if one else "all",
        ask="One thing is wrong in this job. Which?" if one else "Two things are wrong in this job. Which?",
        lead=kit_line(planted.catalogue),
        steps=worded(planted.procedure, planted.catalogue),
        choices=tuple(choices),
        rule=mutant.rule,
        consequence=first.consequence,
        because=" ".join(_told(remark) for remark in remarks),
        instead=" ".join(remark.instead for remark in remarks if remark.instead),
        sources=tuple(dict.fromkeys(source for remark in remarks for source in remark.sources)),
        changed=changed,
        difficulty=(3 if one else 4) + (1 if rule.subtle else 0),
        procedure=planted.procedure,
        catalogue=planted.catalogue,
        remarks=tuple(remarks),
    )


def _told(remark: Remark) -> str:
    return " ".join(part for part in (f"{claim_text(remark)}", remark.because, remark.harm) if part)


def pool(every: list[Mutant], rules: set[str] | None) -> Iterator[Mutant]:
    """The mutants a question may be about."""
    return (mutant for mutant in every if rules is None or mutant.rule in rules)
