"""Further kinds of made-up joints, whose records ask for more than a torque: compound and its time, a terminal, a load
that is held, an order, a later check or none, a second look, a plug to fill through, a rag that comes out again.

Everything is invented. ``ALL_KINDS`` holds these and the plain ones of ``sound_procedures``.
"""

from __future__ import annotations

from hypothesis import strategies as st

from sound_procedures import (
    KINDS,
    Actions,
    Draw,
    Joint,
    banded,
    demand,
    pull,
    put_in,
    record,
    shape,
    take_out,
    wrench,
)
from torquewright.records import Action, Amount, Fluid, KitItem, Lock, Retorque, Seal
from torquewright.rules.patterns import cross, spiral

HOUR = 3600.0


def compound_bolts(draw: Draw, number: int) -> Joint:
    """Bolts with threadlocker that are cleaned first, and that may need their time."""
    held = shape(draw, "carrier bolt", number, 1, 6, soft=False)
    hours = draw(st.sampled_from((None, 1.0, 24.0)))
    cure = None if hours is None else Amount(hours * HOUR, "h", 0.5 * HOUR)
    in_two = draw(st.booleans())
    opening = [take_out(draw, held), [Action("clean", held.key)]]
    fits = put_in(draw, held, "old", split=False)
    put = [Action("seal", held.key, with_what="medium-strength threadlocker")]
    closing: list[Actions] = [put, *fits] if in_two else [[*put, *fits[0]]]
    closing.append([pull(held, held.torque)])
    if hours is not None:
        waits = (hours,) if draw(st.booleans()) else (hours, 2.0)
        closing += [[Action("wait", "the threadlocker", amount=Amount(part * HOUR, "h", 0.5 * HOUR))] for part in waits]
    fastener = record(
        held, tightening=banded(held.torque), condition="threadlocker",
        lock=Lock("threadlocker", product="medium-strength threadlocker", cure=cure),
    )  # fmt: skip
    return Joint((fastener,), opening, closing)


def terminals(draw: Draw, number: int) -> Joint:
    """Terminals that are switched off before they are opened, and tightened to a figure."""
    held = shape(draw, "terminal nut", number, 1, 3, soft=False)
    cut = Action("isolate", draw(st.sampled_from(("battery", "electrical supply", "mains"))))
    opening = [[cut], take_out(draw, held)]
    closing = [*put_in(draw, held, "old"), [pull(held, held.torque, draw(st.booleans()))]]
    fastener = record(held, kind="terminal", tightening=banded(held.torque), energy=("electrical",))
    return Joint((fastener,), opening, closing)


def held_load(draw: Draw, number: int) -> Joint:
    """Bolts that carry a load, which is held or let down before they are opened."""
    held = shape(draw, "drum bolt", number, 1, 4, soft=False)
    taken = draw(st.sampled_from((Action("support", "drum"), Action("lower", "load"))))
    opening = [[taken], take_out(draw, held)]
    closing = [*put_in(draw, held, "old"), [pull(held, held.torque)]]
    return Joint((record(held, tightening=banded(held.torque), energy=("gravity",)),), opening, closing)


def jacked(draw: Draw, number: int) -> Joint:
    """Bolts under something that was jacked up and set on stands."""
    held = shape(draw, "axle bolt", number, 1, 4, soft=False)
    opening = [
        [Action("raise", "trailer", tool="trolley jack")],
        [Action("support", "trailer", tool="stands")],
        take_out(draw, held),
    ]
    when = draw(st.sampled_from(("", "loaded")))
    lower: list[Actions] = [[Action("lower", "trailer")]]
    last: list[Actions] = [[pull(held, held.torque)]]
    closing = [*put_in(draw, held, "old"), *(lower + last if when == "loaded" else last + lower)]
    return Joint((record(held, tightening=banded(held.torque), tighten_when=when),), opening, closing)


