"""Every fault of a TOML file: its place, what was found, what to write instead; and all of them in one run."""

from __future__ import annotations

from pathlib import Path

import pytest

from torquewright.base.trouble import Fault, InputTrouble
from torquewright.reading.files import read_catalogue, read_job
from torquewright.toml.slips import MOST


def faults(text: str, name: str = "p.toml") -> tuple[Fault, ...]:
    with pytest.raises(InputTrouble) as trouble:
        read_job(name, text=text)
    return trouble.value.faults


def only(text: str) -> Fault:
    (fault,) = faults(text)
    return fault


def marked(text: str) -> tuple[str, Fault]:
    """The only fault of ``text``, with the characters its place covers."""
    fault = only(text)
    lines = text.split("\n")
    place = fault.place
    assert place.line == place.end_line
    return lines[place.line - 1][place.column - 1 : place.end_column - 1], fault


FASTENER = '[[fastener]]\nname = "drain screw"\n'
STEP = '[[step]]\nsay = "Tighten."\n'


# ---- values -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "covers", "message", "wanted"),
    [
        ('count = "3"', "3", "a text where a whole number belongs", "3 without quotes"),
        ("count = 3.0", "3.0", "a number where a whole number belongs", "a whole number without quotes"),
        ("count = true", "true", "true or false where a whole number belongs", "a whole number without quotes"),
        ("count = 0", "0", "a count out of all reason", "a whole number from 1 to 100000"),
        ("count = -2", "-2", "a count out of all reason", "a whole number from 1 to 100000"),
        ("one-time-use = 1", "1", "a whole number where true or false belongs", "true or false, without quotes"),
        ('one-time-use = "true"', "true", "a text where true or false belongs", "true or false, without quotes"),
        ("property-class = 8.8", "8.8", "a number where a text belongs", 'a text in quotes: "8.8"'),
        ("tightening = 7", "7", "a whole number where a text belongs", 'a text in quotes: "7"'),
        ("tightening = nan", "nan", "a number where a text belongs", 'a text in quotes: "nan"'),
        ("tightening = 1e400", "1e400", "a number where a text belongs", 'a text in quotes: "inf"'),
        ('condition = "  "', "  ", "an empty text", "something to read, or leave the key out"),
        ('aliases = "lower screw"', "lower screw", "a text where a list of texts belongs", '["lower screw"]'),
        ('aliases = ["a", 7, "b"]', "7", "a whole number where a text belongs", 'a text in quotes: "7"'),
        ("aliases = []", "[]", "an empty list", "at least one text, or leave the key out"),
        ('thread-hand = "lft"\nsize = "M8"', "lft", "not a word known here", '"left"'),
        ('role = "drian"', "drian", "not a word known here", '"drain"'),
        ('kind = "scrwe"', "scrwe", "nearly a known word", '"screw"'),
        ('reuse = "sometimes"', "sometimes", "not a way of reuse known here",
         '"never", "after measuring", "free" or "3 times"'),
        ('energy = ["presure"]', "presure", "not a word known here", '"pressure"'),
        ('condition = "pre-coatd"', "pre-coatd", "nearly a known word", '"pre-coated"'),
        ('washer = { kind = "seeling" }', "seeling", "nearly a known word", '"sealing"'),
        ('washer = { cuont = 1 }', "cuont", "unknown key cuont", "did you mean count?"),
        ('lock = { one-time-use = true }', "{ one-time-use = true }", "a lock without a kind",
         'kind = "cotter pin" or another kind of lock'),
        ('retorque = "required"', "required", "a text where a table belongs",
         '{ policy = "required", after = "10 h of running" }'),
        ("options = { a = 1 }", "1", "a whole number where a text belongs", 'a text in quotes: "1"'),
        ('torque = "7 N·m"', "torque", "unknown key torque", "did you mean retorque?"),
        ('one_time_use = true', "one_time_use", "unknown key one_time_use", "did you mean one-time-use?"),
        ('thread-hand = "left"', "left", "the hand of a thread without its size", 'size = "M8x1.25" beside it'),
    ],
)  # fmt: skip
def test_a_value_of_a_fastener(line: str, covers: str, message: str, wanted: str) -> None:
    text, fault = marked(FASTENER + line)

    assert text == covers
    assert fault.message == message
    assert fault.wanted.startswith(wanted)


