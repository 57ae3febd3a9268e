"""What a tightening statement says: two units that disagree, no figure at all, a figure with no unit."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from torquewright.base.units import UNITS
from torquewright.bench import Event, JointTrack, Pull, Run, Trace
from torquewright.records import Fastener, Tightening, Torque
from torquewright.rules.finding import Fact, Finding
from torquewright.rules.fits import ends, fit, printed, scaled
from torquewright.rules.pulls import torque_of, value_path
from torquewright.rules.registry import detector
from torquewright.rules.spot import at, fastener_place

# ---- two figures side by side ----------------------------------------------------------------------------------


@detector("dual-unit-disagrees")
def dual_unit_disagrees(trace: Trace) -> Iterator[Finding]:
    """Two figures for one torque, in two units, differ by more than their printed digits allow."""
    told: set[str] = set()
    for event in trace.events:
        for key, to in (("to", event.action.to), ("setting", event.action.setting)):
            if to is not None and to.also:
                facts = _disagreement(to, event.joint)
                if facts is not None:
                    joint = event.joint.id if event.joint is not None else ""
                    told.add(joint)
                    yield at("dual-unit-disagrees", "certain", event, joint, facts, key=key)._replace(unit=_unit(to))
    for track in trace.joints.values():
        joint_record = track.fastener
        for key, stated in (("tightening", joint_record.tightening), ("part-limit", joint_record.part_limit)):
            if stated is not None and stated.also and joint_record.id not in told:
                facts = _disagreement(stated, None)
                if facts is not None:
                    yield Finding(
                        "dual-unit-disagrees", "certain", None, joint_record.id, facts,
                        ("fastener", joint_record.id, key), "catalogue", form="record", unit=_unit(stated),
                    )  # fmt: skip


def _unit(to: Tightening) -> str:
    return to.torque.unit if to.torque is not None else ""


def _disagreement(to: Tightening, joint: Fastener | None) -> dict[str, Fact] | None:
    first = to.torque
    if first is None or not first.unit:
        return None
    for other in to.also:
        ends_apart = _apart(first, other)
        if ends_apart is None:
            continue
        one, two = ends_apart
        # The figure that fits the record is taken for the right one, else the one that stands first.
        right, wrong = first, other
        record = joint.tightening.torque if joint is not None and joint.tightening is not None else None
        if record is not None and record.unit and fit(first, record) != "fits" and fit(other, record) == "fits":
            right, wrong = other, first
        return {
            "one": printed(first), "other": printed(other), "first": one, "second": two,
            "apart": abs(one - two) / max(abs(one), abs(two)),
            "meant": f"{printed(right)} ({_converted(right, wrong)})",
        }  # fmt: skip
    return None


def _apart(first: Torque, second: Torque) -> tuple[float, float] | None:
    """The two figures that differ by more than their digits, None when all agree."""
    alike = False
    worst: tuple[float, float] | None = None
    for one, two in ((first.nominal, second.nominal), (first.low, second.low), (first.high, second.high)):
        if one is None or two is None:
            continue
        alike = True
        beyond = abs(one - two) - _digits(one, first) - _digits(two, second)
        if beyond > 1e-9 * abs(one) and (worst is None or abs(one - two) > abs(worst[0] - worst[1])):
            worst = one, two
    if alike:
        return worst
    (low, high), (least, most) = ends(first), ends(second)
    if low - _digits(low, first) > most + _digits(most, second):
        return low, most
    if high + _digits(high, first) < least - _digits(least, second):
        return high, least
    return None


def _digits(value: float, torque: Torque) -> float:
    """What the digits of ``value`` leave open, N·m: half of the last one.

    A whole figure from 100 up that ends in a nought does not say whether the nought counts; it may have been
    rounded to tens, but never by more than 1 %.
    """
    factor = UNITS[torque.unit].factor
    figure = value / factor
    whole = round(figure)
    if whole >= 100 and whole % 10 == 0 and abs(figure - whole) < 1e-6 and torque.half >= 0.49 * factor:
        return max(torque.half, min(5 * factor, 0.01 * value))
    return torque.half


def _converted(right: Torque, wrong: Torque) -> str:
    """The right figure in the unit of the other, with no more digits than either carries."""
    read = scaled(right, 1.0, wrong.unit)
    return printed(evolve(read, half=max(right.half, wrong.half)))


# ---- no figure -------------------------------------------------------------------------------------------------

_FINAL = frozenset({"tighten", "tighten_angle"})
_NEEDS_NONE = ("clamp", "knob", "wing", "thumb", "cable tie", "strap", "clip")
_REFERS = ("table", "chart", "sheet", "record", "specified", "specification", "figure", "drawing")


@detector("final-tighten-without-value")
def final_tighten_without_value(trace: Trace) -> Iterator[Finding]:
    """The last pull on a joint has no figure and no method, or a figure without a unit."""
    for track in trace.joints.values():
        fine: set[int] = set()
        bare: dict[int, Pull] = {}
        for run, after in _runs(track):
            for pull in run.pulls:
                if _without_unit(pull) and pull.event.step >= 0:
                    bare[pull.event.order] = pull
            last = _last_valueless(run)
            if last is None:
                continue
            if (after is not None and after.opened and after.opened.verb == "loosen" and after.removed is None) or (
                _has_value_beside(track.fastener, run, last)
            ):
                fine.add(last.event.order)
            else:
                bare.setdefault(last.event.order, last)
        for order, pull in sorted(bare.items()):
            if order not in fine or _without_unit(pull):
                finding = _without(track, pull)
                if finding is not None:
                    yield finding


def _runs(track: JointTrack) -> Iterator[tuple[Run, Run | None]]:
    """Each making of the joint, with the one that follows it."""
    for lot in track.lots:
        runs = [*lot.runs, lot.run]
        for index, run in enumerate(runs):
            if run.pulls:
                yield run, runs[index + 1] if index + 1 < len(runs) else None


def _valued(pull: Pull) -> bool:
    if torque_of(pull.stage) is not None or (pull.stage is not None and pull.stage.angle is not None):
        return True
    setting = pull.event.action.setting
    return setting is not None and setting.has_value


def _without_unit(pull: Pull) -> bool:
    """Whether the pull has a figure, but no unit that is a torque."""
    stage = pull.stage
    return stage is not None and stage.torque is not None and not stage.torque.unit


def _last_valueless(run: Run) -> Pull | None:
    """The last pull of a run that has neither figure nor method, when no pull with one follows it."""
    for pull in reversed(run.pulls):
        event = pull.event
        if event.verb not in _FINAL or event.conditional:
            continue
        if _valued(pull):
            return None
        return pull if event.step >= 0 else None
    return None


def _has_value_beside(joint: Fastener, run: Run, last: Pull) -> bool:
    """Whether the pull takes over a figure of a pull before it that was final already."""
    record = joint.tightening.torque if joint.tightening is not None else None
    for pull in run.pulls:
        if pull.event.order >= last.event.order or pull.event.verb == "back_off":
            continue
        if pull.stage is not None and pull.stage.angle is not None:
            return True
        torque = torque_of(pull.stage)
        if torque is not None and (record is None or not record.unit or fit(torque, record) == "fits"):
            return True
    return False


def _without(track: JointTrack, pull: Pull) -> Finding | None:
    joint, event = track.fastener, pull.event
    record = joint.tightening
    if _without_unit(pull):
        return _no_unit(joint, pull)
    if record is not None and record.kind == "hand_tight":
        return None
    wanted = record is not None and record.has_value
    note = event.action.note.lower()
    refers = any(word in note for word in _REFERS)
    if refers and (wanted or "table" in note):
        return None
    facts: dict[str, Fact] = {"words": _words(event)}
    if wanted and record is not None:
        facts["wanted"] = record.text
        return at(
            "final-tighten-without-value", "certain", event, joint.id, facts, "words" if facts["words"] else "",
            also=(fastener_place(joint.id, "tightening"),),
        )  # fmt: skip
    if any(word in f"{joint.kind} {joint.name}".lower() for word in _NEEDS_NONE):
        return None
    return at("final-tighten-without-value", "unstated", event, joint.id, facts, "no-record")


def _words(event: Event) -> str:
    to = event.action.to
    return to.text if to is not None else ""


def _no_unit(joint: Fastener, pull: Pull) -> Finding:
    to = pull.event.action.to
    facts: dict[str, Fact] = {"words": to.text if to is not None else ""}
    if to is not None:
        facts["readings"] = " or ".join(to.readings) or "N·m, lbf·ft or lbf·in"
    form = "no-unit"
    also: tuple[tuple[str, tuple[str | int, ...]], ...] = ()
    if joint.tightening is not None and joint.tightening.has_value:
        facts["wanted"] = joint.tightening.text
        also = (fastener_place(joint.id, "tightening"),)
    else:
        form = "no-unit-no-record"
    found = at("final-tighten-without-value", "certain", pull.event, joint.id, facts, form, also=also)
    return found._replace(path=value_path(pull))
