"""Orders round a joint: made for any count, read from a text, checked position by position."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from torquewright.rules.patterns import circular, cross, example, named, positions, slips, spiral

COUNTS = st.integers(1, 60)

# The cross sequences of older editions of ASME PCC-1, numbers clockwise round the flange; from memory.
PUBLISHED = {
    4: "1-3-2-4",
    8: "1-5-3-7-2-6-4-8",
    12: "1-7-4-10-2-8-5-11-3-9-6-12",
    16: "1-9-5-13-3-11-7-15-2-10-6-14-4-12-8-16",
    20: "1-11-6-16-3-13-8-18-5-15-10-20-2-12-7-17-4-14-9-19",
    24: "1-13-7-19-4-16-10-22-2-14-8-20-5-17-11-23-3-15-9-21-6-18-12-24",
}


@pytest.mark.parametrize("count", PUBLISHED)
def test_the_published_rows_come_out(count: int) -> None:
    assert example(count, "cross") == PUBLISHED[count]


def test_a_straight_row_goes_out_from_the_middle() -> None:
    # US Army TM 5-3805-298-23-2, WP 0176: the positions from left to right carry the turns 9 7 5 3 1 2 4 6 8.
    turns = [9, 7, 5, 3, 1, 2, 4, 6, 8]
    assert spiral(9) == tuple(turns.index(turn) + 1 for turn in range(1, 10))


@given(COUNTS)
def test_every_order_takes_each_position_once(count: int) -> None:
    for order in (circular(count), cross(count), spiral(count)):
        assert sorted(order) == list(range(1, count + 1))
        assert slips(order, count) == ((), ())


def apart(one: int, other: int, count: int) -> int:
    """How many positions lie between two of a circle, the shorter way."""
    return min((one - other) % count, (other - one) % count)


@given(st.integers(4, 60))
def test_across_means_across(count: int) -> None:
    order = cross(count)
    if count % 2:
        assert all(apart(one, other, count) == count // 2 for one, other in itertools.pairwise(order))
    else:
        pairs = list(zip(order[::2], order[1::2], strict=True))
        assert all(apart(one, other, count) == count // 2 for one, other in pairs)
        if count % 4 == 0:
            # after two pairs the joint is held at all four quarters
            assert all(
                apart(order[place], order[place + 2], count) == count // 4 for place in range(0, count, 4)
            )


@given(st.integers(2, 30), st.integers(1, 3))
def test_outward_never_comes_back(columns: int, rows: int) -> None:
    order = spiral(columns * rows, rows)
    middle = (columns + 1) / 2
    reach = [abs((number - 1) % columns + 1 - middle) for number in order]
    assert all(later >= earlier - 0.5 for earlier, later in itertools.pairwise(reach))
    assert sorted(order) == list(range(1, columns * rows + 1))


def test_rows_must_be_full() -> None:
    for count, rows in ((7, 2), (7, 0)):
        with pytest.raises(ValueError, match="do not fill"):
            spiral(count, rows)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("1-4-2-5-3-6", (1, 4, 2, 5, 3, 6)),
        ("1, 3, 2, 4", (1, 3, 2, 4)),
        ("1 – 3 – 2 – 4", (1, 3, 2, 4)),
        ("A-C-B-D", (1, 3, 2, 4)),
        ("1-3, then 2-4", (1, 3, 2, 4)),
        ("10>12>11>13", (10, 12, 11, 13)),
        ("cross", ()),
        ("crosswise from 1", ()),
        ("4", ()),
        ("", ()),
        ("1-3-2-4 again", ()),
        ("100-101-102", (100, 101, 102)),
        ("1000-1001", ()),
        ("α-β", ()),
        ("٤-٥", (4, 5)),
    ],
)  # fmt: skip
def test_lists_are_read(text: str, wanted: tuple[int, ...]) -> None:
    assert positions(text) == wanted


@given(COUNTS.filter(lambda count: count > 1))
def test_what_is_written_reads_back(count: int) -> None:
    assert positions(example(count, "cross")) == cross(count)
    assert positions(example(count, "circular")) == circular(count)
    assert positions(example(count, "spiral")) == spiral(count)


@pytest.mark.parametrize(
    ("order", "count", "wanted"),
    [
        ((1, 3, 2, 4), 4, ((), ())),
        ((1, 3, 2), 4, ((4,), ())),
        ((1, 3, 2, 2), 4, ((4,), (2,))),
        ((1, 3, 2, 5), 4, ((4,), (5,))),
        ((0, 1, 2, 3), 4, ((), ())),  # numbered from nought in its figure
        ((11, 13, 12, 14), 4, ((), ())),  # numbers of a figure
        ((11, 13, 12, 15), 4, ((1, 2, 3, 4), (11, 13, 12, 15))),
        ((11, 14, 12, 12), 4, ((3,), (2,))),
        ((1, 3, 2, 4, 1, 3, 2, 4), 4, ((), ())),  # twice round
        ((1, 3, 2, 4, 1), 4, ((), ())),  # the first once more
        ((1, 3, 2, 4, 1, 1), 4, ((), (1,))),
        ((1, 3, 2, 4, 5), 4, ((), (5,))),
        ((1, 2), 2, ((), ())),
    ],
)
def test_holes_and_doubles_are_found(
    order: tuple[int, ...], count: int, wanted: tuple[tuple[int, ...], tuple[int, ...]]
) -> None:
    assert slips(order, count) == wanted


@given(st.integers(3, 20), st.data())
def test_one_number_changed_is_one_left_out(count: int, data: st.DataObject) -> None:
    order = list(cross(count))
    place = data.draw(st.integers(0, count - 1))
    other = data.draw(st.integers(1, count).filter(lambda number: number != order[place]))
    lost, order[place] = order[place], other
    assert slips(tuple(order), count) == ((lost,), (other,))


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("cross", "cross"), ("star", "cross"), ("criss-cross", "cross"), ("opposite pairs", "cross"),
        ("crosswise, then round", "cross"), ("circular", "circular"), ("clockwise", "circular"), ("spiral", "spiral"),
        ("from the middle outward", "spiral"), ("1-3-2-4", ""), ("none", ""),
    ],
)  # fmt: skip
def test_orders_are_known_by_their_words(text: str, wanted: str) -> None:
    assert named(text) == wanted
