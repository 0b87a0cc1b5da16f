"""What an event says of loads, pinned places and the catapult: read, checked, told by line."""

from __future__ import annotations

from importlib import resources

import pytest

from roundown.documents import Document, parse_document
from roundown.errors import PlanError
from roundown.plan.deck import load_said
from roundown.plan.facts import Day
from roundown.plan.read import day_of
from roundown.quantities import FOOT, POUND

LARGER = (resources.files("roundown.plan") / "larger.toml").read_text("utf-8")
LOADING = 'loading = { amber = { stores = "240 lb" }, cobalt = { stores = "1160 lb" } }'


def day(text: str) -> Day:
    document = parse_document("plan.toml", text)
    assert isinstance(document, Document)
    return day_of(document)


def with_deck(lines: str) -> str:
    assert LOADING in LARGER
    return LARGER.replace(LOADING, lines)


def test_a_load_is_said_for_all_and_again_for_a_squadron() -> None:
    """Constructed: the squadron's word goes before that of the event."""
    today = day(with_deck('fuel = "900 lb"\nflap = "0.5"\nloading = { cobalt = { fuel = "1200 lb" } }'))
    amber, cobalt = (load_said(today.givens, "dawn_strike", name) for name in ("amber", "cobalt"))
    assert amber["fuel"].value == pytest.approx(900 * POUND)
    assert cobalt["fuel"].value == pytest.approx(1200 * POUND)
    assert cobalt["flap"].value == amber["flap"].value == 0.5
    assert load_said(today.givens, "noon_patrol", "amber") == {}


def test_a_squadrons_manifold_pressure_goes_before_the_events_part_of_power() -> None:
    today = day(with_deck('power = "0.9"\nloading = { amber = { manifold_pressure = "44 inHg" } }'))
    assert set(load_said(today.givens, "dawn_strike", "amber")) == {"manifold_pressure"}
    assert set(load_said(today.givens, "dawn_strike", "cobalt")) == {"power"}


def test_pins_and_the_catapult_are_read() -> None:
    today = day(with_deck('spots = { "52" = { ahead = "200 ft", port = "-20 ft" } }\ncatapult = ["11", "12"]'))
    stem = "event.dawn_strike.spots.52"
    values = [today.number(f"{stem}.{key}") for key in ("ahead", "port", "heading")]
    assert values == pytest.approx([200 * FOOT, -20 * FOOT, 0.0])
    assert next(event for event in today.events if event.name == "dawn strike").catapult == ("11", "12")


def test_a_pinned_or_catapulted_one_who_is_absent_is_no_mistake() -> None:
    text = with_deck('spots = { "14" = { ahead = "200 ft" } }\ncatapult = ["14"]')
    today = day(text.replace("[cockpit]", '[muster]\nabsent = ["Lusk", "Finch"]\n\n[cockpit]'))
    event = next(event for event in today.events if event.name == "dawn strike")
    assert event.seats
    assert set(event.catapult) <= {seat.side for seat in event.seats}
    absent = day(text.replace("[cockpit]", '[muster]\nabsent = ["Lusk", "Finch", "Moss", "Dray", "Hale"]\n\n[cockpit]'))
    event = next(event for event in absent.events if event.name == "dawn strike")
    assert "14" not in {seat.side for seat in event.seats}
    assert event.catapult == ()


@pytest.mark.parametrize(
    ("lines", "key", "value", "limit"),
    [
        ('fuel = "2500 lb"', "fuel", '"2500 lb"', "full tanks hold 1400 lb in ottery"),
        ('loading = { cobalt = { stores = "2000 lb" } }', "stores", '"2000 lb"', "it carries at most 1740 lb"),
        ('manifold_pressure = "48 inHg"', "manifold_pressure", '"48 inHg"', "full power has 45 inHg in brindle"),
        ('flap = "1.2"', "flap", '"1.2"', "at most 1"),
        ('power = "0.9"\nmanifold_pressure = "40 inHg"', "power", "", "as a part or by manifold pressure"),
        ('loading = { ambr = { fuel = "900 lb" } }', "ambr", "", "no squadron of that name"),
        ('loading = { amber = { fule = "900 lb" } }', "fule", "", "no such key"),
        ('loading = "full"', "loading", '"full"', "a table is wanted"),
        ('spots = { "99" = { ahead = "90 ft" } }', "99", "", "no seat of that number flies"),
        ('spots = { "11" = { port = "3 ft" } }', "ahead", "", "missing"),
        ('spots = { "11" = { ahead = "90" } }', "ahead", '"90"', ""),
        ('catapult = ["77"]', "catapult", '"77"', "no seat of that number"),
        ("catapult = 2", "catapult", "2", "a list of side numbers"),
    ],
)
def test_what_cannot_be_is_told_with_line_value_limit_and_remedy(lines: str, key: str, value: str, limit: str) -> None:
    text = with_deck(lines)
    with pytest.raises(PlanError) as raised:
        day(text)
    (complaint,) = raised.value.complaints
    assert key in complaint.key
    assert complaint.value == value
    assert limit in complaint.limit
    assert complaint.remedy
    assert text.splitlines()[complaint.line - 1].split("=")[0].strip() in {*lines.split(), "[[event]]"}
