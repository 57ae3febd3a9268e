"""Particles and prepositions with what hangs on them, and adjectives behind a name."""

from __future__ import annotations

import re

from torquewright.sentences.clause import Clause
from torquewright.sentences.lexicon import (
    ADJ,
    ADV,
    BASE,
    CALL,
    DET,
    FIGURE,
    ING,
    NOUN,
    NUM,
    PART,
    PAST,
    PREP,
    PRON,
    PUNCT,
    QUANTITY,
    SUB,
    UNKNOWN,
)
from torquewright.sentences.look import Look, mark
from torquewright.sentences.names import starts_thing, thing_at
from torquewright.sentences.remarks import brackets, relative, same_unit, skip, unit_later
from torquewright.sentences.things import DOCUMENTS, Thing

_NEED_OBJECTS = frozenset(
    "screw put run wind spin drop slide slip push press fit pull lift take pop stick thread tap drive turn bung "
    "shove".split()
)


_WORKED = frozenset(
    "tighten torque loosen remove turn break crack undo slacken free unscrew run pull drive press push seat fit "
    "install nip snug draw lever prise pry start".split()
)
_TURNED = frozenset("turn move rotate run slip".split())


def small_word(look: Look, clause: Clause, at: int) -> int:
    """A particle or a preposition with what hangs on it."""
    words = look.words
    word = words[at]
    text = word.text
    word.used = True
    clause.particles.append(text)
    if text in ("up to", "down to", "on to", "in to", "out of", "away from"):
        clause.particles.append(text.split()[0])
    following = at + 1
    flags = look.flags(following)
    if (
        word.flags & PART
        and word.flags & PREP
        and not clause.objects
        and clause.role == "command"
        and clause.lemma in _NEED_OBJECTS
        and starts_thing(words, following)
    ):
        thing, _ = thing_at(words, following)
        sure = ("fastener", "washer", "seal", "lock", "consumable")
        if (
            thing is not None
            and not thing.pronoun
            and (thing.kind in sure or (thing.kind in ("threaded", "") and takes(look, clause.lemma, text)))
        ):
            return following  # "screw in the six screws": what follows is the object
    if text in ("as", "as far as") and starts_thing(words, following) and look.statement_at(following):
        # "as the table says"
        thing, after = thing_at(words, following)
        clause.preps.append(("as", thing))
        mark(words, following, after + 1)
        return after + 1
    if text == "as" and look.flags(following) & (PAST | ADJ | PREP):
        words[following].used = True
        following += 1
        if look.flags(following) & PREP:
            words[following].used = True
            following += 1
        flags = look.flags(following)
        text = "as"
    if (
        text == "to"
        and not (look.text(following) in DOCUMENTS and look.flags(following + 1) & FIGURE)
        and flags & BASE
        and not flags & (NUM | DET)
        and (
            not (flags & NOUN and starts_thing(words, following) and not look.command_at(following, True))
            or (look.text(following) in _TURNED and bool(look.flags(following + 1) & PUNCT))
        )
    ):
        # "turn it clockwise to loosen": what for
        clause.purpose = words[following].lemma
        words[following].used = True
        if clause.lemma in ("use", "take") and clause.objects and clause.purpose in _WORKED:
            # "use the small wrench to tighten the nut": the tightening is what is told
            words[following].used = False
            look.pending = "not" if clause.negated else "command"
            return following
        return skip(look, clause, following + 1, inner=True, named=True)
    if flags & ADV and not flags & NOUN and look.flags(following + 1) & (QUANTITY | FIGURE):
        words[following].used = True
        following += 1
        flags = look.flags(following)
    if (
        text in ("off", "out", "up", "down", "away", "back", "apart", "home")
        and not (flags & DET and text in ("off", "down", "up", "out") and clause.objects)
        and not (word.flags & PREP and flags & (DET | NOUN | UNKNOWN | PRON) and clause.objects)
    ):
        return following
    if flags & DET and look.flags(following + 1) & QUANTITY and not starts_thing(words, following + 1):
        words[following].used = True  # "to the 30 lbf·ft"
        following += 1
        flags = look.flags(following)
    if text in ("rather than", "instead of") and flags & (BASE | ING) and not flags & NOUN:
        look.pending = "not"
        return following
    if flags & QUANTITY and not starts_thing(words, following):
        words[following].used = True
        clause.preps.append((text, words[following]))
        if text not in ("instead of", "rather than"):
            clause.pieces.append(words[following])
        return following + 1
    if (
        flags & ING
        and look.flags(following + 1) & (DET | PRON | NUM | PREP | ADV | ADJ | NOUN | PUNCT)
        and text in ("by", "for", "from", "in", "when", "without", "of", "with", "against", "while")
        and not (starts_thing(words, following) and look.flags(following + 1) & NOUN and text not in ("by",))
    ):
        if text == "by":
            # the way it is done is itself done: "by removing the plug"
            look.pending = "by"
            return following
        words[following].used = True
        clause.purpose = clause.purpose or (words[following].lemma if text == "for" else "")
        return skip(look, clause, following + 1, inner=True)
    if starts_thing(words, following) and not (
        flags & ADV and not flags & (NOUN | DET) and not starts_name(look, following)
    ):
        if clause.lemma and look.command_at(following) and word.flags & PART and not word.flags & PREP:
            return following
        thing, after = thing_at(words, following)
        if thing is not None:
            # "in dry", "on tight": an adjective, no thing
            if (
                thing.pronoun
                and not thing.kind
                and look.flags(following) & ADJ
                and thing.head not in ("one",)
                and thing.head == look.text(following)
            ):
                return following
            mark(words, following, after)
            if thing.pronoun and thing.head == "that" and word.flags & PART:
                return following
            fresh = thing.head == "one" and thing.state == "new" and not clause.objects
            if fresh and text in ("on", "in") and clause.lemma in ("put", "fit", "screw", "push", "slide", "press"):
                clause.pieces.append(thing)  # "put on a new one"
                return after
            laid = clause.lemma in ("lay", "hang", "drape") and thing.kind in ("seal", "washer")
            if laid and text == "on" and not clause.objects and not clause.preps:
                clause.pieces.append(thing)  # "lay on a new gasket"
                return after
            clause.preps.append((text, thing))
            if text == "from" and thing.head in ("kit", "bag", "packet", "box", "stock") and not thing.labels:
                _from_stock(clause, thing)
            if thing.kind == "tool" and thing.range is None and clause.torques and look.flags(after) & QUANTITY:
                scale = words[after].found
                if scale is not None and scale.tightening.kind == "range":
                    thing.range, words[after].used = words[after], True  # "to 65 N·m by the torque wrench 20–100 N·m"
                    after += 1
            if text in ("off", "from", "out of") and not clause.objects and clause.lemma in ("take", "pull", "lift"):
                pass
            if look.text(after) == "(":
                return brackets(look, clause, after)
            return after
    if flags & FIGURE:
        words[following].used = True
        if not words[following].kind and (
            unit_later(look, following) or (text == "to" and same_unit(look, clause, following, "object"))
        ):
            clause.pieces.append(words[following])
        else:
            clause.measures.append(words[following])
            clause.preps.append((text, words[following]))
        return following + 1
    if flags & CALL:
        words[following].used = True
        return following + 1
    return following


