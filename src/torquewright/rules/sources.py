"""Where the figures come from: a figure nobody vouches for, hearsay, a record of another variant of the machine."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.bench import Event, JointTrack, Trace
from torquewright.records import Catalogue, Fastener
from torquewright.rules.finding import Fact, Finding
from torquewright.rules.registry import detector
from torquewright.rules.spot import at, fastener_place

RULE = "value-without-source"

HEARSAY = (
    "from memory", "by heart", "hearsay", "rumour", "rumor", "forum", "guess", "somebody told", "someone told",
)  # fmt: skip
"""Words in a source that say it is none."""


@detector(RULE)
def unsourced(trace: Trace) -> Iterator[Finding]:
    """A figure is pulled whose record names no source where others do, or names hearsay; or the records are for
    another variant of the machine."""
    catalogue, procedure = trace.catalogue, trace.procedure
    if catalogue.variant and procedure.variant and not _same(catalogue.variant, procedure.variant):
        variants: dict[str, Fact] = {"job": procedure.variant, "records": catalogue.variant}
        yield Finding(RULE, "certain", None, "", variants, ("variant",), also=(("catalogue", ("machine", "variant")),),
                      form="variant")  # fmt: skip
    named = sourced(catalogue)
    for key, track in trace.joints.items():
        fastener = track.fastener
        if not track.recorded or fastener.tightening is None or not fastener.tightening.has_value:
            continue
        text = source_of(catalogue, fastener)
        doubtful = _hearsay(text)
        event = first_figure(track) if doubtful or (not text and named) else None
        if event is None:
            continue
        facts: dict[str, Fact] = {"source": text} if doubtful else {"others": named}
        also = (fastener_place(key, "source" if doubtful and fastener.source is not None else "tightening"),)
        yield at(RULE, "unstated", event, key, facts, "hearsay" if doubtful else "", "to", also)


def source_of(catalogue: Catalogue, fastener: Fastener) -> str:
    """The source of a fastener's record: its own, else that of the whole machine; "" for none."""
    source = fastener.source or catalogue.source
    return f"{source.text} {source.revision}".strip() if source is not None else ""


def sourced(catalogue: Catalogue) -> int:
    """How many fasteners with a figure name a source that is one. Where none does, nobody keeps sources here."""
    if catalogue.source is not None:
        return 0
    return sum(
        1 for held in catalogue.fasteners
        if held.source is not None and held.tightening is not None and not _hearsay(held.source.text)
    )  # fmt: skip


def _hearsay(text: str) -> bool:
    text = text.lower()
    return any(word in text for word in HEARSAY)


def _same(one: str, other: str) -> bool:
    return one.lower().split() == other.lower().split()


def first_figure(track: JointTrack) -> Event | None:
    """The first pull to a figure."""
    for event in track.events:
        to = event.action.to
        if event.verb in ("tighten", "retighten", "tighten_angle") and to is not None and to.has_value:
            return None if event.conditional else event
    return None
