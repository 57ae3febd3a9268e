"""Made-up tables in the vocabulary of the TOML files, drawn by hypothesis from a few writings of each kind of value.

Everything is invented. ``jobs()`` draws plain tables that read without a fault.
"""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from torquewright.toml import keys
from torquewright.toml.words_taken import ENERGIES, OPEN_WORDS, WORDS

Tables = dict[str, Any]

WORDS_OF_ANY_KIND = (
    "blue cover", 'the "small" one', "Zwölf µ·° 🔩", "a\\b", "two\nlines", "7 N·m", "[x]", "#3", " edge ",
)  # fmt: skip
NAMES = (
    "drain screw", "Fill Plug", "cover-bolt", "axle nut", "front cap", "level screw", "union nut", "unloader O-ring",
    "sump gasket", "gear oil", "lock bar", "small torque wrench",
)  # fmt: skip

TEXTS: dict[str, tuple[str, ...]] = {
    "percent": ("4 %", "6%", "2.5 %", "12,5 %"),
    "date": ("2027-01-31", "2028-02-29"),
    "tightening": ("7 N·m", "7 to 9 N·m", "7 N·m ± 1", "25 ft-lb", "62 lbf·in", "30 N·m (22 lbf·ft)", "max 9 N·m",
                   "stage 10 N·m, then 20 N·m ± 2", "30 N·m + 90°", "hand-tight", "1,5 N·m"),
    "turn": ("90°", "1/4 turn", "60° ± 5°"),
    "angle": ("0°", "90 deg", "22.5 °", "180 degrees"),
    "size": ("M8x1.25", "M8", "3/8-16 UNC", "G 1/4", "1/4-18 NPT", "M6x1 LH"),
    "drive": ("hex 13 mm", "slotted 10 mm", "T25", "hex socket 5 mm", "square 1/4 in", "PH2", "9/16 in"),
    "length": ("20 mm", "12.5 mm", "3/8 in", "1-1/8 in", "0.75 in", "2 cm", "1.2 m", "10 to 12 mm", "20 ± 0.5 mm"),
    "volume": ("0.62 L", "620 mL", "2 US qt", "1.5 imp pt"),
    "time": ("10 min", "90 s", "1.5 h", "10 to 15 min"),
    "distance": ("5 km", "3 mi", "200 m"),
    "temperature": ("35 °C", "30 to 40 °C", "310 K"),
    "torque": ("3 N·m", "0.5 N·m", "12 lbf·in", "2 to 3 N·m", "4 N·m ± 0.5"),
    "torque range": ("5 to 25 N·m", "0.5 to 5 N·m", "10 to 80 lbf·ft", "40–200 N·m"),
    "reuse": ("never", "after measuring", "free", "3 times", "1 times"),
    "washer use": ("1 new", "2 new sealing", "1 old", "new", "none", "some", "1 new if needed", "3", "1 copper"),
    "order": ("cross", "circular", "1-4-2-5-3-6", "outward"),
}  # fmt: skip


def value(reading: str) -> st.SearchStrategy[Any]:
    """A value that bears the reading."""
    if reading in TEXTS:
        return st.sampled_from(TEXTS[reading])
    if reading in WORDS:
        return st.sampled_from(WORDS[reading])
    if reading in OPEN_WORDS:
        return st.sampled_from((*OPEN_WORDS[reading], "something else"))
    simple: dict[str, st.SearchStrategy[Any]] = {
        "text": st.sampled_from(WORDS_OF_ANY_KIND),
        "id": st.sampled_from(NAMES),
        "texts": st.lists(st.sampled_from(WORDS_OF_ANY_KIND), min_size=1, max_size=2),
        "texts or none": st.lists(st.sampled_from(WORDS_OF_ANY_KIND), max_size=2),
        "flag": st.booleans(),
        "count": st.integers(1, 12),
        "energy": st.lists(st.sampled_from(ENERGIES), min_size=1, max_size=2),
        "facts": st.dictionaries(
            st.sampled_from(("colour", "bag", "a b")), st.sampled_from(WORDS_OF_ANY_KIND), min_size=1
        ),
    }
    if reading in simple:
        return simple[reading]
    inner = {
        "washer": (keys.WASHER, ()),
        "lock": (keys.LOCK, ("kind",)),
        "retorque table": (keys.RETORQUE, ("policy",)),
    }
    held = table(inner[reading][0], *inner[reading][1])
    return st.one_of(st.just("none"), held) if reading == "washer" else held


