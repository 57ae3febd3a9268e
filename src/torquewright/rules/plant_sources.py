"""Plants figures nobody vouches for: no source, hearsay, records of another variant."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from torquewright.bench import play
from torquewright.records import Catalogue, Procedure, Source
from torquewright.rules.editing import edit_fastener
from torquewright.rules.registry import Planted, planter
from torquewright.rules.sources import RULE, first_figure


@planter(RULE)
def unsourced(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Takes the source of one figure away, or puts a forum in its place; takes the records of another variant."""
    sourced = [held for held in catalogue.fasteners if held.source is not None and held.tightening is not None]
    every = all(held.source is not None for held in catalogue.fasteners if held.tightening is not None)
    for key, track in play(procedure, catalogue).joints.items():
        fastener, event = track.fastener, first_figure(track)
        if event is None or event.step < 0 or not track.recorded:
            continue
        if fastener.tightening is None or not fastener.tightening.has_value:
            continue
        told = edit_fastener(catalogue, key, source=Source("read in a forum"))
        yield Planted(procedure, told, event.step, key, "its figure was read in a forum")
        if every and len(sourced) > 1:
            bare = evolve(edit_fastener(catalogue, key, source=None), source=None)
            yield Planted(procedure, bare, event.step, key, "its figure has no source any more")
    if not procedure.variant and not catalogue.variant:
        other = evolve(procedure, variant="short shaft"), evolve(catalogue, variant="long shaft")
        yield Planted(*other, None, "", "the records are for another variant")
