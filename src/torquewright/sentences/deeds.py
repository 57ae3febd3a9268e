"""What the clauses of a sentence demand: deeds with their mode, thing, figures and tool.

A deed is one verb of the closed set done to one thing. Nothing here knows a catalogue.
"""

from __future__ import annotations

from torquewright.sentences.clause import Clause
from torquewright.sentences.things import Thing
from torquewright.sentences.words import Word

LEAVING = {
    "leave_out": ("install", "do_not"),
    "leave_in": ("remove", "do_not"),
    "leave_loose": ("tighten", "do_not"),
    "leave_dry": ("lubricate", "do_not"),
}
"""What leaving something as it is comes to: the verb that is not done, and the mode."""


class Deed:
    """One thing done to one thing.

    ``mode`` as in the records. ``thing`` may be None where the text leaves it out. ``torques`` are the figures
    that belong to it, in order; ``with_things`` what comes along or helps (tools, washers, substances). ``order``
    is the place in time within the sentence, to be sorted by. ``doubt`` says what is open about it.
    """

    __slots__ = (
        "again",
        "amount",
        "by_hand",
        "clause",
        "counted",
        "demanded",
        "doubt",
        "end",
        "fronted",
        "lemma",
        "mode",
        "order",
        "said",
        "setting",
        "start",
        "state",
        "substance",
        "thing",
        "tool",
        "torques",
        "verb",
        "washers",
    )

    def __init__(self, verb: str, mode: str, thing: Thing | None, clause: Clause) -> None:
        self.verb = verb
        self.mode = mode
        self.thing = thing
        self.clause = clause
        self.lemma = clause.lemma
        self.torques: list[Word] = []
        self.tool: Thing | None = None
        self.washers: list[Thing] = []
        self.substance: Thing | None = None
        self.state = thing.state if thing is not None else ""
        self.by_hand = False
        self.amount: Word | None = None
        self.setting: Word | None = None  # what the wrench is set to, where that is not what arrives
        self.order = 0.0
        self.demanded = True
        self.counted = True  # false for a second object of one deed ("the studs and their holes")
        self.doubt = ""
        self.again = False
        self.said: list[str] = clause.said
        self.fronted = False
        verb_word = clause.verb
        self.start = verb_word.start if verb_word is not None else (thing.start if thing is not None else clause.start)
        self.end = max(verb_word.end if verb_word is not None else 0, thing.end if thing is not None else 0)

    def __repr__(self) -> str:
        return f"<{self.verb}/{self.mode} {self.thing} {self.torques}>"


TIGHTENING = frozenset({"tighten", "tighten_angle", "seat", "retighten", "back_off", "hand_start"})
FITTING = frozenset({"install", "reuse", "replace", "position", "connect", "hand_start"})
HANDLED = frozenset(
    "loosen remove discard clean inspect measure lubricate seal install reuse replace hand_start seat tighten "
    "tighten_angle "
    "back_off retighten lock position check disconnect connect mark".split()
)
"""Verbs done to a joint, a seal or a piece of one."""
