"""A drawing written anew from what is kept of it."""

from xml.sax.saxutils import escape, quoteattr

from proposal.model.pictures.svg_tree import SVG, XLINK, XML, SvgElement

_PREFIXES = {"": "", XML: "xml:", XLINK: "xlink:"}
_DECLARED = f' xmlns="{SVG}" xmlns:xlink="{XLINK}"'


def svg_text(root: SvgElement) -> str:
    """Return a drawing as the text of a file.

    root: the outermost element; it and all in it belong to SVG.
    """
    return _written(root, _DECLARED) + "\n"


def _written(element: SvgElement, declared: str = "") -> str:
    attributes = "".join(
        f" {_PREFIXES[one.space]}{one.name}={quoteattr(one.value)}" for one in element.attributes
    )
    inner = "".join(escape(one) if isinstance(one, str) else _written(one) for one in element.content)
    opening = f"<{element.name}{declared}{attributes}"
    return f"{opening}>{inner}</{element.name}>" if inner else f"{opening}/>"
