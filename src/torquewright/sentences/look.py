"""Looking ahead in a sentence: does a command start here, a statement, a name?"""

from __future__ import annotations

from torquewright.sentences.clause import Clause
from torquewright.sentences.lexicon import (
    ADJ,
    ADV,
    AUX,
    BASE,
    CALL,
    CONJ,
    DEMAND,
    DET,
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
from torquewright.sentences.names import starts_thing, thing_at
from torquewright.sentences.runs import BREAKING
from torquewright.sentences.things import Thing
from torquewright.sentences.words import Word

DASHES = frozenset(("–", "—", "--"))
_TAKES = frozenset("take get need want require receive".split())
_SO_MUCH = frozenset("much more less little enough extra full half maximum minimum max min final".split())
_LONGEST_ASIDE = 14  # words: a longer stretch is a sentence of its own
HAPPENING = frozenset("turns stops clicks leaks moves runs seats slips drips weeps points".split())


class Look:
    """The words of a sentence from ``first`` on to ``last``, with the clauses found in them so far.

    ``pending`` tells the next clause what it hangs on where the one before has ended for it.
    """

    def __init__(self, words: list[Word], first: int = 0, last: int | None = None) -> None:
        self.words = words
        self.first = first
        self.length = len(words) if last is None else last
        self.book: Lexicon = lexicon()
        self.clauses: list[Clause] = []
        self.asides: list[tuple[int, int]] = []  # stretches in brackets that command or limit by themselves
        self.pending = ""  # "by", "command", "not" or "that": what the next clause is to the one before
        self.pending_subject: Thing | None = None
        self.latest = ""  # what a comma or "and" has just added
        self.moved: Clause | None = None  # a further verb of the same subject, just begun
        self.beside: list[Thing] = []  # further subjects joined with "and"
        self.manner: list[str] = []  # adverbs between a subject and its verb
        self.ahead: list[Word] = []  # torques inside the subject of the statement being read

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
        if self.text(at + 1) == "of" and not fresh and word.lemma not in ("dispose", "let", "get", "think"):
            return False  # "…, wipe of oil on the ring only"
        if word.text == "have" and self.text(at + 1) == "a" and self.text(at + 2) in ("look", "feel", "helper"):
            return True
        if not flags & BASE or word.lemma not in self.book.senses or (flags & (AUX | MODAL) and word.text != "do"):
            return False
        if word.lemma == "torque" and self.text(at - 1) in _SO_MUCH:
            return False  # "too much torque", "maximum torque"
        fresh = fresh or self.text(at - 1) == "then"
        after = self.flags(at + 1)
        if flags & NOUN and after & (AUX | MODAL | NEG) and not after & (NOUN | BASE) and self.finite_at(at + 1):
            return False  # "oil must not get on it"
        if after & CALL and flags & NOUN:
            return False  # "then bolt (2) to 20 lb-ft"
        if not flags & (NOUN | ADJ | PREP | ADV | PART | DET | SUB | NUM):
            return True
        if word.text == "top" and self.text(at + 1).startswith("up"):
            return True
        if at + 1 >= self.length or after & (PUNCT | CONJ):
            if self.text(at + 1) in ("(", ":"):
                return False
            if fresh and self.text(at + 1) == "," and self.command_at(at + 2):
                return True
            behind = self.aside_at(at + 1) + 1 if fresh else 1
            if behind > 1 and self.flags(behind) & (DET | NUM) and not self.statement_at(behind):
                return True  # "torque, using the small wrench, the screws to …"
            if word.text in ("stop", "wait") and self.text(at - 1) in (",", "and", "then") and self.clauses:
                return True  # "if it clicks early, stop."
            listed = at > 1 and self.text(at + 1) == self.text(at - 1) == ","
            if listed and self.flags(at - 2) & (BASE | PART) and not self.flags(at - 2) & NOUN:
                return self.command_at(at + 2)  # "warm up, stop, look for leaks"
            if flags & NOUN or (not fresh and flags & (ADV | ADJ)):
                return (fresh and not flags & NOUN) or (after & CONJ != 0 and self.command_at(at + 2))
            return fresh or not flags & ADV
        if after & (DET | PRON | SIZE | NUM) and not after & QUANTITY:
            return not (flags & (PREP | SUB) and not fresh) or self.text(at) in ("back", "clear")
        if self.text(at + 1) in ("until", "till"):
            return True  # "pump until no more bubbles come"
        if after & NOUN and flags & NOUN and self.text(at + 1) in ("side", "end") and self.flags(at + 2) & QUANTITY:
            return False  # "pump side 18 N·m"
        if after & QUANTITY:
            on_a_tool = word.lemma in ("set", "apply", "dial") and self.text(at + 2) in ("on", "to", "with")
            return (word.lemma == "torque" and fresh) or word.lemma in ("turn", "rotate", "advance") or on_a_tool
        if after & PART and not after & PREP:
            return True
        if after & PREP:
            if self.text(at + 1) in ("of", "for", "than", "as", "per") and flags & (NOUN | ADJ):
                # "torque as given on the plate"
                return fresh and word.lemma == "torque" and self.text(at + 1) in ("as", "per")
            return fresh or bool(after & PART) or not flags & NOUN or self.text(at + 1) in ("to", "with", "by")
        if after & (ADV | NEG) and not after & NOUN:
            return fresh or not flags & NOUN
        if flags & NOUN and after & PAST and not after & NOUN and self.flags(at + 2) & PREP:
            return False  # "oil trapped in a hole can …"
        if after & (NOUN | ADJ | UNKNOWN | ING | PAST | BASE):
            thing, end = thing_at(self.words, at + 1)
            if thing is None:
                return fresh
            further = end
            while self.text(further) in ("and", "or") and starts_thing(self.words, further + 1):
                more, after = thing_at(self.words, further + 1)
                if more is None or after <= further + 1:
                    break
                further = after
            nxt = self.flags(further)
            if further != end and not (nxt & (AUX | MODAL) and not nxt & NOUN):
                nxt = self.flags(end)
            if self.text(end) == ":" and not fresh:
                return False
            if self.text(end) == ":" and flags & NOUN:
                return False
            if thing.calls and flags & NOUN and self.text(at - 1) in (",", "and") and self.flags(at - 2) & CALL:
                return False  # "nut (22), cover plate (23) and paddle (24)"
            if nxt & (AUX | MODAL) and not nxt & NOUN:
                return False
            label = nxt & QUANTITY or self.text(end) in ("hand-tight", "finger-tight")
            label = label or (self.text(end) in _TAKES and bool(self.flags(end + 1) & QUANTITY))
            if label and flags & NOUN and thing.kind == "fastener" and word.lemma != "torque":
                return False  # "Hinge screws 4 N·m; latch screw hand-tight.", "Swivel bolts take 29 N·m."
            if nxt & (THIRD | BASE) and not nxt & (NOUN | ADJ | PREP | ADV) and not self.command_at(end):
                return False
            if (
                not fresh
                and flags & NOUN
                and thing.kind in ("fastener", "washer", "lock")
                and self._names_a_part(at)
                and (not self.flags(end) & PART and self.text(end) != "out of")
            ):
                return False  # "…, cover bolts 10 N·m"
            if not fresh and flags & ADJ and not flags & NOUN:
                return bool(after & NOUN) and thing.kind != "tool"
            return True
        return fresh

    def aside_at(self, at: int) -> int:
        """The index of the comma or dash that closes the aside opened by the one at ``at``; 0 where none is opened."""
        sign = self.text(at)
        if sign != "," and sign not in DASHES:
            return 0
        last = min(self.length, at + _LONGEST_ASIDE)
        close = at + 1
        while close < last and not (self.flags(close) & PUNCT and (sign == "," or self.text(close) != ",")):
            close += 1
        ends = self.text(close)
        if close <= at + 1 or not (ends == sign or (sign in DASHES and ends in DASHES)):
            return 0
        return close if sign != "," or self._opens_aside(at + 1) else 0

    def _opens_aside(self, at: int) -> bool:
        flags, text = self.flags(at), self.text(at)
        if text == "but":
            return bool(self.flags(at + 1) & (NEG | BASE))
        if flags & SUB and text in ("once", "after", "before", "when", "if", "as"):
            return True
        if flags & ING and not self.flags(at + 1) & PUNCT:
            return True
        if flags & NEG and self.words[min(at + 1, self.length - 1)].lemma in self.book.senses:
            return bool(self.flags(at + 2) & PUNCT)  # "press, never hammer, the bush"
        return text in ("with", "by", "using", "without", "from", "in")

    def compound_at(self, at: int) -> bool:
        """Whether a name of several words from the lists stands here ("level screw")."""
        return any(
            all(self.text(at + place) == word for place, word in enumerate(name))
            for name, _ in self.book.compounds.get(self.text(at), ())
        )

    def _names_a_part(self, at: int) -> bool:
        word = self.words[at]
        if word.text in self.book.structure:
            return True
        return (word.kind or self.book.noun_class(word.text)) in (
            "fastener",
            "threaded",
            "lock",
            "seal",
            "valve",
            "hose",
        )

    def finite_at(self, at: int) -> bool:
        """Whether a statement's verb stands here (is, must, takes, hold)."""
        flags = self.flags(at)
        ahead = self.words[at - 1].text if 0 < at <= self.length else ""
        if self.text(at) == "stands" and at and self.book.noun_class(ahead) == "fluid":
            return True
        while flags & ADV and not flags & (BASE | THIRD) and at < self.length:
            at += 1
            flags = self.flags(at)
        if flags & (AUX | MODAL):
            return True
        if flags & NEG and self.text(at).startswith(
            (
                "does",
                "did",
                "must",
                "shall",
                "should",
                "may",
                "can",
                "is not",
                "are not",
                "do not",
                "don't",
                "won't",
                "need not",
                "needn't",
                "cannot",
                "can't",
            )
        ):
            return True
        if flags & THIRD and (
            not flags & NOUN or (at and self.words[at - 1].text in ("it", "this", "that", "which", "he", "she", "they"))
        ):
            return True
        if flags & (BASE | THIRD) and ahead in ("we", "they", "he", "she"):
            return True
        if flags & THIRD and flags & NOUN and self.flags(at + 1) & DET and at and self.words[at - 1].flags & NOUN:
            return self.words[at].lemma in ("set", "seal", "lock", "hold", "level", "mark", "support", "block")
        if flags & THIRD and self.text(at) in HAPPENING and self.flags(at + 1) & (ADV | PREP | PART | PUNCT):
            return True
        if flags & THIRD and self.text(at) in BREAKING and self.flags(at + 1) & (SUB | PUNCT):
            return True  # "zinc cracks when the bolt is forced"
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

    def new(self, role: str, at: int, then: bool = False) -> Clause:
        """A clause that begins here."""
        clause = Clause(role, at)
        clause.then = then
        self.clauses.append(clause)
        return clause


def mark(words: list[Word], first: int, last: int) -> None:
    """Call the words used."""
    for word in words[first:last]:
        word.used = True
