"""The file that goes to a supplier for a quote, as it comes back filled in."""

from collections.abc import Iterator, Sequence

from proposal.document.rows.terms import Cover
from proposal.errors import Problem
from proposal.exports.quote_files import (
    ARTICLE,
    CURRENCY,
    DESCRIPTION,
    HOLDS,
    LEAD_TIME,
    MODEL,
    NEEDED_BY,
    OF,
    PRICE,
    QUANTITY,
    QUOTED_ON,
    REFERENCE,
    REMARK,
    SHEET,
    SOLD_AS,
    SUPPLIER,
    VALID_UNTIL,
    reference_of,
)
from proposal.imports.price_lists import PriceLine
from proposal.imports.xlsx_sheets import sheets_of
from proposal.model.price.price_list import ListColumn, PriceListMapping
from proposal.quantities.messages import shown

FORM = PriceListMapping(
    source="quote",
    sheet=SHEET,
    columns={
        "reference": REFERENCE,
        "supplier": SUPPLIER,
        "article": ARTICLE,
        "model": MODEL,
        "sold_as": SOLD_AS,
        "pack": HOLDS,
        "price": PRICE,
        "currency": CURRENCY,
        "priced_on": QUOTED_ON,
        "valid_until": VALID_UNTIL,
        "quantity": QUANTITY,
        "lead_time_days": LEAD_TIME,
        "lead_time_weeks": "Lead time (weeks)",
        "remark": REMARK,
    },
)
"""How an answered form is read."""
OPTIONAL: frozenset[ListColumn] = frozenset(("quantity", "lead_time_days", "lead_time_weeks", "remark"))
"""Columns that an answer may lack: suppliers leave some out, and earlier requests did not have them all."""
OURS = frozenset((DESCRIPTION, OF, NEEDED_BY))
"""Heads of the form that say again what we asked."""
_MARK = b"\xef\xbb\xbf"


def is_quote_form(data: bytes, file: str) -> bool:
    """Say whether a file is such a form.

    data: of the file.  file: as messages name it.
    Raises InputError where it is a workbook that cannot be read.
    """
    if data.startswith(b"PK\x03\x04"):
        return bool(sheets_of(data, file, (SHEET,)))
    return data.removeprefix(_MARK).lstrip(b'"').startswith(REFERENCE.encode("ascii"))


def wrong_reference(lines: Sequence[PriceLine], cover: Cover) -> Iterator[Problem]:
    """Yield what is wrong where lines answer another request; once for each that they answer.

    lines: as they were read.  cover: of the project as it is.
    """
    wanted = reference_of(cover)
    wrong = {line.reference: line for line in reversed(lines) if line.reference != wanted}
    for reference, line in wrong.items():
        message = f"wanted an answer to {shown(wanted)}; found one to {shown(reference)}"
        yield Problem(line.at("reference"), REFERENCE, message)
