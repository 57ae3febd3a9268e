"""What is asked of a joint and what is answered: the joint in SI units, and its figures with range and source.

The figures of an :class:`Answer` stand in the units their keys name (``_n``, ``_nm``, ``_mpa``, ``_mm``, ``_mm2``),
because that is how they are shown and compared.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from torquewright.joint.preload import Span
from torquewright.joint.threads import Shape
from torquewright.joint.wrench import Window

CAUTION = (
    "Estimates for orientation only. The value of the machine's maker prevails, and so do local codes; work that "
    "needs a licence stays with the person who holds it."
)


class Joint(NamedTuple):
    """A joint as far as it is known: lengths in metres, torques in N·m, forces in newtons, stresses in pascals,
    fractions as 0..1, ``angle`` in degrees. None or "" means not stated.

    At most one of ``torque``, ``preload``, ``share_of_yield`` and ``share_of_proof`` drives the computation.
    ``scatter`` is a stated scatter of preload about its nominal value and replaces what friction and tool would
    give. ``head`` names the bearing face where ``bearing_diameter`` is not given. ``washer`` puts a plain washer
    of the standard size, or of the stated size, under the head. ``length`` is the clamped length. ``wrench`` is the
    tool in the hand and ``adapter_gain`` what an adapter on it multiplies its setting by.
    """

    thread: Shape
    property_class: str = ""
    torque: Span | None = None
    preload: float | None = None
    share_of_yield: float | None = None
    share_of_proof: float | None = None
    friction_thread: Span | None = None
    friction_head: Span | None = None
    nut_factor: Span | None = None
    condition: str = ""
    scatter: float | None = None
    tool_deviation: float | None = None
    head: str = "hex"
    bearing_diameter: float | None = None
    hole: float | None = None
    washer: bool = False
    washer_outer: float | None = None
    washer_thickness: float | None = None
    mating_material: str = ""
    shear_strength: float | None = None
    bearing_material: str = ""
    engagement: float | None = None
    nut_class: str = ""
    length: float | None = None
    angle: float | None = None
    drag: float | None = None
    wrench: Window | None = None
    adapter_gain: float | None = None


class Figure(NamedTuple):
    """One figure: ``value`` in the unit the key names, its range where it has one, how it was worked out and what
    that rests on. ``firm`` is False where something from memory went in."""

    key: str
    value: float
    low: float | None
    high: float | None
    how: str
    source: str
    firm: bool = True


class Limit(NamedTuple):
    """A load in newtons at which something gives way."""

    name: str
    load: float
    firm: bool


KEYS = (
    "stress_area_mm2", "preload_n", "preload_low_n", "preload_high_n", "torque_nm", "proof_load_n", "share_of_proof",
    "torque_at_proof_nm", "preload_at_90_percent_of_yield_n", "torque_at_90_percent_of_yield_nm", "yield_load_n",
    "breaking_load_n", "stress_tension_mpa", "stress_torsion_mpa", "stress_combined_mpa", "share_of_yield",
    "nut_factor", "strip_load_internal_n", "strip_load_external_n", "engagement_needed_mm", "nut_proof_load_n",
    "bearing_area_mm2", "bearing_pressure_mpa", "bearing_limit_mpa", "elongation_mm", "preload_by_angle_n",
    "wrench_torque_with_drag_nm", "wrench_setting_nm", "arriving_torque_low_nm", "arriving_torque_high_nm",
)  # fmt: skip
"""All keys an answer can have, in the order they are shown."""


class Answer:
    """What follows from a joint.

    ``figures`` by key; ``missing`` says for each key that could not be worked out what is not known; ``assumed``
    lists what was taken for granted; ``remarks`` are plain statements that follow; ``limits`` the loads at which
    something gives way, lowest first.
    """

    __slots__ = ("assumed", "figures", "joint", "limits", "missing", "remarks")

    def __init__(self, joint: Joint) -> None:
        self.joint = joint
        self.figures: dict[str, Figure] = {}
        self.missing: dict[str, str] = {}
        self.assumed: list[str] = []
        self.remarks: list[str] = []
        self.limits: list[Limit] = []

    def __getitem__(self, key: str) -> float:
        """The value of a figure; KeyError where it could not be worked out."""
        return self.figures[key].value

    def get(self, key: str) -> float | None:
        """The value of a figure, or None."""
        figure = self.figures.get(key)
        return figure.value if figure else None

    def add(
        self, key: str, value: float, how: str, source: str,
        low: float | None = None, high: float | None = None, firm: bool = True,
    ) -> None:  # fmt: skip
        """Hold a figure."""
        self.figures[key] = Figure(key, value, low, high, how, source, firm)

    def lacks(self, why: str, *keys: str) -> None:
        """Say why figures are missing."""
        for key in keys:
            self.missing[key] = why

    def as_dict(self) -> dict[str, Any]:
        """Plain values for JSON: every key of ``KEYS`` (None where missing), then what they rest on."""
        held: dict[str, Any] = {key: self.get(key) for key in KEYS}
        held["sources"] = {
            key: {
                "source": figure.source,
                "how": figure.how,
                "range": None if figure.low is None else [figure.low, figure.high],
                "firm": figure.firm,
            }
            for key, figure in self.figures.items()
        }
        held["limits"] = [
            {"name": limit.name, "load_n": limit.load, "firm": limit.firm} for limit in self.limits
        ]
        held["remarks"] = list(self.remarks)
        held["assumed"] = list(self.assumed)
        held["missing"] = dict(self.missing)
        held["caution"] = CAUTION
        return held
