"""The chart of a day as GeoJSON (RFC 7946): longitude before latitude, cut at 180 degrees, rings against the clock.

Instants stand in the properties: `time` of a point, `times` of a line, one for each position and in the same nesting.
Heights over the sea stand beside them as `heights_m`; a third coordinate would be one over the ellipsoid.
"""

from __future__ import annotations

import json
from typing import Any

from roundown.exports.chart import Chart, Feature, Fix, degrees, utc
from roundown.exports.date_line import cut_area, cut_line


def geojson_bytes(chart: Chart) -> bytes:
    """The file as written. Raises PoleInsideError."""
    features = [_feature(feature) for feature in chart.features]
    if chart.sea_room:
        features.append(_sea_room(chart))
    whole = {"type": "FeatureCollection", "title": chart.title, "description": chart.about, "features": features}
    return (json.dumps(whole, indent=1, ensure_ascii=False, allow_nan=False) + "\n").encode()


def _feature(feature: Feature) -> dict[str, Any]:
    first, last = feature.fixes[0], feature.fixes[-1]
    said = {"sort": feature.sort.value, "who": feature.who, "name": feature.name, "description": feature.about}
    if len(feature.fixes) == 1:
        return _whole(
            feature.key, {"type": "Point", "coordinates": _position(first)}, said | {"time": utc(first.instant)}
        )
    parts = cut_line(feature.fixes)
    lines = [[_position(fix) for fix in part] for part in parts]
    times = [[utc(fix.instant) for fix in part] for part in parts]
    heights = [[None if fix.height is None else round(fix.height, 2) for fix in part] for part in parts]
    whole = len(parts) > 1
    properties: dict[str, Any] = {
        **said,
        "start": utc(first.instant),
        "end": utc(last.instant),
        "times": times if whole else times[0],
    }
    if first.height is not None:
        properties["heights_m"] = heights if whole else heights[0]
    geometry = {"type": "MultiLineString" if whole else "LineString", "coordinates": lines if whole else lines[0]}
    return _whole(feature.key, geometry, properties)


def _sea_room(chart: Chart) -> dict[str, Any]:
    polygons = []
    for ring in cut_area(chart.sea_room):
        corners = [[degrees(longitude), degrees(latitude)] for latitude, longitude in ring]
        polygons.append([[*corners, corners[0]]])
    several = len(polygons) != 1
    geometry = {"type": "MultiPolygon" if several else "Polygon", "coordinates": polygons if several else polygons[0]}
    return _whole("sea_room", geometry, {"sort": "sea room", "name": "sea room"})


def _whole(key: str, geometry: dict[str, Any], properties: dict[str, Any]) -> dict[str, Any]:
    return {"type": "Feature", "id": key, "geometry": geometry, "properties": properties}


def _position(fix: Fix) -> list[float]:
    return [degrees(fix.longitude), degrees(fix.latitude)]
