"""`roundown rehearse`: a pass flown on purpose, written as a recording."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from roundown.errors import RoundownError

if TYPE_CHECKING:
    from roundown.motion.frames import NearPlane
    from roundown.plan.facts import Day
    from roundown.solution import Solution


def rehearse(
    plan: Path,
    *,
    csv: Annotated[Path, Parameter(help="File to write the recording to.")],
    late: Annotated[
        str, Parameter(help='How late the turn-in is, as in "4 s"; early is "-4 s".', allow_leading_hyphen=True)
    ] = "0 s",
    bank_error: Annotated[
        str,
        Parameter(
            help='Bank of the final turn more than planned, as in "3 deg" or "-3 deg".', allow_leading_hyphen=True
        ),
    ] = "0 deg",
) -> int:
    """Write the planned pass, or one with a stated error, as a recording to practise reading and debriefing on.

    Parameters
    ----------
    plan
        The air plan, a TOML file.

    """
    from roundown.day.facts import circuit_facts, wind_rows
    from roundown.day.solve import solve
    from roundown.errors import NoSolution, QuantityError
    from roundown.exports.files import write_file
    from roundown.exports.track_csv import SHIP, track_csv
    from roundown.plan.read import read_plan
    from roundown.quantities import ANGLE, TIME, read, write
    from roundown.recovery.circuit import NoCircuit, solve_circuit
    from roundown.recovery.rehearsal import rehearse as fly_rehearsal
    from roundown.recovery.rehearsal import ship_path

    errors = []
    for name, text, kind in (("--late", late, TIME), ("--bank-error", bank_error, ANGLE)):
        try:
            errors.append(read(text, kind).band.aim)
        except QuantityError as error:
            raise RoundownError(f"{name} = {text}: {error}") from error
    day = read_plan(plan)
    solution = solve(day)
    facts = circuit_facts(day, wind_rows(day), solution.flight.course, solution.flight.speed)
    circuit = solve_circuit(facts)
    if isinstance(circuit, NoCircuit):
        raise RoundownError(f"{plan}: there is no circuit to fly: {circuit.reason}. {circuit.remedy}.")
    try:
        path = fly_rehearsal(circuit, facts, errors[0], errors[1])
    except NoSolution as error:
        raise RoundownError(f"--late {late}, --bank-error {bank_error}: {error}. Ask for a smaller error.") from error
    ship = ship_path(circuit.setting, float(path.time[0]), float(path.time[-1]))
    start, plane = _begins(day, solution)
    write_file(csv, track_csv({SHIP: (ship, 1.0), "1": (path, 0.1)}, plane, start, circuit.setting))
    turn_in = f"{write(abs(errors[0]), TIME)} {'late' if errors[0] > 0 else 'early'}" if errors[0] else "as planned"
    bank = f"{write(abs(errors[1]), ANGLE)} {'more' if errors[1] > 0 else 'less'}" if errors[1] else "as planned"
    print(f"Written to {csv}: the aeroplane as track 1 at 10 Hz, the ship at 1 Hz; turn-in {turn_in}, bank {bank}.")
    return 0


def _begins(day: Day, solution: Solution) -> tuple[datetime, NearPlane]:
    """When and where the first aeroplane is at the initial: at the first recovery, without events at the datum."""
    from roundown.day.facts import clock_of
    from roundown.motion.frames import NearPlane
    from roundown.solution import Unsolved

    times = [found.recovery for found in solution.events.values() if found.recovery is not None]
    if not times or isinstance(solution.track, Unsolved):
        return day.start, NearPlane(day.number("place.latitude"), day.number("place.longitude"))
    place = solution.track.at(min(times))
    return clock_of(day).instant(min(times)), NearPlane(place.latitude, place.longitude)
