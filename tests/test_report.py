"""The report on a terminal and as JSON: places under their words, widths kept, nothing obeyed that a file says."""

from __future__ import annotations

import io
import json
import re
import unicodedata
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rule_samples import TEXT, book, finding, job, sentence  # noqa: F401  (a fixture is used by its name)
from torquewright.base.document import Document, Place
from torquewright.base.trouble import Fault, InputTrouble
from torquewright.book.texts import rule_text
from torquewright.report.excerpt import clean, excerpt
from torquewright.report.plain_json import file_part, trouble_part, whole
from torquewright.report.rulebook import _side_by_side, list_lines, marked_lines, rule_lines
from torquewright.report.terminal import Look, look_of
from torquewright.report.text import caution_lines, report_lines, trouble_lines
from torquewright.verdict import report

SCHEMA = json.loads(
    (Path(__file__).parent.parent / "specs" / "formats" / "report.schema.json").read_text(encoding="utf-8")
)


def columns(text: str) -> int:
    """Terminal columns of a text, worked out here on its own: wide signs two, marks none."""
    return sum(
        0 if unicodedata.category(c) in ("Mn", "Me") else 2 if unicodedata.east_asian_width(c) in "WF" else 1
        for c in text
    )


def under(text: str, carets: str) -> str:
    """The characters of ``text`` that stand above the carets."""
    out, column = [], 0
    for character in text:
        wide = columns(character)
        if wide and carets[column : column + wide] == "^" * wide:
            out.append(character)
        column += wide
    return "".join(out)


class TestExcerpt:
    @pytest.mark.parametrize(
        ("line", "word"),
        [
            ('  do = [{ fit = "drain-screw" }]', "drain-screw"),
            ('\tsay = "Tighten\tto 7 N·m"', "7 N·m"),
            ("締付 7 N·m 排出ねじ", "排出ねじ"),
            ("締付 7 N·m 排出ねじ", "7 N·m"),
        ],
    )
    def test_carets_stand_under_the_words(self, line: str, word: str) -> None:
        document = Document("x", "first\n" + line + "\nlast")
        at = document.text.index(word)
        text, carets = excerpt(document, document.place(at, at + len(word)), 80)
        assert under(text, carets) == word

    def test_a_combining_mark_takes_no_column(self) -> None:
        line = "schlu\N{COMBINING DIAERESIS}ssel 7 N·m"
        document = Document("x", line)
        text, carets = excerpt(document, document.place(line.index("7"), len(line)), 80)
        assert carets == " " * len("schlussel ") + "^" * len("7 N·m")
        assert text == line

    def test_an_empty_place_has_one_caret_even_past_the_end(self) -> None:
        document = Document("x", "ab\n")
        assert excerpt(document, Place("x", 1, 3, 1, 3), 80) == ("ab", "  ^")

    def test_a_place_of_several_lines_is_marked_to_the_end_of_its_first(self) -> None:
        document = Document("x", "do = [\n  1,\n]")
        assert excerpt(document, Place("x", 1, 6, 3, 2), 80) == ("do = [", "     ^")

    @given(
        st.text(st.sampled_from("ab \té締7·\N{COMBINING ACUTE ACCENT}"), min_size=1, max_size=300),
        st.integers(0, 299), st.integers(1, 40), st.integers(24, 110),
    )  # fmt: skip
    @settings(max_examples=200)
    def test_no_line_is_wider_than_asked_and_the_place_is_in_it(
        self, line: str, start: int, length: int, width: int
    ) -> None:
        document = Document("x", line)
        start = min(start, len(line) - 1)
        text, carets = excerpt(document, document.place(start, start + length), width)
        assert columns(text) <= width
        assert len(carets) <= width
        if columns(line[start : start + length].strip()):
            assert "^" in carets

    @given(st.text(max_size=60))
    @settings(max_examples=200)
    def test_nothing_a_terminal_could_obey_gets_through(self, text: str) -> None:
        for character in clean(text):
            assert character == "\N{REPLACEMENT CHARACTER}" or unicodedata.category(character) not in ("Cc", "Cf", "Zl")

    def test_an_escape_sequence_in_a_file_is_shown_harmless(self) -> None:
        document = Document("x", "say = \"\x1b[31mred\x1b[0m \N{RIGHT-TO-LEFT OVERRIDE}\"")
        text, _ = excerpt(document, document.whole(), 80)
        assert "\x1b" not in text
        assert "\N{RIGHT-TO-LEFT OVERRIDE}" not in text


