"""A type fitted to measurements, from the command line."""

from __future__ import annotations

import itertools
import json
import re
from collections.abc import Callable
from importlib import resources
from pathlib import Path
from typing import Any

import pytest

from roundown import CAUTION
from roundown.cli.type_fit import _chance
from roundown.plan.read import read_plan

Call = Callable[..., Any]

STALLS = """\
format = 1
type = "ottery"

[throughout]
weight = "10000 lb"

[[stall]]
flap = "0"
speed = "82 kt"

[[stall]]
flap = "0"
speed = "83 kt"

[[stall]]
flap = "1"
speed = "71 kt"
"""
PAGE = Path(__file__).resolve().parents[2] / "docs" / "howto" / "fit-a-type.md"


@pytest.fixture
def stalls(tmp_path: Path) -> Path:
    """A short file of measurements."""
    file = tmp_path / "mine.toml"
    file.write_text(STALLS, "utf-8")
    return file


def test_the_answer_says_what_was_fitted_what_was_not_and_how_each_row_fits(call: Call, stalls: Path) -> None:
    outcome = call("type", "fit", stalls)
    assert outcome.code == 0
    assert outcome.out.startswith("ottery: Ottery, a single-seat fighter. Fitted to 3 measurements in mine.toml.\n")
    assert re.search(r"lift_clean +1\.4200 +1\.4\d{3} +0\.0\d{3}\n", outcome.out)
    assert "Held as they were:" in outcome.out
    assert "no measurement tells it; fly level speeds at full power" in outcome.out
    assert re.search(r"stall 1 +82\.0 kt +82\.5 kt +-0\.5 kt +-0\.5\n", outcome.out)
    assert "for each degree of freedom (1); about 1 is right" in outcome.out
    assert outcome.out.rstrip().endswith(CAUTION)


def test_json_has_values_with_deviation_unit_and_reasons(call: Call, stalls: Path) -> None:
    """Own arithmetic: 71 kt at 10 000 lb on 296 ft2: CL = 2 x 44482 / (1.225 x 27.499 x 36.526^2) = 1.9795."""
    answer = json.loads(call("type", "fit", stalls, "--json").out)
    assert answer["fitted"]["lift_flap"]["value"] == pytest.approx(1.9795, abs=3e-4)
    assert answer["fitted"]["lift_flap"]["before"] == 1.98
    assert answer["freedom"] == 1
    assert set(answer["held"]) >= {"idle_thrust", "figure_of_merit"}
    assert [row["unit"] for row in answer["measurements"]] == ["kt"] * 3
    assert answer["remarks"] == ["The misfit is what the spreads allow."]


def test_the_fitted_type_is_written_whole_and_a_plan_can_name_it(call: Call, stalls: Path, tmp_path: Path) -> None:
    output = tmp_path / "otter.toml"
    outcome = call("type", "fit", stalls, "-o", output, "--name", "otter")
    assert outcome.code == 0
    assert 'catalog = ["otter.toml"], and type = "otter"' in outcome.out
    text = output.read_text("utf-8")
    assert text.count("fitted from measurements in mine.toml") == 2
    assert 'wing_area = { value = "296 ft2", source = "invented for the demo" }' in text
    was, now = (call("type", *line) for line in (("ottery",), ("otter", "--plan", output)))
    assert now.code == 0
    assert "Missing" not in now.out
    assert next(line for line in was.out.splitlines() if "propeller tip" in line) in now.out  # held
    plan = tmp_path / "day.toml"
    text = resources.files("roundown.plan").joinpath("demo.toml").read_text("utf-8")
    assert 'type = "ottery"' in text
    head = text.replace('type = "ottery"', 'type = "otter"').replace(
        "format = 1\n", 'format = 1\ncatalog = ["otter.toml"]\n', 1
    )
    plan.write_text(head, "utf-8")
    day = read_plan(plan)
    lift = next(given for name, given in day.givens.items() if name == "type.lift_flap")
    assert lift.value == pytest.approx(1.9795, abs=3e-4)


def test_a_type_with_a_dial_card_is_written_with_it(call: Call, tmp_path: Path, stalls: Path) -> None:
    """Round trip: the card stands in a table of its own, and the dial shows less by the correction."""
    first = tmp_path / "first.toml"
    assert call("type", "fit", stalls, "-o", first, "--name", "first").code == 0
    card = '[types.first.position_error]\n"60 kt" = { value = "4 kt", source = "invented" }\n'
    first.write_text(first.read_text("utf-8") + "\n" + card, "utf-8")
    stalls.write_text(STALLS.replace('"ottery"', '"first"'), "utf-8")
    second = tmp_path / "second.toml"
    outcome = call("type", "fit", stalls, "--plan", first, "-o", second)
    assert outcome.code == 0, outcome.err
    assert "[types.first-fitted.position_error]" in second.read_text("utf-8")
    answer = json.loads(call("type", "fit", stalls, "--plan", first, "--json").out)
    assert answer["fitted"]["lift_flap"]["value"] == pytest.approx(1.9795 * (71.0 / 75.0) ** 2, abs=3e-4)


