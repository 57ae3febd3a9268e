"""All rules together: none raises on any typed procedure, and each is joined to its file, detector and planter."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from test_bench import CATALOGUE, any_action
from torquewright.bench import play
from torquewright.book.texts import all_rules
from torquewright.records import Action, Procedure, Step
from torquewright.rules import DETECTORS, PLANTERS, WORD_PLANTERS, detect
from torquewright.verdict import check_records


def test_every_rule_has_a_file_a_detector_and_a_planter() -> None:
    files = {rule.id for rule in all_rules()}
    assert set(DETECTORS) == files
    # what is wrong with the writing is planted in words, not in records
    assert set(PLANTERS) | set(WORD_PLANTERS) == files
    assert not set(PLANTERS) & set(WORD_PLANTERS)


@settings(max_examples=150, deadline=None)
@given(st.lists(any_action, max_size=25), st.lists(any_action, max_size=3))
def test_no_rule_raises_on_any_typed_procedure(actions: list[Action], given_first: list[Action]) -> None:
    steps = tuple(Step(str(at + 1), "", (action,)) for at, action in enumerate(actions))
    procedure = Procedure("job", steps, given=tuple(given_first))
    found = detect(play(procedure, CATALOGUE))
    for finding in found:
        assert finding.step is None or -1 <= finding.step < len(steps)
    # every finding can be put in words, and the same procedure always gives the same words
    assert check_records(procedure, CATALOGUE) == check_records(procedure, CATALOGUE)
