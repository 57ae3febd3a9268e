"""Clauses that hang on another one: conditions, "before", "after", "until", phrases and -ing clauses."""

from __future__ import annotations

from torquewright.sentences.clause import Clause
from torquewright.sentences.commands import command
from torquewright.sentences.deeds import Deed
from torquewright.sentences.facts import FIRMLY, PERMITS, SPOILT, facts_of, is_torque, sense_of
from torquewright.sentences.figures import in_the_unit_of
from torquewright.sentences.fragments import loose_torques
from torquewright.sentences.passives import passive
from torquewright.sentences.telling import Telling
from torquewright.sentences.things import Thing
from torquewright.sentences.words import Word


def conditional(told: Telling, clause: Clause) -> None:
    subject = clause.subject
    told.note(clause)
    if clause.link == "where" and not clause.front:
        return  # "put the long screws where you marked": a place
    if not clause.front and _an_alternative(told, clause):
        return  # "off each plug, or out of the seat if it stuck there": the condition is that of the other place
    if not clause.front:
        # behind its command: the last one only
        done = [
            deed
            for deed in told.deeds
            if deed.mode in ("do", "stated_passively")
            or (deed.mode == "mentioned_only" and deed.clause.modal in PERMITS)
        ]
        if done:
            last = done[-1].clause
            for deed in done:
                if deed.clause is last and not (deed.mode == "stated_passively" and clause.link.endswith(" time")):
                    deed.mode = "if"
                    if deed.doubt == "replace":
                        deed.verb, deed.doubt = "replace", ""  # under a condition it can only mean renewed
        return
    told.condition = clause
    harmed = clause.verb is not None and clause.verb.text in SPOILT and "passive" in clause.tense
    if (
        subject is not None
        and (clause.lemma == "be" or harmed)
        and subject.kind not in ("leakage",)
        and (
            harmed
            or set(clause.said) & SPOILT
            or any(thing.head in SPOILT or set(thing.mods) & SPOILT for thing in clause.objects)
        )
        and subject.text not in ("it", "they")
    ):
        deed = Deed("inspect", "do", subject, clause)
        deed.order = -1.0
        told.deeds.append(deed)


def _an_alternative(told: Telling, clause: Clause) -> bool:
    """Whether a condition stands behind "or out of …", "or from …": another place, and not another deed."""
    ahead = [word.text for word in told.words[: clause.first]]
    place = max((at for at, text in enumerate(ahead) if text == "or"), default=-1)
    return (
        place > 0
        and ahead[place + 1 : place + 2] in (["from"], ["out of"], ["off"], ["out"])
        and "," not in ahead[place:]
    )


_REACHED = frozenset("click seat stop touch bottom contact sit rest meet close bear mate lie".split())


_PULLED = frozenset("bring draw pull take run work go".split())


def until(told: Telling, clause: Clause) -> None:
    pulled = told.deeds and told.deeds[-1].verb in ("position", "install") and told.deeds[-1].lemma in _PULLED
    if pulled and any(is_torque(word) for word in clause.torques):
        told.deeds[-1].verb, told.deeds[-1].demanded = "tighten", True  # "bring them down until each reads 70 cN·m"
        told.deeds[-1].torques = [word for word in told.deeds[-1].torques if not word.text.endswith("at a time")]
    if clause.torques and told.deeds:
        told.deeds[-1].torques.extend(clause.torques)
        told.deeds[-1].said = [*told.deeds[-1].said, "until"]
    elif len(clause.torques) == 1 and clause.torques[0].found is not None and not told.deeds:
        if clause.torques[0].found.tightening.kind == "maximum":
            limit = Deed("limit", "do", None, clause)  # "go on until it points down, 16 N·m at most"
            limit.torques, limit.demanded = list(clause.torques), False
            told.deeds.append(limit)
    elif (
        told.deeds
        and told.deeds[-1].verb == "tighten"
        and not told.deeds[-1].torques
        and clause.lemma in _REACHED
        and not clause.complement
    ):
        told.deeds[-1].verb = "seat"
        told.deeds[-1].said = [*told.deeds[-1].said, "until it " + clause.lemma]
    bubbles = clause.subject is not None and clause.subject.kind == "leakage" and bool(told.remarks)
    if bubbles and told.remarks[-1].lemma in ("pump", "run", "crank", "squeeze", "stroke"):
        told.deeds.append(Deed("bleed", "do", None, told.remarks.pop()))  # "pump until no more bubbles come"
    if told.deeds and told.deeds[-1].verb == "seat" and told.deeds[-1].lemma == "leave" and told.deeds[-1].mode == "do":
        held = told.deeds[-1]
        later = Deed("tighten", "do_not", held.thing, held.clause)
        told.deeds.append(later)
    if clause.role == "statement" and "passive" in clause.tense and told.deeds and told.deeds[-1].mode == "do_not":
        facts = facts_of(clause, None, [clause.subject] if clause.subject is not None else [])
        if sense_of(clause, facts) == "hand_start":
            for deed in passive(told, clause, "stated_passively"):
                deed.order = -2.0  # "nothing may be tightened until every screw has been entered by hand"


