"""How a joint is put together: its plain washers, what is on its faces, tape where it seals elsewhere, a wet blind
hole."""

from __future__ import annotations

import re
from collections.abc import Iterator

from torquewright.bench import Event, JointTrack, Run, Trace
from torquewright.records import Fastener, Washer
from torquewright.rules.finding import Certainty, Fact, Finding
from torquewright.rules.registry import detector
from torquewright.rules.spoken import said
from torquewright.rules.spot import at, fastener_place

STACK = "washer-stack-wrong"
FACE = "sealant-or-paint-on-clamped-face"
TAPE = "tape-on-wrong-seal"
HOLE = "fluid-in-blind-hole"

# ---- washers -----------------------------------------------------------------------------------------------------

SORTS = {
    "flat": "plain", "thrust": "plain", "load-spreading": "plain", "sealing": "sealing", "copper": "sealing",
    "bonded": "sealing", "crush": "sealing", "spring": "spring", "toothed": "toothed", "wave": "wave",
    "conical": "conical", "wedge": "wedge",
}  # fmt: skip
"""Kinds of washer, by what they do: those of one sort stand in for one another, the others do not."""

_FITTED = ("shim", "spacer")
"""Pieces whose number is chosen to fit, not laid down."""


@detector(STACK)
def stack(trace: Trace) -> Iterator[Finding]:
    """A joint is closed with washers that are not those of its record: of another kind, too many, too few, or none."""
    in_words = trace.draft is not None
    for key, track in trace.joints.items():
        fastener = track.fastener
        washer = fastener.washer
        if (washer is None and fastener.washer_unstated) or (
            washer is not None and (washer.captive or SORTS.get(washer.kind) == "sealing" or washer.kind in _FITTED)
        ):
            continue
        seen: set[int] = set()
        for _, run in track.runs():
            slip = _stack_slip(track, run, washer, in_words)
            if slip is None or slip[0].order in seen:
                continue
            event, form, certainty, facts = slip
            seen.add(event.order)
            yield at(STACK, certainty, event, key, facts, form, also=(fastener_place(key, "washer"),))


Slip = tuple[Event, str, Certainty, dict[str, Fact]]


def _stack_slip(track: JointTrack, run: Run, washer: Washer | None, in_words: bool) -> Slip | None:
    put = [held.event for held in run.washers if held.event is not None and _washer_kind(held.event) != "tab"]
    put = [event for event in put if not event.conditional]
    wanted = washer.count if washer is not None else 0
    facts: dict[str, Fact] = {"wanted": wanted, "kind": washer.kind if washer is not None else "", "count": len(put)}
    if washer is not None and washer.kind in SORTS:
        for event in put:
            kind = _washer_kind(event)
            if SORTS.get(kind, SORTS.get(washer.kind)) != SORTS.get(washer.kind):
                return event, "kind", "certain", {**facts, "other": kind}
    if put:
        # a sentence may tell the number for all positions at once
        together = in_words and len(put) == wanted * sum(held.count for held in track.lots)
        if run.washer_silent or len(put) == wanted or together:
            return None
        form = "none-wanted" if washer is None else "extra" if len(put) > wanted else "few"
        return put[-1], form, "certain", facts
    if washer is None or run.fitted is None or run.fitted.conditional or not run.pulls:
        return None
    without = next((event for event in _of_run(track, run) if _denies(event)), None)
    if without is not None:
        return without, "left-out", "certain", facts
    off = run.seat_cleared
    if off is not None and off.verb in ("remove", "discard", "take_out") and off.action.of and run.opened is not None:
        return run.fitted, "left-out", "unstated", facts
    return None


def _of_run(track: JointTrack, run: Run) -> Iterator[Event]:
    start = run.opened.order if run.opened is not None else -1
    last = run.last
    end = last.order if last is not None else start
    return (event for event in track.events if start <= event.order <= end)


def _denies(event: Event) -> bool:
    """Whether an action says that no washer goes on."""
    use = event.action.washer
    return use is not None and use.count == 0 and event.verb not in ("remove", "loosen", "discard")


def _washer_kind(event: Event) -> str:
    """The kind of the washers an action puts on; "" where it does not say."""
    action = event.action
    if action.washer is not None:
        return action.washer.kind
    words = action.what.lower()
    return next((kind for kind in (*SORTS, "tab") if kind in words), "")


# ---- faces -------------------------------------------------------------------------------------------------------

_LAYS = ("seal", "lubricate", "mark", "install", "position")
_PIECES = frozenset({"bolt", "screw", "nut", "stud", "plug", "cap"})
_SEALANTS = ("sealant", "gasket", "silicone", "paste", "grease", "compound", "adhesive")


@detector(FACE)
def face(trace: Trace) -> Iterator[Finding]:
    """Sealant or paint goes onto a face that is clamped metal to metal, or such a face is not cleaned."""
    bare = [track for track in trace.joints.values() if track.fastener.face in ("bare", "thin paint")]
    for track in bare:
        fastener = track.fastener
        also = (fastener_place(fastener.id, "face"),)
        for event in trace.events:
            product = _laid_on(trace, event, fastener, len(bare) == 1)
            if product and not event.conditional:
                facts: dict[str, Fact] = {"product": product}
                yield at(FACE, "certain", event, fastener.id, facts, also=also)
        if fastener.face == "bare":
            for event in _not_cleaned(trace, track):
                yield at(FACE, "unstated", event, fastener.id, {}, "not-cleaned", also=also)


