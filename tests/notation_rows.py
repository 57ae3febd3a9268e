"""Rows of the notation tables, and a reading put into the short form those tables and the tests use."""

from __future__ import annotations

import csv
from pathlib import Path

from torquewright.base.units import UNITS
from torquewright.records.tightening import Angle, Tightening, Torque

FOLDER = Path(__file__).parent / "notations"


def rows(name: str) -> list[dict[str, str]]:
    """The rows of a table; lines that begin with ``#`` are remarks."""
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def figure(value: float) -> str:
    return f"{value:.6g}"


def _torque(torque: Torque) -> str:
    factor = UNITS[torque.unit].factor if torque.unit else 1.0
    low, nominal, high = (
        "" if value is None else figure(value / factor) for value in (torque.low, torque.nominal, torque.high)
    )
    shown = nominal
    if low or high:
        shown += f"[{low}..{high}]"
    return f"{shown} {torque.unit or '?'}"


def _angle(angle: Angle) -> str:
    shown = figure(angle.nominal) + "°"
    if angle.low is not None or angle.high is not None:
        ends = ("" if value is None else figure(value) for value in (angle.low, angle.high))
        shown += f"[{'..'.join(ends)}]"
    return shown


def short(tightening: Tightening) -> str:
    """``"stage: 12 N·m > [22..26] N·m"``: the kind, then the stages, the further units after ``=``."""
    stages = " > ".join(
        _torque(stage.torque) if stage.torque else _angle(stage.angle) if stage.angle else "hand"
        for stage in tightening.stages
    )
    also = "".join(f" = {_torque(other)}" for other in tightening.also)
    return f"{tightening.kind}: {stages}{also}{' + drag' if tightening.added else ''}"
