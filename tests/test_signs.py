"""Which files of a folder, a hook or an editor are looked at: those that are procedures, and no others."""

from __future__ import annotations

from pathlib import Path

import pytest

from torquewright.cli.gather import is_procedure, procedures_in
from torquewright.pages.markdown import _ACTION_HEADS
from torquewright.reading.files import read_job
from torquewright.reading.signs import holds_procedure, holds_records

ROOT = Path(__file__).parent.parent
DRAFTS = sorted((ROOT / "tests" / "drafts").glob("*.[mt][dx]*"))
EXAMPLES = sorted((ROOT / "specs" / "examples").glob("*/*.toml"))


@pytest.mark.parametrize("path", DRAFTS, ids=lambda path: path.name)
def test_every_draft_that_reads_as_steps_is_known(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    job = read_job(str(path), text=text)
    assert job.procedure is not None
    assert job.procedure.steps
    assert holds_procedure("x.md", text)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_procedures_and_records_are_told_apart(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    procedure = path.stem.startswith(("sound", "faulty"))
    assert holds_procedure(path.name, text) == procedure
    assert holds_records(path.name, text) == (path.stem in ("catalogue", "tools", "kit"))


@pytest.mark.parametrize(
    "line",
    [
        "1. Fit it.", "1) Fit it.", "  3. Fit it.", "**Step 4:** Fit it.", "## Step 4", "### 4. Fit it",
        "Step 2 - Fit it.", "B3. Fit it.", "2a) Fit it.", "4.2: Fit it.", "OPERATION 10 Fit it.",
        *(f"| Step | {head.title()} | Torque |" for head in sorted(_ACTION_HEADS)),
    ],
)  # fmt: skip
def test_a_step_has_one_of_these_signs(line: str) -> None:
    assert holds_procedure("x.md", f"# Title\n\n{line}\n")


@pytest.mark.parametrize(
    "line",
    [
        "Tighten it to 7 N·m.", "2026-01-31 A day.", "* 1.5 N·m", "| Part | Size |", "> 1. quoted", "    1. code",
        "Stepping stones 4", "1984 was a year", "A sentence. 2. Another.",
    ],
)  # fmt: skip
def test_these_are_no_steps(line: str) -> None:
    assert not holds_procedure("x.md", f"# Title\n\n{line}\n")


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("x.toml", "[step]\n"), ("x.toml", '["step"]\n'), ("x.toml", "  [[ step ]] # one\n"), ("X.TOML", "[[step]]\n"),
    ],
)  # fmt: skip
def test_a_header_of_steps_however_it_is_written(name: str, text: str) -> None:
    assert holds_procedure(name, text)


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("pyproject.toml", "[tool.ruff]\n"), ("x.toml", "# [[step]]\n"), ("x.toml", "[[steps]]\n"),
        ("x.txt", "1. Fit\n"), ("x.toml", "[step.more]\n"),
    ],
)  # fmt: skip
def test_other_files_are_other_files(name: str, text: str) -> None:
    assert not holds_procedure(name, text)
    assert not holds_records(name, text)


def test_a_folder_is_searched_and_what_cannot_be_opened_is_told(tmp_path: Path) -> None:
    for name, text in (
        ("b/step.md", "1. Fit it.\n"), ("a.toml", "[[step]]\n"), ("c.toml", "[[fastener]]\n"),
        (".hidden/a.toml", "[[step]]\n"),
        ("b/.x.md", "1. Fit\n"), ("README.md", "# Nothing\n"), ("b/upper.MD", "1. Fit\n"),
    ):  # fmt: skip
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8")
    found = [str(Path(name).relative_to(tmp_path)) for name in procedures_in(str(tmp_path))]
    assert found == ["a.toml", "b/step.md", "b/upper.MD"]
    assert is_procedure(str(tmp_path / "nowhere.md"))
