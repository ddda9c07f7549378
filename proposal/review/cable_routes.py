"""Rules about cable routes: fixed or measured by hand, through spaces, outside pathways; and categories."""

from collections.abc import Iterator

from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_choice import cable_entries
from proposal.design.connections.jackets import (
    JACKET_WORDS,
    UNKNOWN_CEILING,
    jacket_needs,
    lacking,
    suits_unknown_ceiling,
    unknown_ceiling_words,
)
from proposal.design.design import Design
from proposal.design.pathways.penetrations import FIRE_STOPPING, furnishes_fire_stopping
from proposal.errors import Place
from proposal.model.equipment.materials import DataCable
from proposal.model.project import Project
from proposal.quantities.floor_runs import ALONG_FURNITURE_M
from proposal.review.cable_remedies import cables_for_ceiling, other_cables, speed_wanted
from proposal.review.finding import (
    Finding,
    Rule,
    at_least_words,
    counted,
    length_words,
    listed,
    written_place,
)
from proposal.review.pathway_remedies import pathway_there
from proposal.standards.sources import COMMON_PRACTICE, EDITABLE_DEFAULT, Source
from proposal.standards.tia568 import HIGHEST_RATE_BIT_S

_NAMED = 3
RATES = Source("IEEE 802.3", memory=True)
WET = Source("NFPA 70", clause="300.5(B)", memory=True)
CLASSES = Source("EN 50575", memory=True)
PLENUM = Source("NFPA 70", clause="300.22 and 800.113", memory=True)


