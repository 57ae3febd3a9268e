"""The wrench and what sits on it: an adapter that changes the lever, a scale too coarse or a tool too rough."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.base.document import Path
from torquewright.bench import Event, Trace
from torquewright.records import Action, Catalogue, Stage, Tool, Torque
from torquewright.rules.finding import Certainty, Fact, Finding
from torquewright.rules.fits import ends, fit
from torquewright.rules.pulls import torque_of
from torquewright.rules.registry import detector
from torquewright.rules.softparts import deviation
from torquewright.rules.spot import at, fastener_place
from torquewright.rules.tools import reach

_PULLS = frozenset({"tighten", "retighten"})

# ---- adapters ----------------------------------------------------------------------------------------------------

SLACK = 0.02
"""How far a setting may be from the one worked out for an adapter; common practice, no source."""
_SQUARE = 0.02  # an adapter this near to square (cosine) changes nothing anybody could set


def adapter_of(catalogue: Catalogue, action: Action) -> tuple[str, Tool | None] | None:
    """What makes the lever of the wrench longer, as named and as recorded; None where nothing does.

    A crowfoot named as the tool itself counts too; a straight extension does not.
    """
    named = action.adapter
    held = catalogue.tool(named or action.tool) if named or action.tool else None
    if not named and (held is None or held.kind != "crowfoot adapter"):
        return None
    if held is not None:
        return None if held.kind == "extension" else (named or held.id, held)
    words = named.lower()
    return None if "extension" in words and "crow" not in words else (named, None)


def gain_of(action: Action, wrench: Tool | None, adapter: Tool | None) -> float | None:
    """By how much the adapter multiplies the setting; None where a length or the angle is not stated."""
    angle = action.adapter_angle
    if angle is None:
        return None
    if angle == 90:
        return 1.0
    if adapter is None or adapter.length is None or wrench is None or wrench is adapter or not wrench.arm:
        return None
    from torquewright.joint.wrench import gain  # few jobs use an adapter

    try:
        return gain(wrench.arm, adapter.length, angle)
    except ValueError:
        return None


@detector("adapter-not-corrected")
def adapter_not_corrected(trace: Trace) -> Iterator[Finding]:
    """An adapter changes the lever of the wrench and its setting is not the one that follows, or none is needed."""
    for event in trace.events:
        action = event.action
        if action.to is None or event.verb not in _PULLS or event.joint is None:
            continue
        adapter = adapter_of(trace.catalogue, action)
        if adapter is None:
            if action.adapter and action.setting is not None:
                yield from _needless(event)
            continue
        wanted = action.to.torque
        if wanted is None or not wanted.unit or wanted.target is None:
            continue
        named, tool = adapter
        factor = gain_of(action, event.tool, tool)
        if factor is None:
            yield _unknown(event, named, tool)
        else:
            yield from _set_wrong(event, named, wanted, factor)


def _set_wrong(event: Event, named: str, wanted: Torque, factor: float) -> Iterator[Finding]:
    setting = event.action.setting.torque if event.action.setting is not None else None
    target = wanted.target or 0.0
    made = setting.target if setting is not None and setting.unit and setting.target is not None else target
    right = target / factor
    half = setting.half if setting is not None else 0.0  # a setting is given in whole divisions
    for low, high in (ends(wanted), _record_band(event, wanted)):
        if low < high and low <= made * factor <= high:
            return  # what arrives is what is asked for, corrected or not
    if abs(made - right) <= SLACK * right + half:
        return
    facts: dict[str, Fact] = {
        "torque": target, "adapter": named, "setting": made, "right": right, "arrives": made * factor,
        "gain": factor, "angle": event.action.adapter_angle or 0.0,
    }  # fmt: skip
    form = "square"
    if event.tool is not None and event.tool.arm and event.action.adapter_angle != 90:
        facts |= {"arm": event.tool.arm, "length": event.tool.arm * (factor - 1)}
        form = "" if setting is not None else "not-set"
    yield _told(event, "likely", facts, form, "setting" if setting is not None else "to")


def _record_band(event: Event, wanted: Torque) -> tuple[float, float]:
    record = event.joint.tightening if event.joint is not None else None
    band = band_of(record.stages, wanted) if record is not None else None
    return (band[0], band[1]) if band is not None else (0.0, 0.0)


def _needless(event: Event) -> Iterator[Finding]:
    action = event.action
    setting = action.setting.torque if action.setting is not None else None
    wanted = action.to.torque if action.to is not None else None
    if setting is None or wanted is None or not setting.target or not wanted.target or not wanted.unit:
        return
    if fit(setting, wanted) == "fits" or abs(setting.target - wanted.target) <= SLACK * wanted.target + setting.half:
        return
    facts: dict[str, Fact] = {
        "torque": wanted.target, "adapter": action.adapter, "setting": setting.target, "arrives": setting.target,
    }  # fmt: skip
    yield _told(event, "likely", facts, "straight", "setting")


def _unknown(event: Event, named: str, tool: Tool | None) -> Finding:
    missing = []
    if event.action.adapter_angle is None:
        missing.append("how the adapter stands to the handle")
    if tool is None or tool.length is None:
        missing.append("the length of the adapter")
    if event.tool is None or event.tool is tool or not event.tool.arm:
        missing.append("the length of the wrench from its square to the middle of its grip")
    facts: dict[str, Fact] = {"adapter": named, "missing": " and ".join(missing) or "a lever that can be worked out"}
    return _told(event, "unstated", facts, "unknown", "adapter" if event.action.adapter else "with")


def _told(event: Event, certainty: Certainty, facts: dict[str, Fact], form: str, key: str) -> Finding:
    assert event.joint is not None
    found = at("adapter-not-corrected", certainty, event, event.joint.id, facts, form, key)
    unit = event.tool.unit if event.tool is not None else ""
    wanted = event.action.to.torque if event.action.to is not None else None
    return found._replace(unit=unit or (wanted.unit if wanted is not None else ""))


# ---- does any setting of the tool land in the band? --------------------------------------------------------------

_HAIR = 1e-9


@detector("tool-wider-than-band")
def tool_wider_than_band(trace: Trace) -> Iterator[Finding]:
    """The tool's own deviation is wider than the band it is to hit, whatever it is set to."""
    yield from _missed(trace, "tool-wider-than-band")


