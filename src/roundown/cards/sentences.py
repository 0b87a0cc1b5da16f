"""Figures in words: what turning in late or early costs, and sides instead of signs."""

from __future__ import annotations

from collections.abc import Iterable

from roundown.cards.card import Sentence
from roundown.figures import figures_of
from roundown.findings import Finding
from roundown.quantities import Kind, write
from roundown.recovery.result import CircuitResult
from roundown.schedule.event_times import EventTimes
from roundown.solution import Solution, Unsolved

NO_LATE = Sentence("What a late turn-in costs is not known here.")


def late_sentence(circuit: CircuitResult) -> Sentence:
    """What four seconds late at the turn-in cost, and four seconds early."""
    text = {figure.key: figure.text for figure in figures_of(circuit, "circuit.")}
    parts: list[str] = []
    keys: list[str] = []
    late, early = circuit.late.get("late_4_s"), circuit.late.get("early_4_s")
    if late is not None and late.straight_time is not None:
        stem = "circuit.late.late_4_s"
        straight, astern = f"{stem}.straight_time", f"{stem}.rolled_out_ahead"
        parts.append(
            f"turn in 4 s late and you roll out {text[astern].lstrip('-')} astern of the ramp "
            f"and fly {text[straight]} straight"
        )
        keys += [astern, straight]
    if early is not None and early.still_to_turn is not None:
        still = "circuit.late.early_4_s.still_to_turn"
        parts.append(f"4 s early and the ramp passes with {text[still]} still to turn")
        keys.append(still)
    elif early is not None:
        parts.append("4 s early and the turn ends ahead of the ramp, which is never passed")
    if not parts:
        return NO_LATE
    whole = "; ".join(parts)
    return Sentence(f"{whole[0].upper()}{whole[1:]}.", tuple(keys))


def short_late_sentence(circuit: CircuitResult) -> Sentence:
    """The same in one figure, for a card."""
    late = circuit.late.get("late_4_s")
    if late is None or late.straight_time is None:
        return NO_LATE
    text = {figure.key: figure.text for figure in figures_of(circuit)}
    astern = text["late.late_4_s.rolled_out_ahead"].lstrip("-")
    return Sentence(
        f"Turn in four seconds late and you roll out {astern} astern of the ramp.",
        ("circuit.late.late_4_s.rolled_out_ahead",),
    )


def circuit_sentence(solution: Solution) -> str:
    """The circuit in one line, or why there is none."""
    if isinstance(solution.circuit, Unsolved):
        return f"No circuit: {solution.circuit.reason}"
    text = {key.removeprefix("circuit."): found.text for key, found in solution.figures.items()}
    return (
        f"Break {text['break_bank']} of bank for {text['break_to_rollout']}; downwind {text['abeam']} abeam; turn in "
        f"{text['rollout_to_turn_in']} after wings level, ramp {text['ramp_off_nose']} off the nose; "
        f"final {text['final_bank']} for {text['final_time']}."
    )


def event_sentence(name: str, times: EventTimes) -> str:
    """An event's times in one line. name : as in the Solution."""
    text = {found.key: found.text for found in figures_of(times) if found.value is not None}
    parts = []
    if "launch" in text:
        last = f" to {text['last_off']}" if text["last_off"] != text["launch"] else ""
        parts.append(f"off {text['launch']}{last}")
    parts += [
        f"{word} {text[key]}" for key, word in (("push", "departs"), ("time_on_target", "on target")) if key in text
    ]
    if "recovery" in text:
        parts.append(f"at the initial {text['recovery']}")
    if "last_aboard" in text:
        parts.append(f"last aboard {text['last_aboard']}")
    return f"{name.replace('_', ' ').capitalize()}: {', '.join(parts) or 'no time is known'}."


def sided(value: float, kind: Kind, positive: str, negative: str) -> str:
    """A signed figure with its side in words: 275 yd astern, 25.3 deg to port. Nil has no side."""
    shown = write(abs(value), kind)
    if not any(digit in shown for digit in "123456789"):
        return shown
    return f"{shown} {positive if value > 0.0 else negative}"


def no_circuit(unsolved: Unsolved, findings: Iterable[Finding] = ()) -> str:
    """Why there is no circuit and what would make one, in the words of its finding where there is one."""
    for finding in findings:
        if finding.id == "no-circuit":
            return f"No circuit: {finding.value[0].lower()}{finding.value[1:]}. {finding.remedy}"
    return f"No circuit: {unsolved.reason[0].lower()}{unsolved.reason[1:]}"


def by_what(shown: str) -> str:
    """By what the cockpit's headings are: magnetic, by compass or true."""
    return "by compass" if shown == "compass" else shown
