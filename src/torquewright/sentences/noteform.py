"""Looking for steps in note form: a name with "off", "on" or "back on" behind it and no verb."""

from __future__ import annotations

from torquewright.sentences.facts import PORTIONS
from torquewright.sentences.lexicon import ADV, AUX, BASE, CONJ, MODAL, NEG, PREP, PRON, PUNCT
from torquewright.sentences.look import Look
from torquewright.sentences.names import starts_thing, thing_at
from torquewright.sentences.things import Thing

OFF = frozenset("off out away".split())
_ON = frozenset("on in back home through".split())
_ONTO = frozenset("on onto over into".split())
_PARTS = frozenset("fastener washer seal lock consumable compound lubricant".split())


def note_at(look: Look, at: int) -> tuple[Thing, int, int] | None:
    """The thing of "name + off / on / back on" at ``at``, where its particles begin and end (the same index where a
    name follows, as in "a new gasket on the studs"); None where no such note stands here."""
    words = look.words
    one = look.text(at) == "one" and look.text(at + 1) in PORTIONS  # "one drop of thread-locker on each screw"
    if not starts_thing(words, at) or (look.flags(at) & (PRON | NEG) and not one):
        return None
    verb = bool(look.flags(at) & BASE) and look.text(at) not in look.book.structure and look.command_at(at)
    if verb and not look.compound_at(at):
        return None
    thing, end = thing_at(words, at)
    word = look.text(end)
    if thing is None or thing.pronoun or thing.kind == "feature" or word not in OFF | _ON | _ONTO:
        return None
    after = end + 1
    if word == "back" and look.text(after) in ("on", "in"):
        after += 1
    closed = bool(look.flags(after) & (PUNCT | CONJ)) or after >= look.length
    manner = bool(look.flags(after) & ADV) or (look.text(after) in ("with", "by") and bool(look.flags(after) & PREP))
    dressed = look.text(after) in ("dry", "oiled", "greased", "clean") and bool(look.flags(after + 1) & PUNCT)
    if closed or dressed or (manner and not look.flags(at) & BASE):
        return thing, end, after
    told = thing.owner if thing.owner is not None and thing.head in PORTIONS else thing  # "a drop of thread-locker"
    if word in _ONTO and told.kind in _PARTS and starts_thing(words, after) and not _told(look, after):
        return thing, end, end
    return None


def _told(look: Look, at: int) -> bool:
    """Whether a verb follows: "the nuts on the studs are …"."""
    while at < look.length and not look.flags(at) & PUNCT:
        if look.flags(at) & (AUX | MODAL) or look.finite_at(at):
            return True
        at += 1
    return False
