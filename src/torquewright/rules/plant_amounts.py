"""Plants wrong amounts of fluid: too much poured in, too little laid out, a level read at the wrong warmth."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from torquewright.base.units import UNITS
from torquewright.bench import play
from torquewright.records import Action, Amount, Catalogue, KitItem, Procedure
from torquewright.rules.amounts import BEYOND, LEVEL, SHORT, fluid_of, least, most, needed
from torquewright.rules.editing import change, insert
from torquewright.rules.registry import Planted, planter


def _scaled(amount: Amount, times: float) -> Amount:
    """An amount some times as large, rounded to two digits of its unit."""
    factor = UNITS[amount.unit].factor
    figure = float(f"{amount.value * times / factor:.2g}")
    return Amount(figure * factor, amount.unit, 0.0)


@planter(BEYOND)
def beyond(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Pours in three times what the machine takes."""
    for event in play(procedure, catalogue).of("fill"):
        fluid = fluid_of(catalogue, event)
        limit = (fluid.capacity or fluid.amount) if fluid is not None else None
        if fluid is None or limit is None or event.step < 0 or event.conditional:
            continue
        much = _scaled(evolve(limit, value=most(limit)), 3.0)
        spoiled = change(procedure, event.step, event.number, amount=much)
        told = f"three times as much {fluid.name}"
        yield Planted(spoiled, catalogue, event.step, fluid.id, told, frozenset({SHORT}))


@planter(SHORT)
def short(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Lays out half of what goes in."""
    if catalogue.kit is None:
        return
    for key, need in needed(play(procedure, catalogue)).items():
        fluid = catalogue.fluid(key)
        if fluid is None:
            continue
        names = {name.lower() for name in (fluid.id, fluid.name, *fluid.aliases)}
        others = tuple(item for item in catalogue.kit if item.part.lower() not in names)
        kit = (*others, KitItem(key, 1, amount=_scaled(evolve(need, value=least(need)), 0.5)))
        yield Planted(procedure, evolve(catalogue, kit=kit), None, key, f"only half of the {fluid.name} is laid out")


@planter(LEVEL)
def level(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Warms the machine up right before a level that is read cold; calls a level that is read cold one to be read
    warm."""
    last = {}
    events = play(procedure, catalogue)
    for event in events.of("check_level"):
        fluid = fluid_of(catalogue, event)
        if fluid is not None and not event.conditional:
            last[fluid.id] = event, fluid
    for key, (event, fluid) in last.items():
        if event.step < 0 or fluid.level_temperature is not None:
            continue
        if fluid.level_when == "cold":
            warm = insert(procedure, event.step, event.number, Action("warm_up", "machine"))
            yield Planted(warm, catalogue, event.step, key, "the machine is warmed up before the level is read")
        elif not fluid.level_when and not procedure.steps[event.step].say:
            heated = any(held.verb in ("run", "start", "warm_up") for held in events.events[: event.order])
            fluids = tuple(
                evolve(held, level_when="cold" if heated else "warm") if held.id == key else held
                for held in catalogue.fluids
            )
            cooled = any(held.verb in ("cool_down", "wait") for held in events.events[: event.order])
            if not (heated and cooled):
                told = "its record wants the level read otherwise"
                yield Planted(procedure, evolve(catalogue, fluids=fluids), event.step, key, told)
