"""Plants what a thread does not bear: oil, a drag left out, stainless on stainless, another metal, a plating bath."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from torquewright.bench import JointTrack, play
from torquewright.joint.described import is_nut
from torquewright.records import Action, Amount, Catalogue, Procedure
from torquewright.rules.editing import edit_fastener, insert
from torquewright.rules.fits import ends
from torquewright.rules.joint_friction import applied, state_of
from torquewright.rules.pulls import sequences, torque_of
from torquewright.rules.registry import Planted, planter


def _made(procedure: Procedure, catalogue: Catalogue) -> Iterator[JointTrack]:
    """Recorded joints that are put together and pulled once in this job, with nothing on their threads."""
    for track in play(procedure, catalogue).joints.values():
        runs = [run for _, run in track.runs() if run.fitted is not None or run.started is not None]
        if not runs or not track.recorded or any(applied(run) or run.compound for run in runs):
            continue
        if all(run.last is not None and run.last.step >= 0 for run in runs):
            yield track


@planter("lubricant-state-mismatch")
def lubricant_state_mismatch(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Oils threads whose torque is meant for dry ones."""
    for track in _made(procedure, catalogue):
        joint = track.fastener
        if state_of(joint.condition) != "dry":
            continue
        events = [run.fitted or run.started for _, run in track.runs()]
        first = min((event for event in events if event is not None), key=lambda event: event.order)
        if first.step < 0:
            continue
        at = first.number + (first.verb == "replace")  # the old piece goes out with the same word
        oiled = insert(procedure, first.step, at, Action("lubricate", joint.id, with_what="engine oil"))
        yield Planted(oiled, catalogue, first.step, joint.id, "the threads are oiled")


@planter("run-down-drag-not-added")
def run_down_drag_not_added(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Lets the record's figure come on top of the running torque, which the step does not know."""
    trace = play(procedure, catalogue)
    for sequence in sequences(trace):
        joint = sequence.track.fastener
        record = joint.tightening
        pulls = [*sequence.checks, *sequence.asides, *(pull for part in sequence.parts for pull in part)]
        if record is None or record.added or len(record.stages) != 1 or len(pulls) != 1 or record.kind == "hand_tight":
            continue
        event = pulls[0].event
        if torque_of(pulls[0].stage) is None or torque_of(record.stages[0]) is None or event.step < 0:
            continue
        if event.action.setting is not None or joint.kind not in ("nut", "locknut"):
            continue
        low, high = ends(record.torque) if record.torque is not None else (0.0, 0.0)
        drag = Amount(round(high - low + 1.0, 1), "N·m", 0.05)  # too much to be hidden in the limits
        added = evolve(record, added=True, kind="prevailing_added", text=f"{record.text} plus the running torque")
        spoiled = edit_fastener(catalogue, joint.id, tightening=added, prevailing=drag)
        told = "the record's figure comes on top of the drag"
        yield Planted(procedure, spoiled, event.step, joint.id, told, frozenset({"locknut-reused"}))


@planter("stainless-galling")
def stainless_galling(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Makes screw and thread stainless and leaves the condition out."""
    for track in _made(procedure, catalogue):
        joint = track.fastener
        spoiled = edit_fastener(
            catalogue, joint.id, property_class="A2-70", mating_material="stainless steel", condition="", finish="",
            hand_start=bool(joint.hand_start),
        )  # fmt: skip
        last = next((run.last for _, run in track.runs() if run.fitted is not None or run.started is not None), None)
        if last is not None:
            told = "stainless on stainless, nothing between"
            yield Planted(procedure, spoiled, last.step, joint.id, told, _WEAKER)


@planter("galvanic-pair")
def galvanic_pair(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Puts the machine into salt water, and one bare stainless screw into its aluminium."""
    for track in _made(procedure, catalogue):
        joint = track.fastener
        first = next((event for event in track.events if event.verb in _PUTS), None)
        if first is None or first.step < 0:
            continue
        bare = evolve(
            joint, property_class="A4-70", mating_material="aluminium die-cast", bearing_material="", finish="",
            condition="dry", hand_start=bool(joint.hand_start),
        )  # fmt: skip
        others = tuple(
            bare if held.id == joint.id else evolve(held, finish="insulating coat") for held in catalogue.fasteners
        )
        spoiled = evolve(catalogue, fasteners=others, surroundings="salt water")
        yield Planted(procedure, spoiled, first.step, joint.id, "bare stainless in aluminium, in salt water", _WEAKER)


_WEAKER = frozenset({"record-value-implausible"})
"""Another class in the record makes its figure look odd, too, where it was the figure of some odd piece."""

_PUTS = frozenset({"install", "reuse", "replace", "tighten"})


@planter("plated-high-strength")
def plated_high_strength(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Makes a screw class 12.9 and plates it with zinc."""
    for track in play(procedure, catalogue).joints.values():
        joint = track.fastener
        first = next((event for event in track.events if event.verb in _PUTS), None)
        thread = joint.thread
        if first is None or first.step < 0 or is_nut(joint) or thread is None or thread.family != "metric":
            continue
        spoiled = edit_fastener(catalogue, joint.id, property_class="12.9", finish="zinc plated")
        yield Planted(procedure, spoiled, first.step, joint.id, "class 12.9, zinc plated", _WEAKER)
