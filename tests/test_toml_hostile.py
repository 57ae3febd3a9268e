"""Nothing anybody puts in a file makes the reader fall over: a job, or faults with places inside the text."""

from __future__ import annotations

import os
import tomllib
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from torquewright.base.document import Document
from torquewright.base.trouble import InputTrouble
from torquewright.reading.files import read_catalogue, read_job
from torquewright.toml import keys
from torquewright.toml.opening import LARGEST, decode, open_document
from torquewright.toml.places import TomlPlaces


def read(text: str) -> None:
    """Read ``text``; every fault must lie in it and say something."""
    try:
        read_job("p.toml", text=text)
    except InputTrouble as trouble:
        document = Document("p.toml", text)
        lines = document.text.split("\n")
        for fault in trouble.faults:
            line, column, end_line, end_column = fault.place[1:]
            assert 1 <= line <= end_line <= len(lines)
            assert 1 <= column <= len(lines[line - 1]) + 1
            assert 1 <= end_column <= len(lines[end_line - 1]) + 1
            assert (line, column) <= (end_line, end_column)
            assert fault.message
            assert fault.wanted
            assert "\n" not in fault.message + fault.found + fault.wanted


PIECES = st.sampled_from(
    ["[", "]", "[[", "]]", "{", "}", '"', "'", '"""', "'''", "=", ",", ".", "#", "\n", "\r\n", "\\", " ", "\t", "\x00",
     "[[step]]\n", "[[fastener]]\n", "[step]\n", "[machine]\n", "say = ", "do = [", "name = ", "id = ", "count = ",
     "to = ", '"7 N·m"', "true", "nan", "-inf", "1e400", "0x_", "2027-01-31", "07:00", "drain-screw", "“", "🔩", "é",
     '{ fit = "x" }', 'washer = { kind = "flat" }', "a.b.c = 1\n", '"\\u0041" = 1\n', "\ufeff"]
)  # fmt: skip


@given(st.one_of(st.text(max_size=60), st.lists(PIECES, max_size=25).map("".join)))
@settings(max_examples=150, deadline=None)
@example("[[step]]\nsay = '''\n")
@example('a = """""')
@example("[a]\n[[a]]\n")
@example("a = 1\n[a.b]\n")
@example("a = [1\nb = 2\n")
def test_any_text_is_read_or_refused(text: str) -> None:
    read(text)


_LINES = [
    *(f"[[{name}]]" for name in keys.RECORDS),
    "[[step]]",
    "[machine]",
    *(
        f"{key} = {example}"
        for table in (*keys.RECORDS.values(), keys.PROCEDURE, keys.STEP)
        for key, (*_, example) in table.items()
        if not example.startswith("[[")
    ),
    'do = [ { tighten = "drain screw", to = "7 N·m" } ]',
    "count = 0",
    'count = "1"',
    'name = ["x"]',
    "step = 1",
]  # fmt: skip


@given(st.lists(st.sampled_from(_LINES), max_size=20))
@settings(max_examples=100, deadline=None)
def test_any_pile_of_known_lines_is_read_or_refused(lines: list[str]) -> None:
    read("\n".join(lines))


ANYTHING = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=8), st.dates(), st.times()),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(sorted(keys.FASTENER)), inner, max_size=3)
    ),
    max_leaves=6,
)


def _toml(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if value is None:
        return "[]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key} = {_toml(item)}" for key, item in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_toml, value)) + "]"
    if isinstance(value, str):
        inside = "".join(sign if sign.isprintable() and sign not in '"\\' else f"\\U{ord(sign):08x}" for sign in value)
        return f'"{inside}"' if not any(0xD800 <= ord(sign) <= 0xDFFF for sign in value) else '"?"'
    return str(value)


KEYS = st.sampled_from(sorted({key for table in keys.RECORDS.values() for key in table}))


@given(st.sampled_from(sorted(keys.RECORDS)), st.dictionaries(KEYS, ANYTHING, max_size=5))
@settings(max_examples=100, deadline=None)
def test_any_value_under_any_key_is_read_or_refused(table: str, values: dict[str, object]) -> None:
    read(f"[[{table}]]\n" + "".join(f"{key} = {_toml(value)}\n" for key, value in values.items()))


@given(st.dictionaries(st.sampled_from([*keys.VERB_KEYS, *keys.ACTION]), ANYTHING, max_size=4))
@settings(max_examples=100, deadline=None)
def test_any_action_is_read_or_refused(action: dict[str, object]) -> None:
    read(f'[[fastener]]\nname = "drain screw"\n[[step]]\ndo = [ {_toml(action)} ]\n')


# ---- what costs time or memory ------------------------------------------------------------------------------------


def refused(text: str) -> str:
    with pytest.raises(InputTrouble) as trouble:
        read_job("p.toml", text=text)
    return trouble.value.faults[0].message


@pytest.mark.parametrize("opening", ["[", "{ a = ", "[ [ { a = "])
@pytest.mark.parametrize("depth", [70, 400, 100_000])
def test_deep_nesting_is_refused(opening: str, depth: int) -> None:
    assert refused("title = " + opening * depth) == "nested deeper than anybody writes"


