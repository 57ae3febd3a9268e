"""The blocks of a draft: title, records ahead, tables, tools lists, numbered steps, notes and warnings.

Markdown is parsed by markdown-it-py, plain text line by line. Everything keeps its offsets in the document:
``Blocks.shadow`` is the text with its markup blanked, as long as the document itself.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING, Any, NamedTuple

from torquewright.base.document import Document
from torquewright.reading.markup import blanked
from torquewright.reading.vocabulary import vocabulary

if TYPE_CHECKING:
    from markdown_it.token import Token


class Span(NamedTuple):
    """A stretch of the document, end excluded."""

    start: int
    end: int


class Cell(NamedTuple):
    """One cell of a table: its text without markup, and where it stands."""

    text: str
    start: int
    end: int


class Table(NamedTuple):
    """A table: its heading cells and its rows."""

    heads: list[Cell]
    rows: list[list[Cell]]
    section: str


class Notice(NamedTuple):
    """A warning, caution or note: its signal word as written, its span, the index of the step it stands in or ahead
    of (the number of steps so far where it stands behind all), and whether it stands ahead of the step's text."""

    signal: str
    start: int
    end: int
    step: int
    before: bool


class Item:
    """One numbered step: its label, section, span, and the stretches of text that are its own."""

    __slots__ = ("depth", "end", "figures", "label", "section", "start", "stretches")

    def __init__(self, label: str, section: str, start: int, end: int, depth: int = 0) -> None:
        self.label = label
        self.section = section
        self.start = start
        self.end = end
        self.depth = depth
        self.stretches: list[Span] = []
        self.figures: list[tuple[int, int, str]] = []  # cells of a torque column, with the column's heading


class Blocks:
    """What a draft consists of, in the order of the text."""

    __slots__ = ("document", "front", "notes", "notices", "parts", "shadow", "steps", "tables", "title", "title_span", "tools")

    def __init__(self, document: Document) -> None:
        self.document = document
        self.front: Span | None = None
        self.title = ""
        self.title_span: Span | None = None
        self.shadow = document.text
        self.steps: list[Item] = []
        self.notices: list[Notice] = []
        self.tables: list[Table] = []
        self.tools: list[Span] = []
        self.parts: list[Span] = []
        self.notes: list[tuple[Span, int]] = []  # other paragraphs, with the number of steps ahead of them


@lru_cache(maxsize=1)
def _signal() -> re.Pattern[str]:
    names = "|".join(vocabulary().small["signal words"])
    return re.compile(
        rf"\s*(?:!!!\s*|:::\s*|\[!)?[*_]{{0,3}}\s*({names})S?\b[\])]?[*_\s]*(?P<mark>[:!.–—-]?)[*_]{{0,3}}", re.IGNORECASE
    )


_TOOLS = re.compile(
    r"\s*(?:\W{0,3})(?:special |required |needed |service )?(?:tools?|equipment|tooling)\b[^.:]{0,40}:|\s*(?:tools?|equipment) (?:needed|required)\b"
    r"|\s*you(?:'ll| will)? (?:also )?need\b|\s*have (?:a|an|the|two|these|ready|at hand|to hand)\b.*\b(?:at|to) hand\b|\s*(?:bring|get|lay out) (?:a|an|the)\b.*\b(?:wrench|socket|key)\b",
    re.IGNORECASE,
)  # fmt: skip
_PARTS = re.compile(r"\s*(?:\W{0,3})(?:new |spare |required )?(?:parts?|spares|kit|materials?|consumables)\b[^.:]{0,40}:", re.IGNORECASE)
_ACTION_HEADS = frozenset(
    ("action", "instruction", "instructions", "operation", "what to do", "work", "task", "do this", "description of work", "activity", "procedure", "work step")
)
_NUMBER_HEADS = frozenset(("step", "no", "#", "nr", "op", "seq", "step no", "pos"))
_NUMBERED = re.compile(r"\s*(?:[*_]{0,2})(?:step|schritt|stage|op\.?|operation)?\s*[#]?(\d{1,4}(?:\.\d{1,3})*[a-z]?|[A-Z]\d{1,3})[*_]{0,2}\s*[.):\-–—]\s*[*_]{0,2}\s*(?=\S)", re.IGNORECASE)  # fmt: skip
_STEP_HEAD = re.compile(r"\s*(?:step|op(?:eration)?)\s*#?(\d{1,4}[a-z]?)\b\W*", re.IGNORECASE)
_FRONT = re.compile(r"\s*\+\+\+[ \t]*\n(.*?)(?:^\+\+\+[ \t]*$|\Z)", re.DOTALL | re.MULTILINE)
_YAML = re.compile(r"\s*---[ \t]*\n(.*?)^---[ \t]*$", re.DOTALL | re.MULTILINE)


