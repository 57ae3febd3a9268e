"""The vocabulary of the TOML files: which keys a table takes, how each value is read, and what it means.

One table per kind of record, from the key as written to four things: the attribute it fills, the reading its
value must bear (a name known to ``toml.values``), what it says, and an example. Strict reading, near-miss
suggestions, writing back and the JSON Schemas all work from these tables and from nothing else.
"""

from __future__ import annotations

Entry = tuple[str, str, str, str]
"""(attribute, reading, what it says, example as TOML)."""

Keys = dict[str, Entry]

_ID: Entry = (
    "id", "id",
    "The short name other tables and steps use; made from the name where it is left out",
    '"drain-screw"',
)
_NAME: Entry = ("name", "text", "What people call it", '"drain screw"')
_ALIASES: Entry = ("aliases", "texts", "Other names for the same thing", '["lower screw"]')
_ONE_TIME: Entry = ("one_time_use", "flag", "Whether it may be fitted only once", "true")
_SOURCE: Entry = ("source", "text", "Where the figures come from", '"invented for this example"')
_REVISION: Entry = ("revision", "text", "Issue or revision of the source", '"C"')
_RECORDED: Entry = (
    "recorded", "flag",
    "false where the thing is only named in a draft and no record stands behind it",
    "false",
)
_AS_WRITTEN: Entry = (
    "as_written",
    "flag",
    "true where the object and the tool are plain words or ids, and no record is looked for by its name",
    "true",
)

MACHINE: Keys = {
    "name": ("name", "text", "The machine", '"Heron 8 gearcase"'),
    "source": _SOURCE,
    "revision": _REVISION,
    "variant": ("variant", "text", "The variant the records are for", '"long shaft"'),
    "surroundings": ("surroundings", "surroundings", "What the machine stands in", '"salt water"'),
}

WASHER: Keys = {
    "kind": ("kind", "washer kind", "What kind of washer", '"sealing"'),
    "count": ("count", "count", "How many at each position", "1"),
    "one-time-use": _ONE_TIME,
    "captive": ("captive", "flag", "Whether it comes with the fastener and cannot be left out", "false"),
}

LOCK: Keys = {
    "kind": ("kind", "lock kind", "What keeps the joint from turning loose", '"cotter pin"'),
    "one-time-use": _ONE_TIME,
    "built-in": ("built_in", "flag", "Whether it is part of the fastener: a patch, a deformed thread", "false"),
    "product": ("product", "text", "Name or grade of the product", '"medium strength"'),
    "cure": ("cure", "time", "How long it sets before the joint may be loaded", '"24 h"'),
}

RETORQUE: Keys = {
    "policy": ("policy", "retorque", "Whether a later check of torque is demanded or ruled out", '"required"'),
    "after": ("after", "text", "When", '"10 h of running"'),
}

