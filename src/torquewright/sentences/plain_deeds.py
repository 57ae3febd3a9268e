"""One deed for each thing a verb is done to, and the deeds that follow from it: screws fitted first, a nut locked."""

from __future__ import annotations

from torquewright.sentences.clause import Clause
from torquewright.sentences.deeds import TIGHTENING, Deed
from torquewright.sentences.facts import FITTED, is_angle, is_torque
from torquewright.sentences.figures import alternatives, each_its_own
from torquewright.sentences.targets import along, dress, paired, renewed, targets_of
from torquewright.sentences.telling import Telling
from torquewright.sentences.things import Thing

_PUT_ON = frozenset("install lubricate seal fill connect position lock replace reuse tighten remove".split())
_ONE_DEED = frozenset("clean lubricate inspect check mark seal position".split())


def _goes_on_each(clause: Clause, thing: Thing) -> bool:
    """Whether a washer is put on here, whatever is smeared: "grease the bolts, one washer under each head"."""
    return thing.kind == "washer" and any(
        text in ("on", "under", "onto") and isinstance(held, Thing) and "each" in (held.head, held.quantifier)
        for text, held in clause.preps
    )


def plainly(
    told: Telling, clause: Clause, sense: str, mode: str, facts: set[str], things: list[Thing], known: Thing | None
) -> list[Deed]:
    ambiguous = sense.endswith("?")
    if ambiguous:
        sense = "replace"
    if clause.lemma == "exceed":
        mode = "do" if clause.negated else mode
    if sense in TIGHTENING and any(is_torque(word) for word in clause.torques):
        # "half a turn at a time, to 22 N·m": in how small bites, and no stage of its own
        bites = [word for word in clause.torques if is_angle(word) and word.text.endswith("at a time")]
        clause.pieces = [piece for piece in clause.pieces if piece not in bites]
    if sense == "seat" and any(is_torque(word) for word in clause.torques):
        sense = "tighten"
    if sense == "tighten" and ("finger-tight" in facts or ("hand" in facts and not clause.torques)):
        sense = "seat"
    if sense == "hand_start" and mode == "do" and "finger-tight" in facts and "hand" not in facts:
        sense = "seat"
    if sense == "lock" and any(is_torque(word) for word in clause.torques):
        # "lock it with its nut, 8 N·m": the nut is tightened
        other = next((held for text, held in clause.preps if isinstance(held, Thing) and held.kind == "fastener"), None)
        if "against" in clause.particles and things and text_of(clause, other or things[0]) != "with":
            tight = Deed("tighten", mode, things[0], clause)  # "lock the outer nut against the inner with 15 N·m"
            tight.torques = [word for word in clause.torques if is_torque(word)]
            clause.pieces = [piece for piece in clause.pieces if piece not in tight.torques]
            return [tight, *plainly(told, clause, sense, mode, facts, things, known)]
        if other is not None and text_of(clause, other) == "with":
            tight = Deed("tighten", mode, other, clause)
            tight.torques = [word for word in clause.torques if is_torque(word)]
            clause.pieces = [piece for piece in clause.pieces if piece not in tight.torques]
            return [tight, *plainly(told, clause, sense, mode, facts, things, known)]
    if sense == "tighten" and not clause.torques and {"no further", "no more"} & set(clause.said):
        mode = "do_not" if mode == "do" else mode  # "tighten it no further"
    if "in all" in clause.said and len(things) > 1 and things[-1].pronoun and things[-1].count:
        things = things[:-1]  # "spin off its nut, ten in all": how many there are
    beside = [thing for thing in things if sense in ("lubricate", "seal") and _goes_on_each(clause, thing)]
    rounds = clause.lemma == "go" and sense == "retighten" and len([w for w in clause.torques if is_torque(w)]) > 1
    sense = "tighten" if rounds else sense  # "go round at 20 lbf·ft, then round again at 45 lbf·ft"
    targets = targets_of(told, clause, sense, [thing for thing in things if thing not in beside])
    made: list[Deed] = []
    pairs = (
        each_its_own(told, clause, targets) or paired(clause, targets)
        if sense in TIGHTENING or clause.torques
        else [(thing, []) for thing in targets]
    )
    if len(pairs) == 1 and sense == "tighten" and alternatives(told, clause, pairs[0][1]):
        # "to 40 N·m dry or 32 N·m oiled": one of them, never one after the other
        pairs = [(pairs[0][0], [word]) for word in pairs[0][1]]
        mode = "if" if mode == "do" else mode
    base = mode
    for thing, torques in pairs:
        verb = sense
        absent = base == "do" and sense in _PUT_ON and thing is not None and thing.quantifier == "no"
        mode = "do_not" if absent else base  # "fit no gasket"
        piece = known if thing is not None and thing.pronoun and known is not None else thing
        back = "back" in clause.particles and piece is not None and piece.kind in FITTED
        if sense == "install" and thing is not None and mode == "do_not" and (thing.state == "old" or back):
            verb = "reuse"
        elif (
            sense == "install"
            and thing is not None
            and mode == "if"
            and thing.pronoun
            and thing.head == "one"
            and thing.state == "new"
        ):
            verb = "replace"
        if ambiguous:
            verb = "replace" if renewed(told, thing, known, mode) else "install"
        deed = Deed(verb, mode, thing, clause)
        deed.torques = torques
        if ambiguous and verb == "install":
            deed.doubt = "replace"
        dress(told, deed, clause, facts)
        made.append(deed)
    if (
        sense == "clean"
        and made
        and told.deeds
        and told.deeds[-1].verb == "clean"
        and things
        and things[0].kind == "dirt"
        and not clause.preps
    ):
        told.remarks.append(clause)
        return []  # "chase the threads and clean out the chips" is one cleaning
    if sense in _ONE_DEED:
        for deed in made[1:]:
            deed.counted = False
        if sense == "clean" and made and told.deeds and told.deeds[-1].verb == "clean" and things and things[0].pronoun:
            made[0].counted = False  # "clean them and blow them dry" is one cleaning
    if sense == "drain":
        # "let the oil out through the drain screw": the screw comes out for it
        for text, held in clause.preps:
            if text in ("through", "at", "by", "from") and isinstance(held, Thing) and held.kind == "fastener":
                opened = Deed("remove", mode, held, clause)
                opened.order, opened.counted = -0.2, False
                made.append(opened)
    made.extend(Deed("install", mode, thing, clause) for thing in beside)
    extra = along(told, clause, sense, mode, made)
    made.extend(extra)
    if sense == "remove" and "waste" in facts:
        made.extend(Deed("discard", mode, deed.thing, clause) for deed in list(made) if deed.verb == "remove")
    if (
        sense == "tighten"
        and ("hand" in facts or clause.lemma in ("hand-tighten", "finger-tighten"))
        and clause.torques
        and made
        and any(text == "then" for text in (word.text for word in told.words[clause.first : clause.stop]))
    ):
        # "tighten by hand, then to 10 N·m"
        first = Deed("seat", mode, made[0].thing, clause)
        first.by_hand = True
        for deed in made:
            deed.by_hand = False
        made.insert(0, first)
    if sense in ("loosen", "back_off") and any(is_torque(word) for word in clause.torques) and mode != "do_not":
        # "slacken them fully, then 20 N·m plus 90°": a further pull behind "then"
        for deed in list(made):
            pulls = [word for word in deed.torques if is_torque(word)]
            if pulls and any(word.text == "then" and word.start < pulls[0].start for word in told.words):
                deed.torques = [word for word in deed.torques if word not in pulls]
                tight = Deed("tighten", mode, deed.thing, clause)
                tight.torques, tight.order = pulls, 0.2
                made.append(tight)
    if sense == "install" and clause.torques and mode != "do_not":
        # "Fit 4 screws, 22 N·m": fitted, then tightened
        for deed in list(made):
            if deed.torques and deed.verb == "install":
                tight = Deed("tighten", mode, deed.thing, clause)
                tight.torques, deed.torques = deed.torques, []
                holder = next(
                    (held for held in reversed(made) if held.thing is not None and held.thing.kind == "fastener"), None
                )
                if tight.thing is None or tight.thing.kind != "fastener":
                    tight.thing = holder.thing if holder else tight.thing
                tight.order = 0.2
                if not any(held.verb == "tighten" and held.thing is tight.thing for held in made):
                    made.append(tight)
    by_screws = sense == "tighten" and clause.lemma in ("fasten", "secure", "fix", "attach")
    if not by_screws and sense in ("hand_start", "seat", "tighten") and clause.lemma in ("screw", "bolt"):
        by_screws = bool(made) and made[0].thing is not None and made[0].thing.kind not in ("fastener", "threaded")
        by_screws = by_screws and made[0].thing is not None and not made[0].thing.pronoun
    if by_screws and mode != "do_not":
        # "fasten the cable with two M4 screws (1.5 N·m)": they are fitted first
        screws = [
            held
            for text, held in clause.preps
            if isinstance(held, Thing) and text == "with" and held.kind == "fastener"
        ]
        if screws:
            for deed in made:
                deed.thing, deed.order = screws[-1], 0.2
            made = [*(Deed("install", mode, held, clause) for held in screws), *made]
    if (
        sense == "tighten"
        and made
        and made[0].thing is not None
        and _is_jam(made[0].thing)
        and "against" in clause.particles
    ):
        made.append(Deed("lock", mode, made[0].thing, clause))
    if (
        sense == "install"
        and clause.lemma in ("fit", "insert", "install")
        and any(deed.thing is not None and deed.thing.kind == "lock" for deed in made)
    ):
        nut = next((deed for deed in reversed(told.deeds) if deed.verb == "tighten"), None)
        if nut is not None:
            made.append(Deed("lock", mode, nut.thing, clause))
    return made


def text_of(clause: Clause, thing: Thing) -> str:
    """The small word a thing stands behind."""
    return next((text for text, held in clause.preps if held is thing), "")


def _is_jam(thing: Thing) -> bool:
    return (
        "jam" in thing.text
        or "lock nut" in thing.text
        or "locknut" in thing.text
        or "counter nut" in thing.text
        or "check nut" in thing.text
    )
