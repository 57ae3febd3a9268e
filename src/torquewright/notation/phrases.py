"""Set phrases of the trade, looked for in a run of tokens: "not to exceed", "past finger-tight", "plus drag"."""

from __future__ import annotations

from torquewright.notation.spelling import Token, words

Table = dict[str, list[tuple[tuple[str, ...], str]]]
"""First word of a phrase -> its phrases, longest first, each with what it means."""

_ABBREVIATIONS = words("min max approx ca tol nom i e incl excl c deg resp prev")


def phrases(meanings: dict[str, str]) -> Table:
    """A table from ``meaning -> "phrase | phrase | phrase"``; words are separated by single spaces."""
    table: Table = {}
    for meaning, listed in meanings.items():
        for phrase in listed.split(" | "):
            parts = tuple(phrase.split())
            table.setdefault(parts[0], []).append((parts, meaning))
    for held in table.values():
        held.sort(key=lambda phrase: -len(phrase[0]))
    return table


def phrase_at(toks: list[Token], i: int, table: Table) -> tuple[str, int] | None:
    """The longest phrase of ``table`` at token ``i``: its meaning and the index after it.

    A hyphen between two words and the stop of an abbreviation do not matter.
    """
    end = len(toks)
    if i >= end:
        return None
    for phrase, meaning in table.get(toks[i].text, ()):
        j = i
        for word in phrase:
            if j > i and j < end and toks[j].text == "-" and word != "-":
                j += 1
            if j >= end or toks[j].text != word:
                break
            j += 1
            if j < end and toks[j].text == "." and word in _ABBREVIATIONS and toks[j].start == toks[j - 1].end:
                j += 1
        else:
            return meaning, j
    return None


def text_at(toks: list[Token], i: int) -> str:
    """The text of token ``i``, "" past either end."""
    return toks[i].text if 0 <= i < len(toks) else ""


def skip(toks: list[Token], i: int, texts: frozenset[str]) -> int:
    """The index of the first token from ``i`` on whose text is not in ``texts``."""
    while i < len(toks) and toks[i].text in texts:
        i += 1
    return i
