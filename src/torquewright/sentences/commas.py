"""What a comma does behind a verb: another object, another figure, a manner, or the end of the clause."""

from __future__ import annotations

from torquewright.sentences.clause import Clause
from torquewright.sentences.joins import a_joint_to_a_figure, further_passive, in_time
from torquewright.sentences.lexicon import (
    ADJ,
    ADV,
    CONJ,
    DEMAND,
    DET,
    FIGURE,
    ING,
    NEG,
    NOUN,
    NUM,
    PAST,
    PREP,
    PUNCT,
    QUANTITY,
    SIZE,
    SUB,
    UNKNOWN,
)
from torquewright.sentences.look import Look, mark
from torquewright.sentences.names import starts_thing, thing_at
from torquewright.sentences.noteform import note_at
from torquewright.sentences.remarks import RELATIVES, figures_follow, relative, skip
from torquewright.sentences.small_words import state, states
from torquewright.sentences.things import Thing

_GRADES = frozenset("iso sae api nlgi din".split())
_STEADIED = frozenset("held kept steadied locked blocked gripped supported clamped counter-held restrained".split())
_DRESSED = frozenset("dry oiled greased lubricated clean".split())
_ORIENTED = frozenset(
    "outward outwards inward inwards upward upwards downward downwards up down out in first last forward forwards "
    "facing "
    "upright outermost innermost uppermost away rearward to on foremost towards toward".split()
)


