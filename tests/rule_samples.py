"""A small rule book and a small job of their own, for tests of the book, the verdict and the report."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from torquewright.base.document import Document, Place, Places
from torquewright.book import texts
from torquewright.reading.job import Job, Unread
from torquewright.records import Action, Catalogue, Fastener, Procedure, Step, Tightening
from torquewright.rules.finding import Certainty, Finding

WASHERS = '''
id = "two-washers"
family = "seals"
since = 1
consequence = "leak"
title = "Not exactly one sealing washer on the seat"
reason = """The old ring stays stuck to the face,
a second one goes on, and the pair creeps."""

[clauses]
one = "A sealing seat MUST carry exactly the record's number of sealing washers when it is tightened."

[facts]
count = "number"
torque = "torque"
opened = "step"
washer = "name"

[say]
fault = "{count} sealing {count|washer|washers} on the {joint}"
because = "It was opened in step {opened} and is pulled to {torque} with {washer} on it."
instead = "Take the old washer off in a step of its own."

[say.none]
fault = "no sealing washer on the {joint}"

[[source]]
kind = "manual"
title = "Gearcase manual"
edition = "2nd, invented"
clause = "4.2"

[[source]]
kind = "common practice, no source"

[quiz]
ask = "What happens at the {joint} after step {step}?"
right = "It leaks: {count} washers on one seat."

[[case]]
id = "two-on"
clause = "one"
twin = "one-on"
form = "toml"
limit = "above"
text = """
[[step]]
do = [{ fit = "drain-screw", washer = "2 new" }]
"""
[[case.finding]]
step = "1"
joint = "drain-screw"
certainty = "certain"
facts = { count = "2", torque = "7 N·m" }

[[case]]
id = "none-on"
clause = "one"
twin = "one-on"
form = "toml"
limit = "below"
text = """
[[step]]
do = [{ fit = "drain-screw", washer = "none" }]
"""
[[case.finding]]
step = "1"
joint = "drain-screw"
certainty = "certain"

[[case]]
id = "one-on"
clause = "one"
form = "toml"
limit = "at"
text = """
[[step]]
do = [{ fit = "drain-screw", washer = "1 new" }]
"""

[[case]]
id = "one-old-on-purpose"
clause = "one"
form = "toml"
text = """
[[step]]
do = [{ fit = "drain-screw", washer = "1 old" }]
"""
'''


def _small(rule: str, consequence: str) -> str:
    return f'''
id = "{rule}"
family = "other"
since = 1
consequence = "{consequence}"
title = "A fault of {consequence}"
reason = "It is a sample."
[clauses]
one = "It MUST NOT be so."
[say]
fault = "fault at the {{joint}}"
instead = "Do it otherwise."
[[source]]
kind = "common practice, no source"
'''


BOOK = {
    "two-washers": WASHERS,
    "pin-missing": _small("pin-missing", "injury"),
    "nut-loose": _small("nut-loose", "loosening"),
    "thread-stripped": _small("thread-stripped", "part destroyed"),
    "kit-short-here": _small("kit-short-here", "rework"),
    "two-readings": _small("two-readings", "misreading"),
}


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """The sample rule book in place of the real one; answers with its folder."""
    folder = tmp_path / "specs"
    (folder / "rules").mkdir(parents=True)
    (folder / "suite").mkdir()
    for rule, text in BOOK.items():
        (folder / "rules" / f"{rule}.toml").write_text(text, encoding="utf-8")
    (folder / "suite" / "retired.toml").write_text(
        '[[retired]]\nid = "double-washer"\nnow = "two-washers"\nsince = 2\nwhy = "renamed"\n'
        '[[retired]]\nid = "wet-paint"\nsince = 2\nwhy = "nothing in it could be checked"\n',
        encoding="utf-8",
    )
    monkeypatch.setattr(texts, "specs_folder", lambda: str(folder))
    _forget()
    yield folder
    _forget()


def _forget() -> None:
    for held in (texts._load, texts.rule_ids, texts.retired_rules):
        held.cache_clear()


SCREW = Fastener(id="drain-screw", name="drain screw", tightening=Tightening(text="7 N·m", kind="single"))
NUT = Fastener(id="hub-nut", name="hub nut", safety=True)
TEXT = 'title = "Oil"\n[[step]]\ndo = []\n[[step]]\ndo = [{ fit = "drain-screw", washer = "2 new" }]\n'
RULE_OF = {
    "injury": "pin-missing",
    "loosening": "nut-loose",
    "leak": "two-washers",
    "part destroyed": "thread-stripped",
    "rework": "kit-short-here",
    "misreading": "two-readings",
}
FACTS: dict[str, str | int | float] = {"count": 2, "torque": 7.0, "opened": 0, "washer": "drain-screw"}


def job(*, unread: tuple[Unread, ...] = (), actions: bool = True) -> Job:
    steps = (
        Step(label="A1", say="Remove the drain screw.", actions=(Action("remove", "drain-screw"),) if actions else ()),
        Step(label="A2", say="Fit it.", actions=(Action("install", "drain-screw"),) if actions else ()),
    )
    document = Document("oil.toml", TEXT)
    places = Places()
    at = TEXT.index('"2 new"')
    places.add("procedure", document, lambda path: (at, at + 7) if path == ("step", 1, "do", 0, "washer") else None)
    catalogue = Catalogue(fasteners=(SCREW, NUT))
    return Job("oil.toml", Procedure("Oil", steps), catalogue, places, {"oil.toml": document}, unread=unread)


def finding(
    consequence: str, certainty: Certainty = "certain", step: int | None = 1, joint: str = "drain-screw"
) -> Finding:
    return Finding(RULE_OF[consequence], certainty, step, joint, dict(FACTS), ("step", 1, "do", 0, "washer"))


def sentence(matters: bool) -> Unread:
    return Unread(Place("oil.toml", 1, 1, 1, 5), "Do it.", "not understood", matters)
