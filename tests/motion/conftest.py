"""An invented aeroplane and the settings it is flown in."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from roundown.motion.aeroplane import Aeroplane
from roundown.motion.manoeuvre import Setting
from roundown.motion.ship_track import ShipTrack, steady_track

KT = 1852.0 / 3600.0  # m/s
STANDARD_DAY = (288.15, 101_325.0)  # K, Pa

INVENTED = Aeroplane(
    mass=3_600.0,
    wing_area=28.0,
    zero_lift_drag=0.024,
    gear_drag=0.022,
    flap_drag=0.035,
    induced_drag=0.065,
    idle_thrust=-250.0,
    shaft_power=895_000.0,
    propeller_diameter=3.0,
    figure_of_merit=0.72,
    roll_rate=math.radians(20.0),
    gear_time=5.0,
    flap_time=6.0,
    gear_limit=120.0 * KT,
    flap_limit=110.0 * KT,
    lift_clean=1.45,
    lift_flap=2.1,
)


@pytest.fixture(scope="session")
def invented() -> Aeroplane:
    """An aeroplane of no type; its numbers are of the size of a single-engined naval aeroplane of the 1940s."""
    return INVENTED


@pytest.fixture(scope="session")
def setting_in() -> Callable[..., Setting]:
    """Makes a setting: uniform wind (east, north, where the air goes) or a table, ship stopped and heading north."""

    def make(
        wind: tuple[float, float] = (0.0, 0.0),
        ship: ShipTrack | None = None,
        aeroplane: Aeroplane = INVENTED,
        air: tuple[float, float] = STANDARD_DAY,
        table: list[tuple[float, float, float]] | None = None,
    ) -> Setting:
        return Setting(aeroplane, air, np.array(table or [(0.0, *wind)]), ship or steady_track(0.0, 0.0))

    return make
