"""The rules on writing: traps, limits, whole drafts with answers, faults planted in words."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

import pytest
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from torquewright.bench import play
from torquewright.book.texts import all_rules
from torquewright.reading.files import read_job
from torquewright.reading.job import Job
from torquewright.rules import WORD_PLANTERS, detect
from torquewright.rules.finding import Finding
from torquewright.suite.cases import cases_of
from torquewright.verdict import check_job

HERE = Path(__file__).parent
RECORDS = ("fastener", "seal", "tool", "fluid", "part", "kit")
WRITING = frozenset(WORD_PLANTERS)


def findings(job: Job) -> list[Finding]:
    assert job.procedure is not None
    return detect(play(job.procedure, job.catalogue, job.draft))


def told(text: str, rule: str = "") -> list[tuple[str, str]]:
    """(label of the step, rule) of every finding, or of one rule's, on a draft that begins with a title."""
    job = read_job("draft.md", text=text)
    assert job.procedure is not None
    steps = job.procedure.steps
    return [
        ("" if held.step is None else steps[held.step].label, held.rule)
        for held in findings(job)
        if not rule or held.rule == rule
    ]


def steps(*lines: str, ahead: str = "") -> str:
    numbered = "\n".join(f"{at}. {line}" for at, line in enumerate(lines, 1))
    return f"{ahead}# Feed pump\n\n{numbered}\n"


RECORD = """+++
[[fastener]]
id = "cover-screw"
name = "cover screw"
count = 4
size = "M6x1"
tightening = "8 to 10 N·m"

[[fastener]]
id = "drain-plug"
name = "drain plug"
count = 1
tightening = "12 to 16 N·m"
+++

"""

# ---- whole drafts ----------------------------------------------------------------------------------------------


def judged() -> list[Path]:
    return sorted((HERE / "drafts" / "judged").glob("*.answers.toml"))


@lru_cache(maxsize=1)
def records_of(answers: Path) -> str:
    held = tomllib.loads(answers.read_text(encoding="utf-8"))
    return tomli_w.dumps({name: held[name] for name in RECORDS if name in held})


def with_records(answers: Path, tmp_path: Path, text: str | None = None) -> Job:
    catalogue = tmp_path / "records.toml"
    catalogue.write_text(records_of(answers), encoding="utf-8")
    stem = answers.name.removesuffix(".answers.toml")
    draft = next(path for end in (".md", ".txt") if (path := answers.with_name(stem + end)).exists())
    return read_job(str(draft), catalogue=str(catalogue), text=text)


@pytest.mark.parametrize("answers", judged(), ids=lambda path: path.name.removesuffix(".answers.toml"))
def test_a_whole_draft_has_the_faults_of_its_answers_and_no_others(answers: Path, tmp_path: Path) -> None:
    held = tomllib.loads(answers.read_text(encoding="utf-8"))
    job = with_records(answers, tmp_path)
    report = check_job(job)
    found = [(remark.step, remark.rule) for remark in report.findings]
    for wanted in held.get("violation", []):
        rules = wanted["rule"].split()
        match = next((one for one in found if one[0] == wanted["step"] and one[1] in rules), None)
        assert match is not None, (wanted, found)
        found.remove(match)
    assert not found
    assert report.verdict.word == ("go" if held["verdict"] == "clean" else held["verdict"])


# ---- planted in words ------------------------------------------------------------------------------------------


def sound_drafts() -> Iterator[tuple[str, str, str]]:
    """(name, text, records) of drafts without a finding."""
    for answers in judged():
        held = tomllib.loads(answers.read_text(encoding="utf-8"))
        if held["verdict"] == "clean":
            draft = answers.with_name(answers.name.removesuffix(".answers.toml") + ".md")
            if not draft.exists():
                continue  # plain text
            yield draft.stem, draft.read_text(encoding="utf-8"), records_of(answers)
    for case in cases_of(all_rules(cases=True)):
        if case.form == "markdown" and not case.findings and case.rule in WRITING:
            yield case.id, case.text, ""


