"""Words for units that are no torque: lengths, volumes, times, temperatures, pressures, forces.

Quarts, pints, gallons and fluid ounces are American or imperial; a text that does not say which names no volume.
"""

from __future__ import annotations

from typing import NamedTuple

from torquewright.notation.spelling import Token, words


class Measure(NamedTuple):
    """A unit of a quantity as written: canonical unit, what it measures, and how many of that unit one is.

    ``choices`` are the canonical units it could be, where the text leaves that open (``unit`` is then "").
    """

    unit: str
    measures: str
    scale: float = 1.0
    choices: tuple[str, ...] = ()


def _table() -> dict[str, Measure]:
    words: dict[str, Measure] = {}

    def add(names: str, unit: str, measures: str, scale: float = 1.0) -> None:
        for name in names.split():
            words[name] = Measure(unit, measures, scale)

    add("mm millimetre millimetres millimeter millimeters", "mm", "length")
    add("cm centimetre centimetres centimeter centimeters", "cm", "length")
    add("m metre metres meter meters", "m", "length")
    add("µm um micron microns micrometre micrometres micrometer micrometers", "µm", "length")
    add("in inch inches", "in", "length")
    add("thou mil mils", "in", "length", 1e-3)
    add("ft foot feet", "ft", "length")
    add("km kilometre kilometres kilometer kilometers", "km", "distance")
    add("mi mile miles", "mi", "distance")
    add("l ltr litre litres liter liters", "L", "volume")
    add("ml millilitre millilitres milliliter milliliters", "mL", "volume")
    add("cl centilitre centilitres centiliter centiliters", "L", "volume", 1e-2)
    add("dl decilitre decilitres deciliter deciliters", "L", "volume", 1e-1)
    add("cc ccm", "cm³", "volume")
    add("s sec secs second seconds", "s", "time")
    add("min mins minute minutes", "min", "time")
    add("h hr hrs hour hours", "h", "time")
    add("d day days", "d", "time")
    add("k kelvin", "K", "temperature")
    add("pa", "Pa", "pressure")
    add("kpa", "kPa", "pressure")
    add("mpa", "MPa", "pressure")
    add("bar bars", "bar", "pressure")
    add("psi", "psi", "pressure")
    add("n newton newtons", "N", "force")
    add("kn kilonewton kilonewtons", "kN", "force")
    add("lbf", "lbf", "force")
    add("ozf", "ozf", "force")
    add("kgf kp", "kgf", "force")
    add("degc celsius centigrade", "°C", "temperature")
    add("degf fahrenheit", "°F", "temperature")
    return words


_WORDS = _table()
_ABBREVIATED = words("in ft mm cm sec secs min mins hr hrs h s l ml gal qt pt oz m mi km")
_WET = {
    "gal": "gal", "gals": "gal", "gallon": "gal", "gallons": "gal", "qt": "qt", "qts": "qt", "quart": "qt",
    "quarts": "qt", "pt": "pt", "pts": "pt", "pint": "pt", "pints": "pt",
}  # fmt: skip
_AMERICAN = frozenset({"us", "american"})
_IMPERIAL = frozenset({"imp", "imperial", "uk", "british", "gb"})


def _nation(toks: list[Token], i: int) -> tuple[str, int] | None:
    """The country of a measure at ``i``: "US", "U.S.", "imp.", "(imperial)"."""
    bracket = i < len(toks) and toks[i].text in ("(", "[")
    if bracket:
        i += 1
    if i >= len(toks):
        return None
    word = toks[i].text
    if word == "u" and i + 2 < len(toks) and toks[i + 1].text == "." and toks[i + 2].text in ("s", "k"):
        word = "u" + toks[i + 2].text
        i += 2
    if word not in _AMERICAN and word not in _IMPERIAL:
        return None
    i += 1
    if i < len(toks) and toks[i].text == "." and not bracket and i + 1 < len(toks):
        i += 1
    if i < len(toks) and toks[i].text == "liquid":
        i += 1
    if bracket:
        if i >= len(toks) or toks[i].text not in (")", "]"):
            return None
        i += 1
    return ("US" if word in _AMERICAN else "imp"), i


def _wet(toks: list[Token], i: int) -> tuple[str, int] | None:
    """The measure of two countries at ``i``: "qt", "fl oz", "fluid ounces"."""
    if i >= len(toks):
        return None
    word = toks[i].text
    if word in ("fl", "fluid"):
        j = i + 1
        while j < len(toks) and toks[j].text in (".", "-"):
            j += 1
        if j < len(toks) and toks[j].text in ("oz", "ounce", "ounces"):
            return "fl oz", j + 1
        return None
    if word in _WET:
        return _WET[word], i + 1
    return None


def measure_at(toks: list[Token], i: int) -> tuple[Measure, int] | None:
    """The unit that stands at token ``i`` and the index after it, or None. Torques are not looked for."""
    if i >= len(toks):
        return None
    tok = toks[i]
    following = toks[i + 1] if i + 1 < len(toks) else None
    if tok.text in ("°", "deg", "degree", "degrees"):
        j = i + 1
        if j < len(toks) and toks[j].text == "." and tok.text == "deg":
            j += 1
        if j < len(toks) and toks[j].text in ("c", "f", "celsius", "fahrenheit", "centigrade"):
            return Measure("°F" if toks[j].text[0] == "f" else "°C", "temperature"), j + 1
        return None
    if tok.text == '"':
        return Measure("in", "length"), i + 1
    if tok.text == "'":
        if following is not None and following.text == "'" and following.start == tok.end:
            return Measure("in", "length"), i + 2
        return Measure("ft", "length"), i + 1
    nation = _nation(toks, i)
    if nation is not None:
        wet = _wet(toks, nation[1])
        return (Measure(f"{nation[0]} {wet[0]}", "volume"), wet[1]) if wet else None
    wet = _wet(toks, i)
    if wet is not None:
        after = _nation(toks, wet[1])
        if after is not None:
            return Measure(f"{after[0]} {wet[0]}", "volume"), after[1]
        return Measure("", "volume", 1.0, (f"US {wet[0]}", f"imp {wet[0]}")), _stop(toks, wet[1], wet[0])
    if tok.text in ("lb", "lbf", "lbs") and following is not None and following.text == "/":
        if i + 3 < len(toks) and toks[i + 2].text in ("in", "sq") and toks[i + 3].text in ("²", "2", "in"):
            return Measure("psi", "pressure"), i + 4
        return None
    if tok.text == "cm" and following is not None and following.text in ("³", "3") and following.start == tok.end:
        return Measure("cm³", "volume"), i + 2
    if tok.text == "cu" and following is not None:
        return None
    found = _WORDS.get(tok.text)
    if found is None:
        return None
    return found, _stop(toks, i + 1, tok.text)


def _stop(toks: list[Token], j: int, word: str) -> int:
    """Past the full stop of an abbreviation, unless that stop may end a sentence."""
    if word in _ABBREVIATED and j + 1 < len(toks) and toks[j].text == "." and toks[j].start == toks[j - 1].end:
        return j + 1
    return j
