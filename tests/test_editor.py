"""What the language server answers, worked out in plain values without a server."""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import ClassVar

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from torquewright.base.document import Document
from torquewright.cli import main
from torquewright.editor import columns
from torquewright.editor.cards import card_at, escaped
from torquewright.editor.cursor import cursor_at
from torquewright.editor.desk import Records, Sight, look_at
from torquewright.editor.marks import ERROR, INFORMATION, WARNING, Mark, severity_of
from torquewright.editor.mends import Mend, all_rewrites, mends_for
from torquewright.editor.offers import offers_at
from torquewright.editor.papers import Papers
from torquewright.verdict import check

ROOT = Path(__file__).parent.parent
EXAMPLES = sorted((ROOT / "specs" / "examples").glob("*/[fs]*.toml"))
BOAT = ROOT / "specs" / "examples" / "workboat-gearcase"

RECORDS = """[[fastener]]
id = "drain-screw"
name = "drain screw"
aliases = ["lower screw"]
count = 1
size = "M8x1.25"
drive = "slotted 10 mm"
one-time-use = false
tightening = "7 N·m ± 1"
washer = { kind = "sealing", count = 1, one-time-use = true }
source = "invented"

[[fastener]]
id = "cover-bolt"
name = "cover bolt"
count = 6
size = "M6"
one-time-use = true
tightening = "10 N·m"
washer = "none"
seals = ["cover-gasket"]
safety = true

[[seal]]
id = "cover-gasket"
name = "cover gasket"
one-time-use = true
"""
DRAFT = """+++
catalogue = "catalogue.toml"
+++
# Change the gearcase oil

1. Remove the drain screw, and throw its sealing washer away.
2. Fit the drain screw with one new sealing washer and start the drain screw by hand.
3. 🔧🔧 Tighten the drain screw to 12 Nm.
"""
JOB = """title = "Change the gearcase oil"
catalogue = "catalogue.toml"

[[step]]
say = "Remove the drain screw, and throw its sealing washer away."
do = [ { remove = "drain-screw" }, { discard = "washer", of = "drain-screw" } ]

[[step]]
say = "Fit it with one new sealing washer and start it by hand."
do = [ { fit = "drain-screw", washer = "1 new" }, { start = "drain-screw" } ]

[[step]]
say = "Tighten the drain screw to 12 Nm."
do = [ { tighten = "drain-screw", to = "12 Nm" } ]
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "catalogue.toml").write_text(RECORDS, encoding="utf-8")
    return tmp_path


def seen(folder: Path, name: str, text: str) -> Sight:
    return look_at(str(folder / name), text)


def rules(marks: Iterable[Mark]) -> list[str]:
    return [mark.rule for mark in marks]


def applied(text: str, mend: Mend) -> str:
    for start, end, new in sorted(mend.changes, reverse=True):
        text = text[:start] + new + text[end:]
    return text


def mends_at(sight: Sight, words: str) -> list[Mend]:
    at = sight.document.text.index(words)
    touched = []
    for mark in sight.marks:
        start = sight.document.offset(mark.place.line, mark.place.column)
        end = sight.document.offset(mark.place.end_line, mark.place.end_column)
        if start <= at <= end:
            touched.append(mark)
    return list(mends_for(sight, touched, at, at))


class TestColumns:
    CODECS: ClassVar = {"utf-8": ("utf-8", 1), "utf-16": ("utf-16-le", 2), "utf-32": ("utf-32-le", 4)}

    @given(st.text(st.characters(codec="utf-8"), max_size=40), st.sampled_from(sorted(CODECS)), st.data())
    @settings(max_examples=200)
    def test_they_count_what_the_encoder_writes(self, text: str, encoding: str, data: st.DataObject) -> None:
        document = Document("x", text)
        at = data.draw(st.integers(0, len(document.text)))
        codec, size = self.CODECS[encoding]
        before = document.text[:at].split("\n")
        position = columns.of_offset(document, at, encoding)
        assert position == (len(before) - 1, len(before[-1].encode(codec)) // size)
        assert columns.offset(document, position, encoding) == at

    def test_an_emoji_line(self) -> None:
        """The standard's own trap: 16 code points, 17 units."""
        document = Document("x", "Ω 25 N·m 🔧 ft-lb")
        assert columns.of_offset(document, len(document.text), "utf-16") == (0, 17)
        assert columns.of_offset(document, document.text.index("ft"), "utf-16") == (0, 12)

    def test_a_place_beyond_the_line_or_inside_a_sign_is_clamped(self) -> None:
        document = Document("x", "a🔧b\nc")
        assert columns.offset(document, (0, 99), "utf-16") == 3
        assert columns.offset(document, (9, 0), "utf-16") == len(document.text)
        assert columns.offset(document, (0, 2), "utf-16") == 1


