"""A quiz on paper: the questions, and the key apart from them, as Markdown, as plain data and as a table."""

from __future__ import annotations

from typing import Any

from torquewright.base.figures import neat, show
from torquewright.quiz.items import KINDS, LETTERS, Item
from torquewright.records import Catalogue, Fastener, Tool
from torquewright.verdict import CAUTION

FORMAT = "torquewright-quiz"
VERSION = 1

_COLUMNS = ("number", "id", "kind", "question", "answers", "key", "rule", "consequence", "difficulty", "feedback")

HOW = {
    "spot": "Tick one answer.",
    "all": "Tick every answer that is right; a wrong tick costs as much as a right one brings.",
    "order": "Write the letters in the right order.",
    "number": "Write the figure, with a point for the decimals.",
    "tool": "Tick one answer.",
}


def paper(title: str, items: list[Item], catalogue: Catalogue) -> str:
    """The questions, with the records they are judged by. Markdown; no answers."""
    lines = [f"# {title}: questions", "", *head_lines(catalogue)]
    lines += records_table(catalogue)
    for number, item in enumerate(items, 1):
        lines += [f"## Question {number}", ""]
        for lead in item.lead:
            lines += [lead, ""]
        if item.steps:
            lines += [*(f"{label}. {sentence}" for label, sentence in item.steps), ""]
        lines += [f"**{item.ask}** {HOW[item.kind]}", ""]
        if item.figure is not None:
            lines.append(f"Answer: \\_\\_\\_\\_\\_\\_\\_\\_ {item.figure.unit}")
        elif item.order:
            lines += [f"- **{LETTERS[at]}** {choice.text}" for at, choice in enumerate(item.choices)]
            lines += ["", "Order: " + " ".join("\\_\\_\\_" for _ in item.order)]
        else:
            lines += [f"- [ ] **{LETTERS[at]}** {choice.text}" for at, choice in enumerate(item.choices)]
        lines.append("")
    lines += [CAUTION, ""]
    return "\n".join(lines)


def key(title: str, items: list[Item]) -> str:
    """The answers with the reason, what happens otherwise, the cure and the sources. Markdown."""
    lines = [f"# {title}: key", ""]
    for number, item in enumerate(items, 1):
        lines += [f"## Question {number}: {item.key}", ""]
        lines += [f"- {line}" for line in feedback(item)]
        lines.append("")
    return "\n".join(lines)


def feedback(item: Item) -> list[str]:
    """What to tell after the answer: each answer's reason, what it leads to, the cure, the rule and its sources."""
    lines = []
    if item.figure is not None:
        lines.append(f"Right within ± {neat(item.figure.tolerance, 2)} {item.figure.unit}.")
    elif item.order:
        lines += [f"{LETTERS[at]} {item.choices[at].reason[3:-1]}: {item.choices[at].text}" for at in item.order]
    else:
        for at, choice in enumerate(item.choices):
            text = choice.text if choice.text.endswith(".") else f"{choice.text}."
            lines.append(f"{LETTERS[at]} {'right' if choice.right else 'wrong'}: {text} {choice.reason}".strip())
    told = "" if item.kind in ("spot", "all") else f" {item.because}"  # else it stands beside the right answer
    leads = dict.fromkeys(held.consequence for held in item.remarks) or [item.consequence]
    lines.append(f"Leads to: {', '.join(leads)}.{told}".rstrip())
    if item.instead:
        lines.append(f"Instead: {item.instead}")
    lines.append(f"Item: {item.id}; {item.changed}.")
    rules = dict.fromkeys(held.rule for held in item.remarks) or [item.rule]
    lines.append(f"{'Rule' if len(rules) == 1 else 'Rules'}: {', '.join(rules)}. Source: {'; '.join(item.sources)}")
    return lines


def plain(title: str, items: list[Item], seed: int) -> dict[str, Any]:
    """The quiz as plain data, for ``--format json``."""
    return {
        "format": FORMAT,
        "version": VERSION,
        "title": title,
        "seed": seed,
        "items": [_plain(number, item) for number, item in enumerate(items, 1)],
        "caution": CAUTION,
    }


