"""Columns as an editor counts them: from 0, in code units of the encoding the two sides agreed on.

Torquewright counts code points from 1. Most editors count UTF-16 code units, of which an emoji takes two.
"""

from __future__ import annotations

from collections.abc import Callable

from torquewright.base.document import Document, Place

Position = tuple[int, int]
"""A line and a column, both from 0, in the editor's units."""

_UNITS: dict[str, Callable[[str], int]] = {
    "utf-8": lambda text: len(text.encode("utf-8", "surrogatepass")),
    "utf-16": lambda text: len(text) + sum(sign > "\uffff" for sign in text),
    "utf-32": len,
}


def position(document: Document, line: int, column: int, encoding: str) -> Position:
    """The editor's position of a line and a column of ours."""
    return line - 1, _UNITS[encoding](document.line(line)[: column - 1])


def of_offset(document: Document, offset: int, encoding: str) -> Position:
    """The editor's position of a character offset."""
    return position(document, *document.position(offset), encoding)


def span(document: Document, place: Place, encoding: str) -> tuple[Position, Position]:
    """The editor's positions of a place's two ends."""
    return (
        position(document, place.line, place.column, encoding),
        position(document, place.end_line, place.end_column, encoding),
    )


def offset(document: Document, at: Position, encoding: str) -> int:
    """The character offset of an editor's position; clamped to its line, and to the text."""
    line, units = at
    if encoding == "utf-32":
        column = units
    else:
        count = _UNITS[encoding]
        column = 0
        for sign in document.line(line + 1):
            units -= count(sign)
            if units < 0:
                break
            column += 1
    return document.offset(line + 1, min(column, len(document.line(line + 1))) + 1)
