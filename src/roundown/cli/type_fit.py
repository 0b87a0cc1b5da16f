"""`roundown type fit`: a type tuned to what was measured in the simulator."""

from __future__ import annotations

import json
import re
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

from cyclopts import Parameter

from roundown import CAUTION
from roundown.errors import Complaint, PlanError, RoundownError
from roundown.quantities import INDICATED_SPEED, RATIO, TIME, TRUE_SPEED, Kind, plain, write

if TYPE_CHECKING:
    from roundown.catalog.types import Entry
    from roundown.figures import Given
    from roundown.launch.fit import Compared, Fit, Held
    from roundown.launch.measured import Measured

FINE = {RATIO: 4, INDICATED_SPEED: 1, TRUE_SPEED: 1, TIME: 1}  # digits after the point, as finely as one tunes by
FITTED = ", fitted"  # behind the label of a fitted type
EVERY = 2.0  # s, from one word of progress to the next
LEAST_CHANCE = 1e-4  # below which the chance of a misfit is not worth its digits
NAME = re.compile(r"^[A-Za-z0-9_-]{1,40}$")


def fit(
    file: Path,
    *,
    plan: Annotated[Path | None, Parameter(help="A plan or catalog file with types of your own.")] = None,
    output: Annotated[
        Path | None, Parameter(name=["-o", "--output"], help="Catalog file to write, with the fitted type in it.")
    ] = None,
    name: Annotated[str | None, Parameter(help="What the fitted type is called there; else NAME-fitted.")] = None,
    as_json: Annotated[bool, Parameter(name="--json", help="Answer in JSON.", negative="")] = False,
) -> int:
    """Fit a type to stalls, deck runs, climbs, level speeds and slow-downs measured in the simulator.

    Says each fitted value with its standard deviation, what could not be told, and how each measurement fits.

    Parameters
    ----------
    file
        The measurements, a TOML file: see docs/howto/fit-a-type.md.

    """
    from roundown.cli.brief import progress
    from roundown.cli.type import catalog_with
    from roundown.documents import open_document
    from roundown.launch.fit import fit_type
    from roundown.plan.measurements import read_measurements, single_brackets

    document = open_document(file)
    if isinstance(document, Complaint):
        raise PlanError((document.line and single_brackets(file)) or [document])
    catalog = catalog_with(plan)
    read = read_measurements(document, catalog)
    called = name or f"{read.type.name}-fitted"
    if output is not None:
        _may_write(output, called, list(catalog["types"]))
    progress(f"fitting {read.type.name} to {_counted(read.measured)}")
    found = fit_type(read.type.values, read.measured, _told_now_and_then(progress, len(read.measured)))
    remarks = _remarks(found)
    if as_json:
        print(json.dumps(_answer(read.type, file, found, remarks), indent=1, ensure_ascii=False))
    else:
        for line in _lines(read.type, file, found, remarks):
            print(line)
    if output is not None:
        _write(output, called, read.type, file, found)
        if not as_json:
            shown = f'"{output}"' if " " in str(output) else str(output)
            print(f"Written to {output}. See what it comes to: roundown type {called} --plan {shown}")
            print(f'In a plan beside it: catalog = ["{output.name}"], and type = "{called}".')
    return 0


def _counted(rows: Sequence[object]) -> str:
    return f"{len(rows)} measurement{'' if len(rows) == 1 else 's'}"


def _told_now_and_then(progress: Callable[[str], None], count: int) -> Callable[[int, float], None]:
    """What tells of the types tried, not oftener than EVERY. count : of measurements."""
    last = time.monotonic()

    def heard(tried: int, squares: float) -> None:
        nonlocal last
        if time.monotonic() - last >= EVERY:
            last = time.monotonic()
            progress(f"still fitting: {tried} tried; off by {(squares / count) ** 0.5:.2f} spreads in the mean")

    return heard


