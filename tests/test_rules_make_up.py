"""How a joint is put together: plain washers, clamped faces, tape, blind holes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from attrs import evolve
from hypothesis import given, settings

from rule_bench import found, job, plant_all, told, torque
from sound_procedures import sound_jobs
from torquewright import read
from torquewright.records import Action, Amount, Catalogue, Fastener, Procedure, Washer, WasherUse
from torquewright.rules.make_up import seat_of

STACK, FACE = "washer-stack-wrong", "sealant-or-paint-on-clamped-face"
TAPE, HOLE = "tape-on-wrong-seal", "fluid-in-blind-hole"
EXAMPLES = sorted((Path(__file__).parent.parent / "specs" / "examples").glob("*/sound.toml"))


def records(**more: Any) -> Catalogue:
    bolt = Fastener("bolt", "hub bolt", **{"count": 2, "tightening": torque(8), "washer_unstated": False, **more})
    return Catalogue(fasteners=(bolt,))


OFF, ON, PULL = Action("remove", "bolt"), Action("install", "bolt"), Action("tighten", "bolt", to=torque(8))


def fit(count: int | None, kind: str = "", state: str = "", verb: str = "install", **more: Any) -> Action:
    return Action(verb, "bolt", washer=WasherUse(count, state, kind), **more)  # type: ignore[arg-type]


def made(*fitting: Action) -> Procedure:
    return job(OFF, *fitting, PULL)


class TestStack:
    @pytest.mark.parametrize(
        ("kind", "used", "clash"),
        [
            ("flat", "flat", False),
            ("flat", "thrust", False),
            ("load-spreading", "flat", False),
            ("flat", "", False),
            ("flat", "spring", True),
            ("spring", "flat", True),
            ("spring", "toothed", True),
            ("flat", "copper", True),
            ("flat", "something else", False),
            ("flat", "tab", False),
        ],
    )
    def test_kinds(self, kind: str, used: str, clash: bool) -> None:
        assert told(STACK, made(fit(1, used)), records(washer=Washer(kind))) == [("2", "certain", "kind")] * clash

    @pytest.mark.parametrize(
        ("wanted", "used", "form"),
        [(1, 1, ""), (1, 2, "extra"), (2, 1, "few"), (2, 2, ""), (2, 3, "extra"), (1, None, ""), (1, 0, "left-out")],
    )
    def test_numbers(self, wanted: int, used: int | None, form: str) -> None:
        said = told(STACK, made(fit(used)), records(washer=Washer("flat", wanted)))
        assert said == ([("2", "certain", form)] if form else [])

    def test_washers_put_on_one_by_one_add_up(self) -> None:
        second = Action("install", "flat washer", "bolt")
        held = records(washer=Washer("flat", 2), count=1)
        assert found(STACK, made(fit(1), second), held) == []
        assert told(STACK, made(fit(2), evolve(second, count=1)), held) == [("3", "certain", "extra")]
        assert told(STACK, made(Action("install", "spring washer", "bolt", count=2), ON), held)[0][2] == "kind"

    def test_none_in_the_record(self) -> None:
        assert told(STACK, made(fit(1)), records()) == [("2", "certain", "none-wanted")]
        assert found(STACK, made(fit(1)), records(washer_unstated=True)) == []
        assert found(STACK, made(fit(None)), records()) == []
        assert found(STACK, made(ON), records()) == []

    def test_sealing_and_captive_washers_are_not_judged_here(self) -> None:
        for washer in (Washer("sealing"), Washer("copper"), Washer("flat", captive=True), Washer("shim")):
            assert found(STACK, made(fit(2, "spring")), records(washer=washer)) == [], washer

    def test_what_was_taken_off_must_go_back_on(self) -> None:
        off = Action("remove", "washer", "bolt")
        held = records(washer=Washer("flat"))
        assert told(STACK, job(OFF, off, ON, PULL), held) == [("3", "unstated", "left-out")]
        assert told(STACK, job(OFF, evolve(off, verb="discard"), ON, PULL), held) == [("3", "unstated", "left-out")]
        assert found(STACK, job(OFF, off, fit(1), PULL), held) == []
        assert found(STACK, job(OFF, off, Action("install", "washer", "bolt"), ON, PULL), held) == []
        assert found(STACK, job(OFF, evolve(off, verb="clean"), ON, PULL), held) == []
        assert found(STACK, job(OFF, ON, PULL), held) == []
        assert found(STACK, job(OFF, off, ON), held) == []  # not closed in this job

    def test_what_is_conditional_is_left_alone(self) -> None:
        assert found(STACK, made(ON, fit(3, mode="if")), records(washer=Washer("flat"))) == []

    def test_each_slip_is_told_once(self) -> None:
        steps = (evolve(fit(2), count=1), evolve(fit(2), count=1))
        assert len(found(STACK, made(*steps), records(washer=Washer("flat")))) == 2
        assert len(found(STACK, made(fit(2)), records(washer=Washer("flat")))) == 1


SMEAR = Action("seal", "face", "bolt", with_what="sealant")
WIPE = Action("clean", "face", "bolt")


class TestFace:
    @pytest.mark.parametrize(
        ("rule", "verb", "product", "count"),
        [
            ("bare", "seal", "sealant", 1),
            ("bare", "lubricate", "grease", 1),
            ("bare", "mark", "paint", 1),
            ("bare", "mark", "chalk", 0),
            ("bare", "seal", "", 0),
            ("thin paint", "seal", "sealant", 1),
            ("thin paint", "lubricate", "gasket paste", 1),
            ("thin paint", "mark", "paint", 0),
            ("sealant", "seal", "sealant", 0),
            ("", "seal", "sealant", 0),
            ("bare", "clean", "solvent", 0),
        ],
    )
    def test_what_goes_on(self, rule: str, verb: str, product: str, count: int) -> None:
        lay = Action(verb, "clamping face", "bolt", with_what=product)
        assert told(FACE, job(OFF, WIPE, lay, ON, PULL), records(face=rule)) == [("3", "certain", "")] * count

    def test_whose_face_it_is(self) -> None:
        held = records(face="bare")
        two = evolve(held, fasteners=(*held.fasteners, Fastener("lid", "lid screw", face="bare")))
        plain = Action("seal", "flange face", with_what="sealant")
        assert len(found(FACE, job(OFF, WIPE, plain, ON, PULL), held)) == 1  # the only one with bare faces
        lid = (Action("remove", "lid"), OFF, WIPE)
        assert found(FACE, job(*lid, plain, ON, PULL), two) == []
        (finding,) = found(FACE, job(*lid, evolve(plain, what="hub face"), ON, PULL), two)
        assert finding.joint == "bolt"
        assert found(FACE, job(OFF, WIPE, evolve(SMEAR, of="lid"), ON, PULL), held) == []
        assert found(FACE, job(OFF, WIPE, evolve(SMEAR, what="thread"), ON, PULL), held) == []

    def test_bare_faces_are_cleaned(self) -> None:
        held = records(face="bare")
        assert told(FACE, job(OFF, ON, PULL), held) == [("3", "unstated", "not-cleaned")]
        assert found(FACE, job(OFF, Action("clean", "hub"), ON, PULL), held) == []
        assert found(FACE, job(Action("clean", "hub"), OFF, ON, PULL), held) != []
        assert found(FACE, job(OFF, ON, PULL, Action("clean", "hub")), held) != []
        assert found(FACE, job(OFF, ON, PULL), records(face="thin paint")) == []
        assert found(FACE, job(Action("loosen", "bolt"), PULL), held) == []  # never apart
        assert found(FACE, job(PULL), held) == []

    def test_what_is_conditional_or_forbidden_is_left_alone(self) -> None:
        for mode in ("if", "do_not"):
            assert found(FACE, job(OFF, WIPE, evolve(SMEAR, mode=mode), ON, PULL), records(face="bare")) == []


class TestTape:
    @pytest.mark.parametrize(
        ("seat", "count"),
        [("cone", 1), ("flare", 1), ("O-ring", 1), ("bonded washer", 1), ("face", 1), ("compression ring", 1),
         ("thread", 0), ("taper thread", 0), ("welded", 0), ("", 0)],
    )  # fmt: skip
    def test_seats(self, seat: str, count: int) -> None:
        wrap = Action("seal", "bolt", with_what="PTFE tape")
        assert len(found(TAPE, job(wrap), records(seals_by=seat))) == count

    @pytest.mark.parametrize(
        ("product", "count"),
        [("PTFE tape", 1), ("Thread tape", 1), ("hemp", 1), ("thread sealant", 1), ("threadlocker", 0),
         ("masking tape", 0), ("PTFE grease", 0), ("anti-seize paste", 0), ("oil", 0), ("", 0)],
    )  # fmt: skip
    def test_products(self, product: str, count: int) -> None:
        held = records(seals_by="cone")
        assert len(found(TAPE, job(Action("seal", "bolt", with_what=product)), held)) == count
        assert len(found(TAPE, job(Action("install", product, "bolt")), held)) == count
        assert found(TAPE, job(Action("remove", product, "bolt")), held) == []

    def test_by_a_sealing_washer_it_is_only_likely(self) -> None:
        wrap = Action("seal", "bolt", with_what="PTFE tape")
        assert told(TAPE, job(wrap), records(washer=Washer("sealing"))) == [("1", "likely", "")]
        assert told(TAPE, job(wrap), records(washer=Washer("sealing"), seals_by="face")) == [("1", "certain", "")]

    def test_a_sealing_washer_is_a_seat_unless_the_record_says_more(self) -> None:
        assert seat_of(Fastener("a", "a", washer=Washer("sealing"))) == "sealing washer"
        assert seat_of(Fastener("a", "a", washer=Washer("flat"))) == ""
        assert seat_of(Fastener("a", "a", washer=Washer("sealing"), seals_by="thread")) == ""


DRY = Action("clean", "hole", "bolt")
DROP = Action("lubricate", "hole", "bolt", with_what="oil")


class TestHole:
    def test_dried_before_it_is_closed(self) -> None:
        held = records(blind=True, fluid="oil")
        assert told(HOLE, job(OFF, ON, PULL), held) == [("3", "unstated", "")]
        for clean in (DRY, Action("clean", "bolt"), Action("clean", "threads"), Action("clean", "the four holes")):
            assert found(HOLE, job(OFF, clean, ON, PULL), held) == [], clean
        for other in (Action("clean", "cover"), Action("clean", "hole", "lid"), evolve(DRY, verb="inspect")):
            assert len(found(HOLE, job(OFF, other, ON, PULL), held)) == 1, other
        assert len(found(HOLE, job(DRY, OFF, ON, PULL), held)) == 1
        assert found(HOLE, job(Action("loosen", "bolt"), PULL), held) == []

    def test_only_where_the_record_says_so(self) -> None:
        depth = Amount(0.02, "mm")
        for more in ({"blind": True}, {"fluid": "oil"}, {"blind": False, "fluid": "oil"}):
            assert found(HOLE, job(OFF, ON, PULL), records(**more)) == [], more
        assert found(HOLE, job(OFF, ON, PULL), records(hole_depth=depth, fluid="oil")) == []
        assert len(found(HOLE, job(OFF, DROP, ON, PULL), records(hole_depth=depth))) == 1
        assert found(HOLE, job(OFF, DROP, ON, PULL), records(hole_depth=depth, blind=False)) == []

    def test_oil_in_the_hole(self) -> None:
        held = records(blind=True)
        assert told(HOLE, job(OFF, DROP, ON, PULL), held) == [("2", "certain", "poured")]
        assert told(HOLE, job(OFF, DRY, DROP, ON, PULL), held) == [("3", "certain", "poured")]
        assert found(HOLE, job(OFF, DROP, DRY, ON, PULL), held) == []
        assert found(HOLE, job(OFF, Action("lubricate", "bolt", with_what="oil"), ON, PULL), held) == []
        assert found(HOLE, job(OFF, evolve(DROP, mode="if"), ON, PULL), held) == []
        assert len(found(HOLE, job(OFF, DROP, ON, PULL), records(blind=True, fluid="oil"))) == 1


@pytest.mark.parametrize(("rule", "least"), [(STACK, 20), (FACE, 1), (TAPE, 3), (HOLE, 2)])
def test_planted_in_the_examples(rule: str, least: int) -> None:
    planted = []
    for path in EXAMPLES:
        held = read(str(path))
        assert held.procedure is not None
        planted += plant_all(rule, held.procedure, held.catalogue)
    assert len(planted) >= least


@pytest.mark.parametrize("rule", [STACK, TAPE])
@settings(max_examples=40, deadline=None)
@given(made_up=sound_jobs(most=3))
def test_planted_in_made_up_jobs(rule: str, made_up: tuple[Procedure, Catalogue]) -> None:
    plant_all(rule, *made_up)