@pytest.mark.parametrize("rule", sorted(WORD_PLANTERS))
def test_a_fault_planted_in_words_is_found_there_and_alone(rule: str, tmp_path: Path) -> None:
    planted = 0
    records = tmp_path / "records.toml"
    for name, text, held in sound_drafts():
        records.write_text(held, encoding="utf-8")
        catalogue = str(records) if held else None
        job = read_job("draft.md", text=text, catalogue=catalogue)
        assert job.draft is not None
        assert job.procedure is not None
        assert findings(job) == [], name
        for fault in WORD_PLANTERS[rule](job.draft, job.procedure, job.catalogue):
            planted += 1
            spoiled = read_job("draft.md", text=fault.text, catalogue=catalogue)
            assert spoiled.procedure is not None
            labels = [step.label for step in spoiled.procedure.steps]
            found = findings(spoiled)
            own = [("" if one.step is None else labels[one.step], one.joint) for one in found if one.rule == rule]
            assert own == [(fault.step, fault.joint)], (name, fault.changed, found)
            assert not {one.rule for one in found} - {rule} - fault.companions, (name, fault.changed, found)
    assert planted >= 3


# ---- only drafts -----------------------------------------------------------------------------------------------


def test_the_rules_on_writing_say_nothing_of_records() -> None:
    text = """
title = "Close the feed pump"
[[fastener]]
id = "cover-screw"
name = "cover screw"
count = 4
tightening = "8 to 10 N·m"
[[step]]
say = "Tighten the cover screws to 47 lbs, see table 9, with a puller."
do = [{ tighten = "cover-screw", to = "47 lbs" }]
"""
    rules = {one.rule for one in findings(read_job("job.toml", text=text))}
    assert rules == {"final-tighten-without-value"}


# ---- units and vague words -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "words", ["9", "80 lbs", "80 pounds", "9 N", "80 lb", "9 kg", "80 ft.", "9 kg/m", "7 ft/lb", "7 lb/ft", "7 ft/lbs"]
)
def test_a_figure_that_is_no_torque_is_told_once(words: str) -> None:
    text = steps("Start the four cover screws by hand.", f"Tighten the cover screws to {words}.", ahead=RECORD)
    assert ("2", "unit-not-a-torque") in told(text) or told(text) == [("2", "torque-unit-mixed-up")]
    assert len(told(text)) == 1


@pytest.mark.parametrize("words", ["9 N·m", "9 Nm", "80 lbf·in", "80 in-lb", "80 in. lbs", "9 N.m", "6.6 ft-lb"])
def test_a_torque_however_spelled_is_none(words: str) -> None:
    text = steps("Start the four cover screws by hand.", f"Tighten the cover screws to {words}.", ahead=RECORD)
    assert told(text) == []


def test_a_unit_stated_for_all_figures_counts() -> None:
    bare = steps("Start the four cover screws by hand.", "Tighten the cover screws to 4, then to 9.", ahead=RECORD)
    assert told(bare) == [("2", "unit-not-a-torque")]
    assert told(bare.replace("pump\n", "pump\n\nAll torques are in N·m.\n")) == []


def test_a_figure_taken_over_from_another_step_is_told_where_it_stands() -> None:
    text = steps(
        "Start the drain plug by hand and tighten it to 14.",
        "Run the pump for an hour and stop it.",
        "Tighten the drain plug again with the same setting.",
        ahead=RECORD,
    )
    assert told(text) == [("1", "unit-not-a-torque")]


@pytest.mark.parametrize("words", ["securely", "firmly", "well", "good and tight", "hard", "properly"])
def test_vague_words_stand_for_no_figure(words: str) -> None:
    text = steps("Start the four cover screws by hand.", f"Tighten the cover screws {words}.", ahead=RECORD)
    assert told(text) == [("2", "vague-tightening")]


def test_no_word_at_all_is_the_concern_of_the_other_rule() -> None:
    text = steps("Start the four cover screws by hand.", "Tighten the cover screws.", ahead=RECORD)
    assert told(text) == [("2", "final-tighten-without-value")]


def test_the_place_is_the_words_themselves() -> None:
    text = steps("Start the four cover screws by hand.", "Tighten the cover screws to 80 lbs.", ahead=RECORD)
    remark = check_job(read_job("draft.md", text=text)).findings[0]
    assert remark.place is not None
    line = text.splitlines()[remark.place.line - 1]
    assert line[remark.place.column - 1 : remark.place.end_column - 1] == "80 lbs"


