"""Figures of a command that the words around them settle: bare ones, stages that share a unit, one for each thing."""

from __future__ import annotations

import re
from itertools import pairwise

from torquewright.notation.tightening import Found, find_tightenings
from torquewright.records.tightening import Tightening
from torquewright.sentences.clause import EXCEPTING, Clause
from torquewright.sentences.deeds import Deed
from torquewright.sentences.facts import is_torque
from torquewright.sentences.telling import Telling
from torquewright.sentences.things import Thing
from torquewright.sentences.words import Word


def bare_figure(told: Telling, clause: Clause) -> None:
    """ "Torque the nut to 35", "to 45 lbs", "give each screw 8": a demand whose unit is not told, or is none."""
    held = [word for text, word in clause.preps if isinstance(word, Word) and text in ("to", "at", "with")]
    bare = [word for word in clause.measures if not word.kind or _POUNDS.search(word.text)]
    for word in (*held, *bare):
        if word.found is not None or not (word.value is not None or _WEIGHTS.search(word.text)):
            continue
        unit = _unit_beside(told, clause)
        found = find_tightenings(f"{word.text} {unit}" if unit and word.value is not None else word.text, bare=True)
        if len(found) != 1:
            return
        word.found = Found(word.start, word.end, found[0].tightening)
        clause.pieces.append(word)
        if word.value is None or word not in held:
            return  # else the next figure may be the next stage: "to 12, then to 24"


def in_the_unit_of(told: Word, clause: Clause) -> None:
    """Gives the bare figure of a phrase ("to 72") the unit of the one told before it."""
    torque = told.found.tightening.torque if told.found is not None else None
    for text, held in clause.preps if torque is not None and torque.unit and not clause.torques else ():
        if text == "to" and isinstance(held, Word) and held.value is not None and not held.kind and torque is not None:
            found = find_tightenings(f"{held.text} {torque.unit}")
            if len(found) == 1:
                held.found = Found(held.start, held.end, found[0].tightening)
                clause.pieces.append(held)


def what_arrives(told: Telling, clause: Clause) -> Word | None:
    """The figure that reaches the fastener, where a setting is told with what it is to give: "set 45 N·m to get 50 N·m
    at the nut"; None where there is one figure only, or none of them is said to come of the other."""
    torques = [word for word in clause.torques if is_torque(word)]
    if len(torques) != 2:
        return None
    between = {word.text for word in told.words if torques[0].end <= word.start < torques[1].start}
    return torques[1] if between & _GIVES else None


_GIVES = frozenset("get gets give gives put puts reach reaches make makes obtain bring brings so which".split())


def _unit_beside(told: Telling, clause: Clause) -> str:
    """The unit that the wrench or its scale bears in its name: "the N·m wrench", "on the kgf·m scale"."""
    things = [*clause.objects, *(held for _, held in clause.preps if isinstance(held, Thing)), told.set_tool]
    for thing in things:
        if thing is not None and (thing.kind == "tool" or thing.head in ("scale", "dial")):
            match = _UNITS.search(" ".join((*thing.mods, thing.head)))
            if match is not None:
                return match.group().replace("-", " ") if "pound" in match.group() else match.group()
    return ""


_UNITS = re.compile(
    r"n[·⋅.-]?m\b|newton[- ]met(?:re|er)|lbf?[·⋅.-](?:ft|in)\b|(?:ft|in)[·⋅.-]lbf?\b|(?:inch|foot)[- ]pounds?"
    r"|kgf[·⋅]c?m|cn[·⋅]?m"
)
_POUNDS = re.compile(r"(?:lbs?|pounds?|kg)\.?$")
_WEIGHTS = re.compile(r"(?:lbs?|pounds?|kg|ft|foot|feet|n)\.?$")


def stages_ahead(clause: Clause) -> None:
    """ "to 12 and then to 24 N·m": a figure that takes the unit of the one that follows."""
    first = clause.torques[0]
    torque = first.found.tightening.torque if first.found is not None else None
    for text, held in clause.preps if torque is not None and torque.unit else ():
        if text != "to" or not isinstance(held, Word) or held.kind or held.value is None or held.end > first.start:
            continue
        place = next((at for at, piece in enumerate(clause.pieces) if piece.start > held.start), len(clause.pieces))
        found = find_tightenings(f"{held.text} {torque.unit if torque is not None else ''}")
        if len(found) == 1:
            held.found = Found(held.start, held.end, found[0].tightening)
            clause.pieces.insert(place, held)


