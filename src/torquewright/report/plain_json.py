"""The report for programs: one JSON document whose shape is specs/formats/report.schema.json."""

from __future__ import annotations

from typing import Any

from torquewright.base.document import Place
from torquewright.base.trouble import InputTrouble
from torquewright.reading.job import Unread
from torquewright.report.settings import plain_settings
from torquewright.verdict import CAUTION, Remark, Report

FORMAT = "torquewright-report"
VERSION = 1


def whole(files: list[dict[str, Any]]) -> dict[str, Any]:
    """The document, from what :func:`file_part` and :func:`trouble_part` gave for each file."""
    return {"format": FORMAT, "version": VERSION, "files": files, "caution": CAUTION}


def file_part(report: Report) -> dict[str, Any]:
    """One file that was read and judged."""
    verdict = report.verdict
    rests_on = verdict.rests_on._asdict()
    rests_on["missing"] = list(verdict.rests_on.missing)
    return {
        "file": report.file,
        "title": report.title,
        "verdict": verdict.word,
        "reasons": list(verdict.reasons),
        "rests_on": rests_on,
        "findings": [_remark(remark) for remark in report.findings],
        "set_aside": [
            {**_remark(held.remark), "why": held.why, "reason": held.because} for held in verdict.set_aside
        ],
        "settings": plain_settings(report.job) if report.job is not None else [],
        "unread": [_unread(sentence) for sentence in report.unread],
        "trouble": [],
    }


def trouble_part(file: str, trouble: InputTrouble) -> dict[str, Any]:
    """One file that could not be read: no verdict, and what is wrong with it."""
    return {
        "file": file,
        "title": "",
        "verdict": None,
        "reasons": [],
        "rests_on": None,
        "findings": [],
        "set_aside": [],
        "settings": [],
        "unread": [],
        "trouble": [
            {
                "place": _place(fault.place),
                "message": fault.message,
                "found": fault.found,
                "wanted": fault.wanted,
            }
            for fault in trouble.faults
        ],
    }


def _place(place: Place) -> dict[str, str | int]:
    return {
        "file": place.file,
        "line": place.line,
        "column": place.column,
        "end_line": place.end_line,
        "end_column": place.end_column,
    }


def _remark(remark: Remark) -> dict[str, Any]:
    return {
        "rule": remark.rule,
        "title": remark.title,
        "consequence": remark.consequence,
        "certainty": remark.certainty,
        "step": remark.step,
        "joint": remark.joint,
        "place": _place(remark.place) if remark.place else None,
        "also": [_place(place) for place in remark.also],
        "message": remark.message,
        "harm": remark.harm,
        "because": remark.because,
        "instead": remark.instead,
        "sources": list(remark.sources),
    }


def _unread(sentence: Unread) -> dict[str, Any]:
    return {
        "place": _place(sentence.place),
        "text": sentence.text,
        "reason": sentence.reason,
        "matters": sentence.matters,
    }
