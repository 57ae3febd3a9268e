"""Pieces, lengths, lubricants and metals: what goes in beside what is recorded."""

from __future__ import annotations

from typing import Any

import pytest
from attrs import evolve
from hypothesis import given, settings
from hypothesis import strategies as st

from rule_bench import found, job, told
from test_bench import any_action
from torquewright import read_tightening
from torquewright.bench import play
from torquewright.book.tables import table
from torquewright.joint.materials import galvanic_gap
from torquewright.notation.drives import read_drive
from torquewright.notation.sizes import read_size
from torquewright.records import (
    Action,
    Amount,
    Catalogue,
    Fastener,
    KitItem,
    Lock,
    Procedure,
    Step,
    Tool,
    Washer,
)
from torquewright.rules import detect
from torquewright.rules.joint_lengths import _LEAST
from torquewright.rules.joint_metals import _ALIKE
from torquewright.verdict import check_records

NEAR, WEAKER, MIXED = "near-match-bolt", "weaker-material-substituted", "mixed-thread-family"
SHORT, BOTTOMS = "too-few-threads-engaged", "bolt-bottoms-in-blind-hole"
OIL, DRAG, GALLING = "lubricant-state-mismatch", "run-down-drag-not-added", "stainless-galling"
GALVANIC, PLATED = "galvanic-pair", "plated-high-strength"


def mm(length: float) -> Amount:
    return Amount(length / 1e3, "mm", 0.5e-3)


def bolt(**more: Any) -> Fastener:
    torque = more.pop("torque", "20 N·m")
    size = more.pop("size", "M8x1.25")
    made: dict[str, Any] = {
        "kind": "bolt", "thread": read_size(size) if size else None, "property_class": "8.8",
        "tightening": read_tightening(torque) if torque else None, "condition": "dry", "mating_material": "steel",
        **more,
    }  # fmt: skip
    return Fastener("bolt", "bolt", **made)


def put_in(**more: Any) -> tuple[Action, ...]:
    return Action("install", "bolt", state="old", **more), Action("hand_start", "bolt"), PULL


PULL = Action("tighten", "bolt", to=read_tightening("20 N·m"))


def said(rule: str, held: Fastener, *steps: Any, **more: Any) -> list[tuple[str, str]]:
    """(certainty, form) of each finding of one rule."""
    catalogue = Catalogue(fasteners=(held,), **more)
    return [one[1:] for one in told(rule, job(*(steps or put_in())), catalogue)]


