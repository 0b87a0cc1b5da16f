"""More of sun and moon: reference runs and worked examples, the sky of many instants at once, searches not repeated."""

from __future__ import annotations

import datetime as dt
import math
from typing import Any

import pytest
from skyfield import almanac

from roundown.environment import light
from roundown.environment.light import (
    Darkness,
    Light,
    darkness,
    light_of_day,
    moon_altitude,
    moon_events,
    moon_lit,
    skies,
    sky_at,
    sun_altitude,
    sun_events,
)
from roundown.quantities import read_position, read_zone

DEG = math.pi / 180.0
MINUTE = 60.0  # s, of a time printed to the minute: 30 s of rounding and a few of model


def ut(text: str) -> dt.datetime:
    return dt.datetime.fromisoformat(text).replace(tzinfo=dt.UTC)


def seconds(found: dt.datetime | None, printed: dt.datetime) -> float:
    assert found is not None
    return abs((found - printed).total_seconds())


def day(latitude: float, longitude: float, date: str, hours: float = 0.0, eye: float = 0.0) -> Light:
    zone = dt.timedelta(hours=hours)
    return light_of_day(latitude * DEG, longitude * DEG, dt.date.fromisoformat(date), zone, eye)


# Published


@pytest.mark.published
def test_sun_of_the_solar_position_algorithm() -> None:
    """Source: Reda & Andreas, Solar Energy 76(5), 2004, reference run: zenith 50.11162 deg, refraction included.

    39.742476 N 105.1786 W, 17 October 2003 12:30:30, zone -7, the clock turning with the earth; 820 mbar, 11 deg C.
    Refraction by equation 42 of that paper (from memory), as ours has none. 0.0003 deg for the height of the place.
    """
    bare = sun_altitude(ut("2003-10-17 19:30:30"), 39.742476 * DEG, -105.1786 * DEG) / DEG
    lifted = 820 / 1010 * 283 / (273 + 11) * 1.02 / (60 * math.tan((bare + 10.3 / (bare + 5.11)) * DEG))
    assert 90.0 - (bare + lifted) == pytest.approx(50.11162, abs=0.0004)


@pytest.mark.published
def test_sunrise_of_the_solar_position_algorithm() -> None:
    """Source: the same reference run: sunrise 06:12:43 local; 2 s between models.

    Its sunset, 17:20:19, is that of the day of Greenwich, so of the evening before: not to be had of 17 October.
    """
    place = 39.742476, -105.1786
    assert seconds(day(*place, "2003-10-17", -7.0).sunrise, ut("2003-10-17 13:12:43")) < 2.0
    assert seconds(day(*place, "2003-10-16", -7.0).sunset, ut("2003-10-17 00:20:19")) < 2.0
    assert seconds(day(*place, "2003-10-17", -7.0).sunset, ut("2003-10-18 00:20:19")) > 60.0


@pytest.mark.published
def test_declination_of_the_sun_in_a_worked_example() -> None:
    """Source: J. Meeus, Astronomical Algorithms, example 25.a: -7.78507 deg on 1992 October 13.0 dynamical time.

    At the pole the altitude is the declination, less 8.8" of parallax. The example's method is good to 0.01 deg.
    """
    found = sun_altitude(ut("1992-10-12 23:59:01"), 90 * DEG, 0.0) / DEG
    assert found + 8.8 / 3600 * math.cos(7.785 * DEG) == pytest.approx(-7.78507, abs=0.01)


@pytest.mark.published
def test_declination_and_distance_of_the_moon_in_a_worked_example() -> None:
    """Source: J. Meeus, Astronomical Algorithms, example 47.a: 13.768367 deg, 368 409.7 km on 1992 April 12.0.

    Dynamical time, UT + 59 s. Seen from the pole, 6356.752 km along the axis, the moon stands lower by its parallax:
    own arithmetic. To 0.001 deg, as that method is good for.
    """
    away, declination = 368_409.7, 13.768367 * DEG
    seen = math.atan2(away * math.sin(declination) - 6356.752, away * math.cos(declination)) / DEG
    assert moon_altitude(ut("1992-04-11 23:59:01"), 90 * DEG, 0.0) / DEG == pytest.approx(seen, abs=0.001)


