"""How a joint ends: closed or not, all of it or some, started by hand or forced, and what no bench could do."""

from __future__ import annotations

from typing import Any

import pytest
from attrs import evolve
from hypothesis import given, settings

from rule_bench import found, job, plant_all, told, torque
from sound_procedures import HAND_TIGHT, sound_jobs
from torquewright.records import Action, Angle, Catalogue, Fastener, Procedure, Stage, Tightening, Torque
from torquewright.rules.closing import soft_host

LEFT, COUNT, START, CANNOT = (
    "opened-joint-left-loose", "fastener-count-mismatch", "hand-start-missing", "action-cannot-happen",
)  # fmt: skip


def act(verb: str, count: int | None = None, to: Tightening | None = None, **more: Any) -> Action:
    """An action on the screws of the catalogue; a pull is one to 8 N·m."""
    return Action(verb, "screw", count=count, to=to or (torque(8) if verb == "tighten" else None), **more)


def screws(count: int | None = 6, material: str = "steel", **more: Any) -> Catalogue:
    more.setdefault("tightening", torque(8))
    return Catalogue(fasteners=(Fastener("screw", "screw", count=count, mating_material=material, **more),))


class TestLeftLoose:
    @pytest.mark.parametrize(
        ("steps", "wanted"),
        [
            ([act("loosen")], [("1", "certain", "")]),
            ([act("remove")], [("1", "certain", "out")]),
            ([act("remove"), act("reuse")], [("2", "certain", "")]),
            ([act("remove"), act("reuse"), act("hand_start")], [("3", "certain", "")]),
            ([act("remove"), act("reuse"), act("hand_start"), act("seat")], [("4", "certain", "")]),
            ([act("remove"), act("discard")], [("2", "unstated", "out")]),
            ([act("remove"), act("reuse"), act("tighten")], []),
            ([act("install"), act("hand_start")], [("2", "certain", "")]),
            ([act("check")], []),
            ([act("remove", mode="do_not")], []),
            ([act("loosen", mode="if")], []),
        ],
    )
    def test_the_last_state_counts_and_the_last_move_is_shown(self, steps: list[Action], wanted: list[Any]) -> None:
        assert told(LEFT, job(*steps), screws()) == wanted

    def test_later_words_that_move_nothing_do_not_move_the_place(self) -> None:
        procedure = job(act("remove"), act("hand_start"), act("check_leak"), act("mark"), act("record"))
        assert told(LEFT, procedure, screws()) == [("2", "certain", "")]

    def test_the_second_opening_counts_as_much_as_the_first(self) -> None:
        once = [act("remove"), act("reuse"), act("tighten")]
        assert told(LEFT, job(*once, act("remove"), act("reuse")), screws()) == [("5", "certain", "")]

    def test_hand_tight_may_be_final(self) -> None:
        cap = screws(1, tightening=HAND_TIGHT)
        assert told(LEFT, job(act("remove"), act("reuse"), act("hand_start")), cap) == []
        assert told(LEFT, job(act("remove"), act("reuse")), cap) == [("2", "certain", "")]

    def test_what_nobody_gives_a_value_for(self) -> None:
        bare = screws(tightening=None)
        assert told(LEFT, job(act("remove"), act("reuse"), act("seat")), bare) == [("3", "unstated", "")]
        assert told(LEFT, job(act("remove"), act("reuse"), act("hand_start")), bare) == [("3", "certain", "")]

    def test_handing_on_to_another_procedure_leaves_it_open(self) -> None:
        assert told(LEFT, job(act("remove"), Action("refer", "the next sheet")), screws()) == [("1", "unstated", "out")]
        assert told(LEFT, job(Action("refer", "the first sheet"), act("remove")), screws()) == [("2", "certain", "out")]

    def test_a_lent_piece_that_stays_is_no_lent_piece(self) -> None:
        back_again = job(act("insert"), act("hand_start"), act("remove"), act("insert"))
        assert told(LEFT, back_again, screws(2)) == [("4", "certain", "")]
        own = job(act("remove"), act("reuse"), act("hand_start"), act("take_out"))
        assert told(LEFT, own, screws(2)) == [("4", "certain", "out")]
        fitted = job(act("install"), act("hand_start"), act("remove"))
        assert told(LEFT, fitted, screws(2)) == [("3", "certain", "out")]
        drafted = Catalogue(fasteners=(Fastener("screw", "screw"),), unrecorded=("screw",))
        assert told(LEFT, fitted, drafted) == []

    @pytest.mark.parametrize("verbs", [("insert", "remove"), ("install", "take_out"), ("insert", "take_out")])
    def test_a_guide_stud_comes_and_goes(self, verbs: tuple[str, str]) -> None:
        assert told(LEFT, job(act(verbs[0]), act("hand_start"), act(verbs[1])), screws(2)) == []

    def test_a_stage_is_not_the_end(self) -> None:
        staged = screws(tightening=torque(4, 8))
        open_up = [act("remove"), act("reuse")]
        assert told(LEFT, job(*open_up, act("tighten", to=torque(4))), staged) == [("3", "certain", "stage")]
        assert told(LEFT, job(*open_up, act("tighten", to=torque(4)), act("tighten")), staged) == []
        assert told(LEFT, job(*open_up, act("tighten", to=torque(4, 8))), staged) == []
        # a figure that is no stage at all is a wrong figure, and not this slip
        assert told(LEFT, job(*open_up, act("tighten", to=torque(6))), staged) == []
        # checked at the full figure later on: it gets there
        assert told(LEFT, job(*open_up, act("tighten", to=torque(4)), act("retighten", to=torque(8))), staged) == []

    def test_stages_that_are_wrong_in_another_way(self) -> None:
        staged = screws(tightening=torque(4, 8))
        open_up = [act("remove"), act("reuse")]
        swapped = evolve(torque(8), stages=(Stage(Torque(0.9, None, None, "lbf·in", 0.05)),))
        bare = evolve(torque(4), stages=(Stage(Torque(8.0, None, None, "", 0.5)),))
        for last in (Action("tighten", "screw"), act("tighten", to=swapped), act("tighten", to=bare)):
            assert told(LEFT, job(*open_up, act("tighten", to=torque(4)), last), staged) == []
        assert told(LEFT, job(*open_up, Action("tighten", "screw")), staged) == []
        angled = evolve(torque(4, 8), kind="stage_angle", stages=(*torque(4, 8).stages, Stage(None, Angle(90.0))))
        assert told(LEFT, job(*open_up, act("tighten", to=torque(4))), screws(tightening=angled)) == []

    def test_some_out_and_the_others_only_checked(self) -> None:
        procedure = job(act("remove", 2), act("retighten", to=torque(8)))
        assert told(LEFT, procedure, screws()) == [("1", "certain", "out")]
        assert told(COUNT, procedure, screws()) == []

    def test_some_closed_and_some_not_is_a_slip_of_numbers(self) -> None:
        procedure = job(act("remove"), act("reuse", 5), act("tighten"))
        assert told(LEFT, procedure, screws()) == []
        assert len(told(COUNT, procedure, screws())) == 1

    def test_what_no_record_knows_is_left_to_its_own_end(self) -> None:
        drafted = Catalogue(fasteners=(Fastener("screw", "screw"),), unrecorded=("screw",))
        assert told(LEFT, job(act("install")), drafted) == [("1", "unstated", "")]
        assert told(LEFT, job(act("remove")), drafted) == [("1", "certain", "out")]


