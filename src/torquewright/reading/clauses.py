"""A sentence taken apart into clauses: who is told to do what to what, with what, to which figure, and when.

The parts are found from left to right, each decision made once, with a look at the next words. What cannot be
placed is left unused and shows as left over.
"""

from __future__ import annotations

from torquewright.reading.lexicon import (
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
    Lexicon,
    lexicon,
)
from torquewright.reading.things import Thing, nominal, starts_thing, thing_at
from torquewright.reading.words import Word

HAPPENING = frozenset("turns stops clicks leaks moves runs seats slips drips weeps".split())
ENDS = frozenset(".;!?—–")
TIME_LINKS = frozenset(("before", "after", "prior to", "only after", "only once", "once", "when", "as soon as", "until", "till",
                        "not until", "immediately after", "directly after", "immediately before", "just before", "only when"))
CONDITIONS = frozenset("if unless where provided whenever otherwise else should".split()) | {
    "in case", "even if", "only if", "provided that", "in the event that", "in case of", "in the event of", "as long as",
    "each time that", "every time",
}  # fmt: skip


class Clause:
    """One clause. ``role`` is "command", "statement", "gerund", "fragment" or "tail" (what is added without a verb,
    such as ", no sealant"). ``link`` is the word that makes it depend on another one (if, before, until ...).

    ``pieces`` keeps objects (:class:`Thing`) and torques (:class:`Word`) in the order of the text; ``preps`` the
    phrases with a small word, as (word, thing or quantity). ``said`` are adverbs and adjectives behind the noun.
    """

    __slots__ = (
        "brackets", "complement", "end", "first", "front", "lemma", "link", "measures", "modal", "negated", "particles",
        "pieces", "preps", "purpose", "role", "said", "start", "stop", "subject", "tense", "then", "verb", "remark",
    )  # fmt: skip

    def __init__(self, role: str, first: int) -> None:
        self.role = role
        self.first = first
        self.stop = first
        self.start = self.end = 0
        self.link = ""
        self.verb: Word | None = None
        self.lemma = ""
        self.negated = False
        self.modal = ""
        self.tense = ""
        self.subject: Thing | None = None
        self.particles: list[str] = []
        self.pieces: list[Thing | Word] = []
        self.preps: list[tuple[str, Thing | Word | None]] = []
        self.measures: list[Word] = []
        self.said: list[str] = []
        self.purpose = ""
        self.complement = ""
        self.brackets: list[Thing] = []
        self.then = False
        self.front = False  # stands ahead of the clause it depends on
        self.remark = ""

    @property
    def objects(self) -> list[Thing]:
        return [piece for piece in self.pieces if isinstance(piece, Thing)]

    @property
    def torques(self) -> list[Word]:
        return [piece for piece in self.pieces if isinstance(piece, Word)]

    def __repr__(self) -> str:
        return (
            f"<{self.role} {self.link or '-'} {'NOT ' if self.negated else ''}{self.lemma} {self.particles} s={self.subject} "
            f"{self.pieces} {self.preps} {self.said} {self.tense} {self.modal} {self.complement}>"
        )


