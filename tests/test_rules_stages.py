"""Stages in order, all of them, with their back-offs; turns by angle, their size and what measures them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings

from rule_bench import found, job, plant_all, told
from sound_procedures import plain_bolts, sound_jobs, stretch_bolts
from torquewright import read, read_tightening
from torquewright.bench import play
from torquewright.records import Action, Catalogue, Fastener, Procedure, Tool
from torquewright.rules import detect

ORDER, ANGLE = "wrong-stage-order", "angle-stage-missing"
EXAMPLES = sorted((Path(__file__).parent.parent / "specs" / "examples").glob("*/sound.toml"))
GAUGE = Tool("gauge", "angle gauge", kind="angle gauge")
NEW = (Action("install", "bolt", state="new"), Action("hand_start", "bolt"))


def records(tightening: str, **more: Any) -> Catalogue:
    held = read_tightening(tightening) if tightening else None
    tools = more.pop("tools", None)
    return Catalogue(fasteners=(Fastener("bolt", "bolt", tightening=held, **more),), tools=tools)


def pull(text: str, verb: str = "tighten", **more: Any) -> Action:
    if verb == "tighten" and text.endswith(("°", "turn")):
        verb = "tighten_angle"
    return Action(verb, "bolt", to=read_tightening(text), **more)


def order(record: str, *texts: str, made: bool = True, **more: Any) -> list[tuple[str, str, str]]:
    """What is said of pulls on a joint; step 1 puts it together, the pulls begin in step 2."""
    first = NEW if made else (Action("clean", "bolt"),)
    return told(ORDER, job(first, *(pull(text) for text in texts)), records(record, **more))


TWO = "12 N·m, then 24 N·m ± 2"


class TestOrder:
    def test_swapped_passes_are_one_finding(self) -> None:
        procedure = job(NEW, pull("24 N·m"), pull("12 N·m"))
        (finding,) = detect(play(procedure, records(TWO)))
        assert (finding.rule, finding.step, finding.certainty) == (ORDER, 2, "certain")
        assert (finding.facts["before"], finding.facts["torque"]) == (24.0, 12.0)

    def test_a_pull_below_the_one_before_it(self) -> None:
        assert order("24 N·m ± 2", "24 N·m", "12 N·m") == [("3", "certain", "")]
        assert order("", "24 N·m", "12 N·m") == [("3", "certain", "")]
        assert order("24 N·m ± 2", "12 N·m", "24 N·m", "24 N·m") == []
        assert order("24 N·m ± 2", "25 N·m", "23 N·m") == [("3", "certain", "")]

    def test_the_same_torque_in_another_unit_is_no_fall(self) -> None:
        assert order("24 N·m ± 2", "24 N·m", "17 lbf·ft") == []  # 17 lbf·ft is 23.0 and stands for up to 23.7
        assert order("24 N·m ± 2", "25 N·m", "17 lbf·ft") == [("3", "certain", "")]

    def test_a_range_that_reaches_up_to_the_pull_before_is_no_fall(self) -> None:
        assert order("22 to 26 N·m", "24 N·m", "22 to 26 N·m") == []

    def test_a_later_check_is_no_stage(self) -> None:
        procedure = job(NEW, pull("12 N·m"), pull("24 N·m"), pull("22 N·m", "retighten"))
        assert found(ORDER, procedure, records(TWO)) == []

    def test_what_is_done_under_a_condition_is_no_stage(self) -> None:
        procedure = job(NEW, pull("12 N·m"), pull("24 N·m"), pull("12 N·m", mode="if"))
        assert found(ORDER, procedure, records(TWO)) == []

    def test_a_record_may_fall_itself(self) -> None:
        assert order("61 N·m, then 88 N·m, then 70 N·m", "61 N·m", "88 N·m", "70 N·m") == []

    def test_a_stage_that_comes_twice_in_the_record(self) -> None:
        record = "61 N·m, then 88 N·m, then 88 N·m"
        assert order(record, "61 N·m", "88 N·m", "88 N·m") == []
        assert order(record, "61 N·m", "88 N·m") == [("2", "certain", "left-out")]

    def test_stages_left_out(self) -> None:
        assert order(TWO, "24 N·m") == [("2", "certain", "left-out")]
        assert order(TWO, "24 N·m", "24 N·m") == [("2", "certain", "left-out")]
        assert order(TWO, "12 N·m", "12 N·m") == [("3", "certain", "last-left-out")]
        assert order("12 N·m, then 18 N·m, then 24 N·m", "12 N·m", "24 N·m") == [("2", "certain", "left-out")]

    def test_a_stop_at_the_first_stage_is_a_joint_left_loose(self) -> None:
        procedure = job(NEW, pull("12 N·m"))
        assert found(ORDER, procedure, records(TWO)) == []
        assert len(found("opened-joint-left-loose", procedure, records(TWO))) == 1

    def test_as_many_passes_told_in_words(self) -> None:
        assert found(ORDER, job(NEW, pull("24 N·m", passes=2)), records(TWO)) == []
        assert len(found(ORDER, job(NEW, pull("24 N·m", passes=1)), records(TWO))) == 1

    def test_a_joint_that_was_not_opened_needs_no_passes(self) -> None:
        assert order(TWO, "24 N·m", made=False) == []

    @pytest.mark.parametrize("opening", ["loosen", "remove", "hand_start", "install"])
    def test_a_joint_that_was_opened_or_put_together_needs_them(self, opening: str) -> None:
        procedure = job(Action(opening, "bolt"), pull("24 N·m"))
        assert told(ORDER, procedure, records(TWO)) == [("2", "certain", "left-out")]

    def test_all_stages_in_one_action(self) -> None:
        assert order(TWO, "12 N·m, then 24 N·m") == []
        assert order(TWO, "24 N·m, then 12 N·m") == [("2", "certain", "")]

    def test_a_pass_that_only_some_positions_lack_is_a_matter_of_numbers(self) -> None:
        procedure = job(NEW, pull("12 N·m", count=3), pull("24 N·m", count=4))
        assert found(ORDER, procedure, records(TWO, count=4)) == []

    def test_each_making_of_the_joint_is_looked_at(self) -> None:
        again = (Action("remove", "bolt"), Action("discard", "bolt"), *NEW)
        procedure = job(NEW, pull("12 N·m"), pull("24 N·m"), again, pull("24 N·m"), pull("12 N·m"))
        assert told(ORDER, procedure, records(TWO)) == [("6", "certain", "")]


BEARING = "40 N·m, then back off 180°, then 7 N·m ± 1"


class TestBackOff:
    @pytest.mark.parametrize(
        "between", [Action("back_off", "bolt"), pull("180°", "back_off"), Action("loosen", "bolt")]
    )
    def test_a_fall_after_a_back_off_is_proper(self, between: Action) -> None:
        assert found(ORDER, job(NEW, pull("40 N·m"), between, pull("7 N·m")), records(BEARING)) == []

    def test_without_it_the_first_pull_stays_in_the_joint(self) -> None:
        assert order(BEARING, "40 N·m", "7 N·m") == [("3", "certain", "back-off-missing")]

    def test_all_in_one_text(self) -> None:
        assert order(BEARING, BEARING.removesuffix(" ± 1")) == []

    def test_a_joint_must_not_end_backed_off(self) -> None:
        back = Action("back_off", "bolt")
        (finding,) = found(ORDER, job(NEW, pull("40 N·m"), back), records("40 N·m ± 4"))
        assert (finding.form, finding.path, finding.facts) == ("ends-loose", ("step", 2, "do", 0), {})
        assert told(ORDER, job(NEW, pull("40 N·m"), back), records("40 N·m, then back off 90°")) == []
        assert found(ORDER, job(NEW, pull("40 N·m"), back, pull("40 N·m")), records("40 N·m ± 4")) == []

    def test_taken_apart_again_it_is_another_making(self) -> None:
        steps = job(NEW, pull("24 N·m"), Action("remove", "bolt"), NEW, pull("12 N·m"), pull("24 N·m"))
        assert told(ORDER, steps, records(TWO)) == [("2", "certain", "left-out")]

    def test_a_turn_on_top_of_the_record(self) -> None:
        assert order("24 N·m ± 2", "24 N·m", "90°") == [("3", "certain", "extra-turn")]
        assert order("24 N·m ± 2", "3/4 turn") == []  # another method, and no torque ahead of it


def turns(record: str, *texts: str, made: bool = True, tools: tuple[Tool, ...] | None = (GAUGE,)) -> list[Any]:
    first = NEW if made else (Action("clean", "bolt"),)
    return told(ANGLE, job(first, *(pull(text) for text in texts)), records(record, tools=tools))


class TestAngle:
    def test_the_turn_is_missing(self) -> None:
        assert turns("30 N·m + 90°", "30 N·m") == [("2", "certain", "")]
        assert turns("30 N·m + 90°", "30 N·m", "90°") == []
        assert turns("30 N·m + 90°", "30 N·m + 90°") == []
        assert turns("30 N·m + 90°", "30 N·m", made=False) == []
        assert turns("3/4 turn", "25 N·m") == [("2", "certain", "")]

    def test_a_joint_closed_without_a_figure_is_told_by_that_rule(self) -> None:
        assert found(ANGLE, job(NEW, Action("tighten", "bolt")), records("30 N·m + 90°")) == []

    @pytest.mark.parametrize(
        ("record", "texts", "right"),
        [
            ("30 N·m + 90°", ("1/4 turn",), True),
            ("30 N·m + 180°", ("90°", "90°"), True),
            ("30 N·m + 90° + 90°", ("180°",), True),
            ("30 N·m + 90° + 90°", ("90°",), False),
            ("30 N·m + 60° + 30°", ("60°", "30°"), True),
            ("30 N·m + 90°", ("60°",), False),
            ("30 N·m + 90°", ("90.5°",), True),
            ("30 N·m + 90°", ("90.6°",), False),
            ("30 N·m + 90°", ("89.5°",), True),
            ("30 N·m + 90°", ("89.4°",), False),
            ("30 N·m and 120° ± 5°", ("115°",), True),
            ("30 N·m and 120° ± 5°", ("114°",), False),
            ("30 N·m and 120° ± 5°", ("125°",), True),
            ("30 N·m and 120° ± 5°", ("126°",), False),
        ],
    )
    def test_the_turns_together(self, record: str, texts: tuple[str, ...], right: bool) -> None:
        last = str(2 + len(texts))
        assert turns(record, "30 N·m", *texts) == ([] if right else [(last, "certain", "other-angle")])

    def test_the_limits_of_the_step_must_lie_within_those_of_the_record(self) -> None:
        record = "30 N·m and 90° ± 5°"
        assert turns(record, "30 N·m", "90 to 94 degrees") == []
        (finding,) = found(ANGLE, job(NEW, pull("30 N·m"), pull("80 to 94 degrees")), records(record, tools=(GAUGE,)))
        assert finding.form == "other-angle"

    def test_only_the_turns_after_the_last_loosening_count(self) -> None:
        record = "40 N·m, then 90°, then back off 360°, then 40 N·m, then 90°"
        steps = job(NEW, pull("40 N·m"), pull("90°"), Action("back_off", "bolt"), pull("40 N·m"), pull("90°"))
        assert found(ANGLE, steps, records(record, tools=(GAUGE,))) == []
        assert found(ORDER, steps, records(record, tools=(GAUGE,))) == []
        short = job(NEW, pull("40 N·m"), pull("90°"), Action("back_off", "bolt"), pull("40 N·m"))
        assert told(ANGLE, short, records(record, tools=(GAUGE,))) == [("5", "certain", "")]

    def test_something_must_measure_the_turn(self) -> None:
        plain = job(NEW, pull("30 N·m"), pull("90°"))
        record = "30 N·m + 90°"
        asked = [("3", "unstated", "not-measured")]
        socket = Tool("socket", "13 mm socket", kind="socket")
        assert told(ANGLE, plain, records(record)) == asked
        assert told(ANGLE, plain, records(record, tools=(socket,))) == asked
        assert told(ANGLE, plain, records(record, tools=(GAUGE,))) == []
        named = Procedure("job", plain.steps, tools_named=("13 mm socket", "degree wheel"))
        assert told(ANGLE, named, records(record)) == []
        with_gauge = job(NEW, pull("30 N·m"), pull("90°", tool="angle gauge"))
        assert told(ANGLE, with_gauge, records(record)) == []
        marked = job(NEW, pull("30 N·m"), Action("mark", "bolt"), pull("90°"))
        assert told(ANGLE, marked, records(record)) == []
        marked_late = job(NEW, pull("30 N·m"), pull("90°"), Action("mark", "bolt"))
        assert told(ANGLE, marked_late, records(record)) == asked
        # A turn counted from contact is no fine angle.
        assert told(ANGLE, job(NEW, pull("3/4 turn")), records("3/4 turn")) == []

    def test_an_overshoot_must_not_be_brought_back(self) -> None:
        record = records("30 N·m + 90°", tools=(GAUGE,))
        back = Action("back_off", "bolt", mode="if", note="if it goes too far")
        assert told(ANGLE, job(NEW, pull("30 N·m"), pull("90°"), back), record) == [("4", "certain", "backed-to-angle")]
        assert told(ANGLE, job(NEW, pull("30 N·m"), back, pull("90°")), record) == []

    def test_turns_that_only_some_positions_lack_are_a_matter_of_numbers(self) -> None:
        procedure = job(NEW, pull("30 N·m", count=4), pull("90°", count=3))
        assert found(ANGLE, procedure, records("30 N·m + 90°", count=4, tools=(GAUGE,))) == []


@pytest.mark.parametrize("rule", [ORDER, ANGLE])
class TestPlanters:
    def test_in_the_examples(self, rule: str) -> None:
        planted = []
        for path in EXAMPLES:
            held = read(str(path))
            assert held.procedure is not None
            planted += plant_all(rule, held.procedure, held.catalogue)
        assert len(planted) >= (6 if rule == ORDER else 2)
        assert len({fault.changed for fault in planted}) >= 2

    @settings(max_examples=60, deadline=None)
    @given(sound_jobs(kinds=(plain_bolts, stretch_bolts), most=3))
    def test_in_made_up_jobs(self, rule: str, made_up: tuple[Procedure, Catalogue]) -> None:
        plant_all(rule, *made_up)
