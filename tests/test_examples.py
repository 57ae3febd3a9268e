"""The bundled machines: the sound job is a go with nothing to remark, each faulty one shows just its faults."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from torquewright import check
from torquewright.cli.examples import chosen
from torquewright.verdict import Report

EXAMPLES = Path(__file__).parent.parent / "specs" / "examples"
MACHINES = sorted(folder for folder in EXAMPLES.iterdir() if folder.is_dir())
SOUND = sorted([*EXAMPLES.glob("*/sound*.toml"), *EXAMPLES.glob("*/sound*.md")])
FAULTY = sorted([*EXAMPLES.glob("*/faulty-*.toml"), *EXAMPLES.glob("*/faulty-*.md")])


def _shown(path: Path) -> str:
    return f"{path.parent.name}/{path.name}" if path.suffix else path.name


def _expected(path: Path) -> list[tuple[str, str, str]]:
    listed = tomllib.loads((path.parent / "expected.toml").read_text(encoding="utf-8"))
    return sorted((entry["rule"], entry["step"], entry["joint"]) for entry in listed[path.stem + ".toml"])


@pytest.mark.parametrize("path", SOUND, ids=_shown)
def test_a_sound_job_is_a_go(path: Path) -> None:
    report = check(path)
    found = [(remark.rule, remark.step, remark.joint, remark.message) for remark in report.findings]
    assert found == []
    assert [piece for piece in report.unread if piece.matters] == []
    if path.suffix == ".toml":
        assert report.unread == ()
    assert report.verdict.word == "go"


@pytest.mark.parametrize("path", FAULTY, ids=_shown)
def test_a_faulty_job_shows_its_faults_and_nothing_else(path: Path) -> None:
    report = check(path)
    assert sorted((remark.rule, remark.step, remark.joint) for remark in report.findings) == _expected(path)
    assert report.verdict.word == "no-go"


@pytest.mark.parametrize("path", [path for path in SOUND + FAULTY if path.suffix == ".md"], ids=_shown)
def test_a_draft_and_its_toml_form_are_found_fault_with_in_the_same_words(path: Path) -> None:
    in_words, in_toml = check(path), check(path.with_suffix(".toml"))
    assert _told(in_words) == _told(in_toml)
    assert in_words.verdict.word == in_toml.verdict.word


def _told(report: Report) -> list[tuple[str, str, str, str, str]]:
    told = ((remark.rule, remark.step, remark.joint, remark.certainty, remark.message) for remark in report.findings)
    return sorted(told)


@pytest.mark.parametrize("path", FAULTY, ids=_shown)
def test_a_finding_stands_in_the_step_it_names(path: Path) -> None:
    lines = path.read_text(encoding="utf-8").splitlines()
    head = r"\[\[step\]\]" if path.suffix == ".toml" else r"\d+\. "
    starts = [number for number, line in enumerate(lines, 1) if re.match(head, line)] + [len(lines) + 1]
    for remark in check(path).findings:
        assert remark.place is not None
        if remark.step and Path(remark.place.file).name == path.name:
            number = int(remark.step)
            assert number < len(starts)
            assert starts[number - 1] <= remark.place.line < starts[number], (remark.rule, remark.step, remark.place)


@pytest.mark.parametrize("folder", MACHINES, ids=_shown)
def test_a_machine_is_complete_and_says_that_it_is_invented(folder: Path) -> None:
    names = {path.name for path in folder.iterdir()}
    assert {"catalogue.toml", "tools.toml", "kit.toml", "sound.toml", "expected.toml"} <= names
    faulty = {name for name in names if name.startswith("faulty-") and name.endswith(".toml")}
    assert len(faulty) >= 2
    assert faulty == set(tomllib.loads((folder / "expected.toml").read_text(encoding="utf-8")))
    assert {Path(name).stem for name in names if name.endswith(".md")} == {"sound", *(Path(n).stem for n in faulty)}
    for name in names - {"expected.toml"}:
        lines = (folder / name).read_text(encoding="utf-8").splitlines()
        assert "nvented example" in lines[1 if name.endswith(".md") else 0]


@pytest.mark.parametrize("path", [path for path in SOUND + FAULTY if path.suffix == ".md"], ids=_shown)
def test_a_draft_tells_its_procedure_in_sentences_of_its_own(path: Path) -> None:
    """Otherwise the two forms would agree because one was copied from the other."""
    steps = tomllib.loads(path.with_suffix(".toml").read_text(encoding="utf-8"))["step"]
    told = set(re.findall(r"^\d+\. (.*)", path.read_text(encoding="utf-8"), re.M))
    assert len(told) == len(steps)
    assert len(told & {step["say"] for step in steps}) < len(steps) / 2


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


@pytest.mark.parametrize("name", ["sound", "faulty-1", "sound.md", "faulty-1.md"])
def test_the_command_line_checks_an_example(name: str) -> None:
    command = [sys.executable, "-m", "torquewright", "check", "--example", f"workboat-gearcase/{name}"]
    done = subprocess.run(command, capture_output=True, text=True)
    assert done.returncode == (0 if name.startswith("sound") else 1), done.stdout + done.stderr
    assert (name if name.endswith(".md") else f"{name}.toml") in done.stdout
    assert ("workboat-gearcase/faulty-1.md:" in done.stdout) == (name == "faulty-1.md")


def test_an_example_without_a_suffix_is_the_toml_form() -> None:
    both = chosen("theatre/sound.toml") + chosen("theatre/sound.md")
    assert [Path(name).name for name in both] == ["sound.toml", "sound.md"]
    assert chosen("theatre/sound") == both[:1]
    drafts = [Path(name).name for name in chosen("theatre/*.md")]
    assert drafts == [f"{stem}.md" for stem in ("sound", "faulty-1", "faulty-2", "faulty-3")]
    assert chosen("theatre/faulty-9.md") == chosen("nowhere") == []
    assert {Path(name).suffix for name in chosen("theatre")} == {".toml"}
