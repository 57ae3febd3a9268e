"""What a tool is used for: the last pull, loosening, which of two wrenches, calibration dates."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from attrs import evolve
from hypothesis import given, settings

from rule_bench import found, job, plant_all, told
from sound_procedures import sound_jobs
from torquewright import read, read_tightening
from torquewright.records import Action, Catalogue, Fastener, Procedure, Tool

IMPACT, LOOSENED = "impact-tool-final-tighten", "torque-wrench-used-to-loosen"
MIXED, LAPSED = "shared-bench-wrench-mix", "calibration-lapsed"
EXAMPLES = sorted((Path(__file__).parent.parent / "specs" / "examples").glob("*/sound.toml"))
POUND_FOOT = 1.3558179483314004  # NIST SP 811 (2008), appendix B.8


def records(*tools: Tool, value: str = "40 N·m", **more: Any) -> Catalogue:
    bolt = Fastener("bolt", "bolt", count=2, tightening=read_tightening(value) if value else None, **more)
    return Catalogue(fasteners=(bolt,), tools=tools or None)


def pull(tool: str, value: str = "40 N·m", verb: str = "tighten", **more: Any) -> Action:
    return Action(verb, "bolt", to=read_tightening(value) if value else None, tool=tool, **more)


class TestImpact:
    @pytest.mark.parametrize(
        "words", ["impact wrench", "cordless Impact Driver", "1/2 in rattle gun", "air ratchet", "impact gun"]
    )
    def test_by_its_words(self, words: str) -> None:
        assert told(IMPACT, job(pull(words)), records()) == [("1", "certain", "")]

    @pytest.mark.parametrize(
        "words", ["impact socket", "24 mm impact socket", "impact bit", "torque wrench", "ratchet", "air hose", ""]
    )
    def test_what_does_not_hammer(self, words: str) -> None:
        assert found(IMPACT, job(pull(words)), records()) == []

    def test_by_its_record(self) -> None:
        air = Tool("air", "big air tool", kind="impact wrench")
        assert told(IMPACT, job(pull("air")), records(air)) == [("1", "certain", "")]
        assert found(IMPACT, job(pull("air")), records(evolve(air, deviation=0.05))) == []

    def test_only_the_last_pull_counts(self) -> None:
        assert found(IMPACT, job(pull("impact wrench"), pull("torque wrench")), records()) == []
        assert told(IMPACT, job(pull("torque wrench"), pull("impact wrench")), records()) == [("2", "certain", "")]
        assert found(IMPACT, job(pull("impact wrench"), pull("torque wrench", verb="retighten")), records()) == []

    def test_a_part_of_the_positions_is_enough(self) -> None:
        steps = (Action("hand_start", "bolt"), pull("impact wrench", count=1), pull("torque wrench", count=1))
        assert told(IMPACT, job(*steps), records()) == [("2", "certain", "")]

    def test_a_joint_nobody_has_a_figure_for_is_left_alone(self) -> None:
        assert found(IMPACT, job(pull("impact wrench", "")), records(value="")) == []
        assert found(IMPACT, job(pull("impact wrench", "snug")), records(value="")) == []
        assert len(found(IMPACT, job(pull("impact wrench", "")), records())) == 1
        assert len(found(IMPACT, job(pull("impact wrench")), records(value=""))) == 1

    def test_running_up_backing_off_and_what_is_conditional_are_left_alone(self) -> None:
        for action in (
            Action("seat", "bolt", tool="impact wrench"),
            Action("back_off", "bolt", tool="impact wrench"),
            pull("impact wrench", mode="if"),
            pull("impact wrench", mode="do_not"),
        ):
            assert found(IMPACT, job(action), records()) == [], action

    def test_one_finding_for_one_action(self) -> None:
        steps = (pull("torque wrench", count=1), pull("impact wrench"))
        assert len(found(IMPACT, job(*steps), records())) == 1


class TestLoosened:
    @pytest.mark.parametrize("verb", ["loosen", "remove", "disconnect"])
    def test_by_any_word_for_it(self, verb: str) -> None:
        assert told(LOOSENED, job(Action(verb, "bolt", tool="torque wrench")), records()) == [("1", "certain", "")]

    @pytest.mark.parametrize(
        ("words", "count"),
        [("torque driver", 1), ("Torque Screwdriver", 1), ("small torque wrench", 1), ("dial torque wrench", 0),
         ("beam torque wrench", 0), ("breaker bar", 0), ("wrench", 0), ("", 0)],
    )  # fmt: skip
    def test_by_its_words(self, words: str, count: int) -> None:
        assert len(found(LOOSENED, job(Action("loosen", "bolt", tool=words)), records())) == count

    def test_by_its_record(self) -> None:
        click = Tool("click", "click", kind="torque wrench")
        for loosens, count in ((None, 1), (False, 1), (True, 0)):
            held = records(evolve(click, loosens=loosens))
            assert len(found(LOOSENED, job(Action("loosen", "bolt", tool="click")), held)) == count

    def test_what_is_loose_may_be_turned_out(self) -> None:
        steps = (Action("loosen", "bolt"), Action("remove", "bolt", tool="torque wrench"))
        assert found(LOOSENED, job(*steps), records()) == []
        assert len(found(LOOSENED, job(Action("remove", "bolt", tool="torque wrench")), records())) == 1

    def test_each_opening_is_told_once(self) -> None:
        steps = (Action("remove", "bolt", tool="torque wrench"), Action("install", "bolt"), pull("torque wrench"))
        assert told(LOOSENED, job(*steps, *steps), records()) == [("1", "certain", ""), ("4", "certain", "")]

    def test_positions_that_go_apart_later_are_told_once(self) -> None:
        steps = (Action("remove", "bolt", tool="torque wrench"), Action("install", "bolt", count=1))
        assert len(found(LOOSENED, job(*steps), records())) == 1

    def test_measuring_and_tightening_are_left_alone(self) -> None:
        steps = (Action("measure", "bolt", tool="torque wrench"), pull("torque wrench"))
        assert found(LOOSENED, job(*steps), records()) == []


def scale(key: str, low: float, high: float, unit: str = "N·m") -> Tool:
    factor = POUND_FOOT if unit == "lbf·ft" else 1.0
    return Tool(key, key, kind="torque wrench", low=low * factor, high=high * factor, unit=unit)


METRIC, POUND = scale("metric", 10, 60), scale("pound", 40, 100, "lbf·ft")


class TestMixed:
    @pytest.mark.parametrize(("figure", "count"), [("39.9", 0), ("40", 1), ("50", 1), ("60", 1), ("60.1", 0)])
    def test_digits_on_both_scales(self, figure: str, count: int) -> None:
        assert len(found(MIXED, job(pull("", f"{figure} N·m")), records(METRIC, POUND))) == count

    def test_the_figure_in_the_other_unit(self) -> None:
        (finding,) = found(MIXED, job(pull("", "41 lbf·ft")), records(METRIC, POUND))
        assert (finding.facts["right"], finding.facts["wrong"], finding.facts["value"]) == ("pound", "metric", "41")

    def test_only_a_pull_on_a_recorded_joint_is_told_and_as_unstated(self) -> None:
        held = records(METRIC, POUND)
        assert told(MIXED, job(pull("")), held) == [("1", "unstated", "")]
        assert found(MIXED, job(Action("tighten", "lid", to=read_tightening("40 N·m"))), held) == []
        assert found(MIXED, job(Action("tighten", "bolt"), pull("", verb="check")), held) == []

    def test_two_in_one_unit_are_no_risk(self) -> None:
        assert found(MIXED, job(pull("", "40 N·m")), records(METRIC, scale("second", 20, 100))) == []

    def test_both_figures_printed_are_enough(self) -> None:
        assert found(MIXED, job(pull("", "50 N·m (37 lbf·ft)")), records(METRIC, POUND)) == []

    def test_a_wrench_named_in_any_way_is_enough(self) -> None:
        held = records(METRIC, POUND, Tool("socket", "13 mm socket", kind="socket"))
        assert found(MIXED, job(pull("metric")), held) == []
        assert found(MIXED, job(pull("my own wrench")), held) == []
        assert len(found(MIXED, job(pull("socket")), held)) == 1
        assert found(MIXED, job((Action("check", "bolt", tool="metric"), pull("socket"))), held) == []
        said = job(pull("socket"))
        said = evolve(said, steps=(evolve(said.steps[0], say="Pull them to 40 N·m with the Metric one."),))
        assert found(MIXED, said, held) == []

    def test_what_is_conditional_or_given_is_left_alone(self) -> None:
        held = records(METRIC, POUND)
        assert found(MIXED, job(pull("", mode="if")), held) == []
        assert found(MIXED, job(given=(pull(""),)), held) == []


class TestLapsed:
    @pytest.mark.parametrize(
        ("until", "day", "count"),
        [("2027-01-30", "2027-01-31", 1), ("2027-01-31", "2027-01-31", 0), ("2027-02-01", "2027-01-31", 0),
         ("", "2027-01-31", 0), ("2020-01-31", "", 0)],
    )  # fmt: skip
    def test_the_last_day_counts_as_good(self, until: str, day: str, count: int) -> None:
        dated = evolve(job(pull("metric")), job_date=day)
        assert len(found(LAPSED, dated, records(evolve(METRIC, calibrated_until=until)))) == count

    def test_each_tool_is_told_once_where_it_is_first_used(self) -> None:
        old = [evolve(tool, calibrated_until="2020-01-31") for tool in (METRIC, POUND)]
        dated = evolve(job(pull("metric"), pull("metric"), pull("pound")), job_date="2027-01-31")
        assert told(LAPSED, dated, records(*old)) == [("1", "certain", ""), ("3", "certain", "")]

    def test_the_joint_is_named_where_there_is_one(self) -> None:
        held = records(evolve(METRIC, calibrated_until="2020-01-31"))
        for what, joint in (("bolt", "bolt"), ("lid", "")):
            dated = evolve(job(Action("tighten", what, tool="metric")), job_date="2027-01-31")
            (finding,) = found(LAPSED, dated, held)
            assert finding.joint == joint

    def test_a_joint_that_can_hurt_is_told_so(self) -> None:
        dated = evolve(job(pull("metric")), job_date="2027-01-31")
        old = evolve(METRIC, calibrated_until="2020-01-31")
        assert told(LAPSED, dated, records(old, safety=True)) == [("1", "certain", "safety")]
        assert told(LAPSED, dated, records(old, safety=False)) == [("1", "certain", "")]

    def test_a_tool_that_is_only_turned_with_is_left_alone(self) -> None:
        dated = evolve(job(Action("remove", "bolt", tool="metric")), job_date="2027-01-31")
        assert found(LAPSED, dated, records(evolve(METRIC, calibrated_until="2020-01-31"))) == []


@pytest.mark.parametrize(("rule", "least"), [(IMPACT, 10), (LOOSENED, 10), (MIXED, 1), (LAPSED, 5)])
def test_planted_in_the_examples(rule: str, least: int) -> None:
    planted = []
    for path in EXAMPLES:
        held = read(str(path))
        assert held.procedure is not None
        planted += plant_all(rule, held.procedure, held.catalogue)
    assert len(planted) >= least


@pytest.mark.parametrize("rule", [IMPACT, LOOSENED, MIXED, LAPSED])
@settings(max_examples=40, deadline=None)
@given(made_up=sound_jobs(most=3))
def test_planted_in_made_up_jobs(rule: str, made_up: tuple[Procedure, Catalogue]) -> None:
    plant_all(rule, *made_up)
