"""Drafts as a whole: blocks, records meant, procedures made, places kept, and what is written back."""

from __future__ import annotations

from pathlib import Path

import pytest

from torquewright.base.document import Document
from torquewright.base.figures import show
from torquewright.base.units import from_si
from torquewright.pages.layout import blocks_of
from torquewright.reading.draft import read_draft
from torquewright.reading.files import read_job
from torquewright.reading.job import Job
from torquewright.records import Action, Catalogue
from torquewright.toml.writing import to_toml

DRAFTS = Path(__file__).parent / "drafts"
NAMES = sorted(path.stem for path in DRAFTS.glob("*.expected"))


def draft(text: str, name: str = "draft.md") -> Job:
    return read_draft(name, text=text)


def shown(action: Action, records: Catalogue) -> str:
    """An action on a joint or a seal in one line; "" for any other."""
    joint = action.of or action.what
    if records.fastener(joint) is None and records.seal(joint) is None:
        return ""
    words = [action.verb, action.state, f"{action.what} of {action.of}" if action.of else action.what]
    if action.count and action.count > 1 and not action.of and records.fastener(joint) is not None:
        words.append(str(action.count))
    if action.washer is not None:
        words.append(f"+{action.washer.count or '?'} {action.washer.state} washer")
    if action.to is not None:
        torques = [stage.torque for stage in action.to.stages if stage.torque is not None]
        figures = [f"{from_si(torque.target, torque.unit):.4g}" for torque in torques if torque.target is not None]
        words.append("@" + ",".join(figures))
    return " ".join(word for word in words if word)


def told(job: Job, step: int) -> str:
    assert job.procedure is not None
    actions = [action for action in job.procedure.steps[step].actions if action.mode in ("do", "stated_passively")]
    return "; ".join(filter(None, (shown(action, job.catalogue) for action in actions)))


@pytest.mark.parametrize("name", NAMES)
def test_drafts_of_other_authors_are_understood(name: str) -> None:
    path = next(path for path in (DRAFTS / f"{name}.md", DRAFTS / f"{name}.txt") if path.exists())
    job = read_draft(str(path))
    assert job.procedure is not None
    wanted = [line.partition("|") for line in (DRAFTS / f"{name}.expected").read_text("utf-8").splitlines() if line]
    assert [step.label for step in job.procedure.steps] == [label.strip() for label, _, _ in wanted]
    for step, (label, _, actions) in enumerate(wanted):
        assert told(job, step) == actions.strip(), label


@pytest.mark.parametrize("name", NAMES)
def test_what_was_read_is_written_and_read_back(name: str) -> None:
    path = next(path for path in (DRAFTS / f"{name}.md", DRAFTS / f"{name}.txt") if path.exists())
    job = read_draft(str(path))
    again = read_job("back.toml", text=to_toml(job.procedure, job.catalogue))
    assert again.procedure is not None
    assert job.procedure is not None
    for first, second in zip(job.procedure.steps, again.procedure.steps, strict=True):
        assert first.actions == second.actions
    assert [record.id for record in again.catalogue.fasteners] == [record.id for record in job.catalogue.fasteners]


WORKBOAT = """\
+++
machine = "Heron 8 (invented)"
+++

# Change the gearcase oil

| Fastener | Size | Count | Torque | State | Thread |
| --- | --- | --- | --- | --- | --- |
| Drain screw | M8 × 1.25, A2-70 | 1 | 7–9 N·m (62–80 lbf·in) | keep, new sealing washer | dry |
| Level screw | M8 × 1.25, A2-70 | 1 | 7–9 N·m (62–80 lbf·in) | keep, new sealing washer | dry |
| Anode bolt | M6 | 2 | 5–6 N·m | keep | dry |

> **WARNING:** Hot oil burns.

1. Remove the drain screw, then the level screw.
2. Pick both old sealing washers off the screws and discard them.

   > **CAUTION:** The seats scratch easily.

3. Fit one new sealing washer to the level screw, start the screw by hand, and seat it.
4. Fit one new sealing washer to the drain screw, start it by hand and run it in.
5. Tighten the drain screw to 8 N·m. Do the same with the level screw.
6. Check both screws for leaks.
"""


