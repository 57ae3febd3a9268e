"""Plants the wrong tool: one whose scale does not hold the torque, one that does not fit the head."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import play
from torquewright.records import Catalogue, Fastener, Procedure, Tightening, Tool
from torquewright.rules.editing import actions, change, joint_of
from torquewright.rules.registry import Planted, planter
from torquewright.rules.softparts import overload
from torquewright.rules.tools import clash, is_bit, reach, told


@planter("wrench-out-of-range")
def wrench_out_of_range(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Names a torque tool of the list whose scale does not hold the torque."""
    listed = [tool for tool in catalogue.tools or () if tool.low is not None and tool.high is not None]
    for event in play(procedure, catalogue).of("tighten", "retighten"):
        to, joint = event.action.setting or event.action.to, event.joint
        if joint is None or to is None or event.step < 0 or event.conditional:
            continue
        for tool in listed:
            if tool is not event.tool and _cannot(to, tool) and not _too_much(to, joint, tool):
                spoiled = change(procedure, event.step, event.number, tool=tool.id)
                yield Planted(spoiled, catalogue, event.step, joint.id, f"{tool.name} for {to.text}")


def _cannot(to: Tightening, tool: Tool) -> bool:
    torques = [stage.torque for stage in to.stages if stage.torque is not None and stage.torque.unit]
    return any(reach(torque, tool) != "" for torque in torques)


def _too_much(to: Tightening, joint: Fastener, tool: Tool) -> bool:
    """Whether the tool's deviation would be too much for the weakest part, which is a fault of its own."""
    return any(overload(joint, stage.torque, tool) is not None for stage in to.stages if stage.torque is not None)


@planter("wrong-drive-bit")
def wrong_drive_bit(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Names a bit or socket of the list that does not fit the head."""
    bits = [tool for tool in catalogue.tools or () if is_bit(tool)]
    for step, number, action in actions(procedure):
        joint = joint_of(action, catalogue)
        held = catalogue.tool(action.tool) if action.tool else None
        if joint is None or joint.drive is None or held is None or not is_bit(held):
            continue
        if held.drive is None or clash(joint.drive, held.drive):
            continue
        for tool in bits:
            if tool.drive is not None and clash(joint.drive, tool.drive):
                spoiled = change(procedure, step, number, tool=tool.id)
                yield Planted(spoiled, catalogue, step, joint.id, f"{told(tool.drive)} for {told(joint.drive)}")
                break
