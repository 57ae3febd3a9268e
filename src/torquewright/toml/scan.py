"""A pass over a TOML text that notes where each key and each value stands.

It takes any text: where it cannot follow, it notes that and goes on with the next line.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from torquewright.base.document import Path

Span = tuple[int, int]

DEEPEST = 64
"""Nesting and dotted keys are followed so far and no further."""


@lru_cache(maxsize=1)
def _patterns() -> tuple[re.Pattern[str], ...]:
    # built on first use: a sound file is checked without any of them
    gap = re.compile(r"(?:[ \t\n]+|#[^\n]*)+")
    key = re.compile(r"""[ \t]*(?:([A-Za-z0-9_-]+)|"((?:[^"\\\n]++|\\.)*+)"|'([^'\n]*)')[ \t]*""")
    basic = re.compile(r'"((?:[^"\\\n]++|\\.)*+)"')
    literal = re.compile(r"'([^'\n]*)'")
    # Possessive inside only: a quote never closed still costs one pass, and Python before 3.11.5 fails to match a
    # possessive group whose last try fails (its issue 106052). Up to two quotes may end the text itself.
    long_basic = re.compile(r'"""\n?((?:[^"\\]++|\\[\s\S]|"(?!""))*)("{0,2})"""(?!")')
    bare = re.compile(r"\d{4}-\d\d-\d\d \d\d:\d\d[^\s,\]}#]*|[^\s,\]}#]+")
    return gap, key, basic, literal, long_basic, bare


class Lost(NamedTuple):
    """A statement from ``start`` that cannot be followed beyond ``at``; ``opened`` is its innermost open bracket,
    and ``deep`` is true where it nests deeper than anybody writes."""

    start: int
    at: int
    opened: int | None
    deep: bool


class _Lost(Exception):
    """The text cannot be followed at ``at``."""

    def __init__(self, at: int, *, deep: bool = False) -> None:
        self.at = at
        self.deep = deep


def decoded(raw: str) -> str:
    if "\\" not in raw:
        return raw
    import tomllib

    try:
        value = tomllib.loads(f'v = "{raw}"')["v"]
    except ValueError:
        return raw
    return str(value)


class Scan:
    """One pass over the text."""

    __slots__ = ("_arrays", "_keys", "_open", "_start", "_text", "_values", "lost", "repeated")

    def __init__(self, text: str, start: int, end: int, values: dict[Path, Span], keys: dict[Path, Span]) -> None:
        self.repeated: list[tuple[Span, Span]] = []
        self.lost: list[Lost] = []
        self._text = text[:end] if end < len(text) else text
        self._start = start
        self._values = values
        self._keys = keys
        self._arrays: dict[Path, int] = {}
        self._open: list[int] = []

    def run(self) -> None:
        """Follow the text statement by statement."""
        text = self._text
        gap = _patterns()[0]
        at = self._start
        here: Path = ()
        while True:
            match = gap.match(text, at)
            at = match.end() if match else at
            if at >= len(text):
                return
            start = at
            try:
                at, here = self._header(at, here) if text[at] == "[" else (self._pair(at, here, 0), here)
                line_end = text.find("\n", at)
                rest = text[at : line_end if line_end >= 0 else len(text)].strip(" \t")
                if rest and not rest.startswith("#"):
                    raise _Lost(at)
            except _Lost as lost:
                opened = self._open[-1] if self._open else None
                self._open.clear()
                self.lost.append(Lost(start, lost.at, opened, lost.deep))
                line_end = text.find("\n", lost.at)
                if line_end < 0:
                    return
                at = line_end

    def _key(self, at: int) -> tuple[int, list[tuple[str, Span]]]:
        key = _patterns()[1]
        parts: list[tuple[str, Span]] = []
        while True:
            match = key.match(self._text, at)
            if match is None or len(parts) >= DEEPEST:
                raise _Lost(at, deep=match is not None)
            group = match.lastindex or 1
            raw = match[group]
            parts.append((decoded(raw) if group == 2 else raw, match.span(group)))
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
            first = self._values.setdefault(path, (at, after))
            number = self._arrays.get(path, -1) + 1
            if first[0] != at and not number:
                self.repeated.append((first, (at, after)))
            self._arrays[path] = number
            path = (*path, number)
            self._values[path] = (at, after)
        else:
            path = self._inside(path)
            before = self._values.get(path)
            if before is not None and self._text[before[0] : before[0] + 1] == "[":
                self.repeated.append((before, (at, after)))
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
        for number, (part, span) in enumerate(parts):
            if number:
                self._values.setdefault(path, parts[number - 1][1])
            path = (*path, part)
            self._keys.setdefault(path, span)
        if path in self._values:
            self.repeated.append((self._keys[path], parts[-1][1]))
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
                span = match and (match.start(1), match.end(1) + len(match[2] or ""))
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
            raise _Lost(at, deep=True)
        self._open.append(at)
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
        self._open.pop()
        return at + 1

    def _inline(self, at: int, path: Path, depth: int) -> int:
        if depth > DEEPEST:
            raise _Lost(at, deep=True)
        self._open.append(at)
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
        self._open.pop()
        return at + 1
