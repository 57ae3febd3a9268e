"""Compounds in the thread: left out, put on a dirty thread, put on plastic that it cracks, not given time to set."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from torquewright.bench import Event, JointTrack, Lot, Trace
from torquewright.bench.state import TIGHT
from torquewright.records import Amount, Fastener
from torquewright.rules.finding import Certainty, Fact, Finding
from torquewright.rules.registry import detector
from torquewright.rules.spoken import speaks_of, told, warned, words_of
from torquewright.rules.spot import at, fastener_place, seal_place

MISSING = "threadlocker-missing"
PLASTIC = "threadlocker-on-plastic"
CURE = "cure-time-ignored"

_COMPOUND = ("threadlock", "thread lock", "thread-lock", "locking compound", "locking fluid", "anaerobic", "retaining")
_APPLY = ("seal", "lubricate", "lock", "install", "reuse", "replace")
_SEALANT = ("sealant", "tape", "silicone", "gasket", "jointing")

# ---- left out --------------------------------------------------------------------------------------------------


def wanted(fastener: Fastener) -> str:
    """The compound the record puts on the thread, in its words; "" for none, or where the thread comes coated."""
    lock = fastener.lock
    if lock is not None:
        kind = lock.kind.lower()
        if lock.built_in or "threadlock" not in kind or " or " in kind:
            return ""
        return lock.product or lock.kind
    return fastener.condition if fastener.condition.startswith("threadlocker") else ""


def is_compound(event: Event, fastener: Fastener) -> bool:
    """Whether an action on the joint puts thread-locking compound on it."""
    if event.verb not in _APPLY or event.action.of:
        return False
    words = event.action.with_what.lower()
    if any(word in words for word in _COMPOUND):
        return True
    if event.verb != "seal" or not wanted(fastener):
        return False
    return not any(word in words for word in _SEALANT)


@detector(MISSING)
def threadlocker_missing(trace: Trace) -> Iterator[Finding]:
    """A thread that takes compound is closed without it, before it, on a thread nobody cleaned, or with oil on it."""
    for key, track in trace.joints.items():
        product = wanted(track.fastener)
        if not product:
            continue
        for lot in track.lots:
            slip = _slip(trace, track, lot, product.lower())
            if slip is not None:
                event, form, certainty = slip
                facts: dict[str, Fact] = {"product": product}
                if form == "both":
                    facts["oil"] = event.action.with_what or "lubricant"
                field = "lock" if track.fastener.lock is not None else "condition"
                yield at(MISSING, certainty, event, key, facts, form, also=(fastener_place(key, field),))
                break


def _slip(trace: Trace, track: JointTrack, lot: Lot, product: str) -> tuple[Event, str, Certainty] | None:
    run = lot.run
    if not run.pulls or run.opened is None:
        return None  # not closed, or as it was found
    first, start = run.pulls[0].event, _start(lot)
    put = [event for event in track.events if event.order > start and is_compound(event, track.fastener)]
    if not put:
        fitted = run.piece_event
        coated = fitted is not None and run.piece == "new" and speaks_of(trace, fitted, "coat", "patch")
        if coated or _said_to_go_on(trace, run.opened, first):
            return None
        # "put the bolts back clean and dry": there the words go wrong, and not where the wrench comes
        entered = run.started or run.fitted
        if entered is not None and entered.step < first.step and speaks_of(trace, entered, "dry"):
            return entered, "", "certain"
        return first, "", "certain"
    if put[0].order > first.order:
        return None if any(word in product for word in ("wicking", "penetrating")) else (put[0], "late", "certain")
    oiled = next((held for held in run.lubricated if held.order < first.order and held not in put), None)
    if oiled is not None and not track.fastener.condition and not oiled.conditional:
        return oiled, "both", "certain"
    back = run.piece == "old" and run.removed is not None and "oil" not in product
    return (put[0], "dirty", "unstated") if back and not _cleaned(trace, track, start, first.order) else None


_PUT_ON = ("put", "appl", "go on", "goes", "coat", "use ", "dab", "drop", "with ")
_NOT_PUT = ("no ", "not ", "never", "without", "neither", "old ", "clean")


def _said_to_go_on(trace: Trace, opened: Event, first: Event) -> bool:
    """Whether a sentence puts compound on without an action that does."""
    steps = range(max(opened.step, 0), first.step + 1)
    return told(trace, steps, _PUT_ON, _COMPOUND) and not told(trace, steps, _NOT_PUT, _COMPOUND)


def _start(lot: Lot) -> int:
    """The event behind which the making of the joint begins: its last pull before the piece came out, or the start."""
    start = -1
    for run, later in zip(lot.runs, [*lot.runs[1:], lot.run], strict=True):
        if run.last is not None and later.removed is not None:
            start = run.last.order
    return start


def _cleaned(trace: Trace, track: JointTrack, start: int, before: int) -> bool:
    """Whether the thread was cleaned: the joint itself, or something that is no other joint."""
    for event in trace.events:
        if start < event.order < before:
            if event.verb == "clean" and (event.joint is None or event.joint is track.fastener):
                return True
            if event.joint is track.fastener and speaks_of(trace, event, "clean", "degrease"):
                return True
    return False


# ---- on plastic ------------------------------------------------------------------------------------------------

# Glassy plastics under stress crack in contact with uncured anaerobic liquid; the waxy ones mostly do not.
_CRACKS = frozenset("abs polycarbonate pc pmma acrylic polystyrene ps ppo ppe san asa polysulfone psu styrene".split())
_STANDS = ("nylon", "polyamide", "acetal", "polypropylene", "polyethylene", "ptfe", "peek", "glass-filled", "phenolic")
_PLASTIC = ("plastic", "thermoplastic", "polymer", "resin")
_PARTED = ("insert", "sleeve", "bush")


@lru_cache(maxsize=512)  # a machine has few materials, and each is asked about again and again
def cracked_by_compound(material: str) -> str:
    """ "yes" for a plastic that anaerobic compound cracks, "ask" for one nobody named and for one behind a metal
    insert, "" for all else."""
    low = material.lower()
    words = "".join(letter if letter.isalnum() else " " for letter in low).split()
    if not _CRACKS.isdisjoint(words):
        return "ask" if any(word in low for word in _PARTED) else "yes"
    if any(word in low for word in _STANDS):
        return ""
    return "ask" if any(word in low for word in _PLASTIC) else ""


@detector(PLASTIC)
def threadlocker_on_plastic(trace: Trace) -> Iterator[Finding]:
    """Anaerobic compound is put on a thread that meets, or is cut in, a plastic that it cracks."""
    for key, track in trace.joints.items():
        fastener = track.fastener
        for field, material in (
            ("mating-material", fastener.mating_material), ("bearing-material", fastener.bearing_material),
            ("property-class", fastener.property_class),
        ):  # fmt: skip
            answer = cracked_by_compound(material) if material else ""
            put = _anaerobic(track) if answer else None
            if put is None:
                continue
            sure: Certainty = "unstated" if answer == "ask" else "likely" if wanted(fastener) else "certain"
            facts: dict[str, Fact] = {"material": material, "product": put.action.with_what or "threadlocker"}
            form = "ask" if answer == "ask" else ""
            yield at(PLASTIC, sure, put, key, facts, form, also=(fastener_place(key, field),))
            break


def _anaerobic(track: JointTrack) -> Event | None:
    product = wanted(track.fastener).lower()
    for event in track.events:
        if is_compound(event, track.fastener) and "plastic" not in f"{words_of(event.action)} {product}":
            return event
    return None


# ---- time to set -----------------------------------------------------------------------------------------------


@detector(CURE)
def cure_time_ignored(trace: Trace) -> Iterator[Finding]:
    """A joint is loaded, filled or run before its compound or sealant has had its time."""
    for key, track in trace.joints.items():
        lock = track.fastener.lock
        if lock is None or lock.cure is None:
            continue
        runs = [lot.run for lot in track.lots if lot.state == TIGHT and lot.run.fitted is not None]
        made = [run for run in runs if run.piece == "new" or not lock.built_in]
        last = max((run.last.order for run in made if run.last is not None), default=-1)
        if last >= 0:
            yield from _loaded(trace, key, last, lock.cure, (track.fastener.fluid,), fastener_place(key, "lock"))
    for key, seal in trace.seals.items():
        cure = seal.seal.cure
        if cure is None or not seal.fitted:
            continue
        clamps = [track for track in trace.joints.values() if key in track.fastener.seals]
        pulls = [run.last.order for track in clamps for _, run in track.runs() if run.last is not None]
        last = max([seal.fitted[-1][0].order, *pulls])
        fluids = tuple(track.fastener.fluid for track in clamps) or (_ANY,)
        yield from _loaded(trace, key, last, cure, fluids, seal_place(key, "cure"))


def _loaded(
    trace: Trace, key: str, closed: int, cure: Amount, fluids: tuple[str, ...], place: tuple[str, tuple[str | int, ...]]
) -> Iterator[Finding]:
    """The first load behind the event ``closed``, when less time than ``cure`` was given."""
    # "Do not run it for 24 hours" gives it that time as well as a wait does.
    held_back = (event.action.amount for event in trace.forbidden if event.order >= closed and event.verb in _LOADING)
    waited = sum(amount.value for amount in held_back if amount is not None)
    for event in trace.events:
        if event.order <= closed or event.conditional:
            continue
        amount = event.action.amount
        if event.verb in ("wait", "cool_down"):
            if amount is None:
                return  # "until it has set": long enough, whatever it takes
            waited += amount.value
        elif _loads(event, fluids):
            setting = ("cure", "set hard", "sets hard", "harden", "overnight")
            if waited >= cure.value * (1 - 1e-9) or warned(trace, event.step, setting):
                return
            if waited == 0.0 and told(trace, range(max(trace.events[closed].step, 0), event.step + 1), setting):
                return
            facts: dict[str, Fact] = {"cure": cure.value, "waited": waited}
            yield at(CURE, "certain", event, key, facts, "" if waited else "none", also=(place,))
            return


_LOADING = ("run", "start", "fill")


_ANY = "*"  # what a seal holds back, where no joint is recorded to clamp it: whatever is filled in


def _loads(event: Event, fluids: tuple[str, ...]) -> bool:
    if event.verb in ("start", "run"):
        return event.joint is None and event.seal is None
    return event.verb in ("fill", "bleed") and any(fluid in (_ANY, event.action.what) for fluid in fluids if fluid)