def _laid_on(trace: Trace, event: Event, fastener: Fastener, only: bool) -> str:
    """What an action puts on the clamped face of a fastener; "" for nothing, or for a face of another joint."""
    action = event.action
    words = action.what.lower()
    if event.verb not in _LAYS or "face" not in words:
        return ""
    if action.of:
        if action.of != fastener.id:
            return ""
    elif not only and not set(fastener.name.lower().split()) - _PIECES & set(words.split()):
        return ""
    product = action.with_what.lower()
    if event.verb == "mark":
        words = said(trace, event.step)
        product = "paint" if "paint" in product or "paint the" in words else ""
    if not product or (fastener.face == "thin paint" and not any(word in product for word in _SEALANTS)):
        return ""
    return product


def _not_cleaned(trace: Trace, track: JointTrack) -> Iterator[Event]:
    seen: set[int] = set()
    for _, run in track.runs():
        pull = run.pulls[0].event if run.pulls else None
        if pull is None or run.removed is None or run.fitted is None or pull.order in seen or pull.conditional:
            continue
        seen.add(pull.order)
        if not any(run.removed.order < event.order < pull.order and event.verb == "clean" for event in trace.events):
            yield pull


# ---- tape --------------------------------------------------------------------------------------------------------

_TAPES = ("tape", "ptfe", "hemp", "thread sealant", "pipe sealant", "jointing compound")
_NO_TAPES = ("masking", "grease", "lubricant", "paste", "insulating", "duct")
_SEATS = frozenset(
    {"cone", "flare", "compression ring", "o-ring", "bonded washer", "sealing washer", "face", "gasket"}
)  # fmt: skip


@detector(TAPE)
def tape(trace: Trace) -> Iterator[Finding]:
    """Tape or thread sealant goes onto the thread of a joint that seals on a cone, a ring, a washer or a face."""
    for key, track in trace.joints.items():
        recorded = seat_of(track.fastener)
        for event in track.events:
            product = tape_of(event, key)
            seat = recorded or (_seat_told(trace, event, track.fastener) if product else "")
            if product and seat and not event.conditional:
                stated = bool(track.fastener.seals_by)  # a few plugs with a washer want sealant on the thread as well
                field = "seals-by" if stated else "washer" if recorded else "name"
                facts: dict[str, Fact] = {"product": product, "seat": seat}
                yield at(TAPE, "certain" if stated else "likely", event, key, facts, also=(fastener_place(key, field),))


def seat_of(fastener: Fastener) -> str:
    """What a joint seals on, where that is not its thread: as the record says, or its sealing washer."""
    if fastener.seals_by:
        return fastener.seals_by if fastener.seals_by.lower() in _SEATS else ""
    washer = fastener.washer
    return "sealing washer" if washer is not None and washer.kind == "sealing" else ""


def _seat_told(trace: Trace, event: Event, fastener: Fastener) -> str:
    """The seat that the step itself tells of, for a union or a pipe nut whose record says nothing."""
    named = f"{fastener.kind} {fastener.name}".lower()
    if fastener.seals_by or not any(word in named for word in ("union", "pipe nut", "tube nut", "flare nut")):
        return ""
    found = re.search(r"\b(cone|flare)d?\b(?![- ]nut)", said(trace, event.step))
    return found.group(1) if found is not None else ""


def tape_of(event: Event, joint: str) -> str:
    """The tape or thread sealant an action puts onto a joint; "" for none."""
    action = event.action
    if event.verb in ("seal", "lubricate"):
        words = action.with_what
    elif event.verb in ("install", "position") and action.of == joint:
        words = action.what
    else:
        return ""
    lower = words.lower()
    return words if any(word in lower for word in _TAPES) and not any(word in lower for word in _NO_TAPES) else ""


# ---- blind holes -------------------------------------------------------------------------------------------------


@detector(HOLE)
def hole(trace: Trace) -> Iterator[Finding]:
    """Oil is put into a blind hole, or one that holds back a fluid is closed again and nobody dries it."""
    for key, track in trace.joints.items():
        fastener = track.fastener
        if not is_blind(fastener):
            continue
        also = (fastener_place(key, "blind-hole" if fastener.blind else "hole-depth"),)
        seen: set[int] = set()
        for _, run in track.runs():
            pull = run.pulls[0].event if run.pulls else None
            if pull is None or pull.order in seen or pull.conditional:
                continue
            seen.add(pull.order)
            start = run.opened.order if run.opened is not None else -1
            between = [event for event in trace.events if start < event.order < pull.order and not event.conditional]
            poured = next((event for event in reversed(between) if _wets_hole(event, key)), None)
            dried = next((event for event in reversed(between) if dries(event, key)), None)
            if poured is not None and (dried is None or dried.order < poured.order):
                facts: dict[str, Fact] = {"product": poured.action.with_what or "fluid"}
                yield at(HOLE, "certain", poured, key, facts, "poured", also=also)
            elif poured is None and dried is None and fastener.blind and fastener.fluid and run.removed is not None:
                yield at(HOLE, "unstated", pull, key, {"fluid": fastener.fluid}, also=also)


def is_blind(fastener: Fastener) -> bool:
    """Whether the record says that the hole has a bottom; a depth of its thread says so too."""
    return fastener.blind is True or (fastener.blind is None and fastener.hole_depth is not None)


def _wets_hole(event: Event, joint: str) -> bool:
    action = event.action
    return event.verb in ("lubricate", "fill") and action.of == joint and "hole" in action.what.lower()


def dries(event: Event, joint: str) -> bool:
    """Whether an action cleans the hole of a joint, or its thread."""
    action = event.action
    if event.verb != "clean":
        return False
    words = action.what.lower()
    return action.what == joint or (action.of in ("", joint) and any(word in words for word in ("hole", "thread")))