def _may_write(output: Path, called: str, there: list[str]) -> None:
    """Look before the work is done. Raises RoundownError."""
    if output.exists():
        raise RoundownError(f"{output} is there already and is not overwritten. Choose another name with -o.")
    if not NAME.match(called):
        raise RoundownError(f"--name = {called}: letters, figures, - and _ are allowed. Choose another name.")
    if called in there:
        raise RoundownError(f"--name = {called}: there is a type of that name already. Choose another name.")


def _changed(fitted: Fit, file: Path) -> dict[str, Given]:
    """The fitted values as they are to stand in a file, rounded, each with its source."""
    from roundown.figures import Origin, given_number

    return {
        each.name: given_number(
            each.value, each.kind, Origin("", (), f"fitted from measurements in {file.name}"), None, _exact(each)
        )
        for each in fitted.fitted
    }


def _exact(each: Any) -> str:
    """A fitted value as a text with its unit, finely enough to be read back."""
    return write(each.value, each.kind, decimals=5 if each.kind is RATIO else 1).replace(",", "")


def _write(output: Path, called: str, entry: Entry, file: Path, fitted: Fit) -> None:
    """Write the catalog file once it was read back. Raises RoundownError where such a type is not read."""
    from roundown.catalog.load import add_entries, builtin_catalog, check_format
    from roundown.documents import parse_document
    from roundown.exports.files import write_file
    from roundown.exports.type_file import type_bytes

    comments = [f"{entry.label} ({entry.name}), fitted by `roundown type fit` to the measurements in {file.name}."]
    content = type_bytes(
        called, f"{entry.label.removesuffix(FITTED)}{FITTED}", entry.values, _changed(fitted, file), comments
    )
    document = parse_document(str(output), content.decode())
    complaints = [document] if isinstance(document, Complaint) else check_format(document)
    if not isinstance(document, Complaint):
        complaints += add_entries(builtin_catalog(), document, "")
    if complaints:
        wrong = "; ".join(f"{each.key}: {each.limit}" for each in complaints)
        raise RoundownError(f"the fitted type is like no aeroplane: {wrong}. Look at the rows; nothing was written.")
    write_file(output, content)


def _shown(value: float, kind: Kind, *, signed: bool = False) -> str:
    """A value with its unit, as finely as one tunes by."""
    text = write(value, kind, decimals=FINE.get(kind))
    return f"+{text}" if signed and not text.startswith("-") else text


def _why(held: Held) -> str:
    """Why a value was not fitted, and what to fly for it."""
    from roundown.launch.fit import TOLD_BY

    reason = f"cannot be told apart from {held.like}" if held.like else "no measurement tells it"
    return f"{reason}; fly {TOLD_BY[held.name]}"


def _remarks(fitted: Fit) -> list[str]:
    """What one should know of the fit, a sentence each."""
    from roundown.catalog.possible import impossible
    from roundown.launch.fit import below_stall

    said = []
    if fitted.chance is None:
        said.append("There are no more measurements than fitted values: nothing is left over to judge the fit by.")
    elif fitted.poor:
        wider = (fitted.chi_square / fitted.freedom) ** 0.5
        said.append(
            f"The misfit is more than the spreads allow (chance {_chance(fitted.chance)}): a row is wrong, "
            f"or the spreads are {wider:.1f} times too small and the standard deviations with them, or a value that "
            "is held is not that of the simulator's machine (weights, shaft_power, propeller_diameter, wing_area)."
        )
    else:
        said.append("The misfit is what the spreads allow.")
    outlying = [_in_words(each.measured) for each in fitted.compared if each.outlying]
    if outlying:
        said.append(f"Far out: {', '.join(outlying)}. Look at the row, or fly it again.")
    said += [
        f"{each.name} stands at the limit of what a type may have: something held is wrong, "
        "shaft_power or a weight perhaps, or a row is."
        for each in fitted.fitted
        if each.deviation is None
    ]
    said += [
        f"{first} and {second} lean on one another (correlation {correlation:+.2f}): "
        "together they fit, each alone is known badly."
        for first, second, correlation in fitted.leaning
    ]
    low = below_stall(fitted)
    if low:
        said.append(f"Flown slower than the fitted type stalls, where the sums do not hold: {', '.join(low)}.")
    said += [
        f"Such a type would not be read: {each.key}: {each.limit}. {each.remedy}."
        for each in impossible("types", fitted.values)
    ]
    return said


