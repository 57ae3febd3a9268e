"""Taking a quiz at the terminal: one question after the other, the answer judged, the reason told, a result."""

from __future__ import annotations

from collections.abc import Callable

from torquewright.quiz.items import LETTERS, Item
from torquewright.quiz.paper import HOW, feedback, records, tool_words
from torquewright.records import Catalogue


class Left(Exception):
    """Whoever took the quiz has left it."""


def take(
    title: str, items: list[Item], catalogue: Catalogue, say: Callable[[str], None], ask: Callable[[str], str]
) -> float:
    """Ask every item; the points reached. ``say`` shows a line, ``ask`` shows a prompt and answers what was typed
    (EOFError when there is nothing more). An empty answer skips, ``q`` leaves."""
    say(title)
    say("")
    for row in records(catalogue):
        say("  " + " | ".join(cell for cell in row if cell))
    if catalogue.tools:
        say("  Tools: " + "; ".join(tool_words(tool) for tool in catalogue.tools))
    points = 0.0
    done = 0
    try:
        for number, item in enumerate(items, 1):
            points += _one(number, len(items), item, say, ask)
            done = number
            say(f"  So far {_shown(points)} of {number}.")
    except Left:
        say("")
        say("Left before the end.")
    say("")
    share = f" ({points / done:.0%})" if done else ""
    say(f"Result: {_shown(points)} of {done} answered{share}, {len(items)} asked.")
    return points


def _one(number: int, count: int, item: Item, say: Callable[[str], None], ask: Callable[[str], str]) -> float:
    say("")
    say(f"Question {number} of {count}")
    for line in item.lead:
        say(line)
    for label, text in item.steps:
        say(f"{label:>4}. {text}")
    say("")
    say(f"{item.ask} {HOW[item.kind]}")
    for at, choice in enumerate(item.choices):
        say(f"  {LETTERS[at]}  {choice.text}")
    while True:
        try:
            typed = ask(_prompt(item)).strip()
        except EOFError:
            raise Left from None
        if typed.lower() in ("q", "quit"):
            raise Left
        score = judged(item, typed)
        if score is not None:
            break
        say(f"  {_wanted(item)}")
    word = "Right." if score == 1 else "Skipped." if not typed else "Partly right." if score > 0 else "Not right."
    say(f"{word} The answer is {item.key}.")
    for line in feedback(item):
        say(f"  {line}")
    return score


def judged(item: Item, typed: str) -> float | None:
    """The points for an answer as typed, 0 to 1; None where it is no answer at all. An empty one brings 0."""
    if not typed.strip():
        return 0.0
    if item.figure is not None:
        try:
            value = float(typed.replace(item.figure.unit, "").strip().replace(",", "."))
        except ValueError:
            return None
        return 1.0 if abs(value - item.figure.value) <= item.figure.tolerance else 0.0
    letters = [sign for sign in typed.upper() if sign.isalnum()]
    known = LETTERS[: len(item.choices)]
    if any(letter not in known for letter in letters) or len(set(letters)) != len(letters):
        return None
    picked = [known.index(letter) for letter in letters]
    if item.order:
        return None if len(picked) != len(item.order) else float(tuple(picked) == item.order)
    right = {at for at, choice in enumerate(item.choices) if choice.right}
    if item.kind != "all":
        return None if len(picked) != 1 else float(set(picked) == right)
    hits = sum(1 if at in right else -1 for at in picked)
    return max(0.0, hits / len(right))


def _prompt(item: Item) -> str:
    return f"{item.figure.unit}> " if item.figure is not None else "> "


def _wanted(item: Item) -> str:
    if item.figure is not None:
        return f"A number, such as {item.figure.tolerance:g}; q leaves."
    if item.order:
        return f"All {len(item.order)} letters in order, such as {' '.join(LETTERS[: len(item.order)])}; q leaves."
    if item.kind == "all":
        return "One or more letters, such as A C; q leaves."
    return f"One letter from A to {LETTERS[len(item.choices) - 1]}; q leaves."


def _shown(points: float) -> str:
    return f"{points:.1f}".removesuffix(".0")