class TestPieces:
    @pytest.mark.parametrize(
        ("recorded", "fitted", "rule"),
        [
            ("M8x1.25", "M8", None), ("M8x1.25", "M8x1", NEAR), ("M8x1.25", "M10x1.25", NEAR),
            ("M8x1.25", "M8 LH", NEAR), ("3/8-16 UNC", "3/8-16", None), ("3/8-16 UNC", "3/8-24 UNF", NEAR),
            ("3/8-16 UNC", "M10x1.5", MIXED), ("M5x0.8", "#10-32", MIXED), ("M14x1.5", "G 1/4", MIXED),
            ("G 1/4", "1/4 BSPP", None), ("G 1/4", "R 1/4", None), ("G 1/4", "G 3/8", NEAR),
            ("G 1/4", "1/4-18 NPT", MIXED), ("1/4-18 NPT", "NPTF 1/4", None), ("G 1-1/4", "1-1/4 BSP", None),
        ],
    )  # fmt: skip
    def test_threads(self, recorded: str, fitted: str, rule: str | None) -> None:
        steps = put_in(size=read_size(fitted))
        held = bolt(size=recorded)
        assert [name for name in (NEAR, WEAKER, MIXED) if said(name, held, *steps)] == ([rule] if rule else [])

    @pytest.mark.parametrize(
        ("recorded", "fitted", "rule"),
        [
            ("8.8", "class 8.8", None), ("8.8", "10.9", NEAR), ("8.8", "5.8", WEAKER), ("8.8", "8.8, plated", None),
            ("A2-70", "A4-70", NEAR), ("A2-70", "a2 70", None), ("A2-70", "A2-50", WEAKER), ("8.8", "A2-70", WEAKER),
            ("grade 5", "SAE grade 5", None), ("grade 8", "grade 5", WEAKER), ("8.8", "brass", WEAKER),
            ("8.8 or 10.9", "10.9", None), ("brass", "nylon", NEAR), ("steel", "brass", WEAKER), ("", "4.6", None),
        ],
    )  # fmt: skip
    def test_classes(self, recorded: str, fitted: str, rule: str | None) -> None:
        steps = put_in(property_class=fitted)
        held = bolt(property_class=recorded)
        assert [name for name in (NEAR, WEAKER, MIXED) if said(name, held, *steps)] == ([rule] if rule else [])

    def test_lengths_by_what_is_printed(self) -> None:
        assert said(NEAR, bolt(length=mm(20)), *put_in(length=mm(20))) == []
        assert said(NEAR, bolt(length=mm(20)), *put_in(length=mm(22))) == [("certain", "")]
        inch = Amount(0.75 * 0.0254, "in", 0.005 * 0.0254)  # 19.05 mm
        assert said(NEAR, bolt(length=mm(19)), *put_in(length=inch)) == []
        assert said(NEAR, bolt(length=mm(20)), *put_in(length=inch)) == [("certain", "")]
        assert said(NEAR, bolt(), *put_in(length=mm(99))) == []

    def test_one_wrong_piece_is_one_finding(self) -> None:
        wrong = put_in(size=read_size("M8x1"), property_class="4.6", length=mm(99))
        held = bolt(length=mm(20))
        assert [name for name in (NEAR, WEAKER, MIXED) if said(name, held, *wrong)] == [WEAKER]
        wrong = put_in(size=read_size("M8x1"), property_class="10.9", length=mm(99))
        (finding,) = found(NEAR, job(*wrong), Catalogue(fasteners=(held,)))
        assert (finding.facts["fitted"], finding.facts["recorded"]) == ("M8x1, 99 mm, 10.9", "M8x1.25, 20 mm, 8.8")

    def test_the_kit(self) -> None:
        kit = (KitItem("rag", 1), KitItem("bolt", 2, size=read_size("M8x1")))
        (finding,) = found(NEAR, job(*put_in()), Catalogue(fasteners=(bolt(),), kit=kit))
        assert (finding.step, finding.part, finding.path) == (None, "kit", ("kit", 1, "size"))
        assert found(NEAR, job(Action("clean", "floor")), Catalogue(fasteners=(bolt(),), kit=kit)) == []

    def test_what_is_said_of_pieces_of_the_joint_is_not_of_the_bolt(self) -> None:
        washer = Action("install", "washer", "bolt", property_class="4.6")
        assert said(WEAKER, bolt(washer=Washer("flat", 1)), washer, *put_in()) == []

    def test_both_threads_of_a_record(self) -> None:
        assert said(MIXED, bolt(mating_thread=read_size("M8"))) == []
        assert said(MIXED, bolt(mating_thread=read_size("5/16-18 UNC"))) == [("certain", "record")]
        assert said(MIXED, bolt(mating_thread=read_size("M8x1"))) == [("certain", "record-size")]
        assert said(MIXED, bolt(mating_thread=read_size("M8x1")), Action("clean", "bolt")) == []


