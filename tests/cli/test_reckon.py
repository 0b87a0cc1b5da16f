"""Single sums from the command line: the keys of every answer, published cases, and refusals in one sentence."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from typing import Any

import pytest

Call = Callable[..., Any]
KEYS = {
    "wind": (
        "wind --wind 070/12 --over-deck 30",
        ["course_deg", "speed_kt", "over_deck_kt", "off_bow_deg", "attained"],
    ),
    "true-wind": ("true-wind --course 90 --speed 20 --relative 030/25", ["wind_from_deg", "wind_kt"]),
    "turn": ("turn --tas 90 --bank 30", ["radius_yd", "rate_deg_s", "half_turn_s", "load_factor"]),
    "air": ("air --altitude 10000 --cas 150", ["temperature_c", "pressure_hpa", "density_kg_m3", "tas_kt"]),
    "triangle": (
        "triangle --course 45 --tas 120 --wind 300/20",
        ["heading_deg", "ground_speed_kt", "wind_correction_deg"],
    ),
    "circuit": (
        "circuit --doctrine fast-carrier-1944 --type ottery --over-deck 32",
        [
            "abeam_yd", "turn_in_ahead_of_ramp_yd", "ramp_bearing_off_nose_deg", "break_bank_deg", "final_bank_deg",
            "final_turn_s", "break_to_ramp_s", "initial_to_break_s",
        ],
    ),
}  # fmt: skip


def answer(call: Call, line: str) -> dict[str, Any]:
    outcome = call("reckon", *line.split(), "--json")
    assert outcome.code == 0, outcome.err
    found = json.loads(outcome.out)
    assert isinstance(found, dict)
    return found


def apart(first: float, second: float) -> float:
    return abs((first - second + 180.0) % 360.0 - 180.0)


@pytest.mark.parametrize("name", KEYS)
def test_every_answer_is_flat_and_has_exactly_its_keys(call: Call, name: str) -> None:
    line, keys = KEYS[name]
    found = answer(call, line)
    assert list(found) == keys
    for key, value in found.items():
        assert isinstance(value, bool if key == "attained" else (int, float)), key
        assert math.isfinite(value)


@pytest.mark.parametrize("name", KEYS)
def test_without_json_the_answer_is_one_sentence_with_units(call: Call, name: str) -> None:
    outcome = call("reckon", *KEYS[name][0].split())
    assert outcome.code == 0
    assert len(outcome.out.splitlines()) == 1
    assert outcome.out.rstrip().endswith(".")
    assert any(unit in outcome.out for unit in (" kt", " yd", " deg", " C,"))


def test_air_without_a_speed_has_no_true_airspeed(call: Call) -> None:
    assert answer(call, "air --altitude 10000")["tas_kt"] is None


# Published


@pytest.mark.published
def test_drift_correction_as_printed(call: Call) -> None:
    """Source: Mapping Toolbox documentation (MathWorks), driftcorr, example: heading 347.56, ground speed 127.32 kt.

    Course 000, airspeed 160 kt, wind 310/45 kt; drift correction printed as -12.442. Half of the last printed digit.
    """
    found = answer(call, "triangle --course 0 --tas 160 --wind 310/45")
    assert found["heading_deg"] == pytest.approx(347.56, abs=0.005)
    assert found["ground_speed_kt"] == pytest.approx(127.32, abs=0.005)
    assert found["wind_correction_deg"] == pytest.approx(-12.442, abs=0.0005)


@pytest.mark.published
def test_true_wind_of_a_deck_examination(call: Call) -> None:
    """Source: US Coast Guard deck examination bank, 2014: course 180, 22 kn; apparent wind 20 kn, 70 deg to port.

    Answer 051, 24.0 kn, chosen from a plot: half a degree, and 0.2 kn as the plot allows.
    """
    found = answer(call, "true-wind --course 180 --speed 22 --relative 290/20")
    assert found["wind_from_deg"] == pytest.approx(51.0, abs=0.5)
    assert found["wind_kt"] == pytest.approx(24.0, abs=0.2)


@pytest.mark.published
def test_standard_air_at_ten_thousand_feet(call: Call) -> None:
    """Source: U.S. Standard Atmosphere 1976, as in Badick and Johnson, Flight Theory and Aerodynamics, Table 2.1.

    10,000 ft: 23.34 F, pressure ratio 0.6877, density ratio 0.7385; half of the last printed digit of each.
    """
    found = answer(call, "air --altitude 10000")
    assert found["temperature_c"] * 1.8 + 32.0 == pytest.approx(23.34, abs=0.005)
    assert found["pressure_hpa"] / 1013.25 == pytest.approx(0.6877, abs=0.00005)
    assert found["density_kg_m3"] / 1.225 == pytest.approx(0.7385, abs=0.00005)


# Own arithmetic


def test_a_level_turn_by_hand(call: Call) -> None:
    """Own arithmetic: 90 kt = 46.3 m/s; R = V^2 / (g tan 30) = 378.6 m = 414.1 yd; omega = V / R; n = 1 / cos 30."""
    found = answer(call, "turn --tas 90 --bank 30")
    speed, radius = 46.3, 46.3**2 / (9.80665 * math.tan(math.radians(30)))
    assert found["radius_yd"] == pytest.approx(radius / 0.9144, rel=1e-4)
    assert found["rate_deg_s"] == pytest.approx(math.degrees(speed / radius), rel=1e-4)
    assert found["half_turn_s"] == pytest.approx(math.pi * radius / speed, rel=1e-4)
    assert found["load_factor"] == pytest.approx(2 / math.sqrt(3), rel=1e-6)


def test_wind_down_the_deck_is_ship_and_wind_together(call: Call) -> None:
    """Own arithmetic: into a wind of 12 kt a ship at 18 kt has 30 kt over her deck."""
    found = answer(call, "wind --wind 070/12 --over-deck 30")
    assert (found["course_deg"], found["speed_kt"]) == pytest.approx((70.0, 18.0))
    assert (found["over_deck_kt"], found["off_bow_deg"], found["attained"]) == (30.0, 0.0, True)


@pytest.mark.parametrize(("side", "degrees"), [("P10", -10.0), ("S10", 10.0), ("10 deg port", -10.0)])
def test_wind_off_the_bow_closes_the_triangle(call: Call, side: str, degrees: float) -> None:
    """Second method: the ship's own answer put through true-wind gives the wind back."""
    outcome = call("reckon", "wind", "--wind", "070/12", "--over-deck", "30", "--off-bow", side, "--json")
    found = json.loads(outcome.out)
    assert found["attained"] is True
    assert found["off_bow_deg"] == pytest.approx(degrees)
    felt = f"{found['off_bow_deg'] % 360:07.3f}/{found['over_deck_kt']}"
    back = answer(call, f"true-wind --course {found['course_deg']} --speed {found['speed_kt']} --relative {felt}")
    assert apart(back["wind_from_deg"], 70.0) < 0.01
    assert back["wind_kt"] == pytest.approx(12.0, abs=0.01)


