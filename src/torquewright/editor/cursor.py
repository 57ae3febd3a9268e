"""What stands around the cursor in a TOML text that is being written, and so is not yet TOML.

The text is gone over from the last table header to the cursor, character by character. Nothing after the cursor is
looked at.
"""

from __future__ import annotations

import re
from typing import NamedTuple

_HEADER = re.compile(r"(?m)^[ \t]*\[\[?[ \t]*([A-Za-z0-9_-]+)[ \t]*\]")
_WORD = re.compile(r"[A-Za-z0-9_-]+")


class Cursor(NamedTuple):
    """Where the cursor stands. ``table`` is the name of the last header ("" ahead of the first); ``inside`` the keys
    of the lists and inline tables that are open; ``before`` the keys the innermost one has so far. In a value ``key``
    is its key; ``quoted`` tells that the cursor stands inside quotes. ``start`` is where the word at it begins."""

    table: str
    inside: tuple[str, ...]
    in_table: bool
    before: tuple[str, ...]
    key: str
    quoted: bool
    start: int


class _Open:
    """A list or an inline table that was opened and not closed: the key it is the value of, the keys in it."""

    __slots__ = ("is_table", "key", "keys")

    def __init__(self, key: str, is_table: bool) -> None:
        self.key = key
        self.is_table = is_table
        self.keys: list[str] = []


def cursor_at(text: str, offset: int, begin: int = 0) -> Cursor | None:
    """What stands around ``offset`` in the TOML that begins at ``begin``; None inside a comment."""
    table, at = "", begin
    for header in _HEADER.finditer(text, begin, offset):
        table, at = header.group(1), header.end()
    opened: list[_Open] = [_Open("", True)]
    key, word, quote = "", at, ""
    while at < offset:
        sign = text[at]
        if quote:
            if sign == "\\" and quote[0] == '"':
                at += 2
                continue
            if text.startswith(quote, at) or (sign == "\n" and len(quote) == 1):
                at += len(quote) if sign != "\n" else 1
                quote = ""
                continue
        elif sign in "\"'":
            quote = sign * 3 if text.startswith(sign * 3, at) else sign
            at += len(quote)
            word = at
            continue
        elif sign == "#":
            end = text.find("\n", at)
            if end < 0 or end >= offset:
                return None
            at = end
            continue
        elif sign in "{[":
            opened.append(_Open(key, sign == "{"))
            key = ""
        elif sign in "}]":
            opened[1:] = opened[1:-1]
            key = ""
        elif sign == "=":
            key = text[word:at].strip()
            opened[-1].keys.append(key)
        elif sign == "," or (sign == "\n" and len(opened) == 1):
            key = ""
        elif _WORD.match(sign) and (at == begin or not _WORD.match(text[at - 1])):
            word = at
        at += 1
    while not quote and word < offset and not _WORD.fullmatch(text[word:offset]):
        word += 1
    inner = opened[-1]
    inside = tuple(held.key for held in opened[1:])
    return Cursor(table, inside, inner.is_table, tuple(inner.keys), key, bool(quote), min(word, offset))
