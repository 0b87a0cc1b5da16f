"""What the circuit is solved from: the ship on her flight course, the doctrine's commands, the aeroplane, the air."""

from __future__ import annotations

from dataclasses import dataclass

from roundown.motion.aeroplane import Aeroplane
from roundown.motion.equations.kernel import Floats
from roundown.motion.manoeuvre import Setting
from roundown.motion.ship_track import steady_track
from roundown.quantities import Band


@dataclass(frozen=True, eq=False)
class CircuitFacts:
    """SI and radians; speeds of the aeroplane are indicated, heights over the sea except ramp_height.

    ship_course, ship_speed : flight course, held for the pass; deck_height, deck_length : of the ship
    hand : -1 left-hand circuit, +1 right-hand
    upwind_offset : of the upwind leg from the centre line, away from the downwind leg
    datum : "bow", "island" or "ramp", what the break is measured from
    datum_ahead : the point of the ship the break is measured from, ahead of the ramp; break_ahead : from there
    initial_*, downwind_*, ninety_*, ramp_* : heights and indicated speeds; ramp_height over the deck
    slowing : loss of speed wanted in the break [m/s2]; let_down : rate to the downwind height [m/s]
    cut_ahead : where the cut is given, ahead of the ramp; greatest_bank : of the final turn
    expected_* : what the doctrine's own figures lead one to expect; least_margin : over the stall [m/s]
    downwind_band, ramp_band : allowed heights
    temperature [K], pressure [Pa] : at sea level; winds : (n, 3) height, east, north where the air goes
    """

    ship_course: float
    ship_speed: float
    deck_height: float
    deck_length: float
    hand: int
    upwind_offset: float
    datum: str
    datum_ahead: float
    break_ahead: float
    interval: float
    initial_height: float
    initial_speed: float
    break_bank: float
    slowing: float
    downwind_height: float
    downwind_speed: float
    let_down: float
    ninety_height: float
    ninety_speed: float
    ramp_height: float
    ramp_speed: float
    cut_ahead: float
    greatest_bank: float
    expected_abeam: Band
    expected_bank: Band
    expected_slope: Band
    least_margin: float
    downwind_band: Band
    ramp_band: Band
    aeroplane: Aeroplane
    temperature: float
    pressure: float
    winds: Floats

    @property
    def setting(self) -> Setting:
        """What the path engine flies in: the ship's ramp is at east 0, north 0 at time zero."""
        track = steady_track(self.ship_course, self.ship_speed)
        return Setting(self.aeroplane, (self.temperature, self.pressure), self.winds, track)

    @property
    def ramp_over_sea(self) -> float:
        """Height of the wheels over the ramp, over the sea [m]."""
        return self.deck_height + self.ramp_height
