"""Which sense of a verb is meant: the facts of its clause, looked up in the table of senses."""

from __future__ import annotations

import re

from torquewright.notation.vocabulary import vocabulary
from torquewright.sentences.clause import Clause
from torquewright.sentences.lexicon import lexicon
from torquewright.sentences.things import DOCUMENTS, Thing
from torquewright.sentences.words import Word

_TELLING = frozenset("bleed vent drain brake spring air pressure button soapy plug drive".split())
PORTIONS = frozenset(
    "turn wrap winding drop bead film smear dab coat coating little bit layer line spot squirt touch lick".split()
)
CONTAINERS = frozenset("sack tray box bag tin cup can bowl pan container drawer basket jar".split())
WASTE = frozenset("sack waste bin scrap rubbish trash skip scrap-bin dustbin".split())
_SCREWED = frozenset("drain fill filler level oil sump magnetic check inspection vent bleed".split())
_FINGERS = frozenset("finger hand thumb".split())
_AGAIN = frozenset("refit reuse refitting use reinstall assembly reassembly installation fit".split())
_COOLING = frozenset("cool stand settle cure dry set rest soak harden drip sit warm".split())
RESTING = frozenset("bench table stand trestle floor cloth paper cardboard pallet mat sheet rag blocks".split())
_SPANS = frozenset("minute minutes hour hours second seconds day days moment while".split())
_LOOSENING = frozenset("loosen remove undo unscrew slacken release open".split())
_TIGHT = frozenset("tightness torque torques security tight torque-value torquing".split())
_WORKING = frozenset("use run work operate test store start".split())  # what goes on in water
_DAMAGED = frozenset(
    "stretch crack wear damage nick corrosion scratch scoring necking distortion fatigue burr defect pitting condition "
    "warp leak".split()
)
_VOLUME = re.compile(r"\d\s?-?(?:m?l|lit(?:re|er)s?|cm³|cc|(?:us |imp\S* )?(?:gal\w*|qt|quarts?|pints?|pt|fl\S? ?oz))$")
_TIMES = ("min", "h", "s", "sec", "hour", "day", "second", "minute", "week")
NOT_JOINTS = frozenset(
    "cover plate lid bracket housing flange casing body guard hood door panel frame head everything unit assembly "
    "belt brake chain rope cable machine version model type".split()
)


FITTED = frozenset("washer seal lock fastener consumable".split())
"""Kinds of things that go into a joint or wear out in it."""
PERMITS = frozenset("may can might could".split())
FIRMLY = frozenset("securely firmly tightly".split())
"""Words for how tight that give no figure."""
SPOILT = frozenset(
    "nicked cracked torn worn scored damaged bent broken stretched corroded dirty leaking loose distorted pitted "
    "burnt hard brittle swollen flattened missing rusty tight stuck".split()
)
"""What a part may be found to be."""


def for_waste(thing: Thing) -> bool:
    """Whether what goes in there is thrown away: a bin, the scrap box, the oily-waste drum."""
    return thing.head in WASTE or "waste" in thing.text or (thing.head in CONTAINERS and bool(WASTE & set(thing.mods)))


def is_time(word: Word) -> bool:
    """Whether a figure with a unit is a time."""
    unit = word.text.lstrip("0123456789.,/ –-to")
    return word.kind == "measure" and unit.startswith(_TIMES) and not unit.startswith("ml")


def is_angle(word: Word) -> bool:
    """Whether a quantity is an angle, with no torque beside it."""
    return word.found is not None and word.found.tightening.torque is None and bool(word.found.tightening.angles)


def is_torque(word: Word) -> bool:
    """Whether a quantity holds a torque."""
    return word.found is not None and word.found.tightening.torque is not None


