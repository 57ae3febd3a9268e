"""Where trades disagree: the answers of each practice, their sources, and the copy of the general one in the code."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from torquewright.book.locate import specs_folder
from torquewright.book.policies import GENERAL, Policy, answers, policy, practices
from torquewright.book.strict import SOURCE_KINDS
from torquewright.reading.words_taken import WORDS

TABLES = tomllib.loads((Path(specs_folder()) / "policies.toml").read_text(encoding="utf-8"))


def test_the_general_practice_in_the_code_is_that_of_the_file() -> None:
    told = {question.replace("-", "_"): table["general"]["value"] for question, table in TABLES.items()}
    assert GENERAL._asdict() == {"name": "general", **told}


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
    assert {question.replace("-", "_") for question in TABLES} == set(Policy._fields) - {"name"}


def test_no_answer_is_there_for_nobody() -> None:
    for question, table in TABLES.items():
        assert {table[practice]["value"] for practice in WORDS["policy"]} == set(table["values"]), question


def test_a_practice_is_read_by_its_name() -> None:
    assert policy("aviation") == Policy("aviation", "measure", "always", "recorded", "recorded", "safety", "safety")
    assert policy("road vehicle").locknuts == "never"
    assert policy("pressure flange").order == "from four"
    assert policy("") is policy("general") is policy("nobody's") is GENERAL


@pytest.mark.parametrize("name", WORDS["policy"])
def test_the_answers_are_told_with_their_sources(name: str) -> None:
    told = answers(name)
    assert list(told) == [table["asks"] for table in TABLES.values()]
    assert [answer.value for answer in told.values()] == list(policy(name)[1:])
    assert all(answer.says.endswith(".") and answer.source for answer in told.values())


def test_the_source_of_an_answer_is_named() -> None:
    told = answers("aviation")["Is the running torque of a self-locking thread added to the figure of the record?"]
    assert told == ("always", "Yes, always.", "FAA AC 43.13-1B, 7-40d")
