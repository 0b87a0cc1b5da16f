"""The ladder of lessons: conditions of each, figures against the day's own circuit, standards that can be kept."""

from __future__ import annotations

import dataclasses
import math
from pathlib import Path

import pytest

from roundown.catalog.lessons import Standard
from roundown.day.lesson_findings import ladder_findings, lesson_findings
from roundown.day.lessons import SolvedLesson, lesson_day, solve_lessons
from roundown.day.memory import Memory
from roundown.day.solve import solve
from roundown.documents import Document, parse_document
from roundown.plan.facts import Day
from roundown.plan.read import day_of
from roundown.quantities import DEGREE, FOOT, KNOT
from roundown.recovery.result import CircuitResult
from roundown.solution import Unsolved

ONE_FLIGHT = (Path(__file__).parents[1] / "files" / "one_flight.toml").read_text("utf-8")
HALF_MILE = ONE_FLIGHT.replace("fast-carrier-1944", "half-mile-1945").replace('"corbel"', '"lintel"')
TEXTS = {"fast-carrier-1944": ONE_FLIGHT, "half-mile-1945": HALF_MILE}
MEMORY = Memory()


def day(text: str = ONE_FLIGHT) -> Day:
    document = parse_document("plan.toml", text)
    assert isinstance(document, Document)
    return day_of(document)


def ladder(text: str = ONE_FLIGHT) -> dict[str, SolvedLesson]:
    return {each.lesson.name: each for each in solve_lessons(day(text), MEMORY)}


def changed(today: Day, name: str, **other: object) -> Day:
    """The day with one lesson of its ladder otherwise."""
    lessons = tuple(
        dataclasses.replace(each, **other) if each.name == name else each  # type: ignore[arg-type]
        for each in today.lessons
    )
    return dataclasses.replace(today, lessons=lessons)


@pytest.mark.parametrize("name", TEXTS)
def test_in_the_wind_of_the_day_the_lesson_is_the_days_own_circuit(name: str) -> None:
    """Second method: the day solved as a whole."""
    found, solution = ladder(TEXTS[name])["wind"], solve(day(TEXTS[name]))
    assert isinstance(solution.circuit, CircuitResult)
    assert found.aims is not None
    assert found.aims.turn_in == solution.circuit.rollout_to_turn_in
    assert found.aims.abeam == solution.circuit.abeam
    assert found.course == solution.flight.course
    assert found.over_deck == solution.flight.over_deck


def test_in_a_calm_she_makes_all_the_wind_on_her_base_course() -> None:
    """Own arithmetic: 30 kt wanted, she can do 31: 30 kt over the deck, dead ahead, on 185."""
    calm = ladder()["calm"]
    assert calm.over_deck == pytest.approx(30.0 * KNOT)
    assert calm.speed == pytest.approx(30.0 * KNOT)
    assert calm.off_bow == pytest.approx(0.0, abs=1e-9)
    assert calm.course == pytest.approx(185.0 * DEGREE)


def test_a_slow_ship_in_a_calm_has_her_greatest_speed_over_the_deck() -> None:
    today = day(HALF_MILE)
    calm = ladder(HALF_MILE)["calm"]
    assert today.number("ship.greatest_speed") < 30.0 * KNOT
    assert calm.over_deck == pytest.approx(today.number("ship.greatest_speed"))


def test_ashore_the_deck_lies_still_and_the_turn_in_comes_later_than_in_any_wind_at_sea() -> None:
    found = ladder()
    ashore = found["ashore"]
    assert ashore.speed == 0.0
    assert ashore.over_deck == pytest.approx(11.0 * KNOT, rel=2e-3)
    assert ashore.aims is not None
    for name in ("calm", "wind", "four", "dawn"):
        aims = found[name].aims
        assert aims is not None
        assert ashore.aims.turn_in > aims.turn_in


def test_four_in_the_circuit_take_three_intervals_more_than_one() -> None:
    """Own arithmetic: 30 s from break to break."""
    found = ladder()
    four, one = found["four"].aims, found["wind"].aims
    assert four is not None
    assert one is not None
    assert four.interval == pytest.approx(30.0)
    assert one.interval is None
    assert four.last_over_ramp == pytest.approx(one.break_to_ramp + 90.0)
    assert one.last_over_ramp == one.break_to_ramp
    assert "interval" not in found["wind"].targets
    assert found["four"].targets["interval"].band.low == pytest.approx(25.0)


def test_a_standard_lies_as_far_below_its_figure_as_above_it() -> None:
    for each in (*ladder().values(), *ladder(HALF_MILE).values()):
        assert each.aims is not None
        for name, target in each.targets.items():
            assert target.band.aim == getattr(each.aims, name)
            assert target.band.high - target.band.aim == pytest.approx(each.lesson.standards[name].tolerance)
            assert target.band.aim - target.band.low == pytest.approx(each.lesson.standards[name].tolerance)


def test_a_lesson_may_have_a_wind_of_its_own() -> None:
    """Own arithmetic: uniform 20 kt from 250; she needs 10 kt more on 250; a runway not named lies into it too."""
    text = ONE_FLIGHT.split("winds = [")[0] + 'wind_profile = "uniform"\n' + ONE_FLIGHT.split("\n]\n", 1)[1]
    today = changed(changed(day(text), "wind", wind="250/20 kt"), "ashore", wind="250/20 kt")
    found = {each.lesson.name: each for each in solve_lessons(today, MEMORY)}
    assert found["wind"].course == pytest.approx(250.0 * DEGREE)
    assert found["wind"].speed == pytest.approx(10.0 * KNOT)
    assert found["ashore"].course == pytest.approx(250.0 * DEGREE)
    assert found["ashore"].over_deck == pytest.approx(20.0 * KNOT)
    named = changed(day(text + '[ashore]\nrunway = "230"\n'), "ashore", wind="250/20 kt")
    ashore = solve_lessons(named, MEMORY)[0]
    assert ashore.course == pytest.approx(230.0 * DEGREE)
    assert ashore.off_bow == pytest.approx(20.0 * DEGREE)


