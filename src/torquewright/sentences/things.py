"""A name in a sentence, with what its words settle: head, number, size, state, and what is not said."""

from __future__ import annotations

from torquewright.sentences.words import Word

DOCUMENTS = frozenset(
    "step steps table tables figure figures fig section sections appendix chapter page pages paragraph "
    "para point points annex drawing diagram handbook manual".split()
)
_OF_SEVERAL = frozenset("gland strap clamp".split())
"""Held by several fasteners: one of them is no number of joints."""


class Thing:
    """One noun phrase.

    ``start``/``end`` are offsets from its first word of meaning (number, adjective or noun, not "the") to its head.
    ``head`` is the last noun in the singular, ``mods`` the words before it; ``kind`` the class of the head ("" for
    words that stand nowhere); ``count`` the stated number; ``quantifier`` one of all, both, each, any, no ...;
    ``sizes`` thread sizes; ``state`` "new", "old" or ""; ``pronoun`` is true where there is no noun of its own;
    ``owner`` what follows "of"; ``labels`` the numbers of "bolts 1 through 6" or of a step or table; ``parts``
    the adjectives of "upper and lower"; ``possessive`` is true after its/their; ``range`` the words of a torque range
    that belong to the thing itself (a wrench's scale); ``paren`` what stands in brackets behind it.
    """

    __slots__ = (
        "calls",
        "count",
        "definite",
        "end",
        "first",
        "head",
        "kind",
        "labels",
        "last",
        "mods",
        "owner",
        "paren",
        "parts",
        "plural",
        "possessive",
        "pronoun",
        "quantifier",
        "range",
        "sizes",
        "start",
        "state",
        "text",
    )

    def __init__(self) -> None:
        self.start = self.end = 0
        self.first = self.last = 0
        self.head = ""
        self.text = ""
        self.kind = ""
        self.mods: tuple[str, ...] = ()
        self.count: int | None = None
        self.quantifier = ""
        self.sizes: tuple[str, ...] = ()
        self.state = ""
        self.plural = False
        self.pronoun = False
        self.definite = False
        self.possessive = False
        self.owner: Thing | None = None
        self.labels: tuple[str, ...] = ()
        self.calls: tuple[str, ...] = ()  # the numbers of a figure behind it: "bolts (3)"
        self.parts: tuple[str, ...] = ()
        self.range: Word | None = None
        self.paren: Thing | None = None

    @property
    def quantity(self) -> int | None:
        """The number of pieces the words themselves settle: stated, "both", or one for a plain singular."""
        if self.count is not None:
            return self.count
        if self.quantifier in ("each", "any", "every", "no", "all", "some", "either", "neither"):
            return None
        if self.plural or self.pronoun or self.head in _OF_SEVERAL:
            return None
        return 1

    def __repr__(self) -> str:
        return f"<{self.text}:{self.kind}:{self.count}>"
