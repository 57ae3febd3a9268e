"""A quiz on paper: the questions, and the key apart from them, as Markdown and as plain data."""

from __future__ import annotations

from typing import Any

from torquewright.quiz.items import LETTERS, Item
from torquewright.records import Catalogue, Fastener, Tool
from torquewright.verdict import CAUTION

FORMAT = "torquewright-quiz"
VERSION = 1


def paper(title: str, items: list[Item], catalogue: Catalogue) -> str:
    """The questions, with the records they are judged by. Markdown; no answers."""
    lines = [f"# {title}: find the fault", ""]
    if catalogue.source is not None:
        lines += [f"Records: {catalogue.machine}. {_stop(catalogue.source.text)}", ""]
    lines += ["Every job below is the same job with exactly one thing wrong. Tick one answer.", ""]
    lines += _records(catalogue)
    for item in items:
        lines += [f"## Question {item.number}", ""]
        kit = _kit(item.catalogue)
        if kit:
            lines += [kit, ""]
        lines += [f"{label}. {sentence}" for label, sentence in item.steps]
        lines += ["", f"**{item.ask}**", ""]
        lines += [f"- [ ] **{LETTERS[at]}** {choice.text}" for at, choice in enumerate(item.choices)]
        lines.append("")
    lines += [CAUTION, ""]
    return "\n".join(lines)


def key(title: str, items: list[Item]) -> str:
    """The answers with the reason, what happens otherwise, the cure and the sources. Markdown."""
    lines = [f"# {title}: key", ""]
    for item in items:
        remark = item.remark
        right = next(choice.text for choice in item.choices if choice.right)
        lines += [f"## Question {item.number}: {item.key}", "", right, ""]
        lines += [f"- Leads to: {remark.consequence}. {remark.harm}"]
        if remark.because:
            lines.append(f"- Because: {remark.because}")
        if remark.instead:
            lines.append(f"- Instead: {remark.instead}")
        lines.append(f"- Changed: {_stop(item.changed)}")
        lines.append(f"- Rule: {remark.rule}. Source: {'; '.join(remark.sources)}")
        lines.append("")
    return "\n".join(lines)


def plain(title: str, items: list[Item], seed: int) -> dict[str, Any]:
    """The quiz as plain data, for ``--format json``."""
    return {
        "format": FORMAT,
        "version": VERSION,
        "title": title,
        "seed": seed,
        "items": [
            {
                "number": item.number,
                "kind": "spot the fault",
                "ask": item.ask,
                "steps": [{"label": label, "text": text} for label, text in item.steps],
                "choices": [
                    {"letter": LETTERS[at], "text": choice.text, "rule": choice.claim[0]}
                    for at, choice in enumerate(item.choices)
                ],
                "key": item.key,
                "rule": item.remark.rule,
                "step": item.remark.step,
                "joint": item.remark.joint,
                "consequence": item.remark.consequence,
                "certainty": item.remark.certainty,
                "because": item.remark.because,
                "instead": item.remark.instead,
                "changed": item.changed,
                "sources": list(item.remark.sources),
            }
            for item in items
        ],
        "caution": CAUTION,
    }


def _records(catalogue: Catalogue) -> list[str]:
    lines = ["| Part | Count | Size | Tightening | Drive | Goes back |", "| --- | --- | --- | --- | --- | --- |"]
    for held in catalogue.fasteners:
        cells = (
            held.name,
            str(held.count or "not stated"),
            " ".join(word for word in (held.thread.text if held.thread else "", held.property_class) if word),
            held.tightening.text if held.tightening else "not stated",
            " ".join(word for word in (held.drive.kind, held.drive.size) if word) if held.drive else "",
            _goes_back(held),
        )
        lines.append("| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |")
    for seal in catalogue.seals:
        back = "new every time" if seal.one_time_use else "may go back" if seal.one_time_use is False else "not stated"
        wetted = f"; goes in {seal.lubricant}" if seal.lubricant == "dry" else ""
        wetted = f"; wetted with {seal.lubricant}" if seal.lubricant and not wetted else wetted
        lines.append(f"| {seal.name} | {seal.count or 1} |  |  |  | {back}{wetted} |")
    lines.append("")
    if catalogue.tools:
        lines += ["Tools: " + "; ".join(_tool(tool) for tool in catalogue.tools) + ".", ""]
    return lines


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


def _tool(tool: Tool) -> str:
    if tool.low is None or tool.high is None or not tool.unit:
        return tool.name
    from torquewright.base.figures import show

    return f"{tool.name} ({show(tool.low, tool.unit, 0)} to {show(tool.high, tool.unit, 0)})"


def _kit(catalogue: Catalogue) -> str:
    if not catalogue.kit:
        return ""
    held = [f"{item.count} × {item.part}{f' of {item.of}' if item.of else ''}" for item in catalogue.kit]
    return "New parts laid out: " + ", ".join(held) + "."


def _stop(text: str) -> str:
    return text if text.endswith((".", "!", "?")) else text + "."
