"""Who goes first: those that need the least run stand in front.

*Method:* the pattern of pilots' accounts (N. J. Kleiss, Carrier Take-Offs and Landings): the shortest-running in front,
the heaviest aft; what stands in front goes first (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from roundown.findings import Finding, Level
from roundown.launch.spot import Spotting
from roundown.quantities import LENGTH, write


def order_by_need(needs: Mapping[str, float]) -> tuple[str, ...]:
    """Keys in launch order, least need first. needs : run needed by key [m]; those with the same keep their order."""
    return tuple(sorted(needs, key=lambda key: needs[key]))


def ranks(order: Sequence[str], needs: Mapping[str, float]) -> tuple[tuple[str, str], ...]:
    """Neighbours of an order of which the first needs more run than the one behind it. needs : by key [m]."""
    return tuple((one, other) for one, other in pairwise(order) if needs[one] > needs[other])


def need_findings(spotting: Spotting, needs: Mapping[str, float], key: str = "spot") -> list[Finding]:
    """A stop where the run left is shorter than the run needed.

    needs : run needed by key [m], those not named need none; key : of the spotting among the figures
    The remedy says whether another order helps; where the one with the least need stands in front already, none does.
    """
    short = [(name, needs[name] - place.run_left) for name, place in spotting.places.items() if name in needs]
    short = [(name, lack) for name, lack in short if lack > 0.0]
    if not short:
        return []
    name, lack = max(short, key=lambda pair: pair[1])
    named = [each for each in spotting.places if each in needs]
    if ranks(named, needs):
        remedy = "Put those that need least run in front."
        rule = "spot-run-short"
    else:
        remedy = "No order closes it: range fewer, have more wind over the deck, load lighter, or use the catapult."
        rule = "spot-order-impossible"
    others = f", and {len(short) - 1} more {'is' if len(short) == 2 else 'are'} short" if len(short) > 1 else ""
    return [
        Finding(
            rule,
            Level.STOP,
            f"{key}.places",
            f"the spot leaves {name} {write(spotting.places[name].run_left, LENGTH)}{others}",
            f"it needs {write(needs[name], LENGTH)}, {write(lack, LENGTH)} more",
            remedy,
        )
    ]
