"""The light and the air of the day."""

from __future__ import annotations

import datetime as dt
import math

import pytest

from roundown.environment.air import SEA_LEVEL_PRESSURE, SEA_LEVEL_TEMPERATURE
from roundown.schedule.clock import ShipClock, sky_time
from roundown.schedule.conditions import air_today, day_light

DEG = math.pi / 180.0
FT = 0.3048


def test_on_a_standard_day_the_altimeter_tells_the_height_and_the_air_is_of_the_sea() -> None:
    """Limit case."""
    found = air_today(SEA_LEVEL_TEMPERATURE, SEA_LEVEL_PRESSURE, SEA_LEVEL_PRESSURE, 20.0, 91.44)
    assert found.density_altitude == pytest.approx(0.0, abs=1e-6)
    assert found.altimeter_on_deck == pytest.approx(20.0, abs=1e-6)
    assert found.altimeter_at_initial == pytest.approx(91.44, abs=1e-6)


def test_an_altimeter_left_at_the_standard_setting_is_about_900_feet_out_for_an_inch() -> None:
    """From memory: about 1000 ft an inch of mercury, 930 near the sea; an inch less outside, it shows too much."""
    inch = 3386.389
    found = air_today(SEA_LEVEL_TEMPERATURE, SEA_LEVEL_PRESSURE - inch, SEA_LEVEL_PRESSURE, 0.0, 100.0)
    assert found.altimeter_on_deck / FT == pytest.approx(930.0, abs=20.0)


@pytest.mark.published
def test_the_light_of_a_day_by_the_ship_s_clock() -> None:
    """Source: U.S. Naval Observatory, Rise, Set, and Twilight Definitions (sun's centre at -50' at sunrise).

    Second method: the library ephem at the same limit, 31 40 S 005 20 W, 17 March 1949, clock one hour ahead.
    """
    import ephem

    clock = ShipClock(dt.datetime(1949, 3, 17, 16, tzinfo=dt.UTC), 17 * 3600.0)
    found = day_light(-(31 + 40 / 60) * DEG, -(5 + 20 / 60) * DEG, clock, 3600.0, {})
    observer = ephem.Observer()
    observer.lat, observer.lon, observer.pressure, observer.horizon = "-31:40", "-5:20", 0, "-0:50"
    observer.date = "1949/3/16 23:00"
    rising = observer.next_rising(ephem.Sun(), use_center=True).datetime()
    assert found.sunrise is not None
    wanted = rising.hour * 3600.0 + rising.minute * 60.0 + rising.second + 3600.0
    assert found.sunrise == pytest.approx(wanted, abs=5.0)


def test_a_simulated_time_comes_again_each_day() -> None:
    """Own arithmetic: a sunrise at 06:00 is next after a datum of 22:00 on the next day, 30:00."""
    clock = ShipClock(dt.datetime(1949, 3, 17, 22, tzinfo=dt.UTC), 22 * 3600.0)
    assert sky_time("sunrise", 0.0, 0.0, clock, clock.shows, {"sunrise": 6 * 3600.0}) == 30 * 3600.0
    assert sky_time("sunset", 0.0, 0.0, clock, clock.shows, {"sunset": 23 * 3600.0}) == 23 * 3600.0
