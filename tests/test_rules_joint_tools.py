"""Adapters, scales and bands: what the wrench makes of its setting."""

from __future__ import annotations

from typing import Any

import pytest

from rule_bench import found, job, told
from torquewright import read_tightening
from torquewright.records import Action, Catalogue, Fastener, Tool

ADAPTER, WIDER, MISSES = "adapter-not-corrected", "tool-wider-than-band", "setting-cannot-hit-band"


def wrench(**more: Any) -> Tool:
    made: dict[str, Any] = {"low": 10.0, "high": 60.0, "unit": "N·m", "deviation": 0.04, "arm": 0.4, **more}
    return Tool("wrench", "wrench", kind="torque wrench", **made)


CROWFOOT = Tool("crowfoot", "crowfoot", kind="crowfoot adapter", length=0.08)


def records(record: str | None, *tools: Tool) -> Catalogue:
    bolt = Fastener("bolt", "bolt", tightening=read_tightening(record) if record else None)
    return Catalogue(fasteners=(bolt,), tools=tools)


def pull(text: str, tool: str = "wrench", **more: Any) -> Action:
    setting = more.pop("setting", None)
    return Action(
        more.pop("verb", "tighten"), "bolt", to=read_tightening(text), tool=tool,
        setting=read_tightening(setting) if setting else None, **more,
    )  # fmt: skip


class TestAdapter:
    def say(self, record: str | None = None, tools: tuple[Tool, ...] = (wrench(), CROWFOOT), **more: Any) -> list[str]:
        action = pull("36 N·m", **{"adapter": "crowfoot", "adapter_angle": 0.0, **more})
        return [held[2] for held in told(ADAPTER, job(action), records(record, *tools))]

    def test_the_lever_rule(self) -> None:
        """T L/(L + E cos a) with L = 400 and E = 80 mm: 30 N·m straight, 45 N·m turned back, 31.5 N·m at 45°."""
        assert self.say() == ["not-set"]
        assert self.say(setting="30 N·m") == []
        assert self.say(setting="30 N·m", adapter_angle=180.0) == [""]
        assert self.say(setting="45 N·m", adapter_angle=180.0) == []
        assert self.say(setting="31.5 N·m", adapter_angle=45.0) == []
        assert self.say(setting="34 N·m", adapter_angle=45.0) == [""]

    @pytest.mark.parametrize(
        ("wanted", "arm", "length", "right", "wrong"),
        [
            # inches; US Army TM 1-1500-204-23-9 figure 8-16, and TM 5-3805-274-13&P WP 0051 (from a rounded ratio)
            ("300 lbf·in", 10, 4, "214 lbf·in", "300 lbf·in"),
            ("19 lbf·ft", 22, 3, "17 lbf·ft", "19 lbf·ft"),
        ],
    )
    def test_examples_in_print(self, wanted: str, arm: float, length: float, right: str, wrong: str) -> None:
        tools = (
            wrench(low=1.0, high=60.0, unit="lbf·in", arm=arm * 0.0254),
            Tool("crowfoot", "crowfoot", kind="crowfoot adapter", length=length * 0.0254),
        )
        for setting, said in ((right, 0), (wrong, 1)):
            action = pull(wanted, setting=setting, adapter="crowfoot", adapter_angle=0.0)
            assert len(found(ADAPTER, job(action), records(None, *tools))) == said, setting

    def test_two_per_cent_and_the_digits_of_the_setting(self) -> None:
        assert self.say(setting="30.65 N·m") == [""]
        assert self.say(setting="30.60 N·m") == []
        assert self.say(setting="31 N·m") == []  # somewhere from 30.5 on
        assert self.say(setting="32 N·m") == [""]

    def test_what_lands_in_the_band_is_right_enough(self) -> None:
        assert self.say("36 N·m ± 3", setting="32 N·m") == []  # 38.4 N·m
        assert self.say("36 N·m ± 3", setting="33 N·m") == [""]

    def test_square_it_changes_nothing_whatever_its_length(self) -> None:
        assert self.say(adapter_angle=90.0, tools=(wrench(arm=None),)) == []
        assert self.say(adapter_angle=90.0, setting="30 N·m") == ["square"]

    def test_what_is_not_stated_is_asked_for(self) -> None:
        for tools, angle, missing in (
            ((wrench(arm=None), CROWFOOT), 0.0, "the length of the wrench"),
            ((wrench(), Tool("crowfoot", "crowfoot", kind="crowfoot adapter")), 0.0, "the length of the adapter"),
            ((wrench(), CROWFOOT), None, "how the adapter stands"),
        ):
            action = pull("36 N·m", adapter="crowfoot", adapter_angle=angle)
            (finding,) = found(ADAPTER, job(action), records(None, *tools))
            assert finding.certainty == "unstated"
            assert str(finding.facts["missing"]).startswith(missing)

    def test_a_crowfoot_named_as_the_tool(self) -> None:
        assert told(ADAPTER, job(pull("36 N·m", "crowfoot")), records(None, wrench(), CROWFOOT)) == [
            ("1", "unstated", "unknown")
        ]
        square = pull("36 N·m", "crowfoot", adapter_angle=90.0)
        assert told(ADAPTER, job(square), records(None, wrench(), CROWFOOT)) == []

    def test_a_lever_that_cannot_be(self) -> None:
        long = Tool("crowfoot", "crowfoot", kind="crowfoot adapter", length=0.5)
        assert self.say(adapter_angle=180.0, tools=(wrench(), long)) == ["unknown"]

    def test_an_extension_changes_nothing(self) -> None:
        bar = Tool("bar", "bar", kind="extension")
        assert self.say(adapter="bar", adapter_angle=None, tools=(wrench(), bar)) == []
        assert self.say(adapter="bar", adapter_angle=None, setting="30 N·m", tools=(wrench(), bar)) == ["straight"]
        assert self.say(adapter="long extension", adapter_angle=None) == []


