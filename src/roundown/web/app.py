"""The plotting room's server: the page, the plan's file, one solver, and the cards of what was solved last."""

from __future__ import annotations

import asyncio
import logging
from collections import OrderedDict
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import asdict
from importlib import resources
from pathlib import Path
from typing import Literal

from fastapi import FastAPI, Request, Response
from fastapi.exceptions import RequestValidationError
from fastapi.responses import FileResponse, JSONResponse
from fastapi.staticfiles import StaticFiles
from starlette.exceptions import HTTPException

from roundown.cards.card import Card
from roundown.day.memory import Memory
from roundown.errors import RoundownError
from roundown.plan.spots_text import spots_text
from roundown.quantities import FOOT
from roundown.web.answer import Solved, answer_edit
from roundown.web.guard import Guard
from roundown.web.models import Answer, Cards, EditAsked, Refusal, SaveAsked, SpotAsked, State, Written
from roundown.web.papers import paper
from roundown.web.plan_file import OnDisk, PlanFile, Refused
from roundown.web.solver import PAGES, Edit, Solver

UNSAVED = "plan without a file"  # stands for the file's name in complaints
STATIC = Path(str(resources.files("roundown.web") / "static"))
log = logging.getLogger(__name__)


class Room:
    """What is on the table: the plan's file, the solver with its memory, and the last solved day of each open page.

    plan : read and written here
    """

    def __init__(self, plan: PlanFile) -> None:
        self.plan = plan
        self.memory = Memory()
        self.solved: OrderedDict[str, Solved] = OrderedDict()
        self.solver: Solver[Answer] = Solver(self._solve)

    def _solve(self, edit: Edit) -> Answer:
        answer, solved = answer_edit(edit, str(self.plan.path or UNSAVED), self.memory)
        if solved is not None:
            self.solved[edit.page] = solved
            self.solved.move_to_end(edit.page)
            while len(self.solved) > PAGES:
                self.solved.popitem(last=False)
        return answer


def make_app(plan: PlanFile, port: int) -> FastAPI:
    """The application for one plan. port : it will be served on."""
    room = Room(plan)

    @asynccontextmanager
    async def lifespan(_: FastAPI) -> AsyncIterator[None]:
        yield
        await asyncio.to_thread(room.solver.close)

    app = FastAPI(title="roundown", docs_url=None, redoc_url=None, openapi_url=None, lifespan=lifespan)
    app.add_middleware(Guard, port=port)
    _answer_errors(app)
    _add_routes(app, room)
    app.mount("/static", StaticFiles(directory=STATIC), name="static")
    return app


def _answer_errors(app: FastAPI) -> None:
    """Errors as sentences; what was sent is never echoed, since NaN could not be."""

    @app.exception_handler(RequestValidationError)
    async def not_as_wanted(_: Request, error: RequestValidationError) -> JSONResponse:
        first = error.errors()[0]
        where = ".".join(str(part) for part in first["loc"][1:])
        return _refusal(422, f"{where or 'the request'}: {first['msg']}.")

    @app.exception_handler(HTTPException)
    async def not_here(_: Request, error: HTTPException) -> JSONResponse:
        return _refusal(error.status_code, f"There is nothing of that kind here: {error.detail}.")

    @app.exception_handler(RoundownError)
    async def cannot(_: Request, error: RoundownError) -> JSONResponse:
        return _refusal(400, str(error))


def _refusal(status: int, sentence: str, found: OnDisk | None = None) -> JSONResponse:
    state = None if found is None else State(**asdict(found))
    return JSONResponse(Refusal(sentence=sentence, state=state).model_dump(), status)


def _add_routes(app: FastAPI, room: Room) -> None:
    @app.get("/")
    def page() -> FileResponse:
        return FileResponse(STATIC / "page.html", media_type="text/html")

    @app.get("/state")
    def state() -> State:
        return State(**asdict(room.plan.read()))

    @app.post("/solve", response_model=None)
    async def solve(asked: EditAsked) -> Answer | JSONResponse:
        try:
            found = await asyncio.wrap_future(room.solver.submit(Edit(asked.page, asked.edit, asked.text)))
        except Exception as error:
            log.exception("an edit could not be solved")
            said = f"A fault of the program: {type(error).__name__}. Undo the last change, and report it with the plan."
            return _refusal(500, said)
        return found or Answer(edit=asked.edit, outcome="overtaken")

    @app.post("/spot")
    def spot(asked: SpotAsked) -> Written:
        text = asked.text
        for pin in asked.pins:
            place = None if pin.ahead is None or pin.port is None else (pin.ahead * FOOT, pin.port * FOOT)
            text = spots_text(text, pin.event, pin.side, place)
        return Written(text=text)

    @app.post("/save", response_model=None)
    def save(asked: SaveAsked) -> State | JSONResponse:
        try:
            found = room.plan.save_as(asked.text, asked.name) if asked.name else room.plan.save(asked.text, asked.hash)
        except Refused as refused:
            return _refusal(409, str(refused), refused.found)
        return State(**asdict(found))

    @app.get("/cards/{page}/{edit}", response_model=None)
    def cards(page: str, edit: int) -> Cards | JSONResponse:
        solved = room.solved.get(page)
        if solved is None or solved.edit != edit:
            return Cards(cards=())
        papers = _papers(room, page, edit)
        return papers if isinstance(papers, JSONResponse) else Cards(cards=tuple(papers))

    @app.get("/cards/{page}/{edit}/{name}.{form}", response_model=None)
    def card(page: str, edit: int, name: str, form: Literal["pdf", "png"]) -> Response:
        papers = _papers(room, page, edit)
        if isinstance(papers, JSONResponse):
            return papers
        if name not in papers:
            return _refusal(404, "There is no such card.")
        try:
            made = paper(papers[name], form)
        except ValueError as error:
            return _refusal(422, f"The card cannot be made: {error}.")
        kind = "application/pdf" if form == "pdf" else "image/png"
        return Response(made, media_type=kind, headers={"Content-Disposition": f'inline; filename="{name}.{form}"'})


def _papers(room: Room, page: str, edit: int) -> dict[str, Card] | JSONResponse:
    """The cards of what a page solved last, if that is the edit asked for."""
    solved = room.solved.get(page)
    if solved is None or solved.edit != edit:
        return _refusal(404, "The plan was changed since. Go back to the page and take the card from there.")
    try:
        return solved.papers
    except ValueError as error:
        return _refusal(422, f"The cards cannot be made: {error}.")
