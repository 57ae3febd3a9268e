"""Properties of the reader: it takes any text, says the same twice, leaves no word unaccounted for, and reads back
what a made-up procedure says in several manners of writing."""

from __future__ import annotations

from typing import NamedTuple

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from torquewright.base.document import Document
from torquewright.pages.layout import blocks_of
from torquewright.reading.draft import read_draft
from torquewright.sentences.sentence import read_sentences

WORDS = (
    "tighten torque the a six M8 bolts nut it them and then , . ; : ( ) to 9 N·m 12 lbf·in in. lbs. with by hand "
    "new washer "
    "drain screw do not if unless before after until while step 4 Table 2 1 1/2 turns 90° 2-3 M8 × 25 3/8-16 seal oil "
    "replace cover its both each respectively of under on off out up — – ** * _ ` > | + CAUTION: NOTE \n \n\n 1. - # "
    "finger-tight snug is are shall be must have been you that which where slowly re-torque N*m ½ é 🔧 \u00a0 "
).split(" ")

pieces = st.one_of(st.sampled_from(WORDS), st.text(max_size=6))
texts = st.lists(pieces, max_size=40).map(" ".join)


@given(texts)
@settings(max_examples=120, deadline=None)
def test_any_sentence_is_read_and_every_word_accounted_for(text: str) -> None:
    first, second = read_sentences(text), read_sentences(text)
    assert [repr(one.deeds) for one in first] == [repr(one.deeds) for one in second]
    for sentence in first:
        assert sentence.status in ("read", "in part", "unread")
        held = {at for word in sentence.words if word.used for at in range(word.start, word.end)}
        held |= {at for start, end in sentence.leftover for at in range(start, end)}
        for word in sentence.words:
            if any(sign.isalnum() for sign in word.text):
                assert set(range(word.start, word.end)) <= held
        for start, end in sentence.leftover:
            assert sentence.start <= start < end <= sentence.end
        if sentence.status == "read":
            assert not sentence.leftover


@given(texts, st.sampled_from(["d.md", "d.txt"]))
@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_draft_is_read_and_keeps_its_places(text: str, name: str) -> None:
    document = Document(name, "# Title\n\n" + text)
    blocks = blocks_of(document, markdown=name.endswith("md"))
    assert len(blocks.shadow) == len(document.text)
    job, again = read_draft(name, text=document.text), read_draft(name, text=document.text)
    assert job.procedure == again.procedure
    assert job.procedure is not None
    assert job.draft is not None
    assert len(job.draft.steps) == len(job.procedure.steps)
    for index, step in enumerate(job.procedure.steps):
        for number, _ in enumerate(step.actions):
            place = job.places.find(("step", index, "do", number))
            assert place is not None
            assert 1 <= place.line <= document.text.count("\n") + 1


# ---- made-up procedures, told in several manners ------------------------------------------------------------------


class Group(NamedTuple):
    """A group of like screws: its name, size, number, and the figures its tightening goes through."""

    name: str
    size: str
    count: int
    figures: tuple[int, ...]


class Told(NamedTuple):
    """One demand: verb, group, state, figures."""

    verb: str
    group: Group
    state: str = ""
    figures: tuple[int, ...] = ()


NAMES = (
    "end cover",
    "bearing carrier",
    "side plate",
    "fan guard",
    "foot",
    "drain",
    "strap",
    "flange",
    "gearbox",
    "rotor hub",
)
HEADS = ("bolt", "screw", "nut")
NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight")


@st.composite
def jobs(draw: st.DrawFn) -> tuple[list[Group], list[Told]]:
    names = draw(st.lists(st.sampled_from(NAMES), min_size=1, max_size=3, unique=True))
    groups = []
    for name in names:
        last = draw(st.integers(6, 90))
        first = draw(st.integers(2, last - 2))
        figures = draw(st.sampled_from([(last,), (first, last)]))
        size = draw(st.sampled_from(["M5", "M6", "M8", "M10"]))
        groups.append(Group(f"{name} {draw(st.sampled_from(HEADS))}", size, draw(st.integers(1, 8)), figures))
    told: list[Told] = []
    for group in groups:
        told.append(Told(draw(st.sampled_from(["loosen", "remove"])), group))
        if told[-1].verb == "loosen":
            told.append(Told("remove", group))
    for group in draw(st.permutations(groups)):
        told.append(Told("install", group, draw(st.sampled_from(["", "new"]))))
        told.append(Told("hand_start", group))
        told.append(Told("tighten", group, "", group.figures))
    return groups, told


def several(group: Group, *, number: bool = True, state: str = "", size: bool = False) -> str:
    name = group.name + ("s" if group.count > 1 else "")
    words = [NUMBERS[group.count] if number and group.count > 1 else "", state, group.size if size else "", name]
    return " ".join(word for word in words if word)


