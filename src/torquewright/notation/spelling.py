"""From characters to tokens: every dot, dash, space and sign folded to one, numbers kept whole.

Folding never changes the length of a text, so an offset in the folded text is an offset in the text as written.
"""

from __future__ import annotations

import re
from functools import lru_cache

from torquewright.notation.numbers import Number, printed

_FOLD = str.maketrans(
    {
        **dict.fromkeys("\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a", " "),
        **dict.fromkeys("\u202f\u205f\u3000\t\n\r\v\f\u200b\u2060\ufeff\u00ad", " "),
        **dict.fromkeys("\u2022\u22c5\u2219\u2027\u30fb\u25cf\u00b7\u0387\u16eb\u2e31\u2e33", "·"),
        **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2015\u2212\u2043\ufe58\ufe63\uff0d", "-"),
        **dict.fromkeys("\u00ba\u02da\u2218\u00b0", "°"),
        **dict.fromkeys("\u2018\u2019\u2032\u02b9\u02bc\u00b4`", "'"),
        **dict.fromkeys("\u201c\u201d\u2033\u02ba", '"'),
        **dict.fromkeys("\u00d7\u2715\u2716\u2a2f\u0445", "×"),
        **dict.fromkeys("\u2044\u2215\uff0f", "/"),
        **dict.fromkeys("\u2264\u2a7d\u2266", "≤"),
        **dict.fromkeys("\u2265\u2a7e\u2267", "≥"),
        **dict.fromkeys("\u223c\u02dc\uff5e\u301c\u2248\u2243", "~"),
        **dict.fromkeys("\u2192\u21d2\u2794\u279c\u27f6\u25b6\u25ba\u279e\u21e8", "→"),
        "\u03bc": "µ",
        "\uff05": "%",
        "\uff0b": "+",
        "\u2213": "±",
        "\u00f7": "~",  # the old sign of division stands for "to" in parts of Europe
        **{chr(0xFF10 + digit): str(digit) for digit in range(10)},
    }
)

_FRACTION = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_DENOMINATOR = r"(?:2|3|4|5|6|8|12|16|32|64)(?![0-9/]|[.,][0-9])"


@lru_cache(maxsize=1)
def _token() -> re.Pattern[str]:
    # Compiled on first use: a file of plain notations never needs it.
    return re.compile(
        rf"""
        (?P<size> m[0-9]+(?:[.,][0-9]+)?(?:\ ?[×x]\ ?[0-9]+(?:[.,][0-9]+)?)*(?![0-9a-z])
                | \#\ ?[0-9]+-[0-9]+(?![0-9/.])
                | [0-9]+/[0-9]+-(?:[4-9]|[1-9][0-9])(?![0-9/.]|\ ?/)(?=$|[^a-z]|\ ?un|lh)
                | [0-9]+(?:/[0-9]+)?-[0-9]+(?=\ ?un[a-z]*)
        )
      | (?P<code> (?:[a-z]|tx|ph|pz|kb)[0-9]+[a-z]?(?:-[0-9]+)?(?![0-9a-z]) )
      | (?P<pound> 1bf?s?(?![0-9a-z]) )
      | (?P<mixed> [0-9]+(?:-|\ and\ |\ )[0-9]{{1,2}}/{_DENOMINATOR} | [0-9]+[ -]?[{_FRACTION}] | [{_FRACTION}] )
      | (?P<pair> [0-9]+/[0-9]+(?![0-9/]|[.,][0-9]) )
      | (?P<spaced> [0-9]{{1,3}}(?:\ [0-9]{{3}})+(?![0-9])(?:[.,][0-9]+(?![0-9]))? )
      | (?P<number> [0-9]{{1,3}}(?:'[0-9]{{3}})+(?![0-9])(?:\.[0-9]+)? | [0-9]+(?:[.,][0-9]+)* | \.[0-9]+ )
      | (?P<word> [^\W\d_²³]+ )
      | (?P<sign> \+\ ?/\ ?- | \+-(?=\ ?[0-9.]) | <=|>=|->|=>|-->|\.\.\.? | [^\w\s] | [_²³] )
        """,
        re.VERBOSE,
    )


def words(listed: str) -> frozenset[str]:
    """The words of a list written with spaces between them."""
    return frozenset(listed.split())


class Token:
    """One token of a folded text: ``kind`` is "number", "pair" (``18/22``, ``3/4``), "size", "code", "word" or
    "sign"; ``text`` is lower case, ``raw`` has its own case; ``number`` holds the figure of a number or a fraction."""

    __slots__ = ("end", "kind", "number", "raw", "start", "text")

    def __init__(self, kind: str, text: str, raw: str, start: int, end: int, number: Number | None = None) -> None:
        self.kind = kind
        self.text = text
        self.raw = raw
        self.start = start
        self.end = end
        self.number = number

    def __repr__(self) -> str:
        return f"{self.kind}:{self.text}"


def folded(text: str) -> str:
    """``text`` with every variant of a sign folded to one, in its own case; as long as ``text``."""
    return text.translate(_FOLD)


def lowered(text: str) -> str:
    """Lower case without a change of length."""
    low = text.lower()
    if len(low) != len(text):
        low = "".join(c.lower() if len(c.lower()) == 1 else c for c in text)
    return low


# A number right after one of these words names a thing, so that "grade 8 120 N·m" is not eight thousand.
LABELS = words(
    "grade class step steps item items no number figure fig table note notes page section pos position "
    "positions bolt bolts screw screws nut nuts stud studs plug plugs hole holes pass stage phase cylinder cylinders "
    "part parts joint joints fastener fasteners capscrew capscrews cap caps detail details stages passes"
)


def tokens(text: str) -> list[Token]:
    """The tokens of ``text``; offsets are those of the text as written."""
    plain = folded(text)
    low = lowered(plain)
    found: list[Token] = []
    match = _token().match
    at, end = 0, len(low)
    while at < end:
        if low[at] == " ":
            at += 1
            continue
        held = match(low, at)
        if held is None:  # a lone combining mark or digit of another script
            found.append(Token("sign", low[at], plain[at], at, at + 1))
            at += 1
            continue
        kind = held.lastgroup or "sign"
        word = held.group()
        stop = held.end()
        if kind == "spaced" and text[at + word.index(" ")] == " " and found and found[-1].text in LABELS:
            kind, word = "number", word[: word.index(" ")]
            stop = at + len(word)
        if kind == "pound":
            kind = "word"
        if kind == "pair" and len(word) < 20 and printed(word, kind) is None:  # "+2/0": two figures, no fraction
            kind, word = "number", word[: word.index("/")]
            stop = at + len(word)
        number = printed(word, kind) if kind in ("mixed", "pair", "spaced", "number") else None
        if kind in ("mixed", "spaced"):
            kind = "number"
        if kind == "number" and number is None:
            kind = "code"  # 1.2.3, a date, a section number
        found.append(Token(kind, word, plain[at:stop], at, stop, number))
        at = stop
    return found
