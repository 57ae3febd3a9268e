"""Where each value of a TOML text stands: from its path to character offsets.

The values themselves come from ``tomllib``, which keeps no places. The text is gone over once more, and only when
something is to be shown.
"""

from __future__ import annotations

from torquewright.base.document import Document, Path
from torquewright.toml.naming import id_from_name
from torquewright.toml.scan import Lost, Scan, Span, decoded


class TomlPlaces:
    """The places of one TOML document, or of the stretch ``start`` to ``end`` of a document.

    A value's place is the value as written; for a text it is what stands between the quotes. A table's place is
    its header. In the tables that come in numbers a record may be named by its id in place of its number.
    """

    __slots__ = ("_end", "_ids", "_keys", "_lost", "_repeated", "_start", "_text", "_values", "document")

    def __init__(self, document: Document, start: int = 0, end: int | None = None, text: str | None = None) -> None:
        self.document = document
        # a text in place of the document's own, with the same offsets: one where faults have been mended
        self._text = document.text if text is None else text
        self._repeated: list[tuple[Span, Span]] = []
        self._lost: list[Lost] = []
        self._start = start
        self._end = len(document.text) if end is None else end
        self._values: dict[Path, Span] | None = None
        self._keys: dict[Path, Span] = {}
        self._ids: dict[str, dict[str, int]] = {}

    def find(self, path: Path) -> Span | None:
        """The offsets of the value at ``path``, or None."""
        values = self._scanned()
        return values.get(path) or values.get(self._numbered(path))

    def key(self, path: Path) -> Span | None:
        """The offsets of the key of the value at ``path``, or None."""
        self._scanned()
        return self._keys.get(path) or self._keys.get(self._numbered(path))

    def nearest(self, path: Path) -> Span:
        """The offsets of the value at ``path``, or else of the nearest table around it."""
        while path:
            span = self.find(path)
            if span is not None:
                return span
            path = path[:-1]
        line_end = self.document.text.find("\n", self._start, self._end)
        return self._start, line_end if line_end >= 0 else self._end

    def within(self, path: Path, start: int, end: int) -> Span:
        """The offsets of the characters ``start`` to ``end`` of the text value at ``path``; the whole value where
        escapes stand in the way."""
        first, last = self.nearest(path)
        if "\\" in self.document.text[first:last] or not start <= end <= last - first:
            return first, last
        return first + start, first + end

    def inline_around(self, at: int) -> Span | None:
        """The narrowest inline table that spans the offset ``at``, however many lines it runs over."""
        text = self._text
        around = [span for span in self._scanned().values() if span[0] <= at <= span[1] and text[span[0]] == "{"]
        return min(around, key=lambda span: span[1] - span[0], default=None)

    def repeated(self) -> list[tuple[Span, Span]]:
        """The keys and headers given twice: the first and the later place of each."""
        self._scanned()
        return self._repeated

    def lost(self) -> list[Lost]:
        """The statements that could not be followed, in the order of the text."""
        self._scanned()
        return self._lost

    def _numbered(self, path: Path) -> Path:
        if len(path) < 2 or type(path[0]) is not str or type(path[1]) is not str:
            return path
        table, key = path[0], path[1]
        ids = self._ids.get(table)
        if ids is None:
            ids = self._ids[table] = self._ids_of(table)
        number = ids.get(key)
        return path if number is None else (table, number, *path[2:])

    def _ids_of(self, table: str) -> dict[str, int]:
        values = self._scanned()
        ids: dict[str, int] = {}
        number = 0
        while (table, number) in values:
            for key in ("id", "name"):
                span = values.get((table, number, key))
                if span is not None:
                    text = decoded(self._text[span[0] : span[1]])
                    ids.setdefault(text if key == "id" else id_from_name(text), number)
                    break
            number += 1
        return ids

    def _scanned(self) -> dict[Path, Span]:
        if self._values is None:
            self._values = {}
            scan = Scan(self._text, self._start, self._end, self._values, self._keys)
            scan.run()
            self._repeated, self._lost = scan.repeated, scan.lost
        return self._values
