"""What was made of a draft, sentence by sentence: for showing it, for places, and for rules about the writing."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from torquewright.records.steps import Action

if TYPE_CHECKING:
    from torquewright.base.document import Document
    from torquewright.pages.blocks import Blocks, Item, Notice
    from torquewright.reading.accepting import AcceptedHere
    from torquewright.reading.draft_tables import Row
    from torquewright.sentences.deeds import Deed
    from torquewright.sentences.sentence import Sentence


class ReadAction(NamedTuple):
    """One action with the deed of the sentence it was made from; ``sentence`` is None where it repeats another."""

    action: Action
    deed: Deed
    sentence: Sentence | None

    def span(self) -> tuple[int, int]:
        """Offsets of the words it was made from."""
        deed = self.deed
        start, end = deed.start, deed.end
        for word in deed.torques:
            start, end = min(start, word.start), max(end, word.end)
        if deed.thing is not None and deed.thing.end > deed.thing.start:
            start, end = min(start, deed.thing.start) if start else deed.thing.start, max(end, deed.thing.end)
        return start, end

    def figure_span(self) -> tuple[int, int] | None:
        """Offsets of its figures, None where it states none."""
        torques = self.deed.torques
        return (torques[0].start, torques[-1].end) if torques else None


class ReadSentence(NamedTuple):
    """One sentence: the clauses' reading, its status, its actions in the order they are done, what is open, and the
    ids of the joints it speaks of."""

    sentence: Sentence
    status: str
    actions: list[ReadAction]
    doubts: list[str]
    about: frozenset[str] = frozenset()


class ReadStep(NamedTuple):
    """One step with its sentences."""

    item: Item
    sentences: list[ReadSentence]


class ReadNotice(NamedTuple):
    """One warning, caution or note with its sentences."""

    notice: Notice
    sentences: list[ReadSentence]


class ReadDraft:
    """A whole draft as read. ``steps`` are parallel to the procedure's steps; ``notices`` to its messages; ``notes``
    are the sentences of other paragraphs with the number of steps ahead of them; ``rows`` the rows of its tables;
    ``accepted`` the comments that let a finding stand; ``tools_in_steps`` the ids of tools that no record and no list
    of the draft holds, only a step."""

    __slots__ = ("accepted", "blocks", "document", "notes", "notices", "rows", "steps", "tools_in_steps")

    def __init__(self, document: Document, blocks: Blocks) -> None:
        self.document = document
        self.blocks = blocks
        self.steps: list[ReadStep] = []
        self.notices: list[ReadNotice] = []
        self.notes: list[tuple[ReadSentence, int]] = []
        self.rows: list[Row] = []
        self.tools_in_steps: frozenset[str] = frozenset()
        self.accepted: list[AcceptedHere] = []
