"""Every pull beside the stage of the record it stands for: the figure that is out, and the slip behind it.

One slip gives one finding. So this is decided in one place, and each rule tells the slips that are its own.
"""

from __future__ import annotations

from typing import NamedTuple

from torquewright.bench import Trace
from torquewright.book.policies import policy
from torquewright.records import Fastener
from torquewright.rules.beside import set_beside
from torquewright.rules.fits import ends
from torquewright.rules.pulls import Sequence, place, sequences, torque_of
from torquewright.rules.slips import Found, Muddle, Slip, all_torques
from torquewright.rules.softparts import Overload, overload, plastic


class Judgement(NamedTuple):
    slips: list[Slip]
    muddles: list[Muddle]


def judge(trace: Trace) -> Judgement:
    """What is wrong with the pulls of a job, in the order of the job."""
    held = trace.worked.get("judgement")
    if held is None:
        held = trace.worked["judgement"] = _judge(trace)
    return held  # type: ignore[return-value]  # kept under this name by nobody else


def _judge(trace: Trace) -> Judgement:
    verdicts: dict[tuple[int, int], Slip | None] = {}
    muddles: list[Muddle] = []
    held = sequences(trace)
    for sequence in held:
        record = sequence.track.fastener.tightening
        found = Found(sequence)
        set_beside(found, record, drag_on_top=adds_drag(sequence.track.fastener, trace.catalogue.policy))
        _soft(found)
        for key, slip in found.verdicts.items():
            # Right for one of the positions it was made on is right: the others are a matter of numbers.
            if key not in verdicts or slip is None:
                verdicts[key] = slip
        muddles += found.muddles
    slips = [slip for _, slip in sorted(verdicts.items(), key=lambda item: item[0]) if slip is not None]
    return Judgement(_once(slips), _common(muddles, held))


def adds_drag(joint: Fastener, trade: str) -> bool:
    """Whether the practice of the trade adds the running torque of a self-locking thread to its record's figure.

    Always, from one third of the torque on, or only where the record says so, which is not asked here.
    """
    answer = policy(trade).drag
    if answer == "recorded":
        return False
    drag = joint.prevailing
    if answer == "always":
        return drag is not None or (joint.lock is not None and "prevailing" in joint.lock.kind)
    wanted = joint.tightening.torque if joint.tightening is not None else None
    return drag is not None and wanted is not None and drag.value * 3 >= ends(wanted)[0] * (1 - 1e-9) > 0


def _once(slips: list[Slip]) -> list[Slip]:
    """A later check that takes over a wrong figure says nothing new."""
    kept: list[Slip] = []
    for slip in slips:
        if slip.pull.event.verb == "retighten" and any(
            other.track is slip.track and other.torque == slip.torque for other in kept
        ):
            continue
        kept.append(slip)
    return kept


def _common(muddles: list[Muddle], held: list[Sequence]) -> list[Muddle]:
    """What all positions have in common, once; a stage that only some positions lack is a matter of numbers."""
    kept: list[Muddle] = []
    having = {(muddle.form, id(muddle.sequence)) for muddle in muddles}
    seen: set[tuple[str, tuple[int, int]]] = set()
    for muddle in muddles:
        key = (muddle.form, place(muddle.pull))
        if key in seen:
            continue
        seen.add(key)
        mine = muddle.sequence
        if all(
            (muddle.form, id(other)) in having
            for other in held
            if other is not mine and other.track is mine.track and mine.shares(other)
        ):
            kept.append(muddle)
    return sorted(kept, key=lambda muddle: place(muddle.pull))


def _soft(found: Found) -> None:
    """A figure beyond what the weakest part takes is that, whatever else it is."""
    track = found.sequence.track
    joint = track.fastener
    limited = joint.part_limit is not None
    if not limited and not any(found.verdicts.values()):
        return
    for pull in all_torques(found.sequence):
        torque = torque_of(pull.stage)
        if torque is None:
            continue
        beyond = overload(joint, torque, pull.event.tool) if limited else None
        slip = found.verdicts.get(place(pull))
        if beyond is None and slip is not None and slip.side == "above" and slip.wanted and plastic(joint):
            high = slip.wanted.band[1]
            beyond = Overload(high, torque.target or high, 0.0, False) if high is not None else None
        if beyond is not None:
            found.verdicts[place(pull)] = Slip("soft", track, pull, torque, None, -1, "above", None, beyond)
