"""A quiz as printable pages: one for the questions, one for the key. Self-contained, black on white, no script."""

from __future__ import annotations

import html

from torquewright.base.figures import kept_together
from torquewright.quiz.items import LETTERS, Item
from torquewright.quiz.paper import HOW, feedback, head_lines, records, tool_words
from torquewright.records import Catalogue
from torquewright.verdict import CAUTION

_STYLE = """
@page { margin: 15mm }
body { font: 11pt/1.4 "Liberation Serif", Georgia, serif; color: #111; margin: 2em auto; max-width: 46em }
h1 { font-size: 1.5em } h2 { font-size: 1.1em; margin: 1.6em 0 .4em; break-after: avoid }
table { border-collapse: collapse; width: 100%; font-size: .85em }
th, td { text-align: left; vertical-align: top; padding: .25em .5em; border-bottom: 1px solid #bbb }
td:nth-child(3), td:nth-child(5) { white-space: nowrap }
ol.job { list-style: none; padding: 0; margin: .5em 0 } ol.job li { display: flex; break-inside: avoid }
ol.job b { flex: 0 0 2.4em }
ul.answers { list-style: none; padding: 0; break-inside: avoid } ul.answers li { margin: .35em 0 }
ul.answers i { display: inline-block; width: .8em; height: .8em; border: 1px solid #111; margin-right: .5em }
.ask { font-weight: bold; break-after: avoid }
.rule { display: inline-block; border-bottom: 1px solid #111; width: 8em }
.small { font-size: .85em } section { break-inside: auto }
"""


def paper_page(title: str, items: list[Item], catalogue: Catalogue) -> str:
    """The questions as one HTML page; no answers."""
    out = [_head(f"{title}: questions")]
    out += [f"<p>{escape(line)}</p>" for line in head_lines(catalogue) if line]
    heads = "".join(f"<th>{name}" for name in ("Part", "Count", "Size", "Tightening", "Drive", "Goes back"))
    rows = "".join(f"<tr>{''.join(f'<td>{escape(cell)}' for cell in row)}</tr>" for row in records(catalogue))
    out.append(f"<table><tr>{heads}</tr>{rows}</table>")
    if catalogue.tools:
        out.append(f"<p>Tools: {escape('; '.join(tool_words(tool) for tool in catalogue.tools))}.</p>")
    out += [_question(number, item) for number, item in enumerate(items, 1)]
    out.append(f'<p class="small">{escape(CAUTION)}</p></body></html>')
    return "\n".join(out) + "\n"


def key_page(title: str, items: list[Item]) -> str:
    """The key as one HTML page."""
    out = [_head(f"{title}: key")]
    for number, item in enumerate(items, 1):
        lines = "".join(f"<li>{escape(line)}</li>" for line in feedback(item))
        out.append(f"<section><h2>Question {number}: {escape(item.key)}</h2><ul>{lines}</ul></section>")
    out.append("</body></html>")
    return "\n".join(out) + "\n"


def escape(text: str) -> str:
    return html.escape(kept_together(text))


def _head(title: str) -> str:
    told = escape(title)
    return (
        f'<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><title>{told}</title>'
        f"<style>{_STYLE}</style></head><body>\n<h1>{told}</h1>"
    )


def _question(number: int, item: Item) -> str:
    out = [f"<section><h2>Question {number}</h2>", *(f"<p>{escape(line)}</p>" for line in item.lead)]
    if item.steps:
        steps = "".join(f"<li><b>{escape(label)}</b> {escape(text)}</li>" for label, text in item.steps)
        out.append(f'<ol class="job">{steps}</ol>')
    out.append(f'<p class="ask">{escape(item.ask)} <span class="small">{escape(HOW[item.kind])}</span></p>')
    if item.figure is not None:
        out.append(f'<p><span class="rule">&nbsp;</span> {escape(item.figure.unit)}</p>')
    else:
        box = "" if item.order else "<i></i>"
        answers = "".join(
            f"<li>{box}<b>{LETTERS[at]}</b> {escape(choice.text)}</li>" for at, choice in enumerate(item.choices)
        )
        out.append(f'<ul class="answers">{answers}</ul>')
        if item.order:
            out.append('<p>Order: <span class="rule">&nbsp;</span></p>')
    return "".join((*out, "</section>"))
