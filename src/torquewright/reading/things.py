"""Names of things in a sentence: "the six M8 head bolts", "both", "one new sealing washer", "bolts 1 through 6".

One noun phrase at a time, from the words of a sentence. Nothing here knows a catalogue.
"""

from __future__ import annotations

from functools import lru_cache

from torquewright.reading.lexicon import (
    ADJ,
    ADV,
    AUX,
    BASE,
    CALL,
    CONJ,
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
    lexicon,
    singular,
)
from torquewright.reading.vocabulary import small_words
from torquewright.reading.words import Word

_QUANTIFIERS = frozenset("all both each every any no some another either neither other".split())
_OF_SEVERAL = frozenset("gland strap clamp".split())
"""Held by several fasteners: one of them is no number of joints."""
_HAPPENING = frozenset("turns stops clicks leaks moves runs seats slips drips weeps measures sets marks seals".split())
_PREDICATIVE = frozenset("clean dry level square loose tight free open clear plain wet flush straight hot cold new old closed short long".split())
_STOP = PREP | CONJ | PUNCT | SUB | AUX | MODAL | QUANTITY | NEG
_COUNTS = frozenset("off pcs pc pieces piece x × times of no nr each places place ea".split())
_DEMONSTRATIVES = frozenset("these those this that such".split())
_NUMBERED = frozenset(
    "bolt bolts screw screws nut nuts stud studs item items position positions step steps plug plugs table tables figure "
    "figures fig section sections appendix chapter page pages paragraph pos no".split()
)
DOCUMENTS = frozenset(
    "step steps table tables figure figures fig section sections appendix chapter page pages paragraph para annex".split()
)


class Thing:
    """One noun phrase.

    ``start``/``end`` are offsets from its first word of meaning (number, adjective or noun, not "the") to its head.
    ``head`` is the last noun in the singular, ``mods`` the words before it; ``kind`` the class of the head ("" for
    words that stand nowhere); ``count`` the stated number; ``quantifier`` one of all, both, each, any, no ...;
    ``sizes`` thread sizes; ``state`` "new", "old" or ""; ``pronoun`` is true where there is no noun of its own;
    ``owner`` what follows "of"; ``labels`` the numbers of "bolts 1 through 6" or of a step or table; ``parts``
    the adjectives of "upper and lower"; ``possessive`` is true after its/their; ``range`` the words of a torque range that
    belong to the thing itself (a wrench's scale); ``paren`` what stands in brackets behind it.
    """

    __slots__ = (
        "count", "definite", "end", "first", "head", "kind", "labels", "last", "mods", "owner", "paren", "parts",
        "plural", "possessive", "pronoun", "quantifier", "range", "sizes", "start", "state", "text",
    )  # fmt: skip

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


def nominal(word: Word) -> bool:
    """Whether a word can stand inside a name."""
    return bool(word.flags & (NOUN | ADJ | UNKNOWN | SIZE | NUM)) and not word.flags & (PUNCT | QUANTITY | CONJ)


def starts_thing(words: list[Word], at: int) -> bool:
    """Whether a name may start at this word."""
    if at >= len(words):
        return False
    flags = words[at].flags
    if flags & (DET | PRON | NUM | SIZE):
        return True
    if flags & (NOUN | UNKNOWN | ADJ):
        return not flags & (SUB | CONJ | PUNCT) and not (flags & ADV and not flags & NOUN and not _noun_follows(words, at))
    if flags & (FIGURE | QUANTITY):
        return _tool_follows(words, at)
    if flags & (ING | PAST | BASE) and at + 1 < len(words):
        return bool(words[at + 1].flags & NOUN)
    return False


def _noun_follows(words: list[Word], at: int) -> bool:
    return at + 1 < len(words) and bool(words[at + 1].flags & (NOUN | UNKNOWN | ADJ | SIZE))


