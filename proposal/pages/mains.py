"""Mains power: the load schedule of circuits, the outlets on them, and what every device takes."""

from collections.abc import Collection, Iterable
from typing import ClassVar, TypeVar

from proposal.document.rows.mains import CircuitRow, EnergyRow, MainsLoadRow, MainsOutletRow
from proposal.document.rows.standby import PowerPathRow, RoomWithoutMainsRow, StandbySupplyRow
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.markdown import Html, join, text
from proposal.pages.page_context import PageContext
from proposal.pages.schedule_parts import SchedulePart, links_to_parts, mains_parts
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.quantities.formatting import count_of

_Placed = TypeVar("_Placed", CircuitRow, EnergyRow, MainsLoadRow, MainsOutletRow)

PORTABLE = (
    "A portable set is plugged in at each place where it is used, and where it is kept: it stands in several "
    "lines and counts on the circuit of each, but draws its power in one place at a time. An outlet outdoors "
    "needs the protection against weather and residual current that the code asks for."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class MainsPage:
    """What an electrician needs.

    parts: of many places, the way to the page of each part and how many stand there; the next four are None.
    circuits: what each carries against what it may.  outlets: where each is wanted.
    loads: what every device takes.  energy: in a year, and heat, by place.
    supplies, rooms, paths: standby supplies, what every room keeps when the mains fails, and where devices
    have their power from; each empty where there is no standby supply.
    portable: how portable sets are counted; None where there are none.
    """

    template: ClassVar[str] = "mains.md.jinja"
    parts: tuple[Html, ...]
    circuits: Html | None
    outlets: Html | None
    loads: Html | None
    energy: Html | None
    supplies: Html
    rooms: Html
    paths: Html
    portable: Html | None


def mains_page(here: PageContext) -> MainsPage:
    """Return the page of mains power."""
    document = here.document
    standby = bool(document.standby_supplies)
    links = links_to_parts(
        mains_parts(document), paths.MAINS, here.to, lambda places: count_of(len(places), "place")
    )
    return MainsPage(
        parts=links,
        circuits=None if links else _circuits(here, document.circuits),
        outlets=None if links else _outlets(here, document.mains_outlets),
        loads=None if links else _loads(here, document.mains_loads),
        energy=None if links else _energy(here, document.energy),
        supplies=_supplies(here) if standby else Html(""),
        rooms=_rooms(here) if standby else Html(""),
        paths=_paths(here) if standby else Html(""),
        portable=text(PORTABLE) if here.document.portable_uses else None,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class MainsPartPage:
    """Circuits, outlets, loads and energy of the places of one storey, or a numbered part of them."""

    template: ClassVar[str] = "mains-part.md.jinja"
    title: Html
    overview: Html
    circuits: Html | None
    outlets: Html | None
    loads: Html | None
    energy: Html | None


def mains_part_page(here: PageContext, part: SchedulePart[str]) -> MainsPartPage:
    """Return the page of a part of the places with mains power.

    part: the tags of the places that stand on it.
    """
    document, places = here.document, set(part.rows)
    circuits, outlets = _at(places, document.circuits), _at(places, document.mains_outlets)
    loads, energy = _at(places, document.mains_loads), _at(places, document.energy)
    return MainsPartPage(
        title=text(part.title),
        overview=here.to(paths.MAINS, "How it is counted"),
        circuits=_circuits(here, circuits) if circuits else None,
        outlets=_outlets(here, outlets) if outlets else None,
        loads=_loads(here, loads) if loads else None,
        energy=_energy(here, energy) if energy else None,
    )


def _at(places: Collection[str], rows: Iterable[_Placed]) -> tuple[_Placed, ...]:
    return tuple(row for row in rows if row.place in places)


def _supplies(here: PageContext) -> Html:
    fields: list[Field[StandbySupplyRow]] = [
        *fields_of(here, StandbySupplyRow, "tag", "rack", "model", "packs", "verdict", "asked_min"),
        *fields_of(here, StandbySupplyRow, "lasts_min", "new_min", "full_min", "typical_w", "full_w"),
        *fields_of(here, StandbySupplyRow, "allowed_w", "full_va", "allowed_va", "outlets_used", "outlets"),
        *fields_of(here, StandbySupplyRow, "own_w", "feeds"),
    ]
    loads = schedule(
        "Standby supplies",
        fields,
        here.document.standby_supplies,
        identity=lambda row: row.tag,
        mark=here.mark("standby_supplies"),
    )
    # By themselves, since a table of all of it is too wide for a sheet of paper.
    batteries: list[Field[StandbySupplyRow]] = [
        *fields_of(here, StandbySupplyRow, "tag", "recharge_h", "battery_months", "battery_price"),
    ]
    told = schedule("Batteries of standby supplies", batteries, here.document.standby_supplies)
    return join((loads, told), Html("\n\n"))


def _rooms(here: PageContext) -> Html:
    fields: list[Field[RoomWithoutMainsRow]] = [
        *fields_of(here, RoomWithoutMainsRow, "place", "keeps", "lasts_min", "stays", "goes"),
    ]
    return schedule(
        "What stays up when the mains fails",
        fields,
        here.document.rooms_without_mains,
        mark=here.mark("rooms_without_mains"),
    )


def _paths(here: PageContext) -> Html:
    fields: list[Field[PowerPathRow]] = [
        *fields_of(here, PowerPathRow, "device", "kind", "place", "room", "path", "state", "lasts_min"),
    ]
    return schedule(
        "Where power comes from", fields, here.document.power_paths, mark=here.mark("power_paths")
    )


def _circuits(here: PageContext, rows: tuple[CircuitRow, ...]) -> Html:
    fields: list[Field[CircuitRow]] = [
        *fields_of(here, CircuitRow, "identity", "place", "verdict", "breaker", "full_a", "allowed_a"),
        *fields_of(here, CircuitRow, "voltage_v", "full_va", "outlets", "leakage_a", "leakage_allowed_a"),
        *fields_of(here, CircuitRow, "residual_a", "inrush_a", "inrush_allowed_a", "steps", "rest_w"),
        *fields_of(here, CircuitRow, "typical_w", "full_w"),
    ]
    return schedule(
        "Load schedule",
        fields,
        rows,
        identity=lambda row: row.identity,
        mark=here.mark("circuits"),
        total="All",
    )


def _outlets(here: PageContext, rows: tuple[MainsOutletRow, ...]) -> Html:
    fields: list[Field[MainsOutletRow]] = [
        *fields_of(here, MainsOutletRow, "serves", "mark", "circuit", "place", "location", "storey", "at"),
        *fields_of(
            here, MainsOutletRow, "height_m", "plug", "cord", "scope", "typical_w", "full_va", "feeds"
        ),
    ]
    return schedule("Mains outlets", fields, rows, mark=here.mark("mains_outlets"), total="All")


def _loads(here: PageContext, rows: tuple[MainsLoadRow, ...]) -> Html:
    fields: list[Field[MainsLoadRow]] = [
        *fields_of(here, MainsLoadRow, "name", "kind", "place", "circuits", "furnished_by", "supplies"),
        *fields_of(here, MainsLoadRow, "rest_w", "typical_w", "full_w", "power_factor", "full_va", "full_a"),
        *fields_of(here, MainsLoadRow, "leakage_a", "inrush_a", "loss_w"),
    ]
    return schedule("Loads on the mains", fields, rows, mark=here.mark("mains_loads"), total="All")


def _energy(here: PageContext, rows: tuple[EnergyRow, ...]) -> Html:
    fields: list[Field[EnergyRow]] = [
        *fields_of(here, EnergyRow, "place", "heat_w", "hourly_heat_btu", "hourly_air_m3", "yearly_wh"),
        *fields_of(
            here,
            EnergyRow,
            "price_per_kwh",
            "yearly_cost",
            "in_use_h",
            "idle_h",
            "typical_w",
            "idle_w",
            "rest_w",
        ),
    ]
    return schedule("Energy and heat", fields, rows, mark=here.mark("energy"), total="All")
