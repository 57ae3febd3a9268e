"""Items with a number or a tool for an answer: conversions, a setting with an adapter, which wrench can do it."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

from attrs import evolve

from torquewright.base.figures import show
from torquewright.base.units import UNITS, from_si
from torquewright.joint.wrench import gain, setting_for
from torquewright.quiz.items import Choice, Figure, Item
from torquewright.records import Action, Catalogue, Fastener, Procedure, Tool
from torquewright.rules.editing import change
from torquewright.verdict import check_records

_SP811 = "NIST SP 811, 2008, appendix B (standard)"
_ADAPTER = "FAA AC 43.13-1B, 1998, 7-40 and figure 7-2 (handbook); US Army TM 9-254, 4-1d (manual)"
_ARMS = (0.30, 0.35, 0.40, 0.45)
_OFFSETS = (0.05, 0.06, 0.08, 0.10)
_BORROWED = ((40.0, 200.0), (1.0, 5.0))


def _demands(procedure: Procedure, catalogue: Catalogue) -> Iterator[tuple[int, int, Action, Fastener, float]]:
    """(step index, number, action, record, figure in N·m) of each demand of one figure."""
    for index, step in enumerate(procedure.steps):
        for number, action in enumerate(step.actions):
            record = catalogue.fastener(action.what)
            if action.verb != "tighten" or action.mode != "do" or record is None or action.to is None:
                continue
            torque = action.to.torque
            if torque is not None and torque.unit and torque.nominal is not None and len(action.to.stages) == 1:
                yield index, number, action, record, torque.nominal


def conversions(procedure: Procedure, catalogue: Catalogue, name: str) -> Iterator[Item]:
    """Turn a demand into the unit of the other system; once for each joint and figure."""
    seen: set[tuple[str, float]] = set()
    for index, _, action, record, target in _demands(procedure, catalogue):
        torque = action.to.torque if action.to else None
        if torque is None or (record.id, target) in seen:
            continue
        seen.add((record.id, target))
        unit = "N·m"
        if torque.unit == "N·m":
            unit = "lbf·in" if target < 20 else "lbf·ft"
        factor = UNITS[torque.unit].factor / UNITS[unit].factor
        written = show(target, torque.unit, torque.half)
        yield _number(
            f"{name}-number-{record.id}-{written.replace(' ', '')}",
            f"The {record.name} is to be tightened to {written}. Your wrench reads {unit}. What do you set?",
            (),
            target,
            unit,
            f"{written} × {factor:.6g} = {show(target, unit, torque.half)}. The digits survive a slip of the unit; "
            "the torque does not.",
            (_SP811,),
            procedure,
            catalogue,
            2,
            f"step {procedure.steps[index].label}",
        )


def limits(procedure: Procedure, catalogue: Catalogue, name: str) -> Iterator[Item]:
    """Where on the scale of the other system the limits of a record are; once for each record that has two."""
    tightened = {record.id: (index, record) for index, _, _, record, _ in _demands(procedure, catalogue)}
    for index, record in tightened.values():
        torque = record.tightening.torque if record.tightening else None
        if torque is None or not torque.unit or torque.low is None or torque.high is None:
            continue
        unit = "N·m"
        if torque.unit == "N·m":
            unit = "lbf·in" if torque.high < 20 else "lbf·ft"
        factor = UNITS[torque.unit].factor / UNITS[unit].factor
        for end, value in (("lower", torque.low), ("upper", torque.high)):
            written = show(value, torque.unit, torque.half)
            yield _number(
                f"{name}-number-{record.id}-{end}",
                f"The {record.name} may be tightened to no less than {show(torque.low, torque.unit, torque.half)} and "
                f"no more than {show(torque.high, torque.unit, torque.half)}. Your wrench reads {unit}. "
                f"Where on its scale is the {end} limit?",
                (),
                value,
                unit,
                f"{written} × {factor:.6g} = {show(value, unit, torque.half)}. "
                "The middle of the band is no limit: who takes it for one has given the tolerance away.",
                (_SP811,),
                procedure,
                catalogue,
                3,
                f"step {procedure.steps[index].label}",
            )


def adapters(procedure: Procedure, catalogue: Catalogue, dice: Random, name: str) -> Iterator[Item]:
    """The setting of a wrench with an adapter straight ahead of it; arm and adapter are made up for the item."""
    seen: set[str] = set()
    for index, _, action, record, target in _demands(procedure, catalogue):
        if record.id in seen or target < 10:
            continue
        seen.add(record.id)
        arm = _ARMS[int(dice.random() * len(_ARMS))]
        offset = _OFFSETS[int(dice.random() * len(_OFFSETS))]
        setting = setting_for(target, gain(arm, offset))
        torque = action.to.torque if action.to else None
        if torque is None:
            continue
        written = show(target, torque.unit, torque.half)
        yield _number(
            f"{name}-number-{record.id}-adapter",
            f"The {record.name} needs {written}. It can only be reached with a {offset * 1000:.0f} mm adapter "
            f"straight ahead of a wrench whose arm is {arm * 1000:.0f} mm long (both made up). What do you set, in "
            f"{torque.unit}?",
            (),
            setting,
            torque.unit,
            f"Setting = torque × arm / (arm + adapter) = {written} × {arm * 1000:.0f} / "
            f"{(arm + offset) * 1000:.0f}. Set to the full figure, the joint would get "
            f"{show(target * (arm + offset) / arm, torque.unit, torque.half)}.",
            (_ADAPTER,),
            procedure,
            catalogue,
            4,
            f"step {procedure.steps[index].label}",
        )


def _number(
    key: str, ask: str, lead: tuple[str, ...], value_si: float, unit: str, because: str, sources: tuple[str, ...],
    procedure: Procedure, catalogue: Catalogue, difficulty: int, where: str,
) -> Item:  # fmt: skip
    value = from_si(value_si, unit)
    # One per cent, at least half a unit of the second figure: nobody sets a wrench closer than that.
    tolerance = max(0.01 * value, 0.05 if value < 10 else 0.5 if value < 100 else 1.0)
    shown = f"{value:.{1 if value < 10 else 0}f} {unit}"
    return Item(
        id=key, kind="number", ask=ask, lead=lead, steps=(), choices=(), rule="torque-unit-mixed-up",
        consequence="part destroyed", because=because, instead="", sources=sources, changed=where,
        difficulty=difficulty, procedure=procedure, catalogue=catalogue, figure=Figure(value, tolerance, unit, shown),
    )  # fmt: skip


def wrenches(procedure: Procedure, catalogue: Catalogue, name: str) -> Iterator[Item]:
    """Which of the torque tools at hand can do a demand: asked only where exactly one can, as the engine finds."""
    tools = [tool for tool in catalogue.tools or () if tool.low is not None and tool.high is not None]
    if len(tools) < 2:
        return
    for index, number, action, record, target in _demands(procedure, catalogue):
        if len(tools) == 2:
            # Two answers are a toss of a coin: a third wrench is borrowed, and judged like the others.
            low, high = next((low, high) for low, high in _BORROWED if not low <= target <= high)
            borrowed = evolve(tools[0], id="borrowed", name="borrowed torque wrench", aliases=(), low=low, high=high,
                              unit="N·m", usable_low=None, half=0.5, calibrated_until="")  # fmt: skip
            lent = evolve(catalogue, tools=(*(catalogue.tools or ()), borrowed))
        else:
            borrowed, lent = None, catalogue
        offered = [*tools, borrowed] if borrowed else tools
        fit: list[tuple[Tool, str]] = []
        for tool in offered:
            tried = change(procedure, index, number, tool=tool.id)
            found = [
                remark.because
                for remark in check_records(tried, lent).remarks
                if remark.rule == "wrench-out-of-range" and remark.joint == record.id
            ]
            fit.append((tool, found[0] if found else ""))
        right = [tool for tool, why in fit if not why]
        if len(right) != 1 or action.to is None:
            continue
        fit.sort(key=lambda held: (held[0].low or 0.0, held[0].high or 0.0))
        choices = [_choice(tool, why) for tool, why in fit]
        yield Item(
            id=f"{name}-tool-{record.id}-{procedure.steps[index].label}",
            kind="tool",
            ask=f"The {record.name} is to be tightened to {action.to.text}. Which of these wrenches do you take?",
            lead=(),
            steps=(),
            choices=tuple(choices),
            rule="wrench-out-of-range",
            consequence="part destroyed",
            because="Below its scale a wrench clicks late or never; above it there is nothing to set.",
            instead=f"Take the {right[0].name}.",
            sources=("ISO 6789-1, 2017, range (standard)",),
            changed=f"step {procedure.steps[index].label}",
            difficulty=2,
            procedure=evolve(procedure),
            catalogue=lent,
        )


def _choice(tool: Tool, why: str) -> Choice:
    assert tool.low is not None
    assert tool.high is not None
    scale = f"{show(tool.low, tool.unit or 'N·m', tool.half)} to {show(tool.high, tool.unit or 'N·m', tool.half)}"
    return Choice(f"The {tool.name}, {scale}", not why, why or "Its scale holds the value.", ("", "", tool.id))
