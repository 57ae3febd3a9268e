"""A small player of QTI items: reads a package back, answers it, and scores the answers as the item itself says."""

from __future__ import annotations

from io import BytesIO
from xml.etree.ElementTree import Element, fromstring
from zipfile import ZipFile

from torquewright.quiz.qti import Edition
from torquewright.quiz.qti_check import Reader


class Played:
    """One item read back from its document."""

    def __init__(self, tree: Element, edition: Edition) -> None:
        self.reader = Reader(edition)
        self.tree = tree
        [self.declaration] = self.reader.all(tree, "response-declaration")
        self.cardinality = self.declaration.get("cardinality")
        self.choices = [held.get("identifier") or "" for held in self.reader.all(tree, "simple-choice")]
        [correct] = self.reader.all(self.declaration, "correct-response")
        self.key = [value.text or "" for value in correct]

    def score(self, response: list[str]) -> float:
        """SCORE for a response, by the item's own response processing."""
        reader = self.reader
        [processing] = reader.all(self.tree, "response-processing")
        if reader.all(processing, "map-response"):
            [mapping] = reader.all(self.declaration, "mapping")
            worth = {held.get(reader.attribute("map-key")): float(held.get(reader.attribute("mapped-value")) or 0)
                     for held in mapping}  # fmt: skip
            total = sum(worth.get(one, 0.0) for one in response)
            low = float(mapping.get(reader.attribute("lower-bound")) or 0)
            high = float(mapping.get(reader.attribute("upper-bound")) or 0)
            return min(max(total, low), high)
        [condition] = reader.all(processing, "response-condition")
        branch, other = condition
        test, outcome = branch
        return self._value(outcome if self._holds(test, response) else other[0])

    def _value(self, outcome: Element) -> float:
        [value] = self.reader.all(outcome, "base-value")
        return float(value.text or "nan")

    def _holds(self, test: Element, response: list[str]) -> bool:
        name = self.reader.name(test)
        if name == "match":
            return response == self.key if self.cardinality == "ordered" else sorted(response) == sorted(self.key)
        assert name == "equal"
        below, above = (float(part) for part in (test.get("tolerance") or "").split())
        right = float(self.key[0])
        return right - below <= float(response[0]) <= right + above


def played(package: bytes, edition: Edition) -> list[Played]:
    """Every item of a package, in the order of its test."""
    reader = Reader(edition)
    with ZipFile(BytesIO(package)) as archive:
        test = fromstring(archive.read("test.xml"))
        names = [held.get("href") or "" for held in reader.all(test, "assessment-item-ref")]
        return [Played(fromstring(archive.read(name)), edition) for name in names]
