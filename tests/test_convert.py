"""Conversions in Python and on the command line: the figure, its digits, its interval, and pint quantities."""

from __future__ import annotations

import io
import json
import sys
from typing import Any

import pint
import pytest

import torquewright
from torquewright.base.figures import rounded, show
from torquewright.base.units import UNITS
from torquewright.book.registry import registry
from torquewright.cli import main
from torquewright.conversion import convert
from torquewright.notation.notread import NotRead
from torquewright.notation.tightening import read_tightening


@pytest.mark.parametrize(
    ("source", "unit", "text"),
    [
        ("25 ft-lb", "N·m", "34 N·m"),
        ("25.0 ft-lb", "N·m", "33.9 N·m"),
        ("7 N·m", "lbf·in", "62 lbf·in"),
        ("62 lbf·in", "Nm", "7.0 N·m"),
        ("0.9 kN·m", "lbf·ft", "660 lbf·ft"),
        ("1250 N·m", "lbf·ft", "922 lbf·ft"),
        ("9.5 Nm", "in-lb", "84 lbf·in"),
        ("35 ± 3 N·m", "lbf·ft", "26 ± 2 lbf·ft"),
        ("7 ± 0.2 N·m", "lbf·ft", "5.2 ± 0.1 lbf·ft"),
        ("125 +10/-5 N·m", "lbf·ft", "92 +7/-4 lbf·ft"),
        ("20 to 26 N·m", "ft-lb", "15 to 19 lbf·ft"),
        ("not to exceed 6 N·m", "lbf·in", "not to exceed 53 lbf·in"),
        ("at least 70 lb-ft", "N·m", "not less than 95 N·m"),
        ("20 N·m + 90°", "lbf·ft", "15 lbf·ft, then 90°"),
        ("in thirds to 36 N·m", "lbf·ft", "8.9 lbf·ft, then 18 lbf·ft, then 27 lbf·ft"),
        ("25 N·m plus the running torque", "lbf·ft", "18 lbf·ft plus the running torque"),
        ("18 lb-ft (24 N·m)", "N·m", "24 N·m"),
        ("3/8 in", "mm", "9.53 mm"),
        ("2 US qt", "L", "1.9 L"),
        ("20 °C", "°F", "68 °F"),
        ("0.12 to 0.18 mm", "in", "0.0047 to 0.0071 in"),
        ("50 km", "miles", "31 mi"),
    ],
)
def test_no_more_digits_than_the_source_carries(source: str, unit: str, text: str) -> None:
    assert convert(source, unit).text == text


def test_value_and_interval() -> None:
    held = convert("25 ft-lb", "N·m")
    # NIST SP 811 (2008), B.8: 1.355818 N·m to the pound-force foot
    assert held.value == pytest.approx(25 * 1.355818, rel=1e-6)
    assert held.low == pytest.approx(24.5 * 1.355818, rel=1e-6)
    assert held.high == pytest.approx(25.5 * 1.355818, rel=1e-6)
    assert (held.minimum, held.maximum) == (None, None)


def test_limits_and_their_interval() -> None:
    held = convert("20 to 26 N·m", "lbf·ft")
    assert held.value is None
    assert held.minimum == pytest.approx(20 / 1.3558179483, rel=1e-9)
    assert held.maximum == pytest.approx(26 / 1.3558179483, rel=1e-9)
    assert held.low == pytest.approx(19.5 / 1.3558179483, rel=1e-9)
    assert held.high == pytest.approx(26.5 / 1.3558179483, rel=1e-9)


def test_the_public_name() -> None:
    assert torquewright.convert is convert
    assert torquewright.convert(torquewright.read_tightening("25 ft-lb"), "N·m").text == "34 N·m"


@pytest.mark.parametrize(
    ("source", "unit", "says"),
    [
        ("25 ft-lb", "banana", "not in the list"),
        ("25 ft-lb", "mm", "torque"),
        ("25 mm", "N·m", "a length"),
        ("30 lbs", "N·m", "no torque that could be converted"),
        ("90°", "N·m", "no torque that could be converted"),
        ("hand-tight", "N·m", "no torque that could be converted"),
        ("3 qt", "L", "American or an imperial"),
        ("3 US qt", "qt", "American or an imperial"),
        ("banana", "N·m", "no tightening"),
    ],
)
def test_what_cannot_be_converted(source: str, unit: str, says: str) -> None:
    with pytest.raises(NotRead, match=says):
        convert(source, unit)