FASTENER: Keys = {
    "id": _ID,
    "name": _NAME,
    "aliases": _ALIASES,
    "count": ("count", "count", "How many positions the machine has", "4"),
    "kind": ("kind", "fastener kind", "Screw, bolt, nut, stud, plug, cap and the like", '"screw"'),
    "size": ("size", "size", "Thread designation", '"M8x1.25"'),
    "thread-hand": ("hand", "hand", "Which way it tightens", '"right"'),
    "length": ("length", "length", "Length under the head", '"20 mm"'),
    "property-class": ("property_class", "text", "Property class, grade or material of the fastener", '"A2-70"'),
    "finish": ("finish", "text", "Plating or coating", '"zinc plated"'),
    "drive": ("drive", "drive", "What turns it, with its size", '"slotted 10 mm"'),
    "mating-material": (
        "mating_material", "text",
        "Material of the internal (or external) thread it meets",
        '"aluminium die-cast"',
    ),
    "bearing-material": ("bearing_material", "text", "Material of the face under the head or nut", '"steel"'),
    "engagement": ("engagement", "length", "Length of thread in engagement", '"12 mm"'),
    "hole-depth": ("hole_depth", "length", "Depth of full thread of a blind hole", '"18 mm"'),
    "stack": ("stack", "length", "Thickness clamped between the head and the thread", '"10 mm"'),
    "mating-size": ("mating_thread", "size", "The thread it goes into or onto, where that is known", '"M8x1.25"'),
    "one-time-use": _ONE_TIME,
    "one-time-reason": ("one_time_reason", "text", "Why it may be fitted only once", '"tightened into yield"'),
    "reuse": (
        "reuse", "reuse",
        "Whether it may go back: never, after measuring, free, or a number of times",
        '"after measuring"',
    ),
    "washer": (
        "washer", "washer",
        "The washer each position must carry, or none",
        '{ kind = "sealing", count = 1, one-time-use = true }',
    ),
    "seals": ("seals", "texts", "The seals this joint clamps, by id", '["cover-gasket"]'),
    "lock": ("lock", "lock", "What keeps the joint from turning loose", '{ kind = "cotter pin", one-time-use = true }'),
    "tightening": ("tightening", "tightening", "How it is tightened", '"7 N·m ± 1"'),
    "part-limit": ("part_limit", "tightening", "The most the weakest clamped part takes", '"max 9 N·m"'),
    "condition": ("condition", "condition", "State of the threads the figure is meant for", '"dry"'),
    "prevailing": ("prevailing", "torque", "Running torque of a self-locking thread", '"3 N·m"'),
    "hand-start": ("hand_start", "flag", "Whether the threads must be started by hand", "true"),
    "pattern": ("pattern", "order", "Order of tightening", '"cross"'),
    "tighten-when": ("tighten_when", "tighten when", "The state of the machine it is tightened in", '"cold"'),
    "retorque": (
        "retorque", "retorque table",
        "A later check of torque",
        '{ policy = "required", after = "10 h of running" }',
    ),
    "independent-check": (
        "independent_check", "flag",
        "Whether a second person must look at the finished joint",
        "true",
    ),
    "energy": ("energy", "energy", "Energy held back by the joint", '["pressure"]'),
    "safety": ("safety", "flag", "Whether somebody can be hurt if the joint fails", "true"),
    "fluid": ("fluid", "text", "The fluid the joint holds back, by id", '"gear-oil"'),
    "role": ("role", "role", "What the joint does for its fluid", '"drain"'),
    "blind-hole": ("blind", "flag", "Whether the hole it goes into has a bottom", "true"),
    "turn-end": ("turn_end", "end", "Which end the figure is meant for", '"nut"'),
    "needs-hold": ("needs_hold", "flag", "Whether the other half must be held while this one is turned", "true"),
    "face": ("face", "face", "What the clamped faces may carry: nothing, thin paint, or sealant as meant", '"bare"'),
    "seals-by": ("seals_by", "sealing", "Where a union or plug seals: on its thread, a cone, a ring, a face", '"cone"'),
    "options": ("options", "facts", "Further facts as written", '{ colour = "blue" }'),
    "source": _SOURCE,
    "revision": _REVISION,
    "recorded": _RECORDED,
}

SEAL: Keys = {
    "id": _ID,
    "name": ("name", "text", "What people call it", '"cover gasket"'),
    "aliases": _ALIASES,
    "count": ("count", "count", "How many the machine has", "1"),
    "kind": ("kind", "seal kind", "Gasket, O-ring, shaft seal and the like", '"gasket"'),
    "one-time-use": _ONE_TIME,
    "lubricant": (
        "lubricant", "text",
        "What it must be wetted with before it goes in; dry when it must not be",
        '"feed water"',
    ),
    "cure": ("cure", "time", "How long a sealant sets before the joint may be loaded", '"1 h"'),
    "source": _SOURCE,
    "revision": _REVISION,
    "recorded": _RECORDED,
}

