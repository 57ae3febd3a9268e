"""The texts of the rules: one file a rule under ``specs/rules``, read when somebody asks for that rule.

The check of a sound procedure reads none of them; that of a faulty one reads those that fired, and of each only
the part ahead of its cases.
"""

from __future__ import annotations

from functools import cache
from os import listdir
from os.path import join
from typing import Any, NamedTuple

from torquewright.book.locate import specs_folder

CONSEQUENCES = {
    "injury": "Somebody can be hurt.",
    "loosening": "It comes loose.",
    "leak": "It leaks.",
    "part destroyed": "A part is destroyed.",
    "rework": "The job has to be done again.",
    "misreading": "It can be read in two ways.",
}
"""What a fault leads to, and how to tell it to whoever holds the wrench. Worst first: somebody hurt, joints that do
not stay closed, then spoilt parts and time."""

GRAVE = frozenset({"injury", "loosening", "leak", "part destroyed"})
"""The consequences that stop a job when the fault is certain or likely."""


class UnknownRule(LookupError):
    """No rule of that name. ``near`` holds names it may have been meant for; ``note`` why a withdrawn one is gone."""

    def __init__(self, name: str, near: tuple[str, ...] = (), note: str = "") -> None:
        self.name = name
        self.near = near
        self.note = note
        told = f"there is no rule {name!r}"
        if note:
            told = f"the rule {name!r} was withdrawn: {note}"
        elif near:
            told += f"; did you mean {' or '.join(near)}?"
        super().__init__(told)


class Retired(NamedTuple):
    """A rule id that is no longer used: the id that answers for it ("" when none does), and why."""

    id: str
    now: str
    since: int
    why: str


class CaseFinding(NamedTuple):
    """One finding a case must give. ``step`` is the label of the step; ``facts`` are told in plain figures."""

    rule: str
    step: str
    joint: str
    certainty: str
    facts: dict[str, str]


class Case(NamedTuple):
    """One worked case of a rule: a whole document and every finding it must give (none: it is sound)."""

    id: str
    clause: str
    form: str
    text: str
    findings: tuple[CaseFinding, ...] = ()
    twin: str = ""
    limit: str = ""

    @property
    def sound(self) -> bool:
        return not self.findings


class RuleText:
    """A rule as its file states it. ``cases`` is empty unless the rule was loaded with them. ``cited`` names the
    sources in short, ``sources`` with what the rule takes from each. ``silence``: the fault is what no step says."""

    __slots__ = ("asked", "cases", "cited", "clauses", "companions", "consequence", "facts", "family", "id", "quiz",
                 "reason", "say", "silence", "since", "sources", "subtle", "title")  # fmt: skip

    def __init__(self, table: dict[str, Any]) -> None:
        self.id: str = table["id"]
        self.family: str = table["family"]
        self.since: int = table["since"]
        self.consequence: str = table["consequence"]
        self.title: str = table["title"]
        self.reason: str = " ".join(table["reason"].split())
        self.silence: bool = table.get("silence", False)
        self.clauses: dict[str, str] = dict(table.get("clauses", {}))
        self.facts: dict[str, str] = dict(table.get("facts", {}))
        self.say: dict[str, dict[str, str]] = _wordings(table.get("say", {}))
        self.cited: tuple[str, ...] = tuple(_cited(source) for source in table.get("source", ()))
        self.sources: tuple[str, ...] = tuple(
            f"{cited}: {source['note']}" if source.get("note") else cited
            for cited, source in zip(self.cited, table.get("source", ()), strict=True)
        )
        self.quiz: dict[str, Any] = dict(table.get("quiz", {}))
        plant = table.get("plant", {})
        self.companions: tuple[str, ...] = tuple(plant.get("companions", ()))
        self.subtle: bool = bool(plant.get("subtle", False))
        self.cases: tuple[Case, ...] = tuple(_case(case, self.id) for case in table.get("case", ()))
        self.asked: str = self.id  # the name it was asked for by, when that has been retired

    def wording(self, form: str = "") -> dict[str, str]:
        """The templates ``fault``, ``because`` and ``instead`` of a form ("" is ``[say]`` itself)."""
        base = self.say[""]
        return {**base, **self.say[form]} if form in self.say else base


