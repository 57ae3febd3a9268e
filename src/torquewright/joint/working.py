"""The working of a joint: from what is known of it to everything that follows."""

from __future__ import annotations

from math import pi
from typing import NamedTuple

from torquewright.joint import around, stress
from torquewright.joint import preload as pl
from torquewright.joint.answer import Answer, Joint, Limit
from torquewright.joint.classes import Strength, is_stainless, printed_proof_load, strength
from torquewright.joint.preload import Arms, Span
from torquewright.joint.wrench import permitted_deviation


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
    face = around.bearing_face(answer)
    rub = _friction(answer, face.rubbing)
    _drive(answer, rub, held)
    if held is not None:
        _at_the_limits(answer, rub, held)
    around.strip(answer, held)
    around.bear(answer, face)
    around.turn_further(answer, held, rub.mu_thread)
    around.set_wrench(answer)
    answer.limits.sort(key=lambda limit: limit.load)
    return answer


def _refuse_nonsense(joint: Joint) -> None:
    ways = ("torque", "preload", "share_of_yield", "share_of_proof")
    drives = [name for name in ways if getattr(joint, name) is not None]
    if len(drives) > 1:
        raise ValueError(f"only one of {' and '.join(name.replace('_', ' ') for name in drives)} can be given")
    for name in (
        "torque", "preload", "share_of_yield", "share_of_proof", "friction_thread", "friction_head", "nut_factor",
        "scatter", "tool_deviation", "bearing_diameter", "hole", "engagement", "shear_strength", "length",
        "washer_outer", "washer_thickness", "drag",
    ):  # fmt: skip
        value = getattr(joint, name)
        for figure in value if isinstance(value, Span) else (value,):
            if figure is not None and not 0 <= figure < float("inf"):
                raise ValueError(f"{name.replace('_', ' ')} cannot be {figure:g}")
    for name in ("scatter", "tool_deviation"):
        if (getattr(joint, name) or 0.0) >= 1:
            raise ValueError(f"a {name.replace('_', ' ')} of 100 % or more says nothing")


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
        least_possible = thread.pitch / (2 * pi) / thread.diameter
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
