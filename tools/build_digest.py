"""Writes src/torquewright/joint/digest.py from specs/tables: ``python tools/build_digest.py``; ``--check`` compares.

A check asks the same few figures of every joint. Read from the tables they would cost more than the whole check; the
digest holds just them, worked out by the same functions that the full sheet of a joint uses. The environment the
package is installed in must run it.
"""

from __future__ import annotations

import sys
import textwrap
from pathlib import Path
from typing import Any

from torquewright.book.tables import table
from torquewright.joint import classes, described, heads, materials, preload, threads

PATH = Path(__file__).resolve().parent.parent / "src" / "torquewright" / "joint" / "digest.py"
HEAD = '''"""The few figures a check asks of every joint, taken from specs/tables. Written by tools/build_digest.py.

Sizes are whole micrometres; lengths metres, stresses pascals. Where a figure comes from stands in the tables and is
told by the full sheet of the joint.
"""

from __future__ import annotations
'''
Sizes = dict[int, float]
Range = tuple[float, float, float, float, float]


def micrometres(length: float) -> int:
    return round(length * 1e6)


def sizes() -> list[float]:
    """The metric sizes that some table of heads, holes or washers has."""
    names = {row.word("thread") for name in ("bearing-faces", "clearance-holes", "washers") for row in table(name)}
    return sorted(float(name.removeprefix("M")) / 1e3 for name in names)


def families() -> tuple[tuple[str, list[float]], ...]:
    """The families of threads with their sizes."""
    return ("metric", sizes()), ("unified", [row.number("diameter") * 0.0254 for row in table("inch-hex-heads")])


def told(found: heads.Found) -> bool:
    """Whether a table has the figure; the digest holds firm ones only."""
    by_table = "by proportion" not in found.source
    assert found.firm or not by_table, found
    return by_table


def faces() -> dict[tuple[str, str], Sizes]:
    """Outer diameter a head bears on."""
    held: dict[tuple[str, str], Sizes] = {}
    for family, diameters in families():
        for head in ("hex", "cap", "small flange"):
            found = {diameter: heads.bearing_face(diameter, family, head) for diameter in diameters}
            rows = {micrometres(size): face.value for size, face in found.items() if told(face)}
            if rows:
                held[family, head] = rows
    return held


def holes() -> dict[str, Sizes]:
    """Clearance holes."""
    held = {}
    for family, diameters in families():
        found = {diameter: heads.clearance_hole(diameter, family) for diameter in diameters}
        held[family] = {micrometres(size): hole.value for size, hole in found.items() if told(hole)}
    return held


def washers() -> Sizes:
    """Outer diameters of plain washers."""
    found = {micrometres(size): heads.washer(size) for size in sizes()}
    return {size: washer.outer for size, washer in found.items() if washer is not None}


def ranges(name: str, ends: list[tuple[float, float]]) -> tuple[Range, ...]:
    """(over, up to, limit in tension, tensile strength, Vickers at most or 0) for each range of sizes of a class."""
    held = []
    for over, up_to in ends:
        found = classes.strength(name, min(over + 1e-3, up_to))
        if found is not None:
            assert found.firm, found
            held.append((over, up_to, found.limit, found.tensile, float(found.hardness or 0.0)))
    return tuple(held)


def strengths() -> dict[str, tuple[Range, ...]]:
    """The strength of each class by its name in lower case."""
    ends: dict[str, list[tuple[float, float]]] = {}
    for name, column, scale in (("bolt-classes", "class", 1e-3), ("inch-grades", "grade", 0.0254)):
        for row in table(name):
            key = row.word(column)
            key = f"grade {key}" if column == "grade" and key[0].isdigit() else key
            up_to = row.get("up_to")
            ends.setdefault(key, []).append((row.number("over") * scale, float(up_to) * scale if up_to else 1.0))
    for row in table("stainless-classes"):
        for steel in row.word("steels").split():
            ends[f"{steel}-{row.word('class')}"] = [(0.0, 1.0)]
    return {name.lower(): held for name, limits in ends.items() if (held := ranges(name, limits))}


