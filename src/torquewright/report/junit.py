"""A report as JUnit XML, for servers that show test results: a suite a file, a case a rule.

A rule that fired is a failure; one that could not be judged for want of a statement, or whose findings were all set
aside, is skipped; a file that cannot be read is an error. There is no official definition; the shape is the widely
used one of nested ``testsuites``, ``testsuite`` and ``testcase`` with no further attributes.
"""

from __future__ import annotations

from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

from torquewright.base.trouble import InputTrouble
from torquewright.report.lines import trouble_lines
from torquewright.verdict import Remark, Report


def document(outcomes: Iterable[tuple[str, Report | InputTrouble]], rules: Iterable[str]) -> str:
    """The whole document. ``rules`` are the ids of all rules, so that a rule that kept silent shows as passed.

    All of it is ASCII, so that it is well-formed whatever encoding it is written in.
    """
    every = sorted(rules)
    suites = [
        _broken(file, outcome) if isinstance(outcome, InputTrouble) else _suite(outcome, every)
        for file, outcome in outcomes
    ]
    whole = '<?xml version="1.0" encoding="UTF-8"?>\n<testsuites>\n' + "".join(suites) + "</testsuites>\n"
    return whole.encode("ascii", "xmlcharrefreplace").decode("ascii")


def _suite(report: Report, rules: list[str]) -> str:
    by_rule: dict[str, list[Remark]] = {}
    for remark in report.findings:
        by_rule.setdefault(remark.rule, []).append(remark)
    aside: dict[str, list[str]] = {}
    for held in report.verdict.set_aside:
        why = f"let stand: {held.because}" if held.why == "accepted" else "in the baseline"
        aside.setdefault(held.remark.rule, []).append(f"{_told(held.remark, report)} ({why})")
    cases, failures, skipped = [], 0, 0
    for rule in sorted({*rules, *by_rule, *aside}):
        remarks = by_rule.get(rule, [])
        told = [_told(remark, report) for remark in remarks]
        failing = [remark for remark in remarks if remark.certainty != "unstated"]
        if failing:
            failures += 1
            kind = _attribute(failing[0].consequence)
            inner = f"<failure type={kind} message={_attribute(failing[0].message)}>{_text(told)}</failure>"
        elif told or rule in aside:
            skipped += 1
            inner = _skipped([*told, *aside.get(rule, ())])
        else:
            inner = ""
        cases.append(_case(report.file, rule, inner))
    unread = [f"{sentence.place}: {sentence.text}" for sentence in report.untold]
    if unread:
        skipped += 1
        cases.append(_case(report.file, "every sentence was read", _skipped(unread)))
    return _framed(report.file, cases, failures=failures, errors=0, skipped=skipped)


def _told(remark: Remark, report: Report) -> str:
    step = f"step {remark.step}: " if remark.step else ""
    return f"{remark.place or report.file}: {step}{remark.message}"


def _skipped(told: list[str]) -> str:
    return f"<skipped message={_attribute(told[0])}>{_text(told)}</skipped>"


def _broken(file: str, trouble: InputTrouble) -> str:
    told = _text(trouble_lines(trouble))
    inner = f'<error type="input" message={_attribute(trouble.faults[0].message)}>{told}</error>'
    return _framed(file, [_case(file, "it can be read", inner)], failures=0, errors=1, skipped=0)


def _framed(name: str, cases: list[str], *, failures: int, errors: int, skipped: int) -> str:
    counts = f'tests="{len(cases)}" failures="{failures}" errors="{errors}" skipped="{skipped}" time="0"'
    return f"  <testsuite name={_attribute(name)} {counts}>\n{''.join(cases)}  </testsuite>\n"


def _case(file: str, rule: str, inner: str) -> str:
    head = f'    <testcase classname={_attribute(file)} name={_attribute(rule)} time="0"'
    return f"{head}>{inner}</testcase>\n" if inner else f"{head}/>\n"


def _legal(text: str) -> str:
    """Without the characters XML 1.0 has no way to carry."""
    return "".join(
        sign if sign in "\t\n" or " " <= sign <= "\ud7ff" or "\ue000" <= sign <= "\ufffd" or sign > "\uffff" else " "
        for sign in text
    )


def _attribute(text: str) -> str:
    return quoteattr(_legal(text))


def _text(lines: Iterable[str]) -> str:
    return escape(_legal("\n".join(lines)))