class TestTerminal:
    def test_no_colour_where_it_is_no_terminal_or_not_wanted(self, monkeypatch: pytest.MonkeyPatch) -> None:
        class Terminal(io.StringIO):
            def isatty(self) -> bool:
                return True

        monkeypatch.delenv("NO_COLOR", raising=False)
        monkeypatch.setenv("TERM", "xterm")
        assert look_of(Terminal()).colour
        assert not look_of(io.StringIO()).colour
        monkeypatch.setenv("NO_COLOR", "1")
        assert not look_of(Terminal()).colour
        monkeypatch.setenv("NO_COLOR", "")
        assert look_of(Terminal()).colour
        monkeypatch.setenv("TERM", "dumb")
        assert not look_of(Terminal()).colour

    @pytest.mark.parametrize(("told", "width"), [("40", 40), ("5", 24), ("400", 110), ("wide", 100), ("0", 100)])
    def test_the_width_told_is_kept_within_reason(
        self, told: str, width: int, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setenv("COLUMNS", told)
        assert look_of(io.StringIO()).width == width

    @given(st.lists(st.text(st.sampled_from("abc"), min_size=1, max_size=12), max_size=40), st.integers(24, 110))
    def test_a_paragraph_keeps_its_words_and_the_width(self, words: list[str], width: int) -> None:
        lines = Look(width).paragraph("because:", " ".join(words))
        assert " ".join(lines).split() == ["because:", *words]
        assert all(len(line) <= width for line in lines)

    @pytest.mark.parametrize("width", range(24, 60))
    def test_a_figure_and_its_unit_stay_on_one_line(self, width: int) -> None:
        lines = Look(width).paragraph("instead:", "Write 38 N·m (28 lbf·ft), which is 17.9 % more than 33 N·m.")
        for pair in ("38 N·m", "28 lbf·ft),", "17.9 %", "33 N·m."):
            assert any(pair in line for line in lines)


@pytest.mark.usefixtures("book")
class TestText:
    def lines(self, width: int = 100, colour: bool = False) -> list[str]:
        held = finding("leak")._replace(also=(("procedure", ("step", 1, "do", 0, "washer")),))
        return list(report_lines(report(job(unread=(sentence(True),)), [held]), Look(width, colour)))

    def test_the_report_as_it_reads(self) -> None:
        assert self.lines() == [
            "oil.toml:5:39: leak: step A2: 2 sealing washers on the drain screw [two-washers]",
            '    do = [{ fit = "drain-screw", washer = "2 new" }]',
            "                                          ^^^^^^^",
            "  what happens: It leaks. The old ring stays stuck to the face, a second one goes on, and the pair",
            "                creeps.",
            "  because: It was opened in step A1 and is pulled to 7 N·m (62 lbf·in) with drain screw on it.",
            '  see oil.toml:5:39: do = [{ fit = "drain-screw", washer = "2 new" }]',
            "  instead: Take the old washer off in a step of its own.",
            "  source: Gearcase manual, 2nd, invented, 4.2 (manual); common practice, no source",
            "",
            "oil.toml:1:1: not read: not understood",
            '    title = "Oil"',
            "    ^^^^",
            "",
            "oil.toml (Oil)",
            "  NO-GO: 1 × leak, 1 sentence not read",
            "  rests on: 2 steps; 1 joint, 1 with a recorded value; 1 sentence not or not wholly read",
            "  missing: no list of tools was given, so reach and range of the wrenches were not judged",
            "  missing: no kit was given, so nobody knows whether the new parts are at hand",
        ]

    def test_colour_changes_nothing_but_colour(self) -> None:
        bare = [re.sub(r"\x1b\[[0-9;]*m", "", line) for line in self.lines(colour=True)]
        assert bare == self.lines()
        assert any("\x1b[" in line for line in self.lines(colour=True))

    @pytest.mark.parametrize("width", [24, 40, 60])
    def test_a_narrow_terminal_is_not_overrun(self, width: int) -> None:
        # only the first line of a remark may be longer: it stands alone, for editors and for searching
        whole_lines = (":5:39: leak", ":1:1: not read", "NO-GO")
        for line in self.lines(width):
            assert len(line) <= width or any(sign in line for sign in whole_lines), line

    def test_a_second_place_is_never_cut_and_its_line_only_at_the_end(self) -> None:
        see = next(line for line in self.lines(60) if line.startswith("  see"))
        assert see == '  see oil.toml:5:39: do = [{ fit = "drain-screw", washer = …'
        see = next(line for line in self.lines(24) if line.startswith("  see"))
        assert see == "  see oil.toml:5:39"

    def test_the_likely_and_the_unstated_are_told_as_such(self) -> None:
        remarks = [finding("leak", "likely"), finding("injury", "unstated")]
        first = [line for line in report_lines(report(job(), remarks), Look()) if line.startswith("oil.toml:")]
        assert first == [
            "oil.toml:5:39: not stated: injury: step A2: fault at the drain screw [pin-missing]",
            "oil.toml:5:39: likely leak: step A2: 2 sealing washers on the drain screw [two-washers]",
        ]

    def test_the_caution_is_always_there(self) -> None:
        told = " ".join(" ".join(caution_lines(Look())).split())
        assert "maker's current service data" in told
        assert "no proof of safety" in told

    def test_trouble_with_an_input_shows_place_cure_and_line(self) -> None:
        fault = Fault(Place("oil.toml", 5, 39, 5, 46), "no such washer", "2 new", 'write "1 new"')
        trouble = InputTrouble([fault], {"oil.toml": Document("oil.toml", TEXT)})
        assert list(trouble_lines(trouble, Look())) == [
            "oil.toml:5:39: cannot be read: no such washer",
            '    do = [{ fit = "drain-screw", washer = "2 new" }]',
            "                                          ^^^^^^^",
            '  instead: write "1 new"',
        ]


@pytest.mark.usefixtures("book")
class TestJson:
    def test_everything_a_report_can_hold_keeps_to_the_schema(self) -> None:
        jsonschema.Draft202012Validator.check_schema(SCHEMA)
        held = finding("leak")._replace(also=(("procedure", ("step", 1, "do", 0, "washer")),))
        many = [held, finding("rework", "unstated", None, ""), finding("injury", "likely")]
        trouble = InputTrouble([Fault(Place("b.toml", 1, 1, 1, 1), "no such file", "", "a file")])
        told = whole([file_part(report(job(unread=(sentence(True),)), many)), trouble_part("b.toml", trouble)])
        jsonschema.validate(told, SCHEMA)
        assert json.loads(json.dumps(told)) == told
        first = told["files"][0]
        assert first["verdict"] == "no-go"
        assert [(f["rule"], f["certainty"], f["step"], f["joint"]) for f in first["findings"]] == [
            ("pin-missing", "likely", "A2", "drain-screw"),
            ("two-washers", "certain", "A2", "drain-screw"),
            ("kit-short-here", "unstated", "", ""),
        ]
        assert first["findings"][1]["place"] == {
            "file": "oil.toml", "line": 5, "column": 39, "end_line": 5, "end_column": 46,
        }  # fmt: skip

    @pytest.mark.parametrize(
        "spoil",
        [
            lambda told: told["files"][0].update(verdict="maybe"),
            lambda told: told["files"][0].update(verdict=None),
            lambda told: told["files"][0]["findings"][0].pop("place"),
            lambda told: told["files"][0]["findings"][0].update(step=2),
            lambda told: told["files"][0]["findings"][0].update(sources=[]),
            lambda told: told["files"][0]["rests_on"].pop("missing"),
            lambda told: told.update(version=2),
        ],
    )
    def test_the_schema_refuses_what_is_no_report(self, spoil: object) -> None:
        told = whole([file_part(report(job(), [finding("leak")]))])
        assert callable(spoil)
        spoil(told)
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.validate(told, SCHEMA)


@pytest.mark.usefixtures("book")
class TestRulebook:
    def test_a_rule_as_it_reads(self) -> None:
        told = list(rule_lines(rule_text("double-washer", cases=True), Look(80)))
        assert told[:3] == [
            "two-washers",
            "  Not exactly one sealing washer on the seat",
            "  (double-washer is the name it had before)",
        ]
        assert '  x do = [{ fit = "drain-screw", washer = "2 new" }]' in told
        assert '  o do = [{ fit = "drain-screw", washer = "1 new" }]' in told
        assert "  leads to: leak. It leaks." in told
        assert all(len(line) <= 80 for line in told)

    def test_a_wide_terminal_shows_the_fault_beside_its_twin(self) -> None:
        rule = rule_text("double-washer", cases=True)
        told, narrow = list(rule_lines(rule, Look(100))), list(rule_lines(rule, Look(95)))
        at = next(number for number, line in enumerate(told) if "│" in line)
        assert [line.split("│") for line in told[at : at + 2]] == [
            ['  x do = [{ fit = "drain-screw", washer = "2 new" ', ' o do = [{ fit = "drain-screw", washer = "1 new"'],
            ["      }]".ljust(50), "     }]"],
        ]
        assert max(map(len, told)) <= 100
        shared = [line for line in narrow if line[:4] not in ("  x ", "  o ")]
        assert [line for line in told if "│" not in line][-8:] == shared[-8:]

    @given(st.lists(st.tuples(st.sampled_from("xo "), st.text("ab ", max_size=150)), max_size=8))
    def test_folding_loses_nothing_and_keeps_to_its_column(self, marked: list[tuple[str, str]]) -> None:
        rows = [row for row in _side_by_side(marked, Look(100)) if "│" in row]
        for side, mark in enumerate("xo"):
            written = "".join(line for held, line in marked if held == mark).replace(" ", "")
            column = "".join(row.split("│")[side] for row in rows)
            assert column.replace(mark, "").replace(" ", "") == written
            assert column.count(mark) == sum(held == mark for held, _ in marked)
        assert all(len(row) <= 100 and row.index("│") == rows[0].index("│") for row in rows)

    def test_marked_lines_give_both_texts_back(self) -> None:
        faulty, sound = "a\nb\nc", "a\nB\nB2\nc"
        told = list(marked_lines(faulty, sound))
        assert "\n".join(line for mark, line in told if mark != "o") == faulty
        assert "\n".join(line for mark, line in told if mark != "x") == sound

    def test_the_list_is_by_family_and_fits(self) -> None:
        rules = [rule_text(name) for name in ("two-washers", "pin-missing")]
        assert list(list_lines(rules, Look(80))) == [
            "other",
            "  pin-missing  injury          A fault of injury",
            "",
            "seals",
            "  two-washers  leak            Not exactly one sealing washer on the seat",
        ]
        assert list(list_lines(rules, Look(40)))[1:3] == ["  pin-missing (injury)", "    A fault of injury"]
