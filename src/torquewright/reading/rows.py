"""One row of a table read as a sentence: "| Cap nut (4 off) | 21-25 | new |" under its headings."""

from __future__ import annotations

from torquewright.notation.tightening import Found
from torquewright.pages.blocks import Cell, Table, cells_of
from torquewright.reading.draft_tables import heading_unit, tightening_in
from torquewright.reading.table_columns import columns_of
from torquewright.sentences.clause import Clause
from torquewright.sentences.deeds import Deed
from torquewright.sentences.names import thing_at
from torquewright.sentences.sentence import Sentence, read_sentences
from torquewright.sentences.things import Thing
from torquewright.sentences.words import Word, words_of


def read_row(text: str, headings: str) -> Sentence | None:
    """The reading of a row under the line of its ``headings``; None for a text that is no row, or headings that name
    no part. A torque in the row is demanded, stated passively."""
    if not text.lstrip().startswith("|") or not headings.lstrip().startswith("|"):
        return None
    heads, cells = cells_of(headings, 0, len(headings)), cells_of(text, 0, len(text))
    columns = columns_of(Table(heads, [cells], ""))
    named = {name: (heads[at], cells[at]) for at, name in columns.items() if at < len(cells)}
    if "part" not in named or not named["part"][1].text:
        return None
    sentence = Sentence(text, 0, len(text))
    sentence.words = words_of(text)
    clause = Clause("fragment", 0)
    sentence.clauses = [clause]
    thing = _name(text, named["part"][1])
    if thing is None:
        return None
    _used(sentence.words, named["part"][1])
    clause.pieces.append(thing)
    sentence.things.append(thing)
    if "torque" in named:
        head, cell = named["torque"]
        held = tightening_in(cell.text, heading_unit(head.text))
        if held is not None:
            figure = Word(cell.text.lower(), cell.start, cell.end, 0)
            figure.found = Found(cell.start, cell.end, held)
            deed = Deed("tighten", "stated_passively", thing, clause)
            deed.torques = [figure]
            sentence.deeds.append(deed)
            _used(sentence.words, cell)
    for name in ("state", "size", "count", "condition", "class", "ref", "washer", "tool"):
        if name in named:
            _used(sentence.words, named[name][1])
    sentence.words = [word for word in sentence.words if word.found is None]
    sentence.leftover = [(word.start, word.end) for word in sentence.words if not word.used and word.text[0].isalnum()]
    sentence.status = "in part" if sentence.leftover else "read"
    return sentence


def _name(text: str, cell: Cell) -> Thing | None:
    words = words_of(text, cell.start, cell.end)
    thing, _ = thing_at(words, 0)
    return thing


def _used(words: list[Word], cell: Cell) -> None:
    for word in words:
        if cell.start <= word.start and word.end <= cell.end:
            word.used = True


def read_lines(text: str, before: str = "") -> list[Sentence]:
    """Every sentence of a text, or its one row of a table; ``before`` is what stands ahead of it."""
    row = read_row(text, before.strip().split("\n")[0]) if before else None
    return [row] if row is not None else read_sentences(text, before)
