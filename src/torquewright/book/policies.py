"""Whose practice decides where trades disagree and no record settles it.

The answers stand in specs/policies.toml, with their sources. Those of the general practice stand here once more,
because almost every check uses them and none should read a file for it; a test holds the two equal.
"""

from __future__ import annotations

from functools import cache
from os.path import join
from typing import Any, NamedTuple

from torquewright.book.locate import specs_folder


class Policy(NamedTuple):
    """The answers of one practice; what each means stands in specs/policies.toml under the same name."""

    name: str
    locknuts: str  # "never", "measure", "ask"
    drag: str  # "always", "from a third", "recorded"
    order: str  # "recorded", "from four"
    retorque: str  # "recorded", "gasketed"
    records: str  # "safety", "ask"
    second_look: str  # "recorded", "safety"


GENERAL = Policy("general", "ask", "recorded", "recorded", "recorded", "ask", "recorded")
"""The practice where the catalogue names none."""


class Answer(NamedTuple):
    """What one practice answers to one question: the value, what it means, and where it comes from."""

    value: str
    says: str
    source: str


def policy(name: str) -> Policy:
    """The practice called ``name`` in a catalogue; the general one where nobody knows a practice of that name."""
    return GENERAL if name in ("", "general") else _read(name)


@cache
def _read(name: str) -> Policy:
    if name not in practices():
        return GENERAL
    held = _tables()
    questions = Policy._fields[1:]
    return Policy(name, *(str(held[question.replace("_", "-")][name]["value"]) for question in questions))


@cache
def _tables() -> dict[str, Any]:
    from tomllib import loads  # only a catalogue that names its trade pays for it

    with open(join(specs_folder(), "policies.toml"), encoding="utf-8") as file:
        return loads(file.read())


def answers(name: str) -> dict[str, Answer]:
    """Question by question, what the practice ``name`` answers, for whoever wants to read it."""
    told = {}
    for question in _tables().values():
        held = question[name]
        source = ", ".join(held[key] for key in ("title", "clause") if key in held) or held["kind"]
        told[question["asks"]] = Answer(held["value"], question["values"][held["value"]], source)
    return told


def practices() -> tuple[str, ...]:
    """The names of all practices."""
    (first, *_) = _tables().values()
    return tuple(key for key in first if key not in ("asks", "values"))
