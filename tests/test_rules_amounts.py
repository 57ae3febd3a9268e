"""How much fluid is poured in, laid out and read."""

from __future__ import annotations

from pathlib import Path

import pytest
from attrs import evolve
from hypothesis import given, settings

from rule_bench import found, job, plant_all, told
from sound_procedures import sound_jobs
from torquewright import read
from torquewright.records import Action, Amount, Catalogue, Fastener, Fluid, KitItem, Procedure
from torquewright.rules.amounts import amount_told
from torquewright.toml.quantities import read_amount

BEYOND, SHORT = "fill-beyond-capacity", "supply-short-of-capacity"
LEVEL = "level-read-at-wrong-temperature"
EXAMPLES = sorted((Path(__file__).parent.parent / "specs" / "examples").glob("*/sound.toml"))
DRAIN = Fastener("drain", "drain screw", fluid="oil", role="drain")
HOLE = Fastener("hole", "level screw", fluid="oil", role="level")


def volume(text: str) -> Amount:
    return read_amount(text, "volume")


def records(kit: tuple[KitItem, ...] | None = None, **fluid: object) -> Catalogue:
    return Catalogue(fasteners=(DRAIN, HOLE), fluids=(Fluid("oil", "gear oil", **fluid),), kit=kit)  # type: ignore[arg-type]


def pour(text: str, what: str = "oil", **more: str) -> Action:
    return Action("fill", what, amount=volume(text) if text else None, **more)  # type: ignore[arg-type]


class TestBeyond:
    @pytest.mark.parametrize(
        ("text", "count"),
        [("0.69 L", 0), ("0.7 L", 0), ("0.70 L", 0), ("0.71 L", 1), ("700 mL", 0), ("710 mL", 1),
         ("0.68 to 0.72 L", 0), ("0.71 to 0.75 L", 1), ("24 US fl oz", 0), ("26 US fl oz", 1), ("", 0)],
    )  # fmt: skip
    def test_one_pour(self, text: str, count: int) -> None:
        assert len(found(BEYOND, job(pour(text)), records(capacity=volume("0.70 L")))) == count

    def test_the_amount_counts_only_without_a_capacity(self) -> None:
        assert told(BEYOND, job(pour("0.66 L")), records(amount=volume("0.62 L"))) == [("1", "certain", "amount")]
        assert found(BEYOND, job(pour("0.66 L")), records(amount=volume("0.62 L"), capacity=volume("0.7 L"))) == []
        assert found(BEYOND, job(pour("0.66 L")), records()) == []

    def test_pours_add_up_to_the_capacity_only(self) -> None:
        steps = (pour("0.4 L"), pour("0.31 L"))
        assert told(BEYOND, job(*steps), records(capacity=volume("0.7 L"))) == [("2", "certain", "together")]
        assert found(BEYOND, job(*steps), records(amount=volume("0.7 L"))) == []
        assert found(BEYOND, job(pour("0.4 L"), pour("0.3 L")), records(capacity=volume("0.7 L"))) == []

    def test_what_was_drained_does_not_count(self) -> None:
        held = records(capacity=volume("0.7 L"))
        for between in (Action("drain", "oil"), Action("remove", "drain"), Action("loosen", "drain")):
            assert found(BEYOND, job(pour("0.6 L"), between, pour("0.6 L")), held) == [], between
        for between in (Action("drain", "water"), Action("remove", "hole"), Action("clean", "drain")):
            steps = (pour("0.6 L"), between, *([Action("tighten", "hole")] if between.what == "hole" else []))
            assert len(found(BEYOND, job(*steps, pour("0.6 L")), held)) == 1, between

    def test_an_open_level_hole_lets_the_rest_out(self) -> None:
        held = records(amount=volume("0.6 L"))
        assert found(BEYOND, job(Action("remove", "hole"), pour("1.2 L")), held) == []
        assert told(BEYOND, job(Action("remove", "hole"), pour("1.3 L")), held) == [("2", "likely", "open")]
        closed = (Action("remove", "hole"), Action("install", "hole"), pour("1.2 L"))
        assert told(BEYOND, job(*closed), held) == [("3", "certain", "amount")]

    def test_the_fluid_by_its_words(self) -> None:
        held = records(capacity=volume("0.7 L"))
        assert len(found(BEYOND, job(pour("1 L", "gearcase", with_what="Gear oil")), held)) == 1
        assert len(found(BEYOND, job(pour("1 L", "")), held)) == 1  # the only fluid there is
        assert found(BEYOND, job(pour("1 L", "bucket", with_what="water")), held) == []
        assert found(BEYOND, job(pour("1 L", "tray")), held) == []

    def test_the_fluid_by_another_name_beside_a_second_fluid(self) -> None:
        held = records(capacity=volume("0.7 L"), aliases=("EP 80",))
        two = evolve(held, fluids=(*held.fluids, Fluid("water", "cooling water")))
        assert [hit.joint for hit in found(BEYOND, job(pour("1 L", "gearcase", with_what="ep 80")), two)] == ["oil"]
        assert found(BEYOND, job(pour("1 L", "", with_what="oil and water")), two) == []  # it could be either
        assert found(BEYOND, job(pour("1 L", "")), two) == []

    def test_a_second_fluid_without_figures_changes_nothing(self) -> None:
        held = records((bottle("0.5 L"), KitItem("washer", 2)), amount=volume("0.6 L"))
        two = evolve(held, fluids=(*held.fluids, Fluid("water", "cooling water")))
        assert [hit.joint for hit in found(BEYOND, job(pour("1 L"), pour("9 L", "water")), two)] == ["oil"]
        (finding,) = found(SHORT, job(pour("0.6 L")), two)
        assert (finding.certainty, finding.also) == ("certain", (("catalogue", ("fluid", "oil", "amount")),))
        (bare,) = found(SHORT, job(pour("0.6 L")), records((bottle("0.5 L"),)))
        assert bare.also == ()

    def test_what_is_conditional_is_left_alone(self) -> None:
        assert found(BEYOND, job(pour("1 L", mode="if")), records(capacity=volume("0.7 L"))) == []

    def test_an_amount_is_told_as_it_was_written(self) -> None:
        assert amount_told(volume("22 US fl oz")) == "22 US fl oz"
        assert amount_told(volume("0.6 to 0.7 L")) == "0.6 to 0.7 L"
        assert amount_told(read_amount("30 to 40 °C", "temperature")) == "30 to 40 °C"


