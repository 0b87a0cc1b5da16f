"""Cards of lists: the PDF says what the list says, on as many pages as it needs, and nothing runs over anything."""

from __future__ import annotations

import ctypes
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from itertools import combinations

import pypdfium2
import pytest

from roundown import CAUTION
from roundown.cards.card import Card, Cell, Table, two_abreast
from roundown.cards.checklist_card import checklist_cards
from roundown.cards.layout import POINTS_WIDE, render
from roundown.cards.pages import Height, Part, pages, shared_out
from roundown.cards.radio_card import radio_cards
from roundown.cards.signs_card import signs_cards
from roundown.cards.sources_table import sources_table
from roundown.catalog.lists import LONGEST, Checklist, Sign, Step, Word, builtin_lists
from roundown.plan.facts import Channel, Radio

TITLE, SUBTITLE, PLAN = "Evening recovery", "Corbel; fast fleet carrier, about 1944", "ab12cd34"
LISTS = builtin_lists()
RADIO = Radio(
    "nothing is said until the ship is seen",
    "running lights until joined up",
    "set on from the picket inward",
    (Channel("A", "launch and landing", "140.6 Mc", "Hearth"), Channel("B", "the flights", "", "")),
)
CALLED = tuple((f"{10 + i} {name}", f"Ember {i}") for i, name in enumerate(("Vane", "Pell", "Orme"), 1))
Cards = tuple[Card, ...]
EACH: dict[str, Callable[[], Cards]] = {
    **{name: partial(checklist_cards, each, TITLE, SUBTITLE, PLAN) for name, each in LISTS.checklists.items()},
    **{f"signs {name}": partial(signs_cards, each, TITLE, SUBTITLE, PLAN) for name, each in LISTS.signs.items()},
    **{
        f"words {name}": partial(radio_cards, RADIO, CALLED, each, TITLE, SUBTITLE, PLAN)
        for name, each in LISTS.words.items()
    },
}
WORDY = {
    "wide letters": "W" * LONGEST,
    "one word": "x" * LONGEST,
    "hyphens": "take-off-" * 13,
    "short words": "I " * (LONGEST // 2),
    "long words": ("straightforwardness " * 6)[:LONGEST].strip(),
    "layout": "#panic() $x$ *b* @z <&> \\ `c` [d] " * 3,
}


def page_of(card: Card) -> pypdfium2.PdfPage:
    document = pypdfium2.PdfDocument(render(card, "pdf"))
    assert len(document) == 1
    return document[0]


def close(text: str) -> str:
    """A text without blanks: where a cell breaks its line the PDF has one more."""
    return "".join(text.replace("\N{ZERO WIDTH SPACE}", "").split())


def text_of(card: Card) -> str:
    return close(page_of(card).get_textpage().get_text_range().replace("\ufffe", "-"))


def pieces(card: Card) -> list[tuple[float, float, float, float]]:
    """Left, bottom, right and top of every line of every text on the page [points]."""
    found = page_of(card).get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_TEXT], max_depth=1)
    return [piece.get_bounds() for piece in found]


def assert_nothing_runs_over(card: Card) -> None:
    boxes = pieces(card)
    for left, bottom, right, top in boxes:
        assert left >= 16.0
        assert right <= POINTS_WIDE - 16.0
        assert bottom >= 10.0
        assert top <= 595.0 - 12.0
    for one, other in combinations(boxes, 2):
        wide = min(one[2], other[2]) - max(one[0], other[0])
        high = min(one[3], other[3]) - max(one[1], other[1])
        assert wide <= 1.5 or high <= 2.5, (one, other)


def all_cells(cards: Cards) -> list[str]:
    return [cell.text for card in cards for table in card.tables for row in table.rows for cell in row]


@pytest.mark.parametrize("name", EACH)
def test_the_pdf_says_what_the_list_says(name: str) -> None:
    for card in EACH[name]():
        text = text_of(card)
        for shown in (card.title, *card.subtitles, CAUTION, card.plan):
            assert close(shown) in text, shown
        assert close(card.heading).lower() in text.lower()
        place = 0
        for table in card.tables:
            assert close(table.name).lower() in text.lower()
            for cell in (cell for row in table.rows for cell in row):
                place = text.find(close(cell.text), place)
                assert place >= 0, cell.text


