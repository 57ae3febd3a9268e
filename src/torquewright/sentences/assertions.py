"""Clauses with a subject and its verb: what is so, what binds, a label with its figure, a bare name."""

from __future__ import annotations

from torquewright.sentences.clause import Clause
from torquewright.sentences.lexicon import (
    ADJ,
    ADV,
    AUX,
    BASE,
    CONJ,
    DET,
    ING,
    MODAL,
    NEG,
    NOUN,
    PAST,
    PREP,
    PUNCT,
    QUANTITY,
    SUB,
    THIRD,
)
from torquewright.sentences.look import Look, mark
from torquewright.sentences.names import starts_thing, thing_at
from torquewright.sentences.predicates import close, verb_phrase
from torquewright.sentences.remarks import RELATIVES, brackets, relative
from torquewright.sentences.things import Thing


def subject_at(look: Look, at: int) -> tuple[Thing | None, int]:
    words = look.words
    look.manner = []
    thing, end = thing_at(words, at)
    if thing is None:
        return None, at
    mark(words, at, end)
    if (
        look.text(end) == "but"
        and thing.head in ("everything", "all", "nothing", "none")
        and starts_thing(words, end + 1)
    ):
        more, after = thing_at(words, end + 1)  # "everything but the dowel bolt"
        if more is not None:
            mark(words, end, after)
            look.beside.append(more)
            end = after
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
            while more is not None and look.text(after) in ("and", "or") and starts_thing(words, after + 1):
                further, past = thing_at(words, after + 1)
                if further is None or (look.finite_at(past) and look.text(end) not in ("with", "of")):
                    break
                after = past
            main = _second_verb(look, after + 1) if look.text(after) in RELATIVES else 0
            if more is not None and main:
                mark(words, end, main)  # "any bolt with a torn thread or rust that stays is exchanged"
                look.beside.append(more)
                end = main
                continue
            if more is not None and (look.finite_at(after) or look.flags(after) & (PREP | ADV)):
                mark(words, end, after)
                look.beside.append(more)
                if thing.owner is None and look.text(end) == "of":
                    thing.owner = more
                end = after
                continue
        if look.text(end) in ("below", "above", "overleaf", "opposite") and look.finite_at(end + 1):
            words[end].used = True  # "the figures below were worked out for …"
            end += 1
            continue
        if look.flags(end) & ADV and not (look.flags(end) & ADJ and not look.finite_at(end + 1)):
            words[end].used = True
            look.manner.append(words[end].text)
            end += 1
            continue
        break  # "wing nut hand tight": how it is
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
        elif text in ("need", "needs") and not clause.modal and _to_be(look, at + 1):
            clause.modal = "need"  # "the others need only be nipped"
        elif flags & MODAL and not (text == "need" and flags & NOUN):
            clause.modal = clause.modal or text
        elif text in ("is", "are", "was", "were", "be", "been", "being", "am"):
            be = True
            if text in ("was", "were"):
                clause.tense = "past"
        elif text in ("has", "have", "had", "having"):
            have = True
            clause.front = clause.front or text == "having"
        elif text == "used to":
            clause.tense = "past"  # "the torque used to be 30 N·m"
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


def _to_be(look: Look, at: int) -> bool:
    while look.flags(at) & ADV or look.text(at) == "to":
        at += 1
    return look.text(at) == "be"


def named(look: Look, at: int, fresh: bool) -> int:
    """A clause that starts with a name: a statement, a label with its figure, or a bare name."""
    words = look.words
    subject, end = subject_at(look, at)
    if subject is None:
        return at + 1
    clause = look.new("statement", at)
    clause.subject = subject
    clause.said, look.manner = [*look.manner], []  # "Pinch bolt by hand, then 45 N·m"
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
            if thing is not None and after > inner and thing.pronoun and thing.count and not subject.count:
                subject.count, inner = thing.count, after  # "The bolts, all six of them, go to …"
            elif thing is not None and after > inner:
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
                if not subject.definite and subject.count is None:
                    clause.remark = "which"  # only those of which that is true
                end = main
            else:
                end = relative(look, clause, end)
    if look.text(end) == "then" and look.finite_at(end + 1):
        words[end].used = True  # "the fitter then tightens …"
        clause.then, end = True, end + 1
    if look.finite_at(end) or _did(look, subject, end):
        return finite(look, clause, end)
    listed = any(held.tense == "passive" and not held.modal for held in look.clauses[:-1])
    if (fresh or listed) and _ticked_off(look, subject, end):
        clause.verb, clause.lemma, clause.tense = words[end], words[end].lemma, "passive"
        words[end].used = True
        return verb_phrase(look, clause, end + 1)  # "Drain plug removed, oil drained."
    clause.role = "fragment"
    clause.subject = None
    clause.pieces.append(subject)
    if look.text(end) == "with" and starts_thing(words, end + 1):
        held, after = thing_at(words, end + 1)
        if held is not None and look.text(after) == ":" and look.text(after + 1) in _NOTED:
            mark(words, end, after)
            clause.brackets.append(held)
            end = after
    if look.text(end) == ":" and (noted := _noted(look, clause, subject, end + 1)):
        return noted
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


