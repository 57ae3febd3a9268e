"""A draft in plain text: numbered lines are steps, lines in capitals are headings, signal words open warnings."""

from __future__ import annotations

import re

from torquewright.pages.blocks import PARTS, TOOLS, Blocks, Item, Notice, Span, signal_of

_NUMBER = re.compile(
    r"\s*(?:(?:step|op\.?)\s*#?\s*)?\(?([A-Z]?\d{1,4}(?:\.\d{1,3})*[a-z]?)"
    r"(?:[.):]|\s*[-–—](?=\s)|(?=\s{2,}|\t)|(?<=step \d|tep \d\d)(?=\s))\s*(?=\S)",
    re.IGNORECASE,
)
_DEEP = re.compile(r"\s*(\d{1,3}(?:\.\d{1,3})+)\s+(?=[A-Z][\w'’\-]*[ ,:])")
_HEADING = re.compile(r"(?:[A-Z][.):] +\w|(?:Section|Part|Phase) (?:[A-Z]|\d{1,2})\b)[^.;]{2,60}$")
_LETTER = re.compile(r"\s{2,}\(?([a-z])[.)]\s+(?=\S)")
_BULLET = re.compile(r"\s*[-*•]\s+(?=\S)")


def read_plain(blocks: Blocks, body: int) -> None:
    """Fill ``blocks`` from the text behind ``body``, line by line."""
    text = blocks.document.text
    section = ""
    step: Item | None = None
    open_notice = -1
    listing: list[Span] | None = None
    pieces: list[str] = [text[:body]]
    at = body
    blank_before = True
    previous_indent = 0
    while at < len(text):
        stop = text.find("\n", at)
        stop = len(text) if stop < 0 else stop
        line = text[at:stop]
        pieces.append(line)
        pieces.append(text[stop : stop + 1])
        stripped = line.strip()
        start = at + len(line) - len(line.lstrip())
        end = at + len(line.rstrip())
        at = stop + 1
        if not stripped:
            blank_before = True
            open_notice = -1
            listing = None
            continue
        indent = len(line) - len(line.lstrip())
        signal = signal_of(line)
        numbered = _NUMBER.match(line) or _DEEP.match(line)
        lettered = _LETTER.match(line) if step is not None else None
        if signal:
            inside = (step is not None and indent > previous_indent and not blank_before) or (
                step is not None and indent >= 2
            )
            blocks.notices.append(
                Notice(signal, start, end, len(blocks.steps) - 1 if inside else len(blocks.steps), not inside)
            )
            open_notice = len(blocks.notices) - 1
        elif numbered is not None:
            step = Item(numbered.group(1), section, start, end)
            step.stretches.append(Span(start - indent + numbered.end(), end))
            blocks.steps.append(step)
            previous_indent, open_notice, listing = indent, -1, None
        elif lettered is not None and step is not None:
            parent = step.label.rstrip("abcdefghijklmnopqrstuvwxyz")
            step = Item(f"{parent}{lettered.group(1)}", section, start, end, 1)
            step.stretches.append(Span(start - indent + lettered.end(), end))
            blocks.steps.append(step)
            open_notice = -1
        elif open_notice >= 0:
            held = blocks.notices[open_notice]
            blocks.notices[open_notice] = held._replace(end=end)
        elif listing is not None and not blank_before:
            listing.append(Span(start, end))
        elif step is not None and not blank_before and (indent or step.stretches):
            last = step.stretches[-1]
            step.stretches[-1] = Span(last.start, end)
            step.end = end
        elif not blocks.title and not blocks.steps and len(stripped) < 100 and not stripped.endswith((".", ":", ";")):
            blocks.title, blocks.title_span = stripped, Span(start, end)
        elif not blocks.steps and TOOLS.match(line):
            listing = blocks.tools
            listing.append(Span(start, end))
        elif not blocks.steps and PARTS.match(line):
            listing = blocks.parts
            listing.append(Span(start, end))
        elif blank_before and _heads(stripped):
            section = stripped.rstrip(":").strip("= -")
            step = None
            low = section.lower()
            listing = blocks.tools if "tool" in low or "equipment" in low else blocks.parts if "parts" in low else None
        elif set(stripped) <= set("=-_*~ "):
            pass
        elif step is not None and indent and blank_before:
            step.stretches.append(Span(start, end))
            step.end = end
        else:
            bullet = _BULLET.match(line)
            first = start - indent + bullet.end() if bullet else start
            if blocks.notes and not blank_before and not bullet:
                span, count = blocks.notes[-1]
                blocks.notes[-1] = (Span(span.start, end), count)
            else:
                blocks.notes.append((Span(first, end), len(blocks.steps)))
            step = None
        blank_before = False
    blocks.shadow = "".join(pieces).replace("\n", " ")
    if not blocks.steps and blocks.notes:
        for number, (span, _) in enumerate(blocks.notes):
            item = Item(str(number + 1), "", *span)
            item.stretches.append(span)
            blocks.steps.append(item)
        blocks.notes = []
        blocks.notices = [
            notice._replace(step=sum(1 for item in blocks.steps if item.start < notice.start), before=True)
            for notice in blocks.notices
        ]


def _heads(line: str) -> bool:
    """Whether a line by itself is a heading: in capitals, or short and ending in a colon."""
    letters = [sign for sign in line if sign.isalpha()]
    if not letters or len(line) > 70:
        return False
    return (
        all(sign.isupper() for sign in letters)
        or (line.endswith(":") and len(line.split()) <= 5)
        or _HEADING.match(line) is not None
    )
