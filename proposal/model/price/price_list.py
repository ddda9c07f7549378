"""What people write of a supplier's price list, so that it can be read: which column is what."""

from collections.abc import Mapping
from typing import Literal

from pydantic import Field, model_validator

from proposal.model.base import Written
from proposal.quantities.dates import Date
from proposal.quantities.messages import refusal

ListColumn = Literal[
    "article",
    "model",
    "price",
    "list_price",
    "pack",
    "sold_as",
    "currency",
    "priced_on",
    "valid_until",
    "supplier",
    "reference",
    "quantity",
    "lead_time_days",
    "lead_time_weeks",
    "remark",
]
Encoding = Literal["UTF-8", "UTF-16", "Windows-1252"]
DateForm = Literal["YYYY-MM-DD", "DD.MM.YYYY", "DD/MM/YYYY", "MM/DD/YYYY"]


_LIKE = {"supplier": "Example Trading", "currency": "EUR", "priced_on": "2031-02-10"}
"""What is written for all of a list, for messages."""


class PriceListMapping(Written):
    """How a price list is read: which of its columns are what, and how numbers and dates are written."""

    supplier: str = Field(default="", description="Whose list it is; left out, what its own column says.")
    source: str = Field(default="price list", description="What the list is called where its prices stand.")
    sheet: str = Field(default="", description="Sheet of a workbook; the first where left out.")
    encoding: Encoding = Field(
        default="UTF-8",
        description="How the signs of a CSV file are written, as the program that saved it says.",
    )
    columns: Mapping[ListColumn, str] = Field(description="Heads of the list by what stands below them.")
    currency: str = Field(default="", description="Currency of every price, where no column says it.")
    decimal_mark: Literal[".", ","] = Field(default=".", description="Sign before the decimals of a number.")
    dates: DateForm = Field(default="YYYY-MM-DD", description="How days are written.")
    priced_on: Date | None = Field(default=None, description="Day of the list, where no column says it.")
    valid_until: Date | None = Field(
        default=None, description="Last day of all its prices, where no column says it."
    )
    awaited: tuple[str, ...] = Field(
        default=("unknown",), description="Texts in place of a price that is still to come."
    )
    articles: Mapping[str, str] = Field(
        default={},
        description="Model code by the list's article number; of a reel, model code, comma, its name.",
    )

    @model_validator(mode="after")
    def _tells_enough(self) -> "PriceListMapping":
        """Refuse a mapping that leaves open what a line is of, what it costs, whose it is or of which day."""
        if not {"article", "model"} & self.columns.keys():
            raise refusal("a column article or model, such as `columns: {article: Art. no.}`", "neither")
        if not {"price", "list_price"} & self.columns.keys():
            raise refusal("a column price or list_price, such as `columns: {price: Net price}`", "neither")
        for name in ("supplier", "currency", "priced_on"):
            if not getattr(self, name) and name not in self.columns:
                raise refusal(
                    f"{name}, for all of the list or as a column, such as `{name}: {_LIKE[name]}`", "neither"
                )
        return self
