"""Locks and compounds: what counts as fitted, what locks by itself, which plastics crack, how long is long enough."""

from __future__ import annotations

from typing import Any

import pytest
from attrs import evolve
from hypothesis import given, settings

from rule_bench import found, job, plant_all, told, torque
from sound_kinds import compound_bolts, plastic_box
from sound_procedures import locked_nuts, sound_jobs
from torquewright.records import (
    Action,
    Amount,
    Angle,
    Catalogue,
    Fastener,
    Fluid,
    Lock,
    Message,
    Procedure,
    Seal,
    Stage,
    Tightening,
    WasherUse,
)
from torquewright.rules.compounds import cracked_by_compound
from torquewright.rules.locks import wanted

MISSING, BACKED = "locking-device-missing", "castle-nut-backed-off"
COMPOUND, PLASTIC, CURE = "threadlocker-missing", "threadlocker-on-plastic", "cure-time-ignored"
OFF, OUT = Action("remove", "lock", of="nut"), Action("remove", "nut")
IN, PULL = (Action("reuse", "nut"), Action("hand_start", "nut")), Action("tighten", "nut", to=torque(40))
PIN = Action("lock", "nut", state="new")


def one(lock: Lock | None, **more: Any) -> Catalogue:
    held = {"name": "nut", "count": 1, "kind": "castle nut", "mating_material": "steel", "tightening": torque(40)}
    return Catalogue(fasteners=(Fastener("nut", lock=lock, **{**held, **more}),))


COTTER = one(Lock("cotter pin", one_time_use=True))
BACK_AND_ON = (*torque(40).stages, Stage(None, Angle(-60.0)), *torque(20).stages)


