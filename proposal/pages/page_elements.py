"""Write the smaller elements of a page as ready HTML: lists of facts, figures and verdicts."""

import html
from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType
from urllib.parse import urlsplit

from proposal.pages.markdown import Html, html_text, plain, safe_href, text

NO_CHARTS: Mapping[str, tuple[int, int]] = MappingProxyType({})
_WINDOWS: Mapping[str, str] = MappingProxyType(
    {"narrow": "screen and (max-width: 47.984375em)", "page": "screen"}
)


def facts(caption: str, pairs: Iterable[tuple[object, object]]) -> Html:
    """Return name and value pairs as a ready list of facts.

    caption: read out by screen readers, not shown.
    """
    lines = [f'<dl class="facts" aria-label="{html_text(caption)}">']
    lines += [f"<div><dt>{html_text(name)}</dt>\n<dd>{html_text(value)}</dd></div>" for name, value in pairs]
    return Html("\n".join([*lines, "</dl>"]))


def figure(
    src: str,
    alt: str,
    caption: object,
    long_description: object = "",
    *,
    size: tuple[int, int] | None = None,
    charts: Mapping[str, tuple[int, int]] = NO_CHARTS,
) -> Html:
    """Return a drawing or a photograph as ready HTML, opening in full size when chosen.

    caption: printed under the picture.
    src: path relative to the page.  alt: what the picture shows, in a sentence.
    long_description: all that a reader who cannot see it needs, folded away under the picture.
    size: width and height in pixels, so that the page does not jump while it loads.
    charts: files beside it that screens show for their width, what their names end in with their sizes.
    Raises ValueError for a source that is not a relative path.
    """
    target = safe_href(src)
    if target is None or urlsplit(target).scheme:
        raise ValueError(f"a figure's source must be a relative path, found {src!r}")
    source = html.escape(target, quote=True)
    space = f' width="{size[0]}" height="{size[1]}"' if size else ""
    shown = f'<img src="{source}" alt="{html_text(alt)}"{space} loading="lazy">'
    if charts:
        shown = f"<picture>{''.join(_sources(source, charts))}{shown}</picture>"
    lines = [
        f'<figure class="drawing{" chart" if charts else ""}">',
        f'<div class="sheet" tabindex="0" role="region" aria-label="{html_text(alt)}">{shown}</div>',
        f"<figcaption>{html_text(caption)} "
        f'<a class="full-size" href="{source}">Open in full size</a></figcaption>',
    ]
    if long_description:
        lines.append(
            f"<details><summary>Description in words</summary><p>{html_text(long_description)}</p></details>"
        )
    return Html("\n".join([*lines, "</figure>"]))


def _sources(source: str, charts: Mapping[str, tuple[int, int]]) -> Iterator[str]:
    """Yield where a screen finds a chart for its width, the narrowest first; the full size stays the sheet's.

    source: address of the sheet.
    """
    stem = source.removesuffix(".svg")
    for ending, window in _WINDOWS.items():
        if ending in charts:
            width, height = charts[ending]
            yield (
                f'<source media="{window}" srcset="{stem}-{ending}.svg" width="{width}" height="{height}">'
            )


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


def note_box(title: str, note: str) -> Html | None:
    """Return a note of the house in a box of its own, as ready HTML; None where there is none.

    title: heading of the box.
    note: as it was typed.
    """
    if not plain(note):
        return None
    return Html(
        '<div class="admonition internal">\n'
        f'<p class="admonition-title">{text(title)}</p>\n<p>{text(note)}</p>\n</div>'
    )