FLUID: Keys = {
    "id": _ID,
    "name": ("name", "text", "What people call it", '"gear oil"'),
    "aliases": _ALIASES,
    "amount": ("amount", "volume", "How much goes in", '"0.62 L"'),
    "level-at": ("level_at", "text", "How the right level shows", '"runs out of the level hole"'),
    "capacity": ("capacity", "volume", "The most the machine holds", '"0.65 L"'),
    "level-when": ("level_when", "warmth", "How the machine is when the level is read", '"cold"'),
    "level-temperature": (
        "level_temperature", "temperature",
        "The temperature of the fluid while its level is read",
        '"30 to 40 °C"',
    ),
    "source": _SOURCE,
    "revision": _REVISION,
}

PART: Keys = {
    "id": _ID,
    "name": ("name", "text", "What people call it", '"anode"'),
    "aliases": _ALIASES,
    "count": ("count", "count", "How many the machine has", "1"),
    "material": ("material", "text", "What it is made of", '"zinc"'),
    "one-time-use": _ONE_TIME,
}

TOOL: Keys = {
    "id": _ID,
    "name": ("name", "text", "What people call it", '"small torque wrench"'),
    "aliases": _ALIASES,
    "kind": ("kind", "tool kind", "What kind of tool; taken from the name where it is left out", '"torque wrench"'),
    "range": ("range", "torque range", "The two ends of the scale", '"5 to 25 N·m"'),
    "usable-from": ("usable_low", "torque", "The lowest setting its certificate covers", '"5 N·m"'),
    "deviation": ("deviation", "percent", "The deviation it may show, of the setting", '"4 %"'),
    "scale-step": ("step", "torque", "One division of the scale", '"0.5 N·m"'),
    "arm": ("arm", "length", "Effective length, from the drive to the middle of the grip", '"300 mm"'),
    "length": ("length", "length", "Length of an adapter, from its square to the middle of its head", '"75 mm"'),
    "drive": ("drive", "drive", "What it drives, or its own square", '"square 1/4 in"'),
    "loosens": ("loosens", "flag", "Whether its maker lets it loosen as well as tighten", "false"),
    "calibrated-until": ("calibrated_until", "date", "The day the calibration runs out", '"2027-01-31"'),
}

KIT: Keys = {
    "part": ("part", "text", "The fastener or seal, by id or name, or a word such as washer with of", '"cover-gasket"'),
    "count": ("count", "count", "How many new ones are laid out", "1"),
    "of": ("of", "text", "The joint the piece belongs to", '"drain-screw"'),
    "size": ("size", "size", "The thread printed on the bag", '"M8x1.25"'),
    "property-class": ("property_class", "text", "The class, grade or material printed on the bag", '"A2-70"'),
    "length": ("length", "length", "The length printed on the bag", '"20 mm"'),
    "amount": ("amount", "volume", "What each holds, where it is a fluid", '"0.5 L"'),
    "as-written": _AS_WRITTEN,
}

MESSAGE: Keys = {
    "signal": ("signal", "text", "The signal word as printed", '"WARNING"'),
    "text": ("text", "text", "What it says", '"Hot oil can scald."'),
    "after": ("after", "flag", "true where it stands below the sentences of its step", "true"),
}

STEP: Keys = {
    "label": ("label", "text", "What the document calls the step; its number where left out", '"2a"'),
    "section": ("section", "text", "The heading it stands under", '"Drain"'),
    "say": ("say", "text", "The sentence the mechanic reads", '"Tighten the drain screw to 7 N·m."'),
    "do": ("do", "actions", "What is done, in order", '[ { tighten = "drain-screw", to = "7 N·m" } ]'),
    "messages": (
        "messages", "messages",
        "Safety messages that stand in or before the step",
        '[ { signal = "CAUTION", text = "Hot oil." } ]',
    ),
    "accept": (
        "accepted", "accepted",
        "Findings let stand, each with the reason in writing",
        '{ wrench-out-of-range = "the wrench is checked at 4 N·m every month" }',
    ),
}

