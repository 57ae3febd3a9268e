"""Names of things in a sentence: "the six M8 head bolts", "both", "one new sealing washer", "bolts 1 through 6".

One noun phrase at a time, from the words of a sentence. Nothing here knows a catalogue.
"""

from __future__ import annotations

from functools import lru_cache

from torquewright.notation.vocabulary import small_words
from torquewright.sentences.lexicon import (
    ADJ,
    ADV,
    BASE,
    CALL,
    CONJ,
    DET,
    FIGURE,
    ING,
    NEG,
    NOUN,
    NUM,
    PAST,
    PRON,
    PUNCT,
    QUANTITY,
    SIZE,
    SUB,
    UNKNOWN,
    lexicon,
    singular,
)
from torquewright.sentences.runs import nominal, run_of, tool_follows
from torquewright.sentences.tails import tail_of
from torquewright.sentences.things import Thing
from torquewright.sentences.words import Word

_QUANTIFIERS = frozenset("all both each every any no some another either neither other".split())
_COUNTED = frozenset("remaining first last".split())
_DEMONSTRATIVES = frozenset("these those this that such".split())


def starts_thing(words: list[Word], at: int) -> bool:
    """Whether a name may start at this word."""
    if at >= len(words):
        return False
    flags = words[at].flags
    if flags & (DET | PRON | NUM | SIZE):
        return True
    if flags & (NOUN | UNKNOWN | ADJ):
        return not flags & (SUB | CONJ | PUNCT) and not (
            flags & ADV and not flags & NOUN and not _noun_follows(words, at)
        )
    if flags & (FIGURE | QUANTITY):
        return tool_follows(words, at)
    if flags & (ING | PAST | BASE) and at + 1 < len(words):
        return bool(words[at + 1].flags & NOUN)
    return False


def _noun_follows(words: list[Word], at: int) -> bool:
    return at + 1 < len(words) and bool(words[at + 1].flags & (NOUN | UNKNOWN | ADJ | SIZE))


def thing_at(words: list[Word], at: int) -> tuple[Thing | None, int]:
    """The name that starts at word ``at`` and the index of the word after it; (None, at) where none does."""
    length = len(words)
    thing = Thing()
    index = at
    seen_number = False
    # quantifiers, articles and numbers
    while index < length:
        word = words[index]
        text, flags = word.text, word.flags
        following = words[index + 1] if index + 1 < length else None
        counted = text in _COUNTED and following is not None and bool(following.flags & NUM)
        if (
            (text in _QUANTIFIERS and flags & (DET | NEG | ADJ) and text != "no")
            or (text == "no" and flags & NEG)
            or (counted and not (index + 2 < length and nominal(words[index + 2])))
        ):
            if (
                thing.quantifier == ""
                and text in ("each", "both")
                and following is not None
                and (following.text == "a" or _so_many(words, index + 1))
            ):
                thing.quantifier = text  # "give each a couple of turns"
                index += 1
                break
            thing.quantifier = text
            if text == "both":
                thing.count = 2
            if text == "another":
                thing.state = "new"
            index += 1
            if index < length and words[index].text == "of":
                index += 1
            continue
        if flags & DET and seen_number:
            break  # "up to 2016 the nut took …"
        if flags & DET or (text == "one" and flags & NUM and following is not None and following.text == "of"):
            if text == "one":
                thing.count = 1
                index = _whole(words, thing, index + 2)
                seen_number = True
                continue
            if text == "the" and (end := _the_lot(words, index + 1)):
                thing.pronoun = thing.plural = thing.definite = True
                thing.text, thing.head = "the lot", "all"
                thing.first, thing.last = at, end - 1
                thing.start, thing.end = words[index].start, words[end - 1].end
                return thing, end
            if text in _DEMONSTRATIVES and not _goes_on(words, index + 1):
                break
            thing.definite = thing.definite or text not in ("a", "an")
            if text in ("its", "their", "his", "her", "your"):
                thing.possessive = text in ("its", "their")
            index += 1
            continue
        if flags & NUM and not seen_number and word.value is not None and not _is_pronoun_one(words, index):
            thing.count = int(word.value)
            seen_number = True
            index += 1
            behind = words[index].text if index < length else ""
            further = words[index + 1] if index + 1 < length else None
            if (
                behind in ("×", "x", "X", "nos", "no.")
                or (behind == "off" and further is not None and nominal(further))  # "6 off M6 screws"
                or (behind == "of" and further is not None and further.flags & (DET | PRON))
            ):
                index = _whole(words, thing, index + 1) if behind == "of" else index + 1
            continue
        placed = flags & ADJ and thing.definite and not seen_number and following is not None
        if placed and (end := _placed_few(words, index)):
            thing.pronoun = thing.plural = True  # "the top two"
            thing.head, thing.mods, thing.count = "one", (text,), int(words[end - 1].value or 0)
            thing.text = " ".join(word.text for word in words[index:end])
            thing.first, thing.last = at, end
            thing.start, thing.end = word.start, words[end - 1].end
            return thing, end
        break
    first = index = _held_by(words, index, thing)
    if at < first < length and words[first].text == "a":
        return _pronoun(words, thing, at, index)
    last = run_of(words, index, bool(index > at))
    if last == first:
        return _pronoun(words, thing, at, index)
    return _named(words, thing, at, first, last)


