"""Amounts, thread sizes and drives: as values of a record, and inside sentences."""

from __future__ import annotations

import pytest

from torquewright.base.units import to_si
from torquewright.notation.notread import NotRead
from torquewright.notation.sizes import COARSE_PITCH, UNIFIED_THREADS
from torquewright.toml.quantities import find_quantities, read_amount, read_drive, read_size, unit_named


@pytest.mark.parametrize(
    ("text", "measures", "value", "unit", "half"),
    [
        ("30 mm", "length", 0.030, "mm", 0.0005),
        ("30.5 mm", "length", 0.0305, "mm", 0.00005),
        ("30.125 mm", "length", 0.030125, "mm", 5e-7),
        ("1-1/8 in", "length", 0.028575, "in", 0.0005 * 0.0254),
        ('3/8"', "length", 0.009525, "in", 0.0005 * 0.0254),
        ("1/2 in.", "length", 0.0127, "in", 0.05 * 0.0254),
        ("12 thou", "length", 0.0003048, "in", 0.0000127),
        ("25 µm", "length", 25e-6, "µm", 0.5e-6),
        ("0.62 L", "volume", 0.00062, "L", 5e-6),
        ("1,5 l", "volume", 0.0015, "L", 5e-5),
        ("620 cm³", "volume", 0.00062, "cm³", 5e-7),
        ("620 cc", "volume", 0.00062, "cm³", 5e-7),
        ("2 US qt", "volume", 2 * 0.000946352946, "US qt", 0.000473176473),
        ("2 quarts (US)", "volume", 2 * 0.000946352946, "US qt", 0.000473176473),
        ("1 imp. pt", "volume", 0.00056826125, "imp pt", 0.000284130625),
        ("1 U.S. gal", "volume", 0.003785411784, "US gal", 0.001892705892),
        ("8 US fl. oz", "volume", 8 * 2.95735295625e-5, "US fl oz", 1.478676478125e-5),
        ("15 minutes", "time", 900.0, "min", 30.0),
        ("ten minutes", "time", 600.0, "min", 30.0),
        ("2 h", "time", 7200.0, "h", 1800.0),
        ("20 °C", "temperature", 293.15, "°C", 0.5),
        ("68 deg F", "temperature", 293.15, "°F", 0.5 * 5 / 9),
        ("50 km", "distance", 50000.0, "km", 500.0),
        ("200 m", "distance", 200.0, "m", 0.5),
        ("6 bar", "pressure", 6e5, "bar", 0.5e5),
        ("90 lb/in²", "pressure", 90 * 6894.757293168362, "psi", 0.5 * 6894.757293168362),
        ("400 N", "force", 400.0, "N", 0.5),
    ],
)
def test_amount(text: str, measures: str, value: float, unit: str, half: float) -> None:
    amount = read_amount(text, measures)
    assert amount.value == pytest.approx(value, rel=1e-12)
    assert amount.unit == unit
    assert amount.half == pytest.approx(half, rel=1e-9)
    assert (amount.low, amount.high) == (None, None)


@pytest.mark.parametrize(
    ("text", "low", "high", "value"),
    [
        ("0.12 to 0.18 mm", 0.12, 0.18, 0.15),
        ("0.12-0.18 mm", 0.12, 0.18, 0.15),
        ("0.12 mm to 0.18 mm", 0.12, 0.18, 0.15),
        ("between 0.12 and 0.18 mm", 0.12, 0.18, 0.15),
        ("30 ± 0.5 mm", 29.5, 30.5, 30.0),
        ("30 mm ± 0.5", 29.5, 30.5, 30.0),
        ("max 0.1 mm", None, 0.1, 0.1),
        ("0.1 mm max.", None, 0.1, 0.1),
        ("min. 8 mm", 8.0, None, 8.0),
        ("at least 8 mm", 8.0, None, 8.0),
        ("not more than 0.1 mm", None, 0.1, 0.1),
    ],
)
def test_amount_with_limits(text: str, low: float | None, high: float | None, value: float) -> None:
    amount = read_amount(text, "length")
    for found, wanted in ((amount.low, low), (amount.high, high), (amount.value, value)):
        assert found == (None if wanted is None else pytest.approx(wanted / 1e3))


@pytest.mark.parametrize(
    ("text", "measures", "part", "says"),
    [
        ("30", "length", "30", "no unit"),
        ("30 mm", "volume", "mm", "is a length"),
        ("30 mm long", "length", "long", "does not belong"),
        ("3 qt", "volume", "qt", "American or an imperial"),
        ("two pints", "volume", "pints", "American or an imperial"),
        ("30 banana", "length", "banana", "no unit of a length"),
        ("long", "length", "long", "no figure"),
        ("", "length", "", "no figure"),
        ("7 N·m", "length", "N·m", "is a torque"),
        ("10 min", "distance", "min", "is a time"),
    ],
)
def test_what_is_no_such_amount_says_why_and_where(text: str, measures: str, part: str, says: str) -> None:
    with pytest.raises(NotRead) as caught:
        read_amount(text, measures)
    assert text[caught.value.start : caught.value.end] == part
    assert says in caught.value.message
    assert caught.value.wanted


