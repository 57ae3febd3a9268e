"""What is told without a verb of its own: labels with figures, tails such as ", no sealant", participles."""

from __future__ import annotations

from torquewright.sentences.clause import Clause
from torquewright.sentences.deeds import FITTING, HANDLED, TIGHTENING, Deed
from torquewright.sentences.facts import FIRMLY, PORTIONS, facts_of, is_angle, is_time, is_torque, sense_of
from torquewright.sentences.figures import bare_figure, stages_ahead
from torquewright.sentences.stated_figures import one_each
from torquewright.sentences.targets import RINGS, dress, paired
from torquewright.sentences.telling import Telling
from torquewright.sentences.things import Thing
from torquewright.sentences.verbless import (
    closed_with,
    done_alike,
    only_told,
    pulled,
    put_in_with,
    so_many_more,
    thrown_away,
)
from torquewright.sentences.words import Word


def tail(told: Telling, clause: Clause) -> None:
    things = clause.objects or [held for _, held in clause.preps if isinstance(held, Thing)]
    last = told.deeds[-1] if told.deeds else None
    first = clause.said[0] if clause.said else ""
    for thing in things[:1]:
        if thing.head in PORTIONS and thing.owner is not None:
            thing = thing.owner  # "not a drop of oil"
        place = next((held for text, held in clause.preps if isinstance(held, Thing) and text in ("on", "in")), None)
        if thing.kind in ("compound",):
            told.deeds.append(Deed("seal", "do_not", last.thing if last else place, clause))
        elif thing.kind in ("lubricant",) or (
            thing.kind == "fluid" and thing.head == "oil" and first in ("no", "never", "not", "without")
        ):
            if last is None and place is not None:
                told.deeds.append(Deed("lubricate", "do_not", place, clause))  # "No grease on the cone bolts, please."
            elif last is not None and last.verb in _GREASED:
                told.deeds.append(Deed("lubricate", "do_not", last.thing, clause))
        elif (
            first == "without"
            and thing.kind in ("washer", "seal", "fastener", "lock")
            and last is not None
            and last.verb in FITTING
        ):
            told.deeds.append(Deed("install", "do_not", thing, clause))
        elif (
            first == "not"
            and clause.objects
            and thing.kind in ("washer", "seal", "fastener", "lock")
            and last is not None
            and last.verb in HANDLED
            and last.mode in ("do", "stated_passively")
        ):
            told.deeds.append(Deed(last.verb, "do_not", thing, clause))  # "reuse the washers, but not the nuts"
        elif first == "none" and last is not None and last.verb in ("lubricate", "seal"):
            told.deeds.append(Deed(last.verb, "do_not", thing, clause))  # "…, and none on the seat"
    going_on = last is None and any(held.lemma in ("go", "tighten", "turn") for held in told.clauses)
    if clause.torques and (going_on or (last is not None and last.verb in TIGHTENING)):
        # "to 85 N·m, but not past 95"; "if no tab faces a slot, go on to the next one, but not past 95 N·m"
        deed = Deed("limit", "do", last.thing if last is not None else None, clause)
        past = any(text in _PAST and isinstance(held, Word) for text, held in clause.preps)
        deed.said = ["at most"] if past else []  # "on no account past 4.5 N·m", and not "not to the 22 N·m"
        deed.torques, deed.demanded = list(clause.torques), False
        told.deeds.append(deed)
    told.note(clause)


_PAST = frozenset("past over above beyond".split())
_GREASED = frozenset("lubricate install clean tighten hand_start position seat".split())


def participle(told: Telling, clause: Clause) -> None:
    last = _last_fastened(told)
    if clause.verb is None and clause.torques and not told.deeds and pulled(told, clause, clause.objects):
        return  # "By hand first, then 35 N·m with the big wrench."
    if clause.verb is not None and last is not None:
        thing = last.thing
        for known in reversed(told.known):
            if known.kind == "fastener":
                thing = known
                break
        facts = facts_of(clause, thing, [])
        facts.add("fastener")
        sense = sense_of(clause, facts)
        if sense in ("hand_start", "seat", "tighten", "lubricate", "seal"):
            if sense == "tighten" and not clause.torques and "finger-tight" in facts:
                sense = "seat"
            if sense == "lubricate" and not clause.objects and "hand" not in facts:
                last.said = [*last.said, clause.verb.text]
                return
            deed = Deed(sense, last.mode, thing, clause)
            deed.torques = list(clause.torques)
            dress(told, deed, clause, facts)
            # "its screws take 4 N·m, started by hand": first in time
            deed.order = -1.5 if sense == "hand_start" and last.verb in ("tighten", "seat") else 0.15
            told.deeds.append(deed)
            return
    if clause.torques and told.deeds:
        loose_torques(told, clause)
        return
    if last is not None and last.verb == "tighten" and {"by hand", "first"} <= set(clause.said):
        first = Deed("hand_start", last.mode, last.thing, clause)  # "close the fill screw: by hand first, then …"
        first.by_hand, first.order = True, -1.5
        told.deeds.append(first)
        return
    if told.deeds:
        told.deeds[-1].said = [*told.deeds[-1].said, *clause.said]
    elif clause.objects or clause.said:
        told.fronted.append(clause)


