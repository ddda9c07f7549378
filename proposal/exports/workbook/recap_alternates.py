"""What the recap says of alternates and their combinations: what they are called, and what they leave us."""

from collections.abc import Sequence
from decimal import Decimal

from proposal.document.rows.alternates import CombinationRow
from proposal.editions import Edition
from proposal.field_classes import dataclass

ABOUT_CHOICES = (
    "Values on grey are of this revision, since the program alone chooses what an alternate needs (devices, "
    "racks, switches, reels) and lays it out anew: what each adds or deducts alone, and what several come to "
    "more or less by being chosen together. All else is added from them: type another figure over what an "
    "alternate adds, and its combinations follow. Import takes nothing from here: an alternate is changed in "
    "its own file, and chosen under accepted_alternates in project.yaml. The last column adds to the price "
    "with the inputs as they are now: to the cent while they are unchanged. Afterwards the base has the new "
    "costs, hours, margins and shares, and what an alternate adds still has those of this revision: it is "
    "off by as much as they move what the alternate adds, mostly a few thousandths of the price. After "
    "import, an export computes every combination anew, to the cent."
)
MARGIN_HEADS = ("Cost, add or deduct", "Margin, add or deduct", "Margin of it together", "Share of price")


@dataclass(frozen=True, slots=True)
class Left:
    """What a choice of alternates leaves us, in this revision.

    called: the choice.  cost, margin: by which both differ from the base; None of the base itself.
    whole: margin of all of it.  share: of its price, None of no price.
    """

    called: str
    cost: Decimal | None
    margin: Decimal | None
    whole: Decimal
    share: Decimal | None


def choices(edition: Edition) -> Sequence[tuple[str, CombinationRow]]:
    """Return every choice of alternates that has a price, with what it is called; the base first, if any.

    edition: of the estimator.
    """
    found = [one for one in edition.combinations if one.price is not None]
    names = dict(edition.alternate_names)
    numbers = {one.chosen[0]: n for n, one in enumerate((o for o in found if len(o.chosen) == 1), 1)}

    def called(one: CombinationRow) -> str:
        listed = " and ".join(str(numbers.get(key, key)) for key in one.chosen)
        if len(one.chosen) == 1:
            listed = f"{listed}. {names.get(one.chosen[0], one.chosen[0])}"
        return listed or "The base"

    return [(called(one), one) for one in found]


def left_by(chosen: Sequence[tuple[str, CombinationRow]]) -> Sequence[Left]:
    """Return what each choice leaves us; nothing where costs are not known.

    chosen: as `choices` returns them.
    """
    priced = [(name, one.price, one.cost) for name, one in chosen]
    known = [(name, price, cost) for name, price, cost in priced if price is not None and cost is not None]
    if not known or len(known) < len(priced):
        return ()
    base_margin, base_cost = known[0][1] - known[0][2], known[0][2]
    return [
        Left(
            called=name,
            cost=cost - base_cost if n else None,
            margin=price - cost - base_margin if n else None,
            whole=price - cost,
            share=(price - cost) / price if price else None,
        )
        for n, (name, price, cost) in enumerate(known)
    ]