# ---- warnings --------------------------------------------------------------------------------------------------

OPENED = "Loosen the four cover screws and take them out."
CLOSED = "Start the cover screws by hand and tighten them to 9 N·m."


@pytest.mark.parametrize(
    "message",
    [
        "> **WARNING:** Vent the tank before the cover screws are loosened.",
        "> **CAUTION:** Before loosening the cover screws, vent the tank.",
        "> Vent the tank before the cover screws are loosened.",
        "**Warning:** Do not work alone. Vent the tank before you loosen the cover screws.",
        "> **DANGER:** Lock off the supply before work is started.",
    ],
)
@pytest.mark.parametrize("indent", ["", "   "])
def test_an_act_due_before_a_step_below_it(message: str, indent: str) -> None:
    text = f"{RECORD}# Feed pump\n\n1. {OPENED}\n\n{indent}{message}\n\n2. {CLOSED}\n"
    assert told(text) == [("1", "warning-after-the-step")]
    ahead = f"{RECORD}# Feed pump\n\n{message}\n\n1. {OPENED}\n2. {CLOSED}\n"
    assert told(ahead) == []


@pytest.mark.parametrize(
    "message",
    [
        "> **NOTE:** The left screw is longer than the right one.",
        "> **CAUTION:** Too much torque strips the thread.",
        "> **NOTE:** Lay the cover screws out in order.",
        "> **WARNING:** Wear goggles when the spring is taken out.",
        "> **NOTICE:** Keep the gasket dry until the cover is on.",
    ],
)
def test_what_may_stand_below_a_step(message: str) -> None:
    text = f"{RECORD}# Feed pump\n\n1. {OPENED}\n\n   {message}\n\n2. Take the spring out.\n3. {CLOSED}\n"
    assert told(text) == []


def test_a_message_of_the_part_that_the_next_step_handles_too() -> None:
    warning = "   > **WARNING:** The cover is hot and burns the skin."
    text = f"{RECORD}# Feed pump\n\n1. Lift the cover off.\n\n{warning}\n\n2. "
    assert told(text + "Wipe the cover.\n") == []
    assert told(text + "Wipe the bench.\n") == [("1", "warning-after-the-step")]


def test_an_act_that_the_step_itself_has() -> None:
    warning = "   > **WARNING:** Pin the drum before the cover screws are loosened."
    ahead = f"{RECORD}# Feed pump\n\n1. "
    assert told(f"{ahead}Pin the drum and loosen the cover screws.\n\n{warning}\n\n2. {CLOSED}\n") == []


@pytest.mark.parametrize(
    ("step", "wanted"),
    [
        ("Take the cover off. CAUTION: the spring flies out.", True),
        ("Take the cover off. CAUTION: the spring flies out. Take the spring out.", False),
        ("CAUTION: the spring flies out. Take the cover off.", False),
        ("Take the cover off. NOTE: the spring is blue.", False),
        ("Take the cover off. CAUTION: the paint is new.", False),
    ],
)
def test_a_message_inside_a_step(step: str, wanted: bool) -> None:
    assert told(steps(step)) == ([("1", "warning-after-the-step")] if wanted else [])


def test_another_joint_opened_ahead_is_not_the_one_meant() -> None:
    text = (
        f"{RECORD}# Feed pump\n\n1. Remove the drain plug.\n\n"
        "   > **WARNING:** Vent the tank before the cover screws are loosened.\n\n"
        f"2. {OPENED}\n3. {CLOSED}\n4. Start the drain plug by hand and tighten it to 14 N·m.\n"
    )
    assert told(text) == []