def each_its_own(told: Telling, clause: Clause, targets: list[Thing | None]) -> list[tuple[Thing | None, list[Word]]]:
    """ "check stator screws and hub nut (10 N·m and 95 N·m)": as many figures as things, one for each in order."""
    torques = [word for word in clause.torques if is_torque(word)]
    things = [thing for thing in targets if thing is not None]
    if len(torques) == 1 and "respectively" in clause.said and len(things) > 1:
        torques = _parts_of(torques[0], len(things))  # "to 90 and 110 N·m respectively"
        return [(thing, [word]) for thing, word in zip(things, torques, strict=True)] if torques else []
    given = [held for text, held in clause.preps if text == "to" and isinstance(held, Thing)]
    if clause.lemma == "give" and len(given) == len(torques) > 1 and not clause.objects:
        return [(thing, [word]) for thing, word in zip(given, torques, strict=True)]  # "to the port nut give 41 N·m, …"
    if len(things) < 2 or len(things) != len(torques) or things[-1].end > torques[0].start:
        return []
    for before, behind in pairwise(torques):
        between = {word.text for word in told.words if before.end <= word.start < behind.start}
        if not between <= {"and", ",", "respectively"} or ("and" not in between and behind is torques[-1]):
            return []
    return [(thing, [word]) for thing, word in zip(things, torques, strict=True)]


def _parts_of(word: Word, count: int) -> list[Word]:
    """The figures of one notation as words of their own, where it holds as many; else none."""
    held = word.found.tightening if word.found is not None else None
    if held is None or len(held.stages) != count or held.angles:
        return []
    parts: list[Word] = []
    for stage in held.stages:
        part = Word(word.text, word.start, word.end, word.flags) if parts else word
        part.found = Found(word.start, word.end, Tightening(held.text, "single", (stage,)))
        parts.append(part)
    return parts


def alternatives(told: Telling, clause: Clause, torques: list[Word]) -> bool:
    """Whether "or" stands between the figures of one pull."""
    if len(torques) != 2 or not is_torque(torques[0]):
        return False
    joins = ("or", "for") if clause.lemma in ("use", "apply") else ("or",)
    return any(word.text in joins and torques[0].end <= word.start < torques[1].start for word in told.words)


def excepted(told: Telling, clause: Clause, mode: str) -> list[Deed]:
    """What is left out of a pull and told with a figure of its own: "to 30 N·m except the two at the sensor
    (12 N·m)". Its figures are taken out of the clause."""
    for text, held in clause.preps:
        if text not in EXCEPTING or not isinstance(held, Thing):
            continue
        own = [word for word in clause.torques if word.start >= held.end]
        between = {word.text for word in told.words if held.end <= word.start < own[0].start} if own else set()
        if own and len(own) < len(clause.torques) and not between & {"then", "all", "finally"}:
            clause.pieces = [piece for piece in clause.pieces if piece not in own]
            deed = Deed("tighten", mode, held, clause)
            deed.torques = own
            return [deed]
    return []


def by_turns(clause: Clause, torques: list[Word]) -> list[tuple[Word, Thing]]:
    """Each stage with the tool told behind it: "30 N·m with the small wrench, then 63 N·m with the big one". Empty
    where not every stage has one."""
    tools = [held for text, held in clause.preps if text == "with" and isinstance(held, Thing)]
    if len(torques) < 2 or len(tools) != len(torques) or tools[0].kind != "tool":
        return []
    if any(tool.kind != "tool" and tool.head != "one" for tool in tools):
        return []
    ends = [*(word.start for word in torques[1:]), clause.end or tools[-1].end + 1]
    if any(not word.end <= tool.start < end for word, tool, end in zip(torques, tools, ends, strict=True)):
        return []
    return list(zip(torques, tools, strict=True))
