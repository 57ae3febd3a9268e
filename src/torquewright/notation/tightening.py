"""Tightening notation, from text to record: the one grammar for TOML values and for sentences.

Plain forms (``7 N·m``, ``7 to 9 N·m``, ``7 ± 1 N·m``, each with a second unit in brackets; such torques in stages;
whole degrees after them; ``hand-tight``) are read right here. Anything else is handed to
:mod:`torquewright.notation.grammar`, which is imported only then: most files of records never need it, and loading it
costs as much as reading such a file.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from torquewright.base.units import UNITS
from torquewright.notation.agreement import agree
from torquewright.records.tightening import Angle, Kind, Stage, Tightening, Torque

_UNIT = {name: name for name, unit in UNITS.items() if unit.measures == "torque"} | {
    "Nm": "N·m", "cNm": "cN·m", "ft-lb": "lbf·ft", "lb-ft": "lbf·ft", "lbf-ft": "lbf·ft", "ft·lbf": "lbf·ft",
    "in-lb": "lbf·in", "lb-in": "lbf·in", "lbf-in": "lbf·in", "in·lbf": "lbf·in",
}  # fmt: skip

_FIGURE = r"(\d{1,6}(?:\.\d{1,2})?)(?:(?: to | ?[–-] ?)(\d{1,6}(?:\.\d{1,2})?)| ?± ?(\d{1,6}(?:\.\d{1,2})?))? ?"
_NAME = r"([A-Za-z]+(?:[·-][a-z]+)?)(?: ± (\d{1,6}(?:\.\d{1,2})?)(?: ([A-Za-z]+(?:[·-][a-z]+)?))?)?"
_PLAIN = re.compile(rf"{_FIGURE}{_NAME}(?: \({_FIGURE}{_NAME}\))?", re.ASCII)


def _half(figure: str, factor: float) -> float:
    point = figure.find(".")
    return (0.5 if point < 0 else 0.5 * 10.0 ** (point + 1 - len(figure))) * factor


def _torque(
    low: str, high: str | None, spread: str | None, name: str, after: str | None, again: str | None
) -> Torque | None:
    unit = _UNIT.get(name)
    if unit is None or (spread and after) or (again and _UNIT.get(again) != unit):
        return None
    factor = UNITS[unit].factor
    first = float(low)
    half = _half(low, factor)
    width = spread or after
    if high is not None:
        second = float(high)
        if after or second < first:
            return None
        return Torque(None, first * factor, second * factor, unit, max(half, _half(high, factor)))
    if width is not None:
        if float(width) > first:
            return None
        return Torque(first * factor, (first - float(width)) * factor, (first + float(width)) * factor, unit, half)
    return Torque(first * factor, None, None, unit, half)


def _pull(text: str) -> tuple[Torque, Torque | None] | None:
    """A plain torque and the one in brackets behind it; None where it is not plain, or the two disagree."""
    match = _PLAIN.fullmatch(text)
    if match is None:
        return None
    groups = match.groups()
    first = _torque(*groups[:6])
    if first is None or groups[6] is None:
        return None if first is None else (first, None)
    second = _torque(*groups[6:])
    if second is None or second.unit == first.unit or not agree(first, second):
        return None
    return first, second


def _degrees(text: str) -> Angle | None:
    """``90°``: whole degrees."""
    figure = text[:-1]
    if text[-1:] != "°" or len(figure) > 3 or not (figure.isdecimal() and figure.isascii()):
        return None
    return Angle(float(figure))


_HAND = frozenset({"hand-tight", "finger-tight", "snug"})


def _plain(text: str) -> Tightening | None:
    """The reading of a plain text; None for all others, which the grammar reads."""
    if text in _HAND:
        return Tightening(text, "hand_tight", (Stage(),))
    torque_part, *angle_parts = text.split(" + ")
    turn = _degrees(torque_part)
    stages = [] if turn is None else [Stage(angle=turn)]
    also: tuple[Torque, ...] = ()
    kind: Kind = "angle_only"
    if turn is None:
        parts = torque_part.removeprefix("stage ").split(", then ")
        for part in parts:
            pull = _pull(part)
            if pull is None:
                return None
            stages.append(Stage(pull[0]))
            also = () if pull[1] is None else (pull[1],)
        first = stages[0].torque
        assert first is not None
        if len(stages) > 1:
            kind = "stage"
        elif also:
            kind = "dual_unit"
        else:
            kind = "single" if first.low is None else "range" if first.nominal is None else "tolerance"
        if angle_parts:
            kind = "stage_angle"
    for part in angle_parts:
        angle = _degrees(part)
        if angle is None:
            return None
        stages.append(Stage(angle=angle))
    return Tightening(text, kind, tuple(stages), also)


class Found(NamedTuple):
    """A tightening notation inside a longer text: offsets (end excluded) and its reading."""

    start: int
    end: int
    tightening: Tightening


@lru_cache(maxsize=4096)
def read_tightening(text: str, *, bare: bool = False) -> Tightening:
    """The reading of a text that is wholly a tightening notation.

    Torques in N·m, angles in degrees; what is ambiguous says so in ``doubt`` and gives its ``readings``. A force
    where a torque should be (``30 lbs``) is read with the unit "" and doubted; a figure without any unit is refused
    unless ``bare``, and then of the kind "unitless". Raises
    :class:`~torquewright.notation.notread.NotATightening` with the offsets of the offending part.
    """
    plain = _plain(text)
    if plain is not None:
        return plain
    from torquewright.notation.grammar import read_whole  # for weight: see the module's docstring

    return read_whole(text, bare=bare)


def find_tightenings(
    text: str, start: int = 0, end: int | None = None, *, bare: bool = False, angles: bool = True, hand: bool = True
) -> list[Found]:
    """The tightening notations inside ``text[start:end]``, the longest at each place, in order, not overlapping.

    Finds every torque, whether demanded or only mentioned (a wrench's range): what it is for is the sentence's
    business. ``bare`` also gives figures without a unit and forces in place of a torque; ``angles`` angles and turns
    that follow no torque, which may be geometry; ``hand`` notations such as "finger-tight".
    """
    from torquewright.notation.finding import find_in

    stop = len(text) if end is None else end
    return [Found(*found) for found in find_in(text, start, stop, bare=bare, angles=angles, hand=hand)]
