"""The other ways a clause begins: with a name, a figure, an -ing word, "if", "before", "no", a phrase ahead."""

from __future__ import annotations

from torquewright.sentences.assertions import finite, subject_at
from torquewright.sentences.clause import CONDITIONS
from torquewright.sentences.lexicon import (
    ADV,
    AUX,
    BASE,
    DET,
    FIGURE,
    ING,
    MODAL,
    NEG,
    PAST,
    PRON,
    PUNCT,
    QUANTITY,
    SUB,
    THIRD,
)
from torquewright.sentences.look import Look, mark
from torquewright.sentences.names import starts_thing, thing_at
from torquewright.sentences.predicates import verb_phrase
from torquewright.sentences.remarks import figures_follow
from torquewright.sentences.things import Thing
from torquewright.sentences.word_order import existential

_TIMES = frozenset("hour hours day days week weeks month months minute minutes cycle cycles km mile miles".split())


def gerund(look: Look, at: int, link: str = "") -> int:
    """ "Having tightened …", "using new O-rings", "working in a star pattern", "to remove the cover"."""
    words = look.words
    clause = look.new("gerund", at)
    clause.link = link
    clause.front = at == 0 or link != ""
    word = words[at]
    word.used = True
    if word.text in ("having", "to"):
        clause.tense = word.text
        at += 1
        while look.flags(at) & ADV or look.text(at) == "been":
            words[at].used = True
            at += 1
        if at >= look.length:
            return at
        word = words[at]
        word.used = True
    if word.text == "being":
        at += 1
        word = words[at] if at < look.length else word
    clause.verb, clause.lemma = word, word.lemma
    clause.start = word.start
    if clause.tense != "having":
        clause.tense = clause.tense or "ing"
    return verb_phrase(look, clause, at + 1)


def subordinate(look: Look, at: int) -> int:
    """ "If …", "before …", "until …": a clause that hangs on another one."""
    words = look.words
    word = words[at]
    link = word.text
    word.used = True
    front = not any(clause.role in ("command", "statement") for clause in look.clauses) or look.text(at - 1) in (
        ";",
        ".",
        ":",
    )
    inner = look.text(at - 1) == "," and look.text(at - 2) in ("and", "but", "or")  # "to 80 N·m and, if plated, to 72"
    front = front or (inner and link in CONDITIONS)
    only = any(look.text(index) == "only" for index in (at - 1,) if index >= 0)
    at += 1
    if link in ("every time", "each time") and look.flags(at) & PUNCT:
        return at  # at the end of a phrase: how often
    if look.text(at) in ("and", "when") and look.flags(at + 1) & SUB:
        words[at].used = True
        at += 1
    if only and link in ("after", "when", "once", "if"):
        link = "only " + link
        words[at - 2].used = True
    while look.flags(at) & ADV and not starts_thing(look.words, at) and look.text(at) != "there":
        words[at].used = True
        at += 1
    if (
        link in ("before", "after", "prior to")
        and look.flags(at) & BASE
        and not starts_thing(words, at)
        and not look.flags(at + 1) & (DET | PRON)
    ):
        # "before reuse", "after use": a verb that is a name here
        words[at].used = True
        clause = look.new("fragment", at)
        clause.link, clause.front, clause.stop = link, front, at + 1
        return at + 1
    if look.flags(at) & ING and not (starts_thing(words, at) and look.statement_at(at)):
        end = gerund(look, at, link)
        look.clauses[-1].front = front
        return end
    if link == "after" and look.text(at) == "that" and figures_follow(look, at + 1):
        words[at].used = True  # "to 20 N·m, and after that to 43 N·m"
        clause = look.new("fragment", at + 1, True)
        return verb_phrase(look, clause, at + 1)
    if link in ("before", "after") and look.text(at) == "being" and look.flags(at + 1) & PAST:
        words[at].used = words[at + 1].used = True  # "before being tightened to 50 N·m"
        clause = look.new("gerund", at + 1)
        clause.link, clause.front, clause.tense = link, front, "ing"
        clause.verb, clause.lemma = words[at + 1], words[at + 1].lemma
        return verb_phrase(look, clause, at + 2)
    if link in ("until", "till", "since", "before") and look.text(at) in ("last", "now", "then", "recently"):
        words[at].used = True  # "until last year these bolts were …"
        dated = look.text(at + 1) in ("year", "month", "week", "summer", "winter", "spring", "autumn", "issue")
        if dated:
            words[at + 1].used = True
        if dated or look.text(at) != "last":
            return at + (2 if dated else 1)
    if link == "since" and look.flags(at) & FIGURE and len(look.text(at)) == 4 and look.text(at).isdigit():
        words[at].used = True  # "since 2015"
        return at + 1
    if look.flags(at) & (FIGURE | QUANTITY) and not starts_thing(words, at):
        if link in ("so", "as", "because", "since") and look.flags(at) & QUANTITY and look.finite_at(at + 1):
            return figure(look, at)  # "it has an O-ring, so 12 N·m is plenty"
        clause = look.new("fragment", at)
        clause.link, clause.front = link, front
        return verb_phrase(look, clause, at)
    if look.text(at) == "there" and look.finite_at(at + 1):
        count = len(look.clauses)
        end = existential(look, at)
        look.clauses[count].link, look.clauses[count].front = link, front
        return end
    clause = look.new("statement", at)
    clause.link, clause.front = link, front
    if starts_thing(words, at) or look.flags(at) & NEG:
        subject, end = subject_at(look, at)
        if subject is not None:
            clause.subject = subject
            at = end
            that = subject.pronoun and subject.head in ("that", "this")  # "and after that go over the bolts"
            timed = that or subject.count or subject.head in _TIMES
            if link in ("after", "before") and timed and look.command_at(at, True):
                clause.role, clause.subject, clause.stop = "fragment", None, at
                clause.pieces.append(subject)
                return at  # "after 50 running hours check …"
            if look.flags(at) & (PAST | ING) and not look.finite_at(at) and look.flags(at) & PAST:
                # "the paste gone off": its verb left out, or a plain past
                clause.verb, clause.lemma, clause.tense = words[at], words[at].lemma, "past"
                words[at].used = True
                return verb_phrase(look, clause, at + 1)
            if not look.finite_at(at):
                # only a name: "before reuse", "after 25 hours"
                clause.role = "fragment"
                clause.pieces.append(subject)
                return verb_phrase(look, clause, at)
            return finite(look, clause, at)
    if look.flags(at) & PAST:
        # "once removed", "if fitted"
        clause.verb, clause.lemma, clause.tense = words[at], words[at].lemma, "participle"
        words[at].used = True
        return verb_phrase(look, clause, at + 1)
    return verb_phrase(look, clause, at)


