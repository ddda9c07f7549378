"""The elements of an SVG file as an XML parser sees them, with the places where they stand.

No document type is read: who may declare entities can make a small file large, and a text something else.
"""

import re
from collections.abc import Iterator
from dataclasses import field
from xml.parsers import expat

from proposal.errors import Place, Problem
from proposal.field_classes import dataclass
from proposal.model.reading.text_files import place_at
from proposal.quantities.messages import shown

SVG = "http://www.w3.org/2000/svg"
XLINK = "http://www.w3.org/1999/xlink"
XML = "http://www.w3.org/XML/1998/namespace"
MOST_ELEMENTS = 50_000
DEEPEST = 100

# No character of an XML file: it parts the namespace of a name from the name.
_PARTING = "\f"
# The document types of SVG 1.0 and 1.1 as drawing programs write them. They say nothing that is needed.
_USUAL_DOCTYPE = re.compile(
    r"\A((?:<\?xml\s[^<>]*\?>)?(?:\s++|<!--(?:[^-]++|-[^-])*+-->)*+)"
    r"(<!DOCTYPE\s+svg\s+PUBLIC\s+([\"'])-//W3C//DTD SVG (?:1\.0|20010904|1\.1|1\.1 Basic|1\.1 Tiny)//EN\3"
    r"\s+([\"'])http://www\.w3\.org/[\w./-]*\4\s*>)"
)
_ATTRIBUTE = re.compile(r"\s+([^\s=/>]+)\s*=\s*(?:\"[^\"]*\"|'[^']*')")
_TAG_NAME = re.compile(r"<[^\s/>]+")


@dataclass(frozen=True, slots=True)
class SvgAttribute:
    """One attribute: its namespace, empty for none, its name and what stands in it."""

    space: str
    name: str
    value: str


@dataclass(frozen=True, slots=True)
class SvgElement:
    """One element, and what it holds in order: texts and elements.

    offset: where its tag begins, in bytes of UTF-8.
    """

    space: str
    name: str
    attributes: tuple[SvgAttribute, ...]
    offset: int
    content: "list[str | SvgElement]" = field(default_factory=list)

    def children(self) -> "Iterator[SvgElement]":
        """Yield the elements in it, not those in them."""
        return (one for one in self.content if isinstance(one, SvgElement))


@dataclass(frozen=True, slots=True)
class SvgTree:
    """A drawing as it was written.

    root: its outermost element.
    bare: whether the file holds nothing before, between and after its elements but texts: no document type,
        no comments.
    """

    file: str
    text: str
    root: SvgElement
    bare: bool

    def place(self, element: SvgElement, attribute: SvgAttribute | None = None) -> Place:
        """Return where an element stands, or one of its attributes."""
        data = self.text.encode("utf-8")
        start = len(data[: element.offset].decode("utf-8"))
        if attribute is not None:
            tag = _TAG_NAME.match(self.text, start)
            at = tag.end() if tag else start
            number = element.attributes.index(attribute)
            while written := _ATTRIBUTE.match(self.text, at):
                if not written[1].startswith("xmlns:") and written[1] != "xmlns":
                    if number == 0:
                        return place_at(self.text, written.start(1), self.file)
                    number -= 1
                at = written.end()
        return place_at(self.text, start, self.file)


class _RefusedError(Exception):
    """The parser met something for which no drawing is read further, at an offset in bytes."""

    def __init__(self, message: str, offset: int) -> None:
        super().__init__(message)
        self.offset = offset


def read_svg(text: str, file: str, problems: list[Problem]) -> SvgTree | None:
    """Return the elements of a drawing, or None after adding why it cannot be read.

    text: the file's, decoded as UTF-8 and without a byte order mark.
    """
    usual = _USUAL_DOCTYPE.match(text)
    # Blanks keep the places; and without a document type an unknown entity is an error to the parser.
    parsed = text if usual is None else usual[1] + re.sub(r"[^\n\r]", " ", usual[2]) + text[usual.end() :]
    reading = _Reading(parsed.encode("utf-8"))
    try:
        reading.run()
    except _RefusedError as refused:
        index = len(parsed.encode("utf-8")[: refused.offset].decode("utf-8"))
        problems.append(Problem(place_at(text, index, file), "", str(refused)))
        return None
    except expat.ExpatError as error:
        found = expat.ErrorString(error.code)
        message = f"wanted an SVG drawing in well-formed XML; found an error: {found}"
        problems.append(Problem(Place(file, error.lineno, error.offset + 1), "", message))
        return None
    assert reading.root is not None
    return SvgTree(file, text, reading.root, reading.bare and usual is None)


class _Reading:
    """A parser and what it has met."""

    def __init__(self, data: bytes) -> None:
        # The encoding is given: what the file declares does not change how its bytes are read.
        parser = expat.ParserCreate("utf-8", _PARTING)
        parser.ordered_attributes = True
        parser.buffer_text = True
        parser.SetParamEntityParsing(expat.XML_PARAM_ENTITY_PARSING_NEVER)
        parser.XmlDeclHandler = self._declaration
        parser.StartDoctypeDeclHandler = self._doctype
        parser.ProcessingInstructionHandler = self._instruction
        parser.CommentHandler = self._comment
        parser.StartElementHandler = self._start
        parser.EndElementHandler = self._end
        parser.CharacterDataHandler = self._characters
        self.parser = parser
        self._data = data
        self.root: SvgElement | None = None
        self.bare = True
        self._open: list[SvgElement] = []
        self._count = 0

    def run(self) -> None:
        """Read the whole file; raises _RefusedError, and ExpatError where it is not well formed."""
        self.parser.Parse(self._data, True)

    def _refuse(self, message: str) -> None:
        raise _RefusedError(message, self.parser.CurrentByteIndex)

    def _declaration(self, version: str, encoding: str | None, standalone: int) -> None:
        if encoding is not None and encoding.lower() != "utf-8":
            self._refuse(f"wanted a drawing in UTF-8; found {shown(encoding)} declared")

    def _doctype(self, name: str, system: str | None, public: str | None, internal: bool) -> None:
        # The parser stands somewhere inside of it.
        at = self._data.rfind(b"<!DOCTYPE", 0, self.parser.CurrentByteIndex + 1)
        raise _RefusedError("wanted a drawing without a document type; found <!DOCTYPE", at)

    def _instruction(self, target: str, data: str) -> None:
        self._refuse(f"wanted a drawing without instructions to other programs; found <?{shown(target)}")

    def _comment(self, text: str) -> None:
        self.bare = False

    def _start(self, name: str, attributes: list[str]) -> None:
        self._count += 1
        if self._count > MOST_ELEMENTS:
            self._refuse(f"wanted at most {MOST_ELEMENTS} elements; found more")
        if len(self._open) == DEEPEST:
            self._refuse(f"wanted elements at most {DEEPEST} deep in each other; found deeper ones")
        pairs = zip(attributes[::2], attributes[1::2], strict=True)
        element = SvgElement(
            *_parted(name),
            tuple(SvgAttribute(*_parted(each), value) for each, value in pairs),
            self.parser.CurrentByteIndex,
        )
        if self._open:
            self._open[-1].content.append(element)
        else:
            self.root = element
        self._open.append(element)

    def _end(self, name: str) -> None:
        self._open.pop()

    def _characters(self, text: str) -> None:
        self._open[-1].content.append(text)


def _parted(name: str) -> tuple[str, str]:
    """Return the namespace of a name, empty for none, and the name without it."""
    space, _, local = name.rpartition(_PARTING)
    return space, local
