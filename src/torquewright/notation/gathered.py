"""A tightening notation while it is being put together: its pulls in order, and what was said about them."""

from __future__ import annotations

from torquewright.notation.angles import AngleRead
from torquewright.notation.hand import HandRead
from torquewright.notation.measured import Measured

Pull = Measured | AngleRead | HandRead
"""One pull: a torque, an angle or several, or by hand."""


class Notation:
    """A tightening notation while it is being put together: its pulls in order and what was said about them."""

    __slots__ = ("added", "after", "base", "count", "doubts", "listed", "opened", "pulls", "readings", "staged")

    def __init__(self) -> None:
        self.pulls: list[Pull] = []
        self.added = False
        self.after = 0
        self.opened = 0  # where the first pull begins, past "first to", "step 1:"
        self.doubts: list[str] = []
        self.readings: list[str] = []
        self.staged = False  # words say that the torques are stages
        self.listed = False  # torques in a row, and no words about them
        self.count: int | None = None  # passes, where a number of them is stated
        self.base: Measured | None = None  # the torque that shares are taken of
