"""A procedure: its steps in the order they are done, and the actions each step demands.

One record for both ways of writing (TOML and sentences). Verbs are the closed set ``VERBS``.
"""

from __future__ import annotations

from typing import Literal

from attrs import frozen

from torquewright.records.parts import Amount, Thread
from torquewright.records.record import Record
from torquewright.records.tightening import Tightening

VERBS = frozenset(
    {
        "isolate", "support", "raise", "lower", "mark", "loosen", "remove", "disconnect", "drain", "discard",
        "clean", "inspect", "measure", "lubricate", "seal", "position", "install", "reuse", "replace", "connect",
        "hand_start", "seat", "tighten", "tighten_angle", "back_off", "retighten", "lock", "fill", "bleed",
        "check_level", "start", "run", "stop", "wait", "check_leak", "check", "record", "repeat", "refer",
        "insert", "take_out", "warm_up", "cool_down",
    }
)  # fmt: skip

Mode = Literal["do", "do_not", "if", "mentioned_only", "stated_passively"]
State = Literal["", "new", "old", "measured", "new_if"]


@frozen(repr=False, eq=False)
class WasherUse(Record):
    """Washers an action puts on (or takes off), at each position. ``count`` None: the text does not say."""

    count: int | None = None
    state: State = ""
    kind: str = ""


@frozen(repr=False, eq=False)
class Action(Record):
    """One thing done to one object.

    ``what`` is the id of a record (fastener, seal, fluid, part, tool) or, where no record is meant, the words
    used. ``of`` is the id of the joint when ``what`` is a piece of it ("washer", "lock", "seal"). ``count`` is the
    number the text states, None where it states none; for fasteners None means all positions the action can
    apply to. ``tool`` is a tool id or the words used. ``to`` is the demanded tightening, ``setting`` the wrench
    setting where the text gives it beside the demand (an adapter, a drag correction). ``adapter`` is what sits
    between wrench and fastener, an id or words; ``adapter_angle`` how it stands to the handle in degrees, 0 when it
    points straight away from the hand. ``size``, ``property_class`` and ``length`` describe the piece that goes in,
    where the text says so itself.
    """

    verb: str
    what: str = ""
    of: str = ""
    mode: Mode = "do"
    count: int | None = None
    state: State = ""
    to: Tightening | None = None
    setting: Tightening | None = None
    tool: str = ""
    washer: WasherUse | None = None
    with_what: str = ""  # lubricant, compound, lock product, fluid
    order: str = ""  # cross, circular, or a listed order
    passes: int | None = None
    amount: Amount | None = None  # volume filled, time waited, distance run
    by_hand: bool = False
    note: str = ""  # a condition or remark, as written
    adapter: str = ""
    adapter_angle: float | None = None
    size: Thread | None = None
    property_class: str = ""
    length: Amount | None = None
    direction: str = ""  # which way it is turned: "clockwise" or "anticlockwise"
    end: str = ""  # which end is turned: "nut" or "head"
    hold: str = ""  # what holds the other half meanwhile
    temperature: Amount | None = None  # of the fluid while its level is read, kelvin


@frozen(repr=False, eq=False)
class Message(Record):
    """A safety message: signal word as written ("WARNING"), its text, and the index of the step it stands in or
    before (-1: ahead of all steps). ``before`` is true when it stands ahead of the step's own sentences."""

    signal: str
    text: str
    step: int
    before: bool = True


@frozen(repr=False, eq=False)
class Accepted(Record):
    """A finding the writer lets stand: the ``rule`` and the reason written beside it ("" when there is none)."""

    rule: str
    because: str = ""


@frozen(repr=False, eq=False)
class Step(Record):
    """One step. ``label`` is what the document calls it ("7", "B3", "2a"); ``say`` its text as written;
    ``accepted`` the findings on it that are let stand."""

    label: str
    say: str
    actions: tuple[Action, ...] = ()
    section: str = ""
    accepted: tuple[Accepted, ...] = ()


@frozen(repr=False, eq=False)
class Procedure(Record):
    """Steps in order. ``given`` are actions taken as done before the first step (preconditions)."""

    title: str
    steps: tuple[Step, ...]
    given: tuple[Action, ...] = ()
    messages: tuple[Message, ...] = ()
    variant: str = ""
    job_date: str = ""
    tools_named: tuple[str, ...] | None = None  # tools the document lists; None when it has no list
    accepted: tuple[Accepted, ...] = ()  # findings on the procedure as a whole that are let stand
