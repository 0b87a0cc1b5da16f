"""Power by manifold pressure, revolutions and height, against published engines and own arithmetic."""

from __future__ import annotations

import pytest

from roundown.environment.air import Air, density
from roundown.motion.engine import Engine, lapse, power_at, pressure_for

FT, HP, INHG = 0.3048, 745.699_871_58, 3386.389
ENGINE = Engine(1_500.0 * HP, 46.0 * INHG, 2_600.0 / 60.0, 5_600.0 * FT)


@pytest.mark.published
@pytest.mark.parametrize(("metres", "kilowatts"), [(13.0, 2_010.0), (1_507.0, 2_010.4)])
def test_power_stays_up_to_the_critical_height(metres: float, kilowatts: float) -> None:
    """PHY-118: 2010.0 kW at 13 m, 2010.4 kW at 1507 m, one setting of a 28-cylinder radial. Within a thousandth.

    Source: Hill & Peterson, Mechanics and Thermodynamics of Propulsion, 1965, Fig. 6-28 (digitised points).
    """
    assert lapse(metres, 5_600.0 * FT) == pytest.approx(kilowatts / 2_010.2, rel=1e-3)


@pytest.mark.published
def test_power_falls_above_the_critical_height() -> None:
    """PHY-118 and 120: 1718.9 kW at 3093 m of 2010.4 kW below 5600 ft, ratio 0.855. Within 0.02, as a rule of thumb.

    Source: Hill & Peterson, Mechanics and Thermodynamics of Propulsion, 1965, Fig. 6-28 (digitised points).
    """
    assert lapse(3_093.0, 5_600.0 * FT) == pytest.approx(1_718.9 / 2_010.4, abs=0.02)


@pytest.mark.published
def test_more_revolutions_reach_their_critical_height_lower() -> None:
    """PHY-119: 2700 rpm gives 2474.6 kW at 12 m and 1831.6 kW at 2997 m, 0.740 of it: by the rule critical near 400 m.

    Source: Hill & Peterson, Mechanics and Thermodynamics of Propulsion, 1965, Fig. 6-28 (digitised points).
    """
    wanted = 1_831.6 / 2_474.6
    assert lapse(2_997.0, 0.0) < wanted < lapse(2_997.0, 5_600.0 * FT)
    assert lapse(2_997.0, 400.0) == pytest.approx(wanted, abs=0.005)


def test_rule_for_the_fall_of_power_by_hand() -> None:
    """Own arithmetic, PHY-120: densities 0.846 and 0.735 of sea level: ratio 0.8688; (0.8688 - 0.117) / 0.883 = 0.8514.

    The table of the standard atmosphere gives those densities at 5600 and 10 150 ft; 0.848 was reckoned there.
    """
    assert lapse(10_150.0 * FT, 5_600.0 * FT) == pytest.approx(0.850, abs=0.003)
    sea = density(0.0, Air())
    assert density(5_600.0 * FT, Air()) / sea == pytest.approx(0.846, abs=0.001)
    assert density(10_150.0 * FT, Air()) / sea == pytest.approx(0.735, abs=0.001)


def test_power_by_pressure_and_revolutions_by_hand() -> None:
    """Own arithmetic: (36 - 6) / (46 - 6) = 0.75 of the power, and half of that at half the revolutions."""
    assert power_at(ENGINE, 46.0 * INHG, 2_600.0 / 60.0) == pytest.approx(1_500.0 * HP)
    assert power_at(ENGINE, 36.0 * INHG, 2_600.0 / 60.0) == pytest.approx(1_125.0 * HP)
    assert power_at(ENGINE, 36.0 * INHG, 1_300.0 / 60.0) == pytest.approx(562.5 * HP)
    assert power_at(ENGINE, 5.0 * INHG, 2_600.0 / 60.0) == 0.0


@pytest.mark.parametrize("inches", [20.0, 33.5, 46.0])
def test_pressure_for_a_power_gives_that_power(inches: float) -> None:
    """There and back."""
    power = power_at(ENGINE, inches * INHG, 2_300.0 / 60.0)
    assert pressure_for(ENGINE, power, 2_300.0 / 60.0) / INHG == pytest.approx(inches)


def test_power_never_grows_with_height_and_never_is_negative() -> None:
    parts = [lapse(500.0 * i, ENGINE.critical_height) for i in range(23)]
    assert parts == sorted(parts, reverse=True)
    assert parts[0] == 1.0
    assert parts[-1] >= 0.0


def test_heights_the_atmosphere_does_not_reach_are_refused() -> None:
    with pytest.raises(ValueError, match="outside"):
        lapse(12_000.0, 0.0)
