"""What a sound TOML file is read as: the vocabulary, the references, the files that make up one job."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from torquewright.base.trouble import InputTrouble
from torquewright.reading.files import read_catalogue, read_job
from torquewright.reading.job import Job
from torquewright.records import (
    VERBS,
    Action,
    Amount,
    Catalogue,
    Drive,
    KitItem,
    Lock,
    Message,
    Retorque,
    Source,
    Tool,
    Washer,
    WasherUse,
)
from torquewright.toml import keys

# An invented dairy vacuum pump.
PUMP = """
title = "Change the exhaust box gasket"
variant = "two-stage"
job-date = 2027-01-31
given = [ { stop = "pump" } ]
messages = [ { signal = "WARNING", text = "Lock the isolator." } ]
tools-named = ["torque driver", "rag"]
policy = "aviation"

[machine]
name = "Linden 4 vacuum pump"
source = "invented"
revision = "B"
variant = "two-stage"

[[fastener]]
id = "box-screw"
name = "exhaust box screw"
aliases = ["box screw"]
count = 6
kind = "screw"
size = "M6x1"
thread-hand = "left"
length = "20 mm"
property-class = "8.8"
finish = "zinc plated"
drive = "hex 10 mm"
mating-material = "aluminium casting"
bearing-material = "steel"
engagement = "10 mm"
hole-depth = "14 mm"
stack = "8 mm"
one-time-use = false
reuse = "3 times"
washer = { kind = "sealing", count = 1, one-time-use = true, captive = false }
seals = ["Exhaust Gasket"]
lock = { kind = "split pin", one-time-use = true, built-in = false }
tightening = "7 to 9 N·m"
part-limit = "12 N·m"
condition = "dry"
prevailing = "1.5 N·m"
hand-start = true
pattern = "cross"
retorque = { policy = "required", after = "10 h" }
energy = ["pressure"]
safety = true
fluid = "pump oil"
role = "drain"
options = { colour = "blue", bag = "7" }
source = "invented"
revision = "C"

[[seal]]
name = "exhaust gasket"
count = 1
kind = "gasket"
one-time-use = true
lubricant = "dry"

[[fluid]]
name = "pump oil"
amount = "0.62 L"
level-at = "middle of the glass"

[[part]]
name = "exhaust box"
material = "aluminium"

[[tool]]
name = "small torque driver"
range = "2 to 20 N·m"
usable-from = "4 N·m"
deviation = "4 %"
scale-step = "0.5 N·m"
arm = "300 mm"
drive = "square 1/4 in"
calibrated-until = "2027-06-30"

[[kit]]
part = "exhaust gaskets"
count = 1

[[kit]]
part = "washer"
of = "box-screw"
count = 6

[[step]]
say = "Take the box off."
section = "Open"
do = [ { remove = "Box screws", count = 6 }, { discard = "washer", of = "box screw" }, { remove = "casing cover" } ]
messages = [ { signal = "CAUTION", text = "Hot oil." }, { signal = "NOTE", text = "Six.", after = true } ]

