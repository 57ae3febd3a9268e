"""The order of things: round a joint, between two plugs, and with the machine in the state the record asks for."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Event, JointTrack, Trace
from torquewright.book.policies import policy
from torquewright.records import Fastener
from torquewright.rules.finding import Certainty, Fact, Finding
from torquewright.rules.patterns import example, named, positions, slips
from torquewright.rules.registry import detector
from torquewright.rules.spoken import listed, said, speaks_of
from torquewright.rules.spot import at, fastener_place, step_place

ORDER = "tightening-order-missing"
FILL = "fill-plug-not-tried-first"
STATE = "tightened-at-wrong-condition"

_PULLS = ("tighten", "tighten_angle")
_MANY = 4  # two and three are pulled in turn, whoever pulls them

# ---- round a joint ---------------------------------------------------------------------------------------------

_SAID = ("cross", "star", "diagonal", "opposite", "criss", "pattern", "sequence", "in the order", "in order", "spiral",
         "outward", "from the middle", "clockwise", "in turn", "alternat")  # fmt: skip


@detector(ORDER)
def tightening_order_missing(trace: Trace) -> Iterator[Finding]:
    """A joint that asks for an order is tightened in none, in another one, or by a list that skips or repeats."""
    practice = policy(trace.catalogue.policy).order
    for key, track in trace.joints.items():
        fastener = track.fastener
        listing = _broken_list(track)
        if listing is not None:
            yield listing
            continue
        pattern = fastener.pattern
        if not pattern and practice == "from four" and fastener.seals:
            pattern = "cross"
        count = fastener.count or 0
        if pattern in ("", "none") or count < _MANY:
            continue
        slip = _order_slip(trace, pattern, count, _pulls(track))
        if slip is not None:
            event, form, certainty, facts = slip
            also = (fastener_place(key, "pattern"),) if fastener.pattern else ()
            path = "order" if event.action.order else ""
            yield at(ORDER, certainty, event, key, facts, form, path, also)


def _pulls(track: JointTrack) -> list[Event]:
    """The pulls with a figure that close the joint for good, made on all of its positions at once."""
    found: dict[int, Event] = {}
    whole = sum(lot.count for lot in track.lots)
    for lot in track.lots:
        if lot.run.opened is None:
            continue  # as it was found
        for pull in lot.run.pulls:
            event, stage = pull.event, pull.stage
            if event.verb in _PULLS and not event.conditional and event.step >= 0:
                if event.count < whole:
                    return []  # told position by position, which is an order in itself
                if stage is not None and not stage.by_hand:
                    found[event.order] = event
    return [found[order] for order in sorted(found)]


def _order_slip(
    trace: Trace, pattern: str, count: int, pulls: list[Event]
) -> tuple[Event, str, Certainty, dict[str, Fact]] | None:
    if not pulls:
        return None
    demanded, name = positions(pattern), named(pattern)
    orders = [event.action.order for event in pulls if event.action.order]
    facts: dict[str, Fact] = {
        "pattern": pattern, "count": count, "example": pattern if demanded else example(count, name or "cross"),
    }  # fmt: skip
    if not orders:
        if any(any(word in said(trace, event.step) for word in _SAID) for event in pulls):
            return None
        return pulls[-1], "", "unstated", facts
    told = next(event for event in pulls if event.action.order)
    facts["told"] = told.action.order
    lists = [positions(order) for order in orders]
    if demanded:
        if any(lists) and demanded not in lists:
            return told, "list", "certain", facts
    elif name in ("cross", "spiral") and all(named(order) == "circular" for order in orders):
        return told, "round", "certain", facts
    return None


def _broken_list(track: JointTrack) -> Finding | None:
    count = track.fastener.count
    if count is None or not track.recorded:
        return None
    for event in track.events:
        order = positions(event.action.order) if event.action.order else ()
        if not order:
            continue
        missing, wrong = slips(order, count)
        if missing or wrong:
            facts: dict[str, Fact] = {"told": event.action.order, "count": count}
            if missing:
                facts["missing"] = listed([str(number) for number in missing])
            if wrong:
                facts["wrong"] = listed([str(number) for number in wrong])
            form = "broken" if missing and wrong else "short" if missing else "beyond"
            also = (fastener_place(track.fastener.id, "count"),)
            return at(ORDER, "certain", event, track.fastener.id, facts, form, "order", also)
    return None


# ---- the fill plug first ---------------------------------------------------------------------------------------

_OPENING = ("loosen", "remove", "disconnect", "take_out", "drain")
_TRYING = (*_OPENING, "check", "inspect", "measure", "hand_start")


@detector(FILL)
def fill_plug_not_tried_first(trace: Trace) -> Iterator[Finding]:
    """A fluid is let out before the plug it is filled through has been moved."""
    fills = [held for held in trace.catalogue.fasteners if _role(held) == "fill" and not _by_hand(held)]
    for fill in fills:
        track = trace.joints.get(fill.id)
        if track is None:
            continue  # it is filled some other way
        tried = next((event for event in track.events if event.verb in _TRYING and not event.action.of), None)
        out = _let_out(trace, fill.fluid)
        if out is not None and (tried is None or tried.order > out.order):
            joint = out.joint.id if out.joint is not None else fill.fluid
            later = (step_place(tried),) if tried is not None else ()
            yield at(FILL, "certain", out, fill.id, {"drain": joint}, also=(fastener_place(fill.id, "role"), *later))


def _role(fastener: Fastener) -> str:
    """What a plug does for its fluid, by its record or else by its name ("filler plug", "drain screw")."""
    if fastener.role or fastener.fluid:
        return fastener.role if fastener.fluid else ""
    words = fastener.name.lower().split()
    if len(words) < 2 or words[-1] not in ("plug", "screw"):
        return ""
    return "fill" if words[-2] in ("fill", "filler", "filling") else "drain" if words[-2] == "drain" else ""


def _by_hand(fastener: Fastener) -> bool:
    """Whether it is a cap that a hand closes, which cannot be stuck."""
    tightening = fastener.tightening
    return (tightening is not None and tightening.kind == "hand_tight") or "vent" in fastener.name.lower()


def _let_out(trace: Trace, fluid: str) -> Event | None:
    for event in trace.events:
        if event.conditional or event.action.of or event.step < 0:
            continue
        joint = event.joint
        drain = joint is not None and _role(joint) == "drain" and joint.fluid == fluid and event.verb in _OPENING
        if drain or (fluid and event.verb == "drain" and event.action.what == fluid):
            return event
    return None


# ---- cold, warm, loaded ----------------------------------------------------------------------------------------

_AXES = {"cold": "heat", "warm": "heat", "hot": "heat", "loaded": "load", "unloaded": "load"}
_SAME = {"hot": "warm"}
_WORDS = {"cold": ("cold", "cool", "next morning", "next day", "overnight"),
          "warm": ("warm", "hot", "working temperature"),
          "loaded": ("loaded", "on its wheels", "on the ground", "weight on", "full weight"),
          "unloaded": ("unloaded", "no load", "off the ground", "hanging", "weight off")}  # fmt: skip


@detector(STATE)
def tightened_at_wrong_condition(trace: Trace) -> Iterator[Finding]:
    """The last pull is made with the machine in another state than the record asks for: warm for cold, hanging for
    loaded. What state it is in is told by the steps ahead; where they are silent, so is the rule."""
    for key, track in trace.joints.items():
        wanted = _SAME.get(track.fastener.tighten_when, track.fastener.tighten_when)
        axis = _AXES.get(wanted)
        if axis is None:
            continue
        for event in _last_pulls(track):
            state, since = _state(trace, axis, event)
            if since is None or state in ("", wanted) or speaks_of(trace, event, *_WORDS[wanted]):
                continue
            facts: dict[str, Fact] = {"wanted": wanted, "state": state, "since": max(since.step, 0)}
            also = (fastener_place(key, "tighten-when"), step_place(since))
            yield at(STATE, "certain", event, key, facts, also=also)
            break


def _last_pulls(track: JointTrack) -> list[Event]:
    """The last pull of each position and every later check of torque, in order."""
    found = [event for event in track.events if event.verb == "retighten"]
    for _, run in track.runs():
        made = [pull.event for pull in run.pulls if pull.event.verb in _PULLS and not pull.event.conditional]
        found += made[-1:]
    held = {event.order: event for event in found if event.step >= 0 and not event.conditional}
    return [held[order] for order in sorted(held)]


def _state(trace: Trace, axis: str, before: Event) -> tuple[str, Event | None]:
    """The state of the machine at an event, and the event that brought it there; "" where nobody knows."""
    if axis == "load":
        return _load(trace, before)
    state, since = "", None
    for event in trace.events[: before.order]:
        changed = _brings(trace, event)
        if changed is not None:
            state, since = changed, event
    return state, since


def _load(trace: Trace, before: Event) -> tuple[str, Event | None]:
    """Whether the weight is on: what was raised is let down again. A part that is lifted is no machine, and what is let
    down without having been raised is a hook or a load; of several things in the air, one let down leaves it open
    which of them is meant."""
    raised: dict[str, Event] = {}
    lowered: Event | None = None
    parts = {part.id for part in trace.catalogue.parts}
    for event in trace.events[: before.order]:
        what = event.action.what
        if what in parts or event.verb not in ("raise", "lower"):
            continue
        if event.verb == "raise":
            raised[what] = event
        elif what in raised or (raised and not what):
            lowered = event
            raised = {key: held for key, held in raised.items() if what and key != what}
    if raised:
        return ("unloaded", next(reversed(raised.values()))) if lowered is None else ("", None)
    return ("loaded", lowered) if lowered is not None else ("", None)


def _brings(trace: Trace, event: Event) -> str | None:
    """What an event makes of the heat of the machine; "" for what nobody knows, None where it changes nothing."""
    verb = event.verb
    if verb in ("run", "start", "warm_up"):
        if event.joint is not None or event.seal is not None:
            return None  # a nut is run down its thread
        return "" if event.conditional else "warm"
    if verb == "cool_down":
        return "" if event.conditional else "cold"
    if verb in ("wait", "check") and speaks_of(trace, event, *_WORDS["cold"]):
        return "cold"
    return "" if verb == "wait" else None  # time passes: it may have cooled, nobody says
