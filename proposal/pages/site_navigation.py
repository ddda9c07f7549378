"""The navigation of a site: which pages stand under which chapter, and in which order."""

from collections.abc import Sequence
from typing import TypeAlias, TypeVar

from proposal.differences.details import Detail
from proposal.document.document import Document
from proposal.document.spelling import Spelling
from proposal.editions import Edition
from proposal.pages import paths
from proposal.pages.alternates import (
    has_alternates,
)
from proposal.pages.calculations import (
    CalculationPlace,
)
from proposal.pages.channels import CHANNELS, ChannelPlace, channel_places_of
from proposal.pages.drawing_pages import sheets_of
from proposal.pages.navigation_order import in_order
from proposal.pages.paths import RADIO, alternate_path
from proposal.pages.phrases import capital
from proposal.pages.prose import parts_of_scope
from proposal.pages.requirements import title_of_requirements
from proposal.pages.schedule_parts import (
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
from proposal.pages.schedule_table import grouped
from proposal.pages.sensitivity import SENSITIVITY

Row = TypeVar("Row")
Navigation: TypeAlias = "tuple[tuple[str, str | Navigation], ...]"


def paths_in(nav: Navigation) -> list[str]:
    """Return the paths of all pages of a navigation, in order.

    nav: names with pages, or with what stands below them.
    """
    return [path for _, entry in nav for path in ([entry] if isinstance(entry, str) else paths_in(entry))]


def first_page(entry: "str | Navigation") -> str:
    """Return the path of a page, or of the first one of a chapter.

    entry: the page or the chapter.
    """
    return entry if isinstance(entry, str) else paths_in(entry)[0]


def navigation_of(
    edition: Edition, places: tuple[CalculationPlace, ...], changed: Sequence[SchedulePart[Detail]]
) -> Navigation:
    """Return the tree of pages, those left out for which the edition holds nothing.

    edition: what its reader may see.
    places: of its calculations, a page each.
    changed: rows that differ from the issue before, by subjects.
    """
    document = edition.document
    rooms: Navigation = (
        ("List of rooms", _parts_of(paths.ROOMS, room_parts(document), paths.ROOM_LIST)),
        *((("States of the building", paths.STATES),) if document.states else ()),
        *(
            (sheet.title, _parts_of(paths.room_sheet_path(sheet.key), kind_parts(document, sheet)))
            for sheet in document.room_sheets
        ),
    )
    by_kind = grouped(sheets_of(document), lambda row: row.kind)
    # Folded by kind, so that the schedules below stay in sight.
    sheets: Navigation = tuple(
        (capital(kind), tuple((f"{row.number} {row.title}", paths.drawing_path(row.number)) for row in rows))
        for kind, rows in by_kind.items()
    )
    listed = _parts_of(paths.DRAWINGS, sheet_parts(document), paths.SHEET_LIST)
    schedules: list[tuple[str, str | Navigation]] = [
        ("Equipment by model", paths.EQUIPMENT),
        ("Equipment by device", _parts_of(paths.DEVICES, device_parts(document))),
        *((("Furnished by the owner", paths.OWNER_EQUIPMENT),) if document.owner_equipment else ()),
        ("Cable totals and runs", _parts_of(paths.CABLES, run_parts(document), paths.CABLE_RUNS)),
    ]
    if document.cables:
        schedules.append(("Cable schedule", _parts_of(paths.CABLE_SCHEDULE, cable_parts(document))))
    if document.pathways:
        ways = _parts_of(paths.PATHWAYS, pathway_parts(document), paths.PATHWAY_LIST)
        schedules.append(("Pathways and conduits", ways))
    if document.switches:
        schedules.append(("Switch ports and power", _parts_of(paths.POWER, switch_parts(document))))
    if document.network_hosts:
        schedules.append(("For the network team", _parts_of(paths.NETWORK, network_parts(document))))
    if document.racks:
        schedules.append(("Racks", _parts_of(paths.RACKS, rack_parts(document))))
    if document.circuits:
        schedules.append(("Mains power", _parts_of(paths.MAINS, mains_parts(document))))
    if channel_places := channel_places_of(document):
        schedules.append(("Channels and settings", _channel_pages(document, channel_places)))
    if document.latencies:
        schedules.append(("Delay of sound", paths.LATENCY))
    if document.takeoff:
        schedules.append(("Take-off", _parts_of(paths.TAKEOFF, takeoff_parts(document))))
    if document.reel_orders:
        schedules.append(("Reels and cut plan", paths.REELS))
    if document.cables:
        schedules.append(("Labels", _parts_of(paths.LABELS, label_parts(document))))
    checks: list[tuple[str, str | Navigation]] = []
    if document.findings or document.finding_count is not None:
        checks.append(("Findings", paths.FINDINGS))
    if document.workings:
        checks.append(
            (
                "Calculations",
                (("Overview", paths.CALCULATIONS), *((place.title, place.path) for place in places)),
            )
        )
    nav: list[tuple[str, str | Navigation]] = [
        ("Cover", paths.COVER),
        ("Summary", paths.SUMMARY),
        *((("What changed", _parts_of(paths.CHANGES, changed)),) if edition.changes else ()),
        *(((title_of_requirements(edition.reader), paths.REQUIREMENTS),) if document.requirements else ()),
        ("Rooms", rooms),
        ("System description", paths.SYSTEM),
        *((("Radio", _radio_pages(document)),) if document.radio else ()),
        ("Drawings", (("List of drawings", listed), *sheets)),
        ("Equipment and cables", tuple(schedules)),
    ]
    if has_alternates(edition):
        each = tuple((one.row.name, alternate_path(one.row.key)) for one in edition.alternates)
        nav.append(("Alternates", (("Alternates and order form", paths.ALTERNATES), *each)))
    if price_and_labour := _price_and_labour(edition):
        held = (("Price", document.price), ("labour", document.labour))
        title = capital(" and ".join(name for name, rows in held if rows))
        nav.append((title, price_and_labour))
    if document.programme is not None and document.activities:
        nav.append(("Programme", paths.PROGRAMME))
    if checks:
        # A page that is alone has its own title, as no chapter is opened by it.
        nav.append(("Checks of the design", tuple(checks)) if len(checks) > 1 else checks[0])
    terms: list[tuple[str, str | Navigation]] = []
    # The chapter opens at its first page, which has its title.
    if document.scope or document.wording.get("scope") or parts_of_scope(document, paths.SCOPE):
        terms.append(("Scope and terms", paths.SCOPE))
    values = _parts_of(paths.ASSUMPTIONS, value_parts(document), paths.VALUES_TAKEN)
    terms.append(("Assumptions and open questions", values))
    if document.responsibilities:
        terms.append(("Who does what", paths.RESPONSIBILITIES))
    if edition.reader == "client":
        terms.append(("Words explained", paths.GLOSSARY))
    nav.append(("Scope and terms", tuple(terms)))
    nav.append(("Cautions", paths.CAUTIONS))
    return in_order(edition.reader, tuple(nav))


def _radio_pages(document: Document) -> "str | Navigation":
    """Return the page of radio, and below it the pages of levels and places where there are many."""
    levels, places = radio_level_parts(document), radio_plan_parts(document)
    further = further_parts(document)
    below: list[tuple[str, str | Navigation]] = []
    if on_own_pages(further, paths.FURTHER):
        below.append(("What could still be added", tuple((part.title, part.path) for part in further)))
    if on_own_pages(levels, paths.RADIO_LEVELS):
        below.append(("Levels of microphones", tuple((part.title, part.path) for part in levels)))
    if on_own_pages(places, paths.RADIO_PLAN):
        below.append(("Carriers and slots", tuple((part.title, part.path) for part in places)))
    return (("Overview", RADIO), *below) if below else RADIO


def _channel_pages(document: Document, places: Sequence[ChannelPlace]) -> Navigation:
    """Return the overview of channels, below it streams where there are many, and the page of each place."""
    streams = stream_parts(document)
    below: Navigation = tuple((part.title, part.path) for part in streams)
    return (
        ("Overview", CHANNELS),
        *((("Streams", below),) if on_own_pages(streams, paths.STREAMS) else ()),
        *((place.title, place.path) for place in places),
    )


def _parts_of(page: str, parts: Sequence[SchedulePart[Row]], whole: str = "") -> "str | Navigation":
    """Return the page of a schedule, and where its parts have pages of their own, these below it.

    whole: path of the parts of a schedule that stands on a page with others while it is short.
    """
    if not on_own_pages(parts, whole or page):
        return page
    return (("Overview", page), *((part.title, part.path) for part in parts))


def _price_and_labour(edition: Edition) -> Navigation:
    """Return the pages of price and labour, as far as the edition holds them."""
    document = edition.document
    held = (
        ("Price and payments", paths.PRICE, document.price),
        ("What the price contains", paths.PRICE_ITEMS, paths.lists_offer(document) and document.offer),
        ("Unit prices for changes", paths.UNIT_PRICES, document.unit_prices or document.unit_costs),
        ("Price build-up", _parts_of(paths.BUILD_UP, price_line_parts(document)), document.price_lines),
        (
            "Margin",
            _parts_of(paths.MARGIN, room_margin_parts(document)),
            document.price and document.price.margin is not None,
        ),
        ("Cash flow", paths.CASH_FLOW, document.cash_flow),
        ("What the client can work out", paths.DISCLOSURE, document.disclosure or document.house_findings),
        ("What moves the price", SENSITIVITY, edition.sensitivity),
        ("Labour", paths.LABOUR, document.labour_summary),
        ("Labour by line", _parts_of(paths.LABOUR_LINES, labour_parts(document)), document.labour),
    )
    return tuple((title, path) for title, path, rows in held if rows)


def spelled_navigation(nav: Navigation, spelling: Spelling) -> Navigation:
    """Return a navigation with its titles as a place spells them.

    nav: the navigation.
    """
    return tuple(
        (spelling.plain(title), entry if isinstance(entry, str) else spelled_navigation(entry, spelling))
        for title, entry in nav
    )
