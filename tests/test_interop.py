"""Reports other programs read: SARIF, JUnit XML and one line a finding, as ``check`` writes them."""

from __future__ import annotations

import io
import json
import os
import re
import shutil
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit
from xml.etree import ElementTree

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from outside_formats import JUNIT, SARIF, outside
from torquewright.base.document import Document, Place
from torquewright.base.trouble import Fault, InputTrouble
from torquewright.book.texts import all_rules, rule_ids
from torquewright.cli import main
from torquewright.reading.job import Unread
from torquewright.report import junit, lines, sarif
from torquewright.verdict import Report, check
from torquewright.weighing import Remark, RestsOn, Verdict

ROOT = Path(__file__).parent.parent
EXAMPLES = sorted((ROOT / "specs" / "examples").glob("*/[fs]*.toml"))

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
FAULTY = f"""title = "Refit the drain screw 🔧"
{RECORDS}
[[step]]
say = "Fit the drain screw and start it by hand."
do = [{{ fit = "drain-screw", state = "new" }}, {{ start = "drain-screw" }}]
[[step]]
say = "Tighten the drain screw to 12 N·m."
do = [{{ tighten = "drain-screw", to = "12 N·m" }}]
[[step]]
say = "Tighten the drain screw to 13 N·m (62 lbf·in)."
do = [{{ tighten = "drain-screw", to = "13 N·m (62 lbf·in)" }}]
"""
SILENT = FAULTY.replace(' fit = "drain-screw", state = "new" },', ' remove = "drain-screw" },')
BROKEN = FAULTY.replace("count = 1", 'count = "1"')


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder, made the current one, with a faulty, a silent and a broken procedure in it."""
    for name, text in (("faulty", FAULTY), ("silent", SILENT), ("broken", BROKEN)):
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str]:
    """``torquewright check`` with these words: its exit status and what it wrote."""
    status = main(["check", *words])
    return status, capsys.readouterr().out


def sarif_of(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    told = json.loads(run(capsys, "--format", "sarif", *words)[1])
    assert len(told["runs"]) == 1
    held: dict[str, Any] = told["runs"][0]
    return held


def marked(document: Document, region: dict[str, int]) -> str:
    """The characters a region names, counted here on their own: lines by line feed, columns by code point."""
    rows = document.text.split("\n")
    first, last = region["startLine"] - 1, region["endLine"] - 1
    assert 0 <= first <= last < len(rows)
    assert 1 <= region["startColumn"] <= len(rows[first]) + 1
    assert 1 <= region["endColumn"] <= len(rows[last]) + 1
    if first == last:
        return rows[first][region["startColumn"] - 1 : region["endColumn"] - 1]
    inner = [rows[first][region["startColumn"] - 1 :], *rows[first + 1 : last], rows[last][: region["endColumn"] - 1]]
    return "\n".join(inner)


def path_of(artifact: dict[str, str]) -> str:
    """The file a SARIF artifact location names, seen from the folder of the run."""
    uri = urlsplit(artifact["uri"])
    return unquote(uri.path, errors="surrogateescape")


class TestSarif:
    def test_it_keeps_to_the_published_schema(
        self, folder: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        schema = json.loads(outside(SARIF))
        jsonschema.Draft4Validator.check_schema(schema)
        validator = jsonschema.Draft4Validator(schema)
        accepted = FAULTY.replace('lbf·in)" }]', 'lbf·in)" }]\naccept = { dual-unit-disagrees = "printed so" }')
        (folder / "accepted.toml").write_text(accepted, encoding="utf-8")
        main(["check", "faulty.toml", "--baseline-write", "known.json"])
        capsys.readouterr()
        names = ["faulty.toml", "silent.toml", "broken.toml", "accepted.toml", "nowhere.toml"]
        for words in (names, names[:1], ["--baseline", "known.json", *names], [str(path) for path in EXAMPLES]):
            validator.validate(json.loads(run(capsys, "--format", "sarif", *words)[1]))

    def test_the_schema_would_notice(self, capsys: pytest.CaptureFixture[str]) -> None:
        validator = jsonschema.Draft4Validator(json.loads(outside(SARIF)))
        told = json.loads(run(capsys, "--format", "sarif", str(EXAMPLES[0]))[1])
        told["runs"][0]["results"][0]["level"] = "severe"
        with pytest.raises(jsonschema.ValidationError):
            validator.validate(told)

    @pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: f"{path.parent.name}/{path.stem}")
    def test_results_say_what_the_report_says(self, path: Path, capsys: pytest.CaptureFixture[str]) -> None:
        report = check(str(path))
        held = sarif_of(capsys, str(path))
        results = held["results"]
        rules = [rule["id"] for rule in held["tool"]["driver"]["rules"]]
        assert sorted(result["ruleId"] for result in results) == sorted(remark.rule for remark in report.findings)
        for result in results:
            assert rules[result["ruleIndex"]] == result["ruleId"]
            # the standard, 3.27.10: a result that is no failure has no level
            assert (result.get("kind", "fail") == "fail") == (result["level"] != "none")
            assert (result["properties"]["certainty"] == "unstated") == (result.get("kind") == "open")
        assert (report.verdict.word == "no-go") == any(result["level"] == "error" for result in results)
        assert held["properties"]["notStated"] == sum(1 for r in report.findings if r.certainty == "unstated")
        assert held["artifacts"][0]["properties"]["verdict"] == report.verdict.word

    @pytest.mark.usefixtures("folder")
    def test_a_region_is_the_words_at_fault(self, capsys: pytest.CaptureFixture[str]) -> None:
        document = Document("faulty.toml", FAULTY)
        results = sarif_of(capsys, "faulty.toml")["results"]
        found = {
            (result["ruleId"], marked(document, result["locations"][0]["physicalLocation"]["region"]))
            for result in results
        }
        assert ("step-torque-off-record", "12 N·m") in found
        assert ("dual-unit-disagrees", "13 N·m (62 lbf·in)") in found
        seconds = {
            marked(document, second["physicalLocation"]["region"])
            for result in results if result["ruleId"] == "step-torque-off-record"
            for second in result["relatedLocations"]
        }  # fmt: skip
        assert seconds == {"7 N·m ± 1"}

    @pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: f"{path.parent.name}/{path.stem}")
    def test_every_region_lies_in_its_file(self, path: Path, capsys: pytest.CaptureFixture[str]) -> None:
        for result in sarif_of(capsys, str(path))["results"]:
            for location in (*result["locations"], *result.get("relatedLocations", ())):
                physical = location["physicalLocation"]
                file = path_of(physical["artifactLocation"])
                assert marked(Document(file, Path(file).read_text(encoding="utf-8")), physical["region"])

    @pytest.mark.usefixtures("folder")
    def test_sorted_and_the_same_every_time(self, capsys: pytest.CaptureFixture[str]) -> None:
        names = ["silent.toml", "faulty.toml", "broken.toml"]
        first = run(capsys, "--format", "sarif", *names)
        assert run(capsys, "--format", "sarif", *names) == first
        order = []
        for result in json.loads(first[1])["runs"][0]["results"]:
            physical = result["locations"][0]["physicalLocation"]
            region = physical["region"]
            order.append(
                (physical["artifactLocation"]["uri"], region["startLine"], region["startColumn"], result["ruleId"])
            )
        assert len({file for file, *_ in order}) == 2
        assert order == sorted(order)

    def test_fingerprints_survive_lines_put_in_above(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        def prints() -> list[tuple[str, str]]:
            results = sarif_of(capsys, "faulty.toml")["results"]
            return [(result["ruleId"], result["partialFingerprints"]["torquewright/v1"]) for result in results]

        before = prints()
        assert len({print_ for _, print_ in before}) == len(before) >= 2
        added = FAULTY.replace(RECORDS, "# a remark\n\n" + RECORDS).replace(
            "[[step]]\n", '[[step]]\nsay = "Read the sheet."\n[[step]]\n', 1
        )
        (folder / "faulty.toml").write_text(added, encoding="utf-8")
        assert prints() == before

    def test_twins_have_fingerprints_of_their_own(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        step = FAULTY[FAULTY.rindex("[[step]]") :]
        (folder / "faulty.toml").write_text(FAULTY + step, encoding="utf-8")
        held = sarif_of(capsys, "faulty.toml")["results"]
        assert len([result for result in held if result["ruleId"] == "dual-unit-disagrees"]) == 2
        everyone = [result["partialFingerprints"]["torquewright/v1"] for result in held]
        assert len(set(everyone)) == len(everyone)

    def test_names_are_addresses(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        name = "drain: 50 % früh #1.toml"
        (folder / "sub").mkdir()
        (folder / "sub" / name).write_text(FAULTY, encoding="utf-8")
        held = sarif_of(capsys, f"./sub/{name}")
        artifact = held["artifacts"][0]["location"]
        assert re.fullmatch(r"[A-Za-z0-9._~/%-]+", artifact["uri"])
        assert path_of(artifact) == f"sub/{name}"
        assert artifact["uriBaseId"] in held["originalUriBaseIds"]
        whole = sarif_of(capsys, str(folder / "sub" / name))["artifacts"][0]["location"]
        assert whole["uri"].startswith("file:///")
        assert "uriBaseId" not in whole
        assert path_of(whole) == str(folder / "sub" / name)

    @pytest.mark.usefixtures("folder")
    def test_what_cannot_be_read_is_a_notice(self, capsys: pytest.CaptureFixture[str]) -> None:
        held = sarif_of(capsys, "broken.toml")
        call = held["invocations"][0]
        assert (call["executionSuccessful"], call["exitCode"], held["results"]) == (False, 3, [])
        region = call["toolExecutionNotifications"][0]["locations"][0]["physicalLocation"]["region"]
        assert marked(Document("broken.toml", BROKEN), region) == "1"
        assert held["artifacts"][0]["properties"]["verdict"] is None
        call = sarif_of(capsys, "faulty.toml")["invocations"][0]
        assert (call["executionSuccessful"], call["exitCode"]) == (True, 1)

    def test_what_the_writer_lets_stand_is_suppressed(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        accepted = FAULTY.replace(
            'to = "12 N·m" }]', 'to = "12 N·m" }]\naccept = { step-torque-off-record = "a trial on the bench" }'
        )
        (folder / "faulty.toml").write_text(accepted, encoding="utf-8")
        results = sarif_of(capsys, "faulty.toml")["results"]
        suppressed = [result for result in results if "suppressions" in result]
        assert [held["suppressions"] for held in suppressed] == [
            [{"kind": "inSource", "status": "accepted", "justification": "a trial on the bench"}]
        ]
        assert suppressed[0]["ruleId"] == "step-torque-off-record"
        assert not any("baselineState" in result for result in results)

    def test_a_baseline_tells_new_from_known(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        main(["check", "faulty.toml", "--baseline-write", "known.json"])
        capsys.readouterr()
        states = [r["baselineState"] for r in sarif_of(capsys, "--baseline", "known.json", "faulty.toml")["results"]]
        assert set(states) == {"unchanged"}
        (folder / "faulty.toml").write_text(FAULTY.replace("12 N·m", "15 N·m"), encoding="utf-8")
        results = sarif_of(capsys, "--baseline", "known.json", "faulty.toml")["results"]
        assert [r["baselineState"] for r in results if r["ruleId"] == "step-torque-off-record"] == ["new"]
        assert [r["baselineState"] for r in results if r["ruleId"] == "dual-unit-disagrees"] == ["unchanged"]


class TestJUnit:
    def test_it_keeps_to_the_published_schema(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        xmlschema = pytest.importorskip("xmlschema")
        schema = xmlschema.XMLSchema(io.StringIO(outside(JUNIT).decode()))
        (folder / "words.toml").write_text('title = "x"\n[[step]]\nsay = "Proceed."\n', encoding="utf-8")
        names = ["faulty.toml", "silent.toml", "broken.toml", "words.toml", "nowhere.toml"]
        for words in (names, [str(path) for path in EXAMPLES]):
            schema.validate(run(capsys, "--format", "junit", *words)[1].encode())

    def test_a_suite_a_file_and_a_case_a_rule(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        accepted = FAULTY.replace('lbf·in)" }]', 'lbf·in)" }]\naccept = { dual-unit-disagrees = "printed so" }')
        (folder / "faulty.toml").write_text(accepted, encoding="utf-8")
        tree = ElementTree.fromstring(run(capsys, "--format", "junit", "faulty.toml", "broken.toml")[1])
        faulty, broken = tree
        assert (faulty.get("name"), broken.get("name")) == ("faulty.toml", "broken.toml")
        report = check("faulty.toml")
        sure = {remark.rule for remark in report.findings if remark.certainty != "unstated"}
        unsure = {remark.rule for remark in report.findings} - sure
        assert "step-torque-off-record" in sure
        cases = {case.get("name"): case for case in faulty}
        assert set(rule_ids()) <= set(cases)
        for name, case in cases.items():
            inside = [child.tag for child in case]
            if name in sure:
                assert inside == ["failure"]
            elif name in unsure or name == "dual-unit-disagrees":
                assert inside == ["skipped"]
            else:
                assert inside == []
        assert "printed so" in (cases["dual-unit-disagrees"][0].text or "")
        line = accepted[: accepted.index('"12 N·m"')].count("\n") + 1
        assert f"faulty.toml:{line}:" in (cases["step-torque-off-record"][0].text or "")
        assert [(case[0].tag, case[0].get("type")) for case in broken] == [("error", "input")]
        for suite in tree:
            tags = {"tests": "testcase", "failures": "failure", "errors": "error", "skipped": "skipped"}
            for counted, tag in tags.items():
                assert int(suite.get(counted, "")) == len(list(suite.iter(tag))), counted

    @given(st.text(max_size=40), st.text(max_size=40))
    @settings(max_examples=150)
    def test_any_words_stay_well_formed(self, message: str, file: str) -> None:
        told = junit.document([(file, _report(message, file)), (file, _trouble(message, file))], ["some-rule"])
        tree = ElementTree.fromstring(told.encode("ascii"))
        cases = {case.get("name"): case for case in tree[0]}
        legal = "".join(
            sign if sign in "\t\n" or sign.isprintable() or 0xA0 <= ord(sign) <= 0xD7FF else "" for sign in message
        )
        # what can be carried at all is carried, in order
        text = iter(cases["a-rule"][0].text or "")
        assert all(sign in text for sign in legal if sign.isprintable())


class TestLines:
    LINE = re.compile(
        r"(?P<file>[^:]+):(?P<line>\d+):(?P<column>\d+): "
        r"(?:(?P<consequence>[a-z ]+), (?P<certainty>certain|likely|unstated): (?P<told>.+) \((?P<rule>[a-z-]+)\)"
        r"|cannot be read: .+|not read: .+)"
    )

    @pytest.mark.usefixtures("folder")
    def test_a_line_a_finding(self, capsys: pytest.CaptureFixture[str]) -> None:
        status, out = run(capsys, "--format", "lines", "faulty.toml", "silent.toml", "broken.toml")
        assert status == 3
        held = [self.LINE.fullmatch(line) for line in out.splitlines()]
        assert all(held)
        for name in ("faulty.toml", "silent.toml"):
            told = [(int(m["line"]), int(m["column"]), m["rule"]) for m in held if m and m["file"] == name]
            assert told == sorted(told)
            wanted = sorted(r.rule for r in check(name).findings)
            assert sorted(rule for _, _, rule in told) == wanted
        places = {(m["line"], m["column"]) for m in held if m and m["rule"] == "step-torque-off-record"}
        document = Document("", FAULTY)
        assert tuple(str(n) for n in document.position(FAULTY.index('12 N·m" }'))) in places

    def test_nothing_found_writes_nothing(self, capsys: pytest.CaptureFixture[str]) -> None:
        sound = str(ROOT / "specs" / "examples" / "workboat-gearcase" / "sound.toml")
        assert run(capsys, "--format", "lines", sound) == (0, "")

    @given(st.text(max_size=60))
    @settings(max_examples=100)
    def test_whatever_a_file_says_a_finding_is_one_harmless_line(self, message: str) -> None:
        for told in (lines.finding_lines(_report(message, "a.md")), lines.trouble_lines(_trouble(message, "a.md"))):
            assert all(line.isprintable() for line in told)


class TestUnread:
    DRAFT = f"""+++
{RECORDS}
+++
# Refit the drain screw

