"""What belongs to a joint after it was closed: the check of torque that is due or forbidden, the look for leaks."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Event, JointTrack, Trace
from torquewright.book.policies import policy
from torquewright.records import Fastener, Stage
from torquewright.rules.finding import Certainty, Fact, Finding
from torquewright.rules.registry import detector
from torquewright.rules.spoken import handed_on, said, told, warned, words_of
from torquewright.rules.spot import at, fastener_place

MISSED = "retorque-missed"
FORBIDDEN = "retorque-forbidden"
LEAK = "leak-check-missing"

_BETWEEN = frozenset({"run", "start", "wait", "cool_down", "warm_up"})
_AGAIN = ("retorque", "re-torque", "retighten", "re-tighten", "recheck", "re-check", "check the torque",
          "torque check", "check torque", "torque again", "tighten again", "tightened again", "checked again",
          "check again")  # fmt: skip


def closed_by(track: JointTrack) -> Event | None:
    """The pull that closed a joint which was opened or put together in this job, later checks of its torque left out;
    None for a joint that stands open, or as it was found."""
    found: Event | None = None
    for lot in track.lots:
        if lot.run.opened is None:
            continue
        pulls = [pull.event for pull in lot.run.pulls if not pull.event.conditional and pull.event.step >= 0]
        made = [event for event in pulls if event.verb != "retighten"] or pulls[:1]
        if made and (found is None or made[-1].order > found.order):
            found = made[-1]
    return found


# ---- the later check of torque ---------------------------------------------------------------------------------


@detector(MISSED)
def retorque_missed(trace: Trace) -> Iterator[Finding]:
    """A joint that must be checked again after its first hours is closed, and nobody comes back to it."""
    gasketed = policy(trace.catalogue.policy).retorque == "gasketed"
    for key, track in trace.joints.items():
        fastener = track.fastener
        retorque = fastener.retorque
        if retorque is None and not (gasketed and _gasketed(fastener)):
            continue
        if retorque is not None and retorque.policy != "required":
            continue
        last = closed_by(track)
        if last is None or _comes_back(trace, track, last):
            continue
        facts: dict[str, Fact] = {"after": retorque.after if retorque is not None else "4 to 24 h"}
        form = "practice" if retorque is None else "" if retorque.after else "no-time"
        sure: Certainty = "unstated" if retorque is None or handed_on(trace, last.order) else "certain"
        also = (fastener_place(key, "retorque"),) if retorque is not None else ()
        yield at(MISSED, sure, last, key, facts, form, also=also)


def _gasketed(fastener: Fastener) -> bool:
    hot = "pressure" in fastener.energy or "thermal" in fastener.energy
    return hot and bool(fastener.seals) and (fastener.count or 0) >= 4


def _comes_back(trace: Trace, track: JointTrack, last: Event) -> bool:
    """Whether the joint is pulled once more after time has passed, or a step or message tells somebody to do so."""
    if any(event.verb == "retighten" and event.order > last.order for event in track.events):
        return True
    if _pulled_after_a_pause(trace, track) is not None:
        return True
    for event in trace.events[last.order :]:
        if event.joint is not None and event.joint is not track.fastener:
            continue
        words = words_of(event.action)
        if event.verb in ("check", "record", "refer", "inspect", "mark") and any(word in words for word in _AGAIN):
            return True
        if event.verb == "check" and event.joint is not None and "torque" in words:
            return True
    end = len(trace.procedure.steps)
    later = range(max(last.step, 0), end)
    after = track.fastener.retorque.after.lower() if track.fastener.retorque is not None else ""
    if told(trace, later, ("check", "go over", "tighten", "torque"), ("again", "once more", after or "again")):
        return True
    return any(any(word in said(trace, step) for word in _AGAIN) for step in later) or warned(trace, end, _AGAIN)


def _pulled_after_a_pause(trace: Trace, track: JointTrack) -> Event | None:
    """The first pull made on a joint that was closed already, after the machine ran, or time passed."""
    for lot in track.lots:
        closed: Event | None = None
        for pull in lot.run.pulls:
            event = pull.event
            paused = closed is not None and any(
                held.verb in _BETWEEN for held in trace.events[closed.order : event.order]
            )
            if paused and event.step >= 0:
                return event
            if not event.conditional and _final(track.fastener, pull.stage):
                closed = event
    return None


def _final(fastener: Fastener, stage: Stage | None) -> bool:
    """Whether a pull reaches the last torque of the record. A turn by angle does, and so does a pull that gives no
    figure; one by hand does not."""
    record = fastener.tightening.torque if fastener.tightening is not None else None
    low = record.band[0] if record is not None else None
    if stage is None or low is None:
        return True
    if stage.torque is None or stage.torque.target is None:
        return not stage.by_hand
    return stage.torque.target >= low * 0.98


# ---- the check that must not be --------------------------------------------------------------------------------


@detector(FORBIDDEN)
def retorque_forbidden(trace: Trace) -> Iterator[Finding]:
    """A joint that must not be touched again is pulled once more after it was closed."""
    for key, track in trace.joints.items():
        retorque = track.fastener.retorque
        if retorque is None or retorque.policy != "forbidden":
            continue
        event = _touched(trace, track)
        if event is None or _only_a_check(track.fastener, event):
            continue
        also = (fastener_place(key, "retorque"),)
        yield at(FORBIDDEN, "certain", event, key, {}, "if" if event.conditional else "", also=also)


def _touched(trace: Trace, track: JointTrack) -> Event | None:
    for lot in track.lots:
        done = False
        for pull in lot.run.pulls:
            event = pull.event
            if event.step < 0:
                continue
            if done and event.verb == "retighten":
                return event
            done = done or event.verb in ("tighten", "tighten_angle")
    return _pulled_after_a_pause(trace, track)


def _only_a_check(fastener: Fastener, event: Event) -> bool:
    """Whether the pull stays at the low end of the record, where a sound joint does not move."""
    to, record = event.action.to, fastener.tightening
    torque, wanted = (to.torque if to is not None else None), (record.torque if record is not None else None)
    low = wanted.band[0] if wanted is not None else None
    if record is None or wanted is None or low is None or torque is None or torque.target is None:
        return False
    if record.angles:
        return torque.target <= low * (1 + 1e-9)  # the turn that follows has left it far tighter
    above = (wanted.target or low) - low
    return wanted.low is not None and torque.target <= low + min(torque.half, above / 4) + 1e-9


# ---- leaks -----------------------------------------------------------------------------------------------------

_LOOKS = ("leak", "drip", "bubble", "soap", "tightness", "weep", "seep", "gauge", "pressure holds", "vacuum holds",
          "be dry", "are dry", "is dry", "stay dry", "stays dry", "remain dry", "for water", "for oil", "for fuel",
          "fresh oil", "for coolant", "wet spot", "damp")  # fmt: skip


@detector(LEAK)
def leak_check_missing(trace: Trace) -> Iterator[Finding]:
    """A joint that holds a fluid back was opened, the machine runs, and nobody looks whether it leaks."""
    runs = [running.event for running in trace.running if _of_the_machine(running.event)]
    if not runs:
        return
    for key, track in trace.joints.items():
        if not track.fastener.fluid:
            continue
        closed = closed_by(track)
        ran = next((event for event in runs if closed is not None and event.order > closed.order), None)
        if closed is None or ran is None or _looked(trace, track, closed, ran):
            continue
        early = _looked_early(trace, track, closed, ran)
        sure: Certainty = "unstated" if early or handed_on(trace, ran.order) else "certain"
        facts: dict[str, Fact] = {"fluid": track.fastener.fluid}
        yield at(LEAK, sure, ran, key, facts, "early" if early else "", also=(fastener_place(key, "fluid"),))


def _of_the_machine(event: Event) -> bool:
    return event.joint is None and event.seal is None and not event.conditional


def _looked_early(trace: Trace, track: JointTrack, closed: Event, ran: Event) -> bool:
    """Whether somebody looks for a leak only while nothing presses or heats the joint yet."""
    return any(
        event.verb == "check_leak" and (event.joint is None or event.joint is track.fastener)
        for event in trace.events[closed.order : ran.order]
    )


def _looked(trace: Trace, track: JointTrack, closed: Event, ran: Event) -> bool:
    """Whether somebody looks for a leak at this joint, or at no joint in particular, once it is under load; a test
    under pressure or vacuum counts wherever it stands behind the closing."""
    for event in trace.events[closed.order :]:
        mine = event.joint is None or event.joint is track.fastener
        if event.verb == "check_leak" and mine and event.order > ran.order:
            return True
        if event.verb in ("check", "inspect", "measure") and mine and any(
            word in words_of(event.action) for word in (*_LOOKS, "pressure", "vacuum")
        ):
            return True
    elsewhere = any(event.order > ran.order and event.verb == "check_leak" for event in trace.events)
    names = [name.lower() for name in (track.fastener.name, *track.fastener.aliases)]
    for step in range(max(ran.step, 0), len(trace.procedure.steps)):
        held = said(trace, step)
        if any(word in held for word in _LOOKS) and (not elsewhere or any(name in held for name in names)):
            return True  # the sentence says so, whatever its actions are
    return False
