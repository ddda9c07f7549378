"""Calculations with their workings: what was checked on one page, and a page a place with every number."""

from collections.abc import Mapping
from typing import ClassVar

from proposal.document.document import Document
from proposal.document.rows.data_sources import DataSourceRow
from proposal.document.rows.findings import WorkingRow
from proposal.field_classes import dataclass
from proposal.pages.fact_list import Fact, fact_list, facts_of
from proposal.pages.markdown import Html, anchor, html_text, join, text
from proposal.pages.page_context import PageContext
from proposal.pages.paths import file_stem, port_name
from proposal.pages.schedule_table import Field, fields_of, grouped, schedule
from proposal.pages.tables import Column
from proposal.quantities.formatting import count_of

FACTORS = (
    "Figures are in US customary units. Where the equation of a publication is in SI units, factors stand "
    "beside its symbols and its result, such as 0.3048 for feet and 1.8 for degrees Fahrenheit."
)
BUILDING = "calculations/building.md"
MOST_CHECKS = 600
"""Most checks that the overview lists."""
MANY = (
    "There are too many checks for one page: those that fail are listed here, and the page of each place has "
    "all of its own."
)


@dataclass(frozen=True, slots=True)
class CalculationPlace:
    """A room, an equipment room, a kind of room or the building, and the workings about it.

    path: of its page.  title: not escaped.
    """

    path: str
    title: str
    workings: tuple[WorkingRow, ...]


def places_of(document: Document) -> tuple[CalculationPlace, ...]:
    """Return the workings by place: kinds of room, rooms, equipment rooms, the building.

    So a change to one room changes the calculation page of that room alone.
    """
    titles: dict[str, str] = {}
    owner: dict[str, str] = {}
    for sheet in document.room_sheets:
        path = f"calculations/kind-{file_stem(sheet.key)}.md"
        titles[path], owner[sheet.key] = sheet.title, path
    named = [(row.tag, row.name) for row in document.rooms]
    named += [(row.tag, row.name) for row in document.equipment_rooms]
    for tag, name in named:
        path = f"calculations/room-{file_stem(tag)}.md"
        titles[path], owner[tag] = f"{tag} {name}", path
    titles[BUILDING] = "Building"
    for device in document.devices:
        owner.setdefault(device.tag, owner.get(device.room, BUILDING))
    for port in document.ports:
        owner.setdefault(port_name(port.switch, port.port), owner.get(port.device, BUILDING))
    for cable in document.cables:
        owner.setdefault(cable.identity, owner.get(cable.room, BUILDING))
    for circuit in document.circuits:
        owner.setdefault(circuit.identity, owner.get(circuit.place, BUILDING))
    workings = grouped(document.workings, lambda row: owner.get(row.subject, BUILDING))
    return tuple(
        CalculationPlace(path, title, workings[path]) for path, title in titles.items() if path in workings
    )


def paths_of_workings(places: tuple[CalculationPlace, ...]) -> Mapping[str, str]:
    """Return the path of the page of each working by its number."""
    return {row.number: place.path for place in places for row in place.workings}


@dataclass(frozen=True, slots=True, kw_only=True)
class CalculationsPage:
    """What was held against a limit, chapter by chapter, and where every working stands.

    checks: heading and table of each chapter.
    failing_alone: says that these are those that fail alone, where there are too many for one page.
    sources: of what no calculation names.
    """

    template: ClassVar[str] = "calculations.md.jinja"
    sum: Html
    checks: tuple[tuple[Html, Html], ...]
    failing_alone: Html | None
    places: Html
    sources: Html | None