def test_port_and_starboard_are_mirror_images(call: Call) -> None:
    port = answer(call, "wind --wind 000/12 --over-deck 30 --off-bow P10")
    starboard = answer(call, "wind --wind 000/12 --over-deck 30 --off-bow S10")
    assert port["speed_kt"] == pytest.approx(starboard["speed_kt"])
    assert apart(port["course_deg"], -starboard["course_deg"]) < 1e-4


def test_of_two_courses_the_one_nearer_the_base_course_is_taken(call: Call) -> None:
    """Constructed: far less wind wanted than blows, so that a ship may run either side of it."""
    courses = {
        base: answer(call, f"wind --wind 000/20 --over-deck 12 --off-bow S5 --base-course {base} --max-speed 30")
        for base in (90, 270)
    }
    for base, found in courses.items():
        assert apart(found["course_deg"], base) <= apart(courses[360 - base]["course_deg"], base) + 1e-6


def test_what_the_ship_cannot_do_is_said(call: Call) -> None:
    """Own arithmetic: 10 kt of ship and 12 kt of wind are 22 kt over the deck at most."""
    found = answer(call, "wind --wind 070/12 --over-deck 30 --max-speed 10")
    assert found["attained"] is False
    assert (found["speed_kt"], found["over_deck_kt"]) == pytest.approx((10.0, 22.0))
    outcome = call("reckon", "wind", "--wind", "070/12", "--over-deck", "30", "--max-speed", "10")
    assert outcome.code == 0
    assert "22.0 kt" in outcome.out


