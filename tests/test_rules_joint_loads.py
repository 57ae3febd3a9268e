"""Screws, threads and faces under their torque: where each gives way, and where nothing may be said."""

from __future__ import annotations

from typing import Any

import pytest

from rule_bench import found, job, told
from torquewright import read_tightening
from torquewright.notation.drives import read_drive
from torquewright.notation.sizes import read_size
from torquewright.records import Action, Amount, Catalogue, Fastener, Tightening, Washer
from torquewright.rules.finding import Finding

IMPOSSIBLE, PROOF, STRIP, FACE, SOFT = (
    "record-value-implausible", "proof-load-exceeded", "thread-strips-first", "bearing-face-crushed",
    "soft-part-overload",
)  # fmt: skip
ALL = (IMPOSSIBLE, PROOF, STRIP, FACE, SOFT)


def mm(length: float) -> Amount:
    return Amount(length / 1e3, "mm", 5e-5)


def bolt(size: str, grade: str, torque: str | None, **more: Any) -> Fastener:
    record: dict[str, Any] = {
        "kind": "bolt", "thread": read_size(size), "property_class": grade, "mating_material": "steel",
        "condition": "dry", "tightening": read_tightening(torque) if torque else None, **more,
    }  # fmt: skip
    return Fastener("bolt", "bolt", **record)


def pull(text: str, verb: str = "tighten", **more: Any) -> Action:
    return Action(verb, "bolt", to=read_tightening(text), **more)


def spoken(held: Fastener, *steps: Action) -> list[str]:
    """The load rules that speak up on one bolt pulled as its record says, or as the steps do."""
    demand: Tightening | None = held.tightening
    procedure = job(*(steps or (Action("tighten", "bolt", to=demand),)))
    return [rule for rule in ALL if found(rule, procedure, Catalogue(fasteners=(held,)))]


def finding(rule: str, held: Fastener, *steps: Action) -> Finding:
    procedure = job(*(steps or (Action("tighten", "bolt", to=held.tightening),)))
    (one,) = found(rule, procedure, Catalogue(fasteners=(held,)))
    return one


class TestProofLoad:
    @pytest.mark.parametrize(
        ("size", "grade", "load"),
        [
            # proof loads as printed: ISO 898-1:2013 Tables 5 and 7 (coarse and fine), ISO 898-2 Table 4 for the nut
            ("M6x1", "8.8", 11600), ("M10x1.5", "8.8", 33700), ("M8x1", "10.9", 32500), ("M12x1.75", "5.8", 32000),
        ],
    )  # fmt: skip
    def test_against_the_printed_proof_load(self, size: str, grade: str, load: float) -> None:
        held = finding(PROOF, bolt(size, grade, None), pull("100 N·m"))
        assert held.facts["limit"] == pytest.approx(load, rel=0.012)
        assert held.certainty == "likely"

    def test_ten_per_cent_beyond_is_the_limit(self) -> None:
        # K d of M10 dry: 0.15915·1.5 + 0.15·9.026/1.7321 + 0.15·(14.63 + 11)/4 = 1.981 mm (VDI 2230-1 R13, ISO 4014,
        # ISO 273), so 33.63 kN are reached at 66.6 N·m and a tenth more at 73.3 N·m
        assert spoken(bolt("M10x1.5", "8.8", "73.3 N·m")) == []
        assert spoken(bolt("M10x1.5", "8.8", "73.4 N·m")) == [PROOF]
        assert finding(PROOF, bolt("M10x1.5", "8.8", "73.4 N·m")).facts["reached"] == pytest.approx(66.6, rel=2e-3)

    def test_the_lower_limit_of_the_band_counts(self) -> None:
        assert spoken(bolt("M10x1.5", "8.8", "80 N·m ± 7")) == []
        assert spoken(bolt("M10x1.5", "8.8", "80 N·m ± 6")) == [PROOF]
        assert spoken(bolt("M10x1.5", "8.8", "max 80 N·m")) == [PROOF]

    @pytest.mark.parametrize(
        ("condition", "beyond"),
        [("dry", "74 N·m"), ("oil", "61 N·m"), ("moly", "40 N·m"), ("", "74 N·m"), ("threadlocker", "91 N·m")],
    )
    def test_the_condition_decides(self, condition: str, beyond: str) -> None:
        assert spoken(bolt("M10x1.5", "8.8", beyond, condition=condition), pull(beyond)) == [PROOF]
        less = f"{float(beyond.split()[0]) * 0.95:.1f} N·m"
        assert spoken(bolt("M10x1.5", "8.8", less, condition=condition), pull(less)) == []

    def test_a_wrong_figure_in_the_step_is_another_rules_to_say(self) -> None:
        assert spoken(bolt("M10x1.5", "8.8", "45 N·m"), pull("90 N·m")) == []
        assert spoken(bolt("M10x1.5", "8.8", "90 N·m"), pull("45 N·m")) == [PROOF]

    def test_where_nothing_is_pulled_nothing_is_said(self) -> None:
        held = bolt("M10x1.5", "8.8", "90 N·m")
        for action in (
            Action("loosen", "bolt"), pull("90 N·m", mode="do_not"), pull("90 N·m", mode="mentioned_only"),
            pull("90 N·m", mode="if"), Action("tighten", "washer", "bolt"),
        ):  # fmt: skip
            assert spoken(held, action) == [], action

    @pytest.mark.parametrize(
        "grade", ["", "brass", "nylon", "10.9, coated", "12.8", "grade 3", "as delivered"],
    )  # fmt: skip
    def test_a_class_no_table_has_is_not_judged(self, grade: str) -> None:
        assert spoken(bolt("M10x1.5", grade, "90 N·m")) == []

    def test_pipe_threads_and_threads_without_a_pitch_are_not_judged(self) -> None:
        assert spoken(bolt("G 1/4", "4.6", "300 N·m")) == []
        assert spoken(bolt("M13", "4.6", "300 N·m")) == []

    def test_set_screws_do_not_clamp(self) -> None:
        assert spoken(bolt("M10x1.5", "4.6", "60 N·m", kind="set screw")) == []

    def test_an_unclear_record_is_not_judged(self) -> None:
        for unclear in ("90 lbs", "90 ft/lb", "about 90 N·m", "1,200 N·m"):
            assert spoken(bolt("M10x1.5", "8.8", unclear), pull(unclear)) == [], unclear
            assert spoken(bolt("M10x1.5", "8.8", None), pull(unclear)) == [], unclear

    def test_the_place_and_the_second_places(self) -> None:
        held = finding(PROOF, bolt("M10x1.5", "8.8", "90 N·m"), Action("clean", "bolt"), pull("90 N·m"))
        assert (held.step, held.path) == (1, ("step", 1, "do", 0, "to"))
        assert held.also[0] == ("catalogue", ("fastener", "bolt", "tightening"))

    def test_turned_past_yield_only_where_it_goes_back(self) -> None:
        turned = {"stack": mm(20), "one_time_use": False}
        assert spoken(bolt("M10x1.5", "8.8", "30 N·m + 90°", **turned)) == [PROOF]
        assert finding(PROOF, bolt("M10x1.5", "8.8", "30 N·m + 90°", **turned)).form == "turned"
        assert spoken(bolt("M10x1.5", "8.8", "30 N·m + 90°", stack=mm(20), one_time_use=True)) == []
        assert spoken(bolt("M10x1.5", "8.8", "30 N·m + 90°", stack=mm(20))) == []  # nobody says
        assert spoken(bolt("M10x1.5", "8.8", "30 N·m + 90°", one_time_use=False)) == []  # length not known
        assert spoken(bolt("M10x1.5", "8.8", "20 N·m + 15°", stack=mm(80), one_time_use=False)) == []


