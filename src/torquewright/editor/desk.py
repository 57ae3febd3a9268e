"""What there is to say about a text on a writer's desk: marks on it and on the files it rests on.

A text is a procedure, a draft or a file of records. It is read and judged as ``check`` does it, with the unsaved
texts of other open files in place of those files. Whatever is wrong with any of them becomes a mark.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from contextlib import suppress
from typing import NamedTuple

from torquewright.base.document import Document, Place
from torquewright.base.trouble import Fault, InputTrouble
from torquewright.editor.marks import Mark, of_fault, of_records, of_remark, of_unread
from torquewright.reading.files import read_catalogue, read_job, records_in_sight
from torquewright.reading.job import Job
from torquewright.reading.signs import holds_procedure, holds_records
from torquewright.records.catalogue import Catalogue
from torquewright.verdict import Report, check_job

_PLAIN = ".txt"
_TIGHTENS = frozenset({"tighten", "tighten_angle", "retighten", "seat", "hand_start"})


class Records(NamedTuple):
    """Files of records given from outside, as the options of ``check`` give them; absolute paths."""

    catalogue: str | None = None
    tools: str | None = None
    kit: str | None = None


class Sight(NamedTuple):
    """What was seen of one text. ``job`` and ``report`` are None where it could not be read or is none of ours.

    ``catalogue`` holds the records in sight even then. ``documents`` are the texts read, by absolute path; ``marks``
    stand in them.
    """

    document: Document
    marks: tuple[Mark, ...]
    catalogue: Catalogue
    documents: dict[str, Document]
    job: Job | None = None
    report: Report | None = None


def look_at(
    path: str, text: str, *, texts: Mapping[str, str] | None = None, records: Records | None = None
) -> Sight:
    """See what there is to say about ``text``, the content of the file with the absolute ``path``.

    ``texts`` are those of other open files, by absolute path. Never raises for what a file holds.
    """
    records = records or Records()
    document = Document(path, text)
    nothing = Sight(document, (), Catalogue(), {path: document})
    lower = path.lower()
    # a plain text is looked at by the same signs as a draft; what it is taken for shows when it is read
    if holds_procedure(path + ".md" if lower.endswith(_PLAIN) else path, document.text):
        return _procedure(nothing, texts or {}, records)
    if holds_records(path, document.text):
        return _records(nothing, texts or {})
    return nothing


def _procedure(blank: Sight, texts: Mapping[str, str], records: Records) -> Sight:
    path, text = blank.document.name, blank.document.text
    try:
        job = read_job(path, text=text, texts=texts, **records._asdict())
        report = check_job(job)
    except InputTrouble as trouble:
        return _troubled(blank, trouble, texts, records)
    if not _is_about_joints(job):
        return blank
    marks = [of_remark(remark, blank.document) for remark in report.findings]
    marks += [of_unread(sentence) for sentence in report.untold]
    return Sight(blank.document, tuple(sorted(marks)), job.catalogue, _by_path(job.documents), job, report)


def _records(blank: Sight, texts: Mapping[str, str]) -> Sight:
    path, text = blank.document.name, blank.document.text
    try:
        return blank._replace(catalogue=read_catalogue(path, text=text, texts=texts))
    except InputTrouble as trouble:
        return _troubled(blank, trouble, texts, Records())


def _troubled(blank: Sight, trouble: InputTrouble, texts: Mapping[str, str], records: Records) -> Sight:
    """Every fault marked where it stands; those of other files also where this text names the file."""
    path = blank.document.name
    catalogue = blank.catalogue
    with suppress(InputTrouble):  # raised where too much is wrong to make anything of it
        catalogue = records_in_sight(path, blank.document.text, texts=texts, **records._asdict())
    documents = {**_by_path(trouble.documents), path: blank.document}
    marks = [of_fault(fault) for fault in trouble.faults]
    elsewhere: dict[str, list[Fault]] = {}
    for fault in trouble.faults:
        if fault.place.file != path:
            elsewhere.setdefault(fault.place.file, []).append(fault)
    marks += [of_records(_naming(blank.document, file), file, faults) for file, faults in elsewhere.items()]
    return blank._replace(marks=tuple(sorted(marks)), catalogue=catalogue, documents=documents)


def _naming(document: Document, file: str) -> Place:
    """Where ``document`` names ``file``: the first text in quotes that leads to it, else its first line."""
    import re

    folder = os.path.dirname(document.name)
    for found in re.finditer(r"(?m)^\s*[\w-]+\s*=\s*[\"']([^\"'\n]+)[\"']", document.text):
        if os.path.normpath(os.path.join(folder, found.group(1))) == os.path.normpath(file):
            return document.place(*found.span(1))
    return document.whole()


def _by_path(documents: Mapping[str, Document]) -> dict[str, Document]:
    return {os.path.abspath(name): document for name, document in documents.items()}


def _is_about_joints(job: Job) -> bool:
    """Whether a text with numbered lines is about joints at all; most lists in the world are not.

    A TOML file with steps always is. A draft is when it has records, or tightens something.
    """
    if job.form == "toml":
        return True
    catalogue = job.catalogue
    found = set(catalogue.unrecorded)
    if {record.id for record in catalogue.fasteners} | {record.id for record in catalogue.seals} > found:
        return True
    assert job.procedure is not None
    return any(
        action.to is not None or (action.verb in _TIGHTENS and action.what in found)
        for step in job.procedure.steps
        for action in step.actions
    )
