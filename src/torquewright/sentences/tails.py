"""What belongs to a name behind its head: figure numbers, counts in brackets, the numbers of bolts and steps."""

from __future__ import annotations

import re

from torquewright.sentences.lexicon import (
    CALL,
    CONJ,
    DET,
    FIGURE,
    NOUN,
    NUM,
    PREP,
    PRON,
    PUNCT,
    SIZE,
    UNKNOWN,
    singular,
)
from torquewright.sentences.things import DOCUMENTS, Thing
from torquewright.sentences.words import Word

_COUNTS = frozenset("off pcs pc pieces piece x × times of no nr each places place ea".split())
_NUMBERED = frozenset(
    "bolt bolts screw screws nut nuts stud studs item items position positions step steps point points plug "
    "plugs table tables figure figures fig section sections appendix chapter page pages paragraph pos no number "
    "numbers".split()
)


def tail_of(words: list[Word], thing: Thing, index: int) -> int:
    """What belongs to a name behind its head: figure numbers, counts in brackets, "of the pump"."""
    length = len(words)
    while index < length:
        word = words[index]
        if word.flags & CALL:
            if word.kind != "letter":
                thing.calls = (*thing.calls, *_called(word.text))
                if (
                    index + 2 < length
                    and words[index + 1].text in ("and", "or", ",", "thru", "through", "to", "&")
                    and _called(words[index + 2].text)
                ):
                    index += 2  # "bolts (1) and (2)"
                    continue
            if word.kind == "letter" and not thing.pronoun:
                thing.mods, thing.end = (*thing.mods, word.text.upper()), word.end
                further = (
                    words[index + 2] if index + 2 < length and words[index + 1].text in ("and", "or", ",") else None
                )
                if further is not None and further.kind == "letter":
                    thing.parts = (*(thing.parts or (word.text.upper(),)), further.text.upper())
                    index += 1  # "bolts A and B"
            index += 1
            continue
        if (
            word.text in ("no", "no.", "nos", "number", "numbers", "nr")
            and index + 1 < length
            and words[index + 1].flags & FIGURE
        ):
            index += 1
            continue
        numbered = word.text in ("no", "nr") and index + 2 < length and words[index + 1].text == "."
        if numbered and thing.kind == "tool" and words[index + 2].flags & FIGURE:
            thing.labels, thing.end = (words[index + 2].text,), words[index + 2].end  # "wrench No. 2"
            index += 3
            continue
        if word.text == "." and thing.head in ("fig", "pos") and index + 1 < length and words[index + 1].flags & FIGURE:
            index += 1  # "Fig. 2"
            continue
        if word.flags & FIGURE and not word.flags & SIZE and word.kind != "measure" and not thing.labels:
            if _to_a_torque(words, index):
                break  # "torque tie nuts 15, 30, 45 N·m"
            if thing.head in _NUMBERED or singular(thing.head) in _NUMBERED:
                index = _labels(words, thing, index)
                continue
            break
        ranged = index + 3 < length and word.text == "from" and words[index + 2].text in ("to", "through")
        if ranged and thing.head in ("step", "point") and words[index + 1].flags & words[index + 3].flags & FIGURE:
            index = _labels(words, thing, index + 1)  # "the steps from 2 to 7"
            continue
        if (
            (thing.head in DOCUMENTS or thing.kind == "tool")
            and not thing.labels
            and (len(word.text) == 1 or (len(word.text) == 2 and word.text[1:].isdigit()))
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
        break
    return index


def _to_a_torque(words: list[Word], index: int) -> bool:
    """Whether the figures from here on end in a torque: "15, 30, 45 N·m"."""
    several = False
    while index < len(words) and (words[index].flags & FIGURE or words[index].text in (",", "and", "then", "to")):
        several = several or bool(words[index].flags & FIGURE)
        index += 1
    return several and index < len(words) and words[index].found is not None and words[index - 1].text in (",", "and")


def _called(text: str) -> tuple[str, ...]:
    """The numbers of a callout: "(3)", "(items 4 and 5)"."""
    if text[:1] not in "([":
        return ()
    parts = re.split(r"\W+", text.strip("()[]"))
    return tuple(part for part in parts if part[:1].isdigit() or len(part) == 1)


def _labels(words: list[Word], thing: Thing, index: int) -> int:
    """ "bolts 1 through 6", "bolts 7 and 8", "step 3", "steps 4 to 11"."""
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
    """ "(4 off)", "(x6)", "(qty 4)", "(2 pcs)": the count and the index after the bracket."""
    close = index + 1
    while close < len(words) and close < index + 6 and words[close].text != ")":
        close += 1
    if close >= len(words) or words[close].text != ")":
        return None, index
    inside = words[index + 1 : close]
    numbers = [word for word in inside if word.flags & NUM and word.value is not None]
    others = [word for word in inside if not (word.flags & NUM and word.value is not None)]
    if (
        len(numbers) == 1
        and others
        and all(
            word.text in _COUNTS or word.text in ("qty", "quantity", "total", "in", ":", ".", "=") for word in others
        )
    ):
        return int(numbers[0].value or 0), close + 1
    if len(inside) == 1 and inside[0].text[:1] in "x×" and inside[0].text[1:].isdigit():
        return int(inside[0].text[1:]), close + 1
    return None, index
