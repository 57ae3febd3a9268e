"""One making of a joint set beside its record: each pull finds the stage it stands for, or does not.

A pull that fits no stage is a wrong figure, unless it is a pass of the step's own on the way up. Pulls that fit, but
in another order or number than the record's, are a muddle of stages.
"""

from __future__ import annotations

from torquewright.bench import Pull
from torquewright.records import Tightening, Torque
from torquewright.rules.fits import fit, misread, raised, same_digits
from torquewright.rules.pulls import Sequence, torque_of
from torquewright.rules.slips import Found, Muddle, all_torques, also_of


def record_parts(record: Tightening) -> list[tuple[list[Torque], list[float]]]:
    """The record's stages, a new part after each loosening: the torques and the angles (degrees) of each part."""
    parts: list[tuple[list[Torque], list[float]]] = [([], [])]
    for stage in record.stages:
        torque = torque_of(stage)
        if torque is not None:
            parts[-1][0].append(torque)
        if stage.angle is not None:
            if stage.angle.nominal < 0:
                parts.append(([], []))
            else:
                parts[-1][1].append(stage.angle.nominal)
    return parts


def set_beside(found: Found, record: Tightening | None, *, drag_on_top: bool = False) -> None:
    """Judge the pulls of one making. ``drag_on_top``: the figures of the record come on top of the running torque."""
    sequence = found.sequence
    if record is not None and record.kind == "hand_tight" and not record.doubt:
        for pull in all_torques(sequence):
            torque = torque_of(pull.stage)
            if torque is not None:
                found.mark("by hand", pull, torque, None)
        return
    wanted = record_parts(record) if record is not None else []
    torques = [torque for part in wanted for torque in part[0]]
    if not torques:
        for part in range(len(sequence.parts)):
            _falls(found, sequence.torques(part))
        return
    assert record is not None
    joint = sequence.track.fastener
    if record.added or drag_on_top:
        _with_drag(found, torques, joint.prevailing.value if joint.prevailing is not None else None)
        return
    _parts(found, wanted)
    last = torques[-1]
    turned = bool(wanted[-1][1])
    for pull in sequence.checks:
        if not turned:  # after a turn by angle the torque of the joint is another one, and stands in no record
            _one_of(found, pull, [last])
    for pull in sequence.asides:
        _one_of(found, pull, torques)


def _one_of(found: Found, pull: Pull, records: list[Torque]) -> None:
    torque = torque_of(pull.stage)
    if torque is None:
        return
    if any(fits(pull, record) for record in records):
        found.clear(pull)
    else:
        found.slip(pull, records[-1], -1, fit(torque, records[-1]))


def fits(pull: Pull, record: Torque) -> bool:
    """Whether a pull is what the record asks for, in one of the units it is written in."""
    torque = torque_of(pull.stage)
    if torque is None:
        return False
    others = also_of(pull)
    if fit(torque, record) == "fits":
        return bool(others) or not same_digits(torque, record)
    return any(fit(other, record) == "fits" for other in others)


def _with_drag(found: Found, records: list[Torque], drag: float | None) -> None:
    """The record's figure comes on top of the running torque: the step must add it, or say that it is to be added."""
    last = records[-1]
    for pull in all_torques(found.sequence):
        torque, to = torque_of(pull.stage), pull.event.action.to
        if torque is None or to is None:
            continue
        if any(fits(pull, record) for record in records[:-1]):
            found.clear(pull)  # a first pass, before the last one counts
            continue
        if to.added or pull.event.action.setting is not None:
            if any(fits(pull, record) for record in records):
                found.clear(pull)
            else:
                found.slip(pull, last, -1, fit(torque, last))
        elif drag is not None and fit(torque, raised(last, drag)) == "fits":
            found.clear(pull)
        elif drag is None or fits(pull, last):
            found.mark("drag", pull, torque, last)
        else:
            found.slip(pull, raised(last, drag), -1, fit(torque, raised(last, drag)))


def _parts(found: Found, wanted: list[tuple[list[Torque], list[float]]]) -> None:
    sequence = found.sequence
    have, need = len(sequence.parts), len(wanted)
    everything = [torque for part in wanted for torque in part[0]]
    last = _last_pull(sequence)
    if have < need and sequence.made and last is not None:
        # Without the back-off in between, the parts of the record run into one another.
        shown = _first_after(sequence, wanted) or last
        found.muddles.append(Muddle("back-off missing", sequence, shown, None, everything[-1]))
        for part in range(have):
            for pull in sequence.torques(part):
                _one_of(found, pull, everything)
        return
    for part in range(have):
        pulls = sequence.torques(part)
        at = part - (have - need)
        if at < 0:
            # A pull that is undone again only must not go beyond what the joint takes.
            for pull in pulls:
                torque = torque_of(pull.stage)
                if torque is not None and all(fit(torque, record) == "above" for record in everything):
                    found.slip(pull, everything[-1], -1, "above")
                else:
                    found.clear(pull)
            continue
        records = wanted[at][0]
        if records:
            _part(found, pulls, records)
        if pulls and not wanted[at][1] and sequence.angles(part):
            found.muddles.append(Muddle("extra turn", sequence, sequence.angles(part)[0]))
    if last is not None and sequence.backed_off and not sequence.parts[-1] and any(wanted[-1]):
        found.muddles.append(Muddle("ends loose", sequence, Pull(sequence.backed_off[-1], None, 0)))


