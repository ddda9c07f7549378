"""Make the browsable site of one edition from its Markdown."""

import calendar
import datetime
import html
import io
import logging
import os
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from functools import partial
from importlib.util import find_spec
from pathlib import Path, PurePosixPath
from typing import TypeAlias

import yaml

from proposal.errors import BuildError, PartError, printable
from proposal.field_classes import dataclass
from proposal.publish.branding import Palette, brand_palette
from proposal.publish.cache import Cache
from proposal.publish.files import replace, write_all, write_new
from proposal.publish.folder_replacement import replacing
from proposal.publish.page_cache import pages_kept
from proposal.publish.print_css import print_css
from proposal.publish.program_folders import FILE, OwnPath
from proposal.publish.project_lock import exclusive
from proposal.publish.state_notices import notices, state_in_words
from proposal.publish.theme_templates import templates_compiled_once
from proposal.quantities import formatting
from proposal.resources import resource

Navigation: TypeAlias = "tuple[tuple[str, str | Navigation], ...]"

BRAND_CSS = "assets/proposal/brand.css"
"""Path of the client's colours in a site."""
_REVISIONS_SCRIPT = "assets/proposal/revisions.js"


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteSource:
    """What the site of one edition is made of.

    Texts are plain, not escaped.

    title: the whole name of the proposal.  short_title: for the head of every page.
    language: two letters, as in `en`.  locale: as whose people dates are written.
    nav: titles with the path of a page, or with the entries below it.
    pages: path of a page, such as `rooms/chamber.md`, and its Markdown.  `index.md` is the cover.
    files: path of a drawing, an image or a download, and its bytes.
    colour: the client's, as `#rrggbb`.  logo: path among the files, or None.
    revision, date: as issued; the date is the only one that any file carries.
    draft: whether every page says that it is not issued.  purpose: what the revision is for.
    with_errors: whether every page says that it was issued with errors.
    rebuilt: what made it again, and before, where other versions did; every page says so.
    footer: a line under every page.
    licences: what the link to the licences of fonts and scripts is called.
    paper: A4 or letter, on which pages are printed.
    beside: whether the site lies in a published folder, beside those of other revisions: every page then
        leads to them.
    """

    title: str
    short_title: str
    language: str = "en"
    locale: str = "en_GB"
    nav: Navigation
    pages: Mapping[str, str]
    files: Mapping[str, bytes]
    colour: str
    logo: str | None = None
    revision: str
    draft: bool
    purpose: str
    date: datetime.date
    with_errors: bool = False
    rebuilt: str = ""
    footer: str = ""
    licences: str = "Licences of fonts and scripts"
    paper: str = "A4"
    beside: bool = False

    @property
    def issued(self) -> str:
        """The date as people of the place write it, which stands on every page."""
        return formatting.date(self.date, self.locale)


def build_site(
    source: SiteSource,
    folder: OwnPath,
    *,
    progress: Callable[[str], None] | None = None,
    cache: Cache | None = None,
) -> Path:
    """Write the Markdown and the site of one edition into a folder, alone there, and return the page to open.

    progress: told in a few words what is being done.
    cache: keeps what was made of pages; None where nothing is to be kept.
    The parameters are those of `place_site`, which is called while no other run builds beside the folder.
    Raises BuildError where another run does, and what `place_site` raises.
    """
    with exclusive(folder.above):
        return place_site(source, folder, progress=progress, cache=cache)


def place_site(
    source: SiteSource,
    folder: OwnPath,
    *,
    progress: Callable[[str], None] | None = None,
    cache: Cache | None = None,
) -> Path:
    """Write the Markdown and the site of one edition into a folder and return the page to open.

    folder: gets `markdown/`, `site/` and the `mkdocs.yml` that makes one of the other; what stood there
    before is replaced when the new site is complete, and stays where it could not be made.
    progress: told in a few words what is being done.
    cache: keeps what was made of pages; None where nothing is to be kept.
    Raises BuildError where paths clash or leave the site, or where it cannot be written, PartError where the
    site builder fails, and InputError where a link lies there.
    """
    _check(source)
    with replacing(folder) as new:
        write_site(source, new, progress=progress, cache=cache)
    return (folder / "site/index.html").path


