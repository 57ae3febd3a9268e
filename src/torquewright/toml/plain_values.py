"""Texts, lists, numbers and switches of a TOML file, each the exact type or a complaint."""

from __future__ import annotations

from torquewright.toml.slips import Slip, Wrong, kind_of, spelled, wrong


def text(value: object) -> str:
    """A text that says something, on one line or several."""
    if type(value) is not str:
        raise wrong(value, f"{kind_of(value)} where a text belongs", f'a text in quotes: "{spelled(value)}"')
    if not value or value.isspace():
        raise wrong(value, "an empty text", "something to read, or leave the key out")
    return value


LONGEST = 400
"""Characters of a notation: a tightening of many stages has fewer, and only a hostile one could cost time."""


def notation(value: object) -> str:
    """A text short enough to be one value with its unit."""
    held = text(value)
    if len(held) > LONGEST:
        raise wrong(value, f"{len(held)} characters where one value belongs", "the value with its unit, and no more")
    return held


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


def angle(value: object) -> float:
    """``90°`` as 90.0."""
    held = text(value).strip().lower()
    for sign in ("°", "degrees", "deg"):
        figure = held.removesuffix(sign).rstrip()
        if figure != held and figure.replace(".", "", 1).isdecimal() and figure.isascii() and float(figure) <= 180:
            return float(figure)
    raise wrong(value, "not an angle from 0° to 180°", 'degrees: "0°", "45°", "90°"')


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
