"""After a joint is closed: checks of torque due or forbidden, leaks, a second look, a record, things left inside."""

from __future__ import annotations

from typing import Any

import pytest
from attrs import evolve
from hypothesis import given, settings

from rule_bench import found, job, plant_all, told, torque
from sound_kinds import gearbox, ordered_flange, rag_in_the_bore, watched
from sound_procedures import locked_nuts, sound_jobs, sump
from torquewright.records import (
    Action,
    Angle,
    Catalogue,
    Fastener,
    Fluid,
    Lock,
    Message,
    Procedure,
    Retorque,
    Seal,
    Stage,
    Tightening,
    Tool,
    Torque,
)

MISSED, FORBIDDEN, LEAK = "retorque-missed", "retorque-forbidden", "leak-check-missing"
LOOK, RECORD, LEFT = "second-look-missing", "no-as-tightened-record", "tools-and-rags-not-counted"
OUT, IN = Action("remove", "bolt"), (Action("reuse", "bolt"), Action("hand_start", "bolt"))
PULL, RUN = Action("tighten", "bolt", to=torque(20)), Action("run", "engine")
AGAIN = Action("retighten", "bolt", to=torque(20))
OTHER = Action("inspect", "hose")
HAND = Tightening("hand-tight", "hand_tight", (Stage(),))


def one(policy: str = "general", **more: Any) -> Catalogue:
    more = {"count": 1, "tightening": torque(20), "mating_material": "steel", **more}
    return Catalogue(fasteners=(Fastener("bolt", "bolt", **more),), seals=(Seal("gasket", "gasket"),),
                     fluids=(Fluid("oil", "oil"),), policy=policy)  # fmt: skip


def saying(procedure: Procedure, step: int, say: str) -> Procedure:
    steps = list(procedure.steps)
    steps[step] = evolve(steps[step], say=say)
    return evolve(procedure, steps=tuple(steps))


