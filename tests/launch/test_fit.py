"""A type fitted to measurements: what comes back, how well it is known, and what is left alone."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from roundown.errors import NoSolution
from roundown.launch.fit import TOLD_BY, WORTH, Fit, below_stall, fit_type
from roundown.launch.measured import Flown, Measured, What

from .fit_cases import FT, KT, LB, MACHINE, OTTERY, flights, like, read_of, stall

TRUTH = like(OTTERY, MACHINE)
MASS = 10_500.0 * LB


def fitted(fit: Fit) -> dict[str, float]:
    return {each.name: each.value for each in fit.fitted}


def test_every_value_that_may_be_fitted_says_what_would_tell_it() -> None:
    assert set(TOLD_BY) == set(WORTH) == set(MACHINE)


@pytest.mark.parametrize("start", [{}, {"figure_of_merit": 0.9, "zero_lift_drag": 0.016, "induced_drag": 0.1}])
def test_a_known_machine_comes_back_from_a_wrong_start(start: dict[str, float]) -> None:
    """Constructed: measurements without error, made by the same forward model from other values."""
    fit = fit_type(like(OTTERY, start), read_of(TRUTH, flights()))
    assert fit.held == ()
    assert fitted(fit) == {name: pytest.approx(value, rel=1e-6) for name, value in MACHINE.items()}
    assert fit.chi_square == pytest.approx(0.0, abs=1e-9)
    assert not any(each.outlying for each in fit.compared)
    assert {each.name: each.before for each in fit.fitted} == {
        name: like(OTTERY, start)[name].value for name in MACHINE
    }


def test_with_errors_of_the_stated_spread_values_come_back_within_three_deviations() -> None:
    """Constructed, seeded. Of nine values one beyond three deviations has a chance of 2.4 per cent."""
    rng = np.random.default_rng(1_944)
    rows = [replace(row, value=row.value + row.spread * rng.normal()) for row in read_of(TRUTH, flights())]
    fit = fit_type(OTTERY, rows)
    assert len(fit.fitted) == 9
    for each in fit.fitted:
        assert each.deviation is not None
        assert abs(each.value - MACHINE[each.name]) < 3.0 * each.deviation, each.name
    assert fit.freedom == len(rows) - 9
    assert not fit.poor


def stalls(rng: np.random.Generator | None = None, each: int = 3) -> list[Measured]:
    """Stalls clean and with full flap of the machine, with errors of a knot where a generator is given."""
    rows = read_of(TRUTH, [stall(flap, i + 1, MASS) for flap in (0.0, 1.0) for i in range(each)])
    return rows if rng is None else [replace(row, value=row.value + row.spread * rng.normal()) for row in rows]


def test_lift_from_stalls_alone_is_the_closed_form() -> None:
    """Closed form: CL = 2 W / (rho S V^2); one knot of spread in n stalls is 2 CL / V / root n of deviation."""
    for flap, name in ((0.0, "lift_clean"), (1.0, "lift_flap")):
        row = replace(stall(flap, mass=MASS), value=36.0 + 6.0 * (1.0 - flap))
        fit = fit_type(OTTERY, [row] * 4)
        (only,) = fit.fitted
        lift = 2.0 * MASS * 9.80665 / (1.225 * OTTERY["wing_area"].value * row.value**2)
        assert only.name == name
        assert only.value == pytest.approx(lift, rel=1e-4)
        assert only.deviation == pytest.approx(2.0 * lift / row.value * 1.0 * KT / 2.0, rel=1e-3)
        assert len(fit.held) == 8


@pytest.mark.published
def test_a_published_stall_gives_its_lift_coefficient() -> None:
    """Wing loading 3500 Pa, stall 116.167 kt CAS: lift coefficient 1.6; 0.001 kt is 3e-5 of it.

    Source: A. Sobester, open-source aircraft-design recipes, test suite, stall speed.
    """
    mass = 3_500.0 * OTTERY["wing_area"].value / 9.80665
    row = Measured(What.STALL, "stall 1", 116.167 * KT, 0.5 * KT, Flown(mass))
    assert fitted(fit_type(OTTERY, [row]))["lift_clean"] == pytest.approx(1.6, abs=3e-5)


@pytest.mark.published
def test_a_light_single_stalls_at_its_printed_speed() -> None:
    """1542 kg, 13.46 m2, 69 KCAS clean: lift coefficient 1.45. Half a knot is 0.021 of it, printed to 0.01.

    Source: S. Gudmundsson, General Aviation Aircraft Design, 2013, as its data are used in the recipes named above.
    """
    light = like(OTTERY, {"wing_area": 13.46})
    row = Measured(What.STALL, "stall 1", 69.0 * KT, 0.5 * KT, Flown(1_542.0))
    assert fitted(fit_type(light, [row]))["lift_clean"] == pytest.approx(1.45, abs=0.021 + 0.005)


def test_one_deviation_covers_two_times_in_three() -> None:
    """Constructed: of 120 seeded values 0.683 x 120 = 82 lie within one deviation, give or take 3 x 5.1."""
    inside = 0
    for k in range(60):
        rng = np.random.default_rng(np.random.SeedSequence(1_945, spawn_key=(k,)))
        for each in fit_type(OTTERY, stalls(rng)).fitted:
            assert each.deviation is not None
            inside += abs(each.value - MACHINE[each.name]) < each.deviation
    assert abs(inside - 0.683 * 120) < 3.0 * math.sqrt(120 * 0.683 * 0.317)


def test_stalls_tell_nothing_of_drag_and_power() -> None:
    fit = fit_type(OTTERY, stalls())
    assert set(fitted(fit)) == {"lift_clean", "lift_flap"}
    held = {each.name: each for each in fit.held}
    assert set(held) == set(MACHINE) - {"lift_clean", "lift_flap"}
    assert all(each.like == "" for each in held.values())
    for name in held:
        assert fit.values[name] is OTTERY[name]


def test_stalls_with_one_part_of_flap_tell_one_lift_only() -> None:
    """Own reasoning: at 0.65 the sum 0.35 clean + 0.65 full is measured; full flap weighs more, and clean is held."""
    fit = fit_type(OTTERY, read_of(TRUTH, [stall(0.65, i + 1) for i in range(4)]))
    assert set(fitted(fit)) == {"lift_flap"}
    assert next(each for each in fit.held if each.name == "lift_clean").like == "lift_flap"
    reached = 0.35 * 1.42 + 0.65 * fitted(fit)["lift_flap"]
    assert reached == pytest.approx(0.35 * 1.5 + 0.65 * 2.1, rel=1e-6)


def test_one_level_speed_cannot_tell_drag_from_power() -> None:
    row = Measured(What.LEVEL_TRUE, "level 1", 100.0, 2.0 * KT, Flown(MASS))
    fit = fit_type(OTTERY, read_of(TRUTH, [row, replace(row, name="level 2")]))
    assert set(fitted(fit)) == {"zero_lift_drag"}
    assert next(each for each in fit.held if each.name == "figure_of_merit").like == "zero_lift_drag"
    assert fit.compared[0].expected == pytest.approx(fit.compared[0].measured.value, rel=1e-6)


def test_a_run_alone_tells_of_the_engine_and_not_of_the_pilot() -> None:
    """Own rule: lift comes from stalls, the margin from an airspeed at lift-off; one run without them is the engine."""
    row = Measured(What.RUN, "run 1", 280.0, 15.0 * FT, Flown(MASS, flap=0.65))
    fit = fit_type(OTTERY, [row])
    assert set(fitted(fit)) == {"figure_of_merit"}
    assert fit.compared[0].expected == pytest.approx(280.0, rel=1e-6)
    held = {each.name: each.like for each in fit.held}
    assert held["lift_flap"] == held["launch.lift_off_margin"] == ""
    assert len(held) == 8


def test_measurements_beyond_what_a_type_may_be_stop_at_the_limit_without_a_deviation() -> None:
    row = stall(0.0, mass=MASS)
    (only,) = fit_type(OTTERY, [replace(row, value=20.0, spread=0.3 * KT)]).fitted
    assert only.value == pytest.approx(4.0, rel=1e-4)
    assert only.deviation is None


def test_as_many_values_as_measurements_leave_nothing_to_judge_by() -> None:
    fit = fit_type(OTTERY, stalls(each=1))
    assert (fit.freedom, fit.chance, fit.poor) == (0, None, False)


def test_a_blunder_is_seen() -> None:
    """Constructed: one stall of six read 12 kt too high. It lies two thirds of it from the mean of its three."""
    rows = stalls()
    rows[1] = replace(rows[1], value=rows[1].value + 12.0 * KT)
    fit = fit_type(OTTERY, rows)
    assert fit.poor
    worst = max(fit.compared, key=lambda each: abs(each.spreads))
    assert worst.measured.name == "stall 2"
    assert worst.outlying
    assert worst.spreads == pytest.approx(8.0, abs=0.2)


def test_the_chance_of_the_misfit_by_hand() -> None:
    """Own arithmetic: with two degrees of freedom the chance is exp(-chi-square / 2)."""
    rows = [replace(stall(0.0, i + 1, MASS), value=42.0 + shift * KT) for i, shift in enumerate((-1.0, 0.0, 1.0))]
    fit = fit_type(OTTERY, rows)
    assert fit.freedom == 2
    assert fit.chi_square == pytest.approx(2.0, rel=1e-2)
    assert fit.chance == pytest.approx(math.exp(-0.5 * fit.chi_square), rel=1e-9)


def test_a_wider_spread_makes_wider_deviations_and_the_same_values() -> None:
    rows = stalls()
    wide = fit_type(OTTERY, [replace(row, spread=2.0 * row.spread) for row in rows])
    for narrow, broad in zip(fit_type(OTTERY, rows).fitted, wide.fitted, strict=True):
        assert broad.value == pytest.approx(narrow.value, rel=1e-9)
        assert (broad.deviation or 0.0) == pytest.approx(2.0 * (narrow.deviation or 0.0), rel=1e-6)


def test_a_run_that_never_ends_is_refused_by_its_name() -> None:
    heavy = Measured(What.RUN, "run 1", 300.0, 5.0, Flown(4.0 * MASS, flap=0.65))
    with pytest.raises(NoSolution, match="run 1 never comes to lift-off as the type is now"):
        fit_type(OTTERY, [*stalls(), heavy])


def test_what_was_flown_below_the_stall_is_named() -> None:
    slow = Flown(MASS, height=1_000.0 * FT, begin=110.0 * KT, end=75.0 * KT)
    row = Measured(What.SLOW_DOWN, "slow-down 1", 20.0, 0.5, slow)
    assert below_stall(fit_type(OTTERY, [*stalls(), row])) == ["slow-down 1"]
    assert below_stall(fit_type(OTTERY, read_of(TRUTH, stalls()))) == []


def test_the_same_measurements_give_the_same_type_to_the_bit() -> None:
    rows = [*stalls(np.random.default_rng(2)), *read_of(TRUTH, flights()[-4:])]
    assert fitted(fit_type(OTTERY, rows)) == fitted(fit_type(OTTERY, rows))
