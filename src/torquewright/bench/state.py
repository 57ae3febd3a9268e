"""The state of one group of positions while a procedure is played: which piece sits there and how far it is closed.

Positions that have gone through the same actions are kept together as one lot and split only when a step speaks
of some of them, so "six out, five in" leaves a lot of five and a lot of one.
"""

from __future__ import annotations

from typing import NamedTuple

from torquewright.records import Action, Fastener, Seal, Stage, Tool

# How far a position is closed. "fitted" is as found: closed before the job and not touched yet.
FITTED, LOOSE, OUT, PLACED, STARTED, SEATED, TIGHT = "fitted", "loose", "out", "placed", "started", "seated", "tight"
CLOSED = frozenset({FITTED, TIGHT})


class Event:
    """One action as it was played. ``step`` is the index of its step (-1: taken as done before step 1), ``number``
    its place in the step, ``order`` its place in the whole job. ``joint``, ``seal``, ``tool`` are the records it
    means, None where it means none. ``count`` is how many positions it reached, ``excess`` how many more it spoke
    of than there were. ``conditional`` is true for what is demanded only under a condition."""

    __slots__ = ("action", "conditional", "count", "excess", "joint", "number", "order", "seal", "step", "tool", "verb")

    def __init__(
        self, order: int, step: int, number: int, action: Action, joint: Fastener | None, seal: Seal | None,
        tool: Tool | None,
    ) -> None:  # fmt: skip
        self.order = order
        self.step = step
        self.number = number
        self.action = action
        self.verb = action.verb
        self.joint = joint
        self.seal = seal
        self.tool = tool
        self.count = 0
        self.excess = 0
        self.conditional = action.mode == "if"

    @property
    def path(self) -> tuple[str | int, ...]:
        """Where the action stands in its procedure."""
        if self.step < 0:
            return ("given", self.number)
        return ("step", self.step, "do", self.number)

    def __repr__(self) -> str:
        return f"<{self.order}: step {self.step} {self.verb} {self.action.what}>"


class Pull(NamedTuple):
    """One pull on a fastener: a stage of the tightening the action demands, or an action with no value at all
    (``stage`` None). ``part`` is the stage's place in the action's tightening, from 0."""

    event: Event
    stage: Stage | None
    part: int


class WasherOn(NamedTuple):
    """A washer on the seat: ``state`` "original" (never off), "old", "new" or "unstated"."""

    state: str
    event: Event | None


class Run:
    """One making of a joint, from being opened (or the start of the job) to being opened again (or its end).

    ``opened`` and ``removed`` are the events that opened it and took the piece out, ``fitted`` the one that put a
    piece in, ``started`` the hand-start, ``turned`` the first turn with a tool. ``piece`` is "original", "old",
    "new", "unstated", or "" while nothing is in. ``old_washers`` counts washers of the run before that nobody has
    taken off; ``perhaps_out`` is an event that takes the piece out under a condition only. ``lock`` is "original",
    "new", "old", "unstated" or "" for none.
    """

    __slots__ = (
        "compound", "discarded", "fitted", "lock", "lock_event", "lubricated", "measured", "old_washers", "opened",
        "perhaps_out", "piece", "piece_event", "pulls", "removed", "seat_cleared", "seated", "started", "turned",
        "washer_silent", "washers",
    )  # fmt: skip

    def __init__(self, opened: Event | None = None) -> None:
        self.opened = opened
        self.removed: Event | None = None
        self.discarded: Event | None = None
        self.measured: Event | None = None
        self.perhaps_out: Event | None = None
        self.fitted: Event | None = None
        self.piece = ""
        self.piece_event: Event | None = None
        self.started: Event | None = None
        self.seated: Event | None = None
        self.turned: Event | None = None
        self.pulls: list[Pull] = []
        self.washers: list[WasherOn] = []
        self.washer_silent = False  # washers were spoken of without a number
        self.old_washers = 0
        self.seat_cleared: Event | None = None
        self.lock = ""
        self.lock_event: Event | None = None
        self.compound: Event | None = None
        self.lubricated: list[Event] = []

    def copy(self) -> Run:
        twin = Run.__new__(Run)
        for name in Run.__slots__:
            value = getattr(self, name)
            setattr(twin, name, value.copy() if isinstance(value, list) else value)
        return twin

    @property
    def last(self) -> Event | None:
        """The event of the last pull."""
        return self.pulls[-1].event if self.pulls else None


class Lot:
    """``count`` positions in the same state. ``runs`` are the makings that ended, ``run`` the one going on."""

    __slots__ = ("count", "run", "runs", "state")

    def __init__(self, count: int, state: str, run: Run) -> None:
        self.count = count
        self.state = state
        self.run = run
        self.runs: list[Run] = []

    def split(self, count: int) -> Lot:
        """Take ``count`` positions off this lot into a lot of their own."""
        twin = Lot(count, self.state, self.run.copy())
        twin.runs = list(self.runs)
        self.count -= count
        return twin

    def open(self, event: Event) -> Run:
        """End the run and begin the next; the washers that sat there are not accounted for yet."""
        if self.run.opened is not None or self.run.fitted is not None or self.run.pulls or self.run.piece:
            self.runs.append(self.run)
        before, self.run = self.run, Run(event)
        self.run.washers = before.washers
        self.run.old_washers = before.old_washers
        self.run.piece = before.piece
        self.run.lock = before.lock
        if not before.lock:
            self.run.lock_event = before.lock_event  # taken out ahead of the piece it locks
        return self.run


class SealTrack:
    """A seal of its own: where its pieces are. ``piece`` as in :class:`Run`; ``out`` counts pieces taken off."""

    __slots__ = ("discarded", "events", "fitted", "lubricated", "piece", "removed", "seal", "unanswered")

    def __init__(self, seal: Seal) -> None:
        self.seal = seal
        self.events: list[Event] = []
        self.piece = "original"
        self.removed: Event | None = None
        self.discarded: Event | None = None
        self.lubricated: Event | None = None
        self.fitted: list[tuple[Event, str, bool]] = []  # (event, piece, lubricated before or while it went in)


class JointTrack:
    """Everything that happened to one fastener group, in order."""

    __slots__ = ("counts", "events", "fastener", "lots", "recorded", "trouble")

    def __init__(self, fastener: Fastener, positions: int, recorded: bool) -> None:
        self.fastener = fastener
        self.recorded = recorded
        run = Run()
        run.piece = "original"
        if fastener.washer is not None and fastener.washer.kind != "none":
            run.washers = [WasherOn("original", None)] * fastener.washer.count
        if fastener.lock is not None:
            run.lock = "original"
        self.lots = [Lot(positions, FITTED, run)]
        self.events: list[Event] = []
        self.trouble: list[tuple[str, Event]] = []

    @property
    def opened(self) -> bool:
        """Whether any position was opened or built up in this job."""
        return any(lot.run.opened is not None or lot.runs or lot.run.fitted or lot.run.started for lot in self.lots)

    def runs(self) -> list[tuple[Lot, Run]]:
        """Every making of the joint, lot by lot, in order; runs shared by split lots are given once."""
        seen: set[int] = set()
        found: list[tuple[Lot, Run]] = []
        for lot in self.lots:
            for run in (*lot.runs, lot.run):
                if id(run) not in seen:
                    seen.add(id(run))
                    found.append((lot, run))
        return found
