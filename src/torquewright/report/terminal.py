"""The terminal: how wide it is, whether it takes colour, and paragraphs that fit it.

Plain escape sequences and a short word wrap; textwrap and shutil would cost more than the whole report. Nothing
heavier than os is loaded here, because the help of a verb asks for the width too.
"""

from __future__ import annotations

import os

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterator
    from typing import TextIO

_WIDEST = 110  # beyond this a line is hard to follow with the eye
_NARROWEST = 24
_CODES = {"no-go": "1;31", "ask first": "1;33", "go": "1;32", "caret": "31", "strong": "1", "quiet": "2"}


class Look:
    """How to write to one stream: columns, and whether to colour."""

    __slots__ = ("colour", "width")

    def __init__(self, width: int = 100, colour: bool = False) -> None:
        self.width = max(_NARROWEST, min(width, _WIDEST))
        self.colour = colour

    def paint(self, text: str, manner: str) -> str:
        """``text`` in the colour of a manner ("no-go", "caret", ...), or as it is."""
        return f"\x1b[{_CODES[manner]}m{text}\x1b[0m" if self.colour and text else text

    def paragraph(self, label: str, text: str) -> list[str]:
        """``label`` and ``text`` wrapped, the text hanging under itself; a narrow terminal hangs it by two."""
        margin = len(label) + 3 if label else 2
        hang = margin if self.width >= 60 or not label else 4
        lines: list[str] = []
        line = ""
        room = self.width - margin
        for word in _bound(text.split()):
            if line and len(line) + 1 + len(word) > room:
                lines.append(line)
                line, room = word, self.width - hang
            else:
                line = f"{line} {word}" if line else word
        lines.append(line)
        start = f"  {self.paint(label, 'strong')} " if label else "  "
        return [start + lines[0], *(" " * hang + line for line in lines[1:])]


def _bound(words: list[str]) -> Iterator[str]:
    """The words, a figure and its unit as one: "38" at the end of a line and "N·m" on the next is misread."""
    from torquewright.base.units import UNITS  # the help of a verb asks for the width and for nothing else here

    at = 0
    while at < len(words):
        word = words[at]
        following = words[at + 1].rstrip(".,:;)]") if at + 1 < len(words) else ""
        if word[-1:].isdigit() and (following in UNITS or following == "%"):
            at += 1
            word = f"{word} {words[at]}"
        yield word
        at += 1


def look_of(stream: TextIO) -> Look:
    """The look for a stream: coloured only on a terminal, and not where NO_COLOR is set or the terminal is dumb."""
    colour = stream.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    return Look(_columns(stream), colour)


def _columns(stream: TextIO) -> int:
    """What COLUMNS says, else what the terminal says, else 100 for what is no terminal."""
    told = os.environ.get("COLUMNS", "")
    if told.isdecimal() and int(told):
        return int(told)
    try:
        return os.get_terminal_size(stream.fileno()).columns or 80
    except (OSError, ValueError):
        return 100
