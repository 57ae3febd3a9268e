"""The machine runs before it may: a joint that holds a fluid stands open, the fluid is out, its level unread."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Event, Trace
from torquewright.bench.state import CLOSED
from torquewright.bench.trace import by_hand_is_final
from torquewright.records import Action, Catalogue, Fastener, Fluid, Procedure
from torquewright.rules.closing import OPEN, STATES, TURN
from torquewright.rules.editing import actions, drop_all, insert
from torquewright.rules.finding import Certainty, Finding
from torquewright.rules.registry import Planted, detector, planter
from torquewright.rules.spot import at, fastener_place

RULE = "start-before-fill-and-plug"

_ROLES = ("drain", "fill", "level", "filter", "cap")
_NAMES = ("drain", "filler", "fill plug", "fill screw", "level screw", "level plug", "filter", "sump", "dipstick")


def holds_fluid(fastener: Fastener) -> bool:
    """Whether a fluid runs out where the joint stands open: by its record, or by its very name. A vent may stand
    open while the machine runs."""
    if fastener.role == "vent":
        return False
    if fastener.fluid or fastener.role in _ROLES:
        return True
    name = fastener.name.lower()
    return any(word in name for word in _NAMES)


@detector(RULE)
def start_too_early(trace: Trace) -> Iterator[Finding]:
    """The machine is started with a fluid joint open, a drained fluid not filled again, or a level not read."""
    told: set[str] = set()
    open_told = False
    for running in trace.running:
        event = running.event
        if event.conditional or _no_machine(trace, event) or _fills_by_running(trace, event):
            continue
        for key, state in running.open_joints:
            track = trace.joints[key]
            if key in told or not holds_fluid(track.fastener):
                continue
            told.add(key)
            if all(lot.state in CLOSED or by_hand_is_final(track.fastener, lot) for lot in track.lots):
                # Where it is never closed at all, that is the slip, and another rule's.
                yield at(RULE, "certain", event, key, {"state": STATES[state]}, also=(fastener_place(key, "name"),))
                open_told = True
        yield from _fluids(trace, event, told, by_name=not open_told)


def _no_machine(trace: Trace, event: Event) -> bool:
    """Whether what is run is a piece or a tool: a nut run down its thread, a tap run through a hole."""
    return event.joint is not None or event.seal is not None or trace.catalogue.tool(event.action.what) is not None


def _fills_by_running(trace: Trace, event: Event) -> bool:
    """Whether the same step goes on to fill: a pump started to fill, or a level topped up as the machine runs."""
    return any(
        later.step == event.step and later.order > event.order and later.verb in ("fill", "bleed")
        for later in trace.events
    )


def _fluids(trace: Trace, run: Event, told: set[str], *, by_name: bool) -> Iterator[Finding]:
    """What became of every fluid that was let out before ``run``; ``by_name``: also out of what is only called a drain
    plug."""
    for key, drained in _let_out(trace, run, by_name=by_name).items():
        if key in told:
            continue
        told.add(key)
        filled = _filled(trace, key, drained, run)
        if filled is None:
            sure: Certainty = "certain" if drained.joint or trace.catalogue.fluid(key) else "unstated"
            yield at(RULE, sure, run, key, {}, "empty", also=(("procedure", drained.path),))
        elif not _level_read(trace, key, filled, run):
            yield at(RULE, "unstated", run, key, {}, "level", also=(("procedure", filled.path),))


def _let_out(trace: Trace, run: Event, *, by_name: bool = False) -> dict[str, Event]:
    """The fluids (or drains, where the record names no fluid) that were let out before ``run``, with the event."""
    out: dict[str, Event] = {}
    named_only: dict[str, Event] = {}
    for event in trace.events[: run.order]:
        if event.conditional or event.action.of:
            continue
        joint = event.joint
        if event.verb == "drain":
            fluid = _fluid(trace.catalogue, joint.fluid if joint is not None else event.action.what)
            if fluid is not None:
                out[fluid.id] = event
            elif joint is None and (oil := _an_oil(event)):
                named_only[oil] = event
        elif joint is not None and event.verb in OPEN:
            named = by_name and _called_a_drain(joint) and _filled_later(trace, run)
            if joint.role == "drain" or named:
                out[joint.fluid or joint.id] = event
    return out or (named_only if by_name else {})


_OILS = ("oil", "coolant", "lubricant")


def _an_oil(event: Event) -> str:
    """The oil or coolant, in no record, that an action lets out, as named; "" for water, fuel and the like, which a
    machine can do without or brings along by itself."""
    words = event.action.what.lower().replace("-", " ").split()
    return event.action.what if words and words[-1] in _OILS and "old" not in words else ""


def _called_a_drain(joint: Fastener) -> bool:
    return not joint.role and "drain" in joint.name.lower()


def _filled_later(trace: Trace, run: Event) -> bool:
    """Whether the text fills after the run: without that, a machine may be one that fills itself."""
    return any(event.verb == "fill" and not event.conditional for event in trace.events[run.order :])


def _fluid(catalogue: Catalogue, words: str) -> Fluid | None:
    low = words.lower()
    for fluid in catalogue.fluids:
        if low in (fluid.id.lower(), fluid.name.lower(), *(alias.lower() for alias in fluid.aliases)):
            return fluid
    return None


def _about(event: Event, key: str, catalogue: Catalogue) -> bool:
    """Whether an action on a fluid means this one; one that names no other recorded fluid may mean any."""
    if event.joint is not None and event.joint.fluid:
        return event.joint.fluid == key
    fluid = _fluid(catalogue, event.action.what) or _fluid(catalogue, event.action.with_what)
    return fluid is None or fluid.id == key


def _filled(trace: Trace, key: str, drained: Event, run: Event) -> Event | None:
    """The last filling between the draining and the run; topping up on a condition is none."""
    fills = [
        event for event in trace.events[drained.order : run.order]
        if event.verb in ("fill", "replace") and not event.conditional and _about(event, key, trace.catalogue)
        and (event.verb == "fill" or _fluid(trace.catalogue, event.action.what) is not None)
    ]  # fmt: skip
    return fills[-1] if fills else None


def _level_read(trace: Trace, key: str, filled: Event, run: Event) -> bool:
    """Whether the level was read before the run, or there is none to read."""
    fluid = trace.catalogue.fluid(key)
    levels = [held for held in trace.catalogue.fasteners if held.role == "level" and held.fluid in ("", key)]
    if not levels and (fluid is None or not fluid.level_at):
        return True
    for event in trace.events[: run.order]:
        late = event.order > filled.order
        if late and event.verb == "check_level" and _about(event, key, trace.catalogue):
            return True
        if late and event.verb == "fill" and event.conditional:
            return True  # "top up if it has dropped" reads it
        if late and event.verb in ("check", "inspect") and _looks_at_fluid(trace.catalogue, event.action.what):
            return True
        bared = event.joint in levels and event.verb in OPEN and not event.action.of
        if bared and not _closed_between(trace, event, filled):
            return True  # filled until it runs out of the level hole, or the hole opened to look
    return False


def _looks_at_fluid(catalogue: Catalogue, words: str) -> bool:
    low = words.lower()
    return _fluid(catalogue, words) is not None or any(word in low for word in ("level", "dipstick", "sight glass"))


def _closed_between(trace: Trace, opened: Event, filled: Event) -> bool:
    return any(
        event.joint is opened.joint and event.verb in TURN for event in trace.events[opened.order : filled.order]
    )


# ---- planting -------------------------------------------------------------------------------------------------


@planter(RULE)
def plant_start_too_early(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """The machine is run before the last fluid joint is tight, or with a fluid not filled or its level not read."""
    runs = list(actions(procedure, "run", "start"))
    if not runs:
        return
    first = runs[0]
    yield from _run_ahead(procedure, catalogue, first)
    drains = [fastener.fluid for fastener in catalogue.fasteners if fastener.role == "drain"]
    for fluid in catalogue.fluids:
        out = [held[:2] for held in actions(procedure, "drain") if held[2].what == fluid.id]
        fills = [held for held in actions(procedure, "fill") if _fluid(catalogue, held[2].what) == fluid]
        if (not out and fluid.id not in drains) or len(fills) != 1 or fills[0][:2] > first[:2]:
            continue
        edited, moved = drop_all(procedure, [fills[0][:2]])
        yield Planted(edited, catalogue, moved[first[0]], fluid.id, f"the {fluid.name} is not filled")
        if any(held.role == "level" and held.fluid == fluid.id for held in catalogue.fasteners):
            continue
        read = [held[:2] for held in actions(procedure, "check_level") if held[2].what == fluid.id]
        if fluid.level_at and read:
            edited, moved = drop_all(procedure, read)
            yield Planted(edited, catalogue, moved[first[0]], fluid.id, f"the level of the {fluid.name} is not read")


def _run_ahead(
    procedure: Procedure, catalogue: Catalogue, first: tuple[int, int, Action]
) -> Iterator[Planted]:
    """The first run moved ahead of the last pull on a fluid joint, once everything else about fluids is done."""
    pulls = [
        (step, number, fastener)
        for step, number, action in actions(procedure, *TURN)
        if (step, number) < first[:2]
        and (fastener := catalogue.fastener(action.what)) is not None
        and holds_fluid(fastener)
    ]
    if not pulls:
        return
    key = pulls[-1][2].id
    opened = [held[:2] for held in actions(procedure, *OPEN) if held[2].what == key and held[:2] < pulls[-1][:2]]
    own = [pull for pull in pulls if pull[2].id == key and pull[:2] > max(opened, default=(-1, -1))]
    step, number, fastener = own[0]
    by_hand = fastener.tightening is not None and fastener.tightening.kind == "hand_tight"
    late = [held[:2] for held in actions(procedure, "fill", "check_level") if held[:2] > (step, number)]
    others = [pull for pull in pulls if pull[2].id != key and pull[:2] > (step, number)]
    if late or others or by_hand:
        return
    early = insert(procedure, step, number, first[2])
    # The joints closed after this one are then open as well, and each is told.
    both = frozenset({"start-before-fill-and-plug"})
    yield Planted(early, catalogue, step, key, f"the machine runs before the {fastener.name} is tight", both)