@pytest.mark.parametrize("wind", ["000/0", "calm", "270/0", "360/0.0"])
def test_in_a_calm_the_ship_makes_all_the_wind_on_her_base_course(call: Call, wind: str) -> None:
    """A calm has no direction: the base course is kept; without one any course serves, and the answer says so."""
    found = answer(call, f"wind --wind {wind} --over-deck 20 --base-course 135")
    assert (found["course_deg"], found["speed_kt"], found["over_deck_kt"]) == pytest.approx((135.0, 20.0, 20.0))
    assert found["attained"] is True
    assert "calm" in call("reckon", "wind", "--wind", wind, "--over-deck", "20").out


def test_running_with_the_wind_no_wind_is_felt(call: Call) -> None:
    """Own arithmetic: on course 090 at 20 kt in a flat calm on deck the wind is 270, 20 kt."""
    found = answer(call, "true-wind --course 90 --speed 20 --relative calm")
    assert (found["wind_from_deg"], found["wind_kt"]) == pytest.approx((270.0, 20.0))


def test_directions_of_answers_stay_below_360(call: Call) -> None:
    for course in (0, 360, 359.9999):
        found = answer(call, f"triangle --course {course} --tas 120 --wind calm")
        assert 0.0 <= found["heading_deg"] < 360.0
        assert found["ground_speed_kt"] == pytest.approx(120.0)
        assert found["wind_correction_deg"] == 0.0


def test_true_and_calibrated_airspeed_agree_at_sea_level_and_part_aloft(call: Call) -> None:
    assert answer(call, "air --altitude 0 --cas 150")["tas_kt"] == pytest.approx(150.0, abs=0.01)
    assert (
        answer(call, "air --altitude 10000 --cas 150")["tas_kt"] > 170.0
    )  # 150 / sqrt(0.7385) = 174.5, incompressible


def test_more_wind_over_the_deck_moves_the_turn_in_ahead_but_not_abeam(call: Call) -> None:
    """Own arithmetic: wind along the deck carries a turn along the deck, never across it, whatever its strength."""
    light, strong = (
        answer(call, f"circuit --doctrine fast-carrier-1944 --type ottery --over-deck {wind}") for wind in (25, 35)
    )
    assert strong["abeam_yd"] == pytest.approx(light["abeam_yd"], rel=1e-6)
    assert strong["turn_in_ahead_of_ramp_yd"] > light["turn_in_ahead_of_ramp_yd"]


