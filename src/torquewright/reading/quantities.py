"""Amounts that are no torque: lengths, volumes, times, temperatures, distances, as values and inside sentences."""

from __future__ import annotations

from collections.abc import Collection
from functools import lru_cache

from torquewright.base.units import UNITS
from torquewright.notation.drives import read_drive
from torquewright.notation.counting import number_at
from torquewright.notation.measures import Measure, measure_at
from torquewright.notation.notread import NotRead
from torquewright.notation.numbers import Number
from torquewright.notation.sizes import read_size
from torquewright.notation.spelling import Token, tokens
from torquewright.records.parts import Amount

__all__ = ["NotRead", "amount_at", "read_amount", "read_drive", "read_size"]

_EXAMPLES = {
    "length": '"30 mm" or "1-1/8 in"',
    "volume": '"0.62 L" or "2 US qt"',
    "time": '"15 min" or "2 h"',
    "temperature": '"20 °C"',
    "distance": '"50 km"',
    "pressure": '"6 bar"',
    "force": '"400 N"',
}
_NAMES = {"length": "a length", "volume": "a volume", "time": "a time", "temperature": "a temperature",
          "distance": "a distance", "pressure": "a pressure", "force": "a force"}  # fmt: skip
_ABOUT = frozenset({"about", "approx", "approximately", "roughly", "around", "circa", "ca", "~"})
_LEAST = frozenset({"min", "minimum", "≥", ">=", ">"})
_MOST = frozenset({"max", "maximum", "≤", "<=", "<"})


def _wanted(measures: Collection[str]) -> str:
    named = [f"{_NAMES[name]} such as {_EXAMPLES[name]}" for name in sorted(measures) if name in _EXAMPLES]
    return " or ".join(named) or "an amount with its unit"


def _accepted(measure: Measure, measures: Collection[str]) -> bool:
    # a distance run may be written in metres or feet
    return measure.measures in measures or (measure.measures == "length" and "distance" in measures)


def read_amount(text: str, measures: str | Collection[str]) -> Amount:
    """The amount ``text`` states, which must be one of ``measures`` ("length", "volume", "time", "temperature",
    "distance", "pressure", "force"). SI value; ``half`` is half of the last printed digit, SI.

    A range or a tolerance gives ``low`` and ``high``; for a range ``value`` is its middle. Raises :class:`NotRead`
    where the text is no such amount, names another quantity, or leaves the unit open (``3 qt``).
    """
    return _read(text, (measures,) if isinstance(measures, str) else tuple(sorted(measures)))


@lru_cache(maxsize=1024)
def _read(text: str, measures: tuple[str, ...]) -> Amount:
    toks = tokens(text)
    i = 0
    limit = ""
    while i < len(toks) and (toks[i].text in _ABOUT or toks[i].text in _LEAST or toks[i].text in _MOST or toks[i].text == "."):
        if toks[i].text in _LEAST:
            limit = "least"
        elif toks[i].text in _MOST:
            limit = "most"
        i += 1
    found = amount_at(toks, i, measures)
    if found is None:
        _complain(text, toks, i, measures)
    assert found is not None
    amount, j = found
    if j < len(toks) and toks[j].text in _LEAST | _MOST and not limit:
        limit = "least" if toks[j].text in _LEAST else "most"
        j += 1
    if j < len(toks) and toks[j].text == "." and j + 1 == len(toks):
        j += 1
    if j < len(toks):
        left = text[toks[j].start :].strip()
        raise NotRead(f'"{left}" does not belong to the amount', toks[j].start, len(text), f'only the amount, "{text[: toks[j].start].strip()}"')
    if limit and amount.low is None:
        low, high = (amount.value, None) if limit == "least" else (None, amount.value)
        return Amount(amount.value, amount.unit, amount.half, low, high)
    return amount


