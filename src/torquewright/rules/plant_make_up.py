"""Plants a joint put together wrong: other washers, sealant on a bare face, tape on a cone, oil in a blind hole."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from torquewright.bench import play
from torquewright.records import Action, Catalogue, Procedure, WasherUse
from torquewright.rules.editing import actions, change, drop, insert, joint_of
from torquewright.rules.make_up import FACE, HOLE, SORTS, STACK, TAPE, dries, is_blind, seat_of
from torquewright.rules.registry import Planted, planter

_FIT = ("install", "reuse", "connect")


@planter(STACK)
def stack(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Puts on one washer more, one of another kind, or none at all."""
    for step, number, action in actions(procedure, *_FIT):
        fastener, use = joint_of(action, catalogue), action.washer
        washer = fastener.washer if fastener is not None else None
        if fastener is None or (washer is None and fastener.washer_unstated):
            continue
        if washer is None:
            if use is None and fastener.seals == () and fastener.kind in ("bolt", "screw", "nut"):
                more = change(procedure, step, number, washer=WasherUse(1, "", "flat"))
                yield Planted(more, catalogue, step, fastener.id, "a washer goes on where none belongs")
            continue
        if washer.captive or SORTS.get(washer.kind) in ("sealing", None) or use is None or use.count != washer.count:
            continue
        other = "spring" if washer.kind != "spring" else "flat"
        for new, told in (
            (evolve(use, count=washer.count + 1), "one washer more goes on"),
            (evolve(use, kind=other), f"a {other} washer goes on instead"),
            (WasherUse(0), "the washer is left out"),
        ):
            yield Planted(change(procedure, step, number, washer=new), catalogue, step, fastener.id, told)


def _before_fit(procedure: Procedure, catalogue: Catalogue) -> Iterator[tuple[int, int, str]]:
    """(step, number, joint) of the first action that puts each joint in again."""
    seen: set[str] = set()
    for step, number, action in actions(procedure, *_FIT):
        fastener = joint_of(action, catalogue)
        if fastener is not None and fastener.id not in seen:
            seen.add(fastener.id)
            yield step, number, fastener.id


@planter(FACE)
def face(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Smears sealant on a face that is clamped bare."""
    for step, number, key in _before_fit(procedure, catalogue):
        fastener = catalogue.fastener(key)
        if fastener is not None and fastener.face in ("bare", "thin paint"):
            smear = Action("seal", "face", key, with_what="gasket sealant")
            spoiled = insert(procedure, step, number, smear)
            yield Planted(spoiled, catalogue, step, key, "sealant goes onto the clamped face")


@planter(TAPE)
def tape(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Wraps tape round a thread that does not seal."""
    for step, number, key in _before_fit(procedure, catalogue):
        fastener = catalogue.fastener(key)
        if fastener is not None and seat_of(fastener):
            spoiled = insert(procedure, step, number, Action("seal", key, with_what="PTFE tape"))
            yield Planted(spoiled, catalogue, step, key, "tape goes round its thread")


@planter(HOLE)
def hole(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Pours oil into a blind hole, or leaves out the one cleaning that dried it."""
    for step, number, key in _before_fit(procedure, catalogue):
        fastener = catalogue.fastener(key)
        if fastener is None or not is_blind(fastener):
            continue
        oiled = insert(procedure, step, number, Action("lubricate", "hole", key, with_what="oil"))
        yield Planted(oiled, catalogue, step, key, "oil goes into the blind hole")
        events = play(procedure, catalogue)
        dried = [event for event in events.events if dries(event, key)]
        pulls = [event for event in events.joints[key].events if event.verb in ("tighten", "tighten_angle")]
        holds_back = fastener.blind and fastener.fluid and pulls and not pulls[0].conditional
        if holds_back and len(dried) == 1 and dried[0].step >= 0:
            dirty = drop(procedure, dried[0].step, dried[0].number)
            shown = pulls[0].step - (len(procedure.steps) - len(dirty.steps))
            yield Planted(dirty, catalogue, shown, key, "nobody dries the blind hole")
