"""Plants tools that cannot do it: an adapter nobody corrected for, a band too narrow for the tool or for its scale."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from torquewright.bench import Event, Pull, play
from torquewright.records import Catalogue, Fastener, Procedure, Stage, Tightening, Tool, Torque
from torquewright.rules.demands import told
from torquewright.rules.editing import change, edit_fastener
from torquewright.rules.fits import fit
from torquewright.rules.pulls import sequences, torque_of
from torquewright.rules.registry import Planted, planter
from torquewright.rules.softparts import deviation, overload

_CROWFOOT = Tool("crowfoot", "crowfoot", kind="crowfoot adapter", length=0.15)
_ARM = 0.4


@planter("adapter-not-corrected")
def adapter_not_corrected(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Puts a crowfoot on the wrench and leaves the setting as it was, or does not say how it stands."""
    for event in play(procedure, catalogue).of("tighten", "retighten"):
        to, joint, tool = event.action.to, event.joint, event.tool
        if to is None or joint is None or tool is None or tool.kind != "torque wrench" or event.step < 0:
            continue
        if len(to.stages) != 1 or torque_of(to.stages[0]) is None or event.action.setting is not None:
            continue
        if event.action.adapter or event.conditional or catalogue.tool("crowfoot") is not None:
            continue
        tools = tuple(evolve(held, arm=_ARM) if held is tool else held for held in catalogue.tools or ())
        equipped = evolve(catalogue, tools=(*tools, _CROWFOOT))
        for angle, says in ((0.0, "a crowfoot straight on the wrench"), (None, "a crowfoot, standing anyhow")):
            spoiled = change(procedure, event.step, event.number, adapter="crowfoot", adapter_angle=angle)
            companions = frozenset({"setting-cannot-hit-band"})
            yield Planted(spoiled, equipped, event.step, joint.id, says, companions)


def _alone(procedure: Procedure, catalogue: Catalogue) -> Iterator[tuple[Event, Fastener, Tool, Torque, Tightening]]:
    """Pulls that are the only one on their joint, with the tool named, the figure, and a record of one figure."""
    trace = play(procedure, catalogue)
    counted: dict[str, list[Pull]] = {}
    for sequence in sequences(trace):
        pulls = [*sequence.checks, *sequence.asides, *(pull for part in sequence.parts for pull in part)]
        counted.setdefault(sequence.track.fastener.id, []).extend(pulls)
    for pulls in counted.values():
        if len(pulls) != 1:
            continue
        event = pulls[0].event
        joint, tool, to = event.joint, event.tool, event.action.to
        if joint is None or tool is None or to is None or event.step < 0 or event.conditional:
            continue
        record, torque = joint.tightening, torque_of(pulls[0].stage)
        if record is None or torque is None or torque.nominal is None or tool.high is None or len(record.stages) != 1:
            continue
        wanted = torque_of(record.stages[0])
        if wanted is None or record.added or fit(torque, wanted) != "fits" or torque.unit != wanted.unit:
            continue
        if event.action.setting is None and not event.action.adapter and deviation(tool)[0]:
            yield event, joint, tool, torque, record


def _banded(value: float, half_width: float, unit: str, half: float) -> Tightening:
    return told((Stage(Torque(value, value - half_width, value + half_width, unit, half)),))


@planter("tool-wider-than-band")
def tool_wider_than_band(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Narrows the limits of a record until the tool named is too rough for them."""
    for event, joint, tool, torque, _ in _alone(procedure, catalogue):
        value = torque.nominal or 0.0
        narrow = _banded(value, 0.7 * deviation(tool)[0] * value, torque.unit, torque.half)
        spoiled = edit_fastener(catalogue, joint.id, tightening=narrow)
        yield Planted(procedure, spoiled, event.step, joint.id, f"the record says {narrow.text}")


@planter("setting-cannot-hit-band")
def setting_cannot_hit_band(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Names an exact wrench with a scale so coarse that the limits lie between two of its marks."""
    for event, joint, _, torque, record in _alone(procedure, catalogue):
        wanted = torque_of(record.stages[0])
        if wanted is None or wanted.low is None or wanted.high is None or catalogue.tool(_COARSE) is not None:
            continue
        low, high = wanted.low, wanted.high
        division = 3 * (high - low)
        first = (low + high) / 2 - division / 2
        if high - low < 0.03 * (high + low) or first <= 0:
            continue
        coarse = Tool(
            _COARSE, _COARSE, kind="torque wrench", low=first, high=first + 4 * division, unit=torque.unit,
            deviation=0.01, step=division,
        )  # fmt: skip
        if overload(joint, torque, coarse) is None:
            spoiled = change(procedure, event.step, event.number, tool=_COARSE)
            equipped = evolve(catalogue, tools=(*(catalogue.tools or ()), coarse))
            yield Planted(spoiled, equipped, event.step, joint.id, "a wrench with a coarse scale")


_COARSE = "coarse wrench"
