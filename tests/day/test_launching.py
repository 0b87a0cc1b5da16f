"""The launch in the solved day: loads, spots, runs, times and findings."""

from __future__ import annotations

import dataclasses
import math
from importlib import resources
from itertools import pairwise

import pytest
from tests.day.conftest import DayOf

from roundown.day.deck_load import deck_loads
from roundown.day.launching import launch_the_day
from roundown.day.memory import Memory
from roundown.day.solve import solve
from roundown.documents import Document, parse_document
from roundown.errors import PlanError
from roundown.findings import Level
from roundown.launch.deck_run import deck_run
from roundown.launch.result import EventLaunch
from roundown.launch.spot import judged
from roundown.plan.facts import Day
from roundown.plan.read import day_of
from roundown.quantities import FOOT, KNOT
from roundown.solution import Solution, Unsolved

LARGER = (resources.files("roundown.plan") / "larger.toml").read_text("utf-8")
DEMO = (resources.files("roundown.plan") / "demo.toml").read_text("utf-8")


def day(text: str) -> Day:
    document = parse_document("plan.toml", text)
    assert isinstance(document, Document)
    return day_of(document)


def launch_of(solution: Solution, event: str) -> EventLaunch:
    found = solution.launches[event]
    assert isinstance(found, EventLaunch)
    return found


def ids(solution: Solution) -> list[str]:
    return [finding.id for finding in solution.findings]


# Loads


def test_launches_close_together_stand_on_deck_at_once() -> None:
    """Common practice, no source: the demo's second flight goes three minutes after the first, so eight are ranged."""
    today = day(DEMO)
    solution = solve(today)
    (stood,) = solution.spots
    assert stood.events == ("first_patrol", "second_patrol")
    assert [stood.sides[key] for key in stood.spotting.places] == ["11", "12", "13", "14", "21", "22", "23", "24"]
    numbers = [seat.number for event in solution.launches for seat in launch_of(solution, event).seats.values()]
    assert numbers == [1, 2, 3, 4, 5, 6, 7, 8]


def test_launches_far_apart_or_with_a_recovery_between_are_ranged_by_themselves(day_with: DayOf) -> None:
    second = '\n[[event]]\nname = "second"\nlaunch = "{}"\naeroplanes = {{ amber = 4 }}\n'
    apart = solve(day_with(second.format("14:00")))
    assert [stood.events for stood in apart.spots] == [("patrol",), ("second",)]
    between = solve(day_with(second.format("13:20"), recovery="13:10"))
    assert [stood.events for stood in between.spots] == [("patrol",), ("second",)]


def test_who_is_to_fly_twice_stands_on_deck_once(day_with: DayOf) -> None:
    again = '\n[[event]]\nname = "second"\nlaunch = "13:05"\nseats = ["11", "12"]\n'
    today = day_with(again)
    solution = solve(today)
    (load,) = deck_loads(today, solution.events)
    assert [seat.side for _, seat in load.seats] == ["11", "12", "13", "14"]


def test_each_carrier_has_a_deck_of_its_own() -> None:
    solution = solve(day(LARGER))
    assert [(stood.carrier, len(stood.load)) for stood in solution.spots] == [
        ("corbel", 10),
        ("corbel", 4),
        ("lintel", 4),
    ]
    assert set(solution.parts["lintel.sallow"].launches) == {"dawn_search"}
    strike = solution.parts["corbel.brindle"].launches["dawn_strike"]
    assert isinstance(strike, EventLaunch)
    assert [seat.number for seat in strike.seats.values()] == [5, 6, 7, 8, 9, 10]


# Runs


def test_every_seat_runs_from_the_spot_the_deck_leaves_it() -> None:
    """Second method: the runs are integrated again from the carrier's wind, the load and the spot drawn."""
    today = day(LARGER)
    solution = solve(today)
    assert solution.launch_flight is not None
    launched = launch_the_day(today, solution.launch_flight, solution.events, Memory())
    for row in launched.seated:
        made = row.launch
        assert made.run is not None
        assert made.spot is not None
        flight = launched.flights[row.day.ship]
        assert math.hypot(row.facts.wind_ahead, row.facts.wind_across) == pytest.approx(flight.over_deck)
        assert row.facts.run == made.spot.run_left
        again = deck_run(row.facts)
        assert made.run.distance == again.distance
        assert made.run.length_margin == pytest.approx(made.spot.run_left - (again.distance or math.nan))
        assert row.facts.aeroplane.mass == made.loaded.weight


