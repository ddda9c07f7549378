"""The packs of microphones over the years as rows."""

from decimal import Decimal

from proposal.design.charging.pack_life import PackLife
from proposal.design.design import Design
from proposal.design.equipment.unit_costs import in_currency
from proposal.document.rows.pack_life import PackLifeRow
from proposal.model.project import Project
from proposal.quantities.currencies import smallest_unit
from proposal.quantities.money import Money
from proposal.quantities.rounding import rounded


def pack_life_rows(project: Project, design: Design) -> tuple[PackLifeRow, ...]:
    """Return how long packs last in each kind of room, and how many are replaced over the years."""
    return tuple(_row(project, one) for one in design.pack_lives)


def _row(project: Project, one: PackLife) -> PackLifeRow:
    battery = one.battery
    return PackLifeRow(
        kind=one.key,
        form=one.form,
        pack=f"{battery.energy:g} Wh",
        run_time_h=battery.run_time / 3600,
        packs=one.packs,
        cycles_a_year=one.cycles_a_year,
        cycles=battery.cycles,
        lasts_years=one.life.result if one.life else None,
        years=project.brief.rules.charging.years,
        replaced=one.replaced,
        changed_by="whoever looks after it, without the maker"
        if battery.replaceable
        else "the maker, with the microphone",
        list_price=_money(project, battery.pack_list_price, 1),
        amount=_money(project, battery.pack_list_price, one.replaced),
        cost=_money(project, battery.pack_cost, one.replaced),
    )


def _money(project: Project, price: Money | None, count: int) -> Decimal | None:
    """Return what so many packs come to, to the smallest unit of the project's currency."""
    if price is None:
        return None
    return rounded(count * in_currency(project, price), smallest_unit(project.brief.currency))
