"""A rule told to people or to programs: what it asks, why, and one faulty case beside its sound twin."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from torquewright.book.texts import CONSEQUENCES, Case, RuleText
from torquewright.report.excerpt import clean
from torquewright.report.terminal import Look


def rule_lines(rule: RuleText, look: Look) -> Iterator[str]:
    """The rule for people, line by line."""
    yield look.paint(rule.id, "strong")
    yield f"  {rule.title}"
    if rule.asked != rule.id:
        yield f"  ({rule.asked} is the name it had before)"
    yield ""
    yield from look.paragraph("leads to:", f"{rule.consequence}. {CONSEQUENCES[rule.consequence]}")
    yield from look.paragraph("why:", rule.reason)
    for sentence in rule.clauses.values():
        yield from look.paragraph("rule:", sentence)
    for source in rule.sources:
        yield from look.paragraph("source:", source)
    yield from look.paragraph("family:", f"{rule.family}, in the book since edition {rule.since}")
    pair = first_pair(rule)
    if pair:
        yield ""
        yield from _pair_lines(*pair, look)


def first_pair(rule: RuleText) -> tuple[Case, Case] | None:
    """The first faulty case and its twin; None for a rule loaded without cases."""
    by_id = {case.id: case for case in rule.cases}
    for case in rule.cases:
        if not case.sound and case.twin in by_id:
            return case, by_id[case.twin]
    return None


def _pair_lines(faulty: Case, twin: Case, look: Look) -> Iterator[str]:
    told = "The lines marked x are the fault; with those marked o instead it is sound."
    yield from look.paragraph("example:", f"{faulty.id}. {told}")
    yield ""
    marked = [(mark, clean(line)) for mark, line in marked_lines(faulty.text, twin.text)]
    yield from _side_by_side(marked, look) if look.width >= _TWO_COLUMNS else _below_each_other(marked, look)
    findings = [f"step {f.step}" if f.step else "the procedure as a whole" for f in faulty.findings]
    yield ""
    yield from look.paragraph("found in:", ", ".join(dict.fromkeys(findings)))


def _below_each_other(marked: list[tuple[str, str]], look: Look) -> Iterator[str]:
    for mark, line in marked:
        shown = f"  {mark} {line}".rstrip()
        yield look.paint(shown, {"x": "no-go", "o": "go"}[mark]) if mark != " " else shown


def _side_by_side(marked: list[tuple[str, str]], look: Look) -> Iterator[str]:
    """What both texts hold runs across; where they differ, the faulty lines stand left and the sound ones right."""
    from itertools import groupby, zip_longest

    half = (look.width - 9) // 2
    for same, held in groupby(marked, lambda pair: pair[0] == " "):
        if same:
            yield from (f"    {line}".rstrip() for _, line in held)
            continue
        columns: dict[str, list[str]] = {"x": [], "o": []}
        for mark, line in held:
            columns[mark] += [f"{sign} {piece}" for sign, piece in _folded(mark, line, half)]
        for left, right in zip_longest(columns["x"], columns["o"], fillvalue=""):
            gap = " " * (half + 2 - len(left))
            yield f"  {look.paint(left, 'no-go')}{gap} │ {look.paint(right, 'go')}".rstrip()


def _folded(mark: str, line: str, room: int) -> Iterator[tuple[str, str]]:
    """A line in pieces of ``room`` columns, broken at blanks where there are any; the first has the mark."""
    while len(line) > room:
        at = line.rfind(" ", len(line) - len(line.lstrip()) + 1, room + 1)
        cut = at if at > 0 else room
        yield mark, line[:cut].rstrip()
        mark, line = " ", f"  {line[cut:].lstrip()}"
    yield mark, line


def marked_lines(faulty: str, sound: str) -> Iterator[tuple[str, str]]:
    """The lines of both texts once: ("x", line) only in the faulty one, ("o", line) only in the sound one."""
    from difflib import SequenceMatcher  # only `why` and the rule pages compare texts

    before, after = faulty.strip("\n").split("\n"), sound.strip("\n").split("\n")
    for tag, a0, a1, b0, b1 in SequenceMatcher(None, before, after, autojunk=False).get_opcodes():
        if tag == "equal":
            yield from ((" ", line) for line in before[a0:a1])
        else:
            yield from (("x", line) for line in before[a0:a1])
            yield from (("o", line) for line in after[b0:b1])


def rule_part(rule: RuleText) -> dict[str, Any]:
    """The rule for programs: everything its file states."""
    return {
        "id": rule.id,
        "family": rule.family,
        "since": rule.since,
        "consequence": rule.consequence,
        "title": rule.title,
        "reason": rule.reason,
        "clauses": rule.clauses,
        "facts": rule.facts,
        "sources": list(rule.sources),
        "cases": [case_part(case) for case in rule.cases],
    }


def case_part(case: Case) -> dict[str, Any]:
    """One case for programs."""
    return {
        "id": case.id,
        "clause": case.clause,
        "form": case.form,
        "limit": case.limit or None,
        "twin": case.twin or None,
        "text": case.text,
        "findings": [finding._asdict() for finding in case.findings],
    }


_TWO_COLUMNS = 96  # narrower, two columns break nearly every line
_TITLE_ROOM = 30  # columns a title needs beside its name before the list goes into columns


def list_lines(rules: Iterable[RuleText], look: Look) -> Iterator[str]:
    """All rules by family: name, what it leads to, title."""
    families: dict[str, list[RuleText]] = {}
    for rule in rules:
        families.setdefault(rule.family, []).append(rule)
    wide = max((len(rule.id) for held in families.values() for rule in held), default=0)
    harm = max(len(consequence) for consequence in CONSEQUENCES)
    in_columns = look.width - wide - harm - 6 >= _TITLE_ROOM
    for at, family in enumerate(sorted(families)):
        if at:
            yield ""
        yield look.paint(family, "strong")
        for rule in families[family]:
            if in_columns:
                yield from look.paragraph(f"{rule.id:{wide}}  {rule.consequence:{harm}} ", rule.title)
            else:
                yield f"  {rule.id} ({rule.consequence})"
                yield from ("    " + told.strip() for told in look.paragraph("", rule.title))
