"""A TOML text parsed, or its faults in words a mechanic can act on."""

from __future__ import annotations

import tomllib
from typing import Any

from torquewright.base.document import Document, Path
from torquewright.base.trouble import Fault
from torquewright.reading.toml_places import TomlPlaces
from torquewright.reading.values import Slip

_LONG = 65_536
_WIDE = 2_000


class Parsed:
    """One TOML document: its tables as plain values, and its places. ``tables`` is empty where it has faults."""

    __slots__ = ("document", "faults", "places", "tables")

    def __init__(self, document: Document, start: int = 0, end: int | None = None) -> None:
        self.document = document
        self.places = TomlPlaces(document, start, end)
        self.tables: dict[str, Any] = {}
        self.faults: list[Fault] = []
        text = document.text if end is None else document.text[start:end]
        try:
            self.tables = tomllib.loads(text)
        except tomllib.TOMLDecodeError as fault:
            from torquewright.reading.toml_slips import explain  # only for a broken file

            self.faults = explain(self, str(fault), start)

    def complain(self, slips: list[Slip]) -> None:
        """Turn slips into faults with their places."""
        for slip in slips:
            self.faults.append(self._fault(slip))

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


__all__ = ["Parsed", "Path"]
