"""The pages and lists that lead from one revision to another in a published folder.

```
published/
  index.html                 the editions, for the integrator
  published.json             digests of all files, and what made them (`published_list`)
  client/                    one edition: this folder can be handed over as it is
    index.html, latest/      lead to the revision issued last
    revisions.html           every revision with its downloads, for readers without scripts too
    versions.js              what the pages of all revisions read, so that old ones know of new ones
    versions.json            the same for tools that deploy documentation
    A/, B/ …                 the site of a revision, never changed once issued; its downloads in downloads/
```

All but the revisions' own folders and that list follows from the manifests and from it, and is written again
with every issue.
"""

import html
import json
from collections.abc import Collection, Mapping, Sequence
from pathlib import PurePosixPath
from urllib.parse import quote

from proposal.document.readers import READERS, Reader
from proposal.field_classes import dataclass
from proposal.pages.paths import DOWNLOADS
from proposal.publish.manifest import Manifest
from proposal.publish.revision_names import LATEST
from proposal.quantities import formatting

VERSIONS_LIST = "versions.json"
_TOP_FILES = (".gitignore", "index.html")
_EDITION_FILES = ("versions.js", VERSIONS_LIST, "revisions.html", "index.html", f"{LATEST}/index.html")
_KINDS = {
    ".ics": "the programme for calendar programs",
    ".pdf": "the whole proposal to print",
    ".json": "all that the proposal says, for other programs",
    ".xlsx": "all schedules in one workbook",
    ".zip": "all schedules as CSV files",
}
_STYLE = (
    "body{font:1.1rem/1.6 sans-serif;max-width:44rem;margin:2rem auto;padding:0 1rem;color:#1c2127}"
    "h1{font-size:1.6rem;line-height:1.25}li{margin:.4rem 0}ul ul{margin:.1rem 0 .6rem}a{color:#1f4f7a}"
)


@dataclass(frozen=True, slots=True)
class PublishedRevision:
    """A revision that lies in the published folder.

    manifest: of its record.  files: paths of what is published of it.
    """

    manifest: Manifest
    files: Collection[str]


def artifact_path(reader: Reader, revision: str, path: str) -> str:
    """Return where in the published folder a file of a revision's site lies.

    path: of the file in the site.
    """
    return f"{reader}/{revision}/{path}"


def surroundings(revisions: Sequence[PublishedRevision], titles: Mapping[Reader, str]) -> dict[str, bytes]:
    """Return the files that lead between revisions, by their path in the published folder.

    revisions: those that lie there, in the order of issue.
    titles: what each edition is called.
    """
    if not revisions:
        return {}
    manifests = [one.manifest for one in revisions]
    latest = manifests[-1]
    # What is published can be made again; git has the records.
    files: dict[str, str] = {".gitignore": "*\n", "index.html": _editions_page(latest, titles)}
    for reader in READERS:
        files[f"{reader}/versions.js"] = _versions_script(revisions, reader)
        files[f"{reader}/{VERSIONS_LIST}"] = _versions_list(manifests)
        files[f"{reader}/revisions.html"] = _revisions_page(revisions, reader, titles[reader])
        files[f"{reader}/index.html"] = _redirect(latest, f"{_quoted(latest.revision)}/index.html", "")
        files[f"{reader}/{LATEST}/index.html"] = _redirect(
            latest, f"../{_quoted(latest.revision)}/index.html", "../"
        )
    return {path: text.encode("utf-8") for path, text in files.items()}


def surrounding_paths() -> frozenset[str]:
    """Return the files that lead between revisions, by their path in the published folder."""
    return frozenset({*_TOP_FILES, *(f"{reader}/{name}" for reader in READERS for name in _EDITION_FILES)})


def pages_of_revision(one: PublishedRevision, reader: Reader) -> tuple[str, ...]:
    """Return the pages of a revision's site by their addresses within it."""
    start = artifact_path(reader, one.manifest.revision, "")
    return tuple(
        _quoted(path.removeprefix(start))
        for path in sorted(one.files)
        if path.startswith(start) and path.endswith(".html") and path != f"{start}404.html"
    )


