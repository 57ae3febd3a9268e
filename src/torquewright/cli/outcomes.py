"""Files judged one after the other, their outcomes told to people, and the exit status they come to."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from typing import TextIO

from torquewright.base.document import Place
from torquewright.base.trouble import Fault, InputTrouble
from torquewright.cli import ASK_FIRST, GO, NO_GO, NOT_READ
from torquewright.cli.gather import procedures_in
from torquewright.report.terminal import look_of
from torquewright.toml.opening import LARGEST, decode
from torquewright.verdict import Report, check

_STATUS = {"go": GO, "ask first": ASK_FIRST, "no-go": NO_GO}
_WORST_FIRST = (NOT_READ, NO_GO, ASK_FIRST, GO)

Outcome = Report | InputTrouble


def judged(
    names: Iterable[str], *, catalogue: str | None = None, tools: str | None = None, kit: str | None = None
) -> Iterator[tuple[str, Outcome]]:
    """Each file the names stand for, with its report or its trouble, one after the other."""
    for name in names:
        files = procedures_in(name)
        if not files:
            place = Place(name, 1, 1, 1, 1)
            yield name, InputTrouble([Fault(place, "there is no procedure in this folder", "", "the name of a file")])
        for file in files:
            yield file, _outcome(file, catalogue, tools, kit)


def _outcome(file: str, catalogue: str | None, tools: str | None, kit: str | None) -> Outcome:
    try:
        text = decode(sys.stdin.buffer.read(LARGEST + 1), "-").text if file == "-" else None
        return check(file, text=text, catalogue=catalogue, tools=tools, kit=kit)
    except InputTrouble as trouble:
        return trouble


def status_of(outcome: Outcome) -> int:
    """The exit status one outcome comes to."""
    return NOT_READ if isinstance(outcome, InputTrouble) else _STATUS[outcome.verdict.word]


def worst(statuses: set[int]) -> int:
    """What several files come to together; GO where there was none to judge."""
    return next((status for status in _WORST_FIRST if status in statuses), GO)


def write_text(outcomes: Iterable[tuple[str, Outcome]], out: TextIO) -> int:
    """Tell people the outcomes, each as soon as it is known; the exit status."""
    from torquewright.report.text import caution_lines, report_lines, trouble_lines  # a report for programs needs none

    look = look_of(out)
    write = out.write
    statuses: set[int] = set()
    for _, outcome in outcomes:
        if statuses:
            write("\n")
        statuses.add(status_of(outcome))
        lines = trouble_lines(outcome, look) if isinstance(outcome, InputTrouble) else report_lines(outcome, look)
        for line in lines:
            write(line + "\n")
    if statuses - {NOT_READ}:
        for line in caution_lines(look):
            write(line + "\n")
    return worst(statuses)
