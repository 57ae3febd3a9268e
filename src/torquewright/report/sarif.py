"""A report in the Static Analysis Results Interchange Format (SARIF 2.1.0, an OASIS standard, 2020).

Columns count Unicode code points, which the log says. What could not be judged for want of a statement is a result
of kind "open" with no level, as section 3.27.9 and 3.27.10 of the standard ask. Nothing depends on the clock.
"""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import sha256
from typing import Any
from urllib.parse import quote

from torquewright.base.document import Document, Place
from torquewright.base.trouble import InputTrouble
from torquewright.book.texts import GRAVE, RuleText
from torquewright.verdict import CAUTION, Remark, Report

SCHEMA = "https://json.schemastore.org/sarif-2.1.0.json"


def log(
    outcomes: Iterable[tuple[str, Report | InputTrouble]], rules: Iterable[RuleText], *, version: str
) -> dict[str, Any]:
    """The whole log: one run over all files, with the texts of all ``rules``; ``version`` is Torquewright's own."""
    texts = sorted(rules, key=lambda rule: rule.id)
    index = {rule.id: at for at, rule in enumerate(texts)}
    results: list[dict[str, Any]] = []
    notices: list[dict[str, Any]] = []
    for _, outcome in outcomes:
        if isinstance(outcome, InputTrouble):
            notices += [
                {
                    "level": "error",
                    "message": {"text": f"{fault.message}; instead: {fault.wanted}"},
                    "locations": [_location(fault.place)],
                }
                for fault in outcome.faults
            ]
            continue
        results += [_result(remark, outcome, index) for remark in outcome.findings]
    results.sort(key=_order)
    return {
        "$schema": SCHEMA,
        "version": "2.1.0",
        "runs": [
            {
                "tool": {
                    "driver": {
                        "name": "torquewright",
                        "version": version,
                        "fullDescription": {"text": CAUTION},
                        "rules": [_rule(rule) for rule in texts],
                    }
                },
                "columnKind": "unicodeCodePoints",
                "invocations": [{"executionSuccessful": not notices, "toolExecutionNotifications": notices}],
                "results": results,
            }
        ],
    }


def _rule(rule: RuleText) -> dict[str, Any]:
    told = "\n".join((rule.reason, *rule.clauses.values(), *(f"Source: {source}" for source in rule.sources)))
    return {
        "id": rule.id,
        "shortDescription": {"text": rule.title},
        "fullDescription": {"text": rule.reason},
        "help": {"text": told},
        "defaultConfiguration": {"level": "error" if rule.consequence in GRAVE else "warning"},
        "properties": {"tags": [rule.family, rule.consequence]},
    }


def _result(remark: Remark, report: Report, index: dict[str, int]) -> dict[str, Any]:
    told = " ".join(part for part in (f"{remark.message}.", remark.because, remark.instead) if part)
    result: dict[str, Any] = {
        "ruleId": remark.rule,
        "message": {"text": told},
        "locations": [_location(remark.place or Place(report.file, 1, 1, 1, 1))],
        "partialFingerprints": {"torquewright/v1": fingerprint(remark, report.documents)},
        "properties": {"consequence": remark.consequence, "certainty": remark.certainty, "step": remark.step},
    }
    if remark.rule in index:
        result["ruleIndex"] = index[remark.rule]
    if remark.certainty == "unstated":
        result["kind"] = "open"
        result["level"] = "none"
    else:
        result["level"] = "error" if remark.stops else "warning"
    if remark.also:
        result["relatedLocations"] = [
            {**_location(place), "id": at, "message": {"text": "what it is held against"}}
            for at, place in enumerate(remark.also, 1)
        ]
    return result


def fingerprint(remark: Remark, documents: dict[str, Document]) -> str:
    """What stays the same about a finding when lines move: rule, joint and the words of its place.

    White space is folded and the line number left out, so that it survives edits elsewhere in the document.
    """
    words = ""
    if remark.place is not None:
        document = documents.get(remark.place.file)
        if document is not None:
            words = " ".join(document.line(remark.place.line).split())
    return sha256("\0".join((remark.rule, remark.joint, words)).encode()).hexdigest()[:32]


def _location(place: Place) -> dict[str, Any]:
    return {
        "physicalLocation": {
            "artifactLocation": {"uri": quote(place.file.replace("\\", "/"))},
            "region": {
                "startLine": place.line,
                "startColumn": place.column,
                "endLine": place.end_line,
                "endColumn": place.end_column,
            },
        }
    }


def _order(result: dict[str, Any]) -> tuple[str, int, int, str]:
    physical = result["locations"][0]["physicalLocation"]
    region = physical["region"]
    return physical["artifactLocation"]["uri"], region["startLine"], region["startColumn"], result["ruleId"]
