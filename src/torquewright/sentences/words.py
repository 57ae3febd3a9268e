"""From a sentence to its words: numbers, sizes, quantities, call-outs and fixed phrases each kept in one piece.

Offsets are those of the text handed over. Quantities are recognised before anything else, so that a full stop or
a dash inside a unit is never taken for one of the sentence.
"""

from __future__ import annotations

import re
from functools import lru_cache

from torquewright.notation.notread import NotRead
from torquewright.notation.tightening import Found, read_tightening
from torquewright.notation.vocabulary import vocabulary
from torquewright.records.tightening import Tightening
from torquewright.sentences.lexicon import (
    ADJ,
    CALL,
    FIGURE,
    NOUN,
    NUM,
    PREP,
    PUNCT,
    QUANTITY,
    SIZE,
    UNKNOWN,
    lexicon,
)
from torquewright.sentences.stops import figures_in
from torquewright.sentences.swallowed import apart


class Word:
    """One word, or one piece that counts as a word.

    ``text`` is lower case; ``flags`` say what it can be (see the lexicon); ``lemma`` is the verb or the word
    itself; ``kind`` the class of a compound noun; ``found`` the tightening of a torque or an angle; ``value`` the
    number of a figure. ``used`` turns true once something has been made of it.
    """

    __slots__ = ("end", "flags", "found", "kind", "lemma", "start", "text", "used", "value")

    def __init__(self, text: str, start: int, end: int, flags: int, lemma: str = "") -> None:
        self.text = text
        self.start = start
        self.end = end
        self.flags = flags
        self.lemma = lemma or text
        self.kind = ""
        self.found: Found | None = None
        self.value: float | None = None
        self.used = False

    def __repr__(self) -> str:
        return f"<{self.text}>"


