"""The kit: what the steps and records use up, how a line of the kit is understood, what is never asked for."""

from __future__ import annotations

from typing import Any

import pytest
from attrs import evolve
from hypothesis import given, settings

from rule_bench import found, job, plant_all, torque
from sound_procedures import sound_jobs
from torquewright.records import (
    Action,
    Catalogue,
    Fastener,
    KitItem,
    Lock,
    Procedure,
    Seal,
    Washer,
    WasherUse,
)

RULE = "kit-short"
OUT = Action("remove", "bolt")
PULL = Action("tighten", "bolt", to=torque(20))
NEW = Action("install", "bolt", state="new")
OLD = Action("reuse", "bolt")


def laid_out(*kit: KitItem, **bolt: Any) -> Catalogue:
    """Four head bolts in steel, two rings, and what lies in the kit."""
    fastener = Fastener("bolt", "head bolt", ("long bolt",), count=4, mating_material="steel", tightening=torque(20))
    seal = Seal("ring", "O-ring", ("seal ring",), count=2, one_time_use=True)
    return Catalogue(fasteners=(evolve(fastener, **bolt),), seals=(seal,), kit=kit)


def short(procedure: Procedure, catalogue: Catalogue) -> list[tuple[str, object, object]]:
    """(part, need, have) of what is short."""
    return [(held.joint, held.facts["need"], held.facts["have"]) for held in found(RULE, procedure, catalogue)]


class TestNeeds:
    @pytest.mark.parametrize(
        ("steps", "need"),
        [
            ([OUT, NEW, PULL], 4),
            ([OUT, Action("replace", "bolt"), PULL], 4),
            ([Action("replace", "bolt"), PULL], 4),
            ([OUT, Action("discard", "bolt"), Action("install", "bolt"), PULL], 4),
            ([OUT, Action("install", "bolt", count=1, state="new"), Action("reuse", "bolt", count=3), PULL], 1),
            ([OUT, NEW, PULL, OUT, NEW, PULL], 8),
            ([OUT, OLD, PULL], 0),
            ([OUT, Action("install", "bolt"), PULL], 0),
            ([OUT, OLD, PULL, Action("replace", "bolt", mode="if")], 0),
        ],
    )
    def test_new_pieces_are_counted_each_time_they_go_in(self, steps: list[Action], need: int) -> None:
        wanted = [("bolt", need, 0)] if need else []
        assert short(job(*steps), laid_out(KitItem("rag", 1))) == wanted

    def test_what_goes_in_on_a_condition_or_by_no_word_is_not_counted(self) -> None:
        assert short(job(OUT, evolve(NEW, mode="if"), PULL), laid_out()) == []
        assert short(job(OUT, PULL), laid_out(one_time_use=True)) == []

    def test_what_the_record_lets_in_only_new_is_needed_unsaid(self) -> None:
        unsaid = job(OUT, Action("install", "bolt"), PULL)
        assert short(unsaid, laid_out(one_time_use=True)) == [("bolt", 4, 0)]
        assert short(unsaid, laid_out(one_time_use=False)) == []

    @pytest.mark.parametrize("have", [3, 4, 5])
    def test_one_fewer_enough_one_more(self, have: int) -> None:
        wanted = [("bolt", 4, 3)] if have == 3 else []
        assert short(job(OUT, NEW, PULL), laid_out(KitItem("bolt", have))) == wanted

    def test_no_kit_is_no_fault_and_an_empty_one_is(self) -> None:
        procedure = job(OUT, NEW, PULL)
        assert short(procedure, evolve(laid_out(), kit=None)) == []
        assert short(procedure, laid_out()) == [("bolt", 4, 0)]

    def test_washers_for_every_position_each_time(self) -> None:
        sealed = {"washer": Washer("sealing", 2, True)}
        fit = Action("reuse", "bolt", washer=WasherUse(2, "new"))
        bare = Action("discard", "washer", of="bolt")
        once = [OUT, bare, fit, PULL]
        assert short(job(*once), laid_out(KitItem("washer", 7, "bolt"), **sealed)) == [("bolt", 8, 7)]
        assert short(job(*once, *once), laid_out(KitItem("washer", 8, "bolt"), **sealed)) == [("bolt", 16, 8)]
        assert short(job(OUT, Action("reuse", "bolt", washer=WasherUse(2, "old")), PULL), laid_out(**sealed)) == []

    def test_a_washer_that_goes_back_is_not_new(self) -> None:
        fit = Action("reuse", "bolt", washer=WasherUse(1, ""))
        assert short(job(OUT, fit, PULL), laid_out(washer=Washer("flat", 1, False))) == []
        assert short(job(OUT, fit, PULL), laid_out(washer=Washer("sealing", 1, True))) == [("bolt", 4, 0)]

    def test_a_washer_too_many_is_not_asked_of_the_kit(self) -> None:
        sealed = {"washer": Washer("sealing", 1, True), "count": 1}
        fit = Action("reuse", "bolt", washer=WasherUse(2, "new"))
        stacked = job(OUT, Action("discard", "washer", of="bolt"), fit, PULL)
        assert short(stacked, laid_out(KitItem("washer", 1, "bolt"), **sealed)) == []

    def test_rings(self) -> None:
        taken = Action("remove", "ring")
        new = Action("install", "ring", state="new")
        assert short(job(taken, new), laid_out(KitItem("ring", 1))) == [("ring", 2, 1)]
        assert short(job(taken, evolve(new, count=1)), laid_out(KitItem("ring", 1))) == []
        assert short(job(taken, evolve(new, mode="if")), laid_out()) == []
        assert short(job(taken, Action("reuse", "ring")), laid_out()) == []

    @pytest.mark.parametrize(
        ("lock", "need"),
        [
            (Lock("cotter pin", one_time_use=True), 4),
            (Lock("threadlocker", one_time_use=True), 0),
            (Lock("prevailing-torque nut", one_time_use=True, built_in=True), 0),
        ],
    )
    def test_locks(self, lock: Lock, need: int) -> None:
        procedure = job(
            Action("discard", "lock", of="bolt"), OUT, OLD, PULL, Action("lock", "bolt", state="new")
        )
        assert short(procedure, laid_out(lock=lock)) == ([("bolt", 4, 0)] if need else [])

    def test_a_pin_pulled_before_the_joint_is_opened_again_is_used_all_the_same(self) -> None:
        pin = Lock("cotter pin", one_time_use=True)
        once = [Action("discard", "lock", of="bolt"), OUT, OLD, PULL, Action("lock", "bolt", state="new")]
        assert short(job(*once, *once), laid_out(KitItem("lock", 4, "bolt"), lock=pin)) == [("bolt", 8, 4)]

    def test_a_pin_nobody_calls_new_after_the_old_one_was_binned(self) -> None:
        plain = Lock("cotter pin")
        fit = Action("lock", "bolt", with_what="cotter pin")
        assert short(job(Action("discard", "lock", of="bolt"), OUT, OLD, PULL, fit), laid_out(lock=plain)) == [
            ("bolt", 4, 0)
        ]
        assert short(job(Action("remove", "lock", of="bolt"), OUT, OLD, PULL, fit), laid_out(lock=plain)) == []
        assert short(job(Action("discard", "washer", of="bolt"), OUT, OLD, PULL, fit), laid_out(lock=plain)) == []

    def test_threadlocker_comes_out_of_a_bottle(self) -> None:
        drop = Action("lock", "bolt", with_what="threadlocker", state="new")
        assert short(job(OUT, OLD, PULL, drop), laid_out()) == []

    def test_a_lock_left_out_needs_none(self) -> None:
        pin = Lock("cotter pin", one_time_use=True)
        assert short(job(Action("discard", "lock", of="bolt"), OUT, OLD, PULL), laid_out(lock=pin)) == []


