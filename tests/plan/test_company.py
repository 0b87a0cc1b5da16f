"""Ships in company and the water they have."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from roundown.errors import PlanError
from roundown.plan.facts import Day
from roundown.quantities import DEGREE, KNOT, YARD

Read = Callable[[str], Day]
PLANE = '\n[aeroplane]\ntype = "ottery"\n'


def ship(name: str, role: str, more: str = "") -> str:
    return f'\n[[company]]\nname = "{name}"\nrole = "{role}"\nbearing = "10 deg port"\ndistance = "1000 yd"\n{more}'


def test_a_ship_in_company_has_a_side_and_a_distance(read: Read) -> None:
    (found,) = read(PLANE + ship("Tern Rock", "escort")).company
    assert (found.name, found.label, found.role) == ("Tern Rock", "Tern Rock", "escort")
    assert (found.guards, found.greatest_speed) == ("", None)
    assert found.bearing == pytest.approx(-10 * DEGREE)
    assert found.distance == pytest.approx(1000 * YARD)


def test_a_plane_guard_follows_the_guide_unless_told_otherwise(read: Read) -> None:
    text = ship("Sextant", "plane guard") + ship("lintel", "carrier")
    text += ship("Alidade", "plane guard", 'guards = "lintel"\n')
    guards = {each.name: each.guards for each in read(PLANE + text).company}
    assert guards == {"Sextant": "corbel", "lintel": "", "Alidade": "lintel"}


def test_a_carrier_is_a_ship_of_the_catalog_under_any_name(read: Read) -> None:
    day = read(PLANE + ship("lintel", "carrier") + ship("Sister", "carrier", 'ship = "lintel"\n'))
    lintel, sister = day.company
    assert lintel.label == sister.label != "Sister"
    assert lintel.greatest_speed == sister.greatest_speed
    assert lintel.greatest_speed is not None
    assert day.number("company.Sister.greatest_speed") == lintel.greatest_speed


def test_the_speed_of_an_escort_is_known_only_where_it_is_given(read: Read) -> None:
    fast, slow = read(PLANE + ship("Fast", "escort", 'greatest_speed = "34 kt"\n') + ship("Slow", "escort")).company
    assert fast.greatest_speed == pytest.approx(34 * KNOT)
    assert slow.greatest_speed is None


def test_a_ship_without_a_name_does_not_shift_the_complaints_about_others(read: Read) -> None:
    """The complaint once named the line of the ship before."""
    nameless = ship("x", "escort").replace('name = "x"\n', "")
    with pytest.raises(PlanError) as caught:
        read(PLANE + nameless + ship("Tern Rock", "escort", 'guards = "corbel"\n'))
    missing, guards = caught.value.complaints
    assert (missing.key, guards.key) == ("company[1].name", "company[2].guards")
    assert guards.line == missing.line + 10


def test_the_corners_of_the_sea_room_are_positions(read: Read) -> None:
    corners = read(PLANE + '[sea_room]\ncorners = ["31 S 6 W", "31 S 4 30 W", "33 30 S 5 E"]\n').sea_room
    assert [(lat / DEGREE, lon / DEGREE) for lat, lon in corners] == [
        pytest.approx((-31.0, -6.0)), pytest.approx((-31.0, -4.5)), pytest.approx((-33.5, 5.0)),
    ]  # fmt: skip


def test_a_plan_without_them_has_none(read: Read) -> None:
    day = read(PLANE)
    assert (day.company, day.sea_room) == ((), ())