1. Remove the drain screw and clean it.
2. The pressure of 30 bar frobnicates.
3. Fit the drain screw, start it by hand and tighten it to 7 N·m.
"""

    def test_a_sentence_nobody_understood_is_told_once(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        (folder / "draft.md").write_text(self.DRAFT, encoding="utf-8")
        assert any(sentence.matters for sentence in check("draft.md").unread)
        told = run(capsys, "--format", "lines", "draft.md")[1].splitlines()
        assert len([line for line in told if "frobnicates" in line]) == 1
        held = sarif_of(capsys, "draft.md")
        notices = held["invocations"][0]["toolExecutionNotifications"]
        assert len([one for one in (*held["results"], *notices) if "frobnicates" in one["message"]["text"]]) == 1
        assert run(capsys, "draft.md")[1].count("frobnicates") <= 2, "once in words, once as the line itself"


class TestOutput:
    @pytest.mark.parametrize("form", ["text", "json", "sarif", "junit", "lines"])
    def test_the_file_holds_what_would_have_been_printed(
        self, folder: Path, form: str, capsys: pytest.CaptureFixture[str]
    ) -> None:
        status, out = run(capsys, "--format", form, "faulty.toml", "broken.toml")
        assert status == 3
        assert run(capsys, "--format", form, "--output", "told", "faulty.toml", "broken.toml") == (3, "")
        assert (folder / "told").read_text(encoding="utf-8") == out
        assert sorted(os.listdir(folder)) == ["broken.toml", "faulty.toml", "silent.toml", "told"]

    def test_a_file_of_the_check_is_never_written_over(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        machine = ROOT / "specs" / "examples" / "workboat-gearcase"
        shutil.copytree(machine, folder / "boat")
        before = {path: path.read_bytes() for path in folder.rglob("*.toml")}
        for output in ("boat/faulty-1.toml", "boat/../boat/catalogue.toml", "boat/tools.toml"):
            assert main(["check", "boat/faulty-1.toml", "--output", output]) == 2
            assert "takes part" in capsys.readouterr().err
        assert main(["check", "broken.toml", "--output", "broken.toml"]) == 2
        assert {path: path.read_bytes() for path in folder.rglob("*.toml")} == before
        assert not list(folder.rglob("*.part"))

    @pytest.mark.usefixtures("folder")
    def test_a_file_that_cannot_be_written_is_told(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert main(["check", "faulty.toml", "--output", "no/such/folder"]) == 3
        told = capsys.readouterr()
        assert told.out == ""
        assert "no/such/folder: cannot be written" in told.err

    def test_our_own_fault_leaves_the_old_report(
        self, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        def breaks(*_: object, **__: object) -> None:
            raise ZeroDivisionError

        (folder / "told").write_text("yesterday")
        monkeypatch.setattr("torquewright.cli.outcomes.check", breaks)
        assert main(["check", "faulty.toml", "--output", "told"]) == 70
        assert (folder / "told").read_text() == "yesterday"
        assert sorted(os.listdir(folder)) == ["broken.toml", "faulty.toml", "silent.toml", "told"]
        capsys.readouterr()


class TestIfProcedure:
    def test_what_is_no_procedure_is_passed_over(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        (folder / "pyproject.toml").write_text('[project]\nname = "x"\n')
        (folder / "catalogue.toml").write_text(RECORDS)
        (folder / "NOTES.md").write_text("# Notes\n\nNo steps here.\n")
        others = ["pyproject.toml", "catalogue.toml", "NOTES.md"]
        assert run(capsys, "--if-procedure", "--format", "lines", *others) == (0, "")
        assert run(capsys, "--if-procedure", "--format", "lines") == (0, "")
        assert run(capsys, "--if-procedure", "--format", "lines", *others, "faulty.toml")[0] == 1
        assert main(["check", "catalogue.toml"]) == 3
        capsys.readouterr()

    @pytest.mark.usefixtures("folder")
    def test_a_file_that_is_not_there_is_still_told(self, capsys: pytest.CaptureFixture[str]) -> None:
        status, out = run(capsys, "--if-procedure", "--format", "lines", "nowhere.toml")
        assert status == 3
        assert "no such file" in out


def _report(message: str, file: str) -> Report:
    """A report with one finding and one sentence that was not read, both saying ``message``."""
    place = Place(file, 1, 1, 1, 2)
    remark = Remark("a-rule", "Title", "leak", "certain", "1", "screw", place, (), message, "", message, message, ())
    rests_on = RestsOn(1, 1, 1, 1, 0, None, None, 1, "general", ())
    unread = (Unread(place, message, message, True),)
    return Report(file, "", Verdict("no-go", (message,), rests_on, (remark,)), unread, {file: Document(file, message)})


def _trouble(message: str, file: str) -> InputTrouble:
    return InputTrouble([Fault(Place(file, 1, 1, 1, 1), message, message, message)])


@given(st.text(max_size=40), st.text(st.characters(codec="utf-8"), max_size=20))
@settings(max_examples=100)
def test_any_words_go_into_sarif(message: str, file: str) -> None:
    told = sarif.log(
        [(file, _report(message, file)), (file, _trouble(message, file))], all_rules(), version="0", status=3
    )
    result = json.loads(json.dumps(told))["runs"][0]["results"][0]
    assert message in result["message"]["text"]
