"""The launch cards and the launch on a seat's own card: settings, runs, and what comes past the bow. Constructed."""

from __future__ import annotations

import ctypes
import re
from dataclasses import replace

import pypdfium2
import pytest
from tests.cards.conftest import Solved, SolvedBy
from tests.cards.day_plans import EVENING, PLANS, day_of
from tests.cards.launch_plans import (
    AHEAD,
    FIRST,
    SHOT,
    all_cards,
    cards_named,
    evening,
    forty,
    pairs,
    plan_of,
    rows,
    tables,
)

from roundown.cards.brief import numbered
from roundown.cards.brief_page import brief_page
from roundown.cards.card import Card
from roundown.cards.layout import POINTS_WIDE, render
from roundown.cards.past_bow_rows import pulled
from roundown.cards.seat_card import seat_cards
from roundown.day.solve import solve
from roundown.figures import figures_of
from roundown.launch.result import EventLaunch
from roundown.quantities import CLOCK_TIME, COCKPIT_DIRECTION, FOOT, RATIO, write
from roundown.solution import Solution, Unsolved

LACKING = "Ottery: a deck run: the type does not give launch.empty_weight, launch.fuel_weight, launch.lift_slope"
TABLE = "In launch order"
FEET = re.compile(r"-?[\d,]+(?= ft)")


def card(found: Solved, name: str = "launch-card-first-patrol-amber") -> tuple[Card, ...]:
    return cards_named(found, name)[name]


def seat(found: Solved, side: str) -> tuple[Card, ...]:
    return seat_cards(found.day, found.solution)[side]


def launch_of(found: Solved, event: str) -> EventLaunch:
    launch = found.solution.launches[event]
    assert isinstance(launch, EventLaunch)
    return launch


def feet(text: str) -> float:
    (found,) = FEET.findall(text)
    return float(found.replace(",", ""))


@pytest.mark.parametrize("name", PLANS)
def test_every_seat_of_an_event_has_one_row_in_launch_order(name: str) -> None:
    found = day_of(name)
    shown = [row[1] for pages in cards_named(found, "launch-card").values() for row in rows(pages, TABLE)]
    flown = [
        f"{each.side} {each.name}"[:20]
        for event in found.day.events
        for squadron in dict.fromkeys(each.squadron for each in event.seats)
        for each in event.seats
        if each.squadron == squadron
    ]
    assert [row[:20] for row in shown] == flown


def test_a_card_is_named_for_its_event_and_squadron() -> None:
    names = list(cards_named(day_of("evening"), "launch-card"))
    assert names == ["launch-card-first-patrol-amber", "launch-card-second-patrol-amber"]
    assert len(cards_named(day_of("night"), "launch-card")) == 4  # two events, two squadrons each


def test_the_head_says_course_wind_and_when() -> None:
    """Own arithmetic: first off at 17:00, engines ten minutes before."""
    found = day_of("evening")
    head = {line.label: line.text for line in card(found)[0].head}
    assert head["First off"] == "17:00"
    assert head["Start engines"] == "16:50"
    assert head["Launch course"] == found.solution.figures["cockpit.launch_course"].text
    assert head["Over the deck"] == found.solution.figures["launch_flight.over_deck"].text


def test_the_next_day_is_said_once_in_the_head_and_not_in_each_row() -> None:
    (first, *_) = cards_named(day_of("night"), "launch-card-dawn-patrol-amber").values()
    notes = [line.note for line in first[0].head]
    assert notes.count("next day") == 1
    assert not [row for row in rows(first, TABLE) if "next day" in row[2]]


def test_the_settings_are_those_of_type_and_load() -> None:
    """Own arithmetic from the catalog: 8860 lb empty, 1400 lb of fuel and 520 lb of stores; flap 0.65 of full."""
    told = pairs(card(day_of("evening")), "Settings")
    assert told["weight"] == "10,780 lb"
    assert told["flap"] == "65 % of full"
    assert (told["power"], told["engine"]) == ("50.5 inHg", "2750 rpm")
    assert told["on the brakes"] == "31.0 inHg"
    assert re.fullmatch(r"\d\d\.\d inHg", told["tail lifts above"])
    assert told["tail up at"] == "52 kt"


def test_the_trim_is_that_for_stores_where_it_carries_some() -> None:
    assert ("trim", "rudder 6 deg right, elevator 1 deg nose up") in rows(card(day_of("evening")), "")
    clean = evening(FIRST, f'{FIRST}\nstores = "0 lb"')
    assert ("trim", "rudder 5 deg right, elevator level") in rows(card(clean), "")


