"""`roundown reckon run`: its keys, its sentences, and what it refuses."""

from __future__ import annotations

import json
from collections.abc import Callable
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from tests.launch.run_cases import FT, KT, on_spot

from roundown.launch.deck_run import deck_run

Call = Callable[..., Any]
TYPES = resources.files("roundown.catalog").joinpath("data/aeroplanes.toml").read_text("utf-8")
KEYS = ["run_ft", "time_s", "airspeed_at_lift_off_kt", "margin_ft", "lowest_height_ft", "least_over_deck_kt"]
OTTERY = ("reckon", "run", "--type", "ottery", "--weight", "10500 lb", "--flap", "0.5")


def answer(call: Call, *options: str) -> dict[str, Any]:
    outcome = call("reckon", "run", *options, "--json")
    assert outcome.code == 0, outcome.err
    found = json.loads(outcome.out)
    assert isinstance(found, dict)
    return found


def test_answer_is_flat_and_has_exactly_its_keys(call: Call) -> None:
    outcome = call(*OTTERY, "--over-deck", "30 kt", "--spot-run", "300 ft", "--json")
    assert outcome.code == 0, outcome.err
    found = json.loads(outcome.out)
    assert list(found) == KEYS
    assert all(isinstance(value, int | float) for value in found.values())
    assert found["margin_ft"] == pytest.approx(300.0 - found["run_ft"], abs=1e-5)
    assert found["lowest_height_ft"] < 62.0


def test_answer_is_that_of_the_deck_run(call: Call) -> None:
    """Second way to the same run: the type at full weight with its own flap."""
    found = answer(call, "--type", "ottery", "--over-deck", "30", "--spot-run", "450")
    run = deck_run(on_spot(wind=30.0, run=450.0))
    assert run.distance is not None
    assert found["run_ft"] == pytest.approx(run.distance / FT, rel=1e-3)  # another deck's height
    assert found["time_s"] == pytest.approx(run.time, rel=1e-3)
    assert found["airspeed_at_lift_off_kt"] == pytest.approx(run.lift_off_speed / KT, abs=1e-5)


def test_least_wind_put_back_leaves_no_deck(call: Call) -> None:
    """Round trip."""
    first = answer(call, "--type", "sallow", "--over-deck", "20", "--spot-run", "380")
    second = answer(call, "--type", "sallow", "--over-deck", f"{first['least_over_deck_kt']:.6f}", "--spot-run", "380")
    assert second["margin_ft"] == pytest.approx(0.0, abs=1e-3)


def test_without_json_it_is_one_sentence_with_units(call: Call) -> None:
    outcome = call(*OTTERY, "--over-deck", "30 kt", "--spot-run", "350 ft")
    assert outcome.code == 0
    assert outcome.out.startswith("Run ")
    assert " ft more than there are; past the bow " in outcome.out
    assert "the least over the deck is " in outcome.out
    assert outcome.out.count("\n") == 1


def test_type_of_the_users_own_is_flown(call: Call, tmp_path: Path) -> None:
    own = TYPES.split("[types.brindle]")[0].replace("types.ottery", "types.mine")
    mine = tmp_path / "mine.toml"
    mine.write_text(own, "utf-8")
    options = ("--over-deck", "30", "--spot-run", "450")
    assert answer(call, "--type", "mine", "--plan", str(mine), *options) == answer(call, "--type", "ottery", *options)


def test_type_without_launch_figures_is_told_what_is_missing(call: Call, tmp_path: Path) -> None:
    bare = TYPES.split("[types.ottery.launch]")[0].replace("types.ottery", "types.bare")
    mine = tmp_path / "mine.toml"
    mine.write_text(bare, "utf-8")
    outcome = call("reckon", "run", "--type", "bare", "--plan", str(mine), "--over-deck", "30", "--spot-run", "450")
    assert outcome.code == 2
    assert "launch.empty_weight" in outcome.err
    assert outcome.err.count("\n") == 1


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--type", "otery", "--over-deck", "30", "--spot-run", "350"), "ottery"),
        (("--type", "ottery", "--over-deck", "90", "--spot-run", "350"), "--over-deck"),
        (("--type", "ottery", "--over-deck", "30", "--spot-run", "2"), "--spot-run"),
        (("--type", "ottery", "--over-deck", "30", "--spot-run", "350", "--flap", "1.5"), "--flap"),
        (("--type", "ottery", "--over-deck", "30", "--spot-run", "350", "--weight", "12"), "--weight"),
        (("--type", "ottery", "--over-deck", "30", "--spot-run", "350", "--ship", "nobody"), "--ship"),
    ],
)
def test_bad_figures_are_refused_in_one_sentence(call: Call, options: tuple[str, ...], said: str) -> None:
    outcome = call("reckon", "run", *options)
    assert outcome.code == 2
    assert said in outcome.err
    assert outcome.err.count("\n") == 1
