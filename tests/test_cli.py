"""The command line as somebody at a shell meets it: exit statuses, what goes where, and what is loaded for it."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
from pathlib import Path
from unicodedata import category

import jsonschema
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from torquewright import __version__
from torquewright.base.trouble import InputTrouble
from torquewright.cli import VERBS, main
from torquewright.cli.gather import procedures_in
from torquewright.report.plain_json import file_part, trouble_part, whole
from torquewright.report.terminal import Look
from torquewright.report.text import report_lines, trouble_lines
from torquewright.verdict import check

ROOT = Path(__file__).parent.parent
SCHEMA = json.loads((ROOT / "specs" / "formats" / "report.schema.json").read_text(encoding="utf-8"))

RECORDS = """
[[fastener]]
id = "drain-screw"
name = "drain screw"
count = 1
size = "M8x1.25"
drive = "slotted 10 mm"
mating-material = "aluminium"
one-time-use = false
tightening = "7 N·m ± 1"
washer = "none"
"""
SOUND = f"""title = "Refit the drain screw"
{RECORDS}
[[step]]
say = "Fit the drain screw and start it by hand."
do = [{{ fit = "drain-screw", state = "new" }}, {{ start = "drain-screw" }}]
[[step]]
say = "Tighten the drain screw to 7 N·m."
do = [{{ tighten = "drain-screw", to = "7 N·m" }}]
"""
FAULTY = SOUND.replace("7 N·m.", "12 N·m.").replace('to = "7 N·m"', 'to = "12 N·m"')
BROKEN = SOUND.replace('count = 1', 'count = "1"')
WORDS_ONLY = 'title = "Nothing said"\n[[step]]\nsay = "Proceed as usual."\n'


@pytest.fixture
def files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with one procedure for each outcome, made the current one."""
    for name, text in (("sound", SOUND), ("faulty", FAULTY), ("broken", BROKEN), ("words", WORDS_ONLY)):
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("COLUMNS", raising=False)
    return tmp_path


def shell(*words: str, encoding: str = "utf-8", text: str = "", **settings: str) -> subprocess.CompletedProcess[str]:
    """The command in a process of its own."""
    environment = {**os.environ, "PYTHONIOENCODING": encoding, **settings}
    return subprocess.run(
        [sys.executable, "-m", "torquewright", *words],
        input=text, capture_output=True, encoding=encoding, env=environment, timeout=60, check=False,
    )  # fmt: skip


