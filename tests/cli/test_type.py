"""What a type's numbers come to, from the command line."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from roundown import CAUTION

Call = Callable[..., Any]

NEW = (
    "--ship-speed", "30 kt", "--deck-height", "65 ft", "--approach-speed", "85 kt", "--stall-speed", "70 kt",
    "--break-speed", "120 kt", "--weight", "9800 lb", "--calm-run", "750 ft", "--wind", "070/12 kt",
)  # fmt: skip


@pytest.mark.parametrize("name", ["ottery", "brindle", "sallow"])
def test_a_type_is_said_for_people_with_units_and_the_caution(call: Call, name: str) -> None:
    outcome = call("type", name)
    assert (outcome.code, outcome.err) == (0, "")
    assert outcome.out.startswith(f"{name}: {name.capitalize()}, ")
    for words in ("stall, flap up", "best climb at sea level", "manifold pressure at which the tail lifts", "inHg"):
        assert words in outcome.out
    assert "Missing" not in outcome.out
    assert outcome.out.rstrip().endswith(CAUTION)


def test_json_has_value_and_unit(call: Call) -> None:
    answer = json.loads(call("type", "ottery", "--json").out)
    figure = answer["figures"]["weights.full.weight"]
    assert (figure["value"], figure["unit"]) == (pytest.approx(10_780.0), "lb")
    assert answer["missing"] == {}
    assert answer["type"] == "ottery"


def test_a_type_of_a_plan_of_ones_own_is_read_and_says_what_the_launch_waits_for(call: Call, tmp_path: Path) -> None:
    plan = tmp_path / "mine.toml"
    assert call("new", *NEW, "-o", plan).code == 0
    outcome = call("type", "mine", "--plan", plan)
    assert outcome.code == 0
    assert "70.0 kt" in outcome.out
    assert "Missing for the deck run: launch.empty_weight, launch.fuel_weight," in outcome.out


def test_a_type_that_cannot_be_is_complained_of_by_line(call: Call, tmp_path: Path) -> None:
    plan = tmp_path / "mine.toml"
    assert call("new", *NEW, "-o", plan).code == 0
    text = plan.read_text("utf-8").replace('lift_flap = { value = "1.9"', 'lift_flap = { value = "1.2"')
    plan.write_text(text, "utf-8")
    for outcome in (call("type", "mine", "--plan", plan), call("check", plan)):
        assert outcome.code == 2
        assert "types.mine.lift_flap" in outcome.err
        assert "at least lift_clean, 1.35, is allowed" in outcome.err


def test_a_name_that_is_not_there_is_told_with_the_nearest(call: Call, tmp_path: Path) -> None:
    outcome = call("type", "otery")
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err == "otery: there is no type of that name. Did you mean ottery.\n"
    assert "there is no such file" in call("type", "ottery", "--plan", tmp_path / "none.toml").err
