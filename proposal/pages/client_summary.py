"""The client's summary: what it costs and when, what they get, what can be chosen, what is needed of them."""

import datetime
from collections.abc import Iterator, Sequence
from functools import partial
from typing import ClassVar

from proposal.differences.details import total_texts
from proposal.differences.told_changes import ToldChange, told_changes
from proposal.document.rows.client_steps import (
    APPROVAL,
    APPROVED,
    DUTIES,
    NETWORK,
    NETWORK_TEAM,
    ORDERED,
    OWN,
    PROGRAMME,
    QUESTIONS,
    RADIO,
    YOUR_NETWORK_TEAM,
    ClientStepRow,
    question_in_place,
)
from proposal.document.rows.findings import QuestionRow
from proposal.document.rows.network import NetworkQuestionRow
from proposal.document.rows.price import NOTHING
from proposal.document.rows.programme import begins
from proposal.document.schedule import columns_of
from proposal.document.values import cell_text
from proposal.editions import AlternateEdition
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.alternates import has_alternates, offered_words, priced_alternates
from proposal.pages.client_answers import (
    DELAYS,
    choose_by,
    not_included,
    order_and_acceptance,
    own_equipment_sentences,
    payments_in_short,
    rates_followed,
    still_to_choose,
    tax_of_alternates,
)
from proposal.pages.consequence_tables import by
from proposal.pages.cover import days_of_work, price_facts, rooms_of_summary
from proposal.pages.fact_list import Fact, fact_list, facts_of
from proposal.pages.markdown import Html, join, text
from proposal.pages.page_context import PageContext
from proposal.pages.paths import alternate_path
from proposal.pages.price_over_time import EACH_YEAR, MOVERS, each_year_in_short
from proposal.pages.prose import prose_of
from proposal.pages.requirements import requirements_met
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.pages.terms import excludes
from proposal.quantities import formatting

CHOICE_TOTALS = (("price", "price_before_tax"), ("price", "price_with_tax"), ("programme", "acceptance"))
"""What a client asks of a choice: group and name of each total."""
CHANGED_TOTALS = {
    ("price", "price_before_tax"): "The price before tax is now",
    ("programme", "acceptance"): "Acceptance is now on",
}
"""Totals that a client asks after, and how a sentence about them begins."""
MOST_CAUSES = 2
"""How many parts of the work that moved the price are named."""


_STEPS = {
    PROGRAMME: (paths.PROGRAMME, "programme"),
    QUESTIONS: (paths.ASSUMPTIONS, "open questions"),
    NETWORK: (paths.NETWORK, "for the network team"),
    OWN: (paths.OWNER_EQUIPMENT, "furnished by the owner"),
    DUTIES: (paths.RESPONSIBILITIES, "who does what"),
    RADIO: (paths.RADIO, "what would help"),
}
"""Page on which a step of the client stands in full, and its name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClientSummaryPage:
    """One page for a client with two minutes.

    in_short: price and days, as facts.
    said: the same in sentences: what the price holds, and what the days mean.
    choosing: heading of what is or was to be chosen; None where nothing is.
    choices: what each alternate alone comes to.  chosen: what was chosen before, with its price.
    steps: what is needed of the client, and by when.
    others: the same of others on site; None where nothing is.
    changed: sentences on what changed since the last issue.
    besides: by when to choose, and what an alternate asks the client to furnish.
    with_order: to whom the order is sent, and what it says.  paying: in how many parts the price is paid.
    questions: to the client, as they are open.  assumptions: leads to them.
    excluded, exclusions: what is not included: as the author wrote it, or line by line where nobody did.
    left_out: leads to where else that stands.  recurs: leads to what is paid each year.
    duties: leads to who does it.
    warnings: of the design review, in plain words.  review: leads to where they say what they concern.
    """

    template: ClassVar[str] = "client_summary.md.jinja"
    prose: Html | None
    goals: tuple[Html, ...]
    rooms: Html
    in_short: Html
    said: tuple[Html, ...]
    choosing: Html | None
    choices: Html | None
    chosen: tuple[Html, ...]
    steps: Html
    others: Html | None
    besides: tuple[Html, ...]
    with_order: Html
    paying: Html | None
    changed: tuple[Html, ...]
    questions: tuple[Html, ...]
    assumptions: Html
    excluded: Html | None
    exclusions: tuple[Html, ...]
    left_out: Html | None
    recurs: Html | None
    duties: Html | None
    warnings: tuple[Html, ...]
    review: Html | None


def client_summary_page(here: PageContext) -> ClientSummaryPage:
    """Return the client's summary."""
    document = here.document
    edition = here.edition
    excluded, exclusions = not_included(here)
    own = [_with_choices(here, row) for row in document.client_steps if row.is_the_clients]
    others = [row for row in document.client_steps if not row.is_the_clients]
    return ClientSummaryPage(
        prose=prose_of(document, "summary", here.path),
        goals=tuple(text(goal) for goal in document.cover.goals),
        rooms=rooms_of_summary(here),
        in_short=fact_list("In short", _in_short(here)),
        said=tuple(_said(here)),
        choosing=text("What you can choose") if has_alternates(edition) else None,
        choices=_choices(here) if edition.alternates else None,
        chosen=tuple(
            text(f"Chosen already: {row.name}. {offered_words(here, row)}".strip())
            for row in document.included_alternates
        ),
        steps=_steps(here, here.heading("what_we_need_from_you"), own),
        others=_steps(here, "What others on site have ready", others) if others else None,
        besides=(
            *((text(f"{choose_by(here)} {tax_of_alternates(here)}".strip()),) if edition.alternates else ()),
            *own_equipment_sentences(here),
        ),
        with_order=_with_order(here),
        paying=payments_in_short(here),
        changed=tuple(_changed(here)),
        questions=(
            *(
                text(f"{question_in_place(document, row)} ({row.who}) {_taken_meanwhile(here, row)}")
                for row in document.questions
            ),
            *_of_the_network(here),
        ),
        assumptions=here.to(paths.ASSUMPTIONS, "what we assume"),
        excluded=excluded,
        exclusions=exclusions,
        left_out=here.to(f"{paths.ASSUMPTIONS}#not-included", "the page of assumptions")
        if excludes(document)
        else None,
        recurs=here.to(EACH_YEAR, "what recurs each year") if document.yearly_costs else None,
        duties=here.to(paths.RESPONSIBILITIES, "who does what") if document.responsibilities else None,
        warnings=tuple(text(row.what) for row in document.plain_warnings),
        review=here.to(paths.FINDINGS, "See where these apply") if document.plain_warnings else None,
    )


