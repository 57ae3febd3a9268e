"""What can hurt: a load on its jack, energy behind a joint, a terminal done by feel."""

from __future__ import annotations

from typing import Any

import pytest
from attrs import evolve
from hypothesis import given, settings

from rule_bench import found, job, plant_all, told, torque
from sound_kinds import held_load, jacked, terminals
from sound_procedures import banjo, sound_jobs
from torquewright.records import Action, Catalogue, Fastener, Message, Procedure, Stage, Step, Tightening, Tool

LOAD, ENERGY, LUG = "raised-load-unsupported", "stored-energy-not-released", "electrical-lug-by-feel"
OUT, LOOSEN = Action("remove", "cap"), Action("loosen", "cap")
PULL = Action("tighten", "cap", to=torque(20))


def one(**more: Any) -> Catalogue:
    more.setdefault("tightening", torque(20))
    return Catalogue(fasteners=(Fastener("cap", "cap", count=1, mating_material="steel", **more),))


def spoken(procedure: Procedure, **says: str) -> Procedure:
    """The same with sentences, by the labels of the steps (``s3``)."""
    steps = tuple(evolve(step, say=says.get(f"s{step.label}", "")) for step in procedure.steps)
    return evolve(procedure, steps=steps)


class TestLoad:
    UP = Action("raise", "trailer", tool="trolley jack")

    def test_only_supports_make_it_safe(self) -> None:
        for between, wanted in (
            ((), [("2", "certain", "")]),
            ((Action("check", "brake applied"),), [("3", "certain", "")]),
            ((Action("support", "trailer"),), []),
            ((Action("lower", "trailer"),), []),
            ((Action("insert", "axle stands"),), []),
            ((Action("position", "stand under the axle"),), []),
            ((Action("inspect", "wheel"),), [("3", "certain", "")]),
        ):
            assert told(LOAD, job(self.UP, *between, OUT), one()) == wanted

    def test_the_first_work_is_told_whatever_it_is_on(self) -> None:
        (finding,) = found(LOAD, job(self.UP, Action("clean", "hub"), OUT), one())
        assert (finding.step, finding.joint, finding.form) == (1, "", "no-joint")

    def test_a_load_without_a_name(self) -> None:
        (finding,) = found(LOAD, job(Action("raise", "", tool="jack"), OUT), one())
        assert finding.facts == {"load": "load"}

    def test_what_may_be_done_is_not_done(self) -> None:
        assert told(LOAD, job(evolve(self.UP, mode="if"), OUT), one()) == []
        assert told(LOAD, job(self.UP, evolve(OUT, mode="if")), one()) == []

    def test_work_on_a_stand_is_no_support(self) -> None:
        assert told(LOAD, job(self.UP, Action("remove", "stand bolt"), OUT), one()) == [("2", "certain", "no-joint")]

    def test_jacked_twice_is_told_once(self) -> None:
        twice = job(self.UP, OUT, Action("lower", "trailer"), self.UP, OUT)
        assert told(LOAD, twice, one()) == [("2", "certain", "")]

    def test_a_support_ahead_of_the_jack_is_another(self) -> None:
        assert told(LOAD, job(Action("support", "engine"), self.UP, OUT), one()) == [("3", "certain", "")]

    def test_raised_before_the_first_step(self) -> None:
        (finding,) = found(LOAD, job(OUT, given=(self.UP,)), one())
        assert (finding.step, finding.also) == (0, (("procedure", ("given", 0)),))
        held = job(OUT, given=(self.UP, Action("insert", "axle stands")))
        assert told(LOAD, held, one()) == []

    def test_supports_come_before_the_work(self) -> None:
        late = job(self.UP, OUT, Action("support", "trailer"))
        assert told(LOAD, late, one()) == [("2", "certain", "")]

    def test_preconditions_count(self) -> None:
        held = job(self.UP, OUT, given=(Action("support", "trailer", tool="axle stands"),))
        assert told(LOAD, held, one()) == []
        assert told(LOAD, job(self.UP, OUT, given=(Action("stop", "engine"),)), one()) != []

    @pytest.mark.parametrize(
        ("tool", "raised"),
        [("hoist", False), ("crane", False), ("", False), ("bottle jack", True), ("two-post lift", True)],
    )
    def test_what_hangs_is_no_jack(self, tool: str, raised: bool) -> None:
        procedure = job(Action("raise", "trailer", tool=tool), OUT)
        assert bool(told(LOAD, procedure, one())) is raised

    def test_the_sentence_may_say_jack_and_stands(self) -> None:
        procedure = job(Action("raise", "trailer"), Action("install", "trailer"), OUT)
        assert told(LOAD, procedure, one()) == []
        jacked = spoken(procedure, s1="Jack up the trailer.")
        assert told(LOAD, jacked, one()) == [("2", "certain", "no-joint")]
        assert told(LOAD, spoken(procedure, s1="Jack up the trailer.", s2="Set it on axle stands."), one()) == []

    def test_a_lift_on_its_locks(self) -> None:
        lift = Action("raise", "trailer", tool="two-post lift")
        assert told(LOAD, job((lift, Action("check", "locks engaged")), OUT), one()) == []
        locked = spoken(job(lift, OUT), s1="Raise it on the two-post lift, onto its safety locks.")
        assert told(LOAD, locked, one()) == []

    @pytest.mark.parametrize(
        ("first", "taken"),
        [
            (Action("support", "drum"), True),
            (Action("lower", "batten"), True),
            (Action("insert", "lock bar"), True),
            (Action("isolate", "gravity load on the rope"), True),
            (Action("isolate", "electrical supply"), False),
            (Action("insert", "rag"), False),
            (Action("check", "rope"), False),
            (Action("inspect", "stand"), False),
            (Action("position", "stand"), True),
        ],
    )
    def test_what_holds_a_load(self, first: Action, taken: bool) -> None:
        carrying = one(energy=("gravity",))
        wanted = [] if taken else [("2", "certain", "held")]
        assert told(LOAD, job(first, OUT), carrying) == wanted

    def test_words_hold_it_too(self) -> None:
        carrying = one(energy=("gravity",))
        two = job(Action("clean", "drum"), OUT)
        for label, say, silent in (
            ("s1", "Block the drum.", True), ("s2", "Hold the carrier and remove its screws.", True),
            ("s1", "Look at the drum.", False), ("s2", "Remove the screws.", False),
        ):  # fmt: skip
            assert (told(LOAD, spoken(two, **{label: say}), carrying) == []) is silent, say
        after = job(OUT, Action("clean", "drum"))
        assert told(LOAD, spoken(after, s2="Block the drum."), carrying) != []

    def test_no_load_is_missing_twice(self) -> None:
        two = Catalogue(fasteners=tuple(Fastener(key, key, energy=("gravity",)) for key in ("cap", "bolt")))
        assert len(found(LOAD, job(OUT, Action("remove", "bolt")), two)) == 1

    def test_a_warning_that_says_so(self) -> None:
        held = job(OUT)
        message = Message("DANGER", "Pin the drum before any bolt is loosened.", -1)
        assert told(LOAD, evolve(held, messages=(message,)), one(energy=("gravity",))) == []
        other = Message("DANGER", "The drum is hot.", -1)
        assert told(LOAD, evolve(held, messages=(other,)), one(energy=("gravity",))) != []


