"""Sun, moon and twilight: published tables, a second library, days without an event, and clocks of every kind."""

from __future__ import annotations

import datetime as dt
import itertools
import math
from pathlib import Path

import ephem
import numpy as np
import pytest

from roundown.environment.light import (
    Darkness,
    Event,
    Light,
    Sky,
    darkness,
    light_of_day,
    moon_altitude,
    moon_events,
    moon_lit,
    sun_altitude,
    sun_events,
)

DEG = math.pi / 180.0
TABLE = Path(__file__).parents[1] / "files" / "moon-1944-e103-s61.txt"
MINUTE = 60.0  # s, of a time printed to the minute: 30 s of rounding and a few of model
UT = dt.timedelta(0)


def ut(text: str) -> dt.datetime:
    return dt.datetime.fromisoformat(text).replace(tzinfo=dt.UTC)


def seconds(found: dt.datetime | None, printed: dt.datetime) -> float:
    assert found is not None
    return abs((found - printed).total_seconds())


def day(latitude: float, longitude: float, date: str, hours: float = 0.0, eye: float = 0.0) -> Light:
    zone = dt.timedelta(hours=hours)
    return light_of_day(latitude * DEG, longitude * DEG, dt.date.fromisoformat(date), zone, eye)


def year_of_moons() -> list[Event]:
    """The printed year, row by row."""
    events = []
    for row in TABLE.read_text("utf-8").splitlines()[3:]:
        for month in range(12):
            for column, sky in ((4, Sky.MOONRISE), (9, Sky.MOONSET)):
                time = row[column + 11 * month : column + 4 + 11 * month].strip()
                if time:
                    date = dt.datetime(1944, month + 1, int(row[:2]), int(time[:2]), int(time[2:]), tzinfo=dt.UTC)
                    events.append(Event(sky, date))
    return sorted(events, key=lambda event: event.instant)


# Published


@pytest.mark.published
def test_every_moonrise_and_moonset_of_1944_as_printed() -> None:
    """Source: U.S. Naval Observatory, Rise and Set for the Moon for 1944, E103 S61, universal time.

    Copy in the open repository cosinekitty/astronomy. 708 events, printed to the minute, none missing and none too
    many; the mean difference shows a clock that is not universal time (15 s in 1944) where one event would not.
    """
    printed = year_of_moons()
    found = moon_events(-61 * DEG, 103 * DEG, ut("1944-01-01"), ut("1945-01-01"))
    assert len(printed) == 708
    assert [event.sky for event in found] == [event.sky for event in printed]
    apart = [(a.instant - b.instant).total_seconds() for a, b in zip(found, printed, strict=True)]
    assert max(map(abs, apart)) < 40.0
    assert abs(sum(apart) / len(apart)) < 2.0  # 17.3 s / sqrt(708) = 0.65 s is what rounding alone leaves


@pytest.mark.published
@pytest.mark.parametrize(
    ("date", "rise", "set_"), [("1944-02-11", "14:05", ""), ("1944-01-13", "15:30", ""), ("1944-04-22", "", "10:10")]
)
def test_a_day_may_lack_a_moonrise_or_a_moonset(date: str, rise: str, set_: str) -> None:
    """Source: U.S. Naval Observatory, Rise and Set for the Moon for 1944, E103 S61: blank columns."""
    found = day(-61, 103, date)
    for time, printed in ((found.moonrise, rise), (found.moonset, set_)):
        if printed:
            assert seconds(time, ut(f"{date} {printed}")) < MINUTE
        else:
            assert time is None


@pytest.mark.published
@pytest.mark.parametrize(
    ("latitude", "longitude", "date", "name", "printed"),
    [
        (60, 0, "2019-01-01", "sunrise", "09:02"),
        (60, 0, "2019-01-01", "sunset", "15:05"),
        (60, 0, "2019-06-21", "sunrise", "02:36"),
        (60, 0, "2019-06-21", "sunset", "21:28"),
        (60, 0, "2019-12-22", "sunrise", "09:02"),
        (60, 0, "2019-12-22", "sunset", "14:55"),
        (29, -81, "2019-03-20", "sunrise", "11:28"),
        (29, -81, "2019-03-20", "sunset", "23:35"),
        (29, -81, "2019-12-07", "sunset", "22:26"),
        (-60, -150, "2019-12-22", "sunset", "07:24"),
        (29, -81, "2019-02-19", "moonset", "12:06"),
        (29, -81, "2019-02-19", "moonrise", "23:33"),
    ],
)
def test_sun_and_moon_of_2019_as_printed(latitude: float, longitude: float, date: str, name: str, printed: str) -> None:
    """Source: U.S. Naval Observatory, yearly rise and set tables for 2019, UT (copies in cosinekitty/astronomy)."""
    assert seconds(getattr(day(latitude, longitude, date), name), ut(f"{date} {printed}")) < MINUTE


