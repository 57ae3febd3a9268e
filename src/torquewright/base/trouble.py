"""Input that cannot be taken as it stands: what was found, where, and what to write instead.

Faults of one input are collected and raised together, so that a writer mends a file in one go.
"""

from __future__ import annotations

from typing import NamedTuple

from torquewright.base.document import Document, Place


class Fault(NamedTuple):
    """One thing wrong with an input.

    ``found`` quotes the offending text, ``wanted`` says what to write instead; both are single sentences or
    fragments without a final stop.
    """

    place: Place
    message: str
    found: str
    wanted: str

    def __str__(self) -> str:
        return f"{self.place}: {self.message}"


class InputTrouble(Exception):
    """An input could not be read. ``faults`` holds every fault found, in the order of their places."""

    def __init__(self, faults: list[Fault], documents: dict[str, Document] | None = None) -> None:
        self.faults = tuple(sorted(faults, key=lambda fault: fault.place))
        self.documents = documents or {}
        super().__init__("\n".join(str(fault) for fault in self.faults))