def facts_of(clause: Clause, known: Thing | None, things: list[Thing]) -> set[str]:
    """The facts of a clause for the table of senses. ``known`` is what a pronoun in it stands for."""
    facts: set[str] = set()
    add = facts.add
    for thing in things:
        _about(facts, thing, known, clause.lemma)
    poured = any(word.kind == "measure" and _VOLUME.search(word.text) for word in clause.measures)
    if poured:
        add("volume")
    if not things and not poured:
        add("nothing")
        if not (clause.preps or clause.said or clause.particles or clause.torques or clause.link):
            add("alone")
        if known is not None and clause.lemma not in ("go", "start", "run", "stop", "shut", "look"):
            _about(facts, known, None, clause.lemma)
    if "safe" in clause.said or "safely" in clause.said:
        add("again")
    bare = not (clause.particles or clause.said or clause.preps or clause.torques)
    if clause.lemma in ("keep", "save", "retain") and bare:
        add("again")
    if clause.lemma == "do" and any(thing.text in ("this", "that", "so", "these") for thing in things):
        add("same")
    for word in clause.torques:
        if word.text.endswith("loose"):
            add("loose")
        add("angle" if is_angle(word) else "torque")
    for text, held in clause.preps:
        if isinstance(held, Thing):
            _beside(facts, text, held, clause)
        elif isinstance(held, Word) and is_time(held):
            add("wait-time")
    for word in clause.measures:
        if is_time(word):
            add("wait-time")
    for said in clause.said:
        if said in ("by hand", "per hand", "manually", "bare-handed", "barehanded"):
            add("hand")
        elif said.startswith(("finger", "hand-tight", "hand tight", "snug")):
            add("finger-tight")
        elif said == "slack":
            add("loose")
        elif said in ("in place", "where they are", "where it is"):
            add("stay-put")
        elif said in ("for later", "for reuse", "for refitting") or said in ("once more", "one more time"):
            add("again")
        elif said in ("again", "loose", "dead", "likewise", "clean", "dry", "free", "tight"):
            add(said)
        elif said in ("as before", "the same way", "in the same way", "in the same manner"):
            add("same")
    complement = clause.complement
    if complement == "that":
        add("statement")
    if complement == "dry" and clause.lemma in ("leave", "keep"):
        add("dry")  # "leave the threads dry"
    elif complement in _COOLING or (
        clause.lemma in ("allow", "let") and complement not in ("run", "drain", "flow", "fill") and "wait-time" in facts
    ):
        add("wait-for")
    if complement in ("fall", "drop", "sink") and clause.lemma in ("let", "allow"):
        add("falls")  # "let the head fall below 40 °C"
    if any(word.text.endswith(("rpm", "r/min")) for word in clause.measures):
        add("speed")
    if complement == "empty":
        add("drain-away")
    if (
        complement in ("run", "drain", "drip", "flow", "escape")
        and "excess" not in facts
        and ("fluid" in facts or "out" in clause.particles or "off" in clause.particles)
    ):
        add("drain-away")
    elif complement == "run" and {"empty", "dry"} & set(clause.said) and "wait-time" not in facts:
        add("drain-away")  # "let the pump run empty"
    elif complement == "run" and any(thing.head == "all" and "lot" in thing.text for thing in things):
        add("drain-away")  # "let the whole lot run, twenty minutes at least"
    elif complement == "run":
        add("run-it")
    if complement in ("fill", "flow"):
        add("fill-up")
    if complement in ("hang", "fall", "turn", "touch", "drop"):
        add("hold-it")
    if clause.purpose in _COOLING and clause.lemma in ("leave", "allow", "set"):
        add("wait-for")  # "leave it to dry"
    if clause.purpose in _LOOSENING:
        add("loosening")
    elif clause.purpose in ("tighten", "torque"):
        add("tightening")
    if clause.purpose in _AGAIN:
        add("again")
    return facts


