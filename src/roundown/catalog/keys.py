"""One key of a table of the catalog: what it is called, what it takes, what it means."""

from __future__ import annotations

from dataclasses import dataclass

from roundown.quantities import Kind


@dataclass(frozen=True)
class Key:
    """One key of a table.

    name : dotted below its table; kinds : allowed kinds, none for a word; meaning : one line
    band : a range is allowed; choices : allowed words, none for any; needed : must be there
    low, high : allowed values, SI
    default : what is taken where it is not given, "" for nothing
    by : the key is a card: a table of corrections, each row named by the value of this kind it is added to
    """

    name: str
    kinds: tuple[Kind, ...]
    meaning: str
    band: bool = False
    choices: tuple[str, ...] = ()
    needed: bool = True
    low: float = float("-inf")
    high: float = float("inf")
    default: str = ""
    by: Kind | None = None


def word_key(name: str, meaning: str, *choices: str, needed: bool = True, default: str = "") -> Key:
    """A key that takes a word: one of the choices, or any."""
    return Key(name, (), meaning, choices=choices, needed=needed, default=default)
