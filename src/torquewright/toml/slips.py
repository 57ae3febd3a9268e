"""What is wrong with a value, told by its path: places are worked out only once something is to be shown."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, NamedTuple

from torquewright.base.document import Path
from torquewright.notation.near import nearest
from torquewright.toml.keys import Keys


class Slip(NamedTuple):
    """Something wrong at ``path`` (relative to the table being read). ``span`` narrows it to a stretch of a text
    value; ``at_key`` says that the key is meant, not its value; ``second`` is another place that bears on it, in the
    tables of the same or of another document; ``absent`` says that something is missing rather than wrong."""

    path: Path
    message: str
    found: str
    wanted: str
    span: tuple[int, int] | None = None
    at_key: bool = False
    second: tuple[Any, Path] | None = None
    absent: bool = False


MOST = 200
"""So many slips of one file are told; somebody who made more has to begin with these."""


class TooMany(Exception):
    """A file has more slips than anybody wants to read."""


class Slips(list[Slip]):
    """The slips of one file. Raises :class:`TooMany` beyond :data:`MOST`, so a hostile file costs no more."""

    def append(self, slip: Slip) -> None:
        super().append(slip)
        if len(self) > MOST:
            raise TooMany

    def extend(self, slips: Iterable[Slip]) -> None:
        super().extend(slips)
        if len(self) > MOST:
            raise TooMany


class Wrong(Exception):
    """A value that cannot be taken, with one slip or, for a table, several."""

    def __init__(self, slips: list[Slip]) -> None:
        self.slips = slips
        super().__init__("; ".join(slip.message for slip in slips))


def wrong(value: object, message: str, wanted: str, span: tuple[int, int] | None = None) -> Wrong:
    """The complaint about one value."""
    return Wrong([Slip((), message, spelled(value), wanted, span)])


def spelled(value: object) -> str:
    """A parsed value the way it would be written, shortened: for telling what was found."""
    if isinstance(value, str):
        text = value
    elif isinstance(value, bool):
        text = "true" if value else "false"
    elif isinstance(value, dict):
        text = "{ … }" if value else "{ }"
    elif isinstance(value, list):
        text = "[ … ]" if value else "[ ]"
    else:
        text = str(value)
    if not text.isprintable():
        text = text.replace("\n", " ").replace("\t", " ")
        text = "".join(sign if sign.isprintable() else f"\\u{ord(sign):04x}" for sign in text)
    return text if len(text) <= 60 else text[:57] + "…"


def kind_of(value: object) -> str:
    """What a parsed value is, in plain words."""
    if isinstance(value, str):
        return "a text"
    if isinstance(value, bool):
        return "true or false"
    if isinstance(value, int):
        return "a whole number"
    if isinstance(value, float):
        return "a number"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return "a list"
    return "a date or time"


def unknown(path: Path, key: str, keys: Keys, more: tuple[str, ...] = ()) -> Slip:
    """The complaint about a key the table does not take."""
    known = (*keys, *more)
    meant = key.lower().replace("_", "-")
    close = [meant] if meant in known else nearest(key, known)
    hint = f"did you mean {' or '.join(close)}?" if close else f"one of the keys {', '.join(known)}"
    return Slip((*path, key), f"unknown key {spelled(key)}", spelled(key), hint, at_key=True)
