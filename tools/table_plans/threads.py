"""Threads: pitches, basic diameters and stress areas, metric and unified."""

from __future__ import annotations

from collections.abc import Iterable

from table_plans.plan import Cell, Facts, Plan, number, picked, sure


def _pitches(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["iso261_262_pitches"]:
        size = number(row["d_mm"])
        yield [size, number(row["P_coarse_mm"]), "coarse", "", "iso261", sure(row["confidence_coarse"])]
        selected = {text.strip() for text in row["P_fine_iso262_mm"].split(";")}
        for text in row["P_fine_iso261_mm"].split(";"):
            text = text.strip()
            note = "spark plugs only" if "spark" in text else "avoid" if text.startswith("(") else ""
            pitch = text.split(" (")[0].strip("() ")
            series = "fine, selected" if pitch in selected else "fine"
            yield [size, number(pitch), series, note, "iso261", sure(row["confidence"])]


def _unified(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["un_stress_areas"]:
        yield [
            row["size"].removeprefix("No. "), row["series"], number(row["D_in"]), number(row["threads_per_inch"]),
            number(row["As_published_in2"]), number(row["internal_strip_area_in2_per_in"]), "b11",
            sure(row["confidence"]),
        ]  # fmt: skip


PLANS = (
    Plan(
        "metric-pitches",
        "Metric thread pitches by nominal diameter",
        (
            ("diameter", "mm", "nominal diameter"),
            ("pitch", "mm", "pitch"),
            ("series", "", "coarse, fine, or fine and among the selected sizes for bolts and nuts"),
            ("note", "", "where the combination is restricted"),
        ),
        {
            "iso261": {
                "document": "ISO 261 and ISO 262",
                "edition": "1998",
                "table": "general plan, selected sizes for screws, bolts and nuts",
                "note": "Coarse pitches read in two places; fine pitches from memory, agreeing with the fine sizes of "
                "ISO 898-1 where that standard lists them.",
            }
        },
        _pitches,
    ),
    Plan(
        "metric-threads",
        "Metric threads: basic diameters and nominal stress area",
        (
            ("thread", "", "designation"),
            ("diameter", "mm", "nominal diameter d"),
            ("pitch", "mm", "pitch P"),
            ("minor", "mm", "basic minor diameter d1 = D1"),
            ("flank", "mm", "pitch diameter d2"),
            ("root", "mm", "root diameter d3 of the bolt thread"),
            ("stress_area", "mm²", "nominal stress area as printed"),
        ),
        {
            "iso724": {
                "document": "ISO 724, stress area ISO 898-1",
                "edition": "1993, 2013",
                "table": "basic dimensions, Tables 4 and 6",
                "note": "Diameters follow from the ISO 68-1 profile. Coarse stress areas M3 to M39 read in two "
                "renderings, each equal to the formula after rounding to three figures.",
            }
        },
        picked(
            "metric_thread_geometry",
            ("thread", "d_mm", "P_mm", "d1_mm", "d2_mm", "d3_mm", "As_nominal_mm2"),
            "iso724",
        ),
    ),
    Plan(
        "unified-threads",
        "Unified threads UNC and UNF: size, threads per inch, stress area",
        (
            ("size", "", "nominal size: number or fraction of an inch"),
            ("series", "", "UNC or UNF"),
            ("diameter", "in", "basic major diameter"),
            ("threads_per_inch", "1/in", "threads per inch"),
            ("stress_area", "in²", "tensile stress area as printed"),
            ("strip_area", "in²/in", "shear area of the internal thread per inch engaged, class 2 fit, as printed"),
        ),
        {
            "b11": {
                "document": "ASME B1.1, stripping area after FED-STD-H28/2",
                "edition": "2003",
                "table": "tensile stress area, UNC and UNF",
                "note": "Read in two fastener data sheets, equal to 0.7854 (D - 0.9743/n)² within 0.2 %. One sheet "
                "rounds 5/16-18 to 0.0525, 5/16-24 to 0.0581, 3/4-10 to 0.335, 7/8-14 to 0.510.",
            }
        },
        _unified,
    ),
)
