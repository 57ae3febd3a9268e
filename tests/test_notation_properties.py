"""Properties of the notation: whatever is written reads back, whatever is found reads alone, nothing else is raised."""

from __future__ import annotations

import attrs
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from torquewright.base.units import UNITS
from torquewright.conversion import convert, facts
from torquewright.notation.agreement import agree
from torquewright.notation.notread import NotRead
from torquewright.notation.spelling import folded, lowered, tokens
from torquewright.notation.tightening import find_tightenings, read_tightening
from torquewright.notation.writing import notation, torque_text
from torquewright.records.tightening import Tightening, Torque
from torquewright.toml.quantities import find_quantities, read_amount, read_drive, read_size, unit_named

TORQUE_UNITS = sorted(name for name, unit in UNITS.items() if unit.measures == "torque")

# What each unit is called in manuals; every one of these stands in the tables of notations as well.
SPELLINGS = {
    "N·m": ["N·m", "Nm", "N-m", "N.m", "N m", "newton metres", "N•m"],
    "mN·m": ["mN·m", "mNm"],
    "cN·m": ["cN·m", "cNm"],
    "daN·m": ["daN·m", "mdaN"],
    "kN·m": ["kN·m", "kNm"],
    "lbf·ft": ["lbf·ft", "lb-ft", "ft-lb", "ft lbs", "foot-pounds", "lb. ft.", "#-ft"],
    "lbf·in": ["lbf·in", "in-lb", "lb·in", "in. lbs", "inch-pounds", "IN. LB."],
    "ozf·in": ["ozf·in", "oz-in", "inch-ounces"],
    "kgf·m": ["kgf·m", "m-kg", "mkp", "kilogram-metres"],
    "kgf·cm": ["kgf·cm", "cm.kg", "kgcm"],
    "gf·cm": ["gf·cm", "g-cm"],
    "dyn·cm": ["dyn·cm"],
}


def test_the_spellings_here_cover_the_list() -> None:
    assert sorted(SPELLINGS) == TORQUE_UNITS


@st.composite
def figures(draw: st.DrawFn, least: int = 1, most: int = 2000) -> str:
    """A printed figure: whole, or with one or two decimals."""
    places = draw(st.sampled_from([0, 0, 1, 2]))
    return f"{draw(st.integers(least, most)) / 10**places:.{places}f}"


@st.composite
def torques(draw: st.DrawFn, spelled: str | None = None) -> str:
    """One torque: a figure, a range, a tolerance, a limit."""
    unit = spelled or draw(st.sampled_from(SPELLINGS[draw(st.sampled_from(TORQUE_UNITS))]))
    first = draw(figures())
    form = draw(st.sampled_from(["single", "range", "tolerance", "sided", "percent", "max", "min"]))
    second = f"{float(first) * 1.3:.{len(first.partition('.')[2])}f}"
    small = f"{float(first) / 10:.{len(first.partition('.')[2])}f}"
    assume(float(second) > float(first) and (form not in ("tolerance", "sided") or float(small) > 0))
    return {
        "single": f"{first} {unit}",
        "range": f"{first}{draw(st.sampled_from([' to ', '–', ' - ', '-', ' thru ']))}{second} {unit}",
        "tolerance": f"{first} ± {small} {unit}",
        "sided": f"{first} +{small}/-0 {unit}",
        "percent": f"{first} {unit} ± 5 %",
        "max": f"not to exceed {first} {unit}",
        "min": f"at least {first} {unit}",
    }[form]


