"""A drawing written anew from what is kept of it."""

from html import escape

from proposal.model.pictures.svg_tree import SVG, XLINK, XML, SvgElement

# Readers make plain spaces of these where they stand in an attribute as they are.
_SPACE = {ord(one): f"&#{ord(one)};" for one in "\t\n\r"}
_PREFIXES = {"": "", XML: "xml:", XLINK: "xlink:"}
_DECLARED = f' xmlns="{SVG}" xmlns:xlink="{XLINK}"'


def svg_text(root: SvgElement) -> str:
    """Return a drawing as the text of a file.

    root: the outermost element; it and all in it belong to SVG.
    """
    return _written(root, _DECLARED) + "\n"


def _written(element: SvgElement, declared: str = "") -> str:
    attributes = "".join(
        f' {_PREFIXES[one.space]}{one.name}="{escape(one.value).translate(_SPACE)}"'
        for one in element.attributes
    )
    inner = "".join(
        escape(one, quote=False) if isinstance(one, str) else _written(one) for one in element.content
    )
    opening = f"<{element.name}{declared}{attributes}"
    return f"{opening}>{inner}</{element.name}>" if inner else f"{opening}/>"
