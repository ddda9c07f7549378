"""Pages and sites of several editions, made in several processes where that is worth while.

The first is made here, which shows how long it takes; what is left is shared out, the longest first.
"""

import threading
from collections.abc import Callable, Mapping, Sequence
from contextlib import ExitStack
from functools import partial
from time import process_time

from proposal.document.readers import Reader
from proposal.editions import Edition
from proposal.pages.downloads import Download
from proposal.publish.cache import Cache
from proposal.publish.edition_site import edition_source
from proposal.publish.files import make_folder, remove
from proposal.publish.folder_replacement import replacing
from proposal.publish.processors import processors
from proposal.publish.program_folders import OwnPath
from proposal.publish.shared_work import Workers, shared_out
from proposal.publish.site import SiteSource, place_site, write_site

# Another process loads the program first, which only longer work than this repays. How long pages take is
# taken from the first edition, in which drawings are a larger part than in the others.
SITES_ALONE_S, PAGES_ALONE_S = 3.0, 9.0

Say = Callable[[str], None]
Used = frozenset[str]
"""Keys of what another process has used of the cache."""


def made_sources(
    editions: Mapping[Reader, Edition],
    images: Mapping[str, bytes],
    cache: Cache,
    progress: Say,
    titles: Mapping[Reader, str],
    downloads: Sequence[Download],
    workers: Workers,
) -> Mapping[Reader, SiteSource]:
    """Return what the site of each edition is made of, its pages and drawings, by reader.

    editions: by reader, one at least.
    images: the project's own, by path.
    cache: keeps what was drawn.
    progress: told in a few words what is being done.
    titles: what each edition is called.
    downloads: files that each is handed over with.
    workers: begun here where that is worth while.
    Raises what `edition_source` raises.
    """

    def here(reader: Reader) -> SiteSource:
        progress(f"{titles[reader]}: pages and drawings")
        return edition_source(editions[reader], images, cache, progress, downloads=downloads)

    def asked(reader: Reader) -> Callable[[], tuple[SiteSource, Used]]:
        return partial(_source, editions[reader], dict(images), cache.folder, tuple(downloads))

    def received(answer: tuple[SiteSource, Used]) -> SiteSource:
        made, used = answer
        cache.add_used(used)
        return made

    sizes = {reader: len(edition.document.model_dump_json()) for reader, edition in editions.items()}
    first, *left = editions
    begun = process_time()
    made = {first: here(first)}
    still_s = (process_time() - begun) / sizes[first] * sum(sizes[reader] for reader in left)
    if still_s > PAGES_ALONE_S:
        _begin(workers, len(left))
    left = sorted(left, key=lambda reader: -sizes[reader])
    made |= shared_out(left, workers, here, asked, received)
    return {reader: made[reader] for reader in editions}


def _source(
    edition: Edition, images: Mapping[str, bytes], kept: OwnPath, downloads: Sequence[Download]
) -> tuple[SiteSource, Used]:
    """Return what a site is made of, in another process."""
    cache = Cache(kept)
    return edition_source(edition, images, cache, downloads=downloads), cache.used()


def _begin(workers: Workers, left: int) -> None:
    """Begin as many other processes as there are processors, where so many things are left."""
    workers.begin(min(processors(), left) - 1 - len(workers.running))


def place_sites(
    sources: Mapping[OwnPath, SiteSource],
    cache: Cache,
    progress: Say,
    titles: Mapping[OwnPath, str],
    workers: Workers,
) -> None:
    """Make sites and put each into its folder, in the place of what stood there.

    sources: what each is made of, by its folder.
    cache: keeps what was made of pages.
    progress: told in a few words what is being done.
    titles: what each is called.
    workers: those that run help; more are begun where that is worth while.
    Raises what `place_site` raises.
    """
    pages = {folder: len(source.pages) for folder, source in sources.items()}
    lock = threading.Lock()
    begun: dict[OwnPath, OwnPath] = {}

    with ExitStack() as replaced:

        def here(folder: OwnPath) -> Sequence[str]:
            progress(f"{titles[folder]}: site")
            if folder not in begun:
                place_site(sources[folder], folder, progress=progress, cache=cache)
                return ()
            # Another process has begun it in vain.
            new = begun[folder]
            remove(new)
            make_folder(new)
            write_site(sources[folder], new, progress=progress, cache=cache)
            return ()

        def asked(folder: OwnPath) -> Callable[[], tuple[list[str], Used]]:
            with lock:
                begun[folder] = replaced.enter_context(replacing(folder))
            return partial(_written, sources[folder], begun[folder], cache.folder)

        def received(answer: tuple[list[str], Used]) -> Sequence[str]:
            complaints, used = answer
            cache.add_used(used)
            return complaints

        left = list(sources)
        if not workers.running:
            first = left.pop(0)
            since = process_time()
            here(first)
            each_s = (process_time() - since) / max(pages[first], 1)
            if each_s * sum(pages[folder] for folder in left) > SITES_ALONE_S:
                _begin(workers, len(left))
        left.sort(key=lambda folder: -pages[folder])
        for complaints in shared_out(left, workers, here, asked, received).values():
            for complaint in complaints:
                progress(complaint)


def _written(source: SiteSource, folder: OwnPath, kept: OwnPath) -> tuple[list[str], Used]:
    """Write a site into an empty folder, in another process; return what was complained about."""
    cache = Cache(kept)
    complaints: list[str] = []
    write_site(source, folder, progress=complaints.append, cache=cache)
    return complaints, cache.used()