def bottle(text: str, count: int = 1, part: str = "oil") -> KitItem:
    return KitItem(part, count, amount=volume(text) if text else None)


class TestShort:
    @pytest.mark.parametrize(
        ("kit", "count"),
        [
            ((bottle("0.61 L"),), 1),
            ((bottle("0.62 L"),), 0),
            ((bottle("0.31 L", 2),), 0),
            ((bottle("0.3 L"), bottle("0.4 L")), 0),
            ((bottle("0.3 L"), bottle("0.3 L")), 1),
            ((bottle("0.3 L", 1, "Gear Oil"),), 1),
            ((bottle("", 1),), 0),  # a bottle of unknown size
            ((bottle("0.3 L"), bottle("")), 0),
            ((KitItem("washer", 1),), 0),
            ((bottle("0.1 L", 1, "grease"),), 0),
            ((bottle("21 US fl oz"),), 0),  # 621 mL
            ((bottle("20 US fl oz"),), 1),  # 591 mL
        ],
    )
    def test_laid_out(self, kit: tuple[KitItem, ...], count: int) -> None:
        assert len(found(SHORT, job(pour("0.62 L")), records(kit))) == count

    def test_without_a_kit_nothing_is_short(self) -> None:
        assert found(SHORT, job(pour("0.62 L")), records()) == []

    def test_every_pour_counts(self) -> None:
        (finding,) = found(SHORT, job(pour("0.6 L"), pour("0.2 L")), records((bottle("0.7 L"),)))
        assert (finding.facts["need"], finding.facts["have"], finding.path) == ("0.8 L", "0.7 L", ("kit", 0, "amount"))

    def test_a_fill_without_a_figure_takes_the_records_after_a_drain_only(self) -> None:
        held = records((bottle("0.3 L"),), amount=volume("0.62 L"))
        for opening in (Action("drain", "oil"), Action("remove", "drain")):
            assert len(found(SHORT, job(opening, pour("")), held)) == 1
        assert found(SHORT, job(pour("")), held) == []  # only topped up
        assert found(SHORT, job(Action("remove", "hole"), pour("")), held) == []
        capacity = records((bottle("0.3 L"),), capacity=volume("0.62 L"))
        assert len(found(SHORT, job(Action("drain", "oil"), pour("")), capacity)) == 1
        assert found(SHORT, job(Action("drain", "oil"), pour("")), records((bottle("0.3 L"),))) == []

    def test_topping_up_after_a_fill_takes_no_second_filling(self) -> None:
        held = records((bottle("0.7 L"),), amount=volume("0.62 L"))
        assert found(SHORT, job(Action("drain", "oil"), pour(""), pour("")), held) == []

    def test_what_is_only_drained_takes_nothing(self) -> None:
        assert found(SHORT, job(Action("drain", "oil")), records((bottle("0.1 L"),), amount=volume("0.62 L"))) == []


