"""Requests for quotes that came back answered and lie in a folder, read to stand beside each other."""

from pathlib import Path

from proposal.design.equipment.unit_costs import has_rate, in_currency
from proposal.document.rows.terms import Cover
from proposal.errors import InputError, Place, Problem
from proposal.exports.quote_files import CURRENCY
from proposal.exports.workbook.quotes_sheet import Quoted
from proposal.field_classes import dataclass
from proposal.imports.price_changes import no_rate
from proposal.imports.price_lists import Charge, PriceLine, ReadList, read_price_list
from proposal.imports.quote_form import FORM, OPTIONAL, is_quote_form, wrong_reference
from proposal.model.project import Project
from proposal.publish.importing import content_of
from proposal.quantities.currencies import is_currency
from proposal.quantities.messages import printable, shown
from proposal.quantities.money import Money

_SUFFIXES = (".csv", ".xlsx")


@dataclass(frozen=True, slots=True)
class Answers:
    """What suppliers ask.

    quotes: article by article.  charges: amounts that no article has, such as delivery, in no quote.
    """

    quotes: tuple[Quoted, ...]
    charges: tuple[Charge, ...]


def answered_quotes(folder: Path, project: Project, cover: Cover) -> Answers:
    """Return what suppliers ask, in the order of their files; lines without a price are left out.

    folder: of answered requests, CSV files and workbooks; what else lies there is left alone.
    project: whose currency the prices are brought to.  cover: of the project, which requests name.
    Raises InputError with every file that is no request of this project and revision, and every line that
    cannot be read or says another price than one before.
    """
    if not folder.is_dir():
        message = "wanted a folder of answered requests for quotes; found none"
        raise InputError([Problem(Place(printable(str(folder))), "", message)])
    problems: list[Problem] = []
    charges: list[Charge] = []
    found: dict[tuple[str, str, str], tuple[Quoted, PriceLine]] = {}
    for file in sorted(one for one in folder.iterdir() if one.suffix.casefold() in _SUFFIXES):
        try:
            read = _read(file)
        except InputError as error:
            problems += error.problems
            continue
        problems += read.problems
        charges += read.charges
        problems += wrong_reference(read.lines, cover)
        for line in read.lines:
            if line.price is None:
                continue
            if not has_rate(project, line.currency):
                if is_currency(line.currency):
                    problems.append(Problem(line.place, CURRENCY, no_rate(line.currency)))
                continue
            price = in_currency(project, Money(line.price, line.currency))
            one = Quoted(line.supplier, line.model, line.sold_as, price)
            first, where = found.setdefault((one.supplier, one.item, one.sold_as), (one, line))
            if first != one:
                about = f"{shown(one.item)} of {shown(one.supplier)}"
                message = f"wanted one price of {about}; found another one, first in {where.place}"
                problems.append(Problem(line.place, "Price of one", message))
    if problems:
        raise InputError(problems)
    return Answers(tuple(quoted for quoted, _ in found.values()), tuple(charges))


def _read(file: Path) -> ReadList:
    name, data = printable(str(file)), content_of(file)
    if not is_quote_form(data, name):
        message = "wanted an answered request for a quote, as export makes them; found another file"
        raise InputError([Problem(Place(name), "", message)])
    return read_price_list(data, name, FORM, optional=OPTIONAL)
