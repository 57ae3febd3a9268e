"""Figures in statements: "the plug takes 25 N·m", "the torque is 9 N·m for the M6 ones", "120 N·m is the limit"."""

from __future__ import annotations

from torquewright.sentences.clause import Clause
from torquewright.sentences.deeds import TIGHTENING, Deed
from torquewright.sentences.facts import PORTIONS, is_torque
from torquewright.sentences.targets import paired
from torquewright.sentences.telling import Telling
from torquewright.sentences.things import Thing

_TORQUE_VERBS = frozenset("take need want require get receive have be call go".split())
_TURNED = frozenset("turn twist rotate move spin start run break".split())


def one_each(told: Telling, clause: Clause, mode: str) -> bool:
    """ "The torque is 45 N·m for the M10 bolts and 22 N·m for the M8 ones": as many figures as things."""
    things = [
        held
        for text, held in clause.preps
        if isinstance(held, Thing) and text in ("for", "on", "at") and held.kind not in ("tool", "measure", "document")
    ]
    torques = [word for word in clause.torques if is_torque(word)]
    if not things or len(things) != len(torques):
        return False
    for thing, word in zip(things, torques, strict=True):
        deed = Deed("tighten", mode, thing, clause)
        deed.torques = [word]
        told.deeds.append(deed)
    told.note(clause)
    return True


def stated_torque(told: Telling, clause: Clause, mode: str) -> None:
    """A statement with a torque in it: a demand, a limit, a measurement, or only told of."""
    subject = clause.subject
    assert subject is not None
    told.note(clause)
    measured = told.deeds[-1] if told.deeds and told.deeds[-1].verb == "measure" else None
    if measured is not None and not measured.torques and subject.head == "there" and clause.lemma == "be":
        measured.torques, measured.demanded = list(clause.torques), False  # "measure the drag; 0.4 N·m is right"
        return
    last = next((deed for deed in reversed(told.deeds) if deed.verb in TIGHTENING), None)
    if (
        last is not None
        and subject.head == "there"
        and any(thing.head in ("limit", "maximum", "most", "top", "ceiling") for thing in clause.objects)
    ):
        # "…; 120 N·m is the limit": the upper end of what was just demanded
        deed = Deed("limit", "do", last.thing, clause)
        deed.torques, deed.demanded = list(clause.torques), False
        told.deeds.append(deed)
        return
    if told.condition is not None and mode == "stated_passively":
        mode = "if"
    joints = [thing for thing in clause.objects if thing.kind in ("fastener", "threaded") or thing.pronoun]
    if joints and clause.lemma in _TORQUE_VERBS and subject.kind in ("fastener", "threaded", ""):
        # "the plug takes 25 N·m and the two screws 6 N·m"
        clause.pieces = [subject, *clause.pieces]
        for thing, torques in paired(clause, [subject, *joints]):
            deed = Deed("tighten", mode if mode in ("if", "stated_passively") else "stated_passively", thing, clause)
            deed.torques = torques
            told.deeds.append(deed)
        return
    if (
        clause.purpose in _TURNED
        or (clause.lemma in ("turn", "rotate", "twist", "move") and subject.kind in ("fastener", "threaded"))
        or subject.kind == "running"
        or (subject.head in ("drag", "torque") and "running" in subject.mods)
        or clause.lemma in ("drag", "resist")
        or subject.head in ("drag", "preload", "breakaway", "friction", "resistance")
    ):
        deed = Deed(
            "measure", "do", subject if subject.kind != "running" or subject.owner is None else subject.owner, clause
        )
        deed.torques = list(clause.torques)
        deed.demanded = False
        told.deeds.append(deed)
        return
    person = subject.kind == "person" or subject.head in ("you", "we")
    if person and any(thing.kind == "tool" for thing in clause.objects):
        clause.remark = "mention"  # "you will need a wrench, 20 to 120 N·m"
        told.remarks.append(clause)
        return
    elsewhere = any(isinstance(held, Thing) and held.head == "step" and text == "in" for text, held in clause.preps)
    later = clause.modal == "will" and (elsewhere or {"later", "afterwards", "then"} & set(clause.said))
    past = later or clause.tense == "past" or clause.modal in ("would", "could", "might")
    if past or (
        subject.kind in ("tool", "measure", "machine", "load")
        and subject.kind != "torque-label"
        and clause.lemma not in ("be",)
    ):
        clause.remark = "mention"
        if later and subject.kind in ("fastener", "threaded"):
            deed = Deed("tighten", "mentioned_only", subject, clause)  # "will get their 44 N·m later"
            deed.torques, deed.demanded = list(clause.torques), False
            told.deeds.append(deed)
            return
        told.remarks.append(clause)
        return
    if subject.kind in ("torque-label", "measure") and subject.owner is None and one_each(told, clause, mode):
        return
    meant: Thing | None = subject
    if subject.kind in ("torque-label", "measure"):
        if subject.head in ("limit", "torque", "value", "figure", "setting", "maximum", "specification", "spec", "max"):
            meant = subject.owner or next(
                (held for text, held in clause.preps if isinstance(held, Thing) and text in ("for", "of", "on")),
                next((held for held in clause.brackets if held.kind in ("fastener", "threaded")), None),
            )
        else:
            told.remarks.append(clause)
            return
    if meant is not None and meant.kind in ("tool",):
        told.remarks.append(clause)
        return
    suffices = subject.head == "there" and clause.lemma in ("do", "suffice")
    if clause.negated and meant is not None and meant.kind in ("fastener", "threaded") and _no_more(clause):
        deed = Deed("tighten", "if" if mode == "if" else "stated_passively", meant, clause)
        deed.torques, deed.said = list(clause.torques), ["at most"]  # "must not see more than 0.8 N·m"
        told.deeds.append(deed)
        return
    if subject.kind == "torque-label" or clause.lemma in _TORQUE_VERBS or meant is not subject or suffices:
        deed = Deed(
            "tighten",
            "do_not" if mode == "do_not" and not clause.torques else ("if" if mode == "if" else "stated_passively"),
            meant,
            clause,
        )
        deed.torques = list(clause.torques)
        told.deeds.append(deed)
        for thing in clause.objects if not clause.negated else ():
            dressing = thing.owner if thing.head in PORTIONS and thing.owner is not None else thing
            if dressing.kind in ("compound", "lubricant"):
                # "these screws get 1.8 N·m and a drop of thread-locker"
                verb = "seal" if dressing.kind == "compound" else "lubricate"
                told.deeds.append(Deed(verb, deed.mode, meant, clause))
                told.deeds[-1].substance, told.deeds[-1].order = dressing, -0.5
        return
    told.remarks.append(clause)


def _no_more(clause: Clause) -> bool:
    """Whether what is denied is to go past the figure ("not … more than 0.8 N·m", "not … over 8 N·m")."""
    held = clause.torques[0].found
    past = any(text in ("over", "above", "beyond", "past") for text, _ in clause.preps) or clause.lemma == "exceed"
    return past or (held is not None and held.tightening.kind == "minimum")
