"""What a tool is used for: an impact tool for the last pull, a torque wrench as a breaker bar, the wrong one of two
wrenches, one whose calibration has run out."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.base.document import Path
from torquewright.base.units import UNITS
from torquewright.bench import Event, Trace
from torquewright.records import Catalogue, Tool, Torque
from torquewright.rules.finding import Fact, Finding
from torquewright.rules.pulls import torque_of
from torquewright.rules.registry import detector
from torquewright.rules.spot import at, fastener_place

IMPACT = "impact-tool-final-tighten"
LOOSENED = "torque-wrench-used-to-loosen"
MIXED = "shared-bench-wrench-mix"
LAPSED = "calibration-lapsed"

# ---- the last pull -----------------------------------------------------------------------------------------------

_HAMMERS = ("impact", "rattle gun", "air ratchet", "hammer drill")
_NO_HAMMERS = ("socket", "bit", "adapter", "extension")  # an impact socket sits on any wrench


@detector(IMPACT)
def impact(trace: Trace) -> Iterator[Finding]:
    """The last pull on a joint with a figure is made with a tool that hammers."""
    for key, track in trace.joints.items():
        record = track.fastener.tightening
        seen: set[int] = set()
        for lot in track.lots:
            event = lot.run.last
            if event is None or event.order in seen or not hammers(event) or event.conditional:
                continue
            seen.add(event.order)
            to = event.action.to
            if (record is None or not record.has_value) and (to is None or not to.has_value):
                continue
            facts: dict[str, Fact] = {"tool": event.action.tool}
            yield at(IMPACT, "certain", event, key, facts, key="with")


def hammers(event: Event) -> bool:
    """Whether the tool in hand works by blows. One whose record vouches for what it gives is a nutrunner."""
    tool, verb = event.tool, event.verb
    if verb == "back_off" or not event.action.tool or (tool is not None and tool.deviation is not None):
        return False
    words = f"{tool.kind} {tool.name}" if tool is not None else event.action.tool
    words = words.lower()
    return any(word in words for word in _HAMMERS) and not any(word in words for word in _NO_HAMMERS)


# ---- loosening ---------------------------------------------------------------------------------------------------

_READS = ("dial", "beam")  # these only show; breaking a joint loose with one is how break-away torque is read


@detector(LOOSENED)
def loosened(trace: Trace) -> Iterator[Finding]:
    """A joint that is tight is broken loose with a torque wrench that is set to click."""
    for key, track in trace.joints.items():
        seen: set[int] = set()
        for _, run in track.runs():
            event = run.opened
            if event is None or event.order in seen or not sets_torque(event):
                continue
            if event.verb in ("loosen", "remove", "disconnect", "take_out"):
                seen.add(event.order)
                yield at(LOOSENED, "certain", event, key, {"tool": event.action.tool}, key="with")


def sets_torque(event: Event) -> bool:
    """Whether the tool in hand is a torque wrench or driver that is set, and that nobody lets loosen."""
    tool = event.tool
    if not event.action.tool or (tool is not None and tool.loosens):
        return False
    words = (f"{tool.kind} {tool.name}" if tool is not None else event.action.tool).lower()
    setting = "torque wrench" in words or "torque driver" in words or "torque screwdriver" in words
    return setting and not any(word in words for word in _READS)


# ---- two wrenches --------------------------------------------------------------------------------------------------


def scales(catalogue: Catalogue) -> list[Tool]:
    """The torque tools listed with a scale and its unit."""
    return [tool for tool in catalogue.tools or () if tool.low is not None and tool.high is not None and tool.unit]


@detector(MIXED)
def mixed(trace: Trace) -> Iterator[Finding]:
    """No wrench is named, and the digits of the figure stand on two scales that are in different units."""
    listed = scales(trace.catalogue)
    if len({tool.unit for tool in listed}) < 2:
        return
    for event in trace.events:
        to = event.action.to
        if to is None or event.joint is None or event.verb not in ("tighten", "retighten") or to.also:
            continue
        if event.step < 0 or event.conditional or _named(trace, event, listed):
            continue
        for stage in to.stages:
            torque = torque_of(stage)
            pair = _pair(torque, listed) if torque is not None else None
            if torque is None or pair is None:
                continue
            right, wrong = pair
            facts: dict[str, Fact] = {
                "value": f"{(torque.target or 0.0) / UNITS[torque.unit].factor:.6g}", "unit": torque.unit,
                "right": right.id, "wrong": wrong.id, "other": wrong.unit,
            }  # fmt: skip
            also = tuple(("tools", ("tool", tool.id, "range")) for tool in pair)
            yield at(MIXED, "unstated", event, event.joint.id, facts, key="to", also=also)
            break


def _named(trace: Trace, event: Event, listed: list[Tool]) -> bool:
    """Whether the step says which wrench: by the action, by its sentence, or by an action before it in the step."""
    if event.tool is not None and event.tool.high is not None:
        return True
    if event.tool is None and event.action.tool:
        return True  # a tool of its own, which is on no list
    step = trace.procedure.steps[event.step]
    if any(action.tool and (held := trace.catalogue.tool(action.tool)) and held.high for action in step.actions):
        return True
    said = step.say.lower()
    return any(word and word.lower() in said for tool in listed for word in (tool.id, tool.name, *tool.aliases))


def _pair(torque: Torque, listed: list[Tool]) -> tuple[Tool, Tool] | None:
    """A tool whose scale is in the figure's unit and holds it, and one in another unit whose scale holds its digits."""
    target = torque.target
    if target is None:
        return None
    digits = target / UNITS[torque.unit].factor
    right = next((tool for tool in listed if tool.unit == torque.unit and _on(tool, target)), None)
    wrong = next(
        (tool for tool in listed if tool.unit != torque.unit and _on(tool, digits * UNITS[tool.unit].factor)), None
    )
    return (right, wrong) if right is not None and wrong is not None else None


def _on(tool: Tool, value: float) -> bool:
    slack = 1e-9 * (tool.high or 0.0)
    return (tool.low or 0.0) - slack <= value <= (tool.high or 0.0) + slack


# ---- calibration ---------------------------------------------------------------------------------------------------


@detector(LAPSED)
def lapsed(trace: Trace) -> Iterator[Finding]:
    """The calibration of a torque tool ran out before the day of the job. Days are told as 2027-01-31."""
    day = trace.procedure.job_date
    if not day:
        return
    seen: set[str] = set()
    for event in trace.events:
        tool = event.tool
        if tool is None or not tool.calibrated_until or tool.id in seen:
            continue
        if event.verb not in ("tighten", "retighten", "check", "measure") or tool.calibrated_until >= day:
            continue
        seen.add(tool.id)
        joint = event.joint.id if event.joint is not None else ""
        safety = event.joint is not None and event.joint.safety
        also: list[tuple[str, Path]] = [("tools", ("tool", tool.id, "calibrated-until"))]
        if safety:
            also.append(fastener_place(joint, "safety"))
        facts: dict[str, Fact] = {"tool": tool.id, "until": tool.calibrated_until, "day": day}
        form = "safety" if safety else ""
        yield at(LAPSED, "certain", event, joint, facts, form, "with", tuple(also))
