"""The form of a plan, and the few readings of CSV cells that plans share."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple

Facts = dict[str, list[dict[str, str]]]
Cell = str | float
Column = tuple[str, str, str]


class Plan(NamedTuple):
    """One table: its name, title, columns (name, unit, meaning), sources, and how its rows come from the facts."""

    name: str
    title: str
    columns: tuple[Column, ...]
    sources: dict[str, dict[str, str]]
    rows: Callable[[Facts], Iterable[list[Cell]]]


def number(text: str) -> Cell:
    """The figure in a cell, "" where the cell is empty. Binary dust of a computed cell is rounded away."""
    text = text.strip()
    return round(float(text), 6) if text else ""


def sure(text: str) -> str:
    """The confidence of a row in the vocabulary of the tables: one page read is one source."""
    word = text.split(";")[0].split("(")[0].strip()
    return {"page": "one-source"}.get(word, word)


def picked(file: str, columns: tuple[str, ...], source: str, words: int = 1, confidence: str = "confidence") -> (
    Callable[[Facts], Iterable[list[Cell]]]
):
    """Rows of one CSV file: the named columns, the first ``words`` of them as words, the rest as figures."""

    def rows(facts: Facts) -> Iterable[list[Cell]]:
        for row in facts[file]:
            cells: list[Cell] = [
                row[name] if at < words else number(row[name]) for at, name in enumerate(columns)
            ]
            if any(cell != "" for cell in cells[words:]):
                yield [*cells, source, sure(row[confidence])]

    return rows
