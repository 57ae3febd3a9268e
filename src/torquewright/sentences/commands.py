"""Commands become deeds: the sense of the verb, one deed for each thing, and what follows from it."""

from __future__ import annotations

from torquewright.sentences.account import scales
from torquewright.sentences.clause import EXCEPTING, Clause
from torquewright.sentences.deeds import LEAVING, TIGHTENING, Deed
from torquewright.sentences.facts import FITTED, facts_of, light_noun, sense_of
from torquewright.sentences.figures import bare_figure, excepted, stages_ahead, what_arrives
from torquewright.sentences.plain_deeds import plainly
from torquewright.sentences.targets import is_figure
from torquewright.sentences.telling import Telling
from torquewright.sentences.things import Thing
from torquewright.sentences.words import Word


def command(told: Telling, clause: Clause, by: bool = False, base: str = "do") -> list[Deed]:
    for held in told.fronted:
        out = bool({"out", "off"} & set(held.particles))  # "with the key out"
        if (held.said or out) and any(
            isinstance(thing, Thing) and (out or thing.kind != "tool") for _, thing in held.preps
        ):
            continue  # "with the bolts still loose": how things stand, not what is done with them
        clause.preps = held.preps + clause.preps
        clause.said = clause.said + held.said
        told.waiting.extend(held.torques)
    told.fronted = []
    things = clause.objects
    if clause.complement != "that" and any(thing.head == "none" and thing.pronoun for thing in things):
        # "the bolts come with thread-locker; add none"
        clause.negated = True
        clause.pieces = [piece for piece in clause.pieces if getattr(piece, "head", "") != "none"]
        added = [held for held in told.known if held.kind in ("compound", "lubricant", "washer", "seal")]
        things = clause.objects or added[-1:]
    known = told.antecedent(things[0] if things else None, clause) if not things or things[0].pronoun else None
    if told.waiting and not clause.torques and clause.lemma not in _STEADYING:
        clause.pieces = clause.pieces + list(told.waiting)
        told.waiting = []
    tools = [thing for thing in things if thing.kind == "tool"] or [
        held
        for text, held in clause.preps
        if isinstance(held, Thing) and held.kind == "tool" and text in ("on", "at") and clause.torques
    ]  # "set 8 N·m on the wrench"
    tools = [thing for thing in tools if thing.head not in _MOVED or clause.torques]
    latest = told.known[-1] if told.known else None
    if clause.lemma == "set" and things and things[0].head == "it" and latest is not None and latest.kind == "tool":
        tools = [latest]  # "take the small wrench, set it to 64 N·m, and …"
    on_it = any(isinstance(held, Thing) and held.head == "it" and text in ("on", "at") for text, held in clause.preps)
    if clause.lemma == "set" and on_it and clause.torques and latest is not None and latest.kind == "tool":
        tools = [latest]  # "as the crowfoot lengthens the wrench, set 31 N·m on it"
    if clause.lemma in ("set", "adjust", "preset", "dial") and tools and not clause.negated:
        if not clause.torques:
            told.set_tool = tools[0]
            bare_figure(told, clause)
        arrives = what_arrives(told, clause)
        joint = next((held for _, held in clause.preps if isinstance(held, Thing) and held.kind == "fastener"), None)
        if arrives is not None and joint is not None:
            deed = Deed("tighten", told.mode_of(clause, base), joint, clause)
            deed.torques, deed.tool = [arrives], tools[0]
            deed.setting = next((word for word in clause.torques if word is not arrives), None)
            told.deeds.append(deed)
            return [deed]
        told.waiting.extend([arrives] if arrives is not None else clause.torques)
        told.set_tool = tools[0]
        told.remarks.append(clause)
        return []
    if clause.negated and clause.torques and (clause.lemma == "exceed" or _ceiling(clause)):
        _as_limit(told, clause)
        return []
    last = told.deeds[-1] if told.deeds else None
    most = clause.torques[0].found if len(clause.torques) == 1 else None
    on = clause.lemma in ("go", "carry", "continue") and "on" in clause.particles and not clause.negated
    if on and most is not None and most.tightening.kind == "maximum" and last is not None and last.verb == "tighten":
        last.said = [*last.said, "at least"]  # "to 70 N·m and go on, to 95 N·m at the most, until a slot lines up"
        _as_limit(told, clause)
        told.deeds[-1].verb, told.deeds[-1].demanded = "limit", False
        return []
    over = any(
        text in ("above", "over", "beyond", "on top of")
        and isinstance(held, Thing)
        and (held.head in ("drag", "it", "that") or held.kind == "running")
        for text, held in clause.preps
    )
    if over and clause.torques and any(deed.verb in ("measure", "check") for deed in told.deeds):
        clause.said.append("added")  # "…, and finish 9 N·m above that drag"
    light, noun = light_noun(clause)
    if light and noun is not None:
        # "give the bolts a squirt of oil": what stands before the noun is what it is done to
        clause.pieces = [piece for piece in clause.pieces if piece is not noun]
        if noun.owner is not None:
            clause.preps.append(("with", noun.owner))
        clause.preps = [("on" if text in ("at", "to", "over") else text, held) for text, held in clause.preps]
        things = clause.objects or [held for text, held in clause.preps if isinstance(held, Thing) and text == "on"]
        clause.pieces = [*things, *clause.torques]
    bare = any(isinstance(held, Word) and not held.kind and text in ("at", "to") for text, held in clause.preps)
    pulled = clause.lemma in _PULLED or (clause.lemma in ("set", "run") and bare)
    pulled = pulled and bool(things) and things[0].kind == "fastener"
    if not clause.torques and (pulled or clause.lemma in ("tighten", "torque", "retighten", "retorque", "give")):
        bare_figure(told, clause)
    elif clause.torques and clause.lemma in ("tighten", "torque", "retighten", "retorque", "give"):
        stages_ahead(clause)
    if len(things) > 1 and things[-1].kind == "tool" and things[0].kind in ("fastener", "threaded"):
        # "fit the screw by hand, T25 bit": what it is done with
        clause.pieces = [piece for piece in clause.pieces if piece is not things[-1]]
        clause.preps.append(("with", things[-1]))
        things = clause.objects
    if len(things) > 1 and things[-1].head in ("couple", "few"):
        clause.pieces = [piece for piece in clause.pieces if piece is not things[-1]]  # "give each a couple of turns"
        things = clause.objects
    if clause.negated and clause.lemma in ("forget", "omit") and things and things[0].kind in FITTED:
        clause.negated, clause.lemma = False, "fit"  # "do not forget the washer under the nut"
    if (joints := _takes_the_figure(clause, things)) and not clause.negated:
        if "same" in things[0].mods:
            clause.said.append("the same")
        taken = [Deed("tighten", told.mode_of(clause, base), joint, clause) for joint in joints]
        told.deeds.extend(taken)
        return taken
    facts = facts_of(clause, known, things)
    sense = light or sense_of(clause, facts)
    mode = told.mode_of(clause, base)
    if sense == "" and clause.lemma not in ("be",):
        if clause.role == "command" or (clause.verb is not None and clause.role != "statement"):
            told.loose.append(clause)
        return []
    if sense == "install" and clause.lemma == "use" and any(word in clause.remark for word in _SAVED):
        sense = "reuse"  # "use the ten screws saved in step 2"
    others = excepted(told, clause, mode) if sense in TIGHTENING else []
    made = [*_deeds_for(told, clause, sense, mode, facts, things, known), *others]
    last = told.deeds[-1] if told.deeds else None
    working = clause.lemma in ("work", "go", "proceed", "continue") and bool(clause.torques) and not made
    if working and last is not None and last.verb == "tighten" and not last.torques:
        last.torques = list(clause.torques)  # "tighten the middle screw first and work outward, all to 9 N·m"
    elif not made and (sense == "-" or sense == "use-tool"):
        told.remarks.append(clause)
    if told.excepted is not None:
        clause.preps = [*clause.preps, *(held for held in told.excepted.preps if held[0] in EXCEPTING)]
        clause.remark, told.excepted = f"{clause.remark} {told.excepted.remark}", None
    left = [held for text, held in clause.preps if text in EXCEPTING and isinstance(held, Thing)]
    stays = any(word in clause.remark.split() for word in _STAYS)
    if left and made and (stays or made[0].verb in ("remove", "seal", "lubricate")):
        left_in = Deed(made[0].verb if made else sense, "do_not", left[-1], clause)
        # "… bar the locating screw, which stays put"
        made = [*made, left_in] if made and made[0].mode == "do" else made
    told.note(clause)
    if any(thing.head == "any" or (thing.quantifier == "any" and (thing.pronoun or clause.remark)) for thing in things):
        for deed in made:
            if deed.mode == "do":
                deed.mode = "if"
    if by:
        for deed in made:
            deed.order = -0.5
    told.deeds.extend(made)
    return made


