"""The sentences of a draft set beside the steps and actions they became, for the rules on writing.

Worked out once for a trace. Every function here wants a trace with a draft; the rules look for that first.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from torquewright.base.document import Path
from torquewright.bench import Event, Trace
from torquewright.records import Catalogue, Fastener, Seal

if TYPE_CHECKING:  # the reader of sentences is not loaded for a procedure in TOML
    from torquewright.reading.kept import ReadAction, ReadSentence
    from torquewright.sentences.things import Thing

DONE = frozenset({"do", "stated_passively"})
"""Modes of what is demanded outright."""


class Told(NamedTuple):
    """One sentence of a step. ``step`` is the step's index, ``first`` the number of the sentence's first action in
    the step."""

    step: int
    first: int
    read: ReadSentence

    @property
    def span(self) -> Path:
        """Where the sentence stands."""
        return span(self.read.sentence.start, self.read.sentence.end)


class Act(NamedTuple):
    """One clause that has a verb: what is done, in verbs of the closed set and in the writer's own (``senses``), to
    what, in words (``heads``) and records (``ids``). ``link`` is the word that makes it depend on another one."""

    senses: frozenset[str]
    heads: frozenset[str]
    ids: frozenset[str]
    link: str
    commanded: bool


def span(start: int, end: int) -> Path:
    """The path of a stretch of the draft, by its offsets."""
    return ("span", start, end)


def sentences(trace: Trace) -> list[Told]:
    """Every sentence of every step, in the order of the text."""
    held = trace.worked.get("sentences")
    if held is None:
        held = trace.worked["sentences"] = list(_sentences(trace))
    return held  # type: ignore[return-value]  # kept under this name by nobody else


def _sentences(trace: Trace) -> list[Told]:
    found = []
    assert trace.draft is not None
    for index, step in enumerate(trace.draft.steps):
        number = 0
        for sentence in step.sentences:
            found.append(Told(index, number, sentence))
            number += len(sentence.actions)
    return found


def made_from(trace: Trace) -> dict[tuple[int, int], tuple[Told, ReadAction]]:
    """From (step, number of the action) to the sentence an action was read from."""
    held = trace.worked.get("made from")
    if held is None:
        held = trace.worked["made from"] = {
            (told.step, told.first + at): (told, action)
            for told in sentences(trace)
            for at, action in enumerate(told.read.actions)
        }
    return held  # type: ignore[return-value]  # kept under this name by nobody else


def words_behind(trace: Trace, event: Event) -> tuple[Told, ReadAction] | None:
    """The sentence and the reading an event was made from; None for what was taken as done before."""
    return made_from(trace).get((event.step, event.number))


_OPENING = frozenset("loosen remove disconnect take_out open unscrew undo slacken lift".split())


_BINDING = ("", "shall", "must", "should", "be to", "have to")


def acts(read: ReadSentence) -> list[Act]:
    """What a sentence speaks of doing, clause by clause. Loosening and taking out count as one, ``open``."""
    found = []
    for clause in read.sentence.clauses:
        if not clause.lemma:
            continue
        senses = {clause.lemma}
        ids: set[str] = set()
        heads = {thing.head for thing in clause.objects if not thing.pronoun}
        if clause.subject is not None and not clause.subject.pronoun:
            heads.add(clause.subject.head)
        for held in read.actions:
            if held.deed.clause is clause and held.deed.lemma != "note":
                senses.add(held.action.verb)
                ids.add(held.action.of or held.action.what)
        if senses & _OPENING:
            senses.add("open")
        link = "" if clause.link == "by" else clause.link  # "removed by undoing its screws": undone all the same
        bound = clause.role == "statement" and clause.tense == "passive" and clause.modal in _BINDING
        told = clause.role == "command" or bound or clause.link == "by"
        commanded = told and not clause.negated and not link
        found.append(Act(frozenset(senses), frozenset(heads), frozenset(ids - {""}), link, commanded))
    return found


def part_words(read: ReadSentence) -> set[str]:
    """The words of all names in a sentence: "spring cap" gives both."""
    found: set[str] = set()
    for thing in read.sentence.things:
        if not thing.pronoun:
            found.update(thing.mods)
            found.add(thing.head)
    return found


def plain_words(read: ReadSentence) -> set[str]:
    """The words of a sentence, verbs in their base form, all in lower case."""
    found: set[str] = set()
    for word in read.sentence.words:
        found.add(word.text)
        found.add(word.lemma)
    return found


def nouns(read: ReadSentence, verbs: bool = True) -> set[str]:
    """Every word of a sentence that can be a name, in a name or not; without ``verbs``, not those that are one here."""
    from torquewright.sentences.lexicon import NOUN, UNKNOWN, singular  # loaded with the draft

    acting = set() if verbs else {id(clause.verb) for clause in read.sentence.clauses}
    words = (word for word in read.sentence.words if id(word) not in acting)
    return {singular(word.text) for word in words if word.flags & (NOUN | UNKNOWN)}


def recorded_as(own: Fastener | Seal, catalogue: Catalogue) -> str:
    """The id of the record that a row of the draft's own table goes by: the same id, else one with its name, else the
    row's own."""
    records: tuple[Fastener | Seal, ...] = catalogue.fasteners if isinstance(own, Fastener) else catalogue.seals
    name = own.name.lower()
    if any(held.id == own.id for held in records):
        return own.id
    named = (held.id for held in records if name in (held.name.lower(), *(alias.lower() for alias in held.aliases)))
    return next(named, own.id)


def short(text: str, most: int = 60) -> str:
    """The first words of a text, to be quoted."""
    text = " ".join(text.split())
    if len(text) <= most:
        return text.rstrip(".")
    return text[: text.rfind(" ", 0, most)].rstrip(".,;:") + " …"


def name_of(thing: Thing) -> str:
    """The words of a name without its number, article and size."""
    words = [word for word in (*thing.mods, thing.head) if any(sign.isalpha() for sign in word)]
    return " ".join(word for word in words if word not in thing.sizes)