def _about(facts: set[str], thing: Thing, known: Thing | None, lemma: str) -> None:
    add = facts.add
    if thing.pronoun:
        add("it")
        if thing.head in ("nothing",):
            add("nothing-at-all")
        if thing.text == "same":
            add("same")
        if known is not None:
            _about(facts, known, None, lemma)
        if thing.state:
            add(thing.state)
        return
    kind, head = thing.kind, thing.head
    span = thing.owner.head if head in ("quarter", "half") and thing.owner is not None else head
    if (kind == "measure" or span != head) and span in _SPANS and lemma in ("give", "allow", "leave"):
        add("wait-time")
    real = thing
    if kind in ("feature", "measure", "running", "torque-label") and thing.owner is not None:
        real = thing.owner
    if kind:
        add(kind)
    else:
        add("part")
    if kind == "threaded":
        add("part")
        if lemma not in (
            "fit",
            "install",
            "remove",
            "lift",
            "take",
            "set",
            "place",
            "put",
            "push",
            "pull",
            "draw",
            "press",
            "slide",
            "hook",
            "refit",
            "replace",
        ):
            add("fastener")
    elif (
        kind in ("consumable", "load", "person", "dirt", "cable", "hose", "machine", "power", "temporary")
        and kind != "part"
    ):
        add("part") if kind in ("consumable", "load") else None
    if head in ("torque", "figure", "value", "setting", "specification", "spec") and thing.owner is None:
        add("figure-word")  # "give the screws their specified torque"
    if kind == "running" or head in _TIGHT:
        add("tightness")
    elif head != "torque":
        add(head)
    if "thread" in thing.text:
        add("threads")
    if thing.owner is not None and thing.owner.kind in ("compound", "lubricant", "fluid") and head in PORTIONS:
        add("lubricant" if thing.owner.kind == "fluid" else thing.owner.kind)  # "a drop of thread-locker"
    if thing.owner is not None and head in PORTIONS:
        add(thing.owner.head)
    if real is not thing and real.kind in ("fastener", "threaded"):
        add("owner-fastener")
        if kind == "feature" and head in ("thread", "head", "pair", "rest", "remainder", "end", "row", "set"):
            add("fastener")
    if head == "plug" and kind == "fastener" and set(thing.mods) & _SCREWED:
        add("screwed-plug")
    for mod in thing.mods:
        if mod in _TELLING:
            add(mod)
        elif mod in ("soapy",):
            add("soapy")
    if thing.state:
        add(thing.state)
    if head in DOCUMENTS:
        add("number")
        add(head)
    if head in ("record", "log", "card", "sheet", "label", "book"):
        add("paper")
    if head in ("container", "tray", "pan", "bucket", "bin"):
        add("container")
    if "same" in thing.mods or head == "same":
        add("same")


