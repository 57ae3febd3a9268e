"""What is asked about a deed once its things are known: its figure, whether it renews, what it leaves out."""

from __future__ import annotations

import re

from torquewright.reading.kept import ReadAction
from torquewright.reading.meaning import frames
from torquewright.sentences.deeds import Deed
from torquewright.sentences.facts import CONTAINERS, RESTING
from torquewright.sentences.sentence import Sentence
from torquewright.sentences.things import Thing


def apart(made: list[ReadAction]) -> list[ReadAction]:
    """Without what a clause says of all and then otherwise of one: "all cover screws 9 N·m, the two long ones 12"."""
    last = {(id(held.deed.clause), held.action.verb, held.action.what): held.deed for held in made if held.action.to}
    many = {
        id(held.deed)
        for at, held in enumerate(made)
        if held.action.to and any(other.deed is held.deed for other in made[at + 1 :])
    }
    return [
        held
        for held in made
        if id(held.deed) not in many
        or last.get((id(held.deed.clause), held.action.verb, held.action.what), held.deed) is held.deed
    ]


def without_echo(made: list[ReadAction]) -> list[ReadAction]:
    """Without what is said again of the very pieces just counted: "start the two end bolts, then the eight inner ones,
    and turn each in with the fingers"."""
    kept: list[ReadAction] = []
    for held in made:
        thing = held.deed.thing
        again = thing is not None and thing.pronoun and thing.head in ("each", "them", "all") and not thing.count
        counted = [
            one
            for one in kept
            if one.action.what == held.action.what and one.action.verb == held.action.verb and one.action.count
        ]
        if not (again and held.action.verb == "hand_start" and len(counted) > 1 and held.action.to is None):
            kept.append(held)
    return kept


def scale_of(deed: Deed) -> str:
    """The unit of the scale of the tool a deed is done with."""
    beside = [deed.tool, *(thing for _, thing in deed.clause.preps if isinstance(thing, Thing))]
    held = next((thing.range for thing in beside if thing is not None and thing.range is not None), None)
    torque = held.found.tightening.torque if held is not None and held.found is not None else None
    return torque.unit if torque is not None else ""


def wears(deed: Deed) -> bool:
    """Whether a thing that is replaced can only be renewed: no cover, and nothing that holds one."""
    thing = deed.thing
    held = deed.clause.objects
    return (
        thing is not None and not frames(thing) and not any(other.kind == "fastener" or frames(other) for other in held)
    )


def same(deed: Deed) -> bool:
    """Whether the deed takes the figure of the one before ("as before", "with the same setting")."""
    said = deed.clause.said
    if any(word.startswith(("as before", "in the same", "the same", "again")) for word in said):
        return True
    return any(
        isinstance(held, Thing) and ("same" in held.mods or held.head == "same") for _, held in deed.clause.preps
    )


_ENTERED = frozenset("install hand_start seat tighten reuse position".split())


def kept_dry(deed: Deed) -> bool:
    """Whether the words put the fasteners in, or tighten them, dry."""
    said = deed.clause.said
    alone = all(thing.kind == "fastener" or thing.pronoun for thing in deed.clause.objects)
    return deed.verb in _ENTERED and "dry" in said and "oiled" not in said and bool(deed.clause.objects) and alone


_MOVED = {"lower": "lower", "raise": "raise", "hoist": "raise", "lift": "raise", "jack": "raise"}


def verb_of(deed: Deed) -> str:
    """What is done, in the words of the records."""
    verb, lemma = deed.verb, deed.lemma
    if lemma in _MOVED and (verb in ("position", "support") or lemma == "jack"):
        return _MOVED[lemma]
    if verb == "wait" and (deed.clause.complement == "cool" or lemma == "cool"):
        return "cool_down"
    if verb == "run" and lemma == "warm":
        return "warm_up"
    if verb in ("hand_start", "seat") and deed.thing is not None and deed.thing.kind == "seal":
        return "install"  # "screw the new diaphragm on by hand"
    if verb == "position" and deed.thing is not None and deed.thing.kind == "fastener" and not laid_aside(deed):
        return "install"
    return verb


def state_of(deed: Deed) -> str:
    """ "new", "old" or "": what the words say of the piece put in."""
    state = deed.state
    thing = deed.thing
    if (
        deed.verb in ("install", "reuse", "position")
        and thing is not None
        and thing.pronoun
        and not state
        and ("back" in deed.clause.particles and thing.head in ("it", "them", "they", "these", "those", "all", "both"))
    ):
        state = "old"
    if deed.verb == "lock" and not state:
        # "wire the bolts together with new lockwire"
        state = next(
            (held.state for _, held in deed.clause.preps if isinstance(held, Thing) and held.kind == "lock"), ""
        )
    return state if state in ("new", "old") else ""


def told_new(deed: Deed) -> bool:
    """Whether what a deed is done to is said to be new, itself or as the holder of its threads."""
    owner = deed.thing.owner if deed.thing is not None else None
    return deed.state == "new" or (owner is not None and owner.state == "new")


def laid_aside(deed: Deed) -> bool:
    """Whether a thing is laid in a tray or on a cloth, not put in place."""
    return any(
        isinstance(held, Thing) and held.head in CONTAINERS | RESTING and text != "from"
        for text, held in deed.clause.preps
    )


def is_adapter(thing: Thing) -> bool:
    """Whether a tool sits between the wrench and the fastener and makes the lever longer."""
    return bool(_ADAPTER.search(thing.text)) and "extension" not in thing.text


def mounted_adapter(deed: Deed) -> str | None:
    """The adapter that a deed puts on the wrench ("fix the crowfoot to the big wrench"); None where it puts on none."""
    thing = deed.thing
    if deed.verb not in ("install", "position", "connect") or thing is None or not _ADAPTER.search(thing.text):
        return None
    on = any(
        isinstance(held, Thing) and "wrench" in held.text and text in ("to", "on", "onto", "in", "with", "in line with")
        for text, held in deed.clause.preps
    )
    return thing.text if on else None


def adapter_angle_of(deed: Deed, sentence: Sentence) -> float | None:
    """How an adapter that the clause names stands to the handle, in degrees: 90 for "at a right angle to the wrench",
    0 for "in line with it"; None where nothing is said."""
    clause = deed.clause
    words = sentence.words[clause.first : clause.stop] or sentence.words
    start, end = words[0].start - sentence.start, words[-1].end - sentence.start
    text = sentence.text[start:end].lower() if clause.pieces else ""
    if not _ADAPTER.search(text) or not (_SQUARE.search(text) or _IN_LINE.search(text) or _STANDS.search(text)):
        text = sentence.text.lower()
    if not _ADAPTER.search(text):
        return None
    if _SQUARE.search(text):
        return 90.0
    if _IN_LINE.search(text):
        return 0.0
    stands = _STANDS.search(text)
    return float(stands.group(1)) if stands else None


_ADAPTER = re.compile(r"crow'?s?[- ]?f[oe]+t|adapt[eo]r|extension")
_SQUARE = re.compile(r"\bat (?:a )?right angles?\b|\bat 90 ?(?:°|deg)|\bsquare to the|\bperpendicular to the")
_IN_LINE = re.compile(r"\bin line with|\bstraight (?:out|ahead|on)\b|\bend on\b")
_STANDS = re.compile(r"\bat (\d{1,3}) ?(?:°|deg\w*) to the")
