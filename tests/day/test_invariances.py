"""What must not change a day: where north is, which side is port, one current under everything."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from roundown.day.solve import solve
from roundown.figures import figures_of
from roundown.motion.frames import wrap
from roundown.plan.facts import Day
from roundown.recovery.result import CircuitResult
from roundown.solution import Solution, Unsolved

DayOf = Callable[..., Day]
DEG = math.pi / 180.0
NM = 1852.0
OF_THE_EARTH = ("east", "north", "heading", "ground_speed")  # endings of figures that know the earth


def same_circuit(one: Solution, other: Solution) -> None:
    """Every figure of the circuit that does not know where north is; those with a side by their size."""
    assert isinstance(one.circuit, CircuitResult)
    assert isinstance(other.circuit, CircuitResult)
    there = {figure.key: figure.value for figure in figures_of(other.circuit)}
    for figure in figures_of(one.circuit):
        name = figure.key.rsplit(".", 1)[-1]
        if figure.value is None or name.endswith(OF_THE_EARTH):
            continue
        value = there[figure.key]
        assert value is not None
        if name in ("port", "bank", "off_bow", "off_centre"):
            assert abs(value) == pytest.approx(abs(figure.value), rel=1e-6, abs=1e-6), figure.key
        else:
            assert value == pytest.approx(figure.value, rel=1e-6, abs=1e-5), figure.key


@pytest.mark.parametrize("turned", [37, 90, 201])
def test_turning_plan_and_wind_together_turns_the_day(day_with: DayOf, turned: int) -> None:
    """Near the equator, where a mile east is a mile north; times by the clock."""
    place = "00 00 N 005 00 W"
    one = solve(day_with(position=place, course="185", wind="140/11 kt"))
    other = solve(
        day_with(position=place, course=f"{(185 + turned) % 360:03d}", wind=f"{(140 + turned) % 360:03d}/11 kt")
    )
    same_circuit(one, other)
    assert wrap(other.flight.course - one.flight.course - turned * DEG) == pytest.approx(0.0, abs=1e-9)
    assert other.flight.speed == pytest.approx(one.flight.speed)
    assert not isinstance(one.track, Unsolved)
    assert not isinstance(other.track, Unsolved)
    for name, period in one.track.periods.items():
        again = other.track.periods[name]
        assert again.order == pytest.approx(period.order, abs=1e-6)
        assert again.turn == pytest.approx(period.turn)
        assert again.off_at_end == pytest.approx(period.off_at_end, abs=2.0)
        assert wrap(again.bearing_at_end - period.bearing_at_end - turned * DEG) == pytest.approx(0.0, abs=2e-3)
        assert (again.regained is None) == (period.regained is None)
        if period.regained is not None:
            assert again.regained == pytest.approx(period.regained, abs=2.0)


def test_the_mirror_exchanges_port_and_starboard(day_with: DayOf) -> None:
    """Base course and wind mirrored in the meridian, the circuit flown on the other hand."""
    right = '\n[override.circuit]\nhand = "right"\n'
    one = solve(day_with(position="00 00 N 000 00 E", course="185", wind="140/11 kt"))
    other = solve(day_with(right, position="00 00 N 000 00 E", course="175", wind="220/11 kt"))
    same_circuit(one, other)
    assert wrap(one.flight.course + other.flight.course) == pytest.approx(0.0, abs=1e-9)
    assert not isinstance(one.track, Unsolved)
    assert not isinstance(other.track, Unsolved)
    for name, period in one.track.periods.items():
        again = other.track.periods[name]
        assert again.turn == pytest.approx(-period.turn)
        assert again.off_at_end == pytest.approx(period.off_at_end, abs=0.5)
        assert wrap(again.bearing_at_end + period.bearing_at_end) == pytest.approx(0.0, abs=1e-4)
    for hours in (13.5, 14.6, 15.2):
        here, there = one.track.at(hours * 3600.0), other.track.at(hours * 3600.0)
        assert there.latitude == pytest.approx(here.latitude, abs=1e-8)
        assert there.longitude == pytest.approx(-here.longitude, abs=1e-7)


def test_one_current_under_ship_and_air_changes_nothing_on_deck(day_with: DayOf) -> None:
    """A current along the flight course is added to the ship's way and to the air.

    Speeds over the ground: 22 kt into 8 kt of wind is, on water that runs 3 kt ahead, 25 kt into 5 kt. The day is the
    same seen from the ship, and further on by the current. The plan knows no current, so it is given the sum.
    """
    still = solve(day_with(course="090", speed="22 kt", wind="090/8 kt"))
    moving = solve(day_with(course="090", speed="25 kt", wind="090/5 kt"))
    assert still.flight.over_deck == pytest.approx(moving.flight.over_deck)
    assert moving.flight.speed - still.flight.speed == pytest.approx(3.0 * NM / 3600.0)
    assert isinstance(still.circuit, CircuitResult)
    assert isinstance(moving.circuit, CircuitResult)
    there = {figure.key: figure.value for figure in figures_of(moving.circuit)}
    for figure in figures_of(still.circuit):
        if figure.value is not None and not figure.key.endswith(OF_THE_EARTH):
            assert there[figure.key] == pytest.approx(figure.value, rel=1e-6, abs=1e-5), figure.key
    there = {figure.key: figure.value for figure in figures_of(moving.events["patrol"])}
    for figure in figures_of(still.events["patrol"]):
        found = there[figure.key]
        assert found == (None if figure.value is None else pytest.approx(figure.value, abs=1e-4)), figure.key
    assert not isinstance(still.track, Unsolved)
    assert not isinstance(moving.track, Unsolved)
    for time in (13 * 3600.0, 15.1 * 3600.0):
        assert still.track.off_base(time)[0] == pytest.approx(moving.track.off_base(time)[0], abs=1.0)
