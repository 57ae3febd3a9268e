"""The vocabulary, made ready for looking words up: every form of every verb, every head word, every fixed phrase.

Built once, on the first sentence read.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

from torquewright.notation.vocabulary import vocabulary

# what a word can be; a word can be several things at once
DET, NUM, ADJ, NOUN, BASE, THIRD, PAST, ING = 1, 2, 4, 8, 16, 32, 64, 128
AUX, MODAL, PREP, PART, CONJ, SUB, PRON, NEG = 256, 512, 1024, 2048, 4096, 8192, 16384, 32768
ADV, QUANTITY, SIZE, CALL, PUNCT, UNKNOWN, FIGURE, DEMAND = (
    65536,
    131072,
    262144,
    524288,
    1048576,
    2097152,
    4194304,
    8388608,
)
VERB = BASE | THIRD | PAST | ING

_SMALL = {
    "determiners": DET,
    "pronouns": PRON,
    "prepositions": PREP,
    "particles": PART,
    "conjunctions": CONJ,
    "subordinators": SUB,
    "adverbs": ADV,
    "modals": MODAL,
    "auxiliaries": AUX,
    "negations": NEG,
    "ordinals": ADJ,
    "new": ADJ,
    "old": ADJ,
    "adjectives": ADJ,
}
_PHRASES = {
    "adverb phrases": ADV,
    "subordinator phrases": SUB,
    "preposition phrases": PREP,
    "negation phrases": NEG,
    "demand phrases": DEMAND,
    "auxiliary phrases": AUX,
}


class Sense(NamedTuple):
    """One line of the table of senses: particles of which one must stand, facts of which one must hold."""

    particles: frozenset[str]
    when: tuple[frozenset[str], ...]
    verb: str


class Lexicon:
    """Words with their flags, lemmas and noun classes; phrases by their first word; senses by verb."""

    __slots__ = ("classes", "compounds", "flags", "lemmas", "phrases", "senses", "singular", "structure")

    def __init__(self) -> None:
        self.flags: dict[str, int] = {}
        self.lemmas: dict[str, str] = {}
        self.classes: dict[str, str] = {}
        self.compounds: dict[str, list[tuple[tuple[str, ...], str]]] = {}
        self.phrases: dict[str, list[tuple[tuple[str, ...], int]]] = {}
        self.senses: dict[str, list[Sense]] = {}
        self.singular: dict[str, str] = {}
        self.structure = frozenset(vocabulary().things["structure"])
        self._small_words()
        self._things()
        self._compounds()
        self._verbs()
        self._fixed_phrases()

    def _flag(self, words: Iterable[str], flag: int) -> None:
        flags = self.flags
        for word in words:
            flags[word] = flags.get(word, 0) | flag

    def _noun(self, word: str, one: str) -> None:
        self.flags[word] = self.flags.get(word, 0) | NOUN
        self.singular.setdefault(word, one)

    def _small_words(self) -> None:
        small = vocabulary().small
        for name, flag in _SMALL.items():
            self._flag(small[name], flag)
        self._flag(vocabulary().numbers, NUM)

    def _things(self) -> None:
        for name, words in vocabulary().things.items():
            if name == "no plural":
                continue
            held = set(words)
            for word in held:
                one = singular(word) if singular(word) in held else word
                if name != "structure":
                    self.classes.setdefault(word, name)
                self._noun(word, one)
                self._noun(plural(one), one)

    def _compounds(self) -> None:
        for kind, names in vocabulary().compounds.items():
            for name in names:
                parts = tuple(name.split())
                if len(parts) == 1:
                    self.classes[name] = kind
                    self._noun(name, name)
                    self._noun(plural(name), name)
                    continue
                for last in {parts[-1], plural(parts[-1])}:
                    self.compounds.setdefault(parts[0], []).append(((*parts[:-1], last), kind))
                    self._noun(last, parts[-1])
        for several in self.compounds.values():
            several.sort(key=lambda item: -len(item[0]))

    def _verbs(self) -> None:
        book = vocabulary()
        for word, particles, when, verb in book.senses:
            facts = tuple(frozenset(fact.split("+")) for fact in when.split())
            self.senses.setdefault(word, []).append(Sense(frozenset(particles.split()), facts, verb))
        for lemma in (*self.senses, *book.small["statement verbs"]):
            if lemma in ("be", "have"):
                continue
            pasts = book.irregular.get(lemma) or [_past(lemma)]
            forms = ((lemma, BASE), (_third(lemma), THIRD), (_ing(lemma), ING), *((form, PAST) for form in pasts))
            for form, flag in forms:
                self.flags[form] = self.flags.get(form, 0) | flag
                self.lemmas.setdefault(form, lemma)
        # words whose everyday reading is another one
        for form in ("does", "done", "did"):
            self.lemmas[form] = form
        self.lemmas["left"] = "leave"
        self.lemmas["found"] = "find"

    def _fixed_phrases(self) -> None:
        for name, phrases in vocabulary().phrases.items():
            for phrase in phrases:
                parts = tuple(phrase.split())
                self.phrases.setdefault(parts[0], []).append((parts, _PHRASES[name]))
        for held in self.phrases.values():
            held.sort(key=lambda item: -len(item[0]))

    def noun_class(self, word: str) -> str:
        """The class of a head word (singular or plural); "" for words that stand nowhere."""
        return self.classes.get(self.singular.get(word, word), "")

    def looked_up(self, word: str) -> tuple[int, str]:
        """Flags and lemma of a word in lower case, inflected or not; unknown words are UNKNOWN, their own lemma."""
        flags = self.flags.get(word)
        if flags is not None:
            return flags, self.lemmas.get(word, word)
        if "-" in word:
            tail = word.rsplit("-", 1)[1]
            if tail in ("off", "out", "down", "up"):
                return UNKNOWN | NOUN, word
            if tail in ("fashion", "wise", "style"):
                return ADV, word  # "star-fashion"
            flags = self.flags.get(tail, 0)
            if flags & BASE and not flags & NOUN and word.split("-", 1)[0] in ("part", "pre", "half", "semi"):
                return BASE, self.lemmas.get(tail, tail)  # "part-tighten"
            if flags & NOUN:
                return NOUN, word
            if flags & (PAST | ADJ):
                return ADJ, word
            if flags & ING and not word.startswith(("self-", "over-", "non-", "load-", "spring-")):
                return ING, self.lemmas.get(tail, tail)
            if flags & ING:
                return (NOUN if word.startswith("over-") else ADJ), word
        if word.endswith("ly") and word not in ("assembly", "supply", "reply"):
            return ADV, word
        if word.endswith("ed") and len(word) > 5:
            return PAST | ADJ, word
        return UNKNOWN, word


@lru_cache(maxsize=1)
def lexicon() -> Lexicon:
    """The one lexicon."""
    return Lexicon()


def plural(word: str) -> str:
    """The regular English plural of a noun."""
    if word.endswith(("s", "x", "z", "ch", "sh")):
        return word if word.endswith("s") and word not in ("glass", "brass", "bus") else word + "es"
    if word.endswith("y") and word[-2:-1] not in "aeiou":
        return word[:-1] + "ies"
    return word + "s"


def singular(word: str) -> str:
    """The singular of a regular plural, or the word itself."""
    if word.endswith("feet") and len(word) > 4:
        return f"{word[:-4]}foot"  # "crowfeet"
    if not word.endswith("s") or word.endswith(("ss", "us", "is")) or len(word) < 4:
        return word
    if word in _one_thing():
        return word
    if word.endswith("ies"):
        return word[:-3] + "y"
    if word.endswith(("ches", "shes", "xes", "sses", "zes")):
        return word[:-2]
    return word[:-1]


@lru_cache(maxsize=1)
def _one_thing() -> frozenset[str]:
    return frozenset(vocabulary().things["no plural"])


def _doubles(lemma: str) -> bool:
    """Whether the last consonant doubles ("fit", "fitted"): one stressed short syllable, or a prefix before it."""
    stem = lemma.rsplit("-", 1)[-1].removeprefix("re").removeprefix("un")
    return (
        len(stem) >= 3
        and stem[-1] not in "aeiouwxy"
        and stem[-2] in "aeiou"
        and stem[-3] not in "aeiou"
        and sum(letter in "aeiouy" for letter in stem) == 1
    )


def _third(lemma: str) -> str:
    if lemma in ("do", "go", "undo"):
        return lemma + "es"
    if lemma.endswith("y") and lemma[-2] not in "aeiou":
        return lemma[:-1] + "ies"
    return lemma + ("es" if lemma.endswith(("s", "x", "z", "ch", "sh")) else "s")


def _past(lemma: str) -> str:
    if lemma.endswith("e"):
        return lemma + "d"
    if lemma.endswith("y") and lemma[-2] not in "aeiou":
        return lemma[:-1] + "ied"
    return lemma + (lemma[-1] if _doubles(lemma) else "") + "ed"


def _ing(lemma: str) -> str:
    if lemma.endswith("e") and not lemma.endswith("ee"):
        return lemma[:-1] + "ing"
    return lemma + (lemma[-1] if _doubles(lemma) else "") + "ing"
