"""How strong a bolt, screw, stud or nut is, by the class or grade its record names."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from torquewright.book.tables import Row, table
from torquewright.joint.threads import Shape

_KSI = 6894757.293168361
_INCH = 0.0254


class Strength(NamedTuple):
    """Strength of a class in one size. Stresses in pascals.

    ``limit`` is the stress that may not be passed in tension: the proof stress, or Rp0.2 where the standard defines
    none (``limit_is_proof`` False: stainless). ``hardness`` is the largest Vickers hardness, None where not known.
    """

    name: str
    limit: float
    limit_is_proof: bool
    yield_: float
    tensile: float
    hardness: float | None
    source: str
    firm: bool


class _Spelled(NamedTuple):
    """A class name taken apart: which standard it belongs to, and its parts there."""

    kind: str  # "metric", "stainless", "grade", "astm"
    name: str
    steel: str = ""


@lru_cache(maxsize=1)
def _spellings() -> re.Pattern[str]:
    # "class 8.8", "8.8" · "A2-70", "A4 80" · "grade 5", "SAE grade 8", "SAE 5" · "A574"; made on first use, because a
    # check whose records name no class needs none of it
    return re.compile(
        r"(?:property\s*)?(?:class\s*|cl\.?\s*)?(?P<metric>\d{1,2}\.\d)"
        r"|(?:stainless\s*(?:steel\s*)?)?(?P<steel>A[1-58])[\s-]?(?P<stainless>50|70|80|100)"
        r"|(?:SAE\s*(?:J429\s*)?(?:grade|gr\.?)?|(?:grade|gr\.?))\s*(?P<grade>\d(?:\.2)?)"
        r"|(?:ASTM\s*)?(?P<astm>A\s?(?:574|325|490|307))(?:\s*(?:grade\s*)?A)?",
        re.IGNORECASE,
    )


@lru_cache(maxsize=256)
def _spelled(text: str) -> _Spelled | None:
    match = _spellings().fullmatch(text.strip())
    if match is None or match.lastgroup is None:
        return None
    return _Spelled(match.lastgroup, match[match.lastgroup].upper().replace(" ", ""), (match["steel"] or "").upper())


def is_stainless(name: str) -> bool:
    """Whether a recorded class is one of stainless steel."""
    spelled = _spelled(name)
    return (spelled is not None and spelled.kind == "stainless") or "stainless" in name.lower()


@lru_cache(maxsize=256)
def strength(name: str, diameter: float) -> Strength | None:
    """The strength of class ``name`` in nominal ``diameter`` (metres); None where the name or the size is unknown.

    ISO 898-1:2013 Table 3 · ISO 3506-1 · SAE J429 and ASTM grades.
    """
    spelled = _spelled(name)
    if spelled is None:
        return None
    if spelled.kind == "stainless":
        return _stainless(spelled.steel, spelled.name)
    if spelled.kind == "metric":
        return _metric(spelled.name, diameter * 1e3)
    return _inch(spelled.name, diameter / _INCH)


def _fits(row: Row, size: float) -> bool:
    over, up_to = row.number("over"), row.get("up_to")
    # a lower limit written "over" excludes itself; the smallest size a grade starts at does not
    return (over == 0 or size > over + 1e-9) and (up_to is None or size <= float(up_to) + 1e-9)


def _metric(name: str, size: float) -> Strength | None:
    for row in table("bolt-classes").where(**{"class": name}):
        if _fits(row, size):
            mpa = 1e6
            hardness = row.get("hv_max")
            return Strength(
                name, row.number("proof") * mpa, True, row.number("yield") * mpa, row.number("tensile") * mpa,
                float(hardness) if hardness is not None else None, row.cite(), row.firm,
            )  # fmt: skip
    return None


def _stainless(steel: str, name: str) -> Strength | None:
    for row in table("stainless-classes").where(**{"class": name}):
        if steel in row.word("steels").split():
            limit = row.number("yield") * 1e6
            return Strength(
                f"{steel}-{name}", limit, False, limit, row.number("tensile") * 1e6, None, row.cite(), row.firm
            )
    return None


# Vickers for the Rockwell C figures the inch standards give (ISO 18265 Table A.1)
_VICKERS = {30: 302, 34: 336, 39: 382, 45: 446}


def _inch(name: str, size: float) -> Strength | None:
    for row in table("inch-grades").where(grade=name):
        if _fits(row, size) and row.get("proof") is not None:
            hrc = row.get("hrc_max")
            return Strength(
                f"grade {name}" if name[0].isdigit() else name, row.number("proof") * _KSI, True,
                row.number("yield") * _KSI, row.number("tensile") * _KSI,
                _VICKERS.get(int(hrc)) if hrc is not None else None, row.cite(), row.firm,
            )  # fmt: skip
    return None


class Load(NamedTuple):
    """A load in newtons with the print it comes from."""

    value: float
    source: str
    firm: bool


@lru_cache(maxsize=256)
def printed_proof_load(name: str, diameter: float, pitch: float) -> Load | None:
    """The proof load ISO 898-1:2013 Tables 5 and 7 print for a class and metric thread; None where they print none.

    The print is the product of nominal stress area and proof stress, rounded to three figures.
    """
    spelled = _spelled(name)
    if spelled is None or spelled.kind != "metric":
        return None
    column = f"class_{spelled.name.replace('.', '_')}"
    for row in table("bolt-loads"):
        size = float(row.word("thread")[1:].split("x")[0])
        if abs(size - diameter * 1e3) < 1e-6 and abs(row.number("pitch") - pitch * 1e3) < 1e-6:
            load = row.get(column)
            return Load(float(load), row.cite(), row.firm) if load is not None else None
    return None


@lru_cache(maxsize=256)
def nut_proof_load(name: str, thread: Shape) -> Load | None:
    """The proof load of a nut of class "8", "10", "12", "04" or "05", newtons; None for other classes or sizes.

    ISO 898-2, coarse threads as printed; for a fine thread of the same size the printed stress on its stress area.
    """
    if thread.family != "metric":
        return None
    for row in table("nut-loads"):
        if abs(float(row.word("thread")[1:]) - thread.diameter * 1e3) > 1e-6:
            continue
        load = row.get(f"class_{name.strip()}")
        if load is None:
            return None
        from torquewright.joint.threads import coarse_pitch, shape

        pitch = coarse_pitch(thread.diameter)
        if pitch is None:
            return None
        share = thread.stress_area / shape(thread.diameter, pitch).stress_area
        return Load(float(load) * share, row.cite(), row.firm)
    return None