class TestLengths:
    def test_the_lowest_published_rule_for_the_material(self) -> None:
        """specs/tables/engagement-rules.toml: no figure here is above the one of its own row there."""
        rows = {row.word("material"): row.number("least") for row in table("engagement-rules")}
        for row in table("material-names"):
            least = _LEAST.get(row.word("name"))
            if least is not None and row.word("engagement"):
                assert least <= rows[row.word("engagement")], row.word("name")
        army = {rows["nut height or tapped depth"], rows["tapped depth in softer metal"]}
        assert set(_LEAST.values()) == army | {rows["copper alloys"], rows["steel and cast iron"]}

    @pytest.mark.parametrize(
        ("material", "least"),
        [("steel", 8), ("stainless steel", 8), ("cast iron", 10), ("brass", 10.4), ("aluminium casting", 12),
         ("zinc", 12)],
    )  # fmt: skip
    def test_by_material(self, material: str, least: float) -> None:
        for engaged, wanted in ((least, []), (least - 0.1, [("likely", "rule")])):
            held = bolt(length=mm(10 + engaged), stack=mm(10), mating_material=material)
            assert said(SHORT, held) == wanted

    @pytest.mark.parametrize("material", ["", "nylon", "oak", "aluminium with a thread insert"])
    def test_no_rule_no_finding(self, material: str) -> None:
        assert said(SHORT, bolt(length=mm(14), stack=mm(10), mating_material=material)) == []

    def test_what_the_record_asks_for_goes_before_any_rule(self) -> None:
        assert said(SHORT, bolt(length=mm(14), stack=mm(10), engagement=mm(4))) == []
        assert said(SHORT, bolt(length=mm(20), stack=mm(10), engagement=mm(12))) == [("likely", "")]
        assert said(SHORT, bolt(engagement=mm(4))) == []  # on record, and nothing to check it with

    def test_a_nut_and_its_bolt(self) -> None:
        # ISO 4032: an M8 nut is 6.8 mm tall
        nut: dict[str, Any] = {"kind": "nut", "property_class": "8", "stack": mm(10)}
        assert said(SHORT, bolt(length=mm(16.7), **nut)) == [("likely", "nut")]
        assert said(SHORT, bolt(length=mm(16.8), **nut)) == []
        assert said(SHORT, bolt(length=mm(14), **{**nut, "property_class": "05"})) == []
        assert said(SHORT, bolt(length=mm(14), **{**nut, "kind": "union nut"})) == []

    def test_the_length_a_step_gives(self) -> None:
        held = bolt(stack=mm(10))
        (finding,) = found(SHORT, job(put_in(length=mm(14))), Catalogue(fasteners=(held,)))
        assert (finding.step, finding.path) == (0, ("step", 0, "do", 0, "length"))
        recorded = evolve(held, length=mm(30))
        assert said(SHORT, recorded, put_in(length=mm(14))) == []  # that it is another piece is told elsewhere

    def test_a_blind_hole(self) -> None:
        hole: dict[str, Any] = {"length": mm(30), "stack": mm(10)}
        assert said(BOTTOMS, bolt(hole_depth=mm(19.4), **hole)) == [("likely", "")]
        assert said(BOTTOMS, bolt(hole_depth=mm(19.6), **hole)) == [("unstated", "close")]
        assert said(BOTTOMS, bolt(hole_depth=mm(21.2), **hole)) == [("unstated", "close")]
        assert said(BOTTOMS, bolt(hole_depth=mm(21.3), **hole)) == []
        assert said(BOTTOMS, bolt(**hole)) == []
        assert said(BOTTOMS, bolt(hole_depth=mm(10), engagement=mm(14))) == [("likely", "stated")]
        assert said(BOTTOMS, bolt(hole_depth=mm(14), engagement=mm(14))) == []
        assert said(BOTTOMS, bolt(hole_depth=mm(10), **hole), Action("remove", "bolt")) == []