def ordered_flange(draw: Draw, number: int) -> Joint:
    """A flange over a gasket, pulled in the order its record gives, checked again cold after the first run or never."""
    held = shape(draw, "flange bolt", number, 4, 12)
    held = held._replace(told=held.count)
    pattern = draw(st.sampled_from(("cross", "spiral", "list")))
    listed = "-".join(str(place) for place in (cross(held.count) if draw(st.booleans()) else spiral(held.count)))
    named = "cross" if pattern == "list" else pattern
    order = listed if pattern == "list" or draw(st.booleans()) else named
    seal = Seal(f"flange-gasket-{number}", f"flange gasket {number}", (), 1, "gasket", True, "dry")
    again = draw(st.booleans())
    opening = [take_out(draw, held), [Action("remove", seal.id), Action("discard", seal.id)]]
    closing = [
        [Action("install", seal.id, state="new")],
        *put_in(draw, held, "old", split=False),
        [pull(held, held.torque, order=order)],
    ]
    after: tuple[Actions, ...] = ()
    if again:
        check = Action("retighten", held.key, count=held.count, to=demand(held.torque), tool=wrench(held.torque))
        after = ([Action("cool_down", "machine", amount=Amount(HOUR, "h", 0.5 * HOUR))], [check])
    fastener = record(
        held, tightening=banded(held.torque), seals=(seal.id,), pattern=listed if pattern == "list" else pattern,
        retorque=Retorque("required", "the first run, cold") if again else Retorque("forbidden"), tighten_when="cold",
    )  # fmt: skip
    return Joint((fastener,), opening, closing, (seal,), kit=(KitItem(seal.id, 1),), after=after)


def watched(draw: Draw, number: int) -> Joint:
    """Bolts whose failure can hurt somebody, looked at by a second person."""
    held = shape(draw, "brake bolt", number, 1, 3, soft=False)
    opening = [take_out(draw, held)]
    look = Action("check", held.key, note=draw(st.sampled_from(("by a second person", "by the inspector"))))
    closing = [*put_in(draw, held, "old"), [pull(held, held.torque)], [Action("mark", held.key), look]]
    fastener = record(held, tightening=banded(held.torque), safety=True, independent_check=True)
    return Joint((fastener,), opening, closing)


def gearbox(draw: Draw, number: int) -> Joint:
    """A gearbox that is filled through a plug of its own."""
    fill = shape(draw, "fill plug", number, 1, 1, soft=False)
    drain = shape(draw, "bottom plug", number, 1, 1, soft=False)
    oil = Fluid(f"winch-oil-{number}", f"winch oil {number}", amount=Amount(8e-4, "L", 5e-5))
    opening = [take_out(draw, fill), take_out(draw, drain, Action("drain", oil.id))]
    closing = [
        *put_in(draw, drain, "old"),
        [pull(drain, drain.torque)],
        [Action("fill", oil.id, amount=oil.amount)],
        *put_in(draw, fill, "old"),
        [pull(fill, fill.torque)],
    ]
    fasteners = (
        record(drain, kind="plug", tightening=banded(drain.torque), fluid=oil.id, role="drain"),
        record(fill, kind="plug", tightening=banded(fill.torque), fluid=oil.id, role="fill"),
    )
    return Joint(fasteners, opening, closing, fluids=(oil,))


def rag_in_the_bore(draw: Draw, number: int) -> Joint:
    """A cover that is off while a rag, a bung or guide studs are in."""
    held = shape(draw, "hatch bolt", number, 1, 3)
    item, count = draw(st.sampled_from((("rag", None), ("bung", 1), ("guide studs", 2))))
    item = f"{item} {number}" if item == "bung" else item
    opening = [
        take_out(draw, held),
        [Action("insert", item, count=count), Action("clean", "bore")],
        [Action("take_out", item, count=count), Action("inspect", "bore")],
    ]
    closing = [*put_in(draw, held, "old"), [pull(held, held.torque)]]
    return Joint((record(held, tightening=banded(held.torque)),), opening, closing)


def plastic_box(draw: Draw, number: int) -> Joint:
    """Screws in a box of a plastic that compound would crack, put in dry."""
    held = shape(draw, "box screw", number, 1, 3, soft=True)._replace(torque=1.0)
    material = draw(st.sampled_from(("ABS", "polycarbonate", "plastic")))
    opening = [take_out(draw, held)]
    closing = [*put_in(draw, held, "old"), [pull(held, held.torque)]]
    fastener = record(held._replace(material=material), kind="screw", tightening=banded(held.torque), hand_start=True)
    return Joint((fastener,), opening, closing)


MORE_KINDS = (
    compound_bolts, terminals, held_load, jacked, ordered_flange, watched, gearbox, rag_in_the_bore, plastic_box,
)  # fmt: skip
ALL_KINDS = (*KINDS, *MORE_KINDS)
