"""What an edition on paper is made of: the pages, drawings and pictures of its site."""

import base64
import html
import re
from collections.abc import Iterator, Mapping
from functools import lru_cache

import yaml

from proposal.model.pictures.bitmap import pixels_of
from proposal.pages.drawing_pages import Drawing
from proposal.paper.paper_edition import PaperPage, PaperSource, SheetDrawing
from proposal.publish.branding import brand_palette
from proposal.publish.ready_html import ready_html_at_once
from proposal.publish.site import Navigation, SiteSource
from proposal.publish.state_notices import notices, state_in_words
from proposal.quantities.sheet_sizes import sheets_for
from proposal.resources import resource

_FONT_FACE = re.compile(r"@font-face\s*\{[^}]*\}")
_BARS = re.compile(r"(?m)^\.md-typeset svg\.bars ?([\w. ]*?) ?\{([^}]*)\}")
_VARIABLE = re.compile(r"var\((--[\w-]+)[^)]*\)")
_STANDS_FOR = {"--ink": "#1c2127", "--md-text-font-family": "Arimo"}
"""What stands for the variables of a page in a drawing alone."""
_KINDS = {".png": "image/png", ".jpg": "image/jpeg", ".jpeg": "image/jpeg"}


def paper_source(site: SiteSource, drawings: Mapping[str, Drawing], locale: str, units: str) -> PaperSource:
    """Return what an edition on paper is made of.

    site: what its site is made of, with all pages and files.
    drawings: by the path of their page.
    locale, units: of the project, which decide what it is printed on.
    """
    colours = brand_palette(site.colour)
    with ready_html_at_once():
        read = {path: _html(page) for path, page in site.pages.items()}
    files = {page: f"drawings/{drawing.file}" for page, drawing in drawings.items()}
    return PaperSource(
        title=site.title,
        short_title=site.short_title,
        author=site.footer,
        language=site.language,
        date=site.date.isoformat(),
        colour=colours.brand,
        ink=colours.ink,
        foot=(site.footer, f"Revision {site.revision}, {site.issued}, {state_in_words(site)}"),
        notices=notices(site),
        sheets=sheets_for(locale, units),
        pages=tuple(
            PaperPage(path, level, groups, read[path], files.get(path, ""))
            for path, level, groups in _placed(site.nav)
        ),
        drawings={
            files[page]: SheetDrawing(
                _FONT_FACE.sub("", site.files[files[page]].decode("utf-8")),
                f"{drawing.alternative}. {drawing.description}",
            )
            for page, drawing in drawings.items()
        },
        pictures={
            path: _as_svg(path, content) for path, content in site.files.items() if path.startswith("images/")
        },
        bars=_style_of_bars(),
    )


def _placed(
    nav: Navigation, level: int = 1, groups: tuple[tuple[int, str], ...] = ()
) -> Iterator[tuple[str, int, tuple[tuple[int, str], ...]]]:
    """Yield the pages in order, each with its level and the titles above it that it is the first below."""
    for n, (title, entry) in enumerate(nav):
        above = groups if n == 0 else ()
        if isinstance(entry, str):
            yield entry, level, above
        else:
            yield from _placed(entry, level + 1, (*above, (level, title)))


def _html(markdown: str) -> str:
    """Return what the site shows of a page, read as the site builder reads it."""
    from markdown import Markdown

    names, settings = _extensions()
    return str(Markdown(extensions=names, extension_configs=settings).convert(markdown))


@lru_cache(maxsize=1)
def _extensions() -> tuple[list[str], dict[str, dict[str, object]]]:
    """Return what the site builder adds to Markdown, always and by the settings of all sites."""
    listed = yaml.load(resource("mkdocs.yml").read_text("utf-8"), Loader=yaml.CSafeLoader)
    settings: dict[str, dict[str, object]] = {"toc": {}, "tables": {}, "fenced_code": {}}
    for one in listed["markdown_extensions"]:
        settings |= {one: {}} if isinstance(one, str) else one
    return list(settings), settings


@lru_cache(maxsize=1)
def _style_of_bars() -> str:
    """Return what the style sheet of all sites says of bars, for a drawing that stands alone."""
    style = (resource("shared") / "site/theme/assets/proposal/proposal.css").read_text("utf-8")
    return "".join(
        f"{of or 'svg'}{{{_VARIABLE.sub(lambda name: _STANDS_FOR.get(name[1], 'inherit'), said)}}}"
        for of, said in _BARS.findall(style)
    )


def _as_svg(path: str, content: bytes) -> str:
    """Return a picture as SVG; a photograph stands in one as it is."""
    kind = _KINDS.get(path[path.rfind(".") :].lower())
    if kind is None:
        return content.decode("utf-8")
    width, height = pixels_of(content)
    held = base64.b64encode(content).decode("ascii")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" '
        f'viewBox="0 0 {width} {height}"><image width="{width}" height="{height}" '
        f'href="data:{html.escape(kind)};base64,{held}"/></svg>'
    )
