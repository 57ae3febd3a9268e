"""Sound procedures, made up by hypothesis: a random catalogue with tools and a kit, and a procedure that does right
by every joint of it.

Everything is invented. ``sound_jobs()`` draws ``(procedure, catalogue)``; nothing that a rule asks for is missing,
so a rule that speaks up on one of these is wrong.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from attrs import evolve
from hypothesis import strategies as st

from torquewright.base.units import UNITS
from torquewright.records import (
    Action,
    Amount,
    Angle,
    Catalogue,
    Drive,
    Fastener,
    Fluid,
    KitItem,
    Lock,
    Part,
    Procedure,
    Seal,
    Stage,
    Step,
    Thread,
    Tightening,
    Tool,
    Torque,
    Washer,
    WasherUse,
)

Draw = st.DrawFn
Actions = list[Action]


class Joint(NamedTuple):
    """One made-up joint (or a pair that goes together), with the steps that open it, those that close it, and those
    that belong to it ``after`` the machine has run."""

    fasteners: tuple[Fastener, ...]
    opening: list[Actions]
    closing: list[Actions]
    seals: tuple[Seal, ...] = ()
    fluids: tuple[Fluid, ...] = ()
    parts: tuple[Part, ...] = ()
    kit: tuple[KitItem, ...] = ()
    after: tuple[Actions, ...] = ()


# ---- figures --------------------------------------------------------------------------------------------------


def half_digit(value: float) -> float:
    """Half of the last digit of ``value`` as printed by ``:g``."""
    text = f"{value:g}"
    return 0.5 * 10.0 ** -len(text.partition(".")[2])


def newton_metres(value: float, low: float | None = None, high: float | None = None) -> Torque:
    return Torque(value, low, high, "N·m", half_digit(value))


def demand(value: float, dual: bool = False) -> Tightening:
    """``7 N·m``, or with pounds beside it, rounded as people do."""
    if not dual:
        return Tightening(f"{value:g} N·m", "single", (Stage(newton_metres(value)),))
    unit = "lbf·in" if value < 20 else "lbf·ft"
    factor = UNITS[unit].factor
    other = round(value / factor)
    also = Torque(other * factor, None, None, unit, 0.5 * factor)
    return Tightening(f"{value:g} N·m ({other} {unit})", "dual_unit", (Stage(newton_metres(value)),), (also,))


def by_angle(degrees: float) -> Tightening:
    return Tightening(f"{degrees:g}°", "angle_only", (Stage(None, Angle(degrees)),))


def banded(value: float, share: float = 0.1) -> Tightening:
    """A record's figure with limits on both sides."""
    spread = round(value * share, 2)
    torque = newton_metres(value, value - spread, value + spread)
    return Tightening(f"{value:g} N·m ± {spread:g}", "tolerance", (Stage(torque),))


def staged(first: float, last: float) -> Tightening:
    final = banded(last)
    return Tightening(f"stage {first:g} N·m, then {final.text}", "stage", (Stage(newton_metres(first)), *final.stages))


def staged_angle(first: float, angles: tuple[float, ...]) -> Tightening:
    return Tightening(
        f"stage {first:g} N·m, then " + ", then ".join(f"{angle:g}°" for angle in angles),
        "stage_angle",
        (Stage(newton_metres(first)), *(Stage(None, Angle(angle)) for angle in angles)),
    )


HAND_TIGHT = Tightening("hand-tight", "hand_tight", (Stage(),))

# Thread, across flats (mm), and a torque that suits it (N·m): made up, plausible.
SIZES = (("M5x0.8", 0.005, 0.0008, 8, 4.0), ("M6x1", 0.006, 0.001, 10, 8.0), ("M8x1.25", 0.008, 0.00125, 13, 20.0),
         ("M10x1.5", 0.010, 0.0015, 16, 40.0), ("M12x1.75", 0.012, 0.00175, 18, 70.0))  # fmt: skip


def scale(key: str, name: str, low: float, high: float, deviation: float, step: float) -> Tool:
    """A torque tool with its scale in N·m."""
    return Tool(
        key, name, kind=name.removeprefix("small ").removeprefix("large "), low=low, high=high, unit="N·m",
        usable_low=low, deviation=deviation, step=step, calibrated_until="2030-01-31", half=half_digit(low),
    )  # fmt: skip


