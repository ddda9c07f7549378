"""What the spaces on a cable's route require of its jacket."""

from collections.abc import Mapping
from dataclasses import replace
from typing import TypeVar

from proposal.design.pathways.cable_routes import CableRoute, Stretch
from proposal.model.equipment.materials import Cable, Jacket
from proposal.model.project import Project

JACKET_WORDS = {
    "plenum": "a plenum jacket",
    "riser": "a riser jacket",
    "wet": "a jacket for wet locations",
    "outdoor": "a jacket for outdoors",
}
UNKNOWN_CEILING = "unknown ceiling"
"""What is asked of a jacket by a ceiling space that nobody described: met as far as the library can."""
FIRE_CODE_USE = "project.rules.cabling.fire_code"
HALOGEN_FREE_USE = "project.rules.cabling.halogen_free"
_LOCATIONS = {"wet": "wet", "slab on grade": "wet", "outdoors": "outdoor"}
_CLASSES = ("B2ca", "Cca", "Dca", "Eca")
"""Classes of reaction to fire (EN 13501-6), the best one first."""
_Cable = TypeVar("_Cable", bound=Cable)


def in_ceilings(
    project: Project, route: CableRoute, room: str, start_storey: str, end_storey: str
) -> CableRoute:
    """Return a route with the ceiling space, as far as it is described, of every stretch outside pathways.

    room: tag of the room where it begins; of anything else where it begins in no room.
    start_storey, end_storey: tags of the storeys of its ends.
    """
    storeys = project.building.storeys
    of_room = project.rooms[room].layout.ceiling.space if room in project.rooms else ""
    of_storey = {tag: storeys[tag].ceiling_space for tag in (start_storey, end_storey)}
    if not of_room and not any(of_storey.values()):
        return route
    at, stretches = start_storey, []
    for stretch in route.stretches:
        at = _storey_of(project, stretch, at, end_storey)
        own = of_room if at == start_storey else ""
        space = stretch.space if stretch.pathway else own or of_storey[at]
        stretches.append(replace(stretch, space=space))
    return replace(route, stretches=tuple(stretches))


def _storey_of(project: Project, stretch: Stretch, before: str, end_storey: str) -> str:
    """Return the storey in which a stretch lies: that of the one before it until it reaches the other."""
    if stretch.level is None:
        return before
    end = project.building.storeys[end_storey]
    height_m = stretch.level[0][2]
    return end_storey if end.height <= height_m < end.height + end.slab_to_slab else before


def jacket_uses(project: Project, route: CableRoute, start_storey: str, end_storey: str) -> tuple[str, ...]:
    """Return the dotted paths of the inputs that the choice of a jacket rests on.

    start_storey, end_storey: tags of the storeys of the route's ends.
    """
    outside = any(not stretch.pathway for stretch in route.stretches)
    storeys = dict.fromkeys((start_storey, end_storey))
    return (
        HALOGEN_FREE_USE,
        *((FIRE_CODE_USE,) if any(map(_is_undescribed, route.stretches)) else ()),
        *((f"building.storeys.{tag}.ceiling_space" for tag in storeys) if outside else ()),
    )


def jacket_needs(project: Project, route: CableRoute, *, rises: bool) -> tuple[str, ...]:
    """Return what the jacket has to be good for, in the order of `JACKET_WORDS`, then `UNKNOWN_CEILING`.

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
    unknown = any(map(_is_undescribed, route.stretches))
    return (*(need for need in JACKET_WORDS if need in wanted), *((UNKNOWN_CEILING,) if unknown else ()))


def _is_undescribed(stretch: Stretch) -> bool:
    return not (stretch.pathway or stretch.space or stretch.in_rack)


def lacking(jacket: Jacket, needs: tuple[str, ...]) -> tuple[str, ...]:
    """Return what of the needs a jacket is not good for, but for what an unknown ceiling asks."""
    good = {
        "plenum": jacket.plenum,
        "riser": jacket.riser,
        "wet": jacket.wet,
        "outdoor": jacket.outdoor,
        UNKNOWN_CEILING: True,
    }
    return tuple(need for need in needs if not good[need])


def suits_unknown_ceiling(project: Project, jacket: Jacket) -> bool:
    """Return whether a jacket may lie in a ceiling space that nobody described.

    It has to be for plenums where NFPA 70 is adopted, and elsewhere to have a class of reaction to fire.
    """
    if project.brief.rules.cabling.nfpa_70(project.brief.region):
        return jacket.plenum
    return _rank(jacket) < len(_CLASSES)


def unknown_ceiling_words(project: Project) -> str:
    """Return what a ceiling space that nobody described is taken to ask for, in words."""
    if project.brief.rules.cabling.nfpa_70(project.brief.region):
        return JACKET_WORDS["plenum"]
    return "a class of reaction to fire (EN 50575)"


def best_for_unknown_ceiling(project: Project, cables: Mapping[str, _Cable]) -> dict[str, _Cable]:
    """Return the cables that are best for a ceiling space that nobody described; all where none suits it."""
    if project.brief.rules.cabling.nfpa_70(project.brief.region):
        return {code: one for code, one in cables.items() if one.jacket.plenum} or dict(cables)
    best = min((_rank(one.jacket) for one in cables.values()), default=0)
    return {code: one for code, one in cables.items() if _rank(one.jacket) == best}


def _rank(jacket: Jacket) -> int:
    """Return the place of a jacket's class among all, the best 0; their number where it has none."""
    return min((_CLASSES.index(one) for one in jacket.ratings if one in _CLASSES), default=len(_CLASSES))