class TestLubricant:
    @pytest.mark.parametrize(
        ("recorded", "product", "form"),
        [
            ("dry", "engine oil", ""), ("dry", "copper paste", ""), ("dry", "", "plain"),
            ("dry", "chain spray", "plain"), ("dry", "threadlocker", "less"), ("oil", "gear oil", None),
            ("oil", "grease", None), ("oil", "moly paste", ""), ("moly", "oil", "less"),
            ("grease", "anti-seize", ""), ("pre-coated", "oil", ""), ("as built", "oil", None),
            ("", "oil", None), ("oil", "Blue 7", "unknown"), ("Blue 7", "Blue 7", None), ("wax", "wax", None),
        ],
    )  # fmt: skip
    def test_what_is_put_on(self, recorded: str, product: str, form: str | None) -> None:
        oiled = Action("lubricate", "bolt", with_what=product)
        held = said(OIL, bolt(condition=recorded), oiled, *put_in())
        assert held == ([] if form is None else [("unstated" if form == "unknown" else "certain", form)])

    def test_by_how_much(self) -> None:
        """M10 dry 0.15 against oil 0.12, Dkm 12.815 mm: 1.981 and 1.633 mm of lever, 21 % more (VDI 2230-1 R13)."""
        held = bolt(size="M10x1.5", torque="44 N·m")
        oiled = Action("lubricate", "bolt", with_what="oil")
        (finding,) = found(OIL, job(oiled, *put_in()), Catalogue(fasteners=(held,)))
        assert finding.facts["amount"] == pytest.approx(0.213, abs=2e-3)
        assert finding.facts["before"] == pytest.approx(44 / 1.9815e-3, rel=1e-3)

    def test_what_is_not_put_on(self) -> None:
        for condition in ("oil", "grease", "moly", "anti-seize"):
            assert said(OIL, bolt(condition=condition)) == [("unstated", "not-applied")]
        for condition in ("dry", "wax", "threadlocker", "pre-coated", "as built"):
            assert said(OIL, bolt(condition=condition)) == []
        assert said(OIL, bolt(condition="oil"), PULL) == []  # not made in this job
        assert said(OIL, bolt(condition="oil"), *put_in(with_what="oil")) == []

    def test_elsewhere_or_on_a_condition_does_not_count(self) -> None:
        on_washer = Action("lubricate", "washer", "bolt", with_what="oil")
        if_needed = Action("lubricate", "bolt", with_what="oil", mode="if")
        never = Action("lubricate", "bolt", with_what="oil", mode="do_not")
        for action in (on_washer, if_needed, never):
            assert said(OIL, bolt(), action, *put_in()) == []


class TestDrag:
    NUT: dict[str, Any] = {  # noqa: RUF012
        "kind": "nut", "lock": Lock("prevailing-torque nut"), "prevailing": Amount(3.0, "N·m", 0.5),
    }  # fmt: skip

    def say(self, step: str, torque: str = "20 N·m ± 1", policy: str = "general", **more: Any) -> list[tuple[str, str]]:
        pulled = Action("tighten", "bolt", to=read_tightening(step))
        return said(DRAG, bolt(torque=torque, **{**self.NUT, **more}), pulled, policy=policy)

    def test_whose_practice(self) -> None:
        assert self.say("20 N·m") == []
        assert self.say("20 N·m", policy="pressure flange") == []
        assert self.say("20 N·m", policy="aviation") == [("likely", "limits")]
        assert self.say("23 N·m", policy="aviation") == []
        assert self.say("20 N·m", policy="road vehicle") == []  # 3 is less than a third of 19
        drags = {"prevailing": Amount(6.4, "N·m", 0.05)}
        assert self.say("20 N·m", policy="road vehicle", **drags) == [("likely", "limits")]
        assert self.say("20 N·m", policy="general", **drags) == []

    def test_a_wrong_figure_is_another_rules_to_say(self) -> None:
        assert self.say("45 N·m", policy="aviation") == []
        held = bolt(torque="20 N·m ± 1", **self.NUT)
        wrong = Action("tighten", "bolt", to=read_tightening("45 N·m"))
        assert said("step-torque-off-record", held, wrong, policy="aviation") == [("certain", "")]

    def test_a_first_pass_needs_none_of_it(self) -> None:
        held = bolt(torque="stage 10 N·m, then 20 N·m ± 1", **self.NUT)
        steps = [Action("tighten", "bolt", to=read_tightening(text)) for text in ("10 N·m", "23 N·m")]
        assert said(DRAG, held, *steps, policy="aviation") == []
        assert said("step-torque-off-record", held, *steps, policy="aviation") == []


