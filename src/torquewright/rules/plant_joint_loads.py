"""Plants joints that do not bear their torque: an impossible record, a weak screw, a short thread, a soft face."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from attrs import evolve

from torquewright.bench import play
from torquewright.joint.quick import reckon
from torquewright.records import Amount, Catalogue, Fastener, Procedure, Thread, Torque
from torquewright.rules.demands import told
from torquewright.rules.editing import edit_fastener
from torquewright.rules.joint_limits import gives, impossible
from torquewright.rules.joint_loads import Loaded, loaded
from torquewright.rules.registry import Planted, planter
from torquewright.rules.softparts import plastic

_SMALL = Thread("M3x0.5", "metric", 0.003, 0.0005, pitch_stated=True)


def with_changes(held: Loaded, **changes: Any) -> Loaded | None:
    """The same pull on a joint whose record is changed; None where nothing can be reckoned of it."""
    record: Fastener = evolve(held.fastener, **changes)
    figures = reckon(record)
    if figures is None:
        return None
    made = Loaded(record, figures, held.pull, held.wanted, held.torque, held.recorded)
    made.least = held.least
    return made


def _step(held: Loaded) -> int | None:
    step = held.pull.event.step
    return step if step >= 0 else None


@planter("record-value-implausible")
def record_value_implausible(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Puts another size into a record: the torque then cannot be meant for it."""
    for held in loaded(play(procedure, catalogue)):
        changed = with_changes(held, thread=_SMALL)
        if held.recorded and changed is not None and impossible(changed) and not plastic(held.fastener):
            spoiled = edit_fastener(catalogue, held.fastener.id, thread=_SMALL)
            yield Planted(procedure, spoiled, None, held.fastener.id, f"the record says {_SMALL.text}")


@planter("proof-load-exceeded")
def proof_load_exceeded(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Puts a weaker class into a record, which the torque stretches."""
    for held in loaded(play(procedure, catalogue)):
        for grade in ("04", "A2-50", "4.6", "4.8", "5.8"):
            if (grade == "04") != ("nut" in held.fastener.kind):
                continue
            if _gives(held, "proof-load-exceeded", property_class=grade):
                spoiled = edit_fastener(catalogue, held.fastener.id, property_class=grade)
                yield Planted(procedure, spoiled, _step(held), held.fastener.id, f"the record says class {grade}")
                break


@planter("thread-strips-first")
def thread_strips_first(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Leaves only a turn or two of thread in ductile iron."""
    for held in loaded(play(procedure, catalogue)):
        for millimetres in (3, 2, 1.6):
            short = Amount(millimetres / 1e3, "mm", 5e-4 if millimetres > 1.9 else 5e-5)
            changes = {"engagement": short, "mating_material": "ductile cast iron"}
            if _gives(held, "thread-strips-first", **changes):
                spoiled = edit_fastener(catalogue, held.fastener.id, **changes)
                told = f"the record says {millimetres:g} mm of thread in ductile iron"
                yield Planted(procedure, spoiled, _step(held), held.fastener.id, told)
                break


@planter("bearing-face-crushed")
def bearing_face_crushed(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Puts a bare head on magnesium, with a torque that has no lower limit to go down to."""
    for held in loaded(play(procedure, catalogue)):
        changes: dict[str, Any] = {"bearing_material": "magnesium"}
        if held.recorded and held.wanted.nominal is not None and held.fastener.tightening is not None:
            stages = held.fastener.tightening.stages
            bare = tuple(evolve(stage, torque=_bare(stage.torque)) for stage in stages)
            changes["tightening"] = told(bare)
            held.least = held.torque
        if _gives(held, "bearing-face-crushed", **changes):
            spoiled = edit_fastener(catalogue, held.fastener.id, **changes)
            yield Planted(procedure, spoiled, _step(held), held.fastener.id, "the record says the face is magnesium")


def _bare(torque: Torque | None) -> Torque | None:
    return None if torque is None or torque.nominal is None else evolve(torque, low=None, high=None)


def _gives(held: Loaded, rule: str, **changes: Any) -> bool:
    changed = with_changes(held, **changes)
    link = gives(changed) if changed is not None else None
    return link is not None and link[0] == rule
