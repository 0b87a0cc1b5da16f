"""Air of the day and airspeeds, against printed tables, a numerical integration and themselves backwards."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundown.environment.air import (
    GAS_CONSTANT,
    GRAVITY,
    SEA_LEVEL_DENSITY,
    SEA_LEVEL_PRESSURE,
    SEA_LEVEL_SOUND,
    SEA_LEVEL_TEMPERATURE,
    Air,
    calibrated_from_true,
    density,
    density_altitude,
    equivalent_from_true,
    geopotential,
    pressure,
    pressure_altitude,
    speed_of_sound,
    temperature,
    true_from_calibrated,
    true_from_equivalent,
)

KT = 1852.0 / 3600.0  # m/s
FT = 0.3048  # m
INHG = 3386.389  # Pa
PSI = 6894.757  # Pa
SLUG_FT3 = 515.379  # kg/m3
STANDARD = Air()


def fahrenheit(kelvin: float) -> float:
    return (kelvin - 273.15) * 1.8 + 32.0


def standard_at(feet: float) -> tuple[float, float]:
    """Pressure and temperature of the standard day at a geopotential height in feet."""
    return pressure(feet * FT, STANDARD), temperature(feet * FT, STANDARD)


# PHY-01 to PHY-10, grade USE: feet, deg F, delta, sigma, root of sigma, theta as printed
TABLE = [
    (0.0, 59.00, 1.0000, 1.0000, 1.0000, 1.0000),
    (1_000.0, 55.43, 0.9644, 0.9711, 0.9854, 0.9931),
    (2_000.0, 51.87, 0.9298, 0.9428, 0.9710, 0.9862),
    (3_000.0, 48.30, 0.8962, 0.9151, 0.9566, 0.9794),
    (5_000.0, 41.17, 0.8320, 0.8617, 0.9283, 0.9656),
    (8_000.0, 30.47, 0.7428, 0.7860, 0.8866, 0.9450),
    (10_000.0, 23.34, 0.6877, 0.7385, 0.8593, 0.9312),
    (20_000.0, -12.32, 0.4595, 0.5328, 0.7299, 0.8625),
    (25_000.0, -30.15, 0.3711, 0.4481, 0.6694, 0.8281),
]


@pytest.mark.published
@pytest.mark.parametrize(("feet", "degrees", "delta", "sigma", "root", "theta"), TABLE)
def test_standard_atmosphere_table(
    feet: float, degrees: float, delta: float, sigma: float, root: float, theta: float
) -> None:
    """PHY-01 to PHY-10, USE. Temperature within 0.05 deg F, ratios within one of the last digit.

    Source: Badick & Johnson, Flight Theory and Aerodynamics, Wiley, Table 2.1 (geopotential feet).
    """
    height = feet * FT
    assert fahrenheit(temperature(height, STANDARD)) == pytest.approx(degrees, abs=0.05)
    assert pressure(height, STANDARD) / SEA_LEVEL_PRESSURE == pytest.approx(delta, abs=1e-4)
    relative = density(height, STANDARD) / SEA_LEVEL_DENSITY
    assert relative == pytest.approx(sigma, abs=1e-4)
    assert math.sqrt(relative) == pytest.approx(root, abs=1e-4)
    assert temperature(height, STANDARD) / SEA_LEVEL_TEMPERATURE == pytest.approx(theta, abs=1e-4)


@pytest.mark.parametrize(
    ("feet", "inches", "slugs", "sound"),
    [
        (0.0, 29.92, 0.0023769, 661.5),
        (1_000.0, 28.86, 0.0023081, 659.2),
        (2_000.0, 27.82, 0.0022409, 656.9),
        (3_000.0, 26.82, 0.0021751, 654.6),
        (5_000.0, 24.90, 0.0020481, 650.0),
        (8_000.0, 22.22, 0.0018683, 643.0),
        (10_000.0, 20.58, 0.0017553, 638.3),
        (20_000.0, 13.75, 0.0012664, 614.3),
        (25_000.0, 11.10, 0.0010651, 601.9),
    ],
)
def test_standard_atmosphere_in_trade_units(feet: float, inches: float, slugs: float, sound: float) -> None:
    """PHY-01 to PHY-10: heights published, these three columns computed. Within 0.02 inHg, 1e-7 slug/ft3, 0.06 kt."""
    height = feet * FT
    assert pressure(height, STANDARD) / INHG == pytest.approx(inches, abs=0.02)
    assert density(height, STANDARD) / SLUG_FT3 == pytest.approx(slugs, abs=1e-7)
    assert speed_of_sound(temperature(height, STANDARD)) / KT == pytest.approx(sound, abs=0.06)


@pytest.mark.parametrize(
    ("feet", "printed"), [(0, 661.7), (5_000, 650.3), (10_000, 638.6), (20_000, 614.6), (25_000, 602.2)]
)
def test_high_speed_of_sound_column_is_not_reproduced(feet: float, printed: float) -> None:
    """PHY-11, do not use: the column of Badick & Johnson's Table 2.1 is 0.2 to 0.3 kt high throughout."""
    sound = speed_of_sound(temperature(feet * FT, STANDARD)) / KT
    assert 0.15 < printed - sound < 0.4


