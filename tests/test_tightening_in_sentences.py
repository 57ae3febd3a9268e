"""Tightenings inside sentences: where each begins and ends, and the numbers beside them that are something else."""

from __future__ import annotations

import pytest

from notation_rows import short
from torquewright.notation.tightening import find_tightenings


def found(sentence: str, **options: bool) -> list[tuple[str, str]]:
    return [(sentence[one.start : one.end], short(one.tightening)) for one in find_tightenings(sentence, **options)]


@pytest.mark.parametrize(
    ("sentence", "spans"),
    [
        ("Tighten the screws to 46 lb-ft.", ["46 lb-ft"]),
        ("Tighten to 60 lb in. and wire them.", ["60 lb in."]),
        ("Torque to 15 N.m. Fit the cap.", ["15 N.m"]),
        ("Set the torque wrench (10 to 60 N·m) to 40 N·m.", ["10 to 60 N·m", "40 N·m"]),
        ("Tighten the long ones to 22 N·m and the short ones to 10 N·m.", ["22 N·m", "10 N·m"]),
        ("To 35 N·m (26 lbf·ft), and finally to 70 N·m (52 lbf·ft).",
         ["35 N·m (26 lbf·ft), and finally to 70 N·m (52 lbf·ft)"]),
        ("Tighten crosswise to 50 N·m, then crosswise again to 105 N·m.", ["50 N·m, then crosswise again to 105 N·m"]),
        ("Nuts to 6 N·m (Caution: plastic body, do not exceed 7 N·m).", ["6 N·m", "do not exceed 7 N·m"]),
        ("Bring the nuts up to 50 N·m.", ["50 N·m"]),
        ("Tighten up to 50 N·m.", ["up to 50 N·m"]),
        ("It must need at least 14 in-lb to turn.", ["at least 14 in-lb"]),
        ("Tighten to 2 N·m, never more: the ring is plastic.", ["2 N·m, never more"]),
        ("Tighten to 25 N·m, then turn a further 90°, and lock it.", ["25 N·m, then turn a further 90°"]),
        ("The pinch bolts take 17 and 23 N·m respectively.", ["17 and 23 N·m"]),
        ("The nuts are tightened in three passes: 20, 40 and 60 N·m.", ["in three passes: 20, 40 and 60 N·m"]),
        ("Bring them to 30 %, 60 % and 100 % of 110 N·m.", ["30 %, 60 % and 100 % of 110 N·m"]),
        ("Nuts: 33 lb-ft. Union: 120 lb-in. Plate screws: snug.", ["33 lb-ft", "120 lb-in", "snug"]),
        ("Loosen one full turn, then tighten again to 18 N·m.", ["Loosen one full turn", "18 N·m"]),
        ("Torque 30 lb in three passes.", []),
        ("Torque in lb-ft: none given.", []),
    ],
)  # fmt: skip
def test_spans(sentence: str, spans: list[str]) -> None:
    assert [span for span, _ in found(sentence)] == spans


@pytest.mark.parametrize(
    ("sentence", "reading"),
    [
        ("Tighten bolts 1 through 6 to 38 N·m.", "single: 38 N·m"),
        ("Tighten bolts 7 and 8 to 20 N·m.", "single: 20 N·m"),
        ("Tighten bolt 3 to 9 N·m.", "single: 9 N·m"),
        ("Tighten screw no. 4 to 6 N·m.", "single: 6 N·m"),
        ("Torque the bolts left loose in step 6 to 88 N·m.", "single: 88 N·m"),
        ("Tighten nut (17) to 48 N·m.", "single: 48 N·m"),
        ("Tighten the cover screws 8 to 10 N·m.", "range: [8..10] N·m"),
        ("Tighten the drain plug 20 to 26 N·m.", "range: [20..26] N·m"),
        ("Fit 4 M8 × 25 8.8 screws, 22 N·m.", "single: 22 N·m"),
        ("Fit the 3/8-16 capscrews, 42 N·m.", "single: 42 N·m"),
        ("Tighten the 10-32 screws to 25 in-lb.", "single: 25 lbf·in"),
        ("Fit grade 8 120 N·m bolts.", "single: 120 N·m"),
        ("Give the four M5s 5 N·m each.", "single: 5 N·m"),
        ("Item 7: 2 × M12 stud nut, 78 N·m, oiled.", "single: 78 N·m"),
        ("In stage 2 200 N·m is reached.", "single: 200 N·m"),
    ],
)
def test_a_number_that_names_a_thing_is_no_torque(sentence: str, reading: str) -> None:
    assert [read for _, read in found(sentence, angles=False)] == [reading]


@pytest.mark.parametrize(
    "sentence",
    [
        "Bend one tab up against a flat and one down over the edge.",
        "Hold the crowfoot at right angles to the wrench.",
        "Measure the gap at four places 90° apart.",
        "Let it cool to 40 °C.",
        "Start all bolts by hand.",
        "Fit the hand wheel and the turn indicator.",
        "Check the torque converter, the torque rod and the torque limiter.",
        "Tighten to the values in Table 2.",
        "See step 30 and figure 12.",
    ],
)
def test_sentences_without_any(sentence: str) -> None:
    assert found(sentence) == []


def test_forces_and_bare_figures_only_when_asked_for() -> None:
    assert found("Tighten to 30 lbs.") == []
    assert found("Tighten to 30 lbs.", bare=True) == [("30 lbs", "single: 30 ?")]
    assert found("| Cap nut | 21-25 | new |") == []
    assert found("| Cap nut | 21-25 | new |", bare=True) == [("21-25", "unitless: [21..25] ?")]


def test_angles_and_hands_can_be_left_out() -> None:
    sentence = "Run it finger-tight, then turn it 90° further; the sister bolt takes 9 N·m."
    assert len(found(sentence)) == 2
    assert [span for span, _ in found(sentence, angles=False, hand=False)] == ["9 N·m"]


def test_offsets_are_those_of_the_whole_text() -> None:
    text = "One takes 7 N·m.\nTwo takes 9 N·m.\nThree takes 11 N·m."
    start, end = text.index("Two"), text.index("Three")
    assert [text[one.start : one.end] for one in find_tightenings(text, start, end)] == ["9 N·m"]


def test_every_space_and_dot_is_seen_through() -> None:
    for space in (" ", "\u00a0", "\u202f", "\u2009", ""):
        for dot in "·•⋅∙.-*×":
            sentence = f"Tighten to 25{space}N{dot}m now."
            assert [read for _, read in found(sentence)] == ["single: 25 N·m"], sentence
