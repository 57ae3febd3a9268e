"""Proof that the job is done: written down or marked, looked at by somebody else, nothing left inside."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Event, JointTrack, Trace
from torquewright.book.policies import policy
from torquewright.rules.afterwards import closed_by
from torquewright.rules.finding import Certainty, Finding
from torquewright.rules.registry import detector
from torquewright.rules.spoken import handed_on, said, speaks_of, told, warned
from torquewright.rules.spot import at, fastener_place

LOOK = "second-look-missing"
RECORD = "no-as-tightened-record"
LEFT = "tools-and-rags-not-counted"

# ---- a second pair of eyes -------------------------------------------------------------------------------------

_OTHERS = ("second person", "another person", "other person", "somebody else", "someone else", "second mechanic",
           "another mechanic", "second technician", "another technician", "inspector", "supervisor", "foreman",
           "independent", "colleague", "workmate", "second pair", "two persons", "duplicate inspection", "countersign",
           "who did not")  # fmt: skip
_LOOKS = ("check", "inspect", "retighten", "record", "mark", "measure")


@detector(LOOK)
def second_look_missing(trace: Trace) -> Iterator[Finding]:
    """A joint that a second person must look at is closed, and only the one who closed it has seen it."""
    practice = policy(trace.catalogue.policy).second_look
    for key, track in trace.joints.items():
        held = track.fastener
        by_record = held.independent_check is True
        if not by_record and not (practice == "safety" and held.safety and held.independent_check is None):
            continue
        closed = _finished(track)
        if closed is None:
            continue
        looks = [event for event in trace.events if event.order > closed.order and _at(event, track)]
        if any(event.verb in _LOOKS and speaks_of(trace, event, *_OTHERS) for event in looks):
            continue
        if _said_to_look(trace, track, closed):
            continue
        own = next((held for held in looks if held.joint is not None and held.verb in ("check", "inspect")), None)
        if own is not None and any(event.verb == "wait" for event in trace.events[closed.order : own.order]):
            continue  # one person alone: the same eyes, later
        also = (fastener_place(key, "independent-check" if by_record else "safety"),)
        sure: Certainty = "unstated" if own is not None or handed_on(trace, closed.order) else "certain"
        yield at(LOOK, sure, own or closed, key, {}, "same" if own is not None else "", also=also)


def _said_to_look(trace: Trace, track: JointTrack, closed: Event) -> bool:
    """Whether a sentence has somebody else look, with no action that sends him to other joints only."""
    for step in range(max(closed.step, 0), len(trace.procedure.steps)):
        if told(trace, range(step, step + 1), _OTHERS):
            others = [event for event in trace.events if event.step == step and event.verb in _LOOKS and event.joint]
            if not others or track.fastener.name.lower() in said(trace, step):
                return True
    return False


def _finished(track: JointTrack) -> Event | None:
    """The last thing done to close the joint: its last pull, or its lock."""
    closed = closed_by(track)
    if closed is None:
        return None
    locks = [event for event in track.events if event.verb == "lock" and event.order > closed.order]
    return locks[-1] if locks else closed


def _at(event: Event, track: JointTrack) -> bool:
    """Whether an action is on this joint, or on no joint in particular."""
    return event.joint is None or event.joint is track.fastener


# ---- written down ----------------------------------------------------------------------------------------------

_WRITES_ITSELF = ("logging", "data logger", "electronic log", "recording", "transmits")


@detector(RECORD)
def no_as_tightened_record(trace: Trace) -> Iterator[Finding]:
    """A joint whose failure can hurt somebody is neither marked nor written down once it is tight."""
    practice = policy(trace.catalogue.policy).records
    for key, track in trace.joints.items():
        if not track.fastener.safety or not track.recorded:
            continue
        closed = closed_by(track)
        if closed is None or closed.action.to is None or not closed.action.to.has_value:
            continue
        if _written(trace, track, closed):
            continue
        sure: Certainty = "certain" if practice == "safety" and not handed_on(trace, closed.order) else "unstated"
        yield at(RECORD, sure, closed, key, {}, also=(fastener_place(key, "safety"),))


def _written(trace: Trace, track: JointTrack, closed: Event) -> bool:
    tool = closed.tool.name if closed.tool is not None else closed.action.tool
    if any(word in tool.lower() for word in _WRITES_ITSELF):
        return True
    return any(
        event.verb in ("record", "mark") and event.order > closed.order and _at(event, track)
        for event in trace.events
    )


# ---- left inside -----------------------------------------------------------------------------------------------

_RAGS = ("rag", "cloth", "swab", "wad", "bung", "blanking plug", "blanking cap", "dust plug", "dust cap", "stopper",
         "lock bar", "locking bar", "lock pin", "locking pin", "locking tool", "guide stud", "guide pin",
         "alignment pin", "aligning pin", "wedge", "mandrel", "magnet", "drift", "paper towel", "foam")  # fmt: skip
_NOT_WHILE_RUNNING = ("rag", "cloth", "swab", "wad", "bung", "stopper", "bar", "locking", "lock pin", "paper", "foam",
                      "plug", "cap", "wedge", "drift")  # fmt: skip
_TAKING = frozenset({"take", "taken", "remove", "removed", "pull", "withdraw", "count"})
_OUT = ("take_out", "remove", "discard", "disconnect")


@detector(LEFT)
def tools_and_rags_not_counted(trace: Trace) -> Iterator[Finding]:
    """Something put in for the job only is never taken out again, or after the machine has run on it."""
    for event in trace.events:
        if event.verb not in ("insert", "install", "position") or event.conditional:
            continue
        item = lent(trace, event)
        if not item:
            continue
        out = [held for held in trace.events if held.order > event.order and held.verb in _OUT and same(held, item)]
        taken = _number(out)
        put = event.action.count
        if not out and not _said_out(trace, event, item):
            sure: Certainty = "unstated" if handed_on(trace, event.order) else "certain"
            yield at(LEFT, sure, event, "", {"item": item})
        elif out and put is not None and taken is not None and taken < put:
            yield at(LEFT, "certain", event, "", {"item": item, "left": put - taken, "put": put}, "some")
        elif out and any(word in item for word in _NOT_WHILE_RUNNING):
            ran = _ran(trace, event, out[-1])
            if ran is not None:
                yield at(LEFT, "certain", ran, "", {"item": item, "put_in": max(event.step, 0)}, "run")


def lent(trace: Trace, event: Event) -> str:
    """The words for what is put in for the job only; "" for what stays, or stands in a record of its own."""
    action = event.action
    if event.joint is not None or event.seal is not None or action.of:
        return ""
    words = action.what.lower()
    tool = trace.catalogue.tool(action.what) if event.verb == "insert" else None
    if tool is not None:
        return tool.name
    return words if any(word in words for word in _RAGS) else ""


def same(event: Event, item: str) -> bool:
    """Whether an action is on the same thing: the last word of the one is the last word of the other."""
    words = event.action.what.lower()
    if not words or event.joint is not None or event.seal is not None:
        return False
    return _noun(words) == _noun(item) or item in words


def _noun(words: str) -> str:
    return words.split()[-1].rstrip("s") if words.split() else ""


def _number(out: list[Event]) -> int | None:
    counts = [event.action.count for event in out]
    return None if None in counts else sum(count for count in counts if count is not None)


def _said_out(trace: Trace, put: Event, item: str) -> bool:
    """Whether the words of a later step, or of the same one, take the thing out again without an action for it."""
    noun = _noun(item)
    for step in range(max(put.step, 0), len(trace.procedure.steps)):
        for sentence in said(trace, step).split(". "):
            words = sentence.replace(",", " ").replace(".", " ").split()
            if (noun in words or f"{noun}s" in words) and not _TAKING.isdisjoint(words):
                return True
    return warned(trace, len(trace.procedure.steps), (f"remove the {noun}", f"take the {noun}", f"count the {noun}"))


def _ran(trace: Trace, put: Event, out: Event) -> Event | None:
    for running in trace.running:
        event = running.event
        if put.order < event.order < out.order and event.joint is None and not event.conditional:
            return event
    return None
