"""The standby supply of a rack: what it feeds, which model with how many battery packs, and its outlets."""

from collections.abc import Iterator, Sequence
from decimal import Decimal

from proposal.design.equipment.placed_devices import Placed
from proposal.design.equipment.unit_costs import cost_of_one
from proposal.design.numbers.numbering import device_code, device_tag, natural
from proposal.design.racks.power_strips import Plugged
from proposal.design.racks.rack_items import Item, part_item
from proposal.design.racks.standby_run_time import run_time_workings, sizes_of
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import RackPart
from proposal.model.equipment.standby_supplies import StandbySupply
from proposal.model.project import Project

KIND = "standby_supply"
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class StandbyAsked:
    """What is asked of the standby supply of one rack.

    tag, code: of the supply; code of RK2's is UP2.  room: tag of the equipment room; rack: code of the rack.
    time_s: how long it is to last.  without: tags and kinds of what it need not feed.
    model: fixed by hand, empty for the least-cost one; unit: rack unit fixed by hand.
    named: whether the building names the rack; in one that was added it stands only where it feeds something.
    """

    tag: str
    code: str
    room: str
    rack: str
    time_s: float
    without: tuple[str, ...]
    model: str
    unit: int | None
    named: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class StandbyDesign:
    """The standby supply of one rack.

    asked: what is asked of it.
    entry: its model, None where the library has none that suits.
    pack, packs: its battery packs, and how many.
    fed: what it feeds.  plugged: the outlet of each inlet.
    items: itself and its packs as they stand in the rack, from below.
    allowed_w, allowed_va: the most that what it feeds may take at once.
    minutes: how long it carries what it feeds typically, its battery old and cold; None where its table says
    nothing of such a load.
    """

    asked: StandbyAsked
    entry: StandbySupply | None = None
    pack: RackPart | None = None
    packs: int = 0
    fed: tuple[Item, ...] = ()
    plugged: tuple[Plugged, ...] = ()
    items: tuple[Item, ...] = ()
    allowed_w: float = 0.0
    allowed_va: float = 0.0
    minutes: float | None = None

    @property
    def typical_w(self) -> float:
        """What it feeds while people speak, W."""
        return sum(item.typical_w for item in self.fed)

    @property
    def most_w(self) -> float:
        """The most that what it feeds takes, W."""
        return sum(item.most_w for item in self.fed)

    @property
    def most_va(self) -> float:
        """The same as apparent power, VA."""
        return sum(item.apparent_va for item in self.fed)

    @property
    def names_fed(self) -> tuple[str, ...]:
        """Names of what it feeds, in order."""
        return tuple(sorted((item.name for item in self.fed), key=natural))

    @property
    def inlets(self) -> int:
        """Inlets that it feeds."""
        return sum(item.inlets for item in self.fed)

    @property
    def carries(self) -> bool:
        """Whether it carries what it feeds, in watts, in volt-amperes and by outlets."""
        return self.entry is not None and (
            self.most_w <= self.allowed_w + _ROUNDING
            and self.most_va <= self.allowed_va + _ROUNDING
            and self.inlets <= self.entry.outlets
        )

    @property
    def holds(self) -> bool:
        """Whether it carries what it feeds for as long as is asked."""
        return (
            self.carries
            and self.minutes is not None
            and self.minutes * 60 >= self.asked.time_s * (1 - _ROUNDING)
        )


def standby_asked(project: Project, room: str, rack: str) -> StandbyAsked | None:
    """Return what is asked of a standby supply in a rack, None where nothing is.

    room: tag of the equipment room.  rack: code of the rack, one that was added too.
    """
    place = project.building.equipment_rooms[room]
    own = place.racks[rack].standby if rack in place.racks else None
    written = place.standby if own is None else own
    if written is None or not written.time:
        return None
    code = _code(rack, sorted(place.racks, key=natural))
    tag = device_tag(room, code)
    fixed = project.fixed.devices.get(tag)
    return StandbyAsked(
        tag=tag,
        code=code,
        room=room,
        rack=rack,
        time_s=written.time,
        without=written.without,
        model=fixed.model if fixed else "",
        unit=fixed.rack_unit if fixed else None,
        named=rack in place.racks,
    )


