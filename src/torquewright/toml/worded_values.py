"""Values of a TOML file that are words from a list, closed or open, or short phrases made of such words."""

from __future__ import annotations

from collections.abc import Callable

from torquewright.notation.near import nearest, one_edit, quoted
from torquewright.records.steps import WasherUse
from torquewright.toml.plain_values import text, texts
from torquewright.toml.slips import Slip, Wrong, wrong
from torquewright.toml.words_taken import ENERGIES, OPEN_WORDS, WORDS


def one_of(words: tuple[str, ...]) -> Callable[[object], str]:
    """A reading for a closed list of words."""
    allowed = frozenset(words)

    def chosen(value: object) -> str:
        if type(value) is str and value in allowed:
            return value
        raise wrong(value, "not a word known here", _or_nearest(text(value), words))

    chosen.__doc__ = f"One of {quoted(words)}."
    return chosen


def nearly(words: tuple[str, ...], same: dict[str, str]) -> Callable[[object], str]:
    """A reading for an open list of words, with other names for some of them."""
    known = {word.lower(): word for word in words}
    known.update({word.lower(): meant for word, meant in same.items()})

    def taken(value: object) -> str:
        held = text(value)
        lower = held.lower()
        if lower in known:
            return known[lower]
        if len(lower) > 4 and any(one_edit(lower, word) for word in known):
            raise wrong(value, "nearly a known word", _or_nearest(held, tuple(known.values())))
        return held

    taken.__doc__ = f"{quoted(words)}, or another word."
    return taken


def _or_nearest(held: str, words: tuple[str, ...]) -> str:
    return quoted(nearest(held, words, most=1, cutoff=0.6) or words)


def mode(value: object) -> str:
    """How an action is meant."""
    return _MODE(value).replace(" ", "_")


def state(value: object) -> str:
    """The state of a piece: ``new_if`` where it depends."""
    held = _STATE(value)
    return "new_if" if held == "new if needed" else held


_MODE = one_of(WORDS["mode"])
_STATE = one_of(WORDS["state"])
_ENERGY = one_of(ENERGIES)


def energy(value: object) -> tuple[str, ...]:
    """A list of the kinds of energy behind a joint."""
    held = texts(value)
    slips: list[Slip] = []
    for at, word in enumerate(held):
        try:
            _ENERGY(word)
        except Wrong as fault:
            slips.extend(slip._replace(path=(at,)) for slip in fault.slips)
    if slips:
        raise Wrong(slips)
    return held


def reuse(value: object) -> tuple[str, int | None]:
    """A reuse policy and, for ``3 times``, the number."""
    held = text(value)
    if held in ("never", "after measuring", "free"):
        return held, None
    figure, _, rest = held.partition(" ")
    if figure.isascii() and figure.isdigit() and rest in ("times", "time") and 1 <= int(figure) <= 1000:
        return "limited", int(figure)
    raise wrong(value, "not a way of reuse known here", '"never", "after measuring", "free" or "3 times"')


_WASHER_STATES = {"new": "new", "old": "old", "measured": "measured"}


def washer_use(value: object) -> WasherUse:
    """``1 new``, ``2 new sealing``, ``1 old``, ``new``, ``none``; ``some`` where neither is said."""
    held = text(value)
    if held == "none":
        return WasherUse(0)
    if held == "some":
        return WasherUse()
    words = held.split()
    number: int | None = None
    condition = ""
    if words[0].isascii() and words[0].isdigit() and len(words[0]) < 4:
        number = int(words.pop(0))
    if words and words[0] in _WASHER_STATES:
        condition = words.pop(0)
        if condition == "new" and words[:2] == ["if", "needed"]:
            condition, words = "new_if", words[2:]
    kind = " ".join(words)
    if kind and kind not in OPEN_WORDS["washer kind"]:
        raise wrong(value, "not a use of washers known here", '"1 new", "1 old", "2 new", "1 new sealing" or "none"')
    return WasherUse(number, condition, kind)  # type: ignore[arg-type]  # the words above are the states
