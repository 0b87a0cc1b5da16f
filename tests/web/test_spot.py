"""Places on deck asked for over a real socket, and the lines that findings of a launch lead to. Constructed cases."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from tests.web.conftest import Served
from tests.web.test_page import line_of as line_with

from roundown.day.memory import Memory
from roundown.documents import Document, parse_document
from roundown.findings import Finding, Level
from roundown.plan.read import day_of
from roundown.plan.spots_text import spots_text
from roundown.quantities import FOOT
from roundown.web.answer import answer_edit
from roundown.web.lines import line_of
from roundown.web.solver import Edit

PATROL = "first patrol"
PIN = {"event": PATROL, "side": "11", "ahead": 212, "port": -14}


@pytest.fixture
def client(served: Served, plan: Path) -> Iterator[httpx.Client]:
    """Asks as the page itself would."""
    with (
        served(plan) as address,
        httpx.Client(base_url=address, headers={"Origin": address}, timeout=30.0, trust_env=False) as asking,
    ):
        yield asking


def test_places_are_written_in_the_order_asked_for(client: httpx.Client, demo_text: str) -> None:
    pinned = client.post("/spot", json={"text": demo_text, "pins": [PIN]}).json()
    assert pinned == {"text": spots_text(demo_text, PATROL, "11", (212 * FOOT, -14 * FOOT))}
    other = {"event": "second patrol", "side": "21", "ahead": 90, "port": 0}
    both = client.post("/spot", json={"text": demo_text, "pins": [PIN, other]}).json()["text"]
    free = [{"event": each["event"], "side": each["side"]} for each in (PIN, other)]
    assert client.post("/spot", json={"text": both, "pins": free}).json()["text"] == demo_text


@pytest.mark.parametrize(
    ("text", "pin", "said"),
    [
        ("event = [", PIN, "mend the marked lines first"),
        ("[" * 500, PIN, "mend the marked lines first"),
        ("format = 1", PIN, "no event called first patrol"),
    ],
)
def test_a_text_that_cannot_take_a_place_is_refused_with_a_sentence(
    client: httpx.Client, text: str, pin: dict[str, Any], said: str
) -> None:
    response = client.post("/spot", json={"text": text, "pins": [pin]})
    assert response.status_code == 400
    assert said in response.json()["sentence"]


@pytest.mark.parametrize(
    "change",
    [{"ahead": -1}, {"ahead": 1201}, {"port": 126}, {"ahead": "90"}, {"ahead": math.nan}, {"more": 1}],
)
def test_what_is_no_place_on_a_deck_gets_a_sentence(
    client: httpx.Client, demo_text: str, change: dict[str, object]
) -> None:
    body = json.dumps({"text": demo_text, "pins": [{**PIN, **change}]})
    response = client.post("/spot", content=body, headers={"Content-Type": "application/json"})
    assert response.status_code == 422
    assert response.json()["sentence"].endswith(".")


def test_another_page_of_the_browser_asks_for_no_place(client: httpx.Client, demo_text: str) -> None:
    body = {"text": demo_text, "pins": [PIN]}
    assert client.post("/spot", json=body, headers={"Origin": "http://evil.example"}).status_code == 403


def lines(text: str, key: str, name: str = "run-short") -> int:
    """The line a finding of a key leads to."""
    document = parse_document("plan.toml", text)
    assert isinstance(document, Document)
    return line_of(day_of(document), document, {}, Finding(name, Level.STOP, key, "", "", ""))


def test_a_finding_of_a_take_off_leads_to_the_launch_of_its_event(demo_text: str) -> None:
    second = line_with(demo_text, "sunset - 107 min")
    for key in ("seats.21.run.length_margin", "sequence.interval", "seats.21.spot.run_left"):
        assert lines(demo_text, f"launches.second_patrol.{key}") == second
        assert lines(demo_text, f"parts.lintel.sallow.launches.second_patrol.{key}") == second
    assert lines(demo_text, "launches.no_such_event.sequence.interval") == 0


def test_a_finding_of_a_pinned_place_leads_to_that_place(demo_text: str) -> None:
    text = demo_text.replace("[radio]", '[event.spots]\n"21" = { ahead = "90 ft" }\n22.ahead = "200 ft"\n[radio]')
    for side in ("21", "22"):
        key = f"launches.second_patrol.seats.{side}.spot.run_left"
        assert lines(text, key, "spot-pin-near") == line_with(
            text, '"21" = { ahead = "90 ft" }' if side == "21" else "22.ahead"
        )
        assert lines(text, key, "spot-no-run") == line_with(text, "sunset - 107 min")
    assert lines(text, "launches.second_patrol.seats.23.spot.run_left", "spot-pin-near") == line_with(text, "107 min")


def test_a_pin_off_the_deck_is_said_at_once_beside_it(demo_text: str) -> None:
    text = spots_text(demo_text, PATROL, "11", (300 * FOOT, 60 * FOOT))
    answer, _ = answer_edit(Edit("p", 1, text), "plan.toml", Memory())
    told = {remark.line: remark.text for remark in answer.remarks}
    assert "wheel off the deck" in told[line_with(text, "spots = ")]


def test_a_moved_aeroplane_solves_again_only_what_it_touches(demo_text: str) -> None:
    """Neither light nor circuit nor track, and of the runs those that changed."""
    memory = Memory()
    text = spots_text(demo_text, PATROL, "11", (300 * FOOT, 0.0))
    answer_edit(Edit("p", 1, text), "plan.toml", memory)
    before = dict(memory.solved)
    answer_edit(Edit("p", 2, spots_text(text, PATROL, "11", (310 * FOOT, 0.0))), "plan.toml", memory)
    again = {phase: count - before[phase] for phase, count in memory.solved.items() if count > before[phase]}
    assert again == {"spot": 1, "run": 1, "past the bow": 1, "abort": 1}