def test_a_quart_names_both_that_it_could_be() -> None:
    with pytest.raises(NotRead) as caught:
        read_amount("3 qt", ("volume",))
    assert caught.value.wanted == '"3 US qt" or "3 imp qt"'


@pytest.mark.parametrize(
    ("text", "family", "diameter", "pitch", "stated", "series", "hand"),
    [
        ("M8x1.25", "metric", 8, 1.25, True, "", "right"),
        ("M8 × 1.25", "metric", 8, 1.25, True, "", "right"),
        ("M5x0,8", "metric", 5, 0.8, True, "", "right"),
        ("M70x3", "metric", 70, 3, True, "", "right"),
        ("M8x1.25-6g", "metric", 8, 1.25, True, "", "right"),
        ("M8", "metric", 8, 1.25, False, "", "right"),
        ("M70", "metric", 70, None, False, "", "right"),
        ("M10x1.5 LH", "metric", 10, 1.5, True, "", "left"),
        ("M10 x 1.5 left-hand", "metric", 10, 1.5, True, "", "left"),
        ("M10 (left-hand thread)", "metric", 10, 1.5, False, "", "left"),
        ("3/8-16 UNC", "unified", 9.525, 25.4 / 16, True, "UNC", "right"),
        ("3/8-16", "unified", 9.525, 25.4 / 16, True, "", "right"),
        ("3/8-16 UNC-2A", "unified", 9.525, 25.4 / 16, True, "UNC", "right"),
        ("3/8 UNF", "unified", 9.525, 25.4 / 24, False, "UNF", "right"),
        ("1-8 UNC", "unified", 25.4, 25.4 / 8, True, "UNC", "right"),
        ("1-1/8-7", "unified", 28.575, 25.4 / 7, True, "", "right"),
        ("1 1/8-7 UNC", "unified", 28.575, 25.4 / 7, True, "UNC", "right"),
        ("#10-32", "unified", 4.826, 25.4 / 32, True, "", "right"),
        ("10-32", "unified", 4.826, 25.4 / 32, True, "", "right"),
        ("No. 10-24 UNC", "unified", 4.826, 25.4 / 24, True, "UNC", "right"),
        ("½-13", "unified", 12.7, 25.4 / 13, True, "", "right"),
        ("G 1/4", "pipe", None, None, False, "G", "right"),
        ("G1/4", "pipe", None, None, False, "G", "right"),
        ("R 1/2", "pipe", None, None, False, "R", "right"),
        ("1/4 NPT", "pipe", None, None, False, "NPT", "right"),
        ("1/4-18 NPT", "pipe", None, 25.4 / 18, True, "NPT", "right"),
        ("G 1/4 LH", "pipe", None, None, False, "G", "left"),
    ],
)
def test_size(
    text: str, family: str, diameter: float | None, pitch: float | None, stated: bool, series: str, hand: str
) -> None:
    thread = read_size(text)
    assert thread.text == text
    assert (thread.family, thread.pitch_stated, thread.series, thread.hand) == (family, stated, series, hand)
    assert thread.diameter == (None if diameter is None else pytest.approx(diameter / 1e3, rel=1e-9))
    assert thread.pitch == (None if pitch is None else pytest.approx(pitch / 1e3, rel=1e-9))


@pytest.mark.parametrize(
    ("text", "part", "says"),
    [
        ("M8x1.25x30", "30", "length"),
        ("M8 x 25", "25", "no pitch"),
        ("M8x9", "9", "no pitch"),
        ("M900", "M900", "no M900"),
        ("8 mm", "8 mm", "no thread size"),
        ("10", "10", "no thread size"),
        ("3/8", "3/8", "no thread size"),
        ("3/8 UN", "3/8 UN", "threads per inch"),
        ("", "", "no thread size"),
        ("bolt", "bolt", "no thread size"),
    ],
)
def test_what_is_no_size_says_why_and_where(text: str, part: str, says: str) -> None:
    with pytest.raises(NotRead) as caught:
        read_size(text)
    assert text[caught.value.start : caught.value.end] == part
    assert says in caught.value.message


# ISO 261: coarse pitches fall into steps of the general plan; a slip in typing would break the order or the ratio
def test_coarse_pitches_grow_with_the_diameter() -> None:
    pitches = [COARSE_PITCH[diameter] for diameter in sorted(COARSE_PITCH)]
    assert pitches == sorted(pitches)
    assert all(0.1 < pitch / diameter < 0.25 for diameter, pitch in COARSE_PITCH.items())


# ASME B1.1: the fine series has more threads per inch than the coarse one, at every size
def test_fine_is_finer_than_coarse() -> None:
    assert all(coarse < fine for coarse, fine in UNIFIED_THREADS.values())