@pytest.mark.published
@pytest.mark.parametrize(
    ("metres", "kelvin", "pascals", "kilograms"),
    [(500.0, 284.900, 95_461.0, 1.1673), (2_500.0, 271.906, 74_691.0, 0.95695), (6_500.0, 245.943, 44_075.0, 0.62431)],
)
def test_standard_atmosphere_at_geometric_heights(
    metres: float, kelvin: float, pascals: float, kilograms: float
) -> None:
    """PHY-12, USE. Within 0.001 K, 1 Pa, 1e-5 of density or half its last digit where it has four decimals.

    Source: U.S. Standard Atmosphere, 1976, NASA TM-X-74335, tables by geometric height.
    """
    height = geopotential(metres)
    assert temperature(height, STANDARD) == pytest.approx(kelvin, abs=1e-3)
    assert pressure(height, STANDARD) == pytest.approx(pascals, abs=1.0)
    assert density(height, STANDARD) == pytest.approx(kilograms, abs=5e-5 if kilograms > 1.0 else 1e-5)


@pytest.mark.published
def test_standard_atmosphere_at_10_km() -> None:
    """PHY-13, USE. One of the last printed digit.

    Source: U.S. Standard Atmosphere, 1976, NASA TM-X-74335: 10 000 m geometric is 9984.3 m geopotential, -49.898 deg C,
    264.999 mb, 0.413511 kg/m3, 299.532 m/s.
    """
    height = geopotential(10_000.0)
    assert height == pytest.approx(9_984.3, abs=0.05)
    assert temperature(height, STANDARD) - 273.15 == pytest.approx(-49.898, abs=1e-3)
    assert pressure(height, STANDARD) / 100.0 == pytest.approx(264.999, abs=1e-3)
    assert density(height, STANDARD) == pytest.approx(0.413511, abs=1e-6)
    assert speed_of_sound(temperature(height, STANDARD)) == pytest.approx(299.532, abs=1e-3)


@pytest.mark.published
def test_density_altitude_of_a_warm_place() -> None:
    """PHY-14, USE: pressure altitude 8000 ft, 18 deg C. Within 10 ft of the printed 10 150 ft.

    Source: E. Williams, Aviation Formulary, V1.46, density altitude example (formula). The same example's rule of
    118.6 ft a degree gives 10 236 ft; it is not what is computed here.
    """
    found = density_altitude(8_000.0 * FT, 273.15 + 18.0) / FT
    assert found == pytest.approx(10_150.0, abs=10.0)
    by_rule = 8_000.0 + 118.6 * (18.0 + 273.15 - temperature(8_000.0 * FT, STANDARD))
    assert by_rule == pytest.approx(10_236.0, abs=1.0)
    assert by_rule - found > 80.0


@pytest.mark.published
def test_pressure_altitude_of_a_field() -> None:
    """PHY-16, USE: 800 ft, altimeter 29.72 inHg. Within 15 ft of "about 1000 ft".

    Source: Aircraft Owners and Pilots Association, Technique: Takeoff calculation, May 2018.
    """
    found = pressure_altitude(800.0 * FT, 29.72 * INHG) / FT
    assert found == pytest.approx(1_000.0, abs=15.0)
    # computed with the exact formula PA = elevation + 145 366 ft (1 - (setting / 29.9213)^0.190263)
    assert found == pytest.approx(986.5, abs=0.2)


