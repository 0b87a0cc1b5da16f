"""The day's clock: a strip with the hours down its edge, the light hatched on it, and what happens beside its time.

Read like a tide table: the scale is true to time, the lines beside it stand as near their time as the others let them,
each tied to its place by a thin leader. Light is told by hatching and in words, never by colour.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from roundown.cards.drawing import WIDTH_OF_BOLD, WIDTH_OF_LETTER, Sheet
from roundown.environment.light import Darkness
from roundown.quantities import CLOCK_TIME, write
from roundown.schedule.conditions import SKY_FIELDS, DayLight
from roundown.schedule.timeline import Moment, Sort
from roundown.ship.day_track import DayTrack, What
from roundown.solution import Solution, Unsolved

MINUTE, HOUR, DAY = 60.0, 3600.0, 86400.0
MARGIN = 10.0 * MINUTE  # of time before the first and after the last line
STEPS = (5.0 * MINUTE, 10.0 * MINUTE, 30.0 * MINUTE, HOUR, 2.0 * HOUR, 3.0 * HOUR, 6.0 * HOUR)
MOST_STEPS = 14  # hours written down the edge
BAR, ROOM, TIMES = 22.0, 14.0, 49.0  # width of the light's bar, of the leaders beside it, and of a time, in sheet units
NARROW = 0.75  # of the widest face's letters are those of the faces these words are set in
PITCH = 1.3  # from line to line, in text sizes
DARK = "dark"  # the sun more than 12 degrees down
WORDS = {
    Darkness.DAY: "day",
    Darkness.CIVIL: "civil twilight",
    Darkness.NAUTICAL: "nautical twilight",
    Darkness.ASTRONOMICAL: DARK,
    Darkness.NIGHT: DARK,
}
CHANGES = {
    "nautical_dawn": (DARK, "nautical twilight"),
    "civil_dawn": ("nautical twilight", "civil twilight"),
    "sunrise": ("civil twilight", "day"),
    "sunset": ("day", "civil twilight"),
    "civil_dusk": ("civil twilight", "nautical twilight"),
    "nautical_dusk": ("nautical twilight", DARK),
}
"""What the light is before and after what the sun does, by its name."""
HATCHING: dict[str, tuple[float, ...]] = {
    "day": (),
    "civil twilight": (9.0,),
    "nautical twilight": (4.5,),
    DARK: (2.2,),
}
"""Sheet units between the lines of the hatching, by the word for the light."""


@dataclass(frozen=True)
class ClockLine:
    """Something that happens. time [s after midnight, ship's clock]; words : what; under : what it belongs to, or "".

    strong : one of those to be read first
    """

    time: float
    words: str
    under: str = ""
    strong: bool = False


@dataclass(frozen=True)
class Span:
    """A time from start to end [s after midnight] and the word for it."""

    start: float
    end: float
    word: str


def day_clock(solution: Solution, name: str, width: float = 320.0, size: float = 13.0) -> ET.Element:
    """The clock of a solved day; without events only the light of its date. name : makes the ids its own."""
    if isinstance(solution.timeline, Unsolved):
        lines = light_lines(solution.light)
        return clock_strip(lines, light_spans(_changes(solution.light), Darkness.NIGHT), (), name, width, size)
    moments = solution.timeline
    changes = [(moment.time, key) for key, moment in moments.items() if key in CHANGES]
    first = next(iter(moments.values())).darkness
    flying = () if isinstance(solution.track, Unsolved) else flying_spans(solution.track)
    return clock_strip(moment_lines(moments), light_spans(changes, first), flying, name, width, size)


def moment_lines(moments: Mapping[str, Moment]) -> tuple[ClockLine, ...]:
    """The lines of a timeline; launches and recoveries are read first."""
    return tuple(
        ClockLine(moment.time, moment.what, moment.event, strong=moment.sort in {Sort.LAUNCH, Sort.RECOVERY})
        for moment in moments.values()
    )


def light_lines(light: DayLight) -> tuple[ClockLine, ...]:
    """What sun and moon do on the plan's date."""
    times = ((getattr(light, key), key) for key in SKY_FIELDS)
    return tuple(ClockLine(time, key.replace("_", " ")) for time, key in times if time is not None)


def _changes(light: DayLight) -> list[tuple[float, str]]:
    return sorted((time, key) for key in CHANGES if (time := getattr(light, key)) is not None)


def light_spans(changes: Sequence[tuple[float, str]], first: Darkness) -> tuple[Span, ...]:
    """The light from one change to the next, without beginning and without end.

    changes : times and names of what the sun does, in order; first : how dark it is where nothing changes
    """
    words = [CHANGES[changes[0][1]][0] if changes else WORDS[first]] + [CHANGES[key][1] for _, key in changes]
    edges = [-math.inf, *(time for time, _ in changes), math.inf]
    return tuple(Span(start, end, word) for start, end, word in zip(edges[:-1], edges[1:], words, strict=True))


def flying_spans(track: DayTrack) -> tuple[Span, ...]:
    """When the ship is on a flight course."""
    return tuple(Span(each.start, each.end, each.what) for each in track.stretches if each.what is What.FLIGHT)


def spread(wanted: Sequence[float], pitch: float, low: float, high: float) -> list[float]:
    """Places in order, none nearer than the pitch to the next, as near as can be to those wanted, in order.

    low, high : between which they must lie; where there is no room for all, they go on beyond high.
    *Method:* least squares with order kept, by pooling neighbours that violate it (Barlow and others, 1972).
    """
    pools: list[tuple[float, int]] = []  # mean place of the first line of each pool, and how many are in it
    for i, place in enumerate(wanted):
        mean, count = place - i * pitch, 1
        while pools and pools[-1][0] > mean:
            before, number = pools.pop()
            mean, count = (before * number + mean * count) / (number + count), count + number
        pools.append((mean, count))
    last = len(wanted) - 1
    bases = [min(mean, high - last * pitch) for mean, count in pools for _ in range(count)]
    return [max(base, low) + i * pitch for i, base in enumerate(bases)]


def clock_strip(
    lines: Sequence[ClockLine],
    light: Sequence[Span],
    flying: Sequence[Span],
    name: str,
    width: float,
    size: float,
    least: float = 560.0,
) -> ET.Element:
    """The strip.

    lines : what happens; light : spans that cover the day, their words of HATCHING; flying : on a flight course
    name : makes the ids of the drawing its own; width, least : of the sheet and its least height; size : of the text
    """
    ordered = sorted(lines, key=lambda line: line.time)
    return _Clock(ordered, light, flying, width, size, least).draw(name)


class _Clock:
    def __init__(
        self,
        lines: Sequence[ClockLine],
        light: Sequence[Span],
        flying: Sequence[Span],
        width: float,
        size: float,
        least: float,
    ) -> None:
        self.lines, self.light, self.flying = lines, light, flying
        first, last = (lines[0].time, lines[-1].time) if lines else (0.0, DAY)
        self.start, self.end = first - MARGIN, last + MARGIN
        self.rows = list(_rows(lines))
        pitch = PITCH * size
        self.words = [word for word in HATCHING if any(span.word == word and self._shown(span) for span in light)]
        self.foot = (len(self.words) + 1.2 + (1.0 if flying else 0.0)) * pitch
        self.top = 1.6 * pitch
        self.height = max(least, self.top + (len(self.rows) + 1.0) * pitch + self.foot)
        self.pen = Sheet(width, self.height, size)
        self.left = 3.3 * size

    def _shown(self, span: Span) -> bool:
        return span.end > self.start and span.start < self.end

    def draw(self, name: str) -> ET.Element:
        pen, size = self.pen, self.pen.size
        pen.words((4.0, 1.1 * size), "The day by the ship’s clock", bold=True)
        self._light()
        self._hours()
        self._lines()
        self._legend()
        bands = [
            f"{span.word}{'' if span.start <= self.start else f' from {write(span.start, CLOCK_TIME)}'}"
            for span in self.light
            if self._shown(span)
        ]
        told = [f"{write(line.time, CLOCK_TIME)} {line.under} {line.words}".replace("  ", " ") for line in self.lines]
        return pen.svg(name, "The day by the ship’s clock", f"Light: {', '.join(bands)}. {'; '.join(told)}.")

    def _at(self, time: float) -> float:
        foot = self.height - self.foot
        part = (time - self.start) / (self.end - self.start)
        return self.top + min(1.0, max(0.0, part)) * (foot - self.top)

    def _light(self) -> None:
        left, right = self.left, self.left + BAR
        top, foot = self._at(self.start), self._at(self.end)
        for span in self.light:
            if self._shown(span):
                self._hatched(left, self._at(span.start), right, self._at(span.end), span.word)
        for span in self.flying:
            if self._shown(span):
                self._thick(right, self._at(span.start), self._at(span.end))
        self.pen.line([(left, top), (right, top), (right, foot), (left, foot), (left, top)], "edge", covers=False)

    def _thick(self, x: float, top: float, foot: float) -> None:
        corners = [(x, top), (x + 4.0, top), (x + 4.0, foot), (x, foot)]
        self.pen.line(corners, "hair", filled=True, covers=False)

    def _hatched(self, left: float, top: float, right: float, foot: float, word: str) -> None:
        """Lines that rise to the right across a box, closer the darker it is, and a line across where it begins."""
        for apart in HATCHING[word]:
            rise = right - left
            y = top
            while y < foot + rise:
                # from (left, y) up to (right, y - rise), cut at the edges of the box
                x0 = left + max(0.0, y - foot)
                x1 = right - max(0.0, top - (y - rise))
                if x0 < x1:
                    self.pen.line([(x0, y - (x0 - left)), (x1, y - (x1 - left))], "thin", covers=False)
                y += apart
        self.pen.line([(left, top), (right, top)], "thin", covers=False)

    def _hours(self) -> None:
        whole = self.end - self.start
        step = next((step for step in STEPS if whole / step <= MOST_STEPS), STEPS[-1])
        size = 0.86 * self.pen.size
        for i in range(math.ceil(self.start / step), math.floor(self.end / step) + 1):
            y = self._at(i * step)
            self.pen.line([(self.left - 5.0, y), (self.left, y)], "thin", covers=False)
            self.pen.words((self.left - 8.0, y + 0.3 * size), _clock(i * step)[0], "end", size=size)

    def _lines(self) -> None:
        pen, size = self.pen, self.pen.size
        edge = self.left + BAR + 4.0
        text = edge + ROOM
        low, high = self.top + 0.4 * size, self.height - self.foot
        places = spread([self._at(row.time) for row in self.rows], PITCH * size, low, high)
        for row, y in zip(self.rows, places, strict=True):
            base = y + 0.28 * size
            if row.heading:
                pen.words(
                    (text, base), _cut(row.heading, self.pen.width - text, size, bold=True), bold=True, size=0.94 * size
                )
                continue
            at = self._at(row.time)
            pen.line([(self.left, at), (edge, at), (text - 3.0, y)], "thin" if row.strong else "hair", covers=False)
            words = _cut(row.words, self.pen.width - text - TIMES, size, bold=row.strong)
            pen.words((text, base), row.clock, bold=row.strong, size=0.94 * size)
            pen.words((text + TIMES, base), words, bold=row.strong, size=0.94 * size)

    def _legend(self) -> None:
        pen, size = self.pen, self.pen.size
        pitch = PITCH * size
        y = self.height - self.foot + 1.2 * pitch
        for word in self.words:
            self._hatched(self.left, y - 0.7 * size, self.left + BAR, y + 0.2 * size, word)
            box = [(self.left, y - 0.7 * size), (self.left + BAR, y - 0.7 * size), (self.left + BAR, y + 0.2 * size)]
            pen.line([*box, (self.left, y + 0.2 * size), box[0]], "thin", covers=False)
            said = f"{word}, sun more than 12 deg down" if word == DARK else word
            pen.words((self.left + BAR + 8.0, y), said, size=0.86 * size)
            y += pitch
        if self.flying:
            self._thick(self.left + BAR - 4.0, y - 0.8 * size, y + 0.25 * size)
            pen.words((self.left + BAR + 8.0, y), "ship on the flight course", size=0.86 * size)


@dataclass(frozen=True)
class _Row:
    """A row of text beside the scale: a heading, or a time and what happens."""

    time: float
    heading: str
    clock: str = ""
    words: str = ""
    strong: bool = False


def _rows(lines: Sequence[ClockLine]) -> list[_Row]:
    """The rows, with a heading wherever lines begin to belong to something else."""
    rows: list[_Row] = []
    under = date = ""
    for line in lines:
        clock, day = _clock(line.time)
        if day != date and rows:
            rows.append(_Row(line.time, day or "the plan's date"))
            under = ""
        date = day
        if line.under and line.under != under:
            under = line.under
            rows.append(_Row(line.time, under))
        rows.append(_Row(line.time, "", clock, line.words, strong=line.strong))
    return rows


def _clock(time: float) -> tuple[str, str]:
    """A time as the clock shows it, and the day if it is not the plan's: "01:20", "next day"."""
    clock, _, day = write(time, CLOCK_TIME).partition(" ")
    return clock, day


def _cut(text: str, room: float, size: float, *, bold: bool) -> str:
    """A text as far as there is room for it, with a mark of omission where it is cut."""
    most = int(room / ((WIDTH_OF_BOLD if bold else WIDTH_OF_LETTER) * NARROW * size))
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"
