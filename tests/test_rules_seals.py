"""Sealing washers by number and age; rings and gaskets by age, wetting and whether anybody speaks of them."""

from __future__ import annotations

from typing import Any

import pytest
from attrs import evolve
from hypothesis import given, settings

from rule_bench import found, job, plant_all, told, torque
from sound_procedures import banjo, plain_bolts, plastic_cap, sound_jobs, sump
from torquewright.records import Action, Catalogue, Fastener, Procedure, Seal, Washer, WasherUse

WASHERS, RINGS = "sealing-washer-count", "seal-ring-dry-or-reused"
OUT = Action("remove", "screw")
PULL = Action("tighten", "screw", to=torque(8))
BARE = Action("discard", "washer", of="screw")


def seat(kind: str = "sealing", count: int = 1, once: bool | None = True, **more: Any) -> Catalogue:
    """One screw in steel with a washer."""
    washer = Washer(kind, count, once, **more)
    screw = Fastener("screw", "screw", count=1, mating_material="steel", washer=washer, tightening=torque(8))
    return Catalogue(fasteners=(screw,))


def fit(count: int | None, state: Any = "new") -> Action:
    return Action("reuse", "screw", washer=WasherUse(count, state))


class TestWashers:
    @pytest.mark.parametrize("wanted", [1, 2])
    @pytest.mark.parametrize("more", [-1, 0, 1])
    def test_one_fewer_right_one_more(self, wanted: int, more: int) -> None:
        findings = found(WASHERS, job(OUT, BARE, fit(wanted + more), PULL), seat(count=wanted))
        assert [(held.certainty, held.facts) for held in findings] == (
            [] if more == 0 else [("certain", {"count": wanted + more, "wanted": wanted})]
        )

    @pytest.mark.parametrize("kind", ["flat", "spring", "toothed", "thrust"])
    def test_only_washers_that_seal_are_counted(self, kind: str) -> None:
        assert told(WASHERS, job(OUT, BARE, fit(3), PULL), seat(kind)) == []

    def test_a_washer_that_cannot_be_left_out_is_not_missed(self) -> None:
        assert told(WASHERS, job(OUT, Action("reuse", "screw"), PULL), seat(captive=True)) == []

    def test_with_its_washers_says_no_number(self) -> None:
        spent = job(OUT, Action("reuse", "screw", washer=WasherUse(None, "")), PULL)
        assert told(WASHERS, spent, seat(count=2)) == [("2", "unstated", "unsaid")]
        assert told(WASHERS, spent, seat(count=2, once=False)) == [("2", "unstated", "left")]

    def test_a_washer_that_may_stay_goes_back_with_its_screw(self) -> None:
        assert told(WASHERS, job(OUT, Action("reuse", "screw"), PULL), seat(once=False)) == []
        assert told(WASHERS, job(OUT, BARE, Action("reuse", "screw"), PULL), seat(once=False)) == [
            ("3", "certain", "few")
        ]

    def test_none_on_purpose_is_too_few(self) -> None:
        assert told(WASHERS, job(OUT, fit(0), PULL), seat(once=False)) == [("2", "certain", "few")]

    def test_one_of_two_renewed_may_mean_that_the_other_stayed(self) -> None:
        assert told(WASHERS, job(OUT, fit(1), PULL), seat(count=2)) == [("2", "unstated", "few")]
        assert told(WASHERS, job(OUT, BARE, fit(1), PULL), seat(count=2)) == [("3", "certain", "few")]

    @pytest.mark.parametrize(
        "look",
        [
            Action("inspect", "seat", of="screw"),
            Action("clean", "seat", of="screw"),
            Action("remove", "washer", of="screw"),
            Action("inspect", "sealing washer", of="screw"),
        ],
    )
    def test_the_seat_is_accounted_for_in_several_ways(self, look: Action) -> None:
        assert told(WASHERS, job(OUT, look, fit(1), PULL), seat()) == []

    def test_only_throwing_the_old_one_away_makes_the_next_one_new(self) -> None:
        off = Action("remove", "washer", of="screw")
        assert told(WASHERS, job(OUT, off, fit(1, ""), PULL), seat()) == [("3", "unstated", "unsaid")]
        assert told(WASHERS, job(OUT, BARE, fit(1, ""), PULL), seat()) == []

    def test_a_refit_left_unsaid_is_another_slip(self) -> None:
        assert told(WASHERS, job(OUT, PULL), seat()) == []

    def test_one_old_and_one_new_leave_one_old_unaccounted_for(self) -> None:
        both = [fit(1, "old"), Action("install", "washer", of="screw", count=1, state="new"), PULL]
        assert told(WASHERS, job(OUT, *both), seat(count=2, once=False)) == [("3", "unstated", "left")]

    def test_taken_out_with_its_washer_is_accounted_for(self) -> None:
        out = Action("remove", "screw", washer=WasherUse(1, ""))
        assert told(WASHERS, job(out, fit(1), PULL), seat()) == []

    def test_looking_on_a_condition_is_no_looking(self) -> None:
        look = Action("remove", "washer", of="screw", mode="if")
        assert told(WASHERS, job(OUT, look, fit(1), PULL), seat()) == [("3", "unstated", "left")]

    def test_only_the_first_opening_asks_for_the_old_washer(self) -> None:
        twice = job(OUT, BARE, fit(1), PULL, OUT, fit(1), PULL)
        assert told(WASHERS, twice, seat()) == []
        never = job(OUT, fit(1), PULL, OUT, fit(1), PULL)
        assert told(WASHERS, never, seat()) == [("2", "unstated", "left")]

    def test_a_screw_that_was_only_loosened_keeps_its_washer(self) -> None:
        assert told(WASHERS, job(Action("loosen", "screw"), PULL), seat()) == []

    def test_a_screw_that_stays_out_has_no_count(self) -> None:
        assert told(WASHERS, job(OUT, BARE), seat()) == []

    def test_put_together_from_parts(self) -> None:
        assert told(WASHERS, job(Action("install", "screw", washer=WasherUse(1, "new")), PULL), seat()) == []
        assert told(WASHERS, job(Action("install", "screw"), PULL), seat()) == [("1", "unstated", "none")]
        assert told(WASHERS, job(Action("install", "screw"), PULL), seat(once=False)) == [("1", "unstated", "none")]

    def test_points_at_the_washers_of_the_action(self) -> None:
        (finding,) = found(WASHERS, job(OUT, BARE, fit(2), PULL), seat())
        assert finding.path == ("step", 2, "do", 0, "washer")
        assert finding.also == (("catalogue", ("fastener", "screw", "washer")),)