@pytest.mark.parametrize("source", [25, 25.0, None, b"25 ft-lb", ["25 ft-lb"]])
def test_nothing_but_texts_records_and_quantities(source: Any) -> None:
    with pytest.raises(TypeError, match="can be converted"):
        convert(source, "N·m")


class TestPint:
    @pytest.mark.parametrize("units", [registry(), pint.UnitRegistry()], ids=["ours", "pint's own"])
    def test_a_quantity_comes_back_in_its_own_registry(self, units: Any) -> None:
        quantity = units.Quantity(25, "force_pound * foot")
        turned = convert(quantity, "N·m")
        assert turned.magnitude == pytest.approx(33.89544870828501, rel=1e-12)
        assert turned.units == units.Unit("newton * meter")
        assert turned + quantity  # one registry: they can be added

    def test_every_unit_of_the_list_is_reached(self) -> None:
        si = {
            "torque": "newton * meter",
            "length": "meter",
            "volume": "meter ** 3",
            "angle": "degree",
            "pressure": "pascal",
        }
        for name, unit in UNITS.items():
            if unit.measures in si:
                turned = convert(registry().Quantity(2.0, si[unit.measures]), name)
                assert turned.magnitude == pytest.approx(2.0 / unit.factor, rel=1e-12), name

    def test_a_text_gives_a_quantity(self) -> None:
        quantity = convert("25 ft-lb", "N·m").quantity()
        assert quantity.to("force_pound * foot").magnitude == pytest.approx(25)

    @pytest.mark.parametrize(
        ("value", "says"),
        [
            ("30 joule", "no part of a torque"),
            ("30 foot * pound", "cannot be told"),
            ("90 degree * newton * meter", "no part of a torque"),
            ("30 newton", "cannot be told"),
            ("30 millimeter", "cannot be told"),
        ],
    )
    def test_what_only_has_the_dimension_of_a_torque(self, value: str, says: str) -> None:
        with pytest.raises(NotRead, match=says):
            convert(pint.UnitRegistry()(value), "N·m")


@pytest.mark.parametrize(
    ("value", "unit", "half", "shown"),
    [
        (7.0, "N·m", 0.5, "7 N·m"), (7.0, "N·m", 0.05, "7.0 N·m"), (7.0, "lbf·in", 0.5, "62 lbf·in"),
        (33.9, "N·m", 0.68, "34 N·m"), (900.0, "lbf·ft", 50.0, "660 lbf·ft"), (90.0, "°", 0.5, "90°"),
        (0.00062, "L", 5e-6, "0.62 L"), (7.25, "N·m", 0.0, "7.25 N·m"), (0.0, "N·m", 0.5, "0 N·m"),
    ],
)  # fmt: skip
def test_show(value: float, unit: str, half: float, shown: str) -> None:
    assert show(value, unit, half) == shown


def test_show_with_a_sign() -> None:
    assert show(3.0, "N·m", 0.5, sign=True) == "+3 N·m"
    assert show(-3.0, "N·m", 0.5, sign=True) == "-3 N·m"


def test_a_half_goes_up() -> None:
    assert rounded(9.525, 0.0127) == "9.53"  # as a binary fraction it is a little less


