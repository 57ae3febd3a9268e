"""What eats or adds torque: a lubricant the figure was not meant for, the drag of a locknut, stainless that seizes."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from attrs import evolve

from torquewright.bench import Event, JointTrack, Run, Trace
from torquewright.joint.described import plain_name
from torquewright.joint.quick import reckon, stainless
from torquewright.records import Fastener, Torque
from torquewright.rules.finding import Fact, Finding
from torquewright.rules.fits import ends
from torquewright.rules.joint_loads import highest
from torquewright.rules.judging import judge
from torquewright.rules.pulls import value_path
from torquewright.rules.registry import detector
from torquewright.rules.spot import at, fastener_place

_STATES = (
    ("anti-seize", ("anti-seize", "anti seize", "antiseize", "copper paste")),
    ("moly", ("moly", "mos2")),
    ("threadlocker", ("threadlock", "thread lock", "thread-lock", "adhesive")),
    ("pre-coated", ("pre-coat", "precoat", "patch", "coated")),
    ("wax", ("wax",)),
    ("grease", ("grease",)),
    ("oil", ("oil", "lubricated")),
    ("dry", ("dry", "unlubricated", "as received", "no lubricant", "plain")),
)
"""Conditions and products by the words they go by; the first that fits wins."""

_SAME = 0.1
"""Friction may differ by this share before the torque is told to mean another joint; common practice, no source."""


@lru_cache(maxsize=512)  # few conditions, many joints
def state_of(words: str) -> str:
    """The condition of threads that words mean; "" for none, "other" for what is not known here."""
    low = words.lower()
    if not low.strip():
        return ""
    return next((state for state, names in _STATES if any(name in low for name in names)), "other")


# ---- lubricant ---------------------------------------------------------------------------------------------------


@detector("lubricant-state-mismatch")
def lubricant_state_mismatch(trace: Trace) -> Iterator[Finding]:
    """The threads are not in the condition the torque in the record is meant for."""
    for track in trace.joints.values():
        meant = state_of(track.fastener.condition)
        if meant in ("", "other"):
            continue
        told: set[int] = set()
        for _, run in track.runs():
            pulls = [held.event for held in run.pulls]
            pull = next((event for event in reversed(pulls) if event.verb != "retighten"), run.last)
            if pull is None or (run.fitted is None and run.started is None) or not run.pulls:
                continue
            barred = [event for event in trace.forbidden if event.verb == "lubricate" and event.joint is track.fastener]
            for found in _lubricated(track.fastener, run, barred[-1] if barred else pull, meant, bool(barred)):
                event = found[0]
                if event.order not in told:
                    told.add(event.order)
                    yield found[1]


def applied(run: Run) -> list[tuple[Event, str]]:
    """What was put on the threads of one making, with the words for it; conditional deeds left out."""
    found = [(event, event.action.with_what) for event in run.lubricated if not event.conditional]
    for event in (run.fitted, run.started):
        if event is not None and event.action.with_what and not event.conditional and event.verb != "lubricate":
            found.append((event, event.action.with_what))
    return found


def _lubricated(
    joint: Fastener, run: Run, pull: Event, meant: str, barred: bool = False
) -> Iterator[tuple[Event, Finding]]:
    """What is wrong with the threads of one making; ``barred`` where the text keeps every lubricant off them."""
    found = applied(run)
    if not found:
        if meant in ("oil", "grease", "moly", "anti-seize"):
            facts: dict[str, Fact] = {"condition": joint.condition, **_changed(joint, "dry")}
            form = "not-applied" if "change" in facts else "not-applied-plain"
            yield pull, _mismatch(pull, joint, "certain" if barred else "unstated", facts, form)
        return
    for event, product in found:
        state = state_of(product) or "other"
        if state == meant or product.lower().strip() == joint.condition.lower().strip():
            continue
        facts = {"condition": joint.condition, "product": product or "a lubricant"}
        if state == "other":
            if meant in ("dry", "threadlocker", "pre-coated") and product.lower().strip() != "dry":
                yield event, _mismatch(event, joint, "certain", facts, "plain")
            elif meant not in ("dry", "threadlocker", "pre-coated"):
                yield event, _mismatch(event, joint, "unstated", facts, "unknown")
            continue
        changed = _changed(joint, state)
        if not changed:
            if _class(state) != _class(meant):
                yield event, _mismatch(event, joint, "certain", facts, "plain")
        elif abs(float(changed["change"])) > _SAME:
            form = "" if float(changed["change"]) > 0 else "less"
            yield event, _mismatch(event, joint, "certain", facts | changed, form)


def _class(state: str) -> str:
    """Conditions whose friction is alike."""
    return {"oil": "oil", "grease": "oil", "moly": "paste", "anti-seize": "paste", "wax": "paste"}.get(state, "dry")


def _changed(joint: Fastener, state: str) -> dict[str, Fact]:
    """By what the preload changes when the record's torque meets threads in another condition; nothing where it
    cannot be computed."""
    wanted = highest(joint.tightening) if joint.tightening is not None else None
    before, after = reckon(joint), reckon(evolve(joint, condition=state))
    if wanted is None or not wanted.target or before is None or after is None:
        return {}
    return {
        "torque": wanted.target, "before": wanted.target * before.per_torque, "after": wanted.target * after.per_torque,
        "change": after.per_torque / before.per_torque - 1, "amount": abs(after.per_torque / before.per_torque - 1),
        "right": wanted.target * before.per_torque / after.per_torque,
    }  # fmt: skip


def _mismatch(event: Event, joint: Fastener, certainty: str, facts: dict[str, Fact], form: str) -> Finding:
    facts.pop("change", None)
    found = at(
        "lubricant-state-mismatch", "certain" if certainty == "certain" else "unstated", event, joint.id, facts, form,
        also=(fastener_place(joint.id, "condition"),),
    )  # fmt: skip
    wanted = highest(joint.tightening) if joint.tightening is not None else None
    return found._replace(unit=wanted.unit if wanted is not None else "")


# ---- running torque ----------------------------------------------------------------------------------------------


@detector("run-down-drag-not-added")
def run_down_drag_not_added(trace: Trace) -> Iterator[Finding]:
    """The record's figure comes on top of the running torque of a self-locking thread, and the step leaves it out."""
    for slip in judge(trace).slips:
        if slip.kind != "drag" or slip.wanted is None:
            continue
        event, joint = slip.pull.event, slip.track.fastener
        low, high = ends(slip.wanted)
        facts: dict[str, Fact] = {
            "torque": _target(slip.torque), "wanted": _target(slip.wanted),
            "practice": _practice(joint, trace.catalogue.policy),
        }  # fmt: skip
        also = [fastener_place(joint.id, "tightening")]
        form = "unknown"
        if joint.prevailing is not None:
            drag = joint.prevailing.value
            facts |= {"drag": drag, "sum": _target(slip.wanted) + drag, "low": low + drag, "high": high + drag,
                      "left": _target(slip.torque) - drag, "share": drag / _target(slip.torque)}  # fmt: skip
            also.append(fastener_place(joint.id, "prevailing"))
            form = "limits" if low < high else ""
        tool = event.tool
        yield Finding(
            "run-down-drag-not-added",
            "unstated" if form == "unknown" else "likely",
            event.step if event.step >= 0 else None,
            joint.id,
            facts,
            value_path(slip.pull),
            also=tuple(also),
            form=form,
            unit=tool.unit if tool is not None and tool.unit else slip.torque.unit,
        )


