"""The order of things: round a joint, between two plugs, and with the machine in the state the record asks for."""

from __future__ import annotations

from typing import Any

import pytest
from attrs import evolve
from hypothesis import given, settings

from rule_bench import found, job, plant_all, told, torque
from sound_kinds import gearbox, jacked, ordered_flange
from sound_procedures import plain_bolts, sound_jobs
from torquewright.records import Action, Catalogue, Fastener, Fluid, Lock, Part, Procedure, Seal, Stage, Tightening

ORDER, FILL, STATE = "tightening-order-missing", "fill-plug-not-tried-first", "tightened-at-wrong-condition"
OUT, IN = Action("remove", "bolt"), (Action("reuse", "bolt"), Action("hand_start", "bolt"))
OTHER = Action("inspect", "hose")


def one(count: int | None = 6, policy: str = "general", **more: Any) -> Catalogue:
    more.setdefault("tightening", torque(20))
    bolt = Fastener("bolt", "bolt", count=count, mating_material="steel", **more)
    arm = Part("arm", "arm")
    return Catalogue(fasteners=(bolt,), seals=(Seal("gasket", "gasket"),), parts=(arm,), policy=policy)


def pull(order: str = "", **more: Any) -> Action:
    return Action("tighten", "bolt", to=more.pop("to", torque(20)), order=order, **more)


class TestOrder:
    @pytest.mark.parametrize(
        ("pattern", "order", "wanted"),
        [
            ("", "", []),
            ("none", "", []),
            ("", "circular", []),
            ("cross", "cross", []),
            ("cross", "", [("3", "unstated", "")]),
            ("cross", "circular", [("3", "certain", "round")]),
            ("cross", "spiral", []),
            ("cross", "1-4-2-5-3-6", []),
            ("spiral", "circular", [("3", "certain", "round")]),
            ("circular", "circular", []),
            ("circular", "cross", []),
            ("circular", "", [("3", "unstated", "")]),
            ("star", "", [("3", "unstated", "")]),
            ("1-2-3-4-5-6", "", [("3", "unstated", "")]),
            ("1-2-3-4-5-6", "1-2-3-4-5-6", []),
            ("1-2-3-4-5-6", "1-4-2-5-3-6", [("3", "certain", "list")]),
            ("1-2-3-4-5-6", "cross", []),
            ("", "1-4-2-5-3-3", [("3", "certain", "broken")]),
            ("cross", "1-4-2-5-3", [("3", "certain", "short")]),
            ("cross", "1-4-2-5-3-6-2-2", [("3", "certain", "beyond")]),
            ("none", "1-4-2-5-3-9", [("3", "certain", "broken")]),
        ],
    )
    def test_the_record_asks_the_steps_answer(self, pattern: str, order: str, wanted: list[Any]) -> None:
        assert told(ORDER, job(OUT, IN, pull(order)), one(pattern=pattern)) == wanted

    @pytest.mark.parametrize(("count", "wanted"), [(2, 0), (3, 0), (4, 1), (5, 1), (None, 0)])
    def test_two_and_three_are_pulled_in_turn(self, count: int | None, wanted: int) -> None:
        assert len(told(ORDER, job(OUT, IN, pull()), one(count, pattern="cross"))) == wanted

    def test_one_pull_with_an_order_is_enough(self) -> None:
        staged = one(pattern="cross", tightening=torque(10, 20))
        assert told(ORDER, job(OUT, IN, pull("cross", to=torque(10)), pull()), staged) == []
        assert told(ORDER, job(OUT, IN, pull(to=torque(10)), pull("cross")), staged) == []
        assert told(ORDER, job(OUT, IN, pull(to=torque(10)), pull()), staged) == [("4", "unstated", "")]

    def test_a_last_round_one_after_the_other_is_proper(self) -> None:
        assert told(ORDER, job(OUT, IN, pull("cross"), pull("circular")), one(pattern="cross")) == []

    def test_position_by_position_is_an_order(self) -> None:
        pairs = [pull(count=2) for _ in range(3)]
        assert told(ORDER, job(OUT, IN, *pairs), one(pattern="cross")) == []

    def test_the_sentence_may_say_it(self) -> None:
        procedure = job(OUT, IN, pull())
        step = evolve(procedure.steps[2], say="Tighten the bolts, opposite ones in turn, to 20 N·m.")
        assert told(ORDER, evolve(procedure, steps=(*procedure.steps[:2], step)), one(pattern="cross")) == []

    def test_what_is_not_made_in_the_job_needs_no_order(self) -> None:
        cross = one(pattern="cross")
        assert told(ORDER, job(Action("retighten", "bolt", to=torque(20))), cross) == []
        assert told(ORDER, job(OUT), cross) == []
        assert told(ORDER, job(OUT, IN, pull(mode="if", note="if it weeps")), cross) == []

    def test_pulls_that_are_no_pulls_to_a_figure_need_none(self) -> None:
        hand = Tightening("hand-tight", "hand_tight", (Stage(),))
        cross = one(pattern="cross")
        assert told(ORDER, job(OUT, IN, Action("tighten", "bolt")), cross) == []
        assert told(ORDER, job(OUT, IN, Action("tighten", "bolt", to=hand)), cross) == []
        assert told(ORDER, job(pull()), cross) == []  # as it was found
        assert told(ORDER, job(OTHER, given=(OUT, *IN, pull())), cross) == []

    @pytest.mark.parametrize(
        ("pattern", "example"),
        [
            ("cross", "1-4-2-5-3-6"), ("star", "1-4-2-5-3-6"), ("circular", "1-2-3-4-5-6"), ("spiral", "3-4-2-5-1-6"),
            ("6-5-4-3-2-1", "6-5-4-3-2-1"), ("as marked", "1-4-2-5-3-6"),
        ],
    )  # fmt: skip
    def test_an_order_is_shown_that_would_do(self, pattern: str, example: str) -> None:
        (finding,) = found(ORDER, job(OUT, IN, pull()), one(pattern=pattern))
        assert finding.facts == {"pattern": pattern, "count": 6, "example": example}

    def test_every_list_is_gone_through(self) -> None:
        loosening = Action("loosen", "bolt", order="6-5-4-3-2-2")
        (finding,) = found(ORDER, job(loosening, pull("1-4-2-5-3-6")), one())
        assert (finding.step, finding.facts["missing"], finding.facts["wrong"]) == (0, "1", "2")
        assert found(ORDER, job(OUT, IN, pull("1-4-2-5-3-6-1")), one()) == []
        assert found(ORDER, job(OUT, IN, pull("1-2-2")), one(count=None)) == []
        bare = evolve(one(), unrecorded=("bolt",))
        assert found(ORDER, job(OUT, IN, pull("1-2-2")), bare) == []

    @pytest.mark.parametrize(
        ("policy", "seals", "count", "asked"),
        [
            ("pressure flange", ("gasket",), 4, True), ("pressure flange", ("gasket",), 3, False),
            ("pressure flange", (), 4, False), ("general", ("gasket",), 4, False),
            ("aviation", ("gasket",), 4, False), ("road vehicle", ("gasket",), 4, False),
        ],
    )  # fmt: skip
    def test_a_trade_may_ask_where_the_record_is_silent(
        self, policy: str, seals: tuple[str, ...], count: int, asked: bool
    ) -> None:
        catalogue = one(count, policy, seals=seals)
        wanted = [("3", "unstated", "")] if asked else []
        assert told(ORDER, job(OUT, IN, pull()), catalogue) == wanted
        assert told(ORDER, job(OUT, IN, pull("cross")), catalogue) == []
        assert told(ORDER, job(OUT, IN, pull()), one(count, policy, seals=seals, pattern="none")) == []