def _plain(number: int, item: Item) -> dict[str, Any]:
    figure = item.figure
    return {
        "number": number,
        "id": item.id,
        "kind": item.kind,
        "asks": KINDS[item.kind],
        "ask": item.ask,
        "lead": list(item.lead),
        "steps": [{"label": label, "text": text} for label, text in item.steps],
        "choices": [
            {"letter": LETTERS[at], "text": choice.text, "right": choice.right, "reason": choice.reason,
             "rule": choice.claim[0]}
            for at, choice in enumerate(item.choices)
        ],
        "order": [LETTERS[at] for at in item.order],
        "figure": None if figure is None else figure._asdict(),
        "key": item.key,
        "rule": item.rule,
        "step": item.remarks[0].step if item.remarks and item.kind in ("spot", "all") else "",
        "consequence": item.consequence,
        "because": item.because,
        "instead": item.instead,
        "changed": item.changed,
        "difficulty": item.difficulty,
        "sources": list(item.sources),
    }  # fmt: skip


def table(items: list[Item]) -> str:
    """The quiz as comma-separated values: one row an item, its answers in columns of their own."""
    from csv import writer
    from io import StringIO

    out = StringIO()
    rows = writer(out, lineterminator="\n")
    rows.writerow(_COLUMNS)
    for number, item in enumerate(items, 1):
        steps = "\n".join(f"{label}. {text}" for label, text in item.steps)
        question = "\n".join(part for part in (*item.lead, steps, item.ask) if part)
        answers = "\n".join(f"{LETTERS[at]} {choice.text}" for at, choice in enumerate(item.choices))
        row = (number, item.id, item.kind, question, answers, item.key, item.rule, item.consequence, item.difficulty)
        rows.writerow((*(_tame(cell) for cell in row), _tame("\n".join(feedback(item)))))
    return out.getvalue()


def _tame(cell: object) -> object:
    """A text that a spreadsheet would take for a formula is kept from being one."""
    return f"'{cell}" if isinstance(cell, str) and cell[:1] in "=+-@\t" else cell


def head_lines(catalogue: Catalogue) -> list[str]:
    """What is said ahead of all questions."""
    lines = []
    if catalogue.source is not None:
        source = catalogue.source.text.rstrip(".")
        lines += [f"Records: {catalogue.machine}. {source[:1].upper()}{source[1:]}.", ""]
    lines += ["Judge each job by the records below and by nothing else.", ""]
    return lines


def records_table(catalogue: Catalogue) -> list[str]:
    """The records as a Markdown table, and the tools in a line."""
    lines = ["| Part | Count | Size | Tightening | Drive | Goes back |", "| --- | --- | --- | --- | --- | --- |"]
    lines += ["| " + " | ".join(cell.replace("|", "/") for cell in row) + " |" for row in records(catalogue)]
    lines.append("")
    if catalogue.tools:
        lines += ["Tools: " + "; ".join(tool_words(tool) for tool in catalogue.tools) + ".", ""]
    return lines


def records(catalogue: Catalogue) -> list[tuple[str, ...]]:
    """The records in six columns: part, count, size and class, tightening, drive, what goes back."""
    rows: list[tuple[str, ...]] = []
    for held in catalogue.fasteners:
        rows.append((
            held.name,
            str(held.count or "not stated"),
            " ".join(word for word in (held.thread.text if held.thread else "", held.property_class) if word),
            held.tightening.text if held.tightening else "not stated",
            " ".join(word for word in (held.drive.kind, held.drive.size) if word) if held.drive else "",
            _goes_back(held),
        ))  # fmt: skip
    for seal in catalogue.seals:
        back = "new every time" if seal.one_time_use else "may go back" if seal.one_time_use is False else "not stated"
        if seal.lubricant:
            back += "; goes in dry" if seal.lubricant == "dry" else f"; wetted with {seal.lubricant}"
        rows.append((seal.name, str(seal.count or 1), "", "", "", back))
    return rows


def _goes_back(held: Fastener) -> str:
    single = held.single_use
    words = ["never, new every time" if single else "not stated" if single is None else "yes"]
    if held.reuse == "after measuring":
        words = ["after measuring"]
    if held.washer is not None and held.washer.count:
        fresh = "new " if held.washer.one_time_use else ""
        words.append(f"{held.washer.count} {fresh}{held.washer.kind} washer{'s' if held.washer.count > 1 else ''} each")
    if held.lock is not None:
        words.append(f"{'new ' if held.lock.one_time_use else ''}{held.lock.kind}")
    if held.part_limit is not None:
        words.append(f"the part takes {held.part_limit.text}")
    if held.hand_start:
        words.append("start by hand")
    return "; ".join(words)


def tool_words(tool: Tool) -> str:
    """A tool by name, with its scale where it has one."""
    if tool.low is None or tool.high is None or not tool.unit:
        return tool.name
    return f"{tool.name} ({show(tool.low, tool.unit, tool.half)} to {show(tool.high, tool.unit, tool.half)})"
