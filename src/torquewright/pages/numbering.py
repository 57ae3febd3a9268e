"""How steps are numbered: "3.", "1.4", "B2)", lettered parts of a step, sections that count from one again."""

from __future__ import annotations

import re

from torquewright.pages.blocks import Blocks, Item, Span

NUMBERED = re.compile(
    r"\s*[*_]{0,2}(?:step|schritt|stage|op\.?|operation)?\s*#?"
    r"(?:(?P<deep>(?:\d{1,3}|[A-Z])(?:\.\d{1,3})+[a-z]?)[*_]{0,2}(?:\s*[.):\-–—])?[*_]{0,2}(?:\s+|(?<=[.):]))"
    r"(?=[*_]{0,2}[A-Z][\w'’\-]*[ ,:]|\W*$)"
    r"|\((?P<round>\d{1,3}[a-z]?)\)\s+(?=[A-Z])"
    r"|(?P<flat>\d{1,4}[a-z]?|[A-Z][.\-]?\d{1,3})[*_]{0,2}\s*[.):\-–—](?!\d)\s*[*_]{0,2}\s*(?=\S))",
    re.IGNORECASE,
)
_DEEP_CASE = re.compile(r"\s*[*_]{0,2}[\d.]+[a-z]?[*_]{0,2}[.):]?[*_]{0,2}\s*[*_]{0,2}[A-Z]")
_LETTER = re.compile(r"[ \t>]*\(?([a-z])[.)][ \t]+(?=\S)")
_MARK = re.compile(
    r"(?:(?:section|part|stage|phase|task|chapter)\s+)?"
    r"(?:(?P<letter>[A-Z])(?:\s*[.):–—]|\s*-\s|$)|(?P<number>\d{1,2})(?:\s*[.):–—-]|\s|$))",
    re.IGNORECASE,
)


def number_of(text: str) -> tuple[str, int] | None:
    """The number a paragraph or line opens with as (label, where its words start); None where it opens with none.

    A dotted number ("1.4") must be followed by a capital: a figure at the start of a line ("0.62 L") is none.
    """
    match = NUMBERED.match(text)
    if match is None:
        return None
    deep = match.group("deep")
    if match.group("round") is not None:
        return match.group("round"), match.end()
    if deep is None:
        return match.group("flat"), match.end()
    if not deep[:1].isdigit() or _DEEP_CASE.match(text):
        return deep, match.end()
    return None


def lettered(text: str, span: Span) -> list[tuple[str, Span]]:
    """The lettered parts of a step whose lines open with a., b., c.: ("", the words ahead), ("a", …), ("b", …).

    Empty where the lines do not count on from "a".
    """
    cuts: list[tuple[str, int, int]] = []
    at = span.start
    while at < span.end:
        stop = text.find("\n", at, span.end)
        stop = span.end if stop < 0 else stop
        match = _LETTER.match(text, at, stop)
        if match is not None and match.group(1) == "abcdefghijklmnopqrstuvwxyz"[len(cuts)]:
            cuts.append((match.group(1), at, match.end()))
        at = stop + 1
    if len(cuts) < 2:
        return []
    ends = [cut for _, cut, _ in cuts[1:]] + [span.end]
    ahead = [("", Span(span.start, cuts[0][1]))] if text[span.start : cuts[0][1]].strip() else []
    return ahead + [
        (letter, Span(start, start + len(text[start:end].rstrip())))
        for (letter, _, start), end in zip(cuts, ends, strict=True)
    ]


def tell_apart(blocks: Blocks) -> None:
    """Give the steps of sections that count from one again the letter or number of their section ("B.3")."""
    seen: set[str] = set()
    twice = False
    for item in blocks.steps:
        if item.label in seen:
            twice = True
            break
        seen.add(item.label)
    if not twice:
        return
    marks = {section: _mark(section) for section in {item.section for item in blocks.steps}}
    held = [mark for mark in marks.values() if mark]
    if len(held) != len(set(held)):
        return
    for item in blocks.steps:
        _prefix(item, marks[item.section])


def _mark(section: str) -> str:
    match = _MARK.match(section)
    return (match.group("letter") or match.group("number") or "").upper() if match is not None else ""


def _prefix(item: Item, mark: str) -> None:
    if mark and not item.label.upper().startswith(f"{mark}."):
        item.label = f"{mark}.{item.label}"
