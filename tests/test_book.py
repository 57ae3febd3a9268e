"""The pages of the rule book say what the rule files state, no less, and every link leads to a page."""

from __future__ import annotations

import re
import sys
from html.parser import HTMLParser
from pathlib import Path, PurePosixPath

import pytest
from markdown_it import MarkdownIt

from torquewright import check
from torquewright.book.tables import table, table_names
from torquewright.book.texts import CONSEQUENCES, RuleText, all_rules, rule_ids
from torquewright.report.rulebook import first_pair

sys.path.insert(0, str(Path(__file__).parent.parent / "tools"))

import build_book
from book_pages import Grid, Link, Page, Pair, Paragraph, as_html, as_markdown, beside

RULES = all_rules(cases=True)
PAGES = {page.name: page for page in build_book.pages()}
_VOID = {"meta"}


class Seen(HTMLParser):
    """The words, the links and the tags of a page; it complains of tags that do not close in order."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.words: list[str] = []
        self.links: list[str] = []
        self.open: list[str] = []
        self.tags: set[str] = set()
        self.feed(page)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        if tag not in _VOID:
            self.open.append(tag)
        self.links += [value or "" for name, value in attrs if name in ("href", "src")]

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if not {"style", "title"} & set(self.open):
            self.words.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.words).split())


def rendered(markdown: str) -> Seen:
    return Seen(MarkdownIt("commonmark").enable("table").render(markdown))


def squeezed(text: str) -> str:
    """Text without white space: where words are broken up by links the two forms break them differently."""
    return "".join(text.split())


def test_every_rule_has_a_page_and_the_index_and_the_sources_link_to_it() -> None:
    assert set(PAGES) == {"index", "sources"} | {f"rules/{rule}" for rule in rule_ids()}
    for name in ("index", "sources"):
        links = Seen(as_html(PAGES[name])).links
        assert {f"rules/{rule}.html" for rule in rule_ids()} <= set(links), name
    linked = [link for link in Seen(as_html(PAGES["index"])).links if link.startswith("rules/")]
    assert len(linked) == len(set(linked)) == len(RULES)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_a_page_states_everything_its_file_does(rule: RuleText) -> None:
    page = PAGES[f"rules/{rule.id}"]
    assert page.title == rule.title
    for seen in (Seen(as_html(page)), rendered(as_markdown(page))):
        text = squeezed(seen.text)
        stated = [rule.title, rule.reason, CONSEQUENCES[rule.consequence], rule.id, rule.family]
        for part in [*stated, *rule.clauses.values(), *rule.sources]:
            assert squeezed(part) in text, part
        for form in rule.say:
            for template in rule.wording(form).values():
                for words in re.split(r"\{[^{}]*\}", template):
                    assert squeezed(words) in text, (form, words)
    assert "{" not in "".join(map(str, _wordings(page)))


def _wordings(page: Page) -> list[object]:
    return [row for block in page.blocks if isinstance(block, Grid) for row in block.rows]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_a_page_shows_a_faulty_case_whole_beside_its_twin_and_what_a_check_says(rule: RuleText) -> None:
    pair = first_pair(rule)
    assert pair is not None
    faulty, twin = pair
    page = PAGES[f"rules/{rule.id}"]
    markdown = as_markdown(page)
    shown = markdown.split("~~~diff\n", 1)[1].split("~~~\n", 1)[0].splitlines()
    for held, other in ((faulty, "+"), (twin, "-")):
        own = [line[2:] for line in shown if line[:1] != other]
        assert own == [line.rstrip() for line in held.text.strip("\n").split("\n")]
    name = "case.toml" if faulty.form == "toml" else "case.md"
    told = [remark for remark in check(name, text=faulty.text).findings if remark.rule == rule.id]
    assert told
    for remark in told:
        assert squeezed(f"{remark.message}. ") in squeezed(rendered(markdown).text)


@pytest.mark.parametrize("page", PAGES.values(), ids=lambda page: page.name)
def test_every_link_leads_to_a_page_and_both_forms_say_the_same(page: Page) -> None:
    html, markdown = Seen(as_html(page)), rendered(as_markdown(page))
    folder = PurePosixPath(page.name).parent
    for seen, suffix in ((html, ".html"), (markdown, ".md")):
        for link in seen.links:
            assert link.endswith(suffix)
            parts: list[str] = []
            for part in (folder / link.removesuffix(suffix)).parts:
                parts = parts[:-1] if part == ".." else [*parts, part]
            assert "/".join(parts) in PAGES, link
    assert not html.tags & {"script", "link", "img", "iframe"}
    # The example stands in two columns in one form and as a list of changes in the other.
    plain = page._replace(blocks=[block for block in page.blocks if not isinstance(block, Pair)])
    assert squeezed(Seen(as_html(plain)).text) == squeezed(rendered(as_markdown(plain)).text)


def test_the_sources_page_names_every_source_of_the_rules_and_of_the_tables() -> None:
    text = squeezed(Seen(as_html(PAGES["sources"])).text)
    for rule in RULES:
        for cited in rule.cited:
            assert squeezed(cited) in text
    for name in table_names():
        for source in table(name).sources.values():
            assert squeezed(str(source)) in text


def test_marks_of_markdown_and_html_in_a_text_are_only_letters() -> None:
    awkward = "N*m, <b>, a_b_c, [x](y), `z`, 5 & 6, a|b"
    page = Page("a/b", awkward, [Paragraph([awkward, Link("c*d*", "a/c")], "L*:"), Grid(["h"], [[awkward]])])
    for seen in (Seen(as_html(page)), rendered(as_markdown(page))):
        assert seen.text.count(awkward) == 3
        assert "c*d*" in seen.text
        assert {link.rpartition(".")[0] for link in seen.links} == {"c"}


def test_lines_that_were_exchanged_stand_beside_each_other() -> None:
    lines = [(" ", "a"), ("x", "b"), ("o", "c"), ("o", "d"), (" ", "e"), ("x", "f")]
    assert beside(lines) == [("a", "a"), ("b", "c"), (None, "d"), ("e", "e"), ("f", None)]


def test_the_tool_writes_every_page_twice(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert build_book.main([str(tmp_path)]) == 0
    assert capsys.readouterr().out.startswith(f"{len(PAGES)} pages in ")
    written = {path.relative_to(tmp_path).as_posix() for path in tmp_path.rglob("*.*")}
    assert written == {f"{name}{suffix}" for name in PAGES for suffix in (".md", ".html")}
    assert (tmp_path / "index.md").read_text(encoding="utf-8") == as_markdown(PAGES["index"])
    assert build_book.main([]) == 2
