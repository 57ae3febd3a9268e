"""What "and" and "or" do behind a verb: another object, another figure, a further verb, or the end of the clause."""

from __future__ import annotations

from torquewright.sentences.clause import Clause
from torquewright.sentences.further import further_piece
from torquewright.sentences.lexicon import (
    ADJ,
    ADV,
    AUX,
    BASE,
    CONJ,
    DEMAND,
    DET,
    FIGURE,
    ING,
    MODAL,
    NEG,
    NOUN,
    NUM,
    PAST,
    PUNCT,
    QUANTITY,
    SUB,
    THIRD,
    UNKNOWN,
)
from torquewright.sentences.look import Look, mark
from torquewright.sentences.names import starts_thing, thing_at
from torquewright.sentences.remarks import figures_follow
from torquewright.sentences.small_words import state
from torquewright.sentences.things import Thing

_TAKES = frozenset("take need want require get".split())
_SWITCHED = frozenset("switch put take pump turn shut".split())


def in_time(look: Look, at: int) -> int:
    """The index of "to" in "before to 10 N·m", "after to 22 N·m", "after this to 22 N·m": first, and then. Else 0."""
    if look.text(at) not in ("before", "after"):
        return 0
    end = at + 2 if look.text(at + 1) in ("this", "that") else at + 1
    return end if look.text(end) == "to" and look.flags(end + 1) & QUANTITY else 0


def a_joint_to_a_figure(look: Look, clause: Clause, at: int) -> bool:
    """Whether a joint with its figure stands behind a verb that switches something and pulls nothing."""
    if clause.verb is None or clause.torques or clause.lemma not in _SWITCHED or not starts_thing(look.words, at):
        return False
    joint, end = thing_at(look.words, at)
    to = look.text(end) == "to" and bool(look.flags(end + 1) & QUANTITY)
    return joint is not None and joint.kind == "fastener" and to


def joined(look: Look, clause: Clause, at: int, last: str) -> tuple[int, bool]:
    """What "and", "or", "then" do behind a verb: (next index, whether the clause ends here)."""
    words = look.words
    after = at
    while look.flags(after) & CONJ:
        after += 1
    flags, text = look.flags(after), look.text(after)
    if after >= look.length or (flags & PUNCT and text != "("):
        mark(words, at, after)
        return after, False
    about = clause.subject
    takes = words[after].lemma in _TAKES and bool(look.flags(after + 1) & QUANTITY)
    if clause.role == "statement" and about is not None and takes:
        # "the two bolts go at the front and take 9 N·m"
        figure = look.new("statement", after)
        figure.subject, figure.tense, figure.link = about, "active", clause.link
        figure.verb, figure.lemma = words[after], words[after].lemma
        mark(words, at, after + 1)
        look.moved = figure
        return after + 1, False
    if a_joint_to_a_figure(look, clause, after):
        return at, True  # "pump off and the bleed screw to 13 N·m"
    if last == "prep" and (further := further_piece(look, clause, after)):
        mark(words, at, after)
        return further, False
    if look.command_at(after):
        return at, True
    if flags & ADV and not flags & (NOUN | DET):
        probe = after
        while look.flags(probe) & ADV:
            probe += 1
        if look.command_at(probe, True):
            return at, True
        if figures_follow(look, probe):
            mark(words, at, probe)
            return probe, False
    if figures_follow(look, after):
        mark(words, at, after)
        return after, False
    if (flags & ADJ and not flags & (NOUN | UNKNOWN | PAST) and not look.flags(after + 1) & (NOUN | UNKNOWN | ADJ)) or (
        text in ("left", "right") and look.flags(after + 1) & PUNCT
    ):
        mark(words, at, after)
        return state(look, clause, after), False
    if words[at].text == "but" and after == at + 1 and flags & (DET | NUM) and not look.statement_at(after):
        # "every bolt but the two at the bottom"
        thing, end = thing_at(words, after)
        far = end + 2 if look.flags(end + 1) & ADV else end + 1
        if thing is not None and look.text(end) == "to" and look.flags(far) & (QUANTITY | FIGURE):
            mark(words, at, end)
            clause.pieces.append(thing)  # "the steel plugs to 24 N·m but the nylon ones to just 2 N·m"
            look.latest = "object"
            return end, False
        if thing is not None:
            mark(words, at, end)
            clause.preps.append(("except", thing))
            return end, False
    joined = further_passive(look, clause, after)
    if joined:
        mark(words, at, joined)
        return joined, False
    person = about is not None and (about.kind == "person" or about.head in ("he", "she", "we"))
    if clause.role == "statement" and person and flags & THIRD and words[after].lemma in look.book.senses:
        # "he holds the shaft and undoes the nut"
        again = look.new("statement", after)
        again.subject, again.tense, again.link = clause.subject, "active", clause.link
        again.verb, again.lemma = words[after], words[after].lemma
        mark(words, at, after + 1)
        look.moved = again
        return after + 1, False
    if clause.role == "statement" and look.finite_at(after) and not flags & (NOUN | DET):
        # "is out and stays out": the same subject goes on
        mark(words, at, after)
        while look.flags(after) & (AUX | MODAL | NEG | ADV):
            words[after].used = True
            after += 1
        if look.flags(after) & (BASE | THIRD | PAST | ING):
            words[after].used = True
            after += 1
        return after, False
    if end := in_time(look, after):
        mark(words, at, end)
        return end, False  # "… and after to 22 N·m"
    if flags & (NEG | DEMAND) or flags & SUB or text in ("before", "after"):
        return at, True
    if flags & ING and not starts_thing(words, after):
        return at, True
    if look.statement_at(after):
        return at, True
    if starts_thing(words, after):
        thing, end = thing_at(words, after)
        if thing is not None:
            mark(words, at, end)
            if last == "prep" and clause.preps and not _placed(look, clause, thing, end):
                clause.preps.append((clause.preps[-1][0], thing))
            else:
                clause.pieces.append(thing)
                look.latest = "object"
            return end, False
    mark(words, at, after)
    return after, False