@pytest.mark.published
def test_pressure_at_20000_ft_of_length() -> None:
    """PHY-17, USE as a geometric height only: within 0.002 psi (the last digit is 1 off the standard).

    Source: ASHRAE-style altitude table on an engineering-data site, 20 000 ft: 6.758 psia.
    """
    assert pressure(geopotential(20_000.0 * FT), STANDARD) / PSI == pytest.approx(6.758, abs=0.002)


def test_wrong_temperature_at_15000_ft_is_not_reproduced() -> None:
    """PHY-17, do not use: the same page prints -25.96 deg C at 15 000 ft; -14.72 is right."""
    assert temperature(15_000.0 * FT, STANDARD) - 273.15 == pytest.approx(-14.72, abs=0.005)


def test_true_airspeed_from_equivalent_in_cold_air() -> None:
    """PHY-20: inputs published (Badick & Johnson, example after Eq. 2.12), answer computed. Within 0.5 kt."""
    rho = 0.4595 * SEA_LEVEL_PRESSURE / (GAS_CONSTANT * (273.15 - 30.0))
    assert true_from_equivalent(382.5 * KT, rho) / KT == pytest.approx(518.3, abs=0.5)


@pytest.mark.parametrize("warmer", [0.0, -5.4, 20.0])
def test_equivalent_airspeed_needs_no_temperature(warmer: float) -> None:
    """PHY-21: calibrated 400 kt (inferred input) at 20 000 ft, chart reading 382.5, answer computed. Within 0.1 kt."""
    p, kelvin = standard_at(20_000.0)
    kelvin += warmer
    rho = p / (GAS_CONSTANT * kelvin)
    equivalent = equivalent_from_true(true_from_calibrated(400.0 * KT, p, kelvin), rho) / KT
    assert equivalent == pytest.approx(382.8, abs=0.1)
    assert equivalent == pytest.approx(382.5, abs=1.0)


@pytest.mark.published
@pytest.mark.parametrize(("at_sea_level", "aloft"), [(175.0, 285.77), (320.0, 522.56)])
def test_true_airspeed_at_equal_lift_coefficient(at_sea_level: float, aloft: float) -> None:
    """PHY-22, USE: relative density 0.375. Within 0.1 mph.

    Source: Fox & McDonald, Introduction to Fluid Mechanics, Example 9.8.
    """
    assert true_from_equivalent(at_sea_level, 0.375 * SEA_LEVEL_DENSITY) == pytest.approx(aloft, abs=0.1)


def test_two_percent_rule_is_not_reproduced() -> None:
    """PHY-24, do not use: "130 kt true shows 100 kt at 15 000 ft" is a rule of 2 % a thousand feet; computed 125.8."""
    assert true_from_calibrated(100.0 * KT, *standard_at(15_000.0)) / KT == pytest.approx(125.8, abs=0.1)


@pytest.mark.published
def test_incompressible_limit_of_true_airspeed() -> None:
    """PHY-25, USE: the printed formula at 200 kt and 10 000 ft gives 232.73 kt. Within 0.05 kt.

    Source: E. Williams, Aviation Formulary, V1.46: TAS = CAS / (1 - 6.8755856e-6 DA)^2.12794, low speed.
    """
    printed = 200.0 / (1.0 - 6.8755856e-6 * 10_000.0) ** 2.12794
    assert printed == pytest.approx(232.73, abs=0.01)
    assert true_from_equivalent(200.0 * KT, density(10_000.0 * FT, STANDARD)) / KT == pytest.approx(printed, abs=0.05)


@pytest.mark.parametrize(
    ("case", "calibrated", "feet", "celsius", "true", "tolerance"),
    [
        ("PHY-25", 200.0, 10_000.0, None, 231.57, 0.01),
        ("PHY-26", 150.0, 5_000.0, None, 161.39, 0.01),
        ("PHY-27", 120.0, 1_000.0, 30.0, 125.3, 0.1),
        ("PHY-29", 180.0, 15_000.0, -5.0, 229.6, 0.1),
        ("PHY-30", 90.0, 0.0, 35.0, 93.07, 0.05),
    ],
)
def test_true_airspeed_regression(
    case: str, calibrated: float, feet: float, celsius: float | None, true: float, tolerance: float
) -> None:
    """Inputs published or constructed, answers computed with the full subsonic formula."""
    p, standard = standard_at(feet)
    kelvin = standard if celsius is None else celsius + 273.15
    assert true_from_calibrated(calibrated * KT, p, kelvin) / KT == pytest.approx(true, abs=tolerance), case


