"""Write the sun and moon that come with the program from JPL's DE421: `python scripts/ephemeris.py de421.bsp`.

The package skyfield-data brings the file de421.bsp (17 MB); it is needed only here. Cut out alone, the earth, moon and
sun of 150 years are 11 MB, far finer than a rising needs. So each curve is fitted again with fewer and longer
Chebyshev pieces, and the worst distance from DE421 is printed (docs/decisions/0005-light.md).
"""

from __future__ import annotations

import io
import sys
from pathlib import Path

import numpy as np
import numpy.typing as npt
from jplephem.daf import DAF
from jplephem.spk import S_PER_DAY, SPK, T0

Floats = npt.NDArray[np.float64]

FILE = Path(__file__).resolve().parent.parent / "src" / "roundown" / "environment" / "data" / "sun_moon.bsp"
FIRST = 2414989.5  # Julian date of 1899-11-30
LAST = 2470285.5  # 2051-04-24, whole pieces of 64 days from the first
J2000, TYPE_CHEBYSHEV = 1, 2  # codes of the file format: frame, kind of segment
# target, centre, days a piece, coefficients a piece
PIECES = ((10, 0, 64, 6), (399, 0, 32, 14), (301, 399, 32, 24))
COMMENT = (
    "Sun, earth and moon, fitted again from JPL ephemeris DE421 with fewer and longer Chebyshev pieces;\n"
    "good for rising and setting times, not a kernel of JPL's. Made by scripts/ephemeris.py.\n"
)


def curve(kernel: SPK, target: int, centre: int, dates: Floats) -> Floats:
    """Place of a body from its centre [km], (3, n), at Julian dates of dynamical time, (n,)."""
    if (target, centre) == (301, 399):
        return np.asarray(kernel[3, 301].compute(dates) - kernel[3, 399].compute(dates))
    if target == 399:
        return np.asarray(kernel[0, 3].compute(dates) + kernel[3, 399].compute(dates))
    return np.asarray(kernel[centre, target].compute(dates))


def fit(kernel: SPK, target: int, centre: int, days: int, count: int) -> tuple[Floats, float]:
    """Records of one segment, (pieces, 2 + 3 count), and the worst distance from the original [km]."""
    nodes = np.cos(np.pi * (np.arange(2 * count) + 0.5) / (2 * count))
    between = np.linspace(-1.0, 1.0, 101)
    half = days / 2
    records, worst = [], 0.0
    for middle in np.arange(FIRST + half, LAST, days):
        places = curve(kernel, target, centre, middle + half * nodes)
        series = np.polynomial.chebyshev.chebfit(nodes, places.T, count - 1)
        off = np.polynomial.chebyshev.chebval(between, series) - curve(kernel, target, centre, middle + half * between)
        worst = max(worst, float(np.linalg.norm(off, axis=0).max()))
        records.append([(middle - T0) * S_PER_DAY, half * S_PER_DAY, *series.T.ravel()])
    return np.array(records), worst


def empty(original: DAF) -> DAF:
    """A file of the same format with a comment and no segment."""
    text = COMMENT.replace("\n", "\0").encode("ascii") + b"\4"
    file = io.BytesIO()
    file.write(original.read_record(1) + text.ljust(1024, b" ") + bytes(1024) + b" " * 1024)
    file.seek(0)
    made = DAF(file)
    made.fward = made.bward = 3
    made.free = 4 * 128 + 1
    made.write_file_record()
    return made


def main() -> int:
    """Fit, write, and say how far off it is."""
    if len(sys.argv) != 2:
        print(__doc__)
        return 2
    kernel = SPK.open(sys.argv[1])
    made = empty(kernel.daf)
    begin, end = (FIRST - T0) * S_PER_DAY, (LAST - T0) * S_PER_DAY
    for target, centre, days, count in PIECES:
        records, worst = fit(kernel, target, centre, days, count)
        tail = [begin, days * S_PER_DAY, records.shape[1], len(records)]
        values = (begin, end, target, centre, J2000, TYPE_CHEBYSHEV)
        made.add_array(b"DE421 fitted again", values, np.concatenate([records.ravel(), tail]))
        print(f"{target} from {centre}: {records.size * 8 / 1e6:.2f} MB, at worst {worst:.4f} km off")
    kernel.close()
    FILE.parent.mkdir(parents=True, exist_ok=True)
    FILE.write_bytes(made.file.getvalue())
    print(f"{FILE.name}: {FILE.stat().st_size / 1e6:.2f} MB")
    return 0


if __name__ == "__main__":
    sys.exit(main())