def comma(look: Look, clause: Clause, at: int, last: str) -> tuple[int, bool]:
    """What a comma does behind a verb: (next index, whether the clause ends here)."""
    words = look.words
    if clause.link and clause.front and clause.role == "statement" and last != "object":
        return at, True  # "since the thread is short, …"
    after = at + 1
    while look.flags(after) & CONJ:
        after += 1
    if after >= look.length:
        return at, True
    flags, text = look.flags(after), look.text(after)
    then = any(words[index].text == "then" for index in range(at + 1, after))
    if (
        clause.role == "statement"
        and clause.lemma == "be"
        and flags & ADJ
        and not flags & NOUN
        and not (then and look.command_at(after))
    ):
        mark(words, at, after)
        return state(look, clause, after), False  # "must be clean, dry and free of paint"
    if (
        flags & SIZE
        and last == "object"
        and clause.objects
        and clause.objects[-1].kind == "fastener"
        and not clause.objects[-1].sizes
        and not clause.objects[-1].pronoun
        and look.flags(after + 1) & (PUNCT | PREP)
    ):
        clause.objects[-1].sizes = (look.text(after),)  # "the six screws, M5 × 12, to 4.5 N·m"
        mark(words, at, after + 1)
        return after + 1, False
    figured = text == "to" and look.flags(after + 1) & (QUANTITY | FIGURE)
    if clause.link and clause.front and clause.role == "statement" and figured:
        return at, True  # "and, if they are plated, to 72"
    if then and (end := _in_that_order(look, after)):
        mark(words, at, end)
        return end, False  # "to 10 N·m, then, in the same order, to 22 N·m"
    if flags & SIZE and words[after].kind == "class" and last == "object" and look.flags(after + 1) & (PUNCT | PREP):
        mark(words, at, after + 1)  # "bolts, class 10.9, 68 N·m"
        return after + 1, False
    if clause.link and flags & PREP and after > at + 1 and look.flags(at + 1) & CONJ:
        return at, True  # "… so that it centres itself, and with the lever held tighten …"
    if text in ("both", "all", "each") and look.flags(after + 1) & PAST and look.flags(after + 2) & PUNCT:
        mark(words, at, after + 1)
        return state(look, clause, after + 1), False  # "to 60 N·m, then to 120 N·m, both oiled"
    if a_joint_to_a_figure(look, clause, after):
        return at, True  # "pump off, and the bleed screw to 13 N·m"
    if text in _GRADES:
        while look.flags(after) & (NOUN | UNKNOWN | FIGURE) and after < look.length:
            words[after].used = True  # ", ISO VG 220"
            after += 1
        mark(words, at, after)
        return after, False
    if flags & ADJ and look.text(after + 1) in ("one", "ones") and look.text(after + 2) in ("first", "last"):
        mark(words, at, after + 3)
        clause.said.append(" ".join(word.text for word in words[after : after + 3]))
        return after + 3, False  # "…, lower ones first"
    if look.command_at(after) or (last != "state" and note_at(look, after) is not None):
        return at, True
    if figures_follow(look, after) and not (flags & SUB):
        mark(words, at, after)
        return after, False
    if text in ("still", "all") and look.flags(after + 1) & ADJ and look.flags(after + 2) & PUNCT:
        mark(words, at, after + 1)
        return state(look, clause, after + 1), False  # "tighten them, still dry, to 37 N·m"
    if end := in_time(look, after):
        mark(words, at, end)
        return end, False  # ", before to 10 N·m and after to 22 N·m": first, and then
    if flags & (SUB | NEG | DEMAND) or text in ("before", "after", "prior to"):
        return at, True
    if flags & QUANTITY and not starts_thing(words, after):
        mark(words, at, after)
        return after, False
    if flags & ING and not starts_thing(words, after):
        return at, True
    if (
        flags & ING
        and look.flags(after + 1) & (DET | PREP | NUM | NOUN)
        and not (last == "object" and starts_thing(words, after) and not look.flags(after + 1) & (DET | NUM))
    ):
        return at, True
    if text in RELATIVES:
        mark(words, at, after)
        return relative(look, clause, after), False
    joined = further_passive(look, clause, after)
    if joined:
        mark(words, at, joined)
        return joined, False
    if flags & ADV and not flags & (NOUN | DET):
        probe = after
        while look.flags(probe) & ADV:
            probe += 1
        if text == "nice and" and states(look, probe):
            mark(words, at, probe)
            return state(look, clause, probe), False  # "…, nice and dry"
        if look.command_at(probe, True) or (look.flags(probe) & NEG and probe > after):
            return at, True
        if look.flags(probe) & PREP and figures_follow(look, probe):
            mark(words, at, probe)
            return probe, False
        mark(words, at, after)
        return after, False
    if look.statement_at(after):
        return at, True
    if (
        flags & ADJ
        and not flags & (NOUN | UNKNOWN)
        and not look.flags(after + 1) & (NOUN | UNKNOWN | ADJ | SIZE)
        and look.text(after + 1) not in ("one", "ones")
        and words[after].lemma not in ("hand-start", "finger-start")
        and (not flags & PAST or text in ("left", "oiled", "greased"))
    ):
        mark(words, at, after)
        return state(look, clause, after), False
    if starts_thing(words, after):
        thing, end = thing_at(words, after)
        if (
            thing is not None
            and thing.pronoun
            and thing.head in ("each", "all", "both", "one")
            and look.flags(end) & PREP
            and not look.flags(end) & QUANTITY
            and look.text(end) != "to"
        ):
            mark(words, at, end)
            if look.text(end) == "with":
                return end, False  # "each with its washer"
            ring, past = thing_at(words, end + 1) if look.text(end) == "on" else (None, end)
            if ring is not None and ring.kind in ("seal", "washer") and ring.state == "new":
                mark(words, end, past)
                clause.preps.append(("with", ring))  # "two valves, each on a new O-ring"
                return past, False
            return skip(look, clause, end, named=True), False
        if thing is not None and look.text(end) in _STEADIED and look.flags(end) & PAST:
            mark(words, at, end)
            return skip(look, clause, end), False  # "…, the nipple held with the 19 mm spanner"
        if thing is not None and thing.head == "pair" and clause.objects:
            mark(words, at, end)
            clause.said.append(thing.text)
            return end, False
        noted = clause.role == "statement" and clause.tense == "passive" and not clause.modal and not clause.link
        if noted and thing is not None and look.flags(end) & PAST and not look.flags(end) & NOUN:
            return at, True  # "drain plug removed, oil drained"
        if thing is not None and thing.kind == "feature" and look.text(end) in _DRESSED and last == "object":
            mark(words, at, end)
            return state(look, clause, end), False  # "fit the screws, threads dry, and …"
        if thing is not None:
            to_figure = look.text(end) == "to" and bool(look.flags(end + 1) & (QUANTITY | FIGURE))
            oriented = look.text(end) in _ORIENTED and not look.flags(end) & QUANTITY and not to_figure
            if (
                thing.head == "one"
                and thing.plural
                and thing.mods
                and thing.count is None
                and last == "object"
                and look.text(end) in ("at", "in", "on", "to", "towards")
                and look.flags(end + 1) & (DET | NOUN)
                and clause.objects[-1].kind == "fastener"
            ):
                mark(words, at, end)
                return skip(look, clause, end, named=True), False  # "…, long ones at the corners"
            if thing.head == "none" and thing.pronoun and look.flags(end) & PREP:
                return at, True  # "…, and none on the seat"
            lead = thing.kind == "cable" and look.text(end) in ("first", "last")
            if oriented and (lead or thing.kind not in ("fastener", "seal", "washer", "lock")):
                # "cable side down", "negative lead first": how it lies, not another object
                mark(words, at, end + 1)
                clause.said.append(f"{thing.text} {look.text(end)}")
                end += 1
                towards, past = thing_at(words, end) if starts_thing(words, end) else (None, end)
                if towards is not None and past > end and look.text(end) != "with":
                    mark(words, end, past)  # "arrow in the running direction", "numbers on the same side"
                    return past, False
                while (
                    look.flags(end) & (PREP | NOUN | DET)
                    and look.text(end) not in ("with", "to", "and")
                    and end < look.length
                ):
                    words[end].used = True
                    end += 1
                return end, False
            if then and last == "torque" and not clause.objects:
                return at, True
            mark(words, at, end)
            if (last == "prep" and clause.preps and clause.preps[-1][0] in ("with", "together with")) or (
                last == "prep" and clause.lemma in ("secure", "fasten", "attach", "fix", "use")
            ):
                clause.preps.append(("with", thing))
            elif (last == "prep" and clause.preps and _off_all(clause, thing)) or (
                last == "prep"
                and clause.preps
                and clause.preps[-1][0] in ("for", "between", "on", "in")
                and not thing.kind
            ):
                clause.preps.append((clause.preps[-1][0], thing))
            else:
                clause.pieces.append(thing)
                look.latest = "object"
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


def _in_that_order(look: Look, at: int) -> int:
    """The index behind an aside such as ", in the same order," where a figure follows; else 0."""
    if look.text(at) == "," and look.text(at + 1) == "in":
        at += 1
    if look.text(at) != "in":
        return 0
    end = at + 1
    while end < at + 6 and look.text(end) in ("the", "same", "that", "order", "way", "sequence", "manner"):
        end += 1
    return end + 1 if end > at + 2 and look.text(end) == "," and figures_follow(look, end + 1) else 0


def _off_all(clause: Clause, thing: Thing) -> bool:
    """Whether a name goes on with what the pieces come off: "washers off the bolts, the bleed screw and the seats"."""
    text, held = clause.preps[-1]
    pieces = clause.objects and clause.objects[-1].kind in ("washer", "seal", "lock")
    return text in ("off", "from", "out of") and bool(pieces) and isinstance(held, Thing) and held.kind == thing.kind
