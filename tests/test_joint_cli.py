"""The joint verb as a mechanic meets it: what it prints, what it refuses, what it draws."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from torquewright.cli import main

CATALOGUE = """\
[machine]
name = "Kestrel feed pump"
source = "invented for this test"

[[fastener]]
id = "cover-screw"
name = "cover screw"
kind = "screw"
count = 4
size = "M8x1.25"
property-class = "8.8"
drive = "hex 13 mm"
mating-material = "aluminium die-cast"
bearing-material = "steel"
engagement = "14 mm"
condition = "oil"
tightening = "18 N·m ± 2"
source = "invented"

[[fastener]]
id = "drain-plug"
name = "drain plug"
size = "G 1/4"
tightening = "12 N·m"
source = "invented"
"""


def answered(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    assert main(["joint", *words, "--format", "json"]) == 0
    held: dict[str, Any] = json.loads(capsys.readouterr().out)
    return held


def refused(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(["joint", *words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "Traceback" not in err
    return err


def test_vdi_row_by_the_command_line(capsys: pytest.CaptureFixture[str]) -> None:
    """VDI 2230-1 Table A3: M12x1.25, 8.8, friction 0.14, 90 % of yield: 46.8 kN, 101 N·m."""
    held = answered(
        capsys, "M12x1.25", "--class", "8.8", "--share-of-yield", "90 %", "--friction-thread", "0.14",
        "--friction-head", "0.14",
    )  # fmt: skip
    assert held["preload_n"] == pytest.approx(46800, rel=0.01)
    assert held["torque_nm"] == pytest.approx(101, rel=0.01)


def test_every_promised_key_is_there_even_when_little_is_known(capsys: pytest.CaptureFixture[str]) -> None:
    held = answered(capsys, "M8x1.25")
    for key in (
        "stress_area_mm2", "preload_n", "preload_low_n", "preload_high_n", "proof_load_n", "share_of_proof",
        "torque_at_proof_nm", "strip_load_internal_n", "strip_load_external_n", "bearing_pressure_mpa", "torque_nm",
        "sources",
    ):  # fmt: skip
        assert key in held
    assert held["stress_area_mm2"] == pytest.approx(36.6, rel=0.005)
    assert held["preload_n"] is None
    assert held["missing"]["preload_n"]


def test_band_from_friction_range_and_tool(capsys: pytest.CaptureFixture[str]) -> None:
    """VDI 2230-1 R1: M10, 48 N·m, 4 %, friction 0.10 to 0.14, dw 14.63, hole 11: 24.7 to 35.7 kN."""
    for friction in ("0.10 to 0.14", "0.10-0.14", "0.12 ± 0.02", "0.10..0.14"):
        held = answered(
            capsys, "M10", "--class", "8.8", "--torque", "48 N·m", "--friction-thread", friction,
            "--friction-head", friction, "--tool-deviation", "4%", "--bearing-diameter", "14.63 mm", "--hole", "11 mm",
        )  # fmt: skip
        assert held["preload_low_n"] == pytest.approx(24700, rel=0.005)
        assert held["preload_high_n"] == pytest.approx(35700, rel=0.005)


def test_inch_joint_by_nut_factor(capsys: pytest.CaptureFixture[str]) -> None:
    """SAE J429: 1/2-13 grade 5, 75 % of proof, K 0.20: 9046 lbf, 75.4 lbf·ft; and back from that torque."""
    held = answered(capsys, "1/2-13 UNC", "--class", "grade 5", "--share-of-proof", "0.75", "--nut-factor", "0.20")
    assert held["preload_n"] / 4.4482216152605 == pytest.approx(9046, rel=0.003)
    assert held["torque_nm"] / 1.3558179483314004 == pytest.approx(75.4, rel=0.003)
    back = answered(capsys, "1/2-13 UNC", "--class", "grade 5", "--torque", "75.4 lbf·ft", "--nut-factor", "0.20")
    assert back["share_of_proof"] == pytest.approx(0.75, rel=0.003)
    force = answered(capsys, "1/2-13 UNC", "--class", "grade 5", "--preload", "9046 lbf", "--nut-factor", "0.20")
    assert force["torque_nm"] == pytest.approx(held["torque_nm"], rel=0.003)


def test_adapter_by_the_command_line(capsys: pytest.CaptureFixture[str]) -> None:
    """US Army TM 1-1500-204-23-9 figure 8-16: 300 lbf·in, arm 10 in, adapter 4 in: set 214 lbf·in."""
    held = answered(capsys, "M8", "--torque", "300 lbf·in", "--arm", "10 in", "--adapter", "4 in")
    assert held["wrench_setting_nm"] / 0.1129848290276167 == pytest.approx(214, abs=0.5)
    square = answered(
        capsys, "M8", "--torque", "300 lbf·in", "--arm", "10 in", "--adapter", "4 in", "--adapter-angle", "90°"
    )
    assert square["wrench_setting_nm"] == pytest.approx(square["torque_nm"])


def test_the_sheet_shows_both_unit_systems_sources_picture_and_caution(capsys: pytest.CaptureFixture[str]) -> None:
    words = ("joint", "M8x1.25", "--class", "8.8", "--torque", "25 N·m", "--into", "aluminium die-cast")
    assert main([*words, "--engagement", "14 mm", "--onto", "steel", "--washer"]) == 0
    out = capsys.readouterr().out
    assert "25 N·m (18.4 lbf·ft)" in out
    assert "21.2 kN (4773 lbf)" in out
    assert "ISO 898-1, 2013, Table 3" in out
    assert "the standard prints 21200 N" in " ".join(out.split())  # a narrow terminal may break the line there
    assert "too loose" in out
    assert "orientation" in out
    assert "maker" in out
    assert all(len(line) <= 130 for line in out.splitlines())
    picture = next(line for line in out.splitlines() if line.strip().startswith("-") and "#" in line)
    assert picture.index("[") < picture.index("#") < picture.index("]")


def test_from_a_record(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    file = tmp_path / "pump.toml"
    file.write_text(CATALOGUE, encoding="utf-8")
    held = answered(capsys, "--record", "cover-screw", str(file))
    assert held["joint"] == "cover screw (M8x1.25)"
    assert held["torque_nm"] == 18
    assert held["sources"]["torque_nm"]["range"] == [16, 20]
    assert held["strip_load_internal_n"] > held["preload_high_n"]
    changed = answered(capsys, "--record", "cover-screw", str(file), "--torque", "200 lbf·in")
    assert changed["torque_nm"] == pytest.approx(22.6, rel=0.01)
    assert "did you mean cover-screw?" in refused(capsys, "--record", "cover-skrew", str(file))
    assert "G 1/4" in refused(capsys, "--record", "drain-plug", str(file))


def test_a_catalogue_that_cannot_be_read(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    file = tmp_path / "pump.toml"
    assert main(["joint", "--record", "cover-screw", str(file)]) == 3
    file.write_text(CATALOGUE.replace('"18 N·m ± 2"', '"18"'), encoding="utf-8")
    assert main(["joint", "--record", "drain-plug", str(file)]) != 0
    assert "Traceback" not in capsys.readouterr().err


def test_the_picture_is_well_formed_and_told_in_words(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    file = tmp_path / "a.svg"
    words = ["joint", "M8x1.25", "--class", "8.8", "--torque", "25 N·m", "--svg", str(file)]
    assert main(words) == 0
    root = ElementTree.parse(file).getroot()
    space = "{http://www.w3.org/2000/svg}"
    assert root.findtext(f"{space}title") == "M8x1.25"
    assert "aimed at" in (root.findtext(f"{space}desc") or "")
    assert any("proof load" in (text.text or "") for text in root.iter(f"{space}text"))
    assert main(["joint", "M8x1.25", "--svg", str(file)]) == 0
    assert "No preload" in file.read_text(encoding="utf-8")
    capsys.readouterr()
    assert "cannot write" in refused(capsys, *words[1:-1], str(tmp_path / "no" / "a.svg"))


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("M8x9",), "M8"),
        (("G 1/4",), "pipe thread"),
        (("M8", "--torque", "25"), "unit"),
        (("M8", "--torque", "25 N·m", "--preload", "10 kN"), "only one of --torque and --preload"),
        (("M8", "--preload", "10"), "unit"),
        (("M8", "--engagement", "14"), "unit"),
        (("M8", "--class", "8.9"), '"8.9"'),
        (("M8", "--into", "cheese"), '"cheese"'),
        (("M8", "--condition", "wet"), '"wet"'),
        (("M8", "--friction-thread", "slippery"), "0.12"),
        (("M8", "--friction-thread", "0.2 to 0.1"), "downward"),
        (("M8", "--share-of-yield", "90", "--class", "8.8"), "90%"),
        (("M8", "--tool-deviation", "4"), "4%"),
        (("M8", "--nut-factor", "0.01", "--torque", "20 N·m"), "nut factor"),
        (("M8", "--adapter", "50 mm", "--torque", "20 N·m"), "--arm"),
        (("M8", "--adapter", "50 mm", "--arm", "0 mm", "--torque", "20 N·m"), "arm"),
        (("M8", "--wrench", "25 N·m"), "range"),
        (("M8", "--hole", "30 mm"), "leaves nothing"),
        (("M8", "--angle", "much"), "90°"),
    ],
)
def test_what_cannot_be_taken_is_refused_in_one_line(
    words: tuple[str, ...], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    err = refused(capsys, *words)
    assert told in err
    assert len(err.strip().splitlines()) == 1


def test_a_range_is_shown_in_the_unit_of_its_figure(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["joint", "M8", "--class", "A4-70", "--condition", "anti-seize"]) == 0
    shown = next(line for line in capsys.readouterr().out.splitlines() if "torque at proof load" in line)
    assert ("lbf·in" in shown) != ("lbf·ft" in shown)


def test_the_proof_load_stands_in_the_picture_even_when_far_away(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["joint", "M10", "--class", "12.9", "--torque", "20 N·m", "--onto", "steel"]) == 0
    out = capsys.readouterr().out
    assert any("proof load" in line for line in out.splitlines() if line.strip()[:1] in "ABCDE" and " kN " in line)


def test_a_turn_without_a_clamped_length_is_owned_up_to(capsys: pytest.CaptureFixture[str]) -> None:
    held = answered(capsys, "M10", "--class", "10.9", "--torque", "30 N·m", "--angle", "45°")
    assert any("only where the turn begins" in remark for remark in held["remarks"])
    known = answered(capsys, "M10", "--class", "10.9", "--torque", "30 N·m", "--angle", "45°", "--length", "40 mm")
    assert known["preload_by_angle_n"] > known["preload_n"]
