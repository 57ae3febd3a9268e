"""Drafts played through: sound ones give go, and the smallest faulty change is found in its step and nowhere else."""

from __future__ import annotations

from pathlib import Path

import pytest

from torquewright.verdict import check

SOUND = Path(__file__).parent / "drafts" / "sound"
NAMES = sorted(path.stem for path in SOUND.glob("*.md"))

FAULTS = [
    (
        "cargo-bike-cranks",
        "with five new chainring screws",
        "with the five old chainring screws",
        "6",
        "single-use-fastener-reused",
    ),
    ("cargo-bike-cranks", "crosswise to 11 N·m", "crosswise to 11 lbf·ft", "7", "torque-unit-mixed-up"),
    ("compressor-intake-valve", "5 N·m and 9 N·m", "9 N·m and 5 N·m", "10", "wrong-stage-order"),
    (
        "compressor-intake-valve",
        "Put a new cover gasket on",
        "Put the old cover gasket on",
        "9",
        "seal-ring-dry-or-reused",
    ),
    ("generator-fuel-filter", "two new copper washers", "one new copper washer", "10", "sealing-washer-count"),
    (
        "vacuum-pump-vanes",
        "to 10 N·m and then to 20 N·m (15 lbf·ft)",
        "to 20 N·m and then to 10 N·m",
        "11",
        "wrong-stage-order",
    ),
    ("vacuum-pump-vanes", "tighten it to 1.5 N·m with the driver", "tighten it to 15 N·m", "12", "soft-part-overload"),
    ("generator-manifold", "Run the eight new nuts on", "Run the eight old nuts on", "11",
     "single-use-fastener-reused"),
    ("generator-manifold", "go on with step 6, otherwise", "go on with step 16, otherwise", "4",
     "reference-to-nothing"),
    ("dairy-exhaust-valve", "The fibre washer under it comes off too; throw it away.", "", "7", "sealing-washer-count"),
    ("dairy-exhaust-valve", "screw it in by hand until it seats", "run it in with the spanner", "7",
     "hand-start-missing"),
    ("dairy-silencer", "with the new gasket between", "with two new gaskets between", "6", "seal-ring-dry-or-reused"),
    ("dairy-silencer", "and start the four nuts by hand", "and start three of the nuts by hand", "6",
     "fastener-count-mismatch"),
    ("dairy-belt-slide", "Spin four new nuts on", "Spin the old nuts on", "6", "single-use-fastener-reused"),
    ("bike-hub-disc", "Six new screws: start", "Five new screws: start", "8", "fastener-count-mismatch"),
    ("bike-hub-disc", "tighten both bolts to 9 N·m", "tighten both bolts", "12", "final-tighten-without-value"),
    ("generator-rocker-cover", "in the order 4-5-3-6-2-7-1-8", "in the order 4-5-3-6-2-7-1", "9",
     "tightening-order-missing"),
    ("generator-rocker-cover", "with the crow-foot at 90° to the wrench", "with the crow-foot", "10",
     "adapter-not-corrected"),
    ("generator-rocker-cover", "9 N·m with the torque driver", "9 N·m with the torque wrench", "9",
     "wrench-out-of-range"),
    ("compressor-flywheel", "bolt anticlockwise to 55 N·m", "bolt clockwise to 55 N·m", "11",
     "left-hand-thread-not-said"),
    ("compressor-safety-valve-line", "with one new copper washer on either side", "with one new copper washer under",
     "C.3", "sealing-washer-count"),
    ("workboat-propeller-nut", "Do NOT back the nut off.", "If that is too far, back the nut off to the last slot.",
     "9",
     "castle-nut-backed-off"),
    ("winch-bearing-cap", "9. Oil threads and head faces of", "9. Degrease threads and head faces of", "11",
     "lubricant-state-mismatch"),
    ("pump-motor-coupling", "Tighten them crosswise to 20 N·m",
     "Tighten them crosswise with the impact driver to 20 N·m",
     "9", "impact-tool-final-tighten"),
    ("winch-switch-bracket", "Terminal screws 0.8 N·m, no more.", "Terminal screws good and tight.", "9",
     "electrical-lug-by-feel"),
    ("generator-disc-coupling", "Start eight new disc bolts", "Start the eight old disc bolts", "10",
     "single-use-fastener-reused"),
    ("generator-disc-coupling", "30 N·m first and 64 N·m (47 lbf·ft) on the second round",
     "64 N·m (47 lbf·ft) first and 30 N·m on the second round", "11", "wrong-stage-order"),
    ("generator-disc-coupling", "to 80 N·m (59 lbf·ft), going", "to 80 N·m (69 lbf·ft), going", "12",
     "dual-unit-disagrees"),
    ("generator-disc-coupling", "Start eight new disc bolts by hand.", "Start seven new disc bolts by hand.", "10",
     "fastener-count-mismatch"),
    ("workboat-shaft-seals", "Fit a new split pin", "Refit the split pin", "13", "cotter-or-wire-reused"),
    ("workboat-shaft-seals", "tighten on to the next one, but never beyond 54 N·m", "back it off to the last one", "12",
     "castle-nut-backed-off"),
    ("workboat-shaft-seals", "Grease the lips of two new seals.", "Grease the lips of the two old seals.", "8",
     "seal-ring-dry-or-reused"),
    ("workboat-shaft-seals", "with a new washer: fingers first", "with its old washer: fingers first", "14",
     "sealing-washer-count"),
    ("winch-gear-oil", "fingers and tighten it to 40 N·m", "fingers and tighten it to 40 lbf·ft", "10",
     "torque-unit-mixed-up"),
    ("winch-gear-oil", "Level plug with a new bonded seal: in by hand, then 18 N·m.",
     "Level plug: in by hand with its old bonded seal, then 18 N·m.", "13", "sealing-washer-count"),
    ("winch-rope-clamp", "four new clamp bolts", "the four old clamp bolts", "6", "single-use-fastener-reused"),
    ("winch-rope-clamp", "to 80 N·m (59 lbf·ft) with", "to 80 N·m (49 lbf·ft) with", "7", "dual-unit-disagrees"),
    (
        "workboat-propeller",
        "Fit a new cotter pin and bend",
        "Refit the old cotter pin and bend",
        "11",
        "cotter-or-wire-reused",
    ),
]