PROCEDURE: Keys = {
    "title": ("title", "text", "What is done, and on what", '"Change the gearcase oil"'),
    "catalogue": ("catalogue", "file", "A catalogue file beside or below this file", '"heron.catalogue.toml"'),
    "tools": ("tools", "file", "A file of tools beside or below this file", '"bench.tools.toml"'),
    "variant": ("variant", "text", "The variant of the machine it is for", '"long shaft"'),
    "job-date": ("job_date", "date", "The day the job is done", '"2027-01-31"'),
    "tools-named": ("tools_named", "texts or none", "The tools the document lists", '["torque driver 2 to 20 N·m"]'),
    "given": ("given", "actions", "What is taken as done before step 1", '[ { stop = "engine" } ]'),
    "messages": (
        "messages", "messages",
        "Safety messages ahead of all steps",
        '[ { signal = "WARNING", text = "Lock out first." } ]',
    ),
    "accept": (
        "accepted", "accepted",
        "Findings on the procedure as a whole let stand, each with the reason in writing",
        '{ wrench-out-of-range = "the wrench is checked at 4 N·m every month" }',
    ),
    "step": ("steps", "steps", "The steps", "[[step]]"),
}

CATALOGUE: Keys = {
    "machine": ("machine", "table", "The machine and where its figures come from", "[machine]"),
    "policy": ("policy", "policy", "Whose practice decides where trades disagree", '"general"'),
    "fastener": ("fasteners", "tables", "The fasteners", "[[fastener]]"),
    "seal": ("seals", "tables", "Gaskets, O-rings, shaft seals", "[[seal]]"),
    "fluid": ("fluids", "tables", "What the machine holds", "[[fluid]]"),
    "part": ("parts", "tables", "Parts without a thread of their own", "[[part]]"),
    "tool": ("tools", "tables", "The tools at hand", "[[tool]]"),
    "kit": ("kit", "tables", "New pieces laid out for the job; in a procedure also the name of a kit file", "[[kit]]"),
}

ACTION: Keys = {
    "of": ("of", "text", "The joint, when the object is one of its pieces", '"drain-screw"'),
    "count": ("count", "count", "How many, where the text says so", "2"),
    "state": ("state", "state", "Whether the piece is new or old", '"new"'),
    "to": ("to", "tightening", "How tight", '"7 N·m"'),
    "by": ("by", "turn", "By what angle", '"90°"'),
    "setting": ("setting", "tightening", "What the wrench is set to, where that is not the demand", '"6.1 N·m"'),
    "with": ("with", "text", "The tool; for lock, seal, oil, clean, fill and bleed the product", '"small-wrench"'),
    "tool": ("tool", "text", "The tool, where with names a product", '"brush"'),
    "adapter": ("adapter", "text", "What sits between the wrench and the fastener", '"13 mm crowfoot"'),
    "adapter-angle": (
        "adapter_angle", "angle",
        "How the adapter stands: 0° straight away from the hand, 90° square to the handle, 180° back over it",
        '"90°"',
    ),
    "lubricant": ("with_what", "text", "The product, where with names a tool", '"engine oil"'),
    "washer": ("washer", "washer use", "The washers that go on or come off", '"1 new"'),
    "order": ("order", "order", "Order of the positions", '"cross"'),
    "passes": ("passes", "count", "Number of rounds", "2"),
    "amount": ("amount", "volume", "How much goes in", '"0.62 L"'),
    "time": ("amount", "time", "How long", '"10 min"'),
    "distance": ("amount", "distance", "How far", '"5 km"'),
    "size": ("size", "size", "The thread of the piece that goes in, where the text says it", '"M8x1.25"'),
    "property-class": ("property_class", "text", "Its class, grade or material, where the text says it", '"A2-70"'),
    "length": ("length", "length", "Its length under the head, where the text says it", '"20 mm"'),
    "direction": ("direction", "direction", "Which way it is turned", '"clockwise"'),
    "end": ("end", "end", "Which end is turned", '"nut"'),
    "hold": ("hold", "text", "What holds the other half meanwhile", '"17 mm spanner"'),
    "temperature": ("temperature", "temperature", "Of the fluid while its level is read", '"35 °C"'),
    "by-hand": ("by_hand", "flag", "Whether it is done by hand, without a tool", "true"),
    "mode": ("mode", "mode", "Whether it is to be done, not to be done, or done on a condition", '"do not"'),
    "note": ("note", "text", "A condition or remark", '"if the anode is worn"'),
    "as-written": _AS_WRITTEN,
}

