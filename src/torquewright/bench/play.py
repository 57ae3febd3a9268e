"""Plays a procedure through, action by action: Step × State → State. Never raises on any typed procedure."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from torquewright.bench.state import (
    FITTED,
    LOOSE,
    OUT,
    PLACED,
    SEATED,
    STARTED,
    TIGHT,
    Event,
    JointTrack,
    Lot,
    SealTrack,
)
from torquewright.bench.trace import Running, Trace
from torquewright.bench.turning import close, count_wanted, pick, place_piece, set_lock
from torquewright.bench.washers import on_washer, put_washers
from torquewright.records import Action, Catalogue, Fastener, Procedure, Seal

if TYPE_CHECKING:  # the reader of sentences is not loaded for a procedure in TOML
    from torquewright.reading.kept import ReadDraft


def play(procedure: Procedure, catalogue: Catalogue, draft: ReadDraft | None = None) -> Trace:
    """Play every step of ``procedure`` against the records of ``catalogue``. ``draft`` is what it was read from."""
    trace = Trace(procedure, catalogue, draft)
    for number, action in enumerate(procedure.given):
        _act(trace, -1, number, action)
    for index, step in enumerate(procedure.steps):
        for number, action in enumerate(step.actions):
            _act(trace, index, number, action)
    return trace


def _act(trace: Trace, step: int, number: int, action: Action) -> None:
    catalogue = trace.catalogue
    joint = catalogue.fastener(action.of or action.what)
    seal = catalogue.seal(action.what) or (catalogue.seal(action.of) if action.of and joint is None else None)
    if seal is None and joint is not None and action.of and len(joint.seals) == 1:
        seal = catalogue.seal(joint.seals[0]) if action.what.lower() in _SEAL_WORDS else None
    tool = catalogue.tool(action.tool) if action.tool else None
    event = Event(len(trace.events), step, number, action, joint, seal, tool)
    if action.mode == "do_not":
        trace.forbidden.append(event)
        return
    if action.mode == "mentioned_only":
        trace.mentioned.append(event)
        return
    trace.events.append(event)
    if seal is not None:
        track = trace.seals.get(seal.id)
        if track is None:
            track = trace.seals[seal.id] = SealTrack(seal)
        _on_seal(track, event)
    elif joint is not None:
        _on_joint(trace, _joint_track(trace, joint), event)
    if event.verb in ("start", "run"):
        trace.running.append(Running(event, trace.open_joints()))


def _joint_track(trace: Trace, joint: Fastener) -> JointTrack:
    track = trace.joints.get(joint.id)
    if track is None:
        positions = joint.count
        if positions is None:
            # The record does not say how many: the largest number the text names is followed.
            stated = [
                action.count
                for step in trace.procedure.steps
                for action in step.actions
                if action.what == joint.id and not action.of and action.count
            ]
            positions = max(stated, default=1)
        # A count nobody has on a bench would only cost memory; lots make any number cheap all the same.
        track = JointTrack(joint, max(1, positions), trace.catalogue.recorded(joint.id))
        trace.joints[joint.id] = track
    return track


# What a step calls the one seal of a joint it names with "of".
_SEAL_WORDS = frozenset({"seal", "gasket", "o-ring", "ring", "seal ring", "sealing ring"})


# ---- seals ----------------------------------------------------------------------------------------------------


def _on_seal(track: SealTrack, event: Event) -> None:
    action, verb = event.action, event.verb
    track.events.append(event)
    if verb in ("remove", "discard", "take_out", "disconnect", "loosen"):
        if verb == "discard":
            track.discarded = event
        if event.conditional:
            return
        track.removed = track.removed or event
        track.piece = ""
    elif verb == "lubricate":
        track.lubricated = event
        if track.fitted and not track.fitted[-1][2]:
            # "Fit a new ring and oil it": oiled in place before anything is closed over it still counts.
            track.fitted[-1] = (track.fitted[-1][0], track.fitted[-1][1], True)
    elif verb in ("install", "position", "reuse", "replace", "insert", "connect"):
        piece = _seal_piece(track, action)
        lubricated = track.lubricated is not None or bool(action.with_what)
        track.fitted.append((event, piece, lubricated))
        track.piece = piece
        if not event.conditional:  # "the old one if it is whole, else a new one": both were oiled
            track.lubricated = None


def _seal_piece(track: SealTrack, action: Action) -> str:
    if action.verb == "reuse" or action.state == "old":
        return "old"
    if action.verb == "replace" or action.state == "new":
        return "new"
    if action.state == "measured":
        return "old"
    return "new" if track.discarded is not None else "unstated"


# ---- joints ---------------------------------------------------------------------------------------------------

_OPENING = frozenset({LOOSE, OUT})


def _on_joint(trace: Trace, track: JointTrack, event: Event) -> None:
    track.events.append(event)
    action = event.action
    if action.of and action.of == track.fastener.id:
        item = action.what.lower()
        if "washer" in item and not is_lock(track.fastener, item):
            on_washer(track, event)
        elif "seat" in item or "face" in item:
            _clear_seat(track, event)
        elif is_lock(track.fastener, item):
            set_lock(track, event, item)
        return
    handler = _HANDLERS.get(event.verb)
    if handler is not None:
        handler(track, event)


LOCKS = (
    "cotter", "split pin", "lockwire", "locking wire", "safety wire", "lock wire", "tab washer", "locking plate",
    "lock plate", "lockplate", "locking tab", "lock tab", "roll pin", "spring pin",
)  # fmt: skip
"""Pieces that keep a joint from turning loose, whatever name the record gives the one it has."""


def is_lock(fastener: Fastener, item: str) -> bool:
    """Whether a piece of the joint, by its word in lower case, is what locks it."""
    if item == "locknut" or any(name in item for name in LOCKS):
        return True
    return item == "lock" or (fastener.lock is not None and fastener.lock.kind.lower() in item)


def _clear_seat(track: JointTrack, event: Event) -> None:
    if event.verb in ("clean", "inspect", "check"):
        for lot in track.lots:
            lot.run.seat_cleared = event
            lot.run.old_washers = 0


def _loosen(track: JointTrack, event: Event) -> None:
    if event.conditional:
        return
    # What was not touched yet comes before what this job has closed: "repeat steps 2 to 7 for the second head".
    lots = pick(track, event, (FITTED, TIGHT, SEATED, STARTED))
    for lot in lots:
        lot.open(event)
        lot.state = LOOSE
    if not lots and all(lot.state == OUT for lot in track.lots):
        track.trouble.append(("out already", event))


def _remove(track: JointTrack, event: Event) -> None:
    if event.conditional:
        whole = event.action.count in (None, sum(lot.count for lot in track.lots))
        for lot in track.lots if whole else ():
            lot.run.perhaps_out = event
        return
    lots = pick(track, event, (LOOSE, FITTED, TIGHT, SEATED, STARTED, PLACED))
    for lot in lots:
        if lot.state != LOOSE:
            lot.open(event)
        run = lot.run
        run.removed = event
        run.piece = ""
        run.old_washers += sum(1 for _ in run.washers)
        run.washers = []
        if track.fastener.washer is not None and track.fastener.washer.captive:
            run.old_washers = 0
        run.lock = ""
        if event.verb == "discard" or event.action.state == "old":
            run.discarded = event if event.verb == "discard" else None
        lot.state = OUT
        if event.action.washer is not None:
            # "take out the screw with its washer": the old ring is off the seat
            run.old_washers = 0
            run.seat_cleared = event
    if not lots:
        track.trouble.append(("out already", event))


def _discard(track: JointTrack, event: Event) -> None:
    out = [lot for lot in track.lots if lot.state == OUT]
    if not out and not event.conditional:
        # Thrown away without a word of taking it out: taken out here.
        _remove(track, event)
        out = [lot for lot in track.lots if lot.state == OUT]
    for lot in out:
        if not event.conditional:
            lot.run.discarded = event
    event.count = sum(lot.count for lot in out)


def _install(track: JointTrack, event: Event) -> None:
    wanted: tuple[str, ...] = (OUT,) if any(lot.state == OUT for lot in track.lots) else (OUT, FITTED, LOOSE)
    if event.verb == "replace":
        wanted = (OUT, FITTED, LOOSE, TIGHT, SEATED)
    elif all(lot.run.opened is None for lot in track.lots):
        wanted = (FITTED,)
    lots = pick(track, event, wanted)
    if not lots and not event.conditional:
        # "if it is worn, fit a new bolt; otherwise the old one goes back": told once more, it goes in only now
        put = [lot for lot in track.lots if lot.state in (PLACED, STARTED)]
        lots = [lot for lot in put if lot.run.fitted is not None and lot.run.fitted.conditional]
    if not lots:
        # What is in already may be named again ("fit the screw, then …") without being a second piece.
        if event.action.washer is not None:
            for lot in track.lots:
                put_washers(lot, event, event.action.washer)
        if not event.conditional:
            track.trouble.append(("in already", event))
        return
    for lot in lots:
        if event.verb == "replace" and lot.state not in (OUT,):
            lot.open(event)
            lot.run.removed = event
            lot.run.washers = []
        place_piece(lot, event)
        lot.state = STARTED if event.action.by_hand else PLACED
        if event.action.by_hand:
            lot.run.started = event
        elif event.verb == "install" and any(word in event.action.tool.lower() for word in _TURNING):
            lot.run.turned = event  # put in with a spanner
        if event.action.washer is not None:
            put_washers(lot, event, event.action.washer)


_TURNING = ("wrench", "spanner", "socket", "ratchet", "screwdriver", "key", "nut runner", "power driver")


def _hand_start(track: JointTrack, event: Event) -> None:
    states: tuple[str, ...] = (PLACED, OUT, LOOSE) if track.opened else (PLACED, OUT, LOOSE, FITTED)
    if event.action.count is None and any(lot.state == PLACED for lot in track.lots):
        states = (PLACED,)  # "start them" means those just put in, not the ones still on the bench
    lots = pick(track, event, states)
    if not lots and not any(lot.run.removed for lot in track.lots):
        # Put together from parts, some at a time: those named now were not in either.
        lots = pick(track, event, (FITTED,))
    if not lots:
        lots = [lot for lot in track.lots if lot.run.started is None and not lot.run.pulls]
        if not lots:
            track.trouble.append(("started already", event))
    for lot in lots:
        _in_hand(lot, event)
        lot.run.started = event
        lot.state = STARTED


def _seat(track: JointTrack, event: Event) -> None:
    states: tuple[str, ...] = (STARTED, PLACED, LOOSE, OUT) if track.opened else (STARTED, PLACED, LOOSE, OUT, FITTED)
    if event.action.count is None and any(lot.state in (STARTED, PLACED) for lot in track.lots):
        states = (STARTED, PLACED, LOOSE)  # "run them in" means those just put in
    lots = pick(track, event, states)
    for lot in lots:
        _in_hand(lot, event)
        if event.action.by_hand and lot.run.started is None:
            lot.run.started = event
        elif event.action.tool and lot.run.turned is None:
            lot.run.turned = event
        lot.run.seated = event
        lot.state = SEATED


def _in_hand(lot: Lot, event: Event) -> None:
    """A piece that is turned must be in; one that nobody put in is put in here, its state unsaid. A new one takes the
    place of one that was only undone."""
    if lot.state == LOOSE and event.action.state == "new":
        lot.run.removed = event
    if lot.state in (OUT, FITTED) or lot.run.removed is event:
        place_piece(lot, event)
    if event.action.washer is not None:
        put_washers(lot, event, event.action.washer)


def _tighten(track: JointTrack, event: Event) -> None:
    lots = count_wanted(track, event)
    for lot in lots:
        if lot.state == OUT:
            if event.conditional:
                continue  # "if it weeps, tighten it": there is nothing in to weep
            track.trouble.append(("not in", event))
            place_piece(lot, event)
        if event.action.washer is not None:
            put_washers(lot, event, event.action.washer)
        if event.action.by_hand and lot.run.started is None:
            lot.run.started = event
        close(lot, event)


def _lock(track: JointTrack, event: Event) -> None:
    set_lock(track, event, event.action.with_what.lower())


def _compound(track: JointTrack, event: Event) -> None:
    for lot in track.lots:
        lot.run.compound = event


def _lubricate(track: JointTrack, event: Event) -> None:
    for lot in track.lots:
        lot.run.lubricated.append(event)


def _measure(track: JointTrack, event: Event) -> None:
    for lot in track.lots:
        lot.run.measured = event


def _clean(track: JointTrack, event: Event) -> None:
    """Cleaning or looking at the fastener itself says nothing of the washer left on the seat."""


_HANDLERS: dict[str, Callable[[JointTrack, Event], None]] = {
    "loosen": _loosen,
    "remove": _remove,
    "disconnect": _remove,
    "take_out": _remove,
    "discard": _discard,
    "install": _install,
    "position": _install,
    "insert": _install,
    "connect": _install,
    "reuse": _install,
    "replace": _install,
    "hand_start": _hand_start,
    "seat": _seat,
    "tighten": _tighten,
    "tighten_angle": _tighten,
    "retighten": _tighten,
    "back_off": _tighten,
    "lock": _lock,
    "seal": _compound,
    "lubricate": _lubricate,
    "measure": _measure,
}


def seal_of(trace: Trace, key: str) -> tuple[Seal | None, SealTrack | None]:
    """The record and the track of a seal by id; either may be None."""
    return trace.catalogue.seal(key), trace.seals.get(key)
