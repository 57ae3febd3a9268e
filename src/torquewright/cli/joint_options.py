"""From the words of ``torquewright joint`` to a joint in SI units; every figure read by the one grammar."""

from __future__ import annotations

import re
from argparse import Namespace
from typing import Any

from torquewright.joint.answer import Joint
from torquewright.joint.preload import Span
from torquewright.joint.recorded import angle_of, of_fastener, torque_span
from torquewright.joint.threads import of_thread
from torquewright.joint.wrench import Window, gain, least_usable, permitted_deviation
from torquewright.notation.notread import NotRead
from torquewright.notation.tightening import read_tightening
from torquewright.records.tightening import Tightening
from torquewright.toml.quantities import read_amount, read_size


class Refused(Exception):
    """A word of the command line that cannot be taken, told in one line."""


_NUMBER = r"(\d+(?:\.\d+)?|\.\d+)"
_RANGE = re.compile(rf"{_NUMBER}(?:\s*(?:to|\.\.\.?|…|–|-)\s*{_NUMBER}|\s*(?:±|\+/-|\+-)\s*{_NUMBER})?")
_SHARE = re.compile(rf"(?:±\s*)?{_NUMBER}\s*(%)?")
_ANGLE = re.compile(rf"{_NUMBER}\s*(?:°|deg|degrees)?")


def _share(option: str, text: str) -> float:
    match = _SHARE.fullmatch(text.strip())
    if match is None:
        raise Refused(f'{option}: "{text}" is no share; write 0.9 or 90%')
    value = float(match[1])
    if match[2]:
        return value / 100
    if value > 1.5:
        raise Refused(f'{option}: "{text}" is more than the whole; write {value:g}% if percent is meant')
    return value


def _span(option: str, text: str) -> Span:
    match = _RANGE.fullmatch(text.strip())
    if match is None:
        raise Refused(f'{option}: "{text}" is no plain figure; write 0.12 or "0.10 to 0.14"')
    value = float(match[1])
    if match[2]:
        if float(match[2]) < value:
            raise Refused(f'{option}: "{text}" runs downward; write the lower figure first')
        return Span.between(value, float(match[2]))
    if match[3]:
        return Span(max(0.0, value - float(match[3])), value, value + float(match[3]))
    return Span.exact(value)


def _amount(option: str, text: str, measure: str) -> float:
    try:
        return read_amount(text, measure).value
    except NotRead as fault:
        raise Refused(f'{option}: "{text}": {fault.message}; write {fault.wanted}') from None


def _tightening(option: str, text: str) -> Tightening:
    try:
        return read_tightening(text)
    except NotRead as fault:
        raise Refused(f'{option}: "{text}": {fault.message}; write {fault.wanted}') from None


def _torque(option: str, text: str) -> Span:
    tightening = _tightening(option, text)
    span = torque_span(tightening)
    if span is None:
        told = tightening.doubt or "it states no torque with a unit"
        raise Refused(f'{option}: "{text}": {told}; write a torque such as "25 N·m" or "18 lbf·ft"')
    return span


def _angle(option: str, text: str) -> float:
    match = _ANGLE.fullmatch(text.strip())
    if match is None:
        raise Refused(f'{option}: "{text}" is no angle; write "90°"')
    return float(match[1])


def joint_of(args: Namespace) -> tuple[Joint, str]:
    """The joint the command line describes, and how to call it. Refused, or InputTrouble of the catalogue file."""
    joint, title = _recorded(args) if args.record else _sized(args.what)
    changes: dict[str, Any] = {}
    for name, word in (
        ("property_class", args.property_class), ("nut_class", args.nut_class), ("head", args.head),
        ("condition", args.condition), ("mating_material", args.into), ("bearing_material", args.onto),
    ):  # fmt: skip
        if word is not None:
            changes[name] = word
    for name, option, measure in (
        ("length", "--length", "length"), ("engagement", "--engagement", "length"), ("hole", "--hole", "length"),
        ("bearing_diameter", "--bearing-diameter", "length"), ("shear_strength", "--shear-strength", "pressure"),
    ):  # fmt: skip
        text = getattr(args, name)
        if text is not None:
            changes[name] = _amount(option, text, measure)
    for name, option in (
        ("friction_thread", "--friction-thread"), ("friction_head", "--friction-head"), ("nut_factor", "--nut-factor")
    ):  # fmt: skip
        text = getattr(args, name)
        if text is not None:
            changes[name] = _span(option, text)
    if args.scatter is not None:
        changes["scatter"] = _share("--scatter", args.scatter)
    if args.tool_deviation is not None:
        changes["tool_deviation"] = _share("--tool-deviation", args.tool_deviation)
    if args.washer is not None:
        changes["washer"] = True
        if args.washer != "standard":
            changes["washer_outer"] = _amount("--washer", args.washer, "length")
    if args.running_torque is not None:
        changes["drag"] = _torque("--running-torque", args.running_torque).nominal
    changes |= _driving(args)
    changes |= _tool(args)
    _known(changes, args)
    return joint._replace(**changes), title


