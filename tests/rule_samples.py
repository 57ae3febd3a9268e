"""A small rule book of its own for tests of the book, the verdict and the report: whole, sound rule files."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from torquewright.book import texts

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
