"""What of a drawing is published: the elements, attributes and styles that only draw."""

import base64
import binascii
import re
from collections.abc import Iterator
from dataclasses import field, replace
from itertools import islice

from proposal.errors import Problem
from proposal.field_classes import dataclass
from proposal.model.pictures.bitmap import kind_of, wrong_bitmap
from proposal.model.pictures.svg_allowed import (
    ATTRIBUTES,
    ELEMENTS,
    PROPERTIES,
    REFERRING,
    TEXT_BEGINNINGS,
    TEXTS,
    XLINK_ATTRIBUTES,
    XML_ATTRIBUTES,
)
from proposal.model.pictures.svg_styles import Rule, StyleError, checked_value, declarations, rules
from proposal.model.pictures.svg_tree import SVG, XLINK, XML, SvgAttribute, SvgElement, SvgTree
from proposal.quantities.messages import shown

MOST_PROBLEMS = 20  # of one drawing: a drawing of another kind has one on every line

# Namespaces with a meaning to browsers lie here; the description of metadata has none.
_OF_BROWSERS = "http://www.w3.org/"
_DESCRIPTIONS = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
_OWN_REFERENCE = re.compile(r"#[^\s\"'()\\<>&;,#]+")
_EMBEDDED = re.compile(r"data:image/(png|jpeg|jpg);base64,")
_KINDS = {"png": "a PNG picture", "jpeg": "a JPEG picture", "jpg": "a JPEG picture"}
_FIGURES = re.compile(r"[\w\s.,+\-%]*")
_WANTED_ELEMENT = "wanted an element that only draws"
_WANTED_ATTRIBUTE = "wanted an attribute that only draws"
_WANTED_STYLE = "wanted a style without anything from outside the drawing"


@dataclass(frozen=True, slots=True)
class Kept:
    """What of a drawing is published.

    root: the outermost element, without what no browser draws.
    rules: those of its style elements.
    whole: whether nothing was left out.
    """

    root: SvgElement
    rules: tuple[Rule, ...]
    whole: bool


def kept_of(tree: SvgTree, problems: list[Problem]) -> Kept | None:
    """Return what of a drawing is published, or None after adding what it may not hold.

    What is unknown is refused. Left out without a word is what has no meaning to a browser: metadata, and
    elements, attributes and properties of the drawing programs' own.
    """
    checking = _Checking(tree)
    if (tree.root.space, tree.root.name) != (SVG, "svg"):
        found = _tag(tree.root) + ("" if tree.root.space else " without a namespace")
        message = f'wanted an SVG drawing, <svg xmlns="{SVG}">; found {found}'
        problems.append(Problem(tree.place(tree.root), "", message))
        return None
    root = checking.kept(tree.root)
    if root is None or checking.complaints:
        problems += islice(_as_problems(tree, checking.complaints), MOST_PROBLEMS)
        return None
    return Kept(root, tuple(checking.rules), checking.whole and tree.bare)


def _as_problems(tree: SvgTree, complaints: "list[_Complaint]") -> Iterator[Problem]:
    for element, attribute, message in complaints:
        yield Problem(tree.place(element, attribute), "", message)


_Complaint = tuple[SvgElement, SvgAttribute | None, str]


