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
    if carrying is not None and not trace.of("raise"):  # a support may hold what was jacked up, too
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


@planter(hazards.ENERGY)
def stored_energy_not_released(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """What lets one kind of energy out is left out."""
    trace = play(procedure, catalogue)
    kinds = {kind for track in trace.joints.values() for kind in track.fastener.energy} - {"gravity"}
    for kind in sorted(kinds):
        first = _first_opened(trace, kind)
        if first is None or hazards.warned_of(trace, first[0], kind):
            continue
        opened, key = first
        acts = list(hazards.lets_out(trace, opened, kind))
        if not acts or any(event.step < 0 for event in acts) or _shared(trace, acts, kinds - {kind}):
            continue
        edited, moved = drop_all(procedure, [(event.step, event.number) for event in acts])
        yield Planted(edited, catalogue, moved[opened.step], key, f"nobody lets out what is behind the joint: {kind}")


def _shared(trace: Trace, acts: list[Event], kinds: set[str]) -> bool:
    """Whether one of ``acts`` is all that lets out another of ``kinds``: leaving it out would be several faults."""
    for kind in kinds:
        first = _first_opened(trace, kind)
        if first is not None and all(event in acts for event in hazards.lets_out(trace, first[0], kind)):
            return True
    return False


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
