"""Tightening records written out again as notation: in their own units, or in another with honest digits.

What is written in its own units reads back to the same record (apart from ``text``). A doubtful notation is never
rewritten: it is handed back as it was written.
"""

from __future__ import annotations

from math import log10

from torquewright.base.figures import places_for, rounded
from torquewright.base.units import UNITS
from torquewright.records.tightening import LOOSE, Angle, Stage, Tightening, Torque


def plain(value: float) -> str:
    """A figure without an exponent and without digits of binary rounding."""
    text = f"{value:.10f}" if abs(value) < 1e6 else f"{value:.3f}"
    text = text.rstrip("0").rstrip(".")
    if len(text.partition(".")[2]) == 3:
        text += "0"  # three decimals alone could be thousands
    return text or "0"


def _printed(value: float, half: float) -> str:
    """``value`` with the digits it was printed with, told by ``half``; a computed one as it is."""
    if half > 0:
        places = -log10(2 * half)
        if abs(places - round(places)) < 1e-9:
            text = f"{value:.{max(round(places), 0)}f}"
            if abs(float(text) - value) <= 1e-9 * max(1.0, abs(value)):
                return text
    return plain(value)


def _honest(value: float, half: float) -> str:
    """``value`` with the digits it carries; one less where the last would be a nought and look like thousands."""
    text = rounded(value, half)
    return text[:-1] if text.endswith("0") and len(text.partition(".")[2]) == 3 else text


def _figures(torque: Torque, unit: str, honest: bool) -> tuple[str | None, str | None, str | None]:
    factor = UNITS[unit].factor if unit else 1.0
    half = torque.half / factor
    write = _honest if honest else _printed
    low, nominal, high = (
        None if value is None else write(value / factor, half) for value in (torque.low, torque.nominal, torque.high)
    )
    return low, nominal, high


def torque_text(torque: Torque, unit: str = "") -> str:
    """One torque as notation: in its own unit, or in ``unit`` with no more digits than it carries."""
    honest = bool(unit) and unit != torque.unit
    unit = unit or torque.unit
    low, nominal, high = _figures(torque, unit, honest)
    if nominal is None:
        if low is not None and high is not None:
            return f"{low} to {high} {unit}".rstrip()
        if high is not None:
            return f"not to exceed {high} {unit}".rstrip()
        return f"not less than {low} {unit}".rstrip()
    if low is None and high is None:
        return f"{nominal} {unit}".rstrip()
    if low is None:
        return f"{nominal} {unit}, max. {high} {unit}"
    if high is None:
        return f"{nominal} {unit}, min. {low} {unit}"
    assert torque.nominal is not None
    assert torque.low is not None
    assert torque.high is not None
    factor = UNITS[unit].factor if unit else 1.0
    up, down = (torque.high - torque.nominal) / factor, (torque.nominal - torque.low) / factor
    if honest:
        places = places_for(torque.nominal / factor, torque.half / factor)
        up_text, down_text = _kept(up, places), _kept(down, places)
    else:
        up_text, down_text = plain(round(up, 9)), plain(round(down, 9))
    if up_text == down_text:
        return f"{nominal} ± {up_text} {unit}"
    return f"{nominal} +{up_text}/-{down_text} {unit}"


def _kept(deviation: float, places: int) -> str:
    """A tolerance in the last place of its figure, or in the next where it would vanish."""
    if deviation > 1e-12 and round(deviation, places) == 0:
        places += 1
    return f"{round(deviation, places):.{max(places, 0)}f}"


def _turns(degrees: float) -> str:
    """Degrees as turns: a fraction where it is a plain one, else a decimal."""
    turns = degrees / 360
    for bottom in (1, 2, 3, 4, 6, 8, 12, 16, 32):
        top = turns * bottom
        if abs(top - round(top)) < 1e-9:
            whole, rest = divmod(round(top), bottom)
            if not rest:
                return str(whole)
            return f"{whole}-{rest}/{bottom}" if whole else f"{rest}/{bottom}"
    return plain(round(turns, 9))


def angle_text(angle: Angle, *, turns: bool = False) -> str:
    """One angle as notation, in degrees or in turns; "back off" where it loosens."""
    if angle.nominal == LOOSE:
        return "back off"
    back = "back off " if angle.nominal < 0 else ""
    low, nominal, high = angle.low, angle.nominal, angle.high
    if back:
        low, nominal, high = (None if high is None else -high), -nominal, (None if low is None else -low)
    write = _turns if turns else lambda degrees: plain(round(degrees, 9))
    unit = (" turn" if nominal <= 360 else " turns") if turns else "°"
    if low is not None and high is not None:
        middle = abs((low + high) / 2 - nominal) < 1e-9
        if middle and turns:
            return f"{back}{write(low)} to {write(high)}{unit}"
        if middle:
            return f"{back}{write(nominal)} ± {write(high - nominal)}{unit}"
        return f"{back}{write(nominal)}{unit} +{write(high - nominal)}{unit}/-{write(nominal - low)}{unit}"
    if high is not None:
        return f"{back}not more than {write(high)}{unit}"
    if low is not None:
        return f"{back}at least {write(low)}{unit}"
    return f"{back}{write(nominal)}{unit}"


def _stage_text(stage: Stage, unit: str, turns: bool) -> str:
    if stage.torque is not None:
        return torque_text(stage.torque, unit)
    if stage.angle is not None:
        return angle_text(stage.angle, turns=turns)
    return "hand-tight"


def notation(tightening: Tightening, unit: str = "") -> str:
    """``tightening`` as notation: with its own units and digits, or every torque in ``unit`` with honest digits."""
    if not unit and tightening.doubt:
        return tightening.text
    if unit and not tightening.has_value:
        return tightening.text
    turns = tightening.kind == "turns"
    parts: list[str] = []
    last = max((at for at, stage in enumerate(tightening.stages) if stage.torque is not None), default=-1)
    for at, stage in enumerate(tightening.stages):
        text = _stage_text(stage, unit, turns)
        if at == last and not unit and tightening.also:
            text += f" ({'; '.join(torque_text(other) for other in tightening.also)})"
        parts.append(text)
    text = ", then ".join(parts)
    return f"{text} plus the running torque" if tightening.added else text
