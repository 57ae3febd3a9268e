"""The strict reading of a rule file: everything specs/rules/README.md asks of one, checked and complained of once.

Used by the tests and by whoever writes a rule; a report never pays for it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from difflib import SequenceMatcher, get_close_matches
from typing import Any

from torquewright.book.texts import CONSEQUENCES
from torquewright.book.wording import KINDS, holes, quantity

SOURCE_KINDS = (
    "standard", "regulation", "manual", "handbook", "study", "maker", "common practice, no source",
)  # fmt: skip
MOST_LINES_CHANGED = 4
"""How many lines a twin may take out of its faulty case, and how many it may put in."""

_ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_FACT = re.compile(r"[a-z][a-z0-9_]*")
_BINDING = re.compile(r"\b(?:MUST|SHOULD|MAY)\b")
_STRAY_HOLE = re.compile(r"(?<!\{)\{(?![a-z_][a-z0-9_]*(?:\|[^|{}]*\|[^|{}]*)?\}|\{)")

Keys = dict[str, type | tuple[type, ...]]
_TOP: Keys = {
    "id": str, "family": str, "since": int, "consequence": str, "title": str, "reason": str, "clauses": dict,
    "silence": bool,
    "facts": dict, "say": dict, "source": list, "quiz": dict, "plant": dict, "case": list,
}  # fmt: skip
_SAY: Keys = {"fault": str, "because": str, "instead": str}
_SOURCE: Keys = {"kind": str, "title": str, "edition": str, "clause": str, "note": str}
_QUIZ: Keys = {"ask": str, "right": str, "wrong": list, "feedback": str}
_PLANT: Keys = {"companions": list, "subtle": bool}
_CASE: Keys = {"id": str, "clause": str, "twin": str, "form": str, "limit": str, "text": str, "finding": list}
_FINDING: Keys = {"rule": str, "step": str, "joint": str, "certainty": str, "facts": dict}


def faults_of(table: Mapping[str, Any], name: str, known_rules: frozenset[str] = frozenset()) -> list[str]:
    """Everything wrong with a rule file, parsed into ``table``, that is called ``name``.toml.

    ``known_rules`` are the ids companions and findings may name besides the rule itself.
    """
    return list(_faults(dict(table), name, known_rules | {name}))


def order_faults(text: str) -> list[str]:
    """What the order of the tables in a file does wrong: a report stops reading at the first case."""
    _, _, tail = text.partition("\n[[case]]")
    late = re.findall(r"^\[\[?(say[^\]\n]*|facts|clauses|source)\]", tail, re.MULTILINE)
    return [f"[{table}] stands below the first [[case]], where no report reads it" for table in late]


def _keys(table: Any, keys: Keys, where: str, wanted: tuple[str, ...] = ()) -> Iterator[str]:
    if not isinstance(table, dict):
        yield f"{where}: is no table"
        return
    for key, value in table.items():
        kind = keys.get(key)
        if kind is None:
            near = get_close_matches(key, keys, n=1)
            yield f"{where}: unknown key {key!r}" + (f"; did you mean {near[0]!r}?" if near else "")
        elif not isinstance(value, kind) or (kind is int and isinstance(value, bool)):
            yield f"{where}: {key!r} holds {value!r}"
        elif isinstance(value, str) and not value.strip() and key not in ("step", "joint"):
            yield f"{where}: {key!r} is empty"
    for key in wanted:
        if key not in table:
            yield f"{where}: {key!r} is missing"


def _faults(table: dict[str, Any], name: str, known: frozenset[str]) -> Iterator[str]:
    early = list(
        _keys(table, _TOP, "rule", ("id", "family", "since", "consequence", "title", "reason", "clauses", "say",
                                    "source", "case"))
    )  # fmt: skip
    yield from early
    if any("is missing" in fault or "holds" in fault for fault in early):
        return  # what follows would only repeat it
    if table["id"] != name or not _ID.fullmatch(name):
        yield f"rule: id {table['id']!r} is not the file's name in lower case and dashes"
        table["id"] = name  # findings and facts are judged as this rule's all the same
    if table["consequence"] not in CONSEQUENCES:
        yield f"rule: consequence {table['consequence']!r} is none of {', '.join(CONSEQUENCES)}"
    if table["since"] < 1:
        yield "rule: 'since' counts editions from 1"
    if table["title"].rstrip().endswith(".") or not table["title"][0].isupper():
        yield "rule: 'title' starts with a capital and has no final stop"
    if not table["reason"].rstrip().endswith((".", "!", "?")):
        yield "rule: 'reason' is in whole sentences"
    for clause, sentence in table["clauses"].items():
        if not isinstance(sentence, str) or not _BINDING.search(sentence):
            yield f"clauses.{clause}: has no MUST, SHOULD or MAY"
    yield from _wording_faults(table)
    for at, source in enumerate(table["source"], 1):
        yield from _source_faults(source, f"source {at}")
    if "quiz" in table:
        yield from _keys(table["quiz"], _QUIZ, "quiz", ("ask", "right"))
    if "plant" in table:
        yield from _keys(table["plant"], _PLANT, "plant")
        for companion in table["plant"].get("companions", ()):
            if companion not in known:
                yield f"plant: companion {companion!r} is no rule"
    yield from _case_faults(table, known)


def _wording_faults(table: dict[str, Any]) -> Iterator[str]:
    facts = table.get("facts", {})
    for fact, kind in facts.items():
        if not _FACT.fullmatch(fact):
            yield f"facts: {fact!r} is no name for a fact (lower case, digits, underscores)"
        if kind not in KINDS:
            yield f"facts.{fact}: kind {kind!r} is none of {', '.join(sorted(KINDS))}"
    say = table["say"]
    base = {key: value for key, value in say.items() if not isinstance(value, dict)}
    forms = {key: value for key, value in say.items() if isinstance(value, dict)}
    yield from _keys(base, _SAY, "say", ("fault", "instead"))
    used: set[str] = set()
    for where, wording in (("say", base), *((f"say.{form}", wording) for form, wording in forms.items())):
        if wording is not base:
            yield from _keys(wording, _SAY, where)
        for key, template in wording.items():
            if isinstance(template, str):
                used |= holes(template)
                yield from _template_faults(template, f"{where}.{key}", key == "fault", facts)
    for key, template in table.get("quiz", {}).items():
        for text in template if isinstance(template, list) else [template]:
            if isinstance(text, str):
                used |= holes(text)
                yield from _template_faults(text, f"quiz.{key}", None, facts)
    for fact in sorted(set(facts) - used):
        yield f"facts.{fact}: no wording uses it"


def _template_faults(template: str, where: str, fragment: bool | None, facts: Mapping[str, Any]) -> Iterator[str]:
    """``fragment``: whether it must be one, without a final stop; None for a quiz, which may be either."""
    for hole in sorted(holes(template) - set(facts) - {"joint", "step"}):
        yield f"{where}: {{{hole}}} is no declared fact"
    if _STRAY_HOLE.search(template):
        yield f"{where}: a brace that opens no fact (write {{{{ for a brace)"
    stopped = template.rstrip().endswith((".", "!", "?"))
    if fragment is True and stopped:
        yield f"{where}: has a final stop"
    if fragment is False and not stopped:
        yield f"{where}: is no whole sentence"


def _source_faults(source: Any, where: str) -> Iterator[str]:
    yield from _keys(source, _SOURCE, where, ("kind",))
    if isinstance(source, dict) and isinstance(source.get("kind"), str):
        if source["kind"] not in SOURCE_KINDS:
            yield f"{where}: kind {source['kind']!r} is none of {'; '.join(SOURCE_KINDS)}"
        elif not source["kind"].startswith("common practice") and "title" not in source:
            yield f"{where}: a {source['kind']} has a title"


def _case_faults(table: dict[str, Any], known: frozenset[str]) -> Iterator[str]:
    cases: dict[str, dict[str, Any]] = {}
    for at, case in enumerate(table["case"], 1):
        where = f"case {case.get('id', at)}" if isinstance(case, dict) else f"case {at}"
        broken = list(_keys(case, _CASE, where, ("id", "clause", "form", "text")))
        yield from broken
        if broken:
            continue
        if case["id"] in cases:
            yield f"{where}: the id is there twice"
        if not _ID.fullmatch(case["id"]):
            yield f"{where}: the id is not in lower case and dashes"
        cases[case["id"]] = case
        if case["form"] not in ("toml", "markdown"):
            yield f"{where}: form {case['form']!r} is neither toml nor markdown"
        if case["clause"] not in table["clauses"]:
            yield f"{where}: proves clause {case['clause']!r}, which there is not"
        if case.get("limit", "at") not in ("below", "at", "above"):
            yield f"{where}: limit {case['limit']!r} is none of below, at, above"
        for finding in case.get("finding", ()):
            yield from _finding_faults(finding, where, table, known)
        own = [f for f in case.get("finding", ()) if isinstance(f, dict) and f.get("rule", table["id"]) == table["id"]]
        if case.get("finding") and not own:
            yield f"{where}: none of its findings is this rule's"
    for case in cases.values():
        yield from _twin_faults(case, cases)
    yield from _proof_faults(table, list(cases.values()))


def _finding_faults(finding: Any, where: str, table: dict[str, Any], known: frozenset[str]) -> Iterator[str]:
    broken = list(_keys(finding, _FINDING, f"{where}, finding", ("step", "certainty")))
    yield from broken
    if broken:
        return
    if finding["certainty"] not in ("certain", "likely", "unstated"):
        yield f"{where}: certainty {finding['certainty']!r} is none of certain, likely, unstated"
    if finding.get("rule", table["id"]) not in known:
        yield f"{where}: finding of {finding['rule']!r}, which is no rule"
    for fact, told in finding.get("facts", {}).items():
        if not isinstance(told, str):
            yield f"{where}: fact {fact} is no string"
        elif finding.get("rule", table["id"]) == table["id"]:
            kind = table.get("facts", {}).get(fact)
            if kind is None:
                yield f"{where}: fact {fact!r} is not declared"
            elif kind not in ("text", "name", "step") and not _is_quantity(told, kind):
                yield f"{where}: fact {fact} = {told!r} is no {kind}"


def _is_quantity(told: str, kind: str) -> bool:
    read = quantity(told)
    if read is None:
        return False
    if kind in ("number", "percent"):
        return read[2] == "number"
    return read[2] == kind or (kind == "length" and read[2] == "distance")


def _twin_faults(case: dict[str, Any], cases: Mapping[str, dict[str, Any]]) -> Iterator[str]:
    where = f"case {case['id']}"
    if not case.get("finding"):
        if "twin" in case:
            yield f"{where}: a sound case names no twin, its faulty case does"
        return
    twin = cases.get(case.get("twin", ""))
    if twin is None or twin.get("finding"):
        yield f"{where}: names no sound twin"
        return
    if twin["form"] != case["form"]:
        yield f"{where}: its twin is written in another form"
    out = put = 0
    before, after = case["text"].splitlines(), twin["text"].splitlines()
    for tag, a0, a1, b0, b1 in SequenceMatcher(None, before, after, autojunk=False).get_opcodes():
        if tag != "equal":
            out += a1 - a0
            put += b1 - b0
    if out > MOST_LINES_CHANGED or put > MOST_LINES_CHANGED:
        yield f"{where}: its twin takes out {out} lines and puts in {put}; at most {MOST_LINES_CHANGED} each"
    if out == put == 0:
        yield f"{where}: its twin is the same text"


def _proof_faults(table: dict[str, Any], cases: list[dict[str, Any]]) -> Iterator[str]:
    faulty = [case for case in cases if case.get("finding")]
    sound = [case for case in cases if not case.get("finding")]
    if len(faulty) < 2 or len(sound) < 2:
        yield f"rule: {len(faulty)} faulty and {len(sound)} sound cases; at least two of each"
    for clause in table["clauses"]:
        for kind, held in (("faulty", faulty), ("sound", sound)):
            if not any(case["clause"] == clause for case in held):
                yield f"clauses.{clause}: no {kind} case proves it"
        limits = {case["limit"] for case in cases if case["clause"] == clause and "limit" in case}
        if limits and limits != {"below", "at", "above"}:
            yield f"clauses.{clause}: its limit is tested {' and '.join(sorted(limits))}, not below, at and above"