READ = Action("check_level", "oil")
RUN, WAIT, COOL, WARM = Action("run", "engine"), Action("wait"), Action("cool_down", "engine"), Action("warm_up", "oil")


class TestLevel:
    @pytest.mark.parametrize(
        ("wanted", "before", "said"),
        [
            ("cold", (), []),
            ("cold", (RUN,), [("2", "likely", "after-run")]),
            ("cold", (WARM,), [("2", "likely", "after-run")]),
            ("cold", (RUN, WAIT), []),
            ("cold", (RUN, COOL), []),
            ("cold", (COOL, RUN), [("3", "likely", "after-run")]),
            ("warm", (), [("1", "unstated", "not-warmed")]),
            ("warm", (RUN,), []),
            ("warm", (WARM,), []),
            ("warm", (RUN, WAIT), []),  # it is still warm after some minutes
            ("warm", (RUN, COOL), [("3", "unstated", "not-warmed")]),
            ("warm", (COOL, RUN), []),
            ("", (RUN,), []),
        ],
    )
    def test_what_went_before(self, wanted: str, before: tuple[Action, ...], said: list[tuple[str, str, str]]) -> None:
        assert told(LEVEL, job(*before, READ), records(level_when=wanted)) == said

    def test_only_the_last_reading_counts(self) -> None:
        assert found(LEVEL, job(RUN, READ, WAIT, READ), records(level_when="cold")) == []
        assert found(LEVEL, job(RUN, READ, Action("check_level", "oil", mode="if")), records(level_when="cold"))

    @pytest.mark.parametrize(
        ("wanted", "note", "forms"),
        [("cold", "with the oil hot", ["said"]), ("cold", "not before it is cold", []), ("warm", "while Warm", []),
         ("warm", "when it is cold", ["said"]), ("warm", "at working temperature", [])],
    )  # fmt: skip
    def test_what_the_step_says(self, wanted: str, note: str, forms: list[str]) -> None:
        findings = found(LEVEL, job(evolve(READ, note=note)), records(level_when=wanted))
        assert [finding.form for finding in findings] == forms

    @pytest.mark.parametrize(
        ("wanted", "stated", "count"),
        [("30 to 40 °C", "30 °C", 0), ("30 to 40 °C", "29.9 °C", 1), ("30 to 40 °C", "40 °C", 0),
         ("30 to 40 °C", "40.1 °C", 1), ("30 to 40 °C", "38 to 45 °C", 0), ("30 to 40 °C", "41 to 45 °C", 1),
         ("20 °C", "25 °C", 0), ("20 °C", "25.1 °C", 1), ("20 °C", "15 °C", 0), ("20 °C", "14.9 °C", 1)],
    )  # fmt: skip
    def test_degrees(self, wanted: str, stated: str, count: int) -> None:
        held = records(level_temperature=read_amount(wanted, "temperature"))
        action = evolve(READ, temperature=read_amount(stated, "temperature"))
        assert len(found(LEVEL, job(action), held)) == count
        said = job(READ)
        said = evolve(said, steps=(evolve(said.steps[0], say=f"Read the level at {stated}."),))
        assert len(found(LEVEL, said, held)) == count
        assert found(LEVEL, job(READ), held) == []

    def test_the_level_screw_and_the_only_fluid_stand_for_it(self) -> None:
        for action in (Action("check_level", "hole"), Action("check_level", "oil level"), Action("check_level", "")):
            assert len(found(LEVEL, job(RUN, action), records(level_when="cold"))) == 1, action


@pytest.mark.parametrize(("rule", "least"), [(BEYOND, 1), (SHORT, 1), (LEVEL, 1)])
def test_planted_in_the_examples(rule: str, least: int) -> None:
    planted = []
    for path in EXAMPLES:
        held = read(str(path))
        assert held.procedure is not None
        planted += plant_all(rule, held.procedure, held.catalogue)
    assert len(planted) >= least


@pytest.mark.parametrize("rule", [BEYOND, SHORT, LEVEL])
@settings(max_examples=40, deadline=None)
@given(made_up=sound_jobs(most=3))
def test_planted_in_made_up_jobs(rule: str, made_up: tuple[Procedure, Catalogue]) -> None:
    plant_all(rule, *made_up)
