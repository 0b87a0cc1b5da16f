"""Wind vectors, wind with height and the triangle, against printed cases, round trips and limit cases."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from roundown.environment.wind import (
    Wind,
    WindTable,
    direction_and_speed,
    full_circle,
    sea_ratio,
    triangle,
    velocity,
    wind_from_triangle,
)
from roundown.errors import NoSolution

KT = 1852.0 / 3600.0  # m/s
DEG = math.pi / 180.0

directions = st.floats(0.0, 2.0 * math.pi, exclude_max=True)
airspeeds = st.floats(30.0, 150.0)


def apart(first: float, second: float) -> float:
    """How far two directions are apart, in degrees."""
    return abs((first - second + 180.0) % 360.0 - 180.0)


def air_vector(course: float, ground_speed: float, wind_from: float, wind_speed: float) -> tuple[float, float]:
    """Heading and airspeed (degrees and any one speed unit) that make good a course at a scheduled ground speed."""
    ground = velocity((course + 180.0) * DEG, ground_speed)
    air = velocity(wind_from * DEG, wind_speed)
    backwards, speed = direction_and_speed(ground[0] - air[0], ground[1] - air[1])
    return (backwards / DEG + 180.0) % 360.0, speed


def ground_vector(heading: float, airspeed: float, wind_from: float, wind_speed: float) -> tuple[float, float]:
    """Track and ground speed of a heading flown in a wind (degrees and any one speed unit)."""
    own = velocity((heading + 180.0) * DEG, airspeed)
    air = velocity(wind_from * DEG, wind_speed)
    backwards, speed = direction_and_speed(own[0] + air[0], own[1] + air[1])
    return (backwards / DEG + 180.0) % 360.0, speed


def solved(course: float, airspeed: float, wind_from: float, wind_speed: float) -> tuple[float, float, float]:
    """Heading, ground speed and wind correction, in degrees and the speed unit given."""
    found = triangle(course * DEG, airspeed * KT, wind_from * DEG, wind_speed * KT)
    return found.heading / DEG, found.ground_speed / KT, found.wind_correction / DEG


def wind_found(heading: float, airspeed: float, track: float, ground_speed: float) -> tuple[float, float]:
    """Wind from and speed, in degrees and the speed unit given."""
    wind_from, speed = wind_from_triangle(heading * DEG, airspeed * KT, track * DEG, ground_speed * KT)
    return wind_from / DEG, speed / KT


@pytest.mark.published
def test_course_made_good_of_an_air_crew_exercise() -> None:
    """NAV-21, grade A: heading 315 at 150 mph, wind 30 mph from 045; course 304, 153 mph. Within 0.5 deg, 0.5 mph.

    Source: US War Department, Mathematics for Air Crew Trainees (TM 1-900, number from memory; about 1942-43), p. 45,
    exercise b(2).
    """
    track, speed = ground_vector(315.0, 150.0, 45.0, 30.0)
    assert apart(track, 304.0) < 0.5
    assert speed == pytest.approx(153.0, abs=0.5)
    # the same triangle solved from its course (computed 303.69, 152.97)
    heading, ground_speed, _ = solved(track, 150.0, 45.0, 30.0)
    assert (heading, ground_speed) == pytest.approx((315.0, 152.97), abs=0.01)


def test_course_made_good_without_a_printed_answer() -> None:
    """NAV-22, grade B, same page, exercise b(1): inputs published, answer computed. Within 0.01."""
    assert ground_vector(90.0, 180.0, 135.0, 40.0) == pytest.approx((79.44, 154.33), abs=0.01)


@pytest.mark.published
@pytest.mark.parametrize(
    ("course", "ground_speed", "wind_from", "wind_speed", "heading", "airspeed", "tolerance"),
    [(351.0, 232.0, 33.0, 47.0, 358.0, 269.0, 0.6), (271.0, 215.0, 316.0, 48.0, 279.0, 252.0, 0.8)],
)
def test_airspeed_for_a_scheduled_ground_speed(
    course: float,
    ground_speed: float,
    wind_from: float,
    wind_speed: float,
    heading: float,
    airspeed: float,
    tolerance: float,
) -> None:
    """NAV-23 and NAV-25, grade A. Within 0.6 and 0.8 of the printed degree and mile an hour.

    Source: US War Department, Mathematics for Air Crew Trainees, exercises h(2) and h(6), pp. 163-165.
    """
    found = air_vector(course, ground_speed, wind_from, wind_speed)
    assert apart(found[0], heading) < tolerance
    assert found[1] == pytest.approx(airspeed, abs=tolerance)
    assert solved(course, found[1], wind_from, wind_speed)[:2] == pytest.approx((found[0], ground_speed), abs=1e-6)


@pytest.mark.parametrize(
    ("course", "ground_speed", "wind_from", "wind_speed", "airspeed", "heading"),
    [
        (110.0, 185.0, 172.0, 35.0, 203.79, 118.72),
        (186.0, 129.0, 243.0, 38.0, 153.05, 198.02),
        (223.0, 165.0, 267.0, 21.0, 180.70, 227.63),
    ],
)
def test_airspeed_for_a_scheduled_ground_speed_without_printed_answers(
    course: float, ground_speed: float, wind_from: float, wind_speed: float, airspeed: float, heading: float
) -> None:
    """NAV-26, grade B, same manual, exercises h(1), (3), (5): inputs published, answers computed. Within 0.01."""
    assert air_vector(course, ground_speed, wind_from, wind_speed) == pytest.approx((heading, airspeed), abs=0.01)


@pytest.mark.published
def test_left_drift_is_subtracted_from_heading() -> None:
    """NAV-27, grade A: heading 056, left drift 14, course 042. Exact.

    Source: US War Department, Mathematics for Air Crew Trainees, p. 45, fig. 55.
    """
    wind_from, speed = wind_found(56.0, 150.0, 42.0, 140.0)
    heading, _, correction = solved(42.0, 150.0, wind_from, speed)
    assert (heading, correction) == pytest.approx((56.0, 14.0), abs=1e-9)


@pytest.mark.published
def test_wind_correction_to_four_figures() -> None:
    """NAV-28, grade A: course 000, 160 kt, wind 45 kt from 310; heading 347.56, 127.32 kt, -12.442. Within 0.01.

    Source: MathWorks Mapping Toolbox documentation, driftcorr example.
    """
    heading, ground_speed, correction = solved(0.0, 160.0, 310.0, 45.0)
    assert heading == pytest.approx(347.56, abs=0.01)
    assert ground_speed == pytest.approx(127.32, abs=0.01)
    assert correction == pytest.approx(-12.442, abs=0.001)


@pytest.mark.published
def test_wind_from_drift_to_four_figures() -> None:
    """NAV-29, grade A: track 000, 155 kt, heading 010, 160 kt; wind from 084.717, 27.902 kt. Within 0.01.

    Source: MathWorks Mapping Toolbox documentation, driftvel example.
    """
    assert wind_found(10.0, 160.0, 0.0, 155.0) == pytest.approx((84.717, 27.902), abs=0.01)


@pytest.mark.published
@pytest.mark.parametrize(
    ("heading", "airspeed", "track", "ground_speed", "wind_from", "wind_speed", "degrees", "knots"),
    [
        # NAV-30: course 094, correction +10; read off a dial, about 1 mph high
        (104.0, 165.0, 94.0, 146.0, 154.0, 34.0, 1.0, 1.5),
        # NAV-36
        (160.0, 180.0, 175.0, 144.0, 118.0, 55.0, 1.0, 1.0),
        # NAV-39: 25 nm in 8 min, all magnetic, so is the wind
        (5.0, 154.0, 355.0, 25.0 / 8.0 * 60.0, 139.0, 45.0, 1.0, 0.7),
    ],
)
def test_wind_from_drift(
    heading: float,
    airspeed: float,
    track: float,
    ground_speed: float,
    wind_from: float,
    wind_speed: float,
    degrees: float,
    knots: float,
) -> None:
    """NAV-30, NAV-36, NAV-39, grade A. Tolerances of an instrument or of whole degrees and knots.

    Source: instruction booklet for a pilot's flight computer, para. 39 ex. 16 (Smithsonian NASM transcription); CR-3
    computer lecture slides (general navigation course), problem 5; EASA ATPL question bank.
    """
    found = wind_found(heading, airspeed, track, ground_speed)
    assert apart(found[0], wind_from) < degrees
    assert found[1] == pytest.approx(wind_speed, abs=knots)


@pytest.mark.published
def test_wind_on_the_right_adds_to_the_course() -> None:
    """NAV-31, grade A: course 236, correction +8 (wind to the right), heading 244. Exact.

    Source: instruction booklet for a pilot's flight computer, para. 39 ex. 15 (Smithsonian NASM transcription).
    """
    wind_speed = 165.0 * math.sin(8.0 * DEG)
    heading, _, correction = solved(236.0, 165.0, 326.0, wind_speed)
    assert (heading, correction) == pytest.approx((244.0, 8.0), abs=1e-9)


@pytest.mark.published
@pytest.mark.parametrize(
    ("magnetic", "west", "correction", "magnetic_heading", "ground_speed"),
    [(140.0, 10.0, -6.0, 134.0, 145.0), (186.0, 11.0, -12.0, 174.0, 166.0)],
)
def test_true_wind_on_a_magnetic_course(
    magnetic: float, west: float, correction: float, magnetic_heading: float, ground_speed: float
) -> None:
    """NAV-34 and NAV-35, grade A: 180 mph, wind 100/40 true. Within 1 deg, 1 mph.

    Source: CR-3 computer lecture slides (general navigation course), problems 3 and 4.
    """
    heading, speed, angle = solved(magnetic - west, 180.0, 100.0, 40.0)
    assert angle == pytest.approx(correction, abs=1.0)
    assert apart(heading + west, magnetic_heading) < 1.0
    assert speed == pytest.approx(ground_speed, abs=1.0)


@pytest.mark.published
def test_drift_in_a_wind_abeam() -> None:
    """NAV-38, grade A: 75 kt, heading 045, wind 20 from 135: 40 nm north-west in two hours, track about 15 deg left.

    Computed: track 030.07, 77.62 kt. Within 0.2 deg.
    Source: recreationalflying.com tutorial, section 4.4.1.
    """
    track, ground_speed = ground_vector(45.0, 75.0, 135.0, 20.0)
    assert apart(track, 45.0 - 15.0) < 0.2
    assert (track, ground_speed) == pytest.approx((30.07, 77.62), abs=0.005)
    east, north = velocity(135.0 * DEG, 20.0)
    assert (2.0 * east, 2.0 * north) == pytest.approx((-40.0 * math.sqrt(0.5), 40.0 * math.sqrt(0.5)))


def test_wind_of_a_preflight_navigation_figure() -> None:
    """NAV-40, grade B for the wind: CNATRA P-203 Preflight Navigation (2002), fig. 4.6-2.

    Inputs published (heading 052, 250 kt, track 045, 55 nm in 15 min), answer computed. Within 0.01.
    """
    assert wind_found(52.0, 250.0, 45.0, 220.0) == pytest.approx((92.28, 41.47), abs=0.01)


def test_triangle_of_the_handbook_figure() -> None:
    """NAV-41, grade M, from memory: FAA-H-8083-25, Navigation chapter: about 076, 88 kt, read off a plot.

    Within 0.7 of it; computed 076.37, 88.33.
    """
    heading, ground_speed, _ = solved(90.0, 120.0, 45.0, 40.0)
    assert (heading, ground_speed) == pytest.approx((76.0, 88.0), abs=0.7)
    assert (heading, ground_speed) == pytest.approx((76.37, 88.33), abs=0.005)


@pytest.mark.published
def test_course_to_steer_in_a_current() -> None:
    """NAV-42, grade A: make good 265 at 15 kt, set 185, drift 3: steer 276, 14.8 kt. Within 0.6 deg, 0.05 kt.

    Source: American Practical Navigator (Pub. 9), Dead Reckoning chapter, current sailing example.
    """
    heading, speed = air_vector(265.0, 15.0, 185.0 + 180.0, 3.0)
    assert apart(heading, 276.0) < 0.6
    assert speed == pytest.approx(14.8, abs=0.05)


@pytest.mark.published
@pytest.mark.parametrize(
    ("course", "speed", "towards", "drift", "steer", "made_good", "degrees", "knots"),
    [
        (150.0, 5.3, 50.0, 3.5, 190.0, 3.4, 1.0, 0.05),
        (235.0, 6.2, 315.0, 3.5, 200.0, 5.8, 2.0, 0.1),
        (265.0, 5.2, 70.0, 2.3, 260.0, 3.0, 2.0, 0.1),
    ],
)
def test_current_triangles(
    course: float,
    speed: float,
    towards: float,
    drift: float,
    steer: float,
    made_good: float,
    degrees: float,
    knots: float,
) -> None:
    """NAV-44, and NAV-45 and NAV-46 coarsely (their key rounds to 5 deg), grade A.

    Source: American Practical Navigator (Pub. 9), Dead Reckoning chapter, current problems 5, 3 and 4.
    """
    heading, ground_speed, _ = solved(course, speed, towards + 180.0, drift)
    assert apart(heading, steer) < degrees
    assert ground_speed == pytest.approx(made_good, abs=knots)


@pytest.mark.parametrize(
    ("course", "speed", "towards", "drift", "key", "heading", "ground_speed"),
    [(45.0, 6.55, 135.0, 2.0, 25.0, 27.22, 6.237), (20.0, 5.9, 90.0, 1.9, 0.0, 2.39, 6.273)],
)
def test_keys_rounded_to_five_degrees_are_not_reproduced(
    course: float, speed: float, towards: float, drift: float, key: float, heading: float, ground_speed: float
) -> None:
    """NAV-47, do not use: the key is more than 2 deg off a true solution."""
    found = solved(course, speed, towards + 180.0, drift)
    assert found[:2] == pytest.approx((heading, ground_speed), abs=0.005)
    assert apart(found[0], key) > 2.0


def test_shortcut_without_the_cosine_is_not_reproduced() -> None:
    """X cases of the CR-3 slides, problems 1 and 2: they leave out the cosine of the wind correction."""
    _, ground_speed, correction = solved(90.0, 110.0, 310.0, 30.0)
    assert (correction, ground_speed) == pytest.approx((-10.10, 131.28), abs=0.005)
    assert abs(ground_speed - 133.0) > 1.5
    assert wind_found(192.0, 120.0, 200.0, 100.0) == pytest.approx((158.4, 25.17), abs=0.05)


@pytest.mark.parametrize(
    ("wind_from", "east", "north"), [(0.0, 0.0, -1.0), (90.0, -1.0, 0.0), (180.0, 0.0, 1.0), (270.0, 1.0, 0.0)]
)
def test_wind_goes_away_from_where_it_comes(wind_from: float, east: float, north: float) -> None:
    assert velocity(wind_from * DEG, 1.0) == pytest.approx((east, north), abs=1e-15)
    assert direction_and_speed(east, north) == pytest.approx((wind_from * DEG, 1.0))


def test_calm_has_no_direction() -> None:
    assert velocity(1.0, 0.0) == (0.0, 0.0)
    assert math.copysign(1.0, velocity(0.0, 0.0)[0]) == 1.0
    assert direction_and_speed(0.0, 0.0) == (0.0, 0.0)
    assert direction_and_speed(0.0, -0.0) == (0.0, 0.0)
    assert direction_and_speed(1e-17, 1e-17)[0] == 0.0
    assert wind_from_triangle(1.0, 50.0, 1.0, 50.0) == (0.0, 0.0)


def test_north_is_nought_and_never_a_whole_turn() -> None:
    assert full_circle(math.tau) == 0.0
    assert full_circle(-1e-20) == 0.0
    assert direction_and_speed(1e-20, -1.0)[0] == 0.0
    assert full_circle(-math.pi / 2) == pytest.approx(1.5 * math.pi)


@given(directions, st.floats(1e-3, 100.0))
def test_vector_and_direction_return_to_start(wind_from: float, speed: float) -> None:
    found, strength = direction_and_speed(*velocity(wind_from, speed))
    assert 0.0 <= found < math.tau
    assert apart(found / DEG, wind_from / DEG) < 1e-9
    assert strength == pytest.approx(speed, rel=1e-12)


@given(directions, airspeeds, directions, st.floats(0.1, 25.0))
def test_triangle_and_its_inverse_return_to_start(
    course: float, airspeed: float, wind_from: float, wind_speed: float
) -> None:
    found = triangle(course, airspeed, wind_from, wind_speed)
    back = wind_from_triangle(found.heading, airspeed, course, found.ground_speed)
    assert apart(back[0] / DEG, wind_from / DEG) < 1e-6
    assert back[1] == pytest.approx(wind_speed, abs=1e-9)


@given(directions, airspeeds, directions, st.floats(0.0, 25.0), directions)
def test_triangle_turns_with_the_compass(
    course: float, airspeed: float, wind_from: float, wind_speed: float, turn: float
) -> None:
    found = triangle(course, airspeed, wind_from, wind_speed)
    turned = triangle(course + turn, airspeed, wind_from + turn, wind_speed)
    assert turned.ground_speed == pytest.approx(found.ground_speed, rel=1e-9)
    assert turned.wind_correction == pytest.approx(found.wind_correction, abs=1e-9)
    assert apart(turned.heading / DEG, (found.heading + turn) / DEG) < 1e-6


@given(airspeeds, st.floats(-math.pi, math.pi), st.floats(0.0, 25.0))
def test_triangle_mirrors_left_and_right(airspeed: float, off_course: float, wind_speed: float) -> None:
    right, left = triangle(0.0, airspeed, off_course, wind_speed), triangle(0.0, airspeed, -off_course, wind_speed)
    assert left.wind_correction == pytest.approx(-right.wind_correction, abs=1e-12)
    assert left.ground_speed == pytest.approx(right.ground_speed, rel=1e-12)


def test_triangle_in_a_calm() -> None:
    found = triangle(1.2, 50.0, 0.0, 0.0)
    assert (found.heading, found.ground_speed, found.wind_correction) == (1.2, 50.0, 0.0)


def test_wind_that_cannot_be_overcome() -> None:
    with pytest.raises(NoSolution, match="across"):
        triangle(0.0, 30.0, math.pi / 2, 31.0)
    with pytest.raises(NoSolution, match="headway"):
        triangle(0.0, 30.0, 0.0, 30.0)
    # a gale from astern still leaves a course: the faster of the two answers
    assert triangle(0.0, 30.0, math.pi, 40.0).ground_speed == pytest.approx(70.0)
    for airspeed, wind_speed in ((0.0, 5.0), (30.0, -1.0), (math.nan, 1.0)):
        with pytest.raises(ValueError, match="airspeed"):
            triangle(0.0, airspeed, 0.0, wind_speed)


def test_one_wind_holds_its_components() -> None:
    assert Wind(1.0, -2.0) == Wind(east=1.0, north=-2.0)


def test_table_is_linear_between_and_constant_beyond() -> None:
    table = WindTable(np.array([10.0, 110.0]), np.array([0.0, 10.0]), np.array([-4.0, 4.0]))
    assert table.at(35.0) == pytest.approx((2.5, -2.0))
    assert table.at(-50.0) == table.at(10.0) == (0.0, -4.0)
    assert table.at(5_000.0) == table.at(110.0) == (10.0, 4.0)
    assert all(type(part) is float for part in table.at(35.0))


def test_table_keeps_its_own_read_only_columns() -> None:
    height = np.array([0.0, 10.0])
    table = WindTable(height, np.zeros(2), np.zeros(2))
    height[0] = 5.0
    assert table.height[0] == 0.0
    with pytest.raises(ValueError, match="read-only"):
        table.height[0] = 1.0


@pytest.mark.parametrize(
    ("height", "east", "north"),
    [
        ([], [], []),
        ([0.0, 0.0], [1.0, 1.0], [1.0, 1.0]),
        ([10.0, 0.0], [1.0, 1.0], [1.0, 1.0]),
        ([0.0], [1.0, 2.0], [1.0]),
        ([0.0], [math.nan], [1.0]),
        ([[0.0]], [[1.0]], [[1.0]]),
    ],
)
def test_bad_tables_are_refused(height: list[float], east: list[float], north: list[float]) -> None:
    with pytest.raises(ValueError, match=r"finite|long|ascend"):
        WindTable(np.array(height), np.array(east), np.array(north))


def test_uniform_wind_is_the_same_everywhere() -> None:
    table = WindTable.uniform(3.0, -4.0)
    for height in (-10.0, 0.0, 12.3, 3_000.0):
        assert table.at(height) == (3.0, -4.0)
    with pytest.raises(ValueError, match="height"):
        table.at(math.nan)


@pytest.mark.parametrize(
    ("metres", "ratio"), [(3.0, 0.876), (5.0, 0.927), (18.0, 1.067), (25.0, 1.106), (40.0, 1.165), (100.0, 1.288)]
)
def test_sea_wind_with_height_regression(metres: float, ratio: float) -> None:
    """V04: exponent as configured in an open buoy-correction project (0.11); ratios computed. Within half a digit."""
    assert sea_ratio(metres) == pytest.approx(ratio, abs=5.1e-4)


@pytest.mark.parametrize("top", [10.0, 18.0, 60.0, 100.0])
def test_sea_profile_follows_the_power_law(top: float) -> None:
    """Within 0.1 % at any height from 2 m to the top, the stated wind at 10 m, constant above and below."""
    table = WindTable.sea_profile(6.0, -8.0, top)
    for height in np.geomspace(2.0, top, 701):
        east, north = table.at(float(height))
        assert math.hypot(east, north) == pytest.approx(10.0 * sea_ratio(min(float(height), 100.0)), rel=1e-3)
        assert math.atan2(east, north) == pytest.approx(math.atan2(6.0, -8.0), abs=1e-12)
    assert table.at(10.0) == pytest.approx((6.0, -8.0), rel=1e-3)
    assert table.at(0.0) == table.at(2.0)
    assert table.at(top + 500.0) == table.at(top)


@pytest.mark.parametrize("height", [1.9, 100.1, math.nan])
def test_power_law_is_not_stretched(height: float) -> None:
    with pytest.raises(ValueError, match="outside"):
        sea_ratio(height)
    with pytest.raises(ValueError, match="outside"):
        WindTable.sea_profile(5.0, 0.0, height)


@given(directions, directions, st.floats(40.0, 120.0), st.floats(0.0, 30.0))
def test_heading_flown_in_the_wind_makes_good_the_course(
    course: float, wind_from: float, airspeed: float, wind_speed: float
) -> None:
    """Second method: add the vectors."""
    assume(wind_speed < airspeed)
    found = triangle(course, airspeed, wind_from, wind_speed)
    east = airspeed * math.sin(found.heading) - wind_speed * math.sin(wind_from)
    north = airspeed * math.cos(found.heading) - wind_speed * math.cos(wind_from)
    assert east == pytest.approx(found.ground_speed * math.sin(course), abs=1e-9)
    assert north == pytest.approx(found.ground_speed * math.cos(course), abs=1e-9)
