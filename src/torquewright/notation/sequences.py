"""Pulls in order: stages, shares and steps of a torque, torque then angle, finger-tight then a part of a turn."""

from __future__ import annotations

from torquewright.notation.angles import AngleRead, angle_at
from torquewright.notation.counting import number_at
from torquewright.notation.hand import HandRead, hand_at
from torquewright.notation.limits import LEADS
from torquewright.notation.measured import Measured
from torquewright.notation.passes import passes_at, stage_label, steps_before
from torquewright.notation.phrases import phrase_at, phrases, skip, text_at
from torquewright.notation.pulls import full_at, settle, share_at, shared, torque_pull
from torquewright.notation.spelling import Token
from torquewright.notation.torques import BARE, TORQUES, torque_at

Pull = Measured | AngleRead | HandRead

_STRONG = phrases(
    {
        "then": "then | , then | and then | , and then | ; then | . then | followed by | , followed by | → | -> | => | --> | "
        "finally | and finally | , and finally | , finally | lastly | and lastly | , and lastly | next | , next | and next | after that | , after that | afterwards | , afterwards | "
        "subsequently | , subsequently | thereafter | and thereafter | , before | > | >> | and after that | ; finally | ; afterwards | ; next | ; after that",
        "plus": "+ | plus | , plus | angle | torque angle | , angle | and angle | ; angle | and a further | and another | and an additional | with a further | with an additional | , + | & a further",
    }
)
_WEAK = phrases({"and": "and | & | , and | , | ; | / | with | ; and | - | | | as well as"})
_FILL = frozenset(
    "again crosswise diagonally evenly in the same order sequence manner pattern way once more to at up tighten tightened "
    "tightening retighten torque torqued retorque turn it them all final full value cross star criss by a of increase "
    "increasing raise go set pull bring each every with on torque : = . rotate angle advance finish finally finishing "
    "complete completely end up ending lastly wrench setting secure then".split()
)


_ORDER = frozenset({"first", "second", "third", "fourth", "initially", "finally", "last"})


class Notation:
    """A tightening notation while it is being put together: its pulls in order and what was said about them."""

    __slots__ = ("added", "after", "base", "count", "doubts", "listed", "opened", "pulls", "readings", "staged")

    def __init__(self) -> None:
        self.pulls: list[Pull] = []
        self.added = False
        self.after = 0
        self.opened = 0  # where the first pull begins, past "first to", "step 1:"
        self.doubts: list[str] = []
        self.readings: list[str] = []
        self.staged = False  # words say that the torques are stages
        self.listed = False  # torques in a row, and no words about them
        self.count: int | None = None  # passes, where a number of them is stated
        self.base: Measured | None = None  # the torque that shares are taken of


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
            if text_at(toks, end) in ("first", "initially") and len(held.pulls) == 1:
                j = end  # the word belongs to a stage only when another one follows
            break
        j = more
    held.after = j
    _borrow(held)
    if not held.pulls or (held.pulls and _unitless_list(held, loose)):
        return None
    return held


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
    label = None
    if text_at(toks, j) in ("(", "["):
        label = stage_label(toks, j + 1, ahead=False)
        if label is not None and text_at(toks, label) in (")", "]"):
            held.staged = True
            return _closing(toks, label + 1, held)
    if text_at(toks, j) in ("first", "initially") and _strong(toks, j + 1) is not None:
        return j + 1
    if text_at(toks, j) in _ORDER and text_at(toks, j + 1) in ("", ",", ";", ".", "and"):
        held.staged = True
        return j + 1
    start = skip(toks, j, frozenset({","}))
    if start == j:
        start = skip(toks, j, frozenset("evenly crosswise".split()))
    passes = passes_at(toks, start)
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


def _item(toks: list[Token], i: int, held: Notation, finding: bool, loose: int, *, joined: bool = False) -> int | None:
    """Read one pull (or a whole list of them) at ``i`` into ``held``; the index after it."""
    for read in (_steps, _shares, _list):
        found = read(toks, i, held)
        if found is not None:
            return found
    if not (finding and not joined and text_at(toks, i) in ("-", "+")):
        angle = angle_at(toks, i, finding=finding and not joined)
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
        if number is not None and _strong(toks, number[1]) is not None:
            held.pulls.append(Measured(number[0], None))
            return number[1]
    return None


