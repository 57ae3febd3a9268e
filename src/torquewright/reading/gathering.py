"""The documents of one job, opened one after another, with everything wrong in any of them.

Faults are collected over all documents and raised once, so a writer mends all files in one go.
"""

from __future__ import annotations

import os

from torquewright.base.document import Document, Places
from torquewright.base.trouble import Fault, InputTrouble
from torquewright.reading.joining import join
from torquewright.reading.keys import CATALOGUE
from torquewright.reading.naming import Names
from torquewright.reading.opening import inside, open_document
from torquewright.reading.parsing import Parsed
from torquewright.reading.toml_records import Tables, read_tables
from torquewright.reading.values import Slip, text, unknown, Wrong
from torquewright.records.catalogue import Catalogue


class Gathering:
    """What has been opened so far. ``documents`` by name; ``faults`` of all of them."""

    __slots__ = ("documents", "faults", "_parts")

    def __init__(self) -> None:
        self.documents: dict[str, Document] = {}
        self.faults: list[Fault] = []
        self._parts: list[tuple[str, Parsed, Tables]] = []

    def records_file(self, path: str, part: str, text: str | None = None) -> None:
        """Read the catalogue, tools or kit file ``path`` (or its ``text``), named from outside."""
        try:
            document = Document(path, text) if text is not None else open_document(path)
        except InputTrouble as trouble:
            self.faults += trouble.faults
            self.documents.update(trouble.documents)
            return
        self.records(self.parse(document), part)

    def parse(self, document: Document, start: int = 0, end: int | None = None) -> Parsed:
        """Parse ``document``, or the stretch ``start`` to ``end`` of it; what is no TOML becomes faults."""
        self.documents[document.name] = document
        return Parsed(document, start, end)

    def records(self, parsed: Parsed, part: str) -> None:
        """Take the records of a parsed file that holds nothing else."""
        slips = []
        for key in parsed.tables:
            if key not in CATALOGUE:
                if key in ("step", "title", "given"):
                    slips.append(Slip((key,), f"{key} belongs to a procedure, not to a file of records", key,
                                      "the procedure in a file of its own", at_key=True))  # fmt: skip
                else:
                    slips.append(unknown((), key, CATALOGUE))
        if type(parsed.tables.get("kit")) is str:
            slips.append(Slip(("kit",), "a kit file named in a file of records", parsed.tables["kit"], "[[kit]] tables"))
        parsed.complain(slips)
        self.tables(parsed, part)

    def tables(self, parsed: Parsed, part: str) -> None:
        """Take the records of a parsed document, whatever else it holds."""
        self._parts.append((part, parsed, read_tables(parsed.tables, parsed)))

    def named_inside(self, parsed: Parsed, key: str, part: str) -> None:
        """Read the file that ``parsed`` names under ``key``, which must lie in its folder or below."""
        try:
            name = text(parsed.tables[key])
        except Wrong as fault:
            parsed.complain([slip._replace(path=(key,)) for slip in fault.slips])
            return
        folder = os.path.dirname(parsed.document.name) if parsed.document.name != "-" else ""
        path, reason = inside(folder, name)
        if reason:
            parsed.complain([Slip((key,), f"{reason}: {name}", name, "a file beside this one or in a folder below it")])
            return
        self.records_file(path, part)

    def join(self) -> tuple[Catalogue, Names]:
        """The records of all documents together."""
        return join([held for _, _, held in self._parts])

    def settle(self, places: Places) -> None:
        """Give every document's records their places. Raises InputTrouble when anything was wrong anywhere."""
        for _, parsed, held in self._parts:
            parsed.complain(held.slips)
        faults = [*self.faults, *(fault for _, parsed, _ in self._parts for fault in parsed.faults)]
        if faults:
            raise InputTrouble(faults, self.documents)
        for name in ("catalogue", "tools", "kit"):
            # the file given for this part first; a record may still stand in any of them
            for _, parsed, _ in sorted(self._parts, key=lambda held: held[0] != name):
                places.add(name, parsed.document, parsed.places.find)
