"""What stands around a verb: its objects, small words, figures, tools and remarks; and the other kinds of clause."""

from __future__ import annotations

from typing import TYPE_CHECKING

from torquewright.reading.clauses import Clause, mark
from torquewright.reading.lexicon import (
    ADJ,
    ADV,
    AUX,
    BASE,
    CALL,
    CONJ,
    DEMAND,
    DET,
    FIGURE,
    ING,
    MODAL,
    NEG,
    NOUN,
    NUM,
    PART,
    PAST,
    PREP,
    PRON,
    PUNCT,
    QUANTITY,
    SIZE,
    SUB,
    THIRD,
    UNKNOWN,
)
from torquewright.reading.things import Thing, starts_thing, thing_at

if TYPE_CHECKING:
    from torquewright.reading.clauses import Parser

_RELATIVES = frozenset("that which who whose you".split())
_CAUSATIVE = frozenset("let allow make help keep leave".split())
_CHECKS = frozenset("check ensure confirm verify see make test note find observe watch be".split())
_ORIENTED = frozenset(
    "outward outwards inward inwards upward upwards downward downwards up down out in first last forward forwards facing "
    "upright outermost innermost uppermost away rearward to on foremost towards".split()
)
_ORDINAL = frozenset("first second third fourth final last 1st 2nd 3rd next".split())


def command(parser: Parser, at: int, then: bool = False) -> int:
    """A command: "[do not] [carefully] verb …"."""
    words = parser.words
    clause = parser._new("command", at, then)
    while parser.flags(at) & (ADV | NEG | CONJ) and not (parser.command_at(at, True) and not parser.flags(at) & NEG):
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
        if parser.text(at + 1) == "to" and parser.flags(at + 2) & BASE:
            words[at + 1].used = True
            parser.clauses.pop()
            return command(parser, at + 2, then)
        if parser.text(at + 1) == "not" and parser.text(at + 2) == "to":
            parser.clauses.pop()
            words[at + 1].used = words[at + 2].used = True
            end = command(parser, at + 3, then)
            parser.clauses[-1].negated = True
            return end
        clause.verb, clause.lemma, clause.tense = word, "make", "command"
        clause.particles.append("sure")
        return _that(parser, clause, at + 1)
    if word.text == "to":
        word.used = True
        at += 1
        word = words[at]
    word.used = True
    clause.verb, clause.lemma, clause.tense = word, word.lemma, "command"
    clause.start = word.start
    if clause.negated and word.lemma in ("fail", "forget", "omit", "neglect") and parser.text(at + 1) == "to":
        # two negatives: do it
        parser.clauses.pop()
        words[at + 1].used = True
        return command(parser, at + 2, then)
    return verb_phrase(parser, clause, at + 1)


