"""Make Markdown and HTML from the project's own text without letting any of it come alive.

Three kinds of text reach a page. A *field* (a tag, a name, a remark) is data and every sign in it is
shown as it is: `text`. The author's own Markdown keeps its emphasis, lists and tables but nothing that
could run or ask the network: `prose`. What this module itself returns is ready: `Html`.

Large tables are written as ready HTML: the site builder copies it instead of parsing it, which halves
the time a proposal of many pages takes. A ready block must begin at the first column of a line and
have an empty line before and after it.
"""

import html
import re
import unicodedata
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from posixpath import normpath
from typing import TYPE_CHECKING
from urllib.parse import quote, urlsplit

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from markdown import Markdown


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
_LONGEST_TAG = 40
_SCHEMES = frozenset({"http", "https", "mailto"})


def plain(value: object) -> str:
    """Return a value as one line of visible characters.

    Line breaks, tabs and runs of spaces become one space, but for spaces that hold words together; control
    characters, lone surrogates and directional overrides are dropped.
    """
    # A break is a space before controls are dropped, so that two lines never grow together.
    folded = _SPACE.sub(" ", str(value))
    return "".join(sign for sign in folded if _visible(sign)).strip()


def _visible(sign: str) -> bool:
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
    return Html(html.escape(plain(value), quote=True))


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


def safe_href(href: str) -> str | None:
    """Return a link's target made harmless, or None where it must not be a link.

    Only `http`, `https`, `mailto` and paths relative to the page pass; a target hidden in entities or
    between control characters is judged as a browser would read it. A link to a page's Markdown
    (`rooms/a.md#seats`) becomes the link to the page.
    """
    target = href
    for _ in range(3):  # entities of entities
        target = html.unescape(target)
    target = "".join(sign for sign in target if not sign.isspace() and _visible(sign))
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
        path, rest = _split(target)
        target = f"{path.removesuffix('.md')}.html{rest}"
    # What Markdown or HTML could read as its own is written as bytes.
    return quote(target, safe="/:?#=&%@+,;!$~-._")


def _split(target: str) -> tuple[str, str]:
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


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table.

    title: its heading.  numeric: whether its figures stand right-aligned and sort by size.
    unit: shown small behind the heading.
    """

    title: str
    numeric: bool = False
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell whose order differs from its text, such as a length shown in feet and inches.

    content: what is shown, escaped unless it is `Html`.  order: what sorting compares, in one unit for
    the whole column.
    """

    content: object
    order: float | str


def table(
    caption: str,
    columns: Sequence[Column | str],
    rows: Iterable[Sequence[object]],
    *,
    row_ids: Sequence[str] | None = None,
    totals: Iterable[Sequence[object]] = (),
    row_heads: int = 1,
    marks: Sequence[Html | None] | None = None,
) -> Html:
    """Return a table as ready HTML in a region that scrolls by itself, a row a line.

    caption: says what the table shows.  columns: headings, a bare text being a column of words.
    rows: as many cells each as there are columns; a cell is any value, a `Cell` or `Html`; None is empty.
    row_ids: identities by which other pages link to a row (see `anchor`), one a row, "" for none.
    totals: rows below the others that never take part in sorting.
    row_heads: how many first cells name their row.
    marks: what stands behind the first cell of each row, such as a word that it changed; None for nothing.
    Raises ValueError where the number of cells, ids or marks is wrong.
    """
    heads = [Column(column) if isinstance(column, str) else column for column in columns]
    lines = [
        f'<div class="table-scroll" tabindex="0" role="region" aria-label="{html_text(caption)}">',
        '<table class="data">',
        f"<caption>{html_text(caption)}</caption>",
        "<thead><tr>" + "\n".join(map(_head, heads)) + "</tr></thead>",
        "<tbody>",
    ]
    ids = None if row_ids is None else iter(row_ids)
    marked = None if marks is None else iter(marks)
    for row in rows:
        identity = "" if ids is None else next(ids, None)
        if identity is None:
            raise ValueError(f"table {caption!r} has more rows than row ids")
        named = f' id="{html_text(anchor(identity))}"' if identity else ""
        mark = None if marked is None else next(marked)
        lines.append(f"<tr{named}>" + _cells(caption, heads, row, row_heads, mark) + "</tr>")
    if ids is not None and next(ids, None) is not None:
        raise ValueError(f"table {caption!r} has more row ids than rows")
    lines.append("</tbody>")
    foot = ["<tr>" + _cells(caption, heads, row, row_heads) + "</tr>" for row in totals]
    if foot:
        lines += ["<tfoot>", *foot, "</tfoot>"]
    return Html("\n".join([*lines, "</table>", "</div>"]))


