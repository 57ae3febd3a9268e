"""What a tightening statement says: two units that disagree, no figure at all, a figure with no unit."""

from __future__ import annotations

from collections.abc import Container, Iterator

from attrs import evolve

from torquewright.bench import Event, JointTrack, Pull, Run, Trace
from torquewright.notation.agreement import agree
from torquewright.records import Fastener, Tightening, Torque
from torquewright.rules.finding import Fact, Finding
from torquewright.rules.fits import ends, fit, printed, scaled
from torquewright.rules.pulls import torque_of, value_path
from torquewright.rules.registry import detector
from torquewright.rules.spot import at, fastener_place
from torquewright.rules.terminals import marked_terminal

# ---- two figures side by side ----------------------------------------------------------------------------------


@detector("dual-unit-disagrees")
def dual_unit_disagrees(trace: Trace) -> Iterator[Finding]:
    """Two figures for one torque, in two units, differ by more than their printed digits allow."""
    told: set[str] = set()
    in_records: set[str] = set()
    for event in trace.events:
        for key, to in (("to", event.action.to), ("setting", event.action.setting)):
            if to is None or not to.also:
                continue
            other = _disagreeing(to)
            if other is not None:
                joint = event.joint.id if event.joint is not None else ""
                told.add(joint)
                form, facts = _figures(to, other, event.joint)
                yield at("dual-unit-disagrees", "certain", event, joint, facts, form, key)._replace(unit=_unit(to))
    for track in trace.joints.values():
        held = track.fastener
        for key, stated in (("tightening", held.tightening), ("part-limit", held.part_limit)):
            other = _disagreeing(stated) if stated is not None and held.id not in told else None
            if stated is not None and other is not None:
                yield Finding(
                    "dual-unit-disagrees", "certain", None, held.id, _figures(stated, other, None)[1],
                    ("fastener", held.id, key), "catalogue", form="record", unit=_unit(stated),
                )  # fmt: skip
                in_records.add(held.id)
    for row in trace.draft.rows if trace.draft is not None else ():
        stated, cell = row.tightening, row.cells.get("torque")
        other = _disagreeing(stated) if stated is not None and row.record.id not in told | in_records else None
        if stated is not None and cell is not None and other is not None:
            facts = _figures(stated, other, None)[1]
            yield Finding(
                "dual-unit-disagrees", "certain", None, row.record.id, facts, ("span", cell.start, cell.end),
                form="table", unit=_unit(stated),
            )  # fmt: skip


def _unit(to: Tightening) -> str:
    return to.torque.unit if to.torque is not None else ""


def _disagreeing(to: Tightening) -> Torque | None:
    """The first of the further figures of a statement that is not the torque it gives first."""
    first = to.torque
    if first is None or not first.unit:
        return None
    return next((other for other in to.also if not agree(first, other)), None)


def _figures(to: Tightening, other: Torque, joint: Fastener | None) -> tuple[str, dict[str, Fact]]:
    """The wording and the figures. Which of the two is right is said only where the record has just one of them."""
    first = to.torque or other
    one, two = _widest(first, other)
    record = joint.tightening.torque if joint is not None and joint.tightening is not None else None
    form, right, wrong = "", first, other
    if record is not None and record.unit:
        fitting = fit(first, record) == "fits", fit(other, record) == "fits"
        if fitting == (True, False):
            form = "first"
        elif fitting == (False, True):
            form, right, wrong = "second", other, first
    facts: dict[str, Fact] = {
        "one": printed(first), "other": printed(other), "first": one, "second": two,
        "apart": abs(one - two) / max(abs(one), abs(two)),
        "meant": f"{printed(right)} ({_converted(right, wrong)})",
    }  # fmt: skip
    return form, facts


def _widest(first: Torque, second: Torque) -> tuple[float, float]:
    """The two figures that lie furthest apart, of those that stand for the same thing."""
    pairs = [
        (one, two)
        for one, two in ((first.nominal, second.nominal), (first.low, second.low), (first.high, second.high))
        if one is not None and two is not None
    ] or [(ends(first)[0], ends(second)[1]), (ends(first)[1], ends(second)[0])]
    return max(pairs, key=lambda pair: abs(pair[0] - pair[1]))


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
    elsewhere: Container[int] = ()
    if trace.draft is not None:
        from torquewright.rules.writing_units import told_by_words  # loaded for a draft only

        elsewhere = told_by_words(trace)
    for track, pull in valueless(trace):
        finding = _without(track, pull) if pull.event.order not in elsewhere else None
        if finding is not None:
            yield finding
    for track in trace.joints.values():
        yield from _doubtful(track, elsewhere)


def valueless(trace: Trace) -> list[tuple[JointTrack, Pull]]:
    """The last pulls on a joint that state no figure and no method, and every pull whose figure has no unit."""
    held = trace.worked.get("valueless")
    if held is None:
        held = trace.worked["valueless"] = [
            (track, pull) for track in trace.joints.values() for pull in _valueless(track)
        ]
    return held  # type: ignore[return-value]  # kept under this name by nobody else


def _valueless(track: JointTrack) -> list[Pull]:
    fine: set[int] = set()
    bare: dict[int, Pull] = {}
    for run, after in _runs(track):
        last = _last_valueless(run)
        for pull in run.pulls:
            if _without_unit(pull) and pull.event.step >= 0:
                bare[pull.event.order] = pull
            elif last is None or pull.event is not last.event:
                # Right for one of the positions it was made on is right: the others are a matter of numbers.
                fine.add(pull.event.order)
        if last is None:
            continue
        if _undone(after) or _has_value_beside(track.fastener, run, last):
            fine.add(last.event.order)
        else:
            bare.setdefault(last.event.order, last)
    return [pull for order, pull in sorted(bare.items()) if order not in fine or _without_unit(pull)]


def _runs(track: JointTrack) -> Iterator[tuple[Run, Run | None]]:
    """Each making of the joint, with the one that follows it."""
    for lot in track.lots:
        runs = [*lot.runs, lot.run]
        for index, run in enumerate(runs):
            if run.pulls:
                yield run, runs[index + 1] if index + 1 < len(runs) else None


def _undone(after: Run | None) -> bool:
    """Whether the joint was only loosened to be pulled again: then the pull ahead was an early stage."""
    return after is not None and after.opened is not None and after.opened.verb == "loosen" and after.removed is None


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
    if (record is not None and record.kind == "hand_tight") or marked_terminal(joint):
        return None  # a terminal done by feel is another rule's
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


def _doubtful(track: JointTrack, elsewhere: Container[int]) -> Iterator[Finding]:
    """Figures that can be read in more than one way: ``47 ft/lb``, ``10 or 12 N·m``."""
    told: set[int] = set()
    for run, _ in _runs(track):
        for pull in run.pulls:
            event, to = pull.event, pull.event.action.to
            if to is None or not to.doubt or not to.readings or to.kind not in ("single", "range"):
                continue
            if event.order in told or event.order in elsewhere or _without_unit(pull):
                continue
            told.add(event.order)
            facts: dict[str, Fact] = {"words": to.text, "readings": " or ".join(to.readings), "doubt": to.doubt}
            yield at("final-tighten-without-value", "unstated", event, track.fastener.id, facts, "doubtful", "to")


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