class TestImpossible:
    def test_the_classic_slips(self) -> None:
        # 9 N·m suits an M6 of class 8.8; its figure in inch pounds, read as newton metres or foot pounds, does not
        for wrong, meant in (("80 N·m", "80 lbf·in"), ("80 lbf·ft", "80 lbf·in"), ("9 kgf·m", "9 N·m")):
            held = finding(IMPOSSIBLE, bolt("M6x1", "8.8", wrong))
            assert (held.form, held.facts["meant"]) == ("meant", meant)
            assert (held.step, held.part, held.path) == (None, "catalogue", ("fastener", "bolt", "tightening"))
            assert spoken(bolt("M6x1", "8.8", wrong)) == [IMPOSSIBLE]  # and nothing else of the same value

    def test_the_other_way_round_is_asked_about(self) -> None:
        held = finding(IMPOSSIBLE, bolt("M8x1.25", "8.8", "16 lbf·in"))
        assert (held.certainty, held.form, held.facts["meant"]) == ("unstated", "too-low-unit", "16 lbf·ft")
        assert spoken(bolt("M8x1.25", "8.8", "16 lbf·ft")) == []

    @pytest.mark.parametrize(
        "soft",
        [
            {"kind": "plug"}, {"kind": "cap"}, {"kind": "castle nut"}, {"seals": ("gasket",)}, {"role": "drain"},
            {"mating_material": "nylon"}, {"bearing_material": "glass-filled nylon"},
            {"washer": Washer("sealing", 1)}, {"part_limit": read_tightening("2 N·m")}, {"property_class": "brass"},
        ],
    )  # fmt: skip
    def test_a_low_value_may_have_its_reason(self, soft: dict[str, Any]) -> None:
        made = {"size": "M8x1.25", "grade": "8.8", "torque": "0.5 N·m"}
        assert spoken(bolt(**made)) == [IMPOSSIBLE]
        grade = soft.pop("property_class", "8.8")
        assert spoken(bolt("M8x1.25", grade, "0.5 N·m", **soft)) == []

    def test_the_step_alone_is_not_a_record(self) -> None:
        assert IMPOSSIBLE not in spoken(bolt("M6x1", "8.8", None), pull("80 N·m"))


