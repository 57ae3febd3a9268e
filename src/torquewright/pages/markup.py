"""The text of a draft with its markup blanked out: as long as the draft, so that every offset stays true."""

from __future__ import annotations

import re
from functools import lru_cache
from html import unescape


@lru_cache(maxsize=1)
def _markup() -> re.Pattern[str]:
    # Compiled on first use only: TOML files have no markup.
    return re.compile(
        r"""
        (?P<comment><!--.*?(?:-->|\Z))
      | (?P<tag></?[A-Za-z][^<>\n]*>)
      | (?P<escape>\\(?=[!-/:-@\[-`{-~]))
      | (?P<entity>&(?:\#\d{1,7}|\#[xX][0-9a-fA-F]{1,6}|[A-Za-z][A-Za-z0-9]{1,31});)
      | (?P<link>!?\[(?P<shown>[^\[\]\n]*)\](?:\([^()\n]*\)|\[[^\[\]\n]*\]))
      | (?P<box>(?:(?<=^)|(?<=\s))\[[ xX]\](?=\s))
      | (?P<star>\*+) | (?P<line>_+) | (?P<tick>`+) | (?P<strike>~~)
        """,
        re.VERBOSE | re.DOTALL,
    )


def blanked(text: str, start: int, end: int) -> str:
    """``text[start:end]`` with emphasis, code marks, links, tags, comments and entities turned into spaces or into
    what they show; a line end becomes a space. The result is exactly as long."""
    part = text[start:end]
    if "\n" in part:
        part = part.replace("\n", " ")
    if not any(sign in part for sign in "*_`<\\&[~"):
        return part
    pieces: list[str] = []
    at = 0
    for match in _markup().finditer(part):
        first, last = match.span()
        if first < at:
            continue
        kind = match.lastgroup
        if kind == "shown":
            kind = "link"
        put = " " * (last - first)
        if kind in ("star", "line"):
            before = part[first - 1 : first]
            after = part[last : last + 1]
            # "5 N*m" and "part_no" are no emphasis
            if (before.isalnum() and after.isalnum()) or (kind == "star" and before.isspace() and after.isspace()):
                put = part[first:last]
            elif (before.isdigit() and after.isspace()) or (
                before.isspace() and after.isdigit() and kind == "star" and last - first == 1
            ):
                put = part[first:last] if not _emphasis_closes(part, last) else put
        elif kind == "entity":
            shown = unescape(match.group())
            put = (
                (" " if shown == "\xa0" else shown).ljust(last - first)[: last - first]
                if shown != match.group()
                else match.group()
            )
        elif kind == "link":
            inner = match.group("shown")
            offset = match.start("shown") - first
            put = " " * offset + inner + " " * (last - first - offset - len(inner))
        pieces.append(part[at:first])
        pieces.append(put)
        at = last
    pieces.append(part[at:])
    return "".join(pieces)


def _emphasis_closes(part: str, at: int) -> bool:
    """Whether another star follows that could close the emphasis opened here."""
    return "*" in part[at:]
