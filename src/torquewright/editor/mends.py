"""Edits offered for what is marked: safe rewrites, the name that was meant, and letting a finding stand.

No edit changes a number. A rewrite is offered only after the text with it in place was read again and came to the
same procedure. Letting a finding stand writes the rule and leaves the reason empty: it is let stand once somebody has
written why, and until then it stays a finding.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from torquewright.base.document import Document
from torquewright.editor.desk import Records, Sight
from torquewright.editor.marks import NO_RULES, Mark
from torquewright.reading.job import Job
from torquewright.rewrite import Edit, ReadAgain, applied, edits, meaning, rewrite

_ABOUT_ACCEPTING = frozenset({"acceptance-stale", "accepted-without-reason"})

Change = tuple[int, int, str]
"""Put the text in place of the characters between two offsets."""


class Mend(NamedTuple):
    """One thing that can be done: its changes, and the mark it answers where it answers one."""

    title: str
    changes: tuple[Change, ...]
    mark: Mark | None = None
    everywhere: bool = False


def mends_for(
    sight: Sight,
    marks: Iterable[Mark],
    start: int,
    end: int,
    *,
    texts: Mapping[str, str] | None = None,
    records: Records | None = None,
) -> Iterator[Mend]:
    """What can be done about ``marks`` and about the characters ``start`` to ``end``."""
    for mark in marks:
        yield from _meant(sight.document, mark)
    if sight.job is not None:
        again = ReadAgain(sight.document.name, **(records or Records())._asdict(), texts=texts)
        yield from _rewrites(sight.job, sight.document, start, end, again)
    for mark in marks:
        if sight.job is None or mark.rule in NO_RULES:
            continue
        if mark.rule in _ABOUT_ACCEPTING:
            yield from _taken_out(sight.document, mark)
        else:
            change = let_stand(sight.job, sight.document, mark)
            if change is not None:
                yield Mend(f"Let it stand: {mark.rule} (write the reason)", (change,), mark)


def all_rewrites(
    sight: Sight, *, texts: Mapping[str, str] | None = None, records: Records | None = None
) -> Mend | None:
    """Every safe edit of the text at once; None where there is none."""
    if sight.job is None:
        return None
    again = ReadAgain(sight.document.name, **(records or Records())._asdict(), texts=texts)
    held = rewrite(sight.job, read_again=again).edits
    changes = tuple((edit.start, edit.end, edit.new) for edit in held)
    return Mend("Make all safe edits; no number is changed", changes, everywhere=True) if changes else None


def _rewrites(job: Job, document: Document, start: int, end: int, again: ReadAgain) -> Iterator[Mend]:
    line_start = document.text.rfind("\n", 0, start) + 1
    line_end = document.text.find("\n", end)
    line_end = len(document.text) if line_end < 0 else line_end
    assert job.procedure is not None
    plain = meaning(job.procedure)
    for group in _together(edits(job)):
        if not any(line_start <= edit.end and edit.start <= line_end for edit in group):
            continue
        procedure = again(applied(document.text, group))
        if procedure is not None and meaning(procedure) == plain:
            why = group[0].why
            yield Mend(f"{why[0].upper()}{why[1:]}", tuple((edit.start, edit.end, edit.new) for edit in group))


def _together(held: Iterable[Edit]) -> Iterator[list[Edit]]:
    """Edits that make sense only together: what takes text away and what puts it elsewhere, for one reason."""
    moves: dict[str, list[Edit]] = {}
    single = []
    for edit in held:
        moves.setdefault(edit.why, []).append(edit)
    for group in moves.values():
        if any(not edit.new for edit in group):
            yield group
        else:
            single += group
    for edit in sorted(single):
        yield [edit]


def _meant(document: Document, mark: Mark) -> Iterator[Mend]:
    """The words a fault of input proposes in place of those it found, where it names some."""
    found = re.fullmatch(r"did you mean (.+)\?", mark.wanted)
    if found is None or mark.place.file != document.name:
        return
    start = document.offset(mark.place.line, mark.place.column)
    end = document.offset(mark.place.end_line, mark.place.end_column)
    if document.text[start:end] != mark.found or any(sign.isdigit() for sign in mark.found):
        return  # a word with a figure in it may be another part of the same machine
    for word in re.split(r", | or ", found.group(1)):
        yield Mend(f"Write {word}", ((start, end, word.strip('"')),), mark)


def _taken_out(document: Document, mark: Mark) -> Iterator[Mend]:
    """The comment of a draft that lets stand what is no longer found, taken out."""
    start = document.offset(mark.place.line, mark.place.column)
    end = document.offset(mark.place.end_line, mark.place.end_column)
    if document.text.startswith("<!--", start) and document.text.endswith("-->", start, end):
        ahead = start - 1 if document.text[start - 1 : start] == " " else start
        yield Mend("Take the comment out", ((ahead, end, ""),), mark)


# -- letting a finding stand ------------------------------------------------------------------------------------------


def let_stand(job: Job, document: Document, mark: Mark) -> Change | None:
    """The place for the reason why the finding of ``mark`` is let stand; None where there is none."""
    index = _step_of(job, document, mark)
    if index is None and mark.step:
        return None
    if job.form == "draft":
        return _comment(job, document, mark.rule, index)
    return _key(job, document, mark.rule, index)


def _step_of(job: Job, document: Document, mark: Mark) -> int | None:
    """The index of the step a finding is about; of several with its label the one its place stands in."""
    if job.procedure is None or not mark.step:
        return None
    labelled = [index for index, step in enumerate(job.procedure.steps) if step.label == mark.step]
    if mark.place.file == document.name:
        begun = [index for index in labelled if (place := job.places.find(("step", index))) and place <= mark.place]
        labelled = begun[-1:] or labelled
    return labelled[0] if labelled else None


def _comment(job: Job, document: Document, rule: str, index: int | None) -> Change | None:
    assert job.draft is not None
    if index is None:
        if not job.draft.steps:
            return None
        first = job.draft.steps[0].item.start
        at = document.text.rfind("\n", 0, first) + 1
        return at, at, f"<!-- accept {rule}: -->\n\n"
    item = job.draft.steps[index].item
    if not item.stretches:
        return None
    at = item.stretches[-1].end
    at -= len(document.text[:at]) - len(document.text[:at].rstrip())
    return at, at, f" <!-- accept {rule}: -->"


def _key(job: Job, document: Document, rule: str, index: int | None) -> Change | None:
    path: tuple[str | int, ...] = ("accept",) if index is None else ("step", index, "accept")
    place = job.places.find(path)
    text = document.text
    if place is not None:
        start = document.offset(place.line, place.column)
        end = document.offset(place.end_line, place.end_column)
        written = text[start:end]
        if written.startswith("{"):
            inner = written[1:-1].rstrip()
            at = start + 1 + len(inner)
            return at, at, f'{"," if inner.strip() else ""} {rule} = ""' + ("" if inner.strip() else " ")
    if index is None:
        first = re.search(r"(?m)^[ \t]*\[", text)
        at = first.start() if first else len(text)
        return at, at, f'accept = {{ {rule} = "" }}\n'
    header = job.places.find(("step", index))
    if header is None:
        return None
    at = document.offset(header.line + 1, 1)
    return at, at, f'accept = {{ {rule} = "" }}\n'
