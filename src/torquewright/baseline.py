"""A baseline: the findings an old manual has today, written down so that only new ones fail.

A finding is known again by its fingerprint, which does not change when lines move: rule, joint and the words of its
line. Findings of the baseline stay visible; they are set aside, not lost.
"""

from __future__ import annotations

from hashlib import sha256

from torquewright.base.document import Document, Place
from torquewright.base.trouble import Fault, InputTrouble
from torquewright.verdict import Remark, Report
from torquewright.weighing import SetAside, weigh

FORMAT = "torquewright-baseline"
VERSION = 1

Known = dict[str, list[str]]
"""Fingerprints by the name of the file; a finding that stands twice stands twice here."""


def fingerprint(remark: Remark, documents: dict[str, Document]) -> str:
    """What stays the same about a finding when lines move: 32 hexadecimal digits."""
    words = ""
    if remark.place is not None and (document := documents.get(remark.place.file)) is not None:
        words = " ".join(document.line(remark.place.line).split())
    return sha256("\0".join((remark.rule, remark.joint, words)).encode()).hexdigest()[:32]


def written(reports: list[Report]) -> str:
    """The baseline of these reports, as text to keep in a file."""
    from json import dumps

    files = {
        report.file: sorted(fingerprint(remark, report.documents) for remark in report.findings)
        for report in sorted(reports, key=lambda report: report.file)
    }
    return dumps({"format": FORMAT, "version": VERSION, "files": files}, indent=1) + "\n"


def read(name: str) -> Known:
    """The baseline in the file ``name``. Raises InputTrouble when it is none, OSError when there is no file."""
    from json import loads

    with open(name, encoding="utf-8", errors="replace") as file:
        text = file.read()
    try:
        held = loads(text)
        files = held["files"]
        if (held["format"], held["version"]) != (FORMAT, VERSION):
            raise ValueError("another format")
        return {str(key): [str(print_) for print_ in prints] for key, prints in files.items()}
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        message = "this is no baseline"
        wanted = "a file made by torquewright check --baseline-write FILE"
        raise InputTrouble([Fault(Place(name, 1, 1, 1, 1), message, text.split("\n", 1)[0][:80], wanted)]) from None


def against(report: Report, known: Known) -> tuple[Report, int]:
    """The report with its known findings set aside, and how many of the baseline are no longer found."""
    left = list(known.get(report.file, ()))
    new: list[Remark] = []
    set_aside = list(report.verdict.set_aside)
    for remark in report.findings:
        print_ = fingerprint(remark, report.documents)
        if print_ in left:
            left.remove(print_)
            set_aside.append(SetAside(remark, "known", ""))
        else:
            new.append(remark)
    verdict = weigh(tuple(new), report.verdict.rests_on, report.unread, tuple(set_aside))
    return report._replace(verdict=verdict), len(left)
