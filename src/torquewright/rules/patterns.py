"""Orders of tightening round a joint: made for any count, read from a text, and checked position by position.

Positions are numbered from 1, clockwise round a circle, or from one end of a row to the other.
"""

from __future__ import annotations

from functools import lru_cache

CROSS = ("cross", "star", "criss", "diagonal", "opposite")
ROUND = ("circular", "clockwise", "round")
OUTWARD = ("spiral", "outward", "middle")


def circular(count: int) -> tuple[int, ...]:
    """One after the other round the circle."""
    return tuple(range(1, count + 1))


def cross(count: int) -> tuple[int, ...]:
    """Across the circle: each second pull lies opposite the one before it, and the pairs are spread before the gaps
    between them are filled. An odd count goes on by just less than half a turn, as a star is drawn.

    For 4, 8, 12, 16, 20 and 24 these are the rows of the sequence in older editions of ASME PCC-1 (from memory).
    """
    if count % 2:
        return tuple(1 + place * (count // 2) % count for place in range(count))
    half = count // 2
    if count % 4:
        return tuple(number for start in _spread(half) for number in (start, start + half))
    quarter = count // 4
    return tuple(start + turn for start in _spread(quarter) for turn in (0, half, quarter, half + quarter))


def _spread(count: int) -> list[int]:
    """1 to ``count``, so that neighbours in the list are no neighbours on the joint where that can be had."""
    if count < 4:
        return list(range(1, count + 1))
    if count % 2:
        return [*range(1, count + 1, 2), *range(2, count + 1, 2)]
    half = count // 2
    return [number for start in range(1, half + 1) for number in (start, start + half)]


def spiral(count: int, rows: int = 1) -> tuple[int, ...]:
    """From the middle outward, to both sides in turn; in ``rows`` rows of equal length, numbered one row after the
    other, all of a column before the next. (A straight row: US Army TM 5-3805-298-23-2, WP 0176.)

    Raises ValueError where the count does not fill the rows.
    """
    if rows < 1 or count % rows:
        raise ValueError(f"{count} positions do not fill {rows} rows")
    columns = count // rows
    middle = (columns + 1) // 2
    order = sorted(range(1, columns + 1), key=lambda place: (abs(place - middle - 0.25), place))
    return tuple(column + row * columns for column in order for row in range(rows))


@lru_cache(maxsize=256)  # a job asks for the same few again and again
def positions(text: str) -> tuple[int, ...]:
    """The positions of a listed order ("1-4-2-5-3-6", "A, C, B, D", "1, 3, 2, 4; then 5 …"); none where the text is
    no list."""
    words = "".join(sign if sign.isalnum() else " " for sign in text).split()
    found: list[int] = []
    for word in words:
        if word.isdecimal() and len(word) < 4:
            found.append(int(word))
        elif len(word) == 1 and word.isascii():
            found.append(ord(word.upper()) - ord("A") + 1)
        elif word.lower() not in ("then", "and", "to"):
            return ()
    return tuple(found) if len(found) > 1 else ()


def slips(order: tuple[int, ...], count: int) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """(positions left out, positions there more than once or not on the joint) of a listed order for ``count``
    positions. A list may go round several times; a last round may stop short. Numbers that stand in a figure, as many
    in a row as there are positions, need not begin with 1."""
    first = min(order)
    if max(order) - first + 1 == count:
        order = tuple(number - first + 1 for number in order)
    for start in range(0, len(order), count):
        part = order[start : start + count]
        missing = tuple(number for number in range(1, count + 1) if number not in part)
        wrong = tuple(dict.fromkeys(n for n in part if not 1 <= n <= count or part.count(n) > 1))
        if start:
            missing = ()  # a last round may stop short
        if missing or wrong:
            return missing, wrong
    return (), ()


@lru_cache(maxsize=256)  # a job asks for the same few again and again
def named(text: str) -> str:
    """"cross", "circular" or "spiral" for words that mean one of them; "" for a list or other words."""
    low = text.lower()
    for name, words in (("cross", CROSS), ("spiral", OUTWARD), ("circular", ROUND)):
        if any(word in low for word in words):
            return name
    return ""


@lru_cache(maxsize=256)  # a job asks for the same few again and again
def example(count: int, name: str) -> str:
    """An order of that name for so many positions, as a step would print it."""
    order = circular(count) if name == "circular" else spiral(count) if name == "spiral" else cross(count)
    return "-".join(str(number) for number in order)
