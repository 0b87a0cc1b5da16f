"""Reading a good plan: every value in SI with its place and its source, overrides laid in order, catalogs added."""

from __future__ import annotations

import datetime as dt
import math
import re
from importlib import resources
from pathlib import Path

import pytest

from roundown.catalog.load import GIVEN_IN_PLAN
from roundown.catalog.types import DOCTRINE_KEYS
from roundown.plan.facts import Day
from roundown.plan.read import read_plan
from roundown.quantities import AHEAD_OF_BOW, AHEAD_OF_RAMP, DEGREE, FOOT, KNOT, NAUTICAL_MILE, POUND

DEMO = resources.files("roundown.plan").joinpath("demo.toml").read_text("utf-8")
SHORT = """\
format = 1
[place]
position = "5 N 10 30.5 W"
date = "1944-12-31"
time = 06:05:30
variation = "7 deg E"
[weather]
surface_wind = "calm"
[ship]
name = "lintel"
base_course = "360"
base_speed = "10 kt"
[doctrine]
name = "half-mile-1945"
[aeroplane]
type = "sallow"
"""
OWN_SHIP = """
[ships.punt]
label = "Punt"
deck_height = "40 ft over sea"
deck_length = "500 ft"
deck_width = "70 ft"
island_place = "250 ft ahead of ramp"
least_speed = "4 kt"
greatest_speed = "18 kt"
turning_circle = "700 yd"
speed_gain = "4 kt/min"
[ships.punt.override.circuit]
interval = "40 s"
break_bank = "22 deg"
"""


def read_text(folder: Path, text: str, name: str = "plan.toml") -> Day:
    file = folder / name
    file.write_text(text, encoding="utf-8", newline="")
    return read_plan(file)


def line_of(text: str, at: str) -> int:
    return text[: text.index(at)].count("\n") + 1


# The demo


def test_the_demo_is_read_into_si(tmp_path: Path) -> None:
    """Own arithmetic from the demo's text: 31 40 S is -31.667 deg, 140/11 kt, 21 C, 30.02 inHg, 185, 16 kt."""
    day = read_text(tmp_path, DEMO)
    assert day.title == "Home before dusk (demo)"
    assert day.start == dt.datetime(1949, 3, 17, 16, 0, tzinfo=dt.UTC)
    assert day.number("place.latitude") == pytest.approx(-(31 + 40 / 60) * DEGREE)
    assert day.number("place.longitude") == pytest.approx(-(5 + 20 / 60) * DEGREE)
    assert day.number("weather.wind_from") == pytest.approx(140 * DEGREE)
    assert day.number("weather.wind_speed") == pytest.approx(11 * KNOT)
    assert day.number("weather.temperature") == pytest.approx(294.15)
    assert day.number("weather.pressure") == pytest.approx(30.02 * 3386.389)
    assert day.number("ship.base_course") == pytest.approx(185 * DEGREE)
    assert day.number("ship.base_speed") == pytest.approx(16 * KNOT)
    assert day.number("weather.winds.2.height") == pytest.approx(2000 * FOOT)
    assert day.number("weather.winds.2.from") == pytest.approx(155 * DEGREE)
    assert day.number("weather.winds.2.speed") == pytest.approx(19 * KNOT)
    assert "weather.winds.3.height" not in day.givens


def test_every_value_of_the_demo_says_where_it_stands_and_who_says_so(tmp_path: Path) -> None:
    day = read_text(tmp_path, DEMO)
    for key, given in day.givens.items():
        assert given.origin.source.strip(), key
        assert given.text.strip(), key
        assert day.place_of(given).strip(), key
    assert day.place_of(day.givens["ship.base_speed"]) == f"{tmp_path / 'plan.toml'}:{line_of(DEMO, 'base_speed')}"
    assert day.place_of(day.givens["ship.deck_height"]) == "built-in ships.toml"
    assert day.givens["ship.base_speed"].origin.source == GIVEN_IN_PLAN
    assert day.givens["ship.deck_height"].origin.source == "invented for the demo"


def test_the_demo_says_that_it_is_invented() -> None:
    assert "invented" in DEMO.lower()


