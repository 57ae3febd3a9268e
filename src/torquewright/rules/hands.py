"""How a fastener is turned: which way a left-hand thread goes, what holds the other half, which end gets the figure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from torquewright.bench import Event, JointTrack, Run, Trace
from torquewright.records import Fastener
from torquewright.rules.finding import Fact, Finding
from torquewright.rules.registry import detector
from torquewright.rules.spot import at, fastener_place

LEFT = "left-hand-thread-not-said"
HOLD = "back-up-wrench-missing"
END = "torque-on-wrong-end"

OPENS = ("loosen", "remove", "disconnect", "take_out")
CLOSES = ("tighten", "tighten_angle", "retighten")


def sentence(trace: Trace, event: Event) -> str:
    """What is said where an action stands, in lower case: its remark, its step, the safety messages of the step and
    those ahead of all steps."""
    said = [event.action.note]
    if event.step >= 0:
        said.append(trace.procedure.steps[event.step].say)
    said += [held.text for held in trace.procedure.messages if held.step in (-1, event.step)]
    return " ".join(said).lower()


def makings(track: JointTrack) -> Iterator[tuple[str, list[Event]]]:
    """Each time the joint is opened or closed with a tool: "opening" or "closing", and the events that do it, the one
    to point at first."""
    seen: set[int] = set()
    for _, run in track.runs():
        opened = run.opened
        if opened is not None and opened.order not in seen and opened.verb in OPENS and not opened.action.by_hand:
            seen.add(opened.order)
            yield "opening", [opened]
        pulls = _pulls(run)
        if pulls and pulls[0].order not in seen:
            seen.add(pulls[0].order)
            others = [held for held in (run.fitted, run.started, run.seated) if held is not None]
            yield "closing", [*pulls, *others]


def _pulls(run: Run) -> list[Event]:
    pulls: list[Event] = []
    for pull in run.pulls:
        event = pull.event
        wanted = event.verb in CLOSES and not event.conditional and not event.action.by_hand
        if wanted and event not in pulls and (event.action.to is None or event.action.to.kind != "hand_tight"):
            pulls.append(event)
    return pulls


# ---- left-hand threads -------------------------------------------------------------------------------------------

_ANTI = ("anticlockwise", "anti-clockwise", "counterclockwise", "counter-clockwise")
_LEFT = ("left-hand", "left hand", "lefthand", "lh thread", "reverse thread", "reversed thread")
_WAYS = ("clockwise", "to the right", "to the left")
_RIGHT_WAY = {"opening": "clockwise", "closing": "anticlockwise"}


@detector(LEFT)
def left_hand(trace: Trace) -> Iterator[Finding]:
    """A left-hand thread is loosened or tightened, and the step does not say which way, or says the wrong one."""
    for key, track in trace.joints.items():
        thread = track.fastener.thread
        if thread is None or thread.hand != "left":
            continue
        for doing, events in makings(track):
            right = _RIGHT_WAY[doing]
            facts: dict[str, Fact] = {"doing": "loosened" if doing == "opening" else "tightened", "right": right}
            also = (fastener_place(key, "thread-hand"),)
            wrong = next((held for held in events if held.action.direction not in ("", right)), None)
            if wrong is not None:
                yield at(LEFT, "certain", wrong, key, facts, "wrong-way", "direction", also)
            elif not any(held.action.direction for held in events):
                said = [sentence(trace, held) for held in events]
                way = _way(said[0]) if _alone(trace, events[0], doing) else ""
                if way and way != right:
                    yield at(LEFT, "likely", events[0], key, facts, "wrong-way", also=also)
                elif not _named_left(track.fastener) and not any(_tells(text) for text in said):
                    yield at(LEFT, "certain", events[0], key, facts, also=also)


def _named_left(fastener: Fastener) -> bool:
    """Whether the very name of the fastener says it."""
    return any(word in fastener.name.lower() for word in _LEFT)


def _tells(said: str) -> bool:
    return any(word in said for word in _LEFT) or any(word in said for word in _WAYS)


def _way(said: str) -> str:
    """The one way a sentence names, "" where it names none or both, or denies one."""
    rest = said
    for word in _ANTI:
        rest = rest.replace(word, "")
    anti, clock = rest != said, "clockwise" in rest
    if anti is clock or "not " in said or "never" in said:
        return ""
    return "anticlockwise" if anti else "clockwise"


def _alone(trace: Trace, event: Event, doing: str) -> bool:
    """Whether the step turns nothing but this joint, and one way only, so that a way it names is meant for it."""
    if event.step < 0:
        return False
    turned = [held for held in trace.procedure.steps[event.step].actions if held.verb in (*OPENS, *CLOSES)]
    verbs = OPENS if doing == "opening" else CLOSES
    return all(held.what == event.action.what and held.verb in verbs for held in turned)


# ---- holding the other half --------------------------------------------------------------------------------------

_HOLDS = (
    "hold the", "hold its", "holding the", "hold it ", "held with", "counter-hold", "counterhold", "back-up wrench",
    "back-up spanner", "backup wrench", "backing spanner", "second wrench", "second spanner", "two wrenches",
    "two spanners", "another wrench", "another spanner",
)  # fmt: skip
_NO_HOLDS = ("that hold the", "which hold the", "that hold it ", "which hold it ")  # "the screws that hold the cover"


@detector(HOLD)
def hold(trace: Trace) -> Iterator[Finding]:
    """A joint whose other half must be held is turned, and the step does not say so."""
    for key, track in trace.joints.items():
        if not track.fastener.needs_hold:
            continue
        for doing, events in makings(track):
            if any(held.action.hold or holds(sentence(trace, held)) for held in events):
                continue
            facts: dict[str, Fact] = {"doing": "loosened" if doing == "opening" else "tightened"}
            yield at(HOLD, "unstated", events[0], key, facts, also=(fastener_place(key, "needs-hold"),))


def holds(said: str) -> bool:
    """Whether a sentence in lower case tells somebody to hold something with another tool."""
    for words in _NO_HOLDS:
        said = said.replace(words, "")
    return any(words in said for words in _HOLDS)


# ---- which end ---------------------------------------------------------------------------------------------------

_AT = {
    "head": ("at the head", "at the bolt head", "at its head", "on the head", "on the bolt head", "by the head",
             "turn the head", "turn the bolt head", "turning the head", "turning the bolt head"),
    "nut": ("at the nut", "on the nut", "by the nut", "turn the nut", "turning the nut"),
}  # fmt: skip
_DENIES = ("not ", "never", "hold", "instead of", "rather than", "drag", "add ")


@detector(END)
def end(trace: Trace) -> Iterator[Finding]:
    """The figure of a joint is pulled at the nut where its record means the head, or the other way round."""
    for key, track in trace.joints.items():
        wanted = track.fastener.turn_end
        if not wanted:
            continue
        for event in _figures(track):
            if event.action.to is not None and event.action.to.added:
                continue  # the drag of the other end is added
            other = "head" if wanted == "nut" else "nut"
            stated = event.action.end
            certain = stated == other
            if certain or (not stated and _said_at(trace, event, other)):
                facts: dict[str, Fact] = {"turned": other, "wanted": wanted}
                also = (fastener_place(key, "turn-end"),)
                yield at(END, "certain" if certain else "likely", event, key, facts, "", "end" if certain else "", also)


def _figures(track: JointTrack) -> Iterable[Event]:
    """The pulls to a figure, each event once."""
    return [
        event for event in track.events
        if event.verb in CLOSES and event.action.to is not None and event.action.to.has_value and not event.conditional
    ]  # fmt: skip


def _said_at(trace: Trace, event: Event, other: str) -> bool:
    said = sentence(trace, event)
    return any(words in said for words in _AT[other]) and not any(words in said for words in _DENIES)
