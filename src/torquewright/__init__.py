"""Torquewright checks a mechanical service procedure before anyone picks up a wrench.

The public names are loaded on first use, so that ``import torquewright`` costs next to nothing:

====================  =======================================================================
``check``             read a procedure, play it through, judge it: a ``Report``
``check_records``     the same for records built without a file: a ``Verdict``
``read_job``          a file as records, with places and what was left unread
``read_tightening``   a tightening text as a ``Tightening`` record
``convert``           a quantity into another unit
``why``               the text of a rule: a ``RuleText``
``rules``             all of them
``InputTrouble``      raised with every fault of an input
``records``           the module of the record classes
====================  =======================================================================
"""

__version__ = "0.1.0"

TYPE_CHECKING = False  # stands for typing's own, which would cost most of a bare interpreter start
if TYPE_CHECKING:
    from torquewright import records
    from torquewright.base.trouble import InputTrouble
    from torquewright.verdict import check, check_records

__all__ = ["InputTrouble", "check", "check_records", "records"]

_HOMES = {
    "InputTrouble": "torquewright.base.trouble",
    "check": "torquewright.verdict",
    "check_records": "torquewright.verdict",
}


def __getattr__(name: str) -> object:
    from importlib import import_module  # a thin wrapper that the interpreter has already loaded

    if name == "records":
        return import_module("torquewright.records")
    home = _HOMES.get(name)
    if home is None:
        raise AttributeError(f"module 'torquewright' has no attribute {name!r}")
    value = getattr(import_module(home), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted([*globals(), *__all__])
