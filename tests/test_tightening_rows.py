"""The grammar of tightening texts, notation by notation: each row of the tables must read as it is labelled."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from notation_rows import figure, rows, short
from torquewright.base.units import UNITS
from torquewright.book.locate import specs_folder
from torquewright.notation.grammar import read_whole
from torquewright.notation.notread import NotRead
from torquewright.notation.tightening import _plain, find_tightenings, read_tightening
from torquewright.records.tightening import Tightening, Torque

LABELLED = rows("torques.csv")
FURTHER = rows("further.csv")
NO_DEMAND = rows("no_demand.csv")


def _in(value: float | None, unit: str) -> str:
    if value is None:
        return ""
    return figure(value / UNITS[unit].factor if unit else value)


def _torque(torque: Torque | None) -> tuple[str, str, str, str]:
    if torque is None:
        return "", "", "", ""
    return _in(torque.low, torque.unit), _in(torque.high, torque.unit), _in(torque.nominal, torque.unit), torque.unit


def _second(tightening: Tightening) -> tuple[str, str, str]:
    if not tightening.also:
        return "", "", ""
    second = tightening.also[0]
    low, high = second.band
    return second.unit, _in(low, second.unit), _in(high, second.unit)


def _angles(tightening: Tightening) -> str:
    """Limits as ``115-125``; degrees to one decimal, as the table has them."""
    return ";".join(
        f"{angle.low:g}-{angle.high:g}"
        if angle.low is not None and angle.high is not None
        else f"{round(angle.nominal, 1):g}"
        for angle in tightening.angles
    )


def _stages(tightening: Tightening) -> str:
    torques = [stage.torque for stage in tightening.stages if stage.torque is not None]
    return ";".join(_in(torque.nominal, torque.unit) for torque in torques)


@pytest.mark.parametrize("row", LABELLED, ids=lambda row: row["text"])
def test_reads_as_labelled(row: dict[str, str]) -> None:
    read = read_tightening(row["text"])
    assert read.kind == row["kind"]
    wanted = tuple("" if not row[name] else figure(float(row[name])) for name in ("min", "max", "nominal"))
    assert _torque(read.torque) == (*wanted, row["unit"])
    second = tuple("" if not row[name] else figure(float(row[name])) for name in ("second_min", "second_max"))
    assert _second(read) == (row["second_unit"], *second)
    assert _angles(read) == row["angles_deg"]
    assert bool(read.doubt) == (row["ambiguous"] == "yes")
    if row["stages"]:
        assert _stages(read) == row["stages"]


@pytest.mark.parametrize("row", FURTHER, ids=lambda row: row["text"])
def test_reads_in_other_words(row: dict[str, str]) -> None:
    read = read_tightening(row["text"])
    assert short(read) == row["reading"]
    assert bool(read.doubt) == (row["ambiguous"] == "yes")


@pytest.mark.parametrize("row", [*LABELLED, *FURTHER], ids=lambda row: row["text"])
def test_a_doubt_names_readings_that_are_none_themselves(row: dict[str, str]) -> None:
    """What an ambiguous text could mean is said in texts without a doubt, except a value per joint or a plain force."""
    read = read_tightening(row["text"])
    assert bool(read.readings) <= bool(read.doubt)
    for text in read.readings:
        if text == "74 mN":  # a force: named so that the writer sees the trap
            continue
        assert not read_tightening(text).doubt, text


PLAIN = [
    "7 N·m", "7.25 Nm", "7 to 9 N·m", "7–9 N·m (62–80 lbf·in)", "7 ± 1 N·m", "7 N·m ± 1", "62 lbf·in (7 N·m)",
    "hand-tight", "stage 12 N·m, then 22 to 26 N·m", "20 N·m (15 lbf·ft), then 42 N·m (31 lbf·ft)",
    "stage 20 N·m, then 40 N·m ± 2",
    "30 N·m + 45°", "40 N·m + 60° + 60°", "90°", "90° + 90°", "20 N·m, then 40 N·m + 90°", "25 ft-lb + 90°", "snug",
    "0 N·m", "18 lb-ft (24 N·m) + 90°",
]  # fmt: skip


@pytest.mark.parametrize("text", [*PLAIN, *(row["text"] for row in (*LABELLED, *FURTHER))])
def test_the_short_way_and_the_grammar_agree(text: str) -> None:
    """Plain texts are read without the grammar; the grammar must read them alike, or a file's forms would matter."""
    short_way = _plain(text)
    assert short_way is not None or text not in PLAIN
    if short_way is not None:
        assert short_way == read_whole(text)


@pytest.mark.parametrize(
    ("text", "readings"),
    [
        ("30 lbs", ("30 lbf·ft", "30 lbf·in")),
        ("20 to 30 lb", ("20 to 30 lbf·ft", "20 to 30 lbf·in")),
        ("47 ft/lbs", ("47 lbf·ft",)),
        ("1,250 N·m", ("1250 N·m", "1.25 N·m")),
        ("1.400 N·m", ("1400 N·m", "1.4 N·m")),
        ("18/22 N·m", ("18 to 22 N·m", "18 N·m, then 22 N·m", "18 N·m", "22 N·m")),
        ("10 or 12 N·m", ("10 N·m", "12 N·m")),
        ("80 to 70 N·m", ("70 to 80 N·m",)),
        ("30 N·m (30 lb-ft)", ("30 N·m", "30 lbf·ft")),
        ("up to 15 lbf·in", ("not to exceed 15 lbf·in", "15 lbf·in")),
        ("420 kg", ("420 kgf·m", "420 kgf·cm")),
    ],
)
def test_the_readings_of_an_ambiguous_text(text: str, readings: tuple[str, ...]) -> None:
    assert read_tightening(text).readings == readings