def verb_phrase(parser: Parser, clause: Clause, at: int) -> int:
    """Everything behind a verb that belongs to it; returns the index where the next clause starts."""
    words = parser.words
    length = parser.length
    lemma = clause.lemma
    last: str = ""
    ordered = False
    while at < length:
        word = words[at]
        flags, text = word.flags, word.text
        if flags & PUNCT:
            if text == "(":
                at = brackets(parser, clause, at)
                continue
            if text == ",":
                at, stop = _comma(parser, clause, at, last)
                if stop:
                    return _close(parser, clause, at)
                if parser.latest:
                    last, parser.latest = parser.latest, ""
                if parser.moved is not None:
                    _close(parser, clause, at)
                    clause, parser.moved = parser.moved, None
                    lemma, last = clause.lemma, "object"
                continue
            if text == ":" and _figures_follow(parser, at + 1):
                word.used = True
                at += 1
                continue
            if text in ("→", "/", "'", '"', "“", "”", "×", "+", "&", "-"):
                word.used = True
                at += 1
                continue
            return _close(parser, clause, at)
        if flags & CONJ:
            at, stop = _joined(parser, clause, at, last)
            if stop:
                return _close(parser, clause, at)
            if parser.latest:
                last, parser.latest = parser.latest, ""
            if parser.moved is not None:
                _close(parser, clause, at)
                clause, parser.moved = parser.moved, None
                lemma, last = clause.lemma, "object"
            continue
        if flags & QUANTITY and not starts_thing(words, at):
            word.used = True
            clause.pieces.append(word)
            last = "torque"
            at += 1
            continue
        if text in _RELATIVES and last in ("object", "prep") and not (text == "that" and lemma in _CHECKS):
            at = relative(parser, clause, at)
            continue
        if text == "that" and lemma in _CHECKS or flags & SUB and text == "whether":
            return _that(parser, clause, at)
        if lemma in ("check", "ensure", "see", "confirm", "verify", "make", "find") and text in ("how", "why", "what", "where"):
            return _that(parser, clause, at)
        if flags & SUB or text in ("before", "after", "prior to"):
            if text in ("as", "though") or flags & PREP and text not in ("before", "after", "until", "till", "prior to", "since"):
                at = _small_word(parser, clause, at)
                last = "prep"
                continue
            return _close(parser, clause, at)
        if flags & DEMAND:
            return _close(parser, clause, at)
        if flags & NEG:
            if text == "without" or text == "no" and lemma in ("be", "use", "apply", "leave"):
                return _close(parser, clause, at)
            if text == "no" and starts_thing(words, at + 1):
                thing, after = thing_at(words, at)
                if thing is not None:
                    clause.pieces.append(thing)
                    mark(words, at, after)
                    at = after
                    last = "object"
                    continue
            if text == "not" and parser.flags(at + 1) & PREP:
                return _close(parser, clause, at)
            clause.said.append(text)
            word.used = True
            at += 1
            continue
        if text in _ORDINAL and _figures_follow(parser, at + 1, pass_words=True):
            word.used = True
            ordered = True
            at += 1
            while parser.text(at) in ("pass", "stage", "step", "round", "to", "at", "=", ":"):
                words[at].used = True
                at += 1
            continue
        if lemma in _CAUSATIVE and last == "object" and flags & (BASE | ING | PAST) and not clause.complement and not flags & NOUN:
            clause.complement = word.lemma
            word.used = True
            at += 1
            continue
        if lemma in _CAUSATIVE and last == "object" and flags & BASE and not clause.complement and word.lemma in (
            "cool", "drain", "drip", "settle", "stand", "cure", "dry", "run", "fill", "set", "rest", "soak", "harden", "work",
        ):
            clause.complement = word.lemma
            word.used = True
            at += 1
            continue
        if flags & (PREP | PART) and not (flags & ADJ and starts_thing(words, at) and not flags & PREP and last != "object"):
            at = _small_word(parser, clause, at)
            if clause.preps and clause.preps[-1][1] is not None:
                last = "prep" if isinstance(clause.preps[-1][1], Thing) else "torque" if clause.preps[-1][1].flags & QUANTITY else last
            continue
        if flags & PRON and text in ("it", "you", "they", "we") and last in ("object", "prep") and parser.finite_at(at + 1):
            # "the oil it will seal": a relative clause without its "that"
            at = relative(parser, clause, at)
            continue
        if starts_thing(words, at) and not (flags & ADV and not flags & NOUN and not flags & DET and last == "object"):
            if last == "object" and _states(parser, at):
                at = _state(parser, clause, at)
                continue
            if last == "object" and parser.finite_at(at) and not flags & (DET | NOUN):
                # "Make sure both dowels are": a statement inside
                return _that(parser, clause, at)
            thing, after = thing_at(words, at)
            if thing is not None and after > at:
                clause.pieces.append(thing)
                mark(words, at, after)
                at = after
                last = "object"
                if lemma in _CHECKS and parser.finite_at(at) and not parser.command_at(at):
                    return _that(parser, clause, at)
                continue
        if flags & FIGURE:
            word.used = True
            if not word.kind and _unit_later(parser, at):
                clause.pieces.append(word)
                last = "torque"
            else:
                clause.measures.append(word)
            at += 1
            continue
        if flags & ADV:
            clause.said.append(text)
            word.used = True
            at += 1
            continue
        if flags & CALL:
            word.used = True
            at += 1
            continue
        if flags & (ADJ | PAST) and last in ("object", "prep", "torque", ""):
            at = _state(parser, clause, at)
            continue
        if flags & ING:
            if last in ("object", "prep"):
                at = relative(parser, clause, at)
                continue
            if lemma in ("start", "keep", "go", "continue", "stop", "avoid", "finish"):
                clause.complement = word.lemma
                word.used = True
                at += 1
                continue
            return _close(parser, clause, at)
        if flags & (AUX | MODAL | THIRD | BASE):
            if last == "object" and clause.role == "command" and lemma in _CHECKS:
                return _that(parser, clause, at)
            if clause.lemma in ("help",) and flags & BASE:
                clause.lemma = word.lemma
                clause.verb = word
                word.used = True
                at += 1
                continue
            return _close(parser, clause, at)
        at += 1
    _ = ordered
    return _close(parser, clause, at)


def _close(parser: Parser, clause: Clause, at: int) -> int:
    clause.stop = at
    return at


def _figures_follow(parser: Parser, at: int, pass_words: bool = False) -> bool:
    """Whether a torque stands next, past words such as "to", "first", "pass"."""
    limit = at + 4
    while at < min(limit, parser.length):
        flags, text = parser.flags(at), parser.text(at)
        if flags & QUANTITY or flags & NUM and flags & FIGURE and _unit_later(parser, at):
            return not starts_thing(parser.words, at) or bool(flags & FIGURE)
        if text in ("to", "at", "first", "with", "pass", "stage", "step", "then", "finally", ":", "by", "=", "about", "approximately", "only", "round"):
            at += 1
            continue
        return False
    return False


def _unit_later(parser: Parser, at: int) -> bool:
    """Whether a bare figure shares the unit of a torque a little further on ("12, 12 and 8 N·m")."""
    for index in range(at + 1, min(at + 8, parser.length)):
        flags = parser.flags(index)
        if flags & QUANTITY:
            return True
        if not (flags & (FIGURE | CONJ) or parser.text(index) == ","):
            return False
    return False


