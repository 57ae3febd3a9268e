"""Conversions: a notation, an amount or a pint quantity in another unit, with no more digits than the source carries.

``convert`` is the public function; ``facts`` is the same as plain values for programs.
"""

from __future__ import annotations

from math import floor, log10
from typing import Any, NamedTuple, overload

from torquewright.base.figures import decimals_for, neat, places_for, rounded
from torquewright.base.units import UNITS, from_si
from torquewright.notation.notread import NotRead
from torquewright.notation.tightening import read_tightening
from torquewright.notation.writing import angle_text, notation, plain
from torquewright.records.parts import Amount
from torquewright.records.tightening import Tightening, Torque
from torquewright.toml.quantities import read_amount, unit_named


class Converted(NamedTuple):
    """A figure in another unit.

    ``text`` carries no more digits than the source; ``value`` is the figure in ``unit``, None where the source gives
    limits only; ``low`` and ``high`` are what the printed digits of the source stand for, from the lower end of its
    lowest figure to the upper end of its highest; ``minimum`` and ``maximum`` are limits the source states.
    """

    text: str
    unit: str
    value: float | None
    low: float
    high: float
    minimum: float | None
    maximum: float | None
    source: Tightening | Amount

    def quantity(self) -> Any:
        """The value (the middle of two limits) as a pint quantity of :func:`torquewright.book.registry.registry`."""
        from torquewright.book.registry import pint_name, registry  # for weight: pint

        value = (self.low + self.high) / 2 if self.value is None else self.value
        return registry().Quantity(value, pint_name(self.unit))


@overload
def convert(source: str | Tightening, unit: str) -> Converted: ...
@overload
def convert(source: Any, unit: str) -> Any: ...
def convert(source: Any, unit: str) -> Any:
    """``source`` in ``unit``: ``convert("25 ft-lb", "N·m").text`` is ``"34 N·m"``.

    ``source`` is a tightening text, a text with another quantity ("3/8 in", "2 US qt"), a ``Tightening``, or a pint
    quantity of any registry, for which a pint quantity of that registry comes back. ``unit`` is any spelling of a
    unit of the closed list. Raises :class:`~torquewright.notation.notread.NotRead` where the source cannot be read,
    states no figure with a unit, or measures something else than ``unit``; TypeError for anything else.
    """
    wanted = unit_named(unit)
    if isinstance(source, Tightening):
        return _tightening(source, wanted)
    if isinstance(source, str):
        if UNITS[wanted].measures == "torque":
            return _tightening(read_tightening(source), wanted)
        return _amount(source, wanted)
    if hasattr(source, "magnitude") and hasattr(source, "_REGISTRY"):
        return _quantity(source, wanted)
    raise TypeError(f"a text, a Tightening or a pint quantity can be converted, not {type(source).__name__}")


def _tightening(tightening: Tightening, unit: str) -> Converted:
    torque = tightening.torque
    if UNITS[unit].measures != "torque":
        raise NotRead(f"a torque cannot be told in {unit}", 0, len(tightening.text), "a torque unit such as N·m")
    if torque is None or not torque.unit:
        other = " or ".join(f'"{text}"' for text in tightening.readings) or "a torque with its unit"
        raise NotRead("it states no torque that could be converted", 0, len(tightening.text), other)
    low, high = (value if value is not None else torque.target for value in torque.band)
    if low is None or high is None:  # a torque with a unit has at least one figure
        raise AssertionError(tightening)
    half = torque.half
    return Converted(
        notation(tightening, unit), unit, _in(torque.nominal, unit), from_si(max(low - half, 0.0), unit),
        from_si(high + half, unit), _in(torque.low, unit), _in(torque.high, unit), tightening,
    )  # fmt: skip


def _in(value: float | None, unit: str) -> float | None:
    return None if value is None else from_si(value, unit)


def _is_torque(text: str) -> bool:
    try:
        return read_tightening(text).torque is not None
    except NotRead:
        return False


def _amount(text: str, unit: str) -> Converted:
    measures = UNITS[unit].measures
    kinds = ("length", "distance") if measures in ("length", "distance") else (measures,)
    try:
        amount = read_amount(text, kinds)
    except NotRead:
        if _is_torque(text):
            raise NotRead(f"a torque cannot be told in {unit}", 0, len(text), "a torque unit such as N·m") from None
        raise
    factor = UNITS[unit].factor
    half = amount.half
    low = amount.value if amount.low is None else amount.low
    high = amount.value if amount.high is None else amount.high
    figures = [low, high] if amount.low is not None and amount.high is not None else [amount.value]
    shown = " to ".join(rounded(from_si(figure, unit), half / factor) for figure in figures)
    value = (
        None
        if len(figures) == 2 and abs((low + high) / 2 - amount.value) < 1e-12 * abs(high)
        else from_si(amount.value, unit)
    )
    return Converted(
        f"{shown} {unit}", unit, value, from_si(low - half, unit), from_si(high + half, unit),
        _in(amount.low, unit), _in(amount.high, unit), amount,
    )  # fmt: skip


def _quantity(quantity: Any, unit: str) -> Any:
    """A pint quantity in ``unit``, in its own registry."""
    from pint.errors import DimensionalityError, UndefinedUnitError  # already loaded: its caller has a quantity

    from torquewright.book.registry import pint_name

    registry = quantity._REGISTRY
    text = str(quantity)
    if UNITS[unit].measures == "torque":
        # joules have the dimension of a torque and are none; so has a torque per radian
        for name, _ in quantity.unit_items():
            dimension = registry.get_dimensionality(name)
            if not dimension or (len(dimension) > 1 and dimension == registry.get_dimensionality("newton * meter")):
                raise NotRead(f"{name} is no part of a torque unit", 0, len(text), "a force times a length")
    try:
        return quantity.to(pint_name(unit))
    except DimensionalityError:
        raise NotRead(
            f"{text} cannot be told in {unit}", 0, len(text), f"a quantity that measures {UNITS[unit].measures}"
        ) from None
    except UndefinedUnitError as missing:
        raise NotRead(
            f"the registry of the quantity does not know {missing}",
            0,
            len(text),
            "a quantity of torquewright's registry",
        ) from None


