"""`roundown new`: eight answers, a plan that reads, and no plan overwritten."""

from __future__ import annotations

import builtins
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

Call = Callable[..., Any]
ANSWERS = {
    "--ship-speed": "30 kt", "--deck-height": "65 ft", "--approach-speed": "85 kt", "--stall-speed": "70 kt",
    "--break-speed": "120 kt", "--weight": "9800 lb", "--calm-run": "750 ft", "--wind": "070/12 kt",
}  # fmt: skip


def options(**changes: str | None) -> list[str]:
    """Every option with its answer; a change of None leaves one out."""
    answers = ANSWERS | {f"--{name.replace('_', '-')}": text for name, text in changes.items()}
    return [part for name, text in answers.items() if text is not None for part in (name, text)]


class Person:
    """Somebody at a keyboard. answers : in the order they are typed; asked : the questions they were asked."""

    def __init__(self, answers: list[str]) -> None:
        self.answers: Iterator[str] = iter(answers)
        self.asked: list[str] = []

    def answer(self, question: str = "") -> str:
        self.asked.append(question)
        return next(self.answers)


@pytest.fixture
def person(monkeypatch: pytest.MonkeyPatch) -> Callable[..., Person]:
    def sit_down(*answers: str) -> Person:
        someone = Person(list(answers))
        monkeypatch.setattr(sys.stdin, "isatty", lambda: True, raising=False)
        monkeypatch.setattr(builtins, "input", someone.answer)
        return someone

    return sit_down


def test_with_every_option_nothing_is_asked(call: Call, tmp_path: Path, person: Callable[..., Person]) -> None:
    someone = person()
    plan = tmp_path / "mine.toml"
    outcome = call("new", *options(), "-o", plan)
    assert outcome.code == 0
    assert someone.asked == []
    assert outcome.out == f"Written to {plan}. Next: roundown check {plan}, then roundown brief {plan} -o brief\n"
    assert call("check", plan).out.startswith("My circuit: Works")


def test_a_person_is_asked_for_what_is_missing_only(call: Call, tmp_path: Path, person: Callable[..., Person]) -> None:
    someone = person("65", "070/12")
    plan = tmp_path / "mine.toml"
    assert call("new", *options(deck_height=None, wind=None), "-o", plan).code == 0
    assert someone.asked == [
        "Flight deck over the sea (such as 65 ft): ", "Wind at 10 m (such as 070/12 kt, or calm): ",
    ]  # fmt: skip
    text = plan.read_text("utf-8")
    assert 'deck_height = { value = "65 ft over sea", source = "given in the plan" }' in text
    assert 'surface_wind = "070/12 kt"' in text


def test_a_wrong_answer_is_asked_again(call: Call, tmp_path: Path, person: Callable[..., Person]) -> None:
    someone = person("sixty", "65 kg", "6500 ft", " 65.5 ft ", "breezy", "70/12", "calm")
    plan = tmp_path / "mine.toml"
    outcome = call("new", *options(deck_height=None, wind=None), "-o", plan)
    assert outcome.code == 0
    assert len(someone.asked) == 7
    assert "out of the ordinary" in outcome.out
    assert 'surface_wind = "calm"' in plan.read_text("utf-8")


def test_without_a_keyboard_what_is_missing_is_listed(
    call: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys.stdin, "isatty", lambda: False, raising=False)
    plan = tmp_path / "mine.toml"
    outcome = call("new", *options(deck_height=None, calm_run=None, wind=None), "-o", plan)
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err.startswith("still to be given: --deck-height, --calm-run, --wind. ")
    assert not plan.exists()


