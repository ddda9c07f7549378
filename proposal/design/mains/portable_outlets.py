"""The outlets that portable sets are plugged into in the places where they are used."""

from collections.abc import Sequence

from proposal.design.equipment.placed_devices import Placed
from proposal.design.mains.mains_loads import MainsLoad
from proposal.design.mains.mains_outlets import MainsOutlet
from proposal.design.radio.portable_radio import storey_of, used_in
from proposal.design.rooms.portable_devices import CART, goes_along
from proposal.model.project import Project


def portable_outlets(
    project: Project, loads: Sequence[MainsLoad], devices: Sequence[Placed]
) -> tuple[MainsOutlet, ...]:
    """Return an outlet for each inlet of a portable set in each place with outlets where a state uses it.

    loads: of everything; devices: of the whole building.
    Those where it is kept are among `mains_outlets`. Its mains cords go with it: none is counted here.
    """
    placed = {device.tag: device for device in devices}
    found = []
    for tag, place in used_in(project):
        written = project.building.portable_places[place]
        if not written.outlet:
            continue
        for load in loads:
            device = placed.get(load.name)
            if device is None or device.room != tag or not goes_along(project, device):
                continue
            for number in range(1, load.supplies + 1):
                serves = load.name if load.supplies == 1 else f"{load.name}/{number}"
                found.append(
                    MainsOutlet(
                        serves=f"{serves}/{place}",
                        place=place,
                        storey=storey_of(project, place),
                        at=written.at,
                        height_m=device.height_m,
                        location=CART,
                        plug=load.inlet,
                        owned=load.owned,
                        cord="",
                        lacks_cord=False,
                        shares=((load, 1 / load.supplies),),
                    )
                )
    return tuple(found)
