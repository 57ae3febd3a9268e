"""One sentence, read: its deeds, the things it names, what was left over."""

from __future__ import annotations

import re
from functools import lru_cache

from torquewright.reading.clause import Clause
from torquewright.reading.clauses import Parser
from torquewright.reading.deeds import TIGHTENING, Deed
from torquewright.reading.demands import Demands
from torquewright.reading.facts import NOT_JOINTS
from torquewright.reading.lexicon import ADJ, FIGURE, NOUN, PUNCT, QUANTITY, UNKNOWN, VERB, lexicon
from torquewright.reading.staging import between, one_tightening, pulls_of, readings_of, shared_out, staged
from torquewright.reading.things import DOCUMENTS, Thing
from torquewright.reading.tightening import Found
from torquewright.reading.vocabulary import vocabulary
from torquewright.reading.words import Word, words_of
from torquewright.records.tightening import Tightening


class Sentence:
    """What was made of one sentence of a text.

    ``start``/``end`` are its offsets; ``deeds`` what it demands in the order of the text; ``things`` every name in
    it; ``status`` "read", "in part" or "unread"; ``leftover`` the stretches nothing was made of; ``signal`` the
    signal word it opens with; ``references`` the steps and tables it points to.
    """

    __slots__ = (
        "clauses",
        "deeds",
        "end",
        "leftover",
        "references",
        "remarks",
        "signal",
        "start",
        "status",
        "text",
        "things",
        "words",
    )

    def __init__(self, text: str, start: int, end: int) -> None:
        self.text = text[start:end]
        self.start = start
        self.end = end
        self.deeds: list[Deed] = []
        self.things: list[Thing] = []
        self.words: list[Word] = []
        self.leftover: list[tuple[int, int]] = []
        self.references: list[Thing] = []
        self.signal = ""
        self.status = "read"
        self.clauses: list[Clause] = []
        self.remarks: list[Clause] = []

    @property
    def told(self) -> list[Deed]:
        """The deeds in the closed set of verbs; a statement that demands nothing is one check, only mentioned."""
        return [deed for deed in self.deeds if deed.verb != "limit" and deed.counted]

    @property
    def fasteners(self) -> list[Thing]:
        """The joints the sentence names."""
        turned = {
            id(deed.thing)
            for deed in self.deeds
            if deed.verb in TIGHTENING
            or deed.verb == "loosen"
            or (deed.verb == "lock" and deed.thing is not None and deed.thing.kind == "threaded")
        }
        locking = {id(held) for deed in self.deeds if deed.verb == "lock" for _, held in deed.clause.preps}
        result = []
        for thing in self.things:
            if (
                thing.kind == "feature"
                and thing.head == "thread"
                and (part := _fastener_of(thing, self.words)) is not None
            ):
                result.append(part)
            elif (
                thing.kind == "fastener"
                or (thing.head == "one" and thing.mods and (thing.count is not None or (thing.plural and id(thing) in turned)))
                or (thing.head == "pair" and not thing.plural and id(thing) in turned)
                or (
                    id(thing) in turned
                    and not thing.pronoun
                    and thing.head not in NOT_JOINTS
                    and thing.kind in ("threaded", "", "seal")
                )
                or (
                    thing.kind == "lock"
                    and thing.head in ("pin", "cotter")
                    and (id(thing) in locking or any(deed.thing is thing and deed.verb == "install" for deed in self.deeds))
                )
            ):
                result.append(thing)
        return result

    @property
    def tightenings(self) -> list[tuple[Tightening, bool]]:
        """Every torque or angle of the sentence with whether it is demanded; the scale of a tool is none."""
        result: list[tuple[Tightening, bool]] = []
        done: set[int] = set()
        groups: list[list[Deed]] = []
        limited: set[int] = set()
        for deed in self.deeds:
            if (not deed.torques and (deed.verb != "back_off" or deed.mode != "do")) or deed.verb == "limit":
                continue
            last = groups[-1][-1] if groups else None
            if last is not None and _goes_on(last, deed):
                groups[-1].append(deed)
            else:
                groups.append([deed])
        for group in groups:
            for deed in group:
                done.update(id(word) for word in deed.torques)
            final = group[-1]
            demanded = final.demanded and final.mode != "mentioned_only" and final.verb in TIGHTENING
            if len(group) == 1 and shared_out(final):
                result.extend((held, demanded) for held in readings_of(final))
                continue
            pulls = [held for deed in group for held in pulls_of(deed)]
            if final.verb not in TIGHTENING and final.verb not in ("loosen", "measure"):
                pulls = [held for held in pulls if held.torque is not None]
            limit = next((deed for deed in self.deeds if deed.verb == "limit" and deed.torques), None)
            if limit is not None and len(pulls) == 1 and pulls[0].kind == "minimum":
                whole = between(pulls[0], limit)
                if whole is not None:
                    pulls = [whole]
                    done.update(id(word) for word in limit.torques)
                    limited.add(id(limit))
            if any(held.text != "back off" for held in pulls):
                result.append((staged(pulls) if len(pulls) > 1 else pulls[0], demanded))
        for deed in self.deeds:
            if deed.verb == "limit" and deed.torques and id(deed) not in limited:
                done.update(id(word) for word in deed.torques)
                held = one_tightening(deed)
                if held is not None:
                    result.append((held, False))
        ranges = {id(thing.range) for thing in self.things if thing.range is not None} | _scales(self.words)
        for word in self.words:
            if (
                word.found is not None
                and id(word) not in done
                and id(word) not in ranges
                and word.found.tightening.torque is not None
            ):
                result.append((word.found.tightening, False))
        return result