class TestMissing:
    def test_put_back_or_left_out(self) -> None:
        assert told(MISSING, job(OFF, OUT, IN, PULL, PIN), COTTER) == []
        assert told(MISSING, job(OFF, OUT, IN, PULL), COTTER) == [("4", "certain", "")]

    def test_a_joint_nobody_opens_keeps_its_lock(self) -> None:
        assert told(MISSING, job(Action("inspect", "nut")), COTTER) == []
        assert told(MISSING, job(Action("retighten", "nut", to=torque(40))), COTTER) == []

    def test_the_lock_alone_taken_off(self) -> None:
        assert told(MISSING, job(OFF, Action("inspect", "nut")), COTTER) == [("1", "certain", "off")]
        assert told(MISSING, job(OFF, Action("inspect", "nut"), PIN), COTTER) == []

    def test_a_joint_left_open_is_another_rules(self) -> None:
        assert told(MISSING, job(OFF, OUT), COTTER) == []

    def test_loosened_and_pulled_again_with_no_word_of_the_lock(self) -> None:
        assert told(MISSING, job(Action("loosen", "nut"), PULL), COTTER) == [("2", "unstated", "unspoken")]

    def test_a_trial_fit_needs_no_lock(self) -> None:
        trial = job(OFF, OUT, IN, PULL, OUT, IN, PULL, PIN)
        assert told(MISSING, trial, COTTER) == []

    def test_before_the_pull_is_too_early_unless_pulled_before(self) -> None:
        assert told(MISSING, job(OFF, OUT, IN, PIN, PULL), COTTER) == [("4", "certain", "early")]
        assert told(MISSING, job(OFF, OUT, IN, PULL, PIN, Action("retighten", "nut", to=torque(40))), COTTER) == []

    def test_a_tab_washer_goes_on_first(self) -> None:
        tab = one(Lock("tab washer", one_time_use=True))
        fitted = (*IN, Action("install", "tab washer", of="nut", state="new"))
        assert told(MISSING, job(OFF, OUT, fitted, PULL), tab) == []
        worn = (Action("reuse", "nut", washer=WasherUse(1, "new", "tab")), Action("hand_start", "nut"))
        assert told(MISSING, job(OFF, OUT, worn, PULL), tab) == []
        assert told(MISSING, job(OFF, OUT, IN, PULL), tab) == [("4", "certain", "")]
        flat = (Action("reuse", "nut", washer=WasherUse(1, "old")), Action("hand_start", "nut"))
        assert told(MISSING, job(OFF, OUT, flat, PULL), tab) == [("4", "certain", "")]
        again = job(OFF, OUT, worn, PULL, OUT, IN, PULL)
        assert told(MISSING, again, tab) == [("7", "certain", "")]

    def test_a_spring_washer_counts_as_the_washer_it_is(self) -> None:
        spring = one(Lock("spring washer"))
        washed = (Action("reuse", "nut", washer=WasherUse(1, "old")), Action("hand_start", "nut"))
        assert told(MISSING, job(OUT, washed, PULL), spring) == []
        assert told(MISSING, job(OUT, IN, PULL), spring) == [("3", "certain", "")]

    def test_another_lock_than_the_recorded_one(self) -> None:
        wired = Action("lock", "nut", with_what="lockwire", state="new")
        assert told(MISSING, job(OFF, OUT, IN, PULL, wired), COTTER) == [("5", "certain", "other")]
        assert told(MISSING, job(OFF, OUT, IN, PULL, wired), one(Lock("cotter pin or lockwire"))) == []
        split = Action("lock", "nut", with_what="new split pin")
        assert told(MISSING, job(OFF, OUT, IN, PULL, split), COTTER) == []

    def test_a_lock_under_a_condition_is_spoken_of(self) -> None:
        maybe = Action("lock", "nut", state="new", mode="if", note="if the holes line up")
        assert told(MISSING, job(OFF, OUT, IN, PULL, maybe), COTTER) == []
        assert told(MISSING, job(OFF, OUT, IN, maybe, PULL), COTTER) == []
        wire = Action("lock", "nut", with_what="lockwire", mode="if", note="if no pin is at hand")
        assert told(MISSING, job(OFF, OUT, IN, PULL, wire), COTTER) == []

    def test_what_another_document_may_do_is_not_certain(self) -> None:
        assert told(MISSING, job(OFF, OUT, IN, PULL, Action("refer", "sheet 7")), COTTER) == [("4", "unstated", "")]

    @pytest.mark.parametrize(
        ("lock", "kind", "locks"),
        [
            (Lock("cotter pin", built_in=True), "nut", ()),
            (Lock("threadlocker"), "bolt", ()),
            (Lock("prevailing-torque nut"), "bolt", ()),
            (Lock("witness paint"), "nut", ()),
            (Lock("locknut"), "nut", ()),
            (Lock("locknut"), "bolt", ("locknut",)),
            (Lock("cotter pin or witness paint"), "nut", ()),
            (Lock("cotter pin, lockwire"), "nut", ("cotter pin", "lockwire")),
        ],
    )
    def test_which_locks_are_pieces(self, lock: Lock, kind: str, locks: tuple[str, ...]) -> None:
        assert wanted(Fastener("f", "f", kind=kind, lock=lock)) == locks
        assert wanted(Fastener("f", "f")) == ()