def _chance(chance: float) -> str:
    """A chance in per cent; what is next to nothing is not written out."""
    least = f"{100.0 * LEAST_CHANCE:g} %"
    return f"below {least}" if chance < LEAST_CHANCE else f"{100.0 * chance:.2g} %"


def _in_words(measured: Measured) -> str:
    """A measurement as it goes in a list: of a run, which has several, what of it."""
    from roundown.launch.measured import What

    row, _, part = measured.name.partition(", ")
    what = part or ("distance" if measured.what is What.RUN else "")
    return f"{what} of {row}" if what else row


def _lines(entry: Entry, file: Path, fitted: Fit, remarks: list[str]) -> list[str]:
    """The answer for people."""
    lines = [f"{entry.name}: {entry.label}. Fitted to {_counted(fitted.compared)} in {file.name}."]
    lines.append(f"  {'':25} {'was':>12} {'fitted':>12} {'one standard deviation':>24}")
    for each in fitted.fitted:
        spread = "at its limit" if each.deviation is None else _shown(each.deviation, each.kind)
        was, now = _shown(each.before, each.kind), _shown(each.value, each.kind)
        lines.append(f"  {each.name:25} {was:>12} {now:>12} {spread:>24}")
    if fitted.held:
        lines.append("Held as they were:")
    lines += [f"  {each.name:25} {_shown(each.value, each.kind):>12}   {_why(each)}" for each in fitted.held]
    lines.append(f"  {'':25} {'measured':>12} {'type says':>12} {'difference':>12} {'in spreads':>12}")
    lines += [_row(each) for each in fitted.compared]
    if fitted.freedom > 0:
        share = fitted.chi_square / fitted.freedom
        lines.append(f"Chi-square {share:.2f} for each degree of freedom ({fitted.freedom}); about 1 is right.")
    return [*lines, *remarks, CAUTION]


def _row(each: Compared) -> str:
    kind = each.measured.kind
    measured, says = _shown(each.measured.value, kind), _shown(each.expected, kind)
    difference = _shown(each.difference, kind, signed=True)
    mark = "  far out" if each.outlying else ""
    return f"  {each.measured.name:25} {measured:>12} {says:>12} {difference:>12} {each.spreads:>+12.1f}{mark}"


def _answer(entry: Entry, file: Path, fitted: Fit, remarks: list[str]) -> dict[str, Any]:
    """The answer for programs."""
    values = {
        each.name: {
            "value": plain(each.value, each.kind),
            "deviation": None if each.deviation is None else plain(each.deviation, each.kind),
            "before": plain(each.before, each.kind),
            "unit": each.kind.unit,
        }
        for each in fitted.fitted
    }
    rows = [
        {
            "name": each.measured.name,
            "measured": plain(each.measured.value, each.measured.kind, 6),
            "expected": plain(each.expected, each.measured.kind, 6),
            "spread": plain(each.measured.spread, each.measured.kind, 6),
            "spreads": round(each.spreads, 6),
            "unit": each.measured.kind.unit,
            "outlying": each.outlying,
        }
        for each in fitted.compared
    ]
    return {
        "type": entry.name,
        "file": file.name,
        "fitted": values,
        "held": {each.name: _why(each) for each in fitted.held},
        "measurements": rows,
        "chi_square": round(fitted.chi_square, 6),
        "freedom": fitted.freedom,
        "chance": fitted.chance,
        "remarks": remarks,
    }
