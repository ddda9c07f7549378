"""Fill templates with view models; a text that is not escaped for the page is refused."""

from collections.abc import Mapping
from functools import lru_cache
from typing import ClassVar, Protocol

from jinja2 import DictLoader, Environment, StrictUndefined, Undefined

from proposal.pages.markdown import Html


class View(Protocol):
    """What a template shows: a frozen dataclass whose texts are all ready, and the template's name."""

    template: ClassVar[str]


def _ready(value: object) -> object:
    """Return a value that may stand on a page.

    Raises TypeError for a text that nobody escaped: a mistake in a view model must not reach a reader.
    """
    if isinstance(value, Html | Undefined):
        return value
    raise TypeError(f"wanted text made ready for a page; found {type(value).__name__}: {value!r:.60}")


@lru_cache(maxsize=4)
def _environment(texts: frozenset[tuple[str, str]]) -> Environment:
    """Return the environment of some templates, compiled once: every edition has the same."""
    # Pages are Markdown: what comes from a project is escaped for it in the view models, see `markdown`.
    return Environment(
        loader=DictLoader(dict(texts)),
        undefined=StrictUndefined,
        autoescape=False,  # noqa: S701 - escaped for Markdown, not HTML
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_ready,
    )


class Templates:
    """The templates of all pages, read once."""

    def __init__(self, texts: Mapping[str, str]) -> None:
        """Take the templates.

        texts: file name, such as `cover.md.jinja`, and its text.
        """
        self.texts = dict(texts)
        """The templates by file name."""
        self._environment = _environment(frozenset(texts.items()))

    def page(self, view: View) -> str:
        """Return a page's Markdown.

        Raises jinja2.TemplateError for a template that is missing or asks for what the view has not got.
        """
        text = self._environment.get_template(view.template).render(page=view)
        return "\n".join(line.rstrip() for line in text.strip().splitlines()) + "\n"
