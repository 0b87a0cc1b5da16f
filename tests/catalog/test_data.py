"""The catalog that comes with the program: sources, and types that could fly. Numbers themselves are invented."""

from __future__ import annotations

import hashlib
import math
import re
from importlib import resources
from itertools import combinations

import pytest

from roundown.catalog.load import builtin_catalog
from roundown.catalog.types import TABLES
from roundown.quantities import HEIGHT_OVER_DECK, HEIGHT_OVER_SEA, KNOT

CATALOG = builtin_catalog()
TYPES = CATALOG["types"]
SEA_LEVEL_DENSITY, GRAVITY = 1.225, 9.80665  # kg/m3, m/s2
FASTEST_DOWNWIND = 100 * KNOT

# First eight digits of the SHA-256 of names of well-known carriers and carrier aeroplanes of the period, small letters.
KNOWN_NAMES = frozenset({
    "00a06f76", "0b500520", "0e39d2c2", "0ea9c941", "193f4280", "195f983d", "198becaf", "19f76030", "1c15790b",
    "1e005c92", "1f353122", "1fadffb8", "20b74d0c", "2103aef4", "248b3b8b", "24b14bab", "29008210", "29d529c6",
    "2a94ee20", "2aa0e734", "2d637f5e", "2f16362c", "30ad514b", "347e8786", "3a4573ee", "3eed4d86", "3f3e3712",
    "4004bde3", "41ae6160", "444b759c", "4d13e1db", "4d599dca", "4ff1ecdb", "5a25c2ed", "5e18a293", "61f85941",
    "62bcdf51", "65d118da", "6dd79436", "6e48bbcc", "70bbfda1", "70f3caad", "78838d16", "7904791f", "796f9d87",
    "7bfb00dd", "7c5f8716", "847589e1", "861b7475", "8aae5a64", "8b4b6b12", "8b6d172e", "8cfde6ef", "8de1f76a",
    "9078e43e", "96e7268d", "985f077c", "992ac612", "999a8cf6", "9a3609d8", "9b97ac5e", "a0ec927b", "a3a74811",
    "a970182a", "aca2511b", "ae9c4bf3", "afac327e", "b297833e", "b37937ef", "b6b85e9e", "b766c062", "b9f195c5",
    "ba0c6500", "bd2162ed", "be1e209b", "c0892d9b", "c6cb50e7", "c7940b6b", "cc146571", "cf06a179", "cfa64ec0",
    "d3b0d288", "d70ee947", "d7fc0dc2", "d8430914", "d9fd3cd9", "ddc6b69f", "e0dcf974", "e8eef555", "edc4b65b",
    "efa8f3a0", "f20ad607", "f21db243", "f2743cb3", "f7e7dd8d", "f9c5c0e3", "fbbd70f9", "fc37317b",
})  # fmt: skip


def type_number(name: str, key: str) -> float:
    return TYPES[name].values[key].value


def stall(name: str, lift: str) -> float:
    """Stall with one g and no power [m/s], from the lift equation."""
    weight = type_number(name, "landing_weight") * GRAVITY
    return math.sqrt(2.0 * weight / (SEA_LEVEL_DENSITY * type_number(name, "wing_area") * type_number(name, lift)))


def drag(name: str, speed: float, *, down: bool) -> float:
    """Drag in level flight at sea level [N], from the parabolic polar."""
    pressure = 0.5 * SEA_LEVEL_DENSITY * speed**2 * type_number(name, "wing_area")
    lift = type_number(name, "landing_weight") * GRAVITY / pressure
    parts = ["zero_lift_drag", *(["gear_drag", "flap_drag"] if down else [])]
    return pressure * (sum(type_number(name, part) for part in parts) + type_number(name, "induced_drag") * lift**2)


def thrust(name: str, speed: float) -> float:
    """Full thrust at sea level [N]: momentum theory with the figure of merit, by halving."""
    disc = math.pi / 4.0 * type_number(name, "propeller_diameter") ** 2
    power = type_number(name, "shaft_power") * type_number(name, "figure_of_merit")
    low, high = 0.0, 1e6
    for _ in range(60):
        middle = 0.5 * (low + high)
        inflow = 0.5 * (-speed + math.sqrt(speed**2 + 2.0 * middle / (SEA_LEVEL_DENSITY * disc)))
        low, high = (middle, high) if middle * (speed + inflow) < power else (low, middle)
    return low


def level_speed(name: str) -> float:
    """Fastest level flight at sea level, clean [m/s]."""
    low, high = 60.0, 300.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if thrust(name, middle) > drag(name, middle, down=False) else (low, middle)
    return low


# Sources


@pytest.mark.parametrize("table", TABLES)
def test_every_value_of_the_catalog_has_a_source_and_its_words(table: str) -> None:
    for entry in CATALOG[table].values():
        needed = {key.name for key in TABLES[table] if key.needed or key.default}
        assert needed <= set(entry.values) <= {key.name for key in TABLES[table]}
        for name, given in entry.values.items():
            assert given.origin.source.strip(), (entry.name, name)
            assert given.text.strip(), (entry.name, name)
            assert given.origin.file.startswith("built-in "), (entry.name, name)


def test_invented_things_say_so() -> None:
    for table in ("ships", "types"):
        for entry in CATALOG[table].values():
            assert all("invented" in given.origin.source for given in entry.values.values()), entry.name


