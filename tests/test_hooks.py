"""The hooks for the pre-commit framework: the file is one it takes, and each hook does what it says.

Keys and types as the framework documents them for .pre-commit-hooks.yaml (pre-commit.com, "Creating new hooks").
"""

from __future__ import annotations

import json
import re
import shlex
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
KINDS = {
    "id": str, "name": str, "description": str, "entry": str, "language": str, "types_or": list, "args": list,
    "pass_filenames": bool, "require_serial": bool, "minimum_pre_commit_version": str,
}  # fmt: skip

BOAT = ROOT / "specs" / "examples" / "workboat-gearcase"


def hooks() -> dict[str, dict[str, object]]:
    """The hooks by id. The file keeps to the plain part of YAML read here: a list of one-line keys."""
    held: list[dict[str, object]] = []
    for line in (ROOT / ".pre-commit-hooks.yaml").read_text(encoding="utf-8").splitlines():
        if line.startswith("#"):
            continue
        found = re.fullmatch(r"(- |  )([a-z_]+): (\S.*)", line)
        assert found, f"not plain enough to be sure how YAML reads it: {line}"
        start, key, value = found.groups()
        if start == "- ":
            held.append({})
        assert key not in held[-1], f"{key} stands twice"
        held[-1][key] = _value(value)
    return {str(hook["id"]): hook for hook in held}


def _value(value: str) -> object:
    if value in ("true", "false"):
        return value == "true"
    if value.startswith("["):
        return [word.strip().strip('"') for word in value.strip("[]").split(",")]
    if value.startswith('"'):
        return json.loads(value)
    # a plain scalar may hold a colon or quotes inside, but not what YAML would take for something else
    assert not re.search(r": | #", value), f"YAML reads this otherwise: {value}"
    assert not re.match(r"[\d&*!|>%@`'{,?]|-\s", value), f"YAML reads this otherwise: {value}"
    return value


def test_every_hook_has_what_the_framework_asks_for() -> None:
    assert set(hooks()) == {"torquewright-check", "torquewright-check-all", "torquewright-rewrite"}
    for hook in hooks().values():
        assert {"id", "name", "entry", "language"} <= set(hook)
        for key, value in hook.items():
            assert isinstance(value, KINDS[key]), key
        assert hook["language"] == "python"
        assert hook["types_or"] == ["markdown", "toml"]


@pytest.mark.parametrize("name", ["torquewright-check", "torquewright-check-all", "torquewright-rewrite"])
def test_the_entry_is_a_command_this_package_installs(name: str) -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    assert shlex.split(str(hooks()[name]["entry"]))[0] in settings["project"]["scripts"]


def run(name: str, folder: Path, *files: str) -> subprocess.CompletedProcess[str]:
    """The hook as the framework calls it, in ``folder`` with these changed files."""
    hook = hooks()[name]
    words = shlex.split(str(hook["entry"]))
    args = hook.get("args", [])
    assert isinstance(args, list)
    passed = files if hook.get("pass_filenames", True) else ()
    command = [sys.executable, "-m", words[0], *words[1:], *args, *passed]
    return subprocess.run(command, cwd=folder, capture_output=True, encoding="utf-8", check=False)


@pytest.fixture
def documents(tmp_path: Path) -> Path:
    for name in ("catalogue", "tools", "kit", "sound", "faulty-1"):
        (tmp_path / f"{name}.toml").write_bytes((BOAT / f"{name}.toml").read_bytes())
    (tmp_path / "pyproject.toml").write_text('[project]\nname = "manuals"\n')
    (tmp_path / "README.md").write_text("# Manuals\n\nAll invented.\n")
    return tmp_path


def test_changed_files_are_judged_and_others_passed_over(documents: Path) -> None:
    others = ("pyproject.toml", "README.md", "catalogue.toml", "kit.toml", "tools.toml")
    done = run("torquewright-check", documents, *others)
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
    assert run("torquewright-check", documents, *others, "sound.toml").returncode == 0
    done = run("torquewright-check", documents, "sound.toml", "faulty-1.toml")
    assert done.returncode == 1
    assert "cotter-or-wire-reused" in done.stdout


def test_a_changed_catalogue_is_seen_through_every_procedure(documents: Path) -> None:
    (documents / "faulty-1.toml").unlink()
    assert run("torquewright-check-all", documents, "catalogue.toml").returncode == 0
    text = (documents / "catalogue.toml").read_text(encoding="utf-8")
    assert 'tightening = "7 N·m' in text
    after = text.replace('tightening = "7 N·m', 'tightening = "17 N·m')
    (documents / "catalogue.toml").write_text(after, encoding="utf-8")
    done = run("torquewright-check-all", documents, "catalogue.toml")
    assert done.returncode == 1
    assert "sound.toml" in done.stdout


def test_the_rewrite_hook_changes_files_and_then_has_nothing_to_do(documents: Path) -> None:
    draft = documents / "draft.md"
    draft.write_text("# Refit the drain screw\n\n1. Tighten the drain screw to 7 Nm.\n", encoding="utf-8")
    assert run("torquewright-rewrite", documents, "draft.md", "README.md").returncode == 0
    after = draft.read_text(encoding="utf-8")
    assert "N·m" in after
    assert run("torquewright-rewrite", documents, "draft.md", "README.md").returncode == 0
    assert draft.read_text(encoding="utf-8") == after