def test_power_is_shown_as_the_gauges_have_it() -> None:
    """Own arithmetic: 0.8 of full power, straight from nil at 6 inHg to 50.5 inHg, is 6 + 0.8 x 44.5 = 41.6 inHg."""
    part = evening(FIRST, f'{FIRST}\npower = "0.8"')
    assert pairs(card(part), "Settings")["power"] == "41.6 inHg"
    said = evening(FIRST, f'{FIRST}\nmanifold_pressure = "44 inHg"')
    assert pairs(card(said), "Settings")["power"] == "44.0 inHg"


@pytest.mark.parametrize("found", [lambda: day_of("evening"), lambda: evening(FIRST, AHEAD)], ids=["long", "short"])
def test_what_is_in_hand_is_the_run_left_less_the_run_needed(found: object) -> None:
    """Own arithmetic on the printed figures, each rounded to a foot; what is short says so in words."""
    assert callable(found)
    for row in rows(card(found()), TABLE):
        needed, left, hand = feet(row[3]), feet(row[4]), feet(row[5])
        assert hand >= 0.0
        assert abs(left - needed - (-hand if row[5].startswith("short by ") else hand)) <= 1.0


def test_who_goes_first_and_is_pinned_too_far_forward_is_short_and_has_least_in_hand() -> None:
    """Own arithmetic: 838 ft of deck, wheels at 700 ft or ahead of it, leave 138 ft or less."""
    found = evening(FIRST, AHEAD)
    first = rows(card(found), TABLE)[0]
    assert feet(first[4]) <= 138.0
    assert first[5].startswith("short by ")
    assert tables(card(found), "Past the bow")[0].name == "Past the bow: 11 Vane, least in hand"
    past = launch_of(found, "first_patrol").seats["11"].past_bow
    assert past is not None
    told = pairs(card(found), "Past the bow")
    if past.touches:
        assert told["expect"].startswith("It touches the sea ")
    else:
        assert f"sinks {past.sink / FOOT:.0f} ft, to {past.lowest_height / FOOT:.0f} ft over the sea" in told["expect"]


def test_the_seat_with_least_in_hand_is_told_past_the_bow() -> None:
    found = day_of("evening")
    for event, name in (("first_patrol", "first-patrol"), ("second_patrol", "second-patrol")):
        seats = launch_of(found, event).seats
        margins = {key: each.run.length_margin for key, each in seats.items() if each.run is not None}
        least = min(margins, key=lambda key: margins[key] or 0.0)
        (past,) = tables(card(found, f"launch-card-{name}-amber"), "Past the bow")
        assert past.name.split()[3] == least


def test_what_pulling_does_instead_is_said() -> None:
    """Constructed: lower than the better technique, into the sea, the same, and a little higher."""
    from roundown.cards.launch_figures import all_texts, launchings

    found = day_of("evening")
    of = launchings(found.day, found.solution, all_texts(found.solution))[0]
    first, launch = next(of.launched())
    assert launch.past_bow is not None
    for lowest, words in (
        (-1.0, "goes into the sea"),
        (5.0, "comes down to"),
        (launch.past_bow.lowest_height, "gains nothing"),
        (launch.past_bow.lowest_height + 5.0, "but it is stalled"),
    ):
        label, cell = pulled(of, first, replace(launch.past_bow, lowest_pulling=lowest))
        assert label == "pulling"
        assert words in cell.text


@pytest.mark.parametrize("side", ["starboard", "port"])
def test_the_clearing_turn_goes_to_the_doctrine_s_side(side: str) -> None:
    more = "" if side == "starboard" else '[override]\n"launch.clearing_side" = "port"\n'
    found = plan_of(EVENING.replace("[squadrons.amber]", f"{more}[squadrons.amber]"))
    assert f"Clearing turn to {side}" in pairs(card(found), "Past the bow")["then"]


def test_who_is_shot_off_says_so() -> None:
    found = evening(FIRST, SHOT)
    second = rows(card(found), TABLE)[1]
    assert (second[3], second[4]) == ("catapult", "")
    shot = launch_of(found, "first_patrol").seats["12"].shot
    assert shot is not None
    figures = {figure.key: figure.text for figure in figures_of(shot)}
    assert second[6] == figures["bow_speed"]
    side = "over" if shot.speed_margin >= 0.0 else "below"
    assert second[5] == f"{figures['speed_margin'].lstrip('-')} {side} lift-off"
    assert card(found)[0].units.endswith("by catapult, speed at the bow over that of lift-off.")
    own = seat(found, "12")
    ((_, how, hand, *_),) = rows(own, "Launch")
    assert (how, hand) == ("catapult", second[5])
    columns = {column for page in own for table in page.tables for column in table.columns}
    assert not columns & {"Run needed", "Run left", "On the brakes", "Lifts off"}
    assert "give up by" not in {row[0] for row in rows(own, "")}
    spots = [row for pages in cards_named(found, "spot-card-first").values() for row in rows(pages, "")]
    assert next(row for row in spots if row[1].startswith("12"))[-1] == "catapult"


