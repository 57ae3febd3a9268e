"""A draft becomes a job: its sentences a procedure, its tables and front matter records, its words their places."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from attrs import evolve

from torquewright.base.document import Document, Places
from torquewright.notation.tightening import Found
from torquewright.pages.blocks import Blocks, Span
from torquewright.pages.layout import blocks_of
from torquewright.reading.accepting import accepted_in
from torquewright.reading.assemble import Assembler
from torquewright.reading.draft_places import Finder, unread_in
from torquewright.reading.draft_tables import Row, heading_unit, rows_of, stated_unit, tightening_in
from torquewright.reading.job import Job
from torquewright.reading.kept import ReadDraft, ReadNotice, ReadSentence, ReadStep
from torquewright.reading.objects import Roster
from torquewright.reading.toolbox import Toolbox
from torquewright.records.catalogue import Catalogue
from torquewright.records.parts import Fastener, Seal
from torquewright.records.steps import Action, Message, Procedure, Step
from torquewright.sentences.sentence import read_sentence
from torquewright.sentences.stops import figures_in, stretches
from torquewright.toml.gathering import Gathering
from torquewright.toml.opening import open_document
from torquewright.toml.parsing import Parsed

_SAFE = frozenset({"isolate", "support", "disconnect", "drain", "stop", "wait", "cool_down"})


def read_draft(
    path: str,
    *,
    catalogue: str | None = None,
    tools: str | None = None,
    kit: str | None = None,
    text: str | None = None,
    texts: Mapping[str, str] | None = None,
) -> Job:
    """Read the draft in the file ``path``, or ``text`` under that name.

    ``catalogue``, ``tools`` and ``kit`` are files of records and ``texts`` what stands in place of such files, as for
    :func:`torquewright.reading.files.read_job`.
    Raises InputTrouble for a file that cannot be opened and for faults in records; never for a sentence.
    """
    document = Document(path, text) if text is not None else open_document(path)
    blocks = blocks_of(document, markdown=not path.lower().endswith(".txt"))
    gathering = Gathering(texts)
    parsed, outside_records = _gathered(gathering, document, blocks, catalogue, tools, kit)
    records, _ = gathering.join()
    job_date = _job_date(parsed)
    places = Places()
    gathering.settle(places)
    draft, procedure, records = understood(document, blocks, records)
    variant = parsed.tables.get("variant", "") if parsed is not None else ""
    procedure = evolve(procedure, job_date=job_date, variant=variant if type(variant) is str else "")
    finder = Finder(draft, parsed)
    places.add("procedure", document, finder.find)
    if not outside_records:
        places.add("catalogue", document, finder.record)
    return Job(path, procedure, records, places, gathering.documents, "draft", unread_in(draft, document), draft)


def _gathered(
    gathering: Gathering, document: Document, blocks: Blocks, catalogue: str | None, tools: str | None, kit: str | None
) -> tuple[Parsed | None, bool]:
    """Gather the front matter and the files of records; whether a catalogue came from another file."""
    gathering.documents[document.name] = document
    parsed = None
    if blocks.front is not None:
        parsed = gathering.parse(document, *blocks.front)
        _without_remarks(parsed)
        gathering.tables(parsed, "procedure")
    outside_records = False
    for part, outside in (("catalogue", catalogue), ("tools", tools), ("kit", kit)):
        if outside is not None:
            gathering.records_file(outside, part)
            outside_records = outside_records or part == "catalogue"
        elif parsed is not None and type(parsed.tables.get(part)) is str:
            gathering.named_inside(parsed, part)
            outside_records = outside_records or part == "catalogue"
    return parsed, outside_records


def records_of_draft(
    path: str,
    text: str,
    *,
    catalogue: str | None = None,
    tools: str | None = None,
    kit: str | None = None,
    texts: Mapping[str, str] | None = None,
) -> Catalogue:
    """The records the draft ``text`` can see, whatever is wrong with them; its own tables among them."""
    document = Document(path, text)
    blocks = blocks_of(document, markdown=not path.lower().endswith(".txt"))
    gathering = Gathering(texts)
    _gathered(gathering, document, blocks, catalogue, tools, kit)
    unit = _unit_for_all(blocks)
    return _with_rows(gathering.join()[0], [row for table in blocks.tables for row in rows_of(table, unit)])


def _unit_for_all(blocks: Blocks) -> str:
    """The unit a remark ahead of the steps states for all figures of the draft."""
    held = [(span.start, span.end) for span, ahead in blocks.notes if ahead == 0]
    held += [(notice.start, notice.end) for notice in blocks.notices if notice.step == 0 and notice.before]
    return stated_unit(blocks.shadow[start:end] for start, end in held)


_KNOWN = ("catalogue", "tools", "kit", "policy", "variant", "job-date")


def _without_remarks(parsed: Parsed) -> None:
    """Writers keep plain remarks in the front matter (machine = "…", author = "…"); they are no records."""
    for key, value in list(parsed.tables.items()):
        if not isinstance(value, (dict, list)) and key not in _KNOWN:
            del parsed.tables[key]


def _job_date(parsed: Parsed | None) -> str:
    """The day of the job, where the front matter states it; "" where it does not, or what it states is no day."""
    if parsed is None or "job-date" not in parsed.tables:
        return ""
    from torquewright.toml.slips import Wrong
    from torquewright.toml.values import READINGS

    try:
        day: str = READINGS["date"](parsed.tables["job-date"])
    except Wrong as fault:
        parsed.slips.extend(slip._replace(path=("job-date",)) for slip in fault.slips)
        return ""
    return day


def understood(document: Document, blocks: Blocks, records: Catalogue) -> tuple[ReadDraft, Procedure, Catalogue]:
    """The draft as read, the procedure it states, and the records with what the draft itself adds to them."""
    draft = ReadDraft(document, blocks)
    unit = _unit_for_all(blocks)
    rows = [row for table in blocks.tables for row in rows_of(table, unit)]
    draft.rows = rows
    records = _with_rows(records, rows)
    toolbox = Toolbox(records.tools)
    for span in blocks.tools:
        toolbox.take_list(blocks.shadow, *span)
    on_the_list = {tool.id for tool in toolbox.own}
    roster = Roster(records)
    assembler = Assembler(roster, toolbox)
    assembler.unit = unit
    steps: list[Step] = []
    messages: list[tuple[int, Message]] = []
    given: list[Action] = []
    waiting = list(blocks.notices)
    for span, ahead in blocks.notes:
        if ahead == 0:
            draft.notes.extend((held, 0) for held in _aside(blocks.shadow, span, assembler))
    for index, item in enumerate(blocks.steps):
        while waiting and (waiting[0].start < item.start or waiting[0].step < index):
            _notice(waiting.pop(0), blocks, assembler, draft, messages, given)
        sentences: list[ReadSentence] = []
        for span in item.stretches:
            sentences.extend(_sentences(blocks.shadow, span, assembler, item.figures))
        actions: list[Action] = []
        for sentence in sentences:
            if sentence.sentence.signal:
                messages.append(
                    (
                        sentence.sentence.start,
                        Message(sentence.sentence.signal, " ".join(sentence.sentence.text.split()), index, not actions),
                    )
                )
            actions.extend(held.action for held in sentence.actions)
        draft.steps.append(ReadStep(item, sentences))
        say = " ".join(" ".join(blocks.shadow[span.start : span.end] for span in item.stretches).split())
        steps.append(Step(item.label, say, tuple(actions), item.section))
        assembler.end_step()
        for label in (item.label, item.label.partition(".")[2]):  # in a section, also by the number in it
            if label:
                assembler.steps_done[label] = tuple(actions)
    for notice in waiting:
        _notice(notice, blocks, assembler, draft, messages, given)
    for span, ahead in blocks.notes:
        if ahead:
            draft.notes.extend((held, ahead) for held in _aside(blocks.shadow, span, assembler))
    listed = tuple(toolbox.listed) if blocks.tools else None
    draft.accepted = accepted_in(document.text, [item.start for item in blocks.steps])
    for held in draft.accepted:
        if held.step is not None:
            steps[held.step] = evolve(steps[held.step], accepted=(*steps[held.step].accepted, held.accepted))
    procedure = Procedure(
        blocks.title,
        tuple(steps),
        tuple(given),
        tuple(message for _, message in messages),
        tools_named=listed,
        accepted=tuple(held.accepted for held in draft.accepted if held.step is None),
    )
    draft.tools_in_steps = frozenset(tool.id for tool in toolbox.own if tool.id not in on_the_list)
    return draft, procedure, _with_found(records, roster, toolbox)


def _sentences(
    shadow: str, span: Span, assembler: Assembler, figures: Sequence[tuple[int, int, str]] = ()
) -> list[ReadSentence]:
    found = figures_in(shadow, *span)
    for start, end, heading in figures:
        if not any(item.start < end and start < item.end for item in found):
            told = tightening_in(shadow[start:end].strip(), heading_unit(heading))
            if told is not None and told.has_value:
                found.append(Found(start, end, told))
                found.sort(key=lambda item: item.start)
    held = []
    for start, end in stretches(shadow, *span, found):
        sentence = read_sentence(
            shadow, start, end, assembler.known, [item for item in found if start <= item.start < end]
        )
        held.append(assembler.take(sentence))
    return held


def _aside(shadow: str, span: Span, assembler: Assembler) -> list[ReadSentence]:
    """The sentences of a note or warning: they do not change what the steps speak of, and bring no records."""
    held = (
        list(assembler.roster.mentions),
        list(assembler.known),
        assembler.last_part,
        assembler.last_sentence,
        assembler.last_tight,
    )
    assembler.recording = False
    sentences = _sentences(shadow, span, assembler)
    assembler.recording = True
    assembler.roster.mentions, assembler.known, assembler.last_part, assembler.last_sentence, assembler.last_tight = (
        held
    )
    return sentences


def _notice(
    notice: object,
    blocks: Blocks,
    assembler: Assembler,
    draft: ReadDraft,
    messages: list[tuple[int, Message]],
    given: list[Action],
) -> None:
    from torquewright.pages.blocks import Notice

    assert isinstance(notice, Notice)
    sentences = _aside(blocks.shadow, Span(notice.start, notice.end), assembler)
    draft.notices.append(ReadNotice(notice, sentences))
    text = " ".join(blocks.shadow[notice.start : notice.end].split())
    step = min(notice.step, len(blocks.steps) - 1)
    if notice.before and notice.step == 0:
        given.extend(
            held.action
            for sentence in sentences
            for held in sentence.actions
            if held.action.verb in _SAFE and held.action.mode == "do"
        )
        step = -1
    if notice.signal:
        messages.append(
            (
                notice.start,
                Message(notice.signal, text, step if not (notice.before and notice.step == 0) else -1, notice.before),
            )
        )


def _with_rows(records: Catalogue, rows: list[Row]) -> Catalogue:
    """Records of the draft's own tables where no record of that name stands; where one does, what only the table tells:
    the lock, the seat, and whether it may be tightened again."""
    names = {
        name.lower()
        for held in (records.fasteners, records.seals)
        for record in held
        for name in (record.id, record.name, *record.aliases)
    }
    fasteners = list(records.fasteners)
    seals = list(records.seals)
    for row in rows:
        record = row.record
        if record.name.lower() in names or record.id in names:
            fasteners = [_told_besides(held, record) for held in fasteners]
            continue
        names.update((record.name.lower(), record.id))
        if isinstance(record, Fastener):
            fasteners.append(record)
        else:
            seals.append(record)
    if fasteners == list(records.fasteners) and len(seals) == len(records.seals):
        return records
    return evolve(records, fasteners=tuple(fasteners), seals=tuple(seals))


def _told_besides(held: Fastener, row: Fastener | Seal) -> Fastener:
    """A record with what only the draft's own table says of that fastener."""
    if not isinstance(row, Fastener) or row.name.lower() not in (name.lower() for name in (held.name, *held.aliases)):
        return held
    changes: dict[str, object] = {}
    if row.retorque is not None and held.retorque is None:
        changes["retorque"] = row.retorque
    if row.seals_by and not held.seals_by:
        changes["seals_by"] = row.seals_by
    if row.lock is not None and held.lock is None and (held.washer is None or "tab" not in held.washer.kind):
        changes["lock"] = row.lock
    return evolve(held, **changes) if changes else held  # type: ignore[arg-type]


def _with_found(records: Catalogue, roster: Roster, toolbox: Toolbox) -> Catalogue:
    """What the draft names and nobody recorded, added with only what the draft says of it."""
    changes: dict[str, object] = {}
    if roster.found:
        changes["fasteners"] = (
            *records.fasteners,
            *(held for held in roster.found.values() if isinstance(held, Fastener)),
        )
        changes["seals"] = (*records.seals, *(held for held in roster.found.values() if isinstance(held, Seal)))
        changes["unrecorded"] = (*records.unrecorded, *roster.found)
    if toolbox.own:
        taken = {tool.id for tool in records.tools or ()}
        changes["tools"] = (*(records.tools or ()), *(tool for tool in toolbox.own if tool.id not in taken))
    return evolve(records, **changes) if changes else records  # type: ignore[arg-type]
