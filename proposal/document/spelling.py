"""How a place spells the words of pages and drawings, and measures that words hold.

Words are spelled by the table of words (`places` in shared/wording/words.yaml), lengths and weights in
descriptions by the project's units. What people wrote of the project itself stays as they wrote it.
"""

import html
import re
from collections.abc import Callable, Iterable, Mapping

from proposal.document.author_texts import author_texts
from proposal.document.document import Document
from proposal.quantities.customary import feet, inches
from proposal.quantities.spellings import HYPHEN, Spellings

_SECTION = "spellings."
_FOOT_M, _INCH_MM, _POUND_KG = 0.3048, 25.4, 0.45359237
_POINT = r"(?:\.|&#46;)"
_PART_OF_WORDS = (HYPHEN, "&#40;", "&#41;", "&#46;", "&nbsp;")
"""Entities that stand within words and measures."""
_MEASURE = re.compile(
    rf"(?<![\w.;&#])(\d+(?:{_POINT}\d+)?)( |\u00a0|&nbsp;)(mm|m|kg)\b(?![²³/·])"
    r"(?: (?:\(|&#40;)([\d,. a-z]*(?:ft|in|lb))(?:\)|&#41;))?"
)
"""A measure, and the same in customary units where it stands in parentheses behind it."""
# What of a page is no text: tags, where links lead, attributes in braces, entities, code.
_NOT_TEXT = re.compile(r"<[^>]*>|\]\([^)]*\)|\{[:#][^}]*\}|\{ #[^}]*\}|&#?\w+;|`[^`]*`")
_LABEL = re.compile(r'( aria-label=")([^"]+)')
_NOTHING = re.compile(r"(?!)")
_OPENS, _MASK = re.compile("\ue000"), re.compile("\ue000(\\d+)\ue001")
_TAG = re.compile(r"<style.*?</style>|<[^>]*>", re.DOTALL)


class Spelling:
    """The spelling of one document."""

    def __init__(self, words: Mapping[str, str], kept: Iterable[str] = (), *, feet: bool = False) -> None:
        """Take words by how they are spelled elsewhere.

        words: as the table of words has them, by keys such as `spellings.storey`.
        kept: texts that stay as they are.
        feet: whether lengths in texts are told in feet and inches.
        """
        own = {key.removeprefix(_SECTION): text for key, text in words.items() if key.startswith(_SECTION)}
        self._own = own
        self._words = Spellings(own)
        self._any = bool(own) or feet
        self._feet = feet
        self._kept = tuple(
            sorted({one for one in kept if self._changes(one)}, key=lambda one: (-len(one), one))
        )

    @classmethod
    def of(cls, document: Document) -> "Spelling":
        """Return the spelling of a document: by its locale and units, with what people wrote kept."""
        feet = document.cover.units == "us_customary"
        if not feet and not any(key.startswith(_SECTION) for key in document.words):
            return cls({})
        return cls(document.words, author_texts(document), feet=feet)

    @property
    def told(self) -> tuple[Mapping[str, str], tuple[str, ...], bool]:
        """All that it follows from: words by how they are spelled elsewhere, texts kept, whether in feet."""
        return self._own, self._kept, self._feet

    @property
    def changes_words(self) -> bool:
        """Whether any word is spelled otherwise, or any length told in feet."""
        return self._any

    def plain(self, said: str) -> str:
        """Return a text without markup as it is spelled here.

        said: the text.
        """
        return self._outside(_NOTHING, said, self._kept)

    def page(self, markdown: str, ready: Callable[[str], str]) -> str:
        """Return a page's Markdown as it is spelled here: its text, not its tags and links.

        markdown: of the page.
        ready: makes a text as it stands on a page, so that what is kept is known there.
        """
        kept = [*map(ready, self._kept), *self._kept]
        spelled = self._outside(_NOT_TEXT, markdown, kept, _in_markup)
        if not self._any:
            return spelled
        # What a screen reader says of a table stands inside a tag.
        return _LABEL.sub(
            lambda one: f"{one[1]}{self._outside(_NOT_TEXT, one[2], kept, _in_markup)}", spelled
        )

    def drawing(self, svg: str, ready: Callable[[str], str]) -> str:
        """Return a drawing as it is spelled here.

        svg: the drawing.
        ready: makes a text as it stands in a drawing.
        """
        return self._outside(_TAG, svg, [*map(ready, self._kept), *self._kept], _in_markup)

    def _changes(self, said: str) -> bool:
        return self._words.holds(said) or (self._feet and _MEASURE.search(said) is not None)

    def _outside(
        self,
        markup: "re.Pattern[str]",
        said: str,
        kept: Iterable[str],
        pattern: Callable[[str], str] = re.escape,
    ) -> str:
        if not self._any:
            return said
        masked: list[str] = []

        def mask(found: "re.Match[str]") -> str:
            masked.append(found[0])
            return f"\ue000{len(masked) - 1}\ue001"

        said = _OPENS.sub(mask, said)
        written = "|".join(dict.fromkeys(map(pattern, kept)))
        if written:
            said = re.sub(rf"(?<!\w)(?:{written})(?!\w)", mask, said)
        said = self._measured(markup.sub(lambda one: one[0] if one[0] in _PART_OF_WORDS else mask(one), said))
        said = self._words.spelled(said)

        def unmasked(held: str) -> str:
            return _MASK.sub(lambda one: unmasked(masked[int(one[1])]), held)

        return unmasked(said)

    def _measured(self, said: str) -> str:
        return _MEASURE.sub(_in_feet, said) if self._feet else said


def _in_markup(said: str) -> str:
    """Return the pattern of a text of which signs may stand as their entities."""
    return "".join(_sign(one) for one in said)


def _sign(one: str) -> str:
    if one.isalnum() or one.isspace() or not one.isascii():
        return re.escape(one)
    ways = dict.fromkeys((one, html.escape(one), f"&#{ord(one)};", f"&#x{ord(one):x};"))
    return f"(?:{'|'.join(map(re.escape, ways))})"


def _in_feet(found: "re.Match[str]") -> str:
    if found[4]:
        return str(found[4])
    value, space = float(found[1].replace("&#46;", ".")), found[2]
    if found[3] == "kg":
        return f"{value / _POUND_KG:.1f}".removesuffix(".0") + f"{space}lb"
    if found[3] == "mm":
        return f"{inches(value / _INCH_MM)}{space}in"
    return feet(value / _FOOT_M).replace(" ", space)