@pytest.mark.parametrize(
    ("text", "kind", "size", "flats"),
    [
        ("slotted 10 mm", "slotted", "10 mm", None),
        ("slotted", "slotted", "", None),
        ("hex 13 mm", "hex", "13 mm", 13),
        ("13 mm hex", "hex", "13 mm", 13),
        ("13 mm socket", "hex", "13 mm", 13),
        ("13 mm", "hex", "13 mm", 13),
        ("9/16 in", "hex", "9/16 in", 14.2875),
        ("1-1/8 inch open-end wrench", "hex", "1-1/8 in", 28.575),
        ("17 mm A/F", "hex", "17 mm", 17),
        ("hex socket 8 mm", "hex socket", "8 mm", 8),
        ("8 mm hex key", "hex socket", "8 mm", 8),
        ("T25", "hexalobular", "T25", None),
        ("hexalobular T25", "hexalobular", "T25", None),
        ("T45 bit", "hexalobular", "T45", None),
        ("PH2", "cross", "PH2", None),
        ("1/2 in square", "square", "1/2 in", 12.7),
        ("½ in square drive", "square", "1/2 in", 12.7),
        ("12-point 10 mm", "12-point", "10 mm", 10),
        ("32 mm hex", "hex", "32 mm", 32),
    ],
)
def test_drive(text: str, kind: str, size: str, flats: float | None) -> None:
    drive = read_drive(text)
    assert (drive.kind, drive.size) == (kind, size)
    assert drive.across_flats == (None if flats is None else pytest.approx(flats / 1e3, rel=1e-9))


@pytest.mark.parametrize(
    ("text", "part"),
    [("banana", "banana"), ("hex 13 mm 14 mm", "14 mm"), ("hex 13 bananas", "bananas"), ("", ""), ("M8", "M")],
)
def test_what_is_no_drive_says_where(text: str, part: str) -> None:
    with pytest.raises(NotRead) as caught:
        read_drive(text)
    assert part in text[caught.value.start : caught.value.end]


@pytest.mark.parametrize(
    ("sentence", "found"),
    [
        ("Fit an M8 × 1.25 × 30 screw.", [("M8 × 1.25 × 30", "size")]),
        ("Use a 10-32 screw.", [("10-32", "size")]),
        ("Start the twelve 3/8-16 ring capscrews.", [("3/8-16", "size")]),
        ("Use a 3/8-16 UNC LH bolt.", [("3/8-16 UNC LH", "size")]),
        ("Fit 4 M8 × 25 8.8 screws, 22 N·m.", [("M8 × 25", "size")]),
        ("Pour in 0.75 L of oil at 20 °C.", [("0.75 L", "volume"), ("20 °C", "temperature")]),
        ("Wait five minutes.", [("five minutes", "time")]),
        ("Shim to a gap of 0.12 to 0.18 mm.", [("0.12 to 0.18 mm", "length")]),
        ("Use a 1-1/8 inch open-end wrench.", [("1-1/8 inch", "length")]),
        ("After 50 km, retighten to 90 N·m.", [("50 km", "distance")]),
        ("Recheck after 50 hours.", [("50 hours", "time")]),
        ("Hang a 20 kg mass from the arm.", [("20 kg", "mass")]),
        ("Set tyre pressure to 45 lb.", [("45 lb", "mass")]),
        ("Wait until the reading is under 1.2 nm rms.", [("1.2 nm", "length")]),
        ("Add 3 qt of oil.", [("3 qt", "volume")]),
        ("Build up to 6 bar and push with 400 N.", [("6 bar", "pressure"), ("400 N", "force")]),
        ("Tighten to 25 in-lb or to 10-32 in-lb.", []),
        ("Tighten to 24 N·m, then 90°.", []),
    ],
)  # fmt: skip
def test_quantities_in_sentences(sentence: str, found: list[tuple[str, str]]) -> None:
    quantities = find_quantities(sentence)
    assert [(sentence[one.start : one.end], one.kind) for one in quantities] == found


def test_a_size_with_a_length_gives_both() -> None:
    one = find_quantities("Fit an M8 × 1.25 × 30 screw.")[0]
    assert one.thread is not None
    assert one.thread.pitch == pytest.approx(0.00125)
    assert one.length is not None
    assert one.length.value == pytest.approx(0.03)
    short = find_quantities("Fit an M8 × 25 screw.")[0]
    assert short.thread is not None
    assert short.thread.pitch_stated is False
    assert short.length is not None
    assert short.length.value == pytest.approx(0.025)


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("N·m", "N·m"), ("Nm", "N·m"), ("ft-lb", "lbf·ft"), ("foot-pounds", "lbf·ft"), ("in-lb", "lbf·in"),
        ("kgf·cm", "kgf·cm"), ("mm", "mm"), ("inches", "in"), ("quarts (US)", "US qt"), ("degC", "°C"), ("litres", "L"),
    ],
)  # fmt: skip
def test_a_unit_by_any_spelling(text: str, unit: str) -> None:
    assert unit_named(text) == unit
    assert to_si(1.0, unit) > 0


@pytest.mark.parametrize("text", ["banana", "", "J", "lb", "qt", "thou", "N·mm", "7 N·m"])
def test_no_unit_outside_the_list(text: str) -> None:
    with pytest.raises(NotRead):
        unit_named(text)