class TestCounts:
    REST = (act("hand_start"), act("tighten"))

    @pytest.mark.parametrize(
        ("counts", "wanted"),
        [
            ((6, 6, 6, 6), []),
            ((None, None, None, None), []),
            ((6, None, 6, None), []),
            ((7, 6, 6, 6), [("1", "certain", "more")]),
            ((7, 7, 7, 7), [("1", "certain", "more")]),
            ((6, 5, 5, 5), [("2", "certain", "")]),
            ((6, 5, 6, 6), [("2", "certain", "")]),
            ((6, 5, None, None), [("2", "certain", "")]),
            ((6, 7, 6, 6), [("2", "certain", "more")]),
            ((6, 6, 6, 5), [("4", "certain", "")]),
            ((6, 6, 5, 5), [("4", "certain", "")]),
            ((6, 6, 6, 7), [("4", "certain", "more")]),
            ((5, 6, 6, 6), [("2", "certain", "more")]),
            ((4, 4, 4, 4), [("1", "unstated", "some")]),
        ],
    )
    def test_out_in_started_tightened(self, counts: tuple[Any, ...], wanted: list[Any]) -> None:
        out, back, start, pull = counts
        procedure = job(act("remove", out), act("reuse", back), act("hand_start", start), act("tighten", pull))
        assert told(COUNT, procedure, screws()) == wanted

    def test_numbers_of_several_steps_are_added(self) -> None:
        procedure = job(
            act("remove", 4), act("remove", 2), act("install", 4, state="new"), act("hand_start", 4),
            act("install", 2, state="new"), act("hand_start", 2), act("tighten", 3), act("tighten", 3),
        )  # fmt: skip
        assert told(COUNT, procedure, screws()) == []

    def test_the_last_ones_may_be_started_without_being_fitted_first(self) -> None:
        start = (act("hand_start", 4), act("hand_start", 2))
        assert told(COUNT, job(act("remove", 6), act("reuse", 4), *start, act("tighten", 6)), screws()) == []

    def test_put_together_from_parts(self) -> None:
        assert told(COUNT, job(act("install", 6), act("tighten", 6)), screws()) == []
        assert told(COUNT, job(act("install", 4), act("install", 2), act("tighten")), screws()) == []
        assert told(COUNT, job(act("install", 4), act("tighten")), screws()) == [("1", "certain", "some")]

    def test_without_a_record_the_largest_number_told_is_the_joint(self) -> None:
        assert told(COUNT, job(act("remove", 6), act("reuse", 5), act("tighten", 5)), screws(None)) == [
            ("2", "certain", "")
        ]
        assert told(COUNT, job(act("remove"), act("reuse"), act("tighten")), screws(None)) == []

    def test_each_round_of_a_pattern_is_the_whole_joint(self) -> None:
        staged = screws(tightening=torque(4, 8))
        rounds = (act("tighten", 6, torque(4)), act("tighten", 6), act("tighten", 6))
        assert told(COUNT, job(act("remove", 6), act("reuse", 6), *rounds), staged) == []

    def test_the_last_stage_must_reach_them_all(self) -> None:
        staged = screws(tightening=torque(4, 8))
        start = (act("remove", 6), act("reuse", 6), act("tighten", 6, torque(4)))
        (finding,) = found(COUNT, job(*start, act("tighten", 5)), staged)
        assert (finding.step, finding.facts) == (3, {"told": 5, "wanted": 6})
        assert told(COUNT, job(*start, act("tighten", 5), act("tighten", 1)), staged) == []

    def test_two_rings_of_bolts_with_a_figure_each_are_no_slip(self) -> None:
        procedure = job(act("remove"), act("reuse"), act("tighten", 2, torque(12)), act("tighten", 4))
        assert told(COUNT, procedure, screws()) == []

    def test_a_number_on_a_condition_binds_nobody(self) -> None:
        worn = act("install", 7, state="new", mode="if", note="if worn")
        assert told(COUNT, job(act("remove", 6), act("reuse", 6), worn, act("tighten", 6)), screws()) == []

    def test_hand_tight_ones_are_closed_too(self) -> None:
        caps = screws(2, tightening=HAND_TIGHT)
        procedure = job(act("remove", 2), act("reuse", 2), act("hand_start", 2), act("tighten", 1, HAND_TIGHT))
        assert told(COUNT, procedure, caps) == []

    def test_five_fitted_and_six_started_from_parts(self) -> None:
        procedure = job(act("install", 5), act("hand_start", 6), act("tighten"))
        (finding,) = found(COUNT, procedure, screws())
        assert (finding.step, finding.certainty, finding.facts) == (0, "certain", {"told": 5, "wanted": 6})

    def test_run_down_by_hand_counts_as_started(self) -> None:
        procedure = job(act("remove", 6), act("reuse", 5), act("seat", 6, by_hand=True), act("tighten", 6))
        assert told(COUNT, procedure, screws()) == [("2", "certain", "")]

    def test_the_turn_by_an_angle_must_reach_them_all(self) -> None:
        turn = Tightening("90°", "angle_only", (Stage(None, Angle(90.0)),))
        start = (act("remove", 6), act("reuse", 6), act("tighten", 6))
        assert told(COUNT, job(*start, act("tighten_angle", 5, turn)), screws()) == [("4", "certain", "")]
        assert told(COUNT, job(*start, act("tighten_angle", 6, turn)), screws()) == []

    def test_a_look_at_some_of_them_is_no_missed_pull(self) -> None:
        start = (act("remove", 6), act("reuse", 6), act("tighten", 6))
        assert told(COUNT, job(*start, act("retighten", 3, torque(8))), screws()) == []
        staged = (act("remove", 6), act("reuse", 6), act("tighten", 6, torque(4)))
        both = (act("tighten", 5, torque(12)), act("tighten", 6))
        assert told(COUNT, job(*staged, *both), screws()) == []

    def test_checking_some_and_never_the_others_is_asked_about(self) -> None:
        assert told(COUNT, job(act("retighten", 4, torque(8))), screws()) == [("1", "unstated", "some")]
        assert told(COUNT, job(act("check", 4)), screws()) == []

    def test_what_no_record_knows_has_no_second_place(self) -> None:
        drafted = Catalogue(fasteners=screws().fasteners, unrecorded=("screw",))
        (finding,) = found(COUNT, job(act("remove", 6), act("reuse", 5), act("tighten")), drafted)
        assert finding.also == ()

    def test_points_at_the_number(self) -> None:
        (finding,) = found(COUNT, job(act("remove", 6), act("reuse", 5), act("tighten")), screws())
        assert finding.path == ("step", 1, "do", 0, "count")
        assert finding.also == (("catalogue", ("fastener", "screw", "count")),)

    def test_a_joint_never_closed_is_not_told_twice(self) -> None:
        procedure = job(act("remove", 6), act("reuse", 5), act("hand_start", 5))
        assert (len(told(COUNT, procedure, screws())), len(told(LEFT, procedure, screws()))) == (0, 1)


