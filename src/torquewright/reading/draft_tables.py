"""Tables of fasteners in a draft: their rows made into records."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from torquewright.notation.near import one_edit
from torquewright.notation.notread import NotRead
from torquewright.notation.tightening import find_tightenings, read_tightening
from torquewright.pages.blocks import Cell, Table
from torquewright.reading.table_columns import answered, columns_of
from torquewright.records.parts import Fastener, Lock, Retorque, Seal, Washer
from torquewright.records.tightening import Tightening
from torquewright.sentences.lexicon import lexicon, singular
from torquewright.toml.naming import id_from_name
from torquewright.toml.words_taken import OPEN_WORDS

_UNIT = re.compile(r"[\[(,/]\s*([^\])]+?)\s*[\])]?\s*$|\bin\s+(\S+)\s*$")
_FOR_ALL = re.compile(
    r"\b(?:torques?|figures|values|settings)\b[^.;]{0,60}?\b(?:are\s+in|in|are)\s+((?:newton|inch|foot|pound)[\w\s-]*|[^\s;,]+)",
    re.IGNORECASE,
)
_NEW = re.compile(
    r"\bnew\b|\brenew\b|\bone[- ]time\b|\bsingle[- ]use\b|\bdiscard\b|\bnever reuse\b|\bdo not reuse\b|\bnot "
    r"reusable\b|\breplace\b",
    re.IGNORECASE,
)
_KEEP = re.compile(r"\bkeep\b|\breuse\b|\bre-use\b|\breusable\b|\brefit\b|\bold\b|\bsame\b", re.IGNORECASE)
_PIECE = re.compile(r"washer|seal|ring|pin\b|clip|lock ?plate|lockwire", re.IGNORECASE)
_LOCK = re.compile(
    r"(\bnew |\brenew )?\b(tab washer|lock ?washer|lock ?plate|lock tab|cotter(?: pin)?|split pin|lockwire|locking "
    r"wire)s?\b",
    re.IGNORECASE,
)
_SEALING_RING = re.compile(
    r"(\d+|two)?\s*(new\s+)?(?:bonded|copper|crush|fibre|aluminium|soft[- ]iron|sealing|union)\s+(seal|ring|gasket)s?\b"
)
"""What a sealing washer is called where it is called no washer."""
_TREATED = re.compile(r"\b(?:thread-?lock(?:er)?|loctite[\w ]*|oiled|greased|anti-?seize|dry)\b", re.IGNORECASE)
_PRECOATED = re.compile(
    r"\b(?:with |has )?(?:a )?[\w-]*[ -]?(?:patch(?:ed)?|pre-?coat(?:ed|ing)?|pre-?applied[\w -]*)\b", re.I
)  # a lock that comes with the screw
_SEALS_ON = re.compile(
    r"\bseals? on (?:an? |its |the )?(?:new )?(?:flat |copper |rubber )?(ring|washer|face|cone|o-ring|flare)"
)
_SEAT = {
    "ring": "face",
    "washer": "sealing washer",
    "face": "face",
    "cone": "cone",
    "o-ring": "O-ring",
    "flare": "flare",
}
_NEVER_AGAIN = re.compile(
    r"\b(?:not|never) (?:to be )?(?:touched|tightened|pulled|torqued) again\b|\b(?:no|not|never|do not) (?:to be )?"
    r"re-?(?:torqu|tighten)\w*",
    re.IGNORECASE,
)
_DRY = re.compile(r"\bdry\b|\bclean\b|\bdegreased\b", re.IGNORECASE)


class Row(NamedTuple):
    """One row made into a record; ``cells`` by column, and the unit its heading states."""

    record: Fastener | Seal
    cells: dict[str, Cell]
    tightening: Tightening | None


def heading_unit(heading: str) -> str:
    """The unit a heading states for its column ("Torque, N·m"), as written; "" for none."""
    match = _UNIT.search(heading)
    for unit in ((match.group(1) or match.group(2)) if match else "", heading.strip(" *")):
        try:
            read = read_tightening(f"1 {unit}")
        except NotRead:
            continue
        if unit and read.torque is not None and read.torque.unit:
            return unit
    return ""


def stated_unit(remarks: Iterable[str]) -> str:
    """The unit a remark ahead of the steps gives to all bare figures ("All torques in N·m."); "" for none."""
    for remark in remarks:
        match = _FOR_ALL.search(remark)
        unit = heading_unit(f"({match.group(1)})") if match is not None else ""
        if unit:
            return unit
    return ""


def rows_of(table: Table, stated: str = "") -> list[Row]:
    """The records of a table of fasteners or seals; empty for a table of something else. A bare figure takes the
    unit of its heading, or the one ``stated`` for the whole document."""
    columns = columns_of(table)
    held = set(columns.values())
    if "part" not in held or not held & {"torque", "size", "count", "state"}:
        return []
    units = {index: heading_unit(table.heads[index].text) for index, name in columns.items() if name == "torque"}
    rows = []
    for cells in table.rows:
        named = {columns[index]: cell for index, cell in enumerate(cells) if index in columns}
        state = next((index for index, name in columns.items() if name == "state"), None)
        said = answered(table.heads[state].text, named["state"].text) if state is not None and "state" in named else ""
        part = named.get("part")
        if part is None or not part.text:
            continue
        unit = next(iter(units.values()), "") or stated
        row = _row(named, unit, said)
        if row is not None:
            rows.append(row)
    return rows


def tightening_in(text: str, unit: str) -> Tightening | None:
    """The tightening of a cell; a bare figure takes the unit of the heading."""
    if not text or text in ("-", "–", "—"):
        return None
    try:
        read = read_tightening(text)
        if read.has_value or not unit:
            return read
    except NotRead:
        pass
    if unit:
        try:
            return read_tightening(f"{text} {unit}")
        except NotRead:
            pass
    found = find_tightenings(text)
    return found[0].tightening if len(found) == 1 else None


def _row(named: dict[str, Cell], unit: str, said: str = "") -> Row | None:
    name, count = _name_and_count(named["part"].text)
    if not name:
        return None
    words = re.findall(r"[^\W\d_][\w-]*", name.lower())
    if not words:
        return None
    book = lexicon()
    head = book.singular.get(words[-1]) or singular(words[-1])
    name = " ".join([*name.split()[:-1], head]) if name.lower().endswith(words[-1]) and head != words[-1] else name
    kind = book.noun_class(head)
    if "count" in named:
        match = re.search(r"\d+", named["count"].text)
        count = int(match.group()) if match else count
    key = id_from_name(re.sub(r"[^\w\s-]", "", name))
    state = named["state"].text if "state" in named else ""
    own = ", ".join(part for part in re.split(r"[,;+]| with ", state) if not _PIECE.search(part))
    own = f"{said} {own}".strip() if said else own
    once: bool | None = True if _NEW.search(own) else False if _KEEP.search(own) else None
    tightening = tightening_in(named["torque"].text, unit) if "torque" in named else None
    if kind == "seal":
        return Row(Seal(key, name, count=count or 1, one_time_use=once), named, None)
    return Row(_fastener(key, name, head, count, once, state, tightening, named), named, tightening)


def _fastener(
    key: str,
    name: str,
    head: str,
    count: int | None,
    once: bool | None,
    state: str,
    tightening: Tightening | None,
    named: dict[str, Cell],
) -> Fastener:
    from torquewright.notation.sizes import read_size

    thread = None
    grade = named["class"].text if "class" in named else ""
    if "size" in named:
        size, _, rest = named["size"].text.partition(",")
        size = re.split(r"\s*[x×]\s*\d{2,}", size)[0]  # "M6 x 20": a length is no pitch
        try:
            thread = read_size(size.strip())
        except NotRead:
            thread = None
        grade = grade or rest.strip()
    washer = None
    words = " ".join(part for part in (state, named["washer"].text if "washer" in named else "") if part)
    lock = None
    locked = _LOCK.search(words)
    if locked is not None:
        named_lock = locked.group(2).lower()
        known = next((word for word in OPEN_WORDS["lock kind"] if one_edit(named_lock, word)), named_lock)
        lock = Lock(known, True if locked.group(1) else None)
        words = words.replace(locked.group(), "")
    match = re.search(r"(\d+|two)?\s*(new\s+)?([a-z-]+\s+)?washers?\b", words.lower())
    match = match or _SEALING_RING.search(words.lower())
    if match is not None and "no washer" not in words.lower():
        number = match.group(1)
        washer = Washer(
            "sealing" if match.re is _SEALING_RING else (match.group(3) or "flat").strip(),
            2 if number == "two" else int(number) if number else 1,
            True if match.group(2) or ("new" in words.lower() and "keep" not in words.lower()) else None,
        )
    condition = named["condition"].text if "condition" in named else ""
    if not condition and (treated := _TREATED.search(_PRECOATED.sub("", state))) is not None:
        condition = treated.group()
    condition = next((word for word in OPEN_WORDS["condition"] if one_edit(condition.lower(), word)), condition)
    if _DRY.search(condition):
        condition = "dry"
    seals_on = _SEALS_ON.search(state.lower())
    return Fastener(
        key,
        name,
        seals_by=_SEAT[seals_on.group(1)] if seals_on is not None else "",
        retorque=Retorque("forbidden") if _NEVER_AGAIN.search(state) is not None else None,
        count=count,
        kind=head,
        thread=thread,
        property_class=grade,
        one_time_use=once,
        washer=washer,
        lock=lock,
        washer_unstated=washer is None,
        tightening=tightening,
        condition=condition.lower(),
    )


def _name_and_count(text: str) -> tuple[str, int | None]:
    """ "Cap nut (4 off)" as its name and number; "6 × head bolt" likewise."""
    match = re.search(r"\s*\((?:(\d+)\s*(?:off|pcs|x|×|pieces)?|[x×]\s*(\d+)|qty\.?\s*(\d+))\)\s*$", text)
    if match:
        return _bare(text[: match.start()]), int(next(filter(None, match.groups())))
    match = re.match(r"(\d+)\s*(?:[x×]|off|pcs)?\s+(?=[A-Za-z])", text)
    if match:
        return _bare(text[match.end() :]), int(match.group(1))
    return _bare(text), None


def _bare(text: str) -> str:
    """ "Bearing locknut (nylon insert)" without the remark in brackets, unless the brackets are all there is."""
    return re.sub(r"\s*\([^()]*\)\s*$", "", text).strip() or text.strip()
