"""What is said of the lines of a price list or quote of which nothing is taken, or not all."""

from collections.abc import Iterator, Mapping, Sequence

from proposal.estimate.takeoff.pathway_lines import is_for_others
from proposal.imports.input_changes import InputChange
from proposal.imports.price_changes import NotTaken, PriceChanges
from proposal.imports.price_lists import Charge, PriceLine, ReadList
from proposal.pipeline import Computed
from proposal.quantities.messages import nearest, printable, shown

_MOST_NAMED = 8
_PRICES = ("cost", "list_price")
_SPARE = ", spare"
Asked = Mapping[tuple[str, str], Mapping[str, int]]


def told_counts(lines: int, found: PriceChanges) -> Iterator[str]:
    """Yield how many prices and lead times the lines of a price list change.

    lines: how many were read.  found: what they change.
    """
    written = [one for one in found.changes if one.where.path[-1] in _PRICES]
    prices = sum(change.was != change.value for change in written)
    same = found.unchanged + len(written) - prices
    stays = "stays as it is" if same == 1 else "stay as they are"
    changes = "price changes" if prices == 1 else "prices change"
    read = "line" if lines == 1 else "lines"
    lead_times = sum(one.where.path[-1] == "lead_time_days" and one.was != one.value for one in found.changes)
    times = (
        f", {lead_times} lead {'time changes' if lead_times == 1 else 'times change'}" if lead_times else ""
    )
    yield f"{lines} {read} read: {prices} {changes}, {same} {stays}{times}"


def told_list(read: ReadList, found: PriceChanges) -> Iterator[str]:
    """Yield what is said of a supplier's own list.

    read: the list.  found: what it changes.
    """
    if found.unknown:
        yield f"not in the library: {_named([_at(one) for one in found.unknown])}"
    yield from _told_of_all(read, found)


def told_answer(read: ReadList, found: PriceChanges, asked: Asked) -> Iterator[str]:
    """Yield what is said of an answered request: what was not answered, and what is answered otherwise.

    read: the answer.  found: what it changes.  asked: how many of what, as `asked_quantities` returns it.
    """
    suppliers = {line.supplier for line in read.lines}
    missing = [
        model if sold_as == "each" else f"{model}, {sold_as}"
        for (supplier, model), sold in asked.items()
        for sold_as in sold
        if supplier in suppliers and not {(model, ""), (model, sold_as)} & found.answered
    ]
    for one in found.unknown:
        yield f"{one.line.place}: {shown(one.name)} is not in the library{_meant(one.line, missing)}"
    if missing:
        yield f"asked and not answered: {', '.join(missing)}"
    for line in read.lines:
        wanted = asked.get((line.supplier, line.model), {}).get(line.sold_as.removesuffix(_SPARE))
        if wanted is not None and line.quantity is not None and line.quantity != wanted:
            told = f"{line.at('quantity')}: {shown(line.model)}"
            yield (
                f"{told}: {wanted} asked for, and {line.quantity:f} quoted; "
                f"{wanted} are priced, as the take-off counts them"
            )
    yield from _told_of_all(read, found)
    remarks: dict[str, list[str]] = {}
    for line in read.lines:
        if line.remark:
            remarks.setdefault(line.remark, []).append(
                f"{shown(line.model or line.article)}, line {line.place.line}"
            )
    for remark, where in remarks.items():
        yield f"remark, to be read by you: {printable(remark)} ({'; '.join(where)})"


def _meant(line: PriceLine, missing: Sequence[str]) -> str:
    """Return which thing that was asked for a line may answer; empty where none is near."""
    texts = (line.model, line.article, line.remark)
    meant = next((one for one in missing if any(one in text for text in texts)), None)
    meant = meant or next((near for text in texts if text and (near := nearest(text, missing))), None)
    if meant is None:
        return ", and nothing is taken of it"
    return (
        f": {meant} was asked for and is not answered; if this is what takes its place, describe it in "
        f"library/, or write {meant} into the column Model, and import again"
    )


def _told_of_all(read: ReadList, found: PriceChanges) -> Iterator[str]:
    for what, names in (
        ("without a price", found.unpriced),
        ("priced on a later day already", found.overtaken),
    ):
        if names:
            yield f"{what}: {_named([_at(one) for one in names])}"
    yield from (f"not cheaper, and not taken: {printable(one)}" for one in found.dearer)
    yield from told_charges(read.charges)
    if read.unread:
        yield f"columns that nobody reads: {', '.join(shown(one) for one in read.unread)}"


def told_charges(charges: Sequence[Charge]) -> Iterator[str]:
    """Yield what is said of lines with an amount that name no article.

    charges: as they were read.
    """
    for one in charges:
        yield (
            f"{one.place}: {shown(one.text) if one.text else 'a line'}, {one.amount:f} "
            f"{printable(one.currency)}, is of no article and is not in the price; a charge goes into "
            "project.yaml under price.surcharges, or into the inputs as a further allowance"
        )


def told_not_bought(before: Computed, changes: Sequence[InputChange]) -> Iterator[str]:
    """Yield what is said of new prices of what is not bought, or furnished by others.

    before: the project as it is.  changes: of prices.
    """
    lines = before.estimate.lines
    counted_for_others = {one.model for one in lines if is_for_others(before.project, one.section)}
    bought = {one.model for one in lines} - counted_for_others
    priced = dict.fromkeys(one.where.path[1] for one in changes if one.where.path[-1] == "cost")
    for what, names in (
        ("counted for others to furnish, so that their prices move nothing", counted_for_others),
        ("not used in this project, so that their prices move nothing now", None),
    ):
        found = [
            one
            for one in priced
            if (one in names if names is not None else one not in bought | counted_for_others)
        ]
        if found:
            yield f"{what}: {_named([shown(one) for one in found])}"


def _at(one: NotTaken) -> str:
    """Return what a line is of, and its line in the file."""
    return f"{shown(one.name)} (line {one.line.place.line})"


def _named(names: Sequence[str]) -> str:
    named = ", ".join(names[:_MOST_NAMED])
    return f"{named} and {len(names) - _MOST_NAMED} more" if len(names) > _MOST_NAMED else named
