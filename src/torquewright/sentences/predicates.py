"""What stands around a verb: its objects, small words, figures, tools and remarks."""

from __future__ import annotations

from torquewright.sentences.clause import EXCEPTING, Clause
from torquewright.sentences.commas import comma
from torquewright.sentences.interruptions import interrupted
from torquewright.sentences.joins import in_time, joined
from torquewright.sentences.lexicon import (
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
    PART,
    PAST,
    PREP,
    PRON,
    PUNCT,
    QUANTITY,
    SUB,
    THIRD,
)
from torquewright.sentences.look import DASHES, Look, mark
from torquewright.sentences.names import starts_thing, thing_at
from torquewright.sentences.remarks import (
    RELATIVES,
    brackets,
    figures_follow,
    held_with,
    past_statement,
    relative,
    same_unit,
    skip,
    unit_later,
)
from torquewright.sentences.small_words import poured, slightly, small_word, state, states
from torquewright.sentences.things import Thing

_CAUSATIVE = frozenset("let allow make help keep leave get".split())
_LEFT_TO = frozenset("cool stand settle cure dry run drain drip rest set soak fill harden work".split())
_HEARTY = frozenset("good full mere bare final whole solid".split())
_MOVING = frozenset("come go take bring send".split())
_CHECKS = frozenset("check ensure confirm verify see make test note find observe watch be".split())
_FOLLOWING = frozenset("following these".split())
_ORDINAL = frozenset("first second third fourth final last 1st 2nd 3rd next".split())