def test_the_demo_file_of_the_program_is_read_in_place() -> None:
    with resources.as_file(resources.files("roundown.plan").joinpath("demo.toml")) as file:
        assert read_plan(file).hash == read_plan(str(file)).hash


# What may be left out, and how things may be written


def test_a_short_plan_has_defaults_that_say_so(tmp_path: Path) -> None:
    """Constructed: standard sea-level air, the sea's wind profile, magnetic headings."""
    day = read_text(tmp_path, SHORT)
    assert day.title == "plan"
    assert day.number("weather.temperature") == pytest.approx(288.15)
    assert day.number("weather.pressure") == pytest.approx(101_325.0, rel=1e-6)
    assert day.word("weather.wind_profile") == "sea"
    assert day.word("cockpit.headings") == "magnetic"
    assert day.givens["weather.pressure"].origin.source.startswith("default")
    assert day.place_of(day.givens["weather.pressure"]) == "built-in"


def test_positions_dates_and_calms_may_be_written_shortly(tmp_path: Path) -> None:
    day = read_text(tmp_path, SHORT)
    assert day.number("place.latitude") == pytest.approx(5 * DEGREE)
    assert day.number("place.longitude") == pytest.approx(-(10 + 30.5 / 60) * DEGREE)
    assert day.start == dt.datetime(1944, 12, 31, 6, 5, 30, tzinfo=dt.UTC)
    assert (day.number("weather.wind_from"), day.number("weather.wind_speed")) == (0.0, 0.0)
    assert day.number("ship.base_course") == 0.0


@pytest.mark.parametrize("time", ['"16:30"', '"16:30:00"', "16:30:00", '"1630"', '"16:30Z"', '"16:30+00:00"'])
def test_the_time_is_universal_however_it_is_written(tmp_path: Path, time: str) -> None:
    day = read_text(tmp_path, SHORT.replace("06:05:30", time))
    assert day.start == dt.datetime(1944, 12, 31, 16, 30, tzinfo=dt.UTC)


def test_ratios_may_stand_without_quotes(tmp_path: Path) -> None:
    """A ratio has no unit to forget; every other figure without one is refused."""
    own = """
[types.wren]
label = "Wren"
landing_weight = "6480 lb"
wing_area = "254 ft2"
wing_span = "38.6 ft"
lift_clean = 1.38
lift_flap = 1.82
zero_lift_drag = 0.0265
gear_drag = 0.00004
flap_drag = 0.058
induced_drag = 0.0678
idle_thrust = "60 lbf"
shaft_power = "940 hp"
propeller_diameter = "10.6 ft"
figure_of_merit = 1
roll_rate = "10 deg/s"
gear_time = "11 s"
flap_time = "8 s"
gear_limit = "140 kt"
flap_limit = "126 kt"
"""
    day = read_text(tmp_path, SHORT.replace('"sallow"', '"wren"') + own)
    assert day.number("type.lift_clean") == 1.38
    assert day.number("type.figure_of_merit") == 1.0
    assert day.number("type.gear_drag") == pytest.approx(0.00004)


def test_the_weight_of_the_day_takes_the_place_of_the_types(tmp_path: Path) -> None:
    day = read_text(tmp_path, SHORT + 'weight = "6000 lb"\n')
    weight = day.givens["type.landing_weight"]
    assert weight.value == pytest.approx(6000 * POUND)
    assert weight.origin.overridden == "built-in aeroplanes.toml"
    assert day.place_of(weight) == f"{tmp_path / 'plan.toml'}:{line_of(SHORT, 'sallow') + 1}"
    assert "aeroplane.weight" not in day.givens


def test_winds_by_height_may_be_tables_of_their_own(tmp_path: Path) -> None:
    winds = '[[weather.winds]]\nheight = "500 ft over sea"\nwind = "090/20 kt"\n'
    day = read_text(tmp_path, SHORT + winds)
    assert day.number("weather.winds.1.from") == pytest.approx(math.pi / 2)
    assert day.place_of(day.givens["weather.winds.1.speed"]).endswith(f":{line_of(SHORT + winds, '090/20')}")


