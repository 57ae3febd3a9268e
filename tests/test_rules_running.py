"""Starting the machine: which joints must be closed, which fluids in, whose level read; and which starts are none."""

from __future__ import annotations

from typing import Any

import pytest
from attrs import evolve
from hypothesis import given, settings

from rule_bench import found, job, plant_all, told, torque
from sound_procedures import HAND_TIGHT, plain_bolts, plastic_cap, sound_jobs, sump
from torquewright.records import Action, Catalogue, Fastener, Fluid, Procedure, Tool

RULE = "start-before-fill-and-plug"
RUN = Action("run", "engine")
OUT, BACK = Action("remove", "plug"), Action("reuse", "plug")
PULL = Action("tighten", "plug", to=torque(20))
DRAIN, FILL, LEVEL = Action("drain", "oil"), Action("fill", "oil"), Action("check_level", "oil")


def machine(level_at: str = "", level_screw: bool = False, **plug: Any) -> Catalogue:
    """A drain plug in steel, its oil, and maybe a level screw."""
    plug = {"fluid": "oil", "role": "drain", "name": "plug", **plug}
    steel: dict[str, Any] = {"count": 1, "mating_material": "steel", "tightening": torque(20)}
    fasteners = [Fastener("plug", **plug, **steel)]
    if level_screw:
        fasteners.append(Fastener("level", "level screw", fluid="oil", role="level", **steel))
    fluids = (Fluid("oil", "gear oil", ("lubricant",), level_at=level_at), Fluid("water", "water"))
    return Catalogue(fasteners=tuple(fasteners), fluids=fluids)


class TestOpenJoints:
    @pytest.mark.parametrize(
        ("steps", "wanted"),
        [
            ([OUT, BACK, PULL, FILL, RUN], []),
            ([OUT, BACK, FILL, RUN, PULL], [("4", "certain", "")]),
            ([OUT, FILL, RUN, BACK, PULL], [("3", "certain", "")]),
            ([Action("loosen", "plug"), RUN, PULL], [("2", "certain", "")]),
            ([OUT, BACK, [FILL, RUN], PULL], [("3", "certain", "")]),
            ([OUT, BACK, [RUN, FILL], PULL], []),
            ([RUN, OUT, BACK, PULL], []),
            ([OUT, BACK, FILL, RUN, Action("stop", "engine"), RUN, PULL], [("4", "certain", "")]),
            ([OUT, BACK, FILL, Action("run", "engine", mode="do_not"), PULL], []),
            ([OUT, BACK, FILL, Action("run", "engine", mode="if"), PULL], []),
            ([OUT, BACK, FILL, Action("start", "engine"), PULL], [("4", "certain", "")]),
        ],
    )
    def test_open_when_the_machine_starts(self, steps: list[Any], wanted: list[Any]) -> None:
        assert told(RULE, job(*steps), machine()) == wanted

    def test_closed_by_hand_later_is_closed_too_late(self) -> None:
        cap = machine(role="cap")
        by_hand = evolve(cap, fasteners=tuple(evolve(held, tightening=HAND_TIGHT) for held in cap.fasteners))
        assert told(RULE, job(OUT, RUN, BACK, Action("hand_start", "plug")), by_hand) == [("2", "certain", "")]
        assert told(RULE, job(OUT, BACK, Action("hand_start", "plug"), RUN), by_hand) == []

    @pytest.mark.parametrize("what", ["tap", "plug"])
    def test_running_a_tool_or_a_piece_starts_no_machine(self, what: str) -> None:
        made = evolve(machine(), tools=(Tool("tap", "tap"),))
        assert told(RULE, job(OUT, Action("run", what), BACK, PULL), made) == []

    def test_a_joint_never_closed_is_another_slip(self) -> None:
        procedure = job(OUT, BACK, FILL, RUN)
        assert told(RULE, procedure, machine()) == []
        assert len(told("opened-joint-left-loose", procedure, machine())) == 1

    @pytest.mark.parametrize(
        ("plug", "holds"),
        [
            ({"fluid": "", "role": ""}, False),
            ({"fluid": "", "role": "", "name": "drain screw"}, True),
            ({"fluid": "", "role": "", "name": "oil filter"}, True),
            ({"fluid": "", "role": "cap"}, True),
            ({"fluid": "oil", "role": ""}, True),
            ({"fluid": "oil", "role": "vent"}, False),
        ],
    )
    def test_which_joints_hold_a_fluid(self, plug: dict[str, str], holds: bool) -> None:
        loosened = job(Action("loosen", "plug"), RUN, PULL)
        assert bool(told(RULE, loosened, machine(**plug))) is holds


