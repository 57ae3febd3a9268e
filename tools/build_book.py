"""Write the rule book as pages to read: one a rule, an index by family, and a table of sources.

Run in the project's environment: ``python tools/build_book.py FOLDER``. Each page is written as Markdown and as
self-contained HTML. Everything on a page comes from the rule's file under ``specs/rules``, from the reference tables
and from a check of the faulty case; nothing is written by hand, so the pages are not kept in the checkout.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from book_pages import Block, Grid, Heading, Link, Listing, Page, Pair, Paragraph, Words, as_html, as_markdown
from torquewright import check
from torquewright.book.tables import table, table_names
from torquewright.book.texts import CONSEQUENCES, Case, RuleText, all_rules
from torquewright.report.rulebook import first_pair, marked_lines

INDEX, SOURCES = "index", "sources"
_NAMES = {"toml": "case.toml", "markdown": "case.md"}
_CERTAIN = {
    "certain": "The text says so itself.",
    "likely": "Worked out; the figures are shown.",
    "unstated": "Something is not stated, and nothing was guessed.",
}


def rule_page(rule: RuleText) -> Page:
    """Everything the file of a rule states, and what a check of its first faulty case says."""
    blocks: list[Block] = [
        Paragraph(CONSEQUENCES[rule.consequence], "What comes of it:"),
        Paragraph(rule.reason),
        Heading("What is asked"),
        Listing(list(rule.clauses.values())),
    ]
    pair = first_pair(rule)
    if pair is not None:
        blocks += _example(rule, *pair)
    blocks += [
        Heading("How it is told"),
        Paragraph("Words in ‹ › are filled in from the procedure."),
        Grid(["What is wrong", "Because", "Instead"], [_wording(rule, form) for form in rule.say]),
        Heading("Where it comes from"),
        Listing([[Link(cited, SOURCES), _note(rule, at)] for at, cited in enumerate(rule.cited)]),
        Paragraph([
            f"Family {rule.family}, in the book since edition {rule.since}. Its name in reports is {rule.id}; "
            f"{len(rule.cases)} cases prove it. ", Link("All rules", INDEX), ".",
        ]),
    ]  # fmt: skip
    return Page(page_of(rule.id), rule.title, blocks)


def page_of(rule: str) -> str:
    return f"rules/{rule}"


def _note(rule: RuleText, at: int) -> str:
    return rule.sources[at].removeprefix(rule.cited[at])


def _wording(rule: RuleText, form: str) -> list[Words]:
    words = rule.wording(form)
    return [_holes(words.get(part, "")) for part in ("fault", "because", "instead")]


def _holes(template: str) -> str:
    """``{count|washer|washers}`` as ‹washer or washers›, ``{joint}`` as ‹joint›."""
    shown = re.sub(r"\{[a-z_0-9]+\|([^|{}]*)\|([^|{}]*)\}", r"‹\1 or \2›", template)
    return re.sub(r"\{([a-z_0-9]+)\}", lambda held: f"‹{held[1].replace('_', ' ')}›", shown)


def _example(rule: RuleText, faulty: Case, twin: Case) -> Iterator[Block]:
    yield Heading("A faulty procedure beside its sound twin")
    yield Pair(list(marked_lines(faulty.text, twin.text)))
    for remark in check(_NAMES[faulty.form], text=faulty.text).findings:
        if remark.rule == rule.id:
            where = f"Step {remark.step}" if remark.step else "The procedure as a whole"
            told = [f"{remark.message}. ", f"{remark.because} " if remark.because else "", remark.instead]
            yield Paragraph([*told, f" ({_CERTAIN[remark.certainty]})"], f"{where}:")


def index_page(rules: Sequence[RuleText]) -> Page:
    """All rules by family, with what each leads to."""
    blocks: list[Block] = [
        Paragraph([f"{len(rules)} rules, by family. Where they come from: ", Link("sources", SOURCES), "."])
    ]
    for family in sorted({rule.family for rule in rules}):
        held = [rule for rule in rules if rule.family == family]
        rows: list[list[Words]] = [[[Link(rule.title, page_of(rule.id))], rule.consequence, rule.id] for rule in held]
        blocks += [Heading(family), Grid(["Fault", "Leads to", "Name"], rows)]
    return Page(INDEX, "The rule book", blocks)


def sources_page(rules: Sequence[RuleText]) -> Page:
    """Every source with the rules that cite it, then the sources of the reference tables."""
    citing: dict[str, list[str]] = {}
    for rule in rules:
        for cited in dict.fromkeys(rule.cited):
            citing.setdefault(cited, []).append(rule.id)
    rows: list[list[Words]] = [[cited, _links(names)] for cited, names in sorted(citing.items(), key=_by_name)]
    tables: dict[str, list[str]] = {}
    for name in table_names():
        for source in table(name).sources.values():
            tables.setdefault(str(source), []).append(table(name).title)
    figures: list[list[Words]] = [
        [source, "; ".join(dict.fromkeys(titles))] for source, titles in sorted(tables.items(), key=_by_name)
    ]
    blocks = [
        Paragraph(["What the rules rest on. ", Link("All rules", INDEX), "."]),
        Heading("Sources of the rules"),
        Grid(["Source", "Cited by"], rows),
        Heading("Sources of the figures"),
        Grid(["Source", "Tables"], figures),
    ]
    return Page(SOURCES, "Sources", blocks)


def _by_name(held: tuple[str, list[str]]) -> str:
    return held[0].casefold()


def _links(names: Iterable[str]) -> list[str | Link]:
    shown: list[str | Link] = []
    for name in names:
        shown += [", "] if shown else []
        shown.append(Link(name, page_of(name)))
    return shown


def pages() -> list[Page]:
    """The whole book."""
    rules = all_rules(cases=True)
    return [index_page(rules), sources_page(rules), *map(rule_page, rules)]


def main(words: Sequence[str]) -> int:
    """Write the pages below the folder named; 2 when none is named."""
    if len(words) != 1:
        print("usage: build_book.py FOLDER", file=sys.stderr)
        return 2
    book = pages()
    for page in book:
        for suffix, written in ((".md", as_markdown(page)), (".html", as_html(page))):
            path = Path(words[0], page.name + suffix)
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(written, encoding="utf-8")
    print(f"{len(book)} pages in {words[0]}: start with {Path(words[0], INDEX + '.html')}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