def ring(once: bool | None = True, lubricant: str = "", clamp: int = 2) -> Catalogue:
    """Two cover screws in steel over one ring."""
    screw = Fastener("screw", "screw", count=clamp, mating_material="steel", tightening=torque(8), seals=("ring",))
    return Catalogue(fasteners=(screw,), seals=(Seal("ring", "ring", one_time_use=once, lubricant=lubricant),))


TAKEN = Action("remove", "ring")
NEW = Action("install", "ring", state="new")
OIL = Action("lubricate", "ring", with_what="oil")


class TestRings:
    def test_age(self) -> None:
        assert told(RINGS, job(TAKEN, NEW), ring()) == []
        assert told(RINGS, job(TAKEN, Action("reuse", "ring")), ring()) == [("2", "certain", "")]
        assert told(RINGS, job(TAKEN, Action("install", "ring", state="old")), ring()) == [("2", "certain", "")]
        assert told(RINGS, job(TAKEN, Action("install", "ring", state="new_if")), ring()) == [("2", "certain", "")]
        assert told(RINGS, job(TAKEN, Action("install", "ring")), ring()) == [("2", "unstated", "unstated")]
        assert told(RINGS, job(TAKEN, Action("replace", "ring")), ring()) == []

    @pytest.mark.parametrize("once", [False, None])
    def test_a_ring_that_may_go_back_or_of_which_nothing_is_known(self, once: bool | None) -> None:
        assert told(RINGS, job(TAKEN, Action("reuse", "ring")), ring(once)) == []
        assert told(RINGS, job(TAKEN, Action("install", "ring")), ring(once)) == []

    def test_wetting(self) -> None:
        wet = ring(lubricant="gear oil")
        assert told(RINGS, job(TAKEN, OIL, NEW), wet) == []
        assert told(RINGS, job(TAKEN, NEW, OIL), wet) == []
        assert told(RINGS, job(TAKEN, Action("install", "ring", state="new", with_what="gear oil")), wet) == []
        assert told(RINGS, job(TAKEN, NEW), wet) == [("2", "certain", "dry")]

    def test_the_second_ring_is_not_wetted_by_the_first(self) -> None:
        again = job(TAKEN, OIL, NEW, TAKEN, NEW)
        assert told(RINGS, again, ring(lubricant="gear oil")) == [("5", "certain", "dry")]

    def test_a_ring_that_must_be_dry(self) -> None:
        dry = ring(lubricant="dry")
        assert told(RINGS, job(TAKEN, NEW), dry) == []
        assert told(RINGS, job(TAKEN, OIL, NEW), dry) == [("3", "certain", "wetted")]
        assert told(RINGS, job(TAKEN, Action("clean", "ring", with_what="spirit"), NEW), dry) == []
        forbidden = Action("lubricate", "ring", mode="do_not", with_what="oil")
        assert told(RINGS, job(TAKEN, NEW, forbidden), dry) == []

    def test_one_slip_is_told_of_one_fitting(self) -> None:
        assert told(RINGS, job(TAKEN, Action("reuse", "ring")), ring(lubricant="oil")) == [("2", "certain", "")]

    def test_the_ring_of_a_joint_goes_by_its_word(self) -> None:
        fit = Action("reuse", "gasket", of="screw")
        assert told(RINGS, job(Action("remove", "seal", of="screw"), fit), ring()) == [("2", "certain", "")]


