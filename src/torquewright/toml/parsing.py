"""A TOML text parsed, or its faults in words a mechanic can act on."""

from __future__ import annotations

import tomllib
from typing import Any

from torquewright.base.document import Document
from torquewright.base.trouble import Fault
from torquewright.toml.places import TomlPlaces
from torquewright.toml.scan import DEEPEST
from torquewright.toml.slips import MOST, Slip, Slips


class Parsed:
    """The TOML of one document, or of the stretch ``start`` to ``end`` of it: its tables as plain values, and their
    places. ``broken`` says that not all of it could be parsed; ``slips`` takes what is wrong with its values."""

    __slots__ = ("_broken", "broken", "document", "places", "slips", "tables")

    def __init__(self, document: Document, start: int = 0, end: int | None = None) -> None:
        self.document = document
        self.slips = Slips()
        self.broken = False
        self._broken: list[Fault] = []
        self.tables: dict[str, Any] = {}
        self.places = TomlPlaces(document, start, end)
        text = document.text if not start and end is None else document.text[start:end]
        if not self._overgrown(text):
            try:
                self.tables = tomllib.loads(text)
                return
            except (ValueError, RecursionError):
                pass
        from torquewright.toml.mending import mend  # only for a broken file

        self._broken, self.tables, mended = mend(document, self.places, start, end)
        self.broken = True
        self.places = TomlPlaces(document, start, end, mended)

    def _overgrown(self, text: str) -> bool:
        # The parser's time grows with the square of a dotted key's length, and a key stands on one line. Where a line
        # has dots enough for that to be felt, look first.
        if any(len(line) > DEEPEST and line.count(".") > DEEPEST for line in text.split("\n")):
            return any(lost.deep for lost in self.places.lost())
        return False

    def faults(self, *, whole: bool) -> list[Fault]:
        """Everything wrong with this document. Where not all files of a job are ``whole``, what is missing may stand
        in the part that could not be read, so it is not told."""
        told = [slip for slip in self.slips if whole or not slip.absent][: MOST + 1]
        faults = self._broken + [self._fault(slip) for slip in told[:MOST]]
        if len(told) > MOST:
            last = self._fault(told[MOST])
            faults.append(Fault(last.place, f"more than {MOST} faults in this file", "", "these mended first"))
        return faults

    def _fault(self, slip: Slip) -> Fault:
        places = self.places
        if slip.at_key:
            span = places.key(slip.path) or places.nearest(slip.path)
        elif slip.span is not None:
            span = places.within(slip.path, *slip.span)
        else:
            span = places.nearest(slip.path)
        message = slip.message
        if slip.second is not None:
            parsed, path = slip.second
            message = f"{message}; the first is at {parsed.document.place(*parsed.places.nearest(path))}"
        return Fault(self.document.place(*span), message, slip.found, slip.wanted)
