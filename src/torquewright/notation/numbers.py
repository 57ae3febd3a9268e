"""Figures as people print them: thousands, decimal commas, fractions, and the digits they carry.

A fraction carries the digits of its decimal form: 3/8 stands for 0.375 with all three, 1/3 for 0.33.
"""

from __future__ import annotations

from typing import NamedTuple

_VULGAR = {
    "½": (1, 2), "⅓": (1, 3), "⅔": (2, 3), "¼": (1, 4), "¾": (3, 4), "⅕": (1, 5), "⅖": (2, 5), "⅗": (3, 5),
    "⅘": (4, 5), "⅙": (1, 6), "⅚": (5, 6), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8),
}  # fmt: skip


class Number(NamedTuple):
    """A printed figure: its value and half of its last printed digit.

    ``other`` is the value it would have if the one separator in it meant the other thing (``1,250``, ``1.400``),
    ``mark`` that separator; ``pair`` the two figures of ``18/22``, which may also be a fraction.
    """

    value: float
    half: float
    other: float | None = None
    mark: str = ""
    pair: tuple[float, float] | None = None


def _decimals(figure: str) -> float:
    point = figure.find(".")
    return 0.5 if point < 0 else 0.5 * 10.0 ** (point + 1 - len(figure))


def fraction_half(bottom: int) -> float:
    """Half of the last digit of a fraction's decimal form."""
    places = {2: 1, 4: 2, 5: 1, 8: 3, 16: 4, 32: 5, 64: 6}.get(bottom, 2)
    return 0.5 * 10.0**-places


def _fraction(text: str) -> tuple[int, int]:
    if text in _VULGAR:
        return _VULGAR[text]
    top, _, bottom = text.partition("/")
    return int(top), int(bottom)


def printed(text: str, kind: str) -> Number | None:
    """The figure ``text`` stands for; ``kind`` as the tokens call it. None for what is no figure (``1.2.3``)."""
    if len(text) > 20:
        return None  # no figure of a joint is that long, and no float holds it
    if kind == "pair":
        over, _, under = text.partition("/")
        if len(over) > 6 or len(under) > 6 or int(under) == 0:
            return None
        return Number(int(over) / int(under), fraction_half(int(under)), pair=(float(over), float(under)))
    if kind == "mixed":
        if text[-1] in _VULGAR:
            whole, part = text[:-1].rstrip(" -"), text[-1]
        else:
            whole, part = text.replace(" and ", " ").replace("-", " ").split(" ")
        top, bottom = _fraction(part)
        return Number(float(whole or 0) + top / bottom, fraction_half(bottom))
    if kind == "spaced":
        figure = text.replace(" ", "").replace(",", ".")
        return Number(float(figure), _decimals(figure))
    return _grouped(text)


def _grouped(text: str) -> Number | None:
    """A run of digits with stops, commas or apostrophes between them."""
    if "'" in text:
        figure = text.replace("'", "")
        return Number(float(figure), _decimals(figure))
    stops, commas = text.count("."), text.count(",")
    if stops + commas == 0:
        return Number(float(text), 0.5)
    if stops and commas:
        # the later mark is the decimal one, the earlier parts thousands
        decimal, group = (".", ",") if text.rfind(".") > text.rfind(",") else (",", ".")
        whole, _, part = text.rpartition(decimal)
        groups = whole.split(group)
        if decimal in whole or len(groups[0]) > 3 or any(len(piece) != 3 for piece in groups[1:]):
            return None
        figure = "".join(groups) + "." + part
        return Number(float(figure), _decimals(figure))
    mark = "." if stops else ","
    pieces = text.split(mark)
    if len(pieces) > 2:
        if not 1 <= len(pieces[0]) <= 3 or any(len(piece) != 3 for piece in pieces[1:]):
            return None
        return Number(float("".join(pieces)), 0.5)
    figure = text.replace(",", ".")
    decimal_reading = float(figure)
    if len(pieces[1]) != 3 or not 1 <= len(pieces[0]) <= 3 or pieces[0].startswith("0"):
        return Number(decimal_reading, _decimals(figure))
    thousands = float("".join(pieces))
    if mark == "." and not text.endswith("0"):
        # three decimals with a meaning: a converted figure rather than continental thousands
        return Number(decimal_reading, _decimals(figure), thousands, mark)
    return Number(thousands, 0.5, decimal_reading, mark)
