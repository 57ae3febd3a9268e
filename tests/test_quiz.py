"""The quiz: one true answer, proved; same seed, same bytes; refusals say why."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from torquewright.cli import main
from torquewright.quiz import KINDS, Item, NotEnough, NotSound, make_forms, make_items, mutants
from torquewright.quiz.faults import visible
from torquewright.quiz.items import LETTERS
from torquewright.quiz.lint import remarks as lint
from torquewright.quiz.paper import feedback, key, paper, plain, table
from torquewright.quiz.taking import judged, take
from torquewright.reading.files import read_job
from torquewright.rules import PLANTERS
from torquewright.verdict import check_records

EXAMPLES = Path(__file__).parent.parent / "specs" / "examples"
SOUND = sorted(EXAMPLES.glob("*/sound.toml"))


@pytest.mark.parametrize("file", SOUND, ids=lambda path: path.parent.name)
def test_only_the_keyed_answer_is_true(file: Path) -> None:
    job = read_job(str(file))
    assert job.procedure is not None
    for item in make_items(job.procedure, job.catalogue, count=6, seed=11):
        found = {(remark.rule, remark.step, remark.joint) for remark in
                 check_records(item.procedure, item.catalogue).remarks}  # fmt: skip
        right = [choice for choice in item.choices if choice.right]
        assert [choice.claim for choice in right] == list(found)
        assert item.key == LETTERS[item.choices.index(right[0])]
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
        assert item.rule not in sheet
        assert item.changed not in sheet
        labels = [label for label, _ in item.steps]
        assert labels == [str(at + 1) for at in range(len(labels))]


def test_questions_are_spread_over_the_rules() -> None:
    job = read_job(str(SOUND[0]))
    assert job.procedure is not None
    kinds = {mutant.rule for mutant in visible(mutants(job.procedure, job.catalogue), job.procedure, job.catalogue)}
    items = make_items(job.procedure, job.catalogue, count=len(kinds), seed=1)
    assert {item.rule for item in items} == kinds


def test_only_limits_the_key_and_not_the_wrong_answers() -> None:
    job = read_job(str(SOUND[0]))
    assert job.procedure is not None
    item = make_items(job.procedure, job.catalogue, count=1, seed=1, rules=["hand-start-missing"])[0]
    assert item.rule == "hand-start-missing"
    assert any(choice.claim[0] != "hand-start-missing" for choice in item.choices)


def test_refuses_more_than_can_be_planted() -> None:
    job = read_job(str(SOUND[0]))
    assert job.procedure is not None
    with pytest.raises(NotEnough, match="500 questions were asked for") as raised:
        make_items(job.procedure, job.catalogue, count=500, seed=1)
    every = mutants(job.procedure, job.catalogue)
    seen = visible(every, job.procedure, job.catalogue)
    assert raised.value.have == len(seen)
    assert 30 < len(seen) < len(every)


def test_a_fault_in_a_record_or_a_tool_is_not_asked_for() -> None:
    """The records stand on the paper once for all questions, so nobody could see it."""
    job = read_job(str(SOUND[0]))
    assert job.procedure is not None
    every = mutants(job.procedure, job.catalogue)
    seen = {mutant.rule for mutant in visible(every, job.procedure, job.catalogue)}
    assert "record-value-implausible" in {mutant.rule for mutant in every} - seen
    assert "kit-short" in seen


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


def items_of(kind: str, count: int = 2, file: Path = SOUND[-1], seed: int = 5) -> list[Item]:
    job = read_job(str(file))
    assert job.procedure is not None
    return make_items(job.procedure, job.catalogue, count=count, seed=seed, kinds=(kind,))  # type: ignore[arg-type]


@pytest.mark.parametrize("file", SOUND, ids=lambda path: path.parent.name)
def test_every_fault_of_an_all_that_apply_item_is_there_and_no_other(file: Path) -> None:
    for item in items_of("all", 3, file):
        found = {(held.rule, held.step, held.joint) for held in
                 check_records(item.procedure, item.catalogue).remarks}  # fmt: skip
        assert {choice.claim for choice in item.choices if choice.right} == found
        assert len(found) == 2
        assert len(item.choices) == 5


def test_the_key_names_every_rule_and_every_step_of_the_right_order() -> None:
    [both] = items_of("all", 1)
    told = feedback(both)
    rules = [held.rule for held in both.remarks]
    assert any(line.startswith(f"Rules: {', '.join(rules)}.") for line in told)
    assert any(line.startswith("Leads to: ") and both.remarks[1].consequence in line for line in told)
    [order] = items_of("order", 1)
    assert feedback(order)[0] == f"{order.key[0]} comes first: {order.choices[order.order[0]].text}"


def test_only_one_order_of_an_order_item_is_sound() -> None:
    from itertools import permutations

    from torquewright.quiz.ordering import missing_rest, slips_of

    for item in items_of("order", 1):
        steps = item.procedure.steps
        actions = [step.actions[0] for step in steps]
        left_out = missing_rest(actions, item.catalogue)
        sound = [
            order
            for order in permutations(range(len(steps)))
            if not slips_of([actions[at] for at in order], item.catalogue, left_out)
        ]
        assert sound == [tuple(range(len(steps)))]
        texts = [choice.text for choice in item.choices]
        assert item.order != tuple(range(len(steps)))
        assert [texts[at] for at in item.order] == [item.choices[at].text for at in item.order]
        assert item.choices[item.order[0]].reason == "It comes first."


def test_a_figure_is_the_one_pint_and_the_lever_rule_give() -> None:
    from torquewright.conversion import convert

    for item in items_of("number", 6):
        assert item.figure is not None
        assert 0 < item.figure.tolerance <= 0.06 * item.figure.value
        end = "no more than " if item.id.endswith("-upper") else "no less than "
        written = item.ask.split("tightened to ")[-1].split("needs ")[-1].split(end)[-1]
        written = written.split(". ")[0].split(" and ")[0]
        if "adapter" in item.id:
            arm = float(item.ask.split("arm is ")[1].split(" mm")[0])
            offset = float(item.ask.split("with a ")[1].split(" mm")[0])
            # US Army TM 9-254, 4-1d: torque = setting x (arm + adapter) / arm
            reached = item.figure.value * (arm + offset) / arm
            asked = convert(written, item.figure.unit)
            assert asked.low <= reached <= asked.high
        else:
            made = convert(written, item.figure.unit)
            assert made.low <= item.figure.value <= made.high


@pytest.mark.parametrize("file", SOUND, ids=lambda path: path.parent.name)
def test_one_wrench_and_no_other_can_do_it(file: Path) -> None:
    for item in items_of("tool", 2, file):
        right = [choice for choice in item.choices if choice.right]
        assert len(right) == 1
        assert all(choice.reason for choice in item.choices)


def test_forms_share_no_question_and_the_same_seed_deals_the_same_forms() -> None:
    job = read_job(str(SOUND[0]))
    assert job.procedure is not None

    def dealt() -> list[list[str]]:
        assert job.procedure is not None
        forms = make_forms(job.procedure, job.catalogue, forms=2, count=5, seed=4, kinds=("spot", "tool"))
        return [[item.id for item in form] for form in forms]

    first, second = dealt()
    assert not set(first) & set(second)
    assert len(first) == len(second) == 5
    assert dealt() == [first, second]


def test_family_and_difficulty_limit_what_is_asked() -> None:
    from torquewright.book.texts import rule_text

    job = read_job(str(SOUND[0]))
    assert job.procedure is not None
    family = rule_text("hand-start-missing").family
    made = make_items(job.procedure, job.catalogue, count=2, seed=1, family=family)
    assert {rule_text(item.rule).family for item in made} == {family}
    easy = make_items(job.procedure, job.catalogue, count=2, seed=1, kinds=("spot", "number"), difficulty=2)
    assert {item.kind for item in easy} == {"number"}


def test_items_keep_to_the_guidelines() -> None:
    for file in SOUND:
        job = read_job(str(file))
        assert job.procedure is not None
        for seed in (2, 3):
            made = make_items(job.procedure, job.catalogue, count=12, seed=seed, kinds=tuple(KINDS))
            assert list(lint(made)) == []


def test_the_guidelines_catch_a_badly_written_item() -> None:
    [item] = items_of("spot", 1)
    twice = item._replace(choices=(item.choices[0], *item.choices[:3]))
    opinion = item._replace(ask="What do you think is not wrong here")
    bare = item._replace(sources=(), choices=tuple(choice._replace(reason="") for choice in item.choices))
    right = next(choice for choice in item.choices if choice.right)
    long = item._replace(choices=tuple(
        choice._replace(text=choice.text * 3) if choice.right else choice for choice in item.choices
    ))  # fmt: skip
    other = item._replace(choices=tuple(choice._replace(claim=("kit-short", "", "")) for choice in item.choices))
    free = right._replace(text="Tighten it.", right=False, claim=("", "", ""))
    joke = item._replace(choices=(*item.choices[:3], free))
    broken = (twice, opinion, bare, long, other, joke)
    found = {check for held in broken for check, _, _ in lint([held])}
    assert {"alike", "stem-asks", "no-opinion", "negative-marked", "feedback-each", "source", "length-even", "one-idea",
            "no-joke", "safe-text"} <= found  # fmt: skip
    [tool] = items_of("tool", 1)
    echo = tool._replace(ask=tool.ask + " " + next(choice.text for choice in tool.choices if choice.right))
    turned = tool._replace(choices=tool.choices[::-1])
    few = tool._replace(choices=tool.choices[:2])
    found = {check for held in (echo, turned, few) for check, _, _ in lint([held])}
    assert {"no-echo", "option-order", "option-count"} <= found


@pytest.mark.parametrize("file", SOUND, ids=lambda path: path.parent.name)
def test_no_question_of_a_paper_prints_the_figure_another_one_asks_for(file: Path) -> None:
    """The steps of the job show most figures in two units; a conversion of one of them would be no question."""
    job = read_job(str(file))
    assert job.procedure is not None
    dual = [step for step in job.procedure.steps if "lbf" in step.say]
    assert dual
    made = make_items(job.procedure, job.catalogue, count=8, seed=3, kinds=("spot", "number"))
    assert {item.kind for item in made} == {"spot", "number"}
    alone = items_of("number", 8, file)
    for item in made:
        if item.figure is not None:
            unit = item.figure.unit
            others = [text for held in made if held is not item for text in (
                held.ask, *(said for _, said in held.steps), *(choice.text for choice in held.choices))]  # fmt: skip
            assert not any(f" {item.figure.value:.0f} {unit}" in text for text in others)
    leaky = [one for one in alone if any(list(lint([one, held])) for held in made if held.kind == "spot")]
    assert leaky, "the check has nothing to keep out"


@pytest.mark.parametrize("name", ["hydroponic-pump", "workboat-gearcase"])
def test_two_wrenches_are_joined_by_a_borrowed_one(name: str) -> None:
    [item] = items_of("tool", 1, EXAMPLES / name / "sound.toml")
    assert len(item.choices) == 3
    [borrowed] = [choice for choice in item.choices if "borrowed" in choice.text]
    assert not borrowed.right
    assert "scale" in borrowed.reason


def test_answers_at_the_terminal_are_judged_as_the_key_says() -> None:
    for kind in KINDS:
        [item] = items_of(kind, 1)
        answer = f"{item.figure.value}" if item.figure else item.key
        assert judged(item, answer) == 1
        assert judged(item, "") == 0
        assert judged(item, "ZZZ") is None
    [item] = items_of("all", 1)
    right = item.key.split()
    wrong = next(letter for letter in "ABCDE" if letter not in right)
    assert judged(item, right[0]) == 0.5
    assert judged(item, f"{right[0]} {wrong}") == 0
    assert judged(item, "ABCDE") == 0


def test_taking_shows_progress_and_a_result_and_can_be_left() -> None:
    said: list[str] = []
    made = items_of("spot", 3)
    job = read_job(str(SOUND[-1]))
    typed = iter([made[0].key, "what?", "", "q"])
    points = take("A quiz", made, job.catalogue, said.append, lambda _: next(typed))
    assert points == 1
    assert "Question 3 of 3" in said
    assert any(line.startswith("Skipped.") for line in said)
    assert said[-1] == "Result: 1 of 2 answered (50%), 3 asked."
    rest = iter([])

    def ended(_: str) -> str:
        for line in rest:
            return line
        raise EOFError

    assert take("A quiz", made, job.catalogue, said.append, ended) == 0


def test_the_table_has_a_row_an_item_and_no_formula() -> None:
    from csv import reader
    from io import StringIO

    [item] = items_of("spot", 1)
    risky = item._replace(ask="=1+1")
    rows = list(reader(StringIO(table([risky._replace(lead=(), steps=())]))))
    assert len(rows) == 2
    assert rows[1][3] == "'=1+1"
    assert all(len(row) == len(rows[0]) for row in rows)
