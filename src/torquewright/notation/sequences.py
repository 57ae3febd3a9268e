"""Pulls in order: stages, shares and steps of a torque, torque then angle, finger-tight then a part of a turn."""

from __future__ import annotations

from torquewright.notation.angles import AngleRead, angle_at, backed_off
from torquewright.notation.connectors import WEAK, strong_at
from torquewright.notation.counting import number_at
from torquewright.notation.gathered import Notation
from torquewright.notation.hand import HandRead, hand_at
from torquewright.notation.measured import BARE, TORQUES, Measured
from torquewright.notation.passes import NOT_GIVEN, passes_at, stage_label, steps_before
from torquewright.notation.phrases import phrase_at, phrases, skip, text_at
from torquewright.notation.pulls import torque_pull
from torquewright.notation.rows import list_of, rest_of, shares_of
from torquewright.notation.spelling import Token, words

_FILL = words(
    "again crosswise diagonally evenly in the same order sequence manner pattern way once more to at up "
    "tighten tightened tightening retighten torque torqued retorque turn it them all final full value cross star criss "
    "by a of increase increasing raise go set pull bring each every with on torque : = . rotate angle advance finish "
    "finally finishing complete completely end up ending lastly wrench setting secure then"
)


_EVENLY = words("evenly crosswise")
_ORDER = frozenset({"first", "second", "third", "fourth", "initially", "finally", "last"})


def notation_at(toks: list[Token], i: int, *, finding: bool = False, loose: int = TORQUES) -> Notation | None:
    """The longest tightening notation at token ``i``, or None."""
    held = Notation()
    j = i if steps_before(toks, i) is not None else _opening(toks, i, held)
    held.opened = j
    first = _item(toks, j, held, finding, loose)
    if first is None and j > i:
        j = skip(toks, j, _FILL) if held.staged else j
        first = _item(toks, j, held, finding, loose)
    if first is None:
        return None
    j = first
    while True:
        end = j
        j = _closing(toks, j, held)
        more = _join(toks, j, held, finding, loose)
        if more is None:
            if text_at(toks, end) in ("first", "initially", "at", "again") and len(held.pulls) == 1:
                j = end  # the word belongs to a stage only when another one follows
            break
        j = more
    held.after = _first_named_last(toks, j, held)
    _borrow(held)
    if not held.pulls or (held.pulls and _unitless_list(held, loose)):
        return None
    return held


_TO_BEGIN = phrases(
    {"": "to begin with | to start with | first | at first | first time round | the first time | initially"}
)


def _first_named_last(toks: list[Token], j: int, held: Notation) -> int:
    """ "22 N·m in two goes, 11 N·m to begin with": the last figure is the first pull. The index past these words."""
    begin = phrase_at(toks, j, _TO_BEGIN)
    if begin is None and text_at(toks, j - 1) in ("first", "initially"):
        begin = "", j
    if begin is None or len(held.pulls) != 2 or held.count not in (None, 2):
        return j
    final, first = held.pulls
    if not isinstance(final, Measured) or not isinstance(first, Measured) or first.nominal is None:
        return j
    if final.nominal is None or first.nominal >= final.nominal:
        return j
    held.pulls.reverse()
    held.doubts = [doubt for doubt in held.doubts if doubt != NOT_GIVEN]
    return begin[1]


def _opening(toks: list[Token], i: int, held: Notation) -> int:
    """Past "first", "step 1:", "in three passes:" ahead of the first pull."""
    passes = passes_at(toks, i)
    if passes is not None and passes[2]:
        held.staged = True
        held.count = passes[0]
        i = skip(toks, passes[1], frozenset({":", ",", "-", "to", "of"}))
    label = stage_label(toks, i)
    if label is not None:
        held.staged = True
        return label
    return i


def _closing(toks: list[Token], j: int, held: Notation) -> int:
    """Past "(first pass)", "in three passes" after a pull."""
    if text_at(toks, j) in ("(", "["):
        label = stage_label(toks, j + 1, ahead=False)
        if label is not None and text_at(toks, label) in (")", "]"):
            held.staged = True
            return _closing(toks, label + 1, held)
    if text_at(toks, j) == "at" and text_at(toks, j + 1) == "first" and strong_at(toks, j + 2) is not None:
        return j + 2
    if text_at(toks, j) == "again" and j and toks[j - 1].kind == "word":
        return j + 1
    if text_at(toks, j) in ("first", "initially") and strong_at(toks, j + 1) is not None:
        return j + 1
    if text_at(toks, j) in _ORDER and text_at(toks, j + 1) in ("", ",", ";", ".", "and"):
        held.staged = True
        return j + 1
    start = skip(toks, j, frozenset({","}))
    if start == j:
        start = skip(toks, j, _EVENLY)
    passes = passes_at(toks, start) if text_at(toks, start) in ("in", "(", "over", "with", "using") else None
    if passes is not None and not (passes[2] and text_at(toks, passes[1]) in (":", "to")):
        held.staged = True
        held.count = passes[0]
        return passes[1]
    if text_at(toks, j) in ("on", "in", "for", "at") and text_at(toks, j + 1) == "the":
        label = stage_label(toks, j + 2, ahead=False)
        if label is not None:
            held.staged = True
            return label
    return j


