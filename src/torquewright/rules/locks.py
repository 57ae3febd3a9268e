"""Locks of a joint: not fitted, fitted too early, or a nut turned back to let its pin in."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Event, JointTrack, Lot, Run, Trace
from torquewright.bench.state import FITTED
from torquewright.records import Fastener
from torquewright.rules.castle import slackened
from torquewright.rules.finding import Certainty, Fact, Finding
from torquewright.rules.registry import detector
from torquewright.rules.spoken import handed_on
from torquewright.rules.spot import at, fastener_place

MISSING = "locking-device-missing"
BACKED_OFF = "castle-nut-backed-off"

_NAMES = (
    ("cotter", "cotter pin"), ("split pin", "cotter pin"), ("wire", "lockwire"), ("tab", "tab washer"),
    ("roll pin", "roll pin"), ("spring pin", "roll pin"), ("r-clip", "R-clip"), ("circlip", "circlip"),
    ("threadlock", "threadlocker"), ("lock plate", "lock plate"),
)  # fmt: skip
_AFTER = ("cotter pin", "lockwire", "roll pin", "R-clip", "circlip")  # go in when the nut stands where it stays
_NO_PIECE = ("threadlock", "prevailing", "paint", "mark", "varnish", "patch", "none")
"""Locks that are no piece of their own: a compound, the thread itself; paint shows a turn and stops none."""


def wanted(fastener: Fastener) -> tuple[str, ...]:
    """The locks of which one must be fitted as a piece of its own; none where the joint locks itself."""
    lock = fastener.lock
    if lock is None or lock.built_in:
        return ()
    kinds = tuple(kind.strip() for kind in lock.kind.replace(",", " or ").split(" or ") if kind.strip())
    if any(word in kind.lower() for kind in kinds for word in _NO_PIECE):
        return ()
    if "nut" in fastener.kind and any("locknut" in kind.lower() for kind in kinds):
        return ()
    return kinds


@detector(MISSING)
def locking_device_missing(trace: Trace) -> Iterator[Finding]:
    """A joint is closed and its lock is not fitted, is another one, or went in before the joint was tightened."""
    for key, track in trace.joints.items():
        kinds = wanted(track.fastener)
        if not kinds:
            continue
        for lot in track.lots:
            slip = _slip(track, lot, kinds)
            if slip is None:
                continue
            event, form, certainty = slip
            if certainty == "certain" and form in ("", "off") and handed_on(trace, event.order):
                certainty = "unstated"
            facts: dict[str, Fact] = {"lock": " or ".join(kinds)}
            if form == "other":
                facts["fitted"] = _kind(lot.run.lock_event)
            yield at(MISSING, certainty, event, key, facts, form, also=(fastener_place(key, "lock"),))
            break


def _slip(track: JointTrack, lot: Lot, kinds: tuple[str, ...]) -> tuple[Event, str, Certainty] | None:
    run, last = lot.run, lot.run.last
    if lot.state == FITTED and run.lock == "":
        off = [event for event in track.events if event.action.of == track.fastener.id and event.verb in _OFF]
        return (off[-1], "off", "certain") if off else None
    if last is None or run.opened is None:
        return None  # not closed, or as it was found
    if run.lock == "original":
        return last, "unspoken", "unstated"
    if run.lock == "":
        return None if _put_on_as_washer(track, run, run.opened, kinds) else (last, "", "certain")
    fitted = run.lock_event
    if fitted is None or fitted.conditional:
        return None
    other = _kind(fitted)
    if not any(other.lower() in kind.lower() for kind in kinds):
        return fitted, "other", "certain"
    if all(kind in _AFTER for kind in kinds) and fitted.order < run.pulls[0].event.order:
        return fitted, "early", "certain"
    return None


_OFF = ("remove", "discard", "take_out", "loosen", "disconnect")


def _kind(event: Event | None) -> str:
    """The kind of lock an action names; "" where it names none that is known."""
    if event is None:
        return ""
    words = (event.action.with_what if event.verb == "lock" else event.action.what).lower()
    return next((kind for word, kind in _NAMES if word in words), "")


def _put_on_as_washer(track: JointTrack, run: Run, opened: Event, kinds: tuple[str, ...]) -> bool:
    """Whether the lock is a washer and went on as one of the washers of the joint."""
    if not any("washer" in kind for kind in kinds):
        return False
    if any("tab" not in kind for kind in kinds) and (run.washers or run.washer_silent):
        return True
    return any(
        event.order >= opened.order and event.action.washer is not None and "tab" in event.action.washer.kind
        for event in track.events
    )


@detector(BACKED_OFF)
def castle_nut_backed_off(trace: Trace) -> Iterator[Finding]:
    """A nut that a pin holds is turned back after its last pull, so that the pin finds its hole."""
    for key, track in trace.joints.items():
        for event, for_the_pin in slackened(track):
            sure: Certainty = "certain" if for_the_pin else "likely"
            also = (fastener_place(key, "tightening"),) if track.fastener.tightening is not None else ()
            yield at(BACKED_OFF, sure, event, key, {}, "if" if event.conditional else "", also=also)
