"""Washers on the seat: which are left from before, which were taken off, which were put on."""

from __future__ import annotations

from torquewright.bench.state import Event, JointTrack, Lot, WasherOn
from torquewright.records import WasherUse


def put_washers(lot: Lot, event: Event, use: WasherUse) -> None:
    """Put the washers of ``use`` on each position of ``lot``. An old one put back is the one that was left."""
    run = lot.run
    if event.conditional and run.perhaps_out is not None and run.perhaps_out.step == event.step:
        run.washers = []  # "if the level is low, open the plug …, and close it with another new washer"
    count = use.count
    if count is None:
        run.washer_silent = True
        count = 1
    state = use.state or "unstated"
    if state in ("old", "measured"):
        state = "old"
        run.old_washers = max(0, run.old_washers - count)
        run.seat_cleared = run.seat_cleared or event
    run.washers = [*run.washers, *([WasherOn(state, event)] * count)]


def on_washer(track: JointTrack, event: Event) -> None:
    """An action on the washer alone: taken off, thrown away, looked for, renewed or put on."""
    verb, action = event.verb, event.action
    if verb in ("remove", "discard", "take_out", "clean", "inspect", "check", "loosen", "disconnect"):
        if event.conditional:
            return
        for lot in track.lots:
            if verb in ("inspect", "check", "clean") and lot.run.old_washers == 0:
                continue
            lot.run.old_washers = 0
            lot.run.seat_cleared = event
            if verb == "discard" and lot.run.washers and all(on.state == "new" for on in lot.run.washers):
                continue  # what is thrown away is what came off
            if verb not in ("clean", "inspect", "check"):
                lot.run.washers = []
    elif verb in ("install", "position", "reuse", "replace", "insert", "hand_start", "connect"):
        state = "old" if verb == "reuse" else "new" if verb == "replace" else action.state
        if not state and any(lot.run.seat_cleared and lot.run.seat_cleared.verb == "discard" for lot in track.lots):
            state = "new"  # the old ones are in the bin
        each = _each(track, action.count)
        for lot in track.lots:
            if verb == "replace":
                lot.run.old_washers = 0
                lot.run.washers = []
                lot.run.seat_cleared = event
            put_washers(lot, event, WasherUse(each, state))


def _each(track: JointTrack, count: int | None) -> int | None:
    """Washers for each position, from a number that may be the number for all positions together."""
    if count is None:
        return None
    positions = sum(lot.count for lot in track.lots)
    if positions > 1 and count >= positions and count % positions == 0:
        return count // positions
    return count if positions == 1 else 1
