"""How a joint is made tight: the reading of one tightening text, whatever notation it was written in.

Torques are in N·m, angles in degrees. Built by ``torquewright.notation.tightening.read_tightening``; equal texts
give equal records. Nothing here knows how a text is spelled.
"""

from __future__ import annotations

from typing import Literal

from attrs import frozen

from torquewright.records.record import Record

Kind = Literal[
    "single",  # one figure
    "range",  # two limits
    "tolerance",  # a nominal figure with limits
    "maximum",
    "minimum",
    "stage",  # torques in order
    "stage_angle",  # torque(s), then angle(s)
    "angle_only",  # an angle after what went before
    "turns",  # the same, written in turns or parts of a turn
    "hand_tight",  # no figure: by hand, snug
    "prevailing_added",  # the figure is to be added to the measured running torque
    "dual_unit",  # one figure, written in two or more units
    "unitless",  # a figure with no unit at all: never a demand by itself (a force or a mass where a torque should
    # be, "30 lbs", keeps the kind of its figures; its torque has the unit "" and its reading a doubt)
]


@frozen(repr=False, eq=False)
class Torque(Record):
    """One torque as written in one unit. All figures in N·m; ``half`` is half of the last printed digit, N·m.

    ``nominal`` alone is a single figure; ``low`` and ``high`` are limits (either may be missing for a minimum or
    maximum). ``unit`` is a canonical unit name, or "" when the text gave none that is a torque.
    """

    nominal: float | None
    low: float | None
    high: float | None
    unit: str
    half: float = 0.0

    @property
    def band(self) -> tuple[float | None, float | None]:
        """The limits, or the single figure as both limits."""
        if self.low is None and self.high is None:
            return self.nominal, self.nominal
        return self.low, self.high

    @property
    def target(self) -> float | None:
        """The figure to aim at: the nominal one, else the middle of the limits, else the one limit given."""
        if self.nominal is not None:
            return self.nominal
        if self.low is not None and self.high is not None:
            return (self.low + self.high) / 2
        return self.low if self.low is not None else self.high


LOOSE = -9999.0
"""The nominal of a turn back of which the text does not say how far ("50 N·m, back off, then 8 N·m")."""


@frozen(repr=False, eq=False)
class Angle(Record):
    """A turn of the fastener in degrees; negative loosens. ``low`` and ``high`` are its limits when given."""

    nominal: float
    low: float | None = None
    high: float | None = None


@frozen(repr=False, eq=False)
class Stage(Record):
    """One pull: to a torque, through an angle, or by hand (neither)."""

    torque: Torque | None = None
    angle: Angle | None = None

    @property
    def by_hand(self) -> bool:
        return self.torque is None and self.angle is None


@frozen(repr=False, eq=False)
class Tightening(Record):
    """A tightening text, read.

    ``stages`` holds the pulls in order; a plain figure has one stage. ``also`` holds the final torque again in
    the further units the text gives. ``added`` is true when the figure comes on top of the running (prevailing)
    torque. ``doubt`` says in words what is ambiguous ("" when nothing is) and ``readings`` the readings it could
    have, as tightening texts. ``text`` is the text as written.
    """

    text: str
    kind: Kind
    stages: tuple[Stage, ...] = ()
    also: tuple[Torque, ...] = ()
    added: bool = False
    doubt: str = ""
    readings: tuple[str, ...] = ()

    @property
    def torque(self) -> Torque | None:
        """The torque of the last stage that has one; None for angles alone and for hand-tight."""
        for stage in reversed(self.stages):
            if stage.torque is not None:
                return stage.torque
        return None

    @property
    def angles(self) -> tuple[Angle, ...]:
        return tuple(stage.angle for stage in self.stages if stage.angle is not None)

    @property
    def has_value(self) -> bool:
        """Whether it states a torque with a unit, or an angle."""
        return any(
            stage.angle is not None or (stage.torque is not None and stage.torque.unit != "")
            for stage in self.stages
        )