def _from_stock(clause: Clause, stock: Thing) -> None:
    """ "A gasket from the kit" is a new one."""
    held = [piece for piece in clause.objects if piece.start < stock.start]
    held += [piece for _, piece in clause.preps if isinstance(piece, Thing) and piece.start < stock.start]
    if held:
        last = max(held, key=lambda piece: piece.start)
        if not last.state and last.kind in ("fastener", "seal", "washer", "lock", "consumable"):
            last.state = "new"


def takes(look: Look, lemma: str, particle: str) -> bool:
    """Whether a verb has a sense with this particle."""
    return any(particle in sense.particles for sense in look.book.senses.get(lemma, ()))


def starts_name(look: Look, at: int) -> bool:
    """Whether an adverb here is really part of a name."""
    return bool(look.flags(at) & ADJ) and bool(look.flags(at + 1) & (NOUN | UNKNOWN))


def states(look: Look, at: int) -> bool:
    """Whether an adjective behind a noun says how the thing is ("clean and dry", "hand-started")."""
    flags = look.flags(at)
    if not flags & (ADJ | PAST) or flags & (DET | NUM):
        return False
    if flags & NOUN and not flags & ADJ:
        return False
    after = look.flags(at + 1)
    return not after & (NOUN | UNKNOWN | ADJ) or bool(after & PUNCT)


def state(look: Look, clause: Clause, at: int) -> int:
    """Adjectives and participles behind the object. A participle may bring a phrase of its own."""
    words = look.words
    word = words[at]
    word.used = True
    clause.said.append(word.text)
    if word.text == "left" and look.text(at + 1) in ("then", "and", ",", ".", ""):
        return at + 1
    if (word.flags & PAST and not word.flags & ADJ) or word.text in (
        "left",
        "fitted",
        "removed",
        "taken",
        "marked",
        "shown",
        "given",
    ):
        return relative(look, clause, at)
    at += 1
    while look.text(at) in ("and", ",", "or", "then") and states(look, at + 1) and not look.command_at(at + 1):
        words[at].used = words[at + 1].used = True
        clause.said.append(look.text(at + 1))
        at += 2
    return at


_AMOUNT = re.compile(
    r"\d\s?-?(?:m?l|lit(?:re|er)s?|cm³|k?g|oz|(?:us |imp\S* )?(?:gal\w*|qt|quarts?|pints?|pt|fl\S? ?oz))$"
)


def poured(look: Look, clause: Clause, at: int) -> int:
    """Past "of" and what there is so much of ("add 200 ml of oil"), which is what the verb is about where nothing else
    is named, and what comes along where something is; 0 where no amount or no name stands there."""
    if not _AMOUNT.search(look.text(at - 1)) or not starts_thing(look.words, at + 1):
        return 0
    thing, end = thing_at(look.words, at + 1)
    if thing is None or end <= at + 1:
        return 0
    measure = look.words[at - 1]
    if clause.preps and clause.preps[-1][1] is measure:
        clause.preps.pop()  # "put in 650 ml of oil": the small word goes with the verb
    if measure not in clause.measures:
        clause.measures.append(measure)
    if clause.objects:
        clause.preps.append(("with", thing))
    else:
        clause.pieces.append(thing)
    mark(look.words, at, end)
    return end


_HARDLY = frozenset("little bit touch fraction shade hair trifle".split())


def slightly(look: Look, at: int) -> int:
    """The index behind "a little", "a touch more", where it says how far and names no portion of anything; else 0."""
    if look.text(at) not in ("a", "just a") or look.text(at + 1) not in _HARDLY:
        return 0
    behind = at + 2
    if look.text(behind) in ("more", "further"):
        behind += 1
    flags = look.flags(behind)
    if look.text(behind) == "of" or (flags & (NOUN | UNKNOWN | ADJ) and not flags & (PREP | ADV | SUB)):
        return 0
    mark(look.words, at, behind)
    return behind
