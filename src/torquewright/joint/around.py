"""What surrounds the bolt: the thread it goes into, the face it bears on, and what an angle adds."""

from __future__ import annotations

from typing import NamedTuple

from torquewright.joint import angle, bearing, heads, materials, stress, stripping, wrench
from torquewright.joint.answer import Answer, Limit
from torquewright.joint.classes import Strength, is_stainless, nut_proof_load
from torquewright.joint.preload import friction_diameter
from torquewright.joint.threads import limits


class Face(NamedTuple):
    """The face under the head: outer and inner diameter and the mean diameter it rubs on (metres)."""

    outer: float
    inner: float
    rubbing: float
    source: str
    firm: bool


def bearing_face(answer: Answer) -> Face:
    """The bearing face as stated, else of the ordinary head and hole for the size, which is then noted as assumed."""
    joint = answer.joint
    size, family = joint.thread.diameter, joint.thread.family
    sources, firm = [], True
    outer, inner = joint.bearing_diameter, joint.hole
    if outer is None:
        face = heads.bearing_face(size, family, joint.head)
        outer, firm = face.value, face.firm
        sources.append(face.source)
        answer.assumed.append(f"bearing face {outer * 1e3:.4g} mm ({joint.head} head: {face.source})")
    if inner is None:
        hole = heads.clearance_hole(size, family)
        inner, firm = hole.value, firm and hole.firm
        sources.append(hole.source)
        answer.assumed.append(f"hole {inner * 1e3:.4g} mm ({hole.source})")
    if inner >= outer:
        raise ValueError(f"a hole of {inner * 1e3:g} mm leaves nothing of a bearing face of {outer * 1e3:g} mm")
    return Face(outer, inner, friction_diameter(outer, inner), "; ".join(sources) or "diameters as stated", firm)


def bear(answer: Answer, face: Face) -> None:
    """Bearing area and pressure under the head, or under its washer, against what the material takes."""
    joint = answer.joint
    outer, inner, source, firm = face.outer, face.inner, face.source, face.firm
    if joint.washer or joint.washer_outer is not None:
        size = heads.washer(joint.thread.diameter) if joint.thread.family == "metric" else None
        under = joint.washer_outer or (size.outer if size else None)
        if under is None:
            answer.remarks.append("No table has a washer of this size: the pressure is that under the bare head.")
        else:
            thickness = joint.washer_thickness or (size.thickness if size else 0.0)
            limited = bearing.pressure(1.0, bearing.spread(outer, under, thickness), inner)
            outer = max(outer, under)
            source = f"{source}; washer {size.source if size and joint.washer_outer is None else 'as stated'}"
            answer.assumed.append(f"a stiff washer, {under * 1e3:.4g} mm across, bears out to its rim")
            used = answer.get("preload_n")
            if limited is not None and used is not None:
                answer.remarks.append(
                    f"If the washer bends, the pressure near the head is nearer {limited * used / 1e6:.0f} MPa "
                    "(spread of 1.6 washer thicknesses, from memory)."
                )
    area = bearing.ring_area(outer, inner)
    answer.add("bearing_area_mm2", area * 1e6, "pi/4 · (outer² - hole²)", f"VDI 2230-1 R10; {source}", firm=firm)
    preload = answer.figures.get("preload_n")
    if preload is not None:
        assert preload.low is not None
        assert preload.high is not None
        answer.add(
            "bearing_pressure_mpa", preload.value / area / 1e6, "preload / bearing area", f"VDI 2230-1 R10; {source}",
            preload.low / area / 1e6, preload.high / area / 1e6, firm and preload.firm,
        )  # fmt: skip
    found = materials.material(joint.bearing_material) if joint.bearing_material else None
    if found is None or found.bearing is None:
        told = f"no table has a bearing limit for {joint.bearing_material!r}" if joint.bearing_material else (
            "the material under the head is not stated"
        )
        answer.lacks(told, "bearing_limit_mpa")
        return
    limit = found.bearing
    answer.add(
        "bearing_limit_mpa", limit.low / 1e6, f"lowest published limit for {found.name}", limit.source,
        limit.low / 1e6, limit.high / 1e6, limit.firm,
    )  # fmt: skip
    answer.limits.append(Limit("face under the head gives way", limit.low * area, limit.firm))
    if preload is not None and preload.value / area > limit.low:
        agreed = preload.value / area > limit.high
        answer.remarks.append(
            f"The pressure under the head is above what {found.name} takes."
            if agreed
            else f"The pressure under the head is above the lower of the published limits for {found.name}, not above "
            "the higher."
        )


