"""Position error: what the airspeed dial shows, and the airspeed that is meant.

*Method:* calibrated = indicated + correction, the correction linear in indicated airspeed between the rows of the
type's card and constant beyond them (common practice, no source).

*Holds for:* a card along which calibrated airspeed rises with indicated; without a card the two are the same. The card
is one for all weights and for wheels and flap up or down.
"""

from __future__ import annotations

from itertools import pairwise

Card = tuple[tuple[float, float], ...]
"""Rows of indicated airspeed, ascending, and the correction to be added to it [m/s]."""


def calibrated(indicated: float, card: Card) -> float:
    """Calibrated airspeed of what the dial shows [m/s]."""
    if not card:
        return indicated
    if indicated <= card[0][0]:
        return indicated + card[0][1]
    for (low, first), (high, second) in pairwise(card):
        if indicated <= high:
            return indicated + first + (second - first) * (indicated - low) / (high - low)
    return indicated + card[-1][1]


def indicated(calibrated: float, card: Card) -> float:
    """What the dial shows at a calibrated airspeed [m/s]."""
    if not card:
        return calibrated
    if calibrated <= card[0][0] + card[0][1]:
        return calibrated - card[0][1]
    for (low, first), (high, second) in pairwise(card):
        if calibrated <= high + second:
            part = (calibrated - low - first) / (high + second - low - first)
            return low + part * (high - low)
    return calibrated - card[-1][1]
