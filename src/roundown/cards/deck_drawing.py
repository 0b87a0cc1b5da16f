"""The spotted deck to scale, seen from above: outlines where they stand, numbered in launch order.

The deck lies bow up or bow to the left, whole or cut across into strips that follow one another, the foremost first:
whichever lets the numbers stand inside the outlines, and with as few cuts as can be.
"""

from __future__ import annotations

import json
from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from xml.etree import ElementTree as ET

import numpy as np

from roundown.cards.drawing import WIDTH_OF_BOLD, Point, Sheet
from roundown.cards.markup import element
from roundown.launch.apart import standing
from roundown.launch.deck_plan import Deck, KeepOut
from roundown.launch.footprint import Footprint
from roundown.launch.spot import Spotted, Spotting
from roundown.quantities import LENGTH, write

MOST_STRIPS = 4
BETWEEN = 1.6  # text sizes from strip to strip
BESIDE = 1.3  # text sizes kept round the deck for its words
OVERHANG = 0.06  # of the deck's width that outlines may reach over either edge
REACH = 6.5  # m that an outline may reach beyond the end of its strip: half the longest aeroplane
LARGEST = 6.0  # sheet units to a metre, beyond which nothing is gained
RUN_MARKS = 100.0 * 0.3048  # m from mark to mark along the edge: a hundred feet


@dataclass(frozen=True)
class DeckView:
    """How the deck lies on a sheet.

    bow_up : or else to the left; per_metre : sheet units to a metre
    cuts : ends of the strips from bow to ramp, ahead of the ramp [m]
    starts : of each strip: where its fore end on the centre line comes on the sheet
    """

    bow_up: bool
    per_metre: float
    cuts: tuple[float, ...]
    starts: tuple[Point, ...]

    def strip(self, ahead: float) -> int:
        """The strip a place ahead of the ramp [m] is drawn in; places off the deck belong to the nearest."""
        inner = [i for i, cut in enumerate(self.cuts[1:-1]) if ahead < cut]
        return inner[-1] + 1 if inner else 0

    def on_sheet(self, ahead: float, port: float, strip: int) -> Point:
        """Where a place ahead of the ramp and to port of the centre line [m] comes on the sheet."""
        aft = (self.cuts[strip] - ahead) * self.per_metre
        x, y = self.starts[strip]
        if self.bow_up:
            return x - port * self.per_metre, y + aft
        return x + aft, y + port * self.per_metre

    def on_deck(self, x: float, y: float) -> tuple[float, float]:
        """The place on deck under a point of the sheet: ahead of the ramp and to port of the centre line [m].

        Between strips that of the nearest one.
        """
        places = []
        for strip, (left, top) in enumerate(self.starts):
            across, down = (x - left) / self.per_metre, (y - top) / self.per_metre
            ahead = self.cuts[strip] - (down if self.bow_up else across)
            off = max(ahead - self.cuts[strip], self.cuts[strip + 1] - ahead, 0.0)
            port = -across if self.bow_up else down
            places.append((abs(port) + off, ahead, port))
        return min(places)[1:]


def deck_view(deck: Deck, width: float, height: float, size: float, least: float = 0.0) -> DeckView:
    """The view that fits a sheet best. size : of the text; least : scale that is wanted, sheet units to a metre.

    Of the views that reach the scale wanted the one with fewest strips, otherwise the one with the greatest scale.
    """
    views = [
        _view(deck, width, height, size, bow_up=bow_up, strips=strips)
        for strips in range(1, MOST_STRIPS + 1)
        for bow_up in (True, False)
    ]
    enough = [view for view in views if view.per_metre >= least]
    if enough:
        fewest = min(len(view.starts) for view in enough)
        return max((view for view in enough if len(view.starts) == fewest), key=lambda view: view.per_metre)
    return max(views, key=lambda view: view.per_metre)