class TestLines:
    @pytest.mark.parametrize("name", ["bolt", "head bolt", "Head Bolt", "long bolt"])
    def test_by_id_name_or_alias(self, name: str) -> None:
        assert short(job(OUT, NEW, PULL), laid_out(KitItem(name, 4))) == []

    def test_several_lines_are_added(self) -> None:
        assert short(job(OUT, NEW, PULL), laid_out(KitItem("bolt", 1), KitItem("long bolt", 3))) == []

    @pytest.mark.parametrize(
        ("part", "of", "have"),
        [("washer", "bolt", 4), ("sealing washer", "bolt", 4), ("washer", "head bolt", 4), ("washer", "", 4),
         ("lock", "bolt", 0), ("washer", "other", 0), ("bolt", "", 0)],
    )  # fmt: skip
    def test_washers_by_word(self, part: str, of: str, have: int) -> None:
        procedure = job(
            OUT, Action("discard", "washer", of="bolt"), Action("reuse", "bolt", washer=WasherUse(1, "new")), PULL
        )
        catalogue = laid_out(KitItem(part, 4, of), washer=Washer("sealing", 1, True))
        assert short(procedure, catalogue) == ([] if have else [("bolt", 4, 0)])

    @pytest.mark.parametrize(("part", "of"), [("lock", "bolt"), ("cotter pin", "bolt"), ("pin", ""), ("lock", "")])
    def test_locks_by_word(self, part: str, of: str) -> None:
        procedure = job(
            Action("discard", "lock", of="bolt"), OUT, OLD, PULL, Action("lock", "bolt", state="new")
        )
        assert short(procedure, laid_out(KitItem(part, 4, of), lock=Lock("cotter pin", True))) == []

    def test_a_washer_on_a_joint_that_has_a_pin_and_a_ring_too(self) -> None:
        fit = Action("reuse", "bolt", washer=WasherUse(1, "new"))
        procedure = job(OUT, Action("discard", "washer", of="bolt"), Action("inspect", "ring"), fit, PULL)
        more = {"washer": Washer("sealing", 1, True), "lock": Lock("cotter pin", True), "seals": ("ring",)}
        assert short(procedure, laid_out(KitItem("washer", 4, "bolt"), **more)) == []
        assert short(procedure, laid_out(KitItem("cotter pin", 4, "bolt"), **more)) == [("bolt", 4, 0)]

    def test_the_seal_of_a_joint_by_word(self) -> None:
        procedure = job(Action("remove", "ring"), Action("install", "ring", state="new"))
        assert short(procedure, laid_out(KitItem("seal", 2, "bolt"), seals=("ring",))) == []

    def test_points_at_the_line_of_the_kit(self) -> None:
        (finding,) = found(RULE, job(OUT, NEW, PULL), laid_out(KitItem("rag", 9), KitItem("bolt", 3)))
        assert (finding.step, finding.part, finding.path) == (None, "kit", ("kit", 1, "count"))
        (finding,) = found(RULE, job(OUT, NEW, PULL), laid_out(KitItem("rag", 9)))
        assert (finding.part, finding.path) == ("procedure", ())


@settings(max_examples=60, deadline=None)
@given(sound_jobs(most=4))
def test_a_planted_gap_in_the_kit_is_found_and_nothing_else(made: tuple[Procedure, Catalogue]) -> None:
    procedure, catalogue = made
    planted = plant_all(RULE, procedure, catalogue)
    # the kits of these jobs hold just what is used, so every line of one can be cut
    assert len(planted) == len(catalogue.kit or ())
