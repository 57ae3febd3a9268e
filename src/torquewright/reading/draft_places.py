"""Where things stand in a draft, and what of it was not read."""

from __future__ import annotations

from torquewright.base.document import Document, Path
from torquewright.reading.job import Unread
from torquewright.reading.kept import ReadDraft, ReadSentence, ReadStep
from torquewright.sentences.sentence import Sentence
from torquewright.toml.parsing import Parsed

_MATTERS = frozenset({"fastener", "lock", "washer", "seal"})


_CELLS = {
    "tightening": "torque",
    "one-time-use": "state",
    "washer": "state",
    "size": "size",
    "count": "count",
    "condition": "condition",
}


_DANGER = frozenset(
    "danger warning hot pressure spring electric live voltage kill injury injure burn scald crush explode fire".split()
)


def unread_in(draft: ReadDraft, document: Document) -> tuple[Unread, ...]:
    held: list[tuple[ReadSentence, bool]] = [(sentence, True) for step in draft.steps for sentence in step.sentences]
    held += [(sentence, False) for notice in draft.notices for sentence in notice.sentences]
    found = []
    for sentence, inside in held:
        if sentence.status == "read":
            continue
        reading = sentence.sentence
        spans = (
            reading.leftover if sentence.status == "in part" and reading.leftover else [(reading.start, reading.end)]
        )
        start, end = spans[0][0], spans[-1][1]
        text = draft.blocks.shadow[start:end]
        reason = (
            sentence.doubts[0]
            if sentence.doubts
            else ("nothing was made of it" if sentence.status == "unread" else "not all of it was understood")
        )
        passing = (
            sentence.status == "in part" and not reading.leftover and bool(sentence.actions) and not sentence.doubts
        )
        matters = _torque_left(reading) if passing else _matters(reading, spans)
        found.append(Unread(document.place(start, end), text, reason, inside and matters, sentence.about))
    return tuple(found)


def _torque_left(sentence: Sentence) -> bool:
    """Whether a sentence whose acts are understood holds a torque that belongs to none of them, besides what is only
    said in passing ("the washer comes with it")."""
    taken = {id(word) for deed in sentence.deeds for word in deed.torques}
    taken |= {id(thing.range) for thing in sentence.things if thing.range is not None}
    loose = any(word.found is not None and id(word) not in taken for word in sentence.words)
    return loose or any(deed.doubt for deed in sentence.deeds)


def _matters(sentence: Sentence, spans: list[tuple[int, int]]) -> bool:
    """Whether what was not read holds a quantity, a fastener or a word of danger."""
    if any(deed.doubt for deed in sentence.deeds):
        return True
    for start, end in spans:
        for word in sentence.words:
            if start <= word.start and word.end <= end and (word.found is not None or word.text in _DANGER):
                return True
        if any(start <= thing.start < end and thing.kind in _MATTERS for thing in sentence.things):
            return True
    return False


class Finder:
    """From paths of the procedure to offsets in the draft."""

    def __init__(self, draft: ReadDraft, parsed: Parsed | None) -> None:
        self.draft = draft
        self.parsed = parsed

    def find(self, path: Path) -> tuple[int, int] | None:
        draft = self.draft
        head = path[0] if path else ""
        if head == "span" and len(path) == 3 and isinstance(path[1], int) and isinstance(path[2], int):
            return path[1], path[2]
        if head == "title" and draft.blocks.title_span is not None:
            return draft.blocks.title_span
        if head == "messages" and len(path) > 1 and isinstance(path[1], int):
            return self._message(path[1])
        if "accept" in path:
            where = path[1] if head == "step" else None
            return next(
                (
                    (held.start, held.end)
                    for held in draft.accepted
                    if (held.step, held.accepted.rule) == (where, path[-1])
                ),
                None,
            )
        if head != "step" or len(path) < 2 or not isinstance(path[1], int) or not 0 <= path[1] < len(draft.steps):
            return None
        step = draft.steps[path[1]]
        if len(path) == 2 or path[2] in ("say", "label", "section"):
            return _step_span(step)
        if path[2] == "do" and len(path) > 3 and isinstance(path[3], int):
            actions = [held for sentence in step.sentences for held in sentence.actions]
            if not 0 <= path[3] < len(actions):
                return None
            held = actions[path[3]]
            if len(path) > 4 and path[4] in ("to", "by", "setting"):
                return held.figure_span()
            if len(path) > 4 and path[4] == "with" and held.deed.tool is not None:
                return held.deed.tool.start, held.deed.tool.end
            if len(path) > 4 and path[4] == "washer" and held.deed.washers:
                return held.deed.washers[0].start, held.deed.washers[0].end
            if len(path) > 4:
                return None
            return held.span()
        return None

    def _message(self, index: int) -> tuple[int, int] | None:
        spans = [(held.notice.start, held.notice.end) for held in self.draft.notices if held.notice.signal]
        return spans[index] if 0 <= index < len(spans) else None

    def record(self, path: Path) -> tuple[int, int] | None:
        """The cell of the draft's own table that a field of a record was read from."""
        if len(path) < 2 or path[0] not in ("fastener", "seal"):
            return None
        row = next((held for held in self.draft.rows if held.record.id == path[1]), None)
        if row is None:
            return self.parsed.places.find(path) if self.parsed is not None else None
        cell = row.cells.get(_CELLS.get(str(path[2]), "part")) if len(path) > 2 else None
        cell = cell or row.cells["part"]
        return cell.start, cell.end


def _step_span(step: ReadStep) -> tuple[int, int]:
    stretches_of = step.item.stretches
    if stretches_of:
        return stretches_of[0].start, stretches_of[-1].end
    return step.item.start, max(step.item.end, step.item.start)