def _takes_the_figure(clause: Clause, things: list[Thing]) -> list[Thing]:
    """The joints a figure told elsewhere is to be used on: "use the torque from step 8 for the side screws"."""
    if clause.lemma not in ("use", "apply", "take") or clause.torques or len(things) != 1 or not is_figure(things[0]):
        return []
    elsewhere = "same" in things[0].mods or any(
        text in ("from", "of", "in") and isinstance(held, Thing) and bool(held.labels) for text, held in clause.preps
    )
    on = [held for text, held in clause.preps if text in ("for", "on") and isinstance(held, Thing)]
    return [held for held in on if held.kind in ("fastener", "threaded")] if elsewhere else []


_STEADYING = frozenset("hold keep steady support grip counter-hold counterhold block wedge watch".split())
_MOVED = frozenset("lever handle jack stand trestle wedge block".split())  # tools that are set, and pull nothing
_SAVED = ("saved", "kept", "removed", "taken", "set aside", "put aside", "you took", "you removed", "laid")
_STAYS = frozenset("stay stays wait waits remain remains left".split())
_PULLED = frozenset("pull draw bring nip cinch crank go finish".split())
_CEILINGS = frozenset(("beyond", "over", "above", "past", "more than", "to more than"))


def _ceiling(clause: Clause) -> bool:
    """Whether what is forbidden is only to go past a figure: "do not tighten beyond 2 N·m"."""
    torque = clause.torques[0].found
    more = torque is not None and torque.tightening.kind in ("minimum", "maximum")
    return clause.lemma in ("tighten", "torque", "go", "overtighten", "set", "turn") and (
        more or any(text in _CEILINGS and isinstance(held, Word) for text, held in clause.preps)
    )


