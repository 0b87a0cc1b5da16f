"""`roundown muster`: say who turned up, and see who flies what."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from roundown.errors import PlanError, RoundownError

if TYPE_CHECKING:
    from roundown.documents import Document
    from roundown.plan.facts import Day, Squadron
    from roundown.plan.muster_text import Which

MARK = b"\xef\xbb\xbf"  # some editors begin a UTF-8 file with it


def muster(
    plan: Path,
    *,
    present: Annotated[
        list[str] | None, Parameter(help='Who is here, as in "Vane, Pell"; all others are not.', negative="")
    ] = None,
    absent: Annotated[
        list[str] | None, Parameter(help='Who is not here, as in "Orme"; all others are.', negative="")
    ] = None,
    everyone: Annotated[bool, Parameter(help="All are here.", negative="")] = False,
) -> int:
    """Seat those who turned up: changes the table [muster] of the plan and nothing else in it.

    Order of launch and everyone's seat follow from it. As many seats are flown as people turned up.

    Parameters
    ----------
    plan
        The air plan, a TOML file.

    """
    from roundown.documents import open_document
    from roundown.errors import Complaint
    from roundown.exports.files import write_file
    from roundown.plan.muster_text import check_people, muster_text, people, rostered

    if (present is not None) + (absent is not None) + everyone != 1:
        raise RoundownError('say who turned up: --present "Vane, Pell", or --absent "Orme", or --everyone.')
    document = open_document(plan)
    if isinstance(document, Complaint):
        raise PlanError([document])
    which: Which = "absent" if present is None else "present"
    known = rostered(document)
    names = people(present or absent or (), known)
    if not names and not everyone:
        raise RoundownError(f'--{which} names nobody. Write names of the rosters, as in "{", ".join(known[:2])}".')
    check_people(names, known)
    raw = plan.read_bytes()
    text = muster_text(raw.removeprefix(MARK).decode(), which, names)
    day = _read_back(document, text)
    new = MARK * raw.startswith(MARK) + text.encode()
    if new != raw:
        write_file(plan, new)
    print(f"{day.title}: {'written to' if new != raw else 'as it stood in'} {plan}")
    for squadron in day.squadrons.values():
        for line in _who_flies(squadron):
            print(line)
    shown = f'"{plan}"' if " " in str(plan) else str(plan)
    print(f"Cards anew: roundown brief {shown} -o brief")
    return 0


def _read_back(document: Document, text: str) -> Day:
    """The day of the changed text. Raises PlanError; where the plan was wrong before, with the lines it has now."""
    from roundown.documents import Document, parse_document
    from roundown.errors import Complaint
    from roundown.plan.read import day_of

    changed = parse_document(document.file, text)
    if isinstance(changed, Complaint):
        raise PlanError([changed])
    try:
        return day_of(changed)
    except PlanError:
        without = {name: table for name, table in document.data.items() if name != "muster"}
        day_of(Document(document.file, document.text, without))
        raise


def _who_flies(squadron: Squadron) -> list[str]:
    """Lines that say who flies what."""
    lines = [f"{squadron.label}: {len(squadron.seats)} of {len(squadron.roster)}"]
    for seat in squadron.seats:
        moved = f"from {squadron.moved[seat.name]}" if seat.name in squadron.moved else ""
        leads = f"leads the {seat.leader}" if seat.leader else ""
        place = f"division {seat.division}, section {seat.section}"
        lines.append(f"  {seat.side:>4}  {seat.name or 'nobody named':14} {place:24} {leads:20} {moved}".rstrip())
    if squadron.absent:
        lines.append(f"  absent: {', '.join(squadron.absent)}")
    return lines
