"""`roundown practice`: cards in a folder, a table of lessons, and the same as JSON."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.cli.conftest import Outcome

from roundown import CAUTION

LESSONS = (
    "Ashore: the marked runway",
    "Ship in a calm",
    "Ship in the wind of the day",
    "Flight of four",
    "Before dawn",
)
Call = Callable[..., Outcome]


@pytest.fixture
def one_flight(tmp_path: Path) -> Path:
    """A plan without events: quickly solved."""
    file = tmp_path / "plan.toml"
    file.write_bytes((Path(__file__).parents[1] / "files" / "one_flight.toml").read_bytes())
    return file


def test_practice_writes_the_cards_of_every_type_and_tells_the_lessons(
    call: Call, one_flight: Path, tmp_path: Path
) -> None:
    squadrons = """[squadrons.amber]
type = "ottery"
roster = [{ side = "11" }]
[squadrons.grey]
type = "sallow"
roster = [{ side = "21" }]
[[event]]
name = "patrol"
recovery = "17:00"
seats = ["11", "21"]
"""
    text = one_flight.read_text("utf-8").replace('[aeroplane]\ntype = "ottery"\n', squadrons)
    one_flight.write_text(text, encoding="utf-8")
    found = call("practice", one_flight, "-o", tmp_path / "out", "--width", "300")
    assert found.code == 0
    for lesson in LESSONS:
        assert found.out.count(f"  {lesson} ") == 2
    assert "assumption" in found.out
    assert CAUTION in found.out
    names = {path.name for path in (tmp_path / "out").iterdir()}
    for name in (
        "ashore-card-page-1", "ashore-card-page-2", "lesson-card-2-calm", "lesson-card-2-calm-corbel-sallow",
        "ashore-card-corbel-sallow-page-1", "emergency-card-hook",
    ):  # fmt: skip
        assert {f"{name}.pdf", f"{name}.png"} <= names
    assert len(names) == 2 * (2 * (2 + 3 + 5) + 6)


def test_practice_answers_in_json(call: Call, one_flight: Path, tmp_path: Path) -> None:
    said = json.loads(call("practice", one_flight, "-o", tmp_path / "out", "--width", "300", "--json").out)
    assert said["caution"] == CAUTION
    (part,) = said["parts"].values()
    assert [lesson["label"] for lesson in part["lessons"]] == list(LESSONS)
    calm = part["lessons"][1]
    assert "assumption" in calm["standards"]["turn_in"]["source"]
    assert calm["figures"]["turn_in"].endswith(" s")
    assert part["ashore"]["unsolved"] is None
    assert part["ashore"]["figures"]["runway"] == "140"
    assert part["findings"] == []


def test_what_stands_against_a_lesson_is_told(call: Call, one_flight: Path, tmp_path: Path) -> None:
    """Constructed: a break so near that no downwind leg is left at sea, and a ramp that nothing clears."""
    more = '[override]\n"circuit.break_place" = "0.1 nm ahead of bow"\n"recovery.ramp_clearance" = "20 ft"\n'
    one_flight.write_text(one_flight.read_text("utf-8") + more, encoding="utf-8")
    found = call("practice", one_flight, "-o", tmp_path / "out", "--width", "300")
    assert found.code == 0
    assert "no circuit" in found.out
    assert "caution: Ashore: the marked runway: a pass within the standard has the hook over the ramp" in found.out


@pytest.mark.parametrize("width", ["299", "6001"])
def test_a_width_no_picture_has_is_refused(call: Call, one_flight: Path, tmp_path: Path, width: str) -> None:
    found = call("practice", one_flight, "-o", tmp_path / "out", "--width", width)
    assert found.code == 2
    assert "300 to 6000 pixels are allowed" in found.err
    assert not (tmp_path / "out").exists()


def test_a_plan_that_cannot_be_read_ends_with_two(call: Call, tmp_path: Path) -> None:
    assert call("practice", tmp_path / "none.toml").code == 2