def _with_choices(here: PageContext, row: ClientStepRow) -> ClientStepRow:
    """Return a step of the client; the order says what is chosen, and the approval when the drawings come."""
    if row.key == ORDERED and here.edition.alternates:
        return row.model_copy(update={"what": f"{row.what}, and which alternates you choose"})
    sent = _drawings_sent(here)
    if row.key == APPROVED and sent is not None:
        reach = f"they reach you by {formatting.date(sent, here.cover.locale)}"
        return row.model_copy(update={"what": f"{row.what}; {reach}"})
    return row


def _drawings_sent(here: PageContext) -> datetime.date | None:
    """Return the day on which the client has the drawings: the last of our work on them before approval."""
    activities = here.document.activities
    first = begins(activities, APPROVAL)
    days = [one.finish for one in activities if first is not None and one.finish < first]
    return max(days, default=first)


def _with_order(here: PageContext) -> Html:
    """Return to whom the order is sent, and what it has to say."""
    integrator = here.cover.integrator
    whom = f"{integrator.contact}, {integrator.name}" if integrator.contact else integrator.name
    choices = ", and say which alternates you choose" if here.edition.alternates else ""
    parts = (
        text(f"To order, write to {whom}"),
        join((text("("), here.to(f"{paths.COVER}#parties", "address"), text("),")), "")
        if integrator.address
        else text("and"),
        text(f"name revision {here.cover.revision.identity}{choices}."),
    )
    return join(parts, " ")


def _of_the_network(here: PageContext) -> Iterator[Html]:
    """Yield what the client's network team are asked, and what is taken meanwhile."""
    shown = columns_of(NetworkQuestionRow)["until_then"].shows
    for row in here.document.network_questions:
        if row.asked == NETWORK_TEAM:
            taken = f"{here.values.heading(shown)}: {row.until_then}"
            yield text(f"{row.question} ({YOUR_NETWORK_TEAM}) {taken}")


def _taken_meanwhile(here: PageContext, row: QuestionRow) -> str:
    """Return what holds until somebody answers a question, as the list of questions has it."""
    shown = columns_of(QuestionRow)["value"]
    taken = cell_text(shown.of(row, here.document), shown.shows, here.values, row)
    return f"{here.values.heading(shown.shows)}: {taken}."


def _in_short(here: PageContext) -> tuple[Fact, ...]:
    return (
        *price_facts(here),
        *facts_of(here, here.cover, "valid_until"),
        *days_of_work(here),
        Fact(here.heading("each_year"), each_year_in_short(here)),
        *requirements_met(here),
    )