def fronted(look: Look, at: int) -> int:
    """ "With a 10 mm key, …", "To 26 N·m, tighten …", "In case of …": a phrase ahead of its command."""
    clause = look.new("phrase", at)
    clause.front = True
    return verb_phrase(look, clause, at)


def figure(look: Look, at: int) -> int:
    """A figure that stands alone: "; 32 Nm", "about 20 minutes", "120 N·m is the limit"."""
    if look.finite_at(at + 1) and look.flags(at + 1) & (AUX | MODAL | THIRD):
        clause = look.new("statement", at)
        thing = Thing()
        thing.text = thing.head = "there"
        thing.pronoun = True
        clause.subject = thing
        look.words[at].used = True
        if look.flags(at) & QUANTITY:
            clause.pieces.append(look.words[at])
        return finite(look, clause, at + 1)
    clause = look.new("fragment", at)
    return verb_phrase(look, clause, at)


def trailing(look: Look, at: int) -> int:
    """A participle or adjective behind a comma: ", hand-started", ", started by hand", ", oiled"."""
    words = look.words
    word = words[at]
    clause = look.new("participle", at)
    if word.flags & PAST and word.lemma in look.book.senses:
        clause.verb, clause.lemma, clause.tense = word, word.lemma, "participle"
        word.used = True
        return verb_phrase(look, clause, at + 1)
    return verb_phrase(look, clause, at)


def tail(look: Look, at: int) -> int:
    """ ", no sealant", "without its washer", "never oil", "not with a scraper"."""
    words = look.words
    clause = look.new("tail", at)
    clause.negated = True
    word = words[at]
    word.used = True
    clause.said.append(word.text)
    barring = word.text in ("without", "avoid", "refrain from") or word.text.endswith((" in", " of", " about"))
    if barring and look.flags(at + 1) & ING:
        inner = words[at + 1]
        inner.used = True
        clause.verb, clause.lemma, clause.role = inner, inner.lemma, "gerund"
        clause.link = "without" if word.text == "without" else ""
        clause.tense = "command" if word.text != "without" else "ing"
        return verb_phrase(look, clause, at + 2)
    if word.text == "no" and starts_thing(words, at):
        thing, end = thing_at(words, at)
        if thing is not None:
            clause.pieces.append(thing)
            mark(words, at, end)
            return verb_phrase(look, clause, end)
    return verb_phrase(look, clause, at + 1)