class TestMissed:
    DUE = one(retorque=Retorque("required", "10 h"))

    @pytest.mark.parametrize(
        ("steps", "wanted"),
        [
            ((PULL,), [("3", "certain", "")]),
            ((PULL, AGAIN), []),
            ((PULL, RUN, PULL), []),
            ((PULL, PULL), [("4", "certain", "")]),
            ((PULL, RUN), [("3", "certain", "")]),
            ((PULL, Action("record", "tag: recheck after 10 h")), []),
            ((PULL, Action("record", "torque")), [("3", "certain", "")]),
            ((PULL, Action("check", "bolt", note="torque after 10 h")), []),
            ((PULL, Action("check", "bolt")), [("3", "certain", "")]),
            ((PULL, Action("refer", "sheet for the recheck")), []),
            ((PULL, Action("refer", "sheet 7")), [("3", "unstated", "")]),
            ((PULL, Action("retighten", "bolt", mode="if", note="if it has moved")), []),
            ((PULL, Action("remove", "recheck tag")), [("3", "certain", "")]),
            ((PULL, Action("check", "torque of the pump")), [("3", "certain", "")]),
            ((PULL, Action("inspect", "bolt", note="the torque mark")), [("3", "certain", "")]),
            ((evolve(PULL, mode="if"), OTHER), []),
        ],
    )
    def test_somebody_comes_back(self, steps: tuple[Action, ...], wanted: list[Any]) -> None:
        assert told(MISSED, job(OUT, IN, *steps), self.DUE) == wanted

    def test_a_check_of_another_joint_is_none_of_this(self) -> None:
        two = evolve(self.DUE, fasteners=(*self.DUE.fasteners, Fastener("nut", "nut")))
        for other in (Action("check", "nut", note="torque after 10 h"), Action("record", "nut", note="recheck")):
            assert told(MISSED, job(OUT, IN, PULL, other), two) == [("3", "certain", "")]

    def test_closed_by_what_the_text_calls_retightening(self) -> None:
        loose = Action("loosen", "bolt")
        assert told(MISSED, job(loose, AGAIN), self.DUE) == [("2", "certain", "")]
        assert told(MISSED, job(loose, AGAIN, RUN, AGAIN), self.DUE) == []
        assert told(FORBIDDEN, job(loose, AGAIN), one(retorque=Retorque("forbidden"))) == []

    def test_told_at_the_last_of_its_positions(self) -> None:
        two = one(count=2, retorque=Retorque("required", "10 h"))
        half = evolve(PULL, count=1)
        assert told(MISSED, job(OUT, IN, half, OTHER, half), two) == [("5", "certain", "")]

    def test_two_stages_are_no_later_check(self) -> None:
        staged = one(retorque=Retorque("required"), tightening=torque(10, 20))
        first = Action("tighten", "bolt", to=torque(10))
        procedure = job(OUT, IN, first, Action("wait", "gasket"), PULL)
        assert told(MISSED, procedure, staged) == [("5", "certain", "no-time")]

    def test_words_of_a_later_step_or_a_message(self) -> None:
        procedure = job(OUT, IN, PULL, OTHER)
        assert told(MISSED, saying(procedure, 3, "After 10 h, check the torque of the bolt."), self.DUE) == []
        assert told(MISSED, saying(procedure, 0, "Recheck the stand."), self.DUE) != []
        assert told(MISSED, saying(procedure, 3, "Wipe the bolt once more."), self.DUE) != []
        assert told(MISSED, saying(procedure, 2, "Tighten the bolt, and check it again after 10 h."), self.DUE) == []
        note = Message("NOTE", "Retorque the bolts after 10 h.", -1)
        assert told(MISSED, evolve(procedure, messages=(note,)), self.DUE) == []

    def test_what_is_not_closed_here_is_not_due_here(self) -> None:
        assert told(MISSED, job(OUT), self.DUE) == []
        assert told(MISSED, job(PULL), self.DUE) == []
        assert told(MISSED, job(OTHER, given=(OUT, *IN, PULL)), self.DUE) == []
        assert told(MISSED, job(Action("inspect", "bolt")), self.DUE) == []
        assert told(MISSED, job(OUT, IN, PULL), one()) == []
        assert told(MISSED, job(OUT, IN, PULL), one(retorque=Retorque("forbidden"))) == []

    @pytest.mark.parametrize(
        ("policy", "more", "asked"),
        [
            ("pressure flange", {}, True),
            ("general", {}, False),
            ("aviation", {}, False),
            ("road vehicle", {}, False),
            ("pressure flange", {"seals": ()}, False),
            ("pressure flange", {"count": 3}, False),
            ("pressure flange", {"energy": ()}, False),
            ("pressure flange", {"count": None}, False),
            ("pressure flange", {"energy": ("thermal",)}, True),
            ("pressure flange", {"retorque": Retorque("forbidden")}, False),
        ],
    )
    def test_a_trade_may_ask(self, policy: str, more: dict[str, Any], asked: bool) -> None:
        held = {"count": 4, "seals": ("gasket",), "energy": ("pressure",), **more}
        wanted = [("3", "unstated", "practice")] if asked else []
        assert told(MISSED, job(OUT, IN, PULL), one(policy, **held)) == wanted
        assert all(finding.also == () for finding in found(MISSED, job(OUT, IN, PULL), one(policy, **held)))


