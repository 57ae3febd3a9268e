"""The material around the thread and under the head: its strength, its rules of thumb, and what it may touch."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from torquewright.book.tables import Row, table
from torquewright.joint.described import plain_name


class Property(NamedTuple):
    """A property with its cautious and its generous figure (Pa, or a ratio), and where they come from."""

    low: float
    high: float
    source: str
    firm: bool


class Material(NamedTuple):
    """What stands for a name in a record. Strengths are None where no table has them."""

    name: str
    stands_for: str
    family: str
    tensile: Property | None
    shear: Property | None
    bearing: Property | None
    engagement: Property | None  # least engaged length in screw diameters
    galvanic: str


def _span(row: Row, scale: float) -> Property:
    return Property(row.number("low") * scale, row.number("high") * scale, row.cite(), row.firm)


# Alloys that go by the same name in a record: the strongest of them ends the range.
_SAME_ALLOY = {"AlSi9Cu3(Fe) EN AC-46000 pressure die cast": ("A380 pressure die cast", "360 pressure die cast")}


def _property(material: str, name: str) -> Property | None:
    row = table("materials").cautious("low", min, material=material, property=name) if material else None
    if row is None:
        return None
    found = _span(row, 1e6)
    others = (table("materials").first(material=other, property=name) for other in _SAME_ALLOY.get(material, ()))
    highest = max((other.number("high") * 1e6 for other in others if other is not None and other.firm), default=0.0)
    return found._replace(high=max(found.high, highest))


@lru_cache(maxsize=64)
def material(words: str) -> Material | None:
    """The material a record's words mean, read from the tables; None where nothing fits.

    A bare name stands for the weaker of the common materials that bear it.
    """
    name = plain_name(words)
    row = table("material-names").first(name=name) if name else None
    if row is None:
        return None
    strength = row.word("strength")
    bearing = _property(strength, "bearing")
    if row.word("bearing"):
        limit = _lowest_bearing(row.word("bearing"))
        bearing = limit or bearing
    rule = table("engagement-rules").cautious("least", max, material=row.word("engagement"))
    least = Property(rule.number("least"), rule.number("most"), rule.cite(), rule.firm) if rule else None
    return Material(
        name, strength or row.word("bearing") or name, row.word("family"), _property(strength, "tensile"),
        _property(strength, "shear"), bearing, least, row.word("galvanic"),
    )  # fmt: skip


# The two editions of the guideline name the same steel and iron differently, and a casting may be of either alloy; the
# lower figure counts, and the higher is the end of the range.
_SAME_BEARING = {
    "GK-AlSi9Cu3 (chill cast)": ("GK-AlSi7Mg wa",),
    "S235 (USt 37-2)": ("St 37",),
    "EN-GJL-250": ("GG 25 (GJL-250)",),
    "AZ91": ("DG-MgAl9",),
    "X5CrNi18-12": ("X5CrNiMo18-10", "X10CrNiMo18-9"),
}


def _lowest_bearing(name: str) -> Property | None:
    rows = [
        row for key in (name, *_SAME_BEARING.get(name, ())) for row in table("bearing-limits").where(material=key)
    ]
    if not rows:
        return None
    lowest = min(rows, key=lambda row: row.number("limit"))
    highest = max(row.number("limit") for row in rows)
    return Property(lowest.number("limit") * 1e6, highest * 1e6, lowest.cite(), lowest.firm)


class Gap(NamedTuple):
    """Two metals: which one is eaten, by how many volts they differ, and the limits by surroundings (volts)."""

    eaten: str
    volts: float
    damp: float
    indoors: float
    dry: float
    source: str


def galvanic_gap(one: str, other: str) -> Gap | None:
    """The difference of the anodic index of two materials named in records; None where either has none."""
    first, second = material(one), material(other)
    if first is None or second is None or not first.galvanic or not second.galvanic:
        return None
    held = table("galvanic-index")
    a, b = held.first(metal=first.galvanic), held.first(metal=second.galvanic)
    if a is None or b is None:
        return None
    limits = {row.word("limit"): row.number("value") for row in table("material-limits")}
    left, right = a.number("index"), b.number("index")
    return Gap(
        first.name if left > right else second.name,
        abs(left - right),
        limits["galvanic gap, outdoors, damp or salt"],
        limits["galvanic gap, indoors without climate control"],
        limits["galvanic gap, dry and climate-controlled"],
        a.cite(),
    )


class Embrittlement(NamedTuple):
    """Hardness against the limits for electroplated steel, HV."""

    hardness: float
    test_from: float
    agreement_from: float
    avoid_from: float
    source: str

    @property
    def at_risk(self) -> bool:
        """Whether the class may be harder than electroplating bears without more ado."""
        return self.hardness > self.avoid_from


_PLATED = ("electroplat", "galvanis", "galvaniz", "zinc", "cadmium", "chrome", "nickel plat", "nickel-plat")
_HARMLESS = ("flake", "mechanical", "hot-dip", "hot dip", "organic")


def electroplated(finish: str) -> bool:
    """Whether a recorded finish is one that goes on in an acid bath."""
    words = finish.lower()
    return any(word in words for word in _PLATED) and not any(word in words for word in _HARMLESS)


def embrittlement(hardness: float) -> Embrittlement:
    """A hardness (HV) against ISO 4042 clause 6 and SAE J1648."""
    held = {row.word("limit"): row for row in table("material-limits")}
    test = held["hardness from which electroplating needs an embrittlement test"]
    agreement = held["hardness from which the risk needs a written agreement"]
    avoid = held["hardness from which a coating other than electroplating may be needed"]
    return Embrittlement(
        hardness, test.number("value"), agreement.number("value"), avoid.number("value"),
        f"{test.source}; {avoid.source}",
    )  # fmt: skip


@lru_cache(maxsize=32)
def shear_ratio_bolt(stainless: bool = False) -> Property:
    """Shear strength of a bolt as a share of its tensile strength: the lowest firm figure, 0.577, to 0.65."""
    held = table("shear-ratios")
    row = held.first(material="Bolt steel, general")
    assert row is not None, "the table of shear ratios has lost bolt steel"
    low, high, cite, firm = row.number("low"), row.number("high"), row.cite(), row.firm
    if stainless:
        cold = held.first(material="Austenitic stainless, cold worked")
        high = cold.number("high") if cold else high
    return Property(low, high, cite, firm)
