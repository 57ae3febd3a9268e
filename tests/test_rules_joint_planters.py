"""The computed rules find what is planted in sound jobs, there and alone."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings

from rule_bench import plant_all
from sound_procedures import sound_jobs
from torquewright import read
from torquewright.records import Catalogue, Procedure

EXAMPLES = sorted((Path(__file__).parent.parent / "specs" / "examples").glob("*/sound.toml"))
RULES = {
    # rule: how many faults can be planted in the examples at the least
    "record-value-implausible": 10,
    "proof-load-exceeded": 5,
    "thread-strips-first": 5,
    "bearing-face-crushed": 1,
    "adapter-not-corrected": 10,
    "tool-wider-than-band": 5,
    "setting-cannot-hit-band": 3,
    "lubricant-state-mismatch": 10,
    "run-down-drag-not-added": 2,
    "stainless-galling": 10,
    "too-few-threads-engaged": 10,
    "bolt-bottoms-in-blind-hole": 10,
    "near-match-bolt": 10,
    "weaker-material-substituted": 10,
    "mixed-thread-family": 10,
    "galvanic-pair": 10,
    "plated-high-strength": 10,
}


@pytest.mark.parametrize("rule", RULES)
class TestPlanters:
    def test_in_the_examples(self, rule: str) -> None:
        planted = []
        for path in EXAMPLES:
            held = read(str(path))
            assert held.procedure is not None
            planted += plant_all(rule, held.procedure, held.catalogue)
        assert len(planted) >= RULES[rule]

    @settings(max_examples=15, deadline=None)
    @given(sound_jobs(most=3))
    def test_in_made_up_jobs(self, rule: str, made_up: tuple[Procedure, Catalogue]) -> None:
        plant_all(rule, *made_up)