def nuts() -> dict[str, Sizes]:
    """Proof stress of nuts on the coarse thread."""
    held: dict[str, Sizes] = {}
    for row in table("nut-loads"):
        diameter = float(row.word("thread")[1:]) / 1e3
        pitch = threads.coarse_pitch(diameter)
        assert pitch is not None
        shape = threads.shape(diameter, pitch)
        for name in described.NUT_CLASSES:
            found = classes.nut_proof_load(name, shape)
            if found is not None:
                assert found.firm, found
                held.setdefault(name, {})[micrometres(diameter)] = found.value / shape.stress_area
    return held


def conditions() -> dict[bool, dict[str, tuple[float, float, float]]]:
    """Friction by whether the screw is stainless and by condition; "" where none is stated or the word is unknown."""
    words = sorted({row.word("condition") for row in table("conditions")} | set(preload.SAME))
    held: dict[bool, dict[str, tuple[float, float, float]]] = {False: {}, True: {}}
    for word in words:
        for stainless, rows in held.items():
            found = preload.friction(word, stainless)
            if found is not None and not word.startswith("stainless"):
                assert found.firm, found
                rows[word] = tuple(found.span)
    return held


def stuffs() -> dict[str, dict[str, tuple[float, float, bool]]]:
    """Shear strength and bearing limit by the name of a material."""
    held: dict[str, dict[str, tuple[float, float, bool]]] = {}
    for row in table("material-names"):
        found = materials.material(row.word("name"))
        assert found is not None
        held[found.name] = {
            key: (value.low, value.high, value.firm)
            for key, value in (("shear", found.shear), ("bearing", found.bearing))
            if value is not None
        }
    return held


def built() -> str:
    """What the module should hold."""
    parts: tuple[tuple[str, str, Any], ...] = (
        ("FACES", "Outer diameter of the bearing face by family and head, by size.", faces()),
        ("HOLES", "Clearance hole by family, by size.", holes()),
        ("WASHERS", "Outer diameter of a plain washer by size.", washers()),
        ("STRENGTHS", "By class, for each range of sizes: over, up to, limit in tension, tensile, Vickers.",
         strengths()),
        ("NUTS", "Proof stress of a nut by class, by size.", nuts()),
        ("CONDITIONS", "Friction by whether the screw is stainless, by condition: lowest, nominal, highest.",
         conditions()),
        ("MATERIALS", "By material, shear strength and bearing limit: lowest, highest, whether firm.", stuffs()),
        ("SHEAR_RATIO", "Shear strength of a bolt over its tensile strength, the highest, by whether it is stainless.",
         {stainless: materials.shear_ratio_bolt(stainless).high for stainless in (False, True)}),
    )  # fmt: skip
    text = HEAD
    for name, says, held in parts:
        text += f"\n# {says}\n{name} = {written(held)}\n"
    return text


def written(held: dict[Any, Any]) -> str:
    """A literal in lines of no more than 120 characters."""
    entries = [f"{spelled(key)}: {spelled(value)}," for key, value in held.items()]
    lines: list[str] = []
    for entry in [" ".join(entries)] if all(map(short, entries)) else entries:
        # a space inside a word in quotes must not become the end of a line
        parts = entry.split("\"")
        kept = "\"".join(part.replace(" ", "\0") if at % 2 else part for at, part in enumerate(parts))
        lines += textwrap.wrap(kept, 116, break_long_words=False, break_on_hyphens=False)
    return "{\n" + "".join(f"    {line}\n" for line in lines).replace("\0", " ") + "}  # fmt: skip"


def short(entry: str) -> bool:
    return len(entry) < 40


def spelled(value: Any) -> str:
    """A value as source: figures to ten digits, texts in double quotes."""
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, dict):
        return "{" + ", ".join(f"{spelled(key)}: {spelled(held)}" for key, held in value.items()) + "}"
    if isinstance(value, tuple):
        return "(" + ", ".join(map(spelled, value)) + (",)" if len(value) == 1 else ")")
    return repr(float(f"{value:.10g}")) if isinstance(value, float) else repr(value)


def main(words: list[str]) -> int:
    held = PATH.read_text(encoding="utf-8") if PATH.exists() else ""
    if words == ["--check"]:
        if held == built():
            return 0
        print(f"{PATH} is stale; run: python tools/build_digest.py", file=sys.stderr)
        return 1
    if words:
        print(__doc__, file=sys.stderr)
        return 2
    PATH.write_text(built(), encoding="utf-8")
    print(PATH)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
