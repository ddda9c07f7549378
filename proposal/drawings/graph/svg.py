"""The SVG of a drawing as it is published, made from what the layout engine wrote."""

import itertools
import re
from xml.etree import ElementTree

from proposal.drawings.lettering import plain

FONT_FAMILY = "Arimo, 'Liberation Sans', Arial, Helvetica, sans-serif"

_SVG = "http://www.w3.org/2000/svg"
_XLINK = "http://www.w3.org/1999/xlink"
_NUMBER = re.compile(r"-?\d+\.\d+")
_GEOMETRY = (
    "points",
    "d",
    "x",
    "y",
    "cx",
    "cy",
    "rx",
    "ry",
    "transform",
    "font-size",
    "stroke-width",
    "viewBox",
)


def finished(svg_text: str, title: str, description: str, prefix: str) -> bytes:
    """Return a laid-out drawing as it is published.

    svg_text: as the layout engine wrote it.  title, description: its text alternative.
    prefix: makes its ids unlike those of any other drawing on a page.
    Comments, the document type and the engine's names for nodes and lines go; the tip of a line stays as
    its title.
    """
    ElementTree.register_namespace("", _SVG)
    # The text comes from the layout engine, which escapes what it was given and declares no entities.
    root = ElementTree.fromstring(re.sub(r"<!DOCTYPE[^>]*>", "", svg_text, count=1))  # noqa: S314 - our own text
    everything = list(root.iter())
    for parent in everything:
        for title_of_engine in parent.findall(f"{{{_SVG}}}title"):
            parent.remove(title_of_engine)
    for link in everything:
        if link.tag == f"{{{_SVG}}}a":
            _without_link(link)
    _level(everything)
    for element in root.iter():
        for name in ("id", "class", "font-family"):
            element.attrib.pop(name, None)
        for name in _GEOMETRY:
            if name in element.attrib:
                element.set(name, _NUMBER.sub(lambda found: _short(found[0]), element.attrib[name]))
    root.set("role", "img")
    root.set("font-family", FONT_FAMILY)
    root.set("aria-labelledby", f"{prefix}-title {prefix}-desc")
    for place, (kind, content) in enumerate((("title", title), ("desc", description))):
        part = ElementTree.Element(f"{{{_SVG}}}{kind}", {"id": f"{prefix}-{kind}"})
        part.text = plain(content)
        part.tail = "\n"
        root.insert(place, part)
    return (ElementTree.tostring(root, encoding="unicode") + "\n").encode()


def _level(elements: list[ElementTree.Element]) -> None:
    """Lower the lines of text that hold bold signs to the level of those that hold none.

    The engine sets a line with a bold sign a tenth of its size and 1 pt higher than one without.
    """
    for group in elements:
        for height, line in itertools.groupby(group, key=lambda element: element.get("y", "")):
            texts = list(line)
            bold = [float(text.get("font-size", "0")) for text in texts if text.get("font-weight")]
            if bold:
                for text in texts:
                    text.set("y", f"{float(height) + 0.1 * max(bold) + 1:.2f}")


def _without_link(link: ElementTree.Element) -> None:
    """Make the link that holds the tip of a line a group with a title."""
    told = link.attrib.pop(f"{{{_XLINK}}}title", "")
    link.attrib.clear()
    link.tag = f"{{{_SVG}}}g"
    title = ElementTree.Element(f"{{{_SVG}}}title")
    title.text = told
    link.insert(0, title)


def _short(number: str) -> str:
    """Return a decimal number without trailing zeros or a negative zero."""
    shown = f"{float(number):.2f}".rstrip("0").rstrip(".")
    return "0" if shown == "-0" else shown
