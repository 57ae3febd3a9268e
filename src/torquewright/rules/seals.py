"""What makes a joint tight: sealing washers by number, rings and gaskets by their age and their wetting."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from torquewright.bench import Event, JointTrack, Run, SealTrack, Trace
from torquewright.records import Catalogue, Fastener, Procedure, Washer
from torquewright.rules.editing import actions, change, drop, insert, joint_of
from torquewright.rules.finding import Certainty, Fact, Finding
from torquewright.rules.registry import Planted, detector, planter
from torquewright.rules.reuse import FIT
from torquewright.rules.spoken import handed_on
from torquewright.rules.spot import at, fastener_place, refit_unsaid, seal_place

WASHERS = "sealing-washer-count"
RINGS = "seal-ring-dry-or-reused"

Slip = tuple[Event, str, Certainty, int]

# ---- sealing washers ------------------------------------------------------------------------------------------


@detector(WASHERS)
def washers(trace: Trace) -> Iterator[Finding]:
    """A sealing seat is closed with too many washers, too few, a spent one, or one nobody accounts for."""
    for key, track in trace.joints.items():
        washer = track.fastener.washer
        if washer is None or washer.kind != "sealing" or washer.captive:
            continue
        seen: set[int] = set()
        for lot in track.lots:
            first = True
            for run in (*lot.runs, lot.run):
                slip = _washer_slip(run, washer, first)
                first = first and run.removed is None
                if slip is not None and slip[0].order not in seen:
                    event, form, certainty, count = slip
                    seen.add(event.order)
                    facts = {"count": count, "wanted": washer.count}
                    named = "washer" if event.action.washer is not None else ""
                    yield at(WASHERS, certainty, event, key, facts, form, named, (fastener_place(key, "washer"),))


def _washer_slip(run: Run, washer: Washer, first: bool) -> Slip | None:
    """What is wrong with the seat when the piece of ``run`` is in; ``first`` is the first time it was out."""
    if refit_unsaid(run) or (run.fitted is None and run.started is None and not run.pulls):
        return None
    put = [held.event for held in run.washers if held.event is not None]
    event = max(put, key=lambda event: event.order) if put else (run.fitted or run.started or run.pulls[0].event)
    count, states = len(run.washers), {held.state for held in run.washers}
    if count > washer.count:
        return event, "", "certain", count
    if washer.one_time_use and "old" in states:
        return event, "old", "certain", count
    if count < washer.count and not run.washer_silent:
        return _too_few(run, washer, event, count)
    if washer.one_time_use and "unstated" in states and not _binned(run):
        return event, "unsaid", "unstated", count
    if first and run.old_washers:
        return event, "left", "unstated", count
    return None


def _binned(run: Run) -> bool:
    return run.seat_cleared is not None and run.seat_cleared.verb == "discard"


def _too_few(run: Run, washer: Washer, event: Event, count: int) -> Slip | None:
    if run.fitted is None:
        return None  # only loosened: what sits there sits there
    if count:
        return event, "few", "unstated" if run.old_washers else "certain", count
    if event.action.washer is not None or _binned(run):  # "with no washer", or the old ones thrown away
        return event, "few", "certain", 0
    if run.removed is not None and not washer.one_time_use:
        return None  # it comes off and goes back with its screw
    return event, "none", "unstated", 0


# ---- rings and gaskets ----------------------------------------------------------------------------------------


@detector(RINGS)
def rings(trace: Trace) -> Iterator[Finding]:
    """A ring or gasket goes in old, dry, wetted where it must not be, or never spoken of at all."""
    for key, track in trace.seals.items():
        for event, piece, lubricated in track.fitted:
            if event.conditional and any(new == "new" and not later.conditional for later, new, _ in track.fitted):
                continue  # "it may be used again if it is whole; we fit a new one in any case"
            slip = _ring_slip(track, event, piece, lubricated)
            if slip is not None:
                form, certainty, field = slip
                facts = {"lubricant": track.seal.lubricant}
                yield at(RINGS, certainty, event, key, facts, form, also=(seal_place(key, field),))
            told, wanted = event.action.count or 0, track.seal.count or 1
            if told > wanted and trace.catalogue.recorded(key) and not event.conditional:
                many: dict[str, Fact] = {"told": told, "wanted": wanted, "lubricant": ""}
                yield at(RINGS, "certain", event, key, many, "many", "count", (seal_place(key, "count"),))
        yield from _left_out(trace, key, track)
    yield from _unspoken(trace)


def _left_out(trace: Trace, key: str, track: SealTrack) -> Iterator[Finding]:
    """A recorded seal is taken off and thrown away, the machine is put together again, and no other goes in."""
    gone = track.discarded
    if gone is None or gone.conditional or track.fitted or not trace.catalogue.recorded(key):
        return
    if any(event.verb in _PUT_IN for event in track.events) or handed_on(trace, gone.order):
        return
    held = (*trace.forbidden, *trace.mentioned)
    if any(event.seal is not None and event.seal.id == key for event in held):
        return
    clamped = [joint for joint in trace.joints.values() if key in joint.fastener.seals]
    closed = [pull.event for joint in clamped or trace.joints.values() for lot in joint.lots for pull in lot.run.pulls]
    if any(event.order > gone.order for event in closed):
        yield at(RINGS, "unstated", gone, key, {}, "gone", also=(seal_place(key, "one-time-use"),))


_PUT_IN = frozenset({*FIT, "position", "place", "lubricate", "reuse", "replace"})


def _ring_slip(track: SealTrack, event: Event, piece: str, lubricated: bool) -> tuple[str, Certainty, str] | None:
    seal = track.seal
    if seal.one_time_use and (piece == "old" or event.action.state == "new_if"):
        return "", "certain", "one-time-use"
    if seal.lubricant == "dry" and lubricated:
        return "wetted", "certain", "lubricant"
    if seal.lubricant not in ("", "dry") and not lubricated:
        return "dry", "certain", "lubricant"
    if seal.one_time_use and piece == "unstated":
        return "unstated", "unstated", "one-time-use"
    return None


def _unspoken(trace: Trace) -> Iterator[Finding]:
    """Seals of a joint that was taken apart wholly and closed again without a word of them."""
    spoken = set(trace.seals)
    spoken.update(event.seal.id for event in (*trace.forbidden, *trace.mentioned) if event.seal is not None)
    for key, track in trace.joints.items():
        if all(seal in spoken for seal in track.fastener.seals) or any(_on_seals(event) for event in track.events):
            continue
        refit = _closed_again(track)
        if refit is None:
            continue
        for seal in track.fastener.seals:
            record = trace.catalogue.seal(seal)
            if seal not in spoken and record is not None and record.one_time_use is not False:
                spoken.add(seal)
                also = (fastener_place(key, "seals"),)
                yield at(RINGS, "unstated", refit, seal, {"clamp": key}, "unspoken", also=also)


def _on_seals(event: Event) -> bool:
    """Whether the action is on the seals of its joint, named by a bare word ("both gaskets")."""
    if not event.action.of:
        return False
    words = event.action.what.lower().replace("-", " ").split()
    return any(word.rstrip("s") in ("seal", "gasket", "ring") for word in words)


def _closed_again(track: JointTrack) -> Event | None:
    """The event that put the first piece back, where every position was out and all are in again."""
    refits: list[Event] = []
    for lot in track.lots:
        back = next((run.fitted for run in (*lot.runs, lot.run) if run.removed and run.fitted), None)
        if back is None:
            return None
        refits.append(back)
    return min(refits, key=lambda event: event.order)


# ---- planting -------------------------------------------------------------------------------------------------


def _sealed(fastener: Fastener | None) -> Washer | None:
    """The sealing washer a fastener must carry, if it is one that can be left out."""
    washer = fastener.washer if fastener is not None else None
    return washer if washer is not None and washer.kind == "sealing" and not washer.captive else None


@planter(WASHERS)
def plant_washers(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """One washer too many, one too few, the old one again, or the old one left where it was."""
    for step, number, action in actions(procedure, "install", "reuse"):
        fastener, use = joint_of(action, catalogue), action.washer
        washer = _sealed(fastener)
        if fastener is None or washer is None or use is None or use.count != washer.count:
            continue

        spoilt = [("one sealing washer more goes on", evolve(use, count=washer.count + 1))]
        if washer.count > 1:
            spoilt.append(("one sealing washer is left out", evolve(use, count=washer.count - 1)))
        if washer.one_time_use and use.state == "new":
            spoilt.append(("the old sealing washer goes back on", evolve(use, state="old")))
        for text, new in spoilt:
            yield Planted(change(procedure, step, number, washer=new), catalogue, step, fastener.id, text)
    yield from _old_left_on(procedure, catalogue)


def _old_left_on(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """The first time the seat is bared, nobody takes the old washer off."""
    for fastener in catalogue.fasteners:
        key = fastener.id
        own = [held for held in actions(procedure) if key in (held[2].what, held[2].of)]
        out = next((at for at, held in enumerate(own) if held[2].verb in ("remove", "disconnect")), len(own))
        back = next((at for at, held in enumerate(own) if at > out and held[2].verb in FIT and not held[2].of), out)
        bared = [held for held in own[out:back] if held[2].of and held[2].what in ("washer", "seat")]
        if _sealed(fastener) is None or len(bared) != 1 or own[out][2].washer or own[back][2].washer is None:
            continue
        edited = drop(procedure, bared[0][0], bared[0][1])
        refit = own[back][0] - (len(procedure.steps) - len(edited.steps))
        yield Planted(edited, catalogue, refit, key, "nobody takes the old sealing washer off")


@planter(RINGS)
def plant_rings(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """A new ring becomes the old one or is not said to be new; its wetting is left out, or a dry one is wetted."""
    for step, number, action in actions(procedure, "install"):
        seal = catalogue.seal(action.what)
        if seal is None:
            continue
        if seal.one_time_use and action.state == "new":
            kept = _kept(procedure, seal.id)
            old = change(kept, step, number, verb="reuse", state="")
            yield Planted(old, catalogue, step, seal.id, f"the old {seal.name} goes back in")
            unsaid = change(kept, step, number, state="")
            yield Planted(unsaid, catalogue, step, seal.id, f"the {seal.name} is no longer said to be new")
        if seal.lubricant == "dry":
            oil = evolve(action, verb="lubricate", state="", with_what="oil")
            yield Planted(insert(procedure, step, number, oil), catalogue, step, seal.id, f"the {seal.name} is oiled")
        elif seal.lubricant:
            yield from _left_dry(procedure, catalogue, step, number)


def _left_dry(procedure: Procedure, catalogue: Catalogue, step: int, number: int) -> Iterator[Planted]:
    """The one wetting ahead of a ring's fitting left out."""
    action = procedure.steps[step].actions[number]
    wet = [(at, n) for at, n, other in actions(procedure, "lubricate") if other.what == action.what and at <= step]
    if len(wet) == 1 and not action.with_what:
        edited = drop(procedure, *wet[0])
        fitted = step - (len(procedure.steps) - len(edited.steps))
        yield Planted(edited, catalogue, fitted, action.what, "the ring is not wetted any more")


def _kept(procedure: Procedure, seal: str) -> Procedure:
    """The same procedure with the pieces of ``seal`` cleaned instead of thrown away."""
    out = False
    for step, number, action in list(actions(procedure)):
        if action.what != seal:
            continue
        if action.verb == "discard":
            procedure = change(procedure, step, number, verb="clean" if out else "remove")
        out = out or action.verb in ("remove", "take_out")
    return procedure
