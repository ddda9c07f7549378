"""Rules about racks: what finds no place, what is too deep or heavy, outlets and air."""

from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.racks.rack_choice import RackDesign, holds
from proposal.design.racks.rack_layout import usable_units
from proposal.errors import Place
from proposal.model.project import Project
from proposal.quantities.formatting import listed, quantity
from proposal.review.finding import Finding, Rule, error_at
from proposal.standards.sources import COMMON_PRACTICE, EDITABLE_DEFAULT, Source

EIA_310 = Source("EIA-310", memory=True)


def racks(project: Project, design: Design) -> Iterator[Finding]:
    """Yield what does not hold of each rack."""
    for rack in design.racks:
        yield from problems_of(project, rack)
        yield from _spare(project, rack)


def problems_of(project: Project, rack: RackDesign) -> Iterator[Finding]:
    """Yield an error for whatever a rack cannot hold."""
    entry = rack.entry
    if entry is None:
        return
    yield from _units(project, rack)
    yield from _overlaps(project, rack)
    items = rack.layout.items
    units = project.brief.units
    locale = project.brief.locale
    shelved = rack.layout.shelved
    for item in (*items, *rack.layout.left):
        if item.units == 0 and item.kind != "power strip" and item.name not in shelved:
            yield error_at(
                rack.device.tag,
                rack_place(project, rack),
                "not-for-a-rack",
                f"{item.name} ({item.entry.model}) is not made for a rack.",
                f"Fix another model for {item.name} in fixed.yaml.",
                EIA_310,
            )
        if not holds(project, entry, item):
            deep = item.depth_m > entry.usable_depth
            what = (
                f"{item.name} is {quantity(item.depth_m, 'short_length', units, locale)} deep; "
                f"{rack.device.tag} has {quantity(entry.usable_depth, 'short_length', units, locale)}."
                if deep
                else f"{item.name} weighs {quantity(item.weight_kg, 'mass', units, locale)}, which wants "
                f"front and rear rails; {rack.device.tag} has front rails alone."
            )
            wanted = "a deeper rack" if deep else "a rack with front and rear rails"
            yield error_at(
                rack.device.tag,
                rack_place(project, rack),
                "rack-too-shallow" if deep else "rack-without-rear-rails",
                what,
                f"Name {wanted} for {rack.device.tag} in building.yaml, or leave its model out.",
                COMMON_PRACTICE,
            )
    if rack.weight_kg > entry.load:
        yield error_at(
            rack.device.tag,
            rack_place(project, rack),
            "rack-overloaded",
            f"What stands in {rack.device.tag} weighs more than it carries.",
            f"Name a stronger rack for {rack.device.tag} in building.yaml, or a second rack beside it.",
            COMMON_PRACTICE,
            rack.weight_kg,
            entry.load,
            "kg",
        )
    if rack.layout.strips.lacking:
        volts = quantity(project.brief.mains_voltage, "voltage", units, locale)
        yield error_at(
            rack.device.tag,
            rack_place(project, rack),
            "no-power-strip",
            f"The library has no power strip for {volts} that feeds what stands in {rack.device.tag}.",
            "Add such a strip to rack_parts of the project's or the company's library.",
            EDITABLE_DEFAULT,
        )
    if rack.layout.air_m3_h < rack.layout.air_wanted_m3_h:
        yield error_at(
            rack.device.tag,
            rack_place(project, rack),
            "rack-too-warm",
            f"The heat of {rack.device.tag} needs more air than its fans move.",
            f"Name a rack with stronger fans for {rack.device.tag}, a second rack beside it, or add a fan "
            "panel to the library.",
            COMMON_PRACTICE,
            rack.layout.air_m3_h,
            rack.layout.air_wanted_m3_h,
            "m³/h",
        )


def _units(project: Project, rack: RackDesign) -> Iterator[Finding]:
    entry, left = rack.entry, rack.layout.left
    if entry is None or not left:
        return
    needed = rack.layout.used + rack.layout.units_left
    names = [item.name for item in left]
    shown = listed(names[:6]) + (f" and {len(names) - 6} more" if len(names) > 6 else "")
    wanted = _units_with_spare(project, needed)
    yield error_at(
        rack.device.tag,
        rack_place(project, rack),
        "rack-full",
        f"{rack.device.tag} has no place for {shown}: gaps for air included, {needed} units are needed of "
        f"{entry.units}.",
        f"Name a rack of {wanted} units or more for {rack.device.tag}, a second rack in {rack.device.room}, "
        "or a further equipment room nearer to some of the rooms.",
        EIA_310,
        float(needed),
        float(entry.units),
        "units",
    )


def _units_with_spare(project: Project, needed: int) -> int:
    """Return the least units of a rack in which so many may be used."""
    units = needed
    spare = project.brief.rules.racks.spare_units
    while units * (1 - spare) + 1e-9 < needed:
        units += 1
    return units


def _overlaps(project: Project, rack: RackDesign) -> Iterator[Finding]:
    for item, other in rack.layout.overlaps:
        where = f"where {other} stands" if other else "beyond its units"
        yield Finding(
            rule="rack-overlap",
            severity="error",
            where=item.name,
            place=project.place("fixed", "devices", item.name, "rack_unit"),
            message=f"{item.name} is fixed to unit {item.wished} of {rack.device.tag}, {where}.",
            source=EIA_310,
            remedy=f"Give {item.name} another rack_unit in fixed.yaml, or leave it out.",
        )


def _spare(project: Project, rack: RackDesign) -> Iterator[Finding]:
    """Yield a warning where what stands in a rack leaves less free than wanted."""
    entry = rack.entry
    if entry is None or rack.layout.left or rack.layout.used <= usable_units(project, entry):
        return
    wanted = _units_with_spare(project, rack.layout.used)
    yield Finding(
        rule="rack-without-spare",
        severity="warning",
        where=rack.device.tag,
        place=rack_place(project, rack),
        message=f"{rack.device.tag} leaves fewer units free than the rules require.",
        value=float(entry.units - rack.layout.used),
        limit=float(entry.units - usable_units(project, entry)),
        unit="units",
        source=COMMON_PRACTICE,
        remedy=f"Name a rack of {wanted} units or more for {rack.device.tag}, or leave its model out.",
    )


def rack_place(project: Project, rack: RackDesign) -> Place:
    """Return where a rack is written."""
    return project.place("building", "equipment_rooms", rack.device.room, "racks", rack.device.code)


RACK_RULES: tuple[Rule, ...] = (racks,)