def verb_phrase(look: Look, clause: Clause, at: int) -> int:
    """Everything behind a verb that belongs to it; returns the index where the next clause starts."""
    words = look.words
    length = look.length
    lemma = clause.lemma
    last: str = ""
    while at < length:
        word = words[at]
        flags, text = word.flags, word.text
        if flags & PUNCT:
            if text == "(":
                at = brackets(look, clause, at)
                continue
            if text in DASHES and clause.role == "fragment" and not clause.torques and figures_follow(look, at + 1):
                word.used = True  # "Setting for the nuts – 45 lbf·ft"
                at += 1
                continue
            if (text == "," or text in DASHES) and (end := interrupted(look, clause, at, last)):
                at = end
                continue
            if text == ",":
                at, stop = comma(look, clause, at, last)
                if stop:
                    return close(look, clause, at)
                if look.latest:
                    last, look.latest = look.latest, ""
                if look.moved is not None:
                    close(look, clause, at)
                    clause, look.moved = look.moved, None
                    lemma, last = clause.lemma, "object"
                continue
            excepted = clause.preps[-1][1] if clause.preps and clause.preps[-1][0] in EXCEPTING else None
            if text == ":" and isinstance(excepted, Thing) and figures_follow(look, at + 1):
                clause.preps.pop()  # "all bolts to 20 N·m, except the dowel bolt: 12 N·m"
                close(look, clause, at)
                clause = look.new("fragment", at)
                clause.pieces.append(excepted)
                lemma, last, word.used = "", "object", True
                at += 1
                continue
            if text == ":" and last == "object" and clause.objects and clause.objects[-1].head in _FOLLOWING:
                clause.pieces.remove(clause.objects[-1])  # "remove the following: fan cowl, fan and key"
                word.used = True
                at += 1
                continue
            if text == ":" and figures_follow(look, at + 1):
                word.used = True
                at += 1
                continue
            if text == ":" and last == "object" and (end := held_with(look, clause, at + 1)) > at + 1:
                word.used = True
                at = end
                continue
            if text == ":" and look.flags(at + 1) & FIGURE and look.words[at + 1].kind == "measure":
                word.used = True  # "check the end float: 0.1 to 0.3 mm"
                at += 1
                continue
            if text in ("→", "/", "'", '"', "“", "”", "×", "+", "&", "-"):
                word.used = True
                at += 1
                continue
            return close(look, clause, at)
        if flags & CONJ:
            at, stop = joined(look, clause, at, last)
            if stop:
                return close(look, clause, at)
            if look.latest:
                last, look.latest = look.latest, ""
            if look.moved is not None:
                close(look, clause, at)
                clause, look.moved = look.moved, None
                lemma, last = clause.lemma, "object"
            continue
        ahead = last or clause.measures
        if clause.role == "phrase" and flags & DET and ahead and look.statement_at(at):
            return close(look, clause, at)  # "for pumps with a brass cover the figure is …"
        if flags & QUANTITY and not starts_thing(words, at):
            word.used = True
            clause.pieces.append(word)
            last = "torque"
            at += 1
            continue
        if text in ("bar", "save") and last == "object" and look.flags(at + 1) & DET:
            excluded, end = thing_at(words, at + 1)
            mark(words, at, end)
            clause.preps.append(("except", excluded))
            at, last = end, "prep"
            continue
        figure = at + 2 if look.text(at + 1) in _HEARTY else at + 1
        if flags & DET and look.flags(figure) & QUANTITY and not starts_thing(words, figure):
            mark(words, at, figure)  # "get their 44 N·m", "give it a good 12 N·m"
            at = figure
            continue
        if text in RELATIVES and last in ("object", "prep") and not (text == "that" and lemma in _CHECKS):
            at = relative(look, clause, at)
            continue
        if (text == "that" and lemma in _CHECKS) or (flags & SUB and text == "whether"):
            return that_clause(look, clause, at)
        if lemma in (
            "check",
            "ensure",
            "see",
            "confirm",
            "verify",
            "make",
            "find",
            "mark",
            "note",
            "record",
            "look",
        ) and text in (
            "how",
            "why",
            "what",
            "where",
        ):
            return that_clause(look, clause, at)
        if end := in_time(look, at):
            mark(words, at, end)
            at = end
            continue
        if flags & SUB or text in ("before", "after", "prior to"):
            if text in ("as", "though") or (
                flags & PREP and text not in ("before", "after", "until", "till", "prior to", "since")
            ):
                at = small_word(look, clause, at)
                if look.pending:
                    return close(look, clause, at)
                last = "prep"
                continue
            return close(look, clause, at)
        if flags & DEMAND:
            return close(look, clause, at)
        if text == "to" and look.text(at + 1) == "be" and look.flags(at + 2) & PAST and lemma in _MOVING:
            end = at + 4 if look.flags(at + 3) & PREP and look.flags(at + 4) & PUNCT else at + 3
            mark(words, at, end)  # "the bolts come out to be looked at"
            at = end
            continue
        if text == "neither" and starts_thing(words, at + 1):
            word.used = clause.negated = True  # "grease neither the seat nor the thread"
            at += 1
            continue
        if flags & NEG:
            if text == "without" or (text == "no" and lemma in ("be", "use", "apply", "leave")):
                return close(look, clause, at)
            if text == "no" and starts_thing(words, at + 1):
                thing, after = thing_at(words, at)
                if thing is not None:
                    clause.pieces.append(thing)
                    mark(words, at, after)
                    at = after
                    last = "object"
                    continue
            if text == "not" and look.flags(at + 1) & PREP:
                return close(look, clause, at)
            if look.command_at(at + 1, True) and clause.role != "command":
                return close(look, clause, at)
            clause.said.append(text)
            word.used = True
            at += 1
            continue
        if text in _ORDINAL and figures_follow(look, at + 1, pass_words=True):
            word.used = True
            at += 1
            while look.text(at) in ("pass", "stage", "step", "round", "to", "at", "=", ":"):
                words[at].used = True
                at += 1
            continue
        if (
            lemma in _CAUSATIVE
            and last == "object"
            and flags & (BASE | ING | PAST)
            and not clause.complement
            and not flags & NOUN
        ):
            clause.complement = word.lemma
            word.used = True
            at += 1
            continue
        if (
            lemma in ("let", "allow")
            and last == "object"
            and word.lemma in ("turn", "idle", "spin", "tick")
            and clause.objects[-1].pronoun
            and not clause.complement
        ):
            clause.complement = "run"  # "let it turn empty for ten minutes"
            word.used = True
            at += 1
            continue
        if (
            lemma in _CAUSATIVE
            and last == "object"
            and flags & BASE
            and not clause.complement
            and word.lemma in _LEFT_TO
        ):
            clause.complement = word.lemma
            word.used = True
            at += 1
            continue
        if text == "a" and (end := slightly(look, at)):
            clause.said.append("a little")
            at = end
            continue
        behind = clause.preps[-1][1] if clause.preps else None
        if text == "set" and isinstance(behind, Thing) and behind.kind == "tool" and look.text(at + 1) in ("to", "at"):
            word.used = True
            at += 1  # "with the wrench set to 24 N·m"
            continue
        about = isinstance(behind, Thing) and behind.head == "what" and look.finite_at(at)
        if about or (text == "what" and not last and look.finite_at(at + 1)):
            if not about and (named := thing_at(words, at)[0]) is not None:
                clause.pieces.append(named)
            at = skip(look, clause, at, inner=True)  # "look at what sticks to the magnet"
            continue
        if text == "of" and (end := poured(look, clause, at)):
            at = end
            last = "object"
            continue
        beside = text == "opposite" and last != "object" and bool(look.flags(at + 1) & NOUN)  # "opposite bolts"
        if (
            flags & (PREP | PART)
            and not beside
            and not (flags & ADJ and starts_thing(words, at) and not flags & PREP and last != "object")
        ):
            at = small_word(look, clause, at)
            if look.pending:
                return close(look, clause, at)
            if clause.preps and clause.preps[-1][1] is not None:
                last = (
                    "prep"
                    if isinstance(clause.preps[-1][1], Thing)
                    else "torque"
                    if clause.preps[-1][1].flags & QUANTITY
                    else last
                )
            continue
        if clause.link and clause.front and flags & PRON and last and look.finite_at(at + 1):
            return close(look, clause, at)  # "if the gasket is in one piece it may be used once more"
        if (
            flags & PRON
            and text in ("it", "you", "they", "we")
            and last in ("object", "prep")
            and look.finite_at(at + 1)
        ):
            # "the oil it will seal": a relative clause without its "that"
            at = relative(look, clause, at)
            continue
        if starts_thing(words, at) and not (flags & ADV and not flags & NOUN and not flags & DET and last == "object"):
            if last == "object" and states(look, at):
                at = state(look, clause, at)
                continue
            if last == "object" and look.finite_at(at) and not flags & (DET | NOUN):
                # "Make sure both dowels are": a statement inside
                return that_clause(look, clause, at)
            thing, after = thing_at(words, at)
            if (
                thing is not None
                and lemma in ("let", "allow")
                and after - at > 1
                and (words[after - 1].lemma in _LEFT_TO and words[after - 1].flags & BASE and not thing.plural)
            ):
                # "let the joint stand": the last word is what it does
                thing, after = thing_at(words[: after - 1], at)
            if thing is not None and after > at:
                clause.pieces.append(thing)
                mark(words, at, after)
                at = after
                last = "object"
                if lemma in _CHECKS and look.finite_at(at) and not look.command_at(at):
                    return that_clause(look, clause, at)
                continue
        if flags & FIGURE:
            word.used = True
            if not word.kind and (unit_later(look, at) or same_unit(look, clause, at, last)):
                clause.pieces.append(word)
                last = "torque"
            else:
                clause.measures.append(word)
                # a bare figure beside a pull that nothing was made of shows as left over
                word.used = bool(word.kind) or not clause.torques or last != "torque"
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
            at = state(look, clause, at)
            continue
        if flags & ING:
            if last in ("object", "prep"):
                at = relative(look, clause, at)
                continue
            if lemma in ("start", "keep", "go", "continue", "stop", "avoid", "finish"):
                clause.complement = word.lemma
                word.used = True
                at += 1
                continue
            return close(look, clause, at)
        if flags & (AUX | MODAL | THIRD | BASE):
            if last == "object" and clause.role == "command" and lemma in _CHECKS:
                return that_clause(look, clause, at)
            if clause.lemma in ("help",) and flags & BASE:
                clause.lemma = word.lemma
                clause.verb = word
                word.used = True
                at += 1
                continue
            return close(look, clause, at)
        at += 1
    return close(look, clause, at)


def close(look: Look, clause: Clause, at: int) -> int:
    clause.stop = at
    return at


def that_clause(look: Look, clause: Clause, at: int) -> int:
    """ "Check that …": what has to be so; the statement inside is a clause of its own."""
    words = look.words
    if look.text(at) in ("that", "whether", "if", "how", "why", "what", "where"):
        words[at].used = True
        at += 1
    clause.stop = at
    clause.complement = "that"
    if starts_thing(words, at) and look.statement_at(at):
        look.pending = "that"
        return at
    if look.finite_at(at) and clause.objects:
        look.pending, look.pending_subject = "that", clause.objects[-1]
        return at
    if at < look.length and not clause.verb:
        return verb_phrase(look, clause, at)
    return close(look, clause, past_statement(look, at))
