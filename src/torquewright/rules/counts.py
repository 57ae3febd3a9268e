"""Numbers of pieces: what is taken out, put in and tightened against what the joint has."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from torquewright.bench import Event, JointTrack, Lot, Trace
from torquewright.bench.state import CLOSED, FITTED, OUT, TIGHT
from torquewright.bench.trace import by_hand_is_final
from torquewright.records import Catalogue, Procedure
from torquewright.rules.closing import OPEN, TURN
from torquewright.rules.editing import actions, change
from torquewright.rules.finding import Certainty, Finding
from torquewright.rules.registry import Planted, detector, planter
from torquewright.rules.reuse import FIT
from torquewright.rules.spot import at, built, fastener_place

RULE = "fastener-count-mismatch"


class Slip(NamedTuple):
    """A number that cannot be right: the event, the number there, the number there should be."""

    event: Event
    told: int
    wanted: int
    form: str
    certainty: Certainty = "certain"


@detector(RULE)
def count_mismatch(trace: Trace) -> Iterator[Finding]:
    """More or fewer pieces are spoken of than the joint has, or some are not put back or not tightened."""
    for key, track in trace.joints.items():
        if len(track.lots) == 1 and not any(event.excess for event in track.events):
            continue
        slips = [
            *_too_many(track),
            *_not_all_closed(track),
            *_started_without_fitting(track),
            *_missed_pull(track),
            *_some_untouched(track),
            *_some_not_started(track),
        ]
        # One joint, one slip of the pen: the first place where the number is surely wrong.
        slip = min(slips, key=lambda slip: (slip.certainty != "certain", slip.event.order), default=None)
        if slip is not None:
            facts = {"told": slip.told, "wanted": slip.wanted}
            also = (fastener_place(key, "count"),) if track.fastener.count is not None and track.recorded else ()
            named = "count" if slip.event.action.count is not None else ""
            yield at(RULE, slip.certainty, slip.event, key, facts, slip.form, named, also)


def _positions(track: JointTrack) -> int:
    return sum(lot.count for lot in track.lots)


def _too_many(track: JointTrack) -> Iterator[Slip]:
    positions = _positions(track)
    for event in track.events:
        told = event.action.count
        if event.excess and told is not None and not event.conditional:
            if told > positions:
                yield Slip(event, told, positions, "more")
            elif event.count:
                yield Slip(event, told, event.count, "more")


def _not_all_closed(track: JointTrack) -> Iterator[Slip]:
    """Some positions are closed and others of the same making are out or only started."""
    closed = [lot for lot in track.lots if lot.state == TIGHT and built(lot)]
    left = [lot for lot in track.lots if lot.state not in CLOSED and not by_hand_is_final(track.fastener, lot)]
    if not closed or not left:
        return
    out = any(lot.state == OUT for lot in left)
    ends = [lot.run.fitted if out and lot.run.fitted is not None else lot.run.last for lot in closed]
    event = max((end for end in ends if end is not None), key=lambda end: end.order)
    positions = _positions(track)
    yield Slip(event, positions - sum(lot.count for lot in left), positions, "")


def _started_without_fitting(track: JointTrack) -> Iterator[Slip]:
    """Five are fitted and then six started: the sixth was put in by nobody."""
    for lot in track.lots:
        start = lot.run.fitted
        if start is None or lot.run.started is not start:
            continue
        for other in track.lots:
            fitted = other.run.fitted
            if other.run.started is start and fitted is not None and fitted is not start:
                yield Slip(fitted, fitted.count, fitted.count + lot.count, "")


def _missed_pull(track: JointTrack) -> Iterator[Slip]:
    """A later, higher pull reached only some of the positions that went through the earlier ones together."""
    lots = [lot for lot in track.lots if lot.run.pulls]
    for lot in lots:
        last = lot.run.pulls[-1].event
        if last.action.count is None:
            continue
        pulls = {pull.event.order for pull in lot.run.pulls}
        for other in lots:
            fewer = {pull.event.order for pull in other.run.pulls}
            if fewer < pulls and last.order not in fewer and _highest(other) < _highest(lot):
                yield Slip(last, _positions(track) - other.count, _positions(track), "")


def _highest(lot: Lot) -> float:
    """The highest torque pulled; each angle counts as more than any torque before it."""
    most = 0.0
    for pull in lot.run.pulls:
        if pull.stage is not None and pull.stage.angle is not None:
            most += 1e6
        elif pull.stage is not None and pull.stage.torque is not None:
            most = max(most, pull.stage.torque.target or 0.0)
    return most


def _some_not_started(track: JointTrack) -> Iterator[Slip]:
    """Three of four are started by hand, and all four tightened: the fourth was neither put in nor started."""
    left = [
        lot for lot in track.lots
        if lot.run.pulls and lot.run.started is None and lot.run.opened is not None
        and (lot.run.fitted is None or lot.run.fitted.conditional)  # "if it is worn, exchange it": on the bench
        and (lot.run.seated is None or (lot.run.seated.action.count is None and lot.run.removed is not None))
    ]  # fmt: skip
    started = [lot.run.started for lot in track.lots if lot.run.started is not None]
    event = next((event for event in started if event.action.count is not None and not event.conditional), None)
    if left and event is not None:
        counted = all(lot.run.removed is not None and lot.run.removed.action.count is not None for lot in left)
        told = _positions(track) - sum(lot.count for lot in left)
        yield Slip(event, told, _positions(track), "some", "certain" if counted else "unstated")


def _some_untouched(track: JointTrack) -> Iterator[Slip]:
    """A number below that of the record, and the positions it leaves out are never spoken of."""
    untouched = sum(lot.count for lot in track.lots if lot.state == FITTED)
    if not untouched:
        return
    touched = [lot for lot in track.lots if lot.state != FITTED]
    for event in track.events:
        if event.action.count is not None and event.count and not event.conditional:
            built_up = all(lot.run.removed is None and lot.run.fitted is not None for lot in touched)
            sure: Certainty = "certain" if built_up else "unstated"
            yield Slip(event, _positions(track) - untouched, _positions(track), "some", sure)
            return


# ---- planting -------------------------------------------------------------------------------------------------


@planter(RULE)
def plant_counts(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """One piece fewer goes back than was out, or one more is taken out than there are."""
    for fastener in catalogue.fasteners:
        key, count = fastener.id, fastener.count or 1
        own = [held for held in actions(procedure) if held[2].what == key and not held[2].of]
        last = max((at for at, held in enumerate(own) if held[2].verb in OPEN), default=-1)
        if last >= 0 and own[last][2].count == count:
            step, number, _ = own[last]
            more = change(procedure, step, number, count=count + 1)
            yield Planted(more, catalogue, step, key, f"{count + 1} are taken out where there are {count}")
        fits = [held for held in own[last + 1 :] if held[2].verb in FIT]
        if count < 2 or len(fits) != 1 or fits[0][2].count != count:
            continue
        fewer = procedure
        for step, number, action in own[last + 1 :]:
            if action.count == count and action.verb in (*FIT, "hand_start", "seat", *TURN, "back_off"):
                fewer = change(fewer, step, number, count=count - 1)
        yield Planted(fewer, catalogue, fits[0][0], key, f"{count - 1} go back where there are {count}")
