"""Racks: what stands where, with weight, heat and outlets."""

from collections.abc import Sequence
from typing import ClassVar

from proposal.document.rows.racks import RackPlaceRow, RackRow
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.schedule_parts import SchedulePart, links_to_parts, rack_parts
from proposal.pages.schedule_table import Field, fields_of, grouped, schedule
from proposal.quantities.formatting import count_of


@dataclass(frozen=True, slots=True, kw_only=True)
class RacksPage:
    """Every rack with what it holds.

    racks: what each holds against what it can hold.
    places: tag of the rack, the id of its part of the page, and what stands in it from above downwards.
    parts: of many racks, the way to the page of each part and how many stand there.
    """

    template: ClassVar[str] = "racks.md.jinja"
    racks: Html
    places: tuple[tuple[Html, Html, Html], ...]
    parts: tuple[Html, ...]


def racks_page(here: PageContext) -> RacksPage:
    """Return the page of racks."""
    links = links_to_parts(
        rack_parts(here.document), paths.RACKS, here.to, lambda rows: count_of(len(rows), "rack")
    )
    return RacksPage(
        racks=_racks(here),
        places=() if links else _places_in(here, here.document.rack_places),
        parts=links,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class RacksPartPage:
    """The racks on one storey, or a numbered part of them, with what each holds."""

    template: ClassVar[str] = "racks-part.md.jinja"
    title: Html
    overview: Html
    places: tuple[tuple[Html, Html, Html], ...]


def racks_part_page(here: PageContext, part: SchedulePart[RackRow]) -> RacksPartPage:
    """Return the page of a part of the racks.

    part: the racks that stand on it.
    """
    tags = {row.tag for row in part.rows}
    return RacksPartPage(
        title=text(part.title),
        overview=here.to(paths.RACKS, "All racks, and how full they are,"),
        places=_places_in(here, [row for row in here.document.rack_places if row.rack in tags]),
    )


def _places_in(here: PageContext, rows: Sequence[RackPlaceRow]) -> tuple[tuple[Html, Html, Html], ...]:
    return tuple(
        (text(rack), Html(paths.rack_anchor(rack)), _places(here, rack, places))
        for rack, places in grouped(rows, lambda row: row.rack).items()
    )


def _racks(here: PageContext) -> Html:
    fields: list[Field[RackRow]] = [
        *fields_of(here, RackRow, "tag", "verdict", "equipment_room", "model", "style", "faces"),
        *fields_of(here, RackRow, "width_m", "depth_m", "units", "used"),
        *fields_of(here, RackRow, "spare_wanted", "weight_kg", "load_kg", "typical_w", "hourly_heat_btu"),
        *fields_of(here, RackRow, "apparent_va", "current_a", "outlets_used", "outlets"),
        *fields_of(here, RackRow, "hourly_air_wanted_m3", "hourly_air_m3"),
    ]
    return schedule("Racks", fields, here.document.racks, mark=here.mark("racks"))


def _places(here: PageContext, rack: str, places: tuple[RackPlaceRow, ...]) -> Html:
    fields: list[Field[RackPlaceRow]] = [
        *fields_of(here, RackPlaceRow, "unit", "units", "gap", "face", "side", "name", "shelf", "kind"),
        *fields_of(here, RackPlaceRow, "model", "airflow", "front_ports", "side_ports"),
        *fields_of(here, RackPlaceRow, "depth_m", "weight_kg", "typical_w", "apparent_va", "outlets"),
        *fields_of(here, RackPlaceRow, "cord", "cord_joins", "cord_m", "cord_wanted_m"),
    ]
    return schedule(f"Places in {rack}", fields, places, mark=here.mark("rack_places"), total="All")