class TestHandStart:
    @pytest.mark.parametrize(
        ("material", "soft"),
        [
            ("aluminium die-cast", True), ("AlSi9 (aluminium)", True), ("magnesium casting", True),
            ("brass elbow", True),
            ("glass-filled nylon", True), ("brass insert in glass-filled nylon", True), ("zinc die-cast", True),
            ("polycarbonate", True), ("Aluminum", True), ("steel", False), ("stainless steel", False),
            ("aluminium with steel insert", True),
            ("grey cast iron", False), ("steel insert in aluminium", False), ("ductile iron flywheel", False),
            ("", False),
        ],
    )  # fmt: skip
    def test_which_threads_are_soft(self, material: str, soft: bool) -> None:
        assert soft_host(material) is soft
        procedure = job(act("remove"), act("reuse"), act("tighten"))
        assert told(START, procedure, screws(material=material)) == ([("3", "certain", "")] if soft else [])

    @pytest.mark.parametrize("record", [True, False])
    def test_the_record_has_the_last_word(self, record: bool) -> None:
        procedure = job(act("remove"), act("reuse"), act("tighten"))
        for material in ("steel", "aluminium"):
            assert bool(told(START, procedure, screws(material=material, hand_start=record))) is record

    @pytest.mark.parametrize("kind", ["stud", "thread-forming screw", "self-tapping screw"])
    def test_kinds_that_start_their_own_way(self, kind: str) -> None:
        procedure = job(act("remove"), act("reuse"), act("tighten"))
        assert told(START, procedure, screws(material="aluminium", kind=kind)) == []

    @pytest.mark.parametrize(
        ("steps", "wanted"),
        [
            ([act("reuse"), act("hand_start"), act("tighten")], []),
            ([act("reuse", by_hand=True), act("tighten")], []),
            ([act("reuse"), act("seat", by_hand=True), act("tighten")], []),
            ([act("hand_start"), act("tighten")], []),
            ([act("reuse"), act("seat", tool="ratchet"), act("tighten")], [("3", "certain", "")]),
            ([act("reuse"), act("hand_start"), act("seat", tool="ratchet"), act("tighten")], []),
            ([act("reuse"), act("seat", tool="ratchet"), act("hand_start"), act("tighten")], [("3", "certain", "")]),
            ([act("reuse"), act("seat"), act("tighten")], [("4", "unstated", "")]),
            ([act("reuse"), act("tighten", by_hand=True)], []),
            ([act("reuse"), act("tighten", to=HAND_TIGHT)], []),
            ([act("reuse"), act("tighten", to=HAND_TIGHT, tool="ratchet")], [("3", "certain", "")]),
            ([act("reuse", 4), act("reuse", 2), act("tighten")], [("4", "certain", "")]),
            ([act("reuse"), act("hand_start", mode="mentioned_only"), act("tighten")], [("4", "certain", "")]),
        ],
    )
    def test_the_first_turn(self, steps: list[Action], wanted: list[Any]) -> None:
        assert told(START, job(act("remove"), *steps), screws(material="aluminium")) == wanted

    def test_loosened_is_still_in_its_thread(self) -> None:
        assert told(START, job(act("loosen"), act("tighten")), screws(material="aluminium")) == []
        assert told(START, job(act("tighten")), screws(material="aluminium")) == []

    def test_only_some_were_started(self) -> None:
        procedure = job(act("remove"), act("reuse"), act("hand_start", 4), act("tighten"))
        assert told(START, procedure, screws(material="aluminium")) == [("4", "certain", "")]

    def test_every_refit_needs_its_own_start(self) -> None:
        first = [act("remove"), act("reuse"), act("hand_start"), act("tighten")]
        again = [act("remove"), act("reuse"), act("tighten")]
        assert told(START, job(*first, *again), screws(material="aluminium")) == [("7", "certain", "")]


