"""Typed, frozen records: what a machine's fasteners need, and what a procedure does."""

from torquewright.records.catalogue import Catalogue
from torquewright.records.parts import (
    Amount,
    Drive,
    Fastener,
    Fluid,
    KitItem,
    Lock,
    Part,
    Retorque,
    Seal,
    Source,
    Thread,
    Tool,
    Washer,
)
from torquewright.records.steps import VERBS, Accepted, Action, Message, Procedure, Step, WasherUse
from torquewright.records.tightening import LOOSE, Angle, Stage, Tightening, Torque

__all__ = [
    "LOOSE",
    "VERBS",
    "Accepted",
    "Action",
    "Amount",
    "Angle",
    "Catalogue",
    "Drive",
    "Fastener",
    "Fluid",
    "KitItem",
    "Lock",
    "Message",
    "Part",
    "Procedure",
    "Retorque",
    "Seal",
    "Source",
    "Stage",
    "Step",
    "Thread",
    "Tightening",
    "Tool",
    "Torque",
    "Washer",
    "WasherUse",
]
