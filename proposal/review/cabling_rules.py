"""Rules about cables: link, channel, cords, screen, conductor, temperature."""

from collections.abc import Iterator

from proposal.design.cabling import Cable
from proposal.design.design import Design
from proposal.design.placing import in_building
from proposal.design.routes import route
from proposal.errors import Place
from proposal.model.project import Project
from proposal.review.findings import Finding, Rule
from proposal.standards.tia568 import CHANNEL_LIMIT, CORD_TABLE, TIA_568_2
from proposal.standards.working import COMMON_PRACTICE, Source

NEAR_LIMIT_SHARE = 0.05
COPPER_CLAD = Source("ANSI/TIA-568.2-D", clause="conductors of copper", memory=True)


def links(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each link, channel or cords over the limit, a warning for links near it."""
    for cable in design.cables:
        if cable.limit_m is None:
            continue
        limits = dict(zip(("link", "channel", "cords"), cable.checks, strict=False))
        if limits["link"].verdict == "fails":
            yield Finding(
                rule="link-too-long",
                severity="error",
                where=cable.identity,
                place=_place(project, cable),
                message=f"The permanent link is {cable.length_m - cable.limit_m:.1f} m too long "
                f"at {cable.temperature_c:g} °C.",
                value=cable.length_m,
                limit=cable.limit_m,
                unit="m",
                source=TIA_568_2,
                remedy=_remedy(project, design, cable),
            )
        elif cable.limit_m - cable.length_m < NEAR_LIMIT_SHARE * cable.limit_m:
            yield Finding(
                rule="link-near-limit",
                severity="warning",
                where=cable.identity,
                place=_place(project, cable),
                message="The permanent link comes close to its limit; a detour on site would break it.",
                value=cable.length_m,
                limit=cable.limit_m,
                unit="m",
                source=TIA_568_2,
                remedy="Measure the way on site before ordering, and keep to it.",
            )
        if limits["channel"].verdict == "fails":
            yield Finding(
                rule="channel-too-long",
                severity="error",
                where=cable.identity,
                place=_place(project, cable),
                message="Link and cords together are too long.",
                value=cable.channel_m,
                limit=CHANNEL_LIMIT.value,
                unit="m",
                source=TIA_568_2,
                remedy=_remedy(project, design, cable),
            )
        if "cords" in limits and limits["cords"].verdict == "fails":
            yield Finding(
                rule="cords-too-long",
                severity="error",
                where=cable.identity,
                place=project.place("project", "rules", "cabling", "device_cord"),
                message="The cords are longer than the link allows.",
                value=cable.cords_m,
                limit=limits["cords"].result,
                unit="m",
                source=CORD_TABLE,
                remedy="Use shorter cords or cords of thicker conductors.",
            )


def _place(project: Project, cable: Cable) -> Place:
    if cable.measured:
        return project.place("fixed", "cables", cable.identity, "length")
    return project.place("rooms", cable.room)


def _remedy(project: Project, design: Design, cable: Cable) -> str:
    """Return what would make a cable short enough: another equipment room, or a switch near by."""
    room = project.rooms[cable.room]
    device = next(device for device in design.devices if device.tag == cable.start)
    served = next(one.equipment_room for one in design.rooms if one.tag == cable.room)
    others = [
        (route(project, device.at, device.height_m, device.storey, tag).length_m + cable.slack_m, tag)
        for tag in project.building.equipment_rooms
        if tag != served
    ]
    limit_m = cable.limit_m or 0.0
    for length_m, tag in sorted(others):
        if length_m <= limit_m:
            return f"Serve room {cable.room} from {tag}: the link becomes {length_m:.1f} m."
    at = in_building(room, room.layout.outline[0])
    return (
        f"No equipment room is near enough; put a switch near {cable.room} (about x {at[0]:.0f} m, "
        f"y {at[1]:.0f} m) and feed it by optical fibre."
    )


def materials(project: Project, design: Design) -> Iterator[Finding]:
    """Yield errors for cables of the wrong make: no screen where one is wanted, not copper, none."""
    for cable in design.cables:
        if not cable.model:
            yield Finding(
                rule="no-cable",
                severity="error",
                where=cable.identity,
                place=project.place("rooms", cable.room),
                message=f"The library has no cable that suits this {cable.signal}.",
                source=COMMON_PRACTICE,
                remedy="Add a fitting cable to the project's or the company's library.",
            )
            continue
        entry = project.library.cables.get(cable.model)
        if entry is None:
            continue
        place = project.place("fixed", "cables", cable.identity, "type")
        if cable.screened_wanted and not entry.screened:
            yield Finding(
                rule="screen-missing",
                severity="error",
                where=cable.identity,
                place=place,
                message=f"{cable.start} asks for a screened cable; {cable.model} has no screen.",
                source=COMMON_PRACTICE,
                remedy="Choose a screened cable, or leave the choice to the program.",
            )
        if entry.conductor != "copper":
            yield Finding(
                rule="not-copper",
                severity="error",
                where=cable.identity,
                place=place,
                message=f"The conductors of {cable.model} are {entry.conductor}.",
                source=COPPER_CLAD,
                remedy="Use a cable with conductors of solid copper.",
            )
        if cable.temperature_c > entry.temperature_rating:
            yield Finding(
                rule="cable-too-warm",
                severity="error",
                where=cable.identity,
                place=project.place("building", "ceiling_temperature"),
                message="The cable gets warmer than it is rated for.",
                value=cable.temperature_c,
                limit=entry.temperature_rating,
                unit="°C",
                source=TIA_568_2,
                remedy="Use a cable with a higher temperature rating, or smaller bundles, or another way.",
            )


CABLING_RULES: tuple[Rule, ...] = (links, materials)
