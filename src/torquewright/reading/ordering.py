"""Order: of deeds in time where the words stand otherwise, of positions round a flange, and the number of passes."""

from __future__ import annotations

from torquewright.sentences.deeds import Deed
from torquewright.sentences.sentence import Sentence
from torquewright.sentences.things import Thing
from torquewright.sentences.words import Word

_CROSS = frozenset("star cross crosswise criss-cross crisscross diagonal diagonally diagonals opposite".split())
_ROUND = frozenset("circular circle clockwise anticlockwise counterclockwise round".split())
_MIDDLE = frozenset("outward outwards spiral middle centre center".split())
_PASSES = {"once": 1, "twice": 2, "thrice": 3}


def in_time(deeds: list[Deed]) -> list[Deed]:
    """The deeds in the order they are done. "Before tightening …, start …" is told the other way round."""
    result: list[Deed] = []
    clauses: list[object] = []
    for deed in deeds:
        if deed.clause not in clauses:
            clauses.append(deed.clause)
    for place, deed in enumerate(deeds):
        _ = place
        if deed.order >= 1:
            # later than what it is said with: behind the deeds of the clause that follows, or that stood before
            result.append(deed)
            continue
        result.append(deed)
    # stable: earlier, as told, later
    early = [deed for deed in result if deed.order <= -1]
    late = [deed for deed in result if deed.order >= 1]
    if early or late:
        middle = [deed for deed in result if -1 < deed.order < 1]
        result = early + middle + late
    return _facts_last(_within_clauses(result))


def _facts_last(deeds: list[Deed]) -> list[Deed]:
    """ "Its screws take 9 N·m; start each by hand": a figure told as a fact comes behind the start it stands before."""
    for place, deed in enumerate(deeds):
        if deed.verb == "tighten" and deed.clause.role == "statement" and "passive" not in deed.clause.tense:
            starts = [at for at, held in enumerate(deeds) if at > place and held.verb == "hand_start"]
            if starts:
                moved = list(deeds)
                moved.insert(starts[-1], moved.pop(place))
                return moved
    return deeds


def _within_clauses(deeds: list[Deed]) -> list[Deed]:
    """Inside one clause, parts that come along go in their place (gasket before cover, figure after fitting)."""
    result: list[Deed] = []
    index = 0
    while index < len(deeds):
        stop = index + 1
        while stop < len(deeds) and deeds[stop].clause is deeds[index].clause and -1 < deeds[stop].order < 1:
            stop += 1
        result.extend(sorted(deeds[index:stop], key=lambda deed: deed.order))
        index = stop
    return result


def order_of(deed: Deed, sentence: Sentence) -> str:
    """ "cross", "circular", "spiral" or a listed order such as "1-4-2-5-3-6"; "" where none is said."""
    if deed.verb not in ("tighten", "tighten_angle", "retighten", "seat", "loosen", "remove", "back_off"):
        return ""
    for word in sentence.words:
        if word.kind == "list":
            return "-".join("".join(sign if sign.isdigit() else " " for sign in word.text).split())
    words: set[str] = set()
    for said in deed.said:
        words.update(said.split())
    for _, held in deed.clause.preps:
        if isinstance(held, Thing) and held.kind in ("feature", ""):
            words.update(held.text.split())
        elif isinstance(held, Word):
            continue
    for thing in deed.clause.objects:
        if thing.kind == "feature":
            words.update(thing.text.split())
    if words & _CROSS:
        return "cross"
    if words & _MIDDLE:
        return "spiral"
    if words & _ROUND and ("pattern" in words or "order" in words or "circular" in words or "circle" in words):
        return "circular"
    return ""


def passes_of(deed: Deed) -> int | None:
    """The number of passes the words state."""
    for _, held in deed.clause.preps:
        if isinstance(held, Thing) and held.head in ("pass", "stage", "step", "round") and held.count is not None:
            return held.count
    for said in deed.said:
        if said in _PASSES and deed.verb in ("tighten", "retighten"):
            return _PASSES[said] if said != "once" else None
    return None
