"""QTI packages: read back and scored, the key brings full marks and each distractor none; faults are named."""

from __future__ import annotations

from io import BytesIO
from itertools import permutations
from pathlib import Path
from zipfile import ZipFile

import pytest

from qti_scorer import played
from torquewright.cli import main
from torquewright.quiz import KINDS, Item, make_items
from torquewright.quiz.qti import EDITIONS, Edition, package
from torquewright.quiz.qti_check import faults
from torquewright.reading.files import read_job
from torquewright.records import Catalogue

WINCH = Path(__file__).parent.parent / "specs" / "examples" / "workboat-gearcase" / "sound.toml"
EDITION = pytest.mark.parametrize("edition", sorted(EDITIONS))


@pytest.fixture(scope="module")
def quiz() -> tuple[list[Item], Catalogue]:
    job = read_job(str(WINCH))
    assert job.procedure is not None
    return make_items(job.procedure, job.catalogue, count=10, seed=3, kinds=tuple(KINDS)), job.catalogue


@EDITION
def test_the_package_has_no_structural_fault_and_the_same_bytes_again(
    quiz: tuple[list[Item], Catalogue], edition: Edition
) -> None:
    items, catalogue = quiz
    held = package("Gearcase & rings", items, catalogue, edition)
    assert faults(held, edition) == []
    assert held == package("Gearcase & rings", items, catalogue, edition)
    assert {item.kind for item in items} == set(KINDS)


@EDITION
def test_the_key_brings_full_marks_and_each_distractor_none(
    quiz: tuple[list[Item], Catalogue], edition: Edition
) -> None:
    items, catalogue = quiz
    back = played(package("job", items, catalogue, edition), edition)
    assert len(back) == len(items)
    for item, one in zip(items, back, strict=True):
        assert one.score(one.key) == pytest.approx(1)
        if item.figure is not None:
            value, spread = item.figure.value, item.figure.tolerance
            assert one.score([f"{value + 0.9 * spread:.9f}"]) == 1
            assert one.score([f"{value - 1.1 * spread:.9f}"]) == 0
            assert one.score([f"{value + 1.1 * spread:.9f}"]) == 0
        elif item.order:
            rights = [order for order in permutations(one.choices) if one.score(list(order)) == 1]
            assert rights == [tuple(one.key)]
        else:
            for letter in one.choices:
                if letter not in one.key:
                    assert one.score([letter]) == 0
            assert one.score(one.choices) == 0


@EDITION
def test_what_the_item_says_is_what_was_asked(quiz: tuple[list[Item], Catalogue], edition: Edition) -> None:
    items, catalogue = quiz
    for item, one in zip(items, played(package("job", items, catalogue, edition), edition), strict=True):
        said = "".join(one.tree.itertext())
        assert item.ask in said
        for choice in item.choices:
            assert choice.text in said
        right = {choice.text for choice in item.choices if choice.right}
        if item.kind in ("spot", "all", "tool"):
            texts = dict(zip(one.choices, (choice.text for choice in item.choices), strict=True))
            assert {texts[letter] for letter in one.key} == right


def changed(held: bytes, name: str, old: str, new: str) -> bytes:
    """A package with one file changed, or taken out where ``new`` is empty and ``old`` too."""
    out = BytesIO()
    with ZipFile(BytesIO(held)) as source, ZipFile(out, "w") as target:
        for info in source.infolist():
            text = source.read(info).decode()
            if info.filename == name:
                if not old:
                    continue
                assert old in text
                text = text.replace(old, new)
            target.writestr(info.filename, text)
    return out.getvalue()


FIRST = "items/item-001.xml"


@pytest.mark.parametrize(
    ("name", "old", "new", "told"),
    [
        (FIRST, "</qti-item-body>", "", "not well-formed"),
        (FIRST, 'response-identifier="RESPONSE"', 'response-identifier="OTHER"', "not declared"),
        (FIRST, "<qti-value>c", "<qti-value>d", "names no choice"),
        (FIRST, 'identifier="c1"', 'identifier="1 c"', "is no identifier"),
        (FIRST, 'identifier="SCORE" cardinality', 'identifier="OTHER" cardinality', "SCORE is not declared"),
        (FIRST, '<?xml version="1.0" encoding="UTF-8"?>', "<!DOCTYPE a []>", "a document type is declared"),
        (FIRST, "", "", "is listed and not there"),
        ("imsmanifest.xml", "", "", "no imsmanifest.xml"),
        ("imsmanifest.xml", "<organizations/>", "", "must stand in this order"),
        ("imsmanifest.xml", '<file href="items/item-002.xml"/>', "", "is there and not listed"),
    ],
)
def test_a_broken_package_is_named(
    quiz: tuple[list[Item], Catalogue], name: str, old: str, new: str, told: str
) -> None:
    items, catalogue = quiz
    broken = changed(package("job", items, catalogue, "3.0"), name, old, new)
    assert any(told in fault for fault in faults(broken, "3.0"))


def test_a_mapping_that_pays_for_ticking_everything_is_named(quiz: tuple[list[Item], Catalogue]) -> None:
    items, catalogue = quiz
    at = next(number for number, item in enumerate(items, 1) if item.kind == "all")
    broken = changed(package("job", items, catalogue, "3.0"), f"items/item-{at:03d}.xml",
                     'mapped-value="-0.5"', 'mapped-value="0"')  # fmt: skip
    assert any("ticking every answer" in fault for fault in faults(broken, "3.0"))


def test_what_is_no_archive_is_said_to_be_none() -> None:
    assert faults(b"no archive", "3.0") == ["it is no ZIP archive"]


def test_the_verb_writes_a_package_a_form(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    words = ["quiz", str(WINCH), "--count", "3", "--kinds", "spot,tool", "--format", "qti3"]
    assert main([*words, "--forms", "2", "--into", str(tmp_path)]) == 0
    capsys.readouterr()
    for form in ("form-1", "form-2"):
        assert faults((tmp_path / form / "quiz-qti3.zip").read_bytes(), "3.0") == []
    assert main(words) == 2
    assert "--into" in capsys.readouterr().err
