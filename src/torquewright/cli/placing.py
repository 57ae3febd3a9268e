"""A report written to a file: aside first, then moved into place, so that nobody ever reads half of one."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable, Iterator
from typing import TextIO

from torquewright.base.trouble import InputTrouble
from torquewright.cli import NOT_READ, WRONG_COMMAND
from torquewright.cli.outcomes import Outcome

Outcomes = Iterable[tuple[str, Outcome]]


def written_to(name: str, outcomes: Outcomes, write: Callable[[Outcomes, TextIO], int]) -> int:
    """Let ``write`` write the outcomes to the file ``name``; the exit status.

    A file that takes part in the check is never written over: the report would take the place of the procedure.
    """
    aside = f"{name}.{os.getpid()}.part"
    taken: set[str] = set()
    try:
        with open(aside, "w", encoding="utf-8", errors="replace", newline="\n") as out:
            status = write(_watched(outcomes, taken), out)
        if any(_same(name, other) for other in taken):
            sys.stderr.write(f"torquewright check: {name} takes part in the check; write the report to another file\n")
            return WRONG_COMMAND
        os.replace(aside, name)
    except OSError as fault:
        sys.stderr.write(f"torquewright check: {name}: cannot be written: {(fault.strerror or str(fault)).lower()}\n")
        return NOT_READ
    finally:
        if os.path.exists(aside):
            os.unlink(aside)
    return status


def _watched(outcomes: Outcomes, taken: set[str]) -> Iterator[tuple[str, Outcome]]:
    """The outcomes as they come; the names of all files they rest on go into ``taken``."""
    for file, outcome in outcomes:
        taken.add(file)
        taken.update(outcome.documents)
        if isinstance(outcome, InputTrouble):
            taken.update(fault.place.file for fault in outcome.faults)
        yield file, outcome


def _same(name: str, other: str) -> bool:
    try:
        return os.path.samefile(name, other)
    except OSError:
        return False
