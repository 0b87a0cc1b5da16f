"""What the page sends, read strictly, and what it is answered."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from roundown.documents import GREATEST_SIZE

Text = Field(max_length=GREATEST_SIZE)
Hash = Field(pattern=r"^(?:[0-9a-f]{64})?$")


class Asked(BaseModel):
    """Something the page sends: every key known, no type bent into another."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True, allow_inf_nan=False)


class EditAsked(Asked):
    """An edit to solve. page : a word each open page makes up for itself; edit : its number; text : of the plan."""

    page: str = Field(pattern=r"^[0-9a-z]{8,40}$")
    edit: int = Field(ge=0, le=10**9)
    text: str = Text


class SaveAsked(Asked):
    """A text to write. hash : of the file as the page knows it; name : of a new file, "" for the one on the table."""

    text: str = Text
    hash: str = Hash
    name: str = Field(default="", max_length=100)


class Pinned(Asked):
    """Where one aeroplane of an event is to stand. event : its name; side : number of the seat.

    ahead : of the ramp; port : of the centre line, negative to starboard [ft]; without the two it is free
    """

    event: str = Field(max_length=200)
    side: str = Field(max_length=100)
    ahead: float | None = Field(default=None, ge=0, le=1200)
    port: float | None = Field(default=None, ge=-125, le=125)


class SpotAsked(Asked):
    """Places to be written into a text of the plan."""

    text: str = Text
    pins: list[Pinned] = Field(min_length=1, max_length=200)


class Answered(BaseModel):
    """Something the page is answered."""

    model_config = ConfigDict(frozen=True, allow_inf_nan=False)


class State(Answered):
    """The plan's file as it stands on disk. problem : why it cannot be read, "" when it can."""

    file: str
    text: str
    hash: str
    problem: str = ""


class Refusal(Answered):
    """Why something was not done, and what stands on disk instead."""

    sentence: str
    state: State | None = None


class Written(Answered):
    """The text of a plan with what was asked for written into it."""

    text: str


class Remark(Answered):
    """A finding or a complaint beside its line.

    level : stop, caution, note, or mend for what cannot be read; line : of the plan, 0 for the whole or another file
    """

    level: str
    line: int
    place: str
    text: str


class Complained(Answered):
    """One thing that cannot be read: where, what stands there, what is allowed, what to do."""

    file: str
    line: int
    key: str
    value: str
    limit: str
    remedy: str


class Cards(Answered):
    """The cards of an edit, by name."""

    cards: tuple[str, ...]


class View(Answered):
    """What is seen on the circuit of one type on one carrier.

    whose : both by name; reason : why nothing is drawn, "" where it is; data : as `cards.sight_data.picture_data`
    plan, elevation : of that circuit, as markup; "" for the one that lies on the table
    """

    whose: str
    reason: str = ""
    data: dict[str, Any] | None = None
    plan: str = ""
    elevation: str = ""


class Answer(Answered):
    """What came of an edit. outcome : "overtaken" was never begun; "broken" could not be read, and shows no figure.

    estimate : the warning where figures rest on estimates, "" where none does
    figures : texts by key; sheets : drawings and tables by name, as markup; views : the day's own first
    plan : the short mark of its text
    """

    edit: int
    outcome: Literal["solved", "broken", "overtaken"]
    title: str = ""
    verdict: str = ""
    sentence: str = ""
    estimate: str = ""
    remarks: tuple[Remark, ...] = ()
    complaints: tuple[Complained, ...] = ()
    figures: dict[str, str] = {}
    sheets: dict[str, str] = {}
    views: tuple[View, ...] = ()
    plan: str = ""
