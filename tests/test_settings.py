"""What `check` says the wrenches are set to, and what then arrives."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from torquewright import check
from torquewright.cli import main
from torquewright.reading.files import read_job
from torquewright.report.settings import WrenchSetting, settings_of

SPECS = Path(__file__).parent.parent / "specs"
SCHEMA = json.loads((SPECS / "formats" / "report.schema.json").read_text(encoding="utf-8"))

WRENCH = """
[[tool]]
id = "wrench"
name = "torque wrench"
range = "10 to 60 N·m"
deviation = "4 %"
scale-step = "0.5 N·m"
arm = "400 mm"
"""
DRIVER = """
[[tool]]
id = "driver"
name = "torque driver"
range = "1 to 12 N·m"
deviation = "6 %"
scale-step = "0.1 N·m"
"""
POUNDS = """
[[tool]]
id = "pounds"
name = "pound torque wrench"
range = "5 to 80 lbf·ft"
deviation = "4 %"
scale-step = "1 lbf·ft"
"""
CROWFOOT = """
[[tool]]
id = "crowfoot"
name = "16 mm crowfoot"
length = "80 mm"
"""
SOCKET = """
[[tool]]
id = "socket"
name = "16 mm socket"
drive = "hex 16 mm"
"""


def rows(record: str, actions: str, *tools: str) -> list[WrenchSetting]:
    """The settings of a job with one bolt."""
    text = f"""
