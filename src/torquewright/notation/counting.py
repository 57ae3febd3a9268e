"""Figures in a run of tokens: printed numbers and numbers in words, "25", "1-1/2", "twenty-five", "two and a half"."""

from __future__ import annotations

from torquewright.notation.numbers import Number, fraction_half
from torquewright.notation.phrases import text_at
from torquewright.notation.spelling import Token

_UNITS = {
    "zero": 0.0, "one": 1.0, "two": 2.0, "three": 3.0, "four": 4.0, "five": 5.0, "six": 6.0, "seven": 7.0, "eight": 8.0,
    "nine": 9.0, "ten": 10.0, "eleven": 11.0, "twelve": 12.0, "thirteen": 13.0, "fourteen": 14.0, "fifteen": 15.0,
    "sixteen": 16.0, "seventeen": 17.0, "eighteen": 18.0, "nineteen": 19.0,
}  # fmt: skip
_TENS = {
    "twenty": 20.0, "thirty": 30.0, "forty": 40.0, "fifty": 50.0, "sixty": 60.0, "seventy": 70.0, "eighty": 80.0,
    "ninety": 90.0,
}  # fmt: skip
_PARTS = {
    "half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fourth": 4, "fourths": 4,
    "fifth": 5, "fifths": 5, "sixth": 6, "sixths": 6, "eighth": 8, "eighths": 8, "twelfth": 12, "twelfths": 12,
    "sixteenth": 16, "sixteenths": 16,
}  # fmt: skip


_WORDS = frozenset({*_UNITS, *_TENS, *_PARTS, "a", "an", "hundred", "thousand"})


def _dash(toks: list[Token], i: int) -> int:
    return i + 1 if text_at(toks, i) == "-" else i


def _whole(toks: list[Token], i: int) -> tuple[float, int] | None:
    """A whole number in words."""
    word = text_at(toks, i)
    if word in _TENS:
        value = _TENS[word]
        j = _dash(toks, i + 1)
        unit = _UNITS.get(text_at(toks, j))
        return (value + unit, j + 1) if unit and unit < 10 else (value, i + 1)
    if word in _UNITS:
        value = _UNITS[word]
        i += 1
    elif word == "a" and text_at(toks, i + 1) in ("hundred", "thousand"):
        value = 1.0
        i += 1
    elif word in ("hundred", "thousand"):
        value = 1.0
    else:
        return None
    if text_at(toks, i) == "hundred":
        value *= 100
        i += 1
        j = i + 1 if text_at(toks, i) == "and" else i
        more = _whole(toks, j)
        if more is not None and more[0] < 100:
            return value + more[0], more[1]
    return value, i


def part_at(toks: list[Token], i: int) -> tuple[Number, int] | None:
    """A fraction in words: "half", "a quarter", "three-quarters", "one half", "two thirds"."""
    j = i
    top = 1.0
    word = text_at(toks, j)
    if word not in _WORDS:
        return None
    if word in ("a", "an"):
        j += 1
    else:
        whole = _whole(toks, j)
        if whole is not None:
            top, j = whole
            j = _dash(toks, j)
    bottom = _PARTS.get(text_at(toks, j))
    if bottom is None or top >= bottom * 2:
        return None
    return Number(top / bottom, fraction_half(bottom)), j + 1


def number_at(toks: list[Token], i: int) -> tuple[Number, int] | None:
    """The figure at token ``i`` and the index after it, in digits or in words; None if there is none."""
    if i >= len(toks):
        return None
    tok = toks[i]
    if tok.number is not None:
        return tok.number, i + 1
    if tok.text not in _WORDS:
        return None
    part = part_at(toks, i)
    if part is not None:
        return part
    whole = _whole(toks, i)
    if whole is None:
        return None
    value, j = whole
    if text_at(toks, j) == "and":
        fraction = part_at(toks, j + 1)
        if fraction is not None and fraction[0].value < 1:
            return Number(value + fraction[0].value, fraction[0].half), fraction[1]
    elif text_at(toks, j) == "point":
        decimal = _whole(toks, j + 1)
        if decimal is not None and decimal[0] < 10:
            return Number(value + decimal[0] / 10, 0.05), decimal[1]
    return Number(value, 0.5), j