def test_pronouns_and_repeats_reach_the_right_screw() -> None:
    job = draft(WORKBOAT)
    assert [told(job, step) for step in range(6)] == [
        "remove drain-screw; remove level-screw",
        "remove old washer of drain-screw; remove old washer of level-screw; "
        "discard washer of drain-screw; discard washer of level-screw",
        "install new washer of level-screw; hand_start level-screw; seat level-screw",
        "install new washer of drain-screw; hand_start drain-screw; seat drain-screw",
        "tighten drain-screw @8; tighten level-screw @8",
        "check_leak drain-screw; check_leak level-screw",
    ]


def test_a_table_of_the_draft_becomes_records() -> None:
    job = draft(WORKBOAT)
    screw = job.catalogue.fastener("drain-screw")
    assert screw is not None
    assert screw.thread is not None
    assert screw.thread.diameter == pytest.approx(0.008)
    assert screw.condition == "dry"
    assert screw.one_time_use is False
    assert screw.washer is not None
    assert screw.washer.one_time_use is True
    assert screw.tightening is not None
    assert screw.tightening.torque is not None
    assert screw.tightening.torque.band == (pytest.approx(7.0), pytest.approx(9.0))


def test_a_heading_gives_a_bare_figure_its_unit() -> None:
    text = (
        "# T\n\n| Bolt | Qty | Torque, lbf·ft |\n|---|---|---|\n| Foot bolt | 4 | 63 |\n\n1. Tighten the foot bolts.\n"
    )
    bolt = draft(text).catalogue.fastener("foot-bolt")
    assert bolt is not None
    assert bolt.tightening is not None
    assert bolt.tightening.torque is not None
    assert bolt.tightening.torque.unit == "lbf·ft"


def test_warnings_know_their_place() -> None:
    job = draft(WORKBOAT)
    assert job.procedure is not None
    held = [(message.signal, message.step, message.before) for message in job.procedure.messages]
    assert held == [("WARNING", -1, True), ("CAUTION", 1, False)]


def test_places_point_at_the_words() -> None:
    job = draft(WORKBOAT)
    document = job.places.document("procedure")
    assert document is not None

    def words(*path: str | int, part: str = "procedure") -> str:
        place = job.places.find(path, part)
        assert place is not None
        start = document.offset(place.line, place.column)
        return document.text[start : document.offset(place.end_line, place.end_column)]

    assert words("step", 4, "do", 0, "to") == "8 N·m"
    assert words("step", 4, "do", 0) == "Tighten the drain screw to 8 N·m"
    assert words("step", 0) == "Remove the drain screw, then the level screw."
    assert words("fastener", "level-screw", "tightening", part="catalogue") == "7–9 N·m (62–80 lbf·in)"
    assert words("messages", 1).startswith("**CAUTION:**")


def test_the_shadow_is_as_long_as_the_text() -> None:
    text = "# *A* [link](x)\n\n1. Torque to **5 N*m** &nbsp; and `x`.\n\n   > **NOTE:** y\n   > z\n"
    blocks = blocks_of(Document("d.md", text))
    assert len(blocks.shadow) == len(text)
    assert "5 N*m" in blocks.shadow
    assert "**" not in blocks.shadow


def test_numbering_may_restart_in_sections() -> None:
    job = draft("# T\n\n## Out\n\n1. Remove the cap.\n2. Drain the oil.\n\n## In\n\n1. Fit the cap.\n")
    assert job.procedure is not None
    assert [(step.label, step.section) for step in job.procedure.steps] == [("1", "Out"), ("2", "Out"), ("1", "In")]


def test_sub_steps_are_steps_of_their_own() -> None:
    job = draft(
        "# T\n\n1. Take off the cover:\n   1. Remove the four screws.\n   2. Lift the cover off.\n2. Clean it.\n"
    )
    assert job.procedure is not None
    assert [step.label for step in job.procedure.steps] == ["1", "1.1", "1.2", "2"]


def test_fences_and_comments_are_no_steps() -> None:
    job = draft("# T\n\n```\n1. Tighten the nut to 9 N·m.\n```\n\n1. Fit the nut. <!-- Tighten it to 5 N·m. -->\n")
    assert job.procedure is not None
    assert [action.verb for step in job.procedure.steps for action in step.actions] == ["install"]


