"""Write the JSON Schemas and the vocabulary of the TOML files to specs/formats, from the key tables the reader goes by.

Run it after a change of ``torquewright.toml.keys``; a test fails while they are stale. Most TOML editors read the
schemas in draft-07, JSON tools in 2020-12.
"""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

from torquewright.toml import keys
from torquewright.toml.words_taken import ENERGIES, OPEN_WORDS, WORDS

FORMATS = Path(__file__).resolve().parent.parent / "specs" / "formats"
DIALECTS = {
    "": ("https://json-schema.org/draft/2020-12/schema", "$defs"),
    ".draft-07": ("http://json-schema.org/draft-07/schema#", "definitions"),
}

Schema = dict[str, Any]

TEXT: Schema = {"type": "string", "pattern": r"\S"}
COUNT: Schema = {"type": "integer", "minimum": 1, "maximum": 100_000}
FIGURE: Schema = {"type": "string", "pattern": "[0-9]"}


def fragment(reading: str) -> Schema:
    """What a value with this reading looks like."""
    if reading in WORDS:
        return {"enum": list(WORDS[reading])}
    if reading in OPEN_WORDS:
        return {**TEXT, "examples": list(OPEN_WORDS[reading])}
    return {
        "text": TEXT,
        "id": {"type": "string", "pattern": r"^\S([^\n]*\S)?$"},
        "file": TEXT,
        "texts": {"type": "array", "items": TEXT, "minItems": 1},
        "texts or none": {"type": "array", "items": TEXT},
        "flag": {"type": "boolean"},
        "count": COUNT,
        "percent": {"type": "string", "pattern": r"^\s*±?\s*[0-9]+([.,][0-9]+)?\s*%\s*$"},
        "date": {"type": "string", "pattern": r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$"},
        "tightening": TEXT,
        "turn": TEXT,
        "angle": {"type": "string", "pattern": r"^\s*[0-9]+(\.[0-9]*)?\s*(°|deg|degrees)\s*$"},
        "size": FIGURE,
        "drive": TEXT,
        "length": FIGURE,
        "volume": FIGURE,
        "time": FIGURE,
        "distance": FIGURE,
        "temperature": FIGURE,
        "torque": FIGURE,
        "torque range": FIGURE,
        "reuse": {"type": "string", "pattern": "^(never|after measuring|free|[1-9][0-9]{0,3} times?)$"},
        "energy": {"type": "array", "items": {"enum": list(ENERGIES)}, "minItems": 1},
        "facts": {"type": "object", "additionalProperties": TEXT},
        "washer": {"anyOf": [{"const": "none"}, {"$ref": "washer"}]},
        "lock": {"$ref": "lock"},
        "retorque table": {"$ref": "retorque"},
        "washer use": TEXT,
        "actions": {"type": "array", "items": {"$ref": "action"}},
        "messages": {"type": "array", "items": {"$ref": "message"}},
        "accepted": {"type": "object", "additionalProperties": {"type": "string"}},
    }[reading]


def described(entry: keys.Entry) -> Schema:
    """One key: what its value looks like, what it says, an example."""
    _, reading, says, example = entry
    schema = {"description": says, **fragment(reading)}
    if "$ref" not in schema and "anyOf" not in schema:
        schema["examples"] = schema.get("examples") or [tomllib.loads(f"v = {example}")["v"]]
    return schema


def table(entries: keys.Keys, *, required: tuple[str, ...] = (), named: bool = False) -> Schema:
    """A table with these keys and no others; ``named`` ones need an id or a name."""
    schema: Schema = {
        "type": "object",
        "properties": {key: described(entry) for key, entry in entries.items()},
        "additionalProperties": False,
    }
    if required:
        schema["required"] = list(required)
    if named:
        schema["anyOf"] = [{"required": ["id"]}, {"required": ["name"]}]
    return schema


def action() -> Schema:
    """An action: one verb key and options."""
    schema = table(keys.ACTION)
    verbs = {key: {"type": "string", "description": says} for key, (_, says) in keys.VERB_KEYS.items()}
    schema["properties"] = {**verbs, **schema["properties"]}
    schema["oneOf"] = [{"required": [key]} for key in verbs]
    return schema


def definitions() -> dict[str, Schema]:
    """The tables that others refer to."""
    step = table(keys.STEP)
    step["anyOf"] = [{"required": ["say"]}, {"required": ["do"]}]
    return {
        "washer": table(keys.WASHER),
        "lock": table(keys.LOCK, required=("kind",)),
        "retorque": table(keys.RETORQUE, required=("policy",)),
        "message": table(keys.MESSAGE, required=("signal", "text")),
        "action": action(),
        "step": step,
        "machine": table(keys.MACHINE),
        **{name: table(held, named=True) for name, held in keys.RECORDS.items() if name != "kit"},
        "kit": table(keys.KIT, required=("part", "count")),
    }


def records() -> dict[str, Schema]:
    """The keys of a file of records."""
    held: dict[str, Schema] = {}
    for key, (_, reading, says, _) in keys.CATALOGUE.items():
        if reading == "tables":
            held[key] = {"description": says, "type": "array", "items": {"$ref": key}}
        elif reading == "table":
            held[key] = {"description": says, "$ref": key}
        else:
            held[key] = {"description": says, **fragment(reading)}
    return held


def catalogue() -> Schema:
    """A catalogue, tools or kit file."""
    return {"title": "Torquewright catalogue, tools or kit", "type": "object", "properties": records()}


def procedure() -> Schema:
    """A procedure, with or without records of its own."""
    properties: dict[str, Schema] = {}
    for key, entry in keys.PROCEDURE.items():
        if key == "step":
            properties[key] = {"description": entry[2], "type": "array", "items": {"$ref": "step"}, "minItems": 1}
        else:
            properties[key] = described(entry)
    held = records()
    kit = held.pop("kit")
    file_or_tables = {"anyOf": [TEXT, {key: value for key, value in kit.items() if key != "description"}]}
    properties |= {**held, "kit": {"description": kit["description"], **file_or_tables}}
    return {"title": "Torquewright procedure", "type": "object", "properties": properties}


def in_dialect(schema: Schema, dialect: str, place: str, name: str) -> Schema:
    """The schema with its definitions, references and identifier in one dialect."""

    def referring(held: Any) -> Any:
        if isinstance(held, list):
            return [referring(item) for item in held]
        if not isinstance(held, dict):
            return held
        if isinstance(held.get("$ref"), str):
            # draft-07 ignores what stands beside a reference, so it stands in a list of one
            beside = {key: value for key, value in held.items() if key != "$ref"}
            reference = {"$ref": f"#/{place}/{held['$ref']}"}
            return {**beside, "allOf": [reference]} if beside else reference
        return {key: referring(value) for key, value in held.items()}

    whole = {**schema, "additionalProperties": False, place: definitions()}
    return {"$schema": dialect, "$id": f"urn:torquewright:formats:{name}", **referring(whole)}


def schemas() -> dict[str, str]:
    """The text of every schema file, by file name."""
    texts = {}
    for stem, build in (("procedure", procedure), ("catalogue", catalogue)):
        for suffix, (dialect, place) in DIALECTS.items():
            name = f"{stem}{suffix}"
            schema = in_dialect(build(), dialect, place, name)
            texts[f"{name}.schema.json"] = json.dumps(schema, ensure_ascii=False, indent=1) + "\n"
    return texts


VALUES = {
    "text": "text",
    "id": "text on one line",
    "texts": "list of texts",
    "texts or none": "list of texts, may be empty",
    "flag": "`true` or `false`",
    "count": "whole number from 1",
    "percent": "percentage",
    "date": "day",
    "tightening": "tightening",
    "turn": "angle or turns",
    "angle": "angle from `0°` to `180°`",
    "size": "thread designation",
    "drive": "drive",
    "length": "length",
    "volume": "volume",
    "time": "time",
    "distance": "distance",
    "temperature": "temperature",
    "torque": "torque",
    "torque range": "two torques",
    "reuse": "`never`, `after measuring`, `free`, `3 times`",
    "facts": "table of texts",
    "accepted": "table from rule to reason",
    "washer": "washer table, or `none`",
    "lock": "lock table",
    "retorque table": "retorque table",
    "washer use": "`1 new`, `2 new sealing`, `1 old`, `new if needed`, `some`, `none`",
    "actions": "list of actions",
    "messages": "list of messages",
    "steps": "tables",
    "table": "table",
    "tables": "tables",
    "file": "name of a file beside this one or below",
}


def value_words(reading: str) -> str:
    """What may stand for a value with this reading, in words."""
    if reading in WORDS:
        return "one of " + ", ".join(f"`{word}`" for word in WORDS[reading])
    if reading in OPEN_WORDS:
        return ", ".join(f"`{word}`" for word in OPEN_WORDS[reading]) + ", or another word"
    if reading == "energy":
        return "list of " + ", ".join(f"`{word}`" for word in ENERGIES)
    return VALUES[reading]


def vocabulary() -> str:
    """Every key of every table, for people."""
    sections = (
        ("Procedure: keys at the top", keys.PROCEDURE),
        ("`[[step]]`", keys.STEP),
        ("Messages", keys.MESSAGE),
        ("Actions: options", keys.ACTION),
        ("Records: keys at the top", keys.CATALOGUE),
        ("`[machine]`", keys.MACHINE),
        ("`[[fastener]]`", keys.FASTENER),
        ("Washer table", keys.WASHER),
        ("Lock table", keys.LOCK),
        ("Retorque table", keys.RETORQUE),
        *((f"`[[{name}]]`", held) for name, held in keys.RECORDS.items() if name != "fastener"),
    )
    lines = [
        "# Vocabulary of the TOML files",
        "",
        "Written by `tools/build_schemas.py` from the tables the reader goes by; not to be edited. What the values",
        "mean is told in [README.md](README.md).",
    ]
    for title, entries in sections:
        lines += ["", f"## {title}", "", "| key | value | meaning | example |", "| --- | --- | --- | --- |"]
        for key, (_, reading, says, example) in entries.items():
            lines.append(f"| `{key}` | {value_words(reading)} | {says} | `{example}` |")
    lines += ["", "## Actions: verbs", "", "| key | verb | meaning |", "| --- | --- | --- |"]
    lines += [f"| `{key}` | {verb} | {says} |" for key, (verb, says) in keys.VERB_KEYS.items()]
    return "\n".join(lines) + "\n"


def files() -> dict[str, str]:
    """The text of every file this tool writes, by file name."""
    return {**schemas(), "vocabulary.md": vocabulary()}


if __name__ == "__main__":
    for name, text in files().items():
        (FORMATS / name).write_text(text, encoding="utf-8")
        print(FORMATS / name)