class Parser:
    """Takes one sentence apart. ``clauses`` holds the result in the order of the text."""

    def __init__(self, words: list[Word]) -> None:
        self.words = words
        self.length = len(words)
        self.book: Lexicon = lexicon()
        self.clauses: list[Clause] = []
        self.latest = ""  # what a comma or "and" has just added
        self.moved: Clause | None = None  # a further verb of the same subject, just begun
        self.beside: list[Thing] = []  # further subjects joined with "and"
        self.ahead: list[Word] = []  # torques inside the subject of the statement being read
        self._sentence()

    # ---- looking ahead ------------------------------------------------------------------------------------------

    def flags(self, at: int) -> int:
        return self.words[at].flags if at < self.length else PUNCT

    def text(self, at: int) -> str:
        return self.words[at].text if at < self.length else ""

    def command_at(self, at: int, fresh: bool = False) -> bool:
        """Whether the word tells somebody to do something (a verb in the imperative), rather than naming a thing."""
        if at >= self.length:
            return False
        word = self.words[at]
        flags = word.flags
        if flags & DEMAND:
            return True
        if not flags & BASE or word.lemma not in self.book.senses or flags & (AUX | MODAL) and word.text != "do":
            return False
        after = self.flags(at + 1)
        if not flags & (NOUN | ADJ | PREP | ADV | PART | DET | SUB | NUM):
            return True
        if at + 1 >= self.length or after & (PUNCT | CONJ):
            if self.text(at + 1) in ("(", ":"):
                return False
            if fresh and self.text(at + 1) == "," and self.command_at(at + 2):
                return True
            if flags & NOUN or not fresh and flags & (ADV | ADJ):
                return fresh and not flags & NOUN or (after & CONJ != 0 and self.command_at(at + 2))
            return fresh or not flags & ADV
        if after & (DET | PRON | SIZE | NUM) and not after & QUANTITY:
            return not (flags & (PREP | SUB) and not fresh) or self.text(at) in ("back", "clear")
        if after & QUANTITY:
            return word.lemma == "torque" and fresh or word.lemma in ("turn", "rotate", "advance")
        if after & PART and not after & PREP:
            return True
        if after & PREP:
            if self.text(at + 1) in ("of", "for", "than", "as", "per") and flags & NOUN:
                return False
            return fresh or bool(after & PART) or not flags & NOUN or self.text(at + 1) in ("to", "with", "by")
        if after & (ADV | NEG) and not after & NOUN:
            return fresh or not flags & NOUN
        if after & (NOUN | ADJ | UNKNOWN | ING | PAST | BASE):
            thing, end = thing_at(self.words, at + 1)
            if thing is None:
                return fresh
            nxt = self.flags(end)
            if self.text(end) == ":" and not fresh:
                return False
            if self.text(end) == ":" and flags & NOUN:
                return False
            if nxt & (AUX | MODAL) and not nxt & NOUN:
                return False
            if nxt & (THIRD | BASE) and not nxt & (NOUN | ADJ | PREP | ADV) and not self.command_at(end):
                return False
            if not fresh and flags & ADJ and not flags & NOUN:
                return bool(after & NOUN) and thing.kind != "tool"
            return True
        return fresh

    def finite_at(self, at: int) -> bool:
        """Whether a statement's verb stands here (is, must, takes, hold)."""
        flags = self.flags(at)
        while flags & ADV and not flags & (BASE | THIRD) and at < self.length:
            at += 1
            flags = self.flags(at)
        if flags & (AUX | MODAL):
            return True
        if flags & NEG and self.text(at).startswith(("does", "did", "must", "shall", "should", "may", "can", "is not", "are not", "do not", "don't", "won't", "need not", "needn't", "cannot", "can't")):
            return True
        if flags & THIRD and (not flags & NOUN or at and self.words[at - 1].text in ("it", "this", "that", "which", "he", "she", "they")):
            return True
        if flags & THIRD and self.text(at) in HAPPENING and self.flags(at + 1) & (ADV | PREP | PART | PUNCT):
            return True
        if flags & PAST and not flags & (NOUN | ADJ) and self.words[at].lemma in ("come", "take", "go", "do", "begin"):
            return True
        return bool(flags & BASE and not flags & (NOUN | ADJ | PREP | PART | ADV | CONJ | SUB | PUNCT))

    def statement_at(self, at: int) -> bool:
        """Whether a name with a finite verb behind it starts here."""
        if not starts_thing(self.words, at):
            return False
        thing, end = thing_at(self.words, at)
        if thing is None:
            return False
        if self.flags(end) & PREP and self.flags(end + 1) & QUANTITY and thing.kind == "measure":
            probe = end + 2
            while probe < self.length and not self.flags(probe) & (PUNCT | QUANTITY):
                if self.finite_at(probe):
                    return True
                probe += 1
        while self.text(end) in ("and", "or") and starts_thing(self.words, end + 1) and not self.command_at(end + 1):
            more, further = thing_at(self.words, end + 1)
            if more is None:
                break
            end = further
        return self.finite_at(end) and not (self.command_at(end) and self.text(end - 1) in (",", "and", "then"))

    # ---- the sentence -------------------------------------------------------------------------------------------

    def _sentence(self) -> None:
        at = 0
        fresh = True
        then = False
        while at < self.length:
            word = self.words[at]
            flags = word.flags
            if flags & PUNCT:
                word.used = True
                fresh = fresh or word.text in ".;:!?—–("
                at += 1
                continue
            if flags & CONJ:
                word.used = True
                then = then or word.text == "then"
                if word.text == "nor":
                    at = self._tail_or_command(at, then)
                    then = False
                at += word.text != "nor" or self.words[at] is word
                continue
            before = at
            at = self._clause(at, fresh, then)
            if at <= before:
                at = before + 1
            fresh = then = False

    def _new(self, role: str, at: int, then: bool = False) -> Clause:
        clause = Clause(role, at)
        clause.then = then
        self.clauses.append(clause)
        return clause

    def _clause(self, at: int, fresh: bool, then: bool) -> int:
        from torquewright.reading import predicates

        flags, text = self.flags(at), self.text(at)
        if text in ("otherwise", "else", "if not", "instead") and text != "instead":
            self.words[at].used = True
            clause = self._new("condition", at)
            clause.link, clause.front, clause.stop = "otherwise", True, at + 1
            return at + 1
        if text == "should" and starts_thing(self.words, at + 1):
            return predicates.inverted(self, at)
        if flags & SUB or text in ("before", "after", "prior to"):
            return predicates.subordinate(self, at)
        if flags & NEG:
            return self._tail_or_command(at, then)
        if self.command_at(at, fresh):
            return predicates.command(self, at, then)
        if text in ("there", "here") and self.finite_at(at + 1) and not self.command_at(at + 1):
            return predicates.existential(self, at)
        if flags & ADV and not (flags & NOUN and starts_thing(self.words, at) and self.statement_at(at)):
            # an adverb ahead of a command: "Then carefully lift", "Finally tighten"
            probe = at
            while self.flags(probe) & ADV and not self.command_at(probe) and probe < self.length:
                probe += 1
            if self.command_at(probe, True) or self.flags(probe) & NEG:
                for index in range(at, probe):
                    self.words[index].used = True
                said = [self.text(index) for index in range(at, probe)]
                end = self._clause(probe, True, then or bool(set(said) & {"next", "now", "finally", "lastly", "afterwards"}))
                self.clauses[-1].said.extend(said)
                return end
            if probe > at and starts_thing(self.words, probe) and self.statement_at(probe):
                for index in range(at, probe):
                    self.words[index].used = True
                return self._clause(probe, True, then)
        if flags & ING and not starts_with_name(self, at):
            return predicates.gerund(self, at)
        if flags & ING and self.flags(at + 1) & (DET | PREP) and not self.statement_at(at):
            return predicates.gerund(self, at)
        if text == "having" or (text == "to" and self.flags(at + 1) & BASE and not self.flags(at + 1) & NUM):
            return predicates.gerund(self, at)
        if starts_thing(self.words, at) and (self.statement_at(at) or (flags & DET and not flags & PREP)):
            return predicates.named(self, at, fresh)
        if flags & PREP and not flags & ADJ or flags & PREP and self.flags(at + 1) & DET:
            return predicates.fronted(self, at)
        if starts_thing(self.words, at):
            return predicates.named(self, at, fresh)
        if flags & (QUANTITY | FIGURE):
            return predicates.figure(self, at)
        if flags & (PAST | ADV | ADJ | PART):
            return predicates.trailing(self, at)
        return at + 1

    def _tail_or_command(self, at: int, then: bool) -> int:
        from torquewright.reading import predicates

        probe = at + 1
        while self.flags(probe) & ADV and not self.command_at(probe):
            probe += 1
        if self.text(at) in ("neither", "no", "nor") and starts_thing(self.words, at + 1) and self.text(at) != "no":
            return predicates.neither(self, at)
        if self.flags(at + 1) & (MODAL | AUX) and not self.flags(at + 1) & NEG and starts_thing(self.words, at + 2) and self.text(at) not in ("no", "without"):
            self.words[at].used = True
            return predicates.inverted(self, at + 1, negated=True)
        if self.text(at).endswith(("about", "of")) and self.flags(at + 1) & ING:
            return predicates.command(self, at, then)
        if self.text(at) == "no" and self.statement_at(at):
            return predicates.named(self, at, True)
        if self.command_at(probe, True) and self.text(at) not in ("no", "without"):
            return predicates.command(self, at, then)
        if self.text(at) in ("without", "avoid", "refrain from") or self.flags(probe) & ING:
            return predicates.tail(self, at)
        return predicates.tail(self, at)


def starts_with_name(parser: Parser, at: int) -> bool:
    """Whether a word in -ing is part of a name here ("Bearing cap nuts: …")."""
    after = parser.flags(at + 1)
    if after & (DET | PREP | PRON | ADV | PUNCT | CONJ) and not after & NOUN:
        return False
    thing, end = thing_at(parser.words, at)
    if thing is None:
        return False
    return parser.text(end) in (":", ",", "") or bool(parser.flags(end) & QUANTITY) or parser.finite_at(end)


def mark(words: list[Word], first: int, last: int) -> None:
    """Call the words used."""
    for word in words[first:last]:
        word.used = True


__all__ = ["CONDITIONS", "ENDS", "TIME_LINKS", "Clause", "Parser", "mark", "nominal", "starts_with_name"]
_UNUSED = (NUM,)
