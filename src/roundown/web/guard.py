"""Who may ask: this machine's own browser, on our own page, with a body of reasonable size.

The server listens on the loopback, but any page open in the same browser may send requests there, and a foreign name
may be made to point there. So the name asked for must be ours, whatever changes something must come from our own page,
and nothing of another origin may frame, load or read what is answered.
"""

from __future__ import annotations

from collections.abc import MutableMapping
from typing import Any

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import JSONResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from roundown.documents import GREATEST_SIZE

GREATEST_BODY = 2 * GREATEST_SIZE + 10_000  # bytes: a plan as JSON, most of it escaped
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
HEADERS = {
    "Cache-Control": "no-store",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
}
PAPERS = ("application/pdf", "image/png")  # the browser's own viewer shows them: the page's policy would stop it


class Guard:
    """Stands before the application. port : the one it is served on."""

    def __init__(self, app: ASGIApp, port: int) -> None:
        self.app = app
        self.hosts = {f"127.0.0.1:{port}", f"localhost:{port}"}
        self.origins = {f"http://{host}" for host in self.hosts}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer, or refuse with a sentence."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        headers = Headers(scope=scope)
        refusal = self._refusal(scope, headers)
        if refusal is not None:
            await refusal(scope, receive, _with_headers(send))
            return
        body = await _body(headers, receive)
        if body is None:
            said = f"The plan is larger than {GREATEST_SIZE // 1_000_000} MB. Look at what was pasted into it."
            await _refuse(413, said)(scope, receive, _with_headers(send))
            return
        await self.app(scope, _again(body, receive), _with_headers(send))

    def _refusal(self, scope: Scope, headers: Headers) -> JSONResponse | None:
        if headers.get("host") not in self.hosts:
            return _refuse(403, "This page answers to its own address only.")
        origin = headers.get("origin")
        if scope["method"] not in {"GET", "HEAD"} and origin not in self.origins:
            return _refuse(403, "This may be asked from the page itself only.")
        return None


def _refuse(status: int, sentence: str) -> JSONResponse:
    return JSONResponse({"sentence": sentence}, status)


async def _body(headers: Headers, receive: Receive) -> bytes | None:
    """The body of a request; None where it is too large, of which no more is read."""
    told = headers.get("content-length", "")
    if told.isdigit() and int(told) > GREATEST_BODY:
        return None
    parts: list[bytes] = []
    size = 0
    while True:
        message = await receive()
        part = message.get("body", b"")
        size += len(part)
        if size > GREATEST_BODY:
            return None
        parts.append(part)
        if not message.get("more_body", False):
            return b"".join(parts)


def _again(body: bytes, receive: Receive) -> Receive:
    """Hands out a body that was read already, then what comes after it."""
    waiting: list[MutableMapping[str, Any]] = [{"type": "http.request", "body": body, "more_body": False}]

    async def again() -> Message:
        return waiting.pop() if waiting else await receive()

    return again


def _with_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers[name] = value
            if headers.get("content-type", "") not in PAPERS:
                headers["Content-Security-Policy"] = POLICY
        await send(message)

    return sending
