"""Records from the tables of a catalogue, tools or kit file.

Tables are read one by one into records; what points from one record to another (the seals of a joint, its fluid)
is resolved when all tables of a job are together (``toml.joining``).
"""

from __future__ import annotations

from typing import Any

from torquewright.base.document import Path
from torquewright.records.parts import (
    Fastener,
    Fluid,
    KitItem,
    Lock,
    Part,
    Retorque,
    Seal,
    Source,
    Thread,
    Tool,
    Washer,
)
from torquewright.toml import keys
from torquewright.toml.naming import id_from_name
from torquewright.toml.parsing import Parsed
from torquewright.toml.slips import Slip, Slips, Wrong, kind_of, spelled, wrong
from torquewright.toml.values import READINGS, fields
from torquewright.toml.words_taken import TOOL_WORDS


class Tables:
    """What the catalogue tables of one document say, record by record, each list in the order of the text.

    ``tools`` and ``kit`` are None where the document has no such tables. ``unrecorded`` are the ids of records
    that say of themselves that no record stands behind them. ``paths`` has, for each record in the order read,
    its table name, its id and its path; ``as_written`` the paths of kit lines that stand as they are; ``slips``
    takes what is wrong.
    """

    __slots__ = (
        "as_written",
        "fasteners",
        "fluids",
        "kit",
        "machine",
        "parsed",
        "parts",
        "paths",
        "policy",
        "seals",
        "slips",
        "source",
        "surroundings",
        "tools",
        "unrecorded",
        "variant",
    )  # fmt: skip

    def __init__(self, parsed: Parsed) -> None:
        self.parsed = parsed
        self.slips = parsed.slips
        self.machine = ""
        self.variant = ""
        self.surroundings = ""
        self.source: Source | None = None
        self.policy = ""
        self.fasteners: list[Fastener] = []
        self.seals: list[Seal] = []
        self.fluids: list[Fluid] = []
        self.parts: list[Part] = []
        self.tools: list[Tool] | None = None
        self.kit: list[KitItem] | None = None
        self.unrecorded: list[str] = []
        self.paths: list[tuple[str, str, Path]] = []
        self.as_written: set[Path] = set()

    def paths_of(self, what: str) -> list[Path]:
        """The paths of the records of one table name, in the order read."""
        return [path for held, _, path in self.paths if held == what]


def table(value: object, example: str) -> dict[str, Any]:
    """``value`` as a table, or a complaint."""
    if type(value) is dict:
        return value
    raise wrong(value, f"{kind_of(value)} where a table belongs", example)


def washer(value: object) -> Washer | None:
    """A washer table; ``none`` for a joint that carries none."""
    if value == "none":
        return None
    slips = Slips()
    held = fields(table(value, 'a table, or "none": { kind = "sealing", count = 1 }'), keys.WASHER, slips)
    if slips:
        raise Wrong(slips)
    return Washer(**held)


def lock(value: object) -> Lock:
    """A lock table."""
    slips = Slips()
    held = fields(table(value, '{ kind = "cotter pin" }'), keys.LOCK, slips)
    if "kind" not in held and not any(slip.path == ("kind",) for slip in slips):
        slips.append(Slip((), "a lock without a kind", spelled(value), 'kind = "cotter pin" or another kind of lock'))
    if slips:
        raise Wrong(slips)
    return Lock(**held)


def retorque(value: object) -> Retorque:
    """A retorque table."""
    slips = Slips()
    held = fields(table(value, '{ policy = "required", after = "10 h of running" }'), keys.RETORQUE, slips)
    if "policy" not in held and not slips:
        wanted = 'policy = "required" or policy = "forbidden"'
        slips.append(Slip((), "a retorque without a policy", spelled(value), wanted))
    if slips:
        raise Wrong(slips)
    return Retorque(**held)


READINGS["washer"] = washer
READINGS["lock"] = lock
READINGS["retorque table"] = retorque


def _source(held: dict[str, Any]) -> None:
    revision = held.pop("revision", "")
    text = held.get("source", "")
    if text or revision:
        held["source"] = Source(text, revision)


def _named(held: dict[str, Any], value: dict[str, Any], path: Path, what: str, tables: Tables) -> bool:
    """Fill in the id or name that is left out; complain where both are."""
    if "id" in held:
        held.setdefault("name", held["id"])
    elif "name" in held:
        held["id"] = id_from_name(held["name"])
    else:
        if "id" not in value and "name" not in value:
            tables.slips.append(Slip(path, f"a {what} without a name", f"[[{what}]]",
                                     'name = "…", and id = "…" if steps need a shorter one', absent=True))  # fmt: skip
        return False
    tables.paths.append((what, held["id"], path))
    return True


