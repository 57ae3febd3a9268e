"""Nearly right words: what somebody most likely meant to write."""

from __future__ import annotations

from collections.abc import Iterable

_LOOKED_AT = 1000  # a hostile list of names must not cost more than a long one


def nearest(word: str, known: Iterable[str], *, cutoff: float = 0.7, most: int = 3) -> list[str]:
    """Up to ``most`` of the ``known`` words that look like ``word``, the likeliest first. Case does not matter."""
    from difflib import get_close_matches  # only ever needed once something is wrong

    spelled: dict[str, str] = {}
    for candidate in known:
        if len(spelled) >= _LOOKED_AT:
            break
        spelled.setdefault(candidate.lower().replace("_", "-"), candidate)
    close = get_close_matches(word.lower().replace("_", "-"), spelled, n=most, cutoff=cutoff)
    return [spelled[candidate] for candidate in close]


def listed(words: Iterable[str], *, last: str = "or") -> str:
    """``a, b or c``."""
    held = list(words)
    return held[0] if len(held) == 1 else f"{', '.join(held[:-1])} {last} {held[-1]}" if held else ""


def quoted(words: Iterable[str]) -> str:
    """``"a", "b" or "c"``."""
    return listed(f'"{word}"' for word in words)


def one_edit(left: str, right: str) -> bool:
    """Whether one letter put in, left out, changed, or two neighbours swapped, turn one word into the other.

    A changed figure is no slip: "bolt-1" and "bolt-2" are two bolts.
    """
    if left == right or abs(len(left) - len(right)) > 1:
        return False
    if len(left) > len(right):
        left, right = right, left
    at = 0
    while at < len(left) and left[at] == right[at]:
        at += 1
    if len(left) < len(right):
        return left[at:] == right[at + 1 :] and not right[at].isdigit()
    if left[at + 1 :] == right[at + 1 :]:
        return not (left[at].isdigit() or right[at].isdigit())
    return left[at : at + 2] == right[at : at + 2][::-1] and left[at + 2 :] == right[at + 2 :]