[[fastener]]
id = "bolt"
name = "bolt"
{record}
{"".join(tools)}
[[step]]
do = [{actions}]
"""
    return settings_of(read_job("job.toml", text=text))


def row(record: str, action: str, *tools: str) -> WrenchSetting:
    (held,) = rows(record, action, *tools)
    return held


TO_36 = '{ tighten = "bolt", to = "36 N·m", with = "wrench" }'


class TestSettings:
    def test_the_tool_named_on_its_own_scale(self) -> None:
        held = row('tightening = "36 N·m ± 2"', TO_36, WRENCH, DRIVER)
        assert (held.tool, held.named, held.told) == ("wrench", True, "36.0 N·m")
        assert (held.least, held.most) == (pytest.approx(36 * 0.96), pytest.approx(36 * 1.04))
        assert (held.low, held.high, held.inside) == (34.0, 38.0, True)

    def test_a_nut_with_a_pin_starts_at_the_lower_limit(self) -> None:
        # AC 43.13-1B 7-40: a castle nut is brought to the lower limit and goes on to the next slot
        pinned = 'tightening = "40 to 54 N·m"\nlock = { kind = "cotter pin", one-time-use = true }'
        held = row(pinned, '{ tighten = "bolt", to = "40 to 54 N·m", with = "wrench" }', WRENCH)
        assert held.least is not None
        assert 40 <= held.least < 41.5
        plain = row('tightening = "40 to 54 N·m"', '{ tighten = "bolt", to = "40 to 54 N·m", with = "wrench" }', WRENCH)
        assert plain.setting > held.setting + 3

    def test_in_the_unit_of_the_wrench(self) -> None:
        held = row('tightening = "36 N·m ± 3"', '{ tighten = "bolt", to = "36 N·m", with = "pounds" }', POUNDS)
        assert held.told == "27 lbf·ft"  # 36.6 N·m: the mark next to 26.55 lbf·ft (NIST SP 811 (2008), appendix B.8)
        assert held.setting == pytest.approx(27 * 1.3558179483314004)

    def test_the_best_tool_where_none_is_named(self) -> None:
        assert row('tightening = "8 N·m ± 1"', '{ tighten = "bolt", to = "8 N·m" }', WRENCH, DRIVER).tool == "driver"
        held = row('tightening = "11 N·m ± 1"', '{ tighten = "bolt", to = "11 N·m" }', WRENCH, DRIVER)
        assert (held.tool, held.named) == ("wrench", False)  # both reach it, the wrench is the more exact
        held = row('tightening = "11 N·m ± 1"', '{ tighten = "bolt", to = "11 N·m", with = "socket" }', SOCKET, DRIVER)
        assert (held.tool, held.named) == ("driver", False)

    def test_an_adapter_is_in_it(self) -> None:
        """Lever rule: 36 · 400/(400 + 80) = 30 N·m (US Army TM 1-1500-204-23-9, figure 8-16)."""
        action = '{ tighten = "bolt", to = "36 N·m", with = "wrench", adapter = "crowfoot", adapter-angle = "0°" }'
        held = row('tightening = "36 N·m ± 2"', action, WRENCH, CROWFOOT)
        assert (held.told, held.adapter, held.gain) == ("30.0 N·m", "crowfoot", pytest.approx(1.2))
        assert (held.least, held.most) == (pytest.approx(30 * 1.2 * 0.96), pytest.approx(30 * 1.2 * 1.04))
        square = action.replace('"0°"', '"90°"')
        assert row('tightening = "36 N·m ± 2"', square, WRENCH, CROWFOOT).told == "36.0 N·m"
        unknown = action.replace(', adapter-angle = "0°"', "")
        assert rows('tightening = "36 N·m ± 2"', unknown, WRENCH, CROWFOOT) == []

    def test_a_setting_the_text_gives_is_taken_as_it_is(self) -> None:
        action = '{ tighten = "bolt", to = "36 N·m", setting = "33 N·m", with = "wrench" }'
        held = row('tightening = "36 N·m ± 2"', action, WRENCH)
        assert held.told == "33.0 N·m"
        assert held.inside is False

    def test_running_torque_is_added_where_it_is_known(self) -> None:
        record = 'prevailing = "2 N·m"\ntightening = "36 N·m ± 2 plus the running torque"'
        action = '{ tighten = "bolt", to = "36 N·m plus the running torque", with = "wrench" }'
        held = row(record, action, WRENCH)
        assert (held.told, held.drag) == ("38.0 N·m", 2.0)
        assert rows(record.replace('prevailing = "2 N·m"\n', ""), action, WRENCH) == []

    def test_each_stage_and_each_later_check_is_a_setting(self) -> None:
        staged = '{ tighten = "bolt", to = "20 N·m, then 36 N·m", with = "wrench" }'
        actions = staged + ', { retighten = "bolt", to = "36 N·m" }'
        held = rows('tightening = "stage 20 N·m, then 36 N·m ± 2"', actions, WRENCH)
        assert [one.told for one in held] == ["20.0 N·m", "36.0 N·m", "36.0 N·m"]
        assert [one.inside for one in held] == [None, True, True]

    def test_nothing_is_made_up(self) -> None:
        assert rows('tightening = "36 N·m"', TO_36) == []  # no tools listed
        assert rows('tightening = "36 N·m"', '{ tighten = "bolt" }', WRENCH) == []
        assert rows('tightening = "36 N·m"', '{ tighten = "bolt", to = "hand-tight" }', WRENCH) == []
        assert rows('tightening = "36 N·m"', TO_36.replace(" }", ', mode = "do not" }'), WRENCH) == []
        assert rows('tightening = "90 N·m"', TO_36.replace("36", "90"), WRENCH) == []  # beyond its scale

    @settings(max_examples=100, deadline=None)
    @given(st.floats(10.2, 59.0), st.floats(0.06, 0.3))
    def test_a_band_wide_enough_is_always_hit(self, torque: float, share: float) -> None:
        torque = round(torque, 1)
        record = f'tightening = "{torque} N·m ± {torque * share:.2f}"'
        held = row(record, f'{{ tighten = "bolt", to = "{torque} N·m", with = "wrench" }}', WRENCH)
        assert held.setting / 0.5 == pytest.approx(round(held.setting / 0.5))  # a mark of the scale
        assert 10.0 <= held.setting <= 60.0
        if torque * (share - 0.04) > 0.6:
            assert held.inside


def report(name: str, capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    main(["check", "--format", "json", str(SPECS / "examples" / name)])
    told: dict[str, Any] = json.loads(capsys.readouterr().out)
    return told


def test_programs_get_them_by_the_schema(capsys: pytest.CaptureFixture[str]) -> None:
    told = report("workboat-gearcase/sound.toml", capsys)
    jsonschema.validate(told, SCHEMA)
    held = told["files"][0]["settings"]
    assert [one["joint"] for one in held if one["step"] == "25"] == ["drain-screw", "level-screw"]
    assert all(one["inside"] in (True, None) for one in held)


def test_people_see_them_below_the_verdict_and_doubted_ones_are_marked(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "100")
    main(["check", str(SPECS / "examples" / "workboat-gearcase" / "sound.toml")])
    text = capsys.readouterr().out
    assert text.index("GO") < text.index("wrench settings:") < text.index("no proof of safety")
    assert "see above" not in text
    faulty = SPECS / "examples" / "workboat-gearcase" / "faulty-1.toml"
    main(["check", str(faulty)])
    doubted = [line for line in capsys.readouterr().out.splitlines() if line.endswith("see above")]
    found = {remark.step for remark in check(faulty).findings}
    assert doubted
    assert all(line.split()[1] in found for line in doubted)


def test_a_narrow_terminal_and_none_at_all(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "60")
    main(["check", str(SPECS / "examples" / "workboat-gearcase" / "sound.toml")])
    text = capsys.readouterr().out
    assert "    step 25: drain screw: 7.0 N·m on the torque driver\n      gives 6.58 to 7.42 N·m\n" in text
