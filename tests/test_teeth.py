"""A detector that is silenced, or that fires on everything, is caught by the cases of its own rule."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from torquewright.book.texts import rule_ids, rule_text
from torquewright.rules import DETECTORS, registry
from torquewright.suite.cases import cases_of

sys.path.insert(0, str(Path(__file__).parent.parent / "tools"))

import teeth


@pytest.mark.parametrize("rule", sorted(set(DETECTORS) & set(rule_ids())))
def test_the_cases_of_a_rule_catch_its_detector_broken(rule: str) -> None:
    held = teeth.bite(rule)
    assert held.wrong == (), "these do not hold for the detector as it is"
    assert len(held.silent) == held.faulty, "a faulty case that holds without the detector tests another rule"
    assert len(held.always) == held.sound
    assert held.faulty >= 2
    assert held.sound >= 2


def test_the_detector_is_put_back() -> None:
    honest = registry.DETECTORS["kit-short"]
    teeth.bite("kit-short")
    assert registry.DETECTORS["kit-short"] is honest


def test_a_rule_without_teeth_shows(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    assert teeth.main(["kit-short"]) == 0
    assert "1 rules, 1 with teeth, 0 without" in capsys.readouterr().out
    everything = list(cases_of([rule_text("kit-short", cases=True)]))
    for kept in (True, False):  # only sound cases cannot catch a silent detector, only faulty ones not a loud one
        monkeypatch.setattr(teeth, "cases_of", lambda rules, kept=kept: [c for c in everything if c.sound is kept])
        assert teeth.main(["kit-short"]) == 1
        assert "NO TEETH" in capsys.readouterr().out


def test_a_case_that_does_not_hold_shows(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    everything = list(cases_of([rule_text("kit-short", cases=True)]))
    emptied = [case._replace(findings=()) for case in everything]
    monkeypatch.setattr(teeth, "cases_of", lambda rules: emptied)
    assert teeth.main(["kit-short"]) == 1
    assert "does not hold as things are" in capsys.readouterr().out
