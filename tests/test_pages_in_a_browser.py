"""The printable pages in a real headless browser: they render, fit the paper, and fetch nothing."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from torquewright.cli import main

EXAMPLE = Path(__file__).parent.parent / "specs" / "examples" / "theatre-winch-brake" / "sound.toml"
BROWSER = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
QUIET = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-component-update",
    "--disable-background-networking", "--disable-sync", "--enable-logging=stderr", "--v=0",
)  # fmt: skip

pytestmark = pytest.mark.skipif(BROWSER is None, reason="no Chromium is installed")

MEASURE = """<script>addEventListener("load", () => {
  const body = document.documentElement;
  const right = one => one.getBoundingClientRect().right;
  const wide = [...document.querySelectorAll("body *")].filter(one => right(one) > innerWidth + 1);
  body.setAttribute("data-over", body.scrollWidth > innerWidth || wide.length ? "yes" : "no");
  body.setAttribute("data-fetched", performance.getEntriesByType("resource").length);
  body.setAttribute("data-boxes", document.querySelectorAll("section, table, ol, ul").length);
})</script>"""


def browse(tmp_path: Path, *wishes: str) -> subprocess.CompletedProcess[str]:
    assert BROWSER is not None
    command = [BROWSER, *QUIET, f"--user-data-dir={tmp_path / 'profile'}", *wishes]
    return subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The pages as the verbs write them: the paper and the key of a quiz, and a job sheet."""
    folder = tmp_path_factory.mktemp("pages")
    kinds = "spot,all,order,number,tool"
    quiz = ["quiz", str(EXAMPLE), "--kinds", kinds, "--count", "5", "--seed", "2", "--format", "html"]
    assert main([*quiz, "--into", str(folder)]) == 0
    assert main(["sheet", str(EXAMPLE), "--html", str(folder / "sheet.html")]) == 0
    return {path.stem: path for path in folder.glob("*.html")}


@pytest.mark.parametrize("name", ["paper", "key", "sheet"])
@pytest.mark.parametrize("width", [740, 1100])  # an A4 page between its margins at 96 dots an inch; a screen
def test_a_page_renders_within_its_width_and_fetches_nothing(
    pages: dict[str, Path], name: str, width: int, tmp_path: Path
) -> None:
    page = tmp_path / "page.html"
    page.write_text(pages[name].read_text(encoding="utf-8").replace("</head>", MEASURE + "</head>"), encoding="utf-8")
    shown = browse(tmp_path, f"--window-size={width},1200", "--dump-dom", page.as_uri())
    assert shown.returncode == 0
    (told,) = re.findall(r"<html[^>]*>", shown.stdout)
    assert 'data-over="no"' in told
    assert 'data-fetched="0"' in told
    assert 'data-boxes="0"' not in told
    assert "CONSOLE" not in shown.stderr  # a page without a script has nothing to say there


def test_the_paper_prints_and_holds_no_answer(pages: dict[str, Path], tmp_path: Path) -> None:
    out = tmp_path / "paper.pdf"
    browse(tmp_path, f"--print-to-pdf={out}", "--no-pdf-header-footer", pages["paper"].as_uri())
    printed = out.read_bytes()
    assert printed.startswith(b"%PDF")
    assert len(re.findall(rb"/Type\s*/Page\b", printed)) >= 2  # five questions do not fit one sheet
    text = pages["paper"].read_text(encoding="utf-8")
    key = pages["key"].read_text(encoding="utf-8")
    for word in ("right: Step", "Leads to"):
        assert word in key
        assert word not in text


@pytest.mark.parametrize("name", ["paper", "sheet"])
def test_no_line_of_a_page_breaks_between_a_figure_and_its_unit(pages: dict[str, Path], name: str) -> None:
    text = pages[name].read_text(encoding="utf-8")
    assert re.search(r"\d\N{NO-BREAK SPACE}N·m", text)
    assert not re.search(r"\d (?:N·m|lbf|mm)", text)
