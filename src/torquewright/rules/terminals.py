"""Which joints clamp an electrical cable and have a torque of their own, and which tools cannot show one."""

from __future__ import annotations

from torquewright.bench import Event
from torquewright.records import Fastener

_CLAMPING = {"lug", "breaker", "contactor", "busbar"}  # what the screw of a cable is named after
_HAND_TOOLS = ("screwdriver", "ratchet", "spanner", "wrench", "pliers")


def marked_terminal(fastener: Fastener) -> bool:
    """Whether the joint clamps a cable and its record gives a torque; a spring terminal is not tightened at all."""
    named = f"{fastener.kind} {fastener.name if fastener.kind in ('', 'screw', 'nut', 'bolt') else ''}".lower()
    if "terminal" not in named and (not _CLAMPING & set(named.split()) or "cover" in named):
        return False
    if any(word in f"{fastener.kind} {fastener.name}".lower() for word in ("spring", "push-in")):
        return False
    return fastener.tightening is not None and fastener.tightening.has_value


def shows_no_torque(event: Event) -> bool:
    """Whether the tool an action names is a hand tool that neither shows nor limits a torque."""
    if event.tool is not None:
        if event.tool.high is not None:
            return False
        kind = (event.tool.kind or event.tool.name).lower()
    else:
        kind = event.action.tool.lower()
    return not any(word in kind for word in ("torque", "impact")) and kind.endswith(_HAND_TOOLS)
