"""Figures of a record written the way the reader takes them, so that reading gives the same record again.

A record holds SI values and half of the last printed digit, not the text. Each writing is tried by reading it back;
where none gives exactly the same figures, the one with the most digits is written.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from torquewright.base.units import UNITS, from_si
from torquewright.records.parts import Amount, Drive
from torquewright.toml.slips import Wrong
from torquewright.toml.values import READINGS

_DECIMALS = range(8)
_PARTS = (2, 4, 8, 16, 32, 64)


def amount_text(amount: Amount, reading: str) -> str:
    """``amount`` as a text that the reading ("length", "volume", "time", "distance", "torque") reads as the same."""
    return _first_same(_amounts(amount), READINGS[reading], amount)


def torque_text(value: float, unit: str, reading: str = "torque") -> str:
    """A torque in N·m as a text, in ``unit`` or else in whichever unit gives the value again."""

    def texts() -> Iterator[str]:
        others = (name for name, held in UNITS.items() if held.measures == "torque")
        for name in dict.fromkeys((unit or "N·m", *others)):
            yield from (f"{figure} {name}" for figure in _figures(from_si(value, name)))

    return _first_same(texts(), lambda text: READINGS[reading](text).value, value)


def length_text(value: float) -> str:
    """A length in metres as a text."""

    def texts() -> Iterator[str]:
        for name in ("mm", "cm", "m", "in", "ft"):
            yield from (f"{figure} {name}" for figure in _figures(from_si(value, name)))

    return _first_same(texts(), lambda text: READINGS["length"](text).value, value)


def percent_text(value: float) -> str:
    """A fraction as a percentage."""
    return _first_same((f"{figure} %" for figure in _figures(100 * value)), READINGS["percent"], value)


def drive_text(drive: Drive) -> str:
    """A drive by its kind and size."""
    texts = (f"{drive.kind} {drive.size}".strip(), drive.size or drive.kind, drive.kind)
    return _first_same(iter(texts), READINGS["drive"], drive)


def _figures(value: float) -> Iterator[str]:
    for decimals in _DECIMALS:
        yield f"{value:.{decimals}f}"
    for parts in _PARTS:
        whole, rest = divmod(round(value * parts), parts)
        if rest and abs(value * parts - round(value * parts)) < 1e-6:
            yield f"{whole}-{rest}/{parts}" if whole else f"{rest}/{parts}"


def _amounts(amount: Amount) -> Iterator[str]:
    unit = amount.unit
    low, high = amount.low, amount.high
    if low is None and high is None:
        yield from (f"{figure} {unit}" for figure in _figures(from_si(amount.value, unit)))
    elif low is None and high is not None:
        yield from (f"max {figure} {unit}" for figure in _figures(from_si(high, unit)))
    elif high is None and low is not None:
        yield from (f"min {figure} {unit}" for figure in _figures(from_si(low, unit)))
    elif low is not None and high is not None:
        for first in _figures(from_si(low, unit)):
            yield from (f"{first} to {second} {unit}" for second in _figures(from_si(high, unit)))
        spread = (high - low) / 2 / UNITS[unit].factor
        for figure in _figures(from_si(amount.value, unit)):
            yield from (f"{figure} {unit} ± {width}" for width in _figures(spread))
            yield from (f"{figure} ± {width} {unit}" for width in _figures(spread))


def _first_same(texts: Iterator[str], read: Callable[[object], object], wanted: object) -> str:
    most = ""
    for text in texts:
        try:
            if read(text) == wanted:
                return text
        except Wrong:
            continue
        most = max(most, text, key=len)
    return most
