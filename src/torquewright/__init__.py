"""Torquewright checks a mechanical service procedure before anyone picks up a wrench.

The public names are loaded on first use, so that ``import torquewright`` costs next to nothing.

``check``, ``check_records``
    read a file, play it through, judge it: a ``Report``; the same for records built in Python: a ``Verdict``
``read``, ``read_text``, ``read_catalogue``
    a file or a text as records, with places and what was left unread: a ``Job``
``read_tightening``
    a tightening text ("7 N·m ± 1", "20 Nm + 90°") as a ``Tightening``
``convert``
    a tightening text, another quantity or a pint quantity in another unit, with no more digits than it carries
``why``, ``rules``
    the text of one rule by its name, of all rules
``InputTrouble``
    raised with every fault of an input
``records``, ``joint``, ``quiz``
    modules: the record classes; the arithmetic of a bolted joint; questions with proven keys
"""

__version__ = "0.1.0"

TYPE_CHECKING = False  # stands for typing's own, which would cost most of a bare interpreter start
if TYPE_CHECKING:
    from torquewright import joint, quiz, records
    from torquewright.base.trouble import InputTrouble
    from torquewright.book.texts import all_rules as rules
    from torquewright.book.texts import rule_text as why
    from torquewright.conversion import convert
    from torquewright.notation.tightening import read_tightening
    from torquewright.reading.files import read_catalogue
    from torquewright.reading.files import read_job as read
    from torquewright.reading.job import Job
    from torquewright.verdict import check, check_records

__all__ = [
    "InputTrouble", "check", "check_records", "convert", "joint", "quiz", "read", "read_catalogue", "read_text",
    "read_tightening", "records", "rules", "why",
]  # fmt: skip

_HOMES = {
    "InputTrouble": ("torquewright.base.trouble", "InputTrouble"),
    "check": ("torquewright.verdict", "check"),
    "check_records": ("torquewright.verdict", "check_records"),
    "convert": ("torquewright.conversion", "convert"),
    "read": ("torquewright.reading.files", "read_job"),
    "read_catalogue": ("torquewright.reading.files", "read_catalogue"),
    "read_tightening": ("torquewright.notation.tightening", "read_tightening"),
    "rules": ("torquewright.book.texts", "all_rules"),
    "why": ("torquewright.book.texts", "rule_text"),
}
"""Where each public function lives, and under which name."""

_ROOMS = frozenset({"joint", "quiz", "records"})


def read_text(
    text: str, name: str = "-", *, catalogue: str | None = None, tools: str | None = None, kit: str | None = None
) -> "Job":
    """Read the text of a procedure or a draft that stands in no file; see ``read`` for the rest."""
    from torquewright.reading.files import read_job

    return read_job(name, catalogue=catalogue, tools=tools, kit=kit, text=text)


def __getattr__(name: str) -> object:
    from importlib import import_module  # here and not above: most starts need none of it

    if name in _ROOMS:
        return import_module(f"torquewright.{name}")
    if name not in _HOMES:
        raise AttributeError(f"module 'torquewright' has no attribute {name!r}")
    home, known_as = _HOMES[name]
    value = getattr(import_module(home), known_as)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted([*globals(), *__all__])
