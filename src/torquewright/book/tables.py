"""Sourced reference tables, read lazily from specs/tables.

A table is one TOML file; specs/tables/README.md describes the form. A table is read on first use and kept for the
life of the process, because a check that needs no figure of a table must not pay for reading it.

Every row carries its source and a confidence:

* ``two-sources``, ``one-source``: read in print, in two renderings or in one;
* ``formula``: follows from a formula named in the source;
* ``practice``: common practice of the trade, no source;
* ``memory``: written down from memory and not seen in print. Such a row may inform, never forbid: its
  :attr:`Row.firm` is False, and no rule may call a procedure faulty because of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from typing import Any, NamedTuple

from torquewright.book.locate import specs_folder

Cell = str | float

CONFIDENCES = ("two-sources", "one-source", "formula", "practice", "memory")


class Source(NamedTuple):
    """Where rows come from. ``note`` says how the figures were checked, or where prints disagree."""

    key: str
    document: str
    edition: str
    table: str
    note: str

    def __str__(self) -> str:
        return ", ".join(part for part in (self.document, self.edition, self.table) if part)


class Column(NamedTuple):
    """A column: its name, the unit of its figures ("" for names and ratios), and what it means."""

    name: str
    unit: str
    says: str


class Row:
    """One row: cells by column name, with the source and the confidence of all of them."""

    __slots__ = ("_cells", "confidence", "source")

    def __init__(self, cells: dict[str, Cell], source: Source, confidence: str) -> None:
        self._cells = cells
        self.source = source
        self.confidence = confidence

    def __getitem__(self, column: str) -> Cell:
        """The cell; KeyError where the table has no such column or the cell is empty."""
        return self._cells[column]

    def get(self, column: str) -> Cell | None:
        """The cell, or None where it is empty."""
        return self._cells.get(column)

    def number(self, column: str) -> float:
        """The figure in ``column``, in the column's unit; KeyError where empty, TypeError where it is a word."""
        cell = self._cells[column]
        if isinstance(cell, str):
            raise TypeError(f"{column} holds the word {cell!r}")
        return cell

    def word(self, column: str) -> str:
        """The cell as text, "" where it is empty."""
        return str(self._cells.get(column, ""))

    @property
    def firm(self) -> bool:
        """Whether a rule may forbid something because of this row."""
        return self.confidence != "memory"

    def cite(self) -> str:
        """Source and confidence, for showing beside a figure."""
        return f"{self.source} ({'from memory' if self.confidence == 'memory' else self.confidence})"

    def __repr__(self) -> str:
        return f"Row({self._cells!r}, {self.source.key!r}, {self.confidence!r})"


class Table:
    """A reference table: its rows in the order of the file."""

    __slots__ = ("columns", "name", "rows", "sources", "title")

    def __init__(
        self, name: str, title: str, columns: tuple[Column, ...], sources: dict[str, Source], rows: tuple[Row, ...]
    ) -> None:
        self.name = name
        self.title = title
        self.columns = columns
        self.sources = sources
        self.rows = rows

    def __iter__(self) -> Iterator[Row]:
        return iter(self.rows)

    def where(self, **cells: Cell) -> tuple[Row, ...]:
        """All rows whose cells equal the given ones."""
        wanted = cells.items()
        return tuple(row for row in self.rows if all(row.get(name) == cell for name, cell in wanted))

    def first(self, **cells: Cell) -> Row | None:
        """The first row whose cells equal the given ones, firm rows before rows from memory; None if there is none."""
        found = self.where(**cells)
        return next((row for row in found if row.firm), found[0] if found else None)

    def cautious(self, column: str, choose: Callable[[Iterator[float]], float] = min, **cells: Cell) -> Row | None:
        """Where rows disagree, the one whose ``column`` is lowest (``choose=min``) or highest (``choose=max``).

        Rows from memory count only when no firm row has the figure. None if no row has it.
        """
        found = [row for row in self.where(**cells) if isinstance(row.get(column), (int, float))]
        firm = [row for row in found if row.firm] or found
        if not firm:
            return None
        best = choose(row.number(column) for row in firm)
        return next(row for row in firm if row.number(column) == best)


def _build(name: str, held: dict[str, Any]) -> Table:
    columns = tuple(
        Column(column, unit, says)
        for column, unit, says in zip(held["columns"], held["units"], held["meanings"], strict=True)
    )
    sources = {
        key: Source(key, source["document"], source.get("edition", ""), source.get("table", ""), source.get("note", ""))
        for key, source in held["source"].items()
    }
    names = held["columns"]
    rows = tuple(
        Row(
            {column: cell for column, cell in zip(names, cells, strict=False) if cell != ""},
            sources[cells[-2]],
            cells[-1],
        )
        for cells in held["rows"]
    )
    return Table(name, held["title"], columns, sources, rows)


@cache
def table(name: str) -> Table:
    """The table in specs/tables/``name``.toml. KeyError when there is none."""
    # Only a check that needs a figure of a table pays for the TOML reader being ready.
    import tomllib

    try:
        with open(f"{specs_folder()}/tables/{name}.toml", "rb") as file:
            held = tomllib.load(file)
    except FileNotFoundError:
        raise KeyError(name) from None
    return _build(name, held)


def table_names() -> tuple[str, ...]:
    """The names of all tables, sorted."""
    from os import listdir

    return tuple(
        sorted(file.removesuffix(".toml") for file in listdir(f"{specs_folder()}/tables") if file.endswith(".toml"))
    )
