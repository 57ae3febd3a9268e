"""Where each value of a TOML text stands: from its path to character offsets.

The values themselves come from ``tomllib``, which keeps no places. This scanner reads the same text once more, and
only when something is to be shown. It takes any text: where it cannot follow, it goes on with the next line.
"""

from __future__ import annotations

import re
from functools import lru_cache

from torquewright.base.document import Document, Path
from torquewright.reading.naming import id_from_name

Span = tuple[int, int]

DEEPEST = 64
"""Nesting and dotted keys are followed so far and no further."""


@lru_cache(maxsize=1)
def _patterns() -> tuple[re.Pattern[str], ...]:
    # built on first use: a sound file is checked without any of them
    gap = re.compile(r"(?:[ \t\n]+|#[^\n]*)+")
    key = re.compile(r"""[ \t]*(?:([A-Za-z0-9_-]+)|"((?:[^"\\\n]|\\.)*)"|'([^'\n]*)')[ \t]*""")
    basic = re.compile(r'"((?:[^"\\\n]|\\.)*)"')
    literal = re.compile(r"'([^'\n]*)'")
    long_basic = re.compile(r'"""\n?((?:[^"\\]|\\[\s\S]|"{1,2}(?!"))*)(?:""(?="""))?("?)"""')
    bare = re.compile(r"\d{4}-\d\d-\d\d \d\d:\d\d[^\s,\]}#]*|[^\s,\]}#]+")
    return gap, key, basic, literal, long_basic, bare


class _Lost(Exception):
    """The text cannot be followed at ``at``."""

    def __init__(self, at: int) -> None:
        self.at = at


class TomlPlaces:
    """The places of one TOML document, or of the stretch ``start`` to ``end`` of a document.

    A value's place is the value as written; for a text it is what stands between the quotes. A table's place is
    its header. In the tables that come in numbers a record may be named by its id in place of its number.
    """

    __slots__ = ("_end", "_ids", "_keys", "_start", "_values", "document", "repeated")

    def __init__(self, document: Document, start: int = 0, end: int | None = None) -> None:
        self.document = document
        self.repeated: list[tuple[Span, Span]] = []
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
                    text = _decoded(self.document.text[span[0] : span[1]])
                    ids.setdefault(text if key == "id" else id_from_name(text), number)
                    break
            number += 1
        return ids

    def _scanned(self) -> dict[Path, Span]:
        if self._values is None:
            self._values = {}
            _Scan(self.document.text, self._start, self._end, self._values, self._keys, self.repeated).run()
        return self._values


def _decoded(raw: str) -> str:
    if "\\" not in raw:
        return raw
    import tomllib

    try:
        value = tomllib.loads(f'v = "{raw}"')["v"]
    except ValueError:
        return raw
    return str(value)


