"""Turn the author's own Markdown into HTML in which nothing runs and nothing asks the network."""

import html
import re
from collections.abc import Callable
from functools import lru_cache
from posixpath import normpath
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from proposal.pages.markdown import Html, safe_href, split_target, visible

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from markdown import Markdown

_PROSE_TABLE = '<div class="table-scroll" tabindex="0" role="region" aria-label="Table"><table class="data">'


def prose(markdown: str, *, level: int = 2, base: str = "") -> Html:
    """Return the author's own Markdown as ready HTML in which nothing runs and nothing asks the network.

    markdown: as the author wrote it.
    Emphasis, lists, quotations, tables, links and pictures are kept. Raw HTML is shown as it was typed;
    a link that `safe_href` refuses becomes its label; a picture from elsewhere becomes its description.
    level: the level of the author's highest heading on the page, 1 to 6.
    base: what stands before relative targets, such as `../` on a page one folder down.
    """
    cleaned = "".join(
        sign
        for sign in markdown.replace("\u2028", " ").replace("\u2029", "\n")
        if sign in "\n\t" or visible(sign)
    )
    # Python-Markdown takes a form feed or a lone return as a break; one kind of break is enough.
    converter = _converter()
    converter.reset()
    try:
        body = converter.convert(re.sub(r"\r\n?", "\n", cleaned))
    except RecursionError:  # nested too deeply: shown as it was typed
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
    path, rest = split_target(target)
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
