"""A type of the catalog as the launch wants it: loaded to a weight, set for take-off, on its spot.

Values are those of a type by key name ("wing_area", "launch.empty_weight"), without "type." before it.
"""

from __future__ import annotations

from roundown.catalog.launch_keys import FOR_THE_RUN, FOR_THE_SETTINGS, missing
from roundown.errors import NoSolution
from roundown.figures import Givens
from roundown.launch.facts import LaunchAeroplane
from roundown.launch.settings import SettingsFacts
from roundown.motion.aeroplane import Aeroplane
from roundown.motion.engine import Engine
from roundown.motion.equations.wing import Wing
from roundown.motion.position_error import Card
from roundown.quantities import INDICATED_SPEED, read

_AEROPLANE = (
    "wing_area", "zero_lift_drag", "gear_drag", "flap_drag", "induced_drag", "idle_thrust", "shaft_power",
    "propeller_diameter", "figure_of_merit", "roll_rate", "gear_time", "flap_time", "gear_limit", "flap_limit",
    "lift_clean", "lift_flap",
)  # fmt: skip


def why_not(values: Givens, wanted: tuple[str, ...] = FOR_THE_RUN) -> str:
    """A sentence part that names what a type does not give, "" where it gives all."""
    absent = missing(values, wanted)
    return f"the type does not give {', '.join(absent)}" if absent else ""


def full_weight(values: Givens) -> float:
    """Weight with full tanks and the heaviest stores [kg]."""
    parts = ("launch.empty_weight", "launch.fuel_weight", "launch.stores_weight")
    return sum(values[part].value for part in parts if part in values)


def dial_card(values: Givens) -> Card:
    """The card of the type's airspeed dial; empty without one."""
    stem = "position_error."
    rows = [(key.removeprefix(stem), given.value) for key, given in values.items() if key.startswith(stem)]
    return tuple(sorted((read(row, INDICATED_SPEED).band.aim, correction) for row, correction in rows))


def aeroplane_at(values: Givens, mass: float) -> Aeroplane:
    """The type at a weight [kg], as the path engine wants it."""
    return Aeroplane(mass=mass, **{name: values[name].value for name in _AEROPLANE}, position_error=dial_card(values))


def wing_of(values: Givens) -> Wing:
    """Lift and drag by angle of attack, in the order of motion/equations/wing.py."""
    names = (
        "wing_area", "launch.lift_slope", "launch.zero_lift_angle", "launch.flap_lift", "lift_clean", "lift_flap",
        "launch.post_stall_lift", "zero_lift_drag", "gear_drag", "flap_drag", "induced_drag",
    )  # fmt: skip
    return tuple(values[name].value for name in names)


def engine_of(values: Givens) -> Engine:
    """The engine; without a critical height its power falls from the sea up."""
    height = values.get("launch.critical_height")
    return Engine(
        shaft_power=values["shaft_power"].value,
        full_pressure=values["launch.full_pressure"].value,
        full_revolutions=values["launch.full_revolutions"].value,
        critical_height=height.value if height is not None else 0.0,
    )


def launch_aeroplane(
    values: Givens, mass: float | None = None, flap: float | None = None, power: float = 1.0
) -> LaunchAeroplane:
    """The type set for take-off.

    mass [kg] : full weight where None; flap : part of full flap, the type's own where None; power : part of full power
    Raises NoSolution, naming the keys, where the type does not give what the deck run needs.
    """
    absent = why_not(values)
    if absent:
        raise NoSolution(f"a deck run: {absent}")

    def given(name: str) -> float:
        return values[name].value

    return LaunchAeroplane(
        mass=full_weight(values) if mass is None else mass,
        wing=wing_of(values),
        wing_span=given("wing_span"),
        wing_height=given("launch.wing_height"),
        shaft_power=power * given("shaft_power"),
        figure_of_merit=given("figure_of_merit"),
        propeller_diameter=given("propeller_diameter"),
        friction=given("launch.friction"),
        flap=given("launch.take_off_flap") if flap is None else flap,
        three_point=given("launch.three_point"),
        tail_up=given("launch.tail_up"),
        tail_up_speed=given("launch.tail_up_speed"),
        lift_off_margin=given("launch.lift_off_margin"),
        gear_time=given("gear_time"),
        flap_time=given("flap_time"),
        roll_rate=given("roll_rate"),
        pull_rate=given("launch.pull_rate"),
        position_error=dial_card(values),
    )


def settings_facts(values: Givens, density: float, wind_ahead: float, mass: float | None = None) -> SettingsFacts:
    """The type on its spot, brakes on.

    density [kg/m3]; wind_ahead : over the deck [m/s]; mass [kg] : full weight where None
    Raises NoSolution, naming the keys, where the type does not give what is needed.
    """
    absent = why_not(values, FOR_THE_SETTINGS)
    if absent:
        raise NoSolution(f"settings on the spot: {absent}")

    def given(name: str) -> float:
        return values[name].value

    braked = values.get("launch.braked_pressure")
    return SettingsFacts(
        mass=full_weight(values) if mass is None else mass,
        engine=engine_of(values),
        figure_of_merit=given("figure_of_merit"),
        propeller_diameter=given("propeller_diameter"),
        wheels_ahead=given("launch.wheels_ahead"),
        thrust_height=given("launch.thrust_height"),
        tail_hold=given("launch.tail_hold"),
        brake_friction=given("launch.brake_friction"),
        rudder_speed=given("launch.rudder_speed"),
        three_point=given("launch.three_point"),
        tail_up=given("launch.tail_up"),
        clearance_three_point=given("launch.clearance_three_point"),
        clearance_tail_up=given("launch.clearance_tail_up"),
        braked_pressure=braked.value if braked is not None else None,
        density=density,
        wind_ahead=wind_ahead,
        position_error=dial_card(values),
    )
