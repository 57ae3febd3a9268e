"""The piece that goes in beside the recorded one: size, length, class, and the thread it meets."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.base.document import Path
from torquewright.bench import Event, Trace
from torquewright.joint.described import plain_name
from torquewright.joint.quick import strength_of
from torquewright.records import Amount, Fastener, Thread
from torquewright.rules.finding import Certainty, Fact, Finding
from torquewright.rules.registry import detector
from torquewright.rules.spot import fastener_place

FITS = frozenset({"install", "reuse", "replace", "position", "insert", "connect", "hand_start", "tighten"})


class Piece:
    """A piece as the step or the kit describes it, and where that stands."""

    __slots__ = ("event", "grade", "joint", "length", "part", "path", "size")

    def __init__(
        self, joint: Fastener, size: Thread | None, grade: str, length: Amount | None, part: str, path: Path,
        event: Event | None,
    ) -> None:  # fmt: skip
        self.joint = joint
        self.size = size
        self.grade = grade
        self.length = length
        self.part = part
        self.path = path
        self.event = event


Differs = tuple[str, str, str]
"""One thing in which a piece is not the recorded one: the key, the fitted and the recorded in words."""


def pieces(trace: Trace) -> Iterator[Piece]:
    """Every piece that a step or the kit describes."""
    for track in trace.joints.values():
        for event in track.events:
            action = event.action
            if event.verb in FITS and not action.of and (action.size or action.property_class or action.length):
                yield Piece(
                    track.fastener, action.size, action.property_class, action.length, "procedure", event.path, event
                )
    for at, item in enumerate(trace.catalogue.kit or ()):
        joint = trace.joints.get(item.part)
        if joint is not None and (item.size or item.property_class or item.length):
            yield Piece(joint.fastener, item.size, item.property_class, item.length, "kit", ("kit", at), None)


def differences(piece: Piece) -> list[Differs]:
    """In what a piece is not the recorded one; what neither side states does not differ."""
    joint = piece.joint
    found: list[Differs] = []
    if piece.size is not None and joint.thread is not None and not same_thread(piece.size, joint.thread):
        found.append(("size", piece.size.text, joint.thread.text))
    if piece.length is not None and joint.length is not None and not _same_length(piece.length, joint.length):
        found.append(("length", _millimetres(piece.length), _millimetres(joint.length)))
    if piece.grade and joint.property_class and not same_grade(piece.grade, joint.property_class):
        found.append(("property-class", piece.grade, joint.property_class))
    return found


def same_thread(one: Thread, other: Thread) -> bool:
    """Whether two designations mean one thread, as far as both say."""
    if family(one) != family(other) or one.hand != other.hand:
        return False
    if one.family == "pipe":
        return _bore(one) == _bore(other)
    if one.diameter is not None and other.diameter is not None and abs(one.diameter - other.diameter) > 2e-6:
        return False
    return one.pitch is None or other.pitch is None or abs(one.pitch - other.pitch) < 1e-6


_BSP = frozenset({"G", "R", "Rp", "Rc", "BSP"})


def family(thread: Thread) -> str:
    """The family of threads that fit one another: metric, unified, and of pipe threads BSP and NPT."""
    if thread.family != "pipe":
        return thread.family
    return "BSP" if thread.series in _BSP else "NPT"


def _bore(thread: Thread) -> str:
    """The nominal size of a pipe thread: ``1/4`` of ``G 1/4`` and of ``1/4-18 NPT``."""
    kept = "".join(sign if sign.isdigit() or sign in "/-" else " " for sign in thread.text)
    first = next(iter(kept.split()), "")
    head, _, tail = first.partition("-")
    return first if "/" in tail else head


def _same_length(one: Amount, other: Amount) -> bool:
    low = other.value if other.low is None else other.low
    high = other.value if other.high is None else other.high
    slack = max(one.half, other.half) + 1e-9 if one.unit != other.unit else 1e-6
    return low - slack <= one.value <= high + slack


def _millimetres(length: Amount) -> str:
    from torquewright.base.figures import show  # only for a piece that is not the recorded one

    return show(length.value, length.unit, length.half)


def _plain(grade: str) -> str:
    word = " ".join(grade.lower().split(",")[0].split())
    for prefix in ("property class ", "class ", "sae ", "astm "):
        word = word.removeprefix(prefix)
    return word.replace("gr. ", "grade ").replace(" ", "-") if word[:1] == "a" else word.replace("gr. ", "grade ")


def same_grade(fitted: str, recorded: str) -> bool:
    """Whether two names mean one class; a record may list several: ``8.8 or 10.9``."""
    listed = recorded.replace("/", " or ").split(" or ")
    return any(_plain(fitted) == _plain(word) for word in (recorded, *listed))


# ---- the three rules ---------------------------------------------------------------------------------------------


@detector("near-match-bolt")
def near_match_bolt(trace: Trace) -> Iterator[Finding]:
    """A piece goes in that looks like the recorded one and differs in size, pitch, length or class."""
    for piece in pieces(trace):
        found = differences(piece)
        if not found or _families(piece) is not None or weaker(piece) is not None:
            continue
        facts: dict[str, Fact] = {
            "fitted": ", ".join(held[1] for held in found), "recorded": ", ".join(held[2] for held in found),
        }  # fmt: skip
        stronger = [held[0] for held in found] == ["property-class"] and _stronger(piece)
        form = "kit" if piece.part == "kit" else "stronger" if stronger else ""
        yield _told("near-match-bolt", "certain", piece, facts, form, *(held[0] for held in found))


@detector("weaker-material-substituted")
def weaker_material_substituted(trace: Trace) -> Iterator[Finding]:
    """A piece of a weaker class or metal goes in than the record asks for."""
    for piece in pieces(trace):
        if _families(piece) is not None:
            continue
        strengths = weaker(piece)
        if strengths is None:
            continue
        facts: dict[str, Fact] = {"fitted": piece.grade, "recorded": piece.joint.property_class}
        form = "metal"
        if strengths[1]:
            facts |= {"has": strengths[0], "wanted": strengths[1], "share": strengths[0] / strengths[1]}
            form = ""
        form = "-".join(word for word in (form, "kit" if piece.part == "kit" else "") if word)
        yield _told("weaker-material-substituted", "certain", piece, facts, form, "property-class")


_SOFT = frozenset({"brass", "copper", "aluminium", "aluminium cast", "aluminium die-cast", "zinc", "magnesium",
                   "plastic", "nylon", "glass-filled nylon"})  # fmt: skip


def weaker(piece: Piece) -> tuple[float, float] | None:
    """The strength of a piece and that of the recorded one (Pa), where it is weaker; zeros where no table has them but
    a soft metal or a plastic stands for steel; None where it is not known to be weaker."""
    recorded = piece.joint.property_class
    if not piece.grade or not recorded or same_grade(piece.grade, recorded):
        return None
    diameter = piece.joint.thread.diameter if piece.joint.thread is not None else None
    wanted = strength_of(_first(recorded), diameter or 0.01)
    has = strength_of(_first(piece.grade), diameter or 0.01)
    if wanted is not None and has is not None:
        return (has[0], wanted[0]) if has[0] < wanted[0] * (1 - 1e-6) else None
    if has is None and plain_name(piece.grade) in _SOFT and (wanted is not None or "steel" in recorded.lower()):
        return 0.0, 0.0
    return None


def _stronger(piece: Piece) -> bool:
    recorded = strength_of(_first(piece.joint.property_class), 0.01)
    fitted = strength_of(_first(piece.grade), 0.01)
    return recorded is not None and fitted is not None and fitted[0] > recorded[0]


def _first(grade: str) -> str:
    return grade.split(",")[0].strip()


@detector("mixed-thread-family")
def mixed_thread_family(trace: Trace) -> Iterator[Finding]:
    """Two threads of different families are to go together."""
    for piece in pieces(trace):
        meets = _families(piece)
        if meets is not None and piece.size is not None:
            facts: dict[str, Fact] = {"one": piece.size.text, "other": meets.text}
            yield _told("mixed-thread-family", "certain", piece, facts, "kit" if piece.part == "kit" else "", "size")
    for track in trace.joints.values():
        joint = track.fastener
        own, mate = joint.thread, joint.mating_thread
        event = next((event for event in track.events if event.verb in FITS and not event.action.of), None)
        if own is None or mate is None or event is None or same_thread(own, mate):
            continue
        facts = {"one": own.text, "other": mate.text}
        form = "record" if family(own) != family(mate) else "record-size"
        found = _told("mixed-thread-family", "certain", Piece(joint, own, "", None, "procedure", event.path, event),
                      facts, form, "size", "mating-size")  # fmt: skip
        yield found._replace(path=("fastener", joint.id, "mating-size"), part="catalogue",
                             also=(fastener_place(joint.id, "size"), ("procedure", event.path)))  # fmt: skip


def _families(piece: Piece) -> Thread | None:
    """The recorded thread (its mate's, where that is stated) whose family the piece's thread is not of."""
    meets = piece.joint.mating_thread or piece.joint.thread
    if piece.size is None or meets is None or family(piece.size) == family(meets):
        return None
    return meets


def _told(
    rule: str, certainty: Certainty, piece: Piece, facts: dict[str, Fact], form: str, *keys: str
) -> Finding:
    event = piece.event
    return Finding(
        rule, certainty, event.step if event is not None and event.step >= 0 else None, piece.joint.id, facts,
        (*piece.path, keys[0]), piece.part, also=tuple(fastener_place(piece.joint.id, key) for key in keys), form=form,
    )  # fmt: skip
