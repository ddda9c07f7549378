"""Alternates: what may be chosen instead, what each comes to, and prices of all combinations."""

import json
from collections.abc import Mapping
from functools import partial
from typing import ClassVar

from proposal.document.rows.alternates import AlternateRow, CombinationRow
from proposal.document.schedule import columns_of
from proposal.document.values import cell_text
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.pages.added_by_alternate import furnished_with
from proposal.pages.client_answers import (
    days_chosen,
    groups_to_choose,
    names_in_quotes,
    still_to_choose,
    tax_of_alternates,
)
from proposal.pages.consequence_tables import by
from proposal.pages.fact_list import facts_to_come
from proposal.pages.markdown import Html, html_text, text
from proposal.pages.order_form import order_form, payments_of, payments_of_all, payments_to_come
from proposal.pages.page_context import PageContext
from proposal.pages.page_elements import note_box
from proposal.pages.paths import alternate_path
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.quantities import formatting

# What the overview shows: its heading, and the total by group and name.
TOTALS: tuple[tuple[str, str, str], ...] = (
    ("Price before tax", "price", "price_before_tax"),
    ("Price with tax", "price", "price_with_tax"),
    ("Rooms", "rooms", "rooms"),
    ("Portable sets", "rooms", "portable_sets"),
    ("Microphones in use at once", "rooms", "microphones_in_use_at_once"),
    ("Charge slots", "rooms", "charge_slots"),
    ("Length of all cables", "cables", "length_of_all_cables"),
    ("Power drawn at switches", "power", "power_drawn_at_switches"),
    ("Hours of labour", "labour", "hours"),
    ("Acceptance", "programme", "acceptance"),
    ("Errors of the design review", "checks", "errors"),
    ("Warnings", "checks", "warnings"),
    ("Notes", "checks", "notes"),
)
_BY_WHICH_CLIENTS_CHOOSE = {"price", "rooms", "programme"}
_PARTS = {"charge_slots", "charge_slots_needed"}


def for_the_client(group: str, name: str) -> bool:
    """Return whether a client chooses by a total; counts of parts are for others.

    group, name: of the total.
    """
    return group in _BY_WHICH_CLIENTS_CHOOSE and name not in _PARTS


@dataclass(frozen=True, slots=True, kw_only=True)
class AlternatesPage:
    """What may be chosen, and what it comes to.

    included: what was chosen already; choices: each with what it comes to; None where there are none.
    choose_by: until when.
    descriptions: link, description, whether it is priced on request, and note of each choice.
    ticking: a form that adds up what is chosen; None where it cannot.
    combinations: prices of all combinations, or of each two; None where no two are computed together.
    payments: what is paid when with each of them; None where no payment is agreed.
    too_many: why not all of them are computed.
    """

    template: ClassVar[str] = "alternates.md.jinja"
    choices: Html | None
    choose_by: Html
    descriptions: tuple[tuple[Html, Html, Html | None, Html | None], ...]
    ticking: Html | None
    combinations: Html | None
    payments: Html | None
    too_many: Html | None
    included: tuple[tuple[Html, Html, Html | None], ...]


def has_alternates(edition: Edition) -> bool:
    """Return whether the edition holds anything about alternates."""
    return bool(edition.alternates or edition.document.included_alternates)


def alternates_page(here: PageContext) -> AlternatesPage:
    """Return the page of what may be chosen."""
    edition = here.edition
    priced = priced_alternates(edition)
    complete = bool(priced) and len(edition.combinations) == 2 ** len(priced)
    in_pairs = not complete and len(edition.combinations) > len(priced) + 1
    return AlternatesPage(
        choices=_choices(here) if edition.alternates else None,
        choose_by=text(
            " ".join(
                part for part in (*still_to_choose(here), days_chosen(here), tax_of_alternates(here)) if part
            )
        ),
        descriptions=tuple(
            (
                here.to(alternate_path(one.row.key), one.row.name),
                text(f"{one.row.description} {furnished_with(here, one)}".strip()),
                about_offer(here, one.row),
                note_box(here.heading("internal_note"), one.row.internal_note),
            )
            for one in edition.alternates
        ),
        ticking=_ticking(here) if complete else None,
        combinations=_combinations(here, in_pairs=in_pairs) if complete or in_pairs else None,
        payments=payments_of_all(here, _ordered(edition)) if complete else None,
        too_many=text(_IN_PAIRS if in_pairs else _TOO_MANY) if priced and not complete else None,
        included=tuple(_included(here, row) for row in edition.document.included_alternates),
    )