@lru_cache(maxsize=1)
def _markdown() -> Any:
    # Loaded only for a Markdown draft: its import costs more than checking a procedure.
    from markdown_it import MarkdownIt

    return MarkdownIt("commonmark").enable("table")


def blocks_of(document: Document, *, markdown: bool = True) -> Blocks:
    """The blocks of a draft. Never raises: what is no block of a known kind is a note."""
    blocks = Blocks(document)
    text = document.text
    match = _FRONT.match(text)
    body = 0
    if match is not None:
        blocks.front = Span(match.start(1), match.end(1))
        body = match.end()
    else:
        other = _YAML.match(text)
        if other is not None:
            body = other.end()
    if markdown:
        _Markdown(blocks, body).read()
    else:
        from torquewright.reading.plaintext import read_plain  # the other kind of draft

        read_plain(blocks, body)
    return blocks


class _Markdown:
    """Walks the block tokens of a Markdown text once."""

    def __init__(self, blocks: Blocks, body: int) -> None:
        self.blocks = blocks
        self.text = blocks.document.text
        self.body = body
        starts = [body]
        find = self.text.find
        at = find("\n", body)
        while at >= 0:
            starts.append(at + 1)
            at = find("\n", at + 1)
        self.starts = starts
        self.shadow: list[str] = []
        self.shadowed = 0
        self.section = ""
        self.kind = ""  # what a section heading announces: "tools", "parts" or ""
        self.loose: list[Item] = []  # bullets and paragraphs, steps where nothing is numbered
        self.headed: Item | None = None

    def read(self) -> None:
        markdown = _markdown()
        tokens: list[Token] = []
        markdown.block.parse(self.text[self.body :], markdown, {}, tokens)
        self._walk(tokens)
        self.shadow.append(self.text[self.shadowed :])
        self.blocks.shadow = "".join(self.shadow)
        if not self.blocks.steps and self.loose:
            self._unnumbered()

    # ---- spans ----------------------------------------------------------------------------------------------------

    def _span(self, token: Token) -> Span:
        """Where the text of an inline token stands, and its blanked copy put into the shadow."""
        first, last = token.map or [0, 1]
        content = token.content
        head = content.split("\n", 1)[0]
        line = self.starts[min(first, len(self.starts) - 1)]
        start = self.text.find(head, max(line, self.shadowed if self.shadowed >= line else line)) if head else line
        limit = self.starts[first + 1] if first + 1 < len(self.starts) else len(self.text) + 1
        if start < 0 or start >= limit:
            start = line
        end = start + len(head)
        rest = content.count("\n")
        if rest:
            bottom = first + rest
            tail = content[content.rfind("\n") + 1 :]
            base = self.starts[min(bottom, len(self.starts) - 1)]
            at = self.text.find(tail, base) if tail else base
            end = (at if at >= 0 else base) + len(tail)
        _ = last
        end = min(end, len(self.text))
        self._blank(start, end, head_lines=rest)
        return Span(start, end)

    def _blank(self, start: int, end: int, head_lines: int = 0) -> None:
        if start < self.shadowed or end <= start:
            return
        self.shadow.append(self.text[self.shadowed : start])
        part = blanked(self.text, start, end)
        if head_lines:
            part = _continued(self.text, start, end, part)
        self.shadow.append(part)
        self.shadowed = end

    # ---- the walk -------------------------------------------------------------------------------------------------

    def _walk(self, tokens: list[Token]) -> None:
        blocks = self.blocks
        stack: list[Item | None] = []  # the step each open list item stands for
        ordered: list[bool] = []
        quote = 0
        index, length = 0, len(tokens)
        while index < length:
            token = tokens[index]
            kind = token.type
            if kind == "heading_open":
                self._heading(tokens[index + 1], token.tag)
                index += 3
                continue
            if kind in ("ordered_list_open", "bullet_list_open"):
                ordered.append(kind == "ordered_list_open")
            elif kind in ("ordered_list_close", "bullet_list_close"):
                ordered.pop()
            elif kind == "list_item_open":
                item: Item | None = None
                if ordered[-1] and not quote and not self.kind:
                    item = self._step(token, stack, ordered)
                elif not quote and not stack and not self.kind:
                    first, _ = token.map or [0, 0]
                    bullet = Item("", self.section, self.starts[min(first, len(self.starts) - 1)], 0)
                    self.loose.append(bullet)
                stack.append(item)
            elif kind == "list_item_close":
                stack.pop()
            elif kind == "blockquote_open":
                quote += 1
                index = self._quote(tokens, index, stack)
                quote -= 1
                continue
            elif kind == "table_open":
                index = self._table(tokens, index)
                continue
            elif kind == "inline":
                self._paragraph(token, stack, bool(ordered))
            index += 1
        _ = blocks

    def _heading(self, inline: Token, tag: str) -> None:
        span = self._span(inline)
        text = " ".join(blanked(self.text, *span).split())
        self.headed = None
        blocks = self.blocks
        if tag == "h1" and not blocks.title:
            blocks.title, blocks.title_span = text, span
            self.section = ""
            return
        low = text.lower()
        numbered = _STEP_HEAD.match(text)
        if numbered is not None and len(low.split()) < 30:
            item = Item(numbered.group(1), self.section, *span)
            rest = span.start + self.text[span.start : span.end].lower().find(text[numbered.end() :].lower()) if text[numbered.end() :] else span.end
            if text[numbered.end() :]:
                item.stretches.append(Span(max(rest, span.start), span.end))
            blocks.steps.append(item)
            self.headed = item
            return
        self.section = text
        words = set(re.findall(r"[a-z]+", low))
        self.kind = ""
        if words & {"tool", "tools", "equipment", "tooling"}:
            self.kind = "tools"
        elif words & {"parts", "materials", "spares", "kit", "consumables"} and not words & {"remove", "fit", "install"}:
            self.kind = "parts"
        elif words & {"contents", "references", "history", "revision", "revisions", "changes"}:
            self.kind = "other"

    def _step(self, token: Token, stack: list[Item | None], ordered: list[bool]) -> Item:
        first, last = token.map or [0, 0]
        start = self.starts[min(first, len(self.starts) - 1)]
        end = self.starts[last] if last < len(self.starts) else len(self.text)
        parent = next((held for held in reversed(stack) if held is not None), None)
        label = token.info or ""
        depth = 0
        if parent is not None:
            label = f"{parent.label}.{label}"
            depth = parent.depth + 1
        item = Item(label, self.section, start, end, depth)
        self.blocks.steps.append(item)
        _ = ordered
        return item

    def _paragraph(self, token: Token, stack: list[Item | None], listed: bool) -> None:
        if not token.content.strip():
            return
        span = self._span(token)
        blocks = self.blocks
        item = next((held for held in reversed(stack) if held is not None), None)
        signal = _signal_of(token.content)
        if signal:
            if item is not None:
                blocks.notices.append(Notice(signal, *span, blocks.steps.index(item) if item is not blocks.steps[-1] else len(blocks.steps) - 1, not item.stretches))
            else:
                blocks.notices.append(Notice(signal, *span, len(blocks.steps), True))
            return
        if item is not None:
            item.stretches.append(span)
            return
        if self.kind == "tools" or _TOOLS.match(token.content) and len(blocks.steps) == 0:
            blocks.tools.append(span)
            return
        if self.kind == "parts" or _PARTS.match(token.content) and len(blocks.steps) == 0:
            blocks.parts.append(span)
            return
        if self.kind:
            return
        if listed and self.loose and not self.loose[-1].end:
            self.loose[-1].end = span.end
            self.loose[-1].stretches.append(span)
            return
        if self.headed is not None:
            self.headed.stretches.append(span)
            self.headed.end = span.end
            return
        numbered = _NUMBERED.match(token.content)
        if numbered is not None:
            step = Item(numbered.group(1), self.section, span.start, span.end)
            step.stretches.append(Span(span.start + numbered.end(), span.end))
            blocks.steps.append(step)
            return
        blocks.notes.append((span, len(blocks.steps)))
        if not listed:
            paragraph = Item("", self.section, *span)
            paragraph.stretches.append(span)
            paragraph.depth = 1
            self.loose.append(paragraph)

    def _quote(self, tokens: list[Token], index: int, stack: list[Item | None]) -> int:
        """A block quote: one notice, with all its paragraphs. Returns the index behind it."""
        depth = 0
        spans: list[Span] = []
        first = ""
        while index < len(tokens):
            token = tokens[index]
            if token.type == "blockquote_open":
                depth += 1
            elif token.type == "blockquote_close":
                depth -= 1
                if depth == 0:
                    index += 1
                    break
            elif token.type == "inline" and token.content.strip():
                first = first or token.content
                spans.append(self._span(token))
            index += 1
        if spans:
            blocks = self.blocks
            item = next((held for held in reversed(stack) if held is not None), None)
            signal = _signal_of(first)
            step = len(blocks.steps) - 1 if item is not None else len(blocks.steps)
            before = item is None or not item.stretches
            blocks.notices.append(Notice(signal, spans[0].start, spans[-1].end, step, before))
        return index

    def _table(self, tokens: list[Token], index: int) -> int:
        first, last = tokens[index].map or [0, 0]
        while tokens[index].type != "table_close":
            index += 1
        lines = []
        for number in range(first, min(last, len(self.starts))):
            start = self.starts[number]
            stop = self.text.find("\n", start)
            lines.append(cells_of(self.text, start, len(self.text) if stop < 0 else stop))
        if len(lines) >= 2:
            heads = lines[0]
            rows = [row for row in lines[2:] if row]
            table = Table(heads, rows, self.section)
            if not self._step_table(table):
                self.blocks.tables.append(table)
        return index + 1

    def _step_table(self, table: Table) -> bool:
        """A table whose rows are steps: one column says what to do, others its number, torque or tool."""
        names = [head.text.lower().strip(" .:*") for head in table.heads]
        action = next((at for at, name in enumerate(names) if name in _ACTION_HEADS), None)
        if action is None:
            return False
        number = next((at for at, name in enumerate(names) if name in _NUMBER_HEADS), None)
        for place, row in enumerate(table.rows):
            if len(row) <= action or not row[action].text:
                continue
            label = row[number].text if number is not None and number < len(row) and row[number].text else str(place + 1)
            end = max(cell.end for cell in row[action:] if cell.text)
            item = Item(label.strip("."), self.section, row[action].start, end)
            self._blank(row[action].start, end)
            stop = row[action].end
            if end > stop:
                # the cells behind read on as one sentence: "Tighten the bolts , 24 N·m"
                copy = list(self.shadow[-1])
                for at in range(stop - 1, end):
                    sign = copy[at - row[action].start]
                    if sign == "|" or at == stop - 1 and sign == ".":
                        copy[at - row[action].start] = "," if sign == "|" and any(cell.start > at and cell.text for cell in row) else " "
                self.shadow[-1] = "".join(copy)
                unit = next((head.text for at, head in enumerate(table.heads) if at > action and "torque" in names[at]), "")
                if unit:
                    item.figures = [(cell.start, cell.end, unit) for at, cell in enumerate(row) if at > action and cell.text and "torque" in names[at]]
            item.stretches.append(Span(row[action].start, end))
            self.blocks.steps.append(item)
        return True

    def _unnumbered(self) -> None:
        """A draft without numbers: its bullets are the steps, or else its paragraphs."""
        bullets = [item for item in self.loose if item.depth == 0 and item.stretches]
        chosen = bullets or [item for item in self.loose if item.stretches]
        starts = {item.start for item in chosen}
        for number, item in enumerate(chosen):
            item.label = str(number + 1)
            item.depth = 0
        self.blocks.steps = chosen
        self.blocks.notes = [(span, 0) for span, _ in self.blocks.notes if span.start not in starts]
        self.blocks.notices = [
            notice._replace(step=sum(1 for item in chosen if item.start < notice.start), before=True) for notice in self.blocks.notices
        ]