_VAGUE = FIRMLY | {"tight", "firm", "secure"}
_ENDS = frozenset("side end row half pair corner position".split())


def fragment(told: Telling, index: int, clause: Clause) -> None:
    """What is told without a verb: a label with its figure, a bare name, a figure on its own."""
    if clause.torques and not clause.link:
        stages_ahead(clause)  # "nuts to 20, bolts to 35 N·m"
    things = clause.objects
    torques = clause.torques
    following = told.clauses[index + 1] if index + 1 < len(told.clauses) else None
    if clause.link:
        told.note(clause)
        if torques and told.deeds and not told.deeds[-1].torques:
            told.deeds[-1].torques.extend(torques)
        return
    running = next((thing for thing in things if thing.kind == "running" or thing.head in ("drag", "preload")), None)
    if running is not None and torques:
        deed = Deed("measure", "do", running.owner or running, clause)
        deed.torques, deed.demanded = list(torques), False
        told.deeds.append(deed)
        told.note(clause)
        return
    label = next(
        (
            thing
            for thing in things
            if thing.kind in ("torque-label", "measure")
            and thing.head
            in ("torque", "spec", "specification", "setting", "value", "figure", "limit", "values", "figures", "max")
        ),
        None,
    )
    several = [thing for thing in things if thing.kind in ("fastener", "threaded")]
    if label is not None and not torques and ":" in clause.said and len(clause.measures) == 1:
        bare_figure(told, clause)  # "Torque: 45."
        torques = clause.torques
    if label is not None and torques and len(several) > 1:
        for thing, held in paired(clause, list(several)):
            deed = Deed("tighten", "stated_passively" if told.condition is None else "if", thing, clause)
            deed.torques = held
            told.deeds.append(deed)
        told.note(clause)
        return
    if label is not None and torques:
        target = label.owner or next(
            (held for text, held in clause.preps if isinstance(held, Thing) and text in ("for", "of", "on")), None
        )
        target = target or next((thing for thing in things if thing.kind in ("fastener", "threaded")), None)
        deed = Deed("tighten", "stated_passively", target, clause)
        if {"maximum", "max"} & {word.text for word in told.words[: clause.stop]} or label.head in ("limit", "max"):
            deed.said = [*deed.said, "at most"]  # "Maximum torque on the probe cap: 2.5 N·m"
        deed.torques = list(torques)
        told.deeds.append(deed)
        told.note(clause)
        return
    if torques and _limits(torques[0]) and not things:
        _limit(told, clause, torques)
        return
    tight = next((deed for deed in reversed(told.deeds) if deed.verb in TIGHTENING), None)
    joints = [
        thing
        for thing in things
        if thing.kind in ("fastener", "threaded")
        or (thing.pronoun and thing.head not in ("each", "all", "nothing", "none"))
        or (thing.kind == "" and ":" in clause.said)
    ]
    joints = [thing for thing in joints if not (thing.state == "new" and thing.head in RINGS)]  # "…, new ring"
    if any(thing.kind == "fastener" for thing in joints):
        joints = [thing for thing in joints if thing.kind or thing.head == "one"]  # "Bracket: two bolts M8, 22 N·m"
    if torques and not joints:
        joints = [thing for thing in things if thing.kind == "feature" and thing.head in _ENDS]  # "pump side 18 N·m"
    if torques and joints:
        continued = tight is not None and tight.torques and not _stopped(told, clause)
        for thing, held in paired(clause, list(joints)):
            listed = any(held.head in ("item", "pos") for held in things)  # "Item 7: 2 × M12 stud nut, 78 N·m"
            a_part = thing is not None and not (thing.kind or thing.pronoun)  # "Cast cover: 9 N·m"
            label_mode = "stated_passively" if listed or a_part else "do"
            mode = tight.mode if continued and tight is not None else label_mode
            deed = Deed("tighten", mode if told.condition is None else "if", thing, clause)
            deed.torques = held or list(torques)
            told.deeds.append(deed)
        for thing in things:
            if thing.kind in ("washer", "seal", "lock") and thing.quantifier == "no" and thing not in joints:
                told.deeds.append(Deed("install", "do_not", thing, clause))  # "Dome nuts: no washer, 5 N·m"
            if thing.kind in ("compound", "lubricant") and not thing.owner:
                # "Locating screw M4: 2.2 N·m, thread-locker"; "Dome nuts: no grease, 5 N·m"
                dressed = "do_not" if thing.quantifier == "no" else "stated_passively"
                deed = Deed("seal" if thing.kind == "compound" else "lubricate", dressed, joints[0], clause)
                deed.substance, deed.order = thing, -0.5
                told.deeds.append(deed)
        _new_things(told, clause, [thing for thing in things if thing not in joints])  # "Plug: 15 N·m, new ring"
        told.note(clause)
        return
    if torques and "by hand" in clause.said and any(is_torque(word) for word in torques):
        torques = [word for word in torques if is_torque(word)]
        clause.pieces = [piece for piece in clause.pieces if piece in torques or piece not in clause.torques]
    if torques and (pulled(told, clause, things) or closed_with(told, clause, things)):
        return
    if torques and not things and not told.deeds and one_each(told, clause, "stated_passively"):
        return  # "24 N·m for the four outer bolts, 18 N·m for the inner ones"
    if torques:
        loose_torques(told, clause)
        _new_things(told, clause, things)
        return
    if joints and any(said.startswith(("snug", "finger", "hand")) or said == "by hand" for said in clause.said):
        deed = Deed("seat", "do", joints[0], clause)
        deed.by_hand = True
        told.deeds.append(deed)
        told.note(clause)
        return
    if joints and _VAGUE & set(clause.said) and not clause.preps:
        told.deeds.append(Deed("tighten", "stated_passively", joints[0], clause))  # "terminal screws good and tight"
        told.note(clause)
        return
    if "snug" in (word.text for word in told.words[clause.first : clause.stop]) and joints:
        told.deeds.append(Deed("seat", "do", joints[0], clause))
        told.note(clause)
        return
    if (
        following is not None
        and following.role == "command"
        and following.lemma in ("assemble", "fit", "install", "refit", "reassemble", "tighten", "remove")
        and not following.objects
        and things
    ):
        following.pieces = [things[-1], *following.pieces]
        told.note(clause)
        return
    labelled = following is not None and following.role == "command" and ":" in told.text_before(following)
    if labelled and len(things) == 1 and things[0].kind == "feature" and not clause.preps:
        return  # "Forward end: take out the six bolts"
    if so_many_more(told, clause, things) or thrown_away(told, clause, things):
        return
    if done_alike(told, clause, things) or put_in_with(told, clause, things):
        return
    made = _new_things(told, clause, things)
    told.note(clause)
    if made:
        return
    if clause.said == ["then"] or (not things and not clause.preps and not clause.measures):
        return
    if things and things[0].kind in ("document",) and things[0].labels:
        return
    if any(is_time(word) or ":" in word.text for word in clause.measures) and not things:
        return  # also "08:55."
    if (
        things
        and things[0].kind == "feature"
        and "likewise" in (word.text for word in told.words)
        and len(told.clauses) == 1
    ):
        told.deeds.append(Deed("repeat", "do", None, clause))  # "Left side likewise."
        return
    if things and {word.text for word in told.words} & _TOPIC and len(told.clauses) == 1 and not clause.preps:
        # "Now the drain plug." tells what comes next; "Then the other one." what is to be done, and not what
        (told.loose if things[0].pronoun else told.remarks).append(clause)
        return
    if only_told(clause, things):
        told.remarks.append(clause)
        return
    told.loose.append(clause)


