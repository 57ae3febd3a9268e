"""What is written reads as the same records again: as TOML, and as plain values."""

from __future__ import annotations

import json
from typing import Any

import pytest
import tomli_w
from hypothesis import HealthCheck, given, settings

from sound_procedures import sound_jobs
from toml_tables import jobs
from torquewright.base.trouble import InputTrouble
from torquewright.reading.files import read_job
from torquewright.records import (
    Accepted,
    Action,
    Amount,
    Catalogue,
    Fastener,
    KitItem,
    Part,
    Procedure,
    Seal,
    Step,
    Thread,
    Tightening,
    Tool,
)
from torquewright.toml.plain import from_plain, to_plain
from torquewright.toml.writing import to_toml


@given(jobs())
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_a_job_written_reads_as_the_same_job(tables: dict[str, Any]) -> None:
    job = read_job("x.toml", text=tomli_w.dumps(tables))

    again = read_job("y.toml", text=to_toml(job.procedure, job.catalogue))

    assert again.catalogue == job.catalogue
    assert again.procedure == job.procedure


@given(jobs())
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_records_as_plain_values_come_back_the_same(tables: dict[str, Any]) -> None:
    job = read_job("x.toml", text=tomli_w.dumps(tables))

    catalogue = json.loads(json.dumps(to_plain(job.catalogue), allow_nan=False))
    procedure = json.loads(json.dumps(to_plain(job.procedure), allow_nan=False))

    assert from_plain(Catalogue, catalogue) == job.catalogue
    assert from_plain(Procedure, procedure) == job.procedure


@given(sound_jobs())
@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_a_job_built_in_python_is_written_so_that_it_reads(job: tuple[Procedure, Catalogue]) -> None:
    procedure, catalogue = job

    again = read_job("y.toml", text=to_toml(procedure, catalogue))

    assert again.procedure is not None
    assert [[(action.verb, action.what, action.of, action.count, action.tool) for action in step.actions]
            for step in again.procedure.steps] == [
           [(action.verb, action.what, action.of, action.count, action.tool) for action in step.actions]
            for step in procedure.steps]  # fmt: skip
    assert to_toml(again.procedure, again.catalogue) == to_toml(procedure, catalogue)


PART = Catalogue(fasteners=(Fastener("drain-screw", "drain screw"),), parts=(Part("lid", "top cover"),))


@pytest.mark.parametrize(
    "action",
    [
        Action("remove", "drain scew"),  # nearly a record, yet words
        Action("remove", "top cover"),  # the name of a record, yet words
        Action("discard", "washer", of="the far screw"),  # no record at all
        Action("tighten", "drain-screw", tool="drain-scrw"),
        Action("wait", "10 min"),
        Action("wait", amount=Amount(600.0, "min", 30.0)),
        Action("stop"),
        Action("tighten", "seal"),
    ],
)
def test_words_stay_words(action: Action) -> None:
    procedure = Procedure("t", (Step("1", "x", (action,)),))

    assert read_job("x.toml", text=to_toml(procedure, PART)).procedure == procedure


def test_findings_let_stand_keep_their_reasons() -> None:
    stand = (Accepted("wrench-out-of-range", "checked every month"),)
    procedure = Procedure("t", (Step("1", "x", accepted=stand),), accepted=stand)

    assert read_job("x.toml", text=to_toml(procedure)).procedure == procedure


def test_what_is_only_named_in_a_draft_stays_so() -> None:
    catalogue = Catalogue(
        fasteners=(Fastener("a", "a"), Fastener("b", "b")), seals=(Seal("c", "c"),), unrecorded=("b", "c"), tools=()
    )

    assert read_job("x.toml", text=to_toml(None, catalogue)).catalogue == catalogue


def test_a_wrench_in_pounds_is_written_in_pounds() -> None:
    text = '[[tool]]\nname = "torque wrench"\nrange = "10 to 80 lbf·ft"\nscale-step = "2 lbf·ft"\ndeviation = "4 %"\n'
    catalogue = read_job("x.toml", text=text).catalogue

    written = to_toml(None, catalogue)

    assert 'range = "10 to 80 lbf·ft"' in written
    assert 'scale-step = "2 lbf·ft"' in written
    assert 'deviation = "4 %"' in written


# ---- plain values are taken strictly ------------------------------------------------------------------------------