@lru_cache(maxsize=1)
def _pattern() -> re.Pattern[str]:
    # Compiled on first use only: `check` on a TOML file never reads a sentence. Plain words come first: most are.
    return re.compile(
        r"""
        (?P<label>(?<=tep\s)[A-Z][.-]?\d{1,2}\b|(?<=teps\s)[A-Z][.-]?\d{1,2}\b)
      | (?P<place>(?:(?<=\bback\sto\s)|(?<=\bas\sin\s)|(?<=\b[Ss]ee\s)|(?<=\brepeat\s)|(?<=\bRepeat\s))
            [A-HJ-L]\.?\d{1,2}\b(?!-\d))
      | (?P<unit>
            (?:N[·⋅.-]?m|lbf?[·⋅.-](?:ft|in)|(?:ft|in)[·⋅.-]lbf?|kgf[·⋅]c?m|cN[·⋅]?m)
            (?=\s(?:torque|wrench|driver|scale|dial|key|tool))
        )
      | (?P<letterlist>\b[A-Z](?:-[A-Z]){2,}\b)
      | (?P<word>
            (?!(?:[MG]|R[pc]?|NPTF?|BSP[PT]?|[Gg]rade|[Cc]lass)\s?\d|A[1245]-\d)
            [^\W\d_](?:[^\W_]|['’](?=\w)|[-‑](?=[^\W\d_]))*
        )
      | (?P<size>
            M\s?\d{1,3}(?:[.,]\d+)?(?:\s?[×xX*]\s?\d+(?:[.,]\d+)?(?:\s?mm)?){0,2}(?=s?\b)s?
          | (?:\#?\d{1,2}|\d+(?:[-\s]\d/\d+)?/?\d*)-\d{1,2}\s?(?:UN[CFJ]?|BSW|BSF|UNEF)\b
          | \d+/\d+-\d{2}\b | \b(?:10-32|10-24|8-32|6-32|4-40|12-24)\b
          | (?:G|R|Rp|Rc|NPT|NPTF|BSPP?|BSPT)\s?\d(?:[-\s]\d/\d|/\d)?(?:\s?[AB])?\b
        )
      | (?P<clock>\b\d{1,2}:\d{2}\b(?!:))
      | (?P<measure>
            \d+(?:[.,]\d+)?(?:\s?/\s?\d+)?(?:-\d/\d+)?
            (?:\s?(?:to|–|-|and|or)\s?\d+(?:[.,]\d+)?(?:/\d+)?)?
            [-\s]?
            (?:mm²|mm|cm³|cm|km/h|km|m|µm|µ|nm|in²|in\.|in(?!\s(?:an?|the|order|turn|steps|stages|this|that|each|place|sequence|pairs)\b)
              |inch(?:es)?|ft\.?|feet|foot|yd|lit(?:re|er)s?|[lL]|mL|ml|cl|(?:(?:US|imp(?:erial)?\.?)\s)?(?:gal(?:lons?)?|qt|quarts?|pints?|pt|fl\.?\s?oz|fluid\sounces?)|oz|kg|g
              |lbs?|bar|psi|MPa|kPa|hPa|Pa|mbar|°\s?[CF]|K|s|sec(?:onds?)?|h|hrs?|hours?|min(?:utes?)?|days?|weeks?|months?|years?
              |V|kV|mV|A|mA|Ω|ohms?|W|kW|Hz|rpm|r/min|miles?|%|percent|per\scent|degrees\s[CF]\w*|tons?|tonnes?|kN|N|rms|strokes?|cycles)
            (?![\w·⋅/-]\w|[\w²³])
        )
      | (?P<angle>\d+(?:[.,]\d+)?\s?(?:°(?!\s?[CFK])|degrees?\b(?!\s[CF])))
      | (?P<class>
            (?:[Gg]rade|[Cc]lass)\s\d{1,2}(?:\.\d)?(?=\s(?:[a-z-]+\s)?(?:bolt|screw|nut|stud|cap))
          | (?:[3-9]|1[0-4])\.\d{1,2}(?=[\s,.;)]+(?:bolt|screw|nut|stud|cap|hex|socket|zinc|plated|steel))
          | (?<=,\s)[Cc]lass\s\d{1,2}\.\d\b | A[1245]-\d{2}\b
          | \d+(?:[.,]\d+)?(?:\s?[×xX]\s?\d+(?:[.,]\d+)?){1,2}\s?mm
            (?=\s(?:[a-z-]+\s){0,2}(?:pin|cotter|key|o-ring|ring|washer|seal|gasket|dowel)s?\b)
          | \((?:[3-9]|1[0-4])\.\d{1,2}\)(?=\s(?:[a-z-]+\s){0,2}(?:bolt|screw|nut|stud|cap))
        )
      | (?P<call>
            \((?:item\s|pos\.?\s|no\.?\s|\#)?\d{1,3}[a-z]?(?:\s?(?:[-–,&]|and|to|thru)\s?\d{1,3})*\)
          | \((?:[A-Z]|[A-Z]\d)\)|\[\d{1,3}\]
        )
      | (?P<list>\d{1,2}(?:\s?[-–,>→]\s?\d{1,2}){2,}(?![.,]?\d))
      | (?P<figure>\d+(?:[.,]\d+)*(?:\s?/\s?\d+)?(?:st|nd|rd|th)?(?![\w]))
      | (?P<letters>[^\W\d_](?:[^\W_]|['’](?=\w)|[-‑](?=[^\W\d_]))*\d*)
      | (?P<other>\d[\w./-]*|[^\s\w]|_)
        """,
        re.VERBOSE,
    )


_APOSTROPHE = str.maketrans({"’": "'", "‑": "-"})


def words_of(text: str, start: int = 0, end: int | None = None, found: list[Found] | None = None) -> list[Word]:
    """The words of ``text[start:end]`` in order. ``found`` are its tightenings, where they are known already."""
    stop = len(text) if end is None else end
    if found is None:
        found = figures_in(text, start, stop)
    result: list[Word] = []
    at = start
    for item in apart(text, found):
        turn = item.tightening.torque is None and text[item.end - 1] == "°"
        if item.start < at or (turn and _stands_to(text, item.start, item.end)):
            continue
        _scan(text, at, item.start, result)
        word = Word(text[item.start : item.end].lower(), item.start, item.end, QUANTITY)
        word.found = item
        result.append(word)
        at = item.end
    _scan(text, at, stop, result)
    if any(word.text in _TURN_WORDS for word in result):
        result = _turns(text, result)
    return _fused(result)