def test_a_deck_spotted_again_from_its_places_leaves_the_same_runs() -> None:
    """Second method: the layout is judged anew from the places alone."""
    for stood in solve(day(LARGER)).spots:
        places = [(place.ahead, place.port) for place in stood.spotting.places.values()]
        again = judged(stood.load, stood.deck, stood.rules, places)
        assert [one.run_left for one in again.places.values()] == pytest.approx(
            [one.run_left for one in stood.spotting.places.values()]
        )


def test_a_ship_that_steams_in_a_calm_launches_as_one_that_lies_in_that_wind(day_with: DayOf) -> None:
    """Invariance: 25 kt of ship in a calm, and no ship's way in 25 kt of uniform wind, are the same deck run."""
    override = '\n[override.wind]\nover_deck = "25 kt"\nlaunch_over_deck = "25 kt"\n'
    own = (
        '\n[ships.raft]\nlabel = "Raft"\ndeck_height = "65 ft over sea"\ndeck_length = "838 ft"\ndeck_width = "94 ft"\n'
    )
    own += 'island_place = "430 ft ahead of ramp"\nleast_speed = "0 kt"\ngreatest_speed = "31 kt"\n'
    own += 'turning_circle = "1450 yd"\nspeed_gain = "5 kt/min"\n'
    steaming = solve(day_with(override + own, wind="calm", ship="raft", course="140"))
    lying = solve(day_with(override + own, wind="140/25 kt", ship="raft", speed="0 kt", course="140"))
    assert steaming.launch_flight is not None
    assert lying.launch_flight is not None
    assert steaming.launch_flight.speed == pytest.approx(25.0 * KNOT)
    assert lying.launch_flight.speed == pytest.approx(0.0, abs=1e-9)
    for one, other in zip(
        launch_of(steaming, "patrol").seats.values(), launch_of(lying, "patrol").seats.values(), strict=True
    ):
        assert one.run is not None
        assert other.run is not None
        assert one.run.distance == pytest.approx(other.run.distance, rel=1e-9)
        assert one.run.length_margin == pytest.approx(other.run.length_margin, rel=1e-9)


def test_a_heavier_load_of_one_squadron_needs_more_run_and_leaves_the_others_alone() -> None:
    light = solve(day(LARGER))
    heavy = solve(day(LARGER.replace('cobalt = { stores = "1160 lb" }', 'cobalt = { stores = "1740 lb" }')))
    for event in light.launches:
        for key, seat in launch_of(light, event).seats.items():
            run, other = seat.run, launch_of(heavy, event).seats[key].run
            assert run is not None
            assert other is not None
            assert run.distance == other.distance
    runs = []
    for solution in (light, heavy):
        strike = solution.parts["corbel.brindle"].launches["dawn_strike"]
        assert isinstance(strike, EventLaunch)
        run = strike.seats["51"].run
        assert run is not None
        assert run.distance is not None
        runs.append(run.distance)
    assert runs[1] > runs[0]


# Times


def test_take_offs_of_the_timeline_are_those_of_the_deck() -> None:
    for text in (DEMO, LARGER):
        solution = solve(day(text))
        for part in (solution, *solution.parts.values()):
            for event, made in part.launches.items():
                assert isinstance(made, EventLaunch)
                for key, seat in made.seats.items():
                    assert seat.take_off.off == pytest.approx(solution.events[event].seats[key].take_off)
                assert made.sequence.first_off == solution.events[event].launch


def test_a_deck_that_readies_them_slower_than_the_doctrine_sets_the_interval_and_the_ships_track(
    day_with: DayOf,
) -> None:
    """Own arithmetic: 40 s to taxi, 30 to spread, 20 to lock, one at a time: 90 s each, the last off after 270 s."""
    slow = '\n[override.launch]\ntaxi = "40 s"\nspread = "30 s"\nlock = "20 s"\nat_once = "1"\n'
    solution = solve(day_with(slow))
    assert solution.events["patrol"].last_off == 13 * 3600.0 + 270.0
    assert not isinstance(solution.track, Unsolved)
    assert solution.track.periods["patrol_launch"].end == 13 * 3600.0 + 280.0
    assert "deck-too-slow" in ids(solution)


def test_catapulted_ones_keep_the_catapults_interval(day_with: DayOf) -> None:
    """Own arithmetic: two catapults at 60 s a shot are 30 s from one to the next; then 25 s for each run."""
    plan = 'recovery = "15:00"\ncatapult = ["11", "12"]'
    today = day_with()
    assert today.events[0].catapult == ()
    text = next(document.text for document in today.documents).replace('recovery = "15:00"', plan)
    solution = solve(day(text))
    made = launch_of(solution, "patrol")
    offs = [seat.take_off.off for seat in made.seats.values()]
    assert [later - earlier for earlier, later in pairwise(offs)] == [30.0, 25.0, 25.0]
    shot = made.seats["11"].shot
    assert made.seats["11"].run is None
    assert shot is not None
    assert shot.bow_airspeed == pytest.approx(102.0 * KNOT, rel=1e-3)
    assert made.seats["13"].shot is None


