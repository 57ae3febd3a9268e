"""The readings of a TOML file's values, by name: each takes the exact type or complains, and converts nothing.

A reading is a function from the value as parsed to what the record holds. It raises :class:`Wrong` and knows
nothing of files and places, which cost nothing until something is wrong.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from torquewright.base.document import Path
from torquewright.notation.near import quoted
from torquewright.notation.notread import NotRead
from torquewright.notation.tightening import read_tightening
from torquewright.records.parts import Amount, Drive, Thread
from torquewright.records.tightening import Tightening
from torquewright.toml.keys import Keys
from torquewright.toml.plain_values import (
    angle,
    count,
    date,
    facts,
    flag,
    name,
    notation,
    percent,
    text,
    texts,
    texts_or_none,
)
from torquewright.toml.quantities import read_amount, read_drive, read_size
from torquewright.toml.slips import Slips, Wrong, unknown, wrong
from torquewright.toml.worded_values import energy, mode, nearly, one_of, reuse, state, washer_use
from torquewright.toml.words_taken import OPEN_WORDS, SAME_CONDITION, SAME_LOCK, SAME_WASHER, WORDS


def tightening(value: object) -> Tightening:
    """A tightening text, whatever its notation; ambiguous ones are read as such."""
    held = notation(value)
    try:
        return read_tightening(held)
    except NotRead as fault:
        raise wrong(value, fault.message, fault.wanted, (fault.start, fault.end)) from None


def turn(value: object) -> Tightening:
    """A tightening by an angle, in degrees or turns."""
    held = tightening(value)
    if not held.angles:
        raise wrong(value, "no angle", 'degrees or turns: "90°", "1/4 turn"')
    return held


def size(value: object) -> Thread:
    """A thread designation."""
    held = notation(value)
    try:
        return read_size(held)
    except NotRead as fault:
        raise wrong(value, fault.message, fault.wanted, (fault.start, fault.end)) from None


def drive(value: object) -> Drive:
    """What turns a fastener, with its size."""
    held = notation(value)
    try:
        return read_drive(held)
    except NotRead as fault:
        raise wrong(value, fault.message, fault.wanted, (fault.start, fault.end)) from None


def _amount(measures: str) -> Callable[[object], Amount]:
    def amount(value: object) -> Amount:
        held = notation(value)
        try:
            return read_amount(held, measures)
        except NotRead as fault:
            raise wrong(value, fault.message, fault.wanted, (fault.start, fault.end)) from None

    amount.__doc__ = f"A figure with a unit of {measures}."
    return amount


def torque(value: object) -> Amount:
    """A torque that is no demand: one figure, a range or a figure with a tolerance, in one unit."""
    held = tightening(value)
    read = held.torque
    if held.kind not in ("single", "range", "tolerance") or read is None or read.target is None:
        raise wrong(value, "not one torque with one unit", 'a torque with its unit: "3 N·m"')
    if held.doubt:
        raise wrong(value, held.doubt, quoted(held.readings) or 'a torque with its unit: "3 N·m"')
    return Amount(read.target, read.unit, read.half, read.low, read.high)


def torque_range(value: object) -> Amount:
    """The two ends of a scale."""
    held = torque(value)
    if held.low is None or held.high is None:
        raise wrong(value, "one torque where a range belongs", 'the two ends of the scale: "5 to 25 N·m"')
    if not held.low < held.high:
        raise wrong(value, "a range that ends below its start", 'the lower end first: "5 to 25 N·m"')
    return held


READINGS: dict[str, Callable[[object], Any]] = {
    "text": text,
    "id": name,
    "texts": texts,
    "texts or none": texts_or_none,
    "flag": flag,
    "count": count,
    "percent": percent,
    "date": date,
    "tightening": tightening,
    "turn": turn,
    "size": size,
    "drive": drive,
    "length": _amount("length"),
    "torque": torque,
    "torque range": torque_range,
    "volume": _amount("volume"),
    "time": _amount("time"),
    "distance": _amount("distance"),
    "temperature": _amount("temperature"),
    "hand": one_of(WORDS["hand"]),
    "retorque": one_of(WORDS["retorque"]),
    "role": one_of(WORDS["role"]),
    "policy": one_of(WORDS["policy"]),
    "mode": mode,
    "end": one_of(WORDS["end"]),
    "face": one_of(WORDS["face"]),
    "direction": one_of(WORDS["direction"]),
    "warmth": one_of(WORDS["warmth"]),
    "surroundings": one_of(WORDS["surroundings"]),
    "angle": angle,
    "state": state,
    "energy": energy,
    "facts": facts,
    "reuse": reuse,
    "washer use": washer_use,
    "washer kind": nearly(OPEN_WORDS["washer kind"], SAME_WASHER),
    "lock kind": nearly(OPEN_WORDS["lock kind"], SAME_LOCK),
    "fastener kind": nearly(OPEN_WORDS["fastener kind"], {}),
    "seal kind": nearly(OPEN_WORDS["seal kind"], {}),
    "tool kind": nearly(OPEN_WORDS["tool kind"], {}),
    "condition": nearly(OPEN_WORDS["condition"], SAME_CONDITION),
    "sealing": nearly(OPEN_WORDS["sealing"], {}),
    "order": nearly(OPEN_WORDS["order"], {}),
    "tighten when": nearly(OPEN_WORDS["tighten when"], {}),
    "file": text,
}
"""From the name of a reading, as the key tables have it, to its function. Tables add theirs in their modules."""


def fields(table: dict[str, Any], keys: Keys, slips: Slips, path: Path = ()) -> dict[str, Any]:
    """The values of ``table`` by attribute; what is wrong goes to ``slips`` with ``path`` in front."""
    held = {}
    for key, value in table.items():
        entry = keys.get(key)
        if entry is None:
            slips.append(unknown(path, key, keys))
            continue
        try:
            held[entry[0]] = READINGS[entry[1]](value)
        except Wrong as fault:
            slips.extend(slip._replace(path=(*path, key, *slip.path)) for slip in fault.slips)
    return held
