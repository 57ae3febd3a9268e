"""The texts of the rules: loading, names, strictness, and facts put into words."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rule_samples import BOOK, WASHERS, book  # noqa: F401  (a fixture is used by its name)
from torquewright.base.units import UNITS, to_si
from torquewright.book import strict, texts
from torquewright.book.texts import UnknownRule, all_rules, rule_ids, rule_text
from torquewright.book.wording import fact_text, facts_agree, fill, plain_fact, torque_text


@pytest.mark.usefixtures("book")
class TestLoading:
    def test_a_report_gets_words_and_no_cases(self) -> None:
        rule = rule_text("two-washers")
        assert rule.cases == ()
        assert rule.reason == "The old ring stays stuck to the face, a second one goes on, and the pair creeps."
        assert rule.sources == ("Gearcase manual, 2nd, invented, 4.2 (manual)", "common practice, no source")

    def test_cases_come_with_their_findings_named_after_the_rule(self) -> None:
        rule = rule_text("two-washers", cases=True)
        assert [(case.id, case.sound) for case in rule.cases] == [
            ("two-on", False), ("none-on", False), ("one-on", True), ("one-old-on-purpose", True),
        ]  # fmt: skip
        finding = rule.cases[0].findings[0]
        assert (finding.rule, finding.step, finding.facts) == ("two-washers", "1", {"count": "2", "torque": "7 N·m"})

    def test_a_form_overrides_only_what_it_states(self) -> None:
        rule = rule_text("two-washers")
        assert rule.wording("none")["fault"] == "no sealing washer on the {joint}"
        assert rule.wording("none")["instead"] == rule.wording()["instead"]
        assert rule.wording("never heard of") == rule.wording()

    def test_a_renamed_rule_answers_to_its_old_name(self) -> None:
        rule = rule_text("double-washer")
        assert (rule.id, rule.asked) == ("two-washers", "double-washer")
        assert rule_text("two-washers").asked == "two-washers"

    def test_a_withdrawn_rule_says_why(self) -> None:
        with pytest.raises(UnknownRule, match="withdrawn: nothing in it could be checked"):
            rule_text("wet-paint")

    @pytest.mark.parametrize(
        ("asked", "meant"),
        [
            ("two-washer", "two-washers"), ("Two Washers", "two-washers"),
            ("the pin", "pin-missing"), ("nut", "nut-loose"),
        ],
    )
    def test_a_near_miss_is_told(self, asked: str, meant: str) -> None:
        with pytest.raises(UnknownRule) as raised:
            rule_text(asked)
        assert meant in raised.value.near

    @pytest.mark.parametrize("name", ["", ".", "../rules/two-washers", "a/b", "a\\b", "\0", "two-washers.toml"])
    def test_no_name_reaches_outside_the_folder_or_crashes(self, name: str) -> None:
        with pytest.raises(UnknownRule):
            rule_text(name)

    def test_all_rules_are_in_the_order_of_their_names(self) -> None:
        assert [rule.id for rule in all_rules()] == sorted(BOOK) == list(rule_ids())


class TestStrictness:
    """What the checker of rule files lets through and what it does not."""

    def test_the_sample_is_whole(self) -> None:
        assert strict.faults_of(tomllib.loads(WASHERS), "two-washers") == []
        assert strict.order_faults(WASHERS) == []

    @pytest.mark.parametrize(
        ("before", "after", "told"),
        [
            ('family = "seals"', 'familly = "seals"', "unknown key 'familly'; did you mean 'family'?"),
            ('id = "two-washers"', 'id = "two_washers"', "is not the file's name"),
            ("since = 1", "since = true", "'since' holds True"),
            ("since = 1", "since = 0", "counts editions from 1"),
            ('consequence = "leak"', 'consequence = "drip"', "consequence 'drip'"),
            ('on the seat"', 'on the seat."', "no final stop"),
            ("the pair creeps.", "the pair creeps", "'reason' is in whole sentences"),
            ("seat MUST carry", "seat carries", "clauses.one: has no MUST"),
            ('count = "number"', 'count = "figure"', "kind 'figure'"),
            ('count = "number"', 'count = "number"\nspare = "text"', "facts.spare: no wording uses it"),
            ("pulled to {torque}", "pulled to {torqe}", "say.because: {torqe} is no declared fact"),
            ("pulled to {torque}", "pulled to {torque", "a brace that opens no fact"),
            ("washers} on the {joint}", "washers} on the {joint}.", "say.fault: has a final stop"),
            ("of its own.", "of its own", "say.instead: is no whole sentence"),
            ('instead = "Take', 'insted = "Take', "say: 'instead' is missing"),
            ('kind = "manual"', 'kind = "hearsay"', "source 1: kind 'hearsay'"),
            ('title = "Gearcase manual"\n', "", "source 1: a manual has a title"),
            ('ask = "What happens', 'asks = "What happens', "quiz: 'ask' is missing"),
            ('id = "one-old-on-purpose"', 'id = "one-on"', "the id is there twice"),
            ('form = "toml"\nlimit = "above"', 'form = "html"\nlimit = "above"', "form 'html'"),
            ('limit = "above"', 'limit = "over"', "limit 'over'"),
            ('limit = "above"\n', "", "its limit is tested at and below, not below, at and above"),
            ('twin = "one-on"', 'twin = "none-on"', "names no sound twin"),
            ('twin = "one-on"', 'twin = "nobody"', "names no sound twin"),
            ('washer = "1 new"', 'washer = "2 new"', "its twin is the same text"),
            ('certainty = "certain"\nfacts', 'certainty = "sure"\nfacts', "certainty 'sure'"),
            ('count = "2"', "count = 2", "fact count is no string"),
            ('count = "2"', 'cound = "2"', "fact 'cound' is not declared"),
            ('count = "2"', 'count = "two"', "fact count = 'two' is no number"),
            ('torque = "7 N·m"', 'torque = "7"', "fact torque = '7' is no torque"),
            ('torque = "7 N·m"', 'torque = "7 mm"', "fact torque = '7 mm' is no torque"),
            ('step = "1"\n', "", "'step' is missing"),
            ('clause = "one"', 'clause = "two"', "clauses.one: no faulty case proves it"),
        ],
    )
    def test_a_slip_is_told(self, before: str, after: str, told: str) -> None:
        assert before in WASHERS
        text = WASHERS.replace(before, after)
        faults = strict.faults_of(tomllib.loads(text), "two-washers")
        assert any(told in fault for fault in faults), faults

    def test_a_twin_must_be_a_small_change(self) -> None:
        far = WASHERS.replace('\n[[step]]\ndo = [{ fit = "drain-screw", washer = "1 new" }]',
                              "\n" + "[[step]]\ndo = []\n" * 4)  # fmt: skip
        assert any("puts in" in fault for fault in strict.faults_of(tomllib.loads(far), "two-washers"))

    def test_what_stands_below_the_first_case_is_told(self) -> None:
        late = WASHERS.replace('[say.none]\nfault = "no sealing washer on the {joint}"\n', "")
        late += '\n[say.none]\nfault = "no sealing washer on the {joint}"\n'
        assert strict.order_faults(late) == ["[say.none] stands below the first [[case]], where no report reads it"]

    def test_a_companion_must_be_a_rule(self) -> None:
        planted = WASHERS.replace("[quiz]", '[plant]\ncompanions = ["pin-missing"]\n[quiz]')
        table = tomllib.loads(planted)
        assert strict.faults_of(table, "two-washers") == ["plant: companion 'pin-missing' is no rule"]
        assert strict.faults_of(table, "two-washers", frozenset({"pin-missing"})) == []


def _rule_files() -> list[Path]:
    return sorted(Path(texts.rules_folder()).glob("*.toml"))


@pytest.mark.parametrize("path", _rule_files(), ids=lambda path: path.stem)
def test_every_rule_file_is_whole(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    known = frozenset(file.stem for file in _rule_files())
    faults = strict.faults_of(tomllib.loads(text), path.stem, known) + strict.order_faults(text)
    assert not faults, "\n".join(faults)


def test_no_retired_name_is_in_use_again() -> None:
    for retired in texts.retired_rules().values():
        assert retired.id not in rule_ids()
        assert not retired.now or retired.now in rule_ids()


class TestWording:
    @pytest.mark.parametrize(
        ("value", "unit", "told"),
        [
            (25.0, "", "25 N·m (18.4 lbf·ft)"),  # 25 / 1.3558179483 = 18.439
            (7.0, "", "7 N·m (62 lbf·in)"),  # 7 / 0.1129848290 = 61.955
            (24.55, "", "24.55 N·m (18.1 lbf·ft)"),
            (to_si(18, "lbf·ft"), "lbf·ft", "18 lbf·ft (24.4 N·m)"),
            (to_si(30, "lbf·in"), "lbf·in", "30 lbf·in (3.39 N·m)"),
            (12.0, "lbf·ft", "8.85 lbf·ft (12 N·m)"),
            (to_si(35, "kgf·cm"), "kgf·cm", "35 kgf·cm (3.43 N·m)"),
        ],
    )
    def test_a_torque_is_told_in_the_unit_of_the_wrench_first(self, value: float, unit: str, told: str) -> None:
        assert torque_text(value, unit) == told

    @pytest.mark.parametrize(
        ("value", "kind", "told"),
        [
            (6, "number", "6"), (1.5, "number", "1.5"), (90.0, "angle", "90°"), (0.012, "length", "12 mm"),
            (0.00062, "volume", "0.62 L"), (5e-5, "volume", "50 mL"), (90.0, "time", "90 s"), (600.0, "time", "10 min"),
            (36000.0, "time", "10 h"), (293.15, "temperature", "20 °C"), (0.3558, "percent", "35.6 %"),
            (12500.0, "force", "12.5 kN"), (800.0, "force", "800 N"), (2.4e8, "pressure", "240 MPa"),
            ("cotter pin", "text", "cotter pin"),
        ],
    )  # fmt: skip
    def test_each_kind_is_told_in_the_unit_of_the_trade(self, value: str | float, kind: str, told: str) -> None:
        assert fact_text(value, kind) == told

    def test_names_labels_plurals_and_braces(self) -> None:
        told = fill(
            "{{{count}}} {count|washer|washers} on the {joint}, opened in step {opened}, {gone}",
            {"count": 1, "joint": "drain-screw", "opened": 1},
            {"count": "number", "joint": "name", "opened": "step"},
            name=lambda key: key.replace("-", " "),
            label=lambda step: "AB"[step],
        )
        assert told == "{1} washer on the drain screw, opened in step B, (not stated)"

    @pytest.mark.parametrize(
        ("wanted", "got", "same"),
        [
            ("25 N·m", "25.4 N·m", True), ("25 N·m", "25.6 N·m", False), ("25.0 N·m", "25.06 N·m", False),
            ("25 N·m", "18.44 lbf·ft", True), ("25 N·m", "25 lbf·ft", False), ("25 N·m", "25", False),
            ("2", "2", True), ("2", "3", False), ("36 %", "0.3558", True), ("cotter pin", "cotter pin", True),
            ("cotter pin", "lockwire", False), ("12 mm", "0.012 m", True), ("20 °C", "293.15 K", True),
        ],
    )  # fmt: skip
    def test_facts_agree_within_half_of_the_last_digit_in_any_unit(self, wanted: str, got: str, same: bool) -> None:
        assert facts_agree(wanted, got) is same

    @given(
        st.sampled_from([("torque", "N·m"), ("length", "mm"), ("volume", "L"), ("time", "min"), ("force", "kN")]),
        st.floats(1e-3, 1e4),
    )
    def test_what_a_detector_hands_over_agrees_with_itself_in_any_notation(
        self, kind: tuple[str, str], value: float
    ) -> None:
        raw = to_si(value, kind[1])
        assert facts_agree(f"{value:.6g} {kind[1]}", plain_fact(raw, kind[0]))
        assert not facts_agree(f"{value * 1.01:.6g} {kind[1]}", plain_fact(raw, kind[0]))

    @given(st.sampled_from(sorted(u.name for u in UNITS.values() if u.measures == "torque")), st.floats(1e-4, 1e5))
    def test_a_torque_is_never_told_more_than_half_a_per_cent_off(self, unit: str, value: float) -> None:
        first, _, bracket = torque_text(value, unit).partition(" (")
        for told in (first, bracket.rstrip(")")):
            figure, name = told.split(" ")
            assert to_si(float(figure), name) == pytest.approx(value, rel=0.0051)