def _comma(parser: Parser, clause: Clause, at: int, last: str) -> tuple[int, bool]:
    """What a comma does behind a verb: (next index, whether the clause ends here)."""
    words = parser.words
    after = at + 1
    while parser.flags(after) & CONJ:
        after += 1
    if after >= parser.length:
        return at, True
    flags, text = parser.flags(after), parser.text(after)
    then = any(words[index].text == "then" for index in range(at + 1, after))
    if parser.command_at(after):
        return at, True
    if _figures_follow(parser, after) and not (flags & SUB):
        mark(words, at, after)
        return after, False
    if flags & (SUB | NEG | DEMAND) or text in ("before", "after", "prior to"):
        return at, True
    if flags & QUANTITY and not starts_thing(words, after):
        mark(words, at, after)
        return after, False
    if flags & ING and not starts_thing(words, after):
        return at, True
    if flags & ING and parser.flags(after + 1) & (DET | PREP | NUM | NOUN) and not (last == "object" and starts_thing(words, after) and not parser.flags(after + 1) & (DET | NUM)):
        return at, True
    if text in _RELATIVES:
        mark(words, at, after)
        return relative(parser, clause, after), False
    joined = _further_passive(parser, clause, after)
    if joined:
        mark(words, at, joined)
        return joined, False
    if flags & ADV and not flags & (NOUN | DET):
        probe = after
        while parser.flags(probe) & ADV:
            probe += 1
        if parser.command_at(probe, True) or parser.flags(probe) & NEG and probe > after:
            return at, True
        if parser.flags(probe) & PREP and _figures_follow(parser, probe):
            mark(words, at, probe)
            return probe, False
        mark(words, at, after)
        return after, False
    if parser.statement_at(after):
        return at, True
    if flags & ADJ and not flags & (NOUN | UNKNOWN) and not parser.flags(after + 1) & (NOUN | UNKNOWN | ADJ | SIZE) and words[after].lemma not in ("hand-start",) and (
        not flags & PAST or text in ("left", "oiled", "greased")
    ):
        mark(words, at, after)
        return _state(parser, clause, after), False
    if starts_thing(words, after):
        thing, end = thing_at(words, after)
        if thing is not None and thing.pronoun and thing.head in ("each", "all", "both", "one") and parser.flags(end) & PREP and not parser.flags(end) & QUANTITY and parser.text(end) != "to":
            mark(words, at, end)
            return _skip(parser, clause, end, named=True), False
        if thing is not None and thing.head == "pair" and clause.objects:
            mark(words, at, end)
            clause.said.append(thing.text)
            return end, False
        if thing is not None:
            oriented = parser.text(end) in _ORIENTED and not parser.flags(end) & QUANTITY
            if oriented and thing.kind not in ("fastener",) or oriented and parser.text(end) in ("first", "last"):
                # "cable side down", "negative lead first": how it lies, not another object
                mark(words, at, end + 1)
                clause.said.append(f"{thing.text} {parser.text(end)}")
                end += 1
                while parser.flags(end) & (PREP | NOUN | DET) and parser.text(end) not in ("with", "to", "and") and end < parser.length:
                    words[end].used = True
                    end += 1
                return end, False
            if then and last == "torque" and not clause.objects:
                return at, True
            mark(words, at, end)
            if last == "prep" and clause.preps and clause.preps[-1][0] in ("with", "together with") or (
                last == "prep" and clause.lemma in ("secure", "fasten", "attach", "fix", "use")
            ):
                clause.preps.append(("with", thing))
            elif last == "prep" and clause.preps and clause.preps[-1][0] in ("for", "between", "on", "in") and not thing.kind:
                clause.preps.append((clause.preps[-1][0], thing))
            else:
                clause.pieces.append(thing)
                parser.latest = "object"
            return end, False
    if flags & PREP:
        mark(words, at, after)
        return after, False
    if flags & (PAST | ADJ):
        return at, True
    if flags & FIGURE:
        mark(words, at, after)
        return after, False
    return at, True


def _joined(parser: Parser, clause: Clause, at: int, last: str) -> tuple[int, bool]:
    """What "and", "or", "then" do behind a verb: (next index, whether the clause ends here)."""
    words = parser.words
    after = at
    while parser.flags(after) & CONJ:
        after += 1
    flags, text = parser.flags(after), parser.text(after)
    if after >= parser.length or flags & PUNCT and text != "(":
        mark(words, at, after)
        return after, False
    if parser.command_at(after):
        return at, True
    if flags & ADV and not flags & (NOUN | DET):
        probe = after
        while parser.flags(probe) & ADV:
            probe += 1
        if parser.command_at(probe, True):
            return at, True
        if _figures_follow(parser, probe):
            mark(words, at, probe)
            return probe, False
    if _figures_follow(parser, after):
        mark(words, at, after)
        return after, False
    if flags & ADJ and not flags & (NOUN | UNKNOWN | PAST) and not parser.flags(after + 1) & (NOUN | UNKNOWN | ADJ) or text in ("left", "right") and parser.flags(after + 1) & PUNCT:
        mark(words, at, after)
        return _state(parser, clause, after), False
    if words[at].text == "but" and after == at + 1 and flags & (DET | NUM) and not parser.statement_at(after):
        # "every bolt but the two at the bottom"
        thing, end = thing_at(words, after)
        if thing is not None:
            mark(words, at, end)
            clause.preps.append(("except", thing))
            return end, False
    joined = _further_passive(parser, clause, after)
    if joined:
        mark(words, at, joined)
        return joined, False
    if clause.role == "statement" and parser.finite_at(after) and not flags & (NOUN | DET):
        # "is out and stays out": the same subject goes on
        mark(words, at, after)
        while parser.flags(after) & (AUX | MODAL | NEG | ADV):
            words[after].used = True
            after += 1
        if parser.flags(after) & (BASE | THIRD | PAST | ING):
            words[after].used = True
            after += 1
        return after, False
    if flags & (NEG | DEMAND) or flags & SUB or text in ("before", "after"):
        return at, True
    if flags & ING and not starts_thing(words, after):
        return at, True
    if parser.statement_at(after):
        return at, True
    if starts_thing(words, after):
        thing, end = thing_at(words, after)
        if thing is not None:
            mark(words, at, end)
            if last == "prep" and clause.preps:
                clause.preps.append((clause.preps[-1][0], thing))
            else:
                clause.pieces.append(thing)
                parser.latest = "object"
            return end, False
    mark(words, at, after)
    return after, False


