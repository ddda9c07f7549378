"""How long the packs of microphones last, and how many are replaced over the years."""

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise

from proposal.design.charging.room_days import RoomDay
from proposal.design.rooms.room_kinds import RoomKind
from proposal.field_classes import dataclass
from proposal.model.equipment.parts import Battery
from proposal.model.microphone_positions import Form
from proposal.model.project import Project
from proposal.standards.battery import pack_life_years
from proposal.standards.working import Working, working

DAYS_USE = "project.mains.usual_days"


@dataclass(frozen=True, slots=True, kw_only=True)
class PackLife:
    """The packs of the microphones of one form and battery in all rooms of a kind.

    key: of the kind.  form, battery: theirs.
    packs: how many are in use at once; spares that rest in their slots wear out later and are not counted.
    cycles_a_year: full charges of each in a year.
    life: after how many years a pack is worn; None where nobody meets.
    replaced: packs replaced over the years of the rules.
    """

    key: str
    form: Form
    battery: Battery
    packs: int
    cycles_a_year: float
    life: Working | None
    replaced: int


def pack_lives(
    project: Project, kinds: Sequence[RoomKind], days: Mapping[str, Sequence[RoomDay]]
) -> tuple[PackLife, ...]:
    """Return the packs of every kind of room with meeting days, in order of kinds.

    days: the meeting days of each kind, by its key.
    """
    found: list[PackLife] = []
    for kind in kinds:
        of_kind = days.get(kind.key, ())
        groups = {(group.form, repr(group.battery)): group for day in of_kind for group in day.groups}
        for (form, battery), group in groups.items():
            cycles = sum(
                _days_of_a_year(project, day) * spent(one.fresh.points)
                for day in of_kind
                for one in day.groups
                if (one.form, repr(one.battery)) == (form, battery)
            )
            packs = len(group.in_use) * len(kind.rooms)
            found.append(_life(project, kind.key, form, group.battery, packs, cycles))
    return tuple(found)


def spent(points: Sequence[tuple[float, float]]) -> float:
    """Return what a pack gives in a day, as a share of all it holds: the falls of its state of charge.

    points: minute and state of charge where the slope changes.
    """
    return sum(max(before - after, 0.0) for (_, before), (_, after) in pairwise(points))


def replaced_over(years: float, cycles_a_year: float, cycles: float) -> int:
    """Return how often a pack is replaced in so many years; one that is worn at their end is not.

    cycles_a_year: full charges of a year.
    cycles: full charges until it is worn.
    """
    return max(math.ceil(years * cycles_a_year / cycles - 1e-9) - 1, 0)


def _days_of_a_year(project: Project, day: RoomDay) -> int:
    mains = project.brief.mains
    return mains.further_days.get(day.name, 0) if day.name else mains.usual_days


def _life(
    project: Project, key: str, form: Form, battery: Battery, packs: int, cycles_a_year: float
) -> PackLife:
    years = project.brief.rules.charging.years
    life = (
        working(
            pack_life_years,
            title=f"Life of the packs of {form} microphones, {key}",
            uses=(DAYS_USE,),
            cycles=battery.cycles,
            cycles_a_year=cycles_a_year,
        )
        if cycles_a_year > 0
        else None
    )
    return PackLife(
        key=key,
        form=form,
        battery=battery,
        packs=packs,
        cycles_a_year=cycles_a_year,
        life=life,
        replaced=packs * replaced_over(years, cycles_a_year, battery.cycles),
    )
