"""Shop notes without a verb: "Fill plug, same again", "Small wrench, crosswise: 12 N·m, then 24 N·m"."""

from __future__ import annotations

from torquewright.sentences.account import scales
from torquewright.sentences.clause import Clause
from torquewright.sentences.deeds import Deed
from torquewright.sentences.facts import for_waste, is_torque
from torquewright.sentences.targets import dress, is_figure
from torquewright.sentences.telling import Telling
from torquewright.sentences.things import Thing

_JOINTS = ("fastener", "threaded")
_SAME = frozenset("deal number setting figure way again torque value treatment".split())
_HANDS = frozenset("finger hand fingers thumb".split())
_TOLD_OF = frozenset("was were gave would could range reads rated drag breakaway running click".split())


def done_alike(told: Telling, clause: Clause, things: list[Thing]) -> bool:
    """ "Fill plug, same deal, same number.": closed as the one before it was."""
    joint = next((thing for thing in things if thing.kind in _JOINTS), None)
    rest = [thing for thing in things if thing is not joint]
    alike = bool(rest) and all(("same" in thing.mods and thing.head in _SAME) or thing.head == "same" for thing in rest)
    if joint is None or not alike or clause.torques:
        return False
    figure = all(is_figure(thing) or thing.head == "number" for thing in rest)
    deed = Deed("tighten" if figure else "repeat", "do", joint, clause)
    if figure:
        clause.said.append("the same")  # "Then the outer nuts, same figure."
    else:
        deed.lemma = "same"
    told.deeds.append(deed)
    told.note(clause)
    return True


def so_many_more(told: Telling, clause: Clause, things: list[Thing]) -> bool:
    """ "Aft end: another six, the same way.": what was just done, to as many more."""
    more = next((thing for thing in things if thing.pronoun and thing.count and "another" in thing.text), None)
    if more is None or clause.torques or told.deeds or any(thing.kind in _JOINTS for thing in things):
        return False
    deed = Deed("repeat", "do", more, clause)
    deed.lemma = "more"
    told.deeds.append(deed)
    return True


def thrown_away(told: Telling, clause: Clause, things: list[Thing]) -> bool:
    """ "Nuts in the scrap tin, blades too.": thrown away."""
    bins = [held for text, held in clause.preps if text in ("in", "into") and isinstance(held, Thing)]
    if not things or not bins or not for_waste(bins[0]) or clause.torques or clause.link:
        return False
    along = bins[1:] if "too" in clause.said or "as well" in clause.said else []
    told.deeds.extend(Deed("discard", "do", thing, clause) for thing in (*things, *along))
    told.note(clause)
    return True


def closed_with(told: Telling, clause: Clause, things: list[Thing]) -> bool:
    """ "One new sealing washer on the drain plug, in by hand, then 70 N·m with the big wrench.": the plug is closed."""
    torques = [word for word in clause.torques if is_torque(word)]
    on = [held for text, held in clause.preps if text == "on" and isinstance(held, Thing) and held.kind in _JOINTS]
    if len(things) != 1 or things[0].kind not in ("washer", "seal") or things[0].state != "new":
        return False
    if not torques or len(on) != 1 or told.deeds or clause.link:
        return False
    told.deeds.append(Deed("install", "do", things[0], clause))
    if "by hand" in clause.said:
        first = Deed("hand_start", "do", on[0], clause)
        first.by_hand = True
        told.deeds.append(first)
    deed = Deed("tighten", "do", on[0], clause)
    deed.torques = torques
    dress(told, deed, clause, set())
    told.deeds.append(deed)
    told.note(clause)
    return True


def put_in_with(told: Telling, clause: Clause, things: list[Thing]) -> bool:
    """ "Drain plug with the new copper washer.": put in with it."""
    if len(things) != 1 or things[0].kind not in _JOINTS or clause.torques or told.deeds:
        return False
    along = [held for text, held in clause.preps if text == "with" and isinstance(held, Thing)]
    if len(along) != 1 or along[0].kind not in ("washer", "seal") or along[0].state != "new":
        return False
    deed = Deed("install", "do", things[0], clause)
    dress(told, deed, clause, set())
    told.deeds.append(deed)
    told.note(clause)
    return True


def pulled(told: Telling, clause: Clause, things: list[Thing]) -> bool:
    """ "Small wrench, crosswise: 12 N·m, then 24 N·m", "Fingers first, then 37 N·m": what was spoken of last is
    tightened."""
    torques = [word for word in clause.torques if is_torque(word)]
    tools = [thing for thing in things if thing.kind == "tool"]
    tools += [held for text, held in clause.preps if isinstance(held, Thing) and held.kind == "tool" and text == "with"]
    hands = [thing for thing in things if thing.head in _HANDS]
    by_hand = any("by hand" in held.said for held in told.clauses)  # "By hand first, then 35 N·m with the big wrench."
    if not torques or told.deeds or clause.link or not (tools or hands or by_hand):
        return False
    kept = [thing for thing in things if thing not in tools and thing not in hands and "same" not in thing.mods]
    if (
        any(thing.head != "same" for thing in kept)
        or clause is not told.clauses[-1]
        or {word.text for word in told.words} & _TOLD_OF
    ):
        return False
    reach = scales(told.words) | {id(thing.range) for thing in things if thing.range is not None}
    if any(id(word) in reach for word in torques) or not any(thing.kind in _JOINTS for thing in told.known):
        return False
    deed = Deed("tighten", "do", None, clause)
    deed.torques, deed.tool = torques, tools[0] if tools else None
    if hands or by_hand:
        first = Deed("hand_start", "do", None, clause)
        first.by_hand, first.order = True, -1.0
        told.deeds.append(first)
    told.deeds.append(deed)
    return True


def only_told(clause: Clause, things: list[Thing]) -> bool:
    """Whether nothing is done: "Small wrench.", "Two nuts.": a tool, or how many there are."""
    if clause.torques or clause.preps or clause.measures or clause.said or len(things) != 1:
        return False
    thing = things[0]
    return thing.kind == "tool" or (thing.kind in _JOINTS and thing.count is not None and not thing.state)