@pytest.mark.parametrize("key", ["a", '"a"', "''"])
def test_a_long_dotted_key_is_refused_before_it_costs_time(key: str) -> None:
    assert refused(".".join([key] * 200_000) + " = 1") == "nested deeper than anybody writes"
    assert refused("[" + ".".join([key] * 200_000) + "]") == "nested deeper than anybody writes"


def test_a_number_of_thousands_of_digits_is_refused() -> None:
    assert refused("title = " + "9" * 5000) == "a number of thousands of digits"


def test_quotes_never_closed_over_a_long_text_are_refused() -> None:
    assert refused('title = """' + "x \\\\ " * 200_000) == "quotes that are never closed"


@pytest.mark.parametrize("key", ["tightening", "size", "drive", "length", "prevailing"])
@pytest.mark.parametrize("piece", ["7 N·m ", "M8x", "1/", "9", "± "])
def test_a_notation_without_end_is_refused_before_it_costs_time(key: str, piece: str) -> None:
    message = refused(f'[[fastener]]\nname = "x"\n{key} = "{piece * 50_000}"\n')

    assert message.endswith("characters where one value belongs")


def test_thousands_of_broken_lines_are_told_up_to_a_limit() -> None:
    with pytest.raises(InputTrouble) as trouble:
        read_job("p.toml", text="this is no TOML\n" * 20_000)

    assert 1 < len(trouble.value.faults) < 50


def test_a_thousand_steps_are_read_whole() -> None:
    job = read_job("p.toml", text='[[step]]\nsay = "x"\ndo = [ { fit = "cover" } ]\n' * 1000)

    assert job.procedure is not None
    assert job.procedure.steps[999].label == "1000"


# ---- bytes and files ----------------------------------------------------------------------------------------------


def test_a_file_too_large_is_not_read(tmp_path: Path) -> None:
    file = tmp_path / "large.toml"
    file.write_bytes(b"#" * (2 * LARGEST))

    with pytest.raises(InputTrouble) as trouble:
        read_job(str(file))

    assert trouble.value.faults[0].message == "a file too large to be a procedure"


def test_the_largest_file_is_read(tmp_path: Path) -> None:
    file = tmp_path / "large.toml"
    file.write_bytes(b'[[step]]\nsay = "x"\n' + b"#" * (LARGEST - 19))

    assert read_job(str(file)).procedure is not None


@pytest.mark.parametrize(
    ("data", "line", "column", "found"),
    [
        (b'title = "\xff"\n', 1, 10, "byte 0xff"),
        (b'title = "a"\r\n# \xc3\xa4\xc3(\n', 2, 4, "byte 0xc3"),
        ('title = "µ"'.encode() + b"\x80", 1, 12, "byte 0x80"),
        ('title = "x"'.encode("utf-16"), 1, 1, "a UTF-16 byte order mark"),
    ],
)
def test_the_first_byte_that_is_no_utf_8_is_named(data: bytes, line: int, column: int, found: str) -> None:
    with pytest.raises(InputTrouble) as trouble:
        decode(data, "-")

    (fault,) = trouble.value.faults
    assert (fault.place.line, fault.place.column, fault.found) == (line, column, found)


def test_a_file_that_cannot_be_opened_is_a_fault(tmp_path: Path) -> None:
    for name in (str(tmp_path), str(tmp_path / "none.toml"), "a\0b", "x" * 5000, str(tmp_path / "p.toml" / "x")):
        (tmp_path / "p.toml").touch()
        with pytest.raises(InputTrouble) as trouble:
            open_document(name)
        assert trouble.value.faults[0].wanted


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="the superuser may read everything")
def test_a_file_without_permission_is_a_fault(tmp_path: Path) -> None:
    file = tmp_path / "p.toml"
    file.touch(mode=0o000)

    with pytest.raises(InputTrouble):
        read_catalogue(str(file))


def test_a_pipe_named_in_a_procedure_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "c.toml")

    with pytest.raises(InputTrouble) as trouble:
        read_job(str(tmp_path / "p.toml"), text='catalogue = "c.toml"\n[[step]]\nsay = "x"\n')

    assert trouble.value.faults[0].message == "not an ordinary file"


# ---- the places scanner alone -------------------------------------------------------------------------------------


@given(st.one_of(st.text(max_size=80), st.lists(PIECES, max_size=30).map("".join)))
@settings(max_examples=120, deadline=None)
def test_the_scanner_takes_any_text(text: str) -> None:
    places = TomlPlaces(Document("p.toml", text))

    for path in ((), ("step", 0, "say"), ("fastener", "drain-screw", "count")):
        start, end = places.nearest(path)
        assert 0 <= start <= end <= len(places.document.text)


@given(st.lists(PIECES, max_size=30).map("".join))
@settings(max_examples=120, deadline=None)
def test_the_scanner_follows_whatever_the_parser_takes(text: str) -> None:
    document = Document("p.toml", text)
    try:
        tomllib.loads(document.text)
    except (ValueError, RecursionError):
        return

    assert TomlPlaces(document).lost() == []
