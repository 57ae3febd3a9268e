"""How far a name goes: the run of words from its first to its head."""

from __future__ import annotations

from torquewright.sentences.lexicon import (
    ADJ,
    ADV,
    AUX,
    BASE,
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
)
from torquewright.sentences.things import DOCUMENTS
from torquewright.sentences.words import Word

_HAPPENING = frozenset(
    "turns stops clicks leaks moves runs seats slips drips weeps measures sets marks seals points".split()
)
BREAKING = frozenset(
    "cracks burns strips splits breaks bends swells jams sticks wears kills blows tears creeps yields snaps hurts "
    "melts bursts shears warps rusts corrodes freezes hardens softens scalds cuts".split()
)
"""What things do that are forced, heated or old: verbs, where a condition follows."""
_PREDICATIVE = frozenset(
    "clean dry level square loose tight free open clear plain wet flush straight "
    "slack hot cold new old closed short long".split()
)
_MODIFIER_VERBS = frozenset(
    "inlet outlet bypass supply drain fill level lock bleed vent pinch clamp intake return suction discharge".split()
)


def nominal(word: Word) -> bool:
    """Whether a word can stand inside a name."""
    return bool(word.flags & (NOUN | ADJ | UNKNOWN | SIZE | NUM)) and not word.flags & (PUNCT | QUANTITY | CONJ)


def tool_follows(words: list[Word], at: int) -> bool:
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
        if (
            words[at].flags & FIGURE
            and word.flags & (NOUN | UNKNOWN)
            and kind not in ("feature", "measure", "document")
        ):
            return not words[at].flags & QUANTITY
    return False


def run_of(words: list[Word], index: int, determined: bool) -> int:
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
            if not noun_seen and not word.flags & NUM and tool_follows(words, index):
                index += 1
                continue
            if flags & NUM and not noun_seen and following is not None and following.flags & SIZE:
                index += 1
                continue
            break
        if word.text in ("'", "’") and noun_seen and following is not None and nominal(following):
            index += 1  # "the six studs' nuts"
            continue
        if flags & PUNCT or flags & CONJ:
            after = _shared_head(words, first, index, noun_seen)
            if after:
                index = after
                continue
            break
        if flags & MODAL and determined and index == first and words[index - 1].text in ("a", "the", "an"):
            index += 1  # "a can"
            noun_seen, last_noun = True, index
            continue
        if flags & (AUX | MODAL | SUB) and not (flags & ADJ):
            break
        if word.text in ("bar", "save") and noun_seen and following is not None and following.flags & DET:
            break  # "all the screws bar the locating screw"
        named = word.text in DOCUMENTS or (word.kind or lexicon().noun_class(word.text)) == "tool"  # "wrench B"
        if named and following is not None and len(following.text) == 1 and following.flags & UNKNOWN:
            index += 1
            last_noun = index
            break
        if noun_seen and word.text == "one" and following is not None and following.flags & (NOUN | ADJ):
            break  # "each thread one drop", "the drain plug one new washer"
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
        if noun_seen and word.text == "set" and following is not None and following.text in ("to", "at"):
            beyond = words[index + 2] if index + 2 < length else None
            if beyond is not None and beyond.flags & (QUANTITY | FIGURE):
                break  # "with the wrench set to 24 N·m"
        if flags & NOUN:
            if (
                noun_seen
                and flags & THIRD
                and word.text in _HAPPENING
                and following is not None
                and following.flags & DET
            ):
                break  # "the ring screws the": a verb after all
            if not noun_seen and not determined and flags & ADJ and following is None:
                break
            stands = noun_seen and word.text == "stands" and following is not None and following.flags & (PREP | ADV)
            if stands and lexicon().noun_class(words[index - 1].text) == "fluid":
                break  # "the oil stands at the mark"
            conditioned = following is not None and following.flags & SUB
            if flags & THIRD and noun_seen and word.text in BREAKING and conditioned:
                break  # "zinc cracks when the bolt is forced"
            many = first > 0 and bool(words[first - 1].flags & NUM) and words[first - 1].text != "one"
            if many and flags & THIRD and not words[index - 1].text.endswith("s"):
                pass  # "the two half-moon seals first": so many of one thing
            elif (
                flags & THIRD
                and noun_seen
                and word.text in _HAPPENING
                and following is not None
                and following.flags & (ADV | PREP | PART | AUX)
            ):
                break  # "the bolt turns freely"
            several = index == first and first > 0 and bool(words[first - 1].flags & (NUM | ADJ)) and determined
            if (
                several
                and word.text in _PREDICATIVE
                and following is not None
                and following.flags & (SUB | PUNCT | CONJ | PREP)
            ):
                break  # "leave the other two slack until …"
            if (
                word.text in _PREDICATIVE
                and noun_seen
                and not (following is not None and nominal(following))
                and not (
                    (word.text == "level" and words[index - 1].kind == "fluid")
                    or words[index - 1].text in ("oil", "fluid", "water", "coolant", "fuel")
                )
            ):
                # "Fit the bolts clean", "seat the plate level": an adjective behind the noun
                break
            index += 1
            noun_seen = True
            last_noun = index
            continue
        if flags & UNKNOWN:
            if noun_seen and word.text.endswith("s") and following is not None and following.text == "to":
                break  # "the washer likes to stay on the seat"
            index += 1
            noun_seen = True
            last_noun = index
            continue
        if flags & ADJ:
            if (
                flags & ADV
                and not (determined and index == first and words[index - 1].text in ("the", "a"))
                and not (following is not None and nominal(following) and not following.flags & DET)
            ):
                break
            if noun_seen and not (following is not None and following.flags & (NOUN | UNKNOWN)):
                break
            index += 1
            continue
        if flags & PART and not noun_seen and determined and following is not None and following.flags & NOUN:
            index += 1
            continue
        if flags & (ADV | PART):
            if (
                flags & ADV
                and determined
                and not noun_seen
                and following is not None
                and following.flags & (ADJ | PAST)
            ):
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
        if flags & BASE and following is not None and not flags & (NOUN | ADJ):
            counted = index > 0 and words[index - 1].flags & NUM and following.flags & (PREP | PART | ADV)
            if following.flags & QUANTITY or counted:
                break  # "the remaining two get 7 N·m", "all six go in the bin"
        told = following is not None and following.flags & (PREP | ADV | PART | DET | NEG | QUANTITY)
        if flags & THIRD and not flags & NOUN and index > first and told:
            break  # "the same goes for the rear one", "the washer on the left comes with it"
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
        behind_verb = index == first > 0 and words[first - 1].lemma in ("torque", "tighten", "loosen", "fit", "remove")
        joint = following is not None and lexicon().noun_class(following.text) == "fastener"
        if flags & BASE and behind_verb and joint:
            index += 1  # "torque tie nuts"
            continue
        break
    if not noun_seen:
        # an adjective alone: "the long", "the old": a name without its noun
        return max(
            last_noun, index if determined and index > first and _all_adjectives(words, first, index) else last_noun
        )
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
    if after >= len(words) or (
        words[after].flags & (DET | PREP | PRON | PUNCT | NUM | QUANTITY | ADV) and not words[after].flags & ADJ
    ):
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
        if before[-1].flags & BASE and before[-1].lemma not in _MODIFIER_VERBS and not words[head].text.endswith("s"):
            return 0
        return after
    if words[after].lemma in _MODIFIER_VERBS and after + 1 < len(words) and words[after + 1].flags & NOUN:
        return after
    return 0
