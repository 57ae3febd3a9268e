"""Adapters, deviation and the setting that suits a band."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from torquewright.joint.wrench import (
    Window,
    arriving,
    best_setting,
    gain,
    least_usable,
    permitted_deviation,
    setting_for,
    wider_than_band,
)


@pytest.mark.parametrize(
    ("type_", "class_", "largest", "expected"),
    [
        ("II", "A", 50, 0.04),  # ISO 6789-1 clause 5.1.5: 4 % above 10 N·m
        ("II", "A", 10, 0.06),  # 6 % up to and at 10 N·m
        ("II", "A", 10.01, 0.04),
        ("I", "A", 200, 0.06),
        ("I", "D", 12, 0.06),
        ("I", "E", 12, 0.04),
        ("II", "D", 12, 0.06),
    ],
)
def test_permitted_deviation(type_: str, class_: str, largest: float, expected: float) -> None:
    assert permitted_deviation(largest, type_=type_, class_=class_) == pytest.approx(expected)


def test_a_stated_deviation_stands_and_an_unknown_tool_is_refused() -> None:
    assert permitted_deviation(50, 0.02) == 0.02
    with pytest.raises(ValueError, match="no tool"):
        permitted_deviation(50, class_="X")


def test_the_usable_range_begins_at_a_fifth_of_the_largest_torque() -> None:
    """ISO 6789:2003: calibrated at 20, 60 and 100 %."""
    assert least_usable(5, 100) == 20
    assert least_usable(30, 100) == 30
    assert least_usable(5, 100, 8) == 8


@pytest.mark.parametrize(
    ("angle", "expected"),
    [(0, 71.11), (45, 73.50), (90, 80.0), (180, 91.43)],  # lever rule, 80 N·m, arm 400 mm, adapter 50 mm
)
def test_setting_with_an_adapter_at_an_angle(angle: float, expected: float) -> None:
    assert setting_for(80, gain(0.4, 0.05, angle)) == pytest.approx(expected, abs=0.01)


@pytest.mark.parametrize(("arm", "adapter", "angle"), [(0.0, 0.1, 0.0), (-1.0, 0.1, 0.0), (0.2, 0.3, 180.0)])
def test_impossible_levers_are_refused(arm: float, adapter: float, angle: float) -> None:
    with pytest.raises(ValueError, match=r"arm|adapter"):
        gain(arm, adapter, angle)


def test_a_band_that_a_scale_division_steps_over() -> None:
    window = Window(5, 25, 0.0, step=1.0)
    found = best_setting(window, 7.2, 7.8)
    assert found is None or not found.inside
    assert best_setting(Window(5, 25, 0.0, step=0.5), 7.2, 7.8) == (7.5, 7.5, 7.5, True)


def test_a_band_narrower_than_the_tool() -> None:
    window = Window(5, 50, 0.04)
    assert wider_than_band(0.04, 24.5, 25.5)
    found = best_setting(window, 24.5, 25.5)
    assert found is not None
    assert not found.inside
    assert not wider_than_band(0.04, 23, 27)
    inside = best_setting(window, 23, 27)
    assert inside is not None
    assert inside.inside


def test_a_band_out_of_reach() -> None:
    assert best_setting(Window(20, 100, 0.04), 5, 7) is None
    assert best_setting(Window(5, 25, 0.04), 60, 70) is None
    assert best_setting(Window(5.2, 5.8, 0.04, step=1.0), 5, 6) is None


def test_an_adapter_moves_the_setting_and_not_the_torque() -> None:
    factor = gain(0.25, 0.05)
    found = best_setting(Window(5, 50, 0.04), 27, 33, factor)
    assert found is not None
    assert found.setting == pytest.approx(25)
    assert (found.low, found.high) == pytest.approx((28.8, 31.2))


@given(
    low=st.floats(1, 200), width=st.floats(0.0, 0.5), deviation=st.floats(0.0, 0.1), step=st.floats(0.05, 5),
    factor=st.floats(0.7, 1.5),
)  # fmt: skip
@settings(max_examples=200)
def test_the_best_setting_is_on_the_scale_and_no_other_does_better(
    low: float, width: float, deviation: float, step: float, factor: float
) -> None:
    high = low * (1 + width)
    window = Window(2, 100, deviation, step, first=0.0)
    found = best_setting(window, low, high, factor)
    settings_there = [n * step for n in range(1, int(100 / step) + 2) if 2 - 1e-9 <= n * step <= 100 + 1e-9]
    inside = []
    for setting in settings_there:
        least, most = arriving(setting, factor, deviation)
        if least >= low and most <= high:
            inside.append(setting)
    if found is None:
        assert not inside
        return
    assert found.setting / step == pytest.approx(round(found.setting / step), abs=1e-6)
    assert (found.low, found.high) == pytest.approx(arriving(found.setting, factor, deviation))
    if inside:
        assert found.inside, (found, inside)


@given(low=st.floats(1, 100), width=st.floats(0.0, 0.3), deviation=st.floats(0.001, 0.1))
@settings(max_examples=100)
def test_wider_than_band_means_no_setting_whatever(low: float, width: float, deviation: float) -> None:
    high = low * (1 + width)
    found = best_setting(Window(0.01, 1000, deviation), low, high)
    assert found is not None
    if found.inside:
        assert not wider_than_band(deviation, low, high)
