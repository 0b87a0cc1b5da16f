"""Temperature, pressure and density of the air with height, and what they make of an airspeed.

*Method:* U.S. Standard Atmosphere, 1976 (NASA TM-X-74335): lapse of 6.5 K/km, hydrostatic and perfect gas, with the
temperature and pressure the day has at sea level in place of the standard ones. Airspeeds: isentropic pitot equation,
    qc = p0 [(1 + 0.2 (CAS / a0)^2)^3.5 - 1] = p [(1 + 0.2 M^2)^3.5 - 1],  TAS = M a,  EAS = TAS sqrt(rho / rho0)
(any text on aircraft performance).

*Holds for:* geopotential heights from -500 m to 11 000 m, dry air, speeds up to that of sound. Outside, a float
argument raises ValueError and an array holds NaN in the places concerned.

Every function takes floats and returns a float, or takes arrays that broadcast against one another and returns one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Value = TypeVar("Value", float, Floats)

# U.S. Standard Atmosphere, 1976, unless another source is named
GRAVITY = 9.80665  # m/s2
GAS_CONSTANT = 287.05287  # J/(kg K), dry air
HEAT_RATIO = 1.4  # specific heats of air, dimensionless
SEA_LEVEL_TEMPERATURE = 288.15  # K
SEA_LEVEL_PRESSURE = 101_325.0  # Pa
SEA_LEVEL_DENSITY = SEA_LEVEL_PRESSURE / (GAS_CONSTANT * SEA_LEVEL_TEMPERATURE)  # kg/m3, 1.2250
SEA_LEVEL_SOUND = math.sqrt(HEAT_RATIO * GAS_CONSTANT * SEA_LEVEL_TEMPERATURE)  # m/s, 340.294
LAPSE_RATE = 0.0065  # K/m
EARTH_RADIUS = 6_356_766.0  # m, of the geopotential conversion
LOWEST, HIGHEST = -500.0, 11_000.0  # m, geopotential; HIGHEST is the tropopause
LOWEST_DENSITY_ALTITUDE = -5_000.0  # m, where the tables of 1976 begin

_PRESSURE_POWER = GRAVITY / (GAS_CONSTANT * LAPSE_RATE)  # 5.2559
_SCALE_HEIGHT = SEA_LEVEL_TEMPERATURE / LAPSE_RATE  # m, where the lapse would reach 0 K


@dataclass(frozen=True)
class Air:
    """The air of the day at sea level.

    temperature [K], pressure [Pa]; without arguments the standard day
    """

    temperature: float = SEA_LEVEL_TEMPERATURE
    pressure: float = SEA_LEVEL_PRESSURE


def _limited(value: Value, low: float, high: float, name: str) -> Value:
    if isinstance(value, np.ndarray):
        return np.where((value >= low) & (value <= high), value, np.nan)
    if not low <= value <= high:
        raise ValueError(f"{name} {value:g} is outside {low:g} to {high:g}")
    return value


def _positive(value: Value, name: str) -> Value:
    if isinstance(value, np.ndarray):
        return np.where(value > 0.0, value, np.nan)
    if not value > 0.0:
        raise ValueError(f"{name} {value:g} is not positive")
    return value


def geopotential(geometric: Value) -> Value:
    """Geopotential height of a height measured in metres of length.

    geometric : height over the sea [m]
    Returns the height [m] the other functions take; 500 m differ by 0.04 m, 10 km by 16 m.
    """
    return EARTH_RADIUS * geometric / (EARTH_RADIUS + geometric)


def temperature(height: Value, air: Air) -> Value:
    """Temperature at a height [K].

    height : geopotential height over the sea [m]; air : the day at sea level
    Raises ValueError (NaN in an array) outside -500 to 11 000 m.
    """
    return air.temperature - LAPSE_RATE * _limited(height, LOWEST, HIGHEST, "height [m]")


def pressure(height: Value, air: Air) -> Value:
    """Pressure at a height [Pa].

    height : geopotential height over the sea [m]; air : the day at sea level
    Raises ValueError (NaN in an array) outside -500 to 11 000 m.
    """
    ratio: Value = temperature(height, air) / air.temperature
    fall: Value = ratio**_PRESSURE_POWER
    return air.pressure * fall


def density(height: Value, air: Air) -> Value:
    """Density at a height [kg/m3].

    height : geopotential height over the sea [m]; air : the day at sea level
    Raises ValueError (NaN in an array) outside -500 to 11 000 m.
    """
    return pressure(height, air) / (GAS_CONSTANT * temperature(height, air))


def speed_of_sound(temperature: Value) -> Value:
    """Speed of sound [m/s].

    temperature : of the air [K]
    Raises ValueError (NaN in an array) unless the temperature is positive.
    """
    warm: Value = _positive(temperature, "temperature [K]")
    sound: Value = (HEAT_RATIO * GAS_CONSTANT * warm) ** 0.5
    return sound


def pressure_altitude(elevation: Value, altimeter_setting: Value) -> Value:
    """Height in the standard atmosphere at which the pressure of this place is found [m].

    elevation : geopotential height of the place over the sea [m]
    altimeter_setting : what an altimeter is set to when it shows the elevation [Pa]; standard: the elevation comes back
    Exact inversion of the standard atmosphere, not the rule of 1000 ft an inch.
    Raises ValueError (NaN in an array) for an elevation outside -500 to 11 000 m or a setting that is not positive.
    """
    ratio: Value = _positive(altimeter_setting, "altimeter setting [Pa]") / SEA_LEVEL_PRESSURE
    rise: Value = _SCALE_HEIGHT * (1.0 - ratio ** (1.0 / _PRESSURE_POWER))
    return _limited(elevation, LOWEST, HIGHEST, "elevation [m]") + rise


def density_altitude(pressure_altitude: Value, temperature: Value) -> Value:
    """Height in the standard atmosphere at which the density of this place is found [m].

    pressure_altitude : of the place [m]; temperature : of its air [K]
    Exact inversion of the standard atmosphere, not the rule of 118.6 ft a degree. The lapse is continued below -500 m.
    Raises ValueError (NaN in an array) for a pressure altitude outside -500 to 11 000 m, a temperature that is not
    positive, and a result outside -5000 to 11 000 m.
    """
    warmth: Value = _positive(temperature, "temperature [K]") / SEA_LEVEL_TEMPERATURE
    relative: Value = pressure(pressure_altitude, Air()) / SEA_LEVEL_PRESSURE / warmth
    height: Value = _SCALE_HEIGHT * (1.0 - relative ** (1.0 / (_PRESSURE_POWER - 1.0)))
    return _limited(height, LOWEST_DENSITY_ALTITUDE, HIGHEST, "density altitude [m]")


def pressure_altitude_at(height: Value, air: Air) -> Value:
    """Height in the standard atmosphere at which the pressure of a height of the day is found [m].

    height : geopotential height over the sea [m]; air : the day at sea level
    What an altimeter set to 29.92 inHg shows there. Raises ValueError (NaN in an array) outside -500 to 11 000 m.
    """
    return _standard_height(pressure(height, air))


def density_altitude_at(height: Value, air: Air) -> Value:
    """Height in the standard atmosphere at which the density of a height of the day is found [m].

    height : geopotential height over the sea [m]; air : the day at sea level
    Exact inversion of the standard atmosphere; the lapse is continued below -500 m.
    Raises ValueError (NaN in an array) outside -500 to 11 000 m and for a result outside -5000 to 11 000 m.
    """
    relative: Value = density(height, air) / SEA_LEVEL_DENSITY
    found: Value = _SCALE_HEIGHT * (1.0 - relative ** (1.0 / (_PRESSURE_POWER - 1.0)))
    return _limited(found, LOWEST_DENSITY_ALTITUDE, HIGHEST, "density altitude [m]")


def altimeter_shows(height: Value, setting: Value, air: Air) -> Value:
    """What an altimeter without error of its own shows at a height over the sea [m].

    height : geopotential height over the sea [m]; setting : pressure on its subscale [Pa]; air : the day at sea level
    An altimeter knows pressure alone: it shows the standard height between that of its setting and that outside. Set
    to the pressure at sea level it shows 0 at the sea, too much in cold air above it and too little in warm.
    Raises ValueError (NaN in an array) for a height outside -500 to 11 000 m or a setting that is not positive.
    """
    return _standard_height(pressure(height, air)) - _standard_height(_positive(setting, "altimeter setting [Pa]"))


def _standard_height(pressure: Value) -> Value:
    """Height of a pressure [Pa] in the standard atmosphere [m]."""
    ratio: Value = pressure / SEA_LEVEL_PRESSURE
    height: Value = _SCALE_HEIGHT * (1.0 - ratio ** (1.0 / _PRESSURE_POWER))
    return height


def _impact_ratio(mach: Value) -> Value:
    """Impact pressure over static pressure, subsonic; raises ValueError (NaN in an array) outside Mach 0 to 1."""
    square: Value = _limited(mach, 0.0, 1.0, "Mach number") ** 2
    ratio: Value = (1.0 + 0.2 * square) ** 3.5 - 1.0
    return ratio


def _mach(impact_ratio: Value) -> Value:
    """Mach number of an impact pressure over static pressure; raises ValueError (NaN in an array) above Mach 1."""
    mach: Value = (5.0 * ((impact_ratio + 1.0) ** (2.0 / 7.0) - 1.0)) ** 0.5
    return _limited(mach, 0.0, 1.0, "Mach number")


def true_from_calibrated(calibrated: Value, pressure: Value, temperature: Value) -> Value:
    """True airspeed of a calibrated airspeed, full subsonic formula [m/s].

    calibrated : airspeed free of instrument and position error [m/s]; pressure [Pa], temperature [K] : of the air there
    Raises ValueError (NaN in an array) for a negative speed, one above that of sound, or air that is not positive.
    """
    ratio: Value = (
        _impact_ratio(calibrated / SEA_LEVEL_SOUND) * SEA_LEVEL_PRESSURE / _positive(pressure, "pressure [Pa]")
    )
    return _mach(ratio) * speed_of_sound(temperature)


def calibrated_from_true(true: Value, pressure: Value, temperature: Value) -> Value:
    """Calibrated airspeed of a true airspeed, full subsonic formula [m/s].

    true : true airspeed [m/s]; pressure [Pa], temperature [K] : of the air there
    Raises ValueError (NaN in an array) for a negative speed, one above that of sound, or air that is not positive.
    """
    ratio: Value = _impact_ratio(true / speed_of_sound(temperature)) * _positive(pressure, "pressure [Pa]")
    return _mach(ratio / SEA_LEVEL_PRESSURE) * SEA_LEVEL_SOUND


def equivalent_from_true(true: Value, density: Value) -> Value:
    """Equivalent airspeed, the one with the same dynamic pressure at standard sea level [m/s].

    true : true airspeed [m/s]; density : of the air there [kg/m3]
    Raises ValueError (NaN in an array) unless the density is positive.
    """
    root: Value = (_positive(density, "density [kg/m3]") / SEA_LEVEL_DENSITY) ** 0.5
    return true * root


def true_from_equivalent(equivalent: Value, density: Value) -> Value:
    """True airspeed of an equivalent airspeed [m/s].

    equivalent : equivalent airspeed [m/s]; density : of the air there [kg/m3]
    Raises ValueError (NaN in an array) unless the density is positive.
    """
    root: Value = (_positive(density, "density [kg/m3]") / SEA_LEVEL_DENSITY) ** 0.5
    return equivalent / root