def _placed(look: Look, clause: Clause, thing: Thing, end: int) -> bool:
    """Whether a name behind "and" is a further object with a place of its own: "the long bolts at the top and the short
    ones at the bottom"."""
    text, held = clause.preps[-1]
    if not clause.objects or text not in ("at", "in", "on", "to", "under") or look.text(end) != text:
        return False
    bolts = clause.objects[-1].kind == "fastener" and (thing.kind == "fastener" or thing.head in ("one", "ones"))
    return bolts and not (isinstance(held, Thing) and held.kind == "fastener")


def further_passive(look: Look, clause: Clause, at: int) -> int:
    """ "… are to be loosened and (to be) removed": a further verb done to the same subject. Its clause is added; the
    phrases that follow go to it. Returns the index behind the verb, 0 where there is none."""
    helped = look.text(at) in ("are", "is")  # "they go in by hand and are then tightened"
    if clause.role != "statement" or clause.subject is None:
        return 0
    if "passive" not in clause.tense and clause.lemma != "be" and not helped:
        return 0
    probe = at
    negated = False
    while look.text(probe) in ("to", "be", "been", "shall", "must", "are", "is", "then") or (
        look.flags(probe) & (ADV | NEG) and not look.flags(probe) & PAST
    ):
        negated = negated or bool(look.flags(probe) & NEG)
        probe += 1
    if not look.flags(probe) & PAST or look.words[probe].lemma not in look.book.senses:
        return 0
    if look.flags(probe) & (ADJ | NOUN) and look.flags(probe + 1) & (NOUN | UNKNOWN):
        return 0
    further = look.new("statement", probe)
    further.subject, further.modal, further.tense, further.link, further.front = (
        clause.subject,
        clause.modal,
        clause.tense or "passive",
        clause.link,
        clause.front,
    )
    if "passive" not in further.tense:
        further.tense = "passive"
    further.negated = negated
    further.verb, further.lemma = look.words[probe], look.words[probe].lemma
    look.words[probe].used = True
    look.moved = further
    return probe + 1