def before(told: Telling, clause: Clause) -> None:
    """ "Before tightening the gland to 12 N·m, start …": later in time than what it is said with."""
    if clause.role == "gerund":
        vague = bool(FIRMLY & set(clause.said))  # "… before being tightened securely"
        if not clause.pieces and not clause.preps and not vague:
            return  # "before mounting": a time, no more
        saved, told.condition = told.condition, None
        made = command(told, clause, base="do")
        told.condition = saved
        for deed in made:
            deed.order = 2.0
            deed.fronted = True
            if not clause.torques and not vague:
                deed.mode = "mentioned_only"
        return
    if clause.role == "fragment" and clause.torques and told.deeds and told.deeds[-1].verb == "tighten":
        # "tighten the M8 nuts (22 N·m) before the M6 nuts (9 N·m)"
        thing = next((held for held in clause.objects if held.kind in ("fastener", "threaded")), None)
        if thing is not None:
            deed = Deed("tighten", told.deeds[-1].mode, thing, clause)
            deed.torques, deed.order = list(clause.torques), 2.0
            told.deeds.append(deed)
            return
    if clause.role == "statement" and clause.subject is not None and clause.lemma == "go" and told.deeds:
        # "before it goes in"
        thing = clause.subject
        known = told.antecedent(thing, clause)
        if (
            known is not None
            and known.kind in ("seal", "washer", "fastener", "lock", "consumable", "")
            and {"in", "on", "back"} & set(clause.particles)
        ):
            deed = Deed("install", "do", thing, clause)
            deed.order = 2.0
            told.deeds.append(deed)
        return
    if (
        clause.role == "statement"
        and clause.verb is not None
        and clause.subject is not None
        and clause.subject.head in ("you", "we")
    ):
        if any(thing.head == "hand" for thing in clause.objects):
            return  # "before you lay a hand on its nuts"
        for deed in command(told, clause, base="mentioned_only"):
            deed.order = 2.0
            meant = deed.verb in ("install", "hand_start", "seat") or bool(deed.torques)
            some = deed.thing is not None and deed.thing.quantifier == "any"
            if meant and not some and not told.signal:
                deed.mode, deed.demanded = "do", True  # "before you put the bolts in, clean their holes"
        return
    if clause.role == "statement" and clause.verb is not None:
        made = passive(told, clause, "mentioned_only")
        # "before the cover comes off", "before the hose comes off"
        parts = clause.subject is not None and clause.subject.kind != "person" and not clause.subject.pronoun
        if not made and parts and clause.lemma in ("come", "go") and {"off", "out", "away"} & set(clause.particles):
            joined = clause.subject is not None and clause.subject.kind in ("hose", "cable")
            made = [Deed("disconnect" if joined else "remove", "mentioned_only", clause.subject, clause)]
            told.deeds.extend(made)
        for deed in made:
            deed.order = 2.0
        return
    told.note(clause)


