"""The quiz: one true answer, proved; same seed, same bytes; refusals say why."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from torquewright.cli import main
from torquewright.quiz import NotEnough, NotSound, make_items, mutants
from torquewright.quiz.paper import key, paper, plain
from torquewright.reading.files import read_job
from torquewright.rules import PLANTERS
from torquewright.verdict import check_records

EXAMPLES = Path(__file__).parent.parent / "specs" / "examples"
SOUND = sorted(EXAMPLES.glob("*/sound.toml"))
UNSEEN = {"acceptance-stale", "accepted-without-reason"}  # remarks beside a step, which the paper does not show


@pytest.mark.parametrize("file", SOUND, ids=lambda path: path.parent.name)
def test_only_the_keyed_answer_is_true(file: Path) -> None:
    job = read_job(str(file))
    assert job.procedure is not None
    for item in make_items(job.procedure, job.catalogue, count=6, seed=11):
        found = {(remark.rule, remark.step, remark.joint) for remark in
                 check_records(item.procedure, item.catalogue).remarks}  # fmt: skip
        right = [choice for choice in item.choices if choice.right]
        assert [choice.claim for choice in right] == list(found)
        assert len(item.choices) == 4
        assert not any(choice.claim in found for choice in item.choices if not choice.right)
        assert len({choice.text for choice in item.choices}) == 4


def test_same_seed_same_bytes_and_another_seed_another_paper() -> None:
    job = read_job(str(SOUND[0]))
    assert job.procedure is not None

    def made(seed: int) -> tuple[str, str, str]:
        assert job.procedure is not None
        items = make_items(job.procedure, job.catalogue, count=5, seed=seed)
        title = job.procedure.title
        return paper(title, items, job.catalogue), key(title, items), json.dumps(plain(title, items, seed))

    assert made(7) == made(7)
    assert made(7)[0] != made(8)[0]


def test_the_paper_does_not_give_the_answer_away() -> None:
    job = read_job(str(SOUND[0]))
    assert job.procedure is not None
    items = make_items(job.procedure, job.catalogue, count=5, seed=3)
    sheet = paper("job", items, job.catalogue)
    for item in items:
        assert item.remark.rule not in sheet
        assert item.changed not in sheet
        labels = [label for label, _ in item.steps]
        assert labels == [str(at + 1) for at in range(len(labels))]


def test_questions_are_spread_over_the_rules() -> None:
    job = read_job(str(SOUND[0]))
    assert job.procedure is not None
    kinds = {mutant.rule for mutant in mutants(job.procedure, job.catalogue)} - UNSEEN
    items = make_items(job.procedure, job.catalogue, count=len(kinds), seed=1)
    assert {item.remark.rule for item in items} == kinds


def test_only_limits_the_key_and_not_the_wrong_answers() -> None:
    job = read_job(str(SOUND[0]))
    assert job.procedure is not None
    item = make_items(job.procedure, job.catalogue, count=1, seed=1, rules=["hand-start-missing"])[0]
    assert item.remark.rule == "hand-start-missing"
    assert any(choice.claim[0] != "hand-start-missing" for choice in item.choices)


def test_refuses_more_than_can_be_planted() -> None:
    job = read_job(str(SOUND[0]))
    assert job.procedure is not None
    with pytest.raises(NotEnough, match="500 questions were asked for") as raised:
        make_items(job.procedure, job.catalogue, count=500, seed=1)
    every = mutants(job.procedure, job.catalogue)
    assert raised.value.have == sum(1 for mutant in every if mutant.rule not in UNSEEN)


def test_refuses_a_procedure_with_faults_of_its_own() -> None:
    job = read_job(str(SOUND[0].parent / "faulty-1.toml"))
    assert job.procedure is not None
    with pytest.raises(NotSound) as raised:
        make_items(job.procedure, job.catalogue, count=1, seed=1)
    assert raised.value.remarks


@pytest.mark.parametrize("rule", sorted(PLANTERS))
def test_every_planter_finds_room_in_some_bundled_example(rule: str) -> None:
    room = 0
    for file in SOUND:
        job = read_job(str(file))
        assert job.procedure is not None
        room += len(mutants(job.procedure, job.catalogue, [rule]))
    assert room, f"no bundled example can be spoiled by {rule}"


def test_verb_writes_paper_and_key_apart(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["quiz", str(SOUND[0]), "--count", "2", "--seed", "7", "--into", str(tmp_path)]) == 0
    capsys.readouterr()
    assert main(["quiz", str(SOUND[0]), "--count", "2", "--seed", "7", "--part", "paper"]) == 0
    assert capsys.readouterr().out == (tmp_path / "paper.md").read_text(encoding="utf-8")
    assert "key" in (tmp_path / "key.md").read_text(encoding="utf-8")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["key.md", "paper.md"]


def test_verb_gives_json_and_says_why_it_refuses(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["quiz", str(SOUND[0]), "--count", "2", "--seed", "7", "--format", "json"]) == 0
    made = json.loads(capsys.readouterr().out)
    assert (made["format"], made["version"], len(made["items"])) == ("torquewright-quiz", 1, 2)
    assert main(["quiz", str(SOUND[0]), "--count", "999"]) == 3
    assert "only" in capsys.readouterr().err
    assert main(["quiz", str(SOUND[0]), "--only", "no-such-rule"]) == 2
    assert main(["quiz", str(SOUND[0].parent / "faulty-1.toml")]) == 3
    assert "sound procedure" in capsys.readouterr().err
