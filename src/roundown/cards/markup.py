"""Elements of SVG and HTML, built as a tree so that every text is escaped by the serialiser and none by hand."""

from __future__ import annotations

from xml.etree import ElementTree as ET

SVG_NAMES = "http://www.w3.org/2000/svg"  # a page needs none round a drawing, a file does

Child = ET.Element | str | None


def element(name: str, /, *children: Child, **attributes: str | float | None) -> ET.Element:
    """An element with its children in order.

    children : elements and texts; None is left out
    attributes : `class_` is class, other underscores are hyphens; numbers are rounded to 0.1; None is left out
    """
    made = ET.Element(name)
    for key, value in attributes.items():
        if value is not None:
            made.set(key.rstrip("_").replace("_", "-"), value if isinstance(value, str) else number(value))
    last: ET.Element | None = None
    for child in children:
        if child is None:
            continue
        if isinstance(child, ET.Element):
            made.append(child)
            last = child
        elif last is None:
            made.text = (made.text or "") + child
        else:
            last.tail = (last.tail or "") + child
    return made


def number(value: float) -> str:
    """A coordinate, rounded to 0.1, without a needless point."""
    return f"{round(value, 1) + 0.0:.1f}".removesuffix(".0")


def svg_text(drawing: ET.Element) -> str:
    """A drawing as the text of a file of its own."""
    whole = ET.Element(drawing.tag, {"xmlns": SVG_NAMES} | drawing.attrib)
    whole.extend(drawing)
    return ET.tostring(whole, encoding="unicode")


def html_text(page: ET.Element) -> str:
    """A page as the text of a file of its own."""
    return "<!DOCTYPE html>\n" + ET.tostring(page, encoding="unicode", method="html") + "\n"