class TestForbidden:
    NEVER = one(retorque=Retorque("forbidden"))

    @pytest.mark.parametrize(
        ("steps", "wanted"),
        [
            ((PULL,), []),
            ((PULL, AGAIN), [("4", "certain", "")]),
            ((PULL, RUN, PULL), [("5", "certain", "")]),
            ((PULL, Action("wait", "it"), PULL), [("5", "certain", "")]),
            ((PULL, PULL), []),
            ((PULL, RUN, OUT, IN, PULL), []),
            ((PULL, Action("check", "bolt", note="torque")), []),
            ((PULL, evolve(AGAIN, mode="do_not")), []),
            ((PULL, evolve(AGAIN, mode="if", note="if it has moved")), [("4", "certain", "if")]),
            ((PULL, RUN, evolve(PULL, mode="if", note="if it has moved")), [("5", "certain", "if")]),
            ((evolve(PULL, mode="if"), RUN, PULL), []),
            ((Action("tighten", "bolt"), RUN, PULL), [("5", "certain", "")]),
            ((Action("tighten", "bolt", to=HAND), RUN, PULL), []),
            ((PULL, Action("back_off", "bolt"), AGAIN), [("5", "certain", "")]),
            ((PULL, evolve(AGAIN, to=None)), [("4", "certain", "")]),
        ],
    )
    def test_touched_again(self, steps: tuple[Any, ...], wanted: list[Any]) -> None:
        assert told(FORBIDDEN, job(OUT, IN, *steps), self.NEVER) == wanted

    def test_a_joint_only_checked_in_this_job_is_not_retorqued(self) -> None:
        assert told(FORBIDDEN, job(AGAIN), self.NEVER) == []
        assert told(FORBIDDEN, job(AGAIN, given=(OUT, *IN, PULL)), self.NEVER) == []
        assert told(FORBIDDEN, job(OTHER, given=(OUT, *IN, PULL, RUN, PULL)), self.NEVER) == []

    @pytest.mark.parametrize("record", [None, Tightening("by hand", "hand_tight", (Stage(),))])
    def test_without_a_recorded_figure_any_pull_is_the_last(self, record: Tightening | None) -> None:
        catalogue = one(retorque=Retorque("forbidden"), tightening=record)
        assert told(FORBIDDEN, job(OUT, IN, PULL, RUN, PULL), catalogue) == [("5", "certain", "")]
        assert told(FORBIDDEN, job(OUT, IN, PULL, AGAIN), catalogue) == [("4", "certain", "")]

    def test_below_a_maximum_there_is_no_low_end(self) -> None:
        most = Tightening("max 22 N·m", "maximum", (Stage(Torque(None, None, 22.0, "N·m", 0.5)),))
        catalogue = one(retorque=Retorque("forbidden"), tightening=most)
        assert told(FORBIDDEN, job(OUT, IN, PULL, AGAIN), catalogue) == [("4", "certain", "")]

    @pytest.mark.parametrize(("value", "check"), [(17.9, True), (18.0, True), (18.3, False), (20.0, False)])
    def test_a_check_at_the_low_end_moves_nothing(self, value: float, check: bool) -> None:
        band = Tightening("18 to 22 N·m", "range", (Stage(Torque(None, 18.0, 22.0, "N·m", 0.5)),))
        catalogue = one(retorque=Retorque("forbidden"), tightening=band)
        procedure = job(OUT, IN, PULL, Action("retighten", "bolt", to=torque(value)))
        assert (told(FORBIDDEN, procedure, catalogue) == []) is check

    def test_without_limits_the_figure_itself_is_no_check(self) -> None:
        assert told(FORBIDDEN, job(OUT, IN, PULL, AGAIN), self.NEVER) != []

    def test_the_torque_ahead_of_a_turn_only_feels(self) -> None:
        turned = Tightening("20 N·m + 90°", "stage_angle", (*torque(20).stages, Stage(None, Angle(90.0))))
        catalogue = one(retorque=Retorque("forbidden"), tightening=turned)
        done = (OUT, IN, Action("tighten", "bolt", to=turned), RUN)
        assert told(FORBIDDEN, job(*done, AGAIN), catalogue) == []
        turn = Action("tighten_angle", "bolt", to=Tightening("90°", "angle_only", (Stage(None, Angle(90.0)),)))
        assert told(FORBIDDEN, job(*done, turn), catalogue) == [("5", "certain", "")]
        assert told(FORBIDDEN, job(*done, evolve(AGAIN, to=torque(40))), catalogue) == [("5", "certain", "")]

    def test_two_stages_with_a_wait_between_are_one_tightening(self) -> None:
        staged = one(retorque=Retorque("forbidden"), tightening=torque(10, 20))
        first = Action("tighten", "bolt", to=torque(10))
        assert told(FORBIDDEN, job(OUT, IN, first, Action("wait", "gasket"), PULL), staged) == []


