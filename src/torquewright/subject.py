"""Our own engine as a subject of the conformance suite: a document in, findings in the notation of the cases out."""

from __future__ import annotations

from typing import Any

from torquewright.base.trouble import InputTrouble
from torquewright.bench import play
from torquewright.book.texts import rule_text
from torquewright.book.wording import plain_fact
from torquewright.reading.files import read_job
from torquewright.rules import detect
from torquewright.rules.finding import Finding
from torquewright.suite.driver import NoAnswer
from torquewright.verdict import let_stand, procedure_of

_NAMES = {"toml": "case.toml", "markdown": "case.md"}


def answer(form: str, text: str) -> list[dict[str, Any]]:
    """The findings on one document. Raises NoAnswer when it cannot be read."""
    if form not in _NAMES:
        raise NoAnswer(f"there is no form {form!r}")
    try:
        job = read_job(_NAMES[form], text=text)
        procedure = procedure_of(job)
    except InputTrouble as trouble:
        raise NoAnswer(f"it cannot be read: {trouble}") from None
    labels = [step.label for step in procedure.steps]
    found = detect(play(procedure, job.catalogue, job.draft))
    return [_told(finding, labels) for finding in found if not let_stand(finding, procedure)]


def _told(finding: Finding, labels: list[str]) -> dict[str, Any]:
    kinds = rule_text(finding.rule).facts

    def label(step: int) -> str:
        return labels[step] if 0 <= step < len(labels) else ""

    return {
        "rule": finding.rule,
        "step": "" if finding.step is None else label(finding.step),
        "joint": finding.joint,
        "certainty": finding.certainty,
        "facts": {name: plain_fact(value, kinds.get(name, "text"), label) for name, value in finding.facts.items()},
    }
