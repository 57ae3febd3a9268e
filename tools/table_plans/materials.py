"""Materials that are tapped, clamped or paired: strength, bearing limit, engagement, galvanic index."""

from __future__ import annotations

from collections.abc import Iterable

from table_plans.plan import Cell, Facts, Plan, number, picked, sure

# The gathered table holds shear and bearing figures as remarks; this is their reading: (low, high, source, confidence).
_SHEAR = {
    "EN-GJL-250": (290, 290, "en1561", "memory"),
    "EN-GJS-400-15": (360, 360, "en1563", "one-source"),
    "AlSi9Cu3(Fe) EN AC-46000 pressure die cast": (137, 168, "en1706", "one-source"),
    "A380 pressure die cast": (190, 190, "diecast", "two-sources"),
    "380 pressure die cast": (190, 190, "diecast", "one-source"),
    "AlSi10Mg(Fe) EN AC-43400 pressure die cast": (137, 168, "en1706", "memory"),
    "360 pressure die cast": (190, 190, "diecast", "two-sources"),
    "A360 pressure die cast": (180, 180, "diecast", "one-source"),
    "AZ91D pressure die cast": (115, 140, "magnesium", "two-sources"),
    "PA66-GF30": (60, 60, "plastics", "memory"),
    "PA6 unfilled": (30, 30, "plastics", "memory"),
    "ABS": (20, 25, "plastics", "practice"),
    "Brass CuZn39Pb3 R430": (260, 260, "copper", "memory"),
    "Copper Cu-ETP soft R220": (150, 150, "copper", "memory"),
    "Copper Cu-ETP half hard R250": (170, 170, "copper", "memory"),
    "S235": (200, 220, "steel", "two-sources"),
}
_BEARING = {
    "PA66-GF30": (25, 30, "plastics", "memory"),
    "PA6 unfilled": (15, 20, "plastics", "memory"),
    "ABS": (10, 15, "plastics", "practice"),
    "Brass CuZn39Pb3 R430": (300, 300, "copper", "memory"),
}
# Tensile strength as conditioned in air (lowest grade for ABS): what a joint lives with, not the dry moulding.
_CONDITIONED = {"PA66-GF30": 120.0, "PA66-GF25": 110.0, "PA6 unfilled": 45.0, "ABS": 38.0}
_FAMILY_SOURCE = {"magnesium": "magnesium", "plastic": "plastics", "copper alloy": "copper", "copper": "copper"}


def _source_of(row: dict[str, str]) -> str:
    if row["family"] == "cast iron":
        return "en1561" if "GJL" in row["material"] else "en1563"
    if row["family"] == "aluminium":
        return "en1706" if "EN AC" in row["material"] else "diecast"
    return _FAMILY_SOURCE.get(row["family"], "steel")