class TestFluids:
    @pytest.mark.parametrize(
        ("steps", "wanted"),
        [
            ([DRAIN, RUN], [("2", "certain", "empty")]),
            ([DRAIN, FILL, RUN], []),
            ([DRAIN, RUN, FILL], [("2", "certain", "empty")]),
            ([FILL, DRAIN, RUN], [("3", "certain", "empty")]),
            ([Action("drain", "gear oil"), RUN], [("2", "certain", "empty")]),
            ([DRAIN, Action("fill", "lubricant"), RUN], []),
            ([DRAIN, Action("fill", "the gearcase"), RUN], []),
            ([DRAIN, Action("fill", "gearcase", with_what="gear oil"), RUN], []),
            ([DRAIN, Action("fill", "water"), RUN], [("3", "certain", "empty")]),
            ([DRAIN, Action("fill", "gearcase", with_what="water"), RUN], [("3", "certain", "empty")]),
            ([DRAIN, Action("fill", "plug"), RUN], []),
            ([Action("remove", "washer", of="plug"), RUN], []),
            ([DRAIN, Action("fill", "oil", mode="if"), RUN], [("3", "certain", "empty")]),
            ([Action("replace", "oil"), RUN], []),
            ([DRAIN, Action("replace", "oil"), RUN], []),
            ([DRAIN, Action("replace", "anode"), RUN], [("3", "certain", "empty")]),
            ([Action("drain", "condensate"), RUN], []),
            ([Action("drain", "oil", mode="if"), RUN], []),
            ([Action("drain", "oil", mode="do_not"), RUN], []),
            ([FILL, RUN], []),
            ([DRAIN, [RUN, FILL]], []),
            ([DRAIN, [Action("start", "fill pump"), FILL], RUN], []),
            ([DRAIN, RUN, RUN], [("2", "certain", "empty")]),
        ],
    )
    def test_let_out_and_filled_in(self, steps: list[Any], wanted: list[Any]) -> None:
        assert told(RULE, job(*steps), machine()) == wanted

    def test_taking_the_drain_plug_out_lets_the_fluid_out(self) -> None:
        (finding,) = found(RULE, job(OUT, BACK, PULL, RUN), machine())
        assert (finding.step, finding.joint, finding.form) == (3, "oil", "empty")
        assert finding.also == (("procedure", ("step", 0, "do", 0)),)

    def test_a_drain_with_no_fluid_on_record(self) -> None:
        bare = machine(fluid="")
        assert [held.joint for held in found(RULE, job(OUT, BACK, PULL, RUN), bare)] == ["plug"]
        assert told(RULE, job(OUT, BACK, PULL, Action("fill", "the sump"), RUN), bare) == []

    def test_each_fluid_for_itself(self) -> None:
        both = job(DRAIN, Action("drain", "water"), Action("fill", "water"), RUN)
        assert [held.joint for held in found(RULE, both, machine())] == ["oil"]

    def test_an_open_drain_and_no_oil_are_two_slips(self) -> None:
        findings = found(RULE, job(OUT, RUN, BACK, PULL), machine())
        assert sorted(held.joint for held in findings) == ["oil", "plug"]


