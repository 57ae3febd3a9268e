"""Files in, one job out: a procedure with its catalogue, tools and kit, from one file or several."""

from __future__ import annotations

from collections.abc import Mapping
from os import PathLike, fspath

from torquewright.base.document import Document, Places
from torquewright.reading.job import Job
from torquewright.records.catalogue import Catalogue
from torquewright.records.steps import Procedure
from torquewright.toml import keys
from torquewright.toml.gathering import Gathering
from torquewright.toml.naming import Names
from torquewright.toml.opening import open_document
from torquewright.toml.parsing import Parsed
from torquewright.toml.slips import Slip, TooMany, spelled, unknown
from torquewright.toml.steps import read_procedure

DRAFTS = (".md", ".markdown", ".txt")
"""Names that end so are drafts, read as sentences."""

_PROCEDURE_ONLY = ("step", "given", "messages", "title", "job-date", "tools-named", "variant")
_KNOWN = {**keys.PROCEDURE, **keys.CATALOGUE}


def read_job(
    path: str | PathLike[str],
    *,
    catalogue: str | PathLike[str] | None = None,
    tools: str | PathLike[str] | None = None,
    kit: str | PathLike[str] | None = None,
    text: str | None = None,
    texts: Mapping[str, str] | None = None,
) -> Job:
    """Read the procedure in the file ``path``, or ``text`` under that name (``"-"`` for standard input).

    ``catalogue``, ``tools`` and ``kit`` are files named from outside: each takes the place of the file the
    procedure names for the same part, and its records join those in the procedure's own tables. ``texts`` are taken
    in place of the files of records with these absolute paths. Raises InputTrouble with every fault of every file.
    """
    path = fspath(path)
    catalogue, tools, kit = (None if name is None else fspath(name) for name in (catalogue, tools, kit))
    if path.lower().endswith(DRAFTS) or (path == "-" and text is not None and not _looks_like_toml(text)):
        from torquewright.reading.draft import read_draft  # sentences need a reader of their own, and its weight

        return read_draft(path, catalogue=catalogue, tools=tools, kit=kit, text=text, texts=texts)
    document = Document(path, text) if text is not None else open_document(path)
    gathering = Gathering(texts)
    parsed = _gathered(gathering, document, catalogue, tools, kit)
    records, names = gathering.join()
    try:
        procedure = _procedure(parsed, names)
    except TooMany:
        raise gathering.trouble() from None
    places = Places()
    places.add("procedure", document, parsed.places.find)
    gathering.settle(places)
    return Job(path, procedure, records, places, gathering.documents)


def _gathered(
    gathering: Gathering, document: Document, catalogue: str | None, tools: str | None, kit: str | None
) -> Parsed:
    parsed = gathering.parse(document)
    gathering.tables(parsed, "procedure")
    for part, outside in (("catalogue", catalogue), ("tools", tools), ("kit", kit)):
        if outside is not None:
            gathering.records_file(outside, part)
        elif type(parsed.tables.get(part)) is str:
            gathering.named_inside(parsed, part)
    return parsed


def records_in_sight(
    path: str,
    text: str,
    *,
    catalogue: str | None = None,
    tools: str | None = None,
    kit: str | None = None,
    texts: Mapping[str, str] | None = None,
) -> Catalogue:
    """The records that ``text`` under the name ``path`` can see, whatever is wrong with it or with them.

    For an editor, where a line is half written most of the time. What cannot be read is left out; raises
    InputTrouble only where there are more faults than anybody wants to read.
    """
    if path.lower().endswith(DRAFTS):
        from torquewright.reading.draft import records_of_draft

        return records_of_draft(path, text, catalogue=catalogue, tools=tools, kit=kit, texts=texts)
    gathering = Gathering(texts)
    _gathered(gathering, Document(path, text), catalogue, tools, kit)
    return gathering.join()[0]


def read_catalogue(
    path: str | PathLike[str], *, text: str | None = None, texts: Mapping[str, str] | None = None
) -> Catalogue:
    """Read a file of records (or ``text`` under that name). Raises InputTrouble with every fault."""
    gathering = Gathering(texts)
    gathering.records_file(fspath(path), "catalogue", text)
    records, _ = gathering.join()
    gathering.settle(Places())
    return records


def _procedure(parsed: Parsed, names: Names) -> Procedure | None:
    tables, slips = parsed.tables, parsed.slips
    for key, value in tables.items():
        if key not in _KNOWN:
            slips.append(unknown((), key, _KNOWN))
        elif key in ("catalogue", "tools") and type(value) is not str:
            table = "fastener" if key == "catalogue" else "tool"
            slips.append(Slip((key,), f"{key} names a file", "", f'{key} = "name.toml", or [[{table}]] tables'))
    if any(key in tables for key in _PROCEDURE_ONLY):
        if "step" not in tables:
            title = spelled(tables.get("title", ""))
            wanted = "[[step]] with say or do, once for each step"
            slips.append(Slip(("title",), "a procedure without steps", title, wanted, absent=True))
        return read_procedure(tables, names, slips)
    if not tables:
        slips.append(Slip((), "an empty file", "", 'title = "…" and [[step]] tables', absent=True))
    return None


def _looks_like_toml(text: str) -> bool:
    """Whether standard input is TOML: its first line that says anything is a key, a header or a comment."""
    for line in text.removeprefix("\ufeff").splitlines():
        line = line.strip()
        if line and not line.startswith("#"):
            head, equals, _ = line.partition("=")
            return line.startswith("[") or (bool(equals) and head.strip().replace("-", "").replace(".", "").isalnum())
    return True
