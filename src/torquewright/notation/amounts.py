"""Amounts that are no torque: lengths, volumes, times, temperatures, distances, as values and inside sentences."""

from __future__ import annotations

from collections.abc import Collection
from functools import lru_cache

from torquewright.base.units import UNITS
from torquewright.notation.counting import number_at
from torquewright.notation.limits import AFTER, LEADS
from torquewright.notation.measures import Measure, measure_at
from torquewright.notation.notread import NotRead
from torquewright.notation.numbers import Number
from torquewright.notation.phrases import phrase_at, text_at
from torquewright.notation.sizes import UNIFIED_THREADS, read_size
from torquewright.notation.spelling import Token, tokens
from torquewright.notation.unit_words import torque_unit_at
from torquewright.records.parts import Amount, Thread

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


def _wanted(measures: Collection[str]) -> str:
    named = [f"{_NAMES[name]} such as {_EXAMPLES[name]}" for name in sorted(measures) if name in _EXAMPLES]
    return " or ".join(named) or "an amount with its unit"


def _accepted(measure: Measure, measures: Collection[str]) -> bool:
    # a distance run may be written in metres or feet
    return measure.measures in measures or (measure.measures == "length" and "distance" in measures)


@lru_cache(maxsize=1024)
def read_whole_amount(text: str, measures: tuple[str, ...]) -> Amount:
    """The amount that ``text`` wholly is; see :func:`torquewright.toml.quantities.read_amount`."""
    toks = tokens(text)
    lead = phrase_at(toks, 0, LEADS)
    i = lead[1] if lead is not None else 0
    if text_at(toks, i) in (":", "="):
        i += 1
    limit = lead[0] if lead is not None and lead[0] in ("min", "max") else ""
    found = amount_at(toks, i, measures)
    if found is None:
        _complain(text, toks, i, measures)
    assert found is not None
    amount, j = found
    after = phrase_at(toks, j, AFTER)
    if after is not None and not limit:
        limit = after[0] if after[0] in ("min", "max") else ""
        j = after[1]
    if text_at(toks, j) == "." and j + 1 == len(toks):
        j += 1
    if j < len(toks):
        left = text[toks[j].start :].strip()
        raise NotRead(
            f'"{left}" does not belong to the amount',
            toks[j].start,
            len(text),
            f'only the amount, "{text[: toks[j].start].strip()}"',
        )
    if limit and amount.low is None:
        low, high = (amount.value, None) if limit == "min" else (None, amount.value)
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
    torque = torque_unit_at(toks, j)
    if torque is not None and torque.name:
        end = toks[torque.after - 1].end
        raise NotRead(f'"{text[start:end]}" is a torque', start, end, wanted)
    if unit is None:
        raise NotRead(
            f'"{text[start:].strip()}" is no unit of {_NAMES.get(measures[0], "such an amount")}',
            start,
            len(text),
            wanted,
        )
    measure, end = unit
    stop = toks[end - 1].end
    if measure.choices:
        figure = text[toks[i].start : toks[j - 1].end]
        either = " or ".join(f'"{figure} {choice}"' for choice in measure.choices)
        raise NotRead(
            f'"{text[start:stop]}" is an American or an imperial measure, and they differ', start, stop, either
        )
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


def unit_at(text: str) -> str:
    """The canonical name of the unit ``text`` spells; see :func:`torquewright.toml.quantities.unit_named`."""
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


_ALL = frozenset(_NAMES)
_Found = tuple[int, int, str, Amount | None, Thread | None, Amount | None]


def find_amounts(text: str, start: int, end: int) -> list[_Found]:
    """See :func:`torquewright.toml.quantities.find_quantities`."""
    toks = tokens(text if start == 0 and end == len(text) else text[start:end])
    found: list[_Found] = []
    i = 0
    while i < len(toks):
        tok = toks[i]
        if tok.kind == "size":
            held = _size(text, toks, i, start)
            if held is not None:
                found.append(held[0])
                i = held[1]
                continue
        numbered = _numbered(toks, i)
        if numbered:
            written = text[start + tok.start : start + toks[numbered - 1].end]
            found.append((start + tok.start, start + toks[numbered - 1].end, "size", None, read_size(written), None))
            i = numbered
            continue
        number = number_at(toks, i)
        if number is None or (i and toks[i - 1].text in ("'", "°")):
            i += 1
            continue
        torque = torque_unit_at(toks, number[1])
        if torque is None or measure_at(toks, number[1]) is not None:
            amount = amount_at(toks, i, _ALL)
            if amount is not None and not any(_torque_after(toks, k) for k in range(number[1], amount[1])):
                kind = UNITS[amount[0].unit].measures
                found.append((start + tok.start, start + toks[amount[1] - 1].end, kind, amount[0], None, None))
                i = amount[1]
                continue
            if amount is not None:
                i = amount[1]  # "10-32 in-lb" is a torque
                continue
            unit = measure_at(toks, number[1])
            if unit is not None and unit[0].choices:
                found.append((start + tok.start, start + toks[unit[1] - 1].end, unit[0].measures, None, None, None))
                i = unit[1]
                continue
        elif torque.name == "":
            kind = "length" if torque.could == ("N·m",) and toks[number[1]].text == "nm" else "mass"
            found.append((start + tok.start, start + toks[torque.after - 1].end, kind, None, None, None))
            i = torque.after
            continue
        i = number[1]
    return found


def _numbered(toks: list[Token], i: int) -> int:
    """The index after a numbered size without a sign or a series ("a 10-32 screw"); 0 where none stands at ``i``."""
    if i + 3 >= len(toks) or toks[i].kind != "number" or toks[i + 1].text != "-" or toks[i + 2].kind != "number":
        return 0
    threads = UNIFIED_THREADS.get(f"#{toks[i].text}", ())
    if toks[i + 3].text not in _NOUNS or toks[i + 2].text not in [str(count) for count in threads]:
        return 0
    return i + 3


def _torque_after(toks: list[Token], j: int) -> bool:
    """Whether a torque unit stands at ``j`` ("25 in-lb" is no length)."""
    unit = torque_unit_at(toks, j)
    return unit is not None and unit.name != ""


def _size(text: str, toks: list[Token], i: int, start: int) -> tuple[_Found, int] | None:
    """The thread size at ``i``, with its series, its hand and the length written behind it."""
    tok = toks[i]
    j = i + 1
    while (
        j < len(toks)
        and j < i + 4
        and (toks[j].text in _SERIES or (toks[j].text == "-" and j + 1 < len(toks) and toks[j + 1].text in _SERIES))
    ):
        j += 1
    for stop in range(j, i, -1):
        written = text[start + tok.start : start + toks[stop - 1].end]
        try:
            thread = read_size(written)
        except NotRead:
            continue
        return (start + tok.start, start + toks[stop - 1].end, "size", None, thread, None), stop
    written = text[start + tok.start : start + tok.end]
    head, _, tail = written.replace("×", "x").rpartition("x")
    try:
        thread = read_size(head.strip())
        length = read_whole_amount(f"{tail.strip()} mm", ("length",))
    except NotRead:
        return None
    return (start + tok.start, start + tok.end, "size", None, thread, length), i + 1


_NOUNS = frozenset(
    {"screw", "screws", "bolt", "bolts", "nut", "nuts", "stud", "studs", "thread", "capscrew", "capscrews"}
)
_SERIES = frozenset({"unc", "unf", "unef", "un", "uns", "lh", "left", "hand", "thread"})
