"""Steps in note form read as commands: "axle nuts off" as taken off, "a new gasket on the studs" as put on."""

from __future__ import annotations

from torquewright.sentences.facts import CONTAINERS, for_waste
from torquewright.sentences.look import Look, mark
from torquewright.sentences.names import thing_at
from torquewright.sentences.noteform import OFF, note_at
from torquewright.sentences.predicates import verb_phrase

_SWITCHED = frozenset("power machine".split())


def note_form(look: Look, at: int) -> int:
    """Reads the note at ``at`` and returns the index behind it; 0 where none stands here."""
    found = note_at(look, at)
    if found is None:
        return 0
    thing, end, after = found
    clause = look.new("command", at)
    clause.verb, clause.tense, clause.start = look.words[end], "command", thing.start
    off = look.text(end) in OFF
    clause.lemma = "switch" if thing.kind in _SWITCHED else "take" if off else "put"
    bin_at, _ = thing_at(look.words, after + 1) if look.text(after) in ("into", "in") else (None, 0)
    gone = bin_at is not None and (for_waste(bin_at) or (thing.state == "old" and bin_at.head in CONTAINERS))
    if gone and not off:
        clause.lemma = "discard"  # "old gasket into the sack"
    clause.pieces.append(thing)
    clause.particles.extend(look.text(index) for index in range(end, after))
    mark(look.words, at, after)
    return verb_phrase(look, clause, after)