@pytest.mark.published
def test_twilights_of_a_november_day_as_printed() -> None:
    """Source: U.S. Naval Observatory one-day data for Defiance, Ohio, 8 November 2019, as in the tests of skyfield."""
    place = 41.281944 * DEG, -84.362778 * DEG
    found = {event.sky: event.instant for event in sun_events(*place, ut("2019-11-08 05:00"), ut("2019-11-09 05:00"))}
    for sky, printed in (
        (Sky.ASTRONOMICAL_DAWN, "10:42"),
        (Sky.NAUTICAL_DAWN, "11:15"),
        (Sky.SUNRISE, "12:17"),
        (Sky.SUNSET, "22:25"),
        (Sky.CIVIL_DUSK, "22:54"),
        (Sky.ASTRONOMICAL_DUSK, "23:59"),
    ):
        assert seconds(found[sky], ut(f"2019-11-08 {printed}")) < MINUTE


@pytest.mark.published
def test_sunset_before_the_landings_of_june_1944() -> None:
    """Source: D. W. Olson, Sky & Telescope (web), June 2019: sunset 5 June 1944, Normandy, 22:01 double summer time.

    Place 49.25 N 0.2667 W as used by an open project that reproduces the figure.
    """
    found = day(49.25, -0.2667, "1944-06-05", 2.0)
    assert seconds(found.sunset, ut("1944-06-05 20:01")) < MINUTE
    assert found.sunset is not None
    assert found.sunset.utcoffset() == dt.timedelta(hours=2)


@pytest.mark.published
def test_the_full_moon_of_that_night_rose_before_sunset_and_set_after_sunrise() -> None:
    """Source: report of D. W. Olson's work in Eos Wetenschap, 2019: shortly before sunset, shortly after sunrise."""
    evening, morning = day(49.25, -0.2667, "1944-06-05"), day(49.25, -0.2667, "1944-06-06")
    assert evening.moonrise is not None
    assert evening.sunset is not None
    assert morning.sunrise is not None
    assert morning.moonset is not None
    assert evening.moonrise < evening.sunset
    assert morning.sunrise < morning.moonset
    assert morning.moon_lit > 0.99


@pytest.mark.published
def test_a_half_hour_zone_gives_the_moonrise_the_ship_saw() -> None:
    """Source: P. Shingleton, The Advocate, 29 July 2013, after Olson, Doescher & Johns, Sky & Telescope, July 2002.

    Moonrise 10:30 p.m. on 29 July 1945, Philippine Sea (12.03 N 134.80 E from memory), clock 9 1/2 h ahead. The moon
    was "three-quarter" (New York Times, 16 July 2002): to 0.02, as such a word allows.
    """
    found = day(12.03, 134.80, "1945-07-29", 9.5)
    assert seconds(found.moonrise, ut("1945-07-29 13:00")) < MINUTE
    assert found.moonrise is not None
    assert f"{found.moonrise:%d %H:%M}" == "29 22:30"
    assert moon_lit(ut("1945-07-29 15:00")) == pytest.approx(0.75, abs=0.02)


@pytest.mark.published
def test_moonrise_of_a_licence_examination() -> None:
    """Source: U.S. licence question worked at nauticalinformation.blogspot.com, October 2007: 0057 on 30 January 1981.

    22-52.2 S 159-46.3 E, clock 11 h ahead of Greenwich.
    """
    found = day(-22 - 52.2 / 60, 159 + 46.3 / 60, "1981-01-30", 11.0)
    assert seconds(found.moonrise, ut("1981-01-29 13:57")) < MINUTE


