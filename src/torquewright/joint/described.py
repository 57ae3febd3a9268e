"""What the words of a record mean for a joint: the material, the kind of head, whether it is a nut.

Plain comparisons, no patterns: a check asks this of every joint.
"""

from __future__ import annotations

from functools import lru_cache

from torquewright.records.parts import Fastener

NUT_CLASSES = ("04", "05", "8", "10", "12")

# From the words of a record to a name of the tables; the first that fits wins, so the narrower stand first. A tuple
# needs all its words; a space stands for the edge of a word.
_WORDS: tuple[tuple[str, tuple[str | tuple[str, ...], ...]], ...] = (
    ("magnesium", ("magnesium", " az91")),
    ("zinc", ("zamak", ("zinc", "die cast"), ("zinc", "diecast"))),
    ("aluminium die-cast", ("die cast", "diecast", "alsi9cu3", " a380 ", " adc12 ")),
    ("aluminium cast", (("aluminium", " cast"), ("aluminum", " cast"))),
    ("aluminium", ("aluminium", "aluminum", " alu ", " light alloy ")),
    ("ductile cast iron", ("ductile", "nodular", "spheroidal", "gjs")),
    ("grey cast iron", ("cast iron", "grey iron", "gray iron", "gjl")),
    ("stainless steel", ("stainless", " a2 ", " a4 ")),
    ("steel", ("steel",)),
    ("brass", ("brass", "bronze")),
    ("copper", ("copper",)),
    ("glass-filled nylon", ("glass filled", "glassfilled", "glass fibre", "glassfibre", "glass reinforced", "pa6 gf",
                            "pa66 gf")),
    ("nylon", ("nylon", "polyamide", " pa6")),
    ("plastic", ("plastic", " abs ", "polymer", "acetal", "polypropylene", "polycarbonate", "pvc")),
    ("titanium", ("titanium",)),
    ("zinc", ("zinc",)),
    ("cadmium", ("cadmium",)),
)  # fmt: skip

# Names that say no more than the family: what holds for the weakest of them need not hold for the one in hand.
FAMILIES = frozenset({"steel", "stainless steel", "aluminium", "plastic", "titanium"})

_CARRIED = ("insert", "sleeve", "bush", "ferrule")  # metal that takes the load in the softer part's stead


@lru_cache(maxsize=512)  # a catalogue says "steel" a hundred times
def plain_name(words: str) -> str:
    """The tables' name for the material a record describes; "" where nothing fits."""
    text = f" {' '.join(words.lower().replace('-', ' ').replace(',', ' ').replace('/', ' ').split())} "
    for name, alternatives in _WORDS:
        for words_of in alternatives:
            if words_of in text if isinstance(words_of, str) else all(word in text for word in words_of):
                return name
    return ""


@lru_cache(maxsize=512)
def carried(words: str) -> bool:
    """Whether a record's words for a material speak of an insert or a sleeve that takes the load."""
    low = words.lower()
    return any(word in low for word in _CARRIED)


def head_of(record: Fastener) -> str:
    """Which bearing face the recorded kind and drive have: "cap", "small flange" or "hex"."""
    words = f"{record.kind} {record.name}".lower()
    if "flange" in words:
        return "small flange"
    if record.drive is not None and record.drive.kind in ("hex socket", "hexalobular"):
        return "cap"
    return "hex"


def is_nut(record: Fastener) -> bool:
    """Whether the record is that of a nut; its class is then one of ISO 898-2."""
    return "nut" in record.kind.lower()


def nut_class(record: Fastener) -> str:
    """The class of a nut as ISO 898-2 names it; "" where the record is no nut or names none."""
    if not is_nut(record):
        return ""
    named = record.property_class.lower().removeprefix("class").strip()
    return named if named in NUT_CLASSES else ""