class TestThread:
    def test_magnesium_by_its_shear_area(self) -> None:
        """M8, 10 mm engaged, the plain product over (10 - 0.8·1.25) mm: area 197.9 mm² (VDI 2230-1 R11 with basic
        sizes), 0.897 · 140 MPa: 24.9 kN at the most."""
        held = bolt("M8x1.25", "12.9", "45 N·m", mating_material="magnesium", engagement=mm(10))
        (one,) = found(STRIP, job(Action("tighten", "bolt", to=held.tightening)), Catalogue(fasteners=(held,)))
        assert one.facts["limit"] == pytest.approx(24.9e3, rel=5e-3)

    def test_the_lower_of_two_limits_is_told(self) -> None:
        weak = bolt("M8x1.25", "4.6", "18 N·m", mating_material="aluminium die-cast", engagement=mm(12))
        assert spoken(weak) == [PROOF]
        short = bolt("M8x1.25", "12.9", "30 N·m", mating_material="aluminium die-cast", engagement=mm(4))
        assert spoken(short) == [STRIP]

    @pytest.mark.parametrize("material", ["", "aluminium", "steel", "brass", "grey cast iron", "oak"])
    def test_what_is_not_known_well_enough_decides_nothing(self, material: str) -> None:
        held = bolt("M8x1.25", "12.9", "30 N·m", mating_material=material, engagement=mm(4))
        assert spoken(held) == []

    def test_without_an_engaged_length_nothing_is_said(self) -> None:
        assert spoken(bolt("M8x1.25", "12.9", "40 N·m", mating_material="magnesium")) == []


class TestFace:
    HELD: dict[str, Any] = {"bearing_material": "magnesium", "drive": read_drive("hex 13 mm")}  # noqa: RUF012

    def test_the_higher_of_two_published_limits_counts(self) -> None:
        # 280 MPa (VDI 2230-1 2003) and 220 MPa (1986) for AZ91; (11.63² - 9²)·pi/4 = 42.6 mm² bear (ISO 4014, ISO 273)
        held = finding(FACE, bolt("M8x1.25", "10.9", "22 N·m", **self.HELD))
        assert held.facts["allowed"] == pytest.approx(280e6)
        assert held.facts["area"] == pytest.approx(42.6, abs=0.1)
        assert spoken(bolt("M8x1.25", "10.9", "18.9 N·m", **self.HELD)) == []

    def test_a_screw_that_stretches_goes_before_its_face(self) -> None:
        assert spoken(bolt("M8x1.25", "8.8", "42 N·m", **self.HELD)) == [PROOF]

    def test_a_washer_or_a_flange_spreads_it(self) -> None:
        assert spoken(bolt("M8x1.25", "10.9", "22 N·m", washer=Washer("flat", 1), **self.HELD)) == []
        assert spoken(bolt("M8x1.25", "10.9", "22 N·m", **{**self.HELD, "kind": "flange bolt"})) == []

    def test_an_inch_washer_of_unknown_size_is_not_judged(self) -> None:
        held = {**self.HELD, "drive": read_drive("hex 1/2 in")}
        assert spoken(bolt("5/16-18 UNC", "grade 8", "27 N·m", **held)) == [FACE]
        assert spoken(bolt("5/16-18 UNC", "grade 8", "27 N·m", washer=Washer("flat", 1), **held)) == []

    @pytest.mark.parametrize("drive", ["slotted 10 mm", "PH2", "square 8 mm", ""])
    def test_an_unknown_head_is_not_judged(self, drive: str) -> None:
        held = {"bearing_material": "magnesium", "drive": read_drive(drive) if drive else None}
        assert spoken(bolt("M8x1.25", "10.9", "22 N·m", **held)) == []


class TestPlastic:
    def test_its_thread_is_judged_where_no_limit_is_on_record(self) -> None:
        assert spoken(bolt("M6x1", "8.8", "10.5 N·m", mating_material="ABS")) == [SOFT]
        assert spoken(bolt("M6x1", "8.8", "5 N·m", mating_material="ABS")) == []
        # 2.5 diameters in ABS at 25 MPa bear 5.25 kN (VDI 2230-1 R11); at a friction of 0.24 that is 9.6 N·m
        assert spoken(bolt("M6x1", "8.8", "9.5 N·m", mating_material="ABS")) == []
        assert spoken(bolt("M6x1", "8.8", "9.7 N·m", mating_material="ABS")) == [SOFT]
        assert spoken(bolt("M6x1", "8.8", "18 N·m", mating_material="ABS")) == [SOFT]  # whatever the screw bears
        limited = bolt("M6x1", "8.8", "10.5 N·m", mating_material="ABS", part_limit=read_tightening("11 N·m"))
        assert spoken(limited) == []

    def test_figures_from_memory_only_ask(self) -> None:
        held = bolt("M6x1", "8.8", "8 N·m", mating_material="glass-filled nylon", engagement=mm(5))
        assert told(SOFT, job(pull("8 N·m")), Catalogue(fasteners=(held,))) == [("1", "unstated", "from-memory")]

    def test_a_wrong_figure_is_told_once(self) -> None:
        held = bolt("M6x1", "8.8", "10.5 N·m ± 1", mating_material="ABS")
        assert [one[2] for one in told(SOFT, job(pull("15 N·m")), Catalogue(fasteners=(held,)))] == ["window"]
