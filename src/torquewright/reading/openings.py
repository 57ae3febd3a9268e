"""The other ways a clause begins: with a name, a figure, an -ing word, "if", "before", "no", a phrase ahead."""

from __future__ import annotations

from torquewright.reading.clause import Clause
from torquewright.reading.lexicon import (
    ADJ,
    ADV,
    AUX,
    BASE,
    CONJ,
    DET,
    FIGURE,
    ING,
    MODAL,
    NEG,
    NOUN,
    PAST,
    PREP,
    PRON,
    PUNCT,
    QUANTITY,
    SUB,
    THIRD,
)
from torquewright.reading.look import Look, mark
from torquewright.reading.names import starts_thing, thing_at
from torquewright.reading.predicates import close, verb_phrase
from torquewright.reading.remarks import RELATIVES, brackets, relative
from torquewright.reading.things import Thing


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
    while look.flags(at) & ADV and not starts_thing(look.words, at):
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
    if look.flags(at) & (FIGURE | QUANTITY) and not starts_thing(words, at):
        clause = look.new("fragment", at)
        clause.link, clause.front = link, front
        return verb_phrase(look, clause, at)
    clause = look.new("statement", at)
    clause.link, clause.front = link, front
    if starts_thing(words, at) or look.flags(at) & NEG:
        subject, end = _subject(look, at)
        if subject is not None:
            clause.subject = subject
            at = end
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


def inverted(look: Look, at: int, negated: bool = False) -> int:
    """ "Should the joint weep, …"; "Under no circumstances may the screw be adjusted" (``negated``)."""
    look.words[at].used = True
    clause = look.new("statement", at)
    if negated:
        clause.negated, clause.modal = True, look.text(at)
    else:
        clause.link, clause.front = "if", True
    subject, end = _subject(look, at + 1)
    clause.subject = subject
    if negated:
        return finite(look, clause, end)
    if end < look.length and look.flags(end) & BASE:
        word = look.words[end]
        clause.verb, clause.lemma, clause.tense = word, word.lemma, "active"
        word.used = True
        end += 1
    return verb_phrase(look, clause, end)


def _subject(look: Look, at: int) -> tuple[Thing | None, int]:
    words = look.words
    thing, end = thing_at(words, at)
    if thing is None:
        return None, at
    mark(words, at, end)
    while look.text(end) in ("and", "or") and starts_thing(words, end + 1) and not look.command_at(end + 1):
        more, after = thing_at(words, end + 1)
        if more is None:
            break
        mark(words, end, after)
        if more.kind and not thing.kind:
            thing, more = more, thing
        look.beside.append(more)
        end = after
    # what stands between the subject and its verb: "on the screws", "you took out"
    guard = 0
    while (
        end < look.length
        and guard < 6
        and not look.finite_at(end)
        and look.flags(end) & (PREP | ADV)
        and not look.flags(end) & (SUB | CONJ)
    ):
        guard += 1
        nxt = end + 1
        if look.flags(nxt) & QUANTITY and not starts_thing(words, nxt):
            words[end].used = words[nxt].used = True
            look.ahead.append(words[nxt])
            end = nxt + 1
            continue
        if starts_thing(words, nxt):
            more, after = thing_at(words, nxt)
            if more is not None and (look.finite_at(after) or look.flags(after) & (PREP | ADV)):
                mark(words, end, after)
                look.beside.append(more)
                if thing.owner is None and look.text(end) == "of":
                    thing.owner = more
                end = after
                continue
        if look.flags(end) & ADV:
            words[end].used = True
            end += 1
            continue
        break
    return thing, end


