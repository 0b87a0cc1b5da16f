"""The spot cards: every seat on one of them, numbered as it is drawn, to scale. Constructed cases."""

from __future__ import annotations

import pytest
from tests.cards.conftest import Solved
from tests.cards.day_plans import EVENING, PLANS, day_of
from tests.cards.launch_plans import FIRST, PINNED, cards_named, evening, forty, plan_of, rows
from tests.cards.test_brief_page import Page

from roundown.cards.brief_page import brief_page
from roundown.cards.card import Card
from roundown.cards.deck_drawing import deck_view, scale_wanted
from roundown.cards.spot_card import HEAVY, spot_drawing
from roundown.launch.result import DeckSpot, EventLaunch
from roundown.quantities import FOOT


def spots(found: Solved) -> list[tuple[DeckSpot, tuple[Card, ...]]]:
    return list(zip(found.solution.spots, cards_named(found, "spot-card").values(), strict=True))


def numbers_drawn(spot: DeckSpot, width: float, height: float, size: float) -> dict[str, tuple[float, float]]:
    """Where each number of the drawing stands on deck: ahead of the ramp and to port [m]."""
    prints = [each.footprint for each in spot.load]
    view = deck_view(spot.deck, width, height, size, scale_wanted(prints, spot.deck, size))
    texts = [
        text for text in spot_drawing(spot, width, height, size, "deck").iter("text") if (text.text or "").isdigit()
    ]
    return {
        text.text or "": view.on_deck(
            float(text.attrib["x"]), float(text.attrib["y"]) - 0.35 * float(text.attrib["font-size"])
        )
        for text in texts
    }


@pytest.mark.parametrize("name", PLANS)
def test_every_seat_that_is_launched_stands_on_exactly_one_card_of_its_carrier(name: str) -> None:
    """A seat flown twice stands once on each deck load it is ranged in; here no load has one twice."""
    found = day_of(name)
    shown = [(spot.carrier, row[1]) for spot, pages in spots(found) for row in rows(pages, "") if len(row) > 4]
    wanted = []
    for spot in found.solution.spots:
        for event in found.day.events:
            if event.name.replace(" ", "_") in spot.events:
                wanted += [
                    (spot.carrier, f"{seat.side} {seat.name}")
                    for seat in event.seats
                    if found.day.squadrons[seat.squadron].ship == spot.carrier
                ]
    assert len(shown) == len(wanted)
    assert sorted((carrier, who[:20]) for carrier, who in shown) == sorted(
        (carrier, who[:20]) for carrier, who in wanted
    )


def test_events_that_share_a_load_share_a_card_named_by_the_first() -> None:
    """Constructed: three minutes between the launches, against half an hour below which they are ranged together."""
    found = evening('launch = "17:20"', 'launch = "17:03"')
    ((name, pages),) = cards_named(found, "spot-card").items()
    assert name == "spot-card-first-patrol"
    assert pages[0].subtitles == ("Corbel: first patrol and second patrol",)
    assert len(rows(pages, "")) == 8


def test_each_of_several_carriers_has_a_card_of_her_own() -> None:
    names = list(cards_named(day_of("night"), "spot-card"))
    assert len(names) == len(set(names)) == len(day_of("night").solution.spots)
    assert {name.rsplit("-", 1)[1] for name in names} == {"corbel", "lintel"}


@pytest.mark.parametrize("found", [lambda: day_of("evening"), lambda: plan_of(forty())], ids=["eight", "forty"])
def test_each_number_is_drawn_where_the_table_says_it_stands(found: object) -> None:
    """Second method: the number's place on the sheet, taken back to the deck, against the printed feet."""
    assert callable(found)
    for spot, pages in spots(found()):
        drawn = numbers_drawn(spot, 386.0, 420.0, 14.0)
        told = rows(pages, "")
        assert [row[0] for row in told] == list(drawn)
        for row, (ahead, port) in zip(told, drawn.values(), strict=True):
            feet, _, side = row[-2].partition(" ft")
            across = float(feet) * (-1.0 if "starboard" in side else 1.0)
            assert port / FOOT == pytest.approx(across, abs=1.0)
            # the wheels are forward of the middle of the outline, and not by more than half of it
            assert 0.0 <= float(row[-3].removesuffix(" ft")) - ahead / FOOT <= 16.0


