"""A quiz put together: the kinds asked for, spread over the rules, drawn by the seed; or a refusal with the reason."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from random import Random

from torquewright.book.texts import rule_text
from torquewright.quiz.faults import pool, several, spot, visible
from torquewright.quiz.figuring import adapters, conversions, limits, wrenches
from torquewright.quiz.items import Item, Kind, NotEnough, cues, shuffled
from torquewright.quiz.mutants import Mutant, mutants
from torquewright.quiz.ordering import orders
from torquewright.records import Catalogue, Procedure


def make_items(
    procedure: Procedure,
    catalogue: Catalogue,
    *,
    count: int,
    seed: int,
    rules: Collection[str] | None = None,
    kinds: Sequence[Kind] = ("spot",),
    family: str | None = None,
    difficulty: int | None = None,
) -> list[Item]:
    """``count`` items on a sound procedure.

    ``rules`` and ``family`` limit what is asked about, ``kinds`` how it is asked (taken in turn), ``difficulty``
    (1 to 5) to items that are at most that hard. Raises :class:`~torquewright.quiz.mutants.NotSound` when the
    procedure has findings of its own, NotEnough when fewer distinct items can be made.
    """
    dice = Random(seed)
    every = visible(mutants(procedure, catalogue), procedure, catalogue)
    wanted = None if rules is None else set(rules)
    if family is not None:
        wanted = {rule for rule in {held.rule for held in every} | {"wrench-out-of-range", "torque-unit-mixed-up"}
                  if rule_text(rule).family == family and (wanted is None or rule in wanted)}  # fmt: skip
    name = _slug(procedure.title)
    streams: list[Iterator[Item]] = []
    for kind in kinds:
        made = _made(kind, procedure, catalogue, every, wanted, dice, name)
        streams.append(item for item in made if difficulty is None or item.difficulty <= difficulty)
    items: list[Item] = []
    taken: set[tuple[str, ...]] = set()
    while streams and len(items) < count:
        for stream in list(streams):
            item = next(
                (held for held in stream if _same(held) not in taken and not any(cues(held, one) for one in items)),
                None,
            )
            if item is None:
                streams.remove(stream)
                continue
            taken.add(_same(item))
            items.append(item)
            if len(items) == count:
                break
    if len(items) < count:
        raise NotEnough(len(items), count, _why(count, len(items), kinds, every, wanted, family, difficulty))
    return items


def _same(item: Item) -> tuple[str, ...]:
    """What makes two items the same question."""
    if item.remarks and item.kind in ("spot", "all"):
        return (item.kind, *sorted("/".join((held.rule, held.step, held.joint)) for held in item.remarks))
    return item.kind, item.id


def make_forms(
    procedure: Procedure, catalogue: Catalogue, *, forms: int, count: int, seed: int, **wishes: object
) -> list[list[Item]]:
    """``forms`` parallel forms of ``count`` items each, with no item twice; dealt out so that rules are alike."""
    every = make_items(procedure, catalogue, count=forms * count, seed=seed, **wishes)  # type: ignore[arg-type]
    dealt = sorted(range(len(every)), key=lambda at: (every[at].kind, every[at].rule, at))
    return [[every[at] for at in sorted(dealt[form::forms])] for form in range(forms)]


def _made(
    kind: Kind, procedure: Procedure, catalogue: Catalogue, every: list[Mutant], wanted: set[str] | None,
    dice: Random, name: str,
) -> Iterator[Item]:  # fmt: skip
    if kind in ("spot", "all"):
        build = spot if kind == "spot" else several
        return _faults(build, list(pool(every, wanted)), every, dice, name)
    if kind == "order":
        found: list[Item] = list(orders(procedure, catalogue, dice, name))
    elif kind == "number":
        found = [
            *conversions(procedure, catalogue, name),
            *limits(procedure, catalogue, name),
            *adapters(procedure, catalogue, dice, name),
        ]
    else:
        found = list(wrenches(procedure, catalogue, name))
    return iter(shuffled([item for item in found if wanted is None or item.rule in wanted], dice))


def _faults(
    build: Callable[[Mutant, list[Mutant], Random, str], Item | None], held: list[Mutant], every: list[Mutant],
    dice: Random, name: str,
) -> Iterator[Item]:  # fmt: skip
    for mutant in _spread(shuffled(held, dice)):
        item = build(mutant, every, dice, name)
        if item is not None:
            yield item


def _spread(held: list[Mutant]) -> list[Mutant]:
    """Each rule once before any rule comes twice."""
    times: dict[str, int] = {}
    rounds: list[tuple[int, int]] = []
    for at, mutant in enumerate(held):
        rounds.append((times.get(mutant.rule, 0), at))
        times[mutant.rule] = times.get(mutant.rule, 0) + 1
    return [held[at] for _, at in sorted(rounds)]


def _why(
    count: int, have: int, kinds: Sequence[Kind], every: list[Mutant], wanted: set[str] | None, family: str | None,
    difficulty: int | None,
) -> str:  # fmt: skip
    mine = list(pool(every, wanted))
    of = len({mutant.rule for mutant in mine})
    told = f"{count} questions were asked for, but only {have} can be made of this procedure"
    if set(kinds) & {"spot", "all"}:
        told += f": {len(mine)} distinct faults of {of} kinds can be planted in it"
    limits = [f"family {family}"] if family else []
    limits += [f"difficulty up to {difficulty}"] if difficulty is not None else []
    return told + (f" (with {' and '.join(limits)})" if limits else "")


def _slug(title: str) -> str:
    kept = "".join(sign if sign.isascii() and sign.isalnum() else "-" for sign in title.lower())
    return "-".join(part for part in kept.split("-") if part)[:40] or "job"