@pytest.mark.published
@pytest.mark.parametrize(
    ("instant", "lit"),
    [
        ("1940-01-02 04:56", 0.5), ("1940-01-09 13:53", 0.0), ("1940-01-17 18:21", 0.5), ("1940-01-24 23:22", 1.0),
        ("1940-06-27 18:13", 0.5), ("1940-07-05 11:28", 0.0), ("1940-07-12 06:35", 0.5), ("1950-01-04 07:48", 1.0),
        ("1950-01-11 10:31", 0.5), ("1950-01-18 07:59", 0.0),
    ],
)  # fmt: skip
def test_the_moon_is_lit_as_its_printed_phase_says(instant: str, lit: float) -> None:
    """Source: U.S. Naval Observatory, phases of the moon for 1940 and 1950 (copy in cosinekitty/astronomy).

    A phase is a longitude, not a lit part: 5 degrees of latitude leave (1 - cos 5)/2 = 0.002 at new and full moon, and
    light and shade part at right angles 0.15 degrees off at the quarters (0.0013).
    """
    assert moon_lit(ut(instant)) == pytest.approx(lit, abs=0.003)


@pytest.mark.published
def test_lit_part_of_ten_nights_as_printed() -> None:
    """Source: U.S. Naval Observatory, fraction of the moon illuminated, 9-18 September 2018 (in the tests of skyfield).

    05:00 UT; half of the last printed digit and 0.0005.
    """
    for i, printed in enumerate((0.0, 0.0, 0.03, 0.08, 0.15, 0.24, 0.33, 0.43, 0.52, 0.62)):
        assert moon_lit(ut(f"2018-09-{9 + i:02d} 05:00")) == pytest.approx(printed, abs=0.0055)


@pytest.mark.published
def test_lit_part_of_a_worked_example() -> None:
    """Source: J. Meeus, Astronomical Algorithms, example 48.a: 0.68 on 1992 April 12.0, dynamical time (UT + 59 s)."""
    assert moon_lit(ut("1992-04-11 23:59:01")) == pytest.approx(0.68, abs=0.005)


# Second method


def other(event: Sky, place: tuple[float, float], start: dt.datetime, dip: float = 0.0) -> dt.datetime:
    """The next such event by the library ephem, whose dates are universal time."""
    observer = ephem.Observer()
    observer.lat, observer.lon = place
    observer.pressure = 0
    observer.date = start.replace(tzinfo=None)
    depression = {"civil": 6.0, "nautical": 12.0, "astronomical": 18.0}.get(event.value.split()[0])
    observer.horizon = -(depression or 34.0 / 60.0 + dip / DEG) * DEG
    body = ephem.Moon() if event in (Sky.MOONRISE, Sky.MOONSET) else ephem.Sun()
    rising = event.value.endswith(("rise", "dawn"))
    find = observer.next_rising if rising else observer.next_setting
    found: dt.datetime = find(body, use_center=depression is not None).datetime()
    return found.replace(tzinfo=dt.UTC)


def test_times_agree_with_another_library() -> None:
    """Second method: ephem, 40 places and days of 1941 to 1953; 3 s for the sun's varying semidiameter, 2 s else."""
    chance = np.random.default_rng(1944)
    for _ in range(40):
        place = math.asin(chance.uniform(-0.7, 0.7)), chance.uniform(-math.pi, math.pi)
        start = ut("1941-01-01") + dt.timedelta(days=int(chance.integers(4700)))
        for event in (*sun_events(*place, start, start + dt.timedelta(days=1)),
                      *moon_events(*place, start, start + dt.timedelta(days=1))):  # fmt: skip
            allowed = 5.0 if event.sky in (Sky.SUNRISE, Sky.SUNSET) else 2.0
            assert seconds(event.instant, other(event.sky, place, start)) < allowed, (place, event)


@pytest.mark.parametrize("year", [1900, 1917, 1962, 1975, 2000, 2024])
def test_times_agree_with_another_library_over_the_century(year: int) -> None:
    """Second method: ephem; 3 s more for the delta-T of its own."""
    start = dt.datetime(year, 3, 3, tzinfo=dt.UTC)
    for event in sun_events(0.3, 2.5, start, start + dt.timedelta(days=1)):
        assert seconds(event.instant, other(event.sky, (0.3, 2.5), start)) < 8.0


