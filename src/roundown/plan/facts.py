"""The day as given: every value by its key, with where it stands and who says so."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import datetime

from roundown.documents import Document
from roundown.figures import Given, Givens


@dataclass(frozen=True, eq=False)
class Day:
    """title; start : first aeroplane at the initial (UTC); givens : every value by key; documents : the files read.

    Keys: place.*, weather.*, cockpit.* and ship.base_* from the plan; ship.*, type.* from the catalog; doctrine.* from
    the catalog with the ship's and the plan's overrides laid over it.
    """

    title: str
    start: datetime
    givens: Givens
    documents: tuple[Document, ...]

    def number(self, key: str) -> float:
        """A given number [SI]."""
        return self.givens[key].value

    def word(self, key: str) -> str:
        """A given word."""
        return self.givens[key].word

    @property
    def hash(self) -> str:
        """Eight characters that change when any file the day was read from does."""
        text = "\0".join(document.text for document in self.documents)
        return hashlib.sha256(text.encode()).hexdigest()[:8]

    def place_of(self, given: Given) -> str:
        """file:line of a given, or the file alone where it has no line."""
        for document in self.documents:
            if document.file == given.origin.file:
                line = document.line(given.origin.path)
                return f"{document.file}:{line}" if line else document.file
        return given.origin.file
