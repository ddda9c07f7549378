"""The drawings of an edition: each known by what its sheet reads, and drawn when it is asked for."""

import html
import re
from collections.abc import Callable, Iterator, Mapping
from functools import cached_property
from typing import TYPE_CHECKING

from proposal.document.rows.sheets import SheetRow
from proposal.document.spelling import Spelling
from proposal.drawings.drawing import Drawing as Told
from proposal.drawings.kinds import drawing_of, kind_called
from proposal.drawings.page_chart import PAGE_WIDTHS_MM
from proposal.editions import Edition
from proposal.pages.drawing_pages import Drawing, sheets_of
from proposal.publish.cache import Cache, drawing_key, key_within
from proposal.publish.graph_program import embed_font, lay_out
from proposal.publish.kept_sheets import KeptSheets, SheetFacts

if TYPE_CHECKING:
    from proposal.pages.page_reads import Reads


class EditionDrawings(Mapping[str, Drawing]):
    """The drawings of an edition by sheet number, each drawn when it is asked for."""

    def __init__(
        self, edition: Edition, reads: "Callable[[], Reads]", cache: Cache, progress: Callable[[str], None]
    ) -> None:
        """Take what the drawings show.

        reads: gives the edition as sheets see it.
        cache: keeps rendered drawings.
        progress: told in a few words what is being done.
        """
        self._reads, self._cache, self._progress = reads, cache, progress
        self._edition = edition
        self._spelling = Spelling.of(edition.document)
        self._sheets = {sheet.number: sheet for sheet in sheets_of(edition.document)}
        self._drawn: dict[str, tuple[Drawing, bytes]] = {}
        self._charts: dict[str, bytes] = {}
        self._facts: dict[str, SheetFacts] = {}
        self._told: dict[str, Told] = {}

    def __getitem__(self, number: str) -> Drawing:
        """Return a drawing as pages show it, by the number of its sheet."""
        return self._made(number)[0]

    def __contains__(self, number: object) -> bool:
        """Say whether there is a sheet with a number."""
        return number in self._sheets

    def __iter__(self) -> Iterator[str]:
        """Yield the numbers of the sheets."""
        return iter(self._sheets)

    def __len__(self) -> int:
        """Return how many sheets there are."""
        return len(self._sheets)

    def svg(self, number: str) -> bytes:
        """Return a drawing as it is written to a file.

        number: of its sheet.
        """
        return self._made(number)[1]

    @cached_property
    def chart_files(self) -> Mapping[str, tuple[str, float]]:
        """The files of charts for pages: the number of the sheet and the width that each is drawn for, mm."""
        return {
            f"{number}-{name}.svg": (number, width_mm)
            for number, sheet in self._sheets.items()
            if kind_called(sheet.kind).in_page is not None
            for name, width_mm in PAGE_WIDTHS_MM.items()
        }

    def chart(self, file: str) -> bytes:
        """Return a chart as pages show it.

        file: one of `chart_files`.
        """
        if file not in self._charts:
            self._charts[file] = self._chart(*self.chart_files[file])
        return self._charts[file]

    def keep_facts(self) -> None:
        """Keep what is known of the sheets, once all were asked for."""
        self._kept.keep()

    @cached_property
    def _kept(self) -> KeptSheets:
        return KeptSheets(self._reads(), self._cache)

    def _chart(self, number: str, width_mm: float) -> bytes:
        def render() -> bytes:
            drawn = self._told_of(number).render_chart(width_mm, lay_out)
            assert drawn is not None
            return embed_font(drawn.decode("utf-8")).encode("utf-8")

        drawn = self._cache.get_or(key_within(self._facts_of(number).key, f"{width_mm:g} mm"), render)
        return self._spelling.drawing(drawn.decode("utf-8"), html.escape).encode("utf-8")

    def _facts_of(self, number: str) -> SheetFacts:
        """Return what is known of a sheet."""

        def made(edition: Edition) -> SheetFacts:
            drawing = self._told[number] = drawing_of(edition, sheet)
            return SheetFacts(drawing_key(sheet.kind, drawing.spec), drawing.alternative, drawing.change)

        if number not in self._facts:
            sheet = self._sheets[number]
            self._facts[number] = self._kept.facts(sheet, made)
        return self._facts[number]

    def _told_of(self, number: str) -> Told:
        """Return what a sheet shows, compared with the issue before."""
        if number not in self._told:
            self._told[number] = drawing_of(self._edition, self._sheets[number])
        return self._told[number]

    def _made(self, number: str) -> tuple[Drawing, bytes]:
        if number not in self._drawn:
            sheet, facts = self._sheets[number], self._facts_of(number)

            def render() -> bytes:
                self._progress(f"drawing {number}")
                return embed_font(self._told_of(number).render(lay_out).decode("utf-8")).encode("utf-8")

            drawn = self._cache.get_or(facts.key, render)
            content = self._spelling.drawing(drawn.decode("utf-8"), html.escape).encode("utf-8")
            shown = Drawing(
                number=number,
                file=file_of(sheet),
                title=self._spelling.plain(sheet.title),
                alternative=self._spelling.plain(f"Sheet {number}: {sheet.title}"),
                description=self._spelling.plain(facts.alternative),
                size=_size_px(content),
                change=facts.change,
                charts=tuple(
                    (name, size)
                    for name in PAGE_WIDTHS_MM
                    if (file := f"{number}-{name}.svg") in self.chart_files
                    if (size := _size_px(self.chart(file)))
                ),
            )
            self._drawn[number] = shown, content
        return self._drawn[number]


def file_of(sheet: SheetRow) -> str:
    """Return the name of the file of a sheet."""
    return f"{sheet.number}.svg"


def _size_px(svg: bytes) -> tuple[int, int] | None:
    """Return the width and height of a drawing in CSS pixels, of which 96 make an inch."""
    found = re.search(rb'<svg\b[^>]*? width="([\d.]+)pt" height="([\d.]+)pt"', svg)
    return (round(float(found[1]) * 96 / 72), round(float(found[2]) * 96 / 72)) if found else None
