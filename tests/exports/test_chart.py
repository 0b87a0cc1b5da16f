"""The chart of the day before it is any format: where ships, aeroplanes and moments are, and when."""

from __future__ import annotations

import dataclasses
import datetime as dt
import math
from itertools import pairwise

import pytest

from roundown.environment.light import Darkness
from roundown.exports.chart import Chart, Feature, Fix, Sort, chart_of
from roundown.exports.moments import NoMomentsError, dated_moments, light_words
from roundown.plan.facts import Day
from roundown.recovery.result import CircuitResult
from roundown.ship.day_track import DayTrack
from roundown.solution import Solution, Unsolved

Solved = tuple[Day, Solution]
CAUTION = "For simulation, teaching and history. Real operations follow the authority's manuals and licensed people."
DEG = math.pi / 180.0
YD = 0.9144  # m
DEMO_OFFSET, PACIFIC_OFFSET = 0.0, 11.5 * 3600.0


def of(chart: Chart, sort: Sort) -> list[Feature]:
    return [feature for feature in chart.features if feature.sort is sort]


def clock(day: Day, fix: Fix, offset: float) -> float:
    """What the ship's clock shows, from universal time: second method, without the day's own clock [s]."""
    midnight = dt.datetime.fromisoformat(f"{day.word('place.date')}T00:00:00+00:00")
    return (fix.instant - midnight).total_seconds() + offset


def apart(one: Fix, latitude: float, longitude: float) -> float:
    """On a sphere of the earth's mean radius, by haversines: second method [m]."""
    north, east = 0.5 * (latitude - one.latitude), 0.5 * (longitude - one.longitude)
    part = math.sin(north) ** 2 + math.cos(latitude) * math.cos(one.latitude) * math.sin(east) ** 2
    return 2.0 * 6_371_008.8 * math.asin(math.sqrt(part))


def track_of(solution: Solution) -> DayTrack:
    assert isinstance(solution.track, DayTrack)
    return solution.track


@pytest.mark.parametrize(("name", "offset"), [("evening", DEMO_OFFSET), ("pacific", PACIFIC_OFFSET)])
def test_the_guide_is_where_her_track_has_her(name: str, offset: float, request: pytest.FixtureRequest) -> None:
    day, solution = request.getfixturevalue(name)
    track, features = track_of(solution), of(chart_of(day, solution), Sort.GUIDE)
    for feature in features:
        for fix in feature.fixes:
            place = track.at(clock(day, fix, offset))
            assert apart(fix, place.latitude, place.longitude) < 0.01
    named = [feature.name.partition(": ")[2] for feature in features]
    assert named == [stretch.what.value for stretch in track.stretches][: len(named)]
    assert {"base course", "turning into the wind", "flight course"} <= set(named)


def test_each_stretch_begins_where_the_last_one_ended(evening: Solved) -> None:
    stretches = of(chart_of(*evening), Sort.GUIDE)
    assert stretches[0].fixes[0].instant == evening[0].start
    for before, after in pairwise(stretches):
        assert before.fixes[-1].instant == after.fixes[0].instant
        assert apart(before.fixes[-1], after.fixes[0].latitude, after.fixes[0].longitude) < 0.01
    assert all(b.instant > a.instant for feature in stretches for a, b in pairwise(feature.fixes))


def test_straight_lines_between_fixes_will_do(evening: Solved) -> None:
    """Second method: half-way between two fixes the chart is never more than 25 m off the track."""
    day, solution = evening
    for feature in of(chart_of(day, solution), Sort.GUIDE):
        for a, b in pairwise(feature.fixes):
            place = track_of(solution).at(0.5 * (clock(day, a, DEMO_OFFSET) + clock(day, b, DEMO_OFFSET)))
            middle = Fix(a.instant, 0.5 * (a.latitude + b.latitude), 0.5 * (a.longitude + b.longitude))
            assert apart(middle, place.latitude, place.longitude) < 25.0


def test_the_company_keeps_its_distance_while_the_guide_flies(evening: Solved) -> None:
    """Own arithmetic: the plane guard 1,200 yd off the port quarter, 165 deg off the bow, on the course flown."""
    day, solution = evening
    track = track_of(solution)
    found = {feature.key: feature for feature in of(chart_of(day, solution), Sort.COMPANY)}
    assert set(found) == {f"company.{ship}.{period}" for ship in ("Sextant", "Tern_Rock") for period in track.periods}
    for key, period in track.periods.items():
        fixes = found[f"company.Sextant.{key}"].fixes
        assert clock(day, fixes[0], DEMO_OFFSET) == pytest.approx(period.steady, abs=1e-3)
        assert clock(day, fixes[-1], DEMO_OFFSET) == pytest.approx(period.end, abs=1e-3)
        for fix in fixes:
            guide = track.at(clock(day, fix, DEMO_OFFSET))
            assert apart(fix, guide.latitude, guide.longitude) == pytest.approx(1200.0 * YD, rel=0.006)
            north = fix.latitude - guide.latitude
            east = (fix.longitude - guide.longitude) * math.cos(fix.latitude)
            assert math.remainder(math.atan2(east, north) - period.course + 165.0 * DEG, math.tau) == pytest.approx(
                0.0, abs=0.01
            )


