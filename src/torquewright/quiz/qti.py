"""A quiz as a package for learning systems: Question and Test Interoperability (QTI) 3.0 and, for older ones, 2.2.

One writer for both editions: they differ in names (``qti-choice-interaction`` and ``choiceInteraction``) and in
namespaces. One file an item, one for the test, a manifest at the root. Same quiz, same bytes: fixed times and order
in the archive, no drawn identifiers.
"""

from __future__ import annotations

import re
from io import BytesIO
from typing import Literal, NamedTuple
from xml.sax.saxutils import escape, quoteattr
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from torquewright.quiz.items import Item
from torquewright.quiz.paper import HOW, feedback, records, tool_words
from torquewright.records import Catalogue

Edition = Literal["3.0", "2.2"]
_LONG_AGO = (1980, 1, 1, 0, 0, 0)


class Names(NamedTuple):
    """The namespaces and types of one edition."""

    item: str
    item_schema: str
    manifest: str
    manifest_schema: str
    schema: str
    schema_version: str
    item_type: str
    test_type: str


EDITIONS: dict[Edition, Names] = {
    "3.0": Names(
        "http://www.imsglobal.org/xsd/imsqtiasi_v3p0",
        "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqti_asiv3p0_v1p0.xsd",
        "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1",
        "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqtiv3p0_imscpv1p2_v1p0.xsd",
        "QTI Package", "3.0.0", "imsqti_item_xmlv3p0", "imsqti_test_xmlv3p0",
    ),
    "2.2": Names(
        "http://www.imsglobal.org/xsd/imsqti_v2p2",
        "http://www.imsglobal.org/xsd/qti/qtiv2p2/imsqti_v2p2p2.xsd",
        "http://www.imsglobal.org/xsd/imscp_v1p1",
        "http://www.imsglobal.org/xsd/qti/qtiv2p2/qtiv2p2_imscpv1p2_v1p0.xsd",
        "QTIv2.2 Package", "1.0.0", "imsqti_item_xmlv2p2", "imsqti_test_xmlv2p2",
    ),
}  # fmt: skip


def package(title: str, items: list[Item], catalogue: Catalogue, edition: Edition = "3.0") -> bytes:
    """The package as the bytes of a ZIP archive."""
    files = {"imsmanifest.xml": _manifest(items, edition), "test.xml": _test(title, items, edition)}
    for number, item in enumerate(items, 1):
        files[_file(number)] = item_xml(number, item, catalogue, edition)
    out = BytesIO()
    with ZipFile(out, "w", ZIP_DEFLATED) as archive:
        for name, text in files.items():
            info = ZipInfo(name, _LONG_AGO)
            info.compress_type = ZIP_DEFLATED
            info.external_attr = 0o644 << 16
            archive.writestr(info, text.encode())
    return out.getvalue()


