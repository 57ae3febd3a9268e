"""Torque tools and published torques: permitted deviation, useful range, plugs, plastics, inch screws."""

from __future__ import annotations

from collections.abc import Iterable

from table_plans.plan import Cell, Facts, Plan, number, sure


def _deviations(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["iso6789_deviation_classes"]:
        yield [
            row["type"], row["class"], row["tool"], number(row["limit_max_torque_up_to_10Nm_percent"]),
            number(row["limit_above_10Nm_percent"]), 20.0, "iso6789", sure(row["confidence"]),
        ]  # fmt: skip
    yield ["", "", "torque wrench, any", 4.0, 4.0, 20.0, "army204", "one-source"]


def _ranges(facts: Facts) -> Iterable[list[Cell]]:
    yield ["smallest setting of a setting wrench", 0.2, 1.0, "iso6789", "one-source"]
    yield ["most effective part of the range", 0.25, 0.75, "army43", "one-source"]
    yield ["most accurate part of the range", 0.3, 0.8, "army204", "one-source"]


def _plugs(facts: Facts) -> Iterable[list[Cell]]:
    for file, sealing, source in (
        ("plug_torque_din908_910_copper_washer", "copper ring, oiled", "mtn1"),
        ("plug_torque_mtn5183-6", "not stated", "mtn6"),
    ):
        for row in facts[file]:
            yield [
                row["thread"], sealing, number(row["into_steel_or_grey_iron_N_m"]),
                number(row["into_aluminium_alloy_N_m"]), source, sure(row["confidence"]),
            ]  # fmt: skip


def _plastic(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["plastic_screw_torque_rule"]:
        trade = "trade" in row["confidence"]
        yield [row["item"], number(row["value"]), "trade" if trade else "gbt", sure(row["confidence"])]


def _inch(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["army_sae_inch_torque_dry"]:
        for grade, column in (("2", "grade_1_or_2"), ("5", "grade_5"), ("7", "grade_6_or_7"), ("8", "grade_8")):
            torque = number(row[f"{column}_lbf_ft"])
            if torque != "":
                yield [row["thread"], grade, "dry", torque, torque, "lbf·ft", "army", sure(row["confidence"])]
    for row in facts["faa_ac4313_table_7-1_torque"]:
        low = number(row["tension_nut_MS20365_AN310_install_min_lbf_in"])
        high = number(row["tension_nut_install_max_lbf_in"])
        yield [
            row["thread"], "tension nut", "cadmium, oil-free", low, high, "lbf·in", "faa", sure(row["confidence"]),
        ]  # fmt: skip


def _care(facts: Facts) -> Iterable[list[Cell]]:
    yield ["calibration interval, at most", 12.0, "months", "faa740", "one-source"]
    yield ["calibration interval, at most", 5000.0, "operations", "iso6789", "one-source"]
    yield ["operations at full capacity before a check", 5.0, "operations", "iso6789", "one-source"]
    yield ["scale division, at most this share of the torque", 0.1, "", "army204", "one-source"]
    yield ["display step, at most this share of the permitted deviation", 0.25, "", "iso6789", "one-source"]


PLANS = (
    Plan(
        "wrench-deviations",
        "Permitted deviation of hand torque tools",
        (
            ("type", "", "I indicating, II setting"),
            ("class", "", "class within the type"),
            ("tool", "", "tool"),
            ("up_to_10", "%", "tools whose largest torque is 10 N·m or less"),
            ("above_10", "%", "tools whose largest torque is above 10 N·m"),
            ("from_share", "%", "valid from this share of the largest torque"),
        ),
        {
            "iso6789": {
                "document": "ISO 6789-1",
                "edition": "2017, as 2003",
                "table": "clause 5.1.5 maximum permissible deviation",
                "note": "Type II class A read in a tool manual; one seller prints lower limits, not used.",
            },
            "army204": {"document": "US Army TM 1-1500-204-23-9", "table": "Table 8-1"},
        },
        _deviations,
    ),
    Plan(
        "wrench-ranges",
        "What part of a torque wrench's range to use",
        (("rule", "", "rule"), ("from", "", "from this share of the largest torque"), ("to", "", "to this share")),
        {
            "iso6789": {"document": "ISO 6789", "edition": "2003", "table": "calibration points 20, 60 and 100 %",
                        "note": "Since 2017 the range begins at the lowest marked value."},
            "army43": {"document": "US Army TB 43-0218", "table": "Table 3-1",
                       "note": "The rows of the printed table do not all follow the 25 to 75 % it states."},
            "army204": {"document": "US Army TM 1-1500-204-23-9", "table": "paragraph 8-3"},
        },
        _ranges,
    ),
    Plan(
        "wrench-care",
        "Numbers about looking after torque wrenches",
        (("item", "", "item"), ("value", "", "figure"), ("unit", "", "unit")),
        {
            "faa740": {"document": "FAA AC 43.13-1B", "edition": "1998", "table": "paragraph 7-40a",
                       "note": "At once if dropped or abused."},
            "iso6789": {"document": "ISO 6789", "edition": "2003, display step 2017", "table": "calibration"},
            "army204": {"document": "US Army TM 1-1500-204-23-9", "table": "paragraph 8-3"},
        },
        _care,
    ),
    Plan(
        "plug-torques",
        "Torque of sealed screw plugs by parent metal",
        (
            ("thread", "", "thread"),
            ("sealing", "", "sealing and lubrication"),
            ("into_iron", "N·m", "into steel or grey cast iron"),
            ("into_aluminium", "N·m", "into aluminium alloy"),
        ),
        {
            "mtn1": {"document": "MTN 5183-1, an engine maker's works standard", "edition": "as printed in a manual",
                     "table": "plugs DIN 908, DIN 910, DIN 7604 with DIN 7603 copper ring", "note": "10 % tolerance."},
            "mtn6": {"document": "MTN 5183-6, an engine maker's works standard", "edition": "as printed in a manual",
                     "table": "plug screws", "note": "For aluminium a plus tolerance of 2 to 20 N·m."},
        },
        _plugs,
    ),
    Plan(
        "plastic-screws",
        "Screws in plastic: where the torque stands between driving in and stripping",
        (("item", "", "item"), ("value", "", "figure")),
        {
            "gbt": {"document": "GB/T 43655", "edition": "2024", "table": "target torque",
                    "note": "Target = driving torque + k (strip torque - driving torque); quoted by a supplier."},
            "trade": {"document": "screw supplier's advice", "edition": "undated"},
        },
        _plastic,
    ),
    Plan(
        "inch-torques",
        "Published torques of inch screws and nuts",
        (
            ("thread", "", "thread"),
            ("of", "", "grade of the screw, or kind of nut"),
            ("condition", "", "condition"),
            ("low", "", "lowest torque"),
            ("high", "", "highest torque"),
            ("unit", "", "unit of both"),
        ),
        {
            "army": {"document": "US Army TM 10-6640-238-13 and TM 10-3510-220-24", "table": "Tables G-1 and D-1",
                     "note": "Clean dry threads, 10 % tolerance. Another manual misprints 1-1/4-12 grade 8 as 1820."},
            "faa": {"document": "FAA AC 43.13-1B", "edition": "1998", "table": "Table 7-1",
                    "note": "Oil-free cadmium-plated threads, bolts loaded mainly in shear."},
        },
        _inch,
    ),
)