def test_equivalent_airspeed_regression() -> None:
    """PHY-29, constructed: calibrated 180 kt at 15 000 ft and -5 deg C is 178.76 kt equivalent, computed."""
    p, kelvin = standard_at(15_000.0)[0], 268.15
    true = true_from_calibrated(180.0 * KT, p, kelvin)
    assert equivalent_from_true(true, p / (GAS_CONSTANT * kelvin)) / KT == pytest.approx(178.76, abs=0.01)


def test_density_in_place_of_pressure_is_not_reproduced() -> None:
    """PHY-31, do not use: a lecture prints rho0/rho for p0/p (252.0 kt); computed with p0/p: M 0.4404, 270.5 kt."""
    p, kelvin = standard_at(20_000.0)
    true = true_from_calibrated(200.0 * KT, p, kelvin)
    assert true / speed_of_sound(kelvin) == pytest.approx(0.4404, abs=5e-5)
    assert true / KT == pytest.approx(270.5, abs=0.05)


@pytest.mark.parametrize("air", [STANDARD, Air(303.15, 100_200.0), Air(268.15, 103_000.0)])
def test_pressure_is_hydrostatic(air: Air) -> None:
    """Second method: dp/dh = -g p / (R T) by fourth-order Runge-Kutta in 10 m steps, both ways from the sea."""

    def slope(height: float, p: float) -> float:
        return -GRAVITY * p / (GAS_CONSTANT * (air.temperature - 0.0065 * height))

    for step, count in ((10.0, 1_100), (-10.0, 50)):
        p, height = air.pressure, 0.0
        for _ in range(count):
            k1 = slope(height, p)
            k2 = slope(height + step / 2, p + step / 2 * k1)
            k3 = slope(height + step / 2, p + step / 2 * k2)
            k4 = slope(height + step, p + step * k3)
            p += step / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
            height += step
        assert pressure(height, air) == pytest.approx(p, rel=1e-10)


def test_sea_level_constants_belong_together() -> None:
    assert pytest.approx(1.2250, abs=5e-6) == SEA_LEVEL_DENSITY
    assert pytest.approx(340.294, abs=5e-4) == SEA_LEVEL_SOUND
    assert speed_of_sound(SEA_LEVEL_TEMPERATURE) == SEA_LEVEL_SOUND


@given(st.floats(-500.0, 11_000.0), st.floats(250.0, 320.0), st.floats(95_000.0, 105_000.0))
def test_gas_law_holds_on_any_day(height: float, warmth: float, sea_level: float) -> None:
    air = Air(warmth, sea_level)
    product = density(height, air) * GAS_CONSTANT * temperature(height, air)
    assert product == pytest.approx(pressure(height, air), rel=1e-12)


@given(st.floats(-500.0, 11_000.0))
def test_standard_air_has_its_own_height_as_density_altitude(height: float) -> None:
    assert density_altitude(height, temperature(height, STANDARD)) == pytest.approx(height, abs=1e-6)


@given(st.floats(-300.0, 3_000.0), st.floats(95_000.0, 105_000.0))
def test_altimeter_setting_means_the_pressure_of_the_place(elevation: float, setting: float) -> None:
    """An altimeter set to q shows the standard height difference between q and the pressure of the place."""
    altitude = pressure_altitude(elevation, setting)
    at_place = SEA_LEVEL_PRESSURE * (1.0 - 0.0065 * altitude / 288.15) ** 5.255879
    sea_level = 288.15 / 0.0065 * (1.0 - (setting / SEA_LEVEL_PRESSURE) ** (1.0 / 5.255879))
    shown = 288.15 / 0.0065 * (1.0 - (at_place / SEA_LEVEL_PRESSURE) ** (1.0 / 5.255879)) - sea_level
    assert shown == pytest.approx(elevation, abs=0.01)


