"""The list of drawings: every kind of drawing in one tuple, the sheets there are of it, and their numbers.

How a kind is described and drawn is in the folder of `proposal/drawings/` with the name of the kind.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Literal, Protocol

from proposal.design.design import Design
from proposal.design.numbers.numbering import natural, sheet_numbers
from proposal.design.pathways.fill import PathwayDesign
from proposal.design.radio.portable_radio import used_in
from proposal.design.rooms.room_kinds import only_room
from proposal.design.sheets.splitting import WHOLE, Part
from proposal.estimate.connection_sheets import detail_risers, overall_risers, signal_flows
from proposal.estimate.equipment_sheets import equipment_room_plans, networks, rack_elevations
from proposal.estimate.plan_sheets import (
    device_schedules,
    mounting_details,
    neighbour_sheets,
    room_plans,
    storey_plans,
)
from proposal.estimate.programme.programme import ProgrammePlan
from proposal.estimate.programme.programme_sheets import crew_parts, gantt_parts
from proposal.estimate.reels.reel_sheets import cut_plan_parts
from proposal.estimate.sheet_titles import called, of_equipment_room, of_portable_set, of_room, of_storey
from proposal.estimate.takeoff_and_reels import Estimate
from proposal.field_classes import dataclass
from proposal.model.project import Project

MOST_SECTIONS = 12
"""Cross-sections that a sheet has places for."""


class Sources(Protocol):
    """What sheets follow from; each is computed when it is first asked for."""

    @property
    def project(self) -> Project:
        """What people wrote."""

    @property
    def design(self) -> Design:
        """What follows from it."""

    @property
    def estimate(self) -> Estimate:
        """What it takes."""

    @property
    def programme(self) -> ProgrammePlan:
        """When the work is done."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetKind:
    """A kind of drawing, and which sheets there are of it.

    name: as readers see it, and the name of the folder that draws it.
    series: letter that its sheet numbers begin with.
    title: of a drawing, by its subject.
    drawings: subject of each drawing of the kind, and the parts it is shown in; a subject is empty for the
        whole building, a storey's tag or the key of a kind of room.
    listed: field of the document that its sheets stand in, which says who reads them.
    charged: whether labour counts the hours of drawing it.
    kept: whether an issued revision keeps its numbers; others follow from the part alone.
    """

    name: str
    series: str
    title: Callable[[Project, str], str]
    drawings: Callable[[Sources], Iterable[tuple[str, tuple[Part, ...]]]]
    listed: Literal["sheets", "detail_sheets", "check_sheets"] = "sheets"
    charged: bool = True
    kept: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A drawing sheet: its number, what it is of, and the part of the drawing it shows.

    number, title: of the sheet.
    kind: what it is a drawing of.
    subject: empty, a storey's tag or the key of a kind of room.
    part, parts: which sheet of how many.
    shows: the part of the drawing.
    """

    number: str
    title: str
    kind: SheetKind
    subject: str
    part: int
    parts: int
    shows: Part

    @property
    def identity(self) -> str:
        """Return what keeps its number: series, subject and part."""
        return _identity(self.kind, self.subject, self.part)


def sheets_of(sources: Sources, kinds: Iterable[SheetKind]) -> tuple[Sheet, ...]:
    """Return the sheets of some kinds of drawings, numbered, in order of kinds, subjects and parts."""
    listed = [
        (_identity(kind, subject, n), kind, subject, n, len(parts), part)
        for kind in kinds
        for subject, parts in kind.drawings(sources)
        for n, part in enumerate(parts, 1)
    ]
    project = sources.project
    named = {kind.key: only_room(project, kind) for kind in sources.design.kinds}
    numbers = sheet_numbers([(kind.series, identity) for identity, kind, *_ in listed], project.issued)
    return tuple(
        Sheet(
            number=numbers[identity],
            title=kind.title(project, _named(project, named, subject))
            + (f" ({n} of {parts})" if parts > 1 else ""),
            kind=kind,
            subject=subject,
            part=n,
            parts=parts,
            shows=part,
        )
        for identity, kind, subject, n, parts, part in listed
    )


def _named(project: Project, named: Mapping[str, str], subject: str) -> str:
    """Return what a drawing is named after: of a kind with one room that needs its name, that room.

    named: that room by the key of its kind, empty where there is none.
    """
    return subject if subject in project.building.storeys else named.get(subject) or subject


def _identity(kind: SheetKind, subject: str, part: int) -> str:
    return f"sheet/{kind.series}/{subject}/{part}"


def all_sheets(sources: Sources) -> tuple[Sheet, ...]:
    """Return every sheet, numbered."""
    return sheets_of(sources, KINDS)


def charged_sheets(sources: Sources) -> tuple[Sheet, ...]:
    """Return the sheets whose hours labour counts; none of them follows from labour."""
    return sheets_of(sources, (kind for kind in KINDS if kind.charged))


def kept_sheets(sources: Sources) -> tuple[Sheet, ...]:
    """Return the sheets whose numbers an issued revision keeps."""
    return sheets_of(sources, (kind for kind in KINDS if kind.kept))


def _conduit_sections(sources: Sources) -> Iterator[tuple[str, tuple[Part, ...]]]:
    fullest = fullest_conduits(sources.design.pathways)
    # Sleeves in rated floors and walls for what lies openly come after them.
    sleeved = tuple(one.tag for one in sources.design.penetrations if one.sleeves)
    if members := (*fullest, *sleeved)[:MOST_SECTIONS]:
        yield "", (Part(members),)


def fullest_conduits(pathways: Sequence[PathwayDesign]) -> tuple[str, ...]:
    """Return the tags of the conduits and sleeves that are fullest against their limits, fullest first."""
    filled = [
        (-one.fill.result / (one.fill.limit or 1.0), natural(one.tag), one.tag)
        for one in pathways
        if one.fill is not None and one.tubing is not None
    ]
    return tuple(tag for _, _, tag in sorted(filled)[:MOST_SECTIONS])


def _cut_plans(sources: Sources) -> Iterator[tuple[str, tuple[Part, ...]]]:
    """Yield the cut plan of the types of cable that are cut from several reels.

    Who pulls has to know there which run comes from which reel; from a single reel every run is cut as it
    comes, and the table of reels has it.
    """
    drawn = [order for order in sources.estimate.reels if len(order.plan.reels) > 1]
    if parts := cut_plan_parts([(order.model, order.plan.reels) for order in drawn]):
        yield "", parts


def _crew_loadings(sources: Sources) -> Iterator[tuple[str, tuple[Part, ...]]]:
    if parts := crew_parts(sources.project, sources.programme):
        yield "", parts


KINDS = (
    SheetKind(
        name="riser overall",
        series="R",
        title=called("Riser, whole building"),
        drawings=lambda sources: overall_risers(sources.project, sources.design),
    ),
    SheetKind(
        name="riser detail",
        series="D",
        title=lambda project, subject: of_storey(
            "Riser in detail" if project.building.equipment_rooms else "Cables in detail"
        )(project, subject),
        drawings=lambda sources: detail_risers(sources.project, sources.design),
        listed="detail_sheets",
    ),
    SheetKind(
        name="floor plan",
        series="P",
        title=of_storey("Floor plan"),
        drawings=lambda sources: storey_plans(sources.project),
    ),
    SheetKind(
        name="ceiling plan",
        series="Q",
        title=of_storey("Ceiling plan"),
        drawings=lambda sources: storey_plans(sources.project),
        # It is the other half of what the floor plan is drawn from, whose hours are counted.
        charged=False,
    ),
    SheetKind(
        name="room plan",
        series="M",
        title=of_room("Room plan"),
        drawings=lambda sources: room_plans(sources.project, sources.design),
        # It is drawn from what the floor plan holds, whose hours are counted.
        charged=False,
    ),
    SheetKind(
        name="portable place",
        series="U",
        title=of_portable_set,
        drawings=lambda sources: ((f"{tag} {place}", WHOLE) for tag, place in used_in(sources.project)),
        # It is drawn from the place and the devices of the set; nobody draws by hand.
        charged=False,
    ),
    SheetKind(
        name="mounting details",
        series="F",
        title=called("Mounting details"),
        drawings=lambda sources: mounting_details(sources.design),
        listed="detail_sheets",
        # It is drawn from the schedule of devices alone; nobody draws by hand.
        charged=False,
    ),
    SheetKind(
        name="device schedule",
        series="T",
        title=of_storey("Devices and cables"),
        drawings=lambda sources: device_schedules(sources.project, sources.design),
        listed="detail_sheets",
        # It is drawn from the schedules of devices and cables alone; nobody draws by hand.
        charged=False,
    ),
    SheetKind(
        name="signal flow",
        series="S",
        title=of_room("Signal flow"),
        drawings=lambda sources: signal_flows(sources.design),
    ),
    SheetKind(
        name="charge timeline",
        series="B",
        title=of_room("Meeting day"),
        drawings=lambda sources: (
            (key, tuple(Part((day.name,)) if day.name else Part() for day in days))
            for key, days in sources.design.days.items()
        ),
    ),
    SheetKind(
        name="conduit sections",
        series="C",
        title=called("Cross-sections of the fullest conduits"),
        drawings=_conduit_sections,
        listed="detail_sheets",
    ),
    SheetKind(
        name="rack elevation",
        series="E",
        title=called("Rack elevations"),
        drawings=lambda sources: rack_elevations(sources.design),
        listed="detail_sheets",
    ),
    SheetKind(
        name="equipment room plan",
        series="V",
        title=of_equipment_room,
        drawings=lambda sources: equipment_room_plans(sources.project),
        listed="detail_sheets",
        # It is drawn from the walls that are given and from what stands there; nobody draws by hand.
        charged=False,
    ),
    SheetKind(
        name="network",
        series="W",
        title=called("Network"),
        drawings=lambda sources: networks(sources.design),
        # It is drawn from the port map alone; nobody draws by hand.
        charged=False,
    ),
    SheetKind(
        name="level map",
        series="L",
        title=of_room("Radio level"),
        drawings=lambda sources: ((key, WHOLE) for key in sources.design.level_maps),
        charged=False,
    ),
    SheetKind(
        name="radio neighbours",
        series="N",
        title=of_storey("Radio neighbours"),
        drawings=lambda sources: neighbour_sheets(sources.project, sources.design),
        listed="detail_sheets",
        charged=False,
    ),
    SheetKind(
        name="cut plan",
        series="K",
        title=called("Cut plan of the reels"),
        drawings=_cut_plans,
        listed="detail_sheets",
    ),
    SheetKind(
        name="gantt chart",
        series="G",
        title=called("Programme"),
        drawings=lambda sources: [("", gantt_parts(sources.programme))],
        charged=False,
        kept=False,
    ),
    SheetKind(
        name="crew loading",
        series="H",
        title=called("Crew loading"),
        drawings=_crew_loadings,
        listed="check_sheets",
        charged=False,
        kept=False,
    ),
)
"""Every kind of drawing, in the order in which sheets are listed."""
