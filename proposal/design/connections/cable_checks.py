"""The checks of one data cable against link, channel and cords, and the inputs they rest on."""

from collections.abc import Sequence

from proposal.design.connections.cable_temperature import TemperatureSegment
from proposal.field_classes import dataclass
from proposal.standards import tia568
from proposal.standards.working import Limit, Working, working

AMBIENT_USE = "building.ceiling_temperature"
DATA_CABLE_USE = "project.rules.cabling.data_cable"
CORD_GAUGE_USE = "project.rules.cabling.cord_gauge"
EQUIPMENT_CORD_USE = "project.rules.cabling.equipment_cord"
DEVICE_CORD_USE = "project.rules.cabling.device_cord"


_TOO_WARM = "The cable is warmer than the standard covers."


@dataclass(frozen=True, slots=True, kw_only=True)
class LinkUses:
    """Dotted paths of the project inputs that a link's checks rest on.

    length: of its length, none where it was measured.
    warmth: of its temperature and of its kind of cable.
    cords: of its cords.
    """

    length: tuple[str, ...]
    warmth: tuple[str, ...]
    cords: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LinkChecks:
    """The checks of a link.

    rises: share by which its insertion loss rises with temperature, for each of its stretches.
    link, channel: held against 90 m and 100 m.
    cords: cords that the link allows, held against those used; None where the 10 m rule is kept.
    device_cord: cord that is left for the device, held against the one used; None where that rule is kept.
    limit_m: longest permanent link at its temperatures, m.
    """

    rises: tuple[Working, ...]
    link: Working
    channel: Working
    cords: Working | None
    limit_m: float
    device_cord: Working | None = None

    @property
    def workings(self) -> tuple[Working, ...]:
        """Return every working, in order."""
        further = (self.cords, self.device_cord)
        return (*self.rises, self.link, self.channel, *(one for one in further if one))

    @property
    def holds(self) -> bool:
        """Return whether every check holds."""
        return all(one.verdict != "fails" for one in self.workings)


def link_checks(
    warmth: Sequence[TemperatureSegment],
    cords_m: float,
    *,
    screened: bool,
    cord_gauge_awg: int,
    uses: LinkUses,
    device_cord_m: float = 0.0,
) -> LinkChecks:
    """Return the checks of a link.

    warmth: how much of the link lies at which temperature; beyond what the standard covers its end is
        taken, and the review says so.
    cords_m: cords at both ends together, m.
    screened: whether the cable is screened.
    cord_gauge_awg: gauge of the cords.
    uses: project inputs behind the values.
    device_cord_m: the part of the cords that is at the device, m.
    """
    length_m = sum(part.length_m for part in warmth)
    rises = tuple(
        working(
            tia568.insertion_loss_rise,
            uses=uses.warmth,
            note=_TOO_WARM if part.temperature_c > tia568.WARMEST_CABLE_C else "",
            temperature_c=min(max(part.temperature_c, tia568.COLDEST_CABLE_C), tia568.WARMEST_CABLE_C),
            screened=screened,
        )
        for part in warmth
    )
    link = working(
        tia568.weighted_length_m,
        title="Permanent link, weighted by temperature",
        limit=tia568.PERMANENT_LINK_LIMIT,
        uses=(*uses.length, *uses.warmth),
        lengths_m=tuple(part.length_m for part in warmth),
        rises=tuple(rise.result for rise in rises),
    )
    channel = working(
        tia568.channel_length_m,
        limit=tia568.CHANNEL_LIMIT,
        uses=(*uses.length, *uses.cords),
        permanent_link_m=length_m,
        cords_m=cords_m,
    )
    cords = _cords(link, cords_m, cord_gauge_awg, uses)
    return LinkChecks(
        rises=rises,
        link=link,
        channel=channel,
        cords=cords,
        device_cord=_device_cord(cords, cords_m, device_cord_m, cord_gauge_awg),
        limit_m=tia568.permitted_permanent_link_m(_mean(rises, warmth)),
    )


def _mean(rises: Sequence[Working], warmth: Sequence[TemperatureSegment]) -> float:
    """Return the rise over the whole link; never beyond those of its stretches, whatever the rounding."""
    length_m = sum(part.length_m for part in warmth)
    results = [rise.result for rise in rises]
    if length_m <= 0:
        return max(results, default=0.0)
    weighted = sum(rise * part.length_m for rise, part in zip(results, warmth, strict=True))
    return min(max(weighted / length_m, min(results)), max(results))


def _cords(link: Working, cords_m: float, cord_gauge_awg: int, uses: LinkUses) -> Working | None:
    """Return the check of the cords: where the table covers the link, or where they are longer than 10 m."""
    shortest_m, longest_m = tia568.CORD_TABLE_LINKS_M
    covered = shortest_m <= link.result <= longest_m
    longer = link.result < shortest_m and cords_m > tia568.CORDS_LIMIT.value
    if not covered and not longer:
        return None
    note = "The horizontal cable is the link weighted by temperature"
    return working(
        tia568.cord_length_m,
        title="Cords allowed by the link, at least those used",
        limit=Limit(cords_m, "≥", tia568.CORD_TABLE),
        uses=(*uses.length, *uses.warmth, *uses.cords, CORD_GAUGE_USE),
        note=f"{note}." if covered else f"{note}; it is shorter than the table's shortest, which is taken.",
        permanent_link_m=max(link.result, shortest_m),
        derating=tia568.cord_derating(cord_gauge_awg),
    )


def _device_cord(
    cords: Working | None, cords_m: float, device_cord_m: float, cord_gauge_awg: int
) -> Working | None:
    """Return the check of the cord at the device, where the cords' length follows the table."""
    if cords is None or not device_cord_m or cord_gauge_awg not in tia568.ROOM_CORDS_M:
        return None
    return working(
        tia568.work_area_cord_m,
        title="Cord left for the device, at least the one used",
        limit=Limit(device_cord_m, "≥", tia568.CORD_TABLE),
        uses=cords.uses,
        cords_m=cords.result,
        room_cords_m=cords_m - device_cord_m,
        gauge_awg=cord_gauge_awg,
    )
