"""The draft against itself and its records: prose and tables that differ, references to what is not there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from torquewright.bench import Event, Trace
from torquewright.notation.agreement import agree
from torquewright.records import Fastener, Seal, Tightening
from torquewright.rules.finding import Fact, Finding
from torquewright.rules.registry import detector
from torquewright.rules.spot import fastener_place, seal_place
from torquewright.rules.writing_text import Told, plain_words, recorded_as, sentences, span, words_behind

if TYPE_CHECKING:  # the reader of sentences is not loaded for a procedure in TOML
    from torquewright.base.document import Path
    from torquewright.reading.draft_tables import Row
    from torquewright.sentences.things import Thing

TABLE = "prose-against-table"
NOTHING = "reference-to-nothing"

_HANDLED = frozenset({"install", "replace", "hand_start", "tighten", "loosen", "remove", "retighten", "seat"})
_TOOL_WORDS = frozenset("socket key spanner wrench bit driver screwdriver allen".split())


@detector(TABLE)
def prose_against_table(trace: Trace) -> Iterator[Finding]:
    """A step, the draft's own table and the record do not say the same of a joint. Figures that steps pull to are
    the concern of the rules on values, numbers in steps that of the rule on counts."""
    if trace.draft is None:
        return
    rows = {row.record.id: row for row in trace.draft.rows}
    for row in rows.values():
        yield from _row_against_record(trace, row)
    told: set[tuple[str, str]] = set()
    for event in trace.events:
        joint = event.joint
        if joint is None or event.action.of or event.step < 0 or event.conditional or event.verb not in _HANDLED:
            continue
        for finding in _step_against(trace, event, joint, rows.get(joint.id)):
            what = str(finding.facts["what"])
            if (what, joint.id) not in told:
                told.add((what, joint.id))
                yield finding


# ---- a row against the record ---------------------------------------------------------------------------------


def _row_against_record(trace: Trace, row: Row) -> Iterator[Finding]:
    """A row of the draft for what stands in a record outside: they must say the same."""
    own = row.record
    if isinstance(own, Seal):
        seal = trace.catalogue.seal(recorded_as(own, trace.catalogue))
        if seal is not None and seal is not own and seal.one_time_use and own.one_time_use is False:
            yield _differs(row, "state", "keep", "one-time use", "state", seal_place(seal.id, "one-time-use"))
        return
    record = trace.catalogue.fastener(recorded_as(own, trace.catalogue))
    if record is None or record is own:
        return
    mine, theirs = row.tightening, record.tightening
    if mine is not None and theirs is not None and not _agree(mine, theirs):
        yield _differs(row, "torque", mine.text, theirs.text, "torque", fastener_place(record.id, "tightening"))
    if own.count is not None and record.count is not None and own.count != record.count:
        yield _differs(row, "number", str(own.count), str(record.count), "count", fastener_place(record.id, "count"))
    here, there = own.thread, record.thread
    if here is not None and there is not None and _other_size(here.text, there.text):
        yield _differs(row, "size", here.text, there.text, "size", fastener_place(record.id, "size"))
    if record.single_use and own.one_time_use is False:
        yield _differs(row, "state", "keep", "one-time use", "state", fastener_place(record.id, "one-time-use"))


def _agree(mine: Tightening, theirs: Tightening) -> bool:
    """Whether the last torque of both is the same. In one unit the figures are compared as they stand; a figure agrees
    with limits it lies between."""
    one, two = mine.torque, theirs.torque
    if one is None or two is None or not one.unit or not two.unit or one.unit != two.unit:
        return one is None or two is None or agree(one, two)
    slack = 1e-9 * abs(one.target or 1.0)
    (low, high), (least, most) = one.band, two.band
    if low is None or high is None or least is None or most is None:
        return agree(one, two)
    if low == high or least == most:
        inside = least - slack <= low and high <= most + slack
        return inside or (low - slack <= least and most <= high + slack)
    return abs(low - least) <= slack and abs(high - most) <= slack


def _differs(row: Row, what: str, here: str, there: str, column: str, also: tuple[str, Path]) -> Finding:
    cell = row.cells.get(column) or row.cells["part"]
    facts: dict[str, Fact] = {"what": what, "here": here, "there": there}
    return Finding(TABLE, "certain", None, str(also[1][1]), facts, span(cell.start, cell.end), also=(also,), form="row")


def _other_size(here: str, there: str) -> bool:
    """Whether two designations are two sizes: M6 and M8, G 1/4 and G 3/8. Lengths and pitches are not compared."""
    one, two = (text.lower().replace(" ", "").replace("×", "x").replace("*", "x") for text in (here, there))
    if one[:1] == two[:1] == "m":
        return one[1:].split("x")[0].split("-")[0].rstrip("s") != two[1:].split("x")[0].split("-")[0].rstrip("s")
    return one[:1] == two[:1] == "g" and one != two


# ---- a step against the row or the record ---------------------------------------------------------------------


def _step_against(trace: Trace, event: Event, joint: Fastener, row: Row | None) -> Iterator[Finding]:
    behind = words_behind(trace, event)
    if behind is None or not trace.catalogue.recorded(joint.id):
        return
    thing, tool = behind[1].deed.thing, behind[1].deed.tool
    if thing is not None and not thing.pronoun and joint.thread is not None and len(thing.sizes) == 1:
        size, there = thing.sizes[0], joint.thread.text
        if _other_size(size, there):
            place = span(thing.start, thing.end)
            yield _other(event, joint, ("size", size.upper(), there), place, fastener_place(joint.id, "size"))
    if row is None:
        return
    own = row.record
    if (
        own is joint
        and own.one_time_use is False
        and event.action.state == "new"
        and event.verb in ("install", "replace")
    ):
        there = row.cells["state"].text if "state" in row.cells else "keep"
        yield _other(event, joint, ("state", "new", there), event.path, fastener_place(joint.id, "one-time-use"))
    cell = row.cells.get("tool")
    if tool is not None and cell is not None and _other_tool(tool, cell.text):
        column = ("procedure", span(cell.start, cell.end))
        yield _other(event, joint, ("tool", tool.text, cell.text), span(tool.start, tool.end), column)


def _other(
    event: Event, joint: Fastener, differing: tuple[str, str, str], path: Path, also: tuple[str, Path]
) -> Finding:
    what, here, there = differing
    facts: dict[str, Fact] = {"what": what, "here": here, "there": there}
    return Finding(TABLE, "certain", event.step, joint.id, facts, path, also=(also,))


def _other_tool(tool: Thing, cell: str) -> bool:
    """Whether a step's tool and the table's are of one kind, and of two sizes."""
    there = cell.lower().replace("-", " ")
    mine = {word for word in (*tool.mods, tool.head) if word in _TOOL_WORDS}
    if not mine & set(there.split()) or tool.range is not None:
        return False
    sizes = {word.replace(" ", "") for word in (*tool.mods, tool.head) if any(sign.isdigit() for sign in word)}
    squeezed = there.replace(" ", "")
    return bool(sizes) and any(sign.isdigit() for sign in there) and not any(size in squeezed for size in sizes)


# ---- references -----------------------------------------------------------------------------------------------

_ELSEWHERE = frozenset(
    "manual handbook sheet drawing standard catalogue document maker manufacturer supplier label plate leaflet "
    "booklet book bulletin instruction instructions specification datasheet iso din".split()
)
_KINDS = {"step": "step", "table": "table", "figure": "figure", "fig": "figure"}


@detector(NOTHING)
def reference_to_nothing(trace: Trace) -> Iterator[Finding]:
    """A step, table or figure is pointed to by a number the document does not have."""
    if trace.draft is None:
        return
    labels = _names_of_steps(trace)
    for told in sentences(trace):
        references = told.read.sentence.references
        if not references or plain_words(told.read) & _ELSEWHERE:
            continue
        for thing in references:
            yield from _missing(trace, told, thing, labels)


def _missing(trace: Trace, told: Told, thing: Thing, labels: set[str]) -> Iterator[Finding]:
    kind = _KINDS.get(thing.head)
    if kind is None or thing.owner is not None:
        return
    for label in thing.labels:
        low = label.lower().rstrip(".")
        if kind == "step":
            there = low in labels or low.rstrip("abcdefgh") in labels
            there = there or not (low[:1].isdigit() or ("A" in labels and low[-1:].isdigit()))
        else:
            there = low in _captions(trace, kind)
        if not there:
            facts: dict[str, Fact] = {"kind": kind, "label": label}
            yield Finding(
                NOTHING,
                "certain",
                told.step,
                "",
                facts,
                span(thing.start, max(thing.end, thing.start)),
                form=kind if kind != "step" else "",
            )
            return


def _names_of_steps(trace: Trace) -> set[str]:
    """Everything a step may be called by: its label, that of the step it is part of, and in a section with a letter
    ("B.3") both alone and together. "A" is among them where sections have letters."""
    found: set[str] = set()
    for step in trace.procedure.steps:
        label = step.label.lower()
        parts = label.split(".")
        found.update(".".join(parts[:place]) for place in range(1, len(parts) + 1))
        if len(parts) > 1 and len(parts[0]) == 1 and parts[0].isalpha():
            rest = ".".join(parts[1:])
            found.update(("A", rest, parts[0] + rest, f"{parts[0]}-{rest}"))
    return found


def _captions(trace: Trace, kind: str) -> frozenset[str]:
    """The numbers of the tables or figures the document has: those that captions give, else counted."""
    assert trace.draft is not None
    held = trace.worked.get(f"captions of {kind}")
    if held is None:
        import re  # only where something is pointed to

        words = r"table" if kind == "table" else r"(?:figure|fig\.?|drawing|sketch)"
        text = trace.draft.document.text
        found = {
            number.lower()
            for number in re.findall(
                rf"^[\s#>*_|\[!]*{words}\s+(\w+)[\s*_]*[:.–—\-)\]|]", text, re.MULTILINE | re.IGNORECASE
            )
        }
        if not found:
            number = len(trace.draft.blocks.tables) if kind == "table" else text.count("![")
            found = {str(place + 1) for place in range(number)} | {
                chr(ord("a") + place) for place in range(min(number, 26))
            }
        held = trace.worked[f"captions of {kind}"] = frozenset(found)
    return held  # type: ignore[return-value]  # kept under these names by nobody else
