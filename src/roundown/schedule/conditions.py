"""What the day's air does to engines and altimeters, and the light of its date.

*Method:* standard atmosphere and ideal gas (environment/air.py); sun and moon at the datum place
(environment/light.py).
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from roundown.environment.air import Air, altimeter_shows, density_altitude_at
from roundown.environment.light import light_of_day
from roundown.figures import figure
from roundown.quantities import CLOCK_TIME, HEIGHT_OVER_SEA, RATIO
from roundown.schedule.clock import ShipClock

_AIR = ("weather.temperature", "weather.pressure")
_PLACE = ("place.*", "simulator.*")
_LIGHT = "JPL ephemeris at the datum place, upper limb on the sea horizon; twilights at 6 and 12 degrees"
_MOON = "JPL ephemeris at the datum place"
SKY_FIELDS = (
    "sunrise", "sunset", "civil_dawn", "civil_dusk", "nautical_dawn", "nautical_dusk", "moonrise", "moonset",
)  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class DayLight:
    """The light of the plan's date at the datum place, by the ship's clock; None where it does not happen.

    simulated : those that are the simulator's own, by name
    """

    simulated: tuple[str, ...]
    sunrise: float | None = figure(CLOCK_TIME, "sunrise", _LIGHT, _PLACE)
    sunset: float | None = figure(CLOCK_TIME, "sunset", _LIGHT, _PLACE)
    civil_dawn: float | None = figure(CLOCK_TIME, "civil twilight begins", _LIGHT, _PLACE)
    civil_dusk: float | None = figure(CLOCK_TIME, "civil twilight ends", _LIGHT, _PLACE)
    nautical_dawn: float | None = figure(CLOCK_TIME, "nautical twilight begins", _LIGHT, _PLACE)
    nautical_dusk: float | None = figure(CLOCK_TIME, "nautical twilight ends", _LIGHT, _PLACE)
    moonrise: float | None = figure(CLOCK_TIME, "moonrise", _MOON, _PLACE)
    moonset: float | None = figure(CLOCK_TIME, "moonset", _MOON, _PLACE)
    moon_lit: float = figure(RATIO, "lit part of the moon's disc at noon", _MOON, _PLACE)


@dataclass(frozen=True, kw_only=True)
class AirToday:
    """What the air does to engines and altimeters."""

    density_altitude: float = figure(
        HEIGHT_OVER_SEA, "density altitude at the sea", "standard height of the day's density", _AIR
    )
    altimeter_on_deck: float = figure(
        HEIGHT_OVER_SEA,
        "what the altimeter shows on deck, as it is set",
        "standard heights of setting and pressure",
        (*_AIR, "cockpit.altimeter", "ship.deck_height"),
    )
    altimeter_at_initial: float = figure(
        HEIGHT_OVER_SEA,
        "what the altimeter shows at the height of the initial, as it is set",
        "standard heights of setting and pressure",
        (*_AIR, "cockpit.altimeter", "doctrine.circuit.initial_height"),
    )


def air_today(temperature: float, pressure: float, setting: float, deck: float, initial: float) -> AirToday:
    """The figures of the air.

    temperature [K], pressure [Pa] : at sea level; setting : of the altimeter [Pa]
    deck, initial : heights over the sea [m]
    """
    air = Air(temperature, pressure)
    return AirToday(
        density_altitude=float(density_altitude_at(0.0, air)),
        altimeter_on_deck=float(altimeter_shows(deck, setting, air)),
        altimeter_at_initial=float(altimeter_shows(initial, setting, air)),
    )


def day_light(
    latitude: float, longitude: float, clock: ShipClock, offset: float, simulator: Mapping[str, float]
) -> DayLight:
    """The light of the plan's date.

    latitude, longitude : of the datum [rad]; offset : what the clock is ahead of universal time [s]
    simulator : times the simulator has instead, by words such as "civil dawn" [s after midnight]
    """
    date = (clock.instant(0.0) + dt.timedelta(seconds=offset)).date()
    found = light_of_day(latitude, longitude, date, dt.timedelta(seconds=offset))
    times: dict[str, float | None] = {}
    for name in SKY_FIELDS:
        instant = getattr(found, name)
        times[name] = simulator.get(name.replace("_", " "), None if instant is None else clock.time(instant))
    simulated = tuple(name for name in SKY_FIELDS if name.replace("_", " ") in simulator)
    return DayLight(simulated=simulated, moon_lit=found.moon_lit, **times)