@pytest.mark.parametrize(
    ("message", "wanted"),
    [
        ("**NOTE:** The spring can injure your eyes.", True),
        ("**IMPORTANT:** Hot oil can scald.", True),
        ("**CAUTION:** The voltage kills.", True),
        ("**WARNING:** A scraper scratches the face.", True),
        ("**NOTE:** Start every screw by hand.", False),
        ("**NOTE:** There is no risk of injury here.", False),
        ("**CAUTION:** Hot oil can scald.", False),
        ("**CAUTION:** A scraper scratches the face.", False),
        ("**NOTICE:** A scraper scratches the face.", False),
        ("**WARNING:** The tank is under pressure and a cracked cap flies off.", False),
        ("**DANGER:** High voltage.", False),
    ],
)
def test_signal_words(message: str, wanted: bool) -> None:
    text = f"# Feed pump\n\n> {message}\n\n1. Clean the cover.\n"
    assert told(text) == ([("1", "signal-word-does-not-fit")] if wanted else [])


# ---- names -----------------------------------------------------------------------------------------------------


def test_clamps_and_knobs_need_no_record() -> None:
    for name in ("hose clamp", "wing nut", "strap screw", "cable clip"):
        text = steps(f"Fit the {name} and tighten it to 2 N·m.", ahead=RECORD)
        assert told(text, "part-not-in-record") == [], name


@pytest.mark.parametrize(
    ("step", "wanted"),
    [
        ("Start the flange nut by hand and tighten it to 9 N·m.", True),
        ("Start the flange nut by hand and tighten it.", False),
        ("If the plate rattles, tighten the flange nut to 9 N·m.", False),
        ("The flange nut was tightened to 9 N·m at the works.", False),
    ],
)
def test_only_a_pull_to_a_figure_needs_a_record(step: str, wanted: bool) -> None:
    assert (("1", "part-not-in-record") in told(steps(step, ahead=RECORD))) == wanted


def test_the_unknown_name_is_the_place() -> None:
    text = steps("Tighten the six flange nuts to 9 N·m.", ahead=RECORD)
    remarks = check_job(read_job("draft.md", text=text)).findings
    remark = next(one for one in remarks if one.rule == "part-not-in-record")
    assert remark.place is not None
    line = text.splitlines()[remark.place.line - 1]
    assert line[remark.place.column - 1 : remark.place.end_column - 1] == "six flange nuts"


def test_a_part_that_nobody_recorded_is_no_fault_without_records() -> None:
    assert told(steps("Start the four cover screws by hand.", "Tighten the cover screws to 9 N·m.")) == []


def test_two_parts_with_two_names_are_two_parts() -> None:
    text = steps(
        "Start the drain plug by hand and tighten it to 14 N·m.",
        "Start the four cover screws by hand and tighten them to 9 N·m.",
        "Start the vent screw by hand and tighten it to 3 N·m.",
        ahead=RECORD,
    )
    assert told(text, "name-drift") == []


def test_putting_back_what_was_taken_off_is_plain() -> None:
    text = steps(OPENED, "Remove the cover.", "Replace the cover and the cover screws.", CLOSED, ahead=RECORD)
    assert told(text, "replace-ambiguous") == []


# ---- tables and references -------------------------------------------------------------------------------------


def table(torque: str = "8 to 10 N·m", count: str = "4", size: str = "M6 × 20") -> str:
    return (
        f"{RECORD}# Feed pump\n\n| Fastener | Size | Count | Torque |\n| --- | --- | --- | --- |\n"
        f"| Cover screw | {size} | {count} | {torque} |\n\n1. Start the four cover screws by hand.\n"
        "2. Tighten the cover screws to 9 N·m.\n"
    )


@pytest.mark.parametrize(
    "text",
    [
        table(),
        table(torque="9 N·m"),
        table(torque="71–89 lbf·in"),
        table(torque="8–10 N·m (71–89 lbf·in)"),
        table(size="M6"),
        table(size="M6 × 1 × 16"),
        table(count="4 off"),
    ],
)
def test_a_table_that_says_what_the_record_says(text: str) -> None:
    assert told(text) == []


@pytest.mark.parametrize(
    ("text", "what"),
    [
        (table(torque="9 to 11 N·m"), "torque"),
        (table(torque="12 N·m"), "torque"),
        (table(count="6"), "number"),
        (table(size="M8"), "size"),
    ],
)
def test_a_table_that_says_something_else(text: str, what: str) -> None:
    found = findings(read_job("draft.md", text=text))
    assert [(one.rule, one.facts["what"]) for one in found] == [("prose-against-table", what)]


