"""What can hurt the person at the joint: a load that nothing holds, energy nobody let out, a terminal done by feel."""

from __future__ import annotations

import re
from collections.abc import Iterator

from torquewright.bench import Event, JointTrack, Trace
from torquewright.records import Fastener
from torquewright.rules.finding import Fact, Finding
from torquewright.rules.registry import detector
from torquewright.rules.spoken import listed, said, speaks_of, told, warned, words_of
from torquewright.rules.spot import at, fastener_place, step_place
from torquewright.rules.statements import valueless
from torquewright.rules.terminals import marked_terminal, shows_no_torque

LOAD = "raised-load-unsupported"
ENERGY = "stored-energy-not-released"
LUG = "electrical-lug-by-feel"

_OPENING = ("loosen", "remove", "disconnect", "take_out", "replace")

# ---- a load in the air -----------------------------------------------------------------------------------------

_WORK = frozenset({
    "loosen", "remove", "disconnect", "take_out", "drain", "install", "reuse", "replace", "connect", "hand_start",
    "seat", "tighten", "tighten_angle", "retighten", "back_off", "clean", "lubricate", "seal", "lock",
})  # fmt: skip
_JACKS = frozenset({"jack", "jacks", "jacked", "jacking"})
_LOCKED = ("collar", "jack", "pawl", "saddle", "lift")
_LIFTS = ("post lift", "vehicle lift", "scissor lift", "lifting table")
_HELD = ("stand", "trestle", "cradle", "prop ", "props", "blocks", "blocking", "lock", "safety pin", "safety bar",
         "strut")  # fmt: skip


@detector(LOAD)
def raised_load_unsupported(trace: Trace) -> Iterator[Finding]:
    """Work goes on under a load that only a jack holds, or the joint that holds a load is opened."""
    for place, event in enumerate(trace.events):
        if event.verb == "raise" and not event.conditional and _by_jack(trace, event):
            work = _work_below(trace, event, trace.events[place + 1 :])
            if work is not None:
                joint = work.joint.id if work.joint is not None else ""
                facts: dict[str, Fact] = {"load": event.action.what or "load"}
                yield at(LOAD, "certain", work, joint, facts, "" if joint else "no-joint", also=(step_place(event),))
                break
    for place, event in enumerate(trace.events):
        if event.verb == "raise" and not event.conditional and not _by_jack(trace, event) and event.action.what:
            below = _goes_under(trace, event, trace.events[place + 1 :])
            if below is not None:
                facts = {"load": event.action.what}
                yield at(LOAD, "certain", below, "", facts, "under", also=(step_place(event),))
                break
    for key, track in trace.joints.items():
        if "gravity" not in track.fastener.energy:
            continue
        opened = _opened(track)
        if opened is not None and not _load_taken(trace, opened):
            yield at(LOAD, "certain", opened, key, {}, "held", also=(fastener_place(key, "energy"),))
            break  # the load is one: where nobody took it, it is missing once


def _by_jack(trace: Trace, event: Event) -> bool:
    words = f"{words_of(event.action)} {said(trace, event.step)}"
    if any(lift in words for lift in _LIFTS):
        return True
    return not _JACKS.isdisjoint("".join(sign if sign.isalpha() else " " for sign in words).split())


def _work_below(trace: Trace, raised: Event, later: list[Event]) -> Event | None:
    """The first work behind ``raised`` with nothing but the jack under the load."""
    if any(event.step < 0 and (event.verb == "support" or _holds(event)) for event in trace.events):
        return None  # it stands on its supports before the first step
    if _says_held(trace, raised):
        return None
    for event in later:
        if event.verb in ("lower", "support") or _holds(event) or _says_held(trace, event):
            return None
        if event.verb in _WORK and not event.conditional:
            if "hands stay out" in said(trace, event.step):
                continue  # "pull the plates out by their ears; hands stay outside of the housing"
            return event
    return None


def _goes_under(trace: Trace, raised: Event, later: list[Event]) -> Event | None:
    """The first event of a step in which somebody gets under what its own machine has raised, with nothing below it."""
    if _says_held(trace, raised) or any(event.step < 0 and event.verb == "support" for event in trace.events):
        return None
    load = raised.action.what.split()[-1].lower()
    under = re.compile(
        rf"\b(?:slid|crawl|climb|creep|roll)\w*(?: in)? (?:under|beneath|underneath)\b"
        rf"|\b(?:slid|crawl|climb|l(?:ie|ying)|reach|get|go|work|roll|come|kneel)\w*\b(?! out)[^.;]{{0,30}}"
        rf"\b(?:under|beneath|underneath|below)\b[^.;]{{0,30}}\b{re.escape(load)}"
    )
    for event in later:
        if event.verb in ("lower", "support") or _holds(event) or _says_held(trace, event):
            return None
        if under.search(said(trace, event.step)) and not event.conditional:
            return event
    return None


