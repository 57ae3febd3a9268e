"""What is wrong with a text that is no TOML, in words that say what to write instead."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from torquewright.base.trouble import Fault

if TYPE_CHECKING:
    from torquewright.reading.parsing import Parsed


def explain(parsed: Parsed, complaint: str, start: int) -> list[Fault]:
    """The fault behind a parser's ``complaint``, which ends in the line and column it noticed."""
    document = parsed.document
    where = re.search(r"\(at line (\d+), column (\d+)\)$", complaint)
    first, _ = document.position(start)
    if where:
        offset = document.offset(int(where[1]) + first - 1, int(where[2]))
    else:
        offset = len(document.text)
    line, _ = document.position(offset)
    begin = document.offset(line, 1)
    message = complaint[: complaint.rfind("(at")].strip() or complaint
    return [Fault(document.place(begin, begin + len(document.line(line))), f"not TOML: {message}", document.line(line), "a line of TOML")]