def write_site(
    source: SiteSource,
    folder: OwnPath,
    *,
    progress: Callable[[str], None] | None = None,
    cache: Cache | None = None,
) -> None:
    """Write the Markdown and the site of one edition into an empty folder.

    folder: gets `markdown/`, `site/` and the `mkdocs.yml` that makes one of the other.
    progress: told in a few words what is being done.
    cache: keeps what was made of pages; None where nothing is to be kept.
    Raises BuildError where paths clash or leave the site, or where it cannot be written, and PartError where
    the site builder fails.
    """
    say = progress or (lambda _: None)
    _check(source)
    say(f"writing {len(source.pages)} pages and {len(source.files)} files")
    _write_markdown(source, folder / "markdown")
    write_new(folder / "mkdocs.yml", configuration_of(source).encode("utf-8"))
    between = partial(say, "making the site")
    for complaint in _run_mkdocs((folder / "mkdocs.yml").path, source.date, cache, between):
        say(complaint)


def write_front_page(build: OwnPath, editions: Mapping[str, str], title: str, language: str = "en") -> Path:
    """Write the page of a build folder that leads to the editions built there, and return it.

    title: heading of the page.
    language: of the page, as HTML names it.
    editions: name of the edition's folder and what to call it; with one, the page goes there by itself.
    """
    shown = {
        name: label for name, label in editions.items() if (build / name / "site/index.html").kind() == FILE
    }
    jump = ""
    if len(shown) == 1:
        jump = f'<meta http-equiv="refresh" content="0; url={next(iter(shown))}/site/index.html">\n'
    links = "\n".join(
        f'<li><a href="{html.escape(name)}/site/index.html">{html.escape(label)}</a></li>'
        for name, label in shown.items()
    )
    page = build / "index.html"
    text = (
        f'<!doctype html>\n<html lang="{html.escape(language)}">\n<head>\n<meta charset="utf-8">\n'
        f'<meta name="viewport" content="width=device-width,initial-scale=1">\n{jump}'
        f"<title>{html.escape(title)}</title>\n"
        "<style>body{font:1.1rem/1.6 sans-serif;max-width:34rem;margin:3rem auto;padding:0 1rem}</style>\n"
        f"</head>\n<body>\n<main>\n<h1>{html.escape(title)}</h1>\n<ul>\n{links}\n</ul>\n</main>\n</body>\n</html>\n"
    )
    replace(page, text.encode("utf-8"), build / ".part")
    return page.path


def _check(source: SiteSource) -> None:
    seen: dict[str, str] = {}
    for path in [*source.pages, *source.files, BRAND_CSS]:
        parts = PurePosixPath(path)
        if (
            parts.is_absolute()
            or ".." in parts.parts
            or "\\" in path
            or path != str(parts)
            or not parts.parts
        ):
            raise BuildError(f"a file of the site would lie outside it: {path}")
        published = str(parts.with_suffix(".html")) if path in source.pages else path
        # Two names that differ in capitals alone are one file on many systems.
        other = seen.setdefault(published.casefold(), path)
        if other != path:
            raise BuildError(f"two files of the site would have one name: {other} and {path}")
    if "index.md" not in source.pages:
        raise BuildError("the site has no cover, index.md")
    if source.logo is not None and source.logo not in source.files:
        raise BuildError(f"the logo is not among the files of the site: {source.logo}")
    for page in _paths(source.nav):
        if page not in source.pages:
            raise BuildError(f"the contents name a page that is missing: {page}")


def _paths(nav: Navigation) -> Iterator[str]:
    for _, target in nav:
        if isinstance(target, str):
            yield target
        else:
            yield from _paths(target)


def _write_markdown(source: SiteSource, folder: OwnPath) -> None:
    write_all(folder, {path: page.encode("utf-8") for path, page in source.pages.items()})
    write_all(folder, source.files)
    write_new(folder / BRAND_CSS, own_css(source).encode("utf-8"))


def own_css(source: SiteSource) -> str:
    """Return the style sheet of a site's own: the client's colours, and what stands on printed pages."""
    printed = print_css(source.short_title, source.revision, source.issued, source.paper)
    return _colours(brand_palette(source.colour)) + printed


def _colours(palette: Palette) -> str:
    page = ':root, [data-md-color-scheme="default"]'
    return (
        f"{page} {{\n"
        f"  --brand: {palette.brand};\n  --brand-ink: {palette.ink};\n"
        f"  --on-brand: {palette.on_brand};\n  --brand-tint: {palette.tint};\n}}\n"
        "@media screen and (prefers-color-scheme: dark) {\n"
        f"  {page} {{ --brand-ink: {palette.dark_ink}; --brand-tint: {palette.dark_tint}; }}\n}}\n"
    )


