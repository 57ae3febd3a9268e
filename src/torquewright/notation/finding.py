"""Tightening notations inside sentences: where they begin and end, and numbers that only look like theirs."""

from __future__ import annotations

import re
from functools import lru_cache

from torquewright.notation.angles import AngleRead
from torquewright.notation.composing import record
from torquewright.notation.counting import number_at
from torquewright.notation.gathered import Notation
from torquewright.notation.grammar import sound
from torquewright.notation.measured import BARE, TORQUES, Measured
from torquewright.notation.notread import NotATightening
from torquewright.notation.phrases import text_at
from torquewright.notation.sequences import notation_at
from torquewright.notation.spelling import LABELS, Token, tokens, words
from torquewright.notation.torques import scanned_at
from torquewright.notation.unit_words import torque_unit_at
from torquewright.records.tightening import Tightening

_STARTS = words(
    "not do don no never must shall should may cannot without at a an maximum max minimum min less under "
    "below lower upper limit limited keep stay capped more over above greater higher exceeding in upwards "
    "approximately approx about around roughly circa ca between anywhere somewhere any from within range ranging up "
    "half quarter third first second third fourth initially initial final finally step stage pass the further another "
    "additional extra finger fingers fingertight hand handtight thumb wrench spanner screwdriver snug snugged snugly "
    "until nip nipped securely firmly tightly good nice back backed loosen slacken lightly just barely by one two "
    "three four five six seven eight nine ten twelve fifteen twenty thirty forty fifty sixty seventy eighty ninety "
    "hundred full complete prevailing running drag friction right starting nothing nominally near nearly moderately "
    "well very only through"
)
_COUNTED = words("one two three four five six seven eight nine ten twelve")
_SINGULAR = words("bolt screw nut stud plug hole joint fastener capscrew cap detail position cylinder part")
_NAMES = words(
    "grade class step steps item items no number figure fig table note notes page section pos stage phase pass"
)
_CHAIN = frozenset({"and", "through", "thru", ",", "-", "&", "to", "or"})
_RISE = 2.2  # a range rarely spans more than this; a bolt's number and its torque mostly do
_NOT_A_TURN = words("apart spacing intervals elbow bend countersink head chamfer cone c f seat fitting valve")
_BESIDE_A_SHAPE = words("against on onto over of to across with between at the each one")
_LIFT = words("bring brings brought bringing work take pull go come build raise get")


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
    if toks[i].number is None:
        return False  # "turn the nut half a turn", "the screw three flats": bolts are numbered in digits
    first = held.pulls[0]
    if not isinstance(first, Measured) or first.nominal is not None or not first.low or not first.high:
        return label == "one" or (isinstance(first, Measured) and len(held.pulls) > 1)
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


def find_in(
    text: str, start: int, end: int, *, bare: bool, angles: bool, hand: bool
) -> list[tuple[int, int, Tightening]]:
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
        if (
            tok.kind == "size"
            or (tok.kind == "code" and scanned_at(toks, i) is None)
            or tok.text in (".", ",", ";", ")", ":", "-", "+", "/")
        ):
            i += 1
            continue
        if tok.number is None and text_at(toks, i + 1) == "," and tok.text in _COUNTED:
            i += 1
            continue  # "those with a cast one, to 9 N·m"
        held = notation_at(toks, i, finding=True, loose=BARE if bare else TORQUES)
        if held is not None and held.opened > i and len(held.pulls) == 1:
            held = None  # "left loose in step 6 to 88 N·m": the figure stands alone, the label is not its own
        if held is None or not _wanted(toks, i, held, angles, hand) or _misled(toks, i, held):
            i += 1
            continue
        first, last = toks[i].start, toks[held.after - 1].end
        notation = record(whole[first:last], held)
        try:
            sound(notation)
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
        # "bring the nuts up to 50 N·m": "up to" belongs to the verb and limits nothing
        return text_at(toks, i) != "up" or all(text_at(toks, i - back) not in _LIFT for back in range(1, 9))
    turn = any(isinstance(pull, AngleRead) for pull in held.pulls)
    if turn:
        shape = text_at(toks, held.after - 1)
        ahead = text_at(toks, i - 2) if text_at(toks, i - 1) in ("a", "an") else text_at(toks, i - 1)
        if shape in ("flat", "flats", "angle", "angles") and ahead in _BESIDE_A_SHAPE:
            return False
        if ahead in ("at", "is", "stands") and text_at(toks, held.after) == "to":
            return False  # "with the crowfoot at 90° to the wrench"
        return angles and text_at(toks, held.after) not in _NOT_A_TURN
    return hand
