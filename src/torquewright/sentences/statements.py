"""Statements that bind, forbid or only tell: passives, figures a thing takes, what stays and what comes off."""

from __future__ import annotations

from torquewright.sentences.clause import Clause
from torquewright.sentences.commands import command
from torquewright.sentences.deeds import Deed
from torquewright.sentences.facts import FITTED, NOT_JOINTS, PERMITS, facts_of, for_waste, is_torque, sense_of
from torquewright.sentences.passives import passive
from torquewright.sentences.stated_figures import stated_torque
from torquewright.sentences.targets import RINGS
from torquewright.sentences.telling import Telling
from torquewright.sentences.things import Thing

_PIECES = frozenset("fastener lock seal washer".split())
_BINDING = frozenset("must shall should have to be to need ought has".split()) | {"have to", "be to"}


_LOOKED = frozenset("check see verify confirm test watch find look listen feel".split())


_DEED_NOUNS = {"reuse": "reuse", "re-use": "reuse"}
_SHARES = frozenset("last first smallest largest longest shortest smaller larger other rest remainder".split())
_HARMED = frozenset("bruised scored worn damaged rusty bent stretched cracked torn nicked stripped faulty".split())
_MARKS = frozenset("mark line level glass window middle hole max min maximum minimum dipstick notch".split())
_GOING_IN = frozenset("turn go start run enter screw thread".split())