@pytest.mark.parametrize(
    ("line", "covers"),
    [
        ('range = "5 to 25"', "5 to 25"),
        ('range = "25 N·m"', "25 N·m"),
        ('range = "25 to 5 N·m"', "25 to 5 N·m"),
        ('deviation = "0.04"', "0.04"),
        ('deviation = "400 %"', "400 %"),
        ('calibrated-until = "2027-02-30"', "2027-02-30"),
        ("calibrated-until = 2027-01-31T07:00:00", "2027-01-31T07:00:00"),
        ('arm = "7 N·m"', "7 N·m"),
        ('scale-step = "0.5 mm"', "0.5 mm"),
    ],
)
def test_a_value_of_a_tool(line: str, covers: str) -> None:
    text, fault = marked(f'[[tool]]\nname = "torque wrench"\n{line}')

    assert covers.startswith(text) or text in covers
    assert fault.wanted


@pytest.mark.parametrize(
    ("action", "covers", "message", "wanted"),
    [
        ('to = "7 N·m"', '{ to = "7 N·m" }', "an action without a verb", "{ tighten = "),
        ('tihgten = "x", to = "7 N·m"', "tihgten", "unknown key tihgten", "did you mean tighten"),
        ('fit = "x", start = "x"', "start", "two verbs in one action, fit and start", "one action for each verb"),
        ("fit = 3", "3", "a whole number where the object of fit belongs", 'fit = "what it is done to"'),
        ('fit = ["a", "b"]', '["a", "b"]', "a list where the object of fit belongs", "one action for each of them"),
        ('tighten = "x", by = "90°"', "by", "an angle for tighten", 'turn = "…" takes by'),
        ('turn = "x", by = "7 N·m"', "7 N·m", "no angle", "degrees or turns"),
        ('turn = "x", by = "90°", to = "7 N·m"', "to", "both to and by", "by for the angle"),
        ('fit = "x", washer = "one"', "one", "not a use of washers known here", '"1 new"'),
        ('fit = "x", state = "fresh"', "fresh", "not a word known here", '"new", "old"'),
        ('fit = "x", mode = "dont"', "dont", "not a word known here", '"do not"'),
        ('fit = "x", by-hand = "yes"', "yes", "a text where true or false belongs", "true or false"),
        ('run = "x", time = "10 min", distance = "5 km"', "distance", "amount, time and distance exclude one another",
         "one of them"),
        ('oil = "x", with = "a", lubricant = "b"', "with", "with and lubricant say the same here", "one of them"),
        ('tighten = "x", with = "a", tool = "b"', "with", "with and tool say the same here", "one of them"),
        ('fill = "x", amount = "3"', "3", "", ""),
    ],
)  # fmt: skip
def test_an_action(action: str, covers: str, message: str, wanted: str) -> None:
    text, fault = marked(f"[[step]]\ndo = [ {{ {action} }} ]")

    assert text == covers
    assert fault.message.startswith(message)
    assert fault.wanted.startswith(wanted)


def test_the_wrong_part_of_a_tightening_is_marked() -> None:
    text, _ = marked(FASTENER + 'tightening = "7 N·m and a bit"')

    assert text in "7 N·m and a bit"
    assert text


def test_a_place_counts_characters_not_bytes() -> None:
    fault = only('[[fastener]]\nname = "größer 🔩"\naliases = [ "µ·° 🔩", 7 ]\n')

    assert (fault.place.line, fault.place.column, fault.place.end_column) == (3, 22, 23)


# ---- what is missing, what points to nothing ----------------------------------------------------------------------


