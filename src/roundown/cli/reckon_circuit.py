"""The circuit of `roundown reckon circuit`: catalog entries, standard air, a calm, the ship making all the wind."""

from __future__ import annotations

from roundown.errors import RoundownError
from roundown.recovery.result import CircuitResult

_PLAN = """\
format = 1
[place]
position = "00 00 N 000 00 E"
date = 1949-03-17
time = "12:00"
variation = "0 deg"
[weather]
surface_wind = "calm"
[ship]
name = "{ship}"
base_course = "000"
base_speed = "0 kt"
[doctrine]
name = "{doctrine}"
[aeroplane]
type = "{type}"
"""


def solve_reckoned(doctrine: str, kind: str, ship: str, over_deck: float) -> CircuitResult:
    """The circuit round a ship that makes all the wind over the deck [m/s] herself, in a calm, on course north.

    Raises RoundownError when there is none, or a name is not in the catalog.
    """
    from roundown.catalog.load import builtin_catalog, find_entry
    from roundown.catalog.types import Entry
    from roundown.day.facts import circuit_facts, wind_rows
    from roundown.documents import Document, parse_document
    from roundown.plan.read import day_of
    from roundown.recovery.circuit import NoCircuit, solve_circuit
    from roundown.recovery.result import describe

    catalog = builtin_catalog()
    for option, table, name in (
        ("--doctrine", "doctrines", doctrine),
        ("--type", "types", kind),
        ("--ship", "ships", ship),
    ):
        found = find_entry(catalog, table, name)
        if not isinstance(found, Entry):
            raise RoundownError(f"{option} = {name}: {found[0]}. {found[1]}.")
    document = parse_document("reckon", _PLAN.format(doctrine=doctrine, type=kind, ship=ship))
    assert isinstance(document, Document)
    day = day_of(document)
    facts = circuit_facts(day, wind_rows(day), 0.0, over_deck)
    circuit = solve_circuit(facts)
    if isinstance(circuit, NoCircuit):
        raise RoundownError(f"there is no circuit: {circuit.reason}. {circuit.remedy}.")
    return describe(circuit, facts)
