"""Torque and preload: the full friction form, the nut factor, and how far the preload scatters."""

from __future__ import annotations

from functools import lru_cache
from math import pi, sin
from typing import NamedTuple

from torquewright.joint.threads import COS30, Shape


class Span(NamedTuple):
    """A figure with its limits, ``low <= nominal <= high``."""

    low: float
    nominal: float
    high: float

    @classmethod
    def exact(cls, value: float) -> Span:
        """A figure taken as it stands."""
        return cls(value, value, value)

    @classmethod
    def between(cls, low: float, high: float) -> Span:
        """A range, its middle as the figure to compute with."""
        return cls(low, (low + high) / 2, high)


class Arms(NamedTuple):
    """Torque per newton of preload, in metres: what the pitch, the thread friction and the head friction take."""

    pitch: float
    thread: float
    head: float

    @property
    def total(self) -> float:
        return self.pitch + self.thread + self.head

    @property
    def shank(self) -> float:
        """What twists the shank: pitch and thread friction, not the head."""
        return self.pitch + self.thread


def friction_diameter(bearing: float, hole: float) -> float:
    """Dkm = (dw + dh)/2: mean diameter the head rubs on; metres. VDI 2230-1 R13, ISO 16047."""
    return (bearing + hole) / 2


def arms(thread: Shape, mu_thread: float, mu_head: float, rubbing: float, cone: float = pi) -> Arms:
    """The three terms of T = F [P/(2 pi) + mu_G d2/(2 cos 30°) + mu_K Dkm/(2 sin(cone/2))].

    ISO 16047 evaluation clause; VDI 2230-1 R13 (which prints 0.16 P + 0.58 mu_G d2 + mu_K Dkm/2). ``rubbing`` is
    Dkm in metres, ``cone`` the full angle of a countersunk seat in radians (pi: flat). 60° threads without
    prevailing torque.
    """
    return Arms(
        thread.pitch / (2 * pi),
        mu_thread * thread.flank / (2 * COS30),
        mu_head * rubbing / (2 * sin(cone / 2)),
    )


def torque(preload: float, arm: Arms) -> float:
    """T in N·m for a preload in newtons."""
    return preload * arm.total


def preload(torque: float, arm: Arms) -> float:
    """F in newtons for a torque in N·m; the inverse of :func:`torque`."""
    return torque / arm.total


def nut_factor(arm: Arms, diameter: float) -> float:
    """K in T = K F d that stands for these terms; dimensionless."""
    return arm.total / diameter


def friction_from_nut_factor(factor: float, thread: Shape, rubbing: float) -> float:
    """The one friction coefficient, alike in thread and under the head, that gives the nut factor K.

    Never below 0: a K smaller than the pitch term alone means no friction at all.
    """
    lever = thread.flank / (2 * COS30) + rubbing / 2
    return max(0.0, (factor * thread.diameter - thread.pitch / (2 * pi)) / lever)


def friction_from_test(torque: float, preload: float, thread: Shape, rubbing: float) -> float:
    """mu_tot = (T/F - P/(2 pi)) / (d2/(2 cos 30°) + Dkm/2): ISO 16047, total coefficient of friction."""
    return friction_from_nut_factor(torque / preload / thread.diameter, thread, rubbing)


def band(torque: Span, least: Arms, most: Arms, deviation: float = 0.0) -> tuple[float, float]:
    """The lowest and highest preload a torque can leave, newtons.

    Worst case: T low (1 - deviation) at the ``most`` friction, T high (1 + deviation) at the ``least``. VDI 2230-1
    R1 and R13. ``deviation`` is the tool's permitted deviation as a fraction.
    """
    return preload(torque.low * (1 - deviation), most), preload(torque.high * (1 + deviation), least)


def scattered(nominal: float, scatter: float) -> tuple[float, float]:
    """F (1 - u) and F (1 + u): a stated scatter u of preload about its nominal value (NASA TM-106943 eq. 1)."""
    return nominal * (1 - scatter), nominal * (1 + scatter)


def tightening_factor(low: float, high: float) -> float:
    """alpha_A = F max/F min; for a scatter x about the mean (1 + x)/(1 - x). VDI 2230-1 R1."""
    return high / low


class Friction(NamedTuple):
    """Friction of a stated condition, with the source of its limits."""

    span: Span
    condition: str
    source: str
    firm: bool


SAME = {
    "": "unstated",
    "clean": "dry", "clean and dry": "dry", "unlubricated": "dry", "no lubricant": "dry", "as received": "dry",
    "plain": "dry", "oiled": "oil", "lightly oiled": "oil", "engine oil": "oil", "gear oil": "oil",
    "light oil": "oil", "lubricated": "oil", "greased": "grease", "marine grease": "grease",
    "molybdenum": "moly", "moly paste": "moly", "mos2": "moly", "molybdenum disulphide": "moly", "paste": "moly",
    "antiseize": "anti-seize", "anti seize": "anti-seize", "copper paste": "anti-seize", "waxed": "wax",
    "thread locker": "threadlocker", "thread-locking compound": "threadlocker", "adhesive": "threadlocker",
    "precoated": "pre-coated", "patch": "pre-coated",
}  # fmt: skip


@lru_cache(maxsize=64)
def friction(condition: str, stainless: bool = False) -> Friction | None:
    """Friction coefficients, thread and head alike, of a recorded condition; None where the condition is unknown.

    "" (not stated) is friction class B of VDI 2230-1 Table A5, which the guideline aims at. Stainless screws run in
    higher classes when dry or merely oiled.
    """
    from torquewright.book.tables import table

    word = " ".join(condition.lower().replace("_", " ").split())
    word = SAME.get(word, word)
    if word == "unstated":
        row = table("friction-classes").first(**{"class": "B"})
        assert row is not None, "the table of friction classes has lost its class B"
        return Friction(Span.between(row.number("low"), row.number("high")), "not stated", row.cite(), row.firm)
    held = table("conditions")
    special = {"dry": "stainless dry", "oil": "stainless oil", "grease": "stainless oil", "moly": "stainless paste",
               "anti-seize": "stainless paste"}  # fmt: skip
    row = held.first(condition=special.get(word, word) if stainless else word)
    if row is None:
        return None
    span = Span(row.number("low"), row.number("nominal"), row.number("high"))
    return Friction(span, row.word("condition"), row.cite(), row.firm)


def lubrication_change(stated: Arms, met: tuple[Arms, Arms, Arms]) -> Span:
    """By what the preload is multiplied when a torque meant for one condition meets another: K stated over K met.

    ``stated`` at its nominal friction, ``met`` the levers at least, nominal and most friction of the condition that is
    really there. Above 1: the same torque clamps harder.
    """
    least, nominal, most = met
    return Span(stated.total / most.total, stated.total / nominal.total, stated.total / least.total)


def levers_of(found: Friction, thread: Shape, rubbing: float) -> tuple[Arms, Arms, Arms]:
    """The levers at least, nominal and most friction of a condition."""
    least, nominal, most = (arms(thread, mu, mu, rubbing) for mu in found.span)
    return least, nominal, most