def calculations_page(here: PageContext, places: tuple[CalculationPlace, ...]) -> CalculationsPage:
    """Return the overview of the calculations."""
    workings = here.document.workings
    checks = [row for row in workings if row.verdict]
    fail = [row for row in checks if row.verdict == "fails"]
    failing, many = len(fail), len(checks) > MOST_CHECKS
    return CalculationsPage(
        sum=text(
            f"{count_of(len(workings), 'calculation')}; "
            f"{len(checks)} held against a limit, of which {failing} "
            f"{'fails' if failing == 1 else 'fail'}."
            f"{f' {FACTORS}' if here.cover.units == 'us_customary' else ''}"
        ),
        checks=tuple(
            (text(chapter), _checks(here, chapter, rows))
            for chapter, rows in grouped(fail if many else checks, lambda row: row.chapter).items()
        ),
        failing_alone=text(MANY) if many else None,
        places=_places(here, places),
        sources=source_table(
            here, "Where data and wording come from", "data_sources", here.document.data_sources
        ),
    )


def source_table(here: PageContext, caption: str, field: str, rows: tuple[DataSourceRow, ...]) -> Html | None:
    """Return a table of sources; None without any.

    caption: says what the table shows.
    field: of the document, that holds the rows.
    """
    fields: list[Field[DataSourceRow]] = [
        *fields_of(here, DataSourceRow, "what", "least", "most", "source"),
    ]
    return schedule(caption, fields, rows, mark=here.mark(field)) if rows else None


def _checks(here: PageContext, chapter: str, rows: tuple[WorkingRow, ...]) -> Html:
    fields: list[Field[WorkingRow]] = [
        *fields_of(here, WorkingRow, "number", "verdict", "title", "subject", "result", "bound"),
    ]
    return schedule(f"What was held against a limit: {chapter}", fields, rows, mark=here.mark("workings"))


def _places(here: PageContext, places: tuple[CalculationPlace, ...]) -> Html:
    fields: list[Field[CalculationPlace]] = [
        Field(here.heading("place"), lambda row: here.to(row.path, row.title)),
        Field(Column(here.heading("calculations"), numeric=True), lambda row: here.count(len(row.workings))),
        Field(
            Column(here.heading("checks"), numeric=True),
            lambda row: here.count(sum(bool(working.verdict) for working in row.workings)),
        ),
        Field(
            Column(here.heading("failing"), numeric=True),
            lambda row: here.count(sum(working.verdict == "fails" for working in row.workings)),
        ),
    ]
    return schedule("How many calculations, and how many fail", fields, places)


@dataclass(frozen=True, slots=True, kw_only=True)
class CalculationPlacePage:
    """All workings about one place.

    chapters: heading, and for each subject its heading and its workings.
    """

    template: ClassVar[str] = "calculation-place.md.jinja"
    title: Html
    chapters: tuple[tuple[Html, tuple[tuple[Html, tuple[Html, ...]], ...]], ...]


def calculation_place_page(here: PageContext, place: CalculationPlace) -> CalculationPlacePage:
    """Return the page of the workings about one place."""
    return CalculationPlacePage(
        title=text(place.title),
        chapters=tuple(
            (
                text(chapter),
                tuple(
                    (here.subject(subject), tuple(_working(here, row) for row in rows))
                    for subject, rows in grouped(members, lambda row: row.subject).items()
                ),
            )
            for chapter, members in grouped(place.workings, lambda row: row.chapter).items()
        ),
    )


def _working(here: PageContext, row: WorkingRow) -> Html:
    equation = facts_of(here, row, "equation", "substituted", "terms")
    outcome = facts_of(here, row, "result", "verdict", "bound", "source", "assumptions", "questions", "note")
    return Html(
        f'<section class="working">\n<h4 id="{anchor(row.number)}">{html_text(row.number)} '
        f"{html_text(row.title)}</h4>\n"
        + f"<p>{_lines(equation)}</p>\n"
        + fact_list(f"Calculation {row.number}", outcome)
        + "\n</section>"
    )


def _lines(shown: tuple[Fact, ...]) -> Html:
    """Return facts in a line each."""
    told = (join((one.heading, html_text(one.value)), ": ") for one in shown if one.value)
    return join(told, "<br>")
