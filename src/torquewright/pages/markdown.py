"""The blocks of a Markdown draft, from the block tokens of markdown-it-py, walked once."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from torquewright.pages.blocks import PARTS, TOOLS, Blocks, Item, Notice, Span, Table, cells_of, signal_of
from torquewright.pages.markup import blanked
from torquewright.pages.numbering import lettered, number_of

if TYPE_CHECKING:
    from markdown_it.token import Token


_ACTION_HEADS = frozenset(
    (
        "action",
        "instruction",
        "instructions",
        "operation",
        "what to do",
        "work",
        "task",
        "do this",
        "description of work",
        "activity",
        "procedure",
        "work step",
    )
)
_LIST_WORDS = frozenset(
    "tool tools equipment tooling instruments gear parts materials material spares spare kit consumables supplies "
    "and or with for of the a an this job to hand at you your will ll need needed required necessary special "
    "service list new replacement recommended what have ready before start measuring torque personal protective be "
    "used".split()
)
_ABOUT_WORDS = frozenset("contents references history revision revisions changes table of and document log".split())
_NUMBER_HEADS = frozenset(("step", "no", "#", "nr", "op", "seq", "step no", "pos"))
_LETTERED_HEAD = re.compile(r"[a-z]\.\s+(?:\*\*|__)?[A-Z][a-z]+(?: [a-z]+){0,3}(?:\*\*|__)?[.:]?\s*$")
_STEP_HEAD = re.compile(r"\s*(?:step|op(?:eration)?)\s*#?(\d{1,4}[a-z]?)\b\W*", re.IGNORECASE)


@lru_cache(maxsize=1)
def _markdown() -> Any:
    # Loaded only for a Markdown draft: its import costs more than checking a procedure.
    from markdown_it import MarkdownIt

    return MarkdownIt("commonmark").enable("table")


class Markdown:
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
        self.kind = self.intro = ""  # "tools" or "parts": what a heading announces, or the line right ahead of a list
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
        first = (token.map or [0, 1])[0]
        content = token.content
        head = content.split("\n", 1)[0]
        line = self.starts[min(first, len(self.starts) - 1)]
        start = self.text.find(head, max(line, self.shadowed)) if head else line
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
        stack: list[Item | None] = []  # the step each open list item stands for
        ordered: list[bool] = []
        quote, borrowed = 0, False
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
                borrowed = borrowed or (bool(self.intro) and kind == "bullet_list_open")
                self.kind, self.intro = self.intro if borrowed and self.intro else self.kind, ""
            elif kind in ("ordered_list_close", "bullet_list_close"):
                ordered.pop()
                if borrowed and not ordered:
                    self.kind, borrowed = "", False
            elif kind == "list_item_open":
                item: Item | None = None
                if ordered[-1] and not quote and not self.kind:
                    item = self._step(token, stack)
                elif not quote and not stack and not self.kind:
                    first = (token.map or [0, 0])[0]
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
            rest = (
                span.start + self.text[span.start : span.end].lower().find(text[numbered.end() :].lower())
                if text[numbered.end() :]
                else span.end
            )
            if text[numbered.end() :]:
                item.stretches.append(Span(max(rest, span.start), span.end))
            blocks.steps.append(item)
            self.headed = item
            return
        self.section, self.intro = text, ""
        words = set(re.findall(r"[a-z]+", low))
        self.kind = ""
        listed = words <= _LIST_WORDS  # "Old parts off" heads steps, no list
        if listed and words & {"tool", "tools", "equipment", "tooling", "instruments", "gear"}:
            self.kind = "tools"
        elif listed and words & {"parts", "materials", "spares", "kit", "consumables", "supplies"}:
            self.kind = "parts"
        elif words <= _ABOUT_WORDS:
            self.kind = "other"

    def _step(self, token: Token, stack: list[Item | None]) -> Item:
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
        return item

    def _paragraph(self, token: Token, stack: list[Item | None], listed: bool) -> None:
        if not token.content.strip():
            return
        span = self._span(token)
        blocks = self.blocks
        item = next((held for held in reversed(stack) if held is not None), None)
        signal = signal_of(token.content)
        if signal and (item is None or item.stretches):  # a step that opens with one goes on with what is to be done
            if item is not None:
                last = len(blocks.steps) - 1
                place = blocks.steps.index(item) if item is not blocks.steps[-1] else last
                blocks.notices.append(Notice(signal, *span, place, False))
            else:
                blocks.notices.append(Notice(signal, *span, len(blocks.steps), True))
            return
        if item is not None:
            self._take(item, span)
            return
        self.intro = ""
        if self.kind == "tools" or (TOOLS.match(token.content) and len(blocks.steps) == 0):
            blocks.tools.append(span)
            if not listed and not self.kind and token.content.rstrip().endswith((":", "need", "needed", "required")):
                self.intro = "tools"  # "You will need", and a list below it
            return
        if self.kind == "parts" or (PARTS.match(token.content) and len(blocks.steps) == 0):
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
        if self._numbered_lines(span):
            return
        if not listed and _LETTERED_HEAD.match(token.content):
            self.section = token.content.strip().rstrip(".:")  # "b. Installation."
            return
        blocks.notes.append((span, len(blocks.steps)))
        if not listed:
            paragraph = Item("", self.section, *span)
            paragraph.stretches.append(span)
            paragraph.depth = 1
            self.loose.append(paragraph)

    def _take(self, item: Item, span: Span) -> None:
        """A paragraph of a step; lettered lines in it are steps of their own."""
        parts = lettered(self.text, span) if "\n" in self.text[span.start : span.end] else []
        for letter, part in parts or [("", span)]:
            if letter:
                below = Item(f"{item.label}{letter}", item.section, *part, item.depth + 1)
                below.stretches.append(part)
                self.blocks.steps.append(below)
            else:
                item.stretches.append(part)

    def _numbered_lines(self, span: Span) -> bool:
        """A paragraph that opens with a number is a step, and so is each further line of it that does."""
        first = number_of(self.text[span.start : span.end])
        if first is None:
            return False
        cuts = [(span.start, *first)]
        at = self.text.find("\n", span.start, span.end)
        while at >= 0:
            more = number_of(self.text[at + 1 : span.end])
            if more is not None:
                cuts.append((at + 1, *more))
            at = self.text.find("\n", at + 1, span.end)
        for (start, label, ahead), end in zip(cuts, [cut[0] for cut in cuts[1:]] + [span.end], strict=True):
            stop = start + len(self.text[start:end].rstrip())
            step = Item(label, self.section, start, stop)
            self.blocks.steps.append(step)
            self._take(step, Span(start + ahead, stop))
        return True

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
            signal = signal_of(first)
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
            label = (
                row[number].text if number is not None and number < len(row) and row[number].text else str(place + 1)
            )
            end = max(cell.end for cell in row[action:] if cell.text)
            item = Item(label.strip("."), self.section, row[action].start, end)
            self._blank(row[action].start, end)
            stop = row[action].end
            if end > stop:
                # the cells behind read on as one sentence: "Tighten the bolts , 24 N·m"
                copy = list(self.shadow[-1])
                for at in range(stop - 1, end):
                    sign = copy[at - row[action].start]
                    if sign == "|" or (at == stop - 1 and sign == "."):
                        copy[at - row[action].start] = (
                            "," if sign == "|" and any(cell.start > at and cell.text for cell in row) else " "
                        )
                self.shadow[-1] = "".join(copy)
                unit = next(
                    (head.text for at, head in enumerate(table.heads) if at > action and "torque" in names[at]), ""
                )
                if unit:
                    item.figures = [
                        (cell.start, cell.end, unit)
                        for at, cell in enumerate(row)
                        if at > action and cell.text and "torque" in names[at]
                    ]
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
            notice._replace(step=sum(1 for item in chosen if item.start < notice.start), before=True)
            for notice in self.blocks.notices
        ]


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
