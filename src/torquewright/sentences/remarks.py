"""What is said in passing: relative clauses, brackets, figures that share a unit further on."""

from __future__ import annotations

from torquewright.notation.tightening import Found, find_tightenings
from torquewright.sentences.clause import Clause
from torquewright.sentences.lexicon import (
    ADJ,
    ADV,
    BASE,
    CONJ,
    FIGURE,
    NEG,
    NOUN,
    NUM,
    PART,
    PAST,
    PREP,
    PUNCT,
    QUANTITY,
    SUB,
)
from torquewright.sentences.look import Look, mark
from torquewright.sentences.names import starts_thing, thing_at
from torquewright.sentences.noteform import note_at
from torquewright.sentences.things import Thing

_OTHERS = NOUN | ADJ | PREP | ADV | PART
RELATIVES = frozenset("that which who whose you".split())
SIGNALS = frozenset("caution warning note danger important notice attention".split())


def figures_follow(look: Look, at: int, pass_words: bool = False) -> bool:
    """Whether a torque stands next, past words such as "to", "first", "pass"."""
    limit = at + 4
    while at < min(limit, look.length):
        flags, text = look.flags(at), look.text(at)
        if flags & QUANTITY or (flags & NUM and flags & FIGURE and unit_later(look, at)):
            return not starts_thing(look.words, at) or bool(flags & FIGURE)
        if text in (
            "to",
            "at",
            "first",
            "with",
            "pass",
            "stage",
            "step",
            "then",
            "finally",
            ":",
            "by",
            "=",
            "about",
            "approximately",
            "only",
            "round",
        ):
            at += 1
            continue
        return False
    return False


def unit_later(look: Look, at: int) -> bool:
    """Whether a bare figure shares the unit of a torque a little further on ("12, 12 and 8 N·m")."""
    for index in range(at + 1, min(at + 8, look.length)):
        flags = look.flags(index)
        if flags & QUANTITY:
            return True
        if not (flags & (FIGURE | CONJ) or look.text(index) in (",", "finally", "lastly", "then", "to")):
            return False
    return False


def same_unit(look: Look, clause: Clause, at: int, last: str) -> bool:
    """Whether a bare figure behind a further thing takes the unit of the torque before it ("the outer nuts 25 N·m and
    the middle one 30"); its word is then given that torque."""
    before = next((word for word in reversed(clause.torques) if word.found is not None), None)
    torque = before.found.tightening.torque if before is not None and before.found is not None else None
    word = look.words[at]
    ends = bool(look.flags(at + 1) & (PUNCT | CONJ))
    if torque is None or not torque.unit or last != "object" or not ends or word.text[-1:].isalpha():
        return False
    held = next((piece for piece in reversed(clause.pieces) if isinstance(piece, Thing)), None)
    if held is None or before is None or held.start < before.start or held.kind in ("document", "feature", "measure"):
        return False
    found = find_tightenings(f"{word.text} {torque.unit}")
    if len(found) != 1:
        return False
    word.found = Found(word.start, word.end, found[0].tightening)
    return True


def relative(look: Look, clause: Clause, at: int) -> int:
    """ "that hold the guard", "you took out in step 3", "left loose in step 6", "holding the fan": a remark on the
    thing just named, up to where the command goes on."""
    words = look.words
    if (
        words[at].flags & PAST
        or look.flags(at + 1) & PAST
        or words[at].text in ("you", "that", "which", "who", "whose")
    ):
        clause.remark = (clause.remark + " " + " ".join(word.text for word in words[at : at + 3])).strip()
    start = at
    end = skip(look, clause, at, inner=True)
    if words[start].text in _HOLDING:
        # "the guard, held by four M5 screws": what holds it is meant with it
        for index in range(start + 1, end):
            if words[index].text in ("by", "with") and starts_thing(words, index + 1):
                thing, _ = thing_at(words, index + 1)
                if thing is not None and thing.kind == "fastener":
                    clause.brackets.append(thing)
    return end


_HOLDING = frozenset("held secured fastened fixed attached bolted screwed".split())


def skip(look: Look, clause: Clause, at: int, inner: bool = False, named: bool = False) -> int:
    """Past a remark: to a comma, a full stop, a figure the command demands, or the next command."""
    words = look.words
    start = at
    while at < look.length:
        word = words[at]
        text, flags = word.text, word.flags
        if flags & PUNCT and text not in ("/", "'", '"', "-", "&"):
            if text == "(":
                at = brackets(look, clause, at)
                continue
            break
        if (
            flags & CONJ
            and at > start
            and (look.command_at(at + 1) or look.text(at) == "then" or figures_follow(look, at + 1))
        ):
            break
        if text in ("to", "at") and look.flags(at + 1) & QUANTITY and not starts_thing(words, at + 1):
            break
        if text == "to" and clause.lemma in ("tighten", "torque") and _bare_end(look, at + 1):
            break  # "tighten the screw that locks the arm to 3 kg"
        if at > start and words[start].flags & PAST and flags & BASE and not flags & _OTHERS and look.command_at(at):
            break  # "with the lever held tighten both bolts"
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
                if thing.labels or (named and thing.kind == "fastener"):
                    clause.brackets.append(thing)
                at = after
                continue
        word.used = True
        at += 1
    return at


