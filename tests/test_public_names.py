"""The names ``import torquewright`` promises: all there, documented, and loaded only when used."""

from __future__ import annotations

import inspect
import subprocess
import sys
from pathlib import Path

import pytest

import torquewright
from torquewright import check, check_records, read, read_text

STEP = '[[step]]\nsay = "Tighten the drain screw."\ndo = [{ tighten = "drain screw" }]\n'


@pytest.mark.parametrize("name", torquewright.__all__)
def test_every_name_is_there_and_documented(name: str) -> None:
    value = getattr(torquewright, name)
    assert inspect.getdoc(value)
    assert name in dir(torquewright)
    assert f"``{name}``" in (torquewright.__doc__ or "")


def test_an_unknown_name_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="no attribute 'chek'"):
        _ = torquewright.chek


def test_importing_the_package_loads_nothing_else() -> None:
    code = "import sys; before = set(sys.modules); import torquewright; print(sorted(set(sys.modules) - before))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, encoding="utf-8", timeout=60, check=True)
    assert done.stdout == "['torquewright']\n"


def test_a_text_is_read_and_judged_like_the_file_that_holds_it() -> None:
    held = read_text(STEP, "oil.toml")
    assert held.procedure is not None
    assert held.file == "oil.toml"
    assert read("oil.toml", text=STEP).procedure == held.procedure
    by_text = check("oil.toml", text=STEP)
    by_records = check_records(held.procedure, held.catalogue)
    assert by_text.verdict.word == by_records.word != "go"  # no record and no value: never good
    bare = [remark._replace(place=None, also=()) for remark in by_text.findings]
    assert bare == list(by_records.remarks)


def test_files_may_be_named_by_path_objects(tmp_path: Path) -> None:
    records = tmp_path / "guard.toml"
    records.write_text('[[fastener]]\nname = "guard screw"\ncount = 2\ntightening = "4 N·m"\n', encoding="utf-8")
    for name, text in (
        ("job.toml", '[[step]]\nsay = "x"\ndo = [{ tighten = "guard-screw", to = "4 N·m" }]\n'),
        ("job.md", "# Guard\n\n1. Tighten the two guard screws to 4 N·m.\n"),
    ):
        file = tmp_path / name
        file.write_text(text, encoding="utf-8")
        job = torquewright.read(file, catalogue=records)
        assert job.procedure is not None
        assert job.procedure.steps[0].actions[0].what == "guard-screw"
        assert torquewright.check(file, catalogue=records).file == str(file)
    assert torquewright.read_catalogue(records).fasteners[0].id == "guard-screw"