class TestStatus:
    @pytest.mark.parametrize(
        ("names", "status"),
        [
            (["sound"], 0), (["faulty"], 1), (["broken"], 3), (["words"], 4), (["nowhere"], 3),
            (["sound", "words"], 4), (["words", "faulty", "sound"], 1), (["faulty", "broken", "sound"], 3),
            (["sound", "sound"], 0),
        ],
    )  # fmt: skip
    @pytest.mark.usefixtures("files")
    def test_the_worst_of_several_files_counts(self, names: list[str], status: int) -> None:
        assert main(["check", *(f"{name}.toml" for name in names)]) == status
        assert main(["check", "--format", "json", *(f"{name}.toml" for name in names)]) == status

    @pytest.mark.parametrize(
        "words",
        [
            [], ["chek"], ["check"], ["check", "--no-such-option"], ["check", "--format", "xml", "a.toml"],
            ["check", "--example", "no-such-machine"], ["why"], ["why", "no-such-rule"], ["suite"],
            ["suite", "list", "no-such-rule"], ["rules", "--family", "no such family"],
        ],
    )  # fmt: skip
    def test_a_wrong_command_line_is_2_and_says_so_on_the_error_stream(
        self, words: list[str], capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert main(words) == 2
        told = capsys.readouterr()
        assert told.out == ""
        assert told.err != ""

    @pytest.mark.usefixtures("files")
    def test_our_own_fault_is_70_and_asks_to_be_told(
        self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        def breaks(*_: object, **__: object) -> None:
            raise ZeroDivisionError("inside")

        monkeypatch.setattr("torquewright.cli.outcomes.check", breaks)
        monkeypatch.delenv("TORQUEWRIGHT_TRACEBACK", raising=False)
        assert main(["check", "sound.toml"]) == 70
        told = capsys.readouterr().err
        assert "ZeroDivisionError: inside" in told
        assert "report it" in told
        assert "Traceback" not in told
        monkeypatch.setenv("TORQUEWRIGHT_TRACEBACK", "1")
        assert main(["check", "sound.toml"]) == 70
        assert "Traceback" in capsys.readouterr().err

    def test_a_wrong_verb_is_met_with_the_near_one(self, capsys: pytest.CaptureFixture[str]) -> None:
        main(["chekc"])
        assert "did you mean check?" in capsys.readouterr().err
        main(["oil.toml"])
        assert "torquewright check oil.toml" in capsys.readouterr().err


class TestCheck:
    def test_the_first_line_of_a_finding_stands_alone(self, files: Path, capsys: pytest.CaptureFixture[str]) -> None:
        main(["check", "faulty.toml"])
        line = FAULTY[: FAULTY.index('"12 N·m"')].count("\n") + 1
        first = next(told for told in capsys.readouterr().out.splitlines() if told.startswith("faulty.toml:"))
        assert first.startswith(f"faulty.toml:{line}:")
        assert first.endswith("[step-torque-off-record]")

    @pytest.mark.usefixtures("files")
    def test_json_keeps_to_its_schema_for_all_outcomes(self, capsys: pytest.CaptureFixture[str]) -> None:
        main(["check", "--format", "json", "sound.toml", "faulty.toml", "broken.toml", "words.toml", "nowhere.toml"])
        told = json.loads(capsys.readouterr().out)
        jsonschema.validate(told, SCHEMA)
        assert [(part["file"], part["verdict"]) for part in told["files"]] == [
            ("sound.toml", "go"), ("faulty.toml", "no-go"), ("broken.toml", None), ("words.toml", "ask first"),
            ("nowhere.toml", None),
        ]  # fmt: skip

    def test_standard_input(self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
        for text, status in ((SOUND, 0), (FAULTY, 1)):
            monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text.encode())))
            assert main(["check", "-"]) == status
        assert "\n-:" in "\n" + capsys.readouterr().out

    def test_standard_input_that_is_no_text(
        self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(b'title = "\xff"\n')))
        assert main(["check", "-"]) == 3
        assert "-:1:10: cannot be read" in capsys.readouterr().out

    def test_a_folder_is_searched_for_procedures_only(self, files: Path) -> None:
        (files / "catalogue.toml").write_text(RECORDS, encoding="utf-8")
        below = files / "below"
        below.mkdir()
        (below / "sound.toml").write_text(SOUND, encoding="utf-8")
        (below / "draft.md").write_text("# Oil\n\n1. Tighten the drain screw to 7 N·m.\n", encoding="utf-8")
        (below / "letter.md").write_text("Dear all,\n\nthe oil is in.\n", encoding="utf-8")
        (files / ".hidden").mkdir()
        (files / ".hidden" / "sound.toml").write_text(SOUND, encoding="utf-8")
        names = [os.path.relpath(path, files) for path in procedures_in(str(files))]
        assert names == [
            "broken.toml", "faulty.toml", "sound.toml", "words.toml", "below/draft.md", "below/sound.toml",
        ]  # fmt: skip

    def test_a_folder_without_a_procedure_cannot_be_read(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert main(["check", str(tmp_path)]) == 3
        assert "no procedure in this folder" in capsys.readouterr().out

    @pytest.mark.usefixtures("files")
    def test_records_from_outside(self, capsys: pytest.CaptureFixture[str]) -> None:
        Path("machine.toml").write_text(RECORDS, encoding="utf-8")
        Path("bare.toml").write_text(FAULTY.replace(RECORDS, ""), encoding="utf-8")
        assert main(["check", "bare.toml", "--catalogue", "machine.toml"]) == 1
        assert "[step-torque-off-record]" in capsys.readouterr().out

    def test_options_may_stand_between_files(self, files: Path, capsys: pytest.CaptureFixture[str]) -> None:
        assert main(["check", "sound.toml", "--format", "json", "words.toml"]) == 4
        assert len(json.loads(capsys.readouterr().out)["files"]) == 2

    @pytest.mark.usefixtures("files")
    def test_the_same_input_gives_the_same_bytes(self, capsys: pytest.CaptureFixture[str]) -> None:
        main(["check", "faulty.toml", "words.toml"])
        first = capsys.readouterr().out
        main(["check", "faulty.toml", "words.toml"])
        assert capsys.readouterr().out == first


class TestExamples:
    def test_a_machine_is_chosen_by_the_start_of_its_name(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert main(["check", "--example", "workboat", "--format", "json"]) == 1
        parts = json.loads(capsys.readouterr().out)["files"]
        verdicts = {os.path.basename(part["file"]): part["verdict"] for part in parts}
        assert verdicts["sound.toml"] == "go"
        assert all(verdict == "no-go" for name, verdict in verdicts.items() if name.startswith("faulty"))
        assert len(verdicts) >= 3

    def test_one_procedure_of_a_machine(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert main(["check", "--example", "workboat/sound"]) == 0
        assert "workboat-gearcase/sound.toml" in capsys.readouterr().out

    def test_no_name_lists_them_and_checks_the_first(self, capsys: pytest.CaptureFixture[str]) -> None:
        main(["check", "--example"])
        told = capsys.readouterr()
        for name in sorted(path.name for path in (ROOT / "specs" / "examples").iterdir() if path.is_dir()):
            assert name in told.err
        assert "GO" in told.out


class TestTheBook:
    def test_why_tells_clauses_cases_and_sources(
        self, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setenv("COLUMNS", "80")  # wider, the pair of cases stands side by side
        assert main(["why", "sealing-washer-count"]) == 0
        told = capsys.readouterr().out
        assert told.startswith("sealing-washer-count\n")
        for part in ("leads to:", "why:", "rule:", "source:", "example:", "\n  x ", "\n  o "):
            assert part in told

    def test_why_of_several_goes_on_past_an_unknown_one(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert main(["why", "sealing-washers", "sealing-washer-count"]) == 2
        told = capsys.readouterr()
        assert "did you mean sealing-washer-count" in told.err
        assert told.out.startswith("sealing-washer-count\n")

    def test_why_as_json_holds_the_cases(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert main(["why", "--format", "json", "sealing-washer-count"]) == 0
        rule = json.loads(capsys.readouterr().out)["rules"][0]
        assert rule["id"] == "sealing-washer-count"
        assert any(case["findings"] for case in rule["cases"])
        assert any(not case["findings"] for case in rule["cases"])

    def test_rules_tells_what_a_trade_answers(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert main(["rules", "--practice", "road vehicle"]) == 0
        assert "No: it is thrown away at every opening." in capsys.readouterr().out
        assert main(["rules", "--practice", "aviation", "--format", "json"]) == 0
        told = json.loads(capsys.readouterr().out)["answers"]
        assert {answer["value"] for answer in told} >= {"measure", "always", "safety"}
        assert main(["rules", "--practice", "bakery"]) == 2
        assert "general, aviation, road vehicle, pressure flange" in capsys.readouterr().err

    def test_rules_lists_each_file_once(self, capsys: pytest.CaptureFixture[str]) -> None:
        stems = sorted(path.stem for path in (ROOT / "specs" / "rules").glob("*.toml"))
        assert main(["rules", "--format", "json"]) == 0
        rules = json.loads(capsys.readouterr().out)["rules"]
        assert [rule["id"] for rule in rules] == stems
        assert main(["rules"]) == 0
        told = capsys.readouterr().out
        assert all(told.count(f"  {stem} ") == 1 for stem in stems)
        family = rules[0]["family"]
        assert main(["rules", "--family", family, "--format", "json"]) == 0
        assert {rule["family"] for rule in json.loads(capsys.readouterr().out)["rules"]} == {family}


class TestHelp:
    @pytest.mark.parametrize("verb", VERBS)
    def test_each_verb_has_help_of_its_own(self, verb: str, capsys: pytest.CaptureFixture[str]) -> None:
        assert main([verb, "--help"]) == 0
        told = capsys.readouterr().out
        assert told.startswith(f"usage: torquewright {verb}")
        assert f"  torquewright {verb}" in told  # an example

    def test_the_list_of_verbs(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert main(["--help"]) == 0
        told = capsys.readouterr().out
        assert all(f"\n  {verb} " in told for verb in VERBS)
        assert all(len(line) <= 80 for line in told.splitlines())

    def test_version(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert main(["--version"]) == 0
        assert capsys.readouterr().out == f"torquewright {__version__}\n"


class TestWeight:
    """What is loaded, because loading is what a start costs."""

    def loaded(self, *words: str) -> set[str]:
        code = (
            "import sys\nbefore = set(sys.modules)\nfrom torquewright.cli import main\n"
            f"main({list(words)!r})\n"
            "print('\\n' + ' '.join(sorted(set(sys.modules) - before)), file=sys.stderr)"
        )
        done = subprocess.run(
            [sys.executable, "-c", code], capture_output=True, encoding="utf-8", timeout=60, check=True
        )
        return set(done.stderr.splitlines()[-1].split())

    @pytest.mark.parametrize(
        "words",
        [["--help"], ["--version"], ["chek"], ["check", "--help"], ["check", "--nothing"], ["suite", "run", "-h"]],
        ids=" ".join,
    )
    def test_help_and_usage_errors_load_no_engine(self, words: list[str]) -> None:
        loaded = self.loaded(*words)
        ours = {name for name in loaded if name.startswith("torquewright.")}
        assert ours <= {"torquewright.cli", "torquewright.report", "torquewright.report.terminal",
                        f"torquewright.cli.{words[0]}"}  # fmt: skip
        assert not loaded & {"tomllib", "attr", "typing", "json", "pathlib", "shutil", "dataclasses"}

    @pytest.mark.usefixtures("files")
    def test_a_check_loads_neither_pint_nor_json_nor_the_prose_reader(self) -> None:
        loaded = self.loaded("check", "sound.toml", "faulty.toml")
        heavy = {"pint", "cattrs", "tomli_w", "markdown_it", "json", "textwrap", "shutil", "importlib.metadata",
                 "importlib.resources", "difflib", "decimal", "fractions", "torquewright.reading.draft"}  # fmt: skip
        assert not loaded & heavy


class TestStreams:
    def test_a_terminal_that_cannot_show_a_sign_still_gets_the_report(self, files: Path) -> None:
        done = shell("check", "faulty.toml", encoding="ascii")
        assert done.returncode == 1
        assert "?" in done.stdout
        assert done.stderr == ""

    def test_a_reader_that_has_gone_is_no_fault(self, files: Path) -> None:
        process = subprocess.Popen(
            [sys.executable, "-m", "torquewright", "check", *["faulty.toml"] * 200],
            stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        )  # fmt: skip
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.readline()
        process.stdout.close()
        told = process.stderr.read()
        process.stderr.close()
        assert process.wait(60) == 141
        assert told == b""

    def test_as_a_module_it_is_the_same(self, files: Path) -> None:
        done = shell("check", "-", text=SOUND)
        assert (done.returncode, done.stderr) == (0, "")
        assert "GO" in done.stdout


class TestAnything:
    """Whatever stands in a file, there is a verdict or a fault with a place; never a crash."""

    @given(
        st.lists(
            st.tuples(st.integers(0, len(FAULTY)), st.integers(0, 12), st.text(max_size=6) | st.sampled_from(
                ['"', "[[step]]", "= {", "}]", "\n", "-1", "nan", '"1e400 N·m"', "7 Nm + 90°", "true", '""']
            )),
            max_size=4,
        )
    )  # fmt: skip
    @example([(FAULTY.index("drain-screw\", to"), 0, "\x80")])  # in a name that no record has
    @settings(max_examples=60, deadline=None)
    def test_a_spoilt_file(self, edits: list[tuple[int, int, str]]) -> None:
        text = FAULTY
        for at, length, new in edits:
            text = text[:at] + new + text[at + length :]
        try:
            held = check("spoilt.toml", text=text)
        except InputTrouble as trouble:
            part = trouble_part("spoilt.toml", trouble)
            lines = list(trouble_lines(trouble, Look(60)))
        else:
            part = file_part(held)
            lines = list(report_lines(held, Look(60)))
        jsonschema.validate(whole([part]), SCHEMA)
        assert lines
        assert not any(category(character) in ("Cc", "Cf", "Zl", "Zp") for line in lines for character in line)
