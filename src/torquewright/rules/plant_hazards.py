"""Plants what can hurt: a load left on its jack, energy not let out, a terminal done by feel."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Event, Trace, play
from torquewright.records import Catalogue, Procedure
from torquewright.rules import hazards
from torquewright.rules.demands import targets
from torquewright.rules.editing import change, drop_all
from torquewright.rules.registry import Planted, planter
from torquewright.rules.terminals import marked_terminal


@planter(hazards.LOAD)
def raised_load_unsupported(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Nothing holds or lets down the load ahead of the first joint that carries it, or after it was jacked up."""
    trace = play(procedure, catalogue)
    if any(event.step < 0 for event in trace.of("support", "insert", "lower")):
        return
    carrying = _first_opened(trace, "gravity")
    if carrying is not None:
        opened, key = carrying
        holds = [
            event for event in trace.events[: opened.order]
            if event.verb in ("support", "lower", "insert")
            or (event.verb == "isolate" and any(word in event.action.what for word in ("gravity", "load", "weight")))
        ]  # fmt: skip
        edited, moved = drop_all(procedure, [(event.step, event.number) for event in holds])
        yield Planted(edited, catalogue, moved[opened.step], key, "nothing holds the load")
    for raised in trace.of("raise"):
        if "jack" not in raised.action.tool or raised.step < 0:
            continue
        holds = [event for event in trace.of("support") if event.order > raised.order]
        work = next((event for event in trace.events if event.order > raised.order and event.joint is not None), None)
        if len(holds) == 1 and work is not None and holds[0].order < work.order and work.verb in ("remove", "loosen"):
            edited, moved = drop_all(procedure, [(holds[0].step, holds[0].number)])
            text = f"the {raised.action.what} is left on the jack"
            yield Planted(edited, catalogue, moved[work.step], work.joint.id if work.joint else "", text)


def _first_opened(trace: Trace, kind: str) -> tuple[Event, str] | None:
    """The event that opens the first joint with this energy behind it, and the joint."""
    found: tuple[Event, str] | None = None
    for key, track in trace.joints.items():
        if kind in track.fastener.energy:
            opened = next(
                (event for event in track.events if event.verb in ("loosen", "remove", "disconnect")
                 and not event.action.of and not event.conditional and event.step >= 0), None,
            )  # fmt: skip
            if opened is not None and (found is None or opened.order < found[0].order):
                found = opened, key
    return found


_LETS_OUT = {
    "pressure": ("pressure", "supply", "valve", "air", "gauge"), "spring": ("spring",), "thermal": ("",),
    "electrical": ("electric", "battery", "output", "supply", "dead"), "fuel": ("fuel",),
}  # fmt: skip


@planter(hazards.ENERGY)
def stored_energy_not_released(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """What lets one kind of energy out is left out."""
    trace = play(procedure, catalogue)
    kinds = {kind for track in trace.joints.values() for kind in track.fastener.energy}
    for kind in sorted(kinds & set(_LETS_OUT)):
        first = _first_opened(trace, kind)
        if first is None:
            continue
        opened, key = first
        verbs = ("cool_down",) if kind == "thermal" else ("isolate", "bleed", "check")
        ahead = [event for event in trace.of(*verbs) if event.order < opened.order]
        named = [event for event in ahead if any(word in event.action.what for word in _LETS_OUT[kind])]
        if any(event.step < 0 for event in ahead) or (kind != "thermal" and len(kinds & set(_LETS_OUT)) > 1
                                                       and any(event.action.what == "supply" for event in named)):
            continue  # one act lets out several kinds: leaving it out would be several faults
        edited, moved = drop_all(procedure, [(event.step, event.number) for event in named])
        yield Planted(edited, catalogue, moved[opened.step], key, f"nobody lets out what is behind the joint: {kind}")


@planter(hazards.LUG)
def electrical_lug_by_feel(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """A terminal is tightened without its figure, or with a tool that shows none."""
    for target in targets(play(procedure, catalogue)):
        event = target.pull.event
        if not marked_terminal(target.sequence.track.fastener) or not target.last or target.before is not None:
            continue
        spoiled = change(procedure, event.step, event.number, to=None)
        yield Planted(spoiled, catalogue, event.step, target.joint, "no figure for a terminal")
        if event.verb == "tighten":
            spoiled = change(procedure, event.step, event.number, tool="ratchet")
            yield Planted(spoiled, catalogue, event.step, target.joint, "a terminal done with a ratchet")
