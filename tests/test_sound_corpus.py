"""The known-good corpus stays silent, and whatever is planted in one of its procedures is found there and alone."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from torquewright.rules import PLANTERS, WORD_PLANTERS
from torquewright.verdict import check_job

CHECKOUT = Path(__file__).parent.parent
sys.path.insert(0, str(CHECKOUT / "tools"))

import plant_matrix  # noqa: E402  (the tools are no package)

PATHS = plant_matrix.sound_files()
MOST = 8  # of one rule in one procedure, spread over it; the tool itself plants all
RULES = sorted({*PLANTERS, *WORD_PLANTERS})
MACHINES = {
    "outboard": "workboat",
    "vacuum pump": "vacuum",
    "cargo bike": "cargo-bike",
    "compressor": "compressor",
    "generator": "generator",
    "winch": "winch",
    "feed pump": "pump",
}


def _shown(path: Path) -> str:
    return f"{path.parent.name}/{path.name}"


@pytest.mark.parametrize("path", PATHS, ids=_shown)
def test_a_sound_procedure_is_silent(path: Path) -> None:
    report = check_job(plant_matrix.read_sound(path))
    assert [f"{remark.step}: {remark.message} [{remark.rule}]" for remark in report.findings] == []
    # Few records leave things unstated, which is a question and no finding.
    assert report.verdict.word == "go" or report.verdict.rests_on.missing, report.verdict


@pytest.mark.parametrize("path", PATHS, ids=_shown)
def test_every_fault_planted_in_a_sound_procedure_is_found_and_none_is_invented(path: Path) -> None:
    cells, noise = plant_matrix.matrix([path], RULES, MOST)
    assert noise == []
    assert [told for cell in cells.values() for told in cell.trouble] == []
    assert sum(cell.planted for cell in cells.values()) >= 20


def test_the_corpus_covers_every_machine_in_both_forms_and_every_rule_is_planted_somewhere() -> None:
    names = [str(path.relative_to(CHECKOUT)) for path in PATHS]
    assert len(names) >= 30
    for machine, word in MACHINES.items():
        forms = {path.suffix for path, name in zip(PATHS, names, strict=True) if word in name}
        assert ".toml" in forms, machine
        assert forms & {".md", ".txt"}, machine
    left = set(RULES)
    for path in PATHS:
        job = plant_matrix.read_sound(path)
        assert job.procedure is not None
        for rule in sorted(left):
            if rule in PLANTERS:
                faults = iter(PLANTERS[rule](job.procedure, job.catalogue))
            else:
                faults = iter(WORD_PLANTERS[rule](job.draft, job.procedure, job.catalogue) if job.draft else ())
            if next(faults, None) is not None:
                left.remove(rule)
    assert left == set(), "planted nowhere"


def test_a_fault_that_is_missed_or_invented_shows(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The matrix would be worth nothing if it could not fail."""
    path = str(PATHS[0].with_suffix(".toml"))
    assert plant_matrix.main([path, "--rule", "wrong-stage-order"]) == 0
    assert "2 planted, 2 found (100.0 %), 0 missed, 0 invented" in capsys.readouterr().out
    honest = plant_matrix.detect
    monkeypatch.setattr(plant_matrix, "detect", lambda trace: [
        held for held in honest(trace) if held.rule != "wrong-stage-order"
    ])  # fmt: skip
    assert plant_matrix.main([path, "--rule", "wrong-stage-order"]) == 1
    assert "2 planted, 0 found (0.0 %), 2 missed, 0 invented" in capsys.readouterr().out
    monkeypatch.setattr(plant_matrix, "detect", lambda trace: [
        held._replace(rule="kit-short") if held.rule == "wrong-stage-order" else held for held in honest(trace)
    ])  # fmt: skip
    assert plant_matrix.main([path, "--rule", "wrong-stage-order"]) == 1
    assert "2 planted, 0 found (0.0 %), 2 missed, 2 invented" in capsys.readouterr().out
