"""Every rule's fault planted in every bundled sound job; what detectors hand over is what the rule files declare."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rule_bench import plant_all, torque
from sound_kinds import ALL_KINDS
from sound_procedures import sound_jobs
from torquewright import read
from torquewright.bench import play
from torquewright.book.texts import rule_text
from torquewright.book.wording import holes
from torquewright.records import (
    VERBS,
    Action,
    Amount,
    Catalogue,
    Fastener,
    Fluid,
    KitItem,
    Lock,
    Procedure,
    Seal,
    Source,
    Step,
    Thread,
    Tool,
    Washer,
    WasherUse,
)
from torquewright.rules import PLANTERS, detect
from torquewright.rules.finding import Finding

SOUND = sorted((Path(__file__).parent.parent / "specs" / "examples").glob("*/sound.toml"))


@cache
def sound(path: Path) -> tuple[Procedure, Catalogue]:
    job = read(str(path))
    assert job.procedure is not None
    return job.procedure, job.catalogue


@pytest.mark.parametrize("rule", sorted(PLANTERS))
@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.parent.name)
def test_a_fault_planted_in_an_example_is_found_and_nothing_else(path: Path, rule: str) -> None:
    plant_all(rule, *sound(path))


@settings(max_examples=25, deadline=None)
@given(sound_jobs(kinds=ALL_KINDS, most=2), st.sampled_from(sorted(PLANTERS)))
def test_a_fault_planted_in_a_made_up_job_is_found_alone(made: tuple[Procedure, Catalogue], rule: str) -> None:
    plant_all(rule, *made)


# ---- what is handed over --------------------------------------------------------------------------------------

RICH = Catalogue(
    fasteners=(
        Fastener("drain", "drain screw", count=1, washer=Washer("sealing", 1, True), fluid="oil", role="drain",
                 mating_material="aluminium", tightening=torque(8), blind=True, turn_end="nut",
                 source=Source("sheet 1")),
        Fastener("stretch", "head bolt", count=6, one_time_use=True, tightening=torque(20, 40), seals=("ring",),
                 face="bare", needs_hold=True, washer=Washer("flat"), washer_unstated=False),
        Fastener("nut", "locknut", count=2, kind="nut", lock=Lock("prevailing-torque nut"), mating_material="steel",
                 thread=Thread("M8 LH", "metric", 0.008, hand="left"), seals_by="cone", washer_unstated=False),
        Fastener("castle", "castle nut", count=2, lock=Lock("cotter pin", True), tightening=torque(40)),
        Fastener("rod", "rod bolt", count=None, reuse="after measuring", hand_start=True),
    ),
    seals=(Seal("ring", "ring", one_time_use=True, lubricant="oil"),),
    fluids=(Fluid("oil", "gear oil", level_at="mark", amount=Amount(6e-4, "L"), level_when="cold"),),
    tools=(Tool("click", "click", kind="torque wrench", low=1.0, high=50.0, unit="N·m", calibrated_until="2020-01-31"),
           Tool("pounds", "pounds", kind="torque wrench", low=1.0, high=90.0, unit="lbf·ft")),
    kit=(KitItem("washer", 1, "drain"), KitItem("ring", 0), KitItem("oil", 1, amount=Amount(1e-4, "L"))),
)  # fmt: skip
WORDS = ["drain", "stretch", "nut", "castle", "rod", "ring", "oil", "washer", "lock", "cotter pin", "seat", "seal",
         "face", "hole", ""]  # fmt: skip
MOVES = ["remove", "install", "reuse", "replace", "hand_start", "seat", "tighten", "loosen", "discard", "lock", "fill",
         "drain", "run", "measure", "lubricate", "check_level"]  # fmt: skip
actions = st.builds(
    Action,
    verb=st.sampled_from(MOVES) | st.sampled_from(sorted(VERBS)),
    what=st.sampled_from(WORDS),
    of=st.sampled_from(["", "", "", "drain", "stretch", "castle"]),
    mode=st.sampled_from(["do", "do", "do", "do_not", "if", "mentioned_only", "stated_passively"]),
    count=st.none() | st.integers(0, 8),
    state=st.sampled_from(["", "", "new", "old", "measured", "new_if"]),
    to=st.none() | st.just(torque(8)) | st.just(torque(20, 40)),
    washer=st.none()
    | st.builds(
        WasherUse, st.none() | st.integers(0, 3), st.sampled_from(["", "new", "old"]), st.sampled_from(["", "spring"])
    ),
    tool=st.sampled_from(["", "ratchet", "click", "impact wrench"]),
    with_what=st.sampled_from(["", "", "PTFE tape", "sealant"]),
    amount=st.none() | st.just(Amount(2e-3, "L")),
    direction=st.sampled_from(["", "", "clockwise", "anticlockwise"]),
    end=st.sampled_from(["", "", "head"]),
    by_hand=st.booleans(),
)


def declared(finding: Finding) -> None:
    """The facts are those the rule file declares, of their kinds, and enough for the wording of the form."""
    rule = rule_text(finding.rule)
    assert finding.form == "" or finding.form in rule.say, (finding.rule, finding.form)
    for name, value in finding.facts.items():
        kind = rule.facts[name]
        assert isinstance(value, str) is (kind in ("text", "name")), (finding.rule, name, value)
    wanted = {hole for text in rule.wording(finding.form).values() for hole in holes(text)} - {"joint", "step"}
    assert wanted <= set(finding.facts), (finding.rule, finding.form, wanted - set(finding.facts))


@settings(max_examples=100, deadline=None)
@given(st.lists(st.lists(actions, min_size=1, max_size=4), min_size=1, max_size=10), st.lists(actions, max_size=3))
def test_facts_are_those_the_rule_file_declares(steps: list[list[Action]], before: list[Action]) -> None:
    held = tuple(Step(str(at + 1), "", tuple(step)) for at, step in enumerate(steps))
    findings = detect(play(Procedure("job", held, given=tuple(before), job_date="2027-01-31"), RICH))
    for finding in findings:
        declared(finding)
        assert finding.step is None or 0 <= finding.step < len(held)
        if finding.part == "procedure" and finding.path[:1] == ("step",):
            assert finding.path[1] == finding.step
    slips = [(held.rule, held.path, held.joint, held.form, tuple(held.facts.items())) for held in findings]
    assert len(slips) == len(set(slips)), "the same slip is told twice"
