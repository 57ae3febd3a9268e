"""The closed unit list: every factor against independent sources, each named beside its check.

Exact fractions from the defining constants, pint loaded with the unit file, scipy.constants, numericalunits, GNU units
and the printed factors of NIST SP 811 (2008), appendix B.8. 1e-12 separates sources that agree from those with a
rounded constant by a wide margin on both sides.
"""

from __future__ import annotations

import math
import re
import shutil
import subprocess
from fractions import Fraction
from pathlib import Path

import numericalunits
import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import constants

from torquewright.base.units import UNITS, from_si, to_si
from torquewright.book.locate import specs_folder
from torquewright.book.registry import pint_name, registry

CLOSE = 1e-12

# The international yard and pound agreement (1959), CGPM 1901 for free fall, US gallon of 231 cubic inches, imperial
# gallon of 4.54609 L: all as restated in NIST SP 811 (2008), appendix B.
POUND = Fraction("0.45359237")
FALL = Fraction("9.80665")
INCH = Fraction("0.0254")
POUND_FORCE = POUND * FALL
FOOT = 12 * INCH
GALLON = 231 * INCH**3
IMPERIAL_GALLON = Fraction("0.00454609")

EXACT = {
    "N·m": Fraction(1), "mN·m": Fraction(1, 1000), "cN·m": Fraction(1, 100), "daN·m": Fraction(10),
    "kN·m": Fraction(1000), "lbf·ft": POUND_FORCE * FOOT, "lbf·in": POUND_FORCE * INCH,
    "ozf·in": POUND_FORCE / 16 * INCH, "kgf·m": FALL,
    "kgf·cm": FALL / 100, "gf·cm": FALL / 100000, "dyn·cm": Fraction(1, 10**7), "N": Fraction(1), "kN": Fraction(1000),
    "lbf": POUND_FORCE, "ozf": POUND_FORCE / 16, "kgf": FALL, "m": Fraction(1), "cm": Fraction(1, 100),
    "mm": Fraction(1, 1000), "µm": Fraction(1, 10**6), "in": INCH, "ft": FOOT, "km": Fraction(1000), "mi": 5280 * FOOT,
    "L": Fraction(1, 1000), "mL": Fraction(1, 10**6), "cm³": Fraction(1, 10**6), "US gal": GALLON, "US qt": GALLON / 4,
    "US pt": GALLON / 8, "US fl oz": GALLON / 128, "imp gal": IMPERIAL_GALLON, "imp qt": IMPERIAL_GALLON / 4,
    "imp pt": IMPERIAL_GALLON / 8, "imp fl oz": IMPERIAL_GALLON / 160, "K": Fraction(1), "°C": Fraction(1),
    "°F": Fraction(5, 9), "°": Fraction(1), "turn": Fraction(360), "s": Fraction(1), "min": Fraction(60),
    "h": Fraction(3600), "d": Fraction(86400), "Pa": Fraction(1), "kPa": Fraction(1000), "MPa": Fraction(10**6),
    "bar": Fraction(10**5), "psi": POUND_FORCE / INCH**2,
}  # fmt: skip

SI = {
    "torque": "newton * meter", "force": "newton", "length": "meter", "distance": "meter", "volume": "meter ** 3",
    "temperature": "kelvin", "angle": "degree", "time": "second", "pressure": "pascal",
}  # fmt: skip


def test_every_unit_is_proved_here() -> None:
    assert set(EXACT) == set(UNITS) - {"rad"}  # the radian is no fraction of a degree; see below


@pytest.mark.parametrize("name", EXACT)
def test_factor_is_the_exact_fraction(name: str) -> None:
    assert UNITS[name].factor == pytest.approx(float(EXACT[name]), rel=1e-15)


def test_radian_is_a_half_turn_over_pi() -> None:
    assert UNITS["rad"].factor == pytest.approx(180 / math.pi, rel=1e-15)


@pytest.mark.parametrize("name", UNITS)
def test_factor_is_that_of_pint_with_the_unit_file(name: str) -> None:
    unit = UNITS[name]
    one = registry().Quantity(1.0, pint_name(name)).to(SI[unit.measures]).magnitude
    assert to_si(1.0, name) == pytest.approx(one, rel=CLOSE)
    ten = registry().Quantity(10.0, pint_name(name)).to(SI[unit.measures]).magnitude
    assert to_si(10.0, name) == pytest.approx(ten, rel=CLOSE)  # two points settle an offset as well


def test_the_unit_file_holds_nothing_else() -> None:
    """Every unit the file defines is one of the list or a force or length that one of the list is made of."""
    text = (Path(specs_folder()) / "units.txt").read_text(encoding="utf-8")
    defined = set(re.findall(r"^(\w+) = ", text, re.MULTILINE))
    used = {name for unit in UNITS for name in re.findall(r"[A-Za-z_]+", pint_name(unit))}
    assert defined == used


@pytest.mark.parametrize("name", ["N·m", "lbf·ft", "ozf·in", "kgf·cm", "US qt", "imp pt", "psi", "turn", "°C", "µm"])
def test_pint_of_its_own_knows_the_names(name: str) -> None:
    """A quantity of pint's default registry (pint's own unit data) finds the unit and has the same factor."""
    unit = UNITS[name]
    theirs = pint.UnitRegistry().Quantity(3.0, pint_name(name)).to(SI[unit.measures]).magnitude
    assert to_si(3.0, name) == pytest.approx(theirs, rel=CLOSE)


