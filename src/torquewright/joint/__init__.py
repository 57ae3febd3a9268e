"""Pure arithmetic of the threaded joint: numbers in, numbers out, in SI units (metres, newtons, pascals, N·m).

Every figure is an estimate for orientation. It never stands in for the value of the machine's maker.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from torquewright.joint.answer import Answer as Answer
    from torquewright.joint.answer import Joint as Joint
    from torquewright.joint.working import compute as compute


def __getattr__(name: str) -> Any:
    # A rule asks for one formula; it must not load the whole sheet of them.
    if name == "compute":
        from torquewright.joint.working import compute

        return compute
    if name in ("Answer", "Joint"):
        from torquewright.joint import answer

        return getattr(answer, name)
    raise AttributeError(f"torquewright.joint has no {name!r}")
