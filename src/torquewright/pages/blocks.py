"""The blocks of a draft: title, records ahead, tables, tools lists, numbered steps, notes and warnings.

Markdown is parsed by markdown-it-py, plain text line by line. Everything keeps its offsets in the document:
``Blocks.shadow`` is the text with its markup blanked, as long as the document itself.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from torquewright.base.document import Document
from torquewright.notation.vocabulary import vocabulary
from torquewright.pages.markup import blanked


class Span(NamedTuple):
    """A stretch of the document, end excluded."""

    start: int
    end: int


class Cell(NamedTuple):
    """One cell of a table: its text without markup, and where it stands."""

    text: str
    start: int
    end: int


class Table(NamedTuple):
    """A table: its heading cells and its rows."""

    heads: list[Cell]
    rows: list[list[Cell]]
    section: str


class Notice(NamedTuple):
    """A warning, caution or note: its signal word as written, its span, the index of the step it stands in or ahead
    of (the number of steps so far where it stands behind all), and whether it stands ahead of the step's text."""

    signal: str
    start: int
    end: int
    step: int
    before: bool


class Item:
    """One numbered step: its label, section, span, and the stretches of text that are its own."""

    __slots__ = ("depth", "end", "figures", "label", "section", "start", "stretches")

    def __init__(self, label: str, section: str, start: int, end: int, depth: int = 0) -> None:
        self.label = label
        self.section = section
        self.start = start
        self.end = end
        self.depth = depth
        self.stretches: list[Span] = []
        self.figures: list[tuple[int, int, str]] = []  # cells of a torque column, with the column's heading


class Blocks:
    """What a draft consists of, in the order of the text."""

    __slots__ = (
        "document",
        "front",
        "notes",
        "notices",
        "parts",
        "shadow",
        "steps",
        "tables",
        "title",
        "title_span",
        "tools",
    )

    def __init__(self, document: Document) -> None:
        self.document = document
        self.front: Span | None = None
        self.title = ""
        self.title_span: Span | None = None
        self.shadow = document.text
        self.steps: list[Item] = []
        self.notices: list[Notice] = []
        self.tables: list[Table] = []
        self.tools: list[Span] = []
        self.parts: list[Span] = []
        self.notes: list[tuple[Span, int]] = []  # other paragraphs, with the number of steps ahead of them


@lru_cache(maxsize=1)
def _signal() -> re.Pattern[str]:
    names = "|".join(vocabulary().small["signal words"])
    return re.compile(
        rf"\s*(?:!!!\s*|:::\s*|\[!)?[*_]{{0,3}}\s*({names})S?\b[\])]?[*_\s]*(?P<mark>[:!.–—-]?)[*_]{{0,3}}",
        re.IGNORECASE,
    )


TOOLS = re.compile(
    r"\s*(?:\W{0,3})(?:special |required |needed |service "
    r")?(?:tools?|equipment|tooling)\b[^.:]{0,40}:|\s*(?:tools?|equipment) (?:needed|required)\b"
    r"|\W{0,4}(?:have|keep|lay|get) (?:ready|at hand|to hand|out)\s*:|\W{0,4}(?:to hand|needed|required|you want)\s*:"
    r"|\W{0,4}you(?:'ll| will)? (?:also )?need\b|\s*have (?:a|an|the|two|these|ready|at hand|to hand)\b.*\b(?:at|to) "
    r"hand\b|\s*(?:bring|get|lay out) (?:a|an|the)\b.*\b(?:wrench|socket|key)\b",
    re.IGNORECASE,
)
PARTS = re.compile(
    r"\s*(?:\W{0,3})(?:new |spare |required )?(?:parts?|spares|kit|materials?|consumables)\b[^.:]{0,40}:", re.IGNORECASE
)


def signal_of(content: str) -> str:
    """The signal word a paragraph opens with, as written; "" for none."""
    match = _signal().match(content)
    if match is None:
        return ""
    word = match.group(1)
    opening = content[: match.end()]
    if (
        word.isupper()
        or match.group("mark") in tuple(":!–—")
        or "**" in opening
        or "[!" in opening
        or "!!!" in opening
        or ":::" in opening
    ):
        return word.upper() if not word.isupper() else word
    return ""


def cells_of(text: str, start: int, end: int) -> list[Cell]:
    """The cells of one line of a table."""
    cells: list[Cell] = []
    at = start
    while at < end and text[at] in " \t":
        at += 1
    if at < end and text[at] == "|":
        at += 1
    first = at
    while at <= end:
        if at == end or (text[at] == "|" and text[at - 1] != "\\"):
            low, high = first, at
            while low < high and text[low].isspace():
                low += 1
            while high > low and text[high - 1].isspace():
                high -= 1
            if not (at == end and low == high):
                cells.append(Cell(" ".join(blanked(text, low, high).split()), low, high))
            first = at + 1
        at += 1
    return cells
