"""The kit laid out for a job against the new pieces its steps use up."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from attrs import evolve

from torquewright.bench import JointTrack, Run, Trace, play
from torquewright.bench.play import is_lock
from torquewright.records import Catalogue, Fastener, KitItem, Procedure, Washer
from torquewright.rules.finding import Fact, Finding
from torquewright.rules.registry import Planted, detector, planter
from torquewright.rules.reuse import FIT, fits_lock

RULE = "kit-short"

Piece = tuple[str, str]
"""What a new piece is: ("fastener", id), ("washer", id of its joint), ("lock", id of its joint), ("seal", id)."""


Makings = list[tuple[int, Run]]
"""Every making of a joint with the number of its positions."""


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
        makings = [
            (lot.count, run)  # lots that were split each count their own pieces
            for lot in track.lots
            for run in (*lot.runs, lot.run)
            if run.fitted is not None
        ]
        if count := _pieces(fastener, makings):
            found["fastener", key] = Need(count, fastener.name)
        if count := _washers(fastener.washer, makings):
            kind = fastener.washer.kind if fastener.washer is not None else ""
            found["washer", key] = Need(count, f"{kind} washer".lstrip())
        if count := _locks(track):
            found["lock", key] = Need(count, fastener.lock.kind if fastener.lock is not None else "lock")
    for key, seal in trace.seals.items():
        count = 0
        for event, piece, _ in seal.fitted:
            if not event.conditional and (piece == "new" or (piece == "unstated" and seal.seal.one_time_use)):
                count += event.action.count or seal.seal.count or 1
        if count:
            found["seal", key] = Need(count, seal.seal.name)
    return found


def _pieces(fastener: Fastener, makings: Makings) -> int:
    only_new = bool(fastener.single_use)
    count = 0
    for positions, run in makings:
        fitted = run.fitted
        if fitted is None or fitted.conditional or fitted.verb not in (*FIT, "hand_start", "seat"):
            continue
        if run.piece == "new" or (only_new and run.piece == "unstated"):
            count += positions
    return count


def _washers(washer: Washer | None, makings: Makings) -> int:
    only_new = washer is not None and washer.one_time_use
    count = 0
    for positions, run in makings:
        if run.washers:
            on = sum(1 for held in run.washers if held.state == "new" or (only_new and held.state == "unstated"))
            # A washer too many is another slip; the kit is counted for what the joint takes.
            count += positions * (min(on, washer.count) if washer is not None else on)
    return count


def _locks(track: JointTrack) -> int:
    """Locks are counted as they are fitted: a pin may be pulled and thrown away again before the joint is opened."""
    lock = track.fastener.lock
    if lock is not None and (lock.built_in or lock.kind == "threadlocker"):
        return 0
    count, only_new = 0, lock is not None and bool(lock.one_time_use)
    for event in track.events:
        action = event.action
        if event.verb == "discard" and action.of and is_lock(track.fastener, action.what.lower()):
            only_new = True  # the old ones are in the bin
        elif fits_lock(track.fastener, event):
            fresh = action.state == "new" or event.verb == "replace"
            fresh = fresh or (only_new and action.state == "" and event.verb != "reuse")
            if fresh and not event.conditional and "thread" not in action.with_what:
                count += action.count or sum(lot.count for lot in track.lots)
    return count


def _laid_out(
    catalogue: Catalogue, kit: tuple[KitItem, ...]
) -> tuple[dict[Piece, int], dict[Piece, int], dict[str, int]]:
    """What the kit holds by piece, the place of its line, and pieces by a bare word that fit any joint."""
    have: dict[Piece, int] = {}
    places: dict[Piece, int] = {}
    loose: dict[str, int] = {}
    for index, item in enumerate(kit):
        piece = _meant(catalogue, item)
        if isinstance(piece, str):
            loose[piece] = loose.get(piece, 0) + item.count
        else:
            have[piece] = have.get(piece, 0) + item.count
            places.setdefault(piece, index)
    return have, places, loose


def _meant(catalogue: Catalogue, item: KitItem) -> Piece | str:
    """The piece a line of the kit means, or the bare word for a piece that fits any joint."""
    word = item.part.lower()
    sort = "lock" if _is_lock(word) else "washer" if "washer" in word else "seal"
    if item.of:
        joint = _named(catalogue, item.of)[1]
        fastener = catalogue.fastener(joint)
        if sort == "seal" and fastener is not None and len(fastener.seals) == 1:
            return "seal", fastener.seals[0]
        if fastener is not None and fastener.lock is not None and fastener.lock.kind.lower() in word:
            return "lock", joint
        return sort, joint
    piece = _named(catalogue, item.part)
    return piece if piece[0] else sort


def _named(catalogue: Catalogue, words: str) -> Piece:
    """The fastener or seal with this id, name or alias; ("", words) for none."""
    if catalogue.fastener(words) is not None:
        return "fastener", words
    if catalogue.seal(words) is not None:
        return "seal", words
    low = words.lower()
    for what, records in (("fastener", catalogue.fasteners), ("seal", catalogue.seals)):
        for record in records:
            if low in (record.id.lower(), record.name.lower(), *(alias.lower() for alias in record.aliases)):
                return what, record.id
    return "", words


def _is_lock(word: str) -> bool:
    return word.startswith("lock") or word == "tab washer" or any(part in word for part in ("pin", "wire", "clip"))


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