@st.composite
def tightenings(draw: st.DrawFn) -> str:
    """A notation of any kind that nobody would doubt."""
    form = draw(st.sampled_from(["one", "stages", "angles", "turns", "hand", "drag"]))
    if form == "one":
        return draw(torques())
    if form == "stages":
        unit = draw(st.sampled_from(SPELLINGS[draw(st.sampled_from(TORQUE_UNITS))]))
        parts = [f"{draw(figures())} {unit}" for _ in range(draw(st.integers(1, 3)))]
        return ", then ".join([*parts, draw(torques(unit))])
    degrees = st.integers(1, 720)
    if form == "angles":
        angles = draw(st.lists(degrees, min_size=1, max_size=3))
        return f"{draw(figures())} N·m + " + " + ".join(f"{angle}°" for angle in angles)
    if form == "turns":
        tail = draw(st.sampled_from(["", " past finger-tight", " more", " after contact"]))
        return (
            draw(st.sampled_from(["1/4 turn", "3/4 turn", "1-1/2 turns", "2 turns", "1/16 turn", "1/2 to 3/4 turn"]))
            + tail
        )
    if form == "hand":
        return draw(st.sampled_from(["finger-tight", "hand-tight", "until snug", "until it clicks"]))
    return f"{draw(figures())} {draw(st.sampled_from(['N·m', 'lbf·in']))} plus the running torque"


def same(first: Tightening, second: Tightening) -> bool:
    """Equal but for the text as written, figures to the last bit of a conversion."""

    def close(a: float | None, b: float | None) -> bool:
        return (a is None) == (b is None) and (a is None or a == pytest.approx(b, rel=1e-9, abs=1e-12))

    def torques_close(a: Torque | None, b: Torque | None) -> bool:
        if a is None or b is None:
            return a is b
        return (
            a.unit == b.unit
            and close(a.low, b.low) and close(a.nominal, b.nominal) and close(a.high, b.high) and close(a.half, b.half)
        )  # fmt: skip

    stages = zip(first.stages, second.stages, strict=False)
    return (
        (first.kind, first.added, first.doubt, len(first.stages), len(first.also))
        == (second.kind, second.added, second.doubt, len(second.stages), len(second.also))
        and all(torques_close(a, b) for a, b in zip(first.also, second.also, strict=True))
        and all(
            torques_close(a.torque, b.torque)
            and (a.angle is None) == (b.angle is None)
            and (
                a.angle is None or b.angle is None
                or (
                    close(a.angle.low, b.angle.low)
                    and close(a.angle.nominal, b.angle.nominal)
                    and close(a.angle.high, b.angle.high)
                )
            )
            for a, b in stages
        )
    )  # fmt: skip


@settings(max_examples=120, deadline=None)
@given(tightenings())
@example("35 ± 3 N·m (26 ± 2 lbf·ft)")
@example("50 N·m, back off 180°, then 20 N·m + 90° ± 5°")
@example("33 N·m (3.4 kgf·m; 24 lbf·ft)")
@example("20 N·m, max. 24 N·m")
@example("not more than 90°")
@example("950 to 1,050 N·m")
@example("7½ N·m")
def test_written_again_it_reads_the_same(text: str) -> None:
    read = read_tightening(text)
    assume(not read.doubt)
    assert same(read_tightening(notation(read)), read), notation(read)


@settings(max_examples=100, deadline=None)
@example("233 gf·cm", "dyn·cm")
@given(tightenings(), st.sampled_from(TORQUE_UNITS))
def test_converted_it_agrees_with_itself(text: str, unit: str) -> None:
    """A torque told in another unit is, by the digits both print, the same torque."""
    torque = read_tightening(text).torque
    assume(torque is not None)
    assert torque is not None
    again = read_tightening(torque_text(torque, unit))
    assume(not again.doubt)  # three decimals may be thousands to a reader
    told = again.torque
    assert told is not None
    assert told.unit == unit
    assert agree(torque, told), torque_text(torque, unit)


@settings(max_examples=100, deadline=None)
@given(figures(), st.sampled_from(TORQUE_UNITS), st.sampled_from(TORQUE_UNITS))
def test_conversion_there_and_back(figure: str, first: str, second: str) -> None:
    there = convert(f"{figure} {first}", second)
    assert there.value is not None
    back = there.value * UNITS[second].factor / UNITS[first].factor
    assert back == pytest.approx(float(figure), rel=1e-12)
    assert there.low < there.value < there.high


@settings(max_examples=120, deadline=None)
@given(
    tightenings(),
    st.sampled_from(["", "Tighten the nut to ", "Bolts: ", "(see 4.2) now "]),
    st.sampled_from([".", "; wipe it.", " "]),
)
def test_a_notation_is_found_where_it_stands(text: str, before: str, after: str) -> None:
    sentence = before + text + after
    found = find_tightenings(sentence)
    assert len(found) == 1
    one = found[0]
    assert before.count("") - 1 <= one.start
    assert one.end <= len(before + text)
    assert attrs.evolve(one.tightening, text="") == attrs.evolve(read_tightening(text), text="")