class TestLevels:
    @pytest.mark.parametrize(
        ("steps", "silent"),
        [
            ([LEVEL], True),
            ([], False),
            ([Action("check_level", "the gearcase")], True),
            ([Action("check_level", "water")], False),
            ([Action("check_level", "oil", mode="do_not")], False),
            ([Action("fill", "oil", mode="if", note="if it has dropped")], True),
            ([Action("inspect", "oil")], True),
            ([Action("check", "oil level")], True),
            ([Action("check", "sight glass")], True),
            ([Action("inspect", "cables")], False),
        ],
    )
    def test_read_after_filling(self, steps: list[Action], silent: bool) -> None:
        procedure = job(DRAIN, FILL, *steps, RUN)
        wanted = [] if silent else [(str(3 + len(steps)), "unstated", "level")]
        assert told(RULE, procedure, machine("mark")) == wanted

    def test_read_before_filling_or_after_the_run_is_too_early_or_too_late(self) -> None:
        assert told(RULE, job(LEVEL, DRAIN, FILL, RUN), machine("mark")) == [("4", "unstated", "level")]
        assert told(RULE, job(DRAIN, FILL, RUN, LEVEL), machine("mark")) == [("3", "unstated", "level")]

    def test_a_look_or_a_topping_up_ahead_of_the_filling_is_too_early(self) -> None:
        for early in (Action("fill", "oil", mode="if"), Action("inspect", "oil")):
            assert told(RULE, job(DRAIN, early, FILL, RUN), machine("mark")) == [("4", "unstated", "level")]

    @pytest.mark.parametrize("touch", [Action("check_leak", "level"), Action("remove", "washer", of="level")])
    def test_touching_the_level_screw_reads_no_level(self, touch: Action) -> None:
        assert told(RULE, job(DRAIN, FILL, touch, RUN), machine(level_screw=True)) == [("4", "unstated", "level")]

    def test_another_joint_closed_leaves_the_level_hole_open(self) -> None:
        out, back = Action("remove", "level"), Action("reuse", "level")
        pull = Action("tighten", "level", to=torque(20))
        made = machine(level_screw=True)
        assert told(RULE, job(out, OUT, BACK, PULL, FILL, back, pull, RUN), made) == []

    def test_the_level_screw_of_another_fluid(self) -> None:
        made = machine(level_screw=True)
        other = evolve(made, fasteners=(made.fasteners[0], evolve(made.fasteners[1], fluid="water")))
        assert told(RULE, job(DRAIN, FILL, RUN), other) == []

    def test_no_level_to_read(self) -> None:
        assert told(RULE, job(DRAIN, FILL, RUN), machine()) == []

    def test_the_level_hole_reads_it(self) -> None:
        out, back = Action("remove", "level"), Action("reuse", "level")
        pull = Action("tighten", "level", to=torque(20))
        made = machine(level_screw=True)
        assert told(RULE, job(out, DRAIN, FILL, back, pull, RUN), made) == []
        assert told(RULE, job(DRAIN, FILL, out, back, pull, RUN), made) == []
        assert told(RULE, job(out, back, pull, DRAIN, FILL, RUN), made) == [("6", "unstated", "level")]
        assert told(RULE, job(DRAIN, FILL, RUN), made) == [("3", "unstated", "level")]

    def test_only_what_was_let_out_is_asked_for(self) -> None:
        assert told(RULE, job(RUN), machine("mark", level_screw=True)) == []


@settings(max_examples=60, deadline=None)
@given(sound_jobs(kinds=(sump, plain_bolts, plastic_cap), most=3))
def test_planted_early_starts_are_found_and_nothing_else(made: tuple[Procedure, Catalogue]) -> None:
    plant_all(RULE, *made)


def test_the_planter_reaches_every_kind_of_slip() -> None:
    sound = job(OUT, BACK, FILL, LEVEL, PULL, RUN, Action("check_leak", "machine"))
    planted = plant_all(RULE, sound, machine("mark"))
    assert [told(RULE, fault.procedure, fault.catalogue)[0][2] for fault in planted] == ["", "empty", "level"]
