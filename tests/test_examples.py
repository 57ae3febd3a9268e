"""The bundled machines: the sound job is a go with nothing to remark, each faulty one shows just its faults."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from torquewright import check

EXAMPLES = Path(__file__).parent.parent / "specs" / "examples"
MACHINES = sorted(folder for folder in EXAMPLES.iterdir() if folder.is_dir())
SOUND = sorted(EXAMPLES.glob("*/sound*.toml"))
FAULTY = sorted(EXAMPLES.glob("*/faulty-*.toml"))


def _shown(path: Path) -> str:
    return f"{path.parent.name}/{path.stem}" if path.suffix else path.name


def _expected(path: Path) -> list[tuple[str, str, str]]:
    listed = tomllib.loads((path.parent / "expected.toml").read_text(encoding="utf-8"))
    return sorted((entry["rule"], entry["step"], entry["joint"]) for entry in listed[path.name])


@pytest.mark.parametrize("path", SOUND, ids=_shown)
def test_a_sound_job_is_a_go(path: Path) -> None:
    report = check(path)
    found = [(remark.rule, remark.step, remark.joint, remark.message) for remark in report.findings]
    assert found == []
    assert report.unread == ()
    assert report.verdict.word == "go"


@pytest.mark.parametrize("path", FAULTY, ids=_shown)
def test_a_faulty_job_shows_its_faults_and_nothing_else(path: Path) -> None:
    report = check(path)
    assert sorted((remark.rule, remark.step, remark.joint) for remark in report.findings) == _expected(path)
    assert report.verdict.word == "no-go"


@pytest.mark.parametrize("path", FAULTY, ids=_shown)
def test_a_finding_stands_in_the_step_it_names(path: Path) -> None:
    steps = tomllib.loads(path.read_text(encoding="utf-8"))["step"]
    lines = path.read_text(encoding="utf-8").splitlines()
    starts = [number for number, line in enumerate(lines, 1) if line == "[[step]]"] + [len(lines) + 1]
    for remark in check(path).findings:
        assert remark.place is not None
        if remark.step and Path(remark.place.file).name == path.name:
            number = int(remark.step)
            assert number <= len(steps)
            assert starts[number - 1] <= remark.place.line < starts[number], (remark.rule, remark.step, remark.place)


@pytest.mark.parametrize("folder", MACHINES, ids=_shown)
def test_a_machine_is_complete_and_says_that_it_is_invented(folder: Path) -> None:
    names = {path.name for path in folder.iterdir()}
    assert {"catalogue.toml", "tools.toml", "kit.toml", "sound.toml", "expected.toml"} <= names
    faulty = {name for name in names if name.startswith("faulty-") and name.endswith(".toml")}
    assert len(faulty) >= 2
    assert faulty == set(tomllib.loads((folder / "expected.toml").read_text(encoding="utf-8")))
    for name in names - {"expected.toml"}:
        assert "nvented example" in (folder / name).read_text(encoding="utf-8").splitlines()[0]


def test_every_machine_is_its_own() -> None:
    names = [
        tomllib.loads((folder / "catalogue.toml").read_text(encoding="utf-8"))["machine"]["name"]
        for folder in MACHINES
    ]
    assert len(names) >= 3
    assert len(set(names)) == len(names)


def test_the_faults_of_the_examples_are_of_many_kinds() -> None:
    rules = {rule for path in FAULTY for rule, _, _ in _expected(path)}
    known = {path.stem for path in (EXAMPLES.parent / "rules").glob("*.toml")}
    assert rules <= known, sorted(rules - known)
    assert len(rules) >= 15


@pytest.mark.parametrize("name", ["sound", "faulty-1"])
def test_the_command_line_checks_an_example(name: str) -> None:
    command = [sys.executable, "-m", "torquewright", "check", "--example", f"workboat-gearcase/{name}"]
    done = subprocess.run(command, capture_output=True, text=True)
    assert done.returncode == (0 if name == "sound" else 1), done.stdout + done.stderr
    assert name in done.stdout
