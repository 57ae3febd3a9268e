"""Where sentences end: at a full stop that is no part of a unit, a number or an abbreviation."""

from __future__ import annotations

import re
from functools import lru_cache

from torquewright.notation.tightening import Found, find_tightenings

_ABBREVIATED = frozenset(
    "no nos nr fig figs approx e.g i.e incl excl max min ref dia qty ca vs cf para sect pos item dwg rev vol temp "
    "pt ft in lb "
    "lbs oz sq cu assy brg temp adj r.h l.h rh lh".split()
)
_MAY_END = frozenset("in ft lb lbs oz min max pt assy".split())
# abbreviations that close a sentence when a capital follows: units and shortened nouns


@lru_cache(maxsize=1)
def _stop() -> re.Pattern[str]:
    return re.compile(r"[.!?](?=[\s)\"'”’*_]|$)[)\"'”’*_]*\s*")


def stretches(
    text: str, start: int = 0, end: int | None = None, found: list[Found] | None = None
) -> list[tuple[int, int]]:
    """The (start, end) offsets of every sentence in ``text[start:end]``, without the space around it."""
    stop = len(text) if end is None else end
    if found is None:
        found = figures_in(text, start, stop)
    result: list[tuple[int, int]] = []
    at = start
    for match in _stop().finditer(text, start, stop):
        place = match.start()
        if any(item.start < place < item.end - 1 for item in found) or _abbreviation(
            text, place, match.end(), stop, at
        ):
            continue
        if any(item.end - 1 == place for item in found) and not _capital(text, match.end(), stop):
            continue
        _add(result, text, at, match.end())
        at = match.end()
    _add(result, text, at, stop)
    return result


@lru_cache(maxsize=1)
def _figured() -> re.Pattern[str]:
    return re.compile(r"\d|[½¼¾⅓⅔⅛]|\bturns?\b|\bflats?\b|newton|pound|\b[ksfit]+g?f?[- ]?met", re.IGNORECASE)


def figures_in(text: str, start: int, end: int) -> list[Found]:
    """The tightenings of ``text[start:end]``, looked for only in sentences that hold a figure or a turn.

    Most sentences of a draft hold none, and looking for a notation costs more than all the rest of reading them.
    """
    figured = _figured()
    if figured.search(text, start, end) is None:
        return []
    result: list[Found] = []
    at = start
    for match in (*_stop().finditer(text, start, end), None):
        stop = match.end() if match is not None else end
        if match is not None and (
            _abbreviation(text, match.start(), stop, end, at) or _unit_before(text, match.start()) or stop >= end
        ):
            continue
        if figured.search(text, at, stop) is not None:
            result.extend(find_tightenings(text, at, stop))
        at = stop
    return result


def _unit_before(text: str, place: int) -> bool:
    """Whether the stop may shorten a unit, whose other half may follow ("IN. LB.")."""
    at = place
    while at and text[at - 1].isalpha():
        at -= 1
    return text[at:place].lower() in _MAY_END


def _add(result: list[tuple[int, int]], text: str, start: int, end: int) -> None:
    while start < end and text[start].isspace():
        start += 1
    while end > start and text[end - 1].isspace():
        end -= 1
    if end > start:
        result.append((start, end))


def _capital(text: str, at: int, stop: int) -> bool:
    while at < stop and text[at] in "*_\"'“‘([":
        at += 1
    return at >= stop or text[at].isupper()


def _abbreviation(text: str, place: int, after: int, stop: int, start: int) -> bool:
    """Whether the stop at ``place`` only shortens a word, or counts a list."""
    if text[place] != ".":
        return ")" in text[place:after] and text[after : after + 1].islower()  # "the cup (anticlockwise!) to 40 N·m"
    at = place
    while at > start and (text[at - 1].isalnum() or text[at - 1] == "."):
        at -= 1
    word = text[at:place].lower()
    if not word:
        return text[place - 1 : place] == "."
    if after >= stop:
        return False
    follows = text[after : after + 1]
    if word in _ABBREVIATED:
        return not (word in _MAY_END and follows.isupper())
    if len(word) == 1 and word.isalpha() and text[place - 1].isupper():
        return False if follows.isupper() and after - place > 1 else not follows.isupper()
    if word.isdigit() and at == start:
        return True
    return (
        not (follows.isupper() or follows.isdigit() or follows in "*_\"'“‘([>|-–—#")
        and not follows.isspace()
        and follows.islower()
    )
