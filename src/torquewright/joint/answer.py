"""Everything that follows from one joint, each figure with its range and its source.

``compute`` takes a :class:`Joint` in SI units and returns an :class:`Answer` whose figures stand in the units their
keys name (``_n``, ``_nm``, ``_mpa``, ``_mm``, ``_mm2``), because that is how they are shown and compared.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from torquewright.joint import preload as pl
from torquewright.joint import stress
from torquewright.joint.classes import Strength, is_stainless, printed_proof_load, strength
from torquewright.joint.preload import Arms, Span
from torquewright.joint.threads import Shape
from torquewright.joint.wrench import Window, permitted_deviation

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
    adapter_gain: float = 1.0


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


class Rub(NamedTuple):
    """The friction of a joint turned into levers: nominal, least and most, and the thread coefficient to compute
    stresses with."""

    nominal: Arms
    least: Arms
    most: Arms
    mu_thread: float
    source: str
    firm: bool


def compute(joint: Joint) -> Answer:
    """Work out everything that follows from ``joint``.

    ValueError where the input contradicts itself (two drives at once, a nut factor below what the pitch alone
    takes, a figure that is not positive).
    """
    _refuse_nonsense(joint)
    answer = Answer(joint)
    thread = joint.thread
    standard = "ISO 898-1:2013 clause 9.1.6.1" if thread.family == "metric" else "ASME B1.1, FED-STD-H28/2"
    answer.add(
        "stress_area_mm2", thread.stress_area * 1e6, "pi/4 · ((d2 + d3)/2)²" if thread.family == "metric"
        else "0.7854 · (D - 0.9743/n)²", standard,
    )  # fmt: skip
    held = strength(joint.property_class, thread.diameter) if joint.property_class else None
    if held is None:
        told = "no class stated"
        if joint.property_class:
            told = f"no table has class {joint.property_class!r} in this size"
        answer.lacks(
            told, "proof_load_n", "share_of_proof", "torque_at_proof_nm", "yield_load_n", "breaking_load_n",
            "preload_at_90_percent_of_yield_n", "torque_at_90_percent_of_yield_nm", "share_of_yield",
        )  # fmt: skip
    else:
        _loads(answer, held)
    from torquewright.joint import around

    face = around.bearing_face(answer)
    rub = _friction(answer, face.rubbing)
    _drive(answer, rub, held)
    if held is not None:
        _at_the_limits(answer, rub, held)
    around.strip(answer, held)
    around.bear(answer, face)
    around.turn_further(answer, held, rub)
    around.set_wrench(answer)
    answer.limits.sort(key=lambda limit: limit.load)
    return answer


def _refuse_nonsense(joint: Joint) -> None:
    ways = ("torque", "preload", "share_of_yield", "share_of_proof")
    drives = [name for name in ways if getattr(joint, name) is not None]
    if len(drives) > 1:
        raise ValueError(f"only one of {' and '.join(name.replace('_', ' ') for name in drives)} can be given")
    for name in (
        "preload", "share_of_yield", "share_of_proof", "tool_deviation", "bearing_diameter", "hole", "engagement",
        "shear_strength", "length", "washer_outer",
    ):  # fmt: skip
        value = getattr(joint, name)
        if value is not None and not 0 <= value < float("inf"):
            raise ValueError(f"{name.replace('_', ' ')} cannot be {value:g}")
    if joint.tool_deviation is not None and joint.tool_deviation >= 1:
        raise ValueError("a tool deviation of 100 % or more says nothing")


def _loads(answer: Answer, held: Strength) -> None:
    """Proof, yield and breaking load in plain tension."""
    thread = answer.joint.thread
    area = thread.stress_area
    kind = "proof stress" if held.limit_is_proof else "0.2 % proof strength (no proof stress is defined)"
    how = f"{kind} {held.limit / 1e6:.4g} MPa · stress area"
    printed = printed_proof_load(held.name, thread.diameter, thread.pitch) if thread.family == "metric" else None
    if printed:
        how += f"; the standard prints {printed.value:.0f} N"
    answer.add("proof_load_n", held.limit * area, how, held.source, firm=held.firm)
    answer.add("yield_load_n", held.yield_ * area, f"yield {held.yield_ / 1e6:.4g} MPa · stress area", held.source)
    how = f"tensile strength {held.tensile / 1e6:.4g} MPa · stress area"
    answer.add("breaking_load_n", held.tensile * area, how, held.source)
    answer.limits += [
        Limit("proof load", held.limit * area, held.firm),
        Limit("bolt breaks", held.tensile * area, held.firm),
    ]


def _friction(answer: Answer, rubbing: float) -> Rub:
    joint = answer.joint
    thread = joint.thread
    if joint.nut_factor is not None:
        least_possible = thread.pitch / 6.283185307179586 / thread.diameter
        if joint.nut_factor.low < least_possible:
            raise ValueError(
                f"a nut factor of {joint.nut_factor.low:g} is less than the pitch of this thread alone takes "
                f"({least_possible:.3f})"
            )
        mu = Span(*(pl.friction_from_nut_factor(factor, thread, rubbing) for factor in joint.nut_factor))
        heads, source, firm = mu, "T = K F d with the stated nut factor", True
        answer.assumed.append(f"thread and head share the friction {mu.nominal:.3f} that gives this nut factor")
    elif joint.friction_thread is not None or joint.friction_head is not None:
        mu = joint.friction_thread or joint.friction_head or Span.exact(0.0)
        heads = joint.friction_head or mu
        source, firm = "VDI 2230-1 R13, ISO 16047; friction as stated", True
    else:
        found = pl.friction(joint.condition, is_stainless(joint.property_class))
        if found is None:
            found = pl.friction("")
            assert found is not None
            answer.assumed.append(f"no table has the condition {joint.condition!r}; friction as where none is stated")
        mu = heads = found.span
        source, firm = f"VDI 2230-1 R13, ISO 16047; friction: {found.source}", found.firm
        told = f"condition {found.condition}" if joint.condition else "no condition stated"
        answer.assumed.append(
            f"friction {mu.nominal:g} in thread and under the head, {mu.low:g} to {mu.high:g} ({told})"
        )
    rub = Rub(
        pl.arms(thread, mu.nominal, heads.nominal, rubbing), pl.arms(thread, mu.low, heads.low, rubbing),
        pl.arms(thread, mu.high, heads.high, rubbing), mu.nominal, source, firm,
    )  # fmt: skip
    answer.add(
        "nut_factor", pl.nut_factor(rub.nominal, thread.diameter), "(0.159 P + 0.577 µ d2 + 0.5 µ Dkm)/d", rub.source,
        pl.nut_factor(rub.least, thread.diameter), pl.nut_factor(rub.most, thread.diameter), firm,
    )  # fmt: skip
    return rub


def _drive(answer: Answer, rub: Rub, held: Strength | None) -> None:
    """Torque to preload or the other way, with the band the preload falls into."""
    joint = answer.joint
    thread = joint.thread
    wanted: float | None = joint.preload
    how = "as stated"
    if joint.share_of_proof is not None and held is not None:
        wanted, how = joint.share_of_proof * held.limit * thread.stress_area, f"{joint.share_of_proof:.3g} · proof load"
    elif joint.share_of_yield is not None and held is not None:
        wanted = stress.preload_at_yield(held.yield_, joint.share_of_yield, thread, rub.mu_thread)
        how = f"tension and torsion together use {joint.share_of_yield:.3g} of yield (VDI 2230-1 R7)"
    if joint.torque is not None:
        torque, told = joint.torque, "as stated"
        nominal = pl.preload(torque.nominal, rub.nominal)
        how = "T / (0.159 P + 0.577 µ d2 + 0.5 µ Dkm)"
    elif wanted is not None:
        nominal = wanted
        torque, told = Span.exact(pl.torque(wanted, rub.nominal)), "F · (0.159 P + 0.577 µ d2 + 0.5 µ Dkm)"
    else:
        why = "neither torque nor preload stated"
        if joint.share_of_yield is not None or joint.share_of_proof is not None:
            why = "a share of the strength needs a class that is known"
        answer.lacks(
            why, "preload_n", "preload_low_n", "preload_high_n", "torque_nm", "share_of_proof", "share_of_yield",
            "stress_tension_mpa", "stress_torsion_mpa", "stress_combined_mpa", "bearing_pressure_mpa",
        )  # fmt: skip
        return
    low, high, basis = _band(answer, torque, nominal, rub)
    answer.add(
        "torque_nm", torque.nominal, told, rub.source, torque.low if torque.low < torque.high else None,
        torque.high if torque.low < torque.high else None, rub.firm,
    )  # fmt: skip
    answer.add("preload_n", nominal, how, rub.source, low, high, rub.firm)
    answer.add("preload_low_n", low, f"lowest: {basis}", rub.source, firm=rub.firm)
    answer.add("preload_high_n", high, f"highest: {basis}", rub.source, firm=rub.firm)
    if joint.drag is not None:
        answer.add(
            "wrench_torque_with_drag_nm", torque.nominal + joint.drag, "torque + measured running torque",
            "FAA AC 43.13-1B, 1998, paragraph 7-40d",
        )  # fmt: skip
    found = stress.while_tightening(nominal, thread, rub.nominal)
    for key, value in (("tension", found.tension), ("torsion", found.torsion), ("combined", found.combined)):
        answer.add(f"stress_{key}_mpa", value / 1e6, {
            "tension": "F / As", "torsion": "thread torque / (pi dS³/12)", "combined": "sqrt(σ² + 3 τ²)"}[key],
            "VDI 2230-1 R7", firm=rub.firm)  # fmt: skip


def _band(answer: Answer, torque: Span, nominal: float, rub: Rub) -> tuple[float, float, str]:
    joint = answer.joint
    if joint.scatter is not None:
        return *pl.scattered(nominal, joint.scatter), f"stated scatter of {joint.scatter:.0%}"
    deviation = joint.tool_deviation
    if deviation is None:
        deviation = permitted_deviation(torque.nominal)
        answer.assumed.append(f"a setting wrench within {deviation:.0%} (ISO 6789-1:2017, type II class A)")
    low, high = pl.band(torque, rub.least, rub.most, deviation)
    return low, high, f"tool {deviation:.3g} either way, friction from highest to lowest"


def _at_the_limits(answer: Answer, rub: Rub, held: Strength) -> None:
    """Where proof load and 90 % of yield lie, and how much of each is used."""
    thread = answer.joint.thread
    proof = held.limit * thread.stress_area
    firm = rub.firm and held.firm
    answer.add(
        "torque_at_proof_nm", pl.torque(proof, rub.nominal), "proof load · (0.159 P + 0.577 µ d2 + 0.5 µ Dkm)",
        rub.source, pl.torque(proof, rub.least), pl.torque(proof, rub.most), firm,
    )  # fmt: skip
    ninety = stress.preload_at_yield(held.yield_, 0.9, thread, rub.mu_thread)
    answer.add(
        "preload_at_90_percent_of_yield_n", ninety, "0.9 Rp As / sqrt(1 + 3 k²)", "VDI 2230-1 R7, Table A1", firm=firm
    )
    answer.add(
        "torque_at_90_percent_of_yield_nm", pl.torque(ninety, rub.nominal),
        "that preload · (0.159 P + 0.577 µ d2 + 0.5 µ Dkm)", "VDI 2230-1 R7 and R13, Table A1", firm=firm,
    )  # fmt: skip
    answer.limits.append(
        Limit("yield while tightening", stress.preload_at_yield(held.yield_, 1.0, thread, rub.mu_thread), firm)
    )
    used = answer.figures.get("preload_n")
    if used is None:
        return
    assert used.low is not None
    assert used.high is not None
    answer.add(
        "share_of_proof", used.value / proof, "preload / proof load", held.source, used.low / proof, used.high / proof,
        firm,
    )  # fmt: skip
    answer.add(
        "share_of_yield", answer["stress_combined_mpa"] * 1e6 / held.yield_, "combined stress / yield strength",
        "VDI 2230-1 R7", firm=firm,
    )  # fmt: skip
    word = "proof load" if held.limit_is_proof else "yield load"
    if used.value > proof:
        answer.remarks.append(f"The preload is above the {word}: the screw stretches for good.")
    elif used.high > proof:
        answer.remarks.append(f"At the slippery end of the friction range the preload passes the {word}.")
    elif answer["share_of_yield"] > 1:
        answer.remarks.append("Tension and torsion together pass the yield strength while the wrench pulls.")
