"""Strength of bolts, screws, studs and nuts: metric classes, stainless classes, inch grades."""

from __future__ import annotations

from collections.abc import Iterable

from table_plans.plan import Cell, Facts, Plan, number, picked, sure

_CLASSES = ("4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9")


def _bolt_classes(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["iso898_1_property_classes"]:
        size = row["size_range"]
        over, up_to = (0.0, 16.0) if size.startswith("d <= 16") else (16.0, "") if "> 16" in size else (0.0, "")
        yield [
            row["property_class"], over, up_to, number(row["Rm_min_MPa"]), number(row["yield_min_MPa"]),
            row["yield_kind"].split(",")[0].split(" (")[0], number(row["Sp_proof_stress_MPa"]),
            number(row["HV_min"]), number(row["HV_max"]), number(row["HRC_max"]), "iso898", sure(row["confidence"]),
        ]  # fmt: skip


def _bolt_loads(facts: Facts) -> Iterable[list[Cell]]:
    for file, source in (("iso898_1_proof_loads_coarse", "coarse"), ("iso898_1_loads_fine", "fine")):
        for row in facts[file]:
            if row.get("in_standard", "yes") == "yes":
                loads = [number(row[f"Fp_{name}_N"]) for name in _CLASSES]
                yield [row["thread"], number(row["P_mm"]), *loads, source, sure(row["confidence"])]


def _stainless(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["iso3506_1_stainless"]:
        yield [
            row["steel_grade"], row["property_class"], number(row["Rm_min_MPa"]), number(row["Rp02_min_MPa"]),
            row["condition"], "iso3506", sure(row["confidence"]),
        ]  # fmt: skip


def _rockwell(text: str) -> Cell:
    """The upper figure of a Rockwell C range; "" for Rockwell B and where nothing is printed."""
    upper = text.split("-")[-1]
    return number(upper[1:]) if upper.startswith("C") else ""


def _inch_grades(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["inch_bolt_grades"]:
        size = row["size_from_in"]
        over = number(size.removeprefix("over ")) if size.startswith("over") else 0.0
        grade = row["grade"].replace(" (studs)", "")
        grade = {"socket head cap screw": "A574", "A": "A307 A", "": row["standard"].split()[-1].strip("()")}.get(
            grade, grade
        )
        yield [
            grade, row["standard"], over, number(row["size_to_in"]), number(row["proof_ksi"]),
            number(row["yield_min_ksi"]), number(row["tensile_min_ksi"]), _rockwell(row["hardness_HRB_or_HRC"]),
            "sae" if row["standard"].startswith("SAE") else "astm", sure(row["confidence"]),
        ]  # fmt: skip


PLANS = (
    Plan(
        "bolt-classes",
        "Property classes of steel bolts, screws and studs",
        (
            ("class", "", "property class"),
            ("over", "mm", "for nominal diameters over"),
            ("up_to", "mm", "and up to"),
            ("tensile", "MPa", "smallest tensile strength Rm"),
            ("yield", "MPa", "smallest yield strength"),
            ("yield_kind", "", "which yield strength: ReL, Rpf or Rp0.2"),
            ("proof", "MPa", "proof stress Sp"),
            ("hv_min", "HV", "smallest Vickers hardness"),
            ("hv_max", "HV", "largest Vickers hardness"),
            ("hrc_max", "HRC", "largest Rockwell hardness"),
        ),
        {
            "iso898": {
                "document": "ISO 898-1",
                "edition": "2013",
                "table": "Table 3",
                "note": "Proof stress recomputed from printed proof loads M3 to M27. One rendering prints 110 for the "
                "yield strength of 12.9, a lost digit. The yield figures of 4.8, 5.8 and 6.8 are guide values. In "
                "structural bolting the higher 8.8 figures hold from M12.",
            }
        },
        _bolt_classes,
    ),
    Plan(
        "bolt-loads",
        "Proof loads of steel bolts, screws and studs, as printed",
        (
            ("thread", "", "designation"),
            ("pitch", "mm", "pitch"),
            *((f"class_{name.replace('.', '_')}", "N", f"proof load, class {name}") for name in _CLASSES),
        ),
        {
            "coarse": {
                "document": "ISO 898-1",
                "edition": "2013",
                "table": "Table 5",
                "note": "M3 to M27 read in two renderings; M30 to M39 are stress area times proof stress, rounded to "
                "three figures. Single printed cells sit up to one unit of the third figure off the product.",
            },
            "fine": {
                "document": "ISO 898-1",
                "edition": "2013",
                "table": "Table 7",
                "note": "Stress area times proof stress, rounded to three figures, as for the coarse table.",
            },
        },
        _bolt_loads,
    ),
    Plan(
        "nut-loads",
        "Proof loads of steel nuts, coarse thread",
        (
            ("thread", "", "designation"),
            ("class_8", "N", "regular nut, class 8"),
            ("class_10", "N", "regular nut, class 10"),
            ("class_12", "N", "regular nut, class 12"),
            ("class_04", "N", "thin nut, class 04"),
            ("class_05", "N", "thin nut, class 05"),
        ),
        {
            "iso898": {
                "document": "ISO 898-2",
                "edition": "1992 and 2012",
                "table": "proof load values",
                "note": "Classes 8, 10 and 12 read once and checked by their stress steps; 04 and 05 are 380 and "
                "500 MPa times the stress area. The older DIN 267-4 scheme is lower and must not be mixed in.",
            }
        },
        picked(
            "iso898_2_nut_proof_loads",
            (
                "thread", "Fp_class8_N", "Fp_class10_N", "Fp_class12_N", "Fp_class04_N_computed",
                "Fp_class05_N_computed",
            ),
            "iso898",
        ),
    ),
    Plan(
        "stainless-classes",
        "Austenitic stainless bolts, screws and studs",
        (
            ("steels", "", "steel groups the class exists in"),
            ("class", "", "property class"),
            ("tensile", "MPa", "smallest tensile strength Rm"),
            ("yield", "MPa", "smallest 0.2 % proof strength Rp0.2"),
            ("condition", "", "how the steel was treated"),
        ),
        {
            "iso3506": {
                "document": "ISO 3506-1",
                "edition": "2009 and 2020",
                "table": "mechanical properties, austenitic grades",
                "note": "The standard defines no proof stress for these classes: Rp0.2 times the stress area stands "
                "for the load limit. Older editions allow class 70 up to M24 only unless agreed.",
            }
        },
        _stainless,
    ),
    Plan(
        "stainless-breaking-torque",
        "Smallest breaking torque of austenitic stainless screws, coarse thread",
        (
            ("thread", "", "designation"),
            ("class_50", "N·m", "class 50"),
            ("class_70", "N·m", "class 70"),
            ("class_80", "N·m", "class 80"),
        ),
        {
            "iso3506": {
                "document": "ISO 3506-1",
                "edition": "2009",
                "table": "minimum breaking torque",
                "note": "From memory; the classes stand to each other as their tensile strengths do.",
            }
        },
        picked(
            "iso3506_1_breaking_torque",
            ("thread", "MB_min_class50_Nm", "MB_min_class70_Nm", "MB_min_class80_Nm"),
            "iso3506",
        ),
    ),
    Plan(
        "inch-grades",
        "Inch bolts and screws: strength by grade",
        (
            ("grade", "", "grade"),
            ("standard", "", "standard that defines it"),
            ("over", "in", "for nominal sizes over"),
            ("up_to", "in", "and up to"),
            ("proof", "ksi", "proof stress"),
            ("yield", "ksi", "smallest yield strength"),
            ("tensile", "ksi", "smallest tensile strength"),
            ("hrc_max", "HRC", "largest Rockwell C hardness"),
        ),
        {
            "sae": {
                "document": "SAE J429",
                "edition": "1999",
                "table": "mechanical requirements by grade",
                "note": "Grade 2 holds its higher figures for bolts up to 6 in long; longer ones count as grade 1.",
            },
            "astm": {
                "document": "ASTM A307, A490, A574, F3125",
                "edition": "as current in 2024",
                "table": "tensile requirements",
                "note": "Later editions of A325 give 120 ksi for all sizes.",
            },
        },
        _inch_grades,
    ),
)
