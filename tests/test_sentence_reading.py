"""Sentences of work instructions: what they demand, of which joints, to which figure, and that nothing is hidden."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import pytest

from torquewright.base.units import from_si
from torquewright.sentences.sentence import Sentence, read_sentences
from torquewright.sentences.stops import stretches

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent / "tools"))
import score_reading  # noqa: E402

FILES = {
    "workshop": 157, "manners": 50, "second": 46, "third": 60, "fourth": 45, "fifth": 48, "sixth": 52, "seventh": 52,
    "bench_talk": 40, "idioms": 61, "eighth": 100, "ninth": 81, "tenth": 81, "eleventh": 120,
    "twelfth": 81, "thirteenth": 81,
}  # fmt: skip


def rows(name: str) -> list[dict[str, Any]]:
    return [json.loads(line) for line in (HERE / "sentences" / f"{name}.jsonl").read_text("utf-8").splitlines()]


@pytest.mark.parametrize("name", FILES)
def test_labelled_sentences_are_read_as_labelled(name: str) -> None:
    scores = [score_reading.score(row) for row in rows(name)]
    total = len(scores)
    assert total == FILES[name]
    for part, share in (("verbs", 0.93), ("joints", 0.95), ("torque", 0.97)):
        right = sum(part not in held.misses for held in scores)
        wrong = [row["id"] for row, held in zip(rows(name), scores, strict=True) if part in held.misses]
        assert right / total >= share, (part, wrong)


@pytest.mark.parametrize("row", rows("no_demand"), ids=lambda row: row["why"])
def test_a_figure_that_is_no_demand_is_none(row: dict[str, str]) -> None:
    demanded = [held.text for one in read_sentences(row["text"]) for held, wanted in one.tightenings if wanted]
    assert demanded == []


def deeds(text: str, before: str = "") -> list[str]:
    return [f"{deed.verb}/{deed.mode}" for one in read_sentences(text, before) for deed in one.told]


def figures(text: str) -> list[tuple[str, bool]]:
    return [(held.text, wanted) for one in read_sentences(text) for held, wanted in one.tightenings]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("Tighten the nut.", ["tighten/do"]),
        ("Do not tighten the nut.", ["tighten/do_not"]),
        ("If it is loose, tighten the nut.", ["tighten/if"]),
        ("The nut was tightened at the works.", ["tighten/mentioned_only"]),
        ("The nut shall be tightened.", ["tighten/stated_passively"]),
    ],
)
def test_five_modes_are_kept_apart(text: str, wanted: list[str]) -> None:
    assert deeds(text) == wanted


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("Bolt the bracket to the frame.", ["install/do"]),
        ("Remove the bolt and nut.", ["remove/do", "remove/do"]),
        ("Drain the oil.", ["drain/do"]),
        ("Remove the drain screw.", ["remove/do"]),
        ("Seal the thread with sealant.", ["seal/do"]),
        ("Fit a new seal.", ["install/do"]),
        ("Start the engine.", ["start/do"]),
        ("Start the bolts by hand.", ["hand_start/do"]),
        ("Lock the nut with lockwire.", ["lock/do"]),
        ("Remove the lock ring.", ["remove/do"]),
    ],
)
def test_words_that_are_names_and_verbs(text: str, wanted: list[str]) -> None:
    assert deeds(text) == wanted


def test_time_order_is_told_where_the_words_stand_otherwise() -> None:
    from torquewright.reading.ordering import in_time

    def order(text: str) -> list[str]:
        return [deed.verb for deed in in_time(read_sentences(text)[0].deeds)]

    assert order("Before tightening the nut to 9 N·m, oil its thread.") == ["lubricate", "tighten"]
    assert order("Tighten the ring only after the plug has been hand-started.") == ["hand_start", "tighten"]
    assert order("Refit the cover; its screws take 4 N·m, started by hand.") == ["hand_start", "install", "tighten"]
    assert order("Tighten the plug to 9 N·m with a new washer; new gasket.")[0] == "install"


def test_replace_is_not_settled_without_a_reason() -> None:
    cover, filters = read_sentences("Replace the cover and its screws."), read_sentences("Replace the filter element.")
    assert cover[0].status == "in part"
    assert filters[0].status == "read"
    assert [deed.verb for deed in filters[0].told] == ["replace"]


def test_full_stops_in_units_end_no_sentence() -> None:
    text = "Torque to 60 in. lbs. Then fit the pin. Use 15 N.m here, e.g. on M6. See fig. 4 for more."
    cut = [text[start:end] for start, end in stretches(text)]
    assert cut == [
        "Torque to 60 in. lbs.",
        "Then fit the pin.",
        "Use 15 N.m here, e.g. on M6.",
        "See fig. 4 for more.",
    ]


def test_the_scale_of_a_wrench_is_no_demand() -> None:
    assert figures("With the 10 to 60 N·m wrench set at 40 N·m, tighten the nut.") == [("40 N·m", True)]
    assert figures("Set the torque wrench (10 to 60 N·m) to 40 N·m and tighten the nut.") == [("40 N·m", True)]


def test_figures_go_to_the_things_they_stand_with() -> None:
    (sentence,) = read_sentences("Tighten to 35 N·m all M8 and to 60 N·m all M10 fasteners.")
    held = {deed.thing.text: deed.torques[0].text for deed in sentence.deeds if deed.thing is not None}
    assert held == {"m8": "35 n·m", "m10 fasteners": "60 n·m"}


def test_an_unknown_verb_is_left_over_not_guessed() -> None:
    (sentence,) = read_sentences("Fribble the casting.")
    assert sentence.status == "unread"
    assert sentence.leftover


def test_a_demand_nobody_knows_is_not_called_read() -> None:
    (sentence,) = read_sentences("The flange shall be scarfed.")
    assert sentence.status != "read"


def test_reading_knows_nothing_of_earlier_calls() -> None:
    first = deeds("Tighten it to 9 N·m.", "Fit the drain plug.")
    read_sentences("Remove the six cover bolts.")
    assert deeds("Tighten it to 9 N·m.", "Fit the drain plug.") == first


def covered(sentence: Sentence) -> set[int]:
    places = {at for word in sentence.words if word.used for at in range(word.start, word.end)}
    return places | {at for start, end in sentence.leftover for at in range(start, end)}


@pytest.mark.parametrize("name", FILES)
def test_every_word_is_read_or_left_over(name: str) -> None:
    for row in rows(name):
        for sentence in read_sentences(row["text"]):
            held = covered(sentence)
            for word in sentence.words:
                if any(sign.isalnum() for sign in word.text):
                    assert set(range(word.start, word.end)) <= held, (row["text"], word.text)


@pytest.mark.parametrize(
    ("text", "wanted", "figure"),
    [
        ("Torque, using the small wrench, the screws to 3 N·m.", ["tighten/do"], ["3 N·m"]),
        ("Tighten, with the adapter at 90°, the union nut to 30 N·m.", ["tighten/do"], ["30 N·m"]),
        ("Tighten the bolts, once the sealant has skinned, to 24 N·m.", ["tighten/do"], ["24 N·m"]),
        ("Tighten the bolts – in pairs, opposite each other – to 24 N·m.", ["tighten/do"], ["24 N·m"]),
        ("Fit, but do not tighten, the four nuts.", ["install/do", "tighten/do_not"], []),
        ("Loosen – but do not remove – the two clamp screws.", ["loosen/do", "remove/do_not"], []),
    ],
)
def test_a_clause_that_is_broken_into_goes_on(text: str, wanted: list[str], figure: list[str]) -> None:
    assert deeds(text) == wanted
    assert [held for held, demanded in figures(text) if demanded] == figure
    (sentence,) = read_sentences(text)
    assert sentence.status == "read"
    assert sentence.deeds[0].thing is not None


@pytest.mark.parametrize(
    ("text", "wanted", "figure"),
    [
        ("Give the gland nut half a turn, no more.", ["tighten_angle/do"], ["half a turn"]),
        ("Turn the screw three quarters of a turn.", ["tighten_angle/do"], ["three quarters of a turn"]),
        ("Turn each nut one and a half turns.", ["tighten_angle/do"], ["one and a half turns"]),
        ("Wind it in finger tight and add a sixth of a turn.", ["seat/do", "tighten_angle/do"], ["a sixth of a turn"]),
        (
            "The four foot bolts go to 60 N·m, the two bracket bolts to 25.",
            ["tighten/stated_passively", "tighten/stated_passively"],
            ["60 N·m", "25 N·m"],
        ),
        (
            "The torque is 45 N·m for the M10 bolts and 22 N·m for the M8 ones.",
            ["tighten/stated_passively", "tighten/stated_passively"],
            ["45 N·m", "22 N·m"],
        ),
        ("Set the wrench to 33 N·m and click each of the eight nuts once.", ["tighten/do"], ["33 N·m"]),
        ("Torque as given on the plate beside the filler.", ["tighten/do"], []),
        ("With the key out, undo the nut.", ["loosen/do"], []),
        ("Bolts that have stretched must go.", ["discard/if"], []),
    ],
)
def test_figures_find_what_they_are_for(text: str, wanted: list[str], figure: list[str]) -> None:
    assert deeds(text) == wanted
    assert [held for held, demanded in figures(text) if demanded] == figure


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("Torque (dry): 24 N·m.", ["tighten/stated_passively"]),
        ("Part-tighten the bolts.", ["tighten/do"]),
        ("24 N·m for the four outer bolts, 18 N·m for the inner ones.", ["tighten/stated_passively"] * 2),
        ("The old ring is not to be left in the groove.", ["remove/stated_passively"]),
        ("None of the four may be left loose.", ["tighten/stated_passively"]),
        ("Tighten it no further.", ["tighten/do_not"]),
        ("A further 30° on each.", ["tighten_angle/stated_passively"]),
        ("Plug (32): 15 N·m, new ring (33).", ["tighten/do", "install/do"]),
        ("Bracket: two bolts M8, spring washers, 22 N·m.", ["tighten/do"]),
        ("The two short bolts go at the front and take 9 N·m.", ["tighten/stated_passively"]),
        ("The fitter then tightens the four bolts to 22 N·m.", ["tighten/stated_passively"]),
        ("He holds the shaft with the pin spanner and undoes the nut.", ["loosen/stated_passively"]),
        ("Only then may the second nut be tightened.", ["tighten/stated_passively"]),
        ("The others need only be nipped.", ["seat/stated_passively"]),
        ("Likewise the rear one.", ["repeat/do"]),
        ("The torque used to be 30 N·m.", ["check/mentioned_only"]),
        ("Go round again and tighten them to 11 N·m.", ["tighten/do"]),
        (
            "On pumps with a cast cover, tighten to 9 N·m; on those with a plastic one, to 4 N·m.",
            ["tighten/if", "tighten/if"],
        ),
        ("Each stud carries two nuts; lock the outer against the inner with 15 N·m.", ["tighten/do", "lock/do"]),
        ("Both the inlet and the outlet union get a new ring.", ["install/stated_passively"]),
        ("They are stuck with thread-locker.", ["check/mentioned_only"]),
        ("Oil must not get on the new gasket.", ["lubricate/do_not"]),
        ("Torque the banjo bolt to 30 N·m, the nipple held with the 19 mm spanner.", ["tighten/do"]),
        ("The tab washer on the left comes with it.", ["remove/do"]),
        ("Loosen the cap a little if air is trapped.", ["loosen/if"]),
        ("The bolts are used once only.", ["check/mentioned_only"]),
        ("Fit no gasket here.", ["install/do_not"]),
        ("Check that no washer is left behind.", ["check/do"]),
        ("Line up the slot by tightening, never by slackening.", ["position/do", "tighten/do", "loosen/do_not"]),
        ("Refit the three long bolts at the top and the short ones at the bottom.", ["install/do", "install/do"]),
        ("Stop the motor and top up to the upper mark.", ["stop/do", "fill/do"]),
        ("Let it cool and go over the bolts again.", ["wait/do", "retighten/do"]),
        ("Pull up good and tight.", ["tighten/do"]),
        ("Drop the oil into a tray.", ["drain/do"]),
        ("Do steps 4 to 8 again for the other cylinder.", ["repeat/do"]),
        ("Put it back the way it came out.", ["install/do"]),
        ("Leave the other two slack until the belt is on.", ["tighten/do_not"]),
        ("Hand-tight plus a quarter turn.", ["tighten/stated_passively"]),
        ("Pull them to 30 N·m, slacken them fully, then 20 N·m plus 90°.", ["tighten/do", "back_off/do", "tighten/do"]),
        ("Using a 36 mm open-end adapter, torque to 50 N·m.", ["tighten/do"]),
    ],
)
def test_words_of_the_bench(text: str, wanted: list[str]) -> None:
    assert deeds(text) == wanted


def test_what_is_needed_for_the_job_is_no_demand() -> None:
    text = "You will need a 27 mm socket and a torque wrench, 20 to 120 N·m."
    assert [held for held, demanded in figures(text) if demanded] == []


@pytest.mark.parametrize(
    "text",
    [
        "Tighten the nut to 30 N·m with the crowfoot at 90° to the wrench.",
        "Tighten the nut to 30 N·m with the crowfoot at a right angle to the wrench.",
        "Tighten, with the adapter at 90°, the nut to 30 N·m.",
    ],
)
def test_how_an_adapter_stands_is_no_turn(text: str) -> None:
    (found,) = [held for one in read_sentences(text) for held, demanded in one.tightenings if demanded]
    assert not found.angles


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("With the N·m wrench at 25, tighten the nuts.", ["25 N·m"]),
        ("Set the lb-ft wrench to 30 and pull each nut down.", ["30 lbf·ft"]),
        ("Using the inch-pound driver, tighten the screws to 22.", ["22 lbf·in"]),
        ("Tighten the cap nuts to 14 on the kgf·m scale.", ["14 kgf·m"]),
        ("Nuts to 20, bolts to 35 N·m.", ["20 N·m", "35 N·m"]),
        ("At 20 °C the nut needs 60 N·m.", ["60 N·m"]),
        ("Do not exceed 80 °C when you dry the winding.", []),
        ("Breakaway must be at least 3 N·m.", []),
    ],
)
def test_a_bare_figure_takes_the_unit_that_is_said_beside_it(text: str, wanted: list[str]) -> None:
    held = [one.torque for sentence in read_sentences(text) for one, demanded in sentence.tightenings if demanded]
    assert [f"{from_si(one.target, one.unit):g} {one.unit}" for one in held if one and one.target] == wanted
