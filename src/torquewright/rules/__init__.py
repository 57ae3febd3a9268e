"""Detectors and planters, a module a family, joined to the rule files by the rule's id."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from torquewright.bench import Trace
from torquewright.rules import (
    acceptance,  # noqa: F401
    afterwards,  # noqa: F401
    amounts,  # noqa: F401
    closing,  # noqa: F401
    compounds,  # noqa: F401
    counts,  # noqa: F401
    hands,  # noqa: F401
    hazards,  # noqa: F401
    joint_friction,  # noqa: F401
    joint_lengths,  # noqa: F401
    joint_limits,  # noqa: F401
    joint_metals,  # noqa: F401
    joint_pieces,  # noqa: F401
    joint_tools,  # noqa: F401
    kit,  # noqa: F401
    locks,  # noqa: F401
    make_up,  # noqa: F401
    orders,  # noqa: F401
    proof,  # noqa: F401
    registry,
    reuse,  # noqa: F401
    running,  # noqa: F401
    seals,  # noqa: F401
    sources,  # noqa: F401
    stages,  # noqa: F401  (each family makes itself known to the registry as it is imported)
    statements,  # noqa: F401
    tool_use,  # noqa: F401
    tools,  # noqa: F401
    values,  # noqa: F401
)
from torquewright.rules.finding import Finding
from torquewright.rules.registry import Planted, PlantedInWords

if TYPE_CHECKING:
    from torquewright.rules.registry import DETECTORS, PLANTERS, WORD_PLANTERS

__all__ = [
    "DETECTORS", "PLANTERS", "WORD_PLANTERS", "Finding", "Planted", "PlantedInWords", "detect", "registry",
]  # fmt: skip


def detect(trace: Trace) -> list[Finding]:
    """Every finding of every rule on one trace, in the order of the rules' names, then of their places."""
    if trace.draft is not None:
        _load_writing()
    found: list[Finding] = []
    for rule in sorted(registry.DETECTORS):
        found.extend(registry.DETECTORS[rule](trace))
    return found


def _load_writing() -> None:
    """The rules on writing are silent on everything but a draft, so nothing else pays for them."""
    from torquewright.rules import (  # noqa: F401
        writing_names,
        writing_signals,
        writing_steps,
        writing_tables,
        writing_units,
        writing_warnings,
    )


if not TYPE_CHECKING:

    def __getattr__(name: str) -> Any:
        """``DETECTORS``, ``PLANTERS`` and ``WORD_PLANTERS``, whole: rules on writing, and planters that live apart
        from their detectors, are fetched for whoever asks, because a check of a TOML file need not pay for them."""
        if name == "DETECTORS":
            _load_writing()
        elif name == "PLANTERS":
            from torquewright.rules import (  # noqa: F401
                plant_after,
                plant_amounts,
                plant_hands,
                plant_hazards,
                plant_joint_loads,
                plant_joint_pieces,
                plant_joint_states,
                plant_joint_tools,
                plant_locks,
                plant_make_up,
                plant_orders,
                plant_sources,
                plant_stages,
                plant_statements,
                plant_tool_use,
                plant_tools,
                plant_values,
            )
        elif name == "WORD_PLANTERS":
            from torquewright.rules import plant_writing  # noqa: F401
        else:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        globals()[name] = getattr(registry, name)
        return globals()[name]
