"""The chart of a day as KML 2.2: a folder for each sort of thing, every line and point with its time.

Sea tracks lie on the surface, circuits at their heights over the sea. Lines and areas are cut at 180 degrees.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from xml.etree import ElementTree as ET

from roundown.exports.chart import Chart, Feature, Fix, degrees, utc
from roundown.exports.date_line import cut_area, cut_line

NAMES = "http://www.opengis.net/kml/2.2"


def kml_bytes(chart: Chart) -> bytes:
    """The file as written. Raises PoleInsideError."""
    root = ET.Element("kml", {"xmlns": NAMES})
    document = ET.SubElement(root, "Document")
    ET.SubElement(document, "name").text = chart.title
    ET.SubElement(document, "description").text = chart.about
    for sort, features in groupby(chart.features, key=lambda feature: feature.sort):
        folder = ET.SubElement(document, "Folder")
        ET.SubElement(folder, "name").text = sort.value
        for feature in features:
            _placemark(folder, feature)
    if chart.sea_room:
        placed = ET.SubElement(document, "Placemark")
        ET.SubElement(placed, "name").text = "sea room"
        rings = cut_area(chart.sea_room)
        parent = ET.SubElement(placed, "MultiGeometry") if len(rings) > 1 else placed
        for ring in rings:
            _polygon(parent, ring)
    ET.indent(root, " ")
    return bytes(ET.tostring(root, encoding="UTF-8", xml_declaration=True)) + b"\n"


def _placemark(folder: ET.Element, feature: Feature) -> None:
    placed = ET.SubElement(folder, "Placemark")
    ET.SubElement(placed, "name").text = feature.name
    ET.SubElement(placed, "description").text = feature.about
    first, last = feature.fixes[0], feature.fixes[-1]
    if len(feature.fixes) == 1:
        stamp = ET.SubElement(placed, "TimeStamp")
        ET.SubElement(stamp, "when").text = utc(first.instant)
        point = ET.SubElement(placed, "Point")
        ET.SubElement(point, "coordinates").text = _position(first)
        return
    span = ET.SubElement(placed, "TimeSpan")
    ET.SubElement(span, "begin").text = utc(first.instant)
    ET.SubElement(span, "end").text = utc(last.instant)
    parts = cut_line(feature.fixes)
    parent = ET.SubElement(placed, "MultiGeometry") if len(parts) > 1 else placed
    for part in parts:
        line = ET.SubElement(parent, "LineString")
        if first.height is None:
            ET.SubElement(line, "tessellate").text = "1"
        else:
            ET.SubElement(line, "altitudeMode").text = "absolute"
        ET.SubElement(line, "coordinates").text = " ".join(_position(fix) for fix in part)


def _polygon(parent: ET.Element, ring: Sequence[tuple[float, float]]) -> None:
    polygon = ET.SubElement(parent, "Polygon")
    ET.SubElement(polygon, "tessellate").text = "1"
    border = ET.SubElement(ET.SubElement(polygon, "outerBoundaryIs"), "LinearRing")
    places = [f"{degrees(longitude):.7f},{degrees(latitude):.7f}" for latitude, longitude in [*ring, ring[0]]]
    ET.SubElement(border, "coordinates").text = " ".join(places)


def _position(fix: Fix) -> str:
    place = f"{degrees(fix.longitude):.7f},{degrees(fix.latitude):.7f}"
    return place if fix.height is None else f"{place},{fix.height:.2f}"