def finite(look: Look, clause: Clause, at: int) -> int:
    """The verb of a statement with its helpers, then what stands behind it."""
    words = look.words
    be = have = False
    while at < look.length:
        word = words[at]
        flags, text = word.flags, word.text
        if flags & NEG and not flags & DET:
            clause.negated = not clause.negated
            if "to be" in text:
                clause.modal, be = clause.modal or "be to", True
            elif text.startswith(("must", "shall", "should", "may", "can", "won't", "needn't", "need")):
                clause.modal = text
            elif "necessary" in text or text == "no need to":
                clause.modal = "need"
        elif flags & MODAL and not (text == "need" and flags & NOUN):
            clause.modal = clause.modal or text
        elif text in ("is", "are", "was", "were", "be", "been", "being", "am"):
            be = True
            if text in ("was", "were"):
                clause.tense = "past"
        elif text in ("has", "have", "had", "having"):
            have = True
        elif text in ("do", "does", "did") and look.flags(at + 1) & (NEG | BASE):
            pass
        elif text == "to" and (be or have or clause.modal) and look.flags(at + 1) & (BASE | AUX):
            clause.modal = clause.modal or ("have to" if have and not be else "be to")
            have = False if not be else have
        elif (
            flags & ADV
            and not flags & (PAST | BASE)
            and look.flags(at + 1) & (PAST | AUX | BASE | ADV | NEG | ING | THIRD | ADJ | PREP)
        ):
            clause.said.append(text)
        else:
            break
        word.used = True
        at += 1
    if at >= look.length:
        clause.lemma = "be" if be else "have"
        return close(look, clause, at)
    word = words[at]
    flags = word.flags
    stranger = flags & ADJ and word.lemma not in look.book.senses
    if flags & PAST and (be or have) and (not stranger or (clause.modal and word.text not in look.book.flags)):
        clause.verb, clause.lemma = word, word.lemma
        clause.tense = ("perfect" if have else "past" if clause.tense == "past" else "") + ("passive" if be else "")
        word.used = True
        return verb_phrase(look, clause, at + 1)
    if flags & ING and be:
        clause.verb, clause.lemma, clause.tense = word, word.lemma, "active"
        word.used = True
        return verb_phrase(look, clause, at + 1)
    if be:
        clause.lemma, clause.tense = "be", clause.tense or "active"
        return verb_phrase(look, clause, at)
    if flags & (BASE | THIRD | PAST):
        clause.verb, clause.lemma = word, word.lemma
        clause.tense = "past" if flags & PAST and not flags & BASE and not clause.modal else "active"
        word.used = True
        return verb_phrase(look, clause, at + 1)
    clause.lemma, clause.tense = "have", clause.tense or "active"
    return verb_phrase(look, clause, at)


def named(look: Look, at: int, fresh: bool) -> int:
    """A clause that starts with a name: a statement, a label with its figure, or a bare name."""
    words = look.words
    subject, end = _subject(look, at)
    if subject is None:
        return at + 1
    clause = look.new("statement", at)
    clause.subject = subject
    clause.negated = subject.quantifier == "no"
    clause.pieces.extend(look.ahead)
    clause.brackets.extend(look.beside)
    look.ahead, look.beside = [], []
    if look.text(end) == "(":
        end = brackets(look, clause, end)
    aside = _aside_end(look, end)
    if aside:
        # "All screws, with the exception of the stop screw, are …"
        inner = end + 1
        while inner < aside - 1:
            thing, after = thing_at(words, inner) if starts_thing(words, inner) else (None, inner)
            if thing is not None and after > inner:
                clause.brackets.append(thing)
                inner = after
            else:
                inner += 1
        mark(words, end, aside)
        end = aside
    if look.text(end) in RELATIVES or (look.flags(end) & (PAST | ING) and not look.finite_at(end)):
        probe = end + 1
        while probe < look.length and not look.flags(probe) & PUNCT and not look.flags(probe) & (AUX | MODAL):
            probe += 1
        if look.flags(probe) & (AUX | MODAL) and look.text(end) not in ("that", "which", "who"):
            mark(words, end, probe)
            end = probe
        elif look.text(end) in RELATIVES:
            main = _second_verb(look, end + 1)
            if main:
                mark(words, end, main)
                end = main
            else:
                end = relative(look, clause, end)
    if look.finite_at(end):
        return finite(look, clause, end)
    clause.role = "fragment"
    clause.subject = None
    clause.pieces.append(subject)
    if look.text(end) == ":":
        words[end].used = True
        clause.said.append(":")
        end += 1
        if look.text(end) in ("snug", "hand", "finger") and look.flags(end + 1) & PUNCT:
            words[end].used = True
            clause.said.append(look.text(end))
            return close(look, clause, end + 1)
        if look.command_at(end, True):
            return close(look, clause, end)
    return verb_phrase(look, clause, end)


def _aside_end(look: Look, at: int) -> int:
    """The index behind ", …," that interrupts a subject and its verb; 0 where nothing does."""
    if look.text(at) != ",":
        return 0
    probe = at + 1
    while probe < look.length and probe < at + 14 and look.text(probe) not in (",", ".", ";", ":"):
        if look.command_at(probe) and look.text(probe - 1) in (",", "and"):
            return 0
        probe += 1
    if look.text(probe) == "," and look.finite_at(probe + 1) and look.flags(probe + 1) & (AUX | MODAL):
        return probe + 1
    return 0


def _second_verb(look: Look, at: int) -> int:
    """The index of the main verb behind "that moves …"; 0 where there is none before the next stop."""
    seen = False
    while at < look.length and not look.flags(at) & PUNCT:
        if look.finite_at(at) and not look.flags(at) & ADV:
            if seen:
                return at
            seen = True
            while at < look.length and look.flags(at) & (AUX | MODAL | PAST | NEG) and not look.flags(at) & PUNCT:
                at += 1
            if look.flags(at) & BASE:
                at += 1
                continue
        at += 1
    return 0


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
    if word.text in ("without", "avoid", "refrain from") and look.flags(at + 1) & ING:
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
