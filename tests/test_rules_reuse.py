"""Pieces that hold once: which piece went back in, what the record and the trade allow, what is a trial fit."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings

from rule_bench import found, job, plant_all, told, torque
from sound_procedures import locked_nuts, locknuts, measured_bolts, sound_jobs, stretch_bolts
from torquewright.records import Action, Amount, Angle, Catalogue, Fastener, Lock, Procedure, Stage, Tightening

SINGLE, NUT, LOCK = "single-use-fastener-reused", "locknut-reused", "cotter-or-wire-reused"
OUT = Action("remove", "bolt")
PULL = Action("tighten", "bolt", to=torque(30))


def one(**more: Any) -> Catalogue:
    """A catalogue of one group of four bolts in steel."""
    more.setdefault("tightening", torque(30))
    return Catalogue(fasteners=(Fastener("bolt", "bolt", count=4, mating_material="steel", **more),))


ONCE = one(one_time_use=True)


class TestSingleUse:
    def test_a_fastener_no_record_stands_behind_is_left_alone(self) -> None:
        catalogue = Catalogue(fasteners=(Fastener("bolt", "bolt"),), unrecorded=("bolt",))
        assert told(SINGLE, job(OUT, Action("reuse", "bolt"), PULL), catalogue) == []

    @pytest.mark.parametrize("reuse", ["free", "limited"])
    def test_a_stated_reuse_policy_beats_the_flag(self, reuse: Any) -> None:
        procedure = job(OUT, Action("reuse", "bolt"), PULL)
        assert told(SINGLE, procedure, one(one_time_use=True, reuse=reuse)) == []
        assert told(SINGLE, procedure, one(one_time_use=False, reuse="never")) == [("2", "certain", "")]

    def test_new_if_needed_leaves_the_old_one_in(self) -> None:
        procedure = job(OUT, Action("install", "bolt", state="new_if"), PULL)
        assert told(SINGLE, procedure, ONCE) == [("2", "certain", "")]

    def test_both_branches_of_a_condition_are_read(self) -> None:
        first_new = job(
            OUT,
            Action("install", "bolt", state="new", mode="if", note="if the coating is gone"),
            Action("reuse", "bolt", mode="if", note="otherwise"),
            PULL,
        )
        assert told(SINGLE, first_new, ONCE) == [("3", "certain", "")]

    def test_put_back_in_two_parts_of_one_step_is_one_slip(self) -> None:
        procedure = job(OUT, [Action("reuse", "bolt", count=3), Action("reuse", "bolt", count=1)], PULL)
        (finding,) = found(SINGLE, procedure, ONCE)
        assert finding.facts == {"count": 4}

    def test_put_back_together_after_coming_out_in_two_parts(self) -> None:
        two = Action("remove", "bolt", count=2)
        procedure = job(two, two, Action("reuse", "bolt"), PULL)
        (finding,) = found(SINGLE, procedure, ONCE)
        assert finding.facts == {"count": 4}

    def test_not_said_to_be_new_has_words_of_its_own(self) -> None:
        assert told(SINGLE, job(OUT, Action("install", "bolt"), PULL), ONCE) == [("2", "unstated", "unstated")]

    @pytest.mark.parametrize(
        "action",
        [
            Action("reuse", "washer", of="bolt", mode="if"),
            Action("remove", "bolt", state="old", mode="if"),
            Action("install", "bolt", state="new", mode="if"),
        ],
    )
    def test_conditions_that_put_no_old_piece_in(self, action: Action) -> None:
        procedure = job(OUT, Action("install", "bolt", state="new"), PULL, action)
        assert told(SINGLE, procedure, ONCE) == []

    def test_turned_back_by_its_record_is_no_leave_to_reuse(self) -> None:
        back = Tightening("", "stage_angle", (*torque(50).stages, Stage(None, Angle(-180.0)), *torque(30).stages))
        catalogue = one(one_time_use=True, tightening=back)
        assert told(SINGLE, job(OUT, Action("reuse", "bolt"), PULL), catalogue) == [("2", "certain", "")]

    def test_two_new_and_two_old_counts_the_old(self) -> None:
        procedure = job(OUT, Action("install", "bolt", count=2, state="new"), Action("reuse", "bolt", count=2), PULL)
        (finding,) = found(SINGLE, procedure, ONCE)
        assert (finding.step, finding.facts) == (2, {"count": 2})

    def test_a_trial_fit_ends_only_with_new_ones(self) -> None:
        trial = [Action("reuse", "bolt"), PULL, OUT]
        assert told(SINGLE, job(OUT, *trial, Action("install", "bolt", state="new"), PULL), ONCE) == []
        assert told(SINGLE, job(OUT, *trial, Action("reuse", "bolt"), PULL), ONCE) == [
            ("2", "certain", ""),
            ("5", "certain", ""),
        ]

    def test_a_new_piece_loosened_between_its_stages_is_no_used_one(self) -> None:
        procedure = job(
            OUT, Action("install", "bolt", state="new"), PULL, Action("loosen", "bolt"), PULL
        )
        assert told(SINGLE, procedure, ONCE) == []

    def test_loosened_and_pulled_again_is_reuse_unless_the_record_turns_it_back(self) -> None:
        procedure = job(Action("loosen", "bolt"), PULL)
        assert told(SINGLE, procedure, ONCE) == [("2", "certain", "retightened")]
        back = Tightening("50 N·m, then -180°, then 30 N·m", "stage_angle", (
            *torque(50).stages, Stage(None, Angle(-180.0)), *torque(30).stages))  # fmt: skip
        assert told(SINGLE, procedure, one(one_time_use=True, tightening=back)) == []

    def test_a_pull_on_a_joint_nobody_opened_is_a_check(self) -> None:
        assert told(SINGLE, job(PULL), ONCE) == []
        assert told(SINGLE, job(Action("loosen", "bolt")), ONCE) == []

    def test_what_is_taken_as_done_belongs_to_no_step(self) -> None:
        procedure = job(Action("clean", "bolt"), given=(OUT, Action("reuse", "bolt"), PULL))
        (finding,) = found(SINGLE, procedure, ONCE)
        assert (finding.step, finding.path) == (None, ("given", 1))

    @pytest.mark.parametrize("state", ["old", "measured"])
    def test_measured_is_measured_wherever_the_text_says_it(self, state: Any) -> None:
        catalogue = one(reuse="after measuring")
        fit = Action("install", "bolt", state=state)
        assert told(SINGLE, job(OUT, Action("measure", "bolt"), fit, PULL), catalogue) == []
        wanted = [("2", "certain", "unmeasured")] if state == "old" else []
        assert told(SINGLE, job(OUT, fit, PULL), catalogue) == wanted
        assert told(SINGLE, job(OUT, Action("install", "bolt"), PULL), catalogue) == [("2", "unstated", "unmeasured")]
        assert told(SINGLE, job(OUT, Action("install", "bolt", state="new"), PULL), catalogue) == []

    def test_locknuts_are_another_rules(self) -> None:
        nut = one(one_time_use=True, kind="nut", lock=Lock("prevailing-torque nut", built_in=True))
        procedure = job(OUT, Action("reuse", "bolt"), PULL)
        assert told(SINGLE, procedure, nut) == []
        assert told(NUT, procedure, nut) == [("2", "certain", "")]


class TestLocknut:
    PROCEDURE = job(OUT, Action("reuse", "bolt"), PULL)

    def test_a_nut_with_a_running_torque_is_a_locknut(self) -> None:
        assert told(NUT, self.PROCEDURE, one(kind="nut", prevailing=Amount(2.0, "N·m"), reuse="never")) != []
        assert told(NUT, self.PROCEDURE, one(kind="screw", prevailing=Amount(2.0, "N·m"), reuse="never")) == []
        assert told(NUT, self.PROCEDURE, one(kind="bolt", lock=Lock("prevailing-torque nut"), reuse="never")) == []
        for kind, lock in (("", Lock("prevailing-torque nut")), ("bolt", Lock("prevailing-torque nut", built_in=True))):
            assert told(NUT, self.PROCEDURE, one(kind=kind, lock=lock, reuse="never")) == [("2", "certain", "")]

    def test_a_nut_by_its_kind_and_nothing_else_on_record(self) -> None:
        for nut in (one(kind="locknut"), one(kind="nut", prevailing=Amount(2.0, "N·m"))):
            assert told(NUT, self.PROCEDURE, nut) == [("2", "unstated", "unmeasured")]

    @pytest.mark.parametrize(
        ("policy", "wanted"),
        [
            ("general", [("2", "unstated", "unmeasured")]),
            ("aviation", [("2", "certain", "unmeasured")]),
            ("road vehicle", [("2", "certain", "")]),
            ("pressure flange", [("2", "unstated", "unmeasured")]),
        ],
    )
    def test_where_the_record_is_silent_the_trade_decides(self, policy: str, wanted: list[Any]) -> None:
        nut = Fastener("bolt", "nut", count=4, kind="nut", mating_material="steel", tightening=torque(30),
                       lock=Lock("prevailing-torque nut"))  # fmt: skip
        assert told(NUT, self.PROCEDURE, Catalogue(fasteners=(nut,), policy=policy)) == wanted

    def test_the_lock_of_the_record_speaks_for_the_nut(self) -> None:
        def told_with(once: bool) -> list[Any]:
            return told(NUT, self.PROCEDURE, one(kind="nut", lock=Lock("prevailing-torque nut", one_time_use=once)))

        assert told_with(True) == [("2", "certain", "")]
        assert told_with(False) == []


class TestLocks:
    PIN = one(lock=Lock("cotter pin", one_time_use=True))

    @staticmethod
    def job(*off: Action, **more: Any) -> Procedure:
        return job(*off, OUT, Action("reuse", "bolt"), PULL, Action("lock", "bolt", **more))

    def test_state_of_the_pin_decides(self) -> None:
        off = Action("remove", "lock", of="bolt")
        binned = Action("discard", "cotter pin", of="bolt")
        assert told(LOCK, self.job(off, state="new"), self.PIN) == []
        assert told(LOCK, self.job(off, state="old"), self.PIN) == [("5", "certain", "")]
        assert told(LOCK, self.job(off), self.PIN) == [("5", "unstated", "unstated")]
        assert told(LOCK, self.job(binned), self.PIN) == []
        assert told(LOCK, self.job(off, binned), self.PIN) == []

    def test_a_pin_nobody_recorded_is_known_by_its_name(self) -> None:
        bare = one()
        assert told(LOCK, self.job(with_what="split pin", state="old"), bare) == [("4", "certain", "")]
        assert told(LOCK, self.job(with_what="threadlocker", state="old"), bare) == []
        wire = job(OUT, Action("reuse", "bolt"), PULL, Action("reuse", "lockwire", of="bolt"))
        assert told(LOCK, wire, bare) == [("4", "certain", "")]

    @pytest.mark.parametrize(
        ("lock", "silent"),
        [
            (Lock("R-clip"), True),
            (Lock("tab washer"), False),
            (Lock("tab washer", one_time_use=False), True),
            (Lock("roll pin"), False),
            (Lock("lock plate", one_time_use=True), False),
            (Lock("threadlocker", one_time_use=True), True),
            (Lock("thread patch", one_time_use=True, built_in=True), True),
        ],
    )
    def test_which_locks_are_spent(self, lock: Lock, silent: bool) -> None:
        assert (told(LOCK, self.job(state="old"), one(lock=lock)) == []) is silent

    @pytest.mark.parametrize("piece", ["washer", "seal", "seat"])
    def test_other_pieces_of_the_joint_are_no_locks(self, piece: str) -> None:
        procedure = job(OUT, Action("reuse", piece, of="bolt"), Action("reuse", "bolt"), PULL)
        assert told(LOCK, procedure, self.PIN) == []

    def test_taking_an_old_pin_out_or_measuring_it_is_no_refit(self) -> None:
        assert told(LOCK, job(Action("remove", "lock", of="bolt", state="old"), OUT), self.PIN) == []
        assert told(LOCK, self.job(state="measured"), self.PIN) == [("4", "certain", "")]

    def test_the_old_pin_is_told_though_a_new_one_follows_on_a_condition(self) -> None:
        procedure = job(
            OUT, Action("reuse", "bolt"), PULL,
            Action("lock", "bolt", state="old", mode="if", note="if whole"),
            Action("lock", "bolt", state="new", mode="if", note="if not"),
        )  # fmt: skip
        assert told(LOCK, procedure, self.PIN) == [("4", "certain", "")]


@settings(max_examples=60, deadline=None)
@given(sound_jobs(kinds=(stretch_bolts, measured_bolts, locknuts, locked_nuts), most=3))
def test_planted_reuse_is_found_and_nothing_else(made: tuple[Procedure, Catalogue]) -> None:
    for rule in (SINGLE, NUT, LOCK):
        plant_all(rule, *made)


def test_the_planters_reach_every_kind_of_piece() -> None:
    def planted(rule: str, catalogue: Catalogue, *steps: Action) -> list[str]:
        return [fault.changed for fault in plant_all(rule, job(*steps), catalogue)]

    new = Action("install", "bolt", state="new")
    assert len(planted(SINGLE, ONCE, OUT, Action("discard", "bolt"), new, PULL)) == 2
    measured = (OUT, Action("measure", "bolt"), Action("reuse", "bolt"), PULL)
    assert len(planted(SINGLE, one(reuse="after measuring"), *measured)) == 1
    nut = one(kind="nut", reuse="never", lock=Lock("prevailing-torque nut"))
    assert len(planted(NUT, nut, OUT, new, PULL)) == 2
    pin = Action("lock", "bolt", state="new")
    off = (Action("remove", "lock", of="bolt"), Action("discard", "lock", of="bolt"))
    assert len(planted(LOCK, TestLocks.PIN, *off, OUT, Action("reuse", "bolt"), PULL, pin)) == 2