_NEED_OBJECTS = frozenset("screw put run wind spin drop slide slip push press fit pull lift take pop stick thread tap drive turn bung shove".split())


def _takes(parser: Parser, lemma: str, particle: str) -> bool:
    """Whether a verb that needs an object has a sense with this particle."""
    return lemma in _NEED_OBJECTS and any(particle in sense.particles for sense in parser.book.senses.get(lemma, ()))


def _further_passive(parser: Parser, clause: Clause, at: int) -> int:
    """"… are to be loosened and (to be) removed": a further verb done to the same subject. Its clause is added; the
    phrases that follow go to it. Returns the index behind the verb, 0 where there is none."""
    if clause.role != "statement" or "passive" not in clause.tense and clause.lemma != "be" or clause.subject is None:
        return 0
    probe = at
    negated = False
    while parser.text(probe) in ("to", "be", "been", "shall", "must", "are", "is") or parser.flags(probe) & (ADV | NEG) and not parser.flags(probe) & PAST:
        negated = negated or bool(parser.flags(probe) & NEG)
        probe += 1
    if not parser.flags(probe) & PAST or parser.words[probe].lemma not in parser.book.senses:
        return 0
    if parser.flags(probe) & (ADJ | NOUN) and parser.flags(probe + 1) & (NOUN | UNKNOWN):
        return 0
    further = parser._new("statement", probe)
    further.subject, further.modal, further.tense, further.link, further.front = clause.subject, clause.modal, clause.tense or "passive", clause.link, clause.front
    if "passive" not in further.tense:
        further.tense = "passive"
    further.negated = negated
    further.verb, further.lemma = parser.words[probe], parser.words[probe].lemma
    parser.words[probe].used = True
    parser.moved = further
    return probe + 1


def _small_word(parser: Parser, clause: Clause, at: int) -> int:
    """A particle or a preposition with what hangs on it."""
    words = parser.words
    word = words[at]
    text = word.text
    word.used = True
    clause.particles.append(text)
    if text in ("up to", "down to", "on to", "in to", "out of", "away from"):
        clause.particles.append(text.split()[0])
    following = at + 1
    flags = parser.flags(following)
    if word.flags & PART and word.flags & PREP and not clause.objects and clause.role == "command" and _takes(parser, clause.lemma, text) and starts_thing(words, following):
        thing, _ = thing_at(words, following)
        if thing is not None and thing.kind in ("fastener", "washer", "seal", "lock", "threaded", "consumable", "") and not thing.pronoun:
            return following  # "screw in the six screws": what follows is the object
    if text == "as" and parser.flags(following) & (PAST | ADJ | PREP):
        words[following].used = True
        following += 1
        if parser.flags(following) & PREP:
            words[following].used = True
            following += 1
        flags = parser.flags(following)
        text = "as"
    if text == "to" and flags & BASE and not flags & (NUM | DET) and not (flags & NOUN and starts_thing(words, following) and not parser.command_at(following, True)):
        # "turn it clockwise to loosen": what for
        clause.purpose = words[following].lemma
        words[following].used = True
        if clause.lemma in ("use", "take") and clause.objects and clause.purpose in ("tighten", "torque", "loosen", "remove", "turn"):
            # "use the small wrench to tighten the nut": the tightening is what is told
            words[following].used = False
            clause.stop = following
            return command(parser, following)
        return _skip(parser, clause, following + 1, inner=True, named=True)
    if flags & ADV and not flags & NOUN and parser.flags(following + 1) & (QUANTITY | FIGURE):
        words[following].used = True
        following += 1
        flags = parser.flags(following)
    if text in ("off", "out", "up", "down", "away", "back", "apart", "home") and not (
        flags & DET and text in ("off", "down", "up", "out") and clause.objects
    ) and not (word.flags & PREP and flags & (DET | NOUN | UNKNOWN) and clause.objects):
        return following
    if text in ("rather than", "instead of") and flags & (BASE | ING) and not flags & NOUN:
        end = command(parser, following)
        parser.clauses[-1].negated = not parser.clauses[-1].negated
        return end
    if flags & QUANTITY and not starts_thing(words, following):
        words[following].used = True
        clause.preps.append((text, words[following]))
        clause.pieces.append(words[following])
        return following + 1
    if flags & ING and parser.flags(following + 1) & (DET | PRON | NUM | PREP | ADV | ADJ | NOUN | PUNCT) and text in ("by", "for", "from", "in", "when", "without", "of", "with", "against", "while") and not (
        starts_thing(words, following) and parser.flags(following + 1) & NOUN and text not in ("by",)
    ):
        if text == "by":
            # the way it is done is itself done: "by removing the plug"
            clause.remark = "by"
            gerund(parser, following, link="by")
            end = parser.clauses[-1].stop
            return end
        words[following].used = True
        clause.purpose = clause.purpose or (words[following].lemma if text == "for" else "")
        return _skip(parser, clause, following + 1, inner=True)
    if starts_thing(words, following) and not (flags & ADV and not flags & (NOUN | DET) and not starts_name(parser, following)):
        if clause.lemma and parser.command_at(following) and word.flags & PART and not word.flags & PREP:
            return following
        thing, after = thing_at(words, following)
        if thing is not None:
            # "in dry", "on tight": an adjective, no thing
            if thing.pronoun and not thing.kind and parser.flags(following) & ADJ and thing.head not in ("one",) and thing.head == parser.text(following):
                return following
            mark(words, following, after)
            if thing.pronoun and thing.head == "that" and word.flags & PART:
                return following
            clause.preps.append((text, thing))
            if text in ("off", "from", "out of") and not clause.objects and clause.lemma in ("take", "pull", "lift"):
                pass
            if parser.text(after) == "(":
                return brackets(parser, clause, after)
            return after
    if flags & FIGURE:
        words[following].used = True
        if not words[following].kind and _unit_later(parser, following):
            clause.pieces.append(words[following])
        else:
            clause.measures.append(words[following])
            clause.preps.append((text, words[following]))
        return following + 1
    if flags & CALL:
        words[following].used = True
        return following + 1
    return following