WRENCHES = (
    scale("small-driver", "small torque driver", 0.5, 5.0, 0.06, 0.05),
    scale("driver", "torque driver", 2.0, 12.0, 0.06, 0.1),
    scale("small-wrench", "small torque wrench", 5.0, 30.0, 0.04, 0.5),
    scale("large-wrench", "large torque wrench", 20.0, 120.0, 0.04, 1.0),
    Tool("angle-gauge", "angle gauge", kind="angle gauge"),
    *(
        Tool(f"socket-{size}", f"{size} mm socket", kind="socket", drive=Drive("hex", f"{size} mm", size / 1000))
        for size in (8, 10, 13, 16, 18)
    ),
)


def wrench(value: float) -> str:
    """The smallest wrench whose scale holds ``value`` with room on both sides."""
    for tool in WRENCHES:
        if tool.low is not None and tool.high is not None and tool.low * 1.2 <= value <= tool.high * 0.9:
            return tool.id
    raise AssertionError(value)


# ---- joints ---------------------------------------------------------------------------------------------------


class Shape(NamedTuple):
    """What all kinds of joints draw alike."""

    key: str
    name: str
    count: int
    thread: Thread
    flats: int
    torque: float
    material: str
    told: int | None  # the number as the steps tell it, None where they say "the screws"

    @property
    def drive(self) -> Drive:
        return Drive("hex", f"{self.flats} mm", self.flats / 1000)

    @property
    def socket(self) -> str:
        return f"socket-{self.flats}"


def shape(draw: Draw, word: str, number: int, least: int = 1, most: int = 8, soft: bool | None = None) -> Shape:
    size, diameter, pitch, flats, usual = draw(st.sampled_from(SIZES))
    count = draw(st.integers(least, most))
    torque = round(usual * draw(st.sampled_from((0.75, 0.9, 1.0, 1.1))), 1)
    metals = ("aluminium casting", "brass insert", "magnesium casting", "glass-filled nylon", "steel", "grey cast iron")
    material = draw(st.sampled_from(metals if soft is None else metals[:4] if soft else metals[4:]))
    thread = Thread(size, "metric", diameter, pitch, pitch_stated=True)
    told = count if draw(st.booleans()) else None
    return Shape(f"{word.replace(' ', '-')}-{number}", f"{word} {number}", count, thread, flats, torque, material, told)


def record(held: Shape, **more: Any) -> Fastener:
    return evolve(
        Fastener(
            held.key, held.name, count=held.count, kind="bolt", thread=held.thread, property_class="8.8",
            drive=held.drive, mating_material=held.material, bearing_material="steel", one_time_use=False,
            reuse="free", washer_unstated=False, condition="dry", safety=False,
            hand_start=held.material not in ("steel", "grey cast iron"),
        ),
        **more,
    )  # fmt: skip


def take_out(draw: Draw, held: Shape, *after: Action) -> Actions:
    loosen = [Action("loosen", held.key, count=held.told, tool=held.socket)] if draw(st.booleans()) else []
    return [*loosen, Action("remove", held.key, count=held.told, tool=held.socket), *after]


def put_in(
    draw: Draw, held: Shape, state: str, washer: WasherUse | None = None, oil: str = "", split: bool = True
) -> list[Actions]:
    """The step (or two) that fits the pieces and starts them by hand."""
    wet = [Action("lubricate", held.key, with_what=oil)] if oil else []
    verb, mark = ("reuse", "") if state == "old" and draw(st.booleans()) else ("install", state)
    if split and held.count > 2 and held.told and draw(st.booleans()):
        # Some of them first, the others in a step of their own: together they are all.
        first = draw(st.integers(1, held.count - 1))
        parts: list[int | None] = [first, held.count - first]
    else:
        parts = [held.told]
    steps: list[Actions] = []
    for part in parts:
        steps.append(
            [
                *(wet if not steps else []),
                Action(verb, held.key, state=mark, count=part, washer=washer),  # type: ignore[arg-type]
                Action("hand_start", held.key, count=part),
            ]
        )
    return steps


def pull(held: Shape, value: float, dual: bool = False, order: str = "") -> Action:
    return Action("tighten", held.key, count=held.told, to=demand(value, dual), tool=wrench(value), order=order)