class TestEnergy:
    @pytest.mark.parametrize(
        ("kind", "act", "out"),
        [
            ("pressure", Action("isolate", "air pressure"), True),
            ("pressure", Action("isolate", "suction valve"), True),
            ("pressure", Action("bleed", "line"), True),
            ("pressure", Action("drain", "tank"), True),
            ("pressure", Action("check", "gauge at zero"), True),
            ("pressure", Action("isolate", "machine"), True),
            ("pressure", Action("isolate", ""), True),
            ("pressure", Action("isolate", "battery"), False),
            ("pressure", Action("isolate", "electrical supply"), False),
            ("pressure", Action("isolate", "spring tension"), False),
            ("pressure", Action("stop", "pump"), False),
            ("pressure", Action("cool_down", "pump"), False),
            ("electrical", Action("isolate", "electrical supply"), True),
            ("electrical", Action("disconnect", "battery"), True),
            ("electrical", Action("remove", "fuse"), True),
            ("electrical", Action("check", "terminals dead"), True),
            ("electrical", Action("isolate", "supply"), True),
            ("electrical", Action("isolate", "air pressure"), False),
            ("electrical", Action("remove", "cover"), False),
            ("spring", Action("isolate", "spring tension"), True),
            ("spring", Action("check", "spring slack"), True),
            ("spring", Action("isolate", "gravity load on the rope"), False),
            ("thermal", Action("cool_down", "head"), True),
            ("thermal", Action("wait", "it to cool"), True),
            ("thermal", Action("wait", "the oil"), False),
            ("thermal", Action("isolate", "machine"), False),
            ("thermal", Action("isolate", "electrical supply"), False),
            ("fuel", Action("isolate", "fuel tap"), True),
            ("fuel", Action("drain", "tank"), True),
            ("fuel", Action("isolate", "battery"), False),
        ],
    )
    def test_what_lets_it_out(self, kind: str, act: Action, out: bool) -> None:
        wanted = [] if out else [("2", "certain", "")]
        assert told(ENERGY, job(act, OUT), one(energy=(kind,))) == wanted

    def test_words_let_it_out_too(self) -> None:
        pressed, live, hot = one(energy=("pressure",)), one(energy=("electrical",)), one(energy=("thermal",))
        two = job(Action("inspect", "box"), OUT)
        for catalogue, label, say, silent in (
            (pressed, "s1", "Blow off the air.", True),
            (pressed, "s2", "Release the pressure and undo the cap.", True),
            (pressed, "s2", "Disconnect the air line.", False),
            (pressed, "s1", "Look at the air line.", False),
            (pressed, "s1", "Blow the dust off.", False),
            (live, "s1", "Pull the fuse.", True),
            (live, "s1", "Look at the fuse.", False),
            (hot, "s2", "With the head cold, undo the cap.", True),
        ):
            assert (told(ENERGY, spoken(two, **{label: say}), catalogue) == []) is silent, say
        assert told(ENERGY, spoken(job(OUT, PULL), s2="Release the pressure."), pressed) != []
        assert told(ENERGY, spoken(job(Action("wait", "it"), OUT), s1="Wait until it is cool."), hot) == []
        switch = spoken(job(Action("remove", "cover"), OUT), s1="Remove the cover of the switch panel.")
        assert told(ENERGY, switch, live) != []

    def test_an_act_on_another_joint_lets_nothing_out(self) -> None:
        battery = Fastener("battery", "battery clamp bolt", kind="bolt")
        for kind, act, silent in (
            ("electrical", Action("remove", "battery"), False),
            ("pressure", Action("bleed", "battery"), True),
            ("pressure", Action("bleed", "cap"), True),
        ):
            two = Catalogue(fasteners=(*one(energy=(kind,)).fasteners, battery))
            assert (told(ENERGY, job(act, OUT), two) == []) is silent, act

    def test_opened_before_the_first_step_is_past(self) -> None:
        assert told(ENERGY, job(PULL, given=(OUT,)), one(energy=("pressure",))) == []

    def test_the_first_joint_opened_is_told(self) -> None:
        two = Catalogue(fasteners=tuple(Fastener(key, key, energy=("pressure",)) for key in ("cap", "bolt")))
        procedure = job(Action("inspect", "cap"), Action("remove", "bolt"), OUT)
        assert [finding.joint for finding in found(ENERGY, procedure, two)] == ["bolt"]

    def test_a_message_in_the_step_itself_counts(self) -> None:
        warned = evolve(job(OUT), messages=(Message("WARNING", "Release the pressure first.", 0),))
        assert told(ENERGY, warned, one(energy=("pressure",))) == []

    def test_before_not_after(self) -> None:
        assert told(ENERGY, job(OUT, Action("isolate", "air pressure")), one(energy=("pressure",))) != []

    def test_each_kind_and_all_of_them_told_at_once(self) -> None:
        hot = one(energy=("pressure", "thermal", "electrical"))
        (finding,) = found(ENERGY, job(OUT), hot)
        assert finding.facts == {"energy": "pressure, heat and voltage"}
        (finding,) = found(ENERGY, job(Action("isolate", "mains"), Action("isolate", "air"), OUT), hot)
        assert finding.facts == {"energy": "heat"}

    def test_let_out_nowhere_it_is_missing_once(self) -> None:
        two = Catalogue(fasteners=tuple(Fastener(key, key, energy=("pressure",)) for key in ("cap", "bolt")))
        held = job(Action("remove", "bolt"), OUT)
        assert [finding.joint for finding in found(ENERGY, held, two)] == ["bolt"]
        between = job(Action("remove", "bolt"), Action("isolate", "air pressure"), OUT)
        assert [finding.joint for finding in found(ENERGY, between, two)] == ["bolt"]

    def test_stated_once_ahead(self) -> None:
        pressed = one(energy=("pressure",))
        assert told(ENERGY, job(OUT, given=(Action("isolate", "air pressure"),)), pressed) == []
        for text, silent in (
            ("Release the pressure before any work.", True),
            ("Lock out and depressurise the receiver.", True),
            ("High pressure. Wear glasses.", False),
            ("Disconnect the battery.", False),
        ):
            warned = evolve(job(OUT), messages=(Message("WARNING", text, -1),))
            assert (told(ENERGY, warned, pressed) == []) is silent, text

    def test_a_message_behind_the_opening_is_too_late(self) -> None:
        late = evolve(job(OUT, PULL), messages=(Message("WARNING", "Release the pressure first.", 1),))
        assert told(ENERGY, late, one(energy=("pressure",))) != []

    def test_loosening_that_lets_it_out_by_itself(self) -> None:
        slow = Action("loosen", "cap", note="to the first stop, until the pressure is off")
        assert told(ENERGY, job(slow), one(energy=("pressure",))) == []
        assert told(ENERGY, job(slow), one(energy=("electrical",))) != []
        said = spoken(job(LOOSEN), s1="Crack the union and let the pressure off.")
        assert told(ENERGY, said, one(energy=("fuel",))) == []

    def test_what_is_not_opened_holds(self) -> None:
        pressed = one(energy=("pressure",))
        for quiet in (
            Action("inspect", "cap"), PULL, Action("remove", "cap", mode="do_not"),
            Action("remove", "washer", of="cap"), Action("loosen", "cap", mode="if", note="if it weeps"),
        ):  # fmt: skip
            assert told(ENERGY, job(quiet), pressed) == []