def _holds(event: Event) -> bool:
    words = words_of(event.action)
    if event.verb == "lock" and event.joint is None and any(word in words for word in _LOCKED):
        return True  # the collars of the jacks
    return event.verb not in _WORK and any(word in words for word in _HELD)


def _says_held(trace: Trace, event: Event) -> bool:
    held = said(trace, event.step)
    return any(f" {word}" in held for word in ("axle stand", "stands", "trestle", "cradle", "safety lock"))


def _opened(track: JointTrack) -> Event | None:
    """The event that opens a joint first."""
    for event in track.events:
        if event.verb in _OPENING and not event.action.of and not event.conditional and event.step >= 0:
            return event
    return None


def _load_taken(trace: Trace, opened: Event) -> bool:
    """Whether the load was held by something else, let down or pinned before the joint was opened."""
    for event in trace.events[: opened.order]:
        if event.verb in ("support", "lower") or (event.verb in ("insert", "lock", "position") and _holds(event)):
            return True
        if event.verb == "isolate" and speaks_of(trace, event, *_LOAD_WORDS, "hang"):
            return True
    if told(trace, range(opened.step + 1), _TAKEN):
        return True
    return warned(trace, opened.step, ("support", "pin the", "prop", "sling", "take the weight", "take up the weight"))


_TAKEN = ("pin the", "pinned", "prop ", "block", "support", "hold the", "held by", "hang ", "hung", "sling", "lower ",
          "trestle", "stand under", "onto its stand", "hoist", "cradle", "take the load", "take the weight",
          "take up the weight")  # fmt: skip


# ---- energy ----------------------------------------------------------------------------------------------------

_TOLD = {"pressure": "pressure", "spring": "a loaded spring", "electrical": "voltage", "thermal": "heat",
         "fuel": "fuel"}  # fmt: skip
_WORDS: dict[str, tuple[str, ...]] = {
    "pressure": ("pressur", "air", "gas", "steam", "hydraul", "valve", "receiver", "accumulator", "cock", "water",
                 "vacuum", "line", "vent", "relief", "gauge"),
    "spring": ("spring", "tension"),
    "electrical": ("electric", "battery", "mains", "power", "plug", "breaker", "fuse", "switch", "volt", "dead",
                   "isolator", "panel", "motor", "lanyard", "ignition", "capacitor", "earth"),
    "thermal": ("cool", "cold", "temperature", "heat"),
    "fuel": ("fuel", "petrol", "diesel", "tap", "cock", "tank", "valve", "line"),
}  # fmt: skip
_LOAD_WORDS = ("gravity", "load", "weight", "rope", "drum")
_RELEASES: dict[str, tuple[str, ...]] = {
    "pressure": ("isolate", "bleed", "drain", "check"),
    "spring": ("isolate", "check", "insert", "lock", "support"),
    "electrical": ("isolate", "disconnect", "remove", "check", "take_out"),
    "thermal": ("cool_down", "isolate", "wait", "check"),
    "fuel": ("isolate", "drain", "check"),
}
_ACTS = ("isolat", "releas", "reliev", "lock", "shut", "close", "drain", "bleed", "vent", "cool", "disconnect",
         "unplug", "let ", "switch off", "discharg", "dead", "depressur", "blow", "empt", "pull the", "unload",
         "compress ", "slack", "cold", "zero", "no ", "is out")  # fmt: skip
_OUT = ("releas", "reliev", "vent", "bleed", "depressur", "let down", "let off", "let out", "switch off", "prove",
        "cold", "cooled", "slack")  # fmt: skip
_BY_ITSELF = ("first stop", "slowly", "crack", "let the pressure", "let off", "hiss", "until the pressure")


@detector(ENERGY)
def stored_energy_not_released(trace: Trace) -> Iterator[Finding]:
    """A joint that holds back energy is opened, and nothing ahead of it lets that energy out or shuts it off."""
    first: dict[str, tuple[Event, str]] = {}
    for key, track in trace.joints.items():
        if not track.fastener.energy:
            continue
        opened = _opened(track)
        if opened is None:
            continue
        for kind in track.fastener.energy:
            if kind in _WORDS and not _released(trace, opened, kind):
                held = first.get(kind)
                if held is None or opened.order < held[0].order:
                    first[kind] = opened, key  # where it was let out nowhere, it is missing once
    missing: dict[str, tuple[Event, list[str]]] = {}
    for kind, (event, key) in first.items():
        missing.setdefault(key, (event, []))[1].append(_TOLD[kind])
    for key, (event, kinds) in missing.items():
        yield at(ENERGY, "certain", event, key, {"energy": listed(kinds)}, also=(fastener_place(key, "energy"),))
    late = _shut_off_late(trace)
    if late is not None:
        off, work = late
        facts: dict[str, Fact] = {"work": work.step}
        yield at(ENERGY, "certain", off, "", facts, "late", also=(step_place(work),))


