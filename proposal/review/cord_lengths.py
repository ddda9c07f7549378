"""Rules about cords in racks: mains cords that the library lacks, and cords that do not reach."""

from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.racks.power_strips import mains_cord
from proposal.design.racks.rack_cords import rack_cords
from proposal.model.project import Project
from proposal.quantities.formatting import listed
from proposal.review.finding import Finding, Rule, at_least_words, written_place
from proposal.review.racks import rack_place
from proposal.standards.sources import COMMON_PRACTICE


def mains_cords(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for inlets of a rack for which there is no mains cord, an error where none reaches."""
    for rack in design.racks:
        forms, outlets = rack.layout.inlets, rack.layout.outlet_forms
        lacking = [one for one in rack.layout.plugged if not one.cord and forms[one.device]]
        short = [
            one for one in lacking if mains_cord(project, forms[one.device], outlets[one.strip]) and one.way_m
        ]
        if names := sorted({one.device for one in lacking if one not in short}):
            sorts = listed(sorted({forms[name] for name in names}))
            yield Finding(
                rule="no-mains-cord",
                severity="warning",
                where=rack.device.tag,
                place=rack_place(project, rack),
                message=f"The library has no mains cord from the strips of {rack.device.tag} to {sorts}, for "
                f"{listed(names)}.",
                source=COMMON_PRACTICE,
                remedy="Add a part with the role `mains cord` for these to rack_parts of the library.",
            )
        if short:
            longest = max(short, key=lambda one: one.way_m)
            yield Finding(
                rule="mains-cord-too-short",
                severity="error",
                where=rack.device.tag,
                place=rack_place(project, rack),
                message=f"No mains cord of the library reaches from {longest.strip} to {longest.device} in "
                f"{rack.device.tag}; so it is with {listed(sorted({one.device for one in short}))}.",
                value=_longest_m(project, forms[longest.device], outlets[longest.strip]),
                limit=longest.way_m,
                unit="m",
                source=COMMON_PRACTICE,
                remedy=f"Add a mains cord of {_in_words(project, longest.way_m)} or longer from "
                f"{outlets[longest.strip]} to {forms[longest.device]} to rack_parts of the library, or give "
                f"{longest.device} a rack_unit nearer to {longest.strip} in fixed.yaml.",
            )


def _longest_m(project: Project, inlet: str, outlet: str) -> float:
    """Return the length of the longest mains cord of the library between two sorts, m."""
    return max(
        part.length
        for part in project.library.rack_parts.values()
        if (part.role, part.inlet_form, part.outlet_form) == ("mains cord", inlet, outlet)
    )


def patch_cords(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each equipment room where patch cords or leads do not reach from end to end."""
    room_of = {rack.device.tag: rack.device.room for rack in design.racks}
    room_of |= {item.name: rack.device.room for rack in design.racks for item in rack.layout.items}
    short: dict[str, list[tuple[float, float, str]]] = {}
    for one in rack_cords(project, design.racks, design.graph.joins, design.entries):
        if one.length_m < one.way_m - 1e-9:
            room = room_of[one.ends[0].partition("/")[0]]
            words = f"{one.ends[0]} to {one.ends[1]}"
            short.setdefault(room, []).append((one.way_m, one.length_m, words))
    for room, ways in short.items():
        way_m, length_m, longest = max(ways)
        others = sorted({words for _, _, words in ways} - {longest})
        yield Finding(
            rule="patch-cord-too-short",
            severity="error",
            where=room,
            place=written_place(
                project,
                ("project", "rules", "cabling", "equipment_cord"),
                ("building", "equipment_rooms", room),
            ),
            message=f"In the racks of {room}, the cord or lead from {longest} does not reach"
            + (f"; neither do those from {listed(others)}." if others else "."),
            value=length_m,
            limit=way_m,
            unit="m",
            source=COMMON_PRACTICE,
            remedy=f"Write `equipment_cord: {_in_words(project, way_m)}` under rules.cabling in "
            "project.yaml.",
        )


def _in_words(project: Project, length_m: float) -> str:
    return at_least_words(length_m, project.brief.units)


RACK_CORD_RULES: tuple[Rule, ...] = (mains_cords, patch_cords)
