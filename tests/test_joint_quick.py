"""The quick figures of a check agree with the full sheet of the joint, and the digest with the tables."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from torquewright.joint import compute
from torquewright.joint.digest import CONDITIONS, MATERIALS
from torquewright.joint.quick import reckon, stainless, strength_of
from torquewright.joint.recorded import of_fastener
from torquewright.notation.drives import read_drive
from torquewright.notation.sizes import read_size
from torquewright.records import Amount, Fastener, Stage, Tightening, Torque, Washer

CHECKOUT = Path(__file__).parent.parent
SIZES = (
    "M3", "M4", "M5", "M6", "M8", "M8x1", "M10", "M10x1.25", "M12", "M12x1.25", "M13x1", "M14", "M16x1.5", "M20",
    "M24x2", "M36", "M42x3", "1/4-20 UNC", "5/16-18 UNC", "3/8-16 UNC", "1/2-20 UNF", "3/4-10 UNC", "1-8 UNC",
    "1-1/8-7 UNC", "#10-32",
)  # fmt: skip
CLASSES = (
    "", "4.6", "4.8", "5.8", "8.8", "class 8.8", "10.9", "12.9", "A2-70", "A4-80", "a2 50", "stainless A2-70",
    "grade 2", "grade 5", "SAE grade 8", "gr. 5", "A574", "ASTM A325", "8", "04", "10", "brass", "10.9, coated",
)  # fmt: skip
MET = ("", "steel", "S355 steel", "aluminium die-cast", "aluminium casting", "magnesium", "grey cast iron",
       "ductile iron", "stainless steel", "brass", "glass-filled nylon", "ABS", "oak")  # fmt: skip
WASHERS = (None, Washer("flat"), Washer("sealing"), Washer("spring"))


def length(millimetres: float) -> Amount:
    return Amount(millimetres / 1e3, "mm", 5e-4)


@st.composite
def joints(draw: st.DrawFn) -> tuple[Fastener, float]:
    """A joint of any sort and a torque for it."""
    torque = draw(st.floats(0.5, 400))
    kind = draw(st.sampled_from(("screw", "bolt", "nut", "flange bolt", "stud")))
    drive = draw(st.sampled_from(("", "hex 13 mm", "hex socket 6 mm", "T40", "slotted 10 mm")))
    return Fastener(
        "joint", "joint", kind=kind, thread=read_size(draw(st.sampled_from(SIZES))),
        property_class=draw(st.sampled_from(CLASSES)), drive=read_drive(drive) if drive else None,
        condition=draw(st.sampled_from((*CONDITIONS[False], "as built", "Dry", "light_oil"))),
        mating_material=draw(st.sampled_from(MET)), bearing_material=draw(st.sampled_from(MET)),
        engagement=draw(st.none() | st.floats(1, 40).map(length)), washer=draw(st.sampled_from(WASHERS)),
        tightening=Tightening("", "single", (Stage(Torque(torque, None, None, "N·m", 0.5)),)),
    ), torque  # fmt: skip


@settings(max_examples=300, deadline=None)
@given(joints())
def test_the_quick_figures_are_those_of_the_sheet(drawn: tuple[Fastener, float]) -> None:
    record, torque = drawn
    quick, joint = reckon(record), of_fastener(record)
    assert (quick is None) == (joint is None)
    if quick is None or joint is None:
        return
    sheet = compute(joint if joint.condition else joint._replace(condition="dry"))
    near = {"rel": 1e-6}
    assert quick.stress_area * 1e6 == pytest.approx(sheet["stress_area_mm2"], **near)
    assert quick.per_torque * torque == pytest.approx(sheet["preload_n"], **near)
    factor = sheet.figures["nut_factor"]
    assert factor.low is not None
    assert factor.high is not None
    d = joint.thread.diameter
    assert (1 / quick.smooth / d, 1 / quick.rough / d) == pytest.approx((factor.low, factor.high), **near)
    limit = sheet.get("proof_load_n") or sheet.get("nut_proof_load_n")
    assert quick.limit == (None if limit is None else pytest.approx(limit, **near))
    inside, outside = (sheet.figures.get(f"strip_load_{side}_n") for side in ("internal", "external"))
    if quick.strip is not None:
        loads = [held.high for held in (inside, outside) if held is not None and held.high is not None]
        assert any(quick.strip == pytest.approx(load, **near) for load in loads)
        assert outside is None or outside.high is None or quick.strip <= outside.high * (1 + 1e-6)
    if quick.bearing is not None:
        pressure = sheet.figures["bearing_limit_mpa"]
        assert pressure.firm
        assert quick.bearing == pytest.approx(pressure.high * sheet["bearing_area_mm2"], **near)  # type: ignore[operator]


def test_what_is_from_memory_or_a_bare_name_decides_nothing() -> None:
    def made(mating: str, bearing: str) -> Fastener:
        return Fastener(
            "x", "x", kind="screw", thread=read_size("M8"), drive=read_drive("hex 13 mm"), mating_material=mating,
            bearing_material=bearing, engagement=length(10),
        )  # fmt: skip

    for words in ("brass", "grey cast iron", "glass-filled nylon", "copper", "aluminium", "steel", "brass insert",
                  "aluminium die-cast with a steel insert", "oak", ""):  # fmt: skip
        held = reckon(made(words, "steel"))
        assert held is not None
        assert held.strip is None, words
    for words in ("steel", "aluminium", "brass", "nylon", "stainless steel", ""):
        held = reckon(made("", words))
        assert held is not None
        assert held.bearing is None, words
    assert {name for name, held in MATERIALS.items() if held.get("shear", (0, 0, True))[2] is False} == {
        "grey cast iron", "brass", "copper", "nylon", "glass-filled nylon",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("name", "diameter", "limit"),
    [
        # ISO 898-1:2013 Table 3: proof stress of 8.8 is 580 MPa up to M16 and 600 MPa above; 12.9 970 MPa
        ("8.8", 0.016, 580e6), ("8.8", 0.018, 600e6), ("12.9", 0.010, 970e6), ("8.8, zinc plated", 0.01, None),
        # ISO 3506-1: 0.2 % proof strength of class 70 is 450 MPa
        ("A2-70", 0.008, 450e6), ("A2 70", 0.008, 450e6),
        # SAE J429: grade 2 has 55 ksi up to 3/4 in and 33 ksi above; grade 5 85 ksi up to 1 in
        ("grade 2", 0.01905, 379.2e6), ("grade 2", 0.0222, 227.5e6), ("SAE J429 grade 5", 0.0254, 586.1e6),
        ("nylon", 0.01, None), ("", 0.01, None),
    ],
)  # fmt: skip
def test_strength_by_class(name: str, diameter: float, limit: float | None) -> None:
    found = strength_of(name, diameter)
    assert (found and found[0]) == (None if limit is None else pytest.approx(limit, rel=1e-3))


def test_stainless_by_class() -> None:
    def made(name: str) -> bool:
        return stainless(Fastener("x", "x", property_class=name))

    assert all(map(made, ("A2-70", "A4-80", "a2 50", "stainless A2-70", "stainless steel", "A270")))
    assert not any(map(made, ("8.8", "A574", "A325", "ASTM A490", "brass", "", "grade 5", "aluminium")))


def test_the_digest_is_not_stale() -> None:
    done = subprocess.run(
        [sys.executable, "tools/build_digest.py", "--check"], cwd=CHECKOUT, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
