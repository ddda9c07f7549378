"""Every page of one edition, and the navigation between them."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import field
from functools import partial
from typing import Protocol, TypeAlias

from proposal.document.document import Document
from proposal.document.rows.sheets import SheetRow
from proposal.document.spelling import Spelling
from proposal.document.values import values_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.alternates import (
    alternates_page,
)
from proposal.pages.build_up import (
    build_up_page,
    build_up_part_page,
    cash_flow_page,
    margin_page,
    margin_part_page,
)
from proposal.pages.cables import cable_runs_page, cable_schedule_page, cable_schedule_part_page, cables_page
from proposal.pages.calculations import (
    CalculationPlace,
    calculation_place_page,
    calculations_page,
    paths_of_workings,
    places_of,
)
from proposal.pages.changes import (
    change_parts,
    changes_page,
    changes_part_page,
    details_of_changes,
    marks_of,
)
from proposal.pages.channels import (
    CHANNELS,
    channel_place_page,
    channel_places_of,
    channels_page,
    streams_page,
)
from proposal.pages.client_changes import client_changes_page
from proposal.pages.client_summary import client_summary_page
from proposal.pages.cover import cover_page, summary_page
from proposal.pages.disclosure import disclosure_page
from proposal.pages.downloads import NO_DOWNLOADS, Downloads, downloads_of, with_downloads
from proposal.pages.drawing_pages import Drawing, drawing_page, drawings_page, drawings_part_page, sheets_of
from proposal.pages.equipment import devices_page, devices_part_page, equipment_page
from proposal.pages.findings import findings_page
from proposal.pages.glossary import glossary_page
from proposal.pages.labels import labels_page, labels_part_page
from proposal.pages.labour import labour_lines_page, labour_lines_part_page, labour_page
from proposal.pages.latency import latency_page
from proposal.pages.link_targets import Targets, targets_of
from proposal.pages.mains import mains_page, mains_part_page
from proposal.pages.markdown import text
from proposal.pages.network import network_page, network_part_page
from proposal.pages.one_alternate import alternate_page, client_alternate_page
from proposal.pages.owner_equipment import owner_equipment_page
from proposal.pages.page_context import PageContext
from proposal.pages.page_reads import Name, Reads
from proposal.pages.paths import alternate_path
from proposal.pages.pathways import pathways_page, pathways_part_page
from proposal.pages.power import power_page, power_part_page
from proposal.pages.price import price_page
from proposal.pages.price_items import price_items_page, unit_prices_page
from proposal.pages.programme import programme_page
from proposal.pages.racks import racks_page, racks_part_page
from proposal.pages.radio import further_part_page, radio_levels_page, radio_page, radio_plan_page
from proposal.pages.requirements import requirements_page
from proposal.pages.room_sheets import room_kind_part_page, room_page
from proposal.pages.rooms import rooms_page, rooms_part_page
from proposal.pages.schedule_parts import (
    Row,
    SchedulePart,
    cable_parts,
    device_parts,
    further_parts,
    kind_parts,
    label_parts,
    labour_parts,
    mains_parts,
    network_parts,
    on_own_pages,
    pathway_parts,
    price_line_parts,
    rack_parts,
    radio_level_parts,
    radio_plan_parts,
    room_margin_parts,
    room_parts,
    run_parts,
    sheet_parts,
    stream_parts,
    switch_parts,
    takeoff_parts,
    value_parts,
)
from proposal.pages.sensitivity import SENSITIVITY, sensitivity_page
from proposal.pages.site_navigation import Navigation, first_page, navigation_of, paths_in, spelled_navigation
from proposal.pages.states import states_page
from proposal.pages.system import system_page
from proposal.pages.takeoff import reels_page, takeoff_page, takeoff_part_page
from proposal.pages.templating import Templates, View
from proposal.pages.terms import (
    assumptions_page,
    cautions_page,
    responsibilities_page,
    scope_page,
    values_part_page,
)

__all__ = ["Drawing", "Navigation", "PlannedPages", "SitePages", "pages_of", "planned_pages"]


@dataclass(frozen=True, slots=True)
class SitePages:
    """The pages of one edition.

    pages: path of a page, such as `rooms/chamber.md`, and its Markdown.
    nav: titles, not escaped, with the path of a page or with the entries below it.
    """

    pages: Mapping[str, str]
    nav: Navigation


ViewOf: TypeAlias = Callable[[PageContext], View]


@dataclass(frozen=True, slots=True)
class PlannedPages:
    """The pages of one edition, each written when it is asked for.

    reads: the edition and marks of rows that are new or changed, as pages see them.  nav: as of `SitePages`.
    views: how the view of each page is made, by its path.
    targets: where everything stands.
    templates: of all pages.  downloads: files of the site to which pages lead.  spelling: of the place.
    """

    reads: Reads
    nav: Navigation
    views: Mapping[str, ViewOf]
    targets: Targets
    templates: Templates
    spelling: Spelling
    downloads: Downloads = field(default_factory=dict)

    def basis(self, path: str) -> str:
        """Return the digest of all that a page is given beside what it reads of the edition.

        path: of the page, one of `views`.
        Raises TypeError where the page is given what has no digest.
        """
        view = self.views[path]
        told = (view.func, view.args, tuple(view.keywords)) if isinstance(view, partial) else (view,)
        given = view.keywords.values() if isinstance(view, partial) else ()
        shared = (self.targets, self.templates.texts, self.spelling.told, self.downloads)
        digests = [*map(self.reads.digest_of, shared), *map(self.reads.digest_of, given)]
        return self.reads.digest_of((path, self.reads.edition.reader, told, tuple(digests)))

    def page_and_reads(self, path: str) -> tuple[str, frozenset[Name]]:
        """Return the Markdown of a page, and the names of all that it read of the edition.

        path: of the page, one of `views`.
        """
        with self.reads.noting() as noted:
            page = self.page(path)
        return page, frozenset(noted)

    def page(self, path: str) -> str:
        """Return the Markdown of a page.

        path: of the page, one of `views`.
        """
        here = PageContext(path, self.reads.edition, self.targets, self.reads.marks)
        page = with_downloads(self.templates.page(self.views[path](here)), downloads_of(here, self.downloads))
        return self.spelling.page(page, text)


def pages_of(edition: Edition, drawings: Mapping[str, Drawing], templates: Mapping[str, str]) -> SitePages:
    """Return every page of an edition; which pages there are follows from what the edition holds.

    drawings: the rendered sheets of the edition by sheet number.
    templates: file name and text of each template.
    Raises ValueError where a sheet of the edition has no drawing.
    """
    planned = planned_pages(edition, drawings, templates)
    return SitePages(pages={path: planned.page(path) for path in planned.views}, nav=planned.nav)


def planned_pages(
    edition: Edition,
    drawings: Mapping[str, Drawing],
    templates: Mapping[str, str],
    downloads: Downloads = NO_DOWNLOADS,
) -> PlannedPages:
    """Return the pages of an edition before they are written.

    downloads: files of the site to which pages lead.
    The others are those of `pages_of`; a drawing is asked for when a page that shows it is written.
    Raises ValueError as `pages_of` does.
    """
    document = edition.document
    missing = [row.number for row in sheets_of(document) if row.number not in drawings]
    if missing:
        raise ValueError(
            f"wanted a drawing for every sheet of the edition; found none for {', '.join(missing)}"
        )
    places = places_of(document)
    targets = targets_of(document, paths_of_workings(places))
    details = details_of_changes(edition)
    changed = () if edition.reader == "client" else change_parts(details, values_of(document).words)
    nav = navigation_of(edition, places, changed)
    reads = Reads(edition, drawings, marks_of(details, edition))
    views = _views(edition, reads, places, nav, downloads)
    changes = reads.edition.changes
    if changes is not None:
        views[paths.CHANGES] = (
            partial(client_changes_page, changes=changes)
            if edition.reader == "client"
            else partial(changes_page, changes=changes, details=details, parts=changed)
        )
        for part in changed if on_own_pages(changed, paths.CHANGES) else ():
            views[part.path] = partial(changes_part_page, part=part, changes=changes)
    spelling = Spelling.of(document)
    return PlannedPages(
        reads=reads,
        nav=spelled_navigation(nav, spelling),
        views={path: views[path] for path in paths_in(nav)},
        targets=targets,
        templates=Templates(templates),
        downloads=downloads,
        spelling=spelling,
    )


def _views(
    edition: Edition,
    reads: Reads,
    places: tuple[CalculationPlace, ...],
    nav: Navigation,
    downloads: Downloads,
) -> dict[str, ViewOf]:
    """Return for each page how its view is made, for pages too that the edition holds nothing for.

    What a view is given is in the basis of its page, what it reads of the edition and of `reads` is noted.
    """
    document, drawings = edition.document, reads.drawings
    views: dict[str, ViewOf] = {
        paths.COVER: partial(_cover_page, nav=nav, downloads=downloads),
        paths.SUMMARY: client_summary_page if edition.reader == "client" else summary_page,
        paths.ROOMS: rooms_page,
        paths.STATES: partial(states_page, drawings=drawings),
        paths.REQUIREMENTS: requirements_page,
        paths.SYSTEM: system_page,
        paths.DRAWINGS: partial(drawings_page, drawings=drawings),
        paths.EQUIPMENT: equipment_page,
        paths.DEVICES: devices_page,
        paths.OWNER_EQUIPMENT: owner_equipment_page,
        paths.CABLES: cables_page,
        paths.CABLE_SCHEDULE: cable_schedule_page,
        paths.PATHWAYS: pathways_page,
        paths.NETWORK: partial(network_page, drawings=drawings),
        paths.POWER: power_page,
        paths.RACKS: racks_page,
        paths.MAINS: mains_page,
        paths.LATENCY: latency_page,
        paths.RADIO: radio_page,
        paths.LABELS: labels_page,
        paths.TAKEOFF: takeoff_page,
        paths.REELS: reels_page,
        paths.PRICE_ITEMS: price_items_page,
        paths.UNIT_PRICES: unit_prices_page,
        paths.LABOUR: labour_page,
        paths.LABOUR_LINES: labour_lines_page,
        paths.BUILD_UP: build_up_page,
        paths.CASH_FLOW: cash_flow_page,
        paths.DISCLOSURE: disclosure_page,
        paths.FINDINGS: findings_page,
        paths.CALCULATIONS: partial(calculations_page, places=places),
        paths.ASSUMPTIONS: assumptions_page,
        paths.SCOPE: scope_page,
        paths.RESPONSIBILITIES: responsibilities_page,
        paths.CAUTIONS: cautions_page,
        paths.GLOSSARY: glossary_page,
    }
    if document.price is not None:
        views[paths.PRICE] = partial(price_page, price=document.price)
        views[paths.MARGIN] = partial(margin_page, price=document.price)
    if document.programme is not None and document.activities:
        views[paths.PROGRAMME] = partial(programme_page, programme=document.programme, drawings=drawings)
    views[paths.ALTERNATES] = alternates_page
    for whole, alternate in zip(edition.alternates, reads.edition.alternates, strict=True):
        views[alternate_path(whole.row.key)] = partial(
            client_alternate_page if edition.reader == "client" else alternate_page, alternate=alternate
        )
    if edition.sensitivity is not None:
        views[SENSITIVITY] = partial(sensitivity_page, sensitivity=edition.sensitivity)
    for sheet in document.room_sheets:
        path = paths.room_sheet_path(sheet.key)
        views |= _part_views(path, kind_parts(document, sheet), partial(room_kind_part_page, sheet=sheet))
        views[path] = partial(room_page, sheet=sheet, drawings=drawings)
    for row in sheets_of(document):
        views[paths.drawing_path(row.number)] = partial(_drawing_page, sheet=row, drawings=drawings)
    for place in places:
        views[place.path] = partial(calculation_place_page, place=place)
    views |= _views_of_parts(document)
    listed = partial(drawings_part_page, drawings=drawings)
    views |= _part_views(paths.SHEET_LIST, sheet_parts(document), listed)
    channel_places = channel_places_of(document)
    views[CHANNELS] = partial(channels_page, places=channel_places)
    for one in channel_places:
        views[one.path] = partial(channel_place_page, place=one)
    return views


def _views_of_parts(document: Document) -> dict[str, ViewOf]:
    """Return how each page is made that holds a part of a long schedule, by its path."""
    return {
        **_part_views(paths.ROOM_LIST, room_parts(document), rooms_part_page),
        **_part_views(paths.CABLE_RUNS, run_parts(document), cable_runs_page),
        **_part_views(paths.RACKS, rack_parts(document), racks_part_page),
        **_part_views(paths.STREAMS, stream_parts(document), streams_page),
        **_part_views(paths.PATHWAY_LIST, pathway_parts(document), pathways_part_page),
        **_part_views(paths.VALUES_TAKEN, value_parts(document), values_part_page),
        **_part_views(paths.FURTHER, further_parts(document), further_part_page),
        **_part_views(paths.DEVICES, device_parts(document), devices_part_page),
        **_part_views(paths.CABLE_SCHEDULE, cable_parts(document), cable_schedule_part_page),
        **_part_views(paths.NETWORK, network_parts(document), network_part_page),
        **_part_views(paths.BUILD_UP, price_line_parts(document), build_up_part_page),
        **_part_views(paths.MARGIN, room_margin_parts(document), margin_part_page),
        **_part_views(paths.LABELS, label_parts(document), labels_part_page),
        **_part_views(paths.POWER, switch_parts(document), power_part_page),
        **_part_views(paths.MAINS, mains_parts(document), mains_part_page),
        **_part_views(paths.TAKEOFF, takeoff_parts(document), takeoff_part_page),
        **_part_views(paths.LABOUR_LINES, labour_parts(document), labour_lines_part_page),
        **_part_views(paths.RADIO_LEVELS, radio_level_parts(document), radio_levels_page),
        **_part_views(paths.RADIO_PLAN, radio_plan_parts(document), radio_plan_page),
    }


class _PartPage(Protocol[Row]):
    """How the page of a part of a schedule is made."""

    def __call__(self, here: PageContext, part: SchedulePart[Row]) -> View: ...


def _part_views(schedule: str, parts: Sequence[SchedulePart[Row]], page: _PartPage[Row]) -> dict[str, ViewOf]:
    if not on_own_pages(parts, schedule):
        return {}
    return {part.path: partial(page, part=part) for part in parts}


def _cover_page(here: PageContext, nav: Navigation, downloads: Downloads) -> View:
    ways = tuple(here.to(first_page(entry), title) for title, entry in nav[1:])
    return cover_page(here, ways, downloads_of(here, downloads))


def _drawing_page(here: PageContext, sheet: SheetRow, drawings: Mapping[str, Drawing]) -> View:
    return drawing_page(here, sheet, drawings[sheet.number])