@pytest.mark.parametrize("row", [*LABELLED, *FURTHER], ids=lambda row: row["text"])
def test_is_found_inside_a_sentence_as_it_reads_alone(row: dict[str, str]) -> None:
    """What a sentence's reader finds at the figure is the same torque; words around may belong to the sentence."""
    alone = read_tightening(row["text"])
    sentence = f"Now bring the cover nuts, which are oiled: {row['text']}; the gauge stays on."
    found = find_tightenings(sentence, bare=True)
    if alone.torque is None or not alone.torque.unit:
        return
    last = [one.tightening for one in found if one.tightening.torque is not None][-1]
    assert last.torque == alone.torque


@pytest.mark.parametrize("row", NO_DEMAND, ids=lambda row: row["sentence"])
def test_what_is_no_torque_never_becomes_one(row: dict[str, str]) -> None:
    """Figures of a wrench, a motor or a drag check are torques (what they are for is the sentence's business);
    lengths, sizes, masses, call-outs and part names are not."""
    is_torque = row["what"] in ("tool range", "rotation check", "check setting", "rating", "tool rating")
    found = [one for one in find_tightenings(row["sentence"]) if one.tightening.torque is not None]
    assert [row["sentence"][one.start : one.end] for one in found] == ([row["span"]] if is_torque else [])
    if is_torque:
        return
    try:
        read = read_tightening(row["span"])
    except NotRead:
        return
    assert read.torque is None or (not read.has_value and read.doubt)  # an angle, or a force that says it is none


@pytest.mark.parametrize(
    ("text", "part", "says"),
    [
        ("25 N·m dry", "dry", "does not belong"),
        ("25 N·m (dry)", "(dry)", "does not belong"),
        ("25 N·m 30 N·m", "30 N·m", "does not belong"),
        ("7 mm", "mm", "a length, not a torque"),
        ("6 bar", "bar", "a pressure, not a torque"),
        ("90 °C", "°C", "a temperature, not a torque"),
        ("20 min", "min", "a time, not a torque"),
        ("30 J", "J", "energy, not a torque"),
        ("30 banana", "banana", "no torque unit"),
        ("30 MN·m", "MN·m", "no torque unit"),
        ("12 kip·ft", "kip·ft", "no torque unit"),
        ("30 lb/in²", "lb/in²", "a pressure, not a torque"),
        ("30", "30", "no unit"),
        ("-5 N·m", "-5", "not negative"),
        ("", "", "nothing here"),
        ("M8", "M8", "no tightening"),
        ("1e400 N·m", "1e400 N·m", "no tightening"),
        ("nan N·m", "nan N·m", "no tightening"),
        ("9" * 400 + " N·m", "9" * 400 + " N·m", "no tightening"),
        ("9" * 14 + " N·m", "9" * 14 + " N·m", "outside of anything"),
        ("Tighten to 25 N·m and fit the guard", "and fit the guard", "does not belong"),
    ],
)
def test_a_text_that_is_no_tightening_says_what_is_wrong_and_where(text: str, part: str, says: str) -> None:
    with pytest.raises(NotRead) as caught:
        read_tightening(text)
    assert text[caught.value.start : caught.value.end].strip() == part
    assert says in caught.value.message
    assert caught.value.wanted


def test_a_bare_figure_is_read_only_when_asked_for() -> None:
    read = read_tightening("21-25", bare=True)
    assert (read.kind, read.has_value, bool(read.doubt)) == ("unitless", False, True)
    assert read.readings == ("21 to 25 N·m", "21 to 25 lbf·ft", "21 to 25 lbf·in")


@pytest.mark.parametrize(
    ("text", "unit", "half"),
    [
        ("24 N·m", "N·m", 0.5), ("24.0 N·m", "N·m", 0.05), ("0.35 N·m", "N·m", 0.005), ("62 lbf·in", "lbf·in", 0.5),
        ("7 to 9.5 N·m", "N·m", 0.5), ("420 Ncm", "N·m", 0.005), ("7½ N·m", "N·m", 0.05), ("6,75 N·m", "N·m", 0.005),
    ],
)  # fmt: skip
def test_a_figure_carries_half_of_its_last_digit(text: str, unit: str, half: float) -> None:
    torque = read_tightening(text).torque
    assert torque is not None
    assert torque.half / UNITS[unit].factor == pytest.approx(half)


def _documented() -> list[tuple[str, str]]:
    """The examples of the notation document, each with the kinds its row names."""
    text = (Path(specs_folder()) / "formats" / "notation.md").read_text(encoding="utf-8")
    table = text.split("## Forms")[1].split("## What is doubted")[0]
    cells = [line.strip().strip("|").split("|") for line in table.splitlines() if line.startswith("| `")]
    return [
        (" ".join(re.findall(r"`(\w+)`", kinds)), example)
        for kinds, *forms in cells
        for example in re.findall(r"`([^`]+)`", "|".join(forms))
    ]


@pytest.mark.parametrize(("kinds", "text"), _documented())
def test_the_notation_document_says_what_is_read(kinds: str, text: str) -> None:
    assert read_tightening(text).kind in kinds.split()
