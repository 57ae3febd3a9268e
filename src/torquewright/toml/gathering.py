"""The documents of one job, opened one after another, with everything wrong in any of them.

Faults are collected over all documents and raised once, so a writer mends all files in one go.
"""

from __future__ import annotations

import os
from collections.abc import Mapping

from torquewright.base.document import Document, Places
from torquewright.base.trouble import Fault, InputTrouble
from torquewright.records.catalogue import Catalogue
from torquewright.toml.joining import join
from torquewright.toml.keys import CATALOGUE
from torquewright.toml.naming import Names
from torquewright.toml.opening import inside, open_document
from torquewright.toml.parsing import Parsed
from torquewright.toml.plain_values import text
from torquewright.toml.records import Tables, read_tables
from torquewright.toml.slips import Slip, TooMany, Wrong, spelled, unknown


class Gathering:
    """What has been opened so far: ``documents`` by name. Add documents, then :meth:`join` their records, then
    :meth:`settle`. ``texts`` are taken in place of the files with these absolute paths."""

    __slots__ = ("_faults", "_parsed", "_parts", "_paths", "_texts", "documents")

    def __init__(self, texts: Mapping[str, str] | None = None) -> None:
        self.documents: dict[str, Document] = {}
        self._faults: list[Fault] = []
        self._parsed: list[Parsed] = []
        self._paths: set[str] = set()
        self._texts = texts or {}
        self._parts: list[tuple[str, Tables]] = []

    def parse(self, document: Document, start: int = 0, end: int | None = None) -> Parsed:
        """Parse ``document``, or the stretch ``start`` to ``end`` of it; what is no TOML becomes faults."""
        self.documents[document.name] = document
        self._paths.add(os.path.abspath(document.name))
        parsed = Parsed(document, start, end)
        self._parsed.append(parsed)
        return parsed

    def records_file(self, path: str, part: str, text: str | None = None) -> None:
        """Read the file of records ``path`` (or its ``text``) as ``part``: "catalogue", "tools" or "kit".

        A file that stands for two parts is read once.
        """
        whole = os.path.abspath(path)
        if whole in self._paths:
            return
        if text is None:
            text = self._texts.get(whole)
        try:
            document = Document(path, text) if text is not None else open_document(path)
        except InputTrouble as trouble:
            self._faults += trouble.faults
            self.documents.update(trouble.documents)
            return
        parsed = self.parse(document)
        slips = parsed.slips
        try:
            for key, value in parsed.tables.items():
                if key in ("step", "title", "given"):
                    slips.append(Slip((key,), f"{key} belongs to a procedure, not to a file of records", key,
                                      "the procedure in a file of its own", at_key=True))  # fmt: skip
                elif key not in CATALOGUE:
                    slips.append(unknown((), key, CATALOGUE))
                elif key == "kit" and type(value) is str:
                    slips.append(Slip((key,), "a kit file named in a file of records", value, "[[kit]] tables"))
        except TooMany:
            raise self.trouble() from None
        self.tables(parsed, part)

    def named_inside(self, parsed: Parsed, key: str) -> None:
        """Read the file that ``parsed`` names under ``key``, which must lie in its folder or below."""
        try:
            name = text(parsed.tables[key])
        except Wrong as fault:
            parsed.slips.extend(slip._replace(path=(key,)) for slip in fault.slips)
            return
        folder = os.path.dirname(parsed.document.name) if parsed.document.name != "-" else ""
        path, reason = inside(folder, name)
        if reason:
            parsed.slips.append(Slip((key,), reason, spelled(name), "a file beside this one or in a folder below it"))
            # without these records, nothing can be said of what is missing
            parsed.broken = True
            return
        self.records_file(path, key)

    def tables(self, parsed: Parsed, part: str) -> None:
        """Take the records of a parsed document, whatever else it holds."""
        try:
            self._parts.append((part, read_tables(parsed)))
        except TooMany:
            raise self.trouble() from None

    def join(self) -> tuple[Catalogue, Names]:
        """The records of all documents together, and the names they go by."""
        try:
            return join([held for _, held in self._parts])
        except TooMany:
            raise self.trouble() from None

    def trouble(self) -> InputTrouble:
        """Everything wrong so far."""
        whole = not self._faults and not any(parsed.broken for parsed in self._parsed)
        faults = list(self._faults)
        for parsed in self._parsed:
            faults += parsed.faults(whole=whole)
        return InputTrouble(faults, self.documents)

    def settle(self, places: Places) -> None:
        """Give every document's records their places. Raises InputTrouble when anything is wrong anywhere."""
        if self._faults or any(parsed.broken or parsed.slips for parsed in self._parsed):
            raise self.trouble()
        for name in ("catalogue", "tools", "kit"):
            # the file given for this part first; a record may still stand in any of them
            for _, held in sorted(self._parts, key=lambda part: part[0] != name):
                places.add(name, held.parsed.document, held.parsed.places.find)
