"""The kit laid out for a job against the new pieces its steps use up."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from attrs import evolve

from torquewright.bench import JointTrack, Lot, Run, Trace, play
from torquewright.records import Catalogue, KitItem, Procedure
from torquewright.rules.finding import Fact, Finding
from torquewright.rules.registry import Planted, detector, planter
from torquewright.rules.reuse import FIT

RULE = "kit-short"

Piece = tuple[str, str]
"""What a new piece is: ("fastener", id), ("washer", id of its joint), ("lock", id of its joint), ("seal", id)."""


class Need(NamedTuple):
    """How many new pieces the steps use, and what to call one."""

    number: int
    name: str


@detector(RULE)
def kit_short(trace: Trace) -> Iterator[Finding]:
    """The kit holds fewer new pieces than the steps and the records use up; no kit, no finding."""
    if trace.catalogue.kit is None:
        return
    needs = needed(trace)
    have, places, loose = _laid_out(trace.catalogue, trace.catalogue.kit)
    for (what, key), need in needs.items():
        held = have.get((what, key), 0)
        if held < need.number and loose.get(what):
            lent = min(loose[what], need.number - held)
            loose[what] -= lent
            held += lent
        if held < need.number:
            place = places.get((what, key))
            facts: dict[str, Fact] = {"part": need.name, "need": need.number, "have": held}
            path = () if place is None else ("kit", place, "count")
            yield Finding(RULE, "certain", None, key, facts, path, "procedure" if place is None else "kit")


def needed(trace: Trace) -> dict[Piece, Need]:
    """The new pieces used up: those the steps call new, and those a record lets in only new."""
    found: dict[Piece, Need] = {}
    for key, track in trace.joints.items():
        fastener = track.fastener
        for what, name, count in (
            ("fastener", fastener.name, _pieces(track)),
            ("washer", f"{fastener.washer.kind if fastener.washer else ''} washer".strip(), _washers(track)),
            ("lock", fastener.lock.kind if fastener.lock else "lock", _locks(track)),
        ):
            if count:
                found[what, key] = Need(count, name)
    for key, seal in trace.seals.items():
        count = 0
        for event, piece, _ in seal.fitted:
            if not event.conditional and (piece == "new" or (piece == "unstated" and seal.seal.one_time_use)):
                count += event.action.count or seal.seal.count or 1
        if count:
            found["seal", key] = Need(count, seal.seal.name)
    return found


def _makings(track: JointTrack) -> Iterator[tuple[Lot, Run]]:
    """Every making of every lot; lots that were split each count their own pieces."""
    for lot in track.lots:
        for run in (*lot.runs, lot.run):
            if run.fitted is not None or run.lock_event is not None:
                yield lot, run


def _pieces(track: JointTrack) -> int:
    only_new = bool(track.fastener.single_use)
    return sum(
        lot.count for lot, run in _makings(track)
        if run.fitted is not None and not run.fitted.conditional and run.fitted.verb in (*FIT, "hand_start", "seat")
        and (run.piece == "new" or (run.piece == "unstated" and only_new))
    )  # fmt: skip


def _washers(track: JointTrack) -> int:
    washer = track.fastener.washer
    count = 0
    for lot, run in _makings(track):
        only_new = washer is not None and washer.one_time_use
        on = sum(
            1 for held in run.washers if held.state == "new" or (held.state == "unstated" and only_new)
        )
        # A washer too many is another slip; the kit is counted for what the joint takes.
        count += lot.count * (min(on, washer.count) if washer is not None else on)
    return count


def _locks(track: JointTrack) -> int:
    lock = track.fastener.lock
    if lock is not None and (lock.built_in or lock.kind == "threadlocker"):
        return 0
    only_new = lock is not None and lock.one_time_use
    return sum(
        lot.count for lot, run in _makings(track)
        if run.lock_event is not None and not run.lock_event.conditional
        and (run.lock == "new" or (run.lock == "unstated" and only_new)) and run.lock_event.verb != "discard"
    )  # fmt: skip


def _laid_out(
    catalogue: Catalogue, kit: tuple[KitItem, ...]
) -> tuple[dict[Piece, int], dict[Piece, int], dict[str, int]]:
    """What the kit holds by piece, the place of its line, and pieces by a bare word that fit any joint."""
    names: dict[str, Piece] = {}
    for what, records in (("fastener", catalogue.fasteners), ("seal", catalogue.seals)):
        for record in records:
            for name in (record.id, record.name, *record.aliases):
                names.setdefault(name.lower(), (what, record.id))
    have: dict[Piece, int] = {}
    places: dict[Piece, int] = {}
    loose: dict[str, int] = {}
    for index, item in enumerate(kit):
        piece = _meant(catalogue, names, item)
        if isinstance(piece, str):
            loose[piece] = loose.get(piece, 0) + item.count
        else:
            have[piece] = have.get(piece, 0) + item.count
            places.setdefault(piece, index)
    return have, places, loose


def _meant(catalogue: Catalogue, names: dict[str, Piece], item: KitItem) -> Piece | str:
    """The piece a line of the kit means, or the bare word for a piece that fits any joint."""
    word = item.part.lower()
    sort = "lock" if _is_lock(word) else "washer" if "washer" in word else "seal"
    if item.of:
        joint = names.get(item.of.lower(), ("", item.of))[1]
        fastener = catalogue.fastener(joint)
        if sort == "seal" and fastener is not None and len(fastener.seals) == 1:
            return "seal", fastener.seals[0]
        if fastener is not None and fastener.lock is not None and fastener.lock.kind.lower() in word:
            return "lock", joint
        return sort, joint
    return names.get(word, sort)


def _is_lock(word: str) -> bool:
    return word in ("lock", "tab washer") or any(part in word for part in ("pin", "wire", "clip"))


# ---- planting -------------------------------------------------------------------------------------------------


@planter(RULE)
def plant_kit_short(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """One piece fewer lies in the kit than the steps use."""
    if catalogue.kit is None:
        return
    needs = needed(play(procedure, catalogue))
    have, places, loose = _laid_out(catalogue, catalogue.kit)
    for piece, need in needs.items():
        index = places.get(piece)
        if index is None or have[piece] != need.number or loose.get(piece[0]):
            continue
        item = catalogue.kit[index]
        fewer = (evolve(item, count=item.count - 1),) if item.count > 1 else ()
        short = evolve(catalogue, kit=(*catalogue.kit[:index], *fewer, *catalogue.kit[index + 1 :]))
        yield Planted(procedure, short, None, piece[1], f"the kit holds one {need.name} less")