class TestBackedOff:
    BACK = Action("back_off", "nut", note="to the next slot")

    def test_the_last_turn_decides(self) -> None:
        assert told(BACKED, job(OFF, OUT, IN, PULL, self.BACK, PIN), COTTER) == [("5", "certain", "")]
        assert told(BACKED, job(OFF, OUT, IN, PULL, self.BACK, PULL, PIN), COTTER) == []
        assert told(BACKED, job(OFF, OUT, IN, PULL, PIN), COTTER) == []

    def test_nobody_says_what_for(self) -> None:
        bare = Action("back_off", "nut")
        assert told(BACKED, job(OFF, OUT, IN, PULL, bare), COTTER) == [("5", "likely", "")]
        assert told(BACKED, job(OFF, OUT, IN, PULL, bare, PIN), COTTER) == [("5", "certain", "")]

    def test_loosened_for_the_pin_or_for_good(self) -> None:
        loose = Action("loosen", "nut")
        assert told(BACKED, job(OFF, OUT, IN, PULL, loose, PIN), COTTER) == [("5", "certain", "")]
        assert told("opened-joint-left-loose", job(OFF, OUT, IN, PULL, loose, PIN), COTTER) == []
        assert told(BACKED, job(OFF, OUT, IN, PULL, loose), COTTER) == []
        assert told("opened-joint-left-loose", job(OFF, OUT, IN, PULL, loose), COTTER) != []
        assert told(BACKED, job(OFF, OUT, IN, PULL, loose, OUT), COTTER) == []

    def test_by_an_angle(self) -> None:
        back = Tightening("-30°", "angle_only", (Stage(None, Angle(-30.0)),))
        turned = Action("tighten_angle", "nut", to=back)
        assert told(BACKED, job(OFF, OUT, IN, PULL, turned, PIN), COTTER) == [("5", "certain", "")]

    @pytest.mark.parametrize("more", [{"name": "bearing nut"}, {"kind": "bearing nut"}, {"kind": "screw"}])
    def test_bearings_and_plain_nuts_are_left_alone(self, more: dict[str, Any]) -> None:
        lock = None if more.get("kind") == "screw" else Lock("cotter pin")
        assert told(BACKED, job(OUT, IN, PULL, self.BACK, PIN), one(lock, **more)) == []

    def test_a_record_that_turns_it_back(self) -> None:
        record = Tightening("40 N·m, then -60°", "stage_angle", (*torque(40).stages, Stage(None, Angle(-60.0))))
        assert told(BACKED, job(OFF, OUT, IN, PULL, self.BACK, PIN), one(Lock("cotter pin"), tightening=record)) == []

    def test_before_any_pull_nothing_is_backed_off(self) -> None:
        assert told(BACKED, job(OFF, OUT, IN, Action("back_off", "nut")), COTTER) == []

    def test_what_follows_says_what_for(self) -> None:
        bare = Action("back_off", "nut")
        assert told(BACKED, job(OFF, OUT, IN, PULL, bare, Action("clean", "nut")), COTTER) == [("5", "likely", "")]
        unpinned = job(OUT, IN, PULL, bare, Action("remove", "lock", of="nut"))
        assert told(BACKED, unpinned, COTTER) == [("4", "likely", "")]
        fitted = Action("install", "cotter pin", of="nut", state="new")
        assert told(BACKED, job(OFF, OUT, IN, PULL, bare, fitted), COTTER) == [("5", "certain", "")]
        pinned = Action("install", "cotter pin", of="nut", state="new")
        assert told(BACKED, job(OFF, OUT, IN, PULL, pinned), COTTER) == []

    @pytest.mark.parametrize(("angles", "back"), [((90.0, -30.0), True), ((-30.0, 90.0), False)])
    def test_the_last_angle_of_a_pull_decides(self, angles: tuple[float, ...], back: bool) -> None:
        turned = Tightening("turned", "angle_only", tuple(Stage(None, Angle(angle)) for angle in angles))
        procedure = job(OFF, OUT, IN, PULL, Action("tighten_angle", "nut", to=turned), PIN)
        assert bool(told(BACKED, procedure, COTTER)) is back

    @pytest.mark.parametrize("record", [None, Tightening("by hand", "hand_tight", ())])
    def test_a_record_without_a_figure_turns_nothing_back(self, record: Tightening | None) -> None:
        catalogue = one(Lock("cotter pin"), tightening=record)
        assert told(BACKED, job(OFF, OUT, IN, PULL, self.BACK, PIN), catalogue) == [("5", "certain", "")]

    def test_a_bearing_that_is_no_nut(self) -> None:
        catalogue = one(Lock("cotter pin"), name="bearing cap bolt", kind="bolt")
        assert told(BACKED, job(OFF, OUT, IN, PULL, self.BACK, PIN), catalogue) == [("5", "certain", "")]

    @pytest.mark.parametrize(
        ("lock", "record", "silent"),
        [
            (Lock("cotter pin"), torque(40), True),
            (Lock("cotter pin"), None, True),
            (None, torque(40), False),
            (Lock("cotter pin"), Tightening("40 N·m, -60°, 20 N·m", "stage_angle", BACK_AND_ON), False),
        ],
    )
    def test_the_play_of_a_bearing(self, lock: Lock | None, record: Tightening | None, silent: bool) -> None:
        catalogue = one(lock, name="bearing nut", kind="nut", tightening=record)
        procedure = job(OUT, IN, PULL, Action("back_off", "nut"))
        assert told(BACKED, procedure, catalogue) == []
        assert (told("wrong-stage-order", procedure, catalogue) == []) is silent

    def test_one_slip_is_told_once(self) -> None:
        procedure = job(OFF, OUT, IN, PULL, self.BACK, PIN)
        assert told("wrong-stage-order", procedure, COTTER) == []
        assert told("final-tighten-without-value", procedure, COTTER) == []