def priced_alternates(edition: Edition) -> set[str]:
    """Return the keys of the alternates whose prices this reader sees."""
    return {key for row in edition.combinations for key in row.chosen}


def about_offer(here: PageContext, row: AlternateRow) -> Html | None:
    """Return what is said of an alternate beside its description: what it gives up, and how it is offered."""
    asked = {one.tag: one for one in here.document.requirements}
    given_up = formatting.listed([f"{tag}, “{asked[tag].text}”" for tag in row.gives_up if tag in asked])
    told = [f"What you asked for in {given_up} is not met with it."] if given_up else []
    if row.not_offered:
        told = [f"Not offered. {' '.join(row.not_offered)}"]
    elif row.one_of:
        told.append(f"One alternate has to be chosen for {row.one_of}.")
    elif row.deductive:
        told.append("A deduct: what is left out lowers the price.")
    elif row.price != "stated":
        told.append(f"Price: {row.price}.")
    return text(" ".join(told)) if told else None


_IN_PAIRS = (
    "There are more than five alternates to choose from. Each, and each two of them together, has been "
    "designed, reviewed and priced: the table tells which two exclude each other. Three or more together "
    "have not been reviewed. They may cost more or less than the sum, and may exclude each other although "
    "no two of them do. Tell us which you want before you order: we review and price that choice as a whole."
)
_TOO_MANY = (
    "There are more than seven alternates to choose from. Each has been designed, reviewed and priced alone; "
    "several of them together have not. Together they may cost more or less than the sum, and two that are "
    "each without errors may exclude each other. Tell us which you want before you order: we review and "
    "price that choice as a whole."
)


def _included(here: PageContext, row: AlternateRow) -> tuple[Html, Html, Html | None]:
    told = f"{row.description} {offered_words(here, row)}".strip()
    return text(row.name), text(told), note_box(here.heading("internal_note"), row.internal_note)


def offered_words(here: PageContext, row: AlternateRow) -> str:
    """Return the price of a chosen alternate when it was offered; empty where it was never offered.

    row: of an alternate that is part of the proposal.
    """
    if row.offered_at is None:
        return ""
    by = cell_text(row.offered_at, columns_of(AlternateRow)["offered_at"].shows, here.values)
    return f"In revision {row.offered_in} it was offered at {by} before tax; it is part of the price now."


def _choices(here: PageContext) -> Html:
    """Return what each alternate changes: a row a total, a column an alternate."""
    alternates = here.edition.alternates
    priced = priced_alternates(here.edition)
    refused = {one.row.key for one in alternates if one.row.not_offered}
    found = {
        (one.row.key, total.group, total.name): total for one in alternates for total in one.consequences
    }

    def cell(row: tuple[str, str, str], key: str) -> str:
        if row[1] == "price" and key in refused:
            return here.values.words.value("not_offered")
        total = found.get((key, row[1], row[2]))
        if total is None:
            return here.values.words.value("on_request") if row[1] == "price" and key not in priced else ""
        return by(here, total)

    for_client = here.edition.reader == "client"
    rows = [
        row
        for row in TOTALS
        if (not for_client or for_the_client(*row[1:]))
        and any((one.row.key, row[1], row[2]) in found for one in alternates)
    ]
    fields: list[Field[tuple[str, str, str]]] = [
        Field(here.heading("what_changes"), lambda row: row[0]),
        *(Field(one.row.name, partial(cell, key=one.row.key)) for one in alternates),
    ]
    shown = schedule("What each alternate alone changes", fields, rows)
    return Html(f'<div class="side-by-side">\n{shown}\n</div>')


def _money(here: PageContext, row: CombinationRow) -> tuple[str, str, str]:
    cover = here.cover
    amounts = (row.price, row.tax, row.total)
    before, tax, total = (
        "" if one is None else formatting.money(one, cover.currency, cover.locale) for one in amounts
    )
    return before, tax, total


def _impossible(here: PageContext, row: CombinationRow) -> str:
    if len(row.impossible) == 1:
        return f"not possible: {names_in_quotes(here, row.impossible)} is not offered"
    if row.not_offered:
        return f"not possible: {names_in_quotes(here, row.impossible)} together. {' '.join(row.not_offered)}"
    return f"not possible: {names_in_quotes(here, row.impossible)} exclude each other"