def test_a_lessons_wind_is_the_only_wind_of_it() -> None:
    calm = next(each for each in day().lessons if each.name == "calm")
    today = lesson_day(calm, day())
    assert not [key for key in today.givens if key.startswith("weather.winds.")]
    assert today.number("weather.wind_speed") == 0.0
    assert day().number("weather.wind_speed") == pytest.approx(11.0 * KNOT)


def test_without_a_ladder_there_are_no_lessons() -> None:
    assert solve_lessons(dataclasses.replace(day(), lessons=())) == ()


def test_a_lesson_whose_circuit_cannot_be_flown_says_why_and_has_no_figures() -> None:
    text = ONE_FLIGHT + '[override.circuit]\nbreak_place = "0.1 nm ahead of bow"\n'
    found = ladder(text)["wind"]
    assert isinstance(found.circuit, Unsolved)
    assert found.aims is None
    assert found.targets == {}
    assert lesson_findings(found) == ()


# Standards that can be kept


@pytest.mark.parametrize("kind", ["ottery", "brindle", "sallow"])
@pytest.mark.parametrize("name", TEXTS)
def test_the_built_in_standards_are_safe_for_every_type(name: str, kind: str) -> None:
    assert ladder_findings(tuple(ladder(TEXTS[name].replace('"ottery"', f'"{kind}"')).values())) == ()


def with_standard(name: str, tolerance: float, text: str = ONE_FLIGHT) -> SolvedLesson:
    today = day(text)
    lesson = next(each for each in today.lessons if each.name == "wind")
    today = changed(today, "wind", standards={**lesson.standards, name: Standard(tolerance, "mine")})
    return next(each for each in solve_lessons(today, MEMORY) if each.lesson.name == "wind")


def test_a_ninety_that_may_be_as_low_as_the_deck_is_told_with_what_would_do() -> None:
    """Own arithmetic: 90 ft less 65 ft of deck less 22 ft leaves 3 ft; 5 ft are the least, so 20 ft are allowed."""
    (found,) = lesson_findings(with_standard("ninety_height", 22.0 * FOOT))
    assert found.id == "lesson-low"
    assert "3.0 ft" in found.value
    assert "5.0 ft" in found.limit
    assert "20 ft" in found.remedy
    assert lesson_findings(with_standard("ninety_height", 19.9 * FOOT)) == ()


def test_a_hook_that_may_strike_the_ramp_is_told() -> None:
    """Own arithmetic: wheels at 17.5 ft less 12 ft, the hook 1.4 ft below them: 4.1 ft of 5."""
    (found,) = lesson_findings(with_standard("ramp_height", 12.0 * FOOT))
    assert found.id == "lesson-low"
    assert "4.1 ft" in found.value
    assert lesson_findings(with_standard("ramp_height", 11.0 * FOOT)) == ()


def test_more_bank_than_the_doctrine_allows_is_told() -> None:
    found = with_standard("bank", 12.0 * DEGREE)
    assert "lesson-steep" in {each.id for each in lesson_findings(found)}


def test_a_speed_too_near_the_stall_is_told_and_the_remedy_closes_it() -> None:
    """Own arithmetic: the margin of the final turn less what may be lost of speed."""
    slow = with_standard("ninety_speed", 4.0 * KNOT, HALF_MILE)
    assert isinstance(slow.circuit, CircuitResult)
    least = 5.0 * KNOT
    assert slow.circuit.stall_margin_final - 4.0 * KNOT < least
    (found,) = lesson_findings(slow)
    assert found.id == "lesson-near-stall"
    room = slow.circuit.stall_margin_final - least
    assert f"{room / KNOT:.1f} kt" in found.remedy
    assert lesson_findings(with_standard("ninety_speed", 0.99 * room, HALF_MILE)) == ()


def test_bank_too_near_the_stall_is_told_and_the_remedy_closes_it() -> None:
    """Closed form: the stall goes with the root of one over the cosine of bank."""
    steep = with_standard("bank", 7.0 * DEGREE, HALF_MILE)
    assert isinstance(steep.circuit, CircuitResult)
    near = [each for each in lesson_findings(steep) if each.id == "lesson-near-stall"]
    assert len(near) == 1
    bank, stall, margin = steep.circuit.final_bank, steep.circuit.stall_in_final, steep.circuit.stall_margin_final
    most = math.acos(math.cos(bank) * (stall / (stall + margin - 5.0 * KNOT)) ** 2) - bank
    assert f"{most / DEGREE:.1f} deg" in near[0].remedy
    assert lesson_findings(with_standard("bank", 0.98 * most, HALF_MILE)) == ()


def test_a_rule_broken_in_every_lesson_is_told_once() -> None:
    today = day()
    lessons = tuple(
        dataclasses.replace(each, standards={"ninety_height": Standard(25.0 * FOOT, "mine")}) for each in today.lessons
    )
    found = ladder_findings(solve_lessons(dataclasses.replace(today, lessons=lessons), MEMORY))
    assert [each.id for each in found] == ["lesson-low"]