_TOPIC = frozenset("now next then finally lastly last likewise similarly first".split())


def _limit(told: Telling, clause: Clause, torques: list[Word]) -> None:
    """ "Do not exceed 1.5 N·m on the terminal screws": a limit, and where nothing else is said, the demand."""
    target = next(
        (held for text, held in clause.preps if isinstance(held, Thing) and text in ("on", "for", "of", "at")), None
    )
    last = next((deed for deed in reversed(told.deeds) if deed.verb in TIGHTENING), None)
    if last is not None and target is None:
        deed = Deed("limit", "do", last.thing, clause)
        deed.demanded = False
    else:
        deed = Deed("tighten", "do" if told.condition is None else "if", target, clause)
    deed.torques = list(torques)
    told.deeds.append(deed)
    told.note(clause)


def _stopped(told: Telling, clause: Clause) -> bool:
    return clause.first > 0 and any(word.text in ".;" for word in told.words[max(0, clause.first - 1) : clause.first])


def _new_things(told: Telling, clause: Clause, things: list[Thing]) -> bool:
    """ "…; new washer.": a part named with its state and no verb is fitted."""
    made = False
    for thing in things:
        back = thing.state == "old" and ":" in clause.said  # "The six old screws: start each by hand."
        fitted = thing.kind in ("washer", "seal", "lock", "fastener", "consumable") or thing.head in RINGS
        if (thing.state == "new" or back) and fitted:
            deed = Deed("reuse" if back else "install", "do", thing, clause)
            deed.order = -1.5
            told.deeds.append(deed)
            told.remember(thing)
            made = True
    return made


