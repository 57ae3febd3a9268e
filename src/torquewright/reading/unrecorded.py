"""Fasteners and seals that a draft names and nobody recorded: a record of what the text says of them, no more."""

from __future__ import annotations

from collections.abc import Iterable

from torquewright.notation.notread import NotRead
from torquewright.notation.sizes import read_size
from torquewright.reading.groups import IDLE, PLACED, Group, size_key
from torquewright.records.parts import Fastener, Seal, Thread
from torquewright.sentences.things import Thing

_SWAPPED = frozenset("screw bolt plug cap capscrew setscrew".split())
"""Heads a writer puts for one another by mistake, where all other words are the same."""


def unrecorded(thing: Thing, kind: str, owner: Thing | None, barred: set[str]) -> tuple[str, Fastener | Seal]:
    """The id and the record of what stands in no record. ``kind`` is "fastener" or "seal"; ``owner`` the part it is
    named with; ``barred`` are ids that another number of a figure stands for."""
    words = _telling(thing, owner)
    name = " ".join([*words, thing.head])
    key = "-".join(name.split())
    if key in barred and thing.calls:
        name, key = f"{name} ({thing.calls[0]})", f"{key}-{thing.calls[0]}"  # another "bolts (9)"
    if kind == "seal":
        return key, Seal(key, name, count=thing.count or 1)
    count = thing.count if thing.count is not None else (None if thing.plural else 1)
    return key, Fastener(key, name, count=count, kind=thing.head, thread=_thread(thing))


def _telling(thing: Thing, owner: Thing | None) -> list[str]:
    """The words of a name that tell which one is meant, without its size; else those of the part it is named with."""
    sizes = {size_key(size) for size in thing.sizes}
    words = [
        mod
        for mod in thing.mods
        if mod not in IDLE
        and not any(sign.isdigit() for sign in mod)
        and any(sign.isalpha() for sign in mod)
        and mod not in thing.sizes
        and size_key(mod) not in sizes
    ]
    owner = thing.owner if thing.owner is not None and not thing.owner.pronoun else owner
    if owner is not None and not words:
        return [*[mod for mod in owner.mods if mod not in IDLE][-1:], owner.head]
    return words


def without_place(key: str) -> str:
    """The id without the words that only tell where a fastener sits: "right-crank-bolt" is one of the crank bolts."""
    return "-".join(word for word in key.split("-") if word not in PLACED)


def _thread(thing: Thing) -> Thread | None:
    if not thing.sizes:
        return None
    try:
        return read_size(" x ".join(thing.sizes[0].upper().replace("×", "x").split(" x ")[:1]))
    except NotRead:
        return None


def by_another_name(thing: Thing, owner: Thing | None, groups: Iterable[Group]) -> str:
    """The one joint that goes by the same words and another head: the "drain plug" where there is one drain screw.
    "" where there is none, or more than one."""
    words = set(_telling(thing, owner))
    if thing.head not in _SWAPPED or not words:
        return ""
    sizes = {size_key(size) for size in thing.sizes}
    held = [
        group.id
        for group in groups
        if group.kind == "fastener"
        and any(name[-1] in _SWAPPED and set(name[:-1]) in (words, words - PLACED) for name in group.names)
        and (not sizes or not group.size or group.size in sizes)
        and (thing.count is None or group.count is None or thing.count <= group.count)
    ]
    return held[0] if len(held) == 1 else ""