def _head(column: Column) -> str:
    unit = f' <span class="unit">{html_text(column.unit)}</span>' if column.unit else ""
    kind = ' class="num" data-sort-method="number"' if column.numeric else ""
    return f'<th scope="col"{kind}>{html_text(column.title)}{unit}</th>'


def _cells(
    caption: str, columns: Sequence[Column], row: Sequence[object], row_heads: int, mark: Html | None = None
) -> str:
    if len(row) != len(columns):
        raise ValueError(f"table {caption!r} has {len(columns)} columns, a row has {len(row)} cells")
    # A space between cells keeps their words apart in the search index; a line's end would part a row in a
    # comparison of two builds.
    return " ".join(
        _cell(column, value, head=number < row_heads, mark=None if number else mark)
        for number, (column, value) in enumerate(zip(columns, row, strict=True))
    )


def _cell(column: Column, value: object, *, head: bool, mark: Html | None) -> str:
    order = ""
    if isinstance(value, Cell):
        order = f' data-sort="{html_text(value.order)}"'
        value = value.content
    shown = "" if value is None else html_text(value)
    kind = ' class="num"' if column.numeric else ' class="tag"' if _is_tag(value) else ""
    name, scope = ("th", ' scope="row"') if head else ("td", "")
    behind = f" {mark}" if mark else ""
    return f"<{name}{scope}{kind}{order}>{shown}{behind}</{name}>"


def _is_tag(value: object) -> bool:
    """Tell whether a cell holds a tag or an identity, which must not break at its hyphens."""
    return (
        isinstance(value, str)
        and not isinstance(value, Html)
        and bool(re.fullmatch(r"\S*[-/]\S*", value))
        and len(value) <= _LONGEST_TAG
    )


def facts(caption: str, pairs: Iterable[tuple[object, object]]) -> Html:
    """Return name and value pairs as a ready list of facts.

    caption: read out by screen readers, not shown.
    """
    lines = [f'<dl class="facts" aria-label="{html_text(caption)}">']
    lines += [f"<div><dt>{html_text(name)}</dt>\n<dd>{html_text(value)}</dd></div>" for name, value in pairs]
    return Html("\n".join([*lines, "</dl>"]))


def figure(
    src: str, alt: str, caption: object, long_description: object = "", *, size: tuple[int, int] | None = None
) -> Html:
    """Return a drawing or a photograph as ready HTML, opening in full size when chosen.

    src: path relative to the page.  alt: what the picture shows, in a sentence.
    long_description: all that a reader who cannot see it needs, folded away under the picture.
    size: width and height in pixels, so that the page does not jump while it loads.
    Raises ValueError for a source that is not a relative path.
    """
    target = safe_href(src)
    if target is None or urlsplit(target).scheme:
        raise ValueError(f"a figure's source must be a relative path, found {src!r}")
    source = html.escape(target, quote=True)
    space = f' width="{size[0]}" height="{size[1]}"' if size else ""
    lines = [
        '<figure class="drawing">',
        f'<div class="sheet" tabindex="0" role="region" aria-label="{html_text(alt)}">'
        f'<img src="{source}" alt="{html_text(alt)}"{space} loading="lazy"></div>',
        f"<figcaption>{html_text(caption)} "
        f'<a class="full-size" href="{source}">Open in full size</a></figcaption>',
    ]
    if long_description:
        lines.append(
            f"<details><summary>Description in words</summary><p>{html_text(long_description)}</p></details>"
        )
    return Html("\n".join([*lines, "</figure>"]))


# A status shows by its word and its sign; the colour only repeats it.
_SIGNS = {"good": "✓", "bad": "✕", "care": "▲", "info": "●", "open": "○"}
_STATUS = {
    "pass": "good",
    "good": "good",
    "ok": "good",
    "yes": "good",
    "fail": "bad",
    "error": "bad",
    "bad": "bad",
    "warning": "care",
    "care": "care",
    "note": "info",
    "info": "info",
    "accepted": "info",
}