def starts_name(parser: Parser, at: int) -> bool:
    """Whether an adverb here is really part of a name."""
    return bool(parser.flags(at) & ADJ) and bool(parser.flags(at + 1) & (NOUN | UNKNOWN))


def _states(parser: Parser, at: int) -> bool:
    """Whether an adjective behind a noun says how the thing is ("clean and dry", "hand-started")."""
    flags = parser.flags(at)
    if not flags & (ADJ | PAST) or flags & (DET | NUM):
        return False
    if flags & NOUN and not flags & ADJ:
        return False
    after = parser.flags(at + 1)
    return not after & (NOUN | UNKNOWN | ADJ) or bool(after & PUNCT)


def _state(parser: Parser, clause: Clause, at: int) -> int:
    """Adjectives and participles behind the object. A participle may bring a phrase of its own."""
    words = parser.words
    word = words[at]
    word.used = True
    clause.said.append(word.text)
    if word.text == "left" and parser.text(at + 1) in ("then", "and", ",", ".", ""):
        return at + 1
    if word.flags & PAST and not word.flags & ADJ or word.text in ("left", "fitted", "removed", "taken", "marked", "shown", "given"):
        return relative(parser, clause, at)
    at += 1
    while parser.text(at) in ("and", ",", "or", "then") and _states(parser, at + 1) and not parser.command_at(at + 1):
        words[at].used = words[at + 1].used = True
        clause.said.append(parser.text(at + 1))
        at += 2
    return at


def relative(parser: Parser, clause: Clause, at: int) -> int:
    """"that hold the guard", "you took out in step 3", "left loose in step 6", "holding the fan": a remark on the
    thing just named, up to where the command goes on."""
    words = parser.words
    if words[at].flags & PAST or parser.flags(at + 1) & PAST or words[at].text in ("you", "that", "which", "who"):
        clause.remark = (clause.remark + " " + " ".join(word.text for word in words[at : at + 3])).strip()
    return _skip(parser, clause, at, inner=True)


def _skip(parser: Parser, clause: Clause, at: int, inner: bool = False, named: bool = False) -> int:
    """Past a remark: to a comma, a full stop, a figure the command demands, or the next command."""
    words = parser.words
    start = at
    while at < parser.length:
        word = words[at]
        text, flags = word.text, word.flags
        if flags & PUNCT and text not in ("/", "'", '"', "-", "&"):
            if text == "(":
                at = brackets(parser, clause, at)
                continue
            break
        if flags & CONJ and at > start and (parser.command_at(at + 1) or parser.text(at) == "then" or _figures_follow(parser, at + 1)):
            break
        if text in ("to", "at") and parser.flags(at + 1) & QUANTITY and not starts_thing(words, at + 1):
            break
        if flags & SUB and text in ("before", "after", "until", "if", "unless", "when", "once", "while") and at > start:
            break
        if flags & QUANTITY and not starts_thing(words, at):
            break
        if text == "with" and at > start and inner and starts_thing(words, at + 1):
            thing, _ = thing_at(words, at + 1)
            if thing is not None and thing.kind in ("tool", "washer", "seal", "fastener", "lubricant", "compound"):
                break
        if starts_thing(words, at) and not flags & (ADV | PREP):
            thing, after = thing_at(words, at)
            if thing is not None and after > at:
                mark(words, at, after)
                if thing.labels or named and thing.kind == "fastener":
                    clause.brackets.append(thing)
                at = after
                continue
        word.used = True
        at += 1
    return at


def _that(parser: Parser, clause: Clause, at: int) -> int:
    """"Check that …": what has to be so; the statement inside is a clause of its own."""
    words = parser.words
    if parser.text(at) in ("that", "whether", "if", "how", "why", "what", "where"):
        words[at].used = True
        at += 1
    clause.stop = at
    clause.complement = "that"
    if starts_thing(words, at) and parser.statement_at(at):
        end = named(parser, at, True)
        inner = parser.clauses[-1]
        inner.link = "that"
        if inner.subject is not None and not clause.pieces:
            clause.pieces.append(inner.subject)
        return end
    if parser.finite_at(at) and clause.objects:
        inner = parser._new("statement", at)
        inner.subject = clause.objects[-1]
        inner.link = "that"
        return _finite(parser, inner, at)
    return verb_phrase(parser, clause, at) if at < parser.length and not clause.verb else _skip(parser, clause, at)


