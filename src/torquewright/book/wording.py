"""Facts put into words: a template of a rule file, filled with the raw values of a finding.

Pure text: names and step labels are asked of two functions, so that nothing here knows a record.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from torquewright.base.figures import neat
from torquewright.base.units import UNITS, from_si, to_si

KINDS = frozenset(
    {
        "number", "torque", "angle", "length", "volume", "time", "temperature", "percent", "force", "pressure",
        "text", "name", "step",
    }
)  # fmt: skip
"""The kinds of fact a rule file may declare."""

# patterns are compiled on first use (re keeps them): a sound procedure needs none of them
_HOLE = r"\{\{|\}\}|\{([a-z_][a-z0-9_]*)(?:\|([^|{}]*)\|([^|{}]*))?\}"
_POUNDS = frozenset({"lbf·ft", "lbf·in", "ozf·in"})
_INCH_POUNDS_BELOW = 20.0  # N·m; common practice, no source: inch-pound wrenches end between 20 and 30 N·m
_NOT_STATED = "(not stated)"

Facts = Mapping[str, str | int | float]


def _figure(value: float) -> str:
    """Three significant figures, a fourth where it is exactly there (24.55 stays 24.55, 33.8954 becomes 33.9)."""
    four = neat(value, 4)
    return four if abs(float(four) - value) <= 1e-9 * abs(value) else neat(value, 3)


def torque_text(value: float, unit: str = "") -> str:
    """A torque (N·m) in ``unit`` ("" is N·m), with the other system in brackets."""
    unit = unit or "N·m"
    if unit in _POUNDS:
        other = "N·m"
    elif unit == "N·m":
        other = "lbf·in" if abs(value) < _INCH_POUNDS_BELOW else "lbf·ft"
    else:
        other = "N·m"
    return f"{_figure(from_si(value, unit))} {unit} ({neat(from_si(value, other), 3)} {other})"


def _scaled(value: float, unit: str) -> str:
    return f"{_figure(from_si(value, unit))} {unit}"


def _time_text(value: float) -> str:
    for unit, least in (("d", 2 * 86400.0), ("h", 2 * 3600.0), ("min", 120.0)):
        if abs(value) >= least:
            return _scaled(value, unit)
    return _scaled(value, "s")


def fact_text(
    value: str | int | float,
    kind: str,
    unit: str = "",
    name: Callable[[str], str] = str,
    label: Callable[[int], str] = str,
) -> str:
    """One raw value, told. ``name`` turns an id into a name and ``label`` a step index into its label."""
    if kind == "name":
        return name(str(value))
    if kind == "text":
        return str(value)
    number = float(value)
    if kind == "step":
        return label(int(number))
    if kind == "number":
        return _figure(number)
    if kind == "torque":
        return torque_text(number, unit)
    if kind == "angle":
        return f"{_figure(number)}°"
    if kind == "length":
        return _scaled(number, "mm")
    if kind == "volume":
        return _scaled(number, "L" if abs(number) >= 1e-4 else "mL")
    if kind == "time":
        return _time_text(number)
    if kind == "temperature":
        return _scaled(number, "°C")
    if kind == "percent":
        return f"{neat(number * 100, 3)} %"
    if kind == "force":
        return _scaled(number, "kN" if abs(number) >= 1000 else "N")
    if kind == "pressure":
        return _scaled(number, "MPa")
    raise ValueError(f"unknown kind of fact {kind!r}")


def holes(template: str) -> set[str]:
    """The names of the facts a template asks for."""
    return {match[1] for match in re.finditer(_HOLE, template) if match[1]}


def fill(
    template: str,
    facts: Facts,
    kinds: Mapping[str, str],
    unit: str = "",
    name: Callable[[str], str] = str,
    label: Callable[[int], str] = str,
) -> str:
    """``template`` with its holes filled. A fact the finding does not carry reads "(not stated)"."""

    def put(match: re.Match[str]) -> str:
        key, one, many = match.groups()
        if key is None:
            return match[0][0]
        value = facts.get(key)
        if one is not None:
            return one if value == 1 else many
        if value is None:
            return _NOT_STATED
        return fact_text(value, kinds.get(key, "text"), unit, name, label)

    return re.sub(_HOLE, put, template)


def plain_fact(value: str | int | float, kind: str, label: Callable[[int], str] = str) -> str:
    """A raw value in the notation of a rule file's cases: one figure, one SI unit, ids left as ids."""
    if kind in ("name", "text"):
        return str(value)
    if kind == "step":
        return label(int(value))
    unit = _PLAIN.get(kind, "")
    number = from_si(float(value), unit) if unit else float(value)
    return f"{number:.12g} {unit}".rstrip()


_PLAIN = {
    "torque": "N·m", "angle": "°", "length": "m", "volume": "L", "time": "s", "temperature": "K", "force": "N",
    "pressure": "Pa",
}  # fmt: skip


def facts_agree(wanted: str, got: str) -> bool:
    """Whether two facts in the notation of the cases say the same.

    Words must be equal. Quantities are compared in SI, within half of the last digit ``wanted`` carries (a little
    is added for the float it was worked out with).
    """
    if wanted == got:
        return True
    left, right = quantity(wanted), quantity(got)
    if left is None or right is None or left[2] != right[2]:
        return False
    return abs(left[0] - right[0]) <= left[1] * (1 + 1e-9) + 1e-9 * abs(left[0])


_QUANTITY = r"([-+]?\d+(?:\.(\d+))?(?:[eE]([-+]?\d+))?)\s*(\S.*)?"


def quantity(text: str) -> tuple[float, float, str] | None:
    """Value and half of its last digit in SI, and what it measures; None for words."""
    match = re.fullmatch(_QUANTITY, text.strip())
    if match is None:
        return None
    value = float(match[1])
    half = 0.5 * 10.0 ** (int(match[3] or 0) - len(match[2] or ""))
    unit = (match[4] or "").strip()
    if unit == "%":
        return value / 100, half / 100, "number"
    if not unit:
        return value, half, "number"
    held = UNITS.get(unit)
    if held is None:
        return None
    return to_si(value, unit), half * held.factor, held.measures