def _strong(toks: list[Token], j: int) -> tuple[str, int] | None:
    return phrase_at(toks, j, _STRONG)


def _join(toks: list[Token], j: int, held: Notation, finding: bool, loose: int) -> int | None:
    """Read a connector and the next pull; the index after it, or None when the notation ends here."""
    strong = _strong(toks, j)
    weak = phrase_at(toks, j, _WEAK)
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
    for at in _starts(toks, k):
        angle = angle_at(toks, at)
        if angle is not None and (certain or angle.angles[0].nominal > 0 or not finding):
            if not held.pulls or isinstance(held.pulls[-1], HandRead) and finding and not certain and strong is None:
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
    for read in (_shares, _list):
        found = read(toks, i, held)
        if found is not None:
            return found
    rest = _rest_of_base(toks, i, held) if certain else None
    if rest is not None:
        return rest
    torque = torque_pull(toks, i, loose)
    if torque is None:
        number = number_at(toks, i)
        if certain and number is not None and _strong(toks, number[1]) is not None:
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


def _rest_of_base(toks: list[Token], i: int, held: Notation) -> int | None:
    """A further share of a torque named before ("50 % of 64 N·m, then 100 %"), or "full (64 N·m)"."""
    full = full_at(toks, i)
    if full is not None and full[1]:
        pull = torque_pull(toks, full[0])
        if pull is not None and text_at(toks, pull[1]) in (")", "]"):
            held.pulls.append(pull[0])
            return pull[1] + 1
    if held.base is None:
        return None
    share = share_at(toks, i)
    if share is not None and text_at(toks, share[1]) not in ("of", "("):
        held.pulls.append(shared(held.base, share[0]) if share[0] != 1.0 else held.base)
        return share[1]
    if full is not None and torque_pull(toks, full[0]) is None:
        held.pulls.append(held.base)
        return full[0]
    return None


def _alike(held: Notation, found: Measured) -> bool:
    """Whether the last torque has the unit of ``found``: a list of stages keeps to one unit."""
    last = next((pull for pull in reversed(held.pulls) if isinstance(pull, Measured)), None)
    if last is None or last.unit is None or found.unit is None:
        return last is not None
    return last.unit.name == found.unit.name


def _steps(toks: list[Token], i: int, held: Notation) -> int | None:
    found = steps_before(toks, i)
    if found is None:
        return None
    pulls, end, doubt = found
    held.pulls.extend(pulls)
    held.staged = True
    if doubt:
        held.doubts.append(doubt)
    return end


def _percents(toks: list[Token], i: int) -> tuple[list[float], int] | None:
    """Shares with one per cent sign at their end: ``30, 60 and 100 %``, ``30/70/100 %``."""
    shares: list[float] = []
    j = i
    while True:
        number = number_at(toks, j)
        if number is None:
            return None
        shares.extend(number[0].pair or (number[0].value,))
        j = number[1]
        if phrase_at(toks, j, _PERCENT) is not None:
            break
        mark = phrase_at(toks, j, _LIST_MARKS)
        if mark is None or len(shares) > 12:
            return None
        j = mark[1]
    percent = phrase_at(toks, j, _PERCENT)
    if percent is None or len(shares) < 2 or not all(0 < share <= 100 for share in shares):
        return None
    after = skip(toks, percent[1], _SHARE_OF)
    if text_at(toks, after) == "of" and number_at(toks, after + 1) is None:
        after = skip(toks, after + 1, _SHARE_OF)
    return [share / 100 for share in shares], after