def after(told: Telling, clause: Clause) -> None:
    if clause.role == "gerund" and not clause.pieces and not clause.preps:
        return  # "after tightening": a time, no more
    if clause.role == "gerund":
        by_hand = bool({"hand", "fingers"} & facts_of(clause, None, clause.objects))  # nobody else tells of it
        made = command(told, clause, base="stated_passively" if clause.torques or by_hand else "mentioned_only")
        for deed in made:
            deed.order = -2.0
        return
    only = clause.link.startswith("only") or (bool(told.deeds) and "only" in told.deeds[-1].said)
    if (
        clause.role == "statement"
        and clause.verb is not None
        and (clause.subject is not None or clause.tense == "participle")
    ):
        if clause.lemma in ("go", "set", "cure", "cool", "dry", "harden", "settle") and (
            "off" in clause.particles or clause.lemma in ("cure", "cool", "dry", "harden", "settle", "set")
        ):
            deed = Deed("wait", "do", clause.subject, clause)
            deed.order = -2.0
            told.deeds.append(deed)
            told.note(clause)
            return
        if clause.subject is None:
            told.note(clause)
            return
        made = passive(told, clause, "stated_passively" if only else "mentioned_only")
        for deed in made:
            deed.order = -2.0
            if deed.verb == "position" and not only:
                told.deeds.remove(deed)  # "now that the belt is tensioned": how things stand
        return
    commanded = any(held.role == "command" for held in told.clauses)
    states = {"cold", "cool", "dry", "hard"} & set(clause.said)
    if clause.role == "statement" and clause.lemma == "be" and states and commanded:
        deed = Deed("wait", "do", clause.subject, clause)
        deed.order = -2.0
        told.deeds.append(deed)
    if (
        clause.role == "fragment"
        and told.deeds
        and told.deeds[-1].verb == "tighten"
        and _settled(clause)
        and clause.link == "after"
    ):
        told.deeds[-1].verb = "retighten"
    told.note(clause)


_PIECES = frozenset("fastener washer seal lock".split())
_MANNERS = frozenset(
    "work start go take hold turn keep make leave move let allow alternate begin follow set watch observe stop "
    "proceed change "
    "swap skip counter-hold counterhold ease".split()
)
_ENTERING = frozenset("start enter engage thread run screw spin".split())
_VARIANTS = frozenset("version variant model type design execution edition machine unit pump engine".split())


def gerund(told: Telling, clause: Clause) -> None:
    if clause.tense == "to":
        told.note(clause)
        return
    if clause.tense == "having":
        for deed in command(told, clause, base="stated_passively"):
            deed.order = -2.0
        return
    if clause.link == "without" or (clause.negated and clause.tense == "ing"):
        left_off = clause.link == "without" and told.deeds and any(thing.kind in _PIECES for thing in clause.objects)
        if left_off and clause.lemma in ("fit", "refit", "install", "remove", "put", "insert"):
            clause.negated = True
            command(told, clause)  # "hang the door without fitting the top screw yet"
            return
        told.note(clause)
        return
    joint = any(thing.kind in ("fastener", "washer", "seal", "lock") or thing.pronoun for thing in clause.objects)
    entering = clause.lemma in _ENTERING and bool(clause.objects) and clause.objects[0].kind != "machine"
    if entering and {"hand", "fingers"} & facts_of(clause, None, clause.objects):
        command(told, clause)  # "fit the screws, starting each with the fingers"
        return
    trailing = bool(told.deeds) and not clause.front and clause.lemma != "use" and not _does(clause)
    words = [word.text for word in told.words[max(0, clause.first - 2) : clause.first]]
    if clause.lemma in _MANNERS and words == ["and", ","]:
        told.fronted.append(clause)  # "start them and, working crosswise, tighten them"
        return
    if clause.lemma in _MANNERS or (trailing and not joint and not clause.torques):
        if told.deeds and clause.torques and not told.deeds[-1].torques:
            told.deeds[-1].torques.extend(clause.torques)
        elif clause.torques:
            told.waiting.extend(clause.torques)
        if told.deeds:
            told.deeds[-1].said = [
                *told.deeds[-1].said,
                *clause.said,
                *(held.text for _, held in clause.preps if isinstance(held, Thing)),
            ]
        else:
            told.fronted.append(clause)
        return
    if clause.lemma == "use" and clause.objects and clause.objects[0].kind == "tool":
        if told.deeds and not clause.front:
            told.deeds[-1].tool = told.deeds[-1].tool or clause.objects[0]
        else:
            told.set_tool = clause.objects[0]
            told.waiting.extend(clause.torques)
        return
    command(told, clause)


_DONE_BESIDE = frozenset("disconnect connect remove discard drain mark".split())


