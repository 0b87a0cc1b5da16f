"""Compiled and plain kernels, in processes of their own: the choice is made once, before the first import."""

from __future__ import annotations

import importlib.util
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

with_numba = pytest.mark.skipif(importlib.util.find_spec("numba") is None, reason="numba is an extra")

CIRCUIT = """
import math, sys
from roundown.motion import jit
if sys.argv[1] == "compiled":
    assert jit.enable() and jit.enable()
import numpy as np
from roundown.motion import kernel
from roundown.motion.aeroplane import Aeroplane
from roundown.motion.manoeuvre import *
from roundown.motion.ship_track import Order, ordered_track

assert hasattr(kernel.fly_row, "py_func") == (sys.argv[1] == "compiled")
aeroplane = Aeroplane(
    3600.0, 28.0, 0.024, 0.022, 0.035, 0.065, -250.0, 895e3, 3.0, 0.72, 0.35, 5.0, 6.0, 57.0, 52.0, 1.45, 2.1
)
ship = ordered_track(0.3, 9.0, [Order(0.6, 11.0, 60.0)], 400.0, 0.05)
winds = np.array([[0.0, 1.0, -6.0], [50.0, 2.0, -8.0], [300.0, 4.0, -11.0]])
setting = Setting(aeroplane, (288.15, 101325.0), winds, ship)
turn, level, hold = Until(Guard.TURN_DONE), Level(), HoldSpeed()
legs = [
    Leg("climb", HoldBank(0.1), ChangeSpeed(65.0, 9.0), ToHeight(200.0, 6.0), Until(Guard.HEIGHT, 180.0, 1), 60.0),
    Leg("back", CloseOn(1500.0, 0.0, 0.5), ChangeSpeed(58.0, 0.7), level, Until(Guard.RANGE, 600.0, -1), 300.0, 1.0),
    Leg("let down", HoldBank(0.0), hold, ToHeight(90.0, 5.0), Until(Guard.TIME, 30.0), 60.0, 1.0),
    Leg("round", HoldBank(-0.5), hold, level, Until(Guard.HEADING, -2.5, -1), 200.0, 1.0),
    Leg("slow", HoldBank(0.0), ChangeSpeed(45.0, 0.5), level, Until(Guard.SPEED, 46.0, -1), 90.0, 1.0, 1.0),
    Leg("line", RegainLine(700.0, 0.4), hold, level, Until(Guard.SHIP_AHEAD, -2500.0, -1), 400.0, 1.0, 1.0),
    Leg("in", TurnTo(-5.8, -0.5), SpeedByHeading(40.0, 30.0, -5.8), HeightByHeading(30.0, -5.8), turn, 90.0, 1.0, 1.0),
    Leg("abeam", RegainLine(0.0, 0.4), hold, level, Until(Guard.SHIP_PORT, -1.0, 1), 90.0, 1.0, 1.0),
]
flown = fly(0.0, (500.0, -200.0, 100.0, 50.0, 0.2, 0.0, 0.0, 0.0), legs, setting)
assert flown.met, flown.outcomes
np.save(sys.argv[2], flown.records)
"""


def run(*arguments: str, cache: Path) -> subprocess.CompletedProcess[str]:
    """A Python of its own; what numba compiles goes into `cache`."""
    return subprocess.run(  # noqa: S603 - runs what stands in this file
        [sys.executable, "-c", *arguments],
        env={**os.environ, "NUMBA_CACHE_DIR": str(cache)},
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )


@with_numba
def test_compiled_and_plain_kernels_fly_the_same_circuit(tmp_path: Path) -> None:
    """Every law and guard once; records to 1e-9 m. Compiling takes some seconds."""
    records = {}
    for kind in ("plain", "compiled"):
        done = run(CIRCUIT, kind, str(tmp_path / f"{kind}.npy"), cache=tmp_path)
        assert done.returncode == 0, done.stderr
        records[kind] = np.load(tmp_path / f"{kind}.npy")
    assert len(records["plain"]) > 500
    assert np.abs(records["compiled"] - records["plain"]).max() < 1e-9


@with_numba
def test_asking_for_compiled_kernels_too_late_is_refused(tmp_path: Path) -> None:
    done = run("import roundown.motion.kernel; from roundown.motion import jit; jit.enable()", cache=tmp_path)
    assert done.returncode != 0
    assert "RuntimeError: enable() must be called before roundown.motion.equations.kernel" in done.stderr


@pytest.mark.parametrize("module", ["kernel", "manoeuvre", "frames", "ship_track", "solve"])
def test_plain_engine_brings_in_neither_numba_nor_scipy(tmp_path: Path, module: str) -> None:
    look = f"import sys, roundown.motion.{module}; print([n for n in ('numba', 'scipy') if n in sys.modules])"
    done = run(look, cache=tmp_path)
    assert done.stdout.strip() == "[]", done.stderr


def test_without_numba_kernels_stay_plain(tmp_path: Path) -> None:
    """Numba is made impossible to find."""
    hide = """
import importlib.util
found = importlib.util.find_spec
importlib.util.find_spec = lambda name, *rest: None if name == "numba" else found(name, *rest)
from roundown.motion import jit
print(jit.enable())
from roundown.motion import kernel
print(kernel.fly_row is kernel._fly_row, jit.enable())
"""
    done = run(hide, cache=tmp_path)
    assert done.stdout.split() == ["False", "True", "False"], done.stderr
