"""What a detector hands over: facts in SI, never a sentence."""

from __future__ import annotations

from typing import Literal, NamedTuple

from torquewright.base.document import Path

Certainty = Literal["certain", "likely", "unstated"]
Fact = str | int | float


class Finding(NamedTuple):
    """One fault. ``rule`` is the id of a rule file; ``step`` an index into the procedure's steps (None: the
    procedure as a whole); ``joint`` the id of the fastener, seal or fluid it concerns ("" where none is).

    ``facts`` are the named values the rule file declares, raw in SI (texts as they are). ``path`` in ``part``
    ("procedure", "catalogue", "tools", "kit") is where it shows; ``also`` are second places, (part, path) each.
    ``form`` picks the wording ``[say.<form>]`` of the rule file ("" is ``[say]``). ``unit`` is the canonical unit
    in which torques are best shown to the reader, "" for N·m.
    """

    rule: str
    certainty: Certainty
    step: int | None
    joint: str
    facts: dict[str, Fact]
    path: Path
    part: str = "procedure"
    also: tuple[tuple[str, Path], ...] = ()
    form: str = ""
    unit: str = ""