def status(word: object, kind: str | None = None) -> Html:
    """Return a verdict as a chip of a sign and the word.

    kind: `good`, `bad`, `care`, `info` or `open`; found from the word where not given, `open` for a word
    that says none of them.
    """
    chosen = kind or _STATUS.get(plain(word).lower(), "open")
    return Html(
        f'<span class="status {chosen}"><span aria-hidden="true">{_SIGNS[chosen]}</span> {text(word)}</span>'
    )


_PROSE_TABLE = '<div class="table-scroll" tabindex="0" role="region" aria-label="Table"><table class="data">'


def prose(markdown: str, *, level: int = 2, base: str = "") -> Html:
    """Return the author's own Markdown as ready HTML in which nothing runs and nothing asks the network.

    Emphasis, lists, quotations, tables, links and pictures are kept. Raw HTML is shown as it was typed;
    a link that `safe_href` refuses becomes its label; a picture from elsewhere becomes its description.
    level: the level of the author's highest heading on the page, 1 to 6.
    base: what stands before relative targets, such as `../` on a page one folder down.
    """
    cleaned = "".join(
        sign
        for sign in markdown.replace("\u2028", " ").replace("\u2029", "\n")
        if sign in "\n\t" or _visible(sign)
    )
    # Python-Markdown takes a form feed or a lone return as a break; one kind of break is enough.
    converter = _converter()
    converter.reset()
    try:
        body = converter.convert(re.sub(r"\r\n?", "\n", cleaned))
    except RecursionError:  # nested beyond any sense: shown as it was typed
        body = f"<p>{html.escape(cleaned)}</p>"
    body = _shift_headings(body, level)
    body = body.replace("<table>", _PROSE_TABLE).replace("</table>", "</table></div>")
    body = body.replace("<th>", '<th scope="col">').replace("<th ", '<th scope="col" ')
    if base:
        body = re.sub(r'(<a href="|<img [^>]*?src=")([^"]*)', lambda found: _rebased(found, base), body)
    return Html(f'<div class="prose">\n{body}\n</div>')


def _shift_headings(body: str, level: int) -> str:
    found = [int(number) for number in re.findall(r"<h([1-6])>", body)]
    by = level - min(found) if found else 0
    return re.sub(r"<(/?)h([1-6])>", lambda mark: f"<{mark[1]}h{min(6, max(1, int(mark[2]) + by))}>", body)


def _rebased(found: re.Match[str], base: str) -> str:
    target = found[2]
    if target.startswith("#") or urlsplit(target).scheme:
        return found[0]
    path, rest = _split(target)
    return f"{found[1]}{normpath(base + path)}{rest}"


@lru_cache(maxsize=1)
def _converter() -> "Markdown":
    # Imported here: most commands never make a page.
    from markdown import Markdown
    from markdown.treeprocessors import Treeprocessor
    from markdown.util import AMP_SUBSTITUTE

    class Harmless(Treeprocessor):  # type: ignore[misc] # the library carries no types
        """Take away every target that is not allowed."""

        def run(self, root: "Element") -> None:
            for element in root.iter():
                for name in list(element.attrib):
                    if name not in ("href", "src", "alt", "title", "style"):
                        del element.attrib[name]
                if element.tag == "a":
                    _keep(element, "href", AMP_SUBSTITUTE, _any_target)
                elif element.tag == "img":
                    _keep(element, "src", AMP_SUBSTITUTE, _local_target)
                    if "src" not in element.attrib:
                        element.tag = "span"
                        element.text = element.attrib.pop("alt", "")

    converter = Markdown(extensions=["tables", "sane_lists"], output_format="html")
    converter.preprocessors.deregister("html_block")
    converter.inlinePatterns.deregister("html")
    # Last, so that it sees what every other step left.
    converter.treeprocessors.register(Harmless(converter), "harmless", -10)
    return converter


def _any_target(target: str) -> str | None:
    return safe_href(target)


def _local_target(target: str) -> str | None:
    safe = safe_href(target)
    return None if safe is None or urlsplit(safe).scheme else safe


def _keep(element: "Element", name: str, ampersand: str, judged: Callable[[str], str | None]) -> None:
    safe = judged(element.attrib.get(name, "").replace(ampersand, "&"))
    if safe is None:
        element.attrib.pop(name, None)
        if element.tag == "a":
            element.tag = "span"
            element.attrib.clear()
    else:
        # The serializer leaves what looks like an entity; none may be left to it.
        element.attrib[name] = safe.replace("&", "&amp;")
