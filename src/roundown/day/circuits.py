"""One circuit solved and described, remembered by its facts."""

from __future__ import annotations

from roundown.day.memory import Memory
from roundown.findings import Finding, Level, worst_first
from roundown.recovery.circuit import Circuit, NoCircuit, solve_circuit
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.findings import circuit_findings, no_circuit_findings
from roundown.recovery.result import CircuitResult, describe
from roundown.solution import Unsolved


def solved_circuit(facts: CircuitFacts, memory: Memory) -> tuple[Circuit | NoCircuit, CircuitResult | Unsolved]:
    """The circuit of some facts with its figures, or why there is none."""

    def found() -> tuple[Circuit | NoCircuit, CircuitResult | Unsolved]:
        circuit = solve_circuit(facts)
        if isinstance(circuit, NoCircuit):
            return circuit, Unsolved(f"{circuit.reason}. {circuit.remedy}.")
        return circuit, describe(circuit, facts)

    return memory.recall("circuit", facts, found)


def circuit_cautions(facts: CircuitFacts, memory: Memory) -> tuple[Finding, ...]:
    """Stops and cautions against the circuit of some facts, worst first."""

    def found() -> tuple[Finding, ...]:
        circuit, result = solved_circuit(facts, memory)
        if isinstance(circuit, NoCircuit):
            told = no_circuit_findings(circuit, facts)
        else:
            assert isinstance(result, CircuitResult)
            told = circuit_findings(result, facts)
        return worst_first(each for each in told if each.level is not Level.NOTE)

    return memory.recall("circuit cautions", facts, found)
