"""A line of the source with carets under the words that matter, as it stands on a terminal.

Tabs, wide and combining signs, lines longer than the terminal and control characters are what this is about.
"""

from __future__ import annotations

from torquewright.base.document import Document, Place

_TAB = 4


def shown(character: str, column: int) -> tuple[str, int]:
    """How a character is shown at a terminal column (from 0), and how many columns it takes."""
    if character == "\t":
        width = _TAB - column % _TAB
        return " " * width, width
    if character.isascii():
        # a control character could make the terminal do things; it is shown as what it is: not text
        return (character, 1) if character.isprintable() else ("\N{REPLACEMENT CHARACTER}", 1)
    return _foreign(character)


def _foreign(character: str) -> tuple[str, int]:
    from unicodedata import category, east_asian_width  # most lines never need it

    kind = category(character)
    if kind in ("Mn", "Me"):
        return character, 0
    if kind[0] == "C" or kind in ("Zl", "Zp"):
        # also the signs that turn the direction of writing round, which would make a line read otherwise
        return "\N{REPLACEMENT CHARACTER}", 1
    return character, 2 if east_asian_width(character) in "WF" else 1


def clean(text: str) -> str:
    """``text`` on one line with nothing in it that a terminal could obey."""
    out, column = [], 0
    for character in text.replace("\n", " "):
        sign, width = shown(character, column)
        out.append(sign)
        column += width
    return "".join(out)


def excerpt(document: Document, place: Place, width: int) -> tuple[str, str]:
    """The first line of ``place`` and a line of carets under it, both at most ``width`` columns.

    A place of several lines is marked to the end of its first; an empty one gets a single caret. Where the line is
    too long, a piece around the place is shown between ellipses.
    """
    line = document.line(place.line)
    end = place.end_column if place.end_line == place.line else len(line) + 1
    first, last = place.column - 1, max(end - 1, place.column)
    signs: list[tuple[str, int, bool]] = []
    column = 0
    for at, character in enumerate(line):
        sign, wide = shown(character, column)
        signs.append((sign, wide, first <= at < last))
        column += wide
    if first >= len(signs):
        signs.append((" ", 1, True))
    signs = _cut(signs, first, width)
    text = "".join(sign for sign, _, _ in signs).rstrip()
    carets = "".join(("^" if marked else " ") * wide for _, wide, marked in signs).rstrip()
    indent = len(text) - len(text.lstrip(" "))
    indent = min(indent, len(carets) - len(carets.lstrip(" ")))
    return text[indent:], carets[indent:]


def _cut(signs: list[tuple[str, int, bool]], first: int, width: int) -> list[tuple[str, int, bool]]:
    """At most ``width`` columns of a line, with the place near the left third when the line must be cut."""
    if sum(wide for _, wide, _ in signs) <= width:
        return signs
    room = max(width - 2, 8)
    start = first
    before = 0
    while start > 0 and before + signs[start - 1][1] <= room // 3:
        start -= 1
        before += signs[start][1]
    if sum(wide for _, wide, _ in signs[:start]) <= 1:
        start = 0
    end, taken = start, 0
    while end < len(signs) and taken + signs[end][1] <= room:
        taken += signs[end][1]
        end += 1
    kept = signs[start:end]
    if start > 0:
        kept.insert(0, ("…", 1, False))
    if end < len(signs):
        kept.append(("…", 1, False))
    return kept
