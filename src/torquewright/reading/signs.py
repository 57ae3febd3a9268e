"""By which signs a file is taken for a procedure, a draft or a file of records, without reading it as one.

Where files come in numbers, from a folder, a hook or an editor, most of them are none of ours, and a complaint about
each would bury the one that matters.
"""

from __future__ import annotations

import re
from functools import cache

DRAFTS = (".md", ".markdown")

_NUMBERED = (
    r"^[ ]{0,3}(?:#{1,6}[ ]*)?[*_]{0,2}"
    r"(?:(?:step|stage|op\.?|operation)[ ]*#?\d{1,4}\b|[A-Z]?\d{1,4}(?:\.\d{1,3})*[a-z]?[*_]{0,2}[.):]"
    r"|\(\d{1,3}\)[ ]+[A-Z])"
)
_STEP_TABLE = (
    r"^[ \t]*\|(?:[^|\n]*\|)*?[ *:]*(?:action|instructions?|operation|what to do|(?:description of )?work|task|do this"
    r"|activity|procedure|work step)[ *:.]*\|"
)


@cache
def _signs() -> tuple[re.Pattern[str], re.Pattern[str], re.Pattern[str]]:
    table = r"(?m)^[ \t]*\[\[?[ \t]*\"?(?:{})\"?[ \t]*\]"
    return (
        re.compile(table.format("step")),
        re.compile(table.format("fastener|seal|fluid|part|tool|kit|machine")),
        re.compile(f"{_NUMBERED}|{_STEP_TABLE}", re.MULTILINE | re.IGNORECASE),
    )


def holds_procedure(name: str, text: str) -> bool:
    """Whether the file looks like a procedure: TOML with a ``[[step]]`` table or Markdown with a numbered step
    or a table of steps."""
    step, _, numbered = _signs()
    if name.lower().endswith(".toml"):
        return step.search(text) is not None
    return name.lower().endswith(DRAFTS) and numbered.search(text) is not None


def holds_records(name: str, text: str) -> bool:
    """Whether the file looks like a catalogue, a list of tools or a kit."""
    step, record, _ = _signs()
    return name.lower().endswith(".toml") and step.search(text) is None and record.search(text) is not None
