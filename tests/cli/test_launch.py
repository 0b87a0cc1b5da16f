"""`roundown launch`: the deck loads as tables, one take-off closely, a better spot."""

from __future__ import annotations

import json
from collections.abc import Callable
from importlib import resources
from pathlib import Path
from typing import Any

import pytest

from roundown import CAUTION
from roundown.day.solve import solve
from roundown.plan.read import read_plan
from roundown.quantities import FOOT

Call = Callable[..., Any]


@pytest.fixture
def larger(tmp_path: Path) -> Path:
    file = tmp_path / "larger.toml"
    file.write_bytes(resources.files("roundown.plan").joinpath("larger.toml").read_bytes())
    return file


def test_every_seat_has_a_line_with_units(call: Call, demo: Path) -> None:
    outcome = call("launch", demo)
    assert (outcome.code, outcome.err) == (0, "")
    lines = outcome.out.splitlines()
    for side, name in (("11", "Vane"), ("24", "Finch")):
        (line,) = [line for line in lines if line.split()[1:3] == [side, name]]
        assert line.count(" ft") == 4
        assert " lb" in line
        assert " kt" in line
    assert "8 on deck, 30.0 kt over the deck" in outcome.out
    assert outcome.out.rstrip().endswith(CAUTION)


def test_json_has_the_figures_of_the_solution(call: Call, larger: Path) -> None:
    decks = json.loads(call("launch", larger, "--json").out)["decks"]
    assert [(deck["carrier"], len(deck["seats"])) for deck in decks] == [("corbel", 10), ("corbel", 4), ("lintel", 4)]
    solution = solve(read_plan(larger))
    figure = decks[0]["seats"]["51"]["figures"]["run.distance"]
    wanted = solution.parts["corbel.brindle"].figures["launches.dawn_strike.seats.51.run.distance"].value
    assert wanted is not None
    assert (figure["value"], figure["unit"]) == (pytest.approx(wanted / FOOT, rel=1e-6), "ft")


def test_one_event_alone(call: Call, larger: Path) -> None:
    outcome = call("launch", larger, "--event", "noon patrol")
    assert "Hale" in outcome.out
    assert "Rudd" not in outcome.out


def test_one_take_off_closely(call: Call, larger: Path) -> None:
    outcome = call("launch", larger, "--seat", "1")
    for words in (
        "least wind over the deck from ahead", "heaviest weight at take-off", "last place from which it stops",
        "from ditching until the ship's bow is there", "chance of passing the bow below lift-off speed",
        "run by the rule of thumb", "longest run needed, brakes off at the worst moment",
    ):  # fmt: skip
        assert words in outcome.out
    assert "... running" in outcome.err
    heights = [line.split()[-2] for line in outcome.out.splitlines() if "the stall  " in line]
    assert len(heights) == 8  # the warning above, and seven angles


def test_a_better_spot_is_written_as_pins_that_read_back(call: Call, larger: Path, tmp_path: Path) -> None:
    pytest.importorskip("ortools")
    output = tmp_path / "better.toml"
    outcome = call("launch", larger, "--event", "dawn strike", "--improve", "1", "-o", output)
    assert outcome.code == 0
    pinned, before = solve(read_plan(output)), solve(read_plan(larger))
    assert not [each for each in pinned.findings if each.id.startswith("spot-pin")]
    key = "launches.dawn_strike.first_run"
    after, was = (solution.figures[key].value or 0.0 for solution in (pinned, before))
    assert after >= was - 0.2 * FOOT
    again = call("launch", larger, "--improve", "1", "-o", output)
    assert again.code == 2
    assert "there already" in again.err


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--event", "tea"), "no such event. There are first patrol, second patrol"),
        (("--seat", "99"), "no such seat is launched. There are 11, 12"),
        (("-o", "x.toml"), "give --improve too"),
        (("--improve", "0"), "--improve"),
    ],
)
def test_what_cannot_be_is_said_in_a_sentence(call: Call, demo: Path, options: tuple[str, ...], said: str) -> None:
    outcome = call("launch", demo, *options)
    assert outcome.code == 2
    assert said in outcome.err


def test_a_plan_that_launches_nothing_says_so(call: Call, demo: Path) -> None:
    text = demo.read_text("utf-8")
    demo.write_text("\n".join(line for line in text.splitlines() if not line.startswith(("launch", "push"))), "utf-8")
    outcome = call("launch", demo)
    assert outcome.code == 2
    assert "nothing is launched" in outcome.err


def test_a_launch_that_does_not_work_ends_with_one(call: Call, demo: Path) -> None:
    text = demo.read_text("utf-8") + '\n[override.wind]\nlaunch_over_deck = "5 kt"\nover_deck = "5 kt"\n'
    demo.write_text(text.replace('"140/11 kt"', '"calm"'), "utf-8")
    outcome = call("launch", demo)
    assert outcome.code == 1
    assert "stop:" in outcome.out
    assert "that the neediest needs" in outcome.out
