"""Make the browsable site of one edition from its Markdown."""

import datetime
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

Navigation: TypeAlias = "tuple[tuple[str, str | Navigation], ...]"


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteSource:
    """What the site of one edition is made of.

    Texts are plain, not escaped.

    title: the whole name of the proposal.  short_title: for the head of every page.
    language: two letters, as in `en`.
    nav: titles with the path of a page, or with the entries below it.
    pages: path of a page, such as `rooms/chamber.md`, and its Markdown.  `index.md` is the cover.
    files: path of a drawing, an image or a download, and its bytes.
    colour: the client's, as `#rrggbb`.  logo: path among the files, or None.
    revision, date: as issued; the date is the only one that any file carries.
    draft: whether every page says that it is not issued.  purpose: what the revision is for.
    footer: a line under every page.
    """

    title: str
    short_title: str
    language: str = "en"
    nav: Navigation
    pages: Mapping[str, str]
    files: Mapping[str, bytes]
    colour: str
    logo: str | None = None
    revision: str
    draft: bool
    purpose: str
    date: datetime.date
    footer: str = ""


def build_site(source: SiteSource, folder: Path, *, progress: Callable[[str], None] | None = None) -> Path:
    """Write the Markdown and the site of one edition below a folder and return the page to open."""
    raise NotImplementedError
