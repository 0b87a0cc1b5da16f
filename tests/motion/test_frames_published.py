"""The near plane's distance and bearing against published geodesics, short and very long."""

from __future__ import annotations

import math

import pytest

from roundown.motion.frames import NearPlane

DEG = math.pi / 180.0


def measured(start: tuple[float, float], end: tuple[float, float]) -> tuple[float, float]:
    """Azimuth from start [deg, 0 to 360) and distance [m] between two places in degrees."""
    east, north = NearPlane(start[0] * DEG, start[1] * DEG).place(end[0] * DEG, end[1] * DEG)
    return math.degrees(math.atan2(east, north)) % 360.0, math.hypot(east, north)


LINES = [
    ((35.60777, -139.44815), (-11.17491, -69.95921), 111.098748429560326, 8935244.5604818305),
    ((-19.79938, -174.47484), (-11.99349, -154.35109), 71.167275780171533, 2319004.8601169389),
    ((-41.22777, 122.32875), (-7.57291, 130.37946), 14.285113402275739, 3812686.035106021),
    ((-68.82867, -74.28391), (-50.63005, -8.36685), 93.774347763114881, 3956936.926063544),
]


@pytest.mark.published
@pytest.mark.parametrize(("start", "end", "azimuth", "distance"), LINES)
def test_geodesics_as_published(
    start: tuple[float, float], end: tuple[float, float], azimuth: float, distance: float
) -> None:
    """Source: C. F. F. Karney, GeographicLib test suite (Journal of Geodesy 87, 2013); 0.1 micrometre and 1e-11 deg.

    The published lines are exact to 1e-8 m; the sine and cosine of the plane's place cost the rest.
    """
    found, length = measured(start, end)
    assert length == pytest.approx(distance, abs=1e-7)
    assert found == pytest.approx(azimuth, abs=1e-11)
    plane = NearPlane(start[0] * DEG, start[1] * DEG)
    latitude, longitude = plane.position(distance * math.sin(azimuth * DEG), distance * math.cos(azimuth * DEG))
    assert (latitude / DEG, longitude / DEG) == pytest.approx(end, abs=1e-11)


@pytest.mark.published
@pytest.mark.parametrize(
    ("start", "end", "azimuth", "distance", "digit"),
    [
        ((40.6, -73.8), (49.01666667, 2.55), 53.47022, 5_853_226.0, 0.5),
        ((-41 - 19 / 60, 174 + 49 / 60), (40 + 58 / 60, -5.5), 160.39137649664, 19_960_543.857179, 1e-5),
        ((27.2, 0.0), (-27.1, 179.5), 45.82468716758, 19_974_354.765767, 1e-5),
        ((0.0, 539.0 - 360.0), (0.0, 181.0 - 360.0), 90.0, 222_639.0, 0.5),
        ((54.1589, 15.3872), (54.1591, 15.3877), 55.723110355, 39.527686385, 1e-8),
    ],
)
def test_hard_geodesics_as_published(
    start: tuple[float, float], end: tuple[float, float], azimuth: float, distance: float, digit: float
) -> None:
    """Source: GeographicLib test suite, GeodSolve0, 76, 78, 29 (across 180 degrees) and 74 (as long as a deck).

    Half of the last digit, or its tenth millimetre; bearings to 1e-5 degree, in which all are printed.
    """
    found, length = measured(start, end)
    assert length == pytest.approx(distance, abs=digit)
    assert found == pytest.approx(azimuth, abs=1e-5)


@pytest.mark.published
def test_a_very_short_geodesic_as_published() -> None:
    """Source: GeographicLib test suite, GeodSolve4: 0.072 m."""
    assert measured((36.493349428792, 0.0), (36.49334942879201, 0.0000008))[1] == pytest.approx(0.072, abs=0.0005)


@pytest.mark.published
def test_geodesics_of_the_paper() -> None:
    """Source: C. F. F. Karney, Algorithms for geodesics, Journal of Geodesy 87 (2013), examples (from memory)."""
    plane = NearPlane(40.0 * DEG, 0.0)
    latitude, longitude = plane.position(1e7 * math.sin(30.0 * DEG), 1e7 * math.cos(30.0 * DEG))
    assert (latitude / DEG, longitude / DEG) == pytest.approx((41.79331020506, 137.84490004377), abs=1e-10)
    found, length = measured((-30.0, 0.0), (29.9, 179.8))
    assert length == pytest.approx(19_989_832.827610, abs=1e-5)
    assert found == pytest.approx(161.890524736, abs=1e-8)


@pytest.mark.published
@pytest.mark.parametrize(
    ("start", "end", "azimuth", "metres"),
    [
        ((33 + 57 / 60, -118 - 24 / 60), (40 + 38 / 60, -73 - 47 / 60), 66.0, 2144 * 1852.0),
        ((50.06639, -5.71472), (58.64389, -3.07), 9 + 7 / 60 + 11 / 3600, 968.9e3),
    ],
)
def test_great_circles_are_near_the_ellipsoids(
    start: tuple[float, float], end: tuple[float, float], azimuth: float, metres: float
) -> None:
    """Source: E. Williams, Aviation Formulary, worked example; a web page on great circles (R 6371 km).

    On a sphere; the ellipsoid differs by up to half a hundredth in distance and 0.2 degree in bearing.
    """
    found, length = measured(start, end)
    assert length == pytest.approx(metres, rel=0.005)
    assert found == pytest.approx(azimuth, abs=0.2)
