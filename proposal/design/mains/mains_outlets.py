"""The outlets in walls, floors and furniture that power strips and devices outside racks are plugged into."""

from collections.abc import Sequence

from proposal.design.equipment.placed_devices import Placed, Point
from proposal.design.mains.mains_loads import MainsLoad, load_in_rack, standby_designs
from proposal.design.racks.power_strips import mains_cord
from proposal.design.racks.rack_choice import RackDesign
from proposal.field_classes import dataclass
from proposal.model.project import Project


@dataclass(frozen=True, slots=True, kw_only=True)
class MainsOutlet:
    """An outlet of the building.

    serves: what is plugged in: a power strip with its rack before it, such as ER1-RK1/PS1, or a device, with
    the number of its inlet where it has several, such as ER1-SW1/2.
    place, storey, at, height_m: tag of the room, of the storey, where in the building, above the floor, m.
    location: the rack, the table, the wall or the ceiling where it is wanted.
    plug: sort of inlet of what is plugged in, empty where nobody says.
    owned: whether all that it feeds is the owner's.
    cord: model code of the mains cord to it, empty where what is plugged in has a plug of its own, where the
    owner brings one, or where the library has none.  lacks_cord: whether the library has none.
    shares: what it feeds, each with the share of it that this outlet carries.
    """

    serves: str
    place: str
    storey: str
    at: Point
    height_m: float
    location: str
    plug: str
    owned: bool
    cord: str
    lacks_cord: bool
    shares: tuple[tuple[MainsLoad, float], ...]

    @property
    def rest_w(self) -> float:
        """What it gives when nobody meets, W."""
        return sum(load.rest_w * share for load, share in self.shares)

    @property
    def typical_w(self) -> float:
        """What it typically gives, W."""
        return sum(load.typical_w * share for load, share in self.shares)

    @property
    def full_w(self) -> float:
        """The most it gives, W."""
        return sum(load.full_w * share for load, share in self.shares)

    @property
    def full_va(self) -> float:
        """The most it gives, VA."""
        return sum(load.full_va * share for load, share in self.shares)

    @property
    def leakage_a(self) -> float:
        """Protective-conductor current of what it feeds, A."""
        return sum(load.leakage_a * share for load, share in self.shares)

    @property
    def inrush_a(self) -> float:
        """Peak current where all that it feeds is switched on at once, A."""
        return sum(load.inrush_a * share for load, share in self.shares)


def mains_outlets(
    project: Project, loads: Sequence[MainsLoad], devices: Sequence[Placed], racks: Sequence[RackDesign]
) -> tuple[MainsOutlet, ...]:
    """Return every outlet that is needed: for each power strip, each standby supply, each other inlet.

    project: with its library of cords.
    loads: of everything; devices: of the whole building; racks: with what is plugged into their strips.
    """
    by_name = {load.name: load for load in loads}
    fed: set[str] = set()
    found = []
    for rack in racks:
        for strip in rack.layout.strips.items:
            shares: dict[str, float] = {}
            for one in rack.layout.plugged:
                if one.strip == strip.name:
                    load = load_in_rack(by_name, rack.device.tag, one.device)
                    shares[load.name] = shares.get(load.name, 0.0) + 1 / load.supplies
            fed |= set(shares)
            mains = getattr(strip.entry, "mains", None)
            found.append(
                _outlet(
                    "",
                    rack.device,
                    rack.device.room,
                    f"{rack.device.tag}/{strip.name}",
                    rack.device.tag,
                    mains.inlet if mains else "",
                    [(by_name[name], share) for name, share in shares.items()],
                )
            )
        for standby in standby_designs([rack]):
            own = by_name[standby.asked.tag]
            fed_here = [load_in_rack(by_name, rack.device.tag, item.name) for item in standby.fed]
            fed |= {own.name, *(load.name for load in fed_here)}
            found.append(
                _outlet(
                    _cord(project, own.inlet),
                    rack.device,
                    rack.device.room,
                    own.name,
                    rack.device.tag,
                    own.inlet,
                    [(own, 1.0), *((load, 1.0) for load in fed_here)],
                )
            )
    placed = {device.tag: device for device in devices}
    for load in loads:
        if load.name in fed:
            continue
        device = placed[load.name.partition("/")[0]]
        for number in range(1, load.supplies + 1):
            serves = load.name if load.supplies == 1 else f"{load.name}/{number}"
            found.append(
                _outlet(
                    "" if load.owned else _cord(project, load.inlet),
                    device,
                    load.place,
                    serves,
                    device.location,
                    load.inlet,
                    [(load, 1 / load.supplies)],
                )
            )
    return tuple(found)


NONE_FITS = "none fits"
"""In place of a cord where the library has none that fits."""


def _cord(project: Project, inlet: str) -> str:
    """Return the cord from an outlet of the building to an inlet; nothing where nobody states the inlet."""
    mains = project.brief.mains
    if not inlet:
        return ""
    return mains_cord(project, inlet, mains.outlet_form(project.brief.region), mains.cord) or NONE_FITS


def _outlet(
    cord: str,
    device: Placed,
    place: str,
    serves: str,
    location: str,
    plug: str,
    shares: Sequence[tuple[MainsLoad, float]],
) -> MainsOutlet:
    return MainsOutlet(
        serves=serves,
        place=place,
        storey=device.storey,
        at=device.at,
        height_m=device.height_m,
        location=location,
        plug=plug,
        owned=bool(shares) and all(load.owned for load, _ in shares),
        cord="" if cord == NONE_FITS else cord,
        lacks_cord=cord == NONE_FITS,
        shares=tuple(shares),
    )
