"""The pint registry of the closed unit list: the authority for factors, and the door for pint quantities.

Importing pint costs about twelve bare interpreter starts, so nothing but a conversion that asks for it, or is handed
a pint quantity, comes here.
"""

from __future__ import annotations

from functools import lru_cache
from os.path import join
from typing import TYPE_CHECKING, Any

from torquewright.book.locate import specs_folder

if TYPE_CHECKING:
    from pint import UnitRegistry

_PARTS = {
    "N": "newton", "mN": "millinewton", "cN": "centinewton", "daN": "decanewton", "kN": "kilonewton",
    "lbf": "force_pound", "ozf": "force_ounce", "kgf": "kilogram_force", "gf": "gram_force", "dyn": "dyne",
    "m": "meter", "cm": "centimeter", "mm": "millimeter", "µm": "micrometer", "in": "inch", "ft": "foot",
    "km": "kilometer", "mi": "mile", "L": "liter", "mL": "milliliter", "cm³": "centimeter ** 3",
    "US gal": "US_liquid_gallon", "US qt": "US_liquid_quart", "US pt": "US_pint", "US fl oz": "US_fluid_ounce",
    "imp gal": "imperial_gallon", "imp qt": "imperial_quart", "imp pt": "imperial_pint",
    "imp fl oz": "imperial_fluid_ounce", "K": "kelvin", "°C": "degree_Celsius", "°F": "degree_Fahrenheit",
    "°": "degree", "rad": "radian", "turn": "turn", "s": "second", "min": "minute", "h": "hour", "d": "day",
    "Pa": "pascal", "kPa": "kilopascal", "MPa": "megapascal", "bar": "bar", "psi": "psi",
}  # fmt: skip


def pint_name(unit: str) -> str:
    """The pint expression of a canonical unit: ``"lbf·ft"`` is ``"force_pound * foot"``. KeyError outside the list."""
    return " * ".join(_PARTS[part] for part in unit.split("·"))


@lru_cache(maxsize=1)
def registry() -> UnitRegistry[Any]:
    """pint loaded with the closed list and nothing else (``specs/units.txt``); the same registry at every call."""
    from pint import UnitRegistry  # for weight: see the module's docstring

    return UnitRegistry(join(specs_folder(), "units.txt"))
