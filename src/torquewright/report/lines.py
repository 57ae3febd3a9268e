"""One line a finding, for editors and logs that read ``file:line:column: …``."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.base.trouble import InputTrouble
from torquewright.verdict import Report


def finding_lines(report: Report) -> Iterator[str]:
    """``file:line:column: consequence, certainty: message (rule)``; unread sentences that matter follow."""
    for remark in report.findings:
        place = remark.place or f"{report.file}:1:1"
        step = f"step {remark.step}: " if remark.step else ""
        yield _flat(f"{place}: {remark.consequence}, {remark.certainty}: {step}{remark.message} ({remark.rule})")
    for sentence in report.unread:
        if sentence.matters:
            yield _flat(f"{sentence.place}: not read: {sentence.text}")


def trouble_lines(trouble: InputTrouble) -> Iterator[str]:
    """``file:line:column: cannot be read: message; instead: …`` for each fault of the input."""
    for fault in trouble.faults:
        yield _flat(f"{fault.place}: cannot be read: {fault.message}; instead: {fault.wanted}")


def _flat(text: str) -> str:
    """On one line, and with nothing in it that a terminal could obey."""
    return "".join(character if character.isprintable() else " " for character in text)