def _beside(facts: set[str], text: str, thing: Thing, clause: Clause) -> None:
    add = facts.add
    kind, head = thing.kind, thing.head
    if thing.owner is not None and kind in ("feature", "measure", ""):
        _beside(facts, text, thing.owner, clause)
    if text in ("with", "using", "in", "by", "by means of", "with the aid of", "together with", "of"):
        if head in _FINGERS and text in ("with", "by", "using"):
            add("fingers")
            add("hand")
        elif kind in ("lubricant", "compound", "soapy"):
            add(kind)
        elif kind == "fluid" and text != "of" and not (text == "in" and clause.lemma in _WORKING):
            add(
                "lubricant"
                if clause.lemma not in ("fill", "top", "refill", "flush", "rinse", "wash", "charge", "replenish")
                else "fluid"
            )
        elif kind == "lock":
            add("lock")
        elif head == "puller" or "puller" in thing.mods:
            add("puller")
        elif kind in ("washer", "seal", "fastener") and text != "of":
            add("with-" + kind)
    if text in ("in", "into", "on") and kind == "document":
        add("in-document")
    if text == "in" and kind == "document" and clause.lemma == "fill":
        add("document")  # "fill in the maintenance card"
    if text in ("in", "into", "to") and for_waste(thing):
        add("waste")
    if text == "for" and kind in ("measure", "torque-label"):
        add("for-figure")
    if kind == "leakage" or (kind == "fluid" and text == "for" and clause.lemma in ("look", "check", "watch")):
        add("leak")
    elif kind == "level":
        add("level")
    elif kind == "damage" or head in _DAMAGED or (kind == "dirt" and text == "for"):
        add("damage")
    if text in ("on", "in", "to") and head in ("hook", "peg", "nail", "locker", "shelf", "board"):
        add("stowed")  # "hang it on its hook"
    if text == "in" and (head in ("stand", "vice", "vise", "jig", "fixture") or "stand" in thing.text):
        add("bench-hold")  # "clamp it upright in the bench stand"
    if text in ("on", "onto", "in") and head in RESTING:
        add("resting")
    if text == "for" and kind == "measure" and head in _SPANS:
        add("wait-time")
    if text == "on" and kind in ("compound", "lubricant") and clause.lemma in ("put", "get", "smear", "brush"):
        add(kind)  # "put on new locker"
    if text in ("in", "into") and head in CONTAINERS:
        add("in-container")
    if text in ("out of", "from", "at") and head in ("wall", "socket", "outlet", "mains"):
        add("from-wall")  # an electrical plug, no screwed one
    if head == "dead" or "dead" in thing.mods:
        add("dead")
    if head in _TIGHT and text in ("for", "of"):
        add("tightness")
    if text in ("round", "around", "over") and kind == "fastener":
        add("fastener")  # "go over the bolts again"
    if text in ("to", "up to") and head in ("speed", "temperature", "heat"):
        add(head)
    if text == "to" and ((thing.count is not None and thing.pronoun) or kind == "torque-label" or head == "figure"):
        add("to-figure")  # "add this to the 40"
    if text in ("through", "over") and head in ("step", "procedure", "sequence") and not thing.labels:
        add("step-word")  # "go through the steps backwards"
    if text in ("through", "over") and "same" in thing.mods and kind in ("", "document"):
        add("same")  # "go through the same work again"
    if text == "to" and head in ("torque", "spec", "specification", "value", "setting", "figure"):
        add("to-torque")  # "bring the bolts to the specified torque"
    if text in ("to", "onto", "on", "against"):
        if kind not in ("document", "measure"):
            add("to-part")
        if kind == "fastener":
            add("on-fastener")
    if kind == "tool" and text == "with":
        add(head)
    if head == "wire" and text == "with" and clause.lemma in ("secure", "lock", "tie", "fasten", "bind"):
        add("lock")
    if thing.labels and head in DOCUMENTS and text in ("to", "in", "at"):
        add("step")
    if text in ("off", "from", "clear of") and kind == "feature":
        add(head)
    if text in ("for",) and (head in _AGAIN or head in ("refitting", "reuse", "later")):
        add("again")
    if (
        clause.lemma in ("look", "inspect", "check", "apply", "put")
        and text in ("at", "to", "on")
        and kind in ("fastener", "feature")
    ):
        add("at-" + kind)
    if text == "for" and head in ("crack", "cracks", "wear", "damage", "burr"):
        add("damage")


_LIGHT = frozenset("give have take make do".split())


def light_noun(clause: Clause) -> tuple[str, Thing | None]:
    """What "give the threads a wipe" tells: the verb of its noun, and the noun; ("", None) for other clauses."""
    if clause.lemma not in _LIGHT:
        return "", None
    for thing in reversed(clause.objects):
        verb = vocabulary().action_nouns.get(thing.head, "")
        if verb == "lubricate" and thing.owner is not None and thing.owner.kind == "compound":
            verb = "seal"  # "one drop of thread-locker"
        if verb:
            return verb, thing
    return "", None


def sense_of(clause: Clause, facts: set[str]) -> str:
    """The verb meant; "" where no line of the table fits."""
    light, _ = light_noun(clause)
    if light and not clause.torques:
        return light
    for sense in lexicon().senses.get(clause.lemma, ()):
        if sense.particles and not any(particle in sense.particles for particle in (*clause.particles, *clause.said)):
            continue
        if sense.when and not any(all_in(fact, facts) for fact in sense.when):
            continue
        return _taken_off(sense.verb, clause, facts)
    return ""


_PIECES = frozenset("washer seal lock fastener".split())


def _taken_off(verb: str, clause: Clause, facts: set[str]) -> str:
    """A piece moved off or out is taken off, whatever the movement: "tip the washer off the plug"."""
    moved = verb == "position" and clause.lemma not in ("keep", "hold") and _PIECES & facts
    return "remove" if moved and {"off", "out", "out of"} & set(clause.particles) else verb


def all_in(wanted: frozenset[str], facts: set[str]) -> bool:
    """Whether all the facts of one alternative hold."""
    return wanted <= facts