def strip(answer: Answer, held: Strength | None) -> None:
    """Strip loads of both threads, the engagement the bolt's full strength needs, and the nut's proof load."""
    joint = answer.joint
    thread = joint.thread
    if joint.nut_class:
        nut = nut_proof_load(joint.nut_class, thread)
        if nut is None:
            answer.lacks(f"no table has a nut of class {joint.nut_class!r} in this size", "nut_proof_load_n")
        else:
            answer.add("nut_proof_load_n", nut.value, "as printed for the size", nut.source, firm=nut.firm)
            answer.limits.append(Limit("nut proof load", nut.value, nut.firm))
    else:
        answer.lacks("no nut class stated", "nut_proof_load_n")
    found = materials.material(joint.mating_material) if joint.mating_material else None
    shear = found.shear if found else None
    if joint.shear_strength is not None:
        shear = materials.Property(joint.shear_strength, joint.shear_strength, "shear strength as stated", True)
    sizes = limits(thread)
    unified = thread.family == "unified"
    practice = (
        "FED-STD-H28/2B, least-material class 2 sizes" if unified
        else "VDI 2230-1 R11, basic sizes, 0.897 of the shear strength, length less 0.8 P"
    )  # fmt: skip
    if shear is None:
        why = f"no shear strength is known for {joint.mating_material!r}" if joint.mating_material else (
            "the tapped material is not stated"
        )
        answer.lacks(why, "strip_load_internal_n", "engagement_needed_mm")
    elif held is not None:
        needed = stripping.engagement_needed(
            held.tensile * thread.stress_area, thread, shear.low, sizes=sizes if unified else None, whole=unified
        )
        answer.add(
            "engagement_needed_mm", needed * 1e3, "engaged length at which the bolt breaks before the thread strips",
            f"{practice}; {shear.source}", firm=shear.firm,
        )  # fmt: skip
    if joint.engagement is None:
        answer.lacks("the engaged length is not stated", "strip_load_internal_n", "strip_load_external_n")
        return
    if held is None:
        answer.lacks("no class stated, or none that is known", "strip_load_external_n")
    ratio = materials.shear_ratio_bolt(is_stainless(joint.property_class))
    # the factor 2 of the standard's own formula stands for half the tensile strength
    outside = (0.5 if unified else ratio.low) * held.tensile if held else None
    nominal = stripping.strip_loads(
        thread, joint.engagement, shear.low if shear else None, outside, sizes=sizes if unified else None, whole=unified
    )
    least = stripping.strip_loads(
        thread, joint.engagement, shear.low if shear else None, outside, sizes=sizes, whole=unified
    )
    most = stripping.strip_loads(
        thread, joint.engagement, shear.high if shear else None, ratio.high * held.tensile if held else None,
        whole=unified,
    )  # fmt: skip
    if nominal.internal is not None and shear is not None:
        name = f" of {found.name}" if found and joint.shear_strength is None else ""
        answer.add(
            "strip_load_internal_n", nominal.internal, f"shear strength {shear.low / 1e6:.4g} MPa{name} · shear area",
            f"{practice}; {shear.source}", least.internal, most.internal, shear.firm,
        )  # fmt: skip
        answer.limits.append(Limit("tapped thread strips", nominal.internal, shear.firm))
    if nominal.external is not None and held is not None and outside is not None:
        answer.add(
            "strip_load_external_n", nominal.external,
            f"shear strength {outside / 1e6:.4g} MPa of the bolt · shear area",
            f"{practice}; {'half the tensile strength' if unified else ratio.source}", least.external, most.external,
        )  # fmt: skip
        answer.limits.append(Limit("bolt thread strips", nominal.external, True))
    _which_first(answer)


def _which_first(answer: Answer) -> None:
    breaks = answer.get("breaking_load_n")
    inside = answer.get("strip_load_internal_n")
    outside = answer.get("strip_load_external_n")
    used = answer.get("preload_n")
    if breaks is not None and inside is not None:
        weaker = min(inside, outside if outside is not None else inside)
        answer.remarks.append(
            "The bolt breaks before the thread strips."
            if breaks <= weaker
            else "The thread strips before the bolt breaks: the damage is in the part, and hidden."
        )
    if inside is not None and used is not None and used > inside:
        answer.remarks.append("This preload strips the tapped thread.")