def plain_bolts(draw: Draw, number: int) -> Joint:
    """Bolts that go back, in one pull or in two stages, with flat washers or none, over a gasket or none."""
    held = shape(draw, "cover bolt", number)
    kit: list[KitItem] = []
    seals: tuple[Seal, ...] = ()
    opening = [take_out(draw, held)]
    closing: list[Actions] = []
    flat = draw(st.booleans())
    if draw(st.booleans()):
        ring = draw(st.booleans())
        lubricant = draw(st.sampled_from(("gear oil", "silicone grease") if ring else ("dry", "")))
        seal = Seal(f"gasket-{number}", f"gasket {number}", (), 1, "O-ring" if ring else "gasket", True, lubricant)
        seals = (seal,)
        opening.append([Action("remove", seal.id), Action("discard", seal.id)])
        wet = [Action("lubricate", seal.id, with_what=lubricant)] if ring else []
        closing.append([*wet, Action("install", seal.id, state="new")])
        kit.append(KitItem(seal.id, 1))
    if draw(st.booleans()):
        opening.append([Action("clean", held.key)])
    two = draw(st.booleans())
    first = round(held.torque * 0.5, 1)
    tightening = staged(first, held.torque) if two else banded(held.torque)
    order = "cross" if held.count > 3 else ""
    closing += put_in(draw, held, "old", WasherUse(1, "old") if flat else None)
    pulls = [pull(held, first, order=order)] if two else []
    pulls.append(pull(held, held.torque, draw(st.booleans()), order))
    closing += [[each] for each in pulls] if draw(st.booleans()) else [pulls]
    limit = draw(st.booleans())
    fastener = record(
        held, tightening=tightening, washer=Washer("flat", 1, False) if flat else None, pattern=order,
        seals=tuple(seal.id for seal in seals),
        part_limit=Tightening(f"max {held.torque * 1.5:g} N·m", "maximum",
                              (Stage(Torque(None, None, held.torque * 1.5, "N·m", 0.05)),)) if limit else None,
    )  # fmt: skip
    return Joint((fastener,), opening, closing, seals, kit=tuple(kit))


def stretch_bolts(draw: Draw, number: int) -> Joint:
    """Bolts that are pulled into yield, new each time: a torque, then one angle or two."""
    held = shape(draw, "head bolt", number, 2, 10)
    angles = draw(st.sampled_from(((90.0,), (60.0, 30.0), (90.0, 90.0))))
    first = round(held.torque * 0.6, 1)
    opening = [take_out(draw, held, Action("discard", held.key))]
    closing = put_in(draw, held, "new", oil="engine oil")
    closing.append([pull(held, first, order="cross")])
    closing += [
        [Action("tighten_angle", held.key, count=held.told, to=by_angle(angle), tool="angle-gauge", order="cross")]
        for angle in angles
    ]
    fastener = record(
        held, tightening=staged_angle(first, angles), one_time_use=True, reuse="never", condition="engine oil",
        property_class="10.9", pattern="cross",
    )  # fmt: skip
    return Joint((fastener,), opening, closing, kit=(KitItem(held.key, held.count),))


def measured_bolts(draw: Draw, number: int) -> Joint:
    """Bolts that may go back once their length was measured."""
    held = shape(draw, "rod bolt", number, 2, 6)
    opening = [take_out(draw, held), [Action("measure", held.key)]]
    closing = [*put_in(draw, held, "old"), [pull(held, held.torque, draw(st.booleans()))]]
    return Joint(
        (record(held, tightening=banded(held.torque), one_time_use=None, reuse="after measuring"),), opening, closing
    )


def locknuts(draw: Draw, number: int) -> Joint:
    """Self-locking nuts: new each time, or old ones whose drag was measured."""
    held = shape(draw, "locknut", number, 1, 6, soft=False)
    measured = draw(st.booleans())
    drag = Amount(1.0, "N·m", 0.5)
    opening = [take_out(draw, held, *([Action("measure", held.key)] if measured else [Action("discard", held.key)]))]
    closing = [*put_in(draw, held, "old" if measured else "new"), [pull(held, held.torque, draw(st.booleans()))]]
    fastener = record(
        held, kind="nut", tightening=banded(held.torque), lock=Lock("prevailing-torque nut", built_in=True),
        one_time_use=None if measured else True, reuse="after measuring" if measured else "never", prevailing=drag,
        hand_start=None, safety=draw(st.booleans()),
    )  # fmt: skip
    return Joint((fastener,), opening, closing, kit=() if measured else (KitItem(held.key, held.count),))


