"""Figures in a row: shares of a torque ("50 %, 75 % and 100 % of 64 N·m") and lists ("15, 30 and 45 N·m")."""

from __future__ import annotations

from torquewright.notation.connectors import WEAK, strong_at
from torquewright.notation.counting import number_at
from torquewright.notation.gathered import Notation
from torquewright.notation.limits import LEADS
from torquewright.notation.measured import Measured
from torquewright.notation.passes import stage_label
from torquewright.notation.phrases import phrase_at, phrases, skip, text_at
from torquewright.notation.pulls import settle, torque_pull
from torquewright.notation.shares import full_at, share_at, shared
from torquewright.notation.spelling import Token, words
from torquewright.notation.torques import torque_at

_PERCENT = phrases({"%": "% | percent | per cent | pct"})
_SHARE_OF = words("the final full torque value specified total")
_LIST_MARKS = phrases(
    {
        ",": ", | and | , and | & | ; | ; and",
        "then": "then | , then | and then | , and then | → | -> | and finally | , and finally | , finally | and lastly",
        "/": "/",
        "-": "-",
    }
)


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


def shares_of(toks: list[Token], i: int, held: Notation) -> int | None:
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
            mark = strong_at(toks, j) or phrase_at(toks, j, WEAK)
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
        if text_at(toks, j) in ("first", "initially") and strong_at(toks, j + 1) is not None:
            j += 1  # "half torque first, then the full 44 N·m"
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
        mark = strong_at(toks, j) or phrase_at(toks, j, WEAK)
        if mark is None or len(shares) > 20:
            return None
        j = mark[1]
    held.pulls.extend(shared(found[0], share) if share != 1.0 else found[0] for share in shares)
    held.base = found[0]
    if len(shares) > 1:
        held.staged = True
    return found[1]


def list_of(toks: list[Token], i: int, held: Notation) -> int | None:
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


def rest_of(toks: list[Token], i: int, held: Notation) -> int | None:
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
