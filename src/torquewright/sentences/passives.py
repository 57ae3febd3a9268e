"""Passive verbs become deeds: "the screws are to be started by hand", "the clamp is held by two screws"."""

from __future__ import annotations

from torquewright.sentences.clause import Clause
from torquewright.sentences.deeds import LEAVING, Deed
from torquewright.sentences.facts import PERMITS, facts_of, is_torque, sense_of
from torquewright.sentences.figures import excepted
from torquewright.sentences.targets import along, dress
from torquewright.sentences.telling import Telling
from torquewright.sentences.things import Thing

_ENTERED = frozenset("start engage enter thread hand-start finger-start tighten torque screw".split())


def _what_holds(told: Telling, clause: Clause) -> Thing | None:
    """What a passive is about; of a cover "refitted with nine screws, engaged by hand and tightened" the screws are."""
    subject = clause.subject
    if subject is None or clause.lemma not in _ENTERED or subject.kind in ("fastener", "threaded") or subject.pronoun:
        return subject
    for deed in reversed(told.deeds):
        if deed.clause.subject is subject and deed.verb == "install" and deed.thing is not None:
            return deed.thing if deed.thing.kind == "fastener" else subject
    return subject


def passive(told: Telling, clause: Clause, mode: str) -> list[Deed]:
    """A passive verb done to its subject."""
    subject = _what_holds(told, clause)
    if subject is None or ("passive" not in clause.tense and clause.tense not in ("participle", "past", "perfect")):
        told.note(clause)
        return []
    known = told.antecedent(subject, clause) if subject.pronoun else None
    facts = facts_of(clause, known, [subject])
    if clause.lemma == "use" and subject.kind in ("lubricant", "compound", "fluid"):
        facts.add("lubricant" if subject.kind != "compound" else "compound")
    sense = sense_of(clause, facts)
    if clause.lemma in ("allow", "permit", "tolerate", "need", "require") and subject.kind in (
        "lubricant",
        "compound",
        "fluid",
    ):
        sense = ("seal" if subject.kind == "compound" else "lubricate") if mode == "do_not" else "-"
    if clause.lemma in ("stick", "seize", "jam"):
        told.note(clause)
        return []  # "they are stuck with thread-locker": how they are found
    if clause.lemma == "use" and "once" in (word.text for word in told.words[clause.first : clause.stop + 1]):
        told.note(clause)
        return []  # "they are used once only": what they are, not what is done
    if sense in ("", "-", "use-tool"):
        told.note(clause)
        return _held_by(told, clause, mode)
    if sense in LEAVING:
        verb, _ = LEAVING[sense]
        whole_mode = "stated_passively" if mode == "do_not" else mode if mode == "mentioned_only" else "do_not"
        made = [Deed(verb, whole_mode, subject, clause)]  # "the old ring is not to be left in" demands it taken out
    else:
        whole = clause.objects
        thing = subject
        if sense in ("lubricate", "seal") and subject.kind in ("lubricant", "compound", "fluid"):
            place = [
                held
                for text, held in clause.preps
                if isinstance(held, Thing) and text in ("to", "on", "onto", "in", "over")
            ]
            thing = place[0] if place else (whole[0] if whole else subject)
        sense = sense.rstrip("?")
        if sense == "reuse" and mode == "mentioned_only" and clause.modal in PERMITS:
            mode = "if"  # "may be used once more": left to choice
        if sense == "install" and mode == "do_not" and subject.state == "old":
            sense = "reuse"
        if sense == "tighten" and not clause.torques and {"hand", "finger-tight"} & facts:
            sense = "seat"
        if sense == "start-it":
            sense = "hand_start"
        others = excepted(told, clause, mode) if sense == "tighten" else []
        deed = Deed(sense, mode, thing, clause)
        deed.torques = list(clause.torques)
        held = clause.torques[0].found if clause.torques else None
        if mode == "do_not" and sense == "tighten" and held is not None and held.tightening.kind == "maximum":
            deed.mode, deed.said = "stated_passively", [*deed.said, "at least"]  # "no bolt to less than 67 N·m"
        dress(told, deed, clause, facts)
        if thing is not subject:
            deed.substance = subject
        made = [deed, *along(told, clause, sense, mode, [deed]), *others]
        for other in clause.brackets:
            if (
                other.kind in ("compound", "lubricant", "fluid")
                and (other.kind == "compound") != (subject.kind == "compound")
                and sense in ("lubricate", "seal")
            ):
                made.append(Deed("seal" if other.kind == "compound" else "lubricate", mode, thing, clause))
    told.note(clause)
    told.deeds.extend(made)
    return made


def _held_by(told: Telling, clause: Clause, mode: str) -> list[Deed]:
    """ "The clamp is held by two screws tightened to 5 N·m": the figure of what holds it."""
    screws = [
        held
        for text, held in clause.preps
        if isinstance(held, Thing) and text in ("by", "with") and held.kind == "fastener"
    ]
    if not screws or not any(is_torque(word) for word in clause.torques) or mode not in ("stated_passively", "if"):
        return []
    deed = Deed("tighten", mode, screws[-1], clause)
    deed.torques = list(clause.torques)
    told.deeds.append(deed)
    return [deed]
