"""Plants wrong pieces: a near match, a weaker one, another family of threads, one too short, one too long."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from torquewright.bench import JointTrack, play
from torquewright.joint.described import is_nut
from torquewright.joint.quick import strength_of
from torquewright.records import Amount, Catalogue, Fastener, Procedure, Thread
from torquewright.rules.editing import actions, change, edit_fastener, joint_of
from torquewright.rules.joint_lengths import least_engaged
from torquewright.rules.joint_pieces import same_grade
from torquewright.rules.registry import Planted, planter

_INCH = 0.0254


def metric(text: str, diameter: float, pitch: float) -> Thread:
    """A metric thread by millimetres."""
    return Thread(text, "metric", round(diameter / 1e3, 9), round(pitch / 1e3, 9), pitch_stated=True)


def unified(text: str, diameter: float, per_inch: int) -> Thread:
    """A unified thread by inches and threads per inch."""
    return Thread(text, "unified", round(diameter * _INCH, 9), _INCH / per_inch, pitch_stated=True, series=text[-3:])


_NEAR = {
    5: metric("M5x0.5", 5, 0.5), 6: metric("M6x0.75", 6, 0.75), 8: metric("M8x1", 8, 1),
    10: metric("M10x1.25", 10, 1.25), 12: metric("M12x1.5", 12, 1.5), 16: metric("M16x1.5", 16, 1.5),
}  # fmt: skip
_INCHES = {
    5: unified("#10-32 UNF", 0.19, 32), 6: unified("1/4-20 UNC", 0.25, 20), 8: unified("5/16-18 UNC", 0.3125, 18),
    10: unified("3/8-16 UNC", 0.375, 16), 12: unified("1/2-13 UNC", 0.5, 13), 16: unified("5/8-11 UNC", 0.625, 11),
}  # fmt: skip
"""The neighbours of a metric size (whole millimetres): another pitch, and an inch thread that starts by hand in it."""


def _size(joint: Fastener) -> int:
    thread = joint.thread
    if thread is None or thread.family != "metric" or thread.diameter is None:
        return 0
    return round(thread.diameter * 1e3)


def _fitted(procedure: Procedure, catalogue: Catalogue) -> Iterator[tuple[int, int, Fastener]]:
    """Every action that puts a recorded piece in without describing it."""
    for step, number, action in actions(procedure, "install", "reuse", "replace", "hand_start"):
        joint = joint_of(action, catalogue)
        if joint is None or not catalogue.recorded(joint.id) or action.mode != "do":
            continue
        if action.size is None and not action.property_class and action.length is None:
            yield step, number, joint


@planter("near-match-bolt")
def near_match_bolt(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Describes the piece that goes in with another pitch, another length, or so in the kit."""
    for step, number, joint in _fitted(procedure, catalogue):
        near = _NEAR.get(_size(joint))
        if near is not None and joint.thread is not None and near.pitch != joint.thread.pitch:
            spoiled = change(procedure, step, number, size=near)
            yield Planted(spoiled, catalogue, step, joint.id, f"{near.text} goes in for {joint.thread.text}")
        if joint.length is not None:
            more = max(0.005, 3 * joint.length.half)  # "1 in" could be half an inch more
            longer = Amount(round(joint.length.value + more, 6), "mm", 5e-4)
            spoiled = change(procedure, step, number, length=longer)
            yield Planted(spoiled, catalogue, step, joint.id, f"a length of {longer.value * 1e3:g} mm")
    touched = play(procedure, catalogue).joints
    for at, item in enumerate(catalogue.kit or ()):
        joint_held = catalogue.fastener(item.part) if item.part in touched else None
        near = _NEAR.get(_size(joint_held)) if joint_held is not None else None
        if joint_held is None or near is None or joint_held.thread is None or near.pitch == joint_held.thread.pitch:
            continue
        kit = tuple(evolve(held, size=near) if n == at else held for n, held in enumerate(catalogue.kit or ()))
        spoiled_kit = evolve(catalogue, kit=kit)
        yield Planted(procedure, spoiled_kit, None, joint_held.id, f"{near.text} in the kit")