class _Scan:
    """One pass over the text."""

    __slots__ = ("_arrays", "_end", "_keys", "_repeated", "_text", "_values")

    def __init__(
        self,
        text: str,
        start: int,
        end: int,
        values: dict[Path, Span],
        keys: dict[Path, Span],
        repeated: list[tuple[Span, Span]],
    ) -> None:
        self._text = text[:end] if end < len(text) else text
        self._end = start
        self._values = values
        self._keys = keys
        self._repeated = repeated
        self._arrays: dict[Path, int] = {}

    def run(self) -> None:
        """Follow the text statement by statement."""
        text = self._text
        gap = _patterns()[0]
        at = self._end
        here: Path = ()
        while True:
            match = gap.match(text, at)
            at = match.end() if match else at
            if at >= len(text):
                return
            try:
                at, here = self._header(at, here) if text[at] == "[" else (self._pair(at, here, 0), here)
                line_end = text.find("\n", at)
                rest = text[at : line_end if line_end >= 0 else len(text)].strip(" \t")
                if rest and not rest.startswith("#"):
                    raise _Lost(at)
            except _Lost as lost:
                line_end = text.find("\n", max(lost.at, at))
                if line_end < 0:
                    return
                at = line_end

    def _key(self, at: int) -> tuple[int, list[tuple[str, Span]]]:
        key = _patterns()[1]
        parts: list[tuple[str, Span]] = []
        while True:
            match = key.match(self._text, at)
            if match is None or len(parts) > DEEPEST:
                raise _Lost(at)
            group = match.lastindex or 1
            raw = match[group]
            parts.append((_decoded(raw) if group == 2 else raw, match.span(group)))
            at = match.end()
            if self._text[at : at + 1] != ".":
                return at, parts
            at += 1

    def _header(self, at: int, here: Path) -> tuple[int, Path]:
        double = self._text.startswith("[[", at)
        after, parts = self._key(at + (2 if double else 1))
        closing = "]]" if double else "]"
        if not self._text.startswith(closing, after):
            raise _Lost(after)
        after += len(closing)
        path: Path = ()
        for part, span in parts[:-1]:
            path = self._inside((*path, part))
            self._values.setdefault(path, (at, after))
            self._keys.setdefault(path, span)
        path = (*path, parts[-1][0])
        if double:
            self._values.setdefault(path, (at, after))
            number = self._arrays.get(path, -1) + 1
            self._arrays[path] = number
            path = (*path, number)
            self._values[path] = (at, after)
        else:
            path = self._inside(path)
            before = self._values.get(path)
            if before is not None and self._text[before[0] : before[0] + 1] == "[":
                self._repeated.append((before, (at, after)))
            self._values[path] = (at, after)
        self._keys[path] = parts[-1][1]
        return after, path

    def _inside(self, path: Path) -> Path:
        number = self._arrays.get(path)
        return path if number is None else (*path, number)

    def _pair(self, at: int, here: Path, depth: int) -> int:
        at, parts = self._key(at)
        if self._text[at : at + 1] != "=":
            raise _Lost(at)
        path = here
        for part, span in parts:
            if path is not here:
                self._values.setdefault(path, before)
            path = (*path, part)
            before = span
            self._keys.setdefault(path, span)
        if path in self._values:
            self._repeated.append((self._keys[path], parts[-1][1]))
        return self._value(at + 1, path, depth)

    def _gap(self, at: int, *, lines: bool = True) -> int:
        if lines:
            match = _patterns()[0].match(self._text, at)
            return match.end() if match else at
        while self._text[at : at + 1] in (" ", "\t"):
            at += 1
        return at

    def _value(self, at: int, path: Path, depth: int) -> int:
        text = self._text
        at = self._gap(at, lines=False)
        first = text[at : at + 1]
        _, _, basic, literal, long_basic, bare = _patterns()
        if first == '"' or first == "'":
            if text.startswith('"""', at):
                match = long_basic.match(text, at)
                span = match and (match.start(1), match.end(2) or match.end(1))
            elif text.startswith("'''", at):
                return self._long_literal(at, path)
            else:
                match = (basic if first == '"' else literal).match(text, at)
                span = match and match.span(1)
            if match is None or span is None:
                raise _Lost(at)
            self._values.setdefault(path, span)
            return match.end()
        if first == "[":
            return self._array(at, path, depth + 1)
        if first == "{":
            return self._inline(at, path, depth + 1)
        match = bare.match(text, at)
        if match is None:
            raise _Lost(at)
        self._values.setdefault(path, match.span())
        return match.end()

    def _long_literal(self, at: int, path: Path) -> int:
        text = self._text
        end = text.find("'''", at + 3)
        if end < 0:
            raise _Lost(at)
        while text.startswith("''''", end):
            end += 1
        start = at + 4 if text.startswith("\n", at + 3) else at + 3
        self._values.setdefault(path, (start, end))
        return end + 3

    def _array(self, at: int, path: Path, depth: int) -> int:
        if depth > DEEPEST:
            raise _Lost(at)
        start = at
        self._values.setdefault(path, (at, at + 1))
        at = self._gap(at + 1)
        number = 0
        while self._text[at : at + 1] != "]":
            at = self._gap(self._value(at, (*path, number), depth))
            number += 1
            if self._text[at : at + 1] == ",":
                at = self._gap(at + 1)
            elif self._text[at : at + 1] != "]":
                raise _Lost(at)
        self._values[path] = (start, at + 1)
        return at + 1

    def _inline(self, at: int, path: Path, depth: int) -> int:
        if depth > DEEPEST:
            raise _Lost(at)
        start = at
        self._values.setdefault(path, (at, at + 1))
        at = self._gap(at + 1)
        while self._text[at : at + 1] != "}":
            at = self._gap(self._pair(at, path, depth))
            if self._text[at : at + 1] == ",":
                at = self._gap(at + 1)
            elif self._text[at : at + 1] != "}":
                raise _Lost(at)
        self._values[path] = (start, at + 1)
        return at + 1
