"""Checks of how items are written, after the guidelines a program can see.

T. M. Haladyna, S. M. Downing, M. C. Rodriguez, A review of multiple-choice item-writing guidelines, Applied
Measurement in Education 15 (2002) 309, in our own words; the names are ours.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from torquewright.quiz.items import Item

_OPINION = re.compile(r"\b(?:you think|in your (?:view|opinion))\b", re.IGNORECASE)
_NEGATIVE = re.compile(r"\b(?:not|except|never)\b")
_ALL_OF = re.compile(r"\b(?:all|none|both) of (?:the above|these)\b|\b[A-E] and [A-E]\b", re.IGNORECASE)
_LONGEST_STEM = 60  # words


def remarks(items: list[Item]) -> Iterator[tuple[str, str, str]]:
    """(check, item id, what is wrong) for every item that breaks a guideline; nothing for a well-written form."""
    for item in items:
        for check, told in _one(item):
            yield check, item.id, told
    yield from _key_place(items)


def _one(item: Item) -> Iterator[tuple[str, str]]:
    texts = [choice.text for choice in item.choices]
    right = [choice for choice in item.choices if choice.right]
    if not item.ask.endswith(("?", ".")) or _OPINION.search(item.ask):
        yield "stem-asks", "the question is no question and no instruction"
    if len(item.ask.split()) > _LONGEST_STEM:
        yield "stem-short", f"the question has more than {_LONGEST_STEM} words"
    if _NEGATIVE.search(item.ask):
        yield "negative-marked", "the question asks for what is not so"
    if len(set(texts)) != len(texts):
        yield "alike", "two answers are the same"
    if any(_ALL_OF.search(text) for text in texts):
        yield "no-all-none", "an answer speaks of other answers"
    if item.kind in ("spot", "tool") and len(right) != 1:
        yield "one-key", f"{len(right)} answers are right"
    if item.kind in ("spot", "all") and not 3 <= len(texts) <= 5:
        yield "option-count", f"there are {len(texts)} answers"
    if item.kind == "spot" and right:
        others = sorted(len(choice.text) for choice in item.choices if not choice.right)
        if len(right[0].text) > 2.0 * others[len(others) // 2]:
            yield "length-even", "the right answer stands out by its length"
    if any(not choice.reason for choice in item.choices):
        yield "feedback-each", "an answer has no reason"
    if item.figure is not None and not item.figure.tolerance > 0:
        yield "tolerance", "a figure is asked for to the last digit"
    if not item.sources:
        yield "source", "no source is named"


def _key_place(items: list[Item]) -> Iterator[tuple[str, str, str]]:
    """The right answer must not stand in one place far more often than its share."""
    keys = [item.key for item in items if item.kind == "spot"]
    for letter in sorted(set(keys)):
        share = len(keys) / 4
        if len(keys) >= 8 and keys.count(letter) > 2 * share:
            yield "key-place", "", f"{keys.count(letter)} of {len(keys)} answers are {letter}"