def test_where_all_are_shot_off_nothing_is_set_for_a_run() -> None:
    found = evening(FIRST, f'{FIRST}\ncatapult = ["11", "12", "13", "14"]')
    assert set(pairs(card(found), "Settings")) == {"flap", "weight", "power", "engine"}
    assert card(found)[0].units.endswith("In hand: speed at the bow over that of lift-off.")


def test_the_first_off_of_a_squadron_is_its_own() -> None:
    """Own arithmetic: grey's twenty go first, and amber's first goes twenty intervals after 17:00."""
    found = plan_of(forty())
    heads = {
        pages[0].subtitles[0].split(" squadron")[0].split(", ")[-1]: {line.label: line.text for line in pages[0].head}
        for pages in cards_named(found, "launch-card").values()
    }
    assert heads["Grey"]["First off"] == "17:00"
    launch = launch_of(found, next(iter(found.solution.launches)))
    ambers = launch.seats["100"].take_off.off
    assert ambers == pytest.approx(launch.sequence.first_off + 20.0 * launch.sequence.interval)
    assert heads["Amber"]["First off"] == write(ambers, CLOCK_TIME)


@pytest.mark.parametrize("name", PLANS)
def test_times_under_one_another_show_seconds_where_one_does(name: str) -> None:
    clock = re.compile(r"^\d\d:\d\d(:\d\d)?")
    for pages in all_cards(day_of(name)).values():
        for table in (table for page in pages for table in page.tables):
            for column in zip(*table.rows, strict=True):
                assert len({len(found[0]) for cell in column if cell.key and (found := clock.match(cell.text))}) <= 1


def test_the_seat_s_card_says_where_it_stands_when_it_starts_and_where_it_gives_up() -> None:
    found = day_of("evening")
    texts = {key: figure.text for key, figure in found.solution.figures.items()}
    stem = "launches.first_patrol.seats.12"
    told = {row[0]: row[1] for row in rows(seat(found, "12"), "")}
    assert told["stands"].startswith(f"{texts[f'{stem}.spot.ahead']} ahead of the ramp, ")
    assert told["stands"].endswith((" to port", " to starboard", " on the centre line"))
    assert told["start engine"] == f"16:50; then {texts['launch_flight.over_deck']} over the deck"
    gives_up = f"{texts[f'{stem}.abort.airspeed']} indicated, {texts[f'{stem}.abort.place']} from the spot"
    assert told["give up by"] == gives_up


def test_who_is_short_and_does_not_sink_is_told_that_it_is_by_this_sum() -> None:
    """Constructed: the flight past the bow of one with run enough, laid to one that is short of it."""
    from roundown.cards.launch_figures import all_texts, launchings
    from roundown.cards.past_bow_rows import expected

    found = day_of("evening")
    of = launchings(found.day, found.solution, all_texts(found.solution))[0]
    first, launch = next(of.launched())
    assert launch.run is not None
    assert launch.past_bow is not None
    assert expected(of, first, launch, launch.past_bow).text.startswith("It does not sink and climbs at once")
    short = replace(launch, run=replace(launch.run, flies_off=False, length_margin=-0.6))
    text = expected(of, first, short, launch.past_bow).text
    assert text.startswith("Though short of run, by this sum it does not sink and climbs at once")
    assert text.endswith("; see the findings.")


def test_who_finds_no_place_says_so() -> None:
    found = day_of("evening")
    (spot,) = found.solution.spots[:1]
    launch = launch_of(found, "first_patrol")
    gone = replace(launch.seats["14"], spot=None, run=None, past_bow=None, clearing=None, clearance=None)
    places = {key: place for key, place in spot.spotting.places.items() if key != "14"}
    spotting = replace(spot.spotting, places=places, left_out=("14",))
    solution = replace(
        found.solution,
        launches={**found.solution.launches, "first_patrol": replace(launch, seats={**launch.seats, "14": gone})},
        spots=(replace(spot, spotting=spotting), *found.solution.spots[1:]),
    )
    less = Solved(found.day, solution)
    last = rows(card(less), TABLE)[3]
    assert (last[0], last[3], last[4], last[5], last[6]) == ("", "no place on deck", "", "", "")
    (own,) = rows(seat(less, "14"), "Launch")
    assert own[:2] == ("no place", "no place on deck")
    marks = [mark for pages in cards_named(less, "spot-card").values() for page in pages for mark in page.marks]
    assert "No place on deck for 14 Lusk." in marks


