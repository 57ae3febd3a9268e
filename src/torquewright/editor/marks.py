"""Marks in a text: findings, unread sentences and faults of input, each with how grave it is and what to do."""

from __future__ import annotations

import os
from collections.abc import Sequence
from typing import NamedTuple

from torquewright.base.document import Document, Place
from torquewright.base.trouble import Fault
from torquewright.book.texts import GRAVE
from torquewright.reading.job import Unread
from torquewright.weighing import Remark

ERROR, WARNING, INFORMATION = 1, 2, 3
"""How grave a mark is, in the numbers of the protocol."""

UNREAD = "not-read"
CANNOT_BE_READ = "cannot-be-read"
RECORDS_BROKEN = "records-cannot-be-read"
OWN_FAULT = "own-fault"
NO_RULES = frozenset({UNREAD, CANNOT_BE_READ, RECORDS_BROKEN, OWN_FAULT})
"""What a mark may come from besides a rule."""


class Mark(NamedTuple):
    """One thing to say about a stretch of text. ``rule`` is the rule it comes from, or one of the words above;
    ``also`` are second places with what they are; ``step`` is the label of the step and ``found`` and ``wanted`` what
    a fault of input quotes and proposes."""

    place: Place
    rule: str
    severity: int
    message: str
    also: tuple[tuple[Place, str], ...] = ()
    step: str = ""
    found: str = ""
    wanted: str = ""


def severity_of(consequence: str, certainty: str) -> int:
    """An error stops the job (*no-go*); what must be asked first is a warning where it is grave or certain."""
    if certainty == "unstated":
        return WARNING if consequence in GRAVE else INFORMATION
    return ERROR if consequence in GRAVE else WARNING


def of_remark(remark: Remark, document: Document) -> Mark:
    """The mark of a finding; one without a place stands on the first line of ``document``."""
    step = f"step {remark.step}: " if remark.step else ""
    lead = {"certain": "", "likely": "likely ", "unstated": "not stated: "}[remark.certainty]
    lines = [f"{lead}{remark.consequence}: {step}{remark.message}"]
    if remark.because:
        lines.append(f"because: {remark.because}")
    lines.append(f"instead: {remark.instead}")
    also = tuple((place, "what it is held against") for place in remark.also)
    severity = severity_of(remark.consequence, remark.certainty)
    return Mark(remark.place or document.whole(), remark.rule, severity, "\n".join(lines), also, remark.step)


def of_unread(sentence: Unread) -> Mark:
    """The mark of a sentence that matters and was not understood."""
    return Mark(sentence.place, UNREAD, INFORMATION, f"not read, so not judged: {sentence.reason}")


def of_fault(fault: Fault) -> Mark:
    """The mark of what makes a file unreadable."""
    told = f"{fault.message}\ninstead: {fault.wanted}" if fault.wanted else fault.message
    return Mark(fault.place, CANNOT_BE_READ, ERROR, told, found=fault.found, wanted=fault.wanted)


def of_records(place: Place, file: str, faults: Sequence[Fault]) -> Mark:
    """The mark where a text names a file of records that cannot be read."""
    count = "1 mistake" if len(faults) == 1 else f"{len(faults)} mistakes"
    told = f"{os.path.basename(file)} cannot be read, so nothing is judged: {count}, the first: {faults[0].message}"
    return Mark(place, RECORDS_BROKEN, ERROR, told, tuple((fault.place, fault.message) for fault in faults[:10]))
