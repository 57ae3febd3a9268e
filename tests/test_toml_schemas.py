"""The JSON Schemas of the TOML files say what the reader takes, in both dialects, and are up to date."""

from __future__ import annotations

import importlib.util
import json
import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings

from toml_tables import jobs

ROOT = Path(__file__).resolve().parent.parent
FORMATS = ROOT / "specs" / "formats"
PROCEDURES = ("procedure.schema.json", "procedure.draft-07.schema.json")
CATALOGUES = ("catalogue.schema.json", "catalogue.draft-07.schema.json")


def validator(name: str) -> Any:
    schema = json.loads((FORMATS / name).read_text(encoding="utf-8"))
    kind = jsonschema.validators.validator_for(schema)
    kind.check_schema(schema)
    return kind(schema)


VALIDATORS = {name: validator(name) for name in (*PROCEDURES, *CATALOGUES)}


def test_the_schemas_and_the_vocabulary_are_what_the_key_tables_give() -> None:
    spec = importlib.util.spec_from_file_location("build_schemas", ROOT / "tools" / "build_schemas.py")
    assert spec is not None
    assert spec.loader is not None
    tool = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(tool)

    for name, text in tool.files().items():
        assert (FORMATS / name).read_text(encoding="utf-8") == text, f"run tools/build_schemas.py: {name} is stale"


def test_each_schema_names_its_own_dialect() -> None:
    dialects = {name: type(held).META_SCHEMA["$schema"] for name, held in VALIDATORS.items()}

    assert dialects["procedure.schema.json"] == "https://json-schema.org/draft/2020-12/schema"
    assert dialects["procedure.draft-07.schema.json"].startswith("http://json-schema.org/draft-07/schema")


@given(jobs())
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_what_the_reader_takes_the_schema_takes(tables: dict[str, Any]) -> None:
    for name in PROCEDURES:
        VALIDATORS[name].validate(tables)


EXAMPLES = sorted(file for file in (ROOT / "specs" / "examples").glob("*/*.toml") if file.name != "expected.toml")


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: f"{file.parent.name}/{file.name}")
def test_the_examples_fit_their_schema(file: Path) -> None:
    tables = tomllib.loads(file.read_text(encoding="utf-8"))

    for name in PROCEDURES if "step" in tables else CATALOGUES:
        VALIDATORS[name].validate(tables)


@pytest.mark.parametrize("name", PROCEDURES)
@pytest.mark.parametrize(
    "text",
    [
        "",  # no steps is a file of records, which the reader takes too
        '[[step]]\nsay = "x"\n',
        'kit = "k.toml"\n[[step]]\nsay = "x"\n',
    ],
)
def test_a_sound_file_fits(name: str, text: str) -> None:
    assert VALIDATORS[name].is_valid(tomllib.loads(text))


@pytest.mark.parametrize("name", PROCEDURES)
@pytest.mark.parametrize(
    "text",
    [
        'titel = "x"',
        "title = 3",
        "[[step]]",
        '[[step]]\nsay = "x"\nfoo = 1',
        '[[step]]\ndo = [ { fit = "x", start = "y" } ]',
        '[[step]]\ndo = [ { to = "7 N·m" } ]',
        '[[step]]\ndo = [ { tihgten = "x" } ]',
        '[[step]]\ndo = [ { fit = "x", count = 0 } ]',
        '[[step]]\ndo = [ { fit = "x", state = "fresh" } ]',
        "[[fastener]]\ncount = 1",
        '[[fastener]]\nname = "x"\ncount = "1"',
        '[[fastener]]\nname = "x"\none-time-use = 1',
        '[[fastener]]\nname = "x"\nwasher = { kind = "flat", cuont = 1 }',
        '[[fastener]]\nname = "x"\nwasher = "some"',
        '[[fastener]]\nname = "x"\nlock = { built-in = true }',
        '[[fastener]]\nname = "x"\nreuse = "sometimes"',
        '[[tool]]\nname = "x"\ndeviation = "0.04"',
        '[[kit]]\npart = "x"',
        'policy = "navy"',
    ],
)
def test_a_faulty_file_does_not_fit(name: str, text: str) -> None:
    assert not VALIDATORS[name].is_valid(tomllib.loads(text))


@pytest.mark.parametrize("name", CATALOGUES)
def test_a_file_of_records_takes_no_steps(name: str) -> None:
    assert VALIDATORS[name].is_valid({"fastener": [{"name": "x"}]})
    assert not VALIDATORS[name].is_valid({"step": [{"say": "x"}]})
    assert not VALIDATORS[name].is_valid({"kit": "k.toml"})