def test_a_ship_without_a_catapult_runs_them_and_says_so(day_with: DayOf) -> None:
    text = next(document.text for document in day_with(ship="corbel").documents)
    own = (
        '\n[ships.raft]\nlabel = "Raft"\ndeck_height = "65 ft over sea"\ndeck_length = "838 ft"\ndeck_width = "94 ft"\n'
    )
    own += 'island_place = "430 ft ahead of ramp"\nleast_speed = "6 kt"\ngreatest_speed = "31 kt"\n'
    own += 'turning_circle = "1450 yd"\nspeed_gain = "5 kt/min"\n'
    text = text.replace('name = "corbel"', 'name = "raft"') + 'catapult = ["11"]\n' + own
    solution = solve(day(text))
    finding = next(each for each in solution.findings if each.id == "no-catapult")
    assert finding.level is Level.STOP
    assert "11" in finding.value
    assert "Raft" in finding.limit
    assert launch_of(solution, "patrol").seats["11"].run is not None


def test_the_next_recovery_waits_for_a_clear_deck(day_with: DayOf) -> None:
    slow = '\n[override.launch]\nrig = "40 min"\n'
    assert "prep-charlie-late" in ids(solve(day_with(slow, recovery="13:30")))
    assert "prep-charlie-late" not in ids(solve(day_with(slow, recovery="14:30")))


# Findings


def test_a_run_too_short_is_told_once_for_all_with_what_mends_it(day_with: DayOf) -> None:
    """In a calm with a slow deck: the remedy's wind, put in the plan, does close it."""
    weak = '\n[override.wind]\nlaunch_over_deck = "5 kt"\nover_deck = "5 kt"\n'
    solution = solve(day_with(weak, wind="calm"))
    (finding,) = [each for each in solution.findings if each.id == "run-short"]
    assert finding.level is Level.STOP
    assert "12, 13 and 14 too" in finding.value or "too)" in finding.value
    wind = finding.remedy.split(" kt")[0].split()[-1]
    mended = weak.replace('launch_over_deck = "5 kt"', f'launch_over_deck = "{wind} kt"')
    after = solve(day_with(mended, wind="calm"))
    assert not {"run-short", "run-thin"} & set(ids(after))
    less = weak.replace('launch_over_deck = "5 kt"', f'launch_over_deck = "{int(wind) - 1} kt"')
    assert {"run-short", "run-thin"} & set(ids(solve(day_with(less, wind="calm"))))


def test_wrong_order_is_told_with_the_order_that_would_do() -> None:
    """Constructed: heavy ones in front of light ones on a short deck; the order given by the remedy mends it."""
    asked = LARGER[LARGER.index("aeroplanes = { amber = 4, cobalt") : LARGER.index('\n\n[[event]]\nname = "noon')]
    sides = ", ".join(f'"{side}"' for side in (51, 52, 53, 54, 55, 56, 11, 12, 13, 14))
    assert asked in LARGER
    text = LARGER.replace(asked, f'seats = [{sides}]\nloading = {{ amber = {{ fuel = "300 lb", stores = "0 lb" }} }}')
    text = text.replace('surface_wind = "115/14 kt"', 'surface_wind = "calm"')
    text = text.replace("[cockpit]", '[override.wind]\nlaunch_over_deck = "12 kt"\nover_deck = "12 kt"\n\n[cockpit]')
    (finding,) = [each for each in solve(day(text)).findings if each.id == "run-short" and "corbel" in each.key]
    assert finding.limit.endswith(
        "not enough with those in front that need least"
    )  # tried on the deck: it does not close
    enough = text.replace('launch_over_deck = "12 kt"', 'launch_over_deck = "18 kt"')
    (finding,) = [each for each in solve(day(enough)).findings if each.id == "spot-run-short"]
    order = finding.remedy[finding.remedy.index("[") : finding.remedy.index("]") + 1]
    assert order.index('"11"') < order.index('"51"')
    after = ids(solve(day(enough.replace(f"seats = [{sides}]", f"seats = {order}"))))
    assert "spot-run-short" not in after