_SHORT = {"'ll": "will", "'re": "are", "'ve": "have", "'s": "is", "'d": "would"}
_SHORTENED = frozenset("you it they we he she that there what who i".split())


def _scan(text: str, start: int, stop: int, into: list[Word]) -> None:
    book = lexicon()
    flags_of, lemmas = book.flags, book.lemmas
    numbers = vocabulary().numbers
    for match in _pattern().finditer(text, start, stop):
        group = match.lastgroup
        raw = match.group()
        at, end = match.span()
        if group == "word" or group == "letters":
            low = raw.lower()
            if not raw.isascii():
                low = low.translate(_APOSTROPHE)
                if len(low) != len(raw):
                    low = raw
            if "'" in low and (cut := low.find("'")) > 0 and low[cut:] in _SHORT and low[:cut] in _SHORTENED:
                first = Word(low[:cut], at, at + cut, flags_of.get(low[:cut], 0), low[:cut])
                into.append(first)
                long = _SHORT[low[cut:]]
                into.append(Word(long, at + cut, end, flags_of[long], long))
                continue
            if low.endswith("'s") and flags_of.get(low[:-2], 0) & NOUN:
                word = Word(low[:-2], at, end, flags_of[low[:-2]], low[:-2])  # "the plug's ring"
                word.kind = "holder"
                into.append(word)
                continue
            lettered = len(raw) == 1 and raw.isupper() and bool(into)
            if (
                lettered
                and (into[-1].flags & NOUN or (len(into) > 1 and into[-2].kind == "letter"))
                and book.noun_class(into[-1].text) not in ("document", "tool")
            ):
                word = Word(low, at, end, CALL)  # "bolts A", "flange B"
                word.kind = "letter"
                into.append(word)
                continue
            flags = flags_of.get(low)
            if flags is not None:
                word = Word(low, at, end, flags, lemmas.get(low, low))
                if flags & NUM:
                    word.value = numbers[low]
            else:
                flags, lemma = book.looked_up(low)
                word = Word(low, at, end, flags, lemma)
        elif group == "other":
            word = Word(raw, at, end, UNKNOWN if raw[0].isdigit() else PUNCT)
        elif group == "figure":
            word = Word(raw.lower(), at, end, FIGURE | NUM)
            if raw.isdigit():
                word.value = int(raw)
        elif group == "size":
            word = Word(raw.lower(), at, end, SIZE)
        elif group == "unit":
            word = Word(raw.lower(), at, end, ADJ)  # "the N·m wrench"
        elif group == "label":
            word = Word(raw.lower(), at, end, FIGURE)  # "step B.3"
        elif group == "place":
            into.append(Word("step", at, at, flags_of["step"], "step"))  # "go back to A2"
            word = Word(raw.lower(), at, end, FIGURE)
        elif group == "call":
            word = Word(raw.lower(), at, end, CALL)
        elif group == "angle":
            word = Word(raw.lower(), at, end, FIGURE)
            turn = None if _stands_to(text, at, end) else _as_turn(raw)
            if turn is None:
                word.kind = "measure"
            else:
                word.flags, word.found = QUANTITY, Found(at, end, turn)
        elif group == "class":
            word = Word(raw.lower(), at, end, SIZE)
            word.kind = "class"
        elif group in ("list", "letterlist"):
            word = Word(raw.lower(), at, end, FIGURE)
            word.kind = "list"
        else:
            word = Word(raw.lower(), at, end, FIGURE)
            word.kind = "measure"
        into.append(word)


def _stands_to(text: str, start: int, end: int) -> bool:
    """Whether an angle tells how one thing stands to another: "with the crowfoot at 90° to the wrench"."""
    behind = text[end:].lstrip()
    other = ("from the left", "from the right", "from the other", "from the first", "from the second")
    return behind.startswith(("apart", *other)) or (text[:start].rstrip().endswith(" at") and behind.startswith("to "))