def lacking(found: Solved) -> Solved:
    launches = {key: Unsolved(LACKING) for key in found.solution.launches}
    return Solved(found.day, replace(found.solution, launches=launches, spots=()))


def test_a_type_without_launch_keys_has_no_launch_card_and_its_seats_say_why_in_a_line() -> None:
    found = lacking(day_of("evening"))
    assert cards_named(found, "launch-card") == cards_named(found, "spot-card") == {}
    ((label, why),) = rows(seat(found, "11"), "Launch")
    assert label == "not known"
    assert why.endswith("does not give launch.empty_weight, launch.fuel_weight and 1 more")
    assert len(why) <= 160
    assert "no launch is worked out, Ottery" in brief_page(found.day, found.solution, {}).decode()


def test_a_day_without_launches_has_none_of_it(solved: SolvedBy) -> None:
    found = solved()
    assert cards_named(found, "launch-card") == cards_named(found, "spot-card") == {}
    assert "Deck and launch" not in brief_page(found.day, found.solution, found.dial).decode()


@pytest.mark.parametrize("name", PLANS)
def test_a_seat_s_own_card_says_what_its_squadron_s_card_says(name: str) -> None:
    found = day_of(name)
    own = seat_cards(found.day, found.solution)
    for pages in cards_named(found, "launch-card").values():
        flown = pages[0].subtitles[0].split(", ")[0].casefold()
        for number, who, _, needed, left, hand, bow in rows(pages, TABLE):
            side = next(each for each in own if who.startswith(f"{each} "))
            runs = [
                row
                for i, page in enumerate(own[side])
                for row in rows((page,), "Launch")
                if any(
                    table.name.casefold().startswith(flown[:20])
                    for each in own[side][: i + 1][-2:]
                    for table in each.tables
                )
            ]
            assert any(row[:4] + row[5:] == (f"No. {number}", needed, left, hand, bow) for row in runs), who


def test_no_figure_is_without_its_unit() -> None:
    """Every cell with a key ends as its kind is written, or holds it in a sentence; clocks and courses have none."""
    found = day_of("night")
    solutions: dict[str, Solution] = {"": found.solution}
    solutions |= {f"parts.{part}.": theirs for part, theirs in found.solution.parts.items()}
    units = {
        f"{stem}{key}": figure.how.kind for stem, theirs in solutions.items() for key, figure in theirs.figures.items()
    }
    shown = [*cards_named(found, "launch-card").values(), *cards_named(found, "spot-card").values()]
    shown += list(seat_cards(found.day, found.solution).values())
    checked = 0
    for cell in (
        cell for pages in shown for page in pages for table in page.tables for row in table.rows for cell in row
    ):
        kind = units.get(cell.key)
        if kind is not None and kind not in {CLOCK_TIME, COCKPIT_DIRECTION}:
            assert f" {'%' if kind is RATIO else kind.unit}" in cell.text, cell
            checked += 1
    assert checked > 100


def test_forty_with_long_names_go_on_their_pages_and_can_be_read() -> None:
    """On a deck so small that all are short, which makes the widest rows."""
    found = plan_of(forty("lintel"))
    shown = {**cards_named(found, "launch-card"), **cards_named(found, "spot-card"), **cards_named(found, "seat-310")}
    for name, page in ((name, page) for card, pages in shown.items() for name, page in numbered(card, pages).items()):
        paper = pypdfium2.PdfDocument(render(page, "pdf"))
        assert len(paper) == 1
        for piece in paper[0].get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_TEXT], max_depth=2):
            size = ctypes.c_float()
            assert pypdfium2.raw.FPDFTextObj_GetFontSize(piece.raw, size)
            assert size.value * abs(piece.get_matrix().d) * 600.0 / POINTS_WIDE >= 15.0, name
            left, bottom, right, top = piece.get_bounds()
            assert 16.0 <= left <= right <= POINTS_WIDE - 16.0, name
            assert 10.0 <= bottom <= top <= 583.0, name


def test_the_same_plan_gives_the_same_launch_cards_byte_for_byte() -> None:
    found = day_of("evening")
    again = Solved(found.day, solve(found.day))
    for start in ("launch-card-first", "spot-card"):
        for one, other in zip(cards_named(found, start).values(), cards_named(again, start).values(), strict=True):
            assert [render(page, "pdf") for page in one] == [render(page, "pdf") for page in other]
            assert render(one[0], "png", 600) == render(other[0], "png", 600)
