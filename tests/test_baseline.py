"""Findings set aside: let stand with a reason, or known from a baseline."""

from __future__ import annotations

from pathlib import Path

import pytest

from torquewright.base.trouble import InputTrouble
from torquewright.baseline import against, read, written
from torquewright.verdict import check

JOB = """\
title = "Close the guard"                      # invented

[[fastener]]
name = "guard screw"
count = 2
tightening = "4 N·m ± 0.5"

[[tool]]
name = "torque wrench"
range = "10 to 60 N·m"

[[step]]
say = "Fit both guard screws."
do = [
  { fit = "guard-screw", state = "new" },
  { start = "guard-screw" },
  { tighten = "guard-screw", to = "4 N·m", with = "torque-wrench" },
]
"""


def test_an_accepted_finding_is_told_and_does_not_count() -> None:
    report = check("job.toml", text=JOB + 'accept = { wrench-out-of-range = "checked at 4 N·m every month" }\n')
    assert (report.verdict.word, report.findings) == ("go", ())
    [held] = report.verdict.set_aside
    assert (held.remark.rule, held.why, held.because) == (
        "wrench-out-of-range", "accepted", "checked at 4 N·m every month",
    )  # fmt: skip


def test_an_acceptance_without_a_reason_changes_nothing_but_adds_a_finding() -> None:
    report = check("job.toml", text=JOB + 'accept = { wrench-out-of-range = " " }\n')
    assert report.verdict.word == "no-go"
    assert {remark.rule for remark in report.findings} == {"wrench-out-of-range", "accepted-without-reason"}


def test_an_acceptance_covers_its_own_step_only() -> None:
    ahead = '[[step]]\nsay = "Read this first."\naccept = { wrench-out-of-range = "why" }\n'
    elsewhere = JOB.replace("[[step]]\n", ahead + "[[step]]\n", 1)
    rules = [remark.rule for remark in check("job.toml", text=elsewhere).findings]
    assert sorted(rules) == ["acceptance-stale", "wrench-out-of-range"]


def test_what_can_hurt_somebody_is_never_go_however_it_is_accepted() -> None:
    safety = JOB.replace("count = 2\n", "count = 2\nsafety = true\n")
    report = check("job.toml", text=safety + 'accept = { wrench-out-of-range = "checked at 4 N·m every month" }\n')
    assert report.verdict.word == "ask first"
    assert "1 × injury let stand by the writer" in report.verdict.reasons


def test_only_new_findings_count_against_a_baseline(tmp_path: Path) -> None:
    old = check("job.toml", text=JOB)
    assert old.verdict.word == "no-go"
    file = tmp_path / "known.json"
    file.write_text(written([old]), encoding="utf-8")

    moved = check("job.toml", text="# a line above\n\n" + JOB)
    known, gone = against(moved, read(str(file)))
    assert (known.verdict.word, known.findings, gone) == ("go", (), 0)
    assert [held.why for held in known.verdict.set_aside] == ["known"]

    fresh, _ = against(check("job.toml", text=JOB.replace('"4 N·m", with', '"40 N·m", with')), read(str(file)))
    assert fresh.verdict.word == "no-go"


def test_a_finding_that_stands_twice_is_known_as_often_as_it_was_written(tmp_path: Path) -> None:
    file = tmp_path / "known.json"
    file.write_text(written([check("job.toml", text=JOB)]), encoding="utf-8")
    again = '  { tighten = "guard-screw", to = "4 N·m", with = "torque-wrench" },\n'
    twice, gone = against(check("job.toml", text=JOB.replace(again, again + again)), read(str(file)))
    assert (len(twice.verdict.set_aside), len(twice.findings), gone) == (1, 1, 0)


def test_what_is_mended_is_counted_as_gone(tmp_path: Path) -> None:
    file = tmp_path / "known.json"
    file.write_text(written([check("job.toml", text=JOB)]), encoding="utf-8")
    mended, gone = against(check("job.toml", text=JOB.replace("10 to 60", "2 to 20")), read(str(file)))
    assert (mended.verdict.word, gone) == ("go", 1)


@pytest.mark.parametrize("text", ["", "[]", "{", '{"format": "other", "version": 1, "files": {}}', "[" * 100_000])
def test_what_is_no_baseline_is_refused_in_one_line(tmp_path: Path, text: str) -> None:
    file = tmp_path / "known.json"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(InputTrouble, match="this is no baseline"):
        read(str(file))


DRAFT = """\
+++
[[fastener]]
name = "guard screw"
count = 2
tightening = "4 N·m ± 0.5"

[[tool]]
name = "torque wrench"
range = "10 to 60 N·m"
+++

# Close the guard (invented)

1. Fit two new guard screws and start them by hand.
2. Tighten both guard screws to 4 N·m with the torque wrench.
   <!-- accept wrench-out-of-range: the wrench is checked at 4 N·m
        every month -->
3. Check the guard.
"""


def test_a_comment_in_a_draft_lets_a_finding_of_its_step_stand() -> None:
    report = check("draft.md", text=DRAFT)
    assert (report.verdict.word, report.findings) == ("go", ())
    [held] = report.verdict.set_aside
    assert (held.remark.step, held.because) == ("2", "the wrench is checked at 4 N·m every month")


def test_a_comment_in_the_wrong_step_is_stale_and_shown_where_it_stands() -> None:
    moved = DRAFT.replace("1. Fit", "1. <!-- accept wrench-out-of-range: because -->Fit")
    [stale] = check("draft.md", text=moved).findings
    assert (stale.rule, stale.step) == ("acceptance-stale", "1")
    assert stale.place is not None
    assert moved.splitlines()[stale.place.line - 1][stale.place.column - 1 :].startswith("<!-- accept")
