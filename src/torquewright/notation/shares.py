"""Shares of a torque and equal steps up to it: "50 %", "half of the final torque", "full torque of", thirds."""

from __future__ import annotations

from torquewright.base.units import UNITS
from torquewright.notation.counting import number_at, part_at
from torquewright.notation.measured import Measured
from torquewright.notation.phrases import skip, text_at
from torquewright.notation.spelling import Token, words
from torquewright.notation.torques import torque_at


def shared(held: Measured, share: float) -> Measured:
    """``share`` of a torque, as a torque."""
    part = Measured(held.number, held.unit)
    part.nominal = None if held.nominal is None else held.nominal * share
    part.low = None if held.low is None else held.low * share
    part.high = None if held.high is None else held.high * share
    part.nominal_at, part.low_at, part.high_at = held.nominal_at, held.low_at, held.high_at
    return part


_FULL = frozenset({"full", "final", "total", "specified", "all", "whole"})
_AFTER_PART = frozenset({"of", "torque", "the", ",", "then", "and", "value", "final", "("})
_SHARE_TAIL = words(
    "the its of final full specified total rated stated recommended required given finished end torque "
    "value figure setting tightening torque's"
)


def share_at(toks: list[Token], i: int) -> tuple[float, int] | None:
    """A share of a torque not named yet: "50 %", "half of the final torque", "2/3 torque"; the index after it."""
    number = number_at(toks, i)
    part = part_at(toks, i)
    if number is None:
        return None
    value, j = number[0].value, number[1]
    if text_at(toks, j) in ("%", "percent", "pct"):
        value, j = value / 100, j + 1
    elif text_at(toks, j) == "per" and text_at(toks, j + 1) == "cent":
        value, j = value / 100, j + 2
    elif (
        value > 1
        or text_at(toks, j) not in _AFTER_PART
        or (part is None and number[0].pair is None and toks[i].text[-1] in "0123456789")
    ):
        return None
    if not 0 < value <= 1:
        return None
    k = j
    while text_at(toks, k) in _SHARE_TAIL and number_at(toks, k) is None:
        if text_at(toks, k) == "of" and torque_at(toks, k + 1) is not None:
            break
        k += 1
    return value, k


def full_at(toks: list[Token], i: int) -> tuple[int, bool] | None:
    """Past "full torque of", "100 % =", "final torque (": where the torque itself begins, and whether in a bracket."""
    j = i
    share = share_at(toks, i)
    if share is not None and share[0] == 1.0:
        j = share[1]
    else:
        j = skip(toks, i, frozenset({"the", "to", "its", "at"}))
        if text_at(toks, j) not in _FULL:
            return None
        j = skip(toks, j, _SHARE_TAIL)
    if text_at(toks, j) in ("of", "=", ":", ",", "at", "to", "is"):
        return j + 1, False
    if text_at(toks, j) in ("(", "["):
        return j + 1, True
    return j, False


def steps_to(held: Measured, size: float, start: float | None = None) -> list[Measured] | None:
    """Equal steps of ``size`` (written unit of ``held``) up to ``held``; None when that would be no sensible list."""
    final = held.nominal if held.nominal is not None else held.high
    if final is None or size <= 0 or final / size > 60:
        return None
    rungs: list[Measured] = []
    value = start if start is not None else size
    while value < final * (1 - 1e-9):
        rungs.append(shared(held, value / final) if held.nominal is not None else _rung(held, value))
        value += size
    return [*rungs, held]


def _rung(held: Measured, value: float) -> Measured:
    return Measured(held.number._replace(value=value), held.unit)


def in_unit_of(step: Measured, held: Measured) -> float | None:
    """The figure of ``step`` in the written unit of ``held``."""
    if step.nominal is None or step.unit is None or held.unit is None or not step.unit.name or not held.unit.name:
        return None
    si = step.nominal * UNITS[step.unit.name].factor * step.unit.scale
    return si / (UNITS[held.unit.name].factor * held.unit.scale)