@pytest.mark.parametrize(("state", "wanted"), [("keep", True), ("new", False), ("", False)])
def test_a_seal_that_the_table_keeps_and_the_record_uses_once(state: str, wanted: bool) -> None:
    record = '+++\n[[seal]]\nid = "lid-gasket"\nname = "lid gasket"\none-time-use = true\n+++\n\n'
    rows = f"| Part | Count | State |\n| --- | --- | --- |\n| Lid gasket | 1 | {state} |\n\n"
    text = f"{record}# Feed pump\n\n{rows}1. Remove the lid gasket.\n2. Fit a new lid gasket.\n"
    assert told(text) == ([("", "prose-against-table")] if wanted else [])


@pytest.mark.parametrize(
    "words",
    [
        "as in step 1",
        "see steps 1 and 2",
        "see table 4 of the handbook",
        "as the maker's drawing shows in figure 7",
        "until the mark of step 2 shows",
    ],
)
def test_references_that_lead_somewhere(words: str) -> None:
    text = steps("Start the four cover screws by hand.", f"Tighten the cover screws to 9 N·m, {words}.", ahead=RECORD)
    assert told(text) == []


@pytest.mark.parametrize("words", ["as in step 11", "see steps 2 and 8", "see table 1", "see figure 7", "see Fig. 2"])
def test_references_that_lead_nowhere(words: str) -> None:
    text = steps("Start the four cover screws by hand.", f"Tighten the cover screws to 9 N·m, {words}.", ahead=RECORD)
    assert told(text) == [("2", "reference-to-nothing")]


def test_labels_of_sections_and_substeps_are_steps() -> None:
    text = (
        f"{RECORD}# Feed pump\n\n1. Open it:\n   1. {OPENED}\n   2. Clean the face.\n2. {CLOSED}\n"
        "3. Clean the other side as in step 1.2.\n"
    )
    assert told(text, "reference-to-nothing") == []


# ---- tools and steps -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("tool", ["feeler gauge", "10 mm socket", "T25 bit", "plastic scraper", "torque wrench"])
def test_common_tools_and_listed_ones(tool: str) -> None:
    text = (
        f"{RECORD}# Feed pump\n\nTools: 8 mm spanner, torque wrench 5 to 25 N·m.\n\n"
        f"1. Start the four cover screws by hand.\n2. Tighten the cover screws to 9 N·m with the {tool}.\n"
    )
    assert told(text, "tool-not-listed") == []


@pytest.mark.parametrize(
    "sentence",
    [
        "Start the pump and check for leaks.",
        "Start the pump, then tighten the drain plug to 14 N·m.",
        "Start the drain plug by hand and tighten it to 14 N·m.",
        "Tighten the drain plug to 14 N·m and start the pump.",
    ],
)
def test_sentences_whose_order_is_plain(sentence: str) -> None:
    text = steps("Start the drain plug by hand and tighten it to 14 N·m.", sentence, ahead=RECORD)
    assert told(text, "several-actions-one-step") == []


# ---- any text --------------------------------------------------------------------------------------------------

PIECES = st.sampled_from(
    [
        "Tighten", "the cover screws", "to 9", "lbs", "N·m", "securely", "before", "WARNING:", "> **NOTE:**", "it",
        "Replace", "the cover", "and its screws", "step 9", "table", "kills", "with the puller", ".", "\n", "1. ",
        "   > ", "| Bolt | 4 |", "| --- | --- |", "the drain plug", "M8", "is loosened", "Start the pump", "and", "🔧",
    ]
)  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(st.lists(PIECES, max_size=40), st.booleans())
def test_no_rule_raises_on_any_text_and_each_says_the_same_twice(pieces: list[str], recorded: bool) -> None:
    text = (RECORD if recorded else "") + "# Pump\n\n1. " + " ".join(pieces) + "\n"
    first, second = (check_job(read_job("draft.md", text=text)) for _ in range(2))
    assert first.verdict == second.verdict
    for remark in first.findings:
        assert not re.search(r"\{\w+\}", remark.message + remark.because + remark.instead)
