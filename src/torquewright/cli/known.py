"""Baselines on the command line: write one, or set its findings aside."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Iterator

from torquewright.base.document import Place
from torquewright.base.trouble import Fault, InputTrouble
from torquewright.baseline import against, read, written
from torquewright.cli import GO, NOT_READ
from torquewright.cli.outcomes import Outcome
from torquewright.report.lines import trouble_lines


def set_known_aside(outcomes: Iterable[tuple[str, Outcome]], name: str) -> Iterator[tuple[str, Outcome]]:
    """The outcomes with the findings of the baseline ``name`` set aside; what is no longer found is told."""
    try:
        known = read(name)
    except InputTrouble as trouble:
        yield name, trouble
        return
    except OSError as fault:
        told = (fault.strerror or str(fault)).lower()
        yield name, InputTrouble([Fault(Place(name, 1, 1, 1, 1), told, "", "the name of a baseline that can be read")])
        return
    for file, outcome in outcomes:
        if isinstance(outcome, InputTrouble):
            yield file, outcome
            continue
        report, gone = against(outcome, known)
        if gone:
            word = "finding" if gone == 1 else "findings"
            sys.stderr.write(f"{file}: {gone} {word} of the baseline no longer found; write the baseline anew\n")
        yield file, report


def write_known(outcomes: Iterable[tuple[str, Outcome]], name: str) -> int:
    """Write the findings of all outcomes to the baseline ``name``; nothing is written when a file cannot be read."""
    reports = []
    for _, outcome in outcomes:
        if isinstance(outcome, InputTrouble):
            for line in trouble_lines(outcome):
                sys.stderr.write(line + "\n")
            return NOT_READ
        reports.append(outcome)
    try:
        with open(name + ".writing", "w", encoding="utf-8", newline="\n") as file:
            file.write(written(reports))
        os.replace(name + ".writing", name)
    except OSError as fault:
        sys.stderr.write(f"{name}: cannot be written: {fault.strerror}\n")
        return NOT_READ
    count = sum(len(report.findings) for report in reports)
    files = "1 file" if len(reports) == 1 else f"{len(reports)} files"
    print(f"{name}: {count} {'finding' if count == 1 else 'findings'} in {files}")
    return GO