@pytest.mark.parametrize("second", ["sunset - 110 min", "sunset - 109 min"])
def test_launches_that_run_into_one_another_off_one_deck_are_a_stop(second: str) -> None:
    """Own arithmetic: four at 25 s take 75 s and the fifth goes after 100 s: the remedy's time closes it."""
    text = DEMO.replace('launch = "sunset - 107 min"', f'launch = "{second}"  # the second')
    (finding,) = [each for each in solve(day(text)).findings if each.id == "launches-overlap"]
    assert finding.level is Level.STOP
    time = finding.remedy.split(" at ")[1].split(" ")[0]
    mended = text.replace(f'launch = "{second}"  # the second', f'launch = "{time}"')
    assert "launches-overlap" not in ids(solve(day(mended)))
    assert "launches-overlap" not in ids(solve(day(DEMO)))


def test_a_catapult_does_not_let_the_next_event_off_at_the_same_moment() -> None:
    text = DEMO.replace('stores = "240 lb"  ', 'catapult = ["11", "12", "13", "14"]\nstores = "240 lb"  ')
    assert "catapult" in text
    found = ids(solve(day(text.replace('name = "corbel"', 'name = "lintel"'))))
    assert "launches-overlap" in found


def test_a_remedy_names_no_wind_the_ship_cannot_have(day_with: DayOf) -> None:
    """The small carrier's 19.5 kt in a calm are all there is."""
    override = '\n[override.wind]\nlaunch_over_deck = "19 kt"\nover_deck = "19 kt"\n'
    solution = solve(day_with(override, wind="calm", ship="lintel"))
    finding = next(each for each in solution.findings if each.id in {"run-short", "run-thin"})
    assert "over the deck" not in finding.remedy
    assert "load it" in finding.remedy.lower()


def test_two_sides_with_one_key_are_complained_of() -> None:
    with pytest.raises(PlanError, match="two seats of one side number"):
        day(DEMO.replace('side = "12"', 'side = "1 1"').replace('side = "13"', 'side = "1.1"'))


def test_a_launch_line_off_the_deck_is_a_stop(day_with: DayOf) -> None:
    found = list(solve(day_with('\n[override.spot]\nline = "60 ft"\n')).findings)
    assert "spot-line-off-deck" in {each.id for each in found}


def test_a_type_without_keys_for_the_launch_says_which_and_the_day_goes_on() -> None:
    text = (resources.files("roundown.catalog.data") / "aeroplanes.toml").read_text("utf-8")
    table = text[text.index("[types.ottery]") : text.index("[types.ottery.launch]")].replace("ottery", "plain", 1)
    solution = solve(day(DEMO.replace('type = "ottery"', 'type = "plain"') + "\n" + table))
    found = solution.launches["first_patrol"]
    assert isinstance(found, Unsolved)
    assert "launch." in found.reason
    assert solution.events["first_patrol"].last_off is not None
    assert solution.spots == ()
    assert "launch-not-worked-out" in ids(solution)


def test_pinned_places_stand_and_bad_ones_are_stops(day_with: DayOf) -> None:
    text = next(document.text for document in day_with().documents)
    good = solve(day(text + 'spots = { "14" = { ahead = "300 ft", port = "-10 ft" } }\n'))
    spot = launch_of(good, "patrol").seats["14"].spot
    assert spot is not None
    assert spot.pinned
    assert (spot.ahead, spot.port) == pytest.approx((300 * FOOT, -10 * FOOT))
    bad = solve(day(text + 'spots = { "14" = { ahead = "430 ft", port = "-38 ft" } }\n'))
    finding = next(each for each in bad.findings if each.id == "spot-pin-near")
    assert finding.level is Level.STOP
    assert "island" in finding.value
    assert finding.key.startswith("launches.patrol.seats.14.")


def test_forty_of_a_kind_make_no_more_findings_than_four() -> None:
    """Ten minutes: one line a trouble, whoever has it."""
    roster = ",\n".join(f'  {{ side = "{100 + i}" }}' for i in range(40))
    start, end = DEMO.index("roster = ["), DEMO.index("]\n", DEMO.index("roster = [")) + 2
    text = DEMO[:start] + f"roster = [\n{roster}\n]\n" + DEMO[end:]
    text = text.replace("aeroplanes = { amber = 4 }", "aeroplanes = { amber = 20 }")
    solution = solve(day(text))
    assert len([each for each in solution.findings if each.key.startswith("launches.")]) <= 4
    assert all(len(each.value) < 200 for each in solution.findings if each.key.startswith("launches."))


def test_the_same_plan_gives_the_same_launch_twice() -> None:
    """The same plan gives the same launch twice, from another memory."""
    first, second = (solve(day(LARGER)) for _ in range(2))
    assert {key: figure.value for key, figure in first.figures.items()} == {
        key: figure.value for key, figure in second.figures.items()
    }
    assert dataclasses.asdict(first.findings[0]) == dataclasses.asdict(second.findings[0])