def plugs(**more: Any) -> Catalogue:
    fill = {"role": "fill", "tightening": torque(20), "kind": "plug", **more}
    return Catalogue(
        fasteners=(
            Fastener("drain", "drain plug", count=1, fluid="oil", role="drain", tightening=torque(20)),
            Fastener("fill", fill.pop("name", "fill plug"), count=1, fluid="oil", **fill),
        ),
        fluids=(Fluid("oil", "oil"),),
    )


class TestFillPlug:
    FIRST, DRAIN = Action("remove", "fill"), Action("remove", "drain")

    def test_which_comes_first(self) -> None:
        assert told(FILL, job(self.FIRST, self.DRAIN), plugs()) == []
        assert told(FILL, job(self.DRAIN, self.FIRST), plugs()) == [("1", "certain", "")]
        assert told(FILL, job((self.FIRST, self.DRAIN)), plugs()) == []
        assert told(FILL, job(Action("drain", "oil"), self.FIRST), plugs()) == [("1", "certain", "")]
        assert told(FILL, job(Action("drain", "drain"), self.FIRST), plugs()) == [("1", "certain", "")]

    @pytest.mark.parametrize("verb", ["loosen", "check", "inspect", "hand_start", "disconnect"])
    def test_trying_it_is_enough(self, verb: str) -> None:
        assert told(FILL, job(Action(verb, "fill"), self.DRAIN, self.FIRST), plugs()) == []

    def test_not_opened_at_all_it_is_filled_some_other_way(self) -> None:
        assert told(FILL, job(self.DRAIN, Action("fill", "oil")), plugs()) == []

    @pytest.mark.parametrize(
        "more",
        [{"role": "level"}, {"role": "vent"}, {"role": ""}, {"name": "vent plug"},
         {"tightening": evolve(torque(1), kind="hand_tight", stages=())}],
    )  # fmt: skip
    def test_no_plug_to_be_stuck(self, more: dict[str, Any]) -> None:
        assert told(FILL, job(self.DRAIN, self.FIRST), plugs(**more)) == []

    def test_what_is_no_trying_and_no_letting_out(self) -> None:
        off = Action("remove", "washer", of="fill")
        assert told(FILL, job(off, self.DRAIN, self.FIRST), plugs()) == [("2", "certain", "")]
        assert told(FILL, job(Action("clean", "fill"), self.DRAIN, self.FIRST), plugs()) == [("2", "certain", "")]
        for quiet in (Action("remove", "washer", of="drain"), Action("inspect", "drain"), Action("check_level", "oil")):
            assert told(FILL, job(quiet, self.FIRST, self.DRAIN), plugs()) == []
        assert told(FILL, job(self.FIRST), plugs()) == []
        assert told(FILL, job(self.FIRST, given=(self.DRAIN,)), plugs()) == []

    def test_a_level_screw_lets_nothing_out_by_itself(self) -> None:
        level = Fastener("level", "level screw", fluid="oil", role="level")
        catalogue = evolve(plugs(), fasteners=(*plugs().fasteners, level))
        assert told(FILL, job(Action("remove", "level"), self.FIRST, self.DRAIN), catalogue) == []

    def test_without_a_fluid_nobody_knows_whether_they_belong_together(self) -> None:
        bare = evolve(plugs(), fasteners=tuple(evolve(held, fluid="") for held in plugs().fasteners))
        assert told(FILL, job(self.DRAIN, self.FIRST), bare) == []

    def test_a_plug_without_a_figure_can_be_stuck_too(self) -> None:
        (finding,) = found(FILL, job(self.DRAIN, self.FIRST), plugs(tightening=None))
        assert finding.facts == {"drain": "drain"}
        assert finding.also == (("catalogue", ("fastener", "fill", "role")), ("procedure", ("step", 1, "do", 0)))

    def test_another_fluid_has_its_own_plugs(self) -> None:
        other = evolve(plugs(), fasteners=(evolve(plugs().fasteners[0], fluid="water"), plugs().fasteners[1]))
        assert told(FILL, job(self.DRAIN, self.FIRST), other) == []

    def test_what_is_only_said_or_done_on_a_condition_drains_nothing(self) -> None:
        for mode in ("if", "do_not", "mentioned_only"):
            assert told(FILL, job(evolve(self.DRAIN, mode=mode), self.FIRST), plugs()) == []


