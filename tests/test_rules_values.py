"""Figures beside their record: limits, rounding, units taken for one another, parts that take less than the bolt."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from rule_bench import found, job, plant_all, told
from sound_procedures import locknuts, measured_bolts, plain_bolts, plastic_cap, sound_jobs, stretch_bolts
from torquewright import read, read_tightening
from torquewright.base.units import UNITS
from torquewright.records import Action, Amount, Catalogue, Fastener, Procedure, Tool, Torque
from torquewright.rules.fits import fit, misread, printed

OFF, UNIT, TWELVE, SOFT = (
    "step-torque-off-record", "torque-unit-mixed-up", "inch-pound-foot-pound-swap", "soft-part-overload",
)  # fmt: skip
FIGURES = (OFF, UNIT, TWELVE, SOFT, "wrong-stage-order", "angle-stage-missing", "final-tighten-without-value")
TORQUE_UNITS = sorted(unit.name for unit in UNITS.values() if unit.measures == "torque")
EXAMPLES = sorted((Path(__file__).parent.parent / "specs" / "examples").glob("*/sound.toml"))


def records(tightening: str, **more: Any) -> Catalogue:
    """One group of four bolts with this tightening."""
    more.setdefault("count", 4)
    return Catalogue(fasteners=(Fastener("bolt", "bolt", tightening=read_tightening(tightening), **more),))


def pulls(*texts: str, verb: str = "tighten", **more: Any) -> list[Action]:
    return [Action(verb, "bolt", to=read_tightening(text), **more) for text in texts]


def say(record: str, *texts: str, **more: Any) -> list[tuple[str, str, str, str]]:
    """(rule, step, certainty, form) of all that is found on pulls of their own against a record."""
    catalogue = records(record, **more)
    procedure = job(*pulls(*texts))
    return [(rule, *finding) for rule in FIGURES for finding in told(rule, procedure, catalogue)]


def torque(text: str) -> Torque:
    held = read_tightening(text).torque
    assert held is not None
    return held


class TestFit:
    @pytest.mark.parametrize(
        ("step", "record", "stands"),
        [
            ("10 N·m", "9 N·m ± 1", "fits"),
            ("10.001 N·m", "9 N·m ± 1", "above"),
            ("8 N·m", "9 N·m ± 1", "fits"),
            ("7.99 N·m", "9 N·m ± 1", "below"),
            # In one unit nothing was converted, so nothing was rounded: 3 is more than 2.8.
            ("3 N·m", "2.3 to 2.8 N·m", "above"),
            # 18 lbf·ft is 24.4 N·m and stands for 23.7 to 25.1.
            ("18 lbf·ft", "25 to 27 N·m", "fits"),
            ("18 lbf·ft", "26 to 27 N·m", "below"),
            # 60 lbf·ft is 81.3 N·m and stands for 80.7 to 82.0: both sides count beside a bare figure (80.5 to 81.5).
            ("60 lbf·ft", "81 N·m", "fits"),
            ("60 lbf·ft", "79 N·m", "near"),
            ("24.72 N·m", "24 N·m", "near"),
            ("24.73 N·m", "24 N·m", "above"),
            ("23.28 N·m", "24 N·m", "near"),
            ("23.27 N·m", "24 N·m", "below"),
            ("22 to 26 N·m", "22 to 26 N·m", "fits"),
            ("22 to 27 N·m", "22 to 26 N·m", "above"),
            ("21 to 26 N·m", "22 to 26 N·m", "below"),
            ("23 to 25 N·m", "24 N·m", "fits"),
            ("25 to 27 N·m", "24 N·m", "above"),
            ("21 to 23 N·m", "24 N·m", "below"),
            ("not to exceed 6 N·m", "5 to 7 N·m", "fits"),
            ("not to exceed 4 N·m", "5 to 7 N·m", "below"),
            ("not less than 8 N·m", "5 to 7 N·m", "above"),
            ("5 N·m", "not to exceed 6 N·m", "fits"),
            ("7 N·m", "not to exceed 6 N·m", "above"),
            ("50 N·m", "not less than 55 N·m", "below"),
            # 80 lbf·in is 9.04 N·m and stands for 8.98 up; 82 is 9.27. A limit is a limit: its own digits do not count.
            ("80 lbf·in", "not to exceed 9 N·m", "fits"),
            ("82 lbf·in", "not to exceed 9 N·m", "above"),
            ("80 lbf·in", "7 to 9 N·m", "fits"),
            ("82 lbf·in", "7 to 9 N·m", "above"),
            ("90 N·m", "not less than 55 N·m", "fits"),
        ],
    )
    def test_a_figure_beside_its_record(self, step: str, record: str, stands: str) -> None:
        assert fit(torque(step), torque(record)) == stands

    @given(st.decimals("0.5", "400", places=1), st.sampled_from(("lbf·ft", "lbf·in", "kgf·m", "kgf·cm", "cN·m")))
    def test_a_conversion_rounded_by_its_own_digits_always_fits(self, figure: Any, unit: str) -> None:
        written = torque(f"{figure} N·m")
        # exact: NIST SP 811 (2008), appendix B.8
        pound = Fraction(45359237, 10**8) * Fraction(980665, 10**5)
        newton_metres = {
            "lbf·ft": pound * Fraction(3048, 10**4), "lbf·in": pound * Fraction(254, 10**4),
            "kgf·m": Fraction(980665, 10**5), "kgf·cm": Fraction(980665, 10**7), "cN·m": Fraction(1, 100),
        }[unit]  # fmt: skip
        number = Fraction(str(figure)) / newton_metres
        converted = f"{round(number)}" if number >= 10 else f"{float(number):.1f}"
        assume(float(converted) > 0)
        assert fit(torque(f"{converted} {unit}"), written) in ("fits", "near")


class TestOffRecord:
    def test_a_later_check_is_judged_too(self) -> None:
        procedure = job(*pulls("20 N·m"), *pulls("26 N·m", verb="retighten"))
        assert told(OFF, procedure, records("20 N·m ± 2")) == [("2", "certain", "")]

    def test_a_check_that_takes_over_a_wrong_figure_says_nothing_new(self) -> None:
        procedure = job(*pulls("26 N·m"), *pulls("26 N·m", verb="retighten"))
        assert told(OFF, procedure, records("20 N·m ± 2")) == [("1", "certain", "")]

    def test_a_check_with_another_wrong_figure_does(self) -> None:
        procedure = job(*pulls("26 N·m"), *pulls("25 N·m", verb="retighten"))
        assert told(OFF, procedure, records("20 N·m ± 2")) == [("1", "certain", ""), ("2", "certain", "")]
        nut = Fastener("nut", "nut", tightening=read_tightening("20 N·m ± 2"))
        two = Catalogue(fasteners=(*records("20 N·m ± 2").fasteners, nut))
        check = Action("retighten", "nut", to=read_tightening("26 N·m"))
        assert told(OFF, job(*pulls("26 N·m"), check), two) == [("1", "certain", ""), ("2", "certain", "")]

    def test_a_check_after_a_turn_has_no_record_to_be_held_against(self) -> None:
        procedure = job(*pulls("30 N·m", "90°"), *pulls("70 N·m", verb="retighten"))
        assert found(OFF, procedure, records("30 N·m + 90°")) == []

    def test_a_demand_under_a_condition_is_judged_too(self) -> None:
        procedure = job(*pulls("20 N·m"), *pulls("26 N·m", mode="if"))
        assert told(OFF, procedure, records("20 N·m ± 2")) == [("2", "certain", "")]

    def test_what_is_not_to_be_done_is_not_judged(self) -> None:
        procedure = job(*pulls("20 N·m"), *pulls("26 N·m", mode="do_not"), *pulls("26 N·m", mode="mentioned_only"))
        assert found(OFF, procedure, records("20 N·m ± 2")) == []

    def test_the_demand_counts_and_not_the_setting_of_the_wrench(self) -> None:
        adapter = Action("tighten", "bolt", to=read_tightening("20 N·m"), setting=read_tightening("15.5 N·m"))
        assert found(OFF, job(adapter), records("20 N·m ± 2")) == []

    def test_passes_on_the_way_up_are_free_where_the_record_has_one_stage(self) -> None:
        assert say("20 N·m ± 2", "5 N·m", "12 N·m", "20 N·m") == []
        assert say("20 N·m ± 2", "5 N·m", "12 N·m", "17 N·m") == [(OFF, "3", "certain", "")]
        assert say("20 N·m ± 2", "30 N·m", "35 N·m") == [(OFF, "1", "certain", ""), (OFF, "2", "certain", "")]

    def test_of_as_many_passes_as_stages_each_is_held_against_its_own(self) -> None:
        assert say("12 N·m, then 24 N·m ± 2", "17 N·m", "24 N·m") == [(OFF, "1", "certain", "one-figure")]
        assert say("12 N·m, then 24 N·m ± 2", "12.3 N·m", "24 N·m") == [(OFF, "1", "unstated", "no-tolerance")]
        assert say("12 N·m, then 24 N·m ± 2", "12 N·m", "20 N·m") == [(OFF, "2", "certain", "")]

    def test_more_passes_than_stages_are_free_below_the_last(self) -> None:
        assert say("12 N·m, then 24 N·m ± 2", "8 N·m", "12 N·m", "18 N·m", "24 N·m") == []
        assert say("12 N·m, then 24 N·m ± 2", "8 N·m", "12 N·m", "18 N·m", "29 N·m") == [(OFF, "4", "certain", "")]

    def test_a_joint_without_a_record_is_left_alone(self) -> None:
        catalogue = Catalogue(fasteners=(Fastener("bolt", "bolt"),), unrecorded=("bolt",))
        assert [found(rule, job(*pulls("20 N·m")), catalogue) for rule in FIGURES] == [[]] * len(FIGURES)

    def test_right_on_one_position_is_right(self) -> None:
        # Six get the first pass and five the second: the sixth is a matter of numbers, not of figures.
        first, second = pulls("6 N·m", count=6)[0], pulls("20 N·m", count=5)[0]
        assert found(OFF, job(first, second), records("20 N·m ± 2", count=6)) == []

    def test_a_figure_undone_again_may_be_low_but_not_high(self) -> None:
        back = Action("back_off", "bolt")
        assert found(OFF, job(*pulls("5 N·m"), back, *pulls("20 N·m")), records("20 N·m ± 2")) == []
        assert told(OFF, job(*pulls("29 N·m"), back, *pulls("20 N·m")), records("20 N·m ± 2")) == [("1", "certain", "")]

    def test_the_second_unit_may_be_the_one_that_fits(self) -> None:
        assert say("9 N·m", "80 lbf·in (9 N·m)") == []
        # These two are not the same torque. That is one slip, and it is told by the rule of two units.
        assert say("30 N·m ± 1", "30 lbf·ft (30 N·m)") == []

    def test_the_facts_are_in_newton_metres(self) -> None:
        (finding,) = found(OFF, job(*pulls("300 lbf·in")), records("20 N·m ± 2"))
        assert finding.facts["torque"] == pytest.approx(300 * 0.1129848290276167)  # NIST SP 811 (2008), B.8
        assert (finding.facts["low"], finding.facts["high"]) == (18.0, 22.0)
        assert finding.unit == "lbf·in"
        assert finding.path == ("step", 0, "do", 0, "to")
        assert finding.also == (("catalogue", ("fastener", "bolt", "tightening")),)

    def test_running_torque(self) -> None:
        def drag(text: str, prevailing: float | None = 3.0, **more: Any) -> list[tuple[str, str, str]]:
            held = Amount(prevailing, "N·m", 0.5) if prevailing else None
            return told(OFF, job(*pulls(text, **more)), records("25 N·m plus the running torque", prevailing=held))

        assert drag("25 N·m plus the running torque") == []
        assert drag("28 N·m") == []
        assert drag("25 N·m") == []  # that the running torque is left out is another rule's to say
        assert drag("28 N·m", None) == []
        assert drag("31 N·m") == [("1", "certain", "one-figure")]
        assert drag("25 N·m", setting=read_tightening("28 N·m")) == []


class TestUnits:
    @pytest.mark.parametrize(
        ("record", "step", "meant"),
        [
            ("25 N·m ± 2", "25 lbf·ft", "25 N·m"),
            ("20 to 26 lbf·ft", "24 N·m", "24 lbf·ft"),
            ("10 N·m ± 1", "10 lbf·in", "10 N·m"),
            ("90 lbf·in ± 9", "90 N·m", "90 lbf·in"),
            ("25 N·m ± 2", "2.5 N·m", "2.5 kgf·m or 2.5 daN·m"),
            ("2.5 kgf·m", "2.5 N·m", "2.5 kgf·m or 2.5 daN·m"),
            ("60 kgf·cm ± 6", "60 lbf·in", "60 kgf·cm"),
            ("50 cN·m ± 5", "50 N·m", "50 cN·m"),
        ],
    )
    def test_the_digits_fit_in_another_unit(self, record: str, step: str, meant: str) -> None:
        slip = misread(torque(step), torque(record))
        assert slip is not None
        assert (slip.meant, slip.twelve, slip.converted) == (meant, False, False)

    def test_the_ratio_counts_to_within_four_per_cent_in_log_scale(self) -> None:
        # 100 N·m taken for 100 lbf·ft is 135.58 N·m; e^0.04 is 1.0408 (stated in the rule, common practice)
        record = torque("100 N·m")
        inside, outside = torque("141.1 N·m"), torque("141.2 N·m")
        slip = misread(inside, record)
        assert slip is not None
        assert (slip.converted, slip.read_as, slip.twelve) == (True, "100 lbf·ft", False)
        assert misread(outside, record) is None
        assert misread(torque("130.3 N·m"), record) is not None
        assert misread(torque("130.2 N·m"), record) is None

    def test_units_that_lie_close_together_explain_nothing(self) -> None:
        # 90 lbf·in are 10.2 N·m; as 90 kgf·cm they would be 8.8 N·m and fit, but nobody mixes those up here.
        assert misread(torque("90 lbf·in"), torque("9 N·m ± 1")) is None

    def test_beside_a_limit_on_one_side_a_smaller_unit_explains_nothing(self) -> None:
        assert misread(torque("9.5 N·m"), torque("not to exceed 9 N·m")) is None

    @pytest.mark.parametrize(("step", "record"), [("15 lbf·in", "20 N·m ± 2"), ("180 lbf·ft", "20 N·m ± 2"),
                                                  ("7 lbf·ft", "7 lbf·in"), ("7 lbf·in", "7 lbf·ft")])  # fmt: skip
    def test_pounds_mixed_up_are_a_rule_of_their_own(self, step: str, record: str) -> None:
        slip = misread(torque(step), torque(record))
        assert slip is not None
        assert slip.twelve

    def test_a_factor_of_twelve_counts_to_within_six_per_cent_in_log_scale(self) -> None:
        record = torque("10.0 N·m")
        for figure, is_slip in (("127.4", True), ("127.5", False), ("113.1", True), ("112.9", False)):
            slip = misread(torque(f"{figure} N·m"), record)
            assert (slip is not None and slip.twelve) is is_slip, figure

    def test_a_slip_of_units_is_told_once_and_as_likely(self) -> None:
        assert say("35 to 42 N·m", "40 lbf·ft") == [(UNIT, "1", "likely", "")]
        assert say("20 N·m ± 2", "15 lbf·in") == [(TWELVE, "1", "likely", "")]
        assert say("20 N·m ± 2", "240 N·m") == [(TWELVE, "1", "likely", "")]
        assert say("20 N·m", "240 N·m") == [(TWELVE, "1", "likely", "one-figure")]
        assert say("20 N·m ± 2", "27 N·m") == [(UNIT, "1", "likely", "converted")]
        assert say("10 N·m, then 20 N·m ± 2", "10 N·m", "15 lbf·in") == [(TWELVE, "2", "likely", "")]

    def test_two_units_speak_for_themselves(self) -> None:
        # 15 N·m read as lbf·ft would fit, but 133 lbf·in beside it says that 15 N·m is meant.
        assert say("20 N·m ± 2", "15 N·m (133 lbf·in)") == [(OFF, "1", "certain", "")]
        assert say("20 N·m ± 2", "20 lbf·ft (27 N·m)") == [(UNIT, "1", "likely", "")]

    def test_the_digits_of_the_record_do_not_pass_by_rounding(self) -> None:
        assert say("2 N·m ± 0.25", "2 lbf·ft") == [(UNIT, "1", "likely", "")]
        assert say("2.6 N·m ± 0.25", "2 lbf·ft") == []

    @given(st.decimals("1", "300", places=1), st.sampled_from(TORQUE_UNITS))
    def test_what_fits_as_it_stands_needs_no_explanation(self, figure: Any, unit: str) -> None:
        held = torque(f"{figure} {unit}")
        assert fit(held, held) == "fits"
        assert printed(held) == f"{figure} {unit}"


class TestSoftParts:
    WRENCH = Tool("wrench", "wrench", kind="torque wrench", low=5.0, high=60.0, unit="N·m", deviation=0.04)

    def cap(self, text: str, tool: Tool | None = None, **more: Any) -> list[tuple[str, str, str]]:
        limit = read_tightening(more.pop("limit", "max 26 N·m"))
        catalogue = records("25 N·m ± 4", part_limit=limit, **more)
        if tool is not None:
            catalogue = Catalogue(fasteners=catalogue.fasteners, tools=(tool,))
        return told(SOFT, job(*pulls(text, tool="wrench" if tool else "")), catalogue)

    def test_the_worst_the_tool_can_do_counts(self) -> None:
        assert self.cap("25 N·m", self.WRENCH) == []
        assert self.cap("25.01 N·m", self.WRENCH) == [("1", "certain", "worst-case")]
        assert self.cap("26 N·m") == []
        assert self.cap("26.01 N·m") == [("1", "certain", "")]

    @pytest.mark.parametrize(
        ("kind", "high", "share"),
        # ISO 6789-1:2017, as 2003, maximum permissible deviation: the wrenches from one secondary source, the drivers
        # from memory
        [("torque wrench", 60.0, 0.04), ("torque wrench", 10.0, 0.06), ("torque wrench", 10.5, 0.04),
         ("torque driver", 60.0, 0.06), ("torque multiplier", 60.0, 0.0), ("", 60.0, 0.0)],
    )  # fmt: skip
    def test_a_deviation_nobody_states_is_assumed_by_its_kind(self, kind: str, high: float, share: float) -> None:
        tool = Tool("wrench", "wrench", kind=kind, low=0.5, high=high, unit="N·m")
        catalogue = Catalogue(
            fasteners=records("5 N·m ± 2", part_limit=read_tightening("max 6.00 N·m")).fasteners, tools=(tool,)
        )
        for text, beyond in ((f"{6 / (1 + share) - 0.01:.2f} N·m", False), (f"{6 / (1 + share) + 0.01:.2f} N·m", True)):
            certainties = [held[1] for held in told(SOFT, job(*pulls(text, tool="wrench")), catalogue)]
            assert certainties == ([] if not beyond else ["likely"] if share else ["certain"]), text

    def test_it_goes_before_the_record_and_the_unit(self) -> None:
        assert say("25 N·m ± 4", "40 N·m", part_limit=read_tightening("max 30 N·m")) == [(SOFT, "1", "certain", "")]
        assert say("2 to 3 N·m", "2.5 lbf·ft", property_class="nylon") == [(SOFT, "1", "certain", "window")]
        assert say("2 to 3 N·m", "2.5 lbf·ft", property_class="8.8") == [(UNIT, "1", "likely", "")]

    @pytest.mark.parametrize(
        ("words", "is_soft"),
        [
            ({"property_class": "clear plastic"}, True),
            ({"mating_material": "glass-filled nylon"}, True),
            ({"bearing_material": "POM"}, True),
            ({"mating_material": "PA66-GF30"}, True),
            ({"mating_material": "brass insert in glass-filled nylon"}, False),
            ({"mating_material": "steel", "bearing_material": "nylon with steel sleeve"}, False),
            ({"mating_material": "aluminium casting"}, False),
            ({"property_class": "A2-70"}, False),
            ({}, False),
        ],
    )
    def test_which_parts_are_plastic(self, words: dict[str, str], is_soft: bool) -> None:
        assert say("2 to 3 N·m", "10 N·m", **words) == [
            (SOFT, "1", "certain", "window") if is_soft else (OFF, "1", "certain", "")
        ]

    def test_across_units_the_digits_count(self) -> None:
        # 27 lbf·in is 3.05 N·m and stands for 2.99 up, 28 is 3.16
        limit = {"property_class": "nylon", "part_limit": read_tightening("max 3 N·m")}
        assert say("2 to 3 N·m", "27 lbf·in", **limit) == []
        assert say("2 to 3 N·m", "28 lbf·in", **limit) == [(SOFT, "1", "certain", "")]
        assert say("2 to 3 N·m", "3.01 N·m", **limit) == [(SOFT, "1", "certain", "")]

    def test_too_little_on_plastic_is_no_overload(self) -> None:
        assert say("2 to 3 N·m", "1.2 N·m", property_class="nylon") == [(OFF, "1", "certain", "")]

    def test_the_limit_of_the_part_holds_inside_the_record_too(self) -> None:
        assert self.cap("28 N·m") == [("1", "certain", "")]
        assert say("25 N·m ± 4", "28 N·m", part_limit=read_tightening("max 26 N·m")) == [(SOFT, "1", "certain", "")]


def sound_examples() -> Iterator[tuple[Procedure, Catalogue]]:
    for path in EXAMPLES:
        held = read(str(path))
        assert held.procedure is not None
        yield held.procedure, held.catalogue


@pytest.mark.parametrize("rule", [OFF, UNIT, TWELVE, SOFT])
class TestPlanters:
    def test_in_the_examples(self, rule: str) -> None:
        planted = [fault for example in sound_examples() for fault in plant_all(rule, *example)]
        assert len(planted) >= (2 if rule == SOFT else 5)
        assert len({fault.joint for fault in planted}) >= 2

    @settings(max_examples=40, deadline=None)
    @given(sound_jobs(kinds=(plain_bolts, stretch_bolts, measured_bolts, locknuts, plastic_cap), most=3))
    def test_in_made_up_jobs(self, rule: str, made_up: tuple[Procedure, Catalogue]) -> None:
        plant_all(rule, *made_up)
