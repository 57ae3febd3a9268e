"""A text somebody wrote, and places in it.

Lines and columns count from 1 and count Unicode code points of the text with its line ends folded to one
line feed. A place's end column is one past the last character, so an empty place has ``column == end_column``.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

Path = tuple[str | int, ...]
"""Where a value sits in a document: ``("step", 3, "do", 0, "to")``; list positions count from 0."""


class Place(NamedTuple):
    """A stretch of a document. ``file`` is the name the reader was given, ``"-"`` for standard input."""

    file: str
    line: int
    column: int
    end_line: int
    end_column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


class Document:
    """The name and the text of one input.

    ``text`` has no byte order mark and its line ends are folded to ``"\\n"``; every offset, line and column in
    Torquewright refers to this folded text.
    """

    __slots__ = ("_starts", "name", "text")

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        self.text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
        self._starts: list[int] | None = None

    def _line_starts(self) -> list[int]:
        # Worked out on first use: a sound document is checked without ever asking for a line.
        if self._starts is None:
            starts = [0]
            find = self.text.find
            at = find("\n")
            while at >= 0:
                starts.append(at + 1)
                at = find("\n", at + 1)
            self._starts = starts
        return self._starts

    def position(self, offset: int) -> tuple[int, int]:
        """The (line, column) of a character offset, both from 1; offsets outside the text are clamped."""
        from bisect import bisect_right

        offset = max(0, min(offset, len(self.text)))
        starts = self._line_starts()
        line = bisect_right(starts, offset)
        return line, offset - starts[line - 1] + 1

    def place(self, start: int, end: int) -> Place:
        """The place of the characters ``start`` to ``end`` (offsets, end excluded)."""
        line, column = self.position(start)
        end_line, end_column = self.position(max(start, end))
        return Place(self.name, line, column, end_line, end_column)

    def offset(self, line: int, column: int) -> int:
        """The character offset of a line and column; clamped to the text."""
        starts = self._line_starts()
        if line > len(starts):
            return len(self.text)
        return min(starts[max(line, 1) - 1] + max(column, 1) - 1, len(self.text))

    def line(self, number: int) -> str:
        """The text of a line (from 1) without its line end; empty outside the text."""
        starts = self._line_starts()
        if not 1 <= number <= len(starts):
            return ""
        end = starts[number] - 1 if number < len(starts) else len(self.text)
        return self.text[starts[number - 1] : end]

    def whole(self) -> Place:
        """The place of the first line, for what concerns the document as a whole."""
        return Place(self.name, 1, 1, 1, len(self.line(1)) + 1)


class Places:
    """From the path of a value to its place, for the several documents of one job.

    Each part of a job ("procedure", "catalogue", "tools", "kit") has one or more documents, each with a finder, a
    function from a path to character offsets. Finders are called only when something is shown. A path that cannot
    be found is shortened from its end, so the answer is never a wrong line, at worst a wider one.
    """

    __slots__ = ("_parts",)

    def __init__(self) -> None:
        self._parts: dict[str, list[tuple[Document, Callable[[Path], tuple[int, int] | None]]]] = {}

    def add(self, part: str, document: Document, find: Callable[[Path], tuple[int, int] | None]) -> None:
        """Let ``part`` be found in ``document`` by ``find``, which answers offsets or None. Earlier ones come first."""
        self._parts.setdefault(part, []).append((document, find))

    def document(self, part: str = "procedure") -> Document | None:
        """The first document of a part, or None when the part was built without one."""
        held = self._parts.get(part)
        return held[0][0] if held else None

    def find(self, path: Path, part: str = "procedure") -> Place | None:
        """The place of ``path`` in ``part``; None only when the part has no document at all."""
        held = self._offsets(path, part)
        return held[0].place(held[1], held[2]) if held else None

    def within(self, path: Path, start: int, end: int, part: str = "procedure") -> Place | None:
        """The place of the characters ``start`` to ``end`` of the text value at ``path``.

        The whole value where it is written with escapes, or where the offsets do not lie in it.
        """
        held = self._offsets(path, part)
        if held is None:
            return None
        document, first, last = held
        if "\\" in document.text[first:last] or not 0 <= start <= end <= last - first:
            return document.place(first, last)
        return document.place(first + start, first + end)

    def _offsets(self, path: Path, part: str) -> tuple[Document, int, int] | None:
        held = self._parts.get(part)
        if held is None:
            return None
        while path:
            for document, find in held:
                offsets = find(path)
                if offsets is not None:
                    return document, *offsets
            path = path[:-1]
        return held[0][0], 0, len(held[0][0].line(1))