# -- as plain values --------------------------------------------------------------------------------------------------


def counterpart(unit: str, value: float) -> str:
    """The unit to show beside ``unit`` for ``value`` N·m: N·m for a customary one, else lbf·in or lbf·ft."""
    if unit.startswith(("lbf", "ozf")):
        return "N·m"
    return "lbf·in" if value < 15 else "lbf·ft"


def _number(value: float | None) -> float | None:
    """A float without the digits of binary rounding."""
    if value is None:
        return None
    return value if value == 0 else round(value, 11 - floor(log10(abs(value))))


def _carried(value: float | None, half: float) -> float | None:
    """``value`` rounded to the digits it carries; both in the unit shown."""
    if value is None:
        return None
    return round(value, places_for(value, half)) if half > 0 else _number(value)


def _figure(torque: Torque, unit: str) -> dict[str, Any]:
    factor = UNITS[unit].factor if unit else 1.0
    half = torque.half / factor
    carried = [
        _carried(None if value is None else value / factor, half) for value in (torque.nominal, torque.low, torque.high)
    ]
    return {"value": carried[0], "unit": unit or None, "min": carried[1], "max": carried[2]}


def facts(tightening: Tightening, unit: str = "N·m") -> dict[str, Any]:
    """What a tightening says, as plain values: limits and figures in N·m, angles in degrees, the figure in ``unit``.

    ``min_nm`` and ``max_nm`` are the limits the text gives, None where it gives none; ``nominal_nm`` is the single
    or nominal figure of the last stage; ``value`` is that figure in ``unit`` with the digits it carries, ``low`` and
    ``high`` what those digits stand for. A figure without a torque unit has no values in N·m.
    """
    torque = tightening.torque
    known = torque is not None and torque.unit != ""
    low = high = None
    if torque is not None and known:
        shown = _figure(torque, unit)
        ends = [value for value in (torque.low, torque.nominal, torque.high) if value is not None]
        factor = UNITS[unit].factor
        low = _number((max(ends[0] - torque.half, 0.0)) / factor)
        high = _number((ends[-1] + torque.half) / factor)
    else:
        shown = {"value": None, "unit": None, "min": None, "max": None}
    return {
        "text": tightening.text,
        "kind": tightening.kind,
        "min_nm": _number(torque.low) if torque is not None and known else None,
        "max_nm": _number(torque.high) if torque is not None and known else None,
        "nominal_nm": _number(torque.nominal) if torque is not None and known else None,
        "stages_nm": [
            _stage(stage.torque) for stage in tightening.stages if stage.torque is not None and stage.torque.unit
        ],
        "angles_deg": [
            [_number(angle.low), _number(angle.high)]
            if angle.low is not None and angle.high is not None
            else _number(angle.nominal)
            for angle in tightening.angles
        ],
        "added_to_running_torque": tightening.added,
        "ambiguous": bool(tightening.doubt),
        "doubt": tightening.doubt,
        "readings": list(tightening.readings),
        **shown,
        "low": low,
        "high": high,
        "shown": notation(tightening, unit) if known else "",
        "written": None if torque is None else _figure(torque, torque.unit),
        "also": [_figure(other, other.unit) for other in tightening.also],
    }


def _stage(torque: Torque) -> Any:
    if torque.nominal is not None:
        return _number(torque.nominal)
    return [_number(torque.low), _number(torque.high)]


def line(tightening: Tightening, units: tuple[str, ...]) -> str:
    """One line for people: the text as written, then each unit with what its digits stand for."""
    torque = tightening.torque
    if torque is None or not torque.unit:
        if torque is not None:
            return f"{tightening.text}: no torque unit"
        angles = ", then ".join(angle_text(angle) for angle in tightening.angles)
        return f"{tightening.text} = {angles}" if angles else f"{tightening.text}: by hand, no figure"
    parts = []
    for unit in units:
        held = _tightening(tightening, unit)
        half = torque.half / UNITS[unit].factor
        ends = f"{_edge(held.low, half)} to {_edge(held.high, half)}"
        parts.append(f"{held.text} ({ends})" if len(tightening.stages) == 1 else f"{held.text} (last torque {ends})")
    return f"{tightening.text} = {'; '.join(parts)}"


def amount_line(text: str, unit: str) -> str:
    """One line for people: an amount that is no torque, in ``unit``."""
    held = _amount(text, unit)
    assert isinstance(held.source, Amount)
    half = held.source.half / UNITS[unit].factor
    return f"{text} = {held.text} ({_edge(held.low, half)} to {_edge(held.high, half)})"


def amount_facts(text: str, unit: str) -> dict[str, Any]:
    """An amount that is no torque, in ``unit``, as plain values."""
    held = _amount(text, unit)
    assert isinstance(held.source, Amount)
    half = held.source.half / UNITS[unit].factor
    return {
        "text": text, "kind": UNITS[unit].measures, "ambiguous": False, "value": _carried(held.value, half),
        "unit": unit, "min": _carried(held.minimum, half), "max": _carried(held.maximum, half),
        "low": _number(held.low), "high": _number(held.high), "shown": held.text,
    }  # fmt: skip


def _edge(value: float, half: float) -> str:
    """An end of an interval, with one digit more than the figures it bounds."""
    if half <= 0:
        return neat(value, 6)
    return plain(round(value, decimals_for(half) + (1 if half < 5 else 0)))
