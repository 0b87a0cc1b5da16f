"""How a figure came about: what was given, where it was given, and how each result was made from it.

'How' is static. A result type declares each number once with `figure(kind, sentence, method, inputs=...)`; the physics
returns floats and knows nothing of it. One walker (`figures_of`) serves --why, JSON, cards and page. The inputs of a
figure are keys of givens ("circuit.break_bank", "type.wing_area") or of other figures; `trace` follows them down to the
givens and so finds every source mark.
"""

from __future__ import annotations

import dataclasses
from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import takewhile
from typing import Any

from roundown.quantities import Band, Kind, write


@dataclass(frozen=True)
class Origin:
    """Where a given value stands and who says so.

    file : the file it was read from, as the user named it
    path : its place in that file, for finding the line
    source : "published: ...", "common practice, no source", "invented ...", "estimated ...", "given in the plan"
    overridden : the file that first gave it, where a later one replaced it, else ""
    """

    file: str
    path: tuple[str | int, ...]
    source: str
    overridden: str = ""


@dataclass(frozen=True)
class Given:
    """A value someone wrote: a number with its kind and band and the words it was written in, or a word alone."""

    value: float
    kind: Kind | None
    band: Band
    word: str
    origin: Origin

    @property
    def text(self) -> str:
        """The value as it was written, with its unit."""
        return self.word if self.word or self.kind is None else write(self.value, self.kind, words=True)


def given_number(value: float, kind: Kind, origin: Origin, band: Band | None = None, written: str = "") -> Given:
    """A given number; without a band it is a single figure. written : the text it was read from."""
    return Given(value, kind, band or Band(value, value, value), written, origin)


def given_word(word: str, origin: Origin) -> Given:
    """A given word, such as a name or a side."""
    return Given(0.0, None, Band(0.0, 0.0, 0.0), word, origin)


Givens = Mapping[str, Given]


@dataclass(frozen=True)
class How:
    """The static part of a figure: its kind, what it means, how it is found, from which keys."""

    kind: Kind
    sentence: str
    method: str
    inputs: tuple[str, ...]


@dataclass(frozen=True)
class Figure:
    """One figure of a Solution, with its key and how it came about."""

    key: str
    value: float | None
    how: How

    @property
    def text(self) -> str:
        """The value with its unit; "none" where there is none."""
        return "none" if self.value is None else write(self.value, self.how.kind)


def figure(kind: Kind, sentence: str, method: str, inputs: tuple[str, ...]) -> Any:
    """Declare a field of a result type as a figure.

    kind : the kind it is shown as
    sentence : what the figure means, one line
    method : the equation or procedure, with its source
    inputs : keys of givens or of other figures; a key that ends in ".*" stands for all keys below it, and one that
    begins with a full stop is of a figure beside this one, with each further stop a level higher
    Returns a dataclass field without a default.
    """
    return dataclasses.field(metadata={"how": How(kind, sentence, method, inputs)})


def figures_of(result: Any, prefix: str = "") -> Iterator[Figure]:
    """Every figure below a result, in the order of declaration, keys joined by dots.

    Goes into dataclasses, and into mappings by their keys. Fields without `figure` that hold no result are passed over.
    """
    if isinstance(result, Mapping):
        for name, part in result.items():
            yield from figures_of(part, f"{prefix}{name}.")
    elif dataclasses.is_dataclass(result) and not isinstance(result, type):
        for field in dataclasses.fields(result):
            part = getattr(result, field.name)
            how = field.metadata.get("how")
            if how is not None:
                yield Figure(prefix + field.name, part, _beside(how, prefix))
            elif isinstance(part, Mapping) or dataclasses.is_dataclass(part):
                yield from figures_of(part, f"{prefix}{field.name}.")


def _beside(how: How, prefix: str) -> How:
    """A declaration with the keys of figures beside it written out. prefix : of their keys."""
    if not any(name.startswith(".") for name in how.inputs):
        return how
    levels = prefix.split(".")[:-1]

    def whole(name: str) -> str:
        bare = name.lstrip(".")
        up = len(name) - len(bare) - 1
        return name if not name.startswith(".") else ".".join([*levels[: len(levels) - up], bare])

    return dataclasses.replace(how, inputs=tuple(whole(name) for name in how.inputs))


def key_of(name: str) -> str:
    """A name people gave as part of a key, where spaces and full stops would part it."""
    return name.replace(".", " ").replace(" ", "_")


class Tracer:
    """Follows figures down to the givens they rest on; what a declared input stands for is looked up once."""

    def __init__(self, figures: Mapping[str, Figure], givens: Givens) -> None:
        """Of one solved day. figures, givens : by key."""
        self.figures, self.givens = figures, givens
        self._sorted = sorted(figures), sorted(givens)
        self._found: dict[str, tuple[list[str], list[str]]] = {}

    def behind(self, key: str) -> dict[str, Given]:
        """The givens a figure rests on, through all figures between.

        Raises KeyError where a declared input is neither a given nor a figure: a fault of the declaration, not of the
        plan.
        """
        found: set[str] = set()
        seen: set[str] = set()
        waiting = [key]
        while waiting:
            name = waiting.pop()
            if name in seen or self.figures[name].value is None:
                continue
            seen.add(name)
            for pattern in self.figures[name].how.inputs:
                above, below = self._matching(pattern)
                if not above and not below and not pattern.endswith(".*"):
                    raise KeyError(f"{name} declares the input {pattern}, which is neither given nor a figure")
                waiting.extend(each for each in above if each not in seen)
                found.update(below)
        return {name: self.givens[name] for name in sorted(found)}

    def _matching(self, pattern: str) -> tuple[list[str], list[str]]:
        """The figures and the givens a declared input stands for."""
        if pattern not in self._found:
            above, below = self._sorted
            self._found[pattern] = matching(pattern, above), matching(pattern, below)
        return self._found[pattern]


def matching(pattern: str, keys: Sequence[str]) -> list[str]:
    """The keys a declared input stands for: itself, or all below it where it ends in ".*". keys : sorted."""
    stem = pattern[:-1] if pattern.endswith(".*") else pattern
    first = bisect_left(keys, stem)
    if stem != pattern:
        return list(takewhile(lambda key: key.startswith(stem), keys[first:]))
    return [pattern] if first < len(keys) and keys[first] == pattern else []


def trace(key: str, figures: Mapping[str, Figure], givens: Givens) -> dict[str, Given]:
    """The givens one figure rests on; as `Tracer.behind`, which is for many."""
    return Tracer(figures, givens).behind(key)