@pytest.mark.published
@pytest.mark.parametrize(
    ("instant", "lit"),
    [("1977-02-18 03:36:54", 0.0), ("2044-01-21 23:46:50", 0.5), ("2018-09-16 23:15", 0.5), ("2018-09-25 02:52", 1.0)],
)
def test_the_moon_is_lit_as_the_phases_of_worked_examples_say(instant: str, lit: float) -> None:
    """Source: J. Meeus, Astronomical Algorithms, examples 49.a and 49.b; U.S. Naval Observatory, phases of 2018.

    Dynamical time less 48 s in 1977 and about 87 s in 2044. A phase is a longitude, not a lit part: (1 - cos 5)/2 =
    0.002 at new and full moon and 0.0013 at the quarters are left, as for the phases of 1940.
    """
    assert moon_lit(ut(instant)) == pytest.approx(lit, abs=0.003)


@pytest.mark.published
def test_sun_of_a_september_day_as_printed() -> None:
    """Source: U.S. Naval Observatory one-day data for Bluffton, Ohio, 12 September 2018 (in the tests of skyfield)."""
    found = day(40.8939, -83.8917, "2018-09-12", -4.0)
    assert seconds(found.sunrise, ut("2018-09-12 11:13")) < MINUTE
    assert seconds(found.sunset, ut("2018-09-12 23:50")) < MINUTE


@pytest.mark.published
@pytest.mark.parametrize("instant", ["2022-03-18 13:02", "2022-09-25 04:13"])
def test_at_the_pole_the_sun_rises_once_and_sets_once_in_the_year(instant: str) -> None:
    """Source: U.S. Naval Observatory, rise and set for the sun at 90 N, 2022.

    It climbs a minute of arc an hour there, so the height is checked: -50' to 0.15', 9 minutes of time.
    """
    assert sun_altitude(ut(instant), 90 * DEG, 0.0) / DEG * 60 == pytest.approx(-50.0, abs=0.15)


# Places and clocks at the edge


def test_at_the_pole_the_day_has_no_events_and_no_fault() -> None:
    """Limit case: on the pole sun and moon go round at one height."""
    found = day(90, 0, "1944-06-20")
    assert found.sunrise is None
    assert found.sunset is None
    assert darkness(ut("1944-06-20 12:00"), 90 * DEG, 0.0) is Darkness.DAY
    assert darkness(ut("1944-12-20 12:00"), 90 * DEG, 0.0) is Darkness.NIGHT


@pytest.mark.parametrize(("latitude", "date", "name"), [
    (72, "1944-06-20", Darkness.DAY), (-72, "1943-12-20", Darkness.DAY), (85, "1943-12-20", Darkness.NIGHT),
    (-85, "1944-06-20", Darkness.NIGHT),
])  # fmt: skip
def test_through_the_polar_day_and_night_it_is_as_light_at_noon_as_at_midnight(
    latitude: float, date: str, name: Darkness
) -> None:
    """From geometry: at 72 the midnight sun stands 5.4 deg up, at 85 the noon sun of midwinter 18.4 deg down."""
    for hour in range(0, 24, 3):
        assert darkness(ut(date) + dt.timedelta(hours=hour), latitude * DEG, 20 * DEG) is name


def test_a_moon_that_neither_rises_nor_sets_stays_up_or_down_all_day() -> None:
    """Constructed: 27 days at 78 N; on a day without either the moon is never on the other side of the horizon."""
    without = 0
    for date in range(27):
        start = ut("1944-03-01") + dt.timedelta(days=date)
        if moon_events(78 * DEG, 20 * DEG, start, start + dt.timedelta(days=1)):
            continue
        without += 1
        hours = [start + dt.timedelta(hours=hour) for hour in range(25)]
        up = {now.moon_altitude > -0.8 * DEG for now in skies(hours, [78 * DEG] * 25, [20 * DEG] * 25)}
        assert len(up) == 1
    assert without > 10


def test_a_zone_description_has_the_sign_the_other_way() -> None:
    """Constructed: the moonrise of 29 July 1945 is at 22:30 by a clock of zone description -9:30."""
    clocks = [dt.timedelta(seconds=read_zone(text)) for text in ("ZD -9:30", "+9:30")]
    latitude, longitude = read_position("12 02 N 134 48 E")
    rises = [light_of_day(latitude, longitude, dt.date(1945, 7, 29), clock).moonrise for clock in clocks]
    assert rises[0] == rises[1]
    assert rises[0] is not None
    assert f"{rises[0]:%H:%M}" == "22:30"


@pytest.mark.parametrize("hours", [-9.5, 4.5, 5.75, 10.5])
def test_clocks_with_half_hours_show_the_same_instants(hours: float) -> None:
    """Constructed: a clock moves the names of the times, not the sunrise; each lies within its own day."""
    found = day(30, hours * 15, "1943-05-05", hours)
    for time in (found.sunrise, found.sunset, found.civil_dawn, found.civil_dusk):
        assert time is not None
        assert time.date() == dt.date(1943, 5, 5)
        assert time.utcoffset() == dt.timedelta(hours=hours)
    noon = day(30, hours * 15, "1943-05-05", round(hours))
    assert seconds(found.sunrise, noon.sunrise or ut("1900-01-01")) < 0.5


