"""The ship's track against closed arcs, numerical integration and arithmetic by hand."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from roundown.motion.ship_track import Order, ShipTrack, ordered_track, run_off, steady_track

Floats = npt.NDArray[np.float64]
KT = 1852.0 / 3600.0  # m/s
DEG = math.pi / 180.0
RADIUS = 400.0  # m
GAIN = 0.05  # m/s2


def integrated(track: ShipTrack, until: float) -> Floats:
    """East and north by integrating course and speed of the rows alone, second method."""
    place = track.rows[0, 1:3].copy()
    starts = [*track.rows[:, 0], math.inf]
    for row, end in zip(track.rows, starts[1:], strict=True):
        span = min(end, until) - row[0]
        if span < 1e-6:
            continue

        def slope(t: float, _: Floats, row: Floats = row) -> list[float]:
            course, speed = row[3] + row[6] * t, row[4] + row[5] * t
            return [speed * math.sin(course), speed * math.cos(course)]

        place = solve_ivp(slope, (0.0, span), place, rtol=1e-10, atol=1e-9).y[:, -1]
    return np.asarray(place, dtype=np.float64)


def test_steady_ship() -> None:
    """By hand: 20 kt on 090 for 6 minutes is 2 nm east of where she was."""
    track = steady_track(90.0 * DEG, 20.0 * KT, 100.0, -50.0)
    assert track.at(360.0) == pytest.approx((100.0 + 2.0 * 1852.0, -50.0, 90.0 * DEG, 20.0 * KT))
    assert track.at(0.0) == pytest.approx((100.0, -50.0, 90.0 * DEG, 20.0 * KT))
    assert track.settled == 0.0


@pytest.mark.parametrize("side", [1.0, -1.0])
def test_half_turn_ends_a_diameter_abeam(side: float) -> None:
    """Closed form: pi R / V long, 2 R to the side, and a quarter of it R ahead and R to the side."""
    track = ordered_track(0.0, 10.0, [Order(side * 179.999_999_999 * DEG)], RADIUS, GAIN)
    time = math.pi * RADIUS / 10.0
    assert track.settled == pytest.approx(time)
    assert track.at(time)[:2] == pytest.approx((side * 2.0 * RADIUS, 0.0), abs=1e-6)
    assert track.at(time / 2.0)[:3] == pytest.approx((side * RADIUS, RADIUS, side * 90.0 * DEG), abs=1e-6)


def test_change_of_speed_runs_the_mean_speed() -> None:
    """By hand: 10 to 12 m/s at 0.05 m/s2: 40 s, 440 m; back to 11: 20 s, 230 m; then 11 m/s."""
    track = ordered_track(0.0, 10.0, [Order(speed=12.0), Order(speed=11.0)], RADIUS, GAIN, start=100.0)
    assert track.at(140.0) == pytest.approx((0.0, 440.0, 0.0, 12.0))
    assert track.at(160.0) == pytest.approx((0.0, 670.0, 0.0, 11.0))
    assert track.at(170.0) == pytest.approx((0.0, 780.0, 0.0, 11.0))
    assert track.settled == pytest.approx(160.0)


@settings(max_examples=25, deadline=None)
@given(
    course=st.floats(-math.pi, math.pi),
    orders=st.lists(
        st.builds(
            Order,
            course=st.none() | st.floats(-7.0, 7.0),
            speed=st.none() | st.floats(4.0, 16.0),
            hold=st.just(0.0) | st.floats(1.0, 300.0),
        ),
        max_size=4,
    ),
)
def test_orders_carried_out_agree_with_integration_and_nothing_jumps(course: float, orders: list[Order]) -> None:
    """Second method within 1e-4 m; on both sides of each row's end place, course and speed are the same."""
    track = ordered_track(course, 9.0, orders, RADIUS, GAIN, start=50.0)
    for time in (*track.rows[1:, 0], track.settled + 60.0):
        assert track.at(float(time))[:2] == pytest.approx(integrated(track, float(time)), abs=1e-4)
    for time in track.rows[1:, 0]:
        before, after = track.at(float(np.nextafter(time, 0.0))), track.at(float(time))
        assert before == pytest.approx(after, abs=1e-9)
    _, _, last_course, last_speed = track.at(track.settled + 1.0)
    wanted = [order.course for order in orders if order.course is not None]
    assert math.cos(last_course - (wanted[-1] if wanted else course)) == pytest.approx(1.0, abs=1e-9)
    speeds = [order.speed for order in orders if order.speed is not None]
    assert last_speed == pytest.approx(speeds[-1] if speeds else 9.0)


def test_she_turns_the_shorter_way_at_the_speed_she_has_then_changes_speed() -> None:
    """By hand: 350 to 010 at 8 m/s on 400 m: 20 deg x 400 / 8 = 17.45 s; then 2 m/s at 0.05: 40 s; then 30 s."""
    track = ordered_track(350.0 * DEG, 8.0, [Order(10.0 * DEG, 10.0, 30.0)], RADIUS, GAIN)
    turned = 20.0 * DEG * 400.0 / 8.0
    assert track.rows[:, 0] == pytest.approx([0.0, turned, turned + 40.0, turned + 70.0])
    assert track.rows[:, 6] == pytest.approx([8.0 / 400.0, 0.0, 0.0, 0.0])
    assert track.at(turned / 2.0)[2] == pytest.approx(360.0 * DEG)


def test_stopped_ship_does_not_turn() -> None:
    track = ordered_track(1.0, 0.0, [Order(course=2.0, hold=10.0)], RADIUS, GAIN)
    assert track.at(100.0) == pytest.approx((0.0, 0.0, 1.0, 0.0))


def test_many_times_are_the_single_times() -> None:
    track = ordered_track(0.3, 9.0, [Order(2.0, 12.0, 60.0)], RADIUS, GAIN)
    times = np.linspace(0.0, 300.0, 31)
    assert track.over(times).shape == (31, 4)
    for time, row in zip(times, track.over(times), strict=True):
        assert tuple(row) == track.at(float(time))
    assert track.over(np.array([])).shape == (0, 4)


def test_rows_cannot_be_written() -> None:
    with pytest.raises(ValueError, match="read-only"):
        steady_track(0.0, 9.0).rows[0, 4] = 1.0


def test_run_off_from_base_course() -> None:
    """By hand: base course 000 at 5 m/s; she goes 090 at 10 m/s instead: after 100 s 1000 m east, 500 m south of it.

    Distance 1118.03 m; bearing from where base course would have put her 090 + atan(500/1000) = 116.565 deg.
    """
    far, bearing = run_off(ordered_track(90.0 * DEG, 10.0, [], RADIUS, GAIN, start=1_000.0), 1_100.0, 0.0, 5.0)
    assert far == pytest.approx(1_118.03, abs=0.005)
    assert bearing / DEG == pytest.approx(116.565, abs=0.0005)


def test_run_off_is_nil_on_base_course() -> None:
    far, bearing = run_off(steady_track(2.0, 9.0), 600.0, 2.0, 9.0)
    assert far == pytest.approx(0.0, abs=1e-9)
    assert bearing == 0.0
