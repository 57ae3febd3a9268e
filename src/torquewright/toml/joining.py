"""The records of several documents put together: one catalogue, no id twice, every reference resolved."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from attrs import evolve

from torquewright.base.document import Path
from torquewright.notation.near import nearest
from torquewright.records.catalogue import Catalogue
from torquewright.records.parts import Fastener, KitItem, Tool
from torquewright.toml.naming import PIECES, Names, not_called
from torquewright.toml.records import Tables
from torquewright.toml.slips import Slip, spelled


def join(parts: Sequence[Tables]) -> tuple[Catalogue, Names]:
    """One catalogue of the tables of several documents. What is wrong goes to the slips of the tables it is in."""
    _no_id_twice(parts)
    tools: list[Tool] | None = None
    for held in parts:
        if held.tools is not None:
            tools = [*(tools or ()), *held.tools]
    fasteners = [record for held in parts for record in held.fasteners]
    seals = [record for held in parts for record in held.seals]
    fluids = [record for held in parts for record in held.fluids]
    solids = [record for held in parts for record in held.parts]
    names = Names(fasteners, seals, fluids, solids, tools or ())
    fluid_ids = dict.fromkeys(record.id for record in fluids)
    if any(record.seals or record.fluid for record in fasteners):
        fasteners = [
            _referring(record, path, held, names, fluid_ids)
            for held in parts
            for record, path in zip(held.fasteners, held.paths_of("fastener"), strict=True)
        ]
    kit: list[KitItem] | None = None
    for held in parts:
        if held.kit is not None:
            laid_out = zip(held.kit, held.paths_of("kit"), strict=True)
            kit = [*(kit or ()), *(_laid_out(item, path, held, names) for item, path in laid_out)]
    named = next((held for held in parts if held.machine or held.source), None)
    catalogue = Catalogue(
        machine=named.machine if named else "",
        source=named.source if named else None,
        fasteners=tuple(fasteners),
        seals=tuple(seals),
        fluids=tuple(fluids),
        parts=tuple(solids),
        tools=None if tools is None else tuple(tools),
        kit=None if kit is None else tuple(kit),
        policy=next((held.policy for held in parts if held.policy), "general"),
        unrecorded=tuple(key for held in parts for key in held.unrecorded),
        variant=next((held.variant for held in parts if held.variant), ""),
        surroundings=next((held.surroundings for held in parts if held.surroundings), ""),
    )
    return catalogue, names


def _no_id_twice(parts: Sequence[Tables]) -> None:
    seen: dict[tuple[bool, str], tuple[Tables, Path]] = {}
    for held in parts:
        for what, key, path in held.paths:
            if what == "kit":
                continue
            # a tool may share its id with a part: a step never means the one where the other can stand
            before = seen.setdefault((what == "tool", key.lower()), (held, path))
            if before[1] is not path:
                found = spelled(key)
                wanted = "another id, or one record of the two"
                first = (before[0].parsed, before[1])
                message = f'a second record with the id "{found}"'
                held.slips.append(Slip((*path, "id"), message, found, wanted, second=first))


def _referring(record: Fastener, path: Path, held: Tables, names: Names, fluids: Mapping[str, None]) -> Fastener:
    if not record.seals and not record.fluid:
        return record
    seals = []
    for at, words in enumerate(record.seals):
        key = names.find(words)
        if key not in names.seals:
            held.slips.append(_nothing((*path, "seals", at), words, "seal", names.seals))
        seals.append(key or words)
    fluid = record.fluid and (names.find(record.fluid) or record.fluid)
    if fluid and fluid not in fluids:
        held.slips.append(_nothing((*path, "fluid"), record.fluid, "fluid", fluids))
    if tuple(seals) == record.seals and fluid == record.fluid:
        return record
    return evolve(record, seals=tuple(seals), fluid=fluid)


def _laid_out(item: KitItem, path: Path, held: Tables, names: Names) -> KitItem:
    part, of = item.part, item.of
    if path in held.as_written:
        return item
    if part.lower() not in PIECES:
        key = names.find(part)
        if key is None:
            near = names.nearly(part)
            if near:
                held.slips.append(not_called("record", (*path, "part"), part, near))
        part = key or part
    if of:
        key = names.find(of)
        if key is None and names.fasteners:
            held.slips.append(_nothing((*path, "of"), of, "fastener", names.fasteners))
        of = key or of
    return item if (part, of) == (item.part, item.of) else evolve(item, part=part, of=of)


def _nothing(path: Path, words: str, what: str, known: Iterable[str]) -> Slip:
    near = nearest(words, known)
    slip = not_called(what, path, words, near)
    return slip if near else slip._replace(wanted=f'the id of a {what}, or [[{what}]] with id = "{slip.found}"')