def _did(look: Look, subject: Thing, at: int) -> bool:
    """Whether a plain past stands here, done by the subject: "the factory tightened these screws"."""
    if not look.flags(at) & PAST or subject.kind or not look.flags(at + 1) & DET:
        return False
    thing, _ = thing_at(look.words, at + 1)
    return thing is not None and thing.kind == "fastener"


def _ticked_off(look: Look, subject: Thing, at: int) -> bool:
    """Whether a participle ends a note of what is done ("Nuts torqued to 20 N·m, tabs bent up."), with no verb of its
    own behind it."""
    word = look.words[at] if at < look.length else None
    if word is None or not word.flags & PAST or word.flags & NOUN or word.lemma not in look.book.senses:
        return False
    if word.flags & ADJ and (word.text in _HARMED or not word.text.endswith("ed")):
        return False
    if subject.kind in ("tool", "measure", "torque-label") or subject.quantifier in ("any", "no") or subject.pronoun:
        return False
    if at + 1 < look.length and not look.flags(at + 1) & (PUNCT | PREP | ADV | CONJ):
        return False
    probe = at + 1
    while probe < look.length and look.text(probe) not in (".", ";", ":"):
        if look.finite_at(probe) or look.command_at(probe):
            return False
        probe += 1
    return True


_HARMED = frozenset("cracked damaged scored stretched corroded pitted distorted flattened closed fixed".split())


def _noted(look: Look, clause: Clause, subject: Thing, at: int) -> int:
    """Reads "level plug with a new seal: in by hand, then 18 N·m" as put in; 0 where no such note stands at ``at``."""
    behind = at + 2 if look.text(at) == "back" and look.text(at + 1) in ("on", "in") else at + 1
    if look.text(at) not in _NOTED or not (look.flags(behind) & (PUNCT | ADV) or look.text(behind) in ("by", "with")):
        return 0
    clause.role, clause.tense = "command", "command"
    clause.verb, clause.lemma = look.words[at], "take" if look.text(at) in ("off", "out") else "put"
    clause.particles.append(look.text(at))
    clause.preps.extend(("with", held) for held in clause.brackets if held.kind in ("washer", "seal", "lock"))
    mark(look.words, at - 1, behind)
    return verb_phrase(look, clause, behind)


_NOTED = frozenset("in on back off out home".split())


def _aside_end(look: Look, at: int) -> int:
    """The index behind ", …," that interrupts a subject and its verb; 0 where nothing does."""
    if look.text(at) != ",":
        return 0
    probe = at + 1
    while probe < look.length and probe < at + 14 and look.text(probe) not in (",", ".", ";", ":"):
        if look.command_at(probe) and look.text(probe - 1) in (",", "and"):
            return 0
        probe += 1
    told = look.flags(probe + 1) & (AUX | MODAL) or look.text(at + 1) in ("all", "both", "each", "not")
    if look.text(probe) == "," and look.finite_at(probe + 1) and told:
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
            done = False  # "that have stretched must go": behind the participle another verb begins
            while at < look.length and look.flags(at) & (AUX | MODAL | PAST | NEG) and not look.flags(at) & PUNCT:
                if done and look.flags(at) & (AUX | MODAL):
                    return at
                done = bool(look.flags(at) & PAST) and not look.flags(at) & (AUX | MODAL)
                at += 1
            if look.flags(at) & BASE:
                at += 1
                continue
        at += 1
    return 0