PLACES = frozenset(
    "top bottom upper lower left right front rear inner outer side middle centre center long short longer shorter "
    "outermost innermost lowest highest nearest furthest".split()
)


def _placed_few(words: list[Word], index: int) -> int:
    """The index behind "top two", where no name follows; else 0."""
    number = words[index + 1] if index + 1 < len(words) else None
    if words[index].text not in PLACES or number is None or not number.flags & NUM or not (number.value or 0) > 1:
        return 0
    behind = words[index + 2] if index + 2 < len(words) else None
    if behind is not None and (nominal(behind) or behind.flags & (SIZE | ING | PAST)) and not behind.flags & SUB:
        return 0
    return index + 2


def _whole(words: list[Word], thing: Thing, index: int) -> int:
    """Past what the number is a part of: "three of the nuts", "two of the four screws"."""
    if index < len(words) and words[index].flags & DET and not words[index].flags & PRON:
        thing.definite = True
        index += 1
        if index < len(words) and words[index].flags & NUM and not words[index].flags & PRON:
            index += 1
    return index


def _the_lot(words: list[Word], index: int) -> int:
    """The index behind "lot" or "whole lot", where it stands for all of what was named; 0 elsewhere."""
    if index < len(words) and words[index].text == "whole":
        index += 1
    if index >= len(words) or words[index].text != "lot":
        return 0
    behind = words[index + 1] if index + 1 < len(words) else None
    return 0 if behind is not None and (behind.text == "of" or behind.flags & (NOUN | UNKNOWN)) else index + 1


def _so_many(words: list[Word], index: int) -> bool:
    """Whether "two or three turns" stands here: how far, not how many of them."""
    if not words[index].flags & NUM:
        return False
    return any(word.text in ("turns", "turn", "threads", "thread", "times") for word in words[index + 1 : index + 4])


def _held_by(words: list[Word], index: int, thing: Thing) -> int:
    """Past the holder of a counted thing ("the end cover's six screws"), with its number; the same index without."""
    at = index
    while at + 1 < len(words) and words[at].flags & NOUN:
        number = words[at + 1]
        if words[at].kind == "holder":
            if not number.flags & NUM or number.value is None:
                return index
            holder = Thing()
            holder.text, holder.head = words[at].text, words[at].text
            holder.kind = lexicon().noun_class(holder.head)
            holder.mods = tuple(word.text for word in words[index:at])
            holder.start, holder.end = words[index].start, words[at].end
            thing.owner, thing.count = holder, int(number.value)
            return at + 2
        at += 1
    return index


def _goes_on(words: list[Word], index: int) -> bool:
    if index < len(words) and words[index].flags & BASE and not words[index].flags & PUNCT:
        return index + 1 >= len(words) or bool(words[index + 1].flags & PUNCT)  # "for this test, …"
    return index < len(words) and (nominal(words[index]) or bool(words[index].flags & (PAST | ING | FIGURE)))


def _is_pronoun_one(words: list[Word], index: int) -> bool:
    word = words[index]
    if word.text != "one":
        return False
    after = words[index + 1] if index + 1 < len(words) else None
    return after is None or not (nominal(after) or after.flags & (SIZE | PAST | ING))


def _pronoun(words: list[Word], thing: Thing, at: int, index: int) -> tuple[Thing | None, int]:
    """A name without a noun: it, them, both, the six, all of them, one."""
    length = len(words)
    start = at
    if (
        index < length
        and words[index].flags & PRON
        and not (words[index].text in ("that", "you") and (thing.quantifier or thing.count is not None))
    ):
        word = words[index]
        thing.pronoun = True
        thing.text = word.text
        thing.head = word.text
        if word.text in ("these", "those", "them", "they", "both", "ones", "all"):
            thing.plural = True
        if word.text == "both":
            thing.count = 2
        index += 1
    elif thing.quantifier or thing.count is not None:
        if index == at or (not thing.definite and not thing.quantifier and words[index - 1].flags & FIGURE):
            return None, at
        thing.pronoun = True
        thing.head = thing.quantifier or words[index - 1].text
        thing.text = " ".join(word.text for word in words[at:index])
        thing.plural = thing.count != 1
        if index < length and words[index].flags & CALL:
            index += 1
    else:
        return None, at
    while start < index - 1 and words[start].text in ("the", "a", "an"):
        start += 1
    thing.start, thing.end = words[start].start, words[index - 1].end
    thing.first, thing.last = at, index
    index = _behind(words, thing, index)
    return thing, index