def test_two_groups_that_fit_are_asked_about() -> None:
    text = (
        "# T\n\n| Bolt | Qty | Torque |\n|---|---|---|\n| Inlet cover bolt | 6 | 9 N·m |\n| Outlet cover bolt | 6 "
        "| 9 N·m |\n\n"
        "1. Tighten the six cover bolts to 9 N·m.\n"
    )
    job = draft(text)
    assert job.draft is not None
    (sentence,) = job.draft.steps[0].sentences
    assert sentence.status == "in part"
    assert sentence.doubts
    assert told(job, 0) == ""
    assert job.unread


def test_a_fastener_in_no_record_is_followed_all_the_same() -> None:
    job = draft("# T\n\n1. Remove the six M8 flange bolts.\n2. Fit six new flange bolts and tighten them to 24 N·m.\n")
    assert job.catalogue.unrecorded == ("flange-bolt",)
    bolt = job.catalogue.fastener("flange-bolt")
    assert bolt is not None
    assert (bolt.count, bolt.tightening) == (6, None)
    assert told(job, 1) == "install new flange-bolt 6; tighten flange-bolt @24"


def test_a_file_named_in_the_front_matter_is_read(tmp_path: Path) -> None:
    (tmp_path / "pump.toml").write_text(
        '[[fastener]]\nname = "volute screw"\ncount = 6\ntightening = "4 N·m"\n', "utf-8"
    )
    path = tmp_path / "job.md"
    path.write_text(
        '+++\ncatalogue = "pump.toml"\nwriter = "nobody"\n+++\n\n# T\n\n1. Tighten the six screws to 4 N·m.\n', "utf-8"
    )
    job = read_job(str(path))
    assert told(job, 0) == "tighten volute-screw 6 @4"
    assert job.catalogue.unrecorded == ()


def test_plain_text_with_numbered_lines() -> None:
    text = (
        "PUMP SERVICE\n\n1) Remove the four M6 screws\n   that hold the lid.\n2) WARNING: hot. Lift the lid.\n"
        "3) Fit the lid.\n"
    )
    job = draft(text, "job.txt")
    assert job.procedure is not None
    assert job.procedure.title == "PUMP SERVICE"
    assert [step.label for step in job.procedure.steps] == ["1", "2", "3"]
    assert job.procedure.steps[0].say == "Remove the four M6 screws that hold the lid."
    assert job.procedure.messages[0].signal == "WARNING"


def test_tools_are_listed_with_their_range() -> None:
    text = "# T\n\nYou need a 10 mm socket and two torque drivers, 0.5–5 N·m and 3–15 N·m.\n\n1. Fit the lid.\n"
    job = draft(text)
    assert [(tool.low, tool.high) for tool in job.catalogue.tools or ()] == [
        (pytest.approx(0.5), pytest.approx(5.0)),
        (pytest.approx(3.0), pytest.approx(15.0)),
    ]
    assert job.procedure is not None
    assert job.procedure.tools_named == ("10 mm socket", "two torque drivers")


@pytest.mark.parametrize(
    "text", ["", "\n\n", "+++\n+++\n", "# Only a title\n", "Just a remark.", "> quote", "|a|b|\n|-|-|\n"]
)
def test_odd_drafts_are_read_without_complaint(text: str) -> None:
    job = draft(text)
    assert job.procedure is not None


@pytest.mark.parametrize(
    ("sentence", "amount"),
    [
        ("Wait 5 min.", "5 min"),
        ("Run the pump for 2 min.", "2 min"),
        ("Let it stand for 10 minutes.", "10 min"),
        ("Add 200 ml of oil.", "200 mL"),
        ("Put in about 650 ml of the oil.", "650 mL"),
        ("Fill the gearcase with 22 US fl oz of gear oil.", "22 US fl oz"),
        ("Pour in 2 imperial pints of oil.", "2 imp pt"),
        ("Seat the plate 5 mm in.", None),
    ],
)
def test_the_amount_of_a_deed_is_kept(sentence: str, amount: str | None) -> None:
    job = draft(f"# Job\n\n1. {sentence}\n")
    assert job.procedure is not None
    held = [action.amount for action in job.procedure.steps[0].actions if action.amount is not None]
    assert [f"{show(one.value, one.unit, one.half)}" for one in held] == ([amount] if amount else [])


def test_a_measure_that_two_countries_know_is_asked_about() -> None:
    job = draft("# Job\n\n1. Fill with 3 quarts of oil.\n")
    assert job.draft is not None
    (sentence,) = job.draft.steps[0].sentences
    assert sentence.status == "in part"
    assert sentence.doubts == ['"quarts" is an American or an imperial measure, and they differ']