def item_xml(number: int, item: Item, catalogue: Catalogue, edition: Edition) -> str:
    """One item as a document of its own, instructions in the prompt, feedback shown after the answer."""
    names = EDITIONS[edition]
    tag = _Tag(edition)
    single = item.kind in ("spot", "tool")
    ids = [f"c{at + 1}" for at in range(len(item.choices))]
    if item.figure is not None:
        cardinality, base, right = "single", "float", [f"{item.figure.value:.6g}"]
    elif item.order:
        cardinality, base, right = "ordered", "identifier", [ids[at] for at in item.order]
    else:
        right = [ids[at] for at, choice in enumerate(item.choices) if choice.right]
        cardinality, base = ("single" if single else "multiple"), "identifier"
    values = "".join(tag("value", escape(value)) for value in right)
    declared = tag("correct-response", values)
    if cardinality == "multiple":
        # As many points for each right tick as are taken for a wrong one: ticking everything brings nothing.
        share = 1 / len(right)
        entries = "".join(
            tag("map-entry", "", map_key=one, mapped_value=f"{share if one in right else -share:.6g}") for one in ids
        )
        declared += tag("mapping", entries, lower_bound="0", upper_bound="1", default_value="0")
    body = _body(number, item, catalogue, tag, ids, single)
    parts = [
        tag("response-declaration", declared, identifier="RESPONSE", cardinality=cardinality, base_type=base),
        tag("outcome-declaration", tag("default-value", tag("value", "0")),
            identifier="SCORE", cardinality="single", base_type="float"),
        tag("outcome-declaration", "", identifier="FEEDBACK", cardinality="single", base_type="identifier"),
        tag("item-body", body),
        _processing(item, cardinality, tag),
        tag("modal-feedback", _feedback(item, tag),
            outcome_identifier="FEEDBACK", identifier="shown", show_hide="show"),
    ]  # fmt: skip
    attributes = {
        "xmlns": names.item,
        "xmlns:xsi": "http://www.w3.org/2001/XMLSchema-instance",
        "xsi:schemaLocation": f"{names.item} {names.item_schema}",
        "identifier": _identifier(item, number),
        "title": f"Question {number}",
        "adaptive": "false",
        tag.attribute("time_dependent"): "false",
        "xml:lang": "en",
    }
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + tag.raw("assessment-item", "".join(parts), attributes) + "\n"


class _Tag:
    """Writes elements in the spelling of one edition: ``qti-item-body`` with ``base-type``, or ``itemBody`` with
    ``baseType``."""

    def __init__(self, edition: Edition) -> None:
        self.dashed = edition == "3.0"

    def element(self, name: str) -> str:
        return f"qti-{name}" if self.dashed else _camel(name)

    def attribute(self, name: str) -> str:
        dashed = name.replace("_", "-")
        return dashed if self.dashed else _camel(dashed)

    def __call__(self, name: str, inner: str, **attributes: str) -> str:
        return self.raw(name, inner, {self.attribute(key): value for key, value in attributes.items()})

    def raw(self, name: str, inner: str, attributes: dict[str, str]) -> str:
        head = "".join(f" {key}={quoteattr(value)}" for key, value in attributes.items())
        element = self.element(name)
        return f"<{element}{head}>{inner}</{element}>" if inner else f"<{element}{head}/>"


def _camel(name: str) -> str:
    first, *rest = name.split("-")
    return first + "".join(part.capitalize() for part in rest)


def _body(number: int, item: Item, catalogue: Catalogue, tag: _Tag, ids: list[str], single: bool) -> str:
    out = [f"<p>{escape(line)}</p>" for line in item.lead]
    if item.steps:
        steps = "".join(f"<li>{escape(label)}. {escape(text)}</li>" for label, text in item.steps)
        out.append(f"<ul>{steps}</ul>")
        rows = "".join(
            "<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>" for row in records(catalogue)
        )
        heads = "".join(f"<th>{name}</th>" for name in ("Part", "Count", "Size", "Tightening", "Drive", "Goes back"))
        out.append(f"<table><tbody><tr>{heads}</tr>{rows}</tbody></table>")
        if catalogue.tools:
            out.append(f"<p>Tools: {escape('; '.join(tool_words(tool) for tool in catalogue.tools))}.</p>")
    prompt = f"{item.ask} {HOW[item.kind]}"
    if item.figure is not None:
        box = tag("text-entry-interaction", "", response_identifier="RESPONSE", expected_length="8")
        out.append(f"<p>{escape(prompt)}</p><p>{box} {escape(item.figure.unit)}</p>")
        return "<div>" + "".join(out) + "</div>"
    choices = "".join(
        tag("simple-choice", escape(choice.text), identifier=one)
        for one, choice in zip(ids, item.choices, strict=True)
    )
    asked = tag("prompt", escape(prompt))
    if item.order:
        inner = tag("order-interaction", asked + choices,
                    response_identifier="RESPONSE", shuffle="true", orientation="vertical")  # fmt: skip
    else:
        inner = tag("choice-interaction", asked + choices, response_identifier="RESPONSE", shuffle="true",
                    max_choices="1" if single else "0", min_choices="1" if single else "0")  # fmt: skip
    return "<div>" + "".join(out) + "</div>" + inner


