"""The values that the author's prose names in double braces, in words."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal

from proposal.document.document import Document
from proposal.document.rows.price import PriceTotal
from proposal.document.rows.standby import RoomWithoutMainsRow
from proposal.model.wording.placeholders import filled
from proposal.quantities import formatting
from proposal.quantities.code_runs import code_phrase
from proposal.quantities.formatting import count_of, listed

_LATER = "a day that is still to be agreed"
_SOUND_ENDS = "amplifier"
"""Kind of device without which nothing is heard over loudspeakers."""


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
    used = sum(len(sheet.microphones) * len(sheet.rooms) for sheet in document.room_sheets)
    spares = sum(
        count * len(sheet.rooms) for sheet in document.room_sheets for _, count in sheet.spare_microphones
    )
    return {
        "client": cover.client.name,
        "integrator": cover.integrator.name,
        "rooms": count_of(len(document.planned_rooms), "room"),
        "microphones": count_of(used, "microphone"),
        "spare_microphones": count_of(spares, "spare microphone"),
        "order_by": _LATER if programme is None else formatting.date(programme.start, locale),
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
        "tax_rates": listed([formatting.percentage(rate, locale) for rate in rates]) or "no tax",
        "untaxed": formatting.money(untaxed, price.currency, locale),
    }


def mains_failure(document: Document) -> Iterator[str]:
    """Yield sentences on what goes on, and for how long, and what goes down when the mains fails.

    document: with its rooms, devices and what each room keeps without mains.
    """
    names = {row.tag: row.name for row in document.rooms}
    rows = [row for row in document.rooms_without_mains if row.place in names]
    kinds = {row.tag: row.kind for row in document.devices}
    kinds |= {row.tag: "your own equipment" for row in document.owner_equipment}
    down = {tag for row in document.rooms_without_mains for tag in row.goes}
    elsewhere = [row for row in document.owner_equipment if row.tag in down]
    going = [row for row in rows if row.keeps == "all goes down"]
    grouped: dict[tuple[str, str, str], list[str]] = {}
    for row in rows:
        if row not in going:
            gone = (*row.goes, *(one.tag for one in elsewhere if row.place in one.serves))
            told = (_of_kinds(row.stays, kinds), _of_kinds(gone, kinds), _lasting(document, row))
            grouped.setdefault(told, []).append(names[row.place])
    for (stays, goes, lasting), places in grouped.items():
        ending = f", while {goes} stop" if goes else ""
        yield f"In {code_phrase(places)} the standby supply keeps {stays} going{lasting}{ending}."
    if going:
        where = (
            "Everywhere"
            if len(going) == len(rows)
            else f"In {code_phrase(names[row.place] for row in going)}"
        )
        yield f"{where} everything stops until the mains is back."


def _lasting(document: Document, row: RoomWithoutMainsRow) -> str:
    """Return for how long what stays up in a room does, at the usual load and at the highest."""
    if row.lasts_min is None:
        return ""
    feeding = [one for one in document.standby_supplies if set(one.feeds) & set(row.stays)]
    full_min = min((one.full_min for one in feeding if one.full_min is not None), default=row.lasts_min)
    usual = f" for about {count_of(int(row.lasts_min), 'minute')}"
    if full_min >= row.lasts_min:
        return usual
    return f"{usual} at the usual load and {count_of(int(full_min), 'minute')} at the highest"


def _of_kinds(tags: Sequence[str], kinds: Mapping[str, str]) -> str:
    """Return the kinds of some devices as a phrase: what people know, loudspeakers for their amplifier."""
    found = dict.fromkeys(kinds[tag] for tag in tags if tag in kinds)
    words = ["loudspeakers" if one == _SOUND_ENDS else one for one in found]
    return listed([one if one.endswith("s") or one.startswith("your") else f"{one}s" for one in words])


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
