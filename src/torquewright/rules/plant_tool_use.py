"""Plants the wrong use of a tool: an impact tool for the last pull, a torque wrench to loosen with, a wrench that is
no longer named, a calibration that has run out."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from torquewright.base.units import UNITS
from torquewright.bench import play
from torquewright.records import Catalogue, Procedure, Tool
from torquewright.rules.editing import change
from torquewright.rules.registry import Planted, planter
from torquewright.rules.tool_use import IMPACT, LAPSED, LOOSENED, MIXED, scales


@planter(IMPACT)
def impact(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Makes the last pull on a joint with an impact wrench."""
    seen: set[int] = set()
    for key, track in play(procedure, catalogue).joints.items():
        record = track.fastener.tightening
        last = {lot.run.last.order: lot.run.last for lot in track.lots if lot.run.last is not None}
        for order, event in sorted(last.items()):
            to = event.action.to
            figure = (record is not None and record.has_value) or (to is not None and to.has_value)
            if order in seen or event.step < 0 or event.conditional or event.verb != "tighten" or not figure:
                continue
            if event.action.setting is not None or event.action.adapter or to is None or not to.has_value:
                continue
            seen.add(order)
            spoiled = change(procedure, event.step, event.number, tool="impact wrench")
            yield Planted(spoiled, catalogue, event.step, key, "the last pull is made with an impact wrench")


@planter(LOOSENED)
def loosened(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Breaks a joint loose with the first torque wrench or driver of the list."""
    clicks = [
        tool for tool in catalogue.tools or () if tool.kind in ("torque wrench", "torque driver") and not tool.loosens
    ]
    words = clicks[0].id if clicks else "torque wrench"
    seen: set[int] = set()
    for key, track in play(procedure, catalogue).joints.items():
        for _, run in track.runs():
            event = run.opened
            if event is None or event.order in seen or event.step < 0 or event.action.by_hand:
                continue
            if event.verb in ("loosen", "remove", "disconnect") and not event.action.of:
                seen.add(event.order)
                spoiled = change(procedure, event.step, event.number, tool=words)
                yield Planted(spoiled, catalogue, event.step, key, "it is broken loose with a torque wrench")


@planter(MIXED)
def mixed(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Lays a wrench in pounds beside the one in newton metres (or the other way round), and names neither."""
    for event in play(procedure, catalogue).of("tighten", "retighten"):
        to, joint, tool = event.action.to, event.joint, event.tool
        if joint is None or to is None or tool is None or tool.high is None or event.step < 0 or event.conditional:
            continue
        if to.also or event.action.setting is not None or len(to.stages) != 1 or to.torque is None:
            continue
        torque, named = to.torque, [action.tool for action in procedure.steps[event.step].actions if action.tool]
        if torque.target is None or torque.unit != tool.unit or len(named) != 1:
            continue
        unit = "lbf·ft" if torque.unit == "N·m" else "N·m"
        figure = torque.target / UNITS[torque.unit].factor * UNITS[unit].factor
        low, high = figure * 0.95, figure * 1.05  # so narrow that no other figure stands on it
        second = Tool("other-wrench", "other wrench", kind="torque wrench", low=low, high=high, unit=unit)
        laid = evolve(catalogue, tools=(*(catalogue.tools or ()), second))
        if scales(catalogue) and catalogue.tool("other-wrench") is None:
            spoiled = change(procedure, event.step, event.number, tool="")
            yield Planted(spoiled, laid, event.step, joint.id, f"two wrenches on the bench, one in {unit}, none named")


@planter(LAPSED)
def lapsed(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Lets the calibration of each tool in use run out before the day of the job."""
    dated = procedure if procedure.job_date else evolve(procedure, job_date="2027-02-01")
    seen: set[str] = set()
    for event in play(procedure, catalogue).of("tighten", "retighten", "check", "measure"):
        tool = event.tool
        if tool is None or tool.id in seen or not tool.calibrated_until:
            continue
        seen.add(tool.id)
        if event.step < 0:
            continue
        tools = tuple(evolve(held, calibrated_until="2020-01-31") if held is tool else held
                      for held in catalogue.tools or ())  # fmt: skip
        joint = event.joint.id if event.joint is not None else ""
        yield Planted(dated, evolve(catalogue, tools=tools), event.step, joint, f"the {tool.name} is out of date")