def loose_torques(told: Telling, clause: Clause) -> None:
    """A figure on its own belongs to the last tightening that has none, or to what was just fitted."""
    torques = clause.torques
    fingers = any(isinstance(held, Thing) and held.head in ("finger", "hand") for _, held in clause.preps)
    by_hand = fingers or "by hand" in clause.said
    if by_hand and any(is_torque(word) for word in torques):
        torques = [word for word in torques if is_torque(word)]  # "three turns by hand, 26 N·m"
    if told.deeds and told.deeds[-1].verb == "measure" and not told.deeds[-1].torques:
        told.deeds[-1].torques, told.deeds[-1].demanded = list(torques), False
        return
    if (
        told.deeds
        and told.deeds[-1].verb == "check"
        and told.deeds[-1].thing is not None
        and told.deeds[-1].thing.kind == "fastener"
    ):
        # "check the bolts: 69 N·m" is a check of torque; of a running torque it is a measurement
        told.deeds[-1].verb = "retighten"
        told.deeds[-1].torques = list(torques)
        return
    for deed in reversed(told.deeds):
        if deed.verb in ("tighten", "seat", "retighten", "tighten_angle", "back_off"):
            if not deed.torques:
                deed.torques = list(torques)
                return
            if clause.then or {"then", "again"} & set(clause.said) or told.text_before(clause) == "then":
                deed.torques.extend(torques)
                return
            break
        if deed.verb in ("install", "hand_start", "reuse", "replace"):
            tight = Deed("tighten", deed.mode, deed.thing, clause)
            for known in reversed(told.known):
                if known.kind == "fastener":
                    tight.thing = known
                    break
            tight.torques = list(torques)
            tight.order = 0.2
            if fingers and deed.verb != "hand_start":
                told.deeds.append(Deed("hand_start", deed.mode, tight.thing, clause))  # "with fingers three turns, …"
                told.deeds[-1].by_hand, told.deeds[-1].order = True, 0.1
            told.deeds.append(tight)
            return
    turned = [word.found.tightening for word in torques if word.found is not None and is_angle(word)]
    if clause is told.clauses[-1] and any(len(held.stages) > 1 and held.stages[0].angle is None for held in turned):
        deed = Deed("tighten", "stated_passively", None, clause)  # "Hand-tight plus a quarter turn."
        deed.torques = list(torques)
        dress(told, deed, clause, set())
        told.deeds.append(deed)
        return
    words = {word.text for word in told.words[clause.first : clause.stop]}
    more = {part for word in torques for part in word.text.split()} & {"further", "another"}
    if more and len(turned) == len(torques):
        deed = Deed("tighten_angle", "stated_passively", None, clause)  # "A further 30° on each."
        deed.torques = list(torques)
        told.deeds.append(deed)
        return
    passes = any(_PASSES & set(word.text.replace(":", " ").split()) for word in torques)
    if all(is_angle(word) and "back" in word.text.split() for word in torques):
        deed = Deed("back_off", "stated_passively", None, clause)  # "two turns back, then retighten"
        deed.torques = list(torques)
        told.deeds.append(deed)
        return
    if (passes or words & _PASSES) and clause is told.clauses[-1] and any(is_torque(word) for word in torques):
        deed = Deed("tighten", "stated_passively", None, clause)  # "First pass 15 N·m, second pass 30 N·m."
        deed.torques = list(torques)
        told.deeds.append(deed)
        return
    told.waiting.extend(torques)
    told.remarks.append(clause)


_PASSES = frozenset("pass passes stage stages round rounds".split())


def _last_fastened(told: Telling) -> Deed | None:
    return told.deeds[-1] if told.deeds else None


def _limits(word: Word) -> bool:
    """Whether a figure is only a limit ("do not exceed 7 N·m")."""
    return word.found is not None and word.found.tightening.kind == "maximum"
