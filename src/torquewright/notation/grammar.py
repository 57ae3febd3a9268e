"""The whole grammar of tightening texts: a text that is one notation, and notations inside a sentence."""

from __future__ import annotations

import re
from functools import lru_cache
from math import isfinite

from torquewright.notation.angles import AngleRead
from torquewright.notation.composing import record
from torquewright.notation.counting import number_at
from torquewright.notation.measured import Measured
from torquewright.notation.measures import measure_at
from torquewright.notation.notread import NotATightening
from torquewright.notation.phrases import phrase_at, phrases, text_at
from torquewright.notation.sequences import Notation, notation_at
from torquewright.notation.spelling import LABELS, Token, tokens
from torquewright.notation.torques import BARE, FORCES, TORQUES, scanned_at
from torquewright.notation.unit_words import torque_unit_at
from torquewright.records.tightening import Tightening

_WANTED = 'a torque with its unit such as "7 N·m", "7 to 9 N·m", "20 N·m + 90°" or "hand-tight"'
_LEAD = frozenset(
    "tighten tightened tightening torque torqued torques retighten retorque set pull bring final value to at of a an the with spec "
    "snug seat snugged run down specification specified setting : = @ is - apply do add up it them bolts nuts screws using use be should must shall".split()
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
                return _sound(text, toks, record(text.strip(), held))
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


def _sound(text: str, toks: list[Token], found: Tightening) -> Tightening:
    for stage in found.stages:
        torque = stage.torque
        if torque is not None and any(
            value is not None and not (isfinite(value) and 0 <= value < _BOUND)
            for value in (torque.nominal, torque.low, torque.high)
        ):
            raise NotATightening("the figure is outside of anything a fastener takes", 0, len(text), _WANTED)
        angle = stage.angle
        if angle is not None and not abs(angle.nominal) < 36000:
            raise NotATightening("the angle is more than a hundred turns", 0, len(text), _WANTED)
    return found


def _trouble(text: str, toks: list[Token], start: int, best: Notation | None) -> NotATightening:
    """Say what is wrong: words left over, a unit that is no torque, a figure without a unit, or nothing at all."""
    if not toks:
        return NotATightening("there is nothing here", 0, len(text), _WANTED)
    if best is not None and best.after < len(toks):
        at = toks[best.after].start
        left = text[at:].strip()
        read = text[: toks[best.after - 1].end].strip()
        return NotATightening(f'"{left}" does not belong to the tightening', at, len(text), f'only the tightening, "{read}"')
    for i in range(start, len(toks)):
        number = number_at(toks, i)
        if number is None:
            continue
        j = number[1]
        if j >= len(toks):
            return NotATightening("the figure has no unit", toks[i].start, len(text), f'"{text.strip()} N·m" if newton metres are meant')
        measure = measure_at(toks, j)
        if measure is not None and torque_unit_at(toks, j) is None:
            name = text[toks[j].start : toks[measure[1] - 1].end]
            what = _NEVER[measure[0].measures]
            return NotATightening(f'"{name}" is {what}, not a torque', toks[j].start, toks[measure[1] - 1].end, _WANTED)
        if toks[j].text in ("j", "joule", "joules"):
            return NotATightening(f'"{toks[j].raw}" is energy, not a torque', toks[j].start, toks[j].end, '"N·m" if torque is meant')
        if torque_unit_at(toks, j) is None and toks[j].kind == "word":
            return NotATightening(f'"{text[toks[j].start :].strip()}" is no torque unit', toks[j].start, len(text), _WANTED)
    return NotATightening("this is no tightening", 0, len(text), _WANTED)


# -- inside sentences -------------------------------------------------------------------------------------------------

_STARTS = frozenset(
    "not do don no never must shall should may cannot without at a an maximum max minimum min less under below lower "
    "upper limit limited keep stay capped more over above greater higher exceeding in upwards approximately approx "
    "about around roughly circa ca between anywhere somewhere any from within range ranging up half quarter third "
    "first second third fourth initially initial final finally step stage pass the further another additional extra "
    "finger fingers fingertight hand handtight thumb wrench spanner screwdriver snug snugged snugly until nip nipped "
    "securely firmly tightly good nice back backed loosen slacken lightly just barely by one two three four five six seven "
    "eight nine ten twelve fifteen twenty thirty forty fifty sixty seventy eighty ninety hundred full complete prevailing "
    "running drag friction right starting nothing nominally near nearly moderately well very only through".split()
)
_SINGULAR = frozenset("bolt screw nut stud plug hole joint fastener capscrew cap detail position cylinder part".split())
_NAMES = frozenset("grade class step steps item items no number figure fig table note notes page section pos stage phase pass".split())
_CHAIN = frozenset({"and", "through", "thru", ",", "-", "&", "to", "or"})
_RISE = 2.2  # a range rarely spans more than this; a bolt's number and its torque mostly do
_NOT_A_TURN = frozenset({"apart", "spacing", "intervals", "elbow", "bend", "countersink", "head", "chamfer", "cone", "c", "f", "seat", "fitting", "valve"})
_BESIDE_A_SHAPE = frozenset("against on onto over of to across with between at the each one".split())
_LIFT = frozenset("bring brings brought bringing work take pull go come build raise get".split())


def _labelled(toks: list[Token], i: int) -> str:
    """What the figure at ``i`` names by the words before it: "chain", "name", "one", "many", or "" for nothing."""
    k = i - 1
    if k < 0:
        return ""
    word = toks[k].text
    if word == "." and text_at(toks, k - 1) in ("no", "fig", "pos"):
        return "name"
    if word in _CHAIN and k >= 1 and toks[k - 1].number is not None:
        return "chain" if _labelled(toks, k - 1) else ""
    if word not in LABELS:
        return ""
    if word in _NAMES:
        return "name"
    return "one" if word in _SINGULAR else "many"


def _misled(toks: list[Token], i: int, held: Notation) -> bool:
    """Whether the first figure of a notation really is the number of a bolt, a step, an item."""
    label = _labelled(toks, i)
    if not label:
        return False
    number = number_at(toks, i)
    if number is None or torque_unit_at(toks, number[1]) is not None:
        return False
    if label in ("chain", "name"):
        return True
    first = held.pulls[0]
    if not isinstance(first, Measured) or first.nominal is not None or not first.low or not first.high:
        return label == "one" or isinstance(first, Measured) and len(held.pulls) > 1
    if label == "one" and not any(text_at(toks, i - back) in ("the", "each", "both", "all") for back in range(2, 5)):
        return True
    return first.high / first.low > _RISE


@lru_cache(maxsize=1)
def _hopeful() -> re.Pattern[str]:
    """What a text must hold somewhere if it is to hold a notation: most sentences are dismissed by it."""
    return re.compile(
        r"[0-9½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞°]|turn|flat|degree|revol|rotat|radian|angle|newton|pound|ounce|kilo|finger|thumb|hand|snug"
        r"|tight|nip|click|secure|firm|until|till",
        re.IGNORECASE,
    )


def find_in(text: str, start: int, end: int, *, bare: bool, angles: bool, hand: bool) -> list[tuple[int, int, Tightening]]:
    """The notations inside ``text[start:end]`` as (start, end, record)."""
    whole = text if start == 0 and end == len(text) else text[start:end]
    found: list[tuple[int, int, Tightening]] = []
    if _hopeful().search(whole) is None:
        return found
    toks = tokens(whole)
    i, count = 0, len(toks)
    while i < count:
        tok = toks[i]
        if tok.number is None and tok.text not in _STARTS and tok.kind == "word":
            i += 1
            continue
        if tok.kind == "size" or (tok.kind == "code" and scanned_at(toks, i) is None) or tok.text in (".", ",", ";", ")", ":", "-", "+", "/"):
            i += 1
            continue
        held = notation_at(toks, i, finding=True, loose=BARE if bare else TORQUES)
        if held is not None and held.opened > i and len(held.pulls) == 1:
            held = None  # "left loose in step 6 to 88 N·m": the figure stands alone, the label is not its own
        if held is None or not _wanted(toks, i, held, angles, hand) or _misled(toks, i, held):
            i += 1
            continue
        first, last = toks[i].start, toks[held.after - 1].end
        notation = record(whole[first:last], held)
        try:
            _sound(notation.text, toks, notation)
        except NotATightening:
            i += 1
            continue
        found.append((start + first, start + last, notation))
        i = held.after
    return found


def _wanted(toks: list[Token], i: int, held: Notation, angles: bool, hand: bool) -> bool:
    """Whether a sentence's reader asked for such a notation, and it is none of the shapes that only look like one."""
    torque = any(isinstance(pull, Measured) for pull in held.pulls)
    if torque:
        if text_at(toks, i) == "up" and any(text_at(toks, i - back) in _LIFT for back in range(1, 9)):
            return False
        return True
    turn = any(isinstance(pull, AngleRead) for pull in held.pulls)
    if turn:
        shape = text_at(toks, held.after - 1)
        if shape in ("flat", "flats", "angle", "angles") and text_at(toks, i - 1) in _BESIDE_A_SHAPE:
            return False
        return angles and text_at(toks, held.after) not in _NOT_A_TURN
    return hand