def _does(clause: Clause) -> bool:
    """Whether a trailing -ing clause is a deed of its own: "…, unplugging its cable as it comes"."""
    return bool(clause.objects) and sense_of(clause, facts_of(clause, None, clause.objects)) in _DONE_BESIDE


def phrase(told: Telling, clause: Clause) -> None:
    if any(text in ("in case of", "in the event of", "except for", "apart from") for text, _ in clause.preps):
        if clause.preps[0][0].startswith("in "):
            told.condition = clause
        elif clause.front:
            told.excepted = clause  # "apart from the top screw, which stays in, take out all …"
        told.note(clause)
        return
    held = next((thing for text, thing in clause.preps if isinstance(thing, Thing)), None)
    told_apart = held is not None and held.plural and not held.definite and held.kind in ("", "machine")
    if (
        told_apart
        and held is not None
        and not (clause.torques or held.pronoun)
        and clause.front
        and clause.preps[0][0] in ("on", "for")
        and len(clause.preps) > 1
        and clause.preps[1][0] in ("with", "without", "of", "from")
    ):
        told.condition = clause  # "on boats with the long shaft, …"
        told.note(clause)
        return
    if (
        held is not None
        and clause.preps[0][0] in ("on", "for", "in")
        and held.head in _VARIANTS
        and (held.mods or held.plural)
    ):
        told.condition = clause  # "on the moulded version, …"
        told.note(clause)
        return
    for said in clause.said:
        if said in ("supported", "hoisted", "propped", "slung", "held") and held is not None:
            deed = Deed("support", "do", held, clause)
            deed.order = -2.0
            told.deeds.append(deed)
    already = "already" in clause.said and held is not None and held.kind in ("fastener", "threaded")
    if already and clause.torques:
        deed = Deed("tighten", "mentioned_only", held, clause)  # "with the rudder bolts already at 90 N·m"
        deed.torques, deed.demanded, deed.order = list(clause.torques), False, -2.0
        told.deeds.append(deed)
        told.note(clause)
        return
    last = told.deeds[-1] if told.deeds else None
    told_so = last is not None and last.verb == "tighten" and bool(last.torques) and bool(clause.torques)
    ends = clause is told.clauses[-1]
    if told_so and ends and last is not None and clause.preps[0][0] in ("on", "for") and held is not None:
        # "tighten to 4 N·m; on those with a cast volute, to 9 N·m"
        joint = held if held.kind in ("fastener", "threaded") else last.thing
        deed = Deed("tighten", last.mode, joint, clause)
        deed.torques = list(clause.torques)
        told.deeds.append(deed)
        return
    if told.condition is not None and ends and last is not None and held is None and last.torques:
        in_the_unit_of(last.torques[-1], clause)
        if clause.torques:
            deed = Deed("tighten", "if", last.thing, clause)  # "to 80 N·m and, if they are plated, to 72"
            deed.torques = list(clause.torques)
            told.deeds.append(deed)
            return
    measure = next((thing for _, thing in clause.preps if isinstance(thing, Word) and thing.kind == "measure"), None)
    if measure is not None and held is None and told.deeds and told.deeds[-1].verb in ("fill", "drain", "run", "wait"):
        told.deeds[-1].amount = told.deeds[-1].amount or measure  # "… until it runs over: about 2.6 L"
        return
    if clause.torques and clause is told.clauses[-1] and not clause.objects and told.deeds:
        loose_torques(told, clause)  # "…; then to 10 N·m"
        return
    told.fronted.append(clause)
    for _, thing in clause.preps:
        if isinstance(thing, Thing) and thing.kind != "tool":
            told.remember(thing)


def _settled(clause: Clause) -> bool:
    """Whether a time is that of a check after running: hours, days or distances, not minutes."""
    words = " ".join(
        [word.text for word in clause.measures]
        + [thing.text for thing in clause.objects]
        + [held.text for _, held in clause.preps if held is not None]
    )
    return any(
        unit in words.split() or words.endswith(unit)
        for unit in (
            "hours",
            "hour",
            "h",
            "km",
            "days",
            "day",
            "weeks",
            "week",
            "miles",
            "months",
            "run",
            "cycle",
            "cycles",
        )
    )
