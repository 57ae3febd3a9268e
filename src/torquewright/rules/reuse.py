"""Pieces that hold once: fasteners, self-locking nuts, pins and wire that go back in though they are spent."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Event, JointTrack, Run, Trace
from torquewright.bench.play import is_lock
from torquewright.book.policies import policy as practice
from torquewright.records import Action, Catalogue, Fastener, Procedure
from torquewright.rules.editing import actions, change, joint_of
from torquewright.rules.finding import Certainty, Finding
from torquewright.rules.registry import Planted, detector, planter
from torquewright.rules.spot import at, fastener_place, refit_unsaid

SINGLE_USE = "single-use-fastener-reused"
LOCKNUT = "locknut-reused"
LOCK = "cotter-or-wire-reused"

FIT = ("install", "reuse", "replace", "insert", "position", "connect")

# Bent or spread once and spent: AC 43.13-1B 7-38 for pins and wire, TM 1-1500-204-23-6 2-35 for tab washers.
SPENT_LOCKS = frozenset({"cotter pin", "lockwire", "tab washer", "roll pin"})
_OTHER_NAMES = {"split pin": "cotter pin", "locking wire": "lockwire", "safety wire": "lockwire", "wire": "lockwire"}


def is_locknut(fastener: Fastener) -> bool:
    """Whether the fastener itself is a nut that holds by its running torque."""
    if fastener.lock is not None and fastener.lock.kind == "prevailing-torque nut":
        return fastener.lock.built_in or "nut" in fastener.kind or not fastener.kind
    return "locknut" in fastener.kind or ("nut" in fastener.kind and fastener.prevailing is not None)


def _may_be_old(action: Action) -> bool:
    """Whether the words of the action let the old piece back in, always or on a condition."""
    return action.verb == "reuse" or action.state in ("old", "new_if")


def _refits(track: JointTrack, policy: str) -> Iterator[tuple[Event, str, Certainty]]:
    """(event, form, certainty) of each refit that ``policy`` ("never" or "measure") does not allow, each once."""
    seen: set[int] = set()
    for lot in track.lots:
        runs = (*lot.runs, lot.run)
        for index, run in enumerate(runs):
            slip = _never(run) if policy == "never" else _unmeasured(run)
            if slip is None or slip[0].order in seen or refit_unsaid(run):
                continue
            if any(later.piece == "new" for later in runs[index + 1 :]):
                continue  # a trial fit: new ones go in before the end
            if policy == "measure" and seen:
                continue  # the one measurement is missing, however many steps put the pieces back
            seen.add(slip[0].order)
            yield slip
    if policy == "never":
        for event in track.events:
            # A condition ("if it looks good") was not followed on the bench, yet the text allows it.
            allowed = event.conditional and event.verb in FIT and not event.action.of and _may_be_old(event.action)
            if allowed and event.order not in seen:
                seen.add(event.order)
                yield event, "", "certain"


def _by_step(slips: Iterator[tuple[Event, str, Certainty]]) -> Iterator[tuple[Event, str, Certainty, int]]:
    """The slips with the number of pieces, those of one step and kind told as one."""
    found: dict[tuple[int, str, Certainty], tuple[Event, int]] = {}
    for event, form, certainty in slips:
        first, count = found.get((event.step, form, certainty), (event, 0))
        found[event.step, form, certainty] = (first, count + max(event.count, 1))
    for (_, form, certainty), (event, count) in found.items():
        yield event, form, certainty, count


def _never(run: Run) -> tuple[Event, str, Certainty] | None:
    if run.fitted is not None:
        if run.piece == "old" or run.fitted.action.state == "new_if":
            return run.fitted, "", "certain"
        return (run.fitted, "unstated", "unstated") if run.piece == "unstated" else None
    if run.piece == "original" and run.opened is not None and run.pulls:
        return run.pulls[0].event, "retightened", "certain"
    return None


def _unmeasured(run: Run) -> tuple[Event, str, Certainty] | None:
    if run.measured is not None or run.fitted is None or run.piece not in ("old", "unstated"):
        return None
    return run.fitted, "unmeasured", "certain" if run.piece == "old" else "unstated"


def _loosened_by_record(fastener: Fastener) -> bool:
    """Whether the record itself turns the fastener back between its stages."""
    tightening = fastener.tightening
    return tightening is not None and any(angle.nominal < 0 for angle in tightening.angles)


@detector(SINGLE_USE)
def single_use(trace: Trace) -> Iterator[Finding]:
    """A fastener that may be fitted only once goes back, or may go back; or one is not measured before it does."""
    for key, track in trace.joints.items():
        fastener = track.fastener
        policy = "never" if fastener.single_use else "measure" if fastener.reuse == "after measuring" else ""
        if not policy or is_locknut(fastener):
            continue
        also = (fastener_place(key, "reuse" if fastener.reuse else "one-time-use"),)
        for event, form, certainty, count in _by_step(_refits(track, policy)):
            if form != "retightened" or not _loosened_by_record(fastener):
                yield at(SINGLE_USE, certainty, event, key, {"count": count}, form, also=also)


def _nut_policy(fastener: Fastener, trade: str) -> tuple[str, bool]:
    """("never", "measure" or "free", whether the record says so)."""
    one_time = fastener.single_use
    if one_time is None and fastener.lock is not None:
        one_time = fastener.lock.one_time_use
    if fastener.reuse == "after measuring":
        return "measure", True
    if one_time is not None:
        return ("never" if one_time else "free"), True
    answer = practice(trade).locknuts
    return ("measure", False) if answer == "ask" else (answer, True)


@detector(LOCKNUT)
def locknut(trace: Trace) -> Iterator[Finding]:
    """A self-locking nut goes back against its record, or without its running torque being measured."""
    for key, track in trace.joints.items():
        fastener = track.fastener
        if not is_locknut(fastener):
            continue
        policy, said = _nut_policy(fastener, trace.catalogue.policy)
        if policy == "free":
            continue
        also = (fastener_place(key, "reuse" if fastener.reuse else "lock"),) if said and track.recorded else ()
        for event, form, certainty, count in _by_step(_refits(track, policy)):
            sure: Certainty = certainty if said else "unstated"
            yield at(LOCKNUT, sure, event, key, {"count": count}, form, also=also)


def fits_lock(fastener: Fastener, event: Event) -> bool:
    """Whether the event puts on what locks the joint."""
    action = event.action
    if action.of:
        return event.verb in (*FIT, "lock") and is_lock(fastener, action.what.lower())
    return event.verb == "lock"


def _lock_kind(fastener: Fastener, action: Action) -> str:
    """The kind of lock an action fits: the record's, else the words of the action."""
    if fastener.lock is not None:
        return fastener.lock.kind
    words = (action.what if action.of else action.with_what).lower()
    return _OTHER_NAMES.get(words, words)


