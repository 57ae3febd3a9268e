"""Detectors and planters, a module a family, joined to the rule files by the rule's id."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from torquewright.bench import Trace
from torquewright.rules import (
    acceptance,  # noqa: F401
    closing,  # noqa: F401
    counts,  # noqa: F401
    kit,  # noqa: F401
    registry,
    reuse,  # noqa: F401
    running,  # noqa: F401
    seals,  # noqa: F401
    stages,  # noqa: F401  (each family makes itself known to the registry as it is imported)
    statements,  # noqa: F401
    tools,  # noqa: F401
    values,  # noqa: F401
)
from torquewright.rules.finding import Finding
from torquewright.rules.registry import DETECTORS, Planted

if TYPE_CHECKING:
    from torquewright.rules.registry import PLANTERS

__all__ = ["DETECTORS", "PLANTERS", "Finding", "Planted", "detect", "registry"]


def detect(trace: Trace) -> list[Finding]:
    """Every finding of every rule on one trace, in the order of the rules' names, then of their places."""
    found: list[Finding] = []
    for rule in sorted(DETECTORS):
        found.extend(DETECTORS[rule](trace))
    return found


if not TYPE_CHECKING:

    def __getattr__(name: str) -> Any:
        """``PLANTERS``, whole: planters that live apart from their detectors are fetched for whoever asks, because a
        check never plants anything and need not pay for them."""
        if name != "PLANTERS":
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        from torquewright.rules import plant_stages, plant_statements, plant_tools, plant_values  # noqa: F401

        globals()["PLANTERS"] = registry.PLANTERS
        return registry.PLANTERS
