"""Patch cords: which one of the library is taken at each end of a link, and how long it really is."""

from collections.abc import Iterator
from typing import Literal

from proposal.design.equipment.unit_costs import unit_cost
from proposal.field_classes import dataclass
from proposal.model.equipment.materials import DataCable, PatchCord
from proposal.model.project import Project

CordEnd = Literal["rack", "device"]
CATEGORIES = ("5e", "6", "6A")


@dataclass(frozen=True, slots=True, kw_only=True)
class Cord:
    """One patch cord of a link.

    at: the end it is at.
    model: code of its model, empty where the library has none that suits.
    length_m: its own length; what is wanted where the library has none, m.
    wanted_m: the least that is wanted, m.
    category, screened: what is asked of it.
    """

    at: CordEnd
    model: str
    length_m: float
    wanted_m: float
    category: str
    screened: bool


def fibre_cord(project: Project, fibre: str) -> Cord | None:
    """Return the shortest fibre cord that is long enough at a rack, the cheapest of equals; None without any.

    fibre: sort of fibre, such as OM4.
    """
    wanted_m = project.brief.rules.cabling.equipment_cord
    fitting = [
        (one.length, unit_cost(project, one), code)
        for code, one in project.library.patch_cords.items()
        if one.medium == "fibre" and one.fibre == fibre and one.length >= wanted_m - 1e-9
    ]
    if not fitting:
        return None
    length_m, _, model = min(fitting)
    return Cord(at="rack", model=model, length_m=length_m, wanted_m=wanted_m, category="", screened=False)


def cord(project: Project, at: CordEnd, cable: DataCable | None) -> Cord | None:
    """Return the shortest copper cord that is long enough, the cheapest of equals; None where none is wanted.

    at: the end it is at, which says how long it has to be.
    cable: what it goes on from; None for a device in the rack, which the category of the data cable that the
        project names serves, else any.
    Its conductors are no thinner than the project's rule, its category and screen no less than the cable's.
    """
    rules = project.brief.rules.cabling
    wanted_m = rules.equipment_cord if at == "rack" else rules.device_cord
    if wanted_m <= 0:
        return None
    like = cable or project.library.cables.get(rules.data_cable)
    category = like.category if like else CATEGORIES[0]
    screened = bool(cable and cable.screened)
    fitting = [
        (one.length, unit_cost(project, one), one.model)
        for one in _of_copper(project, category, screened=screened)
        if one.length >= wanted_m - 1e-9
    ]
    length_m, _, model = min(fitting, default=(wanted_m, None, ""))
    return Cord(
        at=at, model=model, length_m=length_m, wanted_m=wanted_m, category=category, screened=screened
    )


def _of_copper(project: Project, category: str, *, screened: bool) -> Iterator[PatchCord]:
    """Yield the copper cords that are good enough, of any length."""
    for one in project.library.patch_cords.values():
        if (
            one.medium == "copper"
            and one.gauge is not None
            and one.gauge <= project.brief.rules.cabling.cord_gauge
            and one.category is not None
            and CATEGORIES.index(one.category) >= CATEGORIES.index(category)
            and (one.screened or not screened)
        ):
            yield one


def longest_cord_m(project: Project, like: Cord) -> float:
    """Return the length of the longest copper cord as good as one that is wanted, m; 0 without any."""
    good = _of_copper(project, like.category, screened=like.screened)
    return max((one.length for one in good), default=0.0)
