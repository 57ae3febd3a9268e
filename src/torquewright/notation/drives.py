"""Drives as the trade writes them: ``hex 13 mm``, ``8 mm hex key``, ``slotted 10 mm``, ``T25``, ``1/2 in square``."""

from __future__ import annotations

import re
from functools import lru_cache

from torquewright.notation.notread import NotRead
from torquewright.notation.sizes import inches, spelled
from torquewright.notation.spelling import folded, lowered, words
from torquewright.records.parts import Drive

_INCH = 0.0254
_DRIVE_WANTED = 'a drive such as "hex 13 mm", "hex socket 8 mm", "slotted 10 mm", "T25" or "PH2"'

_NAMES = {
    "hexalobular": "hexalobular | six-lobe | six lobe | lobular",
    "hex socket": "hex socket | hexagon socket | socket head | internal hex | hex key | hexagon key | key | hex bit",
    "slotted": "slotted | slot | flat blade | screwdriver",
    "cross": "cross recess | cross-head | crosshead | cross",
    "square": "square drive | square",
    "12-point": "12-point | twelve-point | bi-hex | double hex",
    "spline": "spline",
    "hex": "hexagon | hex | socket | open-end | open end | ring | spanner flats | across flats | a/f | af | wrench | "
    "spanner",
    "pin": "pin spanner",
    "hook": "hook spanner | c-spanner",
    "wing": "wing",
    "knurled": "knurled",
    "hand": "hand",
}
# the longest name first: a hex socket is no hexagon
_KINDS = sorted(
    ((name, kind) for kind, names in _NAMES.items() for name in names.split(" | ")), key=lambda pair: -len(pair[0])
)
_FLATS = frozenset({"hex", "hex socket", "square", "12-point"})
_PLAIN_WORDS = words(
    "head headed drive external internal bit blade wrench spanner end size nut of a an the with across flats"
)


@lru_cache(maxsize=1)
def _driver() -> re.Pattern[str]:
    inch = r"(?:[0-9]{1,2}[- ])?[0-9]{1,2}/(?:2|4|8|16|32|64)"
    return re.compile(
        rf"(?P<mm>[0-9]{{1,3}}(?:[.,][0-9]{{1,2}})?) ?mm|(?P<inch>{inch}) ?-?(?:inch|in\.?|\"|'')?"
        r"|(?P<t>tx?|ip) ?(?P<lobe>[0-9]{1,3})|(?P<ph>ph|pz) ?(?P<cross>[0-4])"
        r"|(?P<words>[a-z]+(?:/[a-z]+)?(?:[- ][a-z]+)*)"
    )


@lru_cache(maxsize=1024)
def read_drive(text: str) -> Drive:
    """The drive a text names: kind, size as the trade names it, and across flats in metres where it has one.

    A bare size (``13 mm``, ``9/16 in``) is a hexagon. Raises :class:`NotRead` for anything else.
    """
    low = spelled(text)
    kind, size, flats = "", "", None
    for names, found in _KINDS:
        at = low.find(names)
        if (
            at >= 0
            and (at == 0 or not low[at - 1].isalpha())
            and not low[at + len(names) : at + len(names) + 1].isalpha()
        ):
            kind = found
            low = low[:at] + " " * len(names) + low[at + len(names) :]
            break
    rest = low
    for match in _driver().finditer(low):
        part = match.group()
        if match.group("words"):
            if not all(word in _PLAIN_WORDS for word in re.split("[- ]", part)):
                raise _refused(text, part, f'"{part}" is no part of a drive')
        elif size:
            raise _refused(text, part, "a drive has one size")
        elif match.group("mm"):
            figure = match.group("mm").replace(",", ".")
            size, flats = f"{float(figure):g} mm", float(figure) / 1e3
        elif match.group("inch"):
            fraction = match.group("inch").replace(" ", "-")
            size, flats = f"{fraction} in", round(inches(fraction) * _INCH, 9)
        elif match.group("lobe"):
            kind, size = kind if kind not in ("", "slotted") else "hexalobular", f"T{match.group('lobe')}"
        else:
            # "PZ2 screwdriver": the size tells the recess
            kind = kind if kind not in ("", "slotted") else "cross"
            size = f"{match.group('ph').upper()}{match.group('cross')}"
        rest = rest[: match.start()] + " " * (match.end() - match.start()) + rest[match.end() :]
    left = rest.strip(" ,-.()")
    if left:
        raise _refused(text, left, f'"{left}" is no part of a drive')
    if not kind and not size:
        raise NotRead("this is no drive", 0, len(text), _DRIVE_WANTED)
    kind = kind or "hex"
    return Drive(kind, size, flats if kind in _FLATS else None)


def _refused(text: str, part: str, message: str) -> NotRead:
    """The trouble with ``part``, placed where it stands in the text as written."""
    at = lowered(folded(text)).rfind(part)
    if at < 0:
        return NotRead(message, 0, len(text), _DRIVE_WANTED)
    return NotRead(message, at, at + len(part), _DRIVE_WANTED)