def _versions_script(published: Sequence[PublishedRevision], reader: Reader) -> str:
    """Return the script that the pages load: pages once, and for each revision those that it is without."""
    pages_by_revision = {one.manifest.revision: pages_of_revision(one, reader) for one in published}
    pages = sorted({page for found in pages_by_revision.values() for page in found})
    revisions = [
        {
            "name": one.revision,
            "date": _issued(one),
            "purpose": one.purpose,
            "without": [
                number for number, page in enumerate(pages) if page not in pages_by_revision[one.revision]
            ],
        }
        for one in (each.manifest for each in reversed(published))
    ]
    # The text stands alone in a file of its own; the escape keeps it harmless wherever it is pasted.
    listed = ",\n".join(_script_json(revision) for revision in revisions)
    return f'proposalRevisions({{"pages":{_script_json(pages)},\n"revisions":[\n{listed}\n]}});\n'


def _issued(one: Manifest) -> str:
    """Return the date of a revision as people of its place write it."""
    return formatting.date(one.date, one.language if "_" in one.language else "en_GB")


def _script_json(value: object) -> str:
    return json.dumps(value, ensure_ascii=True, separators=(",", ":")).replace("<", "\\u003c")


def _versions_list(manifests: Sequence[Manifest]) -> str:
    """Return the list of versions as mike, which deploys documentation, keeps it."""
    latest = manifests[-1]
    versions = [
        {
            "version": one.revision,
            "title": f"{one.revision}, {one.purpose}" if one.purpose else one.revision,
            "aliases": [LATEST] if one is latest else [],
        }
        for one in reversed(manifests)
    ]
    return json.dumps(versions, indent=1, ensure_ascii=False) + "\n"


def _revisions_page(revisions: Sequence[PublishedRevision], reader: Reader, title: str) -> str:
    latest = revisions[-1].manifest
    entries = []
    for each in reversed(revisions):
        one = each.manifest
        words = f"Revision {one.revision}, {_issued(one)}"
        words += f", {one.purpose}" if one.purpose else ""
        said = " (latest)" if one is latest else " (superseded)"
        said += ", issued with errors that are not resolved" if one.with_errors else ""
        entries.append(
            f'<li><a href="{_quoted(one.revision)}/index.html">{html.escape(words)}</a>{said}\n'
            f"<ul>\n{_downloads(each, reader)}\n</ul>\n</li>"
        )
    listed = "\n".join(entries)
    heading = html.escape(latest.project)
    body = (
        f"<h1>{heading}</h1>\n<p>{html.escape(title)}: all revisions, the latest first.</p>\n"
        f"<ul>\n{listed}\n</ul>"
    )
    return _page(f"Revisions · {latest.project}", body)


def _downloads(one: PublishedRevision, reader: Reader) -> str:
    start = artifact_path(reader, one.manifest.revision, f"{DOWNLOADS}/")
    paths = sorted(path for path in one.files if path.startswith(start))
    return "\n".join(
        f'<li><a href="{_quoted(path.removeprefix(f"{reader}/"))}" download>'
        f"{html.escape(path.removeprefix(start))}</a>, {_KINDS.get(PurePosixPath(path).suffix, '')}</li>"
        for path in paths
    )


def _editions_page(latest: Manifest, titles: Mapping[Reader, str]) -> str:
    listed = "\n".join(
        f'<li><a href="{reader}/{_quoted(latest.revision)}/index.html">{html.escape(titles[reader])}</a>, '
        f'<a href="{reader}/revisions.html">all its revisions</a></li>'
        for reader in READERS
    )
    heading = html.escape(latest.project)
    body = (
        f"<h1>{heading}</h1>\n<p>Issued revisions, the latest {html.escape(latest.revision)}. Each folder "
        f"beside this page is one edition and can be handed over as it is.</p>\n<ul>\n{listed}\n</ul>"
    )
    return _page(f"Editions · {latest.project}", body)


def _redirect(latest: Manifest, target: str, up: str) -> str:
    body = (
        f"<h1>{html.escape(latest.project)}</h1>\n"
        f'<p><a href="{target}">Revision {html.escape(latest.revision)}</a> is the latest; '
        f'<a href="{up}revisions.html">all revisions</a>.</p>'
    )
    refresh = f'<meta http-equiv="refresh" content="0; url={target}">\n'
    return _page(latest.project, body, refresh)


def _page(title: str, body: str, head: str = "") -> str:
    # The words are English whatever the language of the proposal's own labels.
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta name="viewport" content="width=device-width,initial-scale=1">\n{head}'
        f"<title>{html.escape(title)}</title>\n<style>{_STYLE}</style>\n</head>\n<body>\n<main>\n"
        f"{body}\n</main>\n</body>\n</html>\n"
    )


def _quoted(path: str) -> str:
    return quote(path, safe="/")