def test_from_a_height_sun_and_moon_rise_earlier_and_set_later_and_twilight_stays() -> None:
    """Second method: ephem with its horizon lowered by 0.97' for the root of 1000 ft."""
    low, high = day(15, 145, "1944-06-19", 10.0), day(15, 145, "1944-06-19", 10.0, eye=304.8)
    dip, start = 0.97 * math.sqrt(1000.0) / 60.0 * DEG, ut("1944-06-18 14:00")
    for name, sky in (
        ("sunrise", Sky.SUNRISE), ("sunset", Sky.SUNSET), ("moonrise", Sky.MOONRISE), ("moonset", Sky.MOONSET)
    ):  # fmt: skip
        assert seconds(getattr(high, name), other(sky, (15 * DEG, 145 * DEG), start, dip)) < 6.0
        later = (getattr(high, name) - getattr(low, name)).total_seconds()
        assert (later < -60.0) if name.endswith("rise") else (later > 60.0)
    assert high.civil_dusk == low.civil_dusk
    assert high.nautical_dawn == low.nautical_dawn


def test_altitudes_agree_with_another_library() -> None:
    """Second method: ephem without refraction, to 0.005 degrees."""
    observer = ephem.Observer()
    observer.lat, observer.lon, observer.pressure = 15 * DEG, 145 * DEG, 0
    for hour in range(0, 24, 3):
        instant = ut("1944-06-19") + dt.timedelta(hours=hour)
        observer.date = instant.replace(tzinfo=None)
        assert sun_altitude(instant, 15 * DEG, 145 * DEG) == pytest.approx(ephem.Sun(observer).alt, abs=0.005 * DEG)
        assert moon_altitude(instant, 15 * DEG, 145 * DEG) == pytest.approx(ephem.Moon(observer).alt, abs=0.005 * DEG)


def test_at_its_rising_the_moon_stands_where_refraction_and_its_size_put_it() -> None:
    """Own arithmetic: centre 34' and a semidiameter of 14.7' to 16.8' below the horizon."""
    for event in moon_events(0.5, 1.0, ut("1944-03-01"), ut("1944-03-29")):
        assert 48.6 < -moon_altitude(event.instant, 0.5, 1.0) / DEG * 60 < 50.9


# Days without an event


def test_where_the_sun_stays_up_nothing_of_it_happens() -> None:
    """From geometry: at 72 N in June the midnight sun stands 90 - 72 - 23.4 = 5.4 degrees above the horizon."""
    found = day(72, 20, "1944-06-20", 1.0)
    assert [found.sunrise, found.sunset, found.civil_dawn, found.civil_dusk, found.nautical_dusk] == [None] * 5
    assert darkness(ut("1944-06-20 23:00"), 72 * DEG, 20 * DEG) is Darkness.DAY


def test_in_the_polar_night_there_is_twilight_without_a_sunrise() -> None:
    """From geometry: at 72 N in December the noon sun stands 90 - 72 - 23.4 = -5.4 degrees: civil twilight."""
    found = day(72, 20, "1943-12-20", 1.0)
    assert found.sunrise is None
    assert found.sunset is None
    assert found.civil_dawn is not None
    assert found.civil_dusk is not None
    assert darkness(ut("1943-12-20 10:40"), 72 * DEG, 20 * DEG) is Darkness.CIVIL


def test_a_northern_summer_night_is_never_quite_dark() -> None:
    """From geometry: at 55 N in June the sun sinks to 90 - 55 - 23.4 = 11.6 degrees: never past nautical twilight."""
    events = {event.sky for event in sun_events(55 * DEG, -20 * DEG, ut("1943-06-20"), ut("1943-06-22"))}
    assert events == {Sky.SUNRISE, Sky.SUNSET, Sky.CIVIL_DAWN, Sky.CIVIL_DUSK}
    assert darkness(ut("1943-06-21 01:20"), 55 * DEG, -20 * DEG) is Darkness.NAUTICAL


# Clocks