def _target(torque: Torque) -> float:
    return torque.target or 0.0


def _practice(joint: Fastener, policy: str) -> str:
    if joint.tightening is not None and joint.tightening.added:
        return "the record says that it comes on top"
    if policy == "aviation":
        return "in aviation it is always added (FAA AC 43.13-1B, 7-40d)"
    return "on vehicles it is added from one third of the torque on (US Army TB 43-0218, paragraph 7c)"


# ---- stainless on stainless --------------------------------------------------------------------------------------


@detector("stainless-galling")
def stainless_galling(trace: Trace) -> Iterator[Finding]:
    """Stainless runs on stainless with nothing between, or under power."""
    for track in trace.joints.values():
        joint = track.fastener
        if not stainless(joint) or plain_name(joint.mating_material) != "stainless steel" or _grades_differ(joint):
            continue
        facts: dict[str, Fact] = {"grade": joint.property_class, "material": joint.mating_material}
        also = (fastener_place(joint.id, "mating-material"),)
        for run in _made(track):
            if applied(run) or run.compound is not None:
                continue
            powered = next((event for event in _turns(track, run) if _by_power(event)), None)
            if powered is not None:
                yield at("stainless-galling", "likely", powered, joint.id, facts | {"tool": powered.action.tool},
                         "power", "with", also)  # fmt: skip
            elif not joint.condition and run.last is not None:
                yield at("stainless-galling", "unstated", run.last, joint.id, facts, "", "", also)
            else:
                continue
            break


def _made(track: JointTrack) -> Iterator[Run]:
    for _, run in track.runs():
        if run.fitted is not None or run.started is not None:
            yield run


def _turns(track: JointTrack, run: Run) -> Iterator[Event]:
    first = min(event.order for event in (run.fitted, run.started) if event is not None)
    for event in track.events:
        if event.order >= first and event.verb in ("install", "hand_start", "seat", "tighten", "retighten"):
            yield event


def _by_power(event: Event) -> bool:
    if event.tool is not None:
        return event.tool.kind in ("impact wrench", "impact driver")
    return "impact" in event.action.tool.lower()


def _grades_differ(joint: Fastener) -> bool:
    """Whether screw and nut are of two grades, which seize less: A2 on A4."""
    named, mate = joint.property_class.upper()[:2], joint.mating_material.upper()
    grades = [grade for grade in ("A1", "A2", "A3", "A4", "A5") if grade in mate]
    return bool(grades) and named not in grades

