"""What the spaces on a cable's route require of its jacket."""

from proposal.design.pathways.cable_routes import CableRoute
from proposal.model.equipment.materials import Jacket
from proposal.model.project import Project

JACKET_WORDS = {
    "plenum": "a plenum jacket",
    "riser": "a riser jacket",
    "wet": "a jacket for wet locations",
    "outdoor": "a jacket for outdoors",
}
_LOCATIONS = {"wet": "wet", "slab on grade": "wet", "outdoors": "outdoor"}


def jacket_needs(project: Project, route: CableRoute, *, rises: bool) -> tuple[str, ...]:
    """Return what the jacket has to be good for, in the order of `JACKET_WORDS`.

    rises: whether the cable changes storeys.
    """
    wanted = {"riser"} if rises else set()
    for stretch in route.stretches:
        pathway = project.building.pathways.get(stretch.pathway)
        space = project.building.spaces.get(stretch.space)
        if pathway is not None and pathway.kind == "riser shaft":
            wanted.add("riser")
        if space is not None:
            wanted |= {"plenum"} if space.plenum else set()
            wanted |= {_LOCATIONS[space.location]} if space.location in _LOCATIONS else set()
    return tuple(need for need in JACKET_WORDS if need in wanted)


def lacking(jacket: Jacket, needs: tuple[str, ...]) -> tuple[str, ...]:
    """Return what of the needs a jacket is not good for."""
    good = {
        "plenum": jacket.plenum,
        "riser": jacket.riser,
        "wet": jacket.wet,
        "outdoor": jacket.outdoor,
    }
    return tuple(need for need in needs if not good[need])