def _put_in(track: JointTrack, locked: Event) -> Event:
    """The event that put in the piece that ``locked`` bends or spreads; that event itself where none did."""
    if locked.verb != "lock" or locked.action.with_what:
        return locked
    put = [event for event in track.events if event.order < locked.order and event.action.of]
    put = [event for event in put if event.verb in FIT and is_lock(track.fastener, event.action.what.lower())]
    return put[-1] if put else locked


def _spent(fastener: Fastener, kind: str) -> bool:
    if fastener.lock is not None and fastener.lock.one_time_use is not None:
        loose = not fastener.lock.built_in and kind not in ("threadlocker", "prevailing-torque nut")
        return fastener.lock.one_time_use and loose
    return kind in SPENT_LOCKS


@detector(LOCK)
def lock_reused(trace: Trace) -> Iterator[Finding]:
    """A pin, wire, tab washer or other lock that holds once goes back, or is not said to be new."""
    for key, track in trace.joints.items():
        unsaid = {
            _put_in(track, run.lock_event).order
            for lot in track.lots
            for run in (*lot.runs, lot.run)
            if run.lock == "unstated" and run.lock_event is not None
        }
        for event in track.events:
            action = event.action
            if not fits_lock(track.fastener, event):
                continue
            kind = _lock_kind(track.fastener, action)
            if not _spent(track.fastener, kind):
                continue
            if _may_be_old(action) or action.state == "measured":
                yield at(LOCK, "certain", event, key, {"lock": kind})
            elif event.order in unsaid:
                yield at(LOCK, "unstated", event, key, {"lock": kind}, "unstated")


