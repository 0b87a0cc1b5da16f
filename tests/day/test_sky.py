"""Sun and moon at the ship's moving place, and the simulator's own sun. Own arithmetic and a second method."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from roundown.day.facts import clock_of
from roundown.day.solve import solve
from roundown.environment.light import Darkness, sun_altitude
from roundown.findings import Level
from roundown.plan.facts import Day
from roundown.schedule.clock import SimulatorSun
from roundown.solution import Solution, Unsolved

DayOf = Callable[..., Day]
DEG = math.pi / 180.0


def light_of(found: Solution) -> dict[str, tuple[float, Darkness]]:
    assert not isinstance(found.timeline, Unsolved)
    return {name: (moment.time, moment.darkness) for name, moment in found.timeline.items()}


@pytest.mark.parametrize("course", ["270", "090"])
def test_what_the_sun_does_is_timed_at_the_place_where_the_ship_then_is(day_with: DayOf, course: str) -> None:
    """Second method: the altitude by the ephemeris over the track's own place: 50' below the level at sunset."""
    day = day_with(time="02:00", launch="15:30", recovery="18:10", course=course, speed="19 kt")
    found = solve(day)
    assert not isinstance(found.track, Unsolved)
    times = light_of(found)
    for name, altitude in (("sunset", -50.0 / 60.0 * DEG), ("civil_dusk", -6.0 * DEG)):
        time = times[name][0]
        place = found.track.at(time)
        seen = sun_altitude(clock_of(day).instant(time), place.latitude, place.longitude)
        assert seen == pytest.approx(altitude, abs=0.02 * DEG)


def test_a_sunset_a_day_ahead_is_that_of_the_next_day(day_with: DayOf) -> None:
    """Own arithmetic: the datum is a little after sunset, so that the next one comes a day later, far to the west."""
    found = solve(day_with(time="19:20", launch="sunset - 110 min", recovery="launch + 1 h", course="270"))
    launch = found.events["patrol"].launch
    assert launch is not None
    assert 86400.0 + 15.0 * 3600.0 < launch < 86400.0 + 19.0 * 3600.0
    assert not isinstance(found.timeline, Unsolved)


SIMULATED = """
[simulator]
sunset = "14:00"
civil_dusk = "14:20"
nautical_dusk = "14:40"
"""


def test_the_simulators_sun_counts_for_light_and_for_what_is_found(day_with: DayOf) -> None:
    """Constructed: the simulator's night is hours early, so a landing by the true sun is one in its dark."""
    found = solve(day_with(SIMULATED))
    times = light_of(found)
    assert times["sunset"] == (14 * 3600.0, Darkness.CIVIL)
    assert times["civil_dusk"] == (14 * 3600.0 + 1200.0, Darkness.NAUTICAL)
    assert times["patrol_launch"][1] is Darkness.DAY
    assert times["patrol_last_aboard"][1] in {Darkness.ASTRONOMICAL, Darkness.NIGHT}
    dark = [each for each in found.findings if each.id in {"recovery-in-the-dark", "dark-recovery"}]
    assert [each.level for each in dark] == [Level.CAUTION]


def test_the_simulators_sun_keeps_pace_with_its_times() -> None:
    """Own arithmetic: 60 min behind at 18:00 and 30 min at 18:30; between them half of each, beyond them as there."""
    sun = SimulatorSun((64800.0, 66600.0), (68400.0, 68400.0))
    assert sun.true_time(64800.0) == 68400.0
    assert sun.true_time(65700.0) == pytest.approx(65700.0 + 2700.0)
    assert sun.true_time(60000.0) == pytest.approx(63600.0)
    assert sun.true_time(70000.0) == pytest.approx(71800.0)
    assert SimulatorSun().true_time(123.0) == 123.0
    assert np.all(np.diff([sun.true_time(float(t)) for t in range(60000, 72000, 60)]) >= 0.0)


def test_a_base_track_that_is_never_regained_is_said(day_with: DayOf) -> None:
    """Constructed: she would regain it at less than her base speed, and so never does."""
    found = solve(day_with(ship_more='regain_speed = "10 kt"'))
    said = [each for each in found.findings if each.id == "base-track-not-regained"]
    assert said
    assert said[0].level is Level.CAUTION
    assert "does not regain" in said[0].limit