@pytest.mark.parametrize("name", EACH)
def test_nothing_runs_over_anything_and_all_of_it_can_be_read(name: str) -> None:
    for card in EACH[name]():
        assert_nothing_runs_over(card)
        for piece in page_of(card).get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_TEXT], max_depth=1):
            size = ctypes.c_float()
            assert pypdfium2.raw.FPDFTextObj_GetFontSize(piece.raw, size)
            assert size.value * abs(piece.get_matrix().d) * 600.0 / POINTS_WIDE >= 15.0


def test_every_step_stands_once_and_in_order() -> None:
    for checklist in LISTS.checklists.values():
        cards = checklist_cards(checklist, TITLE, SUBTITLE, PLAN)
        rows = [row for card in cards for table in card.tables if len(table.columns) == 5 for row in table.rows]
        steps = [each for steps in checklist.phases.values() for each in steps]
        assert [row[0].text for row in rows] == [str(i) for i in range(1, len(steps) + 1)]
        assert [(row[1].text, row[2].text, row[4].text) for row in rows] == [(s.do, s.verify, s.why) for s in steps]


def test_a_step_waits_for_the_number_of_another_or_for_a_cue() -> None:
    steps = {
        "start": (Step("Spread", "", "director's sign", "", "own", "wings"),),
        "landing": (Step("Look", "", "", "", "own"), Step("Lock", "", "wings", "", "own")),
    }
    card = checklist_cards(Checklist("teal", "Teal", steps), TITLE, SUBTITLE, PLAN)[0]
    assert [table.name for table in card.tables] == ["Start", "Landing"]
    assert [row[3].text for table in card.tables[:2] for row in table.rows] == ["director's sign", "", "step 1"]
    assert card.heading == "Checklist"


def test_a_phase_is_kept_on_one_page_where_it_goes() -> None:
    for checklist in LISTS.checklists.values():
        for card in checklist_cards(checklist, TITLE, SUBTITLE, PLAN):
            assert not [table.name for table in card.tables if "continued" in table.name]


def test_the_pages_of_a_card_are_counted() -> None:
    cards = signs_cards(LISTS.signs["half-mile-1945"], TITLE, SUBTITLE, PLAN)
    assert len(cards) > 1
    assert [card.heading for card in cards] == [
        f"Signs of the deck, page {i} of {len(cards)}" for i in range(1, len(cards) + 1)
    ]


@pytest.mark.parametrize("words", WORDY)
def test_a_user_s_long_texts_go_on_their_pages(words: str) -> None:
    text = WORDY[words][:LONGEST]
    steps = tuple(Step(text, text, f"a {text}"[:LONGEST], text, text) for _ in range(2))
    signs = tuple(Sign(text, text, text, text) for _ in range(2))
    radio = Radio(text * 4, text, text, (Channel(text, text, text, text),))
    for cards in (
        checklist_cards(Checklist("x", text, {"start": steps, "landing": steps}), text * 3, text, PLAN),
        signs_cards(signs, text, text, PLAN),
        radio_cards(radio, ((text, text), (text, text)), (Word(text, text, text),), text, text, PLAN),
    ):
        for card in cards:
            assert_nothing_runs_over(card)
            found = text_of(card)
            for cell in all_cells((card,)):
                assert close(cell) in found


def test_sixty_seats_have_their_call_signs() -> None:
    called = tuple((f"{i} Pilot of seat {i}", f"Ember {i}") for i in range(1, 61))
    cards = radio_cards(RADIO, called, (), TITLE, SUBTITLE, PLAN)
    cells = all_cells(cards)
    assert all(sign in cells for _, sign in called)
    for card in cards:
        assert_nothing_runs_over(card)


