"""The cards of a day with events: what stands on them is what was solved, on paper too. Constructed cases."""

from __future__ import annotations

import ctypes
import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

import pypdfium2
import pytest
from tests.cards.conftest import NO_CIRCUIT, Solved, SolvedBy
from tests.cards.day_plans import PLANS, day_of

from roundown import CAUTION
from roundown.cards.brief import brief, cards_of, numbered
from roundown.cards.brief_page import brief_page
from roundown.cards.card import Card, Table
from roundown.cards.layout import POINTS_WIDE, render
from roundown.cards.light_card import light_cards
from roundown.cards.timeline_card import timeline_cards
from roundown.catalog.lists import builtin_lists
from roundown.quantities import CLOCK_TIME, PRESSURE, RATIO, write
from roundown.solution import Solution, Unsolved

OWN = (
    "circuit-card", "ship-card", "light-card", "timeline-card", "ship-day-card", "launch-card", "spot-card", "seat-",
    "recovery-card",
)  # fmt: skip
ALONE = ["circuit-card", "pass-card", "sight-card", "landing-card", "ship-card", "light-card"]
"""The cards of a plan without events."""
WINDOWS = re.compile(r"[a-z0-9-]{1,60}")


def own_cards(found: Solved) -> Iterator[tuple[str, Card]]:
    for name, pages in cards_of(found.day, found.solution).items():
        if name.startswith(OWN):
            yield from numbered(name, pages).items()


def expected(found: Solved, key: str) -> set[str]:
    """The texts a figure or a given of the plan may have on a card."""
    solution: Solution = found.solution
    day = found.day
    for part, theirs in solution.parts.items():
        if key.startswith(f"parts.{part}."):
            solution, day, key = theirs, found.day.parts[part], key.removeprefix(f"parts.{part}.")
    if key in solution.figures:
        figure = solution.figures[key]
        texts = {figure.text.lstrip("-")}
        if figure.how.kind is CLOCK_TIME:  # the card's head says which day, and others in the column may show seconds
            texts |= {figure.text.split(" ")[0], to_the_second(figure.text)}
        if figure.how.kind is PRESSURE and figure.value is not None:
            texts.add(write(figure.value, PRESSURE, decimals=1))
        if figure.how.kind is RATIO and figure.value is not None:
            texts.add(f"{100.0 * figure.value:.0f} %")
        return texts
    given = day.givens[key]
    if given.kind is None:
        return {given.text}
    tenths = {write(given.value, PRESSURE, decimals=1)} if given.kind is PRESSURE else set()
    return {given.text, write(given.value, given.kind)} | tenths


def to_the_second(clock: str) -> str:
    """A time on the minute as it stands among others: "17:25" is "17:25:00"."""
    return re.sub(r"^(\d\d:\d\d)(?= |$)", r"\1:00", clock)


def said(card: Card) -> Iterator[tuple[str, str]]:
    for line in card.lines:
        yield line.key, f"{line.text} {line.note}"
    for table in card.tables:
        for row in table.rows:
            assert len(row) == len(table.columns)
            yield from ((cell.key, cell.text) for cell in row if cell.key)


@pytest.mark.parametrize("name", PLANS)
def test_every_figure_is_the_solution_s(name: str) -> None:
    found = day_of(name)
    part = found.day.parts.get("lintel.sallow")
    for title, card in own_cards(found):
        theirs = (
            Solved(part, found.solution.parts["lintel.sallow"])
            if title.startswith("circuit-card-lintel") and part
            else found
        )
        for key, text in said(card):
            assert any(one in text for one in expected(theirs, key)), (title, key, text)


def close(text: str) -> str:
    return "".join(text.replace("\N{ZERO WIDTH SPACE}", "").replace("\ufffe", "-").split())