@pytest.mark.parametrize(("latitude", "later"), [(15.0, 34.0), (50.0, 61.0)])
def test_from_60_feet_the_sun_sets_later_by_what_it_sinks_in_the_dip(latitude: float, later: float) -> None:
    """Own arithmetic: 7.5' over 15" a second times cos(latitude) cos(declination) sin(hour angle): 34 s and 61 s."""
    low, high = (day(latitude, 0.0, "1944-06-20", 0.0, eye) for eye in (0.0, 60 * 0.3048))
    assert low.sunset is not None
    assert high.sunset is not None
    assert (high.sunset - low.sunset).total_seconds() == pytest.approx(later, abs=1.0)


# Many instants at once


def test_the_sky_of_many_instants_is_that_of_each() -> None:
    """Second method: one by one, on both sides of the date line, of midnight and of the line."""
    instants = [ut("1942-06-04 20:00") + dt.timedelta(minutes=37.3 * i) for i in range(12)]
    latitudes = [(-40.0 + 8.0 * i) * DEG for i in range(12)]
    longitudes = [math.remainder(174.0 + i, 360.0) * DEG for i in range(12)]
    found = skies(instants, latitudes, longitudes)
    for i, now in enumerate(found):
        instant, latitude, longitude = instants[i], latitudes[i], longitudes[i]
        assert now.sun_altitude == pytest.approx(sun_altitude(instant, latitude, longitude), abs=1e-12)
        assert now.moon_altitude == pytest.approx(moon_altitude(instant, latitude, longitude), abs=1e-12)
        assert now.moon_lit == pytest.approx(moon_lit(instant), abs=1e-12)
        assert now.darkness is darkness(instant, latitude, longitude)
        alone = sky_at(instant, latitude, longitude)
        assert alone.sun_altitude == pytest.approx(now.sun_altitude, abs=1e-12)
        assert alone.moon_lit == pytest.approx(now.moon_lit, abs=1e-12)
        assert alone.darkness is now.darkness


def test_the_sky_of_no_instants_is_none_and_uneven_rows_are_refused() -> None:
    assert skies((), (), ()) == ()
    with pytest.raises(ValueError, match="equally many"):
        skies([ut("1944-06-19")], [0.0, 0.1], [0.0])
    with pytest.raises(ValueError, match="latitude"):
        skies([ut("1944-06-19")] * 2, [0.0, 2.0], [0.0, 0.0])
    with pytest.raises(ValueError, match="1900 to 2050"):
        sky_at(ut("1844-06-19"), 0.0, 0.0)


# Searches


@pytest.fixture
def searches(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What the library is asked to search for, from a clean start."""
    asked: list[str] = []
    for name in ("find_risings", "find_settings"):
        real = getattr(almanac, name)

        def counted(*args: Any, name: str = name, real: Any = real, **options: Any) -> Any:
            asked.append(name)
            return real(*args, **options)

        monkeypatch.setattr(almanac, name, counted)
    light._crossings.cache_clear()
    return asked


def test_the_light_of_a_place_and_date_is_searched_once(searches: list[str]) -> None:
    first = day(15, 145, "1944-06-19", 10.0)
    assert len(searches) == 10  # rising and setting of the sun, three twilights and the moon
    assert day(15, 145, "1944-06-19", 10.0) == first
    assert len(searches) == 10


def test_another_height_of_eye_repeats_no_search_for_twilight(searches: list[str]) -> None:
    day(15, 145, "1944-06-19", 10.0)
    day(15, 145, "1944-06-19", 10.0, eye=20.0)
    assert len(searches) == 14  # sun and moon over a lower horizon
    sun_events(15 * DEG, 145 * DEG, ut("1944-06-18 14:00"), ut("1944-06-19 14:00"))
    assert len(searches) == 14  # the same day by another clock


def test_another_place_date_or_clock_is_searched_anew(searches: list[str]) -> None:
    for i, found in enumerate((day(15, 145, "1944-06-19", 10.0), day(15.1, 145, "1944-06-19", 10.0),
                               day(15, 145, "1944-06-20", 10.0), day(15, 145, "1944-06-19", 9.5))):  # fmt: skip
        assert found.sunrise is not None, i
    assert len(searches) == 40
