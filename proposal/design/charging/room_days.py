"""The meeting days of each kind of room: how low its microphones get, and what would keep them going."""

from collections import Counter
from collections.abc import Mapping, Sequence

from proposal.design.charging.charge_slots import SlotAssignment, charge_slots, chargers_of
from proposal.design.charging.meeting_day import (
    Day,
    Pack,
    capacity_needed,
    charge_power_needed,
    longer_breaks_needed,
    merged,
    pack_of,
    settled,
    stretches,
    stretches_without_slot,
)
from proposal.design.charging.swap_pool import Rotation, pool_needed, rotation
from proposal.design.equipment.placed_devices import Placed
from proposal.design.numbers.numbering import natural
from proposal.field_classes import dataclass
from proposal.model.design_rules import ChargingRules
from proposal.model.equipment.devices import Charger, Microphone
from proposal.model.equipment.parts import Battery
from proposal.model.microphone_positions import Form
from proposal.model.project import Project
from proposal.model.rooms import RoomType, Session
from proposal.standards.battery import slot_power_w

MOST_CHARGE_W = 60.0
_MOST_TIMES = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupDay:
    """The day of a kind of room's microphones of one form and battery.

    battery: theirs.
    in_use, spares: codes of those in use at once and of spare ones.
    without_slot: codes of those, in use or spare, for which the room's chargers have no slot.
    slot_power_w: what the busiest of their chargers can give each, all its packs charging; 0 without one.
    slot_w, shared_w, packs: highest power of that charger into one slot and into all, and its packs.
    pack: at the end of its life.
    fresh, aged: the day of one in use, with a new pack and one at the end of its life.
    slotless: the day of one in use without a slot, at the end of its life; None where all have one.
    held: the day with the spares that the room holds, aged.
    pool: the day with the fewest spares that suffice, aged; None where as many as in use do not.
    more_slots: charge slots that the chargers lack for the pool.
    longer_breaks_min: by how much each break would have to grow instead, minutes; None where none helps.
    last_end: when the last session then ends, minutes after midnight.
    charge_w: power at which packs would have to gain charge instead, W; None where none up to 60 W helps.
    energy_wh: energy that a new pack would have to hold instead, Wh; None where none up to four times does.
    """

    form: Form
    battery: Battery
    in_use: tuple[str, ...]
    spares: tuple[str, ...]
    without_slot: tuple[str, ...]
    slot_power_w: float
    slot_w: float
    shared_w: float
    packs: int
    pack: Pack
    fresh: Day
    aged: Day
    slotless: Day | None
    held: Rotation
    pool: Rotation | None
    more_slots: int
    longer_breaks_min: int | None
    last_end: float
    charge_w: float | None
    energy_wh: float | None

    @property
    def lowest(self) -> Day:
        """Return the day of the microphone that gets lowest, at the end of its battery's life."""
        days = [self.aged, *([self.slotless] if self.slotless else [])]
        return min(days, key=lambda day: day.lowest)


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomDay:
    """A meeting day of a kind of room.

    key: of the kind.
    name: of the kind of day; empty for the usual one.
    sessions: start and end of each, minutes after midnight, joined where no break parts them.
    night_h: hours from the last session to the first of the next day.
    groups: its microphones by form and battery.
    """

    key: str
    rules: ChargingRules
    sessions: tuple[tuple[float, float], ...]
    night_h: float
    groups: tuple[GroupDay, ...]
    name: str = ""

    def judged(self, group: GroupDay) -> str:
        """Return how a group lasts: alone, with swaps, too few spares, or slots short."""
        reserve = self.rules.reserve - 1e-9
        if group.slotless:
            return "slots short"
        if group.aged.lowest >= reserve:
            return "alone"
        return "with swaps" if group.held.lowest >= reserve else "too few spares"


def room_days(project: Project, key: str, layout: RoomType, devices: Sequence[Placed]) -> tuple[RoomDay, ...]:
    """Return the meeting days of a kind of room: the usual one, where sessions are written, then the others.

    key, layout: of the kind.  devices: those of its first room.
    """
    written = {"": layout.sessions} | {name: layout.days[name] for name in sorted(layout.days, key=natural)}
    return tuple(
        _day(project, key, devices, name, sessions) for name, sessions in written.items() if sessions
    )


def _day(
    project: Project, key: str, devices: Sequence[Placed], name: str, written: Mapping[str, Session]
) -> RoomDay:
    sessions = merged([(float(one.start), float(one.end)) for one in written.values()])
    homes = charge_slots(project, devices)
    chargers = chargers_of(project, devices)
    rules = project.brief.rules.charging
    return RoomDay(
        key=key,
        name=name,
        rules=rules,
        sessions=sessions,
        night_h=(sessions[0][0] + 24 * 60 - sessions[-1][1]) / 60,
        groups=tuple(
            _group(project, group, sessions, homes, chargers)
            for group in _grouped(project, devices)
            if group.in_use
        ),
    )


