"""The play-through: positions, pieces, washers, locks, and what cannot happen."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from torquewright.bench import Trace, play
from torquewright.records import (
    VERBS,
    Action,
    Angle,
    Catalogue,
    Fastener,
    Fluid,
    Lock,
    Procedure,
    Seal,
    Stage,
    Step,
    Tightening,
    Tool,
    Torque,
    Washer,
    WasherUse,
)


def torque(*stages: float) -> Tightening:
    """A tightening in stages, in N·m."""
    return Tightening(
        text=", then ".join(f"{stage} N·m" for stage in stages),
        kind="stage" if len(stages) > 1 else "single",
        stages=tuple(Stage(Torque(stage, None, None, "N·m", 0.5)) for stage in stages),
    )


COVER = Fastener("cover-screw", "cover screw", count=6, tightening=torque(9))
DRAIN = Fastener("drain-screw", "drain screw", count=1, washer=Washer("sealing", 1, True))
NUT = Fastener("castle-nut", "castle nut", count=2, lock=Lock("cotter pin", True))
CATALOGUE = Catalogue(
    fasteners=(COVER, DRAIN, NUT),
    seals=(Seal("ring", "ring", one_time_use=True, lubricant="oil"),),
    fluids=(Fluid("gear-oil", "gear oil"),),
    tools=(Tool("wrench", "wrench", low=5.0, high=25.0),),
)


def job(*actions: Action) -> Trace:
    """Play one action a step."""
    steps = tuple(Step(str(at + 1), "", (action,)) for at, action in enumerate(actions))
    return play(Procedure("job", steps), CATALOGUE)


def states(trace: Trace, key: str) -> dict[str, int]:
    """How many positions of a joint are in which state."""
    found: dict[str, int] = {}
    for lot in trace.joints[key].lots:
        found[lot.state] = found.get(lot.state, 0) + lot.count
    return found


def test_a_start_without_a_number_is_of_those_just_put_in() -> None:
    four_in = [Action("remove", "cover-screw", count=6), Action("install", "cover-screw", count=4)]
    start = Action("hand_start", "cover-screw")
    assert states(job(*four_in, start), "cover-screw") == {"started": 4, "out": 2}
    rest = Action("install", "cover-screw", count=2)
    assert states(job(*four_in, start, rest, start), "cover-screw") == {"started": 6}
    assert states(job(Action("remove", "cover-screw", count=6), start), "cover-screw") == {"started": 6}


def test_six_out_five_in_leaves_one_position_out() -> None:
    trace = job(
        Action("remove", "cover-screw", count=6),
        Action("install", "cover-screw", count=5),
        Action("hand_start", "cover-screw", count=5),
        Action("tighten", "cover-screw", to=torque(9)),
    )
    assert states(trace, "cover-screw") == {"tight": 5, "out": 1}


def test_subsets_in_different_steps_add_up() -> None:
    trace = job(
        Action("remove", "cover-screw"),
        Action("install", "cover-screw", count=4, state="new"),
        Action("install", "cover-screw", count=2, state="new"),
        Action("tighten", "cover-screw", to=torque(4, 9)),
    )
    assert states(trace, "cover-screw") == {"tight": 6}
    runs = [run for _, run in trace.joints["cover-screw"].runs()]
    assert [len(run.pulls) for run in runs if run.opened] == [2, 2]
    assert not trace.joints["cover-screw"].trouble


def test_more_than_there_are_is_remembered_as_excess() -> None:
    trace = job(Action("remove", "cover-screw", count=8))
    assert trace.joints["cover-screw"].events[0].excess == 2


def test_positions_tightened_in_two_halves_each_get_one_pull() -> None:
    trace = job(
        Action("remove", "cover-screw"),
        Action("install", "cover-screw"),
        Action("tighten", "cover-screw", count=3, to=torque(9)),
        Action("tighten", "cover-screw", count=3, to=torque(9)),
    )
    assert sum(lot.count for lot in trace.joints["cover-screw"].lots if len(lot.run.pulls) == 1) == 6


def test_old_washer_stays_on_the_seat_until_someone_takes_it_off() -> None:
    left = job(
        Action("remove", "drain-screw"),
        Action("install", "drain-screw", washer=WasherUse(1, "new")),
    )
    run = left.joints["drain-screw"].lots[0].run
    assert (run.old_washers, len(run.washers), run.seat_cleared) == (1, 1, None)

    taken = job(
        Action("remove", "drain-screw"),
        Action("discard", "sealing washer", of="drain-screw"),
        Action("install", "drain-screw", washer=WasherUse(1, "new")),
    )
    run = taken.joints["drain-screw"].lots[0].run
    assert (run.old_washers, [washer.state for washer in run.washers]) == (0, ["new"])
    assert run.seat_cleared is not None


def test_a_washer_fitted_on_its_own_sits_under_the_screw_fitted_next() -> None:
    trace = job(
        Action("remove", "drain-screw"),
        Action("remove", "washer", of="drain-screw"),
        Action("install", "washer", of="drain-screw", state="new"),
        Action("hand_start", "drain-screw"),
    )
    assert [washer.state for washer in trace.joints["drain-screw"].lots[0].run.washers] == ["new"]


def test_piece_is_followed_not_only_named() -> None:
    def piece(*actions: Action) -> str:
        return job(*actions).joints["cover-screw"].lots[0].run.piece

    out = Action("remove", "cover-screw")
    assert piece(out, Action("reuse", "cover-screw")) == "old"
    assert piece(out, Action("install", "cover-screw", state="new")) == "new"
    assert piece(out, Action("install", "cover-screw")) == "unstated"
    assert piece(out, Action("discard", "cover-screw"), Action("install", "cover-screw")) == "new"
    assert piece(Action("replace", "cover-screw")) == "new"
    assert piece(Action("loosen", "cover-screw"), Action("tighten", "cover-screw", to=torque(9))) == "original"


def test_lock_taken_out_and_binned_makes_the_next_one_new() -> None:
    trace = job(
        Action("discard", "cotter pin", of="castle-nut"),
        Action("remove", "castle-nut"),
        Action("install", "castle-nut"),
        Action("tighten", "castle-nut", to=torque(20)),
        Action("lock", "castle-nut", with_what="cotter pin", state="new"),
    )
    assert {lot.run.lock for lot in trace.joints["castle-nut"].lots} == {"new"}
    old = job(Action("remove", "castle-nut"), Action("lock", "castle-nut", state="old"))
    assert {lot.run.lock for lot in old.joints["castle-nut"].lots} == {"old"}


def test_impossible_actions_are_kept_as_trouble() -> None:
    trace = job(
        Action("remove", "drain-screw"),
        Action("remove", "drain-screw"),
        Action("tighten", "drain-screw", to=torque(7)),
    )
    assert [kind for kind, _ in trace.joints["drain-screw"].trouble] == ["out already", "not in"]


def test_what_is_forbidden_or_only_mentioned_moves_nothing() -> None:
    trace = job(Action("remove", "drain-screw", mode="do_not"), Action("remove", "drain-screw", mode="mentioned_only"))
    assert not trace.joints
    assert (len(trace.forbidden), len(trace.mentioned)) == (1, 1)


def test_running_knows_which_joints_stand_open() -> None:
    trace = job(
        Action("remove", "drain-screw"),
        Action("hand_start", "drain-screw"),
        Action("run", "engine"),
        Action("tighten", "drain-screw", to=torque(7)),
        Action("run", "engine"),
    )
    assert [running.open_joints for running in trace.running] == [(("drain-screw", "started"),), ()]


def test_a_seal_is_oiled_before_or_as_it_goes_in() -> None:
    before = job(Action("lubricate", "ring", with_what="oil"), Action("install", "ring", state="new"))
    after = job(Action("install", "ring", state="new"), Action("lubricate", "ring", with_what="oil"))
    never = job(Action("install", "ring", state="new"))
    assert [track.seals["ring"].fitted[0][2] for track in (before, after, never)] == [True, True, False]


ids = st.sampled_from(["cover-screw", "drain-screw", "castle-nut", "ring", "gear-oil", "something else", ""])
counts = st.none() | st.integers(0, 9)
staged = st.lists(st.floats(0.1, 90), min_size=1, max_size=3).map(lambda held: torque(*held))
tightenings = st.none() | staged | st.just(Tightening("90°", "angle_only", (Stage(angle=Angle(90.0)),)))
any_action = st.builds(
    Action,
    verb=st.sampled_from(sorted(VERBS)),
    what=ids | st.sampled_from(["washer", "cotter pin", "seat", "wrench"]),
    of=ids,
    mode=st.sampled_from(["do", "do_not", "if", "mentioned_only", "stated_passively"]),
    count=counts,
    state=st.sampled_from(["", "new", "old", "measured", "new_if"]),
    to=tightenings,
    tool=st.sampled_from(["", "wrench", "a big spanner"]),
    washer=st.none() | st.builds(WasherUse, counts, st.sampled_from(["", "new", "old"])),
    with_what=st.sampled_from(["", "oil", "cotter pin"]),
    by_hand=st.booleans(),
)


@settings(max_examples=150)
@given(st.lists(any_action, max_size=25))
def test_never_raises_and_never_loses_a_position(actions: list[Action]) -> None:
    trace = job(*actions)
    for track in trace.joints.values():
        assert sum(lot.count for lot in track.lots) == track.fastener.positions
        assert all(lot.count > 0 for lot in track.lots)
    played = len(trace.events) + len(trace.forbidden) + len(trace.mentioned)
    assert played == len(actions)
