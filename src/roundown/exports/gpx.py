"""The chart of a day as GPX 1.1: moments as waypoints, ships and aeroplanes as tracks of timed points.

A track has a segment for each stretch. GPX has no areas: the sea room is a track without times, closed at its first
corner. Longitude 180 is written -180, as the schema asks; lines are not cut there.
"""

from __future__ import annotations

from itertools import groupby
from xml.etree import ElementTree as ET

from roundown import __version__
from roundown.exports.chart import Chart, Feature, Fix, Sort, degrees, utc

NAMES = "http://www.topografix.com/GPX/1/1"


def gpx_bytes(chart: Chart) -> bytes:
    """The file as written."""
    root = ET.Element("gpx", {"xmlns": NAMES, "version": "1.1", "creator": f"roundown {__version__}"})
    metadata = ET.SubElement(root, "metadata")
    ET.SubElement(metadata, "name").text = chart.title
    ET.SubElement(metadata, "desc").text = chart.about
    points = [feature for feature in chart.features if len(feature.fixes) == 1]
    lines = [feature for feature in chart.features if len(feature.fixes) > 1]
    for feature in points:
        point = _point(root, "wpt", feature.fixes[0])
        _said(point, feature.name, feature.about, feature.sort)
    for (sort, name), group in groupby(lines, key=_track_of):
        segments = list(group)
        track = ET.SubElement(root, "trk")
        _said(track, name, "; ".join(segment.about for segment in segments), sort)
        for segment in segments:
            drawn = ET.SubElement(track, "trkseg")
            for fix in segment.fixes:
                _point(drawn, "trkpt", fix)
    if chart.sea_room:
        _sea_room(root, chart)
    ET.indent(root, " ")
    return bytes(ET.tostring(root, encoding="UTF-8", xml_declaration=True)) + b"\n"


def _track_of(feature: Feature) -> tuple[Sort, str]:
    """A ship's stretches are one track; a circuit is one of its own."""
    return feature.sort, feature.name if feature.sort is Sort.CIRCUIT else feature.who


def _said(parent: ET.Element, name: str, about: str, sort: str) -> None:
    ET.SubElement(parent, "name").text = name
    ET.SubElement(parent, "desc").text = about
    ET.SubElement(parent, "type").text = sort


def _point(parent: ET.Element, tag: str, fix: Fix) -> ET.Element:
    point = ET.SubElement(parent, tag, _place(fix.latitude, fix.longitude))
    if fix.height is not None:
        ET.SubElement(point, "ele").text = f"{fix.height:.2f}"
    ET.SubElement(point, "time").text = utc(fix.instant)
    return point


def _sea_room(root: ET.Element, chart: Chart) -> None:
    track = ET.SubElement(root, "trk")
    _said(track, "sea room", "the water the ships keep to", "sea room")
    segment = ET.SubElement(track, "trkseg")
    for latitude, longitude in [*chart.sea_room, chart.sea_room[0]]:
        ET.SubElement(segment, "trkpt", _place(latitude, longitude))


def _place(latitude: float, longitude: float) -> dict[str, str]:
    east = degrees(longitude)
    return {"lat": f"{degrees(latitude):.7f}", "lon": f"{-180.0 if east >= 180.0 else east:.7f}"}
