"""The closed list of units, with exact factors to SI, and the spellings people use for them.

``UNITS`` is the list; nothing outside it is ever accepted. Factors are written as exact products of the
defining constants (international pound 0.45359237 kg, standard gravity 9.80665 m/s2, inch 25.4 mm, US gallon
231 in3, imperial gallon 4.54609 L; NIST SP 811, 2008, appendix B) and proved equal to pint loaded with
specs/units.txt by the tests. Angles are in degrees, which the SI accepts for use with its own units.
"""

from __future__ import annotations

from typing import NamedTuple

_POUND = 0.45359237 * 9.80665  # pound-force in newtons
_FOOT = 0.3048
_INCH = 0.0254
_GALLON = 231 * _INCH**3


class Unit(NamedTuple):
    """One accepted unit: its name, what it measures, its factor to SI (plus an offset for temperatures)."""

    name: str
    measures: str
    factor: float
    offset: float = 0.0


UNITS: dict[str, Unit] = {
    unit.name: unit
    for unit in (
        Unit("N·m", "torque", 1.0),
        Unit("mN·m", "torque", 1e-3),
        Unit("cN·m", "torque", 1e-2),
        Unit("daN·m", "torque", 10.0),
        Unit("kN·m", "torque", 1e3),
        Unit("lbf·ft", "torque", _POUND * _FOOT),
        Unit("lbf·in", "torque", _POUND * _INCH),
        Unit("ozf·in", "torque", _POUND / 16 * _INCH),
        Unit("kgf·m", "torque", 9.80665),
        Unit("kgf·cm", "torque", 9.80665e-2),
        Unit("gf·cm", "torque", 9.80665e-5),
        Unit("dyn·cm", "torque", 1e-7),
        Unit("N", "force", 1.0),
        Unit("kN", "force", 1e3),
        Unit("lbf", "force", _POUND),
        Unit("ozf", "force", _POUND / 16),
        Unit("kgf", "force", 9.80665),
        Unit("m", "length", 1.0),
        Unit("cm", "length", 1e-2),
        Unit("mm", "length", 1e-3),
        Unit("µm", "length", 1e-6),
        Unit("in", "length", _INCH),
        Unit("ft", "length", _FOOT),
        Unit("km", "distance", 1e3),
        Unit("mi", "distance", 1609.344),
        Unit("L", "volume", 1e-3),
        Unit("mL", "volume", 1e-6),
        Unit("cm³", "volume", 1e-6),
        Unit("US gal", "volume", _GALLON),
        Unit("US qt", "volume", _GALLON / 4),
        Unit("US pt", "volume", _GALLON / 8),
        Unit("US fl oz", "volume", _GALLON / 128),
        Unit("imp gal", "volume", 4.54609e-3),
        Unit("imp qt", "volume", 4.54609e-3 / 4),
        Unit("imp pt", "volume", 4.54609e-3 / 8),
        Unit("imp fl oz", "volume", 4.54609e-3 / 160),
        Unit("K", "temperature", 1.0),
        Unit("°C", "temperature", 1.0, 273.15),
        Unit("°F", "temperature", 5 / 9, 459.67 * 5 / 9),
        Unit("°", "angle", 1.0),
        Unit("rad", "angle", 57.29577951308232),
        Unit("turn", "angle", 360.0),
        Unit("s", "time", 1.0),
        Unit("min", "time", 60.0),
        Unit("h", "time", 3600.0),
        Unit("d", "time", 86400.0),
        Unit("Pa", "pressure", 1.0),
        Unit("kPa", "pressure", 1e3),
        Unit("MPa", "pressure", 1e6),
        Unit("bar", "pressure", 1e5),
        Unit("psi", "pressure", _POUND / _INCH**2),
    )
}


def to_si(value: float, unit: str) -> float:
    """``value`` of ``unit`` in the SI unit of what it measures (degrees for angles). KeyError outside the list."""
    held = UNITS[unit]
    return value * held.factor + held.offset


def from_si(value: float, unit: str) -> float:
    """The inverse of :func:`to_si`."""
    held = UNITS[unit]
    return (value - held.offset) / held.factor
