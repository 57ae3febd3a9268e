"""The tool in hand: a scale that does not hold the figure, a bit or socket that does not fit the head."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Event, Trace
from torquewright.notation.agreement import agree
from torquewright.records import Drive, Tightening, Tool, Torque
from torquewright.rules.finding import Certainty, Fact, Finding
from torquewright.rules.fits import ends
from torquewright.rules.registry import detector
from torquewright.rules.spot import at, fastener_place

# ---- range of a torque tool --------------------------------------------------------------------------------------

_PULLS = frozenset({"tighten", "retighten", "tighten_angle", "check"})


@detector("wrench-out-of-range")
def wrench_out_of_range(trace: Trace) -> Iterator[Finding]:
    """A torque lies outside the scale of the tool named for it, or of every torque tool listed."""
    listed = [tool for tool in trace.catalogue.tools or () if tool.low is not None and tool.high is not None]
    for event in trace.events:
        to = event.action.setting or event.action.to
        if to is None or event.joint is None or event.verb not in _PULLS:
            continue
        tool = event.tool
        if tool is not None and tool.low is not None and tool.high is not None:
            finding = _beyond(event, to, tool, listed)
        elif _slip_of_the_figure(event, to, listed):
            finding = None
        elif listed and all(to.torque is None or agree(to.torque, other) for other in to.also):
            finding = _none_reaches(event, to, listed)  # of two figures that disagree, either may be the right one
        else:
            finding = None
        if finding is not None:
            yield finding


def _slip_of_the_figure(event: Event, to: Tightening, tools: list[Tool]) -> bool:
    """Whether the figure is the slip and not the tool: it misses the record, whose own figure the tool can pull."""
    record = event.joint.tightening if event.joint is not None else None
    wanted = record.torque if record is not None else None
    given = to.torque
    if wanted is None or given is None or not given.unit or event.action.setting is not None:
        return False
    low, high = ends(wanted)
    least, most = ends(given)
    slack = _NEAR * high + given.half
    missed = least > high + slack or most < low - slack
    return missed and any(reach(wanted, tool) == "" for tool in tools)


_NEAR = 0.03  # a figure this near the record is meant for it; common practice, no source


def _settings(to: Tightening) -> Iterator[Torque]:
    for stage in to.stages:
        if stage.torque is not None and stage.torque.unit:
            yield stage.torque


def _beyond(event: Event, to: Tightening, tool: Tool, listed: list[Tool]) -> Finding | None:
    for torque in _settings(to):
        side = reach(torque, tool)
        if side == "":
            continue
        low, high = ends(torque)
        facts: dict[str, Fact] = {
            "torque": high if side == "below" else low if side == "above" else torque.target or high,
            "tool": tool.id, "low": tool.low or 0.0, "high": tool.high or 0.0,
        }  # fmt: skip
        better = next((other for other in listed if reach(torque, other) == ""), None)
        if better is not None:
            facts["better"] = better.id
        form = side if better is not None else f"{side}-none"
        if side == "weak":
            facts["low"] = tool.usable_low or 0.0
        certainty: Certainty = "likely" if side == "weak" else "certain"
        return _told(event, certainty, facts, form, (tool,))._replace(unit=tool.unit)
    return None


def _none_reaches(event: Event, to: Tightening, listed: list[Tool]) -> Finding | None:
    for torque in _settings(to):
        sides = [reach(torque, tool) for tool in listed]
        if any(side in ("", "weak") for side in sides):
            continue
        low, high = ends(torque)
        least = min(tool.low or 0.0 for tool in listed)
        most = max(tool.high or 0.0 for tool in listed)
        facts: dict[str, Fact] = {"torque": high if high < least else low, "low": least, "high": most}
        form = "none-so-low" if high < least else "none-so-high" if low > most else "none-between"
        return _told(event, "likely", facts, form, tuple(listed[:2]))._replace(unit=torque.unit)
    return None


def _told(event: Event, certainty: Certainty, facts: dict[str, Fact], form: str, tools: tuple[Tool, ...]) -> Finding:
    return at(
        "wrench-out-of-range", certainty, event, event.joint.id if event.joint is not None else "", facts, form,
        "setting" if event.action.setting is not None else "to",
        tuple(("tools", ("tool", tool.id, "range")) for tool in tools),
    )  # fmt: skip


def reach(torque: Torque, tool: Tool) -> str:
    """Whether ``tool`` can be set to ``torque``: "" if so, "below" or "above" its scale, "weak" where the scale
    goes on but the certificate does not.

    Of a range it is enough that some of it lies on the scale. The digits count only where the units differ.
    """
    if tool.low is None or tool.high is None:
        return ""
    low, high = (torque.nominal, torque.nominal) if torque.nominal is not None else ends(torque)
    slack = torque.half + tool.half if torque.unit != tool.unit else 0.0
    slack += 1e-9 * tool.high
    if high + slack < tool.low:
        return "below"
    if low - slack > tool.high:
        return "above"
    if tool.usable_low is not None and high + slack < tool.usable_low:
        return "weak"
    return ""


# ---- bit or socket -----------------------------------------------------------------------------------------------

_SAME_FLATS = 0.07e-3
"""Hexagons that differ by no more than this (m) are worked with one socket: 8 mm and 5/16 in, 19 mm and 3/4 in.
Common practice, no source."""

_TURN = frozenset(
    {"loosen", "remove", "disconnect", "take_out", "install", "reuse", "replace", "connect", "hand_start", "seat",
     "tighten", "tighten_angle", "retighten", "back_off", "discard"}
)  # fmt: skip


@detector("wrong-drive-bit")
def wrong_drive_bit(trace: Trace) -> Iterator[Finding]:
    """The bit, socket or key named for a fastener is of another kind or size than its head."""
    for event in trace.events:
        joint = event.joint
        if joint is None or joint.drive is None or not event.action.tool or event.action.of or event.verb not in _TURN:
            continue
        drive = _bit(event)
        if drive is None or not clash(joint.drive, drive):
            continue
        facts: dict[str, Fact] = {"bit": told(drive), "head": told(joint.drive)}
        also = [fastener_place(joint.id, "drive")]
        if event.tool is not None:
            facts["tool"] = event.tool.id
            also.append(("tools", ("tool", event.tool.id, "drive")))
        else:
            facts["tool"] = event.action.tool
        better = next(
            (tool for tool in trace.catalogue.tools or () if tool.drive is not None and is_bit(tool)
             and not clash(joint.drive, tool.drive)), None,
        )  # fmt: skip
        if better is not None:
            facts["better"] = better.id
        yield at(
            "wrong-drive-bit", "certain", event, joint.id, facts, "" if better is not None else "none-listed", "with",
            tuple(also),
        )  # fmt: skip


def _bit(event: Event) -> Drive | None:
    """The drive of the tool an action names, from its record or from the words used."""
    tool = event.tool
    if tool is not None:
        return tool.drive if is_bit(tool) else None
    # Few actions name a tool that stands in no record, so the reader of drives is fetched only for them.
    from torquewright.notation.drives import read_drive
    from torquewright.notation.notread import NotRead

    try:
        drive = read_drive(event.action.tool)
    except NotRead:
        return None
    return drive if drive.size else None


def is_bit(tool: Tool) -> bool:
    """Whether the drive of a tool is what meets the head, and not the square a socket sits on."""
    if tool.drive is None or tool.high is not None:
        return False
    if tool.kind in ("ratchet", "torque wrench", "torque multiplier", "impact wrench"):
        return False
    return tool.drive.kind != "square" or tool.kind == "bit"


def clash(head: Drive, bit: Drive) -> bool:
    """Whether a bit or socket does not fit a head. What is not stated fits."""
    if head.kind and bit.kind and _family(head.kind) != _family(bit.kind):
        return True
    if not head.size or not bit.size:
        return False
    if head.across_flats is not None and bit.across_flats is not None:
        return abs(head.across_flats - bit.across_flats) > _SAME_FLATS
    if head.size == bit.size:
        return False
    if head.kind == "cross":
        return _cross(head.size) != _cross(bit.size)
    return True


def _family(kind: str) -> str:
    return "hex" if kind == "12-point" else kind  # a bi-hexagon socket turns a hexagon


def _cross(size: str) -> str:
    """A cross recess whose sort (PH, PZ) is not said is known by its number alone."""
    return size if size[:1].isalpha() else f"PH{size}"


def told(drive: Drive) -> str:
    """A drive in words: ``hex 13 mm``, ``T25``, ``PH2``."""
    if drive.kind in ("hexalobular", "cross") and drive.size:
        return drive.size
    return f"{drive.kind} {drive.size}".strip()
