"""The cards as files: what is read off the PDF is what was solved, and the PNG is as wide as asked."""

from __future__ import annotations

import ctypes
import re
import struct

import pypdfium2
import pytest
from tests.cards.conftest import AWKWARD, ESTIMATE, NO_CIRCUIT, RIGHT_HAND, SHIPS, WINDS, SolvedBy

from roundown import CAUTION
from roundown.cards.brief import brief
from roundown.cards.card import Card, shortened
from roundown.cards.circuit_card import MOST_FIGURES, circuit_card
from roundown.cards.layout import POINTS_WIDE, render
from roundown.cards.marks import ESTIMATED, STOP
from roundown.cards.ship_card import ship_card
from roundown.solution import Unsolved

A_FIGURE = re.compile(r"(?<![\w.,])-?\d[\d,.]*(?: (?:kt|yd|deg|ft|nm|s|min|g)\b)")


def read(pdf: bytes) -> str:
    """All text of a PDF of one page, with single blanks."""
    pages = pypdfium2.PdfDocument(pdf)
    assert len(pages) == 1
    return " ".join(pages[0].get_textpage().get_text_range().split())


def assert_card_says_what_was_solved(card: Card, figures: dict[str, str]) -> None:
    text = read(render(card, "pdf"))
    for line in card.lines:
        assert line.text in text, line.key
        assert line.label in text, line.key
        assert figures[line.key].lstrip("-").removesuffix(" over sea") in line.text, line.key
    for sentence in card.sentences:
        for key in sentence.keys:
            assert figures[key].lstrip("-") in sentence.text, key
        assert sentence.text.split(";")[0].split(" ")[-1] in text
    for words in (card.heading.split()[0].lower(), CAUTION, card.plan, *card.marks):
        assert words in text or words in text.lower(), words


@pytest.mark.parametrize("wind", WINDS)
@pytest.mark.parametrize("doctrine", SHIPS)
def test_the_cards_say_what_was_solved(solved: SolvedBy, doctrine: str, wind: str) -> None:
    found = solved(doctrine, wind)
    figures = {key: given.text for key, given in found.day.givens.items()}
    figures |= {key: figure.text for key, figure in found.solution.figures.items()}
    assert_card_says_what_was_solved(circuit_card(found.day, found.solution), figures)
    assert_card_says_what_was_solved(ship_card(found.day, found.solution), figures)


@pytest.mark.parametrize("doctrine", SHIPS)
def test_the_first_card_has_fourteen_figures_at_most(solved: SolvedBy, doctrine: str) -> None:
    found = solved(doctrine)
    card = circuit_card(found.day, found.solution)
    assert len(card.keys) == len(set(card.keys)) <= MOST_FIGURES
    printed = A_FIGURE.findall(read(render(card, "pdf")))
    courses = 2  # they have three digits and no unit
    assert len(printed) + courses <= MOST_FIGURES


def test_the_five_figures_of_the_first_look_are_on_the_first_card(solved: SolvedBy) -> None:
    card = circuit_card(solved().day, solved().solution)
    wanted = {
        "cockpit.flight_course", "cockpit.reciprocal", "circuit.break_to_rollout", "circuit.abeam",
        "circuit.rollout_to_turn_in", "circuit.ramp_off_nose", "circuit.final_bank",
    }  # fmt: skip
    assert wanted <= {line.key for line in card.lines if line.large}


@pytest.mark.parametrize("width", [1, 333, 600, 1080, 1200, 1999])
def test_a_picture_is_as_wide_as_asked(solved: SolvedBy, width: int) -> None:
    for card in (circuit_card(solved().day, solved().solution), ship_card(solved().day, solved().solution)):
        made = render(card, "png", width)
        assert made[:8] == b"\x89PNG\r\n\x1a\n"
        assert struct.unpack(">I", made[16:20])[0] == width