def scale_wanted(footprints: Iterable[Footprint], deck: Deck, size: float) -> float:
    """Sheet units to a metre at which a number of two figures goes into every outline, hardly smaller than the text.

    footprints : of all that stand; size : of the text
    """
    narrow = min((each.span_folded for each in footprints), default=deck.width)
    return 2.6 * WIDTH_OF_BOLD * 0.8 * size / narrow  # two figures and a little air


def _view(deck: Deck, width: float, height: float, size: float, *, bow_up: bool, strips: int) -> DeckView:
    along, across = (height, width) if bow_up else (width, height)
    wide = deck.width * (1.0 + 2.0 * OVERHANG)
    room = (across - 2.0 * BESIDE * size - (strips - 1) * BETWEEN * size) / strips
    per_metre = min((along - 2.0 * BESIDE * size) * strips / deck.length, room / wide, LARGEST)
    if strips > 1:
        per_metre = min(per_metre, along / (deck.length / strips + 2.0 * REACH))
    cuts = tuple(float(cut) for cut in np.linspace(deck.length, 0.0, strips + 1))
    pitch = wide * per_metre + BETWEEN * size
    first = (across - (strips - 1) * pitch) / 2.0
    lead = (along - deck.length / strips * per_metre) / 2.0
    middles = [first + i * pitch for i in range(strips)]
    starts = tuple((middle, lead) if bow_up else (lead, middle) for middle in middles)
    return DeckView(bow_up, per_metre, cuts, starts)


def deck_drawing(
    spotting: Spotting,
    footprints: Mapping[str, Footprint],
    deck: Deck,
    width: float,
    height: float,
    size: float,
    name: str,
    *,
    metric: bool = False,
) -> ET.Element:
    """The spotted deck.

    footprints : by key, of all that stand; width, height : of the sheet; size : of the text; name : makes the ids its
    own; metric : lengths in metres
    """
    view = _view_of(footprints, deck, width, height, size)
    pen = Sheet(width, height, size)
    _ground(pen, view, deck, spotting.line)
    for number, (key, spotted) in enumerate(spotting.places.items(), 1):
        _parked(pen, view, spotted, footprints[key], f"{number}")
    _first_off(pen, view, spotting, footprints, metric=metric)
    _ends(pen, view, deck)
    told = f"{len(spotting.places)} stand on a deck {write(deck.length, LENGTH, metric=metric)} long."
    first = next(iter(spotting.places.values()), None)
    if first is not None:
        told += f" The first off has a run of {write(first.run_left, LENGTH, metric=metric)}."
    if spotting.left_out:
        told += f" {len(spotting.left_out)} find no place."
    return pen.svg(name, "The spotted deck, numbered in launch order", told)


def movable_deck(
    spotting: Spotting,
    footprints: Mapping[str, Footprint],
    deck: Deck,
    width: float,
    height: float,
    size: float,
    called: str,
    said: Mapping[str, tuple[int, str]],
    wrong: Container[str],
) -> ET.Element:
    """The same deck for a page on which outlines are taken hold of and moved.

    called : what the deck is called where it is heard; said : number and spoken label of each outline, by key
    wrong : keys of those that cannot stand where they are pinned; they are crossed out
    width, height : at most; a deck that leaves room above and below gets a lower sheet
    The view stands in the attributes of the drawing (per metre, cuts, starts, bow up) and each outline is a group with
    its place on deck [m], so that the page finds a place from a point as `DeckView.on_deck` does.
    """
    view = _view_of(footprints, deck, width, height, size)
    pen = Sheet(width, height, size)
    _ground(pen, view, deck, spotting.line)
    _first_off(pen, view, spotting, footprints)
    _ends(pen, view, deck)
    groups = []
    for key, spotted in spotting.places.items():
        number, label = said[key]
        own = Sheet(width, height, size)
        _parked(own, view, spotted, footprints[key], f"{number}", crossed=key in wrong)
        groups.append(
            element(
                "g",
                *_drawn(own),
                class_="parked",
                data_seat=key,
                data_ahead=repr(spotted.ahead),
                data_port=repr(spotted.port),
                data_pinned="yes" if spotted.pinned else None,
                tabindex="0",
                role="button",
                aria_label=label,
            )
        )
    used = BETWEEN * size + (OVERHANG + 0.5) * deck.width * view.per_metre  # round the middle of the outer strips
    top, foot = (0.0, height) if view.bow_up else (view.starts[0][1] - used, view.starts[-1][1] + used)
    return element(
        "svg",
        *_drawn(pen),
        *groups,
        viewBox=f"0 {top:.1f} {width:.1f} {foot - top:.1f}",
        role="application",
        aria_label=called,
        data_per_metre=repr(view.per_metre),
        data_cuts=json.dumps(view.cuts),
        data_starts=json.dumps(view.starts),
        data_bow_up="yes" if view.bow_up else None,
        data_half_width=repr(deck.width / 2.0),
        data_text=repr(size),
    )