class TestCannotHappen:
    @pytest.mark.parametrize(
        ("steps", "wanted"),
        [
            ([act("remove"), act("remove"), act("reuse"), act("tighten")], [("2", "certain", "out")]),
            ([act("remove"), act("loosen"), act("reuse"), act("tighten")], [("2", "certain", "out")]),
            ([act("remove"), act("remove", mode="if"), act("reuse"), act("tighten")], []),
            ([act("remove"), act("tighten")], [("2", "unstated", "not")]),
            ([act("remove", 4), act("remove", 2), act("tighten")], [("3", "unstated", "not")]),
            ([act("remove"), act("tighten", mode="if"), act("reuse"), act("tighten")], []),
            ([act("remove"), act("reuse"), act("reuse"), act("tighten")], [("3", "certain", "in")]),
            ([act("remove"), act("reuse"), act("tighten"), act("reuse")], [("4", "unstated", "in")]),
            ([act("remove"), act("reuse"), act("tighten"), act("hand_start")], [("4", "certain", "started")]),
            ([act("remove"), act("reuse"), act("hand_start"), act("hand_start"), act("tighten")], []),
            ([act("remove"), act("reuse"), act("tighten"), act("remove"), act("reuse"), act("tighten")], []),
            ([act("tighten")], []),
        ],
    )
    def test_what_the_steps_before_have_made_impossible(self, steps: list[Action], wanted: list[Any]) -> None:
        assert told(CANNOT, job(*steps), screws()) == wanted

    def test_said_twice_in_one_step_is_one_action(self) -> None:
        twice = ([act("remove"), act("remove")], [act("reuse"), act("reuse")])
        assert told(CANNOT, job(*twice, act("tighten")), screws()) == []

    def test_names_the_step_that_stands_against_it(self) -> None:
        again = (act("remove"), act("check"), act("remove"))
        (finding,) = found(CANNOT, job(*again, act("reuse"), act("tighten")), screws())
        assert finding.facts == {"before": 0, "verb": "remove"}
        assert finding.also == (("procedure", ("step", 0, "do", 0)),)

    def test_what_is_done_to_a_piece_of_the_joint_is_no_cause(self) -> None:
        off = Action("discard", "washer", of="screw")
        (finding,) = found(CANNOT, job(act("remove"), off, act("remove"), act("reuse"), act("tighten")), screws())
        assert finding.facts["before"] == 0

    def test_a_refit_left_unsaid_is_one_slip(self) -> None:
        tender = Catalogue(fasteners=(
            Fastener("screw", "screw", count=6, mating_material="aluminium", one_time_use=True, tightening=torque(8)),
        ))  # fmt: skip
        procedure = job(act("remove"), act("tighten"))
        assert len(told(CANNOT, procedure, tender)) == 1
        for rule in (START, LEFT, COUNT, "single-use-fastener-reused"):
            assert told(rule, procedure, tender) == [], rule


@settings(max_examples=60, deadline=None)
@given(sound_jobs(most=3))
def test_planted_slips_of_closing_are_found_and_nothing_else(made: tuple[Procedure, Catalogue]) -> None:
    for rule in (LEFT, COUNT, START, CANNOT):
        plant_all(rule, *made)


def test_the_planters_reach_every_kind_of_slip() -> None:
    sound = job(act("remove", 6), act("reuse", 6), act("hand_start", 6), act("tighten", 6))
    soft = screws(material="aluminium")
    planted = {rule: plant_all(rule, sound, soft) for rule in (LEFT, COUNT, START, CANNOT)}
    assert [told(LEFT, fault.procedure, soft)[0][2] for fault in planted[LEFT]] == ["", "out"]
    assert [told(COUNT, fault.procedure, soft)[0][2] for fault in planted[COUNT]] == ["more", ""]
    assert [told(START, fault.procedure, soft)[0][1] for fault in planted[START]] == ["certain"]
    assert [told(CANNOT, fault.procedure, soft)[0][2] for fault in planted[CANNOT]] == ["out", "not"]
