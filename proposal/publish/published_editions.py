"""What a revision is published as, made from a source alone: the same bytes for the same source."""

import hashlib
import sys
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import lru_cache
from importlib.metadata import version
from pathlib import Path

from proposal import __version__
from proposal.document.document import Document
from proposal.document.readers import READERS, Reader
from proposal.editions import Edition
from proposal.exports.label_file import LABEL_FILE
from proposal.pages.paths import DOWNLOADS
from proposal.publish.archive import archive
from proposal.publish.cache import Cache
from proposal.publish.edition_site import download_files, edition_source, name_of
from proposal.publish.export_files import exported
from proposal.publish.files import move, remove, write_all
from proposal.publish.graph_program import engine_version
from proposal.publish.manifest import digest_of
from proposal.publish.program_folders import OwnPath
from proposal.publish.proposal_site import EDITION_TITLES
from proposal.publish.record import files_below
from proposal.publish.site import SiteSource, write_site
from proposal.resources import resource

_LIBRARIES = (
    "babel",
    "graphviz",
    "graphviz-pure",
    "highspy",
    "jinja2",
    "markdown",
    "matplotlib",
    "mkdocs",
    "mkdocs-material",
    "networkx",
    "numpy",
    "pydantic",
    "pyyaml",
    "segno",
    "shapely",
    "typst",
    "xlsxwriter",
)


@lru_cache(maxsize=1)
def _own_code() -> str:
    """Return a digest of our own code, page templates and look of a site, short."""
    told = hashlib.sha256()
    package = Path(__file__).resolve().parent.parent
    templates, look = resource("templates"), resource("shared") / "site"
    kinds = ((package, "*.py"), (templates, "*.jinja"), (templates, "*.typ"), (look, "*"))
    for folder, names in kinds:
        for path in sorted(folder.rglob(names)):
            if path.is_file():
                told.update(path.relative_to(folder).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    told.update(resource("mkdocs.yml").read_bytes())
    return told.hexdigest()[:12]


def versions() -> dict[str, str]:
    """Return the versions of everything that a revision is made with."""
    found = {"proposal": __version__, "proposal code": _own_code()}
    found["python"] = ".".join(map(str, sys.version_info[:3]))
    found |= {name: version(name) for name in _LIBRARIES}
    return found | {"graph program": engine_version()}


def write_artifacts(
    editions: Mapping[Reader, Edition],
    images: Mapping[str, bytes],
    cache: Cache,
    folder: OwnPath,
    progress: Callable[[str], None],
) -> Mapping[str, str]:
    """Write the site and the downloads of every edition into a folder, an edition a folder.

    progress: told in a few words what is being done.
    editions: of all readers.
    images: the project's images by file name.
    folder: where to write; it has none of them yet.
    Returns the digest of each file, by its path in the published folder.
    """
    digests: dict[str, str] = {}
    for reader in READERS:
        edition = editions[reader]
        progress(f"{EDITION_TITLES[reader]}: pages and drawings")
        made = edition_source(edition, images, cache, progress, downloads=tuple(download_files(edition)))
        source = replace(made, beside=True)
        progress(f"{EDITION_TITLES[reader]}: site and downloads")
        _write_edition(source, downloads(edition), folder, reader, cache, progress)
        revision = edition.document.cover.revision.identity
        for path, file in files_below((folder / reader).path).items():
            digests[f"{reader}/{revision}/{path}"] = digest_of(file.read_bytes())
    return digests


def _write_edition(
    source: SiteSource,
    extra: Mapping[str, bytes],
    folder: OwnPath,
    reader: Reader,
    cache: Cache,
    progress: Callable[[str], None],
) -> None:
    work = folder / f".{reader}"
    write_site(source, work, progress=progress, cache=cache)
    write_all(work / "site" / DOWNLOADS, extra)
    move(work / "site", folder / reader)
    remove(work)


def downloads(edition: Edition) -> dict[str, bytes]:
    """Return the files that an edition is handed over with, by name."""
    document: Document = edition.document
    names, tables = download_files(edition), exported(edition, "csv")
    files = {
        names["workbook"]: exported(edition, "xlsx")[""],
        names["tables"]: archive(tables),
        name_of(edition, "document", "json"): exported(edition, "json")[""],
    }
    if document.programme is not None:
        files[name_of(edition, "programme", "ics")] = exported(edition, "ics")[""]
    if "labels" in names:
        files[names["labels"]] = tables[LABEL_FILE]
    return files