@detector("setting-cannot-hit-band")
def setting_cannot_hit_band(trace: Trace) -> Iterator[Finding]:
    """No mark on the scale keeps what arrives inside the band, though the tool is exact enough."""
    yield from _missed(trace, "setting-cannot-hit-band")


def _missed(trace: Trace, rule: str) -> Iterator[Finding]:
    held = trace.worked.get("missed")
    if held is None:
        held = trace.worked["missed"] = [found for event in trace.events if (found := _judged(trace, event))]
    for found in held:  # type: ignore[attr-defined]  # kept under this name by nobody else
        if found.rule == rule:
            yield found


def _judged(trace: Trace, event: Event) -> Finding | None:
    """What is wrong with the tool of one pull, beside the band that pull must land in."""
    tool, to, joint = event.tool, event.action.to, event.joint
    if to is None or joint is None or tool is None or tool.high is None or tool.low is None:
        return None
    share, assumed = deviation(tool)
    factor = _factor(trace, event)
    if event.verb not in _PULLS or not share or factor is None:
        return None
    stages = joint.tightening.stages if joint.tightening is not None else ()
    for stage in to.stages:
        torque = torque_of(stage)
        band = band_of(stages, torque) if torque is not None else None
        if torque is None or band is None:
            continue
        setting = event.action.setting.torque if event.action.setting is not None else None
        if reach(setting or torque, tool) != "":
            return None  # out of its range, which is another rule's to say
        low, high, recorded = band
        missed = _beside(tool, low, high, share, factor)
        if missed is None:
            continue
        rule, form, facts = missed
        facts |= {"low": low, "high": high, "tool": tool.id, "deviation": share}
        places: list[tuple[str, Path]] = [("tools", ("tool", tool.id, "range" if assumed else "deviation"))]
        if recorded:
            places.append(fastener_place(joint.id, "tightening"))
        form = "-".join(word for word in (form, "assumed" if assumed else "") if word)
        found = at(rule, "unstated" if assumed else "likely", event, joint.id, facts, form, "with", tuple(places))
        return found._replace(unit=tool.unit)
    return None


def _factor(trace: Trace, event: Event) -> float | None:
    """What the setting is multiplied by on its way to the fastener; None where nobody can tell."""
    adapter = adapter_of(trace.catalogue, event.action)
    return 1.0 if adapter is None else gain_of(event.action, event.tool, adapter[1])


def _beside(
    tool: Tool, low: float, high: float, share: float, factor: float
) -> tuple[str, str, dict[str, Fact]] | None:
    """(rule, form, facts) of what keeps ``tool`` from landing between ``low`` and ``high``; None where it can."""
    assert tool.low is not None
    assert tool.high is not None
    least, most = low / factor / (1 - share), high / factor / (1 + share)
    if least > most * (1 + _HAIR):
        middle = (low + high) / 2
        return "tool-wider-than-band", "", {
            "torque": middle, "least": middle * (1 - share), "most": middle * (1 + share),
            "width": (high - low) / (high + low),
        }  # fmt: skip
    first = max(tool.low, tool.usable_low or 0.0)
    end = first if first > most * (1 + _HAIR) else tool.high if tool.high < least * (1 - _HAIR) else None
    if end is not None:
        return "setting-cannot-hit-band", "end", _arriving("", end * factor, share) | {"end": end}
    if tool.step:
        marks = (least - tool.low) / tool.step
        below = tool.low + (marks + 1e-6) // 1 * tool.step
        above = below + tool.step
        if below < least * (1 - 1e-6) and above > most * (1 + 1e-6):
            return "setting-cannot-hit-band", "", {
                "step": tool.step, "below": below, "above": above, **_arriving("below_", below * factor, share),
                **_arriving("above_", above * factor, share),
            }  # fmt: skip
    return None


def _arriving(word: str, torque: float, share: float) -> dict[str, Fact]:
    return {f"{word}least": torque * (1 - share), f"{word}most": torque * (1 + share)}


def band_of(stages: tuple[Stage, ...], torque: Torque) -> tuple[float, float, bool] | None:
    """The band a pull must land in: that of the record's stage it stands for, else its own; None where a single
    figure is all there is. The third value tells whether it is the record's."""
    for stage in reversed(stages):
        record = torque_of(stage)
        if record is None or record.low is None or record.high is None or record.low >= record.high:
            continue
        if fit(torque, record) == "fits":
            return record.low, record.high, True
    if torque.low is not None and torque.high is not None and torque.low < torque.high:
        return torque.low, torque.high, False
    return None
