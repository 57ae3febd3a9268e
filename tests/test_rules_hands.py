"""How a fastener is turned: left-hand threads, the other half held, the end the figure is for."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from attrs import evolve
from hypothesis import given, settings

from rule_bench import found, job, plant_all, told
from sound_procedures import sound_jobs
from torquewright import read, read_tightening
from torquewright.records import Action, Catalogue, Fastener, Message, Procedure
from torquewright.rules.hands import holds
from torquewright.toml.quantities import read_size

LEFT, HOLD, END = "left-hand-thread-not-said", "back-up-wrench-missing", "torque-on-wrong-end"
EXAMPLES = sorted((Path(__file__).parent.parent / "specs" / "examples").glob("*/sound.toml"))


def records(name: str = "hub nut", size: str = "M8x1.25 LH", **more: Any) -> Catalogue:
    return Catalogue(fasteners=(Fastener("nut", name, count=1, thread=read_size(size), **more),))


def saying(procedure: Procedure, *sentences: str) -> Procedure:
    """The same procedure with the words of its steps."""
    steps = tuple(evolve(step, say=say) for step, say in zip(procedure.steps, sentences, strict=True))
    return evolve(procedure, steps=steps)


def pull(value: str = "8 N·m", **more: Any) -> Action:
    return Action("tighten", "nut", to=read_tightening(value), **more)


OFF, ON = Action("remove", "nut"), Action("install", "nut")
JOB = job(OFF, ON, pull())
BOTH = [("1", "certain", ""), ("3", "certain", "")]


class TestLeftHand:
    def test_both_ways_must_be_said(self) -> None:
        assert told(LEFT, JOB, records()) == BOTH
        assert told(LEFT, JOB, records(size="M8x1.25")) == []
        assert told(LEFT, JOB, Catalogue(fasteners=(Fastener("nut", "hub nut"),))) == []

    @pytest.mark.parametrize(
        "words",
        ["It has a left-hand thread.", "Mind the Left Hand thread.", "Turn it clockwise.", "Turn it to the right."],
    )
    def test_any_words_for_it_do(self, words: str) -> None:
        assert told(LEFT, saying(JOB, words, "", ""), records()) == BOTH[1:]

    def test_where_it_goes_in_is_early_enough(self) -> None:
        assert told(LEFT, saying(JOB, "Clockwise.", "Start it anticlockwise.", ""), records()) == []
        assert told(LEFT, saying(JOB, "", "", "Pull it anti-clockwise."), records()) == BOTH[:1]

    def test_a_message_ahead_of_all_steps_or_in_the_step_does(self) -> None:
        ahead = evolve(JOB, messages=(Message("NOTICE", "All threads are left-hand.", -1),))
        assert told(LEFT, ahead, records()) == []
        inside = evolve(JOB, messages=(Message("NOTICE", "The thread is left-hand.", 2),))
        assert told(LEFT, inside, records()) == BOTH[:1]

    def test_a_remark_and_a_name_do(self) -> None:
        noted = job(evolve(OFF, note="left-hand thread"), ON, pull(direction="anticlockwise"))
        assert told(LEFT, noted, records()) == []
        assert told(LEFT, JOB, records("left-hand hub nut")) == []

    @pytest.mark.parametrize(("way", "said"), [("clockwise", []), ("anticlockwise", [("1", "certain", "wrong-way")])])
    def test_the_way_to_open_it(self, way: str, said: list[tuple[str, str, str]]) -> None:
        steps = job(evolve(OFF, direction=way), ON, pull(direction="anticlockwise"))
        assert told(LEFT, steps, records()) == said

    @pytest.mark.parametrize(("way", "said"), [("anticlockwise", []), ("clockwise", [("3", "certain", "wrong-way")])])
    def test_the_way_to_close_it(self, way: str, said: list[tuple[str, str, str]]) -> None:
        steps = job(evolve(OFF, direction="clockwise"), ON, pull(direction=way))
        assert told(LEFT, steps, records()) == said

    @pytest.mark.parametrize(
        ("words", "count"),
        [
            ("Pull it clockwise.", 1),
            ("Pull it counter-clockwise.", 0),
            ("Pull it anticlockwise, not clockwise.", 0),
            ("Do not turn it clockwise.", 0),
            ("Left-hand thread: pull it clockwise.", 1),
        ],
    )
    def test_a_wrong_way_in_words(self, words: str, count: int) -> None:
        steps = saying(job(evolve(OFF, direction="clockwise"), ON, pull()), "", "", words)
        assert told(LEFT, steps, records()) == [("3", "likely", "wrong-way")] * count

    def test_a_way_that_could_be_meant_for_another_joint_is_not_judged(self) -> None:
        held = records()
        held = evolve(held, fasteners=(*held.fasteners, Fastener("cap", "cap")))
        steps = job((pull(), Action("tighten", "cap", to=read_tightening("8 N·m"))))
        assert found(LEFT, saying(steps, "Tighten both clockwise."), held) == []
        assert found(LEFT, saying(job((OFF, ON, pull())), "Off clockwise, on again."), records()) == []

    def test_by_hand_nothing_needs_to_be_said(self) -> None:
        steps = job(evolve(OFF, by_hand=True), ON, pull(by_hand=True))
        assert found(LEFT, steps, records()) == []
        assert found(LEFT, job(pull("hand-tight")), records()) == []

    def test_a_remark_on_what_is_taken_as_done_is_not_judged(self) -> None:
        assert found(LEFT, job(given=(pull(note="it was turned clockwise"),)), records()) == []

    def test_a_second_pull_needs_no_second_word(self) -> None:
        assert found(LEFT, job(pull(direction="anticlockwise"), pull()), records()) == []
        assert len(found(LEFT, job(pull(), pull()), records())) == 1


class TestHold:
    def test_positions_that_go_apart_later_are_told_once(self) -> None:
        two = Catalogue(fasteners=(Fastener("nut", "hub nut", count=2, needs_hold=True),))
        steps = job(OFF, ON, pull(), Action("retighten", "nut", to=read_tightening("8 N·m"), count=1))
        assert told(HOLD, steps, two) == [("1", "unstated", ""), ("3", "unstated", "")]

    def test_both_ways_must_be_said(self) -> None:
        assert told(HOLD, JOB, records(needs_hold=True)) == [("1", "unstated", ""), ("3", "unstated", "")]
        for needs in (None, False):
            assert found(HOLD, JOB, records(needs_hold=needs)) == []

    def test_the_key_the_remark_and_the_sentence_do(self) -> None:
        held = records(needs_hold=True)
        keyed = job(evolve(OFF, hold="22 mm spanner"), ON, pull(hold="22 mm spanner"))
        assert found(HOLD, keyed, held) == []
        noted = job(evolve(OFF, note="hold the elbow"), ON, pull(note="with a second wrench"))
        assert found(HOLD, noted, held) == []
        said = saying(JOB, "Hold the elbow and undo it.", "", "Counter-hold and pull.")
        assert found(HOLD, said, held) == []

    @pytest.mark.parametrize(
        ("words", "count"),
        [("hold the elbow", True), ("the screws that hold the elbow", False), ("with a backing spanner", True),
         ("with two spanners", True), ("the holder", False), ("the one which hold the pipe", False), ("", False)],
    )  # fmt: skip
    def test_what_counts_as_holding(self, words: str, count: bool) -> None:
        assert holds(words) is count

    def test_by_hand_nothing_needs_to_be_held(self) -> None:
        steps = job(evolve(OFF, by_hand=True), ON, pull("hand-tight"))
        assert found(HOLD, steps, records(needs_hold=True)) == []


class TestEnd:
    @pytest.mark.parametrize(
        ("wanted", "turned", "count"),
        [("nut", "head", 1), ("head", "nut", 1), ("nut", "nut", 0), ("head", "head", 0), ("", "head", 0),
         ("", "nut", 0), ("nut", "", 0)],
    )  # fmt: skip
    def test_the_key(self, wanted: str, turned: str, count: int) -> None:
        assert told(END, job(pull(end=turned)), records(turn_end=wanted)) == [("1", "certain", "")] * count

    @pytest.mark.parametrize(
        ("wanted", "words", "count"),
        [
            ("nut", "Tighten it at the head.", 1),
            ("nut", "Turn the bolt head to 8 N·m.", 1),
            ("nut", "Tighten it at the nut.", 0),
            ("nut", "Turn the nut, not the bolt head.", 0),
            ("nut", "Hold the spanner on the head and pull the nut.", 0),
            ("nut", "Pull it at the head and add the drag.", 0),
            ("head", "Tighten it at the nut.", 1),
            ("head", "Tighten it.", 0),
        ],
    )
    def test_words(self, wanted: str, words: str, count: int) -> None:
        found_here = told(END, saying(job(pull()), words), records(turn_end=wanted))
        assert found_here == [("1", "likely", "")] * count

    def test_a_pull_that_adds_the_drag_or_has_no_figure_is_left_alone(self) -> None:
        held = records(turn_end="nut")
        assert found(END, job(pull("8 N·m plus prevailing torque", end="head")), held) == []
        assert found(END, job(Action("tighten", "nut", end="head")), held) == []
        assert found(END, job(pull(end="head", mode="if")), held) == []
        assert found(END, job(Action("loosen", "nut", end="head")), held) == []


@pytest.mark.parametrize(("rule", "least"), [(LEFT, 3), (HOLD, 2), (END, 5)])
def test_planted_in_the_examples(rule: str, least: int) -> None:
    planted = []
    for path in EXAMPLES:
        held = read(str(path))
        assert held.procedure is not None
        planted += plant_all(rule, held.procedure, held.catalogue)
    assert len(planted) >= least


@settings(max_examples=40, deadline=None)
@given(made_up=sound_jobs(most=3))
def test_planted_in_made_up_jobs(made_up: tuple[Procedure, Catalogue]) -> None:
    plant_all(END, *made_up)