def _sized(text: str) -> tuple[Joint, str]:
    try:
        thread = read_size(text)
    except NotRead as fault:
        raise Refused(f'"{text}": {fault.message}; write {fault.wanted}') from None
    if thread.family == "pipe":
        raise Refused(f'"{text}" is a pipe thread: it seals, and no preload can be worked out for it')
    shape = of_thread(thread)
    if shape is None:
        raise Refused(f'"{text}": the pitch is not known; write it, such as "M8x1.25"')
    return Joint(shape), thread.text


def _recorded(args: Namespace) -> tuple[Joint, str]:
    from torquewright.reading.files import read_catalogue

    catalogue = read_catalogue(args.what)
    record = catalogue.fastener(args.record)
    if record is None:
        from torquewright.notation.near import nearest

        near = nearest(args.record, [held.id for held in catalogue.fasteners])
        told = f"; did you mean {near[0]}?" if near else ""
        raise Refused(f"{args.what} has no fastener {args.record!r}{told}")
    joint = of_fastener(record)
    if joint is None:
        size = record.thread.text if record.thread else "none stated"
        raise Refused(f"{args.record}: nothing can be worked out for the size {size}")
    return joint, f"{record.name} ({record.thread.text if record.thread else ''})"


def _driving(args: Namespace) -> dict[str, Any]:
    """What drives the computation: a drive on the command line takes the place of the record's."""
    changes: dict[str, Any] = {}
    ways = ("torque", "preload", "share_of_yield", "share_of_proof")
    given = [name for name in ways if getattr(args, name) is not None]
    if len(given) > 1:
        raise Refused(f"only one of {' and '.join('--' + name.replace('_', '-') for name in given)} can be given")
    if given:
        changes["torque"] = None
    if args.torque is not None:
        changes["torque"] = _torque("--torque", args.torque)
        changes["angle"] = angle_of(_tightening("--torque", args.torque))
    if args.preload is not None:
        changes["preload"] = _amount("--preload", args.preload, "force")
    if args.share_of_yield is not None:
        changes["share_of_yield"] = _share("--share-of-yield", args.share_of_yield)
    if args.share_of_proof is not None:
        changes["share_of_proof"] = _share("--share-of-proof", args.share_of_proof)
    if args.angle is not None:
        changes["angle"] = _angle("--angle", args.angle)
    return changes


def _tool(args: Namespace) -> dict[str, Any]:
    changes: dict[str, Any] = {}
    if args.adapter is not None:
        if args.arm is None:
            raise Refused("--adapter needs --arm, the length from the drive to the hand")
        angle = _angle("--adapter-angle", args.adapter_angle) if args.adapter_angle is not None else 0.0
        changes["adapter_gain"] = gain(
            _amount("--arm", args.arm, "length"), _amount("--adapter", args.adapter, "length"), angle
        )
    if args.wrench is not None:
        scale = _torque("--wrench", args.wrench)
        if scale.low >= scale.high:
            raise Refused(f'--wrench: "{args.wrench}" is no range; write "5 to 25 N·m"')
        stated = _share("--tool-deviation", args.tool_deviation) if args.tool_deviation is not None else None
        deviation = permitted_deviation(scale.high, stated)
        step = _torque("--wrench-step", args.wrench_step).nominal if args.wrench_step is not None else 0.0
        changes["wrench"] = Window(least_usable(scale.low, scale.high), scale.high, deviation, step, scale.low)
        changes["tool_deviation"] = deviation
    return changes


def _known(changes: dict[str, Any], args: Namespace) -> None:
    """Refuse names no table knows: a class or a material misspelled must not silently lose half the sheet."""
    from torquewright.joint.classes import strength
    from torquewright.joint.described import plain_name
    from torquewright.joint.preload import friction

    name = changes.get("property_class")
    if name and all(strength(name, diameter) is None for diameter in (0.008, 0.010, 0.020)):
        raise Refused(f'--class: no table has "{name}"; known are 4.6 to 12.9, A2-70 and its like, "grade 5", A574')
    for option, key in (("--into", "mating_material"), ("--onto", "bearing_material")):
        if changes.get(key) and not plain_name(changes[key]):
            raise Refused(
                f'{option}: no table has "{changes[key]}"; known are steel, stainless steel, cast iron, aluminium, '
                "aluminium die-cast, magnesium, brass, copper, titanium, plastic, nylon"
            )
    if args.condition and friction(args.condition) is None:
        raise Refused(
            f'--condition: no table has "{args.condition}"; known are dry, oil, grease, moly, anti-seize, wax, '
            "threadlocker, pre-coated"
        )
