"""Take back what an estimator or a supplier filled in: `proposal import`."""

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from proposal.commands.arguments import LibraryFolder, given_path, given_text
from proposal.commands.printing import counted
from proposal.running import DESIGN_ERRORS, GOOD, say

if TYPE_CHECKING:
    from proposal.model.equipment.entry import Layer


class WrittenInto(StrEnum):
    """Whose files may change."""

    project = "project"
    company = "company"


def import_(
    book: Annotated[
        Path,
        typer.Argument(
            metavar="WORKBOOK",
            parser=given_path,
            help="The estimator's workbook with changed inputs, an answered request for a quote, or, with "
            "--mapping, a supplier's price list.",
        ),
    ],
    folder: Annotated[
        Path,
        typer.Argument(
            metavar="PROJECT", parser=given_path, help="The project folder; by default the present one."
        ),
    ] = Path("."),
    write: Annotated[
        bool, typer.Option("--write", help="Write the changes; without it they are only shown.")
    ] = False,
    mapping: Annotated[
        Path | None,
        typer.Option(
            "--mapping",
            metavar="FILE",
            parser=given_path,
            help="How a supplier's price list (CSV or XLSX) is read: columns, currency, day, articles.",
        ),
    ] = None,
    into: Annotated[
        WrittenInto,
        typer.Option(
            "--into",
            metavar="LAYER",
            help="Whose files may change: project, or company, whose own library then takes price lists, and "
            "figures that stand in it.",
        ),
    ] = WrittenInto.project,
    cheaper: Annotated[
        bool,
        typer.Option(
            "--cheaper",
            help="Of a price list or quote, take only prices below those that count now; tell the others.",
        ),
    ] = False,
    confirm: Annotated[
        list[str] | None,
        typer.Option(
            "--confirm",
            metavar="ITEM",
            parser=given_text,
            help="Take the price of this item of a price list or quote, or the input with this key of a "
            "workbook, though it is more than five times or under a fifth of what counts now; may be given "
            "several times.",
        ),
    ] = None,
    keep_equipment: Annotated[
        bool,
        typer.Option(
            "--keep-equipment",
            help="Keep the access points, chargers, breakouts and mixers that each room has, by decisions in "
            "fixed.yaml, where the new figures would choose others; reels are planned anew all the same.",
        ),
    ] = False,
    with_errors: Annotated[
        bool,
        typer.Option(
            "--with-errors",
            help="With --write: write the changes although `check` then finds errors that it does not find "
            "now.",
        ),
    ] = False,
    library: LibraryFolder = None,
) -> None:
    """Take changed inputs of the estimator's workbook, price lists and quotes into the project.

    Shown are the old and the new value of each with its file and line, what the price becomes with the same
    equipment, what choosing equipment anew would change, and the errors and warnings that `check` would then
    find and does not find now. With new errors nothing is written, and the exit status is 1, unless
    --with-errors is given. Only the signs of each value change; comments
    and order stay. Prices of a supplier stand in a file of the library called after the supplier, with their
    source and day; the price of another supplier in the same library gives way, and stays in its file as a
    comment. What is no input, another project or revision, formulas where values belong, and figures far off
    those that count are refused, and then nothing is written.
    """
    from proposal.errors import InputError, Place, Problem
    from proposal.imports.free_choice import told_result, told_totals
    from proposal.imports.new_findings import NOT_WRITTEN, brings_errors, told_findings
    from proposal.publish.importing import is_filled_form, price_list_import, workbook_import, write_import

    confirmed = frozenset(confirm or ())
    if mapping is not None or is_filled_form(book):
        layer: Layer = "company" if into is WrittenInto.company else "project"
        found = price_list_import(book, mapping, folder, library, layer, cheaper, confirmed, keep_equipment)
    elif cheaper:
        message = "wanted a price list or a quote; found the estimator's workbook"
        raise InputError([Problem(Place("--cheaper"), "", message)])
    else:
        writable: tuple[Layer, ...] = ("project", "company") if into is WrittenInto.company else ("project",)
        found = workbook_import(book, folder, library, writable, keep_equipment, confirmed)
    for key in found.moved:
        say(f"{key}: changed in the project since the workbook was made; it stays so")
    if not found.changes:
        for line in found.told:
            say(line)
        say("no input is changed")
        return
    for change in found.changes:
        if change.is_figure and change.was != change.value:
            say(_line(change))
    for line in found.told:
        say(line)
    for line in told_totals(found.before, found.held, found.after):
        say(line)
    findings = found.findings
    for line in told_findings(findings, found.after):
        say(line)
    wrong = brings_errors(findings) and not with_errors
    if wrong:
        say(NOT_WRITTEN)
    elif not write:
        say(f"nothing is written; with --write {counted(len(found.files), 'file')} would be")
    if wrong or not write:
        raise typer.Exit(DESIGN_ERRORS if wrong else GOOD)
    write_import(found, folder)
    figures = sum(change.is_figure for change in found.changes)
    say(f"{counted(figures, 'figure')} written into {counted(len(found.files), 'file')}")
    say(told_result(found.after))


def _line(change: Any) -> str:
    from proposal.imports.far_off import is_far_off, told_times

    where = change.where.place or f"{change.where.file} (added)"
    times = change.times
    much = f" ({told_times(times)})" if times is not None and is_far_off(times) else ""
    return f"{where}: {change.key}: {change.was or 'nothing'} becomes {change.value}{much}"