def _drawn(pen: Sheet) -> list[ET.Element]:
    """What was drawn on a sheet, without the words for those who hear it."""
    return [part for part in pen.svg("", "", "") if part.tag not in ("title", "desc")]


def _view_of(footprints: Mapping[str, Footprint], deck: Deck, width: float, height: float, size: float) -> DeckView:
    """The view on which the numbers stand inside the outlines."""
    return deck_view(deck, width, height, size, scale_wanted(footprints.values(), deck, size))


def _ground(pen: Sheet, view: DeckView, deck: Deck, line: float) -> None:
    """The bare deck, and what stands in the way."""
    for strip in range(len(view.starts)):
        _deck(pen, view, deck, strip, line)
    for each in deck.keep_outs:
        _keep_out(pen, view, each)


def _first_off(
    pen: Sheet, view: DeckView, spotting: Spotting, footprints: Mapping[str, Footprint], *, metric: bool = False
) -> None:
    """Wings and run of the first off, where it has one."""
    key, first = next(iter(spotting.places.items()), ("", None))
    if first is not None and first.run_left > 0.0:
        _wings(pen, view, footprints[key], first.launch_ahead, spotting.line)
        _run(pen, view, spotting.line, first, write(first.run_left, LENGTH, metric=metric))


def _deck(pen: Sheet, view: DeckView, deck: Deck, strip: int, line: float) -> None:
    """The deck's edges of one strip, its centre line and marks each hundred feet from the bow."""
    fore, aft = view.cuts[strip], view.cuts[strip + 1]
    stations = [fore, *([deck.narrows_at] if aft < deck.narrows_at < fore else []), aft]
    for side in (-1.0, 1.0):
        edge = [view.on_sheet(ahead, side * deck.half_width(ahead), strip) for ahead in stations]
        pen.line(edge, "edge")
    for ahead in (fore, aft):
        kind = "edge" if ahead in (deck.length, 0.0) else "ring"
        half = deck.half_width(ahead)
        pen.line([view.on_sheet(ahead, -half, strip), view.on_sheet(ahead, half, strip)], kind)
    pen.line([view.on_sheet(fore, line, strip), view.on_sheet(aft, line, strip)], "ring", covers=False)
    for i in range(1, int(deck.length / RUN_MARKS) + 1):
        ahead = deck.length - i * RUN_MARKS
        if aft <= ahead < fore:
            half = deck.half_width(ahead)
            for side in (-1.0, 1.0):
                pen.line([view.on_sheet(ahead, side * part * half, strip) for part in (0.95, 1.0)], "thin")


def _keep_out(pen: Sheet, view: DeckView, keep_out: KeepOut) -> None:
    """What stands in the way, full; in each strip the part that lies there."""
    for strip, (fore, aft) in enumerate(pairwise(view.cuts)):
        ends = max(keep_out.after, aft), min(keep_out.fore, fore)
        if ends[0] < ends[1]:
            sides = (keep_out.starboard, keep_out.port)
            corners = [(ends[0], sides[0]), (ends[1], sides[0]), (ends[1], sides[1]), (ends[0], sides[1])]
            pen.line([view.on_sheet(ahead, port, strip) for ahead, port in corners], "thin", filled=True)