class TestLug:
    TERMINAL = one(kind="terminal")

    @pytest.mark.parametrize(
        ("more", "by_feel"),
        [
            ({"to": None}, True),
            ({"to": torque(20)}, False),
            ({"to": torque(20), "tool": "torque driver"}, False),
            ({"to": torque(20), "tool": "torque wrench"}, False),
            ({"to": torque(20), "tool": "13 mm socket"}, False),
            ({"to": torque(20), "tool": "insulated screwdriver"}, True),
            ({"to": torque(20), "tool": "ratchet"}, True),
            ({"to": torque(20), "tool": "13 mm spanner"}, True),
            ({"to": torque(20), "tool": "impact wrench"}, False),  # another rule's
            ({"to": Tightening("securely", "hand_tight", (Stage(),), doubt="it states no figure")}, True),
        ],
    )
    def test_figure_and_tool(self, more: dict[str, Any], by_feel: bool) -> None:
        procedure = job(Action("hand_start", "cap"), Action("tighten", "cap", **more))
        wanted = [("2", "certain", "tool" if more.get("to") == torque(20) else "")] if by_feel else []
        assert told(LUG, procedure, self.TERMINAL) == wanted
        assert told("final-tighten-without-value", procedure, self.TERMINAL) == []

    def test_a_cable_lug_is_a_terminal_and_a_slug_is_none(self) -> None:
        procedure = job(Action("hand_start", "cap"), Action("tighten", "cap"))
        assert told(LUG, procedure, one(kind="cable lug")) == [("2", "certain", "")]
        assert told(LUG, procedure, one(kind="slug")) == []

    def test_the_kind_of_a_listed_tool_counts_before_its_name(self) -> None:
        procedure = job(Action("hand_start", "cap"), Action("tighten", "cap", to=torque(20), tool="t"))
        for tool, slips in (
            (Tool("t", "big screwdriver", kind="torque driver"), 0),
            (Tool("t", "the blue one", kind="screwdriver"), 1),
            (Tool("t", "nut screwdriver"), 1),
            (Tool("t", "the blue one"), 0),
        ):
            assert len(found(LUG, procedure, evolve(self.TERMINAL, tools=(tool,)))) == slips, tool

    def test_by_hand_and_by_spanner_is_one_slip(self) -> None:
        hand = Tightening("tight", "hand_tight", (Stage(),))
        procedure = job(Action("hand_start", "cap"), Action("tighten", "cap", to=hand, tool="spanner"))
        assert told(LUG, procedure, self.TERMINAL) == [("2", "certain", "")]

    def test_only_the_pull_needs_the_torque_tool(self) -> None:
        run_down = (Action("hand_start", "cap"), Action("seat", "cap", to=torque(2), tool="ratchet"), PULL)
        assert told(LUG, job(run_down), self.TERMINAL) == []

    def test_another_joint_without_a_figure_is_no_terminal(self) -> None:
        two = Catalogue(fasteners=(*self.TERMINAL.fasteners, Fastener("bolt", "bolt", tightening=torque(20))))
        other = (Action("reuse", "bolt"), Action("hand_start", "bolt"), Action("tighten", "bolt"))
        assert told(LUG, job((Action("hand_start", "cap"), PULL), other), two) == []
        assert len(found("final-tighten-without-value", job((Action("hand_start", "cap"), PULL), other), two)) == 1

    def test_a_listed_tool_with_a_scale_shows_it(self) -> None:
        held = (Tool("w", "wrench", kind="wrench", low=5.0, high=25.0), Tool("s", "screwdriver", kind="screwdriver"))
        catalogue = evolve(self.TERMINAL, tools=held)
        procedure = job(Action("hand_start", "cap"), Action("tighten", "cap", to=torque(20), tool="w"))
        assert told(LUG, procedure, catalogue) == []
        procedure = job(Action("hand_start", "cap"), Action("tighten", "cap", to=torque(20), tool="s"))
        assert [finding.facts["tool"] for finding in found(LUG, procedure, catalogue)] == ["screwdriver"]

    @pytest.mark.parametrize(
        "catalogue",
        [
            one(kind="terminal", tightening=None), one(kind="screw"), one(kind="spring terminal"), one(kind="plug"),
            one(kind="terminal", tightening=Tightening("hand-tight", "hand_tight", (Stage(),))),
        ],
    )
    def test_other_joints_are_left_to_other_rules(self, catalogue: Catalogue) -> None:
        assert told(LUG, job(Action("hand_start", "cap"), Action("tighten", "cap")), catalogue) == []

    def test_a_bare_figure_stays_with_the_rule_on_units(self) -> None:
        bare = Tightening("20", "unitless", torque(20).stages)
        stage = evolve(bare.stages[0], torque=evolve(torque(20).stages[0].torque, unit=""))  # type: ignore[type-var]
        procedure = job(Action("hand_start", "cap"), Action("tighten", "cap", to=evolve(bare, stages=(stage,))))
        assert told(LUG, procedure, self.TERMINAL) == []
        assert told("final-tighten-without-value", procedure, self.TERMINAL) == [("2", "certain", "no-unit")]