BOLT = {"kind": "bolt", "condition": ""}
GLUE = Action("seal", "nut", with_what="medium-strength threadlocker")
CLEAN = Action("clean", "nut")


class TestCompound:
    WANTS = one(Lock("threadlocker", product="medium-strength threadlocker"), **BOLT)

    @pytest.mark.parametrize(
        ("steps", "wanted"),
        [
            ((OUT, CLEAN, GLUE, IN, PULL), []),
            ((OUT, CLEAN, IN, GLUE, PULL), []),
            ((OUT, CLEAN, IN, PULL), [("4", "certain", "")]),
            ((OUT, CLEAN, IN, PULL, GLUE), [("5", "certain", "late")]),
            ((OUT, GLUE, IN, PULL), [("2", "unstated", "dirty")]),
            ((OUT, Action("clean", "threaded holes"), GLUE, IN, PULL), []),
            ((Action("loosen", "nut"), PULL), [("2", "certain", "")]),
            ((OUT, CLEAN, Action("lubricate", "nut", with_what="oil"), GLUE, IN, PULL), [("3", "certain", "both")]),
            ((Action("install", "nut", state="new"), GLUE, PULL), []),
            ((OUT, CLEAN, Action("seal", "nut", with_what="pipe sealant"), IN, PULL), [("5", "certain", "")]),
            ((OUT, CLEAN, Action("reuse", "nut", with_what="threadlocker"), PULL), []),
            ((OUT, CLEAN, Action("lock", "nut", with_what="locking fluid"), IN, PULL), []),
            ((OUT, CLEAN, GLUE), []),
            ((GLUE, Action("install", "nut", state="new"), PULL), []),
            ((OUT, CLEAN, Action("seal", "nut"), IN, PULL), []),
            ((OUT, CLEAN, Action("seal", "nut", with_what="the blue one"), IN, PULL), []),
            ((OUT, Action("clean", "nut", with_what="threadlocker remover"), IN, PULL), [("4", "certain", "")]),
            ((OUT, CLEAN, Action("seal", "washer", of="nut", with_what="threadlocker"), IN, PULL),
             [("5", "certain", "")]),
            ((OUT, CLEAN, GLUE, Action("reuse", "nut", note="it comes coated"), PULL), []),
            ((OUT, CLEAN, Action("reuse", "nut", note="it was coated once"), PULL), [("4", "certain", "")]),
            ((OUT, CLEAN, Action("lubricate", "nut", with_what="threadlocker"), IN, PULL), []),
            ((OUT, CLEAN, GLUE, IN, PULL, Action("lubricate", "nut", with_what="oil")), []),
            ((OUT, CLEAN, Action("lubricate", "nut", with_what="oil", mode="if"), GLUE, IN, PULL), []),
            ((OUT, GLUE, Action("install", "nut", state="new"), PULL), []),
            ((GLUE, IN, PULL), []),
            ((CLEAN, OUT, GLUE, IN, PULL), []),
            ((OUT, Action("inspect", "nut", note="degreased and dry"), GLUE, IN, PULL), []),
            ((OUT, Action("inspect", "box", note="clean"), GLUE, IN, PULL), [("3", "unstated", "dirty")]),
        ],
    )  # fmt: skip
    def test_before_clean_and_alone(self, steps: tuple[Any, ...], wanted: list[Any]) -> None:
        assert told(COMPOUND, job(*steps), self.WANTS) == wanted

    def test_oil_against_a_stated_condition_is_another_rules(self) -> None:
        stated = one(Lock("threadlocker"), kind="bolt", condition="threadlocker")
        oil = Action("lubricate", "nut", with_what="oil")
        assert told(COMPOUND, job(OUT, CLEAN, oil, GLUE, IN, PULL), stated) == []

    def test_a_compound_that_takes_oil_needs_no_cleaning(self) -> None:
        takes = one(Lock("threadlocker", product="oil-tolerant threadlocker"), **BOLT)
        assert told(COMPOUND, job(OUT, GLUE, IN, PULL), takes) == []

    def test_cleaning_another_joint_cleans_nothing_here(self) -> None:
        two = Catalogue(fasteners=(*self.WANTS.fasteners, Fastener("other", "other")))
        other = Action("clean", "other")
        assert told(COMPOUND, job(OUT, other, GLUE, IN, PULL), two) == [("3", "unstated", "dirty")]

    def test_two_parts_of_one_joint_are_one_slip(self) -> None:
        pair = one(Lock("threadlocker"), count=2, **BOLT)
        half = (Action("reuse", "nut", count=1), Action("hand_start", "nut", count=1))
        assert len(found(COMPOUND, job(OUT, half, half, PULL), pair)) == 1

    @pytest.mark.parametrize(
        ("step", "say", "silent"),
        [
            (1, "Put threadlocker on the threads.", True),
            (3, "Apply threadlocker and tighten.", True),
            (1, "Threadlocker is not put on.", False),
            (1, "Clean the old threadlocker off with a brush.", False),
            (1, "Put grease on the seal.", False),
            (4, "Put threadlocker on the threads.", False),
        ],
    )
    def test_a_sentence_may_put_it_on(self, step: int, say: str, silent: bool) -> None:
        procedure = job(OUT, CLEAN, IN, PULL, CLEAN)
        steps = tuple(evolve(held, say=say) if at == step else held for at, held in enumerate(procedure.steps))
        assert (told(COMPOUND, evolve(procedure, steps=steps), self.WANTS) == []) is silent

    def test_each_making_needs_its_own(self) -> None:
        twice = (OUT, CLEAN, GLUE, IN, PULL, OUT, CLEAN, IN, PULL)
        assert told(COMPOUND, job(*twice), self.WANTS) == [("9", "certain", "")]
        assert told(COMPOUND, job(*twice[:7], GLUE, *twice[7:]), self.WANTS) == []

    def test_loosened_between_its_stages_the_compound_is_still_wet(self) -> None:
        stages = job(OUT, CLEAN, GLUE, IN, PULL, Action("loosen", "nut"), PULL)
        assert told(COMPOUND, stages, self.WANTS) == []

    @pytest.mark.parametrize(
        ("lock", "condition", "asks"),
        [
            (Lock("threadlocker", built_in=True), "pre-coated", False),
            (Lock("threadlocker or lockwire"), "", False),
            (Lock("cotter pin"), "threadlocker", False),
            (None, "threadlocker", True),
            (None, "dry", False),
        ],
    )
    def test_who_asks_for_it(self, lock: Lock | None, condition: str, asks: bool) -> None:
        catalogue = one(lock, kind="bolt", condition=condition)
        assert bool(told(COMPOUND, job(OUT, CLEAN, IN, PULL), catalogue)) is asks

    def test_a_coated_new_bolt_brings_its_own(self) -> None:
        coated = Action("install", "nut", state="new", note="with its thread patch")
        assert told(COMPOUND, job(OUT, coated, PULL), self.WANTS) == []


