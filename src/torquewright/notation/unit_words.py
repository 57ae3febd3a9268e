"""Words for torque units: every way a force and an arm are put together, and what each is short for.

A force without an arm (``30 lbs``) is no torque; a quotient (``lb/ft``) is not one either, but is read as the
product that must be meant, and doubted. The list of units stays closed: N·cm, N·mm and dN·m are stored as N·m.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from torquewright.notation.phrases import text_at
from torquewright.notation.spelling import Token, words


class TorqueUnit(NamedTuple):
    """A unit as written: its canonical name ("" when it is no torque), how many of that unit one is, what is
    doubtful about it, the canonical units it could be, and the index of the token after it."""

    name: str
    scale: float
    doubt: str
    could: tuple[str, ...]
    after: int


_PRODUCTS = {
    ("n", "m"): ("N·m", 1.0), ("n", "cm"): ("N·m", 1e-2), ("n", "mm"): ("N·m", 1e-3), ("mn", "m"): ("mN·m", 1.0),
    ("cn", "m"): ("cN·m", 1.0), ("dn", "m"): ("N·m", 0.1), ("dan", "m"): ("daN·m", 1.0), ("kn", "m"): ("kN·m", 1.0),
    ("dan", "cm"): ("N·m", 0.1), ("lbf", "ft"): ("lbf·ft", 1.0), ("lbf", "in"): ("lbf·in", 1.0),
    ("ozf", "in"): ("ozf·in", 1.0), ("ozf", "ft"): ("ozf·in", 12.0), ("kgf", "m"): ("kgf·m", 1.0),
    ("kgf", "cm"): ("kgf·cm", 1.0), ("kgf", "mm"): ("kgf·cm", 0.1), ("gf", "cm"): ("gf·cm", 1.0),
    ("gf", "m"): ("gf·cm", 100.0), ("gf", "mm"): ("gf·cm", 0.1), ("dyn", "cm"): ("dyn·cm", 1.0),
    ("dyn", "m"): ("dyn·cm", 100.0),
}  # fmt: skip

# short forms, by the force they name
_SHORT_FORCES = {
    "n": "n", "mn": "mn", "cn": "cn", "dn": "dn", "dan": "dan", "kn": "kn", "lb": "lbf", "lbs": "lbf", "lbf": "lbf",
    "lbsf": "lbf", "lbfs": "lbf", "oz": "ozf", "ozs": "ozf", "ozf": "ozf", "kg": "kgf", "kgs": "kgf", "kgf": "kgf",
    "kp": "kgf", "g": "gf", "gf": "gf", "gr": "gf", "dyn": "dyn",
}  # fmt: skip
_SCANNED = {"ib": "lbf", "ibs": "lbf", "ibf": "lbf", "1b": "lbf", "1bs": "lbf", "1bf": "lbf"}
_LONG_FORCES = {
    "newton": "n", "newtons": "n", "millinewton": "mn", "millinewtons": "mn", "centinewton": "cn", "centinewtons": "cn",
    "decinewton": "dn", "decinewtons": "dn", "decanewton": "dan", "decanewtons": "dan", "dekanewton": "dan",
    "dekanewtons": "dan", "kilonewton": "kn", "kilonewtons": "kn", "pound": "lbf", "pounds": "lbf", "ounce": "ozf",
    "ounces": "ozf", "kilogram": "kgf", "kilograms": "kgf", "kilogramme": "kgf", "kilogrammes": "kgf",
    "kilopond": "kgf", "kiloponds": "kgf", "gram": "gf", "grams": "gf", "gramme": "gf", "grammes": "gf",
    "dyne": "dyn", "dynes": "dyn", "#": "lbf", "poundforce": "lbf", "ounceforce": "ozf", "kilogramforce": "kgf",
}  # fmt: skip
_FORCES = {**_SHORT_FORCES, **_LONG_FORCES, **_SCANNED}
_SHORT_ARMS = {"m": "m", "cm": "cm", "mm": "mm", "ft": "ft", "in": "in"}
_ARMS = {
    **_SHORT_ARMS, "mtr": "m", "mtrs": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm", "millimetre": "mm",
    "millimetres": "mm", "millimeter": "mm", "millimeters": "mm", "foot": "ft", "feet": "ft", "inch": "in",
    "inches": "in", "ins": "in",
}  # fmt: skip
_SIGNS = frozenset({"·", ".", "-", "*", "×", "x", "_", "'"})
_COULD = {
    "lbf": ("lbf·ft", "lbf·in"), "kgf": ("kgf·m", "kgf·cm"), "n": ("N·m",), "ozf": ("ozf·in",), "kn": ("kN·m",),
    "dan": ("daN·m",), "gf": ("gf·cm",), "mn": ("mN·m",), "cn": ("cN·m",), "dn": ("N·m",), "dyn": ("dyn·cm",),
}  # fmt: skip
# After "lb in", one of these shows that "in" is the word and not the inch.
_IN_THE = words(
    "the a an each all any one two three four five six order turn turns stages steps passes sequence this "
    "that these place increments thirds halves quarters rotation both several accordance small equal stage pass"
)


@lru_cache(maxsize=1)
def _joined() -> dict[str, tuple[str, float, str]]:
    """Units written as one word: canonical name, scale, doubt."""
    words: dict[str, tuple[str, float, str]] = {}
    for short, force in {**_SHORT_FORCES, **_SCANNED}.items():
        for arm in _SHORT_ARMS:
            product = _PRODUCTS.get((force, arm))
            if product is None:
                continue
            doubt = _SCAN_DOUBT if short in _SCANNED else ""
            for word in (short + arm, arm + short, short + "x" + arm):
                words[word] = (*product, doubt)
    for long, force in _LONG_FORCES.items():
        for full, arm in _ARMS.items():
            product = _PRODUCTS.get((force, arm))
            if product is not None and full not in _SHORT_ARMS:
                words[long + full] = words[full + long] = (*product, "")
    for word in ("mn", "gm", "mg", "gmm", "mmg", "gmx"):  # a force, and grams
        words.pop(word, None)
    words["nom"] = ("N·m", 1.0, "the letter o stands where the dot of N·m belongs (scanning damage)")
    words["mtkg"] = words["kgmt"] = ("kgf·m", 1.0, "")
    return words


_SCAN_DOUBT = "a letter or digit stands where the l of lb belongs (scanning damage)"
_SLASH_DOUBT = {
    "lbf": "is a quotient; the product is meant",
    "kgf": "is mass per length; kgf·m or kgf·cm is meant",
    "n": "is force per length, a stiffness; N·m is meant",
}


def torque_unit_at(toks: list[Token], i: int) -> TorqueUnit | None:
    """The torque unit at token ``i``, or a force standing where one should be; None for anything else.

    A lower-case ``nm`` is the nanometre: not a torque (``name`` is "").
    """
    if i >= len(toks):
        return None
    tok = toks[i]
    if tok.text == "-" and tok.start == (toks[i - 1].end if i else -1):
        i += 1  # "a 25-N·m torque"
        if i >= len(toks) or toks[i].start != tok.end:
            return None
        tok = toks[i]
    if tok.kind not in ("word", "sign"):
        return None
    found = _one_word(toks, i) or _two_parts(toks, i)
    if found is None:
        return None
    after = text_at(toks, found.after)
    if after in ("²", "³"):
        return None
    if after == "/" and text_at(toks, found.after + 1) in ("rad", "deg", "°", "s", "kg", "min", "degree", "m", "mm"):
        return None
    return found


def _one_word(toks: list[Token], i: int) -> TorqueUnit | None:
    tok = toks[i]
    held = _joined().get(tok.text)
    if held is None:
        return None
    name, scale, doubt = held
    if tok.text == "nm" and tok.raw != "Nm":
        if tok.raw in ("nm", "nM"):
            return TorqueUnit("", 1.0, f"{tok.raw} is the nanometre, a length; N·m may be meant", ("N·m",), i + 1)
        doubt = "NM is also the nautical mile; in a tightening phrase N·m"
    if tok.raw.startswith("M") and tok.text.startswith("mn"):
        return None  # a meganewton metre is outside the list
    return TorqueUnit(
        name, scale, doubt, (), _stopped(toks, i + 1, tok.text.endswith(("in", "lb", "lbs", "oz")), False)
    )


def _force(toks: list[Token], i: int) -> tuple[str, int, bool, str] | None:
    """A force at ``i``: its key, the index after it, whether it had a stop, what is doubtful."""
    word = text_at(toks, i)
    key = _FORCES.get(word)
    if key is None or (key == "mn" and toks[i].raw[0] == "M" and toks[i].raw != toks[i].raw.upper()):
        return None
    j = i + 1
    stop = False
    if text_at(toks, j) == "." and toks[j].start == toks[i].end:
        stop = True
        j += 1
    # "pound-force", "lb (f)", "lb-f"
    k = j + 1 if text_at(toks, j) == "-" else j
    if text_at(toks, k) == "force" or (text_at(toks, k) == "f" and word in ("lb", "lbs", "kg", "oz", "g")):
        j = k + 1
    elif text_at(toks, j) == "(" and text_at(toks, j + 1) == "f" and text_at(toks, j + 2) == ")":
        j += 3
    return key, j, stop, _SCAN_DOUBT if word in _SCANNED else ""


def _arm(toks: list[Token], i: int) -> tuple[str, int, bool] | None:
    key = _ARMS.get(text_at(toks, i))
    if key is None:
        return None
    if text_at(toks, i + 1) == "." and toks[i + 1].start == toks[i].end:
        return key, i + 2, True
    return key, i + 1, False


def _product_sign(toks: list[Token], i: int) -> tuple[int, str]:
    """Past the product sign at ``i``, if any; and that sign ("" for a mere space, "/" for a quotient)."""
    sign = text_at(toks, i)
    if sign in ("/", "per"):
        return i + 1, "/"
    if sign not in _SIGNS:
        return i, ""
    if sign == "'" and not (
        toks[i].start == toks[i - 1].end and i + 1 < len(toks) and toks[i + 1].start == toks[i].end
    ):
        return i, ""
    j = i + 1
    if text_at(toks, j) in _SIGNS:
        j += 1
    return j, sign


def _two_parts(toks: list[Token], i: int) -> TorqueUnit | None:
    force = _force(toks, i)
    if force is None:
        return _arm_first(toks, i)
    key, j, stop, doubt = force
    raw = toks[i].raw
    k, sign = _product_sign(toks, j)
    arm = _arm(toks, k)
    product = _PRODUCTS.get((key, arm[0])) if arm is not None else None
    if arm is None or product is None or (key == "mn" and raw[0] == "M" and toks[k].raw != "M"):
        return _force_alone(toks, i, key, j if not stop else j - 1)
    if arm[0] == "in" and not sign and not stop and not arm[2] and _preposition(toks, arm[1]):
        return _force_alone(toks, i, key, j)
    after = arm[1] - 1 if arm[2] else arm[1]
    if sign == "/":
        if text_at(toks, after) in ("²", "³") or (
            text_at(toks, after) in ("2", "3") and toks[after].start == toks[after - 1].end
        ):
            return None
        written = f"{raw}/{toks[k].raw}"
        doubt = f"{written} {_SLASH_DOUBT.get(key, _SLASH_DOUBT['lbf'])}"
    if key == "mn" and raw[0] == "M":
        return None
    return TorqueUnit(*product, doubt, (product[0],) if doubt else (), _stopped(toks, after, arm[0] == "in", stop))


def _arm_first(toks: list[Token], i: int) -> TorqueUnit | None:
    arm = _arm(toks, i)
    if arm is None:
        return None
    k, sign = _product_sign(toks, arm[1])
    if text_at(toks, k) not in _FORCES:
        return None
    force = _force(toks, k)
    if force is None:
        return None
    key, j, stop, doubt = force
    product = _PRODUCTS.get((key, arm[0]))
    if product is None:
        return None
    if stop:
        j -= 1
    could: tuple[str, ...] = (product[0],) if doubt else ()
    if sign == "/":
        doubt = f"{toks[i].raw}/{toks[k].raw} is a quotient; the product is meant"
        could = (product[0],)
    elif (text_at(toks, i), text_at(toks, k)) == ("m", "n"):
        doubt = "m·N reads as metre newton or as millinewton"
        could = ("N·m", "mN")
    return TorqueUnit(*product, doubt, could, _stopped(toks, j, False, arm[2] or stop))


def _force_alone(toks: list[Token], i: int, key: str, j: int) -> TorqueUnit | None:
    word = toks[i].raw
    if text_at(toks, j) in ("/", "per", "²", "³") or (key in ("gf", "mn") and len(word) <= 2 and word != "mN"):
        return None
    if key == "lbf" and text_at(toks, j) in ("'", '"') and toks[j].start == toks[j - 1].end:
        prime = toks[j].text
        arm = "foot" if prime == "'" else "inch"
        name = "lbf·ft" if prime == "'" else "lbf·in"
        return TorqueUnit(
            "", 1.0, f"the {'prime' if prime == chr(39) else 'double prime'} may stand for the {arm}", (name,), j + 1
        )
    could = _COULD[key]
    meant = " or ".join(could)
    return TorqueUnit("", 1.0, f"{word} is a force or a mass and has no arm; {meant}?", could, j)


def _preposition(toks: list[Token], i: int) -> bool:
    if i >= len(toks):
        return False
    return toks[i].number is not None or toks[i].text in _IN_THE


def _stopped(toks: list[Token], j: int, inch: bool, stopped: bool) -> int:
    """Past a stop that belongs to the unit; a stop that may end the sentence is left alone."""
    if text_at(toks, j) != "." or toks[j].start != toks[j - 1].end or j + 1 >= len(toks):
        return j
    after = toks[j + 1]
    if (inch or stopped) and not (after.kind == "word" and after.raw[0].isupper()):
        return j + 1
    if after.text in (")", "]", ",", ";", "(", "[", "/", "-"):
        return j + 1
    return j
