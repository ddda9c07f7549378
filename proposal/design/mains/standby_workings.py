"""The workings of standby supplies: their load, how long they carry it, the life of their batteries."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from proposal.design.mains.mains_loads import standby_designs
from proposal.design.racks.rack_choice import RackDesign
from proposal.design.racks.standby_choice import StandbyDesign
from proposal.design.racks.standby_run_time import LOAD_USE, life_working, run_time_workings
from proposal.design.workings.calculation import Calculation
from proposal.model.project import Project
from proposal.standards import standby
from proposal.standards.sources import COMMON_PRACTICE
from proposal.standards.working import Limit, Working, working


def standby_workings(project: Project, racks: Sequence[RackDesign]) -> tuple[Calculation, ...]:
    """Return the workings of every standby supply that stands in some racks."""
    return tuple(
        Calculation(chapter="Standby", subject=one.asked.tag, working=each)
        for one in standby_designs(racks)
        for each in _of_supply(project, one)
    )


def _of_supply(project: Project, one: StandbyDesign) -> Iterator[Working]:
    entry = one.entry
    assert entry is not None
    items = sorted(one.fed, key=lambda item: one.names_fed.index(item.name))
    typical = tuple(item.typical_w for item in items) or (0.0,)
    yield working(standby.supply_load_w, title="Typical load on a standby supply", power_w=typical)
    yield working(
        standby.supply_load_w,
        title="Highest load on a standby supply",
        limit=Limit(one.allowed_w, "≤", COMMON_PRACTICE),
        uses=(LOAD_USE,),
        power_w=tuple(item.most_w for item in items) or (0.0,),
    )
    yield working(
        standby.supply_load_va,
        limit=Limit(one.allowed_va, "≤", COMMON_PRACTICE),
        uses=(LOAD_USE,),
        apparent_va=tuple(item.apparent_va for item in items) or (0.0,),
    )
    yield from run_time_workings(project, entry, one.packs, one.typical_w, one.asked.time_s)
    at_most = run_time_workings(project, entry, one.packs, one.most_w, None)
    # How cold it is, the last but one, does not change with the load.
    for each in (*at_most[:-2], *at_most[-1:]):
        yield replace(each, title=f"At the highest load: {each.title[0].lower()}{each.title[1:]}")
    yield life_working(project, one.asked.room, entry)