def test_a_picture_of_no_width_is_refused(solved: SolvedBy) -> None:
    with pytest.raises(ValueError, match="one pixel"):
        render(circuit_card(solved().day, solved().solution), "png", 0)


def text_sizes(page: pypdfium2.PdfPage) -> list[float]:
    """Size of every piece of text of a page, those of the drawings too [points]."""
    found = []
    for piece in page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_TEXT], max_depth=1):
        size = ctypes.c_float()
        assert pypdfium2.raw.FPDFTextObj_GetFontSize(piece.raw, size)
        found.append(size.value * abs(piece.get_matrix().d))
    return found


@pytest.mark.parametrize(("wind", "more"), [("070/12 kt", ""), ("070/3 kt", ESTIMATE), ("070/3 kt", RIGHT_HAND)])
@pytest.mark.parametrize("title", ["Evening recovery", "A title long enough for two lines of the card, " * 2])
def test_the_smallest_text_is_fifteen_pixels_high_on_a_picture_of_600(
    solved: SolvedBy, wind: str, more: str, title: str
) -> None:
    found = solved("half-mile-1945", wind, title=title, more=more)
    for card in (circuit_card(found.day, found.solution), ship_card(found.day, found.solution)):
        page = pypdfium2.PdfDocument(render(card, "pdf"))[0]
        assert page.get_width() == pytest.approx(POINTS_WIDE)
        assert min(text_sizes(page)) * 600.0 / POINTS_WIDE >= 15.0


def test_the_same_day_gives_the_same_bytes(solved: SolvedBy) -> None:
    found = solved()
    assert brief(found.day, found.solution, found.dial, 600) == brief(found.day, found.solution, found.dial, 600)


def test_without_a_circuit_the_card_says_why_and_what_would_make_one(solved: SolvedBy) -> None:
    found = solved(more=NO_CIRCUIT)
    assert isinstance(found.solution.circuit, Unsolved)
    card = circuit_card(found.day, found.solution)
    text = read(render(card, "pdf"))
    assert "No circuit: the break ends behind" in text
    assert "instead of" in text
    assert [line.key for line in card.lines] == ["cockpit.flight_course", "cockpit.reciprocal", "flight.over_deck"]
    assert STOP in text


def test_an_estimate_is_marked(solved: SolvedBy) -> None:
    found = solved(more=ESTIMATE)
    assert ESTIMATED in read(render(circuit_card(found.day, found.solution), "pdf"))
    assert ESTIMATED not in read(render(circuit_card(solved().day, solved().solution), "pdf"))


def test_the_officer_is_called_what_the_doctrine_calls_him(solved: SolvedBy) -> None:
    for doctrine, word in (("fast-carrier-1944", "signal officer"), ("half-mile-1945", "batsman")):
        found = solved(doctrine)
        assert word in read(render(circuit_card(found.day, found.solution), "pdf"))


def test_a_title_is_text_and_never_layout(solved: SolvedBy) -> None:
    found = solved(title=AWKWARD + " #panic() $x$ *b* @z")
    text = read(render(circuit_card(found.day, found.solution), "pdf"))
    assert "<&>" in text
    assert "#panic() $x$ *b* @z" in text


def test_a_long_title_is_cut_where_it_shows() -> None:
    assert shortened("short  one") == "short one"
    cut = shortened("word " * 60)
    assert cut.endswith("…")
    assert len(cut) <= 111
    assert max(len(part) for part in re.split(r"[ \N{ZERO WIDTH SPACE}]", shortened("x" * 90))) <= 28


@pytest.mark.parametrize("title", ["x" * 300, "long words " * 40])
def test_any_title_goes_on_one_page(solved: SolvedBy, title: str) -> None:
    found = solved("half-mile-1945", "070/3 kt", title=title, more=RIGHT_HAND)
    for card in (circuit_card(found.day, found.solution), ship_card(found.day, found.solution)):
        assert read(render(card, "pdf"))