class TestUnspoken:
    REFIT = (OUT, Action("reuse", "screw"), PULL)

    def test_a_joint_taken_apart_without_a_word_of_its_ring(self) -> None:
        (finding,) = found(RINGS, job(*self.REFIT), ring())
        assert (finding.step, finding.joint, finding.certainty) == (1, "ring", "unstated")
        assert finding.facts == {"clamp": "screw"}

    @pytest.mark.parametrize("mode", ["do", "do_not", "mentioned_only"])
    def test_any_word_of_it_is_enough(self, mode: Any) -> None:
        word = Action("inspect", "ring", mode=mode)
        assert told(RINGS, job(OUT, word, *self.REFIT[1:]), ring()) == []

    def test_a_word_for_all_the_seals_of_a_joint(self) -> None:
        two = Seal("other", "other ring", one_time_use=True)
        one = ring()
        both = Catalogue(
            fasteners=tuple(evolve(held, seals=("ring", "other")) for held in one.fasteners), seals=(*one.seals, two)
        )
        assert len(told(RINGS, job(*self.REFIT), both)) == 2
        assert told(RINGS, job(OUT, Action("discard", "both gaskets", of="screw"), *self.REFIT[1:]), both) == []
        spring = Action("clean", "spring washer", of="screw")
        assert len(told(RINGS, job(OUT, spring, *self.REFIT[1:]), both)) == 2

    def test_a_ring_that_may_stay_needs_no_word(self) -> None:
        assert told(RINGS, job(*self.REFIT), ring(once=False)) == []

    def test_one_screw_at_a_time_does_not_part_the_joint(self) -> None:
        single = job(
            Action("remove", "screw", count=1), Action("reuse", "screw", count=1), PULL,
        )  # fmt: skip
        assert told(RINGS, single, ring()) == []
        assert told(RINGS, job(Action("loosen", "screw"), PULL), ring()) == []

    def test_a_ring_under_two_joints_is_told_once(self) -> None:
        one = ring()
        other = Fastener("bolt", "bolt", count=1, mating_material="steel", tightening=torque(8), seals=("ring",))
        catalogue = Catalogue(fasteners=(*one.fasteners, other), seals=one.seals)
        second = (Action("remove", "bolt"), Action("reuse", "bolt"), Action("tighten", "bolt", to=torque(8)))
        assert len(told(RINGS, job(*self.REFIT, *second), catalogue)) == 1

    def test_a_seal_no_record_stands_behind(self) -> None:
        bare = Catalogue(fasteners=ring().fasteners)
        assert told(RINGS, job(*self.REFIT), bare) == []


@settings(max_examples=60, deadline=None)
@given(sound_jobs(kinds=(sump, banjo, plain_bolts, plastic_cap), most=3))
def test_planted_leaks_are_found_and_nothing_else(made: tuple[Procedure, Catalogue]) -> None:
    for rule in (WASHERS, RINGS):
        plant_all(rule, *made)


def test_the_planters_reach_every_kind_of_slip() -> None:
    two = plant_all(WASHERS, job(OUT, BARE, fit(2), PULL), seat(count=2))
    assert [told(WASHERS, fault.procedure, fault.catalogue)[0][1:] for fault in two] == [
        ("certain", ""), ("certain", "few"), ("certain", "old"), ("unstated", "left"),
    ]  # fmt: skip
    wet = plant_all(RINGS, job(TAKEN, Action("discard", "ring"), OIL, NEW), ring(lubricant="oil"))
    assert [told(RINGS, fault.procedure, fault.catalogue)[0][1:] for fault in wet] == [
        ("certain", ""), ("unstated", "unstated"), ("certain", "dry"),
    ]  # fmt: skip
    dry = plant_all(RINGS, job(TAKEN, NEW), ring(lubricant="dry"))
    assert [told(RINGS, fault.procedure, fault.catalogue)[0][2] for fault in dry] == ["", "unstated", "wetted"]