def catalogue(name: str) -> str | None:
    path = SOUND / f"{name}.toml"
    return str(path) if path.exists() else None


@pytest.mark.parametrize("name", NAMES)
def test_a_sound_draft_is_go(name: str) -> None:
    report = check(SOUND / f"{name}.md", catalogue=catalogue(name))
    assert [f"{remark.step}: {remark.message} [{remark.rule}]" for remark in report.findings] == []
    assert report.verdict.word == "go"


@pytest.mark.parametrize(("name", "sound", "faulty", "step", "rule"), FAULTS)
def test_a_fault_in_the_words_is_found_in_its_step(name: str, sound: str, faulty: str, step: str, rule: str) -> None:
    text = (SOUND / f"{name}.md").read_text("utf-8")
    assert text.count(sound) == 1
    report = check(f"{name}.md", text=text.replace(sound, faulty), catalogue=catalogue(name))
    assert (step, rule) in {(remark.step, remark.rule) for remark in report.findings}
    assert {remark.step for remark in report.findings} == {step}


def test_what_no_step_says_is_not_certain_where_the_step_could_not_be_read() -> None:
    text = (SOUND / "winch-gear-oil.md").read_text("utf-8")
    said = "Level plug with a new bonded seal: in by hand, then 18 N·m."
    assert text.count(said) == 1
    silent = check("a.md", text=text.replace(f"13. {said}", "13. Have a rest."))
    unread = check("b.md", text=text.replace(said, "The level plug, frobbed home the usual way at 18 N·m thereof."))
    held = [[remark for remark in one.findings if remark.rule == "opened-joint-left-loose"] for one in (silent, unread)]
    assert [[remark.certainty for remark in remarks] for remarks in held] == [["certain"], ["unstated"]]
    assert "line 37" in held[1][0].because
    assert unread.verdict.word == "ask first"
