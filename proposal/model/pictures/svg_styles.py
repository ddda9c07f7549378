"""Values and rules of style as a drawing may hold them: CSS Syntax Level 3, without all that could fetch.

What is taken is a subset in which every text means the same to any reader: no escapes, no rules that begin
with `@`, and no functions but colours, movements and references inside the drawing.
"""

import re
from collections.abc import Iterator

from proposal.field_classes import dataclass

_ID = r"[^\s\"'()\\<>&;,]+"
_REFERENCE = re.compile(rf"url\(\s*(?:\"\#({_ID})\"|'\#({_ID})'|\#({_ID}))\s*\)", re.IGNORECASE)
_GAP = re.compile(r"(?:\s++|/\*.*?\*/)++", re.DOTALL)
_PART = re.compile(
    rf"""
    /\*.*?\*/                                                   # a comment
    | {_REFERENCE.pattern}                                      # something in the drawing
    | (?:rgba?|hsla?|matrix|translate[xy]?|scale[xy]?|rotate|skew[xy]?|rect)\([0-9a-z.,%/+\-\s]*\)
    | "[^"\\\n\r\f]*" | '[^'\\\n\r\f]*'                         # a name in quotes
    | [+\-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:e[+\-]?[0-9]+)?(?:%|[a-z]+)?
    | -{{0,2}}[^\W\d][\w\-]*                                    # a word
    | \#[\w\-]+                                                 # a colour
    | !\s*important
    | [,/] | \s++
    """,
    re.IGNORECASE | re.DOTALL | re.VERBOSE,
)
_PROPERTY = re.compile(r"-{0,2}[a-z][a-z0-9\-]*", re.IGNORECASE)
_SELECTOR = re.compile(r"[\w.#*>,\s\-]+")
_NAME_OF_SELECTOR = re.compile(r"\*|[.#]?[\w\-]+")
_LONGEST_FOUND = 40


class StyleError(ValueError):
    """What was found that a style may not hold."""


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of a style sheet: for which elements, and what it says."""

    selector: str
    declarations: tuple[tuple[str, str], ...]

    def last_names(self) -> Iterator[str]:
        """Yield for each of its selectors one name that every element it selects has.

        The name is a class as `.class`, an `id` as `#id`, the name of an element, or `*`.
        """
        for one in self.selector.split(","):
            names = _NAME_OF_SELECTOR.findall(re.split(r"[\s>]+", one.strip())[-1])
            yield max(names, key=lambda name: name[:1] in (".", "#"), default="*")


def checked_value(value: str) -> str:
    """Return a value as it stands; raises StyleError with the part that a drawing may not hold."""
    if (end := _end_of_value(value, 0)) < len(value):
        raise _found(value, end)
    return value


def references(value: str) -> list[str]:
    """Return the `id` of each thing in the drawing that a value names."""
    return [next(name for name in found.groups() if name) for found in _REFERENCE.finditer(value)]


def declarations(text: str) -> tuple[tuple[str, str], ...]:
    """Return the properties, in small letters, and values of a `style` attribute; raises StyleError.

    text: value of the attribute.
    """
    found, end = _declarations(text, 0)
    if end < len(text):
        raise _found(text, end)
    return found


def rules(text: str) -> tuple[Rule, ...]:
    """Return the rules of a `style` element; raises StyleError.

    text: content of the element.
    """
    found: list[Rule] = []
    at = _after_gap(text, 0)
    while at < len(text):
        selector = _SELECTOR.match(text, at)
        if selector is None or text[selector.end() : selector.end() + 1] != "{":
            raise _found(text, at)
        said, at = _declarations(text, selector.end() + 1)
        if text[at : at + 1] != "}":
            raise _found(text, at)
        found.append(Rule(" ".join(selector[0].split()), said))
        at = _after_gap(text, at + 1)
    return tuple(found)


def _declarations(text: str, at: int) -> tuple[tuple[tuple[str, str], ...], int]:
    """Return declarations from a place on, and where they end: at a brace or at the end of the text."""
    found: list[tuple[str, str]] = []
    while True:
        at = _after_gap(text, at)
        if text[at : at + 1] == ";":
            at += 1
            continue
        if at == len(text) or text[at] == "}":
            return tuple(found), at
        name = _PROPERTY.match(text, at)
        colon = _after_gap(text, name.end()) if name else at
        if name is None or text[colon : colon + 1] != ":":
            raise _found(text, at)
        end = _end_of_value(text, colon + 1)
        if text[end : end + 1] not in ("", ";", "}"):
            raise _found(text, end)
        found.append((name[0].lower(), text[colon + 1 : end].strip()))
        at = end


def _end_of_value(text: str, at: int) -> int:
    while part := _PART.match(text, at):
        at = part.end()
    return at


def _after_gap(text: str, at: int) -> int:
    gap = _GAP.match(text, at)
    return gap.end() if gap else at


def _found(text: str, at: int) -> StyleError:
    rest = text[at : at + _LONGEST_FOUND + 1]
    return StyleError(rest if len(rest) <= _LONGEST_FOUND else rest[:_LONGEST_FOUND] + "…")
