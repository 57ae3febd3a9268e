"""Show that each rule's own cases would catch a detector that is broken.

Run in the project's environment: ``python tools/teeth.py [RULE...]``. One rule at a time, its detector is silenced, and
then made to fire on everything; each time the cases in the rule's own file under ``specs/rules`` are put to the
engine. A silent detector must be caught by a faulty case, one that always fires by a sound case. It prints one row a
rule with the number of cases that caught it, and leaves with 1 when a rule has no teeth, or when its cases do not
hold for the detector as it is.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from torquewright import subject
from torquewright.bench import Trace
from torquewright.book.texts import all_rules, rule_text
from torquewright.rules import DETECTORS, registry
from torquewright.rules.finding import Finding
from torquewright.suite.cases import SuiteCase, cases_of
from torquewright.suite.driver import run_case

Detector = Callable[[Trace], Iterator[Finding]]

# A case is read once and judged three times: with the detector as it is, silent, and firing always.
subject.read_job = lru_cache(maxsize=None)(subject.read_job)  # type: ignore[attr-defined]


class Bite(NamedTuple):
    """How one rule's cases fared: ``wrong`` fail as things are; ``silent`` and ``always`` are the cases that catch
    the broken detector."""

    rule: str
    faulty: int
    sound: int
    wrong: tuple[str, ...]
    silent: tuple[str, ...]
    always: tuple[str, ...]

    @property
    def held(self) -> bool:
        return not self.wrong and bool(self.silent) and bool(self.always)


def silence(trace: Trace) -> Iterator[Finding]:
    """A detector that sees nothing."""
    return iter(())


def firing_always(rule: str, honest: Detector) -> Detector:
    """The detector, and where it finds nothing one finding at the first step."""

    def fire(trace: Trace) -> Iterator[Finding]:
        found = list(honest(trace))
        yield from found or [Finding(rule, "certain", 0, "", {}, ("step", 0))]

    return fire


def failing(cases: Iterable[SuiteCase], *, facts: bool = True) -> tuple[str, ...]:
    """The ids of the cases that do not hold now; without ``facts`` only missed and invented findings count."""
    outcomes = (run_case(subject.answer, case) for case in cases)
    return tuple(
        outcome.case.id
        for outcome in outcomes
        if outcome.missed or outcome.invented or outcome.trouble or (facts and outcome.wrong_facts)
    )


def bite(rule: str) -> Bite:
    """Break the detector of ``rule`` in both ways and put its cases to the engine. The detector is put back."""
    cases = list(cases_of([rule_text(rule, cases=True)]))
    honest = registry.DETECTORS[rule]
    wrong = failing(cases)
    try:
        registry.DETECTORS[rule] = silence
        silent = failing((case for case in cases if not case.sound), facts=False)
        registry.DETECTORS[rule] = firing_always(rule, honest)
        always = failing((case for case in cases if case.sound), facts=False)
    finally:
        registry.DETECTORS[rule] = honest
    faulty = sum(not case.sound for case in cases)
    return Bite(rule, faulty, len(cases) - faulty, wrong, silent, always)


def lines(bites: Sequence[Bite]) -> Iterator[str]:
    """The table and what is wrong."""
    wide = max((len(held.rule) for held in bites), default=0)
    yield f"{'rule':{wide}}  silenced: caught by   always firing: caught by"
    for held in bites:
        silent, always = f"{len(held.silent)} of {held.faulty} faulty", f"{len(held.always)} of {held.sound} sound"
        yield f"{held.rule:{wide}}  {silent:21}  {always:15}" + ("" if held.held else "  NO TEETH")
    for held in bites:
        for case in held.wrong:
            yield f"{case}: does not hold as things are"
    good = sum(held.held for held in bites)
    yield ""
    yield f"{len(bites)} rules, {good} with teeth, {len(bites) - good} without"


def main(words: Sequence[str]) -> int:
    """Break each detector, print, and leave with 1 when one got away."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("rules", nargs="*", metavar="RULE", help="only these (by default all)")
    args = parser.parse_args(words)
    known = {rule.id for rule in all_rules()} & set(DETECTORS)
    unknown = sorted(set(args.rules) - known)
    if unknown:
        parser.error(f"no rule with a detector is called {', '.join(unknown)}")
    bites = [bite(rule) for rule in sorted(args.rules or known)]
    for line in lines(bites):
        print(line)
    return 0 if all(held.held for held in bites) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
