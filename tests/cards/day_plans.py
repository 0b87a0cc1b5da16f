"""Plans with events for the cards: an evening of two flights of four, and a night of two carriers and long names."""

from __future__ import annotations

import functools
import tempfile
from pathlib import Path

from tests.cards.conftest import Solved

from roundown.day.solve import solve
from roundown.plan.read import read_plan

EVENING = """format = 1
title = "Evening for eight"
[place]
position = "31 40 S 005 20 W"
date = 1949-03-17
time = "16:00"
[weather]
surface_wind = "140/11 kt"
temperature = "21 C"
pressure = "30.02 inHg"
swell = "5 ft"
[ship]
name = "corbel"
base_course = "185"
base_speed = "16 kt"
[[company]]
name = "Sextant"
role = "plane guard"
bearing = "165 deg port"
distance = "1200 yd"
[doctrine]
name = "fast-carrier-1944"
[squadrons.amber]
label = "Amber squadron"
type = "ottery"
call_sign = "Tallow"
roster = [
  { side = "11", name = "Vane", leader = "squadron", skill = "experienced" },
  { side = "12", name = "Pell", skill = "novice" },
  { side = "13", name = "Orme", leader = "section" },
  { side = "14", name = "Lusk", skill = "novice" },
  { side = "21", name = "Hale", leader = "division", skill = "experienced" },
  { side = "22", name = "Dray" },
  { side = "23", name = "Moss", leader = "section" },
  { side = "24", name = "Finch", skill = "novice" },
]
[[event]]
name = "first patrol"
task = "patrol over the ship"
launch = "17:00"
push = "launch + 12 min"
recovery = "18:00"
aeroplanes = { amber = 4 }
[[event]]
name = "second patrol"
task = "search to the west"
launch = "17:20"
target = "270 true from the ship, 30 nm"
recovery = "18:20"
aeroplanes = { amber = 4 }
[radio]
silence = "from take-off to the initial"
channels = [
  { name = "A", use = "launch and landing", call_sign = "Hearth" },
  { name = "B", use = "between aeroplanes", call_sign = "Tallow" },
]
[sea_room]
corners = ["31 20 S 005 50 W", "31 20 S 004 50 W", "32 40 S 004 50 W", "32 40 S 005 50 W"]
"""
NIGHT = """format = 1
title = "The night the whole task group stayed up far too long over the western banks"
[place]
position = "31 40 S 179 50 W"
date = 1949-03-17
time = "16:00"
zone = "-11:30"
variation = "12.5 deg E"
[weather]
surface_wind = "320/14 kt"
winds = [
  { height = "1000 ft over sea", wind = "330/18 kt" },
  { height = "5000 ft over sea", wind = "350/26 kt" },
]
temperature = "27 C"
pressure = "29.70 inHg"
swell = "6 ft"
[ship]
name = "corbel"
base_course = "250"
base_speed = "14 kt"
regain_speed = "19 kt"
[[company]]
name = "lintel"
role = "carrier"
bearing = "90 deg starboard"
distance = "9000 yd"
[[company]]
name = "Straightforwardness of the Line"
role = "plane guard"
guards = "corbel"
bearing = "165 deg port"
distance = "1200 yd"
[[company]]
name = "Tern Rock"
role = "escort"
bearing = "20 deg port"
distance = "6000 yd"
[doctrine]
name = "fast-carrier-1944"
[squadrons.amber]
label = "Amber squadron of the larger carrier's morning watch"
type = "ottery"
call_sign = "Tallow"
roster = [
  { side = "11", name = "Vane", leader = "squadron", skill = "experienced" },
  { side = "12", name = "Pell-Featherstonehaugh of Upper Slaughter" },
  { side = "13", name = "Orme", leader = "section" },
  { side = "14", name = "Lusk", skill = "novice" },
  { side = "21/A: x", name = "Hale", leader = "division", skill = "experienced" },
  { side = "22", name = "Dray" },
  { side = "23", name = "Moss", leader = "section" },
  { side = "24", name = "Finch", skill = "novice" },
  { side = "25", name = "Late" },
]
[squadrons.grey]
label = "Grey flight"
type = "sallow"
ship = "lintel"
call_sign = "Drover"
roster = [
  { side = "1", name = "Marl", leader = "squadron", skill = "experienced" },
  { side = "2", name = "Sedge" },
  { side = "3", name = "Thorne", leader = "section" },
  { side = "4", name = "Alder" },
  { side = "5", name = "Ash", leader = "division" },
  { side = "6", name = "Beech" },
  { side = "7", name = "Cedar", leader = "section" },
  { side = "8", name = "Elm" },
]
[muster]
absent = ["Pell-Featherstonehaugh of Upper Slaughter"]
[[event]]
name = "strike on the anchorage beyond the outer reef"
task = "strike on the anchorage, then look at the seaplane base on the way home if fuel allows it"
load = "two 500-lb bombs each; fighters without, and full drop tanks for everybody"
launch = "sunset + 90 min"
push = "launch + 35 min"
target = "075 true, 90 nm, the northern of the two anchorages"
time_on_target = "launch + 90 min"
recovery = "01:20 next day"
aeroplanes = { amber = 8, grey = 8 }
[[event]]
name = "dawn patrol"
launch = "05:30 next day"
recovery = "07:30 next day"
seats = ["11", "12", "1", "2"]
[radio]
channels = [
  { name = "A", use = "launch and landing, corbel", call_sign = "Hearth" },
  { name = "B", use = "launch and landing, lintel", call_sign = "Lantern" },
  { name = "C", use = "strike", call_sign = "Quarry", frequency = "140.6 Mc" },
]
[cockpit]
headings = "compass"
altimeter = "29.92 inHg"
deviation = { "000" = "2 deg E", "180" = "1 deg W" }
[simulator]
winds = "to"
sunset = "18:35"
civil_dusk = "18:57"
"""
PLANS = {"evening": EVENING, "night": NIGHT}


@functools.cache
def day_of(name: str, more: str = "") -> Solved:
    """One of PLANS, solved; more : tables put at its end."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "plan.toml"
        file.write_text(PLANS[name] + more, encoding="utf-8")
        day = read_plan(file)
    return Solved(day, solve(day))