def test_a_wrench_set_in_one_sentence_is_used_in_the_next() -> None:
    steps = "1. Set the wrench to 8 N·m.\n2. Tighten the four cover screws with it.\n3. Tighten the cap.\n"
    job = draft(f"# Job\n\n{steps}")
    assert job.procedure is not None
    used, vague = job.procedure.steps[1].actions[-1], job.procedure.steps[2].actions[-1]
    assert used.to is not None
    assert used.to.text == "8 N·m"
    other = draft("# Job\n\n1. Set the wrench to 8 N·m.\n2. Tighten the plug to 20 N·m.\n3. Tighten the cap.\n")
    assert other.procedure is not None
    assert other.procedure.steps[2].actions[-1].to is None
    assert vague.verb == "tighten"
    assert vague.to is None


def test_a_setting_is_kept_apart_from_what_arrives() -> None:
    steps = "1. With a 40 mm crowfoot on a 360 mm wrench, set 45 N·m to get 50 N·m at the hub nut.\n"
    job = draft(f"# Job\n\n{steps}")
    assert job.procedure is not None
    (pull,) = [action for action in job.procedure.steps[0].actions if action.verb == "tighten"]
    assert pull.to is not None
    assert pull.setting is not None
    assert (pull.to.text, pull.setting.text) == ("50 N·m", "45 N·m")


@pytest.mark.parametrize(
    ("sentence", "wanted"),
    [
        ("Slip a new ring over the banjo bolt, then the eye, then a second new ring.", 2),
        ("Put two new washers on the banjo bolt and fit it.", 1),
        ("Fit one new washer under the banjo bolt and one under the eye.", 2),
    ],
)
def test_rings_and_washers_find_their_joint(sentence: str, wanted: int) -> None:
    record = '[[fastener]]\nid = "banjo-bolt"\nname = "banjo bolt"\ncount = 1\ntightening = "25 N·m"\n'
    washer = 'washer = { kind = "sealing", count = 2, one-time-use = true }\n'
    job = draft(f"+++\n{record}{washer}+++\n\n# Job\n\n1. {sentence}\n")
    assert job.procedure is not None
    pieces = [action for action in job.procedure.steps[0].actions if action.of == "banjo-bolt"]
    assert len(pieces) == wanted


@pytest.mark.parametrize(
    ("sentence", "wanted"),
    [
        ("Lay on a new cover gasket, dry, and fit the plate.", "install new cover-gasket"),
        ("Hang a new cover gasket on the studs.", "install new cover-gasket"),
        ("Screw in the breather on a new sealing washer.", "install breather +1 new washer"),
        (
            "Put medium thread-locker on the four cover bolts, one flat washer on each, and start them by hand.",
            "seal cover-bolt; install washer of cover-bolt; hand_start cover-bolt",
        ),
        (
            "Screw two of the cover bolts into the jacking holes until the plate comes away. Then take both out again.",
            "",
        ),
        ("Screw the cover bolts into their holes.", "install cover-bolt"),
    ],
)
def test_pieces_put_on_in_other_words(sentence: str, wanted: str) -> None:
    bolt = '[[fastener]]\nid = "cover-bolt"\nname = "cover bolt"\ncount = 4\nwasher = { kind = "flat", count = 1 }\n'
    plug = '[[fastener]]\nid = "breather"\nname = "breather"\ncount = 1\nwasher = { kind = "sealing", count = 1 }\n'
    seal = '[[seal]]\nid = "cover-gasket"\nname = "cover gasket"\none-time-use = true\n'
    assert told(draft(f"+++\n{bolt}{plug}{seal}+++\n\n# Job\n\n1. {sentence}\n"), 0) == wanted


@pytest.mark.parametrize("words", ["with the impact driver set to 24 N·m", "with the impact driver, set at 24 N·m"])
def test_a_tool_is_kept_with_what_it_is_set_to(words: str) -> None:
    job = draft(f"# Job\n\n1. Tighten the four cover bolts {words}.\n")
    assert job.procedure is not None
    pulls = [action for action in job.procedure.steps[0].actions if action.verb == "tighten"]
    assert [(pull.tool, pull.to.text if pull.to else "") for pull in pulls] == [("impact driver", "24 N·m")]