def _materials(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["mating_materials"]:
        name, sure_of, source = row["material"], sure(row["confidence"]), _source_of(row)
        tensile = _CONDITIONED.get(name, number(row["Rm_MPa"]))
        if name == "PA66-GF30":  # read for the 25 % grade only
            sure_of = "memory"
        yield [name, row["family"], "tensile", tensile, tensile, "MPa", source, sure_of]
        if row["yield_MPa"] and row["family"] != "plastic":
            strength = number(row["yield_MPa"])
            doubt = "memory" if name.startswith("AlSi9Cu3") else sure_of
            yield [name, row["family"], "yield", strength, strength, "MPa", source, doubt]
        if name in _SHEAR:
            low, high, source_of, doubt = _SHEAR[name]
            yield [name, row["family"], "shear", low, high, "MPa", source_of, doubt]
        if name in _BEARING:
            low, high, source_of, doubt = _BEARING[name]
            yield [name, row["family"], "bearing", low, high, "MPa", source_of, doubt]
        yield [name, row["family"], "stiffness", number(row["E_MPa"]), number(row["E_MPa"]), "MPa", source, sure_of]


def _bearing(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["surface_pressure_limits"]:
        yield [
            row["material"], number(row["Rm_min_MPa"].split("-")[0]), number(row["pG_MPa"]),
            "unverified" if row["flag"].startswith("unverified") else "", "vdi" + row["edition"],
            sure(row["confidence"]),
        ]  # fmt: skip


def _engagement(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["thread_engagement_rules"]:
        if not row["Le_over_d_min"].startswith("+"):
            source = "textbook" if "textbook" in row["source"] else "insert" if "DIN 8140" in row["source"] else "rule"
            yield [
                row["tapped_material"].lower(), number(row["Le_over_d_min"]), number(row["Le_over_d_max"]), source,
                sure(row["confidence"]),
            ]  # fmt: skip
    yield ["nut height or tapped depth", 1.0, 1.0, "army7a", "one-source"]
    yield ["tapped depth in softer metal", 1.5, 1.5, "army7a", "one-source"]
    yield ["cap screw in aluminium", 2.0, 2.0, "army", "one-source"]


# Names a record uses, and the material that stands for each: the weaker of the common ones.
_NAMES = (
    ("aluminium die-cast", "aluminium", "AlSi9Cu3(Fe) EN AC-46000 pressure die cast", "GD-AlSi9Cu3 (pressure die cast)",
     "aluminium", "aluminium, cast"),
    ("aluminium cast", "aluminium", "AlSi9Cu3(Fe) EN AC-46000 pressure die cast", "GK-AlSi9Cu3 (chill cast)",
     "cast aluminium alloy", "aluminium, cast"),
    ("aluminium", "aluminium", "AlSi9Cu3(Fe) EN AC-46000 pressure die cast", "AlMgSi1 F28", "aluminium",
     "aluminium, wrought"),
    ("magnesium", "magnesium", "AZ91D pressure die cast", "AZ91", "aluminium", "magnesium"),
    ("grey cast iron", "cast iron", "EN-GJL-250", "EN-GJL-250", "cast iron, brass, bronze", "carbon steel, cast iron"),
    ("ductile cast iron", "cast iron", "EN-GJS-400-15", "EN-GJS-400-15", "cast iron, brass, bronze",
     "carbon steel, cast iron"),
    ("steel", "steel", "S235", "S235 (USt 37-2)", "steel", "carbon steel, cast iron"),
    ("stainless steel", "stainless steel", "", "X5CrNi18-12", "steel", "stainless steel, 18 % chromium"),
    ("brass", "copper alloy", "Brass CuZn39Pb3 R430", "", "cast iron, brass, bronze", "brass and bronze"),
    ("copper", "copper", "Copper Cu-ETP soft R220", "", "copper alloys", "copper"),
    ("plastic", "plastic", "ABS", "", "plastics with moulded or formed thread", ""),
    ("nylon", "plastic", "PA6 unfilled", "", "plastics with moulded or formed thread", ""),
    ("glass-filled nylon", "plastic", "PA66-GF30", "", "plastics with moulded or formed thread", ""),
    ("titanium", "titanium", "", "TiAl6V4", "steel", "titanium"),
    ("zinc", "zinc", "", "", "", "zinc"),
    ("cadmium", "cadmium", "", "", "", "cadmium"),
)  # fmt: skip


def _names(_: Facts) -> Iterable[list[Cell]]:
    for row in _NAMES:
        yield [*row, "choice", "practice"]


_GALVANIC = (
    ("gold, platinum, graphite", 0.0, "two-sources"),
    ("silver", 0.15, "two-sources"),
    ("nickel", 0.3, "two-sources"),
    ("titanium", 0.3, "two-sources"),
    ("copper", 0.35, "one-source"),
    ("brass and bronze", 0.4, "two-sources"),
    ("stainless steel, 18 % chromium", 0.5, "two-sources"),
    ("chromium plating", 0.6, "one-source"),
    ("tin", 0.65, "two-sources"),
    ("lead", 0.7, "one-source"),
    ("cadmium", 0.8, "one-source"),
    ("carbon steel, cast iron", 0.85, "two-sources"),
    ("aluminium, wrought", 0.9, "one-source"),
    ("aluminium, cast", 0.95, "one-source"),
    ("zinc", 1.25, "one-source"),
    ("magnesium", 1.75, "one-source"),
)


def _galvanic(_: Facts) -> Iterable[list[Cell]]:
    for name, volts, doubt in _GALVANIC:
        yield [name, volts, "index", doubt]


def _limits(_: Facts) -> Iterable[list[Cell]]:
    yield ["galvanic gap, outdoors, damp or salt", 0.15, "V", "index", "two-sources"]
    yield ["galvanic gap, indoors without climate control", 0.25, "V", "index", "two-sources"]
    yield ["galvanic gap, dry and climate-controlled", 0.5, "V", "index", "two-sources"]
    yield ["hardness from which electroplating needs an embrittlement test", 320.0, "HV", "iso4042", "one-source"]
    yield ["hardness from which the risk needs a written agreement", 365.0, "HV", "iso4042", "one-source"]
    yield ["hardness from which a coating other than electroplating may be needed", 390.0, "HV", "j1648", "one-source"]


PLANS = (
    Plan(
        "materials",
        "Materials that are tapped or clamped: one property a row",
        (
            ("material", "", "material"),
            ("family", "", "family it belongs to"),
            ("property", "", "tensile, yield, shear, bearing or stiffness"),
            ("low", "", "lowest figure"),
            ("high", "", "highest figure"),
            ("unit", "", "unit of both figures"),
        ),
        {
            "en1561": {"document": "EN 1561", "edition": "2011", "table": "EN-GJL-250",
                       "note": "For separately cast bars; a wall of 40 mm has about 170 MPa."},
            "en1563": {"document": "EN 1563", "edition": "2018", "table": "ferritic grades",
                       "note": "The shear figure is that of EN-GJS-400-18."},
            "en1706": {"document": "EN 1706", "edition": "2010", "table": "pressure die castings",
                       "note": "Smallest tensile strength; shear is 0.57 to 0.70 of it. Walls are weaker."},
            "diecast": {"document": "die-casting association product standard, typical properties", "edition": "2006",
                       "table": "aluminium alloys",
                       "note": "Typical figures of separately cast bars, read in two renderings where marked."},
            "magnesium": {"document": "die-casting association product standard, a materials data page",
                          "edition": "2006, 2012", "table": "AZ91D",
                          "note": "Shear is printed as 140 and as 115 to 140 MPa."},
            "plastics": {"document": "moulding compound data sheets", "edition": "undated",
                         "table": "mechanical properties",
                         "note": "As conditioned in air. Shear and lasting bearing pressure are engineering rules."},
            "copper": {"document": "EN 12164 and EN 1652", "edition": "1998", "table": "mechanical properties"},
            "steel": {"document": "EN 10025-2, ratios as in VDI 2230-1", "edition": "2004, 2003", "table": "S235",
                      "note": "Shear is 0.58 to 0.65 of the tensile strength."},
        },
        _materials,
    ),
    Plan(
        "material-names",
        "Names that records use for a material, and what stands for each",
        (
            ("name", "", "name in a record"),
            ("family", "", "family"),
            ("strength", "", "row of the table of materials that stands for it"),
            ("bearing", "", "row of the table of bearing-pressure limits that stands for it"),
            ("engagement", "", "row of the table of engagement rules"),
            ("galvanic", "", "row of the galvanic index"),
        ),
        {
            "choice": {
                "document": "common practice, no source",
                "note": "A bare name stands for the weaker of the common materials that bear it.",
            }
        },
        _names,
    ),
    Plan(
        "bearing-limits",
        "Largest pressure under a head or nut, by material of the part",
        (
            ("material", "", "material of the clamped part"),
            ("tensile", "MPa", "its smallest tensile strength"),
            ("limit", "MPa", "limiting pressure at room temperature, hole without chamfer"),
            ("flag", "", "unverified where the guideline itself says so"),
        ),
        {
            "vdi2003": {"document": "VDI 2230-1", "edition": "2003", "table": "Table A9",
                        "note": "Read in one rendering. Figures in italics there are flagged unverified."},
            "vdi1986": {"document": "VDI 2230-1", "edition": "1986", "table": "limiting surface pressure",
                        "note": "Much lower than the later edition for steels: take the lower figure."},
        },
        _bearing,
    ),
    Plan(
        "shear-ratios",
        "Shear strength as a share of tensile strength, for stripping",
        (("material", "", "material"), ("low", "", "lowest ratio"), ("high", "", "highest ratio")),
        {
            "vdi": {
                "document": "VDI 2230-1, with EN 1561, EN 1563 and DIN 8140",
                "edition": "2003",
                "table": "Table 5.5/6 family",
                "note": "For pressure die castings the ratio is typical shear over typical tensile strength, which is "
                "lower than the guideline's 0.70 for castings.",
            }
        },
        picked("shear_strength_ratio", ("material", "ratio_min", "ratio_max"), "vdi"),
    ),
    Plan(
        "engagement-rules",
        "Least engaged length by tapped material, in screw diameters",
        (("material", "", "tapped material"), ("least", "", "lowest rule"), ("most", "", "highest rule")),
        {
            "rule": {"document": "common rule of the trade, printed in generator and machine service manuals",
                     "note": "No standard behind it."},
            "textbook": {"document": "machine-element textbook table", "edition": "German original",
                         "table": "recommended engagement",
                         "note": "Read from a scrambled page: single cells with care. 25 % more for fine pitch, 20 % "
                         "more under alternating load."},
            "insert": {"document": "DIN 8140 worked case", "table": "wire thread insert"},
            "army7a": {"document": "US Army TB 43-0218", "table": "paragraph 7a"},
            "army": {"document": "US Army TM 9-6115-604-34 and TM 5-3895-367-14&P", "table": "table 1-2 note 6, H-2"},
        },
        _engagement,
    ),
    Plan(
        "engagement-by-class",
        "Least engaged length by tapped material and class of the screw, in screw diameters",
        (
            ("material", "", "tapped material"),
            ("strength", "", "its strength"),
            ("class_8_8_coarse", "", "class 8.8, coarse thread"),
            ("class_8_8_fine", "", "class 8.8, fine thread"),
            ("class_10_9_coarse", "", "class 10.9, coarse thread"),
            ("class_10_9_fine", "", "class 10.9, fine thread"),
            ("class_12_9_coarse", "", "class 12.9, coarse thread"),
        ),
        {
            "catalogue": {
                "document": "fastener catalogue, technical part",
                "edition": "2021",
                "table": "engagement in cut internal thread 6H",
                "note": "Two prints of one origin agree. Aluminium cells right of 8.8 are uncertain in their column.",
            }
        },
        picked(
            "thread_engagement_by_class",
            (
                "tapped_material", "strength_MPa", "class_8_8_coarse_xd", "class_8_8_fine_xd", "class_10_9_coarse_xd",
                "class_10_9_fine_xd", "class_12_9_coarse_xd",
            ),
            "catalogue",
            words=2,
        ),
    ),
    Plan(
        "galvanic-index",
        "Anodic index of metals and platings: how far each stands from gold",
        (("metal", "", "metal or plating"), ("index", "V", "anodic index")),
        {
            "index": {
                "document": "anodic index after MIL-STD-889 and MIL-STD-1250",
                "edition": "as printed by two engineering pages",
                "table": "anodic index",
                "note": "Two-sources where both pages were legible for the metal. Stainless steel that is starved of "
                "oxygen stands much nearer to steel.",
            }
        },
        _galvanic,
    ),
    Plan(
        "material-limits",
        "Limits for pairs of metals and for plated high-strength fasteners",
        (("limit", "", "what is limited"), ("value", "", "the limit"), ("unit", "", "its unit")),
        {
            "index": {"document": "anodic index after MIL-STD-889", "edition": "as printed by four engineering pages",
                      "table": "allowed difference by surroundings"},
            "iso4042": {"document": "ISO 4042", "edition": "1999", "table": "clause 6",
                        "note": "The 2018 edition puts the limit for electroplating without further proof higher."},
            "j1648": {"document": "SAE J1648", "edition": "as quoted by a plating forum",
                      "table": "hardness above 40 HRC (390 HV)"},
        },
        _limits,
    ),
)
