"""What stands above the Markdown of a page: how the search finds it, and whether it takes the whole width."""

import re
from collections.abc import Sequence

import yaml

from proposal.publish.search_words import found_by

_HEADS = re.compile(r"<thead><tr>(.*?)</tr></thead>", re.DOTALL)
_WIDE = 8
"""Columns above which a schedule takes the place of the table of contents."""


def with_settings(path: str, markdown: str, words: Sequence[str] = ()) -> str:
    """Return a page's Markdown with its settings.

    path: of the page.
    markdown: its source, which has no settings of its own.
    words: by which it is found besides those of all pages of its kind.
    """
    found = found_by(path)
    tags = [*found.words, *words]
    settings: dict[str, object] = {"search": {"boost": found.boost}, **({"tags": tags} if tags else {})}
    if _is_wide(markdown):
        settings["hide"] = ["toc"]
    return f"---\n{yaml.safe_dump(settings, allow_unicode=True)}---\n\n{markdown}"


def _is_wide(markdown: str) -> bool:
    return any(head.count("<th ") > _WIDE for head in _HEADS.findall(markdown))
