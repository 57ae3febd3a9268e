"""Assembly: friction, nut factors, lubrication, scatter of preload, embedding, locking, protrusion."""

from __future__ import annotations

from collections.abc import Iterable

from table_plans.plan import Cell, Facts, Plan, number, picked, sure


def _nut_factors(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["nut_factors"]:
        condition, source = row["condition"], "sheets"
        if "textbook" in condition or "textbook" in row["source"]:
            source = "textbook"
        elif "handbook" in condition or "handbook" in row["source"]:
            source = "handbook"
        elif "IFI" in condition:
            source = "ifi"
        plain = condition.split(" (")[0]
        yield [
            plain, number(row["K_nominal"]), number(row["K_min"]), number(row["K_max"]), source,
            sure(row["confidence"]),
        ]  # fmt: skip
    for row in facts["nut_factor_K"]:
        if "textbook" not in row["condition"]:
            source = "ifi" if "IFI" in row["condition"] else "sheets"
            low, high = number(row["K_low"]), number(row["K_high"])
            yield [row["condition"].split(" (")[0], low, low, high, source, sure(row["confidence"])]


def _multipliers(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["torque_modifiers"]:
        if row["operation"].startswith("multiply"):
            trade = "trade" in row["confidence"]
            yield [
                row["condition"], row["applies_to"], number(row["factor"]), "manuals" if trade else "army",
                sure(row["confidence"]),
            ]  # fmt: skip
    for case, base, factor in (
        ("thread or seat wetted with oil", "dry table value", 0.85),
        ("spring washer fitted", "dry table value", 0.85),
        ("lubricated fasteners", "table for dry zinc", 0.75),
        ("cement in the thread", "table value", 1.1),
        ("prevailing-torque nut", "plain-nut value", 1.1),
        ("molybdenum disulphide on the thread", "table at friction 0.14", 0.8),
    ):
        yield [case, base, factor, "manuals", "one-source"]


def _friction(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["vdi2230_friction_classes"]:
        yield [
            row["class"], number(row["mu_min"]), number(row["mu_max"]), row["surface"], row["lubrication"], "vdi",
            sure(row["confidence"]),
        ]  # fmt: skip


# Conditions a record states, the friction class each belongs to, and the single figure to compute with.
_CONDITIONS = (
    ("dry", "C", 0.15, "from the nut factor 0.20 of plain fasteners as received", "nutfactor", "two-sources"),
    ("oil", "B", 0.12, "middle of class B", "class", "two-sources"),
    ("grease", "B", 0.12, "middle of class B", "class", "two-sources"),
    ("moly", "A", 0.07, "middle of class A; agrees with the nut factor 0.11", "class", "two-sources"),
    ("anti-seize", "A", 0.08, "from the nut factor 0.12", "nutfactor", "one-source"),
    ("wax", "A", 0.07, "middle of class A", "class", "two-sources"),
    ("threadlocker", "C", 0.19, "middle of class C, adhesive coatings", "class", "one-source"),
    ("pre-coated", "C", 0.19, "middle of class C, adhesive coatings", "class", "one-source"),
    ("stainless dry", "E", 0.35, "class E is open upward from 0.30", "class", "one-source"),
    ("stainless oil", "D", 0.27, "middle of class D", "class", "one-source"),
    ("stainless paste", "B", 0.12, "middle of class B", "class", "two-sources"),
)
_SPAN = {"A": (0.04, 0.10), "B": (0.08, 0.16), "C": (0.14, 0.24), "D": (0.20, 0.35), "E": (0.30, 0.45)}


def _conditions(_: Facts) -> Iterable[list[Cell]]:
    for name, friction_class, nominal, basis, source, doubt in _CONDITIONS:
        low, high = _SPAN[friction_class]
        yield [name, friction_class, nominal, low, high, basis, source, doubt]


def _scatter(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["preload_scatter_by_method"]:
        source = "nasa5020" if row["source"].startswith("NASA-STD-5020") else "tabled"
        yield [
            row["method"], number(row["plus_minus_percent_low"]), number(row["plus_minus_percent_high"]), source,
            sure(row["confidence"]),
        ]  # fmt: skip


def _prevailing(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["iso2320_prevailing_torque"]:
        classes = row["property_class"]
        yield [
            row["thread"], "05, 10, 12" if classes.startswith("05") else "04", number(row["first_on_max_Nm"]),
            number(row["first_off_min_Nm"]), number(row["fifth_off_min_Nm"]), "iso2320", sure(row["confidence"]),
        ]  # fmt: skip


def _reuse(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["faa_ac4313_table_7-2_prevailing_torque"]:
        yield [row["thread"], "self-locking nut", number(row["min_prevailing_torque_lbf_in"]), "faa", "one-source"]
    for row in facts["army_locknut_min_friction_torque"]:
        yield [row["thread"], "self-locking nut", number(row["min_friction_torque_lbf_in"]), "army", "two-sources"]
    for row in facts["army_prevailing_torque_locknut_lockscrew"]:
        kind = "nylon insert" if row["kind"].startswith("nylon") else "all-metal"
        yield [
            row["nominal_size_in"], kind, number(row["min_prevailing_torque_lbf_in"]), "army604", "one-source",
        ]  # fmt: skip


_LIMITS = (
    ("thread past the nut, aircraft", 1.0, "threads", "faa737", "one-source"),
    ("thread past a self-locking nut, flat end", 0.79, "mm", "faa764", "one-source"),
    ("thread past the nut, vehicles", 2.0, "threads", "army7b", "one-source"),
    ("washers under one nut to bring a cotter hole in line", 2.0, "washers", "trade", "one-source"),
    ("temperature of a nylon or fibre locknut, at most", 121.0, "°C", "faa764", "one-source"),
    ("temperature of a cadmium-plated nut, at most", 232.0, "°C", "faa712", "one-source"),
    ("drag counted from this share of the torque range", 0.333333, "", "army7c", "one-source"),
)


def _limits(_: Facts) -> Iterable[list[Cell]]:
    for row in _LIMITS:
        yield list(row)


PLANS = (
    Plan(
        "friction-classes",
        "Friction coefficient classes of thread and head",
        (
            ("class", "", "friction class"),
            ("low", "", "lowest coefficient"),
            ("high", "", "highest coefficient; empty: open upward"),
            ("surface", "", "surfaces"),
            ("lubrication", "", "lubrication"),
        ),
        {
            "vdi": {
                "document": "VDI 2230-1",
                "edition": "2003 and 2015",
                "table": "Table A5",
                "note": "Two catalogue renderings agree on classes A and B. The guideline aims at class B.",
            }
        },
        _friction,
    ),
    Plan(
        "conditions",
        "Conditions a record states, and the friction to compute with",
        (
            ("condition", "", "condition of thread and head"),
            ("class", "", "friction class"),
            ("nominal", "", "coefficient to compute with"),
            ("low", "", "lowest coefficient of the class"),
            ("high", "", "highest coefficient of the class; for class E a working limit"),
            ("basis", "", "where the single figure comes from"),
        ),
        {
            "class": {"document": "VDI 2230-1", "edition": "2003 and 2015", "table": "Table A5"},
            "nutfactor": {"document": "nut factors of fastener data sheets as a coefficient, range VDI 2230-1",
                          "edition": "2003 and 2015", "table": "Table A5"},
        },
        _conditions,
    ),
    Plan(
        "nut-factors",
        "Nut factor K in T = K F d, by condition",
        (
            ("condition", "", "condition"),
            ("nominal", "", "single figure"),
            ("low", "", "lowest figure of a range"),
            ("high", "", "highest figure of a range"),
        ),
        {
            "sheets": {"document": "fastener distributors' engineering data sheets", "edition": "undated",
                       "note": "Without a test on the joint K carries at least 25 to 30 %."},
            "ifi": {"document": "Industrial Fasteners Institute, technical data N-12, N-16",
                    "edition": "5th edition", "note": "Quoted in a machine manual."},
            "textbook": {"document": "machine-design textbook, torque factor table", "edition": "as quoted"},
            "handbook": {"document": "bolted-joint handbook, chapter 2", "edition": "as quoted"},
        },
        _nut_factors,
    ),
    Plan(
        "tightening-factors",
        "Largest preload over smallest, by method of tightening",
        (
            ("method", "", "method"),
            ("low", "", "lowest tightening factor"),
            ("high", "", "highest tightening factor"),
            ("scatter_low", "%", "lowest scatter about the mean"),
            ("scatter_high", "%", "highest scatter about the mean"),
        ),
        {
            "vdi": {
                "document": "VDI 2230-1",
                "edition": "2003 (scatter 1986)",
                "table": "Table A8",
                "note": "Factor = (1 + x) / (1 - x) for a scatter x.",
            }
        },
        picked(
            "vdi2230_tightening_factor",
            ("method", "alphaA_min", "alphaA_max", "scatter_min_percent", "scatter_max_percent"),
            "vdi",
        ),
    ),
    Plan(
        "preload-scatter",
        "Scatter of preload at a correct torque, by method of tightening",
        (("method", "", "method"), ("low", "%", "lowest scatter either way"), ("high", "%", "highest scatter")),
        {
            "tabled": {"document": "Machinery's Handbook and a NASA table", "edition": "as tabled together",
                       "table": "preload accuracy by method"},
            "nasa5020": {"document": "NASA-STD-5020", "edition": "2012", "table": "TFSR 6, Table 2",
                         "note": "Quoted in a public file."},
        },
        _scatter,
    ),
    Plan(
        "torque-multipliers",
        "By what a torque is multiplied when the condition is not that of its table",
        (
            ("condition", "", "condition met"),
            ("of", "", "what the torque was stated for"),
            ("factor", "", "multiply by"),
        ),
        {
            "army": {"document": "US Army TM 9-2320-362-14&P, TM 9-6115-604-34, TM 55-1520-240-23-1",
                     "table": "torque notes",
                     "note": "Sources disagree for oil: 0.90 for vehicles, 0.70 for an airframe."},
            "manuals": {"document": "machine makers' service manuals", "edition": "undated",
                        "note": "Oil corrections of 0.75, 0.85 and 0.90 hang on the friction each table assumes."},
        },
        _multipliers,
    ),
    Plan(
        "coating-multipliers",
        "By what a torque for plain dry parts is multiplied, by surface of nut and bolt",
        (("nut", "", "surface of the nut"), ("bolt", "", "surface of the bolt"), ("factor", "", "multiply by")),
        {
            "guide": {"document": "guide to torque values of a fastener distributor", "edition": "undated",
                      "note": "For friction 0.14 and 90 % of yield."}
        },
        picked("coating_torque_multiplier_matrix", ("nut_surface", "bolt_surface", "multiplier"), "guide", words=2),
    ),
    Plan(
        "embedding",
        "Flattening of rough faces after tightening, steel parts",
        (
            ("load", "", "load of the joint"),
            ("roughness", "", "roughness Rz, µm"),
            ("thread", "µm", "in the thread"),
            ("face", "µm", "each head or nut face"),
            ("interface", "µm", "each inner interface"),
        ),
        {"vdi": {"document": "VDI 2230-1", "edition": "2003", "table": "Table 5", "note": "From memory."}},
        picked(
            "vdi2230_embedding",
            ("load", "Rz_um", "thread_um", "per_head_or_nut_face_um", "per_interface_um"),
            "vdi",
            words=2,
        ),
    ),
    Plan(
        "prevailing-nuts",
        "Prevailing torque of new nuts and the least that is left after use",
        (
            ("thread", "", "nominal size; the same for fine pitch"),
            ("classes", "", "property classes of the nut"),
            ("first_on", "N·m", "largest torque, first time on"),
            ("first_off", "N·m", "smallest torque, first time off"),
            ("fifth_off", "N·m", "smallest torque, fifth time off"),
        ),
        {
            "iso2320": {
                "document": "ISO 2320",
                "edition": "1997 and 2008",
                "table": "prevailing torque",
                "note": "Class 04 read once; its test load is 0.8 of the class 04 proof load. In the 2015 edition "
                "M3 and M4 stand in an annex.",
            }
        },
        _prevailing,
    ),
    Plan(
        "prevailing-reuse",
        "Least running torque of a self-locking nut or screw that goes back in",
        (
            ("thread", "", "thread or nominal inch size"),
            ("kind", "", "kind of lock"),
            ("least", "lbf·in", "least running torque"),
        ),
        {
            "faa": {"document": "FAA AC 43.13-1B", "edition": "1998", "table": "Table 7-2",
                    "note": "Half to two thirds of the Army figures."},
            "army": {"document": "US Army TM 10-3510-220-24 and TM 10-4320-346-12&P", "table": "Tables D-2 and H-2"},
            "army604": {"document": "US Army TM 9-6115-604-34", "table": "Table 1-3",
                        "note": "Two of the printed N·m cells contradict their lbf·in cells; these are the lbf·in."},
        },
        _reuse,
    ),
    Plan(
        "assembly-limits",
        "Limits on protrusion, washers, temperature and drag",
        (("limit", "", "what is limited"), ("value", "", "the limit"), ("unit", "", "its unit")),
        {
            "faa737": {"document": "FAA AC 43.13-1B", "edition": "1998", "table": "paragraph 7-37"},
            "faa764": {"document": "FAA AC 43.13-1B", "edition": "1998", "table": "paragraph 7-64f"},
            "faa712": {"document": "FAA AC 43.13-1B", "edition": "1998", "table": "page 7-12"},
            "army7b": {"document": "US Army TB 43-0218", "table": "paragraph 7b"},
            "army7c": {"document": "US Army TB 43-0218", "table": "paragraph 7c",
                       "note": "FAA AC 43.13-1B paragraph 7-40d adds the drag always."},
            "trade": {"document": "aircraft maintenance manual, section 20-70", "edition": "undated"},
        },
        _limits,
    ),
)