class TestMarks:
    @pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: f"{path.parent.name}/{path.stem}")
    def test_the_editor_says_what_check_says(self, path: Path) -> None:
        report = check(str(path))
        sight = look_at(str(path), path.read_text(encoding="utf-8"))
        assert sorted((mark.rule, mark.place) for mark in sight.marks) == sorted(
            (remark.rule, remark.place) for remark in report.findings if remark.place is not None
        )
        assert (report.verdict.word == "no-go") == any(mark.severity == ERROR for mark in sight.marks)

    def test_how_grave(self) -> None:
        assert severity_of("leak", "certain") == severity_of("injury", "likely") == ERROR
        assert severity_of("injury", "unstated") == severity_of("rework", "certain") == WARNING
        assert severity_of("misreading", "unstated") == INFORMATION

    def test_a_mark_says_what_is_wrong_why_and_what_to_write(self, folder: Path) -> None:
        for name, text in (("draft.md", DRAFT), ("job.toml", JOB)):
            (mark,) = seen(folder, name, text).marks
            assert mark.rule == "step-torque-off-record"
            assert [line.partition(":")[0] for line in mark.message.split("\n")] == [
                "part destroyed", "because", "instead",
            ]  # fmt: skip
            assert (mark.also[0][0].file, mark.also[0][0].line) == (str(folder / "catalogue.toml"), 9)

    @pytest.mark.parametrize(
        ("name", "text"),
        [
            ("pyproject.toml", '[project]\nname = "x"\n[tool.pytest]\naddopts = "-q"\n'),
            ("README.md", "# Read me\n\n1. Clone it.\n2. Install it.\n3. Run `make`.\n"),
            ("notes.txt", "1. Call the yard.\n2. Order oil.\n"),
            ("notes.md", "# Nothing numbered\n\nTighten the drain screw to 99 N·m.\n"),
            ("code.py", "1. Tighten the bolt to 5 lbs.\n"),
        ],
    )
    def test_what_is_none_of_ours_has_no_marks(self, folder: Path, name: str, text: str) -> None:
        assert seen(folder, name, text).marks == ()

    def test_a_plain_text_with_numbered_lines_is_read(self, folder: Path) -> None:
        text = "Refit\n\n1. Fit the cover.\n2. Tighten the cover bolts to 10 ft/lb.\n"
        assert seen(folder, "refit.txt", text).job is not None

    def test_a_broken_file_of_records_is_marked_there_and_where_it_is_named(self, folder: Path) -> None:
        (folder / "catalogue.toml").write_text(RECORDS.replace("count = 6", "count = six"), encoding="utf-8")
        for name, text in (("draft.md", DRAFT), ("job.toml", JOB)):
            sight = seen(folder, name, text)
            held = {(os.path.basename(mark.place.file), mark.rule): mark for mark in sight.marks}
            assert set(held) == {("catalogue.toml", "cannot-be-read"), (name, "records-cannot-be-read")}
            mark = held[name, "records-cannot-be-read"]
            line = text.split("\n")[mark.place.line - 1]
            assert line[mark.place.column - 1 : mark.place.end_column - 1] == "catalogue.toml"
            # the fastener that can be read is still known
            assert sight.catalogue.fastener("drain-screw") is not None

    def test_files_of_records_have_their_own_marks(self, folder: Path) -> None:
        assert seen(folder, "catalogue.toml", RECORDS).marks == ()
        text = RECORDS.replace("one-time-use = true\ntight", "one-tim-use = true\ntight")
        (mark,) = seen(folder, "catalogue.toml", text).marks
        assert "one-tim-use" in mark.message

    def test_records_from_outside_count(self, folder: Path) -> None:
        text = DRAFT[DRAFT.index("# Change") :]
        records = Records(catalogue=str(folder / "catalogue.toml"))
        assert "step-torque-off-record" in rules(look_at(str(folder / "d.md"), text, records=records).marks)
        assert "step-torque-off-record" not in rules(seen(folder, "d.md", text).marks)


