"""What a statement says: two units for one torque, no figure, a figure that can be read in several ways."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rule_bench import found, job, plant_all, told
from sound_procedures import locked_nuts, plain_bolts, plastic_cap, sound_jobs, stretch_bolts
from torquewright import read, read_tightening
from torquewright.records import Action, Catalogue, Fastener, Procedure

DUAL, BARE = "dual-unit-disagrees", "final-tighten-without-value"
EXAMPLES = sorted((Path(__file__).parent.parent / "specs" / "examples").glob("*/sound.toml"))


def records(tightening: str = "", **more: Any) -> Catalogue:
    held = read_tightening(tightening) if tightening else None
    name = more.pop("name", "bolt")
    return Catalogue(fasteners=(Fastener("bolt", name, tightening=held, **more),))


def pull(text: str = "", verb: str = "tighten", **more: Any) -> Action:
    return Action(verb, "bolt", to=read_tightening(text) if text else None, **more)


class TestTwoUnits:
    @pytest.mark.parametrize(
        "text",
        [
            "18 lbf·ft (24 N·m)",
            "13-16 lb-ft (18-22 N·m)",
            "130 ± 15 lb-ft (176 ± 20 N·m)",
            "53 N·m (540 kgf·cm, 39 lbf·ft)",
            "26 to 31 lbf·in (30 to 36 kgf·cm)",
            "5.5 N·m, i.e. 49 in-lb",
            "1020 N·m (750 lbf·ft)",
            "47 lbf·ft (640 kgf·cm)",
            "24 N·m (16 to 20 lbf·ft)",
        ],
    )
    def test_figures_rounded_by_their_digits_agree(self, text: str) -> None:
        assert found(DUAL, job(pull(text)), records()) == []

    @pytest.mark.parametrize(
        ("text", "apart"),
        [
            ("70 N·m (46 lbf·ft)", 0.109),
            ("30 N·m (30 lbf·ft)", 0.262),
            ("160 to 170 lbf·ft (225 to 240 N·m)", 0.0396),
            ("18 to 22 N·m (13 to 20 lbf·ft)", 0.189),
            ("130 ± 15 lbf·ft (176 ± 30 N·m)", 0.0636),
            ("53 N·m (540 kgf·cm, 45 lbf·ft)", 0.131),
            ("24 N·m (20 to 24 lbf·ft)", 0.262),
        ],
    )
    def test_figures_further_apart_do_not(self, text: str, apart: float) -> None:
        (finding,) = found(DUAL, job(pull(text)), records())
        assert (finding.certainty, finding.path) == ("certain", ("step", 0, "do", 0, "to"))
        assert finding.facts["apart"] == pytest.approx(apart, abs=0.0006)

    @given(st.integers(1, 90), st.sampled_from(("lbf·ft", "lbf·in")))
    def test_one_digit_more_than_the_rounding_is_always_found(self, number: int, unit: str) -> None:
        # exact: NIST SP 811 (2008), appendix B.8
        foot_pound = Fraction(45359237, 10**8) * Fraction(980665, 10**5) * Fraction(3048, 10**4)
        factor = foot_pound if unit == "lbf·ft" else foot_pound / 12
        exact = number * factor
        right, half = f"{float(exact):.2f}", factor / 2 + Fraction(1, 200)
        over = f"{float(exact + half) + 0.011:.2f}"
        under = f"{float(exact + half) - 0.011:.2f}"
        assert found(DUAL, job(pull(f"{number} {unit} ({right} N·m)")), records()) == []
        assert found(DUAL, job(pull(f"{number} {unit} ({under} N·m)")), records()) == []
        assert len(found(DUAL, job(pull(f"{number} {unit} ({over} N·m)")), records())) == 1

    def test_the_record_says_which_of_the_two_is_right(self) -> None:
        def form(text: str, record: str) -> tuple[str, object]:
            (finding,) = found(DUAL, job(pull(text)), records(record))
            return finding.form, finding.facts["meant"]

        assert form("70 N·m (46 lbf·ft)", "70 N·m ± 3") == ("first", "70 N·m (52 lbf·ft)")
        assert form("46 lbf·ft (70 N·m)", "70 N·m ± 3") == ("second", "70 N·m (52 lbf·ft)")
        assert form("70 N·m (46 lbf·ft)", "") == ("", "70 N·m (52 lbf·ft)")

    def test_the_setting_is_read_as_well(self) -> None:
        action = pull("20 N·m", setting=read_tightening("15 N·m (15 lbf·ft)"))
        (finding,) = found(DUAL, job(action), records())
        assert finding.path == ("step", 0, "do", 0, "setting")

    def test_a_record_that_disagrees_is_named_where_it_stands(self) -> None:
        catalogue = records("20 N·m", part_limit=read_tightening("max 30 N·m (30 lbf·ft)"))
        (finding,) = found(DUAL, job(pull("20 N·m")), catalogue)
        assert (finding.part, finding.path, finding.step) == ("catalogue", ("fastener", "bolt", "part-limit"), None)

    def test_a_record_nobody_works_to_is_left_alone(self) -> None:
        catalogue = records("70 N·m (46 lbf·ft)")
        assert found(DUAL, job(Action("stop", "engine")), catalogue) == []

    def test_a_step_that_copies_the_record_is_told_once(self) -> None:
        findings = found(DUAL, job(pull("70 N·m (46 lbf·ft)")), records("70 N·m (46 lbf·ft)"))
        assert [(finding.part, finding.step) for finding in findings] == [("procedure", 0)]


class TestNoFigure:
    def test_any_method_of_the_record_will_do(self) -> None:
        catalogue = records("20 N·m ± 2")
        for text in ("20 N·m", "90°", "1/2 turn", "not to exceed 20 N·m", "20 N·m plus the running torque"):
            assert found(BARE, job(pull(text)), catalogue) == [], text
        for text in ("", "snug", "finger-tight", "securely", "good and tight"):
            assert [held[:2] for held in told(BARE, job(pull(text)), catalogue)] == [("1", "certain")], text

    def test_snug_is_an_early_stage_when_a_figure_follows(self) -> None:
        catalogue = records("20 N·m ± 2")
        assert found(BARE, job(pull("snug"), pull("20 N·m")), catalogue) == []
        assert found(BARE, job(pull(), pull(), pull("20 N·m")), catalogue) == []
        # A later check is no pull that closes the joint.
        assert told(BARE, job(pull(), pull("20 N·m", "retighten")), catalogue) == [("1", "certain", "")]

    def test_a_figure_is_taken_over_only_from_a_pull_that_was_final(self) -> None:
        assert found(BARE, job(pull("20 N·m"), pull()), records("20 N·m ± 2")) == []
        assert found(BARE, job(pull("20 N·m"), pull(verb="retighten")), records("20 N·m ± 2")) == []
        assert told(BARE, job(pull("8 N·m"), pull()), records("20 N·m ± 2")) == [("2", "certain", "")]
        assert found(BARE, job(pull("8 N·m"), pull()), records()) == []

    def test_tightened_only_to_be_loosened_again(self) -> None:
        loosen = Action("loosen", "bolt")
        assert found(BARE, job(pull(), loosen, pull("20 N·m")), records("20 N·m ± 2")) == []
        taken_out = Action("remove", "bolt")
        steps = job(pull(), taken_out, Action("reuse", "bolt"), Action("hand_start", "bolt"), pull("20 N·m"))
        assert told(BARE, steps, records("20 N·m ± 2")) == [("1", "certain", "")]

    def test_each_making_of_the_joint_is_looked_at(self) -> None:
        steps = job(
            Action("remove", "bolt"), Action("reuse", "bolt"), Action("hand_start", "bolt"), pull("20 N·m"),
            Action("remove", "bolt"), Action("reuse", "bolt"), Action("hand_start", "bolt"), pull(),
        )  # fmt: skip
        assert told(BARE, steps, records("20 N·m ± 2")) == [("8", "certain", "")]

    def test_a_reference_is_a_figure_elsewhere(self) -> None:
        assert found(BARE, job(pull(note="to the torque in table 2")), records()) == []
        assert found(BARE, job(pull(note="to the specified torque")), records("20 N·m")) == []
        assert len(found(BARE, job(pull(note="to the specified torque")), records())) == 1

    def test_a_wrench_setting_is_a_figure(self) -> None:
        assert found(BARE, job(pull(setting=read_tightening("18 N·m"))), records("20 N·m")) == []

    def test_what_is_tightened_under_a_condition_only_is_left_alone(self) -> None:
        assert found(BARE, job(pull(mode="if", note="if it weeps")), records("20 N·m")) == []

    def test_what_was_done_before_is_left_alone(self) -> None:
        assert found(BARE, job(given=(pull(),)), records("20 N·m")) == []

    @pytest.mark.parametrize("words", [{"kind": "clamp"}, {"name": "thumb screw"}, {"name": "wing nut"}])
    def test_things_closed_by_hand_may_do_without(self, words: dict[str, str]) -> None:
        assert found(BARE, job(pull()), records(**words)) == []
        assert len(found(BARE, job(pull()), records("4 N·m", **words))) == 1

    def test_without_a_record_the_lack_is_named_and_no_figure_made_up(self) -> None:
        (finding,) = found(BARE, job(pull()), records())
        assert (finding.certainty, finding.form, "wanted" in finding.facts) == ("unstated", "no-record", False)

    def test_some_positions_without_a_figure_are_a_matter_of_numbers(self) -> None:
        first, second = pull("snug", count=4), pull("20 N·m", count=3)
        assert found(BARE, job(first, second), records("20 N·m ± 2", count=4)) == []

    def test_a_figure_without_a_unit_is_told_with_its_readings(self) -> None:
        (finding,) = found(BARE, job(pull("30 lbs")), records("40 N·m"))
        assert (finding.certainty, finding.form) == ("certain", "no-unit")
        assert finding.facts == {"words": "30 lbs", "readings": "30 lbf·ft or 30 lbf·in", "wanted": "40 N·m"}
        assert told(BARE, job(pull("30 lbs"), pull("40 N·m")), records("40 N·m")) == [("1", "certain", "no-unit")]

    @pytest.mark.parametrize(
        ("text", "readings"),
        [
            ("10 or 12 N·m", "10 N·m or 12 N·m"),
            ("1,250 N·m", "1250 N·m or 1.25 N·m"),
            ("47 ft/lbs", "47 lbf·ft"),
            ("80 to 70 N·m", "70 to 80 N·m"),
        ],
    )
    def test_a_figure_with_more_than_one_reading_is_asked_about(self, text: str, readings: str) -> None:
        (finding,) = found(BARE, job(pull(text)), records())
        assert (finding.certainty, finding.form, finding.facts["readings"]) == ("unstated", "doubtful", readings)

    def test_two_units_that_disagree_are_told_by_their_own_rule(self) -> None:
        assert found(BARE, job(pull("30 N·m (30 lbf·ft)")), records()) == []


@pytest.mark.parametrize("rule", [DUAL, BARE])
class TestPlanters:
    def test_in_the_examples(self, rule: str) -> None:
        planted = []
        for path in EXAMPLES:
            held = read(str(path))
            assert held.procedure is not None
            planted += plant_all(rule, held.procedure, held.catalogue)
        assert len(planted) >= 10
        assert len({fault.joint for fault in planted}) >= 5

    @settings(max_examples=40, deadline=None)
    @given(sound_jobs(kinds=(plain_bolts, stretch_bolts, locked_nuts, plastic_cap), most=3))
    def test_in_made_up_jobs(self, rule: str, made_up: tuple[Procedure, Catalogue]) -> None:
        plant_all(rule, *made_up)