@pytest.mark.parametrize("name", PLANS)
def test_the_paper_says_what_the_card_holds_and_all_of_it_can_be_read(name: str) -> None:
    for title, card in own_cards(day_of(name)):
        pages = pypdfium2.PdfDocument(render(card, "pdf"))
        assert len(pages) == 1
        text = close(pages[0].get_textpage().get_text_range())
        for words in (card.title, *card.subtitles, CAUTION, card.plan, card.units, *card.marks):
            assert close(words) in text, (title, words)
        assert close(card.heading).lower() in text.lower()
        for line in card.lines:
            assert close(f"{line.text}{line.note}") in text, (title, line)
        place = 0
        for cell in (cell for table in card.tables for row in table.rows for cell in row):
            place = text.find(close(cell.text), place)
            assert place >= 0, (title, cell)
        for piece in pages[0].get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_TEXT], max_depth=1):
            size = ctypes.c_float()
            assert pypdfium2.raw.FPDFTextObj_GetFontSize(piece.raw, size)
            assert size.value * abs(piece.get_matrix().d) * 600.0 / POINTS_WIDE >= 15.0, title


@pytest.mark.parametrize("name", PLANS)
def test_nothing_on_a_page_runs_over_anything(name: str) -> None:
    for title, card in own_cards(day_of(name)):
        if title.startswith(("circuit", "ship-card")):
            continue  # those have tests of their own
        page = pypdfium2.PdfDocument(render(replace(card, drawings=()), "pdf"))[0]
        boxes = [
            piece.get_bounds() for piece in page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_TEXT], max_depth=1)
        ]
        for left, bottom, right, top in boxes:
            assert 16.0 <= left <= right <= POINTS_WIDE - 16.0, title
            assert 10.0 <= bottom <= top <= 583.0, title
        for one, other in combinations(boxes, 2):
            wide = min(one[2], other[2]) - max(one[0], other[0])
            high = min(one[3], other[3]) - max(one[1], other[1])
            assert wide <= 1.5 or high <= 2.5, (title, one, other)


def test_the_timeline_is_in_order_and_says_the_next_day() -> None:
    found = day_of("night")
    assert not isinstance(found.solution.timeline, Unsolved)
    rows = [row for card in timeline_cards(found.day, found.solution) for row in card.tables[0].rows]
    times = [found.solution.figures[row[0].key].value for row in rows]
    assert times == sorted(time for time in times if time is not None)
    assert len(rows) == len(found.solution.timeline)
    told = {row[0].text: row[1].text for row in rows}
    assert told["01:20:00 next day"].endswith("first aeroplane at the initial")
    assert told["18:35:00"] == "sunset at the ship, the simulator’s"
    assert told["18:57:00"] == "civil dusk at the ship, the simulator’s"
    assert sum("the simulator’s" in what for what in told.values()) == 2
    lights = {row[4].text for row in rows}
    assert {"day", "civil twilight", "night"} <= lights


def cells_of(card: Card) -> dict[str, str]:
    """What stands right of each label of the tables of labels and figures."""
    rows = [row for table in card.tables if not any(table.columns) for row in table.rows]
    return {row[i].text: row[i + 1].text for row in rows for i in range(0, len(row), 2)}


def winds_of(found: Solved) -> Table:
    tables = light_cards(found.day, found.solution)[0].tables
    return next(table for table in tables if table.name == "Wind by height")


def test_the_wind_is_said_from_and_beside_it_as_the_simulator_is_set() -> None:
    """Own arithmetic: 320, 330 and 350 are where the plan says it goes; it comes from 140, 150 and 170."""
    winds = winds_of(day_of("night"))
    rows = {row[0].text: tuple(cell.text for cell in row[1:]) for row in winds.rows}
    assert winds.columns[-1] == "Set in the simulator"
    assert rows["surface (33 ft)"] == ("140", "14.0 kt", "goes to 320")
    assert rows["1,000 ft"] == ("150", "18.0 kt", "goes to 330")
    assert rows["5,000 ft"] == ("170", "26.0 kt", "goes to 350")
    assert winds_of(day_of("evening")).columns == ("Height", "From, as said", "Speed")


def test_a_calm_is_called_calm(solved: SolvedBy) -> None:
    found = solved(wind="calm")
    card = light_cards(found.day, found.solution)[0]
    assert [row[1].text for row in winds_of(found).rows] == ["calm", "calm"]
    assert ("Surface wind", "calm") in {(line.label, line.text) for line in card.head}