def statement(told: Telling, clause: Clause) -> None:
    subject = clause.subject
    modal, tense = clause.modal, clause.tense
    a_share = subject is not None and subject.owner is not None and (subject.pronoun or subject.head in _SHARES)
    if subject is not None and subject.owner is not None and a_share and subject.owner.kind in FITTED:
        subject.kind, subject.head, subject.pronoun = subject.owner.kind, subject.owner.head, False
        subject.state, subject.count = subject.owner.state, 1  # "the last of the four new washers goes on the screw"
    if subject is None:
        told.note(clause)
        return
    if clause.lemma == "be":
        for thing in clause.objects:
            if thing.head == "fastener" and thing.sizes and thing.count is None:
                thing.kind = "measure"  # "the screws are M6 × 20": what they are, no others
    outer = told.deeds[-1].clause.lemma if told.deeds else ""
    going_in = clause.link == "that" and outer == "make" and clause.lemma in _GOING_IN and subject.kind == "fastener"
    if going_in and {"hand", "fingers"} & facts_of(clause, None, [subject]):
        # "make certain every bolt turns in by hand": they are started by hand
        told.deeds[-1].verb, told.deeds[-1].thing, told.deeds[-1].by_hand = "hand_start", subject, True
        told.note(clause)
        return
    stands = subject.kind == "fluid" and clause.lemma in ("stand", "reach", "come", "sit", "be")
    marked = any(isinstance(held, Thing) and held.head in _MARKS for _, held in clause.preps)
    marked = marked or any(thing.head in _MARKS for thing in clause.objects)
    looked = clause.link == "that" and outer in _LOOKED and told.deeds[-1].verb in ("inspect", "check")
    if looked and stands and marked:
        told.deeds[-1].verb, told.deeds[-1].thing = "check_level", subject  # "look whether the oil stands at the mark"
    if clause.link == "that" and outer in _LOOKED and not clause.torques:
        told.note(clause)  # "check that no second ring is left in it": looked at, not done
        return
    mode = "stated_passively"
    if subject.head in ("nothing", "none", "nobody", "neither"):
        clause.negated = True
    if clause.negated:
        mode = "do_not"
    elif subject.kind in _PIECES and not subject.definite and _harmed(subject, clause):
        mode = "if"  # "a bruised bolt is renewed"
    elif told.condition is not None or clause.remark == "which" or (subject.quantifier == "any" and clause.brackets):
        mode = "if"  # also "any bolt with a torn thread is exchanged"
    elif modal in PERMITS or modal in ("will", "would"):
        mode = "mentioned_only"
    if (
        "passive" in tense
        and subject.kind in ("measure", "running", "torque-label")
        and not clause.torques
        and clause.lemma
        not in (
            "record",
            "check",
            "recheck",
            "measure",
            "note",
            "enter",
            "write",
            "log",
            "verify",
            "confirm",
            "report",
        )
    ):
        told.remarks.append(clause)
        told.note(clause)
        return
    if clause.lemma in ("forbid", "prohibit", "ban") and subject.head in _DEED_NOUNS and "passive" in tense:
        verb = _DEED_NOUNS[subject.head]
        told.deeds.append(Deed(verb, "do_not", subject.owner or subject, clause))  # "Reuse of the screws is forbidden."
        told.note(clause)
        return
    if (
        "passive" in tense
        and clause.lemma in ("set", "adjust")
        and subject.head in ("scale", "dial", "wrench", "driver")
    ):
        told.remarks.append(clause)  # "the scale is set to 120 N·m"
        told.note(clause)
        return
    alike = any(said.startswith(("in the same", "the same way")) or said == "likewise" for said in clause.said)
    if "passive" in tense and clause.lemma in ("handle", "treat", "do") and alike and subject.kind in _PIECES:
        spelled = any(word.text == ":" for word in told.words[clause.first :])  # "… the same way: one new washer, …"
        told.deeds.append(Deed("install" if spelled else "repeat", mode if spelled else "do", subject, clause))
        told.deeds[-1].lemma = "same"
        told.note(clause)
        return
    needed = "passive" in tense and clause.lemma in ("need", "require") and not clause.negated
    if needed and subject.state == "new" and subject.kind in FITTED:
        binding = "if" if told.condition is not None else "stated_passively"
        told.deeds.append(Deed("install", binding, subject, clause))  # "new O-rings will be needed"
        told.note(clause)
        return
    if "passive" in tense:
        first = clause.front and not clause.link  # "the screws having been started by hand, they shall be …"
        past = tense.startswith(("past", "perfect")) and modal not in _BINDING and not first
        if past:
            mode = "mentioned_only"
        before = len(told.deeds)
        made = passive(told, clause, mode)
        if len(told.deeds) == before and not made:
            told.remarks.append(clause)
        return
    person = subject.kind == "person" or subject.head in ("we", "he", "she")
    if person and clause.verb is not None and tense == "active" and not clause.negated:
        clause.role = "command"
        command(told, clause, base="stated_passively")
        return
    if subject.head in ("you", "one") and modal in PERMITS and clause.verb is not None and not clause.negated:
        clause.role = "command"  # "you may reuse the gasket if it is whole"
        for deed in command(told, clause, base="mentioned_only"):
            deed.mode = "if" if deed.verb == "reuse" else deed.mode
        return
    if tense == "past" and clause.verb is not None and subject.kind not in ("fastener", "threaded", "tool", "measure"):
        joint = next((thing for thing in clause.objects if thing.kind in ("fastener", "threaded")), None)
        sense = sense_of(clause, facts_of(clause, None, clause.objects)) if joint is not None else ""
        if sense in ("tighten", "retighten", "loosen", "lubricate"):
            deed = Deed(sense, "mentioned_only", joint, clause)  # "The factory tightened these screws to 15 N·m."
            deed.torques, deed.demanded = list(clause.torques), False
            told.deeds.append(deed)
            told.note(clause)
            return
    if subject.head == "there" and clause.lemma in ("do", "suffice") and modal == "will" and not clause.negated:
        mode = "stated_passively" if told.condition is None else "if"  # "10 N·m will do"
    if clause.torques and any(is_torque(word) for word in clause.torques):
        stated_torque(told, clause, mode)
        return
    taken = any(deed.verb == "remove" and deed.mode == "do" for deed in told.deeds) or not told.deeds
    along_with = clause.lemma == "come" and any(
        text == "with" and isinstance(held, Thing) and held.pronoun for text, held in clause.preps
    )
    if along_with and taken and subject.kind in ("lock", "washer", "seal") and tense == "active" and not modal:
        # "the tab washer comes with it"
        told.deeds.append(Deed("remove", "do" if mode == "stated_passively" else mode, subject, clause))
        told.note(clause)
        return
    if (
        clause.lemma == "come"
        and subject.kind in ("fastener", "lock", "seal", "washer", "")
        and {"off", "out", "away"} & set(clause.particles)
        and tense == "active"
    ):
        if clause.link != "that":
            told.deeds.append(Deed("remove", "do" if mode == "stated_passively" else mode, subject, clause))
        told.note(clause)
        return
    if (
        clause.lemma in ("stay", "remain")
        and (subject.kind in _PIECES or _kind_of(told, subject, clause) in _PIECES or _stays_put(clause, subject))
        and ({"in", "on"} & set(clause.particles) or "in place" in clause.said or _simply(clause))
    ):
        told.deeds.append(Deed("remove", "do_not", subject, clause))
        told.note(clause)
        return
    if clause.lemma == "go" and any(isinstance(held, Thing) and for_waste(held) for _, held in clause.preps):
        for thing in (subject, *clause.brackets):
            told.deeds.append(Deed("discard", mode, thing, clause))  # "all six go in the bin"
        told.note(clause)
        return
    if (
        clause.lemma == "go"
        and modal == "must"
        and not clause.negated
        and not (clause.particles or clause.preps or clause.said)
        and (subject.kind in _PIECES or (subject.pronoun and _kind_of(told, subject, clause) in _PIECES))
    ):
        # "bolts that have stretched must go"
        told.deeds.append(Deed("discard", mode if subject.definite else "if", subject, clause))
        told.note(clause)
        return
    old_part = subject.owner is not None and subject.owner.state == "old"
    if clause.lemma == "go" and clause.negated and "back" in clause.particles and old_part:
        told.deeds.append(Deed("reuse", "do_not", subject.owner, clause))  # "none of the old linings goes back on"
        told.note(clause)
        return
    if (
        clause.lemma == "go"
        and (subject.kind in _PIECES or (subject.pronoun and _kind_of(told, subject, clause) in _PIECES))
        and {"in", "on", "under", "into", "onto", "over", "between", "back", "behind"} & set(clause.particles)
        and tense == "active"
    ):
        if clause.negated and "dry" in clause.said:
            told.deeds.append(Deed("lubricate", "stated_passively", subject, clause))  # "no bolt goes in dry"
            told.note(clause)
            return
        if subject.pronoun and told.deeds and told.deeds[-1].verb == "reuse":
            return  # "keep them safe, they go back in later"
        back = "back" in clause.particles and (clause.negated or modal in PERMITS)  # "must not go back in"
        again = subject.state == "old" or back
        fingers = bool({"hand", "fingers"} & facts_of(clause, None, [subject])) and subject.kind in ("fastener", "")
        verb = "reuse" if again else "hand_start" if fingers else "install"
        told.deeds.append(Deed(verb, mode, subject, clause))
        told.deeds[-1].by_hand = fingers
        told.note(clause)
        return
    if (
        clause.lemma in ("want", "need", "require", "get", "take", "receive", "have", "carry")
        and (subject.head == "you" or subject.kind in ("fastener", "threaded") or subject.pronoun)
        and any(thing.kind in FITTED or thing.head in RINGS for thing in clause.objects)
    ):
        before = len(told.deeds)
        for thing in clause.objects:
            ring = thing.head in RINGS and thing.state == "new"
            told_of = clause.lemma in ("have", "carry") and not modal and thing.state != "new"  # "it has an O-ring"
            if (ring or thing.kind in FITTED) and not told_of:
                told.deeds.append(
                    Deed("install", mode if modal not in ("will", "would") else "stated_passively", thing, clause)
                )
        if len(told.deeds) == before:
            told.remarks.append(clause)  # "both plugs have a copper ring"
        told.note(clause)
        return
    figure = next((thing for thing in clause.objects if thing.head in ("torque", "figure", "value", "setting")), None)
    if clause.lemma in ("take", "get", "need", "receive") and figure is not None and subject.kind in _PIECES:
        told.deeds.append(Deed("tighten", mode, subject, clause))  # "the rim nuts take the figure in Table 5"
        told.note(clause)
        return
    if subject.kind == "person" and clause.verb is not None and tense == "active":
        clause.role = "command"
        command(told, clause, base="stated_passively")
        return
    if (
        clause.negated
        and subject.kind in ("lubricant", "compound", "fluid")
        and clause.lemma in ("touch", "get", "come", "reach", "be", "go")
    ):
        deed = Deed(
            "lubricate" if subject.kind != "compound" else "seal", "do_not", next(iter(clause.objects), None), clause
        )
        if deed.thing is None:
            deed.thing = next((held for _, held in clause.preps if isinstance(held, Thing)), None)
        told.deeds.append(deed)
        told.note(clause)
        return
    if (clause.lemma == "be" and modal in _BINDING and any(thing.state == "new" for thing in clause.objects)) or (
        clause.lemma == "be" and modal in _BINDING and "new" in clause.said
    ):
        deed = Deed("install", mode, subject, clause)
        deed.state = "new"
        told.deeds.append(deed)
        told.note(clause)
        return
    if subject.head == "same" and clause.lemma in ("go", "apply", "hold", "be"):
        told.deeds.append(Deed("repeat", "do", None, clause))  # "the same goes for the lower clamp"
        told.note(clause)
        return
    if subject.head in ("torque", "value", "setting", "figure") and clause.lemma in ("apply", "hold", "go"):
        held = next((held for text, held in clause.preps if isinstance(held, Thing) and text in ("to", "for")), None)
        if held is not None and held.kind in ("fastener", "threaded"):
            # "the same torque applies to the rear nuts"
            clause.said.append("the same")
            told.deeds.append(Deed("tighten", mode, held, clause))
            told.note(clause)
            return
    if "reverse" in (thing.head for thing in clause.objects) or "reverse" in clause.said:
        told.deeds.append(Deed("repeat", "do", None, clause))
        return
    told.remarks.append(clause)
    told.note(clause)


def _kind_of(told: Telling, subject: Thing, clause: Clause) -> str:
    """The kind of what a pronoun or a bare number stands for ("the other four")."""
    if not subject.pronoun or subject.head in ("there", "you", "we", "it"):
        return ""
    known = told.antecedent(subject, clause)
    return known.kind if known is not None else ""


def _harmed(subject: Thing, clause: Clause) -> bool:
    """Whether one of the pieces is meant that took harm: "a bruised nut", "a nut with a bruised thread"."""
    beside = [thing for thing in clause.brackets if thing.kind in ("feature", "damage")]
    return any(set(thing.mods) & _HARMED for thing in (subject, *beside))


def _stays_put(clause: Clause, subject: Thing) -> bool:
    """Whether a part need not come off: "the belt guard may stay on"."""
    return clause.modal in ("may", "can") and not subject.pronoun and subject.head in NOT_JOINTS


def _simply(clause: Clause) -> bool:
    """Whether nothing more is said than that it stays."""
    return not (clause.objects or clause.preps or clause.particles or clause.said or clause.complement)
