"""Files that an edition is handed over with, told on the pages that they belong to."""

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, TypeAlias

from proposal.pages import paths
from proposal.pages.markdown import Html, join
from proposal.pages.page_context import PageContext

Download: TypeAlias = Literal["paper", "workbook", "tables", "labels"]
Downloads: TypeAlias = Mapping[Download, str]
"""Path in the site of each file that there is."""

NO_DOWNLOADS: Downloads = MappingProxyType({})

_LABELS: Mapping[Download, str] = {
    "paper": "The whole proposal as one PDF, to print",
    "workbook": "All schedules as one workbook (XLSX)",
    "tables": "All schedules as tables (CSV in a ZIP archive)",
    "labels": "Labels for a label printer (CSV)",
}
_ALL: tuple[Download, ...] = ("paper", "workbook", "tables")
_SCHEDULES: tuple[Download, ...] = ("workbook", "tables")
_OF_PAGES: Mapping[str, tuple[Download, ...]] = {
    paths.COVER: _ALL,
    paths.PRICE: ("workbook",),
    paths.BUILD_UP: ("workbook",),
    paths.LABELS: ("labels",),
    **dict.fromkeys(
        (
            paths.CABLE_SCHEDULE,
            paths.DEVICES,
            paths.EQUIPMENT,
            paths.LABOUR,
            paths.LABOUR_LINES,
            paths.NETWORK,
            paths.REELS,
            paths.ROOMS,
            paths.TAKEOFF,
        ),
        _SCHEDULES,
    ),
}
"""What belongs to each page, in order."""


def downloads_of(here: PageContext, downloads: Downloads) -> Html | None:
    """Return links to the files that belong to a page, None where it has none.

    downloads: of the edition.
    """
    wanted = [one for one in _OF_PAGES.get(here.path, ()) if one in downloads]
    return join((here.to(downloads[one], _LABELS[one]) for one in wanted), " · ") if wanted else None


def with_downloads(page: str, links: Html | None) -> str:
    """Return the Markdown of a page with links below its title; a page without a title stays as it is.

    page: Markdown.  links: to the files that belong to it, None where there are none.
    """
    title = re.search(r"^# .*\n", page, re.MULTILINE)
    if links is None or title is None:
        return page
    return f'{page[: title.end()]}\n<p class="download">{links}</p>\n{page[title.end() :]}'
