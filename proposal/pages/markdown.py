"""Escape the project's own text for pages, so that none of it acts as Markdown or HTML, and make safe links.

Three kinds of text reach a page. A *field* (a tag, a name, a remark) is data and every character of it is
shown as it is: `text`. The author's own Markdown keeps its emphasis, lists and tables but nothing that
could run or ask the network: `author_prose.prose`. What these modules return is ready: `Html`.

Tables, figures and lists of facts are written as ready HTML: the site builder copies it instead of parsing
it, which halves the time a proposal of many pages takes. A ready block must begin at the first column of a
line and have an empty line before and after it.
"""

import html
import re
import unicodedata
from collections.abc import Iterable
from functools import lru_cache
from urllib.parse import quote, urlsplit


class Html(str):
    """Text that is ready for a page: already escaped, never to be escaped again."""

    __slots__ = ()

    def __html__(self) -> str:
        """Return the text as template engines ask for it."""
        return str(self)


# Spaces at which a line does not break hold an amount together with its currency: they stay.
_SPACE = re.compile(r"(?:[^\S\u00a0\u202f]|[\u2028\u2029\x00\x85])+")
_PUNCTUATION = {ord(sign): f"&#{ord(sign)};" for sign in "!\"#$%&'()*+,-./:;<=>?@[\\]^_`{|}~"}
# Directional overrides can show a reader another text than the one that is there.
_DIRECTION = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_SCHEMES = frozenset({"http", "https", "mailto"})


def plain(value: object) -> str:
    """Return a value as one line of visible characters.

    Line breaks, tabs and runs of spaces become one space, but for spaces that hold words together; control
    characters, lone surrogates and directional overrides are dropped.
    """
    return _one_line(str(value))


@lru_cache(maxsize=65_536)
def _one_line(written: str) -> str:
    # A break is a space before controls are dropped, so that two lines never grow together.
    folded = _SPACE.sub(" ", written)
    if folded.isascii() and folded.isprintable():  # nearly all text; the rest is looked at sign by sign
        return folded.strip()
    return "".join(sign for sign in folded if visible(sign)).strip()


def visible(sign: str) -> bool:
    """Return whether a character is shown, and does not turn the direction of what follows.

    sign: one character.
    """
    return unicodedata.category(sign) not in ("Cc", "Cs") and sign not in _DIRECTION


def text(value: object) -> Html:
    """Return a field's value for a paragraph, heading or cell of Markdown, every sign shown as it is.

    Every ASCII punctuation sign becomes a numeric entity, so nothing is Markdown and nothing is HTML.
    Not for code spans or fences, where entities would be read as they stand. `Html` passes unchanged.
    """
    if isinstance(value, Html):
        return value
    return Html(plain(value).translate(_PUNCTUATION))


def html_text(value: object) -> Html:
    """Return a field's value for use inside a ready HTML block, where Markdown is not read.

    Shorter and easier to compare than `text`, and safe there alone.
    """
    if isinstance(value, Html):
        return value
    return _escaped(str(value))


@lru_cache(maxsize=65_536)
def _escaped(written: str) -> Html:
    return Html(html.escape(_one_line(written), quote=True))


def join(parts: Iterable[object], separator: str = "") -> Html:
    """Return the parts, each escaped as `text` does unless it is ready, with a ready separator."""
    return Html(separator.join(text(part) for part in parts))


def anchor(identity: str) -> str:
    """Return the id of a tag or a cable identity for links into a page.

    Different identities never give the same id: letters, digits and `-` stay, `/` becomes `_`, any other
    sign its number between dots.
    """
    return "".join(
        sign
        if sign == "-" or (sign.isascii() and sign.isalnum())
        else "_"
        if sign == "/"
        else f".{ord(sign):x}."
        for sign in plain(identity)
    )


@lru_cache(maxsize=65_536)
def safe_href(href: str) -> str | None:
    """Return a link's target made harmless, or None where it must not be a link.

    href: as it was typed.
    Only `http`, `https`, `mailto` and paths relative to the page pass; a target hidden in entities or
    between control characters is judged as a browser would read it. A link to a page's Markdown
    (`rooms/a.md#seats`) becomes the link to the page.
    """
    target = href
    for _ in range(3):  # entities of entities
        target = html.unescape(target)
    target = "".join(sign for sign in target if not sign.isspace() and visible(sign))
    if not target or "\\" in target or target.startswith("/"):
        return None
    try:
        parts = urlsplit(target)
    except ValueError:
        return None
    if parts.scheme or ":" in target.split("/", 1)[0].split("#", 1)[0].split("?", 1)[0]:
        if parts.scheme.lower() not in _SCHEMES:
            return None
        if parts.scheme.lower() != "mailto" and not parts.netloc:
            return None
    elif parts.path.endswith(".md"):
        path, rest = split_target(target)
        target = f"{path.removesuffix('.md')}.html{rest}"
    # What Markdown or HTML could read as its own is written as bytes.
    return quote(target, safe="/:?#=&%@+,;!$~-._")


def split_target(target: str) -> tuple[str, str]:
    """Return the path of a target, and its query and fragment."""
    end = min((target.index(sign) for sign in "?#" if sign in target), default=len(target))
    return target[:end], target[end:]


def link(label: object, href: str) -> Html:
    """Return a link that works in Markdown and in ready HTML, or the label alone where it is not allowed.

    href: as `safe_href` takes it, relative to the page it stands on.
    """
    target = safe_href(href)
    shown = text(label)
    if target is None:
        return shown
    return Html(f'<a href="{html.escape(target, quote=True)}">{shown}</a>')
