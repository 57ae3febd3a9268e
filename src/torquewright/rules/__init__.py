"""Detectors and planters, a module a family, joined to the rule files by the rule's id."""

from __future__ import annotations

from torquewright.bench import Trace
from torquewright.rules import (
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
from torquewright.rules.registry import DETECTORS, PLANTERS, Planted

__all__ = ["DETECTORS", "PLANTERS", "Finding", "Planted", "detect", "registry"]


def detect(trace: Trace) -> list[Finding]:
    """Every finding of every rule on one trace, in the order of the rules' names, then of their places."""
    found: list[Finding] = []
    for rule in sorted(DETECTORS):
        found.extend(DETECTORS[rule](trace))
    return found
