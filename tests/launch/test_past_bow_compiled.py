"""Compiled and plain flights past the bow, in processes of their own: the choice is made once, before the import."""

from __future__ import annotations

import importlib.util
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

FLIGHTS = """
import math, sys
from roundown.motion import jit
if sys.argv[1] == "compiled":
    assert jit.enable()
import numpy as np
from roundown.launch import bow_kernel
assert hasattr(bow_kernel.fly, "py_func") == (sys.argv[1] == "compiled")
wing = (27.5, 4.42, -0.037, 0.61, 1.42, 1.98, 0.72, 0.0235, 0.019, 0.062, 0.0755)
load = (4890.0, 0.5, 0.76, 0.03, 0.22, 0.042, 0.0, 953.0e3, 11.2, 27.0, 43.0, 0.0, 0.0, 0.0)
deck = (15.0, 1.5, 110.0, 1.22, 0.0, 0.0, 0.0, 0.0)
found = []
for speed in (30.0, 38.0, 44.0):
    for rule, angle in ((bow_kernel.HOLD, 0.2), (bow_kernel.EASE, 0.21), (bow_kernel.PULL, 0.45)):
        rows = np.full((340, bow_kernel.COLUMNS), -1.0)
        start = (speed, 0.0, 0.0, 19.0, 0.2)
        technique = (rule, angle, 0.035, 0.08, 9.0, 1.0)
        found += bow_kernel.fly(0.0, 30.0, start, math.inf, load, technique, wing, deck, rows)
        found += rows.ravel().tolist()
np.save(sys.argv[2], np.array(found))
"""


@pytest.mark.skipif(importlib.util.find_spec("numba") is None, reason="numba is an extra")
def test_plain_and_compiled_flights_agree(tmp_path: Path) -> None:
    """Second method: the kernel as it stands and compiled, to 1e-9 m and a part in 1e9."""
    found = []
    for way in ("plain", "compiled"):
        file = tmp_path / f"{way}.npy"
        subprocess.run(  # noqa: S603 - runs what stands in this file
            [sys.executable, "-c", FLIGHTS, way, str(file)],
            env={**os.environ, "NUMBA_CACHE_DIR": str(tmp_path)},
            check=True,
            timeout=180,
        )
        found.append(np.load(file))
    np.testing.assert_allclose(found[0], found[1], rtol=1e-9, atol=1e-9)
