"""Amounts, thread sizes and drives: plain amounts are read right here, anything else is handed to the notation room.

A plain amount (``30 mm``, ``0.62 L``, ``15 min``) is what records mostly hold; it needs no more than a dictionary.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple

from torquewright.base.units import UNITS
from torquewright.notation.drives import read_drive
from torquewright.notation.sizes import read_size
from torquewright.records.parts import Amount, Thread

__all__ = ["Quantity", "find_quantities", "read_amount", "read_drive", "read_size", "unit_named"]

# the spellings that are read without the notation room, with the name of the unit
_PLAIN = {
    name: name
    for name in ("mm", "cm", "m", "in", "km", "mi", "L", "mL", "min", "h", "s", "d", "bar", "kPa", "MPa", "N", "kN")
} | {"minutes": "min", "hours": "h", "seconds": "s", "days": "d"}


class Quantity(NamedTuple):
    """A quantity inside a longer text that is no torque: offsets (end excluded), what it is ("length", "volume",
    "time", "temperature", "distance", "pressure", "force", "mass", "size"), and its amount or its thread.

    ``amount`` is None where the text leaves the unit open (``3 qt``, ``45 lb``); ``length`` is the 30 mm
    of ``M8 × 1.25 × 30``.
    """

    start: int
    end: int
    kind: str
    amount: Amount | None = None
    thread: Thread | None = None
    length: Amount | None = None


def _plain(text: str, measures: tuple[str, ...]) -> Amount | None:
    figure, _, name = text.partition(" ")
    unit = _PLAIN.get(name)
    if unit is None or len(figure) > 12 or not figure.isascii():
        return None
    whole, point, part = figure.partition(".")
    if not whole.isdigit() or (point and not (part.isdigit() and len(part) != 3)):
        return None
    held = UNITS[unit]
    if held.measures not in measures and not (held.measures == "length" and "distance" in measures):
        return None
    return Amount(float(figure) * held.factor, unit, 0.5 * 10.0 ** -len(part) * held.factor)


def read_amount(text: str, measures: str | Collection[str]) -> Amount:
    """The amount ``text`` states, which must be one of ``measures`` ("length", "volume", "time", "temperature",
    "distance", "pressure", "force"). SI value; ``half`` is half of the last printed digit, SI.

    A range or a tolerance gives ``low`` and ``high``; for a range ``value`` is its middle. Raises
    :class:`~torquewright.notation.notread.NotRead` where the text is no such amount, names another quantity, or leaves
    the unit open (``3 qt``).
    """
    wanted = (measures,) if isinstance(measures, str) else tuple(sorted(measures))
    plain = _plain(text, wanted)
    if plain is not None:
        return plain
    from torquewright.notation.amounts import read_whole_amount  # for weight: most files never need it

    return read_whole_amount(text, wanted)


def unit_named(text: str) -> str:
    """The canonical name of a unit in any spelling: ``"ft-lb"`` is ``"lbf·ft"``, ``"quarts (US)"`` is ``"US qt"``.

    Raises :class:`~torquewright.notation.notread.NotRead` for what is outside the closed list, and for a measure
    that could be two.
    """
    if text in UNITS:
        return text
    from torquewright.notation.amounts import unit_at

    return unit_at(text)


def find_quantities(text: str, start: int = 0, end: int | None = None) -> list[Quantity]:
    """The quantities inside ``text[start:end]`` that are no torque, in order, not overlapping.

    Lengths, volumes, times, temperatures, distances, pressures, forces and thread sizes, so that a reader of
    sentences knows which figures are spoken for. Angles are the business of ``find_tightenings``.
    """
    from torquewright.notation.amounts import find_amounts

    stop = len(text) if end is None else end
    return [Quantity(*found) for found in find_amounts(text, start, stop)]
