"""Who lands first. Constructed cases, and the order against all permutations. No source has the rules: own rules."""

from __future__ import annotations

import math
from itertools import pairwise, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roundown.recovery.landing_order import (
    FOULS,
    HURT,
    By,
    HoldingFlight,
    HurtLand,
    Returning,
    holding_flights,
    landing_order,
)

TROUBLES = ("", "", "", "no radio", "hook", "hung stores", "wounded", "damaged")


def home(key: str, group: str, fuel: float | None = None, trouble: str = "", flow: float | None = 0.04) -> Returning:
    return Returning(key, group, fuel, flow, 0.06, trouble)


def names(order: tuple[HoldingFlight, ...]) -> list[str]:
    return [flight.name for flight in order]


def test_a_division_of_four_holds_together_in_the_order_it_was_launched() -> None:
    """Constructed."""
    division = [home(key, "first") for key in ("11", "12", "13", "14")]
    (flight,) = landing_order(division, 4, By.FUEL, HurtLand.LAST)
    assert [each.key for each in flight.aeroplanes] == ["11", "12", "13", "14"]
    assert flight.name == "first"


def test_a_division_of_six_holds_in_two_parts() -> None:
    """Constructed: four and two."""
    division = [home(str(i), "first") for i in range(6)]
    flights = holding_flights(division, 4)
    assert [len(flight.aeroplanes) for flight in flights] == [4, 2]
    assert names(flights) == ["first part 1", "first part 2"]


def test_one_low_on_fuel_puts_his_whole_flight_forward() -> None:
    """Constructed: 44 kg in the second division against 60 kg and more in the first."""
    first = [home(f"1{i}", "first", 60.0 + i) for i in range(4)]
    second = [home(f"2{i}", "second", 44.0 if i == 3 else 90.0) for i in range(4)]
    assert names(landing_order([*first, *second], 4, By.FUEL, HurtLand.LAST)) == ["second", "first"]
    assert names(landing_order([*first, *second], 4, By.LAUNCH, HurtLand.LAST)) == ["first", "second"]


def test_least_fuel_means_the_time_it_lasts_where_every_flow_is_known() -> None:
    """Own arithmetic: 80 kg at 0.08 kg/s lasts 1,000 s, 60 kg at 0.03 kg/s lasts 2,000 s."""
    thirsty, sparing = home("1", "bombing", 80.0, flow=0.08), home("2", "fighting", 60.0, flow=0.03)
    assert names(landing_order([sparing, thirsty], 4, By.FUEL, HurtLand.LAST)) == ["bombing", "fighting"]
    unknown = home("1", "bombing", 80.0, flow=None)
    assert names(landing_order([sparing, unknown], 4, By.FUEL, HurtLand.LAST)) == ["fighting", "bombing"]


def test_equal_fuel_and_unknown_fuel_go_by_the_launch() -> None:
    """Constructed."""
    equal = [home("1", "b", 50.0), home("2", "a", 50.0), home("3", "c", 50.0)]
    assert names(landing_order(equal, 4, By.FUEL, HurtLand.LAST)) == ["b", "a", "c"]
    unknown = [home("1", "b"), home("2", "a"), home("3", "c", 50.0)]
    assert names(landing_order(unknown, 4, By.FUEL, HurtLand.LAST)) == ["c", "b", "a"]


@pytest.mark.parametrize("trouble", sorted(HURT))
@pytest.mark.parametrize(("hurt", "place"), [(HurtLand.FIRST, 0), (HurtLand.LAST, 2)])
def test_the_hurt_go_alone_first_or_last_as_the_doctrine_has_it(trouble: str, hurt: HurtLand, place: int) -> None:
    """Constructed."""
    back = [home("1", "a"), home("2", "a", 5.0, trouble), home("3", "a"), home("4", "b")]
    order = landing_order(back, 4, By.LAUNCH, hurt)
    assert [each.key for each in order[place].aeroplanes] == ["2"]
    assert order[place].trouble == trouble
    assert [each.key for each in order[0 if place else 1].aeroplanes] == ["1", "3"]


@pytest.mark.parametrize("trouble", sorted(FOULS))
@pytest.mark.parametrize("hurt", list(HurtLand))
def test_one_who_may_foul_the_deck_comes_after_all_others(trouble: str, hurt: HurtLand) -> None:
    """Constructed."""
    back = [home("1", "a", 1.0, trouble), home("2", "a", 50.0), home("3", "b", 60.0, "wounded")]
    assert landing_order(back, 4, By.FUEL, hurt)[-1].aeroplanes[0].key == "1"


def test_one_without_a_radio_stays_with_his_flight() -> None:
    """Common practice, no source: his leader brings him in. Constructed."""
    back = [home("1", "a"), home("2", "a", trouble="no radio")]
    assert [len(flight.aeroplanes) for flight in landing_order(back, 4, By.FUEL, HurtLand.FIRST)] == [2]


def test_nobody_comes_home_twice_and_no_flight_is_empty() -> None:
    """Constructed."""
    with pytest.raises(ValueError, match="once"):
        holding_flights([home("1", "a"), home("1", "b")], 4)
    with pytest.raises(ValueError, match="one aeroplane"):
        holding_flights([home("1", "a")], 0)


def before(one: HoldingFlight, other: HoldingFlight, back: list[Returning], by: By, hurt: HurtLand) -> bool:
    """Whether one flight lands before another, written out pair by pair."""
    fouls = one.trouble in FOULS, other.trouble in FOULS
    if fouls[0] != fouls[1]:
        return fouls[1]
    if all(fouls) and one.trouble != other.trouble:
        return other.trouble == "hook"
    hurts = one.trouble in HURT, other.trouble in HURT
    if hurts[0] != hurts[1]:
        return hurts[0] if hurt is HurtLand.FIRST else hurts[1]
    if by is By.FUEL:
        least = [
            min([math.inf, *(each.fuel for each in flight.aeroplanes if each.fuel is not None)])
            for flight in (one, other)
        ]
        if least[0] != least[1]:
            return least[0] < least[1]
    launched = [each.key for each in back]
    return launched.index(one.aeroplanes[0].key) < launched.index(other.aeroplanes[0].key)


@st.composite
def homecomings(draw: st.DrawFn) -> list[Returning]:
    count = draw(st.integers(1, 6))
    return [
        home(
            str(i), draw(st.sampled_from("abc")), draw(st.sampled_from([None, 30.0, 40.0, 50.0])),
            draw(st.sampled_from(TROUBLES)),
        )
        for i in range(count)
    ]  # fmt: skip


@settings(deadline=None, max_examples=60)
@given(back=homecomings(), by=st.sampled_from(By), hurt=st.sampled_from(HurtLand), most=st.integers(1, 4))
def test_of_all_permutations_only_the_order_found_has_every_pair_right(
    back: list[Returning], by: By, hurt: HurtLand, most: int
) -> None:
    """Brute force: every order of the flights is tried; all have the same flow, so that weight and time agree."""
    flights = holding_flights(back, most)
    right = [
        tried
        for tried in permutations(flights)
        if all(before(one, other, back, by, hurt) for one, other in pairwise(tried))
    ]
    assert right == [landing_order(back, most, by, hurt)]
    assert sorted(each.key for flight in flights for each in flight.aeroplanes) == sorted(each.key for each in back)
    assert all(1 <= len(flight.aeroplanes) <= most for flight in flights)
    assert len({flight.name for flight in flights}) == len(flights)
