"""Which joints clamp an electrical cable and have a torque of their own."""

from __future__ import annotations

from torquewright.records import Fastener


def marked_terminal(fastener: Fastener) -> bool:
    """Whether the joint clamps a cable and its record gives a torque; a spring terminal is not tightened at all."""
    if "terminal" not in fastener.kind and "lug" not in fastener.kind.split():
        return False
    if any(word in f"{fastener.kind} {fastener.name}".lower() for word in ("spring", "push-in")):
        return False
    return fastener.tightening is not None and fastener.tightening.has_value
