"""Plants what is forgotten once a joint is closed: checks, looks, records, things left inside."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.base.units import UNITS
from torquewright.bench import Event, play
from torquewright.book.policies import policy
from torquewright.records import Action, Catalogue, Procedure, Stage
from torquewright.rules import afterwards, orders, proof
from torquewright.rules.demands import figure, told
from torquewright.rules.editing import drop_all, insert
from torquewright.rules.plant_locks import closed, spot
from torquewright.rules.registry import Planted, planter


@planter(afterwards.MISSED)
def retorque_missed(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """The later check of torque is left out."""
    trace = play(procedure, catalogue)
    for fastener, lot in closed(trace):
        if fastener.retorque is None or fastener.retorque.policy != "required":
            continue
        pulls = [pull.event for pull in lot.run.pulls]
        checks = [event for event in pulls if event.verb == "retighten"]
        last = [event for event in pulls if event.verb != "retighten"]
        if not checks or not last or checks[0].order < last[-1].order:
            continue
        edited, moved = drop_all(procedure, [spot(event) for event in checks])
        yield Planted(edited, catalogue, moved[last[-1].step], fastener.id, f"nobody comes back to the {fastener.name}")


@planter(afterwards.FORBIDDEN)
def retorque_forbidden(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """A joint that must not be touched is checked once more at the end of the last run."""
    trace = play(procedure, catalogue)
    for fastener, lot in closed(trace):
        if fastener.retorque is None or fastener.retorque.policy != "forbidden":
            continue
        last = lot.run.pulls[-1].event
        to = next((pull.event for pull in reversed(lot.run.pulls) if pull.event.verb == "tighten"), last)
        run = next((event for event in reversed(trace.of("run", "stop")) if event.order > last.order), None)
        if run is None or run.step < 0:
            continue
        demand = to.action.to
        if demand is not None and fastener.tightening is not None and fastener.tightening.angles:
            # The torque ahead of a turn only feels whether the bolt holds; what breaks it is more.
            torque = demand.torque
            if torque is None or torque.target is None or torque.unit not in UNITS:
                continue
            demand = told((Stage(figure(torque.target * 1.6, torque.unit)),))
        again = Action("retighten", fastener.id, to=demand, tool=to.action.tool)
        touched = insert(procedure, run.step, run.number + 1, again)
        text = f"the {fastener.name} is tightened once more"
        companions = frozenset({orders.STATE} if fastener.tighten_when else ())
        yield Planted(touched, catalogue, run.step, fastener.id, text, companions)


@planter(afterwards.LEAK)
def leak_check_missing(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """The look for leaks at one joint is left out."""
    trace = play(procedure, catalogue)
    for fastener, lot in closed(trace):
        looks = [event for event in trace.of("check_leak") if event.joint is fastener]
        general = [event for event in trace.of("check_leak") if event.joint is None]
        last = lot.run.pulls[-1].event
        runs = [held.event for held in trace.running if held.event.order > last.order and held.event.joint is None]
        if not fastener.fluid or not looks or general or not runs or last.verb == "retighten":
            continue
        edited, moved = drop_all(procedure, [spot(event) for event in looks])
        if runs[0].conditional or runs[0].step < 0:
            continue
        text = f"nobody looks whether the {fastener.name} leaks"
        yield Planted(edited, catalogue, moved[runs[0].step], fastener.id, text)


@planter(proof.LOOK)
def second_look_missing(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """The look of the second person at one joint is left out."""
    trace = play(procedure, catalogue)
    by_trade = policy(catalogue.policy).second_look == "safety"
    for fastener, lot in closed(trace):
        asked = fastener.independent_check or (by_trade and fastener.safety and fastener.independent_check is None)
        looks = [event for event in trace.of("check", "inspect") if event.joint is fastener and event.step >= 0]
        if not asked or not looks:
            continue
        locks = [event for event in trace.joints[fastener.id].events if event.verb == "lock"]
        done = max([lot.run.pulls[-1].event, *locks], key=lambda event: event.order)
        edited, moved = drop_all(procedure, [spot(event) for event in looks])
        yield Planted(edited, catalogue, moved[done.step], fastener.id, f"only one has seen the {fastener.name}")


@planter(proof.RECORD)
def no_as_tightened_record(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Neither mark nor record is made of one joint."""
    trace = play(procedure, catalogue)
    for fastener, lot in closed(trace):
        last = _tightened(lot.run.pulls[-1].event, [pull.event for pull in lot.run.pulls])
        kept = [event for event in trace.of("mark", "record") if event.order > last.order]
        own = [event for event in kept if event.joint is fastener]
        if not fastener.safety or not own or any(event.joint is None for event in kept) or not _has_value(last):
            continue
        edited, moved = drop_all(procedure, [spot(event) for event in own])
        text = f"nothing shows that the {fastener.name} is done"
        yield Planted(edited, catalogue, moved[last.step], fastener.id, text)


def _tightened(last: Event, pulls: list[Event]) -> Event:
    return next((event for event in reversed(pulls) if event.verb != "retighten"), last)


def _has_value(event: Event) -> bool:
    return event.action.to is not None and event.action.to.has_value


@planter(proof.LEFT)
def tools_and_rags_not_counted(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """What was put in for the job only is not taken out again, or one piece of it stays in."""
    trace = play(procedure, catalogue)
    for put in trace.of("insert"):
        item = proof.lent(trace, put)
        out = [event for event in trace.of("take_out") if event.order > put.order and proof.same(event, item)]
        if not item or len(out) != 1 or put.step < 0:
            continue
        edited, moved = drop_all(procedure, [spot(out[0])])
        yield Planted(edited, catalogue, moved[put.step], "", f"the {item} stays in")