def test_a_plan_that_is_there_is_not_overwritten(call: Call, tmp_path: Path) -> None:
    plan = tmp_path / "mine.toml"
    plan.write_bytes(b"# two evenings of work")
    outcome = call("new", *options(), "-o", plan)
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err == f"{plan} is there already and is not overwritten. Choose another name with -o.\n"
    assert plan.read_bytes() == b"# two evenings of work"


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"ship_speed": "fast"}, "--ship-speed = fast: not a ship speed."),
        ({"ship_speed": "30 ft"}, "--ship-speed = 30 ft: unit 'ft' does not fit a ship speed"),
        ({"ship_speed": "300 kt"}, "--ship-speed = 300 kt: that is out of the ordinary."),
        ({"ship_speed": "nan"}, "--ship-speed = nan: not a ship speed."),
        ({"deck_height": "65 ft over deck"}, "--deck-height = 65 ft over deck: a height over the sea is wanted here"),
        ({"approach_speed": "85 kt true"}, "--approach-speed = 85 kt true: an indicated airspeed is wanted here"),
        ({"weight": "9,8 lb"}, "--weight = 9,8 lb: a decimal comma is not read."),
        ({"wind": "70/12"}, "--wind = 70/12: not a wind"),
        (
            {"stall_speed": "85 kt"},
            "stall 85 kt, approach 85 kt, break 120 kt: each must be faster than the one before.",
        ),
        (
            {"break_speed": "85 kt"},
            "stall 70 kt, approach 85 kt, break 85 kt: each must be faster than the one before.",
        ),
    ],
)
def test_an_answer_that_cannot_be_used_is_told_and_nothing_written(
    call: Call, tmp_path: Path, changes: dict[str, str], says: str
) -> None:
    plan = tmp_path / "mine.toml"
    outcome = call("new", *options(**changes), "-o", plan)
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err.startswith(says)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("deck", ["5", "15", "97", "120"])
def test_every_deck_height_that_is_taken_makes_a_plan_that_reads(call: Call, tmp_path: Path, deck: str) -> None:
    """The deck's length is estimated from its height, and once came out shorter or longer than a plan may say."""
    plan = tmp_path / "mine.toml"
    assert call("new", *options(deck_height=deck), "-o", plan).code == 0
    assert call("check", plan).code in (0, 1)


def test_numbers_that_make_no_aeroplane_are_told_before_anything_is_written(call: Call, tmp_path: Path) -> None:
    """Own arithmetic: 40,000 lb at 45 kt of stall need some 3000 square feet of wing."""
    outcome = call("new", *options(weight="40000 lb", stall_speed="45 kt"), "-o", tmp_path / "mine.toml")
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err.startswith("these numbers do not belong together: types.mine.wing_area: at most ")
    assert list(tmp_path.iterdir()) == []


def test_a_person_who_leaves_leaves_nothing(
    call: Call, tmp_path: Path, person: Callable[..., Person], monkeypatch: pytest.MonkeyPatch
) -> None:
    person()

    def left(_: str) -> str:
        raise EOFError

    monkeypatch.setattr(builtins, "input", left)
    outcome = call("new", *options(wind=None), "-o", tmp_path / "mine.toml")
    assert (outcome.code, outcome.err) == (130, "Stopped; nothing was written.\n")
    assert list(tmp_path.iterdir()) == []


@given(
    ship=st.integers(17, 33), deck=st.integers(35, 75), stall=st.integers(55, 80), above=st.integers(8, 20),
    faster=st.integers(25, 45), weight=st.integers(5500, 16000), run=st.integers(450, 1100),
    wind=st.sampled_from(["calm", "360/5", "070/12 kt", "215/25 kt", "000/0"]),
)  # fmt: skip
@settings(
    max_examples=5, deadline=None, phases=[Phase.generate], suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_a_plan_from_sensible_answers_is_checked_and_solved(
    call: Call, tmp_path_factory: pytest.TempPathFactory, ship: int, deck: int, stall: int, above: int, faster: int,
    weight: int, run: int, wind: str,
) -> None:  # fmt: skip
    plan = tmp_path_factory.mktemp("new") / "mine.toml"
    approach = stall + above
    answers = options(
        ship_speed=f"{ship}", deck_height=f"{deck}", approach_speed=f"{approach}", stall_speed=f"{stall} kt",
        break_speed=f"{approach + faster}", weight=f"{weight}", calm_run=f"{run} ft", wind=wind,
    )  # fmt: skip
    assert call("new", *answers, "-o", plan).code == 0
    outcome = call("check", plan)
    assert outcome.code in (0, 1), outcome.err
    assert outcome.out.startswith("My circuit: ")