def test_nothing_there_is_overwritten_and_names_are_looked_at_first(call: Call, stalls: Path, tmp_path: Path) -> None:
    output = tmp_path / "there.toml"
    output.write_text("mine", "utf-8")
    outcome = call("type", "fit", stalls, "-o", output)
    assert (outcome.code, outcome.out) == (2, "")
    assert "is there already and is not overwritten. Choose another name with -o." in outcome.err
    assert output.read_text("utf-8") == "mine"
    fresh = tmp_path / "fresh.toml"
    for name, words in (("brindle", "there is a type of that name already"), ("my own", "letters, figures, - and _")):
        outcome = call("type", "fit", stalls, "-o", fresh, "--name", name)
        assert outcome.code == 2
        assert words in outcome.err
    assert not fresh.exists()
    assert [each.name for each in tmp_path.iterdir() if each.name.startswith(".roundown")] == []


def test_a_type_like_no_aeroplane_is_shown_and_not_written(call: Call, stalls: Path, tmp_path: Path) -> None:
    """Flap that makes the stall faster: rows in each other's place."""
    text = (
        STALLS.replace('flap = "0"', 'flap = "x"')
        .replace('flap = "1"', 'flap = "0"')
        .replace('flap = "x"', 'flap = "1"')
    )
    stalls.write_text(text, "utf-8")
    output = tmp_path / "never.toml"
    outcome = call("type", "fit", stalls, "-o", output)
    assert outcome.code == 2
    assert "Such a type would not be read: lift_flap" in outcome.out
    assert "the fitted type is like no aeroplane: types.ottery-fitted.lift_flap" in outcome.err
    assert not output.exists()


def test_a_blunder_is_pointed_at(call: Call, stalls: Path) -> None:
    stalls.write_text(STALLS.replace("83 kt", "93 kt"), "utf-8")
    out = call("type", "fit", stalls).out
    assert "The misfit is more than the spreads allow" in out
    assert "Far out: stall 1, stall 2." in out
    assert out.count("  far out\n") == 2


RUNS = """\
format = 1
type = "ottery"
[throughout]
weight = "10000 lb"
[[run]]
flap = "0.65"
over_deck = "20 kt"
distance = "300 ft"
time = "4 s"
[[run]]
flap = "0.65"
over_deck = "20 kt"
distance = "900 ft"
time = "20 s"
"""


def test_what_of_a_run_is_far_out_is_said_and_a_chance_of_next_to_nothing_is_not_spelt_out(
    call: Call, stalls: Path
) -> None:
    stalls.write_text(RUNS, "utf-8")
    out = call("type", "fit", stalls).out
    assert re.search(r"Far out: .*\bdistance of run 1\b", out)
    assert re.search(r"Far out: .*\btime of run 1\b", out)
    assert "(chance below 0.01 %)" in out
    assert not re.search(r"\de-\d", out)


def test_a_chance_is_written_in_per_cent() -> None:
    assert _chance(0.0042) == "0.42 %"
    assert _chance(5e-199) == "below 0.01 %"


def test_who_waits_is_told_how_it_goes(call: Call, stalls: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Constructed: a clock that goes two seconds at each look."""
    clock = itertools.count(0.0, 2.0)
    monkeypatch.setattr("roundown.cli.type_fit.time.monotonic", lambda: next(clock))
    outcome = call("type", "fit", stalls)
    assert outcome.code == 0
    assert re.search(r"still fitting: \d+ tried; off by \d+\.\d\d spreads in the mean", outcome.err)
    assert "still fitting" not in outcome.out


def test_a_single_bracket_is_said_where_it_stands(call: Call, stalls: Path) -> None:
    stalls.write_text(STALLS.replace("[[stall]]", "[stall]"), "utf-8")
    err = call("type", "fit", stalls).err
    for line in (7, 11, 15):
        assert f"mine.toml:{line}: stall: one bracket makes a table" in err
    assert "3 to mend" in err
    stalls.write_text(STALLS + "[[run\n", "utf-8")
    assert "not TOML" in call("type", "fit", stalls).err


def test_faults_of_the_file_are_said_by_line(call: Call, stalls: Path, tmp_path: Path) -> None:
    stalls.write_bytes(STALLS.replace('"71 kt"', '"71 ft"').replace("\n", "\r\n").encode())
    outcome = call("type", "fit", stalls)
    assert outcome.code == 2
    assert "mine.toml:17: stall[3].speed = \"71 ft\": unit 'ft' does not fit an indicated airspeed" in outcome.err
    assert "1 to mend; nothing was written." in outcome.err
    assert "there is no such file" in call("type", "fit", tmp_path / "none.toml").err


def test_the_example_of_the_how_to_fits_and_the_page_shows_its_names(call: Call, tmp_path: Path) -> None:
    """The page's file is read, every value of the page's answer is fitted, and no figure there is far from ours."""
    page = PAGE.read_text("utf-8")
    block = re.search(r"```toml\n(.*?)```", page, re.DOTALL)
    assert block is not None
    file = tmp_path / "my-fighter.toml"
    file.write_text(block[1], "utf-8")
    fitted = json.loads(call("type", "fit", file, "--json").out)["fitted"]
    shown = dict(re.findall(r"^  ([a-z_.]+) +-?[\d.]+(?: lbf)? +(-?[\d.]+)(?: lbf)? +[\d.]+", page, re.MULTILINE))
    assert set(shown) == set(fitted)
    for name, value in shown.items():
        assert float(value) == pytest.approx(fitted[name]["value"], abs=0.6 if name == "idle_thrust" else 2e-4)