def brackets(parser: Parser, clause: Clause, at: int) -> int:
    """What stands in brackets behind a thing: its fasteners, a figure, a remark."""
    words = parser.words
    close = at + 1
    depth = 1
    while close < parser.length:
        if words[close].text == "(":
            depth += 1
        elif words[close].text == ")":
            depth -= 1
            if not depth:
                break
        close += 1
    words[at].used = True
    if close < parser.length:
        words[close].used = True
    inside = at + 1
    # an aside that commands or limits is a clause of its own
    if parser.text(inside) in ("caution", "warning", "note", "danger", "important", "notice") or parser.flags(inside) & NEG or parser.command_at(inside, True):
        aside = Parser_part(parser, inside, close)
        for held in aside:
            held.remark = held.remark or "aside"
        return close + 1
    while inside < close:
        word = words[inside]
        if word.flags & QUANTITY and not starts_thing(words, inside):
            word.used = True
            holder = words[at - 1]
            before = [held for _, held in clause.preps if isinstance(held, Thing)] + clause.objects
            owner = next((held for held in before if held.kind == "tool" and held.last == at and holder.end <= word.start), None)
            if owner is not None:
                owner.range = word
            else:
                clause.pieces.append(word)
            inside += 1
            continue
        if starts_thing(words, inside):
            thing, after = thing_at(words, inside)
            if thing is not None and after > inside:
                after = min(after, close)
                clause.brackets.append(thing)
                mark(words, inside, after)
                inside = after
                continue
        if word.flags & FIGURE:
            clause.measures.append(word)
        word.used = True
        inside += 1
    return close + 1


def Parser_part(parser: Parser, first: int, last: int) -> list[Clause]:  # noqa: N802
    """The clauses of a stretch of the sentence, added to the parser's."""
    from torquewright.reading.clauses import Parser as Inner

    for index in range(first, last):
        if parser.words[index].text in ("caution", "warning", "note", "danger", "important", "notice", ":"):
            parser.words[index].used = True
        else:
            first = index
            break
    inner = Inner(parser.words[first:last])
    parser.clauses.extend(inner.clauses)
    return inner.clauses


# ---- other kinds of clause -----------------------------------------------------------------------------------------


def gerund(parser: Parser, at: int, link: str = "") -> int:
    """"Having tightened …", "using new O-rings", "working in a star pattern", "to remove the cover"."""
    words = parser.words
    clause = parser._new("gerund", at)
    clause.link = link
    clause.front = at == 0 or link != ""
    word = words[at]
    word.used = True
    if word.text in ("having", "to"):
        clause.tense = word.text
        at += 1
        while parser.flags(at) & ADV or parser.text(at) == "been":
            words[at].used = True
            at += 1
        if at >= parser.length:
            return at
        word = words[at]
        word.used = True
    if word.text == "being":
        at += 1
        word = words[at] if at < parser.length else word
    clause.verb, clause.lemma = word, word.lemma
    clause.start = word.start
    if clause.tense != "having":
        clause.tense = clause.tense or "ing"
    return verb_phrase(parser, clause, at + 1)


def subordinate(parser: Parser, at: int) -> int:
    """"If …", "before …", "until …": a clause that hangs on another one."""
    words = parser.words
    word = words[at]
    link = word.text
    word.used = True
    front = not any(clause.role in ("command", "statement") for clause in parser.clauses) or parser.text(at - 1) in (";", ".", ":")
    only = any(parser.text(index) == "only" for index in (at - 1,) if index >= 0)
    at += 1
    if parser.text(at) in ("and", "when") and parser.flags(at + 1) & SUB:
        words[at].used = True
        at += 1
    if only and link in ("after", "when", "once", "if"):
        link = "only " + link
        words[at - 2].used = True
    while parser.flags(at) & ADV and not starts_thing(parser.words, at):
        words[at].used = True
        at += 1
    if link in ("before", "after", "prior to") and parser.flags(at) & BASE and not starts_thing(words, at) and not parser.flags(at + 1) & (DET | PRON):
        # "before reuse", "after use": a verb that is a name here
        words[at].used = True
        clause = parser._new("fragment", at)
        clause.link, clause.front, clause.stop = link, front, at + 1
        return at + 1
    if parser.flags(at) & ING and not (starts_thing(words, at) and parser.statement_at(at)):
        end = gerund(parser, at, link)
        parser.clauses[-1].front = front
        return end
    if parser.flags(at) & (FIGURE | QUANTITY) and not starts_thing(words, at):
        clause = parser._new("fragment", at)
        clause.link, clause.front = link, front
        return verb_phrase(parser, clause, at)
    clause = parser._new("statement", at)
    clause.link, clause.front = link, front
    if starts_thing(words, at) or parser.flags(at) & NEG:
        subject, end = _subject(parser, at)
        if subject is not None:
            clause.subject = subject
            at = end
            if parser.flags(at) & (PAST | ING) and not parser.finite_at(at) and parser.flags(at) & PAST:
                # "the paste gone off": its verb left out, or a plain past
                clause.verb, clause.lemma, clause.tense = words[at], words[at].lemma, "past"
                words[at].used = True
                return verb_phrase(parser, clause, at + 1)
            if not parser.finite_at(at):
                # only a name: "before reuse", "after 25 hours"
                clause.role = "fragment"
                clause.pieces.append(subject)
                return verb_phrase(parser, clause, at)
            return _finite(parser, clause, at)
    if parser.flags(at) & PAST:
        # "once removed", "if fitted"
        clause.verb, clause.lemma, clause.tense = words[at], words[at].lemma, "participle"
        words[at].used = True
        return verb_phrase(parser, clause, at + 1)
    return verb_phrase(parser, clause, at)


