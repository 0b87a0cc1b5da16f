"""`roundown export`: the solved day for other programs, one file a format."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated, Literal, get_args

from cyclopts import Parameter

from roundown.cli.brief import progress
from roundown.errors import RoundownError
from roundown.findings import Level

Format = Literal["geojson", "gpx", "kml", "ics", "csv"]


def export(
    plan: Path,
    *,
    output: Annotated[Path, Parameter(name=["-o", "--output"], help="Folder to write into.")] = Path("export"),
    formats: Annotated[
        list[Format] | None,
        Parameter(
            name="--format", consume_multiple=True, negative="", help="Formats to write; all of them without it."
        ),
    ] = None,
) -> int:
    """Export a solved day: tracks and moments as GeoJSON, GPX and KML, the timeline as calendar and table.

    Ends with 0 when the day works, 1 when a finding stops it, 2 when there is nothing to write.

    Parameters
    ----------
    plan
        The air plan, a TOML file.

    """
    from roundown.day.solve import solve
    from roundown.exports.calendar_ics import calendar_bytes
    from roundown.exports.chart import chart_of
    from roundown.exports.files import write_files
    from roundown.exports.geojson import geojson_bytes
    from roundown.exports.gpx import gpx_bytes
    from roundown.exports.kml import kml_bytes
    from roundown.exports.moments import NoMomentsError
    from roundown.exports.timeline_csv import timeline_bytes
    from roundown.plan.read import read_plan

    progress("reading the plan")
    day = read_plan(plan)
    progress("solving the day")
    solution = solve(day)
    chart = chart_of(day, solution)
    files: dict[str, bytes] = {}
    left_out: list[str] = []
    for wanted in _once(formats or get_args(Format)):
        name = f"{plan.stem}.{wanted}"
        try:
            match wanted:
                case "geojson":
                    files[name] = geojson_bytes(chart)
                case "gpx":
                    files[name] = gpx_bytes(chart)
                case "kml":
                    files[name] = kml_bytes(chart)
                case "ics":
                    files[name] = calendar_bytes(day, solution)
                case "csv":
                    files[name] = timeline_bytes(day, solution)
        except NoMomentsError as nothing:
            left_out.append(f"No {name}. {nothing}")
    if not files:
        raise RoundownError(f"{plan}: nothing was written. {' '.join(left_out)}")
    paths = write_files(output, files)
    print(f"{day.title}: {solution.verdict}")
    for sentence in (*chart.missing, *left_out):
        print(f"  {sentence}")
    print(f"Written to {output}: {', '.join(path.name for path in paths)}")
    return 1 if any(finding.level is Level.STOP for finding in solution.findings) else 0


def _once(formats: Sequence[Format]) -> list[Format]:
    """Each format once, in the order asked for."""
    return list(dict.fromkeys(formats))