def _fastener(value: dict[str, Any], path: Path, tables: Tables) -> None:
    held = fields(value, keys.FASTENER, tables.slips, path)
    if not _named(held, value, path, "fastener", tables):
        return
    hand = held.pop("hand", None)
    size: Thread | None = held.pop("size", None)
    if size is not None:
        if hand is not None and hand != size.hand:
            size = Thread(size.text, size.family, size.diameter, size.pitch, hand, size.pitch_stated, size.series)
        held["thread"] = size
    elif hand is not None and "size" not in value:
        wanted = 'size = "M8x1.25" beside it'
        tables.slips.append(Slip((*path, "thread-hand"), "the hand of a thread without its size", hand, wanted))
    if "reuse" in held:
        held["reuse"], held["reuse_limit"] = held["reuse"]
    if "washer" in held:
        held["washer_unstated"] = False
    _source(held)
    if not held.pop("recorded", True):
        tables.unrecorded.append(held["id"])
    tables.fasteners.append(Fastener(**held))


def _seal(value: dict[str, Any], path: Path, tables: Tables) -> None:
    held = fields(value, keys.SEAL, tables.slips, path)
    if not _named(held, value, path, "seal", tables):
        return
    _source(held)
    if not held.pop("recorded", True):
        tables.unrecorded.append(held["id"])
    tables.seals.append(Seal(**held))


def _fluid(value: dict[str, Any], path: Path, tables: Tables) -> None:
    held = fields(value, keys.FLUID, tables.slips, path)
    if _named(held, value, path, "fluid", tables):
        _source(held)
        tables.fluids.append(Fluid(**held))


def _part(value: dict[str, Any], path: Path, tables: Tables) -> None:
    held = fields(value, keys.PART, tables.slips, path)
    if _named(held, value, path, "part", tables):
        tables.parts.append(Part(**held))


def tool_kind(name: str) -> str:
    """The kind of tool its name says it is; "" where it says none."""
    name = name.lower()
    return next((kind for word, kind in TOOL_WORDS if word in name), "")


def _tool(value: dict[str, Any], path: Path, tables: Tables) -> None:
    held = fields(value, keys.TOOL, tables.slips, path)
    if not _named(held, value, path, "tool", tables):
        return
    scale = held.pop("range", None)
    if scale is not None:
        held["low"], held["high"], held["unit"], held["half"] = scale.low, scale.high, scale.unit, scale.half
    for limit in ("usable_low", "step"):
        if limit in held:
            held[limit] = held[limit].value
    for length in ("arm", "length"):
        if length in held:
            held[length] = held[length].value
    if "kind" not in held:
        held["kind"] = tool_kind(held["name"])
    if tables.tools is None:
        tables.tools = []
    tables.tools.append(Tool(**held))


def _kit(value: dict[str, Any], path: Path, tables: Tables) -> None:
    held = fields(value, keys.KIT, tables.slips, path)
    for key, example in (("part", 'part = "cover-gasket"'), ("count", "count = 1")):
        if key not in value:
            tables.slips.append(Slip(path, f"a kit line without {key}", "[[kit]]", example, absent=True))
    if "part" in held and "count" in held:
        if tables.kit is None:
            tables.kit = []
        tables.paths.append(("kit", held["part"], path))
        if held.pop("as_written", False):
            tables.as_written.add(path)
        tables.kit.append(KitItem(**held))


_READERS = {"fastener": _fastener, "seal": _seal, "fluid": _fluid, "part": _part, "tool": _tool, "kit": _kit}


def read_tables(parsed: Parsed) -> Tables:
    """Read the catalogue keys of a parsed document, leaving all others alone."""
    held = Tables(parsed)
    tables = parsed.tables
    slips = held.slips
    for key, reader in _READERS.items():
        if key not in tables:
            continue
        records = tables[key]
        if type(records) is not list:
            if type(records) is str and key == "kit":
                continue  # the name of a kit file, which the procedure reads
            message = f"{kind_of(records)} where [[{key}]] tables belong"
            found = f"[{key}]" if type(records) is dict else spelled(records)
            slips.append(Slip((key,), message, found, f"[[{key}]] with two brackets, once for each {key}"))
            continue
        if key == "tool":
            held.tools = []
        elif key == "kit":
            held.kit = []
        for at, record in enumerate(records):
            if type(record) is dict:
                reader(record, (key, at), held)
            else:
                slips.append(Slip((key, at), f"{kind_of(record)} where a table belongs", spelled(record), f"[[{key}]]"))
    if "machine" in tables:
        _machine(tables["machine"], held)
    if "policy" in tables:
        try:
            held.policy = READINGS["policy"](tables["policy"])
        except Wrong as fault:
            slips.extend(slip._replace(path=("policy",)) for slip in fault.slips)
    return held


def _machine(value: object, held: Tables) -> None:
    try:
        machine = fields(table(value, '[machine] with name = "…" below it'), keys.MACHINE, held.slips, ("machine",))
    except Wrong as fault:
        held.slips.extend(slip._replace(path=("machine",)) for slip in fault.slips)
        return
    _source(machine)
    held.machine = machine.get("name", "")
    held.variant = machine.get("variant", "")
    held.surroundings = machine.get("surroundings", "")
    held.source = machine.get("source")
