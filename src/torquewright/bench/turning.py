"""Pieces going in and being turned: which positions a step means, hand-start, pulls and locks."""

from __future__ import annotations

from torquewright.bench.state import FITTED, LOOSE, OUT, PLACED, SEATED, STARTED, TIGHT, Event, JointTrack, Lot, Pull


def pick(track: JointTrack, event: Event, states: tuple[str, ...]) -> list[Lot]:
    """The lots an action means: ``count`` positions among those in ``states`` (earlier states first), or all.

    Splits a lot where the step speaks of fewer positions than it holds. Sets the event's ``count`` and
    ``excess``.
    """
    wanted = event.action.count
    lots = [lot for state in states for lot in track.lots if lot.state == state]
    return _take(track, event, lots, wanted)


def _take(track: JointTrack, event: Event, lots: list[Lot], wanted: int | None) -> list[Lot]:
    if wanted is None:
        event.count = sum(lot.count for lot in lots)
        return lots
    taken: list[Lot] = []
    left = wanted
    for lot in lots:
        if left <= 0:
            break
        if lot.count > left:
            part = lot.split(left)
            track.lots.insert(track.lots.index(lot), part)
            lot = part
        taken.append(lot)
        left -= lot.count
    event.count = wanted - max(left, 0)
    event.excess = max(left, 0)
    return taken


def count_wanted(track: JointTrack, event: Event) -> list[Lot]:
    """The lots a tightening means: with a number, those least far along first; else every one that is in.

    Where nothing is in, all of them: the fault is the caller's to name.
    """
    inside = [lot for lot in track.lots if lot.state != OUT]
    if event.action.count is None:
        turned = [lot for lot in inside if lot.state != FITTED or not track.opened]
        return _take(track, event, turned or inside or list(track.lots), None)
    order = {PLACED: 0, STARTED: 0, SEATED: 0, LOOSE: 1, TIGHT: 2, FITTED: 3}
    inside.sort(key=lambda lot: (order.get(lot.state, 4), len(lot.run.pulls)))
    return _take(track, event, inside or list(track.lots), event.action.count)


def place_piece(lot: Lot, event: Event) -> None:
    """Put a piece in. Whether it is the old one or a new one is what the text says, or what it leaves open."""
    run, action = lot.run, event.action
    if lot.state == FITTED:
        # Built up from parts: nothing was taken out in this job, so the state as found does not count.
        put = lot.run.lock_event
        before, run = run, lot.open(event)
        # What was done to the new pieces on the bench, before they went in, was done to these.
        run.lubricated, run.compound, run.measured = before.lubricated, before.compound, before.measured
        run.washers = [on for on in before.washers if on.event is not None]  # put on ahead of the piece
        run.old_washers = 0
        run.lock_event = put
        if put is None:
            run.lock = ""  # else it went on ahead of its nut, as a tab washer does
    run.fitted = event
    run.piece_event = event
    if action.verb == "reuse" or action.state in ("old", "measured"):
        run.piece = "old"
        if action.state == "measured":
            run.measured = event
    elif action.verb == "replace" or action.state == "new":
        run.piece = "new"
    elif run.discarded is not None:
        run.piece = "new"  # the old ones are in the bin
    else:
        run.piece = "unstated"


def close(lot: Lot, event: Event) -> None:
    """Pull on every position of ``lot``: each stage of the demanded tightening is a pull of its own."""
    run, to = lot.run, event.action.to
    if event.verb == "back_off" and to is None:
        run.pulls.append(Pull(event, None, 0))
        return
    if lot.state == FITTED and run.opened is None:
        lot.state = TIGHT
    if to is None or not to.stages:
        run.pulls.append(Pull(event, None, 0))
    else:
        for index, stage in enumerate(to.stages):
            run.pulls.append(Pull(event, stage, index))
    if run.turned is None and not event.action.by_hand:
        run.turned = event
    lot.state = TIGHT


def set_lock(track: JointTrack, event: Event, item: str) -> None:
    """Fit, renew, take out or throw away the lock of a joint."""
    verb, action = event.verb, event.action
    for lot in track.lots:
        run = lot.run
        if verb in ("remove", "discard", "take_out", "loosen", "disconnect"):
            if event.conditional:
                continue
            run.lock = ""
            if verb == "discard":
                run.lock_event = event
        elif verb in ("install", "reuse", "replace", "lock", "insert", "position"):
            binned = run.lock_event is not None and run.lock_event.verb == "discard"
            if verb == "reuse" or action.state in ("old", "measured"):
                run.lock = "old"
            elif verb == "replace" or action.state == "new" or binned:
                run.lock = "new"
            elif verb == "lock" and run.lock in ("new", "old"):
                pass  # the one that was put on is bent or pulled tight now
            elif verb != "lock" or not run.lock:
                # bending the tab of a lock just fitted does not make it another one
                run.lock = "unstated"
            run.lock_event = event
