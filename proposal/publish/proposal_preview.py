"""The preview of a proposal: pages that are looked at at once, then the site, then what takes longest."""

from collections.abc import Callable
from pathlib import Path

from proposal.document.document import Document
from proposal.document.making.document import alternate_row, document_of
from proposal.document.readers import Reader
from proposal.document.rows.alternates import Sensitivity
from proposal.document.whole_proposal import OpenAlternate, Proposal
from proposal.model.source import ProjectSource
from proposal.pipeline import Computed
from proposal.publish.cache import Cache
from proposal.publish.compute_proposal import known_sensitivity
from proposal.publish.earlier_issue import Earlier, last_issue
from proposal.publish.edition_site import EditionSite
from proposal.publish.kept_plans import radio_plans_kept
from proposal.publish.one_page import OnePageSite
from proposal.publish.preview import Making
from proposal.publish.program_folders import own_folders
from proposal.publish.proposal_site import NO_MARK, finished, made_proposal, place_editions, proposal_editions

_REST_PENDING = "Alternates and the rest of the site are still being computed."
_PRICE_PENDING = "What moves the price is still being computed."


class ProposalPreview:
    """What a preview shows of one project, in the order in which it is known."""

    def __init__(
        self,
        folder: Path,
        library: Path | None,
        reader: Reader,
        read: Callable[[], tuple[ProjectSource, Computed]],
    ) -> None:
        """Take what is shown.

        folder: the project folder.
        library: folder of a company's own library, as the call names it.
        reader: whose edition.
        read: reads the project and computes its base; raises InputError.
        """
        self._folder, self._library, self._reader, self._read = folder, library, reader, read
        self._last: Proposal | None = None

    def rebuild(self, making: Making) -> None:
        """Make the site again: pages that are looked at first, what moves the price last.

        making: of the preview that shows it.
        Raises InputError and BuildError; the site of the former build then stays.
        """
        with radio_plans_kept(self._folder):
            self._rebuild(making)

    def _rebuild(self, making: Making) -> None:
        source, computed = self._read()
        earlier = last_issue(self._folder, self._library)
        base = document_of(computed, (self._reader,))
        cache = Cache(own_folders(self._folder).build / "cache")
        is_house = self._reader == "estimator"
        moved = known_sensitivity(source, computed, cache) if is_house else None
        ahead = self._ahead(source, finished(base, NO_MARK, earlier), moved)
        making.say_pending(_REST_PENDING)
        making.show_ahead(self._contents(ahead, computed, cache, earlier))
        self._build(making, source, computed, base, earlier, sensitivity=moved is not None)
        if is_house and moved is None:
            making.say_pending(_PRICE_PENDING)
            self._build(making, source, computed, base, earlier, sensitivity=True)

    def _ahead(self, source: ProjectSource, base: Document, moved: Sensitivity | None) -> Proposal:
        """Return the proposal with what is known already: alternates as they were before."""
        last = self._last
        return Proposal(
            document=base,
            alternates=tuple(
                OpenAlternate(
                    row=alternate_row(one.row.key, source.base.alternates[one.row.key], one.row.not_offered),
                    document=one.document,
                )
                for one in (last.alternates if last is not None else ())
                if one.row.key in source.open
            ),
            combinations=tuple(
                row
                for row in (last.combinations if last is not None else ())
                if set(row.chosen) <= set(source.open)
            ),
            sensitivity=moved,
        )

    def _contents(
        self, proposal: Proposal, computed: Computed, cache: Cache, earlier: Earlier | None
    ) -> Callable[[str], bytes | None]:
        """Return what gives the content of a path of the site before it is made."""
        editions = proposal_editions(proposal, (self._reader,), lambda _: None, earlier)
        site = EditionSite(editions[self._reader], computed.project.images, cache)
        planned = site.planned
        pages = OnePageSite(site.without_contents(), planned.views, site.files, cache)

        def contents(path: str) -> bytes | None:
            page = f"{path.removesuffix('.html')}.md"
            if path.endswith(".html"):
                return pages.html(page, site.page(page)) if page in planned.views else None
            return site.file(path) or pages.theme_file(path)

        return contents

    def _build(
        self,
        making: Making,
        source: ProjectSource,
        computed: Computed,
        base: Document,
        earlier: Earlier | None,
        *,
        sensitivity: bool,
    ) -> None:
        cache = Cache(own_folders(self._folder).build / "cache")

        def progress(said: str) -> None:
            if said.startswith("what moves the price"):
                making.say_pending(f"{_PRICE_PENDING} ({said})")
            making.pause()

        readers = (self._reader,)
        self._last = made_proposal(
            source, computed, cache, readers, progress, NO_MARK, earlier, sensitivity=sensitivity, base=base
        )
        editions = proposal_editions(self._last, readers, progress, earlier)
        place_editions(editions, computed.project.images, self._folder, progress)
