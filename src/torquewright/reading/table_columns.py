"""Which column of a draft's table holds what, told by its heading words; what "yes" under "New?" says."""

from __future__ import annotations

import re

from torquewright.notation.notread import NotRead
from torquewright.pages.blocks import Table

_COLUMNS = (
    ("ref", ("pos", "pos.", "ref", "ref.", "key", "index", "item no", "item no.", "fig")),
    ("step", ("step", "no", "no.", "#", "nr", "op", "op.", "seq")),
    ("action", ("action", "instruction", "operation", "what to do", "work", "task", "description of work", "do this")),
    (
        "count",
        (
            "count",
            "qty",
            "quantity",
            "number",
            "pcs",
            "pieces",
            "off",
            "how many",
            "qty.",
            "amount",
            "nos",
            "no. off",
            "number off",
        ),
    ),
    ("size", ("size", "thread size", "dimension", "dimensions", "dia", "diameter")),
    (
        "torque",
        (
            "torque",
            "tightening",
            "tighten to",
            "tightening torque",
            "torque value",
            "value",
            "nm",
            "n·m",
            "final torque",
            "setting",
        ),
    ),
    (
        "state",
        (
            "state",
            "reuse?",
            "new?",
            "new",
            "reuse",
            "new/reuse",
            "new or old",
            "re-use",
            "new/old",
            "replace",
            "renew",
            "remark",
            "remarks",
            "note",
            "notes",
        ),
    ),
    (
        "condition",
        (
            "thread",
            "condition",
            "lubrication",
            "threads",
            "lubricant",
            "thread condition",
            "surface",
            "oil",
            "compound",
        ),
    ),
    ("washer", ("washer", "washers", "seal", "sealing")),
    ("tool", ("tool", "tools", "wrench", "socket", "driver", "bit")),
    ("class", ("class", "grade", "property class", "material", "strength")),
    (
        "part",
        (
            "part",
            "fastener",
            "joint",
            "name",
            "screw",
            "bolt",
            "item",
            "where",
            "location",
            "connection",
            "position",
            "component",
            "description",
            "what",
            "designation",
            "element",
            "fastening",
            "connector",
            "bolts",
            "screws",
            "fasteners",
            "seals",
            "gasket",
            "bolt",
            "parts",
        ),
    ),
)
_PART_HEADINGS = frozenset(_COLUMNS[-1][1])
_WHEREABOUTS = frozenset("where location position joint connection what".split())
"""Headings of a part's name, where no other column bears it."""


def columns_of(table: Table) -> dict[int, str]:
    """Which column holds what, by its heading."""
    found: dict[int, str] = {}
    headed = [head.text.lower().strip(" *:.") for head in table.heads]
    named = any(head in _PART_HEADINGS - _WHEREABOUTS for head in headed)
    for index, head in enumerate(table.heads):
        words = re.split(r"[,\[(/]| in ", head.text.lower())[0].strip(" *:.") or head.text.lower().strip(" .")
        for name, headings in _COLUMNS:
            if name in found.values() or (name == "part" and named and words in _WHEREABOUTS):
                continue
            if words in headings or any(
                words.startswith(heading + " ") or words.endswith(" " + heading)
                for heading in headings
                if len(heading) > 3
            ):
                found[index] = name
                break
    if "part" not in found.values() and table.heads:
        # a table without such a heading names its parts in the first column that is not a number
        first = next(
            (
                index
                for index, _ in enumerate(table.heads)
                if found.get(index) not in ("ref", "step", "count", "torque", "size")
            ),
            None,
        )
        if first is not None:
            found[first] = "part"
    number = next((index for index, name in found.items() if name == "step"), 0)
    if number and "count" not in found.values():
        # "No." behind the name and size: how many, unless the rows are counted through
        cells = [row[number].text for row in table.rows if number < len(row)]
        if all(cell.isdigit() for cell in cells) and cells != [str(at + 1) for at in range(len(cells))]:
            found[number] = "count"
    thread = next((index for index, name in found.items() if name == "condition"), None)
    if thread is not None and "size" not in found.values():
        cells = [row[thread].text for row in table.rows if thread < len(row) and row[thread].text]
        if cells and all(_is_size(cell) for cell in cells):
            found[thread] = "size"
    return found


def _is_size(text: str) -> bool:
    from torquewright.toml.quantities import read_size

    try:
        read_size(re.split(r"\s*[x×]\s*\d{2,}", text)[0].strip())
    except NotRead:
        return False
    return True


def answered(heading: str, cell: str) -> str:
    """What "yes" or "no" under "New?" or "Reuse" says of the piece; "" for any other cell."""
    head, answer = heading.lower().strip(" *?:."), cell.lower().strip(" *.")
    first = re.split(r"[,;]", answer)[0].strip()
    if first not in _YES | _NO:
        return ""
    if head in ("new", "renew", "replace"):
        return "new" if first in _YES else "keep"
    if head in ("reuse", "re-use", "reusable"):
        return "keep" if first in _YES else "new"
    return ""


_YES = frozenset(("yes", "y", "x", "✓", "always"))
_NO = frozenset(("no", "n", "never", "–", "-"))
