"""What each phase is handed: facts taken from the day's givens, in SI."""

from __future__ import annotations

import numpy as np

from roundown.environment.compass import compass, magnetic
from roundown.environment.wind import WindTable, velocity
from roundown.figures import Given
from roundown.launch.of_type import dial_card
from roundown.motion.aeroplane import Aeroplane
from roundown.motion.equations.kernel import Floats
from roundown.plan.facts import Day
from roundown.quantities import AHEAD_OF_BOW, AHEAD_OF_ISLAND, AHEAD_OF_RAMP, DEGREE
from roundown.recovery.facts import CircuitFacts
from roundown.schedule.clock import ShipClock

SEA_PROFILE_TOP = 100.0  # m, as far as the power law of environment/wind.py holds


def wind_rows(day: Day) -> Floats:
    """The day's wind by height: rows of height [m], east and north, where the air goes [m/s]."""
    east, north = velocity(day.number("weather.wind_from"), day.number("weather.wind_speed"))
    rows = [(10.0, east, north)]
    level = 1
    while f"weather.winds.{level}.height" in day.givens:
        stem = f"weather.winds.{level}"
        aloft = velocity(day.number(f"{stem}.from"), day.number(f"{stem}.speed"))
        rows.append((day.number(f"{stem}.height"), *aloft))
        level += 1
    if level == 1 and day.word("weather.wind_profile") == "sea":
        table = WindTable.sea_profile(east, north, SEA_PROFILE_TOP)
        return np.column_stack([table.height, table.east, table.north])
    return np.array(rows)


def circuit_facts(day: Day, winds: Floats, course: float, speed: float) -> CircuitFacts:
    """What the circuit is solved from, for a ship on a course [rad] at a speed [m/s]."""
    given = {
        name.removeprefix("doctrine.circuit."): value
        for name, value in day.givens.items()
        if name.startswith("doctrine.circuit.")
    }
    place = given["break_place"]
    datum, datum_ahead = {
        AHEAD_OF_BOW: ("bow", day.number("ship.deck_length")),
        AHEAD_OF_ISLAND: ("island", day.number("ship.island_place")),
    }.get(place.kind or AHEAD_OF_RAMP, ("ramp", 0.0))
    return CircuitFacts(
        ship_course=course,
        ship_speed=speed,
        deck_height=day.number("ship.deck_height"),
        deck_length=day.number("ship.deck_length"),
        hand=-1 if given["hand"].word == "left" else 1,
        upwind_offset=given["upwind_offset"].value,
        datum=datum,
        datum_ahead=datum_ahead,
        break_ahead=place.value,
        interval=given["interval"].value,
        initial_height=given["initial_height"].value,
        initial_speed=given["initial_speed"].value,
        break_bank=given["break_bank"].value,
        slowing=given["slowing"].value,
        downwind_height=given["downwind_height"].value,
        downwind_speed=given["downwind_speed"].value,
        let_down=given["let_down"].value,
        ninety_height=given["ninety_height"].value,
        ninety_speed=given["ninety_speed"].value,
        ramp_height=given["ramp_height"].value,
        ramp_speed=given["ramp_speed"].value,
        cut_ahead=given["cut_place"].value,
        greatest_bank=given["greatest_bank"].value,
        expected_abeam=day.givens["doctrine.expected.abeam"].band,
        expected_bank=day.givens["doctrine.expected.final_bank"].band,
        expected_slope=day.givens["doctrine.expected.final_slope"].band,
        least_margin=day.number("doctrine.expected.stall_margin"),
        downwind_band=given["downwind_height"].band,
        ramp_band=given["ramp_height"].band,
        aeroplane=aeroplane(day),
        temperature=day.number("weather.temperature"),
        pressure=day.number("weather.pressure"),
        winds=winds,
    )


def aeroplane(day: Day) -> Aeroplane:
    """The aeroplane of the day, at its weight on coming aboard."""

    def given(name: str) -> float:
        return day.number(f"type.{name}")

    return Aeroplane(
        mass=given("landing_weight"),
        wing_area=given("wing_area"),
        zero_lift_drag=given("zero_lift_drag"),
        gear_drag=given("gear_drag"),
        flap_drag=given("flap_drag"),
        induced_drag=given("induced_drag"),
        idle_thrust=given("idle_thrust"),
        shaft_power=given("shaft_power"),
        propeller_diameter=given("propeller_diameter"),
        figure_of_merit=given("figure_of_merit"),
        roll_rate=given("roll_rate"),
        gear_time=given("gear_time"),
        flap_time=given("flap_time"),
        gear_limit=given("gear_limit"),
        flap_limit=given("flap_limit"),
        lift_clean=given("lift_clean"),
        lift_flap=given("lift_flap"),
        position_error=dial_card(of_type(day)),
    )


def of_type(day: Day) -> dict[str, Given]:
    """What the day's type gives, by key name."""
    return {key.removeprefix("type."): given for key, given in day.givens.items() if key.startswith("type.")}


def heading_shown(day: Day, true: float) -> float:
    """A true heading as the cockpit's compass shows it [rad]."""
    shown = day.word("cockpit.headings")
    if shown == "true":
        return true
    by_needle = magnetic(true, day.number("place.variation"))
    if shown == "magnetic":
        return by_needle
    stem = "cockpit.deviation."
    card = [
        (int(key.removeprefix(stem)) * DEGREE, given.value) for key, given in day.givens.items() if key.startswith(stem)
    ]
    return compass(by_needle, card)


def deck_wind_of(day: Day) -> tuple[float, float]:
    """Where the air goes at deck height, east and north [m/s]."""
    winds = wind_rows(day)
    return WindTable(winds[:, 0], winds[:, 1], winds[:, 2]).at(day.number("ship.deck_height"))


def clock_of(day: Day) -> ShipClock:
    """The ship's clock, set by the datum."""
    return ShipClock(day.start, day.datum)


def simulator_times(day: Day) -> dict[str, float]:
    """Times of sunrise and the like that are the simulator's own, by words such as "civil dawn" [s after midnight]."""
    stem = "simulator."
    return {
        key.removeprefix(stem).replace("_", " "): given.value
        for key, given in day.givens.items()
        if key.startswith(stem) and given.kind is not None
    }
