"""Tight by hand, by feel or by a click: notations with no figure, and those that only sound like a demand."""

from __future__ import annotations

from torquewright.notation.phrases import phrase_at, phrases, skip, text_at
from torquewright.notation.spelling import Token, words

# Each of these says who tightens, or when to stop.
_PLAIN = phrases(
    {
        "hand": "finger tight | fingertight | finger tighten | finger tightened | fingers only | hand tight | "
        "handtight | hand tighten | hand tightened | hand tightening | by hand only | hand only | thumb tight | "
        "wrench tight | spanner tight | screwdriver tight | key tight | snug tight | snug tightened | snug | "
        "snugged | snugly | until snug | just snug | snug down | snug up | until just snug | until lightly snug | "
        "lightly snug | hand snug | until it bottoms lightly | until it bottoms | until lightly bottomed | "
        "until bottomed | until it just bottoms | until it seats | until it seats lightly | until seated | "
        "until it is seated | until lightly seated | until it just seats | until it touches | "
        "until it just touches | until it makes contact | until contact | until hand tight | until finger tight | "
        "until it stops | until it is hand tight | until it is finger tight | until it is snug | "
        "until they are snug | until they touch | until they seat | until it clicks | until it clicks once | "
        "until it clicks twice | until the cap clicks | until the ratchet clicks | until the ratchet clicks once | "
        "until the cap clicks once | until you hear a click | until a click is heard | until you hear it click | "
        "until the click | to the click | until it locks | nip up | nipped up | nip | nipped | lightly nipped | "
        "nip it up | nip tight | pinch tight | lightly pinched | snugged down | snugged up | snug it down | "
        "snug it up | good and snug | just nipped | pinch up | pinched up | wrench snug | tool tight | tool snug | "
        "hand snugged | snug fit | snug only | until one click | one click | two clicks | three clicks | "
        "until two clicks | until three clicks | until one click is heard | until two clicks are heard | "
        "until three clicks are heard | until it ratchets | until the cap ratchets | until the ratchet slips | "
        "until it slips | no tools | without tools | barely tight | just tight | lightly tight | lightly tighten | "
        "lightly tightened"
    }
)
# Only as a whole text: inside a sentence these words say how something is started or held.
_WHOLE = phrases(
    {
        "hand": "by hand | by finger | with the fingers | with fingers | by fingers | by hand , no tools | "
        "firmly by hand | lightly by hand | tight by hand | tighten by hand | hand | by hand until snug | "
        "by hand until tight | by hand until it stops | by hand without tools | with the hand | with two fingers | "
        "lightly | with thumb and finger"
    }
)
_VAGUE = phrases(
    {
        "vague": "securely | securely tight | securely tightened | good and tight | nice and tight | firmly | "
        "firmly tight | good tight | tightly | really tight | very tight | as tight as possible | "
        "as tight as you can | as tight as it will go | well tight | by feel | to feel | moderately tight | "
        "moderately | fully tight | good n tight | until firm | until firmly seated | until firmly tight"
    }
)
_VAGUE_WHOLE = phrases(
    {
        "vague": "tight | hard | properly | fully | well | secure | secured | until tight | until secure | "
        "until fully tight | fully tighten | fully tightened | normally tight | normal tight | as required | "
        "as needed | as necessary | sufficiently | sufficiently tight | adequately | firm | down tight | "
        "all the way | all the way down | home | down hard | up tight | correctly | evenly | "
        "until it feels right | until it feels tight | until it is tight | with a good pull | a good pull | "
        "to spec | enough | do not over tighten | do not overtighten | without over tightening | gently | "
        "snugly and securely"
    }
)
_LEAD = words(
    "tighten tightened tight it them up down run screw screwed turn turned do to only set pull drive make bring home in"
)
_TAIL = phrases(
    {
        "only": "only | only , no tools | no more | and no more | , no more | , no tools | no tools | "
        ", not more | by hand | position | condition | with the fingers | , no wrench | - no tools"
    }
)


_UNTIL = frozenset({"until", "till", "til"})
_THINGS = words(
    "it they the its their cap ratchet screw nut bolt plug gasket seal ring o - washer spring lock head "
    "shoulder collar flange cover knob filter you hear a nuts bolts screws fitting just only lightly gently fully "
    "firmly first initial is are has have all both and of union wing thumb handle lid lever mark marks arrow arrows"
)
_STOPS = words(
    "clicks click snug seats seated seat stops stop bottoms bottom bottomed touches touch contacts contact "
    "flat flush home meets meet resistance closed compressed locks aligned"
)
_MORE = words(
    "out lightly once twice audibly gently just is felt flat the seat gasket face it home down against "
    "surface three times flange with tight"
)


def _until(toks: list[Token], i: int) -> int | None:
    """Past "until the ratchet clicks once", "until the gasket touches", "until it is seated"; None without that."""
    if text_at(toks, i) not in _UNTIL:
        return None
    j = i + 1
    while text_at(toks, j) in _THINGS:
        j += 1
    if text_at(toks, j) not in _STOPS:
        return None
    j += 1
    k = skip(toks, j, _MORE)
    return j if text_at(toks, k - 1) in ("the", "with", "against") else k


class HandRead:
    """A tightening by hand: what is doubtful about it, and the index of the token after it."""

    __slots__ = ("after", "doubt")

    def __init__(self, doubt: str, after: int) -> None:
        self.doubt = doubt
        self.after = after


_DOUBT = "it states no figure and depends on the hand"


def hand_at(toks: list[Token], i: int, *, finding: bool = False) -> HandRead | None:
    """The hand-tight notation at token ``i``, or None. ``finding``: inside a sentence, only sure phrases count."""
    tables = (_PLAIN, _VAGUE) if finding else (_WHOLE, _PLAIN, _VAGUE, _VAGUE_WHOLE)
    best: HandRead | None = None
    start = i if finding else min(skip(toks, i, _LEAD), i + 4)
    for at in {i, start}:
        for table in tables:
            found = phrase_at(toks, at, table)
            if found is not None and (best is None or found[1] > best.after):
                best = HandRead(_DOUBT if found[0] == "vague" else "", found[1])
        stop = _until(toks, at)
        if stop is not None and (best is None or stop > best.after):
            best = HandRead("", stop)
    if best is not None:
        tail = phrase_at(toks, best.after, _TAIL)
        if tail is not None:
            best.after = tail[1]
    elif not finding and text_at(toks, start) == "tight" and start > i:
        return None
    return best
