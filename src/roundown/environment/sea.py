"""What sea a wind raises: its force, the height of the waves, the state of the sea, and waves by their period.

*Method:* Beaufort force, its words and the probable height of the waves from the table of the Met Office (wind at
10 m); the height is linear between the mean speeds of the forces. State of the sea: World Meteorological Organization,
code table 3700, by the height of sea and swell together; a height on a boundary belongs to the lower code. Sea and
swell combine as their energies do, sqrt(sea^2 + swell^2) (common practice, no source). Fully developed sea:
Pierson-Moskowitz spectrum as in R. H. Stewart, Introduction to Physical Oceanography, chapter 16,
    U = 1.026 times the wind at 10 m,  height = 0.21 U^2 / g,  peak frequency = 0.877 g / U [rad/s].
Deep water: length = g T^2 / 2 pi, speed of a crest = g T / 2 pi, of a group half of it (linear theory).

*Holds for:* the open ocean, heights as significant height, trough to crest. The probable height is what such a wind
raises as a rule; near a lee shore, or early in a blow, there is less. The fully developed sea is an upper bound: from
force 7 on it exceeds the table by a third or more, as gales do not last long enough.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from roundown.environment.air import GRAVITY
from roundown.figures import figure
from roundown.quantities import KNOT, TIME, WAVE_HEIGHT

# Met Office, Beaufort table: greatest whole knot of the force, its name; force 12 has no greatest
_FORCES = (
    (0, "calm"), (3, "light air"), (6, "light breeze"), (10, "gentle breeze"), (16, "moderate breeze"),
    (21, "fresh breeze"), (27, "strong breeze"), (33, "near gale"), (40, "gale"), (47, "strong gale"), (55, "storm"),
    (63, "violent storm"),
)  # fmt: skip
_HURRICANE = "hurricane"
# the same table: mean speed [kt] and probable height [m] of forces 1 to 11; force 12 from where it begins, "over 14"
_MEAN_SPEED = (0.0, 2.0, 5.0, 9.0, 13.0, 19.0, 24.0, 30.0, 37.0, 44.0, 52.0, 60.0, 64.0)
_PROBABLE = (0.0, 0.1, 0.2, 0.6, 1.0, 2.0, 3.0, 4.0, 5.5, 7.0, 9.0, 11.5, 14.0)
# code table 3700: greatest height of the code [m], its name; code 9 has no greatest
_STATES = (
    (0.0, "calm (glassy)"), (0.1, "calm (rippled)"), (0.5, "smooth"), (1.25, "slight"), (2.5, "moderate"),
    (4.0, "rough"), (6.0, "very rough"), (9.0, "high"), (14.0, "very high"),
)  # fmt: skip
_PHENOMENAL = "phenomenal"
_ALOFT = 1.026  # wind at 19.5 m over that at 10 m (Stewart, chapter 16)
_FULL_HEIGHT = 0.21  # of U^2 / g (Stewart, chapter 16)
_FULL_FREQUENCY = 0.877  # of g / U (Stewart, chapter 16)
_ROUNDING = 1e-9  # m, a height this much over a boundary is on it
_WIND, _SWELL = "weather.wind_speed", "weather.swell"
_FULLY = "Pierson-Moskowitz (Stewart, Introduction to Physical Oceanography, chapter 16), a sea fully developed"


@dataclass(frozen=True, kw_only=True)
class Sea:
    """The sea of a wind and a swell.

    force, wind_term : Beaufort; state, state_term : WMO code 3700, of sea and swell together
    off_the_table : the wind is of hurricane force, for which the table says only that waves are over 14 m
    """

    force: int
    wind_term: str
    state: int
    state_term: str
    off_the_table: bool
    wave_height: float = figure(
        WAVE_HEIGHT,
        "probable height of the waves of this wind",
        "Met Office table of Beaufort forces, linear between their mean speeds",
        (_WIND,),
    )
    combined_height: float = figure(
        WAVE_HEIGHT,
        "height of sea and swell together",
        "root of the sum of squares (common practice, no source)",
        (_WIND, _SWELL),
    )
    full_height: float = figure(
        WAVE_HEIGHT, "greatest height of the waves if this wind blows long enough, far enough", _FULLY, (_WIND,)
    )
    full_period: float = figure(TIME, "period of the highest of those waves", _FULLY, (_WIND,))


def sea_of(wind_speed: float, swell_height: float = 0.0) -> Sea:
    """The sea a wind raises, with a swell running under it.

    wind_speed : at 10 m, 0 or more [m/s]; swell_height : significant, trough to crest, 0 or more [m]
    Raises ValueError for a speed or height out of range.
    """
    force, wind_term = beaufort(wind_speed)
    wave_height = probable_height(wind_speed)
    together = combined_height(wave_height, swell_height)
    state, state_term = sea_state(together)
    full_height, full_period = fully_developed(wind_speed)
    return Sea(
        force=force,
        wind_term=wind_term,
        state=state,
        state_term=state_term,
        off_the_table=force > len(_FORCES) - 1,
        wave_height=wave_height,
        combined_height=together,
        full_height=full_height,
        full_period=full_period,
    )


def beaufort(wind_speed: float) -> tuple[int, str]:
    """Beaufort force of a wind at 10 m [m/s], 0 to 12, and what it is called.

    The table is by whole knots: a speed is rounded to the nearest, a half upwards; below 1 kt it is calm.
    Raises ValueError for a speed below 0 or not finite.
    """
    knots = _not_negative(wind_speed, "wind speed [m/s]") / KNOT
    whole = math.floor(knots + 0.5 + 1e-9) if knots >= 1.0 - 1e-9 else 0
    for force, (greatest, term) in enumerate(_FORCES):
        if whole <= greatest:
            return force, term
    return len(_FORCES), _HURRICANE


def probable_height(wind_speed: float) -> float:
    """Probable height of the waves in a wind at 10 m [m/s], significant, trough to crest [m].

    Linear between the mean speeds of the forces and from calm, 0 m, to the first. From 64 kt on, where the table says
    "over 14 m", it is 14 m, a lower bound. Raises ValueError for a speed below 0 or not finite.
    """
    knots = _not_negative(wind_speed, "wind speed [m/s]") / KNOT
    return float(np.interp(knots, _MEAN_SPEED, _PROBABLE))


def sea_state(height: float) -> tuple[int, str]:
    """State of the sea by WMO code 3700, 0 to 9, and what it is called, from a significant height [m].

    Raises ValueError for a height below 0 or not finite.
    """
    rising = _not_negative(height, "height [m]") - _ROUNDING
    for code, (greatest, term) in enumerate(_STATES):
        if rising <= greatest:
            return code, term
    return len(_STATES), _PHENOMENAL


def combined_height(sea: float, swell: float) -> float:
    """Significant height of wind waves and swell together [m]. Raises ValueError for a height below 0 or not finite."""
    return math.hypot(_not_negative(sea, "height of the sea [m]"), _not_negative(swell, "height of the swell [m]"))


def fully_developed(wind_speed: float) -> tuple[float, float]:
    """Significant height [m] and peak period [s] of the sea a wind at 10 m [m/s] raises at the longest.

    Calm: 0 and 0. Raises ValueError for a speed below 0 or not finite.
    """
    aloft = _ALOFT * _not_negative(wind_speed, "wind speed [m/s]")
    return _FULL_HEIGHT * aloft**2 / GRAVITY, math.tau * aloft / (_FULL_FREQUENCY * GRAVITY)


def wave_length(period: float) -> float:
    """Length of a wave in deep water [m] from its period [s]. Raises ValueError for one below 0 or not finite."""
    return GRAVITY * _not_negative(period, "period [s]") ** 2 / math.tau


def crest_speed(period: float) -> float:
    """Speed of a crest in deep water [m/s] from its period [s]. Raises ValueError for one below 0 or not finite."""
    return GRAVITY * _not_negative(period, "period [s]") / math.tau


def group_speed(period: float) -> float:
    """Speed at which a swell of a period [s] travels in deep water [m/s]: half that of its crests. As crest_speed."""
    return 0.5 * crest_speed(period)


def _not_negative(value: float, name: str) -> float:
    if not 0.0 <= value < math.inf:
        raise ValueError(f"{name} {value:g} is not 0 or more")
    return value