def _fused(held: list[Word]) -> list[Word]:
    """Fixed phrases and compound names made one word each."""
    book = lexicon()
    phrases, compounds = book.phrases, book.compounds
    result: list[Word] = []
    index, length = 0, len(held)
    while index < length:
        word = held[index]
        text = word.text
        if (
            text in ("hand", "finger")
            and index + 1 < length
            and (whole := f"{text}-{held[index + 1].text}") in book.flags
        ):
            joined = Word(whole, word.start, held[index + 1].end, book.flags[whole], book.lemmas.get(whole, whole))
            result.append(joined)  # "hand tighten"
            index += 2
            continue
        if text in phrases or text in compounds:
            done = False
            for parts, flag in phrases.get(text, ()):
                size = len(parts)
                if index + size <= length and all(held[index + k].text == parts[k] for k in range(1, size)):
                    if (flag & PREP and _stands_alone(held, index, size)) or _numbered(held, index, size):
                        continue
                    if text == "by" and index + 2 < length and held[index + 2].text in _HAND_WORKED:
                        continue  # "start the engine by hand switch"
                    result.append(Word(" ".join(parts), word.start, held[index + size - 1].end, flag))
                    index += size
                    done = True
                    break
            if done:
                continue
            for parts, kind in compounds.get(text, ()):
                size = len(parts)
                if index + size <= length and all(held[index + k].text == parts[k] for k in range(1, size)):
                    joined = Word(" ".join(parts), word.start, held[index + size - 1].end, NOUN)
                    joined.kind = kind
                    result.append(joined)
                    index += size
                    done = True
                    break
            if done:
                continue
        result.append(word)
        index += 1
    return result


def _turns(text: str, held: list[Word]) -> list[Word]:
    """ "1/8 turn each", "another flat": a number with turns or flats is a quantity, unless it measures something else
    ("two turns of tape")."""
    result: list[Word] = []
    index, length = 0, len(held)
    while index < length:
        word = held[index]
        if (
            word.text in _TURN_WORDS
            and result
            and not word.flags & QUANTITY
            and not (index + 1 < length and held[index + 1].text in ("of", "washer", "washers", "face", "faces"))
        ):
            first = len(result)
            while first and (result[first - 1].flags & NUM or result[first - 1].text in _TURN_LEAD):
                first -= 1
            lead = result[first:]
            if any(item.flags & NUM or item.text in ("quarter", "half", "another", "next") for item in lead) or (
                lead and lead[-1].text in ("a", "one") and index + 1 < length and held[index + 1].text in ("at", "each")
            ):
                start = lead[0].start
                found = _as_turn(text[start : word.end])
                if found is not None:
                    joined = Word(text[start : word.end].lower(), start, word.end, QUANTITY)
                    joined.found = Found(start, word.end, found)
                    del result[first:]
                    result.append(joined)
                    index += 1
                    continue
        result.append(word)
        index += 1
    return result


_HAND_WORKED = frozenset("switch pump wheel crank lever button".split())
_TURN_WORDS = frozenset("turn turns flat flats".split())
_TURN_LEAD = frozenset("a an quarter half third full complete whole another next further one of".split())


def _as_turn(text: str) -> Tightening | None:
    try:
        held = read_tightening(text)
    except NotRead:
        return None
    return held if held.angles and held.torque is None else None


def _numbered(held: list[Word], index: int, size: int) -> bool:
    """Whether "in steps" is followed by their numbers."""
    after = index + size
    return held[after - 1].text in ("steps", "order") and after < len(held) and bool(held[after].flags & FIGURE)


def _stands_alone(held: list[Word], index: int, size: int) -> bool:
    """Whether two small words only happen to stand together ("as far as" is one; "down to 5" is two)."""
    after = index + size
    first = held[index].text
    if first in ("up", "down", "away", "out") and after < len(held):
        return bool(held[after].flags & (QUANTITY | FIGURE)) and first != "up"
    return False
