"""What a joint is made of: fasteners with their thread, drive, washer, lock, and the seals, fluids and tools.

Lengths in metres, torques in N·m, volumes in m³, temperatures in kelvin, fractions as 0..1. ``None`` and ``""``
mean *not stated*, never "no": what is not stated is named as such by the rules and never guessed.
"""

from __future__ import annotations

from typing import Literal

from attrs import frozen

from torquewright.records.record import Record
from torquewright.records.tightening import Tightening


@frozen(repr=False, eq=False)
class Amount(Record):
    """A quantity as printed: SI value, half of its last printed digit (SI), and its canonical unit.

    ``low`` and ``high`` are limits, where the text gives a range or a tolerance.
    """

    value: float
    unit: str
    half: float = 0.0
    low: float | None = None
    high: float | None = None


@frozen(repr=False, eq=False)
class Thread(Record):
    """A thread designation, read. ``diameter`` and ``pitch`` in metres, nominal; for pipe threads ``diameter`` is
    None, because the designation (``G 1/4``) is a bore and no diameter. ``text`` is the size as written."""

    text: str
    family: Literal["metric", "unified", "pipe", ""]
    diameter: float | None = None
    pitch: float | None = None
    hand: Literal["right", "left"] = "right"
    pitch_stated: bool = False
    series: str = ""  # "UNC", "UNF", "G", "R", "NPT", ... as the designation says


@frozen(repr=False, eq=False)
class Drive(Record):
    """What turns the fastener: ``kind`` ("hex", "hex socket", "hexalobular", "slotted", "cross", "square", ...)
    and ``size`` as the trade names it ("13 mm", "1/2 in", "T25"); ``across_flats`` in metres where it has one."""

    kind: str
    size: str = ""
    across_flats: float | None = None


@frozen(repr=False, eq=False)
class Washer(Record):
    """A washer a joint must carry, per position."""

    kind: str = "flat"  # sealing, flat, spring, toothed, thrust, ...
    count: int = 1
    one_time_use: bool | None = None
    captive: bool = False  # comes with the fastener and cannot be left out


@frozen(repr=False, eq=False)
class Lock(Record):
    """What keeps a joint from turning loose. ``built_in`` is true for a patch or a deformed thread."""

    kind: str  # "cotter pin", "lockwire", "tab washer", "roll pin", "threadlocker", "prevailing-torque nut", "R-clip"
    one_time_use: bool | None = None
    built_in: bool = False
    product: str = ""
    cure: Amount | None = None  # how long a compound sets before the joint may be loaded, s


@frozen(repr=False, eq=False)
class Retorque(Record):
    """A later check of torque: ``policy`` "required" or "forbidden"; ``after`` says when, as written."""

    policy: Literal["required", "forbidden"]
    after: str = ""


@frozen(repr=False, eq=False)
class Source(Record):
    """Where a record comes from."""

    text: str
    revision: str = ""