def test_the_run_left_is_that_of_the_solution() -> None:
    found = day_of("evening")
    launch = found.solution.launches["first_patrol"]
    assert isinstance(launch, EventLaunch)
    _, pages = spots(found)[0]
    for row in rows(pages, "")[:4]:
        assert row[-1] == found.solution.figures[f"launches.first_patrol.seats.{row[1].split()[0]}.spot.run_left"].text


def test_who_is_pinned_is_told_and_drawn_heavy() -> None:
    """Constructed: pinned 560 ft ahead, 12 ft to port."""
    found = evening(FIRST, PINNED)
    spot, pages = spots(found)[0]
    (third,) = [row for row in rows(pages, "") if row[1].startswith("13")]
    assert third == ("3", "13 Orme (pinned)", "560 ft", "12 ft to port", third[4])
    assert HEAVY in pages[0].units
    assert HEAVY not in spots(day_of("evening"))[0][1][0].units
    heavy = [
        path
        for path in spot_drawing(spot, 386.0, 400.0, 14.0, "deck").iter("path")
        if path.get("stroke-width") == "2.4"
    ]
    assert len(heavy) == 1


@pytest.mark.parametrize("ship", ["corbel", "lintel"])
def test_no_ink_of_forty_leaves_the_sheet(ship: str) -> None:
    """Those on either side of a cut are drawn whole."""
    (spot,) = plan_of(forty(ship)).solution.spots
    for height, size in ((420.0, 16.0), (300.0, 12.5), (220.0, 11.2)):
        drawing = spot_drawing(spot, 386.0, height, size, "deck")
        for path in drawing.iter("path"):
            places = path.attrib["d"].removeprefix("M").removesuffix("Z").split("L")
            for x, y in (map(float, place.split()) for place in places):
                assert 0.0 <= x <= 386.0
                assert 0.0 <= y <= height


def test_the_drawing_on_the_card_is_a_picture_of_its_own() -> None:
    for _, pages in spots(day_of("evening")):
        assert pages[0].drawings[0].startswith("<svg xmlns=")
        assert 'width="386pt"' in pages[0].drawings[0].split(">")[0]


@pytest.mark.parametrize("name", PLANS)
def test_the_page_has_the_decks_and_launches(name: str) -> None:
    found = day_of(name)
    source = brief_page(found.day, found.solution, {}).decode()
    page = Page()
    page.feed(source)
    page.close()
    assert page.open_ == []
    ids = [attributes["id"] for _, attributes in page.elements if "id" in attributes]
    assert len(ids) == len(set(ids))
    for _, attributes in page.elements:
        assert set(attributes.get("aria-labelledby", "").split()) <= set(ids)
    assert "Deck and launch" in page.text
    for key, launch in found.solution.launches.items():
        assert isinstance(launch, EventLaunch)
        for seat in launch.seats:
            for what in ("run.distance", "spot.run_left", "take_off.off", "run.bow_speed"):
                figure = found.solution.figures[f"launches.{key}.seats.{seat}.{what}"].text
                assert figure.split(" next")[0] in page.text


def test_the_page_says_by_which_key_each_launch_figure_can_be_asked_for() -> None:
    found = day_of("night")
    source = brief_page(found.day, found.solution, {}).decode()
    for part, theirs in (("", found.solution), *found.solution.parts.items()):
        command = f"roundown check PLAN{f' --part {part}' if part else ''} --why "
        keys = [line.split("<")[0] for line in source.split(f"<code>{command}")[1:]]
        assert keys
        assert set(keys) <= set(theirs.figures)


def test_a_plan_s_text_never_becomes_markup() -> None:
    found = plan_of(EVENING.replace('name = "Vane"', 'name = "<b>Vane"'))
    assert "<b>Vane" not in brief_page(found.day, found.solution, {}).decode().replace("<b>11 &lt;b&gt;Vane</b>", "")