class TestState:
    RUN, COOL = Action("run", "engine"), Action("cool_down", "engine")

    @pytest.mark.parametrize(
        ("when", "before", "wrong"),
        [
            ("cold", (RUN,), True),
            ("cold", (RUN, COOL), False),
            ("cold", (COOL, RUN), True),
            ("cold", (), False),
            ("cold", (RUN, Action("wait", "it")), False),
            ("cold", (RUN, Action("check", "head cold")), False),
            ("cold", (Action("warm_up", "engine"),), True),
            ("cold", (Action("run", "bolt"),), False),  # a bolt run down its thread warms nothing
            ("cold", (RUN, Action("lower", "trailer")), True),
            ("cold", (Action("run", "gasket"),), False),
            ("cold", (RUN, Action("check", "oil")), True),
            ("cold", (RUN, Action("clean", "cooler")), True),
            ("cold", (evolve(RUN, mode="if"),), False),
            ("cold", (RUN, evolve(COOL, mode="if")), False),
            ("unloaded", (Action("lower", ""),), False),
            ("warm", (RUN,), False),
            ("hot", (RUN,), False),
            ("warm", (RUN, COOL), True),
            ("warm", (), False),
            ("loaded", (Action("raise", "trailer"),), True),
            ("loaded", (Action("raise", "trailer"), Action("lower", "trailer")), False),
            ("loaded", (RUN,), False),
            ("loaded", (Action("raise", "trailer"), Action("lower", "")), False),
            ("loaded", (Action("raise", "trailer"), Action("lower", "hook")), True),
            ("unloaded", (Action("raise", "trailer"), Action("lower", "hook")), False),
            ("loaded", (Action("raise", "left"), Action("raise", "right"), Action("lower", "left")), False),
            ("unloaded", (Action("raise", "left"), Action("raise", "right"), Action("lower", "left")), False),
            ("loaded", (Action("raise", "left"), Action("raise", "right")), True),
            ("unloaded", (Action("raise", "left"), Action("raise", "right"), Action("lower", "")), True),
            ("loaded", (Action("raise", "arm"),), False),  # a part is lifted on
            ("unloaded", (Action("lower", "arm"),), False),
            ("unloaded", (Action("raise", "trailer"), Action("lower", "trailer")), True),
            ("unloaded", (Action("lower", "trailer"),), False),
            ("unloaded", (Action("raise", "trailer"),), False),
            ("at top dead centre", (RUN,), False),
            ("", (RUN,), False),
        ],
    )
    def test_what_the_steps_have_made_of_the_machine(self, when: str, before: tuple[Action, ...], wrong: bool) -> None:
        procedure = job(OUT, IN, *before, pull("cross"))
        wanted = [(str(3 + len(before)), "certain", "")] if wrong else []
        assert told(STATE, procedure, one(tighten_when=when)) == wanted

    def test_the_pull_may_say_so_itself(self) -> None:
        procedure = job(OUT, IN, self.RUN, pull("cross", note="with the head cold"))
        assert told(STATE, procedure, one(tighten_when="cold")) == []
        wrong = job(OUT, IN, self.RUN, pull("cross", note="while it is warm"))
        assert told(STATE, wrong, one(tighten_when="cold")) != []

    def test_a_later_check_is_made_in_that_state_too(self) -> None:
        check = Action("retighten", "bolt", to=torque(20))
        cold = one(tighten_when="cold")
        assert told(STATE, job(OUT, IN, pull("cross"), self.RUN, check), cold) == [("5", "certain", "")]
        assert told(STATE, job(OUT, IN, pull("cross"), self.RUN, self.COOL, check), cold) == []

    def test_the_same_joint_is_told_once(self) -> None:
        check = Action("retighten", "bolt", to=torque(20))
        procedure = job(OUT, IN, self.RUN, pull("cross"), check)
        assert told(STATE, procedure, one(tighten_when="cold")) == [("4", "certain", "")]

    def test_what_was_done_before_the_first_step_is_past(self) -> None:
        check = Action("retighten", "bolt", to=torque(20))
        for last in (pull("cross"), check):
            assert told(STATE, job(OTHER, given=(self.RUN, OUT, *IN, last)), one(tighten_when="cold")) == []

    def test_only_the_last_pull_of_a_making_counts(self) -> None:
        staged = one(tighten_when="cold", tightening=torque(10, 20))
        procedure = job(OUT, IN, self.RUN, pull("cross", to=torque(10)), self.COOL, pull("cross"))
        assert told(STATE, procedure, staged) == []