def fixed_routes(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each route fixed by hand that is not continuous."""
    for cable in design.cables:
        if cable.route.fault:
            yield Finding(
                rule="route-broken",
                severity="error",
                where=cable.identity,
                place=project.place("fixed", "cables", cable.identity, "route"),
                message=f"The route fixed by hand is not continuous: {cable.route.fault}.",
                source=COMMON_PRACTICE,
                remedy="Name pathways that meet, in order from the device to the rack.",
            )


def measured_lengths(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each length fixed by hand that is shorter than the drawn way without any slack."""
    units = project.brief.units
    for cable in design.cables:
        drawn_m = cable.route.length_m
        if not cable.measured or cable.length_m >= drawn_m - 1e-6:
            continue
        yield Finding(
            rule="length-below-way",
            severity="warning",
            where=cable.identity,
            place=project.place("fixed", "cables", cable.identity, "length"),
            message="The length fixed by hand is shorter than the drawn way, without any slack at the ends.",
            value=cable.length_m,
            limit=drawn_m,
            unit="m",
            source=COMMON_PRACTICE,
            remedy="Measure again: the drawn way with its slack takes "
            f"{at_least_words(drawn_m + cable.slack_m, units)}. If the cable takes a shorter way, name the "
            "pathways of that way (route), or describe them.",
        )


def on_floors(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each room whose cables lie farther along its floor than furniture hides them."""
    units = project.brief.units
    for room in design.rooms:
        far = [cable for cable in room.cables if cable.route.floor_m > ALONG_FURNITURE_M + 1e-6]
        if not far:
            continue
        longest = max(far, key=lambda cable: cable.route.floor_m)
        names = listed([cable.identity for cable in far[:_NAMED]])
        more = f" and {len(far) - _NAMED} more" if len(far) > _NAMED else ""
        yield Finding(
            rule="cable-on-the-floor",
            severity="warning",
            where=room.tag,
            place=project.place("rooms", room.tag),
            message=f"{counted(len(far), 'cable')} of room {room.tag} ({names}{more}) "
            f"{'lies' if len(far) == 1 else 'lie'} on its floor to the next wall or floor box, and no "
            f"pathway holds {'it' if len(far) == 1 else 'them'} there.",
            value=longest.route.floor_m,
            limit=ALONG_FURNITURE_M,
            unit="m",
            source=COMMON_PRACTICE,
            remedy="Describe a floor box at the device and a conduit to it (nodes and pathways of "
            "building.yaml), stand the device nearer to a wall, or agree in the scope who lays "
            f"{length_words(longest.route.floor_m, units)} of floor duct or cable cover.",
        )


def jackets(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each cable whose jacket does not suit a space on its route."""
    entries = cable_entries(project)
    for cable in design.cables:
        entry = entries.get(cable.model)
        if entry is None:
            continue
        # A jacket for risers is asked for by storeys, which has a rule of its own.
        needs = tuple(need for need in jacket_needs(project, cable.route, rises=False) if need != "riser")
        missing = lacking(entry.jacket, needs)
        if missing:
            spaces = dict.fromkeys(s.space for s in cable.route.stretches if s.space)
            yield Finding(
                rule="jacket-wrong-for-space",
                severity="error",
                where=cable.identity,
                place=_type_place(project, cable, *spaces),
                message=f"The route leads through {listed(tuple(spaces))}, which asks for "
                f"{listed(tuple(JACKET_WORDS[need] for need in missing))}; {cable.model} has none.",
                source=PLENUM if "plenum" in missing else WET,
                remedy=other_cables(project, design, cable),
            )


def ceilings(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a finding for each cable whose jacket does not suit a ceiling space that is not described."""
    entries = cable_entries(project)
    wanted = unknown_ceiling_words(project)
    adopted = project.brief.rules.cabling.nfpa_70(project.brief.region)
    for cable in design.cables:
        entry = entries.get(cable.model)
        if entry is None or suits_unknown_ceiling(project, entry.jacket):
            continue
        if UNKNOWN_CEILING in jacket_needs(project, cable.route, rises=False):
            yield Finding(
                rule="jacket-for-unknown-ceiling",
                severity="error" if adopted else "warning",
                where=cable.identity,
                place=_type_place(project, cable),
                message="The cable lies in a ceiling space that is not described, which is taken to ask for "
                f"{wanted}; {cable.model} has none.",
                source=PLENUM if adopted else CLASSES,
                remedy=f"{cables_for_ceiling(project, design, cable)} Or describe the space: ceiling_space "
                f"of storey {cable.start_storey}.",
            )


def halogens(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each cable with halogens where cables have to be free of them."""
    entries = cable_entries(project)
    for cable in design.cables:
        entry = entries.get(cable.model)
        if entry is not None and project.brief.rules.cabling.halogen_free and not entry.jacket.low_smoke:
            yield Finding(
                rule="jacket-not-halogen-free",
                severity="error",
                where=cable.identity,
                place=_type_place(project, cable),
                message=f"Cables have to be free of halogens; {cable.model} is not.",
                source=EDITABLE_DEFAULT,
                remedy=other_cables(project, design, cable),
            )


def _type_place(project: Project, cable: Cable, *spaces: str) -> Place:
    """Return where the type of a cable is written, else the spaces that ask for another, else its room."""
    return written_place(
        project,
        ("fixed", "cables", cable.identity, "type"),
        ("project", "rules", "cabling", "data_cable"),
        *(("building", "spaces", space) for space in spaces),
        ("rooms", cable.room),
    )


def categories(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each cable whose category is too low for the speed of its device's port."""
    for cable in design.cables:
        entry = project.library.cables.get(cable.model)
        if not isinstance(entry, DataCable) or cable.signal != "network":
            continue
        speed = speed_wanted(design, cable)
        highest = HIGHEST_RATE_BIT_S[entry.category]
        if speed is not None and speed > highest:
            yield Finding(
                rule="category-too-low",
                severity="error",
                where=cable.identity,
                place=_type_place(project, cable),
                message=f"The port of {cable.start} is faster than category {entry.category} carries.",
                value=speed / 1e9,
                limit=highest / 1e9,
                unit="Gbit/s",
                source=RATES,
                remedy=other_cables(project, design, cable),
            )


def outside(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a note for each room with cables that run far outside the pathways that the building has."""
    if not project.building.pathways:
        return
    most_m = project.brief.rules.review.outside_pathways
    for room in design.rooms:
        cables = [cable for cable in room.cables if not cable.end.startswith(f"{room.tag}-")]
        farthest = max(cables, key=lambda cable: cable.route.outside_m, default=None)
        if farthest is not None and farthest.route.outside_m > most_m:
            yield Finding(
                rule="far-outside-pathways",
                severity="note",
                where=room.tag,
                place=project.place("rooms", room.tag),
                message=f"{farthest.identity} runs far outside the pathways described.",
                value=farthest.route.outside_m,
                limit=most_m,
                unit="m",
                source=COMMON_PRACTICE,
                remedy=pathway_there(project, farthest, most_m),
            )


def fire_stopping(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning where openings are ours to close and the library has nothing to close them with."""
    openings = design.penetrations
    if not openings or not furnishes_fire_stopping(project):
        return
    if any(one.use == "fire-stopping" for one in project.library.consumables.values()):
        return
    yield Finding(
        rule="no-fire-stopping",
        severity="warning",
        where=openings[0].tag,
        place=written_place(
            project,
            ("project", "responsibilities", "rows", FIRE_STOPPING),
            ("building", "pathways", openings[0].pathway),
        ),
        message=f"{counted(len(openings), 'opening')} through rated walls and floors "
        f"({listed([one.tag for one in openings])}) are ours to close, and the library has no fire-stopping: "
        "none is counted or priced.",
        value=float(len(openings)),
        limit=0.0,
        unit="openings",
        source=EDITABLE_DEFAULT,
        remedy="Add a consumable for fire-stopping to the project's or the company's library, or let "
        f"others furnish it: row {FIRE_STOPPING} of responsibilities.",
    )


CABLE_ROUTE_RULES: tuple[Rule, ...] = (
    fixed_routes,
    measured_lengths,
    on_floors,
    jackets,
    ceilings,
    halogens,
    categories,
    outside,
    fire_stopping,
)
