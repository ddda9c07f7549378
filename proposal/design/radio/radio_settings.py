"""Power, gains and limits of the radios of a project: equipment, region, and what the project sets."""

import math

from proposal.design.equipment.placed_devices import floor_height_m
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import AccessPoint, Microphone
from proposal.model.microphone_positions import MicrophonePosition
from proposal.model.project import Project
from proposal.model.radio.radio import BandUser
from proposal.model.rooms import RoomType
from proposal.standards import dect

REGION_NAMES = {"europe": "Europe", "north_america": "United States"}


@dataclass(frozen=True, slots=True, kw_only=True)
class RadioEnd:
    """One end of a link as the rules of the project have it.

    power_dbm: power setting; gain_db: antenna gain; sensitivity_dbm: least level received well.
    """

    power_dbm: float
    gain_db: float
    sensitivity_dbm: float

    @property
    def radiated_dbm(self) -> float:
        """Return the radiated power, antenna gain included."""
        return self.power_dbm + self.gain_db


def region(project: Project) -> dect.Region:
    """Return what the project's region allows."""
    return dect.REGIONS[REGION_NAMES[project.brief.region]]


def frequency_hz(project: Project) -> float:
    """Return the middle of the carriers of the project's region."""
    carriers = region(project).carriers_hz
    return sum(carriers) / len(carriers)


def power_limit_dbm(project: Project, gain_db: float) -> float:
    """Return the greatest power that the region allows at the antenna connector.

    gain_db: antenna gain.
    """
    if project.brief.region == "north_america":
        return dect.united_states_power_limit_dbm(project.brief.rules.radio.emission_bandwidth, gain_db)
    return region(project).peak_power_dbm


def radiated_by_dbm(project: Project, user: BandUser) -> float:
    """Return what another user of the band radiates, dBm: as stated, else the most that the region allows.

    user: the other user.
    """
    return power_limit_dbm(project, 0.0) if user.power is None else user.power


def refused_dbm(project: Project, end: RadioEnd) -> float:
    """Return the level of others above which a device may not use a place; infinite where none listens.

    end: the device that listens.
    Source: `proposal.standards.dect.listening_threshold_dbm`.
    """
    rules = region(project).listening
    if rules is None:
        return math.inf
    bandwidth_hz = project.brief.rules.radio.emission_bandwidth
    return dect.listening_threshold_dbm(bandwidth_hz, end.power_dbm, rules.least_interfered_db)


def radio_end(
    project: Project, layout: RoomType, entry: AccessPoint | Microphone, *, lower_by: int = 0
) -> RadioEnd | None:
    """Return an end of a link, None where the equipment does not work in the region.

    layout: of its room, whose power setting holds: the highest of the equipment's that is not above it.
    lower_by: settings below that.
    """
    here = entry.radio.regions.get(project.brief.region)
    if here is None:
        return None
    limit = power_limit_dbm(project, entry.radio.antenna_gain)
    wanted = limit if layout.radio.power is None else min(limit, layout.radio.power)
    settings = sorted(here.powers, reverse=True)
    # A limit is printed to 0.1 dB; a setting that equals it is within it.
    allowed = [power for power in settings if power <= wanted + 0.05] or settings[-1:]
    sensitivity = project.brief.rules.radio.sensitivity
    return RadioEnd(
        power_dbm=allowed[min(lower_by, len(allowed) - 1)],
        gain_db=entry.radio.antenna_gain,
        sensitivity_dbm=entry.radio.sensitivity if sensitivity is None else sensitivity,
    )


def most_loss_db(one: RadioEnd, other: RadioEnd) -> float:
    """Return what a path between two ends may lose at most to be received in both directions."""
    return min(
        one.radiated_dbm + other.gain_db - other.sensitivity_dbm,
        other.radiated_dbm + one.gain_db - one.sensitivity_dbm,
    )


def body_loss_db(project: Project, microphone: Microphone) -> float:
    """Return the loss of bodies on the wanted path of a microphone."""
    by_rule = project.brief.rules.radio.body_loss
    return microphone.body_loss if by_rule is None else by_rule


def ratio_db(project: Project, access_point: AccessPoint, microphone: Microphone) -> float:
    """Return the carrier-to-interference ratio that a link wants, fade margin included."""
    rules = project.brief.rules.radio
    own = max(access_point.radio.carrier_to_interference, microphone.radio.carrier_to_interference)
    needed = own if rules.carrier_to_interference is None else rules.carrier_to_interference
    return needed + rules.fade_margin


def spacing_m(project: Project, *entries: AccessPoint) -> float:
    """Return the least distance between access points: the rule, or more where the equipment asks for it."""
    return max([project.brief.rules.radio.access_point_spacing, *(entry.least_spacing for entry in entries)])


def access_point_height_m(layout: RoomType) -> float:
    """Return the height of a room's ceiling access points above the floor."""
    by_hand = layout.radio.access_point_height
    return layout.ceiling.height if by_hand is None else by_hand


def written_height_m(project: Project, layout: RoomType, mounting: str) -> float:
    """Return the height of access points with written positions above the floor, m.

    mounting: ceiling or wall.
    """
    ceiling_m = access_point_height_m(layout)
    if mounting == "ceiling" or layout.radio.access_point_height is not None:
        return ceiling_m
    rules = project.brief.rules.radio
    return min(rules.wall_height, ceiling_m - rules.below_ceiling)


def microphone_height_m(project: Project, layout: RoomType, position: MicrophonePosition) -> float:
    """Return the height of a microphone above the floor of its room: as written, else by its form.

    layout: of the room; on a level of it, such as a balcony, the height counts from the floor there.
    """
    above_m = project.brief.rules.microphones.height_m(position.form)
    if position.height is not None:
        above_m = position.height
    return floor_height_m(layout, position.level) + above_m