def test_a_record_needs_a_name() -> None:
    fault = only("[[fastener]]\ncount = 3\n")

    assert fault.message == "a fastener without a name"
    assert (fault.place.line, fault.place.column) == (1, 1)


def test_an_id_twice_names_both_places() -> None:
    fault = only('[[fastener]]\nid = "a"\n[[seal]]\nname = "b"\n[[seal]]\nid = "A"\n')

    assert fault.message == 'a second record with the id "A"; the first is at p.toml:1:1'
    assert fault.place.line == 6


def test_an_id_twice_in_two_files_names_both_files(tmp_path: Path) -> None:
    (tmp_path / "c.toml").write_text("\n" + FASTENER, encoding="utf-8")

    with pytest.raises(InputTrouble) as trouble:
        read_job("p.toml", text=FASTENER + STEP, catalogue=str(tmp_path / "c.toml"))

    (fault,) = trouble.value.faults
    assert fault.place.file == str(tmp_path / "c.toml")
    assert fault.message.endswith("the first is at p.toml:1:1")


def test_a_tool_may_share_the_id_of_a_part() -> None:
    assert read_catalogue("c.toml", text='[[tool]]\nname = "lock bar"\n[[part]]\nname = "lock bar"\n').parts


@pytest.mark.parametrize(
    ("record", "covers", "wanted"),
    [
        ('seals = ["cover gaskt"]', "cover gaskt", "did you mean cover-gasket?"),
        ('fluid = "gear oil"', "gear oil", "the id of a fluid"),
        ('seals = ["drain-screw"]', "drain-screw", "the id of a seal"),
    ],
)
def test_a_record_that_points_to_nothing(record: str, covers: str, wanted: str) -> None:
    text, fault = marked(f'[[seal]]\nname = "cover gasket"\n{FASTENER}{record}')

    assert text == covers
    assert fault.wanted.startswith(wanted)


def test_a_joint_that_does_not_exist() -> None:
    text, fault = marked(f'{FASTENER}[[step]]\ndo = [ {{ discard = "washer", of = "fill screw" }} ]')

    assert text == "fill screw"
    assert fault.wanted == 'the id of a fastener: "drain-screw"'


@pytest.mark.parametrize("words", ["drain-scew", "drain-screws-", "drain scew", "darin screw", "drin-screw"])
def test_a_name_nearly_right_is_a_slip(words: str) -> None:
    text, fault = marked(f'{FASTENER}[[step]]\ndo = [ {{ fit = "{words}" }} ]')

    assert text == words
    assert fault.wanted == "did you mean drain-screw?"


@pytest.mark.parametrize("words", ["casing cover", "drain hose", "tray", "o-ring", "drain screw 2", "washer"])
def test_other_words_stand_as_they_are(words: str) -> None:
    job = read_job("p.toml", text=f'{FASTENER}[[step]]\ndo = [ {{ fit = "{words}" }} ]')

    assert job.procedure is not None
    assert job.procedure.steps[0].actions[0].what == words


def test_two_numbered_parts_are_no_slip_of_each_other() -> None:
    job = read_job("p.toml", text='[[part]]\nname = "valve 1"\n[[step]]\ndo = [ { fit = "valve 2" } ]\n')

    assert job.procedure is not None
    assert job.procedure.steps[0].actions[0].what == "valve 2"


def test_a_name_of_two_records_asks_for_the_id() -> None:
    text, fault = marked(
        '[[fastener]]\nid = "front"\nname = "cap"\n[[fastener]]\nid = "rear"\nname = "cap"\n'
        '[[step]]\ndo = [ { fit = "caps" } ]'
    )

    assert text == "caps"
    assert fault.wanted == 'the id: "front" or "rear"'


