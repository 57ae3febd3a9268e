"""What turns and what bears: heads, nuts, drives, washers, sealing rings, clearance holes."""

from __future__ import annotations

from collections.abc import Iterable

from table_plans.plan import Cell, Facts, Plan, number, picked, sure

_SIZE = ("thread", "", "nominal size")
_CAD = "Read in a CAD part library."


def _bearing(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["hex_head_across_flats"]:
        yield [row["thread"], "hex", number(row["dw_min_mm"]), "iso4014", "one-source"]
    for row in facts["hex_socket_screws"]:
        yield [row["thread"], "cap", number(row["iso4762_dw_min_mm"]), "iso4762", sure(row["confidence_iso4762_dw"])]
    for row in facts["flange_head_hex"]:
        if row["small_dw_min_mm"]:
            yield [row["thread"], "small flange", number(row["small_dw_min_mm"]), "en1662", sure(row["confidence"])]
        yield [row["thread"], "heavy flange", number(row["heavy_dw_min_mm"]), "en1665", sure(row["confidence"])]


def _rings(facts: Facts) -> Iterable[list[Cell]]:
    seen = set()
    for row in facts["din7603_form_a_rings"]:
        size = [number(row[name]) for name in ("d1_nom_mm", "d2_nom_mm", "h_mm")]
        seen.add(tuple(size))
        yield [row["fits_thread"], *size, "din7603", sure(row["confidence"])]
    for row in facts["din7603_form_A_sizes"]:
        size = [number(row[name]) for name in ("inner_nominal_mm", "outer_nominal_mm", "thickness_mm")]
        if tuple(size) not in seen:
            yield ["", *size, "din7603", sure(row["confidence"])]


# B after the second print, which also has the sizes above T60.
_SECOND = (
    ("T6", 1.75, 1.27), ("T8", 2.4, 1.75), ("T10", 2.8, 2.05), ("T15", 3.35, 2.4), ("T20", 3.95, 2.85),
    ("T25", 4.5, 3.25), ("T30", 5.6, 4.05), ("T40", 6.75, 4.85), ("T45", 7.93, 5.64), ("T50", 8.95, 6.45),
    ("T55", 11.35, 8.05), ("T60", 13.45, 9.6), ("T70", 15.7, 11.2), ("T80", 17.75, 12.8), ("T90", 20.2, 14.4),
    ("T100", 22.4, 16.0),
)  # fmt: skip


def _hexalobular(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["hexalobular_drive_sizes"]:
        yield [row["drive"], number(row["A_mm"]), number(row["B_mm"]), "iso10664", sure(row["confidence"])]
    for drive, points, flutes in _SECOND:
        yield [drive, points, flutes, "second", "one-source"]


def _widths(facts: Facts) -> Iterable[list[Cell]]:
    for row in facts["hex_head_across_flats"]:
        yield [
            row["thread"], number(row["s_iso_mm"]), number(row["s_din_old_mm"]), number(row["k_nom_mm"]), "iso272",
            sure(row["confidence"]),
        ]  # fmt: skip


# Nominal size in inches, across flats, height, normal clearance hole.
_INCH_HEX = (
    (0.25, 7 / 16, 5 / 32, 9 / 32), (0.3125, 1 / 2, 13 / 64, 11 / 32), (0.375, 9 / 16, 1 / 4, 13 / 32),
    (0.4375, 5 / 8, 19 / 64, 15 / 32), (0.5, 3 / 4, 11 / 32, 9 / 16), (0.5625, 13 / 16, 23 / 64, 5 / 8),
    (0.625, 15 / 16, 27 / 64, 11 / 16), (0.75, 9 / 8, 1 / 2, 13 / 16), (0.875, 21 / 16, 37 / 64, 15 / 16),
    (1.0, 1.5, 43 / 64, 35 / 32), (1.125, 27 / 16, 11 / 16, 39 / 32), (1.25, 15 / 8, 27 / 32, 43 / 32),
    (1.5, 2.25, 15 / 16, 13 / 8),
)  # fmt: skip


def _inch_hex(_: Facts) -> Iterable[list[Cell]]:
    for row in _INCH_HEX:
        yield [*row, "b1821", "one-source"]


PLANS = (
    Plan(
        "hex-heads",
        "Hexagon heads: width across flats, today's and the older one",
        (
            _SIZE,
            ("across_flats", "mm", "width across flats after ISO 272"),
            ("across_flats_din", "mm", "width across flats of the older DIN 931 and DIN 933"),
            ("height", "mm", "head height k"),
        ),
        {
            "iso272": {
                "document": "ISO 272, ISO 4014, ISO 4017, DIN 931, DIN 933",
                "edition": "1982, 2011",
                "table": "widths across flats",
                "note": "M10, M12, M14 and M22 changed: 17, 19, 22, 32 became 16, 18, 21, 34. Tables that carry the "
                "old width under the new name are common.",
            }
        },
        _widths,
    ),
    Plan(
        "inch-hex-heads",
        "Inch hexagon cap screws: width across flats, head height, normal clearance hole",
        (
            ("diameter", "in", "nominal size"),
            ("across_flats", "in", "width across flats"),
            ("height", "in", "head height"),
            ("hole", "in", "clearance hole, normal fit"),
        ),
        {
            "b1821": {
                "document": "ASME B18.2.1, holes ASME B18.2.8",
                "edition": "2012, 1999",
                "table": "hex cap screws, normal fit",
                "note": "Read in an open CAD library.",
            }
        },
        _inch_hex,
    ),
    Plan(
        "bearing-faces",
        "Outer diameter of the bearing face under a head",
        (_SIZE, ("head", "", "kind of head"), ("diameter", "mm", "smallest outer diameter dw of the bearing face")),
        {
            "iso4014": {
                "document": "ISO 4014 and ISO 4017",
                "edition": "2011",
                "table": "dw min, product grade A to M24, B above",
                "note": "A CAD part library carries the same figures rounded to 0.1 mm (M14 wrongly).",
            },
            "iso4762": {"document": "ISO 4762", "edition": "2004", "table": "dw min", "note": _CAD},
            "en1662": {"document": "EN 1662", "edition": "1998", "table": "dw min", "note": _CAD},
            "en1665": {"document": "EN 1665", "edition": "1998", "table": "dw min", "note": _CAD},
        },
        _bearing,
    ),
    Plan(
        "flange-heads",
        "Hexagon flange bolts: width across flats and flange",
        (
            _SIZE,
            ("small_across_flats", "mm", "small series, width across flats"),
            ("small_flange", "mm", "small series, largest flange diameter"),
            ("heavy_across_flats", "mm", "heavy series, width across flats"),
            ("heavy_flange", "mm", "heavy series, largest flange diameter"),
        ),
        {
            "en1662": {
                "document": "EN 1662 and EN 1665",
                "edition": "1998",
                "table": "dimensions",
                "note": "Small M12 is 16 mm here; 15 mm is met too. The record must carry the measured width.",
            }
        },
        picked(
            "flange_head_hex",
            ("thread", "small_s_mm", "small_flange_dia_max_mm", "heavy_s_mm", "heavy_flange_dia_max_mm"),
            "en1662",
        ),
    ),
    Plan(
        "socket-screws",
        "Hexagon socket screws: head and key",
        (
            _SIZE,
            ("cap_head", "mm", "cap screw ISO 4762, largest diameter of the plain head"),
            ("cap_key", "mm", "cap screw ISO 4762, key"),
            ("countersunk_head", "mm", "countersunk screw ISO 10642, largest head diameter"),
            ("countersunk_key", "mm", "countersunk screw ISO 10642, key"),
            ("button_key", "mm", "button head ISO 7380-1, key"),
        ),
        {
            "iso4762": {
                "document": "ISO 4762, ISO 10642, ISO 7380-1",
                "edition": "2004, 2004, 2011",
                "table": "dimensions",
                "note": "Cap head and key agree in four prints, M3 to M30. Countersunk M20 is printed with key 12 and "
                "with key 10; its head diameters follow two editions. Button keys are from memory.",
            }
        },
        picked(
            "hex_socket_screws",
            (
                "thread", "iso4762_dk_max_mm", "iso4762_key_s_mm", "iso10642_head_dia_max_mm", "iso10642_key_s_mm",
                "iso7380_key_s_mm",
            ),
            "iso4762",
        ),
    ),
    Plan(
        "hexalobular-drives",
        "Hexalobular internal drives",
        (
            ("drive", "", "drive number"),
            ("across_points", "mm", "reference diameter A over the points"),
            ("across_flutes", "mm", "reference diameter B between the flutes"),
        ),
        {
            "iso10664": {
                "document": "ISO 10664",
                "edition": "2005",
                "table": "nominal sizes",
                "note": "T45 is printed with A 7.93 and with A 7.95. Two prints of B differ by 0.05 to 0.1 mm.",
            },
            "second": {
                "document": "ISO 10664",
                "edition": "2014",
                "table": "nominal sizes",
                "note": "Read in a second CAD part library.",
            },
        },
        _hexalobular,
    ),
    Plan(
        "hexalobular-by-screw",
        "Hexalobular drive by screw size",
        (
            _SIZE,
            ("cap", "", "cap screw ISO 14579"),
            ("low_cap", "", "low cap screw ISO 14580"),
            ("pan", "", "pan head ISO 14583"),
            ("across_points", "mm", "reference diameter A over the points"),
        ),
        {
            "iso14579": {
                "document": "ISO 14579, ISO 14580, ISO 14583",
                "edition": "2011",
                "table": "driving feature",
                "note": "Machine makers often depart from this: the record must carry the drive.",
            }
        },
        picked(
            "hexalobular_drive_by_screw",
            ("thread", "iso14579_cap", "iso14580_low_cap", "iso14583_pan", "A_ref_mm"),
            "iso14579",
            words=4,
        ),
    ),
    Plan(
        "hex-nuts",
        "Regular hexagon nuts",
        (_SIZE, ("across_flats", "mm", "width across flats"), ("height", "mm", "largest height m")),
        {
            "iso4032": {
                "document": "ISO 4032",
                "edition": "2012",
                "table": "dimensions",
                "note": "DIN 934 nuts are lower (M8 6.5, M10 8, M12 10 mm): a mark 8 on one does not mean the "
                "ISO 898-2 proof load.",
            }
        },
        picked("iso4032_nuts", ("thread", "s_mm", "m_max_mm"), "iso4032"),
    ),
    Plan(
        "washers",
        "Plain washers, normal series",
        (
            _SIZE,
            ("hole", "mm", "smallest hole"),
            ("outer", "mm", "largest outer diameter"),
            ("thickness", "mm", "nominal thickness"),
        ),
        {
            "iso7089": {
                "document": "ISO 7089",
                "edition": "2000",
                "table": "dimensions",
                "note": "The hole equals the fine clearance hole of ISO 273 in every row.",
            }
        },
        picked("iso7089_plain_washers", ("for_thread", "d1_min_mm", "d2_max_mm", "h_nom_mm"), "iso7089"),
    ),
    Plan(
        "clearance-holes",
        "Clearance holes for bolts and screws",
        (
            _SIZE,
            ("fine", "mm", "fine series"),
            ("medium", "mm", "medium series"),
            ("coarse", "mm", "coarse series"),
            ("asme_normal", "mm", "ASME B18.2.8, normal"),
            ("asme_loose", "mm", "ASME B18.2.8, loose"),
        ),
        {
            "iso273": {
                "document": "ISO 273 and ASME B18.2.8",
                "edition": "1979 and 1999",
                "table": "clearance holes",
                "note": "For M12, M14 and M16 the ASME holes (14, 16, 18) are often printed as ISO ones (13.5, 15.5, "
                "17.5).",
            }
        },
        picked(
            "iso273_clearance_holes",
            ("thread", "fine_mm", "medium_mm", "coarse_mm", "asme_b18_2_8_normal_mm", "asme_b18_2_8_loose_mm"),
            "iso273",
        ),
    ),
    Plan(
        "sealing-rings",
        "Flat sealing rings, form A",
        (
            ("thread", "", "thread it fits"),
            ("inner", "mm", "nominal inner diameter"),
            ("outer", "mm", "nominal outer diameter"),
            ("thickness", "mm", "thickness"),
        ),
        {
            "din7603": {
                "document": "DIN 7603",
                "edition": "2001",
                "table": "form A",
                "note": "Soft copper and aluminium rings harden on first use; one ring to a joint.",
            }
        },
        _rings,
    ),
)
