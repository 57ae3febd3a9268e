"""Plants faults of order: no order round a joint or a broken one, the drain before the fill plug, warm for cold."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Event, play
from torquewright.records import Catalogue, Procedure
from torquewright.rules import orders
from torquewright.rules.editing import change, drop_all, move_step
from torquewright.rules.patterns import cross, example, named
from torquewright.rules.plant_locks import closed, spot
from torquewright.rules.registry import Planted, planter


@planter(orders.ORDER)
def tightening_order_missing(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """The order is left out, goes round, or is a list with one position twice and one never."""
    for fastener, lot in closed(play(procedure, catalogue)):
        pulls = list(dict.fromkeys(pull.event for pull in lot.run.pulls if pull.event.verb != "retighten"))
        ordered = [event for event in pulls if event.action.order]
        count = fastener.count or 0
        if not ordered or count < 4 or any(event.count < count for event in pulls):
            continue
        if not catalogue.recorded(fastener.id):
            continue  # nobody says how many there are
        first, last, name = ordered[0], pulls[-1], fastener.name
        if fastener.pattern not in ("", "none"):
            said = [procedure.steps[event.step].say.lower() for event in pulls]
            without = _ordered(procedure, ordered, "")
            if all(event in ordered for event in pulls) or not any("cross" in words for words in said):
                yield Planted(without, catalogue, last.step, fastener.id, f"no order for the {name}")
        if named(fastener.pattern) == "cross":
            rounded = _ordered(procedure, ordered, "circular")
            yield Planted(rounded, catalogue, first.step, fastener.id, f"the {name} goes round and round")
        broken = list(cross(count))
        broken[-1] = broken[0]
        listed = "-".join(str(number) for number in broken)
        spoiled = change(procedure, first.step, first.number, order=listed)
        text = f"the list {listed} for {example(count, 'cross')}"
        yield Planted(spoiled, catalogue, first.step, fastener.id, text)


def _ordered(procedure: Procedure, events: list[Event], order: str) -> Procedure:
    for event in events:
        procedure = change(procedure, event.step, event.number, order=order)
    return procedure


_TAKING = frozenset({"remove", "loosen", "discard"})


@planter(orders.FILL)
def fill_plug_not_tried_first(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """The step that opens the fill plug comes after the one that opens the drain."""
    trace = play(procedure, catalogue)
    for fill in catalogue.fasteners:
        track = trace.joints.get(fill.id)
        by_hand = fill.tightening is not None and fill.tightening.kind == "hand_tight"
        if fill.role != "fill" or not fill.fluid or track is None or by_hand or "vent" in fill.name.lower():
            continue
        drains = [held for held in trace.joints.values() if held.fastener.role == "drain"
                  and held.fastener.fluid == fill.fluid]  # fmt: skip
        if len(drains) != 1 or track.events[0].verb not in ("remove", "loosen"):
            continue
        opened = next((event for event in drains[0].events if event.verb in ("remove", "loosen")), None)
        out = [event for event in trace.of("drain") if event.action.what == fill.fluid]
        tried, back = track.events[0], _second(track.events)
        if opened is None or tried.step >= opened.step or tried.step < 0 or back is None or back.step <= opened.step:
            continue
        together = {action.what for action in procedure.steps[tried.step].actions} - {fill.id}
        if any(event.order < opened.order for event in out):
            continue
        text = f"the {drains[0].fastener.name} is opened before the {fill.name}"
        between = [event for event in trace.events if tried.order < event.order < opened.order]
        passed = procedure.steps[tried.step + 1 : opened.step + 1]
        touched = {key for step in passed for action in step.actions for key in (action.what, action.of)}
        if together & touched or any(event.verb not in _TAKING for event in between):
            continue  # what lies between may be what makes the opening safe
        moved = move_step(procedure, tried.step, opened.step)
        # Later in the job the load may be up and not yet on its stands.
        also = frozenset({"raised-load-unsupported"})
        yield Planted(moved, catalogue, opened.step - 1, fill.id, text, also)


def _second(events: list[Event]) -> Event | None:
    """The first event behind the opening that is more than cleaning."""
    return next((event for event in events[1:] if event.verb not in ("clean", "inspect", "loosen", "remove")), None)


@planter(orders.STATE)
def tightened_at_wrong_condition(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """What brings the machine into the state a record asks for is left out ahead of the pull."""
    trace = play(procedure, catalogue)
    states = ("cold", "loaded")
    asking = [held for held in catalogue.fasteners if held.tighten_when in states and held.id in trace.joints]
    for fastener in asking:
        undo, brings = ("run", "cool_down") if fastener.tighten_when == "cold" else ("raise", "lower")
        pulls = [event for event in trace.joints[fastener.id].events if event.verb in ("tighten", "retighten")]
        for event in pulls[-1:]:
            did = [held for held in trace.of(undo) if held.order < event.order and held.step >= 0]
            made = [held for held in trace.of(brings) if did and did[-1].order < held.order < event.order]
            others = [held for held in trace.of("wait", "check") if did and did[-1].order < held.order < event.order]
            if len(made) != 1 or others or event.conditional or len(asking) > 1:
                continue
            spoiled, moved = drop_all(procedure, [spot(made[0])])
            # The sentence of the step may still say that it is cold: it is worded anew from its actions.
            spoiled = change(spoiled, moved[event.step], event.number, note="")
            text = f"the {fastener.name} is tightened before it is {fastener.tighten_when}"
            yield Planted(spoiled, catalogue, moved[event.step], fastener.id, text)
