"""Joints that end in the wrong state: left loose, forced in without a start by hand, or turned when nothing is in."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Event, JointTrack, Lot, Run, Trace
from torquewright.bench.state import CLOSED, LOOSE, OUT, PLACED, SEATED, STARTED, TIGHT
from torquewright.bench.trace import SHUT_BY_HAND, by_hand_is_final
from torquewright.records import Action, Catalogue, Fastener, Procedure
from torquewright.rules.castle import slackened
from torquewright.rules.editing import actions, drop_all, insert
from torquewright.rules.finding import Certainty, Fact, Finding
from torquewright.rules.registry import Planted, detector, planter
from torquewright.rules.reuse import FIT
from torquewright.rules.spot import at, built, fastener_place, last_move, step_place

LOOSE_LEFT = "opened-joint-left-loose"
HAND_START = "hand-start-missing"
CANNOT = "action-cannot-happen"

TURN = ("tighten", "tighten_angle", "retighten")
OPEN = ("remove", "disconnect", "take_out")

STAGE_SLACK = 0.05  # a pull this near an earlier stage is meant for it; common practice, no source

STATES = {LOOSE: "loosened", OUT: "taken out", PLACED: "put in", STARTED: "started by hand", SEATED: "run down"}
"""How far a joint came that is not closed, in words."""

# ---- left loose -----------------------------------------------------------------------------------------------


@detector(LOOSE_LEFT)
def left_loose(trace: Trace) -> Iterator[Finding]:
    """A joint that was opened or put together is not closed when the job ends, or stops at an earlier stage."""
    handed_on = max((event.order for event in trace.of("refer", "repeat")), default=-1)
    for key, track in trace.joints.items():
        closed = [lot for lot in track.lots if lot.state == TIGHT and built(lot)]
        if closed:
            # Where only some are closed, the numbers are wrong: a slip of another kind.
            yield from _short_of_stage(key, track, closed)
            continue
        loose = [lot for lot in track.lots if lot.state not in CLOSED and not by_hand_is_final(track.fastener, lot)]
        if any(lot.state == LOOSE for lot in loose) and slackened(track):
            continue  # turned back for its pin, which another rule tells
        if not track.recorded and track.fastener.name.lower().endswith(SHUT_BY_HAND):
            loose = [lot for lot in loose if lot.state in (LOOSE, OUT)]
        moves = [(move, lot) for lot in loose if not _came_and_went(track, lot) and (move := last_move(lot.run))]
        if not moves or _held_by_its_nut(trace, track):
            continue
        event, lot = max(moves, key=lambda pair: pair[0].order)
        sure = "unstated" if handed_on > event.order else _how_sure(track, lot)
        form = "out" if lot.state == OUT else ""
        facts: dict[str, Fact] = {"state": STATES[lot.state], "count": sum(lot.count for _, lot in moves)}
        yield at(LOOSE_LEFT, sure, event, key, facts, form, also=(fastener_place(key, "tightening"),))


def _held_by_its_nut(trace: Trace, track: JointTrack) -> bool:
    """Whether a bolt is closed by its nut: "pivot bolt" beside a pivot nut, neither of them recorded; a recorded bolt
    that goes in where a nut in no record is tightened in the same step; or a bolt in no record that goes in together
    with a nut, or that came out together with a nut which is tight in the end."""
    words = track.fastener.name.lower().split()
    if words[-1] not in ("bolt", "stud", "screw"):
        return False
    put = {event.step for event in track.events if event.verb in FIT}
    if not track.recorded and any(
        other.fastener.name.lower().endswith("nut")
        and any(event.step in put and event.verb in (*FIT, "hand_start") for event in other.events)
        for other in trace.joints.values()
    ):
        return True  # the screws go through and their nuts on, in one step: the nuts are what is closed, or not
    if track.recorded:
        return any(
            pull.event.step in put
            for other in trace.joints.values()
            if not other.recorded and other.fastener.name.lower().endswith("nut")
            for lot in other.lots
            for pull in lot.run.pulls
        )
    names = ([*words[:-1], "nut"], [*words, "nut"])
    drawn = {event.step for event in track.events if event.verb == "remove"}
    for other in trace.joints.values():
        name = other.fastener.name.lower().split()
        if name[-1:] != ["nut"] or not any(lot.state == TIGHT for lot in other.lots):
            continue
        alike = other.fastener.count == track.fastener.count
        # "take off the castle nut and draw the bolt": the two came apart in one step
        apart = alike and any(event.step in drawn and event.verb == "remove" for event in other.events)
        # "push the bolt through", and in the next step "start the castle nut by hand"
        behind = alike and any(event.step - 1 in put and event.verb == "hand_start" for event in other.events)
        if name in names or apart or behind:
            return True
    return False


def _came_and_went(track: JointTrack, lot: Lot) -> bool:
    """Whether the lot was put in during the job and taken out again for good, as a guide stud is."""
    # Put together from parts: the event that opened the run is the one that fitted the piece.
    put = any(run.fitted is not None and run.fitted is run.opened for run in lot.runs)
    if lot.state != OUT or not put or lot.run.removed is None:
        return False
    lent = lot.run.removed.verb == "take_out" or any(event.verb == "insert" for event in track.events)
    return lent or not track.recorded


def _how_sure(track: JointTrack, lot: Lot) -> Certainty:
    if lot.state == OUT:
        return "unstated" if lot.run.discarded is not None else "certain"
    if lot.state in (SEATED, PLACED) and track.fastener.tightening is None:
        return "unstated"  # nobody says that it takes more than that
    return "certain"


def _short_of_stage(key: str, track: JointTrack, closed: list[Lot]) -> Iterator[Finding]:
    """The last torque stage of the record is not there at all; angles are the concern of another rule."""
    tightening = track.fastener.tightening
    if tightening is None or tightening.angles:
        return
    torques = [stage.torque for stage in tightening.stages if stage.torque is not None]
    targets = [target for torque in torques if (target := torque.target) is not None]
    final = torques[-1].band[0] if torques else None
    if final is None:
        return
    for lot in closed:
        last = lot.run.pulls[-1].stage if lot.run.pulls else None
        if last is None or last.by_hand:
            return  # closed without a figure, which is a fault of its own
        stages = [pull.stage for pull in lot.run.pulls if pull.stage is not None]
        pulled = [stage.torque for stage in stages if stage.torque is not None]
        reached = [target for torque in pulled if torque.unit and (target := torque.target) is not None]
        if not reached or len(reached) >= len(targets) or len(reached) < len(pulled):
            return
        most = max(reached)
        if most >= final or not any(abs(most - target) <= STAGE_SLACK * target for target in targets[:-1]):
            return
    event = max((lot.run.pulls[-1].event for lot in closed), key=lambda event: event.order)
    facts = {"reached": most, "wanted": targets[-1]}
    yield at(LOOSE_LEFT, "certain", event, key, facts, "stage", also=(fastener_place(key, "tightening"),))


# ---- started by hand ------------------------------------------------------------------------------------------

_SOFT = ("alumin", "magnes", "brass", "bronze", "zinc", "zamak", "copper", "plastic", "nylon", "polyamide", "acetal",
         "polypropylene", "polycarbonate", "poly", "glass-filled", "light alloy", "wood")  # fmt: skip
_HARD = ("steel", "iron", "titanium")
_OWN_WAY = ("stud", "thread-forming", "self-tapping", "thread-cutting")


def soft_host(material: str) -> bool:
    """Whether the thread a fastener goes into is cut in something softer than itself: the first material named
    decides ("steel insert in aluminium" is steel)."""
    words = material.lower()
    soft = min((place for word in _SOFT if (place := words.find(word)) >= 0), default=-1)
    hard = min((place for word in _HARD if (place := words.find(word)) >= 0), default=-1)
    return soft >= 0 and (hard < 0 or soft < hard)


def needs_hand_start(fastener: Fastener) -> bool:
    """Whether the threads must be started by hand: the record says so, or the thread it meets is soft."""
    if fastener.hand_start is not None:
        return fastener.hand_start
    return soft_host(fastener.mating_material) and not any(word in fastener.kind.lower() for word in _OWN_WAY)


@detector(HAND_START)
def hand_start(trace: Trace) -> Iterator[Finding]:
    """A fastener put into a soft thread, or one whose record asks for it, meets a tool before it was started."""
    for key, track in trace.joints.items():
        if not needs_hand_start(track.fastener):
            continue
        seen: set[int] = set()
        for _, run in track.runs():
            turned = run.turned
            if turned is None or not _turned_cold(run) or turned.order in seen:
                continue
            seen.add(turned.order)
            said = run.seated is None or run.seated.order >= turned.order
            field = "hand-start" if track.fastener.hand_start else "mating-material"
            facts = {"material": track.fastener.mating_material}
            form = "" if facts["material"] else "record"
            sure: Certainty = "certain" if said else "unstated"
            yield at(HAND_START, sure, turned, key, facts, form, also=(fastener_place(key, field),))


_IN_ONE = ("install", "seat")  # "run the bolt in with the ratchet": put in and turned in one


def _turned_cold(run: Run) -> bool:
    """Whether the first turn with a tool came on a piece that was put in and not started by hand."""
    turned, fitted = run.turned, run.fitted
    if turned is None or fitted is None or (fitted is turned and turned.verb not in _IN_ONE):
        return False
    if run.started is not None and run.started.order < turned.order:
        return False
    to = turned.action.to
    return not (to is not None and to.kind == "hand_tight" and not turned.action.tool)


# ---- what cannot happen ---------------------------------------------------------------------------------------


@detector(CANNOT)
def cannot_happen(trace: Trace) -> Iterator[Finding]:
    """A step does what the steps before it have made impossible."""
    for key, track in trace.joints.items():
        seen: set[int] = set()
        for kind, event in track.trouble:
            if event.order in seen or event.conditional:
                continue
            seen.add(event.order)
            before = _cause(track, event)
            if before is None or (before.step == event.step and kind != "not in"):
                continue  # said twice in one step, it is one action
            sure: Certainty = "certain"
            if kind == "not in" or (kind == "in already" and before.verb in TURN):
                sure = "unstated"  # the text may only be silent of the refit, or of the removal
            if kind == "started already" and (needs_hand_start(track.fastener) or before.verb not in TURN):
                continue  # an order the start by hand is asked for, or a start told once more
            facts: dict[str, Fact] = {"before": max(before.step, 0), "verb": event.verb.replace("_", " ")}
            form = kind.split()[0]
            yield at(CANNOT, sure, event, key, facts, form, also=(step_place(before),))


def _cause(track: JointTrack, event: Event) -> Event | None:
    """The last event ahead of ``event`` that changed where the pieces of the joint are."""
    moving = (*OPEN, "discard", *FIT, "hand_start", "seat", *TURN)
    earlier = [
        held for held in track.events
        if held.order < event.order and held.verb in moving and not held.action.of and not held.conditional
    ]  # fmt: skip
    return earlier[-1] if earlier else None


# ---- planting -------------------------------------------------------------------------------------------------


class _Cycle:
    """The last making of one joint as the procedure writes it: its opening (None where nothing was taken out) and
    the actions that close it, each with its step and number."""

    def __init__(self, procedure: Procedure, key: str) -> None:
        own = [held for held in actions(procedure) if held[2].what == key and not held[2].of]
        last = max((at for at, held in enumerate(own) if held[2].verb in OPEN), default=-1)
        self.opening = own[last] if last >= 0 else None
        self.rest = own[last + 1 :]

    def of(self, *verbs: str) -> list[tuple[int, int, Action]]:
        return [held for held in self.rest if held[2].verb in verbs]


def _spots(held: list[tuple[int, int, Action]]) -> list[tuple[int, int]]:
    return [(step, number) for step, number, _ in held]


def _pulls_if(procedure: Procedure, key: str) -> list[tuple[int, int]]:
    """Where the joint is turned further on a condition, as a castle nut to the next slot."""
    return [
        (step, number)
        for step, held in enumerate(procedure.steps)
        for number, action in enumerate(held.actions)
        if action.mode == "if" and action.what == key and action.verb in TURN
    ]


@planter(LOOSE_LEFT)
def plant_left_loose(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """The pulls on a joint are left out, or its whole refit."""
    for fastener in catalogue.fasteners:
        cycle = _Cycle(procedure, fastener.id)
        pulls, started = cycle.of(*TURN, "back_off"), cycle.of(*FIT, "hand_start", "seat")
        by_hand = fastener.tightening is not None and fastener.tightening.kind == "hand_tight"
        if pulls and started and not by_hand:
            edited, moved = drop_all(procedure, [*_spots(pulls), *_pulls_if(procedure, fastener.id)])
            step = moved[max(held[0] for held in started)]
            yield Planted(edited, catalogue, step, fastener.id, f"the {fastener.name} is never tightened")
        if started and cycle.opening is not None:
            edited, moved = drop_all(procedure, _spots([*pulls, *started]))
            step = moved[max(held[0] for held in (cycle.opening, *cycle.of("discard")))]
            yield Planted(edited, catalogue, step, fastener.id, f"the {fastener.name} is never put back")


@planter(HAND_START)
def plant_hand_start(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """A start by hand is left out."""
    for fastener in catalogue.fasteners:
        cycle = _Cycle(procedure, fastener.id)
        if not needs_hand_start(fastener) or any(action.by_hand for _, _, action in cycle.of(*FIT, "seat", *TURN)):
            continue
        fits, turns = cycle.of(*FIT), cycle.of(*TURN)
        for step, number, _ in cycle.of("hand_start"):
            # A later start without a number is of everything that is in by then.
            later = any(held[:2] > (step, number) and held[2].count is None for held in cycle.of("hand_start"))
            put_in = any(fit[:2] < (step, number) for fit in fits)
            if put_in and not later and turns and turns[0][:2] > (step, number):
                edited, moved = drop_all(procedure, [(step, number)])
                text = f"the {fastener.name} is not started by hand"
                yield Planted(edited, catalogue, moved[turns[0][0]], fastener.id, text)


@planter(CANNOT)
def plant_cannot(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """What is out is taken out once more a step later, or what was never put back is tightened."""
    for fastener in catalogue.fasteners:
        cycle = _Cycle(procedure, fastener.id)
        put, turns = cycle.of(*FIT, "hand_start", "seat"), cycle.of(*TURN)
        if cycle.opening is None or not put:
            continue
        step, _, action = cycle.opening
        if action.count in (None, fastener.count) and step < put[0][0]:
            again = insert(procedure, step + 1, 0, action)
            yield Planted(again, catalogue, step + 1, fastener.id, f"the {fastener.name} is taken out a second time")
        if turns and turns[0][2].to is not None and fastener.washer is None:
            edited, moved = drop_all(procedure, _spots(put))
            text = f"the {fastener.name} is tightened without being put back"
            yield Planted(edited, catalogue, moved[turns[0][0]], fastener.id, text)
