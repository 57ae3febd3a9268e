"""The words a value of the TOML files may be: closed lists, open lists, and two names for one thing."""

from __future__ import annotations

WORDS: dict[str, tuple[str, ...]] = {
    "hand": ("right", "left"),
    "retorque": ("required", "forbidden"),
    "role": ("drain", "fill", "level", "filter", "cap", "vent"),
    "policy": ("general", "aviation", "road vehicle", "pressure flange"),
    "state": ("new", "old", "measured", "new if needed"),
    "end": ("nut", "head"),
    "face": ("bare", "thin paint", "sealant"),
    "direction": ("clockwise", "anticlockwise"),
    "warmth": ("cold", "warm"),
    "surroundings": ("climate-controlled", "indoors", "outdoors", "damp", "salt water"),
    "mode": ("do", "do not", "if", "mentioned only", "stated passively"),
}
"""Closed lists: the value must be one of these words."""

ENERGIES = ("pressure", "spring", "electrical", "thermal", "fuel", "gravity")

OPEN_WORDS: dict[str, tuple[str, ...]] = {
    "washer kind": (
        "sealing", "flat", "spring", "toothed", "thrust", "conical", "wave", "wedge", "tab", "crush", "copper",
        "bonded", "shim", "load-spreading",
    ),
    "lock kind": (
        "cotter pin", "lockwire", "tab washer", "roll pin", "threadlocker", "prevailing-torque nut", "R-clip",
        "circlip", "locknut", "lock plate",
    ),
    "fastener kind": (
        "screw", "bolt", "nut", "stud", "plug", "cap", "union nut", "banjo bolt", "terminal", "clamp", "fitting",
        "set screw", "filter",
    ),
    "seal kind": ("gasket", "O-ring", "shaft seal", "sealing washer", "lip seal", "packing", "diaphragm"),
    "tool kind": (
        "torque wrench", "torque driver", "impact wrench", "impact driver", "angle gauge", "torque multiplier",
        "crowfoot adapter", "extension", "socket", "bit", "ratchet", "screwdriver", "hex key", "wrench", "puller",
        "gauge",
    ),
    "condition": (
        "dry", "oil", "oiled", "grease", "greased", "moly", "anti-seize", "threadlocker", "pre-coated", "wax", "waxed",
    ),
    "sealing": (
        "thread", "taper thread", "cone", "flare", "compression ring", "O-ring", "bonded washer", "sealing washer",
        "face", "gasket",
    ),
    "order": ("cross", "circular", "spiral", "none"),
    "tighten when": ("cold", "warm", "loaded", "unloaded"),
}  # fmt: skip
"""Open lists: other words are taken as written, but a word nearly one of these is taken for a slip."""

SAME_CONDITION: dict[str, str] = dict.fromkeys(
    ("thread-locker", "thread locker", "threadlock", "thread-lock"), "threadlocker"
)
"""Two names of one condition of a thread, to the one the records use."""

SAME_WASHER: dict[str, str] = dict.fromkeys(("bonded sealing", "copper sealing", "fibre sealing", "bonded"), "sealing")
"""Other names of a sealing washer, to the one the records use."""

SAME_LOCK: dict[str, str] = {
    "split pin": "cotter pin",
    "safety wire": "lockwire",
    "lock wire": "lockwire",
    "locking wire": "lockwire",
    "spring pin": "roll pin",
    "thread locker": "threadlocker",
    "thread-locker": "threadlocker",
    "threadlock": "threadlocker",
    "prevailing torque nut": "prevailing-torque nut",
    "R clip": "R-clip",
}
"""Two names of one kind of lock, to the one the records use."""

TOOL_WORDS: tuple[tuple[str, str], ...] = (
    ("torque multiplier", "torque multiplier"),
    ("torque wrench", "torque wrench"),
    ("torque driver", "torque driver"),
    ("torque screwdriver", "torque driver"),
    ("impact wrench", "impact wrench"),
    ("impact gun", "impact wrench"),
    ("impact driver", "impact driver"),
    ("angle gauge", "angle gauge"),
    ("crowfoot", "crowfoot adapter"),
    ("crow-foot", "crowfoot adapter"),
    ("crow foot", "crowfoot adapter"),
    ("offset adapter", "crowfoot adapter"),
    ("extension", "extension"),
    ("socket", "socket"),
    ("hex key", "hex key"),
    ("bit", "bit"),
    ("ratchet", "ratchet"),
    ("screwdriver", "screwdriver"),
    ("puller", "puller"),
    ("gauge", "gauge"),
    ("wrench", "wrench"),
    ("spanner", "wrench"),
)
"""Words in a tool's name, in the order they are looked for, to the kind of tool they mean."""
