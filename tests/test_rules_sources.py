"""Where the figures come from."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from attrs import evolve
from hypothesis import given, settings

from rule_bench import found, job, plant_all, told, torque
from sound_procedures import sound_jobs
from torquewright import read
from torquewright.records import Action, Catalogue, Fastener, Procedure, Source

RULE = "value-without-source"
EXAMPLES = sorted((Path(__file__).parent.parent / "specs" / "examples").glob("*/sound.toml"))


def records(own: str = "", other: str = "sheet 2", machine: str = "", **more: Any) -> Catalogue:
    def source(text: str) -> Source | None:
        return Source(text) if text else None

    bolt = Fastener("bolt", "bolt", tightening=torque(8), source=source(own))
    nut = Fastener("nut", "nut", tightening=torque(8), source=source(other))
    return Catalogue(fasteners=(bolt, nut), source=source(machine), **more)


PULL = Action("tighten", "bolt", to=torque(8))


@pytest.mark.parametrize(
    ("own", "other", "machine", "form"),
    [
        ("", "sheet 2", "", ""),
        ("", "", "", None),
        ("", "sheet 2", "manual", None),
        ("sheet 1", "", "", None),
        ("", "from memory", "", None),
        ("sheet 1", "sheet 2", "", None),
        ("from memory", "", "", "hearsay"),
        ("a Forum", "sheet 2", "manual", "hearsay"),
        ("", "", "somebody told me", "hearsay"),
        ("general table", "", "", None),
        ("common practice, no source", "", "", None),
        ("invented for this example", "", "", None),
    ],
)
def test_sources(own: str, other: str, machine: str, form: str | None) -> None:
    said = told(RULE, job(PULL), records(own, other, machine))
    assert said == ([] if form is None else [("1", "unstated", form)])


@pytest.mark.parametrize(
    ("held", "place"),
    [(records(), "tightening"), (records("a forum"), "source"), (records("", "", "a forum"), "tightening")],
)
def test_the_record_is_shown_where_it_says_so(held: Catalogue, place: str) -> None:
    (finding,) = found(RULE, job(PULL), held)
    assert finding.also == (("catalogue", ("fastener", "bolt", place)),)


def test_only_figures_that_are_pulled_count() -> None:
    held = records()
    assert found(RULE, job(Action("tighten", "bolt")), held) == []
    assert found(RULE, job(Action("remove", "bolt")), held) == []
    assert found(RULE, job(evolve(PULL, mode="if")), held) == []
    assert len(found(RULE, job(PULL, PULL), held)) == 1


def test_a_record_without_a_figure_and_a_name_without_a_record_are_left_alone() -> None:
    held = records()
    bare = evolve(held, fasteners=(evolve(held.fasteners[0], tightening=None), held.fasteners[1]))
    assert found(RULE, job(PULL), bare) == []
    assert found(RULE, job(PULL), evolve(held, unrecorded=("bolt",))) == []


@pytest.mark.parametrize(
    ("of_job", "of_records", "count"),
    [("250", "400", 1), ("250", "250", 0), ("Long  Shaft", "long shaft", 0), ("", "400", 0), ("250", "", 0)],
)
def test_variants(of_job: str, of_records: str, count: int) -> None:
    procedure = evolve(job(PULL), variant=of_job)
    assert told(RULE, procedure, records("sheet 1", variant=of_records)) == [("", "certain", "variant")] * count


def test_planted_in_the_examples() -> None:
    planted = []
    for path in EXAMPLES:
        held = read(str(path))
        assert held.procedure is not None
        planted += plant_all(RULE, held.procedure, held.catalogue)
    assert len({fault.changed for fault in planted}) == 3


@settings(max_examples=40, deadline=None)
@given(made_up=sound_jobs(most=3))
def test_planted_in_made_up_jobs(made_up: tuple[Procedure, Catalogue]) -> None:
    plant_all(RULE, *made_up)
