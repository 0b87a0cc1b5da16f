"""The plotting room as it is used: a real server on a free port, and a real Chromium that looks at it."""

from __future__ import annotations

import contextlib
import os
import shutil
import threading
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from dataclasses import dataclass, field
from importlib import resources
from pathlib import Path

import pytest
import uvicorn
from playwright.sync_api import Browser, ConsoleMessage, Page, Route, sync_playwright

from roundown.cli.serve import listen
from roundown.web.app import make_app
from roundown.web.plan_file import PlanFile

FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage", "--force-prefers-reduced-motion",
]  # fmt: skip
NAMES = ("chromium", "chromium-browser", "google-chrome")
WAIT = 20_000  # ms, for one outcome: the machine may be busy


@pytest.fixture(scope="session")
def demo_text() -> str:
    return resources.files("roundown.plan").joinpath("demo.toml").read_text("utf-8")


@pytest.fixture
def plan(tmp_path: Path, demo_text: str) -> Path:
    """The demo plan in a folder of its own."""
    file = tmp_path / "evening.toml"
    file.write_text(demo_text, "utf-8")
    return file


Served = Callable[[Path | None], AbstractContextManager[str]]


@pytest.fixture(scope="session")
def served(demo_text: str) -> Served:
    """Serves a plan, or the demo without a file, and gives the address."""

    @contextlib.contextmanager
    def serving(path: Path | None) -> Iterator[str]:
        listening = listen(0)
        port = listening.getsockname()[1]
        app = make_app(PlanFile(path, "" if path else demo_text), port)
        config = uvicorn.Config(app, log_level="warning", access_log=False, ws="none", timeout_graceful_shutdown=1)
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        thread.start()
        try:
            yield f"http://127.0.0.1:{port}"
        finally:
            server.should_exit = True
            thread.join(10.0)
            listening.close()

    return serving


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One Chromium for all tests of a process; it is never downloaded and never left out."""
    path = os.environ.get("CHROMIUM") or next((found for name in NAMES if (found := shutil.which(name))), None)
    if path is None:
        pytest.fail("No Chromium is there: install chromium, or name one in the environment variable CHROMIUM.")
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=path, args=FLAGS)
        yield started
        started.close()


@dataclass
class Room:
    """An open page. faults : what a page must not do: errors, and requests to anywhere else."""

    page: Page
    address: str
    faults: list[str] = field(default_factory=list)

    def open(self) -> Room:
        """Open the page and wait until its first edit has an outcome."""
        self.page.goto(self.address + "/")
        self.settled()
        return self

    def settled(self) -> str:
        """Wait until nothing is being solved; the outcome: solved, broken or failed."""
        self.page.wait_for_selector("body[data-state]:not([data-state=solving])", timeout=WAIT)
        return self.page.get_attribute("body", "data-state") or ""

    def write(self, text: str) -> str:
        """Put a text on the paper as if it were typed, and wait for what comes of it."""
        before = int(self.page.get_attribute("body", "data-asked") or 0)
        self.page.locator("#text").fill(text)
        self.page.wait_for_selector(f"body[data-asked='{before + 1}']", timeout=WAIT)
        return self.settled()

    def figure(self, key: str) -> str:
        return self.page.locator(f"[data-key='{key}']").inner_text()

    def numbers(self) -> set[str]:
        """The edit numbers that figures and drawings say they come from."""
        found: list[str] = self.page.evaluate(
            "() => [...document.querySelectorAll('[data-key], .sheet, .table-sheet, #sentence')]"
            ".map((each) => each.dataset.edit ?? '')"
        )
        return set(found)


Opened = Callable[[Path | None], Room]


@pytest.fixture
def opened(browser: Browser, served: Served) -> Iterator[Opened]:
    """Opens the page of a plan; the test fails on any error in it and on any request that leaves the machine."""
    with contextlib.ExitStack() as stack:
        rooms: list[Room] = []

        def opening(path: Path | None) -> Room:
            address = stack.enter_context(served(path))
            context = browser.new_context(
                viewport={"width": 1280, "height": 900}, locale="en-GB", timezone_id="UTC", service_workers="block"
            )
            stack.callback(context.close)
            room = Room(context.new_page(), address)
            rooms.append(room)

            def console(message: ConsoleMessage) -> None:
                if message.type in {"error", "warning"}:
                    room.faults.append(message.text)

            def routed(route: Route) -> None:
                if route.request.url.startswith((address, "data:,")):
                    route.continue_()
                else:
                    room.faults.append(route.request.url)
                    route.abort()

            room.page.on("console", console)
            room.page.on("pageerror", lambda error: room.faults.append(str(error)))
            context.route("**/*", routed)
            return room.open()

        yield opening
        assert [room.faults for room in rooms] == [[] for _ in rooms]