def _wings(pen: Sheet, view: DeckView, print_: Footprint, ahead: float, line: float) -> None:
    """Dotted, the first one with its wings spread at its launch place."""
    strip = view.strip(ahead)
    for part in standing(print_.spread, ahead, line):
        corners = [view.on_sheet(float(x), float(y), strip) for x, y in part]
        pen.line([*corners, corners[0]], "ring", covers=False)


def _parked(
    pen: Sheet, view: DeckView, spotted: Spotted, print_: Footprint, number: str, *, crossed: bool = False
) -> None:
    """One aeroplane's outline, body and number; a pinned one has a heavy outline. crossed : it cannot stand there."""
    (outline,) = standing(print_.folded, spotted.ahead, spotted.port, spotted.heading)
    strip = view.strip(float(outline[:, 0].max() + outline[:, 0].min()) / 2.0)
    corners = [view.on_sheet(float(x), float(y), strip) for x, y in outline]
    pen.line([*corners, corners[0]], "flown" if spotted.pinned else "thin")
    if crossed:
        half, tail = 0.5 * print_.span_folded, print_.nose - print_.length
        for side in (half, -half):
            ends = np.array([(print_.nose, side), (tail, -side)])
            (across,) = standing((ends,), spotted.ahead, spotted.port, spotted.heading)
            pen.line([view.on_sheet(float(x), float(y), strip) for x, y in across], "late")
    nose = standing((np.array([(print_.nose, 0.0)]),), spotted.ahead, spotted.port, spotted.heading)[0][0]
    pen.mark(view.on_sheet(float(nose[0]), float(nose[1]), strip), 0.12 * pen.size, filled=True)
    middle = outline.mean(axis=0)
    x, y = view.on_sheet(float(middle[0]), float(middle[1]), strip)
    tall = min(pen.size, print_.span_folded * view.per_metre / (2.2 * WIDTH_OF_BOLD))
    pen.words((x, y + 0.35 * tall), number, "middle", bold=True, size=tall)


def _run(pen: Sheet, view: DeckView, line: float, first: Spotted, text: str) -> None:
    """The first one's run, from its launch place to the bow, with its length over the middle of the line."""
    cuts = [first.launch_ahead, *(cut for cut in reversed(view.cuts) if cut > first.launch_ahead)]
    for aft, fore in pairwise(cuts):
        strip = view.strip((aft + fore) / 2.0)
        start, end = view.on_sheet(aft, line, strip), view.on_sheet(fore, line, strip)
        pen.line([start, end], "thin", covers=False)
        if fore == view.cuts[0]:
            pen.arrow_head(end, (0.0, -1.0) if view.bow_up else (-1.0, 0.0), 0.6 * pen.size)
    longest = max(pairwise(cuts), key=lambda stretch: stretch[1] - stretch[0])
    middle = sum(longest) / 2.0
    x, y = view.on_sheet(middle, line, view.strip(middle))
    pen.words((x, y + (0.25 if view.bow_up else -0.4) * pen.size), text, "middle", bold=True)


def _ends(pen: Sheet, view: DeckView, deck: Deck) -> None:
    """The words at bow and ramp."""
    for ahead, word in ((deck.length, "bow"), (0.0, "ramp")):
        strip = 0 if word == "bow" else len(view.starts) - 1
        x, y = view.on_sheet(ahead, 0.0, strip)
        out = -1.0 if word == "bow" else 1.0
        if view.bow_up:
            pen.words((x, y + (0.35 * out + (0.0 if out < 0.0 else 0.6)) * pen.size), word, "middle")
        else:
            half = view.per_metre * deck.width * 0.5
            pen.words((x, y - half - 0.35 * pen.size), word, "start" if out < 0.0 else "end")