# ---- planting -------------------------------------------------------------------------------------------------


def _kept(procedure: Procedure, joint: str, before: int, lock_of: Fastener | None = None) -> Procedure:
    """The same procedure with the pieces of ``joint``, or the lock of that fastener, cleaned instead of thrown away,
    up to step ``before``."""
    removed = False
    for step, number, action in list(actions(procedure)):
        if lock_of is not None:
            about = action.of == joint and is_lock(lock_of, action.what.lower())
        else:
            about = action.what == joint and not action.of
        if about and action.verb in ("remove", "disconnect", "take_out"):
            removed = True
        elif about and action.verb == "discard" and step <= before:
            procedure = change(procedure, step, number, verb="clean" if removed else "remove")
    return procedure


def _new_pieces(procedure: Procedure, catalogue: Catalogue, locknuts: bool) -> Iterator[Planted]:
    for step, number, action in actions(procedure, "install"):
        fastener = joint_of(action, catalogue)
        if fastener is None or is_locknut(fastener) != locknuts:
            continue
        never = _nut_policy(fastener, catalogue.policy)[0] == "never" if locknuts else fastener.single_use
        if never and action.state == "new":
            old = change(_kept(procedure, fastener.id, step), step, number, verb="reuse", state="")
            yield Planted(old, catalogue, step, fastener.id, f"the old {fastener.name} goes back in")
            unsaid = change(_kept(procedure, fastener.id, step), step, number, state="")
            yield Planted(unsaid, catalogue, step, fastener.id, f"the {fastener.name} is no longer said to be new")


def _unmeasured_pieces(procedure: Procedure, catalogue: Catalogue, locknuts: bool) -> Iterator[Planted]:
    for step, number, action in actions(procedure, "measure"):
        fastener = joint_of(action, catalogue)
        if fastener is None or is_locknut(fastener) != locknuts or fastener.reuse != "after measuring":
            continue
        refit = next(
            (at for at, _, later in actions(procedure, *FIT) if at >= step and later.what == fastener.id), None
        )
        if refit is not None:
            unmeasured = change(procedure, step, number, verb="clean")
            yield Planted(unmeasured, catalogue, refit, fastener.id, f"the {fastener.name} is not measured any more")


@planter(SINGLE_USE)
def plant_single_use(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """New pieces become old ones, or are not said to be new; a measurement is left out."""
    yield from _new_pieces(procedure, catalogue, locknuts=False)
    yield from _unmeasured_pieces(procedure, catalogue, locknuts=False)


@planter(LOCKNUT)
def plant_locknut(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """New nuts become old ones, or are not said to be new; the running torque is not measured."""
    yield from _new_pieces(procedure, catalogue, locknuts=True)
    yield from _unmeasured_pieces(procedure, catalogue, locknuts=True)


@planter(LOCK)
def plant_lock(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """A new pin, wire or tab washer becomes the old one."""
    for step, number, action in actions(procedure, "lock"):
        fastener = joint_of(action, catalogue)
        if fastener is None or action.state != "new":
            continue
        kind = _lock_kind(fastener, action)
        if _spent(fastener, kind):
            kept = _kept(procedure, fastener.id, step, fastener)
            old = change(kept, step, number, state="old")
            yield Planted(old, catalogue, step, fastener.id, f"the old {kind} goes back in")
            unsaid = change(kept, step, number, state="")
            yield Planted(unsaid, catalogue, step, fastener.id, f"the {kind} is no longer said to be new")