@settings(max_examples=60, deadline=None)
@given(sound_jobs(kinds=(ordered_flange, gearbox, jacked, plain_bolts), most=2))
def test_planted_slips_of_order_are_found_and_nothing_else(made: tuple[Procedure, Catalogue]) -> None:
    for rule in (ORDER, FILL, STATE):
        plant_all(rule, *made)


def test_the_planters_reach_every_kind_of_slip() -> None:
    def forms(rule: str, catalogue: Catalogue, *steps: Any) -> list[str]:
        return [told(rule, held.procedure, held.catalogue)[0][2] for held in plant_all(rule, job(*steps), catalogue)]

    assert forms(ORDER, one(pattern="cross"), OUT, IN, pull("cross")) == ["", "round", "broken"]
    fill, drain = Action("reuse", "fill"), (Action("reuse", "drain"), Action("tighten", "drain", to=torque(20)))
    closed = (fill, Action("tighten", "fill", to=torque(20)))
    assert forms(FILL, plugs(), TestFillPlug.FIRST, TestFillPlug.DRAIN, drain, closed) == [""]
    run, cool = TestState.RUN, TestState.COOL
    assert forms(STATE, one(tighten_when="cold"), OUT, IN, run, cool, pull("cross")) == [""]
    raised, lowered = Action("raise", "trailer"), Action("lower", "trailer")
    assert forms(STATE, one(tighten_when="loaded"), OUT, IN, raised, lowered, pull("cross")) == [""]


def test_a_lock_on_the_joint_changes_nothing() -> None:
    pinned = one(pattern="cross", lock=Lock("threadlocker", built_in=True))
    assert told(ORDER, job(OUT, IN, pull("cross")), pinned) == []
