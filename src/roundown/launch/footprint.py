"""What an aeroplane takes of the deck, wings folded and spread, seen from above.

*Method:* own proportions, no source, where a type does not say: the main wheels stand under the fore part of the wing
with 27 % of the length ahead of them, the tail wheel near the end; the tailplane is 38 % of the span; the mean chord is
area over span. Folded, wings are taken to lie beside the body from the leading edge to the tailplane, which is too much
room for wings that fold upward and never too little. The nose is as wide as the propeller, since it turns.
*Holds for:* tail-wheel aeroplanes with one propeller, tail on deck.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from roundown.catalog.launch_keys import FOR_THE_SPOT, missing
from roundown.errors import NoSolution
from roundown.figures import Givens
from roundown.launch.apart import Outline, hull
from roundown.motion.frames import Floats

NOSE_PART, TAIL_WHEEL_PART, TAIL_PART, TAIL_CHORD_PART = 0.27, 0.95, 0.38, 0.12  # own proportions, no source
WING_AHEAD_PART, TRACK_PART = 0.35, 0.26  # of the chord ahead of the wheels; of the span between the wheels


@dataclass(frozen=True)
class Footprint:
    """Lengths seen from above, about the main wheels [m].

    length : from nose to tail; length_folded : the same where folded wings reach past the tail
    nose : ahead of the main wheels; span_spread, span_folded; chord : of the wing; tail_span : of the tailplane
    propeller : its diameter; track : between the main wheels
    """

    length: float
    length_folded: float
    nose: float
    span_spread: float
    span_folded: float
    chord: float
    tail_span: float
    propeller: float
    track: float

    @property
    def folded(self) -> Outline:
        """Wings folded: one convex polygon."""
        leading, tail = WING_AHEAD_PART * self.chord, self.nose - self.length
        corners = [*_abreast(self.nose, self.propeller), *_abreast(leading, self.span_folded)]
        if self.length_folded > self.length:
            corners += _abreast(self.nose - self.length_folded, self.span_folded)
        else:
            corners += _abreast(tail + TAIL_CHORD_PART * self.length, max(self.span_folded, self.tail_span))
        corners += _abreast(tail, self.tail_span)
        return (hull(corners),)

    @property
    def spread(self) -> Outline:
        """Wings spread: body with tailplane, and wing."""
        tail = self.nose - self.length
        body = [*_abreast(self.nose, self.propeller), *_abreast(tail, self.tail_span)]
        leading = WING_AHEAD_PART * self.chord
        wing = [*_abreast(leading, self.span_spread), *_abreast(leading - self.chord, self.span_spread)]
        return hull(body), hull(wing)

    @property
    def wheels(self) -> Floats:
        """Main wheels and tail wheel, (3, 2)."""
        tail = self.nose - TAIL_WHEEL_PART * self.length
        return np.array([(0.0, self.track / 2.0), (0.0, -self.track / 2.0), (tail, 0.0)])


def _abreast(ahead: float, width: float) -> list[tuple[float, float]]:
    return [(ahead, -width / 2.0), (ahead, width / 2.0)]


def footprint(
    length: float,
    span_spread: float,
    span_folded: float,
    wing_area: float,
    propeller: float,
    length_folded: float = 0.0,
) -> Footprint:
    """The footprint by the proportions above [m, m2]. length_folded : where folded wings reach past the tail."""
    return Footprint(
        length=length,
        length_folded=max(length, length_folded),
        nose=NOSE_PART * length,
        span_spread=span_spread,
        span_folded=span_folded,
        chord=wing_area / span_spread,
        tail_span=TAIL_PART * span_spread,
        propeller=propeller,
        track=TRACK_PART * span_spread,
    )


def footprint_of(values: Givens) -> Footprint:
    """The footprint of a type. values : by key name, without "type." before it.

    Raises NoSolution, naming the keys, where the type does not give what is needed.
    """
    absent = missing(values, FOR_THE_SPOT)
    if absent:
        raise NoSolution(f"a spot: the type does not give {', '.join(absent)}")
    reach = values.get("launch.folded_length")
    return footprint(
        values["launch.length"].value,
        values["wing_span"].value,
        values["launch.folded_span"].value,
        values["wing_area"].value,
        values["propeller_diameter"].value,
        0.0 if reach is None else reach.value,
    )
