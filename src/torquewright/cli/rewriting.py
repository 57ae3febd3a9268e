"""Safe edits shown or applied: ``check --diff`` and ``check --rewrite``."""

from __future__ import annotations

import sys

from torquewright.base.trouble import InputTrouble
from torquewright.cli import GO, NOT_READ
from torquewright.cli.gather import procedures_in
from torquewright.reading.files import read_job
from torquewright.report.lines import trouble_lines
from torquewright.rewrite import ReadAgain, Rewrite, rewrite
from torquewright.toml.opening import open_document


def rewritten(
    names: list[str], *, apply: bool, catalogue: str | None = None, tools: str | None = None, kit: str | None = None
) -> int:
    """Show the edits of each file as a diff, or apply them in place. GO, or NOT_READ when a file cannot be read."""
    status = GO
    for name in names:
        for file in procedures_in(name) or [name]:
            try:
                made = _made(file, catalogue, tools, kit)
            except InputTrouble as trouble:
                for line in trouble_lines(trouble):
                    sys.stderr.write(line + "\n")
                status = NOT_READ
                continue
            if apply and file != "-":
                status = max(status, _apply(file, made))
            elif apply:
                sys.stdout.write(made.after)
            else:
                _show(file, made)
    return status


def _made(file: str, catalogue: str | None, tools: str | None, kit: str | None) -> Rewrite:
    text = open_document(file).text if file != "-" else sys.stdin.read()
    job = read_job(file, text=text, catalogue=catalogue, tools=tools, kit=kit)
    return rewrite(job, read_again=ReadAgain(file, catalogue=catalogue, tools=tools, kit=kit))


def _show(file: str, made: Rewrite) -> None:
    from difflib import unified_diff  # only for showing

    before, after = made.before.splitlines(keepends=True), made.after.splitlines(keepends=True)
    sys.stdout.writelines(unified_diff(before, after, file, f"{file} (rewritten)"))


def _apply(file: str, made: Rewrite) -> int:
    if not made.edits:
        print(f"{file}: nothing to rewrite")
        return GO
    import os

    with open(file, "rb") as held:
        raw = held.read()
    text = made.after.replace("\n", "\r\n") if b"\r\n" in raw else made.after
    if raw.startswith(b"\xef\xbb\xbf"):
        text = "\ufeff" + text
    aside = file + ".rewriting"
    try:
        # Written aside and moved into place: the document is the old one or the new one, never half of it.
        with open(aside, "w", encoding="utf-8", newline="") as held_text:
            held_text.write(text)
        os.replace(aside, file)
    except OSError as fault:
        if os.path.exists(aside):
            os.unlink(aside)
        sys.stderr.write(f"{file}: cannot be written: {fault.strerror}\n")
        return NOT_READ
    why: dict[str, int] = {}
    for edit in (edit for edit in made.edits if edit.why):
        why[edit.why] = why.get(edit.why, 0) + 1
    told = "; ".join(reason if count == 1 else f"{reason} ({count} times)" for reason, count in why.items())
    print(f"{file}: rewritten: {told}")
    return GO
