"""A tightening text read as a whole: one notation and nothing beside it, or what is wrong with it and where."""

from __future__ import annotations

from math import isfinite

from torquewright.notation.composing import record
from torquewright.notation.counting import number_at
from torquewright.notation.gathered import Notation
from torquewright.notation.measured import BARE, FORCES
from torquewright.notation.measures import measure_at
from torquewright.notation.notread import NotATightening
from torquewright.notation.phrases import phrase_at, phrases, text_at
from torquewright.notation.sequences import notation_at
from torquewright.notation.spelling import Token, tokens, words
from torquewright.notation.unit_words import torque_unit_at
from torquewright.records.tightening import Tightening

_WANTED = 'a torque with its unit such as "7 N·m", "7 to 9 N·m", "20 N·m + 90°" or "hand-tight"'
_LEAD = words(
    "tighten tightened tightening torque torqued torques retighten retorque set pull bring final value to at "
    "of a an the with spec snug seat snugged run down specification specified setting : = @ is - apply do add up it "
    "them bolts nuts screws using use be should must shall"
)
_TRAIL = phrases({"": "each | torque | of torque | tightening torque | , each | all round | respectively"})
_BOUND = 1e9  # N·m: beyond any joint, and near nothing but a slip or an attack
_NEVER = {
    "length": "a length", "volume": "a volume", "time": "a time", "temperature": "a temperature",
    "distance": "a distance", "pressure": "a pressure", "force": "a force",
}  # fmt: skip


def read_whole(text: str, *, bare: bool = False) -> Tightening:
    """The reading of a text that is wholly one notation; :class:`NotATightening` otherwise."""
    toks = tokens(text)
    start, end = 0, len(toks)
    while end > start and text_at(toks, end - 1) in (".", ",", ";"):
        end -= 1
    if end - start > 2 and _wrapped(toks, start, end):
        start, end = start + 1, end - 1
    toks = toks[:end]
    if end - start > 1 and toks[start].text == "-" and toks[start + 1].number is not None:
        raise NotATightening("a tightening torque is not negative", 0, toks[start + 1].end, _WANTED)
    best: Notation | None = None
    for i in range(start, min(len(toks), start + 10)):
        held = notation_at(toks, i, loose=BARE if bare else FORCES)
        if held is not None:
            if _ends(toks, held.after):
                return sound(record(text.strip(), held))
            if best is None or held.after > best.after:
                best = held
        if toks[i].text not in _LEAD or i + 1 >= len(toks):
            break
    raise _trouble(text, toks, start, best)


def _wrapped(toks: list[Token], start: int, end: int) -> bool:
    """Whether one pair of brackets or quotes holds the whole text."""
    opening, closing = toks[start].text, toks[end - 1].text
    if (opening, closing) == ('"', '"'):
        return True
    if (opening, closing) not in (("(", ")"), ("[", "]")):
        return False
    return not any(tok.text in (opening, closing) for tok in toks[start + 1 : end - 1])


def _ends(toks: list[Token], i: int) -> bool:
    trail = phrase_at(toks, i, _TRAIL)
    if trail is not None:
        i = trail[1]
    return i >= len(toks)


def sound(found: Tightening) -> Tightening:
    """``found``, unless a figure in it is beyond anything a fastener takes: :class:`NotATightening` then."""
    for stage in found.stages:
        torque = stage.torque
        if torque is not None and any(
            value is not None and not (isfinite(value) and 0 <= value < _BOUND)
            for value in (torque.nominal, torque.low, torque.high)
        ):
            raise NotATightening("the figure is outside of anything a fastener takes", 0, len(found.text), _WANTED)
        angle = stage.angle
        if angle is not None and not abs(angle.nominal) < 36000:
            raise NotATightening("the angle is more than a hundred turns", 0, len(found.text), _WANTED)
    return found


def _trouble(text: str, toks: list[Token], start: int, best: Notation | None) -> NotATightening:
    """Say what is wrong: words left over, a unit that is no torque, a figure without a unit, or nothing at all."""
    if not toks:
        return NotATightening("there is nothing here", 0, len(text), _WANTED)
    if best is not None and best.after < len(toks):
        at = toks[best.after].start
        left = text[at:].strip()
        read = text[: toks[best.after - 1].end].strip()
        return NotATightening(
            f'"{left}" does not belong to the tightening', at, len(text), f'only the tightening, "{read}"'
        )
    for i in range(start, len(toks)):
        number = number_at(toks, i)
        if number is None:
            continue
        j = number[1]
        if j >= len(toks):
            return NotATightening(
                "the figure has no unit", toks[i].start, len(text), f'"{text.strip()} N·m" if newton metres are meant'
            )
        measure = measure_at(toks, j)
        if measure is not None and torque_unit_at(toks, j) is None:
            name = text[toks[j].start : toks[measure[1] - 1].end]
            what = _NEVER[measure[0].measures]
            return NotATightening(f'"{name}" is {what}, not a torque', toks[j].start, toks[measure[1] - 1].end, _WANTED)
        if toks[j].text in ("j", "joule", "joules"):
            return NotATightening(
                f'"{toks[j].raw}" is energy, not a torque', toks[j].start, toks[j].end, '"N·m" if torque is meant'
            )
        if torque_unit_at(toks, j) is None and toks[j].kind == "word":
            return NotATightening(
                f'"{text[toks[j].start :].strip()}" is no torque unit', toks[j].start, len(text), _WANTED
            )
    return NotATightening("this is no tightening", 0, len(text), _WANTED)
