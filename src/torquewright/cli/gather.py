"""From names on the command line to the procedures they stand for: a folder is searched, a file is itself."""

from __future__ import annotations

import os

_SUFFIXES = (".toml", ".md", ".markdown")


def procedures_in(name: str) -> list[str]:
    """``name`` itself unless it is a folder; of a folder the procedures in it and below, in order of their paths:
    TOML files with a ``[[step]]`` table and Markdown files with a numbered step or a table of steps. Hidden
    folders are left out."""
    if name == "-" or not os.path.isdir(name):
        return [name]
    found: list[str] = []
    for folder, below, files in os.walk(name):
        below[:] = sorted(entry for entry in below if not entry.startswith("."))
        for file in sorted(files):
            path = os.path.join(folder, file)
            if file.lower().endswith(_SUFFIXES) and not file.startswith(".") and is_procedure(path):
                found.append(path)
    return found


def is_procedure(path: str) -> bool:
    """Whether a folder search would take this file. One that cannot be opened is taken: reading it says why."""
    from torquewright.reading.signs import holds_procedure  # a file named by itself is not looked into

    try:
        with open(path, encoding="utf-8", errors="replace") as file:
            return holds_procedure(path, file.read())
    except (OSError, ValueError):
        return True