def locked_nuts(draw: Draw, number: int) -> Joint:
    """Nuts held by a cotter pin, wire, tab washer or roll pin, new each time, or by a clip that goes back."""
    held = shape(draw, "castle nut", number, 1, 4)
    kind = draw(st.sampled_from(("cotter pin", "lockwire", "tab washer", "roll pin", "R-clip")))
    clip = kind == "R-clip"
    off = [Action("remove", "lock", held.key)]
    if not clip:
        off.append(Action("discard", "lock", held.key))
    opening = [off, take_out(draw, held)]
    closing = [
        *put_in(draw, held, "old"),
        [pull(held, held.torque)],
        [Action("lock", held.key, with_what=kind, state="old" if clip else "new"), Action("mark", held.key)],
    ]
    fastener = record(
        held, kind="castle nut", tightening=banded(held.torque), lock=Lock(kind, one_time_use=not clip), safety=True
    )
    kit = () if clip else (KitItem("lock", held.count, held.key),)
    return Joint((fastener,), opening, closing, kit=kit)


def plastic_cap(draw: Draw, number: int) -> Joint:
    """A plastic cap with a ring under it, closed by hand or with a small figure."""
    held = shape(draw, "strainer cap", number, 1, 1)
    by_hand = draw(st.booleans())
    seal = Seal(f"cap-ring-{number}", f"cap ring {number}", (), 1, "O-ring", True, "feed water")
    opening = [
        [Action("remove", held.key, by_hand=True)],
        [Action("remove", seal.id), Action("discard", seal.id)],
    ]
    closing: list[Actions] = [
        [Action("lubricate", seal.id, with_what="feed water"), Action("install", seal.id, state="new")],
        [Action("reuse", held.key), Action("hand_start", held.key)],
    ]
    if by_hand:
        closing.append([Action("tighten", held.key, to=HAND_TIGHT, by_hand=True)])
        tightening = HAND_TIGHT
    else:
        closing.append([Action("tighten", held.key, to=demand(2.5), tool="small-driver")])
        tightening = banded(2.5, 0.2)
    fastener = record(
        held, kind="cap", count=1, tightening=tightening, property_class="clear plastic", drive=None,
        mating_material="glass-filled nylon", bearing_material="glass-filled nylon", hand_start=True, seals=(seal.id,),
        thread=Thread("M70x3", "metric", 0.07, 0.003, pitch_stated=True),
    )  # fmt: skip
    return Joint((fastener,), opening, closing, (seal,), kit=(KitItem(seal.id, 1),))


def banjo(draw: Draw, number: int) -> Joint:
    """A banjo bolt with a sealing washer on each side of the eye."""
    held = shape(draw, "banjo bolt", number, 1, 1)
    opening = [
        [Action("disconnect", held.key, tool=held.socket)],
        [Action("discard", "washer", held.key, count=2)],
    ]
    closing = [*put_in(draw, held, "old", WasherUse(2, "new")), [pull(held, held.torque, draw(st.booleans()))]]
    fastener = record(
        held, kind="banjo bolt", tightening=banded(held.torque), washer=Washer("sealing", 2, True), energy=("pressure",)
    )
    return Joint((fastener,), opening, closing, kit=(KitItem("washer", 2, held.key),))


