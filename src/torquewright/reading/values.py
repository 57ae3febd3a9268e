"""One value of a TOML file, read strictly: the exact type or a complaint, never a conversion.

A reading is a function from the value as parsed to what the record holds. It raises :class:`Wrong` and knows
nothing of files and places, which cost nothing until something is wrong.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from torquewright.base.document import Path
from torquewright.reading.keys import Keys
from torquewright.reading.near import nearest, one_edit, quoted
from torquewright.notation.notread import NotRead
from torquewright.reading.quantities import read_amount, read_drive, read_size
from torquewright.reading.slips import Slip, Slips, Wrong, kind_of, spelled, unknown, wrong
from torquewright.reading.tightening import read_tightening
from torquewright.reading.words_taken import ENERGIES, OPEN_WORDS, SAME_LOCK, WORDS
from torquewright.records.parts import Amount, Drive, Thread
from torquewright.records.steps import WasherUse
from torquewright.records.tightening import Tightening


def text(value: object) -> str:
    """A text that says something, on one line or several."""
    if type(value) is not str:
        raise wrong(value, f"{kind_of(value)} where a text belongs", f'a text in quotes: "{spelled(value)}"')
    if not value or value.isspace():
        raise wrong(value, "an empty text", "something to read, or leave the key out")
    return value


def name(value: object) -> str:
    """An id: one line, with no space before or after."""
    held = text(value)
    if held != held.strip() or "\n" in held:
        raise wrong(value, "an id with space around it or a line end in it", f'"{" ".join(held.split())}"')
    return held


def texts(value: object) -> tuple[str, ...]:
    """A list of texts, each saying something."""
    if type(value) is not list:
        hint = f'["{value}"]' if isinstance(value, str) else 'a list of texts: ["…", "…"]'
        raise wrong(value, f"{kind_of(value)} where a list of texts belongs", hint)
    if not value:
        raise wrong(value, "an empty list", "at least one text, or leave the key out")
    return texts_or_none(value)


def texts_or_none(value: object) -> tuple[str, ...]:
    """A list of texts, which may be empty where an empty list says something of its own."""
    if type(value) is not list:
        raise wrong(value, f"{kind_of(value)} where a list of texts belongs", 'a list of texts: ["…", "…"]')
    slips: list[Slip] = []
    held = []
    for at, item in enumerate(value):
        try:
            held.append(text(item))
        except Wrong as fault:
            slips.extend(slip._replace(path=(at, *slip.path)) for slip in fault.slips)
    if slips:
        raise Wrong(slips)
    return tuple(held)


def flag(value: object) -> bool:
    """true or false, and nothing that stands for them."""
    if value is True:
        return True
    if value is False:
        return False
    raise wrong(value, f"{kind_of(value)} where true or false belongs", "true or false, without quotes")


def count(value: object) -> int:
    """A whole number from 1."""
    if type(value) is not int:
        hint = "a whole number without quotes"
        if isinstance(value, str) and value.strip().isdecimal():
            hint = f"{value.strip()} without quotes"
        raise wrong(value, f"{kind_of(value)} where a whole number belongs", hint)
    if not 1 <= value <= 100_000:
        raise wrong(value, "a count out of all reason", "a whole number from 1 to 100000")
    return value


def percent(value: object) -> float:
    """``4 %`` as 0.04."""
    held = text(value).strip()
    figure = held.removesuffix("%").strip().removeprefix("±").strip().replace(",", ".")
    if held.endswith("%") and figure.replace(".", "", 1).isdecimal() and figure.isascii() and 0 < float(figure) <= 50:
        return float(figure) / 100
    raise wrong(value, "not a percentage", 'a figure up to 50 with a per cent sign: "4 %"')


def date(value: object) -> str:
    """A day as ``2027-01-31``, in quotes or as a TOML date."""
    from datetime import date as day

    if type(value) is day:
        return value.isoformat()
    held = text(value)
    try:
        if len(held) == 10 and day.fromisoformat(held):
            return held
    except ValueError:
        pass
    raise wrong(value, "not a day of the calendar", 'year, month and day: "2027-01-31"')


def tightening(value: object) -> Tightening:
    """A tightening text, whatever its notation; ambiguous ones are read as such."""
    held = text(value)
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
    held = text(value)
    try:
        return read_size(held)
    except NotRead as fault:
        raise wrong(value, fault.message, fault.wanted, (fault.start, fault.end)) from None


def drive(value: object) -> Drive:
    """What turns a fastener, with its size."""
    held = text(value)
    try:
        return read_drive(held)
    except NotRead as fault:
        raise wrong(value, fault.message, fault.wanted, (fault.start, fault.end)) from None


def _amount(measures: str) -> Callable[[object], Amount]:
    def amount(value: object) -> Amount:
        held = text(value)
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


def _one_of(words: tuple[str, ...]) -> Callable[[object], str]:
    allowed = frozenset(words)

    def one_of(value: object) -> str:
        if type(value) is str and value in allowed:
            return value
        raise wrong(value, "not a word known here", _or_nearest(text(value), words))

    one_of.__doc__ = f"One of {quoted(words)}."
    return one_of


def _nearly(words: tuple[str, ...], same: dict[str, str]) -> Callable[[object], str]:
    known = {word.lower(): word for word in words}
    known.update({word.lower(): meant for word, meant in same.items()})

    def nearly(value: object) -> str:
        held = text(value)
        lower = held.lower()
        if lower in known:
            return known[lower]
        if len(lower) > 4 and any(one_edit(lower, word) for word in known):
            raise wrong(value, "nearly a known word", _or_nearest(held, tuple(known.values())))
        return held

    nearly.__doc__ = f"{quoted(words)}, or another word."
    return nearly


def _or_nearest(held: str, words: tuple[str, ...]) -> str:
    return quoted(nearest(held, words, most=1, cutoff=0.6) or words)


def mode(value: object) -> str:
    """How an action is meant."""
    return _MODE(value).replace(" ", "_")


def state(value: object) -> str:
    """The state of a piece: ``new_if`` where it depends."""
    held = _STATE(value)
    return "new_if" if held == "new if needed" else held


_MODE = _one_of(WORDS["mode"])
_STATE = _one_of(WORDS["state"])
_ENERGY = _one_of(ENERGIES)


def energy(value: object) -> tuple[str, ...]:
    """A list of the kinds of energy behind a joint."""
    held = texts(value)
    slips: list[Slip] = []
    for at, word in enumerate(held):
        try:
            _ENERGY(word)
        except Wrong as fault:
            slips.extend(slip._replace(path=(at,)) for slip in fault.slips)
    if slips:
        raise Wrong(slips)
    return held


def facts(value: object) -> tuple[tuple[str, str], ...]:
    """A table of further facts, each a text, sorted by key."""
    if type(value) is not dict:
        raise wrong(value, f"{kind_of(value)} where a table belongs", '{ colour = "blue" }')
    slips: list[Slip] = []
    held = []
    for key, item in value.items():
        try:
            held.append((key, text(item)))
        except Wrong as fault:
            slips.extend(slip._replace(path=(key,)) for slip in fault.slips)
    if slips:
        raise Wrong(slips)
    return tuple(sorted(held))


def reuse(value: object) -> tuple[str, int | None]:
    """A reuse policy and, for ``3 times``, the number."""
    held = text(value)
    if held in ("never", "after measuring", "free"):
        return held, None
    figure, _, rest = held.partition(" ")
    if figure.isascii() and figure.isdigit() and rest in ("times", "time") and 1 <= int(figure) <= 1000:
        return "limited", int(figure)
    raise wrong(value, "not a way of reuse known here", '"never", "after measuring", "free" or "3 times"')


_WASHER_STATES = {"new": "new", "old": "old", "measured": "measured"}


def washer_use(value: object) -> WasherUse:
    """``1 new``, ``2 new sealing``, ``1 old``, ``new``, ``none``; ``some`` where neither is said."""
    held = text(value)
    if held == "none":
        return WasherUse(0)
    if held == "some":
        return WasherUse()
    words = held.split()
    number: int | None = None
    condition = ""
    if words[0].isascii() and words[0].isdigit() and len(words[0]) < 4:
        number = int(words.pop(0))
    if words and words[0] in _WASHER_STATES:
        condition = words.pop(0)
        if condition == "new" and words[:2] == ["if", "needed"]:
            condition, words = "new_if", words[2:]
    kind = " ".join(words)
    if kind and kind not in OPEN_WORDS["washer kind"]:
        raise wrong(value, "not a use of washers known here", '"1 new", "1 old", "2 new", "1 new sealing" or "none"')
    return WasherUse(number, condition, kind)  # type: ignore[arg-type]  # the words above are the states


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
    "hand": _one_of(WORDS["hand"]),
    "retorque": _one_of(WORDS["retorque"]),
    "role": _one_of(WORDS["role"]),
    "policy": _one_of(WORDS["policy"]),
    "mode": mode,
    "state": state,
    "energy": energy,
    "facts": facts,
    "reuse": reuse,
    "washer use": washer_use,
    "washer kind": _nearly(OPEN_WORDS["washer kind"], {}),
    "lock kind": _nearly(OPEN_WORDS["lock kind"], SAME_LOCK),
    "fastener kind": _nearly(OPEN_WORDS["fastener kind"], {}),
    "seal kind": _nearly(OPEN_WORDS["seal kind"], {}),
    "tool kind": _nearly(OPEN_WORDS["tool kind"], {}),
    "condition": _nearly(OPEN_WORDS["condition"], {}),
    "order": _nearly(OPEN_WORDS["order"], {}),
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