[[step]]
label = "1a"
do = [
  { fit = "exhaust gasket", state = "new", lubricant = "grease" },
  { fit = "box-screw", washer = "1 new", by-hand = true },
  { lock = "box-screw", with = "lockwire", mode = "do not", note = "not yet" },
  { tighten = "box-screw", to = "8 N·m", with = "Small torque driver", passes = 2, setting = "6 N·m", order = "1-2-3" },
  { turn = "box-screw", by = "90°" },
  { fill = "pump oil", amount = "0.62 L" },
  { run = "pump", time = "10 min" },
  { wait = "10 min" },
  { run = "bike", distance = "5 km" },
  { oil = "box-screw", with = "moly paste", tool = "brush" },
  { place = "bottle", as-written = true },
]
"""


@pytest.fixture(scope="module")
def pump() -> Job:
    return read_job("pump.toml", text=PUMP)


def test_fastener_record_holds_every_key_in_si(pump: Job) -> None:
    screw = pump.catalogue.fasteners[0]

    assert (screw.id, screw.name, screw.aliases, screw.count) == ("box-screw", "exhaust box screw", ("box screw",), 6)
    assert screw.thread is not None
    assert (screw.thread.diameter, screw.thread.pitch, screw.thread.hand) == (0.006, 0.001, "left")
    assert screw.length == Amount(0.02, "mm", 0.0005)
    assert screw.drive == Drive("hex", "10 mm", 0.01)
    assert (screw.reuse, screw.reuse_limit) == ("limited", 3)
    assert screw.washer == Washer("sealing", 1, True, False)
    assert screw.washer_unstated is False
    assert screw.lock == Lock("cotter pin", True, False)
    assert screw.retorque == Retorque("required", "10 h")
    assert screw.tightening is not None
    assert screw.tightening.stages[0].torque is not None
    assert screw.tightening.stages[0].torque.band == (7.0, 9.0)
    assert screw.prevailing is not None
    assert screw.prevailing.value == 1.5
    assert (screw.energy, screw.safety, screw.role, screw.pattern) == (("pressure",), True, "drain", "cross")
    assert screw.options == (("bag", "7"), ("colour", "blue"))
    assert screw.source == Source("invented", "C")


def test_references_between_records_are_resolved_by_name(pump: Job) -> None:
    screw = pump.catalogue.fasteners[0]

    assert screw.seals == ("exhaust-gasket",)
    assert screw.fluid == "pump-oil"
    assert pump.catalogue.kit == (KitItem("exhaust-gasket", 1), KitItem("washer", 6, "box-screw"))


def test_ids_and_kinds_left_out_come_from_the_name(pump: Job) -> None:
    assert pump.catalogue.tools == (
        Tool(
            "small-torque-driver",
            "small torque driver",
            kind="torque driver",
            low=2.0,
            high=20.0,
            unit="N·m",
            usable_low=4.0,
            deviation=0.04,
            step=0.5,
            arm=0.3,
            drive=Drive("square", "1/4 in", 0.00635),
            calibrated_until="2027-06-30",
            half=0.5,
        ),
    )
    assert [record.id for record in pump.catalogue.parts] == ["exhaust-box"]


def test_procedure_head_is_read(pump: Job) -> None:
    assert pump.procedure is not None
    assert pump.procedure.title == "Change the exhaust box gasket"
    assert pump.procedure.variant == pump.catalogue.variant == "two-stage"
    assert pump.procedure.job_date == "2027-01-31"
    assert pump.procedure.given == (Action("stop", "pump"),)
    assert pump.procedure.tools_named == ("torque driver", "rag")
    assert pump.procedure.messages == (
        Message("WARNING", "Lock the isolator.", -1),
        Message("CAUTION", "Hot oil.", 0),
        Message("NOTE", "Six.", 0, before=False),
    )
    assert (pump.catalogue.machine, pump.catalogue.policy) == ("Linden 4 vacuum pump", "aviation")


def test_actions_name_records_by_id_name_alias_and_in_the_plural(pump: Job) -> None:
    assert pump.procedure is not None
    first = pump.procedure.steps[0]

    assert (first.label, first.section) == ("1", "Open")
    assert first.actions == (
        Action("remove", "box-screw", count=6),
        Action("discard", "washer", of="box-screw"),
        Action("remove", "casing cover"),  # no record: the words stand
    )


def test_verb_keys_and_options_become_the_closed_verbs(pump: Job) -> None:
    assert pump.procedure is not None
    second = pump.procedure.steps[1]
    demand, turn = second.actions[3].to, second.actions[4].to

    assert second.label == "1a"
    assert demand is not None
    assert turn is not None
    assert turn.angles[0].nominal == 90
    assert second.actions == (
        Action("install", "exhaust-gasket", state="new", with_what="grease"),
        Action("install", "box-screw", washer=WasherUse(1, "new"), by_hand=True),
        Action("lock", "box-screw", with_what="lockwire", mode="do_not", note="not yet"),
        Action(
            "tighten",
            "box-screw",
            to=demand,
            setting=second.actions[3].setting,
            tool="small-torque-driver",
            order="1-2-3",
            passes=2,
        ),
        Action("tighten_angle", "box-screw", to=turn),
        Action("fill", "pump-oil", amount=Amount(0.62e-3, "L", 0.005e-3)),
        Action("run", "pump", amount=Amount(600, "min", 30)),
        Action("wait", amount=Amount(600, "min", 30)),
        Action("run", "bike", amount=Amount(5000, "km", 500)),
        Action("lubricate", "box-screw", with_what="moly paste", tool="brush"),
        Action("position", "bottle"),
    )


def test_every_verb_of_the_records_can_be_written() -> None:
    assert {verb for verb, _ in keys.VERB_KEYS.values()} == VERBS


@pytest.mark.parametrize(
    ("written", "use"),
    [
        ("1 new", WasherUse(1, "new")),
        ("2 new sealing", WasherUse(2, "new", "sealing")),
        ("1 old", WasherUse(1, "old")),
        ("new", WasherUse(None, "new")),
        ("2", WasherUse(2)),
        ("1 new if needed", WasherUse(1, "new_if")),
        ("none", WasherUse(0)),
        ("some", WasherUse()),
    ],
)
def test_washers_an_action_uses(written: str, use: WasherUse) -> None:
    job = read_job("p.toml", text=f'[[step]]\ndo = [ {{ fit = "drain screw", washer = "{written}" }} ]\n')

    assert job.procedure is not None
    assert job.procedure.steps[0].actions == (Action("install", "drain screw", washer=use),)


@pytest.mark.parametrize("table", [*keys.RECORDS, "machine"])
def test_every_example_of_the_vocabulary_reads(table: str) -> None:
    entries = keys.RECORDS.get(table, keys.MACHINE)
    head = "[machine]" if table == "machine" else f"[[{table}]]"
    lines = [f"{key} = {example}" for key, (*_, example) in entries.items()]
    meant = {
        "fastener": '[[seal]]\nname = "cover gasket"\n[[fluid]]\nname = "gear oil"\n',
        "kit": '[[seal]]\nname = "cover gasket"\n[[fastener]]\nname = "drain screw"\n',
    }.get(table, "")

    assert isinstance(read_catalogue("c.toml", text="\n".join([head, *lines, meant])), Catalogue)


def test_every_example_of_an_option_reads() -> None:
    apart = {"by": "turn", "time": "run", "distance": "run", "amount": "fill", "tool": "oil"}
    actions = [
        f'{{ {apart.get(key, "fit")} = "thing", {key} = {example} }}' for key, (*_, example) in keys.ACTION.items()
    ]

    job = read_job("p.toml", text=f"[[step]]\ndo = [ {', '.join(actions)} ]\n")

    assert job.procedure is not None
    assert len(job.procedure.steps[0].actions) == len(keys.ACTION)


def test_the_tables_of_an_answer_sheet_make_a_catalogue() -> None:
    catalogue = read_catalogue(
        "c.toml",
        text="""
