"""Plants faults of locks and compounds: left out, too early, on plastic, not given their time."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Event, Lot, Trace, play
from torquewright.bench.state import TIGHT
from torquewright.records import Action, Catalogue, Fastener, Procedure
from torquewright.rules import compounds, locks
from torquewright.rules.castle import pinned, sets_bearing, turned_back_by_record
from torquewright.rules.editing import drop_all, insert
from torquewright.rules.registry import Planted, planter

Spot = tuple[int, int]


def spot(event: Event) -> Spot:
    """Where the action of an event stands: the step's index and its number in the step."""
    return event.step, event.number


def closed(trace: Trace) -> Iterator[tuple[Fastener, Lot]]:
    """Each joint that is made and closed in the job all at once, with its positions."""
    for track in trace.joints.values():
        lot = track.lots[-1]
        made = lot.run.opened is not None or lot.run.fitted is not None
        alike = all([pull.event for pull in held.run.pulls] == [pull.event for pull in lot.run.pulls]
                    and held.state == TIGHT for held in track.lots)  # fmt: skip
        if not alike or not lot.run.pulls or not made:
            continue
        if all(pull.event.step >= 0 and not pull.event.conditional for pull in lot.run.pulls):
            yield track.fastener, lot


@planter(locks.MISSING)
def locking_device_missing(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """The lock is left out, or goes in before the joint is pulled."""
    trace = play(procedure, catalogue)
    for fastener, lot in closed(trace):
        put, last = lot.run.lock_event, lot.run.last
        if not locks.wanted(fastener) or put is None or last is None or put.verb != "lock" or put.step < 0:
            continue
        if any(event.action.of and event.verb in ("install", "position", "replace")
               for event in trace.joints[fastener.id].events):  # fmt: skip
            continue  # a piece of the joint is put on in words of its own, which may be the lock
        fitted = [event for event in trace.joints[fastener.id].events if event.verb == "lock" and event.step >= 0]
        without, moved = drop_all(procedure, [spot(event) for event in fitted if event.order > _opened(lot)])
        lock = locks.wanted(fastener)[0]
        yield Planted(without, catalogue, moved[last.step], fastener.id, f"the {fastener.name} gets no {lock}")
        first = lot.run.pulls[0].event
        if put.order > last.order and lock in ("cotter pin", "lockwire", "roll pin", "R-clip") and len(fitted) == 1:
            early, moved = drop_all(procedure, [spot(put)])
            early = insert(early, moved[first.step], first.number, put.action)
            text = f"the {lock} goes in before the {fastener.name} is tightened"
            yield Planted(early, catalogue, moved[first.step], fastener.id, text)




def _opened(lot: Lot) -> int:
    return lot.run.opened.order if lot.run.opened is not None else -1


@planter(locks.BACKED_OFF)
def castle_nut_backed_off(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """The nut is turned back to the slot behind its last pull, always or on a condition."""
    for fastener, lot in closed(play(procedure, catalogue)):
        last = lot.run.last
        if not pinned(fastener) or sets_bearing(fastener) or turned_back_by_record(fastener) or last is None:
            continue
        note = "until a slot meets the hole"
        back = Action("back_off", fastener.id, note=note)
        spoiled = insert(procedure, last.step, last.number + 1, back)
        yield Planted(spoiled, catalogue, last.step, fastener.id, f"the {fastener.name} is turned back to the slot")
        back = Action("back_off", fastener.id, mode="if", note="if no slot meets the hole")
        spoiled = insert(procedure, last.step, last.number + 1, back)
        yield Planted(spoiled, catalogue, last.step, fastener.id, f"the {fastener.name} may be turned back to the slot")


@planter(compounds.MISSING)
def threadlocker_missing(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """The compound is left out, or put on behind the last pull, or on a thread that nobody cleaned."""
    trace = play(procedure, catalogue)
    for fastener, lot in closed(trace):
        if not compounds.wanted(fastener) or lot.runs[1:]:
            continue
        first, last = lot.run.pulls[0].event, lot.run.pulls[-1].event
        own = trace.joints[fastener.id].events
        put = [event for event in own if compounds.is_compound(event, fastener) and event.verb == "seal"]
        if len(put) != 1 or put[0].order > first.order or put[0].step < 0:
            continue
        without, moved = drop_all(procedure, [spot(put[0])])
        product = compounds.wanted(fastener)
        yield Planted(without, catalogue, moved[first.step], fastener.id, f"no {product} on the {fastener.name}")
        late = insert(without, moved[last.step], last.number + 1, put[0].action)
        if put[0].step != last.step:
            text = f"{product} goes on the {fastener.name} once it is tight"
            yield Planted(late, catalogue, moved[last.step], fastener.id, text)
        cleaned = [event for event in trace.events if event.verb == "clean" and event.order < put[0].order]
        if lot.run.piece == "old" and len(cleaned) == 1 and cleaned[0].joint is fastener and cleaned[0].step >= 0:
            dirty, moved = drop_all(procedure, [spot(cleaned[0])])
            yield Planted(dirty, catalogue, moved[put[0].step], fastener.id, f"the {fastener.name} is not cleaned")


@planter(compounds.PLASTIC)
def threadlocker_on_plastic(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Compound goes on a screw in a plastic that it cracks."""
    trace = play(procedure, catalogue)
    for fastener, lot in closed(trace):
        materials = (fastener.mating_material, fastener.bearing_material, fastener.property_class)
        if compounds.wanted(fastener) or not any(compounds.cracked_by_compound(held) for held in materials):
            continue
        first = lot.run.pulls[0].event
        put = Action("seal", fastener.id, with_what="threadlocker")
        spoiled = insert(procedure, first.step, first.number, put)
        text = f"threadlocker goes on the {fastener.name}"
        yield Planted(
            spoiled, catalogue, first.step, fastener.id, text, frozenset({"lubricant-state-mismatch"})
        )


@planter(compounds.CURE)
def cure_time_ignored(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """The wait for a compound or sealant is left out, or cut to a tenth."""
    trace = play(procedure, catalogue)
    slow = [held.id for held in catalogue.fasteners if held.lock is not None and held.lock.cure is not None]
    slow += [held.id for held in catalogue.seals if held.cure is not None]
    if len(slow) != 1:
        return  # with two of them the wait of one is the wait of the other
    runs = [running.event for running in trace.running if running.event.step >= 0]
    for event in trace.of("wait"):
        load = next((run for run in runs if run.order > event.order), None)
        others = [held for held in trace.of("wait", "cool_down") if event.order != held.order]
        if slow[0] not in (*trace.joints, *trace.seals):
            return
        if event.step < 0 or event.action.amount is None or load is None:
            continue
        if any(_closing(trace, slow[0]) < held.order < load.order for held in others):
            continue
        if not _closing(trace, slow[0]) < event.order:
            continue
        spoiled, moved = drop_all(procedure, [spot(event)])
        yield Planted(spoiled, catalogue, moved[load.step], slow[0], "nobody waits until it has set")


def _closing(trace: Trace, key: str) -> int:
    """The order of the last pull on a joint, or on the joints that clamp a seal."""
    pulls = [
        run.last.order
        for track in trace.joints.values()
        if track.fastener.id == key or key in track.fastener.seals
        for _, run in track.runs()
        if run.last is not None
    ]
    return max(pulls, default=len(trace.events))
