"""The tool in hand: whether its scale holds the torque, whether its bit or socket fits the head."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings

from rule_bench import found, job, plant_all, told
from sound_procedures import sound_jobs
from torquewright import read, read_tightening
from torquewright.notation.drives import read_drive
from torquewright.records import Action, Catalogue, Fastener, Procedure, Tool
from torquewright.rules.tools import clash

RANGE, BIT = "wrench-out-of-range", "wrong-drive-bit"
EXAMPLES = sorted((Path(__file__).parent.parent / "specs" / "examples").glob("*/sound.toml"))
FOOT_POUND = 1.3558179483314004  # NIST SP 811 (2008), appendix B.8


def wrench(key: str, low: float, high: float, unit: str = "N·m", **more: Any) -> Tool:
    return Tool(key, key, kind="torque wrench", low=low, high=high, unit=unit, half=0.5, **more)


SMALL, LARGE = wrench("small", 5.0, 25.0), wrench("large", 20.0, 100.0, usable_low=30.0)
SOCKET = Tool("socket-13", "13 mm socket", kind="socket", drive=read_drive("hex 13 mm"))


def records(*tools: Tool, drive: str = "") -> Catalogue:
    bolt = Fastener("bolt", "bolt", count=2, drive=read_drive(drive) if drive else None)
    return Catalogue(fasteners=(bolt,), tools=tools or None)


def pull(text: str, tool: str = "", **more: Any) -> Action:
    return Action(more.pop("verb", "tighten"), "bolt", to=read_tightening(text), tool=tool, **more)


def scale(text: str, tool: str, *tools: Tool, **more: Any) -> list[tuple[str, str]]:
    """(certainty, form) of what is said of one pull."""
    return [held[1:] for held in told(RANGE, job(pull(text, tool, **more)), records(*tools))]


class TestRange:
    @pytest.mark.parametrize(
        ("text", "tool", "said"),
        [
            ("5 N·m", "small", []),
            ("4.9 N·m", "small", [("certain", "below-none")]),
            ("25 N·m", "small", []),
            ("25.1 N·m", "small", [("certain", "above-none")]),  # the large one is not certified there
            ("31 N·m", "small", [("certain", "above")]),
            ("9 N·m", "large", [("certain", "below")]),
            ("30 N·m", "large", []),
            ("29.9 N·m", "large", [("likely", "weak-none")]),
            ("22 N·m", "large", [("likely", "weak")]),
            ("4 to 6 N·m", "small", []),
            ("3 to 4 N·m", "small", [("certain", "below-none")]),
            ("4 ± 2 N·m", "small", [("certain", "below-none")]),
            ("24 to 27 N·m", "small", []),
            ("not to exceed 4 N·m", "small", [("certain", "below-none")]),
            ("3 N·m, then 9 N·m", "small", [("certain", "below-none")]),
            ("6 N·m, then 9 N·m", "small", []),
            ("90°", "small", []),
            ("snug", "small", []),
            ("30 lbs", "small", []),
        ],
    )
    def test_a_torque_on_the_scale_of_the_tool_named(self, text: str, tool: str, said: list[tuple[str, str]]) -> None:
        assert scale(text, tool, SMALL, LARGE) == said

    def test_across_units_the_digits_count(self) -> None:
        pounds = wrench("pounds", 10 * FOOT_POUND, 100 * FOOT_POUND, "lbf·ft")
        tight = wrench("tight", 10 * FOOT_POUND, 100 * FOOT_POUND, "lbf·ft")
        assert scale("14 N·m", "pounds", pounds) == []  # 13.56 rounded
        assert scale("12.9 N·m", "tight", tight) == [("certain", "below-none")]

    def test_the_setting_counts_where_there_is_one(self) -> None:
        assert scale("28 N·m", "small", SMALL, setting=read_tightening("24 N·m")) == []
        assert scale("24 N·m", "small", SMALL, setting=read_tightening("28 N·m")) == [("certain", "above-none")]

    def test_a_check_needs_a_scale_as_well(self) -> None:
        assert scale("9 N·m", "large", SMALL, LARGE, verb="retighten") == [("certain", "below")]

    def test_without_a_tool_named_one_of_those_listed_must_reach(self) -> None:
        assert scale("9 N·m", "", SMALL, LARGE) == []
        assert scale("22 N·m", "", LARGE) == []  # on the scale, though not certified: nobody says it will be used
        assert scale("3 N·m", "", SMALL, LARGE) == [("likely", "none-so-low")]
        assert scale("120 N·m", "", SMALL, LARGE) == [("likely", "none-so-high")]
        assert scale("30 N·m", "", SMALL, wrench("huge", 40.0, 200.0)) == [("likely", "none-between")]
        assert scale("3 N·m", "") == []
        assert scale("3 N·m", "", SOCKET) == []

    def test_a_socket_named_says_nothing_of_the_wrench(self) -> None:
        assert scale("9 N·m", "socket-13", SOCKET, SMALL) == []
        assert scale("3 N·m", "socket-13", SOCKET, SMALL) == [("likely", "none-so-low")]

    def test_a_better_tool_of_the_list_is_named(self) -> None:
        (finding,) = found(RANGE, job(pull("9 N·m", "large")), records(SMALL, LARGE))
        assert (finding.facts["better"], finding.facts["low"], finding.facts["high"]) == ("small", 20.0, 100.0)
        assert finding.also == (("tools", ("tool", "large", "range")),)

    def test_of_a_range_the_end_next_to_the_scale_is_told(self) -> None:
        for text, torque in (("26 to 28 N·m", 26.0), ("3 to 4 N·m", 4.0)):
            (finding,) = found(RANGE, job(pull(text, "small")), records(SMALL))
            assert finding.facts["torque"] == torque

    def test_one_finding_for_one_pull(self) -> None:
        assert scale("2 N·m, then 3 N·m", "small", SMALL) == [("certain", "below-none")]


class TestBit:
    @pytest.mark.parametrize(
        ("head", "bit", "fits"),
        [
            ("hex 13 mm", "13 mm socket", True),
            ("hex 13 mm", "12-point 13 mm", True),
            ("hex 13 mm", "13 mm open-end wrench", True),
            ("hex 13 mm", "14 mm socket", False),
            ("hex 13 mm", "1/2 in socket", False),  # 12.70 mm
            ("hex 8 mm", "5/16 in socket", True),  # 7.94 mm
            ("hex 19 mm", "3/4 in socket", True),  # 19.05 mm
            ("hex 11 mm", "7/16 in socket", False),  # 11.11 mm
            ("hex 16 mm", "5/8 in socket", False),  # 15.88 mm
            ("hex socket 5 mm", "5 mm hex key", True),
            ("hex socket 5 mm", "T27", False),
            ("hex socket 8 mm", "8 mm socket", False),
            ("T25", "T25", True),
            ("T25", "T27", False),
            ("PH2", "PH2", True),
            ("PH2", "PZ2", False),
            ("PH2", "PH1", False),
            ("slotted 10 mm", "slotted 10 mm", True),
            ("slotted 10 mm", "slotted 8 mm", False),
            ("hex 13 mm", "socket", True),  # no size, no clash
            ("hex", "14 mm socket", True),
        ],
    )
    def test_kind_and_size(self, head: str, bit: str, fits: bool) -> None:
        assert clash(read_drive(head), read_drive(bit)) is not fits

    def test_the_square_of_a_wrench_is_no_bit(self) -> None:
        square = Tool("small", "small", kind="torque wrench", low=5.0, high=25.0, drive=read_drive("square 1/4 in"))
        ratchet = Tool("ratchet", "ratchet", kind="ratchet", drive=read_drive("square 1/2 in"))
        bar = Tool("bar", "breaker bar", kind="wrench", drive=read_drive("square 1/2 in"))
        for tool in (square, ratchet, bar):
            assert found(BIT, job(pull("9 N·m", tool.id)), records(tool, drive="hex 13 mm")) == []
        plug_key = Tool("key", "square bit", kind="bit", drive=read_drive("square 8 mm"))
        assert len(found(BIT, job(pull("9 N·m", "key")), records(plug_key, drive="hex 13 mm"))) == 1

    @pytest.mark.parametrize("verb", ["loosen", "remove", "disconnect", "install", "hand_start", "seat", "retighten"])
    def test_every_turn_counts(self, verb: str) -> None:
        assert len(found(BIT, job(Action(verb, "bolt", tool="14 mm socket")), records(drive="hex 13 mm"))) == 1

    def test_what_does_not_turn_the_head_is_left_alone(self) -> None:
        for action in (
            Action("clean", "bolt", tool="14 mm socket"),
            Action("lock", "bolt", tool="14 mm socket"),
            Action("remove", "washer", "bolt", tool="T25 bit"),
            Action("tighten", "bolt", tool="14 mm socket", mode="do_not"),
        ):
            assert found(BIT, job(action), records(drive="hex 13 mm")) == [], action

    def test_words_that_are_no_drive_are_left_alone(self) -> None:
        for words in ("crowbar", "small torque wrench", "torque wrench 5 to 25 N·m", "bare hand"):
            assert found(BIT, job(pull("9 N·m", words)), records(drive="hex 13 mm")) == [], words

    def test_a_head_or_a_tool_nobody_describes_is_left_alone(self) -> None:
        plain = Tool("socket", "socket", kind="socket")
        assert found(BIT, job(pull("9 N·m", "T25 bit")), records()) == []
        assert found(BIT, job(pull("9 N·m", "socket")), records(plain, drive="hex 13 mm")) == []

    def test_a_better_tool_of_the_list_is_named(self) -> None:
        (finding,) = found(BIT, job(pull("9 N·m", "14 mm socket")), records(SOCKET, SMALL, drive="hex 13 mm"))
        assert finding.facts == {
            "bit": "hex 14 mm", "head": "hex 13 mm", "tool": "14 mm socket", "better": "socket-13",
        }  # fmt: skip
        assert (finding.form, finding.also) == ("", (("catalogue", ("fastener", "bolt", "drive")),))

    def test_where_no_tool_of_the_list_fits_none_is_named(self) -> None:
        square = Tool("ratchet", "ratchet", kind="ratchet", drive=read_drive("hex 13 mm"))
        for tools in ((), (Tool("s", "s", kind="socket", drive=read_drive("hex 16 mm")),), (square,)):
            (finding,) = found(BIT, job(pull("9 N·m", "14 mm socket")), records(*tools, drive="hex 13 mm"))
            assert (finding.form, "better" in finding.facts) == ("none-listed", False)


@pytest.mark.parametrize("rule", [RANGE, BIT])
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
    @given(sound_jobs(most=3))
    def test_in_made_up_jobs(self, rule: str, made_up: tuple[Procedure, Catalogue]) -> None:
        plant_all(rule, *made_up)