def _tool_follows(words: list[Word], at: int) -> bool:
    """Whether a quantity or a length is only the size of the thing named next ("32 mm socket", "2 N·m driver")."""
    book = lexicon()
    for word in words[at + 1 : at + 5]:
        if word.flags & (PUNCT | CONJ | PREP | DET | QUANTITY | AUX | MODAL):
            return False
        kind = word.kind or book.noun_class(word.text)
        if kind in ("tool", "temporary"):
            return True
        if kind in ("fastener", "hose", "washer") and words[at].flags & FIGURE:
            return True
        if words[at].flags & FIGURE and word.flags & (NOUN | UNKNOWN) and kind not in ("feature", "measure", "document"):
            return not words[at].flags & QUANTITY
    return False


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
        if text in _QUANTIFIERS and flags & (DET | NEG | ADJ) and text != "no" or (text == "no" and flags & NEG):
            thing.quantifier = text
            if text == "both":
                thing.count = 2
            if text == "another":
                thing.state = "new"
            index += 1
            if index < length and words[index].text == "of":
                index += 1
            continue
        if flags & DET or (text == "one" and flags & NUM and following is not None and following.text == "of"):
            if text == "one":
                thing.count = 1
                index += 2
                continue
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
            if index < length and words[index].text in ("×", "x", "X", "off", "nos", "no."):
                index += 1
            elif index + 1 < length and words[index].text == "of" and words[index + 1].flags & (DET | PRON):
                index += 1
            continue
        break
    first = index
    last = _run(words, index, bool(index > at))
    if last == first:
        return _pronoun(words, thing, at, index)
    return _named(words, thing, at, first, last)


def _goes_on(words: list[Word], index: int) -> bool:
    return index < len(words) and (nominal(words[index]) or bool(words[index].flags & (PAST | ING | FIGURE)))


def _is_pronoun_one(words: list[Word], index: int) -> bool:
    word = words[index]
    if word.text != "one":
        return False
    after = words[index + 1] if index + 1 < len(words) else None
    return after is None or not (nominal(after) or after.flags & (SIZE | PAST | ING))


def _run(words: list[Word], index: int, determined: bool) -> int:
    """The index after the last word of the name that starts at ``index``: words up to its head."""
    length = len(words)
    first = index
    noun_seen = False
    last_noun = index
    while index < length:
        word = words[index]
        flags = word.flags
        following = words[index + 1] if index + 1 < length else None
        if flags & SIZE:
            index += 1
            last_noun = index
            continue
        if flags & (QUANTITY | FIGURE):
            if not noun_seen and not word.flags & NUM and _tool_follows(words, index):
                index += 1
                continue
            if flags & NUM and not noun_seen and following is not None and following.flags & SIZE:
                index += 1
                continue
            break
        if flags & PUNCT or flags & CONJ:
            after = _shared_head(words, first, index, noun_seen)
            if after:
                index = after
                continue
            break
        if flags & (AUX | MODAL | SUB) and not (flags & ADJ):
            break
        if word.text in DOCUMENTS and following is not None and len(following.text) == 1 and following.text.isalpha():
            index += 1
            last_noun = index
            break
        if flags & PRON and word.text in ("one", "ones") and (index > first or determined):
            index += 1
            last_noun = index
            break
        if flags & (PREP | NEG):
            # "opposite pairs", "next slot", "inside face": a small word that is an adjective here
            if flags & (ADJ | NOUN) and not noun_seen and following is not None and nominal(following):
                index += 1
                continue
            break
        if flags & DET:
            break
        if flags & NOUN:
            if noun_seen and flags & THIRD and word.text in _HAPPENING and following is not None and following.flags & DET:
                break  # "the ring screws the": a verb after all
            if not noun_seen and not determined and flags & ADJ and following is None:
                break
            if flags & THIRD and noun_seen and word.text in _HAPPENING and following is not None and following.flags & (ADV | PREP | PART | AUX):
                break  # "the bolt turns freely"
            if word.text in _PREDICATIVE and noun_seen and not (following is not None and nominal(following)) and not (
                word.text == "level" and words[index - 1].kind == "fluid" or words[index - 1].text in ("oil", "fluid", "water", "coolant", "fuel")
            ):
                # "Fit the bolts clean", "seat the plate level": an adjective behind the noun
                break
            index += 1
            noun_seen = True
            last_noun = index
            continue
        if flags & UNKNOWN:
            index += 1
            noun_seen = True
            last_noun = index
            continue
        if flags & ADJ:
            if flags & ADV and not (following is not None and nominal(following) and not following.flags & DET):
                break
            if noun_seen and not (following is not None and following.flags & (NOUN | UNKNOWN)):
                break
            index += 1
            continue
        if flags & PART and not noun_seen and determined and following is not None and following.flags & NOUN:
            index += 1
            continue
        if flags & (ADV | PART):
            if flags & ADV and determined and not noun_seen and following is not None and following.flags & (ADJ | PAST):
                index += 1
                continue
            break
        if flags & NUM and word.value is not None and not noun_seen:
            index += 1
            continue
        if flags & ING:
            if noun_seen and (following is None or following.flags & (DET | PRON | NUM)):
                if following is None or not following.flags & (DET | PRON | NUM):
                    index += 1
                    last_noun = index
                break
            if following is not None and (nominal(following) and not following.flags & (SIZE | NUM)):
                index += 1
                continue
            if determined or noun_seen:
                index += 1
                noun_seen = True
                last_noun = index
            break
        if flags & PAST and not noun_seen and following is not None and nominal(following):
            index += 1
            continue
        if flags & (BASE | THIRD) and following is not None and (determined or noun_seen):
            if following.flags & (NOUN | UNKNOWN) and not noun_seen:
                index += 1
                continue
            if determined and not noun_seen:
                index += 1
                noun_seen = True
                last_noun = index
                continue
            break
        if flags & BASE and determined and not noun_seen:
            index += 1
            last_noun = index
        break
    if not noun_seen:
        # an adjective alone: "the long", "the old": a name without its noun
        return max(last_noun, index if determined and index > first and _all_adjectives(words, first, index) else last_noun)
    return last_noun