def _last_pull(sequence: Sequence) -> Pull | None:
    for part in reversed(sequence.parts):
        if part:
            return part[-1]
    return None


def _first_after(sequence: Sequence, wanted: list[tuple[list[Torque], list[float]]]) -> Pull | None:
    """The pull that should have come after the back-off: the first that fits only the last part of the record."""
    before = [torque for part in wanted[:-1] for torque in part[0]]
    for part in range(len(sequence.parts)):
        for pull in sequence.torques(part):
            if any(fits(pull, record) for record in wanted[-1][0]) and not any(fits(pull, record) for record in before):
                return pull
    return None


def _part(found: Found, pulls: list[Pull], records: list[Torque]) -> None:
    """Torques between two back-offs beside the record's torques there."""
    if not pulls:
        return
    which = _matched(pulls, records)
    fallen = _falls(found, pulls, which, records)
    final = records[-1]
    extra = 0
    for index, pull in enumerate(pulls):
        torque = torque_of(pull.stage)
        if torque is None or which[index] is not None or index in fallen:
            found.clear(pull)
            continue
        side = fit(torque, final)
        if index < len(pulls) - 1 and side == "below" and len(records) == 1:
            found.clear(pull)  # an earlier pass, lower on purpose
        elif len(pulls) == len(records):
            found.slip(pull, records[index], index, fit(torque, records[index]))
            extra += 1
        elif index < len(pulls) - 1 and side == "below":
            found.clear(pull)  # a pass of the step's own on the way to the figure
            extra += 1
        else:
            found.slip(pull, final, -1, side)
    if not fallen and found.sequence.made:
        _left_out(found, pulls, records, which, extra)


def _matched(pulls: list[Pull], records: list[Torque]) -> list[int | None]:
    """For each pull the place of the record's torque it stands for, None where it fits none."""
    used: set[int] = set()
    at = 0
    which: list[int | None] = []
    for pull in pulls:
        fitting = [index for index, record in enumerate(records) if fits(pull, record)]
        onward = [index for index in fitting if index >= at]
        fresh = [index for index in onward if index not in used]
        chosen = (fresh or onward or fitting[-1:] or [None])[0]  # type: ignore[list-item]
        which.append(chosen)
        if chosen is not None:
            used.add(chosen)
            at = max(at, chosen)
    return which


def _left_out(found: Found, pulls: list[Pull], records: list[Torque], which: list[int | None], extra: int) -> None:
    used = set(which)
    count = len(records)
    if count == 1 or any((pull.event.action.passes or 1) >= count for pull in pulls):
        return
    last = which[-1]
    if last is not None and count - 1 not in used and fits(pulls[-1], records[-1]):
        # The record pulls twice to the same torque: the last pull stands for the last of them.
        used.add(count - 1)
        if which.count(last) == 1:
            used.discard(last)
    if last is not None and count - 1 not in used:
        # Fewer pulls than stages leave the joint loose, which is another rule's to say; but as many pulls as stages,
        # none of them the last, are stages mixed up.
        if len(pulls) >= count:
            done = torque_of(pulls[-1].stage)
            found.muddles.append(Muddle("last left out", found.sequence, pulls[-1], done, records[-1]))
        return
    missing = [index for index in range(count - 1) if index not in used]
    if len(missing) > extra:
        found.muddles.append(Muddle("left out", found.sequence, pulls[0], None, records[missing[0]]))


def _falls(
    found: Found, pulls: list[Pull], which: list[int | None] | None = None, records: list[Torque] | None = None
) -> set[int]:
    """The pulls that are lower than the one before them, with nothing that explains it."""
    fallen: set[int] = set()
    for index in range(1, len(pulls)):
        before, torque = torque_of(pulls[index - 1].stage), torque_of(pulls[index].stage)
        if before is None or torque is None or not _lower(torque, before):
            continue
        if which is not None and records is not None:
            here, there = which[index], which[index - 1]
            if here is not None and there is not None and here > there:
                continue  # the record itself falls here
            if here is None and (there is None or misread(torque, records[-1], also_of(pulls[index])) is not None):
                continue  # a wrong figure, not a wrong order
        fallen.add(index)
        found.muddles.append(Muddle("falls", found.sequence, pulls[index], before, torque))
    return fallen


def _lower(torque: Torque, before: Torque) -> bool:
    """Whether the whole of one figure, digits and all, lies below the whole of another."""
    top = torque.band[1] if torque.band[1] is not None else torque.target
    bottom = before.band[0] if before.band[0] is not None else before.target
    if top is None or bottom is None:
        return False
    slack = torque.half + before.half if torque.unit != before.unit else 0.0
    return top + slack < bottom * (1 - 1e-9)
