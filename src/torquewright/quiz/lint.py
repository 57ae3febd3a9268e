"""Checks of how items are written, after the guidelines a program can see.

T. M. Haladyna, S. M. Downing, M. C. Rodriguez, A review of multiple-choice item-writing guidelines, Applied
Measurement in Education 15 (2002) 309, in our own words; the names are ours.

Four of them are left alone, each for a reason. Words that all answers share stay in the answers: the same answers
serve other questions. "Never" and "only" are no cue here, since every answer states a fault and each is the key
somewhere. Answers of fault items are shuffled, not put in step order, so that forms differ. That a wrong answer is a
real slip, and no matter of rounding, is seen where it is made: it is a fault that was planted and found.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations

from torquewright.quiz.items import Item, cues

_OPINION = re.compile(r"\b(?:you think|in your (?:view|opinion))\b", re.IGNORECASE)
_NEGATIVE = re.compile(r"\b(?:not|except|never)\b", re.IGNORECASE)
_ALL_OF = re.compile(r"\b(?:all|none|both) of (?:the above|these)\b|\b[A-E] and [A-E]\b", re.IGNORECASE)
_COMMAND = re.compile(r"(?:fit|put|take|tighten|loosen|remove|refit|set|use|turn|fill)\b", re.IGNORECASE)
_LONGEST_STEM = 60  # words
_LONGEST_KEY = 1.5  # times the middle wrong answer


def remarks(items: list[Item]) -> Iterator[tuple[str, str, str]]:
    """(check, item id, what is wrong) for every item that breaks a guideline; nothing for a well-written form."""
    for item in items:
        for check, told in _one(item):
            yield check, item.id, told
    yield from _key_place(items)
    for one, other in combinations(items, 2):
        if cues(one, other):
            yield "no-cue-across", one.id, f"it and {other.id} share a figure that is asked for"


def _one(item: Item) -> Iterator[tuple[str, str]]:
    texts = [choice.text for choice in item.choices]
    right = [choice for choice in item.choices if choice.right]
    if not item.ask.endswith(("?", ".")):
        yield "stem-asks", "the question is no question and no instruction"
    if _OPINION.search(item.ask):
        yield "no-opinion", "the question asks what somebody thinks"
    if len(item.ask.split()) > _LONGEST_STEM:
        yield "stem-short", f"the question has more than {_LONGEST_STEM} words"
    if _NEGATIVE.search(item.ask):
        yield "negative-marked", "the question asks for what is not so"
    if len({text.casefold() for text in texts}) != len(texts):
        yield "alike", "two answers are the same"
    if any(_ALL_OF.search(text) for text in texts):
        yield "no-all-none", "an answer speaks of other answers"
    if item.kind in ("spot", "tool") and len(right) != 1:
        yield "one-key", f"{len(right)} answers are right"
    if item.kind == "spot" and len({choice.claim[0] for choice in right} | {item.rule}) != 1:
        yield "one-idea", "the right answer is about another rule than the item"
    if item.kind == "all" and not 2 <= len(right) < len(texts):
        yield "one-key", f"{len(right)} of {len(texts)} answers are right"
    if item.kind in ("spot", "all", "tool") and not 3 <= len(texts) <= 5:
        yield "option-count", f"there are {len(texts)} answers"
    if item.kind == "spot" and right:
        others = sorted(len(choice.text) for choice in item.choices if not choice.right)
        if len(right[0].text) > _LONGEST_KEY * others[len(others) // 2]:
            yield "length-even", "the right answer stands out by its length"
    if item.kind == "tool" and right:
        echoed = _words(item.ask) & _words(right[0].text)
        if echoed - set().union(*(_words(choice.text) for choice in item.choices if not choice.right)):
            yield "no-echo", "only the right answer takes up a word of the question"
    if item.kind == "tool" and [choice.claim[2] for choice in item.choices] != _by_scale(item):
        yield "option-order", "the scales do not go up from answer to answer"
    if item.kind in ("spot", "all", "tool") and any(_COMMAND.match(text) for text in texts):
        yield "safe-text", "an answer reads as an instruction by itself"
    if any(not choice.reason for choice in item.choices):
        yield "feedback-each", "an answer has no reason"
    if any(choice.claim[0] == "" for choice in item.choices if item.kind in ("spot", "all")):
        yield "no-joke", "an answer is no fault of the book"
    if item.figure is not None and not item.figure.tolerance > 0:
        yield "tolerance", "a figure is asked for to the last digit"
    if not item.sources:
        yield "source", "no source is named"


def _words(text: str) -> set[str]:
    return {word for word in re.findall(r"[a-z]{4,}", text.lower()) if word not in ("wrench", "torque", "these")}


def _by_scale(item: Item) -> list[str]:
    scales = {tool.id: (tool.low or 0.0, tool.high or 0.0) for tool in item.catalogue.tools or ()}
    return sorted((choice.claim[2] for choice in item.choices), key=lambda tool: scales[tool])


def _key_place(items: list[Item]) -> Iterator[tuple[str, str, str]]:
    """The right answer must not stand in one place far more often than its share."""
    keys = [item.key for item in items if item.kind == "spot"]
    for letter in sorted(set(keys)):
        share = len(keys) / 4
        if len(keys) >= 8 and keys.count(letter) > 2 * share:
            yield "key-place", "", f"{keys.count(letter)} of {len(keys)} answers are {letter}"