@given(st.floats(0.0, 250.0), st.floats(-500.0, 9_000.0), st.floats(-30.0, 30.0))
def test_calibrated_and_true_airspeed_return_to_start(true: float, height: float, warmer: float) -> None:
    p, kelvin = pressure(height, STANDARD), temperature(height, STANDARD) + warmer
    calibrated = calibrated_from_true(true, p, kelvin)
    # near 0 the square of the speed drowns in the 1 it is added to
    assert true_from_calibrated(calibrated, p, kelvin) == pytest.approx(true, rel=1e-9, abs=1e-5)


@given(st.floats(0.0, 300.0), st.floats(0.3, 1.5))
def test_equivalent_and_true_airspeed_return_to_start(true: float, rho: float) -> None:
    assert true_from_equivalent(equivalent_from_true(true, rho), rho) == pytest.approx(true, rel=1e-12)


def test_airspeeds_agree_at_standard_sea_level() -> None:
    true = true_from_calibrated(60.0, SEA_LEVEL_PRESSURE, SEA_LEVEL_TEMPERATURE)
    assert true == pytest.approx(60.0, rel=1e-12)
    assert equivalent_from_true(60.0, SEA_LEVEL_DENSITY) == 60.0


@pytest.mark.parametrize("height", [-500.1, 11_000.1, math.nan])
def test_heights_out_of_range_raise_or_are_no_number(height: float) -> None:
    for function in (temperature, pressure, density):
        with pytest.raises(ValueError, match="height"):
            function(height, STANDARD)
        row = function(np.array([0.0, height, 100.0]), STANDARD)
        assert np.isnan(row).tolist() == [False, True, False]


def test_bad_air_and_bad_speeds_raise_or_are_no_number() -> None:
    with pytest.raises(ValueError, match="temperature"):
        speed_of_sound(0.0)
    with pytest.raises(ValueError, match="pressure"):
        true_from_calibrated(50.0, -1.0, 288.0)
    with pytest.raises(ValueError, match="density"):
        equivalent_from_true(50.0, 0.0)
    with pytest.raises(ValueError, match="altimeter"):
        pressure_altitude(0.0, 0.0)
    with pytest.raises(ValueError, match="density altitude"):
        density_altitude(10_900.0, 260.0)
    for speed in (-1.0, 341.0):
        with pytest.raises(ValueError, match="Mach"):
            true_from_calibrated(speed, SEA_LEVEL_PRESSURE, SEA_LEVEL_TEMPERATURE)
        with pytest.raises(ValueError, match="Mach"):
            calibrated_from_true(speed, SEA_LEVEL_PRESSURE, SEA_LEVEL_TEMPERATURE)
    speeds = np.array([-1.0, 50.0, 341.0])
    row = true_from_calibrated(speeds, np.full(3, SEA_LEVEL_PRESSURE), np.full(3, SEA_LEVEL_TEMPERATURE))
    assert np.isnan(row).tolist() == [True, False, True]


def test_scalar_equals_array_element() -> None:
    heights: npt.NDArray[np.float64] = np.array([-500.0, 0.0, 37.5, 1_234.0, 11_000.0])
    air = Air(300.0, 100_000.0)
    for function in (temperature, pressure, density):
        row = function(heights, air)
        single = [function(float(h), air) for h in heights]
        assert all(type(x) is float for x in single)
        np.testing.assert_allclose(row, single, rtol=1e-14)
    warm, p = temperature(heights, air), pressure(heights, air)
    speeds = np.array([[50.0], [80.0]])
    grid = true_from_calibrated(speeds, p[None, :], warm[None, :])
    assert grid.shape == (2, 5)
    assert grid[1, 3] == pytest.approx(true_from_calibrated(80.0, float(p[3]), float(warm[3])), rel=1e-14)
    np.testing.assert_allclose(calibrated_from_true(grid, p[None, :], warm[None, :]), speeds + 0.0 * grid, rtol=1e-10)
    single_altitude = density_altitude(500.0, 300.0)
    assert density_altitude(np.array([500.0]), np.array([300.0]))[0] == pytest.approx(single_altitude, rel=1e-14)