def _still_to_choose(here: PageContext, row: CombinationRow) -> str:
    """Return what of a choice is open: groups of which it has none; empty where nothing is."""
    groups = groups_to_choose(here)
    return "; ".join(
        f"still to choose, {name}: one of {names_in_quotes(here, groups[name])}" for name in row.to_choose
    )


def _ordered(edition: Edition) -> tuple[CombinationRow, ...]:
    """Return the combinations that leave no choice open: no other can be ordered."""
    return tuple(row for row in edition.combinations if not row.to_choose)


def _combinations(here: PageContext, *, in_pairs: bool) -> Html:
    taxed, rows = bool(here.document.taxes), here.edition.combinations
    # Where only pairs are priced, choices stay open.
    ordered = () if in_pairs else _ordered(here.edition)
    fields: list[Field[CombinationRow]] = [
        *fields_of(here, CombinationRow, "chosen", "price", "difference"),
        *fields_of(here, CombinationRow, *(("tax", "total") if taxed else ())),
        *fields_of(here, CombinationRow, "acceptance", "latest_order"),
        *(() if ordered else fields_of(here, CombinationRow, "to_choose")),
        *fields_of(here, CombinationRow, "cost", "impossible", "not_offered", "problem"),
    ]
    title = "Prices of each alone and of each two together" if in_pairs else "Prices of all combinations"
    return schedule(title, fields, ordered or rows)


def _ticking(here: PageContext) -> Html:
    """Return a form whose total follows what is ticked; it stays hidden where no script runs."""
    taxed = bool(here.document.taxes)
    data: dict[str, Mapping[str, object]] = {}
    for row in here.edition.combinations:
        before, tax, total = _money(here, row)
        said = {
            "price": before,
            "difference": _difference(here, row),
            **({"tax": tax, "total": total} if taxed else {}),
            **_days(here, row),
            "payments": payments_of(here, row),
        }
        why_not = _impossible(here, row) if row.price is None else _still_to_choose(here, row)
        data[" ".join(sorted(row.chosen))] = {"not": why_not} if why_not else said
    parts = {
        "price": "price",
        "difference": "difference",
        **({"tax": "tax", "total": "total"} if taxed else {}),
        **{name: name for name in _DAYS if any(getattr(row, name) for row in here.edition.combinations)},
        "not": "chosen",
    }
    lines = [
        f'<form class="choose" data-combinations="{html_text(json.dumps(data, ensure_ascii=False))}" hidden>',
        "<fieldset><legend>Tick what you would like</legend>",
    ]
    priced = priced_alternates(here.edition)
    for one in here.edition.alternates:
        if one.row.key not in priced:
            continue
        shut = " disabled" if one.row.not_offered else ""
        furnished = furnished_with(here, one)
        told = (
            f' data-furnished="{html_text(f"{one.row.name}: {furnished[:1].lower()}{furnished[1:]}")}"'
            if furnished
            else ""
        )
        lines.append(
            f'<label><input type="checkbox" autocomplete="off" value="{html_text(one.row.key)}"{told}{shut}> '
            f"{html_text(one.row.name + _said_of(one.row))}</label>"
        )
    lines += [
        "</fieldset>",
        '<div role="status" aria-live="polite" aria-atomic="true">',
        facts_to_come(here, CombinationRow, parts),
        "</div>",
        payments_to_come(here),
        '<button type="button" class="print-choice">Print the order form</button>',
        *order_form(here, parts),
        "</form>",
    ]
    return Html("\n".join(lines))


def _said_of(row: AlternateRow) -> str:
    """Return what is said of an alternate behind its name, where it is ticked."""
    if row.not_offered:
        return f" (not offered: {' '.join(row.not_offered)})"
    if row.one_of:
        return f" (one of these for {row.one_of})"
    return " (deduct)" if row.deductive else ""


def _difference(here: PageContext, row: CombinationRow) -> str:
    shows = columns_of(CombinationRow)["difference"].shows
    return cell_text(row.difference(here.document), shows, here.values)


_DAYS = ("acceptance", "latest_order")
"""Days that a choice may move."""


def _days(here: PageContext, row: CombinationRow) -> Mapping[str, str]:
    """Return the days of a combination by the name of each, those that it has."""
    days = {name: getattr(row, name) for name in _DAYS}
    return {name: formatting.date(day, here.cover.locale) for name, day in days.items() if day is not None}
