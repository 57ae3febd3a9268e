"""The job sheet: what to lay out, what to do in which order, and room to write down what was really tightened.

One self-contained HTML page for printing, or Markdown. A sheet is made for any verdict and says which one it was.
"""

from __future__ import annotations

import html
from typing import NamedTuple

from torquewright.base.figures import kept_together
from torquewright.reading.job import Job
from torquewright.reading.wording import kit_words, word_step
from torquewright.records import Action, Catalogue
from torquewright.verdict import CAUTION, Remark, Report

_TIGHTENS = frozenset({"tighten", "tighten_angle", "retighten"})

_STYLE = """
@page { margin: 15mm }
body { font: 11pt/1.35 "Liberation Sans", Arial, sans-serif; color: #111; margin: 2em auto; max-width: 48em }
h1 { font-size: 1.5em; margin: 0 0 .2em } h2 { font-size: 1.1em; margin: 1.4em 0 .4em; border-bottom: 1px solid #111 }
table { border-collapse: collapse; width: 100% } th, td { text-align: left; vertical-align: top; padding: .3em .5em }
th { border-bottom: 1px solid #111 } td { border-bottom: 1px solid #bbb } tr { break-inside: avoid }
.word { font-weight: bold; border: 2px solid #111; padding: .1em .5em; display: inline-block }
.box { width: 1.1em } .box i { display: inline-block; width: .9em; height: .9em; border: 1px solid #111 }
.write { min-width: 6em } .small { font-size: .85em }
.warn { border: 2px solid #111; padding: .5em .8em; margin: .8em 0 }
"""


class Line(NamedTuple):
    """One thing to tighten and to write down: step label, joint, how many, the demand, the tool."""

    step: str
    joint: str
    positions: str
    demand: str
    tool: str


def tightenings(job: Job) -> list[Line]:
    """What the procedure tightens, in the order it is done."""
    lines = []
    assert job.procedure is not None
    for step in job.procedure.steps:
        for action in step.actions:
            if action.verb in _TIGHTENS and action.mode in ("do", "stated_passively", "if"):
                lines.append(_line(step.label, action, job.catalogue))
    return lines


def _line(label: str, action: Action, catalogue: Catalogue) -> Line:
    record = catalogue.fastener(action.what)
    tool = catalogue.tool(action.tool) if action.tool else None
    count = action.count or (record.count if record else None)
    demand = action.to.text if action.to else "no value in the step"
    return Line(
        label, record.name if record else action.what, str(count) if count else "", demand,
        tool.name if tool else action.tool,
    )  # fmt: skip


def parts(catalogue: Catalogue) -> list[str]:
    """The new parts laid out, in words; empty when no kit was given."""
    return [kit_words(item, catalogue) for item in catalogue.kit or ()]


def _told(held: Remark) -> str:
    return f"{f'Step {held.step}: ' if held.step else ''}{held.message}. {held.instead}"


def escape(text: str) -> str:
    return html.escape(kept_together(text))


def as_html(job: Job, report: Report) -> str:
    """The sheet as one HTML page that needs no other file."""
    title = escape(report.title or report.file)
    verdict = report.verdict
    out = [
        "<!DOCTYPE html>",
        f'<html lang="en"><head><meta charset="utf-8"><title>{title}: job sheet</title>',
        f"<style>{_STYLE}</style></head><body>",
        f"<h1>{title}</h1>",
        f"<p>{escape(job.catalogue.machine)}</p>" if job.catalogue.machine else "",
        f'<p><span class="word">{escape(verdict.word.upper())}</span> {escape(", ".join(verdict.reasons))}</p>',
    ]
    if report.findings:
        items = "".join(f"<li>{escape(_told(held))}</li>" for held in report.findings)
        out.append(f'<div class="warn"><b>Settle this before you start:</b><ul>{items}</ul></div>')
    out.append("<table><tr><th>Date<td><th>Name<td><th>Machine no.<td></tr></table>")
    for heading, lines in (("Tools to lay out", _tools(job.catalogue)), ("New parts to lay out", parts(job.catalogue))):
        if lines:
            rows = "".join(f'<tr><td class="box"><i></i><td>{escape(line)}</tr>' for line in lines)
            out.append(f"<h2>{heading}</h2><table>{rows}</table>")
    out.append(f"<h2>Steps</h2><table>{_steps(job)}</table>")
    out.append(
        "<h2>As tightened</h2><table><tr><th>Step<th>Joint<th>Demand<th>Tool<th>Set to<th>Done by<th>2nd look</tr>"
    )
    for line in tightenings(job):
        joint = f"{line.positions} × {line.joint}" if line.positions else line.joint
        out.append(
            f"<tr><td>{escape(line.step)}<td>{escape(joint)}<td>{escape(line.demand)}<td>{escape(line.tool)}"
            '<td class="write"><td class="write"><td class="write"></tr>'
        )
    out.append(f'</table><p class="small">{escape(CAUTION)}</p></body></html>')
    return "\n".join(line for line in out if line) + "\n"


def _steps(job: Job) -> str:
    assert job.procedure is not None
    rows = []
    section = ""
    for index, step in enumerate(job.procedure.steps):
        if step.section and step.section != section:
            section = step.section
            rows.append(f'<tr><th colspan="3">{escape(section)}</tr>')
        for message in job.procedure.messages:
            if message.step == index:
                rows.append(f'<tr><td colspan="3"><b>{escape(message.signal)}:</b> {escape(message.text)}</tr>')
        sentence = escape(word_step(step, job.catalogue))
        rows.append(f'<tr><td class="box"><i></i><td>{escape(step.label)}<td>{sentence}</tr>')
    return "".join(rows)


def _tools(catalogue: Catalogue) -> list[str]:
    return [tool.name for tool in catalogue.tools or ()]


def as_markdown(job: Job, report: Report) -> str:
    """The sheet as Markdown, for a screen or a wiki."""
    assert job.procedure is not None
    verdict = report.verdict
    reasons = f" ({', '.join(verdict.reasons)})" if verdict.reasons else ""
    out = [f"# {report.title or report.file}: job sheet", "", f"**{verdict.word.upper()}**{reasons}", ""]
    for held in report.findings:
        out.append(f"- Settle first: {_told(held)}")
    if report.findings:
        out.append("")
    for heading, lines in (("Tools to lay out", _tools(job.catalogue)), ("New parts to lay out", parts(job.catalogue))):
        if lines:
            out += [f"## {heading}", "", *(f"- [ ] {line}" for line in lines), ""]
    out += ["## Steps", ""]
    out += [f"- [ ] {step.label}. {word_step(step, job.catalogue)}" for step in job.procedure.steps]
    out += ["", "## As tightened", "", "| Step | Joint | Demand | Tool | Set to | Done by | Second look |"]
    out.append("| --- | --- | --- | --- | --- | --- | --- |")
    for line in tightenings(job):
        joint = f"{line.positions} × {line.joint}" if line.positions else line.joint
        out.append(f"| {line.step} | {joint} | {line.demand} | {line.tool} |  |  |  |")
    return "\n".join([*out, "", CAUTION, ""])
