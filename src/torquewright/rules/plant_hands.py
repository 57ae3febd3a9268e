"""Plants wrong ways of turning: a left-hand thread nobody mentions, nothing that holds, the figure at the other end."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Event, play
from torquewright.records import Catalogue, Procedure
from torquewright.rules.editing import change, edit_fastener
from torquewright.rules.hands import CLOSES, END, HOLD, LEFT, makings
from torquewright.rules.registry import Planted, planter


def _silenced(procedure: Procedure, events: list[Event], verbs: tuple[str, ...]) -> Procedure:
    """The same procedure with nothing said about the turning in these actions."""
    for event in events:
        if event.step >= 0:
            wiped = {"hold": "", "note": ""} if "hold" in verbs else {"direction": "", "note": ""}
            procedure = change(procedure, event.step, event.number, **wiped)
    return procedure


@planter(LEFT)
def left_hand(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Says nothing of the left-hand thread any more, or turns it the wrong way."""
    for key, track in play(procedure, catalogue).joints.items():
        thread = track.fastener.thread
        if thread is None or thread.hand != "left" or "left" in track.fastener.name.lower() or procedure.messages:
            continue
        for doing, events in makings(track):
            if events[0].step < 0:
                continue
            silent = _silenced(procedure, events, ("direction",))
            yield Planted(silent, catalogue, events[0].step, key, f"{doing}: nothing is said of its left-hand thread")
            wrong = "anticlockwise" if doing == "opening" else "clockwise"
            if events[0].action.direction:
                turned = change(procedure, events[0].step, events[0].number, direction=wrong)
                yield Planted(turned, catalogue, events[0].step, key, f"{doing}: it is turned {wrong}")


@planter(HOLD)
def hold(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Turns a union with one wrench."""
    for key, track in play(procedure, catalogue).joints.items():
        if not track.fastener.needs_hold or procedure.messages:
            continue
        for doing, events in makings(track):
            if events[0].step >= 0:
                silent = _silenced(procedure, events, ("hold",))
                yield Planted(silent, catalogue, events[0].step, key, f"{doing}: nothing holds the other half")


@planter(END)
def end(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Pulls the figure at the other end than its record means."""
    for event in play(procedure, catalogue).of(*CLOSES):
        to, joint = event.action.to, event.joint
        if joint is None or to is None or not to.has_value or to.added or event.step < 0 or event.conditional:
            continue
        if event.action.of or joint.kind not in ("bolt", "nut", "castle nut") or event.action.end:
            continue
        wanted = joint.turn_end or "nut"
        other = "head" if wanted == "nut" else "nut"
        spoiled = change(procedure, event.step, event.number, end=other)
        meant = edit_fastener(catalogue, joint.id, turn_end=wanted)
        yield Planted(spoiled, meant, event.step, joint.id, f"the {other} is turned instead of the {wanted}")
