"""What a price becomes by changed figures: with the same equipment, and with all of it chosen anew."""

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal

from proposal.estimate.price.price import Sum
from proposal.estimate.programme.late_deliveries import last_delivered, waiting_for_delivery
from proposal.pipeline import Computed
from proposal.quantities import formatting


def told_totals(before: Computed, held: Computed, after: Computed) -> Iterator[str]:
    """Yield what is said of the totals in lines.

    before: as the project was.  held: with the new figures and the same equipment.  after: chosen anew.
    """
    was, now, free = (one.price.whole for one in (before, held, after))
    yield f"price before tax: {_money(before, was.price)} becomes {_money(held, now.price)}, same equipment"
    yield f"price with tax: {_money(before, was.total)} becomes {_money(held, now.total)}, same equipment"
    yield f"cost: {_money(before, was.cost)} becomes {_money(held, now.cost)}, same equipment"
    yield f"margin: {_margin(before, was)} becomes {_margin(held, now)}, same equipment"
    other = list(_chosen_otherwise(held, after))
    ends = [one.programme.finish for one in (before, after)]
    if ends[0] != ends[1]:
        yield f"acceptance: {ends[0].isoformat()} becomes {ends[1].isoformat()}"
        yield from _told_waiting(before, after)
    if now == free and not other:
        yield "chosen anew with these figures, equipment and reels stay the same"
        return
    moved, moved_total = _moved(after, free.price - now.price), _moved(after, free.total - now.total)
    yield f"chosen anew with these figures, before tax: {_money(after, free.price)}, {moved}"
    yield f"chosen anew with these figures, with tax: {_money(after, free.total)}, {moved_total}"
    yield from other


def _told_waiting(before: Computed, after: Computed) -> Iterator[str]:
    """Yield which work begins later since it waits for a delivery that takes longer."""
    waiting = waiting_for_delivery(after.programme)
    if waiting is None:
        return
    was = next((one.start for one in before.programme.tasks if one.key == waiting.key), None)
    if was is None or was >= waiting.start:
        return
    last = last_delivered(after.project, after.estimate, waiting)
    days = after.project.library.entry(last[0]).lead_time_days
    yield (
        f"  {waiting.name} begins on {waiting.start.isoformat()} instead of {was.isoformat()}: it waits for "
        f"{', '.join(last)}, {days} days from order to delivery"
    )


def told_result(after: Computed) -> str:
    """Return what the price comes to with the files as they are now.

    after: computed with them.
    """
    whole = after.price.whole
    before_tax, total = _money(after, whole.price), _money(after, whole.total)
    return f"the price is now {before_tax} before tax and {total} with tax, reels planned anew"


def told_alternate(file: str, base: Computed, chosen: Computed) -> str:
    """Return what is said of an alternate that is added.

    file: of it.  base, chosen: the project without it, and with it alone.
    """
    without, whole = base.price.whole, chosen.price.whole
    moved = _moved(chosen, whole.price - without.price)
    return f"{file}: a new alternate; with it the price before tax is {_money(chosen, whole.price)}, {moved}"


def _money(computed: Computed, amount: Decimal) -> str:
    currency = computed.project.brief.currency
    return f"{amount:.{formatting.money_places(currency)}f} {currency}"


def _margin(computed: Computed, whole: Sum) -> str:
    """Return what is left of a price above its cost, and which share of the price that is."""
    left = whole.price - whole.cost
    share = f" ({left / whole.price:.2%})".replace("%", " %") if whole.price else ""
    return f"{_money(computed, left)}{share}"


def _moved(computed: Computed, amount: Decimal) -> str:
    return f"{'' if amount < 0 else '+'}{_money(computed, amount)}"


def _bought(computed: Computed) -> Counter[str]:
    found: Counter[str] = Counter()
    for line in computed.estimate.equipment:
        found[line.model] += int(line.quantity)
    for one in computed.estimate.purchases:
        found[f"{one.model} ({one.sold_as})"] += int(one.bought)
    return found


def _chosen_otherwise(held: Computed, after: Computed) -> Iterator[str]:
    """Yield what is bought in other numbers where all is chosen anew."""
    same, free = _bought(held), _bought(after)
    for what in sorted({*same, *free}):
        if same[what] != free[what]:
            yield f"  {what}: {same[what]} becomes {free[what]}"
