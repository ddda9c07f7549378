"""One page of a site as the site builder makes it, without the rest of the site."""

import io
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from proposal.publish.cache import Cache
from proposal.publish.site import (
    BRAND_CSS,
    SiteSource,
    at_work,
    configuration_of,
    own_css,
)
from proposal.resources import resource


class OnePageSite:
    """A site of which single pages are made when they are asked for.

    Each is what the whole site would hold, byte for byte. Complaints of the site builder are left to the
    build of the whole.
    """

    def __init__(
        self, source: SiteSource, pages: Iterable[str], files: Iterable[str], cache: Cache | None
    ) -> None:
        """Take what the site is made of.

        source: all but its pages and files.
        pages, files: paths of the Markdown and of the files that the site would be made of.
        cache: keeps what was made of pages.
        """
        self._source, self._cache = source, cache
        self._pages, self._files = tuple(pages), (*files, BRAND_CSS)
        self._site: tuple[Any, Any, Any, Any] | None = None

    def html(self, path: str, markdown: str) -> bytes:
        """Return a page of the site.

        path: of its Markdown, one of `pages`.
        markdown: its source.
        """
        with at_work(self._source.date, self._cache):
            from mkdocs.commands.build import get_context

            config, env, files, nav = self._prepared()
            file = files.get_file_from_path(path)
            file.content_string = markdown
            page = file.page
            plugins = config.plugins
            config._current_page = page
            try:
                page = plugins.on_pre_page(page, config=config, files=files)
                page.read_source(config)
                page.markdown = plugins.on_page_markdown(page.markdown, page=page, config=config, files=files)
                page.render(config, files)
                page.content = plugins.on_page_content(page.content, page=page, config=config, files=files)
                page.active = True
                context = get_context(nav, files.documentation_pages(), config, page)
                template = env.get_template(page.meta.get("template", "main.html"))
                context = plugins.on_page_context(context, page=page, config=config, nav=nav)
                output: str = plugins.on_post_page(template.render(context), page=page, config=config)
            finally:
                page.active = False
                config._current_page = None
        return output.encode("utf-8", errors="xmlcharrefreplace")

    def theme_file(self, path: str) -> bytes | None:
        """Return a file that the theme brings, or the colours of the client; None where there is none.

        path: in the site, of plain parts alone.
        """
        if path == BRAND_CSS:
            return own_css(self._source).encode("utf-8")
        with at_work(self._source.date, None):
            config = self._prepared()[0]
        for place in config.theme.dirs:
            file = Path(place, *path.split("/"))
            if path.startswith("assets/") and file.is_file():
                return file.read_bytes()
        return None

    def _prepared(self) -> tuple[Any, Any, Any, Any]:
        """Return settings, environment of templates, files and contents of the site."""
        if self._site is None:
            from mkdocs.config import load_config
            from mkdocs.structure.files import File, Files, set_exclusions
            from mkdocs.structure.nav import get_navigation

            # Nothing is read from the folder of the Markdown, which only has to be there.
            settings = _Settings(configuration_of(self._source, str(resource("templates"))).encode("utf-8"))
            config = load_config(settings)
            config = config.plugins.on_config(config)
            config.plugins.on_pre_build(config=config)
            files = Files([File.generated(config, one, content="") for one in (*self._pages, *self._files)])
            env = config.theme.get_env()
            files.add_files_from_theme(env, config)
            files = config.plugins.on_files(files, config=config)
            set_exclusions(files, config)
            nav = config.plugins.on_nav(get_navigation(files, config), config=config, files=files)
            env = config.plugins.on_env(env, config=config, files=files)
            self._site = config, env, files, nav
        return self._site


class _Settings(io.BytesIO):
    """Settings that lie in no file."""

    @property
    def name(self) -> str:
        """Return the path that other paths among the settings are taken from."""
        return str(resource("mkdocs.yml"))