def inverted(parser: Parser, at: int, negated: bool = False) -> int:
    """"Should the joint weep, …"; "Under no circumstances may the screw be adjusted" (``negated``)."""
    parser.words[at].used = True
    clause = parser._new("statement", at)
    if negated:
        clause.negated, clause.modal = True, parser.text(at)
    else:
        clause.link, clause.front = "if", True
    subject, end = _subject(parser, at + 1)
    clause.subject = subject
    if negated:
        return _finite(parser, clause, end)
    if end < parser.length and parser.flags(end) & BASE:
        word = parser.words[end]
        clause.verb, clause.lemma, clause.tense = word, word.lemma, "active"
        word.used = True
        end += 1
    return verb_phrase(parser, clause, end)


def _subject(parser: Parser, at: int) -> tuple[Thing | None, int]:
    words = parser.words
    thing, end = thing_at(words, at)
    if thing is None:
        return None, at
    mark(words, at, end)
    while parser.text(end) in ("and", "or") and starts_thing(words, end + 1) and not parser.command_at(end + 1):
        more, after = thing_at(words, end + 1)
        if more is None:
            break
        mark(words, end, after)
        if more.kind and not thing.kind:
            thing, more = more, thing
        parser.beside.append(more)
        end = after
    # what stands between the subject and its verb: "on the screws", "you took out"
    guard = 0
    while end < parser.length and guard < 6 and not parser.finite_at(end) and parser.flags(end) & (PREP | ADV) and not parser.flags(end) & (SUB | CONJ):
        guard += 1
        nxt = end + 1
        if parser.flags(nxt) & QUANTITY and not starts_thing(words, nxt):
            words[end].used = words[nxt].used = True
            parser.ahead.append(words[nxt])
            end = nxt + 1
            continue
        if starts_thing(words, nxt):
            more, after = thing_at(words, nxt)
            if more is not None and (parser.finite_at(after) or parser.flags(after) & (PREP | ADV)):
                mark(words, end, after)
                if thing.owner is None and parser.text(end) == "of":
                    thing.owner = more
                end = after
                continue
        if parser.flags(end) & ADV:
            words[end].used = True
            end += 1
            continue
        break
    return thing, end


def _finite(parser: Parser, clause: Clause, at: int) -> int:
    """The verb of a statement with its helpers, then what stands behind it."""
    words = parser.words
    be = have = False
    while at < parser.length:
        word = words[at]
        flags, text = word.flags, word.text
        if flags & NEG and not flags & DET or text == "no" and flags & NEG and be and False:
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
        elif text in ("do", "does", "did") and parser.flags(at + 1) & (NEG | BASE):
            pass
        elif text == "to" and (be or have or clause.modal) and parser.flags(at + 1) & (BASE | AUX):
            clause.modal = clause.modal or ("have to" if have and not be else "be to")
            have = False if not be else have
        elif flags & ADV and not flags & (PAST | BASE) and parser.flags(at + 1) & (PAST | AUX | BASE | ADV | NEG | ING | THIRD | ADJ | PREP):
            clause.said.append(text)
        else:
            break
        word.used = True
        at += 1
    if at >= parser.length:
        clause.lemma = "be" if be else "have"
        return _close(parser, clause, at)
    word = words[at]
    flags = word.flags
    if flags & PAST and (be or have) and not (flags & ADJ and not word.lemma in parser.book.senses):
        clause.verb, clause.lemma = word, word.lemma
        clause.tense = ("perfect" if have else "past" if clause.tense == "past" else "") + ("passive" if be else "")
        word.used = True
        return verb_phrase(parser, clause, at + 1)
    if flags & ING and be:
        clause.verb, clause.lemma, clause.tense = word, word.lemma, "active"
        word.used = True
        return verb_phrase(parser, clause, at + 1)
    if be:
        clause.lemma, clause.tense = "be", clause.tense or "active"
        return verb_phrase(parser, clause, at)
    if flags & (BASE | THIRD | PAST):
        clause.verb, clause.lemma = word, word.lemma
        clause.tense = "past" if flags & PAST and not flags & BASE and not clause.modal else "active"
        word.used = True
        return verb_phrase(parser, clause, at + 1)
    clause.lemma, clause.tense = "have", clause.tense or "active"
    return verb_phrase(parser, clause, at)


def named(parser: Parser, at: int, fresh: bool) -> int:
    """A clause that starts with a name: a statement, a label with its figure, or a bare name."""
    words = parser.words
    subject, end = _subject(parser, at)
    if subject is None:
        return at + 1
    clause = parser._new("statement", at)
    clause.subject = subject
    clause.negated = subject.quantifier == "no"
    clause.pieces.extend(parser.ahead)
    clause.brackets.extend(parser.beside)
    parser.ahead, parser.beside = [], []
    if parser.text(end) == "(":
        end = brackets(parser, clause, end)
    aside = _aside_end(parser, end)
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
    if parser.text(end) in _RELATIVES or parser.flags(end) & (PAST | ING) and not parser.finite_at(end):
        probe = end + 1
        while probe < parser.length and not parser.flags(probe) & PUNCT and not parser.flags(probe) & (AUX | MODAL):
            probe += 1
        if parser.flags(probe) & (AUX | MODAL) and not parser.text(end) in ("that", "which", "who"):
            mark(words, end, probe)
            end = probe
        elif parser.text(end) in _RELATIVES:
            main = _second_verb(parser, end + 1)
            if main:
                mark(words, end, main)
                end = main
            else:
                end = relative(parser, clause, end)
    if parser.finite_at(end):
        return _finite(parser, clause, end)
    clause.role = "fragment"
    clause.subject = None
    clause.pieces.append(subject)
    if parser.text(end) == ":":
        words[end].used = True
        clause.said.append(":")
        end += 1
        if parser.text(end) in ("snug", "hand", "finger") and parser.flags(end + 1) & PUNCT:
            words[end].used = True
            clause.said.append(parser.text(end))
            return _close(parser, clause, end + 1)
        if parser.command_at(end, True):
            return _close(parser, clause, end)
    return verb_phrase(parser, clause, end)