def test_days_on_end_hold_every_event_once() -> None:
    """Constructed: a month cut at each midnight of a clock that is 9 1/2 h behind gives the month in one piece."""
    zone = dt.timezone(dt.timedelta(hours=-9.5))
    place, first = (35 * DEG, 170 * DEG), dt.datetime(1942, 6, 1, tzinfo=zone)
    days = [first + dt.timedelta(days=i) for i in range(31)]
    for search in (sun_events, moon_events):
        whole = search(*place, days[0], days[-1])
        parts = [event for a, b in itertools.pairwise(days) for event in search(*place, a, b)]
        assert [event.sky for event in parts] == [event.sky for event in whole]
        assert all(seconds(a.instant, b.instant) < 0.5 for a, b in zip(parts, whole, strict=True))


def test_the_zone_day_is_searched_not_the_day_of_greenwich() -> None:
    """Constructed: in the western Pacific the sunrise of a day is on the day before at Greenwich."""
    sunrise = day(15, 145, "1944-06-19", 10.0).sunrise
    assert sunrise is not None
    assert (sunrise.date(), sunrise.astimezone(dt.UTC).date()) == (dt.date(1944, 6, 19), dt.date(1944, 6, 18))


def test_both_sides_of_the_date_line_see_the_same_sun() -> None:
    """From geometry: 180 E with a clock 12 h ahead and 180 W with one 12 h behind differ by the date alone."""
    east, west = day(20, 180, "1942-06-20", 12.0), day(20, -180, "1942-06-19", -12.0)
    for name in ("sunrise", "sunset", "civil_dawn", "nautical_dusk", "moonrise", "moonset"):
        assert seconds(getattr(east, name), getattr(west, name)) < 0.01


def test_a_dusk_past_midnight_belongs_to_the_day_it_falls_on() -> None:
    """Constructed: a clock hours ahead of the sun's; each time lies in its own day and differs from the next day's."""
    found, after = day(15, 145, "1944-06-19", 14.0), day(15, 145, "1944-06-20", 14.0)
    assert found.sunset is not None
    assert found.nautical_dusk is not None
    assert after.nautical_dusk is not None
    assert found.sunset.day == 19
    assert found.nautical_dusk.day == 19
    assert found.nautical_dusk.hour == 23
    wrapped = day(15, 145, "1944-06-19", -9.5)
    assert wrapped.nautical_dusk is not None
    assert wrapped.sunset is not None
    assert wrapped.nautical_dusk < wrapped.sunset


def test_darkness_changes_at_the_events_and_in_their_order() -> None:
    """Constructed: a minute before and after each event of an evening and morning."""
    place, order = (15 * DEG, 145 * DEG), list(Darkness)
    events = sun_events(*place, ut("1944-06-19 06:00"), ut("1944-06-20 00:00"))
    assert [event.sky for event in events] == [
        Sky.SUNSET, Sky.CIVIL_DUSK, Sky.NAUTICAL_DUSK, Sky.ASTRONOMICAL_DUSK,
        Sky.ASTRONOMICAL_DAWN, Sky.NAUTICAL_DAWN, Sky.CIVIL_DAWN, Sky.SUNRISE,
    ]  # fmt: skip
    for i, event in enumerate(events):
        before, after = (darkness(event.instant + dt.timedelta(minutes=m), *place) for m in (-1, 1))
        assert order.index(after) - order.index(before) == (1 if i < 4 else -1)


def test_the_first_and_last_days_are_known_on_every_clock() -> None:
    for date in ("1900-01-01", "2050-12-31"):
        for hours in (-12.0, 14.0):
            assert day(10, 10, date, hours).sunrise is not None


def test_what_cannot_be_known_is_refused() -> None:
    with pytest.raises(ValueError, match="1900 to 2050"):
        day(0, 0, "1890-01-01")
    with pytest.raises(ValueError, match="1900 to 2050"):
        day(0, 0, "2051-02-01")
    with pytest.raises(ValueError, match="offset"):
        sun_altitude(dt.datetime(1944, 6, 19), 0.0, 0.0)  # noqa: DTZ001 - the naive instant is the point
    with pytest.raises(ValueError, match="latitude"):
        day(91, 0, "1944-06-19")
    with pytest.raises(ValueError, match="latitude"):
        sun_altitude(ut("1944-06-19"), math.nan, 0.0)