class TestLeak:
    WET = one(fluid="oil")
    LOOKED = Action("check_leak", "bolt")

    @pytest.mark.parametrize(
        ("steps", "wanted"),
        [
            ((RUN,), [("4", "certain", "")]),
            ((), []),
            ((RUN, LOOKED := Action("check_leak", "bolt")), []),
            ((RUN, Action("check_leak", "pump")), []),
            ((RUN, Action("check_leak", "")), []),
            ((LOOKED, RUN), [("5", "unstated", "early")]),
            ((LOOKED, RUN, LOOKED), []),
            ((Action("check", "pressure holds"), RUN), []),
            ((RUN, Action("inspect", "bolt", note="for drips")), []),
            ((RUN, Action("inspect", "bolt")), [("4", "certain", "")]),
            ((RUN, Action("refer", "test sheet")), [("4", "unstated", "")]),
            ((Action("run", "bolt"),), []),
            ((evolve(RUN, mode="if", note="if there is time"),), []),
            ((Action("start", "engine"),), [("4", "certain", "")]),
            ((RUN, RUN), [("4", "certain", "")]),
            ((Action("run", "gasket"),), []),
            ((OTHER, RUN), [("5", "certain", "")]),
            ((RUN, Action("clean", "gauge")), [("4", "certain", "")]),
        ],
    )
    def test_once_it_has_run(self, steps: tuple[Action, ...], wanted: list[Any]) -> None:
        assert told(LEAK, job(OUT, IN, PULL, *steps), self.WET) == wanted

    def test_run_before_it_was_opened(self) -> None:
        assert told(LEAK, job(RUN, OUT, IN, PULL), self.WET) == []

    def test_a_later_check_of_torque_changes_nothing(self) -> None:
        assert told(LEAK, job(OUT, IN, PULL, RUN, AGAIN), self.WET) == [("4", "certain", "")]

    def test_dry_joints_and_those_nobody_opened(self) -> None:
        assert told(LEAK, job(OUT, IN, PULL, RUN), one()) == []
        assert told(LEAK, job(Action("inspect", "bolt"), RUN), self.WET) == []

    def test_each_joint_or_all_of_them(self) -> None:
        two = evolve(self.WET, fasteners=(*self.WET.fasteners, Fastener("plug", "oil plug", fluid="oil")))
        both = (OUT, IN, PULL, Action("remove", "plug"), Action("reuse", "plug"), Action("tighten", "plug"), RUN)
        assert [held.joint for held in found(LEAK, job(*both, self.LOOKED), two)] == ["plug"]
        assert found(LEAK, job(*both, Action("check_leak", "machine")), two) == []
        named = saying(job(*both, self.LOOKED), 7, "Look for leaks at the bolt and the oil plug.")
        assert found(LEAK, named, two) == []

    def test_other_joints_are_other_joints(self) -> None:
        two = evolve(self.WET, fasteners=(*self.WET.fasteners, Fastener("nut", "nut")))
        closed = (OUT, IN, PULL)
        early = job(*closed, Action("check_leak", "nut"), RUN)
        assert told(LEAK, early, two) == [("5", "certain", "")]
        tested = job(*closed, RUN, Action("check", "nut", note="holds the pressure"))
        assert told(LEAK, tested, two) == [("4", "certain", "")]
        assert told(LEAK, saying(early, 4, "Run the engine and look for drips."), two) == []

    def test_words_may_say_it(self) -> None:
        procedure = job(OUT, IN, PULL, RUN, OTHER)
        assert told(LEAK, saying(procedure, 4, "Brush soapy water on it; no bubbles may grow."), self.WET) == []
        assert told(LEAK, saying(procedure, 1, "Look for leaks before you start."), self.WET) != []