def test_the_compass_card_is_read_by_heading(tmp_path: Path) -> None:
    card = '[cockpit]\nheadings = "compass"\ndeviation = { "000" = "2 deg E", "090" = "0 deg", "180" = "1 deg W" }\n'
    day = read_text(tmp_path, SHORT + card)
    assert day.number("cockpit.deviation.000") == pytest.approx(2 * DEGREE)
    assert day.number("cockpit.deviation.090") == 0.0
    assert day.number("cockpit.deviation.180") == pytest.approx(-1 * DEGREE)


def test_a_break_place_keeps_the_datum_it_was_given_over(tmp_path: Path) -> None:
    day = read_text(tmp_path, SHORT)
    assert day.givens["doctrine.circuit.break_place"].kind is AHEAD_OF_BOW
    assert day.number("doctrine.circuit.break_place") == pytest.approx(0.5 * NAUTICAL_MILE)
    other = read_text(tmp_path, SHORT + '[override.circuit]\nbreak_place = "700 yd ahead of ramp"\n')
    assert other.givens["doctrine.circuit.break_place"].kind is AHEAD_OF_RAMP


def test_bands_of_the_doctrine_keep_both_ends(tmp_path: Path) -> None:
    """Own arithmetic: 10-14 ft over the ramp, which this ship brings with her, aims at 12 ft."""
    band = read_text(tmp_path, SHORT).givens["doctrine.circuit.ramp_height"].band
    assert (band.low, band.aim, band.high) == pytest.approx((10 * FOOT, 12 * FOOT, 14 * FOOT))


# Overrides


def test_the_ship_overrides_the_doctrine_and_the_plan_overrides_both(tmp_path: Path) -> None:
    text = SHORT.replace('"lintel"', '"punt"') + OWN_SHIP + '[override.circuit]\nbreak_bank = "26 deg"\n'
    day = read_text(tmp_path, text)
    assert day.number("doctrine.circuit.interval") == 40.0
    assert day.number("doctrine.circuit.break_bank") == pytest.approx(26 * DEGREE)
    assert not day.givens["doctrine.circuit.greatest_bank"].origin.overridden
    interval, bank = (day.givens[f"doctrine.circuit.{name}"].origin for name in ("interval", "break_bank"))
    plan = str(tmp_path / "plan.toml")
    assert (interval.file, interval.overridden, interval.source) == (plan, "built-in doctrines.toml", GIVEN_IN_PLAN)
    assert (bank.file, bank.overridden) == (plan, plan)
    assert day.place_of(day.givens["doctrine.circuit.interval"]) == f"{plan}:{line_of(text, 'interval')}"
    assert day.place_of(day.givens["doctrine.circuit.break_bank"]) == f"{plan}:{line_of(text, '26 deg')}"


def test_what_is_not_overridden_remembers_no_other_file(tmp_path: Path) -> None:
    day = read_text(tmp_path, SHORT + '[override.circuit]\nbreak_bank = "26 deg"\n')
    overridden = {key for key, given in day.givens.items() if given.origin.overridden}
    assert overridden == {"doctrine.circuit.break_bank", "doctrine.circuit.ramp_height"}  # the latter by the ship


def test_an_override_may_name_its_source(tmp_path: Path) -> None:
    day = read_text(tmp_path, SHORT + '[override.circuit]\nbreak_bank = { value = "26 deg", source = "club rule" }\n')
    assert day.givens["doctrine.circuit.break_bank"].origin.source == "club rule"


# Catalogs of one's own


def own_doctrine(folder: Path, ends: str = "\n") -> Path:
    """A third doctrine, every key written out, in a file of its own."""
    lines = ["format = 1", 'source = "squadron notebook"', "[doctrines.thursday]"]
    for key in DOCTRINE_KEYS:
        example = key.default or ("left" if key.choices else key.kinds[0].example if key.kinds else "our own")
        lines.append(f'{key.name} = "{VALUES.get(key.name, example)}"')
    file = folder / "mine.toml"
    file.write_bytes((ends.join(lines) + ends).encode())
    return file