@frozen(repr=False, eq=False)
class Fastener(Record):
    """One group of like fasteners in a machine; ``count`` positions."""

    id: str
    name: str
    aliases: tuple[str, ...] = ()
    count: int | None = None
    kind: str = ""  # screw, bolt, nut, stud, plug, cap, union nut, banjo bolt, terminal, ...
    thread: Thread | None = None
    length: Amount | None = None
    property_class: str = ""  # "8.8", "A2-70", "grade 5", "nylon", as written
    finish: str = ""
    drive: Drive | None = None
    mating_material: str = ""
    bearing_material: str = ""
    engagement: Amount | None = None
    hole_depth: Amount | None = None  # full thread depth of a blind hole
    stack: Amount | None = None  # thickness clamped between head and thread
    mating_thread: Thread | None = None  # the thread it goes into or onto, where that is stated by itself
    one_time_use: bool | None = None
    one_time_reason: str = ""
    reuse: Literal["", "never", "after measuring", "limited", "free"] = ""
    reuse_limit: int | None = None
    washer: Washer | None = None
    washer_unstated: bool = True  # False once the record speaks of washers, even to say "none"
    seals: tuple[str, ...] = ()  # ids of the seals this joint clamps
    lock: Lock | None = None
    tightening: Tightening | None = None
    part_limit: Tightening | None = None  # the most the weakest clamped part takes, a plastic cap's own limit
    condition: str = ""  # dry, oil, moly, anti-seize, threadlocker, pre-coated, wax
    prevailing: Amount | None = None  # running torque, N·m
    hand_start: bool | None = None
    pattern: str = ""  # cross, circular, spiral, "none", or a listed order
    tighten_when: str = ""  # the state of the machine it is tightened in: cold, warm, loaded, unloaded
    retorque: Retorque | None = None
    independent_check: bool | None = None  # whether a second person must look at the finished joint
    energy: tuple[str, ...] = ()  # pressure, spring, electrical, thermal, fuel, gravity
    safety: bool | None = None  # whether failure of the joint can hurt somebody
    fluid: str = ""  # id of the fluid the joint holds back
    role: str = ""  # drain, fill, level, filter, cap: what it does for that fluid
    blind: bool | None = None  # whether the hole it goes into has a bottom
    turn_end: str = ""  # which end the figure is meant for, "nut" or "head"
    needs_hold: bool | None = None  # whether the other half must be held while this one is turned
    face: str = ""  # what the clamped faces may carry: "bare", "thin paint", "sealant"
    seals_by: str = ""  # where a union seals: on its thread, a cone, a ring, a face
    options: tuple[tuple[str, str], ...] = ()  # further facts as written, sorted by key
    source: Source | None = None

    @property
    def single_use(self) -> bool | None:
        """Whether the fastener may never go back in; None when the record does not say."""
        if self.reuse == "never":
            return True
        if self.reuse:
            return False
        return self.one_time_use

    @property
    def positions(self) -> int:
        """How many positions to follow; 1 where the count is not stated."""
        return self.count if self.count is not None else 1


@frozen(repr=False, eq=False)
class Seal(Record):
    """A gasket, O-ring, shaft seal or sealing washer kept as a part of its own."""

    id: str
    name: str
    aliases: tuple[str, ...] = ()
    count: int | None = 1
    kind: str = ""
    one_time_use: bool | None = None
    lubricant: str = ""  # what it must be wetted with before it goes in; "dry" when it must not be
    cure: Amount | None = None  # how long a sealant sets before the joint may be loaded, s
    source: Source | None = None


@frozen(repr=False, eq=False)
class Fluid(Record):
    """A fluid the machine holds; ``amount`` is what goes in."""

    id: str
    name: str
    aliases: tuple[str, ...] = ()
    amount: Amount | None = None
    level_at: str = ""
    capacity: Amount | None = None  # the most the machine holds
    level_when: str = ""  # "cold" or "warm": how the machine is when the level is read
    level_temperature: Amount | None = None  # of the fluid while its level is read, kelvin
    source: Source | None = None


@frozen(repr=False, eq=False)
class Part(Record):
    """A part with no thread of its own that steps speak of (a cover, a cap, a linkage)."""

    id: str
    name: str
    aliases: tuple[str, ...] = ()
    count: int | None = 1
    material: str = ""
    one_time_use: bool | None = None


@frozen(repr=False, eq=False)
class Tool(Record):
    """A tool at hand. ``low`` and ``high`` are the scale's ends in N·m; ``usable_low`` where its certificate says
    so; ``deviation`` the permitted fraction of the setting (0.04 for ISO 6789 class I and II wrenches); ``step``
    the scale division in N·m; ``arm`` the effective length in metres; ``length`` that of an adapter, from the square
    it sits on to the middle of its head."""

    id: str
    name: str
    aliases: tuple[str, ...] = ()
    kind: str = ""  # torque wrench, torque driver, impact wrench, angle gauge, socket, bit, ...
    low: float | None = None
    high: float | None = None
    unit: str = ""
    usable_low: float | None = None
    deviation: float | None = None
    step: float | None = None
    arm: float | None = None
    drive: Drive | None = None
    calibrated_until: str = ""
    half: float = 0.0  # half of the last printed digit of the range, N·m
    length: float | None = None
    loosens: bool | None = None  # whether its maker lets it loosen as well as tighten


@frozen(repr=False, eq=False)
class KitItem(Record):
    """New pieces laid out for the job: ``count`` of the fastener, washer, lock or seal named ``part``.

    ``size``, ``property_class`` and ``length`` are what is printed on the bag, where it is not left to the record.
    """

    part: str
    count: int
    of: str = ""  # the joint, when ``part`` is a word such as "washer" or "cotter pin"
    size: Thread | None = None
    property_class: str = ""
    length: Amount | None = None
    amount: Amount | None = None  # what each holds, where it is a fluid that is laid out
