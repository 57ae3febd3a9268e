"""What README.md shows is what the program prints, and what it tells people to write can be read."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from torquewright.cli import VERBS

CHECKOUT = Path(__file__).parent.parent
TEXT = (CHECKOUT / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```(\w*)\n(.*?)^```$", TEXT, re.MULTILINE | re.DOTALL)
CONSOLE = [body for kind, body in BLOCKS if kind == "console"]
CUT = "[…]\n"  # stands for lines left out


@pytest.mark.parametrize("body", CONSOLE, ids=lambda body: body.splitlines()[0][2:])
def test_a_shown_run_is_a_real_one(body: str) -> None:
    command, shown = body.split("\n", 1)
    program, *words = shlex.split(command.removeprefix("$ "))
    assert program == "torquewright"
    done = subprocess.run(
        [sys.executable, "-m", "torquewright", *words],
        cwd=CHECKOUT, env=dict(os.environ, COLUMNS="100"), capture_output=True, text=True,
    )  # fmt: skip
    at = 0
    for piece in shown.split(CUT):
        found = done.stdout.find(piece, at)
        assert found >= 0, f"not in the output of {command}:\n{piece}\n--- it printed:\n{done.stdout}{done.stderr}"
        assert found == 0 or done.stdout[found - 1] == "\n"
        at = found + len(piece)


def test_runs_are_shown() -> None:
    verbs = {body.split()[2] for body in CONSOLE}
    assert {"check", "convert", "quiz", "why"} <= verbs


def test_the_files_it_tells_people_to_write_are_checked(tmp_path: Path) -> None:
    tables = [body for kind, body in BLOCKS if kind == "toml"]
    catalogue, procedure = tables
    name = tomllib.loads(procedure)["catalogue"]
    (tmp_path / name).write_text(catalogue, encoding="utf-8")
    (tmp_path / "job.toml").write_text(procedure, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "torquewright", "check", str(tmp_path / "job.toml")], capture_output=True, text=True
    )
    assert done.returncode in (0, 1, 4), done.stdout + done.stderr


def test_every_verb_it_names_exists_and_links_lead_somewhere() -> None:
    for verb in re.findall(r"`torquewright (\w+)", TEXT):
        assert verb in VERBS, verb
    for name in ("README.md", "DEVELOPERS.md"):
        for target in re.findall(r"\]\(([^)#:]+)\)", (CHECKOUT / name).read_text(encoding="utf-8")):
            assert (CHECKOUT / target).exists(), f"{name} points to {target}"


def test_the_exit_statuses_are_the_programs_own() -> None:
    from torquewright import cli

    told = {int(number): text for number, text in re.findall(r"^\| (\d+) \| (.*?) \|$", TEXT, re.MULTILINE)}
    names = (cli.GO, cli.NO_GO, cli.WRONG_COMMAND, cli.NOT_READ, cli.ASK_FIRST, cli.OUR_FAULT)
    assert set(told) == set(names)
    assert told[cli.GO] == "go"
    assert told[cli.NO_GO] == "no-go"
    assert told[cli.ASK_FIRST] == "ask first"