[[fastener]]
id = "coupling-bolt"
name = "coupling bolt"
size = "3/8-16 UNC"
count = 8
property-class = "10.9, coated"
one-time-use = true
tightening = "66 to 72 N·m"
condition = "pre-coated, otherwise dry"
mating-material = "ductile iron"
washer = { kind = "toothed", count = 1, one-time-use = false }
[[seal]]
name = "unloader O-ring"
count = 1
one-time-use = true
[[tool]]
name = "large torque wrench"
range = "40 to 200 N·m"
""",
    )

    assert catalogue.fasteners[0].single_use is True
    assert catalogue.seal("unloader-o-ring") is not None
    assert catalogue.tools is not None
    assert (catalogue.tools[0].kind, catalogue.tools[0].low, catalogue.tools[0].high) == ("torque wrench", 40.0, 200.0)


def test_the_examples_of_the_formats_page_read(tmp_path: Path) -> None:
    page = (Path(__file__).parent.parent / "specs" / "formats" / "README.md").read_text(encoding="utf-8")
    records, procedure = (block.partition("```")[0] for block in page.split("```toml")[1:])
    write(tmp_path, **{"heron.catalogue": records, "bench.tools": TOOL, "kit": "kit = []\n", "p": procedure})

    job = read_job(str(tmp_path / "p.toml"))

    assert job.procedure is not None
    assert [action.verb for step in job.procedure.steps for action in step.actions] == [
        "install",
        "hand_start",
        "tighten",
    ]
    assert job.procedure.steps[1].actions[0].tool == "small-torque-driver"


def test_no_washer_is_not_the_same_as_nothing_said_of_washers() -> None:
    catalogue = read_catalogue("c.toml", text='[[fastener]]\nname = "a"\nwasher = "none"\n[[fastener]]\nname = "b"\n')

    assert [(record.washer, record.washer_unstated) for record in catalogue.fasteners] == [(None, False), (None, True)]


def test_no_tools_listed_is_not_an_empty_list() -> None:
    assert read_catalogue("c.toml", text='[machine]\nname = "m"\n').tools is None
    assert read_catalogue("c.toml", text="tool = []\n").tools == ()


def write(folder: Path, **texts: str) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in texts.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return folder


SCREW = '[[fastener]]\nname = "drain screw"\ncount = 1\n'
TOOL = '[[tool]]\nname = "torque driver"\nrange = "2 to 20 N·m"\n'
KIT = '[[kit]]\npart = "drain screw"\ncount = 2\n'
STEPS = '[[step]]\ndo = [ { tighten = "drain screw", to = "7 N·m", with = "torque driver" } ]\n'


def test_files_named_in_a_procedure_lie_beside_or_below_it(tmp_path: Path) -> None:
    write(tmp_path / "below", c=SCREW, t=TOOL)
    folder = write(tmp_path, k=KIT, p=f'catalogue = "below/c.toml"\ntools = "below/t.toml"\nkit = "k.toml"\n{STEPS}')

    job = read_job(str(folder / "p.toml"))

    assert job.catalogue.kit == (KitItem("drain-screw", 2),)
    assert job.procedure is not None
    assert job.procedure.steps[0].actions[0].tool == "torque-driver"
    assert next(iter(job.documents)) == str(folder / "p.toml")
    assert len(job.documents) == 4


def test_files_named_from_outside_take_the_place_of_those_named_inside(tmp_path: Path) -> None:
    outside = write(tmp_path / "elsewhere", c=SCREW.replace("count = 1", "count = 4"))
    folder = write(tmp_path / "job", c=SCREW, p=f'catalogue = "c.toml"\n{STEPS}')

    job = read_job(str(folder / "p.toml"), catalogue=str(outside / "c.toml"))

    assert job.catalogue.fasteners[0].count == 4


def test_files_named_from_outside_join_the_tables_of_the_procedure(tmp_path: Path) -> None:
    outside = write(tmp_path, c='[[fastener]]\nname = "fill plug"\n', t=TOOL)

    job = read_job("p.toml", text=SCREW + STEPS, catalogue=str(outside / "c.toml"), tools=str(outside / "t.toml"))

    assert [record.id for record in job.catalogue.fasteners] == ["drain-screw", "fill-plug"]


def test_one_file_may_stand_for_several_parts(tmp_path: Path) -> None:
    file = str(write(tmp_path, all=SCREW + TOOL + KIT) / "all.toml")

    job = read_job("p.toml", text=STEPS, catalogue=file, tools=file, kit=file)

    assert (len(job.catalogue.fasteners), len(job.catalogue.tools or ()), len(job.catalogue.kit or ())) == (1, 1, 1)


def test_standard_input_finds_its_catalogue_in_the_working_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(tmp_path, c=SCREW)
    monkeypatch.chdir(tmp_path)

    job = read_job("-", text=f'catalogue = "c.toml"\n{STEPS}')

    assert job.catalogue.fasteners[0].id == "drain-screw"
    assert job.places.find(("title",)) is not None


def test_a_file_of_records_alone_has_no_procedure() -> None:
    assert read_job("c.toml", text=SCREW).procedure is None


def test_byte_order_mark_and_line_ends_do_not_matter(tmp_path: Path) -> None:
    file = tmp_path / "p.toml"
    file.write_bytes(b"\xef\xbb\xbf" + (SCREW + STEPS).replace("\n", "\r\n").encode())

    assert read_job(str(file)).procedure == read_job("p.toml", text=SCREW + STEPS).procedure


@pytest.mark.parametrize("name", ["../c.toml", "below/../../c.toml", "/etc/hostname", "C:/c.toml", "c:\\c.toml",
                                  "\\\\host\\c.toml", "~/c.toml", "link.toml", "below", "a\\u0000b", "."])  # fmt: skip
def test_a_procedure_cannot_open_what_lies_outside_its_folder(tmp_path: Path, name: str) -> None:
    write(tmp_path, c=SCREW)
    folder = write(tmp_path / "job", p=STEPS)
    write(folder / "below")
    os.symlink(tmp_path / "c.toml", folder / "link.toml")
    escaped = name if "u0000" in name else name.replace("\\", "\\\\")
    text = f'catalogue = "{escaped}"\n{STEPS}'

    with pytest.raises(InputTrouble) as trouble:
        read_job(str(folder / "p.toml"), text=text)

    (fault,) = trouble.value.faults
    assert (fault.place.line, fault.place.column) == (1, 14)
    assert fault.wanted == "a file beside this one or in a folder below it"


def test_a_link_that_stays_inside_is_followed(tmp_path: Path) -> None:
    folder = write(tmp_path / "job", c=SCREW)
    os.symlink(folder / "c.toml", folder / "link.toml")

    assert read_job(str(folder / "p.toml"), text=f'catalogue = "link.toml"\n{STEPS}').catalogue.fasteners
