"""The ship's turn into the wind and how far it takes her, worked by hand on arcs and straight lines."""

from __future__ import annotations

import math

import pytest

from roundown.ship.turn_into_wind import HOLDS, turn_into_wind

KT = 1852.0 / 3600.0  # m/s
YD = 0.9144  # m
NM = 1852.0  # m
DEG = math.pi / 180.0
GAIN = 5.0 * KT / 60.0  # m/s2


def test_the_time_to_turn_is_angle_times_radius_over_speed() -> None:
    """Own arithmetic: 90 deg on a circle of 1450 yd at 16 kt: 1.5708 x 662.9 m / 8.231 m/s = 126.5 s."""
    turned = turn_into_wind(90.0 * DEG, 16.0 * KT, 0.0, 16.0 * KT, 1450.0 * YD, GAIN)
    assert turned.turn == pytest.approx(90.0 * DEG)
    assert turned.turn_time == pytest.approx(126.5, abs=0.05)
    assert turned.ready_after == pytest.approx(126.5, abs=0.05)


@pytest.mark.parametrize(("base", "course", "turn"), [(350.0, 20.0, 30.0), (20.0, 350.0, -30.0), (10.0, 200.0, -170.0)])
def test_she_turns_the_shorter_way(base: float, course: float, turn: float) -> None:
    """Own arithmetic, across north too; to starboard is positive."""
    turned = turn_into_wind(course * DEG, 10.0, base * DEG, 10.0, 1000.0, GAIN)
    assert turned.turn / DEG == pytest.approx(turn)
    assert turned.turn_time == pytest.approx(abs(turn) * DEG * 500.0 / 10.0)


def test_she_is_ready_when_turned_and_at_flight_speed() -> None:
    """Own arithmetic: 126.5 s to turn, then 16 to 21 kt at 5 kt/min: 60 s."""
    turned = turn_into_wind(90.0 * DEG, 21.0 * KT, 0.0, 16.0 * KT, 1450.0 * YD, GAIN)
    assert turned.ready_after == pytest.approx(186.5, abs=0.05)
    slower = turn_into_wind(90.0 * DEG, 11.0 * KT, 0.0, 16.0 * KT, 1450.0 * YD, GAIN)
    assert slower.ready_after == pytest.approx(186.5, abs=0.05)


def test_the_run_off_is_the_flight_run_less_the_base_run() -> None:
    """Own arithmetic. From north at 16 kt to east on a circle of radius R = 663 m, T = 126.5 s, then east at 16 kt for
    the hold. East: R + V hold. North: R, less the base run V (T + hold).
    """
    speed, radius = 16.0 * KT, 0.5 * 1450.0 * YD
    turned = turn_into_wind(90.0 * DEG, speed, 0.0, speed, 2.0 * radius, GAIN)
    time = 0.5 * math.pi * radius / speed
    assert list(turned.run_off) == [f"after_{minutes}_min" for minutes in HOLDS]
    for minutes in HOLDS:
        hold = 60.0 * minutes
        east = radius + speed * hold
        north = radius - speed * (time + hold)
        run = turned.run_off[f"after_{minutes}_min"]
        assert run.distance == pytest.approx(math.hypot(east, north), abs=0.01)
        assert run.bearing == pytest.approx(math.atan2(east, north) % (2.0 * math.pi), abs=1e-6)


def test_gaining_speed_adds_its_own_run() -> None:
    """Own arithmetic, no turn: 16 to 21 kt at 5 kt/min is 60 s at 18.5 kt on average; held 10 min at 21 kt, she is
    ahead of her base track by 2.5 kt x 60 s and 5 kt x 600 s: 0.0417 + 0.8333 nm.
    """
    turned = turn_into_wind(0.3, 21.0 * KT, 0.3, 16.0 * KT, 1450.0 * YD, GAIN)
    run = turned.run_off["after_10_min"]
    assert turned.turn == 0.0
    assert turned.turn_time == 0.0
    assert run.distance / NM == pytest.approx(0.875, abs=1e-4)
    assert run.bearing == pytest.approx(0.3)


def test_a_ship_on_her_flight_course_already_runs_off_nowhere() -> None:
    """Limit case."""
    turned = turn_into_wind(1.0, 8.0, 1.0, 8.0, 1000.0, GAIN)
    assert turned.ready_after == 0.0
    assert turned.run_off["after_30_min"].distance == pytest.approx(0.0, abs=1e-6)


def test_her_track_ends_on_the_flight_course_at_flight_speed() -> None:
    """Constructed; and the mirror turn runs off as far to the other side."""
    turned = turn_into_wind(2.0, 10.0, 0.5, 7.0, 1200.0, GAIN)
    _, _, course, speed = turned.track.at(turned.ready_after + 1.0)
    assert course == pytest.approx(2.0)
    assert speed == pytest.approx(10.0)
    mirrored = turn_into_wind(-2.0, 10.0, -0.5, 7.0, 1200.0, GAIN)
    assert mirrored.turn == pytest.approx(-turned.turn)
    for name, run in turned.run_off.items():
        assert mirrored.run_off[name].distance == pytest.approx(run.distance)
        assert mirrored.run_off[name].bearing == pytest.approx(2.0 * math.pi - run.bearing)


def test_a_ship_lying_stopped_still_comes_to_her_flight_course() -> None:
    """Constructed: base speed nil, which a plan may say; she must gather way and turn."""
    turned = turn_into_wind(90.0 * DEG, 10.0, 0.0, 0.0, 1200.0, GAIN)
    _, _, course, _ = turned.track.at(turned.ready_after + 1.0)
    assert course == pytest.approx(90.0 * DEG)