@planter("weaker-material-substituted")
def weaker_material_substituted(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Describes the piece that goes in with a weaker class, or as brass."""
    for step, number, joint in _fitted(procedure, catalogue):
        diameter = joint.thread.diameter if joint.thread is not None else None
        recorded = strength_of(joint.property_class, diameter or 0.01) if joint.property_class else None
        if recorded is None or is_nut(joint):
            continue
        for grade in ("4.6", "brass"):
            weaker = strength_of(grade, diameter or 0.01)
            if not same_grade(grade, joint.property_class) and (weaker is None or weaker[0] < recorded[0]):
                spoiled = change(procedure, step, number, property_class=grade)
                yield Planted(spoiled, catalogue, step, joint.id, f"{grade} for {joint.property_class}")


@planter("mixed-thread-family")
def mixed_thread_family(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Describes the piece that goes in with an inch thread where a metric one is recorded."""
    for step, number, joint in _fitted(procedure, catalogue):
        inch = _INCHES.get(_size(joint))
        if inch is not None and joint.thread is not None:
            spoiled = change(procedure, step, number, size=inch)
            yield Planted(spoiled, catalogue, step, joint.id, f"{inch.text} for {joint.thread.text}")


# ---- lengths -----------------------------------------------------------------------------------------------------


def _screws(procedure: Procedure, catalogue: Catalogue) -> Iterator[tuple[JointTrack, int]]:
    """Joints with a screw of a known size that are pulled, and the step of their last pull."""
    for track in play(procedure, catalogue).joints.values():
        joint = track.fastener
        pulls = [run.last for _, run in track.runs() if run.last is not None]
        last = max(pulls, key=lambda event: event.order, default=None)
        if last is None or last.step < 0 or is_nut(joint) or joint.thread is None or joint.thread.diameter is None:
            continue
        turned = joint.tightening is not None and bool(joint.tightening.angles)
        described = any(event.action.length is not None for event in track.events)
        if not turned and not described and track.recorded:
            yield track, last.step


def _millimetres(length: float) -> Amount:
    return Amount(round(length, 4), "mm", 5e-5)


@planter("too-few-threads-engaged")
def too_few_threads_engaged(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Lets the record clamp so much that the screw barely reaches its thread."""
    for track, step in _screws(procedure, catalogue):
        joint = track.fastener
        wanted = joint.engagement.value if joint.engagement is not None else least_engaged(joint)
        if wanted is None:
            continue
        length = joint.length or _millimetres(0.06)
        stack = _millimetres(length.value - 0.6 * wanted)
        if stack.value > 0.001:
            spoiled = edit_fastener(catalogue, joint.id, length=length, stack=stack, hole_depth=None)
            yield Planted(procedure, spoiled, step, joint.id, f"the record clamps {stack.value * 1e3:g} mm")


@planter("bolt-bottoms-in-blind-hole")
def bolt_bottoms_in_blind_hole(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Gives the record a blind hole that is shallower than the screw reaches, or deeper by less than a pitch."""
    for track, step in _screws(procedure, catalogue):
        joint = track.fastener
        thread = joint.thread
        if thread is None or thread.diameter is None or thread.pitch is None:
            continue
        reach = max(joint.engagement.value if joint.engagement is not None else 0.0, 2 * thread.diameter)
        length = joint.length if joint.length is not None and joint.length.value > reach else _millimetres(reach + 0.01)
        stack = _millimetres(length.value - reach)
        for depth, told in ((reach - 0.003, "a hole too shallow"), (reach + 0.5 * thread.pitch, "a hole just deep")):
            spoiled = edit_fastener(
                catalogue, joint.id, length=length, stack=stack, hole_depth=_millimetres(depth), engagement=None
            )
            yield Planted(procedure, spoiled, step, joint.id, told)
