"""What a first air plan estimates for the recovery: wires, outline, eye, hook and fuel, so that its pass can be seen.

*Method:* own rules of thumb, no source: lengths in proportion to the deck or to the span, fuel to the power. They say
"estimated" in the plan, and are there to be put right.
"""

from __future__ import annotations

from roundown.quantities import FOOT, FUEL_FLOW, LENGTH, MASS, POUND, SINK, Kind, write

HORSEPOWER = 745.699872  # W
WIRES = 10
OF_DECK = (  # part of the deck's length
    ("deck.island_length", 0.15), ("deck.island_width", 0.016), ("gear.first_wire", 0.14), ("gear.spacing", 0.029),
    ("gear.run_out", 0.15), ("gear.barrier_place", 0.58), ("outline.island_height", 0.052),
    ("outline.mast_height", 0.115), ("outline.beam", 0.105), ("outline.platform_ahead", 0.045),
)  # fmt: skip
OF_SPAN = (  # part of the span
    ("sight.eye_height", 0.215), ("sight.eye_behind", 0.12), ("sight.nose_length", 0.28), ("sight.nose_width", 0.12),
    ("sight.wing_below", 0.09), ("sight.wing_ahead", 0.115), ("sight.tip_ahead", 0.07), ("sight.root_chord", 0.24),
    ("sight.tip_chord", 0.135), ("hook.behind", 0.46), ("launch.length", 0.8),
)  # fmt: skip
OF_POWER = (("fuel.circuit", 0.26), ("fuel.hold", 0.16), ("fuel.full_power", 0.6))  # lb/h for each horsepower
PLAIN = (
    ("sight.over_nose", "9.5 deg"), ("sight.wing_setting", "1.5 deg"), ("sight.dihedral", "5 deg"),
    ("hook.below", "1.4 ft"), ("landing.hook_load", "3 g"), ("wave_off.power_time", "2.5 s"),
    ("launch.lift_slope", "4.5"), ("launch.zero_lift_angle", "-2.2 deg"), ("launch.flap_lift", "0.58"),
)  # fmt: skip
SINK_LIMIT = 14.0 * FOOT  # m/s


def ship_lines(length: float, width: float, weight: float) -> str:
    """Lines of a ship's table. length, width : of her deck [m]; weight : of what she lands, as mass [kg]."""
    lines = [_line(name, write(part * length, LENGTH)) for name, part in OF_DECK]
    lines += [
        _line("deck.bow_width", write(0.9 * width, LENGTH)),
        _line("gear.wires", str(WIRES)),
        _line("gear.rating_weight", _rounded(1.5 * weight, 100.0 * POUND, MASS)),
        _line("gear.rating_speed", "66 kt past ship"),
    ]
    return "\n".join(lines)


def type_lines(span: float, power: float) -> str:
    """Lines of a type's table. span [m]; power : of the shaft [W]."""
    lines = [_line(name, write(part * span, LENGTH, decimals=1)) for name, part in OF_SPAN]
    lines += [_line(name, text) for name, text in PLAIN]
    lines.append(_line("landing.sink_limit", write(SINK_LIMIT, SINK)))
    flow = POUND / 3600.0 / HORSEPOWER
    lines += [_line(name, _rounded(part * power * flow, 10.0 * POUND / 3600.0, FUEL_FLOW)) for name, part in OF_POWER]
    return "\n".join(lines)


def _line(name: str, text: str) -> str:
    return f'{name} = {{ value = "{text}", source = "estimated" }}'


def _rounded(value: float, step: float, kind: Kind) -> str:
    return write(step * round(value / step), kind)
