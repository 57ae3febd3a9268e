"""The list of shop practices: each is judged by rules that exist, or says why no rule can judge it."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from torquewright.book.texts import rule_ids

PRACTICES = tomllib.loads((Path(__file__).parent.parent / "specs" / "practice.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("practice", PRACTICES["practice"], ids=lambda held: held["asks"][:40])
def test_a_practice_is_judged_or_says_why_not(practice: dict[str, object]) -> None:
    assert set(practice) <= {"asks", "source", "rules", "not-judged"}
    assert practice["asks"]
    assert practice["source"]
    rules = practice.get("rules")
    if rules is None:
        assert len(str(practice["not-judged"]).split()) >= 4
    else:
        assert isinstance(rules, list)
        assert rules
        assert set(rules) <= set(rule_ids())
        assert "not-judged" not in practice
