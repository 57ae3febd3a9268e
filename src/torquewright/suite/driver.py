"""Puts cases to an implementation and compares its findings with those the case demands, exactly.

An implementation is a function from the form and the text of a document to its findings; a program in any
language becomes one by way of :mod:`torquewright.suite.process`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, NamedTuple

from torquewright.book.texts import CaseFinding
from torquewright.book.wording import facts_agree
from torquewright.suite.cases import SuiteCase

Answer = Iterable[Mapping[str, Any]]
Subject = Callable[[str, str], Answer]
"""From ("toml" or "markdown", text) to findings with ``rule``, ``step``, ``joint``, ``certainty``, and maybe
``facts`` in the notation of the rule files. It raises :class:`NoAnswer` when it cannot judge the text."""

Key = tuple[str, str, str, str]


class NoAnswer(Exception):
    """The implementation gave no findings for a case; says why."""


class Outcome(NamedTuple):
    """How one case went. ``missed`` and ``invented`` are findings by (rule, step, joint, certainty); ``wrong_facts``
    tells facts that disagree; ``trouble`` why there was no answer at all."""

    case: SuiteCase
    missed: tuple[Key, ...] = ()
    invented: tuple[Key, ...] = ()
    wrong_facts: tuple[str, ...] = ()
    trouble: str = ""

    @property
    def passed(self) -> bool:
        return not (self.missed or self.invented or self.wrong_facts or self.trouble)

    def __str__(self) -> str:
        if self.passed:
            return f"{self.case.id}: as it should be"
        told = [f"{self.case.id}: clause {self.case.clause!r} is not kept"]
        if self.trouble:
            told.append(f"  no answer: {self.trouble}")
        told += [f"  missed:   {_told(key)}" for key in self.missed]
        told += [f"  invented: {_told(key)}" for key in self.invented]
        told += [f"  fact:     {fact}" for fact in self.wrong_facts]
        return "\n".join(told)


def _told(key: Key) -> str:
    rule, step, joint, certainty = key
    return f"{rule} at step {step or '(none)'}, joint {joint or '(none)'}, {certainty}"


def run_case(subject: Subject, case: SuiteCase, *, all_facts: bool = False) -> Outcome:
    """Put one case to ``subject``, without its findings, and compare.

    Facts are compared where the subject gives them; with ``all_facts`` it must give every fact the case names.
    """
    try:
        given = [(key_of(finding), finding.get("facts")) for finding in subject(case.form, case.text)]
    except NoAnswer as why:
        return Outcome(case, trouble=str(why) or "it says nothing")
    wanted = {(f.rule, f.step, f.joint, f.certainty): f for f in case.findings}
    got = {key for key, _ in given}
    wrong: list[str] = []
    for key, finding in wanted.items():
        if key in got:
            answers = [facts for held, facts in given if held == key]
            wrong += _best_facts(finding, answers, all_facts)
    return Outcome(case, tuple(sorted(set(wanted) - got)), tuple(sorted(got - set(wanted))), tuple(wrong))


def key_of(finding: Mapping[str, Any]) -> Key:
    """What a finding is compared by. NoAnswer when one of the four is missing or no string."""
    match [finding.get(part) for part in ("rule", "step", "joint", "certainty")]:
        case [str(rule), str(step), str(joint), str(certainty)]:
            return rule, step, joint, certainty
        case _:
            raise NoAnswer(f"a finding needs rule, step, joint and certainty as strings, not {dict(finding)!r}")


def _best_facts(finding: CaseFinding, answers: list[Any], all_facts: bool) -> list[str]:
    """The disagreements of the answer that agrees best; two findings of one key may differ in their facts."""
    return min((list(_fact_faults(finding, facts, all_facts)) for facts in answers), key=len)


def _fact_faults(finding: CaseFinding, facts: Any, all_facts: bool) -> Iterator[str]:
    held = facts if isinstance(facts, Mapping) else {}
    for fact, told in finding.facts.items():
        if fact not in held:
            if all_facts:
                yield f"{fact} is {told} in {finding.rule}, and was not given"
        elif not facts_agree(told, str(held[fact])):
            yield f"{fact} is {told} in {finding.rule}, not {held[fact]}"


def run_cases(subject: Subject, cases: Iterable[SuiteCase], *, all_facts: bool = False) -> Iterator[Outcome]:
    """Put the cases to ``subject`` one after the other."""
    for case in cases:
        yield run_case(subject, case, all_facts=all_facts)
