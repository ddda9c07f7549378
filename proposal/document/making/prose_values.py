"""The values that the author's prose names in double braces, in words."""

from collections.abc import Mapping
from decimal import Decimal

from proposal.document.document import Document
from proposal.document.mains_failure import mains_failure
from proposal.document.order_days import order_days
from proposal.document.rows.price import PriceTotal
from proposal.model.wording.placeholders import filled
from proposal.quantities import formatting, percentages
from proposal.quantities.formatting import count_of, listed

_LATER = "a day that is still to be agreed"


def with_values(document: Document) -> Document:
    """Return a document whose prose holds the values that it names.

    document: with the prose as its author wrote it.
    """
    if "{{" not in "".join((*document.wording.values(), document.price_wording)):
        return document
    values = prose_values(document)
    prices = price_values(document, document.price) if document.price is not None else {}
    return document.model_copy(
        update={
            "wording": {name: filled(words, values) for name, words in document.wording.items()},
            "price_wording": filled(document.price_wording, {**values, **prices}),
        }
    )


def prose_values(document: Document) -> Mapping[str, str]:
    """Return what every reader may read, by the name in double braces."""
    cover, programme, locale = document.cover, document.programme, document.cover.locale
    months = cover.warranty_months
    used = sum(
        (len(sheet.microphones) + len(sheet.wired_microphones)) * len(sheet.rooms)
        for sheet in document.room_sheets
    )
    spares = sum(
        count * len(sheet.rooms) for sheet in document.room_sheets for _, count in sheet.spare_microphones
    )
    return {
        "client": cover.client.name,
        "integrator": cover.integrator.name,
        "rooms": document.rooms_in_words,
        "microphones": count_of(used, "microphone"),
        "spare_microphones": count_of(spares, "spare microphone"),
        "order_by": _LATER if programme is None else formatting.date(programme.start, locale),
        "order_days": order_days(document),
        "acceptance": _LATER if programme is None else formatting.date(programme.finish, locale),
        "valid_until": formatting.date(cover.valid_until, locale),
        "warranty": "a time that is still to be agreed" if months is None else count_of(months, "month"),
        "mains_failure": " ".join(mains_failure(document)),
        "standby_battery": standby_battery(document),
    }


def price_values(document: Document, price: PriceTotal) -> Mapping[str, str]:
    """Return what those read who may read the price.

    price: of the whole.
    """
    locale = document.cover.locale
    rates = sorted({row.rate for row in document.taxes if row.rate})
    untaxed = sum((row.price for row in document.taxes if not row.rate), start=Decimal(0))
    return {
        "price_before_tax": formatting.money(price.price, price.currency, locale),
        "price_with_tax": formatting.money(price.total, price.currency, locale),
        "tax_rates": listed([percentages.percentage(rate, locale) for rate in rates]) or "no tax",
        "untaxed": formatting.money(untaxed, price.currency, locale),
    }


def standby_battery(document: Document) -> str:
    """Return after how many months batteries of standby supplies are replaced; empty without one."""
    months = sorted({row.battery_months for row in document.standby_supplies})
    if not months:
        return ""
    lasting = listed([str(one) for one in months]) + (" month" if months == [1] else " months")
    warranty = document.cover.warranty_months
    sooner = ", sooner than the warranty ends" if warranty is not None and months[0] < warranty else ""
    return (
        "The battery of the standby supply ages with the warmth of its rack: it has to be replaced after "
        f"about {lasting}{sooner}."
    )
