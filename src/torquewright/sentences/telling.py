"""What a sentence has told so far, and what its pronouns stand for."""

from __future__ import annotations

from torquewright.sentences.clause import Clause
from torquewright.sentences.deeds import Deed
from torquewright.sentences.facts import is_torque
from torquewright.sentences.things import Thing
from torquewright.sentences.words import Word

_FASTENING = frozenset(
    "tighten torque hand-start finger-start nip snug seat slacken loosen screw unscrew retighten".split()
)
_THREADED = frozenset("draw pull run feed lead push".split())  # what is done with a cable
_PERHAPS = frozenset("start run spin wind turn".split())
_IFS = frozenset(
    (
        "if necessary",
        "if required",
        "if need be",
        "where necessary",
        "if possible",
        "if present",
        "if fitted",
        "where fitted",
        "if any",
        "if applicable",
        "if used",
        "as necessary",
        "as required",
    )
)


class Telling:
    """What a sentence has told so far: its deeds in the order of its clauses, the things named, what waits.

    ``known`` are things named, the latest last, beginning with those just before the sentence; ``remarks`` clauses
    that demand nothing; ``loose`` clauses that could not be placed; ``condition`` the clause under which the next
    command stands; ``waiting`` torques named ahead of their command; ``fronted`` phrases ahead of it; ``set_tool`` a
    tool just set.
    """

    def __init__(self, clauses: list[Clause], words: list[Word], before: list[Thing], signal: str = "") -> None:
        self.excepted: Clause | None = None  # what is told ahead to be left as it is
        self.signal = signal  # the signal word the sentence opens with
        self.clauses = clauses
        self.words = words
        self.known: list[Thing] = list(before)
        self.deeds: list[Deed] = []
        self.remarks: list[Clause] = []
        self.loose: list[Clause] = []
        self.condition: Clause | None = None
        self.waiting: list[Word] = []
        self.fronted: list[Clause] = []
        self.set_tool: Thing | None = None
        self.last_stop = 0

    def parted(self, clause: Clause) -> bool:
        found = any(word.text in ".;!?" for word in self.words[self.last_stop : clause.first])
        self.last_stop = clause.first
        return found

    def text_before(self, clause: Clause) -> str:
        """The word, or stop, right ahead of a clause."""
        return self.words[clause.first - 1].text if clause.first else ""

    def note(self, clause: Clause) -> None:
        """Remember the things a clause names, for later pronouns: what it is about comes to mind last."""
        for thing in clause.brackets:
            self.remember(thing)
        for _, held in clause.preps:
            if isinstance(held, Thing):
                self.remember(held)
        if clause.subject is not None:
            self.remember(clause.subject)
        for thing in clause.objects:
            self.remember(thing)

    def remember(self, thing: Thing) -> None:
        if thing.owner is not None:
            self.remember(thing.owner)
        if not thing.pronoun:
            self.known.append(thing)

    def antecedent(self, thing: Thing | None, clause: Clause | None = None) -> Thing | None:
        """What a pronoun stands for among the things named so far: the latest that fits in number and in kind."""
        text = thing.head if thing is not None else ""
        plural = text in ("them", "they", "these", "those", "both", "all", "ones", "each", "any", "none") or (
            thing is not None and thing.plural
        )
        wanted = ("fastener", "lock", "washer", "seal", "threaded", "consumable", "machine", "")
        fasten = clause is not None and (
            clause.lemma in _FASTENING
            or any(is_torque(word) for word in clause.torques)
            or (
                clause.lemma in _PERHAPS
                and bool({"in", "up", "down", "home", "on"} & set(clause.particles) or "by hand" in clause.said)
            )
        )
        if clause is not None and clause.lemma in _THREADED and not clause.torques and not clause.said:
            named = [held for before in self.clauses for held in before.objects if before.stop <= clause.first]
            if named and named[-1].kind in ("cable", "hose") and named[-1].plural == plural:
                return named[-1]  # "tag the new cables and draw them in through the gland"
        for pick in (1, 2):
            for known in reversed(self.known):
                if (
                    known.kind in ("tool", "feature", "measure", "document", "damage", "dirt", "leakage", "person")
                    and pick == 1
                ):
                    continue
                if known.kind in ("document", "damage", "measure", "person", "leakage"):
                    continue
                if text == "it" and (known.plural or (known.count or 1) > 1) and pick == 1:
                    continue
                if plural and not (known.plural or (known.count or 1) > 1 or known.quantifier) and pick == 1:
                    continue
                if fasten and pick == 1 and known.kind not in ("fastener", "threaded", "lock"):
                    continue
                if known.kind in wanted or pick == 2:
                    return known
        return None

    def mode_of(self, clause: Clause, base: str = "do") -> str:
        if clause.negated:
            return "do_not"
        if self.condition is not None or any(said in _IFS for said in clause.said):
            return "if"
        return base
