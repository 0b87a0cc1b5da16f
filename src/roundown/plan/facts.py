"""The day as given: every value by its key, with where it stands and who says so; and who flies what, and when."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from roundown.catalog.lists import Checklist, Emergency, Lesson, Sign, Word
from roundown.documents import Document
from roundown.figures import Given, Givens
from roundown.schedule.when import When


@dataclass(frozen=True)
class Seat:
    """One aeroplane of a squadron and who flies it.

    side : number on its side; name : of the pilot, "" for none named; squadron : its name in the plan
    division, section : numbers, from 1; leader : what he leads: "squadron", "division", "section" or "" nothing
    skill : "novice", "trained" or "experienced"; call_sign : spoken
    """

    side: str
    name: str
    squadron: str
    division: int
    section: int
    leader: str
    skill: str
    call_sign: str


@dataclass(frozen=True)
class Squadron:
    """A squadron. name : in the plan; label : for people; type : of its aeroplanes; ship : its carrier.

    call_sign : spoken
    seats : those flown, in order of the roster, after the muster; absent : who did not turn up
    moved : who flies another seat than the roster's, with the side number he left
    roster : every seat as written, before the muster
    """

    name: str
    label: str
    type: str
    ship: str
    call_sign: str
    seats: tuple[Seat, ...]
    absent: tuple[str, ...] = ()
    moved: Mapping[str, str] = field(default_factory=dict)
    roster: tuple[Seat, ...] = ()


@dataclass(frozen=True)
class FlyingEvent:
    """One launch, what it is for, and one recovery. Times as written; None where the plan has none.

    seats : in launch order; wanted : how many the plan asks for; catapult : side numbers of those it shoots off
    """

    name: str
    task: str
    seats: tuple[Seat, ...]
    wanted: int
    load: str
    target: str
    launch: When | None
    push: When | None
    time_on_target: When | None
    recovery: When | None
    catapult: tuple[str, ...] = ()


@dataclass(frozen=True)
class CompanyShip:
    """A ship in company with the guide.

    name : in the plan; label : for people; role : "carrier", "escort" or "plane guard"
    bearing : off the guide's bow on the base course, starboard positive [rad]; distance : from the guide [m]
    guards : the carrier a plane guard follows, "" for others; greatest_speed [m/s], None where not known
    For a plane guard bearing and distance are from the carrier she guards, off that carrier's bow on the flight course.
    """

    name: str
    label: str
    role: str
    bearing: float
    distance: float
    guards: str
    greatest_speed: float | None

    @property
    def called(self) -> str:
        """Her name for people: of a carrier that of her label, up to its comma."""
        return self.label.split(",")[0]


@dataclass(frozen=True)
class Channel:
    """A radio channel. name : its number or letter; use : what for; frequency and call_sign : as spoken, or ""."""

    name: str
    use: str
    frequency: str
    call_sign: str


@dataclass(frozen=True)
class Radio:
    """What is said and shown, and when not. Texts are "" where the plan gives none."""

    silence: str = ""
    lights: str = ""
    identification: str = ""
    channels: tuple[Channel, ...] = ()


@dataclass(frozen=True, eq=False)
class Day:
    """title; start : the datum time (UTC); givens : every value by key; documents : the files read.

    Keys: place.*, weather.*, cockpit.*, simulator.* and ship.base_* from the plan; ship.*, type.* from the catalog;
    doctrine.* from the catalog with the ship's and the plan's overrides laid over it; event.NAME.*, company.NAME.*;
    ashore.*, of the runway the deck is marked out on.

    ship, type : names of the carrier and the type that ship.* and type.* are of
    offset : what the ship's clock is ahead of universal time [s]
    datum : the datum time by that clock [s after midnight]
    parts : the same day for each other carrier and type that fly, by "carrier.type"
    """

    title: str
    start: datetime
    givens: Givens
    documents: tuple[Document, ...]
    ship: str = ""
    type: str = ""
    offset: float = 0.0
    datum: float = 0.0
    squadrons: Mapping[str, Squadron] = field(default_factory=dict)
    events: tuple[FlyingEvent, ...] = ()
    company: tuple[CompanyShip, ...] = ()
    radio: Radio = Radio()
    sea_room: tuple[tuple[float, float], ...] = ()
    checklists: Mapping[str, Checklist] = field(default_factory=dict)
    signs: tuple[Sign, ...] = ()
    words: tuple[Word, ...] = ()
    emergencies: tuple[Emergency, ...] = ()
    lessons: tuple[Lesson, ...] = ()
    parts: Mapping[str, Day] = field(default_factory=dict)

    def number(self, key: str) -> float:
        """A given number [SI]."""
        return self.givens[key].value

    def word(self, key: str) -> str:
        """A given word."""
        return self.givens[key].word

    @property
    def ship_called(self) -> str:
        """The carrier's name for people."""
        return self.word("ship.label").split(",")[0]

    def carrier_called(self, name: str) -> str:
        """The name for people of a carrier that the plan names."""
        if name == self.ship:
            return self.ship_called
        return next((ship.called for ship in self.company if ship.name == name), name)

    @property
    def hash(self) -> str:
        """Eight characters that change when any file the day was read from does."""
        text = "\0".join(document.text for document in self.documents)
        return hashlib.sha256(text.encode()).hexdigest()[:8]

    @property
    def part(self) -> str:
        """The carrier and type this day is solved for, as a key of parts is written."""
        return f"{self.ship}.{self.type}"

    def place_of(self, given: Given) -> str:
        """file:line of a given, or the file alone where it has no line."""
        for document in self.documents:
            if document.file == given.origin.file:
                line = document.line(given.origin.path)
                return f"{document.file}:{line}" if line else document.file
        return given.origin.file