def _code(rack: str, racks: Sequence[str]) -> str:
    """Return the code of the supply of a rack: the number of the rack, where its code is one of ours."""
    number = rack.removeprefix("RK")
    if number.isdecimal():
        return device_code(KIND, int(number))
    others = {int(one.removeprefix("RK")) for one in racks if one.removeprefix("RK").isdecimal()}
    free = (n for n in range(1, 10_000) if n not in others)
    own = dict(zip((one for one in racks if not one.removeprefix("RK").isdecimal()), free, strict=False))
    return device_code(KIND, own[rack])


def suiting(project: Project, model: str = "") -> tuple[StandbySupply, ...]:
    """Return the standby supplies for the mains of the building that take over in time, least cost first.

    model: the one fixed by hand, which alone is returned; empty for all.
    """
    brief = project.brief
    if model in project.library.standby_supplies:
        return (project.library.standby_supplies[model],)
    found = [
        entry
        for entry in project.library.standby_supplies.values()
        if entry.mains is not None
        and entry.mains.lowest_voltage <= brief.mains_voltage <= entry.mains.highest_voltage
        and brief.mains_frequency in entry.mains.frequencies
        and entry.transfer_time <= brief.rules.racks.ride_through
    ]
    return tuple(sorted(found, key=lambda entry: (cost_of_one(project, entry), entry.model)))


def standby_devices(project: Project) -> list[tuple[Placed, StandbySupply]]:
    """Return the standby supplies of the racks that the building names, each with a stand-in of the library.

    The stand-in says what any of those that suit asks of the network: it has the fewest network ports.
    """
    found = []
    for room, place in project.building.equipment_rooms.items():
        for rack in place.racks:
            asked = standby_asked(project, room, rack)
            entries = suiting(project, asked.model) if asked else ()
            if asked and entries:
                least = min(entries, key=lambda one: len(one.ports_carrying("network")))
                found.append((placed_supply(project, asked, device_tag(room, rack), ""), least))
    return sorted(found, key=lambda one: natural(one[0].tag))


def placed_supply(project: Project, asked: StandbyAsked, rack: str, model: str) -> Placed:
    """Return a standby supply where it stands.

    rack: tag of its rack.  model: its code, empty as long as it is not chosen.
    """
    place = project.building.equipment_rooms[asked.room]
    return Placed(
        tag=asked.tag,
        code=asked.code,
        kind=KIND,
        model=model,
        room=asked.room,
        storey=place.storey,
        at=place.at,
        height_m=project.brief.rules.cabling.rack_height,
        location=rack,
    )


def fed_by_standby(asked: StandbyAsked | None, items: Sequence[Item]) -> tuple[Item, ...]:
    """Return what a standby supply is to feed: all that has an inlet, but what need not stay up.

    items: everything in the rack.
    """
    if asked is None:
        return ()
    without = {name.replace("_", " ") for name in asked.without} | set(asked.without)
    return tuple(
        item
        for item in items
        if item.inlets and item.name not in without and item.kind.replace("_", " ") not in without
    )


def standby_for(project: Project, asked: StandbyAsked, items: Sequence[Item]) -> StandbyDesign:
    """Return the least-cost supply, with its battery packs, that holds what is asked of it.

    items: everything in the rack.
    Then the one with the fewest boxes, then that which lasts least beyond what is asked. Where none holds,
    the one that lasts longest of those that carry the load; where none does, the strongest. The load that is
    carried is the most that all takes at once; the time is that at the typical load.
    """
    fed = fed_by_standby(asked, items)
    found = list(_options(project, asked, fed))
    if not found:
        return StandbyDesign(asked=asked)
    holding = [one for one in found if one.holds]
    if holding:
        return min(holding, key=lambda one: (_cost(project, one), one.packs, one.minutes, _model(one)))
    carrying = [one for one in found if one.carries]
    if carrying:
        return max(carrying, key=lambda one: (one.minutes or 0.0, -_cost(project, one), -one.packs))
    return max(found, key=lambda one: (min(one.allowed_w, one.allowed_va), -_cost(project, one), -one.packs))


