"""Score whole drafts against their answers: python tools/score_reading.py --drafts FOLDER

A folder holds drafts (``name.md`` or ``name.txt``) and beside each its answers (``name.answers.toml``): the records
of the machine (``[[fastener]]``, ``[[seal]]``, ``[[tool]]``, ``[[fluid]]``, ``[[part]]``, ``[[kit]]``), which are
taken as the catalogue; every fault that is in the draft (``[[violation]]`` with ``step`` and ``rule``, or ``fault``
in plain words); what only looks like one (``[[decoy]]``); and ``verdict`` ("clean" or "no-go" or "ask first").

A fault is found when a finding names its step (any of them, where it is given as "3 or 4") and is of its rule, of one
that says the same (``ALIKE``), or of one its plain words stand for; plain words that are in no list are compared by
the step alone, and marked so. All other findings are invented. Prints, for each draft, what was found, missed and
invented, and the sums.
"""

from __future__ import annotations

import re
import tempfile
import tomllib
from pathlib import Path
from typing import Any, NamedTuple

import tomli_w

from torquewright import check
from torquewright.base.trouble import InputTrouble

RECORDS = ("fastener", "seal", "tool", "fluid", "part", "kit")

# (words that must all be in the plain name of a fault, rules it may stand for); the first line that fits is taken
PLAIN: tuple[tuple[str, str], ...] = (
    ("after step", "warning-after-the-step"),
    ("after dangerous", "warning-after-the-step"),
    ("warning after", "warning-after-the-step"),
    ("caution after", "warning-after-the-step"),
    ("hidden action", "warning-after-the-step"),
    ("signal word", "signal-word-does-not-fit"),
    ("units disagree", "dual-unit-disagrees"),
    ("right unit wrong", "torque-unit-mixed-up inch-pound-foot-pound-swap"),
    ("unit wrong", "torque-unit-mixed-up inch-pound-foot-pound-swap unit-not-a-torque"),
    ("unit missing", "unit-not-a-torque"),
    ("no unit", "unit-not-a-torque"),
    ("not torque", "unit-not-a-torque"),
    ("tool out of range", "wrench-out-of-range"),
    ("out of range", "wrench-out-of-range"),
    ("seal put back", "seal-ring-dry-or-reused single-use-fastener-reused"),
    ("put back", "single-use-fastener-reused locknut-reused cotter-or-wire-reused seal-ring-dry-or-reused"),
    ("reused", "single-use-fastener-reused locknut-reused cotter-or-wire-reused seal-ring-dry-or-reused"),
    ("not said new", "single-use-fastener-reused seal-ring-dry-or-reused locknut-reused cotter-or-wire-reused"),
    ("passes order", "wrong-stage-order"),
    ("stage", "wrong-stage-order angle-stage-missing opened-joint-left-loose"),
    ("washer", "sealing-washer-count"),
    ("plastic", "soft-part-overload"),
    ("vague", "vague-tightening final-tighten-without-value"),
    ("no value", "final-tighten-without-value vague-tightening"),
    ("without value", "final-tighten-without-value vague-tightening"),
    ("no torque", "final-tighten-without-value vague-tightening opened-joint-left-loose"),
    ("left loose", "opened-joint-left-loose"),
    ("never tightened", "opened-joint-left-loose"),
    ("not tightened", "opened-joint-left-loose final-tighten-without-value"),
    ("hand", "hand-start-missing"),
    ("count", "fastener-count-mismatch sealing-washer-count"),
    ("number", "fastener-count-mismatch"),
    ("table", "prose-against-table step-torque-off-record reference-to-nothing"),
    ("reference", "reference-to-nothing"),
    ("two names", "name-drift"),
    ("replace", "replace-ambiguous"),
    ("not listed", "tool-not-listed"),
    ("drive", "wrong-drive-bit"),
    ("bit", "wrong-drive-bit"),
    ("before fill", "start-before-fill-and-plug"),
    ("started before", "start-before-fill-and-plug"),
    ("kit", "kit-short"),
    ("angle", "angle-stage-missing"),
    ("torque off", "step-torque-off-record"),
    ("wrong torque", "step-torque-off-record soft-part-overload"),
    ("over-torqued", "step-torque-off-record soft-part-overload"),
    ("under-torqued", "step-torque-off-record"),
    ("torque", "step-torque-off-record"),
)


