"""The deck's rhythm in two pictures: how long recoveries take, and one deck's day in rows beside the hours."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree import ElementTree as ET

import numpy as np

from roundown.cards.clock_drawing import spread
from roundown.cards.drawing import WIDTH_OF_BOLD, Sheet
from roundown.quantities import CLOCK_TIME, MINUTES, write
from roundown.recovery.day_cycle import DeckTurn, Turn
from roundown.recovery.rhythm import Rhythm

MINUTE, HOUR = 60.0, 3600.0
BINS = (15.0, 30.0, MINUTE, 2.0 * MINUTE, 5.0 * MINUTE, 10.0 * MINUTE, 30.0 * MINUTE)
MOST_BINS = 30
TICKS = (MINUTE, 2.0 * MINUTE, 5.0 * MINUTE, 10.0 * MINUTE, 30.0 * MINUTE, HOUR, 2.0 * HOUR, 3.0 * HOUR, 6.0 * HOUR)
MOST_TICKS = 8
ROWS = ("engines", "launch", "clear", "recovery", "spot aft")
SLACK = 0.5  # s; less than this too soon is not shown


def rhythm_drawing(
    rhythm: Rhythm, name: str, width: float = 420.0, height: float = 240.0, size: float = 13.0
) -> ET.Element:
    """How long the recoveries took: how many of a hundred in each bar, with the plan, the half and nine in ten.

    name : of the event, makes the ids its own; width, height : of the sheet; size : of its text
    """
    pen = Sheet(width, height, size)
    step = _step(BINS, float(rhythm.durations[-1] - rhythm.durations[0]), MOST_BINS - 1)
    low = math.floor(min(rhythm.planned, float(rhythm.durations[0])) / step)
    high = math.floor(max(rhythm.planned, float(rhythm.durations[-1])) / step) + 1
    counts = np.bincount((rhythm.durations / step).astype(int) - low, minlength=high - low)
    left, right, top, foot = 3.2 * size, width - size, 4.2 * size, height - 4.0 * size
    per_second = (right - left) / ((high - low) * step)
    per_part = (foot - top) / int(counts.max())

    def across(duration: float) -> float:
        return left + per_second * (duration - low * step)

    for i, count in enumerate(counts.tolist()):
        if count:
            ends, up = (across((low + i) * step), across((low + i + 1) * step)), foot - per_part * count
            pen.line([(ends[0], foot), (ends[0], up), (ends[1], up), (ends[1], foot)], "edge", covers=False)
    pen.line([(left, foot), (right, foot)], "thin", covers=False)
    tick = _step(TICKS, (high - low) * step, MOST_TICKS)
    for i in range(math.ceil(low * step / tick), math.floor(high * step / tick) + 1):
        pen.line([(across(i * tick), foot), (across(i * tick), foot + 4.0)], "thin", covers=False)
        pen.words((across(i * tick), foot + 1.2 * size), f"{i * tick / MINUTE:.0f}", "middle", size=0.86 * size)
    axis = "min, first over the ramp to the deck ready behind the last"
    pen.words(((left + right) / 2.0, foot + 2.4 * size), axis, "middle", size=0.86 * size)
    upward = f"upward: how many of 100 recoveries in each {write(step, MINUTES)}"
    pen.words(((left + right) / 2.0, foot + 3.5 * size), upward, "middle", size=0.86 * size)
    tallest = 100.0 * int(counts.max()) / rhythm.draws
    pen.line([(left - 4.0, top), (left, top)], "thin", covers=False)
    pen.line([(left, top), (left, foot)], "thin", covers=False)
    pen.words((left - 6.0, top + 0.3 * size), f"{tallest:.0f}", "end", size=0.86 * size)
    pen.words((left - 6.0, foot), "0", "end", size=0.86 * size)
    marks = (
        (rhythm.planned, f"as planned {write(rhythm.planned, MINUTES)}", "late"),
        (rhythm.median, f"half by {write(rhythm.median, MINUTES)}", "flown"),
        (rhythm.slow, f"nine in ten by {write(rhythm.slow, MINUTES)}", "sight"),
    )
    for i, (duration, words, kind) in enumerate(marks):
        x, y = across(duration), (1.2 + 1.1 * i) * size
        pen.line([(x, y - 0.3 * size), (x, foot)], kind, covers=False)
        wide = WIDTH_OF_BOLD * size * len(words)
        rightward = x + wide < right
        pen.words((x + 4.0 if rightward else x - 4.0, y), words, "start" if rightward else "end")
    return pen.svg(
        f"rhythm-{name}",
        f"Time to recover {rhythm.aboard:.0f}",
        f"{rhythm.draws} drawn recoveries; {', '.join(words for _, words, _ in marks)}.",
    )


@dataclass(frozen=True)
class _Bar:
    """A stretch of a row. words : beside it, bold where it begins too soon."""

    row: str
    start: float
    end: float
    words: str = ""
    bold: bool = False


def deck_strip(
    turns: Mapping[str, Turn],
    day: Mapping[str, DeckTurn],
    names: Mapping[str, str],
    name: str,
    width: float = 640.0,
    size: float = 13.0,
) -> ET.Element:
    """One deck's day: engines, launch, clear, recovery and spotting aft, a row each, true to time.

    turns, day : what is asked of the deck and what it comes to (recovery/day_cycle.py), one launch or recovery at least
    names : of the events, by their keys; name : of the deck, makes the ids its own; width : of the sheet
    """
    bars = [bar for event in turns for bar in _bars(turns[event], day[event], names[event])]
    pitch, left, right = 2.5 * size, 5.2 * size, width - 1.6 * size
    height = pitch * len(ROWS) + 2.4 * size
    pen = Sheet(width, height, size)
    start, end = min(bar.start for bar in bars), max(bar.end for bar in bars)
    tick = _step(TICKS, end - start, MOST_TICKS)
    start, end = math.floor(start / tick) * tick, math.ceil(end / tick) * tick
    scale = (right - left) / max(end - start, tick)
    foot = pitch * len(ROWS) + 0.4 * size
    for i in range(round((end - start) / tick) + 1):
        x = left + scale * i * tick
        pen.line([(x, 0.4 * size), (x, foot)], "ring", covers=False)
        pen.words(
            (x, foot + 1.2 * size), write(start + i * tick, CLOCK_TIME).partition(" ")[0], "middle", size=0.86 * size
        )
    for k, row in enumerate(ROWS):
        base = pitch * (k + 1) - 0.2 * size
        pen.words((3.0, base), row, bold=True, size=0.94 * size)
        pen.line([(left, base), (right, base)], "hair", covers=False)
        there = sorted((bar for bar in bars if bar.row == row), key=lambda bar: bar.start)
        for bar in there:
            x, far = left + scale * (bar.start - start), left + scale * (bar.end - start)
            up = base - 0.8 * size
            pen.line([(x, base), (x, up), (max(far, x + 1.0), up), (max(far, x + 1.0), base)], "thin", filled=True)
        told = [bar for bar in there if bar.words]
        wide = max((WIDTH_OF_BOLD * 0.86 * size * len(bar.words) for bar in told), default=0.0)
        places = spread([left + scale * (bar.start - start) for bar in told], wide + 4.0, left, width - 3.0 - wide)
        for bar, x in zip(told, places, strict=True):
            pen.words((x, base - 1.1 * size), bar.words, bold=bar.bold, size=0.86 * size)
    told_all = "; ".join(
        f"{bar.row} {bar.words} {write(bar.start, CLOCK_TIME)} to {write(bar.end, CLOCK_TIME)}".replace("  ", " ")
        for bar in sorted(bars, key=lambda bar: bar.start)
    )
    return pen.svg(f"deck-day-{name}", "One deck's day", f"{told_all}.")


def _bars(turn: Turn, own: DeckTurn, name: str) -> list[_Bar]:
    """What an event puts on the strip."""
    bars = []
    if turn.off is not None:
        words, bold = _told(name, own.margin_off)
        bars += [
            _Bar("engines", turn.off.start_engines, turn.off.first_off),
            _Bar("launch", turn.off.first_off, turn.off.last_off, words, bold),
            _Bar("clear", turn.off.last_off, turn.off.deck_clear),
        ]
    if turn.back is not None:
        words, bold = _told(name, own.margin_aboard)
        bars.append(_Bar("recovery", turn.back.first_ramp, turn.back.recovered, words, bold))
        if own.spotted is not None:
            bars.append(_Bar("spot aft", turn.back.recovered, own.spotted))
    return bars


def _told(name: str, margin: float | None) -> tuple[str, bool]:
    """What stands beside a launch or a recovery, and whether it begins too soon."""
    if margin is None or margin >= -SLACK:
        return name, False
    return f"{name}: {write(-margin, MINUTES)} too soon", True


def _step(steps: tuple[float, ...], whole: float, most: int) -> float:
    """The first of the steps that parts a whole into no more than so many; the last of them where none does."""
    return next((step for step in steps if whole / step <= most), steps[-1])