def _scales(words: list[Word]) -> set[int]:
    """The torques that are the scale or rating of a tool: "with a range of 5 to 25 N·m", "reads 0 to 250 lbf·ft"."""
    return {
        id(word)
        for place, word in enumerate(words)
        if word.found is not None
        and ("range" in word.text or any(held.text in _SCALE_WORDS for held in words[max(0, place - 3) : place]))
    }


_SCALE_WORDS = frozenset("range scale reads reading rated capacity".split())


@lru_cache(maxsize=1)
def _signal() -> re.Pattern[str]:
    names = "|".join(vocabulary().small["signal words"])
    return re.compile(rf"[\s>*_\[]*({names})S?\b[\s*_\]]*(?:[:!.–—-]|\s)[\s*_]*", re.IGNORECASE)


def read_sentence(
    text: str,
    start: int = 0,
    end: int | None = None,
    before: list[Thing] | None = None,
    found: list[Found] | None = None,
) -> Sentence:
    """The reading of ``text[start:end]``, one sentence or a few. ``before`` are the things named just before."""
    stop = len(text) if end is None else end
    sentence = Sentence(text, start, stop)
    body = start
    opening = _signal().match(text, start, stop)
    if opening and (
        opening.group(1).isupper()
        or (text[opening.end() - 1 : opening.end()] in ":–—- " and _punctuated(opening.group()))
    ):
        sentence.signal = opening.group(1).upper()
        body = opening.end()
    words = words_of(text, body, stop, found)
    sentence.words = words
    parser = Parser(words)
    demands = Demands(parser.clauses, words, before or [])
    sentence.clauses = list(parser.clauses)
    sentence.deeds = demands.deeds
    sentence.remarks = list(demands.remarks)
    _names(sentence, parser)
    _references(sentence, parser)
    _refer(sentence)
    for clause in demands.loose:
        for word in words[clause.first : clause.stop]:
            word.used = False
    _leftover(sentence)
    return sentence


def _punctuated(text: str) -> bool:
    return any(sign in text for sign in ":!–—*-")


def _names(sentence: Sentence, parser: Parser) -> None:
    seen: set[int] = set()

    def add(thing: Thing | None) -> None:
        if thing is None or id(thing) in seen:
            return
        seen.add(id(thing))
        sentence.things.append(thing)
        add(thing.owner)

    for clause in parser.clauses:
        add(clause.subject)
        for piece in clause.pieces:
            if isinstance(piece, Thing):
                add(piece)
        for _, held in clause.preps:
            if isinstance(held, Thing):
                add(held)
        for thing in clause.brackets:
            add(thing)
    sentence.things.sort(key=lambda thing: thing.start)


def _references(sentence: Sentence, parser: Parser) -> None:
    for clause in parser.clauses:
        if clause.link in ("until", "till", "unless"):
            continue
        held = [
            clause.subject,
            *clause.objects,
            *(thing for text, thing in clause.preps if text not in ("until", "till")),
        ]
        for thing in [*held, *clause.brackets]:
            if isinstance(thing, Thing):
                while thing is not None:
                    if thing.head in DOCUMENTS and thing.labels and thing not in sentence.references:
                        sentence.references.append(thing)
                    thing = thing.owner


def _refer(sentence: Sentence) -> None:
    """A step, table or figure pointed to is looked up; a statement that demands nothing is only taken note of."""
    deeds = sentence.deeds
    if sentence.references and not any(deed.verb in ("repeat", "refer") for deed in deeds):
        for thing in sentence.references:
            if thing.head in (
                "step",
                "table",
                "fig",
                "figure",
                "appendix",
                "section",
                "chapter",
                "page",
                "paragraph",
                "annex",
            ):
                deeds.append(Deed("refer", "do", thing, sentence.clauses[-1]))
                deeds[-1].start, deeds[-1].end = thing.start, thing.end
    if not deeds and sentence.remarks:
        clause = sentence.remarks[0]
        noted = Deed("check", "mentioned_only", clause.subject or next(iter(clause.objects), None), clause)
        noted.lemma = "note"
        deeds.append(noted)