class TestPapers:
    def test_an_unsaved_catalogue_counts_and_its_file_again_once_closed(self, folder: Path) -> None:
        papers = Papers()
        draft, records = str(folder / "draft.md"), str(folder / "catalogue.toml")
        papers.put(draft, DRAFT)
        assert rules(papers.marks()[draft]) == ["step-torque-off-record"]
        papers.put(records, RECORDS.replace("7 N·m ± 1", "12 N·m ± 1"))
        assert papers.marks() == {draft: [], records: []}
        papers.put(records, RECORDS.replace("count = 1\nsize", "count = 0\nsize"))
        held = papers.marks()
        assert rules(held[draft]) == ["records-cannot-be-read"]
        assert rules(held[records]) == ["cannot-be-read"], "seen from two texts, told once"
        papers.take_away(records)
        assert {path: rules(marks) for path, marks in papers.marks().items()} == {draft: ["step-torque-off-record"]}
        papers.take_away(draft)
        assert papers.marks() == {}

    def test_only_what_rests_on_a_changed_text_is_looked_at_again(
        self, folder: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        looked: list[str] = []

        def noting(path: str, text: str, **rest: object) -> Sight:
            looked.append(os.path.basename(path))
            return look_at(path, text, **rest)  # type: ignore[arg-type]

        monkeypatch.setattr("torquewright.editor.papers.look_at", noting)
        papers = Papers()
        for name, text in (("draft.md", DRAFT), ("catalogue.toml", RECORDS), ("other.md", "# Other\n")):
            papers.put(str(folder / name), text)
        papers.marks()
        looked.clear()
        papers.marks()
        assert looked == []
        papers.put(str(folder / "catalogue.toml"), RECORDS + "\n")
        papers.marks()
        assert sorted(looked) == ["catalogue.toml", "draft.md"]

    def test_our_own_fault_looks_like_no_clean_text(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        def breaks(*_: object, **__: object) -> None:
            raise ZeroDivisionError("inside")

        monkeypatch.setattr("torquewright.editor.papers.look_at", breaks)
        papers = Papers()
        papers.put(str(folder / "draft.md"), DRAFT)
        (mark,) = papers.marks()[str(folder / "draft.md")]
        assert (mark.rule, mark.severity) == ("own-fault", ERROR)
        assert "ZeroDivisionError" in mark.message


class TestCards:
    def card(self, sight: Sight, words: str) -> tuple[str, str]:
        at = sight.document.text.index(words)
        card = card_at(sight, at)
        assert card is not None, words
        return sight.document.text[card.start : card.end], card.text

    def test_a_torque_in_both_units_with_the_record_it_is_demanded_for(self, folder: Path) -> None:
        for name, text in (("draft.md", DRAFT), ("job.toml", JOB)):
            words, told = self.card(seen(folder, name, text), "12 Nm" if name == "draft.md" else '12 Nm" }')
            assert words == "12 Nm"
            # NIST SP 811, appendix B.8: 1 lbf·in is 0.112985 N·m, so 11.5 and 12.5 N·m are 101.78 and 110.63
            assert "12 N·m (11.5 to 12.5)" in told
            assert "(101.8 to 110.6)" in told
            assert "drain screw" in told
            assert "M8x1.25" in told

    def test_a_record_with_all_that_a_mechanic_asks(self, folder: Path) -> None:
        sight = seen(folder, "job.toml", JOB)
        words, told = self.card(sight, "drain-screw")
        assert words == "drain-screw"
        for fact in ("M8x1.25", "slotted 10 mm", "7 N·m ± 1", "62 ± 9 lbf·in", "washers: 1 sealing, new each time",
                     "one-time use: no", "source: invented", "catalogue.toml, line 1"):  # fmt: skip
            assert fact in told, fact
        told = self.card(seen(folder, "d.md", DRAFT + "4. Fit six new cover bolts.\n"), "cover bolts")[1]
        for fact in ("6 × cover bolt", "one-time use: yes", "washers: none", "clamps: cover gasket", "hurt somebody"):
            assert fact in told, fact

    def test_it_is_the_part_the_sentence_means(self, folder: Path) -> None:
        text = DRAFT + "4. Remove the drain screw and clean it.\n"
        words, told = self.card(seen(folder, "draft.md", text), "it.\n")
        assert words == "it"
        assert "drain screw" in told

    def test_a_name_is_known_in_a_line_that_is_not_finished(self, folder: Path) -> None:
        broken = JOB.replace("] \n", "\n") + '[[step]]\ndo = [ { tighten = "cover-bolt", to = \n'
        assert "cover bolt" in self.card(seen(folder, "job.toml", broken), "cover-bolt")[1]
        broken = DRAFT.replace('"catalogue.toml"', '"catalogue.toml"\nx')
        assert "M8x1.25" in self.card(seen(folder, "draft.md", broken), "drain screw")[1]

    def test_nothing_is_known_of_other_words(self, folder: Path) -> None:
        sight = seen(folder, "draft.md", DRAFT)
        for words in ("Change", "and throw", "+++", "by hand"):
            assert card_at(sight, DRAFT.index(words)) is None

    @given(st.text(max_size=30))
    @settings(max_examples=100)
    def test_no_name_turns_into_markup(self, text: str) -> None:
        from markdown_it import MarkdownIt

        line = " ".join(f"x{text}x".split())
        held = MarkdownIt().parseInline(escaped(line))[0].children or []
        assert {token.type for token in held} <= {"text", "text_special"}


class TestOffers:
    def offered(self, folder: Path, name: str, text: str) -> list[tuple[str, str]]:
        """What is offered at the end of a text, and what it takes the place of."""
        return [(offer.text, text[offer.start : offer.end]) for offer in offers_at(seen(folder, name, text), len(text))]

    @pytest.mark.parametrize(
        ("tail", "wanted", "ahead"),
        [
            ('do = [ { tighten = "', "cover-bolt", ""),
            ('do = [ { tighten = "co', "cover-bolt", "co"),
            ('do = [ { fit = "cover-bolt", count = 6 },\n  { fit = "cover', "cover-gasket", "cover"),
            ('do = [ { discard = "washer", of = "', "drain-screw", ""),
            ("do = [ { ", "tighten", ""),
            ("do = [ { ti", "tighten", "ti"),
            ("do = [\n  # torque it\n  { ", "back-off", ""),
            ('do = [ { tighten = "cover-bolt", ', "to", ""),
            ('do = [ { tighten = "cover-bolt", or', "order", "or"),
            ('do = [ { tighten = "cover-bolt", order = "', "cross", ""),
            ('do = [ { fit = "cover-bolt", state = "n', "new", "n"),
            ("accept = { wr", "wrench-out-of-range", "wr"),
        ],
    )
    def test_a_step_being_written(self, folder: Path, tail: str, wanted: str, ahead: str) -> None:
        assert (wanted, ahead) in self.offered(folder, "job.toml", JOB + "[[step]]\n" + tail)

    @pytest.mark.parametrize(
        "tail",
        [
            'say = "Tighten the co',
            'do = [ { tighten = "cover-bolt" }, # { ',
            'do = [ { tighten = "cover-bolt" }',
            "do = [ ",
            'do = [ { tighten = "cover-bolt", count = ',
            'label = "',
        ],
    )
    def test_nothing_is_offered_where_nothing_is_chosen(self, folder: Path, tail: str) -> None:
        assert self.offered(folder, "job.toml", JOB + "[[step]]\n" + tail) == []

    def test_a_verb_stands_once_and_a_key_once(self, folder: Path) -> None:
        tail = '[[step]]\ndo = [ { tighten = "cover-bolt", to = "7 N·m", '
        offered = {text for text, _ in self.offered(folder, "job.toml", JOB + tail)}
        assert "order" in offered
        assert offered.isdisjoint({"to", "tighten", "fit"})

    def test_records_that_records_name(self, folder: Path) -> None:
        text = RECORDS + '[[fastener]]\nname = "x"\nseals = ["cov'
        assert self.offered(folder, "c.toml", text) == [("cover-gasket", "cov")]
        assert self.offered(folder, "c.toml", RECORDS + '[[kit]]\npart = "')[0] == ("drain-screw", "")

    @pytest.mark.parametrize(
        ("tail", "wanted", "ahead"),
        [
            ("4. Tighten the cover b", "cover bolt", "cover b"),
            ("4. Tighten the c", "cover bolt", "c"),
            ("4. Cover g", "Cover gasket", "Cover g"),
            ("4. Tighten the ", "lower screw", ""),
            ("4. Tighten it. <!-- accept hand", "hand-start-missing", "hand"),
        ],
    )
    def test_a_sentence_being_written(self, folder: Path, tail: str, wanted: str, ahead: str) -> None:
        assert (wanted, ahead) in self.offered(folder, "draft.md", DRAFT + tail)

    @pytest.mark.parametrize(
        "tail", ["4. Tighten the drain screws", "4. Discover", "4. Tighten the xcover b", "4. Fit it."]
    )
    def test_another_word_offers_no_part(self, folder: Path, tail: str) -> None:
        assert self.offered(folder, "draft.md", DRAFT + tail) == []

    @given(st.text(st.sampled_from('ab-"\'{}[]=,#\\\n 1🔧')), st.data())
    @settings(max_examples=200)
    def test_any_text_has_a_cursor(self, text: str, data: st.DataObject) -> None:
        offset = data.draw(st.integers(0, len(text)))
        cursor = cursor_at(text, offset)
        assert cursor is None or 0 <= cursor.start <= offset


class TestMends:
    def test_a_safe_rewrite_is_offered_on_its_line_only(self, folder: Path) -> None:
        for name, text in (("draft.md", DRAFT), ("job.toml", JOB)):
            sight = seen(folder, name, text)
            titles = {mend.title: mend for mend in mends_at(sight, "12 Nm" if name == "draft.md" else '12 Nm" }')}
            assert "12 N·m" in applied(text, titles["Nm is written N·m"])
            assert "12 Nm (110 lbf·in)" in applied(text, titles["The same in lbf·in"])
            assert not [mend for mend in mends_at(sight, "Remove") if mend.mark is None]

    @pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: f"{path.parent.name}/{path.stem}")
    def test_no_edit_changes_a_figure(self, path: Path) -> None:
        text = path.read_text(encoding="utf-8")
        sight = look_at(str(path), text)
        every = all_rewrites(sight)
        mends = list(mends_for(sight, sight.marks, 0, len(text))) + ([every] if every else [])
        figures = re.findall(r"\d+(?:[.,]\d+)*", text)
        for mend in mends:
            after = iter(re.findall(r"\d+(?:[.,]\d+)*", applied(text, mend)))
            assert all(figure in after for figure in figures), mend.title

    def test_all_safe_edits_at_once_and_then_none(self, folder: Path) -> None:
        every = all_rewrites(seen(folder, "draft.md", DRAFT))
        assert every is not None
        after = applied(DRAFT, every)
        assert "12 N·m (110 lbf·in)" in after
        assert all_rewrites(seen(folder, "draft.md", after)) is None

    def test_a_warning_is_moved_whole_or_not_at_all(self, folder: Path) -> None:
        warning = "\n> **WARNING** Hot oil scalds. Let the oil cool before you remove the drain screw.\n\n3. "
        text = DRAFT.replace("3. ", warning)
        for mend in mends_for(seen(folder, "draft.md", text), (), 0, len(text)):
            assert applied(text, mend).count("Hot oil scalds") == 1, mend.title

    @pytest.mark.parametrize(("name", "text"), [("draft.md", DRAFT), ("job.toml", JOB)])
    def test_a_finding_stands_once_the_reason_is_written(self, folder: Path, name: str, text: str) -> None:
        sight = seen(folder, name, text)
        words = "12 Nm" if name == "draft.md" else '12 Nm" }'
        (mend,) = [mend for mend in mends_at(sight, words) if mend.title.startswith("Let it stand")]
        after = applied(text, mend)
        waiting = seen(folder, name, after)
        assert "step-torque-off-record" in rules(waiting.marks), "without a reason nothing is let stand"
        written = after.replace('record = ""', 'record = "a trial"').replace("record: -->", "record: a trial -->")
        assert written != after
        held = seen(folder, name, written)
        assert held.marks == ()
        assert held.report is not None
        assert [aside.because for aside in held.report.verdict.set_aside] == ["a trial"]

    def test_a_second_finding_of_a_step_joins_the_first(self, folder: Path) -> None:
        text = JOB.replace('"12 Nm" }', '"12 Nm" }, { tighten = "drain-screw", to = "7 N·m (20 lbf·in)" }')
        for words in ('"12 Nm" }', '"7 N·m (20'):
            mend = next(mend for mend in mends_at(seen(folder, "job.toml", text), words[1:]) if mend.mark is not None)
            text = applied(text, mend).replace('= ""', '= "a trial"')
        assert 'accept = { step-torque-off-record = "a trial", dual-unit-disagrees = "a trial" }' in text
        left = rules(seen(folder, "job.toml", text).marks)
        assert not {"step-torque-off-record", "dual-unit-disagrees", "cannot-be-read"}.intersection(left)

    def test_a_finding_on_the_procedure_as_a_whole(self, folder: Path) -> None:
        for name, text in (("draft.md", DRAFT), ("job.toml", JOB)):
            sight = seen(folder, name, text)
            whole = sight.marks[0]._replace(step="", place=sight.document.whole())
            (mend,) = [mend for mend in mends_for(sight, [whole], 0, 0) if mend.mark is not None]
            again = seen(folder, name, applied(text, mend))
            assert again.job is not None
            assert again.job.procedure is not None
            assert [held.rule for held in again.job.procedure.accepted] == ["step-torque-off-record"]

    def test_a_comment_that_is_no_longer_needed_is_taken_out(self, folder: Path) -> None:
        text = DRAFT.replace("12 Nm.", "7 N·m (62 lbf·in). <!-- accept step-torque-off-record: a trial -->")
        sight = seen(folder, "draft.md", text)
        assert rules(sight.marks) == ["acceptance-stale"]
        (mend,) = mends_at(sight, "<!-- accept")
        assert applied(text, mend) == DRAFT.replace("12 Nm.", "7 N·m (62 lbf·in).")

    def test_the_name_that_was_meant(self, folder: Path) -> None:
        sight = seen(folder, "job.toml", JOB.replace('tighten = "drain-screw"', 'tighten = "drain-scerw"'))
        (mend,) = mends_at(sight, "drain-scerw")
        assert applied(sight.document.text, mend) == JOB
        sight = seen(folder, "job.toml", JOB.replace("[ { tighten", "[ { tihgten"))
        assert JOB in [applied(sight.document.text, mend) for mend in mends_at(sight, "tihgten")]


class TestAsItIsTyped:
    """Somebody types a file from its beginning to its end, and asks everything at every stop."""

    TEXTS: ClassVar = {
        "job.toml": JOB,
        "draft.md": DRAFT + "\n| part | size | torque |\n| --- | --- | --- |\n| drain screw | M8 | 7 N·m |\n",
        "catalogue.toml": RECORDS,
    }

    @given(st.sampled_from(sorted(TEXTS)), st.integers(0, 10_000), st.text(st.characters(codec="utf-8"), max_size=3))
    @settings(max_examples=120, deadline=None)
    def test_it_is_never_too_much_to_ask(self, name: str, at: int, typed: str) -> None:
        whole = self.TEXTS[name]
        at %= len(whole) + 1
        for text in (whole[:at] + typed, whole[:at] + typed + whole[at:]):
            sight = look_at(os.path.join(os.sep, "nowhere", name), text)
            size = len(sight.document.text)
            offset = min(at + len(typed), size)
            for mark in sight.marks:
                document = sight.documents.get(mark.place.file)
                if document is not None:
                    assert 1 <= mark.place.column <= len(document.line(mark.place.line)) + 1
            card = card_at(sight, offset)
            assert card is None or 0 <= card.start <= offset < card.end <= size
            for offer in offers_at(sight, offset):
                assert 0 <= offer.start <= offset <= offer.end <= size
            for mend in mends_for(sight, sight.marks, offset, offset):
                assert all(0 <= start <= end <= size for start, end, _ in mend.changes)


class TestCommand:
    def test_without_the_extra_it_says_how_to_get_it(
        self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        monkeypatch.setitem(sys.modules, "pygls", None)
        assert main(["editor"]) == 2
        told = capsys.readouterr()
        assert told.out == ""
        assert 'pip install "torquewright[editor]"' in told.err

    def test_started_by_hand_it_says_who_starts_it(
        self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        pytest.importorskip("pygls", reason="the language server needs the extra editor")

        class Terminal(io.StringIO):
            def isatty(self) -> bool:
                return True

        monkeypatch.setattr(sys, "stdin", Terminal())
        assert main(["editor"]) == 2
        assert "an editor starts this" in capsys.readouterr().err

    def test_only_the_protocol_reaches_standard_output(self) -> None:
        program = (
            "import os\n"
            "from torquewright.cli.editor import _own_output\n"
            "sink = _own_output()\n"
            "print('noise')\n"
            "os.write(1, b'more noise')\n"
            "sink.write(b'a message'); sink.flush()\n"
        )
        done = subprocess.run([sys.executable, "-c", program], capture_output=True, check=True)
        assert done.stdout == b"a message"
        assert b"noise" in done.stderr

    def test_the_plain_work_needs_no_protocol(self) -> None:
        program = (
            "import sys\n"
            "import torquewright.editor.papers, torquewright.editor.cards, torquewright.editor.offers\n"
            "import torquewright.editor.mends\n"
            "assert not {'pygls', 'lsprotocol'} & set(sys.modules)\n"
        )
        subprocess.run([sys.executable, "-c", program], check=True)