class TestMetals:
    def test_groups_that_are_settled_without_a_table(self) -> None:
        """No pair of one group differs by more than the strictest limit, 0.15 V."""
        for one, group in _ALIKE.items():
            for other, another in _ALIKE.items():
                if group == another and one != other:
                    gap = galvanic_gap(one, other)
                    assert gap is not None
                    assert gap.volts <= gap.damp + 1e-9, (one, other)

    @pytest.mark.parametrize(
        ("surroundings", "wanted"),
        [("salt water", ["likely"]), ("damp", ["likely"]), ("outdoors", ["likely"]), ("indoors", ["unstated"]),
         ("climate-controlled", []), ("", [])],
    )  # fmt: skip
    def test_surroundings(self, surroundings: str, wanted: list[str]) -> None:
        held = bolt(property_class="A4-70", mating_material="aluminium die-cast")
        assert [one[0] for one in said(GALVANIC, held, surroundings=surroundings)] == wanted

    @pytest.mark.parametrize(
        "apart",
        [{"finish": "insulating coat"}, {"finish": "zinc plated"}, {"condition": "anti-seize"}, {"property_class": ""},
         {"mating_material": "stainless steel"}, {"mating_material": "oak"}],
    )  # fmt: skip
    def test_what_keeps_them_apart(self, apart: dict[str, Any]) -> None:
        held = bolt(**{"property_class": "A4-70", "mating_material": "aluminium die-cast", **apart})
        assert said(GALVANIC, held, surroundings="salt water") == []

    def test_sealant_of_a_step(self) -> None:
        held = bolt(property_class="A4-70", mating_material="aluminium die-cast")
        sealed = Action("seal", "bolt", with_what="jointing compound")
        assert said(GALVANIC, held, sealed, *put_in(), surroundings="salt water") == []

    @pytest.mark.parametrize(
        ("grade", "finish", "wanted"),
        [
            ("12.9", "zinc plated", [""]), ("12.9", "electroplated", [""]), ("12.9", "zinc flake", []),
            ("12.9", "", []), ("12.9", "zinc plated and baked", []), ("10.9", "zinc plated", []),
            ("A574", "cadmium plated", [""]),
            ("A2-70", "chrome", []), ("brass", "nickel plated", []),
        ],
    )  # fmt: skip
    def test_plating(self, grade: str, finish: str, wanted: list[str]) -> None:
        assert [one[1] for one in said(PLATED, bolt(property_class=grade, finish=finish))] == wanted

    def test_acid(self) -> None:
        dipped = Action("clean", "bolt", with_what="rust remover")
        assert said(PLATED, bolt(property_class="12.9"), dipped, *put_in()) == [("likely", "acid")]
        assert said(PLATED, bolt(property_class="8.8"), dipped, *put_in()) == []

    @pytest.mark.parametrize(
        ("more", "wanted"),
        [
            ({}, ["unstated"]), ({"condition": "dry"}, []), ({"property_class": "8.8"}, []),
            ({"mating_material": "steel"}, []), ({"mating_material": "stainless steel A4"}, []),
            ({"mating_material": "stainless steel A2"}, ["unstated"]),
        ],
    )  # fmt: skip
    def test_galling(self, more: dict[str, Any], wanted: list[str]) -> None:
        made = {"property_class": "A2-70", "mating_material": "stainless steel", "condition": "", **more}
        assert [one[0] for one in said(GALLING, bolt(**made))] == wanted

    def test_galling_under_power(self) -> None:
        held = bolt(property_class="A2-70", mating_material="stainless steel")
        driver = Tool("gun", "gun", kind="impact wrench")
        run_down = (*put_in()[:2], Action("seat", "bolt", tool="gun"), PULL)
        assert said(GALLING, held, *run_down, tools=(driver,)) == [("likely", "power")]
        waxed = Action("lubricate", "bolt", with_what="wax")
        assert said(GALLING, held, waxed, *run_down, tools=(driver,)) == []


