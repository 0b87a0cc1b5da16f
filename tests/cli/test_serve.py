"""`roundown serve`: what it says when it starts, and when it cannot. Constructed cases."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import httpx
import pytest
from tests.cli.conftest import Outcome

import roundown
from roundown import CAUTION
from roundown.cli.serve import HOST, PORT, listen
from roundown.errors import RoundownError


def test_a_port_in_use_is_a_sentence_with_a_remedy(call: Callable[..., Outcome], demo: Path) -> None:
    with socket.socket() as taken:
        taken.bind((HOST, 0))
        taken.listen()
        port = taken.getsockname()[1]
        found = call("serve", demo, "--port", str(port), "--no-browser")
    assert found.code == 2
    assert found.err.startswith(f"Port {port} cannot be had: ")
    assert "Leave --port out for a free one" in found.err


def test_without_a_port_a_free_one_is_found() -> None:
    with listen(None) as first, listen(None) as second:
        assert first.getsockname()[0] == second.getsockname()[0] == HOST
        ports = first.getsockname()[1], second.getsockname()[1]
        assert ports[0] != ports[1]
        assert PORT not in ports[1:]


@pytest.mark.parametrize("port", [-1, 65536])
def test_a_number_that_is_no_port_is_refused(port: int) -> None:
    with pytest.raises(RoundownError, match="ports are 0 to 65535"):
        listen(port)


@pytest.mark.parametrize(
    ("raw", "said"),
    [(None, "there is no such file"), (b"\xff\xfe\x00", "not UTF-8 text"), (b"", "the file is empty")],
    ids=["missing", "not text", "empty"],
)
def test_what_is_no_text_is_refused_before_anything_opens(
    call: Callable[..., Outcome], tmp_path: Path, raw: bytes | None, said: str
) -> None:
    file = tmp_path / "plan.toml"
    if raw is not None:
        file.write_bytes(raw)
    found = call("serve", file, "--no-browser")
    assert found.code == 2
    assert said in found.err
    assert found.out == ""


def test_a_folder_is_refused(call: Callable[..., Outcome], tmp_path: Path) -> None:
    found = call("serve", tmp_path, "--no-browser")
    assert found.code == 2
    assert "this is a folder" in found.err


@pytest.mark.skipif(os.name == "nt", reason="Ctrl+C cannot be sent to one process there")
def test_it_tells_its_address_serves_and_closes_when_told(demo: Path) -> None:
    environment = {**os.environ, "PYTHONPATH": str(Path(roundown.__file__).parents[1]), "PYTHONUNBUFFERED": "1"}
    command = [sys.executable, "-m", "roundown", "serve", str(demo), "--port", "0", "--no-browser"]
    with subprocess.Popen(  # noqa: S603 - our own words
        command, env=environment, text=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as server:
        assert server.stdout is not None
        opened, on_the_table, caution = (server.stdout.readline().rstrip() for _ in range(3))
        assert opened.startswith("The plotting room is open: http://127.0.0.1:")
        assert on_the_table == f"On the table: {demo}. Ctrl+C closes it."
        assert caution == CAUTION
        address = opened.split()[-1].rstrip("/")
        try:
            with httpx.Client(base_url=address, headers={"Origin": address}, timeout=60.0, trust_env=False) as client:
                assert "<title>" in client.get("/").text
                asked = {"page": "abcdefgh", "edit": 1, "text": demo.read_text("utf-8")}
                assert client.post("/solve", json=asked).json()["outcome"] == "solved"
        finally:
            server.send_signal(signal.SIGINT)
            out, err = server.communicate(timeout=20.0)
    assert server.returncode == 0
    assert out == "Closed.\n"
    assert err == ""