class TestPlastic:
    @pytest.mark.parametrize(
        ("material", "answer"),
        [
            ("ABS", "yes"), ("polycarbonate", "yes"), ("clear acrylic", "yes"), ("PC/ABS blend", "yes"),
            ("nylon", ""), ("glass-filled nylon", ""), ("acetal", ""), ("polypropylene", ""), ("steel", ""), ("", ""),
            ("absorber steel", ""), ("plastic", "ask"), ("clear plastic", "ask"), ("thermoplastic", "ask"),
            ("brass insert in ABS", "ask"), ("brass insert in glass-filled nylon", ""),
        ],
    )  # fmt: skip
    def test_which_plastics(self, material: str, answer: str) -> None:
        assert cracked_by_compound(material) == answer

    def test_the_compound_decides(self) -> None:
        abs_ = one(None, kind="screw", mating_material="ABS")
        fit = Action("install", "nut", state="new")
        for put, expected in (
            (GLUE, [("1", "certain", "")]),
            (Action("seal", "nut", with_what="plastic-safe threadlocker"), []),
            (Action("seal", "nut", with_what="silicone sealant"), []),
            (Action("lubricate", "nut", with_what="anaerobic compound"), [("1", "certain", "")]),
            (Action("seal", "nut", with_what="threadlocker", mode="do_not"), []),
            (Action("seal", "nut"), []),
        ):
            assert told(PLASTIC, job((put, fit), PULL), abs_) == expected
        both = one(Lock("threadlocker"), kind="screw", mating_material="ABS", bearing_material="ABS")
        (finding,) = found(PLASTIC, job((Action("seal", "nut"), fit), PULL), both)
        assert (finding.certainty, finding.facts) == ("likely", {"material": "ABS", "product": "threadlocker"})


