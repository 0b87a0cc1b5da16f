"""The day's flying: times, the ship's track, light, and what does not work."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable

import pytest

from roundown.day.facts import clock_of
from roundown.day.memory import Memory
from roundown.day.solve import solve
from roundown.environment.light import Darkness, sun_altitude
from roundown.findings import Level
from roundown.plan.facts import Day
from roundown.recovery.result import CircuitResult
from roundown.solution import Unsolved

DayOf = Callable[..., Day]
DEG = math.pi / 180.0
MIN = 60.0


def test_times_by_the_clock_are_kept_and_what_follows_is_added(day_with: DayOf) -> None:
    """Own arithmetic: 4 take-offs 25 s apart end 75 s after the first; 4 landings 30 s apart 90 s after the first."""
    found = solve(day_with())
    patrol = found.events["patrol"]
    assert patrol.launch == 13 * 3600.0
    assert patrol.last_off == 13 * 3600.0 + 75.0
    assert isinstance(found.circuit, CircuitResult)
    ramp = 15 * 3600.0 + found.circuit.initial_to_break + found.circuit.break_to_ramp
    assert patrol.first_aboard == pytest.approx(ramp)
    assert patrol.last_aboard == pytest.approx(ramp + 90.0)


def test_the_ship_is_steady_before_and_holds_on_until_it_is_over(day_with: DayOf) -> None:
    """Doctrine: 2 min steady before the first, 10 s after the last take-off, 5 min in hand after the last landing."""
    found = solve(day_with())
    assert not isinstance(found.track, Unsolved)
    launch, recovery = found.track.periods["patrol_launch"], found.track.periods["patrol_recovery"]
    assert launch.steady == pytest.approx(13 * 3600.0 - 120.0)
    assert launch.end == 13 * 3600.0 + 75.0 + 10.0
    assert recovery.steady == pytest.approx(15 * 3600.0 - 120.0)
    last = found.events["patrol"].last_aboard
    assert last is not None
    assert recovery.end == pytest.approx(last + 300.0)
    for time in (launch.steady + 1.0, launch.end - 1.0, recovery.steady + 1.0, recovery.end - 1.0):
        place = found.track.at(time)
        assert place.course == pytest.approx(found.flight.course)
        assert place.speed == pytest.approx(found.flight.speed)


def test_a_launch_by_the_sun_is_so_long_before_the_sunrise_where_the_ship_then_is(day_with: DayOf) -> None:
    """Second method: the sun's centre is 50' below the level there, by the ephemeris, 25 min after the launch."""
    day = day_with(time="03:30", launch="sunrise - 25 min", recovery="launch + 2 h", speed="24 kt", course="270")
    found = solve(day)
    launch = found.events["patrol"].launch
    assert launch is not None
    assert not isinstance(found.track, Unsolved)
    there = found.track.at(launch + 25 * MIN)
    instant = clock_of(day).instant(launch + 25 * MIN)
    assert sun_altitude(instant, there.latitude, there.longitude) == pytest.approx(-50 / 60 * DEG, abs=0.005 * DEG)
    assert abs(there.longitude - day.number("place.longitude")) > 0.5 * DEG  # she has moved so far that it matters


def test_a_launch_in_the_dark_takes_longer(day_with: DayOf) -> None:
    """Doctrine: 52.5 s between take-offs when the sun is more than 6 degrees down, 25 s by day; own arithmetic."""
    dark = solve(day_with(time="03:00", launch="04:30", recovery="07:30")).events["patrol"]
    light = solve(day_with(time="03:00", launch="06:30", recovery="07:30")).events["patrol"]
    assert (dark.take_off_interval, light.take_off_interval) == (52.5, 25.0)
    assert dark.last_off == 4.5 * 3600.0 + 157.5


def test_the_timeline_is_in_order_and_says_how_light_it_is(day_with: DayOf) -> None:
    day = day_with(launch="sunset - 30 min", recovery="sunset + 40 min")
    found = solve(day)
    assert not isinstance(found.timeline, Unsolved)
    times = [moment.time for moment in found.timeline.values()]
    assert times == sorted(times)
    assert found.timeline["patrol_launch"].darkness is Darkness.DAY
    assert found.timeline["patrol_recovery"].darkness is Darkness.NAUTICAL
    assert {"sunset", "civil_dusk", "nautical_dusk"} <= set(found.timeline)
    assert found.timeline["sunset"].sun_altitude == pytest.approx(-50 / 60 * DEG, abs=0.01 * DEG)
    assert found.timeline["civil_dusk"].sun_altitude == pytest.approx(-6 * DEG, abs=0.01 * DEG)


def test_the_simulator_s_own_sunset_counts_where_it_is_given(day_with: DayOf) -> None:
    found = solve(day_with('[simulator]\nsunset = "18:00"\n', launch="sunset - 3 h", recovery="sunset - 20 min"))
    assert found.events["patrol"].launch == 15 * 3600.0
    assert found.light.simulated == ("sunset",)
    assert found.light.sunset == 18 * 3600.0
    assert not isinstance(found.timeline, Unsolved)
    assert found.timeline["sunset"].time == 18 * 3600.0


def test_where_the_sun_does_not_rise_the_day_says_so(day_with: DayOf) -> None:
    """Constructed: 80 N in December."""
    found = solve(day_with(position="80 00 N 010 00 E", date="1949-12-20", launch="sunrise - 25 min", recovery="15:00"))
    assert [finding.id for finding in found.findings if finding.level is Level.STOP] == ["no-such-light"]
    assert found.events["patrol"].launch is None
    assert found.light.sunrise is None


def test_an_evening_goes_on_past_midnight(day_with: DayOf) -> None:
    found = solve(day_with(time="22:00", launch="23:30", recovery="01:10 next day"))
    assert found.events["patrol"].recovery == 25 * 3600.0 + 600.0
    assert not isinstance(found.timeline, Unsolved)
    assert found.timeline["patrol_recovery"].time > 86400.0


@pytest.mark.parametrize(("zone", "ahead"), [("+10:30", 10.5), ("-9:30", -9.5), ("ZD -10", 10.0), ("ZD +3", -3.0)])
def test_a_zone_moves_the_clock_and_not_the_sun(day_with: DayOf, zone: str, ahead: float) -> None:
    """Constructed: the same instant on another clock; the same ship sees the same sunset then."""
    universal = day_with(time="12:00", launch="sunset - 2 h", recovery="sunset - 30 min")
    clock = (dt.datetime(1949, 3, 17, 12, tzinfo=dt.UTC) + dt.timedelta(hours=ahead)).replace(tzinfo=None)
    zoned = day_with(
        time=f"{clock:%H:%M}", date=f"{clock:%Y-%m-%d}", zone=zone,
        launch="sunset - 2 h", recovery="sunset - 30 min",
    )  # fmt: skip
    assert zoned.start == universal.start
    first, second = solve(universal).events["patrol"], solve(zoned).events["patrol"]
    assert first.launch is not None
    assert second.launch is not None
    there, here = clock_of(zoned).instant(second.launch), clock_of(universal).instant(first.launch)
    assert abs((there - here).total_seconds()) < 0.01


def test_the_date_line_is_crossed_like_any_other_meridian(day_with: DayOf) -> None:
    """Constructed: the same day half round the earth; only longitude and clock differ."""
    crossing = solve(day_with(position="31 40 S 179 55 E", course="090", speed="20 kt"))
    plain = solve(day_with(position="31 40 S 009 55 E", course="090", speed="20 kt"))
    assert not isinstance(crossing.track, Unsolved)
    assert not isinstance(plain.track, Unsolved)
    for time in (12.5, 13.0, 14.2, 15.1, 16.0):
        here, there = crossing.track.at(time * 3600.0), plain.track.at(time * 3600.0)
        assert here.latitude == pytest.approx(there.latitude, abs=1e-9)
        assert math.remainder(here.longitude - there.longitude - 170 * DEG, math.tau) == pytest.approx(0.0, abs=1e-8)


def test_memory_solves_again_only_what_an_edit_touches(day_with: DayOf) -> None:
    memory = Memory()
    solve(day_with(), memory)
    before = dict(memory.solved)
    solve(day_with(launch="13:10"), memory)
    assert memory.solved["circuit"] == before["circuit"]
    assert memory.solved["light"] == before["light"]
    assert memory.solved["track"] == before["track"] + 1
    solve(day_with(wind="150/11 kt"), memory)
    assert memory.solved["circuit"] == before["circuit"] + 1


def test_what_is_remembered_is_what_is_solved_anew(day_with: DayOf) -> None:
    memory = Memory()
    solve(day_with(), memory)
    again = {key: figure.value for key, figure in solve(day_with(), memory).figures.items()}
    assert again == {key: figure.value for key, figure in solve(day_with()).figures.items()}


def test_a_ship_that_steams_over_the_pole_is_told_and_not_an_error(day_with: DayOf) -> None:
    found = solve(day_with(position="88 50 N 010 00 E", course="000", launch="18:00", recovery="20:00"))
    assert isinstance(found.track, Unsolved)
    assert [finding.id for finding in found.findings if finding.level is Level.STOP] == ["no-track"]
    assert found.events["patrol"].launch == 18 * 3600.0


def test_who_is_still_in_the_air_cannot_fly_again(day_with: DayOf) -> None:
    """Constructed: four seats for two events of four at once; an hour later they could."""
    second = '\n[[event]]\nname = "second"\nlaunch = "{}"\nrecovery = "{}"\naeroplanes = {{ amber = 4 }}\n'
    at_once = solve(day_with(second.format("13:30", "15:30"))).findings
    assert [finding.id for finding in at_once if finding.level is Level.STOP] == ["twice-at-once"]
    assert "11 Vane, 12 Pell, 13 Orme, 14 Lusk" in at_once[0].value
    assert not [f for f in solve(day_with(second.format("16:00", "17:00"))).findings if f.level is Level.STOP]


def test_an_event_nobody_is_there_for_is_a_stop_and_turns_no_ship(day_with: DayOf) -> None:
    more = (
        '\n[squadrons.grey]\ntype = "ottery"\nroster = [{ side = "31", name = "Marl" }]\n'
        '\n[[event]]\nname = "grey"\nlaunch = "16:30"\nrecovery = "17:30"\naeroplanes = { grey = 1 }\n'
        '\n[muster]\nabsent = ["Marl"]\n'
    )
    found = solve(day_with(more))
    assert [finding.id for finding in found.findings if finding.level is Level.STOP] == ["nobody-flies"]
    assert not isinstance(found.track, Unsolved)
    assert set(found.track.periods) == {"patrol_launch", "patrol_recovery"}


def test_coming_home_in_the_dark_is_a_caution(day_with: DayOf) -> None:
    found = solve(day_with(launch="16:00", recovery="sunset + 1 h"))
    assert [finding.id for finding in found.findings] == ["dark-recovery"]


def test_a_zone_of_the_wrong_sign_is_remarked_on(day_with: DayOf) -> None:
    """Constructed: 5 W keeps about universal time; ten hours ahead is remarked on, an hour is not."""
    assert [f.id for f in solve(day_with(zone="+10:00")).findings if f.id.startswith("zone")]
    assert not [f.id for f in solve(day_with(zone="+1:00")).findings if f.id.startswith("zone")]
