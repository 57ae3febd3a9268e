"""A structural check of a QTI package, always on: what a learning system would stumble over is named here first.

The schemas of the standard are under their body's licence and are not carried along; this checks what they would
refuse in what we write, and what they cannot see: keys, mappings, files.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from io import BytesIO
from xml.etree.ElementTree import Element, ParseError, fromstring
from zipfile import BadZipFile, ZipFile

from torquewright.quiz.qti import EDITIONS, Edition

_IDENTIFIER = re.compile(r"[A-Za-z_][A-Za-z0-9_.-]*")
_ORDER = (
    "response-declaration", "outcome-declaration", "item-body", "response-processing", "modal-feedback",
)  # fmt: skip
_LARGEST = 5_000_000  # bytes of one file in the archive; ours are a hundredth of that


def faults(package: bytes, edition: Edition) -> list[str]:
    """What is wrong with a package, in sentences; empty when nothing is."""
    try:
        archive = ZipFile(BytesIO(package))
    except BadZipFile:
        return ["it is no ZIP archive"]
    with archive:
        names = archive.namelist()
        found = [f"{name}: the path climbs or is absolute" for name in names if name.startswith("/") or ".." in name]
        if any(archive.getinfo(name).file_size > _LARGEST for name in names):
            return [*found, "a file in it is too large to be one of ours"]
        files = {name: archive.read(name) for name in names}
    if "imsmanifest.xml" not in files:
        return [*found, "there is no imsmanifest.xml at its root"]
    trees: dict[str, Element] = {}
    for name, held in files.items():
        if b"<!DOCTYPE" in held or b"<!ENTITY" in held:
            found.append(f"{name}: a document type is declared")
            continue
        try:
            trees[name] = fromstring(held)
        except ParseError as fault:
            found.append(f"{name}: not well-formed: {fault}")
    if "imsmanifest.xml" in trees:
        found += _manifest(trees["imsmanifest.xml"], set(files), edition)
    seen: set[str] = set()
    for name, tree in trees.items():
        if name.startswith("items/"):
            found += [f"{name}: {fault}" for fault in item_faults(tree, edition)]
            one = tree.get("identifier", "")
            if one in seen:
                found.append(f"{name}: the identifier {one} is used twice")
            seen.add(one)
    return found


def _manifest(tree: Element, files: set[str], edition: Edition) -> Iterator[str]:
    names = EDITIONS[edition]
    if tree.tag != f"{{{names.manifest}}}manifest":
        yield f"imsmanifest.xml: the root is {tree.tag}"
    if [child.tag.rpartition("}")[2] for child in tree] != ["metadata", "organizations", "resources"]:
        yield "imsmanifest.xml: metadata, organizations, resources must stand in this order"
    listed = {held.get("href", "") for held in tree.iter(f"{{{names.manifest}}}file")}
    for name in sorted(listed - files):
        yield f"imsmanifest.xml: {name} is listed and not there"
    for name in sorted(files - listed - {"imsmanifest.xml"}):
        yield f"imsmanifest.xml: {name} is there and not listed"
    ids = [held.get("identifier", "") for held in tree.iter(f"{{{names.manifest}}}resource")]
    if len(set(ids)) != len(ids):
        yield "imsmanifest.xml: two resources have one identifier"
    for held in tree.iter(f"{{{names.manifest}}}dependency"):
        if held.get("identifierref") not in ids:
            yield f"imsmanifest.xml: {held.get('identifierref')} is depended on and not there"


def item_faults(tree: Element, edition: Edition) -> Iterator[str]:
    """What is wrong with one item, in sentences."""
    reader = Reader(edition)
    if tree.tag != reader.tag("assessment-item"):
        yield f"the root is {tree.tag}"
        return
    for attribute in ("identifier", "title", reader.attribute("time-dependent")):
        if not tree.get(attribute):
            yield f"{attribute} is missing"
    for held in tree.iter():
        one = held.get("identifier")
        if one is not None and not _IDENTIFIER.fullmatch(one):
            yield f"{one!r} is no identifier"
    order = [reader.name(child) for child in tree]
    if [name for name in _ORDER for child in order if child == name] != order:
        yield f"the children stand in the wrong order: {', '.join(order)}"
    declared = {held.get("identifier"): held for held in reader.all(tree, "response-declaration")}
    for held in tree.iter():
        asked = held.get(reader.attribute("response-identifier"))
        if asked is not None and asked not in declared:
            yield f"{asked} is asked for and not declared"
    if not any(held.get("identifier") == "SCORE" for held in reader.all(tree, "outcome-declaration")):
        yield "SCORE is not declared"
    choices = [held.get("identifier") for held in reader.all(tree, "simple-choice")]
    if len(set(choices)) != len(choices):
        yield "two choices have one identifier"
    for one, held in declared.items():
        yield from _key(one or "", held, choices, reader)


def _key(one: str, declaration: Element, choices: list[str | None], reader: Reader) -> Iterator[str]:
    cardinality = declaration.get("cardinality")
    right = [value.text for held in reader.all(declaration, "correct-response") for value in held]
    numeric = declaration.get(reader.attribute("base-type")) == "float"
    if not numeric and not set(right) <= set(choices):
        yield f"the key of {one} names no choice"
    if cardinality == "single" and len(right) != 1:
        yield f"{one} takes one answer and its key has {len(right)}"
    if cardinality == "ordered" and sorted(right, key=str) != sorted(choices, key=str):
        yield f"the key of {one} does not put every choice in order"
    for mapping in reader.all(declaration, "mapping"):
        entries = {
            held.get(reader.attribute("map-key")): float(held.get(reader.attribute("mapped-value"), "nan"))
            for held in mapping
        }
        if not set(entries) <= set(choices):
            yield f"the mapping of {one} names no choice"
        best = sum(value for value in entries.values() if value > 0)
        if abs(best - float(mapping.get(reader.attribute("upper-bound"), "nan"))) > 1e-5:
            yield f"the best that {one} can bring is {best:g}, not its upper bound"
        if sum(entries.values()) > 1e-5:
            yield f"ticking every answer of {one} brings points"


class Reader:
    """Finds elements by the name they have without an edition's spelling: ``choice-interaction``."""

    def __init__(self, edition: Edition) -> None:
        self.dashed = edition == "3.0"
        self.space = EDITIONS[edition].item

    def tag(self, name: str) -> str:
        """The full tag of an element."""
        return f"{{{self.space}}}{'qti-' + name if self.dashed else self.attribute(name)}"

    def attribute(self, name: str) -> str:
        """The spelling of an attribute."""
        if self.dashed:
            return name
        first, *rest = name.split("-")
        return first + "".join(part.capitalize() for part in rest)

    def name(self, element: Element) -> str:
        """The name of an element without the edition's spelling."""
        local = element.tag.rpartition("}")[2]
        if self.dashed:
            return local.removeprefix("qti-")
        return re.sub(r"[A-Z]", lambda match: "-" + match.group().lower(), local)

    def all(self, tree: Element, name: str) -> list[Element]:
        """Every element of that name in a tree, in order."""
        return list(tree.iter(self.tag(name)))