def test_the_card_says_whose_variation_and_what_the_altimeter_shows() -> None:
    """Own arithmetic: 0.22 inHg more than the pressure is some 200 ft at 925 ft to the inch, from memory."""
    night, evening = day_of("night"), day_of("evening")
    told = cells_of(light_cards(night.day, night.solution)[0])
    assert told["variation, as the simulator’s compass has it"] == "12.5 deg E"
    shown = float(told["and at the initial, 300 ft"].removesuffix(" ft"))
    assert shown == pytest.approx(300.0 + 0.22 * 925.0, abs=15.0)
    told = cells_of(light_cards(evening.day, evening.solution)[0])
    assert "variation, earth’s field of the date" in told
    assert not any("altimeter then shows" in label for label in told)


def test_a_plan_without_events_keeps_its_cards_and_has_the_light(solved: SolvedBy) -> None:
    found = solved()
    assert list(cards_of(found.day, found.solution)) == ALONE


def test_each_card_has_a_file_name_good_on_any_system() -> None:
    for name in PLANS:
        found = day_of(name)
        names = [page for card, pages in cards_of(found.day, found.solution).items() for page in numbered(card, pages)]
        assert len(names) == len(set(names))
        assert all(WINDOWS.fullmatch(each) for each in names)
    assert {"circuit-card-lintel-sallow", "seat-21-a-x-page-1", "seat-11-page-2"} <= set(names)


def test_lists_of_type_deck_and_words_become_cards() -> None:
    found, lists = day_of("evening"), builtin_lists()
    kind, checklist = next(iter(lists.checklists.items()))
    day = replace(
        found.day,
        checklists={kind: checklist},
        signs=next(iter(lists.signs.values())),
        words=next(iter(lists.words.values())),
    )
    cards = cards_of(day, found.solution)
    assert cards[f"checklist-card-{kind}"][0].heading.startswith("Checklist")
    assert cards["signs-card"]
    called = [cell.text for card in cards["radio-card"] for table in card.tables for row in table.rows for cell in row]
    assert {"Amber squadron", "Tallow", "11 Vane", "Tallow 1", "Hearth"} <= set(called)


def test_the_brief_holds_every_card_as_paper_and_picture_and_tells_how_far_it_is(
    solved: SolvedBy, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = solved()
    monkeypatch.setattr("roundown.cards.brief.TELL_EACH", -1.0)
    told: list[str] = []
    files = brief(found.day, found.solution, found.dial, 300, told.append)
    pages = [name for name in ALONE if name != "sight-card"] + ["sight-card-page-1", "sight-card-page-2"]
    assert set(files) == {"brief.html"} | {f"{page}.{form}" for page in pages for form in ("pdf", "png")}
    assert told == [f"{i} of 6 cards are drawn, the last of them {name}" for i, name in enumerate(ALONE, 1)]


@pytest.mark.parametrize("name", PLANS)
def test_the_page_holds_the_day_and_says_once_what_is_not_worked_out(name: str) -> None:
    found = day_of(name)
    page = brief_page(found.day, found.solution, {}).decode()
    assert not isinstance(found.solution.timeline, Unsolved)
    for key in found.solution.timeline:
        for what in ("time", "course", "speed", "sun_altitude"):
            text = found.solution.figures[f"timeline.{key}.{what}"].text
            assert f">{to_the_second(text) if what == 'time' else text}<" in page
    for key, figure in found.solution.figures.items():
        if key.startswith(("light.", "sea.wave", "air.density")):
            assert any(f"<dd>{text}</dd>" in page for text in (figure.text, to_the_second(figure.text))), key
    for word in found.solution.unsolved:
        assert page.count(word) == 1, word
    assert page.count("Not worked out here") == 1


def test_a_page_without_events_has_no_timeline(solved: SolvedBy) -> None:
    found = solved()
    page = brief_page(found.day, found.solution, found.dial).decode()
    assert "The day in order" not in page
    assert "Not worked out" not in page
    assert "Light and wind" in page


def test_a_day_without_a_circuit_has_its_cards_all_the_same() -> None:
    found = day_of("evening", NO_CIRCUIT)
    assert isinstance(found.solution.circuit, Unsolved)
    for title, card in own_cards(found):
        assert render(card, "pdf")
        if title.startswith("seat-"):
            assert [table.name for table in card.tables if "circuit" in table.name] == []
            assert "Over the ramp" not in {line.label for line in card.head}
