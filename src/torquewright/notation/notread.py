"""A short text that is not what it should be: the offending part, and what to write instead.

The readers of notations know no documents; whoever called them turns the offsets into a place.
"""

from __future__ import annotations


class NotRead(ValueError):
    """A value could not be read. ``start`` and ``end`` are offsets of the offending part in the text handed over;
    ``message`` says what is wrong with it and ``wanted`` what to write, both without a final stop."""

    def __init__(self, message: str, start: int, end: int, wanted: str) -> None:
        super().__init__(message)
        self.message = message
        self.start = start
        self.end = end
        self.wanted = wanted


class NotATightening(NotRead):
    """A text that is no tightening notation, or has words beside one."""