@dataclass
class _Checking:
    """One drawing being checked."""

    tree: SvgTree
    complaints: list[_Complaint] = field(default_factory=list)
    rules: list[Rule] = field(default_factory=list)
    whole: bool = True

    def kept(self, element: SvgElement) -> SvgElement | None:
        """Return an element with what is kept in it, None where nothing of it is."""
        if _is_foreign(element.space) or (element.space, element.name) == (SVG, "metadata"):
            self._leave_out(element)
            return None
        if (element.space, element.name) == (SVG, "style"):
            return self._style(element)
        if element.space != SVG or element.name not in ELEMENTS:
            self.complaints.append((element, None, f"{_WANTED_ELEMENT}; found {_tag(element)}"))
            return None
        attributes = tuple(
            kept for each in element.attributes if (kept := self._attribute(element, each)) is not None
        )
        content = [
            inner
            for one in element.content
            if (inner := one if isinstance(one, str) else self.kept(one)) is not None
        ]
        return replace(element, attributes=attributes, content=content)

    def _leave_out(self, element: SvgElement) -> None:
        """Leave out an element that no browser knows; nothing that browsers know may lie in it."""
        self.whole = False
        for inner in element.children():
            if inner.space == _DESCRIPTIONS or not (
                inner.space == "" or inner.space.startswith(_OF_BROWSERS)
            ):
                self._leave_out(inner)
            else:
                message = f"wanted nothing that draws or runs in <{element.name}>; found {_tag(inner)}"
                self.complaints.append((inner, None, message))

    def _style(self, element: SvgElement) -> SvgElement:
        texts: list[str] = []
        attributes: list[SvgAttribute] = []
        for each in element.attributes:
            if each.space == "" and each.name == "type" and each.value != "text/css":
                self.complaints.append((element, each, f"wanted text/css; found {shown(each.value)}"))
            elif (attribute := self._attribute(element, each)) is not None:
                attributes.append(attribute)
        for one in element.content:
            if isinstance(one, str):
                texts.append(one)
            else:
                self.complaints.append((one, None, f"{_WANTED_ELEMENT}; found {_tag(one)} in <style>"))
        try:
            found = rules("".join(texts))
        except StyleError as error:
            self.complaints.append((element, None, f"{_WANTED_STYLE}; found {shown(str(error))}"))
            return element
        kept = [replace(each, declarations=self._known(element, None, each.declarations)) for each in found]
        self.rules += kept
        written = "".join(f"{each.selector}{{{_declared(each.declarations)}}}" for each in kept)
        return replace(element, attributes=tuple(attributes), content=[written])

    def _attribute(self, element: SvgElement, attribute: SvgAttribute) -> SvgAttribute | None:
        """Return an attribute as it is kept, or None where it is not."""
        space, name, value = attribute.space, attribute.name, attribute.value
        if _is_foreign(space):
            self.whole = False
            return None
        if name == "href" and space in ("", XLINK):
            self._reference(element, attribute)
        elif space == XLINK and name in XLINK_ATTRIBUTES:
            self.whole = False
            return None
        elif not space and name == "style":
            return self._inline_style(element, attribute)
        elif not (
            (space == XML and name in XML_ATTRIBUTES)
            or (not space and (name in ATTRIBUTES or name in TEXTS or name.startswith(TEXT_BEGINNINGS)))
        ):
            self.complaints.append((element, attribute, f"{_WANTED_ATTRIBUTE}; found {shown(name)}"))
        elif name in ATTRIBUTES and not _FIGURES.fullmatch(value):
            try:
                checked_value(value)
            except StyleError as error:
                message = f"{_WANTED_STYLE}; found {shown(str(error))}"
                self.complaints.append((element, attribute, message))
        return attribute

    def _reference(self, element: SvgElement, attribute: SvgAttribute) -> None:
        """Complain where a reference leads out of the drawing."""
        value = attribute.value
        if element.name == "image":
            if message := _wrong_embedded(value):
                self.complaints.append((element, attribute, message))
        elif element.name not in REFERRING:
            self.complaints.append((element, attribute, f"{_WANTED_ATTRIBUTE}; found {attribute.name}"))
        elif not _OWN_REFERENCE.fullmatch(value):
            message = f"wanted a reference inside the drawing, such as #shape; found {shown(value)}"
            self.complaints.append((element, attribute, message))

    def _inline_style(self, element: SvgElement, attribute: SvgAttribute) -> SvgAttribute | None:
        try:
            found = declarations(attribute.value)
        except StyleError as error:
            message = f"{_WANTED_STYLE}; found {shown(str(error))}"
            self.complaints.append((element, attribute, message))
            return None
        kept = self._known(element, attribute, found)
        return attribute if kept == found else replace(attribute, value=_declared(kept))

    def _known(
        self, element: SvgElement, attribute: SvgAttribute | None, declared: tuple[tuple[str, str], ...]
    ) -> tuple[tuple[str, str], ...]:
        """Return the declarations without those of single programs, whose names begin with a hyphen."""
        for name, _ in declared:
            if not name.startswith("-") and name not in PROPERTIES:
                message = f"wanted a property of style that only draws; found {shown(name)}"
                self.complaints.append((element, attribute, message))
        kept = tuple(each for each in declared if not each[0].startswith("-"))
        self.whole = self.whole and kept == declared
        return kept


def _is_foreign(space: str) -> bool:
    """Say whether a namespace means nothing to browsers."""
    return space != "" and not space.startswith(_OF_BROWSERS)


def _wrong_embedded(value: str) -> str | None:
    """Return what is wrong with what an image element shows, or None."""
    wanted = "wanted an embedded picture, data:image/png;base64,… or data:image/jpeg;base64,…"
    embedded = _EMBEDDED.match(value)
    if embedded is None:
        return f"{wanted}; found {shown(value)}"
    try:
        data = base64.b64decode("".join(value[embedded.end() :].split()), validate=True)
    except (binascii.Error, ValueError):
        return f"{wanted}; found one that cannot be decoded"
    if (found := kind_of(data)) != _KINDS[embedded[1]]:
        return f"wanted {_KINDS[embedded[1]]} as it says; found {found}"
    return wrong_bitmap(data)


def _declared(declared: tuple[tuple[str, str], ...]) -> str:
    return ";".join(f"{name}:{value}" for name, value in declared)


def _tag(element: SvgElement) -> str:
    """Return an element as it is called in a message."""
    return f"<{shown(element.name)}>"