def test_what_is_not_given_is_left_out() -> None:
    assert radio_cards(Radio(), (), (), TITLE, SUBTITLE, PLAN) == ()
    assert signs_cards((), TITLE, SUBTITLE, PLAN) == ()
    assert checklist_cards(Checklist("x", "X", {}), TITLE, SUBTITLE, PLAN) == ()
    card = radio_cards(Radio(lights="none"), (("11 Vane", ""),), (), TITLE, "", PLAN)[0]
    assert [table.name for table in card.tables] == ["Silence, lights, identification"]
    assert all_cells((card,)) == ["Lights", "none"]


def test_the_commonest_source_is_told_once_for_the_rest() -> None:
    table = sources_table("", [("1", "a book"), ("2", "own"), ("3", "a book"), ("4", "a book"), ("5", "own")])
    assert [[cell.text for cell in row] for row in table.rows] == [["own", "2, 5"], ["a book", "the others"]]
    alone = sources_table("", [("1", "own"), ("2", "own")])
    assert ([[cell.text for cell in row] for row in alone.rows], len(alone.columns)) == ([["own", "all"]], 2)


def test_rows_two_abreast_are_read_from_left_to_right() -> None:
    rows = [(Cell(a), Cell(b)) for a, b in ("ab", "cd", "ef")]
    assert ["".join(cell.text for cell in row) for row in two_abreast(rows)] == ["abcd", "ef"]
    assert len(two_abreast(rows)[1]) == 4
    assert two_abreast(rows[:1]) == (rows[0],)


def test_tables_are_shared_out_by_their_heights() -> None:
    """Own arithmetic: 100 of room, 10 over each table, 20 for its name and columns."""
    thirds = Height(20.0, (30.0, 30.0, 30.0))  # 10 + 20 + 2 x 30 = 90: two rows a page
    assert list(shared_out([thirds], 100.0, 10.0)) == [(Part(0, 0, 2),), (Part(0, 2, 3),)]
    small = Height(20.0, (20.0,))  # 10 + 20 + 20 = 50: two of them fill a page
    assert list(shared_out([small, small, small], 100.0, 10.0)) == [(Part(0, 0, 1), Part(1, 0, 1)), (Part(2, 0, 1),)]
    whole = Height(20.0, (35.0, 35.0))  # 100: kept together, not begun on the rest of a page
    assert list(shared_out([small, whole], 100.0, 10.0)) == [(Part(0, 0, 1),), (Part(1, 0, 2),)]
    assert next(shared_out([small, thirds], 100.0, 10.0)) == (Part(0, 0, 1),)
    with pytest.raises(ValueError, match="one row of a table"):
        list(shared_out([Height(20.0, (71.0,))], 100.0, 10.0))


def test_a_long_table_not_split_beforehand_is_refused() -> None:
    card = signs_cards(LISTS.signs["half-mile-1945"], TITLE, SUBTITLE, PLAN)[0]
    long = replace(card, tables=(replace(card.tables[0], rows=card.tables[0].rows * 3),))
    with pytest.raises(ValueError, match="does not go on one page"):
        render(long, "pdf")
    assert len(pages(replace(long, heading="Signs of the deck"))) > 2


def test_a_part_of_a_table_says_that_it_goes_on() -> None:
    rows = tuple((Cell(f"row {i}"), Cell("text")) for i in range(90))
    card = replace(
        signs_cards(LISTS.signs["half-mile-1945"], TITLE, SUBTITLE, PLAN)[0],
        heading="Timeline",
        tables=(Table("Times", ("At", "What"), rows),),
    )
    made = pages(card)
    assert [each.tables[0].name for each in made] == ["Times"] + ["Times (continued)"] * (len(made) - 1)
    assert [row for each in made for row in each.tables[0].rows] == list(rows)


def test_the_keys_of_figures_in_tables_are_the_card_s() -> None:
    card = signs_cards(LISTS.signs["half-mile-1945"], TITLE, SUBTITLE, PLAN)[0]
    table = Table("Times", ("At", "What"), ((Cell("17:25", "event.first.launch", strong=True), Cell("launch")),))
    shown = replace(card, tables=(table,))
    assert shown.keys == ("event.first.launch",)
    assert "17:25" in text_of(shown)


def test_the_same_list_gives_the_same_bytes() -> None:
    first, again = (EACH["ottery"]()[0] for _ in range(2))
    assert render(first, "png", 600) == render(again, "png", 600)