class Outcome(NamedTuple):
    """What became of one draft, in lines to print."""

    name: str
    verdict: str
    verdict_right: bool
    found: list[str]
    missed: list[str]
    invented: list[str]

    @property
    def exact(self) -> bool:
        return self.verdict_right and not self.missed and not self.invented


# rules that say the same of the same step: which one speaks depends on how the record is written
ALIKE: dict[str, str] = {
    "step-torque-off-record": "torque-unit-mixed-up soft-part-overload inch-pound-foot-pound-swap",
    "torque-unit-mixed-up": "step-torque-off-record inch-pound-foot-pound-swap",
    "locking-device-missing": "washer-stack-wrong",
    "locknut-reused": "single-use-fastener-reused",
    "single-use-fastener-reused": "locknut-reused",
    "final-tighten-without-value": "vague-tightening",
}


def rules_of(violation: dict[str, Any]) -> set[str]:
    """The rules a fault of the answers may be found by; empty when its words are in no list."""
    if "rule" in violation:
        named = set(str(violation["rule"]).split())
        return named.union(*(ALIKE.get(rule, "").split() for rule in named))
    fault = str(violation.get("fault", "")).lower()
    return next((set(rules.split()) for words, rules in PLAIN if all(word in fault for word in words.split())), set())


def score_draft(draft: Path, answers: Path) -> Outcome:
    """Check one draft against the records of its answers, and compare."""
    held = tomllib.loads(answers.read_text(encoding="utf-8"))
    records = {name: held[name] for name in RECORDS if name in held}
    with tempfile.TemporaryDirectory() as folder:
        catalogue = Path(folder, "records.toml")
        catalogue.write_text(tomli_w.dumps(records), encoding="utf-8")
        try:
            report = check(draft, catalogue=catalogue if records else None)
        except InputTrouble as trouble:
            return Outcome(draft.name, "cannot be read", False, [], [str(trouble)], [])
    left = list(report.findings)
    found, missed = [], []
    for violation in held.get("violation", []):
        rules = rules_of(violation)
        steps = set(re.findall(r"[\w.]+", str(violation.get("step", "")))) - {"or", "and"} or {""}
        name = violation.get("rule") or violation.get("fault")
        steps |= {step.replace(".", "") for step in steps}  # "B3" is "B.3"
        match = next(
            (one for one in left if {one.step, one.step.replace(".", "")} & steps and (not rules or one.rule in rules)),
            None,
        )
        if match is None:
            missed.append(f"step {violation.get('step')}: {name}")
            continue
        left.remove(match)
        how = "" if rules else " (by its step alone)"
        found.append(f"step {match.step or '-'}: {match.rule}, {match.certainty}{how}")
    invented = [f"step {one.step or '-'}: {one.rule}, {one.certainty}: {one.message}" for one in left]
    word = report.verdict.word
    wanted = held.get("verdict", "clean" if not held.get("violation") else "")
    right = word == "go" if wanted == "clean" else word == wanted if wanted in ("ask first", "no-go", "go") else True
    return Outcome(draft.name, f"{word} (answers: {wanted})", right, found, missed, invented)


def main(folder: str) -> int:
    """Score every draft of a folder; 0 when all are exactly as their answers say."""
    outcomes = []
    for answers in sorted(Path(folder).glob("*.answers.toml")):
        stem = answers.name.removesuffix(".answers.toml")
        draft = next((path for end in (".md", ".txt") if (path := answers.with_name(stem + end)).exists()), None)
        if draft is None:
            print(f"{answers.name}: its draft is missing")
            continue
        outcomes.append(score_draft(draft, answers))
    for held in outcomes:
        print(f"{held.name}: {'as it should be' if held.exact else 'NOT as it should be'}; verdict {held.verdict}")
        for title, lines in (("found", held.found), ("missed", held.missed), ("invented", held.invented)):
            for line in lines:
                print(f"  {title:9}{line}")
    sums = [sum(len(getattr(held, name)) for held in outcomes) for name in ("found", "missed", "invented")]
    exact = sum(held.exact for held in outcomes)
    print(f"drafts {len(outcomes)}, exact {exact}; faults found {sums[0]}, missed {sums[1]}, invented {sums[2]}")
    return 0 if exact == len(outcomes) else 1
