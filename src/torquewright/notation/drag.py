"""Running torque on top of a figure: "plus the running torque", "prevailing torque plus", "drag not included"."""

from __future__ import annotations

from torquewright.notation.phrases import phrase_at, phrases, skip, text_at
from torquewright.notation.spelling import Token, words

_CLOSE = {"(": ")", "[": "]"}
_DRAG = phrases(
    {
        "drag": "running torque | prevailing torque | friction drag | frictional drag | drag torque | "
        "friction torque | tare torque | run down torque | rundown torque | free running torque | "
        "locking torque | self locking torque | turning torque | breakaway torque | drag | tare | friction | "
        "prevailing | run on torque | nut drag | thread drag | rolling torque | rotational drag | tare drag | "
        "frictional torque | running drag | resistance | "
        "running resistance | turning resistance | prevailing torque of the nut | prevailing torque of the locknut | "
        "running torque of the nut | running torque of the locknut | running torque of the lock nut | "
        "drag of the nut | drag of the locknut"
    }
)
_ON_TOP = phrases(
    {
        "on": "plus | + | over | above | over and above | on top of | in addition to | added to | and | beyond | "
        "more than | in excess of | net of | excluding | not including | exclusive of | not counting | without | "
        "excl | less | after adding | to be added to | to | onto | higher than | , plus | , added to | , net of | "
        ", in addition to | , over | , excluding | , not including | clear of | with the"
    }
)
_DRAG_WORDS = words(
    "the any its their measured own nut locknut lock nuts fastener's actual found ' s existing observed nut's"
)


def drag_at(toks: list[Token], i: int) -> int | None:
    """Past "plus the running torque" after a figure; None if it does not stand there."""
    j = i
    apart = _drag_apart(toks, i)
    if apart is not None:
        return apart
    bracket = text_at(toks, j) == "("
    mark = phrase_at(toks, j + bracket, _ON_TOP)
    if mark is None:
        return None
    k = skip(toks, mark[1], _DRAG_WORDS)
    drag = phrase_at(toks, k, _DRAG)
    if drag is None:
        return None
    k = drag[1]
    if bracket:
        return k + 1 if text_at(toks, k) == ")" else None
    return k


_APART = phrases(
    {
        "apart": "not included | is not included | excluded | is excluded | to be added | is to be added | "
        "must be added | added | extra | is added | comes on top | on top | is extra | not counted | not incl | "
        "excl"
    }
)


def _drag_apart(toks: list[Token], i: int) -> int | None:
    """Past "(prevailing torque not included)"."""
    opening = text_at(toks, i)
    if opening not in ("(", "[", ",", ";", "-"):
        return None
    drag = phrase_at(toks, skip(toks, i + 1, _DRAG_WORDS), _DRAG)
    apart = phrase_at(toks, drag[1], _APART) if drag is not None else None
    if apart is None:
        return None
    if opening in _CLOSE:
        return apart[1] + 1 if text_at(toks, apart[1]) == _CLOSE[opening] else None
    return apart[1]


def drag_before(toks: list[Token], i: int) -> int | None:
    """Past "prevailing torque plus" ahead of a figure."""
    drag = phrase_at(toks, skip(toks, i, _DRAG_WORDS), _DRAG)
    if drag is None:
        return None
    if text_at(toks, drag[1]) in ("plus", "+", "and"):
        return drag[1] + 1
    return None