def _shares(toks: list[Token], i: int, held: Notation) -> int | None:
    """Shares of a torque that comes after them."""
    shares: list[float] = []
    j = i
    found: tuple[Measured, int] | None = None
    while True:
        label = stage_label(toks, j)
        start = skip(toks, label if label is not None else j, frozenset({"to", "at", "up", "by", "tighten", "torque"}))
        full = full_at(toks, start) if shares else None
        if full is not None:
            pull = torque_pull(toks, full[0])
            if pull is not None:
                shares.append(1.0)
                found = pull[0], pull[1]
                if full[1]:
                    if text_at(toks, pull[1]) not in (")", "]"):
                        return None
                    found = pull[0], pull[1] + 1
                break
        many = None if shares else _percents(toks, start)
        if many is not None:
            shares, j = many
            pull = torque_pull(toks, j + 1) if text_at(toks, j) in ("of", "(") else None
            if pull is not None:
                if text_at(toks, j) == "(" and text_at(toks, pull[1]) != ")":
                    return None
                found = pull[0], pull[1] + (text_at(toks, j) == "(")
                break
            mark = _strong(toks, j) or phrase_at(toks, j, _WEAK)
            if mark is None:
                return None
            j = mark[1]
            continue
        share = share_at(toks, start)
        if share is None:
            if not shares:
                return None
            pull = torque_pull(toks, start)
            if pull is None:
                return None
            shares.append(1.0)
            found = pull[0], pull[1]
            break
        shares.append(share[0])
        j = share[1]
        if text_at(toks, j) in ("(", "=") and share[0] != 1.0 and len(shares) == 1:
            own = torque_pull(toks, j + 1)  # "half (32 N·m)": the figure is that of the share
            if own is not None and (text_at(toks, j) == "=" or text_at(toks, own[1]) in (")", "]")):
                held.pulls.append(own[0])
                held.staged = True
                return own[1] + (text_at(toks, j) == "(")
        if text_at(toks, j) == "of" or text_at(toks, j) in ("(", ":"):
            pull = torque_pull(toks, j + 1)
            if pull is not None:
                end = pull[1]
                if text_at(toks, j) == "(":
                    if text_at(toks, end) not in (")", "]"):
                        return None
                    end += 1
                found = pull[0], end
                break
        mark = _strong(toks, j) or phrase_at(toks, j, _WEAK)
        if mark is None or len(shares) > 20:
            return None
        j = mark[1]
    held.pulls.extend(shared(found[0], share) if share != 1.0 else found[0] for share in shares)
    held.base = found[0]
    if len(shares) > 1:
        held.staged = True
    return found[1]


_PERCENT = phrases({"%": "% | percent | per cent | pct"})
_SHARE_OF = frozenset("the final full torque value specified total".split())
_LIST_MARKS = phrases(
    {",": ", | and | , and | & | ; | ; and", "then": "then | , then | and then | , and then | → | ->", "/": "/", "-": "-"}
)


def _list(toks: list[Token], i: int, held: Notation) -> int | None:
    """Figures in a row with the unit at the end: ``15, 30 and 45 N·m``, ``10/22/36 N·m``."""
    figures: list[Measured] = []
    marks: set[str] = set()
    j = i
    while True:
        number = number_at(toks, j)
        if number is None:
            return None
        pair = number[0].pair
        if figures or pair is None:
            last = torque_at(toks, j)
            if last is not None and last[0].low is not None and text_at(toks, j + 1) == "-" and marks <= {"-"}:
                last = None  # "10-22-36 N·m"
            if last is not None and pair is None and figures:
                if last[0].limit or phrase_at(toks, j, LEADS) is not None:
                    return None
                break
        if pair is not None:
            if not figures or marks != {"/"}:
                return None
            figures.append(Measured(number[0]._replace(value=pair[0], half=0.5, pair=None), None))
            unit = torque_at(toks, j)
            if unit is None or unit[0].low is None:
                return None
            tail = Measured(number[0]._replace(value=pair[1], half=0.5, pair=None), unit[0].unit)
            last = tail, unit[1]
            break
        figures.append(Measured(number[0], None))
        mark = phrase_at(toks, number[1], _LIST_MARKS)
        if mark is None or len(figures) > 12:
            return None
        marks.add(mark[0])
        j = mark[1]
    assert last is not None
    if len(figures) < 2 and marks & {"/", "-"}:
        return None
    if marks & {"-"} and (last[0].low is not None or last[0].high is not None):
        return None
    final = last[0]
    pull = torque_pull(toks, j) if final is not None and number_at(toks, j) is not None and "/" not in marks else None
    if pull is not None:
        final, end = pull[0], pull[1]
        held.added = held.added or pull[2]
    else:
        settle(final)
        end = last[1]
    if final.unit is None:
        return None
    for figure in figures:
        figure.unit = final.unit
        figure.settle()
    held.pulls.extend([*figures, final])
    if "then" in marks:
        held.staged = True
    else:
        held.listed = True
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
    torques = [pull for pull in held.pulls if isinstance(pull, Measured)]
    return any(pull.unit is None for pull in torques) and (loose != BARE or len(torques) > 1)