def test_every_figure_of_a_doctrine_says_how_good_its_source_is() -> None:
    marks = ("published", "common practice, no source", "from memory", "own arithmetic", "own rule, no source")
    for entry in CATALOG["doctrines"].values():
        for name, given in entry.values.items():
            if name != "label":
                assert any(mark in given.origin.source for mark in marks), (entry.name, name, given.origin.source)


def test_no_text_names_a_ship_or_type_that_sailed_or_flew() -> None:
    folder = resources.files("roundown.catalog") / "data"
    texts = [file.read_text("utf-8") for file in folder.iterdir()]
    texts.append(resources.files("roundown.plan").joinpath("demo.toml").read_text("utf-8"))
    for text in texts:
        words = set(re.findall(r"[a-z0-9]+(?:-[0-9a-z]+)?", text.lower()))
        assert not {word for word in words if hashlib.sha256(word.encode()).hexdigest()[:8] in KNOWN_NAMES}


# Ships


def test_ships_steer_slower_than_they_steam_and_carry_their_islands() -> None:
    for ship in CATALOG["ships"].values():
        number = {name: given.value for name, given in ship.values.items()}
        assert number["least_speed"] < number["greatest_speed"]
        assert 0.0 < number["island_place"] < number["deck_length"]
        assert number["deck_width"] < number["deck_length"]
        assert number["turning_circle"] > number["deck_length"]


# Types


@pytest.mark.parametrize("name", TYPES)
def test_flap_lowers_the_stall_below_every_speed_of_the_circuit(name: str) -> None:
    """Own arithmetic from the lift equation: five knots at least, as PRO-85 has it, below the slowest ramp speed."""
    assert stall(name, "lift_flap") < stall(name, "lift_clean") < FASTEST_DOWNWIND
    slowest = min(doctrine.values["circuit.ramp_speed"].value for doctrine in CATALOG["doctrines"].values())
    assert stall(name, "lift_flap") < slowest - 5 * KNOT


@pytest.mark.parametrize("name", TYPES)
def test_level_speed_is_of_the_period(name: str) -> None:
    """From memory: propeller aeroplanes of carriers reached some 150 to 330 kt at sea level in the 1940s."""
    assert 150 * KNOT < level_speed(name) < 330 * KNOT


@pytest.mark.parametrize("name", TYPES)
def test_wheels_and_flap_down_slow_it_by_a_twentieth_of_g_at_the_break(name: str) -> None:
    """Own arithmetic from the drag polar at the speed half-way from break to downwind, throttle shut."""
    for doctrine in CATALOG["doctrines"].values():
        speed = 0.5 * sum(doctrine.values[f"circuit.{leg}_speed"].value for leg in ("initial", "downwind"))
        pull = drag(name, speed, down=True) - type_number(name, "idle_thrust")
        assert pull / type_number(name, "landing_weight") >= 0.05 * GRAVITY


@pytest.mark.parametrize("name", TYPES)
def test_full_power_holds_the_final_turn(name: str) -> None:
    """Second method: level with wheels and flap down at 90 kt and 30 degrees of bank, load 1 / cos 30 = 1.155."""
    speed = 90 * KNOT
    pressure = 0.5 * SEA_LEVEL_DENSITY * speed**2 * type_number(name, "wing_area")
    lift = type_number(name, "landing_weight") * GRAVITY / math.cos(math.radians(30)) / pressure
    assert lift < type_number(name, "lift_flap")
    needed = drag(name, speed, down=True) + pressure * type_number(name, "induced_drag") * (
        lift**2 - (lift * math.cos(math.radians(30))) ** 2
    )
    assert thrust(name, speed) > needed


@pytest.mark.parametrize("name", TYPES)
def test_wheels_and_flap_may_come_down_in_the_break(name: str) -> None:
    for doctrine in CATALOG["doctrines"].values():
        assert type_number(name, "gear_limit") >= doctrine.values["circuit.initial_speed"].value
        assert type_number(name, "flap_limit") >= doctrine.values["circuit.initial_speed"].value


@pytest.mark.parametrize("name", TYPES)
def test_wing_and_polar_belong_together(name: str) -> None:
    """Own arithmetic: K = 1 / (pi A e) with the span's aspect ratio gives a span factor e of 0.6 to 1."""
    aspect = type_number(name, "wing_span") ** 2 / type_number(name, "wing_area")
    assert 4.0 < aspect < 8.0
    assert 0.6 < 1.0 / (math.pi * aspect * type_number(name, "induced_drag")) < 1.0


@pytest.mark.parametrize(("first", "second"), list(combinations(TYPES, 2)))
def test_no_two_types_share_a_set_of_figures(first: str, second: str) -> None:
    keys = [key for key in TYPES[first].values if key != "label"]
    same = [key for key in keys if TYPES[first].values[key].text == TYPES[second].values[key].text]
    assert len(same) <= 2, same


# Doctrines


def test_doctrines_come_down_and_slow_down_on_the_way_round() -> None:
    for doctrine in CATALOG["doctrines"].values():
        number = {name.removeprefix("circuit."): given.value for name, given in doctrine.values.items()}
        assert number["initial_height"] >= number["downwind_height"] >= number["ninety_height"]
        assert number["initial_speed"] > number["downwind_speed"] >= number["ninety_speed"] >= number["ramp_speed"]


def test_heights_of_the_circuit_keep_their_datum() -> None:
    for doctrine in CATALOG["doctrines"].values():
        kinds = {name: given.kind for name, given in doctrine.values.items()}
        assert kinds["circuit.ninety_height"] is HEIGHT_OVER_SEA
        assert kinds["circuit.ramp_height"] is HEIGHT_OVER_DECK
