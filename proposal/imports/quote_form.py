"""The file that goes to a supplier for a quote, as it comes back filled in."""

from collections.abc import Sequence

from proposal.document.rows.terms import Cover
from proposal.errors import InputError, Problem
from proposal.exports.quote_files import (
    ARTICLE,
    CURRENCY,
    HOLDS,
    MODEL,
    PRICE,
    QUOTED_ON,
    REFERENCE,
    SHEET,
    SOLD_AS,
    SUPPLIER,
    VALID_UNTIL,
    reference_of,
)
from proposal.imports.price_lists import PriceLine
from proposal.imports.xlsx_sheets import sheets_of
from proposal.model.price.price_list import PriceListMapping
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
    },
)
"""How an answered form is read."""
_MARK = b"\xef\xbb\xbf"


def is_quote_form(data: bytes, file: str) -> bool:
    """Say whether a file is such a form.

    data: of the file.  file: as messages name it.
    Raises InputError where it is a workbook that cannot be read.
    """
    if data.startswith(b"PK\x03\x04"):
        return bool(sheets_of(data, file, (SHEET,)))
    return data.removeprefix(_MARK).lstrip(b'"').startswith(REFERENCE.encode("ascii"))


def check_reference(lines: Sequence[PriceLine], cover: Cover) -> None:
    """Raise InputError where lines answer another request.

    cover: of the project as it is.
    """
    wanted = reference_of(cover)
    wrong = [line for line in lines if line.reference != wanted]
    if wrong:
        message = f"wanted an answer to {shown(wanted)}; found one to {shown(wrong[0].reference)}"
        raise InputError([Problem(wrong[0].place, REFERENCE, message)])
