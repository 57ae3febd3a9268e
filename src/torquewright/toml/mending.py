"""A text that is no TOML, mended as far as it goes: every slip in it, and the tables that can still be read.

The parser stops at the first fault. Here the faulty line is put aside and the parser asked again, so that a writer
sees all slips of a file at once, and the values that can still be read are still judged.
"""

from __future__ import annotations

import re
import tomllib
from typing import Any, NamedTuple

from torquewright.base.document import Document
from torquewright.base.trouble import Fault
from torquewright.toml.complaints import Cure, cure_for
from torquewright.toml.places import TomlPlaces
from torquewright.toml.slips import spelled

MOST = 20
"""So many slips are looked for in one text."""

BUDGET = 2_000_000
"""Characters gone over again for it, at most, so that a long broken file is refused in seconds."""

ASIDE = "_"
"""A header that cannot be read is put aside as a table with this name and a number."""

_LEFT_OVER = re.compile(r"\s*[\]{},\"'](?!\[)")


class Mended(NamedTuple):
    """What is left of a broken text: its faults, the tables that could be read, the text they were read from, which
    has the same offsets."""

    faults: list[Fault]
    tables: dict[str, Any]
    text: str


def mend(document: Document, places: TomlPlaces, start: int = 0, end: int | None = None) -> Mended:
    """Every slip of the TOML between ``start`` and ``end`` of ``document``, and what can be read besides.

    ``places`` are those of the text as it is.
    """
    text = document.text if end is None else document.text[:end]
    text = re.sub(r"[^\n]", " ", text[:start]) + text[start:]
    deep = next((lost for lost in places.lost() if lost.deep), None)
    if deep is not None:
        return Mended([_deep(document, deep.at)], {}, text)
    faults: list[Fault] = []
    aside = -1
    for number in range(max(1, min(3 * MOST, BUDGET // (len(text) + 1)))):
        try:
            tables = tomllib.loads(text)
        except RecursionError:
            return Mended([*faults, _deep(document, start)], {}, text)
        except ValueError as complaint:
            held = Document(document.name, text)
            cure = cure_for(held, places if number == 0 else TomlPlaces(held, start), str(complaint), start)
            line, _ = held.position(cure.start)
            # what hangs on below a line put aside is no slip of its own
            if not (line == aside + 1 and _LEFT_OVER.match(held.line(line))):
                found = spelled(text[cure.start : cure.end])
                faults.append(Fault(document.place(cure.start, cure.end), cure.message, found, cure.wanted))
            aside = cure.aside[1]
            mended = _applied(text, cure, number)
            if mended == text or len(faults) >= MOST:
                break
            text = mended
        else:
            return Mended(faults, {key: value for key, value in tables.items() if not key.startswith(ASIDE)}, text)
    return Mended(faults, {}, text)


def _deep(document: Document, at: int) -> Fault:
    found = spelled(document.text[at : at + 20])
    wanted = "tables in tables, at most a few deep"
    return Fault(document.place(at, at + 1), "nested deeper than anybody writes", found, wanted)


def _applied(text: str, cure: Cure, number: int) -> str:
    if cure.instead is not None:
        return text[: cure.start] + cure.instead + text[cure.start + len(cure.instead) :]
    lines = text.split("\n")
    for at in range(cure.aside[0] - 1, min(cure.aside[1], len(lines))):
        header = f"[{ASIDE}{number}]"
        blank = " " * len(lines[at])
        opens = lines[at].lstrip()[:1] == "[" and len(header) <= len(blank)
        lines[at] = header + blank[len(header) :] if opens else blank
    return "\n".join(lines)
