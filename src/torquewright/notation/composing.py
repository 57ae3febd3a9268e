"""From what was read to the record: stages in order, the kind of the notation, its doubts and its other readings."""

from __future__ import annotations

from torquewright.notation.angles import AngleRead
from torquewright.notation.gathered import Notation
from torquewright.notation.hand import HandRead
from torquewright.notation.measured import Measured
from torquewright.notation.writing import plain
from torquewright.records.tightening import Kind, Stage, Tightening

_LIST_DOUBT = "figures in a row may be passes of one joint or figures of different joints"
_PASS_DOUBT = "the figures of the passes before the last are not given"


def _spelled(held: Measured, unit: str, *, low: float | None = None, high: float | None = None) -> str:
    """The torque of ``held`` in plain notation, its figures taken to be in ``unit``."""
    low = held.low if low is None else low
    high = held.high if high is None else high
    end = f" {unit}" if unit else ""
    if low is not None and high is not None:
        if low > high:
            low, high = high, low
        if held.nominal is not None and abs((high - held.nominal) - (held.nominal - low)) < 1e-9:
            return f"{plain(held.nominal)} ± {plain(high - held.nominal)}{end}"
        if held.nominal is not None:
            return f"{plain(held.nominal)} +{plain(high - held.nominal)}/-{plain(held.nominal - low)}{end}"
        return f"{plain(low)} to {plain(high)}{end}"
    if held.limit == "max" and high is not None:
        return f"not to exceed {plain(high)}{end}"
    if held.limit == "min" and low is not None:
        return f"not less than {plain(low)}{end}"
    return f"{plain(held.nominal or 0.0)}{end}"


def _written_unit(held: Measured) -> str:
    unit = held.unit
    if unit is None or not unit.name:
        return ""
    if unit.scale == 1.0:
        return unit.name
    return {1e-2: "N·cm", 1e-3: "N·mm", 0.1: "dN·m"}.get(unit.scale, unit.name) if unit.name == "N·m" else unit.name


def _readings(held: Measured) -> list[str]:
    """The notations a doubtful torque may stand for."""
    unit = _written_unit(held)
    found: list[str] = []
    if held.unit is not None:
        found.extend(_spelled(held, name) for name in held.unit.could)
    for way in held.readings:
        if way == "marks":
            twin = held.other_marks()
            found.append(_spelled(held, unit))
            if twin is not None:
                found.append(_spelled(twin, unit))
        elif way in ("range", "reversed"):
            found.append(_spelled(held, unit))
        elif way == "stages" and held.low is not None and held.high is not None:
            found.append(f"{plain(held.low)} {unit}, then {plain(held.high)} {unit}")
        elif way == "either" and held.low is not None and held.high is not None:
            found.extend(f"{plain(value)} {unit}" for value in (held.low, held.high))
        elif way == "each":
            found.append(_spelled(held, unit))
            found.extend(_spelled(other, _written_unit(other)) for other in held.also)
        else:
            found.append(way)
    if held.limit == "max" and any(doubt.startswith("a ceiling") for doubt in held.doubts) and held.high is not None:
        found.extend((_spelled(held, unit), f"{plain(held.high)} {unit}"))
    return found


def _plain_kind(held: Measured) -> Kind:
    if held.unit is None:
        return "unitless"
    if held.limit == "about":
        return "dual_unit" if held.also else "tolerance"
    if held.nominal is None and held.low is None:
        return "maximum"
    if held.nominal is None and held.high is None:
        return "minimum"
    if held.also:
        return "dual_unit"
    if held.nominal is None:
        return "range"
    return "single" if held.low is None and held.high is None else "tolerance"


def _kind(held: Notation, torques: list[Measured], angles: list[AngleRead]) -> Kind:
    if held.added:
        return "prevailing_added"
    if not torques:
        if not angles:
            return "hand_tight"
        return "turns" if angles[0].turns else "angle_only"
    last = held.pulls[-1]
    if any(angle.angles[0].nominal > 0 for angle in angles) or isinstance(last, AngleRead):
        return "stage_angle"
    if len(torques) > 1 or angles or len(held.pulls) > 1 or held.count is not None or _PASS_DOUBT in held.doubts:
        return "stage"
    return _plain_kind(torques[0])


def record(text: str, held: Notation) -> Tightening:
    """The tightening ``held`` stands for; ``text`` is the notation as written."""
    stages: list[Stage] = []
    torques: list[Measured] = []
    angles: list[AngleRead] = []
    doubts = list(held.doubts)
    readings = list(held.readings)
    for pull in held.pulls:
        if isinstance(pull, Measured):
            torques.append(pull)
            stages.append(Stage(pull.torque()))
            if pull.unit is not None and pull.unit.doubt:
                doubts.append(pull.unit.doubt)
            doubts.extend(pull.doubts)
            readings.extend(_readings(pull))
        elif isinstance(pull, AngleRead):
            angles.append(pull)
            stages.extend(Stage(angle=angle) for angle in pull.angles)
        elif isinstance(pull, HandRead):
            stages.append(Stage())
    if held.listed and not held.staged and len(torques) > 1:
        doubts.append(_LIST_DOUBT)
        unit = _written_unit(torques[-1])
        readings.append(", then ".join(_spelled(each, unit) for each in torques))
    kind = _kind(held, torques, angles)
    if (
        kind == "stage"
        and len(torques) == 1
        and held.count is not None
        and held.count > 1
        and len(stages) == 1
        and _PASS_DOUBT not in doubts
    ):
        doubts.append(_PASS_DOUBT)
    if kind == "unitless":
        doubts.append("the figure has no unit")
        shape = torques[0]
        readings.extend(_spelled(shape, name) for name in ("N·m", "lbf·ft", "lbf·in"))
    also = tuple(other.torque() for other in torques[-1].also) if torques else ()
    return Tightening(
        text, kind, tuple(stages), also, held.added, "; ".join(dict.fromkeys(doubts)),
        tuple(dict.fromkeys(readings)) if doubts else (),
    )  # fmt: skip