@settings(max_examples=60, deadline=None)
@given(sound_jobs(kinds=(held_load, jacked, terminals, banjo), most=2))
def test_planted_hazards_are_found_and_nothing_else(made: tuple[Procedure, Catalogue]) -> None:
    for rule in (LOAD, ENERGY, LUG):
        plant_all(rule, *made)


def test_the_planters_reach_every_kind_of_slip() -> None:
    def forms(rule: str, catalogue: Catalogue, *steps: Any) -> list[str]:
        return [told(rule, held.procedure, held.catalogue)[0][2] for held in plant_all(rule, job(*steps), catalogue)]

    back = (Action("reuse", "cap"), Action("hand_start", "cap"), PULL)
    held, jack = Action("support", "trailer"), Action("raise", "trailer", tool="jack")
    assert forms(LOAD, one(), jack, held, OUT, back) == [""]
    assert forms(LOAD, one(energy=("gravity",)), held, OUT, back) == ["held"]
    assert forms(ENERGY, one(energy=("pressure",)), Action("isolate", "air pressure"), OUT, back) == [""]
    assert forms(LUG, one(kind="terminal"), OUT, back) == ["", "tool"]


def test_steps_without_sentences_are_judged_by_their_actions() -> None:
    procedure = Procedure("job", (Step("1", ""), Step("2", "", (OUT,))))
    assert told(ENERGY, procedure, one(energy=("pressure",))) == [("2", "certain", "")]