VERB_KEYS: dict[str, tuple[str, str]] = {
    "isolate": ("isolate", "Make safe: switch off, lock out, shut"),
    "release": ("isolate", "Make safe by letting energy out: pressure, a spring, a charge"),
    "support": ("support", "Hold a load"),
    "raise": ("raise", "Lift the machine or a load"),
    "lower": ("lower", "Let it down"),
    "mark": ("mark", "Mark a position or a finished joint"),
    "loosen": ("loosen", "Break loose without taking out"),
    "remove": ("remove", "Take out or off"),
    "disconnect": ("disconnect", "Take a line, hose or cable off"),
    "drain": ("drain", "Let a fluid out"),
    "discard": ("discard", "Throw a piece away"),
    "clean": ("clean", "Clean"),
    "inspect": ("inspect", "Look at"),
    "measure": ("measure", "Measure: what a fastener reused after measuring asks for"),
    "oil": ("lubricate", "Wet with a lubricant"),
    "seal": ("seal", "Apply sealant or threadlocker"),
    "place": ("position", "Put into place, without fastening"),
    "fit": ("install", "Put a piece in"),
    "reuse": ("reuse", "Put the old piece back on purpose"),
    "replace": ("replace", "Take the old piece out and put another in"),
    "connect": ("connect", "Put a line, hose or cable on"),
    "start": ("hand_start", "Start the threads by hand"),
    "seat": ("seat", "Run down until snug"),
    "tighten": ("tighten", "Tighten; to says how tight"),
    "turn": ("tighten_angle", "Tighten by an angle; by says how far"),
    "back-off": ("back_off", "Loosen on purpose between stages"),
    "retighten": ("retighten", "Check or bring up to torque later"),
    "lock": ("lock", "Fit or set the lock"),
    "fill": ("fill", "Put a fluid in"),
    "bleed": ("bleed", "Let air out"),
    "level": ("check_level", "Read a level"),
    "switch-on": ("start", "Start the machine"),
    "run": ("run", "Let the machine run"),
    "stop": ("stop", "Stop the machine"),
    "wait": ("wait", "Let time pass"),
    "check-leak": ("check_leak", "Look for a leak"),
    "check": ("check", "Check something else"),
    "record": ("record", "Write down"),
    "repeat": ("repeat", "Do other steps again"),
    "refer": ("refer", "Follow another document or step"),
    "insert": ("insert", "Put in a temporary item: a lock bar, guide studs, a rag"),
    "take-out": ("take_out", "Take a temporary item out again"),
    "warm-up": ("warm_up", "Bring to working temperature"),
    "cool-down": ("cool_down", "Let cool"),
}
"""From the verb key of an action to (verb of ``records.steps.VERBS``, meaning)."""

PRODUCT_VERBS = frozenset({"lubricate", "seal", "lock", "clean", "fill", "bleed"})
"""Verbs with which ``with`` names a product; with all others it names a tool."""

RECORDS: dict[str, Keys] = {
    "fastener": FASTENER,
    "seal": SEAL,
    "fluid": FLUID,
    "part": PART,
    "tool": TOOL,
    "kit": KIT,
}
"""The tables of a catalogue that come in numbers, ``[[fastener]]`` and the rest."""
