"""From findings to a verdict: what stops a job, what makes one ask, and the order in which it is told."""

from __future__ import annotations

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st

from rule_samples import RULE_OF, SCREW, book, finding, job, sentence  # noqa: F401  (a fixture is used by its name)
from torquewright.base.document import Place
from torquewright.base.trouble import InputTrouble
from torquewright.book.texts import CONSEQUENCES, GRAVE
from torquewright.records import Action, Amount, Catalogue, Procedure, Step
from torquewright.verdict import check_job, judge, report

pytestmark = pytest.mark.usefixtures("book")


class TestTheWord:
    """specs/README.md, section Verdict."""

    @pytest.mark.parametrize(
        ("consequence", "certainty", "word"),
        [
            ("injury", "certain", "no-go"), ("injury", "likely", "no-go"), ("injury", "unstated", "ask first"),
            ("loosening", "certain", "no-go"), ("leak", "likely", "no-go"), ("leak", "unstated", "ask first"),
            ("part destroyed", "certain", "no-go"), ("part destroyed", "unstated", "ask first"),
            ("rework", "certain", "ask first"), ("rework", "unstated", "ask first"),
            ("misreading", "certain", "ask first"), ("misreading", "likely", "ask first"),
        ],
    )  # fmt: skip
    def test_one_finding(self, consequence: str, certainty: str, word: str) -> None:
        assert judge(job(), [finding(consequence, certainty)]).word == word

    def test_nothing_found_and_everything_read_is_go(self) -> None:
        verdict = judge(job(), [])
        assert (verdict.word, verdict.reasons, verdict.remarks) == ("go", (), ())

    def test_an_unread_sentence_asks_only_when_it_matters(self) -> None:
        assert judge(job(unread=(sentence(False),)), []).word == "go"
        verdict = judge(job(unread=(sentence(True), sentence(False))), [])
        assert (verdict.word, verdict.reasons) == ("ask first", ("1 sentence not read",))

    def test_a_procedure_of_words_only_is_never_go(self) -> None:
        assert judge(job(actions=False), []).word == "ask first"

    def test_tightening_what_no_record_knows_is_never_go(self) -> None:
        held = job()
        assert held.procedure is not None
        tightened = Step(label="1", say="Tighten the clip.", actions=(Action("tighten", "clip"),))
        held.procedure = Procedure("Clip", (tightened,))
        verdict = judge(held, [])
        assert (verdict.word, verdict.reasons) == ("ask first", ("there is no record of anything that is tightened",))
        assert "no record of clip" in verdict.rests_on.missing

    def test_one_thing_without_a_record_among_recorded_ones_is_named(self) -> None:
        held = job()
        assert held.procedure is not None
        clip = Step(label="A3", say="Tighten the clip.", actions=(Action("tighten", "clip"),))
        held.procedure = evolve(held.procedure, steps=(*held.procedure.steps, clip))
        verdict = judge(held, [])
        assert verdict.word == "go"
        assert (verdict.rests_on.joints, verdict.rests_on.tightened_without_record) == (1, 1)

    def test_a_joint_only_named_in_a_draft_is_no_record(self) -> None:
        held = job()
        held.catalogue = evolve(held.catalogue, unrecorded=("drain-screw",))
        assert judge(held, []).rests_on.joints == 0

    def test_a_file_of_records_has_no_verdict(self) -> None:
        held = job()
        held.procedure = None
        with pytest.raises(InputTrouble, match=r"oil\.toml:1:1: there is no step in this file"):
            check_job(held)

    @given(st.lists(st.tuples(st.sampled_from(sorted(RULE_OF)), st.sampled_from(["certain", "likely", "unstated"]))))
    def test_more_findings_never_make_it_better(self, drawn: list[tuple[str, str]]) -> None:
        findings = [finding(*pair) for pair in drawn]
        worse = {"go": 0, "ask first": 1, "no-go": 2}
        words = [judge(job(), findings[:count]).word for count in range(len(findings) + 1)]
        assert words == sorted(words, key=worse.__getitem__)
        assert (words[-1] == "no-go") == any(kind in GRAVE and sure != "unstated" for kind, sure in drawn)


