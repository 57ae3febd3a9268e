"""The whole answer: it hangs together, says what it lacks, and never guesses."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from torquewright.base.units import to_si
from torquewright.joint import Joint, compute
from torquewright.joint.answer import KEYS
from torquewright.joint.preload import Span
from torquewright.joint.recorded import angle_of, head_of, of_fastener, torque_span
from torquewright.joint.threads import shape
from torquewright.joint.wrench import Window
from torquewright.records.parts import Amount, Drive, Fastener, Thread, Washer
from torquewright.records.tightening import Angle, Stage, Tightening, Torque

M8 = shape(0.008, 0.00125)
M10 = shape(0.010, 0.0015)


def test_every_figure_has_a_source_and_every_gap_a_reason() -> None:
    answer = compute(Joint(M8, "8.8", torque=Span.exact(25)))
    held = answer.as_dict()
    for key in KEYS:
        if held[key] is None:
            assert answer.missing[key] if key != "wrench_torque_with_drag_nm" else True
        else:
            assert held["sources"][key]["source"]
            assert held["sources"][key]["how"]
    assert held["strip_load_internal_n"] is None
    assert "orientation" in held["caution"]


def test_a_bare_thread_still_has_its_stress_area() -> None:
    answer = compute(Joint(M8))
    assert answer["stress_area_mm2"] == pytest.approx(36.6, rel=0.005)
    assert answer.get("proof_load_n") is None
    assert answer.missing["proof_load_n"] == "no class stated"
    assert answer.missing["preload_n"] == "neither torque nor preload stated"


def test_an_unknown_class_loses_the_strength_and_nothing_else() -> None:
    answer = compute(Joint(M8, "brass", torque=Span.exact(9)))
    assert answer.get("proof_load_n") is None
    assert "brass" in answer.missing["proof_load_n"]
    assert answer["preload_n"] > 0


def test_a_share_needs_a_class_and_says_so() -> None:
    assert "needs a class" in compute(Joint(M8, share_of_yield=0.9)).missing["preload_n"]


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"torque": Span.exact(20), "preload": 1000.0}, "only one of torque and preload"),
        ({"torque": Span.exact(20), "nut_factor": Span.exact(0.01)}, "nut factor"),
        ({"hole": 0.02}, "leaves nothing"),
        ({"engagement": -0.01}, "engagement cannot be"),
        ({"tool_deviation": 1.0}, "tool deviation"),
        ({"preload": float("nan")}, "preload cannot be"),
        ({"torque": Span.exact(-5.0)}, "torque cannot be"),
        ({"torque": Span.exact(float("inf"))}, "torque cannot be"),
        ({"torque": Span.exact(5.0), "friction_thread": Span.exact(-0.1)}, "friction thread cannot be"),
        ({"torque": Span.exact(5.0), "scatter": 1.5}, "scatter"),
    ],
)
def test_contradictions_are_refused(changes: dict[str, object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        compute(Joint(M8, "8.8")._replace(**changes))  # type: ignore[arg-type]


def test_stainless_has_no_proof_stress_and_the_figure_says_what_stands_for_it() -> None:
    """ISO 3506-1 defines none: Rp0.2 · As."""
    answer = compute(Joint(M8, "A2-70"))
    assert answer["proof_load_n"] == pytest.approx(450 * 36.609, rel=1e-3)
    assert "no proof stress" in answer.figures["proof_load_n"].how


def test_what_comes_from_memory_is_marked() -> None:
    answer = compute(Joint(M8, "8.8", mating_material="cast iron", engagement=0.012))
    assert not answer.figures["strip_load_internal_n"].firm
    assert "memory" in answer.figures["strip_load_internal_n"].source
    assert answer.figures["proof_load_n"].firm


def test_limits_stand_in_order_and_the_first_gives_way_first() -> None:
    answer = compute(
        Joint(M8, "10.9", torque=Span.exact(30), mating_material="die-cast aluminium", engagement=0.006)
    )
    loads = [limit.load for limit in answer.limits]
    assert loads == sorted(loads)
    assert answer.limits[0].name == "tapped thread strips"
    assert any("strips before the bolt breaks" in remark for remark in answer.remarks)
    assert any("strips the tapped thread" in remark for remark in answer.remarks)


@pytest.mark.parametrize(
    ("torque", "told"),
    [
        (20, ""),
        (27, "At the slippery end"),
        (35, "above the proof load"),
    ],
)
def test_remarks_on_the_proof_load(torque: float, told: str) -> None:
    remarks = compute(
        Joint(M8, "8.8", torque=Span.exact(torque), friction_thread=Span(0.10, 0.12, 0.14), tool_deviation=0.04)
    ).remarks
    assert [remark for remark in remarks if "proof" in remark] == [r for r in remarks if told and told in r]
    assert bool(told) == any(told in remark for remark in remarks if told)


def test_below_proof_and_still_past_yield_while_the_wrench_pulls() -> None:
    """VDI 2230-1 R7: torsion counts too, and the rougher the thread the more."""
    answer = compute(
        Joint(M10, "10.9", torque=Span.exact(130), friction_thread=Span.exact(0.24), tool_deviation=0.0)
    )
    assert answer["share_of_proof"] < 1 < answer["share_of_yield"]
    assert any("Tension and torsion together" in remark for remark in answer.remarks)


def test_the_angle_decides_whether_yield_is_passed() -> None:
    base = Joint(M10, "8.8", torque=Span.exact(10), length=0.060)
    for degrees, told in ((10.0, "stays below"), (55.0, "may take"), (150.0, "takes the screw past")):
        assert any(told in remark for remark in compute(base._replace(angle=degrees)).remarks), degrees
    assert compute(base._replace(angle=90.0, length=None)).missing["preload_by_angle_n"]


def test_a_washer_lowers_the_pressure_and_leaves_the_preload() -> None:
    bare = compute(Joint(M10, "8.8", torque=Span.exact(48)))
    washed = compute(Joint(M10, "8.8", torque=Span.exact(48), washer=True))
    wide = compute(Joint(M10, "8.8", torque=Span.exact(48), washer_outer=0.030))
    assert wide["bearing_pressure_mpa"] < washed["bearing_pressure_mpa"] < bare["bearing_pressure_mpa"]
    assert washed["preload_n"] == bare["preload_n"]


def test_the_wrench_in_the_hand() -> None:
    joint = Joint(M8, "8.8", torque=Span(6, 7, 8), wrench=Window(4, 20, 0.04, 0.5, 4), tool_deviation=0.04)
    answer = compute(joint)
    assert answer["wrench_setting_nm"] == 7
    assert (answer["arriving_torque_low_nm"], answer["arriving_torque_high_nm"]) == pytest.approx((6.72, 7.28))
    beyond = compute(joint._replace(wrench=Window(20, 100, 0.04)))
    assert beyond.get("wrench_setting_nm") is None
    assert any("reaches the torque" in remark for remark in beyond.remarks)
    narrow = compute(joint._replace(torque=Span(6.9, 7, 7.1)))
    assert any("wider than the band" in remark for remark in narrow.remarks)
    dragged = compute(joint._replace(drag=1.0))
    assert dragged["wrench_setting_nm"] == 8
    assert dragged["wrench_torque_with_drag_nm"] == 8
    assert dragged["preload_n"] == answer["preload_n"]


TORQUE = Torque(20.0, 18.0, 22.0, "N·m", 0.5)


def test_from_a_record() -> None:
    record = Fastener(
        "head-bolt", "head bolt", kind="bolt", thread=Thread("M8", "metric", 0.008, None), property_class="8.8",
        drive=Drive("hex", "13 mm"), mating_material="aluminium die-cast", bearing_material="aluminium",
        engagement=Amount(0.016, "mm"), stack=Amount(0.040, "mm"), condition="oil", washer=Washer("flat"),
        tightening=Tightening("20 ± 2 N·m", "tolerance", (Stage(TORQUE),)),
    )  # fmt: skip
    joint = of_fastener(record)
    assert joint is not None
    assert joint == Joint(
        M8, "8.8", torque=Span(18, 20, 22), condition="oil", washer=True, mating_material="aluminium die-cast",
        bearing_material="aluminium", engagement=0.016, length=0.040,
    )  # fmt: skip


def test_from_the_record_of_a_nut() -> None:
    record = Fastener("foot-nut", "foot nut", kind="nut", thread=Thread("M12", "metric", 0.012), property_class="8")
    joint = of_fastener(record)
    assert joint is not None
    assert (joint.property_class, joint.nut_class, joint.mating_material) == ("", "8", "")
    assert compute(joint)["nut_proof_load_n"] == 74200  # ISO 898-2


def test_no_joint_without_a_diameter() -> None:
    assert of_fastener(Fastener("plug", "plug", thread=Thread("G 1/4", "pipe"))) is None
    assert of_fastener(Fastener("cap", "cap")) is None


def test_what_a_tightening_text_asks_for() -> None:
    snug, pull = Stage(Torque(20.0, None, None, "N·m")), Stage(Torque(None, None, 9.0, "N·m"))
    turn, back = Stage(angle=Angle(90.0)), Stage(angle=Angle(60.0))
    assert torque_span(Tightening("x", "single", (snug,))) == Span(20, 20, 20)
    assert torque_span(Tightening("x", "maximum", (pull,))) == Span(9, 9, 9)
    assert torque_span(Tightening("x", "unitless", (Stage(Torque(20.0, None, None, "")),))) is None
    assert torque_span(Tightening("x", "hand_tight", (Stage(),))) is None
    assert angle_of(Tightening("x", "stage_angle", (snug, turn, back))) == 150
    # a torque after a turn begins anew: what was turned before is undone or counted in it
    assert angle_of(Tightening("x", "stage_angle", (turn, snug, back))) == 60
    assert angle_of(Tightening("x", "single", (snug,))) is None


@pytest.mark.parametrize(
    ("kind", "drive", "head"),
    [
        ("bolt", Drive("hex", "13 mm"), "hex"),
        ("screw", Drive("hex socket", "6 mm"), "cap"),
        ("screw", Drive("hexalobular", "T30"), "cap"),
        ("flange bolt", Drive("hex", "10 mm"), "small flange"),
        ("bolt", None, "hex"),
    ],
)
def test_which_face_bears(kind: str, drive: Drive | None, head: str) -> None:
    assert head_of(Fastener("x", "x", kind=kind, drive=drive)) == head


@given(
    torque=st.floats(1, 200), low=st.floats(0.05, 0.15), more=st.floats(1, 2), deviation=st.floats(0, 0.1),
    name=st.sampled_from(["4.8", "8.8", "10.9", "12.9", "A2-70"]),
)  # fmt: skip
@settings(max_examples=100)
def test_torque_gives_a_preload_that_gives_the_torque(
    torque: float, low: float, more: float, deviation: float, name: str
) -> None:
    base = Joint(M10, name, friction_thread=Span.between(low, low * more), tool_deviation=deviation)
    there = compute(base._replace(torque=Span.exact(torque)))
    back = compute(base._replace(preload=there["preload_n"]))
    assert back["torque_nm"] == pytest.approx(torque)
    assert there["preload_low_n"] <= there["preload_n"] * (1 + 1e-12)
    assert there["preload_n"] <= there["preload_high_n"] * (1 + 1e-12)
    at_proof = compute(base._replace(torque=Span.exact(there["torque_at_proof_nm"])))
    assert at_proof["share_of_proof"] == pytest.approx(1)
    ninety = compute(base._replace(share_of_yield=0.9))
    assert ninety["share_of_yield"] == pytest.approx(0.9)
    assert ninety["torque_nm"] == pytest.approx(there["torque_at_90_percent_of_yield_nm"])


@given(torque=st.floats(1, 60), engagement=st.floats(2, 30))
@settings(max_examples=60)
def test_inch_and_metric_entry_of_the_same_joint_agree(torque: float, engagement: float) -> None:
    metric = compute(
        Joint(M8, "8.8", torque=Span.exact(torque), engagement=engagement / 1e3, mating_material="steel")
    )
    inch = compute(
        Joint(
            shape(to_si(8 / 25.4, "in"), to_si(1.25 / 25.4, "in")), "8.8",
            torque=Span.exact(to_si(torque / 1.3558179483314004, "lbf·ft")),
            engagement=to_si(engagement / 25.4, "in"), mating_material="structural steel",
        )
    )  # fmt: skip
    for key in ("preload_n", "share_of_proof", "strip_load_internal_n", "bearing_pressure_mpa", "torque_at_proof_nm"):
        assert inch[key] == pytest.approx(metric[key], rel=1e-9)