class TestCommandLine:
    def test_one_text(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert main(["convert", "25 ft-lb", "N·m"]) == 0
        assert capsys.readouterr().out == "25 ft-lb = 34 N·m (33.2 to 34.6)\n"

    def test_without_a_unit_it_is_newton_metres_and_the_counterpart(self, capsys: pytest.CaptureFixture[str]) -> None:
        main(["convert", "25 ft-lb"])
        assert capsys.readouterr().out == "25 ft-lb = 34 N·m (33.2 to 34.6); 25 lbf·ft (24.5 to 25.5)\n"
        main(["convert", "7 N·m"])
        assert capsys.readouterr().out == "7 N·m = 7 N·m (6.5 to 7.5); 62 lbf·in (57.5 to 66.4)\n"
        main(["convert", "70 N·m"])
        assert "52 lbf·ft" in capsys.readouterr().out

    def test_what_is_ambiguous_says_so(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert main(["convert", "30 lbs"]) == 0
        told = capsys.readouterr().out
        assert "no arm" in told
        assert "30 lbf·ft · 30 lbf·in" in told

    def test_json_has_the_reading(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert main(["convert", "25 ft-lb", "N·m", "--format", "json"]) == 0
        told = json.loads(capsys.readouterr().out)
        assert told["kind"] == "single"
        assert (told["min_nm"], told["max_nm"]) == (None, None)
        assert told["nominal_nm"] == pytest.approx(33.8954, rel=1e-5)
        assert told["angles_deg"] == []
        assert told["ambiguous"] is False
        assert (told["value"], told["unit"]) == (34.0, "N·m")
        assert (told["low"], told["high"]) == (pytest.approx(33.2175, rel=1e-5), pytest.approx(34.5734, rel=1e-5))

    @pytest.mark.parametrize(
        ("text", "facts"),
        [
            ("7 to 9 N·m", {"kind": "range", "min_nm": 7.0, "max_nm": 9.0, "nominal_nm": None}),
            ("7 to 9 N·m", {"value": None, "min": 7.0, "max": 9.0, "unit": "N·m"}),
            ("7 ± 1 N·m", {"kind": "tolerance", "min_nm": 6.0, "max_nm": 8.0, "nominal_nm": 7.0}),
            ("not to exceed 6 N·m", {"kind": "maximum", "min_nm": None, "max_nm": 6.0, "nominal_nm": None}),
            ("40 N·m + 60° + 60°", {"kind": "stage_angle", "nominal_nm": 40.0, "angles_deg": [60.0, 60.0]}),
            ("20 N·m and 120° ± 5°", {"kind": "stage_angle", "angles_deg": [[115.0, 125.0]]}),
            ("a further 90°", {"kind": "angle_only", "nominal_nm": None, "angles_deg": [90.0], "unit": None}),
            ("hand-tight", {"kind": "hand_tight", "nominal_nm": None, "angles_deg": []}),
            ("30 lbs", {"kind": "single", "nominal_nm": None, "unit": None, "ambiguous": True}),
            ("in thirds to 36 N·m", {"kind": "stage", "stages_nm": [12.0, 24.0, 36.0], "nominal_nm": 36.0}),
            ("18 N·m (first pass) and 22 to 27 N·m (second pass)", {"stages_nm": [18.0, [22.0, 27.0]]}),
            ("25 N·m plus the running torque", {"kind": "prevailing_added", "added_to_running_torque": True}),
        ],
    )  # fmt: skip
    def test_json_of_each_kind(self, text: str, facts: dict[str, Any], capsys: pytest.CaptureFixture[str]) -> None:
        assert main(["convert", text, "--format", "json"]) == 0
        told = json.loads(capsys.readouterr().out)
        assert {name: told[name] for name in facts} == facts

    def test_what_cannot_be_read_is_3_with_place_and_cure(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert main(["convert", "25 N·m dry"]) == 3
        told = capsys.readouterr()
        assert told.out == ""
        first, quoted, carets, *rest = told.err.splitlines()
        assert first.startswith("TEXT:1:8: ")
        assert quoted.index("dry") == carets.index("^^^")
        assert "instead:" in rest[0]

    @pytest.mark.parametrize(
        "words",
        [
            ["convert"],
            ["convert", "7 N·m", "banana"],
            ["convert", "7 N·m", "N·m", "--column", "1"],
            ["convert", "3 US qt", "qt"],
        ],
    )
    def test_a_wrong_command_line_is_2(self, words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
        assert main(words) == 2
        assert capsys.readouterr().out == ""

    @pytest.fixture
    def typed(self, monkeypatch: pytest.MonkeyPatch) -> Any:
        def give(text: str | bytes) -> None:
            data = text.encode() if isinstance(text, str) else text
            monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data)))

        return give

    def test_lines_from_standard_input(self, typed: Any, capsys: pytest.CaptureFixture[str]) -> None:
        typed("7 N·m\r\n\n  25 ft-lb\nbanana\nfinger-tight\n")
        assert main(["convert", "-", "N·m"]) == 3
        told = capsys.readouterr()
        assert told.out.splitlines() == [
            "7 N·m = 7 N·m (6.5 to 7.5)",
            "25 ft-lb = 34 N·m (33.2 to 34.6)",
            "finger-tight: by hand, no figure",
        ]
        assert told.err.startswith("-:4:1: ")

    def test_all_read_is_0(self, typed: Any) -> None:
        typed("7 N·m\n25 ft-lb\n")
        assert main(["convert", "-"]) == 0
        typed("")
        assert main(["convert", "-"]) == 0

    def test_json_lines_keep_the_order_and_name_what_is_wrong(
        self, typed: Any, capsys: pytest.CaptureFixture[str]
    ) -> None:
        typed("7 N·m\nbanana\n25 ft-lb\n")
        assert main(["convert", "-", "--format", "json"]) == 3
        told = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
        assert [one["text"] for one in told] == ["7 N·m", "banana", "25 ft-lb"]
        assert [one["kind"] for one in told] == ["single", None, "single"]
        assert told[1]["error"]["message"]
        assert told[1]["error"]["instead"]

    @pytest.mark.parametrize(
        ("table", "options"),
        [
            ('bolt,torque,note\nA,7 N·m,x\nB,"25 ft-lb",y\n', ["--column", "torque"]),
            ('bolt,torque,note\nA,7 N·m,x\nB,"25 ft-lb",y\n', ["--column", "Torque"]),
            ("A\t7 N·m\tx\nB\t25 ft-lb\ty\n", ["--column", "2"]),
            ("A;7 N·m;x\nB;25 ft-lb;y\n", ["--column", "2"]),
            ("A|7 N·m\nB|25 ft-lb\n", ["--column", "2", "--separator", "|"]),
            ("A\t7 N·m\nB\t25 ft-lb\n", ["--column", "2", "--separator", "tab"]),
            ("7 N·m,\n,\n25 ft-lb,x\n", ["--column", "1"]),
        ],
    )
    def test_a_column_of_a_table(
        self, table: str, options: list[str], typed: Any, capsys: pytest.CaptureFixture[str]
    ) -> None:
        typed(table)
        assert main(["convert", "-", "N·m", *options]) == 0
        assert [line.partition(" = ")[2] for line in capsys.readouterr().out.splitlines()] == [
            "7 N·m (6.5 to 7.5)", "34 N·m (33.2 to 34.6)",
        ]  # fmt: skip

    def test_a_cell_that_cannot_be_read_is_placed(self, typed: Any, capsys: pytest.CaptureFixture[str]) -> None:
        typed('bolt,torque\nA,7 N·m\nB,"25 N·m dry"\n')
        assert main(["convert", "-", "--column", "torque"]) == 3
        assert capsys.readouterr().err.startswith("-:3:11: ")

    @pytest.mark.parametrize(
        "options", [["--column", "size"], ["--column", "0"], ["--column", "1", "--separator", "ab"]]
    )
    def test_a_column_that_is_not_there_is_2(
        self, options: list[str], typed: Any, capsys: pytest.CaptureFixture[str]
    ) -> None:
        typed("bolt,torque\nA,7 N·m\n")
        assert main(["convert", "-", *options]) == 2
        assert capsys.readouterr().err

    def test_bytes_that_are_no_text_are_3(self, typed: Any, capsys: pytest.CaptureFixture[str]) -> None:
        typed(b"7 N\xb7m\n")
        assert main(["convert", "-"]) == 3
        assert "UTF-8" in capsys.readouterr().err


def test_reading_is_the_same_object_when_asked_again() -> None:
    assert read_tightening("7 to 9 N·m") is read_tightening("7 to 9 N·m")
