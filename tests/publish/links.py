"""Find links of a built site that lead nowhere."""

from functools import lru_cache
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit


class _Page(HTMLParser):
    def __init__(self, page: str) -> None:
        super().__init__()
        self.ids: set[str] = set()
        self.targets: list[tuple[str, str]] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        values = dict(attrs)
        if values.get("id"):
            self.ids.add(values["id"] or "")
        for name in ("href", "src"):
            if values.get(name) is not None:
                self.targets.append((tag, values[name] or ""))


@lru_cache(maxsize=2_000)
def _page(content: str) -> _Page:
    """Return what a page holds, which is read once for all that is asked of it."""
    return _Page(content)


def broken_links(site: Path) -> list[str]:
    """Return every relative link, picture, style and script of a site's pages whose target is missing."""
    pages = {path: _page(path.read_text("utf-8")) for path in sorted(site.rglob("*.html"))}
    by_place = {path.resolve(): page for path, page in pages.items()}
    broken = []
    for path, page in pages.items():
        for tag, target in page.targets:
            parts = urlsplit(target)
            if parts.scheme or parts.netloc:
                continue
            there = (path.parent / unquote(parts.path)).resolve() if parts.path else path.resolve()
            if there.is_dir():
                there /= "index.html"
            name = f"{path.relative_to(site)}: {tag} {target}"
            if not there.is_file() or (
                parts.fragment
                and there.suffix == ".html"
                and unquote(parts.fragment) not in by_place[there].ids
            ):
                broken.append(name)
    return broken


def asked_outside(site: Path) -> list[str]:
    """Return what a browser would load from elsewhere when it opens a page of a site."""
    loads = {"script", "link", "img", "iframe", "source", "video", "audio", "embed", "object"}
    found = []
    for path in sorted(site.rglob("*.html")):
        for tag, target in _page(path.read_text("utf-8")).targets:
            parts = urlsplit(target)
            if tag in loads and (parts.netloc or parts.scheme not in ("", "data")):
                found.append(f"{path.relative_to(site)}: {tag} {target}")
    return found
