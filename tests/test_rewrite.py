"""Safe edits: no number changes, the meaning stays, a second run changes nothing."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from torquewright.cli import main
from torquewright.reading.files import read_job
from torquewright.rewrite import Edit, ReadAgain, applied, meaning, rewrite

DRAFT = """\
+++
[[fastener]]
name = "cover screw"
count = 6
size = "M5x0.8"
tightening = "4 N·m ± 0.5"
+++

# Trellis pump: close the volute (invented)

1. Fit six new cover screws and start them by hand.
2. Tighten the cover screws in a star pattern to 4 Nm.
3. Do not tighten the cover screws again.
"""


def again(text: str, name: str = "draft.md") -> tuple[str, list[str]]:
    made = rewrite(read_job(name, text=text), read_again=ReadAgain(name))
    return made.after, [edit.why for edit in made.edits]


def figures(text: str) -> list[str]:
    return re.findall(r"\d+(?:[.,]\d+)*", text)


def test_a_draft_gets_its_units_and_its_count() -> None:
    after, why = again(DRAFT)
    assert "2. Tighten the six cover screws in a star pattern to 4 N·m (35 lbf·in)." in after
    assert "3. Do not tighten the cover screws again." in after
    assert len(why) == 3
    assert again(after) == (after, [])


def test_no_number_changes_and_none_goes() -> None:
    after, _ = again(DRAFT)
    left = figures(after)
    for figure in figures(DRAFT):
        left.remove(figure)
    assert left == ["35"]


@pytest.mark.parametrize(
    ("written", "rewritten"),
    [
        ("40 ft-lbs", "40 lbf·ft (54 N·m)"),
        ("85 in. lbs", "85 lbf·in (9.6 N·m)"),
        ("3 to 4 Nm", "3 to 4 N·m (27 to 35 lbf·in)"),
        ("24 N·m (18 lbf·ft)", "24 N·m (18 lbf·ft)"),
        ("9 kg-m", None),
        ("25 ft/lb", "25 ft/lb"),
    ],
)
def test_a_unit_is_spelled_properly_where_there_is_no_doubt(written: str, rewritten: str | None) -> None:
    text = DRAFT.replace("4 Nm", written)
    after, _ = again(text)
    line = next(line for line in after.splitlines() if line.startswith("2."))
    if rewritten is not None:
        assert line.endswith(f"to {rewritten}.")
    assert written.split()[0] in figures(line)


def test_toml_is_rewritten_in_its_strings() -> None:
    text = """\
title = "Close the guard"
[[fastener]]
name = "guard screw"
count = 2
tightening = "4 N·m ± 0.5"
[[step]]
say = "Tighten."
do = [ { tighten = "guard-screw", to = "35 in-lb" } ]
"""
    made = rewrite(read_job("job.toml", text=text), read_again=ReadAgain("job.toml"))
    assert 'to = "35 lbf·in (4.0 N·m)"' in made.after
    assert made.after.count("\n") == text.count("\n")


def test_an_edit_that_would_change_the_meaning_is_left_out() -> None:
    # A name that holds a figure and a unit: spelling the unit properly would name another part.
    text = DRAFT.replace("cover screws in a star", "cover screws, in a star")
    after, _ = again(text)
    before_job, after_job = read_job("draft.md", text=text), read_job("draft.md", text=after)
    assert before_job.procedure is not None
    assert after_job.procedure is not None
    assert meaning(before_job.procedure) == meaning(after_job.procedure)


def test_overlapping_edits_do_not_garble_the_text() -> None:
    assert applied("abcdef", [Edit(1, 3, "X", ""), Edit(2, 4, "Y", ""), Edit(4, 5, "", "")]) == "aXdf"


amounts = st.decimals(0.5, 90, places=1).map(str)
units = st.sampled_from(["N·m", "Nm", "N.m", "ft-lb", "lbf·ft", "in-lbs", "lb ft", "kgf·cm", "ft/lb", "lbs"])


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(amounts, units), min_size=1, max_size=4))
def test_meaning_stays_and_a_second_run_changes_nothing(demands: list[tuple[str, str]]) -> None:
    lines = [f"{at + 2}. Tighten the cover screws to {amount} {unit}." for at, (amount, unit) in enumerate(demands)]
    text = DRAFT[: DRAFT.index("2. ")] + "\n".join(lines) + "\n"
    after, _ = again(text)
    before_job, after_job = read_job("draft.md", text=text), read_job("draft.md", text=after)
    assert before_job.procedure is not None
    assert after_job.procedure is not None
    assert meaning(before_job.procedure) == meaning(after_job.procedure)
    assert again(after) == (after, [])
    kept = figures(after)
    for figure in figures(text):
        kept.remove(figure)


def test_the_verb_shows_or_applies(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "draft.md"
    file.write_bytes(("\ufeff" + DRAFT.replace("\n", "\r\n")).encode())
    assert main(["check", "--diff", str(file)]) == 0
    shown = capsys.readouterr().out
    assert "+2. Tighten the six cover screws in a star pattern to 4 N·m (35 lbf·in)." in shown
    assert main(["check", "--rewrite", str(file)]) == 0
    raw = file.read_bytes()
    assert raw.startswith(b"\xef\xbb\xbf+++\r\n")
    assert b"\r\r" not in raw
    assert raw.count(b"\n") == raw.count(b"\r\n") == DRAFT.count("\n")
    capsys.readouterr()
    assert main(["check", "--rewrite", str(file)]) == 0
    assert "nothing to rewrite" in capsys.readouterr().out
    assert [path.name for path in tmp_path.iterdir()] == ["draft.md"]


WARNED = """\
+++
[[fastener]]
name = "carrier bolt"
count = 3
size = "M10x1.5"
tightening = "38 N·m ± 3"
+++

# Theatre winch: take the brake carrier off (invented)

1. Switch the winch off at the isolator and lock it.
2. Loosen the three carrier bolts and withdraw the carrier.

   > **WARNING:** With the carrier off, nothing holds the drum. Pin the drum before the carrier bolts are loosened.

3. Put the carrier back and start the three carrier bolts by hand.
4. Tighten the three carrier bolts to 38 N·m (28 lbf·ft).
"""


def test_a_warning_is_moved_whole_and_ahead_of_its_step() -> None:
    after, why = again(WARNED)
    lines = after.splitlines()
    at = next(number for number, line in enumerate(lines) if "WARNING" in line)
    step = next(number for number, line in enumerate(lines) if line.startswith("2."))
    assert at < step
    assert after.count("WARNING") == 1
    assert sorted(why) == ["", "the warning goes ahead of its step"]
    assert again(after) == (after, [])
    before_job, after_job = read_job("draft.md", text=WARNED), read_job("draft.md", text=after)
    assert before_job.procedure is not None
    assert after_job.procedure is not None
    assert [step.label for step in after_job.procedure.steps] == ["1", "2", "3", "4"]
    assert meaning(before_job.procedure) == meaning(after_job.procedure)