class TestLook:
    ASKED = one(independent_check=True)
    BY = Action("check", "bolt", note="by a second person")

    @pytest.mark.parametrize(
        ("steps", "wanted"),
        [
            ((), [("3", "certain", "")]),
            ((BY := Action("check", "bolt", note="by a second person"),), []),
            ((Action("inspect", "work", note="by the inspector"),), []),
            ((Action("record", "countersigned by a colleague"),), []),
            ((Action("check", "bolt"),), [("4", "unstated", "same")]),
            ((Action("check", "engine"),), [("3", "certain", "")]),
            ((Action("wait", "a while"), Action("check", "bolt")), []),
            ((Action("check", "bolt"), BY), []),
            ((Action("refer", "inspection sheet"),), [("3", "unstated", "")]),
            ((evolve(AGAIN, note="by another person"),), []),
        ],
    )
    def test_other_eyes(self, steps: tuple[Action, ...], wanted: list[Any]) -> None:
        assert told(LOOK, job(OUT, IN, PULL, *steps), self.ASKED) == wanted

    def test_eyes_on_another_joint_see_nothing_here(self) -> None:
        two = evolve(self.ASKED, fasteners=(*self.ASKED.fasteners, Fastener("nut", "nut")))
        other = Action("check", "nut", note="by a second person")
        assert told(LOOK, job(OUT, IN, PULL, other), two) == [("3", "certain", "")]
        looked = job(OUT, IN, PULL, Action("check", "nut"))
        assert told(LOOK, saying(looked, 3, "A second person checks the nut."), two) == [("3", "certain", "")]
        assert told(LOOK, saying(looked, 3, "A second person checks the bolt and the nut."), two) == []
        assert told(LOOK, saying(looked, 2, "Tighten the bolt; a second person looks on."), two) == []
        assert told(LOOK, saying(looked, 1, "A second person holds the carrier."), two) != []
        wiped = job(OUT, IN, PULL, Action("clean", "bolt", note="with the rag of the inspector"))
        assert told(LOOK, wiped, self.ASKED) == [("3", "certain", "")]

    def test_a_look_at_an_earlier_making_is_past(self) -> None:
        pinned = one(independent_check=True, lock=Lock("cotter pin"))
        pin = Action("lock", "bolt", state="new")
        again = job(OUT, IN, PULL, pin, self.BY, OUT, IN, PULL)
        assert told(LOOK, again, pinned) == [("8", "certain", "")]

    def test_before_the_pull_or_the_lock_is_too_early(self) -> None:
        assert told(LOOK, job(OUT, IN, self.BY, PULL), self.ASKED) == [("4", "certain", "")]
        pinned = one(independent_check=True, lock=Lock("cotter pin"))
        pin = Action("lock", "bolt", state="new")
        assert told(LOOK, job(OUT, IN, PULL, self.BY, pin), pinned) == [("5", "certain", "")]
        assert told(LOOK, job(OUT, IN, PULL, pin, self.BY), pinned) == []

    def test_the_sentence_says_who(self) -> None:
        procedure = job(OUT, IN, PULL, Action("check", "bolt"))
        assert told(LOOK, saying(procedure, 3, "A second person goes over the bolts."), self.ASKED) == []

    @pytest.mark.parametrize(
        ("policy", "more", "asked"),
        [
            ("aviation", {"safety": True}, True),
            ("aviation", {"safety": False}, False),
            ("aviation", {}, False),
            ("aviation", {"safety": True, "independent_check": False}, False),
            ("general", {"safety": True}, False),
            ("road vehicle", {"safety": True}, False),
            ("general", {"independent_check": True}, True),
        ],
    )
    def test_who_asks(self, policy: str, more: dict[str, Any], asked: bool) -> None:
        assert bool(told(LOOK, job(OUT, IN, PULL), one(policy, **more))) is asked

    def test_what_is_not_closed_needs_no_look(self) -> None:
        assert told(LOOK, job(OUT), self.ASKED) == []
        assert told(LOOK, job(Action("inspect", "bolt")), self.ASKED) == []