class TestBand:
    def say(self, record: str | None, text: str, tool: Tool, **more: Any) -> list[tuple[str, str, str]]:
        held = []
        for rule in (WIDER, MISSES):
            procedure, catalogue = job(pull(text, **more)), records(record, tool, CROWFOOT)
            held += [(rule, *one[1:]) for one in told(rule, procedure, catalogue)]
        return held

    def test_as_wide_as_its_deviation_is_wide_enough(self) -> None:
        # s·0.96 >= low and s·1.04 <= high has a solution from a half width of 4 % on
        assert self.say("36.00 N·m ± 1.44", "36 N·m", wrench()) == []
        assert self.say("36.00 N·m ± 1.43", "36 N·m", wrench()) == [(WIDER, "likely", "")]

    def test_a_deviation_that_is_assumed_only_asks(self) -> None:
        assert self.say("36 N·m ± 1", "36 N·m", wrench(deviation=None)) == [(WIDER, "unstated", "assumed")]
        assert self.say("36 N·m ± 2", "36 N·m", wrench(deviation=None)) == []

    def test_marks(self) -> None:
        coarse = wrench(step=5.0, deviation=0.01)
        assert self.say("37.0 N·m ± 1.5", "37 N·m", coarse) == [(MISSES, "likely", "")]
        assert self.say("36.0 N·m ± 1.5", "36 N·m", coarse) == []  # 35 gives 34.65 to 35.35
        assert self.say("38.6 N·m ± 2.0", "38.6 N·m", coarse) == []  # 40 gives 39.6 to 40.4
        assert self.say("37.5 N·m ± 2.85", "37.5 N·m", coarse) == []
        assert self.say("37.5 N·m ± 2.80", "37.5 N·m", coarse) == [(MISSES, "likely", "")]

    def test_ends(self) -> None:
        assert self.say("60 N·m ± 3", "60 N·m", wrench()) == []
        assert self.say("62 N·m ± 3", "60 N·m", wrench(high=61.0)) == [(MISSES, "likely", "end")]
        assert self.say("12.0 N·m ± 0.6", "12 N·m", wrench(usable_low=12.5)) == []  # out of its range: told elsewhere

    def test_only_limits_make_a_band(self) -> None:
        rough = wrench(deviation=0.2, step=7.0)
        for record in ("36 N·m", None, "max 36 N·m", "hand-tight"):
            assert self.say(record, "36 N·m", rough) == [], record
        assert self.say(None, "35 to 37 N·m", rough) == [(WIDER, "likely", "")]

    def test_the_stage_it_stands_for(self) -> None:
        record = "stage 20 N·m ± 0.1, then 36 N·m ± 3"
        assert self.say(record, "36 N·m", wrench()) == []
        assert self.say(record, "20 N·m", wrench()) == [(WIDER, "likely", "")]

    def test_an_adapter_moves_the_marks(self) -> None:
        coarse = wrench(step=5.0, deviation=0.01)
        straight: dict[str, Any] = {"adapter": "crowfoot", "adapter_angle": 0.0, "setting": "30 N·m"}
        assert self.say("36.0 N·m ± 1", "36 N·m", coarse, **straight) == []
        assert self.say("36.0 N·m ± 1", "36 N·m", coarse) == [(MISSES, "likely", "")]
        unknown = {**straight, "adapter_angle": None}
        assert self.say("36.0 N·m ± 1", "36 N·m", coarse, **unknown) == []

    def test_other_tools_and_other_deeds_are_left_alone(self) -> None:
        rough = wrench(deviation=0.2)
        assert self.say("36 N·m ± 1", "36 N·m", rough, verb="loosen") == []
        assert self.say("36 N·m ± 1", "36 N·m", Tool("wrench", "wrench", kind="socket")) == []
        assert self.say("36 N·m ± 1", "36 N·m", Tool("wrench", "wrench", kind="gauge", low=1.0, high=99.0)) == []
