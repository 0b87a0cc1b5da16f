"""What the server refuses, and how it answers what is wrong. Constructed cases, over a real socket."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from tests.web.conftest import Served

from roundown.web.guard import GREATEST_BODY

PAGE = "abcdefgh12345678"


@pytest.fixture
def client(served: Served, plan: Path) -> Iterator[httpx.Client]:
    """Asks as the page itself would."""
    with (
        served(plan) as address,
        httpx.Client(base_url=address, headers={"Origin": address}, timeout=30.0, trust_env=False) as asking,
    ):
        yield asking


def solve(client: httpx.Client, text: str, edit: int = 1, **headers: str) -> httpx.Response:
    return client.post("/solve", json={"page": PAGE, "edit": edit, "text": text}, headers=headers)


def test_the_page_and_its_parts_are_served_with_a_strict_policy(client: httpx.Client) -> None:
    for path in ("/", "/static/page.css", "/static/page.js", "/static/show.js", "/state"):
        response = client.get(path)
        assert response.status_code == 200, path
        policy = response.headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert "http" not in policy
        assert response.headers["x-content-type-options"] == "nosniff"
        assert response.headers["cross-origin-resource-policy"] == "same-origin"
        assert "access-control-allow-origin" not in response.headers
    for path in ("/docs", "/redoc", "/openapi.json", "/static/../app.py", "/static/%2e%2e/app.py"):
        assert client.get(path).status_code == 404, path


def test_a_name_that_was_made_to_point_here_is_refused(client: httpx.Client) -> None:
    port = client.base_url.port
    for host in ("evil.example", f"evil.example:{port}", "127.0.0.1", "127.0.0.1:1", f"127.0.0.1.example:{port}"):
        response = client.get("/state", headers={"Host": host})
        assert response.status_code == 403, host
        assert "own address" in response.json()["sentence"]
    assert client.get("/state", headers={"Host": f"localhost:{port}"}).status_code == 200


def test_another_page_of_the_browser_can_change_nothing(client: httpx.Client, plan: Path, demo_text: str) -> None:
    found = client.get("/state").json()["hash"]
    for origin in ("http://evil.example", "null", "", f"https://127.0.0.1:{client.base_url.port}", "http://127.0.0.1"):
        response = client.post("/save", json={"text": "x", "hash": found, "name": ""}, headers={"Origin": origin})
        assert response.status_code == 403, origin
        assert solve(client, demo_text, Origin=origin).status_code == 403
    del client.headers["Origin"]
    assert client.post("/save", json={"text": "x", "hash": found, "name": ""}).status_code == 403
    assert plan.read_text("utf-8") == demo_text


def test_a_form_of_another_kind_is_not_taken_for_json(client: httpx.Client, demo_text: str) -> None:
    body = json.dumps({"page": PAGE, "edit": 1, "text": demo_text})
    response = client.post("/solve", content=body, headers={"Content-Type": "text/plain"})
    assert response.status_code == 422


@pytest.mark.parametrize("told", [True, False], ids=["length told", "length not told"])
def test_a_body_without_measure_is_refused(client: httpx.Client, *, told: bool) -> None:
    body = b"x" * (GREATEST_BODY + 1)
    try:
        response = client.post("/solve", content=body if told else iter([body[: 1 << 20]] * 5))
    except (httpx.WriteError, httpx.RemoteProtocolError):
        return  # the line was cut while more was sent, which is an answer too
    assert response.status_code == 413
    assert "larger than 2 MB" in response.json()["sentence"]


@pytest.mark.parametrize(
    "body",
    [
        '{"page": "abcdefgh", "edit": NaN, "text": ""}',
        '{"page": "abcdefgh", "edit": Infinity, "text": ""}',
        '{"page": "abcdefgh", "edit": 1e999, "text": ""}',
        '{"page": "abcdefgh", "edit": true, "text": ""}',
        '{"page": "abcdefgh", "edit": "1", "text": ""}',
        '{"page": "abcdefgh", "edit": -1, "text": ""}',
        '{"page": "abcdefgh", "edit": 1, "text": 3}',
        '{"page": "../../etc", "edit": 1, "text": ""}',
        '{"page": "abcdefgh", "edit": 1, "text": "", "more": 1}',
        '{"page": "abcdefgh", "edit": 1}',
        "[NaN]",
        "nonsense",
        "",
    ],
)
def test_what_is_not_an_edit_gets_a_sentence(client: httpx.Client, body: str) -> None:
    response = client.post("/solve", content=body, headers={"Content-Type": "application/json"})
    assert response.status_code == 422
    assert response.json()["sentence"].endswith(".")


def test_an_edit_that_cannot_be_read_is_answered_with_its_complaints(client: httpx.Client, demo_text: str) -> None:
    text = demo_text.replace('"140/11 kt"', '"140/11 bananas"')
    answer = solve(client, text).json()
    assert (answer["edit"], answer["outcome"]) == (1, "broken")
    (complaint,) = answer["complaints"]
    assert complaint["key"] == "weather.surface_wind"
    assert complaint["value"] == '"140/11 bananas"'
    assert text.split("\n")[complaint["line"] - 1].startswith("surface_wind")
    assert complaint["limit"]
    assert complaint["remedy"]
    assert answer["figures"] == {}
    assert answer["sheets"] == {}


@pytest.mark.parametrize("text", ["", "format = 9", "\ufeff", "[" * 500, "a = 1\x00", "x" * 100_000])
def test_junk_is_answered_with_something_to_mend(client: httpx.Client, text: str) -> None:
    answer = solve(client, text).json()
    assert answer["outcome"] == "broken"
    assert answer["remarks"]


def test_an_edit_older_than_one_seen_is_not_begun(client: httpx.Client, demo_text: str) -> None:
    assert solve(client, demo_text, 7).json()["outcome"] == "solved"
    late: dict[str, Any] = solve(client, demo_text, 6).json()
    assert (late["edit"], late["outcome"], late["figures"]) == (6, "overtaken", {})


def test_a_card_is_made_for_a_page_and_edit_that_were_solved(client: httpx.Client, demo_text: str) -> None:
    assert solve(client, demo_text, 3).json()["outcome"] == "solved"
    names = client.get(f"/cards/{PAGE}/3").json()["cards"]
    assert client.get(f"/cards/{PAGE}/2").json()["cards"] == []
    assert {"circuit-card", "ship-card"} <= set(names)
    made = client.get(f"/cards/{PAGE}/3/circuit-card.pdf")
    assert made.headers["content-type"] == "application/pdf"
    assert made.content.startswith(b"%PDF")
    for path, status in (
        (f"/cards/{PAGE}/2/circuit-card.pdf", 404),
        ("/cards/another1/3/circuit-card.pdf", 404),
        (f"/cards/{PAGE}/3/no-card.pdf", 404),
        (f"/cards/{PAGE}/3/circuit-card.exe", 422),
        (f"/cards/{PAGE}/x/circuit-card.pdf", 422),
    ):
        response = client.get(path)
        assert response.status_code == status, path
        assert response.json()["sentence"].endswith(".")


def test_a_fault_of_the_program_is_a_sentence_and_the_next_edit_is_solved(
    client: httpx.Client, demo_text: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def faulty(*_: object) -> None:
        raise ZeroDivisionError

    with monkeypatch.context() as patched:
        patched.setattr("roundown.web.app.answer_edit", faulty)
        response = solve(client, demo_text, 1)
    assert response.status_code == 500
    assert response.json()["sentence"].startswith("A fault of the program: ZeroDivisionError.")
    assert solve(client, demo_text, 2).json()["outcome"] == "solved"
