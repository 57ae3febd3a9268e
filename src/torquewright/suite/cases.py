"""The cases as one file, ``specs/suite/cases.jsonl``: a header line, then a JSON object a case.

Built from the rule files by tools/build_suite.py, so that an implementation in any language needs to read nothing
but JSON lines.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from json import dumps, loads
from os.path import join
from typing import Any, NamedTuple

from torquewright.book.locate import specs_folder
from torquewright.book.texts import CaseFinding, RuleText

FORMAT = "torquewright-cases"
VERSION = 1


class SuiteCase(NamedTuple):
    """One case. ``id`` is ``rule/case``; ``twin`` and ``limit`` are "" where there is none."""

    id: str
    rule: str
    clause: str
    form: str
    text: str
    findings: tuple[CaseFinding, ...]
    twin: str = ""
    limit: str = ""

    @property
    def sound(self) -> bool:
        return not self.findings


def cases_of(rules: Iterable[RuleText]) -> Iterator[SuiteCase]:
    """The cases of rules that were loaded with them, in the order of the rules and of their files."""
    for rule in rules:
        for case in rule.cases:
            twin = f"{rule.id}/{case.twin}" if case.twin else ""
            yield SuiteCase(
                f"{rule.id}/{case.id}", rule.id, case.clause, case.form, case.text, case.findings, twin, case.limit
            )


def suite_lines(rules: Iterable[RuleText]) -> Iterator[str]:
    """The lines of cases.jsonl for these rules, without line ends."""
    cases = list(cases_of(rules))
    yield dumps({"format": FORMAT, "version": VERSION, "cases": len(cases)})
    for case in cases:
        part: dict[str, Any] = case._asdict()
        part["findings"] = [finding._asdict() for finding in case.findings]
        part["twin"] = case.twin or None
        part["limit"] = case.limit or None
        yield dumps(part, ensure_ascii=False)


def suite_file() -> str:
    return join(specs_folder(), "suite", "cases.jsonl")


def read_suite(path: str | None = None) -> tuple[SuiteCase, ...]:
    """The cases of ``path``, by default the file that comes with the rule book. ValueError for another format."""
    with open(path or suite_file(), encoding="utf-8") as file:
        head = loads(file.readline().strip() or "{}")
        if not isinstance(head, dict) or (head.get("format"), head.get("version")) != (FORMAT, VERSION):
            raise ValueError(f"this is no {FORMAT} file of version {VERSION}")
        return tuple(_case(loads(line)) for line in file if line.strip())


def _case(part: dict[str, Any]) -> SuiteCase:
    return SuiteCase(
        part["id"],
        part["rule"],
        part["clause"],
        part["form"],
        part["text"],
        tuple(CaseFinding(**finding) for finding in part["findings"]),
        part["twin"] or "",
        part["limit"] or "",
    )
