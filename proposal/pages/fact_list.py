"""Lists of facts: headings and values as a row declares them, as far as an edition has something for them."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from proposal.document.readers import Shown
from proposal.document.schedule import Column, columns_of, part_in
from proposal.document.values import field_text, is_nothing, item_text
from proposal.field_classes import dataclass
from proposal.pages.markdown import Html, html_text
from proposal.pages.page_context import PageContext
from proposal.pages.page_elements import facts, status
from proposal.pages.schedule_table import cell_of
from proposal.pages.tables import Cell


@dataclass(frozen=True, slots=True)
class Fact:
    """A heading and what stands behind it.

    name: of the field or composed column that it shows; empty where it is made by hand.
    """

    heading: str
    value: object
    name: str = ""


def fact_list(caption: str, shown: Iterable[Fact]) -> Html:
    """Return facts as a ready list, those that are empty left out.

    caption: read out by screen readers, not shown.
    """
    return facts(caption, [(one.heading, one.value) for one in shown if one.value not in (None, "")])


def facts_of(here: PageContext, row: Shown, *names: str) -> tuple[Fact, ...]:
    """Return what a row holds in some of its columns, as the row declares them.

    names: of its fields and composed columns, in order.
    Raises KeyError where the row has none of such a name.
    """
    return tuple(
        Fact(here.values.heading(column.shows), _value(here, column, row), column.name)
        for column in _seen(here, row, names)
    )


def fact_of_part(here: PageContext, row: Shown, name: str, part: str) -> tuple[Fact, ...]:
    """Return what a part of a row holds in one of its columns, under the heading of the part itself.

    name: of the field that holds the part.  part: name of the column of the part.
    """
    return tuple(
        Fact(here.values.heading(column.shows), fact.value, name)
        for column in _seen(here, row, (name,))
        if part_in(row.__class__.model_fields[name].annotation) is not None
        for fact in facts_of(here, getattr(row, name), part)
    )


def facts_of_groups(here: PageContext, row: Shown, name: str) -> tuple[Fact, ...]:
    """Return a fact for each group that a field holds: the first of the group, and the rest of it.

    name: of a field that holds groups, such as letters and names.
    """
    return tuple(
        Fact(str(first), item_text(tuple(rest), column.shows.quantities[1:], here.values, row), name)
        for column in _seen(here, row, (name,))
        for first, *rest in column.of(row, here.document)
    )


def headed_facts_of_groups(here: PageContext, row: Shown, name: str) -> tuple[Fact, ...]:
    """Return the same with the heading of the field before the first of each group.

    name: of the field that holds the groups.
    """
    heading = here.values.heading(columns_of(row.__class__)[name].shows)
    return tuple(
        Fact(f"{heading}, {fact.heading}", fact.value, name) for fact in facts_of_groups(here, row, name)
    )


def leading_to(here: PageContext, path: str, shown: Iterable[Fact]) -> tuple[Fact, ...]:
    """Return facts as links to the page on which they stand in full.

    path: of that page, from the root of the site.
    """
    return tuple(
        Fact(one.heading, here.to(path, one.value), one.name) for one in shown if one.value is not None
    )


def facts_to_come(here: PageContext, part: type[Shown], names: Mapping[str, str]) -> Html:
    """Return a list of the headings of a class of rows, with nothing behind them before a script fills them.

    part: class of the rows.  names: of their columns, by what the script calls each; `not` stands hidden.
    """
    declared = columns_of(part)
    lines = ['<dl class="chosen">']
    for called, name in names.items():
        hidden = " hidden" if called == "not" else ""
        heading = html_text(here.values.heading(declared[name].shows))
        lines.append(f'<div data-part="{called}"{hidden}><dt>{heading}</dt><dd></dd></div>')
    return Html("\n".join([*lines, "</dl>"]))


def rows_to_come(here: PageContext, code: str, caption: str, part: type[Shown], names: Sequence[str]) -> Html:
    """Return a table of the headings of a class of rows, with no row before a script fills it.

    code: by which the script and the style find it.  caption: says what the table shows.
    part: class of the rows.  names: of their columns, in order.
    """
    declared = columns_of(part)
    heads = (html_text(here.values.heading(declared[name].shows)) for name in names)
    row = "".join(f'<th scope="col">{head}</th>' for head in heads)
    return Html(
        f'<table class="{code}"><caption>{html_text(caption)}</caption>'
        f"<thead><tr>{row}</tr></thead><tbody></tbody></table>"
    )


def marked(shown: Iterable[Fact], marks: Mapping[str, str]) -> tuple[Fact, ...]:
    """Return facts as signs and words.

    marks: kind of mark by the name of the field.
    """
    return tuple(Fact(one.heading, status(one.value, marks[one.name]), one.name) for one in shown)


def _seen(here: PageContext, row: Shown, names: Iterable[str]) -> Iterable[Column]:
    declared = columns_of(row.__class__)
    return [
        column
        for column in (declared[name] for name in names)
        if here.edition.reader in column.shows.readers and not column.shows.drawn
    ]


def _value(here: PageContext, column: Column, row: Shown) -> object:
    """Return what a column holds; its unit stands behind the value, where a table has it in the heading."""
    shown = cell_of(here, column, row)
    if shown is None or not here.values.unit(column.shows):
        return shown.content if isinstance(shown, Cell) else shown
    held: Any = column.of(row, here.document)
    return None if is_nothing(held) else field_text(held, column.shows.quantities, here.values, row)