_SHUT_OFF = ("padlock", "lock out", "lock-out", "lockout", "isolator", "main switch", "to auto", "from auto", "mains")
_BARED = ("guard", "cover", "belt", "fan", "shield", "hood")


def _shut_off_late(trace: Trace) -> tuple[Event, Event] | None:
    """Where the procedure shuts off the whole machine, and the work on it that goes before; None where it is in time.

    Only what shuts a machine off from outside counts (a lock on the isolator, a start switch taken off AUTO): a plug
    or a battery may well be reached only behind a cover."""
    work: Event | None = None
    for event in trace.events:
        if event.verb in ("run", "start", "switch_on"):
            return None  # it is meant to run until then
        if event.verb in ("isolate", "stop", "disconnect") and event.joint is None:
            words = said(trace, event.step)
            if work is None or event.step < 0:
                return None
            late = event.verb == "isolate" and event.step > work.step and any(word in words for word in _SHUT_OFF)
            return (event, work) if late else None
        if event.conditional or event.step < 0:
            continue
        opened = event.verb in ("remove", "loosen") and event.joint is not None
        bared = event.verb == "remove" and any(word in event.action.what.lower() for word in _BARED)
        if work is None and (opened or bared or event.verb == "drain"):
            work = event
    return None


def _released(trace: Trace, opened: Event, kind: str) -> bool:
    if kind in ("pressure", "fuel") and speaks_of(trace, opened, *_BY_ITSELF):
        return True
    if next(lets_out(trace, opened, kind), None) is not None or warned_of(trace, opened, kind):
        return True
    words = _WORDS[kind]
    ahead, same = range(opened.step), range(opened.step, opened.step + 1)
    return told(trace, ahead, _ACTS, words) or told(trace, same, _OUT, words)


def lets_out(trace: Trace, opened: Event, kind: str) -> Iterator[Event]:
    """Every event ahead of ``opened`` that shuts off or lets out this kind of energy."""
    verbs, words = _RELEASES[kind], _WORDS[kind]
    for event in trace.events[: opened.order]:
        if event.verb not in verbs or (event.joint is not None and event.verb != "bleed"):
            continue
        if event.verb == "cool_down" or _means(trace, event, kind, words):
            yield event


def warned_of(trace: Trace, opened: Event, kind: str) -> bool:
    """Whether a safety message ahead of ``opened`` asks for this kind of energy to be let out."""
    return any(
        message.step <= opened.step and any(act in text for act in _ACTS) and any(word in text for word in _WORDS[kind])
        for message in trace.procedure.messages
        if (text := message.text.lower())
    )


def _means(trace: Trace, event: Event, kind: str, words: tuple[str, ...]) -> bool:
    """Whether an action shuts off or lets out this kind of energy; one that names none of them means all but heat."""
    what = words_of(event.action)
    if any(word in what for word in words):
        return True
    if event.verb in ("drain", "bleed"):
        return kind in ("pressure", "fuel")
    named = any(word in what for others in (*_WORDS.values(), _LOAD_WORDS) for word in others)
    if event.verb == "isolate" and not named:
        return kind != "thermal"
    return event.verb in ("isolate", "wait", "check") and any(word in said(trace, event.step) for word in words)


# ---- terminals -------------------------------------------------------------------------------------------------


@detector(LUG)
def electrical_lug_by_feel(trace: Trace) -> Iterator[Finding]:
    """A terminal with a marked torque is tightened by feel: no figure, or a tool that shows none."""
    if not any(marked_terminal(track.fastener) for track in trace.joints.values()):
        return
    for track, pull in valueless(trace):
        fastener = track.fastener
        if marked_terminal(fastener) and (pull.stage is None or pull.stage.torque is None):
            yield _by_feel(fastener, pull.event, "")
    for track in trace.joints.values():
        if marked_terminal(track.fastener):
            for event in track.events:
                to = event.action.to
                if event.verb == "tighten" and to is not None and to.torque is not None and shows_no_torque(event):
                    yield _by_feel(track.fastener, event, "tool")


def _by_feel(fastener: Fastener, event: Event, form: str) -> Finding:
    wanted = fastener.tightening.text if fastener.tightening is not None else ""
    facts: dict[str, Fact] = {"wanted": wanted}
    if form:
        facts["tool"] = event.tool.name if event.tool is not None else event.action.tool
    also = (fastener_place(fastener.id, "tightening"),)
    return at(LUG, "certain", event, fastener.id, facts, form, "with" if form else "", also=also)