def _options(project: Project, asked: StandbyAsked, fed: tuple[Item, ...]) -> Iterator[StandbyDesign]:
    """Yield every supply that suits, with each number of packs that it takes."""
    share = project.brief.rules.racks.standby_load
    load_w = sum(item.typical_w for item in fed)
    for entry in suiting(project, asked.model):
        pack = project.library.rack_parts.get(entry.pack)
        for packs in sizes_of(entry):
            steps = run_time_workings(project, entry, packs, load_w, None)
            yield StandbyDesign(
                asked=asked,
                entry=entry,
                pack=pack if packs else None,
                packs=packs,
                fed=fed,
                plugged=tuple(_plugged(asked, entry, fed)),
                items=tuple(_items(asked, entry, pack, packs, load_w)),
                allowed_w=share * entry.rated_power,
                allowed_va=share * entry.rated_apparent_power,
                minutes=steps[-1].result if steps else None,
            )


def _cost(project: Project, one: StandbyDesign) -> Decimal:
    assert one.entry is not None
    packs = cost_of_one(project, one.pack) * one.packs if one.pack else Decimal(0)
    return cost_of_one(project, one.entry) + packs


def _model(one: StandbyDesign) -> str:
    return one.entry.model if one.entry else ""


def _plugged(asked: StandbyAsked, entry: StandbySupply, fed: Sequence[Item]) -> Iterator[Plugged]:
    """Yield the outlet of each inlet, in order of names, as far as there are outlets.

    A device with several inlets has all of them here.
    """
    outlet = 0
    for item in sorted(fed, key=lambda one: natural(one.name)):
        for _ in range(item.inlets):
            outlet += 1
            if outlet > entry.outlets:
                return
            yield Plugged(device=item.name, strip=asked.tag, outlet=outlet)


def _items(
    asked: StandbyAsked, entry: StandbySupply, pack: RackPart | None, packs: int, load_w: float
) -> Iterator[Item]:
    """Yield a supply and its packs as they stand in the rack; the supply has an outlet of the building.

    load_w: what it typically feeds, W.  Its power is what it takes itself: losses and charging.
    """
    yield Item(
        name=asked.tag,
        kind=KIND,
        entry=entry,
        units=entry.rack_units,
        gap=entry.rack_gap_above,
        weight_kg=entry.weight,
        depth_m=entry.depth,
        heat_w=own_power_w(entry, load_w),
        apparent_va=own_apparent_va(entry),
        wished=asked.unit,
    )
    if pack is not None:
        yield from (part_item(pack, f"BP{number}") for number in range(1, packs + 1))


def own_power_w(entry: StandbySupply, load_w: float) -> float:
    """Return what a supply takes for itself while it feeds a load, its battery full: all of it heat, W.

    load_w: load on its outlets, W.
    """
    if entry.mains is None:
        return 0.0
    return entry.mains.typical + load_w * (1 / entry.mains.efficiency - 1)


def own_most_w(entry: StandbySupply) -> float:
    """Return the most that a supply takes for itself, while it charges: all but what it feeds, W."""
    return max(entry.mains.maximum - entry.rated_power, 0.0) if entry.mains else 0.0


def own_apparent_va(entry: StandbySupply) -> float:
    """Return the most that a supply takes for itself as apparent power, VA."""
    return own_most_w(entry) / entry.mains.power_factor if entry.mains else 0.0