class TestRecord:
    HURTS = one(safety=True)

    @pytest.mark.parametrize(
        ("steps", "kept"),
        [
            ((PULL,), False),
            ((PULL, Action("record", "bolt")), True),
            ((PULL, Action("mark", "bolt")), True),
            ((PULL, Action("record", "torques")), True),
            ((PULL, Action("mark", "hose")), True),
            ((Action("mark", "bolt"), PULL), False),
            ((PULL, Action("record", "bolt"), RUN, AGAIN), True),
            ((evolve(PULL, tool="logging wrench"),), True),
            ((evolve(PULL, tool="clicking wrench"),), False),
            ((Action("tighten", "bolt"),), True),  # a tightening without a figure is another rule's
            ((Action("tighten", "bolt", to=HAND),), True),
        ],
    )
    def test_something_shows(self, steps: tuple[Action, ...], kept: bool) -> None:
        assert (told(RECORD, job(OUT, IN, *steps), self.HURTS) == []) is kept

    def test_of_another_joint_is_not_of_this_one(self) -> None:
        two = evolve(self.HURTS, fasteners=(*self.HURTS.fasteners, Fastener("nut", "nut")))
        assert told(RECORD, job(OUT, IN, PULL, Action("record", "nut")), two) != []

    def test_a_listed_wrench_that_writes(self) -> None:
        catalogue = evolve(self.HURTS, tools=(Tool("w", "torque wrench with data logger"),))
        assert told(RECORD, job(OUT, IN, evolve(PULL, tool="w")), catalogue) == []

    @pytest.mark.parametrize(
        ("policy", "sure"),
        [
            ("general", "unstated"), ("road vehicle", "unstated"),
            ("aviation", "certain"), ("pressure flange", "certain"),
        ],
    )
    def test_the_trade_decides_how_sure(self, policy: str, sure: str) -> None:
        assert told(RECORD, job(OUT, IN, PULL), one(policy, safety=True)) == [("3", sure, "")]
        later = job(OUT, IN, PULL, Action("refer", "log sheet"))
        assert told(RECORD, later, one(policy, safety=True)) == [("3", "unstated", "")]

    def test_where_nobody_is_hurt_nothing_is_asked(self) -> None:
        for safety in (None, False):
            assert told(RECORD, job(OUT, IN, PULL), one("aviation", safety=safety)) == []
        assert told(RECORD, job(OUT, IN, PULL), evolve(self.HURTS, unrecorded=("bolt",))) == []


