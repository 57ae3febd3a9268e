"""Tightening notation, from text to record: the one grammar for TOML values and for sentences.

Plain forms (``7 N·m``, ``7 to 9 N·m``, ``7 ± 1 N·m``, each with a second unit in brackets) are read right here.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from torquewright.base.units import UNITS
from torquewright.reading.notread import NotATightening
from torquewright.records.tightening import Kind, Stage, Tightening, Torque

_WANTED = "a torque with its unit such as \"7 N·m\", \"7 to 9 N·m\" or \"62 lbf·in\""

_UNIT = {name: name for name, unit in UNITS.items() if unit.measures == "torque"} | {
    "Nm": "N·m", "cNm": "cN·m", "ft-lb": "lbf·ft", "lb-ft": "lbf·ft", "lbf-ft": "lbf·ft", "ft·lbf": "lbf·ft",
    "in-lb": "lbf·in", "lb-in": "lbf·in", "lbf-in": "lbf·in", "in·lbf": "lbf·in",
}  # fmt: skip

_FIGURE = r"(\d+(?:\.\d{1,2})?)(?:(?: to | ?[–-] ?)(\d+(?:\.\d{1,2})?)| ?± ?(\d+(?:\.\d{1,2})?))? ?"
_NAME = r"([A-Za-z][A-Za-z·-]*)(?: ± (\d+(?:\.\d{1,2})?)(?: ([A-Za-z][A-Za-z·-]*))?)?"
_PLAIN = re.compile(rf"{_FIGURE}{_NAME}(?: \({_FIGURE}{_NAME}\))?", re.ASCII)


def _half(figure: str, factor: float) -> float:
    point = figure.find(".")
    return (0.5 if point < 0 else 0.5 * 10.0 ** (point + 1 - len(figure))) * factor


def _torque(low: str, high: str | None, spread: str | None, name: str, after: str | None, again: str | None) -> Torque | None:
    unit = _UNIT.get(name)
    if unit is None or (spread and after) or (again and _UNIT.get(again) != unit):
        return None
    factor = UNITS[unit].factor
    first = float(low) * factor
    half = _half(low, factor)
    spread = spread or after
    if high is not None:
        second = float(high) * factor
        if after or second < first:
            return None
        return Torque(None, first, second, unit, max(half, _half(high, factor)))
    if spread is not None:
        width = float(spread) * factor
        return Torque(first, first - width, first + width, unit, half)
    return Torque(first, None, None, unit, half)


def _plain(text: str) -> Tightening | None:
    match = _PLAIN.fullmatch(text)
    if match is None:
        return None
    groups = match.groups()
    first = _torque(*groups[:6])
    if first is None:
        return None
    if groups[6] is None:
        kind: Kind = "single" if first.low is None else "range" if first.nominal is None else "tolerance"
        return Tightening(text, kind, (Stage(first),))
    second = _torque(*groups[6:])
    if second is None or second.unit == first.unit:
        return None
    return Tightening(text, "dual_unit", (Stage(first),), (second,))


class Found(NamedTuple):
    """A tightening notation inside a longer text: offsets (end excluded) and its reading."""

    start: int
    end: int
    tightening: Tightening


@lru_cache(maxsize=4096)
def read_tightening(text: str) -> Tightening:
    """The reading of a text that is wholly a tightening notation.

    Torques in N·m, angles in degrees. Raises :class:`NotATightening` with the offsets of the offending part.
    """
    tightening = _plain(text)
    if tightening is None:
        raise NotATightening("this is no tightening", 0, len(text), _WANTED)
    return tightening


def find_tightenings(text: str, start: int = 0, end: int | None = None, *, bare: bool = False) -> list[Found]:
    """The tightening notations inside ``text[start:end]``, in order, not overlapping."""
    found = []
    for match in _PLAIN.finditer(text, start, len(text) if end is None else end):
        tightening = _plain(match.group())
        if tightening is not None:
            found.append(Found(match.start(), match.end(), tightening))
    return found
