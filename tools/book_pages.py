"""The pages of the rule book as blocks, and the two forms they are written in: Markdown and self-contained HTML.

A page is a title and a list of blocks; text is a list of plain strings and links. Links name other pages without a
suffix (``rules/kit-short``), so that both forms link within themselves.
"""

from __future__ import annotations

import posixpath
from collections.abc import Sequence
from html import escape
from typing import NamedTuple


class Link(NamedTuple):
    """A link to another page of the book, by its name."""

    text: str
    page: str


Words = str | Sequence[str | Link]


class Heading(NamedTuple):
    """A heading below the page's title."""

    text: str


class Paragraph(NamedTuple):
    """A paragraph, or with ``label`` one that opens with a word in bold."""

    words: Words
    label: str = ""


class Listing(NamedTuple):
    """A list of short texts."""

    items: Sequence[Words]


class Grid(NamedTuple):
    """A table."""

    head: Sequence[str]
    rows: Sequence[Sequence[Words]]


class Pair(NamedTuple):
    """A faulty text beside its sound twin: lines with the mark "x" (only faulty), "o" (only sound) or " " (both)."""

    lines: Sequence[tuple[str, str]]


Block = Heading | Paragraph | Listing | Grid | Pair


class Page(NamedTuple):
    """``name`` is the path without suffix, such as ``rules/kit-short``."""

    name: str
    title: str
    blocks: Sequence[Block]


_STYLE = """
body { font: 12pt/1.45 "Liberation Sans", Arial, sans-serif; color: #111; margin: 2em auto; max-width: 64em;
  padding: 0 1em }
h1 { font-size: 1.5em; margin-bottom: .3em } h2 { font-size: 1.15em; margin: 1.6em 0 .4em }
table { border-collapse: collapse; width: 100% } th, td { text-align: left; vertical-align: top; padding: .3em .6em }
th { border-bottom: 1px solid #111 } td { border-bottom: 1px solid #ccc }
.pair td { width: 50%; height: 1.35em; border: 0; padding: 0 .6em; font: .8em/1.35 "Liberation Mono", monospace;
  white-space: pre-wrap; overflow-wrap: anywhere }
.pair .x { background: #fbe3e0 } .pair .o { background: #e0f2e3 }
"""


# ---- Markdown --------------------------------------------------------------------------------------------------


def as_markdown(page: Page) -> str:
    """The page as Markdown."""
    lines = [f"# {_md(page, page.title)}", ""]
    for block in page.blocks:
        lines += [*_md_block(page, block), ""]
    return "\n".join(lines).rstrip() + "\n"


def _md_block(page: Page, block: Block) -> list[str]:
    match block:
        case Heading():
            return [f"## {_md(page, block.text)}"]
        case Paragraph():
            return [(f"**{_md(page, block.label)}** " if block.label else "") + _md(page, block.words)]
        case Listing():
            return [f"- {_md(page, item)}" for item in block.items]
        case Grid():
            rows = [[_md(page, cell).replace("|", "\\|") for cell in row] for row in block.rows]
            return [_row(block.head), _row(["---"] * len(block.head)), *map(_row, rows)]
        case Pair():
            signs = {"x": "-", "o": "+"}
            return ["~~~diff", *(f"{signs.get(mark, ' ')} {line}".rstrip() for mark, line in block.lines), "~~~"]


def _row(cells: Sequence[str]) -> str:
    return f"| {' | '.join(cells)} |"


def _md(page: Page, words: Words) -> str:
    return "".join(
        f"[{_plain(part.text)}]({link_from(page.name, part.page)}.md)" if isinstance(part, Link) else _plain(part)
        for part in ([words] if isinstance(words, str) else words)
    )


def _plain(text: str) -> str:
    """Text whose marks mean nothing to Markdown."""
    for mark in "\\`*_[]<>":
        text = text.replace(mark, f"\\{mark}")
    return text


# ---- HTML ------------------------------------------------------------------------------------------------------


def as_html(page: Page) -> str:
    """The page as HTML with nothing fetched from elsewhere."""
    body = "\n".join(_html_block(page, block) for block in page.blocks)
    title = escape(page.title)
    return (
        f'<!DOCTYPE html>\n<html lang="en">\n<head><meta charset="utf-8"><title>{title}</title>'
        f"<style>{_STYLE}</style></head>\n<body>\n<h1>{title}</h1>\n{body}\n</body>\n</html>\n"
    )


def _html_block(page: Page, block: Block) -> str:
    match block:
        case Heading():
            return f"<h2>{escape(block.text)}</h2>"
        case Paragraph():
            label = f"<strong>{escape(block.label)}</strong> " if block.label else ""
            return f"<p>{label}{_html(page, block.words)}</p>"
        case Listing():
            return "<ul>" + "".join(f"<li>{_html(page, item)}</li>" for item in block.items) + "</ul>"
        case Grid():
            head = "".join(f"<th>{escape(cell)}</th>" for cell in block.head)
            rows = ("".join(f"<td>{_html(page, cell)}</td>" for cell in row) for row in block.rows)
            return f"<table><tr>{head}</tr>" + "".join(f"<tr>{row}</tr>" for row in rows) + "</table>"
        case Pair():
            rows = (
                f'<tr><td{_class("x", left, right)}>{escape(left or "")}</td>'
                f'<td{_class("o", right, left)}>{escape(right or "")}</td></tr>'
                for left, right in beside(block.lines)
            )
            return f'<table class="pair"><tr><th>Faulty</th><th>Sound</th></tr>{"".join(rows)}</table>'


def _class(mark: str, own: str | None, other: str | None) -> str:
    return "" if own is None or own == other else f' class="{mark}"'


def beside(lines: Sequence[tuple[str, str]]) -> list[tuple[str | None, str | None]]:
    """Marked lines as rows of two columns: a line of both stands in both, and a stretch of faulty lines beside the
    sound ones that take its place; None where one side has no line."""
    rows: list[tuple[str | None, str | None]] = []
    faulty: list[str] = []
    sound: list[str] = []

    def settle() -> None:
        for at in range(max(len(faulty), len(sound))):
            rows.append((faulty[at] if at < len(faulty) else None, sound[at] if at < len(sound) else None))
        faulty.clear()
        sound.clear()

    for mark, line in lines:
        if mark == "x":
            faulty.append(line)
        elif mark == "o":
            sound.append(line)
        else:
            settle()
            rows.append((line, line))
    settle()
    return rows


def _html(page: Page, words: Words) -> str:
    return "".join(
        f'<a href="{link_from(page.name, part.page)}.html">{escape(part.text)}</a>'
        if isinstance(part, Link) else escape(part)
        for part in ([words] if isinstance(words, str) else words)
    )  # fmt: skip


def link_from(page: str, target: str) -> str:
    """The way from one page to another."""
    return posixpath.relpath(target, posixpath.dirname(page) or ".")
