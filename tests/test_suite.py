"""The conformance suite: every case of every rule against the engine, and the driver's own teeth."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from torquewright.book.texts import CaseFinding, all_rules
from torquewright.subject import answer
from torquewright.suite.cases import SuiteCase, cases_of, read_suite, suite_file, suite_lines
from torquewright.suite.driver import NoAnswer, run_case
from torquewright.suite.process import Program

CASES = tuple(cases_of(all_rules(cases=True)))
OWN_ENGINE = [sys.executable, "-m", "torquewright", "suite", "answer"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.id)
def test_the_engine_finds_what_the_case_demands_and_nothing_else(case: SuiteCase) -> None:
    outcome = run_case(answer, case, all_facts=True)
    assert outcome.passed, f"\n{outcome}\n\n{case.text}"


def test_the_file_of_cases_is_not_stale() -> None:
    held = Path(suite_file()).read_text(encoding="utf-8")
    assert held.splitlines() == list(suite_lines(all_rules(cases=True))), "run: python tools/build_suite.py"


def test_the_file_of_cases_reads_back() -> None:
    assert read_suite() == CASES


@pytest.mark.parametrize("head", ['{"format": "torquewright-cases", "version": 2}', '{"format": "else"}', "[1]", ""])
def test_a_file_of_another_format_is_refused(head: str, tmp_path: Path) -> None:
    path = tmp_path / "cases.jsonl"
    path.write_text(head + "\n", encoding="utf-8")
    with pytest.raises(ValueError, match="no torquewright-cases file"):
        read_suite(str(path))


FOUND = {"rule": "two-washers", "step": "2", "joint": "drain-screw", "certainty": "certain"}
CASE = SuiteCase(
    "two-washers/two-on", "two-washers", "one", "toml", "text",
    (CaseFinding("two-washers", "2", "drain-screw", "certain", {"count": "2", "torque": "25 N·m"}),),
)  # fmt: skip


class TestDriver:
    def outcome(self, *findings: Mapping[str, Any], all_facts: bool = False) -> str:
        return str(run_case(lambda form, text: findings, CASE, all_facts=all_facts))

    def test_exactly_the_findings_pass(self) -> None:
        assert self.outcome(FOUND) == "two-washers/two-on: as it should be"
        assert self.outcome(FOUND, FOUND) == "two-washers/two-on: as it should be"  # compared as sets

    @pytest.mark.parametrize("part", ["rule", "step", "joint", "certainty"])
    def test_each_of_the_four_is_compared(self, part: str) -> None:
        told = self.outcome({**FOUND, part: "other"})
        assert "missed:   two-washers at step 2, joint drain-screw, certain" in told
        assert "invented: " in told

    def test_silence_and_noise_are_told_apart(self) -> None:
        assert "invented" not in self.outcome()
        assert "missed" in self.outcome()
        noisy = self.outcome(FOUND, {**FOUND, "step": ""})
        assert "missed" not in noisy
        assert "invented: two-washers at step (none)" in noisy

    def test_facts_that_are_given_must_agree(self) -> None:
        assert self.outcome({**FOUND, "facts": {"count": "2", "torque": "18.4 lbf·ft"}}).endswith("should be")
        wrong = self.outcome({**FOUND, "facts": {"torque": "25 lbf·ft"}})
        assert "torque is 25 N·m in two-washers, not 25 lbf·ft" in wrong
        assert "was not given" in self.outcome({**FOUND, "facts": {"count": "2"}}, all_facts=True)
        assert self.outcome({**FOUND, "facts": {"count": "2"}}).endswith("should be")

    def test_of_two_findings_alike_the_better_facts_count(self) -> None:
        right, wrong = {"count": "2", "torque": "25 N·m"}, {"count": "3", "torque": "25 N·m"}
        told = self.outcome({**FOUND, "facts": wrong}, {**FOUND, "facts": right}, all_facts=True)
        assert told.endswith("should be")

    @pytest.mark.parametrize("spoilt", [{}, {**FOUND, "step": 2}, {**FOUND, "joint": None}])
    def test_a_finding_without_its_four_strings_is_no_answer(self, spoilt: dict[str, Any]) -> None:
        assert "no answer: a finding needs" in self.outcome(spoilt)

    def test_the_subject_never_sees_what_is_demanded(self) -> None:
        seen: list[tuple[str, str]] = []

        def subject(form: str, text: str) -> list[Mapping[str, Any]]:
            seen.append((form, text))
            return [FOUND]

        assert run_case(subject, CASE).passed
        assert seen == [("toml", "text")]


class TestEngineAsSubject:
    def test_what_cannot_be_read_is_no_answer(self) -> None:
        with pytest.raises(NoAnswer, match=r"case\.toml:1:"):
            answer("toml", "[[step]\n")
        with pytest.raises(NoAnswer, match="no form"):
            answer("html", "")

    def test_records_alone_are_no_answer(self) -> None:
        with pytest.raises(NoAnswer, match="no step"):
            answer("toml", '[[fastener]]\nname = "drain screw"\n')


class TestProgram:
    """Our own engine at the far end of a pipe, and programs that do not keep to the protocol."""

    def test_it_answers_like_the_engine_itself(self) -> None:
        with Program(OWN_ENGINE) as program:
            for case in CASES[::7]:
                assert list(program(case.form, case.text)) == answer(case.form, case.text), case.id
            with pytest.raises(NoAnswer, match="cannot be read"):
                program("toml", "[[step]\n")
            assert program("toml", '[[step]]\nsay = "Go on."\n') == []

    @pytest.mark.parametrize(
        ("line", "told"),
        [
            ("print('hello', flush=True)", "no JSON"),
            ("print('[]', flush=True)", "another case"),
            ("print('{\"case\": \"9\", \"findings\": []}', flush=True)", "another case"),
            ("print('{\"case\": \"1\"}', flush=True)", "no list of findings"),
            ("print('{\"case\": \"1\", \"findings\": [1]}', flush=True)", "no list of findings"),
            ("print('{\"case\": \"1\", \"error\": \"too tired\"}', flush=True)", "too tired"),
            ("pass", "ended without an answer"),
        ],
    )
    def test_what_is_no_answer_is_told(self, line: str, told: str) -> None:
        code = f"import sys\nsys.stdin.readline()\n{line}\n"
        with Program([sys.executable, "-c", code]) as program, pytest.raises(NoAnswer, match=told):
            program("toml", "x")

    def test_a_spoilt_request_is_answered_and_the_next_one_too(self) -> None:
        asked = 'nonsense\n{"case": "7"}\n{"case": "8", "form": "toml", "text": "[[step]]\\nsay = \'Go on.\'\\n"}\n'
        done = subprocess.run(OWN_ENGINE, input=asked, capture_output=True, encoding="utf-8", timeout=60, check=True)
        first, second, third = (json.loads(line) for line in done.stdout.splitlines())
        assert "an object with case, form and text" in first["error"]
        assert second["case"] == "7"
        assert "error" in second
        assert third == {"case": "8", "findings": []}


class TestCommand:
    def test_another_program_is_put_to_the_suite(self) -> None:
        rule = CASES[0].rule
        command = f"{sys.executable} -m torquewright suite answer"
        done = subprocess.run(
            [sys.executable, "-m", "torquewright", "suite", "run", rule, "--subject", command],
            capture_output=True, encoding="utf-8", timeout=60, check=False,
        )  # fmt: skip
        count = sum(case.rule == rule for case in CASES)
        assert (done.returncode, done.stdout) == (0, f"{count} of {count} cases as they should be\n")

    def test_a_program_that_finds_nothing_fails_the_faulty_cases(self, tmp_path: Path) -> None:
        rule = CASES[0].rule
        silent = tmp_path / "silent.py"
        silent.write_text(
            "import json, sys\nfor line in sys.stdin:\n"
            "    print(json.dumps({'case': json.loads(line)['case'], 'findings': []}), flush=True)\n",
            encoding="utf-8",
        )
        done = subprocess.run(
            [sys.executable, "-m", "torquewright", "suite", "run", rule, "--format", "json",
             "--subject", f"{sys.executable} {silent}"],
            capture_output=True, encoding="utf-8", timeout=60, check=False,
        )  # fmt: skip
        assert done.returncode == 1
        passed = {told["id"]: told["passed"] for told in map(json.loads, done.stdout.splitlines())}
        assert passed == {case.id: case.sound for case in CASES if case.rule == rule}
