"""How much fluid: more poured in than the machine holds, less laid out than goes in, a level read too warm or cold."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.base.units import UNITS, from_si
from torquewright.bench import Event, Trace
from torquewright.records import Amount, Catalogue, Fluid
from torquewright.rules.finding import Certainty, Fact, Finding
from torquewright.rules.registry import detector
from torquewright.rules.spot import at

BEYOND = "fill-beyond-capacity"
SHORT = "supply-short-of-capacity"
LEVEL = "level-read-at-wrong-temperature"

# ---- which fluid, how much ---------------------------------------------------------------------------------------


def fluid_of(catalogue: Catalogue, event: Event) -> Fluid | None:
    """The fluid an action pours, drains or reads; None where it could be any or none."""
    action = event.action
    for key in (action.what, action.of):
        if key and (held := catalogue.fluid(key)) is not None:
            return held
    if event.joint is not None and event.joint.fluid:
        return catalogue.fluid(event.joint.fluid)
    words = f"{action.with_what} {action.what}".lower()
    meant = [
        fluid for fluid in catalogue.fluids
        if any(name and name.lower() in words for name in (fluid.id, fluid.name, *fluid.aliases))
    ]  # fmt: skip
    if len(meant) == 1:
        return meant[0]
    nameless = event.verb == "check_level" or not words.strip()
    if not meant and nameless and len(catalogue.fluids) == 1:
        return catalogue.fluids[0]
    return None


def amount_told(amount: Amount) -> str:
    """An amount in the unit it was written in: ``0.62 L``, ``20 to 22 US fl oz``."""
    figures = [amount.value] if amount.low is None or amount.high is None else [amount.low, amount.high]
    return " to ".join(f"{from_si(figure, amount.unit):.6g}" for figure in figures) + f" {amount.unit}"


def least(amount: Amount) -> float:
    return amount.low if amount.low is not None else amount.value


def most(amount: Amount) -> float:
    return amount.high if amount.high is not None else amount.value


def more(one: Amount | tuple[float, float, str], limit: Amount, times: float = 1.0) -> bool:
    """Whether ``one`` (an amount, or value, half digit and unit of a sum) is surely more than the limit. The digits
    count only where the units differ."""
    value, half, unit = (least(one), one.half, one.unit) if isinstance(one, Amount) else one
    slack = half + limit.half if unit != limit.unit else 0.0
    return value > most(limit) * times * (1 + 1e-9) + slack


# ---- poured in ---------------------------------------------------------------------------------------------------


@detector(BEYOND)
def beyond(trace: Trace) -> Iterator[Finding]:
    """More is poured in than the machine holds, in one pour or in several with no drain between them."""
    if all(fluid.amount is None and fluid.capacity is None for fluid in trace.catalogue.fluids):
        return
    poured: dict[str, tuple[float, float, str]] = {}
    open_level: set[str] = set()
    for event in trace.events:
        joint = event.joint
        if joint is not None and joint.fluid and not event.action.of:
            _follow(joint.role, joint.fluid, event, poured, open_level)
        if event.verb not in ("fill", "drain") or event.conditional:
            continue
        fluid = fluid_of(trace.catalogue, event)
        if fluid is None:
            continue
        if event.verb == "drain":
            poured.pop(fluid.id, None)
            continue
        amount, limit = event.action.amount, fluid.capacity or fluid.amount
        if amount is None or limit is None or UNITS[amount.unit].measures != "volume":
            continue
        before = poured.get(fluid.id)
        value, half, unit = before if before is not None else (0.0, 0.0, amount.unit)
        poured[fluid.id] = (value + least(amount), half + amount.half, unit if unit == amount.unit else "")
        facts: dict[str, Fact] = {"fluid": fluid.id, "amount": amount_told(amount), "most": amount_told(limit)}
        key = "capacity" if fluid.capacity is not None else "amount"
        also = (("catalogue", ("fluid", fluid.id, key)),)
        if fluid.id in open_level:
            if more(amount, limit, 2.0):
                yield at(BEYOND, "likely", event, fluid.id, facts, "open", "amount", also)
        elif more(amount, limit):
            yield at(BEYOND, "certain", event, fluid.id, facts, "" if key == "capacity" else "amount", "amount", also)
        elif before is not None and fluid.capacity is not None and more(poured[fluid.id], limit):
            yield at(BEYOND, "certain", event, fluid.id, facts, "together", "amount", also)


def _follow(
    role: str, fluid: str, event: Event, poured: dict[str, tuple[float, float, str]], open_level: set[str]
) -> None:
    """Whether the drain or the level hole of a fluid stands open after this event."""
    if event.verb in ("loosen", "remove", "disconnect") and not event.conditional:
        if role == "drain":
            poured.pop(fluid, None)
        elif role == "level":
            open_level.add(fluid)
    elif role == "level" and event.verb in ("install", "reuse", "replace", "hand_start", "seat", "tighten"):
        open_level.discard(fluid)


# ---- laid out ----------------------------------------------------------------------------------------------------


@detector(SHORT)
def short(trace: Trace) -> Iterator[Finding]:
    """Less of a fluid is laid out than the job pours in; a fluid that is not laid out is shop stock."""
    kit = trace.catalogue.kit
    if kit is None or all(item.amount is None for item in kit):
        return
    needs = needed(trace)
    for fluid in trace.catalogue.fluids:
        names = {name.lower() for name in (fluid.id, fluid.name, *fluid.aliases)}
        lines = [(at, item) for at, item in enumerate(kit) if item.part.lower() in names]
        need = needs.get(fluid.id)
        if need is None or not lines or any(item.amount is None for _, item in lines):
            continue
        have = half = 0.0
        units = set()
        for _, item in lines:
            if item.amount is not None:
                have += item.count * most(item.amount)
                half += item.count * item.amount.half
                units.add(item.amount.unit)
        slack = half + need.half if units != {need.unit} else 0.0
        if have + slack >= least(need) * (1 - 1e-9):
            continue
        factor = UNITS[need.unit].factor
        facts: dict[str, Fact] = {
            "fluid": fluid.id, "need": amount_told(need), "have": f"{have / factor:.3g} {need.unit}",
        }  # fmt: skip
        also = (("catalogue", ("fluid", fluid.id, "amount")),) if fluid.amount is not None else ()
        yield Finding(SHORT, "certain", None, fluid.id, facts, ("kit", lines[0][0], "amount"), "kit", also)


def needed(trace: Trace) -> dict[str, Amount]:
    """How much of each fluid the job pours in: what its steps say, or what the record says for a fill after a drain."""
    found: dict[str, Amount] = {}
    drained: set[str] = set()
    for event in trace.events:
        joint = event.joint
        opened = event.verb in ("remove", "loosen", "disconnect") and joint is not None and joint.role == "drain"
        if event.verb not in ("fill", "drain") and not opened:
            continue
        fluid = fluid_of(trace.catalogue, event)
        if fluid is None or event.conditional:
            continue
        if event.verb != "fill":
            drained.add(fluid.id)
            continue
        amount = event.action.amount
        if amount is None and fluid.id in drained:
            amount = fluid.amount or fluid.capacity
        drained.discard(fluid.id)
        if amount is None or UNITS[amount.unit].measures != "volume":
            continue
        held = found.get(fluid.id)
        if held is not None:
            amount = Amount(least(held) + least(amount), held.unit, held.half + amount.half)
        found[fluid.id] = amount
    return found


# ---- the level ---------------------------------------------------------------------------------------------------

_BESIDE = 5.0
"""How far (K) from a single recorded temperature a level is still read right; common practice, no source."""
_WORDS = {"cold": ("cold", "cool"), "warm": ("warm", "hot", "working temperature", "running temperature")}
_HEATS = ("run", "start", "warm_up")
_COOLS = ("cool_down", "wait")


@detector(LEVEL)
def level(trace: Trace) -> Iterator[Finding]:
    """The last reading of a level is made with the machine or the fluid colder or warmer than its record says."""
    fluids = trace.catalogue.fluids
    if all(not fluid.level_when and fluid.level_temperature is None for fluid in fluids):
        return
    last: dict[str, Event] = {}
    for event in trace.events:
        if event.verb == "check_level" and not event.conditional:
            fluid = fluid_of(trace.catalogue, event)
            if fluid is not None and (fluid.level_when or fluid.level_temperature is not None):
                last[fluid.id] = event
    for key, event in last.items():
        fluid = trace.catalogue.fluid(key)
        slip = _degrees(trace, event, fluid) or _warmth(trace, event, fluid) if fluid is not None else None
        if slip is not None:
            certainty, form, facts, field = slip
            also = (("catalogue", ("fluid", key, field)),)
            yield at(LEVEL, certainty, event, key, {"fluid": key, **facts}, form, also=also)


Slip = tuple[Certainty, str, dict[str, Fact], str]


def _degrees(trace: Trace, event: Event, fluid: Fluid) -> Slip | None:
    wanted = fluid.level_temperature
    told = _temperature(trace, event) if wanted is not None else None
    if wanted is None or told is None:
        return None
    spread = 0.0 if wanted.low is not None else _BESIDE
    if least(told) <= most(wanted) + spread + 1e-6 and most(told) >= least(wanted) - spread - 1e-6:
        return None
    facts: dict[str, Fact] = {"told": amount_told(told), "wanted": amount_told(wanted)}
    return "certain", "degrees", facts, "level-temperature"


def _temperature(trace: Trace, event: Event) -> Amount | None:
    """The temperature the step states for the reading, by its action or as the one temperature of its sentence."""
    if event.action.temperature is not None or event.step < 0:
        return event.action.temperature
    said = trace.procedure.steps[event.step].say
    if "°" not in said and "deg" not in said:
        return None
    from torquewright.toml.quantities import find_quantities  # few levels have a temperature beside them

    found = [held.amount for held in find_quantities(said) if held.kind == "temperature" and held.amount is not None]
    return found[0] if len(found) == 1 else None


def _warmth(trace: Trace, event: Event, fluid: Fluid) -> Slip | None:
    wanted = fluid.level_when
    if not wanted:
        return None
    said = event.action.note.lower()
    if event.step >= 0:
        said += " " + trace.procedure.steps[event.step].say.lower()
    other = "warm" if wanted == "cold" else "cold"
    facts: dict[str, Fact] = {"told": other, "wanted": wanted}
    if any(word in said for word in _WORDS[wanted]):
        return None
    if any(word in said for word in _WORDS[other]):
        return "certain", "said", facts, "level-when"
    heat = max((held.order for held in trace.events[: event.order] if held.verb in _HEATS), default=-1)
    cool = max((held.order for held in trace.events[: event.order] if held.verb in _COOLS), default=-1)
    if wanted == "cold" and heat > cool:
        return "likely", "after-run", {}, "level-when"
    if wanted == "warm" and (heat < 0 or any(held.verb == "cool_down" for held in trace.events[heat : event.order])):
        return "unstated", "not-warmed", {}, "level-when"
    return None
