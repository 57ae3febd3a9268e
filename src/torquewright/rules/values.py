"""Figures that are not the record's: off its window, in another unit, twelve times too much or too little."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Trace
from torquewright.rules.finding import Certainty, Fact, Finding
from torquewright.rules.fits import ends, printed
from torquewright.rules.joint_soft import soft_parts
from torquewright.rules.judging import judge
from torquewright.rules.pulls import value_path
from torquewright.rules.registry import detector
from torquewright.rules.slips import Slip
from torquewright.rules.softparts import plastic
from torquewright.rules.spot import fastener_place


def _finding(rule: str, certainty: Certainty, slip: Slip, facts: dict[str, Fact], form: str = "") -> Finding:
    event, joint = slip.pull.event, slip.track.fastener
    tool = event.tool
    return Finding(
        rule,
        certainty,
        event.step if event.step >= 0 else None,
        joint.id,
        facts,
        value_path(slip.pull),
        also=(fastener_place(joint.id, "tightening"),),
        form=form,
        unit=tool.unit if tool is not None and tool.unit else slip.torque.unit,
    )


def _offending(slip: Slip) -> float:
    """The end of the step's figure that is out."""
    low, high = ends(slip.torque)
    return low if slip.side == "below" else high


@detector("step-torque-off-record")
def step_torque_off_record(trace: Trace) -> Iterator[Finding]:
    """A demanded torque lies outside what the record asks for at that stage."""
    for slip in judge(trace).slips:
        if slip.kind not in ("off", "near", "by hand"):
            continue
        facts: dict[str, Fact] = {"torque": _offending(slip)}
        form, certainty = _form(slip, facts)
        yield _finding("step-torque-off-record", certainty, slip, facts, form)


def _form(slip: Slip, facts: dict[str, Fact]) -> tuple[str, Certainty]:
    """Which wording tells the slip; fills in the record's figures."""
    if slip.kind == "by hand":
        return "by-hand", "certain"
    low, high = slip.wanted.band if slip.wanted is not None else (None, None)
    if low is not None and low == high:
        facts["wanted"] = low
        return ("no-tolerance", "unstated") if slip.kind == "near" else ("one-figure", "certain")
    if low is not None:
        facts["low"] = low
    if high is not None:
        facts["high"] = high
    if low is None:
        return "at-most", "certain"
    return ("", "certain") if high is not None else ("at-least", "certain")


@detector("torque-unit-mixed-up")
def torque_unit_mixed_up(trace: Trace) -> Iterator[Finding]:
    """A torque is off its record, and would be right if its digits stood for another unit."""
    yield from _misread(trace, "torque-unit-mixed-up", "unit")


@detector("inch-pound-foot-pound-swap")
def inch_pound_foot_pound_swap(trace: Trace) -> Iterator[Finding]:
    """A torque is off its record by a factor of 12: inch pounds and foot pounds are mixed up."""
    yield from _misread(trace, "inch-pound-foot-pound-swap", "twelve")


def _misread(trace: Trace, rule: str, kind: str) -> Iterator[Finding]:
    for slip in judge(trace).slips:
        if slip.kind != kind or slip.misread is None or slip.wanted is None:
            continue
        low, high = ends(slip.wanted)
        facts: dict[str, Fact] = {
            "written": printed(slip.torque), "torque": _offending(slip), "low": low, "high": high,
            "meant": slip.misread.meant,
        }  # fmt: skip
        form = "one-figure" if low == high else ""
        if slip.misread.converted and slip.misread.read_as:
            facts["taken"] = slip.misread.read_as
            form = "converted"
        # Told in the record's unit: the step's own is the one in question.
        yield _finding(rule, "likely", slip, facts, form)._replace(unit=slip.wanted.unit)


@detector("soft-part-overload")
def soft_part_overload(trace: Trace) -> Iterator[Finding]:
    """A demanded torque goes, at the worst the tool can do, beyond what the weakest clamped part takes."""
    judged: set[str] = set()
    for slip in judge(trace).slips:
        beyond = slip.overload
        if beyond is None:
            continue
        joint = slip.track.fastener
        facts: dict[str, Fact] = {"torque": ends(slip.torque)[1], "limit": beyond.limit}
        if beyond.deviation:
            tool = slip.pull.event.tool
            facts |= {"worst": beyond.worst, "deviation": beyond.deviation, "tool": tool.id if tool is not None else ""}
            form = "assumed" if beyond.assumed else "worst-case"
            finding = _finding("soft-part-overload", "likely" if beyond.assumed else "certain", slip, facts, form)
        else:
            form = "" if joint.part_limit is not None else "window"
            finding = _finding("soft-part-overload", "certain", slip, facts, form)
            if not form:
                finding = finding._replace(also=(fastener_place(joint.id, "part-limit"),))
        if form == "window":
            finding.facts["material"] = plastic(joint)
        judged.add(joint.id)
        yield finding
    for finding in soft_parts(trace):
        if finding.joint not in judged:
            yield finding