class TestLeft:
    @pytest.mark.parametrize(
        ("steps", "wanted"),
        [
            ((Action("insert", "clean rag"),), [("1", "certain", "")]),
            ((Action("insert", "clean rag"), Action("take_out", "rag")), []),
            ((Action("insert", "rags"), Action("remove", "rag")), []),
            ((Action("install", "rag"),), [("1", "certain", "")]),
            ((Action("insert", "strainer"),), []),
            ((Action("install", "gasket"),), []),
            ((Action("insert", "bolt"),), []),
            ((Action("insert", "guide studs", count=2), Action("take_out", "guide studs", count=2)), []),
            ((Action("insert", "guide studs", count=2), Action("take_out", "guide stud", count=1)),
             [("1", "certain", "some")]),
            ((Action("insert", "guide studs", count=2), Action("take_out", "guide studs")), []),
            ((Action("insert", "guide studs"), Action("take_out", "guide studs", count=1)), []),
            ((Action("insert", "rag"), RUN, Action("take_out", "rag")), [("2", "certain", "run")]),
            ((Action("insert", "guide studs"), RUN, Action("take_out", "guide studs")), []),
            ((Action("insert", "rag"), Action("take_out", "rag"), RUN), []),
            ((Action("insert", "rag"), Action("remove", "lock", of="bolt")), [("1", "certain", "")]),
            ((Action("insert", "rag"), Action("refer", "sheet 2")), [("1", "unstated", "")]),
            ((Action("insert", "rag", mode="if", note="if the bore is open"),), []),
            ((Action("insert", "rag", mode="do_not"),), []),
            ((Action("take_out", "rag"),), []),
            ((Action("take_out", "rag"), Action("insert", "rag")), [("2", "certain", "")]),
            ((Action("insert", "rag"), Action("clean", "rag")), [("1", "certain", "")]),
            ((Action("insert", "rag"), Action("remove", "rag from the bore")), []),
            ((Action("insert", "rag"), evolve(RUN, mode="if"), Action("take_out", "rag")), []),
            ((Action("insert", "rag"), Action("run", "bolt"), Action("take_out", "rag")), []),
        ],
    )  # fmt: skip
    def test_in_and_out(self, steps: tuple[Action, ...], wanted: list[Any]) -> None:
        assert told(LEFT, job(*steps), one()) == wanted

    def test_recorded_pieces_stay_in(self) -> None:
        catalogue = evolve(
            one(), fasteners=(*one().fasteners, Fastener("wedge", "wedge bolt")), seals=(Seal("foam", "foam strip"),)
        )
        for piece in (Action("insert", "wedge"), Action("insert", "foam"), Action("insert", "magnet", of="bolt")):
            assert told(LEFT, job(piece), catalogue) == []
        lent = Action("insert", "steel wedge")
        assert told(LEFT, job(lent, Action("remove", "wedge")), catalogue) == [("1", "certain", "")]
        strip = Action("insert", "packing foam")
        assert told(LEFT, job(strip, Action("remove", "foam")), catalogue) == [("1", "certain", "")]
        assert told(LEFT, job(lent, Action("remove", "")), catalogue) == [("1", "certain", "")]

    def test_tools_of_the_list_are_known(self) -> None:
        catalogue = evolve(one(), tools=(Tool("mirror", "inspection mirror"),))
        assert told(LEFT, job(Action("insert", "mirror")), catalogue) == [("1", "certain", "")]
        assert told(LEFT, job(Action("insert", "mirror"), Action("take_out", "mirror")), catalogue) == []
        assert told(LEFT, job(Action("insert", "mirror")), one()) == []

    def test_words_may_take_it_out(self) -> None:
        procedure = job(Action("insert", "rag"), OTHER)
        for say, silent in (
            ("Take the rag out.", True), ("Count the rags and the tools.", True),
            ("Leave the rag in until the end.", False), ("Remove the cover. The rag stays.", False),
        ):  # fmt: skip
            assert (told(LEFT, saying(procedure, 1, say), one()) == []) is silent, say
        assert told(LEFT, saying(procedure, 0, "Stuff a rag in, scrape, and take the rag out."), one()) == []
        studs = job(Action("insert", "guide studs", count=2), OTHER)
        assert told(LEFT, saying(studs, 1, "Take the guide studs out."), one()) == []


@settings(max_examples=60, deadline=None)
@given(sound_jobs(kinds=(ordered_flange, gearbox, rag_in_the_bore, watched, sump, locked_nuts), most=2))
def test_planted_slips_after_the_job_are_found_and_nothing_else(made: tuple[Procedure, Catalogue]) -> None:
    for rule in (MISSED, FORBIDDEN, LEAK, LOOK, RECORD, LEFT):
        plant_all(rule, *made)


def test_the_planters_reach_every_kind_of_slip() -> None:
    def planted(rule: str, catalogue: Catalogue, *steps: Any) -> int:
        return len(plant_all(rule, job(*steps), catalogue))

    assert planted(MISSED, TestMissed.DUE, OUT, IN, PULL, RUN, AGAIN) == 1
    assert planted(FORBIDDEN, TestForbidden.NEVER, OUT, IN, PULL, RUN) == 1
    assert planted(LEAK, TestLeak.WET, OUT, IN, PULL, RUN, TestLeak.LOOKED) == 1
    assert planted(LOOK, TestLook.ASKED, OUT, IN, PULL, TestLook.BY) == 1
    assert planted(RECORD, TestRecord.HURTS, OUT, IN, PULL, Action("mark", "bolt")) == 1
    assert planted(LEFT, one(), Action("insert", "rag"), Action("take_out", "rag")) == 1