@pytest.mark.parametrize(("name", "offset"), [("evening", DEMO_OFFSET), ("pacific", PACIFIC_OFFSET)])
def test_the_circuit_meets_the_moving_carrier_at_the_ramp(
    name: str, offset: float, request: pytest.FixtureRequest
) -> None:
    """Second method: the aeroplane's place over the earth at the ramp's instant is the carrier's own, by her track.

    The path is told each second, and closes on the ship at some 30 m/s: half a second is 15 m, with 5 m to spare.
    """
    day, solution = request.getfixturevalue(name)
    track = track_of(solution)
    circuits = of(chart_of(day, solution), Sort.CIRCUIT)
    assert circuits
    for feature in circuits:
        _, event, carrier, kind = feature.key.split(".")
        part = f"{carrier}.{kind}"
        circuit = (solution if part == day.part else solution.parts[part]).circuit
        assert isinstance(circuit, CircuitResult)
        recovery = solution.events[event].recovery
        assert recovery is not None
        assert clock(day, feature.fixes[0], offset) == pytest.approx(recovery, abs=1e-3)
        over_ramp = recovery + circuit.initial_to_break + circuit.break_to_ramp
        nearest = min(feature.fixes, key=lambda fix: abs(clock(day, fix, offset) - over_ramp))
        guide = track.at(clock(day, nearest, offset))
        off = solution.stations[carrier].distance if carrier != day.ship else 0.0
        assert apart(nearest, guide.latitude, guide.longitude) == pytest.approx(off, rel=0.006, abs=20.0)
        assert feature.fixes[0].height == pytest.approx(circuit.gates["initial"].height)


def test_each_carrier_and_type_that_comes_home_has_its_circuit(pacific: Solved) -> None:
    names = [feature.name.rpartition(": ")[2] for feature in of(chart_of(*pacific), Sort.CIRCUIT)]
    assert names == ["circuit of Ottery on Corbel", "circuit of Sallow on Lintel"]


def test_moments_are_the_timeline_at_the_guides_place(pacific: Solved) -> None:
    day, solution = pacific
    assert not isinstance(solution.timeline, Unsolved)
    moments = of(chart_of(day, solution), Sort.MOMENT)
    assert [feature.key for feature in moments] == [f"timeline.{key}" for key in solution.timeline]
    for feature, moment in zip(moments, solution.timeline.values(), strict=True):
        (fix,) = feature.fixes
        assert clock(day, fix, PACIFIC_OFFSET) == round(moment.time)
        assert (fix.latitude, fix.longitude) == (moment.latitude, moment.longitude)


def test_without_events_there_is_the_datum_with_the_first_aeroplane_at_the_initial(one_circuit: Solved) -> None:
    """Constructed: the plan's rule. The escort's 4,000 yd are kept."""
    day, solution = one_circuit
    chart = chart_of(day, solution)
    assert [feature.key for feature in chart.features] == ["company.Tern_Rock", "circuit.corbel.ottery", "datum"]
    escort, circuit, datum = chart.features
    assert datum.fixes == (Fix(day.start, -(31 + 40 / 60) * DEG, -(5 + 20 / 60) * DEG),)
    assert circuit.fixes[0].instant == escort.fixes[0].instant == day.start
    assert apart(escort.fixes[0], datum.fixes[0].latitude, datum.fixes[0].longitude) == pytest.approx(
        4000.0 * YD, rel=0.006
    )
    assert chart.missing == ()
    with pytest.raises(NoMomentsError, match=r"^There are no times to export: the plan names no event\.$"):
        dated_moments(day, solution)


def test_what_cannot_be_drawn_is_told(one_circuit: Solved, evening: Solved) -> None:
    """Constructed: results taken away."""
    day, solution = one_circuit
    chart = chart_of(day, dataclasses.replace(solution, circuit=Unsolved("the break is too near")))
    assert chart.missing == ("No circuit of Ottery on Corbel: the break is too near.",)
    assert chart.missing[0] in chart.about
    day, solution = evening
    lost = Unsolved("the sun does not settle")
    chart = chart_of(day, dataclasses.replace(solution, track=lost, timeline=lost))
    assert [feature.sort for feature in chart.features] == [Sort.PLACE]
    assert chart.missing == ("No track and no times: the sun does not settle.",)


def test_the_description_names_the_plan_and_cautions_once(evening: Solved) -> None:
    day, _ = evening
    about = chart_of(*evening).about
    assert about == f"{day.title}. Plan {day.hash}, datum 1949-03-17 16:00+00:00. {CAUTION}"


@pytest.mark.parametrize(
    ("darkness", "altitude", "said"),
    [
        (Darkness.DAY, 20.0, "day"),
        (Darkness.CIVIL, -1.5, "civil twilight, no moon"),
        (Darkness.NAUTICAL, -0.84, "nautical twilight, moon on the horizon, 0.43 of its disc lit"),
        (Darkness.NIGHT, 12.4, "night, moon 12 deg high, 0.43 of its disc lit"),
    ],
)
def test_light_in_words_names_the_moon_once_the_sun_is_down(
    evening: Solved, darkness: Darkness, altitude: float, said: str
) -> None:
    """Constructed. A moon that rises has its centre 0.84 deg below the horizon; it is not called absent."""
    timeline = evening[1].timeline
    assert not isinstance(timeline, Unsolved)
    moment = dataclasses.replace(timeline["datum"], darkness=darkness, moon_altitude=altitude * DEG, moon_lit=0.43)
    assert light_words(moment) == said
