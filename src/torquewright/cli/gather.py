"""From names on the command line to the procedures they stand for: a folder is searched, a file is itself."""

from __future__ import annotations

import os
import re

_PROCEDURE = rb"(?m)^[ \t]*\[\[[ \t]*\"?step\"?[ \t]*\]\]"
_DRAFT = rb"(?m)^[ ]{0,3}(?:[#*_]{1,4} ?)?(?:[Ss]tep )?[A-Z]?\d+[a-z]?[.):]"


def procedures_in(name: str) -> list[str]:
    """``name`` itself unless it is a folder; of a folder the procedures in it and below, in order of their paths:
    TOML files with a ``[[step]]`` table and Markdown files with a numbered step. Hidden folders are left out."""
    if name == "-" or not os.path.isdir(name):
        return [name]
    found: list[str] = []
    for folder, below, files in os.walk(name):
        below[:] = sorted(entry for entry in below if not entry.startswith("."))
        for file in sorted(files):
            path = os.path.join(folder, file)
            sign = _PROCEDURE if file.endswith(".toml") else _DRAFT if file.endswith((".md", ".markdown")) else None
            if sign is not None and not file.startswith(".") and _holds(path, sign):
                found.append(path)
    return found


def _holds(path: str, sign: bytes) -> bool:
    try:
        with open(path, "rb") as file:
            return re.search(sign, file.read()) is not None
    except OSError:
        return True  # reading it again says why it cannot be read
