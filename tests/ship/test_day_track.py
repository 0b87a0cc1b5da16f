"""The guide's track of a day: steady in time, back on the base track, and what happens where there is no time."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given, settings
from hypothesis import strategies as st

from roundown.ship.day_track import DayTrack, DayTrackFacts, FlyingPeriod, What, day_track

DEG = math.pi / 180.0
KT = 1852.0 / 3600.0
NM = 1852.0
YD = 0.9144


def facts(*periods: FlyingPeriod, **other: float) -> DayTrackFacts:
    """Base course 180 at 15 kt from 30 S 10 W, circle 1400 yd, 5 kt a minute, regaining at 25 kt."""
    plain = DayTrackFacts(
        start=0.0,
        latitude=-30 * DEG,
        longitude=-10 * DEG,
        base_course=180 * DEG,
        base_speed=15 * KT,
        turning_circle=1400 * YD,
        speed_gain=5 * KT / 60.0,
        regain_speed=25 * KT,
        periods=periods,
    )
    return replace(plain, **other)  # type: ignore[arg-type]


def flying(course: float, speed: float, start: float, end: float, name: str = "launch") -> FlyingPeriod:
    """Degrees, knots, minutes after the datum."""
    return FlyingPeriod(name, course * DEG, speed * KT, start * 60.0, end * 60.0)


def apart(track: DayTrack, time: float, latitude: float, longitude: float) -> float:
    """Metres between the ship at a time and a place in degrees."""
    place = track.at(time)
    return float(Geodesic.WGS84.Inverse(place.latitude / DEG, place.longitude / DEG, latitude, longitude)["s12"])


def test_a_right_angle_turn_takes_its_quarter_circle_and_the_change_of_speed() -> None:
    """Own arithmetic: a quarter of a circle of 700 yd radius at 15 kt is 130.3 s; 15 to 20 kt at 5 kt a minute 60 s."""
    period = day_track(facts(flying(90, 20, 60, 90))).periods["launch"]
    turning = 0.5 * math.pi * 700 * YD / (15 * KT)
    assert period.steady - period.order == pytest.approx(turning + 60.0)
    assert period.steady == 3600.0
    assert period.turn == pytest.approx(-90 * DEG)
    assert period.late == 0.0


def test_she_is_on_her_flight_course_for_as_long_as_she_flies() -> None:
    track = day_track(facts(flying(90, 20, 60, 90)))
    for minutes in (60.0, 70.0, 89.9):
        place = track.at(minutes * 60.0)
        assert place.course == pytest.approx(90 * DEG)
        assert place.speed == pytest.approx(20 * KT)
    assert [stretch.what for stretch in track.stretches] == [
        What.BASE, What.TURNING, What.FLIGHT, What.REGAINING, What.BASE,
    ]  # fmt: skip


def test_she_regains_the_moving_point_and_keeps_to_it() -> None:
    """Second method: the base track stepped along its parallel of course by small geodesics."""
    track = day_track(facts(flying(90, 20, 60, 90)))
    regained = track.periods["launch"].regained
    assert regained is not None
    for time in (regained, regained + 3600.0):
        run = 15 * KT * time
        point = Geodesic.WGS84.Direct(-30.0, -10.0, 180.0, run)  # a meridian is a geodesic
        assert apart(track, time, point["lat2"], point["lon2"]) < 20.0
        assert track.off_base(time)[0] < 20.0
    assert track.at(regained + 1.0).course == pytest.approx(180 * DEG)
    assert track.at(regained + 1.0).speed == pytest.approx(15 * KT)
    assert track.off_base(regained - 120.0)[0] > 20.0


def test_the_track_is_what_her_course_and_speed_integrate_to() -> None:
    """Second method: geodesic steps of two seconds along the course and speed she has, for four hours."""
    track = day_track(facts(flying(70, 22, 40, 60), flying(95, 18, 150, 175, "recovery"), latitude=48 * DEG))
    latitude, longitude, step = 48.0, -10.0, 2.0
    worst = 0.0
    for i in range(int(4 * 3600 / step)):
        middle = track.at((i + 0.5) * step)
        line = Geodesic.WGS84.Direct(latitude, longitude, middle.course / DEG, middle.speed * step)
        latitude, longitude = line["lat2"], line["lon2"]
        if i % 300 == 299:
            worst = max(worst, apart(track, (i + 1) * step, latitude, longitude))
    assert worst < 0.01 * NM


def test_two_times_of_flying_with_no_room_between_are_flown_through() -> None:
    track = day_track(facts(flying(90, 20, 60, 65), flying(90, 20, 67, 75, "second")))
    assert track.at(66 * 60.0).course == pytest.approx(90 * DEG)
    assert track.periods["second"].order == track.periods["second"].steady
    assert track.periods["second"].late == 0.0
    assert sum(stretch.what is What.FLIGHT for stretch in track.stretches) == 1


def test_another_flight_course_at_once_makes_her_late_and_it_is_said() -> None:
    """Own arithmetic: a half turn at 20 kt on 700 yd radius takes 195.4 s; 60 s are there."""
    track = day_track(facts(flying(90, 20, 60, 65), flying(270, 20, 66, 75, "second")))
    assert track.periods["second"].order == pytest.approx(65 * 60.0)
    assert track.periods["second"].late == pytest.approx(math.pi * 700 * YD / (20 * KT) - 60.0)


def test_a_turn_that_should_begin_before_the_datum_begins_at_the_datum() -> None:
    period = day_track(facts(flying(90, 15, 1, 10))).periods["launch"]
    assert period.order == 0.0
    assert period.late == pytest.approx(0.5 * math.pi * 700 * YD / (15 * KT) - 60.0)


def test_a_ship_that_is_no_faster_than_her_base_track_does_not_regain_it() -> None:
    period = day_track(facts(flying(0, 15, 60, 90), regain_speed=15 * KT)).periods["launch"]
    assert period.regained is None
    assert period.left_off is None or period.left_off > NM


def test_before_the_base_track_is_regained_the_next_turn_may_come() -> None:
    track = day_track(facts(flying(90, 20, 60, 90), flying(90, 20, 110, 120, "second")))
    first = track.periods["launch"]
    assert first.regained is None
    assert first.left_off is not None
    assert 0.0 < first.left_off < first.off_at_end


def test_a_ship_that_lies_stopped_between_flying_comes_back_to_her_place() -> None:
    track = day_track(facts(flying(90, 20, 60, 90), base_speed=0.0))
    regained = track.periods["launch"].regained
    assert track.at(30 * 60.0).speed == 0.0
    assert regained is not None
    assert apart(track, regained + 60.0, -30.0, -10.0) < 20.0


@pytest.mark.parametrize("flight_course", [0.0, 1.0, 359.0, 180.0])
def test_flying_against_the_base_course_still_lets_her_regain_it(flight_course: float) -> None:
    """Constructed: she must turn through all but a half circle, or a little more, to run after a point right ahead."""
    track = day_track(facts(flying(flight_course, 20, 60, 90)))
    regained = track.periods["launch"].regained
    assert regained is not None
    assert track.off_base(regained)[0] < 20.0


def test_steaming_out_and_back_from_where_she_lies_she_turns_past_the_half_circle() -> None:
    """Own arithmetic: working up from nil to 20 kt takes 4 min, 0.7 nm; with 10 nm flown, 10.7 nm take 25.6 min at
    25 kt. Half a turn at 20 kt 3.3 min, the turn back at 25 kt 2.3 min, losing the way 5 min and 1.04 nm, which she
    must go too far before, 2.5 min: 38.7 min in all; the diameters of the circles are worth a minute.
    """
    track = day_track(facts(flying(234, 20, 60, 90), base_speed=0.0, base_course=210 * DEG))
    regained = track.periods["launch"].regained
    assert regained is not None
    assert regained / 60.0 - 90.0 == pytest.approx(38.7, abs=1.0)
    assert apart(track, regained, -30.0, -10.0) < 20.0


@pytest.mark.parametrize("closing", [2.0, 5.0, 10.0])
def test_regaining_takes_about_the_distance_off_over_the_speed_in_hand(closing: float) -> None:
    """Own arithmetic, flight at base speed against the base course: she is straight astern and goes straight after it;
    two half turns on 700 yd radius and the gain of speed are worth under 10 minutes.
    """
    track = day_track(facts(flying(0, 15, 60, 90), regain_speed=(15 + closing) * KT))
    times = track.periods["launch"]
    assert times.regained is not None
    least = times.off_at_end / (closing * KT)
    assert least < times.regained - times.end < least + 600.0 * 15.0 / closing


def test_she_never_goes_faster_than_her_regaining_speed_while_regaining() -> None:
    """Constructed; from the slower flight course she works up to it, and sideways pull is that of her circle."""
    track = day_track(facts(flying(90, 12, 60, 90)))
    stretch = next(stretch for stretch in track.stretches if stretch.what is What.REGAINING)
    speeds = [track.at(stretch.start + (stretch.end - stretch.start) * i / 200.0).speed for i in range(201)]
    assert max(speeds) == pytest.approx(25 * KT)
    for row in track.rows:
        assert abs(row.rate) == pytest.approx(row.speed / (700 * YD)) or row.rate == 0.0
        assert abs(row.gain) == pytest.approx(5 * KT / 60.0) or row.gain == 0.0


def test_without_speed_in_hand_she_comes_back_to_base_course_off_the_track() -> None:
    """Constructed: at 15 kt behind a point that makes 15 kt she stays behind, and the next order says how far."""
    track = day_track(facts(flying(0, 15, 60, 90), flying(0, 15, 200, 210, "second"), regain_speed=15 * KT))
    assert What.RETURNING in [stretch.what for stretch in track.stretches]
    place = track.at(150 * 60.0)
    assert place.course == pytest.approx(180 * DEG)
    assert place.speed == pytest.approx(15 * KT)
    first = track.periods["launch"]
    assert first.left_off is not None
    assert first.left_off == pytest.approx(track.off_base(150 * 60.0)[0], abs=2.0)


def test_flying_within_other_flying_on_the_same_course_changes_nothing() -> None:
    track = day_track(facts(flying(90, 20, 60, 90), flying(90, 20, 70, 75, "second")))
    alone = day_track(facts(flying(90, 20, 60, 90)))
    assert track.periods["second"].late == 0.0
    for minutes in (65.0, 80.0, 95.0, 150.0):
        there, here = track.at(60.0 * minutes), alone.at(60.0 * minutes)
        assert apart(track, 60.0 * minutes, here.latitude / DEG, here.longitude / DEG) < 0.1
        assert there.course == pytest.approx(here.course)


def test_mirrored_in_her_meridian_the_day_is_mirrored() -> None:
    """Symmetry: every course to the other side of north."""
    track = day_track(facts(flying(80, 20, 60, 90), base_course=200 * DEG, longitude=0.0))
    mirror = day_track(facts(flying(280, 20, 60, 90), base_course=160 * DEG, longitude=0.0))
    for minutes in range(0, 240, 7):
        place, other = track.at(60.0 * minutes), mirror.at(60.0 * minutes)
        assert other.latitude == pytest.approx(place.latitude, abs=1e-7)
        assert other.longitude == pytest.approx(-place.longitude, abs=1e-7)


@pytest.mark.parametrize("turned", [90.0, 211.0])
def test_on_the_equator_a_day_turned_as_a_whole_is_the_same_day(turned: float) -> None:
    """Symmetry, nearly: within 40 nm of the equator the earth is a plane to 1 in 150, by its flattening."""
    plain = day_track(facts(flying(80, 20, 60, 75), latitude=0.0, base_course=20 * DEG, start=1800.0))
    other = day_track(
        facts(flying(80 + turned, 20, 60, 75), latitude=0.0, base_course=(20 + turned) * DEG, start=1800.0)
    )
    first, second = plain.periods["launch"], other.periods["launch"]
    assert second.order == pytest.approx(first.order, abs=1e-6)
    assert second.off_at_end == pytest.approx(first.off_at_end, rel=5e-4)
    assert first.regained is not None
    assert second.regained == pytest.approx(first.regained, abs=5.0)
    turn = math.remainder(second.bearing_at_end - first.bearing_at_end - turned * DEG, math.tau)
    assert turn == pytest.approx(0.0, abs=1e-3)


def test_a_day_across_the_date_line_is_the_day_elsewhere() -> None:
    """Symmetry: the same facts on another meridian."""
    period = flying(90, 20, 60, 90)
    here, there = (day_track(facts(period, longitude=lon * DEG)) for lon in (-10.0, 179.95))
    assert there.periods["launch"].regained == pytest.approx(here.periods["launch"].regained, abs=1e-3)
    moved = [there.at(60.0 * minutes).longitude for minutes in range(0, 240, 10)]
    assert min(moved) < 0.0 < max(moved)
    for minutes, longitude in zip(range(0, 240, 10), moved, strict=True):
        shift = math.remainder(longitude - here.at(60.0 * minutes).longitude - 189.95 * DEG, math.tau)
        assert shift == pytest.approx(0.0, abs=1e-9)


def test_two_periods_of_one_name_are_refused() -> None:
    with pytest.raises(ValueError, match="one name"):
        day_track(facts(flying(90, 20, 60, 65), flying(90, 20, 80, 85)))


def test_before_the_datum_she_was_on_her_base_track() -> None:
    """Own arithmetic: four hours at 15 kt are 60 nm to the north, along a meridian."""
    point = Geodesic.WGS84.Direct(-30.0, -10.0, 0.0, 60 * NM)
    assert apart(day_track(facts()), -4 * 3600.0, point["lat2"], point["lon2"]) < 0.5


@given(
    courses=st.tuples(st.floats(0, 359), st.floats(0, 359)),
    speeds=st.tuples(st.floats(6, 28), st.floats(6, 28)),
    gap=st.floats(1, 180),
    base=st.floats(0, 359),
    slow=st.floats(0, 20),
)
@settings(max_examples=60, deadline=None)
def test_a_track_has_no_jumps_and_keeps_its_promises(
    courses: tuple[float, float], speeds: tuple[float, float], gap: float, base: float, slow: float
) -> None:
    first = flying(courses[0], speeds[0], 30, 45)
    second = flying(courses[1], speeds[1], 45 + gap, 60 + gap, "recovery")
    track = day_track(facts(first, second, base_course=base * DEG, base_speed=slow * KT))
    for row, following in zip(track.rows, track.rows[1:], strict=False):
        end, begun = track.at(following.start - 1e-6), track.at(following.start)
        line = Geodesic.WGS84.Inverse(
            end.latitude / DEG, end.longitude / DEG, begun.latitude / DEG, begun.longitude / DEG
        )
        assert line["s12"] < 2.0
        assert abs(math.remainder(end.course - begun.course, math.tau)) < 2e-3
        assert abs(end.speed - begun.speed) < 0.01
        assert row.start <= following.start
    for period in (first, second):
        times = track.periods[period.name]
        assert times.steady == pytest.approx(period.start + times.late)
        for time in (times.steady + 0.01, 0.5 * (times.steady + times.end), times.end - 0.01):
            if times.steady <= time <= times.end:
                assert abs(math.remainder(track.at(time).course - period.course, math.tau)) < 1e-6
                assert track.at(time).speed == pytest.approx(period.speed, abs=1e-6)
        if times.regained is not None:
            assert track.off_base(times.regained)[0] < 20.0