def pulls(figures: tuple[int, ...]) -> str:
    return ", then to ".join(f"{figure} N·m" for figure in figures)


def plain(deed: Told) -> str:
    name = several(deed.group)
    return {
        "loosen": f"Loosen the {name}.",
        "remove": f"Remove the {name}.",
        "install": f"Fit {several(deed.group, state=deed.state)}." if deed.state else f"Fit the {name}.",
        "hand_start": f"Start the {name} by hand.",
        "tighten": f"Tighten the {name} to {pulls(deed.figures)}.",
    }[deed.verb]


def passive(deed: Told) -> str:
    name = several(deed.group)
    be = "are" if deed.group.count > 1 else "is"
    return {
        "loosen": f"The {name} shall be loosened.",
        "remove": f"The {name} {be} to be removed.",
        "install": f"{several(deed.group, state=deed.state).capitalize()} shall be fitted."
        if deed.state
        else f"The {name} shall be fitted.",
        "hand_start": f"The {name} shall be started by hand.",
        "tighten": f"The {name} must be tightened to {pulls(deed.figures)}.",
    }[deed.verb]


def terse(deed: Told) -> str:
    name = several(deed.group, size=True)
    return {
        "loosen": f"Loosen {name} (4).",
        "remove": f"Remove {name} (4).",
        "install": f"Install {several(deed.group, state=deed.state, size=True)} (4).",
        "hand_start": f"Hand-start {name} (4).",
        "tighten": f"Torque {name} (4) to {pulls(deed.figures)}.",
    }[deed.verb]


def chatty(deed: Told) -> str:
    name = several(deed.group, number=False)
    return {
        "loosen": f"Now slacken the {name} off.",
        "remove": f"Then take the {name} out.",
        "install": f"Put in the {deed.state} {name}." if deed.state else f"Put the {name} back in.",
        "hand_start": f"Get going by hand: start the {name} with your fingers.",
        "tighten": f"Do the {name} up to {pulls(deed.figures)}.",
    }[deed.verb]


def reading(text: str) -> list[tuple[str, str, str, tuple[int, ...]]]:
    job = read_draft("d.md", text=text)
    assert job.procedure is not None
    held = []
    for step in job.procedure.steps:
        for action in step.actions:
            assert action.mode in ("do", "stated_passively")
            figures = (
                tuple(round(stage.torque.nominal or 0) for stage in action.to.stages if stage.torque)
                if action.to
                else ()
            )
            held.append((action.verb, action.what, action.state, figures))
    return held


def document(groups: list[Group], steps: list[str]) -> str:
    records = "\n".join(
        f'[[fastener]]\nname = "{group.name}"\nsize = "{group.size}"\ncount = {group.count}\n' for group in groups
    )
    lines = "\n".join(f"{number}. {step}" for number, step in enumerate(steps, start=1))
    return f"+++\n{records}+++\n\n# Job\n\n{lines}\n"


def wanted(told: list[Told]) -> list[tuple[str, str, str, tuple[int, ...]]]:
    return [(deed.verb, deed.group.name.replace(" ", "-"), deed.state, deed.figures) for deed in told]


@given(jobs(), st.sampled_from([plain, passive, terse]))
@settings(max_examples=120, deadline=None)
def test_a_procedure_told_in_a_manner_reads_back(job: tuple[list[Group], list[Told]], manner: object) -> None:
    groups, told = job
    assert callable(manner)
    assert reading(document(groups, [manner(deed) for deed in told])) == wanted(told)


@given(jobs())
@settings(max_examples=60, deadline=None)
def test_a_procedure_told_over_the_bench_reads_back(job: tuple[list[Group], list[Told]]) -> None:
    groups, told = job
    read = reading(document(groups, [chatty(deed) for deed in told]))
    # "put it back in" says that it is the old one
    assert [(verb, what, figures) for verb, what, _, figures in read] == [
        (verb, what, figures) for verb, what, _, figures in wanted(told)
    ]


@given(jobs())
@settings(max_examples=60, deadline=None)
def test_deeds_joined_by_and_and_then_read_back(job: tuple[list[Group], list[Told]]) -> None:
    groups, told = job
    steps = []
    place = 0
    while place < len(told):
        deed = told[place]
        after = told[place + 1 : place + 3]
        if deed.verb == "install" and [held.verb for held in after] == ["hand_start", "tighten"]:
            it = "them" if deed.group.count > 1 else "it"
            steps.append(f"{plain(deed)[:-1]}, start {it} by hand and tighten {it} to {pulls(after[1].figures)}.")
            place += 3
        else:
            steps.append(plain(deed))
            place += 1
    assert reading(document(groups, steps)) == wanted(told)
