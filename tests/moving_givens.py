"""Which figures move when one given alone is moved: a day solved again for every given, with compiled kernels.

Run as a program it reads a plan and writes what it found, so that the kernels can be compiled before anything imports
them; where the extra [fast] is not installed they stay plain, and it takes longer.
"""

from __future__ import annotations

import math
import pickle
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

from roundown.motion.jit import enable

if TYPE_CHECKING:
    from roundown.figures import Figure, Given
    from roundown.plan.facts import Day

DEG = math.pi / 180.0
STEP = 0.5 * DEG  # rad, for a given that is nil and has no hundredth
Moves = tuple[dict[str, set[str]], "dict[str, Figure]"]
LONGEST = 900  # s


def day(text: str) -> Day:
    """The day of a plan's text."""
    from roundown.documents import Document, parse_document
    from roundown.plan.read import day_of

    document = parse_document("plan.toml", text)
    assert isinstance(document, Document)
    return day_of(document)


def moved(given: Given) -> Given:
    """The given a hundredth greater, band and all; one more of what is counted; the other hand for a hand."""
    from roundown.quantities import COUNT, Band

    if given.kind is None:
        return replace(given, word={"left": "right", "right": "left"}[given.word])
    if given.kind is COUNT:
        more = given.value + 1.0
        return replace(given, value=more, band=Band(more, more, more))
    if given.value == 0.0 and given.band.high == 0.0:
        return replace(given, value=STEP, band=Band(STEP, STEP, STEP))
    band = Band(1.01 * given.band.low, 1.01 * given.band.aim, 1.01 * given.band.high)
    return replace(given, value=1.01 * given.value, band=band)


def movable(today: Day) -> Iterator[str]:
    """Every number given, and the hand."""
    for key, given in today.givens.items():
        if given.kind is not None or given.word in {"left", "right"}:
            yield key


@cache
def moves(text: str) -> Moves:
    """For each given of a plan the figures that change, come or go when it alone is moved; and the figures."""
    ran = subprocess.run(
        [sys.executable, "-m", "tests.moving_givens"], input=text.encode(), capture_output=True, timeout=LONGEST,
        check=False,
    )  # fmt: skip
    assert ran.returncode == 0, ran.stderr.decode()[-3000:]
    found: Moves = pickle.loads(ran.stdout)  # noqa: S301 - written by ourselves
    return found


def _moves(text: str) -> Moves:
    from roundown.day.memory import Memory
    from roundown.day.solve import solve

    today = day(text)
    memory = Memory()
    before = solve(today, memory).figures
    changed, found = {}, dict(before)
    for key in movable(today):
        after = solve(replace(today, givens={**today.givens, key: moved(today.givens[key])}), memory).figures
        new, gone = after.keys() - before.keys(), before.keys() - after.keys()
        found |= {name: after[name] for name in new}
        both = before.keys() & after.keys()
        found |= {name: after[name] for name in both if found[name].value is None}
        changed[key] = {*new, *gone, *(name for name in both if after[name].value != before[name].value)}
    return changed, found


if __name__ == "__main__":
    enable()
    sys.stdout.buffer.write(pickle.dumps(_moves(sys.stdin.buffer.read().decode())))