def turn_further(answer: Answer, held: Strength | None, mu_thread: float) -> None:
    """What a turn beyond the stated torque adds, and whether it takes the bolt past yield at this thread friction."""
    joint = answer.joint
    if joint.angle is None:
        answer.lacks("no angle stated", "elongation_mm", "preload_by_angle_n")
        return
    if joint.length is None:
        answer.lacks("the clamped length is not stated", "elongation_mm", "preload_by_angle_n")
        answer.remarks.append(
            "The torque is only where the turn begins: the preload in the end is higher, by how much depends on the "
            "clamped length."
        )
        return
    thread = joint.thread
    bolt = angle.bolt_resilience(thread, joint.length, angle.thread_in_grip(thread, joint.length))
    # clamped steel parts give about a quarter of what the bolt gives; rigid ones nothing, soft ones as much again
    found = angle.turn(thread, joint.angle, 1.25 * bolt)
    start = answer.get("preload_n") or 0.0
    low, high = (start + angle.turn(thread, joint.angle, share * bolt).gain for share in (2.0, 1.0))
    answer.assumed.append(
        "clamped parts give a quarter of what the bolt gives (range: nothing to as much again); ordinary thread length"
    )
    answer.add("elongation_mm", found.stretch * 1e3, "pitch · angle / 360°", "VDI 2230-1, tightening by angle")
    answer.add(
        "preload_by_angle_n", start + found.gain, "preload at the torque + stretch / (δS + δP), if nothing yields",
        "VDI 2230-1 R3", low, high,
    )  # fmt: skip
    if held is None:
        return
    limit = stress.preload_at_yield(held.yield_, 1.0, thread, mu_thread)
    if low > limit:
        answer.remarks.append(
            f"The turn takes the screw past yield: the preload settles near {limit / 1e3:.3g} kN and above, whatever "
            "the friction. A screw tightened like this is used up."
        )
    elif high > limit:
        answer.remarks.append("The turn may take the screw past yield; it depends on how stiff the clamped parts are.")
    else:
        answer.remarks.append("The turn stays below yield.")


def set_wrench(answer: Answer) -> None:
    """The setting of the tool in the hand, and the torque that then arrives."""
    joint = answer.joint
    keys = ("wrench_setting_nm", "arriving_torque_low_nm", "arriving_torque_high_nm")
    torque = answer.figures.get("torque_nm")
    if torque is None:
        answer.lacks("no torque to set", *keys)
        return
    drag = joint.drag or 0.0
    target = torque.value + drag
    lever = "T · L/(L + E cos φ); US Army TM 1-1500-204-23-9 figure 8-16"
    if joint.wrench is None:
        if joint.adapter_gain is None:
            answer.lacks("no tool stated", *keys)
            return
        answer.add(
            "wrench_setting_nm", wrench.setting_for(target, joint.adapter_gain), "torque / gain of the adapter", lever
        )
        return
    low = target if torque.low is None else torque.low + drag
    high = target if torque.high is None else torque.high + drag
    # a bare figure is met by setting it; a band by what lands inside it
    found = wrench.best_setting(joint.wrench, low, high, joint.adapter_gain or 1.0)
    if found is None:
        answer.lacks("no setting of this tool comes near the torque", *keys)
        answer.remarks.append("No setting of this tool reaches the torque within its usable range.")
        return
    source = "ISO 6789-1:2017; lever rule" if joint.adapter_gain is not None else "ISO 6789-1:2017"
    answer.add("wrench_setting_nm", found.setting, "nearest setting of this tool", source, found.low, found.high)
    answer.add("arriving_torque_low_nm", found.low, "setting · gain · (1 - deviation)", source)
    answer.add("arriving_torque_high_nm", found.high, "setting · gain · (1 + deviation)", source)
    if low < high and not found.inside:
        told = (
            "the tool's own deviation is wider than the band"
            if wrench.wider_than_band(joint.wrench.deviation, low, high)
            else "no setting within its range and scale does"
        )
        answer.remarks.append(f"No setting keeps what arrives inside the band: {told}.")