# Refusals


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("wind --wind 400/12 --over-deck 30", "--wind = 400/12: a direction is three digits from 000 to 360."),
        ("wind --wind 70/12 --over-deck 30", "--wind = 70/12: not a wind"),
        ("wind --wind -10/12 --over-deck 30", "--wind"),
        ("wind --wind 070/-3 --over-deck 30", "--wind = 070/-3: "),
        ("wind --wind 070/nan --over-deck 30", "--wind = 070/nan: not a wind speed."),
        ("wind --wind 070/inf --over-deck 30", "--wind = 070/inf: not a wind speed."),
        ("wind --wind 070/12ft --over-deck 30", "--wind = 070/12ft: unit 'ft' does not fit a wind speed"),
        ("wind --wind 070/12 --over-deck -3", "--over-deck = -3: 0.1 to 100 is allowed."),
        ("wind --wind 070/12 --over-deck nan", "--over-deck = nan: 0.1 to 100 is allowed."),
        ("wind --wind 070/12 --over-deck inf", "--over-deck = inf: 0.1 to 100 is allowed."),
        ("wind --wind 070/12 --over-deck thirty", "--over-deck"),
        ("wind --wind 070/12", "--over-deck"),
        ("wind --wind 070/12 --over-deck 30 --off-bow X10", "--off-bow = X10: not an angle off the bow."),
        ("wind --wind 070/12 --over-deck 30 --off-bow 10", "--off-bow = 10: an angle off the bow needs its unit: deg."),
        ("wind --wind 070/12 --over-deck 30 --min-speed -1", "--min-speed = -1: 0 to 60 is allowed."),
        ("wind --wind 070/12 --over-deck 30 --min-speed 20 --max-speed 10", "--min-speed 20 is above --max-speed 10."),
        ("wind --wind 070/12 --over-deck 30 --base-course 361", "--base-course = 361: 0 to 360 is allowed."),
        ("true-wind --course 90 --speed -20 --relative 030/25", "--speed = -20: 0 to 60 is allowed."),
        ("true-wind --course nan --speed 20 --relative 030/25", "--course = nan: 0 to 360 is allowed."),
        ("true-wind --course 90 --speed 20 --relative 30", "--relative = 30: not a wind"),
        ("turn --tas -90 --bank 30", "--tas = -90: 1 to 600 is allowed."),
        ("turn --tas 90 --bank 90", "--bank = 90: 0.5 to 85 is allowed."),
        ("turn --tas 90 --bank 0", "--bank = 0: 0.5 to 85 is allowed."),
        ("turn --tas inf --bank 30", "--tas = inf: 1 to 600 is allowed."),
        ("air --altitude nan", "--altitude = nan: -1600 to 36000 is allowed."),
        ("air --altitude 100000", "--altitude = 100000: -1600 to 36000 is allowed."),
        ("air --altitude 1000 --cas -150", "--cas = -150: 1 to 600 is allowed."),
        ("triangle --course 0 --tas 20 --wind 090/45", "stronger than the airspeed"),
        ("triangle --course 0 --tas 0 --wind 090/45", "--tas = 0: 1 to 600 is allowed."),
        ("circuit --doctrine slow-carrier --type ottery --over-deck 30", "--doctrine = slow-carrier: there is no"),
        ("circuit --doctrine fast-carier-1944 --type ottery --over-deck 30", "Did you mean fast-carrier-1944."),
        ("circuit --doctrine fast-carrier-1944 --type auk --over-deck 30", "--type = auk: there is no type of that"),
        ("circuit --doctrine fast-carrier-1944 --type otery --over-deck 30", "Did you mean ottery."),
        ("circuit --doctrine fast-carrier-1944 --type ottery --over-deck -5", "--over-deck = -5: 0 to 60 is allowed."),
        ("circuit --doctrine fast-carrier-1944 --type ottery --over-deck 30 --ship x", "--ship = x: there is no ship"),
        ("course", "course"),
    ],
)
def test_what_cannot_be_reckoned_is_refused_in_a_sentence(call: Call, line: str, says: str) -> None:
    for ending in ((), ("--json",)):
        outcome = call("reckon", *line.split(), *ending)
        assert outcome.code == 2
        said = " ".join(outcome.err.replace("│", " ").split())
        assert says in said
        assert outcome.out == ""
        assert len(outcome.err) < 500


@pytest.mark.parametrize(
    ("bare", "with_units"),
    [
        ("turn --tas 90 --bank 30", ["turn", "--tas", "90 kt", "--bank", "30 deg"]),
        ("air --altitude 10000 --cas 150", ["air", "--altitude", "10,000 ft", "--cas", "277.8 km/h"]),
        (
            "triangle --course 45 --tas 120 --wind 300/20",
            ["triangle", "--course", "045", "--tas", "120 kt", "--wind", "300/20 kt"],
        ),
    ],
)
def test_a_number_may_stand_bare_or_with_its_unit(call: Call, bare: str, with_units: list[str]) -> None:
    """Second method: the same sum asked both ways; 150 kt are 277.8 km/h exactly."""
    plain = json.loads(call("reckon", *bare.split(), "--json").out)
    assert json.loads(call("reckon", *with_units, "--json").out) == pytest.approx(plain)