def _leftover(sentence: Sentence) -> None:
    """What no part of the reading accounts for, and the status that follows."""
    pieces: list[tuple[int, int]] = []
    for word in sentence.words:
        if word.used or word.flags & PUNCT:
            continue
        if pieces and not sentence.text[pieces[-1][1] - sentence.start : word.start - sentence.start].strip(" \t\n,"):
            pieces[-1] = (pieces[-1][0], word.end)
        else:
            pieces.append((word.start, word.end))
    sentence.leftover = pieces
    content = [
        word for word in sentence.words if not word.used and word.flags & (NOUN | ADJ | UNKNOWN | QUANTITY | FIGURE)
    ]
    doubtful = _unheeded(sentence) or _unclaimed(sentence) or any(_not_understood(clause) for clause in sentence.remarks)
    if pieces and not sentence.deeds and not sentence.remarks:
        sentence.status = "unread"
    elif pieces or doubtful or any(deed.doubt for deed in sentence.deeds):
        sentence.status = "in part"
    elif not sentence.deeds and not sentence.remarks and sentence.words and not sentence.references:
        sentence.status = "unread"
    _ = content


def read_sentences(text: str, before: str = "") -> list[Sentence]:
    """Every sentence of a text, each knowing what the ones before it named; ``before`` is what stands ahead."""
    from torquewright.reading.stops import stretches

    known: list[Thing] = []
    row = _table_row(text, before)
    if row is not None:
        return [row]
    for start, end in stretches(before):
        known.extend(_naming(read_sentence(before, start, end, known)))
    result = []
    for start, end in stretches(text):
        sentence = read_sentence(text, start, end, known)
        known.extend(_naming(sentence))
        result.append(sentence)
    return result


def _naming(sentence: Sentence) -> list[Thing]:
    return [thing for thing in sentence.things if not thing.pronoun]


def _table_row(text: str, before: str) -> Sentence | None:
    return None


def _goes_on(last: Deed, deed: Deed) -> bool:
    """Whether a deed is a further stage of the one before: backed off, set again, turned on."""
    if {last.verb, deed.verb} <= {"tighten"} or not {last.verb, deed.verb} <= {"tighten", "back_off", "tighten_angle"}:
        return False
    return deed.thing is None or deed.thing.pronoun or deed.thing is last.thing


def _fastener_of(thing: Thing, words: list[Word]) -> Thing | None:
    """The fastener whose threads are named ("the pipe plug threads")."""
    book = lexicon()
    for word in words:
        if thing.start <= word.start and word.end < thing.end:
            kind = word.kind or book.noun_class(word.text)
            if kind == "fastener":
                part = Thing()
                part.start, part.end = word.start, word.end
                part.text = word.text
                part.head = word.text.split()[-1]
                part.kind = kind
                return part
    return None


def _not_understood(clause: Clause) -> bool:
    """Whether a statement that led to no deed binds somebody all the same: "… must be shimmed"."""
    if clause.role != "statement" or clause.modal not in (
        "must",
        "shall",
        "should",
        "have to",
        "be to",
        "need",
        "ought",
    ):
        return False
    return "passive" in clause.tense and not clause.negated and clause.lemma != "be"


_WEIGHTY = frozenset(
    "tighten torque retighten loosen slacken fit refit install reinstall remove replace renew reuse discard".split()
)


def _unheeded(sentence: Sentence) -> bool:
    """Whether a sentence that led to no deed holds a verb that matters, outside a remark on a thing."""
    if any(deed.lemma != "note" for deed in sentence.deeds):
        return False
    told = {id(clause.verb) for clause in sentence.clauses}
    return any(
        word.lemma in _WEIGHTY
        and word.flags & VERB
        and not word.flags & (NOUN | ADJ)
        and (id(word) not in told or _active(sentence, word))
        for word in sentence.words
    )


def _active(sentence: Sentence, word: Word) -> bool:
    """Whether somebody does it, rather than that it was or could be done."""
    clause = next((held for held in sentence.clauses if held.verb is word), None)
    return (
        clause is not None
        and clause.role == "statement"
        and clause.tense == "active"
        and clause.subject is not None
        and (clause.subject.kind == "person" or clause.subject.head in ("you", "we"))
    )


_TOLD_OF = frozenset(
    "was were gave would could expect range reads rated delivers drag breakaway running earlier originally factory "
    "click clicks stall took found measured wrong scale between instead".split()
)


def _unclaimed(sentence: Sentence) -> bool:
    """Whether a torque stands in the sentence that nothing was made of, with no word that tells it is only told of."""
    claimed = {id(word) for deed in sentence.deeds for word in deed.torques}
    claimed |= {id(thing.range) for thing in sentence.things if thing.range is not None} | _scales(sentence.words)
    left = [
        word
        for word in sentence.words
        if word.found is not None and word.found.tightening.torque is not None and id(word) not in claimed
    ]
    if not left:
        return False
    words = {word.text for word in sentence.words}
    told = words & _TOLD_OF or any(clause.tense.startswith(("past", "perfect")) for clause in sentence.clauses)
    return not told and not any(clause.subject is not None and clause.subject.kind == "tool" for clause in sentence.clauses)
