"""Whose practice decides where trades disagree and no record settles it.

The answers stand in specs/policies.toml, with their sources. Those of the general practice stand here once more,
because almost every check uses them and none should read a file for it; a test holds the two equal.
"""

from __future__ import annotations

from functools import cache
from os.path import join
from typing import Any

from torquewright.book.locate import specs_folder


class Policy:
    """The answers of one practice; what each means stands in specs/policies.toml under the same name.

    ``locknuts``: "never", "measure", "ask". ``drag``: "always", "from a third", "recorded". ``order``: "recorded",
    "from four". ``retorque``: "recorded", "gasketed". ``records``: "safety", "ask". ``second_look``: "recorded",
    "safety".
    """

    __slots__ = ("drag", "locknuts", "name", "order", "records", "retorque", "second_look")

    def __init__(
        self, name: str, locknuts: str, drag: str, order: str, retorque: str, records: str, second_look: str
    ) -> None:
        self.name = name
        self.locknuts = locknuts
        self.drag = drag
        self.order = order
        self.retorque = retorque
        self.records = records
        self.second_look = second_look


GENERAL = Policy("general", "ask", "recorded", "recorded", "recorded", "ask", "recorded")
"""The practice where the catalogue names none."""


QUESTIONS = ("locknuts", "drag", "order", "retorque", "records", "second-look")
"""The tables of specs/policies.toml, in their order."""


def policy(name: str) -> Policy:
    """The practice called ``name`` in a catalogue; the general one where nobody knows a practice of that name."""
    return GENERAL if name in ("", "general") else _read(name)


@cache
def _read(name: str) -> Policy:
    if name not in practices():
        return GENERAL
    held = _tables()
    return Policy(name, *(str(held[question][name]["value"]) for question in QUESTIONS))


@cache
def _tables() -> dict[str, Any]:
    from tomllib import loads  # only a catalogue that names its trade pays for it

    with open(join(specs_folder(), "policies.toml"), encoding="utf-8") as file:
        return loads(file.read())


def answers(name: str) -> dict[str, tuple[str, str, str]]:
    """Question by question what the practice ``name`` answers: the value, what it means, where it comes from."""
    told = {}
    for question in _tables().values():
        held = question[name]
        source = ", ".join(held[key] for key in ("title", "clause") if key in held) or held["kind"]
        told[question["asks"]] = (held["value"], question["values"][held["value"]], source)
    return told


def practices() -> tuple[str, ...]:
    """The names of all practices."""
    (first, *_) = _tables().values()
    return tuple(key for key in first if key not in ("asks", "values"))
