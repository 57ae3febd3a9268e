"""What bears and what it passes through: bearing faces, clearance holes, washers, widths across flats."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from torquewright.book.tables import Row, table

_INCH = 0.0254


class Found(NamedTuple):
    """A length in metres with its source; ``firm`` False where it may not decide anything."""

    value: float
    source: str
    firm: bool = True


def size_name(diameter: float) -> str:
    """``M8`` for 0.008: how the tables call a metric size."""
    return f"M{round(diameter * 1e3, 3):g}"


def _inch_row(diameter: float) -> Row | None:
    for row in table("inch-hex-heads"):
        if abs(row.number("diameter") * _INCH - diameter) < 2e-6:
            return row
    return None


@lru_cache(maxsize=128)
def bearing_face(diameter: float, family: str = "metric", head: str = "hex") -> Found:
    """dw, the outer diameter a head bears on, metres. ``head``: "hex", "cap", "small flange", "heavy flange".

    ISO 4014/4017, ISO 4762, EN 1662, EN 1665; inch hexagon heads 0.95 of the width across flats (ASME B18.2.1).
    Sizes no table has: 1.45 d, by proportion and not firm.
    """
    if family == "metric":
        row = table("bearing-faces").first(thread=size_name(diameter), head=head)
        if row:
            return Found(row.number("diameter") / 1e3, row.cite(), row.firm)
    elif head == "hex" and (row := _inch_row(diameter)):
        return Found(0.95 * row.number("across_flats") * _INCH, row.cite(), row.firm)
    return Found(1.45 * diameter, "by proportion, 1.45 d (common practice, no source)", False)


@lru_cache(maxsize=128)
def clearance_hole(diameter: float, family: str = "metric", series: str = "medium") -> Found:
    """dh, the hole the shank passes through, metres: ISO 273 ("fine", "medium", "coarse"), or ASME B18.2.8 normal for
    inch sizes. Sizes no table has: 1.1 d, by proportion and not firm."""
    if family == "metric":
        row = table("clearance-holes").first(thread=size_name(diameter))
        if row:
            return Found(row.number(series) / 1e3, row.cite(), row.firm)
    elif row := _inch_row(diameter):
        return Found(row.number("hole") * _INCH, row.cite(), row.firm)
    return Found(1.1 * diameter, "by proportion, 1.1 d (common practice, no source)", False)


class WasherSize(NamedTuple):
    """A plain washer, lengths in metres."""

    hole: float
    outer: float
    thickness: float
    source: str
    firm: bool


@lru_cache(maxsize=128)
def washer(diameter: float) -> WasherSize | None:
    """The ISO 7089 washer for a metric size; None where the standard has none."""
    row = table("washers").first(thread=size_name(diameter))
    if row is None:
        return None
    return WasherSize(
        row.number("hole") / 1e3, row.number("outer") / 1e3, row.number("thickness") / 1e3, row.cite(), row.firm
    )


def across_flats(diameter: float) -> tuple[Found, Found] | None:
    """Width across flats of a metric hexagon head after ISO 272, and the older DIN width; metres.

    None where unknown.
    """
    row = table("hex-heads").first(thread=size_name(diameter))
    if row is None:
        return None
    cite = row.cite()
    return Found(row.number("across_flats") / 1e3, cite), Found(row.number("across_flats_din") / 1e3, cite)
