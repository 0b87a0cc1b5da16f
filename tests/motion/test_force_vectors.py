"""The path engine against force vectors, a second method on another formulation.

The air velocity as a vector in space under thrust, drag, lift and weight, lift banked about the velocity, integrated by
scipy (DOP853, rtol 1e-10) phase by phase; the start of the roll-out is found by root finding on the last heading.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import numpy.typing as npt
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from roundown.motion.aeroplane import Aeroplane
from roundown.motion.equations.kernel import State
from roundown.motion.manoeuvre import (
    ChangeSpeed,
    Flown,
    Guard,
    HeightByHeading,
    HoldSpeed,
    Leg,
    Level,
    Setting,
    TurnTo,
    Until,
    fly,
)

Floats = npt.NDArray[np.float64]
KT = 1852.0 / 3600.0  # m/s
FT = 0.3048  # m
DEG = math.pi / 180.0
G = 9.80665  # m/s2
SettingMaker = Callable[..., Setting]


@dataclass
class SecondMethod:
    """A turn to port or starboard flown by force vectors; along : wanted gain of speed, None for the throttle shut."""

    aeroplane: Aeroplane
    bank: float
    roll_out_at: float
    along: Callable[[float], float] | None = None
    along_breaks: tuple[float, ...] = ()
    climb_per_turn: float = 0.0
    wind: Callable[[float], tuple[float, float]] = lambda _: (0.0, 0.0)
    density: float = 1.225
    started: dict[str, float] = field(default_factory=dict)

    def bank_at(self, t: float) -> tuple[float, float]:
        """Bank and its rate."""
        roll, sign, time = self.aeroplane.roll_rate, math.copysign(1.0, self.bank), abs(self.bank)
        if t < time / roll:
            return sign * roll * t, sign * roll
        if t < self.roll_out_at:
            return self.bank, 0.0
        return sign * max(0.0, time - roll * (t - self.roll_out_at)), -sign * roll

    def lowered(self, what: str, takes: float, t: float) -> float:
        return min(1.0, max(0.0, (t - self.started[what]) / takes)) if what in self.started else 0.0

    def slope(self, t: float, y: Floats, inside: float) -> Floats:
        """inside : an instant within the phase, which decides on which side of its ends the bank is taken."""
        a = self.aeroplane
        velocity = y[3:]
        speed = float(np.linalg.norm(velocity))
        forward = velocity / speed
        right = np.array([forward[1], -forward[0], 0.0]) / math.hypot(forward[0], forward[1])
        normal = np.cross(right, forward)
        level = math.hypot(forward[0], forward[1])  # cosine of the angle of climb
        _, rolling = self.bank_at(inside)
        bank = self.bank_at(t)[0]
        lift = G * level / math.cos(bank)
        if self.along is None:
            q_s = 0.5 * self.density * speed**2 * a.wing_area
            drag = q_s * (
                a.zero_lift_drag
                + a.gear_drag * self.lowered("gear", a.gear_time, t)
                + a.flap_drag * self.lowered("flap", a.flap_time, t)
                + a.induced_drag * (a.mass * lift / q_s) ** 2
            )
            push = (a.idle_thrust - drag) / a.mass
            gain = push - G * forward[2]
        else:
            gain = self.along(inside)
            push = gain + G * forward[2]
        force = push * forward + lift * (math.cos(bank) * normal + math.sin(bank) * right) - np.array([0.0, 0.0, G])
        if self.climb_per_turn:  # the stick: what lift must add for the rate of climb to follow the rate of turn
            tangent = math.tan(bank)
            wanted = self.climb_per_turn * G * ((1.0 + tangent**2) * rolling / speed - tangent * gain / speed**2)
            force = force + (wanted - force[2]) / normal[2] * normal
        east, north = self.wind(float(y[2]))
        return np.array([velocity[0] + east, velocity[1] + north, velocity[2], *force])

    def fly(self, y: Floats, until: float) -> list[Any]:
        """Pieces of dense output from time 0 to `until`."""
        a, t, pieces = self.aeroplane, 0.0, []
        relative = math.sqrt(self.density / 1.225)
        limits = {"gear": (a.gear_limit, a.gear_time), "flap": (a.flap_limit, a.flap_time)}
        while t < until - 1e-12:
            breaks = [abs(self.bank) / a.roll_rate, self.roll_out_at, until, *self.along_breaks]
            breaks += [self.started[what] + limits[what][1] for what in self.started]
            end = min(b for b in breaks if b > t + 1e-12)
            waiting = [what for what in limits if what not in self.started] if self.along is None else []

            def slow_enough(what: str) -> Callable[[float, Floats], float]:
                def margin(_: float, now: Floats) -> float:
                    return float(np.linalg.norm(now[3:])) * relative - limits[what][0]

                margin.terminal = True  # type: ignore[attr-defined]
                return margin

            middle = 0.5 * (t + end)
            piece = solve_ivp(
                lambda t, y, middle=middle: self.slope(t, y, middle),
                (t, end),
                y,
                method="DOP853",
                rtol=1e-10,
                atol=1e-9,
                dense_output=True,
                events=[slow_enough(what) for what in waiting] or None,
            )
            t, y = float(piece.t[-1]), piece.y[:, -1]
            for what, times in zip(waiting, piece.t_events or [], strict=False):
                if times.size:
                    self.started[what] = t
            pieces.append(piece)
        return pieces


def flown_by_second_method(
    make: Callable[[float], SecondMethod], y: Floats, turn: float, between: tuple[float, float]
) -> tuple[float, list[Any]]:
    """Ends the roll-out on a turn from north of `turn`; make(roll_out_at). Returns when, and the pieces."""

    def finish(roll_out_at: float) -> tuple[float, list[Any]]:
        method = make(roll_out_at)
        end = roll_out_at + abs(method.bank) / method.aeroplane.roll_rate
        return end, method.fly(y, end)

    def miss(roll_out_at: float) -> float:
        velocity = finish(roll_out_at)[1][-1].y[3:5, -1]
        heading = math.atan2(velocity[0], velocity[1])
        return (heading - turn + math.pi) % (2.0 * math.pi) - math.pi

    return finish(float(brentq(miss, *between, xtol=1e-9)))


def agree(flown: Flown, end: float, pieces: list[Any], turn: float, place: float = 0.01) -> None:
    """Every record: place within `place` [m], heading within 1e-4 rad, speed within 1e-3 m/s."""
    assert flown.met
    time, state = flown.record(-1)
    assert state[4] == pytest.approx(turn, abs=1e-4)
    assert time == pytest.approx(end, abs=1e-3)
    for row in flown.records[:-1]:
        t = float(row[0])
        y = next(piece for piece in pieces if t <= piece.t[-1] + 1e-12).sol(t)
        assert math.dist(y[:3], row[1:4]) < place
        assert float(np.linalg.norm(y[3:])) == pytest.approx(float(row[4]), abs=1e-3)
        apart = math.atan2(y[3], y[4]) - float(row[5])
        assert (apart + math.pi) % (2.0 * math.pi) - math.pi == pytest.approx(0.0, abs=1e-4)


def turn_to(turn: float, bank: float, **changes: Any) -> Leg:
    leg = Leg("turn", TurnTo(turn, bank), HoldSpeed(), Level(), Until(Guard.TURN_DONE), 120.0)
    return replace(leg, **changes)


@pytest.mark.parametrize("wind", [(0.0, 0.0), (4.0, -9.0)])
def test_level_turn_with_roll_in_and_roll_out_agrees_with_force_vectors(
    invented: Aeroplane, setting_in: SettingMaker, wind: tuple[float, float]
) -> None:
    """Second method. Constant airspeed, half a turn to port at 28 deg, rolled at 20 deg/s. Within 0.01 m."""
    speed, bank = 80.0 * KT, -28.0 * DEG
    start: State = (100.0, -50.0, 60.0, speed, 0.0, 0.0, 0.0, 0.0)
    flown = fly(0.0, start, [turn_to(-math.pi, bank)], setting_in(wind))
    end, pieces = flown_by_second_method(
        lambda out: SecondMethod(invented, bank, out, along=lambda _: 0.0, wind=lambda _: wind),
        np.array([100.0, -50.0, 60.0, 0.0, speed, 0.0]),
        -math.pi,
        (15.0, 35.0),
    )
    agree(flown, end, pieces, -math.pi)


def test_slowing_turn_with_throttle_shut_gear_and_flap_coming_down_agrees_with_force_vectors(
    invented: Aeroplane, setting_in: SettingMaker
) -> None:
    """Second method. 126 deg of turn from 128 kt; both limits are passed on the way, the bank adds to the drag."""
    setting = setting_in()
    density = (setting.indicated_speed(1.0, 150.0)) ** 2 * 1.225
    speed, bank, turn = setting.true_speed(128.0 * KT, 150.0), 33.0 * DEG, 2.2
    leg = turn_to(turn, bank, speed=ChangeSpeed(40.0 * KT, 20.0), gear=1.0, flap=1.0)
    flown = fly(0.0, (0.0, 0.0, 150.0, speed, 0.0, 0.0, 0.0, 0.0), [leg], setting)
    end, pieces = flown_by_second_method(
        lambda out: SecondMethod(invented, bank, out, density=density),
        np.array([0.0, 0.0, 150.0, 0.0, speed, 0.0]),
        turn,
        (15.0, 19.0),
    )
    assert flown.records[-1, 7:].tolist() == pytest.approx([1.0, 1.0])
    assert flown.records[-1, 4] < 95.0 * KT
    agree(flown, end, pieces, turn)


def test_descending_turn_with_height_tied_to_heading_agrees_with_force_vectors(
    invented: Aeroplane, setting_in: SettingMaker
) -> None:
    """Second method. 300 ft to 100 ft in half a turn, slowing at 0.5 m/s2, wind rising with height."""
    table = [(0.0, 1.0, -6.0), (200.0, 3.0, -12.0)]
    setting = setting_in(table=table)
    speed, bank, high, low = 48.0, -30.0 * DEG, 300.0 * FT, 100.0 * FT
    per_turn = (low - high) / -math.pi
    leg = turn_to(-math.pi, bank, speed=ChangeSpeed(30.0 * KT, 0.5), height=HeightByHeading(low, -math.pi))
    flown = fly(0.0, (0.0, 0.0, high, speed, 0.0, 0.0, 1.0, 1.0), [replace(leg, gear=1.0, flap=1.0)], setting)

    def wind(height: float) -> tuple[float, float]:
        part = height / 200.0
        return 1.0 + 2.0 * part, -6.0 - 6.0 * part

    end, pieces = flown_by_second_method(
        lambda out: SecondMethod(invented, bank, out, along=lambda _: -0.5, climb_per_turn=per_turn, wind=wind),
        np.array([0.0, 0.0, high, 0.0, speed, 0.0]),
        -math.pi,
        (15.0, 27.0),
    )
    agree(flown, end, pieces, -math.pi)
    assert flown.records[-1, 3] == pytest.approx(low, abs=0.005)