VALUES = {
    "signs": "half-mile-1945", "words": "half-mile-1945", "emergencies": "half-mile-1945", "lessons": "half-mile-1945",
    "wind.over_deck": "28 kt", "wind.off_bow": "5 deg port", "circuit.upwind_offset": "25 yd",
    "circuit.initial_height": "300 ft over sea", "circuit.break_place": "0.75 nm ahead of bow",
    "circuit.slowing": "0.08 g", "circuit.downwind_height": "250 ft over sea", "circuit.downwind_speed": "100 kt",
    "circuit.ninety_height": "120 ft over sea", "circuit.ninety_speed": "90 kt", "circuit.ramp_speed": "85 kt",
    "circuit.cut_place": "10 yd ahead of ramp", "expected.abeam": "700-1200 yd", "expected.final_bank": "15-35 deg",
    "expected.final_slope": "0-4 deg", "circuit.greatest_bank": "40 deg",
}  # fmt: skip


@pytest.mark.parametrize("ends", ["\n", "\r\n"], ids=["unix", "windows"])
def test_a_third_doctrine_needs_a_file_and_no_code(tmp_path: Path, ends: str) -> None:
    catalog = own_doctrine(tmp_path, ends)
    text = 'catalog = ["mine.toml"]\n' + SHORT.replace("half-mile-1945", "thursday")
    day = read_text(tmp_path, text.replace("\n", ends))
    over_deck = day.givens["doctrine.wind.over_deck"]
    assert over_deck.value == pytest.approx(28 * KNOT)
    assert over_deck.origin.source == "squadron notebook"
    assert day.place_of(over_deck) == f"{catalog}:{line_of(catalog.read_text(), 'wind.over_deck')}"
    assert day.number("doctrine.wind.off_bow") == pytest.approx(-5 * DEGREE)


def test_a_third_doctrine_can_be_flown(tmp_path: Path) -> None:
    from roundown.day.solve import solve
    from roundown.recovery.result import CircuitResult

    own_doctrine(tmp_path)
    day = read_text(tmp_path, 'catalog = ["mine.toml"]\n' + SHORT.replace("half-mile-1945", "thursday"))
    assert isinstance(solve(day).circuit, CircuitResult)


def test_catalogs_are_looked_for_beside_the_plan(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "plans" / "shared").mkdir(parents=True)
    (tmp_path / "elsewhere").mkdir()
    own_doctrine(tmp_path / "plans" / "shared")
    text = 'catalog = ["shared/mine.toml"]\n' + SHORT.replace("half-mile-1945", "thursday")
    (tmp_path / "plans" / "plan.toml").write_text(text)
    monkeypatch.chdir(tmp_path / "elsewhere")
    day = read_plan("../plans/plan.toml")
    assert day.documents[1].file == str(Path("../plans/shared/mine.toml"))
    assert read_plan(tmp_path / "plans" / "plan.toml").hash == day.hash


def test_a_plan_may_take_ships_from_another_plan(tmp_path: Path) -> None:
    """A ship written into one evening's plan, with sources, serves the next evening too."""
    sourced = re.sub(r'= (".*")', r'= { value = \1, source = "mine" }', OWN_SHIP)
    (tmp_path / "last.toml").write_text(SHORT + sourced)
    day = read_text(tmp_path, 'catalog = ["last.toml"]\n' + SHORT.replace('"lintel"', '"punt"'))
    assert day.givens["ship.deck_height"].origin.source == "mine"


def test_the_hash_follows_every_file_read(tmp_path: Path) -> None:
    catalog = own_doctrine(tmp_path)
    text = 'catalog = ["mine.toml"]\n' + SHORT
    before = read_text(tmp_path, text).hash
    assert len(before) == 8
    assert read_text(tmp_path, text).hash == before
    assert read_text(tmp_path, text + "# a remark\n").hash != before
    catalog.write_text(catalog.read_text() + "# a remark\n")
    assert read_text(tmp_path, text).hash != before


def test_windows_line_ends_give_the_same_values_places_and_hash(tmp_path: Path) -> None:
    unix = read_text(tmp_path, DEMO)
    windows = read_text(tmp_path, DEMO.replace("\n", "\r\n"))
    assert {key: given.value for key, given in windows.givens.items()} == {
        key: given.value for key, given in unix.givens.items()
    }
    assert [windows.place_of(given) for given in windows.givens.values()] == [
        unix.place_of(given) for given in unix.givens.values()
    ]
    assert windows.hash == unix.hash