def _said(here: PageContext) -> Iterator[Html]:
    """Yield what the price holds, what the dates mean, and where it is told what may change the price."""
    document = here.document
    if document.price is not None:
        together = len(document.planned_rooms) > 1
        shared = " and what serves them all" if together else ""
        scope = here.to(paths.SCOPE, "scope of work")
        first = text(
            f"The price covers equipment, materials and work for {document.rooms_in_words}{shared}, as in the"
        )
        yield join((join((first, scope), " "), text(_set_aside(here))))
    yield from (text(one) for one in still_to_choose(here))
    yield text(order_and_acceptance(here))
    if document.activities:
        parts = (
            text("What has to be there by which day, and how late it may be:"),
            here.to(DELAYS, "what may delay acceptance"),
        )
        yield join(parts, " ")
    followed = rates_followed(here)
    if followed:
        yield text(followed)
    if document.price is not None:
        movers = here.to(MOVERS, "what may change the price")
        yield join(
            (
                text(
                    "What makes the price higher or lower, and by how much where that is known, "
                    "stands in one table:"
                ),
                movers,
            ),
            " ",
        )


def _set_aside(here: PageContext) -> str:
    """Return the sums that are settled at what the work really costs; a full stop where there are none."""
    cover = here.cover
    sums = [
        f"{formatting.money(row.price, cover.currency, cover.locale)} for {row.description[0].lower()}"
        f"{row.description[1:]}"
        for row in here.document.offer
        if row.group == "allowance"
    ]
    return (
        f". It includes, before tax, {formatting.listed(sums)}; for these you pay what they really cost."
        if sums
        else "."
    )


def _steps(here: PageContext, caption: str, rows: Sequence[ClientStepRow]) -> Html:
    """Return what is needed, each with the day and where it stands in full."""
    fields: list[Field[ClientStepRow]] = [
        *fields_of(here, ClientStepRow, "what", "who", "by"),
        Field(here.heading("in_full"), lambda row: _place(here, row)),
    ]
    return schedule(caption, fields, rows)


def _place(here: PageContext, row: ClientStepRow) -> Html | None:
    """Return the way to where a step stands in full; None where the edition has no page for it."""
    path, name = _STEPS[row.place]
    return here.to(path, name) if path != paths.PROGRAMME or here.document.activities else None


def _choices(here: PageContext) -> Html:
    """Return what each alternate alone adds or takes away: a row an alternate."""
    taxed = bool(here.document.taxes)
    priced = priced_alternates(here.edition)

    def comes_to(one: AlternateEdition, group: str, name: str) -> str:
        if group == "price" and one.row.not_offered:
            return here.values.words.value("not_offered")
        total = next(
            (total for total in one.consequences if (total.group, total.name) == (group, name)), None
        )
        if total is not None:
            return by(here, total)
        return here.values.words.value("on_request") if group == "price" and one.row.key not in priced else ""

    totals = [total for total in CHOICE_TOTALS if taxed or total[1] != "price_with_tax"]
    fields: list[Field[AlternateEdition]] = [
        Field(here.heading("alternate"), lambda one: here.to(alternate_path(one.row.key), one.row.name)),
        *(Field(here.heading(name), partial(comes_to, group=group, name=name)) for group, name in totals),
    ]
    return schedule("What each alternate alone adds, or takes away", fields, here.edition.alternates)


def most_of_it(here: PageContext, told: Sequence[ToldChange]) -> Iterator[Html]:
    """Yield what moved the price most, with the sums; nothing where one thing alone moved it.

    told: what changed, in the order in which it is told.
    """
    priced = [one for one in told if one.about and one.price_difference]
    if len(priced) < 2:
        return
    most = sorted(priced, key=lambda one: abs(one.price_difference or NOTHING), reverse=True)[:MOST_CAUSES]
    shown = columns_of(ToldChange)["price_difference"]
    sums = [
        f"{one.about} {cell_text(shown.of(one, here.document), shown.shows, here.values)}" for one in most
    ]
    yield text(f"What moved it most: {'; '.join(sums)}.")


def _changed(here: PageContext) -> Iterator[Html]:
    """Yield what changed since the last issue in sentences: why, and what it did to price and date."""
    changes = here.edition.changes
    if changes is None:
        return
    if here.cover.revision.changes:
        yield text(here.cover.revision.changes)
    totals = {(one.group, one.name): one for one in changes.consequences}
    for key, words in CHANGED_TOTALS.items():
        one = totals.get(key)
        if one is None or not one.changed:
            continue
        before, after = total_texts(one, here.values)
        said = by(here, one)
        yield text(f"{words} {after} ({said}; it was {before} in {changes.before.label}).")
        if key[0] == "price":
            yield from most_of_it(here, told_changes(changes))
    rewritten = [one.about for one in told_changes(changes) if one.cause == "texts"]
    if rewritten:
        yield text(f"Reworded since then: {formatting.listed(rewritten)}.")
    yield join((text("In full:"), here.to(paths.CHANGES, "what changed")), " ")
