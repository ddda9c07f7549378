"""Terms of the contract, each in the short form that is printed and compared with what was asked."""

import datetime
from collections.abc import Iterator, Mapping
from decimal import Decimal

from proposal.model.labour.labour import Trade
from proposal.model.labour.labour_choices import WageRule, WorkHours
from proposal.model.price.commercial import Payment
from proposal.model.price.contract_terms import Damages, DamagesSum, PriceRise, Service, TaxExemption
from proposal.model.programme import NoWork, PaymentEvent
from proposal.model.project import Brief
from proposal.model.weekdays import weekdays_in_words
from proposal.quantities import formatting, percentages

AS_WRITTEN = ""
"""In place of a locale: days and hours as files have them, 2031-06-01 and 18:00."""
NOT_KNOWN = "not known yet"
"""In place of what the client has left open, and is asked."""


def share_in_words(share: float) -> str:
    """Return a share as people write it, `0.5 %` or `33 1/3 %`.

    share: from 0 to 1.
    """
    exact = Decimal(repr(share))
    return (percentages.thirds(exact) or f"{exact * 100:f}".rstrip("0").rstrip(".")) + " %"


def terms_in_words(
    brief: Brief, trades: Mapping[str, Trade], locale: str = AS_WRITTEN
) -> Mapping[str, tuple[str, ...]]:
    """Return each term that a project has, in its short form, by what it is; several forms of several.

    trades: of the labour data, by key.
    locale: as whose people days and hours are written.
    """
    found: dict[str, tuple[str, ...]] = {
        "damages": (*_damages(brief.terms.damages), *_damages_sum(brief.terms.damages_sum)),
        "price rise": tuple(_rise(one, locale) for one in brief.terms.price_rises.values()),
        "tax exemption": tuple(_exemption(brief.price.tax_exemption)),
        "payment": tuple(_payment(one, brief.programme.milestones) for one in brief.price.payments.values()),
        "payment days": tuple(dict.fromkeys(_days(one) for one in brief.price.payments.values())),
        "milestone": tuple(f"{name} ({event})" for event, name in brief.programme.milestones.items()),
        "bond": tuple(f"{_share(one.share)} ({one.name})" for one in brief.terms.bonds.values()),
        "service": tuple(service_in_words(one) for one in brief.terms.services.values()),
        "work hours": tuple(_hours(one, locale) for one in brief.labour.work_hours.values()),
        "no work": tuple(no_work_in_words(one, locale) for one in brief.programme.no_work.values()),
        "wages": tuple(
            f"{trades[key].name}: {_wage(one)} ({one.by})"
            for key, one in brief.labour.wages.items()
            if key in trades
        ),
    }
    if brief.price.retention:
        known = "retention_days" in brief.price.model_fields_set
        time = f" for {brief.price.retention_days} days" if known else f", for how long is {NOT_KNOWN}"
        found["retention"] = (f"{share_in_words(brief.price.retention)}{time}",)
    return {what: words for what, words in found.items() if words}


def _damages(damages: Damages | None) -> Iterator[str]:
    if damages is not None:
        yield f"{_share(damages.share)} a {damages.each}, at most {_share(damages.most)}"


def _damages_sum(damages: DamagesSum | None) -> Iterator[str]:
    if damages is not None:
        limit = "" if damages.most is None else f", at most {damages.most}"
        yield f"{damages.amount} a {damages.each}{limit}"


def _share(share: float | None) -> str:
    """Return a share in words, or that the client has still to say it."""
    return NOT_KNOWN if share is None else share_in_words(share)


def _wage(rule: WageRule) -> str:
    return NOT_KNOWN if rule.least is None else f"{rule.least.amount} {rule.least.currency} an hour"


def _rise(one: PriceRise, locale: str) -> str:
    return f"{share_in_words(one.share)} after {_day(one.after, locale)}"


def _day(day: datetime.date, locale: str) -> str:
    return formatting.date(day, locale) if locale else day.isoformat()


def _hours(one: WorkHours, locale: str) -> str:
    where = f" in {', '.join(one.rooms)}" if one.rooms else ""
    reason = f" ({one.reason})" if one.reason else ""
    when = f"{weekdays_in_words(one.weekdays, ())}, " if one.weekdays else ""
    what = f", for {formatting.listed(one.phases)}" if one.phases else ""
    return f"{when}{_clock(one.start, locale)} to {_clock(one.end, locale)}{where}{what}{reason}"


def hours_that_shorten_the_day(brief: Brief, locale: str) -> tuple[str, ...]:
    """Return hours of work shorter than a working day, with what they leave: `18:00 to 23:00: 5 h a day`.

    locale: as whose people the hours are written.
    """
    day = brief.programme.hours_a_day
    return tuple(
        f"{_hours(one, locale)}: {formatting.short_number(Decimal(one.minutes) / 60, locale)} h a day"
        for one in brief.labour.work_hours.values()
        if one.minutes < day * 60
    )


def service_in_words(one: Service) -> str:
    """Return a service in words: `Maintenance visits: 2 times a year, for 24 months`."""
    times = "once" if one.times == 1 else f"{one.times} times"
    told = [
        *([f"{times}{' a year' if one.a_year else ''}"] if one.times is not None else ()),
        *([f"{one.hours:f} h each"] if one.hours is not None else ()),
        *([f"within {one.within:f} h"] if one.within is not None else ()),
        *(
            [f"within {formatting.count_of(one.within_working_days, 'working day')}"]
            if one.within_working_days is not None
            else ()
        ),
        *([f"for {one.months} months"] if one.months is not None else ()),
    ]
    return f"{one.name}: {', '.join(told)}"


def no_work_in_words(one: NoWork, locale: str = AS_WRITTEN) -> str:
    """Return days on which nobody may work in words: `every Tuesday in B101 (the board meets)`.

    locale: as whose people the hours are written.
    """
    hours = ""
    if one.start is not None and one.end is not None:
        hours = f", {_clock(one.start, locale)} to {_clock(one.end, locale)}"
    where = f" in {', '.join(one.rooms)}" if one.rooms else ""
    reason = f" ({one.reason})" if one.reason else ""
    return f"{weekdays_in_words(one.days, one.weeks)}{hours}{where}{reason}"


def _clock(minutes: int, locale: str) -> str:
    if locale:
        return formatting.time_of_day(minutes, locale)
    return f"{minutes // 60:02}:{minutes % 60:02}"


def _exemption(exemption: TaxExemption | None) -> Iterator[str]:
    if exemption is not None:
        certificate = f" (certificate {exemption.certificate})" if exemption.certificate else ""
        yield f"{exemption.reason}{certificate}"


def _days(payment: Payment) -> str:
    return f"{payment.days} days"


_UPON: Mapping[PaymentEvent, str] = {
    "order": "the order",
    "drawings approved": "approval of the drawings",
    "delivery": "delivery",
    "first fix complete": "completion of first fix",
    "second fix complete": "completion of second fix",
    "accepted": "acceptance",
}


def _payment(payment: Payment, milestones: Mapping[PaymentEvent, str]) -> str:
    """Return a payment with its own time to pay: `40 % upon delivery, within 45 days (On delivery)`."""
    upon = milestones.get(payment.event, _UPON[payment.event])
    return f"{share_in_words(payment.share)} upon {upon}, within {payment.days} days ({payment.name})"