@pytest.mark.parametrize(
    ("text", "message", "line"),
    [
        ("", "an empty file", 1),
        ("# nothing\n", "an empty file", 1),
        ('title = "x"\n', "a procedure without steps", 1),
        ("[[step]]\n", "a step that says nothing and does nothing", 1),
        ("step = 3\n", "a whole number where [[step]] tables belong", 1),
        ("step = [ 3 ]\n", "a whole number where a step belongs", 1),
        ('[step]\nsay = "x"\n', "a table where [[step]] tables belong", 1),
        ('[fastener]\nname = "x"\n', "a table where [[fastener]] tables belong", 1),
        ("fastener = [ 1 ]\n", "a whole number where a table belongs", 1),
        ("machine = 3\n", "a whole number where a table belongs", 1),
        ('policy = "navy"\n', "not a word known here", 1),
        (f'{STEP}[[catalogue]]\nname = "x"\n', "catalogue names a file", 3),
        (f"{STEP}do = 3\n", "a whole number where a list of actions belongs", 3),
        (f'{STEP}do = {{ fit = "x" }}\n', "a table where a list of actions belongs", 3),
        (f'{STEP}do = [ "fit x" ]\n', "a text where an action belongs", 3),
        (f'{STEP}messages = [ {{ signal = "WARNING" }} ]\n', "a message without text", 3),
        (f'{STEP}messages = "hot"\n', "a text where a list of messages belongs", 3),
        (f"kit = 3\n{STEP}", "a whole number where [[kit]] tables belong", 1),
        (f"{STEP}[[kit]]\ncount = 1\n", "a kit line without part", 3),
    ],
)
def test_the_shape_of_a_file(text: str, message: str, line: int) -> None:
    fault = only(text)

    assert fault.message == message
    assert fault.place.line == line


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ('title = "x"', "title belongs to a procedure, not to a file of records"),
        ('[[step]]\nsay = "x"', "step belongs to a procedure, not to a file of records"),
        ('verdict = "go"', "unknown key verdict"),
        ('kit = "k.toml"', "a kit file named in a file of records"),
    ],
)
def test_a_file_of_records_holds_nothing_else(line: str, message: str) -> None:
    with pytest.raises(InputTrouble) as trouble:
        read_catalogue("c.toml", text=line)

    assert [fault.message for fault in trouble.value.faults] == [message]


# ---- no TOML ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "covers", "message", "wanted"),
    [
        ("title = Change the oil", "Change the oil", "a text without quotes", '"Change the oil"'),
        (f"{FASTENER}tightening = 7 N·m", "7 N·m", "a text without quotes", '"7 N·m"'),
        ("[[step]]\ndo = [ { fit = drain-screw } ]", "drain-screw", "a text without quotes", '"drain-screw"'),
        (f"{FASTENER}one-time-use = True", "True", "not a word of TOML", "true, without quotes"),
        (f"{FASTENER}one-time-use = no", "no", "not a word of TOML", "false, without quotes"),
        (f"{FASTENER}condition = “dry”", "“dry”", "curly quotes", '"dry" in straight quotes'),
        (f"{FASTENER}count = 1,5", "1,5", "a decimal comma outside quotes", "1.5"),
        ('title = "x" "y"', '"x" "y"', "more behind the closing quote", "one text"),
        ('title = "open', '"open', "a quote that is never closed", '"open"'),
        ("title = 'open", "'open", "a quote that is never closed", "'open'"),
        ('[[step]]\nsay = "open\ndo = []', '"open', "a quote that is never closed", '"open"'),
        ('title = """open\nmore\n', '"""', "quotes that are never closed", '""" at the end'),
        (r'title = "C:\qa"', r"\q", "a backslash in a text in double quotes", r"\\"),
        ('title = "a\x01b"', "\x01", "a control character, U+0001", "a text without it"),
        ("\x00", "\x00", "a control character, U+0000", "a text without it"),
        ("title: Change", "title: Change", "a colon where = belongs", 'title = "Change"'),
        ("job date = 3", "job date = 3", "a key with a space in it", "job-date ="),
        ("title =", "title =", "a key without a value", 'title = "…"'),
        ("Remove the drain screw.", "Remove the drain screw.", "neither a key with its value nor a header", "key = "),
        ("[[step]\nsay = 'x'", "[[step]", "a header without its closing brackets", "[[step]]"),
        ("[[step]] say = 'x'", "[[step]] say = 'x'", "more behind a header", "[[step]] on a line of its own"),
        (f"{FASTENER}aliases = ['a' 'b']", "'b'", "two entries without a comma between them", "a comma"),
        (f"{FASTENER}washer = {{ count = 1, }}", ",", "a comma ahead of the closing bracket", "no comma"),
        (f"{STEP}do = [ {{ fit = 'x' ]", "]", "a { that is never closed", "} ahead of this ]"),
        (f"{STEP}do = [\n  {{ fit = 'x' }},\n", "[", "a [ that is never closed", "] after the last entry"),
        (f"{STEP}do = [\n\n[[step]]\nsay = 'x'", "[", "a [ that is never closed", "] after the last entry"),
        (f"job-date = 2027-13-45\n{STEP}", "2027-13-45", "not a day of the calendar", '"2027-01-31"'),
    ],
)
def test_a_text_that_is_no_toml(text: str, covers: str, message: str, wanted: str) -> None:
    found, fault = marked(text)

    assert found == covers
    assert fault.message == message
    assert fault.wanted.startswith(wanted)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (f'{FASTENER}name = "x"', "name a second time; the first is at p.toml:2:1"),
        ('washer = { kind = "a", kind = "b" }', "kind a second time; the first is at p.toml:1:12"),
        (f'{STEP}[step]\nsay = "y"', "[step] once more, where there is one already, at p.toml:1:1"),
    ],
)
def test_a_key_or_header_given_twice_names_the_first(text: str, message: str) -> None:
    assert message in [fault.message for fault in faults(text)]