def _complain(text: str, toks: list[Token], i: int, measures: tuple[str, ...]) -> None:
    """Say why there is no amount at token ``i``."""
    wanted = _wanted(measures)
    number = number_at(toks, i)
    if number is None:
        raise NotRead("there is no figure here", 0, len(text), wanted)
    j = number[1]
    if j >= len(toks):
        raise NotRead("the figure has no unit", 0, len(text), wanted)
    unit = measure_at(toks, j)
    start = toks[j].start
    if unit is None:
        raise NotRead(f'"{text[start:].strip()}" is no unit of {_NAMES.get(measures[0], "such an amount")}', start, len(text), wanted)
    measure, end = unit
    stop = toks[end - 1].end
    if measure.choices:
        figure = text[toks[i].start : toks[j - 1].end]
        either = " or ".join(f'"{figure} {choice}"' for choice in measure.choices)
        raise NotRead(f'"{text[start:stop]}" is an American or an imperial measure, and they differ', start, stop, either)
    raise NotRead(f'"{text[start:stop]}" is {_NAMES[measure.measures]}', start, stop, wanted)


def _si(number: Number, measure: Measure) -> float:
    unit = UNITS[measure.unit]
    return number.value * measure.scale * unit.factor + unit.offset


def amount_at(toks: list[Token], i: int, measures: Collection[str]) -> tuple[Amount, int] | None:
    """The amount that stands at token ``i``, one of ``measures``, and the index after it; None if there is none."""
    first = number_at(toks, i)
    if first is None:
        return None
    number, j = first
    unit = None
    if j < len(toks) and toks[j].text == "-" and toks[j].start == toks[j - 1].end:
        unit = measure_at(toks, j + 1)  # "a 30-mm screw"
    unit = unit or measure_at(toks, j)
    second: Number | None = None
    spread: Number | None = None
    after = unit[1] if unit is not None else j
    if after < len(toks):
        sign = toks[after].text
        if sign in ("-", "to", "~", "..", "...", "thru", "through", "and"):
            other = number_at(toks, after + 1)
            if other is not None and (sign != "and" or (i and toks[i - 1].text == "between")):
                again = measure_at(toks, other[1])
                if again is not None and (unit is None or unit[0] == again[0]):
                    second, unit = other[0], again
        elif sign in ("±", "+/-", "+-"):
            other = number_at(toks, after + 1)
            if other is not None:
                again = measure_at(toks, other[1])
                if again is not None and (unit is None or unit[0] == again[0]):
                    spread, unit = other[0], again
                elif again is None and unit is not None:
                    spread, unit = other[0], (unit[0], other[1])
    if unit is None or unit[0].choices or not _accepted(unit[0], measures):
        return None
    measure, end = unit
    factor = measure.scale * UNITS[measure.unit].factor
    value = _si(number, measure)
    half = number.half * factor
    if second is not None:
        upper = _si(second, measure)
        low, high = min(value, upper), max(value, upper)
        return Amount((low + high) / 2, measure.unit, max(half, second.half * factor), low, high), end
    if spread is not None:
        width = spread.value * factor
        return Amount(value, measure.unit, half, value - width, value + width), end
    return Amount(value, measure.unit, half), end


def unit_named(text: str) -> str:
    """The canonical name of a unit in any spelling: ``"ft-lb"`` is ``"lbf·ft"``, ``"quarts (US)"`` is ``"US qt"``.

    Raises :class:`NotRead` for what is outside the closed list, and for a measure that could be two.
    """
    if text in UNITS:
        return text
    from torquewright.notation.unit_words import torque_unit_at

    toks = tokens(text)
    torque = torque_unit_at(toks, 0)
    if torque is not None and torque.name and torque.scale == 1.0 and torque.after >= len(toks) - 1:
        return torque.name
    found = measure_at(toks, 0)
    if found is not None and found[1] >= len(toks) - 1:
        measure = found[0]
        if measure.choices:
            raise NotRead(f'"{text}" is an American or an imperial measure', 0, len(text), " or ".join(measure.choices))
        if measure.scale == 1.0:
            return measure.unit
    raise NotRead(f'"{text}" is not in the list of units', 0, len(text), ", ".join(UNITS))
