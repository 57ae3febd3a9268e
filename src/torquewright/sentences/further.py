"""A further piece behind "and": "a new ring in the groove and another under the head", each with a place of its own."""

from __future__ import annotations

from torquewright.sentences.clause import Clause
from torquewright.sentences.lexicon import PREP
from torquewright.sentences.look import Look, mark
from torquewright.sentences.things import Thing

_PIECES = frozenset("washer seal lock fastener threaded".split())
_ANOTHER = (
    ("another",), ("one",), ("another", "one"), ("a", "second"), ("a", "second", "one"), ("a", "third"),
    ("a", "third", "one"), ("the", "other"), ("the", "other", "one"), ("the", "second"), ("the", "second", "one"),
)  # fmt: skip


def further_piece(look: Look, clause: Clause, at: int) -> int:
    """Begins a clause of its own for such a piece, with the verb of ``clause``; returns the index behind its words, 0
    where none stands at ``at``. The phrases that follow go to the new clause."""
    piece = clause.objects[-1] if clause.objects else None
    if piece is None or piece.kind not in _PIECES or clause.role != "command" or not clause.preps:
        return 0
    spans = [len(words) for words in _ANOTHER if tuple(look.text(at + n) for n in range(len(words))) == words]
    end = at + max(spans, default=0)
    if end == at or not look.flags(end) & PREP or look.text(end) == "of":
        return 0
    again = Thing()
    again.head, again.kind, again.mods, again.sizes = piece.head, piece.kind, piece.mods, piece.sizes
    again.state, again.count = piece.state, 1
    again.text = piece.text
    again.first, again.last = at, end - 1
    again.start, again.end = look.words[at].start, look.words[end - 1].end
    mark(look.words, at, end)
    made = look.new("command", at)
    made.verb, made.lemma, made.tense, made.negated = clause.verb, clause.lemma, clause.tense, clause.negated
    made.pieces.append(again)
    look.moved = made
    return end
