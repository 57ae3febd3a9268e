"""Commands as they begin: "[do not] [carefully] verb …", "make sure to …", "do not fail to …"."""

from __future__ import annotations

from torquewright.sentences.lexicon import ADV, BASE, CONJ, DEMAND, ING, NEG
from torquewright.sentences.look import Look
from torquewright.sentences.predicates import that_clause, verb_phrase


def command(look: Look, at: int, then: bool = False) -> int:
    """A command: "[do not] [carefully] verb …"."""
    words = look.words
    clause = look.new("command", at, then)
    while look.flags(at) & (ADV | NEG | CONJ) and not (look.command_at(at, True) and not look.flags(at) & NEG):
        word = words[at]
        if word.flags & NEG:
            clause.negated = not clause.negated
        clause.said.append(word.text)
        word.used = True
        at += 1
    word = words[at]
    if word.flags & DEMAND:
        # "make sure to …", "be sure that …"
        word.used = True
        if look.text(at + 1) == "to" and look.flags(at + 2) & BASE:
            words[at + 1].used = True
            look.clauses.pop()
            return command(look, at + 2, then)
        if look.text(at + 1) == "not" and look.text(at + 2) == "to":
            look.clauses.pop()
            words[at + 1].used = words[at + 2].used = True
            end = command(look, at + 3, then)
            look.clauses[-1].negated = True
            return end
        clause.verb, clause.lemma, clause.tense = word, "make", "command"
        clause.particles.append("sure")
        return that_clause(look, clause, at + 1)
    if word.text == "to":
        word.used = True
        at += 1
        word = words[at]
    if word.lemma in ("finish", "continue") and look.flags(at + 1) & ING and words[at + 1].lemma in look.book.senses:
        word.used = True
        at += 1  # "finish taking it out"
        word = words[at]
    word.used = True
    clause.verb, clause.lemma, clause.tense = word, word.lemma, "command"
    clause.start = word.start
    if clause.negated and word.lemma in ("fail", "forget", "omit", "neglect") and look.text(at + 1) == "to":
        # two negatives: do it
        look.clauses.pop()
        words[at + 1].used = True
        return command(look, at + 2, then)
    return verb_phrase(look, clause, at + 1)