def configuration_of(source: SiteSource, markdown: str = "markdown") -> str:
    """Return the settings of a site as the site builder reads them.

    markdown: folder of its pages.
    """
    return yaml.safe_dump(_settings(source, markdown), sort_keys=False, allow_unicode=True)


def _settings(source: SiteSource, markdown: str) -> dict[str, object]:
    common = resource("mkdocs.yml")
    stylesheets = _common_list(common, "extra_css")
    scripts = _common_list(common, "extra_javascript")
    theme: dict[str, object] = {
        # A relative path would be taken from the generated file, not from the one that is inherited.
        "custom_dir": str(resource("shared") / "site" / "theme"),
        "language": source.language if _speaks(source.language) else "en",
    }
    if source.logo is not None:
        theme["logo"] = source.logo
    return {
        "INHERIT": str(common),
        # The theme writes these names as they stand.
        "site_name": html.escape(source.short_title),
        "site_description": html.escape(source.title),
        "docs_dir": markdown,
        "site_dir": "site",
        "exclude_docs": "",
        "theme": theme,
        "extra_css": [*stylesheets, BRAND_CSS],
        "extra_javascript": [*scripts, *([_REVISIONS_SCRIPT] if source.beside else [])],
        "extra": {
            "proposal": {
                "title": source.title,
                "revision": source.revision,
                "date": source.date.isoformat(),
                "issued": source.issued,
                "purpose": source.purpose,
                "notices": [list(notice) for notice in notices(source)],
                "state": state_in_words(source),
                "footer": source.footer,
                "licences": source.licences,
                "beside": source.beside,
            }
        },
        "nav": _nav(source.nav),
    }


def _nav(nav: Navigation) -> list[dict[str, object]]:
    return [
        {html.escape(title): target if isinstance(target, str) else _nav(target)} for title, target in nav
    ]


def _common_list(config: Path, key: str) -> list[str]:
    values = yaml.load(config.read_text("utf-8"), Loader=yaml.CSafeLoader)[key]
    return [str(value) for value in values]


def _speaks(language: str) -> bool:
    theme = find_spec("material")
    places = theme.submodule_search_locations if theme is not None else None
    return language.isalpha() and any(
        (Path(place) / "templates" / "partials" / "languages" / f"{language}.html").is_file()
        for place in places or ()
    )


def _run_mkdocs(
    config: Path, date: datetime.date, cache: Cache | None, between: Callable[[], None]
) -> list[str]:
    """Run the site builder and return what it complained about."""
    between()
    with at_work(date, cache, between) as complaints:
        from mkdocs.commands.build import build
        from mkdocs.config import load_config
        from mkdocs.exceptions import MkDocsException

        try:
            build(load_config(config_file=str(config)))
        except OSError as error:
            where = printable(str(error.filename or config.parent))
            raise BuildError(f"{where}: the site could not be made: {error.strerror or error}") from error
        except (MkDocsException, SystemExit) as error:
            said = [*complaints.getvalue().splitlines(), f"the site could not be made: {error}"]
            raise PartError("\n".join(said)) from error
    return complaints.getvalue().splitlines()


@contextmanager
def at_work(
    date: datetime.date, cache: Cache | None, between: Callable[[], None] = lambda: None
) -> Iterator[io.StringIO]:
    """Prepare the site builder for work, until the block ends; give what gets its complaints.

    date: the only one that any file of the site carries.
    cache: keeps what was made of pages; None where nothing is to be kept.
    between: called before each page, where a cache is given.
    """
    # The theme would print an announcement of its makers' at import.
    os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")
    # 1970-01-01 itself is a date that the site builder does not take.
    seconds = max(calendar.timegm(date.timetuple()), 1)
    with (
        _environment("SOURCE_DATE_EPOCH", str(seconds)),
        _listening() as complaints,
        pages_kept(cache, between),
        templates_compiled_once(),
    ):
        yield complaints


@contextmanager
def _environment(name: str, value: str) -> Iterator[None]:
    before = os.environ.get(name)
    os.environ[name] = value
    try:
        yield
    finally:
        if before is None:
            del os.environ[name]
        else:
            os.environ[name] = before


@contextmanager
def _listening() -> Iterator[io.StringIO]:
    """Gather what the site builder would print; what listened before hears nothing meanwhile."""
    said = io.StringIO()
    handler = logging.StreamHandler(said)
    handler.setLevel(logging.WARNING)
    logger = logging.getLogger("mkdocs")
    propagate, handlers = logger.propagate, logger.handlers
    logger.propagate, logger.handlers = False, [handler]
    try:
        yield said
    finally:
        logger.propagate, logger.handlers = propagate, handlers
