"""Running (prevailing) torque of locking nuts and screws: when it is added, and when the lock is spent."""

from __future__ import annotations

from typing import Literal, NamedTuple

from torquewright.base.units import UNITS
from torquewright.joint.threads import Shape

Policy = Literal["always", "from one third"]


def added_drag(low: float, high: float, drag: float, policy: Policy = "always") -> tuple[float, float]:
    """The limits of a torque range (N·m) once the measured running torque is dealt with.

    ``always``: added (FAA AC 43.13-1B 7-40d). ``from one third``: added only when it is at least a third of the
    lower limit (US Army TB 43-0218 paragraph 7c).
    """
    if policy == "from one third" and drag < low / 3:
        return low, high
    return low + drag, high + drag


class Drag(NamedTuple):
    """A limit of running torque in N·m with its source."""

    value: float
    source: str
    firm: bool


def largest_when_new(thread: Shape) -> Drag | None:
    """The largest running torque of a new prevailing-torque nut, class 04 and up, N·m (ISO 2320); None where the
    table has no such size."""
    from torquewright.book.tables import table

    if thread.family != "metric":
        return None
    row = table("prevailing-nuts").cautious("first_on", min, thread=f"M{thread.diameter * 1e3:g}")
    return Drag(row.number("first_on"), row.cite(), row.firm) if row else None


def least_for_reuse(thread: Shape, designation: str = "") -> Drag | None:
    """The least running torque a locking nut must still show to go back in, N·m; the higher where sources disagree.

    ISO 2320 fifth-off torque for metric sizes; FAA AC 43.13-1B Table 7-2 and Army manuals for inch threads named as
    ``designation`` ("1/2-20").
    """
    from torquewright.book.tables import table

    if thread.family == "metric":
        row = table("prevailing-nuts").cautious("fifth_off", max, thread=f"M{thread.diameter * 1e3:g}")
        return Drag(row.number("fifth_off"), row.cite(), row.firm) if row else None
    row = table("prevailing-reuse").cautious("least", max, thread=designation.split()[0] if designation else "")
    return Drag(row.number("least") * UNITS["lbf·in"].factor, row.cite(), row.firm) if row else None
