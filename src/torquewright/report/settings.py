"""What to set the wrench to: for each tightening the setting of the tool named, or of the best one at hand, in its own
unit and on its own scale, and the torque that then really arrives at the fastener.

Worked out only for a report that shows it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from torquewright.base.figures import decimals_for, neat
from torquewright.base.units import UNITS, from_si
from torquewright.joint.wrench import Window, arriving, best_setting
from torquewright.reading.job import Job
from torquewright.records import Action, Catalogue, Fastener, Tool, Torque
from torquewright.rules.joint_tools import adapter_of, band_of, gain_of
from torquewright.rules.pulls import torque_of
from torquewright.rules.softparts import deviation

_SETS = frozenset({"tighten", "retighten"})
_SKIPPED = frozenset({"do_not", "mentioned_only"})


class WrenchSetting(NamedTuple):
    """One setting. ``step`` is the label, ``joint`` and ``tool`` ids, ``named`` whether the step names the tool;
    ``torque`` what is asked for at the fastener, ``low`` and ``high`` its limits (None: one figure alone);
    ``setting`` what the tool is set to, ``gain`` what the adapter multiplies it by, ``drag`` the running torque that
    was added, ``least`` and ``most`` what arrives (None: nothing is known of the tool's deviation); all N·m.
    ``told`` is the setting in the tool's unit and scale; ``inside`` whether all of it lies inside the limits."""

    step: str
    joint: str
    tool: str
    named: bool
    torque: float
    low: float | None
    high: float | None
    adapter: str
    gain: float
    drag: float
    setting: float
    told: str
    unit: str
    least: float | None
    most: float | None

    @property
    def inside(self) -> bool | None:
        """None where there are no limits, or the deviation is not known."""
        if self.low is None or self.high is None or self.least is None or self.most is None:
            return None
        slack = 1e-9 * self.high
        return self.low - slack <= self.least and self.most <= self.high + slack


def settings_of(job: Job) -> list[WrenchSetting]:
    """The settings of every tightening to a torque, in the order of the steps; nothing where no tool has a scale."""
    catalogue, procedure = job.catalogue, job.procedure
    tools = [tool for tool in catalogue.tools or () if tool.low is not None and tool.high is not None]
    if procedure is None or not tools:
        return []
    found = []
    for step in procedure.steps:
        for action in step.actions:
            joint = catalogue.fastener(action.what)
            if joint is None or action.of or action.verb not in _SETS or action.mode in _SKIPPED or action.to is None:
                continue
            for stage in action.to.stages:
                torque = torque_of(stage)
                if torque is not None:
                    held = _setting(step.label, action, joint, torque, catalogue, tools)
                    if held is not None:
                        found.append(held)
    return found


def _setting(
    label: str, action: Action, joint: Fastener, torque: Torque, catalogue: Catalogue, tools: list[Tool]
) -> WrenchSetting | None:
    named = catalogue.tool(action.tool) if action.tool else None
    gain, adapter = _lever(action, named, catalogue)
    if gain is None or torque.target is None:
        return None  # nobody can say what the adapter does
    drag = joint.prevailing.value if action.to is not None and action.to.added and joint.prevailing is not None else 0.0
    if action.to is not None and action.to.added and not drag:
        return None  # it is known only once it was measured
    record = joint.tightening
    band = band_of(record.stages, torque) if record is not None else band_of((), torque)
    low, high = (band[0] + drag, band[1] + drag) if band is not None else (torque.target + drag,) * 2
    aim = None if torque.nominal is None else torque.nominal + drag
    choices = [named] if named is not None and named.high is not None else tools
    stated = action.setting.torque if action.setting is not None else None
    best: tuple[tuple[bool, float, float], WrenchSetting] | None = None
    for tool in choices:
        share, _ = deviation(tool)
        if stated is not None and stated.unit and stated.target is not None:
            setting: float | None = stated.target
        else:
            top = min(high, low * (1 + share) / (1 - share) * _NARROW) if _pinned(joint) and low < high else high
            setting = _best(tool, aim, low, top, gain, share)
        if setting is None:
            continue
        least, most = arriving(setting, gain, share) if share else (None, None)
        made = WrenchSetting(
            label, joint.id, tool.id, tool is named, torque.target, low if band else None, high if band else None,
            adapter, gain, drag, setting, scale_text(setting, tool), tool.unit, least, most,
        )  # fmt: skip
        # of several tools the one that lands inside, then the most exact, then the one used highest on its scale
        rank = (made.inside is False, share or 1.0, tool.high or 0.0)
        if best is None or rank < best[0]:
            best = rank, made
    return best[1] if best is not None else None


_NARROW = 1.03  # room for the steps of a scale


def _pinned(joint: Fastener) -> bool:
    """Whether a pin goes through a slot of the nut: one starts at the lower limit and goes on to the next slot."""
    kind = joint.lock.kind if joint.lock is not None else ""
    return "cotter" in kind or "split pin" in kind


def _lever(action: Action, named: Tool | None, catalogue: Catalogue) -> tuple[float | None, str]:
    adapter = adapter_of(catalogue, action)
    if adapter is None:
        return 1.0, ""
    return gain_of(action, named, adapter[1]), adapter[0]


def _best(tool: Tool, aim: float | None, low: float, high: float, gain: float, share: float) -> float | None:
    """The setting on the usable part of the scale for the figure to ``aim`` at, where what arrives then lies inside the
    limits; else the one that suits the limits best. N·m; None where none comes near."""
    assert tool.low is not None
    assert tool.high is not None
    window = Window(max(tool.low, tool.usable_low or 0.0), tool.high, share, tool.step or 0.0, tool.low)
    near = best_setting(window, aim, aim, gain) if aim is not None else None
    if near is not None and (low == high or (low <= near.low and near.high <= high)):
        return near.setting
    found = best_setting(window, low, high, gain) or near
    return None if found is None else found.setting


def scale_text(setting: float, tool: Tool) -> str:
    """A setting (N·m) in the unit of a tool, with the digits its scale has."""
    unit = tool.unit if tool.unit in UNITS else "N·m"
    value = from_si(setting, unit)
    if tool.step:
        return f"{value:.{decimals_for(from_si(tool.step, unit) / 2)}f} {unit}"
    return f"{neat(value, 3)} {unit}"


def settings_lines(job: Job, width: int, doubted: frozenset[tuple[str, str]] = frozenset()) -> Iterator[str]:
    """A table of the settings for people: step, joint, tool, setting, what arrives. ``doubted`` are the steps and
    joints with a finding: nobody shall set a wrench by a figure that is in question."""
    held = settings_of(job)
    if not held:
        return
    names = {record.id: record.name for record in job.catalogue.fasteners}
    names |= {tool.id: tool.name for tool in job.catalogue.tools or ()}
    rows = [
        (
            f"step {row.step}", names.get(row.joint, row.joint), names.get(row.tool, row.tool), _set_to(row, names),
            _gives(row) + ("; see above" if (row.step, row.joint) in doubted else ""),
        )
        for row in held
    ]  # fmt: skip
    widths = [max(len(row[at]) for row in rows) for at in range(4)]
    narrow = 4 + sum(widths) + 8 + max(len(row[4]) for row in rows) > width
    for row in rows:
        if narrow:
            yield f"    {row[0]}: {row[1]}: {row[3]} on the {row[2]}"
            yield f"      {row[4]}"
        else:
            yield ("    " + "  ".join(cell.ljust(room) for cell, room in zip(row, (*widths, 0), strict=True))).rstrip()


def _set_to(row: WrenchSetting, names: dict[str, str]) -> str:
    told = row.told
    if row.adapter:
        told += f" with the {names.get(row.adapter, row.adapter)}"
    return told


def _gives(row: WrenchSetting) -> str:
    if row.least is None or row.most is None:
        return "its deviation is not known"
    unit = row.unit if row.unit in UNITS else "N·m"
    told = f"gives {neat(from_si(row.least, unit), 3)} to {neat(from_si(row.most, unit), 3)} {unit}"
    if row.inside is False and row.low is not None and row.high is not None:
        told += f", not all within {neat(from_si(row.low, unit), 3)} to {neat(from_si(row.high, unit), 3)}"
    return told + (" (drag included)" if row.drag else "")


def plain_settings(job: Job) -> list[dict[str, Any]]:
    """The settings for programs: torques in N·m, and the setting in the tool's own unit."""
    return [
        {
            "step": row.step, "joint": row.joint, "tool": row.tool, "named": row.named, "torque_nm": row.torque,
            "low_nm": row.low, "high_nm": row.high, "adapter": row.adapter, "gain": row.gain, "drag_nm": row.drag,
            "setting": row.told, "setting_nm": row.setting, "unit": row.unit, "arriving_low_nm": row.least,
            "arriving_high_nm": row.most, "inside": row.inside,
        }
        for row in settings_of(job)
    ]  # fmt: skip
