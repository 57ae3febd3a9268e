"""Files in, one job out: a procedure with its catalogue, tools and kit, from one file or several."""

from __future__ import annotations

from torquewright.base.document import Document, Places
from torquewright.base.trouble import InputTrouble
from torquewright.reading import keys
from torquewright.reading.gathering import Gathering
from torquewright.reading.job import Job
from torquewright.reading.opening import open_document
from torquewright.reading.parsing import Parsed
from torquewright.reading.toml_steps import read_procedure
from torquewright.reading.values import Slip, unknown
from torquewright.records.catalogue import Catalogue

DRAFTS = (".md", ".markdown", ".txt")
"""Names that end so are drafts, read as sentences."""

_PROCEDURE_ONLY = ("step", "given", "messages", "title", "job-date", "tools-named", "variant")
_FILES = ("catalogue", "tools", "kit")


def read_job(
    path: str,
    *,
    catalogue: str | None = None,
    tools: str | None = None,
    kit: str | None = None,
    text: str | None = None,
) -> Job:
    """Read the procedure in the file ``path``, or ``text`` under that name (``"-"`` for standard input).

    ``catalogue``, ``tools`` and ``kit`` are files named from outside: each takes the place of the file the
    procedure names for the same part, and its records join those in the procedure's own tables. Raises
    InputTrouble with every fault of every file.
    """
    if path.lower().endswith(DRAFTS) or (path == "-" and text is not None and not _looks_like_toml(text)):
        from torquewright.reading.draft import read_draft  # sentences need a reader of their own, and its weight

        return read_draft(path, catalogue=catalogue, tools=tools, kit=kit, text=text)
    document = Document(path, text) if text is not None else open_document(path)
    gathering = Gathering()
    parsed = gathering.parse(document)
    gathering.tables(parsed, "procedure")
    for part, outside in zip(_FILES, (catalogue, tools, kit), strict=True):
        if outside is not None:
            gathering.records_file(outside, part)
        elif type(parsed.tables.get(part)) is str:
            gathering.named_inside(parsed, part, part)
    records, names = gathering.join()
    slips = _strange_keys(parsed)
    procedure = None
    if any(key in parsed.tables for key in _PROCEDURE_ONLY):
        if "step" not in parsed.tables:
            slips.append(Slip((), "a procedure without steps", parsed.tables.get("title", ""), "[[step]] with say or do, once for each step"))
        procedure = read_procedure(parsed.tables, names, slips)
    elif not parsed.tables and not parsed.faults:
        slips.append(Slip((), "an empty file", "", 'title = "…" and [[step]] tables'))
    parsed.complain(slips)
    places = Places()
    places.add("procedure", document, parsed.places.find)
    gathering.settle(places)
    return Job(path, procedure, records, places, gathering.documents)


def read_catalogue(path: str, *, text: str | None = None) -> Catalogue:
    """Read a file of records (or ``text`` under that name). Raises InputTrouble with every fault."""
    gathering = Gathering()
    gathering.records_file(path, "catalogue", text)
    records, _ = gathering.join()
    gathering.settle(Places())
    return records


def _strange_keys(parsed: Parsed) -> list[Slip]:
    known = {**keys.PROCEDURE, **keys.CATALOGUE}
    slips = []
    for key, value in parsed.tables.items():
        if key not in known:
            slips.append(unknown((), key, known))
        elif key in ("catalogue", "tools") and type(value) is not str:
            table = {"catalogue": "fastener", "tools": "tool"}[key]
            slips.append(Slip((key,), f"{key} names a file", "", f'{key} = "name.toml", or [[{table}]] tables'))
    return slips


def _looks_like_toml(text: str) -> bool:
    """Whether standard input is TOML: its first line that says anything is a key, a header or a comment."""
    for line in text.removeprefix("\ufeff").splitlines():
        line = line.strip()
        if line and not line.startswith("#"):
            head, equals, _ = line.partition("=")
            return line.startswith("[") or (bool(equals) and head.strip().replace("-", "").replace(".", "").isalnum())
    return True


__all__ = ["DRAFTS", "InputTrouble", "read_catalogue", "read_job"]
