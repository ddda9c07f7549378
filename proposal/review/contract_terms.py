"""Rules about terms of the contract: wages paid, price rises that the order would meet, hours of work."""

from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.equipment.unit_costs import in_currency
from proposal.design.standing_conditions import OFF_HOURS, lies_off_hours
from proposal.estimate.programme.planned_order import order_day
from proposal.model.labour.labour import SITE_PHASES, Phase
from proposal.model.labour.labour_choices import LabourChoices, WorkHours
from proposal.model.price.terms_in_words import share_in_words
from proposal.model.project import Project
from proposal.model.rooms import Session
from proposal.quantities import formatting
from proposal.review.finding import Finding, Rule, listed
from proposal.standards.sources import EDITABLE_DEFAULT


def underpaid(project: Project) -> tuple[str, ...]:
    """Return the trades whose hour costs less than a wage rule asks for, by key."""
    trades = project.labour.trades
    return tuple(
        key
        for key, rule in project.brief.labour.wages.items()
        if rule.least is not None
        and in_currency(project, trades[key].cost) < in_currency(project, rule.least)
    )


def wages_below_the_rule(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each trade whose hour costs less than a law or an agreement asks for."""
    for key in underpaid(project):
        rule = project.brief.labour.wages[key]
        yield Finding(
            rule="wage-below-rule",
            severity="error",
            where=key,
            place=project.place("project", "labour", "wages", key),
            message=f"An hour of {project.labour.trades[key].name} costs less than {rule.by} asks for.",
            source=EDITABLE_DEFAULT,
            remedy="Raise the cost of the trade under labour.rates, or correct the rule.",
        )


def ordered_after_a_rise(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each price rise that the planned day of the order meets."""
    brief = project.brief
    order = order_day(project, brief.programme)
    for key, rise in brief.terms.price_rises.items():
        if order > rise.after:
            share = share_in_words(rise.share)
            yield Finding(
                rule="order-after-price-rise",
                severity="warning",
                where=key,
                place=project.place("project", "terms", "price_rises", key),
                message=f"The order is planned for {formatting.date(order, brief.locale)}; after "
                f"{formatting.date(rise.after, brief.locale)} the price rises by {share}, which is a term "
                "and not in it.",
                source=EDITABLE_DEFAULT,
                remedy=f"Plan the order for {formatting.date(rise.after, brief.locale)} or before, or agree "
                f"that this price holds until {formatting.date(order, brief.locale)}.",
            )


def works_on_a_day_nobody_is_there(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for hours of work on days of the week on which the programme has nobody on site."""
    for key, hours in project.brief.labour.work_hours.items():
        days = tuple(day for day in hours.weekdays if day not in project.brief.programme.days_on_site)
        if days:
            yield Finding(
                rule="work-hours-on-a-day-off",
                severity="warning",
                where=key,
                place=project.place("project", "labour", "work_hours", key, "weekdays"),
                message=f"People may work on {listed(days)}, and the programme has nobody on site then.",
                source=EDITABLE_DEFAULT,
                remedy=f"Write {listed(days)} among programme.site_days, or leave it out here.",
            )


def works_off_hours_unpriced(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for hours outside normal time in rooms whose work is priced as in normal time."""
    labour = project.brief.labour
    everywhere = labour.overtime > 0 or OFF_HOURS in (*labour.conditions, *labour.project_conditions)
    for key, hours in labour.work_hours.items():
        if everywhere or not lies_off_hours(project, hours):
            continue
        unpriced = {
            tag: phases
            for tag, room in project.rooms.items()
            if (not hours.rooms or tag in hours.rooms)
            and (phases := _unpriced_phases(labour, hours, tag, room.type))
        }
        if unpriced:
            named = dict.fromkeys(phase for found in unpriced.values() for phase in found)
            what = "" if set(named) == set(SITE_PHASES) else f" for {listed(tuple(named))}"
            yield Finding(
                rule="off-hours-unpriced",
                severity="warning",
                where=key,
                place=project.place("project", "labour", "work_hours", key),
                message=f"Work on site lies outside normal working time, and nothing is charged for that in "
                f"{listed(tuple(unpriced))}{what}.",
                source=EDITABLE_DEFAULT,
                remedy="Write overtime_work or the condition `off hours` (room_conditions) under labour.",
            )


def services_unpriced(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each service that neither a task of the labour nor a sum of the price could pay."""
    price = project.brief.price
    if price.allowances or any(one.amount is not None for one in price.surcharges.values()):
        return
    for key, service in project.brief.terms.services.items():
        before = not (service.a_year or service.has_answer_time or service.months is not None)
        if not service.task:
            yield Finding(
                rule="service-unpriced",
                severity="warning",
                where=key,
                place=project.place("project", "terms", "services", key),
                message=f"“{service.name}” is printed as part of the price, and no sum of the price "
                "could pay for it.",
                source=EDITABLE_DEFAULT,
                remedy="Write which task it is, such as `task: train who runs it`, and its hours, or what it "
                "costs as a surcharge with an amount (price.surcharges)."
                if before
                else "Write what it costs as a surcharge with an amount (price.surcharges).",
            )


def bonds_unpriced(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each bond that the client asks for where no surcharge could pay for it."""
    surcharges = project.brief.price.surcharges.values()
    if any("bond" in one.covers or one.share_of_sum is not None for one in surcharges):
        return
    for key, bond in project.brief.terms.bonds.items():
        yield Finding(
            rule="bond-unpriced",
            severity="warning",
            where=key,
            place=project.place("project", "terms", "bonds", key),
            message=f"“{bond.name}” is asked for, and no surcharge of the price pays for it.",
            source=EDITABLE_DEFAULT,
            remedy="Write its premium under price.surcharges, such as `{name: Premium of the bond, "
            "share_of_sum: 1 %, covers: [bond]}`.",
        )


def works_during_meetings(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for hours of work in a room that meet meetings of one of its days."""
    locale = project.brief.locale
    for key, hours in project.brief.labour.work_hours.items():
        for tag, room in project.rooms.items():
            if hours.rooms and tag not in hours.rooms:
                continue
            met = [
                (one.start, one.end)
                for day in (room.layout.sessions, *room.layout.days.values())
                for one in day.values()
                if _meets(hours, one)
            ]
            if met:
                start, end = (formatting.time_of_day(minutes, locale) for minutes in met[0])
                begins, ends = (
                    formatting.time_of_day(minutes, locale) for minutes in (hours.start, hours.end)
                )
                yield Finding(
                    rule="work-during-meetings",
                    severity="warning",
                    where=tag,
                    place=project.place("project", "labour", "work_hours", key),
                    message=f"People may work in {tag} from {begins} to {ends}, and it meets from {start} to "
                    f"{end}.",
                    source=EDITABLE_DEFAULT,
                    remedy="Agree on days without meetings, or on hours that begin when they are over.",
                )


def _meets(hours: WorkHours, session: Session) -> bool:
    """Return whether hours of work and a meeting share a minute; hours may run past midnight."""
    day = 24 * 60
    return any(
        start < session.end and session.start < start + hours.minutes
        for start in (hours.start, hours.start - day)
    )


def _unpriced_phases(labour: LabourChoices, hours: WorkHours, tag: str, kind: str) -> tuple[Phase, ...]:
    """Return the phases of work in a room that lie in some hours, and for which nothing is charged."""
    conditions = (*labour.room_conditions.get(tag, ()), *labour.room_conditions.get(kind, ()))
    if OFF_HOURS in conditions:
        return ()
    works = [work for work in labour.overtime_work.values() if not work.rooms or tag in work.rooms]
    priced = {phase for work in works for phase in work.phases}
    return tuple(phase for phase in hours.phases or SITE_PHASES if phase not in priced)


CONTRACT_TERM_RULES: tuple[Rule, ...] = (
    wages_below_the_rule,
    ordered_after_a_rise,
    works_on_a_day_nobody_is_there,
    works_off_hours_unpriced,
    services_unpriced,
    bonds_unpriced,
    works_during_meetings,
)