class TestTheOrder:
    @given(
        st.lists(
            st.tuples(
                st.sampled_from(sorted(RULE_OF)), st.sampled_from(["certain", "likely", "unstated"]),
                st.sampled_from([None, 0, 1]),
            )
        )
    )
    def test_harm_first_then_place(self, drawn: list[tuple[str, str, int | None]]) -> None:
        findings = [finding(*held) for held in drawn]
        remarks = judge(job(), findings).remarks
        order = list(CONSEQUENCES)
        keys = [(order.index(remark.consequence), remark.step) for remark in remarks]
        assert keys == sorted(keys)  # the labels "", "A1", "A2" sort like the steps
        assert remarks == judge(job(), findings[::-1]).remarks

    def test_a_safety_joint_turns_grave_harm_into_injury_and_leaves_the_rest(self) -> None:
        held = [finding("leak", joint="hub-nut"), finding("rework", joint="hub-nut"), finding("leak")]
        assert [remark.consequence for remark in judge(job(), held).remarks] == ["injury", "leak", "rework"]


class TestTheRemark:
    def test_facts_become_words(self) -> None:
        remark = judge(job(), [finding("leak")]).remarks[0]
        assert remark.message == "2 sealing washers on the drain screw"
        assert remark.because == (
            "It was opened in step A1 and is pulled to 7 N·m (62 lbf·in) with drain screw on it."
        )
        assert remark.step == "A2"
        assert remark.place == Place("oil.toml", 5, 39, 5, 46)
        assert "Gearcase manual, 2nd, invented, 4.2 (manual)" in remark.sources

    def test_the_form_and_the_unit_are_those_of_the_finding(self) -> None:
        held = finding("leak")._replace(form="none", unit="lbf·in")
        remark = judge(job(), [held]).remarks[0]
        assert remark.message == "no sealing washer on the drain screw"
        assert "pulled to 62 lbf·in (7 N·m)" in remark.because

    def test_second_places_are_found_in_their_own_part(self) -> None:
        held = finding("leak")._replace(also=(("procedure", ("step", 1, "do", 0, "washer")), ("kit", ("kit", 0))))
        assert judge(job(), [held]).remarks[0].also == (Place("oil.toml", 5, 39, 5, 46),)

    def test_the_procedure_as_a_whole_has_no_step(self) -> None:
        assert judge(job(), [finding("rework", step=None)]).remarks[0].step == ""


class TestWhatItRestsOn:
    def test_counts_and_gaps_are_named(self) -> None:
        rests_on = judge(job(unread=(sentence(False),)), []).rests_on
        assert (rests_on.steps, rests_on.steps_with_actions) == (2, 2)
        assert (rests_on.joints, rests_on.joints_with_value) == (1, 1)
        assert (rests_on.tools, rests_on.kit, rests_on.unread) == (None, None, 1)
        assert [missing[:10] for missing in rests_on.missing] == ["no list of", "no kit was"]

    def test_a_joint_without_a_value_is_counted_as_such(self) -> None:
        held = job()
        bare = evolve(SCREW, tightening=None, length=Amount(0.02, "mm"))
        held.catalogue = Catalogue(fasteners=(bare,), tools=(), kit=())
        rests_on = judge(held, []).rests_on
        assert (rests_on.joints_with_value, rests_on.tools, rests_on.kit) == (0, 0, 0)
        assert rests_on.missing == ("no recorded tightening value for drain screw",)


def test_a_report_carries_the_verdict_and_the_texts() -> None:
    held = report(job(), [finding("leak")])
    assert (held.file, held.title, held.verdict.word) == ("oil.toml", "Oil", "no-go")
    assert held.findings == held.verdict.remarks
    assert held.documents["oil.toml"].line(1) == 'title = "Oil"'
