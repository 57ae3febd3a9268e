"""What is shipped: the wheel carries the rule texts, tables and examples, and works without the checkout."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

CHECKOUT = Path(__file__).parent.parent


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the unpacked wheel in it."""
    folder = tmp_path_factory.mktemp("wheel")
    build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder / "dist")]
    done = subprocess.run(build, cwd=CHECKOUT, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    (wheel,) = (folder / "dist").glob("*.whl")
    with zipfile.ZipFile(wheel) as packed:
        packed.extractall(folder / "site")
    return folder / "site"


def _run(installed: Path, cwd: Path, *words: str) -> subprocess.CompletedProcess[str]:
    # PYTHONPATH stands ahead of the checkout that is installed in this environment.
    surroundings = dict(os.environ, PYTHONPATH=str(installed))
    return subprocess.run(
        [sys.executable, "-m", "torquewright", *words], cwd=cwd, env=surroundings, capture_output=True, text=True
    )


def test_the_wheel_carries_everything_specs_holds(installed: Path) -> None:
    wanted = {
        path.relative_to(CHECKOUT / "specs")
        for path in (CHECKOUT / "specs").rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    packed = installed / "torquewright" / "_specs"
    held = {path.relative_to(packed) for path in packed.rglob("*") if path.is_file()}
    assert wanted == held


def test_the_wheel_carries_no_tests_or_tools(installed: Path) -> None:
    top = {path.name for path in installed.iterdir()}
    assert "torquewright" in top
    assert all(name == "torquewright" or name.endswith(".dist-info") for name in top), top


def test_the_wheel_checks_an_example_by_itself(installed: Path, tmp_path: Path) -> None:
    done = _run(installed, tmp_path, "check", "--example", "workboat-gearcase/sound")
    assert done.returncode == 0, done.stdout + done.stderr
    assert str(CHECKOUT) not in done.stdout


def test_the_wheel_tells_a_rule_by_itself(installed: Path, tmp_path: Path) -> None:
    done = _run(installed, tmp_path, "why", "sealing-washer-count")
    assert done.returncode == 0, done.stdout + done.stderr
    assert "washer" in done.stdout
