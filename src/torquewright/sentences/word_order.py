"""Statements that do not begin with their subject: "there are", "neither", "off comes the guard", "should it weep"."""

from __future__ import annotations

from torquewright.sentences.assertions import finite, subject_at
from torquewright.sentences.lexicon import (
    AUX,
    BASE,
    NEG,
)
from torquewright.sentences.look import Look, mark
from torquewright.sentences.names import thing_at
from torquewright.sentences.predicates import verb_phrase
from torquewright.sentences.things import Thing


def existential(look: Look, at: int) -> int:
    """ "There are ten in all": a remark."""
    look.words[at].used = True
    clause = look.new("statement", at)
    thing = Thing()
    thing.text = thing.head = "there"
    thing.pronoun = True
    clause.subject = thing
    return finite(look, clause, at + 1)


def neither(look: Look, at: int) -> int:
    """ "Neither oil nor grease may touch the faces"."""
    words = look.words
    words[at].used = True
    clause = look.new("statement", at)
    clause.negated = True
    at += 1
    while at < look.length:
        thing, end = thing_at(words, at)
        if thing is None:
            break
        if clause.subject is None:
            clause.subject = thing
        else:
            clause.brackets.append(thing)
        mark(words, at, end)
        at = end
        if look.text(at) in ("nor", "or", "and"):
            words[at].used = True
            at += 1
            continue
        break
    if look.finite_at(at):
        return finite(look, clause, at)
    clause.role = "tail"
    if clause.subject is not None:
        clause.pieces.append(clause.subject)
    return verb_phrase(look, clause, at)


def deed_named(look: Look, at: int) -> int:
    """ "Reuse of the screws is forbidden": a deed as the subject, done to what stands behind "of"."""
    clause = look.new("statement", at)
    clause.subject = Thing()
    clause.subject.owner, end = thing_at(look.words, at + 2)
    clause.subject.text = clause.subject.head = "reuse"
    clause.subject.start, clause.subject.end = look.words[at].start, look.words[end - 1].end
    mark(look.words, at, end)
    return finite(look, clause, end)


def turned_about(look: Look, at: int) -> int:
    """ "Off comes the guard", "In go the six screws": the subject behind its verb."""
    clause = look.new("statement", at)
    verb = look.words[at + 1]
    clause.verb, clause.lemma, clause.tense = verb, verb.lemma, "active"
    clause.particles.append(look.text(at))
    mark(look.words, at, at + 2)
    clause.subject, end = subject_at(look, at + 2)
    clause.brackets.extend(look.beside)
    look.beside = []
    return verb_phrase(look, clause, end)


def inverted(look: Look, at: int, negated: bool = False) -> int:
    """ "Should the joint weep, …"; "Under no circumstances may the screw be adjusted" (``negated``)."""
    look.words[at].used = True
    clause = look.new("statement", at)
    if negated:
        clause.negated, clause.modal = True, look.text(at)
    else:
        clause.link, clause.front = "if", True
    subject, end = subject_at(look, at + 1)
    last = end - 1
    if not negated and not look.flags(end) & (BASE | AUX | NEG) and last > at + 1 and look.flags(last) & BASE:
        subject, _ = thing_at(look.words[:last], at + 1)  # "should the plug weep"
        end = last
    clause.subject = subject
    if not negated and look.flags(end) & NEG and look.flags(end + 1) & (BASE | AUX):
        look.words[end].used, clause.negated, end = True, True, end + 1  # "should the key not slide in"
    if negated or look.text(end) in ("be", "have"):
        return finite(look, clause, end)  # "should the pin be bent"
    if end < look.length and look.flags(end) & BASE:
        word = look.words[end]
        clause.verb, clause.lemma, clause.tense = word, word.lemma, "active"
        word.used = True
        end += 1
    return verb_phrase(look, clause, end)
