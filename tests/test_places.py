"""The place of a value is where it stands: whatever a path finds in a text parses back to the value of that path."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
import tomli_w
from hypothesis import example, given, settings
from hypothesis import strategies as st

from torquewright.base.document import Document, Path, Place, Places
from torquewright.reading.files import read_job
from torquewright.toml.places import TomlPlaces

# ---- any document: the slice parses back --------------------------------------------------------------------------


def scalars(value: Any, path: Path = ()) -> Iterator[tuple[Path, Any]]:
    if isinstance(value, dict):
        for key, item in value.items():
            yield from scalars(item, (*path, key))
    elif isinstance(value, list):
        for number, item in enumerate(value):
            yield from scalars(item, (*path, number))
    else:
        yield path, value


def parsed_slice(text: str, start: int, end: int, value: Any) -> Any:
    raw = text[start:end]
    if not isinstance(value, str):
        return tomllib.loads(f"v = {raw}")["v"]
    assert text[start - 1] in "\"'\n"
    return raw if text[end] == "'" else tomllib.loads(f'v = """\n{raw}"""')["v"]


def check_places(text: str) -> None:
    document = Document("x.toml", text)
    places = TomlPlaces(document)
    for path, value in scalars(tomllib.loads(document.text)):
        span = places.find(path)
        assert span is not None, path
        assert parsed_slice(document.text, *span, value) == value or value != value
        if isinstance(path[-1], str):
            key = places.key(path)
            assert key is not None, path
            raw = document.text[slice(*key)]
            assert raw == path[-1] or tomllib.loads(f'v = "{raw}"')["v"] == path[-1]


WORD = st.text(st.characters(blacklist_categories=("Cs",)), max_size=6)
SCALAR = st.one_of(
    st.booleans(),
    st.integers(-(10**12), 10**12),
    st.floats(allow_nan=False, allow_infinity=False),
    WORD,
    st.dates(),
    st.times(),
    st.datetimes(),
)
TABLE = st.recursive(
    st.dictionaries(WORD, SCALAR, max_size=3),
    lambda inner: st.dictionaries(
        WORD, st.one_of(SCALAR, inner, st.lists(SCALAR, max_size=3), st.lists(inner, max_size=3)), max_size=3
    ),
    max_leaves=8,
)


@given(TABLE, st.booleans())
@settings(max_examples=100, deadline=None)
def test_places_in_what_a_program_writes(table: dict[str, Any], multiline: bool) -> None:
    check_places(tomli_w.dumps(table, multiline_strings=multiline))


BARE = st.sampled_from(["a", "b-1", "c_2", "3", "say", "do"])
KEY = st.one_of(BARE, st.sampled_from(['"a b"', "'c.d'", '"\\u00e9"', '""', "''", '"#"', '"="']))
SPACE = st.sampled_from(["", " ", "  ", "\t"])
COMMENT = st.sampled_from(["", "", " # a comment, [with] \"signs\" = {}", " #"])
INSIDE = st.text(st.sampled_from("ab µ·🔩[]{}=,#."), max_size=8)
HAND_SCALAR = st.one_of(
    INSIDE.map(lambda text: f'"{text}"'),
    INSIDE.map(lambda text: f"'{text}'"),
    INSIDE.map(lambda text: f'"{text}\\n\\"\\\\\\u00b7"'),
    INSIDE.map(lambda text: f'"""{text}\n"one" ""two"" {text}"""'),
    INSIDE.map(lambda text: f'"""\n{text}\\\n   {text}"""'),
    INSIDE.map(lambda text: f"'''{text}\n'one' ''two'' {text}'''"),
    INSIDE.map(lambda text: f"'''\n{text}'''"),
    st.sampled_from(
        ['""""""', "''''''", '"""a"""""', '""""a"""', "'''a'''''", "''''a'''", '"""\\""""', "1_000", "0xff", "-1.5e-3",
         "+inf", "true", "2027-01-31", "2027-01-31 07:00:00", "2027-01-31T07:00:00.5+01:00", "07:00:00"]
    ),
)  # fmt: skip
GAP = st.sampled_from(["", " ", "\n", "\n  # between, ] }\n", " \n\t"])


@st.composite
def hand_value(draw: st.DrawFn, depth: int = 0) -> str:
    if depth < 3 and draw(st.integers(0, 3)) == 0:
        if draw(st.booleans()):
            items = draw(st.lists(hand_value(depth + 1), max_size=3))
            parts = [f"{draw(GAP)}{item}{draw(GAP)}" for item in items]
            comma = "," if items and draw(st.booleans()) else ""
            return f"[{','.join(parts)}{comma}{draw(GAP)}]"
        pairs = draw(st.lists(st.tuples(KEY, hand_value(depth + 1)), max_size=3, unique_by=lambda pair: pair[0]))
        return "{ " + ", ".join(f"{key} = {value}" for key, value in pairs) + " }"
    return draw(HAND_SCALAR)


@st.composite
def hand_document(draw: st.DrawFn) -> str:
    lines = []
    for _ in range(draw(st.integers(1, 8))):
        kind = draw(st.integers(0, 9))
        if kind < 2:
            path = f"{draw(SPACE)}.{draw(SPACE)}".join(draw(st.lists(KEY, min_size=1, max_size=2)))
            left, right = ("[[", "]]") if kind == 0 or draw(st.booleans()) else ("[", "]")
            lines.append(f"{draw(SPACE)}{left}{draw(SPACE)}{path}{draw(SPACE)}{right}{draw(COMMENT)}")
        elif kind == 2:
            lines.append(draw(st.sampled_from(["", "# alone", "  \t"])))
        else:
            path = f"{draw(SPACE)}.{draw(SPACE)}".join(draw(st.lists(KEY, min_size=1, max_size=2)))
            value = draw(hand_value())
            lines.append(f"{draw(SPACE)}{path}{draw(SPACE)}={draw(SPACE)}{value}{draw(SPACE)}{draw(COMMENT)}")
    return draw(st.sampled_from(["\n", "\r\n"])).join(lines)


@given(hand_document())
@settings(max_examples=100, deadline=None)
@example('[[step]]\ndo = [\n  { tighten = "a", to = "7 N·m" }, # first\n  { fit = "b" },\n]\n')
@example("[[a]]\n[[a.b]]\nc = 1\n[[a.b]]\nc = 2\n[a.d]\ne = 3\n[[a]]\n[[a.b]]\nc = 4\n")
@example('a.b = 1\na . "c" = 2\n')
def test_places_in_what_people_write(text: str) -> None:
    try:
        tomllib.loads(Document("x.toml", text).text)
    except tomllib.TOMLDecodeError:
        return  # two keys alike; what is no TOML has tests of its own
    check_places(text)


# ---- what the reports ask for -------------------------------------------------------------------------------------

JOB = """\
title = "Seal the volute"   # invented hydroponic feed pump

