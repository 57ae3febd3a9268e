"""A report in the Static Analysis Results Interchange Format (SARIF 2.1.0, an OASIS standard, 2020).

Columns count Unicode code points, which the log says. What could not be judged for want of a statement is a result
of kind "open" with no level (sections 3.27.9 and 3.27.10). Nothing depends on the clock or on where the folder lies.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from posixpath import normpath
from typing import Any
from urllib.parse import quote

from torquewright.base.document import Place
from torquewright.base.trouble import Fault, InputTrouble
from torquewright.baseline import fingerprint
from torquewright.book.texts import GRAVE, RuleText
from torquewright.reading.job import Unread
from torquewright.verdict import CAUTION, Remark, Report, SetAside

SCHEMA = "https://json.schemastore.org/sarif-2.1.0.json"
FINGERPRINT = "torquewright/v1"
_FOLDER = "FOLDER"


def log(
    outcomes: Iterable[tuple[str, Report | InputTrouble]],
    rules: Iterable[RuleText],
    *,
    version: str,
    status: int,
    baseline: bool = False,
) -> dict[str, Any]:
    """The whole log: one run over all files, with the texts of all ``rules``.

    ``version`` is Torquewright's own, ``status`` the exit status of the run. With ``baseline`` the outcomes were held
    against one, and every result says whether it is new.
    """
    texts = sorted(rules, key=lambda rule: rule.id)
    index = {rule.id: at for at, rule in enumerate(texts)}
    results: list[dict[str, Any]] = []
    notices: list[dict[str, Any]] = []
    artifacts: list[dict[str, Any]] = []
    broken = False
    for file, outcome in outcomes:
        told: dict[str, Any] = {"verdict": None}
        if isinstance(outcome, InputTrouble):
            broken = True
            notices += [_fault(fault) for fault in outcome.faults]
        else:
            told = {"verdict": outcome.verdict.word, "reasons": list(outcome.verdict.reasons)}
            results += _results(outcome, index, baseline)
            notices += [_unread(sentence) for sentence in outcome.untold]
        artifacts.append({"location": _artifact(file), "properties": told})
    results.sort(key=_order)
    _tell_twins_apart(results)
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
                "newlineSequences": ["\r\n", "\n", "\r"],
                "originalUriBaseIds": {_FOLDER: {"description": {"text": "The folder the check was run in."}}},
                "invocations": [
                    {"executionSuccessful": not broken, "exitCode": status, "toolExecutionNotifications": notices}
                ],
                "artifacts": artifacts,
                "results": results,
                # many viewers hide what is no failure, so it is counted here as well
                "properties": {"notStated": sum(1 for result in results if result.get("kind") == "open")},
            }
        ],
    }


def _rule(rule: RuleText) -> dict[str, Any]:
    sources = [f"Source: {source}" for source in rule.sources]
    told = (rule.reason, *rule.clauses.values(), *sources)
    return {
        "id": rule.id,
        "shortDescription": {"text": rule.title},
        "fullDescription": {"text": rule.reason},
        "help": {"text": "\n".join(told), "markdown": "\n\n".join(told)},
        "defaultConfiguration": {"level": "error" if rule.consequence in GRAVE else "warning"},
        "properties": {"tags": [rule.family, rule.consequence]},
    }


def _results(report: Report, index: dict[str, int], baseline: bool) -> Iterator[dict[str, Any]]:
    for remark in report.findings:
        result = _result(remark, report, index)
        if baseline:
            result["baselineState"] = "new"
        yield result
    for held in report.verdict.set_aside:
        result = _result(held.remark, report, index)
        if baseline:
            result["baselineState"] = "unchanged" if held.why == "known" else "new"
        if held.why == "accepted":
            result["suppressions"] = [_suppression(held)]
        yield result


def _suppression(held: SetAside) -> dict[str, Any]:
    return {"kind": "inSource", "status": "accepted", "justification": held.because}


def _result(remark: Remark, report: Report, index: dict[str, int]) -> dict[str, Any]:
    step = f"Step {remark.step}: " if remark.step else ""
    sentences = (f"{step}{remark.message}", remark.because, remark.instead)
    result: dict[str, Any] = {
        "ruleId": remark.rule,
        "message": {"text": " ".join(_closed(sentence) for sentence in sentences if sentence)},
        "locations": [_location(remark.place or Place(report.file, 1, 1, 1, 1))],
        "partialFingerprints": {FINGERPRINT: fingerprint(remark, report.documents)},
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


def _closed(sentence: str) -> str:
    return sentence if sentence.endswith((".", "!", "?")) else sentence + "."


def _fault(fault: Fault) -> dict[str, Any]:
    told = f"{fault.message}; instead: {fault.wanted}" if fault.wanted else fault.message
    return {"level": "error", "message": {"text": told}, "locations": [_location(fault.place)]}


def _unread(sentence: Unread) -> dict[str, Any]:
    told = f"not read: {sentence.text} ({sentence.reason})"
    return {"level": "warning", "message": {"text": told}, "locations": [_location(sentence.place)]}


def _artifact(file: str) -> dict[str, Any]:
    """A file below or beside the folder by a relative address, any other by a whole one; always percent-encoded."""
    path = file.replace("\\", "/")
    if path[1:3] == ":/":  # a drive letter
        path = "/" + path
    # a name that is no UTF-8 comes as surrogates, which stand for its bytes
    address = quote(normpath(path), errors="surrogateescape")
    if path.startswith("/"):
        return {"uri": "file://" + address}
    return {"uri": address, "uriBaseId": _FOLDER}


def _location(place: Place) -> dict[str, Any]:
    return {
        "physicalLocation": {
            "artifactLocation": _artifact(place.file),
            "region": {
                "startLine": place.line,
                "startColumn": place.column,
                "endLine": place.end_line,
                "endColumn": place.end_column,
            },
        }
    }


def _order(result: dict[str, Any]) -> tuple[str, int, int, str, str]:
    physical = result["locations"][0]["physicalLocation"]
    region = physical["region"]
    where = physical["artifactLocation"]["uri"], region["startLine"], region["startColumn"]
    return *where, result["ruleId"], result["message"]["text"]


def _tell_twins_apart(results: list[dict[str, Any]]) -> None:
    """Findings alike in rule, joint and words, in one file, are numbered in the order they stand in."""
    seen: dict[tuple[str, str], int] = {}
    for result in results:
        prints = result["partialFingerprints"]
        key = (result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"], prints[FINGERPRINT])
        seen[key] = seen.get(key, 0) + 1
        prints[FINGERPRINT] += f":{seen[key]}"