SIZES = st.none() | st.sampled_from(("M8", "M8x1", "3/8-16 UNC", "G 1/4", "M13", "1/4 NPT")).map(read_size)
GRADES = st.sampled_from(("", "8.8", "A2-70", "brass", "12.9", "4.6", "grade 5", "8", "nonsense 7"))
LENGTHS = st.none() | st.sampled_from((0.001, 10.0, 30.0)).map(mm)
STUFFS = st.sampled_from(("", "steel", "stainless steel", "aluminium die-cast", "nylon", "ABS", "magnesium", "oak"))
TORQUES = st.none() | st.sampled_from(
    ("20 N·m ± 1", "900 N·m", "0.1 N·m", "5 lbf·in", "hand-tight", "30 lbs", "10 N·m + 90°", "max 9 N·m",
     "20 N·m plus the running torque")
).map(read_tightening)  # fmt: skip
FINISHES = st.sampled_from(("", "zinc plated", "paint"))
STATES = st.sampled_from(("", "dry", "oil", "moly", "as built"))


@st.composite
def odd_bolts(draw: st.DrawFn) -> Fastener:
    """A record with anything in it, or nothing."""
    return Fastener(
        "bolt", "bolt", kind=draw(st.sampled_from(("", "bolt", "nut", "plug", "castle nut", "flange bolt"))),
        thread=draw(SIZES), property_class=draw(GRADES), mating_thread=draw(SIZES), length=draw(LENGTHS),
        stack=draw(LENGTHS), engagement=draw(LENGTHS), hole_depth=draw(LENGTHS), mating_material=draw(STUFFS),
        bearing_material=draw(STUFFS), tightening=draw(TORQUES), finish=draw(FINISHES), condition=draw(STATES),
        one_time_use=draw(st.none() | st.booleans()),
        drive=draw(st.none() | st.sampled_from(("hex 13 mm", "T40")).map(read_drive)),
        washer=draw(st.none() | st.sampled_from((Washer("flat"), Washer("sealing")))),
        prevailing=draw(st.none() | st.just(Amount(3.0, "N·m", 0.5))),
    )  # fmt: skip


@settings(max_examples=120, deadline=None)
@given(odd_bolts(), st.lists(any_action, max_size=6), st.data())
def test_nothing_odd_makes_a_rule_raise(held: Fastener, actions: list[Action], data: st.DataObject) -> None:
    described = [
        evolve(
            action, what="bolt", of="", size=data.draw(SIZES), property_class=data.draw(GRADES),
            length=data.draw(LENGTHS), adapter=data.draw(st.sampled_from(("", "crowfoot", "bar", "dog-bone"))),
            adapter_angle=data.draw(st.sampled_from((None, 0.0, 90.0, 180.0))), tool="wrench",
        )
        for action in actions
    ]  # fmt: skip
    tools = (
        Tool("wrench", "wrench", kind="torque wrench", low=2.0, high=80.0, unit="lbf·ft", deviation=0.04, step=5.0,
             arm=0.3),
        Tool("crowfoot", "crowfoot", kind="crowfoot adapter", length=0.4),
    )  # fmt: skip
    catalogue = Catalogue(
        fasteners=(held,), tools=tools, kit=(KitItem("bolt", 1, size=data.draw(SIZES), length=data.draw(LENGTHS)),),
        surroundings=data.draw(st.sampled_from(("", "salt water", "indoors"))),
        policy=data.draw(st.sampled_from(("general", "aviation", "road vehicle"))),
    )  # fmt: skip
    procedure = Procedure("job", tuple(Step(str(at + 1), "", (action,)) for at, action in enumerate(described)))
    detect(play(procedure, catalogue))
    check_records(procedure, catalogue)  # and each finding can be told
