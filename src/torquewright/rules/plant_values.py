"""Plants wrong figures: off the record, in another unit, out by a factor of 12, too much for a soft part."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.base.units import UNITS
from torquewright.bench import play
from torquewright.records import Catalogue, Procedure, Torque
from torquewright.rules.demands import Target, figure, targets
from torquewright.rules.editing import change
from torquewright.rules.fits import Misread, ends, fit, misread, printed, same_digits
from torquewright.rules.registry import Planted, planter
from torquewright.rules.softparts import overload
from torquewright.rules.tools import reach

_OFF = (1.24, 0.62, 1.45, 0.52, 1.6)
"""Shares of the record's limits that are no ratio of two units."""


def _fits_nothing(target: Target, torque: Torque) -> bool:
    return all(fit(torque, record) in ("above", "below") or same_digits(torque, record) for record in target.others)


def _planted(procedure: Procedure, catalogue: Catalogue, target: Target, torque: Torque) -> Planted:
    event = target.pull.event
    changed = f"{printed(torque)} for {printed(target.torque)}"
    return Planted(target.planted(procedure, torque), catalogue, event.step, target.joint, changed)


@planter("step-torque-off-record")
def step_torque_off_record(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Exchanges the figure of a pull for one outside the record's limits that no slip of units explains."""
    for target in targets(play(procedure, catalogue)):
        low, high = ends(target.wanted)
        for share in _OFF:
            torque = figure((high if share > 1 else low) * share, target.torque.unit)
            if (
                _fits_nothing(target, torque)
                and misread(torque, target.wanted) is None
                and target.in_order(torque)
                and target.reached(catalogue, torque)
                and not target.softened(torque)
            ):
                yield _planted(procedure, catalogue, target, torque)
                break


@planter("torque-unit-mixed-up")
def torque_unit_mixed_up(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Keeps the digits of a pull and writes another unit behind them."""
    for target in targets(play(procedure, catalogue)):
        unit = {"N·m": "lbf·ft", "lbf·ft": "N·m", "kgf·m": "N·m"}.get(target.torque.unit)
        if unit is None:
            continue
        torque = _in_unit(target.torque, unit)
        slip = misread(torque, target.wanted)
        if slip is None or slip.twelve or not _fits_nothing(target, torque) or target.softened(torque):
            continue
        if target.in_order(torque) and target.reached(catalogue, torque):
            yield _planted(procedure, catalogue, target, torque)


def _in_unit(torque: Torque, unit: str) -> Torque:
    by = UNITS[unit].factor / UNITS[torque.unit].factor
    return Torque((torque.target or 0.0) * by, None, None, unit, torque.half * by)


@planter("inch-pound-foot-pound-swap")
def inch_pound_foot_pound_swap(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Writes a pull in foot pounds with the digits of the inch pounds, or the other way round."""
    for target in targets(play(procedure, catalogue)):
        for right, wrong in (("lbf·ft", "lbf·in"), ("lbf·in", "lbf·ft")):
            torque = _in_unit(figure(target.torque.target or 0.0, right), wrong)
            slip: Misread | None = misread(torque, target.wanted)
            if slip is None or not slip.twelve or not _fits_nothing(target, torque) or target.softened(torque):
                continue
            if target.before is not None and target.after is not None and not target.in_order(torque):
                continue  # the order of the three is what a reader sees first
            if wrong == "lbf·ft" and target.after is not None:
                continue  # the pulls that follow would be lower, which is a fault of its own
            yield _with_the_other_wrench(_planted(procedure, catalogue, target, torque), target, torque)


def _with_the_other_wrench(planted: Planted, target: Target, torque: Torque) -> Planted:
    """The same with a tool that reaches the wrong figure: both wrenches hang on the same wall. Where none does, the
    tool named is out of its range, too."""
    event = target.pull.event
    if target.reached(planted.catalogue, torque):
        return planted
    if event.tool is not None and len(event.action.to.stages if event.action.to else ()) == 1:
        joint = target.sequence.track.fastener
        for tool in planted.catalogue.tools or ():
            if tool.high is not None and reach(torque, tool) == "" and overload(joint, torque, tool) is None:
                return planted._replace(procedure=change(planted.procedure, event.step, event.number, tool=tool.id))
    return planted._replace(companions=frozenset({"wrench-out-of-range"}))


@planter("soft-part-overload")
def soft_part_overload(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Exchanges the last figure of a joint for one that its weakest part does not take."""
    for target in targets(play(procedure, catalogue)):
        if not target.last:
            continue
        limit = target.sequence.track.fastener.part_limit
        stated = limit.torque if limit is not None else None
        most = ends(stated)[1] if stated is not None else ends(target.wanted)[1]
        for share in (1.3, 1.1, 2.0, 3.0):
            torque = figure(most * share, target.torque.unit)
            if target.softened(torque) and target.in_order(torque) and target.reached(catalogue, torque):
                yield _planted(procedure, catalogue, target, torque)
                break