def _aside_end(parser: Parser, at: int) -> int:
    """The index behind ", …," that interrupts a subject and its verb; 0 where nothing does."""
    if parser.text(at) != ",":
        return 0
    probe = at + 1
    while probe < parser.length and probe < at + 14 and parser.text(probe) not in (",", ".", ";", ":"):
        if parser.command_at(probe) and parser.text(probe - 1) in (",", "and"):
            return 0
        probe += 1
    if parser.text(probe) == "," and parser.finite_at(probe + 1) and parser.flags(probe + 1) & (AUX | MODAL):
        return probe + 1
    return 0


def _second_verb(parser: Parser, at: int) -> int:
    """The index of the main verb behind "that moves …"; 0 where there is none before the next stop."""
    seen = False
    while at < parser.length and not parser.flags(at) & PUNCT:
        if parser.finite_at(at) and not parser.flags(at) & ADV:
            if seen:
                return at
            seen = True
            while at < parser.length and parser.flags(at) & (AUX | MODAL | PAST | NEG) and not parser.flags(at) & PUNCT:
                at += 1
            if parser.flags(at) & BASE:
                at += 1
                continue
        at += 1
    return 0


def fronted(parser: Parser, at: int) -> int:
    """"With a 10 mm key, …", "To 26 N·m, tighten …", "In case of …": a phrase ahead of its command."""
    clause = parser._new("phrase", at)
    clause.front = True
    return verb_phrase(parser, clause, at)


def figure(parser: Parser, at: int) -> int:
    """A figure that stands alone: "; 32 Nm", "about 20 minutes", "120 N·m is the limit"."""
    if parser.finite_at(at + 1) and parser.flags(at + 1) & (AUX | MODAL | THIRD):
        clause = parser._new("statement", at)
        thing = Thing()
        thing.text = thing.head = "there"
        thing.pronoun = True
        clause.subject = thing
        parser.words[at].used = True
        if parser.flags(at) & QUANTITY:
            clause.pieces.append(parser.words[at])
        return _finite(parser, clause, at + 1)
    clause = parser._new("fragment", at)
    return verb_phrase(parser, clause, at)


def trailing(parser: Parser, at: int) -> int:
    """A participle or adjective behind a comma: ", hand-started", ", started by hand", ", oiled"."""
    words = parser.words
    word = words[at]
    clause = parser._new("participle", at)
    if word.flags & PAST and word.lemma in parser.book.senses:
        clause.verb, clause.lemma, clause.tense = word, word.lemma, "participle"
        word.used = True
        return verb_phrase(parser, clause, at + 1)
    return verb_phrase(parser, clause, at)


def tail(parser: Parser, at: int) -> int:
    """", no sealant", "without its washer", "never oil", "not with a scraper"."""
    words = parser.words
    clause = parser._new("tail", at)
    clause.negated = True
    word = words[at]
    word.used = True
    clause.said.append(word.text)
    if word.text in ("without", "avoid", "refrain from") and parser.flags(at + 1) & ING:
        inner = words[at + 1]
        inner.used = True
        clause.verb, clause.lemma, clause.role = inner, inner.lemma, "gerund"
        clause.link = "without" if word.text == "without" else ""
        clause.tense = "command" if word.text != "without" else "ing"
        return verb_phrase(parser, clause, at + 2)
    if word.text == "no" and starts_thing(words, at):
        thing, end = thing_at(words, at)
        if thing is not None:
            clause.pieces.append(thing)
            mark(words, at, end)
            return verb_phrase(parser, clause, end)
    return verb_phrase(parser, clause, at + 1)


def existential(parser: Parser, at: int) -> int:
    """"There are ten in all": a remark."""
    parser.words[at].used = True
    clause = parser._new("statement", at)
    thing = Thing()
    thing.text = thing.head = "there"
    thing.pronoun = True
    clause.subject = thing
    return _finite(parser, clause, at + 1)


def neither(parser: Parser, at: int) -> int:
    """"Neither oil nor grease may touch the faces"."""
    words = parser.words
    words[at].used = True
    clause = parser._new("statement", at)
    clause.negated = True
    at += 1
    while at < parser.length:
        thing, end = thing_at(words, at)
        if thing is None:
            break
        if clause.subject is None:
            clause.subject = thing
        else:
            clause.brackets.append(thing)
        mark(words, at, end)
        at = end
        if parser.text(at) in ("nor", "or", "and"):
            words[at].used = True
            at += 1
            continue
        break
    if parser.finite_at(at):
        return _finite(parser, clause, at)
    clause.role = "tail"
    if clause.subject is not None:
        clause.pieces.append(clause.subject)
    return verb_phrase(parser, clause, at)