def _item(toks: list[Token], i: int, held: Notation, finding: bool, loose: int) -> int | None:
    """Read one pull (or a whole list of them) at ``i`` into ``held``; the index after it."""
    for read in (_steps, shares_of, list_of):
        found = read(toks, i, held)
        if found is not None:
            return found
    if not (finding and text_at(toks, i) in ("-", "+")):
        angle = angle_at(toks, i, finding=finding)
        if angle is not None:
            if angle.from_seat and not held.pulls:
                held.pulls.append(HandRead("", i))
            held.pulls.append(angle)
            if angle.doubt:
                held.doubts.append(angle.doubt)
                held.readings.extend(angle.readings)
            return angle.after
    torque = torque_pull(toks, i, loose)
    if torque is not None:
        held.pulls.append(torque[0])
        held.added = held.added or torque[2]
        return torque[1]
    hand = hand_at(toks, i, finding=finding)
    if hand is not None:
        held.pulls.append(hand)
        if hand.doubt:
            held.doubts.append(hand.doubt)
        return hand.after
    if held.staged and not finding:
        # "first to 15, then to 30 N·m": the unit comes with a later figure
        number = number_at(toks, i)
        if number is not None and strong_at(toks, number[1]) is not None:
            held.pulls.append(Measured(number[0], None))
            return number[1]
    return None


def _join(toks: list[Token], j: int, held: Notation, finding: bool, loose: int) -> int | None:
    """Read a connector and the next pull; the index after it, or None when the notation ends here."""
    strong = strong_at(toks, j)
    weak = phrase_at(toks, j, WEAK)
    bracket = text_at(toks, j) in ("(", "[")
    if strong is not None and weak is not None and weak[1] > strong[1]:
        strong = None
    numbered = stage_label(toks, j) if bracket else None
    bracket = bracket and numbered is None
    start = strong[1] if strong is not None else weak[1] if weak is not None else j + 1 if bracket else j
    if text_at(toks, start) == "." and stage_label(toks, start + 1) is not None:
        start += 1
    label = stage_label(toks, start)
    if strong is None and weak is None and not bracket and label is None:
        return None
    k = label if label is not None else start
    certain = label is not None or (strong is not None and strong[0] == "then")
    if not finding and held.pulls and (loose_again := backed_off(toks, k)) is not None:
        held.pulls.append(loose_again)
        return loose_again.after
    for at in _starts(toks, k):
        angle = angle_at(toks, at)
        if angle is not None and (certain or angle.angles[0].nominal > 0 or not finding):
            if not held.pulls or (isinstance(held.pulls[-1], HandRead) and finding and not certain and strong is None):
                return None
            end = angle.after
            if bracket:
                if text_at(toks, end) not in (")", "]"):
                    return None
                end += 1
            held.pulls.append(angle)
            if angle.doubt:
                held.doubts.append(angle.doubt)
                held.readings.extend(angle.readings)
            held.staged = held.staged or label is not None
            return end
        if bracket:
            return None
        turned = finding and held.pulls and all(isinstance(pull, AngleRead) for pull in held.pulls)
        if (certain or held.staged or not finding or strong is not None) and not turned:
            mark = len(held.pulls)
            torque = _torque_item(toks, at, held, certain, loose)
            if torque is not None:
                if label is not None or certain:
                    held.staged = True
                elif not held.staged:
                    held.listed = True
                return torque
            del held.pulls[mark:]
        if certain:
            hand = hand_at(toks, at, finding=True)
            if hand is not None:
                held.pulls.append(hand)
                return hand.after
    return None


def _starts(toks: list[Token], k: int) -> range:
    """The indices where a pull may begin after a connector: past words such as "crosswise again to"."""
    end = k
    while end < len(toks) and end < k + 9:
        if toks[end].text not in _FILL and not (toks[end].text == "-" and end > k and text_at(toks, end + 1) in _FILL):
            break
        end += 1
    return range(k, end + 1)


def _torque_item(toks: list[Token], i: int, held: Notation, certain: bool, loose: int) -> int | None:
    """Read a torque after a connector; ``certain`` when that connector puts things in order."""
    for read in (shares_of, list_of):
        found = read(toks, i, held)
        if found is not None:
            return found
    rest = rest_of(toks, i, held) if certain else None
    if rest is not None:
        return rest
    torque = torque_pull(toks, i, loose)
    if torque is None:
        number = number_at(toks, i)
        if certain and number is not None and strong_at(toks, number[1]) is not None:
            held.pulls.append(Measured(number[0], None))
            return number[1]
        return None
    if torque[0].limit and not certain and not held.staged:
        return None
    if not certain and not _alike(held, torque[0]):
        return None
    held.pulls.append(torque[0])
    held.added = held.added or torque[2]
    return torque[1]


def _alike(held: Notation, found: Measured) -> bool:
    """Whether the last torque has the unit of ``found``: a list of stages keeps to one unit."""
    last = next((pull for pull in reversed(held.pulls) if isinstance(pull, Measured)), None)
    if last is None or last.unit is None or found.unit is None:
        return last is not None
    return last.unit.name == found.unit.name


def _steps(toks: list[Token], i: int, held: Notation) -> int | None:
    """Equal steps up to a torque ("in thirds to 36 N·m")."""
    found = steps_before(toks, i)
    if found is None:
        return None
    pulls, end, doubt = found
    held.pulls.extend(pulls)
    held.staged = True
    if doubt:
        held.doubts.append(doubt)
    return end


def _borrow(held: Notation) -> None:
    """Give figures without a unit that of the next figure that has one."""
    unit = None
    for pull in reversed(held.pulls):
        if isinstance(pull, Measured):
            if pull.unit is not None:
                unit = pull.unit
            elif unit is not None:
                pull.unit = unit


def _unitless_list(held: Notation, loose: int) -> bool:
    """Whether a figure of several was left without a unit."""
    torques = [pull for pull in held.pulls if isinstance(pull, Measured)]
    return any(pull.unit is None for pull in torques) and (loose != BARE or len(held.pulls) > 1)
