"""The vocabulary as it stands in the book (specs/words): lists of words by name, and the table of senses.

Read once, on the first sentence. A new word goes into those files and nowhere else.
"""

from __future__ import annotations

from functools import lru_cache
from os.path import join

from torquewright.book.locate import specs_folder

Listed = dict[str, list[str]]
"""Section -> its words, or its lines where they are parted otherwise."""


def _lines(name: str) -> list[str]:
    with open(join(specs_folder(), "words", name), encoding="utf-8") as file:
        return file.read().split("\n")


def _sections(name: str) -> tuple[Listed, Listed]:
    """The word lists of a file, and its lists parted by bars."""
    words: Listed = {}
    phrases: Listed = {}
    held: list[str] = []
    barred = False
    for line in _lines(name):
        line = line.partition("#")[0].strip()
        if not line:
            continue
        if line[0] == "[":
            title = line.strip("[]")
            barred = title.endswith("|")
            held = (phrases if barred else words).setdefault(title.rstrip("| "), [])
        elif barred:
            held.extend(phrase for part in line.split("|") if (phrase := part.strip()))
        elif ":" in line or "=" in line:
            held.append(line)
        else:
            held.extend(line.split())
    return words, phrases


class Vocabulary:
    """``things`` and ``compounds`` by class; ``small`` words and ``phrases`` by kind; ``numbers`` in words; the
    ``irregular`` forms of verbs; ``action_nouns`` by the verb they tell; ``senses`` as (word, particles, when, verb).
    """

    __slots__ = ("action_nouns", "compounds", "irregular", "numbers", "phrases", "senses", "small", "things")

    def __init__(self) -> None:
        self.things, self.compounds = _sections("things.txt")
        self.small, self.phrases = _sections("small.txt")
        self.numbers = {
            name: int(value)
            for pair in " ".join(self.small.pop("numbers")).split()
            for name, _, value in [pair.partition("=")]
        }
        self.irregular = {name: forms.split() for name, forms in _pairs(self.small.pop("irregular"))}
        self.action_nouns = {
            noun: verb for verb, nouns in _pairs(self.small.pop("action nouns")) for noun in nouns.split()
        }
        self.senses = [
            (word, particles, when, verb)
            for line in _lines("verbs.txt")
            if line and line[0] != "#"
            for word, particles, when, verb in [[part.strip() for part in line.split("|")]]
        ]


def _pairs(lines: list[str]) -> list[tuple[str, str]]:
    return [(name.strip(), rest.strip()) for line in lines for name, _, rest in [line.partition(":")]]


@lru_cache(maxsize=1)
def vocabulary() -> Vocabulary:
    """The one vocabulary."""
    return Vocabulary()


def small_words(name: str) -> frozenset[str]:
    """The words of one list of small.txt."""
    return frozenset(vocabulary().small[name])
