"""One sentence, read: its deeds, the things it names, what was left over."""

from __future__ import annotations

import re
from functools import lru_cache

from torquewright.notation.tightening import Found
from torquewright.notation.vocabulary import vocabulary
from torquewright.records.tightening import Tightening
from torquewright.sentences.account import account, scales
from torquewright.sentences.clause import Clause
from torquewright.sentences.clauses import Parser
from torquewright.sentences.deeds import TIGHTENING, Deed
from torquewright.sentences.demands import Demands
from torquewright.sentences.facts import NOT_JOINTS
from torquewright.sentences.lexicon import lexicon
from torquewright.sentences.staging import between, one_tightening, pulls_of, readings_of, shared_out, staged
from torquewright.sentences.things import DOCUMENTS, Thing
from torquewright.sentences.words import Word, words_of


class Sentence:
    """What was made of one sentence of a text.

    ``start``/``end`` are its offsets; ``deeds`` what it demands in the order of the text; ``things`` every name in
    it; ``status`` "read", "in part" or "unread"; ``leftover`` the stretches nothing was made of; ``signal`` the
    signal word it opens with; ``references`` the steps and tables it points to; ``preset`` the figures a wrench was
    set to for what a later sentence tightens, with the wrench.
    """

    __slots__ = (
        "clauses",
        "deeds",
        "end",
        "leftover",
        "preset",
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
        self.preset: tuple[list[Word], Thing | None] = ([], None)
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
        entered = {id(deed.thing) for deed in self.deeds if deed.verb in ("hand_start", "seat", "remove")}
        pulled = any(deed.verb == "tighten" and deed.thing is not None and deed.thing.pronoun for deed in self.deeds)
        screwed = {
            id(deed.thing)  # "screw the sight glass in and torque it to 7 N·m"
            for deed in self.deeds
            if pulled and deed.lemma == "screw" and deed.thing is not None and deed.thing.kind == "threaded"
        }
        plugged = {id(deed.thing) for deed in self.deeds if deed.verb in ("connect", "disconnect")}
        locking = {id(held) for deed in self.deeds if deed.verb == "lock" for _, held in deed.clause.preps}
        result = []
        taken_up = {id(held) for clause in self.clauses for text, held in clause.preps if text in ("with", "using")}
        for thing in self.things:
            if thing.head in ("adapter", "adaptor") and id(thing) in taken_up:
                continue  # "with the long adapter in line": a tool
            if (
                thing.kind == "feature"
                and thing.head == "thread"
                and (part := _fastener_of(thing, self.words)) is not None
            ):
                result.append(part)
            elif (
                (thing.kind == "fastener" and not (thing.head == "plug" and id(thing) in plugged))
                or (
                    thing.head == "one"
                    and thing.mods
                    and not self._of_pieces(thing)
                    and (thing.count is not None or id(thing) in turned or bool(_HEADS & set(thing.mods)))
                )
                or (id(thing) in screwed and id(thing) not in turned)
                or (thing.head == "pair" and not thing.plural and id(thing) in turned | entered)
                or (
                    id(thing) in turned
                    and not thing.pronoun
                    and thing.head not in NOT_JOINTS
                    and thing.kind in ("threaded", "", "seal", "valve", "lock")
                )
                or (
                    thing.kind == "lock"
                    and thing.head in ("pin", "cotter")
                    and (
                        id(thing) in locking
                        or any(deed.thing is thing and deed.verb == "install" for deed in self.deeds)
                    )
                )
            ):
                result.append(thing)
        return result

    def _of_pieces(self, thing: Thing) -> bool:
        """Whether "two new ones" are washers, seals or the like, named just before in the same sentence."""
        named = [held for held in self.things if held.end <= thing.start and not held.pronoun and held.plural]
        return bool(named) and named[-1].kind in ("washer", "seal", "lock", "consumable")

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
            least = len(pulls) == 1 and (pulls[0].kind == "minimum" or "at least" in final.said)
            if limit is not None and least:
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
        ranges = {id(thing.range) for thing in self.things if thing.range is not None} | scales(self.words)
        for word in self.words:
            if (
                word.found is not None
                and id(word) not in done
                and id(word) not in ranges
                and word.found.tightening.torque is not None
            ):
                result.append((word.found.tightening, False))
        return result


_HEADS = frozenset("countersunk hexagon hex slotted pan-head socket-head knurled".split())  # what only a screw has


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
    demands = Demands(parser.clauses, words, before or [], sentence.signal)
    sentence.clauses = list(parser.clauses)
    sentence.deeds = demands.deeds
    sentence.remarks = list(demands.remarks)
    if demands.set_tool is not None and demands.waiting:
        sentence.preset = (list(demands.waiting), demands.set_tool)
    _names(sentence, parser)
    _references(sentence, parser)
    _refer(sentence)
    for clause in demands.loose:
        for word in words[clause.first : clause.stop]:
            word.used = False
    account(sentence)
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
    table = any(thing.head == "table" and not thing.labels for thing in sentence.things)
    if table and any(deed.verb == "tighten" and not deed.torques and deed.mode == "do" for deed in deeds):
        thing = next(thing for thing in sentence.things if thing.head == "table")
        deeds.append(Deed("refer", "do", thing, sentence.clauses[-1]))  # "to the figures in the table below"
        deeds[-1].start, deeds[-1].end = thing.start, thing.end
    if not deeds and sentence.remarks:
        clause = sentence.remarks[0]
        noted = Deed("check", "mentioned_only", clause.subject or next(iter(clause.objects), None), clause)
        noted.lemma = "note"
        deeds.append(noted)


def read_sentences(text: str, before: str = "") -> list[Sentence]:
    """Every sentence of a text, each knowing what the ones before it named; ``before`` is what stands ahead."""
    from torquewright.sentences.stops import stretches

    known: list[Thing] = []
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