def _all_adjectives(words: list[Word], first: int, last: int) -> bool:
    return all(word.flags & ADJ for word in words[first:last])


def _shared_head(words: list[Word], first: int, index: int, noun_seen: bool) -> int:
    """The index to go on at where a comma or "and" joins two adjectives of one noun ("upper and lower bolts");
    0 where it joins two things."""
    if index == first:
        return 0
    before = words[first:index]
    word = words[index]
    if word.text not in (",", "and", "or", "&", "/"):
        return 0
    determined = first > 0 and bool(words[first - 1].flags & (DET | NUM))
    simple = all(item.flags & (ADJ | PUNCT | CONJ) or item.lemma in _MODIFIER_VERBS for item in before)
    if not simple:
        return 0
    after = index + 1
    while after < len(words) and words[after].text in ("and", "or", "&"):
        after += 1
    if after < len(words) and words[after].text == "same":
        return 0
    if after >= len(words) or words[after].flags & (DET | PREP | PRON | PUNCT | NUM | QUANTITY | ADV) and not words[after].flags & ADJ:
        return 0
    probe = after
    while probe < len(words) and (words[probe].flags & ADJ or words[probe].text in (",", "and", "or", "&")):
        probe += 1
    if probe < len(words) and words[probe].flags & (NOUN | UNKNOWN) and not words[probe].flags & DET:
        head = probe
        if not determined and word.text == "," and not words[head].text.endswith("s"):
            return 0
        while head + 1 < len(words) and words[head + 1].flags & NOUN and not words[head + 1].flags & (PREP | CONJ):
            head += 1
        if before[-1].lemma in _MODIFIER_VERBS and not words[head].text.endswith("s"):
            return 0
        if before[-1].flags & BASE and not before[-1].lemma in _MODIFIER_VERBS and not words[head].text.endswith("s"):
            return 0
        return after
    if words[after].lemma in _MODIFIER_VERBS and after + 1 < len(words) and words[after + 1].flags & NOUN:
        return after
    return 0


_MODIFIER_VERBS = frozenset("drain fill level lock bleed vent pinch clamp intake return suction discharge".split())


