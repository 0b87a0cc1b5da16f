"""The ship's card: what she steers for the recovery, the wind it gives, and how far it takes her off her base track."""

from __future__ import annotations

from roundown.cards.card import Card, Group, Line, Sentence, shortened
from roundown.cards.marks import marks_of
from roundown.cards.markup import svg_text
from roundown.cards.sentences import by_what, sided
from roundown.cards.ship_drawing import rose_drawing, track_drawing
from roundown.figures import Figure
from roundown.plan.facts import Day
from roundown.quantities import COURSE_CHANGE, KNOT, WIND_OVER_DECK, write
from roundown.ship.turn_into_wind import HOLDS
from roundown.solution import Solution

TEXT = 11.0
CALM_SHOWN = 0.05 * KNOT  # m/s, below which a wind would be shown as nil
WIDE, HIGHEST = 164.0, 180.0  # of the drawings, points


def ship_card(day: Day, solution: Solution) -> Card:
    """The ship card of a solved day."""
    figures = solution.figures
    base_course, base_speed = day.number("ship.base_course"), day.number("ship.base_speed")
    return Card(
        template="ship-card",
        heading="Ship card",
        title=shortened(day.title),
        subtitles=(shortened(f"{day.word('ship.label')}; flown as {day.word('doctrine.label')}"),),
        head=(
            Line("Flight course", figures["flight.course"].text, "flight.course", "true", large=True),
            Line("Ship's speed", figures["flight.speed"].text, "flight.speed", large=True),
            Line("Wind over the deck", figures["flight.over_deck"].text, "flight.over_deck", large=True),
        ),
        groups=ship_groups(day, solution, figures),
        sentences=(Sentence(solution.flight.explanation, ("flight.course", "flight.speed", "flight.over_deck")),),
        marks=marks_of(day, solution, ["flight.course", "turn.ready_after"]),
        units="Courses and bearings true unless marked; speeds kt; wind at deck height; run off from where the base "
        "track would have her.",
        drawings=(
            svg_text(rose_drawing(solution.flight, base_course, WIDE, TEXT, "rose")),
            svg_text(track_drawing(solution.turn, base_course, base_speed, WIDE, HIGHEST, TEXT, "track")),
        ),
        plan=day.hash,
    )


def ship_groups(day: Day, solution: Solution, figures: dict[str, Figure]) -> tuple[Group, ...]:
    """The figures of wind, turn, run off and recovery, for card and page."""

    def line(label: str, key: str, note: str = "") -> Line:
        return Line(label, figures[key].text if key in figures else day.givens[key].text, key, note)

    calm = solution.flight.wind_speed < CALM_SHOWN
    wind = [
        (Line("natural wind", "calm", "flight.wind_speed"),)
        if calm
        else (line("natural wind from", "flight.wind_from"), line("at", "flight.wind_speed")),
        (line("over the deck, off the bow", "flight.off_bow"),),
    ]
    if not solution.flight.attained:
        short = solution.flight.short
        label = "too strong by" if short < 0.0 else "short by"
        wind.append((Line(label, write(abs(short), WIND_OVER_DECK), "flight.short"),))
    turn = Line("turn", sided(solution.turn.turn, COURSE_CHANGE, "to starboard", "to port"), "turn.turn")
    recovery = [
        (line("pilots' flight course", "cockpit.flight_course", by_what(solution.cockpit.shown)),),
        (line("interval", "doctrine.circuit.interval"),),
    ]
    if "circuit.groove_spacing" in figures:
        recovery.append((line("spacing at the ramp", "circuit.groove_spacing"),))
        recovery.append((line("speed past the ramp", "circuit.closing_ramp"),))
    return (
        Group("Wind", tuple(wind)),
        Group(
            "Turn into the wind",
            (
                (line("base course", "ship.base_course"), line("at", "ship.base_speed")),
                (turn,),
                (line("time to turn", "turn.turn_time"),),
                (line("order to steady at speed", "turn.ready_after"),),
            ),
        ),
        Group(
            "Run off after holding on",
            tuple(
                (
                    line(f"{minutes} min", f"turn.run_off.after_{minutes}_min.distance"),
                    line("on", f"turn.run_off.after_{minutes}_min.bearing"),
                )
                for minutes in HOLDS
            ),
        ),
        Group("Recovery", tuple(recovery)),
    )