def _named(words: list[Word], thing: Thing, at: int, first: int, last: int) -> tuple[Thing, int]:
    book = lexicon()
    # the head: the last word that can be a noun
    head = last - 1
    while head > first and words[head].flags & SIZE:
        head -= 1
    if words[head].flags & SIZE and head == first:
        pass
    word = words[head]
    lead = _lead(words, at, first)
    thing.text = " ".join(item.text for item in words[first:last])
    thing.start, thing.end = words[lead].start, words[last - 1].end
    thing.first, thing.last = at, last
    thing.head = book.singular.get(word.text) or singular(word.text)
    if word.kind and " " in word.text:
        rest, _, tail = word.text.rpartition(" ")
        thing.head = book.singular.get(tail) or singular(tail)
        thing.plural = tail != thing.head
        thing.mods = tuple(item.text for item in words[first:head]) + tuple(rest.split())
    else:
        thing.plural = word.text != thing.head or word.text in ("hardware", "bolting")
        thing.mods = tuple(item.text for item in words[first:head])
    own = word.kind and word.kind not in ("class", "measure", "list", "holder")
    kind = word.kind if own else book.noun_class(thing.head)
    thing.kind = kind
    if word.text in ("one", "ones"):
        thing.pronoun = True
        if word.text == "one" and head == first and first > at:
            thing.count = None
        thing.head = "one"
        thing.plural = word.text == "ones"
        thing.kind = ""
    elif word.flags & ADJ and not word.flags & NOUN:
        thing.pronoun = True
        thing.head = word.text
        thing.kind = ""
    if word.flags & SIZE:
        # "the four M5s", "all M8": a size that stands for its fasteners
        thing.kind = "fastener"
        thing.head = "fastener"
        bare = head == first == at  # "M6: 9 N·m": however many there are
        thing.plural = bare or word.text.endswith("s") or thing.count not in (None, 1) or thing.quantifier == "all"
    sizes = []
    new, old = _states()
    for item in words[first:last]:
        if item.flags & SIZE and item.kind != "class":
            sizes.append(item.text.rstrip("s") if item.text[:1] == "m" else item.text)
        if item.text in new:
            thing.state = "new"
        elif item.text in old and thing.state != "new":
            thing.state = "old"
        if item.flags & QUANTITY:
            thing.range = item
        if item.flags & NUM and item.value is not None and thing.count is None and not item.kind:
            thing.count = int(item.value)
    thing.sizes = tuple(sizes)
    joined = [
        position for position in range(first, head) if words[position].flags & CONJ or words[position].text == ","
    ]
    if joined:
        thing.parts = tuple(item.text for item in words[first:head] if not item.flags & (CONJ | PUNCT))
        split = [words[i - 1].text for i in joined] + [words[joined[-1] + 1].text]
        thing.parts = tuple(dict.fromkeys(text for text in split if text not in (",", "and", "or", "&")))
        if (
            len(thing.parts) == 2
            and thing.count is None
            and thing.plural
            and not any(item.text in ("'", "’") or item.kind == "holder" for item in words[first:last])
        ):
            thing.count = 2
    if word.text == "one" and thing.count == 1:
        thing.count = None
    if thing.head == "level" and any(
        mod in ("oil", "fluid", "water", "coolant", "fuel", "electrolyte") or mod.endswith(" oil") for mod in thing.mods
    ):
        thing.kind = "level"
    if thing.head == "pair" and thing.count is None:
        thing.count = None if thing.plural else 2
    if thing.plural and thing.count is None and thing.quantifier == "both":
        thing.count = 2
    index = _behind(words, thing, last)
    return thing, index


def _lead(words: list[Word], at: int, first: int) -> int:
    """The first word of meaning of a name: its number or quantifier, past the article."""
    lead = at
    while lead < first and words[lead].text in ("the", "a", "an", "its", "their", "your", "of"):
        lead += 1
    return lead


@lru_cache(maxsize=1)
def _states() -> tuple[frozenset[str], frozenset[str]]:
    """The words that tell a new and an old piece; "the same bolts" are those just spoken of."""
    return small_words("new"), small_words("old") - {"same"}


def _behind(words: list[Word], thing: Thing, index: int) -> int:
    """What stands behind the head, and whose it is ("of the pump")."""
    index = tail_of(words, thing, index)
    while index + 1 < len(words) and words[index].text == "of" and thing.owner is None:
        owner, after = thing_at(words, index + 1)
        if owner is None:
            break
        thing.owner = owner
        index = tail_of(words, thing, after)
    return index