def table(entries: keys.Keys, *required: str, leave_out: tuple[str, ...] = ()) -> st.SearchStrategy[Tables]:
    """A table with the required keys and any of the others."""
    drawn = {key: value(entry[1]) for key, entry in entries.items() if key not in leave_out}
    return st.fixed_dictionaries(
        {key: held for key, held in drawn.items() if key in required},
        optional={key: held for key, held in drawn.items() if key not in required},
    )


@st.composite
def records(draw: st.DrawFn) -> Tables:
    """A catalogue whose names are all different."""
    names = iter(draw(st.permutations(NAMES)))
    held: Tables = {}
    if draw(st.booleans()):
        held["machine"] = draw(table(keys.MACHINE))
    held["policy"] = draw(st.sampled_from(WORDS["policy"]))
    drawn: dict[str, list[str]] = {}
    for what, entries in keys.RECORDS.items():
        if what == "kit" or not draw(st.booleans()):
            continue
        held[what] = []
        for _ in range(draw(st.integers(1, 2))):
            record = draw(table(entries, leave_out=("id", "name", "aliases", "seals", "fluid", "thread-hand")))
            name = next(names)
            record["name"] = name
            if draw(st.booleans()):
                record["id"] = "the " + name
            if "size" in record and draw(st.booleans()):
                record["thread-hand"] = draw(st.sampled_from(WORDS["hand"]))
            drawn.setdefault(what, []).append(name)
            held[what].append(record)
    for record in held.get("fastener", ()):
        if "seal" in drawn and draw(st.booleans()):
            record["seals"] = drawn["seal"]
        if "fluid" in drawn and draw(st.booleans()):
            record["fluid"] = drawn["fluid"][0]
    if draw(st.booleans()):
        parts = (*drawn.get("fastener", ()), *drawn.get("seal", ()), "washer", "rags")
        held["kit"] = [
            {"part": draw(st.sampled_from(parts)), "count": draw(st.integers(1, 9))}
            | ({"of": draw(st.sampled_from(drawn["fastener"]))} if "fastener" in drawn and draw(st.booleans()) else {})
            for _ in range(draw(st.integers(0, 2)))
        ]
    return held


@st.composite
def action(draw: st.DrawFn, known: tuple[str, ...], joints: tuple[str, ...]) -> Tables:
    """An action on a record or on plain words."""
    key = draw(st.sampled_from(sorted(keys.VERB_KEYS)))
    left_out = ["of", "by", "amount", "time", "distance", "as-written"]
    left_out += ["lubricant"] if keys.VERB_KEYS[key][0] in keys.PRODUCT_VERBS else ["tool"]
    left_out += ["to"] if key == "turn" else []
    held = {key: draw(st.sampled_from((*known, "washer", "machine", "", "10 min soak", *WORDS_OF_ANY_KIND)))}
    held |= draw(table(keys.ACTION, leave_out=tuple(left_out)))
    if joints and draw(st.booleans()):
        held["of"] = draw(st.sampled_from(joints))
    if key == "turn" and draw(st.booleans()):
        held["by"] = draw(value("turn"))
    measure = draw(st.sampled_from(("", "", "amount", "time", "distance")))
    if measure:
        held[measure] = draw(value(keys.ACTION[measure][1]))
    return held


@st.composite
def jobs(draw: st.DrawFn) -> Tables:
    """A procedure with its records in the same tables."""
    held = draw(records())
    named = ("fastener", "seal", "fluid", "part", "tool")
    known = tuple(record["name"] for what in named for record in held.get(what, ()))
    joints = tuple(record["name"] for record in held.get("fastener", ()))
    actions = st.lists(action(known, joints), min_size=1, max_size=3)
    messages = st.lists(table(keys.MESSAGE, "signal", "text"), min_size=1, max_size=2)
    head = draw(table({key: keys.PROCEDURE[key] for key in ("title", "variant", "job-date", "tools-named")}))
    head |= draw(st.fixed_dictionaries({}, optional={"given": actions, "messages": messages}))
    step = st.fixed_dictionaries(
        {"say": st.sampled_from(WORDS_OF_ANY_KIND)},
        optional={
            "label": st.sampled_from(("2a", "B3", "1")),
            "section": st.sampled_from(("Drain", "Fill")),
            "do": actions,
            "messages": messages,
        },
    )
    return {**head, **held, "step": draw(st.lists(step, min_size=1, max_size=3))}
