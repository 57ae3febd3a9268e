"""One clause of a sentence: its verb, what it is about, what stands beside, and what it hangs on."""

from __future__ import annotations

from torquewright.sentences.things import Thing
from torquewright.sentences.words import Word

EXCEPTING = frozenset(("except", "except for", "apart from", "with the exception of", "other than"))
CONDITIONS = frozenset("if unless where provided whenever otherwise else should".split()) | {
    "in case",
    "even if",
    "only if",
    "provided that",
    "in the event that",
    "in case of",
    "in the event of",
    "as long as",
    "each time that",
    "every time",
}


class Clause:
    """One clause. ``role`` is "command", "statement", "gerund", "fragment" or "tail" (what is added without a verb,
    such as ", no sealant"). ``link`` is the word that makes it depend on another one (if, before, until ...).

    ``pieces`` keeps objects (:class:`Thing`) and torques (:class:`Word`) in the order of the text; ``preps`` the
    phrases with a small word, as (word, thing or quantity). ``said`` are adverbs and adjectives behind the noun.
    """

    __slots__ = (
        "brackets",
        "complement",
        "end",
        "first",
        "front",
        "lemma",
        "link",
        "measures",
        "modal",
        "negated",
        "particles",
        "pieces",
        "preps",
        "purpose",
        "remark",
        "role",
        "said",
        "start",
        "stop",
        "subject",
        "tense",
        "then",
        "verb",
    )

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
            f"<{self.role} {self.link or '-'} {'NOT ' if self.negated else ''}{self.lemma} {self.particles} "
            f"s={self.subject} "
            f"{self.pieces} {self.preps} {self.said} {self.tense} {self.modal} {self.complement}>"
        )
