"""By which signs a file is taken for a procedure, a draft or a file of records, without reading it as one.

Where files come in numbers, from a folder, a hook or an editor, most of them are none of ours, and a complaint about
each would bury the one that matters.
"""

from __future__ import annotations

import re
from functools import cache

DRAFTS = (".md", ".markdown")


@cache
def _signs() -> tuple[re.Pattern[str], re.Pattern[str], re.Pattern[str]]:
    table = r"(?m)^[ \t]*\[\[?[ \t]*\"?(?:{})\"?[ \t]*\]"
    return (
        re.compile(table.format("step")),
        re.compile(table.format("fastener|seal|fluid|part|tool|kit|machine")),
        re.compile(r"(?m)^[ ]{0,3}(?:[#*_]{1,4} ?)?(?:[Ss]tep )?[A-Z]?\d+[a-z]?[.):]"),
    )


def holds_procedure(name: str, text: str) -> bool:
    """Whether the file looks like a procedure: TOML with a ``[[step]]`` table or Markdown with a numbered step."""
    step, _, numbered = _signs()
    if name.lower().endswith(".toml"):
        return step.search(text) is not None
    return name.lower().endswith(DRAFTS) and numbered.search(text) is not None


def holds_records(name: str, text: str) -> bool:
    """Whether the file looks like a catalogue, a list of tools or a kit."""
    step, record, _ = _signs()
    return name.lower().endswith(".toml") and step.search(text) is None and record.search(text) is not None
