"""Where trades disagree: the answers of each practice, their sources, and the copy of the general one in the code."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from torquewright.book.locate import specs_folder
from torquewright.book.policies import GENERAL, QUESTIONS, Policy, answers, policy, practices
from torquewright.book.strict import SOURCE_KINDS
from torquewright.toml.words_taken import WORDS

TABLES = tomllib.loads((Path(specs_folder()) / "policies.toml").read_text(encoding="utf-8"))


def told_by(practice: Policy) -> dict[str, str]:
    """The name and the answers of a practice, by question."""
    return {key.replace("_", "-"): getattr(practice, key) for key in Policy.__slots__}


def test_the_general_practice_in_the_code_is_that_of_the_file() -> None:
    assert told_by(GENERAL) == {"name": "general"} | {key: table["general"]["value"] for key, table in TABLES.items()}


def test_every_practice_a_catalogue_may_name_answers_every_question_with_a_source() -> None:
    for question, table in TABLES.items():
        assert set(table) == {"asks", "values", *WORDS["policy"]}, question
        assert table["asks"].endswith("?")
        for practice in WORDS["policy"]:
            held = table[practice]
            assert set(held) <= {"value", "kind", "title", "clause", "note"}, (question, practice)
            assert held["value"] in table["values"], (question, practice)
            assert held["kind"] in SOURCE_KINDS, (question, practice)
            assert ("title" in held) is (not held["kind"].startswith("common practice")), (question, practice)
    assert set(practices()) == set(WORDS["policy"])
    assert tuple(TABLES) == QUESTIONS
    assert {question.replace("-", "_") for question in TABLES} == set(Policy.__slots__) - {"name"}


def test_no_answer_is_there_for_nobody() -> None:
    for question, table in TABLES.items():
        assert {table[practice]["value"] for practice in WORDS["policy"]} == set(table["values"]), question


def test_a_practice_is_read_by_its_name() -> None:
    assert told_by(policy("aviation")) == {
        "name": "aviation", "locknuts": "measure", "drag": "always", "order": "recorded", "retorque": "recorded",
        "records": "safety", "second-look": "safety",
    }  # fmt: skip
    assert policy("road vehicle").locknuts == "never"
    assert policy("pressure flange").order == "from four"
    assert policy("") is policy("general") is policy("nobody's") is GENERAL


@pytest.mark.parametrize("name", WORDS["policy"])
def test_the_answers_are_told_with_their_sources(name: str) -> None:
    told = answers(name)
    assert list(told) == [table["asks"] for table in TABLES.values()]
    values = told_by(policy(name))
    assert [value for value, _, _ in told.values()] == [values[question] for question in QUESTIONS]
    assert all(says.endswith(".") and source for _, says, source in told.values())


def test_the_source_of_an_answer_is_named() -> None:
    told = answers("aviation")["Is the running torque of a self-locking thread added to the figure of the record?"]
    assert told == ("always", "Yes, always.", "FAA AC 43.13-1B, 7-40d")
