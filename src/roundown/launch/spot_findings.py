"""What is wrong with a spot: those it leaves out, pinned places that cannot be, an order that cannot be launched."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np

from roundown.findings import Finding, Level
from roundown.launch.apart import distance, standing
from roundown.launch.deck_plan import Deck
from roundown.launch.packing import HAIR
from roundown.launch.spot import Parked, SpotRules, Spotting, launch_line
from roundown.quantities import FOOT, LENGTH, write


def spot_findings(
    spotting: Spotting,
    load: Sequence[Parked],
    deck: Deck,
    rules: SpotRules | None = None,
    key: str = "spot",
    tip: float = 0.0,
) -> list[Finding]:
    """Findings of a spotting.

    load : as it was spotted, in launch order; key : of the spotting among the figures
    tip : room wanted beside a wingtip in the run, for the remedy [m]
    """
    kept = rules or SpotRules()
    found = [*_left_out(spotting, load, key), *_pins(load, deck, kept, key), *_order(load, key)]
    found += [*_no_run(spotting, deck, key), *_line(spotting, load, deck, kept, key, tip)]
    return found


def _left_out(spotting: Spotting, load: Sequence[Parked], key: str) -> list[Finding]:
    if spotting.fits:
        return []
    stand = len(spotting.places)
    remedy = f"Range {stand} and send up the rest later." if stand else "Range smaller ones, or free the deck."
    if any(parked.pin is not None for parked in load):
        remedy = "Free those that are pinned, or range fewer: what goes first must stand in front of a pinned one."
    return [
        Finding(
            "spot-does-not-fit", Level.STOP, f"{key}.places", f"{stand} of {len(load)} stand on the deck",
            "all of a deck load must stand on it folded", remedy,
        )
    ]  # fmt: skip


def _pins(load: Sequence[Parked], deck: Deck, rules: SpotRules, key: str) -> Iterator[Finding]:
    """Pinned places off the deck, in a keep-out, or too near one another."""
    pinned = {
        parked.key: standing(parked.footprint.folded, parked.pin.ahead, parked.pin.port, parked.pin.heading)
        for parked in load
        if parked.pin is not None
    }
    wanted = f"{write(rules.clearance, LENGTH, decimals=1)} are kept clear"
    for parked in load:
        pin = parked.pin
        if pin is None:
            continue
        (wheels,) = standing((parked.footprint.wheels,), pin.ahead, pin.port, pin.heading)
        if np.any((wheels[:, 0] < deck.round_down - HAIR) | (wheels[:, 0] > deck.furthest(wheels[:, 1]) + HAIR)):
            yield Finding(
                "spot-pin-off-deck", Level.STOP, f"{key}.places.{parked.key}", f"{parked.key} has a wheel off the deck",
                f"wheels keep {write(deck.edge, LENGTH)} from the edge, and off the round-down", "Pin it further in.",
            )  # fmt: skip
        for each in deck.keep_outs:
            room = distance(pinned[parked.key], each.outline)
            if room < rules.clearance - HAIR:
                value = _near(parked.key, f"the {each.name}", room)
                yield Finding(
                    "spot-pin-near", Level.STOP, f"{key}.places.{parked.key}", value, wanted, "Pin it elsewhere."
                )
    for (one, first), (other, second) in combinations(pinned.items(), 2):
        room = distance(first, second)
        if room < rules.clearance - HAIR:
            value = _near(one, other, room)
            yield Finding("spot-pin-near", Level.STOP, f"{key}.places.{one}", value, wanted, "Pin one elsewhere.")


def _near(one: str, other: str, room: float) -> str:
    return f"{one} overlaps {other}" if room <= 0.0 else f"{one} stands {write(room, LENGTH, decimals=1)} off {other}"


def _order(load: Sequence[Parked], key: str) -> list[Finding]:
    """Pinned ones that go first and stand behind one that goes after."""
    pins = [(parked.key, parked.pin.ahead) for parked in load if parked.pin is not None]
    return [
        Finding(
            "spot-order", Level.STOP, f"{key}.places.{one}", f"{one} is pinned behind {other} and goes before it",
            "what stands in front goes first", "Change the pins or the order.",
        )
        for (one, first), (other, second) in combinations(pins, 2)
        if first < second - HAIR
    ]  # fmt: skip


def _no_run(spotting: Spotting, deck: Deck, key: str) -> list[Finding]:
    """Those whose wings do not spread clear before the bow."""
    none = [name for name, place in spotting.places.items() if place.run_left <= 0.0]
    if not none:
        return []
    others = f", nor for {len(none) - 1} more" if len(none) > 1 else ""
    return [
        Finding(
            "spot-no-run", Level.STOP, f"{key}.places.{none[0]}",
            f"there is no place before the bow to spread wings for {none[0]}{others}",
            f"the deck ends {write(deck.length, LENGTH)} ahead of the ramp", "Range fewer, or use the catapult.",
        )
    ]  # fmt: skip


def _line(
    spotting: Spotting, load: Sequence[Parked], deck: Deck, rules: SpotRules, key: str, tip: float
) -> list[Finding]:
    """A launch line off the deck, or on which spread wings do not pass keep-outs, so that runs begin ahead of them."""
    tracks = [parked.footprint.track for parked in load if parked.key in spotting.places]
    inside = min(deck.width, deck.bow_width) / 2.0 - max(tracks, default=0.0) / 2.0
    if abs(spotting.line) > inside:
        value = f"on a launch line {write(abs(spotting.line), LENGTH)} off the centre line a wheel runs off the deck"
        limit = f"{write(max(inside, 0.0), LENGTH)} is the most"
        return [Finding("spot-line-off-deck", Level.STOP, f"{key}.line", value, limit, "Bring spot.line further in.")]
    spans = {parked.key: parked.footprint.span_spread for parked in load if parked.key in spotting.places}
    if not spans:
        return []
    widest, aft = max(spans.values()), min(place.ahead for place in spotting.places.values())
    half = widest / 2.0 + rules.spread - HAIR
    met = [
        each.name
        for each in deck.keep_outs
        if each.fore > aft and each.starboard < spotting.line + half and spotting.line - half < each.port
    ]
    if not met:
        return []
    better = launch_line(widest, deck, replace(rules, spread=max(rules.spread, tip)))
    if better is None:
        remedy = "Take narrower ones, or spot them ahead of it."
    else:
        side = "port" if better > 0.0 else "starboard"
        off = math.ceil(10.0 * abs(better) / FOOT - 1e-6) / 10.0 * FOOT
        aside = f"{write(off, LENGTH, decimals=1)} to {side} of" if off > 0.0 else "on"
        remedy = f"Launch {aside} the centre line, spot.line."
    return [
        Finding(
            "spot-line", Level.CAUTION, f"{key}.line", f"spread wings do not pass the {met[0]} on the launch line",
            f"they keep {write(rules.spread, LENGTH, decimals=1)} from it, so their runs begin ahead of it", remedy,
        )
    ]  # fmt: skip
