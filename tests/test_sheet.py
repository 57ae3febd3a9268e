"""The job sheet: everything to lay out and to write down is on it, whatever the text holds."""

from __future__ import annotations

from html.parser import HTMLParser
from pathlib import Path

import pytest

from torquewright.cli import main
from torquewright.reading.files import read_job
from torquewright.report.sheet import as_html, as_markdown, tightenings
from torquewright.verdict import CAUTION, check_job

WINCH = Path(__file__).parent.parent / "specs" / "examples" / "theatre-winch-brake"


class Words(HTMLParser):
    """The words of a page, and whether it asks for anything outside itself."""

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []
        self.outside: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.outside += [f"{tag} {name}" for name, _ in attrs if name in ("src", "href")]

    def handle_data(self, data: str) -> None:
        # A figure is kept with its unit by a space that looks like any other.
        self.words.append(data.replace("\N{NO-BREAK SPACE}", " "))


def page(text: str) -> Words:
    words = Words()
    words.feed(text)
    return words


def test_the_page_holds_tools_parts_steps_and_demands_and_needs_no_other_file() -> None:
    job = read_job(str(WINCH / "sound.toml"))
    assert job.procedure is not None
    held = page(as_html(job, check_job(job)))
    said = "\n".join(held.words)
    assert held.outside == []
    for tool in job.catalogue.tools or ():
        assert tool.name in said
    for step in job.procedure.steps:
        assert step.say in said
    demands = [line.demand for line in tightenings(job)]
    tightened = [action for step in job.procedure.steps for action in step.actions if action.verb == "tighten"]
    assert demands == [action.to.text for action in tightened if action.to]
    for demand in demands:
        assert demand in said
    assert CAUTION in said
    assert "GO" in held.words


def test_a_faulty_job_says_first_what_to_settle() -> None:
    job = read_job(str(WINCH / "faulty-1.toml"))
    report = check_job(job)
    for sheet in ("\n".join(page(as_html(job, report)).words), as_markdown(job, report)):
        assert "NO-GO" in sheet
        for finding in report.findings:
            assert sheet.index(finding.message) < sheet.index("Steps")


def test_signs_of_markup_in_a_text_stay_text() -> None:
    text = 'title = "<script>alert(1)</script>"\n[[step]]\nsay = "Check a < b & c <img src=x>."\n'
    job = read_job("job.toml", text=text)
    held = page(as_html(job, check_job(job)))
    assert held.outside == []
    assert "Check a < b & c <img src=x>." in held.words


def test_the_verb_writes_the_page_and_ends_as_the_check_does(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "sheet.html"
    assert main(["sheet", str(WINCH / "sound.toml"), "--html", str(out)]) == 0
    assert out.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert [path.name for path in tmp_path.iterdir()] == ["sheet.html"]
    assert main(["sheet", str(WINCH / "faulty-1.toml")]) == 1
    assert "## As tightened" in capsys.readouterr().out
    assert main(["sheet", str(tmp_path / "none.toml")]) == 3
    assert "none.toml" in capsys.readouterr().err
    assert main(["sheet", str(WINCH / "sound.toml"), "--html", str(tmp_path / "no" / "such.html")]) == 3
