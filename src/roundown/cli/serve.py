"""`roundown serve`: the plan on the table, in a browser of this machine."""

from __future__ import annotations

import contextlib
import os
import socket
import threading
import webbrowser
from importlib import resources
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from roundown import CAUTION
from roundown.documents import open_document
from roundown.errors import Complaint, PlanError, RoundownError
from roundown.web.plan_file import PlanFile

PORT = 8044  # taken where it is free and none is asked for
HOST = "127.0.0.1"


def serve(
    plan: Path | None = None,
    *,
    port: Annotated[int | None, Parameter(help="Port to serve on; else 8044, or a free one.")] = None,
    browser: Annotated[bool, Parameter(help="Open the page in the browser.")] = True,
) -> int:
    """Show a plan in the browser, solve it again as you type, and save it.

    Only this machine can reach the page. Without a plan it shows the demo, which has no file until you save it.

    Parameters
    ----------
    plan
        The air plan, a TOML file.

    """
    text = _text(plan)
    with listen(port) as listening:
        address = f"http://{HOST}:{listening.getsockname()[1]}/"
        print(f"The plotting room is open: {address}")
        print(f"On the table: {plan or 'the demo, not saved'}. Ctrl+C closes it.")
        print(CAUTION, flush=True)
        if browser:
            threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()
        with contextlib.suppress(KeyboardInterrupt):
            _run(plan, text, listening)
    print("Closed.")
    return 0


def listen(port: int | None) -> socket.socket:
    """A socket that listens on the loopback only. port : None for ours, or a free one where ours is taken.

    Raises RoundownError with a sentence where the port asked for cannot be had.
    """
    if port is not None and not 0 <= port <= 65535:
        raise RoundownError(f"--port = {port}: ports are 0 to 65535. Leave --port out for a free one.")
    for number in (PORT, 0) if port is None else (port,):
        listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if os.name != "nt":  # there it would let two programs have one port
            listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listening.bind((HOST, number))
            listening.listen(100)
        except OSError as error:
            listening.close()
            reason = error.strerror or str(error)
        else:
            return listening
    remedy = "Leave --port out for a free one, or close the program that has it."
    raise RoundownError(f"Port {port or PORT} cannot be had: {reason}. {remedy}")


def _text(plan: Path | None) -> str:
    """The demo's text where there is no plan, else nothing. Raises PlanError for a file that is no text at all."""
    if plan is None:
        return resources.files("roundown.plan").joinpath("demo.toml").read_text("utf-8")
    complaint = open_document(plan)
    if isinstance(complaint, Complaint) and not PlanFile(plan, "").read().text:
        raise PlanError([complaint])
    return ""


def _run(plan: Path | None, text: str, listening: socket.socket) -> None:
    """Serve until the user ends it. Kernels are compiled where that can be done."""
    from roundown.motion import jit

    jit.enable()
    import uvicorn

    from roundown.web.app import make_app

    app = make_app(PlanFile(plan, text), listening.getsockname()[1])
    config = uvicorn.Config(
        app, log_level="warning", access_log=False, ws="none", server_header=False, timeout_graceful_shutdown=2
    )
    uvicorn.Server(config).run(sockets=[listening])