def _pronoun(words: list[Word], thing: Thing, at: int, index: int) -> tuple[Thing | None, int]:
    """A name without a noun: it, them, both, the six, all of them, one."""
    length = len(words)
    start = at
    if index < length and words[index].flags & PRON and not (
        words[index].text in ("that", "you") and (thing.quantifier or thing.count is not None)
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
        if index == at or not thing.definite and not thing.quantifier and words[index - 1].flags & FIGURE:
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
    index = _tail(words, thing, index)
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
    kind = word.kind if word.kind and word.kind not in ("class", "measure", "list") else book.noun_class(thing.head)
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
        thing.plural = word.text.endswith("s") or thing.count not in (None, 1) or thing.quantifier == "all"
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
    joined = [position for position in range(first, head) if words[position].flags & CONJ or words[position].text == ","]
    if joined:
        thing.parts = tuple(
            item.text for item in words[first : head] if not item.flags & (CONJ | PUNCT)
        )
        split = [words[i - 1].text for i in joined] + [words[joined[-1] + 1].text]
        thing.parts = tuple(dict.fromkeys(text for text in split if text not in (",", "and", "or", "&")))
        if len(thing.parts) == 2 and thing.count is None and thing.plural:
            thing.count = 2
    if word.text == "one" and thing.count == 1:
        thing.count = None
    if thing.head == "level" and any(mod in ("oil", "fluid", "water", "coolant", "fuel", "electrolyte") or mod.endswith(" oil") for mod in thing.mods):
        thing.kind = "level"
    if thing.head == "pair" and thing.count is None:
        thing.count = None if thing.plural else 2
    if thing.plural and thing.count is None and thing.quantifier == "both":
        thing.count = 2
    index = _tail(words, thing, last)
    return thing, index


def _lead(words: list[Word], at: int, first: int) -> int:
    """The first word of meaning of a name: its number or quantifier, past the article."""
    lead = at
    while lead < first and words[lead].text in ("the", "a", "an", "its", "their", "your", "of"):
        lead += 1
    return lead


def _tail(words: list[Word], thing: Thing, index: int) -> int:
    """What belongs to a name behind its head: figure numbers, counts in brackets, "of the pump"."""
    length = len(words)
    while index < length:
        word = words[index]
        if word.flags & CALL:
            index += 1
            continue
        if word.text in ("no", "no.", "nos", "number", "numbers", "nr") and index + 1 < length and words[index + 1].flags & FIGURE:
            index += 1
            continue
        if word.flags & FIGURE and not word.flags & SIZE and word.kind != "measure" and not thing.labels:
            if thing.head in _NUMBERED or singular(thing.head) in _NUMBERED:
                index = _labels(words, thing, index)
                continue
            break
        if (
            thing.head in DOCUMENTS
            and not thing.labels
            and len(word.text) <= 2
            and not word.flags & (PREP | CONJ | PUNCT | DET | PRON)
        ):
            thing.labels = (word.text.upper(),)
            index += 1
            continue
        if word.text == "(" and index + 2 < length:
            count, after = _count_in_brackets(words, index)
            if count is not None:
                thing.count = thing.count if thing.count is not None else count
                thing.end = words[after - 1].end
                index = after
                continue
            break
        if word.text == "of" and index + 1 < length and thing.owner is None:
            owner, after = thing_at(words, index + 1)
            if owner is None:
                break
            thing.owner = owner
            index = after
            continue
        break
    return index


def _labels(words: list[Word], thing: Thing, index: int) -> int:
    """"bolts 1 through 6", "bolts 7 and 8", "step 3", "steps 4 to 11"."""
    labels = [words[index].text]
    thing.end = words[index].end
    index += 1
    while index + 1 < len(words):
        joint, figure = words[index], words[index + 1]
        if not figure.flags & FIGURE or figure.kind == "measure":
            break
        if joint.text in ("through", "thru", "to", "–", "-", "until"):
            low, high = labels[-1], figure.text
            if low.isdigit() and high.isdigit() and int(low) < int(high) <= int(low) + 400:
                labels.extend(str(number) for number in range(int(low) + 1, int(high) + 1))
            else:
                labels.append(high)
        elif joint.text in (",", "and", "or", "&"):
            after = words[index + 2] if index + 2 < len(words) else None
            if joint.text == "," and after is not None and after.flags & (NOUN | UNKNOWN | SIZE):
                break
            labels.append(figure.text)
        else:
            break
        thing.end = figure.end
        index += 2
    thing.labels = tuple(labels)
    if thing.head not in DOCUMENTS and thing.head != "item" and thing.count is None and thing.plural:
        thing.count = len(labels)
    return index


def _count_in_brackets(words: list[Word], index: int) -> tuple[int | None, int]:
    """"(4 off)", "(x6)", "(qty 4)", "(2 pcs)": the count and the index after the bracket."""
    close = index + 1
    while close < len(words) and close < index + 6 and words[close].text != ")":
        close += 1
    if close >= len(words) or words[close].text != ")":
        return None, index
    inside = words[index + 1 : close]
    numbers = [word for word in inside if word.flags & NUM and word.value is not None]
    others = [word for word in inside if not (word.flags & NUM and word.value is not None)]
    if len(numbers) == 1 and others and all(
        word.text in _COUNTS or word.text in ("qty", "quantity", "total", "in", ":", ".", "=") for word in others
    ):
        return int(numbers[0].value or 0), close + 1
    if len(inside) == 1 and inside[0].text[:1] in "x×" and inside[0].text[1:].isdigit():
        return int(inside[0].text[1:]), close + 1
    return None, index



@lru_cache(maxsize=1)
def _states() -> tuple[frozenset[str], frozenset[str]]:
    """The words that tell a new and an old piece; "the same bolts" are those just spoken of."""
    return small_words("new"), small_words("old") - {"same"}
