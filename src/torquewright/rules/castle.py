"""Nuts that a pin holds in one of their slots: when one was turned back to let the pin through."""

from __future__ import annotations

from torquewright.bench import Event, JointTrack
from torquewright.records import Fastener, Tightening

_PULLS = ("tighten", "tighten_angle", "retighten")
_MOVES = ("remove", "disconnect", "take_out", "install", "reuse", "replace", "insert", "position", "connect")
_PINS = ("cotter", "split pin")
_HOLE = ("slot", "hole", "align", "line up", "lines up", "pin", "castell")


def pinned(fastener: Fastener) -> bool:
    """Whether a pin holds the nut in one of its slots."""
    if fastener.lock is not None:
        return "cotter" in fastener.lock.kind
    return any(word in fastener.kind for word in ("castle", "castellated", "slotted nut"))


def sets_bearing(fastener: Fastener) -> bool:
    """Whether the nut sets the play of a bearing, by its name or kind: then it is backed off on purpose."""
    return any(
        "bearing" in name.lower() and "nut" in f"{fastener.kind} {name}".lower()
        for name in (fastener.kind, fastener.name, *fastener.aliases)
    )


def gives_play(fastener: Fastener) -> bool:
    """Whether a pinned nut is turned back to give a bearing its play, and the record leaves it to the hand how far."""
    record = fastener.tightening
    turned = record is not None and any(angle.nominal < 0 for angle in record.angles)
    return pinned(fastener) and sets_bearing(fastener) and not turned


def turned_back_by_record(fastener: Fastener) -> bool:
    """Whether the record itself turns the nut back at the end."""
    if fastener.tightening is None or not fastener.tightening.stages:
        return False
    last = fastener.tightening.stages[-1].angle
    return last is not None and last.nominal < 0


def slackened(track: JointTrack) -> list[tuple[Event, bool]]:
    """The events that turn a pinned nut back after its last pull, with no pull behind them, and whether they say
    that it is done for the pin; an event under a condition counts, since the text allows it."""
    fastener = track.fastener
    if not (pinned(fastener) or _pin_told(track)) or sets_bearing(fastener) or turned_back_by_record(fastener):
        return []
    if not pinned(fastener) and fastener.tightening is not None and _backed_by(fastener.tightening):
        return []  # between its stages, as the nut of a bearing is
    found: list[tuple[Event, bool]] = []
    pulled = False
    for event in track.events:
        verb, action = event.verb, event.action
        if action.of:  # a piece of this joint
            if found and verb != "remove":
                found[-1] = (found[-1][0], True)  # the pin goes in behind it
            continue
        if pulled and _turns_back(event):
            found.append((event, any(word in action.note.lower() for word in _HOLE)))
        elif verb in _PULLS:
            pulled = True
            found = [held for held in found if held[0].conditional]
        elif verb in _MOVES:
            pulled, found = False, []
        elif verb == "lock" and found:
            found[-1] = (found[-1][0], True)
    return [held for held in found if held[1] or held[0].verb != "loosen"]


def _backed_by(tightening: Tightening) -> bool:
    return any(angle.nominal < 0 for angle in tightening.angles)


def _pin_told(track: JointTrack) -> bool:
    """Whether the procedure pins a nut of which the record tells no lock."""
    if track.fastener.lock is not None:
        return False
    return any(
        event.verb in _MOVES and event.action.of and any(word in event.action.what.lower() for word in _PINS)
        for event in track.events
    )


def _turns_back(event: Event) -> bool:
    if event.verb in ("back_off", "loosen"):
        return True
    to = event.action.to
    return to is not None and bool(to.angles) and to.angles[-1].nominal < 0