class TestCure:
    DAY = Amount(86400.0, "h", 1800.0)
    RUN = Action("run", "winch")

    def set(self, *between: Action, **lock: Any) -> list[Any]:
        catalogue = one(Lock("threadlocker", cure=self.DAY, **lock), kind="bolt")
        return told(CURE, job(OUT, CLEAN, GLUE, IN, PULL, *between, self.RUN), catalogue)

    @staticmethod
    def wait(seconds: float, verb: str = "wait") -> Action:
        return Action(verb, "it", amount=Amount(seconds, "s"))

    @pytest.mark.parametrize(("seconds", "enough"), [(86399.0, False), (86400.0, True), (86401.0, True)])
    def test_the_limit(self, seconds: float, enough: bool) -> None:
        assert (self.set(self.wait(seconds)) == []) is enough

    def test_waits_add_up(self) -> None:
        assert self.set(self.wait(43200.0), self.wait(43200.0, "cool_down")) == []
        assert self.set(self.wait(43200.0), self.wait(43100.0)) == [("8", "certain", "")]

    def test_a_wait_without_a_figure_is_until_it_has_set(self) -> None:
        assert self.set(Action("wait", "the threadlocker")) == []

    def test_a_wait_ahead_of_the_pull_is_none(self) -> None:
        catalogue = one(Lock("threadlocker", cure=self.DAY), kind="bolt")
        procedure = job(OUT, CLEAN, self.wait(90000.0), GLUE, IN, PULL, self.RUN)
        assert told(CURE, procedure, catalogue) == [("7", "certain", "none")]

    def test_no_load_no_fault(self) -> None:
        catalogue = one(Lock("threadlocker", cure=self.DAY), kind="bolt")
        assert told(CURE, job(OUT, CLEAN, GLUE, IN, PULL), catalogue) == []
        seals, fluids = (Seal("bead", "bead"),), (Fluid("oil", "oil"),)
        held = Catalogue(fasteners=catalogue.fasteners, seals=seals, fluids=fluids)
        for idle in (
            Action("run", "nut"), Action("run", "bead"), Action("run", "winch", mode="if"),
            Action("run", "winch", mode="do_not"), Action("drain", "oil"), Action("bleed", "oil"),
        ):  # fmt: skip
            assert told(CURE, job(OUT, CLEAN, GLUE, IN, PULL, idle), held) == []

    def test_held_back_for_a_time_is_a_wait(self) -> None:
        day = Amount(86400.0, "h")
        assert self.set(Action("run", "winch", mode="do_not", amount=day)) == []
        assert self.set(Action("run", "winch", mode="do_not", amount=Amount(60.0, "min"))) == [("7", "certain", "")]
        assert self.set(Action("inspect", "winch", mode="do_not", amount=day)) == [("7", "certain", "none")]
        catalogue = one(Lock("threadlocker", cure=self.DAY), kind="bolt")
        early = job(Action("run", "winch", mode="do_not", amount=day), OUT, CLEAN, GLUE, IN, PULL, self.RUN)
        assert told(CURE, early, catalogue) == [("7", "certain", "none")]

    def test_seals_without_a_time_or_not_fitted_ask_for_none(self) -> None:
        slow, quick = Seal("bead", "bead", cure=self.DAY), Seal("gasket", "gasket")
        catalogue = Catalogue(seals=(slow, quick))
        assert told(CURE, job(Action("install", "gasket"), Action("remove", "bead"), self.RUN), catalogue) == []
        assert told(CURE, job(Action("install", "bead"), self.RUN), catalogue) == [("2", "certain", "none")]

    def test_said_once_for_all(self) -> None:
        catalogue = one(Lock("threadlocker", cure=self.DAY), kind="bolt")
        held = job(OUT, CLEAN, GLUE, IN, PULL, self.RUN)
        told_ahead = Procedure(held.title, held.steps, messages=(Message("NOTE", "Let compound cure for a day.", -1),))
        assert told(CURE, told_ahead, catalogue) == []

    def test_a_patch_needs_its_time_only_where_a_new_one_goes_in(self) -> None:
        catalogue = one(Lock("threadlocker", built_in=True, cure=self.DAY), kind="bolt")
        new = job(OUT, Action("install", "nut", state="new"), PULL, self.RUN)
        assert told(CURE, new, catalogue) == [("4", "certain", "none")]
        assert told(CURE, job(OUT, IN, PULL, self.RUN), catalogue) == []

    def test_a_bead_is_loaded_when_its_fluid_goes_in(self) -> None:
        seal = Seal("bead", "bead", kind="sealant", cure=Amount(7200.0, "h"))
        cover = Fastener("nut", "nut", count=1, kind="bolt", mating_material="steel", tightening=torque(40),
                         seals=("bead",), fluid="oil")  # fmt: skip
        catalogue = Catalogue(fasteners=(cover,), seals=(seal,), fluids=(Fluid("oil", "oil"), Fluid("water", "water")))
        bead = Action("install", "bead", state="new")
        fill, water = Action("fill", "oil"), Action("fill", "water")
        assert told(CURE, job(bead, IN, PULL, fill), catalogue) == [("4", "certain", "none")]
        assert told(CURE, job(bead, IN, PULL, water), catalogue) == []
        assert told(CURE, job(bead, IN, PULL, self.wait(7200.0), fill), catalogue) == []
        # closed later than it was laid: its time counts from the pull
        assert told(CURE, job(bead, self.wait(7200.0), IN, PULL, fill), catalogue) == [("5", "certain", "none")]


@settings(max_examples=60, deadline=None)
@given(sound_jobs(kinds=(locked_nuts, compound_bolts, plastic_box), most=2))
def test_planted_slips_of_locks_are_found_and_nothing_else(made: tuple[Procedure, Catalogue]) -> None:
    for rule in (MISSING, BACKED, COMPOUND, PLASTIC, CURE):
        plant_all(rule, *made)


def test_the_planters_reach_every_kind_of_slip() -> None:
    def forms(rule: str, catalogue: Catalogue, *steps: Any) -> list[str]:
        return [told(rule, held.procedure, held.catalogue)[0][2] for held in plant_all(rule, job(*steps), catalogue)]

    binned = Action("discard", "lock", of="nut")
    assert forms(MISSING, COTTER, OFF, binned, OUT, IN, PULL, PIN) == ["", "early"]
    assert forms(BACKED, COTTER, OFF, binned, OUT, IN, PULL, PIN) == ["", "if"]
    assert forms(COMPOUND, TestCompound.WANTS, OUT, CLEAN, GLUE, IN, PULL) == ["", "late", "dirty"]