VOCABULARY = (
    "25 7.5 1,250 1.400 ½ 1/4 18/22 +2/0 1-1/2 two a one half third N·m Nm N . · - – / ft lb lbs ft-lb in. in oz kg m "
    "( ) [ ] + ± +/- % percent ° deg turn turns flat past finger tight finger-tight hand snug then , ; : and or to "
    "from between min max not exceed less than up at least about first second step 1 3 pass stage in passes thirds "
    "equal steps increments of plus the running torque drag × x back off full "
    "final M8 #10-32 T25 100 0 approx ~ ≤ < > = "
    "→ ' \" nm NM mN m·N kN 1b Ib each until it clicks rad tolerance 90"
).split()

garbage = st.one_of(
    st.text(max_size=40),
    st.lists(st.tuples(st.sampled_from(VOCABULARY), st.sampled_from([" ", ""])), max_size=12).map(
        lambda words: "".join(word + gap for word, gap in words)
    ),
)


@settings(max_examples=150, deadline=None)
@given(garbage, st.booleans())
@example("9" * 5000 + " N·m", True)
@example("1/0 N·m +2/0", True)
@example("²³¼ N·m", False)
@example("İ 25 N·m", False)
def test_any_text_is_read_or_refused_with_a_place(text: str, bare: bool) -> None:
    for read in (
        lambda: read_tightening(text, bare=bare),
        lambda: read_amount(text, "length"),
        lambda: read_amount(text, ("volume", "time")),
        lambda: read_size(text),
        lambda: read_drive(text),
        lambda: unit_named(text),
    ):
        refused = None
        try:
            read()
        except NotRead as fault:
            refused = fault
        if refused is not None:
            assert 0 <= refused.start <= refused.end <= len(text)
            assert refused.message
            assert refused.wanted


@settings(max_examples=150, deadline=None)
@given(garbage, st.booleans())
def test_what_is_found_lies_inside_and_reads_alone(text: str, bare: bool) -> None:
    end = 0
    for one in find_tightenings(text, bare=bare):
        assert end <= one.start < one.end <= len(text)
        end = one.end
        assert read_tightening(text[one.start : one.end], bare=bare) == one.tightening
    end = 0
    for quantity in find_quantities(text):
        assert end <= quantity.start < quantity.end <= len(text)
        end = quantity.end


@settings(max_examples=100, deadline=None)
@given(garbage)
def test_a_reading_can_be_told_in_plain_values(text: str) -> None:
    try:
        read = read_tightening(text)
    except NotRead:
        return
    told = facts(read)
    assert told["ambiguous"] == bool(read.doubt)
    assert (told["nominal_nm"] is None) == (
        read.torque is None or not read.has_value or read.torque.nominal is None or not read.torque.unit
    )
    assert len(told["angles_deg"]) == len(read.angles)


@settings(max_examples=100, deadline=None)
@given(st.text(max_size=60))
def test_folding_keeps_every_offset(text: str) -> None:
    assert len(folded(text)) == len(text)
    assert len(lowered(text)) == len(text)
    end = 0
    for tok in tokens(text):
        assert end <= tok.start < tok.end <= len(text)
        end = tok.end


@settings(max_examples=100, deadline=None)
@given(figures(10, 900), st.sampled_from(["N·m", "kgf·cm", "lbf·in"]), st.sampled_from(["lbf·ft", "cN·m"]))
def test_agreement_does_not_depend_on_the_order(figure: str, first: str, second: str) -> None:
    one = read_tightening(f"{figure} {first}").torque
    assert one is not None
    other = read_tightening(torque_text(one, second)).torque
    assert other is not None
    assert agree(one, other) == agree(other, one) is True
    tenfold = Torque(other.nominal and other.nominal * 10, None, None, other.unit, other.half)
    assert agree(one, tenfold) == agree(tenfold, one) is False