SCREW: dict[str, Any] = {
    "id": "a",
    "name": "b",
    "count": 2,
    "aliases": ["c"],
    "one-time-use": False,
    "thread": {"text": "M8", "family": "metric", "diameter": 0.008},
    "tightening": {"text": "7 N·m", "kind": "single", "stages": [{"torque": {"nominal": 7.0, "low": None, "high": None,
                                                                             "unit": "N·m"}}]},
}  # fmt: skip


def test_plain_values_make_a_record() -> None:
    screw = from_plain(Fastener, SCREW)

    assert (screw.count, screw.aliases, screw.one_time_use) == (2, ("c",), False)
    assert screw.thread == Thread("M8", "metric", 0.008)
    assert isinstance(screw.tightening, Tightening)


@pytest.mark.parametrize(
    ("change", "message", "wanted"),
    [
        ({"count": "2"}, "count: a text where a whole number belongs", "a whole number"),
        ({"count": 2.0}, "count: a number where a whole number belongs", "a whole number"),
        ({"count": True}, "count: true or false where a whole number belongs", "a whole number"),
        ({"one-time-use": "false"}, "one-time-use: a text where true or false belongs", "true or false"),
        ({"one-time-use": 0}, "one-time-use: a whole number where true or false belongs", "true or false"),
        ({"name": 3}, "name: a whole number where a text belongs", "a text"),
        ({"aliases": "abc"}, "aliases: a text where a list belongs", "a list"),
        ({"aliases": ["a", 3]}, "aliases[1]: a whole number where a text belongs", "a text"),
        ({"cuont": 2}, "unknown key cuont", "did you mean count?"),
        ({"one_time_use": True}, "unknown key one_time_use", "did you mean one-time-use"),
        ({"thread": {**SCREW["thread"], "family": "imperial"}}, "thread.family: not a word known here",
         '"metric", "unified" or "pipe"'),
        ({"thread": {**SCREW["thread"], "diameter": "8"}}, "thread.diameter: a text where a number belongs",
         "a number"),
        ({"thread": {**SCREW["thread"], "diameter": True}}, "thread.diameter: true or false where a number belongs",
         "a number"),
        ({"thread": {**SCREW["thread"], "diameter": float("nan")}}, "thread.diameter: no figure", "a finite number"),
        ({"thread": {**SCREW["thread"], "diameter": float("inf")}}, "thread.diameter: no figure", "a finite number"),
        ({"thread": "M8"}, "thread: a text where a table belongs", "a table"),
        ({"length": {"value": 1.0, "unit": "furlong"}}, "length: no unit is called furlong", "a unit"),
    ],
)  # fmt: skip
def test_plain_values_are_not_converted(change: dict[str, Any], message: str, wanted: str) -> None:
    with pytest.raises(InputTrouble) as trouble:
        from_plain(Fastener, {**SCREW, **change}, "screws.json")

    (fault,) = trouble.value.faults
    assert fault.message == message
    assert fault.wanted.startswith(wanted)
    assert fault.place.file == "screws.json"


def test_all_faults_of_plain_values_come_together() -> None:
    with pytest.raises(InputTrouble) as trouble:
        from_plain(
            Catalogue,
            {
                "fasteners": [{**SCREW, "count": "2"}, {"name": "x"}, 7],
                "tools": [{"id": "w", "name": "w", "low": "5"}],
                "kit": 3,
            },
        )

    assert sorted(fault.message for fault in trouble.value.faults) == [
        "fasteners[0].count: a text where a whole number belongs",
        "fasteners[1].id: nothing where a value belongs",
        "fasteners[2]: a whole number where a table belongs",
        "kit: a whole number where a list belongs",
        "tools[0].low: a text where a number belongs",
    ]


def test_a_verb_outside_the_closed_list_is_refused() -> None:
    with pytest.raises(InputTrouble) as trouble:
        from_plain(Action, {"verb": "tihgten"})

    assert trouble.value.faults[0].wanted.startswith('"tighten"')


def test_a_whole_number_stands_for_a_float_as_json_has_one_kind_of_number() -> None:
    assert from_plain(Tool, {"id": "w", "name": "w", "low": 5}).low == 5.0
    assert from_plain(KitItem, {"part": "w", "count": 5}) == KitItem("w", 5)
