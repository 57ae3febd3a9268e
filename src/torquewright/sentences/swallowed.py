"""Notations found in a sentence, without the words in them that say more as words: verbs, "by hand", "must be"."""

from __future__ import annotations

import re
from functools import lru_cache

from torquewright.notation.tightening import Found, find_tightenings

_VERBS_INSIDE = ("tighten", "torque ", "loosen", "back", "slacken", "exceed", "turn ", "set ", "give ", "swing ")
_BINDING = (
    "must be ",
    "shall be ",
    "should be ",
    "has to be ",
    "have to be ",
    "is to be ",
    "are to be ",
    "is ",
    "are ",
)


def apart(text: str, found: list[Found]) -> list[Found]:
    """The notations without the words that say more as words: "snug" and "by hand" are left to the clauses, and one
    that has swallowed a verb ("one full turn, then tighten again to 18 N·m") is taken apart at it."""
    result: list[Found] = []
    for item in found:
        kind = item.tightening.kind
        if kind == "hand_tight":
            continue
        low = text[item.start : item.end].lower()
        lead = next((verb for verb in _BINDING if low.startswith(verb)), "")
        if lead:
            start = item.start + len(lead)
            result.extend(find_tightenings(text, start, item.end))
            continue
        if item.start > 1 and text[item.start - 1] in "-–" and text[item.start - 2].isdigit() and " to " in low:
            # the last figure of an order is none of the torque: "in the order 1-3-2-4 to 11 N·m"
            result.extend(find_tightenings(text, item.start + low.index(" to ") + 4, item.end))
            continue
        if (stop := low.find(";")) > 0 and low[:stop].replace(" ", "").isalpha():
            # "on to the next one; 40 N·m is the most": a number word that is none
            result.extend(find_tightenings(text, item.start + stop + 1, item.end))
            continue
        tool = _with_tool().search(low)
        if tool is not None and _a_tool().match(text, item.end):
            # "first to 10 N·m and then to 23 N·m, with the 2–24 N·m wrench": the last figure is the tool's
            result.extend(apart(text, find_tightenings(text, item.start, item.start + tool.start())))
            result.extend(find_tightenings(text, item.start + tool.end(), item.end))
            continue
        others = _others().search(low)
        if others is not None:
            # "to 12 N·m, then the last two to 15 N·m": others than those before
            result.extend(apart(text, find_tightenings(text, item.start, item.start + others.start())))
            result.extend(apart(text, find_tightenings(text, item.start + others.end(), item.end)))
            continue
        if _mixed().match(low) or (_counted().match(text, max(0, item.start - 8), item.end) and " to " in low):
            # "torque all four to 12 N·m": the number counts the nuts
            result.extend(find_tightenings(text, item.start + low.index(" to ") + 4, item.end))
            continue
        if low.startswith(("one through ", "one by ")):
            # "swing each one through 90°"
            result.extend(apart(text, find_tightenings(text, item.start + low.index(" ", 4), item.end)))
            continue
        if low.startswith("up to ") and _brought().search(text, max(0, item.start - 80), item.start):
            # "do the screws up to 6 N·m": "up" belongs to the verb
            result.extend(find_tightenings(text, item.start + 6, item.end))
            continue
        if kind in ("angle_only", "turns") and low in ("a flat", "the flat", "one flat", "flat"):
            continue
        hand = low.find(" by hand")
        if hand > 0 and any(
            held.tightening.torque is not None for held in find_tightenings(text, item.start + hand + 8, item.end)
        ):
            # "three turns by hand, 26 N·m": how far by hand is no stage
            result.extend(find_tightenings(text, item.start + hand + 8, item.end))
            continue
        if any(verb in low for verb in _VERBS_INSIDE):
            pieces = _split_at_verbs(text, item, low)
            if pieces is not None:
                result.extend(pieces)
                continue
        result.append(item)
    return result


_NUMBERS = "one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve"


@lru_cache(maxsize=1)
def _others() -> re.Pattern[str]:
    return re.compile(rf",? (?:then|and|but)? ?(?:the )?(?:last|other|remaining|first|next) (?:{_NUMBERS})(?: ones)? ")


@lru_cache(maxsize=1)
def _with_tool() -> re.Pattern[str]:
    return re.compile(r",? (?:with|using) (?:the|a|an) (?=\d)")


@lru_cache(maxsize=1)
def _a_tool() -> re.Pattern[str]:
    return re.compile(r"\s+(?:torque[ -])?(?:wrench|driver|screwdriver|key|spanner|tool)", re.IGNORECASE)


@lru_cache(maxsize=1)
def _mixed() -> re.Pattern[str]:
    """ "the first three to 5 N·m": no range has one limit in words and the other in figures."""
    return re.compile(rf"(?:{_NUMBERS}) to \d")


@lru_cache(maxsize=1)
def _counted() -> re.Pattern[str]:
    return re.compile(
        r".*\b(?:all|the|these|those|other) (?:two|three|four|five|six|seven|eight|nine|ten|twelve) to ", re.IGNORECASE
    )


@lru_cache(maxsize=1)
def _brought() -> re.Pattern[str]:
    verbs = "do|bring|pull|draw|nip|wind|go|work|get|take|run|screw|turn|crank"
    return re.compile(rf"\b(?:{verbs})\b[^.;]*$", re.IGNORECASE)


@lru_cache(maxsize=1)
def _verb_inside() -> re.Pattern[str]:
    return re.compile(
        r"(?:^|(?<=\W))(?:(?:give|swing)(?= (?:it|them|each|all))|do not exceed|don't exceed|never "
        r"exceed|re-?tighten(?:ed)?|tighten(?:ed|ing)?|(?<!half )(?<!full )(?<!final )(?<!the )torqued?|"
        r"loosen(?:ed)?|slacken(?:ed)?|back(?:ed)? (?:it "
        r"|them )?(?:off|out)|"
        r"set(?= (?:it|them|to|at|the))|turn(?= "
        r"(?:it|them|the|all|each|by|through|an?|another|further|\d)\b))(?:\W+(?:again|it|them|off|up|down|all|each|"
        r"finally|further|on))*\W+(?=\S)"
    )


def _split_at_verbs(text: str, item: Found, low: str) -> list[Found] | None:
    """The notations on both sides of the verbs inside one; None where there is no verb to part it at."""
    cuts = list(_verb_inside().finditer(low))
    if not cuts or low.startswith(("do not exceed", "don't exceed", "never exceed", "not to exceed")):
        return None
    pieces: list[Found] = []
    at = item.start
    for cut in (*cuts, None):
        stop = item.start + cut.start() if cut is not None else item.end
        if stop > at:
            pieces.extend(held for held in find_tightenings(text, at, stop) if held.tightening.kind != "hand_tight")
        if cut is not None:
            at = item.start + cut.end()
    return pieces
