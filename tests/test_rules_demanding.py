"""Records that ask for everything: no job on them makes a rule raise, and the facts are those the files declare."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from rule_bench import torque
from test_rules_planted import declared
from torquewright.bench import play
from torquewright.records import (
    VERBS,
    Action,
    Amount,
    Catalogue,
    Fastener,
    Fluid,
    Lock,
    Message,
    Procedure,
    Retorque,
    Seal,
    Step,
)
from torquewright.rules import detect
from torquewright.verdict import check_records

ASKING = Catalogue(
    fasteners=(
        Fastener("glued", "carrier bolt", count=6, lock=Lock("threadlocker", cure=Amount(3600.0, "h")), safety=True,
                 tightening=torque(20), pattern="cross", retorque=Retorque("required"), independent_check=True,
                 fluid="oil", tighten_when="cold", mating_material="ABS",
                 energy=("pressure", "spring", "electrical", "thermal", "fuel", "gravity")),
        Fastener("done", "disc bolt", count=4, pattern="1-3-2-4", retorque=Retorque("forbidden"), tightening=torque(20),
                 tighten_when="loaded", lock=Lock("cotter pin or lockwire"), seals=("bead",), energy=("thermal",)),
        Fastener("castle", "castle nut", count=None, kind="castle nut", lock=Lock("cotter pin"), tightening=torque(40)),
        Fastener("terminal", "terminal nut", count=2, kind="terminal", tightening=torque(8), energy=("electrical",)),
        Fastener("fill", "fill plug", count=1, fluid="oil", role="fill", tightening=torque(8)),
        Fastener("drain", "drain plug", count=1, fluid="oil", role="drain", tightening=torque(8)),
    ),
    seals=(Seal("bead", "bead", cure=Amount(600.0, "min")),),
    fluids=(Fluid("oil", "gear oil"),),
)  # fmt: skip
actions = st.builds(
    Action,
    verb=st.sampled_from(
        ["remove", "reuse", "hand_start", "tighten", "retighten", "back_off", "loosen", "lock", "seal", "run", "wait",
         "insert", "take_out", "raise", "check", "record"]
    )
    | st.sampled_from(sorted(VERBS)),
    what=st.sampled_from(["glued", "done", "castle", "terminal", "fill", "drain", "bead", "oil", "lock", "rag",
                          "guide studs", "trailer", "battery", "air pressure", ""]),
    of=st.sampled_from(["", "", "", "done", "castle"]),
    mode=st.sampled_from(["do", "do", "do", "do_not", "if", "mentioned_only"]),
    count=st.none() | st.integers(0, 6),
    state=st.sampled_from(["", "", "new", "old"]),
    to=st.none() | st.just(torque(8)) | st.just(torque(20)),
    tool=st.sampled_from(["", "ratchet", "trolley jack", "logging wrench"]),
    order=st.sampled_from(["", "", "cross", "circular", "1-3-2-4", "1-1", "1-2-3-4-5-6"]),
    with_what=st.sampled_from(["", "", "threadlocker", "oil", "lockwire"]),
    note=st.sampled_from(["", "", "by a second person", "to the next slot"]),
    amount=st.none() | st.just(Amount(600.0, "min")),
)  # fmt: skip
says = st.sampled_from(["", "", "Take the rag out.", "A second person looks.", "Jack it up.", "Retorque it later."])
policies = st.sampled_from(["general", "aviation", "road vehicle", "pressure flange", "nobody's"])


@settings(max_examples=150, deadline=None)
@given(
    st.lists(st.tuples(st.lists(actions, min_size=1, max_size=4), says), min_size=1, max_size=10),
    st.lists(actions, max_size=3),
    policies,
)
def test_whatever_is_done_the_rules_answer_in_declared_facts(
    steps: list[tuple[list[Action], str]], before: list[Action], policy: str
) -> None:
    held = tuple(Step(str(at + 1), say, tuple(step)) for at, (step, say) in enumerate(steps))
    procedure = Procedure("job", held, given=tuple(before), messages=(Message("WARNING", "Release the pressure.", 0),))
    catalogue = Catalogue(
        fasteners=ASKING.fasteners, seals=ASKING.seals, fluids=ASKING.fluids, policy=policy, unrecorded=("castle",)
    )
    findings = detect(play(procedure, catalogue))
    for finding in findings:
        declared(finding)
        assert finding.step is None or 0 <= finding.step < len(held)
    slips = [(held.rule, held.path, held.joint, held.form, tuple(held.facts.items())) for held in findings]
    assert len(slips) == len(set(slips)), "the same slip is told twice"
    assert len(check_records(procedure, catalogue).remarks) == len(findings)
