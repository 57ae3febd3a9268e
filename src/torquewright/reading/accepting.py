"""Findings a draft lets stand: comments such as ``<!-- accept wrench-out-of-range: checked every month -->``."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from torquewright.records.steps import Accepted


class AcceptedHere(NamedTuple):
    """One comment: what it lets stand, its offsets, and the index of its step (None ahead of all steps)."""

    accepted: Accepted
    start: int
    end: int
    step: int | None


@lru_cache(maxsize=1)
def _comment() -> re.Pattern[str]:
    return re.compile(r"<!--\s*accept\s+([A-Za-z0-9-]*[A-Za-z0-9])\s*(?::\s*(.*?))?\s*-->", re.DOTALL)


def accepted_in(text: str, starts: list[int]) -> list[AcceptedHere]:
    """The comments of a draft whose steps begin at the offsets ``starts``, in the order of the text.

    A comment belongs to the step it stands in; ahead of the first step it is about the procedure as a whole.
    """
    if "<!--" not in text:
        return []
    held = []
    for match in _comment().finditer(text):
        step = sum(1 for start in starts if start <= match.start()) - 1
        because = " ".join((match.group(2) or "").split())
        accepted = Accepted(match.group(1), because)
        held.append(AcceptedHere(accepted, match.start(), match.end(), step if step >= 0 else None))
    return held