def _wordings(say: dict[str, Any]) -> dict[str, dict[str, str]]:
    held: dict[str, dict[str, str]] = {"": {}}
    for key, value in say.items():
        if isinstance(value, dict):
            held[key] = {part: " ".join(text.split()) for part, text in value.items()}
        else:
            held[""][key] = " ".join(value.split())
    return held


def _cited(source: dict[str, str]) -> str:
    """A source in one line: title, edition, clause, then the kind in brackets; common practice says just so."""
    if source["kind"].startswith("common practice"):
        return source["kind"]
    told = ", ".join(source[key] for key in ("title", "edition", "clause") if source.get(key))
    return f"{told} ({source['kind']})"


def _case(case: dict[str, Any], rule: str) -> Case:
    findings = tuple(
        CaseFinding(f.get("rule", rule), str(f["step"]), f.get("joint", ""), f["certainty"], dict(f.get("facts", {})))
        for f in case.get("finding", ())
    )
    return Case(
        case["id"], case["clause"], case["form"], case["text"], findings, case.get("twin", ""), case.get("limit", "")
    )


def rules_folder() -> str:
    return join(specs_folder(), "rules")


def _read(path: str) -> str:
    with open(path, encoding="utf-8") as file:
        return file.read()


@cache
def rule_ids() -> tuple[str, ...]:
    """The ids of all rules, in alphabetical order."""
    return tuple(sorted(name[:-5] for name in listdir(rules_folder()) if name.endswith(".toml")))


@cache
def retired_rules() -> dict[str, Retired]:
    """The retired ids of ``specs/suite/retired.toml``."""
    from tomllib import loads  # only when a name is not that of a rule

    table = loads(_read(join(specs_folder(), "suite", "retired.toml")))
    return {r["id"]: Retired(r["id"], r.get("now", ""), r["since"], r["why"]) for r in table.get("retired", ())}


def rule_text(name: str, *, cases: bool = False) -> RuleText:
    """The text of a rule, by its id or by one it had before; raises :class:`UnknownRule`.

    Without ``cases`` only the part of the file ahead of its cases is read, which is what a report needs.
    """
    try:
        return _load(name, cases)
    except (FileNotFoundError, ValueError):  # ValueError: a name with a null character is no file name
        pass
    retired = retired_rules().get(name)
    if retired is not None and retired.now:
        text = RuleText.__new__(RuleText)
        now = _load(retired.now, cases)
        for slot in RuleText.__slots__:
            setattr(text, slot, getattr(now, slot))
        text.asked = name
        return text
    raise UnknownRule(name, near_misses(name), retired.why if retired else "")


def near_misses(name: str) -> tuple[str, ...]:
    """Up to three ids close to ``name``: by spelling, else by the words they share with it."""
    from difflib import get_close_matches  # only for a name nobody knows

    known = rule_ids()
    asked = name.strip().lower().replace("_", "-").replace(" ", "-")
    close = get_close_matches(asked, known, n=3, cutoff=0.6)
    if not close:
        words = {word.rstrip("s") for word in asked.split("-") if len(word) > 2}
        shared = [(len(words & {word.rstrip("s") for word in rule.split("-")}), rule) for rule in known]
        close = [rule for count, rule in sorted(shared, key=lambda pair: (-pair[0], pair[1])) if count][:3]
    return tuple(close)


@cache
def _load(rule: str, cases: bool) -> RuleText:
    from tomllib import loads  # kept out of the way of `rules --help` and the like

    if "/" in rule or "\\" in rule or rule.startswith("."):
        raise FileNotFoundError(rule)
    text = _read(join(rules_folder(), rule + ".toml"))
    if not cases:
        text = text.partition("\n[[case]]")[0]
    return RuleText(loads(text))


def all_rules(*, cases: bool = False) -> tuple[RuleText, ...]:
    """Every rule, in the order of ids."""
    return tuple(_load(rule, cases) for rule in rule_ids())