@dataclass(slots=True, kw_only=True)
class _Members:
    """Microphones of one form, battery and system."""

    form: Form
    battery: Battery
    system: str
    in_use: list[Placed]
    spares: list[Placed]


def _grouped(project: Project, devices: Sequence[Placed]) -> list[_Members]:
    """Return microphones by form and battery, in order of form and of their first tag."""
    groups: list[_Members] = []
    for device in sorted(devices, key=lambda one: natural(one.tag)):
        entry = project.library.entry(device.model) if device.kind == "microphone" and device.model else None
        if not isinstance(entry, Microphone):
            continue
        sort = (entry.form, entry.battery, entry.works_with)
        alike = [one for one in groups if (one.form, one.battery, one.system) == sort]
        if not alike:
            alike = [
                _Members(
                    form=entry.form, battery=entry.battery, system=entry.works_with, in_use=[], spares=[]
                )
            ]
            groups += alike
        (alike[0].spares if device.location == "charger" else alike[0].in_use).append(device)
    return sorted(groups, key=lambda one: one.form)


def _group(
    project: Project,
    members: _Members,
    sessions: Sequence[tuple[float, float]],
    homes: Mapping[str, SlotAssignment],
    chargers: Mapping[str, Charger],
) -> GroupDay:
    """Return the day of one group.

    homes: where each microphone of the room is charged.  chargers: all of the room.
    """
    rules = project.brief.rules.charging
    reserve, start = rules.reserve, rules.full_at_start
    everyone = [*members.in_use, *members.spares]
    busiest = _busiest([homes[one.tag].charger for one in everyone if one.tag in homes], homes, chargers)
    slot_w, shared_w, packs = busiest
    power_w = slot_power_w(slot_w, shared_w, packs) if packs else 0.0
    fresh = pack_of(members.battery, power_w, rules.in_use_share, aged=False)
    aged = pack_of(members.battery, power_w, rules.in_use_share, aged=True)
    usual = stretches(sessions, rules.docked_share)
    day = settled(aged, usual, start)
    talkers = len(members.in_use)
    held = rotation(aged, usual, talkers, sum(one.tag in homes for one in members.spares), start)
    lasts = day.lowest >= reserve - 1e-9
    pool = pool_needed(aged, usual, talkers, reserve, start)
    longer = None if lasts else longer_breaks_needed(aged, sessions, rules.docked_share, reserve, start)
    most_wh = _MOST_TIMES * aged.capacity_wh
    larger_wh = None if lasts else capacity_needed(aged, usual, reserve, start, most_wh)
    free = _free_slots(members, homes, chargers)
    lacking = max(pool.spares - len(members.spares), 0) - free if pool else 0
    return GroupDay(
        form=members.form,
        battery=members.battery,
        in_use=tuple(one.code for one in members.in_use),
        spares=tuple(one.code for one in members.spares),
        without_slot=tuple(one.code for one in everyone if one.tag not in homes),
        slot_power_w=power_w,
        slot_w=slot_w,
        shared_w=shared_w,
        packs=packs,
        pack=aged,
        fresh=settled(fresh, usual, start),
        aged=day,
        slotless=settled(aged, stretches_without_slot(sessions), start)
        if any(one.tag not in homes for one in members.in_use)
        else None,
        held=held,
        pool=pool,
        more_slots=max(lacking, 0),
        longer_breaks_min=longer,
        last_end=sessions[-1][1] + (longer or 0) * (len(sessions) - 1),
        charge_w=None if lasts else charge_power_needed(aged, usual, reserve, start, MOST_CHARGE_W),
        energy_wh=None if larger_wh is None else larger_wh / members.battery.aged_share,
    )


def _free_slots(
    members: _Members, homes: Mapping[str, SlotAssignment], chargers: Mapping[str, Charger]
) -> int:
    """Return how many slots that nobody has take a microphone of a group."""
    taken = {home.number for home in homes.values()}
    return sum(
        members.form in forms and SlotAssignment(tag, slot).number not in taken
        for tag, charger in chargers.items()
        if charger.works_with == members.system
        for slot, forms in enumerate(charger.forms_by_slot, 1)
    )


def _busiest(
    used: Sequence[str], homes: Mapping[str, SlotAssignment], chargers: Mapping[str, Charger]
) -> tuple[float, float, int]:
    """Return power into one slot, power into all and packs of the charger that gives each pack least."""
    counts = Counter(home.charger for home in homes.values())
    each = [(chargers[tag].slot_power, chargers[tag].shared_power, counts[tag]) for tag in sorted(set(used))]
    return min(each, key=lambda one: slot_power_w(*one), default=(0.0, 0.0, 0))