def _signal_of(content: str) -> str:
    """The signal word a paragraph opens with, as written; "" for none."""
    match = _signal().match(content)
    if match is None:
        return ""
    word = match.group(1)
    opening = content[: match.end()]
    if word.isupper() or match.group("mark") in tuple(":!–—") or "**" in opening or "[!" in opening or "!!!" in opening or ":::" in opening:
        return word.upper() if not word.isupper() else word
    return ""


def _continued(text: str, start: int, end: int, part: str) -> str:
    """Blank the indentation and quote marks at the start of every further line."""
    pieces = list(part)
    at = text.find("\n", start, end)
    while at >= 0:
        index = at + 1
        while index < end and text[index] in " \t>":
            pieces[index - start] = " "
            index += 1
        at = text.find("\n", at + 1, end)
    return "".join(pieces)


def cells_of(text: str, start: int, end: int) -> list[Cell]:
    """The cells of one line of a table."""
    cells: list[Cell] = []
    at = start
    while at < end and text[at] in " \t":
        at += 1
    if at < end and text[at] == "|":
        at += 1
    first = at
    while at <= end:
        if at == end or (text[at] == "|" and text[at - 1] != "\\"):
            low, high = first, at
            while low < high and text[low].isspace():
                low += 1
            while high > low and text[high - 1].isspace():
                high -= 1
            if not (at == end and low == high):
                cells.append(Cell(" ".join(blanked(text, low, high).split()), low, high))
            first = at + 1
        at += 1
    return cells
