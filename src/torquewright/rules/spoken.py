"""The words of steps beside their actions: asked only where a record demands something, to see what was said of it."""

from __future__ import annotations

from torquewright.bench import Event, Trace
from torquewright.records import Action


def words_of(action: Action) -> str:
    """Everything an action says in words, in lower case."""
    return f"{action.what} {action.with_what} {action.tool} {action.note}".lower()


def said(trace: Trace, step: int) -> str:
    """The sentence of a step as written, in lower case; "" for what is taken as done before the first step."""
    steps = trace.procedure.steps
    return steps[step].say.lower() if 0 <= step < len(steps) else ""


def speaks_of(trace: Trace, event: Event, *words: str) -> bool:
    """Whether an action or the sentence of its step has one of ``words``."""
    held = words_of(event.action)
    if any(word in held for word in words):
        return True
    held = said(trace, event.step)
    return any(word in held for word in words)


def told(trace: Trace, steps: range, *groups: tuple[str, ...]) -> bool:
    """Whether a sentence of ``steps`` has a word out of each group; words may be the beginnings of words."""
    for step in steps:
        for sentence in said(trace, step).replace(";", ".").split(". "):
            padded = f" {sentence}"
            if all(any(f" {word}" in padded for word in group) for group in groups):
                return True
    return False


def warned(trace: Trace, step: int, words: tuple[str, ...]) -> bool:
    """Whether a safety message ahead of or in the steps up to ``step`` has one of ``words``."""
    for message in trace.procedure.messages:
        if message.step <= step:
            text = message.text.lower()
            if any(word in text for word in words):
                return True
    return False


def handed_on(trace: Trace, after: int) -> bool:
    """Whether the job goes on in another document, or in steps done once more, behind the event ``after``."""
    return any(event.order > after and event.verb in ("refer", "repeat") for event in trace.events)


def listed(words: list[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"