def test_an_inline_table_over_several_lines_is_told_once_and_read_on() -> None:
    first, second = faults(f'{FASTENER}washer = {{\n  kind = "flat",\n  count = "1",\n}}\n')

    assert (first.message, first.place.line) == ("an inline table over more than one line", 3)
    assert (second.message, second.place.line) == ("a text where a whole number belongs", 5)


def test_all_faults_of_a_file_come_in_one_run() -> None:
    found = faults(
        'title = Change\n'  # no quotes
        '[[fastener]]\nname = "drain screw"\ncount = "1"\nmating_material = "steel"\ntightening = "soft"\n'
        '[[step]]\nsay = 3\n'
        '[[step]\nsay = "x"\n'  # no second bracket
        '[[step]]\ndo = [ { fit = "x", to = nothing } ]\n'
        '[[step]]\nsay = "y"\nfoo = 1\n'
    )  # fmt: skip

    assert [fault.place.line for fault in found] == [1, 4, 5, 6, 8, 9, 12, 15]


def test_all_faults_of_all_files_come_in_one_run(tmp_path: Path) -> None:
    (tmp_path / "c.toml").write_text('[[fastener]]\nname = "x"\ncount = "1"\n', encoding="utf-8")
    (tmp_path / "t.toml").write_text('[[tool]\nname = "y"\n', encoding="utf-8")

    with pytest.raises(InputTrouble) as trouble:
        read_job(
            str(tmp_path / "p.toml"),
            text='catalogue = "c.toml"\ntools = "t.toml"\nkit = "k.toml"\n[[step]]\nsay = 1\n',
        )

    places = {(Path(fault.place.file).name, fault.place.line) for fault in trouble.value.faults}
    assert places == {("c.toml", 3), ("t.toml", 1), ("p.toml", 3), ("p.toml", 5)}


def test_what_may_stand_in_the_broken_part_is_not_called_missing() -> None:
    fault = only('[[fastener]]\nname = drain screw\n[[step]]\ndo = [ { discard = "washer", of = "drain-screw" } ]\n')

    assert fault.message == "a text without quotes"


def test_a_file_with_endless_faults_is_cut_short() -> None:
    found = faults("[[fastener]]\nname = 'x'\n" + "".join(f"key-{number} = 1\n" for number in range(3000)))

    assert len(found) == MOST + 1
    assert found[-1].message == f"more than {MOST} faults in this file"
