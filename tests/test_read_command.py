"""``torquewright read``: for people, as TOML that check accepts, and as JSON for programs."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from torquewright.cli import main

SOUND = Path(__file__).parent / "drafts" / "sound"
DRAFT = str(SOUND / "workboat-propeller.md")
RECORDS = str(SOUND / "workboat-propeller.toml")


def read(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    status = main(["read", *words])
    told = capsys.readouterr()
    return status, told.out, told.err


def test_people_see_step_by_step_what_was_understood(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = read(capsys, DRAFT, "--catalogue", RECORDS)
    assert status == 0
    assert "step 9" in out
    assert "→ tighten castle-nut to 30 N·m (22 lbf·ft)" in out
    assert "sentences in steps:" in out


def test_what_was_not_understood_is_said(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = tmp_path / "job.md"
    path.write_text("# T\n\n1. Fribble the casting.\n2. Fit the plug.\n", "utf-8")
    status, out, _ = read(capsys, str(path))
    assert status == 0
    assert "unread: Fribble the casting." in out
    assert 'left over: "Fribble the casting"' in out


def test_json_has_every_sentence_with_its_place(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = read(capsys, "--format", "json", DRAFT, "--catalogue", RECORDS)
    assert status == 0
    steps = json.loads(out)["steps"]
    (sentence,) = next(step for step in steps if step["label"] == "9")["sentences"]
    assert sentence["status"] == "read"
    assert sentence["place"]["line"] == 17
    start, tighten = sentence["actions"]
    assert (start["verb"], start["mode"], start["joint"]) == ("hand_start", "do", "castle-nut")
    assert (tighten["joint"], tighten["tightening"], tighten["count"]) == ("castle-nut", "30 N·m (22 lbf·ft)", None)
    assert sentence["leftover"] == []


def test_toml_is_a_procedure_that_check_accepts(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    status, out, _ = read(capsys, "--format", "toml", DRAFT, "--catalogue", RECORDS)
    assert status == 0
    path = tmp_path / "job.toml"
    path.write_text(out, "utf-8")
    assert main(["check", str(path)]) == 0


def test_a_file_that_is_not_there(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = read(capsys, "nowhere.md")
    assert status == 3
    assert out == ""
    assert "no such file" in err
