"""One line a finding, for editors and logs that read ``file:line:column: …``."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.base.document import Place
from torquewright.base.trouble import InputTrouble
from torquewright.verdict import Report


def finding_lines(report: Report) -> Iterator[str]:
    """``file:line:column: consequence, certainty: message (rule)`` for each finding and ``file:line:column: not read:
    text`` for each sentence that matters and was not read, in the order of the text."""
    held: list[tuple[Place, str]] = []
    for remark in report.findings:
        step = f"step {remark.step}: " if remark.step else ""
        told = f"{remark.consequence}, {remark.certainty}: {step}{remark.message} ({remark.rule})"
        held.append((remark.place or Place(report.file, 1, 1, 1, 1), told))
    held += ((sentence.place, f"not read: {sentence.text}") for sentence in report.untold)
    for place, told in sorted(held, key=lambda pair: (pair[0].file != report.file, *pair)):
        yield _flat(f"{place}: {told}")


def trouble_lines(trouble: InputTrouble) -> Iterator[str]:
    """``file:line:column: cannot be read: message; instead: …`` for each fault of the input."""
    for fault in trouble.faults:
        instead = f"; instead: {fault.wanted}" if fault.wanted else ""
        yield _flat(f"{fault.place}: cannot be read: {fault.message}{instead}")


def _flat(text: str) -> str:
    """On one line, and with nothing in it that a terminal could obey."""
    return "".join(character if character.isprintable() else " " for character in text)