def _as_limit(told: Telling, clause: Clause) -> None:
    """ "do not exceed 30 lbf·ft" told with a verb of its own."""
    target = next(
        (held for text, held in clause.preps if isinstance(held, Thing) and text in ("on", "for", "of", "at")), None
    ) or next(iter(clause.objects), None)
    last = next((deed for deed in reversed(told.deeds) if deed.verb in TIGHTENING and deed.torques), None)
    deed = Deed(
        "tighten" if last is None or target is not None else "limit",
        "do",
        target if target is not None else (last.thing if last else None),
        clause,
    )
    deed.torques = list(clause.torques)
    deed.said = [*clause.said, "at most"]
    deed.demanded = deed.verb == "tighten"
    told.deeds.append(deed)
    told.note(clause)


def _deeds_for(
    told: Telling, clause: Clause, sense: str, mode: str, facts: set[str], things: list[Thing], known: Thing | None
) -> list[Deed]:
    kept_off = clause.lemma == "keep" and {"away", "off", "away from", "clear"} & set(clause.particles)
    if kept_off and things and things[0].kind in ("lubricant", "compound") and mode == "do":
        part = next((held for _, held in clause.preps if isinstance(held, Thing)), None)
        meant = told.antecedent(part, clause) if part is not None and part.pronoun else part
        if part is not None and meant is not None and meant.kind == "fastener":
            barred = Deed("lubricate" if things[0].kind == "lubricant" else "seal", "do_not", part, clause)
            barred.substance, barred.counted = things[0], False
            return [barred]
    if kept_off and things and things[0].kind == "tool" and mode == "do":
        joint = next((held for _, held in clause.preps if isinstance(held, Thing) and held.kind == "fastener"), None)
        if joint is not None:
            barred = Deed("tighten", "do_not", joint, clause)  # "keep the impact gun away from the brass screws"
            barred.tool = things[0]
            return [barred]
    if sense == "-":
        running = next((thing for thing in things if thing.kind == "running" or thing.head == "drag"), None)
        if clause.lemma == "add" and clause.torques and running is not None:
            # "add the drag of the nut to the 30 lbf·ft": that sum is the figure
            deed = Deed("tighten", mode, running.owner, clause)
            sum_of = [held for text, held in clause.preps if text == "to" and isinstance(held, Word)]
            deed.torques, deed.said = [word for word in clause.torques if word in sum_of], [*clause.said, "added"]
            deed.torques = deed.torques or list(clause.torques)
            return [deed]
        if clause.lemma == "add" and clause.torques and any(deed.verb == "measure" for deed in told.deeds):
            # running torque measured, "and add it to 22": that sum is the figure
            deed = Deed("tighten", mode, None, clause)
            deed.torques = list(clause.torques)
            deed.said = [*clause.said, "added"]
            source = told.deeds[-1].thing
            deed.thing = source.owner if source is not None and source.owner is not None else source
            return [deed]
        return []
    if sense in LEAVING:
        verb, made_mode = LEAVING[sense]
        return [Deed(verb, made_mode if mode != "do_not" else "do", thing, clause) for thing in things or [None]]  # type: ignore[list-item]
    if sense == "use-tool":
        target = next(
            (held for text, held in clause.preps if isinstance(held, Thing) and text in ("on", "for", "with")), None
        )
        if (
            mode == "do_not"
            and target is not None
            and (target.kind in ("feature", "measure", "running") or target.head in ("pass", "stage", "round"))
        ):
            target = next(
                (known for known in reversed(told.known) if known.kind == "fastener"), None
            )  # "the last pass"
            deed = Deed("tighten", mode, target, clause)
            return [deed]
        if mode == "do_not" and target is not None:
            deed = Deed("tighten", mode, target, clause)
            deed.tool = things[0] if things else None
            return [deed]
        reach = scales(told.words)
        figures = [word for word in clause.torques if id(word) not in reach]
        if figures and target is not None:
            # with the scale of the tool ahead, the figure is only told: "… for the wheel nuts, which take 85 N·m"
            told_only = mode == "do" and len(figures) < len(clause.torques)
            deed = Deed("tighten", "stated_passively" if told_only else mode, target, clause)
            deed.tool, deed.torques = things[0] if things else None, figures
            return [deed]
        told.set_tool = things[0] if things else None
        return []
    if sense == "repeat":
        along_with = [held for text, held in clause.preps if text == "with" and isinstance(held, Thing)]
        new = [held for held in along_with if held.state == "new"]
        return [Deed("repeat", mode, None, clause), *(Deed("install", mode, held, clause) for held in new)]
    if sense == "start-it":
        sense = "hand_start" if known is not None and known.kind in ("fastener", "threaded", "lock") else "start"
    return plainly(told, clause, sense, mode, facts, things, known)