def _processing(item: Item, cardinality: str, tag: _Tag) -> str:
    show = tag("set-outcome-value", tag("base-value", "shown", base_type="identifier"), identifier="FEEDBACK")
    if item.figure is not None:
        spread = f"{item.figure.tolerance:.6g}"
        test = tag("equal", tag("variable", "", identifier="RESPONSE") + tag("correct", "", identifier="RESPONSE"),
                   tolerance_mode="absolute", tolerance=f"{spread} {spread}",
                   include_lower_bound="true", include_upper_bound="true")  # fmt: skip
    elif cardinality == "multiple":
        score = tag("set-outcome-value", tag("map-response", "", identifier="RESPONSE"), identifier="SCORE")
        return tag("response-processing", score + show)
    else:
        test = tag("match", tag("variable", "", identifier="RESPONSE") + tag("correct", "", identifier="RESPONSE"))
    full = tag("set-outcome-value", tag("base-value", "1", base_type="float"), identifier="SCORE")
    none = tag("set-outcome-value", tag("base-value", "0", base_type="float"), identifier="SCORE")
    condition = tag("response-condition", tag("response-if", test + full) + tag("response-else", none))
    return tag("response-processing", condition + show)


def _feedback(item: Item, tag: _Tag) -> str:
    lines = "".join(f"<p>{escape(line)}</p>" for line in feedback(item))
    return tag("content-body", lines) if tag.dashed else lines


def _test(title: str, items: list[Item], edition: Edition) -> str:
    names, tag = EDITIONS[edition], _Tag(edition)
    refs = "".join(
        tag("assessment-item-ref", "", identifier=_identifier(item, number), href=_file(number))
        for number, item in enumerate(items, 1)
    )
    section = tag("assessment-section", refs, identifier="section-1", title=title, visible="true")
    part = tag("test-part", section, identifier="part-1", navigation_mode="linear", submission_mode="individual")
    attributes = {
        "xmlns": names.item,
        "xmlns:xsi": "http://www.w3.org/2001/XMLSchema-instance",
        "xsi:schemaLocation": f"{names.item} {names.item_schema}",
        "identifier": "test",
        "title": title,
    }
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + tag.raw("assessment-test", part, attributes) + "\n"


def _manifest(items: list[Item], edition: Edition) -> str:
    names = EDITIONS[edition]
    depends = "".join(
        f'<dependency identifierref="r-{_identifier(item, number)}"/>' for number, item in enumerate(items, 1)
    )
    resources = [
        f'<resource identifier="r-test" type="{names.test_type}" href="test.xml"><file href="test.xml"/>{depends}'
        "</resource>"
    ]
    for number, item in enumerate(items, 1):
        file = _file(number)
        resources.append(
            f'<resource identifier="r-{_identifier(item, number)}" type="{names.item_type}" href="{file}">'
            f'<file href="{file}"/></resource>'
        )
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<manifest xmlns="{names.manifest}" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" '
        f'xsi:schemaLocation="{names.manifest} {names.manifest_schema}" identifier="manifest">'
        f"<metadata><schema>{names.schema}</schema><schemaversion>{names.schema_version}</schemaversion></metadata>"
        f"<organizations/><resources>{''.join(resources)}</resources></manifest>\n"
    )


def _file(number: int) -> str:
    return f"items/item-{number:03d}.xml"


def _identifier(item: Item, number: int) -> str:
    """The item's own id, so that reading a package in again replaces an item and does not double it."""
    return f"q-{re.sub(r'[^A-Za-z0-9_-]', '-', item.id)}-{number}"