def sump(draw: Draw, number: int) -> Joint:
    """A drain screw and a level screw, each with a new sealing washer, and the oil they hold back."""
    drain = shape(draw, "drain screw", number, 1, 1)
    level = shape(draw, "level screw", number, 1, 1)
    oil = Fluid(f"oil-{number}", f"gear oil {number}", amount=Amount(6e-4, "L", 5e-5), level_at="the level hole")
    by_amount = draw(st.booleans())
    opening: list[Actions] = [
        [Action("remove", level.key, tool=level.socket), Action("remove", drain.key, tool=drain.socket)],
        [Action("drain", oil.id)],
        [
            Action("discard", "washer", drain.key),
            Action("discard", "washer", level.key)
            if draw(st.booleans())
            else Action("clean", "seat", level.key),
        ],
    ]

    def close(held: Shape) -> list[Actions]:
        return [*put_in(draw, held, "old", WasherUse(1, "new")), [pull(held, held.torque, draw(st.booleans()))]]

    fill = [Action("fill", oil.id, amount=oil.amount)] if by_amount else [Action("fill", oil.id)]
    closing = [*close(drain), [*fill, Action("check_level", oil.id)], *close(level)]
    washer = Washer("sealing", 1, True)
    fasteners = (
        record(drain, kind="screw", tightening=banded(drain.torque), washer=washer, fluid=oil.id, role="drain"),
        record(level, kind="screw", tightening=banded(level.torque), washer=washer, fluid=oil.id, role="level"),
    )
    kit = [KitItem("washer", 1, drain.key), KitItem("washer", 1, level.key)]
    if draw(st.booleans()):
        # The level is read once more: the screw comes out again and gets one more washer.
        closing.append([Action("wait", "the oil", amount=Amount(600.0, "min"))])
        closing.append(
            [
                Action("remove", level.key, tool=level.socket),
                Action("discard", "washer", level.key),
                Action("check_level", oil.id),
            ]
        )
        closing += close(level)
        kit[1] = KitItem("washer", 2, level.key)
    return Joint(fasteners, opening, closing, fluids=(oil,), kit=tuple(kit))


KINDS = (plain_bolts, stretch_bolts, measured_bolts, locknuts, locked_nuts, plastic_cap, banjo, sump)


# ---- jobs -----------------------------------------------------------------------------------------------------


@st.composite
def sound_jobs(draw: Draw, kinds: tuple[object, ...] = KINDS, most: int = 6) -> tuple[Procedure, Catalogue]:
    """A sound procedure and its catalogue, of one to ``most`` joints."""
    joints: list[Joint] = [
        draw(st.sampled_from(kinds))(draw, number + 1)  # type: ignore[operator]
        for number in range(draw(st.integers(1, most)))
    ]
    steps: list[Actions] = [[Action("stop", "machine"), Action("isolate", "supply")]]
    closing: list[Joint] = []
    for joint in joints:
        # Some joints are only put together: their pieces were not in, so nothing is taken out.
        assembled = not joint.fluids and draw(st.sampled_from((False, False, False, True)))
        if assembled:
            joint = joint._replace(closing=[[_as_assembled(action) for action in step] for step in joint.closing])
        else:
            steps += joint.opening
        closing.append(joint)
    if draw(st.booleans()):
        closing.reverse()
    for joint in closing:
        steps += joint.closing
    two_minutes = Amount(120.0, "min", 30.0)
    steps.append([Action("connect", "supply"), Action("run", "machine", amount=two_minutes), Action("stop", "machine")])
    for joint in joints:
        steps += joint.after
    keys = [fastener.id for joint in joints for fastener in joint.fasteners]
    steps.append([Action("check_leak", key) for key in keys])
    steps.append([Action("record", key) for key in keys])
    steps = _merged(draw, steps)
    catalogue = Catalogue(
        machine="made-up machine",
        fasteners=tuple(fastener for joint in joints for fastener in joint.fasteners),
        seals=tuple(seal for joint in joints for seal in joint.seals),
        fluids=tuple(fluid for joint in joints for fluid in joint.fluids),
        parts=tuple(part for joint in joints for part in joint.parts),
        tools=WRENCHES,
        kit=tuple(item for joint in joints for item in joint.kit) if draw(st.booleans()) else None,
    )
    procedure = Procedure(
        title="Made-up job",
        steps=tuple(Step(str(index + 1), "", tuple(actions)) for index, actions in enumerate(steps)),
        job_date="2027-05-01",
    )
    return procedure, catalogue


def _as_assembled(action: Action) -> Action:
    """The same action in a job that only puts together: a piece that was in use before comes measured."""
    if action.verb in ("install", "reuse") and action.state in ("", "old"):
        return evolve(action, state="measured")
    return action


def _merged(draw: Draw, steps: list[Actions]) -> list[Actions]:
    """Some neighbouring steps written as one."""
    merged: list[Actions] = []
    for step in steps:
        if merged and len(merged[-1]) + len(step) <= 5 and draw(st.integers(0, 4)) == 0:
            merged[-1] = [*merged[-1], *step]
        else:
            merged.append(list(step))
    return merged