def _bare_end(look: Look, at: int) -> bool:
    """Whether a bare figure or a weight ends the sentence here."""
    word = look.words[at] if at < look.length else None
    if word is None or not word.flags & FIGURE or not look.flags(at + 1) & PUNCT:
        return False
    return not word.kind or word.text.endswith(("kg", "lb", "lbs", "pounds"))


def past_statement(look: Look, at: int) -> int:
    """Past what has to be so ("check that forward and reverse engage"): nobody is told to do it."""
    start = at
    while at < look.length and not look.flags(at) & PUNCT and look.text(at) != "then":
        at += 1
    mark(look.words, start, at)
    return at


def held_with(look: Look, clause: Clause, at: int) -> int:
    """Past the fasteners a colon brings in ("unbolt the lower unit: four M8 bolts from below and one M10 bolt inside"),
    which are kept as if they stood in brackets; the same index where a figure or a command follows."""
    words = look.words
    end = at
    while end < look.length and look.text(end) not in (";", ".", "(", ":"):
        if look.flags(end) & QUANTITY and not starts_thing(words, end):
            return at
        end += 1
    first, _ = thing_at(words, at) if starts_thing(words, at) else (None, at)
    known = first is not None and (first.kind == "fastener" or (first.kind in ("", "threaded") and bool(first.sizes)))
    if first is None or not known or first.count is None or first.pronoun or look.statement_at(at):
        return at
    while at < end:
        thing, after = thing_at(words, at) if starts_thing(words, at) else (None, at)
        if thing is None or after <= at:
            words[at].used = True
            at += 1
            continue
        if thing.count is not None and (thing.kind == "fastener" or (thing.head == "one" and thing.mods)):
            clause.brackets.append(thing)
        mark(words, at, after)
        at = after
    return end


def brackets(look: Look, clause: Clause, at: int) -> int:
    """What stands in brackets behind a thing: its fasteners, a figure, a remark."""
    words = look.words
    close = at + 1
    depth = 1
    while close < look.length:
        if words[close].text == "(":
            depth += 1
        elif words[close].text == ")":
            depth -= 1
            if not depth:
                break
        close += 1
    words[at].used = True
    if close < look.length:
        words[close].used = True
    inside = at + 1
    if close == inside + 1 and look.flags(inside) & ADJ:
        words[inside].used = True
        clause.said.append(look.text(inside))  # "torque (dry): 24 N·m"
        return close + 1
    # an aside that commands or limits is a clause of its own
    note = note_at(look, inside)
    if (
        look.text(inside) in SIGNALS
        or look.flags(inside) & NEG
        or look.command_at(inside, True)
        or (note is not None and note[0].kind == "fastener" and close < look.length)
    ):
        while look.text(inside) in SIGNALS or look.text(inside) == ":":
            words[inside].used = True
            inside += 1
        look.asides.append((inside, close))
        return close + 1
    while inside < close:
        word = words[inside]
        most = any(words[index].text in ("limit", "maximum", "most") for index in range(inside, close))
        limit = word.found is not None and bool(clause.torques)
        limit = limit and (most or (word.found is not None and word.found.tightening.kind == "maximum"))
        if limit and word.flags & QUANTITY:
            end = close if most else inside + 1
            look.asides.append((inside, end))  # "to 3 N·m (limit 4 N·m, soft hose)"
            inside = end
            continue
        if word.flags & QUANTITY and not starts_thing(words, inside):
            word.used = True
            before = [held for _, held in clause.preps if isinstance(held, Thing)] + clause.objects
            owner = next((held for held in before if held.kind == "tool" and held.last == at), None)
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
                if thing.head == "fastener" and thing.sizes and thing.count is None and clause.objects:
                    clause.objects[-1].sizes = clause.objects[-1].sizes or thing.sizes  # "the centre bolt (M12, 10.9)"
                else:
                    clause.brackets.append(thing)
                mark(words, inside, after)
                inside = after
                continue
        if word.flags & FIGURE:
            clause.measures.append(word)
        word.used = True
        inside += 1
    return close + 1
