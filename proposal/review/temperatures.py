"""Rules about temperatures: devices work at the temperature of the place where they stand."""

from collections.abc import Iterator

from proposal.design.design import Design
from proposal.errors import Place
from proposal.model.project import Project
from proposal.quantities.formatting import quantity
from proposal.review.finding import Finding, Rule, written_place
from proposal.standards.sources import COMMON_PRACTICE

_RACK_RISE = "the air in a rack is warmer than that of its room"


def temperatures(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each model that stands where it is too warm or too cold for it.

    In a rack the air is warmer than in its room by what the rules for racks say.
    """
    units, locale = project.brief.units, project.brief.locale
    racks = {rack.device.tag: rack.device.room for rack in design.racks}
    lowest_c = project.building.lowest_room_temperature
    told: set[tuple[str, str, bool]] = set()
    for device in design.devices:
        entry = design.entries.get(device.tag)
        if entry is None or device.kind == "rack":
            continue
        in_rack = device.location in racks
        place = racks.get(device.location, device.room)
        rise_k = project.brief.rules.racks.air_rise if in_rack else 0.0
        highest_c = highest_temperature_c(project, place) + rise_k
        key = (place, device.model, in_rack)
        if key in told or (highest_c <= entry.hottest and lowest_c >= entry.coldest):
            continue
        told.add(key)
        where = f"the rack {device.location}" if in_rack else place
        if highest_c > entry.hottest:
            reason = f", since {_RACK_RISE}" if in_rack else ""
            wanted = quantity(entry.hottest - rise_k, "temperature", units, locale)
            yield Finding(
                rule="too-warm-for-device",
                severity="error",
                where=device.tag,
                place=_place(project, place, "room_temperature"),
                message=f"{device.model} works at lower temperatures than those of {where}{reason}.",
                value=highest_c,
                limit=entry.hottest,
                unit="°C",
                source=COMMON_PRACTICE,
                remedy=f"Keep {place} at {wanted} or below, or choose another model.",
            )
        if lowest_c < entry.coldest:
            wanted = quantity(entry.coldest, "temperature", units, locale)
            yield Finding(
                rule="too-cold-for-device",
                severity="error",
                where=device.tag,
                place=_place(project, place, "lowest_room_temperature"),
                message=f"{device.model} works at higher temperatures than those of {where}.",
                value=lowest_c,
                limit=entry.coldest,
                unit="°C",
                source=COMMON_PRACTICE,
                remedy=f"Keep {place} at {wanted} or above, or choose another model.",
            )


def highest_temperature_c(project: Project, place: str) -> float:
    """Return the highest air temperature of a room or an equipment room, °C.

    place: its tag.
    """
    closet = project.building.equipment_rooms.get(place)
    if closet is not None and closet.temperature is not None:
        return closet.temperature
    return project.building.room_temperature


def _place(project: Project, place: str, field: str) -> Place:
    at = ("rooms", place) if place in project.rooms else ("building", "equipment_rooms", place)
    return written_place(project, (*at, "temperature"), ("building", field), at)


TEMPERATURE_RULES: tuple[Rule, ...] = (temperatures,)
