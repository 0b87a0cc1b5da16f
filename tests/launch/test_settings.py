"""What may be done on the brakes: moments by hand, limits, and the sentences that come of them."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from roundown.findings import Finding, Level
from roundown.launch.settings import (
    SettingsFacts,
    brake_limit,
    least_attitude,
    power_for_thrust,
    pressure_limit,
    propeller_clearance,
    rudder_speed_at,
    settings_findings,
    tail_rise_limit,
)
from roundown.motion.engine import Engine, power_at

FT, LBF, LB, HP, INHG = 0.3048, 4.448_221_615, 0.453_592_37, 745.699_871_58, 3386.389
KT = 1852.0 / 3600.0
DEG = math.pi / 180.0
FULL = 2_600.0 / 60.0

CONSTRUCTED = SettingsFacts(
    mass=8_000.0 * LB,
    engine=Engine(1_200.0 * HP, 46.0 * INHG, FULL, 1_500.0),
    figure_of_merit=0.75,
    propeller_diameter=9.75 * FT,
    wheels_ahead=2.0 * FT,
    thrust_height=6.0 * FT,
    tail_hold=0.2,
    brake_friction=0.5,
    rudder_speed=40.0 * KT,
    three_point=12.0 * DEG,
    tail_up=2.0 * DEG,
    clearance_three_point=2.0 * FT,
    clearance_tail_up=1.0 * FT,
    braked_pressure=26.0 * INHG,
    density=1.225,
    wind_ahead=30.0 * KT,
)


def found(facts: SettingsFacts, name: str) -> Finding | None:
    return next((finding for finding in settings_findings(facts) if finding.id == name), None)


def test_tail_rises_where_the_moments_balance() -> None:
    """Own arithmetic: 8000 lb x 2 ft x 1.2 / 6 ft = 3200 lbf; without the elevator 2666.7 lbf."""
    assert tail_rise_limit(8_000 * LB, 2 * FT, 6 * FT, 0.2) / LBF == pytest.approx(3_200.0, rel=1e-6)
    assert tail_rise_limit(8_000 * LB, 2 * FT, 6 * FT, 0.0) / LBF == pytest.approx(2_666.67, rel=1e-5)


def test_wheels_under_the_weight_hold_no_tail_down() -> None:
    """Limit case."""
    assert tail_rise_limit(8_000 * LB, 0.0, 6 * FT, 0.5) == 0.0


def test_brakes_hold_a_part_of_the_weight() -> None:
    """Own arithmetic: half of 8000 lb."""
    assert brake_limit(8_000 * LB, 0.5) / LBF == pytest.approx(4_000.0, rel=1e-6)


@pytest.mark.parametrize(
    ("knots", "pounds"),
    [(0.0, 4_430.0), (15.0, 4_096.0), (25.0, 3_876.0), (40.0, 3_552.0), (60.0, 3_143.0)],
)
def test_power_for_a_thrust_in_a_wind(knots: float, pounds: float) -> None:
    """Constructed case PHY-74: 1200 hp, 9.75 ft, 0.75 of it spent well, gives these thrusts. Within 2 lb, so 1.2 hp."""
    power = power_for_thrust(pounds * LBF, knots * KT, 1.225, 9.75 * FT, 0.75)
    assert power / HP == pytest.approx(1_200.0, abs=1.2)


def test_pressure_limit_gives_that_thrust_and_full_power_has_none() -> None:
    """There and back: the power at that pressure is the one that gives the thrust."""
    limit = pressure_limit(CONSTRUCTED, 3_200.0 * LBF)
    assert limit is not None
    power = power_for_thrust(3_200.0 * LBF, 30.0 * KT, 1.225, 9.75 * FT, 0.75)
    assert power_at(CONSTRUCTED.engine, limit, FULL) == pytest.approx(power, rel=1e-9)
    assert pressure_limit(CONSTRUCTED, 5_000.0 * LBF) is None


def test_more_pressure_may_be_used_in_more_wind() -> None:
    """The propeller pulls less in a wind, so that the same thrust takes more power."""
    calm, wind = (pressure_limit(replace(CONSTRUCTED, wind_ahead=w * KT), 3_200.0 * LBF) for w in (0.0, 30.0))
    assert calm is not None
    assert wind is not None
    assert calm < wind


def test_rudder_speed_goes_with_the_root_of_the_power() -> None:
    """Own arithmetic: a quarter of the power, half the airspeed; no power, none."""
    assert rudder_speed_at(40.0, 0.25) == pytest.approx(20.0)
    assert rudder_speed_at(40.0, 1.0) == 40.0
    assert rudder_speed_at(40.0, 0.0) == 0.0


def test_propeller_clearance_on_a_line_through_both_attitudes() -> None:
    """Own arithmetic: 2 ft at 12 degrees, 1 ft at 2 degrees: 1.5 ft at 7, nothing at -8."""
    for degrees, feet in ((12.0, 2.0), (2.0, 1.0), (7.0, 1.5), (-8.0, 0.0), (-10.0, -0.2)):
        assert propeller_clearance(degrees * DEG, CONSTRUCTED) / FT == pytest.approx(feet, abs=1e-9)
    assert least_attitude(CONSTRUCTED) / DEG == pytest.approx(-8.0)
    assert least_attitude(replace(CONSTRUCTED, clearance_tail_up=2.0 * FT)) == -math.inf


def test_good_settings_find_nothing() -> None:
    assert settings_findings(CONSTRUCTED) == []
    assert settings_findings(replace(CONSTRUCTED, braked_pressure=None)) == []


def test_power_above_the_tail_rise_limit_is_a_stop_and_its_remedy_works() -> None:
    facts = replace(CONSTRUCTED, braked_pressure=42.0 * INHG, rudder_speed=10.0 * KT)
    finding = found(facts, "tail-rise")
    assert finding is not None
    assert finding.level is Level.STOP
    assert finding.value == "42.0 inHg on the brakes"
    inches = float(finding.remedy.split("Run up to ")[1].split(" inHg")[0])
    assert found(replace(facts, braked_pressure=inches * INHG), "tail-rise") is None
    assert found(replace(facts, braked_pressure=(inches + 1.0) * INHG), "tail-rise") is not None


def test_power_the_brakes_do_not_hold_is_a_caution_and_its_remedy_works() -> None:
    facts = replace(CONSTRUCTED, braked_pressure=40.0 * INHG, brake_friction=0.35, rudder_speed=10.0 * KT)
    finding = found(facts, "brakes-slip")
    assert finding is not None
    assert finding.level is Level.CAUTION
    inches = float(finding.remedy.split("Run up to ")[1].split(" inHg")[0])
    assert found(replace(facts, braked_pressure=inches * INHG), "brakes-slip") is None


def test_rudder_that_does_not_hold_the_power_let_go_with_is_a_caution_and_either_remedy_works() -> None:
    """Constructed: 26 inHg is half the power; full rudder holds it from 40 x 0.707 = 28.3 kt."""
    facts = replace(CONSTRUCTED, wind_ahead=25.0 * KT)
    finding = found(facts, "rudder-late")
    assert finding is not None
    assert finding.level is Level.CAUTION
    assert finding.value == "let go at 26.0 inHg, full rudder holds it only from 28.3 kt"
    assert finding.limit == "in the wind over the deck the dial shows 25.0 kt"
    assert finding.remedy == "Let go at 21 inHg at most, or with 29 kt over the deck."
    assert found(replace(facts, braked_pressure=21.0 * INHG), "rudder-late") is None
    assert found(replace(facts, wind_ahead=29.0 * KT), "rudder-late") is None


def test_in_a_calm_no_remedy_asks_for_the_engine_to_be_shut() -> None:
    finding = found(replace(CONSTRUCTED, wind_ahead=0.0), "rudder-late")
    assert finding is not None
    assert finding.remedy == "Have 29 kt over the deck."


@pytest.mark.parametrize(("feet", "level"), [(0.45, Level.CAUTION), (0.51, None)])
def test_thin_propeller_clearance_is_a_caution(feet: float, level: Level | None) -> None:
    finding = found(replace(CONSTRUCTED, clearance_tail_up=feet * FT), "propeller-clearance")
    assert (finding.level if finding else None) is level


def test_a_nose_held_so_low_that_the_propeller_strikes_is_a_stop() -> None:
    strike = settings_findings(CONSTRUCTED, lowest=-9.0 * DEG)
    assert [(finding.id, finding.level) for finding in strike] == [("propeller-clearance", Level.STOP)]
    assert strike[0].value == "the propeller strikes the deck"