[[fastener]]
name = "Volute screw"
tightening = "3 to 4 N·m"

[[fastener]]
id = "drain-plug"
washer = { kind = "sealing" }
lock.kind = "tab"

[[step]]
say = '''
Tighten
the screws.'''
do = [ { tighten = "volute-screw", to = "3.5 N·m (31 lbf·in)" },
       { fit = "drain-plug", note = "a \\"b\\" c" } ]
"""


def text_at(place: Place | None, text: str = JOB) -> str:
    assert place is not None
    document = Document("x", text)
    return text[document.offset(place.line, place.column) : document.offset(place.end_line, place.end_column)]


@pytest.fixture(scope="module")
def places() -> Places:
    return read_job("x.toml", text=JOB).places


@pytest.mark.parametrize(
    ("path", "part", "found"),
    [
        (("title",), "procedure", "Seal the volute"),
        (("step", 0), "procedure", "[[step]]"),
        (("step", 0, "say"), "procedure", "Tighten\nthe screws."),
        (("step", 0, "do", 0), "procedure", '{ tighten = "volute-screw", to = "3.5 N·m (31 lbf·in)" }'),
        (("step", 0, "do", 0, "to"), "procedure", "3.5 N·m (31 lbf·in)"),
        (("step", 0, "do", 0, "with"), "procedure", '{ tighten = "volute-screw", to = "3.5 N·m (31 lbf·in)" }'),
        (("step", 0, "do", 7, "to"), "procedure", JOB[JOB.index("[ {") : JOB.rindex("]") + 1]),
        (("step", 9, "say"), "procedure", "[[step]]"),
        (("nothing",), "procedure", 'title = "Seal the volute"   # invented hydroponic feed pump'),
        (("fastener", "volute-screw", "tightening"), "catalogue", "3 to 4 N·m"),
        (("fastener", "volute-screw"), "tools", "[[fastener]]"),
        (("fastener", "drain-plug", "washer", "kind"), "catalogue", "sealing"),
        (("fastener", "drain-plug", "lock"), "catalogue", "lock"),
        (("fastener", "drain-plug", "lock", "kind"), "kit", "tab"),
        (("fastener", "drain-plug", "tightening"), "catalogue", "[[fastener]]"),
        (("fastener", 1, "id"), "procedure", "drain-plug"),
    ],
)  # fmt: skip
def test_a_path_finds_its_value_or_what_is_around_it(places: Places, path: Path, part: str, found: str) -> None:
    assert text_at(places.find(path, part)) == found


def test_part_of_a_text_value(places: Places) -> None:
    assert text_at(places.within(("step", 0, "do", 0, "to"), 9, 18)) == "31 lbf·in"
    # escapes stand in the way, and offsets outside it: the whole value
    assert text_at(places.within(("step", 0, "do", 1, "note"), 2, 3)) == 'a \\"b\\" c'
    assert text_at(places.within(("step", 0, "do", 0, "to"), 9, 99)) == "3.5 N·m (31 lbf·in)"


def test_a_record_is_found_in_whichever_file_holds_it(tmp_path: Any) -> None:
    (tmp_path / "c.toml").write_text('[[fastener]]\nname = "far plug"\ncount = 2\n', encoding="utf-8")
    (tmp_path / "t.toml").write_text('\n[[tool]]\nname = "driver"\n', encoding="utf-8")

    held = read_job("x.toml", text=JOB, catalogue=str(tmp_path / "c.toml"), tools=str(tmp_path / "t.toml")).places

    far = held.find(("fastener", "far-plug", "count"), "catalogue")
    near = held.find(("fastener", "drain-plug", "id"), "catalogue")
    tool = held.find(("tool", "driver", "name"), "tools")
    assert (far, near, tool) == (
        Place(str(tmp_path / "c.toml"), 3, 9, 3, 10),
        Place("x.toml", 8, 7, 8, 17),
        Place(str(tmp_path / "t.toml"), 3, 9, 3, 15),
    )
    assert held.document("tools") is not None
    assert held.document("tools").name == str(tmp_path / "t.toml")  # type: ignore[union-attr]


@pytest.mark.parametrize("ends", ["\n", "\r\n", "\r"])
def test_line_ends_do_not_move_a_place(ends: str) -> None:
    text = JOB.replace("\n", ends)
    assert read_job("x.toml", text="\ufeff" + text).places.find(("step", 0, "do", 1, "fit")) == Place(
        "x.toml", 17, 17, 17, 27
    )


def test_a_stretch_of_a_document_keeps_the_lines_of_the_whole() -> None:
    document = Document("x.md", "# Title\n+++\ncatalogue = 'c.toml'\n+++\nb = 1\n")
    places = TomlPlaces(document, 12, 33)

    assert document.place(*places.nearest(("catalogue",))) == Place("x.md", 3, 14, 3, 20)
    assert places.find(("b",)) is None
    assert document.place(*places.nearest(("b",))).line == 3