# scipy.constants 1.14 or newer
@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("lbf·ft", constants.lbf * constants.foot),
        ("lbf·in", constants.lbf * constants.inch),
        ("ozf·in", constants.oz * constants.g * constants.inch),
        ("kgf·m", constants.kgf),
        ("lbf", constants.lbf),
        ("in", constants.inch),
        ("mi", constants.mile),
        ("US gal", constants.gallon_US),
        ("imp gal", constants.gallon_imp),
        ("US fl oz", constants.fluid_ounce_US),
        ("imp fl oz", constants.fluid_ounce_imp),
        ("psi", constants.psi),
        ("bar", constants.bar),
        ("d", constants.day),
    ],
)
def test_factor_is_that_of_scipy(name: str, value: float) -> None:
    assert UNITS[name].factor == pytest.approx(value, rel=CLOSE)


@pytest.mark.parametrize("degrees", [-40.0, 0.0, 20.0, 100.0])
def test_temperatures_are_those_of_scipy(degrees: float) -> None:
    assert to_si(degrees, "°C") == pytest.approx(constants.convert_temperature(degrees, "C", "K"), rel=CLOSE)
    assert to_si(degrees, "°F") == pytest.approx(constants.convert_temperature(degrees, "F", "K"), rel=CLOSE)


# numericalunits 1.26 or newer
@pytest.mark.parametrize(
    ("name", "parts"),
    [
        ("lbf·ft", ("lbf", "foot")), ("lbf·in", ("lbf", "inch")), ("kgf·m", ("kg", "g0", "m")), ("psi", ("psi",)),
        ("mi", ("mile",)), ("dyn·cm", ("dyn", "cm")),
    ],
)  # fmt: skip
def test_factor_is_that_of_numericalunits(name: str, parts: tuple[str, ...]) -> None:
    numericalunits.reset_units("SI")
    assert UNITS[name].factor == pytest.approx(math.prod(getattr(numericalunits, part) for part in parts), rel=CLOSE)


# GNU units, a program of its own with a data file of its own
@pytest.mark.parametrize(
    ("name", "from_unit", "to_unit"),
    [
        ("lbf·ft", "lbf ft", "N m"), ("lbf·in", "lbf in", "N m"), ("ozf·in", "ounce force in", "N m"),
        ("kgf·m", "kgf m", "N m"), ("kgf·cm", "kgf cm", "N m"), ("gf·cm", "gram force cm", "N m"),
        ("dyn·cm", "dyn cm", "N m"), ("US gal", "usgallon", "m^3"), ("US qt", "usquart", "m^3"),
        ("US pt", "uspint", "m^3"), ("US fl oz", "usfluidounce", "m^3"), ("imp gal", "brgallon", "m^3"),
        ("imp pt", "brpint", "m^3"), ("mi", "mile", "m"), ("psi", "psi", "Pa"), ("rad", "radian", "degree"),
    ],
)  # fmt: skip
def test_factor_is_that_of_gnu_units(name: str, from_unit: str, to_unit: str) -> None:
    if shutil.which("units") is None:
        pytest.skip("GNU units is not installed")
    asked = ["units", "-t", "-1", "-d", "max", from_unit, to_unit]
    told = subprocess.run(asked, capture_output=True, text=True, check=True).stdout
    assert UNITS[name].factor == pytest.approx(float(told), rel=CLOSE)


# NIST SP 811 (2008), appendix B.8, as printed: seven figures
@pytest.mark.parametrize(
    ("name", "printed"),
    [
        ("lbf·ft", "1.355818"), ("lbf·in", "0.1129848"), ("ozf·in", "7.061552e-3"), ("kgf·m", "9.80665"),
        ("dyn·cm", "1.0e-07"), ("lbf", "4.448222"), ("ozf", "0.2780139"), ("in", "2.54e-02"), ("ft", "3.048e-01"),
        ("US qt", "9.463529e-04"), ("US pt", "4.731765e-04"), ("US gal", "3.785412e-03"), ("US fl oz", "2.957353e-05"),
        ("imp gal", "4.54609e-03"), ("psi", "6.894757e+03"), ("bar", "1.0e+05"),
    ],
)  # fmt: skip
def test_factor_rounds_to_the_printed_one(name: str, printed: str) -> None:
    figure = printed.lower().partition("e")[0]
    decimals = len(figure.partition(".")[2])
    assert f"{UNITS[name].factor:.{decimals + 20}e}"  # a float of ordinary size
    power = int(printed.lower().partition("e")[2] or 0)
    assert f"{UNITS[name].factor / 10.0**power:.{decimals}f}" == figure


@settings(max_examples=200, deadline=None)
@given(st.sampled_from(sorted(UNITS)), st.floats(-1e9, 1e9))
def test_there_and_back(name: str, value: float) -> None:
    assert from_si(to_si(value, name), name) == pytest.approx(value, rel=CLOSE, abs=1e-9)


@pytest.mark.parametrize("name", ["Nm", "ft-lb", "J", "", "lb", "N·M"])
def test_nothing_outside_the_list(name: str) -> None:
    with pytest.raises(KeyError):
        to_si(1.0, name)
